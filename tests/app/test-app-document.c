/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"
#include "wb-app-document.h"
#include "wb-app-query.h"

#include <gdk-pixbuf/gdk-pixbuf.h>
#include <glib/gstdio.h>
#include <sys/wait.h>
#include <unistd.h>

static gboolean
add (WbAppNotebook *notebook,
     gint64         owner,
     const char    *path,
     GError       **error)
{
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GFile) file = g_file_new_for_path (path);

  wb_app_document_add_async (notebook, owner, "Plover", file, NULL, app_keep_result_cb, &result);
  return wb_app_document_add_finish (notebook, app_wait_result (&result), error);
}

static char *
new_file (const char *name,
          const char *bytes,
          gssize      length)
{
  g_autofree char *folder = app_new_path ();
  char *path = g_build_filename (folder, name, NULL);

  g_assert_cmpint (g_mkdir_with_parents (folder, 0700), ==, 0);
  g_assert_true (g_file_set_contents (path, bytes, length, NULL));
  return path;
}

static GPtrArray *
list (WbAppNotebook *notebook,
      gint64         owner)
{
  g_autoptr (GError) error = NULL;
  GPtrArray *found = wb_app_query_list_by_sync (notebook, &wb_attachment_type, "owner", owner, &error);

  g_assert_no_error (error);
  return found;
}

/* Byte for byte, as a paper; undo takes it out. */
static void
test_paper (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  gint64 wax = app_add_wax (notebook, "Plover");
  g_autofree char *path = new_file ("data sheet.pdf", "%PDF-1.4 invented", -1);
  g_autofree char *copy = app_new_path ();
  g_autofree char *bytes = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) papers = NULL;
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GFile) written = NULL;
  const WbAttachment *paper;

  g_assert_true (add (notebook, wax, path, &error));
  g_assert_no_error (error);
  papers = list (notebook, wax);
  g_assert_cmpuint (papers->len, ==, 1);
  paper = papers->pdata[0];
  g_assert_cmpint (paper->role, ==, WB_ATTACHMENT_PAPER);
  g_assert_cmpstr (paper->name, ==, "data sheet.pdf");
  wb_app_document_write_async (notebook, paper, copy, NULL, app_keep_result_cb, &result);
  written = wb_app_document_write_finish (notebook, app_wait_result (&result), &error);
  g_assert_no_error (error);
  g_assert_true (g_file_get_contents (copy, &bytes, NULL, NULL));
  g_assert_cmpstr (bytes, ==, "%PDF-1.4 invented");
  app_undo (notebook, FALSE);
  g_clear_pointer (&papers, g_ptr_array_unref);
  papers = list (notebook, wax);
  g_assert_cmpuint (papers->len, ==, 0);
  g_clear_object (&result);
  app_close (notebook);
}

/* A picture is kept as one, whatever its name says. */
static void
test_photo (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  gint64 wax = app_add_wax (notebook, "Plover");
  g_autofree char *path = new_file ("certificate.txt", "", 0);
  g_autoptr (GdkPixbuf) pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, 40, 30);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) papers = NULL;

  gdk_pixbuf_fill (pixbuf, 0x203040ff);
  g_assert_true (gdk_pixbuf_save (pixbuf, path, "png", NULL, NULL));
  g_assert_true (add (notebook, wax, path, &error));
  g_assert_no_error (error);
  papers = list (notebook, wax);
  g_assert_cmpint (((const WbAttachment *) papers->pdata[0])->role, ==, WB_ATTACHMENT_PHOTO);
  g_assert_cmpstr (((const WbAttachment *) papers->pdata[0])->media_type, ==, "image/jpeg");
  app_close (notebook);
}

/* To be opened it lies in a folder of its own, under a name that leads nowhere else. */
static void
test_show (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  gint64 wax = app_add_wax (notebook, "Plover");
  g_autoptr (GAsyncResult) kept = NULL;
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = g_bytes_new_static ("nothing good", 12);
  g_autoptr (GPtrArray) papers = NULL;
  g_autoptr (GFile) file = NULL;
  g_autofree char *name = NULL, *folder = NULL;
  GStatBuf status;
  WbAttachment *hostile = wb_record_new (&wb_attachment_type);

  hostile->owner = wax;
  hostile->role = WB_ATTACHMENT_PAPER;
  hostile->name = g_strdup ("../../../.profile");
  hostile->media_type = g_strdup ("text/plain");
  wb_app_attachment_add_async (notebook, hostile, bytes, "Keep it", NULL, app_keep_result_cb, &kept);
  g_assert_true (wb_app_attachment_finish (notebook, app_wait_result (&kept), &error));
  papers = list (notebook, wax);
  wb_app_document_show_async (notebook, papers->pdata[0], NULL, app_keep_result_cb, &result);
  file = wb_app_document_write_finish (notebook, app_wait_result (&result), &error);
  g_assert_no_error (error);
  name = g_file_get_basename (file);
  g_assert_cmpstr (name, ==, "document");
  /* For reading only: what is typed into it would be lost. */
  g_assert_cmpint (g_stat (g_file_peek_path (file), &status), ==, 0);
  g_assert_cmpint (status.st_mode & 0777, ==, 0400);
  wb_record_free (hostile);
  g_clear_object (&kept);
  g_clear_object (&result);
  app_close (notebook);
  folder = g_path_get_dirname (g_file_peek_path (file));
  g_assert_false (g_file_test (g_file_peek_path (file), G_FILE_TEST_EXISTS));
  g_assert_false (g_file_test (folder, G_FILE_TEST_EXISTS));
}

static GFile *
show_new (WbAppNotebook *notebook,
          const char    *source)
{
  gint64 wax = app_add_wax (notebook, "Plover");
  g_autoptr (GPtrArray) papers = NULL;
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  GFile *file;

  g_assert_true (add (notebook, wax, source, &error));
  papers = list (notebook, wax);
  wb_app_document_show_async (notebook, papers->pdata[0], NULL, app_keep_result_cb, &result);
  file = wb_app_document_write_finish (notebook, app_wait_result (&result), &error);
  g_assert_no_error (error);
  return file;
}

/* The file that it was made from, and what somebody made of the copy, stay. */
static void
test_only_the_copy_goes (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *source = new_file ("sheet.pdf", "a sheet", 7);
  g_autoptr (GFile) copy = show_new (notebook, source);
  g_autofree char *folder = g_path_get_dirname (g_file_peek_path (copy));

  g_assert_cmpint (g_chmod (g_file_peek_path (copy), 0600), ==, 0);
  app_close (notebook);
  g_assert_true (g_file_test (source, G_FILE_TEST_EXISTS));
  g_assert_true (g_file_test (g_file_peek_path (copy), G_FILE_TEST_EXISTS));
  g_assert_cmpint (g_remove (g_file_peek_path (copy)), ==, 0);
  g_assert_cmpint (g_rmdir (folder), ==, 0);
}

static void
on_removed_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      done)
{
  *(gboolean *) done = TRUE;
}

static void
put_copy (const char *folder,
          const char *name)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);

  g_assert_true (g_file_set_contents (path, "x", -1, NULL));
  g_assert_cmpint (g_chmod (path, 0400), ==, 0);
}

/* Of a program that was killed; not of one that runs, and no file that a link leads to. */
static void
test_stale (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *source = new_file ("stale.pdf", "a sheet", 7), *linked = new_file ("linked.pdf", "an original", 11);
  g_autoptr (GFile) running = show_new (notebook, source);
  g_autofree char *name = NULL, *folder = NULL, *link = NULL, *other = NULL;
  gboolean done = FALSE;
  pid_t dead = fork ();

  if (dead == 0)
    _exit (0);
  g_assert_cmpint (waitpid (dead, NULL, 0), ==, dead);
  g_assert_cmpint (g_chmod (linked, 0400), ==, 0);
  name = g_strdup_printf ("wickbench-open-%ld-AbCdEf", (long) dead);
  folder = g_build_filename (g_get_tmp_dir (), name, NULL);
  link = g_build_filename (folder, "link.pdf", NULL);
  other = g_build_filename (g_get_tmp_dir (), "wickbench-open-notes", NULL);
  g_assert_cmpint (g_mkdir (folder, 0700), ==, 0);
  g_assert_cmpint (g_mkdir (other, 0700), ==, 0);
  put_copy (folder, "sheet.pdf");
  put_copy (other, "sheet.pdf");
  g_assert_cmpint (symlink (linked, link), ==, 0);
  wb_app_document_remove_stale_async (on_removed_cb, &done);
  while (!done)
    g_main_context_iteration (NULL, TRUE);
  g_assert_true (g_file_test (g_file_peek_path (running), G_FILE_TEST_EXISTS));
  g_assert_true (g_file_test (linked, G_FILE_TEST_EXISTS));
  g_assert_true (g_file_test (other, G_FILE_TEST_EXISTS));
  g_assert_true (g_file_test (link, G_FILE_TEST_IS_SYMLINK));
  g_assert_cmpint (g_unlink (link), ==, 0);
  /* it was all that held the folder */
  g_assert_cmpint (g_rmdir (folder), ==, 0);
  name = (g_free (name), g_build_filename (other, "sheet.pdf", NULL));
  g_assert_cmpint (g_unlink (name), ==, 0);
  g_assert_cmpint (g_rmdir (other), ==, 0);
  app_close (notebook);
}

static void
test_refused (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  gint64 wax = app_add_wax (notebook, "Plover");
  g_autofree char *empty = new_file ("empty.pdf", "", 0);
  g_autofree char *large = new_file ("large.pdf", "x", 1);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) papers = NULL;

  g_assert_false (add (notebook, wax, empty, &error));
  g_assert_nonnull (strstr (error->message, "empty.pdf"));
  g_clear_error (&error);
  /* A hole on the disk: 64 MiB and one byte more. */
  g_assert_cmpint (truncate (large, 64 * 1024 * 1024 + 1), ==, 0);
  g_assert_false (add (notebook, wax, large, &error));
  g_assert_nonnull (strstr (error->message, "large.pdf"));
  g_clear_error (&error);
  g_assert_false (add (notebook, wax, "/nowhere/at all.pdf", &error));
  g_assert_nonnull (error);
  papers = list (notebook, wax);
  g_assert_cmpuint (papers->len, ==, 0);
  app_close (notebook);
}

void
test_app_document_add (void)
{
  g_test_add_func ("/app/document/a-data-sheet-is-kept-as-it-is", test_paper);
  g_test_add_func ("/app/document/a-picture-is-kept-as-a-photo", test_photo);
  g_test_add_func ("/app/document/what-is-opened-lies-in-a-folder-of-its-own", test_show);
  g_test_add_func ("/app/document/a-copy-goes-with-its-notebook-and-nothing-else", test_only_the_copy_goes);
  g_test_add_func ("/app/document/copies-of-a-killed-program-go-at-the-next-start", test_stale);
  g_test_add_func ("/app/document/what-cannot-be-kept-is-told-by-its-name", test_refused);
}
