/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "store-notebook.h"
#include "wb-store-backup.h"

#include <gio/gio.h>
#include <glib/gstdio.h>

static void
test_copy (void)
{
  g_autofree char *path = test_path ("a.wickbench"), *copy = test_path ("copy.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  g_autofree char *fingerprint = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbStoreCheck) check = NULL;

  test_fill (store);
  fingerprint = wb_store_get_fingerprint (store, NULL);
  g_assert_true (wb_store_backup (store, copy, NULL, NULL, &error));
  g_assert_no_error (error);
  check = wb_store_check (copy, fingerprint, NULL, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (check->text, ==, NULL);
  g_assert_cmpint (check->entries, ==, 2);

  /* Never over another file. */
  g_assert_false (wb_store_backup (store, copy, NULL, NULL, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_CONFLICT);
}

static guint
count_files (const char *path)
{
  g_autofree char *folder = g_path_get_dirname (path);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  guint n = 0;

  while (g_dir_read_name (dir) != NULL)
    n++;
  return n;
}

static gboolean
on_progress_cb (double   done,
                gpointer data)
{
  guint *calls = data;

  return ++*calls < 3;
}

static void
test_cancel (void)
{
  g_autofree char *path = test_path ("a.wickbench"), *copy = test_path ("copy.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  g_autoptr (GBytes) bytes = g_bytes_new_take (g_strnfill (16 * 1024 * 1024, 'x'), 16 * 1024 * 1024);
  WbStoreChange *change = test_begin (store, "Keep much");
  g_autoptr (GError) error = NULL;
  char sha256[65];
  guint calls = 0;

  g_assert_true (wb_store_change_attach (change, bytes, sha256, NULL));
  test_put (change, test_wax ("Harrow blend"));
  test_commit (change);
  g_assert_false (wb_store_backup (store, copy, on_progress_cb, &calls, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_assert_cmpuint (calls, ==, 3);
  g_assert_cmpuint (count_files (copy), ==, 0);
}

static void
test_nowhere (void)
{
  g_autoptr (WbStore) store = test_notebook (":memory:");
  g_autoptr (GError) error = NULL;

  g_assert_false (wb_store_backup (store, "no/such/folder/copy", NULL, NULL, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_MISSING);
}

typedef struct
{
  const char *path;
  guint       writes;
} Writer;

/* Someone else logs a reading between two steps of the copy. */
static gboolean
on_progress_write_cb (double   done,
                      gpointer data)
{
  Writer *writer = data;

  if (writer->writes < 6)
    {
      WbStore *other = wb_store_open (writer->path, WB_STORE_WRITE, NULL);
      g_autofree char *name = g_strdup_printf ("Blend %u", writer->writes);
      WbStoreChange *change = test_begin (other, "Write in between");

      test_put (change, test_wax (name));
      test_commit (change);
      wb_store_close (other);
      writer->writes++;
    }
  return TRUE;
}

static void
test_others_write (void)
{
  g_autofree char *path = test_path ("a.wickbench"), *copy = test_path ("copy.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  g_autoptr (GBytes) bytes = g_bytes_new_take (g_strnfill (16 * 1024 * 1024, 'x'), 16 * 1024 * 1024);
  WbStoreChange *change = test_begin (store, "Keep much");
  g_autoptr (GError) error = NULL;
  g_autoptr (WbStoreCheck) check = NULL;
  Writer writer = { path, 0 };
  char sha256[65];

  g_assert_true (wb_store_change_attach (change, bytes, sha256, NULL));
  test_put (change, test_wax ("Harrow blend"));
  test_commit (change);
  g_assert_true (wb_store_backup (store, copy, on_progress_write_cb, &writer, &error));
  g_assert_no_error (error);
  check = wb_store_check (copy, NULL, NULL, NULL, &error);
  g_assert_cmpstr (check->text, ==, NULL);
  g_assert_cmpint (check->entries, >=, 2);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/store/backup/a-copy-is-whole", test_copy);
  g_test_add_func ("/store/backup/a-cancelled-copy-leaves-nothing", test_cancel);
  g_test_add_func ("/store/backup/a-copy-needs-a-folder", test_nowhere);
  g_test_add_func ("/store/backup/others-may-write-meanwhile", test_others_write);
  return g_test_run ();
}
