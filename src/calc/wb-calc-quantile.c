/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-quantile.h"

#include <math.h>
#include <stdbool.h>

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_sf_gamma.h>

/* Above this t and normal agree to 1e-9 between the chances 1e-6 and 1 - 1e-6. */
#define DF_NORMAL 1e10

/* Above this GSL's inverse may not converge; Wilson and Hilferty's cube root (Proc. Nat. Acad. Sci. 17 (1931) 684-688) is good to 1e-6. */
#define DF_WILSON 1e4

/* Logarithms between which a double lies, and halvings after which no digit is left. */
#define LOG_SMALLEST (-745.0)
#define LOG_LARGEST 709.7
#define MAX_HALVINGS 100

static bool
is_chance (double p)
{
  return p > 0 && p < 1;
}

/*
 * The x > 0 at which `chance` (x, df), which rises or falls, is p: by halving its logarithm. Slow
 * and sure, for where GSL's own inverse gives up: fewer than about half a degree of freedom, and
 * chances below about 1e-100. 0 and INFINITY where x leaves the range of a double.
 */
static double
by_halving (double (*chance) (double, double),
            bool rises,
            double p,
            double df)
{
  double low = LOG_SMALLEST;
  double high = LOG_LARGEST;

  if ((chance (exp (low), df) < p) != rises)
    return 0.0;
  if ((chance (exp (high), df) < p) == rises)
    return INFINITY;
  for (int i = 0; i < MAX_HALVINGS; i++)
    {
      double middle = 0.5 * (low + high);

      if ((chance (exp (middle), df) < p) == rises)
        low = middle;
      else
        high = middle;
    }
  return exp (0.5 * (low + high));
}

/* From this logarithm of t on its tail is a power of t to the last digit. */
#define LOG_POWER_TAIL 30.0

/*
 * The t > 0 with P (T > t) = p < 0.5 where GSL's inverse gives up. Far out the tail is
 *
 *   Gamma ((df + 1) / 2) / (sqrt (pi) Gamma (df / 2)) df^(df / 2 - 1) t^-df
 */
static double
student_far_out (double p,
                 double df)
{
  double log_factor = gsl_sf_lngamma (0.5 * (df + 1.0)) - gsl_sf_lngamma (0.5 * df) - 0.5 * log (M_PI) + (0.5 * df - 1.0) * log (df);
  double log_t = (log_factor - log (p)) / df;

  return log_t > LOG_POWER_TAIL ? exp (log_t) : by_halving (gsl_cdf_tdist_Q, false, p, df);
}

double
wb_calc_normal_below (double z)
{
  return 0.5 * erfc (-z / M_SQRT2);
}

double
wb_calc_normal_quantile (double p)
{
  return is_chance (p) ? gsl_cdf_ugaussian_Pinv (p) : NAN;
}

double
wb_calc_student_quantile (double p,
                          double df)
{
  double t;

  if (!is_chance (p) || !(df > 0))
    return NAN;
  if (df > DF_NORMAL)
    return gsl_cdf_ugaussian_Pinv (p);
  /* In closed form, without the cancellation that leaves GSL no digit far out. */
  if (df == 1.0)
    return p < 0.5 ? -1.0 / tan (M_PI * p) : p > 0.5 ? 1.0 / tan (M_PI * (1.0 - p)) : 0.0;
  if (df == 2.0)
    return (2.0 * p - 1.0) / sqrt (2.0 * p * (1.0 - p));
  t = gsl_cdf_tdist_Pinv (p, df);
  if (isfinite (t))
    return t;
  return p < 0.5 ? -student_far_out (p, df) : student_far_out (1.0 - p, df);
}

double
wb_calc_chisq_quantile (double p,
                        double df)
{
  if (!is_chance (p) || !(df > 0))
    return NAN;
  if (isinf (df))
    return INFINITY;
  if (df > DF_WILSON)
    {
      double c = 2.0 / (9.0 * df);

      return df * pow (1.0 - c + sqrt (c) * gsl_cdf_ugaussian_Pinv (p), 3.0);
    }

  double x = gsl_cdf_chisq_Pinv (p, df);

  if (isfinite (x))
    return x;
  return p < 0.5 ? by_halving (gsl_cdf_chisq_P, true, p, df) : by_halving (gsl_cdf_chisq_Q, false, 1.0 - p, df);
}
