/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-paper.h"

G_BEGIN_DECLS

/*
 * A window with a paper's pages, which writes it as a PDF or prints it: batch
 * sheet, labels, log sheet. It stands beside the window that it came from, so that work goes on there.
 *
 * Actions: paper.write-pdf, paper.print, paper.close. Signal "used": it was printed, or written as a PDF.
 */
#define WB_TYPE_PAPER_DIALOG (wb_paper_dialog_get_type ())
G_DECLARE_FINAL_TYPE (WbPaperDialog, wb_paper_dialog, WB, PAPER_DIALOG, GtkWindow)

/* Takes a reference on the paper. `name`: of the print job, and of the file without its ending. Present it. */
GtkWidget *wb_paper_dialog_new   (GtkWidget *where, WbPaper *paper, const char *title, const char *name);
/* What paper.write-pdf does once the file is chosen. */
void       wb_paper_dialog_write (WbPaperDialog *self, const char *path);

G_END_DECLS
