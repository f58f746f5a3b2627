/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-backup-own-private.h"
#include "wb-app-backup.h"

#include "wb-app-anchor-private.h"
#include "wb-app-error-private.h"
#include "wb-app-notebook-private.h"
#include "wb-app-reader-private.h"
#include "wb-clock.h"
#include "wb-store-backup.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>

typedef struct
{
  gint64        most_bytes;
  WbInstant     now;
  GCancellable *cancellable;
} Request;

static void
request_free (gpointer data)
{
  Request *self = data;

  g_object_unref (self->cancellable);
  g_free (self);
}

static gboolean
goes_on (gpointer user)
{
  return !g_cancellable_is_cancelled (((const Request *) user)->cancellable);
}

static gboolean
goes_on_at (double   done,
            gpointer user)
{
  return goes_on (user);
}

static gboolean
make_folder (const char *folder,
             GError    **error)
{
  int reason;

  if (g_mkdir_with_parents (folder, 0700) == 0)
    return TRUE;
  reason = errno;
  g_set_error_literal (error, G_FILE_ERROR, (int) g_file_error_from_errno (reason), g_strerror (reason));
  wb_app_error_from_writing (error, folder);
  return FALSE;
}

/* Whether this day has its backup, or one holds the record as it is now. */
static gboolean
is_covered (WbStore   *store,
            GPtrArray *list,
            const char *mark,
            gint64     now_us)
{
  gint64 last = wb_store_get_last_entry (store), entry;

  for (guint i = 0; i < list->len; i++)
    {
      const WbAppBackupOwn *own = list->pdata[i];

      if (strcmp (own->mark, mark) != 0)
        continue;
      if (wb_app_backup_own_get_day (own->made_us) == wb_app_backup_own_get_day (now_us))
        return TRUE;
      if (own->entry == last && wb_store_compare_backup (store, own->path, &entry) == WB_STORE_BACKUP_FITS)
        return TRUE;
    }
  return FALSE;
}

/* Damage is copied as faithfully as all else, and what holds it is no backup. */
static gboolean
read_through (const char *path,
              Request    *request,
              GError    **error)
{
  g_autoptr (WbStore) copy = wb_store_open (path, WB_STORE_READ, error);

  return copy != NULL && wb_store_quick_check (copy, goes_on, request, error);
}

static char *
make (WbStore    *store,
      const char *folder,
      const char *mark,
      Request    *request,
      GError    **error)
{
  g_autofree char *name = wb_app_backup_own_dup_name (request->now.utc_us, wb_store_get_last_entry (store), mark);
  g_autofree char *path = NULL;

  if (name == NULL)
    {
      g_set_error_literal (error, WB_APP_ERROR, WB_APP_ERROR_FAILED, _("The computer's clock shows no time that a file could be named by"));
      return NULL;
    }
  path = g_build_filename (folder, name, NULL);
  if (!wb_store_backup (store, path, goes_on_at, request, error))
    return NULL;
  if (read_through (path, request, error))
    return g_steal_pointer (&path);
  g_unlink (path);
  return NULL;
}

static gpointer
back_up (WbStore      *store,
         gpointer      data,
         GCancellable *cancellable,
         GError      **error)
{
  Request *request = data;
  g_autofree char *uuid = wb_app_anchor_dup_uuid (store);
  g_autofree char *folder = uuid != NULL ? wb_app_backup_own_dup_folder (uuid) : NULL;
  g_autoptr (GPtrArray) before = NULL, after = NULL;
  g_autofree char *path = NULL;
  char mark[9];

  if (uuid == NULL)
    {
      g_set_error (error, WB_APP_ERROR, WB_APP_ERROR_DAMAGED, _("“%s” does not say which notebook it is"), wb_store_get_path (store));
      return NULL;
    }
  wb_app_backup_own_mark (wb_store_get_path (store), mark);
  before = wb_app_backup_own_list (folder);
  if (is_covered (store, before, mark, request->now.utc_us))
    return g_strdup ("");
  if (!make_folder (folder, error))
    return NULL;
  path = make (store, folder, mark, request, error);
  if (path == NULL)
    {
      wb_app_error_from_store (error, WB_APP_ERROR_EXISTS);
      return NULL;
    }
  after = wb_app_backup_own_list (folder);
  wb_app_backup_own_judge (after, request->most_bytes);
  wb_app_backup_own_tidy (after, path);
  return g_steal_pointer (&path);
}

void
wb_app_backup_daily_async (WbAppNotebook      *notebook,
                           gint64              most_bytes,
                           GAsyncReadyCallback callback,
                           gpointer            user)
{
  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));

  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  GTask *task = g_task_new (notebook, cancellable, callback, user);
  Request *request = g_new0 (Request, 1);

  request->most_bytes = most_bytes;
  request->now = wb_clock_now (wb_clock_get ());
  request->cancellable = g_object_ref (cancellable);
  g_task_set_source_tag (task, wb_app_backup_daily_async);
  wb_app_notebook_cancel_at_close (notebook, task);
  wb_app_reader_run (notebook, task, back_up, request, request_free, g_free);
}

char *
wb_app_backup_daily_finish (WbAppNotebook *notebook,
                            GAsyncResult  *result,
                            GError       **error)
{
  g_autofree char *path = NULL;

  g_return_val_if_fail (g_task_is_valid (result, notebook), NULL);
  path = g_task_propagate_pointer (G_TASK (result), error);
  return path != NULL && *path != '\0' ? g_steal_pointer (&path) : NULL;
}
