/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-score-private.h"

#include <math.h>

#include "wb-calc-quantile.h"
#include "wb-calc-random.h"
#include "wb-craft-growth-private.h"
#include "wb-craft-scale-private.h"
#include "wb-craft-vessel-private.h"

#define SURE_Z 5.0   /* further from a limit than this its chance is nothing */

/* A measured limit at one stage: the tightest stop of its figure there. */
typedef struct
{
  WbFigure           figure;
  double             stop;
  const WbCraftDraw *draw;
} Stop;

/* Everything that does not change from draw to draw. */
typedef struct
{
  const WbDataset    *data;
  const WbCraftDraws *draws;
  const guint        *members;
  guint               n;
  guint64             seed;
  const WbCraftDraw **aims;     /* an aim each; NULL: dropped */
  guint              *class;    /* an aim each: aims of one weight share a class, so that one logarithm serves them all */
  GArray             *classes;  /* double: the weights */
  double              weights;  /* sum over the aims kept */
  GArray             *stops;    /* Stop */
  double              strata[WB_CRAFT_N_STRATA]; /* middles of equal-chance strata of a standard normal */
} Model;

/* What all cells share in one draw. */
typedef struct
{
  guint   order[WB_N_FIGURES][WB_CRAFT_N_STRATA]; /* which stratum of a figure the candle k has */
  guint   candle;    /* which of the candles stands for the next one */
  double  luck;      /* uniform, for the next candle's crossing */
  double *factors;   /* an aim × a stratum: the deviation of a candle there, as a factor where the scale is a logarithm */
  double *products;  /* scratch of one cell: a class of weights × a stratum */
} Common;

static gboolean
figure_of_limit (const WbLimit *limit,
                 WbFigure      *figure)
{
  switch (limit->kind)
    {
    case WB_LIMIT_FLAME:
    case WB_LIMIT_FLAME_HOUSE:
      *figure = WB_FIGURE_FLAME;
      return !limit->off && limit->stop_at > 0;
    case WB_LIMIT_VESSEL:
      *figure = WB_FIGURE_VESSEL;
      return !limit->off && limit->stop_at > 0;
    default:
      return FALSE;
    }
}

static double
tightest_stop (const WbDataset *data,
               WbFigure         figure)
{
  double stop = INFINITY;

  for (guint i = 0; i < data->limits->len; i++)
    {
      const WbLimit *limit = g_ptr_array_index (data->limits, i);
      WbFigure of_limit;

      if (figure_of_limit (limit, &of_limit) && of_limit == figure)
        stop = MIN (stop, limit->stop_at);
    }
  return stop;
}

/* Limits are not borrowed: what a cell has not read is not tested, and the verdict says so. */
static void
add_stops (Model *model)
{
  static const WbFigure figures[] = { WB_FIGURE_FLAME, WB_FIGURE_VESSEL };

  for (guint f = 0; f < G_N_ELEMENTS (figures); f++)
    for (WbStage stage = 0; stage < WB_N_STAGES; stage++)
      {
        Stop stop = { figures[f], tightest_stop (model->data, figures[f]),
                      wb_craft_draws_find (model->draws, figures[f], stage, TRUE) };

        if (isfinite (stop.stop) && stop.draw != NULL && wb_craft_draw_is_read (stop.draw, model->members, model->n))
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

static void
model_init (Model        *model,
            WbCraftScore *self)
{
  model->aims = g_new0 (const WbCraftDraw *, MAX (self->aims->len, 1));
  model->class = g_new0 (guint, MAX (self->aims->len, 1));
  model->classes = g_array_new (FALSE, FALSE, sizeof (double));
  model->stops = g_array_new (FALSE, FALSE, sizeof (Stop));
  for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
    model->strata[k] = wb_calc_normal_quantile ((k + 0.5) / WB_CRAFT_N_STRATA);
  for (guint a = 0; a < self->aims->len; a++)
    {
      const WbCraftAim *aim = &g_array_index (self->aims, WbCraftAim, a);
      const WbCraftDraw *draw = wb_craft_draws_find (model->draws, aim->figure, aim->stage, aim->worst);

      self->dropped[a] = draw == NULL || !wb_craft_draw_is_read (draw, model->members, model->n);
      if (self->dropped[a])
        continue;
      model->aims[a] = draw;
      model->class[a] = class_of (model->classes, aim->weight);
      model->weights += aim->weight;
      for (guint i = 0; i < model->n; i++)
        self->borrowed[a * model->n + i] = !draw->read[model->members[i]];
    }
  self->asks = model->weights > 0;
  add_stops (model);
}

static void
model_clear (Model *model)
{
  g_free (model->aims);
  g_free (model->class);
  g_array_unref (model->classes);
  g_array_unref (model->stops);
}

static void
draw_common (const Model  *model,
             WbCalcRandom *random,
             guint         index,
             guint         n_aims,
             Common       *common)
{
  for (guint figure = 0; figure < WB_N_FIGURES; figure++)
    {
      size_t order[WB_CRAFT_N_STRATA];

      for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
        order[k] = k;
      wb_calc_random_shuffle (random, order, WB_CRAFT_N_STRATA);
      for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
        common->order[figure][k] = (guint) order[k];
    }
  common->candle = (guint) wb_calc_random_below (random, WB_CRAFT_N_STRATA);
  common->luck = wb_calc_random_uniform (random);
  for (guint a = 0; a < n_aims; a++)
    for (guint k = 0; k < WB_CRAFT_N_STRATA && model->aims[a] != NULL; k++)
      {
        double deviation = model->aims[a]->sample_sd[index] * model->strata[k];

        common->factors[a * WB_CRAFT_N_STRATA + k]
            = model->aims[a]->growth || model->aims[a]->log_scale ? exp (deviation) : deviation;
      }
}

/* What the candles of a recipe would show in that draw, one a stratum: stored unit; full pool as a multiple, INFINITY for never. */
static void
show_candles (const Model       *model,
              const WbCraftDraw *draw,
              guint              index,
              guint              cell,
              const double      *factors,
              double             values[WB_CRAFT_N_STRATA])
{
  gsize at = (gsize) index * model->draws->n_cells + cell;
  double level = draw->growth || draw->log_scale ? exp (draw->level[at]) : draw->level[at];
  const WbVessel *vessel;
  double inner, tau;

  if (!draw->growth)
    {
      for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
        values[k] = CLAMP ((draw->log_scale ? level * factors[k] : level + factors[k]) + draw->offset, draw->low, draw->high);
      return;
    }
  vessel = wb_dataset_get_vessel (model->data, cell);
  inner = wb_craft_vessel_inner_mm (vessel, draw->stage);
  tau = exp (draw->pace[at]) / wb_craft_vessel_due_h (vessel, draw->stage);
  for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
    values[k] = wb_craft_growth_time (level * factors[k], tau, draw->exponent, inner);
}

/* Chance that the burns of a candle of that deviation stay under the stop. */
static double
chance_under (const Stop *stop,
              double      level,
              double      deviation,
              double      burn_sd)
{
  double at = wb_craft_scale_from (stop->figure, stop->stop, stop->draw->offset);
  double z = at - level - deviation;

  z = burn_sd > 0 ? z / burn_sd : z > 0 ? INFINITY : -INFINITY;
  if (z > SURE_Z)
    return 1;
  return pow (wb_calc_normal_below (z), stop->draw->burns);
}

/* Multiplies the desirability of one aim into each candle's product; the mean of it goes to the aim's part. kept: may be NULL. */
static void
judge_aim (const WbCraftAim *aim,
           const double     *values,
           const guint      *order,
           double           *product,
           double           *part,
           float            *kept)
{
  double desirability[WB_CRAFT_N_STRATA];
  double sum = 0;

  for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
    {
      desirability[k] = wb_calc_desirability_at (&aim->shape, values[k]);
      sum += desirability[k];
    }
  for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
    product[k] *= desirability[order[k]];
  for (guint k = 0; k < WB_CRAFT_N_STRATA && kept != NULL; k++)
    kept[k] = logf ((float) desirability[order[k]]);
  *part += sum / WB_CRAFT_N_STRATA;
}

/* The chance of each candle that no measured limit is crossed in its burns. */
static void
judge_stops (const Model  *model,
             const Common *common,
             guint         index,
             guint         cell,
             double       *under)
{
  for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
    under[k] = 1;
  for (guint s = 0; s < model->stops->len; s++)
    {
      const Stop *stop = &g_array_index (model->stops, Stop, s);
      double level = stop->draw->level[(gsize) index * model->draws->n_cells + cell];

      if (!stop->draw->read[cell])
        continue;
      for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
        under[k] *= chance_under (stop, level, stop->draw->sample_sd[index] * model->strata[common->order[stop->figure][k]],
                                  stop->draw->burn_sd[index]);
    }
}

/* Weighted geometric mean of the desirabilities of candle k, from the products of each class of weights. */
static double
geometric_mean (const Model  *model,
                const double *products,
                guint         k)
{
  double sum = 0;

  for (guint c = 0; c < model->classes->len; c++)
    {
      double product = products[c * WB_CRAFT_N_STRATA + k];

      if (product < 1)
        sum += g_array_index (model->classes, double, c) * log (product);
    }
  return model->weights > 0 ? exp (sum / model->weights) : 0;
}

/* One cell in one draw. */
static void
draw_cell (const Model  *model,
           Common       *common,
           guint         i,
           guint         index,
           WbCraftScore *self)
{
  double under[WB_CRAFT_N_STRATA], values[WB_CRAFT_N_STRATA];
  float *kept = wb_craft_candles_get_under (self->candles, i, index);
  double sum = 0, crossing = 0;
  gsize at = (gsize) index * model->n + i;

  for (guint c = 0; c < model->classes->len * WB_CRAFT_N_STRATA; c++)
    common->products[c] = 1;
  for (guint a = 0; a < self->aims->len; a++)
    {
      const WbCraftAim *aim = &g_array_index (self->aims, WbCraftAim, a);

      if (model->aims[a] == NULL)
        continue;
      show_candles (model, model->aims[a], index, model->members[i], common->factors + a * WB_CRAFT_N_STRATA, values);
      judge_aim (aim, values, common->order[aim->figure], common->products + model->class[a] * WB_CRAFT_N_STRATA,
                 &self->desirability[a * model->n + i], wb_craft_candles_get_worth (self->candles, a, i, index));
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
  self->p_cross[i] += crossing;
  self->cross_squares[i] += crossing * crossing;
}

/* A block of 256 draws. What the cells share comes from a generator of seed and block. */
static void
draw_block (const Model  *model,
            guint         block,
            Common       *common,
            WbCraftScore *self)
{
  guint first = block * WB_CALC_RANDOM_BLOCK;
  guint last = MIN (first + WB_CALC_RANDOM_BLOCK, self->n_draws);
  WbCalcRandom shared;

  wb_calc_random_init (&shared, model->seed, block);
  for (guint draw = first; draw < last; draw++)
    {
      draw_common (model, &shared, draw, self->aims->len, common);
      for (guint i = 0; i < model->n; i++)
        draw_cell (model, common, i, draw, self);
    }
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
  guint n_draws = draws->n_draws;
  g_autoptr (WbCraftScore) self = score_alloc (data, n, n_draws);
  Model model = { .data = data, .draws = draws, .members = members, .n = n, .seed = seed };
  Common common = { 0 };
  gboolean stopped = FALSE;

  model_init (&model, self);
  common.factors = g_new0 (double, MAX (self->aims->len, 1) * WB_CRAFT_N_STRATA);
  common.products = g_new0 (double, MAX (model.classes->len, 1) * WB_CRAFT_N_STRATA);
  for (guint block = 0; block < wb_calc_random_n_blocks (n_draws) && !stopped; block++)
    {
      draw_block (&model, block, &common, self);
      stopped = keep_going != NULL && !keep_going ((double) (block + 1) / wb_calc_random_n_blocks (n_draws), user);
    }
  for (guint i = 0; i < n; i++)
    {
      self->p_cross[i] /= n_draws;
      self->cross_squares[i] /= n_draws;
    }
  for (guint a = 0; a < self->aims->len; a++)
    for (guint i = 0; i < n; i++)
      self->desirability[a * n + i] = self->dropped[a] ? NAN : self->desirability[a * n + i] / n_draws;
  model_clear (&model);
  g_free (common.factors);
  g_free (common.products);
  return stopped ? NULL : g_steal_pointer (&self);
}

void
wb_craft_score_free (WbCraftScore *self)
{
  if (self == NULL)
    return;
  g_free (self->recipe);
  g_free (self->candle);
  g_free (self->p_cross);
  g_free (self->cross_squares);
  g_free (self->dropped);
  g_free (self->desirability);
  g_free (self->borrowed);
  wb_craft_candles_free (self->candles);
  g_array_unref (self->aims);
  g_free (self);
}
