/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-pour.h"

G_BEGIN_DECLS

/* Asks on what the labels of a batch are printed, and where on the first sheet they begin; then shows them. */
#define WB_TYPE_LABELS_DIALOG (wb_labels_dialog_get_type ())
G_DECLARE_FINAL_TYPE (WbLabelsDialog, wb_labels_dialog, WB, LABELS_DIALOG, GtkWindow)

/* Takes a reference on the pour. letter: proposes a sheet of that paper. Present it. */
GtkWidget *wb_labels_dialog_new (GtkWidget *where, WbAppPour *pour, guint batch, gboolean letter);

G_END_DECLS
