/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-interval.h"
#include "wb-dataset.h"

G_BEGIN_DECLS

/* One cell's place in a ranking: verdict, reasons, and the parts of its score. */

typedef enum
{
  WB_CRAFT_VERDICT_RECOMMENDED,
  WB_CRAFT_VERDICT_CANDIDATE,
  WB_CRAFT_VERDICT_REJECTED,
  WB_CRAFT_VERDICT_TOO_LITTLE_DATA
} WbCraftVerdict;
const char *wb_craft_verdict_get_key   (WbCraftVerdict verdict);
const char *wb_craft_verdict_get_label (WbCraftVerdict verdict); /* translated */

typedef struct
{
  char   *code;     /* "limit_crossed", "few_samples", "not_burnt_down", ... */
  char   *text;     /* translated sentence */
  char   *subject;  /* translated: what several reasons of one code are about, "Hot throw"; NULL: it stands alone */
  char   *place;    /* translated: where of it, "upper third"; or NULL */
  gint64  entry;    /* reading or entry that says so; 0 none */
  gboolean house;   /* the limit that was crossed is one of the house's own, not a published one */
} WbCraftReason;

/* One aim's share of a score. */
typedef struct
{
  WbFigure figure;
  WbStage  stage;
  double   value;         /* in the figure's stored unit; full pool: h */
  double   desirability;  /* expected, of the next candle */
  double   weight;
  gboolean dropped;       /* no cell of the group has it: out of the whole group's score */
} WbCraftPart;

/*
 * How far the weight of one aim can move, the others left as they are, before another cell of
 * the group has the highest expected score. Looked for from 1/8 to 8 times the weight, and at 0.
 */
typedef struct
{
  WbFigure figure;
  WbStage  stage;
  double   weight;
  double   low;          /* a weight: below it another leads, 0: only where the aim is left out; NAN: none does within the reach */
  double   high;         /* a weight: above it another leads; NAN: none does within the reach */
  guint    winner_below; /* a cell of the data set; G_MAXUINT: none */
  guint    winner_above;
} WbCraftWeight;

typedef struct
{
  guint           cell;
  guint           rank;         /* from 1 */
  WbCraftInterval score;        /* the recipe's expected score, 0 to 1 */
  WbCraftInterval next_candle;
  gboolean        crossed;        /* a candle of it was read over a limit: whatever p_cross is */
  gboolean        cracked;        /* its vessel cracked, and no limit tells it: a limit that is turned off is not crossed */
  gboolean        cross_part;     /* not every third, or not every limit, was read: p_cross covers only what was */
  double          p_best, p_near, p_cross, expected_loss; /* NAN where it was never burnt */
  double          loss_high;    /* score lost against the best that is passed in one draw of twenty only; NAN as above */
  double          p_best_error, p_near_error, p_cross_error; /* Monte Carlo standard errors of the chances; NAN also where p_cross was counted of samples */
  double         *p_rank;       /* chance of each rank in the group, n_cells long */
  WbCraftVerdict  verdict;
  GPtrArray      *reasons;      /* WbCraftReason */
  GArray         *parts;        /* WbCraftPart */
  guint           samples, burns; /* standard burns that count and are over */
  guint           alight;         /* those that are not yet */
  guint           placed;       /* burnt samples of which is known in which third they burnt; of the others all counts as the upper */
} WbCraftRanked;

/* The verdict as paper tells it: of a rejected one whether it crossed a limit, would not do, or is only not the best. Translated; static. */
const char     *wb_craft_ranked_get_verdict_label (const WbCraftRanked *ranked);
/* The reasons as sentences for people, those of one code in one: char *. Caller unrefs. */
GPtrArray      *wb_craft_ranked_dup_sentences (const WbCraftRanked *ranked);

G_END_DECLS
