/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-report-label-sheet.h"

G_BEGIN_DECLS

/*
 * The measures of a sheet of labels, to be typed in any unit of length. What is wrong is told at the field that is wrong, as soon
 * as it is typed. Signal "changed".
 */
#define WB_TYPE_SHEET_FORM (wb_sheet_form_get_type ())
G_DECLARE_FINAL_TYPE (WbSheetForm, wb_sheet_form, WB, SHEET_FORM, GtkWidget)

void       wb_sheet_form_set_us_units (WbSheetForm *self, gboolean us_units);
/* Without "changed". */
void       wb_sheet_form_set_sheet    (WbSheetForm *self, const WbReportLabelSheet *sheet);
/* FALSE: something is wrong, and says so; the sheet holds what can be read. Its shift is 0. */
gboolean   wb_sheet_form_get_sheet    (WbSheetForm *self, WbReportLabelSheet *sheet);
/* The field of a measure; borrowed. */
GtkWidget *wb_sheet_form_get_field    (WbSheetForm *self, WbReportLabelMeasure measure);

G_END_DECLS
