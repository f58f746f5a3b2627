/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-columns-private.h"
#include "wb-craft-estimate.h"
#include "wb-craft-memo-private.h"
#include "wb-calc-mixed.h"

G_BEGIN_DECLS

/*
 * Means of a figure, one a cell, from values of burns nested in samples nested
 * in cells, on the scale the figure is estimated on:
 *
 *   y = cell + trend (burn number) + room + sample + burn,  sample ~ N (0, ss²), burn ~ N (0, sb²)
 *
 * ss² and sb² are common to all cells, by restricted maximum likelihood with weak
 * priors (wb-calc-mixed). The room is told at its mean, the burn number at the mean of the cell's own burns.
 * Where the figure has a floor, a value at it is left-censored (Tobin, Econometrica 26
 * (1958) 24-36), by Laplace's approximation: seen from the most probable value of the
 * burn it is a row of the linear model (Breslow and Clayton, JASA 88 (1993) 9-25).
 * Without columns each cell stands for itself; with them a cell is the columns' sum
 * and a deviation of its own, of a common spread estimated.
 */
typedef struct
{
  double y;       /* on the scale */
  guint  cell;
  guint  sample;
  double number;  /* of the burn in the sample's life */
  double room;    /* °C, NAN not known */
} WbCraftMeanValue;

/* On the scale; no source. Each spread is known to a factor. */
typedef struct
{
  double sample_sd, burn_sd; /* guesses */
  double reader_sd;          /* of one reading, known: no part of a burn's own spread */
  double unit;               /* what one unit of a logarithm is for a plain scale: how far cells may differ */
  gboolean floored;          /* 0 says "0 or less": a hang-up that a hotter candle would not have by far reads 0 as well */
  double sample_factor;      /* sample_sd is known to, where no cell has a second sample; 0: to the usual one */
} WbCraftMeanPrior;

#define WB_CRAFT_MEANS_FACTOR 3.0       /* to which the guess of a spread is known, no source */
#define WB_CRAFT_MEANS_N_COVARIATES 2 /* burn number and room; growth has them too */

typedef struct _WbCraftMeans WbCraftMeans;

/* values: WbCraftMeanValue. columns NULL: each cell for itself. NULL where no fit came about. */
WbCraftMeans *wb_craft_means_new  (const GArray           *values,
                                   guint                   n_cells,
                                   const WbCraftColumns   *columns,
                                   const WbCraftMeanPrior *prior);
/* The same, kept in the memo; NULL also when stopped. */
const WbCraftMeans *wb_craft_means_find (WbCraftMemo            *memo,
                                         const GArray           *values,
                                         guint                   n_cells,
                                         const WbCraftColumns   *columns,
                                         const WbCraftMeanPrior *prior,
                                         WbCalcKeepGoing         keep_going,
                                         gpointer                user);
void          wb_craft_means_free (WbCraftMeans *self);
/* Fills mean, se, df, spreads and counts of each of n_cells estimates; NAN where a cell has no value. self may be NULL. */
void          wb_craft_means_fill (const WbCraftMeans     *self,
                                   const GArray           *values,
                                   guint                   n_cells,
                                   WbCraftEstimate        *estimates);
/* Each sample's deviation as far as its burns tell: one a sample of the data set, NAN none. Caller frees. */
double       *wb_craft_means_dup_deviations (const WbCraftMeans *self,
                                             guint               n_samples);
/* The sum of weights × cells' means on the scale, with Satterthwaite's degrees of freedom. n_cells weights. FALSE: not told. */
gboolean      wb_craft_means_contrast (const WbCraftMeans  *self,
                                       const double        *weights,
                                       WbCalcMixedContrast *contrast);
/* Numbers that wb_craft_means_draw takes a draw: first those of the columns and covariates, then one a cell. */
gsize         wb_craft_means_get_n_deviates (const WbCraftMeans *self);
/*
 * Joint draws of all cells' means: levels n_draws × n_cells (NULL: the spreads alone), the spreads of each draw. z: standard
 * normal deviates, or NULL.
 * FALSE: there are none.
 */
gboolean      wb_craft_means_draw (const WbCraftMeans     *self,
                                   guint64                 seed,
                                   guint                   n_draws,
                                   const double           *z,
                                   double                 *levels,
                                   double                 *sample_sd,
                                   double                 *burn_sd);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftMeans, wb_craft_means_free)

G_END_DECLS
