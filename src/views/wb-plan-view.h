/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"
#include "wb-dataset.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* The plan of an experiment as it stands in the notebook: question, materials, grid with the samples' codes, bench plan, protocol, limits. */
#define WB_TYPE_PLAN_VIEW (wb_plan_view_get_type ())
G_DECLARE_FINAL_TYPE (WbPlanView, wb_plan_view, WB, PLAN_VIEW, GtkWidget)

/* Borrowed for this call only. us_units: which units are read. */
void wb_plan_view_show (WbPlanView *self, const WbDataset *data, gboolean us_units);
/* After that: what it has changed of the experiment that it repeats. */
void wb_plan_view_show_repeated (WbPlanView *self, const WbDataset *data, const WbDataset *repeated);

/* Its bench plan, which reads itself, anew at each call; notebook NULL: lets go of it. */
void wb_plan_view_show_bench (WbPlanView *self, WbAppNotebook *notebook, gint64 experiment);

G_END_DECLS
