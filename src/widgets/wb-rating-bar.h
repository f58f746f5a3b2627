/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-record.h"

G_BEGIN_DECLS

/*
 * A rating by a few words: one button a word, numbered. A digit sets it while
 * the focus is inside, Backspace or Delete clears it.
 *
 * Property: "value" (int, -1: not rated; notified). Signals: "changed", when the person set it;
 * "rated", after each digit that sets it, so that a hand can go on.
 */
#define WB_TYPE_RATING_BAR (wb_rating_bar_get_type ())
G_DECLARE_FINAL_TYPE (WbRatingBar, wb_rating_bar, WB, RATING_BAR, GtkWidget)

/* words: the value is the index, borrowed for good; `first` is the lowest that may be chosen (1 for throw). label: accessible name. */
GtkWidget *wb_rating_bar_new       (const WbWord *words, int first, const char *label);
void       wb_rating_bar_set_value (WbRatingBar *self, int value);
int        wb_rating_bar_get_value (WbRatingBar *self);

G_END_DECLS
