/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-plan-private.h"

#include "wb-app-notebook-private.h"

#include <glib/gi18n-lib.h>

/*
 * From what is half planned to its one entry: what stands in the way, then samples and experiments as they are by now, for codes are
 * unique in the notebook and a plan that is changed may have been poured meanwhile, then the records.
 */

/* The first that stands in the way; NULL: none. */
static const WbAppPlanProblem *
find_obstacle (WbAppPlan *self)
{
  const GPtrArray *problems = wb_app_plan_get_problems (self);

  for (guint i = 0; i < problems->len; i++)
    {
      const WbAppPlanProblem *problem = g_ptr_array_index (problems, i);

      if (problem->blocks)
        return problem;
    }
  return NULL;
}

gboolean
wb_app_plan_is_complete (WbAppPlan *self)
{
  g_return_val_if_fail (WB_IS_APP_PLAN (self), FALSE);
  return find_obstacle (self) == NULL;
}

static void
on_saved_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      user_data)
{
  g_autoptr (GTask) task = user_data;
  g_autoptr (GArray) ids = NULL;
  g_autoptr (GPtrArray) records = g_ptr_array_ref (g_task_get_task_data (task));
  g_autoptr (GError) error = NULL;

  wb_app_notebook_save_finish (WB_APP_NOTEBOOK (source), result, &ids, &error);
  if (error != NULL)
    {
      g_task_return_error (task, g_steal_pointer (&error));
      return;
    }
  for (guint i = 0; i < records->len; i++)
    if (((const WbRecord *) g_ptr_array_index (records, i))->type == &wb_experiment_type)
      {
        gint64 *id = g_memdup2 (&g_array_index (ids, gint64, i), sizeof (gint64));

        g_task_return_pointer (task, id, g_free);
        return;
      }
  g_assert_not_reached ();
}

/* Whether another experiment is burnt by the protocol that the plan would amend. */
static gboolean
shares_protocol (const GPtrArray    *experiments,
                 const WbExperiment *own)
{
  for (guint i = 0; i < experiments->len; i++)
    {
      const WbExperiment *other = wb_app_experiment_get_record (g_ptr_array_index (experiments, i));

      if (other->record.id != own->record.id && other->protocol == own->protocol)
        return TRUE;
    }
  return FALSE;
}

static void
on_experiments_cb (GObject      *source,
                   GAsyncResult *result,
                   gpointer      user_data)
{
  g_autoptr (GTask) task = user_data;
  WbAppPlan *self = g_task_get_source_object (task);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) experiments = wb_app_query_experiments_finish (WB_APP_NOTEBOOK (source), result, &error);
  g_autofree char *code = NULL, *why = NULL;
  g_auto (GStrv) codes = NULL;
  WbAppPlanFacts facts;
  GPtrArray *records;

  if (experiments == NULL)
    {
      g_task_return_error (task, g_steal_pointer (&error));
      return;
    }
  facts = wb_app_plan_get_facts (self);
  code = facts.former != NULL ? g_strdup (facts.experiment->code) : wb_app_plan_dup_free_code (experiments);
  codes = wb_app_plan_dup_codes (self);
  facts.shares_protocol = facts.former != NULL && shares_protocol (experiments, facts.experiment);
  records = wb_app_plan_dup_records (&facts, wb_app_plan_get_cells (self), (const char *const *) codes, code);
  why = facts.former != NULL ? g_strdup_printf (_("Change the plan of %s"), code)
                             : g_strdup_printf (_("Plan %s, “%s”"), code, facts.experiment->title);
  g_task_set_task_data (task, records, (GDestroyNotify) g_ptr_array_unref);
  wb_app_notebook_save_topic_async (wb_app_plan_get_notebook (self), "plan", why, records, g_task_get_cancellable (task),
                                    on_saved_cb, g_object_ref (task));
}

/* As they are now: another plan may have been saved since this one was begun. */
static void
on_samples_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      user_data)
{
  GTask *task = user_data;
  WbAppPlan *self = g_task_get_source_object (task);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) samples = wb_app_query_list_finish (WB_APP_NOTEBOOK (source), result, &error);
  WbAppPlanFacts facts;

  if (samples == NULL)
    {
      g_task_return_error (task, g_steal_pointer (&error));
      g_object_unref (task);
      return;
    }
  facts = wb_app_plan_get_facts (self);
  if (wb_app_plan_is_outdated (&facts, samples))
    {
      g_task_return_new_error (task, WB_APP_ERROR, WB_APP_ERROR_CHANGED,
                               _("%s is another than when this change was begun: a sample of it was poured, added or taken out meanwhile."),
                               facts.experiment->code);
      g_object_unref (task);
      return;
    }
  wb_app_plan_take_samples (self, g_steal_pointer (&samples));
  wb_app_query_experiments_async (wb_app_plan_get_notebook (self), g_task_get_cancellable (task), on_experiments_cb, task);
}

void
wb_app_plan_save_async (WbAppPlan          *self,
                        GCancellable       *cancellable,
                        GAsyncReadyCallback callback,
                        gpointer            user)
{
  const WbAppPlanProblem *obstacle;
  GTask *task;

  g_return_if_fail (WB_IS_APP_PLAN (self));
  task = g_task_new (self, cancellable, callback, user);
  g_task_set_source_tag (task, wb_app_plan_save_async);
  g_task_set_check_cancellable (task, FALSE);
  wb_app_plan_touch (self);
  obstacle = find_obstacle (self);
  if (obstacle != NULL)
    {
      g_task_return_new_error (task, WB_APP_ERROR, WB_APP_ERROR_REFUSED, "%s", obstacle->text);
      g_object_unref (task);
      return;
    }
  wb_app_query_list_async (wb_app_plan_get_notebook (self), &wb_sample_type, cancellable, on_samples_cb, task);
}

gint64
wb_app_plan_save_finish (WbAppPlan    *self,
                         GAsyncResult *result,
                         GError      **error)
{
  g_autofree gint64 *id = NULL;

  g_return_val_if_fail (g_task_is_valid (result, self), 0);
  id = g_task_propagate_pointer (G_TASK (result), error);
  return id != NULL ? *id : 0;
}
