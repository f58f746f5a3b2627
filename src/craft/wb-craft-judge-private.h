/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-aims-private.h"
#include "wb-craft-candles-private.h"
#include "wb-craft-draws-private.h"

G_BEGIN_DECLS

/* A whole number of pairs, so that the compiler may take two candles at a time; the last one is no candle. */
#define WB_CRAFT_JUDGE_WIDTH (WB_CRAFT_N_STRATA + 1)

/* A side of a desirability as a straight line: floor at `per` × (y - at) of 0, 1 at 1. Open: at and per 0, floor 1. */
typedef struct
{
  double at;
  double per;
  double floor;
} WbCraftJudgeSide;

/* An aim and its draws, with everything looked up that does not change from draw to draw. */
typedef struct
{
  guint              index;     /* among the aims of the profile */
  WbFigure           figure;
  const WbCraftDraw *draw;
  WbCalcDesirability shape;
  gboolean           straight;  /* both sides are lines */
  WbCraftJudgeSide   low, high;
  double            *inner;     /* a member; growth alone: mm */
  double            *due;       /* h */
  guint              class;     /* aims of one weight share a class */
} WbCraftJudge;

void   wb_craft_judge_init    (WbCraftJudge      *self,
                               const WbDataset   *data,
                               const guint       *members,
                               guint              n,
                               const WbCraftAim  *aim,
                               const WbCraftDraw *draw);
void   wb_craft_judge_clear   (WbCraftJudge      *self);
/* How far the candles of that draw are from their recipe: candle k stands in stratum order[k]; as factors on a logarithm. */
void   wb_craft_judge_spread  (const WbCraftJudge *self,
                               guint               index,
                               const double        strata[WB_CRAFT_N_STRATA],
                               const guint8        order[WB_CRAFT_N_STRATA],
                               double              factors[WB_CRAFT_JUDGE_WIDTH]);
/*
 * Multiplies what the candles of a member are worth in that draw into `product`;
 * returns their mean. `at`: where the cell stands in the draws' level. NaN in, NaN out.
 * kept: room for the logarithm of each, or NULL.
 */
double wb_craft_judge_candles (const WbCraftJudge *self,
                               gsize               at,
                               guint               member,
                               const double        factors[WB_CRAFT_JUDGE_WIDTH],
                               double              product[WB_CRAFT_JUDGE_WIDTH],
                               float              *kept);

G_END_DECLS
