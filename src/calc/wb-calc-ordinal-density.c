/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-ordinal-density-private.h"

#include <math.h>
#include <string.h>

#include "wb-calc-ordinal-thresholds-private.h"
#include "wb-calc-quantile.h"

/* The logarithm of a long product: one logarithm for many factors. */
typedef struct
{
  double log;
  double product;
} LogProduct;

static void
log_product_times (LogProduct *total,
                   double      factor,
                   double      count)
{
  if (count > 4.0 || !(factor > 1e-60))
    {
      total->log += count * log (factor);
      return;
    }
  for (double i = 0.0; i < count; i++)
    total->product *= factor;
  if (total->product < 1e-60)
    {
      total->log += log (total->product);
      total->product = 1.0;
    }
}

void
wb_calc_ordinal_density_read (const WbCalcOrdinalDensity *density,
                              const double               *q,
                              WbCalcOrdinalState         *state)
{
  const WbCalcOrdinalSpread *groups = &density->between_groups;
  const WbCalcOrdinalSpread *units = &density->between_units;

  wb_calc_ordinal_thresholds_read (density, q, state);
  state->group_sd = groups->median > 0.0 ? groups->median * exp (log (groups->factor) * q[density->log_group]) : 0.0;
  state->unit_sd = units->median > 0.0 ? units->median * exp (log (units->factor) * q[density->log_unit]) : 0.0;
  state->scale = sqrt (1.0 + state->group_sd * state->group_sd + state->unit_sd * state->unit_sd);
}

void
wb_calc_ordinal_density_predict (const WbCalcOrdinalDensity *density,
                                 const double               *q,
                                 const WbCalcOrdinalState   *state,
                                 double                     *eta)
{
  for (size_t g = 0; g < density->n_groups; g++)
    {
      eta[g] = state->group_sd > 0.0 ? state->group_sd * q[density->group_deviates + g] : 0.0;
      for (size_t j = 0; j < density->n_columns; j++)
        eta[g] += density->x[g * density->n_columns + j] * q[density->slopes + j];
    }
}

void
wb_calc_ordinal_density_start (const WbCalcOrdinalDensity *density,
                               double                     *q)
{
  double total = 0.0;
  double below = 0.0;
  double before = 0.0;

  memset (q, 0, density->n * sizeof *q);
  for (size_t m = 0; m < density->n_categories; m++)
    total += density->count[m] + density->weight[m];
  for (size_t m = 0; m + 1 < density->n_categories; m++)
    {
      double tau;

      below += (density->count[m] + density->weight[m]) / total;
      tau = wb_calc_normal_quantile (below);
      if (m == density->anchor)
        q[m] = tau;
      if (m > 0 && density->count[m] > 0.0)
        q[wb_calc_ordinal_thresholds_place (density, m)] = log (tau - before);
      before = tau;
    }
}

/* Multiplies the likelihood of one pair at its eta into `total`; adds derivatives by theta, returns the one by eta. */
static double
pair_likelihood (const WbCalcOrdinalDensity *density,
                 const WbCalcOrdinalPair    *pair,
                 const double               *theta,
                 double                      eta,
                 double                     *by_theta,
                 LogProduct                 *total)
{
  const WbCalcOrdinalEntry *entry = density->entries + pair->first;
  size_t last = density->n_categories - 2;
  size_t ready = 0; /* thresholds 0 .. ready - 1 that matter have their tail and density */
  double z[WB_CALC_ORDINAL_MAX_CATEGORIES];
  double tail[WB_CALC_ORDINAL_MAX_CATEGORIES];
  double phi[WB_CALC_ORDINAL_MAX_CATEGORIES];
  double by_eta = 0.0;

  for (size_t i = 0; i < pair->n; i++, entry++)
    {
      size_t k = entry->category;
      double p = 0.0;

      for (size_t m = k > 0 ? (ready > k - 1 ? ready : k - 1) : 0; m <= k && m <= last; m++)
        {
          z[m] = theta[m] - eta;
          tail[m] = wb_calc_ordinal_smaller_tail (z[m]);
          phi[m] = wb_calc_ordinal_normal_density (z[m]);
          ready = m + 1;
        }
      if (k == 0)
        p = z[0] < 0.0 ? tail[0] : 1.0 - tail[0];
      else if (k > last)
        p = z[last] > 0.0 ? tail[last] : 1.0 - tail[last];
      else
        p = wb_calc_ordinal_between (z[k - 1], z[k], tail[k - 1], tail[k]);
      log_product_times (total, p, entry->count);
      if (k <= last)
        {
          by_theta[k] += entry->count * phi[k] / p;
          by_eta -= entry->count * phi[k] / p;
        }
      if (k > 0)
        {
          by_theta[k - 1] -= entry->count * phi[k - 1] / p;
          by_eta += entry->count * phi[k - 1] / p;
        }
    }
  return by_eta;
}

/* The derivative by q of a ln s, given those by s and by the scale S. */
static double
pull_back_spread (const WbCalcOrdinalSpread *spread,
                  const WbCalcOrdinalState  *state,
                  double                     sd,
                  double                     by_sd,
                  double                     by_scale,
                  double                     q)
{
  return log (spread->factor) * sd * (by_sd + by_scale * sd / state->scale) - q;
}

/* Derivatives by the eta to those by slopes and group deviates; the one by s_group is returned. */
static double
pull_back_groups (const WbCalcOrdinalDensity *density,
                  const WbCalcOrdinalState   *state,
                  const double               *q,
                  double                     *gradient)
{
  size_t p = density->n_columns;
  double by_group_sd = 0.0;

  for (size_t j = 0; j < p; j++)
    {
      size_t at = density->slopes + j;

      gradient[at] = -q[at];
      for (size_t g = 0; g < density->n_groups; g++)
        gradient[at] += density->x[g * p + j] * density->eta_gradient[g];
    }
  for (size_t g = 0; g < density->n_groups && state->group_sd > 0.0; g++)
    {
      size_t at = density->group_deviates + g;

      by_group_sd += q[at] * density->eta_gradient[g];
      gradient[at] = state->group_sd * density->eta_gradient[g] - q[at];
    }
  return by_group_sd;
}

/* ln likelihood of all pairs; fills eta_gradient and the part of `gradient` that belongs to unit deviates. */
static double
likelihood (WbCalcOrdinalDensity     *density,
            const WbCalcOrdinalState *state,
            const double             *q,
            double                   *by_theta,
            double                   *by_unit_sd,
            double                   *gradient)
{
  double theta[WB_CALC_ORDINAL_MAX_CATEGORIES];
  LogProduct total = { 0.0, 1.0 };

  for (size_t m = 0; m + 1 < density->n_categories; m++)
    theta[m] = state->scale * state->tau[m];
  memset (density->eta_gradient, 0, density->n_groups * sizeof (double));
  for (size_t at = density->unit_deviates; at < density->n; at++)
    gradient[at] = -q[at];
  *by_unit_sd = 0.0;
  for (size_t i = 0; i < density->n_pairs; i++)
    {
      const WbCalcOrdinalPair *pair = &density->pairs[i];
      size_t at = density->unit_deviates + pair->unit;
      double deviate = state->unit_sd > 0.0 ? q[at] : 0.0;
      double eta = density->eta[pair->group] + state->unit_sd * deviate;
      double by_eta = pair_likelihood (density, pair, theta, eta, by_theta, &total);

      density->eta_gradient[pair->group] += by_eta;
      *by_unit_sd += deviate * by_eta;
      if (state->unit_sd > 0.0)
        gradient[at] += state->unit_sd * by_eta;
    }
  return total.log + log (total.product);
}

double
wb_calc_ordinal_density_at (const double *q,
                            double       *gradient,
                            void         *user)
{
  WbCalcOrdinalDensity *density = user;
  WbCalcOrdinalState state;
  double by_theta[WB_CALC_ORDINAL_MAX_CATEGORIES] = { 0.0 };
  double by_tau[WB_CALC_ORDINAL_MAX_CATEGORIES] = { 0.0 };
  double by_log_gap[WB_CALC_ORDINAL_MAX_CATEGORIES] = { 0.0 };
  double by_scale = 0.0;
  double by_group_sd;
  double by_unit_sd;
  double value;

  wb_calc_ordinal_density_read (density, q, &state);
  wb_calc_ordinal_density_predict (density, q, &state, density->eta);
  value = wb_calc_ordinal_thresholds_prior (density, &state, by_tau, by_log_gap);
  value += wb_calc_ordinal_thresholds_jacobian (density, &state);
  value += likelihood (density, &state, q, by_theta, &by_unit_sd, gradient);
  for (size_t at = density->slopes; at < density->n; at++)
    value -= 0.5 * q[at] * q[at];
  for (size_t m = 0; m + 1 < density->n_categories; m++)
    {
      by_scale += state.tau[m] * by_theta[m];
      by_tau[m] += state.scale * by_theta[m];
    }
  wb_calc_ordinal_thresholds_pull_back (density, &state, q, by_tau, by_log_gap, gradient);
  by_group_sd = pull_back_groups (density, &state, q, gradient);
  if (state.group_sd > 0.0)
    gradient[density->log_group] = pull_back_spread (&density->between_groups, &state, state.group_sd, by_group_sd, by_scale,
                                                     q[density->log_group]);
  if (state.unit_sd > 0.0)
    gradient[density->log_unit] = pull_back_spread (&density->between_units, &state, state.unit_sd, by_unit_sd, by_scale,
                                                    q[density->log_unit]);
  return isfinite (value) ? value : -INFINITY;
}
