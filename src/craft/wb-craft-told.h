/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-ranking.h"

G_BEGIN_DECLS

/*
 * The verdict as people are told it, in window, charts, command and on paper alike: what the record calls rejected crossed a limit,
 * would not do, or is only not the best; what is recommended though its own score does poorly is the best of a poor field, which is
 * no advice to take it; and a candidate says so where it does poorly. Files and other programs are given the verdict's key.
 */
typedef enum
{
  WB_CRAFT_TOLD_RECOMMENDED,
  WB_CRAFT_TOLD_BEST_OF_POOR,
  WB_CRAFT_TOLD_CANDIDATE,
  WB_CRAFT_TOLD_CANDIDATE_POOR,
  WB_CRAFT_TOLD_TOO_LITTLE_DATA,
  WB_CRAFT_TOLD_CROSSED,
  WB_CRAFT_TOLD_WOULD_NOT_DO,
  WB_CRAFT_TOLD_NOT_BEST,
  WB_CRAFT_N_TOLD
} WbCraftTold;

/* Whether a score, of 1, as it is printed with two decimals does poorly (WB_CRAFT_SCORE_POOR). NAN: no. */
gboolean    wb_craft_score_is_poor   (double score);
WbCraftTold wb_craft_ranked_get_told (const WbCraftRanked *ranked);
const char *wb_craft_told_get_label  (WbCraftTold told); /* translated; static */
/* What it means, a plain sentence without the word itself; translated, static. */
const char *wb_craft_told_get_meaning (WbCraftTold told);
/* Of each verdict that the ranking has, in the order of the words above, "candidate: the burns so far ...": char *. Caller unrefs. */
GPtrArray  *wb_craft_ranking_dup_meanings (const WbCraftRanking *ranking);

/* "2 of 3 samples": how many of those burnt crossed a limit, counted as the chance of it is. NULL: none did. Belongs to `ranked`. */
const char *wb_craft_ranked_get_samples_crossed (const WbCraftRanked *ranked);

G_END_DECLS
