/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-quantity.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * The wicks of which a plan tries several in one vessel, a line each: how many,
 * of which, how far apart. Wicks that stand alone are ticked elsewhere.
 * Signal "changed": the person changed one.
 */
#define WB_TYPE_WICK_LIST (wb_wick_list_get_type ())
G_DECLARE_FINAL_TYPE (WbWickList, wb_wick_list, WB, WICK_LIST, GtkWidget)

/* WbWick, in the order offered; a line whose wick is gone goes. */
void    wb_wick_list_set_wicks   (WbWickList *self, const GPtrArray *wicks);
/* Of a bare distance. */
void    wb_wick_list_set_unit    (WbWickList *self, WbUnit unit);
/* Those of them that are several, and no others; WbCraftWickChoice. Emits nothing. */
void    wb_wick_list_set_choices (WbWickList *self, const GArray *choices);
/* Adds a line of two as its button does and puts the focus into it: of that wick, or, for 0, of one that has no line yet. */
void    wb_wick_list_add         (WbWickList *self, gint64 wick);
/* WbCraftWickChoice; a distance that is not said, or cannot be read, is NAN. Caller unrefs. */
GArray *wb_wick_list_dup_choices (WbWickList *self);
/* Shows what is wrong in each line, focus into the first; TRUE: nothing is. */
gboolean wb_wick_list_check      (WbWickList *self);

G_END_DECLS
