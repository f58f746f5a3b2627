/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-record.h"

G_BEGIN_DECLS

/*
 * One of a few words, chosen by a letter: a button that says what is chosen, and
 * behind it all of them, each with its key: the first of its letters that none
 * before it has. Backspace chooses nothing.
 *
 * Signal: "changed", when the person chose.
 */
#define WB_TYPE_KEY_CHOICE (wb_key_choice_get_type ())
G_DECLARE_FINAL_TYPE (WbKeyChoice, wb_key_choice, WB, KEY_CHOICE, GtkWidget)

/* words: the value is the index, borrowed for good. none: what is said where nothing is chosen. label: accessible name. */
GtkWidget *wb_key_choice_new       (const WbWord *words, const char *none, const char *label);
/* -1: nothing. */
void       wb_key_choice_set_value (WbKeyChoice *self, int value);
int        wb_key_choice_get_value (WbKeyChoice *self);
/* Shows all of them, with the keyboard in their midst. */
void       wb_key_choice_open      (WbKeyChoice *self);
/* The key of a word, in lower case; 0: it has none. */
gunichar   wb_key_choice_get_key   (WbKeyChoice *self, int value);

G_END_DECLS
