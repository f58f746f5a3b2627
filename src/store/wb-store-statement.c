/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-statement-private.h"

#include "wb-store-private.h"

#include <errno.h>
#include <glib/gi18n-lib.h>

G_DEFINE_QUARK (wb-store-error-quark, wb_store_error)

/* The system's number for the last thing that failed on one of SQLite's files; 0: none. */
static int
last_errno (sqlite3 *db,
            int      which)
{
  sqlite3_file *file = NULL;
  int number = 0;

  if (sqlite3_file_control (db, "main", which, &file) == SQLITE_OK && file != NULL && file->pMethods != NULL)
    file->pMethods->xFileControl (file, SQLITE_FCNTL_LAST_ERRNO, &number);
  return number;
}

static gboolean
means_no_room (int number)
{
  return number == ENOSPC || number == EDQUOT || number == EFBIG;
}

static gboolean
means_read_only (int number)
{
  return number == EROFS;
}

/*
 * SQLite tells a quota, a file size limit, some full disks and a medium that turned read-only while the file was open as a
 * plain failed write: the system's number tells more. It is asked of the files, because what SQLite
 * does to roll back overwrites the connection's.
 */
static gboolean
failed_because (sqlite3  *db,
                int       code,
                gboolean (*means) (int number))
{
  return (code & 0xff) == SQLITE_IOERR
         && (means (sqlite3_system_errno (db)) || means (last_errno (db, SQLITE_FCNTL_FILE_POINTER))
             || means (last_errno (db, SQLITE_FCNTL_JOURNAL_POINTER)));
}

static WbStoreError
error_code (sqlite3 *db,
            int      code)
{
  if ((code & 0xff) == SQLITE_FULL || failed_because (db, code, means_no_room))
    return WB_STORE_ERROR_FULL;
  if (failed_because (db, code, means_read_only))
    return WB_STORE_ERROR_READ_ONLY;
  if (code == SQLITE_READONLY_DBMOVED)
    return WB_STORE_ERROR_MOVED;

  switch (code & 0xff)
    {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      return WB_STORE_ERROR_LOCKED;
    case SQLITE_READONLY:
    case SQLITE_PERM:
    case SQLITE_AUTH:
    case SQLITE_CANTOPEN: /* of the journal: the file itself was opened before */
      return WB_STORE_ERROR_READ_ONLY;
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
      return WB_STORE_ERROR_DAMAGED;
    default:
      return WB_STORE_ERROR_FAILED;
    }
}

static char *
dup_error_sentence (WbStoreError code,
                    const char  *path)
{
  switch (code)
    {
    case WB_STORE_ERROR_LOCKED:
      return g_strdup_printf (_("“%s” is in use by another program, which did not let go of it for five seconds."), path);
    case WB_STORE_ERROR_READ_ONLY:
      return g_strdup_printf (_("“%s” cannot be written: the file, its folder or the medium is read-only."), path);
    case WB_STORE_ERROR_DAMAGED:
      return g_strdup_printf (_("“%s” is damaged."), path);
    case WB_STORE_ERROR_FULL:
      return g_strdup_printf (_("There is no room left on the disk for “%s”: nothing was saved."), path);
    case WB_STORE_ERROR_MOVED:
      return g_strdup_printf (_("“%s” was moved, deleted or replaced while it was open: nothing was saved."), path);
    default:
      return g_strdup_printf (_("“%s” could not be read or written."), path);
    }
}

void
wb_store_set_sqlite_error (GError    **error,
                           sqlite3    *db,
                           const char *path)
{
  WbStoreError code = error_code (db, sqlite3_extended_errcode (db));
  g_autofree char *sentence = dup_error_sentence (code, path);

  g_set_error (error, WB_STORE_ERROR, code, "%s (SQLite: %s)", sentence, sqlite3_errmsg (db));
}

sqlite3_stmt *
wb_store_statement (WbStore    *self,
                    const char *sql,
                    GError    **error)
{
  wb_store_assert_thread (self);

  sqlite3_stmt *statement = g_hash_table_lookup (self->statements, sql);

  if (statement != NULL)
    {
      sqlite3_reset (statement);
      sqlite3_clear_bindings (statement);
      return statement;
    }
  if (sqlite3_prepare_v3 (self->db, sql, -1, SQLITE_PREPARE_PERSISTENT, &statement, NULL) != SQLITE_OK)
    {
      wb_store_set_sqlite_error (error, self->db, self->path);
      return NULL;
    }
  g_hash_table_insert (self->statements, g_strdup (sql), statement);
  return statement;
}

WbStep
wb_store_step (WbStore      *self,
               sqlite3_stmt *statement,
               GError      **error)
{
  int code = sqlite3_step (statement);

  if (code == SQLITE_ROW)
    return WB_STEP_ROW;
  if (code != SQLITE_DONE)
    wb_store_set_sqlite_error (error, self->db, self->path);
  sqlite3_reset (statement);
  return code == SQLITE_DONE ? WB_STEP_DONE : WB_STEP_ERROR;
}

gboolean
wb_store_run (WbStore      *self,
              sqlite3_stmt *statement,
              GError      **error)
{
  WbStep step;

  if (statement == NULL)
    return FALSE;
  do
    step = wb_store_step (self, statement, error);
  while (step == WB_STEP_ROW);
  return step == WB_STEP_DONE;
}

gboolean
wb_store_exec (WbStore    *self,
               const char *sql,
               GError    **error)
{
  wb_store_assert_thread (self);

  if (sqlite3_exec (self->db, sql, NULL, NULL, NULL) == SQLITE_OK)
    return TRUE;
  wb_store_set_sqlite_error (error, self->db, self->path);
  return FALSE;
}

gboolean
wb_store_get_integer (WbStore      *self,
                      sqlite3_stmt *statement,
                      gint64        otherwise,
                      gint64       *value,
                      GError      **error)
{
  *value = otherwise;
  if (statement == NULL)
    return FALSE;

  WbStep step = wb_store_step (self, statement, error);

  if (step == WB_STEP_ERROR)
    return FALSE;
  if (step == WB_STEP_ROW)
    {
      if (sqlite3_column_type (statement, 0) != SQLITE_NULL)
        *value = sqlite3_column_int64 (statement, 0);
      sqlite3_reset (statement);
    }
  return TRUE;
}

void
wb_store_reset (sqlite3_stmt *statement)
{
  if (statement != NULL)
    sqlite3_reset (statement);
}

void
wb_store_bind_text (sqlite3_stmt *statement,
                    int           index,
                    const char   *text)
{
  if (text == NULL)
    sqlite3_bind_null (statement, index);
  else
    sqlite3_bind_text (statement, index, text, -1, SQLITE_TRANSIENT);
}

char *
wb_store_column_dup_text (sqlite3_stmt *statement,
                          int           column)
{
  return g_strdup ((const char *) sqlite3_column_text (statement, column));
}
