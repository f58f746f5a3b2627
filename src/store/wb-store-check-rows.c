/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-check-rows-private.h"

#include "wb-store-private.h"
#include "wb-store-table-private.h"

#include <string.h>

/* One table on its way, standing at the next row. */
typedef struct
{
  const char   *name;
  sqlite3_stmt *statement; /* entry, seq, then what is hashed */
  gboolean      at_row;
  gint64        entry;
  gint64        seq;
} Cursor;

struct _WbStoreRows
{
  WbStore *store;
  GArray  *cursors;
  guint    last; /* rows come in runs: the cursor that had the last one */
};

static gboolean
cursor_advance (WbStoreRows *self,
                Cursor      *cursor,
                GError     **error)
{
  WbStep step = wb_store_step (self->store, cursor->statement, error);

  cursor->at_row = step == WB_STEP_ROW;
  if (cursor->at_row)
    {
      cursor->entry = sqlite3_column_int64 (cursor->statement, 0);
      cursor->seq = sqlite3_column_int64 (cursor->statement, 1);
    }
  return step != WB_STEP_ERROR;
}

static gboolean
add_cursor (WbStoreRows *self,
            const char  *name,
            const char  *columns,
            GError     **error)
{
  g_autofree char *sql = g_strdup_printf ("SELECT v.entry, v.seq, %s FROM %s AS v ORDER BY v.entry, v.seq", columns, name);
  Cursor cursor = { .name = name, .statement = wb_store_statement (self->store, sql, error) };

  if (cursor.statement == NULL || !cursor_advance (self, &cursor, error))
    return FALSE;
  g_array_append_val (self->cursors, cursor);
  return TRUE;
}

/* Names are taken from the result's columns, so that what is hashed is what stands in the table. */
static gboolean
add_table (WbStoreRows        *self,
           const WbStoreTable *table,
           GError            **error)
{
  const char *fields = table->columns + strlen ("v.id, v.entry, v.deleted");
  g_autofree char *columns = g_strconcat ("v.id, v.seq, v.previous, v.deleted", fields, NULL);

  return add_cursor (self, table->type->name, columns, error);
}

WbStoreRows *
wb_store_rows_new (WbStore *store,
                   GError **error)
{
  g_autoptr (WbStoreRows) self = g_new0 (WbStoreRows, 1);

  self->store = store;
  self->cursors = g_array_new (FALSE, FALSE, sizeof (Cursor));
  for (guint i = 0; i < wb_store_table_count (); i++)
    if (!add_table (self, wb_store_table_nth (i), error))
      return NULL;
  if (!add_cursor (self, "extra_column", "v.id, v.seq, v.name", error)
      || !add_cursor (self, "extra", "v.reading, v.seq, v.previous, v.column_id, v.value", error))
    return NULL;
  return g_steal_pointer (&self);
}

void
wb_store_rows_free (WbStoreRows *self)
{
  if (self == NULL)
    return;
  for (guint i = 0; i < self->cursors->len; i++)
    wb_store_reset (g_array_index (self->cursors, Cursor, i).statement);
  g_array_unref (self->cursors);
  g_free (self);
}

static void
digest_value (sqlite3_stmt  *statement,
              int            column,
              WbStoreDigest *digest)
{
  const char *name = sqlite3_column_name (statement, column);

  switch (sqlite3_column_type (statement, column))
    {
    case SQLITE_INTEGER:
      wb_store_digest_integer (digest, name, sqlite3_column_int64 (statement, column));
      break;
    case SQLITE_FLOAT:
      wb_store_digest_real (digest, name, sqlite3_column_double (statement, column));
      break;
    case SQLITE_TEXT:
      wb_store_digest_text_of_length (digest, name, (const char *) sqlite3_column_text (statement, column),
                                      (gsize) sqlite3_column_bytes (statement, column));
      break;
    case SQLITE_BLOB:
      wb_store_digest_blob (digest, name, sqlite3_column_blob (statement, column),
                            (gsize) sqlite3_column_bytes (statement, column));
      break;
    default:
      break;
    }
}

void
wb_store_digest_columns (WbStoreDigest *digest,
                         sqlite3_stmt  *statement,
                         int            from,
                         int            to)
{
  for (int i = from; i <= to; i++)
    digest_value (statement, i, digest);
}

void
wb_store_digest_entry (WbStoreDigest *digest,
                       sqlite3_stmt  *statement)
{
  wb_store_digest_begin (digest, NULL);
  wb_store_digest_columns (digest, statement, 0, WB_STORE_ENTRY_ROWS);
  wb_store_digest_end (digest);
}

static void
digest_row (const Cursor  *cursor,
            WbStoreDigest *digest)
{
  wb_store_digest_begin (digest, cursor->name);
  wb_store_digest_columns (digest, cursor->statement, 2, sqlite3_column_count (cursor->statement) - 1);
  wb_store_digest_end (digest);
}

static gboolean
is_at (const Cursor *cursor,
       gint64        entry,
       gint64        seq)
{
  return cursor->at_row && cursor->entry == entry && cursor->seq == seq;
}

static gboolean
is_before (const Cursor *cursor,
           gint64        entry,
           gint64        seq)
{
  return cursor->at_row && (cursor->entry < entry || (cursor->entry == entry && cursor->seq < seq));
}

WbStoreRow
wb_store_rows_take (WbStoreRows   *self,
                    gint64         entry,
                    gint64         seq,
                    WbStoreDigest *digest,
                    GError       **error)
{
  Cursor *cursors = (Cursor *) (gpointer) self->cursors->data;
  guint i = self->last;

  if (!is_at (&cursors[i], entry, seq))
    for (i = 0; i < self->cursors->len && !is_at (&cursors[i], entry, seq); i++)
      if (is_before (&cursors[i], entry, seq))
        return WB_STORE_ROW_EXTRA;
  if (i == self->cursors->len)
    return WB_STORE_ROW_MISSING;

  self->last = i;
  digest_row (&cursors[i], digest);
  return cursor_advance (self, &cursors[i], error) ? WB_STORE_ROW_TAKEN : WB_STORE_ROW_ERROR;
}

gboolean
wb_store_rows_has (WbStoreRows *self,
                   gint64       entry)
{
  for (guint i = 0; i < self->cursors->len; i++)
    if (is_before (&g_array_index (self->cursors, Cursor, i), entry + 1, 0))
      return TRUE;
  return FALSE;
}

gboolean
wb_store_rows_skip (WbStoreRows *self,
                    gint64       entry,
                    GError     **error)
{
  for (guint i = 0; i < self->cursors->len; i++)
    {
      Cursor *cursor = &g_array_index (self->cursors, Cursor, i);

      while (is_before (cursor, entry + 1, 0))
        if (!cursor_advance (self, cursor, error))
          return FALSE;
    }
  return TRUE;
}

gboolean
wb_store_rows_has_any (WbStoreRows *self)
{
  return wb_store_rows_has (self, G_MAXINT64 - 1);
}
