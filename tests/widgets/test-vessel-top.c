/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-widgets.h"

#include "wb-vessel-top.h"

#include <math.h>

static WbVesselSight
sight_new (double inner_mm)
{
  return (WbVesselSight) { .shape = WB_SHAPE_ROUND, .inner_mm = inner_mm, .across_mm = NAN, .wall_mm = 3.5, .pool_mm = NAN,
                           .pool_across_mm = NAN, .turn = NAN };
}

/* How much of the widget is painted, in pixels of any ink at all. */
static guint
count_ink (const WbVesselSight *sight)
{
  WbVesselTop *top = WB_VESSEL_TOP (g_object_ref_sink (wb_vessel_top_new ()));
  GtkSnapshot *snapshot = gtk_snapshot_new ();
  g_autoptr (GskRenderNode) node = NULL;
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, 200, 200);
  cairo_t *cr = cairo_create (surface);
  guint ink = 0;

  wb_vessel_top_set (top, sight);
  wb_vessel_top_set_scale (top, 1.0, 100);
  gtk_widget_measure (GTK_WIDGET (top), GTK_ORIENTATION_HORIZONTAL, -1, NULL, NULL, NULL, NULL);
  gtk_widget_measure (GTK_WIDGET (top), GTK_ORIENTATION_VERTICAL, -1, NULL, NULL, NULL, NULL);
  gtk_widget_allocate (GTK_WIDGET (top), 200, 200, -1, NULL);
  GTK_WIDGET_GET_CLASS (top)->snapshot (GTK_WIDGET (top), snapshot);
  node = gtk_snapshot_free_to_node (snapshot);
  g_assert_nonnull (node);
  gsk_render_node_draw (node, cr);
  cairo_surface_flush (surface);
  for (int y = 0; y < 200; y++)
    for (int x = 0; x < 200; x++)
      ink += ((guint32 *) (gpointer) (cairo_image_surface_get_data (surface) + y * cairo_image_surface_get_stride (surface)))[x] != 0;
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  g_assert_finalize_object (top);
  return ink;
}

/* To scale: the disc of a vessel twice as wide has four times the area. */
static void
test_scale (void)
{
  WbVesselSight small = sight_new (43), large = sight_new (93);
  double ratio;

  /* 43 + 2 x 3.5 = 50 mm and 93 + 2 x 3.5 = 100 mm across, at one pixel a mm. */
  g_assert_cmpfloat (wb_vessel_sight_get_width (&small), ==, 50);
  small.mood = large.mood = WB_VESSEL_WAITING;
  ratio = (double) count_ink (&large) / count_ink (&small);
  g_assert_cmpfloat_with_epsilon (ratio, 4.0, 0.25);
  g_assert_cmpfloat_with_epsilon (count_ink (&large), G_PI * 50 * 50, 400);
}

static void
test_shape (void)
{
  WbVesselSight sight = sight_new (93);
  guint waiting, over;

  sight.mood = WB_VESSEL_WAITING;
  waiting = count_ink (&sight);
  sight.mood = WB_VESSEL_OVER;
  sight.turn = 0.5;
  over = count_ink (&sight);
  /* A square about it, whatever the colour. */
  g_assert_cmpuint (over, >, waiting + 500);
  sight = sight_new (80);
  sight.across_mm = 60;
  sight.shape = WB_SHAPE_OVAL;
  g_assert_cmpfloat (wb_vessel_sight_get_width (&sight), ==, 87);
}

void
test_vessel_top_add (void)
{
  g_test_add_func ("/widgets/vessel-top/vessels-are-drawn-to-scale", test_scale);
  g_test_add_func ("/widgets/vessel-top/a-limit-has-a-shape-of-its-own", test_shape);
}
