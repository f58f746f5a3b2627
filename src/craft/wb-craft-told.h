/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-ranked.h"

G_BEGIN_DECLS

/*
 * The verdict as people are told it, in window, charts, command and on paper alike: what the record calls rejected crossed a limit,
 * would not do, or is only not the best. Files and other programs are given the verdict's key.
 */
typedef enum
{
  WB_CRAFT_TOLD_RECOMMENDED,
  WB_CRAFT_TOLD_CANDIDATE,
  WB_CRAFT_TOLD_TOO_LITTLE_DATA,
  WB_CRAFT_TOLD_CROSSED,
  WB_CRAFT_TOLD_WOULD_NOT_DO,
  WB_CRAFT_TOLD_NOT_BEST
} WbCraftTold;

WbCraftTold wb_craft_ranked_get_told (const WbCraftRanked *ranked);
const char *wb_craft_told_get_label  (WbCraftTold told); /* translated; static */

/* "2 of 3 samples": how many of those burnt crossed a limit, counted as the chance of it is. NULL: none did. Belongs to `ranked`. */
const char *wb_craft_ranked_get_samples_crossed (const WbCraftRanked *ranked);

G_END_DECLS
