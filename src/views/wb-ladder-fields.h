/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-quantity-entry.h"

G_BEGIN_DECLS

/* What is typed into the question of a wick ladder. */
typedef enum
{
  WB_LADDER_INNER, WB_LADDER_LOAD, WB_LADDER_WICKS, WB_LADDER_SIZES, WB_LADDER_COLD, WB_LADDER_WARM,
  WB_LADDER_N_FIELDS
} WbLadderField;

#define WB_LADDER_MOST_WICKS 12

/* With its range, its label and what is usual in it. Floating. */
WbQuantityEntry *wb_ladder_field_new    (WbLadderField field);
/*
 * Every field that is wrong says so itself, all at once; TRUE: none is. no_diameter: nobody has typed one yet, which is no mistake.
 */
gboolean         wb_ladder_fields_check (WbQuantityEntry *const *entries, gboolean no_diameter);

G_END_DECLS
