/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Markers of lines and points, and the bars of intervals. Many markers become dots, one a pixel. */
#include "config.h"

#include "wb-chart-markers-private.h"

#include <math.h>

#define SIZE 5.4
#define SMALL_SIZE 3.4
#define DOT_SIZE 1.6
/* How finely dots are placed where there are no pixels, points. */
#define VECTOR_STEP 0.5
/* More values than this are dots. */
#define MANY 1500
/* Rectangles filled at a time. */
#define DOTS_A_FILL 2000
#define CAP 2.4
#define ARROW 6.0

static gboolean
place (const WbChartPen   *pen,
       const WbChartLayer *layer,
       gsize               index,
       double             *x,
       double             *y)
{
  return wb_chart_value_get_point (pen->frame, layer, index, x, y);
}

/* Which cells of a raster over the plot, `step` points wide and high, hold a value. */
typedef struct
{
  double   step, x, y; /* of the first cell's corner */
  gsize    n_columns, n_rows;
  guint8  *seen;       /* row by row */
} Raster;

static void
raster_init (Raster            *self,
             const WbChartPen  *pen)
{
  const WbChartRect *plot = &pen->frame->plot;

  self->step = pen->vector ? VECTOR_STEP : fmax (pen->pixel, VECTOR_STEP / 2.0);
  self->x = plot->x - 1.0;
  self->y = plot->y - 1.0;
  self->n_columns = (gsize) ((plot->width + 2.0) / self->step) + 1;
  self->n_rows = (gsize) ((plot->height + 2.0) / self->step) + 1;
  self->seen = g_new0 (guint8, self->n_columns * self->n_rows);
}

/* The cell of a place; FALSE beside the plot. */
static gboolean
raster_find (const Raster *self,
             double        x,
             double        y,
             gsize        *cell)
{
  double column = floor ((x - self->x) / self->step), row = floor ((y - self->y) / self->step);

  if (!(column >= 0.0 && row >= 0.0 && column < (double) self->n_columns && row < (double) self->n_rows))
    return FALSE;
  *cell = (gsize) row * self->n_columns + (gsize) column;

  return TRUE;
}

/* Dots on all cells that are held: those beside each other in a row are one rectangle, so that ink is bounded by pixels. */
static void
raster_fill (const Raster *self,
             cairo_t      *cr)
{
  double reach = (DOT_SIZE - self->step) / 2.0;
  guint  held = 0;

  for (gsize row = 0; row < self->n_rows; row++)
    for (gsize column = 0; column < self->n_columns; column++)
      {
        const guint8 *cells = self->seen + row * self->n_columns;
        gsize         end = column;

        if (cells[column] == 0)
          continue;
        while (end < self->n_columns && cells[end] != 0)
          end++;
        cairo_rectangle (cr, self->x + column * self->step - reach, self->y + row * self->step - reach,
                         (end - column) * self->step + 2.0 * reach, DOT_SIZE);
        column = end;
        if (++held % DOTS_A_FILL == 0)
          cairo_fill (cr);
      }
  cairo_fill (cr);
}

/* The values of one mark. */
static void
draw_dots (const WbChartPen   *pen,
           const WbChartLayer *layer,
           WbChartMark         mark)
{
  Raster        raster;
  WbChartColour colour = mark == WB_CHART_MARK_ASIDE ? wb_chart_theme_get_colour (pen->theme, WB_CHART_COLOUR_INK_SOFT)
                                                     : wb_chart_theme_get_series_colour (pen->theme, layer->series);

  raster_init (&raster, pen);
  for (gsize i = 0; i < layer->n; i++)
    {
      double x, y;
      gsize  cell;

      if (wb_chart_layer_get_mark (layer, i) == mark && place (pen, layer, i, &x, &y) && raster_find (&raster, x, y, &cell))
        raster.seen[cell] = 1;
    }
  cairo_new_path (pen->cr);
  wb_chart_paint_set_colour (pen->cr, colour, 1.0);
  raster_fill (&raster, pen->cr);
  g_free (raster.seen);
}

static void
draw_arrow (const WbChartPen *pen,
            double            x,
            double            y,
            double            size,
            WbChartDirection  direction)
{
  double away = size / 2.0 + 0.8, tip = size / 2.0 + ARROW, head = 2.2;

  cairo_set_line_width (pen->cr, 1.1);
  cairo_set_line_cap (pen->cr, CAIRO_LINE_CAP_BUTT);
  if (direction == WB_CHART_X)
    {
      cairo_move_to (pen->cr, x + away, y);
      cairo_line_to (pen->cr, x + tip, y);
      cairo_move_to (pen->cr, x + tip - head, y - head);
      cairo_line_to (pen->cr, x + tip, y);
      cairo_line_to (pen->cr, x + tip - head, y + head);
    }
  else
    {
      cairo_move_to (pen->cr, x, y - away);
      cairo_line_to (pen->cr, x, y - tip);
      cairo_move_to (pen->cr, x - head, y - tip + head);
      cairo_line_to (pen->cr, x, y - tip);
      cairo_line_to (pen->cr, x + head, y - tip + head);
    }
  cairo_stroke (pen->cr);
}

/* Of many that say "at least", an arrow for each place as wide as one. */
static void
draw_arrows (const WbChartPen   *pen,
             const WbChartLayer *layer,
             WbChartDirection    direction)
{
  const WbChartRect *plot = &pen->frame->plot;
  gsize              n_columns = (gsize) (plot->width / ARROW) + 2, n_rows = (gsize) (plot->height / ARROW) + 2;
  g_autofree guint8 *seen = g_new0 (guint8, n_columns * n_rows);

  wb_chart_paint_set_colour (pen->cr, wb_chart_theme_get_series_colour (pen->theme, layer->series), 1.0);
  for (gsize i = 0; i < layer->n; i++)
    {
      double x, y;

      if (wb_chart_layer_get_mark (layer, i) != WB_CHART_MARK_AT_LEAST || !place (pen, layer, i, &x, &y)
          || !(x >= plot->x - 1.0 && y >= plot->y - 1.0 && x <= plot->x + plot->width + 1.0 && y <= plot->y + plot->height + 1.0))
        continue;

      gsize cell = (gsize) ((y - plot->y + 1.0) / ARROW) * n_columns + (gsize) ((x - plot->x + 1.0) / ARROW);
      if (cell >= n_columns * n_rows || seen[cell])
        continue;
      seen[cell] = 1;
      draw_arrow (pen, x, y, DOT_SIZE, direction);
    }
}

static void
draw_many (const WbChartPen   *pen,
           const WbChartLayer *layer,
           WbChartDirection    arrow)
{
  draw_dots (pen, layer, WB_CHART_MARK_PLAIN);
  if (layer->marks == NULL)
    return;
  draw_dots (pen, layer, WB_CHART_MARK_ASIDE);
  draw_dots (pen, layer, WB_CHART_MARK_AT_LEAST);
  draw_arrows (pen, layer, arrow);
}

void
wb_chart_markers_draw (const WbChartPen   *pen,
                       const WbChartLayer *layer,
                       WbChartDirection    arrow,
                       gboolean            small)
{
  double size = (small || layer->n > 200 ? SMALL_SIZE : SIZE) * pen->size;

  cairo_save (pen->cr);
  /* A marker on the edge is drawn whole, with its arrow. */
  wb_chart_draw_clip (pen, SIZE / 2.0 + ARROW);
  if (layer->n > MANY)
    draw_many (pen, layer, arrow);
  else
    for (gsize i = 0; i < layer->n; i++)
      {
        WbChartMark mark = wb_chart_layer_get_mark (layer, i);
        double      x, y;

        if (!place (pen, layer, i, &x, &y))
          continue;
        wb_chart_paint_marker (pen->cr, pen->theme, layer->series, x, y, size, mark);
        if (mark == WB_CHART_MARK_AT_LEAST)
          draw_arrow (pen, x, y, size, arrow);
      }
  cairo_restore (pen->cr);
}

static void
draw_interval (const WbChartPen   *pen,
               const WbChartLayer *layer,
               gsize               index)
{
  gboolean          across = layer->direction == WB_CHART_X;
  const WbChartMap *along = across ? &pen->frame->x : &pen->frame->y;
  double x = wb_chart_map_at (&pen->frame->x, layer->x[index]),
         y = wb_chart_map_at (&pen->frame->y, layer->y[index]);
  double ends[]
      = { wb_chart_map_at (along, layer->low[index]), wb_chart_map_at (along, layer->high[index]) };
  double            cap = CAP * pen->size;

  if (isnan (x) || isnan (y))
    return;
  for (guint i = 0; i < G_N_ELEMENTS (ends); i++)
    {
      if (isnan (ends[i]))
        continue;

      if (across)
        {
          cairo_move_to (pen->cr, x, y);
          cairo_line_to (pen->cr, ends[i], y);
          cairo_move_to (pen->cr, ends[i], y - cap);
          cairo_line_to (pen->cr, ends[i], y + cap);
        }
      else
        {
          cairo_move_to (pen->cr, x, y);
          cairo_line_to (pen->cr, x, ends[i]);
          cairo_move_to (pen->cr, x - cap, ends[i]);
          cairo_line_to (pen->cr, x + cap, ends[i]);
        }
    }
  cairo_stroke (pen->cr);
}

/* The bars of many: of each column of pixels (row, where they lie) one from the lowest end to the highest. */
static void
draw_many_intervals (const WbChartPen   *pen,
                     const WbChartLayer *layer)
{
  const WbChartRect *plot = &pen->frame->plot;
  gboolean           across = layer->direction == WB_CHART_X;
  const WbChartMap  *along = across ? &pen->frame->x : &pen->frame->y;
  double             from = across ? plot->y : plot->x, step = fmax (pen->pixel, VECTOR_STEP / 2.0);
  gsize              n = (gsize) ((across ? plot->height : plot->width) / step) + 2;
  g_autofree double *low = g_new (double, n), *high = g_new (double, n);

  for (gsize i = 0; i < n; i++)
    low[i] = high[i] = NAN;
  for (gsize i = 0; i < layer->n; i++)
    {
      double at = across ? wb_chart_map_at (&pen->frame->y, layer->y[i]) : wb_chart_map_at (&pen->frame->x, layer->x[i]);
      double ends[] = { wb_chart_map_at (along, layer->low[i]), wb_chart_map_at (along, layer->high[i]) };
      double cell = floor ((at - from) / step);

      if (!(cell >= 0.0 && cell < (double) n))
        continue;
      /* fmin and fmax leave out what is missing. */
      low[(gsize) cell] = fmin (low[(gsize) cell], fmin (ends[0], ends[1]));
      high[(gsize) cell] = fmax (high[(gsize) cell], fmax (ends[0], ends[1]));
    }
  cairo_set_line_width (pen->cr, step);
  for (gsize i = 0; i < n; i++)
    {
      double at = from + (i + 0.5) * step;

      if (isnan (low[i]))
        continue;
      cairo_move_to (pen->cr, across ? low[i] : at, across ? at : low[i]);
      cairo_line_to (pen->cr, across ? high[i] : at, across ? at : high[i]);
    }
  cairo_stroke (pen->cr);
}

void
wb_chart_draw_points (const WbChartPen   *pen,
                      const WbChartLayer *layer)
{
  if (layer->low != NULL)
    {
      cairo_save (pen->cr);
      wb_chart_draw_clip (pen, 1.0);
      cairo_new_path (pen->cr);
      wb_chart_paint_set_colour (pen->cr, wb_chart_theme_get_series_colour (pen->theme, layer->series), 1.0);
      cairo_set_dash (pen->cr, NULL, 0, 0.0);
      cairo_set_line_width (pen->cr, 1.2 * pen->size * wb_chart_paint_get_weight (pen->theme));
      if (layer->n > MANY)
        draw_many_intervals (pen, layer);
      for (gsize i = 0; layer->n <= MANY && i < layer->n; i++)
        draw_interval (pen, layer, i);
      cairo_restore (pen->cr);
    }
  wb_chart_markers_draw (pen, layer, layer->low == NULL ? WB_CHART_Y : layer->direction, FALSE);
}
