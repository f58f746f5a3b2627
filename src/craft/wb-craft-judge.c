/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-judge-private.h"

#include <math.h>

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
                       const guint         order[WB_CRAFT_N_STRATA],
                       double              factors[WB_CRAFT_JUDGE_WIDTH])
{
  double sd = self->draw->sample_sd[index];

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

  show (self, at, member, factors, values);
  if (self->straight)
    judge_straight (self, values);
  else
    for (guint k = 0; k < WIDTH; k++)
      values[k] = wb_calc_desirability_at (&self->shape, values[k]);
  /* the comparisons above take a NaN for an end: it is not to pass */
  if (isnan (self->draw->level[at]) || isnan (factors[0]) || (self->draw->growth && isnan (self->draw->pace[at])))
    values[0] = NAN;
  for (guint k = 0; k < WIDTH; k++)
    product[k] *= values[k];
  for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
    sum += values[k];
  for (guint k = 0; k < WB_CRAFT_N_STRATA && kept != NULL; k++)
    kept[k] = logf ((float) values[k]);
  return sum / WB_CRAFT_N_STRATA;
}
