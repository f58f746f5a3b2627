/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-dataset.h"

#include "wb-store-private.h"
#include "wb-store-records.h"
#include "wb-store-table-private.h"

#include <math.h>
#include <string.h>

typedef struct
{
  WbStore   *store;
  WbDataset *set;
  GError   **error;
} Loader;

/* The newest entry that the set rests on grows with each record taken in. */
static gpointer
take (Loader  *self,
      gpointer record)
{
  if (record != NULL)
    self->set->last_entry = MAX (self->set->last_entry, ((WbRecord *) record)->entry);
  return record;
}

static gpointer
load (Loader             *self,
      const WbRecordType *type,
      gint64              id)
{
  return take (self, wb_store_load (self->store, type, id, self->error));
}

/* Replaces an array of the set by what refers to `id`. */
static gboolean
load_list (Loader             *self,
           const WbRecordType *type,
           const char         *field,
           gint64              id,
           GPtrArray         **array)
{
  GPtrArray *list = wb_store_list (self->store, type, field, id, self->error);

  if (list == NULL)
    return FALSE;
  for (guint i = 0; i < list->len; i++)
    take (self, list->pdata[i]);
  g_clear_pointer (array, g_ptr_array_unref);
  *array = list;
  return TRUE;
}

static int
compare_positions (gconstpointer a,
                   gconstpointer b)
{
  const WbBatchStep *one = *(WbBatchStep *const *) a, *other = *(WbBatchStep *const *) b;

  return one->position < other->position ? -1 : one->position > other->position;
}

/* A batch's in order, behind those of the batches before it. */
static gboolean
load_batch_steps (Loader *self)
{
  for (guint i = 0; i < self->set->batches->len; i++)
    {
      g_autoptr (GPtrArray) steps = wb_store_list (self->store, &wb_batch_step_type, "batch",
                                                   ((const WbRecord *) g_ptr_array_index (self->set->batches, i))->id, self->error);

      if (steps == NULL)
        return FALSE;
      g_ptr_array_sort (steps, compare_positions);
      while (steps->len > 0)
        g_ptr_array_add (self->set->batch_steps, take (self, g_ptr_array_steal_index (steps, 0)));
    }
  return TRUE;
}

/* Optional references are 0. */
static gboolean
load_optional (Loader             *self,
               const WbRecordType *type,
               gint64              id,
               gpointer           *record)
{
  *record = id != 0 ? load (self, type, id) : NULL;
  return id == 0 || *record != NULL;
}

static gboolean
load_experiment (Loader *self,
                 gint64  experiment)
{
  WbDataset *set = self->set;
  WbExperiment *e = load (self, &wb_experiment_type, experiment);

  set->experiment = e;
  if (e == NULL)
    return FALSE;
  set->notebook = take (self, wb_store_load_notebook (self->store, self->error));
  if (set->notebook == NULL)
    return FALSE;
  return load_optional (self, &wb_protocol_type, e->protocol, (gpointer *) &set->protocol)
         && load_optional (self, &wb_profile_type, e->profile, (gpointer *) &set->profile)
         && load_optional (self, &wb_wax_type, e->wax, (gpointer *) &set->wax)
         && load_optional (self, &wb_dye_type, e->dye, (gpointer *) &set->dye)
         && load_optional (self, &wb_additive_type, e->additive, (gpointer *) &set->additive)
         && load_list (self, &wb_limit_type, "protocol", e->protocol, &set->limits)
         && load_list (self, &wb_aim_type, "profile", e->profile, &set->aims)
         && load_list (self, &wb_cell_type, "experiment", experiment, &set->cells)
         && load_list (self, &wb_batch_type, "experiment", experiment, &set->batches) && load_batch_steps (self)
         && load_list (self, &wb_decision_type, "experiment", experiment, &set->decisions)
         && load_list (self, &wb_sample_type, "experiment", experiment, &set->samples);
}

/* A material by id, loaded once into `owned` and found again by `index`; NULL for 0, or with error. */
static gpointer
material (Loader             *self,
          const WbRecordType *type,
          gint64              id,
          GPtrArray          *owned,
          GHashTable         *index)
{
  gpointer record;

  if (id == 0)
    return NULL;
  record = g_hash_table_lookup (index, &id);
  if (record == NULL)
    {
      record = load (self, type, id);
      if (record == NULL)
        return NULL;
      g_ptr_array_add (owned, record);
      g_hash_table_insert (index, &((WbRecord *) record)->id, record);
    }
  return record;
}

static gboolean
load_materials (Loader     *self,
                GHashTable *index)
{
  WbDataset *set = self->set;

  for (guint i = 0; i < set->cells->len; i++)
    {
      const WbCell *cell = set->cells->pdata[i];

      if (material (self, &wb_vessel_type, cell->vessel, set->vessels, index) == NULL
          || material (self, &wb_wick_type, cell->wick, set->wicks, index) == NULL
          || (cell->fragrance != 0
              && material (self, &wb_fragrance_type, cell->fragrance, set->fragrances, index) == NULL))
        return FALSE;
    }
  return TRUE;
}

static int
compare_reals (double a, double b)
{
  return (a > b) - (a < b);
}

static int
compare_integers (gint64 a, gint64 b)
{
  return (a > b) - (a < b);
}

/*
 * Vessel, scent, series, step, size, then what else a cell has. Numbers go before names: draws are laid out in this order, and
 * a vessel or a scent of another name gets the same answer, to the bit, as long as its diameter or its load tells it apart.
 */
static int
compare_cells (gconstpointer pa,
               gconstpointer pb,
               gpointer      user)
{
  const WbCell *a = *(const WbCell *const *) pa, *b = *(const WbCell *const *) pb;
  GHashTable *index = user;
  const WbVessel *va = g_hash_table_lookup (index, &a->vessel), *vb = g_hash_table_lookup (index, &b->vessel);
  const WbWick *wa = g_hash_table_lookup (index, &a->wick), *wb = g_hash_table_lookup (index, &b->wick);
  const WbFragrance *fa = g_hash_table_lookup (index, &a->fragrance), *fb = g_hash_table_lookup (index, &b->fragrance);
  int order = compare_reals (va->inner_diameter_mm, vb->inner_diameter_mm);

  if (order == 0)
    order = strcmp (va->name, vb->name);
  if (order == 0)
    order = compare_reals (a->load_pct, b->load_pct);
  if (order == 0)
    order = compare_integers (a->load_basis, b->load_basis);
  if (order == 0)
    order = g_strcmp0 (fa != NULL ? fa->name : NULL, fb != NULL ? fb->name : NULL);
  if (order == 0)
    order = strcmp (wa->series, wb->series);
  if (order == 0)
    order = compare_integers (wa->step, wb->step);
  if (order == 0)
    order = strcmp (wa->size, wb->size);
  if (order == 0)
    order = compare_integers (a->wick_count, b->wick_count);
  return order != 0 ? order : compare_integers (a->record.id, b->record.id);
}

static gboolean
arrange_cells (Loader *self)
{
  WbDataset *set = self->set;
  g_autoptr (GHashTable) index = g_hash_table_new (g_int64_hash, g_int64_equal);

  if (!load_materials (self, index))
    return FALSE;
  g_ptr_array_sort_with_data (set->cells, compare_cells, index);
  for (guint i = 0; i < set->cells->len; i++)
    {
      const WbCell *cell = set->cells->pdata[i];

      g_ptr_array_add (set->cell_vessels, g_hash_table_lookup (index, &cell->vessel));
      g_ptr_array_add (set->cell_wicks, g_hash_table_lookup (index, &cell->wick));
      g_ptr_array_add (set->cell_fragrances, g_hash_table_lookup (index, &cell->fragrance));
    }
  return TRUE;
}

/* Where each record of an array stands: gint64 id to index. Keys are borrowed from the records. */
static GHashTable *
index_of (GPtrArray *records)
{
  GHashTable *index = g_hash_table_new (g_int64_hash, g_int64_equal);

  for (guint i = 0; i < records->len; i++)
    g_hash_table_insert (index, &((WbRecord *) records->pdata[i])->id, GUINT_TO_POINTER (i));
  return index;
}

static int
compare_samples (gconstpointer pa,
                 gconstpointer pb,
                 gpointer      user)
{
  const WbSample *a = *(const WbSample *const *) pa, *b = *(const WbSample *const *) pb;
  GHashTable *cells = user;
  guint ca = GPOINTER_TO_UINT (g_hash_table_lookup (cells, &a->cell));
  guint cb = GPOINTER_TO_UINT (g_hash_table_lookup (cells, &b->cell));

  return ca != cb ? (ca > cb) - (ca < cb) : strcmp (a->code, b->code);
}

static void
arrange_samples (Loader *self)
{
  WbDataset *set = self->set;
  g_autoptr (GHashTable) cells = index_of (set->cells);

  g_ptr_array_sort_with_data (set->samples, compare_samples, cells);
  for (guint i = 0; i < set->samples->len; i++)
    {
      guint cell = GPOINTER_TO_UINT (g_hash_table_lookup (cells, &((WbSample *) set->samples->pdata[i])->cell));

      g_array_append_val (set->sample_cell, cell);
    }
}

static int
compare_burns (gconstpointer pa,
               gconstpointer pb)
{
  const WbBurn *a = *(const WbBurn *const *) pa, *b = *(const WbBurn *const *) pb;

  return compare_integers (a->number, b->number);
}

static gboolean
load_burns (Loader *self)
{
  WbDataset *set = self->set;

  for (guint i = 0; i < set->samples->len; i++)
    {
      g_autoptr (GPtrArray) own = wb_store_list (self->store, &wb_burn_type, "sample",
                                                 ((WbRecord *) set->samples->pdata[i])->id, self->error);

      if (own == NULL)
        return FALSE;
      g_ptr_array_sort (own, compare_burns);
      g_ptr_array_set_free_func (own, NULL);
      for (guint j = 0; j < own->len; j++)
        {
          g_ptr_array_add (set->burns, take (self, own->pdata[j]));
          g_array_append_val (set->burn_sample, i);
        }
    }
  return TRUE;
}

/* Inspections are few and have no index by sample: one look at them all. */
static gboolean
load_inspections (Loader *self)
{
  WbDataset *set = self->set;
  g_autoptr (GHashTable) samples = index_of (set->samples);
  g_autoptr (GPtrArray) all = wb_store_list (self->store, &wb_inspection_type, NULL, 0, self->error);

  if (all == NULL)
    return FALSE;
  for (guint i = 0; i < all->len; i++)
    {
      WbInspection *inspection = all->pdata[i];
      gpointer sample;
      guint index;

      if (!g_hash_table_lookup_extended (samples, &inspection->sample, NULL, &sample))
        continue;
      index = GPOINTER_TO_UINT (sample);
      g_ptr_array_add (set->inspections, take (self, wb_record_copy (inspection)));
      g_array_append_val (set->inspection_sample, index);
    }
  return TRUE;
}

/* Loggers' files are few: one look at all attachments, whose bytes stand elsewhere. */
static gboolean
load_loggers (Loader *self)
{
  WbDataset *set = self->set;
  g_autoptr (GHashTable) burns = index_of (set->burns);
  g_autoptr (GPtrArray) all = wb_store_list (self->store, &wb_attachment_type, NULL, 0, self->error);

  if (all == NULL)
    return FALSE;
  for (guint i = 0; i < all->len; i++)
    {
      WbAttachment *attachment = all->pdata[i];
      gpointer burn;
      guint index;

      if (attachment->role != WB_ATTACHMENT_LOGGER || !g_hash_table_lookup_extended (burns, &attachment->owner, NULL, &burn))
        continue;
      index = GPOINTER_TO_UINT (burn);
      g_ptr_array_add (set->loggers, take (self, wb_record_copy (attachment)));
      g_array_append_val (set->logger_burn, index);
    }
  return TRUE;
}

/* Fields of a reading that the columns hold, in the order in which they are selected. */
static const char *const text_columns[WB_N_READING_TEXTS] = {
  [WB_READING_TEXT_THROW_ROOM] = "throw_room",
  [WB_READING_TEXT_RATER] = "rater",
  [WB_READING_TEXT_NOTE] = "note",
  [WB_READING_TEXT_INSTRUMENT] = "instrument",
  [WB_READING_TEXT_INSTRUMENT_PLACE] = "instrument_place",
};

#define READING_HEAD 4 /* id, entry, elapsed_min, late */

static char *
build_readings_query (void)
{
  GString *sql = g_string_new ("SELECT v.id, v.entry, v.elapsed_min, v.late");

  for (guint i = 0; i < WB_N_COLUMNS; i++)
    g_string_append_printf (sql, ", v.%s", wb_column_get_spec (i)->name);
  for (guint i = 0; i < WB_N_READING_TEXTS; i++)
    g_string_append_printf (sql, ", v.%s", text_columns[i]);
  g_string_append_printf (sql, " FROM reading AS v WHERE v.burn = ?1 AND %s ORDER BY v.elapsed_min, v.id",
                          wb_store_table_find (&wb_reading_type)->current);
  return g_string_free (sql, FALSE);
}

static double
read_value (sqlite3_stmt *statement,
            int           column,
            WbColumn      which)
{
  int word;

  if (sqlite3_column_type (statement, column) != SQLITE_TEXT)
    return sqlite3_column_double (statement, column);
  word = wb_words_find (wb_column_get_spec (which)->words, (const char *) sqlite3_column_text (statement, column));
  return word >= 0 ? word : NAN;
}

static void
append_reading (Loader       *self,
                guint         burn,
                sqlite3_stmt *statement)
{
  WbReadings *readings = self->set->readings;
  guint row = wb_readings_append (readings, sqlite3_column_int64 (statement, 0), burn, sqlite3_column_double (statement, 2));

  self->set->last_entry = MAX (self->set->last_entry, sqlite3_column_int64 (statement, 1));
  if (sqlite3_column_int (statement, 3) != 0)
    wb_readings_set_late (readings, row);
  for (int i = 0; i < WB_N_COLUMNS; i++)
    if (sqlite3_column_type (statement, READING_HEAD + i) != SQLITE_NULL)
      wb_readings_set (readings, row, i, read_value (statement, READING_HEAD + i, i));
  for (int i = 0; i < WB_N_READING_TEXTS; i++)
    {
      int column = READING_HEAD + WB_N_COLUMNS + i;

      if (sqlite3_column_type (statement, column) != SQLITE_NULL)
        wb_readings_set_text (readings, row, i, (const char *) sqlite3_column_text (statement, column));
    }
}

static gboolean
load_readings (Loader *self)
{
  g_autofree char *sql = build_readings_query ();
  sqlite3_stmt *statement = wb_store_statement (self->store, sql, self->error);

  if (statement == NULL)
    return FALSE;
  for (guint i = 0; i < self->set->burns->len; i++)
    {
      WbStep step;

      sqlite3_bind_int64 (statement, 1, ((WbRecord *) self->set->burns->pdata[i])->id);
      while ((step = wb_store_step (self->store, statement, self->error)) == WB_STEP_ROW)
        append_reading (self, i, statement);
      if (step == WB_STEP_ERROR)
        return FALSE;
    }
  return TRUE;
}

/* What was deleted since is not in the set, but the set rests on its being gone. */
static gboolean
load_last_entry (Loader *self,
                 gint64  experiment)
{
  sqlite3_stmt *statement = wb_store_statement (self->store, "SELECT last_entry FROM derived_experiment "
                                                "WHERE experiment = ?", self->error);
  gint64 entry;

  if (statement != NULL)
    sqlite3_bind_int64 (statement, 1, experiment);
  if (!wb_store_get_integer (self->store, statement, 0, &entry, self->error))
    return FALSE;
  self->set->last_entry = MAX (self->set->last_entry, entry);
  return TRUE;
}

static gboolean
load_all (Loader *self,
          gint64  experiment)
{
  if (!load_experiment (self, experiment) || !arrange_cells (self))
    return FALSE;
  arrange_samples (self);
  return load_burns (self) && load_inspections (self) && load_loggers (self) && load_readings (self) && load_last_entry (self, experiment);
}

WbDataset *
wb_store_load_dataset (WbStore *self,
                       gint64   experiment,
                       GError **error)
{
  g_return_val_if_fail (self != NULL, NULL);
  wb_store_assert_thread (self);

  g_autoptr (WbDataset) set = wb_dataset_new ();
  Loader loader = { self, set, error };
  gboolean begun, loaded;

  if (!wb_store_begin_read (self, &begun, error))
    return NULL;
  loaded = load_all (&loader, experiment);
  wb_store_end_read (self, begun);
  return loaded ? g_steal_pointer (&set) : NULL;
}
