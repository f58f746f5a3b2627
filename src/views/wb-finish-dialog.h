/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-decision.h"

G_BEGIN_DECLS

/* An experiment is finished though nothing of it is chosen, with the maker's reason, which the record keeps. Undo opens it again. */
#define WB_TYPE_FINISH_DIALOG (wb_finish_dialog_get_type ())
G_DECLARE_FINAL_TYPE (WbFinishDialog, wb_finish_dialog, WB, FINISH_DIALOG, GtkWindow)

/* experiment: copied. */
GtkWidget *wb_finish_dialog_new (GtkWidget *where, WbAppNotebook *notebook, const WbExperiment *experiment);

G_END_DECLS
