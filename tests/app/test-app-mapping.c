/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"
#include "wb-app-import.h"
#include "wb-app-mapping.h"
#include "wb-app-query.h"
#include "wb-app-record.h"

#include <glib/gstdio.h>

/* Sheets of the exchange room, invented: what they hold is told in the README beside them. */
static char *
data_path (const char *name)
{
  return g_test_build_filename (G_TEST_DIST, "exchange", "data", name, NULL);
}

/* In a folder that the test run throws away. */
static char *
new_path (const char *name)
{
  g_mkdir_with_parents (g_get_user_data_dir (), 0700);
  return g_build_filename (g_get_user_data_dir (), name, NULL);
}

static WbLogMapping *
load (const char *name)
{
  g_autofree char *path = data_path (name);
  g_autoptr (GError) error = NULL;
  WbLogMapping *mapping = wb_app_mapping_load (path, &error);

  g_assert_no_error (error);
  return mapping;
}

static WbAppImportSummary *
look (WbAppNotebook      *notebook,
      const char         *sheet,
      const WbLogMapping *mapping)
{
  g_autofree char *file = data_path (sheet);
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  WbAppImportSummary *summary;

  wb_app_import_look_async (notebook, file, mapping, NULL, app_keep_result_cb, &result);
  summary = wb_app_import_finish (notebook, app_wait_result (&result), &error);
  g_assert_no_error (error);
  return summary;
}

static guint
count_readings (WbAppNotebook *notebook)
{
  g_autoptr (GPtrArray) experiments = wb_app_query_experiments_sync (notebook, NULL);
  guint n = 0;

  for (guint i = 0; i < experiments->len; i++)
    n += wb_app_experiment_get_readings (experiments->pdata[i]);
  return n;
}

/* The sheet comes in as one entry by the way of every log, is known the second time, and can be taken back. */
static void
test_comes_in (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autoptr (WbLogMapping) mapping = load ("sheet-us-hours.mapping");
  g_autoptr (WbAppImportSummary) seen = look (notebook, "sheet-us-hours.csv", mapping), written = NULL, again = NULL;
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_cmpuint (seen->accepted, ==, 11);
  /* Three candles, four hours each but for one that was not looked at. */
  g_assert_cmpuint (seen->lines, ==, 3);
  g_assert_cmpuint (seen->rows, ==, 11);
  g_assert_cmpuint (seen->samples, ==, 3);
  g_assert_cmpuint (seen->refused_rows, ==, 0);
  g_assert_cmpint (wb_app_notebook_get_last_entry (notebook), ==, 1);
  wb_app_import_write_async (notebook, seen, NULL, app_keep_result_cb, &result);
  written = wb_app_import_finish (notebook, app_wait_result (&result), &error);
  g_assert_no_error (error);
  g_clear_object (&result);
  g_assert_cmpuint (written->accepted, ==, 11);
  g_assert_cmpint (written->entry, ==, 2);
  g_assert_cmpuint (count_readings (notebook), ==, 11);
  again = look (notebook, "sheet-us-hours.csv", mapping);
  g_assert_cmpuint (again->known, ==, 11);
  /* As of every import: taken back on the record's page. */
  wb_app_record_take_back_async (notebook, written->entry, NULL, app_keep_result_cb, &result);
  g_assert_cmpint (wb_app_notebook_save_finish (notebook, app_wait_result (&result), NULL, &error), >, 0);
  g_assert_no_error (error);
  g_assert_cmpuint (count_readings (notebook), ==, 0);
  g_clear_object (&result);
  app_close (notebook);
}

/* What contradicts another row is told by the sheet's own line and column as well. */
static void
test_contradiction (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autoptr (WbLogMapping) mapping = load ("sheet-refused.mapping");
  g_autoptr (WbAppImportSummary) seen = look (notebook, "sheet-refused.csv", mapping);
  const WbLogRemark *last = seen->refused->pdata[seen->refused->len - 1];

  g_assert_cmpuint (seen->accepted, ==, 1);
  g_assert_cmpuint (seen->refused_rows, ==, 19);
  g_assert_cmpuint (last->line, ==, 21);
  g_assert_cmpstr (last->column, ==, "Pool");
  g_assert_nonnull (strstr (last->rule, "line 20"));
  app_close (notebook);
}

/* A slip that only the other readings of its burn tell is a warning by the sheet's column. */
static void
test_slip (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *file = new_path ("slip.csv");
  g_autoptr (WbLogMapping) mapping = wb_log_mapping_new ();
  static const char *const fixed[][2] = {
    { "experiment", "T" }, { "vessel", "Tern" }, { "inner_diameter_mm", "76" }, { "wax", "Marsh soy" }, { "wick_series", "Sedge" },
    { "wick_size", "3" }, { "load_pct", "8" }, { "fragrance", "Hay" }, { "sample", "S" }, { "burn", "1" },
  };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (WbAppImportSummary) seen = NULL;
  gboolean found = FALSE;

  for (guint i = 0; i < G_N_ELEMENTS (fixed); i++)
    wb_log_mapping_set_fixed (mapping, fixed[i][0], fixed[i][1]);
  wb_log_mapping_add_column (mapping, "After", "elapsed_min");
  wb_log_mapping_add_column (mapping, "Flame now", "flame_mm");
  g_assert_true (g_file_set_contents (file, "After,Flame now\n30,20\n60,21\n90,210\n120,22\n150,21\n", -1, NULL));
  wb_app_import_look_async (notebook, file, mapping, NULL, app_keep_result_cb, &result);
  seen = wb_app_import_finish (notebook, app_wait_result (&result), NULL);
  g_assert_cmpuint (seen->accepted, ==, 5);
  for (guint i = 0; i < seen->warnings->len; i++)
    {
      const WbLogRemark *warning = seen->warnings->pdata[i];

      g_assert_cmpstr (warning->column, ==, "Flame now");
      found |= warning->line == 4;
    }
  g_assert_true (found);
  g_clear_object (&result);
  app_close (notebook);
}

/* Burns that a month's sheet counts go on after those of the month before; a candle not seen before begins at 1, and nothing is joined. */
static void
test_counted_on (void)
{
  g_autofree char *path = new_path ("counted.wickbench"), *first = new_path ("march.csv"), *second = new_path ("april.csv");
  g_autoptr (WbLogMapping) mapping = wb_log_mapping_new ();
  static const char *const fixed[][2] = {
    { "experiment", "T" }, { "vessel", "Tern" }, { "inner_diameter_mm", "76" }, { "wax", "Marsh soy" }, { "wick_series", "Sedge" },
    { "wick_size", "3" }, { "load_pct", "0" }, { "burn", WB_LOG_COUNTED },
  };
  g_autoptr (WbAppImportSummary) march = NULL, april = NULL, again = NULL;
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (fixed); i++)
    wb_log_mapping_set_fixed (mapping, fixed[i][0], fixed[i][1]);
  wb_log_mapping_add_column (mapping, "Candle", "sample");
  wb_log_mapping_add_column (mapping, "Lit", "lit_at");
  wb_log_mapping_add_column (mapping, "Min", "elapsed_min");
  wb_log_mapping_add_column (mapping, "Pool", "pool_mm");
  g_assert_true (g_file_set_contents (first, "Candle,Lit,Min,Pool\nA,2026-03-02 19:00,60,30\nA,2026-03-04 19:00,60,31\n", -1, NULL));
  g_assert_true (g_file_set_contents (second, "Candle,Lit,Min,Pool\nA,2026-04-02 19:00,60,32\nA,2026-04-04 19:00,60,33\nB,2026-04-04 19:00,60,33\n", -1, NULL));
  march = wb_app_import_sync (path, first, mapping, WB_APP_IMPORT_WRITE, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (march->accepted, ==, 2);
  april = wb_app_import_sync (path, second, mapping, WB_APP_IMPORT_WRITE, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (april->accepted, ==, 3);
  g_assert_cmpuint (april->refused_rows, ==, 0);
  g_assert_cmpuint (april->warnings->len, ==, 1);
  g_assert_nonnull (strstr (((const WbLogRemark *) april->warnings->pdata[0])->rule, "this is burn 3"));
  /* The same once more is the same. */
  again = wb_app_import_sync (path, second, mapping, WB_APP_IMPORT_DRY_RUN, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (again->known, ==, 3);
  g_assert_cmpuint (again->warnings->len, ==, 0);
}

static void
test_preview (void)
{
  g_autoptr (WbLogMapping) mapping = load ("sheet-refused.mapping");
  g_autofree char *file = data_path ("sheet-refused.csv");
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppMappingPreview) preview = NULL;
  const WbAppMappingRow *row;

  wb_app_mapping_preview_async (file, mapping, NULL, app_keep_result_cb, &result);
  preview = wb_app_mapping_preview_finish (app_wait_result (&result), &error);
  g_assert_no_error (error);
  g_assert_cmpuint (preview->rows->len, ==, 20);
  g_assert_cmpuint (preview->n_refused, ==, 18);
  g_assert_false (preview->more);
  row = preview->rows->pdata[0];
  g_assert_cmpuint (row->line, ==, 2);
  g_assert_null (row->cells);
  g_assert_cmpstr (row->column, ==, "Day");
  row = preview->rows->pdata[18];
  g_assert_cmpuint (row->line, ==, 20);
  g_assert_cmpuint (g_strv_length (row->cells), ==, g_strv_length (preview->titles));
  g_assert_true (g_strv_contains ((const char *const *) row->cells, "Fern tumbler"));
}

/* The beginning of a long sheet is enough. */
static void
test_preview_is_short (void)
{
  g_autofree char *file = new_path ("long.csv");
  g_autoptr (GString) text = g_string_new ("Day,Lit,Read,Code,Width,Pool,Soot,Weight,Spare\n");
  g_autoptr (WbLogMapping) mapping = load ("sheet-refused.mapping");
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (WbAppMappingPreview) preview = NULL;

  for (guint i = 0; i < 2 * WB_APP_MAPPING_PREVIEW_ROWS; i++)
    g_string_append (text, "3/2/2026,19:00,21:00,Rush-4/8%,70,50,0,,fine\n");
  g_assert_true (g_file_set_contents (file, text->str, -1, NULL));
  wb_app_mapping_preview_async (file, mapping, NULL, app_keep_result_cb, &result);
  preview = wb_app_mapping_preview_finish (app_wait_result (&result), NULL);
  g_assert_cmpuint (preview->rows->len, ==, WB_APP_MAPPING_PREVIEW_ROWS);
  g_assert_true (preview->more);
}

/* Kept under its name in the person's folder, found again there, and the same; a name may hold what a file's name may not. */
static void
test_kept (void)
{
  static const char *const names[] = { "Evening sheets", "../a/b", ".hidden", "Öl & Wachs" };
  g_autoptr (WbLogMapping) mapping = load ("sheet-comma.mapping");
  g_autoptr (GPtrArray) found = NULL;
  g_autoptr (GAsyncResult) listed = NULL;
  guint same = 0;

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autoptr (GAsyncResult) result = NULL;
      g_autoptr (GError) error = NULL;

      g_free (mapping->name);
      mapping->name = g_strdup (names[i]);
      wb_app_mapping_save_async (mapping, NULL, app_keep_result_cb, &result);
      g_assert_true (wb_app_mapping_save_finish (app_wait_result (&result), &error));
      g_assert_no_error (error);
    }
  wb_app_mapping_list_async (app_keep_result_cb, &listed);
  found = wb_app_mapping_list_finish (app_wait_result (&listed), NULL);
  g_assert_cmpuint (found->len, ==, G_N_ELEMENTS (names));
  for (guint i = 0; i < found->len; i++)
    {
      g_autofree char *one = NULL, *other = NULL;
      WbLogMapping *read = found->pdata[i];

      g_assert_true (g_strv_contains ((const char *const[]) { names[0], names[1], names[2], names[3], NULL }, read->name));
      g_free (mapping->name);
      mapping->name = g_strdup (read->name);
      one = wb_log_mapping_to_text (mapping);
      other = wb_log_mapping_to_text (read);
      same += strcmp (one, other) == 0;
    }
  g_assert_cmpuint (same, ==, G_N_ELEMENTS (names));
}

static void
test_files (void)
{
  g_autofree char *path = new_path ("mine.mapping"), *sheet = data_path ("sheet-comma.csv");
  g_autoptr (WbLogMapping) mapping = load ("sheet-comma.mapping"), read = NULL, none = NULL;
  g_autoptr (GAsyncResult) saved = NULL, loaded = NULL, refused = NULL;
  g_autoptr (GError) error = NULL;

  wb_app_mapping_save_async (mapping, path, app_keep_result_cb, &saved);
  g_assert_true (wb_app_mapping_save_finish (app_wait_result (&saved), &error));
  wb_app_mapping_load_async (path, app_keep_result_cb, &loaded);
  read = wb_app_mapping_load_finish (app_wait_result (&loaded), &error);
  g_assert_no_error (error);
  g_assert_cmpstr (read->name, ==, "Abende");
  none = wb_app_mapping_load (sheet, &error);
  g_assert_null (none);
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED);
  g_assert_nonnull (strstr (error->message, "sheet-comma.csv"));
  g_clear_error (&error);
  wb_app_mapping_save_async (mapping, "/no/such/folder/x.mapping", app_keep_result_cb, &refused);
  g_assert_false (wb_app_mapping_save_finish (app_wait_result (&refused), &error));
  g_assert_nonnull (strstr (error->message, "x.mapping"));
}

static void
test_guess (void)
{
  g_autofree char *file = data_path ("sheet-comma.csv");
  g_autoptr (GAsyncResult) result = NULL, missing = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbLogHead) head = NULL;
  g_autoptr (WbLogMapping) guess = NULL;

  wb_app_mapping_guess_async (file, NULL, NULL, app_keep_result_cb, &result);
  guess = wb_app_mapping_guess_finish (app_wait_result (&result), &head, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (guess->encoding, ==, "WINDOWS-1252");
  g_assert_cmpint (guess->delimiter, ==, ';');
  g_assert_cmpint (guess->decimal, ==, ',');
  g_assert_cmpint (guess->date_order, ==, WB_LOG_DATE_DAY_FIRST);
  g_assert_cmpstr (head->names[4], ==, "Größe");
  wb_app_mapping_guess_async ("/no/such/sheet.csv", NULL, NULL, app_keep_result_cb, &missing);
  g_assert_null (wb_app_mapping_guess_finish (app_wait_result (&missing), NULL, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_NOT_FOUND);
}

void
test_app_mapping_add (void)
{
  g_test_add_func ("/app/mapping/a-sheet-comes-in-by-the-way-of-every-log-and-can-be-taken-back", test_comes_in);
  g_test_add_func ("/app/mapping/a-contradiction-names-line-and-column-of-the-sheet", test_contradiction);
  g_test_add_func ("/app/mapping/a-slip-beside-its-burn-names-the-sheets-column", test_slip);
  g_test_add_func ("/app/mapping/a-later-sheet-goes-on-counting-burns", test_counted_on);
  g_test_add_func ("/app/mapping/the-preview-shows-rows-and-what-is-refused", test_preview);
  g_test_add_func ("/app/mapping/the-preview-of-a-long-sheet-is-its-beginning", test_preview_is_short);
  g_test_add_func ("/app/mapping/kept-by-name-it-is-found-again", test_kept);
  g_test_add_func ("/app/mapping/kept-as-a-file-it-is-read-again", test_files);
  g_test_add_func ("/app/mapping/the-shape-of-a-sheet-is-guessed", test_guess);
}
