/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-import-private.h"

#include "wb-store-identity-private.h"
#include "wb-store-private.h"
#include "wb-store-records.h"

#include <string.h>

/* What the record already says of the experiments, wicks, samples, burns and observations that a file names. */

gint64
wb_import_find_vessel (WbStore    *store,
                       const char *name,
                       double      inner_diameter_mm,
                       GError    **error)
{
  g_autoptr (WbRecord) vessel = wb_record_new (&wb_vessel_type);

  ((WbVessel *) vessel)->name = g_strdup (name);
  ((WbVessel *) vessel)->inner_diameter_mm = inner_diameter_mm;
  return wb_store_identity_find (store, wb_store_table_find (&wb_vessel_type), vessel, error);
}

gint64
wb_import_find_wick (WbStore    *store,
                     const char *series,
                     const char *size,
                     GError    **error)
{
  g_autoptr (WbRecord) wick = wb_record_new (&wb_wick_type);

  ((WbWick *) wick)->series = g_strdup (series);
  ((WbWick *) wick)->size = g_strdup (size);
  return wb_store_identity_find (store, wb_store_table_find (&wb_wick_type), wick, error);
}

/* The name of a material, as a statement; nothing for 0. */
static gboolean
state_name (WbStoreImport      *self,
            const WbRecordType *type,
            gint64              id,
            WbImportStatement  *statement,
            GError            **error)
{
  g_autoptr (WbRecord) record = NULL;

  if (id == 0)
    return TRUE;
  record = wb_store_load (self->store, type, id, error);
  if (record == NULL)
    return FALSE;
  wb_import_state_text (statement, wb_record_get_text (record, wb_record_type_find_field (type, "name")));
  return TRUE;
}

static gboolean
recall_experiment (WbStoreImport *self,
                   WbImportNode  *node,
                   GError       **error)
{
  gint64 id = wb_store_find_by_text (self->store, &wb_experiment_type, "title", node->key, error);
  g_autoptr (WbRecord) record = NULL;
  WbExperiment *experiment;

  if (id <= 0)
    return id == 0;
  record = wb_store_load (self->store, &wb_experiment_type, id, error);
  if (record == NULL)
    return FALSE;
  experiment = (WbExperiment *) record;
  node->record = id;
  node->imported = experiment->imported;
  return state_name (self, &wb_wax_type, experiment->wax, &node->statements[WB_IMPORT_WAX], error)
         && state_name (self, &wb_dye_type, experiment->dye, &node->statements[WB_IMPORT_DYE], error)
         && state_name (self, &wb_additive_type, experiment->additive, &node->statements[WB_IMPORT_ADDITIVE], error);
}

static gboolean
recall_wick (WbStoreImport  *self,
             WbImportNode   *node,
             const WbLogRow *row,
             GError        **error)
{
  gint64 id = wb_import_find_wick (self->store, row->wick_series, row->wick_size, error);
  g_autoptr (WbRecord) record = NULL;

  if (id <= 0)
    return id == 0;
  record = wb_store_load (self->store, &wb_wick_type, id, error);
  if (record == NULL)
    return FALSE;
  node->record = id;
  if (((WbWick *) record)->step != WB_INTEGER_NONE)
    wb_import_state_number (&node->statements[WB_IMPORT_WICK_STEP], (double) ((WbWick *) record)->step);
  return TRUE;
}

/*
 * May the defaults in this version of a record of an imported experiment stand for what the file left open? Not once a
 * person amended it: what it says then was said, the default too.
 */
static gboolean
is_by_import (WbStoreImport  *self,
              const WbRecord *record,
              gboolean       *by_import,
              GError        **error)
{
  sqlite3_stmt *statement = wb_store_statement (self->store, "SELECT kind = 'import' FROM entry WHERE number = ?1", error);
  gint64 yes;

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, record->entry);
  if (!wb_store_get_integer (self->store, statement, 0, &yes, error))
    return FALSE;
  *by_import = yes != 0;
  return TRUE;
}

/* `imported`: what the sample says of its cell was written by an import. */
static gboolean
state_cell (WbStoreImport     *self,
            WbImportStatement *s,
            gint64             id,
            gboolean           imported,
            GError           **error)
{
  g_autoptr (WbRecord) record = wb_store_load (self->store, &wb_cell_type, id, error);
  const WbCell *cell = (WbCell *) record;
  g_autoptr (WbRecord) vessel = record != NULL ? wb_store_load (self->store, &wb_vessel_type, cell->vessel, error) : NULL;
  g_autoptr (WbRecord) wick = vessel != NULL ? wb_store_load (self->store, &wb_wick_type, cell->wick, error) : NULL;

  if (wick == NULL || (imported && !is_by_import (self, record, &imported, error)))
    return FALSE;
  wb_import_state_text (&s[WB_IMPORT_VESSEL], ((WbVessel *) vessel)->name);
  wb_import_state_number (&s[WB_IMPORT_INNER_DIAMETER], ((WbVessel *) vessel)->inner_diameter_mm);
  wb_import_state_text (&s[WB_IMPORT_WICK_SERIES], ((WbWick *) wick)->series);
  wb_import_state_text (&s[WB_IMPORT_WICK_SIZE], ((WbWick *) wick)->size);
  wb_import_state_default (&s[WB_IMPORT_WICK_COUNT], (double) cell->wick_count, 1, imported);
  wb_import_state_number (&s[WB_IMPORT_WICK_SPACING], cell->wick_spacing_mm);
  wb_import_state_number (&s[WB_IMPORT_LOAD_PCT], cell->load_pct);
  wb_import_state_default (&s[WB_IMPORT_LOAD_BASIS], cell->load_basis, WB_BASIS_WAX, imported);
  if (cell->fragrance == 0 && cell->load_pct == 0)
    wb_import_state_text (&s[WB_IMPORT_FRAGRANCE], "");
  return state_name (self, &wb_fragrance_type, cell->fragrance, &s[WB_IMPORT_FRAGRANCE], error);
}

/* The day a sample was poured on: its own, or its batch's, as an export tells it. */
static gboolean
state_pour (WbStoreImport     *self,
            WbImportStatement *s,
            const WbSample    *sample,
            GError           **error)
{
  WbDay day = sample->poured_on;
  g_autoptr (WbRecord) batch = NULL;

  if (day == WB_DAY_NONE && sample->batch != 0)
    {
      batch = wb_store_load (self->store, &wb_batch_type, sample->batch, error);
      if (batch == NULL)
        return FALSE;
      day = wb_batch_get_day ((WbBatch *) batch);
    }
  if (day != WB_DAY_NONE)
    wb_import_state_number (&s[WB_IMPORT_POURED_ON], day);
  return TRUE;
}

static gboolean
state_sample (WbStoreImport  *self,
              WbImportNode   *node,
              const WbSample *sample,
              GError        **error)
{
  WbImportStatement *s = node->statements;
  gboolean by_import = FALSE;

  if (node->imported && !is_by_import (self, &sample->record, &by_import, error))
    return FALSE;
  wb_import_state_number (&s[WB_IMPORT_CURE_DAYS], sample->cure_days);
  wb_import_state_text (&s[WB_IMPORT_WAX_LOT], sample->wax_lot);
  wb_import_state_text (&s[WB_IMPORT_WICK_LOT], sample->wick_lot);
  wb_import_state_text (&s[WB_IMPORT_FRAGRANCE_LOT], sample->fragrance_lot);
  wb_import_state_number (&s[WB_IMPORT_TARE], sample->tare_g);
  wb_import_state_number (&s[WB_IMPORT_FILL], sample->fill_g);
  wb_import_state_number (&s[WB_IMPORT_WAX_HEIGHT], sample->wax_height_mm);
  wb_import_state_number (&s[WB_IMPORT_WICK_OFFSET], sample->wick_offset_mm);
  if (sample->set_aside != NULL)
    wb_import_state_text (&s[WB_IMPORT_SET_ASIDE], sample->set_aside);
  else if (sample->set_aside_cause >= 0)
    wb_import_state_text (&s[WB_IMPORT_SET_ASIDE], wb_cause_words[sample->set_aside_cause].nick);
  return state_pour (self, s, sample, error) && state_cell (self, s, sample->cell, by_import, error);
}

static gboolean
recall_sample (WbStoreImport      *self,
               WbImportNode       *node,
               const WbImportNode *experiment,
               GError            **error)
{
  g_autoptr (WbRecord) example = NULL, record = NULL;
  gint64 id;

  if (experiment->record == 0)
    return TRUE;
  example = wb_record_new (&wb_sample_type);
  ((WbSample *) example)->experiment = experiment->record;
  ((WbSample *) example)->code = g_strdup (node->key);
  id = wb_store_identity_find (self->store, wb_store_table_find (&wb_sample_type), example, error);
  if (id <= 0)
    return id == 0;
  record = wb_store_load (self->store, &wb_sample_type, id, error);
  node->record = id;
  node->imported = experiment->imported;
  return record != NULL && state_sample (self, node, (WbSample *) record, error);
}

static char **
load_extra (WbStoreImport *self,
            gint64         reading,
            GError       **error)
{
  char **cells = g_new0 (char *, self->n_extra + 1);
  GError *local = NULL;

  for (guint i = 0; i < self->n_extra && local == NULL; i++)
    {
      char *cell = wb_store_load_extra (self->store, reading, self->extra_names[i], &local);

      cells[i] = cell != NULL ? cell : g_strdup ("");
    }
  if (local == NULL)
    return cells;
  g_propagate_error (error, local);
  g_strfreev (cells);
  return NULL;
}

/* One reading of the record, in the form in which a row would tell it. */
static gboolean
recall_reading (WbStoreImport   *self,
                WbImportNode    *burn,
                const WbReading *reading,
                GError         **error)
{
  WbLogRow row = { .elapsed_min = reading->elapsed_min, .throw_room = reading->throw_room, .rater = reading->rater,
                   .note = reading->note };

  if (self->n_extra > 0)
    {
      row.extra = load_extra (self, reading->record.id, error);
      if (row.extra == NULL)
        return FALSE;
    }
  memcpy (row.values, reading->values, sizeof row.values);
  wb_import_observations_add (&burn->observations, &row, self->n_extra, reading->record.id);
  g_strfreev (row.extra);
  return TRUE;
}

static gboolean
recall_readings (WbStoreImport *self,
                 WbImportNode  *burn,
                 GError       **error)
{
  g_autoptr (GPtrArray) readings = wb_store_list (self->store, &wb_reading_type, "burn", burn->record, error);

  if (readings == NULL)
    return FALSE;
  for (guint i = 0; i < readings->len; i++)
    if (!recall_reading (self, burn, readings->pdata[i], error))
      return FALSE;
  return TRUE;
}

/* Has any reading of the notebook a second version? Most notebooks have few, many have none, and then no burn need be asked. */
static gboolean
look_back (WbStoreImport *self,
           GError       **error)
{
  sqlite3_stmt *statement;
  gint64 any;

  if (self->looked_back)
    return TRUE;
  statement = wb_store_statement (self->store, "SELECT EXISTS (SELECT 1 FROM reading WHERE previous IS NOT NULL)", error);
  if (statement == NULL || !wb_store_get_integer (self->store, statement, 0, &any, error))
    return FALSE;
  self->amended = any != 0;
  self->looked_back = TRUE;
  return TRUE;
}

/*
 * What the burn's readings were before they were amended or taken out, so that the rows of their file find them. What an
 * undo ended never was: an import that was taken back may come in again.
 */
static gboolean
recall_past (WbStoreImport *self,
             WbImportNode  *burn,
             GError       **error)
{
  const WbStoreTable *table = wb_store_table_find (&wb_reading_type);
  g_autofree char *sql = NULL;
  sqlite3_stmt *statement;
  WbStep step;

  if (!look_back (self, error))
    return FALSE;
  if (!self->amended)
    return TRUE;
  sql = g_strdup_printf ("SELECT %s FROM reading AS v WHERE v.burn = ?1 AND v.deleted = 0 AND EXISTS (SELECT 1 FROM reading AS n "
                         "JOIN entry AS e ON e.number = n.entry WHERE n.id = v.id AND n.previous = v.entry "
                         "AND e.kind NOT IN ('undo', 'take_back'))", table->columns);
  statement = wb_store_statement (self->store, sql, error);
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, burn->record);
  while ((step = wb_store_step (self->store, statement, error)) == WB_STEP_ROW)
    {
      g_autoptr (WbRecord) record = wb_store_table_read (table, statement);
      const WbReading *reading = (WbReading *) record;
      WbLogRow key = { .elapsed_min = reading->elapsed_min, .rater = reading->rater };

      memcpy (key.values, reading->values, sizeof key.values);
      wb_import_observations_add_past (&burn->observations, &key, record->id);
    }
  return step == WB_STEP_DONE;
}

static gboolean
recall_burn (WbStoreImport      *self,
             WbImportNode       *node,
             const WbImportNode *sample,
             const WbLogRow     *row,
             GError            **error)
{
  WbImportStatement *s = node->statements;
  g_autoptr (WbRecord) example = NULL, record = NULL;
  gboolean by_import = FALSE;
  WbBurn *burn;
  gint64 id;

  if (sample->record == 0)
    return TRUE;
  example = wb_record_new (&wb_burn_type);
  ((WbBurn *) example)->sample = sample->record;
  ((WbBurn *) example)->number = row->burn;
  id = wb_store_identity_find (self->store, wb_store_table_find (&wb_burn_type), example, error);
  if (id <= 0)
    return id == 0;
  record = wb_store_load (self->store, &wb_burn_type, id, error);
  if (record == NULL)
    return FALSE;
  burn = (WbBurn *) record;
  node->record = id;
  node->imported = sample->imported;
  if (node->imported && !is_by_import (self, record, &by_import, error))
    return FALSE;
  wb_import_state_default (&s[WB_IMPORT_BURN_KIND], burn->kind, WB_BURN_STANDARD, by_import);
  wb_import_state_number (&s[WB_IMPORT_TRIM], burn->trim_mm);
  if (burn->lit_at.known)
    s[WB_IMPORT_LIT_AT] = (WbImportStatement) { TRUE, FALSE, 0, (double) burn->lit_at.utc_us, burn->lit_at.offset_s, NULL };
  return recall_readings (self, node, error) && recall_past (self, node, error);
}

gboolean
wb_import_recall (WbStoreImport      *self,
                  WbImportNode       *node,
                  const WbImportNode *parent,
                  const WbLogRow     *row,
                  GError            **error)
{
  if (self->store == NULL)
    return TRUE;

  switch (node->level)
    {
    case WB_IMPORT_LEVEL_EXPERIMENT:
      return recall_experiment (self, node, error);
    case WB_IMPORT_LEVEL_WICK:
      return recall_wick (self, node, row, error);
    case WB_IMPORT_LEVEL_SAMPLE:
      return recall_sample (self, node, parent, error);
    case WB_IMPORT_LEVEL_BURN:
      return recall_burn (self, node, parent, row, error);
    default:
      g_assert_not_reached ();
    }
}
