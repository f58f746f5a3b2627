/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-widgets.h"

#include "wb-vessel-side.h"

#include <math.h>

#define SIZE_PX 300

/* The leftmost and rightmost painted pixel of a row, up to the room for the measures. */
typedef struct { int left, right; } Span;

static Span
paint (const WbVessel *vessel,
       int             row_px)
{
  WbVesselSide *side = WB_VESSEL_SIDE (g_object_ref_sink (wb_vessel_side_new ()));
  GtkSnapshot *snapshot = gtk_snapshot_new ();
  g_autoptr (GskRenderNode) node = NULL;
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, SIZE_PX, SIZE_PX);
  cairo_t *cr = cairo_create (surface);
  Span span = { SIZE_PX, -1 };
  const guint32 *row;

  wb_vessel_side_set (side, vessel, FALSE);
  gtk_widget_measure (GTK_WIDGET (side), GTK_ORIENTATION_HORIZONTAL, -1, NULL, NULL, NULL, NULL);
  gtk_widget_measure (GTK_WIDGET (side), GTK_ORIENTATION_VERTICAL, -1, NULL, NULL, NULL, NULL);
  gtk_widget_allocate (GTK_WIDGET (side), SIZE_PX, SIZE_PX, -1, NULL);
  GTK_WIDGET_GET_CLASS (side)->snapshot (GTK_WIDGET (side), snapshot);
  node = gtk_snapshot_free_to_node (snapshot);
  g_assert_nonnull (node);
  gsk_render_node_draw (node, cr);
  cairo_surface_flush (surface);
  row = (const guint32 *) (gconstpointer) (cairo_image_surface_get_data (surface) + row_px * cairo_image_surface_get_stride (surface));
  for (int x = 0; x < SIZE_PX - 76; x++)
    if (row[x] >> 24 > 0)
      {
        span.left = MIN (span.left, x);
        span.right = MAX (span.right, x);
      }
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  g_assert_finalize_object (side);
  return span;
}

static WbVessel *
vessel_new (double base_mm)
{
  WbVessel *vessel = wb_record_new (&wb_vessel_type);

  vessel->inner_diameter_mm = 80;
  vessel->base_diameter_mm = base_mm;
  vessel->wax_height_mm = 80;
  vessel->headspace_mm = 0;
  vessel->wall_mm = 2;
  return vessel;
}

/* To scale: a base of half the width is drawn half as wide, 1 mm of wall more on each side. */
static void
test_scale (void)
{
  WbVessel *vessel = vessel_new (40);
  Span top = paint (vessel, 60), low = paint (vessel, 240);

  g_assert_cmpint (top.right, >, top.left);
  g_assert_cmpint (low.right, >, low.left);
  /* The widths of the two rows lie between those of the ends, 84 and 44 mm. */
  g_assert_cmpint (low.right - low.left, <, top.right - top.left);
  g_assert_cmpfloat ((double) (low.right - low.left) / (top.right - top.left), >, 44.0 / 84.0);
  wb_record_free (vessel);
}

/* Straight walls are straight. */
static void
test_straight (void)
{
  WbVessel *vessel = vessel_new (80);
  Span top = paint (vessel, 100), low = paint (vessel, 220);

  g_assert_cmpint (top.left, ==, low.left);
  g_assert_cmpint (top.right, ==, low.right);
  wb_record_free (vessel);
}

static void
test_description (void)
{
  WbVesselSide *side = WB_VESSEL_SIDE (g_object_ref_sink (wb_vessel_side_new ()));
  WbVessel *vessel = vessel_new (NAN);

  wb_vessel_side_set (side, vessel, TRUE);
  gtk_test_accessible_assert_role (side, GTK_ACCESSIBLE_ROLE_IMG);
  gtk_test_accessible_assert_property (side, GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                       "at the fill line: 3.15\302\240in; height of the wax: 3.15\302\240in");
  wb_record_free (vessel);
  g_assert_finalize_object (side);
}

void
test_vessel_side_add (void)
{
  g_test_add_func ("/widgets/vessel-side/half-as-wide-is-drawn-half-as-wide", test_scale);
  g_test_add_func ("/widgets/vessel-side/straight-walls-are-straight", test_straight);
  g_test_add_func ("/widgets/vessel-side/its-sizes-are-told-in-words", test_description);
}
