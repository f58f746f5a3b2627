/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-ordinal.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "wb-calc-chain-private.h"
#include "wb-calc-ordinal-density-private.h"
#include "wb-calc-quantile.h"
#include "wb-calc-random.h"

/* The chain grows by stretches until it is worth enough, or is this long. */
#define STRETCH 250
#define FEWEST_STATES 1000
#define MOST_STATES 8000
#define ENOUGH_EFFECTIVE 400.0
#define LEAST_EFFECTIVE 100.0
#define STATES_A_QUESTION 16

/* Blocks of the seed: the chain, what is drawn from the prior afterwards, the order of the draws. */
enum
{
  BLOCK_CHAIN,
  BLOCK_UNSEEN,
  BLOCK_ORDER
};

/* Chances beyond are so far out that the threshold's place no longer matters. */
#define SMALLEST_CHANCE 1e-300

typedef struct
{
  WbCalcOrdinalDensity density;
  WbCalcChain          chain;
  WbCalcRandom         random;
  double              *states;   /* n_states x density.n, room for MOST_STATES grows with them */
  double              *followed; /* n_states x n_followed: what must have mixed */
  size_t               n_states;
  size_t               n_followed;
} Sampler;

static bool
spread_is_fine (const WbCalcOrdinalSpread *spread)
{
  if (spread->median == 0.0)
    return true;
  return spread->median > 0.0 && isfinite (spread->median) && spread->factor > 1.0 && isfinite (spread->factor);
}

static WbCalcStatus
check (const WbCalcOrdinalData  *data,
       const WbCalcOrdinalPrior *prior,
       size_t                    n_draws)
{
  if (data->n_categories < 2 || data->n_categories > WB_CALC_ORDINAL_MAX_CATEGORIES || n_draws == 0
      || !spread_is_fine (&prior->between_groups) || !spread_is_fine (&prior->between_units)
      || !(prior->slope_sd > 0.0) || isinf (prior->slope_sd) || !(prior->category_weight >= 0.0)
      || isinf (prior->category_weight))
    return WB_CALC_BAD_INPUT;
  for (size_t i = 0; i < data->n; i++)
    if (data->rating[i] >= data->n_categories || data->unit[i] >= data->n_units || data->group[i] >= data->n_groups)
      return WB_CALC_BAD_INPUT;
  for (size_t i = 0; i < data->n_groups * data->n_columns; i++)
    if (!isfinite (data->x[i]))
      return WB_CALC_BAD_INPUT;
  return data->n == 0 ? WB_CALC_TOO_FEW : WB_CALC_OK;
}

static void
sampler_clear (Sampler *sampler)
{
  wb_calc_chain_clear (&sampler->chain);
  wb_calc_ordinal_density_clear (&sampler->density);
  free (sampler->states);
  free (sampler->followed);
}

static WbCalcStatus
sampler_init (Sampler                  *sampler,
              const WbCalcOrdinalData  *data,
              const WbCalcOrdinalPrior *prior,
              uint64_t                  seed,
              WbCalcKeepGoing           keep_going,
              void                     *user)
{
  WbCalcStatus status;

  memset (sampler, 0, sizeof *sampler);
  status = wb_calc_ordinal_density_init (&sampler->density, data, prior);
  if (status == WB_CALC_OK)
    status = wb_calc_chain_init (&sampler->chain, sampler->density.n);
  if (status != WB_CALC_OK)
    return status;
  wb_calc_random_init (&sampler->random, seed, BLOCK_CHAIN);
  sampler->chain.random = &sampler->random;
  sampler->chain.density = wb_calc_ordinal_density_at;
  sampler->chain.move = wb_calc_ordinal_density_rescale;
  sampler->chain.density_user = &sampler->density;
  sampler->chain.keep_going = keep_going;
  sampler->chain.keep_going_user = user;
  /* Every group, threshold and spread. */
  sampler->n_followed = sampler->density.n_groups + sampler->density.n_categories + 1;
  wb_calc_ordinal_density_start (&sampler->density, sampler->chain.q);
  return WB_CALC_OK;
}

/*
 * What answers are made of: the groups' expected ratings (categories as merged),
 * thresholds and spreads as shares of the total spread. Ratings that never differ
 * within a unit leave the total spread itself almost free, and nothing hangs on it.
 */
static void
follow (Sampler *sampler)
{
  size_t n_groups = sampler->density.n_groups;
  size_t n_thresholds = sampler->density.n_categories - 1;
  double *values = sampler->followed + sampler->n_states * sampler->n_followed;
  WbCalcOrdinalState state;

  wb_calc_ordinal_density_read (&sampler->density, sampler->chain.q, &state);
  wb_calc_ordinal_density_predict (&sampler->density, sampler->chain.q, &state, values);
  for (size_t g = 0; g < n_groups; g++)
    {
      double eta = values[g];

      values[g] = 0.0;
      for (size_t m = 0; m < n_thresholds; m++)
        values[g] += wb_calc_normal_below ((eta - state.scale * state.tau[m]) / hypot (1.0, state.unit_sd));
    }
  memcpy (values + n_groups, state.tau, n_thresholds * sizeof (double));
  values[n_groups + n_thresholds] = state.group_sd / state.scale;
  values[n_groups + n_thresholds + 1] = state.unit_sd / state.scale;
}

/* STRETCH more states. */
static WbCalcStatus
sampler_stretch (Sampler *sampler)
{
  size_t n = sampler->density.n;
  size_t wanted = sampler->n_states + STRETCH;
  double *states = realloc (sampler->states, wanted * n * sizeof *states);
  double *followed;

  if (states != NULL)
    sampler->states = states;
  followed = realloc (sampler->followed, wanted * sampler->n_followed * sizeof *followed);
  if (followed != NULL)
    sampler->followed = followed;
  if (states == NULL || followed == NULL)
    return WB_CALC_NO_MEMORY;
  while (sampler->n_states < wanted)
    {
      if (sampler->n_states % STATES_A_QUESTION == 0 && sampler->chain.keep_going != NULL
          && !sampler->chain.keep_going (sampler->chain.keep_going_user))
        return WB_CALC_CANCELLED;
      wb_calc_chain_advance (&sampler->chain);
      memcpy (sampler->states + sampler->n_states * n, sampler->chain.q, n * sizeof (double));
      follow (sampler);
      sampler->n_states++;
    }
  return WB_CALC_OK;
}

static double
worst_effective (const Sampler *sampler)
{
  double worst = (double) sampler->n_states;

  for (size_t i = 0; i < sampler->n_followed; i++)
    worst = fmin (worst, wb_calc_chain_effective (sampler->followed + i, sampler->n_states, sampler->n_followed));
  return worst;
}

static WbCalcStatus
sampler_run (Sampler *sampler,
             double  *n_effective)
{
  WbCalcStatus status = wb_calc_chain_warm_up (&sampler->chain);

  *n_effective = 0.0;
  while (status == WB_CALC_OK && *n_effective < ENOUGH_EFFECTIVE && sampler->n_states < MOST_STATES)
    {
      status = sampler_stretch (sampler);
      if (status == WB_CALC_OK && sampler->n_states >= FEWEST_STATES)
        *n_effective = worst_effective (sampler);
    }
  if (status == WB_CALC_OK && *n_effective < LEAST_EFFECTIVE)
    status = WB_CALC_NOT_CONVERGED;
  return status;
}

/*
 * ln of a Gamma (shape, 1) variate: Marsaglia and Tsang, ACM Trans. Math. Softw. 26
 * (2000) 363-372, for shape + 1, and a uniform to the power 1 / shape, in
 * logarithms because that power may fall below the smallest double.
 */
static double
log_gamma_variate (WbCalcRandom *random,
                   double        shape)
{
  double d = shape + 2.0 / 3.0;
  double c = 1.0 / sqrt (9.0 * d);
  double power = log (wb_calc_random_uniform (random)) / shape;

  for (;;)
    {
      double z = wb_calc_random_normal (random);
      double v = 1.0 + c * z;

      if (v <= 0.0)
        continue;
      v = v * v * v;
      if (log (wb_calc_random_uniform (random)) < 0.5 * z * z + d - d * v + d * log (v))
        return log (d * v) + power;
    }
}

/*
 * Divides the chance `tail` of the n merged categories at an end by their prior
 * shares. outer[i] is the chance of the i + 1 outermost, i < n - 1.
 */
static void
divide_tail (WbCalcRandom *random,
             double        tail,
             double        weight,
             size_t        n,
             double       *outer)
{
  double share[WB_CALC_ORDINAL_MAX_CATEGORIES];
  double largest = -INFINITY;
  double total = 0.0;
  double sum = 0.0;

  for (size_t i = 0; i < n; i++)
    {
      share[i] = log_gamma_variate (random, weight);
      largest = fmax (largest, share[i]);
    }
  for (size_t i = 0; i < n; i++)
    total += share[i] = exp (share[i] - largest);
  for (size_t i = 0; i + 1 < n; i++)
    {
      sum += share[i];
      outer[i] = fmin (fmax (tail * sum / total, SMALLEST_CHANCE), tail);
    }
}

/* All thresholds of one state: those of the chain, and those among categories never seen. */
static void
fill_thresholds (const WbCalcOrdinalDensity *density,
                 const WbCalcOrdinalState   *state,
                 WbCalcRandom               *random,
                 size_t                      n_categories,
                 double                     *threshold)
{
  size_t n_below = density->n_below;
  size_t n_above = density->n_above;
  size_t last = density->n_categories - 2;
  size_t shift = n_below > 0 ? n_below - 1 : 0;
  double outer[WB_CALC_ORDINAL_MAX_CATEGORIES];

  for (size_t m = 0; m <= last; m++)
    threshold[shift + m] = state->scale * state->tau[m];
  if (n_below > 1)
    {
      divide_tail (random, wb_calc_normal_below (state->tau[0]), density->weight[0] / (double) n_below, n_below, outer);
      for (size_t i = 0; i + 1 < n_below; i++)
        threshold[i] = fmin (state->scale * wb_calc_normal_quantile (outer[i]), threshold[shift]);
    }
  if (n_above > 1)
    {
      divide_tail (random, wb_calc_normal_below (-state->tau[last]), density->weight[last + 1] / (double) n_above, n_above,
                   outer);
      for (size_t i = 0; i + 1 < n_above; i++)
        threshold[n_categories - 2 - i]
            = fmax (-state->scale * wb_calc_normal_quantile (outer[i]), threshold[shift + last]);
    }
  /* The quantile may fall by its last digit where chances hardly rise. */
  for (size_t k = 1; k + 1 < n_categories; k++)
    threshold[k] = fmax (threshold[k], threshold[k - 1]);
}

static WbCalcStatus
draws_alloc (WbCalcOrdinalDraws      *draws,
             const WbCalcOrdinalData *data,
             size_t                   n_draws)
{
  size_t width = data->n_groups + (data->n_categories - 1) + data->n_columns + 2;
  double *room = calloc (n_draws, width * sizeof *room);

  if (room == NULL)
    return WB_CALC_NO_MEMORY;
  *draws = (WbCalcOrdinalDraws) {
    .n_draws = n_draws,
    .n_groups = data->n_groups,
    .n_columns = data->n_columns,
    .n_categories = data->n_categories,
    .eta = room,
    .differs_at_most = 1.0,
  };
  draws->threshold = draws->eta + n_draws * data->n_groups;
  draws->slope = draws->threshold + n_draws * (data->n_categories - 1);
  draws->group_sd = draws->slope + n_draws * data->n_columns;
  draws->unit_sd = draws->group_sd + n_draws;
  return WB_CALC_OK;
}

/*
 * Columns of extreme size can carry a group that nobody rated out of what a double holds; and where slope_sd over a column's spread is
 * within a few powers of two of DBL_MAX, a slope that is a few of its standard deviations from 0.
 */
static bool
are_finite (const WbCalcOrdinalDraws *draws)
{
  for (size_t i = 0; i < draws->n_draws * draws->n_groups; i++)
    if (!isfinite (draws->eta[i]))
      return false;
  for (size_t i = 0; i < draws->n_draws * draws->n_columns; i++)
    if (!isfinite (draws->slope[i]))
      return false;
  return true;
}

/* The draws in shuffled order, the states spread over them evenly. */
static WbCalcStatus
fill_draws (const Sampler      *sampler,
            uint64_t            seed,
            WbCalcOrdinalDraws *draws)
{
  const WbCalcOrdinalDensity *density = &sampler->density;
  size_t *order = calloc (draws->n_draws, sizeof *order);
  WbCalcRandom random;

  if (order == NULL)
    return WB_CALC_NO_MEMORY;
  for (size_t d = 0; d < draws->n_draws; d++)
    order[d] = d;
  wb_calc_random_init (&random, seed, BLOCK_ORDER);
  wb_calc_random_shuffle (&random, order, draws->n_draws);
  wb_calc_random_init (&random, seed, BLOCK_UNSEEN);
  for (size_t d = 0; d < draws->n_draws; d++)
    {
      size_t at = order[d];
      size_t s = (size_t) ((double) d * (double) sampler->n_states / (double) draws->n_draws);
      const double *q = sampler->states + s * density->n;
      WbCalcOrdinalState state;

      wb_calc_ordinal_density_read (density, q, &state);
      wb_calc_ordinal_density_predict (density, q, &state, draws->eta + at * draws->n_groups);
      fill_thresholds (density, &state, &random, draws->n_categories,
                       draws->threshold + at * (draws->n_categories - 1));
      for (size_t j = 0; j < draws->n_columns; j++)
        draws->slope[at * draws->n_columns + j] = density->column_scale[j] * q[density->slopes + j];
      draws->group_sd[at] = state.group_sd;
      draws->unit_sd[at] = state.unit_sd;
    }
  draws->n_distinct = sampler->n_states < draws->n_draws ? sampler->n_states : draws->n_draws;
  free (order);
  return are_finite (draws) ? WB_CALC_OK : WB_CALC_NOT_CONVERGED;
}

WbCalcStatus
wb_calc_ordinal_fit (const WbCalcOrdinalData  *data,
                     const WbCalcOrdinalPrior *prior,
                     size_t                    n_draws,
                     uint64_t                  seed,
                     WbCalcKeepGoing           keep_going,
                     void                     *user,
                     WbCalcOrdinalDraws       *draws)
{
  Sampler sampler;
  double n_effective;
  WbCalcStatus status = check (data, prior, n_draws);

  memset (draws, 0, sizeof *draws);
  if (status != WB_CALC_OK)
    return status;
  status = sampler_init (&sampler, data, prior, seed, keep_going, user);
  if (status == WB_CALC_OK)
    status = sampler_run (&sampler, &n_effective);
  if (status == WB_CALC_OK)
    status = draws_alloc (draws, data, n_draws);
  if (status == WB_CALC_OK)
    status = fill_draws (&sampler, seed, draws);
  if (status != WB_CALC_OK)
    wb_calc_ordinal_clear (draws);
  else
    {
      draws->n_effective = fmin (n_effective, (double) draws->n_distinct);
      if (sampler.density.lowest == sampler.density.highest)
        {
          draws->same_category = sampler.density.lowest;
          draws->differs_at_most = 1.0 - pow (0.1, 1.0 / (double) sampler.density.n_units_seen);
          status = WB_CALC_ALL_SAME;
        }
    }
  sampler_clear (&sampler);
  return status;
}

void
wb_calc_ordinal_clear (WbCalcOrdinalDraws *draws)
{
  free (draws->eta);
  memset (draws, 0, sizeof *draws);
}
