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

/* How much of the widget is painted, in pixels of at least that opacity, 1 to 255. */
static guint
count_pixels (const WbVesselSight *sight,
              guint                opacity)
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
      {
        const guchar *row = cairo_image_surface_get_data (surface) + y * cairo_image_surface_get_stride (surface);

        ink += ((const guint32 *) (gconstpointer) row)[x] >> 24 >= opacity;
      }
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  g_assert_finalize_object (top);
  return ink;
}

/* Any ink at all. */
static guint
count_ink (const WbVesselSight *sight)
{
  return count_pixels (sight, 1);
}

/* Flames, which alone are opaque where no ring is. */
static guint
count_full_ink (const WbVesselSight *sight)
{
  return count_pixels (sight, 250);
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

/* Painted beyond what the same vessel has without a flame at all: each flame is drawn, none over another. */
static void
test_wicks (void)
{
  WbVesselSight sight = sight_new (93);
  guint alight[4], near;

  sight.mood = WB_VESSEL_ALIGHT;
  sight.spacing_mm = NAN;
  for (guint n = 1; n <= 3; n++)
    {
      sight.n_wicks = n;
      alight[n] = count_full_ink (&sight);
    }
  /* A flame of the same size each; of three each is 0.7 as high and wide: 3 x 0.49 of the first. */
  g_assert_cmpfloat_with_epsilon ((double) alight[2] / alight[1], 2.0, 0.1);
  g_assert_cmpfloat_with_epsilon ((double) alight[3] / alight[1], 3 * 0.49, 0.2);
  /* One that is out has none. */
  sight.n_wicks = 2;
  sight.wicks_out = 2;
  g_assert_cmpfloat_with_epsilon ((double) count_full_ink (&sight) / alight[1], 1.0, 0.2);
  sight.wicks_out = 0;
  /* Nearly in one place: they cover each other. */
  sight.spacing_mm = 2;
  near = count_full_ink (&sight);
  g_assert_cmpuint (near, <, alight[2]);
}

void
test_vessel_top_add (void)
{
  g_test_add_func ("/widgets/vessel-top/each-wick-has-its-flame", test_wicks);
  g_test_add_func ("/widgets/vessel-top/vessels-are-drawn-to-scale", test_scale);
  g_test_add_func ("/widgets/vessel-top/a-limit-has-a-shape-of-its-own", test_shape);
}
