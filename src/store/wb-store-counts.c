/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-counts-private.h"

#include "wb-reading.h"
#include "wb-store-lessons-private.h"
#include "wb-store-private.h"

/* What one change adds to the counts of one experiment. */
typedef struct
{
  gint64 burns;
  gint64 readings;
} Tally;

struct _WbStoreCounts
{
  WbStore    *store;
  GHashTable *tallies; /* gint64 experiment to Tally */
  gboolean   *touched; /* a flag a table */
  gint64      burn;    /* readings come burn by burn: the last one looked up, */
  gint64      burn_experiment; /* and its experiment */
};

WbStoreCounts *
wb_store_counts_new (WbStore *store)
{
  WbStoreCounts *self = g_new0 (WbStoreCounts, 1);

  self->store = store;
  self->tallies = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  self->touched = g_new0 (gboolean, wb_store_table_count ());
  return self;
}

void
wb_store_counts_free (WbStoreCounts *self)
{
  if (self == NULL)
    return;
  g_hash_table_unref (self->tallies);
  g_free (self->touched);
  g_free (self);
}

/* Deleted ones are looked up too: their history still belongs somewhere. 0: none. */
static gboolean
look_up (WbStoreCounts *self,
         const char    *sql,
         gint64         id,
         gint64        *experiment,
         GError       **error)
{
  sqlite3_stmt *statement = wb_store_statement (self->store, sql, error);

  if (statement != NULL)
    sqlite3_bind_int64 (statement, 1, id);
  return wb_store_get_integer (self->store, statement, 0, experiment, error);
}

static gboolean
experiment_of_sample (WbStoreCounts *self,
                      gint64         sample,
                      gint64        *experiment,
                      GError       **error)
{
  return look_up (self, "SELECT experiment FROM sample WHERE id = ? ORDER BY entry DESC LIMIT 1", sample, experiment,
                  error);
}

static gboolean
experiment_of_burn (WbStoreCounts *self,
                    gint64         burn,
                    gint64        *experiment,
                    GError       **error)
{
  gint64 sample;

  if (burn != self->burn)
    {
      if (!look_up (self, "SELECT sample FROM burn WHERE id = ? ORDER BY entry DESC LIMIT 1", burn, &sample, error)
          || !experiment_of_sample (self, sample, &self->burn_experiment, error))
        return FALSE;
      self->burn = burn;
    }
  *experiment = self->burn_experiment;
  return TRUE;
}

/* A logger's file can cross a limit; what else is kept with a record, and with what else than a burn, changes no answer. */
static gboolean
experiment_of_attachment (WbStoreCounts      *self,
                          const WbAttachment *attachment,
                          gint64             *experiment,
                          GError            **error)
{
  gint64 sample;

  if (attachment->role != WB_ATTACHMENT_LOGGER)
    return TRUE;
  return look_up (self, "SELECT sample FROM burn WHERE id = ? ORDER BY entry DESC LIMIT 1", attachment->owner, &sample, error)
         && experiment_of_sample (self, sample, experiment, error);
}

/* The experiment that a record belongs to; 0: to none. */
static gboolean
experiment_of (WbStoreCounts      *self,
               const WbStoreTable *table,
               gconstpointer       record,
               gint64             *experiment,
               GError            **error)
{
  const WbRecordType *type = table->type;

  *experiment = 0;
  if (type == &wb_reading_type)
    return experiment_of_burn (self, ((const WbReading *) record)->burn, experiment, error);
  if (type == &wb_burn_type)
    return experiment_of_sample (self, ((const WbBurn *) record)->sample, experiment, error);
  if (type == &wb_inspection_type)
    return experiment_of_sample (self, ((const WbInspection *) record)->sample, experiment, error);
  if (type == &wb_attachment_type)
    return experiment_of_attachment (self, record, experiment, error);
  if (type == &wb_sample_type)
    *experiment = ((const WbSample *) record)->experiment;
  else if (type == &wb_cell_type)
    *experiment = ((const WbCell *) record)->experiment;
  else if (type == &wb_batch_type)
    *experiment = ((const WbBatch *) record)->experiment;
  else if (type == &wb_decision_type)
    *experiment = ((const WbDecision *) record)->experiment;
  else if (type == &wb_experiment_type)
    *experiment = ((const WbRecord *) record)->id;
  return TRUE;
}

static Tally *
tally_of (WbStoreCounts *self,
          gint64         experiment)
{
  Tally *tally = g_hash_table_lookup (self->tallies, &experiment);

  if (tally == NULL)
    {
      tally = g_new0 (Tally, 1);
      g_hash_table_insert (self->tallies, g_memdup2 (&experiment, sizeof experiment), tally);
    }
  return tally;
}

static gboolean
count (WbStoreCounts      *self,
       const WbStoreTable *table,
       gconstpointer       record,
       int                 by,
       GError            **error)
{
  gint64 experiment;
  Tally *tally;

  if (record == NULL)
    return TRUE;
  if (!experiment_of (self, table, record, &experiment, error))
    return FALSE;
  if (experiment == 0)
    return TRUE;

  tally = tally_of (self, experiment);
  if (((const WbRecord *) record)->deleted)
    return TRUE;
  if (table->type == &wb_burn_type)
    tally->burns += by;
  else if (table->type == &wb_reading_type)
    tally->readings += by;
  return TRUE;
}

gboolean
wb_store_counts_note (WbStoreCounts      *self,
                      const WbStoreTable *table,
                      gconstpointer       before,
                      gconstpointer       after,
                      GError            **error)
{
  self->touched[table->index] = TRUE;
  /* A burn or a sample that changes hands takes its readings along. */
  if (table->type == &wb_burn_type || table->type == &wb_sample_type)
    self->burn = 0;
  return count (self, table, before, -1, error) && count (self, table, after, 1, error);
}

static gboolean
write_type (WbStoreCounts *self,
            guint          index,
            gint64         entry,
            GError       **error)
{
  sqlite3_stmt *statement = wb_store_statement (self->store, "INSERT INTO derived_type (type, entry) VALUES (?, ?) "
                                                "ON CONFLICT (type) DO UPDATE SET entry = excluded.entry", error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_text (statement, 1, wb_store_table_nth (index)->type->name, -1, SQLITE_STATIC);
  sqlite3_bind_int64 (statement, 2, entry);
  return wb_store_run (self->store, statement, error);
}

static gboolean
write_tally (WbStoreCounts *self,
             gint64         experiment,
             const Tally   *tally,
             gint64         entry,
             GError       **error)
{
  sqlite3_stmt *statement =
    wb_store_statement (self->store,
                        "INSERT INTO derived_experiment (experiment, burns, readings, last_entry) VALUES (?, ?, ?, ?) "
                        "ON CONFLICT (experiment) DO UPDATE SET burns = burns + excluded.burns, "
                        "readings = readings + excluded.readings, last_entry = excluded.last_entry", error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, experiment);
  sqlite3_bind_int64 (statement, 2, tally->burns);
  sqlite3_bind_int64 (statement, 3, tally->readings);
  sqlite3_bind_int64 (statement, 4, entry);
  return wb_store_run (self->store, statement, error);
}

gboolean
wb_store_counts_write (WbStoreCounts *self,
                       gint64         entry,
                       GError       **error)
{
  GHashTableIter iter;
  gint64 *experiment;
  Tally *tally;

  for (guint i = 0; i < wb_store_table_count (); i++)
    if (self->touched[i] && !write_type (self, i, entry, error))
      return FALSE;
  g_hash_table_iter_init (&iter, self->tallies);
  while (g_hash_table_iter_next (&iter, (gpointer *) &experiment, (gpointer *) &tally))
    if (!write_tally (self, *experiment, tally, entry, error))
      return FALSE;
  return TRUE;
}

/* "SELECT type, entry", as derived_type should hold it. Caller frees. */
static char *
build_types_query (void)
{
  GString *sql = g_string_new (NULL);

  for (guint i = 0; i < wb_store_table_count (); i++)
    {
      const char *name = wb_store_table_nth (i)->type->name;

      g_string_append_printf (sql, "%sSELECT '%s' AS type, max (entry) AS entry FROM %s HAVING max (entry) IS NOT NULL",
                              i > 0 ? " UNION ALL " : "", name, name);
    }
  return g_string_free (sql, FALSE);
}

/*
 * What derived_experiment should hold: burns and readings that are there, each by the experiment of its sample's
 * newest version. max () of one column takes the others from the same row: SQLite says so of a query with one such aggregate.
 */
static const char experiments_query[] =
  "WITH s AS (SELECT id, experiment, max (entry) FROM sample GROUP BY id), "
  "b AS (SELECT burn.id, s.experiment, burn.deleted, max (burn.entry) FROM burn JOIN s ON s.id = burn.sample GROUP BY burn.id), "
  "r AS (SELECT reading.burn, reading.deleted, max (reading.entry) FROM reading GROUP BY reading.id), "
  "n AS (SELECT experiment, count (*) AS burns, 0 AS readings FROM b WHERE deleted = 0 GROUP BY experiment "
  "      UNION ALL SELECT b.experiment, 0, count (*) FROM r JOIN b ON b.id = r.burn WHERE r.deleted = 0 GROUP BY b.experiment), "
  "t AS (SELECT id AS experiment, entry FROM experiment "
  "      UNION ALL SELECT experiment, entry FROM cell UNION ALL SELECT experiment, entry FROM batch "
  "      UNION ALL SELECT experiment, entry FROM decision UNION ALL SELECT experiment, entry FROM sample "
  "      UNION ALL SELECT s.experiment, burn.entry FROM burn JOIN s ON s.id = burn.sample "
  "      UNION ALL SELECT s.experiment, i.entry FROM inspection AS i JOIN s ON s.id = i.sample "
  "      UNION ALL SELECT b.experiment, a.entry FROM attachment AS a JOIN b ON b.id = a.owner WHERE a.role = 'logger' "
  "      UNION ALL SELECT b.experiment, reading.entry FROM reading JOIN b ON b.id = reading.burn) "
  "SELECT t.experiment AS experiment, coalesce ((SELECT sum (burns) FROM n WHERE n.experiment = t.experiment), 0) AS burns, "
  "coalesce ((SELECT sum (readings) FROM n WHERE n.experiment = t.experiment), 0) AS readings, max (t.entry) AS last_entry "
  "FROM t GROUP BY t.experiment";

gboolean
wb_store_counts_rebuild (WbStore *store,
                         GError **error)
{
  g_autofree char *types = build_types_query ();
  g_autofree char *sql = g_strconcat ("DELETE FROM derived_experiment; DELETE FROM derived_type; "
                                      "INSERT INTO derived_type ", types, "; INSERT INTO derived_experiment ", experiments_query, NULL);

  return wb_store_exec (store, sql, error) && wb_store_lessons_clear (store, error);
}

static gboolean
find_none (WbStore    *store,
           const char *sql,
           char      **misfit,
           GError    **error)
{
  sqlite3_stmt *statement = wb_store_statement (store, sql, error);
  WbStep step = statement != NULL ? wb_store_step (store, statement, error) : WB_STEP_ERROR;

  if (step == WB_STEP_ROW)
    *misfit = wb_store_column_dup_text (statement, 0);
  wb_store_reset (statement);
  return step != WB_STEP_ERROR;
}

gboolean
wb_store_counts_check (WbStore *store,
                       char   **misfit,
                       GError **error)
{
  g_autofree char *types_query = build_types_query ();
  g_autofree char *types = g_strconcat ("SELECT coalesce (m.type, d.type) FROM (", types_query, ") AS m FULL JOIN derived_type AS d "
                                        "ON d.type = m.type WHERE m.entry IS NOT d.entry", NULL);
  /* A sample that changed hands touched the experiment that it left, too, where no row says so any more. */
  g_autofree char *experiments = g_strconcat ("SELECT 'experiment ' || coalesce (m.experiment, d.experiment) FROM (", experiments_query,
                                              ") AS m FULL JOIN derived_experiment AS d ON d.experiment = m.experiment "
                                              "WHERE m.burns IS NOT d.burns OR m.readings IS NOT d.readings OR d.last_entry IS NULL "
                                              "OR d.last_entry < m.last_entry OR d.last_entry > (SELECT max (number) FROM entry)",
                                              NULL);

  *misfit = NULL;
  return find_none (store, types, misfit, error) && (*misfit != NULL || find_none (store, experiments, misfit, error))
         && (*misfit != NULL || wb_store_lessons_check (store, misfit, error));
}
