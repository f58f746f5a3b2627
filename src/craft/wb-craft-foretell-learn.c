/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-foretell-model-private.h"

#include <math.h>

#include "wb-calc-quantile.h"
#include "wb-craft-batch.h"
#include "wb-craft-verdict-private.h"
#include "wb-craft-vessel-private.h"

/* Learning from earlier experiments what wb-craft-foretell.c draws from. */

#define MIDDLE_STEP 3.0
#define USUAL_INNER_MM 76.2
#define USUAL_LOAD_PCT 6.0
#define LEAST_CELLS 3
#define LONE_PACE_SD 0.15    /* of ln tau, with too few cells to see it */
#define USUAL_TAU_H 1.2      /* belief where no cell has a curve, and its spread on the logarithm; no source */
#define USUAL_TAU_SD 0.25
#define EARLIEST_WALL_H 0.5  /* a pool at the wall sooner says no more than at this hour */
#define EM_STEPS 60
#define EM_TOLERANCE 1e-4    /* of the logarithm of a diameter */
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
is_fitted (const WbCraftGrowth *growth)
{
  return wb_craft_fit_status_is_fitted (growth->status)
         && !isnan (growth->log_limit) && !isnan (growth->log_tau);
}

static gboolean
is_at_wall (const WbCraftGrowth *growth)
{
  return growth->status == WB_CRAFT_FIT_ALL_AT_WALL && growth->at_wall_h > 0;
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

  if (of->burns == 0 || wick->step == WB_INTEGER_NONE || wick->series == NULL)
    return FALSE;
  *item = (WbCraftCase) {
    .recipe = {
      wick->series, wick->step, data->wax != NULL && data->wax->name != NULL ? data->wax->name : "",
      wb_craft_vessel_inner_mm (wb_dataset_get_vessel (data, cell), WB_STAGE_UPPER), load_of_wax (record),
      (guint) CLAMP (record->wick_count, 1, 12)
    },
    .log_tau = is_fitted (&of->growth) ? of->growth.log_tau : NAN,
    .log_least = NAN,
    .lesson = lesson,
    .cell = cell,
    .crossed = lesson->limits != NULL && wb_craft_verdict_has_crossed (lesson->limits, cell),
  };
  item->y[WB_CRAFT_ANSWER_LIMIT] = is_fitted (&of->growth) ? of->growth.log_limit : NAN;
  item->se[WB_CRAFT_ANSWER_LIMIT] = is_fitted (&of->growth) ? sqrt (of->growth.var_limit) : 0;
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
  guint n = 0;

  for (guint i = 0; i < self->cases->len; i++)
    if (!isnan (g_array_index (self->cases, WbCraftCase, i).log_tau))
      {
        sum += g_array_index (self->cases, WbCraftCase, i).log_tau;
        n++;
      }
  if (n == 0)
    {
      self->log_tau = log (USUAL_TAU_H);
      self->tau_sd = USUAL_TAU_SD;
      return;
    }
  self->log_tau = sum / n;
  for (guint i = 0; i < self->cases->len; i++)
    if (!isnan (g_array_index (self->cases, WbCraftCase, i).log_tau))
      squares += pow (g_array_index (self->cases, WbCraftCase, i).log_tau - self->log_tau, 2);
  /* the stated spread counts as one more cell */
  self->tau_sd = sqrt ((squares + LONE_PACE_SD * LONE_PACE_SD) / n * (1 + 1.0 / n));
}

/* At the wall at hour t: D∞ (1 − exp (−t / tau)) was the inner diameter at least. */
static void
learn_walls (WbCraftForetell *self)
{
  for (guint i = 0; i < self->cases->len; i++)
    {
      WbCraftCase *item = &g_array_index (self->cases, WbCraftCase, i);
      const WbCraftGrowth *growth = &item->lesson->estimates->cells[item->cell].growth;

      if (is_at_wall (growth))
        item->log_least = log (item->recipe.inner_mm)
                          - log (-expm1 (-MAX (growth->at_wall_h, EARLIEST_WALL_H) / exp (self->log_tau)));
    }
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

/* Mean of a normal above a bound. */
static double
mean_above (double mean,
            double sd,
            double bound)
{
  double z = (bound - mean) / sd, above = wb_calc_normal_below (-z);

  /* far out the mean lies next to the bound */
  return above > 1e-12 ? mean + sd * exp (-0.5 * z * z) / sqrt (2 * G_PI) / above : bound + sd / z;
}

/* The rows of one regression. */
typedef struct
{
  double *x, *y, *weights;
  double *least;       /* NAN: y is what was read; else y is at least this, and stands at its mean */
  guint   n;
} Rows;

/* Moves what is only known to be at least something to its mean under the fit; the furthest move. */
static double
move_censored (const WbCalcRidge *fit,
               guint              p,
               Rows              *rows)
{
  double furthest = 0, sd = sqrt (fit->b / fit->a);

  for (guint i = 0; i < rows->n; i++)
    {
      double mean = 0, moved;

      if (isnan (rows->least[i]))
        continue;
      for (guint j = 0; j < p; j++)
        mean += rows->x[i * p + j] * fit->mean[j];
      moved = mean_above (mean, sd, rows->least[i]);
      furthest = MAX (furthest, fabs (moved - rows->y[i]));
      rows->y[i] = moved;
    }
  return furthest;
}

static void
gather_rows (const WbCraftForetell *self,
             WbCraftAnswerKind      answer,
             Rows                  *rows)
{
  for (guint i = 0; i < self->cases->len; i++)
    {
      const WbCraftCase *item = &g_array_index (self->cases, WbCraftCase, i);
      double least = answer == WB_CRAFT_ANSWER_LIMIT ? item->log_least : NAN;

      if (isnan (item->y[answer]) && isnan (least))
        continue;
      wb_craft_foretell_put_row (self, &item->recipe, rows->x + rows->n * self->p);
      rows->y[rows->n] = isnan (least) ? item->y[answer] : least;
      rows->weights[rows->n] = isnan (least) ? 1 / (1 + pow (item->se[answer] / beliefs[answer].rest_sd, 2)) : 1;
      rows->least[rows->n++] = least;
    }
}

static void
fit_answer (WbCraftForetell  *self,
            WbCraftAnswerKind answer)
{
  const Belief *belief = &beliefs[answer];
  guint p = self->p, n = self->cases->len;
  g_autofree double *x = g_new0 (double, n * p), *y = g_new0 (double, n), *weights = g_new0 (double, n), *least = g_new0 (double, n);
  g_autofree double *mean = g_new0 (double, p), *precision = g_new0 (double, p * p);
  /* three squared deviations' worth of belief in the rest's size */
  WbCalcRidgePrior prior = { mean, precision, 1.5, 1.5 * belief->rest_sd * belief->rest_sd };
  Rows rows = { x, y, weights, least, 0 };

  gather_rows (self, answer, &rows);
  put_prior (self, belief, mean, precision);
  if (rows.n == 0 || wb_calc_ridge_fit (x, y, weights, rows.n, p, &prior, &self->fit[answer]) != WB_CALC_OK)
    return;
  for (guint step = 0; step < EM_STEPS && move_censored (&self->fit[answer], p, &rows) > EM_TOLERANCE; step++)
    {
      wb_calc_ridge_clear (&self->fit[answer]);
      if (wb_calc_ridge_fit (x, y, weights, rows.n, p, &prior, &self->fit[answer]) != WB_CALC_OK)
        return;
    }
  self->root[answer] = g_new0 (double, p * p);
  if (wb_calc_ridge_root (&self->fit[answer], self->root[answer]) != WB_CALC_OK)
    g_clear_pointer (&self->root[answer], g_free);
  for (guint i = 0; i < WB_CRAFT_FORETELL_N_CHI; i++)
    {
      double df = 2 * self->fit[answer].a;

      self->chi[answer][i] = sqrt (df / wb_calc_chisq_quantile ((i + 0.5) / WB_CRAFT_FORETELL_N_CHI, df));
    }
}

/* Enough cells whose pool was read, of different steps. */
static gboolean
is_enough (const GArray *cases)
{
  gint64 step = 0;
  guint n = 0;
  gboolean differ = FALSE;

  for (guint i = 0; i < cases->len; i++)
    {
      const WbCraftCase *item = &g_array_index (cases, WbCraftCase, i);
      const WbCraftGrowth *growth = &item->lesson->estimates->cells[item->cell].growth;

      if (!is_fitted (growth) && !is_at_wall (growth))
        continue;
      differ = differ || (n > 0 && item->recipe.step != step);
      step = item->recipe.step;
      n++;
    }
  return n >= LEAST_CELLS && differ;
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
  if (!is_enough (self->cases))
    return FALSE;
  self->p = N_FIXED + 2 * self->series->len + self->waxes->len;
  learn_spreads (self, lessons);
  learn_stops (self, lessons);
  learn_pace (self);
  learn_walls (self);
  for (WbCraftAnswerKind answer = 0; answer < WB_CRAFT_N_ANSWERS; answer++)
    fit_answer (self, answer);
  return self->root[WB_CRAFT_ANSWER_LIMIT] != NULL;
}
