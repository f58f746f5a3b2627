/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-report-document.h"

G_BEGIN_DECLS

/*
 * A paged document as the window shows and prints it: reference counted, and
 * used by one thread at a time, whoever draws. Pages are drawn off the main thread for the screen, and on it for a printer.
 */
typedef struct _WbPaper WbPaper;

/* Takes the document and breaks it into pages, if it is not yet. */
WbPaper    *wb_paper_new         (WbReportDocument *document);
WbPaper    *wb_paper_ref         (WbPaper *self);
void        wb_paper_unref       (WbPaper *self);
guint       wb_paper_get_n_pages (const WbPaper *self);
/* In points. */
void        wb_paper_get_size    (const WbPaper *self, double *width, double *height);
/* What stands on a page (from 0), as text; caller frees. */
char       *wb_paper_dup_text    (WbPaper *self, guint page);
/* At the current origin, in points; waits while another thread draws a page. */
void        wb_paper_draw        (WbPaper *self, cairo_t *cr, guint page);
/* A picture of a page, so many pixels wide. */
void        wb_paper_render_async  (WbPaper *self, guint page, int width, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
GdkTexture *wb_paper_render_finish (GAsyncResult *result, GError **error);
/* As a PDF, whole or not at all, over an existing file. */
void        wb_paper_write_async   (WbPaper *self, const char *path, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
gboolean    wb_paper_write_finish  (GAsyncResult *result, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbPaper, wb_paper_unref)

G_END_DECLS
