/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

#include "wb-calc-pooled.h"

/* A pooled model that grows term by term, and what one would get for it with dense matrices. */
typedef struct
{
  GArray *start;        /* size_t */
  GArray *column;       /* size_t */
  GArray *value;        /* double */
  GArray *y;            /* double */
  GArray *noise;        /* double */
  GArray *coefficients; /* WbCalcPooledCoefficient */
  GArray *families;     /* WbCalcPooledFamily */
} CalcPooledModel;

CalcPooledModel *calc_pooled_model_new  (void);
void             calc_pooled_model_free (CalcPooledModel *self);

/* Each gives the number of what it added. */
size_t           calc_pooled_model_add_family (CalcPooledModel *self, double usual, double factor);
size_t           calc_pooled_model_add_stated (CalcPooledModel *self, double mean, double sd);
size_t           calc_pooled_model_add_member (CalcPooledModel *self, size_t family);
size_t           calc_pooled_model_add_members (CalcPooledModel *self, size_t family, size_t n);

/* Terms of the row that calc_pooled_model_end_row ends. */
void             calc_pooled_model_add_term (CalcPooledModel *self, size_t column, double value);
void             calc_pooled_model_end_row  (CalcPooledModel *self, double y, double noise);

WbCalcPooledRows calc_pooled_model_get_rows (const CalcPooledModel *self);
WbCalcStatus     calc_pooled_model_try      (const CalcPooledModel *self, const double *log_spreads, WbCalcPooled **fit);
WbCalcPooled    *calc_pooled_model_fit      (const CalcPooledModel *self, const double *log_spreads);

/*
 * Without flat coefficients, at these spreads: log density of y and spreads from y's own covariance; mean and covariance of the
 * coefficients (n_coefficients, squared; NULL: not asked for) by conditioning.
 */
double           calc_pooled_model_condition (const CalcPooledModel *self, const double *log_spreads, double *mean, double *covariance);

/* Of a fit: joint posterior of n single coefficients at a point, `covariance` n x n; a spread at the mode. */
void             calc_pooled_ask    (const WbCalcPooled *fit, gsize point, const gsize *columns, gsize n, double *mean, double *covariance);
double           calc_pooled_spread (const WbCalcPooled *fit, gsize family);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (CalcPooledModel, calc_pooled_model_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCalcPooled, wb_calc_pooled_free)
