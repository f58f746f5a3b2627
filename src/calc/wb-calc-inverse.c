/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-inverse.h"

#include <math.h>

#include "wb-calc-quantile.h"

/* A covariance may be above what the variances allow by this share, which rounding makes of a perfect correlation. */
#define ROUNDING 1e-9

/* A t beyond this tells nothing whatever the data. */
#define T_LARGEST 1e100

/* ---- The line ---- */

static double
weight_of (const double *weights,
           bool          reciprocal,
           size_t        i)
{
  return weights == NULL ? 1.0 : reciprocal ? 1.0 / weights[i] : weights[i];
}

static bool
are_sound (const double *x,
           const double *y,
           const double *weights,
           bool          reciprocal,
           size_t        n)
{
  for (size_t i = 0; i < n; i++)
    {
      double weight = weight_of (weights, reciprocal, i);

      if (!isfinite (x[i]) || !isfinite (y[i]) || !isfinite (weight) || !(weight > 0.0))
        return false;
    }
  return true;
}

/* Weighted mean in two passes from the first, so that equal values give exactly that. `largest` is the weights'. */
static double
mean_of (const double *values,
         const double *weights,
         bool          reciprocal,
         double        largest,
         size_t        n)
{
  double mean = values[0];

  for (int pass = 0; pass < 2; pass++)
    {
      double sum = 0.0, total = 0.0;

      for (size_t i = 0; i < n; i++)
        {
          double share = weight_of (weights, reciprocal, i) / largest;

          sum += share * (values[i] - mean);
          total += share;
        }
      mean += sum / total;
    }
  return mean;
}

/* The largest distance from the mean. */
static double
reach_of (const double *values,
          double        mean,
          size_t        n)
{
  double reach = 0.0;

  for (size_t i = 0; i < n; i++)
    reach = fmax (reach, fabs (values[i] - mean));
  return reach;
}

/* Sums of distances in shares of the largest and of weights in shares of the largest, so that no square leaves the range. */
static WbCalcStatus
fit (const double      *x,
     const double      *y,
     const double      *weights,
     bool               reciprocal,
     size_t             n,
     WbCalcInverseLine *line)
{
  double largest = 0.0, total = 0.0, xx = 0.0, xy = 0.0, rss = 0.0, x_reach, y_reach, slope;

  for (size_t i = 0; i < n; i++)
    largest = fmax (largest, weight_of (weights, reciprocal, i));
  line->n = n;
  line->centre = mean_of (x, weights, reciprocal, largest, n);
  line->level = mean_of (y, weights, reciprocal, largest, n);
  x_reach = reach_of (x, line->centre, n);
  y_reach = reach_of (y, line->level, n);
  if (!isfinite (x_reach) || !isfinite (y_reach))
    return WB_CALC_BAD_INPUT;
  if (!(x_reach > 0.0))
    return WB_CALC_UNIDENTIFIED;
  if (!(y_reach > 0.0))
    y_reach = 1.0;
  for (size_t i = 0; i < n; i++)
    {
      double share = weight_of (weights, reciprocal, i) / largest, dx = (x[i] - line->centre) / x_reach;

      total += share;
      xx += share * dx * dx;
      xy += share * dx * ((y[i] - line->level) / y_reach);
    }
  if (!(xx > 0.0))
    return WB_CALC_UNIDENTIFIED;
  slope = xy / xx;
  for (size_t i = 0; i < n; i++)
    {
      double left = (y[i] - line->level) / y_reach - slope * ((x[i] - line->centre) / x_reach);

      rss += weight_of (weights, reciprocal, i) / largest * left * left;
    }
  line->slope = slope * y_reach / x_reach;
  line->residual = rss * y_reach * y_reach * largest;
  line->level_factor = 1.0 / (largest * total);
  line->slope_factor = 1.0 / (largest * x_reach * x_reach * xx);
  return isfinite (line->slope) && isfinite (line->residual) && isfinite (line->level_factor) && isfinite (line->slope_factor)
         && line->slope_factor > 0.0 ? WB_CALC_OK : WB_CALC_BAD_INPUT;
}

WbCalcStatus
wb_calc_inverse_fit (const double      *x,
                     const double      *y,
                     const double      *weights,
                     size_t             n,
                     WbCalcInverseLine *line)
{
  WbCalcInverseLine found;
  WbCalcStatus status;

  if (!are_sound (x, y, weights, false, n))
    return WB_CALC_BAD_INPUT;
  if (n < 3)
    return WB_CALC_TOO_FEW;
  status = fit (x, y, weights, false, n, &found);
  if (status != WB_CALC_OK)
    return status;
  found.df = (double) (n - 2);
  found.variance = found.residual / found.df;
  *line = found;
  return WB_CALC_OK;
}

WbCalcStatus
wb_calc_inverse_fit_known (const double      *x,
                           const double      *y,
                           const double      *variances,
                           size_t             n,
                           WbCalcInverseLine *line)
{
  WbCalcInverseLine found;
  WbCalcStatus status;

  if (!are_sound (x, y, variances, true, n))
    return WB_CALC_BAD_INPUT;
  if (n < 2)
    return WB_CALC_TOO_FEW;
  status = fit (x, y, variances, true, n, &found);
  if (status != WB_CALC_OK)
    return status;
  found.df = INFINITY;
  found.variance = 1.0;
  *line = found;
  return WB_CALC_OK;
}

/* ---- The ratio ---- */

static void
set_between (WbCalcInverse *inverse,
             double         one,
             double         other)
{
  inverse->shape = WB_CALC_INVERSE_BETWEEN;
  inverse->low = fmin (one, other);
  inverse->high = fmax (one, other);
}

static void
set_anywhere (WbCalcInverse *inverse)
{
  inverse->shape = WB_CALC_INVERSE_ANYWHERE;
  inverse->low = -INFINITY;
  inverse->high = INFINITY;
}

/*
 * All r with (n - r d)^2 <= t^2 (vn - 2 r c + r^2 vd), that is A r^2 - 2 B r + C <= 0 with A = d^2 - t^2 vd, B = n d - t^2 c,
 * C = n^2 - t^2 vn. B^2 - A C is had without the n^2 d^2 in which its digits would be lost. r = n / d is always among them.
 */
static void
solve (double         n,
       double         d,
       double         vn,
       double         vd,
       double         c,
       double         t,
       WbCalcInverse *inverse)
{
  double tt = t * t, a = d * d - tt * vd, b = n * d - tt * c, constant = n * n - tt * vn;
  double under = tt * (d * d * vn + n * n * vd - 2.0 * n * d * c - tt * (vn * vd - c * c)), q, first, second;

  if (a == 0.0)
    {
      set_anywhere (inverse);
      if (b > 0.0)
        {
          inverse->shape = WB_CALC_INVERSE_FROM;
          inverse->low = constant / (2.0 * b);
        }
      else if (b < 0.0)
        {
          inverse->shape = WB_CALC_INVERSE_UP_TO;
          inverse->high = constant / (2.0 * b);
        }
      return;
    }
  if (a < 0.0 && !(under > 0.0))
    {
      set_anywhere (inverse);
      return;
    }
  q = b + copysign (sqrt (fmax (under, 0.0)), b);
  first = q / a;
  second = q != 0.0 ? constant / q : 0.0;
  set_between (inverse, first, second);
  if (a < 0.0)
    inverse->shape = WB_CALC_INVERSE_OUTSIDE;
}

/* Rounding may leave the estimate just beside an end that it lies on. */
static void
take_in_value (WbCalcInverse *inverse)
{
  bool nearer_low;

  if (isnan (inverse->value))
    return;
  if (inverse->shape == WB_CALC_INVERSE_OUTSIDE)
    {
      nearer_low = inverse->value - inverse->low < inverse->high - inverse->value;
      if (inverse->value > inverse->low && inverse->value < inverse->high)
        *(nearer_low ? &inverse->low : &inverse->high) = inverse->value;
      return;
    }
  inverse->low = fmin (inverse->low, inverse->value);
  inverse->high = fmax (inverse->high, inverse->value);
}

static bool
has_end (WbCalcInverseShape shape,
         bool               high)
{
  return shape != WB_CALC_INVERSE_ANYWHERE && shape != (high ? WB_CALC_INVERSE_FROM : WB_CALC_INVERSE_UP_TO);
}

/* Turned back from shares of the two sizes, and moved by `shift`. */
static WbCalcStatus
finish (WbCalcInverse *found,
        double         unit,
        double         shift,
        WbCalcInverse *inverse)
{
  take_in_value (found);
  /* an open end stays open, also where the unit is so small that it is 0 */
  if (has_end (found->shape, false))
    found->low = shift + unit * found->low;
  if (has_end (found->shape, true))
    found->high = shift + unit * found->high;
  found->value = shift + unit * found->value;
  if (isinf (found->value) || (has_end (found->shape, false) && !isfinite (found->low)) || (has_end (found->shape, true) && !isfinite (found->high)))
    return WB_CALC_BAD_INPUT;
  *inverse = *found;
  return WB_CALC_OK;
}

static WbCalcStatus
find_ratio (double         numerator,
            double         denominator,
            double         numerator_variance,
            double         denominator_variance,
            double         covariance,
            double         df,
            double         coverage,
            double         shift,
            WbCalcInverse *inverse)
{
  double n_sd, d_sd, n_size, d_size, c, t, unit;
  WbCalcInverse found;

  if (!isfinite (numerator) || !isfinite (denominator) || !isfinite (numerator_variance) || !isfinite (denominator_variance)
      || !isfinite (covariance) || !isfinite (shift) || numerator_variance < 0.0 || denominator_variance < 0.0 || !(df > 0.0)
      || !(coverage > 0.0 && coverage < 1.0))
    return WB_CALC_BAD_INPUT;
  n_sd = sqrt (numerator_variance);
  d_sd = sqrt (denominator_variance);
  if (fabs (covariance) > n_sd * d_sd * (1.0 + ROUNDING))
    return WB_CALC_BAD_INPUT;
  d_size = fmax (fabs (denominator), d_sd);
  if (!(d_size > 0.0))
    return WB_CALC_UNIDENTIFIED;
  n_size = fmax (fabs (numerator), n_sd);
  if (!(n_size > 0.0))
    n_size = 1.0;
  unit = n_size / d_size;
  if (!isfinite (unit))
    return WB_CALC_BAD_INPUT;
  numerator /= n_size;
  denominator /= d_size;
  n_sd /= n_size;
  d_sd /= d_size;
  c = fmax (-n_sd * d_sd, fmin (n_sd * d_sd, covariance / n_size / d_size));
  t = wb_calc_student_quantile (0.5 + coverage / 2.0, df);
  if (isnan (t))
    return WB_CALC_BAD_INPUT;
  found.value = denominator != 0.0 ? numerator / denominator : NAN;
  /* a coverage next to nothing has t = 0 */
  found.g = denominator == 0.0 ? INFINITY : d_sd > 0.0 ? pow (t * d_sd / denominator, 2.0) : 0.0;
  if (!(t <= T_LARGEST) && (n_sd > 0.0 || d_sd > 0.0))
    set_anywhere (&found);
  else
    solve (numerator, denominator, n_sd * n_sd, d_sd * d_sd, c, fmin (t, T_LARGEST), &found);
  return finish (&found, unit, shift, inverse);
}

WbCalcStatus
wb_calc_inverse_ratio (double         numerator,
                       double         denominator,
                       double         numerator_variance,
                       double         denominator_variance,
                       double         covariance,
                       double         df,
                       double         coverage,
                       WbCalcInverse *inverse)
{
  return find_ratio (numerator, denominator, numerator_variance, denominator_variance, covariance, df, coverage, 0.0, inverse);
}

/* ---- The line, backwards ---- */

static bool
is_line (const WbCalcInverseLine *line)
{
  return isfinite (line->variance) && line->variance >= 0.0 && isfinite (line->level_factor) && line->level_factor >= 0.0
         && isfinite (line->slope_factor) && line->slope_factor >= 0.0 && line->df > 0.0;
}

WbCalcStatus
wb_calc_inverse_at (const WbCalcInverseLine *line,
                    double                   y0,
                    double                   y0_variance,
                    double                   coverage,
                    WbCalcInverse           *inverse)
{
  if (!is_line (line) || !isfinite (y0_variance) || y0_variance < 0.0)
    return WB_CALC_BAD_INPUT;
  return find_ratio (y0 - line->level, line->slope, line->variance * line->level_factor + y0_variance,
                     line->variance * line->slope_factor, 0.0, line->df, coverage, line->centre, inverse);
}

WbCalcStatus
wb_calc_inverse_new (const WbCalcInverseLine *line,
                     const double            *y0,
                     size_t                   m,
                     double                   coverage,
                     WbCalcInverse           *inverse)
{
  double mean = 0.0, spread = 0.0, df, variance;

  for (size_t i = 0; i < m; i++)
    if (!isfinite (y0[i]))
      return WB_CALC_BAD_INPUT;
  if (m == 0)
    return WB_CALC_TOO_FEW;
  if (!is_line (line) || isinf (line->df))
    return WB_CALC_BAD_INPUT;
  mean = mean_of (y0, NULL, false, 1.0, m);
  for (size_t i = 0; i < m; i++)
    spread += (y0[i] - mean) * (y0[i] - mean);
  df = line->df + (double) (m - 1);
  variance = (line->variance * line->df + spread) / df;
  return find_ratio (mean - line->level, line->slope, variance * (line->level_factor + 1.0 / (double) m), variance * line->slope_factor,
                     0.0, df, coverage, line->centre, inverse);
}
