/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-notebook.h"
#include "test-bench.h"
#include "test-views.h"

#include "wb-app-import.h"
#include "wb-sidebar-row.h"

/* A notebook of many experiments, as years fill it; what is saved in one of them touches its own row. */
#define MANY 40

typedef struct
{
  WbWindow   *window;
  WbAppBench *bench;
  gint64      experiment; /* the one that burns */
  guint       readings;   /* that it had before */
} Years;

/* Beside the one at the bench: a burn each, invented. */
static void
add_experiments (const char *path)
{
  g_autofree char *log = test_path ("years.csv");
  g_autoptr (GString) rows = g_string_new ("experiment,vessel,inner_diameter_mm,wax,wick_series,wick_size,wick_step,fragrance,load_pct,"
                                           "sample,burn,lit_at,elapsed_min,pool_mm\n");
  g_autoptr (WbAppImportSummary) summary = NULL;
  g_autoptr (GError) error = NULL;

  for (guint i = 1; i <= MANY; i++)
    g_string_append_printf (rows, "Shelf %u,Plover,84,Marsh soft,Sedge,S-%u,%u,Quimber leaf,6,P%u,1,2026-01-05T18:00:00+00:00,60,41\n", i, i, i, i);
  g_assert_true (g_file_set_contents (log, rows->str, -1, NULL));
  summary = wb_app_import_sync (path, log, NULL, WB_APP_IMPORT_WRITE, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (summary->accepted, ==, MANY);
}

static void
set_up (Years *years)
{
  g_autofree char *path = test_path ("years.wickbench");
  g_autoptr (WbAppNotebook) notebook = NULL;
  g_autoptr (GError) error = NULL;

  years->experiment = bench_notebook_write (path, 2, "pool_mm");
  add_experiments (path);
  notebook = wb_app_notebook_open_sync (path, WB_APP_OPEN_EXISTING, NULL, &error);
  g_assert_no_error (error);
  years->window = test_window_new ();
  wb_window_set_notebook (years->window, notebook);
  test_settle (years->window);
  years->bench = wb_desk_get_bench (wb_host_get_desk (WB_HOST (years->window)));
  g_assert_true (wb_window_go (years->window, "burn", years->experiment));
  test_settle (years->window);
}

static GListModel *
get_experiments (Years *years)
{
  return G_LIST_MODEL (wb_desk_get_experiments (wb_host_get_desk (WB_HOST (years->window))));
}

static GtkListBox *
get_list (Years *years)
{
  return GTK_LIST_BOX (test_child (test_child (GTK_WIDGET (years->window), "sidebar"), "list"));
}

/* Kept, so that no other row gets the place of one that went. */
static GPtrArray *
dup_rows (GtkListBox *list)
{
  GPtrArray *rows = g_ptr_array_new_with_free_func (g_object_unref);
  GtkListBoxRow *row;

  for (int i = 0; (row = gtk_list_box_get_row_at_index (list, i)) != NULL; i++)
    g_ptr_array_add (rows, g_object_ref (row));
  return rows;
}

static guint
count_new (GPtrArray *before,
           GPtrArray *after)
{
  guint n = 0;

  for (guint i = 0; i < after->len; i++)
    n += !g_ptr_array_find (before, g_ptr_array_index (after, i), NULL);
  return n;
}

/* What stands in the sidebar is what the list says, in its order, each of them once. */
static void
check_rows (Years *years)
{
  GListModel *experiments = get_experiments (years);
  guint n = g_list_model_get_n_items (experiments);

  g_assert_cmpuint (n, ==, MANY + 1);
  for (guint i = 0; i < n; i++)
    {
      g_autoptr (WbAppExperiment) experiment = g_list_model_get_item (experiments, i);
      GtkListBoxRow *row = gtk_list_box_get_row_at_index (get_list (years), 1 + (int) i);

      g_assert_true (wb_sidebar_row_get_experiment (WB_SIDEBAR_ROW (row)) == experiment);
    }
  g_assert_nonnull (wb_sidebar_row_get_place (WB_SIDEBAR_ROW (gtk_list_box_get_row_at_index (get_list (years), 0))));
  g_assert_nonnull (wb_sidebar_row_get_place (WB_SIDEBAR_ROW (gtk_list_box_get_row_at_index (get_list (years), 1 + (int) n))));
}

static WbAppExperiment *
find_burning (Years *years)
{
  GListModel *experiments = get_experiments (years);

  for (guint i = 0; i < g_list_model_get_n_items (experiments); i++)
    {
      g_autoptr (WbAppExperiment) experiment = g_list_model_get_item (experiments, i);

      if (wb_app_experiment_get_id (experiment) == years->experiment)
        return experiment;
    }
  g_assert_not_reached ();
}

static WbSidebarRow *
find_row (Years *years)
{
  GtkListBoxRow *row;

  for (int i = 0; (row = gtk_list_box_get_row_at_index (get_list (years), i)) != NULL; i++)
    if (wb_sidebar_row_get_experiment (WB_SIDEBAR_ROW (row)) == find_burning (years))
      return WB_SIDEBAR_ROW (row);
  g_assert_not_reached ();
}

static gboolean
has_reading (gpointer user)
{
  Years *years = user;

  return wb_app_experiment_get_readings (find_burning (years)) > years->readings;
}

static gboolean
burns (gpointer user)
{
  return wb_app_experiment_get_state (find_burning (user)) == WB_CRAFT_STATE_BURNING;
}

/* The bench and the list are read each in its own time. */
static gboolean
is_alight (gpointer sample)
{
  return wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_ALIGHT;
}

static WbAppBenchSample *
light_one (Years *years)
{
  g_autoptr (GPtrArray) own = wb_app_bench_dup_of_experiment (years->bench, years->experiment);
  gboolean done = FALSE;

  g_assert_cmpuint (own->len, ==, 2);
  test_bench_open_session (years->bench);
  wb_app_bench_light_async (years->bench, wb_app_bench_sample_get_id (g_ptr_array_index (own, 0)), WB_BURN_STANDARD, 6, "1",
                            WB_INSTANT_NONE, NULL, FALSE, NULL, test_bench_done_cb, &done);
  test_wait (test_is_true, &done);
  test_wait (is_alight, g_ptr_array_index (own, 0));
  test_wait (burns, years);
  test_settle (years->window);
  return g_ptr_array_index (own, 0);
}

static void
count_cb (guint *n)
{
  (*n)++;
}

static void
count_words (GtkWidget *widget,
             guint     *n)
{
  if (GTK_IS_LABEL (widget))
    g_signal_connect_swapped (widget, "notify::label", G_CALLBACK (count_cb), n);
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    count_words (child, n);
}

static void
stop_counting (GtkWidget *widget,
               guint     *n)
{
  g_signal_handlers_disconnect_by_data (widget, n);
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    stop_counting (child, n);
}

static void
test_reading (void)
{
  Years years;
  WbAppBenchSample *sample;
  WbReading *reading = wb_record_new (&wb_reading_type);
  g_autoptr (GPtrArray) before = NULL, after = NULL, today_before = NULL, today_after = NULL;
  GtkListBox *today;
  gboolean done = FALSE;
  guint words = 0;

  set_up (&years);
  sample = light_one (&years);
  today = GTK_LIST_BOX (test_child (GTK_WIDGET (years.window), "experiment_list"));
  before = dup_rows (get_list (&years));
  today_before = dup_rows (today);
  g_assert_cmpuint (today_before->len, ==, MANY + 1);
  count_words (GTK_WIDGET (get_list (&years)), &words);

  years.readings = wb_app_experiment_get_readings (find_burning (&years));
  reading->elapsed_min = 1;
  reading->values[WB_COLUMN_POOL_MM] = 12;
  wb_app_bench_read_async (years.bench, wb_app_bench_sample_get_id (sample), reading, NULL, test_bench_done_cb, &done);
  test_wait (test_is_true, &done);
  test_wait (has_reading, &years);
  after = dup_rows (get_list (&years));
  today_after = dup_rows (today);
  g_assert_cmpuint (after->len, ==, before->len);
  g_assert_cmpuint (count_new (before, after), ==, 0);
  /* It waits for the same as before the reading. */
  g_assert_cmpuint (words, ==, 0);
  g_assert_cmpuint (count_new (today_before, today_after), ==, 1);
  check_rows (&years);
  stop_counting (GTK_WIDGET (get_list (&years)), &words);
  wb_record_free (reading);
  test_window_destroy (years.window);
}

static const char *
heading_over (Years *years,
              int    position)
{
  return gtk_label_get_text (GTK_LABEL (gtk_list_box_row_get_header (gtk_list_box_get_row_at_index (get_list (years), position))));
}

/* The row goes to its new group with its selection, and each heading counts anew. */
static void
test_lit (void)
{
  Years years;

  set_up (&years);
  check_rows (&years);
  g_assert_cmpint (wb_app_experiment_get_state (find_burning (&years)), ==, WB_CRAFT_STATE_CURING);
  g_assert_true (gtk_list_box_get_selected_row (get_list (&years)) == GTK_LIST_BOX_ROW (find_row (&years)));
  g_assert_cmpstr (heading_over (&years, 1), ==, "On the bench  40");
  g_assert_cmpstr (heading_over (&years, 1 + MANY), ==, "Poured  1");
  light_one (&years);
  check_rows (&years);
  g_assert_true (gtk_list_box_get_selected_row (get_list (&years)) == GTK_LIST_BOX_ROW (find_row (&years)));
  g_assert_cmpstr (heading_over (&years, 1), ==, "On the bench  41");
  g_assert_cmpstr (heading_over (&years, 2 + MANY), ==, "Notebook");
  test_window_destroy (years.window);
}

void
test_sidebar_add (void)
{
  g_test_add_func ("/views/sidebar/a-reading-builds-no-row-of-forty", test_reading);
  g_test_add_func ("/views/sidebar/what-is-lit-moves-to-its-group", test_lit);
}
