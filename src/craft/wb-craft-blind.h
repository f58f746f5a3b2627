/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/*
 * Three-digit codes for samples that are rated blind, 100 to 999. Random numbers of three digits are the custom of tests by
 * the nose, for letters and low numbers suggest an order; common practice, no source.
 */
#define WB_CRAFT_BLIND_LEAST 100
#define WB_CRAFT_BLIND_MOST 999

/* TRUE: upside down its digits read as another number: 169 as 691; 808 reads as itself. */
gboolean wb_craft_blind_is_two_faced (guint code);

/*
 * Draws n codes that are not in `taken`, by the seed: the same again for the same question. Those that read as another upside down,
 * and those in `old` (used once, and free again), come only when no others are left. How many there were; codes holds n.
 */
guint    wb_craft_blind_draw         (guint64 seed, const GArray *taken, const GArray *old, guint n, guint *codes);

G_END_DECLS
