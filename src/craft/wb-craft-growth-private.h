/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-figures.h"
#include "wb-craft-growth.h"
#include "wb-craft-keep-going.h"

G_BEGIN_DECLS

/* Spread between candles, of ln D∞, that earlier experiments have shown; df 0: none did. */
typedef struct { double sd, df; } WbCraftSpread;

/*
 * Growth of every cell over a stage (WB_STAGE_ALL: all), one pooled fit for the
 * experiment: standard burns of samples that count, a pool held by a ring left
 * out. `earlier` stands in where no cell has a second sample. `growth` has room for a cell each; `done` is what keep_going is told
 * meanwhile. FALSE: stopped.
 */
gboolean wb_craft_growth_estimate (const WbDataset      *data,
                                   const WbCraftFigures *figures,
                                   WbStage               stage,
                                   WbCraftSpread         earlier,
                                   WbCraftKeepGoing      keep_going,
                                   gpointer              user,
                                   double                done,
                                   WbCraftGrowth        *growth);

/* Hours to a diameter by a level and a pace, INFINITY for never. */
double   wb_craft_growth_time    (double level_mm,
                                  double tau_h,
                                  double diameter_mm);

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
