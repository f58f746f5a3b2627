/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * The application: one process, one window a notebook. Opening a notebook that
 * is open presents its window.
 *
 * Actions: app.new, app.open, app.open-last (state: its path, "" for none),
 * app.open-path (s), app.demo (writes the demo notebook and opens it), app.preferences, app.evenings (there, of the bench), app.shortcuts, app.about, app.quit.
 */
#define WB_TYPE_APPLICATION (wb_application_get_type ())
G_DECLARE_FINAL_TYPE (WbApplication, wb_application, WB, APPLICATION, GtkApplication)

WbApplication *wb_application_new  (void);
/* Runs the window program on argv and returns its exit status: 3 where there is no display. */
int            wb_application_run  (int argc, char **argv);

G_END_DECLS
