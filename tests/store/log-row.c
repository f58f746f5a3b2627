/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "log-row.h"

#include "store-notebook.h"

#include <math.h>

WbLogRow *
test_row (guint64     line,
          const char *sample,
          gint64      burn,
          double      elapsed_min)
{
  WbLogRow *row = wb_log_row_new ();

  row->line = line;
  row->experiment = g_strdup ("Vessel trial");
  row->wax = g_strdup ("Harrow blend");
  row->vessel = g_strdup ("Osprey");
  row->inner_diameter_mm = 79.4;
  row->wick_series = g_strdup ("Larch");
  row->wick_size = g_strdup ("L-2");
  row->load_pct = 0;
  row->sample = g_strdup (sample);
  row->burn = burn;
  row->elapsed_min = elapsed_min;
  return row;
}

GPtrArray *
test_rows_new (void)
{
  return g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_row_free);
}

WbImportVerdict
test_judge (WbStoreImport  *import,
            const WbLogRow *row,
            GPtrArray      *remarks)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) own = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);
  WbImportVerdict verdict;

  wb_store_import_judge (import, row, &verdict, remarks != NULL ? remarks : own, &error);
  g_assert_no_error (error);
  return verdict;
}

guint
test_import (WbStore           *store,
             GPtrArray         *rows,
             const char *const *extra_columns)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbStoreImport) import = wb_store_import_new (store, extra_columns, &error);
  guint accepted = 0;

  g_assert_no_error (error);
  for (guint i = 0; i < rows->len; i++)
    accepted += test_judge (import, rows->pdata[i], NULL) == WB_IMPORT_ACCEPTED;
  wb_store_import_begin (import, store, "log.csv", "Ada", TEST_NOW, &error);
  g_assert_no_error (error);
  for (guint i = 0; i < rows->len; i++)
    {
      wb_store_import_put (import, rows->pdata[i], &error);
      g_assert_no_error (error);
    }
  wb_store_import_commit (import, NULL, &error);
  g_assert_no_error (error);
  return accepted;
}

static void
add_text (GString    *line,
          const char *name,
          const char *text)
{
  if (text != NULL && *text != '\0')
    g_string_append_printf (line, "%s=%s;", name, text);
}

static void
add_number (GString    *line,
            const char *name,
            double      number)
{
  if (!isnan (number))
    g_string_append_printf (line, "%s=%.15g;", name, number);
}

static gboolean
on_row_cb (const WbLogRow *row,
           gpointer        data,
           GError        **error)
{
  GString *line = data;
  g_autofree char *lit = wb_instant_format (row->lit_at);
  g_autofree char *poured = wb_day_format (row->poured_on);

  add_text (line, "experiment", row->experiment);
  add_text (line, "wax", row->wax);
  add_text (line, "dye", row->dye);
  add_text (line, "additive", row->additive);
  add_text (line, "vessel", row->vessel);
  add_number (line, "inner", row->inner_diameter_mm);
  add_text (line, "series", row->wick_series);
  add_text (line, "size", row->wick_size);
  if (row->wick_step != WB_INTEGER_NONE)
    add_number (line, "step", row->wick_step);
  if (row->wick_count != WB_INTEGER_NONE)
    add_number (line, "count", row->wick_count);
  add_number (line, "spacing", row->wick_spacing_mm);
  add_text (line, "fragrance", row->fragrance);
  add_number (line, "load", row->load_pct);
  add_number (line, "basis", row->load_basis >= 0 ? row->load_basis : NAN);
  add_text (line, "sample", row->sample);
  add_text (line, "poured", poured);
  add_number (line, "cure", row->cure_days);
  add_text (line, "wax_lot", row->wax_lot);
  add_text (line, "wick_lot", row->wick_lot);
  add_text (line, "fragrance_lot", row->fragrance_lot);
  add_number (line, "tare", row->tare_g);
  add_number (line, "fill", row->fill_g);
  add_number (line, "height", row->wax_height_mm);
  add_number (line, "offset", row->wick_offset_mm);
  add_text (line, "aside", row->set_aside);
  add_number (line, "burn", row->burn);
  add_number (line, "kind", row->burn_kind >= 0 ? row->burn_kind : NAN);
  add_text (line, "lit", lit);
  add_number (line, "trim", row->trim_mm);
  add_number (line, "elapsed", row->elapsed_min);
  for (guint i = 0; i < WB_N_COLUMNS; i++)
    add_number (line, wb_column_get_spec (i)->name, row->values[i]);
  add_text (line, "room", row->throw_room);
  add_text (line, "rater", row->rater);
  add_text (line, "note", row->note);
  for (guint i = 0; row->extra != NULL && row->extra[i] != NULL; i++)
    add_text (line, "extra", row->extra[i]);
  g_string_append_c (line, '\n');
  return TRUE;
}

char *
test_export (WbStore *store)
{
  g_autoptr (GError) error = NULL;
  GString *text = g_string_new (NULL);

  wb_store_export (store, 0, on_row_cb, text, &error);
  g_assert_no_error (error);
  return g_string_free (text, FALSE);
}
