/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-bench-private.h"

#include "wb-app-notebook-private.h"
#include "wb-app-query.h"
#include "wb-app-save-task-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/*
 * A hazard that was told is answered by the person who saw to it. The answer stands in the notes of the readings that
 * told it, so that whoever opens the notebook next is asked again where nobody has answered, and only there. A calm
 * reading later is no answer: a wall that was too hot has been hot, whether or not somebody looked.
 */

static gboolean
is_over (const GPtrArray *limits,
         const double     values[WB_N_COLUMNS])
{
  g_autoptr (GArray) hits = wb_craft_limits_check_reading (limits, values);

  for (guint i = 0; i < hits->len; i++)
    if (g_array_index (hits, WbCraftLimitHit, i).level == WB_CRAFT_OVER)
      return TRUE;
  return FALSE;
}

static gboolean
is_answered (const char *note)
{
  return note != NULL && strstr (note, _("Seen to:")) != NULL;
}

gboolean
wb_app_bench_is_unanswered (WbAppBenchSample *sample,
                            double            values[WB_N_COLUMNS])
{
  const WbDataset *data;
  guint first, n;

  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (sample), FALSE);

  if (wb_app_bench_sample_get_state (sample) != WB_APP_BENCH_ALIGHT)
    return FALSE;
  data = wb_app_bench_sample_get_data (sample);
  wb_readings_get_burn_rows (data->readings, wb_app_bench_sample_get_burn_index (sample), &first, &n);
  for (guint row = first + n; row > first; row--)
    {
      if (is_answered (wb_readings_get_text (data->readings, row - 1, WB_READING_TEXT_NOTE)))
        continue;
      wb_readings_get_values (data->readings, row - 1, values);
      if (is_over (data->limits, values))
        return TRUE;
    }
  return FALSE;
}

char *
wb_app_bench_dup_answer (const char *note,
                         const char *text)
{
  g_return_val_if_fail (text != NULL, NULL);

  if (note == NULL || *note == '\0')
    return g_strdup_printf ("%s %s", _("Seen to:"), text);
  return g_strdup_printf ("%s; %s %s", note, _("Seen to:"), text);
}

/* What is to be said, and by which limits it was told. */
typedef struct
{
  char      *text;
  char      *why;
  GPtrArray *limits;
  gboolean   us_units;
} Answer;

static void
answer_free (gpointer data)
{
  Answer *self = data;

  g_free (self->text);
  g_free (self->why);
  g_ptr_array_unref (self->limits);
  g_free (self);
}

/* The readings of a burn that are over a limit and have no answer, the newest first. */
static GPtrArray *
pick_unanswered (GPtrArray       *readings,
                 const GPtrArray *limits)
{
  GPtrArray *picked = g_ptr_array_new ();

  for (guint i = 0; i < readings->len; i++)
    {
      WbReading *reading = g_ptr_array_index (readings, i);
      guint at = 0;

      if (is_answered (reading->note) || !is_over (limits, reading->values))
        continue;
      while (at < picked->len && ((const WbReading *) g_ptr_array_index (picked, at))->elapsed_min > reading->elapsed_min)
        at++;
      g_ptr_array_insert (picked, (int) at, reading);
    }
  return picked;
}

/* One look at a candle answers all that was told of it: the newest in the words that were answered, each other in its own. */
static void
on_readings_cb (GObject      *source,
                GAsyncResult *result,
                gpointer      user)
{
  g_autoptr (GTask) task = user;
  GCancellable *cancellable = g_task_get_cancellable (task);
  GError *error = NULL;
  g_autoptr (GPtrArray) readings = wb_app_query_list_finish (WB_APP_NOTEBOOK (source), result, &error);
  const WbFieldSpec *note = wb_record_type_find_field (&wb_reading_type, "note");
  const Answer *answer = g_task_get_task_data (task);
  g_autoptr (GPtrArray) records = NULL;

  if (readings == NULL)
    {
      g_task_return_error (task, error);
      return;
    }
  records = pick_unanswered (readings, answer->limits);
  if (records->len == 0)
    {
      /* Answered meanwhile, or amended. */
      g_task_return_boolean (task, TRUE);
      return;
    }
  for (guint i = 0; i < records->len; i++)
    {
      WbReading *reading = g_ptr_array_index (records, i);
      g_autoptr (GPtrArray) hits = wb_app_bench_check (answer->limits, reading->values, answer->us_units);
      const WbAppBenchHit *worst = g_ptr_array_index (hits, 0);
      g_autofree char *said = wb_app_bench_dup_answer (reading->note, i == 0 ? answer->text : worst->text);

      wb_record_set_text (reading, note, said);
    }
  wb_app_notebook_save_topic_async (WB_APP_NOTEBOOK (source), "hazard", answer->why, records, cancellable, wb_app_save_task_end_cb,
                                    g_steal_pointer (&task));
}

void
wb_app_bench_answer_async (WbAppBench         *self,
                           gint64              sample_id,
                           const char         *text,
                           GCancellable       *cancellable,
                           GAsyncReadyCallback callback,
                           gpointer            user)
{
  WbAppBenchSample *sample;
  Answer *answer;
  GTask *task;

  g_return_if_fail (WB_IS_APP_BENCH (self));
  g_return_if_fail (text != NULL);

  task = wb_app_save_task_new (self, wb_app_bench_answer_async, cancellable, callback, user);
  sample = wb_app_bench_find (self, sample_id);
  if (sample == NULL || wb_app_bench_sample_get_burn (sample) == NULL)
    {
      wb_app_save_task_refuse (task, g_strdup (_("This sample has not burnt yet.")));
      return;
    }
  answer = g_new0 (Answer, 1);
  answer->text = g_strdup (text);
  answer->why = g_strdup_printf (_("See to %s: %s"), wb_app_bench_sample_get_code (sample), text);
  answer->limits = g_ptr_array_ref (wb_app_bench_sample_get_data (sample)->limits);
  answer->us_units = wb_app_bench_sample_get_us_units (sample);
  g_task_set_task_data (task, answer, answer_free);
  /* From the file: what was saved a moment ago is there, and the bench may not have read it yet. */
  wb_app_query_list_by_async (wb_app_bench_get_notebook (self), &wb_reading_type, "burn",
                              wb_app_bench_sample_get_burn (sample)->record.id, cancellable, on_readings_cb, task);
}
