/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-crossing.h"

G_BEGIN_DECLS

/*
 * Of one burn: by limit of the data set, whether any reading or a logger's file is over it. broken: whether the vessel cracked in
 * it, whatever the limits say. g_free.
 */
gboolean *wb_craft_crossing_dup_limits (const WbDataset *data, guint burn, gboolean *broken);

G_END_DECLS
