/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-bench.h"
#include "test-views.h"

#include "wb-app-attachment.h"
#include "wb-app-query.h"
#include "wb-beside-photos.h"
#include "wb-beside-table.h"
#include "wb-chart-canvas.h"
#include "wb-compare-beside.h"
#include "wb-job-bar.h"
#include "wb-look.h"
#include "wb-numbers-view.h"
#include "wb-pick-dialog.h"
#include "wb-pick-list.h"
#include "wb-pick-row.h"
#include "wb-plot-beside.h"
#include "wb-sample-dialog.h"

#include <gdk-pixbuf/gdk-pixbuf.h>

/* The page Compare of a finished experiment, and what lies side by side on it. */
typedef struct
{
  WbWindow        *window;
  WbCompareBeside *beside;
} Page;

static gboolean
is_answered (gpointer window)
{
  GtkStack *stack = GTK_STACK (test_child (GTK_WIDGET (wb_window_get_page (window)), "stack"));

  return g_strcmp0 (gtk_stack_get_visible_child_name (stack), "answer") == 0;
}

static void
act (Page       *page,
     const char *action,
     const char *target)
{
  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (wb_window_get_page (page->window)), action, "s", target));
}

static WbPicks *
get_picks (Page *page)
{
  return wb_compare_beside_get_picks (page->beside);
}

static gboolean
is_drawn (gpointer user)
{
  Page *page = user;
  const char *text;

  return wb_picks_is_whole (get_picks (page)) && wb_compare_beside_get_job (page->beside, &text) == NULL
         && wb_compare_beside_get_chart_view (page->beside) != NULL;
}

static void
page_open (Page *page)
{
  page->window = test_window_new_demo ();
  gtk_window_set_default_size (GTK_WINDOW (page->window), 1024, 700);
  g_assert_true (wb_window_go (page->window, "compare", test_experiment (page->window, WB_CRAFT_STATE_FINISHED)));
  test_wait (is_answered, page->window);
  page->beside = WB_COMPARE_BESIDE (test_part (page->window, "beside"));
  act (page, "page.look", "beside");
  test_wait (is_drawn, page);
}

static void
page_close (Page *page)
{
  test_window_destroy (page->window);
}

static GtkWidget *
get_canvas (Page *page)
{
  return test_find (GTK_WIDGET (wb_compare_beside_get_chart_view (page->beside)), WB_TYPE_CHART_CANVAS);
}

static gboolean
is_laid_out (gpointer canvas)
{
  return wb_chart_canvas_get_ready (canvas);
}

static void
press (GtkWidget      *widget,
       guint           keyval,
       GdkModifierType held)
{
  gboolean handled = FALSE;

  for (; widget != NULL && !handled; widget = gtk_widget_get_parent (widget))
    {
      g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (widget);

      for (guint i = 0; i < g_list_model_get_n_items (controllers) && !handled; i++)
        {
          g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);

          if (GTK_IS_EVENT_CONTROLLER_KEY (controller))
            g_signal_emit_by_name (controller, "key-pressed", keyval, 0u, held, &handled);
        }
    }
  g_assert_true (handled);
}

/* In the smallest screen that is held to. */
static void
assert_fits (Page *page)
{
  int width, height;

  gtk_widget_measure (GTK_WIDGET (wb_window_get_page (page->window)), GTK_ORIENTATION_HORIZONTAL, -1, &width, NULL, NULL, NULL);
  g_assert_cmpint (width, <=, 1024 - 242);
  gtk_widget_measure (GTK_WIDGET (page->window), GTK_ORIENTATION_VERTICAL, 1024, &height, NULL, NULL, NULL);
  g_assert_cmpint (height, <=, 700);
}

static gboolean
has_conditions (gpointer page)
{
  return *wb_compare_beside_get_conditions (((Page *) page)->beside) != '\0';
}

static gboolean
has_table (gpointer table)
{
  return wb_beside_table_get_ready (table) && wb_text_table_get_n_rows (wb_beside_table_get_table (table)) > 0;
}

/* What was switched on in the ranking lies side by side at first; every kind of it is drawn, and the table says which is better. */
static void
test_kinds (void)
{
  WbBesideTable *table;
  gboolean better = FALSE;
  Page page;

  page_open (&page);
  g_assert_cmpuint (wb_picks_get_n (get_picks (&page)), ==, 3);
  test_wait (has_conditions, &page);
  g_test_message ("%s", wb_compare_beside_get_conditions (page.beside));
  g_assert_true (g_str_has_prefix (wb_compare_beside_get_conditions (page.beside), "They differ in: wick. Alike: vessel, wax, "));
  for (int kind = 0; kind < (int) WB_PLOT_N_KINDS; kind++)
    {
      const char *key = wb_plot_kind_get_key ((WbPlotKind) kind);
      g_autofree char *name = g_strconcat ("beside-", key, NULL);

      if (!wb_plot_kind_takes_picks ((WbPlotKind) kind))
        continue;
      act (&page, "page.chart", key);
      g_assert_cmpstr (wb_compare_beside_get_what (page.beside), ==, key);
      test_wait (is_drawn, &page);
      assert_fits (&page);
      test_look_at (GTK_WIDGET (page.window), name);
    }
  act (&page, "page.chart", "table");
  table = WB_BESIDE_TABLE (test_child (GTK_WIDGET (page.beside), "table"));
  test_wait (has_table, table);
  assert_fits (&page);
  test_look_at (GTK_WIDGET (page.window), "beside-table");
  for (guint i = 0; i < wb_text_table_get_n_rows (wb_beside_table_get_table (table)); i++)
    for (guint k = 1; k <= 3; k++)
      better = better || strstr (wb_text_table_get_cell (wb_beside_table_get_table (table), i, k), "better") != NULL;
  g_assert_true (better);
  g_assert_cmpstr (wb_text_table_get_cell (wb_beside_table_get_table (table), 0, 0), ==, "Verdict and limits");
  for (guint k = 1; k <= 3; k++)
    g_assert_cmpuint (strlen (wb_text_table_get_cell (wb_beside_table_get_table (table), 0, k)), >, 0);
  g_assert_false (test_enabled (page.window, "page.save-chart"));
  page_close (&page);
}

static GtkWidget *
get_line (Page *page,
          int   index)
{
  GtkListBox *box = GTK_LIST_BOX (test_find (GTK_WIDGET (page->beside), GTK_TYPE_LIST_BOX));

  return GTK_WIDGET (gtk_list_box_get_row_at_index (box, index));
}

/* The order is the person's, by keyboard too, and it outlives going to another page and another experiment. */
static void
test_order (void)
{
  WbPickList *list;
  gint64 first, second;
  Page page;

  page_open (&page);
  list = WB_PICK_LIST (test_child (GTK_WIDGET (page.beside), "list"));
  first = wb_picks_get (get_picks (&page), 0)->pick.cell;
  second = wb_picks_get (get_picks (&page), 1)->pick.cell;
  gtk_widget_grab_focus (get_line (&page, 0));
  press (get_line (&page, 0), GDK_KEY_Down, GDK_ALT_MASK);
  g_assert_cmpint (wb_picks_get (get_picks (&page), 0)->pick.cell, ==, second);
  g_assert_cmpint (wb_picks_get (get_picks (&page), 1)->pick.cell, ==, first);
  /* The keyboard goes along. */
  g_assert_true (gtk_widget_has_focus (get_line (&page, 1)));
  press (get_line (&page, 1), GDK_KEY_Up, GDK_ALT_MASK);
  g_assert_cmpint (wb_picks_get (get_picks (&page), 0)->pick.cell, ==, first);
  gtk_widget_grab_focus (get_line (&page, 1));
  press (get_line (&page, 1), GDK_KEY_Delete, 0);
  g_assert_cmpuint (wb_picks_get_n (get_picks (&page)), ==, 2);
  g_assert_nonnull (strstr (wb_pick_list_get_text (list, 0), "burns"));
  g_assert_null (wb_pick_list_get_text (list, 2));
  test_wait (is_drawn, &page);

  g_assert_true (wb_window_go (page.window, "today", 0));
  g_assert_true (wb_window_go (page.window, "compare", test_experiment (page.window, WB_CRAFT_STATE_BURNING)));
  test_wait (is_drawn, &page);
  g_assert_cmpuint (wb_picks_get_n (get_picks (&page)), ==, 2);
  g_assert_cmpint (wb_picks_get (get_picks (&page), 0)->pick.cell, ==, first);
  /* With the last line taken away it says what to do. */
  wb_picks_remove (get_picks (&page), 0);
  wb_picks_remove (get_picks (&page), 0);
  g_assert_true (test_says (GTK_WIDGET (page.beside), "Choose combinations"));
  page_close (&page);
}

static gboolean
is_ready (gpointer dialog)
{
  return wb_pick_dialog_get_ready (dialog);
}

static WbPickDialog *
open_chooser (Page *page)
{
  WbPickDialog *dialog;

  gtk_widget_activate_action (GTK_WIDGET (wb_window_get_page (page->window)), "page.find", NULL);
  dialog = WB_PICK_DIALOG (test_find_window (WB_TYPE_PICK_DIALOG));
  g_assert_nonnull (dialog);
  test_wait (is_ready, dialog);
  return dialog;
}

/* Searches, and waits until what is typed is searched for. */
static void
search (WbPickDialog *dialog,
        const char   *text)
{
  GtkWidget *entry = test_child (GTK_WIDGET (dialog), "search");

  gtk_editable_set_text (GTK_EDITABLE (entry), text);
  g_signal_emit_by_name (entry, "search-changed");
}

static WbPickRow *
get_row (WbPickDialog *dialog,
         guint         index)
{
  g_autoptr (WbPickRow) row = g_list_model_get_item (wb_pick_dialog_get_rows (dialog), index);

  g_assert_nonnull (row);
  return row;
}

static void
choose_line (WbPickDialog *dialog,
             guint         index,
             guint         keyval)
{
  GtkListView *list = GTK_LIST_VIEW (test_child (GTK_WIDGET (dialog), "list"));

  gtk_single_selection_set_selected (GTK_SINGLE_SELECTION (gtk_list_view_get_model (list)), index);
  press (GTK_WIDGET (list), keyval, 0);
}

/* The first shown line of that kind, after `from`. */
static guint
find_line (WbPickDialog *dialog,
           WbPickRowKind kind,
           guint         from)
{
  for (guint i = from; i < g_list_model_get_n_items (wb_pick_dialog_get_rows (dialog)); i++)
    if (wb_pick_row_get_kind (get_row (dialog, i)) == kind)
      return i;
  g_assert_not_reached ();
}

static guint
count_recommended (WbPickDialog *dialog,
                   gint64        experiment)
{
  guint n = 0;

  for (guint i = 0; i < g_list_model_get_n_items (wb_pick_dialog_get_rows (dialog)); i++)
    n += wb_pick_row_get_pick (get_row (dialog, i))->experiment == experiment
         && g_str_has_suffix (wb_pick_row_get_about (get_row (dialog, i)), wb_craft_verdict_get_label (WB_CRAFT_VERDICT_RECOMMENDED));
  return n;
}

/* Other experiments, single samples, whole ones: searched, shown and ticked by keys, and drawn once their answers are there. */
static void
test_chooser (void)
{
  WbPickDialog *dialog;
  WbPickRow *row;
  gint64 finished, burning;
  guint n, line;
  Page page;

  page_open (&page);
  finished = test_experiment (page.window, WB_CRAFT_STATE_FINISHED);
  burning = test_experiment (page.window, WB_CRAFT_STATE_BURNING);
  dialog = open_chooser (&page);
  test_look_at (GTK_WIDGET (dialog), "pick-dialog");
  g_assert_cmpuint (test_check_names (GTK_WIDGET (dialog), "pick-dialog"), >, 3);
  /* The open experiment stands first, unfolded; what lies side by side is ticked. */
  row = get_row (dialog, 0);
  g_assert_cmpint (wb_pick_row_get_pick (row)->experiment, ==, finished);
  line = find_line (dialog, WB_PICK_ROW_CELL, 0);
  /* How each stands is said where it is known; nothing is worked out for that. */
  g_assert_cmpuint (count_recommended (dialog, finished), >, 0);
  g_assert_cmpuint (count_recommended (dialog, burning), ==, 0);
  n = g_list_model_get_n_items (wb_pick_dialog_get_rows (dialog));
  choose_line (dialog, line, GDK_KEY_Right);
  g_assert_cmpuint (g_list_model_get_n_items (wb_pick_dialog_get_rows (dialog)), >, n);
  g_assert_cmpint (wb_pick_row_get_kind (get_row (dialog, line + 1)), ==, WB_PICK_ROW_SAMPLE);
  choose_line (dialog, line + 1, GDK_KEY_space);
  g_assert_true (wb_pick_row_get_picked (get_row (dialog, line + 1)));
  choose_line (dialog, line, GDK_KEY_Left);
  g_assert_cmpuint (g_list_model_get_n_items (wb_pick_dialog_get_rows (dialog)), ==, n);
  /* What is typed searches below every experiment. */
  search (dialog, "fc-1 c2");
  line = find_line (dialog, WB_PICK_ROW_CELL, 0);
  g_assert_cmpint (wb_pick_row_get_pick (get_row (dialog, line))->experiment, ==, burning);
  choose_line (dialog, line, GDK_KEY_space);
  test_look_at (GTK_WIDGET (dialog), "pick-dialog-search");
  /* By what does not vary in its experiment too. */
  search (dialog, "FIRKIN cindle c2");
  g_assert_cmpint (wb_pick_row_get_pick (get_row (dialog, find_line (dialog, WB_PICK_ROW_SAMPLE, 0)))->experiment, ==, burning);
  search (dialog, "no such wick anywhere");
  g_assert_cmpuint (g_list_model_get_n_items (wb_pick_dialog_get_rows (dialog)), ==, 0);
  g_assert_true (test_says (GTK_WIDGET (dialog), "Nothing in the notebook matches."));
  n = wb_picks_get_n (get_picks (&page));
  g_signal_emit_by_name (test_child (GTK_WIDGET (dialog), "take"), "clicked");
  g_assert_null (test_find_window (WB_TYPE_PICK_DIALOG));
  g_assert_cmpuint (wb_picks_get_n (get_picks (&page)), ==, n + 2);
  test_wait (is_drawn, &page);
  g_assert_true (test_says (GTK_WIDGET (page.beside), "FC-1"));
  test_wait (has_conditions, &page);
  g_assert_nonnull (strstr (wb_compare_beside_get_conditions (page.beside), "They differ in: wick, vessel, "));
  assert_fits (&page);
  test_look_at (GTK_WIDGET (page.window), "beside-two-experiments");
  page_close (&page);
}

/* A whole experiment by its own line; more than can be told apart are not taken. */
static void
test_whole (void)
{
  WbPickDialog *dialog;
  WbPickRow *row;
  Page page;

  page_open (&page);
  dialog = open_chooser (&page);
  row = get_row (dialog, 0);
  while (wb_pick_row_get_picked (row))
    choose_line (dialog, 0, GDK_KEY_space);
  choose_line (dialog, 0, GDK_KEY_space);
  g_assert_true (wb_pick_row_get_picked (row));
  for (guint i = 1; i < g_list_model_get_n_items (wb_pick_dialog_get_rows (dialog)); i++)
    if (wb_pick_row_get_parent (get_row (dialog, i)) == row)
      g_assert_true (wb_pick_row_get_picked (get_row (dialog, i)));
  search (dialog, "burn");
  search (dialog, "-");
  for (guint i = 0; i < g_list_model_get_n_items (wb_pick_dialog_get_rows (dialog)); i++)
    if (!wb_pick_row_get_picked (get_row (dialog, i)) && wb_pick_row_get_kind (get_row (dialog, i)) == WB_PICK_ROW_SAMPLE)
      choose_line (dialog, i, GDK_KEY_space);
  g_assert_false (gtk_widget_get_sensitive (test_child (GTK_WIDGET (dialog), "take")));
  g_assert_true (test_says (GTK_WIDGET (dialog), "take some away"));
  g_assert_cmpuint (wb_picks_get_n (get_picks (&page)), ==, 3);
  gtk_window_destroy (GTK_WINDOW (dialog));
  page_close (&page);
}

static gboolean
is_idle (gpointer user)
{
  const char *text;

  return wb_compare_beside_get_job (((Page *) user)->beside, &text) == NULL;
}

static gboolean
is_asked (gpointer user)
{
  return wb_picks_get_job (get_picks (user)) != NULL;
}

static gboolean
is_given_up (gpointer user)
{
  return !is_asked (user) && wb_picks_get (get_picks (user), 0)->why != NULL;
}

static void
add_other (Page *page)
{
  gint64 experiment = test_experiment (page->window, WB_CRAFT_STATE_BURNING);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbDataset) data = wb_app_query_dataset_sync (test_notebook (page->window), experiment, &error);
  guint sample;
  WbPick pick;

  g_assert_no_error (error);
  sample = g_array_index (data->burn_sample, guint, 0);
  pick = (WbPick) { experiment, wb_dataset_get_cell (data, g_array_index (data->sample_cell, guint, sample))->record.id, 0 };
  g_assert_true (wb_picks_add (get_picks (page), &pick, "FC-1 · other"));
  /* It is there once. */
  g_assert_false (wb_picks_add (get_picks (page), &pick, "FC-1 · other"));
}

/* Another experiment's answer can be waited for, or not: then it says so, the rest stands, and it can be asked for again. */
static void
test_cancel (void)
{
  WbJobBar *bar;
  WbPickList *list;
  Page page;

  page_open (&page);
  bar = WB_JOB_BAR (test_part (page.window, "job_bar"));
  list = WB_PICK_LIST (test_child (GTK_WIDGET (page.beside), "list"));
  add_other (&page);
  g_assert_nonnull (wb_job_bar_get_job (bar));
  g_assert_nonnull (strstr (wb_pick_list_get_text (list, 3), "being worked out"));
  wb_app_job_cancel (wb_job_bar_get_job (bar));
  test_wait (is_idle, &page);
  test_settle (page.window);
  g_assert_nonnull (strstr (wb_pick_list_get_text (list, 3), "Cancelled"));
  g_assert_null (strstr (wb_pick_list_get_text (list, 0), "Cancelled"));
  g_assert_nonnull (wb_compare_beside_get_chart_view (page.beside));
  g_assert_true (gtk_widget_get_visible (test_child (GTK_WIDGET (page.beside), "retry")));
  g_signal_emit_by_name (test_child (GTK_WIDGET (page.beside), "retry"), "clicked");
  test_wait (is_drawn, &page);
  g_assert_null (strstr (wb_pick_list_get_text (list, 3), "Cancelled"));
  g_assert_false (gtk_widget_get_visible (test_child (GTK_WIDGET (page.beside), "retry")));
  page_close (&page);
}

static void
on_saved_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      done)
{
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (wb_app_notebook_save_finish (WB_APP_NOTEBOOK (source), result, NULL, &error), >, 0);
  g_assert_no_error (error);
  *(gboolean *) done = TRUE;
}

/* What changed since and was not worked out again is shown as of before, with why, and can be asked for again. */
static void
test_stale (void)
{
  g_autoptr (WbRecord) burn = NULL;
  gboolean done = FALSE;
  WbPickList *list;
  GtkWidget *retry;
  Page page;

  page_open (&page);
  list = WB_PICK_LIST (test_child (GTK_WIDGET (page.beside), "list"));
  retry = test_child (GTK_WIDGET (page.beside), "retry");
  g_assert_true (wb_picks_get (get_picks (&page), 0)->fresh);
  burn = wb_record_copy (g_ptr_array_index (wb_picks_get (get_picks (&page), 0)->answer->data->burns, 0));
  g_free (((WbBurn *) burn)->note);
  ((WbBurn *) burn)->note = g_strdup ("seen again");
  wb_app_notebook_save_record_async (test_notebook (page.window), "Note", burn, NULL, on_saved_cb, &done);
  test_wait (test_is_true, &done);
  test_wait (is_asked, &page);
  wb_app_job_cancel (wb_picks_get_job (get_picks (&page)));
  test_wait (is_given_up, &page);
  test_settle (page.window);
  g_assert_nonnull (wb_picks_get (get_picks (&page), 0)->answer);
  g_assert_nonnull (strstr (wb_pick_list_get_text (list, 0), "not as it is now: Cancelled"));
  g_assert_true (gtk_widget_get_visible (retry));
  g_signal_emit_by_name (retry, "clicked");
  test_wait (is_drawn, &page);
  g_assert_null (strstr (wb_pick_list_get_text (list, 0), "not as it is now"));
  g_assert_false (gtk_widget_get_visible (retry));
  page_close (&page);
}

/* Left while it is worked out, nobody waits for it; back, it is asked for again. */
static void
test_left (void)
{
  Page page;

  page_open (&page);
  add_other (&page);
  g_assert_false (is_idle (&page));
  act (&page, "page.look", "answer");
  g_assert_true (is_idle (&page));
  act (&page, "page.look", "beside");
  test_wait (is_drawn, &page);
  g_assert_cmpuint (wb_picks_get_n (get_picks (&page)), ==, 4);
  page_close (&page);
}

static const char *
get_words (Page *page)
{
  return wb_chart_view_get_words (wb_compare_beside_get_chart_view (page->beside));
}

/* To a value whose words say that. */
static void
walk_to (Page       *page,
         const char *words)
{
  GtkWidget *canvas = get_canvas (page);

  test_wait (is_laid_out, canvas);
  gtk_widget_grab_focus (canvas);
  for (guint layer = 0; layer < 60; layer++)
    {
      press (canvas, GDK_KEY_Down, 0);
      for (guint value = 0; value < 3 && strstr (get_words (page), words) == NULL; value++)
        press (canvas, GDK_KEY_Right, 0);
      if (strstr (get_words (page), words) != NULL)
        return;
    }
  g_error ("no value says “%s”", words);
}

static gboolean
has_burn (gpointer log)
{
  return wb_reading_log_get_burn (log) != 0;
}

/* Pointing names the sample and says what Enter does; Enter opens its readings, at that burn; the same of a combination its samples. */
static void
test_pointing (void)
{
  WbSampleDialog *dialog;
  Page page;

  page_open (&page);
  act (&page, "page.chart", "growth");
  test_wait (is_drawn, &page);
  walk_to (&page, "the samples of");
  press (get_canvas (&page), GDK_KEY_Return, 0);
  test_wait (is_drawn, &page);
  for (guint i = 0; i < wb_picks_get_n (get_picks (&page)); i++)
    g_assert_cmpint (wb_picks_get (get_picks (&page), i)->pick.sample, !=, 0);
  test_look_at (GTK_WIDGET (page.window), "beside-samples");
  g_assert_true (gtk_widget_get_visible (test_child (GTK_WIDGET (page.beside), "back")));
  g_signal_emit_by_name (test_child (GTK_WIDGET (page.beside), "back"), "clicked");
  g_assert_cmpint (wb_picks_get (get_picks (&page), 0)->pick.sample, ==, 0);
  test_wait (is_drawn, &page);

  walk_to (&page, "the readings of");
  g_assert_nonnull (strstr (get_words (&page), "Enter or a click: the readings of"));
  press (get_canvas (&page), GDK_KEY_Return, 0);
  dialog = WB_SAMPLE_DIALOG (test_find_window (WB_TYPE_SAMPLE_DIALOG));
  g_assert_nonnull (dialog);
  test_wait (has_burn, wb_sample_dialog_get_log (dialog));
  test_look_at (GTK_WIDGET (dialog), "sample-dialog");
  /* It is finished: there is no way to the bench. */
  g_assert_false (gtk_widget_get_visible (test_child (GTK_WIDGET (dialog), "bench")));
  gtk_window_destroy (GTK_WINDOW (dialog));
  page_close (&page);
}

/* Of a sample that is still at the bench, the way there. */
static void
test_to_the_bench (void)
{
  WbSampleDialog *dialog;
  Page page;
  gint64 sample;

  page_open (&page);
  wb_picks_set (get_picks (&page), NULL, NULL, 0);
  add_other (&page);
  test_wait (is_drawn, &page);
  walk_to (&page, "the readings of");
  press (get_canvas (&page), GDK_KEY_Return, 0);
  dialog = WB_SAMPLE_DIALOG (test_find_window (WB_TYPE_SAMPLE_DIALOG));
  g_assert_nonnull (dialog);
  g_assert_true (gtk_widget_get_visible (test_child (GTK_WIDGET (dialog), "bench")));
  g_signal_emit_by_name (test_child (GTK_WIDGET (dialog), "bench"), "clicked");
  test_settle (page.window);
  g_assert_cmpstr (G_OBJECT_TYPE_NAME (wb_window_get_page (page.window)), ==, "WbBurnPage");
  sample = g_variant_get_int64 (g_action_group_get_action_state (G_ACTION_GROUP (wb_page_get_actions (wb_window_get_page (page.window))), "choose"));
  g_assert_cmpint (sample, !=, 0);
  page_close (&page);
}

static gboolean
has_copied (gpointer user)
{
  return g_str_has_suffix (get_words (user), "as CSV.");
}

static void
on_text_cb (GObject      *source,
            GAsyncResult *result,
            gpointer      text)
{
  *(char **) text = gdk_clipboard_read_text_finish (GDK_CLIPBOARD (source), result, NULL);
}

static gboolean
is_set (gpointer text)
{
  return *(char **) text != NULL;
}

static void
test_copies (void)
{
  g_autofree char *text = NULL;
  Page page;

  page_open (&page);
  act (&page, "page.copy-chart", "csv");
  test_wait (has_copied, &page);
  gdk_clipboard_read_text_async (gtk_widget_get_clipboard (GTK_WIDGET (page.window)), NULL, on_text_cb, &text);
  test_wait (is_set, &text);
  g_assert_nonnull (strstr (text, "(h)"));
  g_assert_nonnull (strstr (text, "(mm)"));
  g_assert_nonnull (strstr (text, "\r\n"));
  page_close (&page);
}

static gboolean
has_effects (gpointer numbers)
{
  return wb_numbers_view_get_ready (numbers) && test_says (numbers, "Degrees of freedom");
}

/* The words of statistics stand behind one door. */
static void
test_numbers (void)
{
  static const char *const words[] = { "interval", "variance", "Degrees of freedom", "Expected loss", "Desirability" };
  GtkWidget *numbers;
  Page page;

  page_open (&page);
  act (&page, "page.look", "answer");
  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    g_assert_false (test_says (test_part (page.window, "ranking"), words[i]));
  test_look_at (GTK_WIDGET (page.window), "answer");
  act (&page, "page.look", "numbers");
  numbers = test_part (page.window, "numbers");
  test_wait (has_effects, numbers);
  g_assert_true (test_says (numbers, "Analysis of variance"));
  g_assert_true (test_says (numbers, "Chance of each rank"));
  g_assert_true (test_says (numbers, "Counted in"));
  /* what no draw showed is no certainty, of crossing a limit neither */
  g_assert_true (test_says (numbers, "under 0.1 %"));
  g_assert_false (test_says (numbers, "0.0 % ± 0.0"));
  assert_fits (&page);
  test_look_at (GTK_WIDGET (page.window), "numbers");
  g_assert_false (test_enabled (page.window, "page.save-chart"));
  page_close (&page);
}

static gboolean
has_photos (gpointer photos)
{
  return wb_beside_photos_get_ready (photos);
}

static void
on_added_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      done)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (wb_app_attachment_finish (WB_APP_NOTEBOOK (source), result, &error));
  g_assert_no_error (error);
  *(gboolean *) done = TRUE;
}

/* Keeps a photo with the first burn of the pick's first sample, taken so many minutes after it was lit. */
static void
add_photo (Page  *page,
           guint  pick,
           double minute)
{
  const WbPicked *picked = wb_picks_get (get_picks (page), pick);
  const WbDataset *data = picked->answer->data;
  g_autoptr (GdkPixbuf) pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, 90, 60);
  g_autoptr (WbRecord) record = wb_record_new (&wb_attachment_type);
  WbAttachment *photo = (WbAttachment *) record;
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (GError) error = NULL;
  gboolean done = FALSE;
  char *data_bytes;
  gsize size;

  gdk_pixbuf_fill (pixbuf, 0xc04010ff + 0x100 * pick);
  g_assert_true (gdk_pixbuf_save_to_buffer (pixbuf, &data_bytes, &size, "jpeg", &error, NULL));
  bytes = g_bytes_new_take (data_bytes, size);
  for (guint i = 0; i < data->burns->len && photo->owner == 0; i++)
    {
      const WbBurn *burn = wb_dataset_get_burn (data, i);

      if (burn->number != 1 || g_array_index (data->sample_cell, guint, g_array_index (data->burn_sample, guint, i)) != picked->index)
        continue;
      photo->owner = burn->record.id;
      photo->taken_at = burn->lit_at;
      photo->taken_at.utc_us += (gint64) (minute * 60 * G_USEC_PER_SEC);
    }
  g_assert_cmpint (photo->owner, !=, 0);
  photo->role = WB_ATTACHMENT_PHOTO;
  photo->name = g_strdup ("pool.jpg");
  photo->media_type = g_strdup ("image/jpeg");
  wb_app_attachment_add_async (test_notebook (page->window), photo, bytes, "Photo", NULL, on_added_cb, &done);
  test_wait (test_is_true, &done);
}

static gboolean
has_pictures (gpointer photos)
{
  return wb_beside_photos_get_n_kept (photos) == 2;
}

/* Where there is a photo it stands at its hour with its sample's code; elsewhere it says that there is none. */
static void
test_photos (void)
{
  WbBesidePhotos *photos;
  g_autofree char *at_two = NULL, *at_one = NULL, *other = NULL, *beyond = NULL;
  Page page;

  page_open (&page);
  photos = WB_BESIDE_PHOTOS (test_child (GTK_WIDGET (page.beside), "photos"));
  act (&page, "page.chart", "photos");
  test_wait (has_photos, photos);
  test_settle (page.window);
  g_assert_true (test_says (GTK_WIDGET (photos), "No photo of these burns"));
  add_photo (&page, 0, 118);
  add_photo (&page, 1, 61);
  test_settle (page.window);
  test_wait (has_photos, photos);
  test_settle (page.window);
  at_two = wb_beside_photos_dup_text (photos, 0, 2);
  at_one = wb_beside_photos_dup_text (photos, 0, 1);
  other = wb_beside_photos_dup_text (photos, 1, 1);
  beyond = wb_beside_photos_dup_text (photos, 3, 0);
  g_assert_nonnull (strstr (at_two, "118 min"));
  g_assert_cmpstr (at_one, ==, "no photo");
  g_assert_nonnull (strstr (other, "61 min"));
  g_assert_null (beyond);
  g_assert_false (test_says (GTK_WIDGET (photos), "No photo of these burns"));
  assert_fits (&page);
  test_look_at (GTK_WIDGET (page.window), "beside-photos");
  test_wait (has_pictures, photos);
  /* what is gone is not kept for the next notebook */
  wb_beside_photos_show (photos, NULL, NULL, 0);
  g_assert_cmpuint (wb_beside_photos_get_n_kept (photos), ==, 0);
  page_close (&page);
}

static gboolean
is_painted (gpointer frame)
{
  return *(guint *) frame >= 3;
}

static gboolean
on_tick_cb (GtkWidget     *widget,
            GdkFrameClock *clock,
            gpointer       frame)
{
  *(guint *) frame += 1;
  return *(guint *) frame < 3 ? G_SOURCE_CONTINUE : G_SOURCE_REMOVE;
}

static void
wait_for_layout (GtkWidget *window)
{
  guint frame = 0;

  gtk_widget_add_tick_callback (window, on_tick_cb, &frame, NULL);
  test_wait (is_painted, &frame);
}

static void
set_dpi (int dpi)
{
  g_object_set (gtk_settings_get_default (), "gtk-xft-dpi", dpi * 1024, NULL);
}

/* No text is cut: each has the room of its lines, and lies within the page from side to side, but for what scrolls sideways. */
static void
assert_not_clipped (GtkWidget *widget,
                    GtkWidget *page)
{
  graphene_rect_t bounds;
  int width, height;

  if (!gtk_widget_get_mapped (widget) || GTK_IS_LIST_VIEW (widget) || G_TYPE_CHECK_INSTANCE_TYPE (widget, WB_TYPE_TEXT_TABLE)
      || WB_IS_BESIDE_PHOTOS (widget))
    return;
  g_assert_true (gtk_widget_compute_bounds (widget, page, &bounds));
  g_assert_cmpfloat (bounds.origin.x, >=, -1);
  g_assert_cmpfloat (bounds.origin.x + bounds.size.width, <=, gtk_widget_get_width (page) + 1);
  if (GTK_IS_LABEL (widget))
    {
      pango_layout_get_pixel_size (gtk_label_get_layout (GTK_LABEL (widget)), &width, &height);
      g_assert_cmpint (gtk_widget_get_width (widget), >=, width);
      g_assert_cmpint (gtk_widget_get_height (widget), >=, height);
    }
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    assert_not_clipped (child, page);
}

/* Each side of the page in each look, with letters twice as large, and from right to left: what is clipped fails. */
static void
test_looks (void)
{
  static const char *const looks[] = { "answer", "beside", "numbers" };
  static const struct { const char *name; WbLookKind kind; int dpi; GtkTextDirection direction; } cases[] = {
    { "dark", WB_LOOK_DARK, 96, GTK_TEXT_DIR_LTR },
    { "contrast", WB_LOOK_HIGH_CONTRAST, 96, GTK_TEXT_DIR_LTR },
    { "large", WB_LOOK_LIGHT, 192, GTK_TEXT_DIR_LTR },
    { "rtl", WB_LOOK_LIGHT, 96, GTK_TEXT_DIR_RTL },
  };
  Page page;

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      wb_look_set_kind (wb_look_get_default (), cases[i].kind);
      set_dpi (cases[i].dpi);
      gtk_widget_set_default_direction (cases[i].direction);
      page_open (&page);
      for (guint k = 0; k < G_N_ELEMENTS (looks); k++)
        {
          g_autofree char *name = g_strdup_printf ("%s-%s", looks[k], cases[i].name);

          act (&page, "page.look", looks[k]);
          test_settle (page.window);
          g_test_message ("%s", name);
          test_look_at (GTK_WIDGET (page.window), name);
          wait_for_layout (GTK_WIDGET (page.window));
          assert_not_clipped (GTK_WIDGET (wb_window_get_page (page.window)), GTK_WIDGET (wb_window_get_page (page.window)));
        }
      page_close (&page);
    }
  gtk_widget_set_default_direction (GTK_TEXT_DIR_LTR);
  set_dpi (96);
  wb_look_set_kind (wb_look_get_default (), WB_LOOK_LIGHT);
}

void
test_compare_beside_add (void)
{
  g_test_add_func ("/views/compare-beside/each-kind-is-drawn-and-the-better-one-named", test_kinds);
  g_test_add_func ("/views/compare-beside/the-order-is-the-persons-and-stays", test_order);
  g_test_add_func ("/views/compare-beside/other-experiments-and-samples-are-chosen-by-keys", test_chooser);
  g_test_add_func ("/views/compare-beside/a-whole-experiment-is-one-tick", test_whole);
  g_test_add_func ("/views/compare-beside/waiting-for-another-answer-can-be-cancelled", test_cancel);
  g_test_add_func ("/views/compare-beside/an-answer-of-before-says-so", test_stale);
  g_test_add_func ("/views/compare-beside/left-while-it-is-worked-out", test_left);
  g_test_add_func ("/views/compare-beside/pointing-names-and-enter-opens", test_pointing);
  g_test_add_func ("/views/compare-beside/a-sample-at-the-bench-is-shown-there", test_to_the_bench);
  g_test_add_func ("/views/compare-beside/the-figures-are-copied-as-csv", test_copies);
  g_test_add_func ("/views/compare-beside/the-numbers-stand-behind-one-door", test_numbers);
  g_test_add_func ("/views/compare-beside/photos-stand-at-their-hour", test_photos);
  g_test_add_func ("/views/compare-beside/nothing-is-clipped-in-any-look", test_looks);
}
