/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-reading.h"
#include "wb-store.h"

G_BEGIN_DECLS

/*
 * One observation is told from another by burn, minute, rater, event and wick. Where that is taken already, the minute moves
 * on by a tenth, so that export and import keep both.
 */

/* As far as a minute since lighting goes: two days. */
#define WB_APP_MOMENT_LONGEST_MIN 2880.0
/* A reading of a round is typed within it; what is older was on paper. Common practice, no source. */
#define WB_APP_MOMENT_LATE_MIN 10.0

/* Another observation of the same burn stands at this one's moment: same rater, event and wick, and no tenth of a minute between. */
gboolean wb_app_moment_is_same (const WbReading *reading, double elapsed_min, const char *rater, double event,
                                 double wick);

/* One of those rows of the burn stands at the reading's moment. */
gboolean wb_app_moment_is_among (const WbReading *reading, const WbReadings *readings, guint first, guint n);

/* TRUE: what stands in the record already, as `user` knows it, is at the moment of the reading. */
typedef gboolean (*WbAppMomentTaken) (const WbReading *reading, gpointer user);

/* Moves the minute on until the moment is free, or the longest minute is reached. */
void     wb_app_moment_move_on (WbReading *reading, WbAppMomentTaken is_taken, gpointer user);

/*
 * On the writer's thread, within its transaction: moves on what is new among the records until its moment is free in the file
 * itself, where another save or another program may have been quicker than what the screen has read. Readings of one minute stay
 * together, and an end of the burn never comes to stand before what was read in the same minute.
 */
gboolean wb_app_moment_make_free (WbStore *store, GPtrArray *records, GError **error);

G_END_DECLS
