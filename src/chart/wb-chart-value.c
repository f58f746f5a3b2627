/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the values of a layer are drawn: shared by drawing, labelling and pointing. */
#include "config.h"

#include <math.h>

#include "wb-chart-layout-private.h"

/* Part of a category's step that a bar and an event take, and the widest bar in points. */
#define BAR_SHARE 0.68
#define BAR_MOST 26.0
#define EVENT_SHARE 0.5
#define EVENT_MOST 16.0

void
wb_chart_value_get_limits (const WbChartLayer *layer,
                           double             *low,
                           double             *high)
{
  *low = *high = NAN;
  for (gsize i = 0; i < layer->n_rows * layer->n_columns; i++)
    {
      *low = fmin (*low, layer->values[i]);
      *high = fmax (*high, layer->values[i]);
    }
  if (isnan (*low))
    return;

  *low = fmin (*low, layer->scale_low);
  *high = fmax (*high, layer->scale_high);
}

double
wb_chart_value_get_place (const WbChartLayer *layer,
                          double              value)
{
  double low, high;

  wb_chart_value_get_limits (layer, &low, &high);
  if (layer->heat == WB_CHART_HEAT_AROUND)
    {
      double reach = fmax (fabs (low - layer->middle), fabs (high - layer->middle));

      return reach > 0.0 ? (value - layer->middle) / reach : 0.0;
    }

  return high > low ? (value - low) / (high - low) : 0.5;
}

static gboolean
get_cell (const WbChartFrame *frame,
          const WbChartLayer *layer,
          gsize               index,
          WbChartRect        *rect)
{
  double row = (double) (index / layer->n_columns), column = (double) (index % layer->n_columns);
  double left = wb_chart_map_at (&frame->x, column - 0.5), right = wb_chart_map_at (&frame->x, column + 0.5);
  double top = wb_chart_map_at (&frame->y, row - 0.5), bottom = wb_chart_map_at (&frame->y, row + 0.5);

  *rect = (WbChartRect) { fmin (left, right), fmin (top, bottom), fabs (right - left), fabs (bottom - top) };

  return TRUE;
}

static gboolean
get_bar (const WbChartFrame *frame,
         const WbChartLayer *layer,
         gsize               index,
         WbChartRect        *rect)
{
  gsize  row = index / layer->n_columns, part = index % layer->n_columns;
  double from = 0.0, value = layer->values[index];
  double thick = fmin (fabs (frame->y.scale) * BAR_SHARE, BAR_MOST);

  if (isnan (value))
    return FALSE;
  for (gsize before = 0; before < part; before++)
    {
      double other = layer->values[row * layer->n_columns + before];

      from += isnan (other) ? 0.0 : other;
    }

  double left = wb_chart_map_at (&frame->x, from), right = wb_chart_map_at (&frame->x, from + value);
  if (isnan (left))
    left = frame->plot.x;
  left = fmax (left, frame->plot.x);
  right = fmin (right, frame->plot.x + frame->plot.width);
  *rect = (WbChartRect) { left, wb_chart_map_at (&frame->y, (double) row) - thick / 2.0, fmax (right - left, 0.0), thick };

  return TRUE;
}

static gboolean
get_event (const WbChartFrame *frame,
           const WbChartLayer *layer,
           gsize               index,
           WbChartRect        *rect)
{
  double start = layer->low[index],
         end = layer->high == NULL || isnan (layer->high[index]) ? start : layer->high[index];
  double left = wb_chart_map_at (&frame->x, start), right = wb_chart_map_at (&frame->x, end);
  double thick = fmin (fabs (frame->y.scale) * EVENT_SHARE, EVENT_MOST);

  if (isnan (left) || isnan (right))
    return FALSE;
  *rect = (WbChartRect) { fmin (left, right), wb_chart_map_at (&frame->y, layer->centre_y) - thick / 2.0, fabs (right - left), thick };

  return TRUE;
}

gboolean
wb_chart_value_get_rect (const WbChartFrame *frame,
                         const WbChartLayer *layer,
                         gsize               index,
                         WbChartRect        *rect)
{
  switch (layer->kind)
    {
    case WB_CHART_LAYER_HEAT:
      return get_cell (frame, layer, index, rect);
    case WB_CHART_LAYER_BARS:
      return get_bar (frame, layer, index, rect);
    case WB_CHART_LAYER_EVENTS:
      return get_event (frame, layer, index, rect);
    case WB_CHART_LAYER_LINE:
    case WB_CHART_LAYER_BAND:
    case WB_CHART_LAYER_POINTS:
    case WB_CHART_LAYER_RULE:
    case WB_CHART_LAYER_REGION:
    case WB_CHART_LAYER_WALL:
    case WB_CHART_LAYER_RINGS:
    case WB_CHART_LAYER_TEXT:
    default:
      return FALSE;
    }
}

gboolean
wb_chart_value_get_point (const WbChartFrame *frame,
                          const WbChartLayer *layer,
                          gsize               index,
                          double             *x,
                          double             *y)
{
  WbChartRect rect;

  switch (layer->kind)
    {
    case WB_CHART_LAYER_LINE:
    case WB_CHART_LAYER_POINTS:
      *x = wb_chart_map_at (&frame->x, layer->x[index]);
      *y = wb_chart_map_at (&frame->y, layer->y[index]);
      break;
    case WB_CHART_LAYER_BAND:
      *x = wb_chart_map_at (&frame->x, layer->x[index]);
      *y = (wb_chart_map_at (&frame->y, layer->low[index]) + wb_chart_map_at (&frame->y, layer->high[index])) / 2.0;
      break;
    case WB_CHART_LAYER_RINGS:
      *x = wb_chart_map_at (&frame->x, layer->centre_x);
      *y = wb_chart_map_at (&frame->y, layer->centre_y) - fabs (frame->x.scale) * layer->x[index] / 2.0;
      break;
    case WB_CHART_LAYER_BARS:
    case WB_CHART_LAYER_HEAT:
    case WB_CHART_LAYER_EVENTS:
      if (!wb_chart_value_get_rect (frame, layer, index, &rect))
        return FALSE;
      *x = rect.x + rect.width / 2.0;
      *y = rect.y + rect.height / 2.0;
      break;
    case WB_CHART_LAYER_RULE:
    case WB_CHART_LAYER_REGION:
    case WB_CHART_LAYER_WALL:
    case WB_CHART_LAYER_TEXT:
    default:
      return FALSE;
    }

  /* Half a point of grace for values on the very edge. */
  WbChartRect reach = { frame->plot.x - 0.5, frame->plot.y - 0.5, frame->plot.width + 1.0,
                        frame->plot.height + 1.0 };

  return !isnan (*x) && !isnan (*y) && wb_chart_rect_has (&reach, *x, *y);
}
