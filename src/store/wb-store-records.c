/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-records.h"

#include "wb-reading.h"
#include "wb-store-identity-private.h"
#include "wb-store-private.h"
#include "wb-text.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>

gpointer
wb_store_load (WbStore            *self,
               const WbRecordType *type,
               gint64              id,
               GError            **error)
{
  g_return_val_if_fail (self != NULL && type != NULL, NULL);
  wb_store_assert_thread (self);

  const WbStoreTable *table = wb_store_table_find (type);
  sqlite3_stmt *statement = wb_store_statement (self, table->load, error);
  g_autoptr (WbRecord) record = NULL;
  WbStep step;

  if (statement == NULL)
    return NULL;
  sqlite3_bind_int64 (statement, 1, id);
  step = wb_store_step (self, statement, error);
  if (step == WB_STEP_ROW)
    {
      record = wb_store_table_read (table, statement);
      wb_store_reset (statement);
    }
  if (step != WB_STEP_ERROR && (record == NULL || record->deleted))
    {
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_MISSING,
                   _("There is no such record (%s %" PRId64 ")."), type->name, id);
      return NULL;
    }
  return g_steal_pointer (&record);
}

/* Reads all rows of a statement, which is bound already. */
static GPtrArray *
read_all (WbStore            *self,
          const WbStoreTable *table,
          sqlite3_stmt       *statement,
          GError            **error)
{
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  WbStep step;

  while ((step = wb_store_step (self, statement, error)) == WB_STEP_ROW)
    g_ptr_array_add (records, wb_store_table_read (table, statement));
  return step == WB_STEP_DONE ? g_steal_pointer (&records) : NULL;
}

GPtrArray *
wb_store_list (WbStore            *self,
               const WbRecordType *type,
               const char         *field,
               gint64              value,
               GError            **error)
{
  g_return_val_if_fail (self != NULL && type != NULL, NULL);
  wb_store_assert_thread (self);

  const WbStoreTable *table = wb_store_table_find (type);
  const WbFieldSpec *spec = field != NULL ? wb_record_type_find_field (type, field) : NULL;
  g_autofree char *condition = field != NULL ? g_strdup_printf ("v.%s IS ?1 AND ", field) : g_strdup ("");
  g_autofree char *sql = g_strdup_printf ("SELECT %s FROM %s AS v WHERE %s%s ORDER BY %sv.id", table->columns, type->name,
                                          condition, table->current, table->is_reading ? "v.elapsed_min, " : "");
  sqlite3_stmt *statement;

  g_return_val_if_fail (field == NULL || spec != NULL, NULL);
  statement = wb_store_statement (self, sql, error);
  if (statement == NULL)
    return NULL;
  if (spec != NULL && spec->type == WB_FIELD_ENUM)
    {
      g_autoptr (WbRecord) example = wb_record_new (type);

      wb_record_set_integer (example, spec, value);
      wb_store_field_bind (spec, example, statement, 1);
    }
  else if (spec != NULL && value != 0)
    sqlite3_bind_int64 (statement, 1, value);
  return read_all (self, table, statement, error);
}

GPtrArray *
wb_store_list_versions (WbStore            *self,
                        const WbRecordType *type,
                        const char         *field,
                        gint64              value,
                        GError            **error)
{
  g_return_val_if_fail (self != NULL && type != NULL, NULL);
  g_return_val_if_fail (field == NULL || wb_record_type_find_field (type, field) != NULL, NULL);
  wb_store_assert_thread (self);

  const WbStoreTable *table = wb_store_table_find (type);
  g_autofree char *where = field != NULL ? g_strdup_printf ("WHERE v.%s = ?1", field) : g_strdup ("");
  g_autofree char *sql = g_strdup_printf ("SELECT %s FROM %s AS v %s ORDER BY v.id, v.entry", table->columns, type->name, where);
  sqlite3_stmt *statement = wb_store_statement (self, sql, error);

  if (statement == NULL)
    return NULL;
  if (field != NULL)
    sqlite3_bind_int64 (statement, 1, value);
  return read_all (self, table, statement, error);
}

gint64
wb_store_find_by_text (WbStore            *self,
                       const WbRecordType *type,
                       const char         *field,
                       const char         *text,
                       GError            **error)
{
  g_return_val_if_fail (self != NULL && type != NULL && field != NULL, -1);
  g_return_val_if_fail (wb_record_type_find_field (type, field) != NULL, -1);
  wb_store_assert_thread (self);

  const WbStoreTable *table = wb_store_table_find (type);
  g_autofree char *sql = g_strdup_printf ("SELECT v.id FROM %s AS v WHERE v.%s = ?1 AND %s ORDER BY v.id LIMIT 1",
                                          type->name, field, table->current);
  g_autofree char *clean = text != NULL ? wb_text_dup_clean (text, -1) : NULL;
  sqlite3_stmt *statement;
  gint64 id;

  if (clean == NULL)
    return 0;
  statement = wb_store_statement (self, sql, error);
  if (statement != NULL)
    wb_store_bind_text (statement, 1, clean);
  return wb_store_get_integer (self, statement, 0, &id, error) ? id : -1;
}

/* The id under which the notebook knows a UUID, of what is deleted too; table: of its kind. 0: none, -1: error. */
static gint64
find_object (WbStore             *self,
             const WbUuid        *uuid,
             const WbStoreTable **table,
             GError             **error)
{
  sqlite3_stmt *statement = wb_store_statement (self, "SELECT id, type FROM object WHERE uuid = ?", error);
  g_autofree char *name = NULL;
  gint64 id;
  WbStep step;

  if (statement == NULL)
    return -1;
  sqlite3_bind_blob (statement, 1, uuid, sizeof *uuid, SQLITE_STATIC);
  step = wb_store_step (self, statement, error);
  if (step != WB_STEP_ROW)
    return step == WB_STEP_DONE ? 0 : -1;
  id = sqlite3_column_int64 (statement, 0);
  name = wb_store_column_dup_text (statement, 1);
  wb_store_reset (statement);
  *table = wb_store_table_named (name);
  return *table != NULL ? id : 0;
}

gint64
wb_store_find_by_uuid (WbStore             *self,
                       const WbUuid        *uuid,
                       const WbRecordType **type,
                       GError             **error)
{
  g_return_val_if_fail (self != NULL && uuid != NULL, -1);
  wb_store_assert_thread (self);

  g_autoptr (WbRecord) record = NULL;
  const WbStoreTable *table = NULL;
  gint64 id = find_object (self, uuid, &table, error);

  if (id <= 0)
    return id;
  record = wb_store_load (self, table->type, id, NULL);
  if (record == NULL)
    return 0;
  if (type != NULL)
    *type = table->type;
  return id;
}

gpointer
wb_store_load_deleted_by_uuid (WbStore             *self,
                               const WbRecordType  *type,
                               const WbUuid        *uuid,
                               GError             **error)
{
  g_return_val_if_fail (self != NULL && type != NULL && uuid != NULL, NULL);
  wb_store_assert_thread (self);

  g_autoptr (GPtrArray) versions = NULL;
  const WbStoreTable *table = NULL;
  gint64 id = find_object (self, uuid, &table, error);
  const WbStoreVersion *last;

  if (id <= 0 || table->type != type)
    return NULL;
  versions = wb_store_list_history (self, type, id, error);
  if (versions == NULL || versions->len == 0)
    return NULL;
  last = g_ptr_array_index (versions, versions->len - 1);
  return ((const WbRecord *) last->record)->deleted ? wb_record_copy (last->record) : NULL;
}

gpointer
wb_store_load_notebook (WbStore *self,
                        GError **error)
{
  g_autoptr (GPtrArray) all = wb_store_list (self, &wb_notebook_type, NULL, 0, error);

  if (all == NULL)
    return NULL;
  if (all->len != 1)
    {
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_DAMAGED, _("“%s” is damaged: it does not say whose notebook it is."),
                   self->path);
      return NULL;
    }
  return g_ptr_array_steal_index (all, 0);
}

static gboolean
add_uses (WbStore            *self,
          const WbStoreTable *table,
          const WbFieldSpec  *field,
          gint64              id,
          GArray             *uses,
          GError            **error)
{
  g_autofree char *sql = g_strdup_printf ("SELECT count (*), min (v.id) FROM %s AS v WHERE v.%s = ?1 AND %s",
                                          table->type->name, field->name, table->current);
  sqlite3_stmt *statement = wb_store_statement (self, sql, error);
  WbStoreUse use = { table->type, field, 0, 0, wb_store_field_is_part_of (table->type, field) };

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, id);
  if (wb_store_step (self, statement, error) != WB_STEP_ROW)
    return FALSE;
  use.count = sqlite3_column_int64 (statement, 0);
  use.first = sqlite3_column_int64 (statement, 1);
  wb_store_reset (statement);
  if (use.count > 0)
    g_array_append_val (uses, use);
  return TRUE;
}

GArray *
wb_store_list_uses (WbStore            *self,
                    const WbRecordType *type,
                    gint64              id,
                    GError            **error)
{
  g_return_val_if_fail (self != NULL && type != NULL, NULL);
  wb_store_assert_thread (self);

  g_autoptr (GArray) uses = g_array_new (FALSE, FALSE, sizeof (WbStoreUse));

  /* Readings count ids of their own, and nothing refers to one. */
  for (guint i = 0; type != &wb_reading_type && i < wb_store_table_count (); i++)
    {
      const WbStoreTable *table = wb_store_table_nth (i);

      for (guint j = 0; j < table->type->n_fields; j++)
        {
          const WbFieldSpec *field = &table->type->fields[j];

          if (field->type == WB_FIELD_REFERENCE && (field->target == NULL || field->target == type)
              && !add_uses (self, table, field, id, uses, error))
            return NULL;
        }
    }
  return g_steal_pointer (&uses);
}

char **
wb_store_list_extra_columns (WbStore *self,
                             GError **error)
{
  g_return_val_if_fail (self != NULL, NULL);
  wb_store_assert_thread (self);

  g_autoptr (GStrvBuilder) names = g_strv_builder_new ();
  sqlite3_stmt *statement = wb_store_statement (self, "SELECT name FROM extra_column ORDER BY id", error);
  WbStep step;

  if (statement == NULL)
    return NULL;
  while ((step = wb_store_step (self, statement, error)) == WB_STEP_ROW)
    g_strv_builder_add (names, (const char *) sqlite3_column_text (statement, 0));
  return step == WB_STEP_DONE ? g_strv_builder_end (names) : NULL;
}

char *
wb_store_load_extra (WbStore    *self,
                     gint64      reading,
                     const char *column,
                     GError    **error)
{
  g_return_val_if_fail (self != NULL && column != NULL, NULL);
  wb_store_assert_thread (self);

  sqlite3_stmt *statement =
    wb_store_statement (self, "SELECT value FROM extra WHERE reading = ?1 AND column_id = "
                        "(SELECT id FROM extra_column WHERE name = ?2) ORDER BY entry DESC LIMIT 1", error);
  char *value = NULL;

  if (statement == NULL)
    return NULL;
  sqlite3_bind_int64 (statement, 1, reading);
  wb_store_bind_text (statement, 2, column);
  if (wb_store_step (self, statement, error) == WB_STEP_ROW)
    {
      value = wb_store_column_dup_text (statement, 0);
      wb_store_reset (statement);
    }
  return value;
}

GBytes *
wb_store_load_attachment (WbStore    *self,
                          const char *sha256,
                          GError    **error)
{
  g_return_val_if_fail (self != NULL && sha256 != NULL, NULL);
  wb_store_assert_thread (self);

  sqlite3_stmt *statement = wb_store_statement (self, "SELECT bytes FROM attachment_data WHERE sha256 = ?", error);
  GBytes *bytes = NULL;
  WbStep step;

  if (statement == NULL)
    return NULL;
  wb_store_bind_text (statement, 1, sha256);
  step = wb_store_step (self, statement, error);
  if (step == WB_STEP_ROW)
    {
      bytes = g_bytes_new (sqlite3_column_blob (statement, 0), (gsize) sqlite3_column_bytes (statement, 0));
      wb_store_reset (statement);
    }
  else if (step == WB_STEP_DONE)
    g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_MISSING, _("The notebook keeps no file of SHA-256 %s."), sha256);
  return bytes;
}
