/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-estimates.h"
#include "wb-craft-limits.h"
#include "wb-lesson.h"

G_BEGIN_DECLS

/* Goes up with every change of what is estimated, so that lessons kept by an older program are made anew. */
#define WB_CRAFT_LESSON_VERSION 2

/*
 * What the experiment taught, cell by cell (wb-lesson.h), from its answer's own figures, limits and estimates over all stages; a few fits
 * that these lack (worst and peak less the reader's error) are made, some milliseconds, and kept in the estimates' memo. The same data
 * give the same lesson to the bit. limits may be NULL: then nothing is known to have crossed. last_entry is that of
 * the data, which counts what is shared with other experiments as well, and shared_entry is left 0: who keeps it knows better. Caller
 * frees.
 */
WbLesson *wb_craft_lesson_new (const WbDataset        *data,
                               const WbCraftFigures   *figures,
                               const WbCraftLimits    *limits,
                               const WbCraftEstimates *estimates);

G_END_DECLS
