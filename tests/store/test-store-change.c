/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "store-notebook.h"
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

/* Every field of every kind set to something, put, and read back the same. */
static void
fill_fields (gpointer record, const TestRecords *records, guint salt)
{
  const WbRecordType *type = ((WbRecord *) record)->type;

  for (guint i = 0; i < type->n_fields; i++)
    {
      const WbFieldSpec *field = &type->fields[i];
      g_autofree char *text = g_strdup_printf ("%s %u “ü”", field->name, salt);

      switch (field->type)
        {
        case WB_FIELD_REAL:
          {
            double value = field->minimum + (field->maximum - field->minimum) / (salt + 2);

            wb_record_set_real (record, field, field->integer || field->words != NULL ? floor (value) : value);
          }
          break;
        case WB_FIELD_INTEGER:
          wb_record_set_integer (record, field, (gint64) field->minimum + salt);
          break;
        case WB_FIELD_ENUM:
          wb_record_set_integer (record, field, 0);
          break;
        case WB_FIELD_FLAG:
          wb_record_set_integer (record, field, TRUE);
          break;
        case WB_FIELD_TEXT:
          wb_record_set_text (record, field, text);
          break;
        case WB_FIELD_INSTANT:
          wb_record_set_instant (record, field, TEST_NOW);
          break;
        case WB_FIELD_DAY:
          wb_record_set_integer (record, field, 20000);
          break;
        case WB_FIELD_REFERENCE:
        case WB_FIELD_UUID:
        default:
          break;
        }
    }
}

static void
set_references (gpointer record, GHashTable *ids)
{
  const WbRecordType *type = ((WbRecord *) record)->type;

  for (guint i = 0; i < type->n_fields; i++)
    {
      const WbFieldSpec *field = &type->fields[i];
      const WbRecordType *target = field->target != NULL ? field->target : &wb_vessel_type;

      if (field->type == WB_FIELD_REFERENCE)
        wb_record_set_integer (record, field, GPOINTER_TO_INT (g_hash_table_lookup (ids, target)));
    }
}

static void
test_every_field (void)
{
  g_autofree char *path = test_path ("fields.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  g_autoptr (GHashTable) ids = g_hash_table_new (NULL, NULL);
  g_autoptr (GError) error = NULL;
  const WbRecordType *const *types = wb_record_types ();
  TestRecords none = { 0 };

  for (guint salt = 0; salt < 2; salt++)
    for (guint i = 0; types[i] != NULL; i++)
      {
        g_autoptr (WbRecord) record = types[i] == &wb_notebook_type ? wb_store_load_notebook (store, &error) : wb_record_new (types[i]);
        g_autoptr (WbRecord) back = NULL;
        WbStoreChange *change = test_begin (store, "Put one of a kind");

        fill_fields (record, &none, salt);
        set_references (record, ids);
        if (types[i] == &wb_attachment_type)
          {
            g_autoptr (GBytes) bytes = g_bytes_new ("paper", 5);
            char sha256[65];

            wb_store_change_attach (change, bytes, sha256, &error);
            g_assert_no_error (error);
            wb_record_set_text (record, wb_record_type_find_field (types[i], "sha256"), sha256);
          }
        if (types[i] == &wb_limit_type || types[i] == &wb_aim_type || types[i] == &wb_cell_type)
          g_assert_cmpint (salt, <, 2);
        wb_store_change_put (change, record, &error);
        g_assert_no_error (error);
        test_commit (change);
        back = wb_store_load (store, types[i], record->id, &error);
        g_assert_no_error (error);
        if (!wb_record_equal (record, back))
          g_error ("a %s did not come back as it was put", types[i]->name);
        g_hash_table_insert (ids, (gpointer) types[i], GINT_TO_POINTER ((int) record->id));
      }
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/store/change/what-is-put-is-loaded", test_round_trip);
  g_test_add_func ("/store/change/every-field-of-every-kind-comes-back", test_every_field);
  return g_test_run ();
}
