/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-bench.h"
#include "test-views.h"

#include "wb-app-backup.h"
#include "wb-app-record.h"
#include "wb-restore-dialog.h"

#include <glib/gstdio.h>
#include <string.h>

/* The folder of its backups, in which the window's own come to stand. Caller frees. */
static char *
dup_folder (WbAppNotebook *notebook)
{
  g_autofree char *uuid = wb_uuid_format (&wb_app_notebook_get_settings (notebook)->uuid);

  return g_build_filename (g_get_user_data_dir (), "wickbench", "backups", uuid, NULL);
}

static gboolean
has_backup (gpointer folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name = dir != NULL ? g_dir_read_name (dir) : NULL;

  return name != NULL && g_str_has_suffix (name, ".wickbench");
}

/* With the first frame comes the day's backup, and nobody asked for it. */
static void
test_first_frame (void)
{
  g_autofree char *path = test_path ("kept.wickbench");
  WbWindow *window = test_window_new_with (path);
  g_autofree char *folder = dup_folder (test_notebook (window));

  test_wait (has_backup, folder);
  g_assert_cmpstr (wb_problem_bar_get_heading (wb_host_get_problem_bar (WB_HOST (window))), ==, "");
  test_window_destroy (window);
}

/* Name of a backup in the folder; NULL: none. Caller frees. */
static char *
dup_backup_name (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);

  return dir != NULL ? g_strdup (g_dir_read_name (dir)) : NULL;
}

typedef struct
{
  const char *folder;
  const char *before;
} Other;

/* One more than before, and nothing half written, nor the one before. */
static gboolean
has_other (gpointer user)
{
  const Other *other = user;
  g_autofree char *now = dup_backup_name (other->folder);

  return now != NULL && g_str_has_suffix (now, ".wickbench") && g_strcmp0 (now, other->before) != 0;
}

static gboolean
has_no_session (gpointer bench)
{
  return wb_app_bench_get_session (bench) == NULL;
}

/* Nobody is at the bench any more: the evening goes into a backup at once, not on the next day. */
static void
test_session_closed (void)
{
  g_autofree char *path = test_path ("evening.wickbench"), *folder = NULL, *before = NULL;
  WbWindow *window = test_window_new_with (path);
  WbAppBench *bench = wb_desk_get_bench (wb_host_get_desk (WB_HOST (window)));
  gboolean done = FALSE;
  Other other;

  folder = dup_folder (test_notebook (window));
  test_wait (has_backup, folder);
  before = dup_backup_name (folder);
  test_bench_open_session (bench);
  wb_app_bench_close_session_async (bench, NULL, test_bench_done_cb, &done);
  test_wait (test_is_true, &done);
  test_wait (has_no_session, bench);
  other = (Other) { folder, before };
  test_wait (has_other, &other);
  test_window_destroy (window);
}

static gboolean
is_told (gpointer user)
{
  return g_str_equal (wb_problem_bar_get_heading (wb_host_get_problem_bar (WB_HOST (user))), "Today's backup could not be made");
}

/* No room for it: told in the window's bar, which can be closed, and the work goes on. */
static void
test_in_the_way (void)
{
  g_autofree char *path = test_path ("blocked.wickbench"), *folder = NULL, *above = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppNotebook) notebook = wb_app_notebook_open_sync (path, WB_APP_OPEN_CREATE, "Blocked", &error);
  TestShelf shelf;
  WbWindow *window;

  g_assert_no_error (error);
  folder = dup_folder (notebook);
  above = g_path_get_dirname (folder);
  g_assert_cmpint (g_mkdir_with_parents (above, 0700), ==, 0);
  g_assert_true (g_file_set_contents (folder, "in the way", -1, NULL));
  window = test_window_new ();
  wb_window_set_notebook (window, notebook);
  test_wait (is_told, window);
  test_shelf_fill (window, "Tern", &shelf);
  g_assert_true (is_told (window));
  test_window_destroy (window);
}

/* ---- The dialog ---- */

static gboolean
has_dialog (gpointer slot)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();

  *(GtkWidget **) slot = NULL;
  for (GList *l = windows; l != NULL; l = l->next)
    if (WB_IS_RESTORE_DIALOG (l->data))
      *(GtkWidget **) slot = l->data;
  return *(GtkWidget **) slot != NULL;
}

static gboolean
can_restore (gpointer dialog)
{
  return gtk_widget_get_sensitive (test_child (dialog, "restore"));
}

static gboolean
was_done (gpointer dialog)
{
  return gtk_widget_get_visible (test_child (dialog, "lost"));
}

static gboolean
has_failed (gpointer dialog)
{
  return gtk_widget_get_visible (test_child (dialog, "problem"));
}

static char *
dup_checksum (const char *path)
{
  g_autofree char *bytes = NULL;
  gsize length;

  g_assert_true (g_file_get_contents (path, &bytes, &length, NULL));
  return g_compute_checksum_for_data (G_CHECKSUM_SHA256, (const guchar *) bytes, length);
}

/* Closed without closing the session: what was written since is in a backup all the same. */
static void
test_left (void)
{
  g_autofree char *path = test_path ("left.wickbench"), *folder = NULL, *before = NULL;
  WbWindow *window = test_window_new_with (path);
  WbAppBench *bench = wb_desk_get_bench (wb_host_get_desk (WB_HOST (window)));
  Other other;

  folder = dup_folder (test_notebook (window));
  test_wait (has_backup, folder);
  before = dup_backup_name (folder);
  test_bench_open_session (bench);
  gtk_window_close (GTK_WINDOW (window));
  other = (Other) { folder, before };
  test_wait (has_other, &other);
}

/* From the menu: what came after the backup is said, and the new file stands beside the old one, which is untouched. */
static void
test_beside (void)
{
  g_autofree char *path = test_path ("beside.wickbench"), *folder = NULL, *before = NULL, *after = NULL, *words = NULL;
  g_autofree char *stem = g_strndup (path, strlen (path) - strlen (".wickbench"));
  g_autofree char *new_path = g_strconcat (stem, " restored.wickbench", NULL);
  WbWindow *window = test_window_new_with (path);
  GtkWidget *dialog = NULL, *row;
  g_autoptr (WbAppCheck) check = NULL;
  TestShelf shelf;

  folder = dup_folder (test_notebook (window));
  test_wait (has_backup, folder);
  test_shelf_fill (window, "Tern", &shelf);
  test_settle (window);
  before = dup_checksum (path);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.restore", NULL);
  g_assert_true (has_dialog (&dialog));
  test_wait (can_restore, dialog);
  row = GTK_WIDGET (gtk_list_box_get_row_at_index (GTK_LIST_BOX (test_child (dialog, "list")), 0));
  words = g_strdup (gtk_label_get_text (GTK_LABEL (gtk_widget_get_last_child (gtk_list_box_row_get_child (GTK_LIST_BOX_ROW (row))))));
  g_assert_cmpstr (words, ==, "Entry 2 of the notebook came later, and is not in it.");
  g_assert_null (gtk_list_box_get_row_at_index (GTK_LIST_BOX (test_child (dialog, "list")), 1));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (test_child (dialog, "open")), FALSE);
  g_signal_emit_by_name (test_child (dialog, "restore"), "clicked");
  g_assert_false (can_restore (dialog));
  test_wait (was_done, dialog);
  g_assert_nonnull (strstr (gtk_label_get_text (GTK_LABEL (test_child (dialog, "done"))), new_path));
  after = dup_checksum (path);
  g_assert_cmpstr (before, ==, after);
  check = wb_app_record_check_sync (new_path, NULL, NULL, NULL);
  g_assert_true (check->sound);
  g_assert_cmpint (check->entries, ==, 2);

  /* A backup that went away meanwhile is told, and nothing is left of the attempt. */
  {
    g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
    g_autofree char *gone = g_build_filename (folder, g_dir_read_name (dir), NULL);

    g_assert_cmpint (g_unlink (gone), ==, 0);
  }
  g_signal_emit_by_name (test_child (dialog, "restore"), "clicked");
  test_wait (has_failed, dialog);
  gtk_window_destroy (GTK_WINDOW (dialog));
  test_window_destroy (window);
}

static gboolean
is_ruled_out (gpointer list)
{
  GtkListBoxRow *row = gtk_list_box_get_row_at_index (list, 0);
  GtkWidget *words = gtk_widget_get_last_child (gtk_list_box_row_get_child (row));

  return g_str_equal (gtk_label_get_text (GTK_LABEL (words)), "This backup is damaged. Choose another one.");
}

/* A backup that looks whole in the list and is not: said so, not offered again, and no notebook is made of it. */
static void
test_damaged_backup (void)
{
  g_autofree char *path = test_path ("rotten.wickbench"), *folder = NULL, *name = NULL, *backup = NULL, *bytes = NULL;
  g_autofree char *stem = g_strndup (path, strlen (path) - strlen (".wickbench"));
  g_autofree char *new_path = g_strconcat (stem, " restored.wickbench", NULL);
  WbWindow *window = test_window_new_with (path);
  GtkWidget *dialog = NULL;
  gsize length, at;

  folder = dup_folder (test_notebook (window));
  test_wait (has_backup, folder);
  name = dup_backup_name (folder);
  backup = g_build_filename (folder, name, NULL);
  g_assert_true (g_file_get_contents (backup, &bytes, &length, NULL));
  /* The last page of a tree without any row: nothing reads it to open the notebook. */
  at = length - 4096;
  while (bytes[at] != 10 || bytes[at + 3] != 0 || bytes[at + 4] != 0)
    at -= 4096;
  memset (bytes + at, 0xa5, 4096);
  g_assert_true (g_file_set_contents (backup, bytes, (gssize) length, NULL));
  gtk_widget_activate_action (GTK_WIDGET (window), "win.restore", NULL);
  g_assert_true (has_dialog (&dialog));
  test_wait (can_restore, dialog);
  g_signal_emit_by_name (test_child (dialog, "restore"), "clicked");
  test_wait (has_failed, dialog);
  test_wait (is_ruled_out, test_child (dialog, "list"));
  g_assert_false (can_restore (dialog));
  g_assert_false (g_file_test (new_path, G_FILE_TEST_EXISTS));
  gtk_window_destroy (GTK_WINDOW (dialog));
  test_window_destroy (window);
}

/* The other way out of damage: what can be read becomes a notebook, and what is lost is listed. */
static void
test_salvage (void)
{
  g_autofree char *path = test_path ("hurt.wickbench"), *bytes = NULL, *before = NULL, *after = NULL;
  g_autofree char *stem = g_strndup (path, strlen (path) - strlen (".wickbench"));
  g_autofree char *new_path = g_strconcat (stem, " salvaged.wickbench", NULL);
  WbWindow *window = test_window_new_with (path);
  g_autoptr (WbAppCheck) check = NULL;
  GtkWidget *dialog;
  TestShelf shelf;
  gsize length;

  test_shelf_fill (window, "Tern", &shelf);
  test_settle (window);
  test_window_destroy (window);
  g_assert_true (g_file_get_contents (path, &bytes, &length, NULL));
  /* The page that holds the vessel. */
  for (gsize at = 0; at + 4 <= length; at++)
    if (memcmp (bytes + at, "Tern", 4) == 0)
      memset (bytes + at / 4096 * 4096, 0, 4096);
  g_assert_true (g_file_set_contents (path, bytes, (gssize) length, NULL));
  before = dup_checksum (path);

  window = test_window_new ();
  dialog = wb_restore_dialog_new (GTK_WIDGET (window), path, "Robin", "It is damaged.");
  gtk_window_present (GTK_WINDOW (dialog));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (test_child (dialog, "open")), FALSE);
  g_assert_true (gtk_widget_get_visible (test_child (dialog, "salvage")));
  g_signal_emit_by_name (test_child (dialog, "salvage"), "clicked");
  g_assert_false (gtk_widget_get_sensitive (test_child (dialog, "salvage")));
  test_wait (was_done, dialog);
  g_assert_nonnull (strstr (gtk_label_get_text (GTK_LABEL (test_child (dialog, "done"))), new_path));
  g_assert_nonnull (strstr (gtk_label_get_text (GTK_LABEL (test_child (dialog, "done"))), "Vessel: 1 lost as a whole."));
  after = dup_checksum (path);
  g_assert_cmpstr (before, ==, after);
  check = wb_app_record_check_sync (new_path, NULL, NULL, NULL);
  g_assert_true (check->sound);
  gtk_window_destroy (GTK_WINDOW (dialog));
  test_window_destroy (window);
}

static gboolean
has_none_left (gpointer application)
{
  return gtk_application_get_windows (application) == NULL;
}

static gboolean
has_restored_open (gpointer application)
{
  for (GList *l = gtk_application_get_windows (application); l != NULL; l = l->next)
    {
      WbDesk *desk = WB_IS_WINDOW (l->data) ? wb_host_get_desk (WB_HOST (l->data)) : NULL;

      if (desk != NULL && g_str_has_suffix (wb_app_notebook_get_path (wb_desk_get_notebook (desk)), " restored.wickbench"))
        return TRUE;
    }
  return FALSE;
}

/* A notebook that cannot be opened: its backups are offered at once, and the new one is open at the end. */
static void
test_damaged (void)
{
  WbApplication *application = test_application ();
  g_autofree char *path = test_path ("damaged.wickbench"), *folder = NULL, *bytes = NULL;
  WbWindow *window = test_window_new_with (path);
  GtkWidget *dialog = NULL;
  gsize length;

  folder = dup_folder (test_notebook (window));
  test_wait (has_backup, folder);
  test_window_destroy (window);
  g_assert_true (g_file_get_contents (path, &bytes, &length, NULL));
  /* Its first page: even that it is a notebook is not to be read any more. */
  memset (bytes, 0, 4096);
  g_assert_true (g_file_set_contents (path, bytes, (gssize) length, NULL));

  g_action_group_activate_action (G_ACTION_GROUP (application), "open-path", g_variant_new_string (path));
  test_wait (has_dialog, &dialog);
  g_assert_nonnull (strstr (gtk_label_get_text (GTK_LABEL (test_child (dialog, "why"))), "is not a notebook"));
  test_wait (can_restore, dialog);
  g_signal_emit_by_name (test_child (dialog, "restore"), "clicked");
  test_wait (has_restored_open, application);
  g_action_group_activate_action (G_ACTION_GROUP (application), "quit", NULL);
  test_wait (has_none_left, application);
}

void
test_restore_add (void)
{
  g_test_add_func ("/views/restore/the-first-frame-brings-the-day-s-backup", test_first_frame);
  g_test_add_func ("/views/restore/a-closed-session-is-in-a-backup-at-once", test_session_closed);
  g_test_add_func ("/views/restore/a-closed-window-leaves-a-backup", test_left);
  g_test_add_func ("/views/restore/a-damaged-backup-is-ruled-out", test_damaged_backup);
  g_test_add_func ("/views/restore/a-backup-that-fails-is-told-and-blocks-nothing", test_in_the_way);
  g_test_add_func ("/views/restore/a-backup-becomes-a-notebook-beside-the-old-one", test_beside);
  g_test_add_func ("/views/restore/a-damaged-notebook-is-offered-its-backups", test_damaged);
  g_test_add_func ("/views/restore/what-can-be-read-of-a-damaged-one-is-salvaged", test_salvage);
}
