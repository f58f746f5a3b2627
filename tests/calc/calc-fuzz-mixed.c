/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "calc-fuzz.h"
#include "wb-calc-mixed.h"

#define MOST CALC_FUZZ_MOST
#define N_DRAWS 4

typedef struct
{
  double y[MOST], variance[MOST], local[MOST], global[MOST * 2];
  bool outside[MOST];
  gsize unit[MOST], block[MOST];
  WbCalcMixedColumn local_column[1], global_column[2];
  WbCalcMixedSpread spread[3];
} Room;

static WbCalcMixedData
draw_data (CalcFuzz *fuzz,
           Room     *room)
{
  gsize n = calc_fuzz_below (fuzz, MOST + 1);
  gsize block = 0;
  gsize unit = 0;
  WbCalcMixedData data = {
    .n_rows = n, .y = room->y, .variance = calc_fuzz_chance (fuzz, 0.5) ? room->variance : NULL, .unit = room->unit,
    .block = room->block, .n_local = calc_fuzz_below (fuzz, 2), .local = room->local, .local_column = room->local_column,
    .n_global = calc_fuzz_below (fuzz, 3), .global = room->global, .global_column = room->global_column,
    .n_spreads = 3, .spread = room->spread,
  };

  if (data.variance != NULL && calc_fuzz_chance (fuzz, 0.3))
    data.outside = room->outside;
  for (gsize i = 0; i < n; i++)
    {
      bool fresh = calc_fuzz_chance (fuzz, 0.25);

      block += i > 0 && fresh ? 1 : 0;
      unit += i > 0 && (fresh || calc_fuzz_chance (fuzz, 0.4)) ? 1 : 0;
      room->block[i] = block;
      room->unit[i] = unit;
      room->outside[i] = false;
      room->local[i] = 1.0;
    }
  /* A row outside of units stands at its block's end, or it would tear a unit apart. */
  if (n > 0 && data.outside != NULL)
    room->outside[n - 1] = true;
  data.n_blocks = block + 1;
  calc_fuzz_fill (fuzz, room->y, n);
  calc_fuzz_fill (fuzz, room->global, n * data.n_global);
  if (data.variance != NULL)
    calc_fuzz_fill_positive (fuzz, room->variance, n);
  return data;
}

static WbCalcMixedColumn
draw_column (CalcFuzz *fuzz)
{
  if (calc_fuzz_chance (fuzz, 0.4))
    return (WbCalcMixedColumn) { 2, 0.0 };
  return (WbCalcMixedColumn) { WB_CALC_MIXED_KNOWN, calc_fuzz_chance (fuzz, 0.6) ? INFINITY : calc_fuzz_positive (fuzz) };
}

static WbCalcMixedSpread
draw_spread (CalcFuzz *fuzz)
{
  WbCalcMixedSpread spread = { .start = calc_fuzz_chance (fuzz, 0.9) ? 1.0 : calc_fuzz_positive (fuzz), .held = calc_fuzz_chance (fuzz, 0.2) };

  if (calc_fuzz_chance (fuzz, 0.4))
    {
      spread.median = calc_fuzz_chance (fuzz, 0.9) ? 1.0 : calc_fuzz_positive (fuzz);
      spread.factor = 2.0;
    }
  return spread;
}

static void
check_fit (CalcFuzz              *fuzz,
           const WbCalcMixedData *data,
           const WbCalcMixed     *fit)
{
  double at_local[] = { 1.0 };
  double at_global[] = { 0.5, -1.0 };
  double weight[] = { 1.0 };
  double values[N_DRAWS], spreads[N_DRAWS * 3];
  WbCalcMixedTarget target = { 0, data->n_local > 0 ? at_local : NULL, data->n_global > 0 ? at_global : NULL };
  WbCalcMixedContrast contrast;

  for (gsize k = 0; k < data->n_spreads; k++)
    {
      double sd = wb_calc_mixed_get_spread (fit, k);

      calc_fuzz_expect (fuzz, isfinite (sd) && sd >= 0.0, "a spread");
    }
  calc_fuzz_expect (fuzz, isnan (wb_calc_mixed_get_spread (fit, data->n_spreads)), "a spread that there is not");
  calc_fuzz_expect (fuzz, isfinite (wb_calc_mixed_get_criterion (fit)), "the criterion is not finite");
  calc_fuzz_expect (fuzz, wb_calc_mixed_get_correlation (fit) == 0.0, "a correlation that was not asked for");
  calc_fuzz_expect (fuzz, wb_calc_mixed_get_n_deviates (fit) == data->n_global + data->n_blocks * data->n_local, "the number of deviates");
  calc_fuzz_expect (fuzz, !isinf (wb_calc_mixed_get_unit (fit, 0)), "a unit's deviation");
  calc_fuzz_expect (fuzz, isnan (wb_calc_mixed_get_unit (fit, G_MAXSIZE)), "a unit that there is not");
  calc_fuzz_expect (fuzz, !isinf (wb_calc_mixed_get_row (fit, 0)), "a row's value");
  calc_fuzz_expect (fuzz, isnan (wb_calc_mixed_get_row (fit, data->n_rows)), "a row that there is not");
  fuzz->subject = "wb_calc_mixed_contrast";
  if (wb_calc_mixed_contrast (fit, &target, weight, 1, &contrast) == WB_CALC_OK)
    {
      /* The sd of a column of the size of the smallest doubles may be infinite. */
      calc_fuzz_expect (fuzz, isfinite (contrast.value) && contrast.sd >= 0.0, "value or sd");
      calc_fuzz_expect (fuzz, contrast.df >= 1.0, "degrees of freedom below 1");
    }
  weight[0] = NAN;
  calc_fuzz_expect (fuzz, wb_calc_mixed_contrast (fit, &target, weight, 1, &contrast) != WB_CALC_OK, "NaN passed");
  fuzz->subject = "wb_calc_mixed_draw";
  if (wb_calc_mixed_draw (fit, &target, 1, 7, N_DRAWS, NULL, values, spreads) == WB_CALC_OK)
    {
      calc_fuzz_expect_finite (fuzz, values, N_DRAWS, "a draw");
      /* A spread that neither data nor prior tell may be drawn anywhere. */
      for (gsize k = 0; k < N_DRAWS * data->n_spreads; k++)
        calc_fuzz_expect (fuzz, spreads[k] >= 0.0, "a drawn spread");
    }
}

void
calc_fuzz_mixed (CalcFuzz *fuzz)
{
  Room room;
  WbCalcMixedData data = draw_data (fuzz, &room);
  WbCalcMixed *fit = NULL;
  WbCalcStatus status;

  fuzz->subject = "wb_calc_mixed_fit";
  room.local_column[0] = draw_column (fuzz);
  for (gsize j = 0; j < 2; j++)
    room.global_column[j] = draw_column (fuzz);
  for (gsize k = 0; k < 3; k++)
    room.spread[k] = draw_spread (fuzz);
  status = wb_calc_mixed_fit (&data, NULL, NULL, &fit);
  if (calc_fuzz_expect_status (fuzz, status))
    check_fit (fuzz, &data, fit);
  else
    calc_fuzz_expect (fuzz, fit == NULL, "something is left of a failure");
  wb_calc_mixed_free (fit);
}
