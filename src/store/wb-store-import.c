/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-import-private.h"

#include "wb-store-private.h"
#include "wb-store-records.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>
#include <math.h>
#include <string.h>

/* Pass 1: what each row is to the rows before it and to the record. */

WbStoreImport *
wb_store_import_new (WbStore           *store,
                     const char *const *extra_columns,
                     GError           **error)
{
  WbStoreImport *self = g_new0 (WbStoreImport, 1);

  self->store = store;
  self->extra_names = g_strdupv ((char **) extra_columns);
  self->n_extra = self->extra_names != NULL ? g_strv_length (self->extra_names) : 0;
  self->rows = g_byte_array_new ();
  self->columns_found = g_ptr_array_new ();
  self->vessels = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  self->defaults = g_hash_table_new (g_str_hash, g_str_equal);
  if (store != NULL)
    {
      wb_store_assert_thread (store);
      self->last_entry = wb_store_get_last_entry (store);
    }
  self->seen = wb_import_seen_new (error);
  if (self->seen != NULL)
    return self;
  wb_store_import_free (self);
  return NULL;
}

void
wb_store_import_free (WbStoreImport *self)
{
  if (self == NULL)
    return;
  wb_store_rollback (self->change);
  wb_import_seen_free (self->seen);
  g_strfreev (self->extra_names);
  g_byte_array_unref (self->rows);
  g_ptr_array_unref (self->columns_found);
  g_hash_table_unref (self->vessels);
  g_hash_table_unref (self->defaults);
  g_clear_pointer (&self->names, g_hash_table_unref);
  g_clear_pointer (&self->wicks, g_hash_table_unref);
  g_clear_pointer (&self->cells, g_hash_table_unref);
  g_clear_pointer (&self->left, g_hash_table_unref);
  g_free (self->source);
  g_free (self->columns);
  wb_record_free (self->reading);
  g_free (self);
}

WbImportRow
wb_import_get_row (WbStoreImport *self,
                   guint64        line)
{
  guint64 byte = line / 2;

  return byte < self->rows->len ? (WbImportRow) (self->rows->data[byte] >> (line % 2 * 4) & 0xf) : WB_IMPORT_ROW_NOTHING;
}

void
wb_import_set_row (WbStoreImport *self,
                   guint64        line,
                   WbImportRow    what)
{
  guint byte = (guint) (line / 2);
  guint before = self->rows->len;
  guint8 shift = line % 2 * 4;

  if (byte >= before)
    {
      g_byte_array_set_size (self->rows, byte + 1);
      memset (self->rows->data + before, 0, byte + 1 - before);
    }
  self->rows->data[byte] = (guint8) ((self->rows->data[byte] & ~(0xf << shift)) | (what << shift));
}

/* `node` is the one of the row before, or NULL: most often it is the same again, and the key need not be made. */
static gboolean
find_node (WbStoreImport      *self,
           WbImportLevel       level,
           const WbImportNode *parent,
           const char         *key,
           const WbLogRow     *row,
           gboolean            make,
           WbImportNode      **node,
           GError            **error)
{
  if (!wb_import_seen_find (self->seen, level, parent, key, node, error))
    return FALSE;
  if (*node != NULL || !make)
    return TRUE;
  *node = wb_import_seen_add (self->seen, level, parent, key);
  return wb_import_recall (self, *node, parent, row, error);
}

static gboolean
find_experiment (WbStoreImport  *self,
                 const WbLogRow *row,
                 gboolean        make,
                 WbImportNodes  *nodes,
                 GError        **error)
{
  if (nodes->experiment != NULL && strcmp (nodes->experiment->key, row->experiment) == 0)
    return TRUE;
  nodes->sample = nodes->burn = NULL;
  return find_node (self, WB_IMPORT_LEVEL_EXPERIMENT, NULL, row->experiment, row, make, &nodes->experiment, error);
}

static gboolean
find_wick (WbStoreImport  *self,
           const WbLogRow *row,
           gboolean        make,
           WbImportNodes  *nodes,
           GError        **error)
{
  g_autofree char *key = NULL;

  if (row->wick_series == NULL || row->wick_size == NULL)
    {
      nodes->wick = NULL;
      return TRUE;
    }
  if (nodes->wick != NULL && wb_import_is_wick_key (nodes->wick->key, row->wick_series, row->wick_size))
    return TRUE;
  key = wb_import_dup_wick_key (row->wick_series, row->wick_size);
  return find_node (self, WB_IMPORT_LEVEL_WICK, NULL, key, row, make, &nodes->wick, error);
}

/* Below what was not seen, nothing was seen. */
static gboolean
find_sample (WbStoreImport  *self,
             const WbLogRow *row,
             gboolean        make,
             WbImportNodes  *nodes,
             GError        **error)
{
  if (nodes->experiment == NULL || (nodes->sample != NULL && strcmp (nodes->sample->key, row->sample) == 0))
    return TRUE;
  nodes->burn = NULL;
  return find_node (self, WB_IMPORT_LEVEL_SAMPLE, nodes->experiment, row->sample, row, make, &nodes->sample, error);
}

static gboolean
find_burn (WbStoreImport  *self,
           const WbLogRow *row,
           gboolean        make,
           WbImportNodes  *nodes,
           GError        **error)
{
  char key[32];

  if (nodes->sample == NULL || (nodes->burn != NULL && nodes->burn->number == row->burn))
    return TRUE;
  g_snprintf (key, sizeof key, "%" G_GINT64_FORMAT, row->burn);
  if (!find_node (self, WB_IMPORT_LEVEL_BURN, nodes->sample, key, row, make, &nodes->burn, error))
    return FALSE;
  if (nodes->burn != NULL)
    nodes->burn->number = row->burn;
  return TRUE;
}

gboolean
wb_import_find_nodes (WbStoreImport  *self,
                      const WbLogRow *row,
                      gboolean        make,
                      WbImportNodes  *nodes,
                      GError        **error)
{
  if (self->generation != wb_import_seen_get_generation (self->seen))
    {
      memset (&self->last, 0, sizeof self->last);
      self->generation = wb_import_seen_get_generation (self->seen);
    }
  *nodes = self->last;
  if (!find_experiment (self, row, make, nodes, error) || !find_wick (self, row, make, nodes, error)
      || !find_sample (self, row, make, nodes, error) || !find_burn (self, row, make, nodes, error)
      || (nodes->burn != NULL && make && !wb_import_seen_load_observations (self->seen, nodes->burn, error)))
    return FALSE;
  self->last = *nodes;
  return TRUE;
}

/* What the rules found in one row. */
typedef struct
{
  WbStoreImport  *import;
  const WbLogRow *row;
  WbImportNodes   nodes;
  GPtrArray      *columns; /* const char *, those that contradict or lack something */
  char           *words;   /* of the first of them */
  gboolean        adds;    /* something that was not known */
  gint64          past;    /* the reading that was this observation, until it was amended or taken out; 0: none */
} Verdict;

static char *
dup_node_words (const WbImportNode *node,
                const WbLogRow     *row)
{
  switch (node->level)
    {
    case WB_IMPORT_LEVEL_EXPERIMENT:
      return g_strdup_printf (_("experiment “%s”"), row->experiment);
    case WB_IMPORT_LEVEL_WICK:
      return g_strdup_printf (_("wick “%s” “%s”"), row->wick_series, row->wick_size);
    case WB_IMPORT_LEVEL_SAMPLE:
      return g_strdup_printf (_("sample “%s”"), row->sample);
    case WB_IMPORT_LEVEL_BURN:
      return g_strdup_printf (_("burn %" PRId64 " of sample “%s”"), row->burn, row->sample);
    default:
      g_assert_not_reached ();
    }
}

static void
contradict (Verdict                 *self,
            const WbImportNode      *node,
            const WbImportField     *field,
            const WbImportStatement *known,
            const WbImportStatement *given)
{
  if (self->words == NULL)
    {
      g_autofree char *what = dup_node_words (node, self->row);
      g_autofree char *was = wb_import_statement_dup_words (field, known);
      g_autofree char *is = wb_import_statement_dup_words (field, given);

      self->words = known->line != 0
        /* Translators: "sample “A1”", a line number, two values */
        ? g_strdup_printf (_("%s: line %" PRId64 " says %s, and this row says %s"), what, known->line, was, is)
        : g_strdup_printf (_("%s: the notebook says %s, and this row says %s"), what, was, is);
    }
  g_ptr_array_add (self->columns, (gpointer) field->column);
}

static void
judge_node (Verdict            *self,
            const WbImportNode *node)
{
  const WbImportField *fields;
  guint n;

  if (node == NULL)
    return;
  fields = wb_import_level_fields (node->level, &n);
  for (guint i = 0; i < n; i++)
    {
      WbImportStatement given = wb_import_statement_from_row (&fields[i], self->row);
      const WbImportStatement *known = &node->statements[i];

      if (!wb_import_statement_agrees (&fields[i], known, &given))
        contradict (self, node, &fields[i], known, &given);
      else if (wb_import_statement_adds (known, &given))
        self->adds = TRUE;
      else if (fields[i].needed && !given.known && !known->known)
        {
          if (self->words == NULL)
            self->words = g_strdup (_("the cell is empty, and no earlier row says it"));
          g_ptr_array_add (self->columns, (gpointer) fields[i].column);
        }
    }
}

/* What the row says and nobody said before is taken over. The text becomes the node's. */
static void
state (Verdict      *self,
       WbImportNode *node,
       GPtrArray    *remarks)
{
  const WbImportField *fields;
  guint n;

  if (node == NULL)
    return;
  fields = wb_import_level_fields (node->level, &n);
  for (guint i = 0; i < n; i++)
    {
      WbImportStatement *known = &node->statements[i], given;

      if (known->known && !known->assumed)
        continue;
      given = wb_import_statement_from_row (&fields[i], self->row);
      if (!given.known)
        continue;
      wb_import_remark_on_default (self->import, self->row->line, &fields[i], known, &given, remarks);
      /* what the record held by default and the row says too is stated from here on */
      node->completed |= node->record != 0 && wb_import_statement_adds (known, &given);
      given.text = g_strdup (given.text);
      *known = given;
      node->dirty = TRUE;
    }
}

/* Names that a record cannot be without, and what nothing can be told by. */
static gboolean
has_names (const WbLogRow *row,
           GPtrArray      *columns)
{
  if (row->experiment == NULL)
    g_ptr_array_add (columns, (gpointer) "experiment");
  if (row->sample == NULL)
    g_ptr_array_add (columns, (gpointer) "sample");
  if (row->burn == WB_INTEGER_NONE)
    g_ptr_array_add (columns, (gpointer) "burn");
  if (isnan (row->elapsed_min))
    g_ptr_array_add (columns, (gpointer) "elapsed_min");
  return columns->len == 0;
}

static void
refuse (Verdict   *self,
        GPtrArray *remarks)
{
  WbLogRemark *remark = wb_log_remark_new (self->row->line, self->columns->pdata[0], g_steal_pointer (&self->words));
  g_autoptr (GStrvBuilder) also = g_strv_builder_new ();

  for (guint i = 1; i < self->columns->len; i++)
    g_strv_builder_add (also, self->columns->pdata[i]);
  if (self->columns->len > 1)
    remark->also = g_strv_builder_end (also);
  g_ptr_array_add (remarks, remark);
}

/* The row completes an observation: its first row, or the record's reading, is written with all of it. */
static WbImportRow
gather (WbStoreImport       *self,
        const WbImportKnown *known)
{
  if (known->reading == 0)
    {
      wb_import_set_row (self, (guint64) known->first_line, WB_IMPORT_ROW_GATHERED);
      return WB_IMPORT_ROW_ABOVE;
    }
  return known->n_new_parts == 0 ? WB_IMPORT_ROW_AMENDMENT : WB_IMPORT_ROW_ABOVE;
}

/* The row's observation, with the levels above judged already. Gives what pass 2 is to do. */
static WbImportRow
judge_observation (Verdict *self)
{
  WbStoreImport *import = self->import;
  WbImportObservations *all = &self->nodes.burn->observations;
  WbImportRow what = self->adds ? WB_IMPORT_ROW_ABOVE : WB_IMPORT_ROW_NOTHING;
  WbImportKnown known;

  if (!wb_import_observations_find (all, self->row, import->n_extra, &known, &self->past))
    {
      /* it was in the record, and somebody had a reason: it does not come back by itself */
      if (self->past != 0)
        return what;
      self->adds = TRUE;
      what = WB_IMPORT_ROW_READING;
    }
  else
    {
      if (wb_import_known_agrees (&known, self->row, (const char *const *) import->extra_names, import->n_extra,
                                  self->columns, &self->words)
          && self->columns->len == 0 && wb_import_known_lacks (&known, self->row, import->n_extra))
        {
          self->adds = TRUE;
          what = gather (import, &known);
          wb_import_observations_add (all, self->row, import->n_extra, 0);
        }
      wb_import_known_clear (&known);
      return what;
    }
  if (self->columns->len == 0)
    wb_import_observations_add (all, self->row, import->n_extra, 0);
  return what;
}

static gboolean
judge (Verdict         *self,
       WbImportVerdict *verdict,
       GPtrArray       *remarks,
       GError         **error)
{
  WbStoreImport *import = self->import;
  WbImportRow what = WB_IMPORT_ROW_NOTHING;

  if (!has_names (self->row, self->columns))
    self->words = g_strdup (_("the cell is empty"));
  else
    {
      if (!wb_import_find_nodes (import, self->row, TRUE, &self->nodes, error) || !wb_import_recall_vessel (import, self->row, error))
        return FALSE;
      judge_node (self, self->nodes.experiment);
      judge_node (self, self->nodes.wick);
      judge_node (self, self->nodes.sample);
      judge_node (self, self->nodes.burn);
      what = judge_observation (self);
    }
  if (self->columns->len > 0)
    {
      refuse (self, remarks);
      *verdict = WB_IMPORT_REFUSED;
      return TRUE;
    }

  *verdict = self->adds ? WB_IMPORT_ACCEPTED : WB_IMPORT_KNOWN;
  state (self, self->nodes.experiment, remarks);
  state (self, self->nodes.wick, remarks);
  state (self, self->nodes.sample, remarks);
  state (self, self->nodes.burn, remarks);
  if (self->adds)
    wb_import_set_row (import, self->row->line, what);
  wb_import_remark_on_vessel (import, self->row, remarks);
  return self->past == 0 || wb_import_remark_on_past (import, self->row, self->past, remarks, error);
}

gboolean
wb_store_import_judge (WbStoreImport   *self,
                       const WbLogRow  *row,
                       WbImportVerdict *verdict,
                       GPtrArray       *remarks,
                       GError         **error)
{
  g_return_val_if_fail (self != NULL && row != NULL && verdict != NULL && remarks != NULL, FALSE);
  g_return_val_if_fail (self->change == NULL, FALSE);

  Verdict all = { .import = self, .row = row, .columns = self->columns_found };
  gboolean judged;

  g_ptr_array_set_size (all.columns, 0);
  judged = judge (&all, verdict, remarks, error);
  g_free (all.words);
  return judged && wb_import_seen_trim (self->seen, error);
}
