/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "log-row.h"
#include "store-notebook.h"
#include "wb-store-records.h"

#include <gio/gio.h>
#include <math.h>
#include <string.h>

/* Every column of a row set to something, and its default where it has one. */
static WbLogRow *
full_row (guint64  line,
          gboolean defaults)
{
  WbLogRow *row = test_row (line, "A1", 1, 60);

  row->dye = g_strdup ("Blue");
  row->additive = g_strdup ("Hardener");
  row->wick_step = 2;
  row->wick_count = defaults ? 1 : 3;
  row->wick_spacing_mm = 30.25;
  row->fragrance = g_strdup ("Harbour");
  row->load_pct = 6.1;
  row->load_basis = defaults ? WB_BASIS_WAX : WB_BASIS_TOTAL;
  row->poured_on = 20400;
  row->cure_days = 14.5;
  row->wax_lot = g_strdup ("W1");
  row->wick_lot = g_strdup ("K1");
  row->fragrance_lot = g_strdup ("F1");
  row->tare_g = 120.1;
  row->fill_g = 200.2;
  row->wax_height_mm = 60.3;
  row->wick_offset_mm = 1.4;
  row->set_aside = g_strdup ("chipped_vessel");
  row->burn_kind = defaults ? WB_BURN_STANDARD : WB_BURN_THROW;
  row->lit_at = (WbInstant) { G_GINT64_CONSTANT (1770000000000000), -18000, TRUE };
  row->trim_mm = 6.5;
  for (guint i = 0; i < WB_N_COLUMNS; i++)
    row->values[i] = i == WB_COLUMN_POOL_FULL || i == WB_COLUMN_POOL_MM ? NAN : wb_column_get_spec (i)->minimum;
  row->values[WB_COLUMN_FLAME_DATUM] = defaults ? 0 : 1;
  row->values[WB_COLUMN_MASS_G] = 0.1 + 0.2;
  row->throw_room = g_strdup ("hall");
  row->rater = g_strdup ("Ada");
  row->note = g_strdup ("tall,\n\"calm\" 🕯️");
  row->extra = g_new0 (char *, 2);
  row->extra[0] = g_strdup ("full");
  return row;
}

static gboolean
on_row_cb (const WbLogRow *row,
           gpointer        data,
           GError        **error)
{
  const WbLogRow *wanted = data;

  g_assert_cmpuint (row->line, ==, 2);
  g_assert_cmpstr (row->experiment, ==, wanted->experiment);
  g_assert_cmpstr (row->additive, ==, wanted->additive);
  g_assert_cmpint (row->wick_count, ==, wanted->wick_count == 1 ? WB_INTEGER_NONE : wanted->wick_count);
  g_assert_cmpint (row->load_basis, ==, wanted->load_basis == WB_BASIS_WAX ? -1 : wanted->load_basis);
  g_assert_cmpint (row->burn_kind, ==, wanted->burn_kind == WB_BURN_STANDARD ? -1 : wanted->burn_kind);
  g_assert_cmpint (row->poured_on, ==, wanted->poured_on);
  g_assert_cmpint (row->lit_at.offset_s, ==, -18000);
  g_assert_cmpstr (row->set_aside, ==, wanted->set_aside);
  g_assert_cmpstr (row->note, ==, wanted->note);
  g_assert_cmpstr (row->extra[0], ==, "full");
  for (guint i = 0; i < WB_N_COLUMNS; i++)
    {
      double value = wanted->values[i];

      if (i == WB_COLUMN_FLAME_DATUM && value == 0)
        value = NAN;
      if (isnan (value))
        g_assert_true (isnan (row->values[i]));
      else
        g_assert_cmpfloat (row->values[i], ==, value);
    }
  return TRUE;
}

/* Out of one notebook and into another: every column survives, and the second time out is the same. */
static void
test_round_trip (void)
{
  static const char *const names[] = { "moon", NULL };

  for (int defaults = 0; defaults < 2; defaults++)
    {
      g_autoptr (WbStore) store = test_notebook (":memory:");
      g_autoptr (GPtrArray) rows = test_rows_new ();
      g_autoptr (GError) error = NULL;

      g_ptr_array_add (rows, full_row (2, defaults));
      g_assert_cmpuint (test_import (store, rows, names), ==, 1);
      wb_store_export (store, 0, on_row_cb, rows->pdata[0], &error);
      g_assert_no_error (error);
      g_assert_cmpuint (test_import (store, rows, names), ==, 0);
    }
}

/* Experiment, sample, burn, time, rater: by name and number, not by when they came. */
static void
test_order (void)
{
  static const struct { const char *experiment, *sample; gint64 burn; double elapsed; const char *rater; } wanted[] = {
    { "Alpha", "A10", 1, 0, NULL }, { "Alpha", "A10", 2, 0, NULL }, { "Alpha", "A10", 10, 0, NULL },
    { "Alpha", "A2", 1, 5, NULL }, { "Alpha", "A2", 1, 60, "Ada" }, { "Alpha", "A2", 1, 60, "Bob" },
    { "Beta", "A1", 1, 0, NULL },
  };
  g_autoptr (WbStore) store = test_notebook (":memory:");
  g_autoptr (GPtrArray) rows = test_rows_new ();
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (wanted); i++)
    {
      guint j = G_N_ELEMENTS (wanted) - 1 - i;
      WbLogRow *row = test_row (i + 2, wanted[j].sample, wanted[j].burn, wanted[j].elapsed);

      g_free (row->experiment);
      row->experiment = g_strdup (wanted[j].experiment);
      row->rater = g_strdup (wanted[j].rater);
      g_ptr_array_add (rows, row);
    }
  test_import (store, rows, NULL);
  text = test_export (store);
  lines = g_strsplit (text, "\n", -1);
  for (guint i = 0; i < G_N_ELEMENTS (wanted); i++)
    {
      g_autofree char *place = g_strdup_printf ("sample=%s;burn=%d;elapsed=%g;", wanted[i].sample, (int) wanted[i].burn,
                                                wanted[i].elapsed);

      g_assert_true (g_str_has_prefix (lines[i] + strlen ("experiment="), wanted[i].experiment));
      g_assert_nonnull (strstr (lines[i], place));
      if (wanted[i].rater != NULL)
        g_assert_nonnull (strstr (lines[i], wanted[i].rater));
    }
  g_assert_cmpstr (lines[G_N_ELEMENTS (wanted)], ==, "");
}

static gboolean
on_row_stop_cb (const WbLogRow *row,
                gpointer        data,
                GError        **error)
{
  guint *calls = data;

  ++*calls;
  g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_CANCELLED, "enough");
  return FALSE;
}

static void
test_stops (void)
{
  g_autoptr (WbStore) store = test_notebook (":memory:");
  TestRecords records = test_fill (store);
  g_autoptr (GError) error = NULL;
  guint calls = 0;
  WbStoreChange *change;

  g_assert_false (wb_store_export (store, records.experiment, on_row_stop_cb, &calls, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_assert_cmpuint (calls, ==, 1);
  /* Nothing is left open that would keep others from writing. */
  change = test_begin (store, "Go on");
  test_put (change, test_wax ("Meadow blend"));
  test_commit (change);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/store/export/every-column-survives", test_round_trip);
  g_test_add_func ("/store/export/rows-are-in-order", test_order);
  g_test_add_func ("/store/export/stops-when-told", test_stops);
  return g_test_run ();
}
