/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-beside.h"

G_BEGIN_DECLS

/* What a pick's value is worth, and the least and the most that its interval holds. */
typedef struct { gboolean read; double value, low, high; double ends[2]; } WbCraftBesideWorth;

/* One more of a list. */
void  wb_craft_beside_append_name (GString *names, const char *name);

/*
 * Why the figure of pick `index` has its mark: nearer, farther are lists of names that it is clearly nearer to the aim than, or farther; where both
 * are "" it is told apart from none, and of each other it says what is true of that pair. Caller frees.
 */
char *wb_craft_beside_dup_why     (const char *nearer, const char *farther, const WbCraftBesideFigure *figures,
                                   const WbCraftBesideWorth *worths, const WbCraftBeside *beside, gsize index);

G_END_DECLS
