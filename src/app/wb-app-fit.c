/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-fit.h"

#include "wb-app-earlier-private.h"
#include "wb-app-query.h"

void
wb_app_fit_free (WbAppFit *self)
{
  if (self == NULL)
    return;
  g_clear_pointer (&self->estimates, wb_craft_estimates_free);
  g_clear_pointer (&self->figures, wb_craft_figures_free);
  g_clear_pointer (&self->data, wb_dataset_free);
  g_free (self);
}

WbAppFit *
wb_app_fit_sync (WbAppNotebook *notebook,
                 gint64         experiment,
                 WbStage        stage,
                 WbAppJob      *job,
                 GError       **error)
{
  g_autoptr (WbAppFit) self = g_new0 (WbAppFit, 1);
  g_autoptr (WbCraftEarlier) earlier = NULL;

  self->data = wb_app_query_dataset_sync (notebook, experiment, error);
  if (self->data == NULL)
    return NULL;
  if (!wb_app_earlier_learn (wb_app_notebook_get_path (notebook), self->data, 0, job, &earlier, error))
    return NULL;
  self->figures = wb_craft_figures_new (self->data);
  self->estimates = wb_craft_estimates_new (self->data, self->figures, stage, earlier, wb_app_job_keep_going, job);
  if (self->estimates != NULL)
    return g_steal_pointer (&self);
  g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_CANCELLED, "Cancelled");
  return NULL;
}

WbCraftEffects *
wb_app_fit_dup_effects (const WbAppFit *self,
                        WbFigure        figure)
{
  return wb_craft_effects_new (self->data, self->figures, self->estimates, figure);
}
