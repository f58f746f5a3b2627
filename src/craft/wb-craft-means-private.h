/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-estimate.h"

G_BEGIN_DECLS

/*
 * Means of a figure, one a cell, from values of burns nested in samples nested
 * in cells, on the scale the figure is estimated on:
 *
 *   y = cell + sample + burn,  sample ~ N (0, ss²), burn ~ N (0, sb²)
 *
 * ss² and sb² are common to all cells, from the analysis of variance of the
 * nested layout by Henderson's expected mean squares (Searle, Linear Models,
 * 1971, chapter 10), each joined by a weak prior; a cell's mean weighs its
 * samples by 1 / (ss² + sb² / burns). Degrees of freedom: samples less cells,
 * and the prior's one.
 */
typedef struct
{
  double y;       /* on the scale */
  guint  cell;
  guint  sample;  /* values of one sample stand together */
} WbCraftMeanValue;

typedef struct
{
  double sample_sd, burn_sd; /* guesses on the scale */
  double df;                 /* of each */
} WbCraftMeanPrior;

/* values: WbCraftMeanValue. Fills mean, se, df, spreads and counts of each of n_cells estimates; NAN where a cell has no value. */
void wb_craft_means_fit (const GArray           *values,
                         guint                   n_cells,
                         const WbCraftMeanPrior *prior,
                         WbCraftEstimate        *estimates);

G_END_DECLS
