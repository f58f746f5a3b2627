/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-desirability.h"

#include <math.h>

/* The flank: `floor` at share 0, 1 at share 1. */
static double
flank (double share,
       double exponent,
       double floor)
{
  double rise = exponent == 1.0 ? share : pow (share, exponent);

  return floor + (1.0 - floor) * rise;
}

WbCalcDesirability
wb_calc_desirability_max (double low,
                          double target,
                          double exponent)
{
  return (WbCalcDesirability) { low, target, INFINITY, INFINITY, exponent, 1.0, 0.0, 0.0 };
}

WbCalcDesirability
wb_calc_desirability_min (double target,
                          double high,
                          double exponent)
{
  return (WbCalcDesirability) { -INFINITY, -INFINITY, target, high, 1.0, exponent, 0.0, 0.0 };
}

WbCalcDesirability
wb_calc_desirability_target (double low,
                             double target,
                             double high,
                             double exponent_low,
                             double exponent_high)
{
  return (WbCalcDesirability) { low, target, target, high, exponent_low, exponent_high, 0.0, 0.0 };
}

WbCalcDesirability
wb_calc_desirability_trapezoid (double a,
                                double b,
                                double c,
                                double d)
{
  return (WbCalcDesirability) { a, b, c, d, 1.0, 1.0, 0.0, 0.0 };
}

WbCalcStatus
wb_calc_desirability_check (const WbCalcDesirability *shape)
{
  /* Written so that a NaN fails. */
  bool ordered = shape->zero_below <= shape->one_from && shape->one_from <= shape->one_to
                 && shape->one_to <= shape->zero_above;
  bool sides = (isfinite (shape->zero_below) || shape->one_from == -INFINITY)
               && (isfinite (shape->zero_above) || shape->one_to == INFINITY)
               && (shape->one_from == -INFINITY || isfinite (shape->one_from - shape->zero_below))
               && (shape->one_to == INFINITY || isfinite (shape->zero_above - shape->one_to))
               && shape->one_from < INFINITY && shape->one_to > -INFINITY;
  bool exponents = shape->exponent_low > 0.0 && isfinite (shape->exponent_low)
                   && shape->exponent_high > 0.0 && isfinite (shape->exponent_high);
  bool floors = shape->floor_low >= 0.0 && shape->floor_low <= 1.0 && shape->floor_high >= 0.0
                && shape->floor_high <= 1.0;

  return ordered && sides && exponents && floors ? WB_CALC_OK : WB_CALC_BAD_INPUT;
}

double
wb_calc_desirability_at (const WbCalcDesirability *shape,
                         double                    y)
{
  if (isnan (y))
    return NAN;
  if (y >= shape->one_from && y <= shape->one_to)
    return 1.0;
  if (y < shape->one_from)
    {
      if (y <= shape->zero_below)
        return shape->floor_low;
      return flank ((y - shape->zero_below) / (shape->one_from - shape->zero_below),
                    shape->exponent_low,
                    shape->floor_low);
    }
  if (y >= shape->zero_above)
    return shape->floor_high;
  return flank ((y - shape->zero_above) / (shape->one_to - shape->zero_above),
                shape->exponent_high,
                shape->floor_high);
}

WbCalcStatus
wb_calc_desirability_value (const WbCalcDesirability *shape,
                            double                    y,
                            double                   *d)
{
  if (isnan (y) || wb_calc_desirability_check (shape) != WB_CALC_OK)
    return WB_CALC_BAD_INPUT;
  *d = wb_calc_desirability_at (shape, y);
  return WB_CALC_OK;
}

WbCalcStatus
wb_calc_desirability_overall (const double *d,
                              const double *weights,
                              size_t        n,
                              double       *overall)
{
  double sum = 0.0;
  double total = 0.0;
  double largest = 0.0;
  bool worthless = false;

  if (n == 0)
    return WB_CALC_TOO_FEW;
  for (size_t i = 0; i < n; i++)
    {
      double weight = weights == NULL ? 1.0 : weights[i];

      if (!(d[i] >= 0.0 && d[i] <= 1.0) || !(weight >= 0.0) || isinf (weight))
        return WB_CALC_BAD_INPUT;
      largest = fmax (largest, weight);
    }
  if (largest == 0.0)
    return WB_CALC_BAD_INPUT;
  for (size_t i = 0; i < n; i++)
    {
      /* As shares of the largest, so that neither sum leaves the range of a double. */
      double weight = weights == NULL ? 1.0 : weights[i] / largest;

      if (weight == 0.0)
        continue;
      total += weight;
      if (d[i] == 0.0)
        worthless = true;
      else
        sum += weight * log (d[i]);
    }
  *overall = worthless ? 0.0 : exp (sum / total);
  return WB_CALC_OK;
}
