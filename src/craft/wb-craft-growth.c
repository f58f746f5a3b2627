/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-growth-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-calc-growth.h"
#include "wb-calc-quantile.h"
#include "wb-craft-means-private.h"
#include "wb-craft-pool-readings-private.h"
#include "wb-craft-vessel-private.h"

#define COVERAGE 0.9
#define LOOSE_PACE_SD 0.3  /* of ln tau: from here on a curve that is drawn straight from its estimate no longer runs through the readings */
#define DRAWS 1024         /* of a chance that the next candle is told by */
#define SEED 1             /* of intervals: the same data give the same interval */

/*
 * Opinions on the spreads, no source: between candles of a recipe 4 % of the limit,
 * between burns of a candle 2.5 %, of the pace between recipes of a vessel 5 %, of a
 * recipe from the sum of its row and column 3 %, of a wick from the line of its
 * series 5 %; each log-normal, known to the factor beside it. Then on the common pace,
 * on the trend with each burn, and on a kelvin of room.
 */
#define SAMPLE_SD 0.04
#define BURN_SD 0.025
#define PACE_SD 0.05
#define CELL_SD 0.03
#define WICK_SD 0.05
#define FACTOR 3.0
#define ALONE_FACTOR 2.0   /* of the spread between candles where no recipe has a second one */
#define DEVIATION_FACTOR 2.5
#define COMMON_PACE_SD 1.0
#define TREND_SD 0.02
#define ROOM_SD 0.01
#define READING_SD_MM 1.0  /* of a pool by a ruler, where the readings are too few to tell it */
#define N_COVARIATES WB_CRAFT_MEANS_N_COVARIATES

double
wb_craft_growth_time (double level_mm,
                      double tau_h,
                      double exponent,
                      double diameter_mm)
{
  return wb_calc_growth_bent_time (level_mm, tau_h, exponent, diameter_mm);
}

WbCraftSpread
wb_craft_growth_get_usual (void)
{
  return (WbCraftSpread) { SAMPLE_SD, FACTOR };
}

static WbCalcGrowthPrior
choose_prior (WbCraftSpread earlier,
              gboolean      replicated)
{
  WbCalcGrowthPrior prior = {
    .between_units = { SAMPLE_SD, FACTOR },
    .between_runs = { BURN_SD, FACTOR },
    .between_paces = { PACE_SD, DEVIATION_FACTOR },
    .between_groups = { CELL_SD, DEVIATION_FACTOR },
    .of_columns = { WICK_SD, DEVIATION_FACTOR },
    .pace_sd = COMMON_PACE_SD,
    .reading_sd = READING_SD_MM,
  };

  if (!replicated)
    prior.between_units.factor = ALONE_FACTOR;
  if (!replicated && earlier.factor > 0)
    prior.between_units = (WbCalcGrowthSpread) { earlier.median, earlier.factor };
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
  .exponent = NAN, .df = NAN, .df_tau = NAN, .sample_sd = NAN, .burn_sd = NAN, .noise_mm = NAN, .at_wall_h = NAN, .short_h = NAN,
};

static WbCraftFitStatus
status_of (const WbCalcGrowthGroup *group,
           gboolean                 replicated,
           gboolean                 earlier)
{
  switch (group->status)
    {
    case WB_CALC_OK:
      if (!replicated)
        return earlier ? WB_CRAFT_FIT_EARLIER : WB_CRAFT_FIT_STATED;
      if (group->n_units == 1)
        return WB_CRAFT_FIT_ONE_SAMPLE;
      return group->exponent == 1 ? WB_CRAFT_FIT_OK : WB_CRAFT_FIT_BENT;
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

static double
window_low (const WbDataset *data)
{
  return data->protocol != NULL ? data->protocol->window_low : 0.75;
}

/* Chance that the next candle poured has a full melt pool inside the protocol's window; one a cell. */
static void
find_chances_in_window (const WbDataset        *data,
                        const WbCalcGrowthPool *pool,
                        const guint            *cells,
                        guint                   n,
                        WbStage                 stage,
                        double                 *chances)
{
  g_autofree gsize *asked = g_new (gsize, MAX (n, 1));
  g_autofree double *levels = g_new (double, (gsize) DRAWS * MAX (n, 1)), *paces = g_new (double, (gsize) DRAWS * MAX (n, 1));
  g_autofree double *units = g_new (double, DRAWS);
  double share_low = window_low (data);
  double share_high = data->protocol != NULL ? data->protocol->window_high : 1.25;

  for (guint i = 0; i < n; i++)
    {
      asked[i] = cells[i];
      chances[i] = NAN;
    }
  if (wb_calc_growth_pool_draw (pool, asked, n, SEED, DRAWS, NULL, levels, paces, units, NULL) != WB_CALC_OK)
    return;
  for (guint i = 0; i < n; i++)
    {
      const WbVessel *vessel = wb_dataset_get_vessel (data, cells[i]);
      double inner = wb_craft_vessel_inner_mm (vessel, stage), due = due_h (data, cells[i], stage), inside = 0;

      for (guint k = 0; k < DRAWS; k++)
        {
          double tau = exp (paces[k * n + i]);
          /* the levels at which the pool comes just at either end of the window */
          double slow = inner / wb_calc_growth_bent_value (1, tau, pool->exponent, share_high * due);
          double quick = inner / wb_calc_growth_bent_value (1, tau, pool->exponent, share_low * due);

          inside += wb_calc_normal_below ((log (quick) - levels[k * n + i]) / units[k])
                    - wb_calc_normal_below ((log (slow) - levels[k * n + i]) / units[k]);
        }
      chances[i] = inside / DRAWS;
    }
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
  if (always)
    rule_out_never (group, inner, growth);
}

/*
 * Every burn was seen at the wall, but the curve is loose: when it came there is known from the readings themselves, as
 * between the last one short of it and the first one at it.
 */
static void
tell_bracket (WbCraftGrowth *growth)
{
  double value = growth->full_pool_h.value;

  growth->full_pool_h = (WbCraftInterval) { isnan (value) ? NAN : CLAMP (value, growth->short_h, growth->at_wall_h), growth->short_h, growth->at_wall_h };
  growth->p_never = 0;
}

/* early: every reading at the wall, the first of them before the window opens. */
static void
fill (const WbDataset         *data,
      const WbCalcGrowthGroup *group,
      guint                    cell,
      WbStage                  stage,
      gboolean                 always,
      WbCraftFitStatus         status,
      gboolean                 early,
      WbCraftGrowth           *growth)
{
  growth->status = status;
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
      growth->p_in_window = early ? 0 : NAN;
      return;
    }
  if (group->status == WB_CALC_UNIDENTIFIED)
    {
      /* a factor of two or more either way is no figure: the status says so, and what the readings say without a curve */
      growth->p_in_window = NAN;
      if (always)
        {
          growth->pool_limit_mm.low = group->lower_bound;
          tell_bracket (growth);
        }
      return;
    }
  growth->log_limit = group->log_level;
  growth->log_tau = group->log_pace;
  growth->var_limit = group->var_log_level;
  growth->var_tau = group->var_log_pace;
  growth->cov = group->cov;
  growth->df = group->df;
  growth->df_tau = group->df_pace;
  growth->exponent = group->exponent;
  if (!isnan (group->log_level))
    growth->pool_limit_mm = log_interval (group->log_level, group->var_log_level, group->df);
  if (!isnan (group->log_pace))
    growth->tau_h = log_interval (group->log_pace, group->var_log_pace, group->df_pace);
  foretell (data, group, cell, stage, always, growth);
  if (always && group->var_log_pace > LOOSE_PACE_SD * LOOSE_PACE_SD)
    tell_bracket (growth);
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

/* Mean over the runs of what is known of it. */
static double
mean_of_runs (const WbCraftPoolReadings *readings,
              const double              *covariates,
              guint                      column)
{
  double sum = 0;
  guint n = 0;

  for (guint run = 0; run < readings->run_unit->len; run++)
    if (!isnan (covariates[run * N_COVARIATES + column]))
      {
        sum += covariates[run * N_COVARIATES + column];
        n++;
      }
  return n > 0 ? sum / n : 0;
}

/* Burn number and room of each run, less their means; what is not known stands at the mean. */
static double *
make_covariates (const WbDataset           *data,
                 const WbCraftFigures      *figures,
                 const WbCraftPoolReadings *readings)
{
  guint n = readings->run_unit->len;
  double *covariates = g_new (double, (gsize) MAX (n, 1) * N_COVARIATES);

  for (guint run = 0; run < n; run++)
    {
      const WbCraftBurn *burn = &figures->burns[g_array_index (readings->run_burn, guint, run)];

      covariates[run * N_COVARIATES] = wb_dataset_get_burn (data, burn->burn)->number;
      covariates[run * N_COVARIATES + 1] = burn->room_c;
    }
  for (guint column = 0; column < N_COVARIATES; column++)
    {
      double mean = mean_of_runs (readings, covariates, column);

      for (guint run = 0; run < n; run++)
        {
          double *value = &covariates[run * N_COVARIATES + column];

          *value = isnan (*value) ? 0 : *value - mean;
        }
    }
  return covariates;
}

typedef struct
{
  const WbCalcGrowthData  *growth;
  const WbCalcGrowthPrior *prior;
  Going                   *going;
} Question;

static void
pool_free (gpointer data)
{
  wb_calc_growth_pool_clear (data);
  g_free (data);
}

static gpointer
answer_question (gpointer  data,
                 gboolean *stopped)
{
  const Question *question = data;
  WbCalcGrowthPool *pool = g_new0 (WbCalcGrowthPool, 1);

  wb_calc_growth_fit_pooled (question->growth, question->prior, on_keep_going, question->going, pool);
  *stopped = question->going->stopped;
  return pool;
}

/* All that a pooled fit rests on. */
static GByteArray *
put_question (const WbCalcGrowthData  *growth,
              const WbCalcGrowthPrior *prior,
              const WbCraftColumns    *columns)
{
  GByteArray *bytes = g_byte_array_new ();

  wb_craft_question_add (bytes, "growth", 6);
  wb_craft_question_add (bytes, growth->t, growth->n_readings * sizeof *growth->t);
  wb_craft_question_add (bytes, growth->y, growth->n_readings * sizeof *growth->y);
  wb_craft_question_add (bytes, growth->censored, growth->n_readings * sizeof *growth->censored);
  wb_craft_question_add (bytes, growth->run, growth->n_readings * sizeof *growth->run);
  wb_craft_question_add (bytes, growth->run_unit, growth->n_runs * sizeof *growth->run_unit);
  wb_craft_question_add (bytes, growth->unit_group, growth->n_units * sizeof *growth->unit_group);
  wb_craft_question_add (bytes, growth->group_pace, growth->n_groups * sizeof *growth->group_pace);
  wb_craft_question_add (bytes, growth->run_covariate, growth->n_runs * growth->n_covariates * sizeof *growth->run_covariate);
  wb_craft_question_add (bytes, prior, sizeof *prior);
  wb_craft_question_add_columns (bytes, columns);
  return bytes;
}

/* Where a cell is told: at the mean of its own burns' numbers, for a wick that burns out sooner has fewer; in the mean room of all. */
static double *
mean_covariates (const WbCraftPoolReadings *readings,
                 const double              *covariates,
                 guint                      n_cells)
{
  double *means = g_new0 (double, (gsize) MAX (n_cells, 1) * N_COVARIATES);
  g_autofree guint *n = g_new0 (guint, MAX (n_cells, 1));

  for (guint pass = 0; pass < 2; pass++)
    for (guint run = 0; run < readings->run_unit->len; run++)
      {
        gsize cell = g_array_index (readings->unit_group, gsize, g_array_index (readings->run_unit, gsize, run));

        if (pass == 0)
          n[cell]++;
        else
          means[cell * N_COVARIATES] += covariates[run * N_COVARIATES] / n[cell];
      }
  return means;
}

/* The pooled fit of the readings, the memo's; columns NULL: each cell for itself. False: stopped. */
static gboolean
fit_pools (WbCraftMemo               *memo,
           const WbDataset           *data,
           const WbCraftFigures      *figures,
           const WbCraftPoolReadings *readings,
           const WbCraftColumns      *columns,
           WbCraftSpread              earlier,
           Going                     *going,
           WbCalcGrowthPool          *pool)
{
  static const double covariate_sd[N_COVARIATES] = { TREND_SD, ROOM_SD };
  g_autofree double *covariates = make_covariates (data, figures, readings);
  g_autofree double *of_cells = mean_covariates (readings, covariates, data->cells->len);
  g_auto (WbCraftColumns) vessels = { 0 };
  WbCalcGrowthPrior prior = choose_prior (earlier, is_replicated (readings));
  WbCalcGrowthData growth = {
    .n_readings = readings->t->len,
    .t = (const double *) readings->t->data,
    .y = (const double *) readings->y->data,
    .censored = (const bool *) readings->censored->data,
    .run = (const size_t *) readings->run->data,
    .n_runs = readings->run_unit->len,
    .run_unit = (const size_t *) readings->run_unit->data,
    .n_units = readings->unit_group->len,
    .unit_group = (const size_t *) readings->unit_group->data,
    .n_groups = data->cells->len,
    .n_covariates = N_COVARIATES, .run_covariate = covariates, .group_covariate = of_cells, .covariate_sd = covariate_sd,
    .may_bend = TRUE,
  };

  wb_craft_columns_init (&vessels, data);
  growth.n_paces = vessels.n_vessels;
  growth.group_pace = vessels.vessel;
  if (columns != NULL)
    {
      growth.borrow = TRUE;
      growth.n_columns = columns->n;
      growth.group_column = columns->cell;
      growth.column_sd = columns->sd;
    }

  Question question = { &growth, &prior, going };
  const WbCalcGrowthPool *kept = wb_craft_memo_get (memo, put_question (&growth, &prior, columns), answer_question, &question, pool_free);

  if (kept != NULL)
    *pool = *kept;
  return kept != NULL;
}

static void
fill_chances (const WbDataset        *data,
              const WbCalcGrowthPool *pool,
              WbStage                 stage,
              WbCraftGrowth          *growth)
{
  g_autofree guint *cells = g_new (guint, MAX (pool->n_groups, 1));
  g_autofree double *chances = g_new (double, MAX (pool->n_groups, 1));
  guint n = 0;

  for (guint cell = 0; cell < pool->n_groups; cell++)
    if (pool->groups[cell].status == WB_CALC_OK || pool->groups[cell].status == WB_CALC_UNIDENTIFIED)
      cells[n++] = cell;
  find_chances_in_window (data, pool, cells, n, stage, chances);
  for (guint i = 0; i < n; i++)
    growth[cells[i]].p_in_window = chances[i];
}

gboolean
wb_craft_growth_estimate (WbCraftMemo          *memo,
                          const WbDataset      *data,
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
  WbCraftPoolReadings readings;

  wb_craft_pool_readings_init (&readings, n_cells);
  wb_craft_pool_readings_gather (&readings, data, figures, stage, G_MAXUINT);
  if (readings.t->len > 0)
    fit_pools (memo, data, figures, &readings, NULL, earlier, &going, &pool);
  for (guint cell = 0; cell < n_cells; cell++)
    growth[cell] = no_growth;
  if (pool.groups != NULL && on_keep_going (&going))
    fill_chances (data, &pool, stage, growth);
  /* each cell's own draws take their time where there are many */
  for (guint cell = 0; cell < n_cells && on_keep_going (&going); cell++)
    {
      growth[cell].at_wall_h = readings.wall_n[cell] > 0 ? readings.wall_sum[cell] / readings.wall_n[cell] : NAN;
      growth[cell].short_h = readings.wall_n[cell] > 0 ? readings.short_sum[cell] / readings.wall_n[cell] : NAN;
      if (pool.groups != NULL && pool.groups[cell].n_readings > 0)
        fill (data, &pool.groups[cell], cell, stage, readings.wall_n[cell] >= pool.groups[cell].n_runs,
              status_of (&pool.groups[cell], is_replicated (&readings), earlier.factor > 0),
              growth[cell].at_wall_h <= window_low (data) * due_h (data, cell, stage), &growth[cell]);
      else if (readings.held[cell] > 0)
        growth[cell].status = WB_CRAFT_FIT_HELD;
      else if (readings.zero[cell] > 0)
        growth[cell].status = WB_CRAFT_FIT_NO_POOL;
    }
  if (pool.groups == NULL)
    tell_failed (&readings, growth);
  wb_craft_pool_readings_clear (&readings);
  return !going.stopped;
}

struct _WbCraftPools
{
  WbCraftMemo     *memo;
  WbCalcGrowthPool pool;        /* the memo's */
  GArray          *unit_sample;
};

WbCraftPools *
wb_craft_pools_new (WbCraftMemo          *memo,
                    const WbDataset      *data,
                    const WbCraftFigures *figures,
                    WbStage               stage,
                    const WbCraftColumns *columns,
                    WbCraftSpread         earlier,
                    WbCraftKeepGoing      keep_going,
                    gpointer              user)
{
  g_autoptr (WbCraftPools) self = g_new0 (WbCraftPools, 1);
  Going going = { keep_going, user, 0, FALSE };
  WbCraftPoolReadings readings;
  gboolean fitted;

  self->memo = wb_craft_memo_ref (memo);
  wb_craft_pool_readings_init (&readings, data->cells->len);
  wb_craft_pool_readings_gather (&readings, data, figures, stage, G_MAXUINT);
  fitted = readings.t->len > 0 && fit_pools (memo, data, figures, &readings, columns, earlier, &going, &self->pool)
           && self->pool.model != NULL && !isnan (self->pool.exponent);
  self->unit_sample = g_array_ref (readings.unit_sample);
  wb_craft_pool_readings_clear (&readings);
  return fitted ? g_steal_pointer (&self) : NULL;
}

void
wb_craft_pools_free (WbCraftPools *self)
{
  if (self == NULL)
    return;
  wb_craft_memo_unref (self->memo);
  g_clear_pointer (&self->unit_sample, g_array_unref);
  g_free (self);
}

double *
wb_craft_pools_dup_deviations (const WbCraftPools *self,
                               guint               n_samples)
{
  double *deviations = g_new (double, MAX (n_samples, 1));

  for (guint i = 0; i < n_samples; i++)
    deviations[i] = NAN;
  for (guint unit = 0; unit < self->unit_sample->len; unit++)
    deviations[g_array_index (self->unit_sample, guint, unit)] = wb_calc_growth_pool_get_unit (&self->pool, unit);
  return deviations;
}

double
wb_craft_pools_get_exponent (const WbCraftPools *self)
{
  return self->pool.exponent;
}

gsize
wb_craft_pools_get_n_deviates (const WbCraftPools *self,
                               gsize              *n_shared,
                               gsize              *n_local)
{
  return wb_calc_growth_pool_n_deviates (&self->pool, n_shared, n_local);
}

gboolean
wb_craft_pools_draw (const WbCraftPools *self,
                     guint64             seed,
                     guint               n_draws,
                     const double       *z,
                     double             *levels,
                     double             *paces,
                     double             *sample_sd,
                     double             *burn_sd)
{
  g_autofree gsize *asked = g_new (gsize, MAX (self->pool.n_groups, 1));

  for (gsize cell = 0; cell < self->pool.n_groups; cell++)
    asked[cell] = cell;
  return wb_calc_growth_pool_draw (&self->pool, asked, levels != NULL ? self->pool.n_groups : 0, seed, n_draws, z, levels, paces, sample_sd, burn_sd)
         == WB_CALC_OK;
}

void
wb_craft_pools_get (const WbCraftPools *self,
                    guint               cell,
                    double             *log_limit,
                    double             *log_tau,
                    guint              *samples,
                    guint              *burns)
{
  const WbCalcGrowthGroup *group = &self->pool.groups[cell];
  gboolean stands = group->status == WB_CALC_OK;

  *log_limit = stands ? group->log_level : NAN;
  *log_tau = stands ? group->log_pace : NAN;
  *samples = group->n_units;
  *burns = group->n_runs;
}

gboolean
wb_craft_pools_contrast (const WbCraftPools   *self,
                         const double         *of_limit,
                         const double         *of_tau,
                         WbCalcGrowthContrast *contrast)
{
  g_autofree gsize *asked = g_new (gsize, MAX (self->pool.n_groups, 1));
  g_autofree double *limits = g_new (double, MAX (self->pool.n_groups, 1)), *taus = g_new (double, MAX (self->pool.n_groups, 1));
  gsize n = 0;

  for (gsize cell = 0; cell < self->pool.n_groups; cell++)
    if (of_limit[cell] != 0 || of_tau[cell] != 0)
      {
        asked[n] = cell;
        limits[n] = of_limit[cell];
        taus[n++] = of_tau[cell];
      }
  return wb_calc_growth_pool_contrast (&self->pool, asked, limits, taus, n, contrast) == WB_CALC_OK;
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
    .exponent = growth->exponent,
    .lower_bound = NAN,
  };
}

double
wb_craft_growth_at (const WbCraftGrowth *growth,
                    double               t_h)
{
  return wb_calc_growth_bent_value (exp (growth->log_limit), exp (growth->log_tau), growth->exponent > 0 ? growth->exponent : 1, t_h);
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
  [WB_CRAFT_FIT_BENT] = { "bent", N_("fitted; the pools of this experiment grow along a bent curve") },
  [WB_CRAFT_FIT_NO_READINGS] = { "no_readings", N_("no pool was read") },
  [WB_CRAFT_FIT_TOO_FEW] = { "too_few", N_("the readings cannot carry a curve") },
  [WB_CRAFT_FIT_ALL_AT_WALL] = { "all_at_wall", N_("every reading is at the wall: only a lower bound is known") },
  [WB_CRAFT_FIT_ONE_SAMPLE] = { "one_sample",
    N_("fitted on one sample: the spread between samples comes from the other combinations") },
  [WB_CRAFT_FIT_EARLIER] = { "spread_from_earlier",
    N_("fitted; no combination has a second sample: the spread between samples comes from the notebook's other experiments") },
  [WB_CRAFT_FIT_STATED] = { "spread_stated",
    /* xgettext:no-c-format */ N_("fitted; no combination has a second sample: a spread between samples of about 4 % is assumed, give or take a factor of two") },
  [WB_CRAFT_FIT_HELD] = { "held", N_("every pool is held by an earlier ring") },
  [WB_CRAFT_FIT_NO_POOL] = { "no_pool", N_("no melt pool formed: every one was read as 0") },
  [WB_CRAFT_FIT_FAILED] = { "failed", N_("no curve was found that fits") },
};

gboolean
wb_craft_fit_status_is_fitted (WbCraftFitStatus status)
{
  return status == WB_CRAFT_FIT_OK || status == WB_CRAFT_FIT_BENT || status == WB_CRAFT_FIT_ONE_SAMPLE
         || status == WB_CRAFT_FIT_EARLIER || status == WB_CRAFT_FIT_STATED;
}

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
