/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-growth-mode-private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "wb-calc-censored.h"
#include "wb-calc-growth-solve-private.h"

#define MAX_ITERATIONS 200
#define MAX_HALVINGS 30

/* Largest change of a logarithm in one step: a factor of two. */
#define MAX_STEP 0.7

/* Change of a logarithm at which the mode is found, and what is put up with when steps get lost in rounding. */
#define STEP_END 1e-9
#define STEP_TOLERATED 1e-4

#define HALF_LOG_2PI 0.91893853320467274178

static WbCalcGrowthStiffness
stiffness_of (const WbCalcGrowthLayout  *layout,
              const WbCalcGrowthSpreads *spreads)
{
  return (WbCalcGrowthStiffness) {
    .units = 1.0 / (spreads->units * spreads->units),
    .runs = 1.0 / (spreads->runs * spreads->runs),
    .paces = layout->n_groups > 1 ? 1.0 / (spreads->paces * spreads->paces) : 0.0,
  };
}

static double *
take (double **room,
      size_t   n)
{
  double *start = *room;

  *room += n;
  return start;
}

static void
point_init (WbCalcGrowthPoint        *point,
            const WbCalcGrowthLayout *layout,
            double                  **room)
{
  point->a = take (room, layout->n_runs);
  point->m = take (room, layout->n_units);
  point->alpha = take (room, layout->n_groups);
  point->lambda = take (room, layout->n_groups);
  point->saa = take (room, layout->n_runs);
  point->sal = take (room, layout->n_runs);
  point->sll = take (room, layout->n_runs);
  point->ga = take (room, layout->n_runs);
  point->gl = take (room, layout->n_runs);
}

WbCalcGrowthMode *
wb_calc_growth_mode_new (const WbCalcGrowthLayout *layout)
{
  size_t point = 6 * layout->n_runs + layout->n_units + 2 * layout->n_groups;
  size_t total = 3 * point + layout->n_runs + 3 * layout->n_units + 3 * layout->n_groups;
  WbCalcGrowthMode *mode = calloc (1, sizeof *mode);

  if (mode == NULL)
    return NULL;
  mode->room = calloc (total, sizeof *mode->room);
  if (mode->room == NULL)
    {
      free (mode);
      return NULL;
    }

  double *room = mode->room;

  point_init (&mode->now, layout, &room);
  point_init (&mode->trial, layout, &room);
  point_init (&mode->step, layout, &room);
  mode->pivot_run = take (&room, layout->n_runs);
  mode->pivot_unit = take (&room, layout->n_units);
  mode->unit_pace = take (&room, layout->n_units);
  mode->unit_right = take (&room, layout->n_units);
  mode->var_level = take (&room, layout->n_groups);
  mode->var_pace = take (&room, layout->n_groups);
  mode->cov = take (&room, layout->n_groups);

  for (size_t g = 0; g < layout->n_groups; g++)
    {
      mode->now.alpha[g] = layout->start_level[g];
      mode->now.lambda[g] = fmin (fmax (layout->start_pace[g], layout->low_pace), layout->high_pace);
      mode->now.lambda0 += mode->now.lambda[g] / (double) layout->n_groups;
      for (size_t u = layout->group_first[g]; u < layout->group_first[g + 1]; u++)
        {
          mode->now.m[u] = layout->start_level[g];
          for (size_t r = layout->unit_first[u]; r < layout->unit_first[u + 1]; r++)
            mode->now.a[r] = layout->start_level[g];
        }
    }
  return mode;
}

void
wb_calc_growth_mode_free (WbCalcGrowthMode *mode)
{
  if (mode == NULL)
    return;
  free (mode->room);
  free (mode);
}

/* The readings of run r at the point: sums for the linear system; returns their minus log likelihood. */
static double
linearise_run (const WbCalcGrowthLayout *layout,
               WbCalcGrowthPoint        *point,
               size_t                    r,
               double                    lambda,
               double                    sigma)
{
  double level = exp (point->a[r]);
  double per_time = exp (-lambda);
  double value = 0.0;
  double saa = 0.0;
  double sal = 0.0;
  double sll = 0.0;
  double ga = 0.0;
  double gl = 0.0;

  for (size_t i = layout->run_first[r]; i < layout->run_first[r + 1]; i++)
    {
      double share = layout->t[i] * per_time;
      double lost = expm1 (-share);
      double f = -level * lost;
      double g = -level * share * (1.0 + lost);
      WbCalcCensoredReading reading
          = wb_calc_censored_reading (f, layout->y[i], layout->censored[i], sigma);

      value += reading.minus_loglik;
      saa += reading.weight * f * f;
      sal += reading.weight * f * g;
      sll += reading.weight * g * g;
      ga += reading.score * f;
      gl += reading.score * g;
    }
  point->saa[r] = saa;
  point->sal[r] = sal;
  point->sll[r] = sll;
  point->ga[r] = ga;
  point->gl[r] = gl;
  return value;
}

/* Fills the sums and the value, but for the terms that depend on the spreads alone. */
static void
linearise (const WbCalcGrowthLayout    *layout,
           const WbCalcGrowthStiffness *stiff,
           double                       sigma,
           WbCalcGrowthPoint           *point)
{
  double value = 0.0;

  for (size_t g = 0; g < layout->n_groups; g++)
    {
      double pace = point->lambda[g] - point->lambda0;

      value += 0.5 * stiff->paces * pace * pace;
      for (size_t u = layout->group_first[g]; u < layout->group_first[g + 1]; u++)
        {
          double unit = point->m[u] - point->alpha[g];

          value += 0.5 * stiff->units * unit * unit;
          for (size_t r = layout->unit_first[u]; r < layout->unit_first[u + 1]; r++)
            {
              double run = point->a[r] - point->m[u];

              value += 0.5 * stiff->runs * run * run
                       + linearise_run (layout, point, r, point->lambda[g], sigma);
            }
        }
    }
  point->value = value;
}

static double
largest (const double *x,
         size_t        n,
         double        so_far)
{
  for (size_t i = 0; i < n; i++)
    so_far = fmax (so_far, fabs (x[i]));
  return so_far;
}

static double
step_length (const WbCalcGrowthLayout *layout,
             const WbCalcGrowthPoint  *step)
{
  double length = fabs (step->lambda0);

  length = largest (step->alpha, layout->n_groups, length);
  length = largest (step->lambda, layout->n_groups, length);
  length = largest (step->m, layout->n_units, length);
  return largest (step->a, layout->n_runs, length);
}

/* trial = now + share of the step, the paces kept in their bounds. */
static void
move (const WbCalcGrowthLayout *layout,
      WbCalcGrowthMode         *mode,
      double                    share)
{
  const WbCalcGrowthPoint *now = &mode->now;
  const WbCalcGrowthPoint *step = &mode->step;
  WbCalcGrowthPoint *trial = &mode->trial;

  trial->lambda0 = now->lambda0 + share * step->lambda0;
  for (size_t g = 0; g < layout->n_groups; g++)
    {
      trial->alpha[g] = now->alpha[g] + share * step->alpha[g];
      trial->lambda[g] = fmin (fmax (now->lambda[g] + share * step->lambda[g], layout->low_pace), layout->high_pace);
    }
  for (size_t u = 0; u < layout->n_units; u++)
    trial->m[u] = now->m[u] + share * step->m[u];
  for (size_t r = 0; r < layout->n_runs; r++)
    trial->a[r] = now->a[r] + share * step->a[r];
}

/* Takes the largest share of the step that does not raise the value; false when none does. */
static bool
descend (const WbCalcGrowthLayout    *layout,
         const WbCalcGrowthStiffness *stiff,
         double                       sigma,
         WbCalcGrowthMode            *mode,
         double                       length)
{
  double share = length > MAX_STEP ? MAX_STEP / length : 1.0;

  for (int halving = 0; halving < MAX_HALVINGS; halving++, share *= 0.5)
    {
      move (layout, mode, share);
      linearise (layout, stiff, sigma, &mode->trial);
      if (mode->trial.value <= mode->now.value + 1e-13 * (1.0 + fabs (mode->now.value)))
        {
          WbCalcGrowthPoint kept = mode->now;

          mode->now = mode->trial;
          mode->trial = kept;
          return true;
        }
    }
  return false;
}

/* The terms of the joint density that depend on the spreads alone, and Laplace's. */
static double
normalisers (const WbCalcGrowthLayout  *layout,
             const WbCalcGrowthSpreads *spreads)
{
  double runs = (double) layout->n_runs;
  double units = (double) layout->n_units;
  double groups = (double) layout->n_groups;
  double plain = (double) layout->n_plain;
  bool pooled = layout->n_groups > 1;
  double latent = runs + units + 2.0 * groups + (pooled ? 1.0 : 0.0);
  double constants = plain + runs + units + (pooled ? groups : 0.0) - latent;

  return constants * HALF_LOG_2PI + plain * log (spreads->sigma) + runs * log (spreads->runs)
         + units * log (spreads->units) + (pooled ? groups * log (spreads->paces) : 0.0);
}

WbCalcStatus
wb_calc_growth_mode_find (const WbCalcGrowthLayout  *layout,
                          const WbCalcGrowthSpreads *spreads,
                          WbCalcGrowthMode          *mode)
{
  WbCalcGrowthStiffness stiff = stiffness_of (layout, spreads);
  double log_det = 0.0;
  double length = INFINITY;

  linearise (layout, &stiff, spreads->sigma, &mode->now);
  if (!isfinite (mode->now.value))
    return WB_CALC_NOT_CONVERGED;
  for (int iteration = 0; length > STEP_END; iteration++)
    {
      if (!wb_calc_growth_solve (layout, &stiff, mode, &log_det))
        return WB_CALC_UNIDENTIFIED;
      length = step_length (layout, &mode->step);
      if (length <= STEP_END)
        break;
      if (iteration == MAX_ITERATIONS || !descend (layout, &stiff, spreads->sigma, mode, length))
        {
          if (length > STEP_TOLERATED)
            return WB_CALC_NOT_CONVERGED;
          break;
        }
    }
  mode->minus_log_restricted = mode->now.value + normalisers (layout, spreads) + 0.5 * log_det;
  return isfinite (mode->minus_log_restricted) ? WB_CALC_OK : WB_CALC_NOT_CONVERGED;
}
