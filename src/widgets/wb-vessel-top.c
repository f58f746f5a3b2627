/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-vessel-top.h"

#include <math.h>

/* A wall that nobody measured is drawn this thick. */
#define USUAL_WALL_MM 3.0
/* Between the vessel and the ring about it, and the ring itself; pixels. */
#define GAP_PX 4.0
#define RING_PX 3.5
#define CORNER_SHARE 0.12
/* Wicks whose spacing is not known stand so far from the middle, as a share of the vessel's inner width. */
#define WICK_REACH 0.22

struct _WbVesselTop
{
  GtkWidget     parent_instance;

  /* state */
  WbVesselSight sight;
  double        scale;     /* pixels a mm */
  double        widest_mm;
};

G_DEFINE_FINAL_TYPE (WbVesselTop, wb_vessel_top, GTK_TYPE_WIDGET)

typedef struct
{
  GdkRGBA ink, ember, glass, stop;
} Colours;

static double
wall_of (const WbVesselSight *sight)
{
  return isnan (sight->wall_mm) ? USUAL_WALL_MM : sight->wall_mm;
}

static double
across_of (const WbVesselSight *sight)
{
  return isnan (sight->across_mm) ? sight->inner_mm : sight->across_mm;
}

static void
look_up (GtkWidget *widget,
         Colours   *colours)
{
  GtkStyleContext *style = gtk_widget_get_style_context (widget);

  gtk_style_context_get_color (style, &colours->ink);
  colours->ember = colours->glass = colours->stop = colours->ink;
  gtk_style_context_lookup_color (style, "wb_ember", &colours->ember);
  gtk_style_context_lookup_color (style, "wb_glass", &colours->glass);
  gtk_style_context_lookup_color (style, "wb_stop", &colours->stop);
}

static void
set_colour (cairo_t       *cr,
            const GdkRGBA *colour,
            double         alpha)
{
  cairo_set_source_rgba (cr, colour->red, colour->green, colour->blue, colour->alpha * alpha);
}

static void
add_ellipse (cairo_t *cr,
             double   width,
             double   height)
{
  cairo_save (cr);
  cairo_scale (cr, width / 2, height / 2);
  cairo_new_sub_path (cr);
  cairo_arc (cr, 0, 0, 1, 0, 2 * G_PI);
  cairo_restore (cr);
}

static void
add_rounded_box (cairo_t *cr,
                 double   width,
                 double   height)
{
  double r = MIN (width, height) * CORNER_SHARE;

  cairo_new_sub_path (cr);
  cairo_arc (cr, width / 2 - r, -height / 2 + r, r, -G_PI / 2, 0);
  cairo_arc (cr, width / 2 - r, height / 2 - r, r, 0, G_PI / 2);
  cairo_arc (cr, -width / 2 + r, height / 2 - r, r, G_PI / 2, G_PI);
  cairo_arc (cr, -width / 2 + r, -height / 2 + r, r, G_PI, 1.5 * G_PI);
  cairo_close_path (cr);
}

/* The outline of the vessel, grown on every side; pixels. */
static void
add_outline (const WbVesselTop *self,
             cairo_t           *cr,
             double             grown)
{
  double width = self->sight.inner_mm * self->scale + 2 * grown;
  double height = across_of (&self->sight) * self->scale + 2 * grown;

  if (self->sight.shape == WB_SHAPE_SQUARE)
    add_rounded_box (cr, width, height);
  else
    add_ellipse (cr, width, height);
}

static void
draw_wax (const WbVesselTop *self,
          cairo_t           *cr,
          const Colours     *colours)
{
  double wall = MAX (wall_of (&self->sight) * self->scale, 1.5);

  add_outline (self, cr, wall);
  set_colour (cr, &colours->ink, 0.20);
  cairo_fill (cr);
  add_outline (self, cr, 0);
  set_colour (cr, &colours->ink, 0.06);
  cairo_fill (cr);
  add_outline (self, cr, wall);
  if (self->sight.mood == WB_VESSEL_WAITING)
    cairo_set_dash (cr, (const double[]) { 4, 3 }, 2, 0);
  cairo_set_line_width (cr, 1);
  set_colour (cr, &colours->ink, 0.75);
  cairo_stroke (cr);
  cairo_set_dash (cr, NULL, 0, 0);
}

static void
draw_pool (const WbVesselTop *self,
           cairo_t           *cr,
           const Colours     *colours)
{
  const WbVesselSight *sight = &self->sight;
  double other = isnan (sight->pool_across_mm) ? sight->pool_mm : sight->pool_across_mm;
  double alpha = sight->mood == WB_VESSEL_OUT || sight->mood == WB_VESSEL_WAITING ? 0.12 : 0.38;

  if (isnan (sight->pool_mm))
    return;
  if (sight->at_wall && sight->shape == WB_SHAPE_SQUARE)
    add_outline (self, cr, 0);
  else if (sight->at_wall)
    add_ellipse (cr, sight->inner_mm * self->scale, across_of (sight) * self->scale);
  else
    add_ellipse (cr, sight->pool_mm * self->scale, other * self->scale);
  set_colour (cr, &colours->ember, alpha);
  cairo_fill_preserve (cr);
  cairo_set_line_width (cr, sight->at_wall ? 2.5 : 1.25);
  set_colour (cr, &colours->ember, alpha + 0.4);
  cairo_stroke (cr);
}

/* A drop with its tip up, about the middle. */
static void
draw_flame (cairo_t       *cr,
            const Colours *colours,
            double         size)
{
  cairo_new_path (cr);
  cairo_move_to (cr, 0, -size);
  cairo_curve_to (cr, size * 0.25, -size * 0.35, size * 0.55, 0, size * 0.5, size * 0.35);
  cairo_curve_to (cr, size * 0.45, size * 0.85, -size * 0.45, size * 0.85, -size * 0.5, size * 0.35);
  cairo_curve_to (cr, -size * 0.55, 0, -size * 0.25, -size * 0.35, 0, -size);
  set_colour (cr, &colours->ember, 1);
  cairo_fill_preserve (cr);
  set_colour (cr, &colours->ink, 0.9);
  cairo_set_line_width (cr, 1);
  cairo_stroke (cr);
}

static void
draw_wick (cairo_t       *cr,
           const Colours *colours,
           gboolean       upright)
{
  set_colour (cr, &colours->ink, 0.9);
  cairo_new_path (cr);
  if (upright)
    {
      cairo_move_to (cr, 0, 3);
      cairo_line_to (cr, 0, -7);
      cairo_set_line_width (cr, 2.5);
      cairo_stroke (cr);
    }
  else
    {
      cairo_arc (cr, 0, 0, 2.5, 0, 2 * G_PI);
      cairo_fill (cr);
    }
}

/* Two wicks stand side by side on the longer axis, more of them on a circle about the middle. */
static double
get_wick_reach (const WbVesselTop *self)
{
  const WbVesselSight *sight = &self->sight;
  double most = MIN (sight->inner_mm, across_of (sight)) * 0.4;

  if (!(sight->spacing_mm > 0))
    return sight->inner_mm * WICK_REACH;
  return MIN (sight->spacing_mm / 2 / sin (G_PI / sight->n_wicks), sight->n_wicks == 2 ? sight->inner_mm * 0.4 : most);
}

static void
draw_wicks (const WbVesselTop *self,
            cairo_t           *cr,
            const Colours     *colours,
            double             size)
{
  guint n = MAX (self->sight.n_wicks, 1);
  gboolean lit = self->sight.mood == WB_VESSEL_ALIGHT || self->sight.mood == WB_VESSEL_DUE || self->sight.mood == WB_VESSEL_OVER;
  double reach = n > 1 ? get_wick_reach (self) * self->scale : 0;

  for (guint i = 0; i < n; i++)
    {
      /* The first at the left. */
      double angle = G_PI + i * 2 * G_PI / n;

      cairo_save (cr);
      cairo_translate (cr, reach * cos (angle), reach * sin (angle));
      if (lit && (self->sight.wicks_out & (1u << i)) == 0)
        draw_flame (cr, colours, CLAMP (size * 0.16, 6, 14) * (n > 2 ? 0.7 : 1));
      else
        draw_wick (cr, colours, self->sight.mood == WB_VESSEL_FIT);
      cairo_restore (cr);
    }
}

/* The ring that fills clockwise from the top until the next reading. */
static void
draw_ring (const WbVesselTop *self,
           cairo_t           *cr,
           const Colours     *colours,
           double             radius)
{
  gboolean due = self->sight.mood == WB_VESSEL_DUE || self->sight.mood == WB_VESSEL_OVER;
  double turn = due ? 1 : CLAMP (self->sight.turn, 0, 1);

  if (isnan (turn))
    return;
  cairo_set_line_width (cr, 1);
  cairo_arc (cr, 0, 0, radius, 0, 2 * G_PI);
  set_colour (cr, &colours->ink, 0.25);
  cairo_stroke (cr);
  cairo_set_line_width (cr, RING_PX);
  cairo_arc (cr, 0, 0, radius, -G_PI / 2, -G_PI / 2 + turn * 2 * G_PI);
  set_colour (cr, due ? &colours->ember : &colours->glass, 1);
  cairo_stroke (cr);
}

static void
draw_square (cairo_t       *cr,
             const Colours *colours,
             double         reach)
{
  cairo_rectangle (cr, -reach - RING_PX, -reach - RING_PX, 2 * (reach + RING_PX), 2 * (reach + RING_PX));
  cairo_set_line_width (cr, 2.5);
  set_colour (cr, &colours->stop, 1);
  cairo_stroke (cr);
}

static void
draw_signs (const WbVesselTop *self,
            cairo_t           *cr,
            const Colours     *colours)
{
  double size = MAX (self->sight.inner_mm, across_of (&self->sight)) * self->scale;
  double reach = size / 2 + wall_of (&self->sight) * self->scale + GAP_PX;

  switch (self->sight.mood)
    {
    case WB_VESSEL_OVER:
      draw_ring (self, cr, colours, reach);
      draw_square (cr, colours, reach);
      break;
    case WB_VESSEL_ALIGHT:
    case WB_VESSEL_DUE:
      draw_ring (self, cr, colours, reach);
      break;
    case WB_VESSEL_BARRED:
      draw_square (cr, colours, reach);
      break;
    case WB_VESSEL_OUT:
      cairo_move_to (cr, -size * 0.45, size * 0.45);
      cairo_line_to (cr, size * 0.45, -size * 0.45);
      cairo_set_line_width (cr, 1.5);
      set_colour (cr, &colours->ink, 0.75);
      cairo_stroke (cr);
      break;
    case WB_VESSEL_WAITING:
    case WB_VESSEL_FIT:
    default:
      break;
    }
  draw_wicks (self, cr, colours, size);
}

static void
wb_vessel_top_snapshot (GtkWidget   *widget,
                        GtkSnapshot *snapshot)
{
  WbVesselTop *self = WB_VESSEL_TOP (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  cairo_t *cr;
  Colours colours;

  if (width <= 0 || height <= 0 || !(self->sight.inner_mm > 0))
    return;
  look_up (widget, &colours);
  cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));
  cairo_translate (cr, width / 2.0, height / 2.0);
  draw_wax (self, cr, &colours);
  draw_pool (self, cr, &colours);
  draw_signs (self, cr, &colours);
  cairo_destroy (cr);
}

static void
wb_vessel_top_measure (GtkWidget      *widget,
                       GtkOrientation  orientation,
                       int             for_size,
                       int            *minimum,
                       int            *natural,
                       int            *minimum_baseline,
                       int            *natural_baseline)
{
  WbVesselTop *self = WB_VESSEL_TOP (widget);

  *minimum = *natural = (int) ceil (self->widest_mm * self->scale + 2 * (GAP_PX + 2 * RING_PX));
}

static void
wb_vessel_top_class_init (WbVesselTopClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  widget_class->snapshot = wb_vessel_top_snapshot;
  widget_class->measure = wb_vessel_top_measure;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_PRESENTATION);
}

static void
wb_vessel_top_init (WbVesselTop *self)
{
  self->sight = (WbVesselSight) { .across_mm = NAN, .wall_mm = NAN, .pool_mm = NAN, .pool_across_mm = NAN,
                                   .spacing_mm = NAN, .turn = NAN };
  self->scale = 1;
}

GtkWidget *
wb_vessel_top_new (void)
{
  return g_object_new (WB_TYPE_VESSEL_TOP, NULL);
}

static gboolean
same_number (double a,
             double b)
{
  return a == b || (isnan (a) && isnan (b));
}

static gboolean
same_sight (const WbVesselSight *a,
            const WbVesselSight *b)
{
  return a->shape == b->shape && a->mood == b->mood && a->at_wall == b->at_wall && a->n_wicks == b->n_wicks && a->wicks_out == b->wicks_out
         && same_number (a->spacing_mm, b->spacing_mm) && same_number (a->inner_mm, b->inner_mm)
         && same_number (a->across_mm, b->across_mm) && same_number (a->wall_mm, b->wall_mm)
         && same_number (a->pool_mm, b->pool_mm) && same_number (a->pool_across_mm, b->pool_across_mm)
         && same_number (a->turn, b->turn);
}

void
wb_vessel_top_set (WbVesselTop         *self,
                   const WbVesselSight *sight)
{
  g_return_if_fail (WB_IS_VESSEL_TOP (self));
  g_return_if_fail (sight != NULL);

  if (same_sight (&self->sight, sight))
    return;
  self->sight = *sight;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
wb_vessel_top_set_scale (WbVesselTop *self,
                         double       scale,
                         double       widest_mm)
{
  g_return_if_fail (WB_IS_VESSEL_TOP (self));
  g_return_if_fail (scale > 0);

  if (self->scale == scale && self->widest_mm == widest_mm)
    return;
  self->scale = scale;
  self->widest_mm = widest_mm;
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

double
wb_vessel_sight_get_width (const WbVesselSight *sight)
{
  return MAX (sight->inner_mm, across_of (sight)) + 2 * wall_of (sight);
}
