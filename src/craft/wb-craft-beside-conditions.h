/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-beside.h"

G_BEGIN_DECLS

/*
 * Under which conditions what lies side by side was made and burnt, as it was, not only as it was planned: who compares figures
 * of unlike candles or rooms is told so.
 */

typedef enum
{
  WB_CRAFT_BESIDE_IS_ALIKE,
  WB_CRAFT_BESIDE_IS_UNLIKE,   /* also where it is noted of some alone */
  WB_CRAFT_BESIDE_IS_NOT_NOTED /* of none */
} WbCraftBesideLikeness;

typedef struct
{
  const char           *label;    /* "vessel", "room"; static, translated */
  char                **values;   /* one a pick, in the units of the first one's notebook, translated; NULL-terminated */
  WbCraftBesideLikeness likeness;
} WbCraftBesideCondition;

/*
 * WbCraftBesideCondition, in the order wick, materials, how it was burnt, room, lots, aims. What none has (a dye) is left out, and
 * lots are compared of the same material alone. Of what was measured spans are alike whose ends lie within 2 °C of the room, 2 days of cure before the first light,
 * 15 minutes of a burn, 1 mm of trim or 3 mm of fill of each other (common practice, no source). Reads every row of the picks' burns: not for the main thread. Caller unrefs.
 */
GPtrArray *wb_craft_beside_list_conditions (const WbCraftPick *picks, gsize n_picks);

/* "They differ in: wick, vessel. Alike: wax, room. Not noted: draught."; "" of fewer than two picks. Caller frees. */
char      *wb_craft_beside_dup_conditions  (const GPtrArray *conditions, gsize n_picks);

/* "The candles differ in more than the wick: vessel, room."; "" where they do not. For what is read away from the page. Caller frees. */
char      *wb_craft_beside_dup_warning     (const GPtrArray *conditions, gsize n_picks);

G_END_DECLS
