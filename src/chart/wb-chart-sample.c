/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-chart-sample.h"

#include "wb-chart-paint-private.h"

#include <math.h>

void
wb_chart_sample_draw (WbChartTheme theme,
                      cairo_t     *cr,
                      int          series,
                      double       width,
                      double       height)
{
  g_return_if_fail (cr != NULL);

  cairo_save (cr);
  wb_chart_paint_set_line (cr, theme, series, FALSE);
  cairo_move_to (cr, 0.0, height / 2.0);
  cairo_line_to (cr, width, height / 2.0);
  cairo_stroke (cr);
  wb_chart_paint_marker (cr, theme, series, width / 2.0, height / 2.0, fmin (height * 0.6, 6.0),
                         WB_CHART_MARK_PLAIN);
  cairo_restore (cr);
}
