/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-quantity.h"

G_BEGIN_DECLS

/*
 * A field for one quantity: what is typed in any unit of it ("54", "5,4 cm",
 * "2 1/8\"", "180 F") is a value in the stored unit. Text that cannot be read,
 * or lies outside the range, stays as typed, with the rule in words below it.
 *
 * Properties: "value" (double, stored unit, NaN: empty or unreadable;
 * notified), "text" (string, as typed), "valid" (boolean, notified).
 * Signals: "changed", when the person typed; "activate", on Enter; "told", when the words changed.
 * The words appear on Enter and when the field is left, and go as soon as the text is right.
 */
#define WB_TYPE_QUANTITY_ENTRY (wb_quantity_entry_get_type ())
G_DECLARE_FINAL_TYPE (WbQuantityEntry, wb_quantity_entry, WB, QUANTITY_ENTRY, GtkWidget)

/* unit: of a bare number, shown beside the field. */
GtkWidget  *wb_quantity_entry_new          (WbQuantity quantity, WbUnit unit);
/* Another quantity, or the same in another unit: a text that stands there is read anew. */
void        wb_quantity_entry_set_quantity (WbQuantityEntry *self, WbQuantity quantity, WbUnit unit);
/* What stands beside the field in place of the unit's symbol, as "pieces", where that has none; before its label is set. */
void        wb_quantity_entry_set_unit_words (WbQuantityEntry *self, const char *words);
/* Permitted, stored unit, both ends included; -HUGE_VAL and HUGE_VAL until set. */
void        wb_quantity_entry_set_range    (WbQuantityEntry *self, double minimum, double maximum);
/* An empty field is not valid. FALSE until set. */
void        wb_quantity_entry_set_required (WbQuantityEntry *self, gboolean required);
/* Whole numbers only. */
void        wb_quantity_entry_set_integer  (WbQuantityEntry *self, gboolean integer);
/* A word that may stand in place of a number ("full"), in any case: valid, without a value. NULL: none. */
void        wb_quantity_entry_set_word     (WbQuantityEntry *self, const char *word);
/* TRUE: that word stands there. */
gboolean    wb_quantity_entry_is_word      (WbQuantityEntry *self);
/* Room for so many characters; 9 until set. */
void        wb_quantity_entry_set_width_chars (WbQuantityEntry *self, int n_chars);
/* Accessible name; also begins the words of an error. */
/* Its words of what is wrong go on in the next line after so many characters: beside others they would push these away. */
void        wb_quantity_entry_set_problem_chars (WbQuantityEntry *self, int n_chars);
void        wb_quantity_entry_set_label    (WbQuantityEntry *self, const char *label);
void        wb_quantity_entry_set_value    (WbQuantityEntry *self, double value);
double      wb_quantity_entry_get_value    (WbQuantityEntry *self);
void        wb_quantity_entry_set_text     (WbQuantityEntry *self, const char *text);
const char *wb_quantity_entry_get_text     (WbQuantityEntry *self);
/* As if the person had typed it: touched, and not told by "changed". What was half typed before, put back. */
void        wb_quantity_entry_put_typed    (WbQuantityEntry *self, const char *text);
/* Typed in since the value was last set: a reload must leave it alone. */
gboolean    wb_quantity_entry_get_touched  (WbQuantityEntry *self);
/* Shows the words if the text is wrong. TRUE: it may be saved. */
gboolean    wb_quantity_entry_check        (WbQuantityEntry *self);
/* Words of another's (the store's, the form's) under the field; NULL takes them off. */
void        wb_quantity_entry_set_problem  (WbQuantityEntry *self, const char *text);
/* The words are not shown below the field: whoever holds it has a line for them, so that nothing moves while a person types. */
void        wb_quantity_entry_set_told_elsewhere (WbQuantityEntry *self, gboolean told_elsewhere);
/* NULL: none. */
const char *wb_quantity_entry_get_problem  (WbQuantityEntry *self);

G_END_DECLS
