/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

#include "wb-calc-random.h"
#include "wb-calc-status.h"

/*
 * One fuzzed case: numbers of every kind that a double can hold, all from the seed and
 * the case's number, and the complaints about what a function made of them.
 */
typedef struct
{
  WbCalcRandom random;
  guint64      seed;
  guint64      number;
  const char  *subject;  /* the function that is called */
  gboolean     poisoned; /* a NaN or an infinity is among the numbers drawn */
  GHashTable  *seen;     /* complaints made before: text → itself */
  guint        n_complaints;
} CalcFuzz;

/* More than this in any direction says nothing that fewer do not. */
#define CALC_FUZZ_MOST 20

void   calc_fuzz_begin (CalcFuzz *fuzz, guint64 seed, guint64 number);

gsize  calc_fuzz_below (CalcFuzz *fuzz, gsize bound);
bool   calc_fuzz_chance (CalcFuzz *fuzz, double p);

/* A number of the kinds that `calc_fuzz_fill` knows; finite. */
double calc_fuzz_number (CalcFuzz *fuzz);
/* Above 0, finite; mostly ordinary. */
double calc_fuzz_positive (CalcFuzz *fuzz);
/* n numbers of one kind (ordinary, whole with ties, equal, far from 0, huge, tiny, denormal, random bits), sometimes one NaN or infinity among them. */
void   calc_fuzz_fill (CalcFuzz *fuzz, double *x, gsize n);
/* The same with every number at least 0. */
void   calc_fuzz_fill_positive (CalcFuzz *fuzz, double *x, gsize n);
/* n indexes below `bound`; now and then one that is not, and TRUE. */
bool   calc_fuzz_indexes (CalcFuzz *fuzz, gsize *x, gsize n, gsize bound);

/* Notes a complaint unless `fine`. */
void   calc_fuzz_expect (CalcFuzz *fuzz, bool fine, const char *what);
void   calc_fuzz_expect_finite (CalcFuzz *fuzz, const double *x, gsize n, const char *what);
void   calc_fuzz_expect_chance (CalcFuzz *fuzz, double p, const char *what);
/* A status of the enum; WB_CALC_BAD_INPUT if the numbers were poisoned. TRUE on WB_CALC_OK. */
bool   calc_fuzz_expect_status (CalcFuzz *fuzz, WbCalcStatus status);

/* The cases, by room of calc; each draws, calls and complains. */
typedef void (*CalcFuzzCase) (CalcFuzz *fuzz);

void   calc_fuzz_summary (CalcFuzz *fuzz);
void   calc_fuzz_quantiles (CalcFuzz *fuzz);
void   calc_fuzz_linear (CalcFuzz *fuzz);
void   calc_fuzz_anova (CalcFuzz *fuzz);
void   calc_fuzz_ridge (CalcFuzz *fuzz);
void   calc_fuzz_ellipse (CalcFuzz *fuzz);
void   calc_fuzz_tukey (CalcFuzz *fuzz);
void   calc_fuzz_range (CalcFuzz *fuzz);
void   calc_fuzz_ranks (CalcFuzz *fuzz);
void   calc_fuzz_power (CalcFuzz *fuzz);
void   calc_fuzz_equivalence (CalcFuzz *fuzz);
void   calc_fuzz_desirability (CalcFuzz *fuzz);
void   calc_fuzz_rank (CalcFuzz *fuzz);
void   calc_fuzz_random (CalcFuzz *fuzz);
void   calc_fuzz_blocks (CalcFuzz *fuzz);
void   calc_fuzz_censored (CalcFuzz *fuzz);
void   calc_fuzz_nonlinear (CalcFuzz *fuzz);
void   calc_fuzz_growth (CalcFuzz *fuzz);
void   calc_fuzz_growth_runs (CalcFuzz *fuzz);
void   calc_fuzz_pool (CalcFuzz *fuzz);
void   calc_fuzz_foretell (CalcFuzz *fuzz);
void   calc_fuzz_mixed (CalcFuzz *fuzz);
void   calc_fuzz_ordinal (CalcFuzz *fuzz);
void   calc_fuzz_pooled (CalcFuzz *fuzz);
void   calc_fuzz_joint (CalcFuzz *fuzz);
void   calc_fuzz_allocation (CalcFuzz *fuzz);
void   calc_fuzz_inverse (CalcFuzz *fuzz);
