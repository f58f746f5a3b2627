/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <string.h>

#include "test-views.h"

#include "wb-app-query.h"
#include "wb-plan-editor.h"
#include "wb-plan-shortlist.h"
#include "wb-record-form.h"
#include "wb-scent-list.h"
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

static GtkWidget *
get_field (WbWindow   *window,
           const char *name,
           GType       type)
{
  return test_find (wb_record_form_get_field (WB_RECORD_FORM (test_part (window, "form")), name), type);
}

static void
type_note (WbWindow   *window,
           const char *text)
{
  gtk_text_buffer_set_text (gtk_text_view_get_buffer (GTK_TEXT_VIEW (get_field (window, "note", GTK_TYPE_TEXT_VIEW))), text, -1);
}

/* What the form shows. */
static void
assert_noted (WbWindow   *window,
              const char *expected)
{
  GtkTextBuffer *buffer = gtk_text_view_get_buffer (GTK_TEXT_VIEW (get_field (window, "note", GTK_TYPE_TEXT_VIEW)));
  g_autofree char *text = NULL;

  g_object_get (buffer, "text", &text, NULL);
  g_assert_cmpstr (text, ==, expected);
}

static void
tick_wicks (WbWindow        *window,
            const GPtrArray *wicks,
            guint            from)
{
  for (guint i = 0; i < wicks->len; i++)
    gtk_check_button_set_active (wb_tick_list_get_tick (get_ticks (window, "wicks_box"), ((WbRecord *) wicks->pdata[i])->id),
                                 ((WbWick *) wicks->pdata[i])->step >= from);
}

static char *
dup_answer (WbWindow *window)
{
  click (window, "ask");
  test_wait (is_answered, window);
  return g_strdup (wb_plan_shortlist_get_answer (get_shortlist (window)));
}

static gboolean
shows_view (gpointer user)
{
  return g_strcmp0 (gtk_stack_get_visible_child_name (GTK_STACK (test_part (user, "stack"))), "view") == 0;
}

/* Why these wicks: with the plan once it is taken, beside a person's own words, and in the stored one. */
static void
test_reason (void)
{
  g_autofree char *path = test_path ("which-reason.wickbench");
  WbWindow *window = test_window_new_with (path);
  TestShelf shelf;
  g_autoptr (GPtrArray) wicks = NULL;
  g_autofree char *first = NULL, *again = NULL, *fewer = NULL, *both = NULL;

  test_shelf_fill (window, "Tern", &shelf);
  wicks = add_wicks (window);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.new-experiment", NULL);
  test_wait (is_begun, window);
  tick_wicks (window, wicks, 1);
  first = dup_answer (window);
  assert_noted (window, "");
  click (window, "take");
  assert_noted (window, first);
  click (window, "back");
  assert_noted (window, "");

  type_note (window, "For the winter fair.");
  click (window, "take");
  both = g_strdup_printf ("For the winter fair.\n%s", first);
  assert_noted (window, both);
  /* asked again it says the same, and of other wicks what holds now */
  tick_wicks (window, wicks, 1);
  again = dup_answer (window);
  g_assert_cmpstr (again, ==, first);
  click (window, "take");
  assert_noted (window, both);
  tick_wicks (window, wicks, 5);
  fewer = dup_answer (window);
  g_assert_cmpstr (fewer, !=, first);
  click (window, "take");
  g_clear_pointer (&both, g_free);
  both = g_strdup_printf ("For the winter fair.\n%s", fewer);
  assert_noted (window, both);
  /* what a person wrote otherwise is theirs */
  type_note (window, "S-5 and up, as the supplier says.");
  click (window, "back");
  assert_noted (window, "S-5 and up, as the supplier says.");
  type_note (window, "");
  click (window, "take");
  assert_noted (window, fewer);

  gtk_editable_set_text (GTK_EDITABLE (get_field (window, "title", GTK_TYPE_ENTRY)), "Which Sedge for the Tern");
  wb_scent_list_add (WB_SCENT_LIST (test_part (window, "scents")), 0);
  gtk_widget_activate_action (GTK_WIDGET (window), "page.save", NULL);
  test_wait (shows_view, window);
  g_assert_true (test_says (test_part (window, "facts"), fewer));
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
  g_test_add_func ("/views/plan/why-these-wicks-stays-with-the-plan", test_reason);
  g_test_add_func ("/views/plan/the-window-goes-while-it-is-asked", test_gone);
}
