/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-backup-own-private.h"
#include "wb-app-backup.h"

#include "wb-app-anchor-private.h"
#include "wb-app-error-private.h"
#include "wb-app-notebook-private.h"
#include "wb-app-reader-private.h"
#include "wb-clock.h"
#include "wb-store-backup-name.h"
#include "wb-store-backup.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>

typedef struct
{
  WbAppBackupNeed need;
  gboolean        leaving; /* nobody waits for a backup to be read through that was read through when it was made */
  gint64          most_bytes;
  WbInstant       now;
  GCancellable   *cancellable;
} Request;

typedef struct
{
  char     *path;     /* NULL: there was nothing to do */
  gboolean  squeezed; /* not all of the days had room */
} Made;

static void
made_free (gpointer data)
{
  Made *self = data;

  g_free (self->path);
  g_free (self);
}

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

/* The notebook as it is now, as its backup would be called. */
static void
take_self (WbStore        *store,
           const Request  *request,
           WbAppBackupOwn *self)
{
  g_autofree char *branch = wb_store_dup_branch (store);

  self->made_us = request->now.utc_us;
  self->entry = wb_store_get_last_entry (store);
  wb_store_backup_mark (wb_store_get_path (store), self->mark);
  g_strlcpy (self->branch, branch != NULL ? branch : "", sizeof self->branch);
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

/* A file may keep its name and its length, and be damaged inside: its name alone speaks for nothing. */
static gboolean
is_good (WbStore    *store,
         const char *path,
         Request    *request)
{
  gint64 entry;

  return wb_store_compare_backup (store, path, &entry) == WB_STORE_BACKUP_FITS && (request->leaving || read_through (path, request, NULL));
}

/* Whether one holds the record as it is now, or this day has its backup and that is enough. */
static gboolean
is_covered (WbStore              *store,
            GPtrArray            *list,
            const WbAppBackupOwn *self,
            Request              *request)
{
  for (guint i = 0; i < list->len; i++)
    {
      const WbAppBackupOwn *own = list->pdata[i];
      /* One made later than now is of a clock that was set back: it speaks for no day. */
      gboolean of_today = request->need == WB_APP_BACKUP_IF_NONE_TODAY && own->made_us <= self->made_us
                          && wb_app_backup_own_get_day (own->made_us) == wb_app_backup_own_get_day (self->made_us);

      if (wb_app_backup_own_is_akin (own, self) && (of_today || own->entry == self->entry) && is_good (store, own->path, request))
        return TRUE;
    }
  return FALSE;
}

/* Whether one of the same day that stays, or another that is held, has all of it. The newest come first. */
static gboolean
is_contained (WbStore   *store,
              GPtrArray *list,
              guint      index)
{
  const WbAppBackupOwn *own = list->pdata[index];
  gboolean first = TRUE;

  for (guint i = 0; i < index; i++)
    {
      const WbAppBackupOwn *other = list->pdata[i];

      if (!wb_app_backup_own_is_akin (other, own) || wb_app_backup_own_get_day (other->made_us) != wb_app_backup_own_get_day (own->made_us))
        continue;
      if ((first || other->held) && !wb_store_takes_back (store, own->entry, other->entry))
        return TRUE;
      first = FALSE;
    }
  /* The day's own last is held by nobody. */
  return first;
}

/* The day's last one does not hold what was taken back after an earlier one: that one stays beside it. */
static void
hold_undone (WbStore              *store,
             GPtrArray            *list,
             const WbAppBackupOwn *self)
{
  for (guint i = 0; i < list->len; i++)
    {
      WbAppBackupOwn *own = list->pdata[i];

      /* Of another branch or place this record knows nothing. */
      own->held = own->version == 0 && wb_app_backup_own_is_akin (own, self) && !is_contained (store, list, i);
    }
}

static char *
make (WbStore              *store,
      const char           *folder,
      const WbAppBackupOwn *self,
      Request              *request,
      GError              **error)
{
  g_autofree char *name = wb_store_backup_dup_name (self->made_us, self->entry, self->mark, self->branch, 0);
  g_autofree char *path = NULL;
  g_autoptr (GError) local_error = NULL;

  if (name == NULL)
    {
      g_set_error_literal (error, WB_APP_ERROR, WB_APP_ERROR_FAILED, _("The computer's clock shows no time that a file could be named by"));
      return NULL;
    }
  path = g_build_filename (folder, name, NULL);
  if (!wb_store_backup (store, path, goes_on_at, request, error))
    return NULL;
  if (read_through (path, request, &local_error))
    return g_steal_pointer (&path);
  /* Being stopped says nothing against the file, which the backup of a closing window may count on already. */
  if (!g_error_matches (local_error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    g_unlink (path);
  g_propagate_error (error, g_steal_pointer (&local_error));
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
  g_autofree char *folder = uuid != NULL ? wb_store_backup_dup_folder (uuid) : NULL;
  g_autoptr (GPtrArray) before = NULL, after = NULL;
  WbAppBackupOwn self = { 0 };
  Made *made;
  char *path;

  if (uuid == NULL)
    {
      g_set_error (error, WB_APP_ERROR, WB_APP_ERROR_DAMAGED, _("“%s” does not say which notebook it is"), wb_store_get_path (store));
      return NULL;
    }
  take_self (store, request, &self);
  before = wb_app_backup_own_list (folder);
  if (is_covered (store, before, &self, request))
    return g_new0 (Made, 1);
  if (!make_folder (folder, error))
    return NULL;
  path = make (store, folder, &self, request, error);
  if (path == NULL)
    {
      wb_app_error_from_store (error, WB_APP_ERROR_EXISTS);
      return NULL;
    }
  made = g_new0 (Made, 1);
  made->path = path;
  after = wb_app_backup_own_list (folder);
  hold_undone (store, after, &self);
  made->squeezed = wb_app_backup_own_judge (after, request->most_bytes) > 0;
  wb_app_backup_own_tidy (after, path);
  wb_app_backup_own_tidy_parts (folder, request->now.utc_us);
  return made;
}

void
wb_app_backup_daily_async (WbAppNotebook      *notebook,
                           WbAppBackupNeed     need,
                           gint64              most_bytes,
                           GAsyncReadyCallback callback,
                           gpointer            user)
{
  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));

  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  GTask *task = g_task_new (notebook, cancellable, callback, user);
  Request *request = g_new0 (Request, 1);

  request->need = need;
  request->most_bytes = most_bytes;
  request->now = wb_clock_now (wb_clock_get ());
  request->cancellable = g_object_ref (cancellable);
  g_task_set_source_tag (task, wb_app_backup_daily_async);
  wb_app_notebook_cancel_at_close (notebook, task);
  wb_app_reader_run (notebook, task, back_up, request, request_free, made_free);
}

char *
wb_app_backup_daily_finish (WbAppNotebook *notebook,
                            GAsyncResult  *result,
                            gboolean      *squeezed,
                            GError       **error)
{
  Made *made;
  char *path = NULL;

  g_return_val_if_fail (g_task_is_valid (result, notebook), NULL);
  made = g_task_propagate_pointer (G_TASK (result), error);
  if (squeezed != NULL)
    *squeezed = made != NULL && made->squeezed;
  if (made == NULL)
    return NULL;
  path = g_steal_pointer (&made->path);
  made_free (made);
  return path;
}

/* ---- When it is closed ---- */

typedef struct
{
  char  *path;
  gint64 most_bytes;
} Leaving;

static void
leaving_free (gpointer data)
{
  g_free (((Leaving *) data)->path);
  g_free (data);
}

static void
leave_in_thread (GTask        *task,
                 gpointer      source,
                 gpointer      data,
                 GCancellable *cancellable)
{
  const Leaving *leaving = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbStore) store = wb_app_reader_connect (leaving->path, &error);
  Request request = {
    .need = WB_APP_BACKUP_IF_NEW,
    .leaving = TRUE,
    .most_bytes = leaving->most_bytes,
    .now = wb_clock_now (wb_clock_get ()),
  };
  Made *made = store != NULL ? back_up (store, &request, NULL, &error) : NULL;

  if (made == NULL)
    {
      g_task_return_error (task, g_steal_pointer (&error));
      return;
    }
  made_free (made);
  g_task_return_boolean (task, TRUE);
}

void
wb_app_backup_leave_async (const char         *path,
                           gint64              most_bytes,
                           GAsyncReadyCallback callback,
                           gpointer            user)
{
  g_return_if_fail (path != NULL);

  g_autoptr (GTask) task = g_task_new (NULL, NULL, callback, user);
  Leaving *leaving = g_new0 (Leaving, 1);

  leaving->path = g_strdup (path);
  leaving->most_bytes = most_bytes;
  g_task_set_source_tag (task, wb_app_backup_leave_async);
  g_task_set_task_data (task, leaving, leaving_free);
  g_task_run_in_thread (task, leave_in_thread);
}

gboolean
wb_app_backup_leave_finish (GAsyncResult *result,
                            GError      **error)
{
  g_return_val_if_fail (g_task_is_valid (result, NULL), FALSE);
  return g_task_propagate_boolean (G_TASK (result), error);
}
