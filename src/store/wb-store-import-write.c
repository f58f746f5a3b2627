/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-import-private.h"

#include "wb-store-change-private.h"
#include "wb-store-identity-private.h"
#include "wb-store-private.h"
#include "wb-store-records.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>
#include <math.h>
#include <string.h>

/* Pass 2: what was accepted becomes records, in one change. Each is written whole, at the first row that needs it. */

gboolean
wb_store_import_begin (WbStoreImport *self,
                       WbStore       *store,
                       const char    *source,
                       const char    *who,
                       WbInstant      now,
                       GError       **error)
{
  g_return_val_if_fail (self != NULL && store != NULL && now.known, FALSE);
  g_return_val_if_fail (self->store == NULL || self->store == store, FALSE);
  g_return_val_if_fail (self->change == NULL, FALSE);

  g_autofree char *why = g_strdup_printf (_("Import “%s”"), source != NULL ? source : "");
  gint64 expected = self->store != NULL ? self->last_entry : 1;

  self->change = wb_store_begin (store, WB_ENTRY_IMPORT, "import", who, why, now, error);
  if (self->change == NULL)
    return FALSE;
  if (wb_store_change_get_entry (self->change) != expected + 1)
    {
      g_clear_pointer (&self->change, wb_store_rollback);
      g_set_error_literal (error, WB_STORE_ERROR, WB_STORE_ERROR_CONFLICT,
                           _("The notebook was changed since the file was looked at: look at it again."));
      return FALSE;
    }
  self->store = store;
  self->source = g_strdup (source);
  self->names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  self->wicks = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  self->cells = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  self->left = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  self->reading = wb_record_new (&wb_reading_type);
  return TRUE;
}

static WbReading *
reading_from_row (WbStoreImport  *self,
                  const WbLogRow *row,
                  gint64          burn)
{
  WbReading *reading = (WbReading *) self->reading;

  reading->record.id = 0;
  reading->uuid = wb_uuid_new ();
  reading->burn = burn;
  reading->elapsed_min = row->elapsed_min;
  memcpy (reading->values, row->values, sizeof reading->values);
  /* Borrowed: taken out again before the record is freed. */
  reading->throw_room = row->throw_room;
  reading->rater = row->rater;
  reading->note = row->note;
  reading->source = WB_SOURCE_FILE;
  reading->source_file = self->source;
  reading->source_line = row->line <= G_MAXINT32 ? (gint64) row->line : WB_INTEGER_NONE;
  return reading;
}

static void
return_borrowed (WbReading *reading)
{
  reading->throw_room = reading->rater = reading->note = reading->source_file = NULL;
}

/* What the rows of one observation say together goes into the reading; what it has already stays. */
static void
fill_from_known (WbReading           *reading,
                 const WbImportKnown *known)
{
  memcpy (reading->values, known->values, sizeof reading->values);
  reading->throw_room = (char *) known->texts[0];
  reading->note = (char *) known->texts[1];
}

static gboolean
write_cells (WbStoreImport     *self,
             gint64             reading,
             const char *const *cells,
             gboolean           fresh,
             GError           **error)
{
  for (guint i = 0; i < self->n_extra && cells != NULL; i++)
    {
      if (cells[i] == NULL || *cells[i] == '\0')
        continue;
      if (!fresh)
        {
          if (!wb_store_change_put_extra (self->change, reading, self->extra_names[i], cells[i], error))
            return FALSE;
          continue;
        }
      if (self->columns == NULL)
        self->columns = g_new0 (gint64, self->n_extra);
      if (self->columns[i] == 0)
        self->columns[i] = wb_store_change_extra_column (self->change, self->extra_names[i], error);
      if (self->columns[i] == 0
          || !wb_store_change_write_extra (self->change, reading, self->columns[i], cells[i], 0, error))
        return FALSE;
    }
  return TRUE;
}

/* The burn is known to be there, and the row has been judged: only the rules of the record itself are asked. */
static gboolean
write_reading (WbStoreImport     *self,
               WbReading         *reading,
               const char *const *cells,
               GError           **error)
{
  if (!wb_record_validate (reading, error))
    return FALSE;
  reading->record.id = self->change->next_reading++;
  return wb_store_change_write_reading (self->change, reading, error)
         && write_cells (self, reading->record.id, cells, TRUE, error);
}

static gboolean
put_new (WbStoreImport  *self,
         const WbLogRow *row,
         gint64          burn,
         GError        **error)
{
  WbReading *reading = reading_from_row (self, row, burn);
  gboolean written = write_reading (self, reading, (const char *const *) row->extra, error);

  return_borrowed (reading);
  return written;
}

static gboolean
put_gathered (WbStoreImport       *self,
              const WbLogRow      *row,
              gint64               burn,
              const WbImportKnown *known,
              GError             **error)
{
  WbReading *reading = reading_from_row (self, row, burn);
  gboolean written;

  fill_from_known (reading, known);
  written = write_reading (self, reading, known->extra, error);
  return_borrowed (reading);
  return written;
}

static gboolean
put_amendment (WbStoreImport       *self,
               const WbImportKnown *known,
               GError             **error)
{
  g_autoptr (WbRecord) record = wb_store_load (self->store, &wb_reading_type, known->reading, error);
  WbReading *reading = (WbReading *) record;

  if (record == NULL)
    return FALSE;
  memcpy (reading->values, known->values, sizeof reading->values);
  wb_record_set_text (reading, wb_record_type_find_field (&wb_reading_type, "throw_room"), known->texts[0]);
  wb_record_set_text (reading, wb_record_type_find_field (&wb_reading_type, "note"), known->texts[1]);
  return wb_store_change_put (self->change, reading, error)
         && write_cells (self, known->reading, known->extra, FALSE, error);
}

static gboolean
put_known (WbStoreImport  *self,
           const WbLogRow *row,
           WbImportNode   *burn,
           WbImportRow     what,
           GError        **error)
{
  WbImportKnown known;
  gboolean put;

  if (!wb_import_seen_load_observations (self->seen, burn, error))
    return FALSE;
  /* Pass 1 saw this row: whoever calls has changed it since. */
  g_return_val_if_fail (wb_import_observations_find (&burn->observations, row, self->n_extra, &known, NULL), FALSE);
  put = what == WB_IMPORT_ROW_GATHERED ? put_gathered (self, row, burn->record, &known, error)
                                       : put_amendment (self, &known, error);
  wb_import_known_clear (&known);
  return put;
}

static gboolean
put (WbStoreImport  *self,
     const WbLogRow *row,
     WbImportRow     what,
     GError        **error)
{
  WbImportNodes nodes;

  if (!wb_import_find_nodes (self, row, FALSE, &nodes, error))
    return FALSE;
  if (nodes.burn == NULL)
    {
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_CONFLICT,
                   _("Line %" PRIu64 " is not what it was when the file was looked at: look at it again."), row->line);
      return FALSE;
    }
  if (!wb_import_write_above (self, &nodes, error))
    return FALSE;
  switch (what)
    {
    case WB_IMPORT_ROW_READING:
      return put_new (self, row, nodes.burn->record, error);
    case WB_IMPORT_ROW_GATHERED:
    case WB_IMPORT_ROW_AMENDMENT:
      return put_known (self, row, nodes.burn, what, error);
    default:
      return TRUE;
    }
}

gboolean
wb_store_import_put (WbStoreImport  *self,
                     const WbLogRow *row,
                     GError        **error)
{
  g_return_val_if_fail (self != NULL && row != NULL && self->change != NULL, FALSE);

  WbImportRow what = wb_import_get_row (self, row->line);

  return what == WB_IMPORT_ROW_NOTHING
         || (put (self, row, what, error) && wb_import_seen_trim (self->seen, error));
}

gboolean
wb_store_import_commit (WbStoreImport *self,
                        gint64        *entry,
                        GError       **error)
{
  g_return_val_if_fail (self != NULL && self->change != NULL, FALSE);

  return wb_import_delete_left (self, error) && wb_store_commit (g_steal_pointer (&self->change), entry, error);
}
