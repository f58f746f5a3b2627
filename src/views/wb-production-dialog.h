/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-decision-papers.h"
#include "wb-app-touched.h"

G_BEGIN_DECLS

/*
 * Asks for how many vessels of a signed recipe, and in what pot; shows the production sheet (WbPaperDialog) and closes. Nothing is saved.
 */
#define WB_TYPE_PRODUCTION_DIALOG (wb_production_dialog_get_type ())
G_DECLARE_FINAL_TYPE (WbProductionDialog, wb_production_dialog, WB, PRODUCTION_DIALOG, GtkWindow)

/* data: the decision's experiment; read only while the dialog is made. Present it. */
GtkWidget *wb_production_dialog_new (GtkWidget *where, WbAppNotebook *notebook, const WbDataset *data, const WbAppTouched *decision);

G_END_DECLS
