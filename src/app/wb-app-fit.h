/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-job.h"
#include "wb-app-notebook.h"
#include "wb-craft-effects.h"

G_BEGIN_DECLS

/* Figures and estimates of one experiment without the ranking: for the commands. All block. */
typedef struct
{
  WbDataset        *data;
  WbCraftFigures   *figures;
  WbCraftEstimates *estimates;
} WbAppFit;

/* NULL is let pass. */
void            wb_app_fit_free         (WbAppFit *self);
/* stage WB_STAGE_ALL: the whole life. */
WbAppFit       *wb_app_fit_sync         (WbAppNotebook *notebook, gint64 experiment, WbStage stage, WbAppJob *job, GError **error);
/* What vessel, wick and scent do to one figure; the caller frees it before the fit. */
WbCraftEffects *wb_app_fit_dup_effects  (const WbAppFit *self, WbFigure figure);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbAppFit, wb_app_fit_free)

G_END_DECLS
