/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-evening.h"
#include "wb-app-query.h"
#include "wb-app-stay.h"
#include "wb-clock.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

/* Time at the bench: what was typed late, and how long a burn has lasted after a restart, whatever became of the clock. */

/* The reading of that minute in the file. Caller frees. */
static WbReading *
find_reading (Evening *evening,
              double   minute)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) readings = wb_app_query_list_sync (evening->notebook, &wb_reading_type, &error);

  g_assert_no_error (error);
  for (guint i = 0; i < readings->len; i++)
    {
      const WbReading *reading = g_ptr_array_index (readings, i);

      if (fabs (reading->elapsed_min - minute) < 1e-6)
        return wb_record_copy (reading);
    }
  g_error ("no reading of minute %g", minute);
}

static void
read_at (Evening          *evening,
         WbAppBenchSample *sample,
         double            minute)
{
  g_autoptr (WbRecord) record = wb_record_new (&wb_reading_type);
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;

  ((WbReading *) record)->values[WB_COLUMN_FLAME_MM] = 20;
  ((WbReading *) record)->elapsed_min = minute;
  wb_app_bench_read_async (evening->bench, wb_app_bench_sample_get_id (sample), (WbReading *) record, NULL, app_keep_result_cb, &result);
  g_assert_true (evening_finish (evening, &result, &error));
  g_assert_no_error (error);
}

static void
assert_late (Evening *evening,
             double   minute,
             gboolean late)
{
  g_autoptr (WbRecord) reading = (WbRecord *) find_reading (evening, minute);

  g_test_message ("minute %g", minute);
  g_assert_cmpint (((WbReading *) reading)->late, ==, late);
}

/* Ten minutes by the clock; and whatever stands before the last reading. */
static void
test_late (void)
{
  Evening evening;
  WbAppBenchSample *sample;
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbRecord) end = wb_record_new (&wb_reading_type);

  sample = evening_set_up_lit (&evening);
  wb_clock_advance (wb_clock_get (), 2 * HOUR_US);
  read_at (&evening, sample, 60);
  assert_late (&evening, 60, TRUE);
  read_at (&evening, sample, 109);
  assert_late (&evening, 109, TRUE);
  read_at (&evening, sample, 110);
  assert_late (&evening, 110, FALSE);
  read_at (&evening, sample, NAN);
  assert_late (&evening, 120, FALSE);
  evening_wait_for_minute (sample, 120);
  /* A few minutes back is before the last reading all the same. */
  read_at (&evening, sample, 117);
  assert_late (&evening, 117, TRUE);
  /* Found out an hour later. */
  wb_clock_advance (wb_clock_get (), 2 * HOUR_US);
  ((WbReading *) end)->elapsed_min = 180;
  wb_app_bench_snuff_async (evening.bench, wb_app_bench_sample_get_id (sample), WB_EVENT_SNUFFED, (WbReading *) end, NULL,
                            app_keep_result_cb, &result);
  g_assert_true (evening_finish (&evening, &result, &error));
  g_assert_no_error (error);
  assert_late (&evening, 180, TRUE);
  evening_tear_down (&evening);
}

/* ---- Over a restart ---- */

/* What happens while the program is closed, and what it then tells of the first sample, lit at 18:00 and read at 61 min. */
typedef struct
{
  const char *name;
  int         passed_min;  /* since lighting */
  int         step_min;    /* of the wall clock */
  gboolean    reboot;
  const char *file;        /* what stands in the state folder's file; NULL: as the program left it; "": none */
  double      minutes;     /* told */
  gboolean    unsure;
} Restart;

static const Restart restarts[] = {
  { "nothing happened", 90, 0, FALSE, NULL, 90, FALSE },
  { "the clock was set back before the lighting", 91, -121, FALSE, NULL, 91, FALSE },
  { "the clock was set back by half an hour", 91, -30, FALSE, NULL, 91, FALSE },
  { "the clock was set forward by three hours", 91, 180, FALSE, NULL, 91, FALSE },
  { "the computer started anew", 91, 0, TRUE, NULL, 91, FALSE },
  { "the computer started anew with its clock set back", 91, -40, TRUE, NULL, 61, TRUE },
  { "the computer started anew, long before the lighting", 91, -3000, TRUE, NULL, 61, TRUE },
  { "no file", 91, 0, FALSE, "", 91, FALSE },
  { "no file, and the clock was set back", 91, -121, FALSE, "", 61, TRUE },
  { "a file that cannot be read", 91, 0, FALSE, "when the moon was full\n", 91, FALSE },
  { "a file that cannot be read, and the clock was set back", 91, -121, FALSE, "test 12\n", 61, TRUE },
  { "a file of a moment to come", 91, -121, FALSE, "test 9000000000000000 0\n", 61, TRUE },
};

/* The state folder's file of the one burn that is alight; NULL: none. Caller frees. */
static char *
find_file (void)
{
  g_autofree char *root = g_build_filename (g_get_user_state_dir (), "wickbench", "running", NULL);
  g_autoptr (GDir) dir = g_dir_open (root, 0, NULL);
  const char *notebook;

  while (dir != NULL && (notebook = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *folder = g_build_filename (root, notebook, NULL);
      g_autoptr (GDir) inner = g_dir_open (folder, 0, NULL);
      const char *burn = inner != NULL ? g_dir_read_name (inner) : NULL;

      if (burn != NULL)
        return g_build_filename (folder, burn, NULL);
    }
  return NULL;
}

static gboolean
is_noted (gpointer wanted)
{
  g_autofree char *file = find_file ();

  return (file != NULL) == GPOINTER_TO_INT (wanted);
}

/* As a window that is opened anew. */
static void
reload_bench (Evening *evening)
{
  g_clear_object (&evening->bench);
  evening->bench = wb_app_bench_new (evening->notebook);
  app_wait_until (evening_is_loaded, evening->bench, "the bench to load");
}

/* Noted until it has cooled. */
static void
put_out (Evening          *evening,
         WbAppBenchSample *sample)
{
  evening_snuff (evening, sample);
  evening_wait_for_state (sample, WB_APP_BENCH_COOLING);
  app_wait_until (is_noted, GINT_TO_POINTER (TRUE), "the state folder to know when it went out");
  wb_clock_advance (wb_clock_get (), DAY_US);
  reload_bench (evening);
  app_wait_until (is_noted, GINT_TO_POINTER (FALSE), "the state folder to forget the burn");
}

static void
test_restart (gconstpointer data)
{
  const Restart *restart = data;
  Evening evening;
  WbAppBenchSample *sample;
  g_autofree char *path = NULL, *file = NULL;
  gint64 by_clock_s = 0;

  sample = evening_set_up_lit (&evening);
  path = g_strdup (wb_app_notebook_get_path (evening.notebook));
  wb_clock_advance (wb_clock_get (), 61 * MINUTE_US);
  evening_read_flame (&evening, sample, 20, 61);
  file = find_file ();
  g_assert_nonnull (file);
  evening_tear_down (&evening);

  wb_clock_advance (wb_clock_get (), (restart->passed_min - 61) * MINUTE_US);
  wb_clock_step (wb_clock_get (), restart->step_min * MINUTE_US);
  if (restart->reboot)
    wb_clock_reboot (wb_clock_get (), "second");
  if (restart->file != NULL && *restart->file == '\0')
    g_assert_cmpint (g_unlink (file), ==, 0);
  else if (restart->file != NULL)
    g_assert_true (g_file_set_contents (file, restart->file, -1, NULL));

  evening_reopen (&evening, path);
  sample = evening_nth (&evening, 0);
  g_assert_cmpfloat (wb_app_bench_sample_get_minutes_at (sample, WB_INSTANT_NONE), ==, restart->minutes);
  g_assert_cmpint (wb_app_bench_sample_get_unsure (sample, &by_clock_s), ==, restart->unsure);
  g_assert_cmpuint (wb_app_bench_get_unsure (evening.bench), ==, restart->unsure);
  if (restart->unsure)
    g_assert_cmpint (by_clock_s, ==, (restart->passed_min + restart->step_min) * 60);
  /* A reading now stands behind the last one. */
  wb_clock_advance (wb_clock_get (), 9 * MINUTE_US);
  read_at (&evening, sample, NAN);
  evening_wait_for_minute (sample, restart->minutes + 9);
  assert_late (&evening, restart->minutes + 9, FALSE);
  put_out (&evening, sample);
  wb_clock_step (wb_clock_get (), -restart->step_min * MINUTE_US);
  evening_tear_down (&evening);
}

/* ---- While it cools ---- */

/* What happens while the program is closed, to a burn of an hour that went out ten minutes before; house protocol: 3 h of cooling. */
typedef struct
{
  const char *name;
  int         passed_min; /* since it went out */
  int         step_min;   /* of the wall clock */
  gboolean    reboot;
  double      out_min;    /* told */
  int         waits_min;  /* until it may be lit again */
  const char *told;       /* NULL: nothing */
} Cooling;

static const Cooling coolings[] = {
  { "nothing happened", 30, 0, FALSE, 30, 150, NULL },
  { "the clock was set on by two hours", 30, 120, FALSE, 30, 150, "set forward by 2" },
  { "the clock was set on by a day", 30, 1440, FALSE, 30, 150, "set forward by" },
  { "the clock was set back by two hours", 30, -120, FALSE, 30, 150, "set back by 2" },
  { "the computer started anew", 30, 0, TRUE, 30, 150, NULL },
  { "the computer started anew with its clock set back", 30, -60, TRUE, -30, 210, "which is the later time" },
};

static void
on_clock_moved_cb (WbAppNotebook *notebook,
                   const char    *words,
                   GPtrArray     *told)
{
  g_ptr_array_add (told, g_strdup (words));
}

/* The only one that has burnt. */
static WbAppBenchSample *
find_burnt (Evening *evening)
{
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (evening->bench)); i++)
    if (wb_app_bench_sample_get_burn (evening_nth (evening, i)) != NULL)
      return evening_nth (evening, i);
  g_assert_not_reached ();
}

static void
test_cooling (gconstpointer data)
{
  const Cooling *cooling = data;
  Evening evening;
  WbAppBenchSample *sample = evening_set_up_lit (&evening);
  WbClock *clock = wb_clock_get ();
  g_autoptr (GPtrArray) told = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *path = g_strdup (wb_app_notebook_get_path (evening.notebook));
  gint64 wait_us;

  wb_clock_advance (clock, HOUR_US);
  evening_snuff (&evening, sample);
  evening_wait_for_state (sample, WB_APP_BENCH_COOLING);
  wb_clock_advance (clock, 10 * MINUTE_US);
  evening_tear_down (&evening);

  wb_clock_advance (clock, (cooling->passed_min - 10) * MINUTE_US);
  wb_clock_step (clock, cooling->step_min * MINUTE_US);
  if (cooling->reboot)
    wb_clock_reboot (clock, cooling->name);
  evening = (Evening) { .notebook = app_open (path) };
  g_signal_connect (evening.notebook, "clock-moved", G_CALLBACK (on_clock_moved_cb), told);
  reload_bench (&evening);
  sample = find_burnt (&evening);
  g_assert_cmpint (wb_app_bench_sample_get_state (sample), ==, WB_APP_BENCH_COOLING);
  g_assert_cmpfloat_with_epsilon (wb_app_bench_sample_get_out_min (sample), cooling->out_min, 1e-6);
  g_assert_false (wb_app_bench_sample_is_to_weigh (sample));
  wait_us = wb_app_bench_sample_get_fit_at (sample).utc_us - wb_clock_now (clock).utc_us;
  g_assert_cmpint (wait_us, ==, cooling->waits_min * MINUTE_US);
  g_assert_cmpuint (told->len, ==, cooling->told != NULL);
  if (cooling->told != NULL)
    g_test_message ("%s", (char *) told->pdata[0]);
  if (cooling->told != NULL)
    g_assert_nonnull (strstr (told->pdata[0], cooling->told));

  /* The clock that is set while it is looked at changes nothing either. */
  wb_clock_step (clock, DAY_US);
  wb_app_bench_update (evening.bench);
  if (cooling->out_min >= 0)
    g_assert_cmpint (wb_app_bench_sample_get_state (sample), ==, WB_APP_BENCH_COOLING);
  wb_clock_step (clock, -DAY_US);
  wb_clock_advance (clock, cooling->waits_min * MINUTE_US);
  wb_app_bench_update (evening.bench);
  g_assert_cmpint (wb_app_bench_sample_get_state (sample), ==, WB_APP_BENCH_FIT);
  reload_bench (&evening);
  app_wait_until (is_noted, GINT_TO_POINTER (FALSE), "the state folder to forget the burn");
  wb_clock_step (clock, -cooling->step_min * MINUTE_US);
  evening_tear_down (&evening);
}

/* What the state folder says is less than what was read of the burn: neither it nor the clock that stands behind is believed. */
static void
test_less_than_was_read (void)
{
  Evening evening;
  WbAppBenchSample *sample = evening_set_up_lit (&evening);
  WbClock *clock = wb_clock_get ();
  g_autofree char *path = g_strdup (wb_app_notebook_get_path (evening.notebook));
  g_autofree char *file = NULL, *text = NULL;
  gint64 by_clock_s;

  wb_clock_advance (clock, 61 * MINUTE_US);
  evening_read_flame (&evening, sample, 20, 61);
  file = find_file ();
  g_assert_nonnull (file);
  evening_tear_down (&evening);
  wb_clock_step (clock, -30 * MINUTE_US);
  text = g_strdup_printf ("%s %" G_GINT64_FORMAT " 0\n", wb_clock_get_boot_id (clock), wb_clock_steady_us (clock) - 20 * MINUTE_US);
  g_assert_true (g_file_set_contents (file, text, -1, NULL));
  evening_reopen (&evening, path);
  sample = evening_nth (&evening, 0);
  g_assert_true (wb_app_bench_sample_get_unsure (sample, &by_clock_s));
  g_assert_cmpuint (wb_app_bench_get_unsure (evening.bench), ==, 1);
  g_assert_cmpfloat (wb_app_bench_sample_get_minutes_at (sample, WB_INSTANT_NONE), ==, 61);
  put_out (&evening, sample);
  wb_clock_step (clock, 30 * MINUTE_US);
  evening_tear_down (&evening);
}

static gboolean
is_sure (gpointer bench)
{
  return wb_app_bench_get_unsure (bench) == 0;
}

/* Asked once: what is told stands in the record, and the next restart knows it. */
static void
test_told (void)
{
  Evening evening;
  WbAppBenchSample *sample;
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *path = NULL, *file = NULL;

  sample = evening_set_up_lit (&evening);
  path = g_strdup (wb_app_notebook_get_path (evening.notebook));
  wb_clock_advance (wb_clock_get (), 61 * MINUTE_US);
  evening_read_flame (&evening, sample, 20, 61);
  evening_tear_down (&evening);
  wb_clock_step (wb_clock_get (), -2 * HOUR_US);
  wb_clock_reboot (wb_clock_get (), "told");
  evening_reopen (&evening, path);
  sample = evening_nth (&evening, 0);
  g_assert_cmpuint (wb_app_bench_get_unsure (evening.bench), ==, 1);

  wb_app_bench_tell_elapsed_async (evening.bench, wb_app_bench_sample_get_id (sample), 50 * 60, NULL, app_keep_result_cb, &result);
  g_assert_false (evening_finish (&evening, &result, &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED);
  g_clear_error (&error);
  wb_app_bench_tell_elapsed_async (evening.bench, wb_app_bench_sample_get_id (sample), 75 * 60, NULL, app_keep_result_cb, &result);
  g_assert_true (evening_finish (&evening, &result, &error));
  g_assert_no_error (error);
  app_wait_until (is_sure, evening.bench, "the bench to be sure");
  g_assert_cmpint (wb_app_bench_sample_get_elapsed_s (sample), ==, 75 * 60);
  evening_tear_down (&evening);

  wb_clock_advance (wb_clock_get (), 5 * MINUTE_US);
  evening_reopen (&evening, path);
  sample = evening_nth (&evening, 0);
  g_assert_cmpuint (wb_app_bench_get_unsure (evening.bench), ==, 0);
  g_assert_cmpint (wb_app_bench_sample_get_elapsed_s (sample), ==, 80 * 60);
  g_test_message ("%s", wb_app_bench_sample_get_burn (sample)->note);
  g_assert_nonnull (strstr (wb_app_bench_sample_get_burn (sample)->note, "by the maker's word it had burnt for 1 h 15 min"));
  /* Typed by the clock as it stands: five minutes ago it had burnt for 75, though that is before it was lit by the record. */
  g_assert_cmpint (wb_app_bench_sample_get_lit_at (sample).utc_us, ==, wb_clock_now (wb_clock_get ()).utc_us - 80 * MINUTE_US);
  put_out (&evening, sample);
  wb_clock_step (wb_clock_get (), 2 * HOUR_US);
  evening_tear_down (&evening);
}

/* A snuff that is taken back burns on by the same clock, in the next process too. */
static void
test_undone_snuff (void)
{
  Evening evening;
  WbAppBenchSample *sample;
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *path = NULL;

  sample = evening_set_up_lit (&evening);
  path = g_strdup (wb_app_notebook_get_path (evening.notebook));
  wb_clock_advance (wb_clock_get (), 30 * MINUTE_US);
  evening_snuff (&evening, sample);
  evening_wait_for_state (sample, WB_APP_BENCH_COOLING);
  wb_app_notebook_undo_async (evening.notebook, NULL, app_keep_result_cb, &result);
  g_assert_cmpint (wb_app_notebook_save_finish (evening.notebook, app_wait_result (&result), NULL, &error), >, 0);
  g_clear_object (&result);
  evening_wait_for_state (sample, WB_APP_BENCH_ALIGHT);
  app_wait_until (is_noted, GINT_TO_POINTER (TRUE), "the state folder to know the burn again");
  evening_tear_down (&evening);
  wb_clock_step (wb_clock_get (), -5 * HOUR_US);
  evening_reopen (&evening, path);
  sample = evening_nth (&evening, 0);
  g_assert_cmpint (wb_app_bench_sample_get_elapsed_s (sample), ==, 30 * 60);
  put_out (&evening, sample);
  wb_clock_step (wb_clock_get (), 5 * HOUR_US);
  evening_tear_down (&evening);
}

/* Lit at a stated instant, ten minutes ago: minute 0 is there on the steady clock as well. */
static void
test_lit_set_back (void)
{
  Evening evening;
  WbAppBenchSample *sample;
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *path = NULL;
  WbInstant at;

  evening_set_up (&evening);
  path = g_strdup (wb_app_notebook_get_path (evening.notebook));
  wb_clock_advance (wb_clock_get (), 3 * DAY_US + HOUR_US);
  wb_app_bench_update (evening.bench);
  sample = evening_nth (&evening, 0);
  evening_open_session (&evening);
  at = wb_clock_now (wb_clock_get ());
  at.utc_us -= 10 * MINUTE_US;
  wb_app_bench_light_async (evening.bench, wb_app_bench_sample_get_id (sample), WB_BURN_STANDARD, 6, "A1", at, NULL, FALSE, NULL,
                            app_keep_result_cb, &result);
  g_assert_true (evening_finish (&evening, &result, &error));
  evening_wait_for_state (sample, WB_APP_BENCH_ALIGHT);
  evening_tear_down (&evening);
  wb_clock_advance (wb_clock_get (), MINUTE_US);
  wb_clock_step (wb_clock_get (), HOUR_US);
  evening_reopen (&evening, path);
  sample = evening_nth (&evening, 0);
  g_assert_cmpint (wb_app_bench_sample_get_elapsed_s (sample), ==, 11 * 60);
  put_out (&evening, sample);
  wb_clock_step (wb_clock_get (), -HOUR_US);
  evening_tear_down (&evening);
}

/* ---- The clock is set while the program runs ---- */

static void
assert_told (GPtrArray  *told,
             const char *words)
{
  g_assert_cmpuint (told->len, ==, 1);
  g_test_message ("%s", (const char *) told->pdata[0]);
  g_assert_nonnull (strstr (told->pdata[0], words));
  g_ptr_array_set_size (told, 0);
}

/* The newest entry's reason. */
static void
assert_last_why (Evening    *evening,
                 const char *why)
{
  const char *label = wb_app_notebook_get_undo_label (evening->notebook);

  g_assert_cmpstr (label, ==, why);
}

/* Told once in the window, once in the record; no minute of a flame moves. */
static void
test_set_while_it_runs (void)
{
  Evening evening;
  WbAppBenchSample *sample;
  g_autoptr (GPtrArray) told = g_ptr_array_new_with_free_func (g_free);

  sample = evening_set_up_lit (&evening);
  g_signal_connect (evening.notebook, "clock-moved", G_CALLBACK (on_clock_moved_cb), told);
  wb_clock_advance (wb_clock_get (), 10 * MINUTE_US);
  wb_clock_step (wb_clock_get (), -2 * G_USEC_PER_SEC);
  wb_app_bench_update (evening.bench);
  g_assert_cmpuint (told->len, ==, 0);
  wb_clock_step (wb_clock_get (), -28 * G_USEC_PER_SEC);
  wb_app_bench_update (evening.bench);
  assert_told (told, "set back by 30 s");
  wb_app_bench_update (evening.bench);
  g_assert_cmpuint (told->len, ==, 0);
  /* Seen by the save itself, before any tick. */
  wb_clock_step (wb_clock_get (), 60 * MINUTE_US);
  read_at (&evening, sample, NAN);
  assert_told (told, "set forward by 1 h");
  assert_last_why (&evening, "Log a reading of S3-1 (before it the clock was set forward by 59 min 30 s)");
  assert_late (&evening, 10, FALSE);
  evening_wait_for_minute (sample, 10);
  wb_clock_advance (wb_clock_get (), MINUTE_US);
  read_at (&evening, sample, NAN);
  assert_last_why (&evening, "Log a reading of S3-1");
  evening_wait_for_minute (sample, 11);
  put_out (&evening, sample);
  wb_clock_step (wb_clock_get (), -3570 * (gint64) G_USEC_PER_SEC);
  evening_tear_down (&evening);
}

/* While the notebook was closed: told at its next opening, and by its next entry. */
static void
test_set_while_closed (void)
{
  Evening evening;
  WbAppBenchSample *sample;
  g_autoptr (GPtrArray) told = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *path = NULL;

  sample = evening_set_up_lit (&evening);
  path = g_strdup (wb_app_notebook_get_path (evening.notebook));
  evening_tear_down (&evening);
  wb_clock_advance (wb_clock_get (), 20 * MINUTE_US);
  wb_clock_step (wb_clock_get (), -30 * MINUTE_US);
  evening.notebook = app_open (path);
  g_signal_connect (evening.notebook, "clock-moved", G_CALLBACK (on_clock_moved_cb), told);
  evening.bench = wb_app_bench_new (evening.notebook);
  app_wait_until (evening_is_loaded, evening.bench, "the bench to load");
  assert_told (told, "set back by 30 min");
  sample = evening_nth (&evening, 0);
  read_at (&evening, sample, NAN);
  assert_late (&evening, 20, FALSE);
  assert_last_why (&evening, "Log a reading of S3-1 (before it the clock was set back by 30 min)");
  put_out (&evening, sample);
  wb_clock_step (wb_clock_get (), 30 * MINUTE_US);
  evening_tear_down (&evening);
}

/* ---- Zones ---- */

static void
use_zone (const char *zone)
{
  g_setenv ("TZ", zone, TRUE);
  wb_clock_refresh_zone (wb_clock_get ());
}

/* Entries carry the offset then in force; the flame's minutes are its own. */
static void
test_zone (void)
{
  Evening evening;
  WbAppBenchSample *sample;
  g_autoptr (GPtrArray) told = g_ptr_array_new_with_free_func (g_free);

  sample = evening_set_up_lit (&evening);
  g_signal_connect (evening.notebook, "clock-moved", G_CALLBACK (on_clock_moved_cb), told);
  g_assert_cmpint (wb_app_bench_sample_get_burn (sample)->lit_at.offset_s, ==, 0);
  wb_clock_advance (wb_clock_get (), 10 * MINUTE_US);
  g_setenv ("TZ", "Asia/Tokyo", TRUE);
  wb_app_bench_update (evening.bench);
  assert_told (told, "Asia/Tokyo");
  g_assert_cmpint (wb_app_bench_sample_get_elapsed_s (sample), ==, 600);
  g_assert_cmpint (wb_app_bench_sample_get_lit_at (sample).utc_us, ==, wb_app_bench_sample_get_burn (sample)->lit_at.utc_us);
  evening_light (&evening, evening_nth (&evening, 1));
  g_assert_cmpint (wb_app_bench_sample_get_burn (evening_nth (&evening, 1))->lit_at.offset_s, ==, 9 * 3600);
  use_zone ("UTC");
  evening_tear_down (&evening);
}

/* Over the night of 25 October 2026, when 03:00 becomes 02:00 (Directive 2000/84/EC): lit at 01:30, two hours later it is 02:30. */
static void
test_doubled_hour (void)
{
  Evening evening;
  WbAppBenchSample *sample;
  WbInstant first, second, now;
  WbDay day;
  gint64 moved_us;

  use_zone ("Europe/Berlin");
  g_assert_true (wb_day_parse ("2026-10-25", &day, NULL));
  /* Ten days before, whatever the tests before it took. */
  moved_us = wb_clock_local (wb_clock_get (), day - 10, 1, 30, 0).utc_us - wb_clock_now (wb_clock_get ()).utc_us;
  wb_clock_step (wb_clock_get (), moved_us);
  evening_set_up (&evening);
  wb_clock_advance (wb_clock_get (), 10 * DAY_US);
  wb_app_bench_update (evening.bench);
  sample = evening_nth (&evening, 0);
  evening_open_session (&evening);
  evening_light (&evening, sample);
  wb_clock_advance (wb_clock_get (), 2 * HOUR_US);
  wb_app_bench_update (evening.bench);
  now = wb_clock_now (wb_clock_get ());
  g_assert_true (wb_clock_local_twice (wb_clock_get (), day, 2, 30, 0, &first, &second));
  g_assert_cmpint (now.utc_us, ==, second.utc_us);
  g_assert_cmpint (now.offset_s, ==, 3600);
  g_assert_cmpint (wb_app_bench_sample_get_burn (sample)->lit_at.offset_s, ==, 7200);
  g_assert_cmpint (wb_app_bench_sample_get_elapsed_s (sample), ==, 2 * 3600);
  g_assert_cmpfloat (wb_app_bench_sample_get_minutes_at (sample, first), ==, 60);
  g_assert_cmpfloat (wb_app_bench_sample_get_minutes_at (sample, second), ==, 120);
  put_out (&evening, sample);
  use_zone ("UTC");
  evening_tear_down (&evening);
  wb_clock_step (wb_clock_get (), -moved_us);
}

/* Words as people say them; no time in them is no end. */
static void
test_stay_end (void)
{
  static const struct { const char *opened, *staying, *end; } cases[] = {
    { "2026-11-26T09:10:00+01:00", "Wren, until 13:00", "2026-11-26T13:00:00+01:00" },
    { "2026-11-26T19:10:00+01:00", "Wren, until 22.30, and no wick glows", "2026-11-26T22:30:00+01:00" },
    { "2026-11-26T19:10:00+01:00", "Wren, until 0:45", "2026-11-27T00:45:00+01:00" },
    { "2026-11-26T19:10:00-05:00", "Wren, until 10:30", "2026-11-26T22:30:00-05:00" },
    { "2026-11-26T19:10:00-05:00", "Wren, until 10:30 pm", "2026-11-26T22:30:00-05:00" },
    { "2026-11-26T19:10:00-05:00", "Wren, until 11 p.m.", "2026-11-26T23:00:00-05:00" },
    { "2026-11-26T09:10:00-05:00", "Wren, until 12 pm", "2026-11-26T12:00:00-05:00" },
    { "2026-11-26T09:10:00+01:00", "Wren, until 12:00, Robin until 14:30", "2026-11-26T14:30:00+01:00" },
    { "2026-11-26T09:10:00+01:00", "Wren, until all 3 are out", "" },
    { "2026-11-26T09:10:00+01:00", "Wren, until 25:00", "" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WbSession session = { .staying = (char *) cases[i].staying };
      g_autofree char *end = NULL;
      WbInstant later;

      g_assert_true (wb_instant_parse (cases[i].opened, &session.opened_at, NULL));
      end = wb_instant_format (wb_app_stay_get_end (&session));
      g_assert_cmpstr (end, ==, cases[i].end);
      later = session.opened_at;
      g_assert_false (wb_app_stay_is_past (&session, later));
      later.utc_us += 20 * 3600 * (gint64) G_USEC_PER_SEC;
      g_assert_cmpint (wb_app_stay_is_past (&session, later), ==, *cases[i].end != '\0');
    }
}

/* ---- Quicker than the screen reads ---- */

static void
begin_reading (Evening          *evening,
               WbAppBenchSample *sample,
               double            flame_mm,
               GAsyncResult    **result)
{
  g_autoptr (WbRecord) record = wb_record_new (&wb_reading_type);

  ((WbReading *) record)->values[WB_COLUMN_FLAME_MM] = flame_mm;
  wb_app_bench_read_async (evening->bench, wb_app_bench_sample_get_id (sample), (WbReading *) record, NULL, app_keep_result_cb, result);
}

static void
end_saving (Evening      *evening,
            GAsyncResult **result)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (evening_finish (evening, result, &error));
  g_assert_no_error (error);
}

/* An observation is told by burn, minute, rater, event and wick: by that an import keeps each of them. */
static void
test_quicker_than_read (void)
{
  Evening evening, other = { 0 };
  WbAppBenchSample *sample = evening_set_up_lit (&evening), *same;
  GAsyncResult *results[3] = { NULL, NULL, NULL };
  g_autoptr (GPtrArray) readings = NULL;
  g_autoptr (GError) error = NULL;
  double last = -1;

  wb_clock_advance (wb_clock_get (), HOUR_US);
  wb_app_bench_update (evening.bench);
  evening_reopen (&other, wb_app_notebook_get_path (evening.notebook));
  same = wb_app_bench_find (other.bench, wb_app_bench_sample_get_id (sample));
  for (guint i = 0; i < 3; i++)
    begin_reading (i == 1 ? &other : &evening, i == 1 ? same : sample, 30 + i, &results[i]);
  for (guint i = 0; i < 3; i++)
    end_saving (i == 1 ? &other : &evening, &results[i]);
  /* None of the three has been read back for sure. */
  wb_app_bench_snuff_async (evening.bench, wb_app_bench_sample_get_id (sample), WB_EVENT_SNUFFED, NULL, NULL, app_keep_result_cb, &results[0]);
  end_saving (&evening, &results[0]);
  readings = wb_app_query_list_sync (evening.notebook, &wb_reading_type, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (readings->len, ==, 4);
  for (guint i = 0; i < 4; i++)
    {
      const WbReading *reading = g_ptr_array_index (readings, i);

      g_test_message ("minute %g, flame %g, event %g", reading->elapsed_min, reading->values[WB_COLUMN_FLAME_MM], reading->values[WB_COLUMN_EVENT]);
      if (isnan (reading->values[WB_COLUMN_EVENT]))
        g_assert_cmpfloat (reading->elapsed_min, >, last + 0.05);
      else
        g_assert_cmpfloat (reading->elapsed_min, >=, last);
      last = reading->elapsed_min;
      g_assert_cmpfloat (last, <, 61);
    }
  evening_tear_down (&other);
  evening_tear_down (&evening);
}

void
test_app_time_add (void)
{
  g_test_add_func ("/app/time/saved-quicker-than-the-screen-reads-each-has-its-moment", test_quicker_than_read);
  g_test_add_func ("/app/time/until-when-somebody-stays-is-read-from-the-words", test_stay_end);
  g_test_add_func ("/app/time/set-while-it-runs-is-told-and-moves-nothing", test_set_while_it_runs);
  g_test_add_func ("/app/time/set-while-closed-is-told-at-the-opening", test_set_while_closed);
  g_test_add_func ("/app/time/another-zone-moves-no-flame", test_zone);
  g_test_add_func ("/app/time/the-hour-that-comes-twice", test_doubled_hour);
  for (guint i = 0; i < G_N_ELEMENTS (restarts); i++)
    {
      g_autofree char *path = g_strdup_printf ("/app/time/over-a-restart/%s", restarts[i].name);

      g_strdelimit (path, " ", '-');
      g_test_add_data_func (path, &restarts[i], test_restart);
    }
  for (guint i = 0; i < G_N_ELEMENTS (coolings); i++)
    {
      g_autofree char *path = g_strdup_printf ("/app/time/it-cools-on/%s", coolings[i].name);

      g_strdelimit (path, " ", '-');
      g_test_add_data_func (path, &coolings[i], test_cooling);
    }
  g_test_add_func ("/app/time/less-than-was-read-is-unsure", test_less_than_was_read);
  g_test_add_func ("/app/time/what-somebody-told-is-known-after-a-restart", test_told);
  g_test_add_func ("/app/time/a-snuff-taken-back-burns-on-by-the-same-clock", test_undone_snuff);
  g_test_add_func ("/app/time/lit-ten-minutes-ago-is-ten-minutes", test_lit_set_back);
  g_test_add_func ("/app/time/what-was-typed-late-is-marked", test_late);
}
