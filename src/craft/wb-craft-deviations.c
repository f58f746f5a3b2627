/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-deviations.h"

#include "wb-craft-limits-private.h"
#include "wb-cure.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define TRIM_MM 1.0      /* tolerance of a trim; common practice, no source */
#define COOL_MIN 1.0     /* times of day are read to the minute */
#define OVERRUN_MIN 60.0 /* beyond the stated length: the next round would have been due; common practice, no source */
#define CURE_DAYS 0.5    /* days of pour and lighting are whole ones */
/* Over a limit it is put out at once; one that burns on for longer was left alight. Common practice, no source. */
#define BURNT_ON_MIN 5.0

static const char *const labels[WB_CRAFT_N_DEVIATIONS] = {
  [WB_CRAFT_DEVIATION_TRIM] = N_("Wick more than 1 mm off the trim, or lit untrimmed"),
  [WB_CRAFT_DEVIATION_COOLING] = N_("Lit before it had cooled for as long as the protocol says"),
  [WB_CRAFT_DEVIATION_ROOM] = N_("Room outside the protocol's range"),
  [WB_CRAFT_DEVIATION_DRAUGHT] = N_("Draught noted"),
  [WB_CRAFT_DEVIATION_CUT_SHORT] = N_("Ended well before the protocol's length"),
  [WB_CRAFT_DEVIATION_OVERRUN] = N_("Burnt for an hour or more beyond the protocol's length"),
  [WB_CRAFT_DEVIATION_CURE] = N_("First burn before the wax had cured"),
  [WB_CRAFT_DEVIATION_CROSSED] = N_("Lit again after the sample had crossed a limit"),
  [WB_CRAFT_DEVIATION_BURNT_ON] = N_("Burnt on after it was read over a limit"),
  [WB_CRAFT_DEVIATION_COMPANY] = N_("Throw rated while another scented candle burnt in the room"),
  [WB_CRAFT_DEVIATION_OTHER_KIND] = N_("Not a standard burn: counts for limits only"),
};

const char *
wb_craft_deviation_get_label (WbCraftDeviationCode code)
{
  g_return_val_if_fail ((guint) code < WB_CRAFT_N_DEVIATIONS, NULL);
  return g_dgettext (GETTEXT_PACKAGE, labels[code]);
}

char *
wb_craft_deviation_dup_text (const WbCraftDeviation *deviation)
{
  g_return_val_if_fail (deviation != NULL, NULL);

  if (isnan (deviation->minute))
    return g_strdup (wb_craft_deviation_get_label (deviation->code));
  /* Translators: what deviated; minutes since lighting. */
  return g_strdup_printf (_("%s, at %.0f min"), wb_craft_deviation_get_label (deviation->code), deviation->minute);
}

static void
note (GArray              *found,
      WbCraftDeviationCode code,
      gboolean             happened,
      double               minute)
{
  WbCraftDeviation deviation = { code, minute };

  if (happened)
    g_array_append_val (found, deviation);
}

/* Minutes since the sample's burn before this one was out; NAN where a time is not known. */
static double
get_rest_min (const WbDataset      *data,
              const WbCraftFigures *figures,
              guint                 burn)
{
  const WbBurn *record = wb_dataset_get_burn (data, burn);
  const WbBurn *before;

  if (burn == 0 || g_array_index (data->burn_sample, guint, burn - 1) != g_array_index (data->burn_sample, guint, burn))
    return NAN;
  before = wb_dataset_get_burn (data, burn - 1);
  if (!record->lit_at.known || !before->lit_at.known)
    return NAN;
  return (double) (record->lit_at.utc_us - before->lit_at.utc_us) / G_TIME_SPAN_MINUTE - figures->burns[burn - 1].alight_min;
}

/* First lit before it was fit, as the bench told it. A cure that is stated in days, as logs bring it, has no moment. */
static gboolean
is_early (const WbDataset   *data,
          const WbCraftBurn *burn)
{
  const WbBurn *record = wb_dataset_get_burn (data, burn->burn);
  WbCureFit fit = wb_cure_fit_of_recipe (data, burn->sample);

  if (record->number != 1)
    return FALSE;
  if (!isnan (wb_dataset_get_sample (data, burn->sample)->cure_days))
    return burn->cure_days < wb_cure_of_recipe (data, burn->sample).burn_days - CURE_DAYS;
  if (!record->lit_at.known || fit.day == WB_DAY_NONE)
    return FALSE;
  return fit.timed ? record->lit_at.utc_us < fit.at.utc_us - G_TIME_SPAN_MINUTE : wb_instant_get_day (record->lit_at) < fit.day;
}

typedef gboolean (*RowFunc) (const WbDataset *data, guint burn, guint row);

static gboolean
is_room_out (const WbDataset *data,
             guint            burn,
             guint            row)
{
  double room_c = wb_readings_get (data->readings, row, WB_COLUMN_ROOM_C);

  /* not read, or no range stated: NAN compares as false */
  return room_c < data->protocol->room_low_c || room_c > data->protocol->room_high_c;
}

static gboolean
is_draught (const WbDataset *data,
            guint            burn,
            guint            row)
{
  return wb_readings_get (data->readings, row, WB_COLUMN_DRAUGHT) > WB_DRAUGHT_NONE;
}

static gboolean
is_in_company (const WbDataset *data,
               guint            burn,
               guint            row)
{
  return !isnan (wb_readings_get (data->readings, row, WB_COLUMN_THROW)) && wb_readings_get (data->readings, row, WB_COLUMN_ALONE) == 0;
}

static gboolean
is_over (const WbDataset *data,
         guint            burn,
         guint            row)
{
  for (guint i = 0; i < data->limits->len; i++)
    {
      const WbLimit *limit = g_ptr_array_index (data->limits, i);

      /* a glow is counted from when it is out: nobody can put that out */
      if (!limit->off && limit->kind != WB_LIMIT_AFTERGLOW && wb_craft_limit_is_row_over (data, limit, burn, row))
        return TRUE;
    }
  return FALSE;
}

/* Minute of the first reading of a burn that is so; NAN: none. */
static double
find_first (const WbDataset *data,
            guint            burn,
            RowFunc          is_so)
{
  guint first, n;

  wb_readings_get_burn_rows (data->readings, burn, &first, &n);
  for (guint row = first; row < first + n; row++)
    if (is_so (data, burn, row))
      return wb_readings_get_elapsed_min (data->readings, row);
  return NAN;
}

static void
note_first (GArray              *found,
            WbCraftDeviationCode code,
            const WbDataset     *data,
            guint                burn,
            RowFunc              is_so)
{
  double minute = find_first (data, burn, is_so);

  note (found, code, !isnan (minute), minute);
}

GArray *
wb_craft_deviations_find (const WbDataset       *data,
                          const WbCraftFigures  *figures,
                          const WbCraftCrossing *crossings,
                          guint                  index,
                          double                 alight_min)
{
  GArray *found = g_array_new (FALSE, FALSE, sizeof (WbCraftDeviation));
  const WbCraftBurn *burn;
  const WbCraftCrossing *crossing;
  const WbProtocol *protocol;
  const WbBurn *record;
  double over_min, lasted_min;
  gboolean standard;

  g_return_val_if_fail (data != NULL && figures != NULL && crossings != NULL, found);
  g_return_val_if_fail (index < figures->n_burns, found);

  burn = &figures->burns[index];
  crossing = &crossings[burn->sample];
  protocol = data->protocol;
  record = wb_dataset_get_burn (data, index);
  standard = burn->kind == WB_BURN_STANDARD;
  lasted_min = fmax (burn->alight_min, alight_min);
  over_min = find_first (data, index, is_over);

  /* by code; what is not known is NAN, and compares as false */
  note (found, WB_CRAFT_DEVIATION_TRIM, fabs (record->trim_mm - protocol->trim_mm) > TRIM_MM || record->kind == WB_BURN_UNTRIMMED, NAN);
  note (found, WB_CRAFT_DEVIATION_COOLING, get_rest_min (data, figures, index) < protocol->cool_s / 60 - COOL_MIN, NAN);
  note_first (found, WB_CRAFT_DEVIATION_ROOM, data, index, is_room_out);
  note_first (found, WB_CRAFT_DEVIATION_DRAUGHT, data, index, is_draught);
  note (found, WB_CRAFT_DEVIATION_CUT_SHORT, burn->cut_short && standard && isnan (alight_min), NAN);
  note (found, WB_CRAFT_DEVIATION_OVERRUN, standard && lasted_min >= protocol->burn_s / 60 + OVERRUN_MIN, NAN);
  note (found, WB_CRAFT_DEVIATION_CURE, is_early (data, burn), NAN);
  note (found, WB_CRAFT_DEVIATION_CROSSED, (crossing->crossed && index > crossing->first_burn) || (crossing->broken && index > crossing->broken_burn), NAN);
  note (found, WB_CRAFT_DEVIATION_BURNT_ON, lasted_min > over_min + BURNT_ON_MIN, over_min);
  note_first (found, WB_CRAFT_DEVIATION_COMPANY, data, index, is_in_company);
  note (found, WB_CRAFT_DEVIATION_OTHER_KIND, !standard, NAN);
  return found;
}
