/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-exchange.h"

#include "wb-exchange-output.h"

#include <glib/gstdio.h>
#include <signal.h>
#include <sys/resource.h>
#include <unistd.h>

typedef struct
{
  char *folder, *path;
  GFile *file;
} Place;

static void
set_up (Place *place, gconstpointer data)
{
  place->folder = g_dir_make_tmp ("wickbench-test-XXXXXX", NULL);
  place->path = g_build_filename (place->folder, "out.csv", NULL);
  place->file = g_file_new_for_path (place->path);
}

static void
tear_down (Place *place, gconstpointer data)
{
  g_autoptr (GDir) dir = g_dir_open (place->folder, 0, NULL);
  const char *name;

  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (place->folder, name, NULL);

      g_remove (path);
    }
  g_assert_cmpint (g_rmdir (place->folder), ==, 0);
  g_object_unref (place->file);
  g_free (place->path);
  g_free (place->folder);
}

static guint
count_files (const Place *place)
{
  g_autoptr (GDir) dir = g_dir_open (place->folder, 0, NULL);
  guint n = 0;

  while (g_dir_read_name (dir) != NULL)
    n++;
  return n;
}

static void
write_text (GFile *file, const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbExchangeOutput) output = wb_exchange_output_new (file, NULL, &error);

  g_assert_no_error (error);
  g_string_append (wb_exchange_output_get_text (output), text);
  g_assert_true (wb_exchange_output_close (output, &error));
  g_assert_no_error (error);
}

static void
assert_text (const char *path, const char *expected)
{
  g_autofree char *text = NULL;

  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  g_assert_cmpstr (text, ==, expected);
}

static void
test_replaces (Place *place, gconstpointer data)
{
  GStatBuf info;

  write_text (place->file, "one");
  assert_text (place->path, "one");
  g_assert_cmpint (g_chmod (place->path, 0640), ==, 0);
  write_text (place->file, "two");
  assert_text (place->path, "two");
  g_assert_cmpint (g_stat (place->path, &info), ==, 0);
  g_assert_cmpint (info.st_mode & 0777, ==, 0640);
  g_assert_cmpuint (count_files (place), ==, 1);
}

static void
test_follows_links (Place *place, gconstpointer data)
{
  g_autofree char *link = g_build_filename (place->folder, "link.csv", NULL);
  g_autoptr (GFile) file = g_file_new_for_path (link);

  g_assert_cmpint (symlink ("out.csv", link), ==, 0);
  write_text (file, "through the link");
  assert_text (place->path, "through the link");
  g_assert_true (g_file_test (link, G_FILE_TEST_IS_SYMLINK));
}

static void
test_refuses_a_folder (Place *place, gconstpointer data)
{
  g_autoptr (GFile) folder = g_file_new_for_path (place->folder);
  g_autoptr (GError) error = NULL;

  g_assert_null (wb_exchange_output_new (folder, NULL, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_IS_DIRECTORY);
}

/* A limit on file sizes stands in for a full disk: writing fails half way. */
static void
test_full_disk (Place *place, gconstpointer data)
{
  struct rlimit old, low;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbExchangeOutput) output = NULL;
  gboolean good = TRUE;

  write_text (place->file, "the old one");
  output = wb_exchange_output_new (place->file, NULL, &error);
  g_assert_no_error (error);
  signal (SIGXFSZ, SIG_IGN);
  g_assert_cmpint (getrlimit (RLIMIT_FSIZE, &old), ==, 0);
  low = old;
  low.rlim_cur = 200 * 1024;
  g_assert_cmpint (setrlimit (RLIMIT_FSIZE, &low), ==, 0);
  for (guint i = 0; i < 100 && good; i++)
    {
      g_autofree char *filler = g_strnfill (10000, 'x');

      g_string_append (wb_exchange_output_get_text (output), filler);
      good = wb_exchange_output_flush (output, &error);
    }
  g_assert_cmpint (setrlimit (RLIMIT_FSIZE, &old), ==, 0);
  signal (SIGXFSZ, SIG_DFL);
  g_assert_false (good);
  g_assert_nonnull (error);
  g_clear_pointer (&output, wb_exchange_output_free);
  assert_text (place->path, "the old one");
  g_assert_cmpuint (count_files (place), ==, 1);
}

static void
test_cancelled (Place *place, gconstpointer data)
{
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;
  WbExchangeOutput *output = wb_exchange_output_new (place->file, cancellable, &error);

  g_assert_no_error (error);
  g_string_append (wb_exchange_output_get_text (output), "half");
  g_cancellable_cancel (cancellable);
  g_assert_false (wb_exchange_output_close (output, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  wb_exchange_output_free (output);
  g_assert_cmpuint (count_files (place), ==, 0);
}

void
test_exchange_add_place (void)
{
#define ADD(path, func) g_test_add ("/exchange/place/" path, Place, NULL, set_up, func, tear_down)
  ADD ("a-file-is-replaced-with-its-mode", test_replaces);
  ADD ("a-link-is-followed", test_follows_links);
  ADD ("a-folder-is-refused", test_refuses_a_folder);
  ADD ("a-full-disk-leaves-the-old-file", test_full_disk);
  ADD ("a-cancelled-file-leaves-nothing", test_cancelled);
}
