/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-foretell-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-calc-quantile.h"
#include "wb-calc-random.h"
#include "wb-calc-ridge.h"
#include "wb-craft-batch.h"
#include "wb-craft-growth-private.h"
#include "wb-craft-vessel-private.h"

#define MIDDLE_STEP 3.0
#define USUAL_INNER_MM 76.2
#define USUAL_LOAD_PCT 6.0
#define N_CHI 64
#define LEAST_CELLS 3
#define NEAR_INNER 0.04      /* a vessel this near to one tried is not outside */
#define NEAR_LOAD_PCT 1.0
#define LONE_PACE_SD 0.15    /* of ln tau, with too few cells to see it */
#define HOUSE_FLAME_MM 50.0  /* house limits of a notebook without any */
#define HOUSE_VESSEL_C 77.0
#define USUAL_ROOM_C 22.0

typedef enum { LIMIT, FLAME, WORST_FLAME, WORST_RISE, N_ANSWERS } Answer;
typedef enum { COMMON, STEP, INNER, LOAD, WICKS, N_FIXED } Term;

/* Beliefs before any data, on the logarithm: mean and spread of each common term, of series, series × step and wax; and of the rest. No source. */
typedef struct
{
  double mean[N_FIXED], sd[N_FIXED];
  double series_sd, slope_sd, wax_sd;
  double rest_sd;
} Belief;

static const Belief beliefs[N_ANSWERS] = {
  [LIMIT] = { { 4.4, 0.06, 0, -0.003, 0.5 }, { 0.5, 0.05, 0.3, 0.01, 0.2 }, 0.15, 0.03, 0.08, 0.04 },
  [FLAME] = { { 3.0, 0.10, 0, 0, 0 }, { 0.7, 0.08, 0.3, 0.01, 0.2 }, 0.20, 0.04, 0.10, 0.10 },
  [WORST_FLAME] = { { 3.2, 0.10, 0, 0, 0 }, { 0.7, 0.08, 0.3, 0.01, 0.2 }, 0.20, 0.04, 0.10, 0.12 },
  [WORST_RISE] = { { 3.5, 0.10, -0.3, 0, 0.5 }, { 0.7, 0.08, 0.5, 0.01, 0.3 }, 0.20, 0.04, 0.10, 0.10 },
};

/* One cell of an earlier experiment. */
typedef struct
{
  WbCraftRecipe recipe;
  double        y[N_ANSWERS];    /* NAN: not known */
  double        se[N_ANSWERS];
  double        log_tau;
} Case;

struct _WbCraftForetell
{
  GArray      *cases;      /* Case */
  GPtrArray   *series;     /* const char *, distinct */
  GPtrArray   *waxes;
  guint        p;
  WbCalcRidge  fit[N_ANSWERS];
  double      *root[N_ANSWERS];      /* NULL: no fit */
  double       chi[N_ANSWERS][N_CHI];
  double       log_tau, tau_sd;
  double       candle_sd[N_ANSWERS]; /* between candles, and their burns */
  double       flame_stop, vessel_stop;
};

static guint
find_or_add (GPtrArray  *names,
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
put_answer (Case                  *item,
            Answer                 answer,
            const WbCraftEstimate *estimate)
{
  item->y[answer] = estimate->mean;
  item->se[answer] = estimate->se;
}

static gboolean
read_cell (const WbCraftLesson *lesson,
           guint                cell,
           Case                *item)
{
  const WbDataset *data = lesson->data;
  const WbWick *wick = wb_dataset_get_wick (data, cell);
  const WbCell *record = wb_dataset_get_cell (data, cell);
  const WbCraftCell *of = &lesson->estimates->cells[cell];

  if ((of->growth.status != WB_CRAFT_FIT_OK && of->growth.status != WB_CRAFT_FIT_ONE_SAMPLE)
      || isnan (of->growth.log_limit) || isnan (of->growth.log_tau)
      || wick->step == WB_INTEGER_NONE || wick->series == NULL)
    return FALSE;
  *item = (Case) {
    .recipe = {
      wick->series, wick->step, data->wax != NULL && data->wax->name != NULL ? data->wax->name : "",
      wb_craft_vessel_inner_mm (wb_dataset_get_vessel (data, cell), WB_STAGE_UPPER), load_of_wax (record),
      (guint) CLAMP (record->wick_count, 1, 12)
    },
    .log_tau = of->growth.log_tau,
  };
  item->y[LIMIT] = of->growth.log_limit;
  item->se[LIMIT] = sqrt (of->growth.var_limit);
  put_answer (item, FLAME, &of->figure[WB_FIGURE_FLAME]);
  put_answer (item, WORST_FLAME, &of->stage_worst[WB_STAGE_LOWER][WB_FIGURE_FLAME]);
  put_answer (item, WORST_RISE, &of->stage_worst[WB_STAGE_LOWER][WB_FIGURE_VESSEL]);
  return TRUE;
}

/* Spread between candles and burns on the same scale, mean of squares over the lessons. */
static void
learn_spreads (WbCraftForetell *self,
               const GArray    *lessons)
{
  double sum[N_ANSWERS] = { 0 };
  guint n[N_ANSWERS] = { 0 };

  for (guint i = 0; i < lessons->len; i++)
    {
      const WbCraftEstimates *estimates = g_array_index (lessons, WbCraftLesson, i).estimates;

      for (guint c = 0; c < estimates->n_cells; c++)
        {
          const WbCraftEstimate *flame = &estimates->cells[c].stage_worst[WB_STAGE_LOWER][WB_FIGURE_FLAME];
          const WbCraftEstimate *rise = &estimates->cells[c].stage_worst[WB_STAGE_LOWER][WB_FIGURE_VESSEL];

          if (!isnan (flame->mean))
            {
              sum[WORST_FLAME] += flame->sample_sd * flame->sample_sd + flame->burn_sd * flame->burn_sd;
              n[WORST_FLAME]++;
            }
          if (!isnan (rise->mean))
            {
              sum[WORST_RISE] += rise->sample_sd * rise->sample_sd + rise->burn_sd * rise->burn_sd;
              n[WORST_RISE]++;
            }
        }
    }
  for (guint answer = 0; answer < N_ANSWERS; answer++)
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
    sum += g_array_index (self->cases, Case, i).log_tau;
  self->log_tau = sum / n;
  for (guint i = 0; i < n; i++)
    squares += pow (g_array_index (self->cases, Case, i).log_tau - self->log_tau, 2);
  /* the stated spread counts as one more cell */
  self->tau_sd = sqrt ((squares + LONE_PACE_SD * LONE_PACE_SD) / n * (1 + 1.0 / n));
}

/* The row of the design: common terms, then an offset and a slope a series, then an offset a wax. */
static void
put_row (const WbCraftForetell *self,
         const WbCraftRecipe   *recipe,
         double                *row)
{
  guint series = find_or_add (self->series, recipe->series, FALSE);
  guint wax = find_or_add (self->waxes, recipe->wax, FALSE);

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

/* What a series or a wax never tried adds to a prediction's spread: the row has no column for it. */
static double
unknown_sd (const WbCraftForetell *self,
            const WbCraftRecipe   *recipe,
            Answer                 answer)
{
  const Belief *belief = &beliefs[answer];
  double variance = 0;

  if (find_or_add (self->series, recipe->series, FALSE) == G_MAXUINT)
    variance += belief->series_sd * belief->series_sd
                + pow (belief->slope_sd * (recipe->step - MIDDLE_STEP), 2);
  if (find_or_add (self->waxes, recipe->wax, FALSE) == G_MAXUINT)
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
fit_answer (WbCraftForetell *self,
            Answer           answer)
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
      const Case *item = &g_array_index (self->cases, Case, i);

      if (isnan (item->y[answer]))
        continue;
      put_row (self, &item->recipe, x + n * p);
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
  for (guint i = 0; i < N_CHI; i++)
    {
      double df = 2 * self->fit[answer].a;

      self->chi[answer][i] = sqrt (df / wb_calc_chisq_quantile ((i + 0.5) / N_CHI, df));
    }
}

static gboolean
steps_differ (const GArray *cases)
{
  for (guint i = 1; i < cases->len; i++)
    if (g_array_index (cases, Case, i).recipe.step != g_array_index (cases, Case, 0).recipe.step)
      return TRUE;
  return FALSE;
}

WbCraftForetell *
wb_craft_foretell_new (const GArray *lessons)
{
  g_autoptr (WbCraftForetell) self = g_new0 (WbCraftForetell, 1);

  self->cases = g_array_new (FALSE, TRUE, sizeof (Case));
  self->series = g_ptr_array_new ();
  self->waxes = g_ptr_array_new ();
  for (guint i = 0; i < lessons->len; i++)
    {
      const WbCraftLesson *lesson = &g_array_index (lessons, WbCraftLesson, i);

      for (guint cell = 0; cell < lesson->estimates->n_cells; cell++)
        {
          Case item;

          if (!read_cell (lesson, cell, &item))
            continue;
          find_or_add (self->series, item.recipe.series, TRUE);
          find_or_add (self->waxes, item.recipe.wax, TRUE);
          g_array_append_val (self->cases, item);
        }
    }
  if (self->cases->len < LEAST_CELLS || !steps_differ (self->cases))
    return NULL;
  self->p = N_FIXED + 2 * self->series->len + self->waxes->len;
  learn_spreads (self, lessons);
  learn_stops (self, lessons);
  learn_pace (self);
  for (Answer answer = 0; answer < N_ANSWERS; answer++)
    fit_answer (self, answer);
  return self->root[LIMIT] != NULL ? g_steal_pointer (&self) : NULL;
}

void
wb_craft_foretell_free (WbCraftForetell *self)
{
  if (self == NULL)
    return;
  g_array_unref (self->cases);
  g_ptr_array_unref (self->series);
  g_ptr_array_unref (self->waxes);
  for (Answer answer = 0; answer < N_ANSWERS; answer++)
    {
      wb_calc_ridge_clear (&self->fit[answer]);
      g_free (self->root[answer]);
    }
  g_free (self);
}

gboolean
wb_craft_foretell_knows_the_end (const WbCraftForetell *self)
{
  return self->root[WORST_FLAME] != NULL && self->root[WORST_RISE] != NULL;
}

gboolean
wb_craft_foretell_knows_series (const WbCraftForetell *self,
                                const char            *series)
{
  return find_or_add (self->series, series, FALSE) != G_MAXUINT;
}

char *
wb_craft_foretell_dup_outside (const WbCraftForetell *self,
                               const WbCraftRecipe   *recipe)
{
  g_autoptr (GPtrArray) words = g_ptr_array_new ();
  gint64 lowest = G_MAXINT64, highest = G_MININT64;
  double narrowest = INFINITY, widest = 0, least_load = INFINITY, most_load = -INFINITY;
  gboolean wicks_tried = FALSE;

  for (guint i = 0; i < self->cases->len; i++)
    {
      const WbCraftRecipe *tried = &g_array_index (self->cases, Case, i).recipe;

      if (g_str_equal (tried->series, recipe->series))
        {
          lowest = MIN (lowest, tried->step);
          highest = MAX (highest, tried->step);
        }
      narrowest = MIN (narrowest, tried->inner_mm);
      widest = MAX (widest, tried->inner_mm);
      least_load = MIN (least_load, tried->load_pct);
      most_load = MAX (most_load, tried->load_pct);
      wicks_tried = wicks_tried || tried->wicks == recipe->wicks;
    }
  if (lowest == G_MAXINT64)
    g_ptr_array_add (words, (gpointer) _("series never tried"));
  else if (recipe->step < lowest || recipe->step > highest)
    g_ptr_array_add (words, (gpointer) _("size outside those tried"));
  if (recipe->inner_mm < narrowest * (1 - NEAR_INNER) || recipe->inner_mm > widest * (1 + NEAR_INNER))
    g_ptr_array_add (words, (gpointer) _("vessel outside those tried"));
  if (find_or_add (self->waxes, recipe->wax, FALSE) == G_MAXUINT)
    g_ptr_array_add (words, (gpointer) _("wax never tried"));
  if (recipe->load_pct < least_load - NEAR_LOAD_PCT || recipe->load_pct > most_load + NEAR_LOAD_PCT)
    g_ptr_array_add (words, (gpointer) _("load outside those tried"));
  if (!wicks_tried)
    g_ptr_array_add (words, (gpointer) _("number of wicks never tried"));
  if (words->len == 0)
    return NULL;
  g_ptr_array_add (words, NULL);
  return g_strjoinv (", ", (char **) words->pdata);
}

/* One draw of the coefficients of an answer. */
static void
draw_beta (const WbCraftForetell *self,
           Answer                 answer,
           WbCalcRandom          *random,
           double                *beta,
           double                *rest_sd)
{
  const WbCalcRidge *fit = &self->fit[answer];
  double scale = self->chi[answer][wb_calc_random_below (random, N_CHI)] * sqrt (fit->b / fit->a);

  for (guint j = 0; j < self->p; j++)
    beta[j] = fit->mean[j];
  for (guint k = 0; k < self->p; k++)
    {
      double z = scale * wb_calc_random_normal (random);

      for (guint j = k; j < self->p; j++)
        beta[j] += self->root[answer][j * self->p + k] * z;
    }
  *rest_sd = scale;
}

/* Chance that a candle's logarithm passes the stop's. */
static double
chance_over (double stop,
             double log_value,
             double sd)
{
  double z = log (stop) - log_value;

  return sd > 0 ? 1 - wb_calc_normal_below (z / sd) : z < 0;
}

static double
predict (const WbCraftForetell *self,
         const double          *row,
         const double          *beta,
         double                 spread,
         double                 z)
{
  double sum = spread * z;

  for (guint j = 0; j < self->p; j++)
    sum += row[j] * beta[j];
  return sum;
}

WbCraftForetold *
wb_craft_foretell_draw (const WbCraftForetell *self,
                        const WbCraftRecipe   *recipes,
                        guint                  n,
                        guint                  draws,
                        guint64                seed)
{
  WbCraftForetold *foretold = g_new0 (WbCraftForetold, (gsize) n * draws);
  g_autofree double *rows = g_new0 (double, (gsize) n * self->p);
  g_autofree double *beta = g_new0 (double, self->p);
  WbCalcRandom random;

  for (guint i = 0; i < n; i++)
    put_row (self, &recipes[i], rows + (gsize) i * self->p);
  for (guint draw = 0; draw < draws; draw++)
    {
      double tau;

      if (draw % WB_CALC_RANDOM_BLOCK == 0)
        wb_calc_random_init (&random, seed, draw / WB_CALC_RANDOM_BLOCK);
      tau = exp (self->log_tau + self->tau_sd * wb_calc_random_normal (&random));
      for (Answer answer = 0; answer < N_ANSWERS; answer++)
        {
          double rest_sd;

          if (self->root[answer] == NULL)
            continue;
          draw_beta (self, answer, &random, beta, &rest_sd);
          for (guint i = 0; i < n; i++)
            {
              WbCraftForetold *item = &foretold[(gsize) draw * n + i];
              double y = predict (self, rows + (gsize) i * self->p, beta,
                                  hypot (rest_sd, unknown_sd (self, &recipes[i], answer)), wb_calc_random_normal (&random));

              if (answer == LIMIT)
                item->limit_mm = exp (y);
              else if (answer == FLAME)
                item->flame_mm = exp (y);
              else
                item->p_cross = 1 - (1 - item->p_cross)
                                    * (1 - chance_over (answer == WORST_FLAME ? self->flame_stop
                                                                              : self->vessel_stop - USUAL_ROOM_C,
                                                        y, self->candle_sd[answer]));
            }
        }
      for (guint i = 0; i < n; i++)
        {
          WbCraftForetold *item = &foretold[(gsize) draw * n + i];

          item->full_pool_h = wb_craft_growth_time (item->limit_mm, tau, recipes[i].inner_mm);
        }
    }
  return foretold;
}
