/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-exchange.h"

#include "wb-exchange-error.h"
#include "wb-exchange-logger.h"

#include <math.h>
#include <string.h>

/* The files' values come from this curve, rounded to a tenth; see data/README.md. */
static double
curve (double minute)
{
  return 21.5 + 45.0 * (1.0 - exp (-minute / 55.0));
}

static WbInstant
lit_at (const char *text)
{
  WbInstant instant;

  g_assert_true (wb_instant_parse (text, &instant, NULL));
  return instant;
}

/* A file, its bytes, and what is proposed for it. */
typedef struct
{
  GFile          *file;
  GBytes         *bytes;
  char          **names;
  WbLoggerChoice *choice;
  WbInstant       lit_at;
} Sheet;

static void
sheet_open (Sheet      *sheet,
            const char *name,
            const char *lit)
{
  g_autoptr (GError) error = NULL;

  sheet->file = test_exchange_data (name);
  sheet->lit_at = lit_at (lit);
  sheet->bytes = wb_exchange_logger_load (sheet->file, NULL, &error);
  g_assert_no_error (error);
  sheet->choice = wb_exchange_logger_guess (sheet->file, sheet->bytes, NULL, sheet->lit_at, &sheet->names, NULL, &error);
  g_assert_no_error (error);
}

static void
sheet_close (Sheet *sheet)
{
  g_object_unref (sheet->file);
  g_bytes_unref (sheet->bytes);
  g_strfreev (sheet->names);
  wb_logger_choice_free (sheet->choice);
}

static WbLogger *
sheet_read (Sheet *sheet)
{
  g_autoptr (GError) error = NULL;
  WbLogger *logger = wb_exchange_logger_read (sheet->bytes, "it", sheet->choice, sheet->lit_at, NULL, &error);

  g_assert_no_error (error);
  return logger;
}

static void
assert_refused (const WbLogger *logger,
                guint           n,
                guint64         line,
                const char     *column,
                const char     *rule)
{
  const WbLoggerRefusal *refusal;

  g_assert_cmpuint (n, <, logger->refused->len);
  refusal = g_ptr_array_index (logger->refused, n);
  g_assert_cmpuint (refusal->line, ==, line);
  g_assert_cmpstr (refusal->column, ==, column);
  if (strstr (refusal->rule, rule) == NULL)
    g_error ("“%s” does not say “%s”", refusal->rule, rule);
}

static void
test_comma (void)
{
  Sheet sheet;
  g_autoptr (WbLogger) logger = NULL;

  sheet_open (&sheet, "logger-comma.csv", "2026-03-02T19:00:00+01:00");
  g_assert_cmpint (sheet.choice->delimiter, ==, ';');
  g_assert_cmpint (sheet.choice->decimal, ==, ',');
  g_assert_cmpuint (sheet.choice->header_line, ==, 4);
  g_assert_cmpint (sheet.choice->form, ==, WB_LOGGER_DATE_TIME);
  g_assert_cmpstr (sheet.choice->time, ==, "Datum und Uhrzeit");
  g_assert_null (sheet.choice->day);
  /* "02.03." is March by the burn's day, and not February. */
  g_assert_cmpint (sheet.choice->date_order, ==, WB_LOG_DATE_DAY_FIRST);
  g_assert_cmpuint (sheet.choice->n_columns, ==, 2);
  g_assert_cmpstr (sheet.choice->columns[0].name, ==, "Wand (°C)");
  g_assert_cmpint (sheet.choice->columns[0].place, ==, WB_LOGGER_WALL);
  g_assert_cmpint (sheet.choice->columns[1].place, ==, WB_LOGGER_ROOM);
  g_assert_cmpuint (g_strv_length (sheet.names), ==, 4);

  logger = sheet_read (&sheet);
  /* 27 rows, of which three are refused */
  g_assert_cmpuint (logger->n, ==, 24);
  g_assert_cmpuint (logger->n_refused, ==, 3);
  assert_refused (logger, 0, 12, "Wand (°C)", "“Fehler”: a number with a decimal comma");
  assert_refused (logger, 1, 24, "Datum und Uhrzeit", "before that of the row above");
  assert_refused (logger, 2, 26, "Wand (°C)", "“999,9”");
  g_assert_cmpfloat (logger->minutes[0], ==, -5.0);
  g_assert_cmpfloat_with_epsilon (logger->values[0][0], 21.5, 1e-9);
  for (guint i = 1; i < logger->n; i++)
    {
      g_assert_cmpfloat (logger->minutes[i], >=, logger->minutes[i - 1]);
      if (logger->minutes[i] == 60.0)
        g_assert_true (isnan (logger->values[0][i]));
      else
        g_assert_cmpfloat_with_epsilon (logger->values[0][i], curve (logger->minutes[i]), 0.0501);
    }
  g_assert_cmpfloat (logger->minutes[logger->n - 1], ==, 125.0);
  sheet_close (&sheet);
}

static void
test_seconds (void)
{
  Sheet sheet;
  g_autoptr (WbLogger) logger = NULL;

  sheet_open (&sheet, "logger-seconds.tsv", "2026-03-02T19:00:00+01:00");
  g_assert_cmpint (sheet.choice->delimiter, ==, '\t');
  g_assert_cmpint (sheet.choice->form, ==, WB_LOGGER_SECONDS);
  g_assert_cmpint (sheet.choice->unit, ==, WB_UNIT_FAHRENHEIT);
  g_assert_cmpuint (sheet.choice->n_columns, ==, 2);
  g_assert_cmpint (sheet.choice->columns[0].place, ==, WB_LOGGER_BASE);
  g_assert_cmpint (sheet.choice->columns[1].place, ==, WB_LOGGER_WALL);
  /* Started four minutes after the lighting. */
  sheet.choice->offset_min = 4.0;
  logger = sheet_read (&sheet);
  g_assert_cmpuint (logger->n, ==, 31);
  g_assert_cmpuint (logger->n_refused, ==, 0);
  for (guint i = 0; i < logger->n; i++)
    {
      g_assert_cmpfloat_with_epsilon (logger->minutes[i], 4.0 + 2.0 * i, 1e-9);
      g_assert_cmpfloat_with_epsilon (logger->values[1][i], curve (2.0 * i), 0.01);
    }
  sheet_close (&sheet);
}

static void
test_two_columns (void)
{
  Sheet sheet;
  g_autoptr (WbLogger) logger = NULL;

  sheet_open (&sheet, "logger-two-columns.csv", "2026-03-02T23:30:00-05:00");
  g_assert_cmpstr (sheet.choice->day, ==, "Date");
  g_assert_cmpstr (sheet.choice->time, ==, "Time");
  g_assert_cmpint (sheet.choice->date_order, ==, WB_LOG_DATE_MONTH_FIRST);
  g_assert_cmpuint (sheet.choice->n_columns, ==, 1);
  g_assert_cmpint (sheet.choice->columns[0].place, ==, WB_LOGGER_WALL);
  logger = sheet_read (&sheet);
  g_assert_cmpuint (logger->n, ==, 7);
  for (guint i = 0; i < logger->n; i++)
    g_assert_cmpfloat_with_epsilon (logger->minutes[i], 10.0 * i, 1e-9);
  sheet_close (&sheet);
}

/* As many commas as semicolons in a row: they are decimal signs all the same. */
static void
test_commas_in_numbers (void)
{
  GFile *file = test_exchange_file ("Invented;;;\n\nNr;Minutes;Wall (C);Room (C)\n1;0,25;21,5;20,9\n2;0,50;22,0;21,0\n3;0,75;22,4;21,0\n", -1);
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = wb_exchange_logger_load (file, NULL, &error);
  g_autoptr (WbLoggerChoice) choice = wb_exchange_logger_guess (file, bytes, NULL, WB_INSTANT_NONE, NULL, NULL, &error);
  g_autoptr (WbLogger) logger = NULL;

  g_assert_no_error (error);
  g_assert_cmpint (choice->delimiter, ==, ';');
  g_assert_cmpint (choice->decimal, ==, ',');
  g_assert_cmpuint (choice->header_line, ==, 3);
  g_assert_cmpstr (choice->time, ==, "Minutes");
  logger = wb_exchange_logger_read (bytes, "it", choice, WB_INSTANT_NONE, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (logger->n, ==, 3);
  g_assert_cmpfloat (logger->minutes[1], ==, 0.5);
  g_assert_cmpfloat_with_epsilon (logger->values[0][2], 22.4, 1e-9);
  test_exchange_drop (file);
}

static void
test_clock (void)
{
  /* Lit before and after the first row, on either side of midnight. */
  const struct { const char *lit; double first; } cases[] = {
    { "2026-03-02T23:30:00+01:00", -10.0 },
    { "2026-03-02T22:20:00+01:00", 60.0 },
    { "2026-03-03T00:20:00+01:00", -60.0 },
  };

  for (guint k = 0; k < G_N_ELEMENTS (cases); k++)
    {
      Sheet sheet;
      g_autoptr (WbLogger) logger = NULL;

      sheet_open (&sheet, "logger-clock.csv", cases[k].lit);
      g_assert_cmpint (sheet.choice->form, ==, WB_LOGGER_TIME);
      logger = sheet_read (&sheet);
      g_assert_cmpuint (logger->n, ==, 8);
      for (guint i = 0; i < logger->n; i++)
        g_assert_cmpfloat_with_epsilon (logger->minutes[i], cases[k].first + 10.0 * i, 1e-9);
      sheet_close (&sheet);
    }
}

/* The text in that encoding, guessed and read; `choice` is what was guessed. */
static WbLogger *
read_text (const char      *text,
           const char      *encoding,
           const char      *lit,
           WbLoggerChoice **choice)
{
  g_autoptr (GError) error = NULL;
  gsize length;
  g_autofree char *converted = g_convert (text, -1, encoding, "UTF-8", NULL, &length, &error);
  GFile *file;
  g_autoptr (GBytes) bytes = NULL;
  WbLogger *logger;

  g_assert_no_error (error);
  file = test_exchange_file (converted, length);
  bytes = wb_exchange_logger_load (file, NULL, &error);
  g_assert_no_error (error);
  *choice = wb_exchange_logger_guess (file, bytes, NULL, lit_at (lit), NULL, NULL, &error);
  g_assert_no_error (error);
  logger = wb_exchange_logger_read (bytes, "it", *choice, lit_at (lit), NULL, &error);
  g_assert_no_error (error);
  test_exchange_drop (file);
  return logger;
}

/* The same table as three programs save it; its unit stands in its header. iconv's UTF-16 begins with a mark of its order. */
static void
test_encodings (void)
{
  static const char *const encodings[] = { "UTF-8", "UTF-16", "UTF-16LE", "WINDOWS-1252" };

  for (guint i = 0; i < G_N_ELEMENTS (encodings); i++)
    {
      g_autoptr (WbLoggerChoice) choice = NULL;
      g_autoptr (WbLogger) logger = read_text ("Minuten;Gefäß außen °F\n0;68,0\n30;104,0\n60;212,0\n", encodings[i], "2026-03-02T19:00:00+01:00", &choice);

      g_assert_cmpstr (choice->encoding, ==, encodings[i]);
      g_assert_cmpstr (choice->columns[0].name, ==, "Gefäß außen °F");
      g_assert_cmpint (choice->unit, ==, WB_UNIT_FAHRENHEIT);
      g_assert_cmpuint (logger->n, ==, 3);
      /* 212 °F is 100 °C: water boils */
      g_assert_cmpfloat_with_epsilon (logger->values[0][2], 100.0, 1e-9);
    }
}

/* "F" behind a blank is a unit, too; one that ends in another word is none. */
static void
test_unit_of_the_header (void)
{
  const struct { const char *header; WbUnit unit; } cases[] = {
    { "Wall temp F", WB_UNIT_FAHRENHEIT }, { "wall_f", WB_UNIT_FAHRENHEIT }, { "Temp shelf", WB_UNIT_CELSIUS }, { "Wall temp C", WB_UNIT_CELSIUS },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = g_strdup_printf ("Minutes,%s\n0,70\n10,80\n20,90\n", cases[i].header);
      g_autoptr (WbLoggerChoice) choice = NULL;
      g_autoptr (WbLogger) logger = read_text (text, "UTF-8", "2026-03-02T19:00:00+01:00", &choice);

      g_assert_cmpint (choice->unit, ==, cases[i].unit);
    }
}

/* The newest row first, past midnight, by the time of day alone and with the day; one row out of order is named. */
static void
test_newest_first (void)
{
  static const char *const files[] = {
    "Time,Wall\n00:20:00,61\n00:10:00,60\n00:00:00,59\n23:50:00,58\n23:55:00,99\n23:40:00,57\n23:30:00,56\n",
    "Time,Wall\n2026-03-03 00:20:00,61\n2026-03-03 00:10:00,60\n2026-03-03 00:00:00,59\n2026-03-02 23:50:00,58\n2026-03-02 23:55:00,99\n"
    "2026-03-02 23:40:00,57\n2026-03-02 23:30:00,56\n",
  };

  for (guint k = 0; k < G_N_ELEMENTS (files); k++)
    {
      g_autoptr (WbLoggerChoice) choice = NULL;
      g_autoptr (WbLogger) logger = read_text (files[k], "UTF-8", "2026-03-02T23:30:00+01:00", &choice);

      g_assert_cmpint (choice->form, ==, k == 0 ? WB_LOGGER_TIME : WB_LOGGER_DATE_TIME);
      g_assert_cmpuint (logger->n, ==, 6);
      for (guint i = 0; i < logger->n; i++)
        {
          /* 23:55 came before 23:50 was told: of the two that cannot both be, the one farther down stands */
          static const double minutes[] = { 0, 10, 25, 30, 40, 50 };
          static const double values[] = { 56, 57, 99, 59, 60, 61 };

          g_assert_cmpfloat_with_epsilon (logger->minutes[i], minutes[i], 1e-9);
          g_assert_cmpfloat (logger->values[0][i], ==, values[i]);
        }
      assert_refused (logger, 0, 5, "Time", "before that of the row below");
    }
}

static void
test_kept (void)
{
  Sheet sheet;
  g_autoptr (GBytes) packed = NULL, bytes = NULL, cut = NULL;
  g_autoptr (WbLoggerChoice) choice = NULL, none = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *before = NULL, *after = NULL;

  sheet_open (&sheet, "logger-two-columns.csv", "2026-03-02T23:30:00-05:00");
  sheet.choice->offset_min = -2.5;
  packed = wb_exchange_logger_pack (sheet.bytes, sheet.choice);
  bytes = wb_exchange_logger_unpack (packed, "it", &choice, &error);
  g_assert_no_error (error);
  g_assert_true (g_bytes_equal (bytes, sheet.bytes));
  before = wb_logger_choice_to_text (sheet.choice);
  after = wb_logger_choice_to_text (choice);
  g_assert_cmpstr (before, ==, after);
  g_assert_cmpfloat (choice->offset_min, ==, -2.5);
  /* What was not packed here. */
  g_assert_null (wb_exchange_logger_unpack (sheet.bytes, "it", &none, &error));
  g_assert_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT);
  g_clear_error (&error);
  cut = g_bytes_new_from_bytes (packed, 0, 60);
  g_assert_null (wb_exchange_logger_unpack (cut, "it", &none, &error));
  g_assert_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT);
  sheet_close (&sheet);
}

/* The error of reading that text by that choice. */
static void
assert_error_says (const char           *text,
                   const WbLoggerChoice *choice,
                   const char           *part)
{
  g_autoptr (GBytes) bytes = g_bytes_new (text, strlen (text));
  g_autoptr (GError) error = NULL;

  g_assert_null (wb_exchange_logger_read (bytes, "it.csv", choice, lit_at ("2026-03-02T19:00:00Z"), NULL, &error));
  g_assert_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT);
  if (strstr (error->message, part) == NULL || strstr (error->message, "“it.csv”") == NULL)
    g_error ("“%s” does not say “%s”", error->message, part);
}

static void
test_refusals (void)
{
  g_autoptr (WbLoggerChoice) choice = wb_logger_choice_new ();
  g_autoptr (GString) long_one = g_string_new ("min,T\n");
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = g_bytes_new_static ("min,T\n1,20\n", 11);

  g_free (choice->time);
  choice->time = g_strdup ("min");
  choice->form = WB_LOGGER_MINUTES;
  wb_logger_choice_add (choice, "T", WB_LOGGER_WALL);
  assert_error_says ("min,U\n1,20\n", choice, "line 1: no column is named “T”");
  assert_error_says ("min,T\n", choice, "no row stands below");
  assert_error_says ("min,T\none,20\n", choice, "Line 2, min: “one”");
  assert_error_says ("min,T\n1,\"20\n", choice, "Line 2");
  for (guint i = 0; i <= WB_EXCHANGE_LOGGER_ROWS; i++)
    g_string_append_printf (long_one, "%u,20\n", i);
  assert_error_says (long_one->str, choice, "more than 200000 rows");
  /* Times of day need a lighting. */
  choice->form = WB_LOGGER_TIME;
  g_assert_null (wb_exchange_logger_read (bytes, "it.csv", choice, WB_INSTANT_NONE, NULL, &error));
  g_assert_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT);
}

static void
assert_load_says (GFile      *file,
                  const char *part)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (wb_exchange_logger_load (file, NULL, &error));
  g_assert_nonnull (error);
  if (strstr (error->message, part) == NULL)
    g_error ("“%s” does not say “%s”", error->message, part);
}

static void
test_files (void)
{
  g_autofree char *large = g_strnfill (WB_EXCHANGE_LOGGER_BYTES + 1, '1');
  GFile *file = test_exchange_file (large, -1), *empty = test_exchange_file ("", 0);
  g_autoptr (GFile) folder = g_file_new_for_path (g_get_tmp_dir ());

  assert_load_says (file, "larger than 8 MiB");
  assert_load_says (empty, "is empty");
  assert_load_says (folder, "no file that holds a table");
  test_exchange_drop (file);
  test_exchange_drop (empty);
}

void
test_exchange_add_logger (void)
{
  g_test_add_func ("/exchange/logger/titles-semicolons-and-decimal-commas-are-read-and-broken-rows-named", test_comma);
  g_test_add_func ("/exchange/logger/seconds-since-its-start-in-fahrenheit", test_seconds);
  g_test_add_func ("/exchange/logger/day-and-time-in-two-columns-past-midnight", test_two_columns);
  g_test_add_func ("/exchange/logger/decimal-commas-are-not-taken-for-delimiters", test_commas_in_numbers);
  g_test_add_func ("/exchange/logger/times-of-day-find-their-day-by-the-lighting", test_clock);
  g_test_add_func ("/exchange/logger/the-encoding-is-told-and-the-unit-read-from-the-header", test_encodings);
  g_test_add_func ("/exchange/logger/a-unit-stands-by-itself", test_unit_of_the_header);
  g_test_add_func ("/exchange/logger/the-newest-row-may-come-first", test_newest_first);
  g_test_add_func ("/exchange/logger/what-is-kept-gives-choice-and-file-again", test_kept);
  g_test_add_func ("/exchange/logger/what-cannot-be-read-is-named", test_refusals);
  g_test_add_func ("/exchange/logger/files-out-of-bounds-are-refused", test_files);
}
