/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "calc-fuzz.h"
#include "wb-calc-inverse.h"

#define MOST CALC_FUZZ_MOST

/* Each shape has the ends that it says, and the estimate is in it. */
static void
check (CalcFuzz            *fuzz,
       const WbCalcInverse *inverse)
{
  double value = inverse->value;
  bool inside = value >= inverse->low && value <= inverse->high;

  calc_fuzz_expect (fuzz, isnan (value) || isfinite (value), "the value");
  calc_fuzz_expect (fuzz, inverse->g >= 0.0, "g");
  calc_fuzz_expect (fuzz, inverse->low <= inverse->high, "low above high");
  switch (inverse->shape)
    {
    case WB_CALC_INVERSE_BETWEEN:
      calc_fuzz_expect (fuzz, isfinite (inverse->low) && isfinite (inverse->high) && inside, "between");
      break;
    case WB_CALC_INVERSE_FROM:
      calc_fuzz_expect (fuzz, isfinite (inverse->low) && inverse->high == INFINITY && inside, "from");
      break;
    case WB_CALC_INVERSE_UP_TO:
      calc_fuzz_expect (fuzz, inverse->low == -INFINITY && isfinite (inverse->high) && inside, "up to");
      break;
    case WB_CALC_INVERSE_OUTSIDE:
      calc_fuzz_expect (fuzz, isfinite (inverse->low) && isfinite (inverse->high) && (isnan (value) || value <= inverse->low || value >= inverse->high),
                        "outside");
      break;
    case WB_CALC_INVERSE_ANYWHERE:
      calc_fuzz_expect (fuzz, inverse->low == -INFINITY && inverse->high == INFINITY, "anywhere");
      break;
    default:
      calc_fuzz_expect (fuzz, false, "a shape that there is not");
      break;
    }
}

static void
read_backwards (CalcFuzz                *fuzz,
                const WbCalcInverseLine *line)
{
  double y0[MOST];
  gsize m = calc_fuzz_below (fuzz, MOST + 1);
  double coverage = calc_fuzz_chance (fuzz, 0.9) ? wb_calc_random_uniform (&fuzz->random) : calc_fuzz_number (fuzz);
  double variance = calc_fuzz_chance (fuzz, 0.5) ? 0.0 : calc_fuzz_positive (fuzz);
  WbCalcInverse inverse;

  calc_fuzz_expect (fuzz, isfinite (line->slope) && isfinite (line->level) && isfinite (line->centre), "the line");
  calc_fuzz_expect (fuzz, line->variance >= 0.0 && line->level_factor >= 0.0 && line->slope_factor > 0.0 && line->df >= 1.0, "its spread");
  calc_fuzz_fill (fuzz, y0, m);
  fuzz->subject = "wb_calc_inverse_new";
  if (calc_fuzz_expect_status (fuzz, wb_calc_inverse_new (line, y0, m, coverage, &inverse)))
    check (fuzz, &inverse);
  fuzz->poisoned = false;
  fuzz->subject = "wb_calc_inverse_at";
  if (calc_fuzz_expect_status (fuzz, wb_calc_inverse_at (line, calc_fuzz_number (fuzz), variance, coverage, &inverse)))
    check (fuzz, &inverse);
}

void
calc_fuzz_inverse (CalcFuzz *fuzz)
{
  double x[MOST], y[MOST], spread[MOST], numbers[5];
  gsize n = calc_fuzz_below (fuzz, MOST + 1);
  bool known = calc_fuzz_chance (fuzz, 0.4), weighted = calc_fuzz_chance (fuzz, 0.5);
  WbCalcInverseLine line;
  WbCalcInverse inverse;
  WbCalcStatus status;

  calc_fuzz_fill (fuzz, x, n);
  calc_fuzz_fill (fuzz, y, n);
  if (known || weighted)
    calc_fuzz_fill_positive (fuzz, spread, n);
  fuzz->subject = known ? "wb_calc_inverse_fit_known" : "wb_calc_inverse_fit";
  status = known ? wb_calc_inverse_fit_known (x, y, spread, n, &line) : wb_calc_inverse_fit (x, y, weighted ? spread : NULL, n, &line);
  if (calc_fuzz_expect_status (fuzz, status))
    read_backwards (fuzz, &line);

  fuzz->poisoned = false;
  fuzz->subject = "wb_calc_inverse_ratio";
  calc_fuzz_fill (fuzz, numbers, 5);
  numbers[2] = fabs (numbers[2]);
  numbers[3] = fabs (numbers[3]);
  if (calc_fuzz_chance (fuzz, 0.8) && isfinite (numbers[4]))
    numbers[4] = (2.0 * wb_calc_random_uniform (&fuzz->random) - 1.0) * sqrt (numbers[2]) * sqrt (numbers[3]);
  status = wb_calc_inverse_ratio (numbers[0], numbers[1], numbers[2], numbers[3], numbers[4],
                                  calc_fuzz_chance (fuzz, 0.3) ? INFINITY : calc_fuzz_positive (fuzz),
                                  wb_calc_random_uniform (&fuzz->random), &inverse);
  if (calc_fuzz_expect_status (fuzz, status))
    check (fuzz, &inverse);
}
