/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/* When the demo is written and commands run, and a good beginning for a window's clock. */
#define WB_E2E_NOW "2026-11-25T18:00:00+01:00"
/* The same with a clock that stands, for stories that write a time down: a busy machine takes its minutes. */
#define WB_E2E_STILL WB_E2E_NOW ",0"

/*
 * A folder for one story: its notebook, and the program's home, which so outlives a restart. Caller removes it
 * by wb_e2e_folder_remove(), which frees the name too.
 */
char                *wb_e2e_folder_new      (void);
void                 wb_e2e_folder_remove   (char *folder);
/* Writes the demo notebook, "demo.wickbench", into the folder, as the command does. */
void                 wb_e2e_folder_add_demo (const char *folder);
/*
 * Runs the program's command line, `verb` on the notebook `name` and further words up to NULL, and asserts that it
 * ended with 0. Its output; caller frees.
 */
char                *wb_e2e_folder_command  (const char *folder, const char *verb, const char *name, ...) G_GNUC_NULL_TERMINATED;
/* Starts programs that live in the folder: home and settings are there, the clock stands at WB_E2E_NOW. Caller unrefs. */
GSubprocessLauncher *wb_e2e_folder_launcher (const char *folder);

G_END_DECLS
