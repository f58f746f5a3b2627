/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-alight.h"

#include "wb-craft-alight-private.h"

#include <math.h>

#define MOST_WICKS 12

/* A row that tells of a burning candle though no flame height stands in it. */
static gboolean
tells_of_burning (const WbReadings *readings,
                  guint             row)
{
  static const WbColumn columns[] = {
    WB_COLUMN_POOL_MM, WB_COLUMN_POOL_A_MM, WB_COLUMN_POOL_B_MM, WB_COLUMN_POOL_FULL, WB_COLUMN_DEPTH_MM,
    WB_COLUMN_FLAME_MAX_MM, WB_COLUMN_FLAME_STATE, WB_COLUMN_VESSEL_C, WB_COLUMN_SMOKE
  };

  for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
    if (wb_readings_taken (readings, row, columns[i]))
      return TRUE;
  return FALSE;
}

/* Minute of the last reading with a flame; where no flame was ever read, of the last that tells of burning; else NAN. */
static double
last_alight (const WbReadings *readings,
             guint             first,
             guint             n)
{
  double with_flame = NAN, burning = NAN;
  gboolean flame_read = FALSE;

  for (guint row = first; row < first + n; row++)
    {
      double minute = wb_readings_get_elapsed_min (readings, row);
      double flame = wb_readings_get (readings, row, WB_COLUMN_FLAME_MM);

      flame_read = flame_read || (!isnan (flame) && minute > 0);
      if (flame > 0)
        with_flame = minute;
      if (tells_of_burning (readings, row))
        burning = minute;
    }
  return flame_read ? with_flame : burning;
}

/* The wicks that are out after what happened in the row, a bit each; `all` of them where it names none. */
static guint
put_out (const WbReadings *readings,
         guint             row,
         guint             all,
         guint             out)
{
  double event = wb_readings_get (readings, row, WB_COLUMN_EVENT), wick = wb_readings_get (readings, row, WB_COLUMN_WICK_NUMBER);
  guint of = wick >= 1 && wick <= MOST_WICKS ? 1u << ((guint) wick - 1) : all;

  if (wb_event_ends_burn (event))
    return out | of;
  return event == WB_EVENT_RELIT ? out & ~of : out;
}

static guint
all_wicks (guint n_wicks)
{
  return (1u << CLAMP (n_wicks, 1, MOST_WICKS)) - 1;
}

double
wb_craft_alight_until (const WbReadings *readings,
                       guint             first,
                       guint             n,
                       guint             n_wicks,
                       double            until)
{
  double alight = 0, lit = 0;
  guint all = all_wicks (n_wicks), out = 0;
  gboolean burning = TRUE;

  for (guint row = first; row < first + n; row++)
    {
      double minute = wb_readings_get_elapsed_min (readings, row);

      if (minute > until)
        break;
      out = put_out (readings, row, all, out);
      if (burning && (out & all) == all)
        {
          alight += minute - lit;
          burning = FALSE;
        }
      else if (!burning && (out & all) != all)
        {
          lit = minute;
          burning = TRUE;
        }
    }
  if (burning)
    {
      double last = last_alight (readings, first, n);

      if (isnan (last))
        return NAN;
      alight += MAX (MIN (last, until) - lit, 0);
    }
  return alight;
}

guint
wb_craft_alight_get_out (const WbReadings *readings,
                         guint             first,
                         guint             n,
                         guint             n_wicks)
{
  guint all = all_wicks (n_wicks), out = 0;

  g_return_val_if_fail (readings != NULL, 0);
  for (guint row = first; row < first + n; row++)
    out = put_out (readings, row, all, out);
  return out & all;
}

double
wb_craft_alight_out_min (const WbReadings *readings,
                         guint             first,
                         guint             n,
                         guint             n_wicks)
{
  double end = NAN;
  guint all = all_wicks (n_wicks), out = 0;

  g_return_val_if_fail (readings != NULL, NAN);

  for (guint row = first; row < first + n; row++)
    {
      out = put_out (readings, row, all, out);
      if ((out & all) != all)
        end = NAN;
      else if (isnan (end))
        end = wb_readings_get_elapsed_min (readings, row);
    }
  return end;
}

double
wb_craft_alight_end (const WbReadings *readings,
                     guint             first,
                     guint             n,
                     guint             n_wicks)
{
  double end = wb_craft_alight_out_min (readings, first, n, n_wicks);

  return isnan (end) ? last_alight (readings, first, n) : end;
}
