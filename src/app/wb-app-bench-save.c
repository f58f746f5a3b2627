/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-bench-clock-private.h"

#include "wb-app-bench-throw-private.h"
#include "wb-app-moment-private.h"
#include "wb-app-notebook-private.h"
#include "wb-app-save-task-private.h"
#include "wb-clock.h"
#include "wb-cure.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* What hands do at the bench, each as one entry: light, read, snuff, weigh, set aside, open and close the session. */

#define BURN_ID (-1)

/* Takes records, text and task. */
static void
save (WbAppBench *self,
      GTask      *task,
      const char *topic,
      char       *why,
      GPtrArray  *records)
{
  g_autofree char *owned = why;
  g_autoptr (GPtrArray) kept = records;

  wb_app_notebook_save_topic_async (wb_app_bench_get_notebook (self), topic, why, records, g_task_get_cancellable (task),
                                    wb_app_save_task_end_cb, task);
}

static GPtrArray *
one_record (gpointer record)
{
  GPtrArray *records = g_ptr_array_new_with_free_func (wb_record_free);

  g_ptr_array_add (records, record);
  return records;
}

gboolean
wb_app_bench_finish (WbAppBench   *self,
                     GAsyncResult *result,
                     GError      **error)
{
  g_return_val_if_fail (g_task_is_valid (result, self), FALSE);
  return g_task_propagate_boolean (G_TASK (result), error);
}

void
wb_app_bench_open_session_async (WbAppBench         *self,
                                 const char         *place,
                                 const char         *staying,
                                 gboolean            checked,
                                 GCancellable       *cancellable,
                                 GAsyncReadyCallback callback,
                                 gpointer            user)
{
  GTask *task;
  WbSession *session;

  g_return_if_fail (WB_IS_APP_BENCH (self));
  task = wb_app_save_task_new (self, wb_app_bench_open_session_async, cancellable, callback, user);
  if (wb_app_bench_get_session (self) != NULL)
    {
      wb_app_save_task_refuse (task, g_strdup (_("A session is open already.")));
      return;
    }
  session = wb_record_new (&wb_session_type);
  session->opened_at = wb_clock_now (wb_clock_get ());
  wb_record_set_text (session, wb_record_type_find_field (&wb_session_type, "place"), place);
  wb_record_set_text (session, wb_record_type_find_field (&wb_session_type, "staying"), staying);
  wb_record_set_text (session, wb_record_type_find_field (&wb_session_type, "who"),
                      wb_app_notebook_get_who (wb_app_bench_get_notebook (self)));
  session->checked = checked;
  session->seed = (gint64) wb_app_bench_get_next_seed (self);
  save (self, task, "session", g_strdup (_("Open a session at the bench")), one_record (session));
}

void
wb_app_bench_close_session_async (WbAppBench         *self,
                                  GCancellable       *cancellable,
                                  GAsyncReadyCallback callback,
                                  gpointer            user)
{
  GTask *task;
  WbSession *session;

  g_return_if_fail (WB_IS_APP_BENCH (self));
  task = wb_app_save_task_new (self, wb_app_bench_close_session_async, cancellable, callback, user);
  if (wb_app_bench_get_session (self) == NULL)
    {
      wb_app_save_task_refuse (task, g_strdup (_("No session is open.")));
      return;
    }
  if (wb_app_bench_get_alight (self) > 0)
    {
      wb_app_save_task_refuse (task, g_strdup (_("A sample is alight: snuff it first.")));
      return;
    }
  session = wb_record_copy (wb_app_bench_get_session (self));
  session->closed_at = wb_clock_now (wb_clock_get ());
  save (self, task, "session", g_strdup (_("Close the session at the bench")), one_record (session));
}

/* It crossed a limit: whoever lights it all the same has to have read which. A cracked vessel nobody lights. */
static char *
dup_crossed_refusal (WbAppBenchSample *sample,
                     gboolean          only_hard)
{
  gboolean broken;
  g_autofree char *crossing = wb_app_bench_sample_dup_crossing (sample, &broken);
  WbInstant fit_at = wb_app_bench_sample_get_fit_at (sample);
  g_autofree char *when = wb_instant_format_short (fit_at);
  const char *code = wb_app_bench_sample_get_code (sample);

  if (broken)
    return g_strdup_printf (_("The vessel of %s cracked in an earlier burn: it is not lit again. Keep it as evidence."), code);
  if (only_hard)
    return NULL;
  if (fit_at.known && fit_at.utc_us > wb_clock_now (wb_clock_get ()).utc_us)
    return g_strdup_printf (_("%s crossed a limit: %s. It cools until %s."), code, crossing, when);
  return g_strdup_printf (_("%s crossed a limit: %s."), code, crossing);
}

/* At its end, set aside or kept; it may have crossed a limit besides, and both are said. */
static char *
dup_ended_refusal (WbAppBenchSample *sample,
                   gboolean          only_hard)
{
  gboolean crossed = wb_app_bench_sample_get_crossed_burn (sample) > 0 || wb_app_bench_sample_get_cracked_burn (sample) > 0;
  g_autofree char *crossing = crossed ? dup_crossed_refusal (sample, only_hard) : NULL;
  g_autofree char *ended = NULL;

  if (only_hard)
    return g_steal_pointer (&crossing);
  ended = g_strdup_printf (_("%s is at its end or set aside."), wb_app_bench_sample_get_code (sample));
  return crossing != NULL ? g_strdup_printf ("%s %s", crossing, ended) : g_steal_pointer (&ended);
}

/* Why a sample may not be lit now; NULL: it may. With `only_hard` only what no person can override. */
static char *
dup_light_refusal (WbAppBenchSample *sample,
                   gboolean          only_hard)
{
  const char *code = wb_app_bench_sample_get_code (sample);
  g_autofree char *when = wb_cure_format_at (wb_app_bench_sample_get_fit_at (sample));

  switch (wb_app_bench_sample_get_state (sample))
    {
    case WB_APP_BENCH_ALIGHT:
      return g_strdup_printf (_("%s is alight already."), code);
    case WB_APP_BENCH_CURING:
      return only_hard ? NULL : g_strdup_printf (_("%s cures until %s."), code, when);
    case WB_APP_BENCH_COOLING:
      return only_hard ? NULL : g_strdup_printf (_("%s cools until %s."), code, when);
    case WB_APP_BENCH_CROSSED:
      return dup_crossed_refusal (sample, only_hard);
    case WB_APP_BENCH_ENDED:
      return dup_ended_refusal (sample, only_hard);
    case WB_APP_BENCH_FIT:
      return NULL;
    default:
      g_assert_not_reached ();
    }
}

/* Why it would be lit against its time, as a burn of that kind; NULL: it is fit. */
static char *
dup_unfit (WbAppBenchSample *sample,
           WbBurnKind        kind)
{
  char *refusal = dup_light_refusal (sample, FALSE);

  return refusal != NULL ? refusal : wb_app_bench_throw_dup_smell_refusal (sample, kind);
}

/*
 * A candle that is fit by now may not have been when it was lit: it cured or cooled still, which stands with the burn, or burnt still,
 * which cannot be. NULL: nothing is against that time; unknown: now.
 */
static char *
dup_lit_refusal (WbAppBenchSample *sample,
                 WbInstant         lit_at,
                 gboolean          only_hard)
{
  const char *code = wb_app_bench_sample_get_code (sample);
  WbInstant out_at = wb_app_bench_sample_get_out_at (sample);
  g_autofree char *when = NULL;

  /* Clocks show minutes. */
  if (lit_at.known && out_at.known && lit_at.utc_us < out_at.utc_us - 60 * (gint64) G_USEC_PER_SEC)
    {
      when = wb_instant_format_short (out_at);
      return g_strdup_printf (_("%s burnt until %s: it was not lit before that."), code, when);
    }
  if (only_hard || !wb_app_bench_sample_is_early (sample, lit_at))
    return NULL;
  when = wb_cure_format_at (wb_app_bench_sample_get_fit_at (sample));
  return g_strdup_printf (_("%s was fit to light from %s."), code, when);
}

/* What stands with the burn of how it was lit; NULL: nothing was against it. */
static char *
dup_deviation (WbAppBench       *self,
               WbAppBenchSample *sample,
               WbBurnKind        kind,
               const char       *place,
               WbInstant         lit_at)
{
  char *now = dup_light_refusal (sample, FALSE);
  g_autofree char *unfit = now != NULL ? now : dup_lit_refusal (sample, lit_at, FALSE);
  g_autofree char *throw = wb_app_bench_dup_throw_deviation (self, sample, kind, place);

  if (unfit != NULL && throw != NULL)
    return g_strdup_printf ("%s %s", unfit, throw);
  return unfit != NULL ? g_steal_pointer (&unfit) : g_steal_pointer (&throw);
}

static gboolean
any_taken (const WbReading *reading)
{
  for (guint i = 0; i < WB_N_COLUMNS; i++)
    if (!isnan (reading->values[i]))
      return TRUE;
  return FALSE;
}

/* given (may be NULL) is copied. */
static WbReading *
reading_new (gint64           burn,
             double           elapsed_min,
             const WbReading *given)
{
  WbReading *reading = given != NULL ? wb_record_copy (given) : wb_record_new (&wb_reading_type);

  reading->burn = burn;
  reading->elapsed_min = elapsed_min;
  reading->source = WB_SOURCE_TYPED;
  return reading;
}

void
wb_app_bench_light_async (WbAppBench         *self,
                          gint64              sample_id,
                          WbBurnKind          kind,
                          double              trim_mm,
                          const char         *place,
                          WbInstant           lit_at,
                          const WbReading    *first,
                          gboolean            override,
                          GCancellable       *cancellable,
                          GAsyncReadyCallback callback,
                          gpointer            user)
{
  WbAppBenchSample *sample;
  const WbSession *session;
  g_autoptr (GPtrArray) records = NULL;
  g_autofree char *refusal = NULL, *deviation = NULL;
  g_autofree char *why = NULL;
  WbAppSave *to_save;
  GTask *task;
  WbBurn *burn;

  g_return_if_fail (WB_IS_APP_BENCH (self));
  task = wb_app_save_task_new (self, wb_app_bench_light_async, cancellable, callback, user);
  sample = wb_app_bench_find (self, sample_id);
  session = wb_app_bench_get_session (self);
  if (sample == NULL)
    {
      wb_app_save_task_refuse (task, g_strdup (_("This sample is not at the bench.")));
      return;
    }
  if (session == NULL || !session->checked)
    {
      wb_app_save_task_refuse (task, g_strdup (_("Answer the check before the first light: open a session first.")));
      return;
    }
  wb_app_bench_sample_update (sample, wb_app_bench_sample_get_us_units (sample));
  refusal = override ? dup_light_refusal (sample, TRUE) : dup_unfit (sample, kind);
  if (refusal == NULL)
    refusal = dup_lit_refusal (sample, lit_at, override);
  if (refusal != NULL)
    {
      wb_app_save_task_refuse (task, g_steal_pointer (&refusal));
      return;
    }
  deviation = dup_deviation (self, sample, kind, place, lit_at);

  burn = wb_record_new (&wb_burn_type);
  burn->record.id = BURN_ID;
  burn->uuid = wb_uuid_new ();
  burn->sample = sample_id;
  burn->number = wb_app_bench_sample_get_burn_number (sample);
  burn->kind = kind;
  burn->session = session->record.id;
  burn->lit_at = lit_at.known ? lit_at : wb_clock_now (wb_clock_get ());
  burn->trim_mm = trim_mm;
  wb_record_set_text (burn, wb_record_type_find_field (&wb_burn_type, "bench_place"), place);
  /* Lit all the same: the deviation stands with the burn. */
  wb_record_set_text (burn, wb_record_type_find_field (&wb_burn_type, "note"), deviation);
  records = one_record (burn);
  if (first != NULL && any_taken (first))
    {
      WbReading *reading = reading_new (BURN_ID, 0, first);

      if (kind == WB_BURN_THROW)
        wb_record_set_text (reading, wb_record_type_find_field (&wb_reading_type, "throw_room"), place);
      g_ptr_array_add (records, reading);
    }
  why = g_strdup_printf (_("Light %s, burn %d"), wb_app_bench_sample_get_code (sample), (int) burn->number);
  to_save = wb_app_save_new ("light", wb_app_notebook_get_who (wb_app_bench_get_notebook (self)), why, records);
  wb_app_bench_note_lighting (self, to_save, burn);
  wb_app_notebook_run_save_async (wb_app_bench_get_notebook (self), to_save, cancellable, wb_app_save_task_end_cb, task);
}

static gboolean
is_taken (const WbReading *reading,
          gpointer         user)
{
  const WbDataset *data = wb_app_bench_sample_get_data (user);

  for (guint burn = 0; burn < data->burns->len; burn++)
    {
      guint first, n;

      if (wb_dataset_get_burn (data, burn)->record.id != reading->burn)
        continue;
      wb_readings_get_burn_rows (data->readings, burn, &first, &n);
      if (wb_app_moment_is_among (reading, data->readings, first, n))
        return TRUE;
    }
  return FALSE;
}

/* Moves the readings of one moment on together, until none of them is taken. */
static void
move_on (WbAppBenchSample *sample,
         GPtrArray        *readings)
{
  double minute = 0;
  gboolean moved;

  for (guint i = 0; i < readings->len; i++)
    minute = MAX (minute, ((const WbReading *) g_ptr_array_index (readings, i))->elapsed_min);
  do
    {
      moved = FALSE;
      for (guint i = 0; i < readings->len; i++)
        {
          WbReading *reading = g_ptr_array_index (readings, i);

          reading->elapsed_min = minute;
          wb_app_moment_move_on (reading, is_taken, sample);
          moved = moved || reading->elapsed_min != minute;
          minute = reading->elapsed_min;
        }
    }
  while (moved);
}

/* Typed in for a moment long past, or before the last reading: marked, and no deviation. */
static gboolean
is_late (WbAppBenchSample *sample,
         double            elapsed_min,
         double            now_min)
{
  double last_min = wb_app_bench_sample_get_last_min (sample);

  /* Not known: NAN compares as false. */
  return elapsed_min < last_min || elapsed_min < now_min - WB_APP_MOMENT_LATE_MIN;
}

/* The record to save: what the person gave, with what the bench knows filled in. */
static WbReading *
complete (WbAppBench       *self,
          WbAppBenchSample *sample,
          const WbReading  *given,
          double            now_min)
{
  const WbBurn *burn = wb_app_bench_sample_get_burn (sample);
  WbReading *reading = reading_new (burn->record.id, given != NULL ? given->elapsed_min : NAN, given);
  gboolean now = isnan (reading->elapsed_min);

  if (now)
    reading->elapsed_min = MIN (floor (now_min), WB_APP_MOMENT_LONGEST_MIN);
  reading->late = is_late (sample, reading->elapsed_min, now_min);
  wb_app_bench_throw_complete (self, sample, now, reading);
  wb_app_bench_carry_room (self, sample, reading);
  return reading;
}

/* The records to save of one moment; given may be NULL, or empty. Caller frees. */
static GPtrArray *
complete_all (WbAppBench       *self,
              WbAppBenchSample *sample,
              const GPtrArray  *given,
              double            now_min)
{
  GPtrArray *records = g_ptr_array_new_with_free_func (wb_record_free);

  for (guint i = 0; given != NULL && i < given->len; i++)
    g_ptr_array_add (records, complete (self, sample, g_ptr_array_index (given, i), now_min));
  return records;
}

/* One reading as all of a moment; NULL: none. The reading stays the caller's. */
static GPtrArray *
borrow_one (const WbReading *reading)
{
  GPtrArray *one = g_ptr_array_new ();

  if (reading != NULL)
    g_ptr_array_add (one, (gpointer) reading);
  return one;
}

/* The sample if it is alight; else the task is refused. */
static WbAppBenchSample *
find_alight (WbAppBench *self,
             gint64      sample_id,
             GTask      *task)
{
  WbAppBenchSample *sample = wb_app_bench_find (self, sample_id);

  if (sample != NULL)
    wb_app_bench_sample_update (sample, wb_app_bench_sample_get_us_units (sample));
  if (sample != NULL && wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_ALIGHT)
    return sample;
  wb_app_save_task_refuse (task, g_strdup (_("This sample is not alight.")));
  return NULL;
}

/* What undo and record call it: a blind rating must not tell whose digits they are. */
static char *
dup_why (WbAppBenchSample *sample,
         const GPtrArray  *given)
{
  gint64 digits = wb_app_bench_sample_get_record (sample)->blind_code;

  for (guint i = 0; i < given->len; i++)
    {
      const WbReading *reading = g_ptr_array_index (given, i);

      if (reading->values[WB_COLUMN_THROW_BLIND] == 1)
        return digits > 0 ? g_strdup_printf (_("Log a blind rating of %d"), (int) digits) : g_strdup (_("Log a blind rating"));
    }
  return g_strdup_printf (_("Log a reading of %s"), wb_app_bench_sample_get_code (sample));
}

void
wb_app_bench_read_all_async (WbAppBench         *self,
                             gint64              sample_id,
                             const GPtrArray    *given,
                             GCancellable       *cancellable,
                             GAsyncReadyCallback callback,
                             gpointer            user)
{
  WbAppBenchSample *sample;
  GPtrArray *records;
  GTask *task;

  g_return_if_fail (WB_IS_APP_BENCH (self));
  g_return_if_fail (given != NULL && given->len > 0);
  task = wb_app_save_task_new (self, wb_app_bench_read_all_async, cancellable, callback, user);
  sample = find_alight (self, sample_id, task);
  if (sample == NULL)
    return;
  records = complete_all (self, sample, given, wb_app_bench_sample_get_elapsed_s (sample) / 60.0);
  move_on (sample, records);
  save (self, task, "reading", dup_why (sample, given), records);
}

void
wb_app_bench_read_async (WbAppBench         *self,
                         gint64              sample_id,
                         const WbReading    *given,
                         GCancellable       *cancellable,
                         GAsyncReadyCallback callback,
                         gpointer            user)
{
  g_autoptr (GPtrArray) one = NULL;

  g_return_if_fail (given != NULL);
  one = borrow_one (given);
  wb_app_bench_read_all_async (self, sample_id, one, cancellable, callback, user);
}

/* The vessel's reading where it has no event yet: a reading holds one. NULL: the end stands by itself. */
static WbReading *
find_free (GPtrArray *records)
{
  for (guint i = 0; i < records->len; i++)
    {
      WbReading *reading = g_ptr_array_index (records, i);

      if (isnan (reading->values[WB_COLUMN_WICK_NUMBER]) && isnan (reading->values[WB_COLUMN_EVENT]))
        return reading;
    }
  return NULL;
}

/* The end of the burn, never before its last reading; the vessel's reading that holds it is of that moment, and its wicks' with it. */
static void
add_end (WbAppBenchSample *sample,
         GPtrArray        *records,
         WbEvent           event,
         double            now_min)
{
  double last_min = wb_app_bench_sample_get_last_min (sample);
  double minute = records->len > 0 ? ((const WbReading *) g_ptr_array_index (records, 0))->elapsed_min
                                   : MIN (floor (now_min), WB_APP_MOMENT_LONGEST_MIN);
  WbReading *end = find_free (records);
  gboolean beside = end == NULL;

  if (beside)
    end = reading_new (wb_app_bench_sample_get_burn (sample)->record.id, minute, NULL);
  end->values[WB_COLUMN_EVENT] = event;
  end->elapsed_min = MAX (minute, isnan (last_min) ? 0 : last_min);
  end->late = is_late (sample, end->elapsed_min, now_min);
  move_on (sample, records);
  if (!beside)
    return;
  wb_app_moment_move_on (end, is_taken, sample);
  g_ptr_array_add (records, end);
}

void
wb_app_bench_snuff_all_async (WbAppBench         *self,
                              gint64              sample_id,
                              WbEvent             event,
                              const GPtrArray    *given,
                              GCancellable       *cancellable,
                              GAsyncReadyCallback callback,
                              gpointer            user)
{
  WbAppBenchSample *sample;
  GPtrArray *records;
  double now_min;
  GTask *task;

  g_return_if_fail (WB_IS_APP_BENCH (self));
  g_return_if_fail (wb_event_ends_burn (event));
  task = wb_app_save_task_new (self, wb_app_bench_snuff_all_async, cancellable, callback, user);
  sample = find_alight (self, sample_id, task);
  if (sample == NULL)
    return;
  now_min = wb_app_bench_sample_get_elapsed_s (sample) / 60.0;
  records = complete_all (self, sample, given, now_min);
  add_end (sample, records, event, now_min);
  save (self, task, "snuff",
        g_strdup_printf (event == WB_EVENT_SNUFFED ? _("Snuff %s") : _("Note the end of the burn of %s"), wb_app_bench_sample_get_code (sample)),
        records);
}

void
wb_app_bench_snuff_async (WbAppBench         *self,
                          gint64              sample_id,
                          WbEvent             event,
                          const WbReading    *given,
                          GCancellable       *cancellable,
                          GAsyncReadyCallback callback,
                          gpointer            user)
{
  g_autoptr (GPtrArray) one = borrow_one (given);

  wb_app_bench_snuff_all_async (self, sample_id, event, one, cancellable, callback, user);
}

void
wb_app_bench_read_after_all_async (WbAppBench         *self,
                                   gint64              sample_id,
                                   const GPtrArray    *given,
                                   GCancellable       *cancellable,
                                   GAsyncReadyCallback callback,
                                   gpointer            user)
{
  WbAppBenchSample *sample;
  const WbBurn *burn;
  GPtrArray *records;
  double now_min;
  GTask *task;

  g_return_if_fail (WB_IS_APP_BENCH (self));
  g_return_if_fail (given != NULL && given->len > 0);
  task = wb_app_save_task_new (self, wb_app_bench_read_after_all_async, cancellable, callback, user);
  sample = wb_app_bench_find (self, sample_id);
  burn = sample != NULL ? wb_app_bench_sample_get_burn (sample) : NULL;
  if (burn == NULL)
    {
      wb_app_save_task_refuse (task, g_strdup (_("This sample has not burnt yet.")));
      return;
    }
  now_min = wb_app_bench_sample_get_last_min (sample);
  if (burn->lit_at.known)
    now_min = wb_app_bench_sample_get_minutes_at (sample, WB_INSTANT_NONE);
  records = complete_all (self, sample, given, isnan (now_min) ? 0 : MAX (now_min, 0));
  move_on (sample, records);
  save (self, task, "reading", g_strdup_printf (_("Log a look at %s after its burn"), wb_app_bench_sample_get_code (sample)), records);
}

void
wb_app_bench_read_after_async (WbAppBench         *self,
                               gint64              sample_id,
                               const WbReading    *given,
                               GCancellable       *cancellable,
                               GAsyncReadyCallback callback,
                               gpointer            user)
{
  g_autoptr (GPtrArray) one = NULL;

  g_return_if_fail (given != NULL);
  one = borrow_one (given);
  wb_app_bench_read_after_all_async (self, sample_id, one, cancellable, callback, user);
}

void
wb_app_bench_set_aside_async (WbAppBench         *self,
                              gint64              sample_id,
                              int                 cause,
                              const char         *why,
                              GCancellable       *cancellable,
                              GAsyncReadyCallback callback,
                              gpointer            user)
{
  WbAppBenchSample *sample;
  WbSample *record;
  GTask *task;

  g_return_if_fail (WB_IS_APP_BENCH (self));
  task = wb_app_save_task_new (self, wb_app_bench_set_aside_async, cancellable, callback, user);
  sample = wb_app_bench_find (self, sample_id);
  if (sample == NULL)
    {
      wb_app_save_task_refuse (task, g_strdup (_("This sample is not at the bench.")));
      return;
    }
  record = wb_record_copy (wb_app_bench_sample_get_record (sample));
  record->set_aside_cause = cause;
  wb_record_set_text (record, wb_record_type_find_field (&wb_sample_type, "set_aside"),
                      cause < 0 ? NULL : why != NULL && *why != '\0' ? why : _(wb_cause_words[cause].label));
  save (self, task, "sample",
        g_strdup_printf (cause < 0 ? _("Let %s count again") : _("Set %s aside"), record->code), one_record (record));
}
