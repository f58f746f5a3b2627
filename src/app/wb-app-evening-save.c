/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-evening-private.h"

#include "wb-app-moment-private.h"
#include "wb-app-notebook-private.h"
#include "wb-app-save-task-private.h"
#include "wb-clock.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* What a sheet writes: its session, its burns, their readings, as one entry. */

#define SESSION_ID (-1)
#define FIRST_BURN_ID (-2)
#define MINUTE_US ((gint64) 60 * G_USEC_PER_SEC)

typedef struct
{
  WbAppEvening *evening;
  GPtrArray    *records;  /* owned by the caller */
  gint64        session;  /* of the new burns */
  gint64        last_us;  /* when the last flame was out */
  WbInstant     now;
  guint         burns, readings;
} Writing;

/* One that the evening's burns in the record have; 0: none. */
static gint64
find_session (WbAppEvening *evening)
{
  for (guint i = 0; i < wb_app_evening_get_n_rows (evening); i++)
    {
      const WbAppEveningRow *row = wb_app_evening_get_row (evening, i);

      if (row->burn != G_MAXUINT && wb_dataset_get_burn (wb_app_bench_sample_get_data (row->sample), row->burn)->session != 0)
        return wb_dataset_get_burn (wb_app_bench_sample_get_data (row->sample), row->burn)->session;
    }
  return 0;
}

/* Id of the row's burn, a new one or one of the record. */
static gint64
write_burn (Writing               *writing,
            const WbAppEveningRow *row,
            guint                  index)
{
  const WbDataset *data = wb_app_bench_sample_get_data (row->sample);
  gboolean is_new = row->burn == G_MAXUINT;
  WbBurn *burn;

  if (!is_new && isnan (row->trim_mm) && row->place == NULL)
    return wb_dataset_get_burn (data, row->burn)->record.id;
  burn = is_new ? wb_record_new (&wb_burn_type) : wb_record_copy (wb_dataset_get_burn (data, row->burn));
  if (is_new)
    {
      burn->record.id = FIRST_BURN_ID - (gint64) index;
      burn->uuid = wb_uuid_new ();
      burn->sample = wb_app_bench_sample_get_id (row->sample);
      burn->number = wb_app_bench_sample_get_burn_number (row->sample);
      burn->kind = row->kind;
      burn->session = writing->session;
      burn->lit_at = row->lit_at;
      /* As of one that is lit all the same at the bench. */
      wb_record_set_text (burn, wb_record_type_find_field (&wb_burn_type, "note"), row->deviation);
      writing->burns++;
    }
  if (!isnan (row->trim_mm))
    burn->trim_mm = row->trim_mm;
  if (row->place != NULL)
    wb_record_set_text (burn, wb_record_type_find_field (&wb_burn_type, "bench_place"), row->place);
  g_ptr_array_add (writing->records, burn);
  return burn->record.id;
}

/* What is typed here already, or stands in the record, at the moment of a reading. */
typedef struct
{
  const Writing         *writing;
  const WbAppEveningRow *row;
} Taken;

static gboolean
is_taken (const WbReading *reading,
          gpointer         user)
{
  const Taken *taken = user;
  const WbReadings *readings = wb_app_bench_sample_get_data (taken->row->sample)->readings;
  guint first = 0, n = 0;

  for (guint i = 0; i < taken->writing->records->len; i++)
    {
      const WbReading *other = g_ptr_array_index (taken->writing->records, i);

      if (other->record.type == &wb_reading_type && other->burn == reading->burn
          && wb_app_moment_is_same (reading, other->elapsed_min, other->rater, other->values[WB_COLUMN_EVENT], other->values[WB_COLUMN_WICK_NUMBER]))
        return TRUE;
    }
  if (taken->row->burn != G_MAXUINT)
    wb_readings_get_burn_rows (readings, taken->row->burn, &first, &n);
  return wb_app_moment_is_among (reading, readings, first, n);
}

/* values NULL: an event alone. */
static void
write_reading (Writing                *writing,
               const WbAppEveningRow  *row,
               const WbAppEveningLook *look,
               gint64                  burn,
               const double           *values,
               double                  event)
{
  Taken taken = { writing, row };
  WbReading *reading = wb_record_new (&wb_reading_type);

  reading->burn = burn;
  reading->uuid = wb_uuid_new ();
  reading->elapsed_min = look->minute;
  reading->source = WB_SOURCE_TYPED;
  reading->late = look->at.utc_us < writing->now.utc_us - (gint64) (WB_APP_MOMENT_LATE_MIN * (double) MINUTE_US);
  if (values != NULL)
    memcpy (reading->values, values, sizeof reading->values);
  reading->values[WB_COLUMN_EVENT] = event;
  wb_app_evening_complete_throw (writing->evening, row, look, reading);
  wb_app_moment_move_on (reading, is_taken, &taken);
  g_ptr_array_add (writing->records, reading);
  writing->readings++;
}

static gboolean
any_taken (const double values[WB_N_COLUMNS])
{
  for (guint column = 0; column < WB_N_COLUMNS; column++)
    if (!isnan (values[column]))
      return TRUE;
  return FALSE;
}

/* All that is new of a look: of the vessel, with an event that may be the end, and of each of several wicks. */
static void
write_look (Writing                *writing,
            const WbAppEveningRow  *row,
            const WbAppEveningLook *look,
            gint64                  burn,
            double                  event)
{
  double values[WB_N_COLUMNS];

  if (!isnan (event) || any_taken (look->values))
    write_reading (writing, row, look, burn, look->values, event);
  for (guint wick = 1; wick <= wb_app_bench_sample_get_n_wicks (row->sample); wick++)
    if (wb_app_evening_wicks_fill (&look->wicks, wick, values))
      write_reading (writing, row, look, burn, values, values[WB_COLUMN_EVENT]);
}

/* Each of several wicks is out by then, at whichever look it went. */
static gboolean
are_all_out (const WbAppEveningRow *row,
             guint                  moment)
{
  guint n_wicks = wb_app_bench_sample_get_n_wicks (row->sample), n_out = 0;

  for (guint wick = 1; wick <= n_wicks; wick++)
    {
      gboolean out = FALSE;

      for (guint i = 0; i <= moment; i++)
        {
          const WbAppEveningLook *look = &row->looks[i];
          double event = wb_app_evening_wicks_get (&look->wicks, wick, WB_COLUMN_EVENT);

          if (isnan (event))
            event = wb_app_evening_wicks_get (&look->wicks_in_record, wick, WB_COLUMN_EVENT);
          if (!isnan (event) && (wb_event_ends_burn (event) || event == WB_EVENT_RELIT))
            out = event != WB_EVENT_RELIT;
        }
      n_out += out;
    }
  return n_wicks > 1 && n_out == n_wicks;
}

/* The end of the burn stands by itself where something else happened in that minute too: a reading holds one event. */
static void
write_end (Writing                *writing,
           const WbAppEveningRow  *row,
           guint                   moment,
           gint64                  burn)
{
  const WbAppEveningLook *look = &row->looks[moment];
  double event = look->values[WB_COLUMN_EVENT];
  /* Where each of several wicks has its own end, the last of them is the burn's. */
  gboolean told = (!isnan (event) && wb_event_ends_burn (event)) || are_all_out (row, moment);

  if (!row->ended && look->at.known && !told)
    {
      /* With nothing else in it, or beside an event of its own. */
      if (isnan (event))
        {
          write_look (writing, row, look, burn, WB_EVENT_SNUFFED);
          return;
        }
      write_reading (writing, row, look, burn, NULL, WB_EVENT_SNUFFED);
    }
  if (look->taken)
    write_look (writing, row, look, burn, event);
}

static gboolean
ends_now (WbAppEvening           *evening,
          const WbAppEveningRow  *row,
          guint                   moment)
{
  return wb_app_evening_get_moment (evening, moment)->ask == WB_APP_ASK_AFTER_SNUFFING && row->looks[moment].at.known && !row->ended
         && !row->looks[moment].stored;
}

static gboolean
has_news (WbAppEvening          *evening,
          const WbAppEveningRow *row)
{
  if (row->typed && row->burn == G_MAXUINT)
    return TRUE;
  if (!isnan (row->trim_mm) || row->place != NULL)
    return TRUE;
  for (guint moment = 0; moment < wb_app_evening_get_n_moments (evening); moment++)
    if (row->looks[moment].taken || ends_now (evening, row, moment))
      return TRUE;
  return FALSE;
}

static void
write_row (Writing               *writing,
           const WbAppEveningRow *row,
           guint                  index)
{
  gint64 burn = write_burn (writing, row, index);

  for (guint moment = 0; moment < wb_app_evening_get_n_moments (writing->evening); moment++)
    {
      const WbAppEveningLook *look = &row->looks[moment];

      if (ends_now (writing->evening, row, moment))
        {
          write_end (writing, row, moment, burn);
          writing->last_us = MAX (writing->last_us, look->at.utc_us);
        }
      else if (look->taken)
        write_look (writing, row, look, burn, look->values[WB_COLUMN_EVENT]);
    }
}

static WbSession *
session_new (WbAppEvening *evening)
{
  WbSession *session = wb_record_new (&wb_session_type);

  session->record.id = SESSION_ID;
  session->uuid = wb_uuid_new ();
  session->seed = (gint64) wb_app_bench_get_next_seed (wb_app_evening_get_bench (evening));
  session->opened_at = wb_app_evening_get_frame (evening)->opened_at;
  wb_record_set_text (session, wb_record_type_find_field (&wb_session_type, "who"), wb_app_evening_get_head (evening, WB_APP_EVENING_WHO));
  /* Nobody answered the check at this screen: what was asked that evening stood on paper. */
  session->checked = FALSE;
  wb_record_set_text (session, wb_record_type_find_field (&wb_session_type, "note"), _("Typed in from paper."));
  return session;
}

GPtrArray *
wb_app_evening_dup_records (WbAppEvening *self,
                            guint        *burns,
                            guint        *readings)
{
  GPtrArray *records = g_ptr_array_new_with_free_func (wb_record_free);
  Writing writing = { self, records, find_session (self), G_MININT64, wb_clock_now (wb_clock_get ()), 0, 0 };
  WbSession *session = NULL;

  if (writing.session == 0)
    {
      session = session_new (self);
      writing.session = SESSION_ID;
      g_ptr_array_add (records, session);
    }
  for (guint i = 0; i < wb_app_evening_get_n_rows (self); i++)
    if (has_news (self, wb_app_evening_get_row (self, i)))
      write_row (&writing, wb_app_evening_get_row (self, i), i);
  /* It is over: a session that stayed open would be that of tonight. */
  if (session != NULL && writing.burns > 0)
    session->closed_at = wb_clock_at (wb_clock_get (), MAX (writing.last_us, session->opened_at.utc_us));
  else if (session != NULL)
    g_ptr_array_remove_index (records, 0);
  *burns = writing.burns;
  *readings = writing.readings;
  return records;
}

static void
on_saved_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      user)
{
  g_autoptr (GTask) task = user;

  if (!wb_app_save_task_check (task, source, result))
    return;
  wb_app_evening_begin_anew (g_task_get_source_object (task));
  g_task_return_boolean (task, TRUE);
}

static const char *
get_refusal (const WbAppEveningCounts *counts,
             guint                     n_records)
{
  if (counts->wrong > 0)
    return _("Nothing was saved: mend what is marked first.");
  return n_records == 0 ? _("Nothing here is new.") : NULL;
}

void
wb_app_evening_save_async (WbAppEvening       *self,
                           GCancellable       *cancellable,
                           GAsyncReadyCallback callback,
                           gpointer            user)
{
  g_autoptr (GPtrArray) records = NULL;
  g_autofree char *day = NULL, *why = NULL;
  WbAppEveningCounts counts;
  const char *refusal;
  guint burns, readings;
  GTask *task;

  g_return_if_fail (WB_IS_APP_EVENING (self));

  task = wb_app_save_task_new (self, wb_app_evening_save_async, cancellable, callback, user);
  wb_app_evening_check (self);
  wb_app_evening_count (self, &counts);
  records = counts.wrong == 0 ? wb_app_evening_dup_records (self, &burns, &readings) : NULL;
  refusal = get_refusal (&counts, records != NULL ? records->len : 0);
  if (refusal != NULL)
    {
      wb_app_save_task_refuse (task, g_strdup (refusal));
      return;
    }
  day = wb_instant_format_date (wb_app_evening_get_frame (self)->opened_at);
  /* Translators: a date; the entry's words in the record and in the undo menu. */
  why = g_strdup_printf (_("Type in the evening of %s"), day);
  wb_app_notebook_save_topic_async (wb_app_bench_get_notebook (wb_app_evening_get_bench (self)), "evening", why, records, cancellable,
                                    on_saved_cb, task);
}

gboolean
wb_app_evening_save_finish (WbAppEvening *self,
                            GAsyncResult *result,
                            GError      **error)
{
  g_return_val_if_fail (g_task_is_valid (result, self), FALSE);
  return g_task_propagate_boolean (G_TASK (result), error);
}
