/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-craft-advice.h"
#include "wb-desk.h"

G_BEGIN_DECLS

/*
 * What to burn next of a vessel and scent: the answer in a sentence or two, and unfolded a line for each wick, why, and buttons that lead
 * to the readings that say so; of an experiment that is finished that it is, and where its decision stands. Works the advice out by
 * itself, off the main thread, each time that it is shown an answer; it is hidden until then.
 *
 * CSS node: advicestrip.
 */
#define WB_TYPE_ADVICE_STRIP (wb_advice_strip_get_type ())
G_DECLARE_FINAL_TYPE (WbAdviceStrip, wb_advice_strip, WB, ADVICE_STRIP, GtkWidget)

/* answer NULL: nothing. Both are held. group: of its ranking. */
void        wb_advice_strip_show         (WbAdviceStrip *self, WbDesk *desk, WbCraftAnswer *answer, guint group);
/* What its head says; "" while it is worked out. Borrowed, for tests. */
const char *wb_advice_strip_get_text     (WbAdviceStrip *self);
gboolean    wb_advice_strip_get_unfolded (WbAdviceStrip *self);
void        wb_advice_strip_set_unfolded (WbAdviceStrip *self, gboolean unfolded);

G_END_DECLS
