/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-notebook.h"
#include "test-bench.h"
#include "test-views.h"

#include "wb-bench-words.h"
#include "wb-burn-page.h"
#include "wb-clock.h"
#include "wb-key-choice.h"
#include "wb-quantity-entry.h"
#include "wb-reading-field.h"

#include <math.h>

/* A vessel of two wicks, typed through the real panel by keys alone: Enter goes from wick to wick. */

#define MINUTE_US (60 * G_GINT64_CONSTANT (1000000))

typedef struct
{
  WbWindow         *window;
  char             *path;
  WbReadingStack   *stack;
  WbAppBench       *bench;
  WbAppBenchSample *sample;
} Bench;

static gboolean
is_shown (gpointer user)
{
  WbReadingPanel *panel = wb_reading_stack_get_shown (((Bench *) user)->stack);

  return panel != NULL && wb_reading_panel_get_ask (panel) == WB_APP_ASK_ROUND;
}

static void
bench_open (Bench      *bench,
            const char *asked)
{
  g_autoptr (WbAppSettings) settings = wb_app_settings_new ();
  g_autoptr (WbAppNotebook) notebook = NULL;
  g_autoptr (GError) error = NULL;
  gint64 experiment;

  bench->path = test_path ("wicks.wickbench");
  experiment = bench_notebook_write_wicks (bench->path, 1, asked, 2);
  notebook = wb_app_notebook_open_sync (bench->path, WB_APP_OPEN_EXISTING, NULL, &error);
  g_assert_no_error (error);
  bench->window = test_window_new ();
  wb_window_set_notebook (bench->window, notebook);
  test_settle (bench->window);
  bench->bench = wb_desk_get_bench (wb_host_get_desk (WB_HOST (bench->window)));
  bench->sample = test_bench_light_first (bench->bench);
  g_assert_true (wb_window_go (bench->window, "burn", experiment));
  bench->stack = wb_burn_page_get_stack (WB_BURN_PAGE (wb_window_get_page (bench->window)));
  test_wait (is_shown, bench);
  test_settle (bench->window);
}

static void
bench_close (Bench *bench)
{
  test_window_destroy (bench->window);
  g_free (bench->path);
}

static void
advance (Bench *bench,
         gint64 minutes)
{
  wb_clock_advance (wb_clock_get (), minutes * MINUTE_US);
  wb_app_bench_update (bench->bench);
  wb_reading_panel_focus_first (wb_reading_stack_get_shown (bench->stack));
}

static GtkWidget *
get_focus (Bench *bench)
{
  GtkWidget *focus = gtk_root_get_focus (GTK_ROOT (bench->window));

  g_assert_nonnull (focus);
  return focus;
}

/* Where the keyboard is: a column, at a wick (0: of the vessel). */
static void
assert_at (Bench    *bench,
           WbColumn  column,
           guint     wick)
{
  GtkWidget *field = gtk_widget_get_ancestor (get_focus (bench), WB_TYPE_READING_FIELD);

  g_assert_nonnull (field);
  g_assert_cmpint (wb_reading_field_get_column (WB_READING_FIELD (field)), ==, column);
  g_assert_cmpuint (wb_reading_field_get_wick (WB_READING_FIELD (field)), ==, wick);
}

static void
type_enter (Bench      *bench,
            WbColumn    column,
            guint       wick,
            const char *text)
{
  assert_at (bench, column, wick);
  gtk_editable_set_text (GTK_EDITABLE (get_focus (bench)), text);
  g_signal_emit_by_name (get_focus (bench), "activate");
}

static void
press (Bench    *bench,
       WbColumn  column,
       guint     wick,
       guint     keyval)
{
  assert_at (bench, column, wick);
  g_assert_true (test_bench_send_key (get_focus (bench), keyval));
}

typedef struct
{
  WbAppBenchSample *sample;
  double            minute; /* NAN: none */
} Last;

static gboolean
is_last (gpointer user)
{
  const Last *last = user;
  double minute = wb_app_bench_sample_get_last_min (last->sample);

  return isnan (last->minute) ? isnan (minute) : minute == last->minute;
}

static void
wait_last (Bench  *bench,
           double  minute)
{
  Last last = { bench->sample, minute };

  test_wait (is_last, &last);
  test_settle (bench->window);
}

static double
wick_last (Bench    *bench,
           guint     wick,
           WbColumn  column)
{
  return wb_app_bench_sample_get_wick_last (bench->sample, wick, column, NULL);
}

static void
type_round (Bench      *bench,
            const char *flame_1,
            const char *flame_2)
{
  type_enter (bench, WB_COLUMN_POOL_MM, 0, "41 mm");
  type_enter (bench, WB_COLUMN_FLAME_MAX_MM, 1, flame_1);
  type_enter (bench, WB_COLUMN_FLAME_MAX_MM, 2, flame_2);
  press (bench, WB_COLUMN_FLAME_STATE, 1, GDK_KEY_0);
  press (bench, WB_COLUMN_FLAME_STATE, 2, GDK_KEY_1);
  press (bench, WB_COLUMN_MUSHROOM, 1, GDK_KEY_2);
  press (bench, WB_COLUMN_MUSHROOM, 2, GDK_KEY_0);
  type_enter (bench, WB_COLUMN_VESSEL_C, 0, "52 C");
}

static const char *
get_label_beside (Bench    *bench,
                  guint     wick,
                  WbColumn  column)
{
  GtkWidget *field = wb_reading_panel_get_wick_field (wb_reading_stack_get_shown (bench->stack), wick, column);

  return gtk_label_get_text (GTK_LABEL (gtk_grid_get_child_at (GTK_GRID (gtk_widget_get_parent (field)), 2,
                                                               /* pool, then a line a wick */ (int) wick)));
}

static void
test_round_of_two_wicks (void)
{
  Bench bench;
  gint64 before;

  bench_open (&bench, "pool_mm,flame_max_mm,flame_state,mushroom,vessel_c");
  advance (&bench, 60);
  before = wb_app_notebook_get_last_entry (test_notebook (bench.window));
  type_round (&bench, "22 mm", "25 mm");
  wait_last (&bench, 60);
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (bench.window)), ==, before + 1);
  g_assert_cmpfloat (wick_last (&bench, 1, WB_COLUMN_FLAME_MAX_MM), ==, 22);
  g_assert_cmpfloat (wick_last (&bench, 2, WB_COLUMN_FLAME_MAX_MM), ==, 25);
  g_assert_cmpfloat (wick_last (&bench, 1, WB_COLUMN_FLAME_STATE), ==, WB_FLAME_STEADY);
  g_assert_cmpfloat (wick_last (&bench, 2, WB_COLUMN_FLAME_STATE), ==, WB_FLAME_DANCING);
  g_assert_cmpfloat (wick_last (&bench, 1, WB_COLUMN_MUSHROOM), ==, 2);
  g_assert_cmpfloat (wick_last (&bench, 2, WB_COLUMN_MUSHROOM), ==, 0);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (bench.sample, WB_COLUMN_VESSEL_C), ==, 52);
  /* Pool and wall are the vessel's. */
  g_assert_true (isnan (wick_last (&bench, 1, WB_COLUMN_POOL_MM)));
  g_assert_true (isnan (wick_last (&bench, 2, WB_COLUMN_VESSEL_C)));

  advance (&bench, 60);
  g_assert_cmpstr (get_label_beside (&bench, 1, WB_COLUMN_FLAME_MAX_MM), ==, "22.0\302\240mm");
  press (&bench, WB_COLUMN_POOL_MM, 0, GDK_KEY_equal);
  press (&bench, WB_COLUMN_FLAME_MAX_MM, 1, GDK_KEY_equal);
  type_enter (&bench, WB_COLUMN_FLAME_MAX_MM, 2, "27 mm");
  gtk_widget_activate_action (GTK_WIDGET (bench.window), "page.save", NULL);
  wait_last (&bench, 120);
  g_assert_cmpfloat (wick_last (&bench, 1, WB_COLUMN_FLAME_MAX_MM), ==, 22);
  g_assert_cmpfloat (wick_last (&bench, 2, WB_COLUMN_FLAME_MAX_MM), ==, 27);
  g_assert_cmpstr (get_label_beside (&bench, 2, WB_COLUMN_FLAME_MAX_MM), ==, "27.0\302\240mm +2.0");

  /* One command is one undo, however many rows it wrote. */
  gtk_widget_activate_action (GTK_WIDGET (bench.window), "win.undo", NULL);
  wait_last (&bench, 60);
  gtk_widget_activate_action (GTK_WIDGET (bench.window), "win.undo", NULL);
  wait_last (&bench, NAN);
  bench_close (&bench);
}

/* The house's limit is 50 mm (a house limit, no standard). It is told before it is saved, and of which wick. */
static void
test_limit_of_one_wick (void)
{
  Bench bench;

  bench_open (&bench, "pool_mm,flame_max_mm,flame_state,mushroom,vessel_c");
  advance (&bench, 60);
  type_enter (&bench, WB_COLUMN_POOL_MM, 0, "41 mm");
  type_enter (&bench, WB_COLUMN_FLAME_MAX_MM, 1, "22 mm");
  type_enter (&bench, WB_COLUMN_FLAME_MAX_MM, 2, "55 mm");
  g_assert_true (test_enabled (bench.window, "page.seen-to"));
  gtk_widget_activate_action (GTK_WIDGET (bench.window), "page.seen-to", NULL);
  gtk_widget_activate_action (GTK_WIDGET (bench.window), "page.save", NULL);
  wait_last (&bench, 60);
  g_assert_true (wb_app_bench_sample_get_over (bench.sample));
  g_assert_nonnull (strstr (wb_app_bench_sample_get_alarm (bench.sample), "wick 2"));
  /* The answer stands with the wick's own reading: it is not asked again. */
  g_assert_false (wb_app_bench_is_unanswered (bench.sample));
  bench_close (&bench);
}

/* NULL: nothing is asked. */
static GtkWidget *
find_question (void)
{
  return test_find_window (GTK_TYPE_MESSAGE_DIALOG);
}

/* A point that was left out at the second flame: asked about by its wick, and the keyboard goes there. */
static void
test_doubt_of_one_wick (void)
{
  Bench bench;
  g_autofree char *words = NULL;

  bench_open (&bench, "pool_mm,flame_max_mm");
  advance (&bench, 60);
  type_enter (&bench, WB_COLUMN_POOL_MM, 0, "41 mm");
  type_enter (&bench, WB_COLUMN_FLAME_MAX_MM, 1, "22 mm");
  type_enter (&bench, WB_COLUMN_FLAME_MAX_MM, 2, "215 mm");
  g_assert_nonnull (find_question ());
  g_object_get (find_question (), "secondary-text", &words, NULL);
  g_assert_nonnull (strstr (words, "Wick 2. "));
  g_assert_null (strstr (words, "Wick 1"));
  gtk_dialog_response (GTK_DIALOG (find_question ()), GTK_RESPONSE_CANCEL);
  type_enter (&bench, WB_COLUMN_FLAME_MAX_MM, 2, "21.5 mm");
  g_assert_null (find_question ());
  wait_last (&bench, 60);
  g_assert_cmpfloat (wick_last (&bench, 2, WB_COLUMN_FLAME_MAX_MM), ==, 21.5);
  bench_close (&bench);
}

static gboolean
is_out (gpointer user)
{
  return wb_app_bench_sample_get_state (((Bench *) user)->sample) != WB_APP_BENCH_ALIGHT;
}

/* By keys: the event, its letter, Enter, the wick, Enter. */
static void
type_event (Bench      *bench,
            WbEvent     event,
            const char *wick)
{
  GtkWidget *field = wb_reading_panel_get_field (wb_reading_stack_get_shown (bench->stack), WB_COLUMN_EVENT);
  gunichar key = wb_key_choice_get_key (WB_KEY_CHOICE (gtk_widget_get_first_child (field)), event);

  g_assert_cmpuint (key, !=, 0);
  gtk_widget_activate_action (GTK_WIDGET (bench->window), "page.event", NULL);
  g_assert_true (test_bench_send_key (get_focus (bench), gdk_unicode_to_keyval (key)));
  press (bench, WB_COLUMN_EVENT, 0, GDK_KEY_Return);
  if (wick != NULL)
    type_enter (bench, WB_COLUMN_WICK_NUMBER, 0, wick);
}

static void
test_a_wick_that_goes_out (void)
{
  Bench bench;
  WbVesselSight sight;

  bench_open (&bench, "pool_mm,flame_max_mm");
  advance (&bench, 60);
  /* There is no third wick. */
  type_event (&bench, WB_EVENT_SELF_EXTINGUISHED, "3");
  assert_at (&bench, WB_COLUMN_WICK_NUMBER, 0);
  type_enter (&bench, WB_COLUMN_WICK_NUMBER, 0, "2");
  wait_last (&bench, 60);
  g_assert_cmpint (wb_app_bench_sample_get_state (bench.sample), ==, WB_APP_BENCH_ALIGHT);
  g_assert_cmpfloat (wick_last (&bench, 2, WB_COLUMN_EVENT), ==, WB_EVENT_SELF_EXTINGUISHED);
  g_assert_true (isnan (wick_last (&bench, 1, WB_COLUMN_EVENT)));
  g_assert_cmpuint (wb_app_bench_sample_get_wicks_out (bench.sample), ==, 2);
  wb_bench_words_get_sight (bench.sample, &sight);
  g_assert_cmpuint (sight.wicks_out, ==, 2);
  /* The round asks the one that burns. */
  advance (&bench, 20);
  g_assert_nonnull (wb_reading_panel_get_wick_field (wb_reading_stack_get_shown (bench.stack), 1, WB_COLUMN_FLAME_MAX_MM));
  g_assert_null (wb_reading_panel_get_wick_field (wb_reading_stack_get_shown (bench.stack), 2, WB_COLUMN_FLAME_MAX_MM));
  type_event (&bench, WB_EVENT_RELIT, "2");
  wait_last (&bench, 80);
  g_assert_cmpuint (wb_app_bench_sample_get_wicks_out (bench.sample), ==, 0);
  g_assert_nonnull (wb_reading_panel_get_wick_field (wb_reading_stack_get_shown (bench.stack), 2, WB_COLUMN_FLAME_MAX_MM));
  advance (&bench, 10);
  type_event (&bench, WB_EVENT_SELF_EXTINGUISHED, "2");
  wait_last (&bench, 90);
  advance (&bench, 10);
  type_event (&bench, WB_EVENT_SELF_EXTINGUISHED, "1");
  test_wait (is_out, &bench);
  test_settle (bench.window);
  bench_close (&bench);
}

/* Which of the wicks went out is not left unsaid: with the flame of the other beside it the candle would be told as out. */
static void
test_which_wick_went_out (void)
{
  Bench bench;

  bench_open (&bench, "pool_mm,flame_max_mm");
  advance (&bench, 60);
  gtk_widget_activate_action (GTK_WIDGET (bench.window), "page.end", "s", "self_extinguished");
  for (guint i = 0; i < 2; i++)
    {
      assert_at (&bench, WB_COLUMN_WICK_NUMBER, 0);
      gtk_widget_activate_action (GTK_WIDGET (bench.window), "page.save", NULL);
      g_assert_cmpint (wb_reading_panel_get_saving (wb_reading_stack_get_shown (bench.stack)), !=, WB_SAVE_SAVING);
    }
  /* What is the vessel's asks for no wick. */
  wb_reading_panel_say_event (wb_reading_stack_get_shown (bench.stack), WB_EVENT_FLAMES_MERGED);
  g_assert_true (wb_reading_panel_check (wb_reading_stack_get_shown (bench.stack)));
  wb_reading_panel_say_event (wb_reading_stack_get_shown (bench.stack), WB_EVENT_SELF_EXTINGUISHED);
  type_enter (&bench, WB_COLUMN_WICK_NUMBER, 0, "a");
  test_wait (is_out, &bench);
  test_settle (bench.window);
  bench_close (&bench);
}

/* A flame that drowned is asked about at once: at one wick it is out while the other burns on. */
static void
test_drowned_is_asked_about (void)
{
  Bench bench;

  bench_open (&bench, "pool_mm,flame_max_mm");
  advance (&bench, 20);
  type_event (&bench, WB_EVENT_DROWNED, "1");
  g_assert_nonnull (find_question ());
  gtk_dialog_response (GTK_DIALOG (find_question ()), GTK_RESPONSE_CANCEL);
  wait_last (&bench, 20);
  g_assert_cmpuint (wb_app_bench_sample_get_wicks_out (bench.sample), ==, 0);
  advance (&bench, 20);
  type_event (&bench, WB_EVENT_DROWNED, "1");
  gtk_dialog_response (GTK_DIALOG (find_question ()), GTK_RESPONSE_ACCEPT);
  wait_last (&bench, 40);
  g_assert_cmpuint (wb_app_bench_sample_get_wicks_out (bench.sample), ==, 1);
  g_assert_cmpint (wb_app_bench_sample_get_state (bench.sample), ==, WB_APP_BENCH_ALIGHT);
  advance (&bench, 20);
  type_event (&bench, WB_EVENT_DROWNED, "2");
  gtk_dialog_response (GTK_DIALOG (find_question ()), GTK_RESPONSE_ACCEPT);
  test_wait (is_out, &bench);
  test_settle (bench.window);
  bench_close (&bench);
}

/* Flames that merge are the vessel's: no wick is asked. */
static void
test_flames_that_merge (void)
{
  Bench bench;

  bench_open (&bench, "pool_mm,flame_max_mm");
  advance (&bench, 60);
  type_event (&bench, WB_EVENT_FLAMES_MERGED, NULL);
  wait_last (&bench, 60);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (bench.sample, WB_COLUMN_EVENT), ==, WB_EVENT_FLAMES_MERGED);
  g_assert_true (isnan (wb_app_bench_sample_get_last (bench.sample, WB_COLUMN_WICK_NUMBER)));
  bench_close (&bench);
}

void
test_wicks_add (void)
{
  g_test_add_func ("/views/wicks/a-round-asks-each-wick-and-is-one-entry", test_round_of_two_wicks);
  g_test_add_func ("/views/wicks/a-limit-says-which-wick-is-over-it", test_limit_of_one_wick);
  g_test_add_func ("/views/wicks/a-doubt-says-which-wick-it-is-of", test_doubt_of_one_wick);
  g_test_add_func ("/views/wicks/one-wick-that-goes-out-ends-no-burn", test_a_wick_that_goes_out);
  g_test_add_func ("/views/wicks/which-wick-went-out-is-asked-before-it-is-saved", test_which_wick_went_out);
  g_test_add_func ("/views/wicks/of-what-drowned-it-is-asked-whether-it-is-out", test_drowned_is_asked_about);
  g_test_add_func ("/views/wicks/flames-that-merge-are-the-vessels", test_flames_that_merge);
}
