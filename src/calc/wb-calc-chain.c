/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-chain-private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* States between two questions whether to go on. */
#define STATES_A_QUESTION 16

/* Warm-up: the step alone, the metric in windows that grow, the step for the final metric. */
static const size_t windows[] = { 50, 50, 100, 150 };
#define N_WINDOWS (sizeof windows / sizeof *windows)
#define LAST_STEPS 50

/* Dual averaging: wanted acceptance and the constants that Hoffman and Gelman give. */
#define WANTED_ACCEPTANCE 0.8
#define DUAL_GAMMA 0.05
#define DUAL_DELAY 10.0
#define DUAL_DECAY 0.75

/*
 * Length of a trajectory in standard deviations, each one stretched by 0.5 to 1.5:
 * a normal's quarter orbit, 1.57, is best for what is near normal; spreads that
 * the data hardly tell go further by 2.2 (tried: 1.0, 1.57, 2.2, 3.0).
 */
#define TRAJECTORY 2.2
#define MOST_STEPS 64

/* An energy that rises by more is a trajectory that left the density. */
#define LOST 1000.0

typedef struct
{
  double centre;   /* ln step that the search is drawn to */
  double error;    /* running mean of wanted minus seen acceptance */
  double mean_log; /* weighted mean of ln step: the step to keep */
  double n;
} DualAveraging;

WbCalcStatus
wb_calc_chain_init (WbCalcChain *chain,
                    size_t       n)
{
  double *room = calloc (8 * n, sizeof *room);

  if (room == NULL)
    return WB_CALC_NO_MEMORY;
  *chain = (WbCalcChain) {
    .n = n,
    .q = room,
    .scale = room + n,
    .gradient = room + 2 * n,
    .work = room + 3 * n,
    .moments = room + 6 * n,
    .step = 0.1,
  };
  return WB_CALC_OK;
}

void
wb_calc_chain_clear (WbCalcChain *chain)
{
  free (chain->q);
  memset (chain, 0, sizeof *chain);
}

static double
energy_of (const double *momentum,
           size_t        n)
{
  double sum = 0.0;

  for (size_t i = 0; i < n; i++)
    sum += momentum[i] * momentum[i];
  return 0.5 * sum;
}

/* Leapfrog steps from the state in `work`; the log density at the end, -INFINITY where the trajectory was lost. */
static double
travel (WbCalcChain *chain,
        size_t       n_steps,
        double       start)
{
  size_t n = chain->n;
  double *q = chain->work;
  double *gradient = chain->work + n;
  double *momentum = chain->work + 2 * n;
  double value = chain->value;

  for (size_t s = 0; s < n_steps; s++)
    {
      for (size_t i = 0; i < n; i++)
        {
          momentum[i] += 0.5 * chain->step * chain->scale[i] * gradient[i];
          q[i] += chain->step * chain->scale[i] * momentum[i];
        }
      value = chain->density (q, gradient, chain->density_user);
      if (!(value > start - LOST))
        return -INFINITY;
      for (size_t i = 0; i < n; i++)
        momentum[i] += 0.5 * chain->step * chain->scale[i] * gradient[i];
    }
  return value;
}

static void
take_trajectory (WbCalcChain *chain)
{
  size_t n = chain->n;
  double *momentum = chain->work + 2 * n;
  double length = TRAJECTORY * (0.5 + wb_calc_random_uniform (chain->random));
  size_t n_steps = (size_t) fmin (fmax (ceil (length / chain->step), 1.0), MOST_STEPS);
  double start;
  double value;
  double gain;

  memcpy (chain->work, chain->q, n * sizeof (double));
  memcpy (chain->work + n, chain->gradient, n * sizeof (double));
  for (size_t i = 0; i < n; i++)
    momentum[i] = wb_calc_random_normal (chain->random);
  start = chain->value - energy_of (momentum, n);
  value = travel (chain, n_steps, start);
  gain = isfinite (value) ? value - energy_of (momentum, n) - start : -INFINITY;
  chain->accepted = gain < 0.0 ? exp (gain) : (gain >= 0.0 ? 1.0 : 0.0);
  if (wb_calc_random_uniform (chain->random) >= chain->accepted)
    return;
  memcpy (chain->q, chain->work, n * sizeof (double));
  memcpy (chain->gradient, chain->work + n, n * sizeof (double));
  chain->value = value;
}

void
wb_calc_chain_advance (WbCalcChain *chain)
{
  double *before = chain->work;

  take_trajectory (chain);
  if (chain->move == NULL)
    return;
  memcpy (before, chain->q, chain->n * sizeof (double));
  if (!chain->move (chain->q, chain->random, chain->density_user))
    return;
  chain->value = chain->density (chain->q, chain->gradient, chain->density_user);
  if (isfinite (chain->value))
    return;
  /* Rounding at the edge of what a double holds: the move is taken back. */
  memcpy (chain->q, before, chain->n * sizeof (double));
  chain->value = chain->density (chain->q, chain->gradient, chain->density_user);
}

static void
tune_step (WbCalcChain   *chain,
           DualAveraging *dual)
{
  double weight;

  dual->n += 1.0;
  dual->error += (WANTED_ACCEPTANCE - chain->accepted - dual->error) / (dual->n + DUAL_DELAY);

  double log_step = dual->centre - sqrt (dual->n) / DUAL_GAMMA * dual->error;

  weight = pow (dual->n, -DUAL_DECAY);
  dual->mean_log += weight * (log_step - dual->mean_log);
  chain->step = exp (log_step);
}

/* Advances `n_states` times, tuning the step and gathering moments; false when told to stop. */
static bool
warm_window (WbCalcChain *chain,
             size_t       n_states)
{
  DualAveraging dual = { log (5.0 * chain->step), 0.0, 0.0, 0.0 };
  double *mean = chain->moments;
  double *square = chain->moments + chain->n;

  memset (chain->moments, 0, 2 * chain->n * sizeof (double));
  for (size_t s = 0; s < n_states; s++)
    {
      if (s % STATES_A_QUESTION == 0 && chain->keep_going != NULL && !chain->keep_going (chain->keep_going_user))
        return false;
      wb_calc_chain_advance (chain);
      tune_step (chain, &dual);
      for (size_t i = 0; i < chain->n; i++)
        {
          double off = chain->q[i] - mean[i];

          mean[i] += off / (double) (s + 1);
          square[i] += off * (chain->q[i] - mean[i]);
        }
    }
  chain->step = exp (dual.mean_log);
  return true;
}

WbCalcStatus
wb_calc_chain_warm_up (WbCalcChain *chain)
{
  for (size_t i = 0; i < chain->n; i++)
    chain->scale[i] = 1.0;
  chain->value = chain->density (chain->q, chain->gradient, chain->density_user);
  if (!isfinite (chain->value))
    return WB_CALC_BAD_INPUT;
  for (size_t w = 0; w < N_WINDOWS; w++)
    {
      double n = (double) windows[w];

      if (!warm_window (chain, windows[w]))
        return WB_CALC_CANCELLED;
      /* The first window only finds the way; a window of few states is drawn a little towards a small scale. */
      for (size_t i = 0; i < chain->n && w > 0; i++)
        chain->scale[i] = sqrt ((chain->moments[chain->n + i] + 0.05) / (n + 4.0));
    }
  return warm_window (chain, LAST_STEPS) ? WB_CALC_OK : WB_CALC_CANCELLED;
}

static double
autocovariance (const double *values,
                size_t        n,
                size_t        stride,
                double        mean,
                size_t        lag)
{
  double sum = 0.0;

  for (size_t i = 0; i + lag < n; i++)
    sum += (values[i * stride] - mean) * (values[(i + lag) * stride] - mean);
  return sum / (double) n;
}

double
wb_calc_chain_effective (const double *values,
                         size_t        n,
                         size_t        stride)
{
  double mean = 0.0;
  double variance;
  double total = 0.0;
  double before = INFINITY;

  for (size_t i = 0; i < n; i++)
    mean += values[i * stride] / (double) n;
  variance = autocovariance (values, n, stride, mean, 0);
  if (!(variance > 0.0))
    return (double) n;
  for (size_t lag = 0; lag + 1 < n; lag += 2)
    {
      double pair = (lag == 0 ? variance : autocovariance (values, n, stride, mean, lag))
                    + autocovariance (values, n, stride, mean, lag + 1);

      if (!(pair > 0.0))
        break;
      before = fmin (before, pair);
      total += before;
    }
  /* total counts lag 0 once, so 1 + 2 sum rho = 2 total / variance - 1. */
  return fmin ((double) n, (double) n / fmax (2.0 * total / variance - 1.0, 1.0));
}
