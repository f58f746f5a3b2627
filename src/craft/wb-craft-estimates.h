/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-figures.h"
#include "wb-craft-interval.h"

G_BEGIN_DECLS

/*
 * Estimates of each cell from the figures of its burns: growth curve by
 * censored likelihood, the other figures by a mean with sample and burn
 * spread pooled over the experiment. All cells, and all earlier experiments,
 * are arguments.
 */

/* Mean of a figure on the scale it is estimated on, with the spreads that draws need. */
typedef struct
{
  WbCraftInterval told;     /* in the figure's unit */
  gboolean log_scale;
  double   mean, se;        /* on that scale */
  double   df;
  double   sample_sd;       /* between candles of one recipe, on that scale */
  double   burn_sd;         /* between burns of one candle */
  double   offset;          /* added after going back from the scale: the mean room for the vessel's rise, 0 for others */
  guint    samples, burns;  /* with a value */
} WbCraftEstimate;

typedef enum
{
  WB_CRAFT_FIT_OK,
  WB_CRAFT_FIT_NO_READINGS,
  WB_CRAFT_FIT_TOO_FEW,       /* the data cannot carry a curve */
  WB_CRAFT_FIT_ALL_AT_WALL,   /* a lower bound only */
  WB_CRAFT_FIT_ONE_SAMPLE,    /* fitted; spread between samples from elsewhere or a stated prior */
  WB_CRAFT_FIT_HELD,          /* every pool is held by an earlier ring */
  WB_CRAFT_FIT_FAILED         /* did not converge */
} WbCraftFitStatus;

typedef struct
{
  WbCraftFitStatus status;
  WbCraftInterval  pool_limit_mm;
  WbCraftInterval  tau_h;
  WbCraftInterval  full_pool_h;
  double           p_in_window;   /* of the next candle poured */
  double           p_never;       /* the cell's typical candle never gets there */
  double           log_limit, log_tau;   /* estimate on the log scale */
  double           var_limit, var_tau, cov; /* of the estimate */
  double           df;
  double           sample_sd, burn_sd;   /* of log D-infinity */
  double           noise_mm;
  double           at_wall_h;            /* mean over burns of the first reading at the wall; NAN: none was */
  guint            samples, burns, readings, censored;
} WbCraftGrowth;

typedef struct
{
  guint           cell;
  guint           samples;       /* that count */
  guint           burns;         /* standard burns that count */
  WbCraftGrowth   growth;                     /* over the stages asked for */
  WbCraftEstimate figure[WB_N_FIGURES];       /* over the stages asked for; growth's own figures unused */
  WbCraftGrowth   stage_growth[WB_N_STAGES];
  WbCraftEstimate stage_figure[WB_N_STAGES][WB_N_FIGURES];
  WbCraftEstimate stage_worst[WB_N_STAGES][WB_N_FIGURES]; /* of the worst of each burn */
} WbCraftCell;

typedef struct
{
  WbCraftCell *cells;
  guint        n_cells;
} WbCraftEstimates;

typedef gboolean (*WbCraftKeepGoing) (double done, gpointer user); /* done 0 to 1; FALSE: stop */

/*
 * `stage` WB_STAGE_ALL: all. `earlier`: WbCraftEstimates of earlier experiments of the notebook, for spreads that
 * this one cannot show; may be NULL. NULL is returned when keep_going said stop.
 */
WbCraftEstimates *wb_craft_estimates_new  (const WbDataset *data, const WbCraftFigures *figures, WbStage stage,
                                           const GPtrArray *earlier, WbCraftKeepGoing keep_going, gpointer user);
void              wb_craft_estimates_free (WbCraftEstimates *self);
const char       *wb_craft_fit_status_get_key   (WbCraftFitStatus status); /* "ok", "all_at_wall", ... */
const char       *wb_craft_fit_status_get_label (WbCraftFitStatus status); /* translated sentence */
/* Diameter at t hours by a cell's curve, capped by nothing; NAN without a fit. */
double            wb_craft_growth_at (const WbCraftGrowth *growth, double t_h);
/* 90 % band of the cell's mean curve at t. */
WbCraftInterval   wb_craft_growth_band (const WbCraftGrowth *growth, double t_h);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftEstimates, wb_craft_estimates_free)

G_END_DECLS
