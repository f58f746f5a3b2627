/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-open-private.h"
#include "wb-store-private.h"

#include <errno.h>
#include <gio/gio.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>

/* Temporary copies that are read instead of the notebook: of an older version, brought up to date; of a large one, so that nobody waits. */

/* A connection to a copy of the notebook as it is now; let_go_of_name() when nothing will write to it any more. */
static WbStore *
open_copy (WbStore        *original,
           WbStoreProgress progress,
           gpointer        data,
           GError        **error)
{
  g_autofree char *folder = g_dir_make_tmp ("wickbench-XXXXXX", NULL);
  g_autofree char *path = NULL;

  if (folder == NULL)
    {
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_FAILED, _("No temporary copy of “%s” could be made: %s."),
                   original->path, g_strerror (errno));
      return NULL;
    }
  path = g_build_filename (folder, "copy.wickbench", NULL);

  WbStore *self = NULL;

  if (wb_store_copy_for_now (original, path, progress, data, error))
    self = wb_store_connect (path, TRUE, error);
  if (self == NULL)
    {
      g_unlink (path);
      g_rmdir (folder);
      return NULL;
    }
  self->copy = g_steal_pointer (&path);
  /* Messages name the notebook, not the copy. */
  g_free (self->path);
  self->path = g_strdup (original->path);
  return self;
}

/* The open copy needs no name: without one it goes with the process, however that ends. */
static void
let_go_of_name (WbStore *self)
{
  g_autofree char *folder = g_path_get_dirname (self->copy);
  g_autofree char *journal = g_strconcat (self->copy, "-journal", NULL);

  g_unlink (self->copy);
  g_unlink (journal);
  g_rmdir (folder);
}

WbStore *
wb_store_open_migrated_copy (WbStore             *original,
                             const WbStoreSchema *schema,
                             int                  version,
                             GError             **error)
{
  g_autoptr (WbStore) self = open_copy (original, NULL, NULL, error);

  gboolean migrated = self != NULL && wb_store_migrate (self, schema, version, FALSE, error);

  if (self != NULL)
    let_go_of_name (self);
  if (!migrated)
    return NULL;
  self->read_only = TRUE;
  return g_steal_pointer (&self);
}

WbStore *
wb_store_make_snapshot (WbStore        *store,
                        WbStoreProgress progress,
                        gpointer        data,
                        GError        **error)
{
  sqlite3_file *file = NULL;
  sqlite3_int64 size = 0;
  WbStore *copy;
  GError *local = NULL;

  if (store->copy != NULL || sqlite3_file_control (store->db, "main", SQLITE_FCNTL_FILE_POINTER, &file) != SQLITE_OK
      || file->pMethods == NULL || file->pMethods->xFileSize (file, &size) != SQLITE_OK || size < WB_STORE_SHORT_READ)
    return store;
  copy = open_copy (store, progress, data, &local);
  if (copy == NULL && !g_error_matches (local, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    {
      /* No room for a copy: those who write wait. */
      g_error_free (local);
      return store;
    }
  wb_store_close (store);
  if (copy == NULL)
    {
      g_propagate_error (error, local);
      return NULL;
    }
  let_go_of_name (copy);
  copy->read_only = TRUE;
  sqlite3_exec (copy->db, "PRAGMA query_only = ON", NULL, NULL, NULL);
  return copy;
}

WbStore *
wb_store_open_snapshot (const char     *path,
                        WbStoreProgress progress,
                        gpointer        data,
                        GError        **error)
{
  WbStore *store = wb_store_open (path, WB_STORE_READ, error);

  return store != NULL ? wb_store_make_snapshot (store, progress, data, error) : NULL;
}
