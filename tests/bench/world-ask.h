/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "lab-tally.h"
#include "world-truth.h"

/* An invented world put to the program's wick ladder, after so many of its experiments, and the answer laid beside the truth. */

/* Ways of choosing three wicks. */
typedef enum
{
  WORLD_WAY_LADDER,
  WORLD_WAY_RUN,      /* the ladder's own best run of neighbours, if told */
  WORLD_WAY_CHART,    /* a supplier's chart that is a step off, and its neighbours */
  WORLD_WAY_NEAREST,  /* what read best in the earlier vessel nearest in diameter: a plain average of its burns */
  WORLD_WAY_INFORMED, /* who knows how worlds are drawn, and learns from the cells' true values (world-informed.h) */
  WORLD_WAY_BY_CANDLES, /* the same by the candles that were burnt, of which no reading is wrong */
  WORLD_WAY_ORACLE,   /* who knows the law and all but pour and vessel x wick */
  WORLD_N_WAYS
} WorldWay;

const char *world_way_get_label (WorldWay way);

typedef struct
{
  gboolean told;      /* has an answer */
  double   holds, near, loss, chosen;
  double   said;      /* chance that it holds the best; NAN: not told */
} WorldPick;

typedef enum { WORLD_CHANCE_HOLDS, WORLD_CHANCE_RUN, WORLD_CHANCE_BEST, WORLD_CHANCE_NEAR, WORLD_CHANCE_RIGHT, WORLD_CHANCE_CROSS,
               WORLD_N_CHANCES } WorldChance;

const char *world_chance_get_label (WorldChance chance);

/* A chance as said, beside what is true of it. */
typedef struct { WorldChance what; double said, truth; } WorldStated;

typedef struct
{
  guint           wick;
  WorldPlace      place;
  WorldSaid       what;
  gboolean        tried;      /* the wick itself was burnt in an earlier experiment */
  double          truth, next_pour;
  double          oracle_width, oracle_pour_width, informed_width; /* the last one INFINITY after no experiment */
  double          p_never;
  WbCraftInterval said;       /* all NAN: no answer */
} WorldLine;

typedef struct
{
  guint     earlier, asked;   /* experiments; wicks asked for */
  gboolean  by_history;
  WorldPick ways[WORLD_N_WAYS];
  GArray   *lines;            /* WorldLine */
  GArray   *stated;           /* WorldStated */
} WorldAnswer;

typedef struct
{
  World          *world;
  WorldWickTruth *truth;
  GPtrArray      *answers;    /* WorldAnswer, one for each number of experiments */
  double          learn_s, answer_s, truth_s; /* truth_s: references, too */
} WorldResult;

/* What the program is told beside the experiments. */
typedef struct
{
  gboolean guides;            /* suppliers' diameters; after no experiment they always are */
  gboolean quick;             /* the informed reference is not asked */
  gboolean references;        /* the program is not: what is known without any burn alone */
  gboolean untold;            /* nobody wrote down of what the vessels are */
  gboolean burnt;             /* of wicks only those that were burnt, as where burn logs are all there is */
} WorldTold;

/* After each of n_counts numbers of experiments, upwards, at most WORLD_EARLIER. From any thread. */
WorldResult *world_ask         (WorldVariant variant, guint64 seed, guint number, const guint *counts, guint n_counts,
                                WorldTold told);
void         world_result_free (WorldResult *self);
/* Does the interval hold that truth? As lab_line_covered() has it. under, over: the truth lies there; each may be NULL. */
gboolean     world_line_covered (const WorldLine *line, double truth, gboolean *under, gboolean *over);
