/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stdio.h>

#include "world-truth.h"

/*
 * An invented world for the program as an outsider has it: FOLDER/WORLD-N.csv is the burn log of its first N experiments, to be
 * imported; a line a wick goes to `truth`, with what the next vessel is, and what is true there.
 */
#define WORLD_TRUTH_HEADER "world,inner_mm,wax,load_pct,fill_g,series,size,step,score,p_right,p_cross,top_limit_mm,top_full_pool_h," \
                           "top_flame_mm,top_vessel_c,top_consumption_g_h,bottom_limit_mm,bottom_full_pool_h,bottom_flame_mm,"   \
                           "bottom_vessel_c,bottom_consumption_g_h\n"

/* And a line to `burnt` for each cell of those experiments, with what its own recipe truly scores as it was poured. */
#define WORLD_BURNT_HEADER "world,experiment,inner_mm,load_pct,series,size,score\n"

/* FALSE: a file could not be written. */
gboolean world_export (const World *self, const char *folder, const guint *counts, guint n_counts, FILE *truth, FILE *burnt);
