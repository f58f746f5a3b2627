/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-stream.h"

#include "wb-store-private.h"
#include "wb-store-table-private.h"

static gboolean
pass_records (WbStore             *self,
              const WbStoreTable  *table,
              sqlite3_stmt        *statement,
              WbStoreStreamRecord  callback,
              gpointer             data,
              GError             **error)
{
  WbStep step;

  while ((step = wb_store_step (self, statement, error)) == WB_STEP_ROW)
    {
      g_autoptr (WbRecord) record = wb_store_table_read (table, statement);

      if (!callback (record, data, error))
        {
          wb_store_reset (statement);
          return FALSE;
        }
    }
  return step == WB_STEP_DONE;
}

gboolean
wb_store_stream_records (WbStore             *self,
                         const WbRecordType  *type,
                         WbStoreStreamWhich   which,
                         WbStoreStreamRecord  callback,
                         gpointer             data,
                         GError             **error)
{
  const WbStoreTable *table = wb_store_table_find (type);
  g_autofree char *sql = NULL;
  sqlite3_stmt *statement;
  gboolean begun, done = FALSE;

  g_return_val_if_fail (self != NULL && table != NULL, FALSE);
  wb_store_assert_thread (self);

  sql = g_strdup_printf ("SELECT %s FROM %s v WHERE %s(%s) ORDER BY v.id, v.entry", table->columns, type->name,
                         which == WB_STORE_STREAM_EARLIER ? "NOT " : "", table->current);
  if (!wb_store_begin_read (self, &begun, error))
    return FALSE;
  statement = wb_store_statement (self, sql, error);
  if (statement != NULL)
    done = pass_records (self, table, statement, callback, data, error);
  wb_store_end_read (self, begun);
  return done;
}

gboolean
wb_store_stream_cells (WbStore            *self,
                       WbStoreStreamCell   callback,
                       gpointer            data,
                       GError            **error)
{
  sqlite3_stmt *statement;
  WbStep step = WB_STEP_ERROR;
  gboolean begun;

  g_return_val_if_fail (self != NULL, FALSE);
  wb_store_assert_thread (self);

  if (!wb_store_begin_read (self, &begun, error))
    return FALSE;
  statement = wb_store_statement (self, "SELECT x.reading, c.name, x.value FROM extra x JOIN extra_column c ON c.id = x.column_id "
                                  "WHERE x.value IS NOT NULL AND x.entry = (SELECT max (y.entry) FROM extra y WHERE "
                                  "y.reading = x.reading AND y.column_id = x.column_id) ORDER BY x.reading, x.column_id", error);
  while (statement != NULL && (step = wb_store_step (self, statement, error)) == WB_STEP_ROW)
    if (!callback (sqlite3_column_int64 (statement, 0), (const char *) sqlite3_column_text (statement, 1),
                   (const char *) sqlite3_column_text (statement, 2), data, error))
      {
        wb_store_reset (statement);
        step = WB_STEP_ERROR;
        break;
      }
  wb_store_end_read (self, begun);
  return step == WB_STEP_DONE;
}
