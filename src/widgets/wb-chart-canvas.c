/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-chart-canvas.h"

#include "wb-chart-drawing.h"
#include "wb-look.h"

#include <math.h>

/*
 * A point of the chart is as large as a point of GTK's fonts: 96 dpi make 4/3
 * pixels of it, and a person who asks for larger text gets a larger picture of
 * it. Whenever size, chart, theme or scale change, another picture is drawn in a
 * thread, one at a time, and the last one stands until it is there; values can be
 * pointed at while the picture that stands is the one that is wished for.
 */

#define REACH_PT 14.0 /* how near the pointer must come to a value */
#define LATE_MS 200   /* what is drawn sooner is not spoken of */
#define SERIES_LAYERS_MAX 1024

struct _WbChartCanvas
{
  GtkWidget        parent_instance;

  /* owned */
  WbChartWish      wish;        /* its chart is owned */
  WbChartDrawing  *drawing;     /* that stands; NULL: none */
  GCancellable    *cancellable; /* of the drawing that is being made; NULL: none is */

  /* state */
  WbChartHit       hit;
  gboolean         has_hit;
  gboolean         late;
  guint            late_id;
  int              minimum_width, minimum_height;
};

G_DEFINE_FINAL_TYPE (WbChartCanvas, wb_chart_canvas, GTK_TYPE_WIDGET)

enum { PROP_0, PROP_LATE, N_PROPS };
static GParamSpec *properties[N_PROPS];

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

static void
set_late (WbChartCanvas *self,
          gboolean       late)
{
  if (self->late == late)
    return;
  self->late = late;
  gtk_accessible_update_state (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_STATE_BUSY, late, -1);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_LATE]);
}

static gboolean
on_late_cb (gpointer user)
{
  WB_CHART_CANVAS (user)->late_id = 0;
  set_late (WB_CHART_CANVAS (user), TRUE);
  return G_SOURCE_REMOVE;
}

static void
take_drawing (WbChartCanvas  *self,
              WbChartDrawing *drawing)
{
  g_clear_pointer (&self->drawing, wb_chart_drawing_free);
  self->drawing = drawing;
  set_hit (self, NULL);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static gboolean
can_draw (WbChartCanvas *self)
{
  return self->wish.chart != NULL && self->wish.width > 0 && self->wish.height > 0;
}

static void begin (WbChartCanvas *self);

static void
on_made_cb (GObject      *source,
            GAsyncResult *result,
            gpointer      data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbChartDrawing) drawing = wb_chart_drawing_make_finish (result, &error);
  WbChartCanvas *self;
  gboolean wished;

  if (drawing == NULL)
    return;
  self = WB_CHART_CANVAS (data);
  g_clear_object (&self->cancellable);
  wished = wb_chart_wish_equal (&drawing->wish, &self->wish);
  /* Of another size it is still the chart. */
  if (drawing->wish.chart == self->wish.chart)
    take_drawing (self, g_steal_pointer (&drawing));
  if (!wished)
    {
      if (can_draw (self))
        begin (self);
      return;
    }
  g_clear_handle_id (&self->late_id, g_source_remove);
  set_late (self, FALSE);
  g_signal_emit (self, signals[LAID_OUT], 0);
}

static void
begin (WbChartCanvas *self)
{
  self->cancellable = g_cancellable_new ();
  wb_chart_drawing_make_async (&self->wish, self->cancellable, on_made_cb, self);
}

/* Looks at what the widget is now, and has it drawn where the picture that stands or is being made is another. */
static void
update (WbChartCanvas *self)
{
  WbChartWish wish = self->wish;

  wish.width = gtk_widget_get_width (GTK_WIDGET (self));
  wish.height = gtk_widget_get_height (GTK_WIDGET (self));
  wish.scale = pixels_a_point (GTK_WIDGET (self));
  wish.device_scale = gtk_widget_get_scale_factor (GTK_WIDGET (self));
  wish.theme = wb_look_get_chart_theme (wb_look_get_default ());
  if (wb_chart_wish_equal (&wish, &self->wish))
    return;
  self->wish = wish;
  set_hit (self, NULL);
  if (!can_draw (self))
    return;
  if (self->late_id == 0 && !self->late)
    self->late_id = g_timeout_add (LATE_MS, on_late_cb, self);
  if (self->cancellable == NULL)
    begin (self);
}

/* Where the values of what stands are; NULL: what stands is not what is wished for. */
static const WbChartLayout *
get_layout (WbChartCanvas *self)
{
  return wb_chart_canvas_get_ready (self) ? self->drawing->layout : NULL;
}

static void
mark_hit (WbChartCanvas *self,
          cairo_t       *cr)
{
  GdkRGBA ink;

  gtk_style_context_get_color (gtk_widget_get_style_context (GTK_WIDGET (self)), &ink);
  gdk_cairo_set_source_rgba (cr, &ink);
  cairo_set_line_width (cr, 2.0);
  cairo_arc (cr, self->hit.x * self->wish.scale, self->hit.y * self->wish.scale, 8.0, 0.0, 2.0 * G_PI);
  cairo_stroke (cr);
}

static void
wb_chart_canvas_snapshot (GtkWidget   *widget,
                          GtkSnapshot *snapshot)
{
  WbChartCanvas *self = WB_CHART_CANVAS (widget);
  cairo_t *cr;

  if (self->drawing == NULL || self->drawing->texture == NULL)
    return;
  gtk_snapshot_append_texture (snapshot, self->drawing->texture,
                               &GRAPHENE_RECT_INIT (0, 0, self->drawing->wish.width, self->drawing->wish.height));
  if (!self->has_hit)
    return;
  cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, self->wish.width, self->wish.height));
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
  update (WB_CHART_CANVAS (widget));
}

static void
on_motion_cb (WbChartCanvas *self,
              double         x,
              double         y)
{
  const WbChartLayout *layout = get_layout (self);
  WbChartHit hit;

  if (layout != NULL && wb_chart_layout_find (layout, x / self->wish.scale, y / self->wish.scale, REACH_PT, &hit))
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
wb_chart_canvas_get_property (GObject    *object,
                              guint       id,
                              GValue     *value,
                              GParamSpec *spec)
{
  if (id == PROP_LATE)
    g_value_set_boolean (value, WB_CHART_CANVAS (object)->late);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, spec);
}

static void
wb_chart_canvas_dispose (GObject *object)
{
  WbChartCanvas *self = WB_CHART_CANVAS (object);

  self->has_hit = FALSE;
  g_clear_handle_id (&self->late_id, g_source_remove);
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_clear_pointer (&self->drawing, wb_chart_drawing_free);
  g_clear_pointer (&self->wish.chart, wb_chart_unref);
  G_OBJECT_CLASS (wb_chart_canvas_parent_class)->dispose (object);
}

static void
wb_chart_canvas_class_init (WbChartCanvasClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_chart_canvas_dispose;
  G_OBJECT_CLASS (klass)->get_property = wb_chart_canvas_get_property;
  properties[PROP_LATE] = g_param_spec_boolean ("late", NULL, NULL, FALSE, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (G_OBJECT_CLASS (klass), N_PROPS, properties);
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

  self->wish.scale = 96.0 / 72.0;
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
  g_signal_connect_object (wb_look_get_default (), "changed", G_CALLBACK (update), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (gtk_settings_get_default (), "notify::gtk-xft-dpi", G_CALLBACK (update), self, G_CONNECT_SWAPPED);
  g_signal_connect (self, "notify::scale-factor", G_CALLBACK (update), NULL);
}

void
wb_chart_canvas_set_chart (WbChartCanvas *self,
                           WbChart       *chart)
{
  g_return_if_fail (WB_IS_CHART_CANVAS (self));

  if (chart == self->wish.chart)
    return;
  g_clear_pointer (&self->wish.chart, wb_chart_unref);
  /* Not wished for at any size so far, even where it has the address of one that is gone. */
  self->wish.width = 0;
  self->wish.chart = chart != NULL ? wb_chart_ref (chart) : NULL;
  set_hit (self, NULL);
  if (chart == NULL)
    {
      take_drawing (self, NULL);
      g_clear_handle_id (&self->late_id, g_source_remove);
      set_late (self, FALSE);
    }
  update (self);
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
  if (!self->has_hit || get_layout (self) == NULL)
    return g_strdup ("");
  return wb_chart_layout_describe (get_layout (self), &self->hit);
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
  WbChartLayer *what = wb_chart_panel_get_layer (wb_chart_get_panel (self->wish.chart, panel), layer);
  gint64 n = (gint64) wb_chart_layer_get_n (what);

  for (gint64 i = from; i >= 0 && i < n; i += step)
    if (wb_chart_layout_get_value (get_layout (self), panel, layer, (gsize) i, &hit->x, &hit->y))
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

  if (get_layout (self) == NULL)
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

  if (get_layout (self) == NULL)
    return;
  n = list_layers (self->wish.chart, panels, layers);
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

void
wb_chart_canvas_get_size_pt (WbChartCanvas *self,
                             double        *width,
                             double        *height)
{
  g_return_if_fail (WB_IS_CHART_CANVAS (self));

  *width = gtk_widget_get_width (GTK_WIDGET (self)) / self->wish.scale;
  *height = gtk_widget_get_height (GTK_WIDGET (self)) / self->wish.scale;
}

const GError *
wb_chart_canvas_get_error (WbChartCanvas *self)
{
  g_return_val_if_fail (WB_IS_CHART_CANVAS (self), NULL);
  return self->drawing != NULL ? self->drawing->error : NULL;
}

gboolean
wb_chart_canvas_get_ready (WbChartCanvas *self)
{
  g_return_val_if_fail (WB_IS_CHART_CANVAS (self), FALSE);
  return self->drawing != NULL && wb_chart_wish_equal (&self->drawing->wish, &self->wish);
}

gboolean
wb_chart_canvas_get_late (WbChartCanvas *self)
{
  g_return_val_if_fail (WB_IS_CHART_CANVAS (self), FALSE);
  return self->late;
}
