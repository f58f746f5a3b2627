/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-experiment.h"

G_BEGIN_DECLS

/*
 * What there is to open: Today, the experiments by what they wait for with
 * their number, and the notebook's own pages. Signal "chosen" (string place or NULL,
 * gint64 experiment or 0), only for what the person chose.
 */
#define WB_TYPE_SIDEBAR (wb_sidebar_get_type ())
G_DECLARE_FINAL_TYPE (WbSidebar, wb_sidebar, WB, SIDEBAR, GtkWidget)

/* NULL: no notebook; only Today stands there. */
void wb_sidebar_set_experiments (WbSidebar *self, WbAppExperiments *experiments);
/* Marks what is open; experiment 0: the place. Emits nothing. */
void wb_sidebar_select          (WbSidebar *self, const char *place, gint64 experiment);

G_END_DECLS
