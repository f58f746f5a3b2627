/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-growth.h"

G_BEGIN_DECLS

/*
 * What a reader of growth curves has to know of those that are not plain fits, a sentence for each status with the
 * names of the combinations that have it: "B4 and B5: no pool was read." n of each. Translated; caller unrefs.
 */
GPtrArray *wb_craft_growth_dup_notes (guint                       n,
                                      const char *const          *names,
                                      const WbCraftGrowth *const *growths);

G_END_DECLS
