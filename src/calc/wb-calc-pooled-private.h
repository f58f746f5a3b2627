/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stdbool.h>

#include "wb-calc-pooled.h"

/*
 * Henderson's equations C (u) = right, u the coefficients less their prior means, C = A + prior precisions, A = X' R^-1 X. Which
 * entries are there never changes, so that the order of elimination is looked for once, and A stands in it: `order` says which
 * coefficient comes where. The factor is L D L', L's ones not kept. Only read once it stands: any thread may.
 */
typedef struct
{
  size_t                   p;
  size_t                   n_families;
  size_t                   n_flat;
  WbCalcPooledCoefficient *coefficients;
  WbCalcPooledFamily      *families;
  size_t                  *family_size;
  double                  *right;      /* p: X' R^-1 (y - X prior means); as the coefficients stand */
  int                     *start;      /* A's upper triangle by columns in the order of elimination, */
  int                     *row;
  double                  *value;
  double                  *diagonal;   /* p: its diagonal apart */
  int                     *order;      /* p */
  int                     *place;      /* p: its inverse */
  size_t                  *l_start;    /* p + 1: L by columns, rows rising */
  int                     *l_row;
  size_t                  *l_by_row;   /* p + 1: columns that row k of L has, */
  int                     *l_column;   /* each behind all that it rests on */
  size_t                   dense_from; /* from this column on L has every entry */
  bool                    *joined;     /* p: column j - 1 of L has j and the rows that j has, and no other */
} WbCalcPooledEquations;

/*
 * A solver of one thread: the factor at one vector of spreads. While spreads of some families alone change, what comes before all of
 * their columns in the order is held: `held` are the entries of A in the rows behind, less all that is held.
 */
typedef struct
{
  const WbCalcPooledEquations *equations;
  double                      *l;           /* as the equations' pattern; then D */
  double                      *d;           /* into l */
  double                      *precision;   /* n_families */
  double                      *work;        /* p */
  size_t                      *filled;      /* p: entries that a column of L has so far */
  size_t                       held_from;   /* columns before it are held; 0: none */
  size_t                      *held_start;  /* p + 1: of rows from there on */
  int                         *held_column;
  double                      *held;
  double                      *held_diagonal;
  double                       log_det;     /* of C */
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
  double  *curvature; /* n_families squared: what the search took it for at the mode; 0 where nothing was searched for */
  double   log_density;
  size_t   n_points;
  double  *spreads; /* n_points x n_families */
  double  *weights;
  double  *means;   /* n_points x p */
  double  *factors; /* n_points x as many as a solver's l has */
} WbCalcPooledPoints;

struct _WbCalcPooled
{
  WbCalcPooledEquations equations;
  WbCalcPooledPoints    points;
  /* Of one that was taken up: which of its columns each of the model's is (SIZE_MAX: left out), how many those are, their means. */
  size_t               *column;
  size_t                n_whole;
  double               *whole_mean;
};

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
/* How many numbers a factor has, D's among them. */
size_t       wb_calc_pooled_equations_get_factor_size (const WbCalcPooledEquations *self);

WbCalcStatus wb_calc_pooled_solver_init     (WbCalcPooledSolver          *self,
                                             const WbCalcPooledEquations *equations);
void         wb_calc_pooled_solver_clear    (WbCalcPooledSolver *self);
/* WB_CALC_BAD_INPUT where C is not finite, WB_CALC_UNIDENTIFIED where it is singular. */
WbCalcStatus wb_calc_pooled_solver_factor   (WbCalcPooledSolver *self,
                                             const double       *log_spreads);
/* From the factor on that stands, spreads of these families alone change, n_families long; NULL: all may again. */
WbCalcStatus wb_calc_pooled_solver_hold     (WbCalcPooledSolver *self,
                                             const bool         *moving);
/* Solves C x = b in place, both as the coefficients stand. */
void         wb_calc_pooled_solver_solve    (WbCalcPooledSolver *self,
                                             double             *b);
/* C^-1 at L's own entries, laid out as they are, then its diagonal in the order of elimination; of what is held nothing. */
void         wb_calc_pooled_solver_invert   (const WbCalcPooledSolver *self,
                                             double                   *inverse);

/* The symbolic half: order, pattern. A's lower triangle by columns as it was summed, the diagonal first, goes over into that order. */
WbCalcStatus wb_calc_pooled_equations_analyze (WbCalcPooledEquations *self);
/* The pattern of L alone, of an A that stands in its order. */
WbCalcStatus wb_calc_pooled_equations_find_pattern (WbCalcPooledEquations *self);

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

/* The mode's, and holds all but the families of which a point is elsewhere, n_families long. */
WbCalcStatus wb_calc_pooled_points_put_mode (WbCalcPooledPoints *self,
                                             WbCalcPooledState  *state,
                                             const bool         *moved);
/* Which families have a point that is not where the mode is, n_families long, zeroed before. */
void         wb_calc_pooled_points_find_moved (const WbCalcPooledPoints *self,
                                               size_t                    n_families,
                                               bool                     *moved);
WbCalcStatus wb_calc_pooled_points_init  (WbCalcPooledPoints          *self,
                                          const WbCalcPooledEquations *equations,
                                          size_t                       n_points);
void         wb_calc_pooled_points_clear (WbCalcPooledPoints *self);
/* Mean and factor of a point where the state was last. */
void         wb_calc_pooled_points_put   (WbCalcPooledPoints      *self,
                                          size_t                   point,
                                          const WbCalcPooledState *state);
/* The mode from `start` on, as curved as `curvature` (NULL: not known), the curvature there, and the points around. */
WbCalcStatus wb_calc_pooled_search  (WbCalcPooledState  *state,
                                     const double       *start,
                                     const double       *curvature,
                                     WbCalcPooledPoints *points);
/* The points, from the mode, the log density there and the covariance's root: axes[k * n_axes + a], one standard deviation long. */
WbCalcStatus wb_calc_pooled_scatter (WbCalcPooledState  *state,
                                     const double       *axes,
                                     size_t              n_axes,
                                     WbCalcPooledPoints *points);

/* Covariance of the rows' combinations by a factor that a solver left. */
WbCalcStatus wb_calc_pooled_covary  (const WbCalcPooledEquations *equations,
                                     const double                *factor,
                                     const WbCalcPooledRows      *rows,
                                     double                      *covariance);

/* WB_CALC_BAD_INPUT for spreads or weights that no fit has. */
WbCalcStatus wb_calc_pooled_check_points (const double *log_spreads,
                                          const double *weights,
                                          size_t        n_points,
                                          size_t        n_families);
