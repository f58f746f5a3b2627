/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * Listens for a scanner that types, in a window and in the windows that stand before it: keeps a label's code out of whatever
 * field has the keyboard, and gives a hand's keys back in their order.
 *
 * Signals: "scanned" (GtkWindow *where, string code); "misread" (GtkWindow *where): it had the length of a code, but its check
 * character is wrong; what it typed went to the field. Main thread.
 */
#define WB_TYPE_SCANNER (wb_scanner_get_type ())
G_DECLARE_FINAL_TYPE (WbScanner, wb_scanner, WB, SCANNER, GObject)

/* Caller owns it; the window is borrowed and outlives it, until g_object_run_dispose. */
WbScanner *wb_scanner_new (GtkWindow *window);

G_END_DECLS
