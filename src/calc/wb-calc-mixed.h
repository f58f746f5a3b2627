/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stddef.h>
#include <stdint.h>

#include "wb-calc-status.h"

/*
 * Linear mixed model of runs nested in units nested in blocks:
 *
 *   y = x_local' a_block + x_global' b + unit + run + e
 *
 *   unit ~ N (0, su^2),  run ~ N (0, sr^2),  e ~ N (0, known variance of the row)
 *
 * A column, local (a coefficient for each block) or global (one for all), is flat (a
 * fixed effect), has a known spread (a weak opinion), or one of the spreads that are
 * estimated (a random effect). The spreads are estimated by restricted maximum
 * likelihood (Patterson and Thompson, Biometrika 58 (1971) 545-554), all coefficients
 * integrated out; where a spread has a prior, the mode of likelihood times prior on its
 * logarithm. Henderson's equations (Biometrics 31 (1975) 423-447) are solved by
 * eliminating units, then blocks, so that the time is proportional to rows x global^2.
 */

enum
{
  WB_CALC_MIXED_RUN,      /* the spread of runs: first of the spreads */
  WB_CALC_MIXED_UNIT,     /* the spread of units: second */
  WB_CALC_MIXED_N_NESTED,
  WB_CALC_MIXED_MAX_SPREADS = 8
};

#define WB_CALC_MIXED_KNOWN (-1)

typedef struct
{
  int    spread; /* index of the spread that the coefficient has, or WB_CALC_MIXED_KNOWN */
  double sd;     /* where known: its spread around 0, > 0; INFINITY: flat */
} WbCalcMixedColumn;

typedef struct
{
  double start;  /* > 0: where the search begins; bounds are this times 1e-4 and 1e4 */
  bool   held;   /* not estimated: it is `start`, which may then be 0 */
  double median; /* of a log-normal prior on the sd; used where factor > 1 */
  double factor; /* exp of the sd of its logarithm; 0: no prior */
} WbCalcMixedSpread;

/* Rows stand in order of block, and within a block in order of unit. */
typedef struct
{
  size_t                   n_rows;
  const double            *y;
  const double            *variance;      /* n_rows, known, >= 0; NULL: 0 */
  const bool              *outside;       /* n_rows: no run of a unit, its error is `variance` alone (then > 0); NULL: none */
  const size_t            *unit;          /* n_rows, not decreasing among the rows that are not outside */
  const size_t            *block;         /* n_rows: 0 .. n_blocks - 1, not decreasing */
  size_t                   n_blocks;
  size_t                   n_local;       /* 0 to 4 */
  const double            *local;         /* n_rows x n_local */
  const WbCalcMixedColumn *local_column;  /* n_local */
  bool                     correlated;    /* local columns 0 and 1, both of estimated spread, have a correlation, estimated too */
  size_t                   n_global;
  const double            *global;        /* n_rows x n_global */
  const WbCalcMixedColumn *global_column; /* n_global */
  size_t                   n_spreads;     /* >= 2 */
  const WbCalcMixedSpread *spread;        /* n_spreads: of runs, of units, then those that columns name */
} WbCalcMixedData;

typedef struct _WbCalcMixed WbCalcMixed;

/*
 * `data` must stay as long as the fit. WB_CALC_BAD_INPUT: not finite, indexes out of
 * range or order, a prior or column that makes no sense. WB_CALC_TOO_FEW: no rows, or no more
 * than flat coefficients where a spread has no prior. WB_CALC_UNIDENTIFIED: no coefficient can be told.
 * WB_CALC_NOT_CONVERGED, WB_CALC_CANCELLED. Flat columns that depend on others are left
 * out; what leans on them cannot be asked. `fit` is NULL unless WB_CALC_OK is returned.
 */
WbCalcStatus wb_calc_mixed_fit  (const WbCalcMixedData *data,
                                 WbCalcKeepGoing        keep_going,
                                 void                  *user,
                                 WbCalcMixed          **fit);
void         wb_calc_mixed_free (WbCalcMixed *fit);

/* The sd of a spread: 0 where the likelihood is largest there. NaN: an index out of range. */
double wb_calc_mixed_get_spread      (const WbCalcMixed *fit, size_t spread);
/* Of local columns 0 and 1; 0 unless asked for. */
double wb_calc_mixed_get_correlation (const WbCalcMixed *fit);
/* -2 log restricted likelihood (priors of coefficients in, of spreads not) at the estimate. */
double wb_calc_mixed_get_criterion   (const WbCalcMixed *fit);
/* Best linear predictor of unit u's deviation; u as in `unit`. NaN: it has no row. */
double wb_calc_mixed_get_unit        (const WbCalcMixed *fit, size_t unit);

/* Best linear predictor of what row i reads without its known error: unit and run in. NaN: no such row. */
double wb_calc_mixed_get_row         (const WbCalcMixed *fit, size_t row);

/* What is asked: `local`' a_block + `global`' b. local may be NULL with block out of use. */
typedef struct
{
  size_t        block;
  const double *local;  /* n_local, or NULL: none of it */
  const double *global; /* n_global, or NULL: none of it */
} WbCalcMixedTarget;

typedef struct
{
  double value;
  double sd;
  /*
   * Satterthwaite's, >= 1, at most rows - flat columns; where a spread is 0 no more than units beyond one a block.
   * Where no block has a second unit and there is an opinion on their spread, those of the t with the 95 % point of
   * a normal with a log-normal sd: the formula takes variances for chi-squares.
   */
  double df;
} WbCalcMixedContrast;

/* sum of weights[k] x target k. WB_CALC_UNIDENTIFIED: it leans on a column left out. WB_CALC_BAD_INPUT. */
WbCalcStatus wb_calc_mixed_contrast (const WbCalcMixed       *fit,
                                     const WbCalcMixedTarget *targets,
                                     const double            *weights,
                                     size_t                   n,
                                     WbCalcMixedContrast     *contrast);

/*
 * Draws of the targets from their joint distribution, the uncertainty of the spreads
 * included: spreads from likelihood and prior by importance resampling (Rubin 1988,
 * "SIR") around the mode, coefficients given them exactly. `z`: standard normal
 * deviates, n_draws x wb_calc_mixed_get_n_deviates: those of the global columns, then
 * local column by column of block after block; NULL: made here. The same seed gives
 * the same draws. `values` n_draws x n, `spreads` n_draws x n_spreads (NULL: not
 * asked). A target that leans on a column left out: WB_CALC_UNIDENTIFIED.
 */
size_t       wb_calc_mixed_get_n_deviates (const WbCalcMixed *fit);
WbCalcStatus wb_calc_mixed_draw           (const WbCalcMixed       *fit,
                                           const WbCalcMixedTarget *targets,
                                           size_t                   n,
                                           uint64_t                 seed,
                                           size_t                   n_draws,
                                           const double            *z,
                                           double                  *values,
                                           double                  *spreads);
