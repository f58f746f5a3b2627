/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "log-row.h"
#include "store-notebook.h"
#include "wb-store-counts-private.h"
#include "wb-store-dataset.h"
#include "wb-store-private.h"
#include "wb-store-records.h"
#include "wb-store-undo.h"

#include <math.h>

/* Two vessels, two scents, wicks out of order, samples out of order. */
static GPtrArray *
mixed_rows (void)
{
  static const char *const vessels[] = { "Osprey", "Heron" }, *const sizes[] = { "L-10", "L-2" };
  GPtrArray *rows = test_rows_new ();
  guint64 line = 2;

  for (guint v = 0; v < 2; v++)
    for (guint s = 0; s < 2; s++)
      for (guint f = 0; f < 2; f++)
        for (guint n = 2; n > 0; n--)
          for (guint t = 0; t < 3; t++)
            {
              g_autofree char *code = g_strdup_printf ("%c%u%u-%u", 'a' + v, s, f, n);
              WbLogRow *row = test_row (line++, code, 1 + t / 2, t % 2 * 60);

              g_free (row->vessel);
              row->vessel = g_strdup (vessels[v]);
              g_free (row->wick_size);
              row->wick_size = g_strdup (sizes[s]);
              row->wick_step = s == 0 ? 10 : 2;
              if (f == 0)
                {
                  row->fragrance = g_strdup ("Harbour");
                  row->load_pct = 6;
                }
              row->values[WB_COLUMN_FLAME_MM] = line;
              row->values[WB_COLUMN_EVENT] = t == 1 ? WB_EVENT_SNUFFED : NAN;
              row->values[WB_COLUMN_POOL_FULL] = t == 1 ? 1 : NAN;
              row->note = t == 2 ? g_strdup ("calm") : NULL;
              g_ptr_array_add (rows, row);
            }
  return rows;
}

static void
test_order (void)
{
  g_autoptr (WbStore) store = test_notebook (":memory:");
  g_autoptr (GPtrArray) rows = mixed_rows ();
  g_autoptr (GError) error = NULL;
  g_autoptr (WbDataset) set = NULL;
  gint64 experiment;

  g_assert_cmpuint (test_import (store, rows, NULL), ==, 48);
  experiment = wb_store_find_experiment (store, "Vessel trial", &error);
  g_assert_cmpint (experiment, ==, wb_store_find_experiment (store, "VT", &error));
  set = wb_store_load_dataset (store, experiment, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (set->cells->len, ==, 8);
  g_assert_cmpuint (set->samples->len, ==, 16);
  g_assert_cmpuint (set->burns->len, ==, 32);
  g_assert_cmpuint (wb_readings_get_length (set->readings), ==, 48);
  g_assert_cmpuint (set->limits->len, >, 5);
  g_assert_cmpuint (set->aims->len, >, 5);
  g_assert_cmpint (set->last_entry, ==, 2);

  /* Vessel, then scent, then step as a number. */
  g_assert_cmpstr (wb_dataset_get_vessel (set, 0)->name, ==, "Heron");
  g_assert_cmpstr (wb_dataset_get_vessel (set, 7)->name, ==, "Osprey");
  g_assert_null (wb_dataset_get_fragrance (set, 0));
  g_assert_nonnull (wb_dataset_get_fragrance (set, 2));
  g_assert_cmpint (wb_dataset_get_wick (set, 0)->step, ==, 2);
  g_assert_cmpint (wb_dataset_get_wick (set, 1)->step, ==, 10);
  for (guint i = 1; i < set->samples->len; i++)
    g_assert_cmpuint (g_array_index (set->sample_cell, guint, i), >=, g_array_index (set->sample_cell, guint, i - 1));
  g_assert_cmpstr (wb_dataset_get_sample (set, 0)->code, ==, "b11-1");
  g_assert_cmpstr (wb_dataset_get_sample (set, 1)->code, ==, "b11-2");
  for (guint i = 0; i < set->burns->len; i++)
    {
      const WbBurn *burn = wb_dataset_get_burn (set, i);
      guint sample = g_array_index (set->burn_sample, guint, i), first, n;

      g_assert_cmpint (burn->sample, ==, wb_dataset_get_sample (set, sample)->record.id);
      g_assert_cmpint (burn->number, ==, 1 + i % 2);
      wb_readings_get_burn_rows (set->readings, i, &first, &n);
      g_assert_cmpuint (n, ==, i % 2 ? 1 : 2);
      if (i % 2 == 0)
        {
          g_assert_cmpfloat (wb_readings_get (set->readings, first + 1, WB_COLUMN_EVENT), ==, WB_EVENT_SNUFFED);
          g_assert_cmpfloat (wb_readings_get (set->readings, first + 1, WB_COLUMN_POOL_FULL), ==, 1);
          g_assert_false (wb_readings_taken (set->readings, first, WB_COLUMN_EVENT));
        }
      else
        g_assert_cmpstr (wb_readings_get_text (set->readings, first, WB_READING_TEXT_NOTE), ==, "calm");
    }
}

/* What was amended is there once, as it is now; what was deleted is not. */
static void
test_newest_versions (void)
{
  g_autoptr (WbStore) store = test_notebook (":memory:");
  TestRecords records = test_fill (store);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbDataset) set = NULL;
  WbReading *reading = wb_store_load (store, &wb_reading_type, records.readings[0], NULL);
  WbInspection *inspection = wb_record_new (&wb_inspection_type);
  WbStoreChange *change = test_begin (store, "Amend");

  /* It moves behind the second. */
  reading->elapsed_min = 150;
  test_put (change, reading);
  g_assert_true (wb_store_change_delete (change, &wb_reading_type, records.readings[2], NULL));
  inspection->sample = records.sample;
  inspection->seen_at = TEST_NOW;
  inspection->frosting = 2;
  test_put (change, inspection);
  test_commit (change);
  set = wb_store_load_dataset (store, records.experiment, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (wb_readings_get_length (set->readings), ==, 2);
  g_assert_cmpfloat (wb_readings_get_elapsed_min (set->readings, 0), ==, 120);
  g_assert_cmpfloat (wb_readings_get_elapsed_min (set->readings, 1), ==, 150);
  g_assert_cmpint (wb_readings_get_id (set->readings, 1), ==, records.readings[0]);
  g_assert_cmpuint (set->inspections->len, ==, 1);
  g_assert_cmpuint (g_array_index (set->inspection_sample, guint, 0), ==, 0);
  g_assert_cmpint (set->last_entry, ==, 3);

  g_assert_null (wb_store_load_dataset (store, 9999, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_MISSING);
}

static WbStoreExperiment *
only_experiment (WbStore  *store,
                 WbInstant now)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) list = wb_store_list_experiments (store, now, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (list->len, ==, 1);
  return g_ptr_array_steal_index (list, 0);
}

/* Keeps a file with that record. */
static gint64
keep_file (WbStore         *store,
           gint64           owner,
           WbAttachmentRole role)
{
  g_autoptr (GBytes) bytes = g_bytes_new ("minutes", 7);
  g_autoptr (GError) error = NULL;
  WbAttachment *attachment = wb_record_new (&wb_attachment_type);
  WbStoreChange *change = test_begin (store, "Keep a file");
  char sha256[65];

  g_assert_true (wb_store_change_attach (change, bytes, sha256, &error));
  attachment->owner = owner;
  attachment->role = role;
  attachment->name = g_strdup ("file.csv");
  attachment->sha256 = g_strdup (sha256);
  attachment->wall_c = 85;
  attachment->wall_min = 130;
  test_put (change, attachment);
  return test_commit (change);
}

static gint64
last_entry_of (WbStore *store)
{
  g_autoptr (WbStoreExperiment) experiment = only_experiment (store, TEST_NOW);

  return experiment->last_entry;
}

/* A logger's file of a burn is part of its experiment, which it makes newer; a photo, or what belongs elsewhere, is not. */
static void
test_loggers (void)
{
  g_autoptr (WbStore) store = test_notebook (":memory:");
  TestRecords records = test_fill (store);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbDataset) set = NULL, without = NULL;
  g_autofree char *misfit = NULL;
  gint64 entry;

  keep_file (store, records.burn, WB_ATTACHMENT_PHOTO);
  keep_file (store, records.wax, WB_ATTACHMENT_LOGGER);
  g_assert_cmpint (last_entry_of (store), ==, records.entry);
  entry = keep_file (store, records.burn, WB_ATTACHMENT_LOGGER);
  g_assert_cmpint (last_entry_of (store), ==, entry);
  g_assert_true (wb_store_counts_check (store, &misfit, &error));
  g_assert_cmpstr (misfit, ==, NULL);
  g_assert_true (wb_store_counts_rebuild (store, &error));
  g_assert_cmpint (last_entry_of (store), ==, entry);
  set = wb_store_load_dataset (store, records.experiment, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (set->loggers->len, ==, 1);
  g_assert_cmpfloat (((WbAttachment *) g_ptr_array_index (set->loggers, 0))->wall_c, ==, 85);
  g_assert_cmpuint (g_array_index (set->logger_burn, guint, 0), ==, 0);
  g_assert_cmpint (set->last_entry, ==, entry);
  wb_store_undo (store, NULL, TEST_NOW, NULL, &error);
  g_assert_no_error (error);
  without = wb_store_load_dataset (store, records.experiment, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (without->loggers->len, ==, 0);
}

static void
test_summary (void)
{
  g_autoptr (WbStore) store = test_notebook (":memory:");
  TestRecords records = test_fill (store);
  g_autoptr (WbStoreExperiment) first = only_experiment (store, TEST_NOW);
  g_autoptr (WbStoreExperiment) second = NULL, later = NULL;
  WbDay today = wb_instant_get_day (TEST_NOW);
  WbStoreChange *change = test_begin (store, "Pour two more, one by batch");
  WbSample *sample = wb_record_new (&wb_sample_type);
  WbBatch *batch = wb_record_new (&wb_batch_type);

  g_assert_cmpstr (first->code, ==, "VT");
  g_assert_cmpint (first->cells, ==, 1);
  g_assert_cmpint (first->samples, ==, 1);
  g_assert_cmpint (first->poured, ==, 1);
  g_assert_cmpint (first->burnt, ==, 1);
  g_assert_cmpint (first->burns, ==, 1);
  g_assert_cmpint (first->readings, ==, 3);
  g_assert_cmpint (first->curing, ==, 0);
  g_assert_cmpint (first->cured_on, ==, WB_DAY_NONE);
  g_assert_cmpint (first->last_entry, ==, records.entry);

  batch->experiment = records.experiment;
  batch->code = g_strdup ("B1");
  batch->poured_on = wb_instant_get_day (TEST_NOW);
  sample->experiment = records.experiment;
  sample->cell = records.cell;
  sample->code = g_strdup ("VT-2");
  sample->batch = test_put (change, batch);
  test_put (change, sample);
  sample = wb_record_new (&wb_sample_type);
  sample->experiment = records.experiment;
  sample->cell = records.cell;
  sample->code = g_strdup ("VT-3");
  sample->poured_on = today - 3;
  sample->cure_days = 5;
  test_put (change, sample);
  test_commit (change);

  second = only_experiment (store, TEST_NOW);
  g_assert_cmpint (second->samples, ==, 3);
  g_assert_cmpint (second->poured, ==, 3);
  g_assert_cmpint (second->burnt, ==, 1);
  /* The wax says 14 days, the third sample says 5 for itself. */
  g_assert_cmpint (second->curing, ==, 2);
  g_assert_cmpint (second->cured_on, ==, today + 2);
  later = only_experiment (store, (WbInstant) { TEST_NOW.utc_us + G_GINT64_CONSTANT (5 * 86400000000), 3600, TRUE });
  g_assert_cmpint (later->curing, ==, 1);
  g_assert_cmpint (later->cured_on, ==, today + 14);
}

static char *
derived_as_text (WbStore *store)
{
  GString *text = g_string_new (NULL);
  static const char *const queries[] = {
    "SELECT experiment || ' ' || burns || ' ' || readings || ' ' || last_entry FROM derived_experiment ORDER BY experiment",
    "SELECT type || ' ' || entry FROM derived_type ORDER BY type",
  };

  for (guint i = 0; i < G_N_ELEMENTS (queries); i++)
    {
      sqlite3_stmt *statement = wb_store_statement (store, queries[i], NULL);

      while (wb_store_step (store, statement, NULL) == WB_STEP_ROW)
        g_string_append_printf (text, "%s\n", (const char *) sqlite3_column_text (statement, 0));
    }
  return g_string_free (text, FALSE);
}

static void
do_something (WbStore     *store,
              TestRecords *records,
              GRand       *random)
{
  g_autoptr (GPtrArray) readings = wb_store_list (store, &wb_reading_type, "burn", records->burn, NULL);
  WbStoreChange *change;
  guint any;

  switch (g_rand_int_range (random, 0, 5))
    {
    case 0:
      wb_store_undo (store, NULL, TEST_NOW, NULL, NULL);
      return;
    case 1:
      wb_store_redo (store, NULL, TEST_NOW, NULL, NULL);
      return;
    default:
      break;
    }
  if (readings == NULL)
    return;
  change = test_begin (store, "Do something");
  any = readings->len > 0 ? (guint) g_rand_int_range (random, 0, (gint32) readings->len) : 0;
  switch (readings->len > 0 ? g_rand_int_range (random, 0, 3) : 0)
    {
    case 0:
      {
        g_autoptr (WbRecord) reading = test_reading (records->burn, g_rand_double_range (random, 0, 240), 50);

        wb_store_change_put (change, reading, NULL);
        break;
      }
    case 1:
      ((WbReading *) readings->pdata[any])->values[WB_COLUMN_FLAME_MM] = g_rand_int_range (random, 0, 40);
      wb_store_change_put (change, readings->pdata[any], NULL);
      break;
    default:
      wb_store_change_delete (change, &wb_reading_type, ((WbRecord *) readings->pdata[any])->id, NULL);
      break;
    }
  wb_store_commit (change, NULL, NULL);
}

/* Whatever is done in whatever order, the derived tables are what making them anew gives. */
static void
test_derived (void)
{
  g_autoptr (WbStore) store = test_notebook (":memory:");
  TestRecords records = test_fill (store);
  g_autoptr (GRand) random = g_rand_new_with_seed (42);
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < 300; i++)
    {
      do_something (store, &records, random);
      if (i % 50 == 0)
        {
          g_autofree char *kept = derived_as_text (store), *made = NULL;

          g_assert_true (wb_store_counts_rebuild (store, &error));
          made = derived_as_text (store);
          g_assert_cmpstr (kept, ==, made);
        }
    }
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/store/dataset/is-sorted-as-it-says", test_order);
  g_test_add_func ("/store/dataset/holds-what-is-there-now", test_newest_versions);
  g_test_add_func ("/store/dataset/a-loggers-file-is-part-of-its-experiment", test_loggers);
  g_test_add_func ("/store/dataset/experiments-are-counted", test_summary);
  g_test_add_func ("/store/dataset/derived-tables-can-be-made-anew", test_derived);
  return g_test_run ();
}
