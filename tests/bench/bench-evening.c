/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-notebook.h"
#include "wb-app-bench.h"
#include "wb-burn-page.h"
#include "wb-clock.h"
#include "wb-host.h"

#include <gsl/gsl_errno.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

/*
 * An evening of twelve flames. Under the test clock, which each part moves on by itself.
 *
 *   bench-evening write NOTEBOOK    a new one, with twelve samples fit to light
 *   bench-evening save NOTEBOOK N   from Enter to acknowledged through app, against a bare insert with the same durability into
 *                                   a table of N rows
 *   bench-evening turn NOTEBOOK     the longest turn of the main thread while readings are typed into the real window
 *   bench-evening day NOTEBOOK      memory over a day in which each of the twelve is read every minute
 */

#define SAMPLES 12
#define MINUTE_US (60 * G_GINT64_CONSTANT (1000000))
#define PAIRS 240
#define ROUNDS 4
#define FRAME_US 16700.0
#define LIMIT_S 120

static GPollFunc poll_before;
/* CPU time of the main thread in microseconds: what other programs and threads take meanwhile is none of our work. */
static gint64 turn_began; /* 0: not yet */
static gint64 frame_began, in_frames; /* of this turn, GTK's laying out and drawing of a frame */
static gint64 longest, longest_own;   /* whole turns; and without those frames */

static gint64
own_time_us (void)
{
  struct timespec now;

  clock_gettime (CLOCK_THREAD_CPUTIME_ID, &now);
  return (gint64) now.tv_sec * G_USEC_PER_SEC + now.tv_nsec / 1000;
}

static int
on_poll (GPollFD *fds,
         guint    n,
         int      timeout)
{
  int result;

  if (turn_began != 0)
    {
      gint64 turn = own_time_us () - turn_began;

      longest = MAX (longest, turn);
      longest_own = MAX (longest_own, turn - in_frames);
    }
  result = poll_before (fds, n, timeout);
  in_frames = 0;
  turn_began = own_time_us ();
  return result;
}

static void
on_before_paint_cb (void)
{
  frame_began = own_time_us ();
}

static void
on_after_paint_cb (void)
{
  in_frames += own_time_us () - frame_began;
}

static void
watch_turns (void)
{
  poll_before = g_main_context_get_poll_func (NULL);
  g_main_context_set_poll_func (NULL, on_poll);
}

typedef struct { double whole, own; } Turn;

static Turn
take_longest (void)
{
  Turn taken = { (double) longest, (double) longest_own };

  longest = longest_own = 0;
  return taken;
}

static int
by_value (const void *a,
          const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return x < y ? -1 : x > y;
}

/* ---- The bench ---- */

typedef gboolean (*Condition) (gpointer data);

static gboolean
on_limit_cb (gpointer what)
{
  g_error ("waited %d s for %s", LIMIT_S, (const char *) what);
  return G_SOURCE_REMOVE;
}

static void
wait_for (Condition   condition,
          gpointer    data,
          const char *what)
{
  guint limit = g_timeout_add_seconds (LIMIT_S, on_limit_cb, (gpointer) what);

  while (!condition (data))
    g_main_context_iteration (NULL, TRUE);
  g_source_remove (limit);
}

static gboolean
is_loaded (gpointer bench)
{
  return wb_app_bench_get_loaded (bench);
}

static gboolean
has_session (gpointer bench)
{
  return wb_app_bench_get_session (bench) != NULL;
}

static gboolean
all_are_alight (gpointer bench)
{
  return wb_app_bench_get_alight (bench) == SAMPLES;
}

/* How many saves are on their way; each has to come to the file. */
static guint waiting;

static void
on_done_cb (GObject      *source,
            GAsyncResult *result,
            gpointer      user)
{
  g_autoptr (GError) error = NULL;

  if (!wb_app_bench_finish (WB_APP_BENCH (source), result, &error))
    g_error ("%s", error->message);
  waiting--;
}

static gboolean
nothing_waits (gpointer data)
{
  return waiting == 0;
}

static void
wait_for_saves (void)
{
  wait_for (nothing_waits, NULL, "the saves");
}

/* Those of `write`, not what was imported. */
static GPtrArray *
dup_twelve (WbAppBench *bench)
{
  GPtrArray *samples = NULL;

  for (guint i = 0; samples == NULL && i < g_list_model_get_n_items (G_LIST_MODEL (bench)); i++)
    {
      g_autoptr (WbAppBenchSample) sample = g_list_model_get_item (G_LIST_MODEL (bench), i);

      if (g_str_equal (wb_app_bench_sample_get_vessel (sample)->name, "Tern"))
        samples = wb_app_bench_dup_of_experiment (bench, wb_app_bench_sample_get_experiment (sample));
    }
  g_assert_nonnull (samples);
  g_assert_cmpuint (samples->len, ==, SAMPLES);
  return samples;
}

static void
light_all (WbAppBench *bench)
{
  g_autoptr (GPtrArray) samples = NULL;

  wait_for (is_loaded, bench, "the bench");
  samples = dup_twelve (bench);
  if (wb_app_bench_get_alight (bench) == SAMPLES)
    return;
  waiting++;
  wb_app_bench_open_session_async (bench, "Kitchen", "Wren, until ten", TRUE, NULL, on_done_cb, NULL);
  wait_for_saves ();
  wait_for (has_session, bench, "the session");
  for (guint i = 0; i < SAMPLES; i++)
    {
      waiting++;
      wb_app_bench_light_async (bench, wb_app_bench_sample_get_id (g_ptr_array_index (samples, i)), WB_BURN_STANDARD, 6, NULL,
                                WB_INSTANT_NONE, NULL, FALSE, NULL, on_done_cb, NULL);
      wait_for_saves ();
    }
  wait_for (all_are_alight, bench, "twelve flames");
}

static void
read_one (WbAppBench       *bench,
          WbAppBenchSample *sample,
          double            minute)
{
  WbReading *reading = wb_record_new (&wb_reading_type);

  reading->elapsed_min = minute;
  reading->values[WB_COLUMN_POOL_MM] = 54.5;
  reading->values[WB_COLUMN_FLAME_MM] = 21;
  reading->values[WB_COLUMN_VESSEL_C] = 44.5;
  reading->values[WB_COLUMN_SOOT] = 0;
  waiting++;
  wb_app_bench_read_async (bench, wb_app_bench_sample_get_id (sample), reading, NULL, on_done_cb, NULL);
  wb_record_free (reading);
}

typedef struct { WbAppBenchSample *sample; double minute; } Known;

static gboolean
is_known (gpointer data)
{
  return wb_app_bench_sample_get_last_min (((Known *) data)->sample) >= ((Known *) data)->minute;
}

static WbAppNotebook *
open_notebook (const char *path)
{
  g_autoptr (GError) error = NULL;
  WbAppNotebook *notebook = wb_app_notebook_open_sync (path, WB_APP_OPEN_EXISTING, NULL, &error);

  g_assert_no_error (error);
  return notebook;
}

/* ---- From Enter to acknowledged ---- */

static sqlite3_stmt *
open_bare (const char  *path,
           gint64       rows,
           sqlite3    **db)
{
  g_autofree char *fill = g_strdup_printf ("WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < %" G_GINT64_FORMAT ") "
                                           "INSERT INTO reading SELECT i, i / 25, i %% 25, 54.5, 21, 44.5, 0 FROM n", rows);
  sqlite3_stmt *insert = NULL;

  g_assert_cmpint (sqlite3_open (path, db), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (*db, "PRAGMA journal_mode=TRUNCATE; PRAGMA synchronous=EXTRA;"
                                      "CREATE TABLE reading (id INTEGER PRIMARY KEY, burn INTEGER, minute REAL, pool REAL, flame REAL, vessel REAL, soot REAL) STRICT",
                                 NULL, NULL, NULL), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (*db, fill, NULL, NULL, NULL), ==, SQLITE_OK);
  sqlite3_prepare_v2 (*db, "INSERT INTO reading (burn, minute, pool, flame, vessel, soot) VALUES (?, ?, 54.5, 21, 44.5, 0)", -1, &insert, NULL);
  return insert;
}

static void
measure_save (const char *path,
              gint64      rows)
{
  g_autoptr (WbAppNotebook) notebook = open_notebook (path);
  g_autoptr (WbAppBench) bench = wb_app_bench_new (notebook);
  g_autoptr (GPtrArray) samples = NULL;
  g_autofree char *bare = g_strconcat (path, ".bare", NULL);
  double ratio[PAIRS], ours[PAIRS], floor[PAIRS], turns[PAIRS];
  sqlite3_stmt *insert;
  sqlite3 *db;

  insert = open_bare (bare, rows, &db);
  light_all (bench);
  samples = dup_twelve (bench);
  watch_turns ();
  for (guint i = 0; i < PAIRS; i++)
    {
      Known known = { g_ptr_array_index (samples, i % SAMPLES), 1 + i / SAMPLES };
      gint64 at[3];

      wb_clock_advance (wb_clock_get (), MINUTE_US / SAMPLES);
      take_longest ();
      turn_began = 0;
      at[0] = g_get_monotonic_time ();
      read_one (bench, known.sample, known.minute);
      wait_for_saves ();
      at[1] = g_get_monotonic_time ();
      /* What the bench reads anew is no part of it, and is not to be in the floor's way. */
      wait_for (is_known, &known, "the bench to know the reading");
      turns[i] = (double) longest;
      at[2] = g_get_monotonic_time ();
      sqlite3_bind_int64 (insert, 1, i % SAMPLES);
      sqlite3_bind_double (insert, 2, known.minute);
      g_assert_cmpint (sqlite3_step (insert), ==, SQLITE_DONE);
      sqlite3_reset (insert);
      floor[i] = (double) (g_get_monotonic_time () - at[2]);
      ours[i] = (double) (at[1] - at[0]);
      ratio[i] = ours[i] / MAX (floor[i], 1);
    }
  qsort (ratio, PAIRS, sizeof *ratio, by_value);
  qsort (ours, PAIRS, sizeof *ours, by_value);
  qsort (floor, PAIRS, sizeof *floor, by_value);
  qsort (turns, PAIRS, sizeof *turns, by_value);
  g_print ("from Enter to acknowledged, 12 alight, %" G_GINT64_FORMAT " readings: %.2f times a bare insert (middle half %.2f to %.2f), aim 2; "
           "ours %.2f ms and the floor %.2f ms in the middle of %d pairs; longest turn of the main thread until the bench knows it "
           "%.2f ms in the middle, %.2f ms at most\n",
           rows, ratio[PAIRS / 2], ratio[PAIRS / 4], ratio[3 * PAIRS / 4], ours[PAIRS / 2] / 1e3, floor[PAIRS / 2] / 1e3, PAIRS,
           turns[PAIRS / 2] / 1e3, turns[PAIRS - 1] / 1e3);
  sqlite3_finalize (insert);
  sqlite3_close (db);
}

/* ---- The longest turn of the window ---- */

static WbWindow *window;

static gboolean
has_desk (gpointer data)
{
  WbDesk *desk = wb_host_get_desk (WB_HOST (window));

  return desk != NULL && wb_app_experiments_get_loaded (wb_desk_get_experiments (desk))
         && wb_app_bench_get_loaded (wb_desk_get_bench (desk));
}

static WbReadingPanel *
get_panel (void)
{
  return wb_reading_stack_get_shown (wb_burn_page_get_stack (WB_BURN_PAGE (wb_window_get_page (window))));
}

static gboolean
has_panel (gpointer data)
{
  return get_panel () != NULL && wb_reading_panel_get_field (get_panel (), WB_COLUMN_POOL_MM) != NULL;
}

static gboolean
is_another (gpointer sample)
{
  return has_panel (NULL) && wb_reading_panel_get_sample (get_panel ()) != sample;
}

static void
type (WbColumn    column,
      const char *text)
{
  GtkWidget *field = wb_reading_panel_get_field (get_panel (), column);

  while (!GTK_IS_EDITABLE (field) && gtk_widget_get_first_child (field) != NULL)
    {
      GtkWidget *child = gtk_widget_get_first_child (field);

      while (child != NULL && !GTK_IS_EDITABLE (child) && gtk_widget_get_first_child (child) == NULL)
        child = gtk_widget_get_next_sibling (child);
      g_assert_nonnull (child);
      field = child;
    }
  gtk_editable_set_text (GTK_EDITABLE (field), text);
}

static int frames_left;

static gboolean
on_tick_cb (GtkWidget     *widget,
            GdkFrameClock *clock,
            gpointer       data)
{
  frames_left--;
  return G_SOURCE_CONTINUE;
}

static gboolean
frames_are_drawn (gpointer data)
{
  return frames_left <= 0;
}

/* Whole frames, so that what is laid out and drawn counts. */
static void
draw (int frames)
{
  frames_left = frames;
  wait_for (frames_are_drawn, NULL, "frames");
}

/* One reading as it is typed: the longest turn of its typing, and of its save until the next sample's fields show. */
static void
type_one (guint   round,
          Turn   *typing,
          Turn   *saving)
{
  WbAppBenchSample *sample = wb_reading_panel_get_sample (get_panel ());
  g_autofree char *pool = g_strdup_printf ("%u.5", 30 + 2 * round);

  take_longest ();
  type (WB_COLUMN_POOL_MM, pool);
  draw (2);
  type (WB_COLUMN_FLAME_MM, "21");
  draw (2);
  *typing = take_longest ();
  gtk_widget_activate_action (GTK_WIDGET (wb_window_get_page (window)), "page.save", NULL);
  wait_for (is_another, sample, "the next sample's fields");
  draw (4);
  *saving = take_longest ();
}

static void
tell_turns (const char *what,
            const Turn *turns,
            guint       n)
{
  g_autofree double *whole = g_new (double, n), *own = g_new (double, n);

  for (guint i = 0; i < n; i++)
    {
      whole[i] = turns[i].whole;
      own[i] = turns[i].own;
    }
  qsort (whole, n, sizeof *whole, by_value);
  qsort (own, n, sizeof *own, by_value);
  g_print ("%s: longest turn of the main thread %.1f ms in the middle of %u readings, %.1f ms at most: %.0f %% of a frame of 16.7 ms, "
           "aim below 10 ms; with GTK's laying out and drawing %.1f and %.1f ms\n",
           what, own[n / 2] / 1e3, n, own[n - 1] / 1e3, 100 * own[n - 1] / FRAME_US, whole[n / 2] / 1e3, whole[n - 1] / 1e3);
}

static void
measure_turns (void)
{
  Turn typing[ROUNDS * SAMPLES], saving[ROUNDS * SAMPLES], idle;
  GdkFrameClock *clock = gdk_surface_get_frame_clock (gtk_native_get_surface (GTK_NATIVE (window)));
  WbAppBench *bench;
  g_autoptr (GPtrArray) samples = NULL;

  g_signal_connect (clock, "before-paint", G_CALLBACK (on_before_paint_cb), NULL);
  g_signal_connect (clock, "after-paint", G_CALLBACK (on_after_paint_cb), NULL);
  wait_for (has_desk, NULL, "the notebook");
  bench = wb_desk_get_bench (wb_host_get_desk (WB_HOST (window)));
  light_all (bench);
  wb_app_bench_acknowledge_found (bench);
  samples = dup_twelve (bench);
  wb_clock_advance (wb_clock_get (), 60 * MINUTE_US);
  wb_app_bench_update (bench);
  g_assert_true (wb_window_go (window, "burn", wb_app_bench_sample_get_experiment (g_ptr_array_index (samples, 0))));
  wait_for (has_panel, NULL, "a panel");
  draw (30);
  take_longest ();
  draw (60);
  idle = take_longest ();
  tell_turns ("nothing typed, 60 frames", &idle, 1);
  for (guint i = 0; i < ROUNDS * SAMPLES; i++)
    {
      if (i > 0 && i % SAMPLES == 0)
        {
          wb_clock_advance (wb_clock_get (), 60 * MINUTE_US);
          wb_app_bench_update (bench);
          draw (10);
        }
      type_one (i / SAMPLES, &typing[i], &saving[i]);
    }
  tell_turns ("typing a reading", typing, ROUNDS * SAMPLES);
  tell_turns ("saving it, until the next sample's fields show", saving, ROUNDS * SAMPLES);
}

static gboolean
on_ready_cb (gpointer data)
{
  measure_turns ();
  g_application_quit (g_application_get_default ());
  return G_SOURCE_REMOVE;
}

static void
on_window_added_cb (GtkApplication *application,
                    GtkWindow      *added)
{
  window = WB_WINDOW (added);
  gtk_widget_add_tick_callback (GTK_WIDGET (window), on_tick_cb, NULL, NULL);
  g_idle_add (on_ready_cb, NULL);
}

static int
run_window (const char *program,
            const char *path)
{
  g_autoptr (WbApplication) application = wb_application_new ();
  char *argv[] = { (char *) program, (char *) path, NULL };

  watch_turns ();
  g_signal_connect (application, "window-added", G_CALLBACK (on_window_added_cb), NULL);
  return g_application_run (G_APPLICATION (application), 2, argv);
}

/* ---- Memory over a day ---- */

static double
resident_mib (void)
{
  g_autofree char *text = NULL;
  long pages = 0;

  g_assert_true (g_file_get_contents ("/proc/self/statm", &text, NULL, NULL));
  g_assert_cmpint (sscanf (text, "%*s %ld", &pages), ==, 1);
  return (double) pages * (double) sysconf (_SC_PAGESIZE) / 1048576;
}

static void
measure_day (const char *path)
{
  g_autoptr (WbAppNotebook) notebook = open_notebook (path);
  g_autoptr (WbAppBench) bench = wb_app_bench_new (notebook);
  g_autoptr (GPtrArray) samples = NULL;
  double at[5] = { 0 };

  light_all (bench);
  samples = dup_twelve (bench);
  for (guint minute = 1; minute <= 1440; minute++)
    {
      Known known = { g_ptr_array_index (samples, SAMPLES - 1), minute };

      wb_clock_advance (wb_clock_get (), MINUTE_US);
      for (guint i = 0; i < SAMPLES; i++)
        read_one (bench, g_ptr_array_index (samples, i), minute);
      wait_for_saves ();
      wait_for (is_known, &known, "the bench to know the round");
      if (minute == 60)
        at[0] = resident_mib ();
      if (minute % 360 == 0)
        at[minute / 360] = resident_mib ();
    }
  g_print ("a day of 12 samples read each minute: %.1f MiB resident after 1 h, %.1f after 6, %.1f after 12, %.1f after 18, %.1f after 24; "
           "%.0f bytes for each of the last 8,640 readings\n",
           at[0], at[1], at[2], at[3], at[4], (at[4] - at[2]) * 1048576 / 8640);
}

int
main (int    argc,
      char **argv)
{
  gsl_set_error_handler_off (); /* as in main.c */
  if (argc == 3 && strcmp (argv[1], "write") == 0)
    bench_notebook_write (argv[2], SAMPLES, "pool_mm,flame_mm,soot");
  else if (argc == 4 && strcmp (argv[1], "save") == 0)
    measure_save (argv[2], g_ascii_strtoll (argv[3], NULL, 10));
  else if (argc == 3 && strcmp (argv[1], "turn") == 0)
    return run_window (argv[0], argv[2]);
  else if (argc == 3 && strcmp (argv[1], "day") == 0)
    measure_day (argv[2]);
  else
    return 2;
  return 0;
}
