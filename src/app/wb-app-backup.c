/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-backup-private.h"

#include "wb-app-anchor-private.h"
#include "wb-app-backup-own-private.h"
#include "wb-app-error-private.h"
#include "wb-app-reader-private.h"
#include "wb-app-state-private.h"
#include "wb-store-backup-name.h"
#include "wb-store-backup.h"
#include "wb-store-records.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* Backups of one notebook whose places are remembered: the newest so many. */
#define MOST_REMEMBERED 50

static char *
dup_list_file (const char *uuid,
               const char *notebook)
{
  g_autofree char *key = wb_app_anchor_dup_key_of (uuid, notebook), *folder = wb_app_state_dup_folder ("backups");

  return g_build_filename (folder, key, NULL);
}

/* A path a line, escaped, the newest last. Never NULL; caller frees. */
static GPtrArray *
load_remembered (const char *file)
{
  GPtrArray *paths = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = NULL;

  if (!g_file_get_contents (file, &text, NULL, NULL))
    return paths;
  lines = g_strsplit (text, "\n", -1);
  for (guint i = 0; lines[i] != NULL; i++)
    if (*lines[i] != '\0')
      g_ptr_array_add (paths, g_strcompress (lines[i]));
  return paths;
}

/* What cannot be written is let be: the backup is made, and only the check knows one witness less. */
static void
remember (WbStore    *store,
          const char *path)
{
  g_autofree char *uuid = wb_app_anchor_dup_uuid (store);
  g_autofree char *file = uuid != NULL ? dup_list_file (uuid, wb_store_get_path (store)) : NULL;
  g_autofree char *folder = file != NULL ? g_path_get_dirname (file) : NULL;
  g_autoptr (GPtrArray) paths = NULL;
  g_autoptr (GString) text = g_string_new (NULL);

  if (file == NULL || g_mkdir_with_parents (folder, 0700) != 0)
    return;
  paths = load_remembered (file);
  g_ptr_array_add (paths, g_canonicalize_filename (path, NULL));
  for (guint i = paths->len > MOST_REMEMBERED ? paths->len - MOST_REMEMBERED : 0; i < paths->len; i++)
    {
      g_autofree char *escaped = g_strescape (paths->pdata[i], NULL);

      g_string_append_printf (text, "%s\n", escaped);
    }
  g_file_set_contents_full (file, text->str, (gssize) text->len, G_FILE_SET_CONTENTS_CONSISTENT, 0600, NULL);
}

void
wb_app_backup_add_remembered (GPtrArray  *paths,
                              const char *uuid,
                              const char *notebook)
{
  g_autofree char *file = dup_list_file (uuid, notebook);
  g_autoptr (GPtrArray) remembered = load_remembered (file);

  for (guint i = 0; i < remembered->len; i++)
    g_ptr_array_add (paths, g_strdup (remembered->pdata[i]));
}

void
wb_app_backup_add_beside (GPtrArray  *paths,
                          const char *notebook)
{
  g_autofree char *folder = g_path_get_dirname (notebook), *base = g_path_get_basename (notebook);
  g_autofree char *prefix = g_strconcat (base, ".version-", NULL);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    if (g_str_has_prefix (name, prefix))
      g_ptr_array_add (paths, g_build_filename (folder, name, NULL));
}

/* Those that were made of the notebook in this place: one of a copy of it elsewhere may have gone another way. */
static void
add_own (GPtrArray  *paths,
         const char *uuid,
         const char *notebook)
{
  g_autofree char *folder = wb_store_backup_dup_folder (uuid);
  g_autoptr (GPtrArray) own = wb_app_backup_own_list (folder);
  char mark[9];

  wb_store_backup_mark (notebook, mark);
  for (guint i = 0; i < own->len; i++)
    {
      const WbAppBackupOwn *one = own->pdata[i];

      if (strcmp (one->mark, mark) == 0)
        g_ptr_array_add (paths, g_strdup (one->path));
    }
}

/* A person put the notebook back there, on purpose: what was written after that entry before is another branch, and no loss. */
static gboolean
is_restored_at (WbStore *store,
                gint64   entry)
{
  g_autoptr (WbEntry) there = wb_store_load_entry (store, entry, NULL);

  return there != NULL && there->kind == WB_ENTRY_RESTORE;
}

static gboolean
fits (WbStore    *store,
      const char *path,
      char      **finding,
      gint64     *entry)
{
  switch (wb_store_compare_backup (store, path, entry))
    {
    case WB_STORE_BACKUP_KNOWS_MORE:
      *finding = g_strdup_printf (_("The backup “%s” holds entry %d, which is not here: the newest entries were cut off, an older copy stands in the file's place, or somebody went on writing in the backup"),
                                  path, (int) *entry);
      return FALSE;
    case WB_STORE_BACKUP_DIFFERS:
      if (is_restored_at (store, *entry))
        return TRUE;
      *finding = g_strdup_printf (_("From entry %d on this is not the record of which “%s” is a backup: one of the two was written anew"),
                                  (int) *entry, path);
      return FALSE;
    case WB_STORE_BACKUP_FITS:
    case WB_STORE_BACKUP_NONE:
    default:
      return TRUE;
    }
}

gboolean
wb_app_backup_check (WbStore *store,
                     char   **finding,
                     gint64  *entry)
{
  g_autoptr (GPtrArray) paths = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *uuid = wb_app_anchor_dup_uuid (store);
  gint64 at = 0;

  if (uuid != NULL)
    {
      wb_app_backup_add_remembered (paths, uuid, wb_store_get_path (store));
      add_own (paths, uuid, wb_store_get_path (store));
    }
  wb_app_backup_add_beside (paths, wb_store_get_path (store));
  for (guint i = 0; i < paths->len; i++)
    if (!fits (store, paths->pdata[i], finding, &at))
      {
        *entry = at;
        return FALSE;
      }
  return TRUE;
}

typedef struct
{
  char     *path;
  WbAppJob *job;
} Request;

static void
request_free (gpointer data)
{
  Request *self = data;

  g_free (self->path);
  g_clear_object (&self->job);
  g_free (self);
}

static gpointer
back_up (WbStore      *store,
         gpointer      data,
         GCancellable *cancellable,
         GError      **error)
{
  const Request *request = data;

  if (!wb_store_backup (store, request->path, wb_app_job_keep_going, request->job, error))
    {
      wb_app_error_from_store (error, WB_APP_ERROR_EXISTS);
      return NULL;
    }
  remember (store, request->path);
  return g_strdup (request->path);
}

void
wb_app_backup_async (WbAppNotebook      *notebook,
                     const char         *path,
                     WbAppJob           *job,
                     GAsyncReadyCallback callback,
                     gpointer            user)
{
  GTask *task = g_task_new (notebook, job != NULL ? wb_app_job_get_cancellable (job) : NULL, callback, user);
  Request *request = g_new0 (Request, 1);

  g_task_set_source_tag (task, wb_app_backup_async);
  request->path = g_strdup (path);
  request->job = job != NULL ? g_object_ref (job) : NULL;
  wb_app_reader_run (notebook, task, back_up, request, request_free, g_free);
}

gboolean
wb_app_backup_finish (WbAppNotebook *notebook,
                      GAsyncResult  *result,
                      GError       **error)
{
  g_autofree char *path = NULL;

  g_return_val_if_fail (g_task_is_valid (result, notebook), FALSE);
  path = g_task_propagate_pointer (G_TASK (result), error);
  return path != NULL;
}

char *
wb_app_backup_dup_name (WbAppNotebook *notebook,
                        WbDay          day)
{
  g_autofree char *base = g_path_get_basename (wb_app_notebook_get_path (notebook));
  g_autofree char *date = wb_day_format (day);

  if (g_str_has_suffix (base, ".wickbench"))
    base[strlen (base) - strlen (".wickbench")] = '\0';
  return g_strdup_printf ("%s %s.wickbench", base, date);
}
