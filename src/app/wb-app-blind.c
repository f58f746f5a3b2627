/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-blind.h"

#include "wb-app-query.h"
#include "wb-app-save-task-private.h"
#include "wb-craft-blind.h"

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
