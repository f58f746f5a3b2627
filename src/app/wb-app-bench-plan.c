/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-bench-plan.h"

#include "wb-app-error-private.h"
#include "wb-app-notebook-private.h"
#include "wb-app-reader-private.h"
#include "wb-craft-crossing.h"
#include "wb-craft-figures.h"
#include "wb-store-dataset.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define TOPIC "cohorts"

guint
wb_app_bench_plan_get_places (WbAppNotebook *notebook)
{
  const WbNotebook *settings = notebook != NULL ? wb_app_notebook_get_settings (notebook) : NULL;

  return settings != NULL && settings->bench_places >= 1 ? (guint) settings->bench_places : WB_APP_BENCH_PLAN_USUAL_PLACES;
}

void
wb_app_bench_plan_free (WbAppBenchPlan *self)
{
  if (self == NULL)
    return;
  g_clear_pointer (&self->cohorts, wb_craft_cohorts_free);
  g_clear_pointer (&self->data, wb_dataset_free);
  g_free (self->lives);
  g_free (self->over);
  g_free (self->burns);
  g_free (self);
}

/* What a thread is asked, and what came of it. */
typedef struct
{
  gint64     experiment;
  guint      places;
  WbAppJob  *job;
  gint64     sample;     /* of a move */
  gint64     cohort;
  char      *why;        /* out: of the entry */
  char      *words;      /* out: what a move does */
  GPtrArray *records;    /* out: to be saved */
} Question;

static Question *
question_new (WbAppNotebook *notebook,
              gint64         experiment)
{
  Question *self = g_new0 (Question, 1);

  self->experiment = experiment;
  self->places = wb_app_bench_plan_get_places (notebook);
  return self;
}

static void
question_free (gpointer data)
{
  Question *self = data;

  g_clear_object (&self->job);
  g_clear_pointer (&self->records, g_ptr_array_unref);
  g_free (self->why);
  g_free (self->words);
  g_free (self);
}

static WbAppBenchPlan *
read_plan (WbStore  *store,
           gint64    experiment,
           guint     places,
           GError  **error)
{
  g_autoptr (WbAppBenchPlan) self = g_new0 (WbAppBenchPlan, 1);
  g_autoptr (WbCraftFigures) figures = NULL;
  g_autofree WbCraftCrossing *crossings = NULL;
  GError *reason = NULL;

  self->data = wb_store_load_dataset (store, experiment, &reason);
  wb_app_error_propagate_read (error, reason);
  if (self->data == NULL)
    return NULL;
  figures = wb_craft_figures_new (self->data);
  self->places = places;
  self->cohorts = wb_craft_cohorts_read (self->data);
  self->lives = g_new (WbCraftLifetime, MAX (self->data->samples->len, 1));
  self->burns = g_new0 (guint, MAX (self->data->samples->len, 1));
  for (guint i = 0; i < self->data->samples->len; i++)
    {
      wb_craft_lifetime_of_sample (self->data, figures, i, &self->lives[i]);
      self->burns[i] = self->lives[i].burns_done;
      self->highest = MAX (self->highest, self->cohorts->cohorts[i]);
    }
  crossings = wb_craft_crossings_new (self->data);
  self->over = wb_craft_crossings_dup_over (crossings, self->data, figures);
  self->running = wb_craft_cohorts_find_running (self->data, self->over);
  return g_steal_pointer (&self);
}

static gpointer
load_thread (WbStore      *store,
             gpointer      data,
             GCancellable *cancellable,
             GError      **error)
{
  const Question *question = data;

  return read_plan (store, question->experiment, question->places, error);
}

void
wb_app_bench_plan_load_async (WbAppNotebook      *notebook,
                              gint64              experiment,
                              GCancellable       *cancellable,
                              GAsyncReadyCallback callback,
                              gpointer            user)
{
  GTask *task;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));

  task = g_task_new (notebook, cancellable, callback, user);
  g_task_set_source_tag (task, wb_app_bench_plan_load_async);
  wb_app_reader_run (notebook, task, load_thread, question_new (notebook, experiment), question_free, (GDestroyNotify) wb_app_bench_plan_free);
}

WbAppBenchPlan *
wb_app_bench_plan_load_finish (WbAppNotebook *notebook,
                               GAsyncResult  *result,
                               GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}

static gboolean
counts (const WbSample *sample)
{
  return sample->set_aside_cause < 0 && sample->set_aside == NULL && !sample->retained;
}

guint
wb_app_bench_plan_count (const WbAppBenchPlan *self,
                         gint64                cohort)
{
  guint n = 0;

  g_return_val_if_fail (self != NULL, 0);

  for (guint i = 0; i < self->data->samples->len; i++)
    n += self->cohorts->cohorts[i] == cohort && counts (wb_dataset_get_sample (self->data, i));
  return n;
}

double
wb_app_bench_plan_get_evenings (const WbAppBenchPlan *self,
                                gint64                cohort)
{
  double evenings = 0;

  g_return_val_if_fail (self != NULL, NAN);

  for (guint i = 0; i < self->data->samples->len; i++)
    {
      if (self->cohorts->cohorts[i] != cohort || self->over[i] || !counts (wb_dataset_get_sample (self->data, i)))
        continue;
      if (isnan (self->lives[i].burns_left))
        return NAN;
      evenings = fmax (evenings, self->lives[i].burns_left);
    }
  return evenings;
}

char *
wb_app_bench_plan_dup_refusal (const WbAppBenchPlan *self,
                               guint                 sample)
{
  const WbSample *record;

  g_return_val_if_fail (self != NULL && sample < self->data->samples->len, NULL);

  record = wb_dataset_get_sample (self->data, sample);
  if (!counts (record))
    return g_strdup_printf (_("%s is set aside or kept: it burns with none."), record->code);
  if (self->burns[sample] > 0)
    return g_strdup_printf (_("%s was burnt already: it stays with those that it began with."), record->code);
  return NULL;
}

/* Ends the task of a save whose records a thread has found. */
static void
on_saved_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      user)
{
  g_autoptr (GTask) task = user;
  Question *question = g_task_get_task_data (task);
  GError *error = NULL;

  wb_app_notebook_save_finish (WB_APP_NOTEBOOK (source), result, NULL, &error);
  if (error != NULL)
    g_task_return_error (task, error);
  else
    g_task_return_pointer (task, g_strdup (question->words != NULL ? question->words : ""), g_free);
}

/* What it was to find stands in the task's question. */
static void
on_found_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      user)
{
  g_autoptr (GTask) task = user;
  Question *found;
  GError *error = NULL;

  found = g_task_propagate_pointer (G_TASK (result), &error);
  if (found == NULL)
    {
      g_task_return_error (task, error);
      return;
    }
  g_task_set_task_data (task, found, question_free);
  if (found->records->len == 0)
    {
      g_task_return_pointer (task, g_strdup (found->words != NULL ? found->words : ""), g_free);
      return;
    }
  wb_app_notebook_save_topic_async (WB_APP_NOTEBOOK (source), TOPIC, found->why, found->records, NULL, on_saved_cb, g_steal_pointer (&task));
}

static void
run (WbAppNotebook      *notebook,
     Question           *question,
     WbAppReaderFunc     func,
     gpointer            tag,
     GCancellable       *cancellable,
     GAsyncReadyCallback callback,
     gpointer            user)
{
  GTask *task = g_task_new (notebook, cancellable, callback, user), *inner = g_task_new (notebook, cancellable, on_found_cb, task);

  g_task_set_source_tag (task, tag);
  /* what is in the file is told as saved, however late somebody cancelled */
  g_task_set_check_cancellable (task, FALSE);
  wb_app_reader_run (notebook, inner, func, question, question_free, question_free);
}

/* Of those whose cohort is another one than recorded, copies. */
static Question *
answer_new (const WbDataset      *data,
            const WbCraftCohorts *cohorts)
{
  Question *self = g_new0 (Question, 1);

  self->records = g_ptr_array_new_with_free_func (wb_record_free);
  for (guint i = 0; i < data->samples->len; i++)
    if (cohorts->cohorts[i] != MAX (wb_dataset_get_sample (data, i)->cohort, 0))
      {
        WbSample *sample = wb_record_copy (wb_dataset_get_sample (data, i));

        sample->cohort = cohorts->cohorts[i];
        g_ptr_array_add (self->records, sample);
      }
  return self;
}

static gpointer
make_thread (WbStore      *store,
             gpointer      data,
             GCancellable *cancellable,
             GError      **error)
{
  Question *question = data, *answer;
  g_autoptr (WbAppBenchPlan) plan = read_plan (store, question->experiment, question->places, error);
  g_autoptr (WbCraftCohorts) cohorts = NULL;

  if (plan == NULL)
    return NULL;
  if (plan->cohorts->n_counted + plan->cohorts->n_left_over == 0)
    {
      g_set_error_literal (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED, _("There is no sample to divide."));
      return NULL;
    }
  cohorts = wb_craft_cohorts_new (plan->data, question->places, (guint64) MAX (plan->data->experiment->seed, 1), wb_app_job_keep_going, question->job);
  wb_app_job_report (question->job, 1, NULL);
  if (cohorts == NULL)
    {
      g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_CANCELLED, "Cancelled");
      return NULL;
    }
  answer = answer_new (plan->data, cohorts);
  answer->why = g_strdup_printf (ngettext ("Divide %s into %u cohort", "Divide %s into %u cohorts", cohorts->n_cohorts),
                                 plan->data->experiment->code, cohorts->n_cohorts);
  return answer;
}

void
wb_app_bench_plan_make_async (WbAppNotebook      *notebook,
                              gint64              experiment,
                              WbAppJob           *job,
                              GAsyncReadyCallback callback,
                              gpointer            user)
{
  Question *question;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));

  question = question_new (notebook, experiment);
  g_set_object (&question->job, job);
  run (notebook, question, make_thread, wb_app_bench_plan_make_async, job != NULL ? wb_app_job_get_cancellable (job) : NULL, callback, user);
}

gboolean
wb_app_bench_plan_make_finish (WbAppNotebook *notebook,
                               GAsyncResult  *result,
                               GError       **error)
{
  g_autofree char *words = NULL;

  g_return_val_if_fail (g_task_is_valid (result, notebook), FALSE);
  words = g_task_propagate_pointer (G_TASK (result), error);
  return words != NULL;
}

/* What a move does to the comparisons, in a sentence. */
static char *
dup_cost (const char           *code,
          gint64                cohort,
          const WbCraftCohorts *before,
          const WbCraftCohorts *after)
{
  int was = (int) round (100 * before->efficiency), is = (int) round (100 * after->efficiency);

  if (isnan (before->efficiency) || isnan (after->efficiency) || before->n_counted != after->n_counted)
    /* Translators: a sample's code, a number. */
    return g_strdup_printf (_("%s is in cohort %d."), code, (int) cohort);
  if (is < was)
    return g_strdup_printf (_("%s is in cohort %d. That costs: %d of 100 parts of what one big bench would tell, before it was %d."), code,
                            (int) cohort, is, was);
  if (is > was)
    return g_strdup_printf (_("%s is in cohort %d. That is better: %d of 100 parts of what one big bench would tell, before it was %d."), code,
                            (int) cohort, is, was);
  return g_strdup_printf (_("%s is in cohort %d. The comparisons tell as much as before."), code, (int) cohort);
}

static gpointer
move_thread (WbStore      *store,
             gpointer      data,
             GCancellable *cancellable,
             GError      **error)
{
  Question *question = data, *answer;
  g_autoptr (WbAppBenchPlan) plan = read_plan (store, question->experiment, question->places, error);
  g_autoptr (WbCraftCohorts) after = NULL;
  g_autofree char *refusal = NULL;
  guint sample;

  if (plan == NULL)
    return NULL;
  sample = wb_dataset_find_sample (plan->data, question->sample);
  if (sample == G_MAXUINT)
    refusal = g_strdup (_("This sample is no longer in the notebook."));
  else if (question->cohort < 1 || question->cohort > plan->highest + 1)
    refusal = g_strdup (_("There is no such cohort."));
  else
    refusal = wb_app_bench_plan_dup_refusal (plan, sample);
  if (refusal != NULL)
    {
      g_set_error_literal (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED, refusal);
      return NULL;
    }
  after = wb_craft_cohorts_read_with (plan->data, sample, question->cohort);
  answer = answer_new (plan->data, after);
  answer->why = g_strdup_printf (_("Put %s into cohort %d"), wb_dataset_get_sample (plan->data, sample)->code, (int) question->cohort);
  answer->words = dup_cost (wb_dataset_get_sample (plan->data, sample)->code, question->cohort, plan->cohorts, after);
  return answer;
}

void
wb_app_bench_plan_move_async (WbAppNotebook      *notebook,
                              gint64              experiment,
                              gint64              sample,
                              gint64              cohort,
                              GCancellable       *cancellable,
                              GAsyncReadyCallback callback,
                              gpointer            user)
{
  Question *question;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));

  question = question_new (notebook, experiment);
  question->sample = sample;
  question->cohort = cohort;
  run (notebook, question, move_thread, wb_app_bench_plan_move_async, cancellable, callback, user);
}

char *
wb_app_bench_plan_move_finish (WbAppNotebook *notebook,
                               GAsyncResult  *result,
                               GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}
