/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-mixed.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_errno.h>
#include <gsl/gsl_min.h>

#include "wb-calc-mixed-design-private.h"
#include "wb-calc-mixed-scoring-private.h"

/* The logarithm of var_group / var_residual is searched for between minus this and this. */
#define LOG_RATIO_REACH 16.0
#define GRID_STEPS 64
#define MAX_ITERATIONS 100

/* A criterion that varies by less over the whole search says nothing about the ratio. */
#define FLAT_CRITERION 1e-6

/* A residual sum of squares below this share of y'y is rounding. */
#define EXACT_SHARE 1e-24

static double
criterion_at (WbCalcMixedDesign *design,
              double             ratio)
{
  double left = (double) (design->n - design->p);
  double rss;
  double value;

  if (!wb_calc_mixed_design_solve (design, ratio, &rss))
    return INFINITY;
  value = left * (log (2.0 * M_PI * rss / left) + 1.0) + design->log_det;
  for (size_t g = 0; g < design->n_groups; g++)
    value += log1p (design->size[g] * ratio);
  return value;
}

static double
criterion_of_log_ratio (double  x,
                        void   *user)
{
  return criterion_at (user, exp (x));
}

/* The ratio that makes the criterion least: a grid, then Brent. */
static double
find_ratio (WbCalcMixedDesign    *design,
            WbCalcMixedSituation *situation)
{
  double step = 2.0 * LOG_RATIO_REACH / GRID_STEPS;
  double at_zero = criterion_at (design, 0.0);
  double best = at_zero;
  double worst = at_zero;
  double x = -INFINITY;

  for (int i = 0; i <= GRID_STEPS; i++)
    {
      double value = criterion_of_log_ratio (-LOG_RATIO_REACH + i * step, design);

      worst = fmax (worst, value);
      if (value < best)
        {
          best = value;
          x = -LOG_RATIO_REACH + i * step;
        }
    }
  *situation = worst - best < FLAT_CRITERION ? WB_CALC_MIXED_UNKNOWN : WB_CALC_MIXED_BOUNDARY;
  if (*situation == WB_CALC_MIXED_UNKNOWN || isinf (x))
    return 0.0;

  gsl_function function = { criterion_of_log_ratio, design };
  gsl_min_fminimizer *minimizer = gsl_min_fminimizer_alloc (gsl_min_fminimizer_brent);

  *situation = WB_CALC_MIXED_INTERIOR;
  if (minimizer == NULL)
    return exp (x);
  if (gsl_min_fminimizer_set (minimizer, &function, x, x - step, x + step) == GSL_SUCCESS)
    for (int i = 0; i < MAX_ITERATIONS; i++)
      if (gsl_min_fminimizer_iterate (minimizer) != GSL_SUCCESS
          || gsl_min_fminimizer_x_upper (minimizer) - gsl_min_fminimizer_x_lower (minimizer) < 1e-9)
        break;
  x = gsl_min_fminimizer_x_minimum (minimizer);
  gsl_min_fminimizer_free (minimizer);
  return exp (x);
}

static void
fill_coefficients (const WbCalcMixedDesign *design,
                   WbCalcMixed             *fit)
{
  size_t shift = design->intercept ? 1 : 0;

  for (size_t j = 0; j < design->p; j++)
    fit->coefficient[j] = gsl_vector_get (design->solution, j) / design->length[j];
  if (!design->intercept)
    return;
  fit->coefficient[0] += design->centre[0];
  for (size_t j = shift; j < design->p; j++)
    fit->coefficient[0] -= design->centre[j] * fit->coefficient[j];
}

static void
fill_variances (WbCalcMixedDesign  *design,
                WbCalcMixedScoring *scoring,
                WbCalcMixed        *fit)
{
  double group = isnan (fit->var_group) ? 0.0 : fit->var_group;
  double residual = fit->var_residual;
  double rss;
  double det;

  wb_calc_mixed_design_solve (design, group / residual, &rss);
  wb_calc_mixed_scoring_at (scoring, design, group, residual);
  wb_calc_mixed_design_unready (design, scoring->phi, fit->covariance);
  wb_calc_mixed_design_unready (design, scoring->slope[0], fit->by_group);
  wb_calc_mixed_design_unready (design, scoring->slope[1], fit->by_residual);
  for (size_t g = 0; g < design->n_groups; g++)
    fit->group_effect[g] = group / (residual + design->size[g] * group) * scoring->sums[g];

  const double *info = scoring->information;

  det = info[0] * info[2] - info[1] * info[1];
  if (fit->situation == WB_CALC_MIXED_INTERIOR && det > 0.0)
    {
      fit->variance_of[0] = info[2] / det;
      fit->variance_of[1] = -info[1] / det;
      fit->variance_of[2] = info[0] / det;
    }
  else
    fit->variance_of[2] = 1.0 / info[2];
}

/* Finds the variances and fills the answer. */
static WbCalcStatus
estimate (WbCalcMixedDesign  *design,
          WbCalcMixedScoring *scoring,
          WbCalcMixed        *fit)
{
  double left = (double) (design->n - design->p);
  double ratio = 0.0;
  double rss;

  if (!wb_calc_mixed_design_solve (design, 0.0, &rss))
    return WB_CALC_UNIDENTIFIED;
  fit->criterion = NAN;
  fit->situation = WB_CALC_MIXED_BOUNDARY;
  if (fit->n_filled == design->n)
    fit->situation = WB_CALC_MIXED_UNREPLICATED;
  if (!(rss > EXACT_SHARE * design->yy))
    {
      fill_coefficients (design, fit);
      return WB_CALC_OK;
    }
  if (fit->situation != WB_CALC_MIXED_UNREPLICATED)
    ratio = find_ratio (design, &fit->situation);
  fit->criterion = criterion_at (design, ratio);
  wb_calc_mixed_design_solve (design, ratio, &rss);
  fit->var_residual = rss / left;
  fit->var_group = ratio * fit->var_residual;
  if (fit->situation == WB_CALC_MIXED_INTERIOR)
    wb_calc_mixed_scoring_polish (scoring, design, &fit->var_group, &fit->var_residual);
  if (fit->situation == WB_CALC_MIXED_UNKNOWN)
    fit->var_group = NAN;
  fill_variances (design, scoring, fit);
  fill_coefficients (design, fit);
  if (fit->situation == WB_CALC_MIXED_UNREPLICATED)
    {
      /* Each observation is its group's: what is left over is all the group effect there is. */
      memcpy (fit->group_effect, scoring->sums, design->n_groups * sizeof *scoring->sums);
      fit->var_group = fit->var_residual;
      fit->var_residual = 0.0;
    }
  return WB_CALC_OK;
}

static WbCalcStatus
check (const double *x,
       const double *y,
       const size_t *group,
       size_t        n,
       size_t        columns,
       size_t        p,
       size_t        n_groups)
{
  if (p == 0)
    return WB_CALC_BAD_INPUT;
  for (size_t i = 0; i < n; i++)
    {
      if (!isfinite (y[i]) || group[i] >= n_groups)
        return WB_CALC_BAD_INPUT;
      for (size_t j = 0; j < columns; j++)
        if (!isfinite (x[i * columns + j]))
          return WB_CALC_BAD_INPUT;
    }
  return n <= p || n < 2 ? WB_CALC_TOO_FEW : WB_CALC_OK;
}

static WbCalcStatus
fit_alloc (WbCalcMixed *fit,
           size_t       n,
           size_t       p,
           size_t       n_groups)
{
  *fit = (WbCalcMixed) {
    .n = n,
    .p = p,
    .n_groups = n_groups,
    .coefficient = calloc (p, sizeof (double)),
    .covariance = calloc (p * p, sizeof (double)),
    .by_group = calloc (p * p, sizeof (double)),
    .by_residual = calloc (p * p, sizeof (double)),
    .group_effect = calloc (n_groups, sizeof (double)),
  };
  return fit->coefficient == NULL || fit->covariance == NULL || fit->by_group == NULL
                 || fit->by_residual == NULL || fit->group_effect == NULL
             ? WB_CALC_NO_MEMORY
             : WB_CALC_OK;
}

WbCalcStatus
wb_calc_mixed_fit (const double *x,
                   const double *y,
                   const size_t *group,
                   size_t        n,
                   size_t        columns,
                   bool          intercept,
                   size_t        n_groups,
                   WbCalcMixed  *fit)
{
  WbCalcMixedDesign design = { 0 };
  WbCalcMixedScoring scoring = { NULL };
  size_t p = columns + (intercept ? 1 : 0);
  WbCalcStatus status = check (x, y, group, n, columns, p, n_groups);

  memset (fit, 0, sizeof *fit);
  if (status != WB_CALC_OK)
    return status;
  status = fit_alloc (fit, n, p, n_groups);
  if (status == WB_CALC_OK)
    status = wb_calc_mixed_design_init (&design, x, y, group, n, columns, intercept, n_groups);
  if (status == WB_CALC_OK)
    status = wb_calc_mixed_scoring_init (&scoring, &design);
  for (size_t g = 0; g < n_groups && status == WB_CALC_OK; g++)
    fit->n_filled += design.size[g] > 0.0 ? 1 : 0;
  if (status == WB_CALC_OK && fit->n_filled < 2)
    status = WB_CALC_TOO_FEW;
  if (status == WB_CALC_OK)
    status = estimate (&design, &scoring, fit);
  if (status != WB_CALC_OK)
    wb_calc_mixed_clear (fit);
  wb_calc_mixed_scoring_clear (&scoring);
  wb_calc_mixed_design_clear (&design);
  return status;
}

static double
quadratic (const double *matrix,
           const double *weights,
           size_t        p)
{
  double sum = 0.0;

  for (size_t j = 0; j < p; j++)
    for (size_t k = 0; k < p; k++)
      sum += weights[j] * matrix[j * p + k] * weights[k];
  return sum;
}

WbCalcStatus
wb_calc_mixed_contrast (const WbCalcMixed   *fit,
                        const double        *weights,
                        WbCalcMixedContrast *contrast)
{
  double left = (double) (fit->n - fit->p);
  double value = 0.0;

  for (size_t j = 0; j < fit->p; j++)
    {
      if (!isfinite (weights[j]))
        return WB_CALC_BAD_INPUT;
      value += weights[j] * fit->coefficient[j];
    }

  double variance = fmax (quadratic (fit->covariance, weights, fit->p), 0.0);
  double df = left;

  if (fit->situation == WB_CALC_MIXED_BOUNDARY)
    df = fmin (left, (double) fit->n_filled - 1.0);
  else if (fit->situation == WB_CALC_MIXED_INTERIOR)
    {
      double group = quadratic (fit->by_group, weights, fit->p);
      double residual = quadratic (fit->by_residual, weights, fit->p);
      double noise = group * group * fit->variance_of[0] + 2.0 * group * residual * fit->variance_of[1]
                     + residual * residual * fit->variance_of[2];

      df = noise > 0.0 ? fmin (2.0 * variance * variance / noise, left) : left;
    }
  *contrast = (WbCalcMixedContrast) { value, sqrt (variance), fmax (df, 1.0) };
  return WB_CALC_OK;
}

void
wb_calc_mixed_clear (WbCalcMixed *fit)
{
  free (fit->coefficient);
  free (fit->covariance);
  free (fit->by_group);
  free (fit->by_residual);
  free (fit->group_effect);
  memset (fit, 0, sizeof *fit);
}
