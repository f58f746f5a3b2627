/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-score-private.h"

#include <math.h>

#include "wb-calc-quantile.h"
#include "wb-calc-random.h"
#include "wb-craft-scale-private.h"

#define SURE_Z 5.0   /* further from a limit than this its chance is nothing */

/* A measured limit at one stage: the tightest stop of its figure there. */
typedef struct
{
  WbFigure       figure;
  double         stop;
  WbCraftSource *sources;    /* a cell each; kind NONE where not read: then not tested, and not guessed */
} Stop;

/* Everything that does not change from draw to draw. */
typedef struct
{
  const WbDataset *data;
  guint            n;
  const gboolean  *failed;
  guint64          seed;
  WbCraftSource  **sources;  /* an aim each: a cell each; NULL: dropped */
  guint           *class;    /* an aim each: aims of one weight share a class, so that one logarithm serves them all */
  GArray          *classes;  /* double: the weights */
  double           weights;  /* sum over the aims kept */
  GArray          *stops;    /* Stop */
} Model;

/* What all cells share in one draw. */
typedef struct
{
  guint  order[WB_N_FIGURES][WB_CRAFT_N_STRATA]; /* which stratum of a figure the candle k has */
  guint *chi;      /* an aim each, then a stop each: common to the cells, whose spreads are pooled */
  guint  candle;   /* which of the candles stands for the next one */
  double luck;     /* uniform, for the next candle's crossing */
  double *products; /* scratch of one cell: a class of weights × a stratum */
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
keep_own (WbCraftSource *sources,
          guint          n)
{
  for (guint i = 0; i < n; i++)
    if (sources[i].borrowed)
      sources[i].kind = WB_CRAFT_SOURCE_NONE;
}

static void
add_stops (Model                  *model,
           const WbCraftEstimates *estimates,
           const guint            *members)
{
  static const WbFigure figures[] = { WB_FIGURE_FLAME, WB_FIGURE_VESSEL };

  for (guint f = 0; f < G_N_ELEMENTS (figures); f++)
    for (WbStage stage = 0; stage < WB_N_STAGES; stage++)
      {
        WbCraftAim watch = { .figure = figures[f], .stage = stage, .worst = TRUE };
        Stop stop = { figures[f], tightest_stop (model->data, figures[f]), NULL };

        if (isinf (stop.stop))
          continue;
        stop.sources = g_new0 (WbCraftSource, model->n);
        if (wb_craft_sources_fill (model->data, estimates, &watch, members, model->n, stop.sources))
          {
            keep_own (stop.sources, model->n);
            g_array_append_val (model->stops, stop);
          }
        else
          g_free (stop.sources);
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
model_init (Model                  *model,
            const WbCraftEstimates *estimates,
            const guint            *members,
            WbCraftScore           *self)
{
  model->sources = g_new0 (WbCraftSource *, self->aims->len);
  model->class = g_new0 (guint, self->aims->len);
  model->classes = g_array_new (FALSE, FALSE, sizeof (double));
  model->stops = g_array_new (FALSE, FALSE, sizeof (Stop));
  for (guint a = 0; a < self->aims->len; a++)
    {
      const WbCraftAim *aim = &g_array_index (self->aims, WbCraftAim, a);
      WbCraftSource *sources = g_new0 (WbCraftSource, model->n);

      self->dropped[a] = !wb_craft_sources_fill (model->data, estimates, aim, members, model->n, sources);
      if (self->dropped[a])
        {
          g_free (sources);
          continue;
        }
      model->sources[a] = sources;
      model->class[a] = class_of (model->classes, aim->weight);
      model->weights += aim->weight;
      for (guint i = 0; i < model->n; i++)
        self->borrowed[a * model->n + i] = sources[i].borrowed;
    }
  self->asks = model->weights > 0;
  add_stops (model, estimates, members);
}

static void
model_clear (Model *model,
             guint  n_aims)
{
  for (guint a = 0; a < n_aims; a++)
    g_free (model->sources[a]);
  g_free (model->sources);
  g_free (model->class);
  g_array_unref (model->classes);
  for (guint i = 0; i < model->stops->len; i++)
    g_free (g_array_index (model->stops, Stop, i).sources);
  g_array_unref (model->stops);
}

static void
draw_common (WbCalcRandom *random,
             guint         n_chi,
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
  for (guint i = 0; i < n_chi; i++)
    common->chi[i] = (guint) wb_calc_random_below (random, WB_CRAFT_N_CHI);
  common->candle = (guint) wb_calc_random_below (random, WB_CRAFT_N_STRATA);
  common->luck = wb_calc_random_uniform (random);
}

/* Chance that the burns of the candle in a stratum stay under the stop. */
static double
chance_under (const Stop              *stop,
              const WbCraftSource     *source,
              const WbCraftSourceDraw *draw,
              guint                    stratum)
{
  double at = wb_craft_scale_from (stop->figure, stop->stop, source->offset);
  double z = at - draw->level - source->strata[stratum];

  z = source->burn_sd > 0 ? z / source->burn_sd : z > 0 ? INFINITY : -INFINITY;
  if (z > SURE_Z)
    return 1;
  return pow (wb_calc_normal_below (z), source->burns);
}

/* Multiplies the desirability of one aim into each candle's product; the mean of it goes to the aim's part. */
static void
judge_aim (const WbCraftAim        *aim,
           const WbCraftSource     *source,
           const WbCraftSourceDraw *draw,
           const guint             *order,
           double                  *product,
           double                  *part)
{
  double desirability[WB_CRAFT_N_STRATA];
  double sum = 0;

  wb_craft_source_candles (source, draw, desirability);
  for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
    {
      desirability[k] = wb_calc_desirability_at (&aim->shape, desirability[k]);
      sum += desirability[k];
    }
  for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
    product[k] *= desirability[order[k]];
  *part += sum / WB_CRAFT_N_STRATA;
}

/* The chance of each candle that no measured limit is crossed in its burns. */
static void
judge_stops (const Model  *model,
             const Common *common,
             WbCalcRandom *random,
             guint         cell,
             guint         n_aims,
             double       *under)
{
  for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
    under[k] = 1;
  for (guint s = 0; s < model->stops->len; s++)
    {
      const Stop *stop = &g_array_index (model->stops, Stop, s);
      const WbCraftSource *source = &stop->sources[cell];
      double z1 = wb_calc_random_normal (random);
      WbCraftSourceDraw draw;

      if (source->kind == WB_CRAFT_SOURCE_NONE)
        continue;
      draw = wb_craft_source_draw (source, common->chi[n_aims + s], z1, 0);
      for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
        under[k] *= chance_under (stop, source, &draw, common->order[stop->figure][k]);
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
           WbCalcRandom *random,
           guint         cell,
           guint         draw_index,
           WbCraftScore *self)
{
  double under[WB_CRAFT_N_STRATA];
  double sum = 0, crossing = 0;
  gsize at = (gsize) draw_index * model->n + cell;

  for (guint i = 0; i < model->classes->len * WB_CRAFT_N_STRATA; i++)
    common->products[i] = 1;
  for (guint a = 0; a < self->aims->len; a++)
    {
      const WbCraftAim *aim = &g_array_index (self->aims, WbCraftAim, a);
      WbCraftSourceDraw draw;
      double z1 = wb_calc_random_normal (random);
      double z2 = aim->figure == WB_FIGURE_FULL_POOL ? wb_calc_random_normal (random) : 0;

      if (model->sources[a] == NULL)
        continue;
      draw = wb_craft_source_draw (&model->sources[a][cell], common->chi[a], z1, z2);
      judge_aim (aim, &model->sources[a][cell], &draw, common->order[aim->figure],
                 common->products + model->class[a] * WB_CRAFT_N_STRATA, &self->desirability[a * model->n + cell]);
    }
  judge_stops (model, common, random, cell, self->aims->len, under);
  for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
    {
      double score = model->failed[cell] ? 0 : geometric_mean (model, common->products, k);

      sum += score * under[k];
      crossing += 1 - under[k];
      if (k == common->candle)
        self->candle[at] = common->luck < under[k] ? score : 0;
    }
  self->recipe[at] = sum / WB_CRAFT_N_STRATA;
  self->p_cross[cell] += crossing / WB_CRAFT_N_STRATA;
}

/*
 * A block of 256 draws. What the cells share comes from a generator of seed and
 * block; what is each cell's own from one of seed, cell and block, so that a cell
 * draws the same whoever else is in the group.
 */
static void
draw_block (const Model  *model,
            const guint  *members,
            guint         block,
            Common       *common,
            WbCraftScore *self)
{
  guint first = block * WB_CALC_RANDOM_BLOCK;
  guint last = MIN (first + WB_CALC_RANDOM_BLOCK, self->n_draws);
  g_autofree WbCalcRandom *own = g_new (WbCalcRandom, MAX (model->n, 1));
  WbCalcRandom shared;

  wb_calc_random_init (&shared, model->seed, block);
  for (guint i = 0; i < model->n; i++)
    {
      guint64 state = model->seed + 0x5bd1e995u * (guint64) (members[i] + 1);

      wb_calc_random_init (&own[i], wb_calc_random_split (&state), block);
    }
  for (guint draw = first; draw < last; draw++)
    {
      draw_common (&shared, self->aims->len + model->stops->len, common);
      for (guint i = 0; i < model->n; i++)
        draw_cell (model, common, &own[i], i, draw, self);
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
  self->aims = wb_craft_aims_new (data);
  self->dropped = g_new0 (gboolean, self->aims->len);
  self->desirability = g_new0 (double, (gsize) self->aims->len * n);
  self->borrowed = g_new0 (gboolean, (gsize) self->aims->len * n);
  return self;
}

WbCraftScore *
wb_craft_score_new (const WbDataset        *data,
                    const WbCraftEstimates *estimates,
                    const guint            *members,
                    const gboolean         *failed,
                    guint                   n,
                    guint64                 seed,
                    guint                   draws,
                    WbCraftKeepGoing        keep_going,
                    gpointer                user)
{
  g_autoptr (WbCraftScore) self = score_alloc (data, n, draws);
  Model model = { .data = data, .n = n, .failed = failed, .seed = seed };
  Common common = { 0 };
  gboolean stopped = FALSE;

  model_init (&model, estimates, members, self);
  common.chi = g_new0 (guint, self->aims->len + model.stops->len);
  common.products = g_new0 (double, MAX (model.classes->len, 1) * WB_CRAFT_N_STRATA);
  for (guint block = 0; block < wb_calc_random_n_blocks (draws) && !stopped; block++)
    {
      draw_block (&model, members, block, &common, self);
      stopped = keep_going != NULL && !keep_going ((double) (block + 1) / wb_calc_random_n_blocks (draws), user);
    }
  for (guint i = 0; i < n; i++)
    self->p_cross[i] /= draws;
  for (guint a = 0; a < self->aims->len; a++)
    for (guint i = 0; i < n; i++)
      self->desirability[a * n + i] = self->dropped[a] ? NAN : self->desirability[a * n + i] / draws;
  model_clear (&model, self->aims->len);
  g_free (common.chi);
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
  g_free (self->dropped);
  g_free (self->desirability);
  g_free (self->borrowed);
  g_array_unref (self->aims);
  g_free (self);
}
