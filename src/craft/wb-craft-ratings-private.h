/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-calc-ordinal.h"
#include "wb-craft-columns-private.h"
#include "wb-craft-interval.h"
#include "wb-craft-memo-private.h"

G_BEGIN_DECLS

/*
 * Ratings of a figure at a stage by a cumulative model (wb-calc-ordinal): thresholds
 * and spreads common to the experiment, the step of the wick a number, and a deviation
 * of each cell. It is drawn, never taken for normal: a cell whose ratings all are at an
 * end has a skewed answer.
 */
typedef struct
{
  WbFigure           figure;
  WbStage            stage;
  guint              lowest;    /* rating of category 0 */
  WbCalcOrdinalDraws draws;     /* groups are cells, units samples */
  gboolean          *read;      /* a cell: has it ratings of its own? */
  gboolean           all_same;  /* one rating was all that was seen */
} WbCraftRatings;

/* values: WbCraftMeanValue. NULL: no ratings, or stopped. */
WbCraftRatings *wb_craft_ratings_new  (const WbDataset      *data,
                                       const GArray         *values,
                                       const WbCraftColumns *columns,
                                       WbFigure              figure,
                                       WbStage               stage,
                                       WbCalcKeepGoing       keep_going,
                                       gpointer              user);
/* The same, kept in the memo. */
const WbCraftRatings *wb_craft_ratings_find (WbCraftMemo          *memo,
                                             const WbDataset      *data,
                                             const GArray         *values,
                                             const WbCraftColumns *columns,
                                             WbFigure              figure,
                                             WbStage               stage,
                                             WbCalcKeepGoing       keep_going,
                                             gpointer              user);
void            wb_craft_ratings_free (WbCraftRatings *self);
/* Expected rating of a cell's next candle, 90 %. */
WbCraftInterval wb_craft_ratings_tell (const WbCraftRatings *self,
                                       guint                 cell);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftRatings, wb_craft_ratings_free)

G_END_DECLS
