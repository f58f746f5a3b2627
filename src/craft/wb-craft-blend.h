/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-material.h"

G_BEGIN_DECLS

/*
 * What blends were mixed of, and when: a melt that was poured holds what its blend was then, whatever it is today. A version of a
 * part holds from its entry's time until the next of that part. Common practice, no source.
 */
typedef struct _WbCraftBlends WbCraftBlends;

/* A part: a material and its share of the blend, 0 to 1. */
typedef struct { gint64 part; double share; } WbCraftBlendPart;

/*
 * versions: WbFragrancePart, every version, with id, entry, deleted set; the blends keep a reference and read them. entry_times: when
 * an entry was made, gint64 -> WbInstant, both owned by the table; an entry that is not in it holds since ever.
 */
WbCraftBlends *wb_craft_blends_new    (GPtrArray *versions, GHashTable *entry_times);
void           wb_craft_blends_free   (WbCraftBlends *self);
/*
 * Of what the blend was mixed at that moment, or on that day where the moment is unknown: as its parts last made up 100 %, or of
 * nothing once all of them went; before they ever did, as they first did after it; where they never did, as they are now.
 * WbCraftBlendPart, empty: it has no parts. Caller unrefs.
 */
GArray        *wb_craft_blends_dup_at (const WbCraftBlends *self, gint64 blend, WbInstant at, WbDay day);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftBlends, wb_craft_blends_free)

G_END_DECLS
