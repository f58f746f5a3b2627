/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-plan.h"
#include "wb-desk.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * The form of an experiment being planned: question, materials of the grid,
 * the grid, what it costs. What is typed goes into the plan at once; nothing
 * is saved here. Problems that only say "not yet" stay quiet until
 * wb_plan_editor_check. Signal "changed": the person changed something.
 */
#define WB_TYPE_PLAN_EDITOR (wb_plan_editor_get_type ())
G_DECLARE_FINAL_TYPE (WbPlanEditor, wb_plan_editor, WB, PLAN_EDITOR, GtkWidget)

/* A new plan, shown from the start. Takes references; both NULL: none. */
void        wb_plan_editor_set_plan          (WbPlanEditor *self, WbDesk *desk, WbAppPlan *plan);
/* After wb_app_plan_set_materials: offers what there is now, and leaves what is typed alone. */
void        wb_plan_editor_refresh           (WbPlanEditor *self);
/* The person changed something since the plan was set. */
gboolean    wb_plan_editor_get_touched       (WbPlanEditor *self);
/* Shows everything that stands in the way, and puts the focus into the first of it; TRUE: nothing does. */
gboolean    wb_plan_editor_check             (WbPlanEditor *self);
/* Says what is missing already, as after a try to save; the keyboard stays where it is. */
void        wb_plan_editor_tell              (WbPlanEditor *self);
/* The words shown at a field of a WbAppPlanProblem; NULL: none. */
const char *wb_plan_editor_get_problem       (WbPlanEditor *self, const char *field);

G_END_DECLS
