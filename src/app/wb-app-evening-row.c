/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-evening-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* What is typed in a sample's row, read cell by cell and held against what the record has of that evening. */

/* Two ways of writing one value, in whichever unit. */
#define SAME_SHARE 1e-3

void
wb_app_evening_refuse (WbAppEveningRow *row,
                       guint            column,
                       char            *words)
{
  WbAppEveningCell *cell = &row->cells[column];

  if (cell->state == WB_APP_EVENING_WRONG)
    {
      g_free (words);
      return;
    }
  cell->state = WB_APP_EVENING_WRONG;
  cell->problem = g_string_chunk_insert (row->words, words);
  g_free (words);
}

static void
set_stored (WbAppEveningRow *row,
            guint            column,
            char            *text)
{
  WbAppEveningCell *cell = &row->cells[column];
  g_autofree char *owned = text;

  cell->state = WB_APP_EVENING_STORED;
  cell->stored = g_string_chunk_insert (row->words, owned);
}

static gboolean
is_same_value (double a,
               double b)
{
  if (isnan (a) || isnan (b))
    return isnan (a) && isnan (b);
  return fabs (a - b) <= SAME_SHARE * MAX (1, fabs (b));
}

static gboolean
is_in_record (const WbAppEveningLook *look,
              WbColumn                column)
{
  if (!wb_app_evening_is_pool (column))
    return !isnan (look->in_record[column]);
  return !isnan (look->in_record[WB_COLUMN_POOL_MM]) || !isnan (look->in_record[WB_COLUMN_POOL_A_MM])
         || !isnan (look->in_record[WB_COLUMN_POOL_B_MM]) || !isnan (look->in_record[WB_COLUMN_POOL_FULL]);
}

static gboolean
is_same_field (WbColumn     column,
               const double a[WB_N_COLUMNS],
               const double b[WB_N_COLUMNS])
{
  static const WbColumn pool[] = { WB_COLUMN_POOL_MM, WB_COLUMN_POOL_A_MM, WB_COLUMN_POOL_B_MM, WB_COLUMN_POOL_FULL };

  if (!wb_app_evening_is_pool (column))
    return is_same_value (a[column], b[column]);
  for (guint i = 0; i < G_N_ELEMENTS (pool); i++)
    if (!is_same_value (a[pool[i]], b[pool[i]]))
      return FALSE;
  return TRUE;
}

static char *
dup_contradiction (const char *stored)
{
  /* Translators: a value, as typed. */
  return g_strdup_printf (_("The record has %s here. Empty this cell, or amend the reading at the bench."), stored);
}

/* What is typed where the record has something: the same once more, or something else. */
static void
hold_against_record (WbAppEveningRow        *row,
                     guint                   column,
                     WbColumn                field,
                     const WbAppEveningLook *look,
                     const double           *typed,
                     gboolean                us_units)
{
  set_stored (row, column, wb_app_evening_dup_field (field, look->in_record, us_units));
  if (typed != NULL && !is_same_field (field, typed, look->in_record))
    wb_app_evening_refuse (row, column, dup_contradiction (row->cells[column].stored));
}

/* An end that is typed where the burn has one. TRUE: it was one. */
static gboolean
check_end (WbAppEveningRow *row,
           guint            column,
           double           typed)
{
  const WbWord *words = wb_column_get_spec (WB_COLUMN_EVENT)->words;
  gboolean ends = !isnan (typed) && wb_event_ends_burn (typed);

  if (!row->ended || isnan (row->end_event) || (!isnan (typed) && !ends) || (isnan (typed) && row->end_event == WB_EVENT_SNUFFED))
    return FALSE;
  set_stored (row, column, g_strdup (_(words[(int) row->end_event].label)));
  if (ends && typed != row->end_event)
    wb_app_evening_refuse (row, column, dup_contradiction (row->cells[column].stored));
  return TRUE;
}

static void
check_field (WbAppEveningRow          *row,
             const WbAppEveningCheck  *check,
             guint                     column,
             const WbAppEveningColumn *spec)
{
  WbAppEveningLook *look = &row->looks[spec->moment];
  const char *text = wb_app_evening_peek_text (check->evening, row, column);
  gboolean us_units = wb_app_bench_sample_get_us_units (row->sample);
  double typed[WB_N_COLUMNS];
  char *problem = NULL;

  for (int i = 0; i < WB_N_COLUMNS; i++)
    typed[i] = NAN;
  if (*text != '\0'
      && !wb_app_evening_read_field (spec->column, text, us_units, wb_app_bench_sample_get_vessel (row->sample)->inner_diameter_mm, typed, &problem))
    wb_app_evening_refuse (row, column, problem);
  else if (spec->column == WB_COLUMN_EVENT && isnan (look->in_record[WB_COLUMN_EVENT]) && check_end (row, column, typed[WB_COLUMN_EVENT]))
    return;
  else if (is_in_record (look, spec->column))
    hold_against_record (row, column, spec->column, look, *text != '\0' ? typed : NULL, us_units);
  else if (*text != '\0')
    {
      row->cells[column].state = WB_APP_EVENING_FINE;
      look->taken = TRUE;
      for (int i = 0; i < WB_N_COLUMNS; i++)
        if (!isnan (typed[i]))
          look->values[i] = typed[i];
    }
}

static gboolean
is_same_at_wicks (WbColumn                 column,
                  const WbAppEveningWicks *a,
                  const WbAppEveningWicks *b,
                  guint                    n_wicks)
{
  for (guint wick = 1; wick <= n_wicks; wick++)
    if (!is_same_value (wb_app_evening_wicks_get (a, wick, column), wb_app_evening_wicks_get (b, wick, column)))
      return FALSE;
  return TRUE;
}

/* A value a wick; where the record has one of the vessel as a whole, from a file, that is shown. */
static void
check_wicks (WbAppEveningRow          *row,
             const WbAppEveningCheck  *check,
             guint                     column,
             const WbAppEveningColumn *spec)
{
  WbAppEveningLook *look = &row->looks[spec->moment];
  const char *text = wb_app_evening_peek_text (check->evening, row, column);
  gboolean us_units = wb_app_bench_sample_get_us_units (row->sample);
  guint n_wicks = wb_app_bench_sample_get_n_wicks (row->sample);
  g_autofree char *stored = wb_app_evening_dup_wicks (spec->column, &look->wicks_in_record, us_units, n_wicks);
  WbAppEveningWicks typed;
  char *problem = NULL;

  wb_app_evening_wicks_clear (&typed);
  if (*text != '\0' && !wb_app_evening_read_wicks (spec->column, text, us_units, n_wicks, &typed, &problem))
    wb_app_evening_refuse (row, column, problem);
  else if (stored != NULL || !isnan (look->in_record[spec->column]))
    {
      gboolean same = stored != NULL && is_same_at_wicks (spec->column, &typed, &look->wicks_in_record, n_wicks);

      set_stored (row, column, stored != NULL ? g_steal_pointer (&stored) : wb_app_evening_dup_field (spec->column, look->in_record, us_units));
      if (*text != '\0' && !same)
        wb_app_evening_refuse (row, column, dup_contradiction (row->cells[column].stored));
    }
  else if (*text != '\0')
    {
      row->cells[column].state = WB_APP_EVENING_FINE;
      look->taken = TRUE;
      for (guint wick = 1; wick <= n_wicks; wick++)
        wb_app_evening_wicks_set (&look->wicks, wick, spec->column, wb_app_evening_wicks_get (&typed, wick, spec->column));
    }
}

const WbBurn *
wb_app_evening_row_get_burn (const WbAppEveningRow *row)
{
  return row->burn != G_MAXUINT ? wb_dataset_get_burn (wb_app_bench_sample_get_data (row->sample), row->burn) : NULL;
}

static void
check_trim (WbAppEveningRow         *row,
            const WbAppEveningCheck *check,
            guint                    column)
{
  const char *text = wb_app_evening_peek_text (check->evening, row, column);
  const WbFieldSpec *field = wb_record_type_find_field (&wb_burn_type, "trim_mm");
  gboolean us_units = wb_app_bench_sample_get_us_units (row->sample);
  double stored = wb_app_evening_row_get_burn (row) != NULL ? wb_app_evening_row_get_burn (row)->trim_mm : NAN, typed = NAN;
  char *problem = NULL;

  if (*text != '\0' && !wb_app_evening_read_length (text, us_units, field->minimum, field->maximum, &typed, &problem))
    wb_app_evening_refuse (row, column, problem);
  else if (!isnan (stored))
    {
      set_stored (row, column, wb_quantity_format_number (wb_quantity_get_shown_unit (WB_QUANTITY_LENGTH, us_units), stored, -1));
      if (*text != '\0' && !is_same_value (typed, stored))
        wb_app_evening_refuse (row, column, dup_contradiction (row->cells[column].stored));
    }
  else if (*text != '\0')
    {
      row->cells[column].state = WB_APP_EVENING_FINE;
      row->trim_mm = typed;
    }
}

static void
check_place (WbAppEveningRow         *row,
             const WbAppEveningCheck *check,
             guint                    column)
{
  const char *text = wb_app_evening_peek_text (check->evening, row, column);
  const WbFieldSpec *field = wb_record_type_find_field (&wb_burn_type, "bench_place");
  const char *stored = wb_app_evening_row_get_burn (row) != NULL ? wb_app_evening_row_get_burn (row)->bench_place : NULL;

  if (stored != NULL)
    {
      set_stored (row, column, g_strdup (stored));
      if (*text != '\0' && strcmp (text, stored) != 0)
        wb_app_evening_refuse (row, column, dup_contradiction (stored));
    }
  else if (g_utf8_strlen (text, -1) > (glong) field->maximum)
    wb_app_evening_refuse (row, column, g_strdup_printf (_("At most %d characters."), (int) field->maximum));
  else if (*text != '\0')
    {
      row->cells[column].state = WB_APP_EVENING_FINE;
      row->place = g_strdup (text);
    }
}

/* By the whole word as in files or on screen, or by a beginning that only one has; -1: by none. */
static int
find_kind (const char *text)
{
  g_autofree char *wanted = g_utf8_casefold (text, -1);
  int found = -1;

  for (int i = 0; wb_burn_kind_words[i].nick != NULL; i++)
    {
      g_autofree char *nick = g_utf8_casefold (wb_burn_kind_words[i].nick, -1);
      g_autofree char *label = g_utf8_casefold (_(wb_burn_kind_words[i].label), -1);

      if (g_str_equal (wanted, nick) || g_str_equal (wanted, label))
        return i;
      if (g_str_has_prefix (nick, wanted) || g_str_has_prefix (label, wanted))
        found = found == -1 ? i : -2;
    }
  return MAX (found, -1);
}

/* "standard, short, throw" */
static char *
dup_kinds (void)
{
  g_autoptr (GString) kinds = g_string_new (NULL);

  for (int i = 0; wb_burn_kind_words[i].nick != NULL; i++)
    g_string_append_printf (kinds, "%s%s", i > 0 ? ", " : "", _(wb_burn_kind_words[i].label));
  return g_strdup_printf (_("One of: %s."), kinds->str);
}

static void
check_kind (WbAppEveningRow         *row,
            const WbAppEveningCheck *check,
            guint                    column)
{
  const char *text = wb_app_evening_peek_text (check->evening, row, column);
  const WbBurn *burn = wb_app_evening_row_get_burn (row);
  int typed = *text != '\0' ? find_kind (text) : -1;

  if (*text != '\0' && typed < 0)
    wb_app_evening_refuse (row, column, dup_kinds ());
  else if (burn != NULL)
    {
      set_stored (row, column, g_strdup (_(wb_burn_kind_words[burn->kind].label)));
      if (typed >= 0 && typed != burn->kind)
        wb_app_evening_refuse (row, column, dup_contradiction (row->cells[column].stored));
    }
  else if (typed >= 0)
    {
      row->cells[column].state = WB_APP_EVENING_FINE;
      row->kind = typed;
    }
}

static void
check_rater (WbAppEveningRow         *row,
             const WbAppEveningCheck *check,
             guint                    column)
{
  const char *text = wb_app_evening_peek_text (check->evening, row, column);

  if (row->rater_in_record != NULL)
    {
      set_stored (row, column, g_strdup (row->rater_in_record));
      if (*text != '\0' && g_utf8_collate (text, row->rater_in_record) != 0)
        wb_app_evening_refuse (row, column, dup_contradiction (row->rater_in_record));
    }
  else if (g_utf8_strlen (text, -1) > WB_NAME_MAXIMUM)
    wb_app_evening_refuse (row, column, g_strdup (_("That is too long for a name.")));
  else if (*text != '\0')
    {
      row->cells[column].state = WB_APP_EVENING_FINE;
      row->rater = g_strdup (text);
    }
}

/* An event is of the vessel, or, with strokes between them, of each of several wicks. */
static gboolean
is_event_of_wicks (const WbAppEveningRow    *row,
                   const WbAppEveningColumn *spec,
                   const char               *text)
{
  guint n_wicks = wb_app_bench_sample_get_n_wicks (row->sample);

  if (spec->column != WB_COLUMN_EVENT || n_wicks < 2)
    return FALSE;
  if (strpbrk (text, "/;") != NULL)
    return TRUE;
  for (guint wick = 1; wick <= n_wicks; wick++)
    if (!isnan (wb_app_evening_wicks_get (&row->looks[spec->moment].wicks_in_record, wick, WB_COLUMN_EVENT)))
      return TRUE;
  return FALSE;
}

/* What stands above the sheet for the room, where the sample's own cell says nothing and the burn is new. */
static void
take_room (WbAppEveningRow         *row,
           const WbAppEveningCheck *check)
{
  WbAppEveningLook *look = &row->looks[0];

  if (isnan (check->frame->room_c) || row->burn != G_MAXUINT || !isnan (look->values[WB_COLUMN_ROOM_C]))
    return;
  look->values[WB_COLUMN_ROOM_C] = check->frame->room_c;
  look->taken = TRUE;
}

static void
clear (WbAppEveningRow *row,
       WbAppEvening    *evening)
{
  memset (row->cells, 0, sizeof *row->cells * wb_app_evening_get_n_columns (evening));
  for (guint i = 0; i < wb_app_evening_get_n_moments (evening); i++)
    {
      WbAppEveningLook *look = &row->looks[i];

      *look = (WbAppEveningLook) { .at = WB_INSTANT_NONE, .minute = NAN, .time_column = wb_app_evening_get_moment (evening, i)->first };
      for (int k = 0; k < WB_N_COLUMNS; k++)
        look->values[k] = look->in_record[k] = NAN;
      wb_app_evening_wicks_clear (&look->wicks);
      wb_app_evening_wicks_clear (&look->wicks_in_record);
    }
  row->typed = row->ended = row->unlit = FALSE;
  row->burn = G_MAXUINT;
  row->end_event = NAN;
  row->lit_at = WB_INSTANT_NONE;
  row->trim_mm = NAN;
  row->kind = WB_BURN_STANDARD;
  g_clear_pointer (&row->place, g_free);
  g_clear_pointer (&row->rater, g_free);
  row->rater_in_record = NULL;
  g_clear_pointer (&row->deviation, g_free);
}

/* A dash for the lighting: not lit that evening, of which nothing else can be told. FALSE: it may have been. */
static gboolean
check_unlit (WbAppEveningRow         *row,
             const WbAppEveningCheck *check)
{
  const char *lit = wb_app_evening_peek_text (check->evening, row, 0);

  if (row->burn != G_MAXUINT || *lit == '\0' || !wb_app_evening_is_left_out (lit))
    return FALSE;
  row->unlit = TRUE;
  row->cells[0].state = WB_APP_EVENING_FINE;
  for (guint column = 1; column < wb_app_evening_get_n_columns (check->evening); column++)
    if (*wb_app_evening_peek_text (check->evening, row, column) != '\0')
      wb_app_evening_refuse (row, column, g_strdup (_("It was not lit, says the dash at its lighting: empty this cell, or that one.")));
  return TRUE;
}

void
wb_app_evening_row_check (WbAppEveningRow         *row,
                          const WbAppEveningCheck *check)
{
  guint n = wb_app_evening_get_n_columns (check->evening);

  clear (row, check->evening);
  wb_app_evening_row_find (row, check);
  if (check_unlit (row, check))
    return;
  for (guint column = 0; column < n; column++)
    {
      const WbAppEveningColumn *spec = wb_app_evening_get_column (check->evening, column);
      const char *text = wb_app_evening_peek_text (check->evening, row, column);

      row->typed = row->typed || *text != '\0';
      if (spec->kind == WB_APP_EVENING_FIELD && (wb_app_evening_is_by_wick (row, spec->column) || is_event_of_wicks (row, spec, text)))
        check_wicks (row, check, column, spec);
      else if (spec->kind == WB_APP_EVENING_FIELD)
        check_field (row, check, column, spec);
      else if (spec->kind == WB_APP_EVENING_TRIM)
        check_trim (row, check, column);
      else if (spec->kind == WB_APP_EVENING_PLACE)
        check_place (row, check, column);
      else if (spec->kind == WB_APP_EVENING_BURN)
        check_kind (row, check, column);
      else if (spec->kind == WB_APP_EVENING_RATER)
        check_rater (row, check, column);
    }
  wb_app_evening_row_check_throw (row, check);
  if (row->typed)
    take_room (row, check);
  wb_app_evening_row_times (row, check);
  wb_app_evening_row_doubt (row, check->evening);
}
