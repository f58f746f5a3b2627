/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-change-private.h"

#include "wb-store-private.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>

/* What stands beside the record types: kept bytes, and the cells of unknown columns. */

gboolean
wb_store_change_attach (WbStoreChange *self,
                        GBytes        *bytes,
                        char           sha256[65],
                        GError       **error)
{
  g_return_val_if_fail (self != NULL && bytes != NULL && !self->broken, FALSE);
  wb_store_assert_thread (self->store);

  gsize length;
  const void *data = g_bytes_get_data (bytes, &length);
  g_autofree char *hex = NULL;
  sqlite3_stmt *statement;

  if (length > WB_STORE_BLOB_MAXIMUM)
    {
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_FAILED, _("A kept file may have 64 MiB at most."));
      return FALSE;
    }
  hex = wb_store_digest_dup_hex (data, length);
  g_strlcpy (sha256, hex, 65);
  statement = wb_store_statement (self->store, "INSERT INTO attachment_data (sha256, bytes) VALUES (?, ?) "
                                  "ON CONFLICT (sha256) DO NOTHING", error);
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_text (statement, 1, hex, -1, SQLITE_STATIC);
  sqlite3_bind_blob64 (statement, 2, data != NULL ? data : "", length, SQLITE_STATIC);
  self->attached = TRUE;
  if (wb_store_run (self->store, statement, error))
    return TRUE;
  self->broken = TRUE;
  return FALSE;
}

gboolean
wb_store_change_write_extra (WbStoreChange *self,
                             gint64         reading,
                             gint64         column,
                             const char    *value,
                             gint64         previous,
                             GError       **error)
{
  sqlite3_stmt *statement = wb_store_statement (self->store, "INSERT INTO extra (reading, entry, seq, previous, column_id, "
                                                "value) VALUES (?, ?, ?, ?, ?, ?)", error);

  self->broken = TRUE;
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, reading);
  sqlite3_bind_int64 (statement, 2, self->entry);
  sqlite3_bind_int64 (statement, 3, self->rows + 1);
  if (previous != 0)
    sqlite3_bind_int64 (statement, 4, previous);
  sqlite3_bind_int64 (statement, 5, column);
  if (value != NULL)
    sqlite3_bind_text (statement, 6, value, -1, SQLITE_STATIC);
  if (!wb_store_run (self->store, statement, error))
    return FALSE;

  self->rows++;
  wb_store_digest_begin (self->digest, "extra");
  wb_store_digest_integer (self->digest, "reading", reading);
  wb_store_digest_integer (self->digest, "seq", self->rows);
  if (previous != 0)
    wb_store_digest_integer (self->digest, "previous", previous);
  wb_store_digest_integer (self->digest, "column_id", column);
  wb_store_digest_text (self->digest, "value", value);
  wb_store_digest_end (self->digest);
  self->broken = FALSE;
  return TRUE;
}

static gint64
make_extra_column (WbStoreChange *self,
                   const char    *name,
                   GError       **error)
{
  gint64 id;
  sqlite3_stmt *statement;

  if (!wb_store_get_integer (self->store, wb_store_statement (self->store, "SELECT max (id) + 1 FROM extra_column", error), 1,
                             &id, error))
    return 0;
  statement = wb_store_statement (self->store, "INSERT INTO extra_column (id, entry, seq, name) VALUES (?, ?, ?, ?)", error);
  self->broken = TRUE;
  if (statement == NULL)
    return 0;
  sqlite3_bind_int64 (statement, 1, id);
  sqlite3_bind_int64 (statement, 2, self->entry);
  sqlite3_bind_int64 (statement, 3, self->rows + 1);
  wb_store_bind_text (statement, 4, name);
  if (!wb_store_run (self->store, statement, error))
    return 0;

  self->rows++;
  wb_store_digest_begin (self->digest, "extra_column");
  wb_store_digest_integer (self->digest, "id", id);
  wb_store_digest_integer (self->digest, "seq", self->rows);
  wb_store_digest_text (self->digest, "name", name);
  wb_store_digest_end (self->digest);
  self->broken = FALSE;
  return id;
}

gint64
wb_store_change_extra_column (WbStoreChange *self,
                              const char    *name,
                              GError       **error)
{
  sqlite3_stmt *statement = wb_store_statement (self->store, "SELECT id FROM extra_column WHERE name = ?", error);
  gint64 id;

  if (statement != NULL)
    wb_store_bind_text (statement, 1, name);
  if (!wb_store_get_integer (self->store, statement, 0, &id, error))
    return 0;
  return id != 0 ? id : make_extra_column (self, name, error);
}

/* The entry of a cell's newest version and whether it says the same; 0: there is none. */
static gboolean
find_extra (WbStoreChange *self,
            gint64         reading,
            gint64         column,
            const char    *value,
            gint64        *previous,
            gboolean      *same,
            GError       **error)
{
  sqlite3_stmt *statement = wb_store_statement (self->store, "SELECT entry, value IS ?3 FROM extra WHERE reading = ?1 AND "
                                                "column_id = ?2 ORDER BY entry DESC LIMIT 1", error);
  WbStep step;

  *previous = 0;
  *same = value == NULL;
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, reading);
  sqlite3_bind_int64 (statement, 2, column);
  wb_store_bind_text (statement, 3, value);
  step = wb_store_step (self->store, statement, error);
  if (step == WB_STEP_ROW)
    {
      *previous = sqlite3_column_int64 (statement, 0);
      *same = sqlite3_column_int (statement, 1);
      wb_store_reset (statement);
    }
  return step != WB_STEP_ERROR;
}

gboolean
wb_store_change_put_extra (WbStoreChange *self,
                           gint64         reading,
                           const char    *column,
                           const char    *value,
                           GError       **error)
{
  g_return_val_if_fail (self != NULL && column != NULL && *column != '\0' && !self->broken, FALSE);
  wb_store_assert_thread (self->store);

  g_autoptr (WbRecord) record = NULL;
  gint64 id, previous;
  gboolean same;

  if (value != NULL && *value == '\0')
    value = NULL;
  if (!wb_store_change_load_newest (self, wb_store_table_find (&wb_reading_type), reading, (gpointer *) &record, error))
    return FALSE;
  if (record == NULL || record->deleted)
    {
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_MISSING, _("There is no reading %" PRId64 "."), reading);
      return FALSE;
    }
  id = wb_store_change_extra_column (self, column, error);
  if (id == 0 || !find_extra (self, reading, id, value, &previous, &same, error))
    return FALSE;
  if (same)
    return TRUE;
  if (previous == self->entry)
    {
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_FAILED, _("A cell can be written once in a change."));
      return FALSE;
    }
  return wb_store_change_write_extra (self, reading, id, value, previous, error);
}
