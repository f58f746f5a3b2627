/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <string.h>

#include "test-views.h"

#include "wb-app-query.h"
#include "wb-plan-editor.h"
#include "wb-plan-shortlist.h"
#include "wb-tick-list.h"

/* Which of eight wicks: asked, taken, put back. */

static gboolean
is_begun (gpointer user)
{
  return test_enabled (user, "page.save");
}

static WbPlanShortlist *
get_shortlist (WbWindow *window)
{
  return WB_PLAN_SHORTLIST (test_part (window, "shortlist"));
}

static gboolean
is_answered (gpointer user)
{
  return wb_plan_shortlist_get_answer (get_shortlist (user)) != NULL;
}

static WbTickList *
get_ticks (WbWindow   *window,
           const char *box)
{
  return WB_TICK_LIST (test_find (test_part (window, box), WB_TYPE_TICK_LIST));
}

/* Sizes up to S-8 join the shelf's three; all of them, smallest first. */
static GPtrArray *
add_wicks (WbWindow *window)
{
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GPtrArray) wicks = NULL;
  g_autoptr (GError) error = NULL;
  const guint steps[] = { 1, 5, 6, 7, 8 };

  for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
    {
      WbWick *wick = wb_record_new (&wb_wick_type);

      wick->series = g_strdup ("Sedge");
      wick->size = g_strdup_printf ("S-%u", steps[i]);
      wick->step = steps[i];
      g_ptr_array_add (records, wick);
    }
  wb_app_notebook_save_sync (test_notebook (window), "More sizes", records, NULL, &error);
  g_assert_no_error (error);
  test_settle (window);
  wicks = wb_app_query_list_sync (test_notebook (window), &wb_wick_type, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (wicks->len, ==, 8);
  return g_steal_pointer (&wicks);
}

/* "S-2 S-5": sizes ticked in the form, in the materials' order. */
static char *
dup_ticked (WbWindow        *window,
            const GPtrArray *wicks)
{
  GString *text = g_string_new (NULL);

  for (guint step = 1; step <= 8; step++)
    for (guint i = 0; i < wicks->len; i++)
      {
        const WbWick *wick = wicks->pdata[i];

        if (wick->step == step && wb_tick_list_get_on (get_ticks (window, "wicks_box"), wick->record.id))
          g_string_append_printf (text, "%s%s", text->len > 0 ? " " : "", wick->size);
      }
  return g_string_free (text, FALSE);
}

static void
assert_ticked (WbWindow        *window,
               const GPtrArray *wicks,
               const char      *expected)
{
  g_autofree char *ticked = dup_ticked (window, wicks);

  g_assert_cmpstr (ticked, ==, expected);
}

static void
click (WbWindow   *window,
       const char *id)
{
  GtkWidget *button = test_child (GTK_WIDGET (get_shortlist (window)), id);

  g_assert_true (gtk_widget_get_visible (button));
  g_assert_true (gtk_widget_is_sensitive (button));
  g_signal_emit_by_name (button, "clicked");
}

static void
test_which (void)
{
  g_autofree char *path = test_path ("which.wickbench");
  WbWindow *window = test_window_new_with (path);
  TestShelf shelf;
  g_autoptr (GPtrArray) wicks = NULL;

  test_shelf_fill (window, "Tern", &shelf);
  wicks = add_wicks (window);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.new-experiment", NULL);
  test_wait (is_begun, window);
  g_assert_false (gtk_widget_is_sensitive (test_part (window, "ask")));
  /* the only vessel is chosen already */
  gtk_check_button_set_active (wb_tick_list_get_tick (get_ticks (window, "vessels_box"), shelf.vessel), FALSE);
  for (guint i = 0; i < wicks->len; i++)
    gtk_check_button_set_active (wb_tick_list_get_tick (get_ticks (window, "wicks_box"), ((WbRecord *) wicks->pdata[i])->id), TRUE);
  g_assert_false (gtk_widget_is_sensitive (test_part (window, "ask"))); /* no vessel */
  gtk_check_button_set_active (wb_tick_list_get_tick (get_ticks (window, "vessels_box"), shelf.vessel), TRUE);

  click (window, "ask");
  test_wait (is_answered, window);
  g_assert_nonnull (strstr (wb_plan_shortlist_get_answer (get_shortlist (window)), "Begin with Sedge S-2, S-5 and S-7"));
  g_assert_true (test_says (GTK_WIDGET (get_shortlist (window)), "Next, if S-2 burns too strong."));
  test_check_names (GTK_WIDGET (get_shortlist (window)), "shortlist");
  assert_ticked (window, wicks, "S-1 S-2 S-3 S-4 S-5 S-6 S-7 S-8");
  click (window, "take");
  assert_ticked (window, wicks, "S-2 S-5 S-7");
  g_assert_true (is_answered (window)); /* the reasons stay */
  click (window, "back");
  assert_ticked (window, wicks, "S-1 S-2 S-3 S-4 S-5 S-6 S-7 S-8");
  click (window, "take");
  assert_ticked (window, wicks, "S-2 S-5 S-7");
  g_assert_true (wb_plan_editor_get_touched (WB_PLAN_EDITOR (test_find (GTK_WIDGET (wb_window_get_page (window)), WB_TYPE_PLAN_EDITOR))));

  /* An answer about another choice would mislead: it goes. */
  gtk_check_button_set_active (wb_tick_list_get_tick (get_ticks (window, "vessels_box"), shelf.vessel), FALSE);
  g_assert_false (is_answered (window));
  g_assert_false (gtk_widget_is_sensitive (test_part (window, "ask")));
  test_window_destroy (window);
}

/* The window goes while the question is on its way. */
static void
test_gone (void)
{
  g_autofree char *path = test_path ("which-gone.wickbench");
  WbWindow *window = test_window_new_with (path);
  TestShelf shelf;

  test_shelf_fill (window, "Tern", &shelf);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.new-experiment", NULL);
  test_wait (is_begun, window);
  for (guint i = 0; i < G_N_ELEMENTS (shelf.wicks); i++)
    gtk_check_button_set_active (wb_tick_list_get_tick (get_ticks (window, "wicks_box"), shelf.wicks[i]), TRUE);
  gtk_check_button_set_active (wb_tick_list_get_tick (get_ticks (window, "vessels_box"), shelf.vessel), TRUE);
  click (window, "ask");
  test_window_destroy (window);
}

void
test_plan_wicks_add (void)
{
  g_test_add_func ("/views/plan/which-of-eight-wicks-ends-in-three", test_which);
  g_test_add_func ("/views/plan/the-window-goes-while-it-is-asked", test_gone);
}
