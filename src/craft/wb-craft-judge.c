/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-judge-private.h"

#include <math.h>

#include "wb-calc-quantile.h"
#include "wb-craft-growth-private.h"
#include "wb-craft-vessel-private.h"

/*
 * The innermost loops of the score: written without branches and calls, so that the
 * compiler takes two candles at a time. `a > b ? a : b` is one instruction, and gives b
 * where a is NaN: the side of a shape that is open relies on that.
 */

#define WIDTH WB_CRAFT_JUDGE_WIDTH

static WbCraftJudgeSide
side_of (double one,
         double zero,
         double floor)
{
  return isinf (one) ? (WbCraftJudgeSide) { 0, 0, 1 } : (WbCraftJudgeSide) { zero, 1 / (one - zero), floor };
}

void
wb_craft_judge_init (WbCraftJudge      *self,
                     const WbDataset   *data,
                     const guint       *members,
                     guint              n,
                     const WbCraftAim  *aim,
                     const WbCraftDraw *draw)
{
  const WbCalcDesirability *shape = &aim->shape;

  *self = (WbCraftJudge) {
    .figure = aim->figure, .draw = draw, .shape = *shape,
    .low = side_of (shape->one_from, shape->zero_below, shape->floor_low),
    .high = side_of (shape->one_to, shape->zero_above, shape->floor_high),
  };
  self->straight = shape->exponent_low == 1 && shape->exponent_high == 1 && isfinite (self->low.per) && isfinite (self->high.per);
  if (!draw->growth)
    return;
  self->inner = g_new (double, MAX (n, 1));
  self->due = g_new (double, MAX (n, 1));
  for (guint i = 0; i < n; i++)
    {
      const WbVessel *vessel = wb_dataset_get_vessel (data, members[i]);

      self->inner[i] = wb_craft_vessel_inner_mm (vessel, draw->stage);
      self->due[i] = wb_craft_vessel_due_h (vessel, draw->stage);
    }
}

void
wb_craft_judge_clear (WbCraftJudge *self)
{
  g_free (self->inner);
  g_free (self->due);
}

void
wb_craft_judge_spread (const WbCraftJudge *self,
                       guint               index,
                       const double        strata[WB_CRAFT_N_STRATA],
                       const guint8        order[WB_CRAFT_N_STRATA],
                       double              factors[WB_CRAFT_JUDGE_WIDTH])
{
  const WbCraftRatings *ratings = self->draw->ratings;
  double sd = ratings != NULL ? ratings->draws.unit_sd[index % ratings->draws.n_draws] : self->draw->sample_sd[index];

  for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
    {
      double deviation = sd * strata[order[k]];

      factors[k] = self->draw->growth || self->draw->log_scale ? exp (deviation) : deviation;
    }
  factors[WB_CRAFT_N_STRATA] = factors[0];
}

/* What the candles would show: stored unit; full pool as a multiple of when it is due, INFINITY for never. */
static void
show (const WbCraftJudge *self,
      gsize               at,
      guint               member,
      const double        factors[WIDTH],
      double              values[WIDTH])
{
  const WbCraftDraw *draw = self->draw;
  double offset = draw->offset, low = draw->low, high = draw->high;
  double level = draw->growth || draw->log_scale ? exp (draw->level[at]) : draw->level[at];

  if (draw->growth)
    {
      double tau = exp (draw->pace[at]) / self->due[member];

      for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
        values[k] = wb_craft_growth_time (level * factors[k], tau, draw->exponent, self->inner[member]);
      values[WB_CRAFT_N_STRATA] = values[0];
      return;
    }
  if (draw->log_scale)
    for (guint k = 0; k < WIDTH; k++)
      values[k] = level * factors[k] + offset;
  else
    for (guint k = 0; k < WIDTH; k++)
      values[k] = level + factors[k] + offset;
  for (guint k = 0; k < WIDTH; k++)
    {
      double value = values[k] > low ? values[k] : low;

      values[k] = value < high ? value : high;
    }
}

/* What the values are worth, in their place. */
static void
judge_straight (const WbCraftJudge *self,
                double              values[WIDTH])
{
  WbCraftJudgeSide low = self->low, high = self->high;

  for (guint k = 0; k < WIDTH; k++)
    {
      double rise = (values[k] - low.at) * low.per, fall = (values[k] - high.at) * high.per;

      rise = rise > 0 ? rise : 0;
      fall = fall > 0 ? fall : 0;
      rise = low.floor + (1 - low.floor) * rise;
      fall = high.floor + (1 - high.floor) * fall;
      rise = rise < 1 ? rise : 1;
      values[k] = fall < rise ? fall : rise;
    }
}

/* P (Z <= z) from a table: errs by less than 1e-5, in a tenth of the time. */
#define TABLE_REACH 6
#define TABLE_STEPS_A_UNIT 128
#define TABLE_LENGTH (2 * TABLE_REACH * TABLE_STEPS_A_UNIT + 2)

static const double *
get_table (void)
{
  static double table[TABLE_LENGTH];
  static gsize made = 0;

  if (g_once_init_enter (&made))
    {
      for (int i = 0; i < TABLE_LENGTH; i++)
        table[i] = wb_calc_normal_below ((double) i / TABLE_STEPS_A_UNIT - TABLE_REACH);
      g_once_init_leave (&made, 1);
    }
  return table;
}

static double
below (const double *table,
       double        z)
{
  double at;
  int i;

  if (!(z > -TABLE_REACH))
    return 0;
  if (!(z < TABLE_REACH))
    return 1;
  at = (z + TABLE_REACH) * TABLE_STEPS_A_UNIT;
  i = (int) at;
  return table[i] + (at - i) * (table[i + 1] - table[i]);
}

/* The ratings of the candles, each the mean over many of its burns. */
static void
show_ratings (const WbCraftJudge *self,
              gsize               at,
              const double        deviations[WIDTH],
              double              values[WIDTH])
{
  gsize cell = at % self->draw->ratings->draws.n_groups;
  const WbCraftRatings *ratings = self->draw->lent != NULL && self->draw->lent[cell] != NULL ? self->draw->lent[cell] : self->draw->ratings;
  const WbCalcOrdinalDraws *draws = &ratings->draws;
  const double *table = get_table ();
  gsize draw = at / draws->n_groups % draws->n_draws, n = draws->n_categories - 1;
  double eta = draws->eta[draw * draws->n_groups + cell];

  for (guint k = 0; k < WIDTH; k++)
    {
      values[k] = ratings->lowest;
      for (gsize c = 0; c < n; c++)
        values[k] += below (table, eta + deviations[k] - draws->threshold[draw * n + c]);
    }
}

double
wb_craft_judge_candles (const WbCraftJudge *self,
                        gsize               at,
                        guint               member,
                        const double        factors[WB_CRAFT_JUDGE_WIDTH],
                        double              product[WB_CRAFT_JUDGE_WIDTH],
                        float              *kept)
{
  double values[WIDTH];
  double sum = 0;

  if (self->draw->ratings != NULL)
    show_ratings (self, at, factors, values);
  else
    show (self, at, member, factors, values);
  if (self->straight)
    judge_straight (self, values);
  else
    for (guint k = 0; k < WIDTH; k++)
      values[k] = wb_calc_desirability_at (&self->shape, values[k]);
  /* the comparisons above take a NaN for an end: it is not to pass */
  if (isnan (factors[0]) || (self->draw->ratings == NULL && (isnan (self->draw->level[at]) || (self->draw->growth && isnan (self->draw->pace[at])))))
    values[0] = NAN;
  for (guint k = 0; k < WIDTH; k++)
    product[k] *= values[k];
  for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
    sum += values[k];
  for (guint k = 0; k < WB_CRAFT_N_STRATA && kept != NULL; k++)
    kept[k] = logf ((float) values[k]);
  return sum / WB_CRAFT_N_STRATA;
}
