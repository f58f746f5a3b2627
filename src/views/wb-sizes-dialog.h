/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-query.h"

G_BEGIN_DECLS

/*
 * Several sizes of a wick's series at once, as one entry: series, sizes in one line, what they have in common, and where wanted
 * the diameters that the supplier gives for each. What will be made is listed as it is typed; a size that is there already stays
 * as it is. Signal "saved" (gint64 id): of the smallest new one.
 */
#define WB_TYPE_SIZES_DIALOG (wb_sizes_dialog_get_type ())
G_DECLARE_FINAL_TYPE (WbSizesDialog, wb_sizes_dialog, WB, SIZES_DIALOG, GtkWindow)

/* like: a wick whose series, supplier and kind are offered; NULL: none. materials: its wicks and waxes are copied. */
GtkWidget *wb_sizes_dialog_new (GtkWidget *where, WbAppNotebook *notebook, const WbWick *like, const WbAppMaterials *materials);

G_END_DECLS
