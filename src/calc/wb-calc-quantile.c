/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-quantile.h"

#include <math.h>
#include <stdbool.h>

#include <gsl/gsl_cdf.h>

/* Above this t and normal agree to 1e-9 between the chances 1e-6 and 1 - 1e-6. */
#define DF_NORMAL 1e10

/* Above this GSL's inverse may not converge; Wilson and Hilferty's cube root (Proc. Nat. Acad. Sci. 17 (1931) 684-688) is good to 1e-6. */
#define DF_WILSON 1e4

static bool
is_chance (double p)
{
  return p > 0 && p < 1;
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
  if (!is_chance (p) || !(df >= 1))
    return NAN;
  return df > DF_NORMAL ? gsl_cdf_ugaussian_Pinv (p) : gsl_cdf_tdist_Pinv (p, df);
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
  return gsl_cdf_chisq_Pinv (p, df);
}
