/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-source-private.h"

#include <math.h>

#include "wb-calc-quantile.h"
#include "wb-calc-ridge.h"
#include "wb-craft-growth-private.h"
#include "wb-craft-scale-private.h"
#include "wb-craft-vessel-private.h"

/* What cells of one group may differ by where only one of them tells; on a logarithm, in mm, in steps of a rating. */
#define LONE_SPREAD_LOG 0.25
#define LONE_SPREAD_PLAIN 2.0
#define LONE_SPREAD_RATING 1.0

/* `like`: a source made before, whose table serves again where the degrees of freedom are the same; may be NULL. */
static void
prepare (WbCraftSource       *source,
         const WbCraftSource *like)
{
  gboolean again = like != NULL && like->df == source->df;

  for (guint i = 0; i < WB_CRAFT_N_CHI; i++)
    {
      if (again)
        {
          source->chi[i] = like->chi[i];
          continue;
        }
      double x = wb_calc_chisq_quantile ((WB_CRAFT_N_CHI - i - 0.5) / WB_CRAFT_N_CHI, source->df);

      source->chi[i] = isfinite (x) && x > 0 ? sqrt (source->df / x) : 1;
    }
  for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
    {
      source->strata[k] = source->sample_sd * wb_calc_normal_quantile ((k + 0.5) / WB_CRAFT_N_STRATA);
      source->factors[k] = exp (source->strata[k]);
    }
  wb_craft_scale_get_ends (source->figure, &source->low, &source->high);
}

static WbCraftSource
from_estimate (const WbCraftAim      *aim,
               const WbCraftEstimate *estimate)
{
  WbCraftSource source = {
    .kind = WB_CRAFT_SOURCE_MEAN, .figure = aim->figure,
    .mean = estimate->mean, .se = estimate->se, .df = estimate->df,
    .sample_sd = estimate->sample_sd, .burn_sd = estimate->burn_sd,
    .burns = estimate->samples > 0 ? MAX ((double) estimate->burns / estimate->samples, 1) : 1,
    .log_scale = estimate->log_scale, .offset = estimate->offset,
  };

  return source;
}

static WbCraftSource
from_growth (const WbCraftGrowth *growth)
{
  double sd = sqrt (growth->var_limit);
  double slope = sd > 0 ? growth->cov / sd : 0;
  WbCraftSource source = {
    .kind = WB_CRAFT_SOURCE_GROWTH, .figure = WB_FIGURE_FULL_POOL,
    .mean = growth->log_limit, .se = sd, .df = growth->df,
    .sample_sd = isnan (growth->sample_sd) ? 0 : growth->sample_sd,
    .log_tau = growth->log_tau, .tau_slope = slope,
    .tau_rest = sqrt (fmax (growth->var_tau - slope * slope, 0)),
  };

  if (growth->status == WB_CRAFT_FIT_ALL_AT_WALL)
    {
      source.kind = WB_CRAFT_SOURCE_WALL;
      source.at_wall_h = growth->at_wall_h;
      source.df = INFINITY;
      source.sample_sd = 0;
    }
  return source;
}

/* What the cells that have a figure say about one that has not. */
typedef struct
{
  guint  n;
  double mean, spread, df;
  double se_square;
} Lent;

static double
lone_spread (const WbCraftSource *like)
{
  if (like->log_scale || like->kind == WB_CRAFT_SOURCE_GROWTH)
    return LONE_SPREAD_LOG;
  return wb_craft_scale_is_rating (like->figure) ? LONE_SPREAD_RATING : LONE_SPREAD_PLAIN;
}

/* Mean of those that have it, with the spread of a further one. */
static Lent
lend_mean (const WbCraftSource *sources,
           guint                n)
{
  Lent lent = { 0 };
  double sum = 0, squares = 0;
  const WbCraftSource *like = NULL;

  for (guint i = 0; i < n; i++)
    if (sources[i].kind == WB_CRAFT_SOURCE_MEAN || sources[i].kind == WB_CRAFT_SOURCE_GROWTH)
      {
        sum += sources[i].mean;
        lent.se_square += sources[i].se * sources[i].se;
        lent.n++;
        like = &sources[i];
      }
  if (lent.n == 0)
    return lent;
  lent.mean = sum / lent.n;
  lent.se_square /= lent.n;
  for (guint i = 0; i < n; i++)
    if (sources[i].kind == WB_CRAFT_SOURCE_MEAN || sources[i].kind == WB_CRAFT_SOURCE_GROWTH)
      squares += pow (sources[i].mean - lent.mean, 2);
  lent.spread = lent.n > 1 ? sqrt (squares / (lent.n - 1)) : lone_spread (like);
  lent.spread = sqrt ((lent.spread * lent.spread + lent.se_square) * (1 + 1.0 / lent.n));
  lent.df = MAX (lent.n, 2) - 1;
  return lent;
}

/* A line over the step within the wick's series; FALSE with fewer than three sizes that have the figure. */
static gboolean
lend_line (const WbDataset     *data,
           const WbCraftSource *sources,
           const guint         *members,
           guint                n,
           guint                asking,
           Lent                *lent)
{
  const WbWick *wick = wb_dataset_get_wick (data, members[asking]);
  g_autofree double *x = g_new (double, 2 * n);
  g_autofree double *y = g_new (double, n);
  const double at[2] = { 1, wick->step };
  /* flat but for a trace that keeps the matrix regular; half a degree of freedom of belief in a tenth of scatter */
  const double mean[2] = { 0, 0 }, precision[4] = { 1e-9, 0, 0, 1e-9 };
  WbCalcRidgePrior prior = { mean, precision, 0.25, 0.25 * 0.01 };
  WbCalcRidgePrediction prediction;
  WbCalcRidge line;
  guint with = 0;
  double first_step = NAN;
  gboolean steps_differ = FALSE;

  for (guint i = 0; i < n; i++)
    {
      const WbWick *other = wb_dataset_get_wick (data, members[i]);

      if ((sources[i].kind != WB_CRAFT_SOURCE_MEAN && sources[i].kind != WB_CRAFT_SOURCE_GROWTH) || sources[i].borrowed
          || g_strcmp0 (other->series, wick->series) != 0 || other->step == WB_INTEGER_NONE)
        continue;
      x[2 * with] = 1;
      x[2 * with + 1] = other->step;
      y[with++] = sources[i].mean;
      steps_differ = steps_differ || (with > 1 && other->step != first_step);
      first_step = other->step;
    }
  if (with < 3 || !steps_differ || wick->step == WB_INTEGER_NONE
      || wb_calc_ridge_fit (x, y, NULL, with, 2, &prior, &line) != WB_CALC_OK)
    return FALSE;
  if (wb_calc_ridge_predict (&line, at, &prediction) == WB_CALC_OK)
    {
      lent->mean = prediction.mean;
      lent->spread = sqrt (prediction.scale_new * prediction.scale_new + lent->se_square);
      lent->df = prediction.df;
    }
  wb_calc_ridge_clear (&line);
  return TRUE;
}

/* A lender's habits with the lent mean and spread. */
static WbCraftSource
borrow (const WbCraftSource *sources,
        guint                n,
        const Lent          *lent)
{
  WbCraftSource source = { 0 };

  for (guint i = 0; i < n; i++)
    if ((sources[i].kind == WB_CRAFT_SOURCE_MEAN || sources[i].kind == WB_CRAFT_SOURCE_GROWTH) && !sources[i].borrowed)
      {
        source = sources[i];
        break;
      }
  source.borrowed = TRUE;
  source.mean = lent->mean;
  source.se = lent->spread;
  source.df = MAX (lent->df, 1);
  source.tau_slope = 0;
  return source;
}

gboolean
wb_craft_sources_fill (const WbDataset        *data,
                       const WbCraftEstimates *estimates,
                       const WbCraftAim       *aim,
                       const guint            *members,
                       guint                   n,
                       WbCraftSource          *sources)
{
  Lent lent;
  guint read = 0;

  for (guint i = 0; i < n; i++)
    {
      const WbCraftCell *cell = &estimates->cells[members[i]];

      sources[i] = (WbCraftSource) { .kind = WB_CRAFT_SOURCE_NONE, .figure = aim->figure };
      if (!wb_craft_aim_is_read (aim, cell))
        continue;
      sources[i] = aim->figure == WB_FIGURE_FULL_POOL ? from_growth (&cell->stage_growth[aim->stage])
                                                      : from_estimate (aim, wb_craft_aim_get_estimate (aim, cell));
      read++;
    }
  if (read == 0)
    return FALSE;
  lent = lend_mean (sources, n);
  for (guint i = 0; i < n; i++)
    {
      const WbVessel *vessel = wb_dataset_get_vessel (data, members[i]);

      if (sources[i].kind == WB_CRAFT_SOURCE_NONE && lent.n > 0)
        {
          Lent to_this = lent;

          lend_line (data, sources, members, n, i, &to_this);
          sources[i] = borrow (sources, n, &to_this);
        }
      else if (sources[i].kind == WB_CRAFT_SOURCE_NONE)
        {
          /* the others are all at the wall: so may this one be, or not at all */
          sources[i].kind = WB_CRAFT_SOURCE_WALL;
          sources[i].borrowed = TRUE;
          sources[i].df = INFINITY;
          sources[i].at_wall_h = 2 * wb_craft_vessel_due_h (vessel, aim->stage);
        }
      sources[i].inner_mm = wb_craft_vessel_inner_mm (vessel, aim->stage);
      sources[i].due_h = wb_craft_vessel_due_h (vessel, aim->stage);
      prepare (&sources[i], i > 0 ? &sources[i - 1] : NULL);
    }
  return TRUE;
}

WbCraftSourceDraw
wb_craft_source_draw (const WbCraftSource *source,
                      guint                chi,
                      double               z1,
                      double               z2)
{
  WbCraftSourceDraw draw = { 0, 0 };
  double scale = source->chi[chi];

  switch (source->kind)
    {
    case WB_CRAFT_SOURCE_MEAN:
      draw.level = source->mean + scale * source->se * z1;
      break;
    case WB_CRAFT_SOURCE_GROWTH:
      draw.level = source->mean + scale * source->se * z1;
      draw.tau = exp (source->log_tau + scale * (source->tau_slope * z1 + source->tau_rest * z2));
      break;
    case WB_CRAFT_SOURCE_WALL:
      draw.level = source->at_wall_h * wb_calc_normal_below (z1);
      break;
    case WB_CRAFT_SOURCE_NONE:
    default:
      draw.level = NAN;
      break;
    }
  return draw;
}

void
wb_craft_source_candles (const WbCraftSource     *source,
                         const WbCraftSourceDraw *draw,
                         double                   values[WB_CRAFT_N_STRATA])
{
  double level = source->kind == WB_CRAFT_SOURCE_GROWTH || source->log_scale ? exp (draw->level) : draw->level;

  for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
    switch (source->kind)
      {
      case WB_CRAFT_SOURCE_MEAN:
        {
          double value = (source->log_scale ? level * source->factors[k] : level + source->strata[k]) + source->offset;

          values[k] = CLAMP (value, source->low, source->high);
          break;
        }
      case WB_CRAFT_SOURCE_GROWTH:
        values[k] = wb_craft_growth_time (level * source->factors[k], draw->tau, source->inner_mm) / source->due_h;
        break;
      case WB_CRAFT_SOURCE_WALL:
        values[k] = draw->level / source->due_h;
        break;
      case WB_CRAFT_SOURCE_NONE:
      default:
        values[k] = NAN;
        break;
      }
}
