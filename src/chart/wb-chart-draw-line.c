/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Lines and bands. A column of pixels holds at most four corners of a line:
 * where it comes in, its lowest and highest value, where it goes out. So the
 * cost of a long series is that of reading it, plus ink bounded by pixels.
 */
#include "config.h"

#include <math.h>

#include "wb-chart-draw-private.h"
#include "wb-chart-markers-private.h"

/* Long paths are stroked piece by piece: the cost of one stroke grows faster than its corners. */
#define STROKE_CORNERS 256

typedef struct
{
  double x, y;
} Corner;

/* A column of pixels on its way to the path. */
typedef struct
{
  const WbChartPen *pen;
  gboolean          steps;
  gboolean          open;   /* the path has a current point */
  guint             corners;
  double            last_x, last_y;
  gboolean          filled; /* a column is held */
  double            column;
  Corner            first, low, high, last;
  gboolean          low_first;
} Trace;

static void
emit (Trace        *trace,
      const Corner *corner)
{
  cairo_t *cr = trace->pen->cr;

  if (!trace->open)
    {
      cairo_move_to (cr, corner->x, corner->y);
      trace->open = TRUE;
    }
  else
    {
      if (trace->steps)
        cairo_line_to (cr, corner->x, trace->last_y);
      cairo_line_to (cr, corner->x, corner->y);
      trace->corners++;
    }
  trace->last_x = corner->x;
  trace->last_y = corner->y;
  if (trace->corners >= STROKE_CORNERS)
    {
      cairo_stroke (cr);
      cairo_move_to (cr, corner->x, corner->y);
      trace->corners = 0;
    }
}

static void
flush (Trace *trace)
{
  if (!trace->filled)
    return;

  emit (trace, &trace->first);
  if (trace->low.y != trace->high.y)
    {
      emit (trace, trace->low_first ? &trace->low : &trace->high);
      emit (trace, trace->low_first ? &trace->high : &trace->low);
    }
  if (trace->last.x != trace->first.x || trace->last.y != trace->first.y)
    emit (trace, &trace->last);
  trace->filled = FALSE;
}

static void
break_line (Trace *trace)
{
  flush (trace);
  trace->open = FALSE;
}

static void
take (Trace  *trace,
      double  x,
      double  y)
{
  double column = floor (x / trace->pen->pixel);
  Corner corner = { x, y };

  if (trace->filled && column != trace->column)
    flush (trace);
  if (!trace->filled)
    {
      trace->filled = TRUE;
      trace->column = column;
      trace->first = trace->low = trace->high = trace->last = corner;
      trace->low_first = TRUE;
      return;
    }
  if (y < trace->low.y)
    {
      trace->low = corner;
      trace->low_first = FALSE;
    }
  if (y > trace->high.y)
    {
      trace->high = corner;
      trace->low_first = TRUE;
    }
  trace->last = corner;
}

static void
trace_line (const WbChartPen   *pen,
            const WbChartLayer *layer)
{
  Trace  trace = { .pen = pen, .steps = (layer->flags & WB_CHART_LINE_STEPS) != 0 };
  double left = pen->frame->plot.x - 4.0, right = pen->frame->plot.x + pen->frame->plot.width + 4.0;
  double skipped_x = NAN, skipped_y = NAN;

  for (gsize i = 0; i < layer->n; i++)
    {
      double x = wb_chart_map_at (&pen->frame->x, layer->x[i]),
             y = wb_chart_map_at (&pen->frame->y, layer->y[i]);

      if (isnan (x) || isnan (y))
        {
          break_line (&trace);
          skipped_x = NAN;
          continue;
        }
      /* Of a run beside the plot only the last value before it comes in matters, and the first after it went out. */
      if ((x < left && skipped_x < left) || (x > right && skipped_x > right))
        {
          skipped_x = x;
          skipped_y = y;
          break_line (&trace);
          continue;
        }
      if (!trace.filled && !trace.open && !isnan (skipped_x))
        take (&trace, skipped_x, skipped_y);
      take (&trace, x, y);
      skipped_x = x;
      skipped_y = y;
    }
  flush (&trace);
  cairo_stroke (pen->cr);
}

void
wb_chart_draw_line (const WbChartPen   *pen,
                    const WbChartLayer *layer)
{
  gboolean thin = (layer->flags & WB_CHART_LINE_THIN) != 0;

  if ((layer->flags & (WB_CHART_LINE_JOINED | WB_CHART_LINE_STEPS)) != 0)
    {
      cairo_save (pen->cr);
      wb_chart_draw_clip (pen, 0.7);
      cairo_new_path (pen->cr);
      wb_chart_paint_set_line (pen->cr, pen->theme, layer->series, thin);
      cairo_set_line_width (pen->cr, cairo_get_line_width (pen->cr) * pen->size);
      /* In a dense line dashes are noise, and cost most of its time. */
      if (layer->n * pen->pixel > 2.0 * pen->frame->plot.width)
        {
          cairo_set_dash (pen->cr, NULL, 0, 0.0);
          cairo_set_line_width (pen->cr, cairo_get_line_width (pen->cr) * 0.6);
        }
      trace_line (pen, layer);
      cairo_restore (pen->cr);
    }
  if ((layer->flags & WB_CHART_LINE_MARKERS) != 0)
    wb_chart_markers_draw (pen, layer, WB_CHART_Y, thin);
}

/* One run of a band without a gap: along the high edge and back along the low one. */
static void
fill_run (const WbChartPen   *pen,
          const WbChartLayer *layer,
          gsize               from,
          gsize               to)
{
  g_autoptr (GArray) lows = g_array_new (FALSE, FALSE, sizeof (Corner));
  double             column = NAN, high = NAN, low = NAN, at = NAN;

  for (gsize i = from; i <= to; i++)
    {
      double x = i < to ? wb_chart_map_at (&pen->frame->x, layer->x[i]) : NAN;
      double here = floor (x / pen->pixel);

      if (i > from && here != column)
        {
          Corner corner = { at, low };

          cairo_line_to (pen->cr, at, high);
          g_array_append_val (lows, corner);
          high = low = NAN;
        }
      if (i == to)
        break;
      at = x;
      column = here;
      /* fmin and fmax leave out the NaN of a fresh column; upwards on the page is less. */
      high = fmin (high, wb_chart_map_at (&pen->frame->y, layer->high[i]));
      low = fmax (low, wb_chart_map_at (&pen->frame->y, layer->low[i]));
    }
  for (guint i = lows->len; i > 0; i--)
    cairo_line_to (pen->cr, g_array_index (lows, Corner, i - 1).x, g_array_index (lows, Corner, i - 1).y);
  cairo_close_path (pen->cr);
  if (lows->len == 1)
    {
      /* A single place has no area, however many values stand there: a stroke shows it. */
      cairo_set_line_width (pen->cr, 3.0);
      cairo_stroke (pen->cr);
    }
  else
    cairo_fill (pen->cr);
}

void
wb_chart_draw_band (const WbChartPen   *pen,
                    const WbChartLayer *layer)
{
  gsize from = 0;

  cairo_save (pen->cr);
  wb_chart_draw_clip (pen, 0.0);
  cairo_new_path (pen->cr);
  wb_chart_paint_set_colour (pen->cr, wb_chart_theme_get_series_colour (pen->theme, layer->series), 0.17);
  for (gsize i = 0; i <= layer->n; i++)
    {
      gboolean missing = i == layer->n || isnan (wb_chart_map_at (&pen->frame->x, layer->x[i]))
                         || isnan (wb_chart_map_at (&pen->frame->y, layer->low[i]))
                         || isnan (wb_chart_map_at (&pen->frame->y, layer->high[i]));

      if (!missing)
        continue;
      if (i > from)
        fill_run (pen, layer, from, i);
      from = i + 1;
    }
  cairo_restore (pen->cr);
}
