/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-foretell-model-private.h"

#include <math.h>

#include "wb-calc-quantile.h"
#include "wb-craft-batch.h"
#include "wb-craft-vessel-private.h"

/* Learning from earlier experiments what wb-craft-foretell.c draws from. */

#define MIDDLE_STEP 3.0
#define USUAL_INNER_MM 76.2
#define USUAL_LOAD_PCT 6.0
#define LEAST_CELLS 3
#define LONE_PACE_SD 0.15    /* of ln tau, with too few cells to see it */
#define HOUSE_FLAME_MM 50.0  /* house limits of a notebook without any */
#define HOUSE_VESSEL_C 77.0

typedef enum { COMMON, STEP, INNER, LOAD, WICKS, N_FIXED } Term;

/* Beliefs before any data, on the logarithm: mean and spread of each common term, of series, series × step and wax; and of the rest. No source. */
typedef struct
{
  double mean[N_FIXED], sd[N_FIXED];
  double series_sd, slope_sd, wax_sd;
  double rest_sd;
} Belief;

static const Belief beliefs[WB_CRAFT_N_ANSWERS] = {
  [WB_CRAFT_ANSWER_LIMIT] = { { 4.4, 0.06, 0, -0.003, 0.5 }, { 0.5, 0.05, 0.3, 0.01, 0.2 }, 0.15, 0.03, 0.08, 0.04 },
  [WB_CRAFT_ANSWER_FLAME] = { { 3.0, 0.10, 0, 0, 0 }, { 0.7, 0.08, 0.3, 0.01, 0.2 }, 0.20, 0.04, 0.10, 0.10 },
  [WB_CRAFT_ANSWER_WORST_FLAME] = { { 3.2, 0.10, 0, 0, 0 }, { 0.7, 0.08, 0.3, 0.01, 0.2 }, 0.20, 0.04, 0.10, 0.12 },
  [WB_CRAFT_ANSWER_WORST_RISE] = { { 3.5, 0.10, -0.3, 0, 0.5 }, { 0.7, 0.08, 0.5, 0.01, 0.3 }, 0.20, 0.04, 0.10, 0.10 },
};

guint
wb_craft_foretell_find (GPtrArray  *names,
                        const char *name,
                        gboolean    add)
{
  guint index;

  if (g_ptr_array_find_with_equal_func (names, name, g_str_equal, &index))
    return index;
  if (!add)
    return G_MAXUINT;
  g_ptr_array_add (names, (gpointer) name);
  return names->len - 1;
}

static double
load_of_wax (const WbCell *cell)
{
  return cell->load_basis == WB_BASIS_TOTAL ? wb_craft_load_to_wax_pct (cell->load_pct) : cell->load_pct;
}

static void
put_answer (WbCraftCase           *item,
            WbCraftAnswerKind      answer,
            const WbCraftEstimate *estimate)
{
  item->y[answer] = estimate->mean;
  item->se[answer] = estimate->se;
}

static gboolean
read_cell (const WbCraftLesson *lesson,
           guint                cell,
           WbCraftCase         *item)
{
  const WbDataset *data = lesson->data;
  const WbWick *wick = wb_dataset_get_wick (data, cell);
  const WbCell *record = wb_dataset_get_cell (data, cell);
  const WbCraftCell *of = &lesson->estimates->cells[cell];

  if ((of->growth.status != WB_CRAFT_FIT_OK && of->growth.status != WB_CRAFT_FIT_ONE_SAMPLE)
      || isnan (of->growth.log_limit) || isnan (of->growth.log_tau)
      || wick->step == WB_INTEGER_NONE || wick->series == NULL)
    return FALSE;
  *item = (WbCraftCase) {
    .recipe = {
      wick->series, wick->step, data->wax != NULL && data->wax->name != NULL ? data->wax->name : "",
      wb_craft_vessel_inner_mm (wb_dataset_get_vessel (data, cell), WB_STAGE_UPPER), load_of_wax (record),
      (guint) CLAMP (record->wick_count, 1, 12)
    },
    .log_tau = of->growth.log_tau,
  };
  item->y[WB_CRAFT_ANSWER_LIMIT] = of->growth.log_limit;
  item->se[WB_CRAFT_ANSWER_LIMIT] = sqrt (of->growth.var_limit);
  put_answer (item, WB_CRAFT_ANSWER_FLAME, &of->figure[WB_FIGURE_FLAME]);
  put_answer (item, WB_CRAFT_ANSWER_WORST_FLAME, &of->stage_worst[WB_STAGE_LOWER][WB_FIGURE_FLAME]);
  put_answer (item, WB_CRAFT_ANSWER_WORST_RISE, &of->stage_worst[WB_STAGE_LOWER][WB_FIGURE_VESSEL]);
  return TRUE;
}

/* Spread between candles and burns on the same scale, mean of squares over the lessons. */
static void
learn_spreads (WbCraftForetell *self,
               const GArray    *lessons)
{
  double sum[WB_CRAFT_N_ANSWERS] = { 0 };
  guint n[WB_CRAFT_N_ANSWERS] = { 0 };

  for (guint i = 0; i < lessons->len; i++)
    {
      const WbCraftEstimates *estimates = g_array_index (lessons, WbCraftLesson, i).estimates;

      for (guint c = 0; c < estimates->n_cells; c++)
        {
          const WbCraftEstimate *flame = &estimates->cells[c].stage_worst[WB_STAGE_LOWER][WB_FIGURE_FLAME];
          const WbCraftEstimate *rise = &estimates->cells[c].stage_worst[WB_STAGE_LOWER][WB_FIGURE_VESSEL];

          if (!isnan (flame->mean))
            {
              sum[WB_CRAFT_ANSWER_WORST_FLAME] += flame->sample_sd * flame->sample_sd + flame->burn_sd * flame->burn_sd;
              n[WB_CRAFT_ANSWER_WORST_FLAME]++;
            }
          if (!isnan (rise->mean))
            {
              sum[WB_CRAFT_ANSWER_WORST_RISE] += rise->sample_sd * rise->sample_sd + rise->burn_sd * rise->burn_sd;
              n[WB_CRAFT_ANSWER_WORST_RISE]++;
            }
        }
    }
  for (guint answer = 0; answer < WB_CRAFT_N_ANSWERS; answer++)
    self->candle_sd[answer] = n[answer] > 0 ? sqrt (sum[answer] / n[answer]) : 0;
}

/* The tightest stops of the lessons' limits; the house's where there are none. */
static void
learn_stops (WbCraftForetell *self,
             const GArray    *lessons)
{
  self->flame_stop = HOUSE_FLAME_MM;
  self->vessel_stop = HOUSE_VESSEL_C;
  for (guint i = 0; i < lessons->len; i++)
    {
      const WbDataset *data = g_array_index (lessons, WbCraftLesson, i).data;

      for (guint k = 0; k < data->limits->len; k++)
        {
          const WbLimit *limit = g_ptr_array_index (data->limits, k);

          if (limit->off || !(limit->stop_at > 0))
            continue;
          if (limit->kind == WB_LIMIT_FLAME || limit->kind == WB_LIMIT_FLAME_HOUSE)
            self->flame_stop = MIN (self->flame_stop, limit->stop_at);
          else if (limit->kind == WB_LIMIT_VESSEL)
            self->vessel_stop = MIN (self->vessel_stop, limit->stop_at);
        }
    }
}

static void
learn_pace (WbCraftForetell *self)
{
  double sum = 0, squares = 0;
  guint n = self->cases->len;

  for (guint i = 0; i < n; i++)
    sum += g_array_index (self->cases, WbCraftCase, i).log_tau;
  self->log_tau = sum / n;
  for (guint i = 0; i < n; i++)
    squares += pow (g_array_index (self->cases, WbCraftCase, i).log_tau - self->log_tau, 2);
  /* the stated spread counts as one more cell */
  self->tau_sd = sqrt ((squares + LONE_PACE_SD * LONE_PACE_SD) / n * (1 + 1.0 / n));
}

void
wb_craft_foretell_put_row (const WbCraftForetell *self,
                           const WbCraftRecipe   *recipe,
                           double                *row)
{
  guint series = wb_craft_foretell_find (self->series, recipe->series, FALSE);
  guint wax = wb_craft_foretell_find (self->waxes, recipe->wax, FALSE);

  for (guint j = 0; j < self->p; j++)
    row[j] = 0;
  row[COMMON] = 1;
  row[STEP] = recipe->step - MIDDLE_STEP;
  row[INNER] = log (recipe->inner_mm / USUAL_INNER_MM);
  row[LOAD] = recipe->load_pct - USUAL_LOAD_PCT;
  row[WICKS] = log (recipe->wicks);
  if (series != G_MAXUINT)
    {
      row[N_FIXED + 2 * series] = 1;
      row[N_FIXED + 2 * series + 1] = recipe->step - MIDDLE_STEP;
    }
  if (wax != G_MAXUINT)
    row[N_FIXED + 2 * self->series->len + wax] = 1;
}

double
wb_craft_foretell_unknown_sd (const WbCraftForetell *self,
                              const WbCraftRecipe   *recipe,
                              WbCraftAnswerKind      answer)
{
  const Belief *belief = &beliefs[answer];
  double variance = 0;

  if (wb_craft_foretell_find (self->series, recipe->series, FALSE) == G_MAXUINT)
    variance += belief->series_sd * belief->series_sd
                + pow (belief->slope_sd * (recipe->step - MIDDLE_STEP), 2);
  if (wb_craft_foretell_find (self->waxes, recipe->wax, FALSE) == G_MAXUINT)
    variance += belief->wax_sd * belief->wax_sd;
  return sqrt (variance);
}

static void
put_prior (const WbCraftForetell *self,
           const Belief          *belief,
           double                *mean,
           double                *precision)
{
  for (guint j = 0; j < self->p; j++)
    {
      double sd;

      mean[j] = j < N_FIXED ? belief->mean[j] : 0;
      if (j < N_FIXED)
        sd = belief->sd[j];
      else if (j < N_FIXED + 2 * self->series->len)
        sd = (j - N_FIXED) % 2 == 0 ? belief->series_sd : belief->slope_sd;
      else
        sd = belief->wax_sd;
      precision[j * self->p + j] = pow (belief->rest_sd / sd, 2);
    }
}

static void
fit_answer (WbCraftForetell  *self,
            WbCraftAnswerKind answer)
{
  const Belief *belief = &beliefs[answer];
  guint p = self->p, n = 0;
  g_autofree double *x = g_new0 (double, self->cases->len * p);
  g_autofree double *y = g_new0 (double, self->cases->len);
  g_autofree double *weights = g_new0 (double, self->cases->len);
  g_autofree double *mean = g_new0 (double, p);
  g_autofree double *precision = g_new0 (double, p * p);
  /* three squared deviations' worth of belief in the rest's size */
  WbCalcRidgePrior prior = { mean, precision, 1.5, 1.5 * belief->rest_sd * belief->rest_sd };

  for (guint i = 0; i < self->cases->len; i++)
    {
      const WbCraftCase *item = &g_array_index (self->cases, WbCraftCase, i);

      if (isnan (item->y[answer]))
        continue;
      wb_craft_foretell_put_row (self, &item->recipe, x + n * p);
      y[n] = item->y[answer];
      weights[n] = 1 / (1 + pow (item->se[answer] / belief->rest_sd, 2));
      n++;
    }
  put_prior (self, belief, mean, precision);
  if (n == 0 || wb_calc_ridge_fit (x, y, weights, n, p, &prior, &self->fit[answer]) != WB_CALC_OK)
    return;
  self->root[answer] = g_new0 (double, p * p);
  if (wb_calc_ridge_root (&self->fit[answer], self->root[answer]) != WB_CALC_OK)
    g_clear_pointer (&self->root[answer], g_free);
  for (guint i = 0; i < WB_CRAFT_FORETELL_N_CHI; i++)
    {
      double df = 2 * self->fit[answer].a;

      self->chi[answer][i] = sqrt (df / wb_calc_chisq_quantile ((i + 0.5) / WB_CRAFT_FORETELL_N_CHI, df));
    }
}

static gboolean
steps_differ (const GArray *cases)
{
  for (guint i = 1; i < cases->len; i++)
    if (g_array_index (cases, WbCraftCase, i).recipe.step != g_array_index (cases, WbCraftCase, 0).recipe.step)
      return TRUE;
  return FALSE;
}

gboolean
wb_craft_foretell_learn (WbCraftForetell *self,
                         const GArray    *lessons)
{
  for (guint i = 0; i < lessons->len; i++)
    {
      const WbCraftLesson *lesson = &g_array_index (lessons, WbCraftLesson, i);

      for (guint cell = 0; cell < lesson->estimates->n_cells; cell++)
        {
          WbCraftCase item;

          if (!read_cell (lesson, cell, &item))
            continue;
          wb_craft_foretell_find (self->series, item.recipe.series, TRUE);
          wb_craft_foretell_find (self->waxes, item.recipe.wax, TRUE);
          g_array_append_val (self->cases, item);
        }
    }
  if (self->cases->len < LEAST_CELLS || !steps_differ (self->cases))
    return FALSE;
  self->p = N_FIXED + 2 * self->series->len + self->waxes->len;
  learn_spreads (self, lessons);
  learn_stops (self, lessons);
  learn_pace (self);
  for (WbCraftAnswerKind answer = 0; answer < WB_CRAFT_N_ANSWERS; answer++)
    fit_answer (self, answer);
  return self->root[WB_CRAFT_ANSWER_LIMIT] != NULL;
}
