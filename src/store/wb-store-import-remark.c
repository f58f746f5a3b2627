/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-import-private.h"

#include "wb-store-records.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* What is worth saying about rows that come in. */

void
wb_import_remark_on_vessel (WbStoreImport  *self,
                            const WbLogRow *row,
                            GPtrArray      *remarks)
{
  g_autofree char *both = NULL, *was = NULL, *is = NULL;
  const double *first;

  if (row->vessel == NULL || isnan (row->inner_diameter_mm))
    return;
  first = g_hash_table_lookup (self->vessels, row->vessel);
  if (first == NULL)
    g_hash_table_insert (self->vessels, g_strdup (row->vessel), g_memdup2 (&row->inner_diameter_mm, sizeof (double)));
  if (first == NULL || *first == row->inner_diameter_mm)
    return;
  is = wb_number_shortest (row->inner_diameter_mm);
  both = g_strconcat (is, " ", row->vessel, NULL);
  if (g_hash_table_contains (self->vessels, both))
    return;
  was = wb_number_shortest (*first);
  g_ptr_array_add (remarks, wb_log_remark_new (row->line, "inner_diameter_mm",
                                               g_strdup_printf (_("“%s” is named with %s mm and with %s mm: these are taken "
                                                                  "as two vessels"), row->vessel, was, is)));
  g_hash_table_insert (self->vessels, g_steal_pointer (&both), g_memdup2 (&row->inner_diameter_mm, sizeof (double)));
}

gboolean
wb_import_recall_vessel (WbStoreImport  *self,
                         const WbLogRow *row,
                         GError        **error)
{
  g_autoptr (WbRecord) vessel = NULL;
  gint64 id;

  if (self->store == NULL || row->vessel == NULL || g_hash_table_contains (self->vessels, row->vessel))
    return TRUE;
  id = wb_store_find_by_text (self->store, &wb_vessel_type, "name", row->vessel, error);
  if (id <= 0)
    return id == 0;
  vessel = wb_store_load (self->store, &wb_vessel_type, id, error);
  if (vessel == NULL)
    return FALSE;
  g_hash_table_insert (self->vessels, g_strdup (row->vessel),
                       g_memdup2 (&((WbVessel *) vessel)->inner_diameter_mm, sizeof (double)));
  return TRUE;
}

void
wb_import_remark_on_default (WbStoreImport           *self,
                             guint64                  line,
                             const WbImportField     *field,
                             const WbImportStatement *known,
                             const WbImportStatement *given,
                             GPtrArray               *remarks)
{
  g_autofree char *was = NULL, *is = NULL;

  if (!known->assumed || known->number == given->number || !g_hash_table_add (self->defaults, (gpointer) field->column))
    return;
  was = wb_import_statement_dup_words (field, known);
  is = wb_import_statement_dup_words (field, given);
  g_ptr_array_add (remarks, wb_log_remark_new (line, field->column,
                                               /* Translators: two values of a column */
                                               g_strdup_printf (_("the notebook took %s, as the import before left it open: "
                                                                  "it becomes %s here, and wherever else a row says so"), was, is)));
}

gboolean
wb_import_remark_on_past (WbStoreImport  *self,
                          const WbLogRow *row,
                          gint64          reading,
                          GPtrArray      *remarks,
                          GError        **error)
{
  g_autoptr (GError) local = NULL;
  g_autoptr (WbRecord) now = wb_store_load (self->store, &wb_reading_type, reading, &local);
  g_autofree char *minute = NULL;
  char *words;

  if (now == NULL && !g_error_matches (local, WB_STORE_ERROR, WB_STORE_ERROR_MISSING))
    {
      g_propagate_error (error, g_steal_pointer (&local));
      return FALSE;
    }
  if (now != NULL)
    minute = wb_number_shortest (((WbReading *) now)->elapsed_min);
  if (now == NULL)
    words = g_strdup (_("this reading was in the notebook and was taken out: it stays out"));
  else if (((WbReading *) now)->elapsed_min != row->elapsed_min)
    words = g_strdup_printf (_("this reading was amended and stands at minute %s now: it does not come in a second time"), minute);
  else
    words = g_strdup (_("this reading was amended since it was read in: it does not come in a second time"));
  g_ptr_array_add (remarks, wb_log_remark_new (row->line, "elapsed_min", words));
  return TRUE;
}
