/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-salvage-private.h"

#include "wb-store-check.h"
#include "wb-store-open-private.h"

#include <gio/gio.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>

#define CHUNK 4096
#define MOST_LINES 200
/* No row of the record is shorter than this, nor an entry than its hash. */
#define LEAST_ROW 8

void
wb_store_salvage_free (WbStoreSalvage *self)
{
  if (self == NULL)
    return;
  g_free (self->checksum);
  g_free (self->last);
  g_clear_pointer (&self->lines, g_ptr_array_unref);
  g_free (self);
}

void
wb_store_salvage_tell (WbStoreSalvaging *self,
                       char             *text)
{
  if (self->result->lines->len < MOST_LINES)
    g_ptr_array_add (self->result->lines, text);
  else
    g_free (text);
}

static gboolean
goes_on (WbStoreSalvaging *self,
         double            done,
         GError          **error)
{
  if (self->progress == NULL || self->progress (done, self->data))
    return TRUE;
  g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_CANCELLED, _("The salvage was cancelled."));
  return FALSE;
}

/* ---- The bytes ---- */

/* A part that the disk does not give reads as zeros, like any other damage. */
static GBytes *
read_file (sqlite3_file *file,
           GError      **error)
{
  sqlite3_int64 size = 0;
  guint8 *bytes;

  if (file->pMethods->xFileSize (file, &size) != SQLITE_OK)
    size = 0;
  bytes = g_try_malloc0 ((gsize) size + 1);
  if (bytes == NULL)
    {
      g_set_error_literal (error, WB_STORE_ERROR, WB_STORE_ERROR_FAILED, _("There is not enough memory to read the file."));
      return NULL;
    }
  for (sqlite3_int64 at = 0; at < size; at += CHUNK)
    {
      int part = (int) MIN (CHUNK, size - at);

      if (file->pMethods->xRead (file, bytes + at, part, at) != SQLITE_OK)
        memset (bytes + at, 0, (gsize) part);
    }
  return g_bytes_new_take (bytes, (gsize) size);
}

/* Under a shared lock, through SQLite's own file: closing one of our own would drop the locks of this process. */
static GBytes *
read_locked (const char *path,
             GError    **error)
{
  g_autoptr (WbStore) store = wb_store_connect (path, FALSE, error);
  sqlite3_file *file = NULL;
  GBytes *bytes;
  int code = SQLITE_BUSY;

  if (store == NULL)
    return NULL;
  if (sqlite3_file_control (store->db, "main", SQLITE_FCNTL_FILE_POINTER, &file) != SQLITE_OK || file == NULL || file->pMethods == NULL)
    {
      wb_store_set_sqlite_error (error, store->db, path);
      return NULL;
    }
  for (gint64 until = g_get_monotonic_time () + (gint64) WB_STORE_PATIENCE_MS * 1000; code == SQLITE_BUSY;)
    {
      code = file->pMethods->xLock (file, SQLITE_LOCK_SHARED);
      if (code == SQLITE_BUSY && g_get_monotonic_time () > until)
        break;
      if (code == SQLITE_BUSY)
        g_usleep (20000);
    }
  if (code != SQLITE_OK)
    {
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_LOCKED, _("“%s” is being written by another program."), path);
      return NULL;
    }
  bytes = read_file (file, error);
  file->pMethods->xUnlock (file, SQLITE_LOCK_NONE);
  return bytes;
}

/* What a killed program left half written is taken back in a copy, as SQLite would in the file itself. */
static GBytes *
roll_back (GBytes     *bytes,
           const char *journal)
{
  g_autofree char *folder = g_dir_make_tmp ("wickbench-XXXXXX", NULL);
  g_autofree char *copy = folder != NULL ? g_build_filename (folder, "copy.wickbench", NULL) : NULL;
  g_autofree char *beside = folder != NULL ? g_build_filename (folder, "copy.wickbench-journal", NULL) : NULL;
  g_autofree char *text = NULL, *rolled = NULL;
  gsize length;

  if (folder == NULL)
    return bytes;
  if (g_file_get_contents (journal, &text, &length, NULL)
      && g_file_set_contents (copy, g_bytes_get_data (bytes, NULL), (gssize) g_bytes_get_size (bytes), NULL)
      && g_file_set_contents (beside, text, (gssize) length, NULL))
    {
      sqlite3 *db = NULL;

      if (sqlite3_open_v2 (copy, &db, SQLITE_OPEN_READWRITE, NULL) == SQLITE_OK)
        sqlite3_exec (db, "SELECT 1 FROM sqlite_schema", NULL, NULL, NULL);
      sqlite3_close (db);
      if (g_file_get_contents (copy, &rolled, &length, NULL))
        {
          g_bytes_unref (bytes);
          bytes = g_bytes_new_take (g_steal_pointer (&rolled), length);
        }
    }
  g_unlink (copy);
  g_unlink (beside);
  g_rmdir (folder);
  return bytes;
}

/* Another program's file is not ours to take apart, and a newer one's rows may mean something else. */
static gboolean
may_be_ours (WbStorePages *pages,
             const char   *path,
             GError      **error)
{
  guint32 version = wb_store_pages_get_header (pages, 60);

  if (!wb_store_pages_has_header (pages))
    return TRUE;
  if (wb_store_pages_get_header (pages, 68) != WB_STORE_APPLICATION_ID)
    {
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_NOT_A_NOTEBOOK, _("“%s” is not a notebook of this program."), path);
      return FALSE;
    }
  if (version <= (guint32) wb_store_schema_current ()->newest)
    return TRUE;
  g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_NEWER, _("“%s” was written by a newer version of this program."), path);
  return FALSE;
}

/* ---- The new notebook ---- */

static gboolean
build (WbStoreSalvaging *self,
       WbStorePages     *pages,
       GError          **error)
{
  const WbStoreSchema *schema = wb_store_schema_current ();

  return wb_store_exec (self->store, "PRAGMA foreign_keys = OFF; BEGIN IMMEDIATE", error)
         && wb_store_schema_make (self->store, schema, schema->newest, error)
         && goes_on (self, 0.1, error) && wb_store_salvage_read (self, pages, error)
         && goes_on (self, 0.4, error) && wb_store_salvage_mend (self, error)
         && goes_on (self, 0.8, error) && wb_store_exec (self->store, "COMMIT", error);
}

/* It is sound, or it is not made. */
static gboolean
check (WbStoreSalvaging *self,
       const char       *to,
       GError          **error)
{
  g_autoptr (WbStoreCheck) found = wb_store_check (to, NULL, self->progress, self->data, error);
  gint64 dangling = 0;

  if (found == NULL
      || !wb_store_get_integer (self->store, wb_store_statement (self->store, "SELECT count (*) FROM pragma_foreign_key_check", error), 0, &dangling, error))
    return FALSE;
  if (found->finding == WB_CHECK_GOOD && dangling == 0)
    return TRUE;
  g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_DAMAGED, _("What could be read of “%s” makes no sound notebook: %s"), self->name,
               found->text != NULL ? found->text : _("records refer to others that are not there."));
  return FALSE;
}

WbStoreSalvage *
wb_store_salvage (const char     *path,
                  const char     *to,
                  const char     *who,
                  WbInstant       now,
                  WbStoreProgress progress,
                  gpointer        data,
                  GError        **error)
{
  g_return_val_if_fail (path != NULL && to != NULL && now.known, NULL);

  g_autoptr (WbStoreSalvage) result = g_new0 (WbStoreSalvage, 1);
  g_autoptr (GHashTable) kinds = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  g_autofree char *name = g_filename_display_basename (path), *journal = g_strconcat (path, "-journal", NULL);
  WbStoreSalvaging self = { .name = name, .who = who, .now = now, .progress = progress, .data = data, .kinds = kinds, .result = result };
  g_autoptr (WbStorePages) pages = NULL;
  g_autoptr (GBytes) bytes = NULL;
  GStatBuf info;
  gsize length;

  result->lines = g_ptr_array_new_with_free_func (g_free);
  bytes = read_locked (path, error);
  if (bytes == NULL)
    return NULL;
  result->checksum = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, bytes);
  if (g_stat (journal, &info) == 0 && info.st_size > 0)
    bytes = roll_back (g_steal_pointer (&bytes), journal);
  self.most = (gint64) (g_bytes_get_size (bytes) / LEAST_ROW);
  pages = wb_store_pages_new (g_bytes_get_data (bytes, &length), g_bytes_get_size (bytes));
  if (!may_be_ours (pages, path, error))
    return NULL;
  self.store = wb_store_claim (to, error);
  if (self.store == NULL)
    return NULL;
  self.store->wrote = TRUE;
  if (build (&self, pages, error) && check (&self, to, error))
    {
      wb_store_close (self.store);
      return g_steal_pointer (&result);
    }
  wb_store_give_up (self.store);
  return NULL;
}
