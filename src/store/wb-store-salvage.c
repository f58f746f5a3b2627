/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-salvage-private.h"

#include "wb-store-check.h"
#include "wb-store-open-private.h"

#include <errno.h>
#include <fcntl.h>
#include <gio/gio.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

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

/* A copy that nobody writes to, in a folder of its own beside the new notebook, where there must be room anyhow: memory is no place for a file. */
typedef struct
{
  char  *folder;
  char  *path;
  char  *checksum; /* SHA-256 of what was copied */
  gsize  length;
  int    file;     /* -1: not open */
} Copy;

static void
copy_clear (Copy *self)
{
  if (self->file >= 0)
    close (self->file);
  if (self->path != NULL)
    {
      g_autofree char *journal = g_strconcat (self->path, "-journal", NULL);

      g_unlink (self->path);
      g_unlink (journal);
    }
  if (self->folder != NULL)
    g_rmdir (self->folder);
  g_free (self->folder);
  g_free (self->path);
  g_free (self->checksum);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Copy, copy_clear)

static WbStoreError
get_code (int reason)
{
  switch (reason)
    {
    case ENOSPC:
    case EDQUOT:
      return WB_STORE_ERROR_FULL;
    case EACCES:
    case EPERM:
    case EROFS:
      return WB_STORE_ERROR_READ_ONLY;
    case ENOENT:
    case ENOTDIR:
      return WB_STORE_ERROR_MISSING;
    default:
      return WB_STORE_ERROR_FAILED;
    }
}

static gboolean
set_copy_error (const char *path,
                GError    **error)
{
  int reason = errno;

  g_set_error (error, WB_STORE_ERROR, get_code (reason), _("A copy of the file cannot be made at “%s”: %s."), path, g_strerror (reason));
  return FALSE;
}

static gboolean
copy_open (Copy       *self,
           const char *to,
           GError    **error)
{
  self->folder = g_strconcat (to, ".XXXXXX", NULL);
  if (g_mkdtemp_full (self->folder, 0700) == NULL)
    {
      g_clear_pointer (&self->folder, g_free);
      return set_copy_error (to, error);
    }
  self->path = g_build_filename (self->folder, "copy.wickbench", NULL);
  self->file = g_open (self->path, O_CREAT | O_EXCL | O_RDWR | O_CLOEXEC, 0600);
  return self->file >= 0 || set_copy_error (self->path, error);
}

static gboolean
write_all (int           file,
           const guint8 *bytes,
           gsize         n)
{
  while (n > 0)
    {
      gssize put = write (file, bytes, n);

      if (put < 0)
        return FALSE;
      bytes += put;
      n -= (gsize) put;
    }
  return TRUE;
}

/* A part that the disk does not give reads as zeros, like any other damage. */
static gboolean
copy_take (Copy         *self,
           sqlite3_file *from,
           GError      **error)
{
  g_autoptr (GChecksum) checksum = g_checksum_new (G_CHECKSUM_SHA256);
  guint8 chunk[CHUNK];
  sqlite3_int64 size = 0;

  if (from->pMethods->xFileSize (from, &size) != SQLITE_OK)
    size = 0;
  for (sqlite3_int64 at = 0; at < size; at += CHUNK)
    {
      int part = (int) MIN (CHUNK, size - at);

      if (from->pMethods->xRead (from, chunk, part, at) != SQLITE_OK)
        memset (chunk, 0, (gsize) part);
      g_checksum_update (checksum, chunk, part);
      if (!write_all (self->file, chunk, (gsize) part))
        return set_copy_error (self->path, error);
    }
  self->length = (gsize) size;
  self->checksum = g_strdup (g_checksum_get_string (checksum));
  return TRUE;
}

/* Under a shared lock, through SQLite's own file: closing one of our own would drop the locks of this process. */
static gboolean
copy_locked (Copy       *self,
             const char *path,
             GError    **error)
{
  g_autoptr (WbStore) store = wb_store_connect (path, FALSE, error);
  sqlite3_file *file = NULL;
  gboolean taken;
  int code = SQLITE_BUSY;

  if (store == NULL)
    return FALSE;
  if (sqlite3_file_control (store->db, "main", SQLITE_FCNTL_FILE_POINTER, &file) != SQLITE_OK || file == NULL || file->pMethods == NULL)
    {
      wb_store_set_sqlite_error (error, store->db, path);
      return FALSE;
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
      return FALSE;
    }
  taken = copy_take (self, file, error);
  file->pMethods->xUnlock (file, SQLITE_LOCK_NONE);
  return taken;
}

/* What a killed program left half written is taken back in the copy, as SQLite would in the file itself. Where that does not work it stays as it is. */
static void
copy_roll_back (Copy       *self,
                const char *journal)
{
  g_autofree char *beside = g_strconcat (self->path, "-journal", NULL);
  g_autoptr (GFile) from = g_file_new_for_path (journal), to = g_file_new_for_path (beside);
  sqlite3 *db = NULL;
  GStatBuf info;

  if (!g_file_copy (from, to, G_FILE_COPY_NONE, NULL, NULL, NULL, NULL))
    return;
  if (sqlite3_open_v2 (self->path, &db, SQLITE_OPEN_READWRITE, NULL) == SQLITE_OK)
    sqlite3_exec (db, "SELECT 1 FROM sqlite_schema", NULL, NULL, NULL);
  sqlite3_close (db);
  if (g_stat (self->path, &info) == 0)
    self->length = (gsize) info.st_size;
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
  g_auto (Copy) copy = { .file = -1 };
  g_autoptr (WbStorePages) pages = NULL;
  GStatBuf info;

  result->lines = g_ptr_array_new_with_free_func (g_free);
  if (!copy_open (&copy, to, error) || !copy_locked (&copy, path, error))
    return NULL;
  result->checksum = g_strdup (copy.checksum);
  if (g_stat (journal, &info) == 0 && info.st_size > 0)
    copy_roll_back (&copy, journal);
  self.most = (gint64) (copy.length / LEAST_ROW);
  pages = wb_store_pages_new (copy.file, copy.length);
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
