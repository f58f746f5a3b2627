/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "store-kinds.h"

#include "store-notebook.h"
#include "wb-record-types.h"
#include "wb-store-records.h"

#include <math.h>

static void
fill_fields (gpointer record,
             guint    salt)
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
set_references (gpointer    record,
                GHashTable *ids)
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
attach (WbStoreChange *change,
        gpointer       record)
{
  g_autoptr (GBytes) bytes = g_bytes_new ("paper", 5);
  g_autoptr (GError) error = NULL;
  char sha256[65];

  wb_store_change_attach (change, bytes, sha256, &error);
  g_assert_no_error (error);
  wb_record_set_text (record, wb_record_type_find_field (&wb_attachment_type, "sha256"), sha256);
}

void
test_put_every_kind (WbStore *store,
                     guint    salt)
{
  g_autoptr (GHashTable) ids = g_hash_table_new (NULL, NULL);
  const WbRecordType *const *types = wb_record_types ();

  for (guint i = 0; types[i] != NULL; i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (WbRecord) record = types[i] == &wb_notebook_type ? wb_store_load_notebook (store, &error) : wb_record_new (types[i]);
      g_autoptr (WbRecord) back = NULL;
      WbStoreChange *change = test_begin (store, "Put one of a kind");

      fill_fields (record, salt);
      set_references (record, ids);
      if (types[i] == &wb_attachment_type)
        attach (change, record);
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
