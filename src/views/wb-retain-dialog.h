/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-retain.h"

G_BEGIN_DECLS

/* Keeps a sample as a reference, with its place and until when; of one that is kept already, keeps it longer or ends it. */
#define WB_TYPE_RETAIN_DIALOG (wb_retain_dialog_get_type ())
G_DECLARE_FINAL_TYPE (WbRetainDialog, wb_retain_dialog, WB, RETAIN_DIALOG, GtkWindow)

/* sample: copied. */
GtkWidget *wb_retain_dialog_new (GtkWidget *where, WbAppNotebook *notebook, const WbSample *sample);

G_END_DECLS
