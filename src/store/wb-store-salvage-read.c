/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-salvage-private.h"

#include "wb-store-table-private.h"

#include <string.h>

/* A column as rows have it in the file: of a table without rowid those of the key come first. */
typedef struct
{
  char          *name;
  WbStoreStorage storage;
  gboolean       required;
} Column;

/* A table of the record, and its rows' shape. */
typedef struct
{
  char               *name;
  const WbStoreTable *table;     /* NULL: one that is no kind of record */
  GArray             *columns;   /* Column */
  gboolean            has_rowid; /* then the first column is the rowid, and NULL in the row */
  gboolean            versions;  /* its rows carry an entry and a place in it */
  sqlite3_stmt       *insert;
} Shape;

typedef struct
{
  WbStoreSalvaging *salvaging;
  GPtrArray        *shapes;  /* Shape */
  Shape            *hint;    /* whose tree is being walked; NULL: none */
  GHashTable       *roots;   /* name to page */
  gboolean          failed;
  GError          **error;
} Reader;

static void
column_clear (gpointer data)
{
  g_free (((Column *) data)->name);
}

static void
shape_free (gpointer data)
{
  Shape *self = data;

  g_free (self->name);
  g_array_unref (self->columns);
  g_free (self);
}

static WbStoreStorage
get_storage (const char *type)
{
  if (g_str_equal (type, "REAL"))
    return WB_STORAGE_REAL;
  if (g_str_equal (type, "TEXT"))
    return WB_STORAGE_TEXT;
  return g_str_equal (type, "BLOB") ? WB_STORAGE_BLOB : WB_STORAGE_INTEGER;
}

static gboolean
add_columns (Shape   *shape,
             WbStore *store,
             GError **error)
{
  g_autofree char *sql = g_strdup_printf ("SELECT name, type, \"notnull\" OR pk > 0 FROM pragma_table_info ('%s') "
                                          "ORDER BY pk = 0, pk, cid", shape->name);
  g_autoptr (GString) insert = g_string_new (NULL);
  g_autoptr (GString) marks = g_string_new (NULL);
  sqlite3_stmt *statement = wb_store_statement (store, sql, error);
  WbStep step = WB_STEP_ERROR;

  while (statement != NULL && (step = wb_store_step (store, statement, error)) == WB_STEP_ROW)
    {
      g_autofree char *type = wb_store_column_dup_text (statement, 1);
      Column column = { wb_store_column_dup_text (statement, 0), get_storage (type), sqlite3_column_int (statement, 2) != 0 };

      g_string_append_printf (insert, "%s%s", shape->columns->len > 0 ? ", " : "", column.name);
      g_string_append (marks, shape->columns->len > 0 ? ", ?" : "?");
      shape->versions |= g_str_equal (column.name, "seq");
      g_array_append_val (shape->columns, column);
    }
  if (step != WB_STEP_DONE)
    return FALSE;
  g_free (sql);
  sql = g_strdup_printf ("INSERT OR IGNORE INTO %s (%s) VALUES (%s)", shape->name, insert->str, marks->str);
  shape->insert = wb_store_statement (store, sql, error);
  return shape->insert != NULL;
}

static gboolean
add_shapes (Reader  *self,
            WbStore *store,
            GError **error)
{
  sqlite3_stmt *statement = wb_store_statement (store, "SELECT name, sql NOT LIKE '%WITHOUT ROWID%' FROM sqlite_schema WHERE "
                                                "type = 'table' AND name NOT LIKE 'derived%' "
                                                /* the others' rows are told apart by what these say */
                                                "ORDER BY name NOT IN ('entry', 'head', 'object'), rootpage", error);
  WbStep step = WB_STEP_ERROR;

  while (statement != NULL && (step = wb_store_step (store, statement, error)) == WB_STEP_ROW)
    {
      Shape *shape = g_new0 (Shape, 1);

      shape->name = wb_store_column_dup_text (statement, 0);
      shape->table = wb_store_table_named (shape->name);
      shape->has_rowid = sqlite3_column_int (statement, 1) != 0;
      shape->columns = g_array_new (FALSE, FALSE, sizeof (Column));
      g_array_set_clear_func (shape->columns, column_clear);
      g_ptr_array_add (self->shapes, shape);
      if (!add_columns (shape, store, error))
        {
          wb_store_reset (statement);
          return FALSE;
        }
    }
  return step == WB_STEP_DONE;
}

static gboolean
fits_column (const Column       *column,
             const WbStoreValue *value)
{
  switch (value->kind)
    {
    case WB_STORE_VALUE_NULL:
      return !column->required;
    case WB_STORE_VALUE_INTEGER:
      /* SQLite writes a whole number of a REAL column as an integer. */
      return column->storage == WB_STORAGE_INTEGER || column->storage == WB_STORAGE_REAL;
    case WB_STORE_VALUE_REAL:
      return column->storage == WB_STORAGE_REAL;
    case WB_STORE_VALUE_TEXT:
      return column->storage == WB_STORAGE_TEXT && g_utf8_validate_len ((const char *) value->bytes, value->length, NULL);
    case WB_STORE_VALUE_BLOB:
    default:
      return column->storage == WB_STORAGE_BLOB
             && (!g_str_equal (column->name, "uuid") || value->length == 16)
             && (!g_str_equal (column->name, "hash") || value->length == WB_STORE_HASH_SIZE);
    }
}

/* The value of a column by name; a NULL and no such column are 0. */
static gint64
get_number (const Shape       *shape,
            const WbStoreCell *cell,
            const char        *name)
{
  for (guint i = 0; i < shape->columns->len; i++)
    if (g_str_equal (g_array_index (shape->columns, Column, i).name, name))
      return cell->values[i].integer;
  return 0;
}

static gboolean
fits_shape (const Shape       *shape,
            const WbStoreCell *cell)
{
  gint64 entry, previous, deleted;

  if (cell->has_rowid != shape->has_rowid || cell->n != shape->columns->len)
    return FALSE;
  for (guint i = shape->has_rowid ? 1 : 0; i < cell->n; i++)
    if (!fits_column (&g_array_index (shape->columns, Column, i), &cell->values[i]))
      return FALSE;
  if (shape->has_rowid)
    return cell->rowid > 0;
  if (!shape->versions)
    return TRUE;
  entry = get_number (shape, cell, "entry");
  previous = get_number (shape, cell, "previous");
  deleted = get_number (shape, cell, "deleted");
  return entry > 0 && get_number (shape, cell, "seq") > 0 && previous >= 0 && previous < entry && (deleted == 0 || deleted == 1)
         && (shape->table == NULL || cell->values[0].integer > 0);
}

/* Many kinds look alike: then the table of identities says which it is. -1: it says another, 0: nothing, 1: this one. */
static int
ask_identity (Reader            *self,
              const Shape       *shape,
              const WbStoreCell *cell)
{
  const WbStoreOldIdentity *old;

  if (shape->table == NULL || shape->table->is_reading)
    return 0;
  old = g_hash_table_lookup (self->salvaging->kinds, &cell->values[0].integer);
  return old == NULL ? 0 : old->table == shape->table ? 1 : -1;
}

static Shape *
find_shape (Reader            *self,
            const WbStoreCell *cell)
{
  Shape *found = NULL;

  if (self->hint != NULL && fits_shape (self->hint, cell) && ask_identity (self, self->hint, cell) >= 0)
    return self->hint;
  for (guint i = 0; i < self->shapes->len; i++)
    {
      Shape *shape = self->shapes->pdata[i];
      int said = fits_shape (shape, cell) ? ask_identity (self, shape, cell) : -1;

      if (said > 0)
        return shape;
      if (said < 0)
        continue;
      /* Two that fit, and nothing to tell which: better lost than in the wrong place. */
      if (found != NULL)
        return NULL;
      found = shape;
    }
  return found;
}

static void
bind (sqlite3_stmt       *statement,
      int                 index,
      const WbStoreValue *value)
{
  switch (value->kind)
    {
    case WB_STORE_VALUE_INTEGER:
      sqlite3_bind_int64 (statement, index, value->integer);
      break;
    case WB_STORE_VALUE_REAL:
      sqlite3_bind_double (statement, index, value->real);
      break;
    case WB_STORE_VALUE_TEXT:
      sqlite3_bind_text64 (statement, index, (const char *) value->bytes, value->length, SQLITE_STATIC, SQLITE_UTF8);
      break;
    case WB_STORE_VALUE_BLOB:
      sqlite3_bind_blob64 (statement, index, value->bytes, value->length, SQLITE_STATIC);
      break;
    case WB_STORE_VALUE_NULL:
    default:
      sqlite3_bind_null (statement, index);
    }
}

/* What the identities said stays at hand: their table is made anew in the end. */
static void
note_identity (Reader            *self,
               const WbStoreCell *cell)
{
  g_autofree char *name = g_strndup ((const char *) cell->values[1].bytes, cell->values[1].length);
  WbStoreOldIdentity *old;

  if (wb_store_table_named (name) == NULL)
    return;
  old = g_new0 (WbStoreOldIdentity, 1);
  old->table = wb_store_table_named (name);
  old->has_uuid = cell->values[2].kind == WB_STORE_VALUE_BLOB;
  if (old->has_uuid)
    memcpy (old->uuid, cell->values[2].bytes, sizeof old->uuid);
  g_hash_table_replace (self->salvaging->kinds, g_memdup2 (&cell->rowid, sizeof cell->rowid), old);
}

static void
on_cell_cb (const WbStoreCell *cell,
            gpointer           user)
{
  Reader *self = user;
  Shape *shape = self->failed ? NULL : find_shape (self, cell);
  WbStore *store = self->salvaging->store;
  int code;

  if (shape == NULL)
    return;
  if (g_str_equal (shape->name, "object"))
    {
      note_identity (self, cell);
      return;
    }
  if (g_str_equal (shape->name, "head"))
    {
      self->salvaging->head = cell->rowid == 1 ? cell->values[1].integer : self->salvaging->head;
      return;
    }
  for (guint i = 0; i < cell->n; i++)
    bind (shape->insert, (int) i + 1, &cell->values[i]);
  if (shape->has_rowid)
    sqlite3_bind_int64 (shape->insert, 1, cell->rowid);
  code = sqlite3_step (shape->insert) & 0xff;
  /* A row that its table refuses is none; a file that takes no more ends it all. */
  if (code != SQLITE_DONE && code != SQLITE_CONSTRAINT && code != SQLITE_MISMATCH && code != SQLITE_TOOBIG)
    {
      wb_store_set_sqlite_error (self->error, store->db, store->path);
      self->failed = TRUE;
    }
  sqlite3_reset (shape->insert);
}

/* Of the schema's own table: where each tree begins. */
static void
on_schema_cb (const WbStoreCell *cell,
              gpointer           user)
{
  Reader *self = user;
  const WbStoreValue *name = &cell->values[1], *root = &cell->values[3];

  if (cell->n == 5 && name->kind == WB_STORE_VALUE_TEXT && root->kind == WB_STORE_VALUE_INTEGER && root->integer > 0 && root->integer < G_MAXUINT32)
    g_hash_table_replace (self->roots, g_strndup ((const char *) name->bytes, name->length), GUINT_TO_POINTER ((guint) root->integer));
}

/* Identities on pages that no tree leads to: they are needed before the rows that they tell apart. */
static void
on_identity_cb (const WbStoreCell *cell,
                gpointer           user)
{
  Reader *self = user;
  const Shape *shape = find_shape (self, cell);

  if (shape != NULL && g_str_equal (shape->name, "object"))
    note_identity (self, cell);
}

gboolean
wb_store_salvage_read (WbStoreSalvaging *salvaging,
                       WbStorePages     *pages,
                       GError          **error)
{
  g_autoptr (GPtrArray) shapes = g_ptr_array_new_with_free_func (shape_free);
  g_autoptr (GHashTable) roots = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  Reader self = { .salvaging = salvaging, .shapes = shapes, .roots = roots, .error = error };

  if (!add_shapes (&self, salvaging->store, error))
    return FALSE;
  wb_store_pages_walk (pages, 1, on_schema_cb, &self);
  for (guint i = 0; i < shapes->len && !self.failed; i++)
    {
      gpointer root;

      self.hint = shapes->pdata[i];
      if (g_hash_table_lookup_extended (roots, self.hint->name, NULL, &root))
        wb_store_pages_walk (pages, GPOINTER_TO_UINT (root), on_cell_cb, &self);
    }
  self.hint = NULL;
  wb_store_pages_skip_free (pages);
  /* Indices stand there too: their rows have no table's shape. */
  wb_store_pages_walk_rest (pages, FALSE, on_identity_cb, &self);
  wb_store_pages_walk_rest (pages, TRUE, on_cell_cb, &self);
  return !self.failed;
}
