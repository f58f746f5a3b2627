/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-quantity.h"

#include "test-base.h"

#include <math.h>
#include <string.h>

/* A few units of the last place: each conversion is one product and one quotient. */
#define EXACT 1e-15

/* The data files name more units than a notebook has. */
static gboolean
find_unit (const char *name, WbUnit *unit)
{
  static const struct
  {
    const char *name;
    WbUnit unit;
  } known[] = {
    { "lb_avoirdupois", WB_UNIT_LB }, { "oz_avoirdupois", WB_UNIT_OZ }, { "oz", WB_UNIT_OZ }, { "g", WB_UNIT_G },
    { "kg", WB_UNIT_KG }, { "inch", WB_UNIT_INCH }, { "mm", WB_UNIT_MM }, { "cm", WB_UNIT_CM }, { "mL", WB_UNIT_ML },
    { "fl_oz_us", WB_UNIT_FL_OZ_US }, { "fl_oz_imperial", WB_UNIT_FL_OZ_IMP }, { "degF", WB_UNIT_FAHRENHEIT },
    { "degC", WB_UNIT_CELSIUS }, { "delta_degF", WB_UNIT_FAHRENHEIT_DIFFERENCE },
    { "delta_degC", WB_UNIT_KELVIN_DIFFERENCE }, { "oz_per_hour", WB_UNIT_OZ_PER_H }, { "g_per_hour", WB_UNIT_G_PER_H },
    { "minute", WB_UNIT_MINUTE }, { "hour", WB_UNIT_HOUR },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (known); i++)
    if (g_str_equal (known[i].name, name))
      {
        *unit = known[i].unit;
        return TRUE;
      }
  return FALSE;
}

static void
assert_close (double actual, double expected, double relative)
{
  g_assert_cmpfloat_with_epsilon (actual, expected, relative * MAX (fabs (expected), 1e-300) + (expected == 0 ? 1e-13 : 0));
}

static double
convert (double value, WbUnit from, WbUnit to)
{
  g_assert_cmpint (wb_unit_get_quantity (from), ==, wb_unit_get_quantity (to));
  return wb_unit_from_stored (to, wb_unit_to_stored (from, value));
}

static void
test_factors (void)
{
  g_autoptr (GPtrArray) rows = test_read_table ("conversion-factors.csv");
  int checked = 0;

  for (guint i = 0; i < rows->len; i++)
    {
      char **row = rows->pdata[i];
      WbUnit from = WB_UNIT_NONE, to = WB_UNIT_NONE;
      char *divisor;
      if (!find_unit (row[0], &from) || !find_unit (row[1], &to))
        continue;
      g_test_message ("%s to %s", row[0], row[1]);
      double exact = (double) g_ascii_strtoll (row[2], &divisor, 10) / (double) g_ascii_strtoll (divisor + 1, NULL, 10);
      assert_close (convert (1, from, to), exact, EXACT);
      assert_close (convert (exact, to, from), 1, EXACT);
      checked++;
    }
  g_assert_cmpint (checked, ==, 11);
}

static void
test_examples (void)
{
  g_autoptr (GPtrArray) rows = test_read_table ("conversion-examples.csv");

  for (guint i = 0; i < rows->len; i++)
    {
      char **row = rows->pdata[i];
      WbUnit from = WB_UNIT_NONE, to = WB_UNIT_NONE;
      g_test_message ("%s %s to %s", row[0], row[1], row[2]);
      g_assert_true (find_unit (row[1], &from) && find_unit (row[2], &to));
      assert_close (convert (test_read_cell (row, 0), from, to), test_read_cell (row, 3), EXACT);
    }
}

static void
test_differences (void)
{
  /* 9 degF of difference are 5 K, and 0 is 0, by the definition of the scale. */
  g_assert_cmpfloat (wb_unit_to_stored (WB_UNIT_FAHRENHEIT_DIFFERENCE, 9), ==, 5);
  g_assert_cmpfloat (wb_unit_to_stored (WB_UNIT_FAHRENHEIT_DIFFERENCE, 0), ==, 0);
  g_assert_cmpfloat (wb_unit_from_stored (WB_UNIT_FAHRENHEIT_DIFFERENCE, -5), ==, -9);
  g_assert_cmpfloat (wb_unit_to_stored (WB_UNIT_FAHRENHEIT, 41), ==, 5);
}

static void
test_table (void)
{
  for (WbUnit unit = 0; unit < WB_N_UNITS; unit++)
    {
      WbQuantity quantity = wb_unit_get_quantity (unit);
      g_test_message ("unit %d", unit);
      g_assert_true (g_utf8_validate (wb_unit_get_symbol (unit), -1, NULL));
      g_assert_true ((*wb_unit_get_symbol (unit) == '\0') == (unit == WB_UNIT_NONE));
      g_assert_cmpint (wb_unit_get_decimals (unit), >=, 0);
      g_assert_cmpint (wb_unit_get_decimals (unit), <=, 3);
      for (double value = -50; value <= 500; value += 12.5)
        assert_close (wb_unit_from_stored (unit, wb_unit_to_stored (unit, value)), value, 3e-15);
      g_assert_cmpint (wb_unit_get_quantity (wb_quantity_get_stored_unit (quantity)), ==, quantity);
    }
  for (WbQuantity quantity = 0; quantity < WB_N_QUANTITIES; quantity++)
    {
      WbUnit stored = wb_quantity_get_stored_unit (quantity);
      g_assert_cmpfloat (wb_unit_to_stored (stored, 12.7), ==, 12.7);
      g_assert_cmpfloat (wb_unit_from_stored (stored, 12.7), ==, 12.7);
    }
}

static void
test_format (void)
{
  static const struct
  {
    WbUnit unit;
    double stored;
    int decimals;
    const char *text, *number;
  } cases[] = {
    { WB_UNIT_MM, 54.2, -1, "54.2\u00a0mm", "54.2" },
    { WB_UNIT_CM, 54, -1, "5.40\u00a0cm", "5.40" },
    { WB_UNIT_INCH, 53.975, 3, "2.125\u00a0in", "2.125" },
    { WB_UNIT_G, 250, 0, "250\u00a0g", "250" },
    { WB_UNIT_OZ, 226.796185, -1, "8.00\u00a0oz", "8.00" },
    { WB_UNIT_FAHRENHEIT, 60, 0, "140\u00a0°F", "140" },
    { WB_UNIT_CELSIUS, -3.25, 1, "-3.3\u00a0°C", "-3.3" },
    { WB_UNIT_KELVIN_DIFFERENCE, 5, -1, "+5.0\u00a0°C", "5.0" },
    { WB_UNIT_FAHRENHEIT_DIFFERENCE, 5, 0, "+9\u00a0°F", "9" },
    { WB_UNIT_FAHRENHEIT_DIFFERENCE, -5, 0, "-9\u00a0°F", "-9" },
    { WB_UNIT_KELVIN_DIFFERENCE, 0.01, 1, "0.0\u00a0°C", "0.0" },
    { WB_UNIT_PERCENT, 8, 0, "8\u00a0%", "8" },
    { WB_UNIT_G_PER_CM3, 0.9, -1, "0.900\u00a0g/cm³", "0.900" },
    { WB_UNIT_HOUR, 4800, -1, "1.33\u00a0h", "1.33" },
    { WB_UNIT_NONE, 5, -1, "5", "5" },
    { WB_UNIT_NONE, 0.866, -1, "0.87", "0.87" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = wb_quantity_format (cases[i].unit, cases[i].stored, cases[i].decimals);
      g_autofree char *number = wb_quantity_format_number (cases[i].unit, cases[i].stored, cases[i].decimals);
      g_autofree char *expected = test_localize (cases[i].text);
      g_autofree char *expected_number = test_localize (cases[i].number);
      g_assert_cmpstr (text, ==, expected);
      g_assert_cmpstr (number, ==, expected_number);
    }
}

static void
test_durations (void)
{
  static const struct
  {
    double seconds;
    const char *text;
  } cases[] = {
    { 0, "0\u00a0s" }, { 59.6, "1\u00a0min" }, { 4800, "1\u00a0h 20\u00a0min" }, { 14400, "4\u00a0h" },
    { 3605, "1\u00a0h 5\u00a0s" }, { 90, "1\u00a0min 30\u00a0s" }, { -90, "-1\u00a0min 30\u00a0s" }, { -0.1, "0\u00a0s" },
    { 360000, "100\u00a0h" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = wb_quantity_format_duration (cases[i].seconds);
      double back = NAN;
      g_assert_cmpstr (text, ==, cases[i].text);
      g_assert_true (wb_quantity_parse (WB_QUANTITY_DURATION, WB_UNIT_SECOND, text, &back, NULL));
      g_assert_cmpfloat_with_epsilon (back, cases[i].seconds, 0.5);
    }
}

static void
test_water_density (void)
{
  g_autoptr (GPtrArray) rows = test_read_table ("water-density.csv");

  for (guint i = 0; i < rows->len; i++)
    {
      char **row = rows->pdata[i];
      double t = test_read_cell (row, 0);
      g_test_message ("%s degC", row[0]);
      if (t > 99)
        continue;
      double rho = wb_water_density (t) * 1000;
      g_assert_cmpfloat_with_epsilon (rho, test_read_cell (row, 1), 0.00006);
      /* The formulations differ among themselves by 0.004 kg/m3 to 40 degC and by 0.02 to 99 degC. */
      double tolerance = t <= 40 ? 0.005 : 0.02;
      for (int column = 2; column <= 5; column++)
        if (*row[column] != '\0')
          g_assert_cmpfloat_with_epsilon (rho, test_read_cell (row, column), tolerance);
      if (*row[6] != '\0')
        g_assert_cmpfloat_with_epsilon (rho, test_read_cell (row, 6), strlen (row[6]) > 6 ? 0.005 : 0.055);
    }
}

static void
test_water_domain (void)
{
  g_assert_true (isnan (wb_water_density (-0.001)));
  g_assert_true (isnan (wb_water_density (99.001)));
  g_assert_true (isnan (wb_water_density (NAN)));
  g_assert_true (isnan (wb_water_density (INFINITY)));
  g_assert_false (isnan (wb_water_density (0)));
  g_assert_false (isnan (wb_water_density (99)));
}

static void
test_volume_from_water (void)
{
  g_autoptr (GPtrArray) rows = test_read_table ("volume-from-water-mass.csv");

  for (guint i = 0; i < rows->len; i++)
    {
      char **row = rows->pdata[i];
      double rho = wb_water_density (test_read_cell (row, 1));
      g_test_message ("%s g at %s degC", row[0], row[1]);
      assert_close (rho, test_read_cell (row, 2), 1e-9);
      assert_close (test_read_cell (row, 0) / rho, test_read_cell (row, 3), 1e-8);
    }
}

static void
test_shown_units (void)
{
  for (int quantity = 0; quantity < WB_N_QUANTITIES; quantity++)
    for (int us = 0; us < 2; us++)
      g_assert_cmpint (wb_unit_get_quantity (wb_quantity_get_shown_unit (quantity, us)), ==,
                       wb_unit_get_quantity (wb_quantity_get_stored_unit (quantity)));
  g_assert_cmpint (wb_quantity_get_shown_unit (WB_QUANTITY_LENGTH, FALSE), ==, WB_UNIT_MM);
  g_assert_cmpint (wb_quantity_get_shown_unit (WB_QUANTITY_LENGTH, TRUE), ==, WB_UNIT_INCH);
  g_assert_cmpint (wb_quantity_get_shown_unit (WB_QUANTITY_PERCENT, TRUE), ==, WB_UNIT_PERCENT);
}

void
test_quantity_add (void)
{
  g_test_add_func ("/base/quantity/shown-units-are-of-the-quantity", test_shown_units);
  g_test_add_func ("/base/quantity/factors-are-the-exact-ones", test_factors);
  g_test_add_func ("/base/quantity/worked-conversions-come-out", test_examples);
  g_test_add_func ("/base/quantity/a-difference-is-not-a-temperature", test_differences);
  g_test_add_func ("/base/quantity/every-unit-converts-there-and-back", test_table);
  g_test_add_func ("/base/quantity/number-and-unit-stand-together", test_format);
  g_test_add_func ("/base/quantity/a-duration-is-written-in-hours-and-minutes", test_durations);
  g_test_add_func ("/base/quantity/water-is-as-dense-as-the-tables-say", test_water_density);
  g_test_add_func ("/base/quantity/water-density-ends-at-0-and-99-degrees", test_water_domain);
  g_test_add_func ("/base/quantity/a-vessel-holds-its-water-mass-over-density", test_volume_from_water);
}
