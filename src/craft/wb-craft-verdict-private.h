/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-estimates.h"
#include "wb-craft-limits.h"
#include "wb-craft-ranked.h"

G_BEGIN_DECLS

#define WB_CRAFT_VERDICT_NOTHING 0.05 /* a score that is no further from 0 than this: what is near the best is near nothing */

/* Where a sample differs most from the others of its cell, if it is unlike them. */
typedef struct
{
  WbFigure figure;
  double   difference; /* ln, mean over its burns, against the median of burns of the same number; 0: it is not unlike */
} WbCraftUnlike;

/*
 * One a sample of the data set, g_free. Unlike is a sample whose pools, depth, flame or
 * consumption differ from its cell's median, over two burns at least, by more than five times
 * what is usual in the experiment (median absolute deviation over its samples) and 25 %. Of two
 * samples nobody can tell which is right: both are.
 */
WbCraftUnlike *wb_craft_unlike_new (const WbDataset      *data,
                                    const WbCraftFigures *figures);

/* Has a sample of the cell that counts crossed a limit that is on? */
gboolean wb_craft_verdict_has_crossed (const WbCraftLimits *limits,
                                       guint                cell);

/* Did only a sample that was set aside cross a limit of it? That clears nothing. */
gboolean wb_craft_verdict_is_uncleared (const WbCraftLimits *limits,
                                        guint                cell);

/* "A limit was crossed: ...", a sentence; of a limit that only a sample which was set aside crossed. Callers free. */
char    *wb_craft_verdict_dup_crossed   (const WbDataset *data, const WbCraftLimit *limit);
char    *wb_craft_verdict_dup_set_aside (const WbDataset *data, const WbCraftLimit *limit);
/* That a vessel cracked, of which no limit tells: the row that wb_craft_crossed_find_crack found. place, if not NULL: where. Caller frees both. */
char    *wb_craft_verdict_dup_cracked   (const WbDataset *data, guint row, char **place);

/*
 * The verdict on a ranked cell and its reasons, in order:
 *
 *   rejected          a sample that counts crossed a limit; or, once every stage was
 *                     read, the chance of being near the best is below 2 in 100 and
 *                     the mean distance to it above 0.1, or its score is surely (95 in 100) below 0.05
 *   too_little_data   fewer than two standard burns count, or its pool tells no time
 *                     to a full melt pool
 *   recommended       the protocol's number of samples burnt to its stated end, flame
 *                     and temperature limits read in the last third on as many, chance
 *                     near the best at least 0.9, of crossing at most 0.05, score at least 0.05, and
 *                     no limit crossed by a sample that was set aside, no vessel that cracked, whatever
 *                     its limit, and no flame of a sample that
 *                     counts that went out by itself before the protocol's length
 *   candidate         the rest, with what is missing in words
 *
 * Needs p_near, p_cross, expected_loss, parts of `ranked`; fills verdict and adds to reasons.
 */
void wb_craft_verdict_judge (const WbDataset        *data,
                             const WbCraftFigures   *figures,
                             const WbCraftLimits    *limits,
                             const WbCraftEstimates *estimates,
                             WbCraftRanked          *ranked);

/* Is the sample of the cell, and not set aside? */
gboolean wb_craft_verdict_counts (const WbDataset *data,
                                  guint            sample,
                                  guint            cell);
/* Where the thirds do not rest on a stated fill: what is missing, or what stands in its place. */
void wb_craft_verdict_tell_thirds (const WbDataset      *data,
                                   const WbCraftFigures *figures,
                                   WbCraftRanked        *ranked);
/* The samples of the cell that are unlike their fellows. */
void wb_craft_verdict_tell_unlike (const WbDataset     *data,
                                   const WbCraftUnlike *unlike,
                                   WbCraftRanked       *ranked);
/*
 * Each burn of the cell whose flame went out by itself before the protocol's length, drowned say, unless it was the end of
 * its candle's life: the last third of the last burn. It takes nothing from the score, which has no figure of it. TRUE: one did.
 */
gboolean wb_craft_verdict_tell_went_out (const WbDataset      *data,
                                         const WbCraftFigures *figures,
                                         WbCraftRanked        *ranked);
/*
 * The first row of the burn at which its flame went out by itself before the protocol's length; G_MAXUINT: it did not, or that was
 * the end of its candle's life.
 */
guint    wb_craft_verdict_find_went_out (const WbDataset      *data,
                                         const WbCraftFigures *figures,
                                         guint                 burn);
/* What the score had to do without: a whole stage in one reason, else each figure. */
void wb_craft_verdict_tell_unread (const WbDataset   *data,
                                   const WbCraftCell *cell,
                                   WbCraftRanked     *ranked);

/* Adds a reason, text by printf; it belongs to `ranked`. entry: the reading or entry that says so, 0 none. */
WbCraftReason *wb_craft_ranked_add_reason (WbCraftRanked *ranked,
                                           const char    *code,
                                           gint64         entry,
                                           const char    *format,
                                           ...) G_GNUC_PRINTF (4, 5);
/* Lets the reason be told together with others of its code; place may be NULL. */
void wb_craft_reason_name (WbCraftReason *reason,
                           const char    *subject,
                           const char    *place);

/* What takes most from the cell's score, a weighted geometric mean: the part of largest −w ln d. NULL: nothing does. */
const WbCraftPart *wb_craft_ranked_find_costliest (const WbCraftRanked *ranked);

/* "82 in 100", "fewer than 1 in 100", "more than 99 in 100". Caller frees. */
char *wb_craft_dup_chance (double p);

G_END_DECLS
