/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-chart-occupancy-private.h"

#include <math.h>

#define CELL 3.0
#define ARROW 9.0 /* points above a reading that is "at least": half its marker and its arrow */

/* What a cell holds: ink, and a marker's middle. */
enum
{
  HELD = 1 << 0,
  MARKER = 1 << 1
};

struct _WbChartOccupancy
{
  WbChartRect plot;
  int         n_columns, n_rows;
  guint8     *cells;
};

static int
column_of (const WbChartOccupancy *occupancy,
           double                  x)
{
  return (int) floor ((x - occupancy->plot.x) / CELL);
}

static int
row_of (const WbChartOccupancy *occupancy,
        double                  y)
{
  return (int) floor ((y - occupancy->plot.y) / CELL);
}

static void
mark (WbChartOccupancy *occupancy,
      double            x,
      double            y)
{
  int column = column_of (occupancy, x), row = row_of (occupancy, y);

  if (column >= 0 && column < occupancy->n_columns && row >= 0 && row < occupancy->n_rows)
    occupancy->cells[row * occupancy->n_columns + column] |= HELD;
}

static void
mark_segment (WbChartOccupancy *occupancy,
              double            x1,
              double            y1,
              double            x2,
              double            y2)
{
  const WbChartRect *plot = &occupancy->plot;

  if (fmax (x1, x2) < plot->x || fmin (x1, x2) > plot->x + plot->width || fmax (y1, y2) < plot->y
      || fmin (y1, y2) > plot->y + plot->height)
    return;

  /* Both ends are marked already. */
  if (fabs (x2 - x1) < CELL && fabs (y2 - y1) < CELL && column_of (occupancy, x1) == column_of (occupancy, x2)
      && row_of (occupancy, y1) == row_of (occupancy, y2))
    {
      mark (occupancy, x1, y1);
      return;
    }

  /* What lies far outside adds no cell: hold it near the plot so that the walk stays short. */
  double reach = plot->width + plot->height;
  int    n = (int) (fmin (hypot (x2 - x1, y2 - y1), 8.0 * reach) / CELL) + 1;

  for (int i = 0; i <= n; i++)
    mark (occupancy, x1 + (x2 - x1) * i / n, y1 + (y2 - y1) * i / n);
}

/* A marker covers its neighbours too: a text that only keeps away from its middle would lie on its edge. */
static void
mark_marker (WbChartOccupancy *occupancy,
             double            x,
             double            y)
{
  int     at_column = column_of (occupancy, x), at_row = row_of (occupancy, y);
  guint8 *cell = NULL;

  if (at_column >= 0 && at_column < occupancy->n_columns && at_row >= 0 && at_row < occupancy->n_rows)
    cell = &occupancy->cells[at_row * occupancy->n_columns + at_column];
  /* Of a million values most fall where another one did. */
  if (cell != NULL && (*cell & MARKER) != 0)
    return;
  for (int row = -1; row <= 1; row++)
    for (int column = -1; column <= 1; column++)
      mark (occupancy, x + column * CELL, y + row * CELL);
  if (cell != NULL)
    *cell |= MARKER;
}

static void
mark_points (WbChartOccupancy   *occupancy,
             const WbChartFrame *frame,
             const WbChartLayer *layer,
             gboolean            joined)
{
  double last_x = NAN, last_y = NAN;

  for (gsize i = 0; i < layer->n; i++)
    {
      double x = wb_chart_map_at (&frame->x, layer->x[i]), y = wb_chart_map_at (&frame->y, layer->y[i]);

      if (!isnan (x) && !isnan (y))
        {
          mark_marker (occupancy, x, y);
          if (wb_chart_layer_get_mark (layer, i) == WB_CHART_MARK_AT_LEAST)
            {
              mark_marker (occupancy, x, y - ARROW / 2.0);
              mark_marker (occupancy, x, y - ARROW);
            }
          if (joined && !isnan (last_x) && !isnan (last_y))
            mark_segment (occupancy, last_x, last_y, x, y);
        }
      last_x = x;
      last_y = y;
    }
}

static void
mark_intervals (WbChartOccupancy   *occupancy,
                const WbChartFrame *frame,
                const WbChartLayer *layer)
{
  for (gsize i = 0; layer->low != NULL && i < layer->n; i++)
    {
      gboolean          across = layer->direction == WB_CHART_X;
      const WbChartMap *along = across ? &frame->x : &frame->y;
      double x = wb_chart_map_at (&frame->x, layer->x[i]),
             y = wb_chart_map_at (&frame->y, layer->y[i]);
      double low = wb_chart_map_at (along, layer->low[i]),
             high = wb_chart_map_at (along, layer->high[i]);

      if (isnan (x) || isnan (y))
        continue;
      mark_segment (occupancy, across && !isnan (low) ? low : x, across || isnan (low) ? y : low,
                    across && !isnan (high) ? high : x, across || isnan (high) ? y : high);
    }
}

static void
mark_rects (WbChartOccupancy   *occupancy,
            const WbChartFrame *frame,
            const WbChartLayer *layer)
{
  for (gsize i = 0; i < wb_chart_layer_get_n (layer); i++)
    {
      WbChartRect rect;

      if (!wb_chart_value_get_rect (frame, layer, i, &rect))
        continue;
      for (double y = rect.y; y <= rect.y + rect.height; y += CELL)
        mark_segment (occupancy, rect.x, y, rect.x + rect.width, y);
    }
}

/* A rule, and the hatching behind a wall. */
static void
mark_rule (WbChartOccupancy   *occupancy,
           const WbChartFrame *frame,
           const WbChartLayer *layer)
{
  const WbChartRect *plot = &frame->plot;
  gboolean           across = layer->direction == WB_CHART_X;
  double             at = wb_chart_map_at (across ? &frame->x : &frame->y, layer->low[0]);
  double             behind = layer->rule == WB_CHART_RULE_WALL ? WB_CHART_WALL_HATCH : 0.0;

  for (double away = 0.0; away <= behind && !isnan (at); away += CELL)
    if (across)
      mark_segment (occupancy, at + away, plot->y, at + away, plot->y + plot->height);
    else
      mark_segment (occupancy, plot->x, at - away, plot->x + plot->width, at - away);
}

WbChartOccupancy *
wb_chart_occupancy_new (const WbChartFrame *frame)
{
  WbChartOccupancy *occupancy = g_new0 (WbChartOccupancy, 1);

  occupancy->plot = frame->plot;
  occupancy->n_columns = (int) ceil (frame->plot.width / CELL) + 1;
  occupancy->n_rows = (int) ceil (frame->plot.height / CELL) + 1;
  occupancy->cells = g_new0 (guint8, (gsize) occupancy->n_columns * occupancy->n_rows);

  for (guint i = 0; i < frame->panel->layers->len; i++)
    {
      const WbChartLayer *layer = g_ptr_array_index (frame->panel->layers, i);

      if (layer->kind == WB_CHART_LAYER_LINE)
        mark_points (occupancy, frame, layer,
                     (layer->flags & (WB_CHART_LINE_JOINED | WB_CHART_LINE_STEPS)) != 0);
      else if (layer->kind == WB_CHART_LAYER_POINTS)
        {
          mark_points (occupancy, frame, layer, FALSE);
          mark_intervals (occupancy, frame, layer);
        }
      else if (layer->kind == WB_CHART_LAYER_BARS || layer->kind == WB_CHART_LAYER_EVENTS)
        mark_rects (occupancy, frame, layer);
      else if (layer->kind == WB_CHART_LAYER_RULE)
        mark_rule (occupancy, frame, layer);
    }

  return occupancy;
}

void
wb_chart_occupancy_free (WbChartOccupancy *occupancy)
{
  g_free (occupancy->cells);
  g_free (occupancy);
}

guint
wb_chart_occupancy_count (const WbChartOccupancy *occupancy,
                          const WbChartRect      *rect)
{
  guint n = 0;

  for (int row = MAX (row_of (occupancy, rect->y), 0);
       row <= MIN (row_of (occupancy, rect->y + rect->height), occupancy->n_rows - 1); row++)
    for (int column = MAX (column_of (occupancy, rect->x), 0);
         column <= MIN (column_of (occupancy, rect->x + rect->width), occupancy->n_columns - 1); column++)
      n += (occupancy->cells[row * occupancy->n_columns + column] & HELD) != 0;

  return n;
}

double
wb_chart_occupancy_measure (const WbChartRect *rect)
{
  return fmax (rect->width / CELL, 1.0) * fmax (rect->height / CELL, 1.0);
}
