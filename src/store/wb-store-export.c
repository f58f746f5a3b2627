/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-export.h"

#include "wb-store-private.h"
#include "wb-store-table-private.h"

#include <math.h>
#include <string.h>

/*
 * One row is filled from the outside in: experiment, cell, sample, burn,
 * reading. Its names are borrowed from the records of the level that is open, so
 * that nothing is copied a million times; only the reading's own texts change from row to row.
 */
typedef struct
{
  WbStore          *store;
  WbStoreExportRow  callback;
  gpointer          data;
  GError          **error;
  WbLogRow          row;
  guint             n_extra;
  char            **extra;       /* owned cells, "" where there is none */
  GHashTable       *extra_index; /* gint64 column id to index + 1 */
  GPtrArray        *held;        /* records of the open experiment that the row borrows from */
} Export;

static gpointer
hold (Export             *self,
      const WbRecordType *type,
      gint64              id)
{
  gpointer record = id != 0 ? wb_store_load (self->store, type, id, self->error) : NULL;

  if (record != NULL)
    g_ptr_array_add (self->held, record);
  return record;
}

static gboolean
load_extra (Export *self,
            gint64  reading)
{
  sqlite3_stmt *statement;
  WbStep step;

  if (self->n_extra == 0)
    return TRUE;
  for (guint i = 0; i < self->n_extra; i++)
    if (*self->extra[i] != '\0')
      {
        g_free (self->extra[i]);
        self->extra[i] = g_strdup ("");
      }
  /* Growing entries: the newest version of a cell comes last and stands. */
  statement = wb_store_statement (self->store, "SELECT column_id, coalesce (value, '') FROM extra WHERE reading = ? "
                                  "ORDER BY column_id, entry", self->error);
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, reading);
  while ((step = wb_store_step (self->store, statement, self->error)) == WB_STEP_ROW)
    {
      gint64 id = sqlite3_column_int64 (statement, 0);
      guint index = GPOINTER_TO_UINT (g_hash_table_lookup (self->extra_index, &id));

      if (index == 0)
        continue;
      g_free (self->extra[index - 1]);
      self->extra[index - 1] = wb_store_column_dup_text (statement, 1);
    }
  return step == WB_STEP_DONE;
}

static gboolean
export_reading (Export          *self,
                const WbReading *reading)
{
  WbLogRow *row = &self->row;

  row->line++;
  row->elapsed_min = reading->elapsed_min;
  memcpy (row->values, reading->values, sizeof row->values);
  if (row->values[WB_COLUMN_FLAME_DATUM] == 0)
    row->values[WB_COLUMN_FLAME_DATUM] = NAN;
  row->throw_room = reading->throw_room;
  row->rater = reading->rater;
  row->note = reading->note;
  return load_extra (self, reading->record.id) && self->callback (row, self->data, self->error);
}

/* Two at the same minute are told apart by rater and event, and in the end by who came first. */
static gboolean
export_burn (Export       *self,
             const WbBurn *burn)
{
  const WbStoreTable *table = wb_store_table_find (&wb_reading_type);
  g_autofree char *sql = g_strdup_printf ("SELECT %s FROM reading AS v WHERE v.burn = ?1 AND %s "
                                          "ORDER BY v.elapsed_min, v.rater, v.event, v.wick_number, v.id",
                                          table->columns, table->current);
  sqlite3_stmt *statement = wb_store_statement (self->store, sql, self->error);
  gboolean going = TRUE;
  WbStep step;

  if (statement == NULL)
    return FALSE;
  self->row.burn = burn->number;
  self->row.burn_kind = burn->kind == WB_BURN_STANDARD ? -1 : burn->kind;
  self->row.lit_at = burn->lit_at;
  self->row.trim_mm = burn->trim_mm;
  sqlite3_bind_int64 (statement, 1, burn->record.id);
  while (going && (step = wb_store_step (self->store, statement, self->error)) == WB_STEP_ROW)
    {
      g_autoptr (WbRecord) reading = wb_store_table_read (table, statement);

      going = export_reading (self, (const WbReading *) reading);
    }
  if (!going)
    wb_store_reset (statement);
  return going && step == WB_STEP_DONE;
}

static int
compare_burns (gconstpointer pa,
               gconstpointer pb)
{
  const WbBurn *a = *(const WbBurn *const *) pa, *b = *(const WbBurn *const *) pb;

  return (a->number > b->number) - (a->number < b->number);
}

/* Where a sample has no day of its own, its batch has. */
static gboolean
fill_pour (Export         *self,
           const WbSample *sample)
{
  g_autoptr (WbRecord) batch = NULL;

  self->row.poured_on = sample->poured_on;
  if (sample->poured_on != WB_DAY_NONE || sample->batch == 0)
    return TRUE;
  batch = wb_store_load (self->store, &wb_batch_type, sample->batch, self->error);
  if (batch == NULL)
    return FALSE;
  self->row.poured_on = wb_batch_get_day ((WbBatch *) batch);
  return TRUE;
}

/* A sample set aside without words is told by the word of its cause. */
static char *
words_of_set_aside (const WbSample *sample)
{
  if (sample->set_aside == NULL && sample->set_aside_cause >= 0)
    return (char *) wb_cause_words[sample->set_aside_cause].nick;
  return sample->set_aside;
}

static gboolean
fill_cell (Export         *self,
           const WbSample *sample)
{
  WbLogRow *row = &self->row;
  const WbCell *cell = hold (self, &wb_cell_type, sample->cell);
  const WbVessel *vessel = cell != NULL ? hold (self, &wb_vessel_type, cell->vessel) : NULL;
  const WbWick *wick = vessel != NULL ? hold (self, &wb_wick_type, cell->wick) : NULL;
  const WbFragrance *fragrance = wick != NULL ? hold (self, &wb_fragrance_type, cell->fragrance) : NULL;

  if (wick == NULL || (cell->fragrance != 0 && fragrance == NULL))
    return FALSE;
  row->vessel = vessel->name;
  row->inner_diameter_mm = vessel->inner_diameter_mm;
  row->wick_series = wick->series;
  row->wick_size = wick->size;
  row->wick_step = wick->step;
  row->wick_count = cell->wick_count == 1 ? WB_INTEGER_NONE : cell->wick_count;
  row->wick_spacing_mm = cell->wick_spacing_mm;
  row->fragrance = fragrance != NULL ? fragrance->name : NULL;
  row->load_pct = cell->load_pct;
  row->load_basis = cell->load_basis == WB_BASIS_WAX ? -1 : cell->load_basis;
  return TRUE;
}

static gboolean
export_sample (Export         *self,
               const WbSample *sample)
{
  WbLogRow *row = &self->row;
  g_autoptr (GPtrArray) burns = wb_store_list (self->store, &wb_burn_type, "sample", sample->record.id, self->error);

  if (burns == NULL || !fill_cell (self, sample) || !fill_pour (self, sample))
    return FALSE;
  row->sample = sample->code;
  row->cure_days = sample->cure_days;
  row->wax_lot = sample->wax_lot;
  row->wick_lot = sample->wick_lot;
  row->fragrance_lot = sample->fragrance_lot;
  row->tare_g = sample->tare_g;
  row->fill_g = sample->fill_g;
  row->wax_height_mm = sample->wax_height_mm;
  row->wick_offset_mm = sample->wick_offset_mm;
  row->set_aside = words_of_set_aside (sample);
  g_ptr_array_sort (burns, compare_burns);
  for (guint i = 0; i < burns->len; i++)
    if (!export_burn (self, burns->pdata[i]))
      return FALSE;
  return TRUE;
}

static int
compare_samples (gconstpointer pa,
                 gconstpointer pb)
{
  const WbSample *a = *(const WbSample *const *) pa, *b = *(const WbSample *const *) pb;

  return strcmp (a->code, b->code);
}

static gboolean
export_experiment (Export             *self,
                   const WbExperiment *experiment)
{
  WbLogRow *row = &self->row;
  g_autoptr (GPtrArray) samples = wb_store_list (self->store, &wb_sample_type, "experiment", experiment->record.id,
                                                 self->error);
  const WbWax *wax = hold (self, &wb_wax_type, experiment->wax);
  const WbDye *dye = hold (self, &wb_dye_type, experiment->dye);
  const WbAdditive *additive = hold (self, &wb_additive_type, experiment->additive);

  if (samples == NULL || wax == NULL || (experiment->dye != 0 && dye == NULL)
      || (experiment->additive != 0 && additive == NULL))
    return FALSE;
  row->experiment = experiment->title;
  row->wax = wax->name;
  row->dye = dye != NULL ? dye->name : NULL;
  row->additive = additive != NULL ? additive->name : NULL;
  g_ptr_array_sort (samples, compare_samples);
  for (guint i = 0; i < samples->len; i++)
    {
      guint held = self->held->len;

      if (!export_sample (self, samples->pdata[i]))
        return FALSE;
      g_ptr_array_set_size (self->held, (int) held);
    }
  return TRUE;
}

static int
compare_experiments (gconstpointer pa,
                     gconstpointer pb)
{
  const WbExperiment *a = *(const WbExperiment *const *) pa, *b = *(const WbExperiment *const *) pb;

  return strcmp (a->title, b->title);
}

static gboolean
read_extra_columns (Export *self)
{
  sqlite3_stmt *statement = wb_store_statement (self->store, "SELECT id FROM extra_column ORDER BY id", self->error);
  WbStep step;

  if (statement == NULL)
    return FALSE;
  while ((step = wb_store_step (self->store, statement, self->error)) == WB_STEP_ROW)
    {
      gint64 id = sqlite3_column_int64 (statement, 0);

      self->n_extra++;
      g_hash_table_insert (self->extra_index, g_memdup2 (&id, sizeof id), GUINT_TO_POINTER (self->n_extra));
    }
  self->extra = g_new0 (char *, self->n_extra + 1);
  for (guint i = 0; i < self->n_extra; i++)
    self->extra[i] = g_strdup ("");
  self->row.extra = self->extra;
  return step == WB_STEP_DONE;
}

static GPtrArray *
list_experiments (Export *self,
                  gint64  experiment)
{
  GPtrArray *list;
  gpointer one;

  if (experiment == 0)
    {
      list = wb_store_list (self->store, &wb_experiment_type, NULL, 0, self->error);
      if (list != NULL)
        g_ptr_array_sort (list, compare_experiments);
      return list;
    }
  one = wb_store_load (self->store, &wb_experiment_type, experiment, self->error);
  if (one == NULL)
    return NULL;
  list = g_ptr_array_new_with_free_func (wb_record_free);
  g_ptr_array_add (list, one);
  return list;
}

static gboolean
export_all (Export *self,
            gint64  experiment)
{
  g_autoptr (GPtrArray) experiments = list_experiments (self, experiment);

  if (experiments == NULL || !read_extra_columns (self))
    return FALSE;
  for (guint i = 0; i < experiments->len; i++)
    {
      if (!export_experiment (self, experiments->pdata[i]))
        return FALSE;
      g_ptr_array_set_size (self->held, 0);
    }
  return TRUE;
}

gboolean
wb_store_export (WbStore         *self,
                 gint64           experiment,
                 WbStoreExportRow callback,
                 gpointer         data,
                 GError         **error)
{
  g_return_val_if_fail (self != NULL && callback != NULL, FALSE);
  wb_store_assert_thread (self);

  Export export = { .store = self, .callback = callback, .data = data, .error = error };
  gboolean begun, done;

  if (!wb_store_begin_read (self, &begun, error))
    return FALSE;
  export.held = g_ptr_array_new_with_free_func (wb_record_free);
  export.extra_index = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  export.row.line = 1;
  done = export_all (&export, experiment);
  wb_store_end_read (self, begun);
  g_ptr_array_unref (export.held);
  g_hash_table_unref (export.extra_index);
  g_strfreev (export.extra);
  return done;
}
