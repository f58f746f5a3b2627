/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <string.h>

#include "test-views.h"

#include "wb-app-query.h"
#include "wb-cell-grid.h"
#include "wb-plan-view.h"
#include "wb-record-form.h"
#include "wb-scent-list.h"
#include "wb-tick-list.h"

/* What is dragged into a plan's grid, and the order in which it stands there. */

static GtkWidget *
part (WbWindow   *window,
      const char *id)
{
  GtkWidget *widget = test_child (GTK_WIDGET (wb_window_get_page (window)), id);

  g_assert_nonnull (widget);
  return widget;
}

static gboolean
is_begun (gpointer user)
{
  return test_enabled (user, "page.save");
}

static gboolean
shows_view (gpointer user)
{
  return g_strcmp0 (gtk_stack_get_visible_child_name (GTK_STACK (part (user, "stack"))), "view") == 0;
}

static WbCellGrid *
get_grid (WbWindow *window)
{
  return WB_CELL_GRID (part (window, "cells"));
}

static WbTickList *
get_ticks (WbWindow   *window,
           const char *box)
{
  return WB_TICK_LIST (test_find (part (window, box), WB_TYPE_TICK_LIST));
}

static gpointer
get_controller (GtkWidget *widget,
                GType      type)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (widget);

  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
    {
      g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);

      if (G_TYPE_CHECK_INSTANCE_TYPE (controller, type))
        return controller;
    }
  g_assert_not_reached ();
}

/* As the pointer would: of several targets of a type only one is asked. */
static gboolean
drop (GtkWidget *from,
      GtkWidget *to,
      GType      type)
{
  GdkContentProvider *content = NULL;
  g_auto (GValue) value = G_VALUE_INIT;
  gboolean taken = FALSE;

  g_signal_emit_by_name (get_controller (from, GTK_TYPE_DRAG_SOURCE), "prepare", 1.0, 1.0, &content);
  g_assert_nonnull (content);
  g_value_init (&value, type);
  g_assert_true (gdk_content_provider_get_value (content, &value, NULL));
  g_object_unref (content);
  g_signal_emit_by_name (get_controller (to, GTK_TYPE_DROP_TARGET), "drop", &value, 1.0, 1.0, &taken);
  return taken;
}

/* Vessels, wicks and scents of a grid, each in its order. Caller frees. */
static char *
dup_order (WbWindow *window)
{
  const GArray *items = wb_cell_grid_get_items (get_grid (window));
  g_autoptr (GPtrArray) words = g_ptr_array_new ();

  for (guint kind = 0; kind < 3; kind++)
    for (guint i = 0; i < items->len; i++)
      {
        const WbCellGridItem *item = &g_array_index (items, WbCellGridItem, i);
        const char *word = kind == 0 ? item->vessel : kind == 1 ? item->wick : item->scent;

        if (!g_ptr_array_find_with_equal_func (words, word, g_str_equal, NULL))
          g_ptr_array_add (words, (gpointer) word);
      }
  g_ptr_array_add (words, NULL);
  return g_strjoinv (", ", (char **) words->pdata);
}

static void
assert_order (WbWindow   *window,
              const char *expected)
{
  g_autofree char *order = dup_order (window);

  g_assert_cmpstr (order, ==, expected);
}

static void
press (WbWindow *window,
       guint     key)
{
  gboolean taken = FALSE;

  g_signal_emit_by_name (get_controller (GTK_WIDGET (get_grid (window)), GTK_TYPE_EVENT_CONTROLLER_KEY), "key-pressed", key, 0, GDK_ALT_MASK, &taken);
  g_assert_true (taken);
}

/* The shelf's vessel and another one; nothing is in the plan yet but the fragrance at 8 %, and none. Their ids. */
static WbWindow *
open_plan (const char *name,
           TestShelf  *shelf,
           gint64     *second)
{
  g_autofree char *path = test_path (name);
  WbWindow *window = test_window_new_with (path);
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free), vessels = NULL;
  g_autoptr (GError) error = NULL;
  WbVessel *vessel = wb_record_new (&wb_vessel_type);

  test_shelf_fill (window, "Tern", shelf);
  vessel->name = g_strdup ("Gannet");
  vessel->inner_diameter_mm = 90;
  g_ptr_array_add (records, vessel);
  wb_app_notebook_save_sync (test_notebook (window), "Add a vessel", records, NULL, &error);
  g_assert_no_error (error);
  test_settle (window);
  vessels = wb_app_query_list_sync (test_notebook (window), &wb_vessel_type, &error);
  g_assert_no_error (error);
  for (guint i = 0; i < vessels->len; i++)
    if (((WbRecord *) vessels->pdata[i])->id != shelf->vessel)
      *second = ((WbRecord *) vessels->pdata[i])->id;
  gtk_widget_activate_action (GTK_WIDGET (window), "win.new-experiment", NULL);
  test_wait (is_begun, window);
  wb_scent_list_add (WB_SCENT_LIST (part (window, "scents")), shelf->fragrance);
  gtk_editable_set_text (GTK_EDITABLE (test_find (part (window, "scents"), GTK_TYPE_ENTRY)), "8");
  wb_scent_list_add (WB_SCENT_LIST (part (window, "scents")), 0);
  return window;
}

static void
tick_all (WbWindow        *window,
          const TestShelf *shelf,
          gint64           second)
{
  gtk_check_button_set_active (wb_tick_list_get_tick (get_ticks (window, "vessels_box"), shelf->vessel), TRUE);
  gtk_check_button_set_active (wb_tick_list_get_tick (get_ticks (window, "vessels_box"), second), TRUE);
  for (guint i = 0; i < G_N_ELEMENTS (shelf->wicks); i++)
    gtk_check_button_set_active (wb_tick_list_get_tick (get_ticks (window, "wicks_box"), shelf->wicks[i]), TRUE);
}

/* A vessel, a wick, a whole series: dragged from the choices onto the grid's side, where there is no grid yet. */
static void
test_drag_in (void)
{
  TestShelf shelf;
  gint64 second = 0;
  WbWindow *window = open_plan ("drag-in.wickbench", &shelf, &second), *other;
  GtkWidget *side = part (window, "grid_side"), *check;

  g_assert_true (drop (GTK_WIDGET (wb_tick_list_get_tick (get_ticks (window, "vessels_box"), shelf.vessel)), side, GTK_TYPE_CHECK_BUTTON));
  g_assert_true (wb_tick_list_get_on (get_ticks (window, "vessels_box"), shelf.vessel));
  check = GTK_WIDGET (wb_tick_list_get_tick (get_ticks (window, "wicks_box"), shelf.wicks[1]));
  g_assert_true (drop (check, side, GTK_TYPE_CHECK_BUTTON));
  assert_order (window, "Tern, 76\u00a0mm, Sedge S-3, Harbour mist 8\u00a0% of the wax, no fragrance");
  /* what is there already stays */
  g_assert_true (drop (check, side, GTK_TYPE_CHECK_BUTTON));
  assert_order (window, "Tern, 76\u00a0mm, Sedge S-3, Harbour mist 8\u00a0% of the wax, no fragrance");
  g_assert_true (drop (test_find (part (window, "wicks_box"), GTK_TYPE_CHECK_BUTTON), side, GTK_TYPE_CHECK_BUTTON));
  assert_order (window, "Tern, 76\u00a0mm, Sedge S-2, Sedge S-3, Sedge S-4, Harbour mist 8\u00a0% of the wax, no fragrance");
  /* a check of another window is no material of this one */
  other = open_plan ("drag-other.wickbench", &shelf, &second);
  g_assert_false (drop (GTK_WIDGET (wb_tick_list_get_tick (get_ticks (other, "wicks_box"), shelf.wicks[0])), side, GTK_TYPE_CHECK_BUTTON));
  test_window_destroy (other);
  test_window_destroy (window);
}

static gboolean
is_moved (gpointer user)
{
  g_autofree char *order = dup_order (user);

  return g_str_has_prefix (order, "Gannet") && strstr (order, "Sedge S-3, Sedge S-4, Sedge S-2") != NULL;
}

/* Names are dragged onto names of their kind; what is half typed beside them stays. */
static void
test_drag_order (void)
{
  TestShelf shelf;
  gint64 second = 0;
  WbWindow *window = open_plan ("drag-order.wickbench", &shelf, &second);
  WbCellGrid *grid = get_grid (window);
  GtkWidget *tern, *gannet, *first, *last;

  tick_all (window, &shelf, second);
  assert_order (window, "Tern, 76\u00a0mm, Gannet, 90\u00a0mm, Sedge S-2, Sedge S-3, Sedge S-4, Harbour mist 8\u00a0% of the wax, no fragrance");
  tern = GTK_WIDGET (wb_cell_grid_find_heading (grid, "Tern, 76\u00a0mm"));
  gannet = GTK_WIDGET (wb_cell_grid_find_heading (grid, "Gannet, 90\u00a0mm"));
  first = GTK_WIDGET (wb_cell_grid_find_heading (grid, "Sedge S-2"));
  last = GTK_WIDGET (wb_cell_grid_find_heading (grid, "Sedge S-4"));
  g_assert_false (drop (first, tern, GTK_TYPE_WIDGET));
  g_assert_true (drop (first, last, GTK_TYPE_WIDGET));
  g_assert_true (drop (gannet, tern, GTK_TYPE_WIDGET));
  test_wait (is_moved, window);
  assert_order (window, "Gannet, 90\u00a0mm, Tern, 76\u00a0mm, Sedge S-3, Sedge S-4, Sedge S-2, Harbour mist 8\u00a0% of the wax, no fragrance");
  test_window_destroy (window);
}

/* Alt and an arrow key do the same; the focus stays with what is moved, and the order outlives the saving and a change of the plan. */
static void
test_keys (void)
{
  TestShelf shelf;
  gint64 second = 0;
  WbWindow *window = open_plan ("order-keys.wickbench", &shelf, &second);
  GtkWidget *title = wb_record_form_get_field (WB_RECORD_FORM (part (window, "form")), "title");
  GtkWidget *wax = wb_record_form_get_field (WB_RECORD_FORM (part (window, "form")), "wax");
  WbCellGrid *grid = get_grid (window);

  gtk_editable_set_text (GTK_EDITABLE (test_find (title, GTK_TYPE_ENTRY)), "Which comes first");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (test_find (wax, GTK_TYPE_DROP_DOWN)), 1);
  tick_all (window, &shelf, second);
  gtk_widget_grab_focus (GTK_WIDGET (wb_cell_grid_get_tick (grid, 0)));
  press (window, GDK_KEY_Down);
  assert_order (window, "Tern, 76\u00a0mm, Gannet, 90\u00a0mm, Sedge S-3, Sedge S-2, Sedge S-4, Harbour mist 8\u00a0% of the wax, no fragrance");
  g_assert_true (gtk_root_get_focus (GTK_ROOT (window)) == GTK_WIDGET (wb_cell_grid_get_tick (grid, 1)));
  press (window, GDK_KEY_Right);
  assert_order (window, "Tern, 76\u00a0mm, Gannet, 90\u00a0mm, Sedge S-3, Sedge S-2, Sedge S-4, no fragrance, Harbour mist 8\u00a0% of the wax");
  press (window, GDK_KEY_Right); /* at the edge already */
  gtk_widget_grab_focus (GTK_WIDGET (wb_cell_grid_find_heading (grid, "Gannet, 90\u00a0mm")));
  press (window, GDK_KEY_Up);
  assert_order (window, "Gannet, 90\u00a0mm, Tern, 76\u00a0mm, Sedge S-3, Sedge S-2, Sedge S-4, no fragrance, Harbour mist 8\u00a0% of the wax");
  g_assert_true (gtk_root_get_focus (GTK_ROOT (window)) == GTK_WIDGET (wb_cell_grid_find_heading (grid, "Gannet, 90\u00a0mm")));
  /* the lines of the scents follow: what is typed there next does not put the control back */
  gtk_editable_set_text (GTK_EDITABLE (test_find (part (window, "scents"), GTK_TYPE_ENTRY)), "7");
  assert_order (window, "Gannet, 90\u00a0mm, Tern, 76\u00a0mm, Sedge S-3, Sedge S-2, Sedge S-4, no fragrance, Harbour mist 7\u00a0% of the wax");
  /* a wick that comes later comes last */
  gtk_check_button_set_active (wb_tick_list_get_tick (get_ticks (window, "wicks_box"), shelf.wicks[0]), FALSE);
  gtk_check_button_set_active (wb_tick_list_get_tick (get_ticks (window, "wicks_box"), shelf.wicks[0]), TRUE);
  assert_order (window, "Gannet, 90\u00a0mm, Tern, 76\u00a0mm, Sedge S-3, Sedge S-4, Sedge S-2, no fragrance, Harbour mist 7\u00a0% of the wax");

  gtk_widget_activate_action (GTK_WIDGET (window), "page.save", NULL);
  test_wait (shows_view, window);
  test_settle (window);
  grid = WB_CELL_GRID (test_find (test_find (GTK_WIDGET (wb_window_get_page (window)), WB_TYPE_PLAN_VIEW), WB_TYPE_CELL_GRID));
  g_assert_cmpstr (g_array_index (wb_cell_grid_get_items (grid), WbCellGridItem, 0).name, ==, "Gannet, 90\u00a0mm · S-3 · no fragrance");
  gtk_widget_activate_action (GTK_WIDGET (window), "page.change", NULL);
  test_wait (is_begun, window);
  assert_order (window, "Gannet, 90\u00a0mm, Tern, 76\u00a0mm, Sedge S-3, Sedge S-4, Sedge S-2, no fragrance, Harbour mist 7\u00a0% of the wax");
  test_window_destroy (window);
}

void
test_plan_order_add (void)
{
  g_test_add_func ("/views/plan-order/choices-are-dragged-onto-the-grid", test_drag_in);
  g_test_add_func ("/views/plan-order/a-name-is-dragged-to-its-place", test_drag_order);
  g_test_add_func ("/views/plan-order/alt-and-an-arrow-key-do-the-same", test_keys);
}
