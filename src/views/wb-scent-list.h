/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * The scents of a plan, a line each: fragrance, load, what the load is a share
 * of; and a tick for candles without fragrance, the control. Signal "changed": the person changed one.
 */
#define WB_TYPE_SCENT_LIST (wb_scent_list_get_type ())
G_DECLARE_FINAL_TYPE (WbScentList, wb_scent_list, WB, SCENT_LIST, GtkWidget)

/* WbFragrance; what is chosen stays as far as it is still there. */
void      wb_scent_list_set_fragrances (WbScentList *self, const GPtrArray *fragrances);
/* Takes all lines away, and the tick. */
void      wb_scent_list_clear          (WbScentList *self);
/* These and no others; WbCraftScent. Emits nothing. */
void      wb_scent_list_set_scents     (WbScentList *self, const GArray *scents);
/* Adds a line as its button does and puts the focus into it; ticks the control where `fragrance` is 0. */
void      wb_scent_list_add            (WbScentList *self, gint64 fragrance);
/* What stands at `from` among them, the control counted, comes to stand at `to`. Emits nothing. */
void      wb_scent_list_move           (WbScentList *self, guint from, guint to);
/* WbCraftScent; a load that cannot be read is NAN. Caller unrefs. */
GArray   *wb_scent_list_dup_scents     (WbScentList *self);
/* Shows what is wrong in each line, focus into the first; TRUE: nothing is. */
gboolean  wb_scent_list_check          (WbScentList *self);

G_END_DECLS
