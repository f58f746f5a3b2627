/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-pooled-private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_blas.h>
#include <gsl/gsl_eigen.h>
#include <gsl/gsl_linalg.h>

/* In logarithms of the spreads: the longest step, the step at which the search ends, and the one that rounding may leave. */
#define LONGEST_STEP 2.0
#define STEP_END 1e-10
#define STEP_TOLERATED 1e-6
/* A step below this that no longer shrinks is rounding's, and the search has ended. */
#define STEP_ROUNDED 1e-9
#define MAX_STEPS 100
#define MAX_HALVINGS 40
/* Share of the promised rise that a step has to keep, and what rounding may take off the log density. */
#define RISE_KEPT 1e-4
#define ROUNDING 1e-11

/* Steps by the average information that are this short and shrink no quicker than this are left for Newton's. */
#define STEP_NEAR 0.3
#define SHRINKING_SLOWLY 0.3

/* Forward difference of the gradient: what is cut off and what rounding adds are below 1e-4 of the curvature. */
#define DIFFERENCE 3e-5

/* A curvature below this share of the weakest prior's own is taken for that. */
#define CURVATURE_LEAST 0.25

/* The standard deviation of its logarithm below which a spread is held at the mode. */
#define KNOWN_SD 0.125

/* The spreads that are searched for: m of them, those of families whose factor is not 0. */
typedef struct
{
  WbCalcPooledState *state;
  size_t             m;
  size_t            *active;
  double            *at;          /* n_families */
  double            *trial;
  double            *gradient;    /* m, at `at` */
  double            *before;      /* m, before the last step */
  double            *pushed;
  double            *step;
  double             log_density; /* at `at` */
  double             size;        /* longest of the last step's parts */
  gsl_matrix        *metric;      /* m x m */
  gsl_matrix        *root;
  bool               newton;      /* the metric is the Hessian */
} Search;

static void
search_clear (Search *search)
{
  free (search->active);
  free (search->at);
  free (search->trial);
  free (search->gradient);
  free (search->before);
  free (search->pushed);
  free (search->step);
  gsl_matrix_free (search->metric);
  gsl_matrix_free (search->root);
}

static WbCalcStatus
search_init (Search            *search,
             WbCalcPooledState *state,
             const double      *start)
{
  const WbCalcPooledEquations *equations = state->solver.equations;
  size_t n = equations->n_families;

  *search = (Search) {
    .state = state,
    .active = calloc (n + 1, sizeof *search->active),
    .at = calloc (n + 1, sizeof (double)),
    .trial = calloc (n + 1, sizeof (double)),
    .gradient = calloc (n + 1, sizeof (double)),
    .before = calloc (n + 1, sizeof (double)),
    .pushed = calloc (n + 1, sizeof (double)),
    .step = calloc (n + 1, sizeof (double)),
    .size = INFINITY,
  };
  if (search->active == NULL || search->at == NULL || search->trial == NULL || search->gradient == NULL || search->before == NULL
      || search->pushed == NULL || search->step == NULL)
    return WB_CALC_NO_MEMORY;
  for (size_t k = 0; k < n; k++)
    {
      bool known = !(equations->families[k].factor > 0.0);

      search->at[k] = known || start == NULL ? log (equations->families[k].usual) : start[k];
      if (!known)
        search->active[search->m++] = k;
    }
  if (search->m == 0)
    return WB_CALC_OK;
  search->metric = gsl_matrix_calloc (search->m, search->m);
  search->root = gsl_matrix_calloc (search->m, search->m);
  return search->metric == NULL || search->root == NULL ? WB_CALC_NO_MEMORY : WB_CALC_OK;
}

/* The gradient, m long, where the state is. */
static WbCalcStatus
slope_here (Search       *search,
            const double *where,
            double       *gradient)
{
  WbCalcStatus status = wb_calc_pooled_state_slope (search->state, where);

  for (size_t a = 0; a < search->m && status == WB_CALC_OK; a++)
    gradient[a] = search->state->gradient[search->active[a]];
  return status;
}

static WbCalcStatus
slope_at (Search       *search,
          const double *where,
          double       *gradient)
{
  WbCalcStatus status = wb_calc_pooled_state_at (search->state, where);

  return status == WB_CALC_OK ? slope_here (search, where, gradient) : status;
}

/* Spreads that are not searched for stay where they are from here on. */
static WbCalcStatus
hold_others (Search *search)
{
  size_t n = search->state->solver.equations->n_families;
  bool *moving = calloc (n + 1, sizeof *moving);
  WbCalcStatus status;

  if (moving == NULL)
    return WB_CALC_NO_MEMORY;
  for (size_t a = 0; a < search->m; a++)
    moving[search->active[a]] = true;
  status = wb_calc_pooled_solver_hold (&search->state->solver, moving);
  free (moving);
  return status;
}

/* Minus the second derivatives at `at`, into the metric. */
static WbCalcStatus
differentiate (Search *search)
{
  size_t n = search->state->solver.equations->n_families, m = search->m;
  WbCalcStatus status = WB_CALC_OK;

  for (size_t a = 0; a < m && status == WB_CALC_OK; a++)
    {
      double *row = gsl_matrix_ptr (search->metric, a, 0);

      memcpy (search->trial, search->at, n * sizeof (double));
      search->trial[search->active[a]] += DIFFERENCE;
      status = slope_at (search, search->trial, row);
      for (size_t b = 0; b < m; b++)
        row[b] = (search->gradient[b] - row[b]) / DIFFERENCE;
    }
  for (size_t a = 0; a < m; a++)
    for (size_t b = 0; b < a; b++)
      {
        double mean = 0.5 * (gsl_matrix_get (search->metric, a, b) + gsl_matrix_get (search->metric, b, a));

        gsl_matrix_set (search->metric, a, b, mean);
        gsl_matrix_set (search->metric, b, a, mean);
      }
  return status;
}

/* The step that metric and gradient ask for; false where the metric is not positive definite. */
static bool
solve_step (Search *search)
{
  gsl_vector_view gradient = gsl_vector_view_array (search->gradient, search->m);
  gsl_vector_view step = gsl_vector_view_array (search->step, search->m);

  gsl_matrix_memcpy (search->root, search->metric);
  if (gsl_linalg_cholesky_decomp1 (search->root) != 0)
    return false;
  gsl_linalg_cholesky_solve (search->root, &gradient.vector, &step.vector);
  search->size = 0.0;
  for (size_t a = 0; a < search->m; a++)
    search->size = fmax (search->size, fabs (search->step[a]));
  return isfinite (search->size);
}

static WbCalcStatus
step_by_information (Search *search)
{
  size_t n = search->state->solver.equations->n_families;
  WbCalcStatus status = wb_calc_pooled_state_inform (search->state);

  if (status != WB_CALC_OK)
    return status;
  for (size_t a = 0; a < search->m; a++)
    for (size_t b = 0; b < search->m; b++)
      gsl_matrix_set (search->metric, a, b, search->state->information[search->active[a] * n + search->active[b]]);
  search->newton = false;
  return solve_step (search) ? WB_CALC_OK : WB_CALC_NOT_CONVERGED;
}

/* By the Hessian here; where that has no maximum nearby, by the information. */
static WbCalcStatus
step_by_curvature (Search *search)
{
  WbCalcStatus status = differentiate (search);

  search->newton = true;
  if (status == WB_CALC_OK && solve_step (search) && search->size < STEP_NEAR)
    return WB_CALC_OK;
  status = slope_at (search, search->at, search->gradient);
  return status == WB_CALC_OK ? step_by_information (search) : status;
}

static WbCalcStatus
choose_step (Search *search)
{
  double last = search->size;
  WbCalcStatus status = WB_CALC_OK;

  /* A Hessian that asks for longer and longer steps was taken too far from the mode. */
  search->newton = search->newton && solve_step (search) && search->size < last;
  if (!search->newton)
    status = step_by_information (search);
  if (status == WB_CALC_OK && search->size > STEP_ROUNDED && search->size < STEP_NEAR && search->size > SHRINKING_SLOWLY * last)
    status = step_by_curvature (search);
  return status;
}

/*
 * What `share` of the step did to the gradient, `before` it, tells the Hessian of the way there (Broyden, Fletcher, Goldfarb and Shanno:
 * Nocedal and Wright, Numerical Optimization, 2nd ed., 6.1): steps shrink ever quicker, and no further difference is taken.
 */
static void
learn (Search       *search,
       double        share,
       const double *before)
{
  gsl_vector_view step = gsl_vector_view_array (search->step, search->m);
  double *fallen = search->trial, *pushed = search->pushed;
  gsl_vector_view rise = gsl_vector_view_array (fallen, search->m), push = gsl_vector_view_array (pushed, search->m);
  double along = 0.0, bend = 0.0;

  gsl_vector_scale (&step.vector, share);
  gsl_blas_dsymv (CblasLower, 1.0, search->metric, &step.vector, 0.0, &push.vector);
  for (size_t a = 0; a < search->m; a++)
    {
      fallen[a] = before[a] - search->gradient[a];
      along += fallen[a] * search->step[a];
      bend += pushed[a] * search->step[a];
    }
  if (!(along > 0.0) || !(bend > 0.0))
    return;
  gsl_blas_dsyr (CblasLower, 1.0 / along, &rise.vector, search->metric);
  gsl_blas_dsyr (CblasLower, -1.0 / bend, &push.vector, search->metric);
  for (size_t a = 0; a < search->m; a++)
    for (size_t b = 0; b < a; b++)
      gsl_matrix_set (search->metric, b, a, gsl_matrix_get (search->metric, a, b));
}

/* Along the step, halved until the log density rises; *moved says whether it did. */
static WbCalcStatus
go (Search *search,
    bool   *moved)
{
  size_t n = search->state->solver.equations->n_families;
  double share = search->size > LONGEST_STEP ? LONGEST_STEP / search->size : 1.0;
  double promised = 0.0;
  WbCalcStatus status;
  /* A step this short that does not rise is rounding's: shorter ones would be too. */
  int tries = search->size < STEP_TOLERATED ? 1 : MAX_HALVINGS;

  for (size_t a = 0; a < search->m; a++)
    promised += search->step[a] * search->gradient[a];
  *moved = false;
  for (int i = 0; i < tries && !*moved; i++, share *= 0.5)
    {
      memcpy (search->trial, search->at, n * sizeof (double));
      for (size_t a = 0; a < search->m; a++)
        search->trial[search->active[a]] += share * search->step[a];
      status = wb_calc_pooled_state_at (search->state, search->trial);
      if (status == WB_CALC_NO_MEMORY)
        return status;
      *moved = status == WB_CALC_OK
               && search->state->log_density >= search->log_density + RISE_KEPT * share * promised
                                                    - ROUNDING * (1.0 + fabs (search->log_density));
    }
  if (!*moved)
    return WB_CALC_OK;
  memcpy (search->at, search->trial, n * sizeof (double));
  memcpy (search->before, search->gradient, search->m * sizeof (double));
  search->log_density = search->state->log_density;
  status = slope_here (search, search->at, search->gradient);
  if (status == WB_CALC_OK && search->newton)
    learn (search, 2.0 * share, search->before);
  return status;
}

/* Begins with a curvature that an earlier search found: near its mode no difference has to be taken for a new one. */
static void
begin_curved (Search       *search,
              const double *curvature)
{
  size_t n = search->state->solver.equations->n_families;

  for (size_t a = 0; a < search->m; a++)
    for (size_t b = 0; b < search->m; b++)
      gsl_matrix_set (search->metric, a, b, curvature[search->active[a] * n + search->active[b]]);
  search->newton = search->m > 0;
}

/* What the search ends with, for one that begins there. */
static void
put_curvature (const Search       *search,
               WbCalcPooledPoints *points)
{
  size_t n = search->state->solver.equations->n_families;

  for (size_t a = 0; a < search->m; a++)
    for (size_t b = 0; b < search->m; b++)
      points->curvature[search->active[a] * n + search->active[b]] = gsl_matrix_get (search->metric, a, b);
}

static WbCalcStatus
climb (Search *search)
{
  WbCalcStatus status = wb_calc_pooled_state_at (search->state, search->at);

  if (status == WB_CALC_OK)
    status = hold_others (search);
  if (status == WB_CALC_OK)
    status = slope_here (search, search->at, search->gradient);
  search->log_density = search->state->log_density;
  for (int i = 0; i < MAX_STEPS && status == WB_CALC_OK && search->m > 0; i++)
    {
      double last = search->size;
      bool moved;

      status = choose_step (search);
      if (status != WB_CALC_OK || search->size < STEP_END || (search->size < STEP_ROUNDED && search->size > SHRINKING_SLOWLY * last))
        return status;
      status = go (search, &moved);
      if (status == WB_CALC_OK && !moved)
        return search->size < STEP_TOLERATED ? WB_CALC_OK : WB_CALC_NOT_CONVERGED;
    }
  return status == WB_CALC_OK && search->m > 0 ? WB_CALC_NOT_CONVERGED : status;
}

/*
 * Takes out of the search the spreads that the average information knows so well that points would say nothing; their covariance
 * goes to the points. The mode is where the search begins and ends, so that what is left does not depend on the way to it.
 */
static WbCalcStatus
leave_out_known (Search             *search,
                 WbCalcPooledPoints *points)
{
  size_t n = search->state->solver.equations->n_families, left = 0;
  WbCalcStatus status = wb_calc_pooled_solver_hold (&search->state->solver, NULL);

  if (status == WB_CALC_OK)
    status = wb_calc_pooled_state_at (search->state, search->at);
  if (status == WB_CALC_OK)
    status = wb_calc_pooled_state_inform (search->state);
  if (status != WB_CALC_OK)
    return status;
  for (size_t a = 0; a < search->m; a++)
    for (size_t b = 0; b < search->m; b++)
      gsl_matrix_set (search->root, a, b, search->state->information[search->active[a] * n + search->active[b]]);
  if (gsl_linalg_cholesky_decomp1 (search->root) != 0 || gsl_linalg_cholesky_invert (search->root) != 0)
    return WB_CALC_NOT_CONVERGED;
  for (size_t a = 0; a < search->m; a++)
    for (size_t b = 0; b < search->m; b++)
      if (gsl_matrix_get (search->root, a, a) < KNOWN_SD * KNOWN_SD && gsl_matrix_get (search->root, b, b) < KNOWN_SD * KNOWN_SD)
        points->covariance[search->active[a] * n + search->active[b]] = gsl_matrix_get (search->root, a, b);
  for (size_t a = 0; a < search->m; a++)
    if (!(gsl_matrix_get (search->root, a, a) < KNOWN_SD * KNOWN_SD))
      {
        search->gradient[left] = search->gradient[a];
        search->active[left++] = search->active[a];
      }
  search->m = left;
  gsl_matrix_free (search->metric);
  gsl_matrix_free (search->root);
  search->metric = left > 0 ? gsl_matrix_calloc (left, left) : NULL;
  search->root = left > 0 ? gsl_matrix_calloc (left, left) : NULL;
  return left > 0 && (search->metric == NULL || search->root == NULL) ? WB_CALC_NO_MEMORY : WB_CALC_OK;
}

/* The covariance at the mode, and its root by axes. */
static WbCalcStatus
put_axes (Search             *search,
          WbCalcPooledPoints *points,
          double             *axes)
{
  const WbCalcPooledEquations *equations = search->state->solver.equations;
  size_t n = equations->n_families, m = search->m;
  gsl_eigen_symmv_workspace *work = gsl_eigen_symmv_alloc (m);
  gsl_vector *values = gsl_vector_alloc (m);
  double least = INFINITY;
  WbCalcStatus status = WB_CALC_OK;

  if (work == NULL || values == NULL)
    status = WB_CALC_NO_MEMORY;
  else if (gsl_eigen_symmv (search->metric, values, search->root, work) != 0)
    status = WB_CALC_NOT_CONVERGED;
  for (size_t a = 0; a < m; a++)
    least = fmin (least, CURVATURE_LEAST * pow (equations->families[search->active[a]].factor, -2.0));
  for (size_t a = 0; a < m && status == WB_CALC_OK; a++)
    for (size_t b = 0; b < m; b++)
      axes[search->active[b] * m + a] = gsl_matrix_get (search->root, b, a) / sqrt (fmax (gsl_vector_get (values, a), least));
  for (size_t k = 0; k < n && status == WB_CALC_OK; k++)
    for (size_t l = 0; l < n; l++)
      for (size_t a = 0; a < m; a++)
        points->covariance[k * n + l] += axes[k * m + a] * axes[l * m + a];
  gsl_vector_free (values);
  if (work != NULL)
    gsl_eigen_symmv_free (work);
  return status;
}

WbCalcStatus
wb_calc_pooled_search (WbCalcPooledState  *state,
                       const double       *start,
                       const double       *curvature,
                       WbCalcPooledPoints *points)
{
  const WbCalcPooledEquations *equations = state->solver.equations;
  size_t n = equations->n_families;
  double *axes = NULL;
  Search search;
  WbCalcStatus status = search_init (&search, state, start);

  if (status == WB_CALC_OK)
    status = wb_calc_pooled_solver_hold (&state->solver, NULL);
  if (status == WB_CALC_OK && curvature != NULL)
    begin_curved (&search, curvature);
  if (status == WB_CALC_OK)
    status = climb (&search);
  if (status == WB_CALC_OK)
    status = wb_calc_pooled_points_init (points, equations, 1 + 2 * search.m);
  if (status == WB_CALC_OK)
    put_curvature (&search, points);
  if (status == WB_CALC_OK && search.m > 0)
    status = leave_out_known (&search, points);
  if (status == WB_CALC_OK && search.m > 0)
    status = hold_others (&search);
  if (status == WB_CALC_OK)
    {
      points->n_points = 1 + 2 * search.m;
      axes = calloc (n * search.m + 1, sizeof *axes);
      status = axes == NULL ? WB_CALC_NO_MEMORY : WB_CALC_OK;
    }
  if (status == WB_CALC_OK && search.m > 0)
    status = differentiate (&search);
  if (status == WB_CALC_OK)
    {
      memcpy (points->mode, search.at, n * sizeof (double));
      points->log_density = search.log_density;
      if (search.m > 0)
        status = put_axes (&search, points, axes);
    }
  if (status == WB_CALC_OK)
    status = wb_calc_pooled_scatter (state, axes, search.m, points);
  free (axes);
  search_clear (&search);
  return status;
}
