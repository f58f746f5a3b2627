/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-backup.h"

#include "wb-store-private.h"

#include <errno.h>
#include <fcntl.h>
#include <gio/gio.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <unistd.h>

/* Pages between two looks at the progress; between them others may write. */
#define PAGES_A_STEP 512
/* Each write by another program makes SQLite begin anew; after so many the rest is copied in one go, with a lock. */
#define MOST_RESTARTS 3

static gboolean
cancelled (GError **error)
{
  g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_CANCELLED, _("The copy was cancelled."));
  return FALSE;
}

static gboolean
copy_pages (sqlite3_backup *backup,
            WbStoreProgress progress,
            gpointer        data,
            int            *code,
            GError        **error)
{
  int restarts = 0, remaining = G_MAXINT;

  do
    {
      *code = sqlite3_backup_step (backup, restarts < MOST_RESTARTS ? PAGES_A_STEP : -1);
      if (*code != SQLITE_OK && *code != SQLITE_DONE)
        return TRUE;
      if (sqlite3_backup_remaining (backup) > remaining)
        restarts++;
      remaining = sqlite3_backup_remaining (backup);
      if (progress != NULL
          && !progress (1 - (double) remaining / MAX (1, sqlite3_backup_pagecount (backup)), data))
        return cancelled (error);
    }
  while (*code == SQLITE_OK);
  return TRUE;
}

static gboolean
copy_into (WbStore        *self,
           sqlite3        *to,
           const char     *path,
           WbStoreProgress progress,
           gpointer        data,
           GError        **error)
{
  sqlite3_backup *backup = sqlite3_backup_init (to, "main", self->db, "main");
  gboolean going;
  int code = SQLITE_OK;

  if (backup == NULL)
    {
      wb_store_set_sqlite_error (error, to, path);
      return FALSE;
    }
  going = copy_pages (backup, progress, data, &code, error);
  sqlite3_backup_finish (backup);
  if (!going)
    return FALSE;
  if (code == SQLITE_DONE)
    return TRUE;
  /* The code stays with the connection that failed, and that may be either. */
  wb_store_set_sqlite_error (error, sqlite3_errcode (to) != SQLITE_OK ? to : self->db,
                             sqlite3_errcode (to) != SQLITE_OK ? path : self->path);
  return FALSE;
}

/* The name itself must be on the disk, too. */
static void
sync_folder (const char *path)
{
  g_autofree char *folder = g_path_get_dirname (path);
  int fd = g_open (folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC, 0);

  if (fd >= 0)
    {
      fsync (fd);
      close (fd);
    }
}

/* Gives the finished copy its name, unless someone took it meanwhile. */
static gboolean
give_name (const char *part,
           const char *path,
           GError    **error)
{
  int number;

  if (link (part, path) == 0)
    g_unlink (part);
  else if (errno == EEXIST || g_rename (part, path) != 0) /* some file systems have no links */
    {
      number = errno;
      g_set_error (error, WB_STORE_ERROR, number == EEXIST ? WB_STORE_ERROR_CONFLICT : WB_STORE_ERROR_FAILED,
                   _("The copy could not be named “%s”: %s."), path, g_strerror (number));
      return FALSE;
    }
  sync_folder (path);
  return TRUE;
}

static gboolean
copy_to_file (WbStore        *self,
              const char     *path,
              gboolean        to_stay,
              WbStoreProgress progress,
              gpointer        data,
              GError        **error)
{
  sqlite3 *to = NULL;
  gboolean copied = FALSE;

  if (sqlite3_open_v2 (path, &to, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE | SQLITE_OPEN_NOMUTEX, NULL) != SQLITE_OK)
    wb_store_set_sqlite_error (error, to, path);
  else
    {
      sqlite3_extended_result_codes (to, 1);
      if (!to_stay)
        sqlite3_exec (to, "PRAGMA synchronous = OFF; PRAGMA journal_mode = OFF", NULL, NULL, NULL);
      copied = copy_into (self, to, path, progress, data, error);
    }
  sqlite3_close (to);
  return copied;
}

gboolean
wb_store_copy_for_now (WbStore        *self,
                       const char     *path,
                       WbStoreProgress progress,
                       gpointer        data,
                       GError        **error)
{
  if (copy_to_file (self, path, FALSE, progress, data, error))
    return TRUE;
  g_unlink (path);
  return FALSE;
}

gboolean
wb_store_backup (WbStore        *self,
                 const char     *path,
                 WbStoreProgress progress,
                 gpointer        data,
                 GError        **error)
{
  g_return_val_if_fail (self != NULL && path != NULL, FALSE);
  g_return_val_if_fail (self->change == NULL, FALSE);
  wb_store_assert_thread (self);

  g_autofree char *part = g_strconcat (path, ".XXXXXX", NULL);
  int fd;

  if (g_file_test (path, G_FILE_TEST_EXISTS))
    {
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_CONFLICT, _("There is a file “%s” already."), path);
      return FALSE;
    }
  fd = g_mkstemp_full (part, O_RDWR | O_CLOEXEC, 0644);
  if (fd < 0)
    {
      g_set_error (error, WB_STORE_ERROR, errno == ENOENT ? WB_STORE_ERROR_MISSING : WB_STORE_ERROR_READ_ONLY,
                   _("“%s” cannot be made: %s."), path, g_strerror (errno));
      return FALSE;
    }
  close (fd);

  if (copy_to_file (self, part, TRUE, progress, data, error) && give_name (part, path, error))
    return TRUE;
  g_unlink (part);
  return FALSE;
}
