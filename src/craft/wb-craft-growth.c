/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-growth-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-calc-growth.h"
#include "wb-calc-quantile.h"
#include "wb-calc-random.h"
#include "wb-craft-pool-readings-private.h"
#include "wb-craft-vessel-private.h"

#define COVERAGE 0.9
#define DRAWS 2048
#define SEED 1             /* of intervals: the same data give the same interval */
#define N_CHI 64           /* equal-chance values that stand for a chi-square */

/*
 * Priors on the spreads, no source: 4 % of the limit between candles, known to a
 * factor of two, which is what one degree of freedom says; half of that between
 * burns; 15 % of the pace between recipes.
 */
#define PRIOR_SAMPLE_SD 0.04
#define PRIOR_BURN_SD 0.02
#define PRIOR_PACE_SD 0.15
#define PRIOR_DF 1.0
#define EARLIER_DF 8.0     /* what earlier experiments of other recipes may weigh at most */

double
wb_craft_growth_time (double level_mm,
                      double tau_h,
                      double diameter_mm)
{
  return level_mm > diameter_mm ? -tau_h * log1p (-diameter_mm / level_mm) : INFINITY;
}

static WbCalcGrowthPrior
choose_prior (WbCraftSpread earlier,
              gboolean      replicated)
{
  WbCalcGrowthPrior prior = {
    .between_units = { PRIOR_SAMPLE_SD, PRIOR_DF },
    .between_runs = { PRIOR_BURN_SD, PRIOR_DF },
    .between_paces = { PRIOR_PACE_SD, PRIOR_DF },
  };

  if (!replicated && earlier.df > 0)
    {
      prior.between_units.sd = earlier.sd;
      prior.between_units.df = MIN (earlier.df, EARLIER_DF);
    }
  return prior;
}

/* Is any cell burnt with a second sample? */
static gboolean
is_replicated (const WbCraftPoolReadings *self)
{
  for (guint i = 1; i < self->unit_group->len; i++)
    if (g_array_index (self->unit_group, size_t, i) == g_array_index (self->unit_group, size_t, i - 1))
      return TRUE;
  return FALSE;
}

static const WbCraftGrowth no_growth = {
  .status = WB_CRAFT_FIT_NO_READINGS,
  .pool_limit_mm = { NAN, NAN, NAN }, .tau_h = { NAN, NAN, NAN }, .full_pool_h = { NAN, NAN, NAN },
  .p_in_window = NAN, .p_never = NAN, .log_limit = NAN, .log_tau = NAN, .var_limit = NAN, .var_tau = NAN, .cov = NAN,
  .df = NAN, .sample_sd = NAN, .burn_sd = NAN, .noise_mm = NAN, .at_wall_h = NAN,
};

static WbCraftFitStatus
status_of (const WbCalcGrowthGroup *group)
{
  switch (group->status)
    {
    case WB_CALC_OK: return group->n_units > 1 ? WB_CRAFT_FIT_OK : WB_CRAFT_FIT_ONE_SAMPLE;
    case WB_CALC_ONLY_CENSORED: return WB_CRAFT_FIT_ALL_AT_WALL;
    case WB_CALC_NOT_CONVERGED: return WB_CRAFT_FIT_FAILED;
    case WB_CALC_BAD_INPUT:
    case WB_CALC_TOO_FEW:
    case WB_CALC_FLAT:
    case WB_CALC_ALL_SAME:
    case WB_CALC_UNIDENTIFIED:
    case WB_CALC_CANCELLED:
    case WB_CALC_NO_MEMORY:
    default: return WB_CRAFT_FIT_TOO_FEW;
    }
}

static WbCraftInterval
log_interval (double mean,
              double variance,
              double df)
{
  double half = wb_calc_student_quantile (1 - (1 - COVERAGE) / 2, df) * sqrt (variance);

  if (isnan (half))
    return (WbCraftInterval) { exp (mean), NAN, NAN };
  return (WbCraftInterval) { exp (mean), exp (mean - half), exp (mean + half) };
}

static double
due_h (const WbDataset *data,
       guint            cell,
       WbStage          stage)
{
  return wb_craft_vessel_due_h (wb_dataset_get_vessel (data, cell), stage);
}

/* Chance that the next candle poured has a full melt pool inside the protocol's window. */
static double
chance_in_window (const WbDataset         *data,
                  const WbCalcGrowthGroup *group,
                  guint                    cell,
                  WbStage                  stage)
{
  double inner = wb_craft_vessel_inner_mm (wb_dataset_get_vessel (data, cell), stage);
  double low = (data->protocol != NULL ? data->protocol->window_low : 0.75) * due_h (data, cell, stage);
  double high = (data->protocol != NULL ? data->protocol->window_high : 1.25) * due_h (data, cell, stage);
  double spread = isnan (group->between_units_sd) ? 0 : group->between_units_sd;
  double chi[N_CHI];
  guint inside = 0;

  for (guint i = 0; i < N_CHI; i++)
    chi[i] = isinf (group->df) ? 1 : sqrt (group->df / wb_calc_chisq_quantile ((i + 0.5) / N_CHI, group->df));
  for (guint block = 0; block * WB_CALC_RANDOM_BLOCK < DRAWS; block++)
    {
      WbCalcRandom random;

      wb_calc_random_init (&random, SEED, block);
      for (guint i = 0; i < WB_CALC_RANDOM_BLOCK; i++)
        {
          double level, tau, t;
          double z_level = wb_calc_random_normal (&random);
          double z_pace = wb_calc_random_normal (&random);
          double z_new = wb_calc_random_normal (&random);

          if (wb_calc_growth_draw (group, WB_CALC_GROWTH_MEAN, z_level, z_pace,
                                   chi[wb_calc_random_below (&random, N_CHI)], 0, &level, &tau) != WB_CALC_OK)
            return NAN;
          t = wb_craft_growth_time (level * exp (spread * z_new), tau, inner);
          inside += t >= low && t <= high;
        }
    }
  return (double) inside / DRAWS;
}

/*
 * What a fit of a wide spread leaves to "never" is ruled out where every burn was
 * seen at the wall: the rest of the chance is the whole of it.
 */
static void
rule_out_never (const WbCalcGrowthGroup *group,
                double                   inner,
                WbCraftGrowth           *growth)
{
  double never = growth->p_never, below = never + (1 - COVERAGE) / 2 * (1 - never);
  WbCalcGrowthTime time;

  if (!(never > 0) || below >= 0.5
      || wb_calc_growth_time_to (group, inner, WB_CALC_GROWTH_MEAN, 1 - 2 * below, SEED, 0, &time) != WB_CALC_OK)
    return;
  growth->full_pool_h.high = time.high_never ? growth->full_pool_h.high : time.high;
  growth->p_in_window = MIN (growth->p_in_window / (1 - never), 1);
  growth->p_never = 0;
}

static void
foretell (const WbDataset         *data,
          const WbCalcGrowthGroup *group,
          guint                    cell,
          WbStage                  stage,
          gboolean                 always,
          WbCraftGrowth           *growth)
{
  double inner = wb_craft_vessel_inner_mm (wb_dataset_get_vessel (data, cell), stage);
  WbCalcGrowthTime time;

  if (wb_calc_growth_time_to (group, inner, WB_CALC_GROWTH_MEAN, COVERAGE, SEED, 0, &time) != WB_CALC_OK)
    return;
  growth->p_never = time.p_never;
  growth->full_pool_h = (WbCraftInterval) {
    time.never ? NAN : time.value, time.low_never ? NAN : time.low, time.high_never ? NAN : time.high
  };
  growth->p_in_window = chance_in_window (data, group, cell, stage);
  if (always)
    rule_out_never (group, inner, growth);
}

static void
fill (const WbDataset         *data,
      const WbCalcGrowthGroup *group,
      guint                    cell,
      WbStage                  stage,
      gboolean                 always,
      WbCraftGrowth           *growth)
{
  growth->status = status_of (group);
  growth->samples = group->n_units;
  growth->burns = group->n_runs;
  growth->readings = group->n_readings;
  growth->censored = group->n_censored;
  growth->sample_sd = group->between_units_sd;
  growth->burn_sd = group->between_runs_sd;
  growth->noise_mm = group->sigma;
  if (growth->status == WB_CRAFT_FIT_ALL_AT_WALL)
    {
      growth->pool_limit_mm.low = group->lower_bound;
      growth->full_pool_h.high = growth->at_wall_h;
      growth->p_never = 0;
      growth->p_in_window = NAN;
      return;
    }
  growth->log_limit = group->log_level;
  growth->log_tau = group->log_pace;
  growth->var_limit = group->var_log_level;
  growth->var_tau = group->var_log_pace;
  growth->cov = group->cov;
  growth->df = group->df;
  if (!isnan (group->log_level))
    growth->pool_limit_mm = log_interval (group->log_level, group->var_log_level, group->df);
  if (!isnan (group->log_pace))
    growth->tau_h = log_interval (group->log_pace, group->var_log_pace, group->df);
  foretell (data, group, cell, stage, always, growth);
}

/* No fit at all: what was read is told, and that no curve came of it. */
static void
tell_failed (const WbCraftPoolReadings *readings,
             WbCraftGrowth             *growth)
{
  for (guint i = 0; i < readings->unit_group->len; i++)
    growth[g_array_index (readings->unit_group, size_t, i)].samples++;
  for (guint i = 0; i < readings->run_unit->len; i++)
    growth[g_array_index (readings->unit_group, size_t, g_array_index (readings->run_unit, size_t, i))].burns++;
  for (guint i = 0; i < readings->run->len; i++)
    {
      size_t unit = g_array_index (readings->run_unit, size_t, g_array_index (readings->run, size_t, i));
      WbCraftGrowth *of_cell = &growth[g_array_index (readings->unit_group, size_t, unit)];

      of_cell->readings++;
      of_cell->censored += g_array_index (readings->censored, bool, i);
      of_cell->status = WB_CRAFT_FIT_FAILED;
    }
}

/* The two kinds of keep-going differ by the progress told. */
typedef struct
{
  WbCraftKeepGoing keep_going;
  gpointer         user;
  double           done;
  gboolean         stopped;
} Going;

static bool
on_keep_going (void *user)
{
  Going *going = user;

  if (going->keep_going != NULL && !going->keep_going (going->done, going->user))
    going->stopped = TRUE;
  return !going->stopped;
}

gboolean
wb_craft_growth_estimate (const WbDataset      *data,
                          const WbCraftFigures *figures,
                          WbStage               stage,
                          WbCraftSpread         earlier,
                          WbCraftKeepGoing      keep_going,
                          gpointer              user,
                          double                done,
                          WbCraftGrowth        *growth)
{
  guint n_cells = data->cells->len;
  Going going = { keep_going, user, done, FALSE };
  WbCalcGrowthPool pool = { 0 };
  WbCalcGrowthPrior prior;
  WbCraftPoolReadings readings;

  wb_craft_pool_readings_init (&readings, n_cells);
  wb_craft_pool_readings_gather (&readings, data, figures, stage, G_MAXUINT);
  if (readings.t->len > 0)
    {
      WbCalcGrowthData columns = {
        .n_readings = readings.t->len,
        .t = (const double *) readings.t->data,
        .y = (const double *) readings.y->data,
        .censored = (const bool *) readings.censored->data,
        .run = (const size_t *) readings.run->data,
        .n_runs = readings.run_unit->len,
        .run_unit = (const size_t *) readings.run_unit->data,
        .n_units = readings.unit_group->len,
        .unit_group = (const size_t *) readings.unit_group->data,
        .n_groups = n_cells,
      };

      prior = choose_prior (earlier, is_replicated (&readings));
      wb_calc_growth_fit_pooled (&columns, &prior, on_keep_going, &going, &pool);
    }
  for (guint cell = 0; cell < n_cells; cell++)
    {
      growth[cell] = no_growth;
      growth[cell].at_wall_h = readings.wall_n[cell] > 0 ? readings.wall_sum[cell] / readings.wall_n[cell] : NAN;
      if (pool.groups != NULL && pool.groups[cell].n_readings > 0)
        fill (data, &pool.groups[cell], cell, stage, readings.wall_n[cell] >= pool.groups[cell].n_runs, &growth[cell]);
      else if (readings.held[cell] > 0)
        growth[cell].status = WB_CRAFT_FIT_HELD;
    }
  if (pool.groups == NULL)
    tell_failed (&readings, growth);
  wb_calc_growth_pool_clear (&pool);
  wb_craft_pool_readings_clear (&readings);
  return !going.stopped;
}

/* What calc's functions on a fitted group need of it. */
static WbCalcGrowthGroup
as_group (const WbCraftGrowth *growth)
{
  return (WbCalcGrowthGroup) {
    .status = WB_CALC_OK,
    .log_level = growth->log_limit, .log_pace = growth->log_tau,
    .var_log_level = growth->var_limit, .var_log_pace = growth->var_tau, .cov = growth->cov, .df = growth->df,
    .sigma = growth->noise_mm, .between_units_sd = growth->sample_sd, .between_runs_sd = growth->burn_sd,
    .lower_bound = NAN,
  };
}

double
wb_craft_growth_at (const WbCraftGrowth *growth,
                    double               t_h)
{
  return wb_calc_growth_value (exp (growth->log_limit), exp (growth->log_tau), t_h);
}

WbCraftInterval
wb_craft_growth_band (const WbCraftGrowth *growth,
                      double               t_h)
{
  WbCalcGrowthGroup group = as_group (growth);
  WbCraftInterval band = WB_CRAFT_INTERVAL_NONE;

  if (isnan (growth->log_limit) || isnan (growth->log_tau)
      || wb_calc_growth_at (&group, t_h, WB_CALC_GROWTH_MEAN, COVERAGE, &band.value, &band.low, &band.high) != WB_CALC_OK)
    return WB_CRAFT_INTERVAL_NONE;
  return band;
}

gboolean
wb_craft_growth_draw (const WbCraftGrowth *growth,
                      double               z_level,
                      double               z_pace,
                      double               chi,
                      double              *level_mm,
                      double              *tau_h)
{
  WbCalcGrowthGroup group = as_group (growth);

  return !isnan (growth->log_limit) && !isnan (growth->log_tau)
         && wb_calc_growth_draw (&group, WB_CALC_GROWTH_MEAN, z_level, z_pace, chi, 0, level_mm, tau_h) == WB_CALC_OK;
}

static const struct { const char *key, *label; } statuses[] = {
  [WB_CRAFT_FIT_OK] = { "ok", N_("fitted") },
  [WB_CRAFT_FIT_NO_READINGS] = { "no_readings", N_("no pool was read") },
  [WB_CRAFT_FIT_TOO_FEW] = { "too_few", N_("the readings cannot carry a curve") },
  [WB_CRAFT_FIT_ALL_AT_WALL] = { "all_at_wall", N_("every reading is at the wall: only a lower bound is known") },
  [WB_CRAFT_FIT_ONE_SAMPLE] = { "one_sample",
    N_("fitted on one sample: the spread between samples comes from the others, or from a stated prior") },
  [WB_CRAFT_FIT_HELD] = { "held", N_("every pool is held by an earlier ring") },
  [WB_CRAFT_FIT_FAILED] = { "failed", N_("no curve was found that fits") },
};

const char *
wb_craft_fit_status_get_key (WbCraftFitStatus status)
{
  g_return_val_if_fail (status < G_N_ELEMENTS (statuses), "unknown");
  return statuses[status].key;
}

const char *
wb_craft_fit_status_get_label (WbCraftFitStatus status)
{
  g_return_val_if_fail (status < G_N_ELEMENTS (statuses), "");
  return _(statuses[status].label);
}
