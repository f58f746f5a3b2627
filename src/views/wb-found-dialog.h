/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-bench.h"

G_BEGIN_DECLS

/*
 * Burns that were alight when the notebook was opened: for each, whether it
 * burns still, or when and how it ended. What is not known is kept as not
 * known. Saves each end on its own; closes once all of them are saved.
 */
#define WB_TYPE_FOUND_DIALOG (wb_found_dialog_get_type ())
G_DECLARE_FINAL_TYPE (WbFoundDialog, wb_found_dialog, WB, FOUND_DIALOG, GtkWindow)

GtkWidget *wb_found_dialog_new (GtkWidget *where, WbAppBench *bench);

G_END_DECLS
