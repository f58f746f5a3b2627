/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * Things to be ticked, in groups: a series and its sizes. A group's own tick
 * stands for all of it. Signal "toggled" (GArray of gint64 ids, gboolean on): the person did it, all of them in one step.
 */
#define WB_TYPE_TICK_LIST (wb_tick_list_get_type ())
G_DECLARE_FINAL_TYPE (WbTickList, wb_tick_list, WB, TICK_LIST, GtkWidget)

/* Items of one group stand together. */
typedef struct
{
  gint64      id;
  const char *group;  /* NULL: without one */
  const char *title;
  const char *name;   /* accessible: title and group in one */
} WbTick;

/* columns: of short titles side by side; long ones get half as many. name: accessible, of the whole. */
GtkWidget      *wb_tick_list_new     (int columns, const char *name);
/* Copied; ticks that were on stay on by their ids. The same items again change nothing. */
void            wb_tick_list_fill    (WbTickList *self, const WbTick *items, guint n_items);
/* What is dragged onto `place` from any list inside of `within` is ticked; a series all of it. */
void            wb_tick_list_add_drop_place (GtkWidget *place, GtkWidget *within);
void            wb_tick_list_set_on  (WbTickList *self, gint64 id, gboolean on);
gboolean        wb_tick_list_get_on  (WbTickList *self, gint64 id);
/* The tick of an item, for tests and focus; NULL: none of that id. */
GtkCheckButton *wb_tick_list_get_tick (WbTickList *self, gint64 id);

G_END_DECLS
