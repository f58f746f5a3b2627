/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-chart-layout-private.h"
#include "wb-chart-paint-private.h"

G_BEGIN_DECLS

/* What a layer is drawn with. */
typedef struct
{
  cairo_t              *cr;
  WbChartTheme          theme;
  const WbChartLayout  *layout;
  const WbChartFrame   *frame;
  double                size;  /* of markers and lines: grows with the text, more slowly */
  double pixel; /* points that one pixel of the target is wide; a quarter point where there are no
                   pixels */
  gboolean              vector; /* there are none */
} WbChartPen;

void wb_chart_draw_band   (const WbChartPen *pen, const WbChartLayer *layer);
void wb_chart_draw_line   (const WbChartPen *pen, const WbChartLayer *layer);
void wb_chart_draw_points (const WbChartPen *pen, const WbChartLayer *layer);
void wb_chart_draw_bars   (const WbChartPen *pen, const WbChartLayer *layer);
/* `printed`: the cells carry their numbers. */
void wb_chart_draw_heat   (const WbChartPen *pen, const WbChartLayer *layer, gboolean printed);
void wb_chart_draw_events (const WbChartPen *pen, const WbChartLayer *layer);
void wb_chart_draw_wall   (const WbChartPen *pen, const WbChartLayer *layer);
void wb_chart_draw_rings  (const WbChartPen *pen, const WbChartLayer *layer);
void wb_chart_draw_region (const WbChartPen *pen, const WbChartLayer *layer);
void wb_chart_draw_rule   (const WbChartPen *pen, const WbChartLayer *layer);

/* Clips to the plot, `air` points wider on all sides. Between cairo_save and cairo_restore. */
static inline void
wb_chart_draw_clip (const WbChartPen *pen, double air)
{
  const WbChartRect *plot = &pen->frame->plot;

  cairo_rectangle (pen->cr, plot->x - air, plot->y - air, plot->width + 2.0 * air, plot->height + 2.0 * air);
  cairo_clip (pen->cr);
}

G_END_DECLS
