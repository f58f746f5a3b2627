/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-notebook.h"
#include "wb-material.h"

G_BEGIN_DECLS

/*
 * A vessel measured step by step, in the order in which hands do it, with the vessel drawn to scale beside it and what does
 * not go together told at once. Enter goes on, at the end it saves; Escape asks before it drops what was typed.
 * Signals: "saved" (gint64 id): the vessel is in the notebook; "instead": the person goes on in the form, take what was typed.
 */
#define WB_TYPE_MEASURE_DIALOG (wb_measure_dialog_get_type ())
G_DECLARE_FINAL_TYPE (WbMeasureDialog, wb_measure_dialog, WB, MEASURE_DIALOG, GtkWindow)

/* vessel: copied, id 0 for a new one. others: WbVessel of the notebook, against two of one name; copied. */
GtkWidget      *wb_measure_dialog_new        (GtkWidget *where, WbAppNotebook *notebook, const WbVessel *vessel, GPtrArray *others);
/* Where there is no form to go on in. */
void            wb_measure_dialog_hide_instead (WbMeasureDialog *self);
/* As it would be saved now; caller frees. */
WbVessel       *wb_measure_dialog_dup_vessel (WbMeasureDialog *self);
/* What was typed in all steps, right or wrong, as wb_record_form_keep() has it; a scale's reading as the water that it means. */
void            wb_measure_dialog_keep       (WbMeasureDialog *self, GKeyFile *file, const char *group);

G_END_DECLS
