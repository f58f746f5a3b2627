/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "store-notebook.h"
#include "wb-store-open-private.h"
#include "wb-store-records.h"

#include <glib/gstdio.h>
#include <signal.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

static char *
journal_of (const char *path)
{
  return g_strconcat (path, "-journal", NULL);
}

/* A file that is refused keeps its bytes, and gets nothing beside it, in either mode. */
static void
assert_refused (const char  *path,
                WbStoreError code,
                const char  *words)
{
  g_autofree char *journal = journal_of (path), *before = NULL;
  gsize length = 0;

  g_assert_true (g_file_get_contents (path, &before, &length, NULL));
  for (WbStoreMode mode = WB_STORE_READ; mode <= WB_STORE_WRITE; mode++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (WbStore) store = wb_store_open (path, mode, &error);
      g_autofree char *after = NULL;
      gsize now = 0;

      g_assert_null (store);
      g_assert_error (error, WB_STORE_ERROR, (int) code);
      g_assert_nonnull (strstr (error->message, words));
      g_assert_nonnull (strstr (error->message, path));
      g_assert_true (g_file_get_contents (path, &after, &now, NULL));
      g_assert_cmpmem (before, length, after, now);
      g_assert_false (g_file_test (journal, G_FILE_TEST_EXISTS));
    }
}

/* A notebook with records, closed: the file alone is left of it. */
static char *
filled (const char *name)
{
  char *path = test_path (name);
  g_autofree char *journal = journal_of (path);
  WbStore *store = test_notebook (path);

  test_fill (store);
  wb_store_close (store);
  g_assert_false (g_file_test (journal, G_FILE_TEST_EXISTS));
  return path;
}

static void
test_create (void)
{
  g_autofree char *path = test_path ("new.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  g_autoptr (WbRecord) notebook = NULL;
  g_autoptr (GError) error = NULL;
  WbStore *second;

  notebook = wb_store_load_notebook (store, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (((WbNotebook *) notebook)->title, ==, "Trials of a small workshop");
  g_assert_false (wb_uuid_is_nil (&((WbNotebook *) notebook)->uuid));
  g_assert_cmpint (wb_store_get_last_entry (store), ==, 1);
  g_assert_false (wb_store_is_read_only (store));
  g_assert_cmpint (test_query (path, "PRAGMA application_id"), ==, 0x57426e62);
  g_assert_cmpint (test_query (path, "PRAGMA user_version"), ==, 1);

  second = wb_store_create (path, NULL, NULL, TEST_NOW, &error);
  g_assert_null (second);
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_CONFLICT);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM entry"), ==, 1);
}

static void
test_create_nowhere (void)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (wb_store_create ("no/such/folder/a.wickbench", NULL, NULL, TEST_NOW, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_MISSING);
}

static void
test_missing (void)
{
  g_autofree char *path = test_path ("absent.wickbench");
  g_autofree char *folder = g_path_get_dirname (path);
  g_autoptr (GError) error = NULL;

  g_assert_null (wb_store_open (path, WB_STORE_WRITE, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_MISSING);
  g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
  g_clear_error (&error);
  g_assert_null (wb_store_open (folder, WB_STORE_READ, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_NOT_A_NOTEBOOK);
}

static void
test_not_a_notebook (void)
{
  g_autofree char *text = test_path ("letter.txt"), *empty = test_path ("empty"), *foreign = test_path ("foreign.db");
  g_autofree char *long_text = g_strnfill (10000, 'x');
  g_autofree char *journal = journal_of (foreign);

  g_assert_true (g_file_set_contents (text, long_text, -1, NULL));
  g_assert_true (g_file_set_contents (empty, "", 0, NULL));
  g_assert_true (g_file_set_contents (foreign, "", 0, NULL));
  test_tamper (foreign, "CREATE TABLE t (a); INSERT INTO t VALUES (1); PRAGMA user_version = 1");
  g_assert_false (g_file_test (journal, G_FILE_TEST_EXISTS));
  assert_refused (text, WB_STORE_ERROR_NOT_A_NOTEBOOK, "not a notebook");
  assert_refused (empty, WB_STORE_ERROR_NOT_A_NOTEBOOK, "not a notebook");
  assert_refused (foreign, WB_STORE_ERROR_NOT_A_NOTEBOOK, "not a notebook");
}

static void
test_newer (void)
{
  g_autofree char *path = filled ("newer.wickbench");

  test_tamper (path, "PRAGMA user_version = 99");
  assert_refused (path, WB_STORE_ERROR_NEWER, "newer version");
}

static void
test_cut (void)
{
  g_autofree char *path = filled ("cut.wickbench");

  g_assert_cmpint (truncate (path, 40960), ==, 0);
  assert_refused (path, WB_STORE_ERROR_DAMAGED, "damaged");
}

/* Rubbish over the pages of the schema. */
static void
test_overwritten (void)
{
  g_autofree char *path = filled ("rubbish.wickbench"), *bytes = NULL;
  gsize length;

  g_assert_true (g_file_get_contents (path, &bytes, &length, NULL));
  memset (bytes + 100, 0xa5, 3000);
  g_assert_true (g_file_set_contents (path, bytes, (gssize) length, NULL));
  assert_refused (path, WB_STORE_ERROR_DAMAGED, "damaged");
}

static void
test_foreign_schema (void)
{
  static const char *const changes[] = {
    "CREATE TRIGGER spy AFTER INSERT ON reading BEGIN DELETE FROM reading; END",
    "CREATE VIEW spy AS SELECT * FROM reading",
    "CREATE TABLE spy (a)",
    "CREATE INDEX spy ON reading (soot)",
  };

  for (guint i = 0; i < G_N_ELEMENTS (changes); i++)
    {
      g_autofree char *path = filled ("foreign.wickbench");

      test_tamper (path, changes[i]);
      assert_refused (path, WB_STORE_ERROR_DAMAGED, "spy");
    }
}

static void
test_lacking_schema (void)
{
  g_autofree char *path = filled ("lacking.wickbench");

  test_tamper (path, "DROP INDEX reading_by_burn");
  assert_refused (path, WB_STORE_ERROR_DAMAGED, "reading_by_burn");
}

static void
test_write_ahead (void)
{
  g_autofree char *path = filled ("wal.wickbench");
  g_autofree char *wal = g_strconcat (path, "-wal", NULL);

  test_tamper (path, "PRAGMA journal_mode = WAL");
  assert_refused (path, WB_STORE_ERROR_DAMAGED, "write-ahead");
  g_assert_false (g_file_test (wal, G_FILE_TEST_EXISTS));
}

static void
test_read_mode (void)
{
  g_autofree char *path = filled ("read.wickbench");
  g_autoptr (GError) error = NULL;
  g_autoptr (WbStore) store = wb_store_open (path, WB_STORE_READ, &error);
  g_autoptr (GPtrArray) waxes = NULL;

  g_assert_no_error (error);
  g_assert_true (wb_store_is_read_only (store));
  waxes = wb_store_list (store, &wb_wax_type, NULL, 0, &error);
  g_assert_cmpuint (waxes->len, ==, 1);
  g_assert_null (wb_store_begin (store, WB_ENTRY_EDIT, NULL, NULL, "Try", TEST_NOW, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_READ_ONLY);
}

/* Root ignores permission bits: the rest of this test runs as nobody, in a process of its own. */
static void
test_read_only_subprocess (void)
{
  const char *path = g_getenv ("STORE_TEST_PATH");
  g_autoptr (GError) error = NULL;
  g_autoptr (WbStore) store = NULL;
  g_autoptr (GPtrArray) waxes = NULL;

  g_assert_nonnull (path);
  g_assert_cmpuint (geteuid (), !=, 0);
  store = wb_store_open (path, WB_STORE_WRITE, &error);
  g_assert_no_error (error);
  g_assert_true (wb_store_is_read_only (store));
  waxes = wb_store_list (store, &wb_wax_type, NULL, 0, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (waxes->len, ==, 1);
  g_assert_null (wb_store_begin (store, WB_ENTRY_EDIT, NULL, NULL, "Try", TEST_NOW, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_READ_ONLY);
  g_clear_error (&error);
  g_assert_null (wb_store_create (g_getenv ("STORE_TEST_NEW"), NULL, NULL, TEST_NOW, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_READ_ONLY);
}

/* Runs a test of this binary as another user; skips where there is no other. */
static void
run_as_nobody (const char *test,
               const char *path,
               const char *fresh)
{
  g_autofree char *self = g_file_read_link ("/proc/self/exe", NULL);
  const char *argv[] = { "setpriv", "--reuid=65534", "--regid=65534", "--clear-groups", self, "-p", test, NULL };
  g_autoptr (GError) error = NULL;
  g_autofree char *out = NULL, *err = NULL;
  int status = 0;

  if (geteuid () != 0)
    argv[0] = self, argv[1] = "-p", argv[2] = test, argv[3] = NULL;
  g_setenv ("STORE_TEST_PATH", path, TRUE);
  g_setenv ("STORE_TEST_NEW", fresh, TRUE);
  g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &out, &err, &status, &error);
  g_unsetenv ("STORE_TEST_PATH");
  g_unsetenv ("STORE_TEST_NEW");
  g_assert_no_error (error);
  if (!g_spawn_check_wait_status (status, &error))
    g_error ("%s as another user: %s\n%s\n%s", test, error->message, out, err);
}

/* Everybody may go through the folders above, which the test framework made for one user. */
static void
open_folders_above (const char *path)
{
  g_autofree char *folder = g_path_get_dirname (path);

  while (strlen (folder) > strlen (g_get_tmp_dir ()))
    {
      char *above = g_path_get_dirname (folder);

      g_assert_cmpint (g_chmod (folder, 0755), ==, 0);
      g_free (folder);
      folder = above;
    }
}

static void
test_read_only (void)
{
  g_autofree char *path = filled ("locked-away.wickbench");
  g_autofree char *folder = g_path_get_dirname (path), *fresh = g_build_filename (folder, "fresh.wickbench", NULL);
  g_autofree char *journal = journal_of (path), *before = NULL, *after = NULL;
  gsize length, now;

  open_folders_above (path);
  g_assert_cmpint (g_chmod (path, 0444), ==, 0);
  g_assert_cmpint (g_chmod (folder, 0555), ==, 0);
  g_assert_true (g_file_get_contents (path, &before, &length, NULL));
  run_as_nobody ("/store/open/read-only-as-another-user", path, fresh);
  /* The file may be written, and its folder, which takes the journal, not. */
  g_assert_cmpint (g_chmod (path, 0666), ==, 0);
  run_as_nobody ("/store/open/read-only-as-another-user", path, fresh);
  g_assert_cmpint (g_chmod (folder, 0755), ==, 0);
  g_assert_true (g_file_get_contents (path, &after, &now, NULL));
  g_assert_cmpmem (before, length, after, now);
  g_assert_false (g_file_test (journal, G_FILE_TEST_EXISTS));
}

/* A medium that takes no writing, whoever asks: a mount of its own, where this machine lets a test make one. */
static void
test_read_only_mount (void)
{
  g_autofree char *path = filled ("medium.wickbench"), *folder = g_path_get_dirname (path);
  g_autofree char *fresh = g_build_filename (folder, "fresh.wickbench", NULL), *self = g_file_read_link ("/proc/self/exe", NULL);
  g_autofree char *before = NULL, *after = NULL, *out = NULL, *err = NULL;
  const char *script = "mount --bind \"$1\" \"$1\" && mount -o remount,bind,ro \"$1\" || exit 77; "
                       "exec \"$2\" -p /store/open/read-only-as-another-user";
  const char *argv[] = { "unshare", "--user", "--map-user=65534", "--mount", "--keep-caps", "sh", "-c", script, "sh", folder, self, NULL };
  g_autoptr (GError) error = NULL;
  gsize length, now;
  int status = 0;

  open_folders_above (path);
  g_assert_cmpint (g_chmod (path, 0666), ==, 0);
  g_assert_cmpint (g_chmod (folder, 0777), ==, 0);
  g_assert_true (g_file_get_contents (path, &before, &length, NULL));
  g_setenv ("STORE_TEST_PATH", path, TRUE);
  g_setenv ("STORE_TEST_NEW", fresh, TRUE);
  g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &out, &err, &status, &error);
  g_unsetenv ("STORE_TEST_PATH");
  g_unsetenv ("STORE_TEST_NEW");
  g_assert_no_error (error);
  if (strstr (out, "1..1") == NULL)
    {
      g_test_skip ("no mount of its own can be made here");
      return;
    }
  if (!g_spawn_check_wait_status (status, &error))
    g_error ("on a read-only mount: %s\n%s\n%s", error->message, out, err);
  g_assert_true (g_file_get_contents (path, &after, &now, NULL));
  g_assert_cmpmem (before, length, after, now);
}

static void
test_locked (void)
{
  g_autofree char *path = filled ("busy.wickbench");
  g_autoptr (GError) error = NULL;
  g_autoptr (WbStore) one = wb_store_open (path, WB_STORE_WRITE, &error);
  g_autoptr (WbStore) two = wb_store_open (path, WB_STORE_WRITE, &error);
  g_autoptr (WbStoreChange) change = NULL;
  WbStoreChange *later;

  g_assert_no_error (error);
  wb_store_set_patience (two, 20);
  change = test_begin (one, "Hold the lock");
  g_assert_null (wb_store_begin (two, WB_ENTRY_EDIT, NULL, NULL, "Try", TEST_NOW, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_LOCKED);
  g_assert_nonnull (strstr (error->message, "in use by another program"));
  wb_store_rollback (g_steal_pointer (&change));
  later = test_begin (two, "Have it");
  test_put (later, test_wax ("Meadow blend"));
  test_commit (later);
  g_assert_cmpint (wb_store_get_last_entry (one), ==, 3);
}

/* Another connection's write shows in the data version, and in the newest entry of the kind. */
static void
test_sees_others (void)
{
  g_autofree char *path = filled ("two.wickbench");
  g_autoptr (GError) error = NULL;
  g_autoptr (WbStore) one = wb_store_open (path, WB_STORE_READ, &error);
  g_autoptr (WbStore) two = wb_store_open (path, WB_STORE_WRITE, &error);
  guint32 before = wb_store_get_data_version (one);
  WbStoreChange *change = test_begin (two, "Write");

  g_assert_cmpint (wb_store_get_type_entry (one, &wb_dye_type), ==, 0);
  test_put (change, test_wax ("Meadow blend"));
  test_commit (change);
  g_assert_cmpuint (wb_store_get_data_version (one), !=, before);
  g_assert_cmpint (wb_store_get_type_entry (one, &wb_wax_type), ==, 3);
  g_assert_cmpint (wb_store_get_type_entry (one, &wb_vessel_type), ==, 2);
}

/* The journal of one who is just writing stays where it is when another closes. */
static void
test_journal_of_another (void)
{
  g_autofree char *path = filled ("journal.wickbench"), *journal = journal_of (path);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbStore) one = wb_store_open (path, WB_STORE_WRITE, &error);
  WbStore *two = wb_store_open (path, WB_STORE_WRITE, &error);
  WbStoreChange *change = test_begin (one, "Write on");

  test_put (change, test_wax ("Meadow blend"));
  g_assert_true (g_file_test (journal, G_FILE_TEST_EXISTS));
  wb_store_close (two);
  g_assert_true (g_file_test (journal, G_FILE_TEST_EXISTS));
  test_commit (change);
  wb_store_close (g_steal_pointer (&one));
  g_assert_false (g_file_test (journal, G_FILE_TEST_EXISTS));
}

static void
test_moved (void)
{
  g_autofree char *path = filled ("moved.wickbench"), *away = g_strconcat (path, ".away", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbStore) store = wb_store_open (path, WB_STORE_WRITE, &error);
  WbStoreChange *change = test_begin (store, "Be surprised");

  test_put (change, test_wax ("Meadow blend"));
  g_assert_cmpint (g_rename (path, away), ==, 0);
  g_assert_false (wb_store_commit (change, NULL, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_MOVED);
  g_clear_error (&error);
  g_assert_null (wb_store_begin (store, WB_ENTRY_EDIT, NULL, NULL, "Try", TEST_NOW, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_MOVED);
  g_clear_error (&error);
  g_assert_cmpint (test_query (away, "SELECT count (*) FROM wax"), ==, 1);
  /* Another file under the name is not the one that was opened. */
  g_assert_true (g_file_set_contents (path, "x", 1, NULL));
  g_assert_null (wb_store_begin (store, WB_ENTRY_EDIT, NULL, NULL, "Try", TEST_NOW, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_MOVED);
}

static void
test_deleted (void)
{
  g_autofree char *path = filled ("deleted.wickbench");
  g_autoptr (GError) error = NULL;
  g_autoptr (WbStore) store = wb_store_open (path, WB_STORE_WRITE, &error);

  g_assert_cmpint (g_unlink (path), ==, 0);
  g_assert_null (wb_store_begin (store, WB_ENTRY_EDIT, NULL, NULL, "Try", TEST_NOW, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_MOVED);
}

/* A process killed with pages of an unfinished change in the file: the next one that opens it finds the change before. */
static void
test_killed (void)
{
  g_autofree char *path = filled ("killed.wickbench"), *journal = journal_of (path);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbStore) store = NULL;
  GStatBuf info;
  int pipes[2], status;
  char byte;
  pid_t child;

  g_assert_cmpint (pipe (pipes), ==, 0);
  child = fork ();
  g_assert_cmpint (child, >=, 0);
  if (child == 0)
    {
      WbStore *own = wb_store_open (path, WB_STORE_WRITE, NULL);
      WbStoreChange *change = wb_store_begin (own, WB_ENTRY_EDIT, NULL, NULL, "Be killed", TEST_NOW, NULL);
      g_autoptr (GBytes) bytes = g_bytes_new_take (g_strnfill (8 * 1024 * 1024, 'x'), 8 * 1024 * 1024);
      char sha256[65];

      /* More than the cache holds: SQLite must write into the file before the change is whole. */
      if (change == NULL || !wb_store_change_attach (change, bytes, sha256, NULL))
        _exit (1);
      if (write (pipes[1], "x", 1) != 1)
        _exit (1);
      for (;;)
        pause ();
    }
  g_assert_cmpint (read (pipes[0], &byte, 1), ==, 1);
  g_assert_cmpint (kill (child, SIGKILL), ==, 0);
  g_assert_cmpint (waitpid (child, &status, 0), ==, child);
  close (pipes[0]);
  close (pipes[1]);
  g_assert_cmpint (g_stat (journal, &info), ==, 0);
  g_assert_cmpint (info.st_size, >, 0);

  store = wb_store_open (path, WB_STORE_READ, &error);
  g_assert_no_error (error);
  g_assert_cmpint (wb_store_get_last_entry (store), ==, 2);
  g_assert_true (wb_store_quick_check (store, NULL, NULL, &error));
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM attachment_data"), ==, 0);
}

/* The disk is full in the middle: nothing of the change stays, and there is room again for a smaller one. */
static void
test_full (void)
{
  g_autofree char *path = filled ("full.wickbench");
  g_autoptr (GError) error = NULL;
  g_autoptr (WbStore) store = wb_store_open (path, WB_STORE_WRITE, &error);
  WbStoreChange *change = test_begin (store, "Fill the disk");
  g_autoptr (GBytes) bytes = g_bytes_new_take (g_strnfill (1024 * 1024, 'x'), 1024 * 1024);
  char sha256[65];

  test_put (change, test_wax ("Meadow blend"));
  g_assert_true (wb_store_commit (change, NULL, &error));
  wb_store_limit_pages_to_size (store);
  change = test_begin (store, "Fill the disk");
  g_assert_false (wb_store_change_attach (change, bytes, sha256, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_FULL);
  g_assert_nonnull (strstr (error->message, "no room"));
  g_clear_error (&error);
  wb_store_rollback (change);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM attachment_data"), ==, 0);
  g_assert_cmpint (wb_store_get_last_entry (store), ==, 3);
  change = test_begin (store, "Something small");
  test_put (change, test_reading (test_query (path, "SELECT id FROM burn"), 5, 20));
  test_commit (change);
}

int
main (int   argc,
      char *argv[])
{
  /* The child that runs as another user has no folders of its own to make. */
  if (g_getenv ("STORE_TEST_PATH") != NULL)
    g_test_init (&argc, &argv, NULL);
  else
    g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  if (g_getenv ("STORE_TEST_PATH") != NULL)
    {
      g_test_add_func ("/store/open/read-only-as-another-user", test_read_only_subprocess);
      return g_test_run ();
    }
  g_test_add_func ("/store/open/a-new-notebook-holds-its-own-record", test_create);
  g_test_add_func ("/store/open/a-new-notebook-needs-a-folder", test_create_nowhere);
  g_test_add_func ("/store/open/a-missing-file-is-not-made", test_missing);
  g_test_add_func ("/store/open/what-is-no-notebook-is-left-alone", test_not_a_notebook);
  g_test_add_func ("/store/open/a-newer-notebook-is-left-alone", test_newer);
  g_test_add_func ("/store/open/a-cut-notebook-is-left-alone", test_cut);
  g_test_add_func ("/store/open/an-overwritten-notebook-is-left-alone", test_overwritten);
  g_test_add_func ("/store/open/a-foreign-trigger-view-table-or-index-is-refused", test_foreign_schema);
  g_test_add_func ("/store/open/a-missing-index-is-refused", test_lacking_schema);
  g_test_add_func ("/store/open/a-write-ahead-log-is-refused", test_write_ahead);
  g_test_add_func ("/store/open/reading-writes-nothing", test_read_mode);
  g_test_add_func ("/store/open/a-read-only-notebook-opens-for-reading", test_read_only);
  g_test_add_func ("/store/open/a-read-only-medium-opens-for-reading", test_read_only_mount);
  g_test_add_func ("/store/open/a-lock-is-waited-for-and-then-told", test_locked);
  g_test_add_func ("/store/open/another-program-s-write-is-seen", test_sees_others);
  g_test_add_func ("/store/open/the-journal-goes-with-the-last-who-wrote", test_journal_of_another);
  g_test_add_func ("/store/open/a-moved-notebook-is-noticed", test_moved);
  g_test_add_func ("/store/open/a-deleted-notebook-is-noticed", test_deleted);
  g_test_add_func ("/store/open/a-killed-program-leaves-what-was-saved", test_killed);
  g_test_add_func ("/store/open/a-full-disk-leaves-nothing-half-written", test_full);
  return g_test_run ();
}
