/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-undo.h"

#include "wb-reading.h"
#include "wb-store-change-private.h"
#include "wb-store-identity-private.h"
#include "wb-store-private.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>

/*
 * An undo names the entry it takes back, a redo names the undo, and so on: a
 * chain. What is undone or not is the length of that chain. Taking back looks
 * only at rows: each that the entry wrote must still read as it wrote it, so that
 * later entries which cancel each other out do not stand in the way.
 */

/* The newest edit that is not undone; 0: none. */
static const char newest_edit[] =
  "SELECT e.number FROM entry AS e WHERE e.kind = 'edit' AND "
  "(WITH RECURSIVE chain (number, depth) AS (SELECT e.number, 0 UNION ALL "
  " SELECT u.number, depth + 1 FROM chain JOIN entry AS u ON u.undoes = chain.number) "
  " SELECT max (depth) FROM chain) % 2 = 0 ORDER BY e.number DESC LIMIT 1";

/*
 * The newest entry above that edit which undo leaves alone and a person would miss: what a file or the command line
 * brought, or the way back to a backup; 0: none. A migration is nobody's deed.
 */
static const char newest_passed[] =
  "SELECT e.number FROM entry AS e WHERE e.kind IN ('import', 'command', 'restore') AND e.number > ?1 AND "
  "(WITH RECURSIVE chain (number, depth) AS (SELECT e.number, 0 UNION ALL "
  " SELECT u.number, depth + 1 FROM chain JOIN entry AS u ON u.undoes = chain.number) "
  " SELECT max (depth) FROM chain) % 2 = 0 ORDER BY e.number DESC LIMIT 1";

/* The newest undo that nothing took back, and after which nothing was edited. */
static const char newest_undo[] =
  "SELECT e.number FROM entry AS e WHERE e.kind = 'undo' AND NOT EXISTS (SELECT 1 FROM entry AS u WHERE u.undoes = e.number) "
  "AND NOT EXISTS (SELECT 1 FROM entry AS n WHERE n.kind = 'edit' AND n.number > e.number) "
  "ORDER BY e.number DESC LIMIT 1";

/* The end of the chain that hangs on an entry: itself if nobody took it back. */
static gboolean
find_tip (WbStore *self,
          gint64   number,
          gint64  *tip,
          GError **error)
{
  sqlite3_stmt *statement =
    wb_store_statement (self, "WITH RECURSIVE chain (number) AS (SELECT ?1 UNION ALL SELECT u.number FROM chain "
                        "JOIN entry AS u ON u.undoes = chain.number) SELECT max (number) FROM chain", error);

  if (statement != NULL)
    sqlite3_bind_int64 (statement, 1, number);
  return wb_store_get_integer (self, statement, number, tip, error);
}

static WbEntry *
get_entry (WbStore    *self,
           const char *sql,
           GError    **error)
{
  gint64 number;

  if (!wb_store_get_integer (self, wb_store_statement (self, sql, error), 0, &number, error) || number == 0)
    return NULL;
  return wb_store_load_entry (self, number, error);
}

WbEntry *
wb_store_get_undo (WbStore *self,
                   GError **error)
{
  g_return_val_if_fail (self != NULL, NULL);
  wb_store_assert_thread (self);

  return get_entry (self, newest_edit, error);
}

WbEntry *
wb_store_get_passed (WbStore *self,
                     GError **error)
{
  g_return_val_if_fail (self != NULL, NULL);
  wb_store_assert_thread (self);

  g_autoptr (WbEntry) edit = get_entry (self, newest_edit, error);
  sqlite3_stmt *statement;
  gint64 number;

  if (edit == NULL)
    return NULL;
  statement = wb_store_statement (self, newest_passed, error);
  if (statement != NULL)
    sqlite3_bind_int64 (statement, 1, edit->number);
  if (!wb_store_get_integer (self, statement, 0, &number, error) || number == 0)
    return NULL;
  return wb_store_load_entry (self, number, error);
}

WbEntry *
wb_store_get_redo (WbStore *self,
                   GError **error)
{
  g_return_val_if_fail (self != NULL, NULL);
  wb_store_assert_thread (self);

  return get_entry (self, newest_undo, error);
}

/* What is being taken back: the rows of one entry, table by table. */
typedef struct
{
  WbStore       *store;
  WbStoreChange *change;
  gint64         entry;
  gint64         left;     /* rows of the entry not found yet */
  GArray       **restored; /* gint64 ids of what must be looked at in the end, one array a table */
} TakeBack;

static gboolean
collect (TakeBack   *self,
         const char *sql,
         GArray     *ids,
         GError    **error)
{
  sqlite3_stmt *statement = wb_store_statement (self->store, sql, error);
  WbStep step;

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, self->entry);
  while ((step = wb_store_step (self->store, statement, error)) == WB_STEP_ROW)
    {
      gint64 id = sqlite3_column_int64 (statement, 0);

      g_array_append_val (ids, id);
    }
  return step == WB_STEP_DONE;
}

/*
 * The first reading from this id on, and the entry that first wrote it; both G_MAXINT64 if there is none. Ids may have holes:
 * a salvage leaves them where readings were lost.
 */
static gboolean
find_reading (TakeBack *self,
              gint64    from,
              gint64   *id,
              gint64   *entry,
              GError  **error)
{
  sqlite3_stmt *statement = wb_store_statement (self->store, "SELECT id, entry FROM reading WHERE id >= ? ORDER BY id, entry LIMIT 1", error);
  WbStep step;

  *id = *entry = G_MAXINT64;
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, from);
  step = wb_store_step (self->store, statement, error);
  if (step == WB_STEP_ROW)
    {
      *id = sqlite3_column_int64 (statement, 0);
      *entry = sqlite3_column_int64 (statement, 1);
      wb_store_reset (statement);
    }
  return step != WB_STEP_ERROR;
}

/* New readings get growing ids, and so those of one entry stand side by side: halving finds them among a million. */
static gboolean
collect_new_readings (TakeBack *self,
                      GArray   *ids,
                      GError  **error)
{
  gint64 low = 1, high, id, entry;

  if (!wb_store_get_integer (self->store, wb_store_statement (self->store, "SELECT max (id) + 1 FROM reading", error), 1, &high,
                             error))
    return FALSE;
  while (low < high)
    {
      gint64 middle = low + (high - low) / 2;

      if (!find_reading (self, middle, &id, &entry, error))
        return FALSE;
      if (entry < self->entry)
        low = middle + 1;
      else
        high = middle;
    }
  for (;; low = id + 1)
    {
      if (!find_reading (self, low, &id, &entry, error))
        return FALSE;
      if (entry != self->entry)
        return TRUE;
      g_array_append_val (ids, id);
    }
}

static gboolean
collect_readings (TakeBack *self,
                  GArray   *ids,
                  GError  **error)
{
  return collect (self, "SELECT id FROM reading WHERE entry = ? AND previous IS NOT NULL ORDER BY id", ids, error)
         && collect_new_readings (self, ids, error);
}

static gpointer
load_version (TakeBack           *self,
              const WbStoreTable *table,
              gint64              id,
              gint64              before,
              GError            **error)
{
  sqlite3_stmt *statement = wb_store_statement (self->store, table->load_before, error);
  gpointer record = NULL;

  if (statement == NULL)
    return NULL;
  sqlite3_bind_int64 (statement, 1, id);
  sqlite3_bind_int64 (statement, 2, before);
  if (wb_store_step (self->store, statement, error) == WB_STEP_ROW)
    {
      record = wb_store_table_read (table, statement);
      wb_store_reset (statement);
    }
  return record;
}

static void
refuse_changed (gconstpointer now,
                GError      **error)
{
  g_autofree char *what = wb_store_identity_dup_words (now);

  g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_CONFLICT,
               /* Translators: what it is, the number of an entry */
               _("It cannot be taken back, because %s was changed later, by entry %" PRId64 "."), what,
               ((const WbRecord *) now)->entry);
}

/* Gives one row the version that it had before. */
static gboolean
restore_row (TakeBack           *self,
             const WbStoreTable *table,
             gint64              id,
             GError            **error)
{
  GError *local = NULL;
  g_autoptr (WbRecord) now = load_version (self, table, id, G_MAXINT64, &local);
  g_autoptr (WbRecord) written = local == NULL ? load_version (self, table, id, self->entry + 1, &local) : NULL;
  g_autoptr (WbRecord) before = local == NULL ? load_version (self, table, id, self->entry, &local) : NULL;

  if (local != NULL)
    {
      g_propagate_error (error, local);
      return FALSE;
    }
  if (!wb_record_equal (now, written) || now->deleted != written->deleted)
    {
      refuse_changed (now, error);
      return FALSE;
    }
  if (before == NULL)
    {
      before = wb_record_copy (written);
      before->deleted = TRUE;
    }
  /* Nothing refers to a reading: one that is gone needs no further look. */
  if (!table->is_reading || !before->deleted)
    g_array_append_val (self->restored[table->index], id);
  return wb_store_change_write (self->change, table, before, now, error);
}

static gboolean
restore_table (TakeBack           *self,
               const WbStoreTable *table,
               GError            **error)
{
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autofree char *sql = g_strdup_printf ("SELECT id FROM %s WHERE entry = ? ORDER BY id", table->type->name);

  if (self->left == 0)
    return TRUE;
  if (!(table->is_reading ? collect_readings (self, ids, error) : collect (self, sql, ids, error)))
    return FALSE;
  self->left -= ids->len;
  for (guint i = 0; i < ids->len; i++)
    if (!restore_row (self, table, g_array_index (ids, gint64, i), error))
      return FALSE;
  return TRUE;
}

typedef struct
{
  gint64 reading, column;
} Cell;

/* The cell's value in its newest version older than `before`. */
static gboolean
load_cell (TakeBack   *self,
           const Cell *cell,
           gint64      before,
           char      **value,
           gint64     *entry,
           GError    **error)
{
  sqlite3_stmt *statement = wb_store_statement (self->store, "SELECT entry, value FROM extra WHERE reading = ? AND "
                                                "column_id = ? AND entry < ? ORDER BY entry DESC LIMIT 1", error);
  WbStep step;

  *value = NULL;
  *entry = 0;
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, cell->reading);
  sqlite3_bind_int64 (statement, 2, cell->column);
  sqlite3_bind_int64 (statement, 3, before);
  step = wb_store_step (self->store, statement, error);
  if (step == WB_STEP_ROW)
    {
      *entry = sqlite3_column_int64 (statement, 0);
      *value = wb_store_column_dup_text (statement, 1);
      wb_store_reset (statement);
    }
  return step != WB_STEP_ERROR;
}

static gboolean
restore_cell (TakeBack   *self,
              const Cell *cell,
              GError    **error)
{
  g_autofree char *now = NULL, *written = NULL, *before = NULL;
  gint64 now_entry, entry;

  if (!load_cell (self, cell, G_MAXINT64, &now, &now_entry, error)
      || !load_cell (self, cell, self->entry + 1, &written, &entry, error)
      || !load_cell (self, cell, self->entry, &before, &entry, error))
    return FALSE;
  if (g_strcmp0 (now, written) != 0)
    {
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_CONFLICT,
                   _("It cannot be taken back, because a cell that it wrote was changed later, by entry %" PRId64 "."),
                   now_entry);
      return FALSE;
    }
  return wb_store_change_write_extra (self->change, cell->reading, cell->column, before, now_entry, error);
}

/* Cells are looked for only where the entry wrote more than has been found: the table has no index by entry. */
static gboolean
restore_extra (TakeBack *self,
               GError  **error)
{
  g_autoptr (GArray) cells = g_array_new (FALSE, FALSE, sizeof (Cell));
  sqlite3_stmt *statement;
  WbStep step;

  if (self->left == 0)
    return TRUE;
  statement = wb_store_statement (self->store, "SELECT reading, column_id FROM extra WHERE entry = ? ORDER BY seq", error);
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, self->entry);
  while ((step = wb_store_step (self->store, statement, error)) == WB_STEP_ROW)
    {
      Cell cell = { sqlite3_column_int64 (statement, 0), sqlite3_column_int64 (statement, 1) };

      g_array_append_val (cells, cell);
    }
  if (step == WB_STEP_ERROR)
    return FALSE;
  for (guint i = 0; i < cells->len; i++)
    if (!restore_cell (self, &g_array_index (cells, Cell, i), error))
      return FALSE;
  return TRUE;
}

static gboolean
is_unused (TakeBack           *self,
           const WbStoreTable *table,
           gconstpointer       record,
           GError            **error)
{
  g_autoptr (GArray) uses = wb_store_list_uses (self->store, table->type, ((const WbRecord *) record)->id, error);
  g_autofree char *what = NULL, *who = NULL;

  if (uses == NULL)
    return FALSE;
  if (uses->len == 0)
    return TRUE;
  for (guint i = 0; i < uses->len; i++)
    g_array_index (uses, WbStoreUse, i).part = FALSE;
  what = wb_store_identity_dup_words (record);
  who = wb_store_uses_dup_words (uses);
  g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_CONFLICT,
               _("It cannot be taken back, because %s is in use since: %s."), what, who);
  return FALSE;
}

/* What is there again must not have lost its name to another, and what is gone must not be in use. */
static gboolean
check_restored (TakeBack *self,
                GError  **error)
{
  for (guint t = 0; t < wb_store_table_count (); t++)
    {
      const WbStoreTable *table = wb_store_table_nth (t);

      for (guint i = 0; i < self->restored[t]->len; i++)
        {
          g_autoptr (WbRecord) record = load_version (self, table, g_array_index (self->restored[t], gint64, i), G_MAXINT64,
                                                      error);

          if (record == NULL
              || !(record->deleted ? is_unused (self, table, record, error)
                                   : wb_store_change_references_are_there (self->change, table, record, error)
                                     && wb_store_identity_is_free (self->store, table, record, error)))
            return FALSE;
        }
    }
  return TRUE;
}

static gboolean
take_back_rows (TakeBack *self,
                GError  **error)
{
  for (guint t = 0; t < wb_store_table_count (); t++)
    if (!restore_table (self, wb_store_table_nth (t), error))
      return FALSE;
  return restore_extra (self, error) && check_restored (self, error);
}

static gboolean
take_back (WbStore       *store,
           const WbEntry *what,
           const WbEntry *root,
           WbEntryKind    kind,
           const char    *who,
           WbInstant      now,
           gint64        *entry,
           GError       **error)
{
  TakeBack self = { .store = store, .entry = what->number, .left = what->rows };
  gboolean done;

  self.change = wb_store_begin (store, kind, root->topic, who, root->why, now, error);
  if (self.change == NULL)
    return FALSE;
  wb_store_change_set_undoes (self.change, what->number);
  self.restored = g_new0 (GArray *, wb_store_table_count ());
  for (guint t = 0; t < wb_store_table_count (); t++)
    self.restored[t] = g_array_new (FALSE, FALSE, sizeof (gint64));

  done = take_back_rows (&self, error);
  for (guint t = 0; t < wb_store_table_count (); t++)
    g_array_unref (self.restored[t]);
  g_free (self.restored);
  if (done)
    return wb_store_commit (self.change, entry, error);
  wb_store_rollback (self.change);
  return FALSE;
}

static gboolean
nothing (const char *words,
         GError    **error)
{
  if (error != NULL && *error == NULL)
    g_set_error_literal (error, WB_STORE_ERROR, WB_STORE_ERROR_MISSING, words);
  return FALSE;
}

gboolean
wb_store_undo (WbStore    *self,
               const char *who,
               WbInstant   now,
               gint64     *entry,
               GError    **error)
{
  g_return_val_if_fail (self != NULL && now.known, FALSE);
  g_return_val_if_fail (self->change == NULL, FALSE);
  wb_store_assert_thread (self);

  g_autoptr (WbEntry) edit = get_entry (self, newest_edit, error);
  g_autoptr (WbEntry) tip = NULL;
  gint64 number;

  if (edit == NULL)
    return nothing (_("There is nothing to take back."), error);
  if (!find_tip (self, edit->number, &number, error))
    return FALSE;
  tip = wb_store_load_entry (self, number, error);
  return tip != NULL && take_back (self, tip, edit, WB_ENTRY_UNDO, who, now, entry, error);
}

gboolean
wb_store_redo (WbStore    *self,
               const char *who,
               WbInstant   now,
               gint64     *entry,
               GError    **error)
{
  g_return_val_if_fail (self != NULL && now.known, FALSE);
  g_return_val_if_fail (self->change == NULL, FALSE);
  wb_store_assert_thread (self);

  g_autoptr (WbEntry) undo = get_entry (self, newest_undo, error);

  if (undo == NULL)
    return nothing (_("There is nothing to bring back."), error);
  return take_back (self, undo, undo, WB_ENTRY_REDO, who, now, entry, error);
}

gboolean
wb_store_take_back (WbStore    *self,
                    gint64      number,
                    const char *who,
                    WbInstant   now,
                    gint64     *entry,
                    GError    **error)
{
  g_return_val_if_fail (self != NULL && now.known, FALSE);
  g_return_val_if_fail (self->change == NULL, FALSE);
  wb_store_assert_thread (self);

  g_autoptr (WbEntry) what = wb_store_load_entry (self, number, error);
  gint64 tip;

  if (what == NULL || !find_tip (self, number, &tip, error))
    return FALSE;
  if (what->kind == WB_ENTRY_CREATE || what->kind == WB_ENTRY_MIGRATION || what->kind == WB_ENTRY_RESTORE)
    {
      g_set_error_literal (error, WB_STORE_ERROR, WB_STORE_ERROR_CONFLICT, _("Such an entry cannot be taken back."));
      return FALSE;
    }
  if (tip != number)
    {
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_CONFLICT,
                   _("Entry %" PRId64 " was taken back already, by entry %" PRId64 "."), number, tip);
      return FALSE;
    }
  return take_back (self, what, what, WB_ENTRY_TAKE_BACK, who, now, entry, error);
}
