/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-bench.h"

G_BEGIN_DECLS

/* Sets a sample aside with its cause: it stays in record and report, and leaves the estimates. Closes once that is saved. */
#define WB_TYPE_ASIDE_DIALOG (wb_aside_dialog_get_type ())
G_DECLARE_FINAL_TYPE (WbAsideDialog, wb_aside_dialog, WB, ASIDE_DIALOG, GtkWindow)

GtkWidget *wb_aside_dialog_new (GtkWidget *where, WbAppBench *bench, WbAppBenchSample *sample);

G_END_DECLS
