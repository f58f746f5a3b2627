/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-notebook.h"
#include "bench-page.h"

#include "wb-app-query.h"
#include "wb-aside-dialog.h"
#include "wb-bench-check.h"
#include "wb-bench-view.h"
#include "wb-bench-words.h"
#include "wb-found-dialog.h"
#include "wb-record-form.h"
#include "wb-time-entry.h"

#include <string.h>

/* A sample that is over a limit, at its end, set aside, or found alight. */

/* 55 mm and still alight an hour later: said in the panel, and nothing is forbidden. */
static void
test_deviations (void)
{
  Bench bench;
  GtkWidget *words;

  bench_open (&bench, 1, "pool_mm,flame_mm,soot");
  bench_light (&bench, "T1", 1);
  words = test_child (GTK_WIDGET (bench_get_panel (&bench)), "deviations");
  g_assert_false (gtk_widget_get_visible (words));
  bench_read_flame_after (&bench, 60, "55", 60);
  bench_read_flame_after (&bench, 60, "20", 120);
  words = test_child (GTK_WIDGET (bench_get_panel (&bench)), "deviations");
  g_assert_true (gtk_widget_get_visible (words));
  g_assert_nonnull (strstr (gtk_label_get_text (GTK_LABEL (words)), "Burnt on after it was read over a limit, at 60 min"));
  bench_close (&bench);
}

static gboolean
is_crossed (gpointer user)
{
  return wb_app_bench_sample_get_state (bench_find_sample (user, "T1")) == WB_APP_BENCH_CROSSED;
}

static gboolean
is_lit_again (gpointer user)
{
  WbAppBenchSample *sample = bench_find_sample (user, "T1");

  return wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_ALIGHT && wb_app_bench_sample_get_burn_number (sample) == 2;
}

static gboolean
is_check_asked (gpointer user)
{
  return test_find_window (WB_TYPE_BENCH_CHECK) != NULL;
}

static gboolean
is_question_asked (gpointer user)
{
  return test_find_window (GTK_TYPE_MESSAGE_DIALOG) != NULL;
}

/* The first thing due today, by its row: it leads to the candle that it tells of. */
static void
go_from_today (Bench *bench)
{
  GtkListBox *list;

  g_assert_true (wb_window_go (bench->window, "today", 0));
  list = GTK_LIST_BOX (test_child (GTK_WIDGET (wb_window_get_page (bench->window)), "due_list"));
  g_signal_emit_by_name (list, "row-activated", gtk_list_box_get_row_at_index (list, 0));
  test_settle (bench->window);
}

/* The next day it is not fit to light; whoever lights it has read why not, and can turn back. */
static void
test_crossed_is_asked (void)
{
  Bench bench;
  GtkWidget *question, *dialog;
  g_autofree char *body = NULL;

  bench_open (&bench, 2, "pool_mm,flame_mm,soot");
  bench_light (&bench, "T1", 1);
  bench_advance (&bench, 240);
  bench_choose (&bench, "T1");
  bench_type (&bench, WB_COLUMN_FLAME_MM, "55");
  bench_act (&bench, "page.snuff");
  bench_wait_alight (&bench, 0);
  test_wait (is_crossed, &bench);
  bench_advance (&bench, 24 * 60);
  bench_choose (&bench, "T2");
  go_from_today (&bench);
  g_assert_cmpstr (bench_get_code (&bench), ==, "T1");
  bench_act (&bench, "page.set-aside");
  dialog = test_find_window (WB_TYPE_ASIDE_DIALOG);
  g_assert_true (gtk_widget_get_visible (test_child (dialog, "crossed")));
  g_assert_nonnull (strstr (gtk_label_get_text (GTK_LABEL (test_child (dialog, "crossed"))), "does not clear its combination"));
  gtk_window_destroy (GTK_WINDOW (dialog));
  gtk_widget_activate_action (GTK_WIDGET (bench.window), "page.ask", "s", "lighting");
  bench_act (&bench, "page.light");
  /* yesterday's session is closed first */
  test_wait (is_check_asked, NULL);
  bench_answer_check ();
  test_wait (is_question_asked, NULL);
  question = test_find_window (GTK_TYPE_MESSAGE_DIALOG);
  g_assert_nonnull (question);
  g_object_get (question, "secondary-text", &body, NULL);
  g_assert_nonnull (strstr (body, "flame height 55.0"));
  g_assert_nonnull (strstr (body, "burn 1"));
  gtk_dialog_response (GTK_DIALOG (question), GTK_RESPONSE_CANCEL);
  test_settle (bench.window);
  g_assert_cmpuint (wb_app_bench_get_alight (bench.bench), ==, 0);

  bench_act (&bench, "page.light");
  test_wait (is_question_asked, NULL);
  gtk_dialog_response (GTK_DIALOG (test_find_window (GTK_TYPE_MESSAGE_DIALOG)), GTK_RESPONSE_ACCEPT);
  test_wait (is_lit_again, &bench);
  bench_close (&bench);
}

static gboolean
is_at_its_end (gpointer user)
{
  return wb_app_bench_sample_get_state (bench_find_sample (user, "T1")) == WB_APP_BENCH_ENDED;
}

/* Over a limit and at its end, too: the question says both. */
static void
test_crossed_at_its_end (void)
{
  Bench bench;
  g_autofree char *body = NULL;

  bench_open (&bench, 1, "pool_mm,flame_mm,soot");
  bench_light (&bench, "T1", 1);
  bench_advance (&bench, 240);
  bench_type (&bench, WB_COLUMN_FLAME_MM, "55");
  gtk_widget_activate_action (GTK_WIDGET (bench.window), "page.end", "s", "end_of_life");
  bench_wait_alight (&bench, 0);
  test_wait (is_at_its_end, &bench);
  gtk_widget_activate_action (GTK_WIDGET (bench.window), "page.ask", "s", "lighting");
  bench_act (&bench, "page.light");
  /* By the hour at which the tests before it left the clock, the stay may be past. */
  if (is_check_asked (NULL))
    bench_answer_check ();
  test_wait (is_question_asked, NULL);
  g_object_get (bench_find_question (), "secondary-text", &body, NULL);
  g_assert_nonnull (strstr (body, "flame height 55.0"));
  g_assert_nonnull (strstr (body, "at its end"));
  bench_respond (GTK_RESPONSE_CANCEL);
  bench_close (&bench);
}

static gboolean
is_aside (gpointer user)
{
  return wb_app_bench_sample_get_state (bench_find_sample (user, "T1")) == WB_APP_BENCH_ENDED;
}

static gboolean
counts (gpointer user)
{
  return wb_app_bench_sample_get_state (bench_find_sample (user, "T1")) == WB_APP_BENCH_FIT;
}

static void
test_set_aside (void)
{
  Bench bench;
  GtkWidget *dialog;

  bench_open (&bench, 1, "pool_mm,flame_mm,soot");
  bench_choose (&bench, "T1");
  g_assert_false (test_enabled (bench.window, "page.let-count"));
  bench_act (&bench, "page.set-aside");
  dialog = test_find_window (WB_TYPE_ASIDE_DIALOG);
  /* whoever sets it aside says why */
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (test_child (dialog, "cause"))), ==, GTK_INVALID_LIST_POSITION);
  g_assert_false (gtk_widget_get_sensitive (test_child (dialog, "save")));
  g_assert_false (gtk_widget_get_visible (test_child (dialog, "crossed")));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (test_child (dialog, "cause")), WB_CAUSE_CAVITY);
  bench_click (dialog, "save");
  test_wait (is_aside, &bench);
  test_settle (bench.window);
  g_assert_cmpint (wb_app_bench_sample_get_record (bench_find_sample (&bench, "T1"))->set_aside_cause, ==, WB_CAUSE_CAVITY);
  g_assert_null (test_find_window (WB_TYPE_ASIDE_DIALOG));
  g_assert_false (test_enabled (bench.window, "page.light"));
  bench_act (&bench, "page.let-count");
  test_wait (counts, &bench);
  bench_close (&bench);
}

static gboolean
is_resolved (gpointer user)
{
  return wb_app_bench_get_found_open (((Bench *) user)->bench) == 0;
}

static void
test_found_open (void)
{
  Bench bench;
  GtkWidget *dialog, *first;

  bench_open_demo (&bench);
  g_assert_cmpuint (wb_app_bench_get_found_open (bench.bench), ==, 10);
  g_assert_true (gtk_widget_get_visible (test_child (GTK_WIDGET (bench.page), "found_bar")));
  bench_act (&bench, "page.resolve-found");
  dialog = test_find_window (WB_TYPE_FOUND_DIALOG);
  first = test_find (test_child (dialog, "grid"), GTK_TYPE_DROP_DOWN);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (first), 1);
  bench_click (dialog, "save");
  test_wait (is_resolved, &bench);
  bench_wait_alight (&bench, 9);
  g_assert_null (test_find_window (WB_TYPE_FOUND_DIALOG));
  g_assert_false (gtk_widget_get_visible (test_child (GTK_WIDGET (bench.page), "found_bar")));
  bench_close (&bench);
}

/* The power was cut: one answer, and all ten have it. */
static void
test_found_open_all (void)
{
  Bench bench;
  GtkWidget *dialog, *grid;

  bench_open_demo (&bench);
  bench_act (&bench, "page.resolve-found");
  dialog = test_find_window (WB_TYPE_FOUND_DIALOG);
  grid = test_child (dialog, "grid");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (test_find (grid, GTK_TYPE_DROP_DOWN)), 1);
  wb_time_entry_set_text (WB_TIME_ENTRY (test_find (grid, WB_TYPE_TIME_ENTRY)), "1 min");
  bench_click (dialog, "all");
  for (int line = 0; line < 20; line += 2)
    {
      g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (gtk_grid_get_child_at (GTK_GRID (grid), 1, line))), ==, 1);
      g_assert_cmpstr (wb_time_entry_get_text (WB_TIME_ENTRY (gtk_grid_get_child_at (GTK_GRID (grid), 2, line))), ==, "1 min");
    }
  bench_click (dialog, "save");
  bench_wait_alight (&bench, 0);
  bench_close (&bench);
}

static double
find_last_minute (Bench *bench)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) readings = wb_app_query_list_sync (test_notebook (bench->window), &wb_reading_type, &error);
  double last = NAN;

  g_assert_no_error (error);
  for (guint i = 0; i < readings->len; i++)
    last = ((const WbReading *) g_ptr_array_index (readings, i))->elapsed_min;
  return last;
}

/* Lit, and found two mornings later: the time that is said was that evening's. */
static void
test_found_days_later (void)
{
  Bench bench;
  GtkWidget *dialog, *grid;
  WbInstant end;
  g_autofree char *clock = NULL;

  bench_open (&bench, 1, "pool_mm,flame_mm");
  bench_light (&bench, "T1", 1);
  end = wb_app_bench_sample_get_lit_at (bench_find_sample (&bench, "T1"));
  end.utc_us += 220 * BENCH_MINUTE_US;
  clock = wb_instant_format_time (end);
  bench_advance (&bench, 37 * 60);
  dialog = wb_found_dialog_new (GTK_WIDGET (bench.window), bench.bench);
  gtk_window_present (GTK_WINDOW (dialog));
  grid = test_child (dialog, "grid");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (test_find (grid, GTK_TYPE_DROP_DOWN)), 1);
  wb_time_entry_set_text (WB_TIME_ENTRY (test_find (grid, WB_TYPE_TIME_ENTRY)), clock);
  bench_click (dialog, "save");
  bench_wait_alight (&bench, 0);
  test_settle (bench.window);
  g_assert_cmpfloat_with_epsilon (find_last_minute (&bench), 220, 1);
  bench_close (&bench);
}

static gboolean
is_out_by_itself (gpointer user)
{
  return wb_app_bench_sample_went_out (bench_find_sample (user, "T1"));
}

static gboolean
shows_other (gpointer user)
{
  Bench *bench = user;

  return wb_reading_stack_get_shown (bench->stack) != NULL && g_str_equal (bench_get_code (bench), "T9");
}

/* T1 drowns while somebody sits at the other experiment's bench: there it is seen, and says so; a candle that was snuffed is not. */
static void
test_went_out (void)
{
  Bench bench;
  WbBenchView *view;
  gint64 other, first, second, own;
  g_autofree char *state = NULL;

  bench_open (&bench, 2, "flame_mm");
  own = wb_page_get_experiment (WB_PAGE (bench.page));
  other = bench_notebook_add_other (test_notebook (bench.window), own);
  test_settle (bench.window);
  bench_light (&bench, "T1", 1);
  bench_light (&bench, "T2", 2);
  first = wb_app_bench_sample_get_id (bench_find_sample (&bench, "T1"));
  second = wb_app_bench_sample_get_id (bench_find_sample (&bench, "T2"));
  bench_advance (&bench, 60);
  bench_choose (&bench, "T1");
  gtk_widget_activate_action (GTK_WIDGET (bench.window), "page.end", "s", "self_extinguished");
  bench_wait_alight (&bench, 1);
  bench_choose (&bench, "T2");
  bench_act (&bench, "page.snuff");
  bench_wait_alight (&bench, 0);
  test_wait (is_out_by_itself, &bench);
  state = wb_bench_words_dup_state (bench_find_sample (&bench, "T1"));
  g_assert_nonnull (strstr (state, "went out by itself"));
  g_assert_true (wb_window_go (bench.window, "burn", other));
  test_wait (shows_other, &bench);
  view = WB_BENCH_VIEW (test_find (GTK_WIDGET (bench.page), WB_TYPE_BENCH_VIEW));
  g_assert_nonnull (wb_bench_view_find (view, first));
  g_assert_null (wb_bench_view_find (view, second));
  bench_close (&bench);
}

/* The plan's form, once the materials that it offers are read; NULL: not yet. */
static GtkWidget *
find_title (WbWindow *window)
{
  GtkWidget *form = test_child (GTK_WIDGET (wb_window_get_page (window)), "form");

  return wb_record_form_get_field (WB_RECORD_FORM (form), "title");
}

static gboolean
has_title (gpointer window)
{
  GtkWidget *title = find_title (window);

  /* the stored plan's own, once it has been read */
  return title != NULL && gtk_widget_get_mapped (title) && *gtk_editable_get_text (GTK_EDITABLE (test_find (title, GTK_TYPE_TEXT))) != '\0';
}

static void
type_title (WbWindow   *window,
            const char *title)
{
  GtkWidget *field;

  test_wait (has_title, window);
  field = find_title (window);
  gtk_editable_set_text (GTK_EDITABLE (test_find (field, GTK_TYPE_TEXT)), title);
}

static void
assert_asked (const char *begins)
{
  g_autofree char *heading = NULL;

  g_assert_nonnull (bench_find_question ());
  g_object_get (bench_find_question (), "text", &heading, NULL);
  g_assert_true (g_str_has_prefix (heading, begins));
}

/* A plan that is changed is asked about at each closing, and the flames after it: neither answer is taken for the next closing. */
static void
test_close_asks_again (void)
{
  Bench bench;

  bench_open_demo (&bench);
  for (guint i = 0; i < 2; i++)
    {
      g_assert_true (wb_window_go (bench.window, "plan", test_experiment (bench.window, WB_CRAFT_STATE_PLANNED)));
      test_settle (bench.window);
      gtk_widget_activate_action (GTK_WIDGET (bench.window), "page.change", NULL);
      type_title (bench.window, "Which Sedge for the Knot");
      gtk_window_close (GTK_WINDOW (bench.window));
      assert_asked ("Leave the plan as it was?");
      bench_respond (GTK_RESPONSE_CANCEL);
      gtk_window_close (GTK_WINDOW (bench.window));
      assert_asked ("Leave the plan as it was?");
      gtk_dialog_response (GTK_DIALOG (bench_find_question ()), GTK_RESPONSE_ACCEPT);
      assert_asked ("Candles are still alight");
      bench_respond (GTK_RESPONSE_CANCEL);
    }
  bench_close (&bench);
}

/* Of another experiment than that sample's; 0: there is none. */
static gint64
find_other (Bench            *bench,
            WbAppBenchSample *sample)
{
  GListModel *experiments = G_LIST_MODEL (wb_desk_get_experiments (wb_host_get_desk (WB_HOST (bench->window))));

  for (guint i = 0; i < g_list_model_get_n_items (experiments); i++)
    {
      g_autoptr (WbAppExperiment) experiment = g_list_model_get_item (experiments, i);

      if (wb_app_experiment_get_id (experiment) != wb_app_bench_sample_get_experiment (sample))
        return wb_app_experiment_get_id (experiment);
    }
  return 0;
}

static const char *
get_subheading (Bench *bench)
{
  return gtk_label_get_text (GTK_LABEL (test_child (GTK_WIDGET (bench->window), "subheading")));
}

/* The candle in hand may be another experiment's than the page was opened for: the head says whose it is. */
static void
test_head_follows_the_hand (void)
{
  Bench bench;
  WbAppBenchSample *next;
  g_autofree char *own = NULL;

  bench_open_demo (&bench);
  next = wb_app_bench_get_next_due (bench.bench);
  own = g_strdup (get_subheading (&bench));
  g_assert_cmpint (wb_app_bench_sample_get_experiment (next), ==, wb_page_get_experiment (WB_PAGE (bench.page)));
  g_assert_true (wb_window_go (bench.window, "burn", find_other (&bench, next)));
  test_settle (bench.window);
  g_assert_cmpstr (get_subheading (&bench), !=, own);
  gtk_widget_activate_action (GTK_WIDGET (bench.window), "win.next-due", NULL);
  g_assert_cmpstr (get_subheading (&bench), ==, own);
  bench_close (&bench);
}

static gboolean
is_said_finished (gpointer window)
{
  return gtk_widget_get_mapped (test_part (window, "finished"));
}

static gboolean
is_on_the_bench (gpointer window)
{
  WbPage *page = wb_window_get_page (window);
  g_autoptr (GPtrArray) samples = wb_app_bench_dup_of_experiment (wb_desk_get_bench (wb_page_get_desk (page)), wb_page_get_experiment (page));

  return samples->len > 0 && !is_said_finished (window);
}

/* A reference of a finished experiment: the page says why it is not there, and opens the experiment again; undo finishes it. */
static void
test_finished (void)
{
  WbWindow *window = test_window_new_demo ();
  gint64 before = wb_app_notebook_get_last_entry (test_notebook (window));
  const char *words;

  g_assert_true (wb_window_go (window, "burn", test_experiment (window, WB_CRAFT_STATE_PLANNED)));
  test_settle (window);
  g_assert_false (is_said_finished (window));
  g_assert_false (test_enabled (window, "page.reopen"));
  g_assert_true (wb_window_go (window, "burn", test_experiment (window, WB_CRAFT_STATE_FINISHED)));
  test_wait (is_said_finished, window);
  words = gtk_label_get_text (GTK_LABEL (test_part (window, "finished_words")));
  g_assert_nonnull (strstr (words, "is finished: its candles are off the bench."));
  g_assert_nonnull (strstr (words, "a reference for a check burn"));
  gtk_widget_activate_action (GTK_WIDGET (window), "page.reopen", NULL);
  test_wait (is_on_the_bench, window);
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (window)), ==, before + 1);
  g_assert_true (g_str_has_prefix (wb_app_notebook_get_undo_label (test_notebook (window)), "Open "));
  gtk_widget_activate_action (GTK_WIDGET (window), "win.undo", NULL);
  test_wait (is_said_finished, window);
  test_window_destroy (window);
}

void
test_burn_state_add (void)
{
  g_test_add_func ("/views/burn/a-finished-experiment-is-opened-again-where-one-would-light", test_finished);

  g_test_add_func ("/views/burn/what-was-said-of-one-closing-is-asked-at-the-next", test_close_asks_again);
  g_test_add_func ("/views/burn/the-head-says-whose-candle-is-in-hand", test_head_follows_the_hand);
  g_test_add_func ("/views/burn/over-a-limit-is-asked-before-it-is-lit-again", test_crossed_is_asked);
  g_test_add_func ("/views/burn/over-a-limit-and-at-its-end-is-asked-of-both", test_crossed_at_its_end);
  g_test_add_func ("/views/burn/deviations-are-said-as-they-arise", test_deviations);
  g_test_add_func ("/views/burn/a-sample-is-set-aside-and-counts-again", test_set_aside);
  g_test_add_func ("/views/burn/burns-found-open-are-resolved", test_found_open);
  g_test_add_func ("/views/burn/one-answer-for-all-that-were-found-open", test_found_open_all);
  g_test_add_func ("/views/burn/found-days-later-it-ended-that-evening", test_found_days_later);
  g_test_add_func ("/views/burn/what-went-out-by-itself-is-seen-from-each-experiment", test_went_out);
}
