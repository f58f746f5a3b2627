/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-record-types.h"
#include "wb-store-table-private.h"

#include <math.h>
#include <string.h>

#define MEMBER(T, record, field) G_STRUCT_MEMBER (T, (gpointer) (record), (field)->offset)

static gboolean
has_plain_words (const WbFieldSpec *field)
{
  return field->words != NULL && !g_ascii_isdigit (field->words[0].nick[0]);
}

WbStoreStorage
wb_store_field_storage (const WbFieldSpec *field)
{
  switch (field->type)
    {
    case WB_FIELD_REAL:
      if (has_plain_words (field))
        return WB_STORAGE_TEXT;
      return field->integer ? WB_STORAGE_INTEGER : WB_STORAGE_REAL;
    case WB_FIELD_ENUM:
      return has_plain_words (field) ? WB_STORAGE_TEXT : WB_STORAGE_INTEGER;
    case WB_FIELD_TEXT:
    case WB_FIELD_DAY:
      return WB_STORAGE_TEXT;
    case WB_FIELD_UUID:
      return WB_STORAGE_BLOB;
    default:
      return WB_STORAGE_INTEGER;
    }
}

guint
wb_store_field_columns (const WbFieldSpec *field)
{
  return field->type == WB_FIELD_INSTANT ? 2 : 1;
}

static void
append_field_names (GString            *sql,
                    const WbRecordType *type,
                    const char         *prefix)
{
  for (guint i = 0; i < type->n_fields; i++)
    {
      const char *name = type->fields[i].name;

      if (type->fields[i].type == WB_FIELD_INSTANT)
        g_string_append_printf (sql, ", %s%s_us, %s%s_offset_s", prefix, name, prefix, name);
      else
        g_string_append_printf (sql, ", %s%s", prefix, name);
    }
}

static int
count_columns (const WbRecordType *type)
{
  guint n = WB_STORE_TABLE_INSERT_HEAD;

  for (guint i = 0; i < type->n_fields; i++)
    n += wb_store_field_columns (&type->fields[i]);
  return (int) n;
}

static char *
build_insert (const WbRecordType *type,
              guint               rows)
{
  GString *sql = g_string_new (NULL);
  int n = count_columns (type);

  g_string_append_printf (sql, "INSERT INTO %s (id, entry, seq, previous, deleted", type->name);
  append_field_names (sql, type, "");
  g_string_append (sql, ") VALUES ");
  for (guint row = 0; row < rows; row++)
    {
      g_string_append (sql, row == 0 ? "(?" : ", (?");
      for (int i = 1; i < n; i++)
        g_string_append (sql, ", ?");
      g_string_append_c (sql, ')');
    }
  return g_string_free (sql, FALSE);
}

static char *
build_columns (const WbRecordType *type)
{
  GString *sql = g_string_new ("v.id, v.entry, v.deleted");

  append_field_names (sql, type, "v.");
  return g_string_free (sql, FALSE);
}

static void
table_init (WbStoreTable       *self,
            const WbRecordType *type,
            guint               index)
{
  const WbFieldSpec *uuid = wb_record_type_find_field (type, "uuid");

  self->type = type;
  self->index = index;
  self->is_reading = strcmp (type->name, "reading") == 0;
  self->uuid = uuid != NULL && uuid->type == WB_FIELD_UUID ? uuid : NULL;
  self->insert = build_insert (type, 1);
  self->insert_many = build_insert (type, WB_STORE_MANY);
  self->n_columns = count_columns (type);
  self->columns = build_columns (type);
  self->current = g_strdup_printf ("v.deleted = 0 AND NOT EXISTS (SELECT 1 FROM %s AS m WHERE m.id = v.id "
                                   "AND m.entry > v.entry)", type->name);
  self->load = g_strdup_printf ("SELECT %s FROM %s AS v WHERE v.id = ?1 ORDER BY v.entry DESC LIMIT 1", self->columns,
                                type->name);
  self->load_before = g_strdup_printf ("SELECT %s FROM %s AS v WHERE v.id = ?1 AND v.entry < ?2 "
                                       "ORDER BY v.entry DESC LIMIT 1", self->columns, type->name);
}

/* The tables of every record type, made once for the process and kept. */
static GArray *
tables (void)
{
  static gsize once;
  static GArray *all;

  if (g_once_init_enter (&once))
    {
      const WbRecordType *const *types = wb_record_types ();

      all = g_array_new (FALSE, TRUE, sizeof (WbStoreTable));
      for (guint i = 0; types[i] != NULL; i++)
        {
          WbStoreTable table = { 0 };

          table_init (&table, types[i], i);
          g_array_append_val (all, table);
        }
      g_once_init_leave (&once, 1);
    }
  return all;
}

guint
wb_store_table_count (void)
{
  return tables ()->len;
}

const WbStoreTable *
wb_store_table_nth (guint index)
{
  return &g_array_index (tables (), WbStoreTable, index);
}

const WbStoreTable *
wb_store_table_find (const WbRecordType *type)
{
  for (guint i = 0; i < wb_store_table_count (); i++)
    if (wb_store_table_nth (i)->type == type)
      return wb_store_table_nth (i);
  g_return_val_if_reached (NULL);
}

const WbStoreTable *
wb_store_table_named (const char *name)
{
  for (guint i = 0; i < wb_store_table_count (); i++)
    if (g_strcmp0 (wb_store_table_nth (i)->type->name, name) == 0)
      return wb_store_table_nth (i);
  return NULL;
}

static guint
words_length (const WbWord *words)
{
  guint n = 0;

  while (words[n].nick != NULL)
    n++;
  return n;
}

static const char *
nick_of (const WbFieldSpec *field,
         gint64             value)
{
  return value >= 0 && value < words_length (field->words) ? field->words[value].nick : NULL;
}

static void
bind_real (const WbFieldSpec *field,
           double             value,
           sqlite3_stmt      *statement,
           int                index)
{
  if (isnan (value))
    return;

  switch (wb_store_field_storage (field))
    {
    case WB_STORAGE_TEXT:
      sqlite3_bind_text (statement, index, nick_of (field, (gint64) value), -1, SQLITE_STATIC);
      break;
    case WB_STORAGE_INTEGER:
      sqlite3_bind_int64 (statement, index, (gint64) value);
      break;
    default:
      sqlite3_bind_double (statement, index, value);
      break;
    }
}

static void
bind_instant (WbInstant     instant,
              sqlite3_stmt *statement,
              int           index)
{
  if (!instant.known)
    return;
  sqlite3_bind_int64 (statement, index, instant.utc_us);
  sqlite3_bind_int (statement, index + 1, instant.offset_s);
}

static void
bind_day (WbDay         day,
          sqlite3_stmt *statement,
          int           index)
{
  if (day != WB_DAY_NONE)
    sqlite3_bind_text (statement, index, wb_day_format (day), -1, g_free);
}

static void
bind_enum (const WbFieldSpec *field,
           int                value,
           sqlite3_stmt      *statement,
           int                index)
{
  if (value < 0)
    return;
  if (wb_store_field_storage (field) == WB_STORAGE_TEXT)
    sqlite3_bind_text (statement, index, nick_of (field, value), -1, SQLITE_STATIC);
  else
    sqlite3_bind_int (statement, index, value);
}

void
wb_store_field_bind (const WbFieldSpec *field,
                     gconstpointer      record,
                     sqlite3_stmt      *statement,
                     int                index)
{
  switch (field->type)
    {
    case WB_FIELD_REAL:
      bind_real (field, MEMBER (double, record, field), statement, index);
      break;
    case WB_FIELD_INTEGER:
      if (MEMBER (gint64, record, field) != WB_INTEGER_NONE)
        sqlite3_bind_int64 (statement, index, MEMBER (gint64, record, field));
      break;
    case WB_FIELD_REFERENCE:
      if (MEMBER (gint64, record, field) != 0)
        sqlite3_bind_int64 (statement, index, MEMBER (gint64, record, field));
      break;
    case WB_FIELD_ENUM:
      bind_enum (field, MEMBER (int, record, field), statement, index);
      break;
    case WB_FIELD_FLAG:
      sqlite3_bind_int (statement, index, MEMBER (gboolean, record, field) ? 1 : 0);
      break;
    case WB_FIELD_TEXT:
      if (MEMBER (char *, record, field) != NULL)
        sqlite3_bind_text (statement, index, MEMBER (char *, record, field), -1, SQLITE_STATIC);
      break;
    case WB_FIELD_INSTANT:
      bind_instant (MEMBER (WbInstant, record, field), statement, index);
      break;
    case WB_FIELD_DAY:
      bind_day (MEMBER (WbDay, record, field), statement, index);
      break;
    case WB_FIELD_UUID:
      if (!wb_uuid_is_nil (&MEMBER (WbUuid, record, field)))
        sqlite3_bind_blob (statement, index, &MEMBER (WbUuid, record, field), sizeof (WbUuid), SQLITE_STATIC);
      break;
    default:
      g_assert_not_reached ();
    }
}

void
wb_store_table_bind (const WbStoreTable *self,
                     gconstpointer       record,
                     gint64              seq,
                     gint64              previous,
                     sqlite3_stmt       *statement,
                     int                 first)
{
  const WbRecord *head = record;
  int index = first + WB_STORE_TABLE_INSERT_HEAD + 1;

  sqlite3_bind_int64 (statement, first + 1, head->id);
  sqlite3_bind_int64 (statement, first + 2, head->entry);
  sqlite3_bind_int64 (statement, first + 3, seq);
  if (previous != 0)
    sqlite3_bind_int64 (statement, first + 4, previous);
  sqlite3_bind_int (statement, first + 5, head->deleted ? 1 : 0);
  for (guint i = 0; i < self->type->n_fields; i++)
    {
      wb_store_field_bind (&self->type->fields[i], record, statement, index);
      index += (int) wb_store_field_columns (&self->type->fields[i]);
    }
}

/* Words are few, and the one before is often the one that is wanted. */
static int
read_word (const WbFieldSpec *field,
           sqlite3_stmt      *statement,
           int                column)
{
  if (wb_store_field_storage (field) == WB_STORAGE_TEXT)
    return wb_words_find (field->words, (const char *) sqlite3_column_text (statement, column));

  gint64 value = sqlite3_column_int64 (statement, column);

  return nick_of (field, value) != NULL ? (int) value : -1;
}

static double
read_real (const WbFieldSpec *field,
           sqlite3_stmt      *statement,
           int                column)
{
  if (!has_plain_words (field))
    return sqlite3_column_double (statement, column);

  int word = read_word (field, statement, column);

  return word >= 0 ? word : NAN;
}

static void
read_uuid (gpointer           record,
           const WbFieldSpec *field,
           sqlite3_stmt      *statement,
           int                column)
{
  if (sqlite3_column_bytes (statement, column) == sizeof (WbUuid))
    memcpy (&MEMBER (WbUuid, record, field), sqlite3_column_blob (statement, column), sizeof (WbUuid));
}

static WbDay
read_day (sqlite3_stmt *statement,
          int           column)
{
  WbDay day;

  return wb_day_parse ((const char *) sqlite3_column_text (statement, column), &day, NULL) ? day : WB_DAY_NONE;
}

/* The column is not NULL. */
static void
read_field (gpointer           record,
            const WbFieldSpec *field,
            sqlite3_stmt      *statement,
            int                column)
{
  switch (field->type)
    {
    case WB_FIELD_REAL:
      MEMBER (double, record, field) = read_real (field, statement, column);
      break;
    case WB_FIELD_INTEGER:
    case WB_FIELD_REFERENCE:
      MEMBER (gint64, record, field) = sqlite3_column_int64 (statement, column);
      break;
    case WB_FIELD_ENUM:
      MEMBER (int, record, field) = read_word (field, statement, column);
      break;
    case WB_FIELD_FLAG:
      MEMBER (gboolean, record, field) = sqlite3_column_int (statement, column) != 0;
      break;
    case WB_FIELD_TEXT:
      MEMBER (char *, record, field) = g_strdup ((const char *) sqlite3_column_text (statement, column));
      break;
    case WB_FIELD_INSTANT:
      MEMBER (WbInstant, record, field) = (WbInstant) { sqlite3_column_int64 (statement, column),
                                                        sqlite3_column_int (statement, column + 1), TRUE };
      break;
    case WB_FIELD_DAY:
      MEMBER (WbDay, record, field) = read_day (statement, column);
      break;
    case WB_FIELD_UUID:
      read_uuid (record, field, statement, column);
      break;
    default:
      g_assert_not_reached ();
    }
}

void
wb_store_table_read_into (const WbStoreTable *self,
                          sqlite3_stmt       *statement,
                          gpointer            record)
{
  WbRecord *head = record;
  int column = WB_STORE_TABLE_READ_HEAD;

  head->id = sqlite3_column_int64 (statement, 0);
  head->entry = sqlite3_column_int64 (statement, 1);
  head->deleted = sqlite3_column_int (statement, 2) != 0;
  for (guint i = 0; i < self->type->n_fields; i++)
    {
      if (sqlite3_column_type (statement, column) != SQLITE_NULL)
        read_field (record, &self->type->fields[i], statement, column);
      column += (int) wb_store_field_columns (&self->type->fields[i]);
    }
}

gpointer
wb_store_table_read (const WbStoreTable *self,
                     sqlite3_stmt       *statement)
{
  gpointer record = wb_record_new (self->type);

  wb_store_table_read_into (self, statement, record);
  return record;
}

static void
digest_real (const WbFieldSpec *field,
             double             value,
             WbStoreDigest     *digest)
{
  if (isnan (value))
    return;

  switch (wb_store_field_storage (field))
    {
    case WB_STORAGE_TEXT:
      wb_store_digest_text (digest, field->name, nick_of (field, (gint64) value));
      break;
    case WB_STORAGE_INTEGER:
      wb_store_digest_integer (digest, field->name, (gint64) value);
      break;
    default:
      wb_store_digest_real (digest, field->name, value);
      break;
    }
}

static void
digest_instant (const WbFieldSpec *field,
                WbInstant          instant,
                WbStoreDigest     *digest)
{
  g_autofree char *us = NULL, *offset = NULL;

  if (!instant.known)
    return;
  us = g_strconcat (field->name, "_us", NULL);
  offset = g_strconcat (field->name, "_offset_s", NULL);
  wb_store_digest_integer (digest, us, instant.utc_us);
  wb_store_digest_integer (digest, offset, instant.offset_s);
}

static void
digest_field (const WbFieldSpec *field,
              gconstpointer      record,
              WbStoreDigest     *digest)
{
  g_autofree char *day = NULL;

  switch (field->type)
    {
    case WB_FIELD_REAL:
      digest_real (field, MEMBER (double, record, field), digest);
      break;
    case WB_FIELD_INSTANT:
      digest_instant (field, MEMBER (WbInstant, record, field), digest);
      break;
    case WB_FIELD_TEXT:
      wb_store_digest_text (digest, field->name, MEMBER (char *, record, field));
      break;
    case WB_FIELD_UUID:
      wb_store_digest_blob (digest, field->name, &MEMBER (WbUuid, record, field), sizeof (WbUuid));
      break;
    case WB_FIELD_DAY:
      day = wb_day_format (MEMBER (WbDay, record, field));
      wb_store_digest_text (digest, field->name, day);
      break;
    case WB_FIELD_ENUM:
      if (wb_store_field_storage (field) == WB_STORAGE_TEXT)
        wb_store_digest_text (digest, field->name, nick_of (field, MEMBER (int, record, field)));
      else
        wb_store_digest_integer (digest, field->name, MEMBER (int, record, field));
      break;
    default:
      wb_store_digest_integer (digest, field->name, wb_record_get_integer (record, field));
      break;
    }
}

void
wb_store_table_digest (const WbStoreTable *self,
                       gconstpointer       record,
                       gint64              seq,
                       gint64              previous,
                       WbStoreDigest      *digest)
{
  const WbRecord *head = record;

  wb_store_digest_begin (digest, self->type->name);
  wb_store_digest_integer (digest, "id", head->id);
  wb_store_digest_integer (digest, "seq", seq);
  if (previous != 0)
    wb_store_digest_integer (digest, "previous", previous);
  wb_store_digest_integer (digest, "deleted", head->deleted ? 1 : 0);
  for (guint i = 0; i < self->type->n_fields; i++)
    if (wb_record_is_known (record, &self->type->fields[i]))
      digest_field (&self->type->fields[i], record, digest);
  wb_store_digest_end (digest);
}
