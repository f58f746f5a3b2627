/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-mixed.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_linalg.h>

#include "wb-calc-mixed-private.h"
#include "wb-calc-random.h"

/* Sets of spreads among which the draws are shared out. */
#define CANDIDATES 128

/* The proposal is a t of so many degrees of freedom, a little wider than the curvature says. */
#define PROPOSAL_DF 5.0
#define PROPOSAL_WIDTH 1.15

/* A coordinate's spread where the curvature tells none. */
#define BLIND_SPREAD 0.7

typedef struct
{
  double x[CANDIDATES][WB_CALC_SPREADS_MAX];
  double weight[CANDIDATES];
  size_t count[CANDIDATES];
  size_t n;
} Candidates;

size_t
wb_calc_mixed_get_n_deviates (const WbCalcMixed *fit)
{
  return fit->data->n_global + fit->data->n_blocks * fit->data->n_local;
}

/* Lower Cholesky factor of the proposal's covariance. */
static void
find_width (const WbCalcMixed *fit,
            double            *width)
{
  size_t n = fit->search.n_searched;
  gsl_matrix_view matrix;

  if (n == 0)
    return;
  matrix = gsl_matrix_view_array (width, n, n);
  memcpy (width, fit->search.covariance, n * n * sizeof *width);
  if (fit->search.curved && gsl_linalg_cholesky_decomp1 (&matrix.matrix) == 0)
    return;
  memset (width, 0, n * n * sizeof *width);
  for (size_t j = 0; j < n; j++)
    width[j * n + j] = BLIND_SPREAD;
}

/* One candidate from the proposal; returns the logarithm of its density, up to a constant. */
static double
propose (const WbCalcMixed *fit,
         const double      *width,
         WbCalcRandom      *random,
         double            *x)
{
  size_t n = fit->search.n_searched;
  double scale = PROPOSAL_WIDTH * sqrt (PROPOSAL_DF / wb_calc_random_chisq (random, PROPOSAL_DF));
  double z[WB_CALC_SPREADS_MAX];
  double square = 0.0;

  memcpy (x, fit->search.x, sizeof fit->search.x);
  for (size_t j = 0; j < n; j++)
    z[j] = wb_calc_random_normal (random);
  for (size_t j = 0; j < n; j++)
    {
      for (size_t k = 0; k <= j; k++)
        x[fit->search.searched[j]] += scale * width[j * n + k] * z[k];
      square += scale * scale / (PROPOSAL_WIDTH * PROPOSAL_WIDTH) * z[j] * z[j];
    }
  return -0.5 * (PROPOSAL_DF + (double) n) * log1p (square / PROPOSAL_DF);
}

static bool
is_inside (const WbCalcSpreads *search,
           const double        *x)
{
  for (size_t k = 0; k < search->n; k++)
    if (!(x[k] >= search->low[k] && x[k] <= search->high[k]))
      return false;
  return true;
}

static bool
solve_at (const WbCalcMixed *fit,
          WbCalcMixedSystem *system,
          const double      *x,
          double            *sd)
{
  double correlation;

  wb_calc_mixed_read_spreads (fit, x, sd, &correlation);
  return wb_calc_mixed_system_solve (system, sd, correlation);
}

/* Candidates and how often each is used: systematic resampling by likelihood times prior over proposal. */
static void
choose (const WbCalcMixed *fit,
        WbCalcMixedSystem *system,
        uint64_t           seed,
        size_t             n_draws,
        Candidates        *candidates)
{
  double width[WB_CALC_SPREADS_MAX * WB_CALC_SPREADS_MAX], sd[WB_CALC_MIXED_MAX_SPREADS];
  double largest = -INFINITY, total = 0.0, reached = 0.0, at;
  size_t used = 0;
  WbCalcRandom random;

  wb_calc_random_init (&random, seed, 0);
  find_width (fit, width);
  candidates->n = fit->search.n_searched > 0 ? CANDIDATES : 1;
  for (size_t i = 0; i < candidates->n; i++)
    {
      double *x = candidates->x[i];
      double log_weight = -propose (fit, width, &random, x);

      if (candidates->n == 1)
        log_weight = 0.0;
      else if (!is_inside (&fit->search, x) || !solve_at (fit, system, x, sd))
        log_weight = -INFINITY;
      else
        {
          log_weight -= 0.5 * system->criterion;
          for (size_t k = 0; k < fit->data->n_spreads; k++)
            log_weight += wb_calc_mixed_log_prior (&fit->data->spread[k], x[k]);
        }
      candidates->weight[i] = log_weight;
      largest = fmax (largest, log_weight);
    }
  for (size_t i = 0; i < candidates->n; i++)
    {
      candidates->weight[i] = isfinite (largest) ? exp (candidates->weight[i] - largest) : 0.0;
      total += candidates->weight[i];
    }
  at = wb_calc_random_uniform (&random);
  for (size_t i = 0; i < candidates->n; i++)
    {
      size_t until;

      reached += total > 0.0 ? candidates->weight[i] / total : 0.0;
      until = i + 1 == candidates->n ? n_draws : (size_t) fmin (fmax (ceil (reached * (double) n_draws - at), 0.0), (double) n_draws);
      candidates->count[i] = until > used ? until - used : 0;
      used = until > used ? until : used;
    }
}

static void
fill_deviates (uint64_t seed,
               size_t   draw,
               size_t   n,
               double  *z)
{
  WbCalcRandom random;

  wb_calc_random_init (&random, seed, draw + 1);
  for (size_t j = 0; j < n; j++)
    z[j] = wb_calc_random_normal (&random);
}

static void
tell_targets (const WbCalcMixed       *fit,
              const WbCalcMixedTarget *targets,
              size_t                   n,
              const double            *a,
              const double            *b,
              double                  *values)
{
  size_t l = fit->data->n_local, g = fit->data->n_global;

  for (size_t i = 0; i < n; i++)
    {
      values[i] = 0.0;
      for (size_t j = 0; targets[i].local != NULL && j < l; j++)
        values[i] += targets[i].local[j] * a[targets[i].block * l + j];
      for (size_t j = 0; targets[i].global != NULL && j < g; j++)
        values[i] += targets[i].global[j] * b[j];
    }
}

static WbCalcStatus
check_targets (const WbCalcMixed       *fit,
               const WbCalcMixedTarget *targets,
               size_t                   n,
               double                  *room)
{
  for (size_t i = 0; i < n; i++)
    {
      WbCalcMixedRay ray = { 0, room, room + fit->data->n_local };

      if (targets[i].local != NULL && targets[i].block >= fit->data->n_blocks)
        return WB_CALC_BAD_INPUT;
      if (!wb_calc_mixed_system_cast (&fit->system, &targets[i], &ray))
        return WB_CALC_UNIDENTIFIED;
    }
  return WB_CALC_OK;
}

WbCalcStatus
wb_calc_mixed_draw (const WbCalcMixed       *fit,
                    const WbCalcMixedTarget *targets,
                    size_t                   n,
                    uint64_t                 seed,
                    size_t                   n_draws,
                    const double            *z,
                    double                  *values,
                    double                  *spreads)
{
  size_t l = fit->data->n_local, g = fit->data->n_global, n_deviates = wb_calc_mixed_get_n_deviates (fit);
  double *room = malloc ((2 * n_deviates + l + g + 1) * sizeof *room);
  Candidates *candidates = malloc (sizeof *candidates);
  WbCalcMixedSystem system = { 0 };
  WbCalcStatus status = room == NULL || candidates == NULL ? WB_CALC_NO_MEMORY : check_targets (fit, targets, n, room);
  size_t draw = 0;

  if (status == WB_CALC_OK)
    status = wb_calc_mixed_system_init (&system, fit->data);
  if (status == WB_CALC_OK)
    {
      choose (fit, &system, seed, n_draws, candidates);
      for (size_t i = 0; i < candidates->n; i++)
        {
          double sd[WB_CALC_MIXED_MAX_SPREADS];

          if (candidates->count[i] == 0)
            continue;
          /* where no candidate could be solved the last one stands for all: the estimate then has to do */
          if (!solve_at (fit, &system, candidates->x[i], sd) && !solve_at (fit, &system, fit->search.x, sd))
            {
              status = WB_CALC_UNIDENTIFIED;
              break;
            }
          for (size_t k = 0; k < candidates->count[i]; k++, draw++)
            {
              if (z == NULL)
                fill_deviates (seed, draw, n_deviates, room + n_deviates);
              wb_calc_mixed_system_draw (&system, z != NULL ? z + draw * n_deviates : room + n_deviates, room + g, room);
              tell_targets (fit, targets, n, room + g, room, values + draw * n);
              if (spreads != NULL)
                memcpy (spreads + draw * fit->data->n_spreads, sd, fit->data->n_spreads * sizeof *sd);
            }
        }
    }
  wb_calc_mixed_system_clear (&system);
  free (candidates);
  free (room);
  return status;
}
