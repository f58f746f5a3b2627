/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "world-tally.h"

/* A tally as plain text on standard output: choices, chances, intervals, and what is outside the aims. */
void world_tables_print   (const WorldTally *self);
/* One line a number of experiments, of what matters most. */
void world_tables_summary (WorldTally *const *tallies, guint n);
