/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-views.h"

#include "wb-labels-dialog.h"
#include "wb-paper-dialog.h"
#include "wb-paper-view.h"
#include "wb-paperwork.h"

static GtkWidget *
find_dialog (void)
{
  return test_find_window (WB_TYPE_PAPER_DIALOG);
}

static char *
dup_front_text (GtkWidget *dialog)
{
  return wb_paper_dup_text (wb_paper_view_get_paper (WB_PAPER_VIEW (test_child (dialog, "preview"))), 0);
}

static gboolean
has_dialog (gpointer user)
{
  return find_dialog () != NULL;
}

static gboolean
has_problem (gpointer user)
{
  return *wb_problem_bar_get_heading (wb_host_get_problem_bar (WB_HOST (user))) != '\0';
}

static const char *
get_words (gpointer dialog)
{
  return gtk_label_get_text (GTK_LABEL (test_child (dialog, "words")));
}

static gboolean
has_written (gpointer user)
{
  return g_str_has_prefix (get_words (user), "Written");
}

static WbWindow *
open_experiment (WbCraftState state)
{
  WbWindow *window = test_window_new_demo ();

  g_assert_true (wb_window_go (window, "compare", test_experiment (window, state)));
  test_settle (window);
  return window;
}

static void
test_log_sheet (void)
{
  WbWindow *window = test_window_new_demo ();
  g_autofree char *path = test_path ("log.pdf");
  g_autofree char *text = NULL;
  g_autofree char *bytes = NULL;
  GtkWidget *dialog;

  g_assert_false (test_enabled (window, "win.log-sheet"));
  test_window_destroy (window);

  window = open_experiment (WB_CRAFT_STATE_BURNING);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.log-sheet", NULL);
  test_wait (has_dialog, NULL);
  dialog = find_dialog ();
  text = dup_front_text (dialog);
  g_assert_nonnull (strstr (text, "Before the first light"));

  wb_paper_dialog_write (WB_PAPER_DIALOG (dialog), path);
  test_wait (has_written, dialog);
  g_assert_true (g_file_get_contents (path, &bytes, NULL, NULL));
  g_assert_true (g_str_has_prefix (bytes, "%PDF-"));
  gtk_window_destroy (GTK_WINDOW (dialog));
  test_window_destroy (window);
}

static void
test_nothing_to_light (void)
{
  WbWindow *window = open_experiment (WB_CRAFT_STATE_PLANNED);

  gtk_widget_activate_action (GTK_WIDGET (window), "win.log-sheet", NULL);
  test_wait (has_problem, window);
  g_assert_cmpstr (wb_problem_bar_get_heading (wb_host_get_problem_bar (WB_HOST (window))), ==, "There is no paper to show");
  g_assert_null (find_dialog ());
  test_window_destroy (window);
}

static gboolean
may_print (gpointer user)
{
  return test_enabled (user, "page.print");
}

static gboolean
has_calendar (gpointer window)
{
  return wb_app_calendar_get_loaded (wb_desk_get_calendar (wb_host_get_desk (WB_HOST (window))));
}

/* The same key prints what the page in front has to print; a plan that is being made has nothing yet. */
static void
test_plan_prints (void)
{
  WbWindow *window = test_window_new_demo ();

  g_assert_true (wb_window_go (window, "plan", test_experiment (window, WB_CRAFT_STATE_BURNING)));
  test_wait (may_print, window);
  test_wait (has_calendar, window);
  gtk_widget_activate_action (GTK_WIDGET (window), "page.print", NULL);
  test_wait (has_dialog, NULL);
  g_assert_cmpstr (gtk_window_get_title (GTK_WINDOW (find_dialog ())), ==, "Plan of the bench");
  gtk_window_destroy (GTK_WINDOW (find_dialog ()));
  gtk_widget_activate_action (GTK_WIDGET (window), "win.new-experiment", NULL);
  test_settle (window);
  g_assert_false (may_print (window));
  test_window_destroy (window);
}

static WbWindow *
open_pour (void)
{
  WbWindow *window = test_window_new_demo ();

  g_assert_true (wb_window_go (window, "pour", test_experiment (window, WB_CRAFT_STATE_PLANNED)));
  test_wait (may_print, window);
  return window;
}

static void
test_batch (void)
{
  WbWindow *window = open_pour ();
  g_autofree char *text = NULL;

  gtk_widget_activate_action (GTK_WIDGET (window), "page.print", NULL);
  g_assert_cmpstr (gtk_window_get_title (GTK_WINDOW (find_dialog ())), ==, "Batch sheet");
  text = dup_front_text (find_dialog ());
  g_assert_nonnull (strstr (text, "Masses"));
  g_assert_nonnull (strstr (text, "The sums"));
  gtk_window_destroy (GTK_WINDOW (find_dialog ()));
  test_window_destroy (window);
}

/* The notebook's paper is A4: 24 labels a sheet; a roll has no place to begin at. */
static void
test_labels (void)
{
  WbWindow *window = open_pour ();
  GtkWidget *question;
  double upper;

  gtk_widget_activate_action (GTK_WIDGET (window), "page.labels", NULL);
  question = test_find_window (WB_TYPE_LABELS_DIALOG);
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (test_child (question, "preset"))), ==, WB_REPORT_LABELS_A4_24);
  gtk_spin_button_get_range (GTK_SPIN_BUTTON (test_child (question, "first")), NULL, &upper);
  g_assert_cmpfloat (upper, ==, 24);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (test_child (question, "preset")), WB_REPORT_LABELS_ROLL_62);
  g_assert_false (gtk_widget_get_visible (test_child (question, "first_row")));
  g_signal_emit_by_name (test_child (question, "show"), "clicked");
  g_assert_null (test_find_window (WB_TYPE_LABELS_DIALOG));
  test_wait (has_dialog, NULL);
  g_assert_cmpstr (gtk_window_get_title (GTK_WINDOW (find_dialog ())), ==, "Labels");
  gtk_window_destroy (GTK_WINDOW (find_dialog ()));
  test_window_destroy (window);
}

void
test_paperwork_add (void)
{
  g_test_add_func ("/views/paperwork/an-evening-has-its-log-sheet", test_log_sheet);
  g_test_add_func ("/views/paperwork/without-samples-there-is-a-reason", test_nothing_to_light);
  g_test_add_func ("/views/paperwork/a-batch-has-its-sheet", test_batch);
  g_test_add_func ("/views/paperwork/the-plan-prints-the-plan-of-the-bench", test_plan_prints);
  g_test_add_func ("/views/paperwork/labels-are-asked-for-and-shown", test_labels);
}
