/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stdbool.h>

#include <suitesparse/cholmod.h>

#include "wb-calc-pooled.h"

/*
 * Henderson's equations C (u) = right, u the coefficients less their prior means, C = A + prior precisions, A = X' R^-1 X. Which
 * entries are there never changes, so that the order of elimination is looked for once. Only read once it stands: any thread may.
 */
typedef struct
{
  size_t                   p;
  size_t                   n_families;
  size_t                   n_flat;
  WbCalcPooledCoefficient *coefficients;
  WbCalcPooledFamily      *families;
  size_t                  *family_size;
  double                  *right;     /* p: X' R^-1 (y - X prior means) */
  int                     *start;     /* A's lower triangle by columns, the diagonal always there and first */
  int                     *row;
  double                  *value;
  cholmod_factor          *symbolic;
} WbCalcPooledEquations;

/* A solver of one thread: CHOLMOD's own notes, and the factor L D L' at one vector of spreads. */
typedef struct
{
  const WbCalcPooledEquations *equations;
  cholmod_common               common;
  cholmod_factor              *factor;
  double                      *value;   /* C's lower triangle */
  double                       log_det; /* of C */
} WbCalcPooledSolver;

/* Room that the search keeps, and what it learnt at the last spreads asked for. */
typedef struct
{
  WbCalcPooledSolver      solver;
  const WbCalcPooledRows *rows;
  const double           *noise;
  double                 *y;         /* less the prior means */
  double                 *residual;
  double                 *u;
  double                 *inverse;   /* C^-1 where the factor has entries */
  size_t                  inverse_size;
  double                  constant;  /* what of the log density no spread changes */
  double                  log_density;
  double                 *gradient;    /* n_families */
  double                 *information; /* n_families squared */
} WbCalcPooledState;

/* Where the spreads were found and the points around them. */
typedef struct
{
  double  *mode;
  double  *covariance;
  double   log_density;
  size_t   n_points;
  double  *spreads; /* n_points x n_families */
  double  *weights;
  double  *means;   /* n_points x p */
} WbCalcPooledPoints;

void         wb_calc_pooled_common_start (cholmod_common *common);
/* 1 / variance that a coefficient has without data; 0: flat. */
double       wb_calc_pooled_precision    (const WbCalcPooledCoefficient *coefficient,
                                          const double                  *log_spreads);

WbCalcStatus wb_calc_pooled_equations_init  (WbCalcPooledEquations         *self,
                                             const WbCalcPooledRows        *rows,
                                             const double                  *y,
                                             const double                  *noise,
                                             const WbCalcPooledCoefficient *coefficients,
                                             size_t                         p,
                                             const WbCalcPooledFamily      *families,
                                             size_t                         n_families);
void         wb_calc_pooled_equations_clear (WbCalcPooledEquations *self);
/* A, or C with its own values, as CHOLMOD sees it; nothing is copied. */
cholmod_sparse wb_calc_pooled_equations_look (const WbCalcPooledEquations *self,
                                              double                      *value);

WbCalcStatus wb_calc_pooled_solver_init     (WbCalcPooledSolver          *self,
                                             const WbCalcPooledEquations *equations);
void         wb_calc_pooled_solver_clear    (WbCalcPooledSolver *self);
/* WB_CALC_BAD_INPUT where C is not finite, WB_CALC_UNIDENTIFIED where it is singular. */
WbCalcStatus wb_calc_pooled_solver_factor   (WbCalcPooledSolver *self,
                                             const double       *log_spreads);
/* Solves by CHOLMOD's `system` for n right sides, p long each, in place. */
WbCalcStatus wb_calc_pooled_solver_solve    (WbCalcPooledSolver *self,
                                             int                 system,
                                             double             *b,
                                             size_t              n);
/* C^-1 at the factor's own entries, laid out as they are. */
void         wb_calc_pooled_solver_invert   (const WbCalcPooledSolver *self,
                                             double                   *inverse);

WbCalcStatus wb_calc_pooled_state_init  (WbCalcPooledState           *self,
                                         const WbCalcPooledEquations *equations,
                                         const WbCalcPooledRows      *rows,
                                         const double                *y,
                                         const double                *noise);
void         wb_calc_pooled_state_clear (WbCalcPooledState *self);
/* u and log_density; fails as the factor does. */
WbCalcStatus wb_calc_pooled_state_at       (WbCalcPooledState *self,
                                            const double      *log_spreads);
/* The gradient where wb_calc_pooled_state_at was last. */
WbCalcStatus wb_calc_pooled_state_slope    (WbCalcPooledState *self,
                                            const double      *log_spreads);
/* The average information there. */
WbCalcStatus wb_calc_pooled_state_inform   (WbCalcPooledState *self);

void         wb_calc_pooled_points_clear (WbCalcPooledPoints *self);
/* The mode from `start` on, the curvature there, and the points around. */
WbCalcStatus wb_calc_pooled_search  (WbCalcPooledState  *state,
                                     const double       *start,
                                     WbCalcPooledPoints *points);
/* The points, from the mode, the log density there and the covariance's root: axes[k * n_axes + a], one standard deviation long. */
WbCalcStatus wb_calc_pooled_scatter (WbCalcPooledState  *state,
                                     const double       *axes,
                                     size_t              n_axes,
                                     WbCalcPooledPoints *points);
