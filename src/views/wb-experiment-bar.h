/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-experiment.h"

G_BEGIN_DECLS

/* Above the pages of an experiment: its name, what it waits for, and a tab a page ("win.show"). */
#define WB_TYPE_EXPERIMENT_BAR (wb_experiment_bar_get_type ())
G_DECLARE_FINAL_TYPE (WbExperimentBar, wb_experiment_bar, WB, EXPERIMENT_BAR, GtkWidget)

/* NULL: one that is being planned; it has no other pages yet. */
void wb_experiment_bar_set_experiment (WbExperimentBar *self, WbAppExperiment *experiment);

G_END_DECLS
