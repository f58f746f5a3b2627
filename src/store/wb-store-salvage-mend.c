/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-salvage-private.h"

#include "wb-clock.h"
#include "wb-store-check-rows-private.h"
#include "wb-store-counts-private.h"
#include "wb-store-table-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

typedef enum { PROVEN, PARTIAL, UNPROVEN, LOST } State;

/* What is known of one entry of the old record. */
typedef struct
{
  State  state;
  gint64 wanted; /* rows that it says it wrote */
  gint64 found;
} Entry;

static gboolean
get (WbStoreSalvaging *self,
     const char       *sql,
     gint64           *value,
     GError          **error)
{
  return wb_store_get_integer (self->store, wb_store_statement (self->store, sql, error), 0, value, error);
}

static gboolean G_GNUC_PRINTF (2, 4)
run (WbStoreSalvaging *self,
     const char       *format,
     GError          **error,
     ...)
{
  g_autofree char *sql = NULL;
  va_list arguments;

  va_start (arguments, error);
  sql = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  return wb_store_exec (self->store, sql, error);
}

/* ---- What was kept with records ---- */

/* A file whose bytes are not what they were is not kept, and nothing may name it. */
static gboolean
drop_altered_files (WbStoreSalvaging *self,
                    GError          **error)
{
  sqlite3_stmt *statement = wb_store_statement (self->store, "SELECT sha256, bytes FROM attachment_data", error);
  g_autoptr (GPtrArray) altered = g_ptr_array_new_with_free_func (g_free);
  WbStep step = WB_STEP_ERROR;

  while (statement != NULL && (step = wb_store_step (self->store, statement, error)) == WB_STEP_ROW)
    {
      char *name = wb_store_column_dup_text (statement, 0);
      g_autofree char *hex = wb_store_digest_dup_hex (sqlite3_column_blob (statement, 1), (gsize) sqlite3_column_bytes (statement, 1));

      if (strcmp (hex, name) != 0)
        g_ptr_array_add (altered, name);
      else
        g_free (name);
    }
  if (step != WB_STEP_DONE)
    return FALSE;
  statement = wb_store_statement (self->store, "DELETE FROM attachment_data WHERE sha256 = ?", error);
  for (guint i = 0; i < altered->len; i++)
    {
      wb_store_bind_text (statement, 1, altered->pdata[i]);
      if (!wb_store_run (self->store, statement, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
mend_files (WbStoreSalvaging *self,
            GError          **error)
{
  sqlite3_stmt *statement;
  WbStep step = WB_STEP_ERROR;

  if (!drop_altered_files (self, error))
    return FALSE;
  statement = wb_store_statement (self->store, "SELECT DISTINCT name FROM attachment WHERE sha256 NOT IN (SELECT sha256 FROM attachment_data)", error);
  while (statement != NULL && (step = wb_store_step (self->store, statement, error)) == WB_STEP_ROW)
    {
      g_autofree char *name = wb_store_column_dup_text (statement, 0);

      self->result->files_lost++;
      wb_store_salvage_tell (self, g_strdup_printf (_("The kept file “%s” is lost."), name));
    }
  return step == WB_STEP_DONE
         && run (self, "DELETE FROM attachment WHERE sha256 NOT IN (SELECT sha256 FROM attachment_data);"
                       "DELETE FROM attachment_data WHERE sha256 NOT IN (SELECT sha256 FROM attachment)", error);
}

/* ---- Entries ---- */

/* The last number that the old record had, as far as its own row, its entries and the rows of the record tell. */
static gboolean
find_last (WbStoreSalvaging *self,
           GError          **error)
{
  g_autoptr (GString) sql = g_string_new ("SELECT number FROM entry");
  sqlite3_stmt *statement;
  WbStep step = WB_STEP_ERROR;
  gboolean told = self->head > 0 && self->head <= self->most;
  gint64 last;

  if (!get (self, "SELECT max (number) FROM entry", &last, error))
    return FALSE;
  /* A count that entries go beyond is the one that is damaged. */
  last = MAX (told ? self->head : 0, last <= self->most ? last : 0);

  for (guint i = 0; i < wb_store_table_count (); i++)
    g_string_append_printf (sql, " UNION SELECT entry FROM %s", wb_store_table_nth (i)->type->name);
  g_string_append (sql, " ORDER BY 1");
  statement = wb_store_statement (self->store, sql->str, error);
  while (statement != NULL && (step = wb_store_step (self->store, statement, error)) == WB_STEP_ROW)
    {
      gint64 number = sqlite3_column_int64 (statement, 0);

      /* A number beyond all that the file could hold was never written. */
      if (!told && number <= self->most)
        last = MAX (last, number);
    }
  self->result->entries = last;
  return step == WB_STEP_DONE;
}

/* What names an entry that never was. */
static gboolean
drop_strays (WbStoreSalvaging *self,
             GError          **error)
{
  gint64 last = self->result->entries;

  for (guint i = 0; i < wb_store_table_count (); i++)
    if (!run (self, "DELETE FROM %s WHERE entry > %" G_GINT64_FORMAT, error, wb_store_table_nth (i)->type->name, last))
      return FALSE;
  return run (self, "DELETE FROM entry WHERE number > %" G_GINT64_FORMAT "; DELETE FROM extra WHERE entry > %" G_GINT64_FORMAT
                    "; DELETE FROM extra_column WHERE entry > %" G_GINT64_FORMAT
                    "; UPDATE entry SET undoes = NULL WHERE undoes >= number OR undoes < 1", error, last, last, last);
}

static gboolean
add_lost_entries (WbStoreSalvaging *self,
                  GArray           *entries,
                  GError          **error)
{
  sqlite3_stmt *insert;
  gint64 there;

  for (gint64 number = 1; number <= self->result->entries; number++)
    {
      Entry entry = { .state = PROVEN };
      sqlite3_stmt *statement = wb_store_statement (self->store, "SELECT max (rows, 0) + 1 FROM entry WHERE number = ?", error);

      if (statement == NULL)
        return FALSE;
      sqlite3_bind_int64 (statement, 1, number);
      if (!wb_store_get_integer (self->store, statement, 0, &there, error))
        return FALSE;
      entry.wanted = CLAMP (there - 1, 0, self->most);
      if (there == 0)
        {
          entry.state = LOST;
          entry.wanted = 0;
          insert = wb_store_statement (self->store, "INSERT INTO entry (number, instant_us, offset_s, zone, kind, why, rows, hash) VALUES (?1, "
                                       "coalesce ((SELECT instant_us FROM entry WHERE number < ?1 ORDER BY number DESC LIMIT 1), ?2), ?3, ?4, "
                                       "'restore', ?5, 0, zeroblob (32))", error);
          if (insert == NULL)
            return FALSE;
          g_autofree char *zone = wb_clock_dup_zone (wb_clock_get ());

          sqlite3_bind_int64 (insert, 1, number);
          sqlite3_bind_int64 (insert, 2, self->now.utc_us);
          sqlite3_bind_int (insert, 3, self->now.offset_s);
          sqlite3_bind_text (insert, 4, zone, -1, SQLITE_TRANSIENT);
          wb_store_bind_text (insert, 5, _("An entry whose own line is lost"));
          if (!wb_store_run (self->store, insert, error))
            return FALSE;
        }
      g_array_append_val (entries, entry);
    }
  return TRUE;
}

/* ---- Identities ---- */

/* Of each record its first version, as it stands there now. */
static gboolean
make_identities (WbStoreSalvaging *self,
                 GError          **error)
{
  if (!run (self, "DELETE FROM object", error))
    return FALSE;
  for (guint i = 0; i < wb_store_table_count (); i++)
    {
      const WbStoreTable *table = wb_store_table_nth (i);
      const char *name = table->type->name;

      if (table->is_reading)
        continue;
      if (!run (self, "INSERT OR IGNORE INTO object (id, type, uuid, entry) SELECT v.id, '%s', %s, v.entry FROM %s AS v WHERE NOT EXISTS "
                      "(SELECT 1 FROM %s AS b WHERE b.id = v.id AND b.entry < v.entry)", error, name, table->uuid != NULL ? "v.uuid" : "NULL", name, name)
          /* Under an id, or a UUID, that another has. */
          || !run (self, "DELETE FROM %s WHERE NOT EXISTS (SELECT 1 FROM object AS o WHERE o.id = %s.id AND o.type = '%s')", error, name, name, name))
        return FALSE;
    }
  return TRUE;
}

static gboolean
tell_lost_records (WbStoreSalvaging *self,
                   GError          **error)
{
  g_autofree gint64 *lost = g_new0 (gint64, wb_store_table_count ());
  GHashTableIter iter;
  gpointer id, old;
  gint64 highest, distinct;

  g_hash_table_iter_init (&iter, self->kinds);
  while (g_hash_table_iter_next (&iter, &id, &old))
    {
      sqlite3_stmt *statement = wb_store_statement (self->store, "SELECT 1 FROM object WHERE id = ?", error);
      gint64 there;

      if (statement == NULL)
        return FALSE;
      sqlite3_bind_int64 (statement, 1, *(gint64 *) id);
      if (!wb_store_get_integer (self->store, statement, 0, &there, error))
        return FALSE;
      lost[((WbStoreOldIdentity *) old)->table->index] += there == 0;
    }
  for (guint i = 0; i < wb_store_table_count (); i++)
    if (lost[i] > 0)
      wb_store_salvage_tell (self, g_strdup_printf (_("%s: %d lost as a whole."), _(wb_store_table_nth (i)->type->label), (int) lost[i]));
  if (!get (self, "SELECT max (id) FROM reading", &highest, error)
      || !get (self, "SELECT count (*) FROM (SELECT DISTINCT id FROM reading)", &distinct, error))
    return FALSE;
  self->result->readings = distinct;
  if (highest > distinct)
    wb_store_salvage_tell (self, g_strdup_printf (_("Reading: %d lost as a whole, going by the numbers that are missing."), (int) (highest - distinct)));
  return TRUE;
}

/* ---- What the old hashes prove ---- */

/* Takes the hash that stands there into `previous`; *agrees: it is that of what stands under the entry. */
static gboolean
prove_one (WbStoreSalvaging *self,
           WbStoreRows      *rows,
           gint64            number,
           gint64            wanted,
           guint8            previous[WB_STORE_HASH_SIZE],
           gboolean         *agrees,
           GError          **error)
{
  g_autoptr (WbStoreDigest) digest = wb_store_digest_new (previous);
  guint8 computed[WB_STORE_HASH_SIZE];
  sqlite3_stmt *statement;

  *agrees = TRUE;
  for (gint64 seq = 1; seq <= wanted && *agrees; seq++)
    {
      WbStoreRow row = wb_store_rows_take (rows, number, seq, digest, error);

      if (row == WB_STORE_ROW_ERROR)
        return FALSE;
      *agrees = row == WB_STORE_ROW_TAKEN;
    }
  *agrees &= !wb_store_rows_has (rows, number);
  if (!wb_store_rows_skip (rows, number, error))
    return FALSE;
  statement = wb_store_statement (self->store, "SELECT " WB_STORE_ENTRY_COLUMNS " FROM entry WHERE number = ?", error);
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, number);
  if (wb_store_step (self->store, statement, error) != WB_STEP_ROW)
    return FALSE;
  wb_store_digest_entry (digest, statement);
  wb_store_digest_finish (digest, computed);
  memcpy (previous, sqlite3_column_blob (statement, WB_STORE_ENTRY_HASH), WB_STORE_HASH_SIZE);
  *agrees &= memcmp (computed, previous, WB_STORE_HASH_SIZE) == 0;
  wb_store_reset (statement);
  return TRUE;
}

static gboolean
prove (WbStoreSalvaging *self,
       GArray           *entries,
       GError          **error)
{
  g_autoptr (WbStoreRows) rows = wb_store_rows_new (self->store, error);
  guint8 hash[WB_STORE_HASH_SIZE] = { 0 };
  gboolean agrees;

  if (rows == NULL)
    return FALSE;
  for (guint i = 0; i < entries->len; i++)
    {
      Entry *entry = &g_array_index (entries, Entry, i);

      if (!prove_one (self, rows, (gint64) i + 1, entry->wanted, hash, &agrees, error))
        return FALSE;
      if (entry->state == LOST)
        continue;
      entry->state = agrees ? PROVEN : UNPROVEN;
      g_free (self->result->last);
      g_autofree char *hex = wb_store_hash_dup_hex (hash);
      self->result->last = g_strdup_printf ("%u:%s", i + 1, hex);
    }
  return TRUE;
}

/* ---- Figures that cannot be ---- */

static gboolean
has_range (const WbFieldSpec *field)
{
  return (field->type == WB_FIELD_REAL || field->type == WB_FIELD_INTEGER) && field->words == NULL && field->minimum < field->maximum;
}

/* A version whose figure stands outside its field's range. */
typedef struct
{
  gint64 id, entry;
  double value;
} Impossible;

static GArray *
find_impossible (WbStoreSalvaging  *self,
                 const char        *name,
                 const WbFieldSpec *field,
                 GError           **error)
{
  g_autoptr (GArray) found = g_array_new (FALSE, FALSE, sizeof (Impossible));
  g_autofree char *sql = g_strdup_printf ("SELECT id, entry, %s FROM %s WHERE %s NOT BETWEEN ? AND ?", field->name, name, field->name);
  sqlite3_stmt *statement = wb_store_statement (self->store, sql, error);
  WbStep step;

  if (statement == NULL)
    return NULL;
  sqlite3_bind_double (statement, 1, field->minimum);
  sqlite3_bind_double (statement, 2, field->maximum);
  while ((step = wb_store_step (self->store, statement, error)) == WB_STEP_ROW)
    {
      Impossible one = { sqlite3_column_int64 (statement, 0), sqlite3_column_int64 (statement, 1), sqlite3_column_double (statement, 2) };

      g_array_append_val (found, one);
    }
  return step == WB_STEP_DONE ? g_steal_pointer (&found) : NULL;
}

/* A version cannot be without a required figure: it goes. */
static gboolean
drop_one (WbStoreSalvaging   *self,
          const WbRecordType *type,
          const WbFieldSpec  *field,
          const Impossible   *one,
          GError            **error)
{
  g_autofree char *sql = field->required ? g_strdup_printf ("DELETE FROM %s WHERE id = ? AND entry = ?", type->name)
                                         : g_strdup_printf ("UPDATE %s SET %s = NULL WHERE id = ? AND entry = ?", type->name, field->name);
  sqlite3_stmt *statement = wb_store_statement (self->store, sql, error);
  char value[G_ASCII_DTOSTR_BUF_SIZE];

  if (statement == NULL)
    return FALSE;
  g_ascii_formatd (value, sizeof value, "%.10g", one->value);
  /* Translators: kind of record, its number; number of an entry; name of a column in the file; a number in the unit that the column's name tells */
  wb_store_salvage_tell (self, g_strdup_printf (field->required ? _("%s %d, entry %d: %s says %s, which cannot be; the row is left out.")
                                                                : _("%s %d, entry %d: %s says %s, which cannot be; it is left empty."),
                                                _(type->label), (int) one->id, (int) one->entry, field->name, value));
  sqlite3_bind_int64 (statement, 1, one->id);
  sqlite3_bind_int64 (statement, 2, one->entry);
  return wb_store_run (self->store, statement, error);
}

/*
 * A flipped bit makes a wall of millions of degrees, and what is said of a wick would rest on it. Only where the old hash does not
 * prove the entry: what is proven was written so.
 */
static gboolean
drop_impossible (WbStoreSalvaging *self,
                 GArray           *entries,
                 GError          **error)
{
  gboolean dropped = FALSE;

  for (guint i = 0; i < wb_store_table_count (); i++)
    {
      const WbRecordType *type = wb_store_table_nth (i)->type;

      for (guint k = 0; k < type->n_fields; k++)
        {
          const WbFieldSpec *field = &type->fields[k];
          g_autoptr (GArray) found = NULL;

          if (!has_range (field))
            continue;
          found = find_impossible (self, type->name, field, error);
          if (found == NULL)
            return FALSE;
          for (guint j = 0; j < found->len; j++)
            {
              const Impossible *one = &g_array_index (found, Impossible, j);
              const Entry *entry = one->entry >= 1 && one->entry <= (gint64) entries->len ? &g_array_index (entries, Entry, one->entry - 1) : NULL;

              if (entry == NULL || entry->state == PROVEN)
                continue;
              if (!drop_one (self, type, field, one, error))
                return FALSE;
              dropped |= field->required;
              /* Of a lost entry this is all that is known to be missing. */
              self->result->rows_lost += field->required && entry->state == LOST;
            }
        }
    }
  /* The first version of a record may have gone, or its only one. */
  return !dropped || make_identities (self, error);
}

/* The next reading that is written gets the number after the last one: what is left of a lost one behind it would hang on that. */
static gboolean
drop_late_cells (WbStoreSalvaging *self,
                 GError          **error)
{
  int dropped;

  if (!run (self, "DELETE FROM extra WHERE reading > (SELECT coalesce (max (id), 0) FROM reading)", error))
    return FALSE;
  dropped = sqlite3_changes (self->store->db);
  if (dropped > 0)
    wb_store_salvage_tell (self, g_strdup_printf (_("Cells of added columns: %d lost with the readings that they belong to."), dropped));
  return TRUE;
}

/* ---- What is left ---- */

static gboolean
count_rows (WbStoreSalvaging *self,
            const char       *name,
            GArray           *entries,
            GError          **error)
{
  g_autofree char *sql = g_strdup_printf ("SELECT entry, count (*) FROM %s GROUP BY entry", name);
  sqlite3_stmt *statement = wb_store_statement (self->store, sql, error);
  WbStep step = WB_STEP_ERROR;

  while (statement != NULL && (step = wb_store_step (self->store, statement, error)) == WB_STEP_ROW)
    {
      gint64 number = sqlite3_column_int64 (statement, 0);

      if (number >= 1 && number <= (gint64) entries->len)
        g_array_index (entries, Entry, number - 1).found += sqlite3_column_int64 (statement, 1);
      self->result->rows += sqlite3_column_int64 (statement, 1);
    }
  return step == WB_STEP_DONE;
}

static gboolean
count_all (WbStoreSalvaging *self,
           GArray           *entries,
           GError          **error)
{
  for (guint i = 0; i < wb_store_table_count (); i++)
    if (!count_rows (self, wb_store_table_nth (i)->type->name, entries, error))
      return FALSE;
  return count_rows (self, "extra_column", entries, error) && count_rows (self, "extra", entries, error);
}

/* Rows and entries are counted when nothing goes any more. */
static gboolean
tally (WbStoreSalvaging *self,
       GArray           *entries,
       GError          **error)
{
  if (!count_all (self, entries, error))
    return FALSE;
  for (guint i = 0; i < entries->len; i++)
    {
      Entry *entry = &g_array_index (entries, Entry, i);

      if (entry->state != LOST && entry->found < entry->wanted)
        entry->state = PARTIAL;
      self->result->proven += entry->state == PROVEN;
      self->result->partial += entry->state == PARTIAL;
      self->result->unproven += entry->state == UNPROVEN;
      self->result->lost += entry->state == LOST;
      self->result->rows_lost += MAX (entry->wanted - entry->found, 0);
    }
  return TRUE;
}

/* ---- A record again ---- */

/* Caller frees; NULL: nothing to say. */
static char *
dup_remark (const Entry *entry)
{
  switch (entry->state)
    {
    case PARTIAL:
      return g_strdup_printf (_("%d of its %d rows could be read"), (int) entry->found, (int) entry->wanted);
    case UNPROVEN:
      return g_strdup (_("its old hash does not prove what stands here"));
    case LOST:
      return entry->found > 0 ? g_strdup_printf (_("%d rows of it could be read"), (int) entry->found) : g_strdup (_("no row of it could be read"));
    case PROVEN:
    default:
      return NULL;
    }
}

/* What is not as it was says so, and undo leaves it alone. */
static gboolean
remark (WbStoreSalvaging *self,
        GArray           *entries,
        GError          **error)
{
  for (guint i = 0; i < entries->len; i++)
    {
      const Entry *entry = &g_array_index (entries, Entry, i);
      g_autofree char *words = dup_remark (entry);
      g_autofree char *suffix = words != NULL ? g_strdup_printf (_(" (salvaged: %s)"), words) : NULL;
      sqlite3_stmt *statement;

      if (words == NULL)
        continue;
      wb_store_salvage_tell (self, g_strdup_printf (_("Entry %u: %s."), i + 1, words));
      statement = wb_store_statement (self->store, "UPDATE entry SET rows = ?1, why = why || ?2, kind = 'restore' WHERE number = ?3", error);
      if (statement == NULL)
        return FALSE;
      sqlite3_bind_int64 (statement, 1, entry->found);
      wb_store_bind_text (statement, 2, suffix);
      sqlite3_bind_int64 (statement, 3, (gint64) i + 1);
      if (!wb_store_run (self->store, statement, error)
          || !run (self, "INSERT INTO temp.damaged VALUES (%u)", error, i + 1))
        return FALSE;
    }
  return TRUE;
}

/* A kind of row, and what tells two of one entry apart. */
typedef struct
{
  const char *name;
  const char *a;
  const char *b;
} Kind;

/*
 * Places of the rows of damaged entries, counted anew, table by table. By their keys and not by their old places: two rows
 * of a file that somebody wrote by hand may claim the same one.
 */
static gboolean
count_places (WbStoreSalvaging *self,
              GError          **error)
{
  static const Kind others[] = { { "extra_column", "id", "0" }, { "extra", "reading", "column_id" } };
  g_autoptr (GArray) kinds = g_array_new (FALSE, FALSE, sizeof (Kind));
  gboolean good = TRUE;

  for (guint i = 0; i < wb_store_table_count (); i++)
    {
      Kind kind = { wb_store_table_nth (i)->type->name, "id", "0" };

      g_array_append_val (kinds, kind);
    }
  g_array_append_vals (kinds, others, G_N_ELEMENTS (others));
  for (guint i = 0; i < kinds->len && good; i++)
    {
      const Kind *kind = &g_array_index (kinds, Kind, i);

      good = run (self, "INSERT INTO temp.place SELECT %u, entry, %s, %s, seq FROM %s WHERE entry IN (SELECT entry FROM temp.damaged)", error, i,
                  kind->a, kind->b, kind->name);
    }
  good = good && run (self, "INSERT INTO temp.counted SELECT kind, entry, a, b, row_number () OVER (PARTITION BY entry ORDER BY seq, kind, a, b) "
                            "FROM temp.place", error);
  for (guint i = 0; i < kinds->len && good; i++)
    {
      const Kind *kind = &g_array_index (kinds, Kind, i);

      good = run (self, "UPDATE %s AS v SET seq = (SELECT n FROM temp.counted AS c WHERE c.kind = %u AND c.entry = v.entry AND c.a = v.%s "
                        "AND c.b = %s%s) WHERE entry IN (SELECT entry FROM temp.damaged)", error, kind->name, i, kind->a,
                  g_str_equal (kind->b, "0") ? "" : "v.", kind->b);
    }
  return good;
}

/* The version before, where that one is lost: the one before it. */
static gboolean
mend_previous (WbStoreSalvaging *self,
               GError          **error)
{
  for (guint i = 0; i < wb_store_table_count (); i++)
    {
      const char *name = wb_store_table_nth (i)->type->name;

      if (!run (self, "UPDATE %s AS v SET previous = (SELECT max (b.entry) FROM %s AS b WHERE b.id = v.id AND b.entry < v.entry) WHERE previous IS NOT "
                      "(SELECT max (b.entry) FROM %s AS b WHERE b.id = v.id AND b.entry < v.entry)", error, name, name, name))
        return FALSE;
    }
  return run (self, "UPDATE extra AS v SET previous = (SELECT max (b.entry) FROM extra AS b WHERE b.reading = v.reading AND "
                    "b.column_id = v.column_id AND b.entry < v.entry)", error);
}

static gboolean
write_first_entry (WbStoreSalvaging *self,
                   GError          **error)
{
  g_autofree char *zone = wb_clock_dup_zone (wb_clock_get ());
  g_autofree char *why = g_strdup_printf (_("Salvage from “%s” (SHA-256 of its bytes %s; its last readable entry %s). Entry N holds what could be read "
                                            "of the old entry N; %d of %d are proven by their old hash."), self->name, self->result->checksum,
                                          self->result->last != NULL ? self->result->last : _("none"), (int) self->result->proven,
                                          (int) self->result->entries);
  sqlite3_stmt *statement = wb_store_statement (self->store, "UPDATE entry SET instant_us = ?, offset_s = ?, zone = ?, kind = 'create', topic = NULL, "
                                                "who = ?, why = ?, undoes = NULL WHERE number = 1", error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, self->now.utc_us);
  sqlite3_bind_int (statement, 2, self->now.offset_s);
  wb_store_bind_text (statement, 3, zone);
  wb_store_bind_text (statement, 4, self->who);
  wb_store_bind_text (statement, 5, why);
  return wb_store_run (self->store, statement, error);
}

/* It is another record than the one that was damaged, and is not to be taken for it. */
static gboolean
give_uuid (WbStoreSalvaging *self,
           GError          **error)
{
  WbUuid uuid = wb_uuid_new ();
  static const char *const statements[] = { "UPDATE notebook SET uuid = ?", "UPDATE object SET uuid = ? WHERE type = 'notebook'" };

  for (gsize i = 0; i < G_N_ELEMENTS (statements); i++)
    {
      sqlite3_stmt *statement = wb_store_statement (self->store, statements[i], error);

      if (statement == NULL)
        return FALSE;
      sqlite3_bind_blob (statement, 1, uuid.bytes, sizeof uuid.bytes, SQLITE_TRANSIENT);
      if (!wb_store_run (self->store, statement, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
write_hash (WbStoreSalvaging *self,
            gint64            number,
            const guint8      hash[WB_STORE_HASH_SIZE],
            GError          **error)
{
  sqlite3_stmt *statement = wb_store_statement (self->store, "UPDATE entry SET hash = ? WHERE number = ?", error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_blob (statement, 1, hash, WB_STORE_HASH_SIZE, SQLITE_TRANSIENT);
  sqlite3_bind_int64 (statement, 2, number);
  return wb_store_run (self->store, statement, error);
}

static gboolean
chain_one (WbStoreSalvaging *self,
           WbStoreRows      *rows,
           gint64            number,
           guint8            hash[WB_STORE_HASH_SIZE],
           GError          **error)
{
  g_autoptr (WbStoreDigest) digest = wb_store_digest_new (hash);
  sqlite3_stmt *statement = wb_store_statement (self->store, "SELECT " WB_STORE_ENTRY_COLUMNS " FROM entry WHERE number = ?", error);
  gint64 n;

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, number);
  if (wb_store_step (self->store, statement, error) != WB_STEP_ROW)
    return FALSE;
  n = sqlite3_column_int64 (statement, WB_STORE_ENTRY_ROWS);
  for (gint64 seq = 1; seq <= n; seq++)
    {
      WbStoreRow row = wb_store_rows_take (rows, number, seq, digest, error);

      if (row == WB_STORE_ROW_ERROR)
        return FALSE;
      if (row != WB_STORE_ROW_TAKEN)
        {
          g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_DAMAGED, _("What could be read of “%s” makes no record: entry %d contradicts itself."),
                       self->name, (int) number);
          return FALSE;
        }
    }
  wb_store_digest_entry (digest, statement);
  wb_store_reset (statement);
  wb_store_digest_finish (digest, hash);
  return write_hash (self, number, hash, error);
}

static gboolean
chain (WbStoreSalvaging *self,
       GError          **error)
{
  g_autoptr (WbStoreRows) rows = wb_store_rows_new (self->store, error);
  guint8 hash[WB_STORE_HASH_SIZE] = { 0 };
  sqlite3_stmt *statement;
  gint64 last;

  if (rows == NULL || !get (self, "SELECT max (number) FROM entry", &last, error))
    return FALSE;
  for (gint64 number = 1; number <= last; number++)
    if (!chain_one (self, rows, number, hash, error))
      return FALSE;
  statement = wb_store_statement (self->store, "UPDATE head SET entries = ?, hash = ? WHERE id = 1", error);
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, last);
  sqlite3_bind_blob (statement, 2, hash, WB_STORE_HASH_SIZE, SQLITE_TRANSIENT);
  return wb_store_run (self->store, statement, error);
}

gboolean
wb_store_salvage_mend (WbStoreSalvaging *self,
                       GError          **error)
{
  g_autoptr (GArray) entries = g_array_new (FALSE, TRUE, sizeof (Entry));

  if (!find_last (self, error))
    return FALSE;
  if (self->result->entries == 0)
    {
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_NOT_A_NOTEBOOK, _("Nothing of a notebook can be read in “%s”."), self->name);
      return FALSE;
    }
  return mend_files (self, error) && drop_strays (self, error) && add_lost_entries (self, entries, error)
         && make_identities (self, error) && prove (self, entries, error) && drop_impossible (self, entries, error)
         && drop_late_cells (self, error) && tally (self, entries, error) && tell_lost_records (self, error)
         /* typed, as the record's tables are: otherwise no index serves */
         && run (self, "CREATE TEMP TABLE damaged (entry INTEGER PRIMARY KEY);"
                       "CREATE TEMP TABLE place (kind INTEGER, entry INTEGER, a INTEGER, b INTEGER, seq INTEGER);"
                       "CREATE TEMP TABLE counted (kind INTEGER, entry INTEGER, a INTEGER, b INTEGER, n INTEGER, PRIMARY KEY (kind, entry, a, b)) "
                       "WITHOUT ROWID", error)
         && remark (self, entries, error) && count_places (self, error) && mend_previous (self, error) && write_first_entry (self, error)
         && give_uuid (self, error) && wb_store_salvage_stand_in (self, error) && chain (self, error) && wb_store_counts_rebuild (self->store, error);
}
