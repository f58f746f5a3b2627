/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-number.h"

#include "test-base.h"

#include <float.h>
#include <math.h>
#include <string.h>

#define N_SEEDS 50
#define N_EACH 2000
#define LONG_TEXT 10000

static void
test_parse (void)
{
  static const struct
  {
    const char *text;
    double value;
  } cases[] = {
    { "54", 54 }, { "5.4", 5.4 }, { "5,4", 5.4 }, { "1,234", 1.234 }, { "1.234", 1.234 }, { " 7 ", 7 }, { "\t7\n", 7 },
    { "\u00a07\u202f", 7 }, { "+3", 3 }, { "-3,5", -3.5 }, { "\u22123", -3 }, { "- 3", -3 }, { ".5", 0.5 }, { ",5", 0.5 },
    { "5.", 5 }, { "5,", 5 }, { "007", 7 }, { "1e3", 1000 }, { "1,5E-2", 0.015 }, { "2e+2", 200 }, { "0", 0 },
    { "0.000", 0 }, { "0e999", 0 }, { "1.7976931348623157e308", DBL_MAX }, { "2.2250738585072014e-308", DBL_MIN },
    { "0.1", 0.1 }, { "123456789.123456789", 123456789.123456789 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      double value = NAN;
      g_test_message ("%s", cases[i].text);
      g_assert_true (wb_number_parse (cases[i].text, &value, &error));
      g_assert_no_error (error);
      g_assert_cmpfloat (value, ==, cases[i].value);
    }
}

static void
test_zero (void)
{
  static const char *zeros[] = { "0", "-0", "+0", "-0,0", "\u22120.00", "-0e5" };

  for (gsize i = 0; i < G_N_ELEMENTS (zeros); i++)
    {
      double value = NAN;
      g_assert_true (wb_number_parse (zeros[i], &value, NULL));
      g_assert_cmpfloat (value, ==, 0);
      g_assert_false (signbit (value));
    }
}

static void
test_refusals (void)
{
  static const struct
  {
    const char *text;
    WbNumberError code;
  } cases[] = {
    { "", WB_NUMBER_ERROR_EMPTY }, { "  ", WB_NUMBER_ERROR_EMPTY }, { "\u00a0", WB_NUMBER_ERROR_EMPTY },
    { "1,234.5", WB_NUMBER_ERROR_GROUPING }, { "1.234,5", WB_NUMBER_ERROR_GROUPING },
    { "1,234,567", WB_NUMBER_ERROR_GROUPING }, { "1.234.567", WB_NUMBER_ERROR_GROUPING },
    { "1 234", WB_NUMBER_ERROR_GROUPING }, { "1 234,5", WB_NUMBER_ERROR_GROUPING },
    { "1\u00a0234", WB_NUMBER_ERROR_GROUPING }, { "1\u202f234\u202f567", WB_NUMBER_ERROR_GROUPING },
    { "1'234", WB_NUMBER_ERROR_GROUPING }, { "1’234.50", WB_NUMBER_ERROR_GROUPING },
    { "x", WB_NUMBER_ERROR_SYNTAX }, { "nan", WB_NUMBER_ERROR_SYNTAX }, { "inf", WB_NUMBER_ERROR_SYNTAX },
    { "-Infinity", WB_NUMBER_ERROR_SYNTAX }, { "0x10", WB_NUMBER_ERROR_SYNTAX }, { "0x1p3", WB_NUMBER_ERROR_SYNTAX },
    { ".", WB_NUMBER_ERROR_SYNTAX }, { ",", WB_NUMBER_ERROR_SYNTAX }, { "-", WB_NUMBER_ERROR_SYNTAX },
    { "--3", WB_NUMBER_ERROR_SYNTAX }, { "+-3", WB_NUMBER_ERROR_SYNTAX }, { "1..2", WB_NUMBER_ERROR_SYNTAX },
    { "..5", WB_NUMBER_ERROR_SYNTAX }, { "1.5.", WB_NUMBER_ERROR_SYNTAX }, { "1e", WB_NUMBER_ERROR_SYNTAX },
    { "1e+", WB_NUMBER_ERROR_SYNTAX }, { "e3", WB_NUMBER_ERROR_SYNTAX }, { "1e2.5", WB_NUMBER_ERROR_SYNTAX },
    { "1 2", WB_NUMBER_ERROR_SYNTAX }, { "3 mm", WB_NUMBER_ERROR_SYNTAX }, { "1/2", WB_NUMBER_ERROR_SYNTAX },
    { "1_000", WB_NUMBER_ERROR_SYNTAX }, { "\xff", WB_NUMBER_ERROR_SYNTAX }, { "3\xe2\x80", WB_NUMBER_ERROR_SYNTAX },
    { "1e309", WB_NUMBER_ERROR_RANGE }, { "-1e309", WB_NUMBER_ERROR_RANGE }, { "1e-400", WB_NUMBER_ERROR_RANGE },
    { "0.1e99999999999999999999", WB_NUMBER_ERROR_RANGE },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      double value = 4711;
      g_test_message ("case %d: %s", (int) i, cases[i].text[0] != '\xff' && i != 35 ? cases[i].text : "bytes");
      g_assert_false (wb_number_parse (cases[i].text, &value, &error));
      g_assert_error (error, WB_NUMBER_ERROR, (int) cases[i].code);
      g_assert_cmpfloat (value, ==, 4711);
      g_assert_true (g_utf8_validate (error->message, -1, NULL));
    }
}

static void
test_strict (void)
{
  static const struct
  {
    const char *text;
    char decimal;
    double value; /* NAN: refused */
  } cases[] = {
    { "5.4", '.', 5.4 }, { "5,4", ',', 5.4 }, { "5,4", '.', NAN }, { "5.4", ',', NAN }, { "54", '.', 54 }, { "54", ',', 54 },
    { "1e3", ',', 1000 }, { "1,234.5", '.', NAN }, { "1.234,5", ',', NAN }, { "-0.5", '.', -0.5 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      double value = 0;
      gboolean good = wb_number_parse_strict (cases[i].text, cases[i].decimal, &value, &error);
      g_test_message ("%s with %c", cases[i].text, cases[i].decimal);
      g_assert_true (good == !isnan (cases[i].value));
      if (good)
        g_assert_cmpfloat (value, ==, cases[i].value);
      else
        g_assert_nonnull (error);
    }
}

static void
test_integers (void)
{
  static const struct
  {
    const char *text;
    gint64 value;
    int code; /* -1: accepted */
  } cases[] = {
    { "0", 0, -1 }, { " 12 ", 12, -1 }, { "+12", 12, -1 }, { "-12", -12, -1 }, { "\u221212", -12, -1 }, { "007", 7, -1 },
    { "9223372036854775807", G_MAXINT64, -1 }, { "-9223372036854775808", G_MININT64, -1 },
    { "9223372036854775808", 0, WB_NUMBER_ERROR_RANGE }, { "1.0", 0, WB_NUMBER_ERROR_SYNTAX },
    { "1,234", 0, WB_NUMBER_ERROR_SYNTAX }, { "1e3", 0, WB_NUMBER_ERROR_SYNTAX }, { "0x10", 0, WB_NUMBER_ERROR_SYNTAX },
    { "1 234", 0, WB_NUMBER_ERROR_GROUPING }, { "1'234", 0, WB_NUMBER_ERROR_GROUPING }, { "", 0, WB_NUMBER_ERROR_EMPTY },
    { "three", 0, WB_NUMBER_ERROR_SYNTAX }, { "-", 0, WB_NUMBER_ERROR_SYNTAX },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      gint64 value = 0;
      gboolean good = wb_number_parse_integer (cases[i].text, &value, &error);
      g_test_message ("%s", cases[i].text);
      g_assert_true (good == (cases[i].code < 0));
      if (good)
        g_assert_cmpint (value, ==, cases[i].value);
      else
        g_assert_error (error, WB_NUMBER_ERROR, cases[i].code);
    }
}

/* Text of a person or a file may be of any length; what is told of it is not. */
static void
test_long_text (void)
{
  static const char fillers[] = { '1', '0', '.', ',', ' ', '-', 'x', '/', '\'', 'e', '\xc3' };

  for (gsize i = 0; i < G_N_ELEMENTS (fillers); i++)
    {
      g_autofree char *text = g_strnfill (LONG_TEXT, fillers[i]);
      g_autoptr (GError) error = NULL;
      g_autoptr (GError) integer_error = NULL;
      double value = 0;
      gint64 integer = 0;

      if (wb_number_parse (text, &value, &error))
        g_assert_cmpfloat (value, ==, 0);
      else
        g_assert_cmpuint (strlen (error->message), <, 300);
      g_assert_true ((error == NULL) == (fillers[i] == '0'));
      g_assert_true (wb_number_parse_integer (text, &integer, &integer_error) == (fillers[i] == '0'));
    }

  g_autofree char *zeros = g_strnfill (LONG_TEXT, '0');
  g_autofree char *padded = g_strconcat (zeros, "7.5", zeros, NULL);
  g_autoptr (GError) error = NULL;
  double value = 0;
  g_assert_true (wb_number_parse (padded, &value, &error));
  g_assert_cmpfloat (value, ==, 7.5);
}

static void
test_shortest (void)
{
  /* Decimals that every shortest-number algorithm agrees on, such as repr() of Python 3.11, exponents aside. */
  static const struct
  {
    double value;
    const char *text;
  } cases[] = {
    { 0, "0" }, { -0.0, "0" }, { 1, "1" }, { -1, "-1" }, { 0.1, "0.1" }, { 0.3, "0.3" }, { 0.1 + 0.2, "0.30000000000000004" },
    { 54.2, "54.2" }, { 1.0 / 3, "0.3333333333333333" }, { 2.0 / 3, "0.6666666666666666" }, { 100000, "100000" },
    { 123456789012345, "123456789012345" }, { 1e22, "1e22" }, { 1e-5, "1e-5" }, { 0.0001, "0.0001" },
    { 1.5e-10, "1.5e-10" }, { -2.5e100, "-2.5e100" }, { 5e-324, "5e-324" }, { DBL_MAX, "1.7976931348623157e308" },
    { DBL_MIN, "2.2250738585072014e-308" }, { 28.349523125, "28.349523125" }, { 9007199254740993.0, "9007199254740992" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = wb_number_shortest (cases[i].value);
      g_assert_cmpstr (text, ==, cases[i].text);
    }
}

static void
assert_round_trip (double value)
{
  g_autofree char *text = wb_number_shortest (value);
  double lenient = NAN, strict = NAN;

  g_assert_true (wb_number_parse (text, &lenient, NULL));
  g_assert_true (wb_number_parse_strict (text, '.', &strict, NULL));
  g_assert_cmpfloat (lenient, ==, value);
  g_assert_cmpfloat (strict, ==, value);
  g_assert_cmpfloat (g_ascii_strtod (text, NULL), ==, value);
  g_assert_null (strchr (text, ','));
}

/* Any bit pattern of a finite double, and numbers as people read them off an instrument. */
static void
test_round_trip (void)
{
  for (guint32 seed = 0; seed < N_SEEDS; seed++)
    {
      g_autoptr (GRand) rand = g_rand_new_with_seed (seed);
      for (int i = 0; i < N_EACH; i++)
        {
          guint64 bits = (guint64) g_rand_int (rand) << 32 | g_rand_int (rand);
          double value;
          memcpy (&value, &bits, sizeof value);
          if (isfinite (value))
            assert_round_trip (value);
          assert_round_trip (g_rand_double_range (rand, -400, 400));
          assert_round_trip (g_rand_int_range (rand, -4000, 4000) / 10.0);
        }
    }
}

static void
test_format (void)
{
  static const struct
  {
    double value;
    int decimals;
    const char *text, *trimmed;
  } cases[] = {
    { 54.2, 1, "54.2", "54.2" }, { 54, 1, "54.0", "54" }, { 54, 0, "54", "54" }, { 0.5, 0, "1", "1" }, { 1.5, 0, "2", "2" },
    { 2.5, 0, "3", "3" }, { -2.5, 0, "-3", "-3" }, { 2.675, 2, "2.68", "2.68" }, { 1.005, 2, "1.01", "1.01" },
    { 0.125, 2, "0.13", "0.13" }, { -0.04, 1, "0.0", "0" }, { -0.05, 1, "-0.1", "-0.1" }, { 0.049999, 1, "0.0", "0" },
    { 9.999, 2, "10.00", "10" }, { 999.5, 0, "1000", "1000" }, { 0.95, 1, "1.0", "1" }, { 0.095, 2, "0.10", "0.1" },
    { 100, 0, "100", "100" }, { 100, 2, "100.00", "100" }, { 0, 0, "0", "0" }, { 0, 3, "0.000", "0" }, { -0.0, 1, "0.0", "0" },
    { 1234567.891, 2, "1234567.89", "1234567.89" }, { 1e20, 1, "100000000000000000000.0", "100000000000000000000" },
    { 1e-9, 9, "0.000000001", "0.000000001" }, { 1e-300, 9, "0.000000000", "0" }, { 0.3, 9, "0.300000000", "0.3" },
    { 5e-10, 9, "0.000000001", "0.000000001" }, { 4.9e-10, 9, "0.000000000", "0" },
  };
  const WbNumberStyle *point = wb_number_style_for_language ("en");
  const WbNumberStyle *comma = wb_number_style_for_language ("de");

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = wb_number_format (cases[i].value, cases[i].decimals, point);
      g_autofree char *trimmed = wb_number_format_trimmed (cases[i].value, cases[i].decimals, point);
      g_autofree char *german = wb_number_format (cases[i].value, cases[i].decimals, comma);
      g_autofree char *by_default = wb_number_format (cases[i].value, cases[i].decimals, NULL);
      g_autofree char *local = test_localize (text);
      g_assert_cmpstr (text, ==, cases[i].text);
      g_assert_cmpstr (trimmed, ==, cases[i].trimmed);
      g_assert_cmpstr (by_default, ==, local);
      g_strdelimit (text, ".", ',');
      g_assert_cmpstr (german, ==, text);
    }
}

/* What is shown reads back to within half of its last place. */
static void
test_format_reads_back (void)
{
  double unit[] = { 1, 0.1, 0.01, 0.001, 0.0001, 0.00001, 0.000001 };

  for (guint32 seed = 0; seed < N_SEEDS; seed++)
    {
      g_autoptr (GRand) rand = g_rand_new_with_seed (seed);
      for (int i = 0; i < N_EACH; i++)
        {
          double value = g_rand_double_range (rand, -1000, 1000);
          int decimals = g_rand_int_range (rand, 0, G_N_ELEMENTS (unit));
          g_autofree char *text = wb_number_format (value, decimals, NULL);
          double back = NAN;
          g_assert_true (wb_number_parse (text, &back, NULL));
          g_assert_cmpfloat (fabs (back - value), <=, unit[decimals] / 2 * (1 + 1e-9));
        }
    }
}

/* The quick ways in and out give what strtod and %.15g give. */
static void
test_plain_decimals (void)
{
  static const double scales[] = { 1, 10, 100, 1000, 10000, 1e7, 1e12 };
  g_autoptr (GRand) rand = g_rand_new_with_seed (5);

  for (int i = 0; i < 200000; i++)
    {
      int places = g_rand_int_range (rand, 0, G_N_ELEMENTS (scales));
      double digits = floor (exp (g_rand_double_range (rand, 0, log (1e15))));
      double value = (i % 2 == 0 ? 1 : -1) * digits / scales[places];
      char expected[G_ASCII_DTOSTR_BUF_SIZE];
      double back = NAN;

      g_ascii_formatd (expected, sizeof expected, "%.15g", value);

      g_autofree char *text = wb_number_shortest (value);

      if (strchr (expected, 'e') == NULL && g_ascii_strtod (expected, NULL) == value)
        g_assert_cmpstr (text, ==, expected);
      g_assert_true (wb_number_parse_strict (text, '.', &back, NULL));
      g_assert_cmpfloat (back, ==, value);
      g_assert_cmpfloat (back, ==, g_ascii_strtod (text, NULL));
    }
}

void
test_number_add (void)
{
  g_test_add_func ("/base/number/point-and-comma-are-both-a-decimal-sign", test_parse);
  g_test_add_func ("/base/number/a-zero-has-no-sign", test_zero);
  g_test_add_func ("/base/number/grouping-and-what-is-no-number-are-refused", test_refusals);
  g_test_add_func ("/base/number/a-file-has-one-decimal-sign", test_strict);
  g_test_add_func ("/base/number/a-whole-number-has-digits-only", test_integers);
  g_test_add_func ("/base/number/ten-thousand-characters-are-no-trouble", test_long_text);
  g_test_add_func ("/base/number/the-shortest-text-is-the-shortest", test_shortest);
  g_test_add_func ("/base/number/plain-decimals-are-read-and-written-exactly", test_plain_decimals);
  g_test_add_func ("/base/number/the-shortest-text-reads-back-as-the-same-number", test_round_trip);
  g_test_add_func ("/base/number/rounding-is-of-the-decimal-that-a-person-reads", test_format);
  g_test_add_func ("/base/number/what-is-shown-reads-back-within-half-a-place", test_format_reads_back);
}
