/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-document-copies-private.h"

#include "wb-app-document.h"

#include <errno.h>
#include <glib/gstdio.h>
#include <signal.h>
#include <string.h>
#include <unistd.h>

#define PREFIX "wickbench-open-"
#define KEY "wb-app-document-copies"

char *
wb_app_document_copies_make_folder (GError **error)
{
  g_autofree char *template = g_strdup_printf (PREFIX "%ld-XXXXXX", (long) getpid ());

  return g_dir_make_tmp (template, error);
}

void
wb_app_document_copies_protect (GFile *copy)
{
  g_return_if_fail (G_IS_FILE (copy));
  /* Where the file system knows no such thing, nothing is lost but that. */
  g_chmod (g_file_peek_path (copy), 0400);
}

/* Only what this program has written: a file for reading only. A link is never followed. */
static void
remove_copy (const char *path)
{
  GStatBuf status;

  if (g_lstat (path, &status) == 0 && S_ISREG (status.st_mode) && (status.st_mode & 0777) == 0400)
    g_unlink (path);
}

void
wb_app_document_copies_add (WbAppNotebook *notebook,
                            GFile         *copy)
{
  GPtrArray *copies;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));
  g_return_if_fail (G_IS_FILE (copy));

  copies = g_object_get_data (G_OBJECT (notebook), KEY);
  if (copies == NULL)
    {
      copies = g_ptr_array_new_with_free_func (g_object_unref);
      g_object_set_data_full (G_OBJECT (notebook), KEY, copies, (GDestroyNotify) g_ptr_array_unref);
    }
  g_ptr_array_add (copies, g_object_ref (copy));
}

void
wb_app_document_copies_remove (WbAppNotebook *notebook)
{
  GPtrArray *copies;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));

  copies = g_object_get_data (G_OBJECT (notebook), KEY);
  for (guint i = 0; copies != NULL && i < copies->len; i++)
    {
      g_autofree char *folder = g_path_get_dirname (g_file_peek_path (copies->pdata[i]));

      remove_copy (g_file_peek_path (copies->pdata[i]));
      g_rmdir (folder);
    }
  g_object_set_data (G_OBJECT (notebook), KEY, NULL);
}

/* Of a process that runs no more. Another user's is none of this program's. */
static gboolean
is_stale (const char *folder,
          const char *name)
{
  const char *digits = name + strlen (PREFIX);
  char *end = NULL;
  gint64 process = g_ascii_strtoll (digits, &end, 10);
  GStatBuf status;

  if (end == digits || *end != '-' || process <= 0 || process > G_MAXINT32)
    return FALSE;
  if (g_lstat (folder, &status) != 0 || !S_ISDIR (status.st_mode) || status.st_uid != getuid ())
    return FALSE;
  return kill ((pid_t) process, 0) != 0 && errno == ESRCH;
}

static void
empty_folder (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);

      remove_copy (path);
    }
  g_rmdir (folder);
}

static void
remove_stale (GTask        *task,
              gpointer      source,
              gpointer      data,
              GCancellable *cancellable)
{
  g_autoptr (GDir) dir = g_dir_open (g_get_tmp_dir (), 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    if (g_str_has_prefix (name, PREFIX))
      {
        g_autofree char *folder = g_build_filename (g_get_tmp_dir (), name, NULL);

        if (is_stale (folder, name))
          empty_folder (folder);
      }
  g_task_return_boolean (task, TRUE);
}

void
wb_app_document_remove_stale_async (GAsyncReadyCallback callback,
                                    gpointer            user)
{
  g_autoptr (GTask) task = g_task_new (NULL, NULL, callback, user);

  g_task_set_source_tag (task, wb_app_document_remove_stale_async);
  g_task_run_in_thread (task, remove_stale);
}
