/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-chart-canvas.h"

#include "wb-look.h"

#include <math.h>

/*
 * A point of the chart is as large as a point of GTK's fonts: 96 dpi make 4/3
 * pixels of it, and a person who asks for larger text gets a larger picture of
 * it. The drawn picture is kept as a surface until size, chart, theme or scale change.
 */

#define REACH_PT 14.0 /* how near the pointer must come to a value */
#define SERIES_LAYERS_MAX 1024

struct _WbChartCanvas
{
  GtkWidget        parent_instance;

  /* owned */
  WbChart         *chart;
  WbChartLayout   *layout;
  cairo_surface_t *picture;
  GError          *error;

  /* state */
  WbChartHit       hit;
  gboolean         has_hit;
  double           scale;        /* pixels a point */
  int              picture_scale; /* device pixels a pixel, of the kept picture */
  int              minimum_width, minimum_height;
};

G_DEFINE_FINAL_TYPE (WbChartCanvas, wb_chart_canvas, GTK_TYPE_WIDGET)

enum { POINTED, CHOSEN, LAID_OUT, N_SIGNALS };
static guint signals[N_SIGNALS];

static double
pixels_a_point (GtkWidget *widget)
{
  int dpi = 0;

  g_object_get (gtk_widget_get_settings (widget), "gtk-xft-dpi", &dpi, NULL);
  return dpi > 0 ? dpi / 1024.0 / 72.0 : 96.0 / 72.0;
}

static void
drop_picture (WbChartCanvas *self)
{
  g_clear_pointer (&self->picture, cairo_surface_destroy);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
set_hit (WbChartCanvas    *self,
         const WbChartHit *hit)
{
  if (hit == NULL && !self->has_hit)
    return;
  if (hit != NULL && self->has_hit && hit->panel == self->hit.panel && hit->layer == self->hit.layer && hit->index == self->hit.index)
    return;
  self->has_hit = hit != NULL;
  if (hit != NULL)
    self->hit = *hit;
  gtk_widget_queue_draw (GTK_WIDGET (self));
  g_signal_emit (self, signals[POINTED], 0, self->has_hit);
}

/* Lays the chart out for the widget's size; a chart that cannot be leaves the reason in self->error. */
static void
lay_out (WbChartCanvas *self)
{
  int width = gtk_widget_get_width (GTK_WIDGET (self));
  int height = gtk_widget_get_height (GTK_WIDGET (self));

  g_clear_pointer (&self->layout, wb_chart_layout_free);
  g_clear_error (&self->error);
  set_hit (self, NULL);
  drop_picture (self);
  if (self->chart == NULL || width <= 0 || height <= 0)
    return;
  self->scale = pixels_a_point (GTK_WIDGET (self));
  self->layout = wb_chart_layout_new (self->chart, MAX (width / self->scale, WB_CHART_MIN_WIDTH),
                                      MAX (height / self->scale, WB_CHART_MIN_HEIGHT), 1.0, &self->error);
  g_signal_emit (self, signals[LAID_OUT], 0);
}

static void
paint (WbChartCanvas *self,
       int            width,
       int            height)
{
  cairo_t *cr;

  self->picture_scale = gtk_widget_get_scale_factor (GTK_WIDGET (self));
  self->picture = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, width * self->picture_scale, height * self->picture_scale);
  cairo_surface_set_device_scale (self->picture, self->picture_scale, self->picture_scale);
  cr = cairo_create (self->picture);
  cairo_scale (cr, self->scale, self->scale);
  wb_chart_layout_draw (self->layout, cr, wb_look_get_chart_theme (wb_look_get_default ()));
  cairo_destroy (cr);
}

static void
mark_hit (WbChartCanvas *self,
          cairo_t       *cr)
{
  GdkRGBA ink;

  gtk_style_context_get_color (gtk_widget_get_style_context (GTK_WIDGET (self)), &ink);
  gdk_cairo_set_source_rgba (cr, &ink);
  cairo_set_line_width (cr, 2.0);
  cairo_arc (cr, self->hit.x * self->scale, self->hit.y * self->scale, 8.0, 0.0, 2.0 * G_PI);
  cairo_stroke (cr);
}

static void
wb_chart_canvas_snapshot (GtkWidget   *widget,
                          GtkSnapshot *snapshot)
{
  WbChartCanvas *self = WB_CHART_CANVAS (widget);
  int width = gtk_widget_get_width (widget);
  int height = gtk_widget_get_height (widget);
  graphene_rect_t bounds = GRAPHENE_RECT_INIT (0, 0, width, height);
  cairo_t *cr;

  if (self->layout == NULL || width <= 0 || height <= 0)
    return;
  if (self->picture != NULL && self->picture_scale != gtk_widget_get_scale_factor (widget))
    g_clear_pointer (&self->picture, cairo_surface_destroy);
  if (self->picture == NULL)
    paint (self, width, height);
  cr = gtk_snapshot_append_cairo (snapshot, &bounds);
  cairo_set_source_surface (cr, self->picture, 0, 0);
  cairo_paint (cr);
  if (self->has_hit)
    mark_hit (self, cr);
  cairo_destroy (cr);
}

static void
wb_chart_canvas_measure (GtkWidget      *widget,
                         GtkOrientation  orientation,
                         int             for_size,
                         int            *minimum,
                         int            *natural,
                         int            *minimum_baseline,
                         int            *natural_baseline)
{
  WbChartCanvas *self = WB_CHART_CANVAS (widget);

  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? self->minimum_width : self->minimum_height;
  *natural = *minimum;
}

static void
wb_chart_canvas_size_allocate (GtkWidget *widget,
                               int        width,
                               int        height,
                               int        baseline)
{
  lay_out (WB_CHART_CANVAS (widget));
}

static void
on_motion_cb (WbChartCanvas *self,
              double         x,
              double         y)
{
  WbChartHit hit;

  if (self->layout != NULL && wb_chart_layout_find (self->layout, x / self->scale, y / self->scale, REACH_PT, &hit))
    set_hit (self, &hit);
  else
    set_hit (self, NULL);
}

static void
on_leave_cb (WbChartCanvas *self)
{
  set_hit (self, NULL);
}

static void
on_pressed_cb (WbChartCanvas *self,
               int            n_press,
               double         x,
               double         y)
{
  gtk_widget_grab_focus (GTK_WIDGET (self));
  on_motion_cb (self, x, y);
  if (self->has_hit)
    g_signal_emit (self, signals[CHOSEN], 0);
}

static void
on_focus_notify_cb (GtkEventControllerFocus *controller,
                    GParamSpec              *spec,
                    WbChartCanvas           *self)
{
  if (!gtk_event_controller_focus_contains_focus (controller))
    set_hit (self, NULL);
}

static void
wb_chart_canvas_dispose (GObject *object)
{
  WbChartCanvas *self = WB_CHART_CANVAS (object);

  self->has_hit = FALSE;
  g_clear_pointer (&self->layout, wb_chart_layout_free);
  g_clear_pointer (&self->chart, wb_chart_unref);
  g_clear_pointer (&self->picture, cairo_surface_destroy);
  g_clear_error (&self->error);
  G_OBJECT_CLASS (wb_chart_canvas_parent_class)->dispose (object);
}

static void
wb_chart_canvas_class_init (WbChartCanvasClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_chart_canvas_dispose;
  widget_class->snapshot = wb_chart_canvas_snapshot;
  widget_class->measure = wb_chart_canvas_measure;
  widget_class->size_allocate = wb_chart_canvas_size_allocate;
  signals[POINTED] = g_signal_new ("pointed", WB_TYPE_CHART_CANVAS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                   G_TYPE_NONE, 1, G_TYPE_BOOLEAN);
  signals[CHOSEN] = g_signal_new ("chosen", WB_TYPE_CHART_CANVAS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[LAID_OUT] = g_signal_new ("laid-out", WB_TYPE_CHART_CANVAS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_css_name (widget_class, "chart");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
wb_chart_canvas_init (WbChartCanvas *self)
{
  GtkEventController *motion = gtk_event_controller_motion_new ();
  GtkGesture *click = gtk_gesture_click_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();

  self->scale = 96.0 / 72.0;
  self->minimum_width = 320;
  self->minimum_height = 220;
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_hexpand (GTK_WIDGET (self), TRUE);
  gtk_widget_set_vexpand (GTK_WIDGET (self), TRUE);
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  g_signal_connect_swapped (motion, "motion", G_CALLBACK (on_motion_cb), self);
  g_signal_connect_swapped (motion, "leave", G_CALLBACK (on_leave_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), motion);
  g_signal_connect_swapped (click, "pressed", G_CALLBACK (on_pressed_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));
  g_signal_connect (focus, "notify::contains-focus", G_CALLBACK (on_focus_notify_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), focus);
  g_signal_connect_object (wb_look_get_default (), "changed", G_CALLBACK (drop_picture), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (gtk_settings_get_default (), "notify::gtk-xft-dpi", G_CALLBACK (lay_out), self, G_CONNECT_SWAPPED);
}

void
wb_chart_canvas_set_chart (WbChartCanvas *self,
                           WbChart       *chart)
{
  g_return_if_fail (WB_IS_CHART_CANVAS (self));

  if (chart != NULL)
    wb_chart_ref (chart);
  g_clear_pointer (&self->chart, wb_chart_unref);
  self->chart = chart;
  lay_out (self);
}

void
wb_chart_canvas_set_minimum (WbChartCanvas *self,
                             int            width,
                             int            height)
{
  g_return_if_fail (WB_IS_CHART_CANVAS (self));
  self->minimum_width = width;
  self->minimum_height = height;
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

gboolean
wb_chart_canvas_get_hit (WbChartCanvas *self,
                         WbChartHit    *hit)
{
  g_return_val_if_fail (WB_IS_CHART_CANVAS (self), FALSE);
  if (self->has_hit)
    *hit = self->hit;
  return self->has_hit;
}

char *
wb_chart_canvas_dup_words (WbChartCanvas *self)
{
  g_return_val_if_fail (WB_IS_CHART_CANVAS (self), NULL);
  if (!self->has_hit || self->layout == NULL)
    return g_strdup ("");
  return wb_chart_layout_describe (self->layout, &self->hit);
}

/* The value after `from` in the layer, in the direction of `step`, that has a place; FALSE: there is none. */
static gboolean
find_value (WbChartCanvas *self,
            guint          panel,
            guint          layer,
            gint64         from,
            int            step,
            WbChartHit    *hit)
{
  WbChartLayer *what = wb_chart_panel_get_layer (wb_chart_get_panel (self->chart, panel), layer);
  gint64 n = (gint64) wb_chart_layer_get_n (what);

  for (gint64 i = from; i >= 0 && i < n; i += step)
    if (wb_chart_layout_get_value (self->layout, panel, layer, (gsize) i, &hit->x, &hit->y))
      {
        hit->panel = panel;
        hit->layer = layer;
        hit->index = (gsize) i;
        hit->distance = 0.0;
        return TRUE;
      }
  return FALSE;
}

void
wb_chart_canvas_step (WbChartCanvas *self,
                      int            steps)
{
  WbChartHit hit;

  g_return_if_fail (WB_IS_CHART_CANVAS (self));
  g_return_if_fail (steps == 1 || steps == -1);

  if (self->layout == NULL)
    return;
  if (!self->has_hit)
    wb_chart_canvas_step_layer (self, 1);
  else if (find_value (self, self->hit.panel, self->hit.layer, (gint64) self->hit.index + steps, steps, &hit))
    set_hit (self, &hit);
}

/* Layers of all panels in one row, counted from 0. */
static guint
list_layers (WbChart *chart,
             guint   *panels,
             guint   *layers)
{
  guint n = 0;

  for (guint p = 0; p < wb_chart_get_n_panels (chart); p++)
    for (guint l = 0; l < wb_chart_panel_get_n_layers (wb_chart_get_panel (chart, p)) && n < SERIES_LAYERS_MAX; l++)
      {
        panels[n] = p;
        layers[n] = l;
        n++;
      }
  return n;
}

void
wb_chart_canvas_step_layer (WbChartCanvas *self,
                            int            steps)
{
  guint panels[SERIES_LAYERS_MAX], layers[SERIES_LAYERS_MAX];
  guint n, at;
  WbChartHit hit;

  g_return_if_fail (WB_IS_CHART_CANVAS (self));
  g_return_if_fail (steps == 1 || steps == -1);

  if (self->layout == NULL)
    return;
  n = list_layers (self->chart, panels, layers);
  at = steps > 0 ? n - 1 : 0;
  for (guint i = 0; self->has_hit && i < n; i++)
    if (panels[i] == self->hit.panel && layers[i] == self->hit.layer)
      at = i;
  for (guint tried = 0; tried < n; tried++)
    {
      at = (at + n + (guint) steps) % n;
      if (find_value (self, panels[at], layers[at], 0, 1, &hit))
        {
          set_hit (self, &hit);
          return;
        }
    }
}

const GError *
wb_chart_canvas_get_error (WbChartCanvas *self)
{
  g_return_val_if_fail (WB_IS_CHART_CANVAS (self), NULL);
  return self->error;
}
