/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-desk.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * All batches of one experiment, one sheet at a time, and what is the same for
 * those that are not poured yet: overage, hold-back, the balance's resolution.
 * Keeps what is typed in every sheet. Signal "changed": something was read, typed, or saved.
 */
#define WB_TYPE_POUR_BOOK (wb_pour_book_get_type ())
G_DECLARE_FINAL_TYPE (WbPourBook, wb_pour_book, WB, POUR_BOOK, GtkWidget)

GtkWidget *wb_pour_book_new         (WbDesk *desk, gint64 experiment);
/* Reads the experiment anew. */
void       wb_pour_book_reload      (WbPourBook *self);
/* Something is typed that is not saved. */
gboolean   wb_pour_book_get_touched (WbPourBook *self);
/* The batch in front can be marked as poured. */
gboolean   wb_pour_book_can_mark    (WbPourBook *self);
/* Marks the batch in front, unless something typed is wrong, which is shown. */
void       wb_pour_book_mark        (WbPourBook *self);
/* Keeps what is typed, and says that nothing is marked by it. */
void       wb_pour_book_keep        (WbPourBook *self);
/* Something was found of the poured batch in front, and stands in its fields. */
gboolean   wb_pour_book_can_note    (WbPourBook *self);
/* Saves it, unless something typed is wrong, which is shown. */
void       wb_pour_book_note        (WbPourBook *self);
/* There is a batch in front, which has a sheet to print. */
gboolean    wb_pour_book_can_print   (WbPourBook *self);
/* There are samples: a label needs no mass. */
gboolean    wb_pour_book_can_label   (WbPourBook *self);
/* Shows the batch sheet as it is printed: the plan by the terms that are set, with boxes for what was really done. */
void        wb_pour_book_print       (WbPourBook *self);
/* Asks for the labels of the batch in front. */
void        wb_pour_book_ask_labels  (WbPourBook *self);
/* Which batch is in front. */
void       wb_pour_book_select      (WbPourBook *self, guint batch);
/* The same by its code, also before it is read. */
void       wb_pour_book_select_code (WbPourBook *self, const char *code);
/* The sheet in front: a WbPourSheet, a WbPouredSheet, or NULL. */
GtkWidget *wb_pour_book_get_sheet   (WbPourBook *self);

G_END_DECLS
