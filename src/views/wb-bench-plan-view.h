/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * The bench plan of an experiment: its cohorts with their samples, what dividing the bench costs, in words, and how many evenings
 * each cohort takes. Makes the plan, anew too, and moves a sample by drag and drop, from its menu, or by the keyboard.
 */
#define WB_TYPE_BENCH_PLAN_VIEW (wb_bench_plan_view_get_type ())
G_DECLARE_FINAL_TYPE (WbBenchPlanView, wb_bench_plan_view, WB, BENCH_PLAN_VIEW, GtkWidget)

/* Reads it off the main thread, anew at each call; what stands there stays until then, if it is of the same experiment. notebook NULL: lets go of all. */
void wb_bench_plan_view_set (WbBenchPlanView *self, WbAppNotebook *notebook, gint64 experiment);

G_END_DECLS
