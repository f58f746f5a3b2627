/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

#include "wb-calc-ordinal.h"

/* Ratings that grow one by one, and what the tests of wb-calc-ordinal read from the answer. */
typedef struct
{
  WbCalcOrdinalData data; /* in step with the arrays */
  double           *x;    /* n_groups x n_columns, zero until set */
  GArray           *rating;
  GArray           *unit;
  GArray           *group;
} CalcRatings;

CalcRatings *calc_ratings_new (gsize n_categories, gsize n_groups, gsize n_columns);
void         calc_ratings_free (CalcRatings *ratings);
void         calc_ratings_add (CalcRatings *ratings, gsize rating, gsize unit, gsize group);

/* 72 ratings of bitterness: groups are temperature x contact (columns in this order, 0 or 1), units are judges. */
CalcRatings *calc_ratings_load_wine (void);
/* 24 groups, no units; `centre` gets the means of the 6 columns over the answers. */
CalcRatings *calc_ratings_load_housing (double *centre);
/*
 * A lab invented from the seed: 5 categories, 4 groups on a line of slope 0.8, sd
 * 0.3 between groups, two units of sd 0.5 in each, two ratings of each. `truth`, if
 * given, gets the expected rating of the groups' next unit.
 */
CalcRatings *calc_ratings_new_lab (guint64 seed, double *truth);

/* 4,000 draws; anything but WB_CALC_OK or WB_CALC_ALL_SAME ends the test. */
void         calc_ratings_fit (const CalcRatings *ratings, const WbCalcOrdinalPrior *prior, guint64 seed, WbCalcOrdinalDraws *draws);
/* theta[k], beta[j], eta[g], mean[g] (from 1), sg or su of one draw. */
double       calc_ratings_named (const WbCalcOrdinalDraws *draws, gsize draw, const char *name);
double       calc_ratings_share_below (const double *values, gsize n, double limit);
/* Sorts the values. */
double       calc_ratings_quantile (double *values, gsize n, double p);

/* Mean and standard deviation of values that come one by one. Start from zeros. */
typedef struct
{
  double sum;
  double square;
  double n;
} CalcMoments;

void         calc_moments_add (CalcMoments *moments, double value);
double       calc_moments_mean (const CalcMoments *moments);
double       calc_moments_sd (const CalcMoments *moments);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (CalcRatings, calc_ratings_free)

void calc_assert_within_at (const char *file, int line, const char *what, double actual, double expected, double tolerance);
#define calc_assert_within(actual, expected, tolerance) \
  calc_assert_within_at (__FILE__, __LINE__, #actual, actual, expected, tolerance)
