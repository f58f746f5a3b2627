/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-dataset.h"

#include "wb-cure.h"
#include "wb-store-private.h"
#include "wb-store-records.h"
#include "wb-store-table-private.h"

#include <math.h>

/* The list of experiments, with counts. Samples are gone through one by one; burns and readings come from the derived counts. */

void
wb_store_experiment_free (WbStoreExperiment *self)
{
  if (self == NULL)
    return;
  g_free (self->code);
  g_free (self->title);
  g_free (self);
}

gint64
wb_store_find_experiment (WbStore    *self,
                          const char *name,
                          GError    **error)
{
  gint64 id = wb_store_find_by_text (self, &wb_experiment_type, "code", name, error);

  return id != 0 ? id : wb_store_find_by_text (self, &wb_experiment_type, "title", name, error);
}

static gboolean
count_cells (WbStore           *self,
             WbStoreExperiment *experiment,
             GError           **error)
{
  g_autofree char *sql = g_strdup_printf ("SELECT count (*) FROM cell AS v WHERE v.experiment = ?1 AND v.left_out = 0 AND %s",
                                          wb_store_table_find (&wb_cell_type)->current);
  sqlite3_stmt *statement = wb_store_statement (self, sql, error);

  if (statement != NULL)
    sqlite3_bind_int64 (statement, 1, experiment->id);
  return wb_store_get_integer (self, statement, 0, &experiment->cells, error);
}

static gboolean
read_derived (WbStore           *self,
              WbStoreExperiment *experiment,
              GError           **error)
{
  sqlite3_stmt *statement = wb_store_statement (self, "SELECT burns, readings, last_entry FROM derived_experiment "
                                                "WHERE experiment = ?", error);
  WbStep step;

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, experiment->id);
  step = wb_store_step (self, statement, error);
  if (step == WB_STEP_ROW)
    {
      experiment->burns = sqlite3_column_int64 (statement, 0);
      experiment->readings = sqlite3_column_int64 (statement, 1);
      experiment->last_entry = sqlite3_column_int64 (statement, 2);
      wb_store_reset (statement);
    }
  return step != WB_STEP_ERROR;
}

/* When each poured batch was poured: gint64 id to WbBatch. */
static GHashTable *
list_pours (WbStore *self,
            gint64   experiment,
            GError **error)
{
  g_autoptr (GPtrArray) batches = wb_store_list (self, &wb_batch_type, "experiment", experiment, error);
  GHashTable *moments;

  if (batches == NULL)
    return NULL;
  moments = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, wb_record_free);
  for (guint i = 0; i < batches->len; i++)
    {
      const WbBatch *batch = batches->pdata[i];

      if (wb_batch_is_poured (batch))
        g_hash_table_insert (moments, g_memdup2 (&batch->record.id, sizeof (gint64)), wb_record_copy (batch));
    }
  return moments;
}

/* at: of its melt; unknown where that is not poured. */
static WbDay
day_of_pour (sqlite3_stmt *statement,
             GHashTable   *pours,
             WbInstant    *at)
{
  gint64 batch = sqlite3_column_int64 (statement, 2);
  const WbBatch *melt = g_hash_table_lookup (pours, &batch);
  WbDay own;

  *at = melt != NULL ? melt->poured_at : WB_INSTANT_NONE;
  if (sqlite3_column_type (statement, 0) != SQLITE_NULL
      && wb_day_parse ((const char *) sqlite3_column_text (statement, 0), &own, NULL))
    return own;
  return melt != NULL ? wb_batch_get_day (melt) : WB_DAY_NONE;
}

/* A cell's fragrance may state a cure of its own: days from the pour to the first burn by gint64 cell. */
static GHashTable *
list_waits (WbStore *self,
            gint64   experiment,
            gint64   wax_id,
            GError **error)
{
  g_autoptr (WbRecord) wax = wb_store_load (self, &wb_wax_type, wax_id, error);
  g_autoptr (GPtrArray) cells = wax != NULL ? wb_store_list (self, &wb_cell_type, "experiment", experiment, error) : NULL;
  g_autoptr (GHashTable) waits = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);

  if (cells == NULL)
    return NULL;
  for (guint i = 0; i < cells->len; i++)
    {
      const WbCell *cell = cells->pdata[i];
      g_autoptr (WbRecord) fragrance = NULL;
      WbCure cure;

      if (cell->fragrance != 0)
        {
          fragrance = wb_store_load (self, &wb_fragrance_type, cell->fragrance, error);
          if (fragrance == NULL)
            return NULL;
        }
      cure = wb_cure_of (NULL, (WbFragrance *) fragrance, (WbWax *) wax);
      g_hash_table_insert (waits, g_memdup2 (&cell->record.id, sizeof (gint64)), g_memdup2 (&cure.burn_wait_days, sizeof (double)));
    }
  return g_steal_pointer (&waits);
}

/* Columns: poured_on, cure_days, batch, whether it burnt, cell. waits: days by gint64 cell, of its recipe. */
static void
count_sample (WbStoreExperiment *experiment,
              sqlite3_stmt      *statement,
              GHashTable        *pours,
              GHashTable        *waits,
              WbInstant          now)
{
  WbInstant poured_at;
  WbDay poured = day_of_pour (statement, pours, &poured_at);
  gint64 cell = sqlite3_column_int64 (statement, 4);
  const double *wait = g_hash_table_lookup (waits, &cell);
  gboolean burnt = sqlite3_column_int (statement, 3) != 0;
  double cure = sqlite3_column_type (statement, 1) != SQLITE_NULL ? sqlite3_column_double (statement, 1)
                : wait != NULL ? *wait : wb_wax_get_burn_wait_days (NULL);
  WbCureFit fit;

  experiment->samples++;
  experiment->poured += poured != WB_DAY_NONE;
  experiment->burnt += burnt;
  if (poured == WB_DAY_NONE || burnt)
    return;
  fit = wb_cure_fit (poured, poured_at, cure);
  if (fit.at.utc_us <= now.utc_us)
    return;
  experiment->curing++;
  if (experiment->cured_on == WB_DAY_NONE || fit.day < experiment->cured_on)
    experiment->cured_on = fit.day;
}

static gboolean
count_samples (WbStore           *self,
               WbStoreExperiment *experiment,
               gint64             wax,
               WbInstant          now,
               GError           **error)
{
  g_autoptr (GHashTable) pours = list_pours (self, experiment->id, error);
  g_autoptr (GHashTable) waits = pours != NULL ? list_waits (self, experiment->id, wax, error) : NULL;
  g_autofree char *sql =
    g_strdup_printf ("SELECT v.poured_on, v.cure_days, v.batch, EXISTS (SELECT 1 FROM burn AS b WHERE b.sample = v.id AND "
                     "b.deleted = 0 AND NOT EXISTS (SELECT 1 FROM burn AS n WHERE n.id = b.id AND n.entry > b.entry)), v.cell "
                     "FROM sample AS v WHERE v.experiment = ?1 AND %s", wb_store_table_find (&wb_sample_type)->current);
  sqlite3_stmt *statement;
  WbStep step;

  if (waits == NULL)
    return FALSE;
  statement = wb_store_statement (self, sql, error);
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, experiment->id);
  while ((step = wb_store_step (self, statement, error)) == WB_STEP_ROW)
    count_sample (experiment, statement, pours, waits, now);
  return step == WB_STEP_DONE;
}

static WbStoreExperiment *
summarise (WbStore            *self,
           const WbExperiment *record,
           WbInstant           now,
           GError            **error)
{
  g_autoptr (WbStoreExperiment) experiment = g_new0 (WbStoreExperiment, 1);

  experiment->id = record->record.id;
  experiment->code = g_strdup (record->code);
  experiment->title = g_strdup (record->title);
  experiment->closed = record->closed;
  experiment->imported = record->imported;
  experiment->cured_on = WB_DAY_NONE;
  if (!count_cells (self, experiment, error) || !read_derived (self, experiment, error)
      || !count_samples (self, experiment, record->wax, now, error))
    return NULL;
  return g_steal_pointer (&experiment);
}

static GPtrArray *
summarise_all (WbStore  *self,
               WbInstant now,
               GError  **error)
{
  g_autoptr (GPtrArray) records = wb_store_list (self, &wb_experiment_type, NULL, 0, error);
  g_autoptr (GPtrArray) list = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_store_experiment_free);

  for (guint i = 0; records != NULL && i < records->len; i++)
    {
      WbStoreExperiment *experiment = summarise (self, records->pdata[i], now, error);

      if (experiment == NULL)
        return NULL;
      g_ptr_array_add (list, experiment);
    }
  return records != NULL ? g_steal_pointer (&list) : NULL;
}

GPtrArray *
wb_store_list_experiments (WbStore  *self,
                           WbInstant now,
                           GError  **error)
{
  g_return_val_if_fail (self != NULL && now.known, NULL);
  wb_store_assert_thread (self);

  GPtrArray *list;
  gboolean begun;

  if (!wb_store_begin_read (self, &begun, error))
    return NULL;
  list = summarise_all (self, now, error);
  wb_store_end_read (self, begun);
  return list;
}
