/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-ladder-drawing.h"

#include "wb-bundle.h"
#include "wb-chart-file.h"
#include "wb-file-choice.h"
#include "wb-plot-ladder.h"

#include <glib/gi18n.h>

/* CSS node: ladderdrawing. Accessible: the choice of the place is a group; the chart tells itself. */

/* The width for which its least height is reckoned, px: a page beside the sidebar in the smallest window. */
#define DRAWING_PX 700.0
/* So much larger than usual are letters for which a vessel needs half of that width. */
#define LARGE 1.5
/* Of a drawing as a file. */
#define PICTURE_WIDTH_PT 720.0

struct _WbLadderDrawing
{
  GtkWidget            parent_instance;

  /* children */
  GtkToggleButton     *places[3]; /* by WbPlotLadderPlaces */
  WbChartView         *chart;

  /* borrowed */
  const WbCraftLadder *ladder; /* NULL: nothing */
  WbDesk              *desk;
};

G_DEFINE_FINAL_TYPE (WbLadderDrawing, wb_ladder_drawing, GTK_TYPE_WIDGET)

/* How much larger letters are than usual: a drawing as high as usual would have no room left for its vessels. */
static double
get_text_scale (WbLadderDrawing *self)
{
  int dpi = -1;

  g_object_get (gtk_widget_get_settings (GTK_WIDGET (self)), "gtk-xft-dpi", &dpi, NULL);
  return dpi > 0 ? MAX (dpi / (96.0 * PANGO_SCALE), 1.0) : 1.0;
}

static WbPlotLadderPlaces
get_places (WbLadderDrawing *self)
{
  for (guint i = 0; i < G_N_ELEMENTS (self->places); i++)
    if (gtk_toggle_button_get_active (self->places[i]))
      return (WbPlotLadderPlaces) i;
  return WB_PLOT_LADDER_TOP;
}

static void
draw (WbLadderDrawing *self)
{
  gboolean can = self->ladder != NULL && wb_plot_ladder_can_draw (self->ladder);
  g_autoptr (WbChart) chart = NULL;

  gtk_widget_set_visible (GTK_WIDGET (self), can);
  if (can)
    {
      const WbNotebook *settings = wb_app_notebook_get_settings (wb_desk_get_notebook (self->desk));

      double scale = get_text_scale (self);

      chart = scale < LARGE ? wb_plot_ladder_new (self->ladder, get_places (self), settings->us_units, settings->invented)
                            : wb_plot_ladder_new_large (self->ladder, get_places (self), settings->us_units, settings->invented);
      wb_chart_view_set_minimum (self->chart, 360, (int) (scale * wb_plot_ladder_get_height (chart, DRAWING_PX)));
    }
  wb_chart_view_set_chart (self->chart, chart);
}

static void
on_place_toggled_cb (WbLadderDrawing *self,
                     GtkToggleButton *button)
{
  if (gtk_toggle_button_get_active (button))
    draw (self);
}

static void
on_path_cb (const char *path,
            gpointer    user)
{
  g_autoptr (WbLadderDrawing) self = user;
  WbChart *chart = self->chart != NULL ? wb_chart_view_get_chart (self->chart) : NULL;

  if (path != NULL && chart != NULL)
    wb_chart_file_write (GTK_WIDGET (self), chart, PICTURE_WIDTH_PT, wb_plot_ladder_get_height (chart, PICTURE_WIDTH_PT), path);
}

static void
wb_ladder_drawing_dispose (GObject *object)
{
  GtkWidget *child;

  gtk_widget_dispose_template (GTK_WIDGET (object), WB_TYPE_LADDER_DRAWING);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (object))) != NULL)
    gtk_widget_unparent (child);
  WB_LADDER_DRAWING (object)->chart = NULL;
  G_OBJECT_CLASS (wb_ladder_drawing_parent_class)->dispose (object);
}

static void
wb_ladder_drawing_class_init (WbLadderDrawingClass *klass)
{
  static const char *const places[] = { "top", "bottom", "both" };
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (WB_TYPE_CHART_VIEW);
  G_OBJECT_CLASS (klass)->dispose = wb_ladder_drawing_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "ladderdrawing");
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "ladder-drawing.ui");
  for (guint i = 0; i < G_N_ELEMENTS (places); i++)
    gtk_widget_class_bind_template_child_full (widget_class, places[i], FALSE,
                                               G_STRUCT_OFFSET (WbLadderDrawing, places) + (gssize) (i * sizeof (GtkToggleButton *)));
  gtk_widget_class_bind_template_child (widget_class, WbLadderDrawing, chart);
  gtk_widget_class_bind_template_callback (widget_class, on_place_toggled_cb);
  gtk_widget_class_bind_template_callback (widget_class, wb_ladder_drawing_save);
}

static void
wb_ladder_drawing_init (WbLadderDrawing *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  wb_chart_view_set_can_save (self->chart, TRUE);
}

void
wb_ladder_drawing_set (WbLadderDrawing     *self,
                       WbDesk              *desk,
                       const WbCraftLadder *ladder)
{
  g_return_if_fail (WB_IS_LADDER_DRAWING (self));
  g_return_if_fail ((desk == NULL) == (ladder == NULL));

  self->desk = desk;
  self->ladder = ladder;
  draw (self);
}

WbChartView *
wb_ladder_drawing_get_chart (WbLadderDrawing *self)
{
  g_return_val_if_fail (WB_IS_LADDER_DRAWING (self), NULL);
  return wb_chart_view_get_chart (self->chart) != NULL ? self->chart : NULL;
}

void
wb_ladder_drawing_save (WbLadderDrawing *self)
{
  g_return_if_fail (WB_IS_LADDER_DRAWING (self));

  if (wb_ladder_drawing_get_chart (self) != NULL)
    wb_file_choice_save (GTK_WIDGET (self), _("Save the chart"), WB_FILE_PICTURE, "wick-ladder.png", on_path_cb, g_object_ref (self));
}
