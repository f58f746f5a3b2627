/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-views.h"

#include "wb-app-draft.h"
#include "wb-app-query.h"
#include "wb-cell-grid.h"
#include "wb-record-form.h"
#include "wb-scent-list.h"
#include "wb-tick-list.h"

/* A new plan that is half typed outlives the program. */

static gboolean
is_begun (gpointer user)
{
  return test_enabled (user, "page.save");
}

static gboolean
is_there_again (gpointer user)
{
  return is_begun (user) && wb_page_has_draft (wb_window_get_page (user));
}

static gboolean
is_draft_read (gpointer user)
{
  return wb_app_draft_get_loaded (wb_app_draft_of (test_notebook (user), "plan"));
}

static gboolean
is_forgotten (gpointer user)
{
  return is_draft_read (user) && !g_key_file_has_group (wb_app_draft_get_file (wb_app_draft_of (test_notebook (user), "plan")), "plan");
}

static WbTickList *
get_ticks (WbWindow   *window,
           const char *box)
{
  return WB_TICK_LIST (test_find (test_part (window, box), WB_TYPE_TICK_LIST));
}

static GtkWidget *
get_field (WbWindow   *window,
           const char *name,
           GType       type)
{
  return test_find (wb_record_form_get_field (WB_RECORD_FORM (test_part (window, "form")), name), type);
}

static GtkTextBuffer *
get_question (WbWindow *window)
{
  return gtk_text_view_get_buffer (GTK_TEXT_VIEW (get_field (window, "question", GTK_TYPE_TEXT_VIEW)));
}

static const char *
get_heading (WbWindow *window)
{
  return gtk_label_get_text (GTK_LABEL (test_part (window, "grid_heading")));
}

/* Two of three wicks, a scent and the control, one combination off, four samples of each. */
static WbWindow *
begin (const char *name,
       TestShelf  *shelf)
{
  g_autofree char *path = test_path (name);
  WbWindow *window = test_window_new_with (path);

  test_shelf_fill (window, "Tern", shelf);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.new-experiment", NULL);
  test_wait (is_begun, window);
  test_wait (is_draft_read, window);
  gtk_editable_set_text (GTK_EDITABLE (get_field (window, "title", GTK_TYPE_ENTRY)), "Which Sedge; for = the Tern");
  gtk_text_buffer_set_text (get_question (window), "Which one\nis right?", -1);
  for (guint i = 0; i < 2; i++)
    gtk_check_button_set_active (wb_tick_list_get_tick (get_ticks (window, "wicks_box"), shelf->wicks[i]), TRUE);
  wb_scent_list_add (WB_SCENT_LIST (test_part (window, "scents")), shelf->fragrance);
  gtk_editable_set_text (GTK_EDITABLE (test_find (test_part (window, "scents"), GTK_TYPE_ENTRY)), "8.5");
  wb_scent_list_add (WB_SCENT_LIST (test_part (window, "scents")), 0);
  gtk_editable_set_text (GTK_EDITABLE (test_find (test_part (window, "samples"), GTK_TYPE_ENTRY)), "4");
  gtk_check_button_set_active (wb_cell_grid_get_tick (WB_CELL_GRID (test_part (window, "cells")), 1), FALSE);
  g_assert_cmpstr (get_heading (window), ==, "12 samples of 3 combinations");
  return window;
}

static void
assert_typed (WbWindow        *window,
              const TestShelf *shelf)
{
  g_autofree char *question = NULL;

  g_object_get (get_question (window), "text", &question, NULL);
  g_assert_cmpstr (question, ==, "Which one\nis right?");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (get_field (window, "title", GTK_TYPE_ENTRY))), ==, "Which Sedge; for = the Tern");
  g_assert_true (wb_tick_list_get_on (get_ticks (window, "vessels_box"), shelf->vessel));
  for (guint i = 0; i < 3; i++)
    g_assert_cmpint (wb_tick_list_get_on (get_ticks (window, "wicks_box"), shelf->wicks[i]), ==, i < 2);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (test_find (test_part (window, "scents"), GTK_TYPE_ENTRY))), ==, "8.5");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (test_find (test_part (window, "samples"), GTK_TYPE_ENTRY))), ==, "4");
  g_assert_false (gtk_check_button_get_active (wb_cell_grid_get_tick (WB_CELL_GRID (test_part (window, "cells")), 1)));
  g_assert_cmpstr (get_heading (window), ==, "12 samples of 3 combinations");
}

static gboolean
is_open (gpointer user)
{
  return wb_page_get_experiment (wb_window_get_page (user)) != 0;
}

static void
test_killed (void)
{
  TestShelf shelf;
  WbWindow *window = begin ("plan-killed.wickbench", &shelf);
  gint64 before = wb_app_notebook_get_last_entry (test_notebook (window));

  /* at closing nobody is asked */
  g_assert_true (wb_page_keeps_draft (wb_window_get_page (window)));
  for (guint i = 0; i < 2; i++)
    {
      window = test_window_crash (window, WB_APP_OPEN_EXISTING, "plan");
      test_wait (is_there_again, window);
      g_assert_true (gtk_widget_get_visible (test_part (window, "before")));
      assert_typed (window, &shelf);
    }
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (window)), ==, before);

  /* Saved it is forgotten. */
  gtk_widget_activate_action (GTK_WIDGET (window), "page.save", NULL);
  test_wait (is_open, window);
  test_wait (is_forgotten, window);
  g_assert_false (gtk_widget_get_visible (test_part (window, "before")));
  window = test_window_crash (window, WB_APP_OPEN_EXISTING, "plan");
  gtk_widget_activate_action (GTK_WIDGET (window), "win.new-experiment", NULL);
  test_wait (is_begun, window);
  test_wait (is_draft_read, window);
  g_assert_false (wb_page_has_draft (wb_window_get_page (window)));
  g_assert_cmpstr (get_heading (window), ==, "No combination yet");
  test_window_destroy (window);
}

static const char *
get_first (WbCellGrid *grid)
{
  return g_array_index (wb_cell_grid_get_items (grid), WbCellGridItem, 0).name;
}

/* The order that a person gave to wicks and scents comes back with the rest. */
static void
test_order (void)
{
  TestShelf shelf;
  WbWindow *window = begin ("plan-moved.wickbench", &shelf);
  WbCellGrid *grid = WB_CELL_GRID (test_part (window, "cells"));
  g_autofree char *before = g_strdup (get_first (grid)), *wicks = NULL, *both = NULL;

  wb_cell_grid_move (grid, WB_CELL_GRID_WICK, 1, 0);
  wicks = g_strdup (get_first (grid));
  g_assert_cmpstr (wicks, !=, before);
  wb_cell_grid_move (grid, WB_CELL_GRID_SCENT, 2, 0);
  both = g_strdup (get_first (grid));
  g_assert_cmpstr (both, !=, wicks);
  window = test_window_crash (window, WB_APP_OPEN_EXISTING, "plan");
  test_wait (is_there_again, window);
  g_assert_cmpstr (get_first (WB_CELL_GRID (test_part (window, "cells"))), ==, both);
  g_assert_cmpstr (get_heading (window), ==, "12 samples of 3 combinations");
  test_window_destroy (window);
}

static GtkWidget *
find_question (void)
{
  return test_find_window (GTK_TYPE_MESSAGE_DIALOG);
}

static gboolean
asks (gpointer user)
{
  return find_question () != NULL;
}

/* Begun anew it is forgotten. */
static void
test_anew (void)
{
  TestShelf shelf;
  WbWindow *window = begin ("plan-anew.wickbench", &shelf);

  window = test_window_crash (window, WB_APP_OPEN_EXISTING, "plan");
  test_wait (is_there_again, window);
  gtk_widget_activate_action (GTK_WIDGET (window), "page.revert", NULL);
  test_wait (asks, NULL);
  gtk_dialog_response (GTK_DIALOG (find_question ()), GTK_RESPONSE_ACCEPT);
  test_wait (is_forgotten, window);
  test_wait (is_begun, window);
  g_assert_false (wb_page_has_draft (wb_window_get_page (window)));
  g_assert_cmpstr (get_heading (window), ==, "No combination yet");
  test_window_destroy (window);
}

/* A look at the notebook where it can only be read neither shows nor forgets it. */
static void
test_read_only (void)
{
  TestShelf shelf;
  WbWindow *window = begin ("plan-read-only.wickbench", &shelf);

  window = test_window_crash (window, WB_APP_OPEN_READ, "plan");
  test_wait (is_draft_read, window);
  test_settle (window);
  g_assert_false (wb_page_has_draft (wb_window_get_page (window)));
  window = test_window_crash (window, WB_APP_OPEN_EXISTING, "plan");
  test_wait (is_there_again, window);
  assert_typed (window, &shelf);
  test_window_destroy (window);
}

/* What was deleted meanwhile is left out, the rest stands. */
static void
test_gone (void)
{
  TestShelf shelf;
  WbWindow *window = begin ("plan-gone.wickbench", &shelf);
  g_autoptr (GPtrArray) wicks = NULL, records = g_ptr_array_new ();
  g_autoptr (GError) error = NULL;

  wicks = wb_app_query_list_sync (test_notebook (window), &wb_wick_type, &error);
  g_assert_no_error (error);
  g_assert_true (wb_window_go (window, "today", 0));
  window = test_window_crash (window, WB_APP_OPEN_EXISTING, "plan");
  g_assert_true (wb_window_go (window, "today", 0));
  for (guint i = 0; i < wicks->len; i++)
    if (((WbRecord *) wicks->pdata[i])->id == shelf.wicks[0])
      {
        ((WbRecord *) wicks->pdata[i])->deleted = TRUE;
        g_ptr_array_add (records, wicks->pdata[i]);
      }
  wb_app_notebook_save_sync (test_notebook (window), "Delete a wick", records, NULL, &error);
  g_assert_no_error (error);
  window = test_window_crash (window, WB_APP_OPEN_EXISTING, "plan");
  test_wait (is_there_again, window);
  g_assert_null (wb_tick_list_get_tick (get_ticks (window, "wicks_box"), shelf.wicks[0]));
  g_assert_true (wb_tick_list_get_on (get_ticks (window, "wicks_box"), shelf.wicks[1]));
  test_window_destroy (window);
}

void
test_plan_draft_add (void)
{
  g_test_add_func ("/views/plan/what-is-half-typed-outlives-a-kill", test_killed);
  g_test_add_func ("/views/plan/a-half-typed-order-outlives-a-kill", test_order);
  g_test_add_func ("/views/plan/what-was-half-typed-is-begun-anew", test_anew);
  g_test_add_func ("/views/plan/what-is-half-typed-outlives-a-look-at-a-read-only-notebook", test_read_only);
  g_test_add_func ("/views/plan/what-is-gone-meanwhile-is-left-out", test_gone);
}
