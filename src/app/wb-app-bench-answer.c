/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-bench-private.h"

#include "wb-app-notebook-private.h"
#include "wb-app-query.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/*
 * A hazard that was told is answered by the person who saw to it. The answer stands in the note of the reading that
 * told it, so that whoever opens the notebook next is asked again where nobody has answered, and only there.
 */

/* The newest reading of the burn that is alight; FALSE: there is none. */
static gboolean
find_newest (WbAppBenchSample *sample,
             guint            *row)
{
  guint first, n;

  if (wb_app_bench_sample_get_state (sample) != WB_APP_BENCH_ALIGHT)
    return FALSE;
  wb_readings_get_burn_rows (wb_app_bench_sample_get_data (sample)->readings, wb_app_bench_sample_get_burn_index (sample), &first, &n);
  *row = first + n - 1;
  return n > 0;
}

gboolean
wb_app_bench_is_unanswered (WbAppBenchSample *sample,
                            double            values[WB_N_COLUMNS])
{
  const WbReadings *readings;
  const char *note;
  guint row;

  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (sample), FALSE);

  if (!wb_app_bench_sample_get_over (sample) || !find_newest (sample, &row))
    return FALSE;
  readings = wb_app_bench_sample_get_data (sample)->readings;
  for (guint column = 0; column < WB_N_COLUMNS; column++)
    values[column] = wb_readings_get (readings, row, column);
  note = wb_readings_get_text (readings, row, WB_READING_TEXT_NOTE);
  return note == NULL || strstr (note, _("Seen to:")) == NULL;
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

/* What is to be said, and of which sample. */
typedef struct
{
  char *text;
  char *why;
} Answer;

static void
answer_free (gpointer data)
{
  Answer *self = data;

  g_free (self->text);
  g_free (self->why);
  g_free (self);
}

static void
on_saved_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      user)
{
  g_autoptr (GTask) task = user;
  GError *error = NULL;

  wb_app_notebook_save_finish (WB_APP_NOTEBOOK (source), result, NULL, &error);
  if (error != NULL)
    g_task_return_error (task, error);
  else
    g_task_return_boolean (task, TRUE);
}

static void
on_reading_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      user)
{
  g_autoptr (GTask) task = user;
  GCancellable *cancellable = g_task_get_cancellable (task);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbRecord) record = wb_app_query_get_finish (WB_APP_NOTEBOOK (source), result, &error);
  const WbFieldSpec *note = wb_record_type_find_field (&wb_reading_type, "note");
  const Answer *answer = g_task_get_task_data (task);
  g_autoptr (GPtrArray) records = g_ptr_array_new ();
  g_autofree char *said = NULL;

  if (record == NULL)
    {
      g_task_return_error (task, g_steal_pointer (&error));
      return;
    }
  said = wb_app_bench_dup_answer (wb_record_get_text (record, note), answer->text);
  wb_record_set_text (record, note, said);
  g_ptr_array_add (records, record);
  wb_app_notebook_save_topic_async (WB_APP_NOTEBOOK (source), "hazard", answer->why, records, cancellable, on_saved_cb,
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
  guint row;

  g_return_if_fail (WB_IS_APP_BENCH (self));
  g_return_if_fail (text != NULL);

  task = g_task_new (self, cancellable, callback, user);
  g_task_set_source_tag (task, wb_app_bench_answer_async);
  /* What is in the file is told as saved, however late somebody cancelled. */
  g_task_set_check_cancellable (task, FALSE);
  sample = wb_app_bench_find (self, sample_id);
  if (sample == NULL || !find_newest (sample, &row))
    {
      g_task_return_new_error (task, WB_APP_ERROR, WB_APP_ERROR_REFUSED, "%s", _("This sample is not alight."));
      g_object_unref (task);
      return;
    }
  answer = g_new0 (Answer, 1);
  answer->text = g_strdup (text);
  answer->why = g_strdup_printf (_("See to %s: %s"), wb_app_bench_sample_get_code (sample), text);
  g_task_set_task_data (task, answer, answer_free);
  wb_app_query_get_async (wb_app_bench_get_notebook (self), &wb_reading_type,
                          wb_readings_get_id (wb_app_bench_sample_get_data (sample)->readings, row), cancellable, on_reading_cb, task);
}
