/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-change-private.h"

#include "wb-clock.h"
#include "wb-store-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static const char *const kind_nicks[WB_N_ENTRY_KINDS] = {
  [WB_ENTRY_CREATE] = "create",
  [WB_ENTRY_EDIT] = "edit",
  [WB_ENTRY_COMMAND] = "command",
  [WB_ENTRY_IMPORT] = "import",
  [WB_ENTRY_UNDO] = "undo",
  [WB_ENTRY_REDO] = "redo",
  [WB_ENTRY_TAKE_BACK] = "take_back",
  [WB_ENTRY_MIGRATION] = "migration",
  [WB_ENTRY_RESTORE] = "restore",
};

const char *
wb_entry_kind_get_nick (WbEntryKind kind)
{
  g_return_val_if_fail (kind < WB_N_ENTRY_KINDS, NULL);

  return kind_nicks[kind];
}

static void
change_free (WbStoreChange *self)
{
  if (self->store->change == self)
    self->store->change = NULL;
  g_ptr_array_unref (self->waiting);
  wb_store_digest_free (self->digest);
  wb_store_counts_free (self->counts);
  g_free (self->topic);
  g_free (self->who);
  g_free (self->why);
  g_free (self->zone);
  g_free (self);
}

WbStore *
wb_store_change_get_store (WbStoreChange *self)
{
  return self->store;
}

gint64
wb_store_change_get_entry (WbStoreChange *self)
{
  return self->entry;
}

void
wb_store_change_set_undoes (WbStoreChange *self,
                            gint64         entry)
{
  self->undoes = entry;
}

/* Number and hash of the last entry, as the notebook's own row has them. */
static gboolean
read_head (WbStoreChange *self,
           guint8         hash[WB_STORE_HASH_SIZE],
           GError       **error)
{
  WbStore *store = self->store;
  sqlite3_stmt *statement =
    wb_store_statement (store, "SELECT entries, hash, (SELECT max (number) FROM entry) FROM head WHERE id = 1", error);
  WbStep step = statement != NULL ? wb_store_step (store, statement, error) : WB_STEP_ERROR;

  if (step == WB_STEP_ERROR)
    return FALSE;
  if (step == WB_STEP_DONE || sqlite3_column_bytes (statement, 1) != WB_STORE_HASH_SIZE
      || sqlite3_column_int64 (statement, 0) != sqlite3_column_int64 (statement, 2))
    {
      wb_store_reset (statement);
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_DAMAGED,
                   _("The record in “%s” does not end where the notebook says. Run a check."), store->path);
      return FALSE;
    }
  self->entry = sqlite3_column_int64 (statement, 0) + 1;
  memcpy (hash, sqlite3_column_blob (statement, 1), WB_STORE_HASH_SIZE);
  wb_store_reset (statement);
  return TRUE;
}

static gboolean
read_next_ids (WbStoreChange *self,
               GError       **error)
{
  WbStore *store = self->store;

  return wb_store_get_integer (store, wb_store_statement (store, "SELECT max (id) + 1 FROM object", error), 1,
                               &self->next_object, error)
         && wb_store_get_integer (store, wb_store_statement (store, "SELECT max (id) + 1 FROM reading", error), 1,
                                  &self->next_reading, error);
}

/* The row that the versions lean on; its rows and hash are filled in by wb_store_commit(). */
static gboolean
insert_entry (WbStoreChange *self,
              GError       **error)
{
  sqlite3_stmt *statement = wb_store_statement (self->store, "INSERT INTO entry (number, instant_us, offset_s, zone, kind, "
                                                "topic, who, why, undoes, rows, hash) "
                                                "VALUES (?, ?, ?, ?, ?, ?, ?, ?, NULL, 0, zeroblob (32))", error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, self->entry);
  sqlite3_bind_int64 (statement, 2, self->now.utc_us);
  sqlite3_bind_int (statement, 3, self->now.offset_s);
  wb_store_bind_text (statement, 4, self->zone);
  wb_store_bind_text (statement, 5, kind_nicks[self->kind]);
  wb_store_bind_text (statement, 6, self->topic);
  wb_store_bind_text (statement, 7, self->who);
  wb_store_bind_text (statement, 8, self->why);
  return wb_store_run (self->store, statement, error);
}

WbStoreChange *
wb_store_change_start (WbStore    *store,
                       WbEntryKind kind,
                       const char *topic,
                       const char *who,
                       const char *why,
                       WbInstant   now,
                       GError    **error)
{
  WbStoreChange *self = g_new0 (WbStoreChange, 1);
  guint8 hash[WB_STORE_HASH_SIZE];

  store->wrote = TRUE;
  self->store = store;
  self->waiting = g_ptr_array_new_with_free_func (wb_record_free);
  self->kind = kind;
  self->topic = g_strdup (topic);
  self->who = g_strdup (who);
  self->why = g_strdup (why);
  self->now = now;
  self->zone = wb_clock_dup_zone (wb_clock_get ());
  if (!read_head (self, hash, error) || !read_next_ids (self, error) || !insert_entry (self, error))
    {
      change_free (self);
      return NULL;
    }
  self->digest = wb_store_digest_new (hash);
  self->counts = wb_store_counts_new (store);
  store->change = self;
  return self;
}

gboolean
wb_store_may_write (WbStore *store,
                    GError **error)
{
  if (store->read_only)
    {
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_READ_ONLY, _("“%s” is open for reading only."), store->path);
      return FALSE;
    }
  if (wb_store_has_moved (store))
    {
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_MOVED,
                   _("“%s” was moved, deleted or replaced while it was open: nothing was saved."), store->path);
      return FALSE;
    }
  return TRUE;
}

WbStoreChange *
wb_store_begin (WbStore    *store,
                WbEntryKind kind,
                const char *topic,
                const char *who,
                const char *why,
                WbInstant   now,
                GError    **error)
{
  g_return_val_if_fail (store != NULL && why != NULL && now.known, NULL);
  g_return_val_if_fail (store->change == NULL, NULL);
  wb_store_assert_thread (store);

  WbStoreChange *self;

  if (!wb_store_may_write (store, error) || !wb_store_exec (store, "BEGIN IMMEDIATE", error))
    return NULL;
  self = wb_store_change_start (store, kind, topic, who, why, now, error);
  if (self == NULL)
    sqlite3_exec (store->db, "ROLLBACK", NULL, NULL, NULL);
  return self;
}

static gboolean
insert_object (WbStoreChange      *self,
               const WbStoreTable *table,
               gconstpointer       record,
               GError            **error)
{
  sqlite3_stmt *statement = wb_store_statement (self->store, "INSERT INTO object (id, type, uuid, entry) VALUES (?, ?, ?, ?)",
                                                error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, ((const WbRecord *) record)->id);
  sqlite3_bind_text (statement, 2, table->type->name, -1, SQLITE_STATIC);
  if (table->uuid != NULL)
    wb_store_field_bind (table->uuid, record, statement, 3);
  sqlite3_bind_int64 (statement, 4, self->entry);
  return wb_store_run (self->store, statement, error);
}

/* The hot ones of an import: found without hashing their text a million times. */
static sqlite3_stmt *
insert_statement (WbStore            *store,
                  const WbStoreTable *table,
                  gboolean            many,
                  GError            **error)
{
  sqlite3_stmt **statement = &store->inserts[2 * table->index + (many ? 1 : 0)];

  if (*statement == NULL)
    *statement = wb_store_statement (store, many ? table->insert_many : table->insert, error);
  else
    sqlite3_clear_bindings (*statement);
  return *statement;
}

static gboolean
insert_version (WbStoreChange      *self,
                const WbStoreTable *table,
                gconstpointer       record,
                gint64              seq,
                gint64              previous,
                GError            **error)
{
  sqlite3_stmt *statement = insert_statement (self->store, table, FALSE, error);

  if (statement == NULL)
    return FALSE;
  wb_store_table_bind (table, record, seq, previous, statement, 0);
  return wb_store_run (self->store, statement, error);
}

static gboolean
insert_many (WbStoreChange      *self,
             const WbStoreTable *table,
             GError            **error)
{
  sqlite3_stmt *statement = insert_statement (self->store, table, TRUE, error);

  if (statement == NULL)
    return FALSE;
  for (int i = 0; i < WB_STORE_MANY; i++)
    wb_store_table_bind (table, self->waiting->pdata[i], self->waiting_seq[i], 0, statement, i * table->n_columns);
  return wb_store_run (self->store, statement, error);
}

/* Writes the readings that wait. */
static gboolean
flush (WbStoreChange *self,
       GError       **error)
{
  const WbStoreTable *table = wb_store_table_find (&wb_reading_type);

  if (self->waiting->len == 0)
    return TRUE;
  self->broken = TRUE;
  if (self->waiting->len == WB_STORE_MANY)
    {
      if (!insert_many (self, table, error))
        return FALSE;
    }
  else
    for (guint i = 0; i < self->waiting->len; i++)
      if (!insert_version (self, table, self->waiting->pdata[i], self->waiting_seq[i], 0, error))
        return FALSE;
  g_ptr_array_set_size (self->waiting, 0);
  self->broken = FALSE;
  return TRUE;
}

/* A version that is in the table, or waits to be: its place, its hash, its counts. */
static gboolean
note_version (WbStoreChange      *self,
              const WbStoreTable *table,
              gconstpointer       record,
              gconstpointer       before,
              gint64              previous,
              GError            **error)
{
  self->rows++;
  wb_store_table_digest (table, record, self->rows, previous, self->digest);
  return wb_store_counts_note (self->counts, table, before, record, error);
}

gboolean
wb_store_change_write (WbStoreChange      *self,
                       const WbStoreTable *table,
                       gpointer            record,
                       gconstpointer       before,
                       GError            **error)
{
  WbRecord *head = record;
  gint64 previous = before != NULL ? ((const WbRecord *) before)->entry : 0;

  g_assert (!self->broken && head->id > 0 && previous != self->entry);
  self->broken = TRUE;
  head->entry = self->entry;
  if ((before == NULL && !table->is_reading && !insert_object (self, table, record, error))
      || !insert_version (self, table, record, self->rows + 1, previous, error)
      || !note_version (self, table, record, before, previous, error))
    return FALSE;
  self->broken = FALSE;
  return TRUE;
}

gboolean
wb_store_change_write_reading (WbStoreChange *self,
                               gpointer       reading,
                               GError       **error)
{
  const WbStoreTable *table = wb_store_table_find (&wb_reading_type);

  g_assert (!self->broken && ((WbRecord *) reading)->id > 0);
  if (self->waiting->len == WB_STORE_MANY && !flush (self, error))
    return FALSE;
  ((WbRecord *) reading)->entry = self->entry;
  self->waiting_seq[self->waiting->len] = self->rows + 1;
  g_ptr_array_add (self->waiting, wb_record_copy (reading));
  if (note_version (self, table, reading, NULL, 0, error))
    return TRUE;
  self->broken = TRUE;
  return FALSE;
}

static void
digest_entry (WbStoreChange *self,
              guint8         hash[WB_STORE_HASH_SIZE])
{
  WbStoreDigest *digest = self->digest;

  wb_store_digest_begin (digest, NULL);
  wb_store_digest_integer (digest, "number", self->entry);
  wb_store_digest_integer (digest, "instant_us", self->now.utc_us);
  wb_store_digest_integer (digest, "offset_s", self->now.offset_s);
  wb_store_digest_text (digest, "zone", self->zone);
  wb_store_digest_text (digest, "kind", kind_nicks[self->kind]);
  wb_store_digest_text (digest, "topic", self->topic);
  wb_store_digest_text (digest, "who", self->who);
  wb_store_digest_text (digest, "why", self->why);
  if (self->undoes != 0)
    wb_store_digest_integer (digest, "undoes", self->undoes);
  wb_store_digest_integer (digest, "rows", self->rows);
  wb_store_digest_end (digest);
  wb_store_digest_finish (digest, hash);
}

/* Closes the entry and sets the notebook's own row to it. */
static gboolean
write_entry (WbStoreChange *self,
             GError       **error)
{
  guint8 hash[WB_STORE_HASH_SIZE];
  sqlite3_stmt *entry = wb_store_statement (self->store, "UPDATE entry SET undoes = ?, rows = ?, hash = ? WHERE number = ?",
                                            error);
  sqlite3_stmt *head = wb_store_statement (self->store, "UPDATE head SET entries = ?, hash = ? WHERE id = 1", error);

  if (entry == NULL || head == NULL)
    return FALSE;
  digest_entry (self, hash);
  if (self->undoes != 0)
    sqlite3_bind_int64 (entry, 1, self->undoes);
  sqlite3_bind_int64 (entry, 2, self->rows);
  sqlite3_bind_blob (entry, 3, hash, sizeof hash, SQLITE_STATIC);
  sqlite3_bind_int64 (entry, 4, self->entry);
  sqlite3_bind_int64 (head, 1, self->entry);
  sqlite3_bind_blob (head, 2, hash, sizeof hash, SQLITE_STATIC);
  return wb_store_run (self->store, entry, error) && wb_store_run (self->store, head, error);
}

/* Bytes that no record names in the end are not kept: nothing would tell whose they are, and no hash would cover them. */
static gboolean
drop_unnamed_bytes (WbStoreChange *self,
                    GError       **error)
{
  return !self->attached
         || wb_store_exec (self->store, "DELETE FROM attachment_data WHERE sha256 NOT IN (SELECT sha256 FROM attachment)", error);
}

/* What stands in the record even without rows. */
static gboolean
has_something_to_say (WbStoreChange *self)
{
  return self->rows > 0 || self->kind == WB_ENTRY_MIGRATION || self->kind == WB_ENTRY_RESTORE;
}

gboolean
wb_store_commit (WbStoreChange *self,
                 gint64        *entry,
                 GError       **error)
{
  g_return_val_if_fail (self != NULL, FALSE);
  wb_store_assert_thread (self->store);
  g_return_val_if_fail (!self->broken, (wb_store_rollback (self), FALSE));

  gint64 number = has_something_to_say (self) ? self->entry : 0;

  if (entry != NULL)
    *entry = 0;
  if (number == 0)
    {
      wb_store_rollback (self);
      return TRUE;
    }
  if (!flush (self, error)
      || !drop_unnamed_bytes (self, error)
      || !write_entry (self, error)
      || !wb_store_counts_write (self->counts, self->entry, error)
      || !wb_store_may_write (self->store, error)
      || !wb_store_exec (self->store, "COMMIT", error))
    {
      wb_store_rollback (self);
      return FALSE;
    }
  if (entry != NULL)
    *entry = number;
  change_free (self);
  return TRUE;
}

void
wb_store_rollback (WbStoreChange *self)
{
  if (self == NULL)
    return;
  wb_store_assert_thread (self->store);

  /* Fails only where SQLite has rolled back by itself, as it does on a full disk. */
  sqlite3_exec (self->store->db, "ROLLBACK", NULL, NULL, NULL);
  change_free (self);
}
