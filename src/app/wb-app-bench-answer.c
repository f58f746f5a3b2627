/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-bench-life-private.h"

#include "wb-app-notebook-private.h"
#include "wb-app-query.h"
#include "wb-app-save-task-private.h"
#include "wb-craft-logger.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#define ANSWER_MARK "✓"

/*
 * A hazard that was told is answered by the person who saw to it. The answer stands in the notes of the readings that
 * told it, so that whoever opens the notebook next is asked again where nobody has answered, and only there. A calm
 * reading later is no answer: a wall that was too hot has been hot, whether or not somebody looked. What a logger's file tells is
 * answered in the note of its attachment, in the same way.
 */

/*
 * Where a note's answer begins, in whatever language it was written; NULL: there is none. The mark is of no language; notes from
 * before it, and answers that somebody typed, begin with the words alone.
 */
const char *
wb_app_bench_find_answer (const char *note)
{
  const char *const begins[] = { ANSWER_MARK, "Seen to:", _("Seen to:") };
  const char *first = NULL;

  for (guint i = 0; note != NULL && i < G_N_ELEMENTS (begins); i++)
    {
      const char *found = strstr (note, begins[i]);

      if (found != NULL && (first == NULL || found < first))
        first = found;
    }
  return first;
}

/*
 * Takes out of a reading's hits what asks for no answer: what is only near, what its note says was seen to, and, once the flame is
 * out, all but fire and broken glass. An answer counts for what it names alone: a reading that is amended afterwards is told anew.
 */
static void
keep_open (GPtrArray    *hits,
           const double  values[WB_N_COLUMNS],
           const char   *note,
           gboolean      alight)
{
  const char *said = wb_app_bench_find_answer (note);

  for (guint i = hits->len; i > 0; i--)
    {
      const WbAppBenchHit *hit = g_ptr_array_index (hits, i - 1);

      if (hit->level == WB_CRAFT_NEAR || (!alight && !wb_app_bench_is_fire_or_glass (hit))
          || (said != NULL && wb_app_bench_is_told (hit, values, said)))
        g_ptr_array_remove_index (hits, i - 1);
    }
}

/* Of a burn that is out, fire and broken glass wait for their answer; not where it came from a file, or the sample was set aside since. */
static gboolean
may_ask (WbAppBenchSample *sample)
{
  const WbBurn *burn = wb_app_bench_sample_get_burn (sample);
  const WbSample *record = wb_app_bench_sample_get_record (sample);

  if (burn == NULL || wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_ALIGHT)
    return burn != NULL;
  return burn->session != 0 && record->set_aside_cause < 0 && record->set_aside == NULL;
}

/* What a logger's file tells, and nobody has answered. Caller frees. */
static GPtrArray *
check_logger (const GPtrArray    *limits,
              const WbAttachment *logger,
              gboolean            alight,
              gboolean            us_units)
{
  GPtrArray *hits = wb_app_bench_check_logger (limits, logger, us_units);
  double values[WB_N_COLUMNS];

  wb_craft_logger_get_values (logger, values);
  keep_open (hits, values, logger->note, alight);
  return hits;
}

/* What the files of loggers that ran beside that burn, which is alight, say and nobody has answered. */
static void
merge_loggers (GPtrArray       *all,
               const WbDataset *data,
               guint            burn,
               gboolean         us_units)
{
  for (guint i = 0; i < data->loggers->len; i++)
    if (g_array_index (data->logger_burn, guint, i) == burn)
      wb_app_bench_merge_hits (all, check_logger (data->limits, g_ptr_array_index (data->loggers, i), TRUE, us_units));
}

GPtrArray *
wb_app_bench_dup_unanswered (WbAppBenchSample *sample)
{
  const WbAppBenchLife *life;
  const WbDataset *data;
  g_autoptr (GPtrArray) all = NULL;
  double values[WB_N_COLUMNS];
  gboolean alight;
  guint first, n;

  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (sample), NULL);

  if (!may_ask (sample))
    return NULL;
  all = wb_app_bench_hits_new ();
  alight = wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_ALIGHT;
  data = wb_app_bench_sample_get_data (sample);
  life = wb_app_bench_sample_get_life (sample);
  wb_readings_get_burn_rows (data->readings, life->burn_index, &first, &n);
  for (guint row = first + n; row > first; row--)
    {
      GPtrArray *hits;

      /* Only an event outlasts the flame: a thousand samples that are out are looked through at every tick. */
      if (!alight && !wb_readings_taken (data->readings, row - 1, WB_COLUMN_EVENT))
        continue;
      wb_readings_get_values (data->readings, row - 1, values);
      hits = wb_app_bench_check_look (data->limits, values, life->trends, row - 1 - first, wb_app_bench_sample_get_lit_at (sample),
                                      wb_app_bench_sample_get_us_units (sample));
      keep_open (hits, values, wb_readings_get_text (data->readings, row - 1, WB_READING_TEXT_NOTE), alight);
      wb_app_bench_merge_hits (all, hits);
    }
  if (alight)
    merge_loggers (all, data, life->burn_index, wb_app_bench_sample_get_us_units (sample));
  return all->len > 0 ? g_steal_pointer (&all) : NULL;
}

gboolean
wb_app_bench_is_unanswered (WbAppBenchSample *sample)
{
  g_autoptr (GPtrArray) hits = wb_app_bench_dup_unanswered (sample);

  return hits != NULL;
}

GPtrArray *
wb_app_bench_dup_asking (WbAppBench *self)
{
  GPtrArray *asking = g_ptr_array_new_with_free_func (g_object_unref);
  GHashTableIter iter;
  gpointer sample;

  g_return_val_if_fail (WB_IS_APP_BENCH (self), asking);

  g_hash_table_iter_init (&iter, wb_app_bench_get_samples (self));
  while (g_hash_table_iter_next (&iter, NULL, &sample))
    if (wb_app_bench_is_unanswered (sample))
      g_ptr_array_add (asking, g_object_ref (sample));
  g_ptr_array_sort (asking, wb_app_bench_sample_order);
  return asking;
}

char *
wb_app_bench_dup_answer (const char      *note,
                         const GPtrArray *hits)
{
  GString *said = g_string_new (note);
  guint n = 0;

  g_return_val_if_fail (hits != NULL, g_string_free (said, FALSE));

  for (guint i = 0; i < hits->len; i++)
    {
      const WbAppBenchHit *hit = g_ptr_array_index (hits, i);

      if (hit->level == WB_CRAFT_NEAR)
        continue;
      if (said->len > 0)
        g_string_append (said, "; ");
      if (n++ == 0)
        g_string_append_printf (said, ANSWER_MARK " %s ", _("Seen to:"));
      g_string_append (said, hit->text);
    }
  return g_string_free (said, FALSE);
}

/* What is to be said, and by which limits it was told. */
typedef struct
{
  char              *why;
  GPtrArray         *limits;
  WbCraftTrendRounds rounds;
  WbInstant          lit_at;
  gboolean           us_units;
  gboolean           alight;
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
      g_autofree char *said = NULL;

      hits = wb_app_bench_check_look (answer->limits, reading->values, trends, i - 1, answer->lit_at, answer->us_units);
      keep_open (hits, reading->values, reading->note, answer->alight);
      if (hits->len == 0)
        continue;
      /* in its own words: the person was shown the worst of all */
      said = wb_app_bench_dup_answer (reading->note, hits);
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
      g_autofree char *said = NULL;

      if (logger->role != WB_ATTACHMENT_LOGGER)
        continue;
      hits = check_logger (answer->limits, logger, answer->alight, answer->us_units);
      if (hits->len == 0)
        continue;
      said = wb_app_bench_dup_answer (logger->note, hits);
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

static void
answer_async (WbAppBench         *self,
              gint64              sample_id,
              gboolean            out,
              const char         *text,
              GCancellable       *cancellable,
              GAsyncReadyCallback callback,
              gpointer            user)
{
  WbAppBenchSample *sample;
  Answer *answer;
  GTask *task;

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
  answer->alight = !out && wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_ALIGHT;
  answer->burn = wb_app_bench_sample_get_burn (sample)->record.id;
  g_task_set_task_data (task, answer, answer_free);
  /* From the file: what was saved a moment ago is there, and the bench may not have read it yet. */
  wb_app_query_list_by_async (wb_app_bench_get_notebook (self), &wb_reading_type, "burn", answer->burn, cancellable,
                              on_readings_cb, task);
}

void
wb_app_bench_answer_async (WbAppBench         *self,
                           gint64              sample,
                           const char         *text,
                           GCancellable       *cancellable,
                           GAsyncReadyCallback callback,
                           gpointer            user)
{
  g_return_if_fail (WB_IS_APP_BENCH (self));
  g_return_if_fail (text != NULL);

  answer_async (self, sample, FALSE, text, cancellable, callback, user);
}

void
wb_app_bench_answer_out_async (WbAppBench         *self,
                               gint64              sample,
                               const char         *text,
                               GCancellable       *cancellable,
                               GAsyncReadyCallback callback,
                               gpointer            user)
{
  g_return_if_fail (WB_IS_APP_BENCH (self));
  g_return_if_fail (text != NULL);

  answer_async (self, sample, TRUE, text, cancellable, callback, user);
}
