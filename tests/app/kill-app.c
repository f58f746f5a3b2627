/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-evening.h"
#include "wb-app-record.h"
#include "wb-clock.h"

#include <gsl/gsl_errno.h>
#include <math.h>
#include <signal.h>
#include <sqlite3.h>
#include <stdlib.h>
#include <sys/prctl.h>

/*
 * SIGKILL while readings are saved: a process logs readings at the bench, one as soon as the one before is acknowledged,
 * and says each acknowledgement on its standard output; it is killed at a moment that chance chooses, on the same notebook
 * over and over. Every acknowledged reading is then looked for in the file with plain SQLite, at most the one in flight
 * may stand there beside them, and the record is checked.
 *
 *   kill-app [KILLS [SEED]]    200 kills unless told otherwise; WICKBENCH_KILLS is the same as KILLS
 */

#define KILLED_PATH "KILL_APP_PATH"
#define KILLED_NEXT "KILL_APP_NEXT" /* number of the first reading that it is to log */
#define KILLS 200
#define SEED 20261125
/* The kill falls within it after the first acknowledgement, or (a quarter of them) after the start: some ten saves. */
#define WITHIN_MS 60
/* A burn of two days holds 2,880 minutes: so many readings at tenths of them. */
#define READINGS_MAXIMUM 28000

/* The n-th reading: its minute and its flame tell it from all others near it. */
static double
minute_of (guint n)
{
  return n / 10.0;
}

static double
flame_of (guint n)
{
  return 10 + n % 200 / 10.0;
}

/* ---- The process that is killed ---- */

static WbAppBenchSample *
find_alight (WbAppBench *bench)
{
  return wb_app_bench_get_alight (bench) > 0 ? wb_app_bench_get_next_due (bench) : NULL;
}

static void G_GNUC_NORETURN
log_until_killed (void)
{
  guint n = (guint) g_ascii_strtoull (g_getenv (KILLED_NEXT), NULL, 10);
  WbAppNotebook *notebook = app_open (g_getenv (KILLED_PATH));
  WbAppBench *bench = wb_app_bench_new (notebook);
  gint64 sample;

  app_wait_until (evening_is_loaded, bench, "the bench to load");
  g_assert_nonnull (find_alight (bench));
  sample = wb_app_bench_sample_get_id (find_alight (bench));
  for (;; n++)
    {
      g_autoptr (WbRecord) reading = wb_record_new (&wb_reading_type);
      g_autoptr (GAsyncResult) result = NULL;
      g_autoptr (GError) error = NULL;

      ((WbReading *) reading)->elapsed_min = minute_of (n);
      ((WbReading *) reading)->values[WB_COLUMN_FLAME_MM] = flame_of (n);
      wb_app_bench_read_async (bench, sample, (WbReading *) reading, NULL, app_keep_result_cb, &result);
      if (!wb_app_bench_finish (bench, app_wait_result (&result), &error))
        g_error ("reading %u: %s", n, error->message);
      g_print ("%u\n", n);
    }
}

/* ---- The one who kills ---- */

typedef struct
{
  char  *path;
  guint  kills;
  guint  told;      /* acknowledged over all kills: readings 0 to told - 1 stand in the file */
  guint  in_flight; /* of them, how many were found without having been acknowledged */
} Killer;

static char *
prepare (void)
{
  Evening evening;
  char *path;

  evening_set_up_lit (&evening);
  path = g_strdup (wb_app_notebook_get_path (evening.notebook));
  evening_tear_down (&evening);
  return path;
}

static GSubprocess *
spawn (const Killer *self)
{
  g_autoptr (GSubprocessLauncher) launcher = g_subprocess_launcher_new (G_SUBPROCESS_FLAGS_STDOUT_PIPE);
  g_autofree char *program = g_file_read_link ("/proc/self/exe", NULL);
  g_autofree char *next = g_strdup_printf ("%u", self->told);
  g_autoptr (GError) error = NULL;
  GSubprocess *process;

  g_subprocess_launcher_setenv (launcher, KILLED_PATH, self->path, TRUE);
  g_subprocess_launcher_setenv (launcher, KILLED_NEXT, next, TRUE);
  /* An hour on, as far as there is one. */
  g_subprocess_launcher_setenv (launcher, "WICKBENCH_CLOCK", "2026-03-05T19:00:00+00:00,0", TRUE);
  g_subprocess_launcher_setenv (launcher, "XDG_STATE_HOME", g_get_user_state_dir (), TRUE);
  g_subprocess_launcher_setenv (launcher, "XDG_DATA_HOME", g_get_user_data_dir (), TRUE);
  g_subprocess_launcher_setenv (launcher, "XDG_CONFIG_HOME", g_get_user_config_dir (), TRUE);
  process = g_subprocess_launcher_spawn (launcher, &error, program, NULL);
  g_assert_no_error (error);
  return process;
}

/* Reads what it says from here to its end. */
static void
take_acknowledgements (Killer           *self,
                       GDataInputStream *lines,
                       gboolean          only_one)
{
  char *line;

  while ((line = g_data_input_stream_read_line (lines, NULL, NULL, NULL)) != NULL)
    {
      /* Each is one write to the pipe: the kill cuts none in two. */
      g_assert_cmpuint (g_ascii_strtoull (line, NULL, 10), ==, self->told);
      self->told++;
      g_free (line);
      if (only_one)
        return;
    }
}

static void
kill_once (Killer *self,
           GRand  *chance)
{
  g_autoptr (GSubprocess) process = spawn (self);
  g_autoptr (GDataInputStream) lines = g_data_input_stream_new (g_subprocess_get_stdout_pipe (process));
  gboolean early = g_rand_int_range (chance, 0, 4) == 0;

  if (!early)
    take_acknowledgements (self, lines, TRUE);
  g_usleep ((gulong) g_rand_int_range (chance, 0, WITHIN_MS * 1000));
  g_subprocess_force_exit (process);
  take_acknowledgements (self, lines, FALSE);
  g_subprocess_wait (process, NULL, NULL);
  if (g_subprocess_get_if_exited (process) || g_subprocess_get_term_sig (process) != SIGKILL)
    g_error ("kill %u: the process ended by itself", self->kills);
}

/* With plain SQLite, as anybody could. */
static void
find_readings (Killer *self)
{
  sqlite3_stmt *statement = NULL;
  sqlite3 *db = NULL;
  guint n = 0;

  g_assert_cmpint (sqlite3_open_v2 (self->path, &db, SQLITE_OPEN_READWRITE, NULL), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_prepare_v2 (db, "SELECT elapsed_min, flame_mm FROM reading WHERE source = 'typed' "
                                           "AND flame_mm IS NOT NULL ORDER BY elapsed_min", -1, &statement, NULL), ==, SQLITE_OK);
  for (; sqlite3_step (statement) == SQLITE_ROW; n++)
    if (fabs (sqlite3_column_double (statement, 0) - minute_of (n)) > 1e-9
        || fabs (sqlite3_column_double (statement, 1) - flame_of (n)) > 1e-9)
      g_error ("kill %u: reading %u is not there, %u were acknowledged", self->kills, n, self->told);
  g_assert_cmpint (sqlite3_finalize (statement), ==, SQLITE_OK);
  sqlite3_close (db);
  if (n < self->told || n > self->told + 1)
    g_error ("kill %u: %u readings are there, %u were acknowledged", self->kills, n, self->told);
  self->in_flight += n - self->told;
  self->told = n;
}

static void
check_record (const Killer *self)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppCheck) check = wb_app_record_check_sync (self->path, NULL, NULL, &error);

  g_assert_no_error (error);
  if (!check->sound)
    g_error ("kill %u: %s", self->kills, check->finding);
}

static guint kills_wanted = KILLS;
static guint32 seed = SEED;

static void
test_kills (void)
{
  g_autoptr (GRand) chance = g_rand_new_with_seed (seed);
  Killer killer = { .path = prepare () };
  guint saves_before = 0, idle = 0;

  for (; killer.kills < kills_wanted && killer.told < READINGS_MAXIMUM; killer.kills++)
    {
      kill_once (&killer, chance);
      find_readings (&killer);
      check_record (&killer);
      idle += killer.told == saves_before;
      saves_before = killer.told;
    }
  g_test_message ("%u kills, %u readings acknowledged, %u in flight came through, %u kills before the first", killer.kills,
                  killer.told - killer.in_flight, killer.in_flight, idle);
  /* Else nothing was put to the test. */
  g_assert_cmpuint (killer.kills, ==, kills_wanted);
  g_assert_cmpuint (killer.told, >, killer.kills / 2);
  g_free (killer.path);
}

int
main (int    argc,
      char **argv)
{
  const char *wanted = g_getenv ("WICKBENCH_KILLS");

  gsl_set_error_handler_off ();
  if (g_getenv (KILLED_PATH) != NULL)
    {
      /* Nobody is left behind, should the one who kills be killed. */
      prctl (PR_SET_PDEATHSIG, SIGKILL);
      log_until_killed ();
    }
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_setenv ("WICKBENCH_CLOCK", "2026-03-02T18:00:00+00:00,0", TRUE);
  if (argc > 1)
    wanted = argv[1];
  if (wanted != NULL)
    kills_wanted = (guint) g_ascii_strtoull (wanted, NULL, 10);
  if (argc > 2)
    seed = (guint32) g_ascii_strtoull (argv[2], NULL, 10);
  g_test_add_func ("/app/kill/what-was-acknowledged-survives-every-kill", test_kills);
  return g_test_run ();
}
