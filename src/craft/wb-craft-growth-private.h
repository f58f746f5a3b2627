/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-calc-growth.h"
#include "wb-craft-columns-private.h"
#include "wb-craft-figures.h"
#include "wb-craft-growth.h"
#include "wb-craft-keep-going.h"
#include "wb-craft-memo-private.h"

G_BEGIN_DECLS

typedef struct _WbCraftPools WbCraftPools;

/* What is believed of a spread between candles: log-normal, known to a factor; factor 0: nothing was learnt. */
typedef struct { double median, factor; } WbCraftSpread;

/* The opinion on that of ln D∞ where candles tell it. */
WbCraftSpread wb_craft_growth_get_usual (void);

/*
 * Growth of every cell over a stage (WB_STAGE_ALL: all), one pooled fit for the
 * experiment: standard burns of samples that count, a pool held by a ring left
 * out. `earlier`, what the notebook's other experiments say, stands in where no cell has a second sample. `growth` has room
 * for a cell each; `done` is what keep_going is told meanwhile. FALSE: stopped.
 */
gboolean wb_craft_growth_estimate (WbCraftMemo          *memo,
                                   const WbDataset      *data,
                                   const WbCraftFigures *figures,
                                   WbStage               stage,
                                   WbCraftSpread         earlier,
                                   WbCraftKeepGoing      keep_going,
                                   gpointer              user,
                                   double                done,
                                   WbCraftGrowth        *growth);

/* Hours to a diameter by a level, a pace and an exponent, INFINITY for never. */
double   wb_craft_growth_time    (double level_mm,
                                  double tau_h,
                                  double exponent,
                                  double diameter_mm);

/*
 * The growth of all cells in which they borrow from each other along `columns`: what
 * the score is drawn from; with columns NULL each for itself. NULL: no curve came of it, or stopped.
 */
WbCraftPools *wb_craft_pools_new  (WbCraftMemo          *memo,
                                   const WbDataset      *data,
                                   const WbCraftFigures *figures,
                                   WbStage               stage,
                                   const WbCraftColumns *columns,
                                   WbCraftSpread         earlier,
                                   WbCraftKeepGoing      keep_going,
                                   gpointer              user);
void          wb_craft_pools_free (WbCraftPools *self);
double        wb_craft_pools_get_exponent   (const WbCraftPools *self);
/* Each sample's deviation of ln D∞ as far as its burns tell: one a sample of the data set, NAN none. Caller frees. */
double       *wb_craft_pools_dup_deviations (const WbCraftPools *self,
                                             guint               n_samples);
/* Numbers a draw takes: `n_shared` first, then `n_local` a cell, its level first. */
gsize         wb_craft_pools_get_n_deviates (const WbCraftPools *self,
                                             gsize              *n_shared,
                                             gsize              *n_local);
/*
 * Joint draws of ln D∞ and ln tau of all cells, n_draws × n_cells (both NULL: the spreads alone), with the spreads of each
 * draw. z and burn_sd may be NULL.
 */
gboolean      wb_craft_pools_draw (const WbCraftPools *self,
                                   guint64             seed,
                                   guint               n_draws,
                                   const double       *z,
                                   double             *levels,
                                   double             *paces,
                                   double             *sample_sd,
                                   double             *burn_sd);
/* ln D∞ and ln tau of a cell; NAN where it has none. The counts are of what its curve rests on. */
void     wb_craft_pools_get      (const WbCraftPools *self,
                                  guint               cell,
                                  double             *log_limit,
                                  double             *log_tau,
                                  guint              *samples,
                                  guint              *burns);
/* Weighted sum over all cells of ln D∞ and ln tau, with standard error and degrees of freedom. FALSE: not told. */
gboolean wb_craft_pools_contrast (const WbCraftPools   *self,
                                  const double         *of_limit,
                                  const double         *of_tau,
                                  WbCalcGrowthContrast *contrast);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftPools, wb_craft_pools_free)

/*
 * One draw of a cell's own curve, from three standard draws: two normal, and chi =
 * sqrt (df / chi-square (df)), 1 for infinite df. FALSE where it has no curve.
 */
gboolean wb_craft_growth_draw    (const WbCraftGrowth *growth,
                                  double               z_level,
                                  double               z_pace,
                                  double               chi,
                                  double              *level_mm,
                                  double              *tau_h);

G_END_DECLS
