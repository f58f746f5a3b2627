/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-salvage-private.h"

#include "wb-experiment.h"
#include "wb-material.h"
#include "wb-record-types.h"
#include "wb-store-table-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* Each record that others refer to must be there: a lost one is replaced by one of its kind that says so. */

/* 2 to the 60th, for SQL. */
#define MOST_ID "1152921504606846976"

typedef struct
{
  WbStoreSalvaging *salvaging;
  gint64            entry;   /* that they are written in */
  gint64            rows;
  gint64            next_id;
  GHashTable       *shared;  /* WbStoreTable to gint64 *: what a stand-in itself refers to, where nothing tells what it was */
} Maker;

/* Who refers to it: what else that one refers to may say where it belongs. */
typedef struct
{
  const WbStoreTable *table;
  gint64              id;
} Referrer;

static gint64 make_shared (Maker *self, const WbStoreTable *table, GError **error);

/* "Lost cell 17 of experiment 3": a sample names both. 0: it does not say. */
static gint64
ask_referrer (Maker             *self,
              const Referrer    *referrer,
              const WbFieldSpec *field)
{
  g_autofree char *sql = NULL;
  gint64 id = 0;

  if (referrer->table == NULL || wb_record_type_find_field (referrer->table->type, field->name) == NULL)
    return 0;
  sql = g_strdup_printf ("SELECT %s FROM %s WHERE id = %" G_GINT64_FORMAT " ORDER BY entry DESC LIMIT 1", field->name,
                         referrer->table->type->name, referrer->id);
  wb_store_get_integer (self->salvaging->store, wb_store_statement (self->salvaging->store, sql, NULL), 0, &id, NULL);
  /* What it says may be damaged, too. */
  return MAX (id, 0);
}

static gboolean
fill_field (Maker             *self,
            gpointer           record,
            const WbFieldSpec *field,
            const Referrer    *referrer,
            GError           **error)
{
  gint64 id = ((const WbRecord *) record)->id;
  g_autofree char *lost = g_strdup_printf (_("Lost %d"), (int) id);
  double number = CLAMP (1, field->minimum, field->maximum);

  switch (field->type)
    {
    case WB_FIELD_REAL:
      wb_record_set_real (record, field, number);
      break;
    case WB_FIELD_INTEGER:
      wb_record_set_integer (record, field, (gint64) number);
      break;
    case WB_FIELD_REFERENCE:
      id = ask_referrer (self, referrer, field);
      if (id == 0)
        id = make_shared (self, wb_store_table_find (field->target != NULL ? field->target : &wb_wax_type), error);
      if (id == 0)
        return FALSE;
      wb_record_set_integer (record, field, id);
      break;
    case WB_FIELD_TEXT:
      wb_record_set_text (record, field, lost);
      break;
    case WB_FIELD_INSTANT:
      wb_record_set_instant (record, field, self->salvaging->now);
      break;
    case WB_FIELD_DAY:
      wb_record_set_integer (record, field, wb_instant_get_day (self->salvaging->now));
      break;
    case WB_FIELD_UUID:
      wb_record_set_uuid (record, field, wb_uuid_new ());
      break;
    case WB_FIELD_ENUM:
    case WB_FIELD_FLAG:
    default:
      wb_record_set_integer (record, field, 0);
    }
  return TRUE;
}

static gboolean
write_record (Maker              *self,
              const WbStoreTable *table,
              gconstpointer       record,
              GError            **error)
{
  WbStore *store = self->salvaging->store;
  sqlite3_stmt *object = wb_store_statement (store, "INSERT INTO object (id, type, uuid, entry) VALUES (?, ?, ?, ?)", error);
  sqlite3_stmt *version;

  if (object == NULL)
    return FALSE;
  sqlite3_bind_int64 (object, 1, ((const WbRecord *) record)->id);
  sqlite3_bind_text (object, 2, table->type->name, -1, SQLITE_STATIC);
  if (table->uuid != NULL)
    wb_store_field_bind (table->uuid, record, object, 3);
  sqlite3_bind_int64 (object, 4, self->entry);
  if (!wb_store_run (store, object, error))
    return FALSE;
  version = wb_store_statement (store, table->insert, error);
  if (version == NULL)
    return FALSE;
  wb_store_table_bind (table, record, ++self->rows, 0, version, 0);
  return wb_store_run (store, version, error);
}

/* The UUID that the table of identities still knew, so that its label finds it; not one that another has by now. */
static gboolean
find_uuid (Maker              *self,
           const WbStoreTable *table,
           gint64              id,
           WbUuid             *uuid)
{
  const WbStoreOldIdentity *old = g_hash_table_lookup (self->salvaging->kinds, &id);
  sqlite3_stmt *statement;
  gint64 there;

  if (table->uuid == NULL || old == NULL || !old->has_uuid || old->table != table || table->type == &wb_notebook_type)
    return FALSE;
  memcpy (uuid->bytes, old->uuid, sizeof uuid->bytes);
  statement = wb_store_statement (self->salvaging->store, "SELECT 1 FROM object WHERE uuid = ?", NULL);
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_blob (statement, 1, uuid->bytes, sizeof uuid->bytes, SQLITE_STATIC);
  return wb_store_get_integer (self->salvaging->store, statement, 0, &there, NULL) && there == 0;
}

static gboolean
make (Maker              *self,
      const WbStoreTable *table,
      gint64              id,
      const Referrer     *referrer,
      GError            **error)
{
  g_autoptr (WbRecord) record = wb_record_new (table->type);
  WbUuid uuid;

  record->id = id;
  record->entry = self->entry;
  if (find_uuid (self, table, id, &uuid))
    wb_record_set_uuid (record, table->uuid, uuid);
  for (guint i = 0; i < table->type->n_fields; i++)
    {
      const WbFieldSpec *field = &table->type->fields[i];

      if ((field->required || field == table->uuid) && !wb_record_is_known (record, field)
          && !fill_field (self, record, field, referrer, error))
        return FALSE;
    }
  if (!wb_record_validate (record, error) || !write_record (self, table, record, error))
    return FALSE;
  self->salvaging->result->stand_ins++;
  return TRUE;
}

/* 0: error. */
static gint64
make_shared (Maker              *self,
             const WbStoreTable *table,
             GError            **error)
{
  const Referrer nobody = { NULL, 0 };
  gint64 *known = g_hash_table_lookup (self->shared, table), id;

  if (known != NULL)
    return *known;
  id = self->next_id++;
  g_hash_table_insert (self->shared, (gpointer) table, g_memdup2 (&id, sizeof id));
  return make (self, table, id, &nobody, error) ? id : 0;
}

typedef struct
{
  gint64   id;
  Referrer referrer;
} Missing;

/* All that this field of this table names and that is not there, in one pass: each with one that names it. NULL with error. */
static GArray *
list_missing (Maker              *self,
              const WbStoreTable *table,
              const WbFieldSpec  *field,
              GError            **error)
{
  g_autofree char *sql = g_strdup_printf ("SELECT v.%s, min (v.id) FROM %s AS v WHERE v.%s IS NOT NULL AND NOT EXISTS "
                                          "(SELECT 1 FROM object AS o WHERE o.id = v.%s) GROUP BY 1", field->name, table->type->name,
                                          field->name, field->name);
  sqlite3_stmt *statement = wb_store_statement (self->salvaging->store, sql, error);
  g_autoptr (GArray) list = g_array_new (FALSE, FALSE, sizeof (Missing));
  WbStep step = WB_STEP_ERROR;

  while (statement != NULL && (step = wb_store_step (self->salvaging->store, statement, error)) == WB_STEP_ROW)
    {
      Missing missing = { sqlite3_column_int64 (statement, 0), { table, sqlite3_column_int64 (statement, 1) } };

      g_array_append_val (list, missing);
    }
  return step == WB_STEP_DONE ? g_steal_pointer (&list) : NULL;
}

/* What stands in for one may itself have been missing: it is there by now. -1: error. */
static int
is_there (Maker  *self,
          gint64  id,
          GError **error)
{
  sqlite3_stmt *statement = wb_store_statement (self->salvaging->store, "SELECT 1 FROM object WHERE id = ?", error);
  gint64 there;

  if (statement == NULL)
    return -1;
  sqlite3_bind_int64 (statement, 1, id);
  return wb_store_get_integer (self->salvaging->store, statement, 0, &there, error) ? there == 1 : -1;
}

static gboolean
stand_in_for_field (Maker              *self,
                    const WbStoreTable *table,
                    const WbFieldSpec  *field,
                    GError            **error)
{
  const WbStoreTable *target = wb_store_table_find (field->target != NULL ? field->target : &wb_wax_type);
  g_autoptr (GArray) list = list_missing (self, table, field, error);

  for (guint i = 0; list != NULL && i < list->len; i++)
    {
      const Missing *missing = &g_array_index (list, Missing, i);
      const WbStoreOldIdentity *old = g_hash_table_lookup (self->salvaging->kinds, &missing->id);
      int there = is_there (self, missing->id, error);

      if (there < 0
          || (there == 0 && !make (self, old != NULL && field->target == NULL ? old->table : target, missing->id, &missing->referrer, error)))
        return FALSE;
    }
  return list != NULL;
}

/* A stand-in may refer to another lost one: again, until nothing is missing. */
static gboolean
stand_in_for_all (Maker   *self,
                  GError **error)
{
  gint64 before;

  do
    {
      before = self->rows;
      for (guint i = 0; i < wb_store_table_count (); i++)
        {
          const WbStoreTable *table = wb_store_table_nth (i);

          for (guint j = 0; j < table->type->n_fields; j++)
            if (table->type->fields[j].type == WB_FIELD_REFERENCE
                && !stand_in_for_field (self, table, &table->type->fields[j], error))
              return FALSE;
        }
    }
  while (self->rows > before);
  return TRUE;
}

static gboolean
name_columns (Maker   *self,
              GError **error)
{
  WbStore *store = self->salvaging->store;
  sqlite3_stmt *statement = wb_store_statement (store, "INSERT INTO extra_column (id, entry, seq, name) "
                                                "SELECT column_id, ?1, ?2 + row_number () OVER (ORDER BY column_id), 'lost column ' || column_id "
                                                "FROM (SELECT DISTINCT column_id FROM extra) WHERE column_id NOT IN (SELECT id FROM extra_column)", error);
  int made;

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, self->entry);
  sqlite3_bind_int64 (statement, 2, self->rows);
  if (!wb_store_run (store, statement, error))
    return FALSE;
  made = sqlite3_changes (store->db);
  self->rows += made;
  self->salvaging->result->stand_ins += made;
  return TRUE;
}

static gboolean
add_notebook (Maker   *self,
              GError **error)
{
  gint64 notebooks;

  if (!wb_store_get_integer (self->salvaging->store, wb_store_statement (self->salvaging->store, "SELECT count (*) FROM notebook", error), 0,
                             &notebooks, error))
    return FALSE;
  return notebooks > 0 || make_shared (self, wb_store_table_find (&wb_notebook_type), error) != 0;
}

/* Above every id that anything names: a lost record's id is its own for ever. One that no counting comes to does not count. */
static gboolean
find_next_id (Maker   *self,
              GError **error)
{
  GHashTableIter iter;
  gpointer id;

  if (!wb_store_get_integer (self->salvaging->store, wb_store_statement (self->salvaging->store, "SELECT max (id) FROM object WHERE id < " MOST_ID, error), 0,
                             &self->next_id, error))
    return FALSE;
  g_hash_table_iter_init (&iter, self->salvaging->kinds);
  while (g_hash_table_iter_next (&iter, &id, NULL))
    self->next_id = MAX (self->next_id, *(gint64 *) id < G_GINT64_CONSTANT (1) << 60 ? *(gint64 *) id : 0);
  for (guint i = 0; i < wb_store_table_count (); i++)
    {
      const WbStoreTable *table = wb_store_table_nth (i);

      for (guint j = 0; j < table->type->n_fields; j++)
        {
          const char *name = table->type->fields[j].name;
          g_autofree char *sql = g_strdup_printf ("SELECT max (%s) FROM %s WHERE %s < " MOST_ID, name, table->type->name, name);
          gint64 named;

          if (table->type->fields[j].type != WB_FIELD_REFERENCE)
            continue;
          if (!wb_store_get_integer (self->salvaging->store, wb_store_statement (self->salvaging->store, sql, error), 0, &named, error))
            return FALSE;
          self->next_id = MAX (self->next_id, named);
        }
    }
  self->next_id++;
  return TRUE;
}

gboolean
wb_store_salvage_stand_in (WbStoreSalvaging *salvaging,
                           GError          **error)
{
  g_autoptr (GHashTable) shared = g_hash_table_new_full (NULL, NULL, NULL, g_free);
  Maker self = { .salvaging = salvaging, .entry = salvaging->result->entries + 1, .shared = shared };
  sqlite3_stmt *statement;

  if (!find_next_id (&self, error) || !add_notebook (&self, error) || !stand_in_for_all (&self, error) || !name_columns (&self, error))
    return FALSE;
  if (self.rows == 0)
    return TRUE;
  statement = wb_store_statement (salvaging->store, "INSERT INTO entry (number, instant_us, offset_s, zone, kind, topic, who, why, undoes, rows, hash) "
                                  "VALUES (?1, ?2, ?3, (SELECT zone FROM entry WHERE number = 1), 'restore', NULL, ?4, ?5, NULL, ?6, zeroblob (32))", error);
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, self.entry);
  sqlite3_bind_int64 (statement, 2, salvaging->now.utc_us);
  sqlite3_bind_int (statement, 3, salvaging->now.offset_s);
  wb_store_bind_text (statement, 4, salvaging->who);
  wb_store_bind_text (statement, 5, _("Put stand-ins, named “Lost”, in the place of records that could not be read and that others refer to"));
  sqlite3_bind_int64 (statement, 6, self.rows);
  return wb_store_run (salvaging->store, statement, error);
}
