/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "world.h"

/* Figures of recipes of an invented world as normal quantities, by what they are drawn from: what is believed of them, and how they go together. */

/* One figure of one recipe. */
typedef struct
{
  guint  figure, wick, vessel, wax;
  guint  experiment;       /* whose pour is in it; WORLD_EARLIER: none */
  double load_pct;
  double read;             /* of an experiment; NAN: of none */
} WorldValue;

typedef struct
{
  const World *world;
  WorldBelief  beliefs[WORLD_N_FIGURES];
  double       sample_sd[WORLD_N_FIGURES], burn_sd[WORLD_N_FIGURES]; /* of a cell's mean; all 0: cells are read as they are */
} WorldValues;

/*
 * by_candles: a cell is known as its candles and burns tell it (two of six), each read without error; else as it is. Of a rating
 * a burn tells 2/pi of what its latent level would, as of a normal quantity of which only the side of its middle is seen; the
 * time constant is known as it is.
 */
void    world_values_init       (WorldValues *self, const World *world, gboolean by_candles);
/* WorldValue: every figure of every cell of the first experiments, read; of every wick in the next vessel. Caller unrefs. */
GArray *world_values_read       (const WorldValues *self, guint earlier);
GArray *world_values_next       (const WorldValues *self);
/* What is believed of it before anything is read, but for its wick's strength. */
double  world_values_believe    (const WorldValues *self, const WorldValue *value);
/* Of what is read or asked for, likewise. */
double  world_values_covariance (const WorldValues *self, const WorldValue *one, const WorldValue *other);
