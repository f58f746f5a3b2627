/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-answer.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * Compare, the numbers: what the answer of a group rests on, for who wants to check it. Chances, scores, ranks, weights, estimates
 * with their intervals, and the effects of vessel, wick and scent on one figure, which are worked out in a thread. The words of
 * statistics stand here and nowhere else on the page.
 *
 * Property "ready" (boolean, notified): the effects that were asked for last are there.
 */
#define WB_TYPE_NUMBERS_VIEW (wb_numbers_view_get_type ())
G_DECLARE_FINAL_TYPE (WbNumbersView, wb_numbers_view, WB, NUMBERS_VIEW, GtkWidget)

GtkWidget *wb_numbers_view_new       (void);
/* NULL: empty. Takes a reference. The effects are asked for once the view is mapped. */
void       wb_numbers_view_set       (WbNumbersView *self, WbCraftAnswer *answer, guint group);
gboolean   wb_numbers_view_get_ready (WbNumbersView *self);

G_END_DECLS
