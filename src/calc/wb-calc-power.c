/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-power.h"

#include <math.h>

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_sf_gamma.h>

/* Poisson weights are summed this far from their mean, in standard deviations, and by this many at least. */
#define REACH_SDS 9.0
#define REACH_LEAST 40.0

/* How near, as a share of alpha, the inverse has to come back to it. */
#define AGREES 1e-9

static bool
is_inside (double x)
{
  return x > 0.0 && x < 1.0;
}

static bool
is_df (double df)
{
  return df >= 1.0 && df <= WB_CALC_POWER_MAX_DF;
}

/*
 * The share that the first chi-square has of both at the critical F. GSL's inverse gives up for some degrees of
 * freedom, from about 1 and 1,000 on; then it is found by halving.
 */
static double
critical_share (double alpha,
                double df1,
                double df2)
{
  double share = gsl_cdf_beta_Qinv (alpha, 0.5 * df1, 0.5 * df2);
  double low = 0.0, high = 1.0;

  if (isfinite (share) && fabs (gsl_cdf_beta_Q (share, 0.5 * df1, 0.5 * df2) - alpha) <= AGREES * alpha)
    return share;
  for (share = 0.5; share > low && share < high; share = low + 0.5 * (high - low))
    if (gsl_cdf_beta_Q (share, 0.5 * df1, 0.5 * df2) > alpha)
      low = share;
    else
      high = share;
  return share;
}

WbCalcStatus
wb_calc_power_of_f (double  alpha,
                    double  df1,
                    double  df2,
                    double  lambda,
                    double *power)
{
  if (!is_inside (alpha) || !is_df (df1) || !is_df (df2) || !(lambda >= 0.0) || isinf (lambda))
    return WB_CALC_BAD_INPUT;

  double share = critical_share (alpha, df1, df2);
  double mean = 0.5 * fmin (lambda, WB_CALC_POWER_MAX_LAMBDA);
  double reach = fmax (REACH_SDS * sqrt (mean), REACH_LEAST);
  double weights = 0.0;
  double sum = 0.0;

  if (!isfinite (share))
    return WB_CALC_BAD_INPUT;
  for (double j = floor (fmax (mean - reach, 0.0)); j <= mean + reach; j += 1.0)
    {
      double weight = mean > 0.0 ? exp (j * log (mean) - mean - gsl_sf_lngamma (j + 1.0)) : j == 0.0 ? 1.0 : 0.0;

      weights += weight;
      if (weight > 0.0)
        sum += weight * gsl_cdf_beta_Q (share, 0.5 * df1 + j, 0.5 * df2);
    }
  /* Over the weights' own sum, which is 1 but for the rounding of large logarithms. */
  if (!isfinite (sum))
    return WB_CALC_BAD_INPUT;
  *power = fmin (sum / weights, 1.0);
  return WB_CALC_OK;
}

/* The power of n samples in each of k groups for one pair of them. */
static WbCalcStatus
power_of_pair (double  effect,
               size_t  n,
               size_t  k,
               double  alpha,
               double *power)
{
  double lambda = fmin (0.5 * (double) n * effect * effect, WB_CALC_POWER_MAX_LAMBDA);

  return wb_calc_power_of_f (alpha, 1.0, fmin ((double) k * (double) (n - 1), WB_CALC_POWER_MAX_DF), lambda, power);
}

WbCalcStatus
wb_calc_power_samples (double              difference,
                       double              sd,
                       size_t              k,
                       double              alpha,
                       double              power,
                       size_t              most,
                       WbCalcPowerSamples *samples)
{
  double effect = fabs (difference) / sd;
  double reached = 0.0;
  size_t low = 1; /* does not suffice */
  size_t high = 2;
  WbCalcStatus status;

  if (!isfinite (difference) || difference == 0.0 || !(sd > 0.0) || isinf (sd) || k < 2 || !is_inside (alpha) || !is_inside (power))
    return WB_CALC_BAD_INPUT;
  for (;; low = high, high = high > most / 2 ? most : 2 * high)
    {
      if (high > most)
        return WB_CALC_TOO_FEW;
      status = power_of_pair (effect, high, k, alpha, &reached);
      if (status != WB_CALC_OK)
        return status;
      if (reached >= power)
        break;
      if (high == most)
        return WB_CALC_TOO_FEW;
    }
  while (high - low > 1)
    {
      size_t middle = low + (high - low) / 2;

      status = power_of_pair (effect, middle, k, alpha, &reached);
      if (status != WB_CALC_OK)
        return status;
      if (reached >= power)
        high = middle;
      else
        low = middle;
    }
  samples->n = high;
  return power_of_pair (effect, high, k, alpha, &samples->power);
}
