/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-widgets.h"

#include "wb-pool-entry.h"
#include "wb-quantity-entry.h"

#include <math.h>

static GtkWidget *
find_nth (GtkWidget *widget,
          GType      type,
          guint     *n)
{
  if (G_TYPE_CHECK_INSTANCE_TYPE (widget, type) && (*n)-- == 0)
    return widget;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find_nth (child, type, n);

      if (found != NULL)
        return found;
    }
  return NULL;
}

static GtkWidget *
get_text (WbPoolEntry *entry,
          guint        line)
{
  return find_nth (GTK_WIDGET (entry), GTK_TYPE_TEXT, &line);
}

static void
type (WbPoolEntry *entry,
      guint        line,
      const char  *text)
{
  gtk_editable_set_text (GTK_EDITABLE (get_text (entry, line)), text);
}

static void
on_count_cb (guint *n)
{
  (*n)++;
}

static void
get (WbPoolEntry *entry,
     double       values[WB_N_COLUMNS])
{
  for (int i = 0; i < WB_N_COLUMNS; i++)
    values[i] = NAN;
  wb_pool_entry_get_values (entry, values);
}

static void
test_one (void)
{
  WbPoolEntry *entry = WB_POOL_ENTRY (g_object_ref_sink (wb_pool_entry_new (WB_UNIT_MM, 80)));
  double values[WB_N_COLUMNS];

  type (entry, 0, "2 1/8\"");
  get (entry, values);
  g_assert_cmpfloat_with_epsilon (values[WB_COLUMN_POOL_MM], 53.975, 1e-9);
  g_assert_true (isnan (values[WB_COLUMN_POOL_FULL]));
  g_assert_true (isnan (values[WB_COLUMN_POOL_A_MM]));
  g_assert_true (wb_pool_entry_get_touched (entry));
  /* Wider than the vessel it cannot be. */
  type (entry, 0, "90");
  g_assert_false (wb_pool_entry_check (entry));
  type (entry, 0, "half");
  g_assert_false (wb_pool_entry_check (entry));
  type (entry, 0, "");
  g_assert_true (wb_pool_entry_check (entry));
  g_assert_false (wb_pool_entry_get_touched (entry));
  g_assert_finalize_object (entry);
}

/* R turns to the four sides, and back; neither way holds anything of the other. */
static void
test_ring (void)
{
  GtkWidget *entry = wb_pool_entry_new (WB_UNIT_MM, 80);
  GtkWidget *window = test_window_new (entry);
  WbPoolEntry *pool = WB_POOL_ENTRY (entry);
  double values[WB_N_COLUMNS];

  type (pool, 0, "41");
  gtk_widget_grab_focus (entry);
  g_assert_true (test_press (get_text (pool, 0), GDK_KEY_r));
  for (guint i = 0; i < 4; i++)
    type (pool, 2 + i, i == 1 ? "1/4\"" : "3");
  get (pool, values);
  g_assert_true (isnan (values[WB_COLUMN_POOL_MM]));
  g_assert_cmpfloat (values[WB_COLUMN_RING_12_MM], ==, 3);
  g_assert_cmpfloat_with_epsilon (values[WB_COLUMN_RING_3_MM], 6.35, 1e-9);
  g_assert_cmpfloat (values[WB_COLUMN_RING_9_MM], ==, 3);
  g_assert_true (wb_pool_entry_check (pool));
  g_assert_true (wb_pool_entry_get_touched (pool));
  /* No ring is wider than half the vessel. */
  type (pool, 5, "41");
  g_assert_false (wb_pool_entry_check (pool));
  g_assert_true (test_press (get_text (pool, 2), GDK_KEY_r));
  get (pool, values);
  g_assert_true (isnan (values[WB_COLUMN_RING_12_MM]) && isnan (values[WB_COLUMN_POOL_MM]));
  g_assert_true (wb_pool_entry_check (pool));
  values[WB_COLUMN_RING_6_MM] = 4;
  wb_pool_entry_set_values (pool, values);
  get (pool, values);
  g_assert_cmpfloat (values[WB_COLUMN_RING_6_MM], ==, 4);
  test_window_destroy (window, entry);
}

static void
test_full (void)
{
  GtkWidget *entry = wb_pool_entry_new (WB_UNIT_MM, 80);
  GtkWidget *window = test_window_new (entry);
  WbPoolEntry *pool = WB_POOL_ENTRY (entry);
  double values[WB_N_COLUMNS];

  gtk_widget_grab_focus (entry);
  g_assert_true (test_press (get_text (pool, 0), GDK_KEY_f));
  get (pool, values);
  g_assert_cmpfloat (values[WB_COLUMN_POOL_FULL], ==, 1);
  g_assert_true (isnan (values[WB_COLUMN_POOL_MM]));
  g_assert_true (wb_pool_entry_check (pool));
  /* The word spelt out is the same; a digit begins a number in its place. */
  g_assert_true (test_press (get_text (pool, 0), GDK_KEY_u));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (get_text (pool, 0))), ==, "full");
  g_assert_false (test_press (get_text (pool, 0), GDK_KEY_5));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (get_text (pool, 0))), ==, "");
  type (pool, 0, "FULL");
  get (pool, values);
  g_assert_cmpfloat (values[WB_COLUMN_POOL_FULL], ==, 1);
  g_assert_true (test_press (get_text (pool, 0), GDK_KEY_BackSpace));
  get (pool, values);
  g_assert_true (isnan (values[WB_COLUMN_POOL_FULL]));
  test_window_destroy (window, entry);
}

static void
test_two (void)
{
  GtkWidget *entry = wb_pool_entry_new (WB_UNIT_MM, 80);
  GtkWidget *window = test_window_new (entry);
  WbPoolEntry *pool = WB_POOL_ENTRY (entry);
  double values[WB_N_COLUMNS];
  guint done = 0;

  g_signal_connect_swapped (entry, "activate", G_CALLBACK (on_count_cb), &done);
  gtk_widget_grab_focus (entry);
  type (pool, 0, "54");
  g_assert_true (test_press (get_text (pool, 0), GDK_KEY_x));
  g_assert_true (wb_pool_entry_get_two (pool));
  /* A second one that was not read leaves the first a single diameter. */
  get (pool, values);
  g_assert_cmpfloat (values[WB_COLUMN_POOL_MM], ==, 54);
  type (pool, 1, "57");
  get (pool, values);
  g_assert_true (isnan (values[WB_COLUMN_POOL_MM]));
  g_assert_cmpfloat (values[WB_COLUMN_POOL_A_MM], ==, 54);
  g_assert_cmpfloat (values[WB_COLUMN_POOL_B_MM], ==, 57);
  /* The bits of "full" as the column holds them: 2 the first of two, 4 the one across. */
  g_assert_true (test_press (get_text (pool, 1), GDK_KEY_F));
  get (pool, values);
  g_assert_cmpfloat (values[WB_COLUMN_POOL_FULL], ==, 4);
  g_assert_cmpfloat (values[WB_COLUMN_POOL_A_MM], ==, 54);
  g_assert_true (isnan (values[WB_COLUMN_POOL_B_MM]));
  type (pool, 0, "full");
  get (pool, values);
  g_assert_cmpfloat (values[WB_COLUMN_POOL_FULL], ==, 6);
  /* Enter goes on to the second, and out of it. */
  g_signal_emit_by_name (get_text (pool, 0), "activate");
  g_assert_cmpuint (done, ==, 0);
  g_signal_emit_by_name (get_text (pool, 1), "activate");
  g_assert_cmpuint (done, ==, 1);
  test_window_destroy (window, entry);
}

void
test_pool_entry_add (void)
{
  g_test_add_func ("/widgets/pool-entry/one-diameter-in-any-unit", test_one);
  g_test_add_func ("/widgets/pool-entry/one-key-says-full", test_full);
  g_test_add_func ("/widgets/pool-entry/the-ring-at-four-sides", test_ring);
  g_test_add_func ("/widgets/pool-entry/two-diameters-at-right-angles", test_two);
}
