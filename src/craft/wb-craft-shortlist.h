/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-ladder.h"

G_BEGIN_DECLS

/*
 * "Which of these?": of the wicks that somebody has at hand, the three or four to burn first, and why each of the
 * others waits. It rests on the ladder: what was burnt before, else the suppliers' diameters. Where neither tells
 * anything it says so, and spreads the sizes so that the fewest rounds find the right one. It says where to begin,
 * never that a candle is safe: burning judges.
 */

typedef struct
{
  gint64   wick;
  char    *name;    /* "Sedge S-3"; "S-3" where all are of one series */
  gboolean taken;
  char    *reason;  /* translated, one or two sentences */
} WbCraftShortlistItem;

typedef struct
{
  WbCraftRestsOn rests_on;
  guint          wicks;   /* of one in a vessel */
  char          *series;  /* of all of them; NULL: of several */
  GPtrArray     *items;   /* WbCraftShortlistItem, by series, the weakest of each first */
  char          *answer;  /* translated, one or two sentences */
  char          *next;    /* what is done with the burns of these; "" where none is taken */
} WbCraftShortlist;

/*
 * wicks: WbWick, those to choose among. question->wicks 0: as many in a vessel as are usual for its width; sizes is not
 * read. A vessel without a diameter gets an answer that says so, and nothing taken. The rest as for wb_craft_ladder_new.
 */
WbCraftShortlist *wb_craft_shortlist_new  (const WbCraftLadderQuestion *question, const WbCraftSchool *school, const GPtrArray *wicks,
                                           const GPtrArray *guides, const GPtrArray *waxes, guint64 seed);
void              wb_craft_shortlist_free (WbCraftShortlist *self);
guint             wb_craft_shortlist_count_taken (const WbCraftShortlist *self);

/*
 * Which k of n sizes in a row to burn first where nothing tells the right one: places from 0, ascending, min (n, k) of
 * them, so that what lies between two of them, or outside, is as short as can be. Every round tells between which two the
 * right one lies, so that wb_craft_shortlist_rounds (n, k) rounds of k find it: the least r with (k + 1)^r - 1 >= n,
 * as k marks part a row into k + 1 (counting, no source). Returns how many.
 */
guint             wb_craft_shortlist_spread (guint n, guint k, guint *places);
guint             wb_craft_shortlist_rounds (guint n, guint k);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftShortlist, wb_craft_shortlist_free)

G_END_DECLS
