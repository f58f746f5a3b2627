/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-evening-private.h"

#include "wb-app-paper-order-private.h"
#include "wb-clock.h"
#include "wb-text.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Owns the texts as typed, by sample and field, so that neither another number of rounds nor a new reading of the bench loses one. */

/* Before this hour the last evening was yesterday's. */
#define NOON 12
#define OPENED_HOURS 24

G_DEFINE_FINAL_TYPE (WbAppEvening, wb_app_evening, G_TYPE_OBJECT)

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

static const char *const head_keys[] = { "day", "opened", "who", "room" };

static void
row_free (gpointer data)
{
  WbAppEveningRow *row = data;

  g_object_unref (row->sample);
  g_free (row->group);
  g_free (row->cells);
  g_free (row->looks);
  g_free (row->place);
  g_free (row->rater);
  g_free (row->deviation);
  g_free (row);
}

/* ---- Rows ---- */

/* Ended samples are left out, but for those whose last burn may be that of the evening. */
static gboolean
is_on_the_sheet (WbAppBenchSample *sample)
{
  return wb_app_bench_sample_get_state (sample) != WB_APP_BENCH_ENDED || wb_app_bench_sample_get_out_min (sample) < OPENED_HOURS * 60.0;
}

static void
list_rows (WbAppEvening *self)
{
  g_autoptr (GPtrArray) samples = wb_app_paper_order_dup (self->bench, self->experiment);

  for (guint i = 0; i < samples->len; i++)
    {
      WbAppBenchSample *sample = g_ptr_array_index (samples, i);
      g_autofree char *uuid = wb_uuid_format (&wb_app_bench_sample_get_record (sample)->uuid);
      WbAppEveningRow *row;

      if (!is_on_the_sheet (sample))
        continue;
      row = g_new0 (WbAppEveningRow, 1);
      row->sample = g_object_ref (sample);
      row->group = g_strdup_printf ("sample %s", uuid);
      row->words = self->words;
      g_ptr_array_add (self->rows, row);
    }
  if (self->rows->len > 0)
    self->rounds = wb_protocol_count_rounds (wb_app_bench_sample_get_protocol (((WbAppEveningRow *) g_ptr_array_index (self->rows, 0))->sample));
}

/* ---- Texts ---- */

/* Lent until it is typed anew: a key file hands out copies only. */
static const char *
lend (WbAppEvening *self,
      const char   *group,
      const char   *key)
{
  g_autofree char *name = g_strdup_printf ("%s/%s", group, key);
  const char *lent = g_hash_table_lookup (self->borrowed, name);
  char *text;

  if (lent != NULL)
    return lent;
  text = g_key_file_get_string (self->texts, group, key, NULL);
  if (text == NULL)
    text = g_strdup ("");
  g_hash_table_insert (self->borrowed, g_steal_pointer (&name), text);
  return text;
}

gboolean
wb_app_evening_put_text (WbAppEvening *self,
                         const char   *group,
                         const char   *key,
                         const char   *text)
{
  g_autofree char *clean = wb_text_dup_clean (text != NULL ? text : "", -1);
  g_autofree char *name = g_strdup_printf ("%s/%s", group, key);

  if (g_strcmp0 (lend (self, group, key), clean != NULL ? clean : "") == 0)
    return FALSE;
  g_hash_table_remove (self->borrowed, name);
  if (clean != NULL)
    g_key_file_set_string (self->texts, group, key, clean);
  else
    g_key_file_remove_key (self->texts, group, key, NULL);
  self->unkept = TRUE;
  return TRUE;
}

const char *
wb_app_evening_peek_text (WbAppEvening          *self,
                          const WbAppEveningRow *row,
                          guint                  column)
{
  g_autofree char *key = wb_app_evening_dup_key (self, column);

  return lend (self, row->group, key);
}

/* ---- Looking it through ---- */

gboolean
wb_app_evening_read_day (const char *text,
                         WbDay      *day)
{
  return wb_day_read (text, wb_instant_get_day (wb_clock_now (wb_clock_get ())), day, NULL);
}

static void
read_opened (WbAppEvening *self)
{
  const char *day_text = wb_app_evening_get_head (self, WB_APP_EVENING_DAY);
  const char *time_text = wb_app_evening_get_head (self, WB_APP_EVENING_OPENED);
  int hour, minute;
  WbDay day;

  if (!wb_app_evening_read_day (day_text, &day))
    self->problems[WB_APP_EVENING_DAY] = _("A day such as 28 Nov, 28 Nov 2026 or yesterday is wanted.");
  if (!wb_app_evening_read_clock (time_text, &hour, &minute))
    self->problems[WB_APP_EVENING_OPENED] = _("When did the evening begin? A time of day such as 19:00, not after the first light.");
  if (self->problems[WB_APP_EVENING_DAY] != NULL || self->problems[WB_APP_EVENING_OPENED] != NULL)
    return;
  self->frame.opened_at = wb_clock_local (wb_clock_get (), day, hour, minute, 0);
  if (self->frame.opened_at.known && self->frame.opened_at.utc_us <= wb_clock_now (wb_clock_get ()).utc_us)
    return;
  self->problems[WB_APP_EVENING_DAY] = _("That evening is yet to come.");
  self->frame.opened_at = WB_INSTANT_NONE;
}

static void
read_heads (WbAppEvening *self)
{
  const char *room = wb_app_evening_get_head (self, WB_APP_EVENING_ROOM);
  gboolean us_units = self->rows->len > 0 && wb_app_bench_sample_get_us_units (wb_app_evening_get_sample (self, 0));
  double values[WB_N_COLUMNS];
  char *problem = NULL;

  self->frame = (WbAppEveningFrame) { WB_INSTANT_NONE, NAN };
  for (guint i = 0; i < WB_N_APP_EVENING_HEADS; i++)
    self->problems[i] = NULL;
  read_opened (self);
  if (g_utf8_strlen (wb_app_evening_get_head (self, WB_APP_EVENING_WHO), -1) > WB_NAME_MAXIMUM)
    self->problems[WB_APP_EVENING_WHO] = _("That is too long for a name.");
  if (*room == '\0')
    return;
  if (wb_app_evening_read_field (WB_COLUMN_ROOM_C, room, us_units, NAN, values, &problem))
    self->frame.room_c = values[WB_COLUMN_ROOM_C];
  else
    self->problems[WB_APP_EVENING_ROOM] = g_string_chunk_insert (self->words, problem);
  g_free (problem);
}

static void
check_times_of_all (WbAppEvening *self)
{
  for (guint i = 0; i < self->moments->len; i++)
    {
      guint column = wb_app_evening_get_moment (self, i)->first;
      const char *text = wb_app_evening_get_text (self, WB_APP_EVENING_ALL, column);
      WbAppEveningCell *cell = &g_array_index (self->all, WbAppEveningCell, column);
      double minutes;
      int hour, minute;

      *cell = (WbAppEveningCell) { *text == '\0' ? WB_APP_EVENING_EMPTY : WB_APP_EVENING_FINE, NULL, NULL, { 0 } };
      if (*text == '\0' || wb_app_evening_read_clock (text, &hour, &minute) || (i > 0 && wb_app_evening_read_minutes (text, &minutes)))
        continue;
      cell->state = WB_APP_EVENING_WRONG;
      cell->problem = wb_app_evening_get_time_rule (i);
    }
}

/* Is there a throw burn, or anything typed of one? */
static gboolean
has_throws (WbAppEvening *self)
{
  for (guint i = 0; i < self->rows->len; i++)
    {
      const WbAppEveningRow *row = wb_app_evening_get_row (self, i);

      if (wb_app_evening_row_is_throw (row))
        return TRUE;
      for (guint column = 0; row->typed && column < self->columns->len; column++)
        if (wb_app_evening_get_column (self, column)->throw && *wb_app_evening_peek_text (self, row, column) != '\0')
          return TRUE;
    }
  return FALSE;
}

void
wb_app_evening_check (WbAppEvening *self)
{
  WbAppEveningCheck check = { self, &self->frame, wb_clock_now (wb_clock_get ()) };

  g_string_chunk_clear (self->words);
  read_heads (self);
  check_times_of_all (self);
  for (guint i = 0; i < self->rows->len; i++)
    wb_app_evening_row_check (g_ptr_array_index (self->rows, i), &check);
  for (guint i = 0; i < self->rows->len; i++)
    wb_app_evening_row_crowd (g_ptr_array_index (self->rows, i), self);
  self->throws = has_throws (self);
}

void
wb_app_evening_changed (WbAppEvening *self)
{
  wb_app_evening_check (self);
  g_signal_emit (self, signals[CHANGED], 0);
}

/* The newest entry that a row rests on. */
static gint64
get_last_entry (WbAppEvening *self)
{
  return self->rows->len > 0 ? wb_app_bench_sample_get_data (wb_app_evening_get_sample (self, 0))->last_entry : 0;
}

/* A burn or reading of somebody else's, or of an undo. */
static void
on_tick_cb (WbAppEvening *self)
{
  if (get_last_entry (self) == self->seen)
    return;
  self->seen = get_last_entry (self);
  wb_app_evening_changed (self);
}

/* ---- GObject ---- */

static void
wb_app_evening_dispose (GObject *object)
{
  WbAppEvening *self = WB_APP_EVENING (object);

  if (self->bench != NULL)
    g_signal_handlers_disconnect_by_data (self->bench, self);
  g_clear_object (&self->bench);
  G_OBJECT_CLASS (wb_app_evening_parent_class)->dispose (object);
}

static void
wb_app_evening_finalize (GObject *object)
{
  WbAppEvening *self = WB_APP_EVENING (object);

  g_key_file_unref (self->texts);
  g_ptr_array_unref (self->rows);
  g_array_unref (self->moments);
  g_array_unref (self->columns);
  g_array_unref (self->all);
  g_hash_table_unref (self->borrowed);
  g_free (self->kept_as);
  g_string_chunk_free (self->words);
  G_OBJECT_CLASS (wb_app_evening_parent_class)->finalize (object);
}

static void
wb_app_evening_class_init (WbAppEveningClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_app_evening_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_app_evening_finalize;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_APP_EVENING, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
wb_app_evening_init (WbAppEvening *self)
{
  self->texts = g_key_file_new ();
  self->rows = g_ptr_array_new_with_free_func (row_free);
  self->moments = g_array_new (FALSE, FALSE, sizeof (WbAppEveningMoment));
  self->columns = g_array_new (FALSE, FALSE, sizeof (WbAppEveningColumn));
  self->all = g_array_new (FALSE, FALSE, sizeof (WbAppEveningCell));
  self->words = g_string_chunk_new (1024);
  self->borrowed = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
}

void
wb_app_evening_set_last (WbAppEvening *self)
{
  WbInstant now = wb_clock_now (wb_clock_get ());
  WbDay today = wb_instant_get_day (now);
  WbInstant noon = wb_clock_local (wb_clock_get (), today, NOON, 0, 0);
  g_autofree char *day = wb_day_format_local (now.utc_us < noon.utc_us ? today - 1 : today);

  wb_app_evening_put_text (self, WB_APP_EVENING_HEAD_GROUP, head_keys[WB_APP_EVENING_DAY], day);
  wb_app_evening_put_text (self, WB_APP_EVENING_HEAD_GROUP, head_keys[WB_APP_EVENING_WHO], wb_app_notebook_get_who (wb_app_bench_get_notebook (self->bench)));
  self->unkept = FALSE;
}

WbAppEvening *
wb_app_evening_new (WbAppBench *bench,
                    gint64      experiment)
{
  WbAppEvening *self;

  g_return_val_if_fail (WB_IS_APP_BENCH (bench), NULL);

  self = g_object_new (WB_TYPE_APP_EVENING, NULL);
  self->bench = g_object_ref (bench);
  self->experiment = experiment;
  list_rows (self);
  wb_app_evening_lay_out (self);
  wb_app_evening_set_last (self);
  wb_app_evening_check (self);
  self->seen = get_last_entry (self);
  g_signal_connect_swapped (bench, "tick", G_CALLBACK (on_tick_cb), self);
  return self;
}

/* ---- Access ---- */

gint64
wb_app_evening_get_experiment (WbAppEvening *self)
{
  g_return_val_if_fail (WB_IS_APP_EVENING (self), 0);
  return self->experiment;
}

guint
wb_app_evening_get_n_rows (WbAppEvening *self)
{
  g_return_val_if_fail (WB_IS_APP_EVENING (self), 0);
  return self->rows->len;
}

const WbAppEveningRow *
wb_app_evening_get_row (WbAppEvening *self,
                        guint         row)
{
  return g_ptr_array_index (self->rows, row);
}

WbAppBenchSample *
wb_app_evening_get_sample (WbAppEvening *self,
                           guint         row)
{
  g_return_val_if_fail (WB_IS_APP_EVENING (self) && row < self->rows->len, NULL);
  return wb_app_evening_get_row (self, row)->sample;
}

const char *
wb_app_evening_get_head (WbAppEvening    *self,
                         WbAppEveningHead head)
{
  g_return_val_if_fail (WB_IS_APP_EVENING (self) && head < WB_N_APP_EVENING_HEADS, NULL);
  return lend (self, WB_APP_EVENING_HEAD_GROUP, head_keys[head]);
}

void
wb_app_evening_set_head (WbAppEvening    *self,
                         WbAppEveningHead head,
                         const char      *text)
{
  g_return_if_fail (WB_IS_APP_EVENING (self) && head < WB_N_APP_EVENING_HEADS);
  if (wb_app_evening_put_text (self, WB_APP_EVENING_HEAD_GROUP, head_keys[head], text))
    wb_app_evening_changed (self);
}

void
wb_app_evening_spell_day (WbAppEvening *self)
{
  g_autofree char *spelled = NULL;
  WbDay day;

  g_return_if_fail (WB_IS_APP_EVENING (self));
  if (!wb_app_evening_read_day (wb_app_evening_get_head (self, WB_APP_EVENING_DAY), &day))
    return;
  spelled = wb_day_format_local (day);
  wb_app_evening_set_head (self, WB_APP_EVENING_DAY, spelled);
}

const char *
wb_app_evening_get_head_problem (WbAppEvening    *self,
                                 WbAppEveningHead head)
{
  g_return_val_if_fail (WB_IS_APP_EVENING (self) && head < WB_N_APP_EVENING_HEADS, NULL);
  return self->problems[head];
}

static const char *
get_group (WbAppEvening *self,
           guint         row)
{
  return row == WB_APP_EVENING_ALL ? WB_APP_EVENING_TIME_GROUP : wb_app_evening_get_row (self, row)->group;
}

const char *
wb_app_evening_get_text (WbAppEvening *self,
                         guint         row,
                         guint         column)
{
  g_autofree char *key = NULL;

  g_return_val_if_fail (WB_IS_APP_EVENING (self) && column < self->columns->len, NULL);
  g_return_val_if_fail (row == WB_APP_EVENING_ALL || row < self->rows->len, NULL);
  key = wb_app_evening_dup_key (self, column);
  return lend (self, get_group (self, row), key);
}

void
wb_app_evening_set_text (WbAppEvening *self,
                         guint         row,
                         guint         column,
                         const char   *text)
{
  g_autofree char *key = NULL;

  g_return_if_fail (WB_IS_APP_EVENING (self) && column < self->columns->len);
  g_return_if_fail (row == WB_APP_EVENING_ALL || row < self->rows->len);
  key = wb_app_evening_dup_key (self, column);
  if (wb_app_evening_put_text (self, get_group (self, row), key, text))
    wb_app_evening_changed (self);
}

const WbAppEveningCell *
wb_app_evening_get_cell (WbAppEvening *self,
                         guint         row,
                         guint         column)
{
  g_return_val_if_fail (WB_IS_APP_EVENING (self) && column < self->columns->len, NULL);
  g_return_val_if_fail (row == WB_APP_EVENING_ALL || row < self->rows->len, NULL);
  return row == WB_APP_EVENING_ALL ? &g_array_index (self->all, WbAppEveningCell, column) : &wb_app_evening_get_row (self, row)->cells[column];
}

double
wb_app_evening_get_minute (WbAppEvening *self,
                           guint         row,
                           guint         moment)
{
  g_return_val_if_fail (WB_IS_APP_EVENING (self) && row < self->rows->len && moment < self->moments->len, NAN);
  return wb_app_evening_get_row (self, row)->looks[moment].minute;
}

void
wb_app_evening_count (WbAppEvening       *self,
                      WbAppEveningCounts *counts)
{
  g_autoptr (GPtrArray) records = NULL;

  g_return_if_fail (WB_IS_APP_EVENING (self) && counts != NULL);

  *counts = (WbAppEveningCounts) { 0 };
  for (guint i = 0; i < WB_N_APP_EVENING_HEADS; i++)
    counts->wrong += self->problems[i] != NULL;
  for (guint column = 0; column < self->columns->len; column++)
    {
      counts->wrong += g_array_index (self->all, WbAppEveningCell, column).state == WB_APP_EVENING_WRONG;
      for (guint row = 0; row < self->rows->len; row++)
        {
          WbAppEveningState state = wb_app_evening_get_row (self, row)->cells[column].state;

          counts->wrong += state == WB_APP_EVENING_WRONG;
          counts->doubted += state == WB_APP_EVENING_DOUBTED;
        }
    }
  records = wb_app_evening_dup_records (self, &counts->burns, &counts->readings);
}

const WbAppEveningFrame *
wb_app_evening_get_frame (WbAppEvening *self)
{
  return &self->frame;
}

WbAppBench *
wb_app_evening_get_bench (WbAppEvening *self)
{
  return self->bench;
}
