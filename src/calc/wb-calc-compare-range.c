/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-compare.h"

#include <math.h>

#include <gsl/gsl_errno.h>
#include <gsl/gsl_math.h>
#include <gsl/gsl_roots.h>

/*
 * P (Q <= q) = integral over s of  f (s) H (q s),
 * f the density of a chi over the root of its df, H the distribution of the range,
 *
 *   H (w) = k integral over z of  phi (z) (Phi (z) - Phi (z - w))^(k - 1).
 *
 * Both integrands are analytic and die off on either side, where the trapezoidal
 * rule converges exponentially with its step (Trefethen and Weideman, SIAM Review 56
 * (2014) 385-458); the outer one is taken over ln s, so that the small s that rule the
 * tails at low df are reached. The tail replaces H by 1 - H under the same
 * integrals, and so loses no digits.
 */

#define MAX_MEANS 1000

/* From here on the standard deviation is known to the last digit. */
#define DF_KNOWN 1e15

/* Beyond this the normal density is below 1e-16. */
#define NORMAL_REACH 8.5

/* Inner step: the trapezoidal error is exp (-2 pi^2 / (h^2 k)); 0.7 / sqrt (k) makes it 3e-18. */
#define INNER_STEP 0.7
#define INNER_STEP_MAX 0.45

/*
 * Outer step in ln s. At ln s + i y the density grows by cos (2 y)^(-df / 2), so that
 * the error is the least of that times exp (-2 pi y / h): below 1e-15 for all df.
 */
#define OUTER_STEP 0.09
#define OUTER_STEP_SDS 0.5

/* Left end of the outer integral: the density of ln s is exp (-60) there, for the tails' sake. */
#define LEFT_END 60.0
/* Right end for many degrees of freedom, in standard deviations of ln s. */
#define RIGHT_SDS 10.0

#define MAX_ITERATIONS 200
#define LOG_QUANTILE_END 1e-13

static bool
is_outside (size_t k,
            double df)
{
  return k < 2 || k > MAX_MEANS || !(df >= 1.0);
}

/* Phi (z), to full relative precision in the lower tail. */
static double
normal_below (double z)
{
  return 0.5 * erfc (-z * M_SQRT1_2);
}

/* H (w), or 1 - H (w). */
static double
range_probability (double w,
                   size_t k,
                   bool   tail)
{
  double step = fmin (INNER_STEP / sqrt ((double) k), INNER_STEP_MAX);
  int power = (int) k - 1;
  double sum = 0.0;
  int reach = (int) ceil (NORMAL_REACH / step);

  for (int i = -reach; i <= reach; i++)
    {
      double z = i * step;
      double density = exp (-0.5 * z * z);

      if (tail)
        {
          double below = normal_below (z);

          sum += density * gsl_pow_int (below, power) * -expm1 (power * log1p (-normal_below (z - w) / below));
        }
      else
        {
          /* Where both are near 1 their upper tails differ without loss. */
          double between = z > w ? normal_below (w - z) - normal_below (-z) : normal_below (z) - normal_below (z - w);

          sum += density * gsl_pow_int (between, power);
        }
    }
  return fmin ((double) k * sum * step / sqrt (2.0 * M_PI), 1.0);
}

/* The mean of H (q s), or of 1 - H (q s), over s. */
static double
studentized (double q,
             size_t k,
             double df,
             bool   tail)
{
  if (df > DF_KNOWN)
    return range_probability (q, k, tail);

  double half = 0.5 * df;
  double step = fmin (OUTER_STEP, OUTER_STEP_SDS / sqrt (2.0 * df));
  /* The density of ln s falls as s^df on the left, and faster than any power on the right. */
  double low = -LEFT_END / df - (df > 10.0 ? RIGHT_SDS / sqrt (2.0 * df) : 0.0);
  double high = 0.5 * log ((2.0 * df + 2.0 * (double) k + 120.0) / df);
  double mass = 0.0;
  double sum = 0.0;

  if (df > 10.0)
    high = fmin (high, RIGHT_SDS / sqrt (2.0 * df) + 0.5 * log1p (2.0 * (double) k / df));

  int n = (int) ceil ((high - low) / step);

  for (int i = 0; i <= n; i++)
    {
      double x = low + i * step;
      double s = exp (x);
      /* Density of ln s up to a factor, 1 at s = 1; the factor is had from the same sum. */
      double density = exp (df * x - half * expm1 (2.0 * x));

      mass += density;
      sum += density * range_probability (q * s, k, tail);
    }
  return fmin (sum / mass, 1.0);
}

WbCalcStatus
wb_calc_compare_studentized_range (double  q,
                                   size_t  k,
                                   double  df,
                                   double *p)
{
  if (isnan (q) || is_outside (k, df))
    return WB_CALC_BAD_INPUT;
  *p = q <= 0.0 ? 0.0 : isinf (q) ? 1.0 : studentized (q, k, df, false);
  return WB_CALC_OK;
}

WbCalcStatus
wb_calc_compare_studentized_range_tail (double  q,
                                        size_t  k,
                                        double  df,
                                        double *tail)
{
  if (isnan (q) || is_outside (k, df))
    return WB_CALC_BAD_INPUT;
  *tail = q <= 0.0 ? 1.0 : isinf (q) ? 0.0 : studentized (q, k, df, true);
  return WB_CALC_OK;
}

typedef struct
{
  double p;
  size_t k;
  double df;
} Wanted;

/* 0 at the quantile, rising; x is ln q. The smaller of the two tails is compared. */
static double
distance (double x,
          void  *user)
{
  const Wanted *wanted = user;
  double q = exp (x);

  if (wanted->p > 0.5)
    return (1.0 - wanted->p) - studentized (q, wanted->k, wanted->df, true);
  return studentized (q, wanted->k, wanted->df, false) - wanted->p;
}

WbCalcStatus
wb_calc_compare_studentized_range_quantile (double  p,
                                            size_t  k,
                                            double  df,
                                            double *q)
{
  Wanted wanted = { p, k, df };
  gsl_function function = { distance, &wanted };
  double low = 0.0;
  double high = 1.0;
  double last = NAN;
  WbCalcStatus status = WB_CALC_NOT_CONVERGED;

  if (!(p > 0.0 && p < 1.0) || is_outside (k, df))
    return WB_CALC_BAD_INPUT;
  for (int i = 0; i < MAX_ITERATIONS && distance (low, &wanted) > 0.0; i++)
    low -= 1.0;
  for (int i = 0; i < MAX_ITERATIONS && distance (high, &wanted) < 0.0; i++)
    {
      low = high;
      high += 1.0;
    }

  gsl_root_fsolver *solver = gsl_root_fsolver_alloc (gsl_root_fsolver_brent);

  if (solver == NULL)
    return WB_CALC_NO_MEMORY;
  if (gsl_root_fsolver_set (solver, &function, low, high) == GSL_SUCCESS)
    for (int i = 0; i < MAX_ITERATIONS && status == WB_CALC_NOT_CONVERGED; i++)
      {
        if (gsl_root_fsolver_iterate (solver) != GSL_SUCCESS)
          break;
        /* Brent's point closes in faster than the interval round it. */
        if (fabs (gsl_root_fsolver_root (solver) - last) <= LOG_QUANTILE_END
            || gsl_root_fsolver_x_upper (solver) - gsl_root_fsolver_x_lower (solver) <= LOG_QUANTILE_END)
          status = WB_CALC_OK;
        last = gsl_root_fsolver_root (solver);
      }
  if (status == WB_CALC_OK)
    *q = exp (gsl_root_fsolver_root (solver));
  gsl_root_fsolver_free (solver);
  return status;
}
