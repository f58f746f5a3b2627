/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-interval.h"

G_BEGIN_DECLS

/* The growth curve of one cell's pools, D (t) = D∞ (1 − exp (−(t / tau)^exponent)), by censored likelihood. */

typedef enum
{
  WB_CRAFT_FIT_OK,
  WB_CRAFT_FIT_BENT,          /* fitted, with an exponent on the time that the whole experiment asks for */
  WB_CRAFT_FIT_NO_READINGS,
  WB_CRAFT_FIT_TOO_FEW,       /* the data cannot carry a curve */
  WB_CRAFT_FIT_ALL_AT_WALL,   /* a lower bound only */
  WB_CRAFT_FIT_ONE_SAMPLE,    /* fitted; spread between samples from the other cells */
  WB_CRAFT_FIT_EARLIER,       /* fitted; no cell has a second sample: the spread is that of the notebook's other experiments */
  WB_CRAFT_FIT_STATED,        /* fitted; nor have they: the spread is a stated opinion */
  WB_CRAFT_FIT_HELD,          /* every pool is held by an earlier ring */
  WB_CRAFT_FIT_NO_POOL,       /* every pool was read as 0: none formed */
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
  double           exponent;             /* of the law, common to the experiment: 1 unless bent */
  double           log_limit, log_tau;   /* estimate on the log scale */
  double           var_limit, var_tau, cov; /* of the estimate */
  double           df;
  double           df_tau;
  double           sample_sd, burn_sd;   /* of log D-infinity */
  double           noise_mm;
  double           at_wall_h;            /* mean over burns of the first reading at the wall; NAN: none was */
  double           short_h;              /* over the same burns, of the last one short of it before, 0 where there was none */
  guint            samples, burns, readings, censored;
} WbCraftGrowth;

/* Is there a curve? */
gboolean          wb_craft_fit_status_is_fitted (WbCraftFitStatus status);
const char       *wb_craft_fit_status_get_key   (WbCraftFitStatus status); /* "ok", "all_at_wall", ... */
const char       *wb_craft_fit_status_get_label (WbCraftFitStatus status); /* translated sentence */
/* Diameter at t hours by a cell's curve, capped by nothing; NAN without a fit. */
double            wb_craft_growth_at (const WbCraftGrowth *growth, double t_h);
/* 90 % band of the cell's mean curve at t. */
WbCraftInterval   wb_craft_growth_band (const WbCraftGrowth *growth, double t_h);

G_END_DECLS
