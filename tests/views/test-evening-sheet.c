/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-notebook.h"
#include "test-views.h"

#include "wb-clock.h"
#include "wb-evening-sheet.h"
#include "wb-store-records.h"

#include <math.h>

/* A log sheet of twelve samples and four rounds, typed into the window's own fields and gone through as Enter goes. */

#define HOUR_US (3600 * (gint64) G_USEC_PER_SEC)
#define N_SAMPLES 12
#define N_ROUNDS 4

typedef struct
{
  WbWindow       *window;
  char           *path;
  gint64          experiment;
  WbEveningSheet *sheet;
} Paper;

static WbEveningSheet *
find_sheet (void)
{
  GListModel *toplevels = gtk_window_get_toplevels ();

  for (guint i = 0; i < g_list_model_get_n_items (toplevels); i++)
    {
      g_autoptr (GtkWidget) toplevel = g_list_model_get_item (toplevels, i);

      if (WB_IS_EVENING_SHEET (toplevel))
        return WB_EVENING_SHEET (toplevel);
    }
  return NULL;
}

static gboolean
has_sheet (gpointer user)
{
  return find_sheet () != NULL;
}

static gboolean
has_no_sheet (gpointer user)
{
  return find_sheet () == NULL;
}

static gboolean
is_loaded (gpointer window)
{
  return wb_app_bench_get_loaded (wb_desk_get_bench (wb_host_get_desk (WB_HOST (window))));
}

static void
paper_open_sheet (Paper *paper)
{
  gtk_widget_activate_action (GTK_WIDGET (paper->window), "win.evening", NULL);
  test_wait (has_sheet, NULL);
  paper->sheet = find_sheet ();
}

static void
paper_open (Paper *paper)
{
  g_autoptr (WbAppNotebook) notebook = NULL;
  g_autoptr (GError) error = NULL;

  paper->path = test_path ("paper.wickbench");
  paper->experiment = bench_notebook_write (paper->path, N_SAMPLES, "pool_mm,flame_max_mm,smoke");
  notebook = wb_app_notebook_open_sync (paper->path, WB_APP_OPEN_EXISTING, NULL, &error);
  g_assert_no_error (error);
  paper->window = test_window_new ();
  wb_window_set_notebook (paper->window, notebook);
  test_settle (paper->window);
  g_assert_true (wb_window_go (paper->window, "burn", paper->experiment));
  test_wait (is_loaded, paper->window);
  paper_open_sheet (paper);
}

static void
paper_close (Paper *paper)
{
  test_window_destroy (paper->window);
  g_free (paper->path);
}

/* Into the field that has the keyboard, which must be called so; then Enter. */
static void
type_at (Paper      *paper,
         guint       row,
         guint       column,
         const char *text)
{
  GtkWidget *entry = wb_evening_grid_get_entry (wb_evening_sheet_get_grid (paper->sheet), row, column);
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (paper->sheet));

  g_assert_nonnull (entry);
  g_assert_nonnull (focus);
  g_assert_true (gtk_widget_is_ancestor (focus, entry));
  gtk_editable_set_text (GTK_EDITABLE (entry), text);
}

/* As the key does: the grid's own controller is asked. */
static void
press (Paper *paper,
       guint  keyval)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (GTK_WIDGET (wb_evening_sheet_get_grid (paper->sheet)));

  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
    {
      g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);
      gboolean stopped = FALSE;

      if (GTK_IS_EVENT_CONTROLLER_KEY (controller))
        g_signal_emit_by_name (controller, "key-pressed", keyval, 0, 0, &stopped);
      if (stopped)
        return;
    }
  g_assert_not_reached ();
}

/* In the head, then sample by sample along the moment's fields, as on paper. */
static void
type_moment (Paper             *paper,
             guint              moment,
             const char        *time,
             const char *const *values)
{
  WbAppEvening *evening = wb_evening_sheet_get_evening (paper->sheet);
  const WbAppEveningMoment *at = wb_app_evening_get_moment (evening, moment);

  type_at (paper, WB_APP_EVENING_ALL, at->first, time);
  press (paper, GDK_KEY_Return);
  for (guint row = 0; row < N_SAMPLES; row++)
    for (guint i = 1; i < at->n && wb_app_evening_get_column (evening, at->first + i)->kind != WB_APP_EVENING_BURN; i++)
      {
        type_at (paper, row, at->first + i, values[i - 1]);
        press (paper, GDK_KEY_Return);
      }
}

static void
type_heads (Paper *paper)
{
  GtkWidget *opened = test_child (GTK_WIDGET (paper->sheet), "opened");
  GtkWidget *room = test_child (GTK_WIDGET (paper->sheet), "room");

  gtk_editable_set_text (GTK_EDITABLE (opened), "19:00");
  gtk_editable_set_text (GTK_EDITABLE (room), "21");
  g_signal_emit_by_name (room, "activate");
}

static void
type_sheet (Paper *paper)
{
  static const char *const lighting[] = { "A1", "6", "400" };
  static const char *const rounds[N_ROUNDS + 1][3] = {
    { "40/42", "15", "0" }, { "50", "16", "0" }, { "58", "17", "1" }, { "66", "18", "1" }, { "f", "19", "0" },
  };
  static const char *const times[N_ROUNDS + 1] = { "20:30", "21:30", "22:30", "23:30", "0:28" };
  static const char *const after[] = { "", "" };
  static const char *const next_day[] = { "384", "", "" };

  type_heads (paper);
  type_moment (paper, 0, "19:30", lighting);
  for (guint i = 0; i <= N_ROUNDS; i++)
    type_moment (paper, 1 + i, times[i], rounds[i]);
  type_moment (paper, 2 + N_ROUNDS, "0:30", after);
  type_moment (paper, 3 + N_ROUNDS, "8:00", next_day);
}

/* Nine in the morning of a day, long after the pour. */
static void
set_morning (void)
{
  WbInstant now = wb_clock_now (wb_clock_get ());

  wb_clock_advance (wb_clock_get (), (33 - (now.utc_us / HOUR_US) % 24) * HOUR_US);
}

static gboolean
says_save (gpointer sheet)
{
  return g_strcmp0 (gtk_button_get_label (GTK_BUTTON (test_child (sheet, "save"))), "Save 12 burns and 96 readings") == 0;
}

static WbAppBenchSample *
get_sample (Paper *paper,
            guint  nth)
{
  g_autoptr (GPtrArray) samples = wb_app_bench_dup_of_experiment (wb_desk_get_bench (wb_host_get_desk (WB_HOST (paper->window))), paper->experiment);

  return g_ptr_array_index (samples, nth);
}

static gboolean
is_burnt (gpointer user)
{
  return wb_app_bench_sample_get_burn (get_sample (user, 0)) != NULL;
}

/* The one reading of a burn at that minute that has a value in that column. */
static double
find_value (GPtrArray *readings,
            double     minute,
            WbColumn   column)
{
  for (guint i = 0; i < readings->len; i++)
    {
      const WbReading *reading = g_ptr_array_index (readings, i);

      g_assert_true (reading->late);
      if (reading->elapsed_min == minute && !isnan (reading->values[column]))
        return reading->values[column];
    }
  g_error ("Nothing at %g min", minute);
}

static void
check_burn (WbStore      *store,
            const WbBurn *burn)
{
  static const double flames[] = { 15, 16, 17, 18 };
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) readings = wb_store_list (store, &wb_reading_type, "burn", burn->record.id, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (readings->len, ==, 8);
  for (guint i = 0; i < N_ROUNDS; i++)
    g_assert_cmpfloat (find_value (readings, 60.0 * (i + 1), WB_COLUMN_FLAME_MAX_MM), ==, flames[i]);
  g_assert_cmpfloat (find_value (readings, 0, WB_COLUMN_MASS_G), ==, 400);
  g_assert_cmpfloat (find_value (readings, 60, WB_COLUMN_POOL_B_MM), ==, 42);
  g_assert_cmpfloat (find_value (readings, 298, WB_COLUMN_POOL_FULL), ==, 1);
  g_assert_cmpfloat (find_value (readings, 300, WB_COLUMN_EVENT), ==, WB_EVENT_SNUFFED);
  g_assert_cmpfloat (find_value (readings, 750, WB_COLUMN_MASS_G), ==, 384);
}

/* By the store's own functions: what the file holds when the sheet is gone. */
static void
check_file (Paper *paper)
{
  g_autoptr (GError) error = NULL;
  WbStore *store = wb_store_open (paper->path, WB_STORE_READ, &error);
  g_autoptr (GPtrArray) burns = NULL, sessions = NULL;

  g_assert_no_error (error);
  burns = wb_store_list (store, &wb_burn_type, NULL, 0, &error);
  g_assert_no_error (error);
  sessions = wb_store_list (store, &wb_session_type, NULL, 0, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (sessions->len, ==, 1);
  g_assert_cmpuint (burns->len, ==, N_SAMPLES);
  for (guint i = 0; i < burns->len; i++)
    {
      g_assert_cmpint (((WbBurn *) g_ptr_array_index (burns, i))->session, ==, ((WbRecord *) g_ptr_array_index (sessions, 0))->id);
      check_burn (store, g_ptr_array_index (burns, i));
    }
  wb_store_close (store);
}

static void
test_whole_sheet (void)
{
  Paper paper;
  gint64 last;

  set_morning ();
  paper_open (&paper);
  last = wb_app_notebook_get_last_entry (test_notebook (paper.window));
  gtk_widget_activate_action (GTK_WIDGET (paper.sheet), "sheet.round", NULL);
  g_assert_cmpuint (wb_app_evening_get_rounds (wb_evening_sheet_get_evening (paper.sheet)), ==, N_ROUNDS);
  type_sheet (&paper);
  test_wait (says_save, paper.sheet);
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (paper.sheet)) == test_child (GTK_WIDGET (paper.sheet), "save"));
  gtk_widget_activate_action (GTK_WIDGET (paper.sheet), "sheet.save", NULL);
  test_wait (has_no_sheet, NULL);
  test_settle (paper.window);
  test_wait (is_burnt, &paper);
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (paper.window)), ==, last + 1);
  for (guint i = 0; i < N_SAMPLES; i++)
    {
      WbAppBenchSample *sample = get_sample (&paper, i);

      g_assert_cmpint (wb_app_bench_sample_get_burn (sample)->number, ==, 1);
      g_assert_cmpfloat (wb_app_bench_sample_get_burn (sample)->trim_mm, ==, 6);
      g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_MASS_G), ==, 384);
      g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_FLAME_MAX_MM), ==, 19);
      g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_ROOM_C), ==, 21);
      g_assert_cmpfloat (wb_app_bench_sample_get_last_min (sample), ==, 12.5 * 60);
    }
  check_file (&paper);
  paper_close (&paper);
}

/* Arrows go as in a table; samples stand in the order of the paper: T2 before T10. */
static void
test_by_keys (void)
{
  Paper paper;
  WbAppEvening *evening;

  set_morning ();
  paper_open (&paper);
  evening = wb_evening_sheet_get_evening (paper.sheet);
  g_assert_cmpstr (wb_app_bench_sample_get_code (wb_app_evening_get_sample (evening, 1)), ==, "T2");
  g_assert_cmpstr (wb_app_bench_sample_get_code (wb_app_evening_get_sample (evening, 9)), ==, "T10");
  wb_evening_grid_focus (wb_evening_sheet_get_grid (paper.sheet), 0, 2);
  press (&paper, GDK_KEY_Down);
  type_at (&paper, 1, 2, "");
  press (&paper, GDK_KEY_Right);
  type_at (&paper, 1, 3, "");
  press (&paper, GDK_KEY_Tab);
  press (&paper, GDK_KEY_ISO_Left_Tab);
  press (&paper, GDK_KEY_Left);
  type_at (&paper, 1, 2, "");
  press (&paper, GDK_KEY_Up);
  press (&paper, GDK_KEY_Up);
  type_at (&paper, WB_APP_EVENING_ALL, 0, "19:30");
  press (&paper, GDK_KEY_Return);
  type_at (&paper, 0, 1, "");
  paper_close (&paper);
}

static gboolean
has_wrong (gpointer user)
{
  Paper *paper = user;
  GtkWidget *entry = wb_evening_grid_get_entry (wb_evening_sheet_get_grid (paper->sheet), 3, 6);

  return gtk_widget_has_css_class (entry, "wrong");
}

/* Wrong values are marked and told; a half-typed sheet is there when it is opened again. */
static void
test_half_typed (void)
{
  Paper paper;
  WbEveningGrid *grid;

  set_morning ();
  paper_open (&paper);
  type_heads (&paper);
  grid = wb_evening_sheet_get_grid (paper.sheet);
  wb_evening_grid_focus (grid, 3, 6);
  type_at (&paper, 3, 6, "99");
  test_wait (has_wrong, &paper);
  gtk_window_close (GTK_WINDOW (paper.sheet));
  test_wait (has_no_sheet, NULL);

  paper_open_sheet (&paper);
  g_assert_true (gtk_widget_get_visible (test_child (GTK_WIDGET (paper.sheet), "kept")));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (wb_evening_grid_get_entry (wb_evening_sheet_get_grid (paper.sheet), 3, 6))), ==, "99");
  g_assert_true (has_wrong (&paper));
  gtk_widget_activate_action (GTK_WIDGET (paper.sheet), "sheet.save", NULL);
  g_assert_nonnull (find_sheet ());
  wb_evening_grid_focus (wb_evening_sheet_get_grid (paper.sheet), 3, 6);
  g_assert_nonnull (strstr (gtk_label_get_text (GTK_LABEL (test_child (GTK_WIDGET (paper.sheet), "words"))), "wide inside"));
  paper_close (&paper);
}

void
test_evening_sheet_add (void)
{
  g_test_add_func ("/views/evening/a-sheet-of-twelve-and-four-rounds-is-typed-in", test_whole_sheet);
  g_test_add_func ("/views/evening/the-keyboard-goes-as-in-a-table", test_by_keys);
  g_test_add_func ("/views/evening/a-half-typed-sheet-is-there-again", test_half_typed);
}
