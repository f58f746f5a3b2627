/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"
#include "bench-notebook.h"
#include "flames.h"
#include "turns.h"
#include "wb-clock.h"

#include <gsl/gsl_errno.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
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

#define PAIRS 240

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
  flames_light_all (bench);
  samples = flames_dup_twelve (bench);
  turns_watch ();
  for (guint i = 0; i < PAIRS; i++)
    {
      FlamesKnown known = { g_ptr_array_index (samples, i % SAMPLES), 1 + i / SAMPLES };
      gint64 at[3];

      wb_clock_advance (wb_clock_get (), MINUTE_US / SAMPLES);
      turns_take_longest ();
      at[0] = g_get_monotonic_time ();
      flames_read_one (bench, known.sample, known.minute);
      flames_wait_for_saves ();
      at[1] = g_get_monotonic_time ();
      /* What the bench reads anew is no part of it, and is not to be in the floor's way. */
      app_wait_until (flames_knows, &known, "the bench to know the reading");
      turns[i] = turns_take_longest ().cpu;
      at[2] = g_get_monotonic_time ();
      sqlite3_bind_int64 (insert, 1, i % SAMPLES);
      sqlite3_bind_double (insert, 2, known.minute);
      g_assert_cmpint (sqlite3_step (insert), ==, SQLITE_DONE);
      sqlite3_reset (insert);
      floor[i] = (double) (g_get_monotonic_time () - at[2]);
      ours[i] = (double) (at[1] - at[0]);
      ratio[i] = ours[i] / MAX (floor[i], 1);
    }
  qsort (ratio, PAIRS, sizeof *ratio, flames_by_value);
  qsort (ours, PAIRS, sizeof *ours, flames_by_value);
  qsort (floor, PAIRS, sizeof *floor, flames_by_value);
  qsort (turns, PAIRS, sizeof *turns, flames_by_value);
  g_print ("from Enter to acknowledged, 12 alight, %" G_GINT64_FORMAT " readings: %.2f times a bare insert (middle half %.2f to %.2f), aim 2; "
           "ours %.2f ms and the floor %.2f ms in the middle of %d pairs; longest turn of the main thread until the bench knows it "
           "%.2f ms in the middle, %.2f ms at most\n",
           rows, ratio[PAIRS / 2], ratio[PAIRS / 4], ratio[3 * PAIRS / 4], ours[PAIRS / 2] / 1e3, floor[PAIRS / 2] / 1e3, PAIRS,
           turns[PAIRS / 2] / 1e3, turns[PAIRS - 1] / 1e3);
  sqlite3_finalize (insert);
  sqlite3_close (db);
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

  flames_light_all (bench);
  samples = flames_dup_twelve (bench);
  for (guint minute = 1; minute <= 1440; minute++)
    {
      FlamesKnown known = { g_ptr_array_index (samples, SAMPLES - 1), minute };

      wb_clock_advance (wb_clock_get (), MINUTE_US);
      for (guint i = 0; i < SAMPLES; i++)
        flames_read_one (bench, g_ptr_array_index (samples, i), minute);
      flames_wait_for_saves ();
      app_wait_until (flames_knows, &known, "the bench to know the round");
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
    return flames_run_window (argv[0], argv[2]);
  else if (argc == 3 && strcmp (argv[1], "day") == 0)
    measure_day (argv[2]);
  else
    return 2;
  return 0;
}
