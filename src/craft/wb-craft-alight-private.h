/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-reading.h"

G_BEGIN_DECLS

/*
 * Minutes with a flame up to the minute `until`, from lighting at 0, over the rows of
 * one burn: up to snuffing or going out, without the time out until relit; where
 * neither was noted, up to the last reading with a flame. NAN where nothing tells.
 * Of n_wicks in the vessel the last to go out ends the burn; an event that names no
 * wick is of all.
 */
double wb_craft_alight_until (const WbReadings *readings,
                              guint             first,
                              guint             n,
                              guint             n_wicks,
                              double            until);

/* Minute at which the flame was out for good, or the last reading with one; NAN where nothing tells. */
double wb_craft_alight_end (const WbReadings *readings,
                            guint             first,
                            guint             n,
                            guint             n_wicks);

G_END_DECLS
