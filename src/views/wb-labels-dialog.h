/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-pour.h"

G_BEGIN_DECLS

/* Asks what is printed for a batch, labels or bench cards, on which sheets and where on the first one it begins, and shows the first page. */
#define WB_TYPE_LABELS_DIALOG (wb_labels_dialog_get_type ())
G_DECLARE_FINAL_TYPE (WbLabelsDialog, wb_labels_dialog, WB, LABELS_DIALOG, GtkWindow)

/* Takes a reference on the pour. letter: proposes a sheet of that paper. Present it. */
GtkWidget *wb_labels_dialog_new (GtkWidget *where, WbAppPour *pour, guint batch, gboolean letter);
/* TRUE: the preview shows what is chosen; FALSE: it is being set. */
gboolean   wb_labels_dialog_is_set (WbLabelsDialog *self);

G_END_DECLS
