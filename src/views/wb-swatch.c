/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-swatch.h"

#include "wb-chart-sample.h"
#include "wb-look.h"

#define WIDTH 28
#define HEIGHT 16

static void
draw (GtkDrawingArea *area,
      cairo_t        *cr,
      int             width,
      int             height,
      gpointer        series)
{
  wb_chart_sample_draw (wb_look_get_chart_theme (wb_look_get_default ()), cr, GPOINTER_TO_INT (series), width, height);
}

GtkWidget *
wb_swatch_new (int series)
{
  GtkWidget *swatch = g_object_new (GTK_TYPE_DRAWING_AREA, "accessible-role", GTK_ACCESSIBLE_ROLE_PRESENTATION, "content-width", WIDTH,
                                    "content-height", HEIGHT, "valign", GTK_ALIGN_CENTER, NULL);

  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (swatch), draw, GINT_TO_POINTER (series), NULL);
  return swatch;
}
