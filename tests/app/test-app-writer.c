/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"
#include "wb-app-query.h"
#include "wb-app-record.h"
#include "wb-material.h"

#include <glib/gstdio.h>
#include <signal.h>
#include <sqlite3.h>
#include <string.h>
#include <sys/resource.h>

/* What can go wrong between a save and the disk: each is told, nothing that was told as saved is lost, and it goes on after. */

#define KILLED_PATH "APP_TEST_KILLED_PATH"
/* Acknowledged saves that the killed process must have made. */
#define ENOUGH 12

static gint64
try_save (WbAppNotebook *notebook,
          const char    *name,
          GError       **error)
{
  g_autoptr (WbRecord) wax = wb_record_new (&wb_wax_type);
  g_autoptr (GAsyncResult) result = NULL;

  ((WbWax *) wax)->name = g_strdup (name);
  /* The longest note there may be: more than a page of the file. */
  ((WbWax *) wax)->note = g_strnfill (WB_TEXT_MAXIMUM, 'n');
  wb_app_notebook_save_record_async (notebook, "Add a wax", wax, NULL, app_keep_result_cb, &result);
  g_assert_true (wb_app_notebook_get_saving (notebook));
  app_wait_result (&result);
  g_assert_false (wb_app_notebook_get_saving (notebook));
  return wb_app_notebook_save_finish (notebook, result, NULL, error);
}

static guint
count_waxes (WbAppNotebook *notebook)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) waxes = wb_app_query_list_sync (notebook, &wb_wax_type, &error);

  g_assert_no_error (error);
  return waxes->len;
}

static void
assert_sound (const char *path,
              gint64      entries)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppCheck) check = wb_app_record_check_sync (path, NULL, NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpstr (check->finding, ==, NULL);
  if (entries > 0)
    g_assert_cmpint (check->entries, ==, entries);
}

/* Another program keeps the file to itself, for reading too. */
static void
test_locked (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autoptr (GError) error = NULL;
  sqlite3 *other = NULL;

  g_assert_cmpint (sqlite3_open_v2 (wb_app_notebook_get_path (notebook), &other, SQLITE_OPEN_READWRITE, NULL), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (other, "BEGIN EXCLUSIVE", NULL, NULL, NULL), ==, SQLITE_OK);
  g_assert_cmpint (try_save (notebook, "Heath blend", &error), ==, 0);
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_LOCKED);
  g_assert_nonnull (strstr (error->message, "in use by another program"));
  g_clear_error (&error);
  g_assert_cmpint (sqlite3_exec (other, "COMMIT", NULL, NULL, NULL), ==, SQLITE_OK);
  sqlite3_close (other);

  g_assert_cmpint (try_save (notebook, "Heath blend", &error), ==, 2);
  g_assert_no_error (error);
  g_assert_cmpint (wb_app_notebook_get_last_entry (notebook), ==, 2);
  app_close (notebook);
}

/* No file of this process may grow: as on a full disk, a write fails in the middle. */
static void
test_full (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *path = g_strdup (wb_app_notebook_get_path (notebook));
  g_autoptr (GError) error = NULL;
  struct rlimit before, tight;
  GStatBuf info;

  g_assert_cmpint (g_stat (path, &info), ==, 0);
  g_assert_cmpint (getrlimit (RLIMIT_FSIZE, &before), ==, 0);
  tight = before;
  tight.rlim_cur = (rlim_t) info.st_size;
  signal (SIGXFSZ, SIG_IGN);
  g_assert_cmpint (setrlimit (RLIMIT_FSIZE, &tight), ==, 0);
  g_assert_cmpint (try_save (notebook, "Heath blend", &error), ==, 0);
  g_assert_cmpint (setrlimit (RLIMIT_FSIZE, &before), ==, 0);
  signal (SIGXFSZ, SIG_DFL);
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_FULL);
  g_clear_error (&error);
  g_assert_cmpuint (count_waxes (notebook), ==, 0);
  assert_sound (path, 1);

  /* There is room again. */
  g_assert_cmpint (try_save (notebook, "Heath blend", &error), ==, 2);
  g_assert_no_error (error);
  assert_sound (path, 2);
  app_close (notebook);
}

/* Moved away while it was open, and put back. */
static void
test_moved_and_back (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *path = g_strdup (wb_app_notebook_get_path (notebook)), *away = g_strconcat (path, ".away", NULL);
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (g_rename (path, away), ==, 0);
  g_assert_cmpint (try_save (notebook, "Heath blend", &error), ==, 0);
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_MISSING);
  g_assert_nonnull (strstr (error->message, "moved"));
  g_clear_error (&error);
  g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
  assert_sound (away, 1);

  g_assert_cmpint (g_rename (away, path), ==, 0);
  g_assert_cmpint (try_save (notebook, "Heath blend", &error), ==, 2);
  g_assert_no_error (error);
  assert_sound (path, 2);
  app_close (notebook);
}

/* Another file took the place of the open one, as a synchronising folder does it. */
static void
test_replaced (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *path = g_strdup (wb_app_notebook_get_path (notebook)), *copy = g_strconcat (path, ".copy", NULL);
  g_autofree char *bytes = NULL;
  g_autoptr (GError) error = NULL;
  gsize length;

  g_assert_true (g_file_get_contents (path, &bytes, &length, NULL));
  g_assert_true (g_file_set_contents (copy, bytes, (gssize) length, NULL));
  g_assert_cmpint (g_rename (copy, path), ==, 0);
  g_assert_cmpint (try_save (notebook, "Heath blend", &error), ==, 0);
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_MISSING);
  assert_sound (path, 1);
  app_close (notebook);
}

static void
on_saved_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      count)
{
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (wb_app_notebook_save_finish (WB_APP_NOTEBOOK (source), result, NULL, &error), >, 0);
  g_assert_no_error (error);
  ++*(guint *) count;
}

static gboolean
is_twenty (gpointer count)
{
  return *(guint *) count == 20;
}

/* Closing waits for what was asked before, and each save is still told; what comes after is refused. */
static void
test_close_finishes (void)
{
  WbAppNotebook *notebook = app_new_notebook (), *again;
  g_autofree char *path = g_strdup (wb_app_notebook_get_path (notebook));
  g_autoptr (WbRecord) late = wb_record_new (&wb_wax_type);
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  guint told = 0;

  for (guint i = 0; i < 20; i++)
    {
      g_autoptr (WbRecord) wax = wb_record_new (&wb_wax_type);

      ((WbWax *) wax)->name = g_strdup_printf ("Blend %u", i);
      wb_app_notebook_save_record_async (notebook, "Add a wax", wax, NULL, on_saved_cb, &told);
    }
  wb_app_notebook_close (notebook);
  g_assert_cmpuint (told, ==, 0);
  again = app_open (path);
  g_assert_cmpuint (count_waxes (again), ==, 20);
  app_wait_until (is_twenty, &told, "the callbacks of saves made before the close");

  ((WbWax *) late)->name = g_strdup ("Too late");
  wb_app_notebook_save_record_async (notebook, "Add a wax", late, NULL, app_keep_result_cb, &result);
  g_assert_cmpint (wb_app_notebook_save_finish (notebook, app_wait_result (&result), NULL, &error), ==, 0);
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_FAILED);
  g_clear_object (&result);
  app_close (notebook);
  g_assert_cmpuint (count_waxes (again), ==, 20);
  app_close (again);
}

/* The process that is killed: saves, and says so on its standard output once the callback has said so. */
static void
save_until_killed (void)
{
  WbAppNotebook *notebook = app_open (g_getenv (KILLED_PATH));

  for (guint i = 0;; i++)
    {
      g_autofree char *name = g_strdup_printf ("Blend %u", i);
      g_autoptr (GError) error = NULL;

      g_assert_cmpint (try_save (notebook, name, &error), >, 0);
      g_assert_no_error (error);
      g_print ("saved %s\n", name);
    }
}

static guint
read_until_enough (GInputStream *from)
{
  g_autoptr (GDataInputStream) lines = g_data_input_stream_new (from);
  guint saved = 0;

  while (saved < ENOUGH)
    {
      g_autofree char *line = g_data_input_stream_read_line (lines, NULL, NULL, NULL);

      if (line == NULL)
        g_error ("the process ended by itself after %u saves", saved);
      saved += g_str_has_prefix (line, "saved ");
    }
  return saved;
}

/* Killed at any moment: all that was told as saved is there, and the record is sound. */
static void
test_killed (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *path = g_strdup (wb_app_notebook_get_path (notebook));
  g_autofree char *self = g_file_read_link ("/proc/self/exe", NULL);
  g_autoptr (GSubprocessLauncher) launcher = g_subprocess_launcher_new (G_SUBPROCESS_FLAGS_STDOUT_PIPE);
  g_autoptr (GSubprocess) process = NULL;
  g_autoptr (GError) error = NULL;
  guint saved;

  app_close (notebook);
  g_subprocess_launcher_setenv (launcher, KILLED_PATH, path, TRUE);
  process = g_subprocess_launcher_spawn (launcher, &error, self, NULL);
  g_assert_no_error (error);
  saved = read_until_enough (g_subprocess_get_stdout_pipe (process));
  g_subprocess_force_exit (process);
  g_subprocess_wait (process, NULL, NULL);
  g_assert_cmpint (g_subprocess_get_term_sig (process), ==, SIGKILL);

  notebook = app_open (path);
  g_assert_cmpuint (count_waxes (notebook), >=, saved);
  assert_sound (path, 0);
  g_assert_cmpint (try_save (notebook, "After the crash", &error), >, saved);
  g_assert_no_error (error);
  app_close (notebook);
}

int
main (int    argc,
      char **argv)
{
  /* The one to be killed has no tests, and works on the other's file. */
  if (g_getenv (KILLED_PATH) != NULL)
    {
      save_until_killed ();
      return 1;
    }
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/app/writer/a-lock-is-waited-for-and-then-told", test_locked);
  g_test_add_func ("/app/writer/a-full-disk-is-told-and-nothing-is-half-written", test_full);
  g_test_add_func ("/app/writer/a-moved-file-is-told-and-works-again-when-put-back", test_moved_and_back);
  g_test_add_func ("/app/writer/a-file-in-its-place-is-not-written", test_replaced);
  g_test_add_func ("/app/writer/closing-finishes-what-was-asked", test_close_finishes);
  g_test_add_func ("/app/writer/what-was-told-as-saved-survives-a-kill", test_killed);
  return g_test_run ();
}
