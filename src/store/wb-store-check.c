/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-check.h"

#include "wb-store-check-rows-private.h"
#include "wb-store-counts-private.h"
#include "wb-store-open-private.h"
#include "wb-store-private.h"
#include "wb-store-records.h"
#include "wb-store-table-private.h"

#include <gio/gio.h>
#include <glib/gi18n-lib.h>
#include <inttypes.h>
#include <stdarg.h>
#include <string.h>

typedef struct
{
  WbStore         *store;
  WbStoreProgress  progress;
  gpointer         data;
  gint64           total;     /* rows that the entries say they wrote */
  gboolean         stopped;
  gint64           anchor;    /* entry that the fingerprint names; 0: none given */
  char             anchor_hex[65];
  WbStoreCheck    *result;
} Check;

void
wb_store_check_free (WbStoreCheck *self)
{
  if (self == NULL)
    return;
  g_free (self->text);
  g_free (self->fingerprint);
  g_free (self);
}

gboolean
wb_store_parse_fingerprint (const char *text,
                            gint64     *number,
                            char        hex[65])
{
  const char *colon = text != NULL ? strchr (text, ':') : NULL;
  g_autofree char *digits = colon != NULL ? g_strndup (text, (gsize) (colon - text)) : NULL;
  gint64 value;

  if (digits == NULL || !wb_number_parse_integer (digits, &value, NULL) || value < 1 || strlen (colon + 1) != 64)
    return FALSE;
  for (const char *c = colon + 1; *c != '\0'; c++)
    if (!g_ascii_isxdigit (*c))
      return FALSE;
  if (number != NULL)
    *number = value;
  if (hex != NULL)
    {
      g_autofree char *lower = g_ascii_strdown (colon + 1, -1);

      g_strlcpy (hex, lower, 65);
    }
  return TRUE;
}

char *
wb_store_get_fingerprint (WbStore *store,
                          GError **error)
{
  g_return_val_if_fail (store != NULL, NULL);
  wb_store_assert_thread (store);

  sqlite3_stmt *statement = wb_store_statement (store, "SELECT number || ':' || lower (hex (hash)) FROM entry "
                                                "ORDER BY number DESC LIMIT 1", error);
  char *fingerprint = NULL;

  if (statement == NULL || wb_store_step (store, statement, error) != WB_STEP_ROW)
    return NULL;
  fingerprint = wb_store_column_dup_text (statement, 0);
  wb_store_reset (statement);
  return fingerprint;
}

/* The first finding stands; returns FALSE, so that a check can end with it. */
static gboolean G_GNUC_PRINTF (4, 5)
find (Check         *self,
      WbStoreFinding finding,
      gint64         entry,
      const char    *format,
      ...)
{
  va_list arguments;

  if (self->result->finding != WB_CHECK_GOOD)
    return FALSE;
  va_start (arguments, format);
  self->result->finding = finding;
  self->result->entry = entry;
  self->result->text = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  return FALSE;
}

static gboolean
keep_going (Check *self)
{
  double done = self->total > 0 ? (double) self->result->rows / (double) self->total : 0;

  if (self->progress != NULL && !self->stopped)
    self->stopped = !self->progress (MIN (done, 1), self->data);
  return !self->stopped;
}

static int
on_progress_cb (gpointer user)
{
  return !keep_going (user);
}

static gboolean
check_structure (Check   *self,
                 GError **error)
{
  sqlite3_stmt *statement = wb_store_statement (self->store, "PRAGMA integrity_check (1)", error);
  const char *finding;
  gboolean good = TRUE;

  if (statement == NULL || wb_store_step (self->store, statement, error) != WB_STEP_ROW)
    return FALSE;
  finding = (const char *) sqlite3_column_text (statement, 0);
  if (g_strcmp0 (finding, "ok") != 0)
    good = find (self, WB_CHECK_STRUCTURE, 0, _("The file is damaged: %s."), finding);
  wb_store_reset (statement);
  return good;
}

/* What the person is told of an entry: number and what it was for. */
static char *
dup_entry_words (const WbEntry *entry)
{
  g_autofree char *at = wb_instant_format (entry->at);

  return g_strdup_printf (_("entry %" PRId64 " (“%s”, %s)"), entry->number, entry->why, at);
}

static gboolean
find_in_entry (Check         *self,
               const WbEntry *entry,
               WbStoreRow     what,
               gint64         seq)
{
  g_autofree char *words = dup_entry_words (entry);

  if (what == WB_STORE_ROW_MISSING)
    return find (self, WB_CHECK_ROW_REMOVED, entry->number,
                 _("In %s a row was removed: row %" PRId64 " of %" PRId64 " is not there."), words, seq,
                 entry->rows);
  return find (self, WB_CHECK_ROW_ADDED, entry->number,
               _("To %s a row was added that it did not write: it wrote %" PRId64 "."), words, entry->rows);
}

/* One entry; `previous` is the hash before it, and then its own. FALSE with a finding, or cancelled, or with error. */
static gboolean
check_entry (Check         *self,
             WbStoreRows   *rows,
             const WbEntry *entry,
             sqlite3_stmt  *statement,
             const guint8  *hash,
             guint8         previous[WB_STORE_HASH_SIZE],
             GError       **error)
{
  g_autoptr (WbStoreDigest) digest = wb_store_digest_new (previous);
  guint8 computed[WB_STORE_HASH_SIZE];

  for (gint64 seq = 1; seq <= entry->rows; seq++)
    {
      WbStoreRow row = wb_store_rows_take (rows, entry->number, seq, digest, error);

      if (row == WB_STORE_ROW_ERROR)
        return FALSE;
      if (row != WB_STORE_ROW_TAKEN)
        return find_in_entry (self, entry, row, seq);
      self->result->rows++;
      if (self->result->rows % 4096 == 0 && !keep_going (self))
        return FALSE;
    }
  if (wb_store_rows_has (rows, entry->number))
    return find_in_entry (self, entry, WB_STORE_ROW_EXTRA, entry->rows + 1);

  wb_store_digest_entry (digest, statement);
  wb_store_digest_finish (digest, computed);
  memcpy (previous, hash, WB_STORE_HASH_SIZE);
  if (memcmp (computed, hash, WB_STORE_HASH_SIZE) != 0)
    {
      g_autofree char *words = dup_entry_words (entry);

      return find (self, WB_CHECK_ROW_CHANGED, entry->number,
                   _("What stands under %s is not what was written: a value of it was changed, or its rows were put in "
                     "another order."), words);
    }
  self->result->entries = entry->number;
  return TRUE;
}

static gboolean
check_anchor (Check        *self,
              gint64        number,
              const guint8 *hash)
{
  g_autofree char *hex = NULL;

  if (number != self->anchor)
    return TRUE;
  hex = wb_store_hash_dup_hex (hash);
  if (strcmp (hex, self->anchor_hex) == 0)
    return TRUE;
  return find (self, WB_CHECK_FINGERPRINT, number,
               _("Entry %" PRId64 " is not the one that the fingerprint was taken of: the record up to there was "
                 "written anew."), number);
}

/* What the findings say of it. */
static WbEntry *
read_entry (sqlite3_stmt *statement)
{
  WbEntry *entry = g_new0 (WbEntry, 1);

  entry->number = sqlite3_column_int64 (statement, 0);
  entry->at = (WbInstant) { sqlite3_column_int64 (statement, 1), sqlite3_column_int (statement, 2), TRUE };
  entry->why = wb_store_column_dup_text (statement, 7);
  entry->rows = sqlite3_column_int64 (statement, WB_STORE_ENTRY_ROWS);
  return entry;
}

static gboolean
check_next_entry (Check        *self,
                  WbStoreRows  *rows,
                  sqlite3_stmt *statement,
                  gint64        expected,
                  guint8        previous[WB_STORE_HASH_SIZE],
                  GError      **error)
{
  g_autoptr (WbEntry) entry = read_entry (statement);
  guint8 hash[WB_STORE_HASH_SIZE] = { 0 };

  if (entry->number != expected)
    return find (self, WB_CHECK_ENTRY_MISSING, expected,
                 _("Entry %" PRId64 " is missing: entry %" PRId64 " follows %" PRId64 "."), expected,
                 entry->number, expected - 1);
  if (sqlite3_column_bytes (statement, WB_STORE_ENTRY_HASH) == WB_STORE_HASH_SIZE)
    memcpy (hash, sqlite3_column_blob (statement, WB_STORE_ENTRY_HASH), WB_STORE_HASH_SIZE);
  return check_entry (self, rows, entry, statement, hash, previous, error) && check_anchor (self, entry->number, hash);
}

/* The notebook's own row, and rows that name entries after the last. */
static gboolean
check_end (Check        *self,
           WbStoreRows  *rows,
           gint64        last,
           const guint8  hash[WB_STORE_HASH_SIZE],
           GError      **error)
{
  sqlite3_stmt *statement = wb_store_statement (self->store, "SELECT entries, hash FROM head WHERE id = 1", error);
  WbStep step = statement != NULL ? wb_store_step (self->store, statement, error) : WB_STEP_ERROR;
  gint64 entries = -1;
  gboolean same = FALSE;

  if (step == WB_STEP_ERROR)
    return FALSE;
  if (step == WB_STEP_ROW)
    {
      entries = sqlite3_column_int64 (statement, 0);
      same = sqlite3_column_bytes (statement, 1) == WB_STORE_HASH_SIZE
             && memcmp (sqlite3_column_blob (statement, 1), hash, WB_STORE_HASH_SIZE) == 0;
      wb_store_reset (statement);
    }
  if (entries > last || self->anchor > last || wb_store_rows_has_any (rows))
    return find (self, WB_CHECK_CUT, last + 1,
                 _("The end of the record was cut off: entry %" PRId64 " and what followed are missing."), last + 1);
  if (entries != last || !same)
    return find (self, WB_CHECK_HEAD, last,
                 _("The notebook's own count of entries and last hash do not fit entry %" PRId64 ", the last."), last);
  return TRUE;
}

static gboolean
check_entries (Check   *self,
               GError **error)
{
  g_autoptr (WbStoreRows) rows = wb_store_rows_new (self->store, error);
  guint8 hash[WB_STORE_HASH_SIZE] = { 0 };
  sqlite3_stmt *statement;
  gint64 last = 0;
  WbStep step;

  if (rows == NULL
      || !wb_store_get_integer (self->store, wb_store_statement (self->store, "SELECT total (rows) FROM entry", error), 0,
                                &self->total, error))
    return FALSE;
  statement = wb_store_statement (self->store, "SELECT " WB_STORE_ENTRY_COLUMNS " FROM entry ORDER BY number", error);
  if (statement == NULL)
    return FALSE;
  while ((step = wb_store_step (self->store, statement, error)) == WB_STEP_ROW)
    {
      if (!check_next_entry (self, rows, statement, last + 1, hash, error))
        {
          wb_store_reset (statement);
          return FALSE;
        }
      last++;
    }
  return step == WB_STEP_DONE && check_end (self, rows, last, hash, error);
}

/* The query finds what should not be there; the first that it finds is named. */
static gboolean
check_none (Check         *self,
            WbStoreFinding finding,
            const char    *sql,
            const char    *words,
            GError       **error)
{
  sqlite3_stmt *statement = wb_store_statement (self->store, sql, error);
  WbStep step = statement != NULL ? wb_store_step (self->store, statement, error) : WB_STEP_ERROR;
  g_autofree char *name = NULL;

  if (step != WB_STEP_ROW)
    return step == WB_STEP_DONE;
  name = wb_store_column_dup_text (statement, 0);
  wb_store_reset (statement);
  return find (self, finding, 0, "%s (%s)", words, name != NULL ? name : "NULL");
}

/* A kept file that is not as it should be, and the first entry that names it (G_MAXINT64: none does). */
typedef struct
{
  char   *sha256; /* NULL: there is none */
  char   *name;
  gint64  entry;
} BadFile;

static gboolean
find_bad_file (Check         *self,
               const BadFile *bad,
               const char    *what)
{
  if (bad->entry == G_MAXINT64)
    return find (self, WB_CHECK_ATTACHMENT, 0, _("The kept file of SHA-256 %s, which no record names, %s."), bad->sha256, what);
  /* Translators: what: "is not what was kept", "is not there any more" */
  return find (self, WB_CHECK_ATTACHMENT, bad->entry, _("The kept file “%s” of entry %d (SHA-256 %s) %s."), bad->name, (int) bad->entry,
               bad->sha256, what);
}

/* Takes the file if it is of an earlier entry than the one found so far. Takes the text. */
static gboolean
note_bad_file (Check   *self,
               BadFile *bad,
               char    *sha256,
               GError **error)
{
  g_autofree char *taken = sha256;
  sqlite3_stmt *statement = wb_store_statement (self->store, "SELECT entry, name FROM attachment WHERE sha256 = ? ORDER BY entry, seq LIMIT 1",
                                                error);
  gint64 entry = G_MAXINT64;
  g_autofree char *name = NULL;
  WbStep step;

  if (statement == NULL)
    return FALSE;
  wb_store_bind_text (statement, 1, sha256);
  step = wb_store_step (self->store, statement, error);
  if (step == WB_STEP_ERROR)
    return FALSE;
  if (step == WB_STEP_ROW)
    {
      entry = sqlite3_column_int64 (statement, 0);
      name = wb_store_column_dup_text (statement, 1);
      wb_store_reset (statement);
    }
  if (bad->sha256 != NULL && bad->entry <= entry)
    return TRUE;
  g_free (bad->sha256);
  g_free (bad->name);
  bad->sha256 = g_steal_pointer (&taken);
  bad->name = g_steal_pointer (&name);
  bad->entry = entry;
  return TRUE;
}

/* Of several that are gone the one of the earliest entry is told. */
static gboolean
check_files_there (Check   *self,
                   GError **error)
{
  sqlite3_stmt *statement = wb_store_statement (self->store, "SELECT v.sha256, v.name, v.entry FROM attachment AS v WHERE NOT EXISTS (SELECT 1 "
                                                "FROM attachment_data AS d WHERE d.sha256 = v.sha256) ORDER BY v.entry, v.seq LIMIT 1", error);
  WbStep step = statement != NULL ? wb_store_step (self->store, statement, error) : WB_STEP_ERROR;
  g_autofree char *sha256 = NULL, *name = NULL;
  BadFile gone;

  if (step != WB_STEP_ROW)
    return step == WB_STEP_DONE;
  gone.sha256 = sha256 = wb_store_column_dup_text (statement, 0);
  gone.name = name = wb_store_column_dup_text (statement, 1);
  gone.entry = sqlite3_column_int64 (statement, 2);
  wb_store_reset (statement);
  return find_bad_file (self, &gone, _("is not there any more"));
}

/* All are read, so that of several the one of the earliest entry is told. FALSE with a finding, or with error. */
static gboolean
check_bytes (Check   *self,
             GError **error)
{
  sqlite3_stmt *statement = wb_store_statement (self->store, "SELECT sha256, bytes FROM attachment_data", error);
  BadFile bad = { NULL };
  WbStep step = WB_STEP_ERROR;
  gboolean good;

  while (statement != NULL && (step = wb_store_step (self->store, statement, error)) == WB_STEP_ROW)
    {
      g_autofree char *name = wb_store_column_dup_text (statement, 0);
      g_autofree char *hex = wb_store_digest_dup_hex (sqlite3_column_blob (statement, 1),
                                                      (gsize) sqlite3_column_bytes (statement, 1));

      if (strcmp (hex, name) != 0 && !note_bad_file (self, &bad, g_steal_pointer (&name), error))
        {
          wb_store_reset (statement);
          step = WB_STEP_ERROR;
          break;
        }
    }
  good = step == WB_STEP_DONE && (bad.sha256 == NULL || find_bad_file (self, &bad, _("is not what was kept")));
  g_free (bad.sha256);
  g_free (bad.name);
  return good;
}

static gboolean
check_attachments (Check   *self,
                   GError **error)
{
  return check_bytes (self, error) && check_files_there (self, error)
         && check_none (self, WB_CHECK_ATTACHMENT, "SELECT d.sha256 FROM attachment_data AS d WHERE NOT EXISTS "
                        "(SELECT 1 FROM attachment AS v WHERE v.sha256 = d.sha256)",
                        _("A file is kept that no record names."), error);
}

/* What object says of each record against the first version of it, both ways. */
static gboolean
check_identities_of (Check              *self,
                     const WbStoreTable *table,
                     GError            **error)
{
  const char *name = table->type->name, *uuid = table->uuid != NULL ? "v.uuid" : "NULL";
  g_autofree char *lost = g_strdup_printf ("SELECT o.id FROM object AS o WHERE o.type = '%s' AND NOT EXISTS (SELECT 1 FROM %s "
                                           "AS v WHERE v.id = o.id AND v.entry = o.entry AND v.previous IS NULL AND "
                                           "o.uuid IS %s)", name, name, uuid);
  g_autofree char *unknown = g_strdup_printf ("SELECT v.id FROM %s AS v WHERE NOT EXISTS (SELECT 1 FROM object AS o "
                                              "WHERE o.id = v.id AND o.type = '%s')", name, name);

  return check_none (self, WB_CHECK_IDENTITY, lost, _("The table of identities does not fit the records."), error)
         && check_none (self, WB_CHECK_IDENTITY, unknown, _("A record is missing in the table of identities."), error);
}

static gboolean
check_identities (Check   *self,
                  GError **error)
{
  GString *strays = g_string_new ("SELECT id FROM object WHERE type NOT IN (");
  g_autofree char *sql = NULL;

  for (guint i = 0; i < wb_store_table_count (); i++)
    {
      const WbStoreTable *table = wb_store_table_nth (i);

      if (table->is_reading)
        continue;
      g_string_append_printf (strays, "%s'%s'", i > 0 ? ", " : "", table->type->name);
      if (!check_identities_of (self, table, error))
        {
          g_string_free (strays, TRUE);
          return FALSE;
        }
    }
  sql = g_string_free (g_string_append_c (strays, ')'), FALSE);
  return check_none (self, WB_CHECK_IDENTITY, sql, _("The table of identities names a record of no known kind."), error);
}

static gboolean
check_summaries (Check   *self,
                 GError **error)
{
  g_autofree char *misfit = NULL;

  if (!wb_store_counts_check (self->store, &misfit, error))
    return FALSE;
  return misfit == NULL
         || find (self, WB_CHECK_SUMMARY, 0, _("The record is as it was written, but what is kept beside it for lists and "
                                               "ladders does not fit it (%s)."), misfit);
}

static void
check_all (Check   *self,
           GError **error)
{
  if (check_structure (self, error) && check_entries (self, error) && check_attachments (self, error)
      && check_identities (self, error) && check_summaries (self, error))
    self->result->fingerprint = wb_store_get_fingerprint (self->store, error);
}

/* Reading the whole file takes long where it is large: it is asked with nothing done yet. */
static gboolean
on_copy_cb (double   done,
            gpointer user)
{
  return keep_going (user);
}

/* Opens what wb_store_open() would refuse: there the refusal is the finding. NULL with a finding or with error. */
static WbStore *
open_for_check (Check      *self,
                const char *path,
                GError    **error)
{
  const WbStoreSchema *schema = wb_store_schema_current ();
  g_autoptr (WbStore) store = wb_store_connect (path, TRUE, error);
  g_autoptr (GError) foreign = NULL;
  int version;

  if (store == NULL || !wb_store_examine (store, schema->newest, &version, error)
      || !wb_store_exec (store, "PRAGMA query_only = ON; SELECT 1 FROM sqlite_schema", error))
    return NULL;
  store = wb_store_make_snapshot (g_steal_pointer (&store), on_copy_cb, self, error);
  if (store == NULL || !wb_store_exec (store, "BEGIN; SELECT 1 FROM sqlite_schema", error))
    return NULL;
  if (!wb_store_schema_verify (store, schema, version, &foreign))
    {
      find (self, WB_CHECK_SCHEMA, 0, "%s", foreign->message);
      return NULL;
    }
  if (version < schema->newest)
    return wb_store_open_schema (path, WB_STORE_READ, schema, error);
  return g_steal_pointer (&store);
}

WbStoreCheck *
wb_store_check (const char     *path,
                const char     *fingerprint,
                WbStoreProgress progress,
                gpointer        data,
                GError        **error)
{
  g_return_val_if_fail (path != NULL, NULL);

  Check self = { .progress = progress, .data = data };
  GError *local = NULL;

  if (fingerprint != NULL && !wb_store_parse_fingerprint (fingerprint, &self.anchor, self.anchor_hex))
    {
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_FAILED, _("“%s” is not a fingerprint: it is written NUMBER:HEX."),
                   fingerprint);
      return NULL;
    }
  self.result = g_new0 (WbStoreCheck, 1);
  self.store = open_for_check (&self, path, &local);
  if (self.store != NULL)
    {
      sqlite3_progress_handler (self.store->db, 20000, on_progress_cb, &self);
      check_all (&self, &local);
      wb_store_close (self.store);
    }
  if (self.stopped)
    {
      g_clear_error (&local);
      g_set_error_literal (&local, G_IO_ERROR, G_IO_ERROR_CANCELLED, _("The check was cancelled."));
    }
  else if (g_error_matches (local, WB_STORE_ERROR, WB_STORE_ERROR_DAMAGED))
    {
      find (&self, WB_CHECK_STRUCTURE, 0, "%s", local->message);
      g_clear_error (&local);
    }
  if (local == NULL)
    return self.result;
  g_propagate_error (error, local);
  wb_store_check_free (self.result);
  return NULL;
}
