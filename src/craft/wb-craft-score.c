/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-score-private.h"

#include <math.h>

#include "wb-calc-quantile.h"
#include "wb-calc-random.h"
#include "wb-craft-judge-private.h"
#include "wb-craft-scale-private.h"
#include "wb-craft-stops-private.h"
#include "wb-craft-workers-private.h"

#define WIDTH WB_CRAFT_JUDGE_WIDTH

#define SURE_Z 5.0   /* further from a limit than this its chance is nothing */

/* Weights that are small multiples of the least one share one logarithm a candle. */
#define MOST_POWER 16
#define LEAST_PRODUCT 1e-280 /* below this digits are lost */

#define ASK_EVERY 32 /* draws */

/* A measured limit at one stage: the tightest stop of its figure there. */
typedef struct
{
  WbFigure           figure;
  double             at;     /* the stop on the figure's scale */
  const WbCraftDraw *draw;
} Stop;

/* Everything that does not change from draw to draw. */
typedef struct
{
  const WbDataset    *data;
  const WbCraftDraws *draws;
  const guint        *members;
  guint               n;
  const WbCraftShuffles *shuffles;
  WbCraftScore       *score;    /* each draw has its own row there */
  GArray             *aims;     /* WbCraftJudge: of those that are kept */
  GArray             *classes;  /* double: the weights */
  guint              *powers;   /* a class: its weight in units of the least; NULL: they are no small multiples */
  double              least;    /* weight */
  double              weights;  /* sum over the aims kept */
  GArray             *stops;    /* Stop */
  double              strata[WB_CRAFT_N_STRATA]; /* middles of equal-chance strata of a standard normal */
  double             *sums;     /* a block × (n_aims + 2) × n: desirabilities, crossings, their squares */
} Model;

/* What all cells share in one draw, and room for one cell. */
typedef struct
{
  guint   candle;     /* which of the candles stands for the next one */
  double  luck;       /* uniform, for the next candle's crossing */
  double *factors;    /* an aim × a candle: its deviation, as a factor where the scale is a logarithm */
  double *deviations; /* a stop × a candle */
  double *products;   /* a class of weights × a candle */
  double *sums;       /* the block's */
} Common;

/* Limits are not borrowed: what a cell has not read is not tested, and the verdict says so. */
static void
add_stops (Model *model)
{
  static const WbFigure figures[] = { WB_FIGURE_FLAME, WB_FIGURE_VESSEL };

  for (guint f = 0; f < G_N_ELEMENTS (figures); f++)
    for (WbStage stage = 0; stage < WB_N_STAGES; stage++)
      {
        double at = wb_craft_stops_get (model->data, figures[f]);
        Stop stop = { figures[f], 0, wb_craft_draws_find (model->draws, figures[f], stage, WB_CRAFT_LOOK_PEAK) };

        if (!isfinite (at) || stop.draw == NULL || !wb_craft_draw_is_read (stop.draw, model->members, model->n))
          continue;
        stop.at = wb_craft_scale_from (figures[f], at, stop.draw->offset);
        for (guint i = 0; i < model->n; i++)
          model->score->tested[i] = model->score->tested[i] || stop.draw->read[model->members[i]];
        g_array_append_val (model->stops, stop);
      }
}

static guint
class_of (GArray *classes,
          double  weight)
{
  for (guint c = 0; c < classes->len; c++)
    if (g_array_index (classes, double, c) == weight)
      return c;
  g_array_append_val (classes, weight);
  return classes->len - 1;
}

/* Weights of 0.5, 1, 2 and 3 are 1, 2, 4 and 6 times the least. */
static void
find_powers (Model *model)
{
  guint n = model->classes->len;
  g_autofree guint *powers = g_new (guint, MAX (n, 1));

  model->least = INFINITY;
  for (guint c = 0; c < n; c++)
    model->least = MIN (model->least, g_array_index (model->classes, double, c));
  for (guint c = 0; c < n; c++)
    {
      double times = g_array_index (model->classes, double, c) / model->least;

      if (times > MOST_POWER || times != floor (times))
        return;
      powers[c] = (guint) times;
    }
  model->powers = g_steal_pointer (&powers);
}

static void
add_aim (Model             *model,
         guint              index,
         const WbCraftAim  *aim,
         const WbCraftDraw *draw)
{
  WbCraftJudge judge;

  wb_craft_judge_init (&judge, model->data, model->members, model->n, aim, draw);
  judge.index = index;
  judge.class = class_of (model->classes, aim->weight);
  model->weights += aim->weight;
  g_array_append_val (model->aims, judge);
}

static void
model_init (Model        *model,
            WbCraftScore *self)
{
  model->aims = g_array_new (FALSE, FALSE, sizeof (WbCraftJudge));
  model->classes = g_array_new (FALSE, FALSE, sizeof (double));
  model->stops = g_array_new (FALSE, FALSE, sizeof (Stop));
  for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
    model->strata[k] = wb_calc_normal_quantile ((k + 0.5) / WB_CRAFT_N_STRATA);
  for (guint a = 0; a < self->aims->len; a++)
    {
      const WbCraftAim *aim = &g_array_index (self->aims, WbCraftAim, a);
      const WbCraftDraw *draw = wb_craft_draws_find (model->draws, aim->figure, aim->stage, wb_craft_look_of (aim));

      self->dropped[a] = draw == NULL || !wb_craft_draw_is_read (draw, model->members, model->n);
      if (self->dropped[a])
        continue;
      add_aim (model, a, aim, draw);
      for (guint i = 0; i < model->n; i++)
        self->borrowed[a * model->n + i] = !draw->read[model->members[i]];
    }
  self->asks = model->weights > 0;
  find_powers (model);
  add_stops (model);
  model->sums = g_new0 (double, wb_calc_random_n_blocks (self->n_draws) * (self->aims->len + 2) * model->n);
}

static void
model_clear (Model *model)
{
  for (guint a = 0; a < model->aims->len; a++)
    wb_craft_judge_clear (&g_array_index (model->aims, WbCraftJudge, a));
  g_array_unref (model->aims);
  g_array_unref (model->classes);
  g_array_unref (model->stops);
  g_free (model->powers);
  g_free (model->sums);
}

static void
draw_common (const Model *model,
             guint        index,
             Common      *common)
{
  const guint8 *order = model->shuffles->order + (gsize) index * WB_N_FIGURES * WB_CRAFT_N_STRATA;

  common->candle = model->shuffles->candle[index];
  common->luck = model->shuffles->luck[index];
  for (guint a = 0; a < model->aims->len; a++)
    {
      const WbCraftJudge *judge = &g_array_index (model->aims, WbCraftJudge, a);

      wb_craft_judge_spread (judge, index, model->strata, order + judge->figure * WB_CRAFT_N_STRATA, common->factors + a * WIDTH);
    }
  for (guint s = 0; s < model->stops->len; s++)
    {
      const Stop *stop = &g_array_index (model->stops, Stop, s);

      for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
        common->deviations[s * WIDTH + k] = stop->draw->sample_sd[index] * model->strata[order[stop->figure * WB_CRAFT_N_STRATA + k]];
    }
}

/* The chance of each candle that no measured limit is crossed in its burns. */
static void
judge_stops (const Model  *model,
             const Common *common,
             guint         index,
             guint         cell,
             double        under[WIDTH])
{
  for (guint k = 0; k < WIDTH; k++)
    under[k] = 1;
  for (guint s = 0; s < model->stops->len; s++)
    {
      const Stop *stop = &g_array_index (model->stops, Stop, s);
      const double *deviations = common->deviations + s * WIDTH;
      double burn_sd = stop->draw->burn_sd[index];
      double room;

      if (!stop->draw->read[cell])
        continue;
      room = stop->at - stop->draw->level[(gsize) index * model->draws->n_cells + cell];
      for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
        {
          double left = room - deviations[k];

          if (left > SURE_Z * burn_sd)
            continue;
          under[k] *= burn_sd > 0 ? wb_calc_normal_below (left / burn_sd) : 0;
        }
    }
}

static double
to_power (double base,
       guint  power)
{
  double result = power & 1 ? base : 1;

  while (power >>= 1)
    {
      base *= base;
      if (power & 1)
        result *= base;
    }
  return result;
}

/* Weighted geometric mean of the desirabilities of candle k, from the products of each class of weights. */
static double
geometric_mean (const Model  *model,
                const double *products,
                guint         k)
{
  double sum = 0, all = 1;

  for (guint c = 0; c < model->classes->len; c++)
    if (products[c * WIDTH + k] == 0)
      return 0;
  if (model->weights <= 0)
    return 0;
  if (model->powers != NULL)
    {
      for (guint c = 0; c < model->classes->len; c++)
        all *= to_power (products[c * WIDTH + k], model->powers[c]);
      if (all >= 1)
        return 1;
      if (all > LEAST_PRODUCT)
        return exp (model->least * log (all) / model->weights);
    }
  for (guint c = 0; c < model->classes->len; c++)
    if (!(products[c * WIDTH + k] >= 1))
      sum += g_array_index (model->classes, double, c) * log (products[c * WIDTH + k]);
  return exp (sum / model->weights);
}

/* One cell in one draw. */
static void
draw_cell (const Model *model,
           Common      *common,
           guint        i,
           guint        index)
{
  WbCraftScore *self = model->score;
  double under[WIDTH];
  float *kept = wb_craft_candles_get_under (self->candles, i, index);
  double sum = 0, crossing = 0;
  gsize at = (gsize) index * model->n + i;

  for (guint c = 0; c < model->classes->len * WIDTH; c++)
    common->products[c] = 1;
  for (guint a = 0; a < model->aims->len; a++)
    {
      const WbCraftJudge *judge = &g_array_index (model->aims, WbCraftJudge, a);

      common->sums[judge->index * model->n + i]
          += wb_craft_judge_candles (judge, (gsize) index * model->draws->n_cells + model->members[i], i,
                                     common->factors + a * WIDTH, common->products + judge->class * WIDTH,
                                     wb_craft_candles_get_worth (self->candles, judge->index, i, index));
    }
  judge_stops (model, common, index, model->members[i], under);
  for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
    {
      double score = geometric_mean (model, common->products, k);

      sum += score * under[k];
      crossing += (1 - under[k]) / WB_CRAFT_N_STRATA;
      if (kept != NULL)
        kept[k] = (float) under[k];
      if (k == common->candle)
        self->candle[at] = common->luck < under[k] ? score : 0;
    }
  self->recipe[at] = sum / WB_CRAFT_N_STRATA;
  self->crossing[at] = crossing;
  common->sums[self->aims->len * model->n + i] += crossing;
  common->sums[(self->aims->len + 1) * model->n + i] += crossing * crossing;
}

/* A block of 256 draws. */
static void
draw_block (WbCraftWorkers *workers,
            guint           block,
            gpointer        data)
{
  const Model *model = data;
  guint first = block * WB_CALC_RANDOM_BLOCK;
  guint last = MIN (first + WB_CALC_RANDOM_BLOCK, model->score->n_draws);
  Common common = {
    .factors = g_new (double, MAX (model->aims->len, 1) * WIDTH),
    .deviations = g_new (double, MAX (model->stops->len, 1) * WIDTH),
    .products = g_new (double, MAX (model->classes->len, 1) * WIDTH),
    .sums = model->sums + (gsize) block * (model->score->aims->len + 2) * model->n,
  };

  for (guint draw = first; draw < last && (draw % ASK_EVERY != 0 || wb_craft_workers_go_on (workers)); draw++)
    {
      draw_common (model, draw, &common);
      for (guint i = 0; i < model->n; i++)
        draw_cell (model, &common, i, draw);
    }
  g_free (common.factors);
  g_free (common.deviations);
  g_free (common.products);
}

/* The blocks' sums in the order of the blocks, whichever ended first. */
static void
add_blocks (const Model  *model,
            WbCraftScore *self)
{
  guint n = model->n, n_aims = self->aims->len;

  for (guint block = 0; block < wb_calc_random_n_blocks (self->n_draws); block++)
    {
      const double *sums = model->sums + (gsize) block * (n_aims + 2) * n;

      for (guint i = 0; i < n_aims * n; i++)
        self->desirability[i] += sums[i];
      for (guint i = 0; i < n; i++)
        {
          self->p_cross[i] += sums[n_aims * n + i];
          self->cross_squares[i] += sums[(n_aims + 1) * n + i];
        }
    }
  for (guint i = 0; i < n; i++)
    {
      self->p_cross[i] /= self->n_draws;
      self->cross_squares[i] /= self->n_draws;
    }
  for (guint a = 0; a < n_aims; a++)
    for (guint i = 0; i < n; i++)
      self->desirability[a * n + i] = self->dropped[a] ? NAN : self->desirability[a * n + i] / self->n_draws;
}

static WbCraftScore *
score_alloc (const WbDataset *data,
             guint            n,
             guint            draws)
{
  WbCraftScore *self = g_new0 (WbCraftScore, 1);

  self->n_cells = n;
  self->n_draws = draws;
  self->recipe = g_new0 (double, (gsize) draws * n);
  self->candle = g_new0 (double, (gsize) draws * n);
  self->p_cross = g_new0 (double, n);
  self->crossing = g_new0 (double, (gsize) draws * n);
  self->tested = g_new0 (gboolean, n);
  self->cross_squares = g_new0 (double, n);
  self->aims = wb_craft_aims_new (data);
  self->dropped = g_new0 (gboolean, self->aims->len);
  self->desirability = g_new0 (double, (gsize) self->aims->len * n);
  self->borrowed = g_new0 (gboolean, (gsize) self->aims->len * n);
  self->candles = wb_craft_candles_new (n, self->aims->len, draws);
  return self;
}

WbCraftScore *
wb_craft_score_new (const WbDataset    *data,
                    const WbCraftDraws *draws,
                    const guint        *members,
                    guint               n,
                    guint64             seed,
                    WbCraftKeepGoing    keep_going,
                    gpointer            user)
{
  g_autoptr (WbCraftScore) self = score_alloc (data, n, draws->n_draws);
  Model model = { .data = data, .draws = draws, .members = members, .n = n, .score = self };
  g_autoptr (WbCraftShuffles) shuffles = NULL;
  gboolean done;

  model_init (&model, self);
  model.shuffles = draws->shuffles;
  if (model.shuffles == NULL || model.shuffles->seed != seed)
    model.shuffles = shuffles = wb_craft_shuffles_new (&draws->candles, seed, draws->n_draws);
  done = wb_craft_workers_run ((guint) wb_calc_random_n_blocks (draws->n_draws), draw_block, &model, keep_going, user);
  if (done)
    add_blocks (&model, self);
  model_clear (&model);
  return done ? g_steal_pointer (&self) : NULL;
}

void
wb_craft_score_free (WbCraftScore *self)
{
  if (self == NULL)
    return;
  g_free (self->recipe);
  g_free (self->candle);
  g_free (self->p_cross);
  g_free (self->crossing);
  g_free (self->tested);
  g_free (self->cross_squares);
  g_free (self->dropped);
  g_free (self->desirability);
  g_free (self->borrowed);
  wb_craft_candles_free (self->candles);
  g_array_unref (self->aims);
  g_free (self);
}
