/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-exchange.h"
#include "test-exchange-fixture.h"

#include "wb-exchange-xlsx-private.h"

#include <math.h>
#include <string.h>

static const WbInstant now = { G_GINT64_CONSTANT (1772435220000000), 0, TRUE };

/* A part of the workbook; an XLSX file is a zip archive (ECMA-376, part 2). */
static char *
unzip (GFile *file, const char *part)
{
  static const char script[] = "import sys, zipfile\nsys.stdout.buffer.write(zipfile.ZipFile(sys.argv[1]).read(sys.argv[2]))";
  g_autofree char *path = g_file_get_path (file);
  g_autoptr (GError) error = NULL;
  g_autoptr (GSubprocess) python =
    g_subprocess_new (G_SUBPROCESS_FLAGS_STDOUT_PIPE, &error, "python3", "-c", script, path, part, NULL);
  char *text = NULL;

  g_assert_no_error (error);
  g_assert_true (g_subprocess_communicate_utf8 (python, NULL, NULL, &text, NULL, &error));
  g_assert_no_error (error);
  g_assert_cmpint (g_subprocess_get_exit_status (python), ==, 0);
  return text;
}

/* Cells by reference ("B2"): numbers as they stand, texts with a leading quotation mark. */
typedef struct
{
  GHashTable *cells;
  char       *reference;
  gboolean    is_text, in_value;
  gboolean    frozen;
  GString    *value;
  guint       rows;
} Sheet;

static void
on_start (GMarkupParseContext *context, const char *element, const char **names, const char **values, gpointer data,
          GError **error)
{
  Sheet *sheet = data;

  if (strcmp (element, "row") == 0)
    sheet->rows++;
  if (strcmp (element, "pane") == 0)
    sheet->frozen = TRUE;
  if (strcmp (element, "c") == 0)
    {
      sheet->is_text = FALSE;
      for (guint i = 0; names[i] != NULL; i++)
        if (strcmp (names[i], "r") == 0)
          {
            g_free (sheet->reference);
            sheet->reference = g_strdup (values[i]);
          }
        else if (strcmp (names[i], "t") == 0)
          sheet->is_text = TRUE;
      g_string_assign (sheet->value, "");
    }
  /* No cell is a formula. */
  g_assert_cmpstr (element, !=, "f");
  sheet->in_value = strcmp (element, "v") == 0 || strcmp (element, "t") == 0;
}

static void
on_end (GMarkupParseContext *context, const char *element, gpointer data, GError **error)
{
  Sheet *sheet = data;

  sheet->in_value = FALSE;
  if (strcmp (element, "c") == 0)
    g_hash_table_insert (sheet->cells, g_strdup (sheet->reference),
                         g_strconcat (sheet->is_text ? "\"" : "", sheet->value->str, NULL));
}

static void
on_text (GMarkupParseContext *context, const char *text, gsize length, gpointer data, GError **error)
{
  Sheet *sheet = data;

  if (sheet->in_value)
    g_string_append_len (sheet->value, text, length);
}

static void
sheet_free (Sheet *sheet)
{
  g_hash_table_unref (sheet->cells);
  g_string_free (sheet->value, TRUE);
  g_free (sheet->reference);
  g_free (sheet);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Sheet, sheet_free)

static Sheet *
read_sheet (GFile *file, guint number)
{
  static const GMarkupParser parser = { on_start, on_end, on_text, NULL, NULL };
  Sheet *sheet = g_new0 (Sheet, 1);
  g_autofree char *part = g_strdup_printf ("xl/worksheets/sheet%u.xml", number), *text = unzip (file, part);
  g_autoptr (GMarkupParseContext) context = g_markup_parse_context_new (&parser, 0, sheet, NULL);
  g_autoptr (GError) error = NULL;

  sheet->cells = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  sheet->value = g_string_new (NULL);
  g_assert_true (g_markup_parse_context_parse (context, text, -1, &error));
  g_assert_no_error (error);
  return sheet;
}

static void
assert_cell (Sheet *sheet, const char *reference, const char *expected)
{
  g_assert_cmpstr (g_hash_table_lookup (sheet->cells, reference), ==, expected);
}

static WbLogRow *
a_row (double minutes)
{
  WbLogRow *row = wb_log_row_new ();

  row->experiment = g_strdup ("Autumn trial");
  row->vessel = g_strdup ("Tern \327\220");
  row->inner_diameter_mm = 76.2;
  row->wax = g_strdup ("Marsh soy & palm <x>");
  row->wick_series = g_strdup ("Sedge");
  row->wick_size = g_strdup ("S-3");
  row->load_pct = 8;
  row->sample = g_strdup ("=1+1");
  row->burn = 1;
  row->elapsed_min = minutes;
  row->poured_on = 20498;
  row->lit_at = (WbInstant) { now.utc_us, 3600, TRUE };
  row->values[WB_COLUMN_POOL_FULL] = 1;
  row->values[WB_COLUMN_FLAME_MM] = 17.25;
  row->values[WB_COLUMN_EVENT] = WB_EVENT_RELIT;
  row->note = g_strdup ("bell\a and\r\ntwo lines");
  row->extra = g_strsplit ("7,1", "|", -1);
  return row;
}

static void
test_readings (void)
{
  static const char *const extra[] = { "ph", NULL };
  g_autoptr (WbLogRow) row = a_row (60);
  g_autoptr (WbExchangeLogFill) fill = wb_exchange_log_fill_new (1);
  GFile *file = test_exchange_file ("", -1);
  g_autoptr (GError) error = NULL;

  wb_exchange_log_fill_add (fill, row);

  g_autoptr (WbExchangeXlsx) xlsx = wb_exchange_xlsx_new (file, NULL, fill, extra, now, NULL, &error);

  g_assert_no_error (error);
  g_assert_true (wb_exchange_xlsx_add_row (xlsx, row, &error));
  g_assert_true (wb_exchange_xlsx_close (xlsx, &error));
  g_assert_no_error (error);

  g_autoptr (Sheet) sheet = read_sheet (file, 5);

  g_assert_true (sheet->frozen);
  assert_cell (sheet, "A1", "\"Experiment");
  assert_cell (sheet, "C1", "\"Inner diameter (mm)");
  assert_cell (sheet, "C2", "76.2");
  assert_cell (sheet, "B2", "\"Tern \327\220");
  assert_cell (sheet, "D2", "\"Marsh soy & palm <x>");
  assert_cell (sheet, "H2", "\"=1+1");
  /* Serial numbers of ECMA-376's 1900 date system: 1 January 1970 is 25569, so 14 February 2026 is 25569 + 20498. */
  assert_cell (sheet, "I1", "\"Poured on");
  assert_cell (sheet, "I2", "46067");
  assert_cell (sheet, "K1", "\"Lit at, local time");

  double serial = g_ascii_strtod (g_hash_table_lookup (sheet->cells, "K2"), NULL);

  /* 2026-03-02 08:07 on the clock on the wall. */
  g_assert_cmpfloat_with_epsilon (serial, 46083 + (8 * 60 + 7) / 1440.0, 1e-9);
  assert_cell (sheet, "L2", "60");
  assert_cell (sheet, "M1", "\"Pool diameter (mm)");
  assert_cell (sheet, "M2", "\"full");
  assert_cell (sheet, "N2", "17.25");
  assert_cell (sheet, "O2", "\"relit");
  assert_cell (sheet, "P2", "\"bell\357\277\275 and\ntwo lines");
  assert_cell (sheet, "Q1", "\"ph");
  assert_cell (sheet, "Q2", "\"7,1");
  test_exchange_drop (file);
}

static void
test_results (void)
{
  WbDataset *data = test_exchange_dataset_new ();
  g_autoptr (WbCraftAnswer) answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 1, NULL, NULL);
  g_autoptr (WbExchangeLogFill) fill = wb_exchange_log_fill_new (0);
  GFile *file = test_exchange_file ("", -1);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbExchangeXlsx) xlsx = wb_exchange_xlsx_new (file, data->notebook, fill, NULL, now, NULL, &error);

  g_assert_no_error (error);
  g_assert_true (wb_exchange_xlsx_add_answer (xlsx, answer, &error));
  g_assert_true (wb_exchange_xlsx_close (xlsx, &error));

  g_autoptr (Sheet) about = read_sheet (file, 1);
  g_autoptr (Sheet) ranking = read_sheet (file, 2);
  g_autoptr (Sheet) figures = read_sheet (file, 4);
  g_autoptr (Sheet) readings = read_sheet (file, 5);

  g_assert_true (g_str_has_prefix (g_hash_table_lookup (about->cells, "B5"), "\"INVENTED DATA"));
  g_assert_cmpuint (ranking->rows, ==, 5);
  assert_cell (ranking, "A2", "\"Autumn trial");
  assert_cell (ranking, "B2", "\"Tern");
  assert_cell (ranking, "L1", "\"Ranked within");
  g_assert_nonnull (strstr (g_hash_table_lookup (ranking->cells, "L2"), "Tern"));
  assert_cell (ranking, "M1", "\"Rank");
  assert_cell (ranking, "M2", "1");
  assert_cell (ranking, "M3", "2");
  assert_cell (ranking, "AC1", "\"Invented data");
  assert_cell (ranking, "AC2", "\"invented data");
  g_assert_cmpuint (figures->rows, ==, 5);
  assert_cell (figures, "K2", "\"A-1");
  assert_cell (figures, "R1", "\"Pool at the end (mm)");
  g_assert_cmpuint (readings->rows, ==, 1);
  test_exchange_drop (file);
}

/* A cell of the sheet's first row by its head. */
static char *
get_by_head (Sheet *sheet, const char *head, guint row)
{
  GHashTableIter iter;
  gpointer reference, value;
  g_autofree char *wanted = g_strconcat ("\"", head, NULL);

  g_hash_table_iter_init (&iter, sheet->cells);
  while (g_hash_table_iter_next (&iter, &reference, &value))
    {
      const char *digits = reference;

      while (g_ascii_isalpha (*digits))
        digits++;
      if (strcmp (digits, "1") != 0 || strcmp (value, wanted) != 0)
        continue;

      g_autofree char *column = g_strndup (reference, (gsize) (digits - (char *) reference));
      g_autofree char *at = g_strdup_printf ("%s%u", column, row);

      return g_strdup (g_hash_table_lookup (sheet->cells, at));
    }
  g_error ("no head \"%s\"", head);
}

static void
assert_by_head (Sheet *sheet, const char *head, guint row, const char *expected)
{
  g_autofree char *value = get_by_head (sheet, head, row);

  g_assert_cmpstr (value, ==, expected);
}

/* Of four samples: one burning of a batch with lots, one set aside, one of which no burn is known, one kept; and a fifth cell left out. */
static WbDataset *
create_grid_data (void)
{
  WbDataset *data = test_exchange_dataset_new ();
  WbBatch *batch = wb_record_new (&wb_batch_type);
  WbSample *first = data->samples->pdata[0], *aside = data->samples->pdata[1], *kept = data->samples->pdata[3];
  WbCell *cell = wb_record_new (&wb_cell_type);

  batch->record.id = 900;
  batch->code = g_strdup ("M-1");
  batch->poured_on = 20498;
  batch->wax_lot = g_strdup ("W-7");
  g_ptr_array_add (data->batches, batch);
  first->batch = 900;
  first->fill_g = 180.5;
  first->wick_lot = g_strdup ("K-3");
  aside->set_aside_cause = WB_CAUSE_CAVITY;
  aside->set_aside = g_strdup ("hollow beside the wick");
  kept->retained = TRUE;
  kept->poured_on = 20499;
  /* the third and the fourth burn never were */
  g_ptr_array_set_size (data->burns, 2);
  g_array_set_size (data->burn_sample, 2);
  wb_readings_free (data->readings);
  data->readings = wb_readings_new ();
  for (guint burn = 0; burn < 2; burn++)
    wb_readings_set (data->readings, wb_readings_append (data->readings, 1000 + burn, burn, 60), WB_COLUMN_POOL_MM, 40);
  cell->record.id = 190;
  cell->wick_count = 1;
  cell->left_out = TRUE;
  g_ptr_array_add (data->cells, cell);
  g_ptr_array_add (data->cell_vessels, data->vessels->pdata[1]);
  g_ptr_array_add (data->cell_wicks, data->wicks->pdata[0]);
  g_ptr_array_add (data->cell_fragrances, NULL);
  return data;
}

static void
test_grid (void)
{
  WbDataset *data = create_grid_data ();
  g_autoptr (WbCraftAnswer) answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 1, NULL, NULL);
  g_autoptr (WbExchangeLogFill) fill = wb_exchange_log_fill_new (0);
  GFile *file = test_exchange_file ("", -1);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbExchangeXlsx) xlsx = wb_exchange_xlsx_new (file, data->notebook, fill, NULL, now, NULL, &error);

  g_assert_true (wb_exchange_xlsx_add_answer (xlsx, answer, &error));
  g_assert_true (wb_exchange_xlsx_close (xlsx, &error));

  g_autoptr (Sheet) grid = read_sheet (file, 3);

  g_assert_cmpuint (grid->rows, ==, 6);
  g_assert_true (grid->frozen);
  assert_by_head (grid, "Sample", 2, "\"A-1");
  assert_by_head (grid, "State", 2, "\"burning");
  assert_by_head (grid, "Batch", 2, "\"M-1");
  assert_by_head (grid, "Poured on", 2, "46067");
  assert_by_head (grid, "Wax", 2, "\"Marsh soy");
  assert_by_head (grid, "Wax lot", 2, "\"W-7");
  assert_by_head (grid, "Wick lot", 2, "\"K-3");
  assert_by_head (grid, "Fill (g)", 2, "180.5");
  assert_by_head (grid, "Burns", 2, "1");
  assert_by_head (grid, "Set aside because of", 2, NULL);
  assert_by_head (grid, "Set aside because of", 3, "\"cavity");
  assert_by_head (grid, "Set aside: why", 3, "\"hollow beside the wick");
  assert_by_head (grid, "State", 4, "\"planned");
  assert_by_head (grid, "Burns", 4, "0");
  assert_by_head (grid, "First lit at, local time", 4, NULL);
  assert_by_head (grid, "State", 5, "\"poured");
  assert_by_head (grid, "Kept as a reference (1 yes)", 5, "1");
  assert_by_head (grid, "Sample", 6, NULL);
  assert_by_head (grid, "State", 6, "\"left out");
  /* the last column, whatever is empty before it */
  for (guint row = 2; row <= 6; row++)
    assert_by_head (grid, "Invented data", row, "\"invented data");
  test_exchange_drop (file);
}

static void
test_second_sheet (void)
{
  g_autoptr (WbLogRow) row = a_row (0);
  g_autoptr (WbExchangeLogFill) fill = wb_exchange_log_fill_new (0);
  GFile *file = test_exchange_file ("", -1);
  g_autoptr (GError) error = NULL;

  wb_exchange_log_fill_add (fill, row);

  g_autoptr (WbExchangeXlsx) xlsx = wb_exchange_xlsx_new (file, NULL, fill, NULL, now, NULL, &error);

  wb_exchange_xlsx_set_rows_maximum (xlsx, 100);
  for (guint i = 0; i < 205; i++)
    {
      row->elapsed_min = i;
      g_assert_true (wb_exchange_xlsx_add_row (xlsx, row, &error));
    }
  g_assert_true (wb_exchange_xlsx_close (xlsx, &error));

  g_autoptr (Sheet) first = read_sheet (file, 5);
  g_autoptr (Sheet) second = read_sheet (file, 6);
  g_autoptr (Sheet) third = read_sheet (file, 7);
  g_autofree char *workbook = unzip (file, "xl/workbook.xml");

  g_assert_cmpuint (first->rows, ==, 101);
  g_assert_cmpuint (second->rows, ==, 101);
  g_assert_cmpuint (third->rows, ==, 6);
  assert_cell (second, "A1", "\"Experiment");
  assert_cell (second, "L2", "100");
  assert_cell (third, "L2", "200");
  g_assert_nonnull (strstr (workbook, "\"Readings 3\""));
  test_exchange_drop (file);
}

static void
test_unfinished (void)
{
  g_autoptr (WbExchangeLogFill) fill = wb_exchange_log_fill_new (0);
  g_autoptr (GError) error = NULL;
  g_autoptr (GFile) nowhere = g_file_new_for_path ("/nonexistent/out.xlsx");
  g_autofree char *bytes = NULL;
  GFile *file = test_exchange_file ("old", -1);
  WbExchangeXlsx *xlsx = wb_exchange_xlsx_new (file, NULL, fill, NULL, now, NULL, &error);

  g_assert_no_error (error);
  wb_exchange_xlsx_free (xlsx);
  g_assert_true (g_file_load_contents (file, NULL, &bytes, NULL, NULL, NULL));
  g_assert_cmpstr (bytes, ==, "old");
  g_assert_null (wb_exchange_xlsx_new (nowhere, NULL, fill, NULL, now, NULL, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_NOT_FOUND);
  test_exchange_drop (file);
}

void
test_exchange_add_xlsx (void)
{
  g_test_add_func ("/exchange/xlsx/readings-are-numbers-words-and-dates", test_readings);
  g_test_add_func ("/exchange/xlsx/results-stand-in-sheets-of-their-own", test_results);
  g_test_add_func ("/exchange/xlsx/the-grid-tells-what-became-of-each-sample", test_grid);
  g_test_add_func ("/exchange/xlsx/readings-go-on-in-a-second-sheet", test_second_sheet);
  g_test_add_func ("/exchange/xlsx/an-unfinished-one-leaves-the-old", test_unfinished);
}
