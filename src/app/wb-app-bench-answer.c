/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-bench-life-private.h"

#include "wb-app-notebook-private.h"
#include "wb-app-query.h"
#include "wb-app-save-task-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/*
 * A hazard that was told is answered by the person who saw to it. The answer stands in the notes of the readings that
 * told it, so that whoever opens the notebook next is asked again where nobody has answered, and only there. A calm
 * reading later is no answer: a wall that was too hot has been hot, whether or not somebody looked. What a logger's file tells is
 * answered in the note of its attachment, in the same way.
 */

/* A limit that is only near asks for no answer. hits: worst first. */
static gboolean
asks (const GPtrArray *hits)
{
  return hits->len > 0 && ((const WbAppBenchHit *) g_ptr_array_index (hits, 0))->level != WB_CRAFT_NEAR;
}

static gboolean
is_answered (const char *note)
{
  return note != NULL && strstr (note, _("Seen to:")) != NULL;
}

/* What the files of loggers that ran beside that burn say, and nobody has answered. */
static void
merge_loggers (GPtrArray       *all,
               const WbDataset *data,
               guint            burn,
               gboolean         us_units)
{
  for (guint i = 0; i < data->loggers->len; i++)
    {
      const WbAttachment *logger = g_ptr_array_index (data->loggers, i);

      if (g_array_index (data->logger_burn, guint, i) == burn && !is_answered (logger->note))
        wb_app_bench_merge_hits (all, wb_app_bench_check_logger (data->limits, logger, us_units));
    }
}

GPtrArray *
wb_app_bench_dup_unanswered (WbAppBenchSample *sample)
{
  const WbAppBenchLife *life;
  const WbDataset *data;
  g_autoptr (GPtrArray) all = wb_app_bench_hits_new ();
  double values[WB_N_COLUMNS];
  guint first, n;

  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (sample), NULL);

  if (wb_app_bench_sample_get_state (sample) != WB_APP_BENCH_ALIGHT)
    return NULL;
  data = wb_app_bench_sample_get_data (sample);
  life = wb_app_bench_sample_get_life (sample);
  wb_readings_get_burn_rows (data->readings, life->burn_index, &first, &n);
  for (guint row = first + n; row > first; row--)
    {
      g_autoptr (GPtrArray) hits = NULL;

      if (is_answered (wb_readings_get_text (data->readings, row - 1, WB_READING_TEXT_NOTE)))
        continue;
      wb_readings_get_values (data->readings, row - 1, values);
      hits = wb_app_bench_check_look (data->limits, values, life->trends, row - 1 - first, wb_app_bench_sample_get_lit_at (sample),
                                      wb_app_bench_sample_get_us_units (sample));
      if (asks (hits))
        wb_app_bench_merge_hits (all, g_steal_pointer (&hits));
    }
  merge_loggers (all, data, life->burn_index, wb_app_bench_sample_get_us_units (sample));
  return all->len > 0 ? g_steal_pointer (&all) : NULL;
}

gboolean
wb_app_bench_is_unanswered (WbAppBenchSample *sample)
{
  g_autoptr (GPtrArray) hits = wb_app_bench_dup_unanswered (sample);

  return hits != NULL;
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

/* All that a reading tells and that asks for an answer, worst first. Caller frees. */
static char *
dup_told (const GPtrArray *hits)
{
  GString *told = g_string_new (NULL);

  for (guint i = 0; i < hits->len; i++)
    {
      const WbAppBenchHit *hit = g_ptr_array_index (hits, i);

      if (hit->level != WB_CRAFT_NEAR)
        g_string_append_printf (told, told->len > 0 ? "; %s" : "%s", hit->text);
    }
  return g_string_free (told, FALSE);
}

/* What is to be said, and by which limits it was told. */
typedef struct
{
  char              *why;
  GPtrArray         *limits;
  WbCraftTrendRounds rounds;
  WbInstant          lit_at;
  gboolean           us_units;
  gint64             burn;
  GPtrArray         *readings; /* of that burn; NULL: not read yet */
} Answer;

static void
answer_free (gpointer data)
{
  Answer *self = data;

  g_free (self->why);
  g_ptr_array_unref (self->limits);
  g_clear_pointer (&self->readings, g_ptr_array_unref);
  g_free (self);
}

static int
by_minute (gconstpointer a,
           gconstpointer b)
{
  const WbReading *first = *(WbReading *const *) a, *second = *(WbReading *const *) b;

  return (first->elapsed_min > second->elapsed_min) - (first->elapsed_min < second->elapsed_min);
}

/* Says so in the readings of a burn that tell a limit and have no answer; returns those, the newest first. Sorts the readings. */
static GPtrArray *
answer_all (const Answer *answer,
            GPtrArray    *readings)
{
  GPtrArray *answered = g_ptr_array_new ();
  const WbFieldSpec *note = wb_record_type_find_field (&wb_reading_type, "note");
  g_autofree WbCraftTrendLook *looks = g_new (WbCraftTrendLook, MAX (readings->len, 1));
  g_autoptr (GArray) trends = NULL;

  g_ptr_array_sort (readings, by_minute);
  for (guint i = 0; i < readings->len; i++)
    {
      const WbReading *reading = g_ptr_array_index (readings, i);

      looks[i] = (WbCraftTrendLook) { reading->elapsed_min, reading->values };
    }
  trends = wb_craft_trends_find (answer->limits, looks, readings->len, &answer->rounds);
  for (guint i = readings->len; i > 0; i--)
    {
      WbReading *reading = g_ptr_array_index (readings, i - 1);
      g_autoptr (GPtrArray) hits = NULL;
      g_autofree char *told = NULL, *said = NULL;

      if (is_answered (reading->note))
        continue;
      hits = wb_app_bench_check_look (answer->limits, reading->values, trends, i - 1, answer->lit_at, answer->us_units);
      if (!asks (hits))
        continue;
      /* in its own words: the person was shown the worst of all */
      told = dup_told (hits);
      said = wb_app_bench_dup_answer (reading->note, told);
      wb_record_set_text (reading, note, said);
      g_ptr_array_add (answered, reading);
    }
  return answered;
}

/* Says so in the attachments of a burn that are a logger's file over a limit and have no answer; adds these. */
static void
answer_loggers (const Answer *answer,
                GPtrArray    *attachments,
                GPtrArray    *answered)
{
  const WbFieldSpec *note = wb_record_type_find_field (&wb_attachment_type, "note");

  for (guint i = 0; i < attachments->len; i++)
    {
      WbAttachment *logger = g_ptr_array_index (attachments, i);
      g_autoptr (GPtrArray) hits = NULL;
      g_autofree char *told = NULL, *said = NULL;

      if (logger->role != WB_ATTACHMENT_LOGGER || is_answered (logger->note))
        continue;
      hits = wb_app_bench_check_logger (answer->limits, logger, answer->us_units);
      if (!asks (hits))
        continue;
      told = dup_told (hits);
      said = wb_app_bench_dup_answer (logger->note, told);
      wb_record_set_text (logger, note, said);
      g_ptr_array_add (answered, logger);
    }
}

/* One look at a candle answers all that was told of it, for all of it was shown. */
static void
on_attachments_cb (GObject      *source,
                   GAsyncResult *result,
                   gpointer      user)
{
  g_autoptr (GTask) task = user;
  GCancellable *cancellable = g_task_get_cancellable (task);
  GError *error = NULL;
  g_autoptr (GPtrArray) attachments = wb_app_query_list_finish (WB_APP_NOTEBOOK (source), result, &error);
  const Answer *answer = g_task_get_task_data (task);
  g_autoptr (GPtrArray) records = NULL;

  if (attachments == NULL)
    {
      g_task_return_error (task, error);
      return;
    }
  records = answer_all (answer, answer->readings);
  answer_loggers (answer, attachments, records);
  if (records->len == 0)
    {
      /* Answered meanwhile, or amended. */
      g_task_return_boolean (task, TRUE);
      return;
    }
  wb_app_notebook_save_topic_async (WB_APP_NOTEBOOK (source), "hazard", answer->why, records, cancellable, wb_app_save_task_end_cb,
                                    g_steal_pointer (&task));
}

static void
on_readings_cb (GObject      *source,
                GAsyncResult *result,
                gpointer      user)
{
  g_autoptr (GTask) task = user;
  GCancellable *cancellable = g_task_get_cancellable (task);
  GError *error = NULL;
  Answer *answer = g_task_get_task_data (task);

  answer->readings = wb_app_query_list_finish (WB_APP_NOTEBOOK (source), result, &error);
  if (answer->readings == NULL)
    {
      g_task_return_error (task, error);
      return;
    }
  wb_app_query_list_by_async (WB_APP_NOTEBOOK (source), &wb_attachment_type, "owner", answer->burn, cancellable, on_attachments_cb,
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
  answer->why = g_strdup_printf (_("See to %s: %s"), wb_app_bench_sample_get_code (sample), text);
  answer->limits = g_ptr_array_ref (wb_app_bench_sample_get_data (sample)->limits);
  answer->rounds = wb_app_bench_sample_get_rounds (sample);
  answer->lit_at = wb_app_bench_sample_get_lit_at (sample);
  answer->us_units = wb_app_bench_sample_get_us_units (sample);
  answer->burn = wb_app_bench_sample_get_burn (sample)->record.id;
  g_task_set_task_data (task, answer, answer_free);
  /* From the file: what was saved a moment ago is there, and the bench may not have read it yet. */
  wb_app_query_list_by_async (wb_app_bench_get_notebook (self), &wb_reading_type, "burn", answer->burn, cancellable,
                              on_readings_cb, task);
}
