/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "lab.h"

/*
 * An invented maker's years: series of wicks, waxes and vessels, experiments that were
 * burnt with them, and the next vessel, whose truth is known. What the wick ladder is
 * measured against. Every figure here is invented, drawn anew from the seed and the
 * world's number, and none is taken from the program.
 *
 * Each figure of a recipe, on the scale of lab.h (ln D-inf, ln tau, ln of a measure, latent level of a rating):
 *
 *   y = base + ratio strength + width ln (D / 76.2) + load (load - 6) + wax + series
 *       + wick + vessel x wick + pour
 *   strength = level of the series + its steps, which are not quite even + the wick's own
 *
 * A pour is an experiment's; it moves all its cells alike, and what is hot is hot in
 * all figures, as with lab.h's samples. An experiment is a Lab: candles, burns and the
 * reader are those of lab-burn.c, the truth of a recipe that of lab-truth.h at pour 0.
 */

typedef enum
{
  WORLD_PLAIN,
  WORLD_CURVED,      /* what the diameter changes is not straight in its logarithm */
  WORLD_OFF5,        /* vessel x wick 5 % off the law instead of 3 % */
  WORLD_MATERIAL,    /* half of the vessels are of another, warmer material */
  WORLD_UPPER,       /* candles were burnt two to four times, not to their ends, and no masses tell the third */
  WORLD_NEW_WAX,     /* the next vessel's wax was never tried */
  WORLD_NEW_SERIES,  /* nor was one of the series that are asked for */
  WORLD_SNUFFED,     /* what is read over a limit is snuffed, and lit no more */
  /*
   * Experiments that are planned to be learnt from: two series, all of whose sizes are asked for from the start, each
   * experiment with three or four sizes of both in one vessel, always with one wax and load, but for a tenth of them.
   */
  WORLD_STEADY,
  WORLD_N_VARIANTS
} WorldVariant;

const char *world_variant_get_key  (WorldVariant variant);
int         world_variant_from_key (const char *key); /* -1: none has that key */

typedef enum
{
  WORLD_LIMIT, WORLD_TAU, WORLD_DEPTH, WORLD_FLAME, WORLD_RISE, WORLD_CONSUMPTION, WORLD_SOOT, WORLD_MUSHROOM,
  WORLD_N_FIGURES
} WorldFigure;

/* A deviation of each figure on its scale. */
typedef struct { double of[WORLD_N_FIGURES]; } WorldShift;

#define WORLD_EARLIER 10
#define WORLD_VESSELS 7
#define WORLD_MOST_SERIES 3
#define WORLD_MOST_STEPS 7
#define WORLD_MOST_WICKS (WORLD_MOST_SERIES * WORLD_MOST_STEPS)
#define WORLD_MOST_WAXES 3
#define WORLD_REFERENCE_MM 76.2

#define WORLD_SAMPLES 2         /* of a cell of an experiment */
#define WORLD_POUR_SD 0.02
#define WORLD_OFF_SD 0.03
#define WORLD_WICK_SD 0.02
#define WORLD_SERIES_SD 0.05  /* by which a series' figures are off its strength */
#define WORLD_WAX_SD 0.06
#define WORLD_HOT 0.5         /* of pours and waxes, what goes with ln D-inf */
#define WORLD_LEVEL_SD 0.08   /* of the strength of a series */
#define WORLD_GAP_LOW 0.07    /* of a step of it, from one to the next */
#define WORLD_GAP_HIGH 0.11
#define WORLD_UNEVEN 0.1      /* of a step, standard deviation */

typedef struct { guint series; guint step; double strength; WorldShift own; } WorldWick; /* step from 0 */

/* Cells are (vessel, load, wick) in the order of a lab. */
typedef struct
{
  guint      vessels[LAB_MOST_VESSELS], n_vessels;
  guint      wax;
  double     load_pct[2];
  guint      n_loads;
  gboolean   tries[WORLD_MOST_WICKS];
  guint      burns;            /* of a sample, where they are not counted in thirds */
  double     room_c;           /* on average */
  WorldShift pour;
} WorldExperiment;

typedef struct
{
  WorldVariant variant;
  guint64      seed;
  guint        number;
  gboolean     untold;         /* nobody wrote down of what the vessels are, as a burn log has no column for it */
  Lab         *habits;
  WorldShift   base, ratio, width, curve, load, tin;
  WorldShift   waxes[WORLD_MOST_WAXES];
  WorldShift   series[WORLD_MOST_SERIES];
  guint        n_waxes, n_series, n_wicks;
  guint        n_steps[WORLD_MOST_SERIES];
  WorldWick    wicks[WORLD_MOST_WICKS];
  double       inner_mm[WORLD_VESSELS];
  gboolean     is_tin[WORLD_VESSELS];
  WorldShift   off[WORLD_VESSELS][WORLD_MOST_WICKS];
  WorldShift   off_sd;
  WorldExperiment earlier[WORLD_EARLIER];
  guint        next_vessel, next_wax;
  double       next_load_pct;
  WorldShift   next_pour;      /* of the experiment that follows */
  guint        charted[WORLD_MOST_SERIES]; /* the step that a supplier's chart names for the next vessel, a step off (standard deviation) */
  /* Records, the same ids in all experiments. */
  GPtrArray   *wick_records, *wax_records, *guide_records;
} World;

World     *world_new  (WorldVariant variant, guint64 seed, guint number);
void       world_free (World *self);

/* What the law says of a recipe, on the figure's scale: neither pour nor vessel x wick is in it. */
double     world_law            (const World *self, WorldFigure figure, guint vessel, guint wick, guint wax, double load_pct);
/* Draws the law: of world_new() alone. */
void       world_draw_law       (World *self, WbCalcRandom *random);

/* What the coefficients of a figure are drawn from, as normal distributions of the same mean and standard deviation. */
typedef struct { double mean, sd; } WorldNormal;
typedef struct { WorldNormal base, ratio, width, curve, load; double series_sd, own_sd; } WorldBelief;
WorldBelief world_believe       (const World *self, WorldFigure figure);
/* Covariance of two figures of what world_draw_shift() draws. */
double     world_shift_covariance (WorldFigure one, WorldFigure other, double sd, double hot);
/* The habits of the world's maker: of world_new() alone. */
Lab       *world_new_habits     (const World *self);
/* An earlier experiment as a lab, and burnt, with the world's records; caller owns them. From any thread. */
Lab       *world_lab_of         (const World *self, guint earlier);
WbDataset *world_burn           (const World *self, guint earlier);
/*
 * The next vessel with every wick of the world, cell for wick. off: its wicks' deviations from the law, n_wicks long, NULL: what
 * is true; pour: NULL: none.
 */
Lab       *world_lab_of_next    (const World *self, const WorldShift *off, const WorldShift *pour);
/* The same burnt: `tries` says which wicks, each with that many samples of 6 burns; `draw` tells one pour's candles from another's. */
WbDataset *world_burn_next      (const World *self, const gboolean *tries, guint samples, guint draw);
/* Of what a vessel's record says that its wall is: WbWall; -1: nobody wrote it down. */
int        world_get_wall      (const World *self, guint vessel);
/* A wick's record id, and back: G_MAXUINT where it is none of the world's. */
gint64     world_wick_id        (guint wick);
guint      world_find_wick      (const World *self, gint64 id);
/*
 * Is a wick of its series burnt in the first `n` experiments? With n 0 the maker has what the first one will be of; of a new
 * series all are asked for.
 */
gboolean   world_asks_for       (const World *self, guint wick, guint n);
/* All figures shifted by normal deviations of that spread; hot: the part that goes with ln D-inf, 0 to 1. */
WorldShift world_draw_shift     (WbCalcRandom *random, double sd, double hot);
void       world_random_init    (const World *self, guint stream, WbCalcRandom *random);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (World, world_free)
