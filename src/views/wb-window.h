/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-host.h"
#include "wb-page.h"

G_BEGIN_DECLS

/*
 * The window of one notebook: what waits in the sidebar, the open page beside
 * it. Without a notebook it shows Today with the ways to get one. It is the host
 * of all that stands in it.
 *
 * Actions, all usable from a page by gtk_widget_activate_action:
 *   win.show (s)            a place by name; a page of an experiment keeps the one that is open
 *   win.go ((sx))           a place with an experiment: ("compare", 7)
 *   win.open-experiment (x) an experiment at the page that it waits for
 *   win.new-experiment      the plan page with no experiment
 *   win.import, win.export  files in and out; win.export-experiment the open experiment alone
 *   win.export-calendar     what is to come, for a calendar
 *   win.log-sheet           the paper for an evening with the open experiment
 *   win.bench-plan          the paper with its evenings, places and cohorts
 *   win.rate-blind          the throw of samples that carry three digits
 *   win.restore             backups of the notebook, and the way back from them
 *   win.undo, win.redo, win.close
 */
#define WB_TYPE_WINDOW (wb_window_get_type ())
G_DECLARE_FINAL_TYPE (WbWindow, wb_window, WB, WINDOW, GtkApplicationWindow)

GtkWidget     *wb_window_new             (GtkApplication *application, WbAppSettings *settings);
/* NULL closes what is open. The window closes the notebook when it goes. */
void           wb_window_set_notebook    (WbWindow *self, WbAppNotebook *notebook);
/* The visible page; never NULL once shown. */
WbPage        *wb_window_get_page        (WbWindow *self);
/* Shows a place; makes its page if need be. FALSE: no such place, or the visible page would not be left. */
gboolean       wb_window_go              (WbWindow *self, const char *place, gint64 experiment);

G_END_DECLS
