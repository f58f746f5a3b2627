/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-records.h"

#include "wb-store-private.h"
#include "wb-store-table-private.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>

/*
 * The entries, and what each of them did to a record. An entry is undone if an
 * undo of it stands, and an undo stands unless it was itself taken back.
 */
#define ENTRY_COLUMNS \
  "e.number, e.instant_us, e.offset_s, e.zone, e.kind, e.topic, e.who, e.why, e.undoes, e.rows, lower (hex (e.hash)), " \
  "(WITH RECURSIVE chain (number, depth) AS (SELECT e.number, 0 UNION ALL " \
  " SELECT u.number, depth + 1 FROM chain JOIN entry AS u ON u.undoes = chain.number) " \
  " SELECT max (depth) FROM chain) % 2"

void
wb_entry_free (WbEntry *self)
{
  if (self == NULL)
    return;
  g_free (self->zone);
  g_free (self->topic);
  g_free (self->who);
  g_free (self->why);
  g_free (self->hash);
  g_free (self);
}

static WbEntryKind
kind_of (const char *nick)
{
  for (guint i = 0; i < WB_N_ENTRY_KINDS; i++)
    if (g_strcmp0 (wb_entry_kind_get_nick (i), nick) == 0)
      return i;
  return WB_ENTRY_COMMAND;
}

static WbEntry *
read_entry (sqlite3_stmt *statement)
{
  WbEntry *entry = g_new0 (WbEntry, 1);

  entry->number = sqlite3_column_int64 (statement, 0);
  entry->at = (WbInstant) { sqlite3_column_int64 (statement, 1), sqlite3_column_int (statement, 2), TRUE };
  entry->zone = wb_store_column_dup_text (statement, 3);
  entry->kind = kind_of ((const char *) sqlite3_column_text (statement, 4));
  entry->topic = wb_store_column_dup_text (statement, 5);
  entry->who = wb_store_column_dup_text (statement, 6);
  entry->why = wb_store_column_dup_text (statement, 7);
  entry->undoes = sqlite3_column_int64 (statement, 8);
  entry->rows = sqlite3_column_int64 (statement, 9);
  entry->hash = wb_store_column_dup_text (statement, 10);
  entry->undone = sqlite3_column_int (statement, 11) != 0;
  return entry;
}

static GPtrArray *
read_entries (WbStore      *self,
              sqlite3_stmt *statement,
              GError      **error)
{
  g_autoptr (GPtrArray) entries = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_entry_free);
  WbStep step;

  while ((step = wb_store_step (self, statement, error)) == WB_STEP_ROW)
    g_ptr_array_add (entries, read_entry (statement));
  return step == WB_STEP_DONE ? g_steal_pointer (&entries) : NULL;
}

WbEntry *
wb_store_load_entry (WbStore *self,
                     gint64   number,
                     GError **error)
{
  g_return_val_if_fail (self != NULL, NULL);
  wb_store_assert_thread (self);

  sqlite3_stmt *statement = wb_store_statement (self, "SELECT " ENTRY_COLUMNS " FROM entry AS e WHERE e.number = ?", error);
  g_autoptr (GPtrArray) entries = NULL;

  if (statement == NULL)
    return NULL;
  sqlite3_bind_int64 (statement, 1, number);
  entries = read_entries (self, statement, error);
  if (entries == NULL)
    return NULL;
  if (entries->len == 0)
    {
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_MISSING, _("There is no entry %" PRId64 "."), number);
      return NULL;
    }
  return g_ptr_array_steal_index (entries, 0);
}

GPtrArray *
wb_store_list_entries (WbStore *self,
                       gint64   before,
                       guint    limit,
                       GError **error)
{
  g_return_val_if_fail (self != NULL, NULL);
  wb_store_assert_thread (self);

  sqlite3_stmt *statement = wb_store_statement (self, "SELECT " ENTRY_COLUMNS " FROM entry AS e WHERE e.number < ? "
                                                "ORDER BY e.number DESC LIMIT ?", error);

  if (statement == NULL)
    return NULL;
  sqlite3_bind_int64 (statement, 1, before > 0 ? before : G_MAXINT64);
  sqlite3_bind_int64 (statement, 2, limit);
  return read_entries (self, statement, error);
}

static void
version_free (gpointer data)
{
  WbStoreVersion *version = data;

  wb_record_free (version->record);
  wb_entry_free (version->entry);
  g_free (version);
}

GPtrArray *
wb_store_list_history (WbStore            *self,
                       const WbRecordType *type,
                       gint64              id,
                       GError            **error)
{
  g_return_val_if_fail (self != NULL && type != NULL, NULL);
  wb_store_assert_thread (self);

  const WbStoreTable *table = wb_store_table_find (type);
  g_autofree char *sql = g_strdup_printf ("SELECT %s FROM %s AS v WHERE v.id = ? ORDER BY v.entry", table->columns,
                                          type->name);
  sqlite3_stmt *statement = wb_store_statement (self, sql, error);
  g_autoptr (GPtrArray) versions = g_ptr_array_new_with_free_func (version_free);
  WbStep step;

  if (statement == NULL)
    return NULL;
  sqlite3_bind_int64 (statement, 1, id);
  while ((step = wb_store_step (self, statement, error)) == WB_STEP_ROW)
    {
      WbStoreVersion *version = g_new0 (WbStoreVersion, 1);

      version->record = wb_store_table_read (table, statement);
      g_ptr_array_add (versions, version);
    }
  if (step == WB_STEP_ERROR)
    return NULL;
  for (guint i = 0; i < versions->len; i++)
    {
      WbStoreVersion *version = versions->pdata[i];

      version->entry = wb_store_load_entry (self, ((WbRecord *) version->record)->entry, error);
      if (version->entry == NULL)
        return NULL;
    }
  return g_steal_pointer (&versions);
}
