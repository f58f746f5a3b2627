/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-paper.h"

G_BEGIN_DECLS

/*
 * The pages of a paper one under the other, as wide as the view. One stop of
 * the keyboard: Page Up and Page Down read on, screen by screen without
 * leaving out a line between two pages; with Control they go from page to page; arrows, Home and End scroll.
 *
 * Signal "page-changed": another page is in front, or there is another paper.
 */
#define WB_TYPE_PAPER_VIEW (wb_paper_view_get_type ())
G_DECLARE_FINAL_TYPE (WbPaperView, wb_paper_view, WB, PAPER_VIEW, GtkWidget)

GtkWidget *wb_paper_view_new       (void);
/* Takes a reference; NULL: none. A new paper for one that is shown leaves the place where it is. */
void       wb_paper_view_set_paper (WbPaperView *self, WbPaper *paper);
WbPaper   *wb_paper_view_get_paper (WbPaperView *self); /* borrowed; NULL: none */
/* The page in front, from 0. */
guint      wb_paper_view_get_page  (WbPaperView *self);
void       wb_paper_view_show_page (WbPaperView *self, guint page);

G_END_DECLS
