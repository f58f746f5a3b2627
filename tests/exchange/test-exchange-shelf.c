/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-exchange.h"

#include "wb-exchange-error.h"
#include "wb-exchange-shelf.h"

#include <math.h>
#include <string.h>

/* ---- The round ---- */

/* Text that is as hard on a file as text can be, and differs from field to field. */
static const char *const hard[] = {
  "=SUM(A1)", "+1", "-1", "@x", "'=quoted", "''", "a, b", "a;b", "say \"so\"", "two\nlines", "Käse 76 mm", "’tis", "0012", "1,5",
};

static void
fill (WbRecord *record,
      guint    *n)
{
  for (guint i = 0; i < record->type->n_fields; i++)
    {
      const WbFieldSpec *field = &record->type->fields[i];
      guint words = 0;

      switch (field->type)
        {
        case WB_FIELD_REAL:
          wb_record_set_real (record, field, field->integer ? ceil (field->minimum) : field->minimum + (field->maximum - field->minimum) / (3 + *n % 5));
          break;
        case WB_FIELD_INTEGER:
          wb_record_set_integer (record, field, (gint64) field->minimum + *n % 7);
          break;
        case WB_FIELD_ENUM:
          while (field->words[words].nick != NULL)
            words++;
          wb_record_set_integer (record, field, *n % words);
          break;
        case WB_FIELD_FLAG:
          wb_record_set_integer (record, field, TRUE);
          break;
        case WB_FIELD_DAY:
          wb_record_set_integer (record, field, 20000 + *n);
          break;
        case WB_FIELD_TEXT:
          wb_record_set_text (record, field, hard[*n % G_N_ELEMENTS (hard)]);
          break;
        case WB_FIELD_REFERENCE:
        case WB_FIELD_INSTANT:
        case WB_FIELD_UUID:
        default:
          break;
        }
      (*n)++;
    }
}

/* One of each kind and part, every field with a value, the parts hung onto the kinds. */
static GPtrArray *
new_shelf (void)
{
  GPtrArray *records = g_ptr_array_new_with_free_func (wb_record_free);
  const WbRecordType *const *types = wb_exchange_shelf_types ();
  guint n = 0;

  for (guint i = 0; types[i] != NULL; i++)
    {
      WbRecord *record = wb_record_new (types[i]);
      const WbFieldSpec *owner = wb_exchange_shelf_get_owner (types[i]), *other = wb_exchange_shelf_get_other (types[i]);

      record->id = i + 1;
      fill (record, &n);
      for (guint k = 0; owner != NULL && k < records->len; k++)
        {
          const WbRecord *kind = records->pdata[k];

          /* A lot is the vessel's here. */
          if (kind->type == owner->target || (owner->target == NULL && k == 0))
            wb_record_set_integer (record, owner, kind->id);
          if (other != NULL && kind->type == other->target)
            wb_record_set_integer (record, other, kind->id);
        }
      g_ptr_array_add (records, record);
    }
  return records;
}

static WbExchangeShelf *
read_back (GFile              *file,
           const WbRecordType *kind)
{
  g_autoptr (GError) error = NULL;
  WbExchangeShelf *shelf = wb_exchange_shelf_read (file, kind, NULL, &error);

  g_assert_no_error (error);
  return shelf;
}

static void
assert_same_field (const WbRecord    *a,
                   const WbRecord    *b,
                   const WbFieldSpec *field)
{
  if (!wb_record_field_equal (a, b, field))
    g_error ("%s.%s came back as another value", a->type->name, field->name);
}

static void
test_round (void)
{
  g_autoptr (GPtrArray) records = new_shelf ();
  GFile *file = test_exchange_file ("", 0);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbExchangeShelf) shelf = NULL;

  g_assert_true (wb_exchange_shelf_write (file, records, NULL, NULL, &error));
  g_assert_no_error (error);
  shelf = read_back (file, NULL);
  for (guint i = 0; i < shelf->refused->len; i++)
    g_test_message ("%s: %s", ((WbLogRemark *) shelf->refused->pdata[i])->column, ((WbLogRemark *) shelf->refused->pdata[i])->rule);
  g_assert_cmpuint (shelf->refused->len, ==, 0);
  g_assert_cmpuint (shelf->rows->len, ==, records->len);
  g_assert_cmpuint (g_strv_length (shelf->unknown), ==, 0);
  for (guint i = 0; i < records->len; i++)
    {
      const WbExchangeShelfRow *row = shelf->rows->pdata[i];
      const WbRecord *record = records->pdata[i];
      const WbFieldSpec *owner = wb_exchange_shelf_get_owner (record->type), *other = wb_exchange_shelf_get_other (record->type);

      g_assert_true (row->type == record->type);
      for (guint k = 0; k < record->type->n_fields; k++)
        {
          const WbFieldSpec *field = &record->type->fields[k];

          if (field == owner || field == other)
            continue;
          g_assert_true ((row->given >> k & 1) != 0);
          assert_same_field (record, row->record, field);
        }
      g_assert_true ((owner != NULL) == (row->owner != NULL));
      if (owner != NULL)
        {
          const WbRecord *kind = records->pdata[wb_record_get_integer (record, owner) - 1];

          for (const char *const *name = wb_exchange_shelf_get_identity (kind->type); *name != NULL; name++)
            assert_same_field (kind, row->owner, wb_record_type_find_field (kind->type, *name));
        }
      if (other != NULL)
        {
          const WbRecord *named = records->pdata[wb_record_get_integer (record, other) - 1];

          g_assert_cmpstr (row->other, ==, wb_record_get_text (named, wb_record_type_find_field (named->type, "name")));
        }
    }
  test_exchange_drop (file);
}

/* Nothing known but what must be: no cell says anything that is not so. */
static void
test_empty (void)
{
  g_autoptr (WbRecord) wax = wb_record_new (&wb_wax_type);
  g_autoptr (GPtrArray) records = g_ptr_array_new ();
  GFile *file = test_exchange_file ("", 0);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbExchangeShelf) shelf = NULL;

  wax->id = 1;
  wb_record_set_text (wax, wb_record_type_find_field (&wb_wax_type, "name"), "Plover");
  g_ptr_array_add (records, wax);
  g_assert_true (wb_exchange_shelf_write (file, records, &wb_wax_type, NULL, &error));
  shelf = read_back (file, NULL);
  g_assert_cmpuint (shelf->rows->len, ==, 1);
  g_assert_true (wb_record_equal (wax, ((WbExchangeShelfRow *) shelf->rows->pdata[0])->record));
  test_exchange_drop (file);
}

/* No cell of a text begins with what a spreadsheet runs. */
static void
test_formula (void)
{
  g_autoptr (GPtrArray) records = new_shelf ();
  GFile *file = test_exchange_file ("", 0);
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;

  g_assert_true (wb_exchange_shelf_write (file, records, NULL, NULL, &error));
  g_assert_true (g_file_load_contents (file, NULL, &text, NULL, NULL, &error));
  for (guint i = 0; i < 4; i++)
    {
      g_autofree char *bare = g_strdup_printf (",%s,", hard[i]), *quoted = g_strdup_printf (",'%s,", hard[i]);

      g_assert_null (strstr (text, bare));
      g_assert_nonnull (strstr (text, quoted));
    }
  test_exchange_drop (file);
}

/* ---- What is wrong ---- */

static void
test_refused (void)
{
  static const struct { const char *sheet, *column, *words; } cases[] = {
    { "record,name,density\nwax,A,9\n", "density", "“9”: permitted is 0.5 to 1.5" },
    { "record,name,density\nwax,A,heavy\n", "density", "“heavy”" },
    { "record,name,density\nwax,A,\"0,9\"\n", "density", "decimal sign is a point" },
    { "record,name,density\nwax,A,0,9\n", "", "4 cells, and 3 columns" },
    { "record,name,kind\nwax,A,tallow\n", "kind", "“tallow” is none of: paraffin, soy" },
    { "record,name,crystallises\nwax,A,maybe\n", "crystallises", "neither yes nor no" },
    { "record,series,size,step\nwick,S,1,1.5\n", "step", "whole number" },
    { "record,of,name,code,received_on\nlot,wax,A,L,32.13.2026\n", "received_on", "no day" },
    { "record,name\ntallow,A\n", "record", "“tallow” is none of" },
    { "record,name\n,A\n", "record", "empty" },
    { "record,name,code\nlot,A,L\n", "of", "kind of its material" },
    { "record,of,name,code\nlot,candle,A,L\n", "of", "“candle” is no kind" },
    { "record,of,code\nlot,wax,L\n", "name", "whose" },
    { "record,name,share_pct\nfragrance_part,A,50\n", "part", "a value is needed" },
    { "record,name,series\nwax,A,S\n", "series", "says nothing of a row “wax”" },
    { "record,name\nwax,\xff\n", "name", "not UTF-8" },
    { "record,name\nwax,\"A\n", "", "quot" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      GFile *file = test_exchange_file (cases[i].sheet, -1);
      g_autoptr (WbExchangeShelf) shelf = read_back (file, NULL);
      const WbLogRemark *remark;

      g_test_message ("case %u", i);
      g_assert_cmpuint (shelf->rows->len, ==, 0);
      g_assert_cmpuint (shelf->refused->len, ==, 1);
      remark = shelf->refused->pdata[0];
      g_assert_cmpuint (remark->line, ==, 2);
      if (*cases[i].column != '\0')
        g_assert_cmpstr (remark->column, ==, cases[i].column);
      if (strstr (remark->rule, cases[i].words) == NULL)
        g_error ("“%s” does not say “%s”", remark->rule, cases[i].words);
      test_exchange_drop (file);
    }
}

static void
test_files (void)
{
  g_autoptr (GString) many = g_string_new ("record,name\n"), wide = g_string_new ("record,name,note\n");
  g_autofree char *long_name = g_strnfill (201, 'x'), *note = g_strnfill (500000, 'y');
  g_autofree char *too_long = g_strdup_printf ("record,name\nwax,%s\n", long_name);
  GFile *file;
  g_autoptr (WbExchangeShelf) shelf = NULL;

  for (guint i = 0; i < 100000; i++)
    g_string_append_printf (many, "wax,W%u\n", i);
  for (guint i = 0; i < 80; i++)
    g_string_append_printf (wide, "wax,W%u,%s\n", i, note);

  const struct { const char *bytes; gssize length; int code; const char *words; } cases[] = {
    { "record,name,name\nwax,A,B\n", -1, WB_EXCHANGE_ERROR_HEADER, "“name” stands twice" },
    { "name,density\nA,0.9\n", -1, WB_EXCHANGE_ERROR_HEADER, "no column “record”" },
    { "a,b\n1,2\n", -1, WB_EXCHANGE_ERROR_HEADER, "no column of it is known" },
    { "", 0, WB_EXCHANGE_ERROR_FORMAT, "no names of columns" },
    { "\xff\xfer\0e\0c\0", 8, WB_EXCHANGE_ERROR_FORMAT, "UTF-16" },
    { "re\0cord,name\n", 13, WB_EXCHANGE_ERROR_FORMAT, "NUL" },
    { many->str, (gssize) many->len, WB_EXCHANGE_ERROR_FORMAT, "more than 10000 rows" },
    { wide->str, (gssize) wide->len, WB_EXCHANGE_ERROR_FORMAT, "more than 32 MiB" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;

      file = test_exchange_file (cases[i].bytes, cases[i].length);
      g_assert_null (wb_exchange_shelf_read (file, NULL, NULL, &error));
      g_assert_error (error, WB_EXCHANGE_ERROR, cases[i].code);
      if (strstr (error->message, cases[i].words) == NULL)
        g_error ("“%s” does not say “%s”", error->message, cases[i].words);
      test_exchange_drop (file);
    }
  file = test_exchange_file (too_long, -1);
  shelf = read_back (file, NULL);
  g_assert_cmpuint (shelf->rows->len, ==, 0);
  g_assert_nonnull (strstr (((WbLogRemark *) shelf->refused->pdata[0])->rule, "201"));
  test_exchange_drop (file);
}

/* As a spreadsheet of another country saves it: semicolons, decimal commas, columns in another order, a mark in front. */
static void
test_semicolons (void)
{
  GFile *file = test_exchange_file ("\xef\xbb\xbf" "density;name;colour\r\n0,91;Plover;red\r\n;;\r\n0.88;Teal;\r\n", -1);
  g_autoptr (WbExchangeShelf) shelf = read_back (file, &wb_wax_type);

  g_assert_cmpuint (shelf->refused->len, ==, 0);
  g_assert_cmpuint (shelf->rows->len, ==, 2);
  g_assert_cmpfloat (((WbWax *) ((WbExchangeShelfRow *) shelf->rows->pdata[0])->record)->density, ==, 0.91);
  g_assert_cmpfloat (((WbWax *) ((WbExchangeShelfRow *) shelf->rows->pdata[1])->record)->density, ==, 0.88);
  g_assert_cmpuint (((WbExchangeShelfRow *) shelf->rows->pdata[1])->line, ==, 4);
  g_assert_cmpstr (shelf->unknown[0], ==, "colour");
  test_exchange_drop (file);
}

/* A file that says of itself what its rows are is read alike wherever it was opened. */
static void
test_kind (void)
{
  GFile *file = test_exchange_file ("record,of,name,code\nlot,,A,L\n,,B,\nvessel,,C,\n", -1);
  g_autoptr (WbExchangeShelf) with = read_back (file, &wb_wax_type), without = read_back (file, NULL);

  g_assert_cmpuint (with->refused->len, ==, 2);
  g_assert_cmpuint (without->refused->len, ==, 2);
  g_assert_cmpuint (with->rows->len, ==, 1);
  g_assert_true (((WbExchangeShelfRow *) with->rows->pdata[0])->type == &wb_vessel_type);
  test_exchange_drop (file);
}

void
test_exchange_add_shelf (void)
{
  g_test_add_func ("/exchange/shelf/every-field-of-every-type-comes-back", test_round);
  g_test_add_func ("/exchange/shelf/what-is-not-known-comes-back-as-not-known", test_empty);
  g_test_add_func ("/exchange/shelf/no-text-is-a-formula", test_formula);
  g_test_add_func ("/exchange/shelf/a-bad-row-is-refused-by-line-and-column", test_refused);
  g_test_add_func ("/exchange/shelf/a-bad-file-is-told-in-a-sentence", test_files);
  g_test_add_func ("/exchange/shelf/semicolons-and-decimal-commas-are-read", test_semicolons);
  g_test_add_func ("/exchange/shelf/what-a-file-says-of-itself-counts", test_kind);
}
