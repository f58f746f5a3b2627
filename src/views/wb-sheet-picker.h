/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-report-label-sheet.h"

G_BEGIN_DECLS

/*
 * A sheet of labels to scale, on which one clicks, or goes by the arrows, to the first label that is still there: those before it are
 * crossed out, for they are used; those that are to be printed are filled. One stop of the keyboard; arrows, Home and End
 * move. Node `sheetpicker`; a spin button to assistive technology, its value the number of the label, its text "Label 5 of 24".
 *
 * Signal "picked": the person chose another one.
 */
#define WB_TYPE_SHEET_PICKER (wb_sheet_picker_get_type ())
G_DECLARE_FINAL_TYPE (WbSheetPicker, wb_sheet_picker, WB, SHEET_PICKER, GtkWidget)

/* n_labels: so many are printed, the rest of them on the next sheets. */
void  wb_sheet_picker_set_sheet (WbSheetPicker *self, const WbReportLabelSheet *sheet, guint n_labels);
/* Where there is little room beside it. */
void  wb_sheet_picker_set_small (WbSheetPicker *self, gboolean is_small);
/* From 0. */
void  wb_sheet_picker_set_first (WbSheetPicker *self, guint first);
guint wb_sheet_picker_get_first (WbSheetPicker *self);
/* The label at a point of the widget; the number of places where there is none. What a click asks, and a test. */
guint wb_sheet_picker_find      (WbSheetPicker *self, double x, double y);

G_END_DECLS
