/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-amend.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * Amends one record of a sample: its values as they stand, and why. What stood
 * there before stays in the record. A reading can also be taken out.
 */
#define WB_TYPE_AMEND_DIALOG (wb_amend_dialog_get_type ())
G_DECLARE_FINAL_TYPE (WbAmendDialog, wb_amend_dialog, WB, AMEND_DIALOG, GtkWindow)

/* where: in the window to ask in front of. inner_mm: of the sample's vessel, its wider axis. */
GtkWidget *wb_amend_dialog_new      (GtkWidget *where, WbAppNotebook *notebook, WbAppAmend *amend, WbAppAmendItem *item,
                                     double inner_mm, gboolean us_units);
/* The form: a WbAmendReading, or a WbRecordForm. */
GtkWidget *wb_amend_dialog_get_form (WbAmendDialog *self);

G_END_DECLS
