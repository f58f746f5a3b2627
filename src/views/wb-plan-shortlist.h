/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-plan.h"
#include "wb-desk.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * "Which of these?" in the form of a plan: asks which of the wicks chosen to burn first, shows the answer with a reason
 * for each, takes it, and puts back what was chosen before. The answer goes when the plan is another than the one that
 * it speaks of. Signal "taken": the plan's wicks are others, by the person's click.
 */
#define WB_TYPE_PLAN_SHORTLIST (wb_plan_shortlist_get_type ())
G_DECLARE_FINAL_TYPE (WbPlanShortlist, wb_plan_shortlist, WB, PLAN_SHORTLIST, GtkWidget)

/* Both NULL: none. */
void        wb_plan_shortlist_set_plan   (WbPlanShortlist *self, WbDesk *desk, WbAppPlan *plan);
/* The sentence shown; NULL: none. */
const char *wb_plan_shortlist_get_answer (WbPlanShortlist *self);

G_END_DECLS
