/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-open-private.h"

#include "wb-experiment.h"
#include "wb-store-change-private.h"
#include "wb-store-private.h"
#include "wb-store-table-private.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

#define HEADER_SIZE 100

static void
statement_free (gpointer statement)
{
  sqlite3_finalize (statement);
}

static WbStore *
store_new (const char *path)
{
  WbStore *self = g_new0 (WbStore, 1);

  self->path = g_strdup (path);
  self->thread = g_thread_self ();
  self->in_memory = strcmp (path, ":memory:") == 0;
  self->statements = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, statement_free);
  self->inserts = g_new0 (sqlite3_stmt *, 2 * wb_store_table_count ());
  return self;
}

void
wb_store_set_patience (WbStore *store,
                       int      milliseconds)
{
  store->patience_ms = milliseconds;
  sqlite3_busy_timeout (store->db, milliseconds);
}

void
wb_store_limit_pages_to_size (WbStore *store)
{
  /* SQLite raises a limit below the file's own size to that size. */
  sqlite3_exec (store->db, "PRAGMA max_page_count = 1", NULL, NULL, NULL);
}

/* An opened file is not trusted: nothing in it may run, and nothing in it may make us allocate without bound. */
static gboolean
configure (WbStore *self,
           GError **error)
{
  sqlite3_extended_result_codes (self->db, 1);
  sqlite3_db_config (self->db, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
  sqlite3_db_config (self->db, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, NULL);
  sqlite3_db_config (self->db, SQLITE_DBCONFIG_ENABLE_TRIGGER, 0, NULL);
  sqlite3_db_config (self->db, SQLITE_DBCONFIG_ENABLE_VIEW, 0, NULL);
  sqlite3_db_config (self->db, SQLITE_DBCONFIG_DQS_DDL, 0, NULL);
  sqlite3_db_config (self->db, SQLITE_DBCONFIG_DQS_DML, 0, NULL);
  sqlite3_limit (self->db, SQLITE_LIMIT_LENGTH, WB_STORE_BLOB_MAXIMUM + 1024 * 1024);
  sqlite3_limit (self->db, SQLITE_LIMIT_ATTACHED, 0);
  wb_store_set_patience (self, WB_STORE_PATIENCE_MS);
  return wb_store_exec (self, "PRAGMA foreign_keys = ON; PRAGMA cell_size_check = ON; PRAGMA mmap_size = 0", error);
}

/* What needs a look at the file, and so waits until it is known to be one of ours. */
static gboolean
configure_file (WbStore *self,
                GError **error)
{
  return wb_store_exec (self, "PRAGMA journal_mode = TRUNCATE; PRAGMA synchronous = EXTRA", error);
}

static gboolean
exists (const char *path,
        GError    **error)
{
  GStatBuf info;

  if (g_stat (path, &info) == 0)
    {
      if (S_ISREG (info.st_mode))
        return TRUE;
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_NOT_A_NOTEBOOK, _("“%s” is not a file."), path);
    }
  else if (errno == ENOENT || errno == ENOTDIR)
    g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_MISSING, _("There is no file “%s”."), path);
  else
    g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_FAILED, _("“%s” cannot be reached: %s."), path, g_strerror (errno));
  return FALSE;
}

static gboolean
folder_takes_writing (const char *path)
{
  g_autofree char *folder = g_path_get_dirname (path);

  return g_access (folder, W_OK) == 0;
}

WbStore *
wb_store_connect (const char *path,
                  gboolean    writable,
                  GError    **error)
{
  if (strcmp (path, ":memory:") != 0 && !exists (path, error))
    return NULL;

  g_autoptr (WbStore) self = store_new (path);
  gboolean write = writable && (self->in_memory || folder_takes_writing (path));
  int flags = (write ? SQLITE_OPEN_READWRITE : SQLITE_OPEN_READONLY) | SQLITE_OPEN_NOMUTEX;

  if (sqlite3_open_v2 (path, &self->db, flags, NULL) != SQLITE_OK)
    {
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_FAILED, _("“%s” cannot be opened: %s."), path,
                   sqlite3_system_errno (self->db) != 0 ? g_strerror (sqlite3_system_errno (self->db))
                                                        : sqlite3_errmsg (self->db));
      return NULL;
    }
  self->read_only = sqlite3_db_readonly (self->db, "main") == 1;
  if (!configure (self, error))
    return NULL;
  return g_steal_pointer (&self);
}

static guint32
big_endian (const guint8 *bytes)
{
  return (guint32) bytes[0] << 24 | (guint32) bytes[1] << 16 | (guint32) bytes[2] << 8 | bytes[3];
}

/* SQLite's page count is to be believed if the change counter beside it agrees; a journal may explain a short file. */
static gboolean
is_cut_short (WbStore      *store,
              const guint8 *header,
              gint64        size)
{
  guint32 page = (guint32) header[16] << 8 | header[17];
  g_autofree char *journal = g_strconcat (store->path, "-journal", NULL);
  GStatBuf info;

  if (page == 1)
    page = 65536;
  if (big_endian (header + 24) != big_endian (header + 92))
    return FALSE;
  if (g_stat (journal, &info) == 0 && info.st_size > 0)
    return FALSE;
  return size < (gint64) page * big_endian (header + 28);
}

/*
 * Through SQLite's own file: closing a second descriptor of our own would drop
 * the POSIX locks that other connections of this process hold on the file.
 */
static gboolean
read_header (WbStore      *store,
             guint8        header[HEADER_SIZE],
             sqlite3_int64 *size)
{
  sqlite3_file *file = NULL;

  if (sqlite3_file_control (store->db, "main", SQLITE_FCNTL_FILE_POINTER, &file) != SQLITE_OK || file == NULL
      || file->pMethods == NULL)
    return FALSE;
  return file->pMethods->xFileSize (file, size) == SQLITE_OK && *size >= HEADER_SIZE
         && file->pMethods->xRead (file, header, HEADER_SIZE, 0) == SQLITE_OK;
}

gboolean
wb_store_examine (WbStore *store,
                  int      newest,
                  int     *version,
                  GError **error)
{
  guint8 header[HEADER_SIZE];
  sqlite3_int64 size = 0;

  *version = 0;
  if (!read_header (store, header, &size) || memcmp (header, "SQLite format 3", 16) != 0
      || big_endian (header + 68) != WB_STORE_APPLICATION_ID || (int) big_endian (header + 60) < 1)
    {
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_NOT_A_NOTEBOOK,
                   _("“%s” is not a notebook of this program."), store->path);
      return FALSE;
    }

  *version = (int) big_endian (header + 60);
  if (*version > newest)
    {
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_NEWER,
                   _("“%s” was written by a newer version of this program (file version %d; this program knows versions "
                     "up to %d). It was left as it is."), store->path, *version, newest);
      return FALSE;
    }
  if (header[18] != 1 || header[19] != 1)
    {
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_DAMAGED,
                   _("“%s” was switched to a write-ahead log by another program, and is no longer a notebook in one "
                     "file."), store->path);
      return FALSE;
    }
  if (is_cut_short (store, header, size))
    {
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_DAMAGED,
                   _("“%s” is damaged: the end of the file is missing."), store->path);
      return FALSE;
    }
  return TRUE;
}

WbStore *
wb_store_open_schema (const char          *path,
                      WbStoreMode          mode,
                      const WbStoreSchema *schema,
                      GError             **error)
{
  /* Also for reading: SQLite must be able to roll back what a killed program left half written. */
  g_autoptr (WbStore) self = wb_store_connect (path, TRUE, error);
  int version;

  if (self == NULL || !wb_store_examine (self, schema->newest, &version, error)
      || !configure_file (self, error) || !wb_store_schema_verify (self, schema, version, error))
    return NULL;
  if (mode == WB_STORE_READ)
    {
      self->read_only = TRUE;
      if (!wb_store_exec (self, "PRAGMA query_only = ON", error))
        return NULL;
    }
  if (version == schema->newest)
    return g_steal_pointer (&self);
  if (self->read_only)
    return wb_store_open_migrated_copy (self, schema, version, error);
  return wb_store_migrate (self, schema, version, TRUE, error) ? g_steal_pointer (&self) : NULL;
}

WbStore *
wb_store_open (const char  *path,
               WbStoreMode  mode,
               GError     **error)
{
  g_return_val_if_fail (path != NULL, NULL);

  return wb_store_open_schema (path, mode, wb_store_schema_current (), error);
}

/* Claims the name, so that two programs cannot both believe that they made the file. */
static gboolean
claim (const char *path,
       GError    **error)
{
  int fd = g_open (path, O_CREAT | O_EXCL | O_RDWR | O_CLOEXEC, 0666);

  if (fd >= 0)
    {
      close (fd);
      return TRUE;
    }
  switch (errno)
    {
    case EEXIST:
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_CONFLICT, _("There is a file “%s” already."), path);
      break;
    case EACCES:
    case EPERM:
    case EROFS:
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_READ_ONLY,
                   _("“%s” cannot be made: its folder does not take writing."), path);
      break;
    case ENOENT:
    case ENOTDIR:
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_MISSING, _("“%s” cannot be made: there is no such folder."), path);
      break;
    case ENOSPC:
    case EDQUOT:
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_FULL, _("There is no room left on the disk for “%s”."), path);
      break;
    default:
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_FAILED, _("“%s” cannot be made: %s."), path, g_strerror (errno));
      break;
    }
  return FALSE;
}

WbStore *
wb_store_claim (const char *path,
                GError    **error)
{
  gboolean in_memory = strcmp (path, ":memory:") == 0;
  WbStore *self;

  if (!in_memory && !claim (path, error))
    return NULL;
  self = wb_store_connect (path, TRUE, error);
  if (self == NULL)
    {
      if (!in_memory)
        g_unlink (path);
      return NULL;
    }
  if (configure_file (self, error))
    return self;
  wb_store_give_up (self);
  return NULL;
}

void
wb_store_give_up (WbStore *self)
{
  g_autofree char *path = self->in_memory ? NULL : g_strdup (self->path);
  g_autofree char *journal = g_strconcat (self->path, "-journal", NULL);

  wb_store_close (self);
  if (path == NULL)
    return;
  g_unlink (path);
  g_unlink (journal);
}

static gboolean
write_first_entry (WbStore    *self,
                   const char *title,
                   const char *who,
                   WbInstant   now,
                   GError    **error)
{
  g_autoptr (WbStoreChange) change = wb_store_change_start (self, WB_ENTRY_CREATE, NULL, who, _("Make the notebook"), now,
                                                            error);
  WbNotebook *notebook;
  gboolean put;

  if (change == NULL)
    return FALSE;
  notebook = wb_record_new (&wb_notebook_type);
  notebook->title = g_strdup (title);
  notebook->paper = 0;
  notebook->bench_places = 12;
  put = wb_store_change_put (change, notebook, error);
  wb_record_free (notebook);
  return put && wb_store_commit (g_steal_pointer (&change), NULL, error);
}

WbStore *
wb_store_create_schema (const char          *path,
                        const char          *title,
                        const char          *who,
                        WbInstant            now,
                        const WbStoreSchema *schema,
                        GError             **error)
{
  g_autoptr (WbStore) self = wb_store_claim (path, error);

  if (self == NULL)
    return NULL;
  if (wb_store_exec (self, "BEGIN IMMEDIATE", error))
    {
      if (wb_store_schema_make (self, schema, schema->newest, error) && write_first_entry (self, title, who, now, error))
        return g_steal_pointer (&self);
      sqlite3_exec (self->db, "ROLLBACK", NULL, NULL, NULL);
    }
  wb_store_give_up (g_steal_pointer (&self));
  return NULL;
}

WbStore *
wb_store_create (const char *path,
                 const char *title,
                 const char *who,
                 WbInstant   now,
                 GError    **error)
{
  g_return_val_if_fail (path != NULL, NULL);

  return wb_store_create_schema (path, title, who, now, wb_store_schema_current (), error);
}

/*
 * The file alone is the notebook: the emptied journal that SQLite leaves beside it goes with the
 * last who wrote. Under the write lock, without which another program may be about to need it.
 */
static void
remove_empty_journal (WbStore *self)
{
  const char *file = sqlite3_db_filename (self->db, "main");
  GStatBuf info;

  if (!self->wrote || self->in_memory || file == NULL || *file == '\0' || wb_store_has_moved (self))
    return;
  sqlite3_busy_timeout (self->db, 0);
  if (sqlite3_exec (self->db, "BEGIN IMMEDIATE", NULL, NULL, NULL) != SQLITE_OK)
    return;
  if (g_stat (sqlite3_filename_journal (file), &info) == 0 && info.st_size == 0)
    g_unlink (sqlite3_filename_journal (file));
  sqlite3_exec (self->db, "ROLLBACK", NULL, NULL, NULL);
}

void
wb_store_close (WbStore *self)
{
  if (self == NULL)
    return;
  wb_store_assert_thread (self);

  if (self->change != NULL)
    wb_store_rollback (self->change);
  g_hash_table_unref (self->statements);
  if (self->db != NULL)
    remove_empty_journal (self);
  /* Every statement is gone, so this cannot be refused. */
  sqlite3_close (self->db);
  g_free (self->inserts);
  g_free (self->copy);
  g_free (self->path);
  g_free (self);
}
