/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "pour-page.h"

#include "wb-amend-dialog.h"
#include "wb-app-query.h"
#include "wb-app-timers.h"
#include "wb-clock.h"
#include "wb-pour-page.h"
#include "wb-pour-steps.h"
#include "wb-wick-lots.h"

#include <math.h>

/* What is done of a pour once its batch is marked. */

static WbPourSteps *
get_steps (WbWindow *window)
{
  return WB_POUR_STEPS (test_find (pour_get_sheet (window), WB_TYPE_POUR_STEPS));
}

/* As the file has it; caller frees. */
static WbBatchStep *
read_step (WbWindow *window,
           gint64    experiment,
           int       kind)
{
  g_autoptr (WbDataset) data = pour_read_experiment (window, experiment);

  for (guint i = 0; i < data->batch_steps->len; i++)
    if (((const WbBatchStep *) data->batch_steps->pdata[i])->kind == kind)
      return wb_record_copy (data->batch_steps->pdata[i]);
  g_assert_not_reached ();
}

static gboolean
is_not_written_down (gpointer user)
{
  gpointer *wish = user;
  WbBatchStep *step = read_step (wish[0], *(gint64 *) wish[1], WB_STEP_SET);
  gboolean known = step->done_at.known;

  wb_record_free (step);
  return !known;
}

/* Stir is done with the pour, setting hours later: an entry of its own, which Undo takes back alone. */
static void
test_later_steps (void)
{
  gint64 began_us = wb_clock_now (wb_clock_get ()).utc_us;
  gint64 experiment, before;
  WbWindow *window = pour_open ("later-steps.wickbench", "Tern", &experiment);
  gpointer wish[] = { window, &experiment };
  WbBatchStep *heat, *set;

  pour_type_step (window, WB_STEP_HEAT, "84");
  g_signal_emit_by_name (wb_pour_steps_get_field (get_steps (window), WB_STEP_POUR, "done"), "clicked");
  pour_mark (window);
  test_settle (window);
  /* typed at a step before it was marked */
  heat = read_step (window, experiment, WB_STEP_HEAT);
  g_assert_cmpfloat (heat->actual_c, ==, 84);
  wb_record_free (heat);
  before = wb_app_notebook_get_last_entry (test_notebook (window));
  g_assert_null (wb_pour_steps_get_field (get_steps (window), WB_STEP_POUR, "time"));
  g_assert_false (test_enabled (window, "page.save"));
  wb_clock_advance (wb_clock_get (), 5 * G_TIME_SPAN_HOUR);
  g_signal_emit_by_name (wb_pour_steps_get_field (get_steps (window), WB_STEP_SET, "done"), "clicked");
  g_assert_true (test_enabled (window, "page.save"));
  g_assert_true (wb_page_has_draft (wb_window_get_page (window)));
  gtk_widget_activate_action (GTK_WIDGET (window), "page.save", NULL);
  test_wait (test_says_saved, window);
  test_settle (window);
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (window)), ==, before + 1);
  g_assert_false (wb_page_has_draft (wb_window_get_page (window)));
  set = read_step (window, experiment, WB_STEP_SET);
  g_assert_true (set->done_at.known);
  g_assert_cmpint (set->record.entry, ==, before + 1);
  wb_record_free (set);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.undo", NULL);
  test_wait (is_not_written_down, wish);
  test_settle (window);
  g_assert_true (pour_is_poured (window));
  test_window_destroy (window);
  wb_clock_step (wb_clock_get (), began_us - wb_clock_now (wb_clock_get ()).utc_us);
}

static gboolean
has_amend_dialog (gpointer user)
{
  return test_find_window (WB_TYPE_AMEND_DIALOG) != NULL;
}

/* The button that says so, anywhere below. */
static GtkWidget *
find_button (GtkWidget  *widget,
             const char *label)
{
  if (GTK_IS_BUTTON (widget) && g_strcmp0 (gtk_button_get_label (GTK_BUTTON (widget)), label) == 0)
    return widget;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find_button (child, label);

      if (found != NULL)
        return found;
    }
  return NULL;
}

/* What was weighed is put right from where it is read. */
static void
test_amend (void)
{
  gint64 experiment;
  WbWindow *window = pour_open ("amend-poured.wickbench", "Tern", &experiment);
  GtkWidget *form;

  pour_type (window, "actual_wax_g", "812");
  pour_mark (window);
  test_settle (window);
  g_signal_emit_by_name (find_button (pour_get_sheet (window), "Amend…"), "clicked");
  test_wait (has_amend_dialog, NULL);
  form = wb_amend_dialog_get_form (WB_AMEND_DIALOG (test_find_window (WB_TYPE_AMEND_DIALOG)));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (test_find (wb_record_form_get_field (WB_RECORD_FORM (form), "actual_wax_g"), GTK_TYPE_ENTRY))),
                   ==, "812.0");
  test_window_destroy (window);
}

/* A timer that runs while the batch is marked runs on at its step. */
static void
test_timer_goes_on (void)
{
  gint64 experiment;
  WbWindow *window = pour_open ("timer-goes-on.wickbench", "Tern", &experiment);
  GtkWidget *timer;

  gtk_widget_activate_action (GTK_WIDGET (window), "page.batch", "u", 1);
  test_wait (pour_is_ready, window);
  g_signal_emit_by_name (wb_pour_steps_get_field (get_steps (window), WB_STEP_STIR, "timer"), "clicked");
  pour_mark (window);
  timer = wb_pour_steps_get_field (get_steps (window), WB_STEP_STIR, "timer");
  g_assert_nonnull (timer);
  g_assert_true (g_str_has_prefix (gtk_button_get_label (GTK_BUTTON (timer)), "❚❚ "));
  test_window_destroy (window);
}

/* A lot of one size beside that of the others; Undo gives both back to their fields. */
static void
test_wick_lots (void)
{
  gint64 experiment, own;
  WbWindow *window = pour_open ("wick-lots.wickbench", "Tern", &experiment);
  g_autoptr (WbDataset) data = pour_read_experiment (window, experiment);
  WbWickLots *lots = WB_WICK_LOTS (test_find (pour_get_sheet (window), WB_TYPE_WICK_LOTS));
  g_autoptr (GPtrArray) stored = NULL;
  GtkWidget *field;
  guint n_own = 0, n_all = 0;

  own = wb_dataset_get_cell (data, 0)->wick;
  /* the keyboard stays in a field when the batch is shown anew, as after another entry */
  gtk_widget_grab_focus (wb_wick_lots_get_field (lots, own));
  field = wb_wick_lots_get_field (lots, own);
  gtk_editable_set_text (GTK_EDITABLE (test_find (pour_part (window, "overage"), GTK_TYPE_ENTRY)), "0");
  test_settle (window);
  g_assert_true (wb_wick_lots_get_field (lots, own) == field);
  g_assert_true (test_find (field, GTK_TYPE_TEXT) == gtk_root_get_focus (GTK_ROOT (window)));
  pour_type (window, "wick_lot", "S-44");
  gtk_editable_set_text (GTK_EDITABLE (wb_wick_lots_get_field (lots, own)), "S-45");
  pour_mark (window);
  test_settle (window);
  wb_dataset_free (g_steal_pointer (&data));
  data = pour_read_experiment (window, experiment);
  for (guint i = 0; i < data->samples->len; i++)
    {
      const WbSample *sample = wb_dataset_get_sample (data, i);
      gint64 wick = wb_dataset_get_cell (data, g_array_index (data->sample_cell, guint, i))->wick;

      if (sample->batch == 0)
        continue;
      g_assert_cmpstr (sample->wick_lot, ==, wick == own ? "S-45" : "S-44");
      n_own += wick == own;
      n_all++;
    }
  g_assert_cmpuint (n_own, ==, 3);
  g_assert_cmpuint (n_all, ==, 9);
  stored = wb_app_query_list_sync (test_notebook (window), &wb_lot_type, NULL);
  g_assert_cmpuint (stored->len, ==, 1);
  g_assert_cmpstr (((const WbLot *) stored->pdata[0])->code, ==, "S-45");
  g_assert_cmpint (((const WbLot *) stored->pdata[0])->material, ==, own);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.undo", NULL);
  test_settle (window);
  test_wait (pour_is_ready, window);
  lots = WB_WICK_LOTS (test_find (pour_get_sheet (window), WB_TYPE_WICK_LOTS));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (wb_wick_lots_get_field (lots, own))), ==, "S-45");
  g_assert_cmpstr (pour_get_text (window, "wick_lot"), ==, "");
  g_assert_false (wb_page_has_draft (wb_window_get_page (window)));
  test_window_destroy (window);
}

/* The line of a step that waits; NULL: none. Caller unrefs. */
static WbAppDue *
find_due (WbWindow *window,
          guint    *at)
{
  GListModel *today = G_LIST_MODEL (wb_desk_get_today (wb_host_get_desk (WB_HOST (window))));

  for (*at = 0; *at < g_list_model_get_n_items (today); (*at)++)
    {
      g_autoptr (WbAppDue) due = g_list_model_get_item (today, *at);

      if (wb_app_due_get_kind (due) == WB_APP_DUE_STEP)
        return g_steal_pointer (&due);
    }
  return NULL;
}

static gboolean
tells_step (gpointer window)
{
  guint at;
  g_autoptr (WbAppDue) due = find_due (window, &at);

  return due != NULL;
}

static gboolean
tells_no_step (gpointer window)
{
  return !tells_step (window);
}

static gboolean
has_batch_in_front (gpointer window)
{
  return WB_IS_POUR_PAGE (wb_window_get_page (window)) && pour_is_poured (window);
}

static void
update_today (WbWindow *window)
{
  wb_app_bench_update (wb_desk_get_bench (wb_host_get_desk (WB_HOST (window))));
}

/* A step that is left to be done stands on Today until it is done, or until the day after the pour is over. */
static void
test_told_on_today (void)
{
  gint64 experiment, began_us = wb_clock_now (wb_clock_get ()).utc_us;
  guint at = 0;
  WbWindow *window = pour_open ("steps-today.wickbench", "Tern", &experiment);
  GtkListBox *list;

  g_assert_true (tells_no_step (window));
  g_signal_emit_by_name (wb_pour_steps_get_field (get_steps (window), WB_STEP_POUR, "done"), "clicked");
  pour_mark (window);
  test_wait (tells_step, window);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.show", "s", "today");
  test_settle (window);
  {
    g_autoptr (WbAppDue) due = find_due (window, &at);

    g_assert_cmpint (wb_app_due_get_experiment (due), ==, experiment);
    g_assert_nonnull (wb_app_due_get_batch (due));
    list = GTK_LIST_BOX (test_part (window, "due_list"));
    g_assert_true (test_says (GTK_WIDGET (gtk_list_box_get_row_at_index (list, (int) at)), wb_app_due_get_title (due)));
  }
  g_signal_emit_by_name (list, "row-activated", gtk_list_box_get_row_at_index (list, (int) at));
  test_wait (has_batch_in_front, window);
  test_settle (window);
  wb_clock_advance (wb_clock_get (), 24 * G_TIME_SPAN_HOUR);
  update_today (window);
  g_assert_true (tells_step (window));
  for (int kind = WB_STEP_INSULATE; kind <= WB_STEP_SET; kind++)
    {
      GtkWidget *done = wb_pour_steps_get_field (get_steps (window), kind, "done");

      if (done != NULL)
        g_signal_emit_by_name (done, "clicked");
    }
  gtk_widget_activate_action (GTK_WIDGET (window), "page.save", NULL);
  test_wait (tells_no_step, window);
  test_settle (window);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.undo", NULL);
  test_wait (tells_step, window);
  /* the day after the next nobody is asked any more */
  wb_clock_advance (wb_clock_get (), 24 * G_TIME_SPAN_HOUR);
  update_today (window);
  g_assert_true (tells_no_step (window));
  test_settle (window);
  test_window_destroy (window);
  wb_clock_step (wb_clock_get (), began_us - wb_clock_now (wb_clock_get ()).utc_us);
}

void
test_pour_later_add (void)
{
  g_test_add_func ("/views/pour/a-wick-has-a-lot-of-its-own", test_wick_lots);
  g_test_add_func ("/views/pour/a-later-step-is-an-entry-of-its-own", test_later_steps);
  g_test_add_func ("/views/pour/a-step-that-is-left-stands-on-today", test_told_on_today);
  g_test_add_func ("/views/pour/a-timer-goes-on-past-the-mark", test_timer_goes_on);
  g_test_add_func ("/views/pour/what-was-weighed-is-amended-from-the-poured-page", test_amend);
}
