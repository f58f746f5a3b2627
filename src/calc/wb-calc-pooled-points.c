/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-pooled-private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/*
 * A star: the mode and two points on each axis, `distance` standard deviations away. With weights 1 / (2 distance^2) a point and the
 * rest at the mode it has mean and variance of a normal along every axis. Of up to two axes the distance is sqrt 3, which has
 * the fourth moment too (Gauss and Hermite's three points for one); of more it is 1.1 sqrt (axes), the radius of Rue, Martino and
 * Chopin (2009), 6.5, so that the mode keeps a weight. A point is moved along its axis until the log density has fallen as far as a
 * normal's would there, its weight goes by its distance then: a normal of two widths (Martins, Simpson, Lindgren and Rue, Comput. Stat.
 * Data Anal. 67 (2013) 68, 3.2). What is left is put right by the density.
 */
#define RADIUS_SQUARE_LEAST 3.0
#define RADIUS_SQUARE_AXIS 1.21

#define MAX_MOVES 5
#define NEAR_ENOUGH 0.05
/* How far one move, and all of them, may stretch or shrink an axis. */
#define MOVE_MOST 3.0
#define STRETCH_MOST 5.0

WbCalcStatus
wb_calc_pooled_points_init (WbCalcPooledPoints          *self,
                            const WbCalcPooledEquations *equations,
                            size_t                       n_points)
{
  size_t n = equations->n_families;

  *self = (WbCalcPooledPoints) {
    .n_points = n_points,
    .mode = calloc (n + 1, sizeof (double)),
    .covariance = calloc (n * n + 1, sizeof (double)),
    .curvature = calloc (n * n + 1, sizeof (double)),
    .spreads = calloc (n_points * n + 1, sizeof (double)),
    .weights = calloc (n_points, sizeof (double)),
    .means = calloc (n_points * equations->p, sizeof (double)),
    .factors = malloc (n_points * wb_calc_pooled_equations_get_factor_size (equations) * sizeof (double)),
  };
  return self->mode == NULL || self->covariance == NULL || self->curvature == NULL || self->spreads == NULL || self->weights == NULL || self->means == NULL
                 || self->factors == NULL
             ? WB_CALC_NO_MEMORY
             : WB_CALC_OK;
}

void
wb_calc_pooled_points_clear (WbCalcPooledPoints *self)
{
  free (self->mode);
  free (self->covariance);
  free (self->curvature);
  free (self->spreads);
  free (self->weights);
  free (self->means);
  free (self->factors);
}

void
wb_calc_pooled_points_put (WbCalcPooledPoints      *self,
                           size_t                   point,
                           const WbCalcPooledState *state)
{
  const WbCalcPooledEquations *equations = state->solver.equations;
  size_t size = wb_calc_pooled_equations_get_factor_size (equations);

  for (size_t j = 0; j < equations->p; j++)
    self->means[point * equations->p + j] = equations->coefficients[j].mean + state->u[j];
  memcpy (self->factors + point * size, state->solver.l, size * sizeof (double));
}

void
wb_calc_pooled_points_find_moved (const WbCalcPooledPoints *self,
                                  size_t                    n_families,
                                  bool                     *moved)
{
  for (size_t i = 1; i < self->n_points; i++)
    for (size_t k = 0; k < n_families; k++)
      moved[k] = moved[k] || self->spreads[i * n_families + k] != self->spreads[k];
}

/* Puts point `at` on an axis; `distance` has its sign. Its weight is by its stretch and what density that leaves wrong. */
static WbCalcStatus
put_point (WbCalcPooledState  *state,
           const double       *axes,
           size_t              n_axes,
           size_t              axis,
           double              distance,
           size_t              at,
           WbCalcPooledPoints *points,
           double             *stretch)
{
  size_t n = state->solver.equations->n_families;
  double *where = points->spreads + at * n;
  double wanted = 0.5 * distance * distance;
  double fallen = wanted;

  *stretch = 1.0;
  for (int move = 0; move < MAX_MOVES; move++)
    {
      WbCalcStatus status;
      double ratio;

      for (size_t k = 0; k < n; k++)
        where[k] = points->mode[k] + *stretch * distance * axes[k * n_axes + axis];
      status = wb_calc_pooled_state_at (state, where);
      if (status == WB_CALC_NO_MEMORY || (status != WB_CALC_OK && move + 1 == MAX_MOVES))
        return status;
      fallen = status == WB_CALC_OK ? points->log_density - state->log_density : INFINITY;
      ratio = fmin (fmax (sqrt (fmax (fallen, 0.0) / wanted), 1.0 / MOVE_MOST), MOVE_MOST);
      if (fabs (ratio - 1.0) < NEAR_ENOUGH || move + 1 == MAX_MOVES)
        break;
      *stretch = fmin (fmax (*stretch / ratio, 1.0 / STRETCH_MOST), STRETCH_MOST);
    }
  points->weights[at] = *stretch * exp (fmin (fmax (wanted - fallen, -wanted), wanted));
  wb_calc_pooled_points_put (points, at, state);
  return WB_CALC_OK;
}

/* Puts the mode, and holds what no point changes: `moved` tells of a family whether one does. */
WbCalcStatus
wb_calc_pooled_points_put_mode (WbCalcPooledPoints *self,
                                WbCalcPooledState  *state,
                                const bool         *moved)
{
  WbCalcStatus status = wb_calc_pooled_solver_hold (&state->solver, NULL);

  if (status == WB_CALC_OK)
    status = wb_calc_pooled_state_at (state, self->mode);
  if (status != WB_CALC_OK)
    return status;
  self->log_density = state->log_density;
  wb_calc_pooled_points_put (self, 0, state);
  return wb_calc_pooled_solver_hold (&state->solver, moved);
}

WbCalcStatus
wb_calc_pooled_scatter (WbCalcPooledState  *state,
                        const double       *axes,
                        size_t              n_axes,
                        WbCalcPooledPoints *points)
{
  size_t n = state->solver.equations->n_families;
  double square = fmax (RADIUS_SQUARE_LEAST, RADIUS_SQUARE_AXIS * (double) n_axes);
  double share = 0.5 / square;
  double sum;
  bool *moved = calloc (n + 1, sizeof *moved);
  WbCalcStatus status = WB_CALC_NO_MEMORY;

  for (size_t k = 0; k < n && moved != NULL; k++)
    for (size_t axis = 0; axis < n_axes; axis++)
      moved[k] = moved[k] || axes[k * n_axes + axis] != 0.0;
  if (moved != NULL)
    status = wb_calc_pooled_points_put_mode (points, state, moved);
  free (moved);
  if (status != WB_CALC_OK)
    return status;
  memcpy (points->spreads, points->mode, n * sizeof (double));
  sum = points->weights[0] = 1.0 - 2.0 * share * (double) n_axes;
  for (size_t axis = 0; axis < n_axes; axis++)
    {
      size_t at = 1 + 2 * axis;
      double above, below;

      status = put_point (state, axes, n_axes, axis, sqrt (square), at, points, &above);
      if (status == WB_CALC_OK)
        status = put_point (state, axes, n_axes, axis, -sqrt (square), at + 1, points, &below);
      if (status != WB_CALC_OK)
        return status;
      for (size_t side = at; side < at + 2; side++)
        {
          points->weights[side] *= share / (0.5 * (above + below));
          sum += points->weights[side];
        }
    }
  for (size_t i = 0; i < points->n_points; i++)
    points->weights[i] /= sum;
  return WB_CALC_OK;
}
