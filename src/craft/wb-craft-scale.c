/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-scale-private.h"

#include <math.h>

#define LEAST_LENGTH_MM 0.5 /* what a ruler can tell from nothing */
#define LEAST_RISE_K 1.0

typedef struct
{
  gboolean         log;
  gboolean         rating;
  double           low, high;
  WbCraftMeanPrior prior;
} Scale;

static const Scale scales[WB_N_FIGURES] = {
  [WB_FIGURE_HANG_UP] = { FALSE, FALSE, 0, 100, { 1.5, 0.9, 0.5, 20, TRUE } },
  [WB_FIGURE_DEPTH] = { TRUE, FALSE, 0, 100, { 0.08, 0.08, 0.03, 1 } },
  [WB_FIGURE_FLAME] = { TRUE, FALSE, 0, 400, { 0.07, 0.06, 0.03, 1 } },
  [WB_FIGURE_VESSEL] = { TRUE, FALSE, -10, 400, { 0.05, 0.05, 0.02, 1 } },
  [WB_FIGURE_SOOT] = { FALSE, TRUE, 0, 4, { 0.3, 0.3, 0, 4 } },
  [WB_FIGURE_MUSHROOM] = { FALSE, TRUE, 0, 2, { 0.3, 0.3, 0, 3 } },
  [WB_FIGURE_THROW] = { FALSE, TRUE, 1, 5, { 0.4, 0.4, 0, 4 } },
  [WB_FIGURE_CONSUMPTION] = { TRUE, FALSE, 0, 1000, { 0.05, 0.05, 0.01, 1 } },
  [WB_FIGURE_POOL] = { TRUE, FALSE, 0, 400, { 0.03, 0.03, 0.01, 1 } },
  [WB_FIGURE_SMOKE] = { FALSE, TRUE, 0, 2, { 0.3, 0.3, 0, 3 } },
};

gboolean
wb_craft_scale_is_log (WbFigure figure)
{
  return scales[figure].log;
}

gboolean
wb_craft_scale_is_rating (WbFigure figure)
{
  return scales[figure].rating;
}

double
wb_craft_scale_from (WbFigure figure,
                     double   value,
                     double   room_c)
{
  if (isnan (value))
    return NAN;
  if (figure == WB_FIGURE_VESSEL)
    return log (fmax (value - room_c, LEAST_RISE_K));
  if (scales[figure].log)
    return log (fmax (value, LEAST_LENGTH_MM));
  return value;
}

double
wb_craft_scale_to (WbFigure figure,
                   double   y,
                   double   offset)
{
  double value = (scales[figure].log ? exp (y) : y) + offset;

  return isnan (value) ? NAN : CLAMP (value, scales[figure].low, scales[figure].high);
}

void
wb_craft_scale_get_ends (WbFigure figure,
                         double  *low,
                         double  *high)
{
  *low = scales[figure].low;
  *high = scales[figure].high;
}

WbCraftMeanPrior
wb_craft_scale_get_prior (WbFigure figure)
{
  return scales[figure].prior;
}
