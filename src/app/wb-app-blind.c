/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-blind.h"

#include "wb-app-inspection.h"
#include "wb-app-query.h"
#include "wb-app-save-task-private.h"
#include "wb-craft-blind.h"
#include "wb-report-label-code.h"

#include <glib/gi18n-lib.h>

typedef struct
{
  WbAppBench   *bench;
  gint64        id;
  WbExperiment *experiment;
} Draw;

static void
draw_free (gpointer data)
{
  Draw *self = data;

  g_object_unref (self->bench);
  g_clear_pointer (&self->experiment, wb_record_free);
  g_free (self);
}

static gboolean
is_burnt_out (WbAppBench     *bench,
              const WbSample *sample)
{
  WbAppBenchSample *there = wb_app_bench_find (bench, sample->record.id);

  return there != NULL && wb_app_bench_sample_get_state (there) == WB_APP_BENCH_ENDED;
}

/* Copies of those that get a code. */
static GPtrArray *
draw_codes (const Draw      *draw,
            const GPtrArray *samples)
{
  g_autoptr (GPtrArray) without = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GArray) taken = g_array_new (FALSE, FALSE, sizeof (guint)), old = g_array_new (FALSE, FALSE, sizeof (guint));
  g_autofree guint *codes = NULL;

  for (guint i = 0; i < samples->len; i++)
    {
      const WbSample *sample = g_ptr_array_index (samples, i);
      guint code = (guint) MAX (sample->blind_code, 0);

      if (code > 0)
        g_array_append_val (is_burnt_out (draw->bench, sample) ? old : taken, code);
      else if (sample->experiment == draw->id)
        g_ptr_array_add (without, wb_record_copy (sample));
    }
  codes = g_new0 (guint, without->len + 1);
  if (wb_craft_blind_draw ((guint64) draw->experiment->seed, taken, old, without->len, codes) < without->len)
    return NULL;
  for (guint i = 0; i < without->len; i++)
    ((WbSample *) g_ptr_array_index (without, i))->blind_code = codes[i];
  return g_steal_pointer (&without);
}

static void
on_samples_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      user)
{
  GTask *task = user;
  const Draw *draw = g_task_get_task_data (task);
  g_autoptr (GPtrArray) samples = NULL;
  g_autoptr (GPtrArray) drawn = NULL;
  g_autofree char *why = NULL;
  GError *error = NULL;

  samples = wb_app_query_list_finish (WB_APP_NOTEBOOK (source), result, &error);
  if (samples == NULL)
    {
      g_task_return_error (task, error);
      g_object_unref (task);
      return;
    }
  drawn = draw_codes (draw, samples);
  if (drawn == NULL || drawn->len == 0)
    {
      wb_app_save_task_refuse (task, g_strdup (drawn == NULL ? _("No number of three digits is left: too many samples carry one.")
                                                             : _("Each sample has a blind code already.")));
      return;
    }
  /* Translators: an entry of the record; code of the experiment. */
  why = g_strdup_printf (_("Blind codes for %s"), draw->experiment->code);
  wb_app_notebook_save_async (WB_APP_NOTEBOOK (source), why, drawn, NULL, wb_app_save_task_end_cb, task);
}

static void
on_experiment_cb (GObject      *source,
                  GAsyncResult *result,
                  gpointer      user)
{
  GTask *task = user;
  Draw *draw = g_task_get_task_data (task);
  GError *error = NULL;

  draw->experiment = wb_app_query_get_finish (WB_APP_NOTEBOOK (source), result, &error);
  if (draw->experiment == NULL)
    {
      g_task_return_error (task, error);
      g_object_unref (task);
      return;
    }
  wb_app_query_list_async (WB_APP_NOTEBOOK (source), &wb_sample_type, NULL, on_samples_cb, task);
}

void
wb_app_blind_draw_async (WbAppBench         *bench,
                         WbAppNotebook      *notebook,
                         gint64              experiment,
                         GCancellable       *cancellable,
                         GAsyncReadyCallback callback,
                         gpointer            user)
{
  GTask *task;
  Draw *draw;

  g_return_if_fail (WB_IS_APP_BENCH (bench) && WB_IS_APP_NOTEBOOK (notebook));

  task = wb_app_save_task_new (notebook, wb_app_blind_draw_async, cancellable, callback, user);
  draw = g_new0 (Draw, 1);
  draw->bench = g_object_ref (bench);
  draw->id = experiment;
  g_task_set_task_data (task, draw, draw_free);
  wb_app_query_get_async (notebook, &wb_experiment_type, experiment, NULL, on_experiment_cb, task);
}

gboolean
wb_app_blind_draw_finish (WbAppNotebook *notebook,
                          GAsyncResult  *result,
                          GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), FALSE);
  return g_task_propagate_boolean (G_TASK (result), error);
}

/* ---- Rating ---- */

guint
wb_app_blind_get_code (WbAppBenchSample *sample)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (sample), 0);

  return (guint) MAX (wb_app_bench_sample_get_record (sample)->blind_code, 0);
}

static gboolean
is_meant (WbAppBenchSample *sample,
          guint             digits,
          const WbUuid     *label)
{
  if (label != NULL)
    return wb_uuid_equal (label, &wb_app_bench_sample_get_record (sample)->uuid);
  return digits > 0 && wb_app_blind_get_code (sample) == digits && wb_app_bench_sample_get_state (sample) != WB_APP_BENCH_ENDED;
}

WbAppBenchSample *
wb_app_blind_find (WbAppBench *bench,
                   const char *text)
{
  g_autofree char *word = g_strstrip (g_strdup (text));
  gboolean is_label;
  guint64 digits = 0;
  WbUuid uuid;

  g_return_val_if_fail (WB_IS_APP_BENCH (bench) && text != NULL, NULL);

  is_label = wb_report_label_code_parse (word, &uuid);
  if (!is_label && !g_ascii_string_to_unsigned (word, 10, WB_CRAFT_BLIND_LEAST, WB_CRAFT_BLIND_MOST, &digits, NULL))
    return NULL;
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (bench)); i++)
    {
      g_autoptr (WbAppBenchSample) sample = g_list_model_get_item (G_LIST_MODEL (bench), i);

      if (is_meant (sample, (guint) digits, is_label ? &uuid : NULL))
        return sample; /* the bench keeps it */
    }
  return NULL;
}

static void
on_read_cb (GObject      *bench,
            GAsyncResult *result,
            gpointer      user)
{
  g_autoptr (GTask) task = user;
  GError *error = NULL;

  if (wb_app_bench_finish (WB_APP_BENCH (bench), result, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void
on_looked_cb (GObject      *notebook,
              GAsyncResult *result,
              gpointer      user)
{
  g_autoptr (GTask) task = user;
  GError *error = NULL;

  if (wb_app_inspection_add_finish (WB_APP_NOTEBOOK (notebook), result, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void
read_throw (WbAppBench       *bench,
            WbAppBenchSample *sample,
            int               throw_,
            const char       *rater,
            GTask            *task)
{
  g_autoptr (WbRecord) record = wb_record_new (&wb_reading_type);
  WbReading *reading = (WbReading *) record;

  reading->values[WB_COLUMN_THROW] = throw_;
  reading->values[WB_COLUMN_THROW_BLIND] = 1;
  reading->rater = g_strdup (rater);
  wb_app_bench_read_async (bench, wb_app_bench_sample_get_id (sample), reading, NULL, on_read_cb, task);
}

static void
look_at (WbAppNotebook    *notebook,
         WbAppBenchSample *sample,
         int               throw_,
         const char       *rater,
         GTask            *task)
{
  g_autoptr (WbRecord) record = wb_record_new (&wb_inspection_type);
  WbInspection *look = (WbInspection *) record;
  guint digits = wb_app_blind_get_code (sample);
  g_autofree char *name = digits > 0 ? g_strdup_printf ("%u", digits) : g_strdup (_("a sample, blind"));

  look->sample = wb_app_bench_sample_get_id (sample);
  look->cold_throw = throw_;
  look->rater = g_strdup (rater);
  wb_app_inspection_add_async (notebook, look, name, NULL, on_looked_cb, task);
}

void
wb_app_blind_rate_async (WbAppBench         *bench,
                         WbAppNotebook      *notebook,
                         WbAppBenchSample   *sample,
                         int                 throw_,
                         const char         *rater,
                         GCancellable       *cancellable,
                         GAsyncReadyCallback callback,
                         gpointer            user)
{
  g_autofree char *who = g_strstrip (g_strdup (rater != NULL ? rater : ""));
  GTask *task;

  g_return_if_fail (WB_IS_APP_BENCH (bench) && WB_IS_APP_NOTEBOOK (notebook) && WB_IS_APP_BENCH_SAMPLE (sample));
  g_return_if_fail (throw_ >= 1 && throw_ <= 5);

  task = wb_app_save_task_new (notebook, wb_app_blind_rate_async, cancellable, callback, user);
  if (*who == '\0')
    wb_app_save_task_refuse (task, g_strdup (_("Say who rates.")));
  else if (wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_ALIGHT)
    read_throw (bench, sample, throw_, who, task);
  else
    look_at (notebook, sample, throw_, who, task);
}

gboolean
wb_app_blind_rate_finish (WbAppNotebook *notebook,
                          GAsyncResult  *result,
                          GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), FALSE);
  return g_task_propagate_boolean (G_TASK (result), error);
}
