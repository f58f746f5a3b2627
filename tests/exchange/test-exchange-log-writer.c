/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-exchange.h"

#include "wb-exchange-log-reader.h"
#include "wb-exchange-log-writer.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

typedef void (*EachRow) (const WbLogRow *row, gpointer data);

/* Every good row of the file. */
static void
read_rows (GFile *file, EachRow each, gpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbExchangeLogReader) reader = wb_exchange_log_reader_new (file, NULL, &error);
  g_autoptr (WbLogRow) row = wb_log_row_new ();
  g_autoptr (GPtrArray) remarks = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);
  WbExchangeLogResult result;

  g_assert_no_error (error);
  while ((result = wb_exchange_log_reader_next (reader, row, remarks, &error)) != WB_EXCHANGE_LOG_END)
    if (result == WB_EXCHANGE_LOG_ROW)
      each (row, data);
  g_assert_no_error (error);
}

static void
add_to_fill (const WbLogRow *row, gpointer data)
{
  wb_exchange_log_fill_add (data, row);
}

static void
add_to_writer (const WbLogRow *row, gpointer data)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (wb_exchange_log_writer_add (data, row, &error));
  g_assert_no_error (error);
}

/* The rows of one file into another, and its bytes. */
static char *
write_again (GFile *from, GFile *to)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbExchangeLogReader) reader = wb_exchange_log_reader_new (from, NULL, &error);
  const char *const *extra = wb_exchange_log_reader_get_extra (reader);
  g_autoptr (WbExchangeLogFill) fill = wb_exchange_log_fill_new (g_strv_length ((char **) extra));
  g_autoptr (WbExchangeLogWriter) writer = NULL;
  char *bytes = NULL;

  read_rows (from, add_to_fill, fill);
  writer = wb_exchange_log_writer_new (to, fill, extra, FALSE, NULL, &error);
  g_assert_no_error (error);
  read_rows (from, add_to_writer, writer);
  g_assert_true (wb_exchange_log_writer_close (writer, &error));
  g_assert_true (g_file_load_contents (to, NULL, &bytes, NULL, NULL, &error));
  g_assert_no_error (error);
  return bytes;
}

static void
assert_real (double a, double b)
{
  g_assert_true (isnan (a) ? isnan (b) : a == b);
}

static void
assert_rows_equal (const WbLogRow *a, const WbLogRow *b)
{
  for (guint i = 0; i < WB_EXCHANGE_LOG_N_COLUMNS; i++)
    {
      const WbExchangeLogColumn *column = wb_exchange_log_column_get (i);
      gconstpointer of_a = (const char *) a + column->offset, of_b = (const char *) b + column->offset;

      g_test_message ("%s", column->name);
      g_assert_cmpint (wb_exchange_log_column_is_filled (i, a), ==, wb_exchange_log_column_is_filled (i, b));
      if (!wb_exchange_log_column_is_filled (i, a))
        continue;
      if (column->kind == WB_EXCHANGE_LOG_NAME)
        g_assert_cmpstr (*(char *const *) of_a, ==, *(char *const *) of_b);
      else if (column->kind == WB_EXCHANGE_LOG_INTEGER)
        g_assert_cmpint (*(const gint64 *) of_a, ==, *(const gint64 *) of_b);
      else if (column->kind == WB_EXCHANGE_LOG_WORD || column->kind == WB_EXCHANGE_LOG_DAY)
        g_assert_cmpint (*(const int *) of_a, ==, *(const int *) of_b);
      else if (column->kind == WB_EXCHANGE_LOG_INSTANT)
        {
          g_assert_cmpint (((const WbInstant *) of_a)->utc_us, ==, ((const WbInstant *) of_b)->utc_us);
          g_assert_cmpint (((const WbInstant *) of_a)->offset_s, ==, ((const WbInstant *) of_b)->offset_s);
        }
      else
        assert_real (*(const double *) of_a, *(const double *) of_b);
    }
  assert_real (a->values[WB_COLUMN_POOL_FULL], b->values[WB_COLUMN_POOL_FULL]);
}

static void
test_samples_come_back (gconstpointer name)
{
  g_autoptr (GFile) sample = test_exchange_data (name);
  GFile *once = test_exchange_file ("", -1), *twice = test_exchange_file ("", -1);
  g_autofree char *first = write_again (sample, once), *second = write_again (once, twice);

  g_assert_cmpstr (first, ==, second);
  /* Columns that no row fills are left out: all rows have the usual basis. */
  g_assert_null (strstr (first, "load_basis"));
  g_assert_true (g_str_has_prefix (first, "experiment,vessel,inner_diameter_mm,wax,wick_series,wick_size,wick_step,load_pct,"));
  test_exchange_drop (once);
  test_exchange_drop (twice);
}

/* A row with something in every column. */
static WbLogRow *
full_row (guint turn, GRand *rand)
{
  static const char *const texts[] = {
    "plain", "=1+1", "'=1+1", "''-x", "'plain", "a,b", "say \"so\"", "\"", "two\nlines", "two\r\nlines", "semi;colon", "tab\there",
    "\327\220\327\221\327\222", "\360\237\225\257\357\270\217 lit", "-5", "+3", "@home", "'", "''", "caf\303\251", "1,5", "full",
  };
  WbLogRow *row = wb_log_row_new ();

  for (guint i = 0; i < WB_EXCHANGE_LOG_N_COLUMNS; i++)
    {
      const WbExchangeLogColumn *column = wb_exchange_log_column_get (i);
      gpointer at = (char *) row + column->offset;
      double span = g_rand_double (rand) * (column->maximum - column->minimum) + column->minimum;

      if (!column->required && g_rand_int_range (rand, 0, 3) == 0)
        continue;
      switch (column->kind)
        {
        case WB_EXCHANGE_LOG_NAME:
          *(char **) at = g_strdup (texts[g_rand_int_range (rand, 0, G_N_ELEMENTS (texts))]);
          break;
        case WB_EXCHANGE_LOG_REAL:
        case WB_EXCHANGE_LOG_READ_REAL:
          *(double *) at = turn % 2 == 0 ? span : floor (span * 10) / 10 >= column->minimum ? floor (span * 10) / 10 : span;
          break;
        case WB_EXCHANGE_LOG_INTEGER:
          *(gint64 *) at = (gint64) span;
          break;
        case WB_EXCHANGE_LOG_READ_WHOLE:
          *(double *) at = floor (span);
          break;
        case WB_EXCHANGE_LOG_WORD:
          *(int *) at = g_rand_int_range (rand, 0, 2);
          break;
        case WB_EXCHANGE_LOG_READ_WORD:
          *(double *) at = g_rand_int_range (rand, 0, (int) column->maximum + 1);
          break;
        case WB_EXCHANGE_LOG_DAY:
          *(WbDay *) at = 20000 + g_rand_int_range (rand, 0, 1000);
          break;
        case WB_EXCHANGE_LOG_INSTANT:
          *(WbInstant *) at = (WbInstant) { 1772435220 * G_GINT64_CONSTANT (1000000) + g_rand_int (rand) * 1000000ll,
                                            60 * g_rand_int_range (rand, -700, 800), TRUE };
          break;
        case WB_EXCHANGE_LOG_READ_POOL:
        default:
          break;
        }
    }
  if (turn % 3 == 0)
    row->values[WB_COLUMN_POOL_MM] = row->inner_diameter_mm * g_rand_double (rand);
  else if (turn % 3 == 1)
    {
      row->values[WB_COLUMN_POOL_FULL] = 2;
      row->values[WB_COLUMN_POOL_B_MM] = row->inner_diameter_mm / 2;
    }
  for (guint c = WB_COLUMN_RING_12_MM; c <= WB_COLUMN_RING_9_MM; c++)
    row->values[c] = turn % 3 == 2 ? g_rand_double (rand) * row->inner_diameter_mm / 2 : NAN;
  if (row->wick_count != WB_INTEGER_NONE && row->values[WB_COLUMN_WICK_NUMBER] > row->wick_count)
    row->values[WB_COLUMN_WICK_NUMBER] = row->wick_count;
  row->extra = g_new0 (char *, 3);
  row->extra[0] = g_strdup (turn % 2 == 0 ? " kept blanks " : "");
  row->extra[1] = g_strdup (texts[turn % G_N_ELEMENTS (texts)]);
  return row;
}

static void
test_rows_come_back (void)
{
  enum { N = 400 };
  static const char *const extra[] = { "=ph", "my \"own\", column", NULL };
  g_autoptr (GRand) rand = g_rand_new_with_seed (12);
  g_autoptr (GPtrArray) rows = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_row_free);
  g_autoptr (WbExchangeLogFill) fill = wb_exchange_log_fill_new (2);
  g_autoptr (GPtrArray) remarks = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);
  g_autoptr (WbLogRow) back = wb_log_row_new ();
  g_autoptr (GError) error = NULL;
  GFile *file = test_exchange_file ("", -1);

  for (guint i = 0; i < N; i++)
    {
      g_ptr_array_add (rows, full_row (i, rand));
      wb_exchange_log_fill_add (fill, rows->pdata[i]);
    }

  g_autoptr (WbExchangeLogWriter) writer = wb_exchange_log_writer_new (file, fill, extra, FALSE, NULL, &error);

  g_assert_no_error (error);
  for (guint i = 0; i < N; i++)
    g_assert_true (wb_exchange_log_writer_add (writer, rows->pdata[i], &error));
  g_assert_true (wb_exchange_log_writer_close (writer, &error));

  g_autoptr (WbExchangeLogReader) reader = wb_exchange_log_reader_new (file, NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpstrv (wb_exchange_log_reader_get_extra (reader), extra);
  for (guint i = 0; i < N; i++)
    {
      const WbLogRow *row = rows->pdata[i];

      g_assert_cmpint (wb_exchange_log_reader_next (reader, back, remarks, &error), ==, WB_EXCHANGE_LOG_ROW);
      assert_rows_equal (row, back);
      g_assert_cmpstrv (row->extra, back->extra);
    }
  test_exchange_drop (file);
}

static WbLogRow *
plain_row (void)
{
  WbLogRow *row = wb_log_row_new ();

  row->experiment = g_strdup ("Trial");
  row->vessel = g_strdup ("Tern");
  row->inner_diameter_mm = 76.2;
  row->wax = g_strdup ("Marsh soy");
  row->wick_series = g_strdup ("Sedge");
  row->wick_size = g_strdup ("S-3");
  row->load_pct = 8;
  row->sample = g_strdup ("S3-1");
  row->burn = 1;
  row->elapsed_min = 0;
  return row;
}

static char *
write_one (const WbLogRow *row, const char *const *extra, gboolean invented)
{
  g_autoptr (WbExchangeLogFill) fill = wb_exchange_log_fill_new (extra != NULL ? g_strv_length ((char **) extra) : 0);
  GFile *file = test_exchange_file ("", -1);
  g_autoptr (GError) error = NULL;
  char *bytes = NULL;

  wb_exchange_log_fill_add (fill, row);

  g_autoptr (WbExchangeLogWriter) writer = wb_exchange_log_writer_new (file, fill, extra, invented, NULL, &error);

  g_assert_no_error (error);
  g_assert_true (wb_exchange_log_writer_add (writer, row, &error));
  g_assert_true (wb_exchange_log_writer_close (writer, &error));
  g_assert_true (g_file_load_contents (file, NULL, &bytes, NULL, NULL, &error));
  test_exchange_drop (file);
  return bytes;
}

static void
test_exact_bytes (void)
{
  static const char *const extra[] = { "ph", "unused", NULL };
  g_autoptr (WbLogRow) row = plain_row ();

  row->wick_count = 1;
  row->load_basis = WB_BASIS_WAX;
  row->burn_kind = WB_BURN_STANDARD;
  row->values[WB_COLUMN_FLAME_DATUM] = 0;
  row->values[WB_COLUMN_FLAME_MM] = 17.25;
  row->values[WB_COLUMN_SOOT] = 0;
  row->note = g_strdup ("=cmd");
  row->extra = g_strsplit ("-7|", "|", -1);

  g_autofree char *bytes = write_one (row, extra, FALSE);

  g_assert_cmpstr (bytes, ==,
                   "experiment,vessel,inner_diameter_mm,wax,wick_series,wick_size,load_pct,sample,burn,elapsed_min,flame_mm,"
                   "soot,note,ph\r\n"
                   "Trial,Tern,76.2,Marsh soy,Sedge,S-3,8,S3-1,1,0,17.25,0,'=cmd,-7\r\n");
}

static void
test_invented_is_told (void)
{
  g_autoptr (WbLogRow) row = plain_row ();
  g_autofree char *bytes = write_one (row, NULL, TRUE);
  GFile *file = test_exchange_file (bytes, -1);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbExchangeLogReader) reader = wb_exchange_log_reader_new (file, NULL, &error);
  g_autoptr (WbExchangeLogReader) dropping = wb_exchange_log_reader_new (file, NULL, &error);
  g_autoptr (GPtrArray) remarks = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);
  g_autoptr (WbLogRow) back = wb_log_row_new ();
  g_autoptr (WbLogRow) bare = wb_log_row_new ();

  g_assert_true (g_str_has_suffix (bytes, ",0,yes\r\n"));
  g_assert_nonnull (strstr (bytes, ",invented_data\r\n"));
  /* Brought into another notebook it is an unknown column that is kept, so that it says so again. */
  g_assert_cmpint (wb_exchange_log_reader_next (reader, back, remarks, &error), ==, WB_EXCHANGE_LOG_ROW);
  g_assert_cmpstr (back->extra[0], ==, "yes");

  g_autofree char *again = write_one (back, wb_exchange_log_reader_get_extra (reader), FALSE);
  g_autofree char *both = write_one (back, wb_exchange_log_reader_get_extra (reader), TRUE);

  g_assert_cmpstr (again, ==, bytes);
  g_assert_cmpstr (both, ==, bytes);
  wb_exchange_log_reader_drop_mark (dropping);
  g_assert_cmpint (wb_exchange_log_reader_next (dropping, bare, remarks, &error), ==, WB_EXCHANGE_LOG_ROW);
  g_assert_null (bare->extra);
  g_assert_null (wb_exchange_log_reader_get_extra (dropping)[0]);
  test_exchange_drop (file);
}

static guint
count_files (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  guint n = 0;

  while (g_dir_read_name (dir) != NULL)
    n++;
  return n;
}

static void
test_unfinished_leaves_the_old (void)
{
  g_autofree char *folder = g_dir_make_tmp ("wickbench-test-XXXXXX", NULL), *path = g_build_filename (folder, "log.csv", NULL);
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (WbExchangeLogFill) fill = wb_exchange_log_fill_new (0);
  g_autoptr (WbLogRow) row = plain_row ();
  g_autoptr (GError) error = NULL;
  g_autofree char *bytes = NULL;

  for (guint turn = 0; turn < 2; turn++)
    {
      WbExchangeLogWriter *writer = wb_exchange_log_writer_new (file, fill, NULL, FALSE, NULL, &error);

      g_assert_no_error (error);
      for (guint i = 0; i < 5000; i++)
        g_assert_true (wb_exchange_log_writer_add (writer, row, &error));
      wb_exchange_log_writer_free (writer);
      if (turn == 0)
        {
          g_assert_cmpuint (count_files (folder), ==, 0);
          g_assert_true (g_file_set_contents (path, "old", -1, NULL));
        }
    }
  g_assert_cmpuint (count_files (folder), ==, 1);
  g_assert_true (g_file_get_contents (path, &bytes, NULL, NULL));
  g_assert_cmpstr (bytes, ==, "old");
  g_file_delete (file, NULL, NULL);
  g_assert_cmpint (g_remove (folder), ==, 0);
}

static void
test_no_such_folder (void)
{
  g_autoptr (GFile) file = g_file_new_for_path ("/nonexistent/log.csv");
  g_autoptr (WbExchangeLogFill) fill = wb_exchange_log_fill_new (0);
  g_autoptr (GError) error = NULL;

  g_assert_null (wb_exchange_log_writer_new (file, fill, NULL, FALSE, NULL, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_NOT_FOUND);
}

void
test_exchange_add_log_writer (void)
{
  g_test_add_data_func ("/exchange/log-writer/the-clean-sample-comes-back", "burn-log-clean.csv", test_samples_come_back);
  g_test_add_data_func ("/exchange/log-writer/the-messy-sample-comes-back", "burn-log-messy.csv", test_samples_come_back);
  g_test_add_func ("/exchange/log-writer/every-kind-of-cell-comes-back", test_rows_come_back);
  g_test_add_func ("/exchange/log-writer/defaults-and-empty-columns-are-left-out", test_exact_bytes);
  g_test_add_func ("/exchange/log-writer/invented-data-say-so", test_invented_is_told);
  g_test_add_func ("/exchange/log-writer/an-unfinished-file-leaves-the-old-one", test_unfinished_leaves_the_old);
  g_test_add_func ("/exchange/log-writer/a-missing-folder-is-told", test_no_such_folder);
}
