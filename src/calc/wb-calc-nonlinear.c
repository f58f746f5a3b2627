/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-nonlinear.h"

#include <math.h>
#include <string.h>

#include <gsl/gsl_blas.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_multifit_nlinear.h>

#define MAX_P WB_CALC_NONLINEAR_MAX_PARAMETERS
#define MAX_ITERATIONS 500

/* Cosine between residual and tangent at which the search ends, and up to which its end is a minimum. */
#define COSINE_END 1e-13
#define COSINE_ACCEPTED 1e-7

/* A step below this share of every parameter ends the search too. */
#define STEP_END 1e-15

/* A residual below this share of the readings is rounding: the curve runs through all of them. */
#define EXACT_SHARE 1e-14

/* A column of J whose part not in the others is below this share of its length: its parameter cannot be told. */
#define RANK_TOLERANCE 1e-12

/* What a model that is not defined costs, in units of the largest |y|: finite, so that the step is refused and no more. */
#define UNDEFINED_COST 1e100

/* Slopes above this, in the same units, would leave the range of a double when squared. */
#define MAX_SLOPE 1e150

typedef struct
{
  const double *y;
  size_t n;
  size_t p;
  double scale; /* largest |y|, 1 when that is 0 */
  WbCalcNonlinearModel model;
  void *user;
} Problem;

static int
residuals (const gsl_vector *x,
           void             *user,
           gsl_vector       *f)
{
  const Problem *problem = user;
  double beta[MAX_P];

  for (size_t j = 0; j < problem->p; j++)
    beta[j] = gsl_vector_get (x, j);
  for (size_t i = 0; i < problem->n; i++)
    {
      double gradient[MAX_P];
      double residual = (problem->model (beta, i, gradient, problem->user) - problem->y[i]) / problem->scale;

      gsl_vector_set (f, i, fabs (residual) < UNDEFINED_COST ? residual : UNDEFINED_COST);
    }
  return GSL_SUCCESS;
}

static int
jacobian (const gsl_vector *x,
          void             *user,
          gsl_matrix       *jac)
{
  const Problem *problem = user;
  double beta[MAX_P];

  for (size_t j = 0; j < problem->p; j++)
    beta[j] = gsl_vector_get (x, j);
  for (size_t i = 0; i < problem->n; i++)
    {
      double gradient[MAX_P] = { 0.0 };

      problem->model (beta, i, gradient, problem->user);
      for (size_t j = 0; j < problem->p; j++)
        {
          double slope = gradient[j] / problem->scale;

          if (!(fabs (slope) < MAX_SLOPE))
            return GSL_EBADFUNC;
          gsl_matrix_set (jac, i, j, slope);
        }
    }
  return GSL_SUCCESS;
}

static WbCalcStatus
check (Problem      *problem,
       const double *beta)
{
  double largest = 0.0;

  if (problem->p == 0 || problem->p > MAX_P)
    return WB_CALC_BAD_INPUT;
  for (size_t j = 0; j < problem->p; j++)
    if (!isfinite (beta[j]))
      return WB_CALC_BAD_INPUT;
  for (size_t i = 0; i < problem->n; i++)
    {
      if (!isfinite (problem->y[i]))
        return WB_CALC_BAD_INPUT;
      largest = fmax (largest, fabs (problem->y[i]));
    }
  problem->scale = largest > 0.0 ? largest : 1.0;
  if (problem->n <= problem->p)
    return WB_CALC_TOO_FEW;
  for (size_t i = 0; i < problem->n; i++)
    {
      double gradient[MAX_P] = { 0.0 };

      if (!isfinite (problem->model (beta, i, gradient, problem->user)))
        return WB_CALC_BAD_INPUT;
    }
  return WB_CALC_OK;
}

/* Largest cosine between the residual and a column of J; 0 when the residual is rounding. */
static double
largest_cosine (const gsl_multifit_nlinear_workspace *solver)
{
  const gsl_vector *f = gsl_multifit_nlinear_residual (solver);
  gsl_matrix *jac = gsl_multifit_nlinear_jac (solver);
  double length = gsl_blas_dnrm2 (f);
  double largest = 0.0;

  if (length <= EXACT_SHARE * sqrt ((double) f->size))
    return 0.0;
  for (size_t j = 0; j < jac->size2; j++)
    {
      gsl_vector_const_view column = gsl_matrix_const_column (jac, j);
      double width = gsl_blas_dnrm2 (&column.vector);
      double product;

      gsl_blas_ddot (f, &column.vector, &product);
      if (width > 0.0)
        largest = fmax (largest, fabs (product / length / width));
    }
  return largest;
}

static bool
has_stopped (const gsl_multifit_nlinear_workspace *solver)
{
  for (size_t j = 0; j < solver->x->size; j++)
    if (fabs (gsl_vector_get (solver->dx, j)) > STEP_END * fabs (gsl_vector_get (solver->x, j)))
      return false;
  return true;
}

/* Steps until nothing is to be won; the verdict is the angle at the end. */
static WbCalcStatus
search (gsl_multifit_nlinear_workspace *solver,
        WbCalcKeepGoing                 keep_going,
        void                           *user,
        size_t                         *iterations)
{
  int refused = 0;

  for (*iterations = 0; largest_cosine (solver) > COSINE_END; (*iterations)++)
    {
      if (keep_going != NULL && !keep_going (user))
        return WB_CALC_CANCELLED;
      if (*iterations == MAX_ITERATIONS)
        return WB_CALC_NOT_CONVERGED;

      int result = gsl_multifit_nlinear_iterate (solver);

      /* The solver has shrunk its region to nothing: it begins anew with a wide one, once. */
      if (result == GSL_ENOPROG && ++refused < 2)
        continue;
      if (result != GSL_SUCCESS || has_stopped (solver))
        break;
      refused = 0;
    }
  return largest_cosine (solver) <= COSINE_ACCEPTED ? WB_CALC_OK : WB_CALC_NOT_CONVERGED;
}

/* (J'J)^-1 with the columns taken at unit length, so that parameters of any size are judged alike. */
static bool
invert (gsl_matrix *jac,
        double     *inverse)
{
  size_t p = jac->size2;
  double length[MAX_P];
  gsl_matrix_view view = gsl_matrix_view_array (inverse, p, p);

  for (size_t j = 0; j < p; j++)
    {
      gsl_vector_view column = gsl_matrix_column (jac, j);

      length[j] = gsl_blas_dnrm2 (&column.vector);
      if (!(length[j] > 0.0))
        return false;
      for (size_t i = 0; i < jac->size1; i++)
        gsl_matrix_set (jac, i, j, gsl_matrix_get (jac, i, j) / length[j]);
    }
  if (gsl_multifit_nlinear_covar (jac, RANK_TOLERANCE, &view.matrix) != GSL_SUCCESS)
    return false;
  for (size_t j = 0; j < p; j++)
    {
      if (!(inverse[j * p + j] > 0.0))
        return false;
      for (size_t k = 0; k <= j; k++)
        inverse[j * p + k] = inverse[k * p + j] = inverse[j * p + k] / length[j] / length[k];
    }
  return true;
}

static WbCalcStatus
read_solver (gsl_multifit_nlinear_workspace *solver,
             const Problem                  *problem,
             double                         *beta,
             WbCalcNonlinear                *fit)
{
  size_t p = problem->p;
  double norm = gsl_blas_dnrm2 (gsl_multifit_nlinear_residual (solver));
  WbCalcNonlinear read = { .residual_df = problem->n - p, .iterations = fit->iterations };
  double s = norm / sqrt ((double) read.residual_df);
  bool finite;

  if (!invert (gsl_multifit_nlinear_jac (solver), read.covariance))
    return WB_CALC_UNIDENTIFIED;
  read.residual_sum_sq = norm * problem->scale * (norm * problem->scale);
  read.residual_sd = s * problem->scale;
  finite = isfinite (read.residual_sum_sq);
  for (size_t j = 0; j < p * p; j++)
    {
      read.covariance[j] *= s * s;
      finite = finite && isfinite (read.covariance[j]);
    }
  for (size_t j = 0; j < p; j++)
    read.sd[j] = sqrt (read.covariance[j * p + j]);
  if (!finite)
    return WB_CALC_BAD_INPUT;
  for (size_t j = 0; j < p; j++)
    beta[j] = gsl_vector_get (gsl_multifit_nlinear_position (solver), j);
  *fit = read;
  return WB_CALC_OK;
}

WbCalcStatus
wb_calc_nonlinear_fit (const double        *y,
                       size_t               n,
                       size_t               p,
                       WbCalcNonlinearModel model,
                       void                *user,
                       WbCalcKeepGoing      keep_going,
                       void                *keep_going_user,
                       double              *beta,
                       WbCalcNonlinear     *fit)
{
  Problem problem = { y, n, p, 1.0, model, user };
  WbCalcStatus status = check (&problem, beta);

  if (status != WB_CALC_OK)
    return status;

  gsl_multifit_nlinear_parameters parameters = gsl_multifit_nlinear_default_parameters ();
  gsl_multifit_nlinear_fdf fdf = { .f = residuals, .df = jacobian, .n = n, .p = p, .params = &problem };
  gsl_multifit_nlinear_workspace *solver = gsl_multifit_nlinear_alloc (gsl_multifit_nlinear_trust, &parameters, n, p);
  gsl_vector_const_view start = gsl_vector_const_view_array (beta, p);

  if (solver == NULL)
    return WB_CALC_NO_MEMORY;
  memset (fit, 0, sizeof *fit);
  if (gsl_multifit_nlinear_init (&start.vector, &fdf, solver) != GSL_SUCCESS)
    status = WB_CALC_BAD_INPUT;
  if (status == WB_CALC_OK)
    status = search (solver, keep_going, keep_going_user, &fit->iterations);
  if (status == WB_CALC_OK)
    status = read_solver (solver, &problem, beta, fit);
  gsl_multifit_nlinear_free (solver);
  return status;
}
