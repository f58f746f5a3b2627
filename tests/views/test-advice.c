/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-views.h"

#include "wb-advice-line.h"
#include "wb-advice-strip.h"
#include "wb-app-advice.h"
#include "wb-app-import.h"
#include "wb-app-query.h"
#include "wb-grey.h"
#include "wb-plan-editor.h"
#include "wb-plan-page.h"
#include "wb-sample-dialog.h"

#include <string.h>

/* What to burn next, on the page Compare and above the bench. */

static WbAdviceStrip *
get_strip (WbWindow *window)
{
  return WB_ADVICE_STRIP (test_child (GTK_WIDGET (wb_window_get_page (window)), "advice"));
}

static gboolean
is_answered (gpointer window)
{
  GtkStack *stack = GTK_STACK (test_child (GTK_WIDGET (wb_window_get_page (window)), "stack"));

  return g_strcmp0 (gtk_stack_get_visible_child_name (stack), "answer") == 0;
}

static gboolean
is_advised (gpointer window)
{
  return *wb_advice_strip_get_text (get_strip (window)) != '\0';
}

/* The first in the widget of that class: "signlink" leads to a reading, "plansamples" to a plan. */
static GtkWidget *
find_link (GtkWidget  *widget,
           const char *style)
{
  if (gtk_widget_has_css_class (widget, style))
    return widget;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find_link (child, style);

      if (found != NULL)
        return found;
    }
  return NULL;
}

static gboolean
has_dialog (gpointer user)
{
  return test_find_window (WB_TYPE_SAMPLE_DIALOG) != NULL;
}

static gboolean
plans_one (gpointer user)
{
  GtkWidget *page = GTK_WIDGET (wb_window_get_page (user)), *editor = WB_IS_PLAN_PAGE (page) ? test_find (page, WB_TYPE_PLAN_EDITOR) : NULL;

  return editor != NULL && test_enabled (user, "page.save") && test_says (editor, "Repeats ") && test_says (editor, "1 sample");
}

static GtkWidget *
get_words (WbAdviceStrip *strip)
{
  return gtk_expander_get_label_widget (GTK_EXPANDER (test_find (GTK_WIDGET (strip), GTK_TYPE_EXPANDER)));
}

static gboolean
is_laid_out (gpointer strip)
{
  return gtk_widget_get_height (get_words (strip)) > 0;
}

/* However many lines it takes, the ranking begins below them. */
static void
assert_apart (WbWindow      *window,
              WbAdviceStrip *strip)
{
  GtkWidget *page = GTK_WIDGET (wb_window_get_page (window));
  GtkWidget *text = get_words (strip);
  graphene_rect_t words, ranking;
  int least, height;

  g_assert_true (gtk_widget_compute_bounds (text, page, &words));
  g_assert_true (gtk_widget_compute_bounds (test_child (page, "paned"), page, &ranking));
  g_assert_cmpfloat (words.origin.y + words.size.height, <=, ranking.origin.y);
  gtk_widget_measure (text, GTK_ORIENTATION_VERTICAL, (int) words.size.width, &least, &height, NULL, NULL);
  g_assert_cmpfloat (words.size.height, >=, least);
}

static void
test_compare (void)
{
  WbWindow *window = test_window_new_demo ();
  WbAdviceStrip *strip;
  GtkWidget *link, *dialog;
  int height;

  g_assert_true (wb_window_go (window, "compare", test_experiment (window, WB_CRAFT_STATE_BURNING)));
  test_wait (is_answered, window);
  test_wait (is_advised, window);
  strip = get_strip (window);
  g_test_message ("%s", wb_advice_strip_get_text (strip));
  g_assert_true (g_str_has_prefix (wb_advice_strip_get_text (strip), "What to burn next: Burning now: C5, C6, C4, C3 and C2. "));
  g_assert_true (gtk_widget_get_visible (GTK_WIDGET (strip)));
  g_assert_false (wb_advice_strip_get_unfolded (strip));
  /* of three the smallest screen has room: a line or two of it, no more */
  gtk_widget_measure (GTK_WIDGET (strip), GTK_ORIENTATION_VERTICAL, 740, &height, NULL, NULL, NULL);
  g_assert_cmpint (height, <, 60);
  for (int width = 1024; width < 1400; width += 60)
    {
      gtk_window_set_default_size (GTK_WINDOW (window), width, 700);
      test_settle (window);
      test_wait (is_laid_out, strip);
      g_test_message ("%d", width);
      test_look_at (GTK_WIDGET (window), "advice-folded");
      assert_apart (window, strip);
    }
  wb_advice_strip_set_unfolded (strip, TRUE);
  g_assert_true (test_says (GTK_WIDGET (strip), "Before C5 can be recommended"));
  g_assert_cmpuint (test_check_names (GTK_WIDGET (strip), "what to burn next"), >, 1);
  test_look_at (GTK_WIDGET (window), "advice");
  link = find_link (GTK_WIDGET (strip), "signlink");
  g_assert_nonnull (link);
  g_signal_emit_by_name (link, "clicked");
  test_wait (has_dialog, NULL);
  dialog = test_find_window (WB_TYPE_SAMPLE_DIALOG);
  gtk_window_destroy (GTK_WINDOW (dialog));
  test_settle (window);
  /* one more candle of what leads is advised: its plan has that wick alone */
  g_assert_nonnull (strstr (wb_advice_strip_get_text (strip), "Further candles to pour: 1 of C5."));
  link = find_link (GTK_WIDGET (strip), "plansamples");
  g_assert_nonnull (link);
  g_signal_emit_by_name (link, "clicked");
  test_wait (plans_one, window);
  test_window_destroy (window);
}

/* What is finished says so, with its decision, and has no row that asks for anything. */
static void
test_finished (void)
{
  WbWindow *window = test_window_new_demo ();
  WbAdviceStrip *strip;

  g_assert_true (wb_window_go (window, "compare", test_experiment (window, WB_CRAFT_STATE_FINISHED)));
  test_wait (is_answered, window);
  test_wait (is_advised, window);
  strip = get_strip (window);
  g_test_message ("%s", wb_advice_strip_get_text (strip));
  g_assert_true (gtk_widget_get_visible (GTK_WIDGET (strip)));
  g_assert_true (g_str_has_prefix (wb_advice_strip_get_text (strip), "What to burn next: Finished"));
  g_assert_null (find_link (GTK_WIDGET (strip), "rankrow"));
  g_assert_null (find_link (GTK_WIDGET (strip), "plansamples"));
  test_window_destroy (window);
}

/* Where nothing can be saved the button is there, is grey, and says why. */
static void
test_read_only (void)
{
  WbWindow *window = test_window_new_demo ();
  WbAdviceStrip *strip;
  GtkWidget *button;

  window = test_window_crash (window, WB_APP_OPEN_READ, "today");
  g_assert_true (wb_window_go (window, "compare", test_experiment (window, WB_CRAFT_STATE_BURNING)));
  test_wait (is_answered, window);
  test_wait (is_advised, window);
  strip = get_strip (window);
  wb_advice_strip_set_unfolded (strip, TRUE);
  button = find_link (GTK_WIDGET (strip), "plansamples");
  g_assert_nonnull (button);
  g_assert_false (gtk_widget_is_sensitive (button));
  g_assert_cmpstr (wb_grey_get_reason (button), ==, "This notebook is open for reading only: nothing can be planned in it");
  g_assert_cmpstr (gtk_widget_get_tooltip_text (button), ==, wb_grey_get_reason (button));
  test_window_destroy (window);
}

/* An invented test of two wicks, of which each candle was burnt some months ago and may be lit. */
static void
write_log (const char *path)
{
  g_autoptr (GString) log = g_string_new ("experiment,vessel,inner_diameter_mm,wax,wick_series,wick_size,wick_step,load_pct,sample,burn,"
                                          "elapsed_min,pool_mm,flame_mm,vessel_c\n");
  g_autoptr (GError) error = NULL;

  for (guint wick = 1; wick <= 2; wick++)
    for (guint sample = 1; sample <= 2; sample++)
      for (guint burn = 1; burn <= 3; burn++)
        for (guint minute = 60; minute <= 240; minute += 60)
          g_string_append_printf (log, "Bay,Heron,78,Moor blend,Reed,R-%u,%u,6,R%u-%u,%u,%u,%u,%u,%u\n", wick, wick, wick, sample, burn, minute,
                                  40 + 6 * wick + minute / 12, 15 + wick, 38 + minute / 40);
  g_assert_true (g_file_set_contents (path, log->str, -1, &error));
  g_assert_no_error (error);
}

static WbAdviceLine *
find_line (gpointer window)
{
  /* the page of an empty notebook has the same list, and is not shown */
  return WB_ADVICE_LINE (test_find (test_part (window, "due_list"), WB_TYPE_ADVICE_LINE));
}

static gboolean
has_todays_line (gpointer window)
{
  WbAdviceLine *line = find_line (window);

  return line != NULL && *wb_advice_line_get_text (line) != '\0';
}

/* Today says how many may be lit, and below it which of them are worth it: the same line as in every other place. */
static void
test_today (void)
{
  g_autofree char *path = test_path ("todays-line.wickbench"), *log = test_path ("todays-line.csv");
  WbWindow *window;
  g_autoptr (WbAppNotebook) notebook = NULL;
  g_autoptr (WbAppImportSummary) summary = NULL;
  g_autoptr (WbCraftAnswer) answer = NULL;
  g_autoptr (WbCraftAdvice) advice = NULL;
  g_autoptr (GError) error = NULL;
  gint64 experiment;

  write_log (log);
  summary = wb_app_import_sync (path, log, NULL, WB_APP_IMPORT_WRITE, NULL, &error);
  g_assert_no_error (error);
  notebook = wb_app_notebook_open_sync (path, WB_APP_OPEN_EXISTING, NULL, &error);
  g_assert_no_error (error);
  window = test_window_new ();
  wb_window_set_notebook (window, notebook);
  g_clear_object (&notebook);
  test_settle (window);
  g_assert_true (wb_window_go (window, "today", 0));
  test_settle (window);
  g_assert_true (test_says (GTK_WIDGET (wb_window_get_page (window)), " may be lit"));
  test_wait (has_todays_line, window);
  g_test_message ("%s", wb_advice_line_get_text (find_line (window)));
  experiment = wb_app_query_find_experiment_sync (test_notebook (window), "Bay", &error);
  g_assert_no_error (error);
  answer = wb_app_answers_compute_sync (test_notebook (window), experiment, WB_CRAFT_WITHIN_SCENT, 0, NULL, &error);
  g_assert_no_error (error);
  advice = wb_app_advice_sync (test_notebook (window), answer, &error);
  g_assert_no_error (error);
  g_assert_true (g_str_has_prefix (wb_advice_line_get_text (find_line (window)), "Next: "));
  g_assert_cmpstr (wb_advice_line_get_text (find_line (window)), ==, advice->groups[0].line);
  test_look_at (GTK_WIDGET (window), "advice-today");
  test_settle (window);
  test_window_destroy (window);
}

static gboolean
has_line (gpointer line)
{
  return *wb_advice_line_get_text (line) != '\0';
}

static void
test_line (void)
{
  WbWindow *window = test_window_new_demo ();
  gint64 experiment = test_experiment (window, WB_CRAFT_STATE_BURNING);
  GtkWidget *host = gtk_window_new ();
  WbAdviceLine *line = g_object_new (WB_TYPE_ADVICE_LINE, NULL);

  gtk_window_set_child (GTK_WINDOW (host), GTK_WIDGET (line));
  gtk_window_present (GTK_WINDOW (host));
  wb_advice_line_set (line, wb_page_get_desk (wb_window_get_page (window)), experiment);
  test_wait (has_line, line);
  g_test_message ("%s", wb_advice_line_get_text (line));
  g_assert_true (g_str_has_prefix (wb_advice_line_get_text (line), "Next: nothing to light beside what burns now: C5"));
  wb_advice_line_set (line, wb_page_get_desk (wb_window_get_page (window)), 0);
  g_assert_cmpstr (wb_advice_line_get_text (line), ==, "");
  gtk_window_destroy (GTK_WINDOW (host));
  /* above the bench nothing stands while candles burn */
  g_assert_true (wb_window_go (window, "burn", experiment));
  test_settle (window);
  g_assert_cmpstr (wb_advice_line_get_text (WB_ADVICE_LINE (test_part (window, "next"))), ==, "");
  test_window_destroy (window);
}

void
test_advice_add (void)
{
  g_test_add_func ("/views/advice/the-comparison-says-what-to-burn-next-and-leads-to-the-readings", test_compare);
  g_test_add_func ("/views/advice/what-is-finished-says-so", test_finished);
  g_test_add_func ("/views/advice/nothing-is-planned-where-nothing-can-be-saved", test_read_only);
  g_test_add_func ("/views/advice/today-says-which-to-light", test_today);
  g_test_add_func ("/views/advice/one-line-before-the-next-session", test_line);
}
