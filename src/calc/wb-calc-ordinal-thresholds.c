/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-ordinal-thresholds-private.h"

/* Below this gap Phi (b) - Phi (a) is phi in the middle times the gap, to 1e-9 of itself. */
#define NARROW 1e-4

/* Where the gap of a category that was never seen lies, in its logarithm, at q = 0. */
#define UNSEEN_LOG_GAP -1.0

#define MAX_NEWTON 50

size_t
wb_calc_ordinal_thresholds_place (const WbCalcOrdinalDensity *density,
                                  size_t                      m)
{
  return m > density->anchor ? m : m - 1;
}

static double
log1p_exp (double x)
{
  return x > 0.0 ? x + log1p (exp (-x)) : log1p (exp (x));
}

/* How much steeper than 1 a gap's logarithm runs in q on its narrow side: 0 where the category was seen. */
static double
steepness (const WbCalcOrdinalDensity *density,
           size_t                      m)
{
  return density->count[m] > 0.0 ? 0.0 : fmax (1.0 / density->weight[m] - 1.0, 0.0);
}

/*
 * A gap whose category was seen has about the scale 1 in its logarithm t. One that
 * was not has a tail exp (w t) to the left, w small: q is t where gaps are wide
 * and w t where they are narrow, so that its scale is 1 on both sides.
 */
static double
log_gap_at (double  extra,
            double  q,
            double *bend)
{
  if (extra == 0.0)
    {
      *bend = 1.0;
      return q;
    }
  *bend = 1.0 + extra / (1.0 + exp (q));
  return UNSEEN_LOG_GAP + q - extra * log1p_exp (-q);
}

/* The q of a gap's logarithm. Newton converges from anywhere: log_gap_at is concave and rises by at least 1. */
static double
place_of_log_gap (double extra,
                  double log_gap)
{
  double q = extra == 0.0 ? log_gap : log_gap - UNSEEN_LOG_GAP;

  for (int i = 0; i < MAX_NEWTON && extra > 0.0; i++)
    {
      double bend;
      double step = (log_gap - log_gap_at (extra, q, &bend)) / bend;

      q += step;
      if (fabs (step) < 1e-13 * (1.0 + fabs (q)))
        break;
    }
  return q;
}

void
wb_calc_ordinal_thresholds_read (const WbCalcOrdinalDensity *density,
                                 const double               *q,
                                 WbCalcOrdinalState         *state)
{
  size_t c = density->anchor;

  state->tau[c] = q[c];
  for (size_t m = 1; m + 1 < density->n_categories; m++)
    {
      double at = q[wb_calc_ordinal_thresholds_place (density, m)];

      state->log_gap[m] = log_gap_at (steepness (density, m), at, &state->bend[m]);
      state->gap[m] = exp (state->log_gap[m]);
    }
  for (size_t m = c + 1; m + 1 < density->n_categories; m++)
    state->tau[m] = state->tau[m - 1] + state->gap[m];
  for (size_t m = c; m > 0; m--)
    state->tau[m - 1] = state->tau[m] - state->gap[m];
}

void
wb_calc_ordinal_thresholds_write (const WbCalcOrdinalDensity *density,
                                  const WbCalcOrdinalState   *state,
                                  double                     *q)
{
  q[density->anchor] = state->tau[density->anchor];
  for (size_t m = 1; m + 1 < density->n_categories; m++)
    q[wb_calc_ordinal_thresholds_place (density, m)] = place_of_log_gap (steepness (density, m), state->log_gap[m]);
}

double
wb_calc_ordinal_thresholds_prior (const WbCalcOrdinalDensity *density,
                                  const WbCalcOrdinalState   *state,
                                  double                     *by_tau,
                                  double                     *by_log_gap)
{
  size_t last = density->n_categories - 2;
  double tail = wb_calc_ordinal_smaller_tail (state->tau[0]);
  double p = state->tau[0] < 0.0 ? tail : 1.0 - tail;
  double phi = wb_calc_ordinal_normal_density (state->tau[0]);
  double value = (density->weight[0] - 1.0) * log (p) - 0.5 * state->tau[0] * state->tau[0];

  by_tau[0] += (density->weight[0] - 1.0) * phi / p - state->tau[0];
  for (size_t m = 1; m <= last; m++)
    {
      double excess = density->weight[m] - 1.0;
      double middle = state->tau[m] - 0.5 * state->gap[m];
      double tail_before = tail;
      double phi_before = phi;

      tail = wb_calc_ordinal_smaller_tail (state->tau[m]);
      phi = wb_calc_ordinal_normal_density (state->tau[m]);
      by_log_gap[m] = 0.0;
      if (state->gap[m] < NARROW)
        {
          value += excess * (state->log_gap[m] - 0.5 * middle * middle);
          by_tau[m - 1] -= excess * middle;
          by_log_gap[m] += excess * (1.0 - 0.5 * middle * state->gap[m]);
        }
      else
        {
          p = wb_calc_ordinal_between (state->tau[m - 1], state->tau[m], tail_before, tail);
          value += excess * (log (p) - log (WB_CALC_ORDINAL_INVERSE_SQRT_2PI));
          by_tau[m - 1] += excess * (phi - phi_before) / p;
          by_log_gap[m] += excess * state->gap[m] * phi / p;
        }
      /* phi (tau) of the step from chances to tau. */
      value -= 0.5 * state->tau[m] * state->tau[m];
      by_tau[m] -= state->tau[m];
    }
  p = state->tau[last] > 0.0 ? tail : 1.0 - tail;
  by_tau[last] -= (density->weight[last + 1] - 1.0) * phi / p;
  return value + (density->weight[last + 1] - 1.0) * log (p);
}

double
wb_calc_ordinal_thresholds_jacobian (const WbCalcOrdinalDensity *density,
                                     const WbCalcOrdinalState   *state)
{
  double value = 0.0;

  for (size_t m = 1; m + 1 < density->n_categories; m++)
    value += state->log_gap[m] + (state->bend[m] != 1.0 ? log (state->bend[m]) : 0.0);
  return value;
}

void
wb_calc_ordinal_thresholds_pull_back (const WbCalcOrdinalDensity *density,
                                      const WbCalcOrdinalState   *state,
                                      const double               *q,
                                      const double               *by_tau,
                                      const double               *by_log_gap,
                                      double                     *gradient)
{
  size_t c = density->anchor;
  double moved = 0.0;

  gradient[c] = 0.0;
  for (size_t m = 0; m + 1 < density->n_categories; m++)
    gradient[c] += by_tau[m];
  /* A wider category moves what lies beyond it, seen from the anchor. */
  for (size_t m = density->n_categories - 2; m > c; m--)
    {
      moved += by_tau[m];
      gradient[m] = 1.0 + by_log_gap[m] + state->gap[m] * moved;
    }
  moved = 0.0;
  for (size_t m = 1; m <= c; m++)
    {
      moved += by_tau[m - 1];
      gradient[m - 1] = 1.0 + by_log_gap[m] - state->gap[m] * moved;
    }
  for (size_t m = 1; m + 1 < density->n_categories; m++)
    {
      size_t at = wb_calc_ordinal_thresholds_place (density, m);
      double bend = state->bend[m];

      gradient[at] = bend * gradient[at] - (bend - 1.0) / (1.0 + exp (-q[at])) / bend;
    }
}
