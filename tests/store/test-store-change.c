/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "store-kinds.h"
#include "store-notebook.h"
#include "wb-record-types.h"
#include "wb-store-records.h"

#include <math.h>
#include <string.h>

static void
test_round_trip (void)
{
  g_autofree char *path = test_path ("a.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  g_autoptr (GError) error = NULL;
  TestRecords records = test_fill (store);
  g_autoptr (WbRecord) loaded = wb_store_load (store, &wb_reading_type, records.readings[1], &error);
  WbReading *reading = (WbReading *) loaded;

  g_assert_no_error (error);
  g_assert_cmpfloat (reading->values[WB_COLUMN_POOL_MM], ==, 40);
  g_assert_true (isnan (reading->values[WB_COLUMN_DEPTH_MM]));
  g_assert_cmpint (reading->burn, ==, records.burn);
  g_assert_cmpint (loaded->entry, ==, records.entry);
  g_assert_cmpint (records.entry, ==, 2);
  g_assert_cmpint (wb_store_get_last_entry (store), ==, 2);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM reading WHERE soot IS NULL"), ==, 3);
}

/* Every field of every kind set to something, put, and read back the same; then amended in every field. */
static void
test_every_field (void)
{
  g_autofree char *path = test_path ("fields.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);

  test_put_every_kind (store, 0);
  test_put_every_kind (store, 1);
}

static void
assert_put_refused (WbStoreChange *change,
                    gpointer       record,
                    WbStoreError   code,
                    const char    *words)
{
  g_autoptr (GError) error = NULL;

  g_assert_false (wb_store_change_put (change, record, &error));
  g_assert_error (error, WB_STORE_ERROR, (int) code);
  g_assert_nonnull (strstr (error->message, words));
  wb_record_free (record);
}

/* A name that is taken is refused by name, and the change goes on. */
static void
test_taken (void)
{
  g_autoptr (WbStore) store = test_notebook (":memory:");
  TestRecords records = test_fill (store);
  WbStoreChange *change = test_begin (store, "Name things twice");
  g_autoptr (WbRecord) experiment = wb_store_load (store, &wb_experiment_type, records.experiment, NULL);
  g_autoptr (WbRecord) sample = wb_store_load (store, &wb_sample_type, records.sample, NULL);
  g_autoptr (WbRecord) burn = wb_store_load (store, &wb_burn_type, records.burn, NULL);
  g_autoptr (WbRecord) cell = wb_store_load (store, &wb_cell_type, records.cell, NULL);
  WbRecord *again;

  assert_put_refused (change, test_wax ("Harrow blend"), WB_STORE_ERROR_CONFLICT, "“Harrow blend”");
  assert_put_refused (change, test_vessel ("Osprey", 79.4), WB_STORE_ERROR_CONFLICT, "79.4\302\240mm");
  assert_put_refused (change, test_wick ("Larch", "L-2", 5), WB_STORE_ERROR_CONFLICT, "“L-2”");
  assert_put_refused (change, wb_protocol_new_house (), WB_STORE_ERROR_CONFLICT, "House protocol");
  assert_put_refused (change, wb_record_new (&wb_notebook_type), WB_STORE_ERROR_CONFLICT, "Notebook");
  again = wb_record_copy (experiment);
  again->id = 0;
  memset (&((WbExperiment *) again)->uuid, 0, sizeof (WbUuid));
  g_free (((WbExperiment *) again)->code);
  ((WbExperiment *) again)->code = g_strdup ("V2");
  assert_put_refused (change, again, WB_STORE_ERROR_CONFLICT, "“Vessel trial”");
  again = wb_record_copy (sample);
  again->id = 0;
  assert_put_refused (change, again, WB_STORE_ERROR_CONFLICT, "“VT-1”");
  again = wb_record_copy (burn);
  again->id = 0;
  assert_put_refused (change, again, WB_STORE_ERROR_CONFLICT, "1");
  again = wb_record_copy (cell);
  again->id = 0;
  assert_put_refused (change, again, WB_STORE_ERROR_CONFLICT, "Combination");
  /* The same name with another diameter is another vessel. */
  test_put (change, test_vessel ("Osprey", 71));
  g_assert_cmpint (test_commit (change), ==, 3);
}

static void
test_reference_to_nothing (void)
{
  g_autoptr (WbStore) store = test_notebook (":memory:");
  TestRecords records = test_fill (store);
  WbStoreChange *change = test_begin (store, "Point nowhere");
  WbWickGuide *guide = wb_record_new (&wb_wick_guide_type);

  assert_put_refused (change, test_reading (9999, 10, 20), WB_STORE_ERROR_MISSING, "9999");
  /* There is such a record, but it is no burn. */
  assert_put_refused (change, test_reading (records.wax, 10, 20), WB_STORE_ERROR_MISSING, "burn");
  guide->wick = records.vessel;
  guide->from_mm = 60;
  guide->to_mm = 70;
  assert_put_refused (change, guide, WB_STORE_ERROR_MISSING, "wick");
  g_assert_cmpint (test_commit (change), ==, 0);
  g_assert_cmpint (wb_store_get_last_entry (store), ==, 2);
}

static void
test_amend (void)
{
  g_autofree char *path = test_path ("amend.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  TestRecords records = test_fill (store);
  g_autoptr (WbRecord) wax = wb_store_load (store, &wb_wax_type, records.wax, NULL);
  g_autoptr (WbRecord) stale = wb_record_copy (wax);
  g_autoptr (GPtrArray) history = NULL;
  g_autoptr (GError) error = NULL;
  WbStoreChange *change = test_begin (store, "Change nothing");

  g_assert_true (wb_store_change_put (change, wax, &error));
  g_assert_cmpint (test_commit (change), ==, 0);

  change = test_begin (store, "Weigh again");
  ((WbWax *) wax)->density = 0.9;
  g_assert_true (wb_store_change_put (change, wax, &error));
  g_assert_cmpint (wax->entry, ==, 3);
  /* Once in a change. */
  ((WbWax *) wax)->density = 0.91;
  wax->entry = 0;
  g_assert_false (wb_store_change_put (change, wax, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_FAILED);
  g_clear_error (&error);
  test_commit (change);

  /* Whoever read the version before must not write over this one. */
  change = test_begin (store, "Be late");
  ((WbWax *) stale)->density = 0.8;
  g_assert_false (wb_store_change_put (change, stale, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_CHANGED);
  wb_store_rollback (change);

  history = wb_store_list_history (store, &wb_wax_type, records.wax, NULL);
  g_assert_cmpuint (history->len, ==, 2);
  g_assert_true (isnan (((WbWax *) ((WbStoreVersion *) history->pdata[0])->record)->density));
  g_assert_cmpfloat (((WbWax *) ((WbStoreVersion *) history->pdata[1])->record)->density, ==, 0.9);
  g_assert_cmpstr (((WbStoreVersion *) history->pdata[1])->entry->why, ==, "Weigh again");
  g_assert_cmpstr (((WbStoreVersion *) history->pdata[1])->entry->who, ==, "Ada");
  g_assert_cmpint (test_query (path, "SELECT previous FROM wax WHERE entry = 3"), ==, 2);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM wax WHERE density IS NULL"), ==, 1);
}

static void
test_invalid (void)
{
  g_autoptr (WbStore) store = test_notebook (":memory:");
  WbStoreChange *change = test_begin (store, "Write nonsense");
  g_autoptr (GError) error = NULL;
  g_autofree char *long_name = g_strnfill (10000, 'n');
  gpointer records[] = { test_vessel ("Osprey", 4000), test_vessel ("Osprey", NAN), test_wax (long_name), test_wax (NULL) };

  for (guint i = 0; i < G_N_ELEMENTS (records); i++)
    {
      g_assert_false (wb_store_change_put (change, records[i], &error));
      g_assert_true (error->domain == WB_RECORD_ERROR);
      g_clear_error (&error);
      wb_record_free (records[i]);
    }
  /* Any script comes back as it was. */
  gint64 id = test_put (change, test_wax ("شمع البحر 🕯️"));
  test_commit (change);
  g_autoptr (WbRecord) wax = wb_store_load (store, &wb_wax_type, id, &error);
  g_assert_cmpstr (((WbWax *) wax)->name, ==, "شمع البحر 🕯️");
  g_assert_cmpint (wb_store_find_by_text (store, &wb_wax_type, "name", "  شمع البحر 🕯️ ", &error), ==, id);
  g_assert_cmpint (wb_store_find_by_text (store, &wb_wax_type, "name", "None of these", &error), ==, 0);
}

static void
test_delete (void)
{
  g_autofree char *path = test_path ("delete.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  TestRecords records = test_fill (store);
  g_autoptr (GError) error = NULL;
  WbStoreChange *change = test_begin (store, "Delete");
  WbWickGuide *guide = wb_record_new (&wb_wick_guide_type);
  gint64 spare = test_put (change, test_wick ("Larch", "L-9", 9));

  guide->wick = spare;
  guide->from_mm = 60;
  guide->to_mm = 70;
  test_put (change, guide);
  test_commit (change);

  change = test_begin (store, "Delete");
  g_assert_false (wb_store_change_delete (change, &wb_wax_type, records.wax, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_IN_USE);
  g_assert_nonnull (strstr (error->message, "“Harrow blend”"));
  g_assert_nonnull (strstr (error->message, "1 × Experiment"));
  g_clear_error (&error);
  g_assert_false (wb_store_change_delete (change, &wb_burn_type, records.burn, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_IN_USE);
  g_assert_nonnull (strstr (error->message, "3 × Reading"));
  g_clear_error (&error);
  /* The supplier's guide is a part of the wick, and goes with it. */
  g_assert_true (wb_store_change_delete (change, &wb_wick_type, spare, &error));
  for (guint i = 0; i < 3; i++)
    g_assert_true (wb_store_change_delete (change, &wb_reading_type, records.readings[i], &error));
  g_assert_true (wb_store_change_delete (change, &wb_burn_type, records.burn, &error));
  g_assert_no_error (error);
  test_commit (change);

  g_assert_null (wb_store_load (store, &wb_wick_type, spare, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_MISSING);
  g_clear_error (&error);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM wick_guide WHERE deleted = 1"), ==, 1);
  g_assert_cmpint (test_query (path, "SELECT readings + burns FROM derived_experiment"), ==, 0);

  change = test_begin (store, "Use what is gone");
  g_assert_false (wb_store_change_delete (change, &wb_burn_type, records.burn, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_MISSING);
  g_clear_error (&error);
  assert_put_refused (change, test_reading (records.burn, 5, 20), WB_STORE_ERROR_MISSING, "not there");
  /* Its name is free again. */
  test_put (change, test_wick ("Larch", "L-9", 9));
  test_commit (change);
}

static void
test_attachment (void)
{
  g_autofree char *path = test_path ("papers.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  TestRecords records = test_fill (store);
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = g_bytes_new ("abc", 3), back = NULL;
  WbStoreChange *change = test_begin (store, "Keep a paper");
  WbAttachment *attachment = wb_record_new (&wb_attachment_type);
  char sha256[65];

  attachment->owner = records.wax;
  attachment->role = WB_ATTACHMENT_PAPER;
  attachment->name = g_strdup ("sheet.pdf");
  attachment->sha256 = g_strnfill (64, '0');
  g_assert_false (wb_store_change_put (change, attachment, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_MISSING);
  g_clear_error (&error);
  g_assert_true (wb_store_change_attach (change, bytes, sha256, &error));
  /* SHA-256 of "abc": FIPS 180-4, the example of its annex. */
  g_assert_cmpstr (sha256, ==, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  g_assert_true (wb_store_change_attach (change, bytes, sha256, &error));
  g_free (attachment->sha256);
  attachment->sha256 = g_strdup (sha256);
  test_put (change, attachment);
  test_commit (change);
  back = wb_store_load_attachment (store, sha256, &error);
  g_assert_no_error (error);
  g_assert_true (g_bytes_equal (back, bytes));
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM attachment_data"), ==, 1);
}

static void
test_extra (void)
{
  g_autoptr (WbStore) store = test_notebook (":memory:");
  TestRecords records = test_fill (store);
  g_autoptr (GError) error = NULL;
  g_autofree char *value = NULL;
  WbStoreChange *change = test_begin (store, "Keep a cell");

  g_assert_true (wb_store_change_put_extra (change, records.readings[0], "moon", "full", &error));
  g_assert_false (wb_store_change_put_extra (change, 9999, "moon", "full", &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_MISSING);
  g_clear_error (&error);
  test_commit (change);
  value = wb_store_load_extra (store, records.readings[0], "moon", &error);
  g_assert_cmpstr (value, ==, "full");
  change = test_begin (store, "Take it away");
  g_assert_true (wb_store_change_put_extra (change, records.readings[0], "moon", "", &error));
  g_assert_cmpint (test_commit (change), ==, 4);
  g_assert_null (wb_store_load_extra (store, records.readings[0], "moon", &error));
  g_assert_no_error (error);
}

/* UUIDs lead back to their records; they stay when a record is amended. */
static void
test_uuid (void)
{
  g_autoptr (WbStore) store = test_notebook (":memory:");
  TestRecords records = test_fill (store);
  g_autoptr (WbRecord) burn = wb_store_load (store, &wb_burn_type, records.burn, NULL);
  WbUuid uuid = ((WbBurn *) burn)->uuid, other = wb_uuid_new ();
  const WbRecordType *type = NULL;
  WbStoreChange *change = test_begin (store, "Amend");

  g_assert_cmpint (wb_store_find_by_uuid (store, &uuid, &type, NULL), ==, records.burn);
  g_assert_true (type == &wb_burn_type);
  g_assert_cmpint (wb_store_find_by_uuid (store, &other, &type, NULL), ==, 0);
  ((WbBurn *) burn)->uuid = other;
  ((WbBurn *) burn)->trim_mm = 5;
  g_assert_true (wb_store_change_put (change, burn, NULL));
  test_commit (change);
  g_assert_true (wb_uuid_equal (&((WbBurn *) burn)->uuid, &uuid));
}

static void
test_rollback (void)
{
  g_autofree char *path = test_path ("back.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  WbStoreChange *change = test_begin (store, "Think better of it");

  test_put (change, test_wax ("Harrow blend"));
  wb_store_rollback (change);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM wax"), ==, 0);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM object"), ==, 1);
  /* Closing does the same. */
  change = test_begin (store, "Forget it");
  test_put (change, test_wax ("Harrow blend"));
  wb_store_close (g_steal_pointer (&store));
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM wax"), ==, 0);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/store/change/what-is-put-is-loaded", test_round_trip);
  g_test_add_func ("/store/change/every-field-of-every-kind-comes-back", test_every_field);
  g_test_add_func ("/store/change/a-name-that-is-taken-is-refused", test_taken);
  g_test_add_func ("/store/change/a-reference-to-nothing-is-refused", test_reference_to_nothing);
  g_test_add_func ("/store/change/an-amendment-is-a-new-version", test_amend);
  g_test_add_func ("/store/change/what-is-not-valid-is-refused", test_invalid);
  g_test_add_func ("/store/change/what-is-in-use-is-not-deleted", test_delete);
  g_test_add_func ("/store/change/bytes-are-kept-once", test_attachment);
  g_test_add_func ("/store/change/unknown-cells-are-kept", test_extra);
  g_test_add_func ("/store/change/a-uuid-stays", test_uuid);
  g_test_add_func ("/store/change/rolling-back-leaves-nothing", test_rollback);
  return g_test_run ();
}
