/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-sample-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-calc-growth.h"
#include "wb-craft-aims-private.h"
#include "wb-craft-burn-private.h"
#include "wb-craft-growth-private.h"
#include "wb-craft-pool-readings-private.h"
#include "wb-craft-vessel-private.h"

/* Where the burns of each sample begin: they stand together. G_MAXUINT: it has none. */
static guint *
find_first_burns (const WbDataset      *data,
                  const WbCraftFigures *figures)
{
  guint *first = g_new (guint, MAX (data->samples->len, 1));

  for (guint i = 0; i < data->samples->len; i++)
    first[i] = G_MAXUINT;
  for (guint i = figures->n_burns; i-- > 0;)
    first[figures->burns[i].sample] = i;
  return first;
}

/* Mean over the burns of a sample, from `first` on, that speak of the figure; NAN without one. */
static double
mean_of_burns (const WbDataset      *data,
               const WbCraftFigures *figures,
               guint                 first,
               WbFigure              figure,
               WbStage               stage,
               gboolean              worst)
{
  double sum = 0;
  guint n = 0;

  for (guint i = first; i < figures->n_burns && figures->burns[i].sample == figures->burns[first].sample; i++)
    {
      const WbCraftBurn *burn = &figures->burns[i];
      double value = wb_craft_burn_get (burn, figure, worst);

      if (isnan (value) || (stage != WB_STAGE_ALL && burn->stage != stage)
          || !wb_craft_burn_speaks (data, burn, figure))
        continue;
      sum += value;
      n++;
    }
  return n > 0 ? sum / n : NAN;
}

/* Curves of the samples, NAN where there is none. */
typedef struct
{
  double *level;  /* mm, a sample of the data set each */
  double *tau;    /* h */
  double *exponent;
} Curves;

static void
curves_clear (Curves *self)
{
  g_free (self->level);
  g_free (self->tau);
  g_free (self->exponent);
}

/* One pooled fit in which every sample is a group of its own: where its readings alone cannot tell its pace, the others' does. */
static void
curves_init (Curves               *self,
             const WbDataset      *data,
             const WbCraftFigures *figures,
             WbStage               stage)
{
  g_autofree size_t *own_group = NULL;
  WbCraftPoolReadings readings;
  WbCalcGrowthPool pool = { 0 };

  self->level = g_new (double, MAX (data->samples->len, 1));
  self->tau = g_new (double, MAX (data->samples->len, 1));
  self->exponent = g_new (double, MAX (data->samples->len, 1));
  for (guint i = 0; i < data->samples->len; i++)
    self->level[i] = self->tau[i] = self->exponent[i] = NAN;
  wb_craft_pool_readings_init (&readings, data->cells->len);
  wb_craft_pool_readings_gather (&readings, data, figures, stage, G_MAXUINT);
  own_group = g_new (size_t, MAX (readings.unit_group->len, 1));
  for (guint i = 0; i < readings.unit_group->len; i++)
    own_group[i] = i;
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
        .unit_group = own_group,
        .n_groups = readings.unit_group->len,
        .may_bend = TRUE,
      };

      wb_calc_growth_fit_pooled (&columns, NULL, NULL, NULL, &pool);
    }
  for (size_t i = 0; pool.groups != NULL && i < pool.n_groups; i++)
    if (pool.groups[i].status == WB_CALC_OK)
      {
        guint sample = g_array_index (readings.unit_sample, guint, i);

        self->level[sample] = exp (pool.groups[i].log_level);
        self->tau[sample] = exp (pool.groups[i].log_pace);
        self->exponent[sample] = pool.exponent;
      }
  wb_calc_growth_pool_clear (&pool);
  wb_craft_pool_readings_clear (&readings);
}

static double
growth_value (const WbDataset *data,
              const Curves    *curves,
              guint            sample,
              WbFigure         figure,
              WbStage          stage)
{
  guint cell = g_array_index (data->sample_cell, guint, sample);

  if (figure == WB_FIGURE_POOL_LIMIT)
    return curves->level[sample];
  if (figure == WB_FIGURE_TAU)
    return curves->tau[sample];
  if (isnan (curves->level[sample]) || isnan (curves->tau[sample]))
    return NAN;
  return wb_craft_growth_time (curves->level[sample], curves->tau[sample], curves->exponent[sample],
                               wb_craft_vessel_inner_mm (wb_dataset_get_vessel (data, cell),
                                                         stage == WB_STAGE_ALL ? WB_STAGE_UPPER : stage));
}

/* The value that an aim judges; a pool that is at the wall at every reading has come before the first. */
static double
aim_value (const WbDataset      *data,
           const WbCraftFigures *figures,
           const WbCraftCell    *cell,
           const Curves         *curves,
           const guint          *first_burns,
           guint                 sample,
           const WbCraftAim     *aim)
{
  double due = wb_craft_vessel_due_h (wb_dataset_get_vessel (data, cell->cell), aim->stage);
  double hours;

  if (aim->figure != WB_FIGURE_FULL_POOL)
    return mean_of_burns (data, figures, first_burns[sample], aim->figure, aim->stage, aim->worst);
  hours = growth_value (data, &curves[aim->stage], sample, WB_FIGURE_FULL_POOL, aim->stage);
  if (isnan (hours) && cell->stage_growth[aim->stage].status == WB_CRAFT_FIT_ALL_AT_WALL)
    hours = cell->stage_growth[aim->stage].at_wall_h / 2;
  return hours / due;
}

static gboolean
is_set_aside (const WbDataset *data,
              guint            sample)
{
  const WbSample *record = wb_dataset_get_sample (data, sample);

  return record->set_aside != NULL || record->set_aside_cause >= 0;
}

/* Samples that count and burnt at all. */
static guint
count_burnt (const WbDataset      *data,
             const WbCraftFigures *figures)
{
  guint last = G_MAXUINT, n = 0;

  for (guint i = 0; i < figures->n_burns; i++)
    if (wb_craft_burn_is_done (data, &figures->burns[i]) && figures->burns[i].sample != last)
      {
        last = figures->burns[i].sample;
        n++;
      }
  return n;
}

/* A figure of so few samples that a score with it would leave most of them without one. */
static void
tell_rare (const WbCraftAim *aim,
           GString          *rare)
{
  g_string_append_printf (rare, "%s%s (%s)", rare->len > 0 ? "; " : "",
                          g_dgettext (GETTEXT_PACKAGE, wb_figure_get_label (aim->figure)),
                          g_dgettext (GETTEXT_PACKAGE, wb_stage_get_label (aim->stage)));
}

/*
 * Every sample's score under the same aims: those that at least half of the burnt
 * samples have a value for. A sample that lacks one of them is not scored: its
 * score would be of another kind.
 */
static void
fill_scores (const WbDataset        *data,
             const WbCraftFigures   *figures,
             const WbCraftEstimates *estimates,
             const Curves           *curves,
             const guint            *first_burns,
             double                 *values,
             GString                *rare)
{
  g_autoptr (GArray) aims = wb_craft_aims_new (data);
  g_autofree double *own = g_new (double, MAX (data->samples->len, 1));
  guint burnt = count_burnt (data, figures);
  double weights = 0;

  for (guint i = 0; i < data->samples->len; i++)
    values[i] = is_set_aside (data, i) ? NAN : 0;
  for (guint a = 0; a < aims->len; a++)
    {
      const WbCraftAim *aim = &g_array_index (aims, WbCraftAim, a);
      guint with = 0;

      for (guint i = 0; i < data->samples->len; i++)
        {
          const WbCraftCell *cell = &estimates->cells[g_array_index (data->sample_cell, guint, i)];

          own[i] = is_set_aside (data, i) ? NAN : aim_value (data, figures, cell, curves, first_burns, i, aim);
          with += !isnan (own[i]);
        }
      if (with > 0 && 2 * with < burnt)
        tell_rare (aim, rare);
      if (with == 0 || 2 * with < burnt)
        continue;
      weights += aim->weight;
      for (guint i = 0; i < data->samples->len; i++)
        values[i] += isnan (own[i]) ? NAN : aim->weight * log (wb_calc_desirability_at (&aim->shape, own[i]));
    }
  for (guint i = 0; i < data->samples->len; i++)
    values[i] = weights > 0 ? exp (values[i] / weights) : NAN;
}

static gboolean
is_growth (WbFigure figure)
{
  return figure == WB_FIGURE_FULL_POOL || figure == WB_FIGURE_POOL_LIMIT || figure == WB_FIGURE_TAU;
}

double *
wb_craft_sample_values (const WbDataset        *data,
                        const WbCraftFigures   *figures,
                        const WbCraftEstimates *estimates,
                        WbFigure                figure,
                        GString                *rare)
{
  double *values = g_new (double, MAX (data->samples->len, 1));
  g_autofree guint *first_burns = find_first_burns (data, figures);
  Curves curves[WB_N_STAGES + 1] = { 0 };

  for (guint stage = 0; stage <= WB_N_STAGES; stage++)
    if (stage == WB_STAGE_ALL ? is_growth (figure) : figure == WB_FIGURE_SCORE)
      curves_init (&curves[stage], data, figures, stage);
  if (figure == WB_FIGURE_SCORE)
    fill_scores (data, figures, estimates, curves, first_burns, values, rare);
  else
    for (guint i = 0; i < data->samples->len; i++)
      if (is_set_aside (data, i))
        values[i] = NAN;
      else if (is_growth (figure))
        values[i] = growth_value (data, &curves[WB_STAGE_ALL], i, figure, WB_STAGE_ALL);
      else
        values[i] = mean_of_burns (data, figures, first_burns[i], figure, WB_STAGE_ALL, FALSE);
  for (guint stage = 0; stage <= WB_N_STAGES; stage++)
    curves_clear (&curves[stage]);
  return values;
}
