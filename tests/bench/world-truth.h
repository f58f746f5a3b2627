/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "lab-truth.h"
#include "world.h"

/* What is true of the next vessel of an invented world, and how well anybody could know it beforehand. */

#define WORLD_NEAR 0.05       /* a wick so little below the best is as good */
#define WORLD_SIZES 3         /* of a ladder */
#define WORLD_ORACLE_DRAWS 40
#define WORLD_ORACLE_CANDLES 200
#define WORLD_RIGHT_CANDLES 400

typedef enum { WORLD_TOP, WORLD_BOTTOM, WORLD_N_PLACES } WorldPlace; /* of the fill: upper and lower third */

/* Figures that a ladder foretells. */
typedef enum
{
  WORLD_SAID_LIMIT, WORLD_SAID_FULL_POOL, WORLD_SAID_FLAME, WORLD_SAID_VESSEL, WORLD_SAID_CONSUMPTION, WORLD_SAID_BURN_H,
  WORLD_N_SAID
} WorldSaid; /* mm, h (INFINITY: never), mm, degC, g/h, h of the whole fill */

const char *world_said_get_label (WorldSaid said);

typedef struct
{
  double score;               /* expected, of the recipe (pour 0) */
  double p_right;             /* of the next candle: pool in the window, no limit crossed; over pours and candles */
  double p_cross;
  double figure[WORLD_N_PLACES][WORLD_N_SAID];
  double next_pour[WORLD_N_PLACES][WORLD_N_SAID];  /* in the experiment that follows */
  double oracle_width[WORLD_N_PLACES][WORLD_N_SAID];      /* of the 90 % interval of the oracle, of the recipe */
  double oracle_pour_width[WORLD_N_PLACES][WORLD_N_SAID]; /* and of the next pour */
  double oracle_score[WORLD_ORACLE_DRAWS]; /* the recipe's score if its vessel x wick were drawn anew */
} WorldWickTruth;

/* Of each wick, n_wicks long; g_free. From any thread. */
WorldWickTruth *world_truth_new (const World *self, const GPtrArray *aims);

/* The figures of a cell of a lab of the next vessel. */
void            world_tell_figures (const World *self, const Lab *lab, const LabTruth *truth,
                                    double figure[WORLD_N_PLACES][WORLD_N_SAID]);
/* Widths of their 90 % intervals by n draws; INFINITY where one has no end. */
void            world_tell_widths  (const double (*seen)[WORLD_N_PLACES][WORLD_N_SAID], guint n,
                                    double width[WORLD_N_PLACES][WORLD_N_SAID]);
/* g of a fill of the next vessel. */
double          world_fill_g    (const World *self);

/* Among the wicks asked for: the truly best, and whether a choice of wicks holds it, or one as good. */
guint           world_best      (const World *self, const WorldWickTruth *truth, const gboolean *asked);
gboolean        world_holds     (const World *self, const WorldWickTruth *truth, const gboolean *asked, const gboolean *chosen,
                                 double within);
/* The score that is lost by the best of the chosen. */
double          world_loss      (const World *self, const WorldWickTruth *truth, const gboolean *asked, const gboolean *chosen);
/* The three wicks that have the best of some draws of the scores most often; returns in how many of them one of the three has. */
double          world_choose    (const World *self, const double *const *scores, guint n_draws, const gboolean *asked,
                                 gboolean *chosen);
/*
 * The three that the oracle takes, who knows the law and every coefficient, but neither pour nor vessel x wick; returns its
 * chance that they hold the best. Nobody can do better than that on average.
 */
double          world_oracle    (const World *self, const WorldWickTruth *truth, const gboolean *asked, gboolean *chosen);
/* What a supplier's chart names for a series that was asked for, with its neighbours: of the first one. */
void            world_chart     (const World *self, const gboolean *asked, gboolean *chosen);
