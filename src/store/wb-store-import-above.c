/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-import-private.h"

#include "wb-store-change-private.h"
#include "wb-store-records.h"

#include <math.h>
#include <string.h>

/* Wicks, experiments, cells, samples and burns, made or completed as the readings need them. */

static gboolean
write_wick (WbStoreImport *self,
            WbImportNode  *node,
            GError       **error)
{
  const WbImportStatement *step = &node->statements[WB_IMPORT_WICK_STEP];
  g_autofree char *series = NULL;
  const char *size;
  g_autoptr (WbRecord) wick = NULL;

  wb_import_split_wick_key (node->key, &series, &size);
  if (node->record == 0)
    node->record = wb_import_ensure_wick (self, series, size, step->known ? step->number : NAN, error);
  else if (node->completed)
    {
      wick = wb_store_load (self->store, &wb_wick_type, node->record, error);
      if (wick == NULL)
        return FALSE;
      ((WbWick *) wick)->step = (gint64) step->number;
      if (!wb_store_change_put (self->change, wick, error))
        return FALSE;
    }
  return node->record != 0;
}

/* "Autumn vessel trial" is AVT; of a single word its first letters; "E" of what has no such letters. */
static char *
dup_code (const char *title)
{
  g_autoptr (GString) initials = g_string_new (NULL);
  g_autoptr (GString) letters = g_string_new (NULL);
  gboolean in_word = FALSE;

  for (const char *c = title; *c != '\0'; c++)
    {
      if (g_ascii_isalnum (*c))
        {
          if (!in_word || g_ascii_isdigit (*c))
            g_string_append_c (initials, g_ascii_toupper (*c));
          g_string_append_c (letters, g_ascii_toupper (*c));
        }
      in_word = g_ascii_isalnum (*c) || (in_word && *c == '\'');
    }
  g_string_truncate (initials, MIN (initials->len, 8));
  g_string_truncate (letters, MIN (letters->len, 4));
  if (initials->len >= 2)
    return g_strdup (initials->str);
  return g_strdup (letters->len > 0 ? letters->str : "E");
}

static gint64
make_experiment (WbStoreImport *self,
                 WbImportNode  *node,
                 gint64         wax,
                 gint64         dye,
                 gint64         additive,
                 GError       **error)
{
  g_autofree char *code = dup_code (node->key);
  WbExperiment *experiment;

  if (!wb_import_ensure_rules (self, error) || !wb_import_free_name (self, &wb_experiment_type, "code", &code, error))
    return 0;
  experiment = wb_record_new (&wb_experiment_type);
  experiment->code = g_steal_pointer (&code);
  experiment->title = g_strdup (node->key);
  experiment->wax = wax;
  experiment->dye = dye;
  experiment->additive = additive;
  experiment->protocol = self->protocol;
  experiment->profile = self->profile;
  experiment->seed = 1;
  experiment->imported = TRUE;
  return wb_import_put_new (self, experiment, error);
}

static gboolean
write_experiment (WbStoreImport *self,
                  WbImportNode  *node,
                  GError       **error)
{
  const WbImportStatement *s = node->statements;
  g_autoptr (WbRecord) record = NULL;
  gint64 wax, dye, additive;

  if (node->record != 0 && !node->completed)
    return TRUE;
  if (!wb_import_ensure_stated (self, &wb_wax_type, &s[WB_IMPORT_WAX], &wax, error)
      || !wb_import_ensure_stated (self, &wb_dye_type, &s[WB_IMPORT_DYE], &dye, error)
      || !wb_import_ensure_stated (self, &wb_additive_type, &s[WB_IMPORT_ADDITIVE], &additive, error))
    return FALSE;
  if (node->record == 0)
    {
      node->record = make_experiment (self, node, wax, dye, additive, error);
      return node->record != 0;
    }
  record = wb_store_load (self->store, &wb_experiment_type, node->record, error);
  if (record == NULL)
    return FALSE;
  ((WbExperiment *) record)->dye = dye;
  ((WbExperiment *) record)->additive = additive;
  return wb_store_change_put (self->change, record, error);
}

static char *
dup_cell_key (const WbCell *cell)
{
  g_autofree char *load = wb_number_shortest (cell->load_pct);
  g_autofree char *spacing = isnan (cell->wick_spacing_mm) ? g_strdup ("") : wb_number_shortest (cell->wick_spacing_mm);

  return g_strdup_printf ("%" G_GINT64_FORMAT " %" G_GINT64_FORMAT " %" G_GINT64_FORMAT " %s %" G_GINT64_FORMAT " %s %d",
                          cell->vessel, cell->wick, cell->wick_count, spacing, cell->fragrance, load, cell->load_basis);
}

/* The cells of the experiment that is open, so that each sample finds its own at once. */
static gboolean
open_cells (WbStoreImport *self,
            gint64         experiment,
            GError       **error)
{
  g_autoptr (GPtrArray) stored = NULL;

  if (self->cells_of == experiment)
    return TRUE;
  stored = wb_store_list (self->store, &wb_cell_type, "experiment", experiment, error);
  if (stored == NULL)
    return FALSE;
  g_hash_table_remove_all (self->cells);
  self->cells_of = experiment;
  for (guint i = 0; i < stored->len; i++)
    {
      g_autofree char *key = dup_cell_key (stored->pdata[i]);

      wb_import_remember (self->cells, key, ((WbRecord *) stored->pdata[i])->id);
    }
  return TRUE;
}

static gint64
ensure_cell (WbStoreImport           *self,
             gint64                   experiment,
             const WbImportStatement *s,
             GError                 **error)
{
  g_autoptr (WbRecord) record = wb_record_new (&wb_cell_type);
  WbCell *cell = (WbCell *) record;
  g_autofree char *key = NULL;
  gint64 *known;

  cell->experiment = experiment;
  cell->vessel = wb_import_ensure_vessel (self, s, error);
  if (cell->vessel == 0)
    return 0;
  cell->wick = wb_import_ensure_wick (self, s[WB_IMPORT_WICK_SERIES].text, s[WB_IMPORT_WICK_SIZE].text, NAN, error);
  if (cell->wick == 0 || !wb_import_ensure_stated (self, &wb_fragrance_type, &s[WB_IMPORT_FRAGRANCE], &cell->fragrance, error))
    return 0;
  cell->wick_count = s[WB_IMPORT_WICK_COUNT].known ? (gint64) s[WB_IMPORT_WICK_COUNT].number : 1;
  if (s[WB_IMPORT_WICK_SPACING].known)
    cell->wick_spacing_mm = s[WB_IMPORT_WICK_SPACING].number;
  cell->load_pct = s[WB_IMPORT_LOAD_PCT].number;
  cell->load_basis = s[WB_IMPORT_LOAD_BASIS].known ? (int) s[WB_IMPORT_LOAD_BASIS].number : WB_BASIS_WAX;

  if (!open_cells (self, experiment, error))
    return 0;
  key = dup_cell_key (cell);
  known = wb_import_remembered (self->cells, key);
  if (known != NULL)
    return *known;
  return wb_store_change_put (self->change, record, error) ? wb_import_remember (self->cells, key, record->id) : 0;
}

static void
take_text (char                   **text,
           const WbImportStatement *statement)
{
  if (!statement->known)
    return;
  g_free (*text);
  *text = g_strdup (statement->text);
}

static void
take_number (double                  *number,
             const WbImportStatement *statement)
{
  if (statement->known)
    *number = statement->number;
}

/* Words of set_aside that name a cause give it; others are a cause of their own. */
static void
fill_set_aside (WbSample                *sample,
                const WbImportStatement *statement)
{
  int cause;

  if (!statement->known || statement->line == 0)
    return;
  cause = wb_words_find (wb_cause_words, statement->text);
  sample->set_aside_cause = cause >= 0 ? cause : WB_CAUSE_OTHER;
  take_text (&sample->set_aside, statement);
}

static void
fill_sample (WbSample                *sample,
             const WbImportStatement *s)
{
  /* What the record already said of the day may be its batch's, and stays there. */
  if (s[WB_IMPORT_POURED_ON].known && s[WB_IMPORT_POURED_ON].line != 0)
    sample->poured_on = (WbDay) s[WB_IMPORT_POURED_ON].number;
  take_number (&sample->cure_days, &s[WB_IMPORT_CURE_DAYS]);
  take_text (&sample->wax_lot, &s[WB_IMPORT_WAX_LOT]);
  take_text (&sample->wick_lot, &s[WB_IMPORT_WICK_LOT]);
  take_text (&sample->fragrance_lot, &s[WB_IMPORT_FRAGRANCE_LOT]);
  take_number (&sample->tare_g, &s[WB_IMPORT_TARE]);
  take_number (&sample->fill_g, &s[WB_IMPORT_FILL]);
  take_number (&sample->wax_height_mm, &s[WB_IMPORT_WAX_HEIGHT]);
  take_number (&sample->wick_offset_mm, &s[WB_IMPORT_WICK_OFFSET]);
  fill_set_aside (sample, &s[WB_IMPORT_SET_ASIDE]);
}

static gboolean
write_sample (WbStoreImport      *self,
              WbImportNode       *node,
              const WbImportNode *experiment,
              GError            **error)
{
  g_autoptr (WbRecord) record = NULL;
  WbSample *sample;
  gint64 before;

  if (node->record != 0 && !node->completed)
    return TRUE;
  record = node->record != 0 ? wb_store_load (self->store, &wb_sample_type, node->record, error)
                             : wb_record_new (&wb_sample_type);
  if (record == NULL)
    return FALSE;
  sample = (WbSample *) record;
  before = sample->cell;
  sample->experiment = experiment->record;
  sample->cell = ensure_cell (self, experiment->record, node->statements, error);
  if (sample->cell == 0)
    return FALSE;
  if (before != 0 && before != sample->cell && node->imported)
    g_hash_table_add (self->left, g_memdup2 (&before, sizeof before));
  if (sample->code == NULL)
    sample->code = g_strdup (node->key);
  fill_sample (sample, node->statements);
  if (!wb_store_change_put (self->change, sample, error))
    return FALSE;
  node->record = record->id;
  return TRUE;
}

static void
fill_burn (WbBurn                  *burn,
           const WbImportStatement *s)
{
  burn->kind = s[WB_IMPORT_BURN_KIND].known ? (int) s[WB_IMPORT_BURN_KIND].number : WB_BURN_STANDARD;
  take_number (&burn->trim_mm, &s[WB_IMPORT_TRIM]);
  if (s[WB_IMPORT_LIT_AT].known)
    burn->lit_at = (WbInstant) { (gint64) s[WB_IMPORT_LIT_AT].number, s[WB_IMPORT_LIT_AT].offset_s, TRUE };
}

/* A new burn is one of perhaps a hundred thousand, and its sample was written a moment ago: only its own fields are asked. */
static gboolean
write_burn (WbStoreImport      *self,
            WbImportNode       *node,
            const WbImportNode *sample,
            GError            **error)
{
  g_autoptr (WbRecord) record = NULL;
  WbBurn *burn;

  if (node->record != 0 && !node->completed)
    return TRUE;
  record = node->record != 0 ? wb_store_load (self->store, &wb_burn_type, node->record, error)
                             : wb_record_new (&wb_burn_type);
  if (record == NULL)
    return FALSE;
  burn = (WbBurn *) record;
  fill_burn (burn, node->statements);
  if (node->record != 0)
    return wb_store_change_put (self->change, burn, error);

  burn->uuid = wb_uuid_new ();
  burn->sample = sample->record;
  burn->number = g_ascii_strtoll (node->key, NULL, 10);
  if (!wb_record_validate (burn, error))
    return FALSE;
  burn->record.id = self->change->next_object++;
  if (!wb_store_change_write (self->change, wb_store_table_find (&wb_burn_type), burn, NULL, error))
    return FALSE;
  node->record = burn->record.id;
  return TRUE;
}

static void
mark_written (WbImportNode *node)
{
  node->written = TRUE;
  node->dirty = TRUE;
}

gboolean
wb_import_write_above (WbStoreImport       *self,
                       const WbImportNodes *nodes,
                       GError             **error)
{
  if (!nodes->experiment->written)
    {
      if (!write_experiment (self, nodes->experiment, error))
        return FALSE;
      mark_written (nodes->experiment);
    }
  if (nodes->wick != NULL && !nodes->wick->written)
    {
      if (!write_wick (self, nodes->wick, error))
        return FALSE;
      mark_written (nodes->wick);
    }
  if (!nodes->sample->written)
    {
      if (!write_sample (self, nodes->sample, nodes->experiment, error))
        return FALSE;
      mark_written (nodes->sample);
    }
  if (!nodes->burn->written)
    {
      if (!write_burn (self, nodes->burn, nodes->sample, error))
        return FALSE;
      mark_written (nodes->burn);
    }
  return TRUE;
}

gboolean
wb_import_delete_left (WbStoreImport *self,
                       GError       **error)
{
  GHashTableIter iter;
  gpointer key;

  g_hash_table_iter_init (&iter, self->left);
  while (g_hash_table_iter_next (&iter, &key, NULL))
    {
      g_autoptr (GPtrArray) samples = wb_store_list (self->store, &wb_sample_type, "cell", *(gint64 *) key, error);
      g_autoptr (GError) local = NULL;

      if (samples == NULL)
        return FALSE;
      if (samples->len > 0 || wb_store_change_delete (self->change, &wb_cell_type, *(gint64 *) key, &local))
        continue;
      /* what a person rests on it keeps it */
      if (!g_error_matches (local, WB_STORE_ERROR, WB_STORE_ERROR_IN_USE))
        {
          g_propagate_error (error, g_steal_pointer (&local));
          return FALSE;
        }
    }
  return TRUE;
}
