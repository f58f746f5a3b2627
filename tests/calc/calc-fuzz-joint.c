/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "calc-fuzz.h"
#include "wb-calc-joint.h"

#define MOST 4

/* Any numbers for a model's coefficients: refused, or answers that are finite. */
void
calc_fuzz_joint (CalcFuzz *fuzz)
{
  gsize n = calc_fuzz_below (fuzz, MOST + 1), factor[MOST];
  double mean[MOST], covariance[MOST * MOST], with[MOST], cross[MOST], pull[MOST] = { 0 }, precision[MOST * MOST] = { 0 };
  double factors[MOST], root[MOST * MOST], asked = calc_fuzz_number (fuzz), variance = calc_fuzz_positive (fuzz), gain[MOST];
  const WbCalcJointTold told = { n, mean, covariance, n, with, factor };
  WbCalcStatus status;

  calc_fuzz_fill (fuzz, mean, n);
  calc_fuzz_fill_positive (fuzz, covariance, n * n);
  calc_fuzz_fill (fuzz, cross, n);
  for (gsize k = 0; k < n; k++)
    {
      factor[k] = n - 1 - k;
      with[k] = calc_fuzz_chance (fuzz, 0.1) ? calc_fuzz_number (fuzz) : 2.0 * (double) calc_fuzz_below (fuzz, 1000) / 1000.0 - 1.0;
    }
  fuzz->subject = "wb_calc_joint_add";
  status = wb_calc_joint_add (&told, n, pull, precision);
  for (gsize k = 0; k < n && status == WB_CALC_OK; k++)
    calc_fuzz_expect (fuzz, fabs (with[k]) < 1.0 && isfinite (mean[k]), "what is no distribution passed");
  fuzz->subject = "wb_calc_joint_solve";
  if (wb_calc_joint_solve (n, pull, precision, factors, root) == WB_CALC_OK)
    {
      calc_fuzz_expect_finite (fuzz, factors, n, "a factor");
      calc_fuzz_expect_finite (fuzz, root, n * n, "a root");
    }
  fuzz->subject = "wb_calc_joint_condition";
  if (wb_calc_joint_condition (&told, cross, 1, 1, &asked, &variance, 1, gain) == WB_CALC_OK)
    {
      calc_fuzz_expect (fuzz, status == WB_CALC_OK, "passed where it was refused before");
      calc_fuzz_expect (fuzz, isfinite (asked) && isfinite (variance), "an answer that is not finite");
    }
}
