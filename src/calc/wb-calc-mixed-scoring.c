/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-mixed-scoring-private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_blas.h>
#include <gsl/gsl_linalg.h>

#define SCORING_ROUNDS 20

void
wb_calc_mixed_scoring_clear (WbCalcMixedScoring *scoring)
{
  for (int i = 0; i < 2; i++)
    {
      gsl_matrix_free (scoring->slope[i]);
      gsl_matrix_free (scoring->work[i]);
    }
  gsl_matrix_free (scoring->phi);
  free (scoring->sums);
}

WbCalcStatus
wb_calc_mixed_scoring_init (WbCalcMixedScoring      *scoring,
                            const WbCalcMixedDesign *design)
{
  size_t p = design->p;

  *scoring = (WbCalcMixedScoring) {
    .phi = gsl_matrix_alloc (p, p),
    .slope = { gsl_matrix_alloc (p, p), gsl_matrix_alloc (p, p) },
    .work = { gsl_matrix_alloc (p, p), gsl_matrix_alloc (p, p) },
    .sums = calloc (design->n_groups, sizeof (double)),
  };
  return scoring->phi == NULL || scoring->slope[0] == NULL || scoring->slope[1] == NULL
                 || scoring->work[0] == NULL || scoring->work[1] == NULL || scoring->sums == NULL
             ? WB_CALC_NO_MEMORY
             : WB_CALC_OK;
}

static double
trace_of_product (const gsl_matrix *a,
                  const gsl_matrix *b)
{
  double trace = 0.0;

  for (size_t i = 0; i < a->size1; i++)
    for (size_t j = 0; j < a->size2; j++)
      trace += gsl_matrix_get (a, i, j) * gsl_matrix_get (b, j, i);
  return trace;
}

/* Eigenvalues of V_i along a group's ones (m, 1) and across them (0, 1). */
static double
along_of (int    i,
          double size)
{
  return i == 0 ? size : 1.0;
}

static double
across_of (int i)
{
  return i == 0 ? 0.0 : 1.0;
}

/* X'V^-1 V_i V^-1 X (power 2), or X'V^-1 V_i V^-1 V_j V^-1 X (power 3). */
static void
put_blocks (WbCalcMixedDesign *design,
            double             var_group,
            double             var_residual,
            int                i,
            int                j,
            int                power,
            gsl_matrix        *target)
{
  double across = across_of (i) * (power == 3 ? across_of (j) : 1.0) / pow (var_residual, power);

  for (size_t g = 0; g < design->n_groups; g++)
    {
      double size = design->size[g];
      double along = along_of (i, size) * (power == 3 ? along_of (j, size) : 1.0);

      design->along[g] = along / pow (var_residual + size * var_group, power);
    }
  wb_calc_mixed_design_blocks (design, across, target);
}

/* Sums of each group's residuals, and the sum of squares of all about their group's mean. */
static double
residual_sums (const WbCalcMixedDesign *design,
               double                  *sums)
{
  double squares = 0.0;

  memset (sums, 0, design->n_groups * sizeof *sums);
  for (size_t i = 0; i < design->n; i++)
    {
      double residual = design->y[i];

      for (size_t j = 0; j < design->p; j++)
        residual -= design->x[i * design->p + j] * gsl_vector_get (design->solution, j);
      sums[design->group[i]] += residual;
      squares += residual * residual;
    }
  for (size_t g = 0; g < design->n_groups; g++)
    if (design->size[g] > 0.0)
      squares -= sums[g] * sums[g] / design->size[g];
  return fmax (squares, 0.0);
}

/* The parts of the traces and squares that each group gives by itself. */
static void
add_groups (const WbCalcMixedDesign *design,
            const double            *sums,
            double                   var_group,
            double                   var_residual,
            double                   traces[2],
            double                   products[3],
            double                   squares[2])
{
  for (size_t g = 0; g < design->n_groups; g++)
    {
      double size = design->size[g];
      double along = var_residual + size * var_group;

      if (size == 0.0)
        continue;
      traces[0] += size / along;
      traces[1] += 1.0 / along + (size - 1.0) / var_residual;
      products[0] += size * size / (along * along);
      products[1] += size / (along * along);
      products[2] += 1.0 / (along * along) + (size - 1.0) / (var_residual * var_residual);
      squares[0] += sums[g] * sums[g] / (along * along);
      squares[1] += sums[g] * sums[g] / size / (along * along);
    }
}

void
wb_calc_mixed_scoring_at (WbCalcMixedScoring *scoring,
                          WbCalcMixedDesign  *design,
                          double              var_group,
                          double              var_residual)
{
  double within = residual_sums (design, scoring->sums);
  double traces[2] = { 0.0, 0.0 };
  double products[3] = { 0.0, 0.0, 0.0 };
  double squares[2] = { 0.0, within / (var_residual * var_residual) };

  gsl_matrix_memcpy (scoring->phi, design->factor);
  gsl_linalg_cholesky_invert (scoring->phi);
  gsl_matrix_scale (scoring->phi, var_residual);
  add_groups (design, scoring->sums, var_group, var_residual, traces, products, squares);
  for (int i = 0; i < 2; i++)
    for (int j = 0; j <= i; j++)
      {
        put_blocks (design, var_group, var_residual, i, j, 3, scoring->work[0]);
        products[i + j] -= 2.0 * trace_of_product (scoring->phi, scoring->work[0]);
      }
  for (int i = 0; i < 2; i++)
    {
      put_blocks (design, var_group, var_residual, i, 0, 2, scoring->slope[i]);
      traces[i] -= trace_of_product (scoring->phi, scoring->slope[i]);
      scoring->score[i] = 0.5 * (squares[i] - traces[i]);
      gsl_blas_dgemm (CblasNoTrans, CblasNoTrans, 1.0, scoring->phi, scoring->slope[i], 0.0, scoring->work[i]);
    }
  for (int i = 0; i < 2; i++)
    for (int j = 0; j <= i; j++)
      scoring->information[i + j]
          = 0.5 * (products[i + j] + trace_of_product (scoring->work[i], scoring->work[j]));
  for (int i = 0; i < 2; i++)
    gsl_blas_dgemm (CblasNoTrans, CblasNoTrans, 1.0, scoring->work[i], scoring->phi, 0.0, scoring->slope[i]);
}

void
wb_calc_mixed_scoring_polish (WbCalcMixedScoring *scoring,
                              WbCalcMixedDesign  *design,
                              double             *var_group,
                              double             *var_residual)
{
  for (int round = 0; round < SCORING_ROUNDS; round++)
    {
      const double *info = scoring->information;
      double rss;
      double det;

      wb_calc_mixed_design_solve (design, *var_group / *var_residual, &rss);
      wb_calc_mixed_scoring_at (scoring, design, *var_group, *var_residual);
      det = info[0] * info[2] - info[1] * info[1];
      if (!(det > 0.0))
        return;

      double group = *var_group + (info[2] * scoring->score[0] - info[1] * scoring->score[1]) / det;
      double residual = *var_residual + (info[0] * scoring->score[1] - info[1] * scoring->score[0]) / det;
      bool settled = fabs (group - *var_group) < 1e-13 * *var_group
                     && fabs (residual - *var_residual) < 1e-13 * *var_residual;

      if (!(group > 0.0) || !(residual > 0.0) || fabs (group - *var_group) > 0.1 * *var_group)
        return;
      *var_group = group;
      *var_residual = residual;
      if (settled)
        return;
    }
}
