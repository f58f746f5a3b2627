/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-estimates.h"

G_BEGIN_DECLS

/* A figure of which every rating of the experiment is the same: there is no spread to estimate, only a bound. */
typedef struct
{
  WbFigure figure;
  guint    rating;           /* that was seen, in every burn */
  guint    burns, samples;   /* that were rated */
  double   differs_at_most;  /* one-sided 90 % bound on the chance that the next candle is rated otherwise: 1 - 0.1^(1/samples) */
} WbCraftSameRatings;

/* Of the burns of the stage that the estimates were made of (WB_STAGE_ALL: all), in the order of the figures. Caller unrefs. */
GArray *wb_craft_same_ratings_new      (const WbCraftEstimates   *estimates,
                                        WbStage                   stage);
/* "Soot was never seen in 40 burns of 20 samples: at most 11 candles in 100 would show any (90 in 100 sure)." Translated; caller frees. */
char   *wb_craft_same_ratings_dup_text (const WbCraftSameRatings *same);

G_END_DECLS
