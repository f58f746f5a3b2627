/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "evening-paper.h"

#include "wb-clock.h"
#include "wb-store-records.h"

#include <math.h>

/* A log sheet of twelve samples and four rounds, typed into the window's own fields and gone through as Enter goes. */

#define N_SAMPLES EVENING_PAPER_SAMPLES
#define N_ROUNDS 4

/* In the head, then sample by sample along the moment's fields, as on paper. */
static void
type_moment (EveningPaper             *paper,
             guint              moment,
             const char        *time,
             const char *const *values)
{
  WbAppEvening *evening = wb_evening_sheet_get_evening (paper->sheet);
  const WbAppEveningMoment *at = wb_app_evening_get_moment (evening, moment);

  evening_paper_type (paper, WB_APP_EVENING_ALL, at->first, time);
  evening_paper_press (paper, GDK_KEY_Return);
  for (guint row = 0; row < N_SAMPLES; row++)
    for (guint i = 1; i < at->n && wb_app_evening_is_asked (evening, row, at->first + i); i++)
      {
        evening_paper_type (paper, row, at->first + i, values[i - 1]);
        evening_paper_press (paper, GDK_KEY_Return);
      }
}

static void
type_heads (EveningPaper *paper)
{
  GtkWidget *opened = test_child (GTK_WIDGET (paper->sheet), "opened");
  GtkWidget *room = test_child (GTK_WIDGET (paper->sheet), "room");

  gtk_editable_set_text (GTK_EDITABLE (opened), "19:00");
  gtk_editable_set_text (GTK_EDITABLE (room), "21");
  g_signal_emit_by_name (room, "activate");
}

static void
type_sheet (EveningPaper *paper)
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

static gboolean
says_save (gpointer sheet)
{
  return g_strcmp0 (gtk_button_get_label (GTK_BUTTON (test_child (sheet, "save"))), "Save 12 burns and 96 readings") == 0;
}

static WbAppBenchSample *
get_sample (EveningPaper *paper,
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
check_file (EveningPaper *paper)
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
  EveningPaper paper;
  gint64 last;

  evening_paper_set_morning ();
  evening_paper_open (&paper);
  last = wb_app_notebook_get_last_entry (test_notebook (paper.window));
  gtk_widget_activate_action (GTK_WIDGET (paper.sheet), "sheet.round", NULL);
  g_assert_cmpuint (wb_app_evening_get_rounds (wb_evening_sheet_get_evening (paper.sheet)), ==, N_ROUNDS);
  type_sheet (&paper);
  test_wait (says_save, paper.sheet);
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (paper.sheet)) == test_child (GTK_WIDGET (paper.sheet), "save"));
  gtk_widget_activate_action (GTK_WIDGET (paper.sheet), "sheet.save", NULL);
  test_wait (evening_paper_is_closed, NULL);
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
  evening_paper_close (&paper);
}

/* Arrows go as in a table; samples stand in the order of the paper: T2 before T10. */
static void
test_by_keys (void)
{
  EveningPaper paper;
  WbAppEvening *evening;

  evening_paper_set_morning ();
  evening_paper_open (&paper);
  evening = wb_evening_sheet_get_evening (paper.sheet);
  g_assert_cmpstr (wb_app_bench_sample_get_code (wb_app_evening_get_sample (evening, 1)), ==, "T2");
  g_assert_cmpstr (wb_app_bench_sample_get_code (wb_app_evening_get_sample (evening, 9)), ==, "T10");
  wb_evening_grid_focus (wb_evening_sheet_get_grid (paper.sheet), 0, 2);
  evening_paper_press (&paper, GDK_KEY_Down);
  evening_paper_type (&paper, 1, 2, "");
  evening_paper_press (&paper, GDK_KEY_Right);
  evening_paper_type (&paper, 1, 3, "");
  evening_paper_press (&paper, GDK_KEY_Tab);
  evening_paper_press (&paper, GDK_KEY_ISO_Left_Tab);
  evening_paper_press (&paper, GDK_KEY_Left);
  evening_paper_type (&paper, 1, 2, "");
  evening_paper_press (&paper, GDK_KEY_Up);
  evening_paper_press (&paper, GDK_KEY_Up);
  evening_paper_type (&paper, WB_APP_EVENING_ALL, 0, "19:30");
  evening_paper_press (&paper, GDK_KEY_Return);
  evening_paper_type (&paper, 0, 1, "");
  evening_paper_close (&paper);
}

/* Of the first round. */
static guint
get_pool (EveningPaper *paper)
{
  return wb_app_evening_get_moment (wb_evening_sheet_get_evening (paper->sheet), 1)->first + 1;
}

static gboolean
has_wrong (gpointer user)
{
  EveningPaper *paper = user;
  GtkWidget *entry = wb_evening_grid_get_entry (wb_evening_sheet_get_grid (paper->sheet), 3, get_pool (paper));

  return gtk_widget_has_css_class (entry, "wrong");
}

/* Wrong values are marked and told; a half-typed sheet is there when it is opened again. */
static void
test_half_typed (void)
{
  EveningPaper paper;
  WbEveningGrid *grid;

  evening_paper_set_morning ();
  evening_paper_open (&paper);
  type_heads (&paper);
  grid = wb_evening_sheet_get_grid (paper.sheet);
  wb_evening_grid_focus (grid, 3, get_pool (&paper));
  evening_paper_type (&paper, 3, get_pool (&paper), "99");
  test_wait (has_wrong, &paper);
  gtk_window_close (GTK_WINDOW (paper.sheet));
  test_wait (evening_paper_is_closed, NULL);

  evening_paper_open_sheet (&paper);
  g_assert_true (gtk_widget_get_visible (test_child (GTK_WIDGET (paper.sheet), "kept")));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (wb_evening_grid_get_entry (wb_evening_sheet_get_grid (paper.sheet), 3, get_pool (&paper)))), ==, "99");
  g_assert_true (has_wrong (&paper));
  gtk_widget_activate_action (GTK_WIDGET (paper.sheet), "sheet.save", NULL);
  g_assert_nonnull (evening_paper_find_sheet ());
  wb_evening_grid_focus (wb_evening_sheet_get_grid (paper.sheet), 3, get_pool (&paper));
  g_assert_nonnull (strstr (gtk_label_get_text (GTK_LABEL (test_child (GTK_WIDGET (paper.sheet), "words"))), "wide inside"));
  evening_paper_close (&paper);
}

static gboolean
shows_distance (gpointer entry)
{
  return gtk_widget_get_visible (entry);
}

/* The columns of a throw burn open where a line is one; Enter asks them there and passes over them elsewhere. */
static void
test_throw (void)
{
  EveningPaper paper;
  WbEveningGrid *grid;
  WbAppEvening *evening;
  GtkWidget *distance;
  guint kind = 0;

  evening_paper_set_morning ();
  evening_paper_open (&paper);
  grid = wb_evening_sheet_get_grid (paper.sheet);
  evening = wb_evening_sheet_get_evening (paper.sheet);
  while (wb_app_evening_get_column (evening, kind)->kind != WB_APP_EVENING_BURN)
    kind++;
  distance = wb_evening_grid_get_entry (grid, 0, kind + 1);
  g_assert_false (gtk_widget_get_visible (distance));
  wb_evening_grid_focus (grid, 0, kind);
  evening_paper_type (&paper, 0, kind, "throw");
  test_wait (shows_distance, distance);
  g_assert_nonnull (strstr (gtk_label_get_text (GTK_LABEL (test_child (GTK_WIDGET (paper.sheet), "words"))), "throw burn"));
  evening_paper_press (&paper, GDK_KEY_Return);
  evening_paper_type (&paper, 0, kind + 1, "2.5");
  evening_paper_press (&paper, GDK_KEY_Return);
  evening_paper_type (&paper, 0, kind + 2, "yes");
  evening_paper_press (&paper, GDK_KEY_Return);
  evening_paper_type (&paper, 0, kind + 3, "Linnet");
  evening_paper_press (&paper, GDK_KEY_Return);
  /* In the next line, from before its kind on to the line after it. */
  wb_evening_grid_focus (grid, 1, kind - 1);
  evening_paper_press (&paper, GDK_KEY_Return);
  evening_paper_type (&paper, 2, 0, "");
  g_assert_cmpuint (test_check_names (GTK_WIDGET (paper.sheet), "the sheet with a throw burn"), >, 0);
  wb_app_evening_begin_anew (evening);
  evening_paper_close (&paper);
}

void
test_evening_sheet_add (void)
{
  g_test_add_func ("/views/evening/a-throw-burn-is-asked-what-the-bench-asks", test_throw);
  g_test_add_func ("/views/evening/a-sheet-of-twelve-and-four-rounds-is-typed-in", test_whole_sheet);
  g_test_add_func ("/views/evening/the-keyboard-goes-as-in-a-table", test_by_keys);
  g_test_add_func ("/views/evening/a-half-typed-sheet-is-there-again", test_half_typed);
}
