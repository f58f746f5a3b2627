/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-aims-private.h"

G_BEGIN_DECLS

#define WB_CRAFT_N_STRATA 15 /* equal-chance candles of a recipe in every draw */
#define WB_CRAFT_N_CHI 64    /* equal-chance values that stand for a spread's own uncertainty */

typedef enum
{
  WB_CRAFT_SOURCE_NONE,
  WB_CRAFT_SOURCE_MEAN,    /* an estimate of a figure */
  WB_CRAFT_SOURCE_GROWTH,  /* a growth curve: time to full melt pool, as a multiple of the hour an inch */
  WB_CRAFT_SOURCE_WALL     /* every reading at the wall: full some time before the first of them */
} WbCraftSourceKind;

/* Where a cell's value of a figure comes from in every draw. */
typedef struct
{
  WbCraftSourceKind kind;
  WbFigure          figure;
  gboolean          borrowed;     /* not read: from the other cells of the group, with their spread */
  double            mean, se;     /* on the figure's scale; growth: of ln D-infinity */
  double            df;
  double            sample_sd;
  double            burn_sd;
  double            burns;        /* of a candle in this stage; at least 1 */
  gboolean          log_scale;
  double            offset;
  double            log_tau, tau_slope, tau_rest; /* ln tau = log_tau + chi (slope z1 + rest z2) */
  double            inner_mm, due_h;
  double            at_wall_h;
  double            chi[WB_CRAFT_N_CHI];          /* sqrt (df / chi-square), small to large */
  double            strata[WB_CRAFT_N_STRATA];    /* sample_sd × the middle of each stratum */
  double            factors[WB_CRAFT_N_STRATA];   /* and its exponential */
  double            low, high;                    /* ends of the figure */
} WbCraftSource;

/*
 * The source of an aim's figure for each of the cells `members`: own estimates,
 * and for cells without, the group's: a line over the step of the wick where three
 * sizes of a series have the figure, else the mean of those that have it. Returns
 * FALSE where none has it: the aim then leaves the group's score.
 */
gboolean wb_craft_sources_fill (const WbDataset        *data,
                                const WbCraftEstimates *estimates,
                                const WbCraftAim       *aim,
                                const guint            *members,
                                guint                   n,
                                WbCraftSource          *sources);

/* One draw of a source: of its mean on its scale, and of its pace, h. */
typedef struct { double level; double tau; } WbCraftSourceDraw;

/* chi: which of the source's values of it; z1, z2: standard normal draws, the second for a growth curve alone. */
WbCraftSourceDraw wb_craft_source_draw    (const WbCraftSource *source,
                                           guint                chi,
                                           double               z1,
                                           double               z2);
/* What the candles of the recipe would show in that draw, one a stratum: stored unit; full pool as a multiple, INFINITY for never. */
void              wb_craft_source_candles (const WbCraftSource     *source,
                                           const WbCraftSourceDraw *draw,
                                           double                   values[WB_CRAFT_N_STRATA]);

G_END_DECLS
