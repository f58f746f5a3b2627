/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-earlier.h"
#include "wb-craft-estimate.h"
#include "wb-craft-figures.h"
#include "wb-craft-growth.h"
#include "wb-craft-keep-going.h"
#include "wb-craft-memo.h"

G_BEGIN_DECLS

/*
 * Estimates of each cell from the figures of its burns: growth curve by
 * censored likelihood, the other figures by a mixed model with sample and
 * burn spread pooled over the experiment, burn number and room told at their means. All cells, and what other experiments say,
 * are arguments.
 */

typedef struct
{
  guint           cell;
  guint           samples;       /* that count, with a burn in the stages asked for */
  guint           burns;         /* standard burns that count and are over, of the stages asked for */
  guint           alight;        /* those that are not over yet */
  WbCraftGrowth   growth;                     /* over the stages asked for */
  WbCraftEstimate figure[WB_N_FIGURES];       /* over the stages asked for; growth's own figures unused */
  WbCraftGrowth   stage_growth[WB_N_STAGES];
  WbCraftEstimate stage_figure[WB_N_STAGES][WB_N_FIGURES];
  WbCraftEstimate stage_worst[WB_N_STAGES][WB_N_FIGURES]; /* of the worst of each burn */
} WbCraftCell;

typedef struct
{
  WbCraftCell *cells;
  guint        n_cells;
  double       room_c;        /* that figures which lean on it are told at: the mean of the burns read */
  WbCraftEarlier *earlier;    /* what it was told of other experiments; NULL: they were not asked */
  GPtrArray   *ratings;       /* the room's own: what the draws of the score take ratings from */
  WbCraftMemo *memo;          /* the fits behind them */
} WbCraftEstimates;

/*
 * `stage` WB_STAGE_ALL: all. `earlier`: of the notebook's other experiments, where wb_craft_earlier_is_needed; may be NULL.
 * It is kept. NULL is returned when keep_going said stop.
 */
WbCraftEstimates *wb_craft_estimates_new  (const WbDataset *data, const WbCraftFigures *figures, WbStage stage,
                                           WbCraftEarlier *earlier, WbCraftKeepGoing keep_going, gpointer user);
/* The same estimates, of which what stands in `before` is not worked out again; it may be NULL. */
WbCraftEstimates *wb_craft_estimates_new_after (WbCraftMemo *before, const WbDataset *data, const WbCraftFigures *figures,
                                                WbStage stage, WbCraftEarlier *earlier, WbCraftKeepGoing keep_going, gpointer user);
void              wb_craft_estimates_free (WbCraftEstimates *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftEstimates, wb_craft_estimates_free)

G_END_DECLS
