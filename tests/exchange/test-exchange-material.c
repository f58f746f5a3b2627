/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-exchange.h"

#include "wb-exchange-error.h"
#include "wb-exchange-material.h"

#include <string.h>

static GPtrArray *
remarks_new (void)
{
  return g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);
}

/* Something in every field that can be written. */
static gpointer
full_record (const WbRecordType *type, guint turn)
{
  static const char *const texts[] = { "plain", "=1+1", "two\nlines, \"so\"", "\327\220\327\221 \360\237\225\257" };
  gpointer record = wb_record_new (type);

  for (guint i = 0; i < type->n_fields; i++)
    {
      const WbFieldSpec *field = &type->fields[i];

      if (turn > 0 && !field->required && (i + turn) % 3 == 0)
        continue;
      if (field->type == WB_FIELD_REAL)
        wb_record_set_real (record, field, field->minimum + (field->maximum - field->minimum) / (turn + 3.0));
      else if (field->type == WB_FIELD_INTEGER)
        wb_record_set_integer (record, field, (gint64) field->minimum + turn);
      else if (field->type == WB_FIELD_ENUM || field->type == WB_FIELD_FLAG)
        wb_record_set_integer (record, field, (turn + 1) % 2);
      else if (field->type == WB_FIELD_TEXT)
        wb_record_set_text (record, field, texts[(i + turn) % G_N_ELEMENTS (texts)]);
    }
  return record;
}

static void
test_round_trip (gconstpointer data)
{
  const WbRecordType *type = data;
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GPtrArray) remarks = remarks_new ();
  g_autoptr (GError) error = NULL;
  GFile *file = test_exchange_file ("", -1);

  for (guint i = 0; i < 5; i++)
    g_ptr_array_add (records, full_record (type, i));
  g_assert_true (wb_exchange_material_write (file, type, records, TRUE, NULL, &error));

  /* The kind is told by the header. */
  g_autoptr (GPtrArray) back = wb_exchange_material_read (file, NULL, remarks, NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (remarks->len, ==, 0);
  g_assert_cmpuint (back->len, ==, records->len);
  for (guint i = 0; i < back->len; i++)
    g_assert_true (wb_record_equal (back->pdata[i], records->pdata[i]));
  test_exchange_drop (file);
}

static void
test_refusals (void)
{
  static const struct { const char *row, *column; } rows[] = {
    { "Tern,76.2,glass", NULL },
    { "Tern,19,glass", "inner_diameter_mm" },
    { "Tern,,glass", "inner_diameter_mm" },
    { ",76,glass", "name" },
    { "Tern,wide,glass", "inner_diameter_mm" },
    { "Tern,76,cheese", "wall" },
    { "Tern,76", "" },
    { "\"Te\"rn,76,glass", "" },
    { "Vas\351,76,glass", "" },
    { "Rail,\"76,2\",", "inner_diameter_mm" },
    { "Rail,63,", NULL },
  };
  g_autoptr (GString) text = g_string_new ("name,inner_diameter_mm,wall\n");
  g_autoptr (GPtrArray) remarks = remarks_new ();
  g_autoptr (GError) error = NULL;
  guint good = 0, told = 0;

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    g_string_append_printf (text, "%s\n", rows[i].row);

  GFile *file = test_exchange_file (text->str, -1);
  g_autoptr (GPtrArray) records = wb_exchange_material_read (file, &wb_vessel_type, remarks, NULL, &error);

  g_assert_no_error (error);
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    if (rows[i].column == NULL)
      good++;
    else
      {
        const WbLogRemark *remark = remarks->pdata[told++];

        g_assert_cmpuint (remark->line, ==, i + 2);
        g_assert_cmpstr (remark->column, ==, rows[i].column);
      }
  g_assert_cmpuint (records->len, ==, good);
  g_assert_cmpuint (remarks->len, ==, told);
  test_exchange_drop (file);
}

static void
test_headers (void)
{
  static const struct { const char *text; int code; const char *named; } headers[] = {
    { "", WB_EXCHANGE_ERROR_FORMAT, "empty" },
    { "name,wall\n", WB_EXCHANGE_ERROR_HEADER, "inner_diameter_mm" },
    { "name,inner_diameter_mm,name\n", WB_EXCHANGE_ERROR_HEADER, "name stands twice" },
    { "name,inner_diameter_mm,\n", WB_EXCHANGE_ERROR_HEADER, "column 3" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (headers); i++)
    {
      GFile *file = test_exchange_file (headers[i].text, -1);
      g_autoptr (GPtrArray) remarks = remarks_new ();
      g_autoptr (GError) error = NULL;

      g_assert_null (wb_exchange_material_read (file, &wb_vessel_type, remarks, NULL, &error));
      g_assert_error (error, WB_EXCHANGE_ERROR, headers[i].code);
      g_assert_nonnull (strstr (error->message, headers[i].named));
      test_exchange_drop (file);
    }
}

static void
test_kind_is_told (void)
{
  static const struct { const char *text, *kind; } files[] = {
    { "name,inner_diameter_mm\nTern,76\n", "vessel" },
    { "series,size,step\nSedge,S-3,3\n", "wick" },
    { "name,flash_c\nHarbour mist,90\n", "fragrance" },
    { "name,max_load_pct\nMarsh soy,10\n", "wax" },
    { "name\nMarsh soy\n", NULL },
    { "1,2\n3,4\n", NULL },
  };

  for (guint i = 0; i < G_N_ELEMENTS (files); i++)
    {
      GFile *file = test_exchange_file (files[i].text, -1);
      g_autoptr (GPtrArray) remarks = remarks_new ();
      g_autoptr (GError) error = NULL;
      g_autoptr (GPtrArray) records = wb_exchange_material_read (file, NULL, remarks, NULL, &error);

      if (files[i].kind == NULL)
        g_assert_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_HEADER);
      else
        g_assert_cmpstr (((WbRecord *) records->pdata[0])->type->name, ==, files[i].kind);
      test_exchange_drop (file);
    }
}

static void
test_semicolons_and_unknown (void)
{
  GFile *file = test_exchange_file ("\357\273\277name;inner_diameter_mm;colour;water_g\r\n"
                                    "Tern;76,2;blue;214,5\r\nRail;63.5;green;\r\n", -1);
  g_autoptr (GPtrArray) remarks = remarks_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) records = wb_exchange_material_read (file, NULL, remarks, NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (records->len, ==, 1);
  g_assert_cmpfloat (((WbVessel *) records->pdata[0])->inner_diameter_mm, ==, 76.2);
  g_assert_cmpfloat (((WbVessel *) records->pdata[0])->water_g, ==, 214.5);
  g_assert_cmpuint (remarks->len, ==, 2);
  g_assert_cmpstr (((WbLogRemark *) remarks->pdata[0])->column, ==, "colour");
  g_assert_cmpuint (((WbLogRemark *) remarks->pdata[1])->line, ==, 3);
  test_exchange_drop (file);
}

void
test_exchange_add_material (void)
{
  for (guint i = 0; wb_exchange_material_types ()[i] != NULL; i++)
    {
      g_autofree char *path = g_strdup_printf ("/exchange/material/every-%s-comes-back", wb_exchange_material_types ()[i]->name);

      g_test_add_data_func (path, wb_exchange_material_types ()[i], test_round_trip);
    }
  g_test_add_func ("/exchange/material/a-row-is-refused-by-line-and-column", test_refusals);
  g_test_add_func ("/exchange/material/a-wrong-header-is-refused-by-name", test_headers);
  g_test_add_func ("/exchange/material/the-header-tells-the-kind", test_kind_is_told);
  g_test_add_func ("/exchange/material/semicolons-and-unknown-columns-are-told", test_semicolons_and_unknown);
}
