/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-shortlist.h"

G_BEGIN_DECLS

#define WB_CRAFT_SHORTLIST_USUAL 3u
#define WB_CRAFT_SHORTLIST_MOST 4u

/* A series of the wicks asked about, the weakest first. */
typedef struct
{
  GPtrArray *items;   /* WbCraftShortlistItem, borrowed from the list, at `first` and after */
  guint      first;
  gboolean   by_name; /* a step is not stated, so that the numbers in the sizes tell the order */
} WbCraftShortlistSeries;

/* "Sedge S-2, S-3 and S-4": what is taken. Caller frees. */
char *wb_craft_shortlist_dup_names (const WbCraftShortlist *self);
/* The vessel's name, else "a vessel of 76.0 mm". Caller frees. */
char *wb_craft_shortlist_dup_vessel (const WbCraftLadderQuestion *question);
/* Where nothing tells of these wicks: takes, and says so. series: WbCraftShortlistSeries. */
void wb_craft_shortlist_search (WbCraftShortlist *self, const WbCraftLadderQuestion *question, const GPtrArray *series);

G_END_DECLS
