/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-reading.h"

G_BEGIN_DECLS

/*
 * Minute at which the last of a vessel's n_wicks flames was out and stayed out, over the rows of one burn from `first`, n of
 * them in order of time; NAN: one is still alight, as far as is noted. An event that names no wick is of all of them, one
 * that names a wick is of that flame alone: a candle of which one wick of several drowned burns on.
 */
double wb_craft_alight_out_min (const WbReadings *readings,
                                guint             first,
                                guint             n,
                                guint             n_wicks);

/* The wicks that are out after those rows, a bit each, the first wick's the lowest; the vessel may burn on by the others. */
guint wb_craft_alight_get_out (const WbReadings *readings,
                               guint             first,
                               guint             n,
                               guint             n_wicks);

G_END_DECLS
