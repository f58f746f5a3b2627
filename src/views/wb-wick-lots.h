/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-pour.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * The lots of the wicks of a batch that has several: a field a wick. What is empty is said by the field for all of them. Shows nothing
 * for a batch of one wick. Signal "changed": the person typed.
 */
#define WB_TYPE_WICK_LOTS (wb_wick_lots_get_type ())
G_DECLARE_FINAL_TYPE (WbWickLots, wb_wick_lots, WB, WICK_LOTS, GtkWidget)

GtkWidget *wb_wick_lots_new         (void);
/* wicks: WbWick. typed: WbAppPourWickLot that was said before and taken back. What is typed stays while the wicks are the same. */
void       wb_wick_lots_show        (WbWickLots *self, const GPtrArray *wicks, const GArray *typed);
/* Each field offers the lots of its wick. After it is shown. */
void       wb_wick_lots_offer       (WbWickLots *self, WbAppPour *pour);
gboolean   wb_wick_lots_get_touched (WbWickLots *self);
/* WbAppPourWickLot of what stands there; caller unrefs. */
GArray    *wb_wick_lots_dup         (WbWickLots *self);
/* The field of a wick, for tests; NULL: not shown. */
GtkWidget *wb_wick_lots_get_field   (WbWickLots *self, gint64 wick);

/* What was typed, by its wick; and back. */
void       wb_wick_lots_keep        (WbWickLots *self, GKeyFile *file, const char *group);
void       wb_wick_lots_put_back    (WbWickLots *self, GKeyFile *file, const char *group);

G_END_DECLS
