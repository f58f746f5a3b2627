/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <stdlib.h>

#include "calc-fuzz.h"
#include "wb-calc-pooled.h"

#define MOST_TERMS 4
#define MOST_FAMILIES 3

typedef struct
{
  gsize  start[CALC_FUZZ_MOST + 1];
  gsize  column[CALC_FUZZ_MOST * MOST_TERMS];
  double value[CALC_FUZZ_MOST * MOST_TERMS];
  bool   outside; /* a column that there is not */
} Rows;

static WbCalcPooledRows
draw_rows (CalcFuzz *fuzz,
           Rows     *rows,
           gsize     n,
           gsize     p)
{
  rows->start[0] = 0;
  for (gsize i = 0; i < n; i++)
    rows->start[i + 1] = rows->start[i] + calc_fuzz_below (fuzz, MOST_TERMS + 1);
  rows->outside = calc_fuzz_indexes (fuzz, rows->column, rows->start[n], p);
  calc_fuzz_fill (fuzz, rows->value, rows->start[n]);
  return (WbCalcPooledRows) { n, rows->start, rows->column, rows->value };
}

/* What was found, asked for at every point. */
static void
ask (CalcFuzz     *fuzz,
     WbCalcPooled *fit,
     gsize         p)
{
  Rows drawn;
  WbCalcPooledRows rows = draw_rows (fuzz, &drawn, calc_fuzz_below (fuzz, 6), p);
  gsize n_families, n_points;
  double mean[6], covariance[36], sum = 0.0;

  fuzz->subject = "wb_calc_pooled_get_n_families";
  n_families = wb_calc_pooled_get_n_families (fit);
  calc_fuzz_expect (fuzz, n_families <= MOST_FAMILIES, "more families than there are");
  fuzz->subject = "wb_calc_pooled_get_n_coefficients";
  calc_fuzz_expect (fuzz, wb_calc_pooled_get_n_coefficients (fit) == p, "coefficients");
  fuzz->subject = "wb_calc_pooled_get_curvature";
  calc_fuzz_expect_finite (fuzz, wb_calc_pooled_get_curvature (fit), n_families * n_families, "a curvature");
  fuzz->subject = "wb_calc_pooled_get_log_spreads";
  calc_fuzz_expect_finite (fuzz, wb_calc_pooled_get_log_spreads (fit), n_families, "a spread");
  fuzz->subject = "wb_calc_pooled_get_log_spreads_covariance";
  calc_fuzz_expect_finite (fuzz, wb_calc_pooled_get_log_spreads_covariance (fit), n_families * n_families, "a covariance");
  fuzz->subject = "wb_calc_pooled_get_log_marginal";
  calc_fuzz_expect (fuzz, isfinite (wb_calc_pooled_get_log_marginal (fit)), "not finite");
  fuzz->subject = "wb_calc_pooled_get_mean";
  calc_fuzz_expect_finite (fuzz, wb_calc_pooled_get_mean (fit), p, "a mean");
  fuzz->subject = "wb_calc_pooled_get_n_points";
  n_points = wb_calc_pooled_get_n_points (fit);
  calc_fuzz_expect (fuzz, n_points >= 1 && n_points <= 1 + 2 * n_families, "points");
  for (gsize i = 0; i < n_points; i++)
    {
      fuzz->subject = "wb_calc_pooled_get_weight";
      calc_fuzz_expect_chance (fuzz, wb_calc_pooled_get_weight (fit, i), "a weight");
      sum += wb_calc_pooled_get_weight (fit, i);
      fuzz->subject = "wb_calc_pooled_get_point";
      calc_fuzz_expect_finite (fuzz, wb_calc_pooled_get_point (fit, i), n_families, "a point's spread");
      fuzz->subject = "wb_calc_pooled_predict";
      if (wb_calc_pooled_predict (fit, i, &rows, mean, covariance) != WB_CALC_OK)
        continue;
      calc_fuzz_expect (fuzz, !drawn.outside, "a column that there is not passed");
      calc_fuzz_expect_finite (fuzz, mean, rows.n, "a mean");
      calc_fuzz_expect_finite (fuzz, covariance, rows.n * rows.n, "a covariance");
      for (gsize j = 0; j < rows.n; j++)
        calc_fuzz_expect (fuzz, covariance[j * rows.n + j] >= 0.0, "a variance below 0");
    }
  calc_fuzz_expect (fuzz, wb_calc_pooled_get_point (fit, n_points) == NULL, "no such point");
  calc_fuzz_expect (fuzz, fabs (sum - 1.0) < 1e-9, "weights do not make 1");
  calc_fuzz_expect (fuzz, wb_calc_pooled_predict (fit, n_points, &rows, mean, NULL) == WB_CALC_BAD_INPUT, "no such point");
}

/* Kept as bytes it says the same of what is left, or is refused where rounding leaves nothing; bytes that were changed are refused. */
static void
keep (CalcFuzz           *fuzz,
      const WbCalcPooled *fit,
      gsize               p)
{
  bool asked[CALC_FUZZ_MOST];
  unsigned char *bytes = NULL;
  size_t size = 0;
  WbCalcPooled *again = NULL;

  for (gsize j = 0; j < p; j++)
    asked[j] = calc_fuzz_chance (fuzz, 0.5);
  fuzz->subject = "wb_calc_pooled_keep";
  calc_fuzz_expect (fuzz, wb_calc_pooled_keep (fit, asked, &bytes, &size) == WB_CALC_OK, "a fit that cannot be kept");
  if (bytes == NULL)
    return;
  fuzz->subject = "wb_calc_pooled_take_up";
  if (wb_calc_pooled_take_up (bytes, size, &again) == WB_CALC_OK)
    for (gsize j = 0; j < p; j++)
      calc_fuzz_expect (fuzz, isfinite (wb_calc_pooled_get_mean (again)[j]) || !asked[j], "a mean that was asked for");
  else
    calc_fuzz_expect (fuzz, again == NULL, "something is left of a failure");
  wb_calc_pooled_free (again);
  bytes[calc_fuzz_below (fuzz, size)] ^= (unsigned char) (1u << calc_fuzz_below (fuzz, 8));
  calc_fuzz_expect (fuzz, wb_calc_pooled_take_up (bytes, size, &again) == WB_CALC_BAD_INPUT && again == NULL, "a turned bit");
  free (bytes);
}

void
calc_fuzz_pooled (CalcFuzz *fuzz)
{
  gsize n = calc_fuzz_below (fuzz, CALC_FUZZ_MOST + 1), p = 1 + calc_fuzz_below (fuzz, 8);
  gsize n_families = calc_fuzz_below (fuzz, MOST_FAMILIES + 1);
  WbCalcPooledCoefficient coefficients[8];
  WbCalcPooledFamily families[MOST_FAMILIES];
  double y[CALC_FUZZ_MOST], noise[CALC_FUZZ_MOST], start[MOST_FAMILIES], curvature[MOST_FAMILIES * MOST_FAMILIES];
  bool ordinary = calc_fuzz_chance (fuzz, 0.6), started = calc_fuzz_chance (fuzz, 0.3), curved = calc_fuzz_chance (fuzz, 0.3);
  WbCalcPooled *fit = NULL;
  Rows drawn;
  WbCalcPooledRows rows = draw_rows (fuzz, &drawn, n, p);

  calc_fuzz_fill (fuzz, y, n);
  for (gsize i = 0; i < n; i++)
    noise[i] = ordinary ? 0.01 + (double) calc_fuzz_below (fuzz, 100) : calc_fuzz_positive (fuzz);
  for (gsize k = 0; k < n_families; k++)
    {
      families[k] = (WbCalcPooledFamily) { ordinary ? 0.5 + (double) k : calc_fuzz_positive (fuzz),
                                           calc_fuzz_chance (fuzz, 0.2) ? 0.0 : ordinary ? 0.7 : calc_fuzz_positive (fuzz) };
      start[k] = ordinary ? (double) calc_fuzz_below (fuzz, 3) : calc_fuzz_number (fuzz);
    }
  for (gsize j = 0; j < p; j++)
    {
      bool pooled = n_families > 0 && calc_fuzz_chance (fuzz, 0.6);

      coefficients[j] = (WbCalcPooledCoefficient) { ordinary ? 1.0 : calc_fuzz_number (fuzz),
                                                    calc_fuzz_chance (fuzz, 0.2) ? INFINITY : calc_fuzz_positive (fuzz),
                                                    pooled ? calc_fuzz_below (fuzz, n_families) : WB_CALC_POOLED_NO_FAMILY };
    }
  if (curved)
    calc_fuzz_fill (fuzz, curvature, n_families * n_families);
  fuzz->subject = curved ? "wb_calc_pooled_fit_on" : "wb_calc_pooled_fit";
  WbCalcStatus status = curved ? wb_calc_pooled_fit_on (&rows, y, noise, coefficients, p, families, n_families, started ? start : NULL,
                                                        curvature, &fit)
                               : wb_calc_pooled_fit (&rows, y, noise, coefficients, p, families, n_families, started ? start : NULL, &fit);

  if (calc_fuzz_expect_status (fuzz, status))
    {
      calc_fuzz_expect (fuzz, !drawn.outside, "a column that there is not passed");
      ask (fuzz, fit, p);
      keep (fuzz, fit, p);
    }
  else
    calc_fuzz_expect (fuzz, fit == NULL, "something is left of a failure");
  fuzz->subject = "wb_calc_pooled_free";
  wb_calc_pooled_free (fit);
}
