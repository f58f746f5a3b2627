/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-evening-private.h"

#include "wb-craft-doubt-burn.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* What of a row can hardly be: against what was known before the evening, look by look, and within the burn. */

/* What was known before the evening. */
static void
basis_init (WbCraftDoubtBasis     *basis,
            const WbAppEveningRow *row)
{
  const WbDataset *data = wb_app_bench_sample_get_data (row->sample);
  const WbSample *record = wb_app_bench_sample_get_record (row->sample);

  wb_craft_doubt_basis_init (basis);
  basis->tare_g = record->tare_g;
  basis->fill_g = record->fill_g;
  basis->inner_mm = wb_app_bench_sample_get_vessel (row->sample)->inner_diameter_mm;
  for (guint burn = 0; burn < data->burns->len; burn++)
    {
      double values[WB_N_COLUMNS];
      guint first, n;

      if (burn == row->burn || g_array_index (data->burn_sample, guint, burn) != wb_app_bench_sample_get_index (row->sample))
        continue;
      wb_readings_get_burn_rows (data->readings, burn, &first, &n);
      for (guint i = first; i < first + n; i++)
        {
          wb_readings_get_values (data->readings, i, values);
          wb_craft_doubt_basis_take (basis, values, NAN);
        }
      wb_craft_doubt_basis_end_burn (basis);
    }
}

static void
tell (WbAppEveningRow    *row,
      WbAppEvening       *evening,
      guint               moment,
      const WbCraftDoubt *doubt)
{
  const WbAppEveningMoment *at = wb_app_evening_get_moment (evening, moment);

  for (guint column = at->first; column < at->first + at->n; column++)
    {
      const WbAppEveningColumn *spec = wb_app_evening_get_column (evening, column);
      gboolean hit = doubt->column == WB_N_COLUMNS
                       ? spec->kind == WB_APP_EVENING_TIME
                       : spec->kind == WB_APP_EVENING_FIELD
                           && (spec->column == doubt->column || (wb_app_evening_is_pool (spec->column) && wb_app_evening_is_pool (doubt->column)));

      if (!hit || (row->cells[column].state != WB_APP_EVENING_FINE && spec->kind == WB_APP_EVENING_FIELD)
          || row->cells[column].state == WB_APP_EVENING_WRONG || row->cells[column].state == WB_APP_EVENING_DOUBTED)
        continue;
      row->cells[column].state = WB_APP_EVENING_DOUBTED;
      row->cells[column].doubt = *doubt;
    }
}

/* A flame of one wick of several by itself. */
static void
doubt_wicks (WbAppEveningRow *row,
             WbAppEvening    *evening,
             guint            moment)
{
  static const WbColumn flames[] = { WB_COLUMN_FLAME_MM, WB_COLUMN_FLAME_MAX_MM };
  guint n_wicks = wb_app_bench_sample_get_n_wicks (row->sample);
  WbCraftDoubt doubt;

  for (guint i = 0; i < G_N_ELEMENTS (flames); i++)
    for (guint wick = 1; n_wicks > 1 && wick <= n_wicks; wick++)
      if (wb_craft_doubt_flame (flames[i], wb_app_evening_wicks_get (&row->looks[moment].wicks, wick, flames[i]), &doubt))
        tell (row, evening, moment, &doubt);
}

/* A throw that is rated twice within a minute, by the sheet or by sheet and record, as the bench doubts it. */
static void
doubt_throws (WbAppEveningRow *row,
              WbAppEvening    *evening)
{
  const WbReadings *readings = wb_app_bench_sample_get_data (row->sample)->readings;
  guint first = 0, n = 0;

  if (row->burn != G_MAXUINT)
    wb_readings_get_burn_rows (readings, row->burn, &first, &n);
  for (guint moment = 0; moment < wb_app_evening_get_n_moments (evening); moment++)
    {
      const WbAppEveningLook *look = &row->looks[moment];
      double throw = look->values[WB_COLUMN_THROW];
      WbCraftDoubt doubt;

      for (guint before = 0; before < moment; before++)
        if (wb_craft_doubt_again (throw, row->looks[before].values[WB_COLUMN_THROW], row->looks[before].minute - look->minute, &doubt))
          tell (row, evening, moment, &doubt);
      for (guint i = first; i < first + n; i++)
        if (wb_craft_doubt_again (throw, wb_readings_get (readings, i, WB_COLUMN_THROW), wb_readings_get_elapsed_min (readings, i) - look->minute, &doubt))
          tell (row, evening, moment, &doubt);
    }
}

static void
doubt_looks (WbAppEveningRow *row,
             WbAppEvening    *evening)
{
  WbCraftDoubtBasis basis;

  basis_init (&basis, row);
  for (guint moment = 0; moment < wb_app_evening_get_n_moments (evening); moment++)
    {
      WbAppEveningLook *look = &row->looks[moment];

      if (look->stored)
        wb_craft_doubt_basis_take (&basis, look->in_record, look->minute);
      if (look->taken)
        {
          g_autoptr (GArray) doubts = NULL;

          /* What is weighed the next day is no burn that lasted so long. */
          basis.alight = wb_app_evening_get_moment (evening, moment)->ask != WB_APP_ASK_NEXT_DAY;
          doubts = wb_craft_doubts_find (look->values, look->minute, &basis);
          for (guint i = 0; i < doubts->len; i++)
            tell (row, evening, moment, &g_array_index (doubts, WbCraftDoubt, i));
          doubt_wicks (row, evening, moment);
          wb_craft_doubt_basis_take (&basis, look->values, look->minute);
        }
    }
}

static void
doubt_burn (WbAppEveningRow *row,
            WbAppEvening    *evening)
{
  guint n = wb_app_evening_get_n_moments (evening), taken = 0;
  g_autofree WbCraftBurnReading *readings = g_new (WbCraftBurnReading, n);
  g_autofree guint *moments = g_new (guint, n);
  double inner_mm = wb_app_bench_sample_get_vessel (row->sample)->inner_diameter_mm;
  g_autoptr (GArray) doubts = NULL;

  for (guint moment = 0; moment < n; moment++)
    {
      const WbAppEveningLook *look = &row->looks[moment];
      double values[WB_N_COLUMNS];

      if ((!look->stored && !look->taken) || isnan (look->minute))
        continue;
      for (int column = 0; column < WB_N_COLUMNS; column++)
        values[column] = isnan (look->values[column]) ? look->in_record[column] : look->values[column];
      wb_craft_burn_reading_take (&readings[taken], look->minute, values, inner_mm);
      moments[taken++] = moment;
    }
  doubts = wb_craft_doubts_find_in_burn (readings, taken);
  for (guint i = 0; i < doubts->len; i++)
    {
      const WbCraftBurnDoubt *found = &g_array_index (doubts, WbCraftBurnDoubt, i);

      if (row->looks[moments[found->reading]].taken)
        tell (row, evening, moments[found->reading], &found->doubt);
    }
}

/* What it had crossed before it was lit; NULL: nothing. A new burn is later than all that the record has: burns are typed in by their order. */
static char *
dup_deviation (const WbAppEveningRow *row)
{
  const WbCraftCrossing *crossing = wb_app_bench_sample_get_crossing (row->sample);
  const char *code = wb_app_bench_sample_get_code (row->sample);
  g_autofree char *words = NULL;

  if (crossing->crossed)
    {
      words = wb_app_bench_sample_dup_crossing (row->sample, NULL);
      /* Translators: code of a sample; a limit with its value and bound. */
      return g_strdup_printf (_("%s was lit after it had crossed a limit: %s."), code, words);
    }
  if (crossing->broken)
    /* Translators: code of a sample; the number of a burn. */
    return g_strdup_printf (_("%s was lit although its vessel had cracked in burn %d."), code, wb_app_bench_sample_get_cracked_burn (row->sample));
  return NULL;
}

/* A new burn of a sample that was not to be lit again: it has happened, and is told and noted. */
static void
doubt_lighting (WbAppEveningRow *row)
{
  WbAppEveningCell *cell = &row->cells[row->looks[0].time_column];

  if (!row->typed || row->burn != G_MAXUINT || !row->lit_at.known)
    return;
  row->deviation = dup_deviation (row);
  if (row->deviation == NULL || cell->state == WB_APP_EVENING_WRONG)
    return;
  cell->state = WB_APP_EVENING_DOUBTED;
  cell->problem = g_string_chunk_insert (row->words, row->deviation);
}

void
wb_app_evening_row_doubt (WbAppEveningRow *row,
                          WbAppEvening    *evening)
{
  doubt_lighting (row);
  doubt_looks (row, evening);
  doubt_burn (row, evening);
  doubt_throws (row, evening);
}

GPtrArray *
wb_app_evening_find_hits (WbAppEvening *self,
                          guint         row,
                          guint         moment)
{
  const WbAppEveningRow *at;
  double values[WB_N_COLUMNS];
  GPtrArray *hits;

  g_return_val_if_fail (WB_IS_APP_EVENING (self), NULL);
  g_return_val_if_fail (row < wb_app_evening_get_n_rows (self) && moment < wb_app_evening_get_n_moments (self), NULL);

  at = wb_app_evening_get_row (self, row);
  hits = wb_app_bench_check_values (at->sample, at->looks[moment].values);
  for (guint wick = 1; wick <= wb_app_bench_sample_get_n_wicks (at->sample); wick++)
    if (wb_app_evening_wicks_fill (&at->looks[moment].wicks, wick, values))
      wb_app_bench_merge_hits (hits, wb_app_bench_check_values (at->sample, values));
  return hits;
}
