/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stddef.h>

#include <gsl/gsl_matrix.h>
#include <gsl/gsl_vector.h>

#include "wb-calc-status.h"

/*
 * The design of a mixed model made ready: columns centred (with an intercept) and
 * of unit length, y centred, and each group's sums.
 *
 * A group of m observations has a covariance block with eigenvalue
 * var_residual + m var_group along the vector of ones and var_residual across it, and
 * every matrix between X' and X that the fit needs has such blocks. It is
 * therefore given by one number a group, `along`, and one for all, `across`:
 *
 *   X'MX = across X'X + sum over groups of (along - across) s s' / m,  s the group's column sums
 */
typedef struct
{
  size_t        n;
  size_t        p;
  size_t        n_groups;
  bool          intercept;
  const size_t *group;
  double       *x;         /* n x p */
  double       *y;         /* n */
  double       *size;      /* n_groups */
  double       *sum;       /* n_groups x p */
  double       *sum_y;     /* n_groups */
  double       *centre;    /* p: of the columns; [0] is that of y with an intercept */
  double       *length;    /* p */
  double       *along;     /* n_groups, for the caller */
  gsl_matrix   *xx;        /* X'X */
  gsl_vector   *xy;        /* X'y */
  double        yy;
  gsl_matrix   *factor;    /* after solving: Cholesky factor of X'WX */
  gsl_vector   *solution;  /* after solving: coefficients in the ready columns */
  double        log_det;   /* after solving: of X'WX in the columns as passed in */
} WbCalcMixedDesign;

/* Columns as in wb_calc_mixed_fit, checked by the caller. Clear it after a failure too. */
WbCalcStatus wb_calc_mixed_design_init (WbCalcMixedDesign *design,
                                        const double      *x,
                                        const double      *y,
                                        const size_t      *group,
                                        size_t             n,
                                        size_t             columns,
                                        bool               intercept,
                                        size_t             n_groups);
void         wb_calc_mixed_design_clear (WbCalcMixedDesign *design);

/* target = X'MX for design->along and `across`. */
void wb_calc_mixed_design_blocks (const WbCalcMixedDesign *design,
                                  double                   across,
                                  gsl_matrix              *target);

/*
 * Generalised least squares with var_group = ratio var_residual: fills factor, solution and
 * log_det, and *rss, the residual sum of squares weighted by W = var_residual V^-1. False when
 * a column depends on others.
 */
bool wb_calc_mixed_design_solve (WbCalcMixedDesign *design,
                                 double             ratio,
                                 double            *rss);

/* Turns a p x p matrix over the ready columns into one over the columns as passed in. */
void wb_calc_mixed_design_unready (const WbCalcMixedDesign *design,
                                   const gsl_matrix        *ready,
                                   double                  *matrix);
