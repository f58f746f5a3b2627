/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "store-notebook.h"

#include <glib/gstdio.h>

char *
test_path (const char *name)
{
  g_autofree char *folder = g_build_filename (g_get_user_data_dir (), "XXXXXX", NULL);

  g_assert_cmpint (g_mkdir_with_parents (g_get_user_data_dir (), 0755), ==, 0);
  g_assert_nonnull (g_mkdtemp_full (folder, 0755));
  return g_build_filename (folder, name, NULL);
}

WbStore *
test_notebook (const char *path)
{
  g_autoptr (GError) error = NULL;
  WbStore *store = wb_store_create (path, "Trials of a small workshop", "Ada", TEST_NOW, &error);

  g_assert_no_error (error);
  g_assert_nonnull (store);
  return store;
}

WbStoreChange *
test_begin (WbStore    *store,
            const char *why)
{
  g_autoptr (GError) error = NULL;
  WbStoreChange *change = wb_store_begin (store, WB_ENTRY_EDIT, "test", "Ada", why, TEST_NOW, &error);

  g_assert_no_error (error);
  g_assert_nonnull (change);
  return change;
}

gint64
test_put (WbStoreChange *change,
          gpointer       record)
{
  g_autoptr (GError) error = NULL;
  gint64 id;

  wb_store_change_put (change, record, &error);
  g_assert_no_error (error);
  id = ((WbRecord *) record)->id;
  g_assert_cmpint (id, >, 0);
  wb_record_free (record);
  return id;
}

gint64
test_commit (WbStoreChange *change)
{
  g_autoptr (GError) error = NULL;
  gint64 entry;

  wb_store_commit (change, &entry, &error);
  g_assert_no_error (error);
  return entry;
}

gpointer
test_wax (const char *name)
{
  WbWax *wax = wb_record_new (&wb_wax_type);

  wax->name = g_strdup (name);
  wax->burn_cure_days = 14;
  return wax;
}

gpointer
test_vessel (const char *name,
             double      inner_diameter_mm)
{
  WbVessel *vessel = wb_record_new (&wb_vessel_type);

  vessel->name = g_strdup (name);
  vessel->inner_diameter_mm = inner_diameter_mm;
  return vessel;
}

gpointer
test_wick (const char *series,
           const char *size,
           gint64      step)
{
  WbWick *wick = wb_record_new (&wb_wick_type);

  wick->series = g_strdup (series);
  wick->size = g_strdup (size);
  wick->step = step;
  return wick;
}

gpointer
test_reading (gint64 burn,
              double elapsed_min,
              double pool_mm)
{
  WbReading *reading = wb_record_new (&wb_reading_type);

  reading->burn = burn;
  reading->elapsed_min = elapsed_min;
  reading->values[WB_COLUMN_POOL_MM] = pool_mm;
  reading->source = WB_SOURCE_TYPED;
  return reading;
}

static gint64
put_experiment (WbStoreChange     *change,
                const TestRecords *records)
{
  WbExperiment *experiment = wb_record_new (&wb_experiment_type);

  experiment->code = g_strdup ("VT");
  experiment->title = g_strdup ("Vessel trial");
  experiment->wax = records->wax;
  experiment->protocol = records->protocol;
  experiment->profile = records->profile;
  experiment->seed = 1;
  return test_put (change, experiment);
}

static gint64
put_cell (WbStoreChange     *change,
          const TestRecords *records)
{
  WbCell *cell = wb_record_new (&wb_cell_type);

  cell->experiment = records->experiment;
  cell->vessel = records->vessel;
  cell->wick = records->wick;
  cell->wick_count = 1;
  cell->load_pct = 0;
  cell->load_basis = WB_BASIS_WAX;
  return test_put (change, cell);
}

static gint64
put_sample (WbStoreChange     *change,
            const TestRecords *records)
{
  WbSample *sample = wb_record_new (&wb_sample_type);

  sample->experiment = records->experiment;
  sample->cell = records->cell;
  sample->code = g_strdup ("VT-1");
  sample->poured_on = 20400;
  return test_put (change, sample);
}

static gint64
put_burn (WbStoreChange     *change,
          const TestRecords *records)
{
  WbBurn *burn = wb_record_new (&wb_burn_type);

  burn->sample = records->sample;
  burn->number = 1;
  burn->kind = WB_BURN_STANDARD;
  burn->lit_at = TEST_NOW;
  return test_put (change, burn);
}

TestRecords
test_fill (WbStore *store)
{
  TestRecords records = { 0 };
  WbStoreChange *change = test_begin (store, "Fill the notebook");

  records.wax = test_put (change, test_wax ("Harrow blend"));
  records.vessel = test_put (change, test_vessel ("Osprey", 79.4));
  records.wick = test_put (change, test_wick ("Larch", "L-2", 2));
  records.protocol = test_put (change, wb_protocol_new_house ());
  records.profile = test_put (change, wb_profile_new_house ());
  records.experiment = put_experiment (change, &records);
  records.cell = put_cell (change, &records);
  records.sample = put_sample (change, &records);
  records.burn = put_burn (change, &records);
  for (guint i = 0; i < G_N_ELEMENTS (records.readings); i++)
    records.readings[i] = test_put (change, test_reading (records.burn, 60 * (i + 1), 30 + 10 * i));
  records.entry = test_commit (change);
  return records;
}

static sqlite3 *
open_raw (const char *path)
{
  sqlite3 *db = NULL;

  g_assert_cmpint (sqlite3_open_v2 (path, &db, SQLITE_OPEN_READWRITE, NULL), ==, SQLITE_OK);
  return db;
}

void
test_tamper (const char *path,
             const char *sql)
{
  sqlite3 *db = open_raw (path);
  char *message = NULL;

  sqlite3_exec (db, sql, NULL, NULL, &message);
  g_assert_cmpstr (message, ==, NULL);
  sqlite3_close (db);
}

gint64
test_query (const char *path,
            const char *sql)
{
  sqlite3 *db = open_raw (path);
  sqlite3_stmt *statement = NULL;
  gint64 value;

  g_assert_cmpint (sqlite3_prepare_v2 (db, sql, -1, &statement, NULL), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_step (statement), ==, SQLITE_ROW);
  value = sqlite3_column_int64 (statement, 0);
  sqlite3_finalize (statement);
  sqlite3_close (db);
  return value;
}
