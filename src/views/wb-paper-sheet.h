/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-paper.h"

G_BEGIN_DECLS

/*
 * One page of a paper, as wide as it is given room. Drawn off the main thread,
 * and only while it is shown; white until then. Always paper: light in a dark theme too.
 * Node `papersheet`; a picture with the page's number as its label and its text as description.
 */
#define WB_TYPE_PAPER_SHEET (wb_paper_sheet_get_type ())
G_DECLARE_FINAL_TYPE (WbPaperSheet, wb_paper_sheet, WB, PAPER_SHEET, GtkWidget)

GtkWidget *wb_paper_sheet_new       (WbPaper *paper, guint page);
/* A sheet that is out of sight lets go of its picture. */
void       wb_paper_sheet_set_shown (WbPaperSheet *self, gboolean shown);
/* Its picture is of the size that it has now. */
gboolean   wb_paper_sheet_is_drawn  (WbPaperSheet *self);

G_END_DECLS
