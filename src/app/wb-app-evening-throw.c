/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-evening-private.h"

#include "wb-app-bench-throw-private.h"
#include "wb-clock.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/*
 * Throw burns on a sheet, by the rules of the bench: what is asked of them, and, from the times and rooms of the sheet's own lines
 * and of the record, whether a rating was taken among other scented flames.
 */

#define MINUTE_US ((gint64) 60 * G_USEC_PER_SEC)

gboolean
wb_app_evening_row_is_of_it (const WbAppEveningRow *row)
{
  return row->typed || row->burn != G_MAXUINT;
}

gboolean
wb_app_evening_row_is_throw (const WbAppEveningRow *row)
{
  const WbBurn *burn = wb_app_evening_row_get_burn (row);

  return wb_app_evening_row_is_of_it (row) && (burn != NULL ? burn->kind : row->kind) == WB_BURN_THROW;
}

/* Of a throw burn its place; the paper does not say where the others stood. NULL: it has no name. */
static const char *
get_room (const WbAppEveningRow *row)
{
  const WbBurn *burn = wb_app_evening_row_get_burn (row);

  if (!wb_app_evening_row_is_throw (row))
    return NULL;
  return row->place != NULL ? row->place : burn != NULL ? burn->bench_place : NULL;
}

/* When its flame was out, as typed or recorded; not known: it is not said, and it may burn on. */
static WbInstant
get_end (const WbAppEveningRow *row,
         WbAppEvening          *evening)
{
  WbInstant end = row->looks[wb_app_evening_get_n_moments (evening) - 2].at;

  for (guint moment = 1; moment < wb_app_evening_get_n_moments (evening); moment++)
    {
      const WbAppEveningLook *look = &row->looks[moment];
      double event = look->values[WB_COLUMN_EVENT];

      if (look->at.known && !isnan (event) && wb_event_ends_burn (event) && (!end.known || look->at.utc_us < end.utc_us))
        end = look->at;
    }
  return end;
}

static gboolean
burnt_at (const WbAppEveningRow *row,
          WbAppEvening          *evening,
          WbInstant              at)
{
  const WbBurn *burn = wb_app_evening_row_get_burn (row);
  WbInstant end = get_end (row, evening);

  /* One from a file has no clock. */
  if (!wb_app_evening_row_is_of_it (row) || (burn != NULL && burn->session == 0) || !row->lit_at.known || row->lit_at.utc_us > at.utc_us)
    return FALSE;
  return !end.known || end.utc_us > at.utc_us;
}

static const WbAppEveningRow *
find_row (WbAppEvening     *evening,
          WbAppBenchSample *sample)
{
  for (guint i = 0; i < wb_app_evening_get_n_rows (evening); i++)
    if (wb_app_evening_get_row (evening, i)->sample == sample)
      return wb_app_evening_get_row (evening, i);
  return NULL;
}

/* Samples that burnt in the row's room then, and perhaps in no other; *named: one of them surely. Those of the sheet by what it says. */
static GPtrArray *
dup_beside (WbAppEvening          *evening,
            const WbAppEveningRow *row,
            WbInstant              at,
            gboolean               scented,
            gboolean              *named)
{
  WbAppBench *bench = wb_app_evening_get_bench (evening);
  const char *room = get_room (row);
  GPtrArray *beside = wb_app_bench_dup_beside (bench, row->sample, room, at, scented);

  *named = FALSE;
  for (guint i = beside->len; i > 0; i--)
    {
      const WbAppEveningRow *other = find_row (evening, g_ptr_array_index (beside, i - 1));

      if (other != NULL && wb_app_evening_row_is_of_it (other))
        g_ptr_array_remove_index (beside, i - 1);
      else
        *named = *named || wb_app_bench_throw_get_room (bench, g_ptr_array_index (beside, i - 1)) != NULL;
    }
  for (guint i = 0; i < wb_app_evening_get_n_rows (evening); i++)
    {
      const WbAppEveningRow *other = wb_app_evening_get_row (evening, i);

      if (other == row || !burnt_at (other, evening, at) || (scented && !wb_app_bench_sample_is_scented (other->sample))
          || !wb_app_bench_throw_may_be_same_room (room, get_room (other)))
        continue;
      g_ptr_array_add (beside, other->sample);
      *named = *named || get_room (other) != NULL;
    }
  *named = *named && room != NULL;
  return beside;
}

/* ---- Checks ---- */

/* At its lighting; -1: there is none. */
static guint
find_place_column (WbAppEvening *evening)
{
  const WbAppEveningMoment *lighting = wb_app_evening_get_moment (evening, 0);

  for (guint column = lighting->first; column < lighting->first + lighting->n; column++)
    if (wb_app_evening_get_column (evening, column)->kind == WB_APP_EVENING_PLACE)
      return column;
  g_return_val_if_reached (lighting->first);
}

void
wb_app_evening_row_check_throw (WbAppEveningRow         *row,
                                const WbAppEveningCheck *check)
{
  if (wb_app_evening_row_is_throw (row))
    {
      if (row->burn == G_MAXUINT && row->place == NULL)
        wb_app_evening_refuse (row, find_place_column (check->evening), g_strdup (_("A throw burn stands alone in a room with a name: which?")));
      return;
    }
  for (guint column = 0; column < wb_app_evening_get_n_columns (check->evening); column++)
    {
      const WbAppEveningColumn *spec = wb_app_evening_get_column (check->evening, column);

      /* A rating of another burn is a note, as at the bench; of what it stands on nothing is asked there. */
      if (spec->throw && !(spec->kind == WB_APP_EVENING_FIELD && spec->column == WB_COLUMN_THROW)
          && *wb_app_evening_peek_text (check->evening, row, column) != '\0')
        wb_app_evening_refuse (row, column, g_strdup (_("That is asked of throw burns only: the kind of this burn is another.")));
    }
}

static void
append_deviation (WbAppEveningRow *row,
                  const char      *words)
{
  char *both;

  if (words == NULL)
    return;
  both = row->deviation != NULL ? g_strdup_printf ("%s %s", row->deviation, words) : g_strdup (words);
  g_free (row->deviation);
  row->deviation = both;
}

void
wb_app_evening_row_crowd (WbAppEveningRow *row,
                          WbAppEvening    *evening)
{
  WbAppEveningCell *cell = &row->cells[row->looks[0].time_column];
  g_autoptr (GPtrArray) beside = NULL;
  g_autofree char *early = NULL, *crowd = NULL;
  gboolean named;

  if (!wb_app_evening_row_is_throw (row) || row->burn != G_MAXUINT || !row->lit_at.known || cell->state == WB_APP_EVENING_WRONG)
    return;
  early = wb_app_bench_throw_dup_early (row->sample, WB_BURN_THROW, row->lit_at);
  beside = dup_beside (evening, row, row->lit_at, FALSE, &named);
  crowd = wb_app_bench_throw_dup_crowd_words (beside, named);
  append_deviation (row, early);
  append_deviation (row, crowd);
  if (row->deviation == NULL)
    return;
  cell->state = WB_APP_EVENING_DOUBTED;
  cell->problem = g_string_chunk_insert (row->words, row->deviation);
}

/* ---- What is told ---- */

gboolean
wb_app_evening_is_shown (WbAppEvening *self,
                         guint         column)
{
  g_return_val_if_fail (WB_IS_APP_EVENING (self) && column < wb_app_evening_get_n_columns (self), FALSE);
  return self->throws || !wb_app_evening_get_column (self, column)->throw;
}

/* FALSE: a dash says that it was not; or it is not told when, and the looks are being typed. */
static gboolean
is_lit (WbAppEvening *self,
                       guint         row,
                       guint         moment)
{
  const WbAppEveningRow *at = wb_app_evening_get_row (self, row);

  if (at->unlit)
    return FALSE;
  return moment == 0 || at->burn != G_MAXUINT || *wb_app_evening_get_text (self, row, 0) != '\0'
         || *wb_app_evening_get_text (self, WB_APP_EVENING_ALL, 0) != '\0';
}

gboolean
wb_app_evening_is_asked (WbAppEvening *self,
                         guint         row,
                         guint         column)
{
  const WbAppEveningColumn *spec;

  g_return_val_if_fail (WB_IS_APP_EVENING (self), FALSE);
  g_return_val_if_fail (row < wb_app_evening_get_n_rows (self) && column < wb_app_evening_get_n_columns (self), FALSE);

  spec = wb_app_evening_get_column (self, column);
  if (!is_lit (self, row, spec->moment))
    return FALSE;
  if (!spec->throw)
    return !spec->seldom;
  /* The program knows that, where the person does not say otherwise. */
  return wb_app_evening_row_is_throw (wb_app_evening_get_row (self, row)) && !(spec->kind == WB_APP_EVENING_FIELD && spec->column == WB_COLUMN_ALONE);
}

/* A rating newly typed, at a known time. */
static gboolean
is_rated (const WbAppEveningLook *look)
{
  return !isnan (look->values[WB_COLUMN_THROW]) && look->at.known;
}

double
wb_app_evening_foretell_alone (WbAppEvening *self,
                               guint         row,
                               guint         moment)
{
  const WbAppEveningRow *at;
  g_autoptr (GPtrArray) beside = NULL;
  gboolean named;

  g_return_val_if_fail (WB_IS_APP_EVENING (self), NAN);
  g_return_val_if_fail (row < wb_app_evening_get_n_rows (self) && moment < wb_app_evening_get_n_moments (self), NAN);

  at = wb_app_evening_get_row (self, row);
  if (!is_rated (&at->looks[moment]))
    return NAN;
  beside = dup_beside (self, at, at->looks[moment].at, TRUE, &named);
  return beside->len == 0;
}

char *
wb_app_evening_dup_unscored (WbAppEvening *self,
                             guint         row,
                             guint         moment)
{
  const WbAppEveningRow *at;
  const WbAppEveningLook *look;
  g_autoptr (GPtrArray) beside = NULL;
  gboolean named;

  g_return_val_if_fail (WB_IS_APP_EVENING (self), NULL);
  g_return_val_if_fail (row < wb_app_evening_get_n_rows (self) && moment < wb_app_evening_get_n_moments (self), NULL);

  at = wb_app_evening_get_row (self, row);
  look = &at->looks[moment];
  if (!is_rated (look))
    return NULL;
  if (!wb_app_evening_row_is_throw (at))
    return g_strdup (wb_app_bench_throw_get_other_kind_words ());
  if (look->values[WB_COLUMN_ALONE] == 1)
    return NULL;
  if (look->values[WB_COLUMN_ALONE] == 0)
    return g_strdup (_("Not scored: it is said that another scented candle burnt. The rating stays a note."));
  beside = dup_beside (self, at, look->at, TRUE, &named);
  return wb_app_bench_throw_dup_unscored_words (beside, named);
}

/* ---- What is written ---- */

static void
set_text (WbReading  *reading,
          const char *field,
          const char *text)
{
  if (text != NULL && *text != '\0')
    wb_record_set_text (reading, wb_record_type_find_field (&wb_reading_type, field), text);
}

void
wb_app_evening_complete_throw (WbAppEvening           *self,
                               const WbAppEveningRow  *row,
                               const WbAppEveningLook *look,
                               WbReading              *reading)
{
  static const WbColumn stated[] = { WB_COLUMN_THROW_DISTANCE_M, WB_COLUMN_THROW_BLIND };
  const WbAppEveningLook *lighting = &row->looks[0];
  gboolean rates = !isnan (reading->values[WB_COLUMN_THROW]), throw = wb_app_evening_row_is_throw (row);
  g_autoptr (GPtrArray) beside = NULL;
  gboolean named;

  if (!rates && !(throw && look == lighting))
    return;
  set_text (reading, "rater", row->rater != NULL ? row->rater : row->rater_in_record != NULL ? row->rater_in_record
                                                                                              : wb_app_evening_get_head (self, WB_APP_EVENING_WHO));
  set_text (reading, "throw_room", get_room (row));
  if (!rates)
    return;
  for (guint i = 0; throw && i < G_N_ELEMENTS (stated); i++)
    if (isnan (reading->values[stated[i]]))
      reading->values[stated[i]] = !isnan (lighting->values[stated[i]]) ? lighting->values[stated[i]] : lighting->in_record[stated[i]];
  if (!isnan (reading->values[WB_COLUMN_ALONE]))
    return;
  beside = dup_beside (self, row, look->at, TRUE, &named);
  reading->values[WB_COLUMN_ALONE] = beside->len == 0;
}
