/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plan-beginning.h"

#include "wb-app-plan-draft.h"
#include "wb-app-plan-ladder.h"

void
wb_plan_beginning_clear (WbPlanBeginning *self)
{
  g_return_if_fail (self != NULL);

  g_clear_pointer (&self->model, wb_dataset_free);
  g_clear_pointer (&self->confirming, wb_app_touched_unref);
  g_clear_pointer (&self->samples, g_variant_unref);
  g_clear_pointer (&self->ladder, g_variant_unref);
  self->repeating = FALSE;
}

gint64
wb_plan_beginning_get_asked (const WbPlanBeginning *self)
{
  gint64 experiment = 0;

  g_return_val_if_fail (self != NULL, 0);

  if (self->confirming != NULL)
    return self->confirming->experiment;
  if (self->samples != NULL)
    g_variant_get_child (self->samples, 0, "x", &experiment);
  return experiment;
}

static void
fill_samples (const WbPlanBeginning *self,
              WbAppPlan             *plan)
{
  g_autoptr (GVariantIter) ids = NULL;
  g_autoptr (GArray) cells = g_array_new (FALSE, FALSE, sizeof (gint64));
  gint64 id;
  guint32 n;

  g_variant_get (self->samples, WB_PLAN_SAMPLES_FORMAT, NULL, &ids, &n);
  while (g_variant_iter_next (ids, "x", &id))
    g_array_append_val (cells, id);
  wb_app_plan_repeat_some (plan, self->model, cells, MAX (n, 1));
}

gboolean
wb_plan_beginning_fill (WbPlanBeginning *self,
                        WbAppPlan       *plan,
                        gboolean         changing,
                        WbAppDraft      *draft,
                        const char      *group)
{
  gboolean of_before = FALSE;

  g_return_val_if_fail (self != NULL, FALSE);
  g_return_val_if_fail (WB_IS_APP_PLAN (plan), FALSE);

  if (self->model != NULL && self->confirming != NULL)
    wb_app_touched_fill_plan (self->confirming, self->model, plan);
  else if (self->model != NULL && self->samples != NULL)
    fill_samples (self, plan);
  else if (self->model != NULL && self->repeating)
    wb_app_plan_repeat (plan, self->model);
  else if (self->model != NULL)
    wb_app_plan_take (plan, self->model, changing);
  else if (self->ladder != NULL)
    wb_app_plan_ladder_fill (plan, self->ladder);
  else if (draft == NULL || !wb_app_plan_put_back (plan, wb_app_draft_get_file (draft), group))
    wb_app_plan_choose_only (plan);
  else
    of_before = TRUE;
  self->repeating = FALSE;
  g_clear_pointer (&self->model, wb_dataset_free);
  g_clear_pointer (&self->samples, g_variant_unref);
  g_clear_pointer (&self->ladder, g_variant_unref);
  return of_before;
}
