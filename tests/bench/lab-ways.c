/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "lab-ways.h"

#include <math.h>

#include "lab-truth.h"

/* What the burns of a cell say on average, in one stage or in all. */
typedef struct
{
  guint    burns;
  double   mean[WB_N_FIGURES]; /* NAN: not read; full pool in h as first seen, INFINITY: in less than half of the burns */
  double   halfway_h;          /* the same, half way between the last look before and that */
  gboolean over;               /* a house limit, in any reading */
} Average;

typedef struct { double sum; guint n; } Sum;

static void
sum_add (Sum   *sum,
         double value)
{
  if (isnan (value))
    return;
  sum->sum += value;
  sum->n++;
}

static double
sum_mean (const Sum *sum)
{
  return sum->n > 0 ? sum->sum / sum->n : NAN;
}

const char *
lab_way_get_label (LabWay way)
{
  static const char *labels[LAB_N_WAYS] = { "the program", "plain average", "same, halfway", "maker's sheet", "any wick",
                                              "who knows the law" };

  return labels[way];
}

static double
halfway (const WbCraftBurn *burn)
{
  return (burn->full_seen_h + (isnan (burn->not_full_h) ? 0 : burn->not_full_h)) / 2;
}

static Average
average (const WbCraftFigures *figures,
         guint                 cell,
         WbStage               stage)
{
  static const WbFigure ends[] = {
    WB_FIGURE_HANG_UP, WB_FIGURE_DEPTH, WB_FIGURE_FLAME, WB_FIGURE_VESSEL, WB_FIGURE_SOOT, WB_FIGURE_MUSHROOM,
  };
  Average self = { 0 };
  Sum sums[WB_N_FIGURES] = { 0 }, seen = { 0 }, half = { 0 };

  for (guint i = 0; i < figures->n_burns; i++)
    {
      const WbCraftBurn *burn = &figures->burns[i];

      if (burn->cell != cell)
        continue;
      self.over = self.over || burn->flame_max_mm > LAB_FLAME_STOP_MM || burn->vessel_max_c > LAB_VESSEL_STOP_C;
      if (stage != WB_STAGE_ALL && burn->stage != stage)
        continue;
      self.burns++;
      for (guint f = 0; f < G_N_ELEMENTS (ends); f++)
        sum_add (&sums[ends[f]], wb_craft_burn_get (burn, ends[f], FALSE));
      sum_add (&seen, burn->full_seen_h);
      sum_add (&half, halfway (burn));
    }
  for (guint f = 0; f < WB_N_FIGURES; f++)
    self.mean[f] = sum_mean (&sums[f]);
  self.mean[WB_FIGURE_FULL_POOL] = 2 * seen.n >= self.burns ? sum_mean (&seen) : INFINITY;
  self.halfway_h = 2 * seen.n >= self.burns ? sum_mean (&half) : INFINITY;
  return self;
}

static double
rate_plain (const WbDataset      *data,
            const WbCraftFigures *figures,
            guint                 cell,
            gboolean              half)
{
  double sum = 0, weights = 0;

  for (guint a = 0; a < data->aims->len; a++)
    {
      const WbAim *aim = g_ptr_array_index (data->aims, a);
      Average of_stage = average (figures, cell, aim->stage);
      double value = of_stage.mean[aim->figure];

      if (of_stage.over)
        return 0;
      if (of_stage.burns == 0 || isnan (value))
        continue;
      if (aim->figure == WB_FIGURE_FULL_POOL)
        value = (half ? of_stage.halfway_h : value) / wb_craft_cell_get_due_h (data, cell, aim->stage);
      sum += aim->weight * log (lab_desire (aim, value));
      weights += aim->weight;
    }
  return weights > 0 ? exp (sum / weights) : 0;
}

static double
rate_sheet (const WbDataset      *data,
            const WbCraftFigures *figures,
            guint                 cell)
{
  Average all = average (figures, cell, WB_STAGE_ALL);
  double due = ceil (wb_craft_cell_get_due_h (data, cell, WB_STAGE_UPPER) - 1e-9); /* 76.2 mm are 3 h, not a little more */
  double late = fabs (round (all.mean[WB_FIGURE_FULL_POOL]) - due);
  double points = 0;

  if (all.over)
    return -1;
  points += isinf (late) ? 1 : late == 0 ? 3 : late == 1 ? 1 : 0;
  points += all.mean[WB_FIGURE_DEPTH] >= 6 && all.mean[WB_FIGURE_DEPTH] <= 13;
  points += all.mean[WB_FIGURE_FLAME] >= 13 && all.mean[WB_FIGURE_FLAME] <= 25;
  points += all.mean[WB_FIGURE_VESSEL] <= 60;
  points += all.mean[WB_FIGURE_HANG_UP] <= 3;
  points += all.mean[WB_FIGURE_SOOT] <= 0.5 ? 2 : all.mean[WB_FIGURE_SOOT] <= 1.5 ? 1 : 0;
  points += all.mean[WB_FIGURE_MUSHROOM] <= 1;
  return points;
}

double *
lab_way_rate (LabWay                way,
              const WbDataset      *data,
              const WbCraftFigures *figures)
{
  double *rated = g_new (double, data->cells->len);

  for (guint i = 0; i < data->cells->len; i++)
    {
      if (average (figures, i, WB_STAGE_ALL).burns == 0)
        rated[i] = NAN;
      else if (way == LAB_WAY_SHEET)
        rated[i] = rate_sheet (data, figures, i);
      else
        rated[i] = rate_plain (data, figures, i, way == LAB_WAY_HALFWAY);
    }
  return rated;
}
