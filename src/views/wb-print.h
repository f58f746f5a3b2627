/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-paper.h"

G_BEGIN_DECLS

/*
 * The one place that knows GtkPrintOperation. The paper's own pages, size and
 * margins are printed as they are drawn; nothing is scaled unless the person asks the dialog for it.
 */

/* Told once a paper went to its printer, while `where` is still there. */
typedef void (*WbPrinted) (GtkWidget *where);

/*
 * Asks for a printer, in front of the window of `where`, and prints; a failure is told there. Refs the paper. `name`: of the job.
 * printed: may be NULL.
 */
void               wb_print_paper         (GtkWidget *where, WbPaper *paper, const char *name, WbPrinted printed);
/* The operation behind it. The caller's. */
GtkPrintOperation *wb_print_operation_new (WbPaper *paper, const char *name);

G_END_DECLS
