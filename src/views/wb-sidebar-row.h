/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-experiment.h"

G_BEGIN_DECLS

/* A row of the sidebar: a place of the notebook, or an experiment. */
#define WB_TYPE_SIDEBAR_ROW (wb_sidebar_row_get_type ())
G_DECLARE_FINAL_TYPE (WbSidebarRow, wb_sidebar_row, WB, SIDEBAR_ROW, GtkListBoxRow)

/* title: translated. place: static. */
GtkWidget  *wb_sidebar_row_new_place      (const char *place, const char *title);
GtkWidget  *wb_sidebar_row_new_experiment (WbAppExperiment *experiment);
/* Of a row of an experiment: what it is now. Words that say the same as before are not laid out again. */
void        wb_sidebar_row_set_experiment (WbSidebarRow *self, WbAppExperiment *experiment);
/* NULL for an experiment. */
const char *wb_sidebar_row_get_place      (WbSidebarRow *self);
/* NULL for a place. */
WbAppExperiment *wb_sidebar_row_get_experiment (WbSidebarRow *self);

G_END_DECLS
