/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-quantity.h"

#include "test-base.h"

#include <math.h>
#include <string.h>

#define LENGTH WB_QUANTITY_LENGTH, WB_UNIT_MM
#define MASS WB_QUANTITY_MASS, WB_UNIT_G
#define TEMPERATURE WB_QUANTITY_TEMPERATURE, WB_UNIT_CELSIUS
#define DIFFERENCE WB_QUANTITY_TEMPERATURE_DIFFERENCE, WB_UNIT_KELVIN_DIFFERENCE
#define DURATION WB_QUANTITY_DURATION, WB_UNIT_MINUTE
#define PERCENT WB_QUANTITY_PERCENT, WB_UNIT_PERCENT
#define VOLUME WB_QUANTITY_VOLUME, WB_UNIT_ML
#define DENSITY WB_QUANTITY_DENSITY, WB_UNIT_G_PER_CM3
#define RATE WB_QUANTITY_MASS_RATE, WB_UNIT_G_PER_H
#define PLAIN WB_QUANTITY_PLAIN, WB_UNIT_NONE

#define IN 25.4
#define OZ 28.349523125
#define LB 453.59237
#define FL_OZ 29.5735295625
#define IMP_FL_OZ 28.4130625

typedef struct
{
  WbQuantity quantity;
  WbUnit unit;
  const char *text;
  double stored;
} Reading;

static void
assert_readings (const Reading *cases, gsize n)
{
  for (gsize i = 0; i < n; i++)
    {
      g_autoptr (GError) error = NULL;
      double stored = NAN;
      g_test_message ("%s", cases[i].text);
      wb_quantity_parse (cases[i].quantity, cases[i].unit, cases[i].text, &stored, &error);
      g_assert_no_error (error);
      g_assert_true (stored != 0 || !signbit (stored));
      g_assert_cmpfloat_with_epsilon (stored, cases[i].stored, 4e-15 * fabs (cases[i].stored) + 1e-300);
    }
}

static void
test_units (void)
{
  static const Reading cases[] = {
    { LENGTH, "54", 54 }, { LENGTH, "54 mm", 54 }, { LENGTH, "54mm", 54 }, { LENGTH, "5,4 cm", 54 }, { LENGTH, "5.4cm", 54 },
    { LENGTH, "0,054 m", 54 }, { LENGTH, "54\u00a0mm", 54 }, { LENGTH, " 54 MM ", 54 }, { LENGTH, "3 in", 3 * IN },
    { LENGTH, "3in.", 3 * IN }, { LENGTH, "3 inch", 3 * IN }, { LENGTH, "3 Inches", 3 * IN }, { LENGTH, "3\"", 3 * IN },
    { LENGTH, "3 \"", 3 * IN }, { LENGTH, "3''", 3 * IN }, { LENGTH, "3″", 3 * IN }, { LENGTH, "3”", 3 * IN },
    { LENGTH, "-2 mm", -2 }, { LENGTH, "\u22122 mm", -2 }, { WB_QUANTITY_LENGTH, WB_UNIT_INCH, "3", 3 * IN },
    { WB_QUANTITY_LENGTH, WB_UNIT_INCH, "3 mm", 3 }, { LENGTH, "1,234", 1.234 }, { LENGTH, "5 centimetres", 50 },
    { MASS, "250", 250 }, { MASS, "250 g", 250 }, { MASS, "1,5 kg", 1500 }, { MASS, "8 oz", 8 * OZ }, { MASS, "8oz.", 8 * OZ },
    { MASS, "2 lb", 2 * LB }, { MASS, "2 lbs", 2 * LB }, { MASS, "2 lbs.", 2 * LB }, { MASS, "1e3 g", 1000 },
    { TEMPERATURE, "60", 60 }, { TEMPERATURE, "60 C", 60 }, { TEMPERATURE, "60°C", 60 }, { TEMPERATURE, "60 ℃", 60 },
    { TEMPERATURE, "140 F", 60 }, { TEMPERATURE, "140f", 60 }, { TEMPERATURE, "140 °F", 60 }, { TEMPERATURE, "140 ° F", 60 },
    { TEMPERATURE, "140 degF", 60 }, { TEMPERATURE, "140 deg F", 60 }, { TEMPERATURE, "140 ℉", 60 },
    { TEMPERATURE, "140 ºF", 60 }, { TEMPERATURE, "-40 F", -40 }, { TEMPERATURE, "-40", -40 }, { TEMPERATURE, "32 F", 0 },
    { TEMPERATURE, "-0 °C", 0 }, { MASS, "-0 lb 0 oz", 0 }, { DURATION, "-0:00", 0 }, { WB_QUANTITY_TEMPERATURE, WB_UNIT_FAHRENHEIT, "140", 60 },
    { WB_QUANTITY_TEMPERATURE, WB_UNIT_FAHRENHEIT, "60 C", 60 },
    { DIFFERENCE, "9 F", 5 }, { DIFFERENCE, "+9 °F", 5 }, { DIFFERENCE, "-9 °F", -5 }, { DIFFERENCE, "5 K", 5 },
    { DIFFERENCE, "5 °C", 5 }, { WB_QUANTITY_TEMPERATURE_DIFFERENCE, WB_UNIT_FAHRENHEIT_DIFFERENCE, "9", 5 },
    { PERCENT, "8", 8 }, { PERCENT, "8 %", 8 }, { PERCENT, "8,5%", 8.5 }, { PERCENT, "8 per cent", 8 },
    { VOLUME, "250 ml", 250 }, { VOLUME, "250 mL", 250 }, { VOLUME, "0,25 L", 250 }, { VOLUME, "12 cm3", 12 },
    { VOLUME, "12 cm³", 12 }, { VOLUME, "8 fl oz", 8 * FL_OZ }, { VOLUME, "8 fl. oz.", 8 * FL_OZ }, { VOLUME, "8floz", 8 * FL_OZ },
    { VOLUME, "8 US fl oz", 8 * FL_OZ }, { VOLUME, "8 imp fl oz", 8 * IMP_FL_OZ },
    { WB_QUANTITY_VOLUME, WB_UNIT_FL_OZ_IMP, "8 fl oz", 8 * IMP_FL_OZ },
    { WB_QUANTITY_VOLUME, WB_UNIT_FL_OZ_IMP, "8 US fl oz", 8 * FL_OZ },
    { DENSITY, "0.86", 0.86 }, { DENSITY, "0,86 g/cm3", 0.86 }, { DENSITY, "0.86 g/cm³", 0.86 }, { DENSITY, "0.86g/ml", 0.86 },
    { WB_QUANTITY_DENSITY, WB_UNIT_NONE, "0.86", 0.86 },
    { RATE, "3.5 g/h", 3.5 }, { RATE, "3,5 g / h", 3.5 }, { RATE, "0.1 oz/h", 0.1 * OZ }, { RATE, "3.5 g/hr", 3.5 },
    { PLAIN, "4", 4 }, { PLAIN, " 4,5 ", 4.5 },
  };

  assert_readings (cases, G_N_ELEMENTS (cases));
}

static void
test_fractions (void)
{
  static const Reading cases[] = {
    { LENGTH, "2 1/8\"", 2.125 * IN }, { LENGTH, "2 1/8 in", 2.125 * IN }, { LENGTH, "2 1/8in", 2.125 * IN },
    { LENGTH, "2-1/8 in", 2.125 * IN }, { LENGTH, "1/4 in", 0.25 * IN }, { LENGTH, "1/4\"", 0.25 * IN },
    { LENGTH, "5/4 in", 1.25 * IN }, { LENGTH, "½ in", 0.5 * IN }, { LENGTH, "⅛\"", 0.125 * IN }, { LENGTH, "2½ in", 2.5 * IN },
    { LENGTH, "2 ½\"", 2.5 * IN }, { LENGTH, "3 ⅜ in", 3.375 * IN }, { LENGTH, "2 1⁄8 in", 2.125 * IN }, { LENGTH, "⅞ in", 0.875 * IN },
    { LENGTH, "-½ in", -0.5 * IN }, { LENGTH, "-2 1/8 in", -2.125 * IN }, { WB_QUANTITY_LENGTH, WB_UNIT_INCH, "3 1/4", 3.25 * IN },
    { LENGTH, "⅒ in", IN / 10 }, { LENGTH, "⅓ in", IN / 3 }, { MASS, "1/2 lb", LB / 2 }, { MASS, "1 ¾ oz", 1.75 * OZ },
    { DURATION, "1½ h", 5400 }, { DURATION, "1 1/2 h", 5400 }, { DURATION, "3/4 hour", 2700 }, { LENGTH, "0/8 in", 0 }, { LENGTH, "↉ in", 0 },
    { PLAIN, "1/2", 0.5 },
  };

  assert_readings (cases, G_N_ELEMENTS (cases));
}

static void
test_compound (void)
{
  static const Reading cases[] = {
    { MASS, "2 lb 3 oz", 2 * LB + 3 * OZ }, { MASS, "2lb3oz", 2 * LB + 3 * OZ }, { MASS, "2 lbs. 3.5 oz.", 2 * LB + 3.5 * OZ },
    { MASS, "2 lb 3 1/2 oz", 2 * LB + 3.5 * OZ }, { MASS, "2 lb ½ oz", 2 * LB + 0.5 * OZ }, { MASS, "1 kg 200 g", 1200 },
    { MASS, "-2 lb 3 oz", -2 * LB - 3 * OZ }, { LENGTH, "1 m 20 cm 3 mm", 1203 }, { VOLUME, "1 l 200 ml", 1200 },
    { DURATION, "1 h 20 min", 4800 }, { DURATION, "1h20min", 4800 }, { DURATION, "1h20", 4800 }, { DURATION, "1 h 20 m", 4800 },
    { DURATION, "1 hour 20 minutes", 4800 }, { DURATION, "1 h 20 min 30 s", 4830 }, { DURATION, "1 h 30 s", 3630 },
    { DURATION, "2 d 4 h", 187200 }, { DURATION, "90 min", 5400 }, { DURATION, "90", 5400 }, { DURATION, "3h", 10800 },
    { DURATION, "1,5 h", 5400 }, { DURATION, "1:20", 4800 }, { DURATION, "01:20", 4800 }, { DURATION, "1:20 h", 4800 },
    { DURATION, "1:20:30", 4830 }, { DURATION, "0:05", 300 }, { DURATION, "26:00", 93600 }, { DURATION, "-1:20", -4800 },
    { DURATION, "45 s", 45 }, { WB_QUANTITY_DURATION, WB_UNIT_HOUR, "4", 14400 }, { WB_QUANTITY_DURATION, WB_UNIT_SECOND, "4", 4 },
    { WB_QUANTITY_DURATION, WB_UNIT_SECOND, "1:20", 4800 },
  };

  assert_readings (cases, G_N_ELEMENTS (cases));
}

static void
test_refusals (void)
{
  static const struct
  {
    WbQuantity quantity;
    WbUnit unit;
    const char *text;
    WbNumberError code;
  } cases[] = {
    { LENGTH, "", WB_NUMBER_ERROR_EMPTY }, { LENGTH, "  ", WB_NUMBER_ERROR_EMPTY }, { LENGTH, "mm", WB_NUMBER_ERROR_SYNTAX },
    { LENGTH, "- mm", WB_NUMBER_ERROR_SYNTAX }, { LENGTH, "1,234.5 mm", WB_NUMBER_ERROR_GROUPING },
    { LENGTH, "1.234,5", WB_NUMBER_ERROR_GROUPING }, { LENGTH, "1 234 mm", WB_NUMBER_ERROR_GROUPING },
    { LENGTH, "1'234 mm", WB_NUMBER_ERROR_GROUPING }, { LENGTH, "1\u202f234,5 mm", WB_NUMBER_ERROR_GROUPING },
    { LENGTH, "5 5 mm", WB_NUMBER_ERROR_SYNTAX }, { LENGTH, "5 mm 3", WB_NUMBER_ERROR_UNIT }, { LENGTH, "nan", WB_NUMBER_ERROR_SYNTAX },
    { LENGTH, "inf in", WB_NUMBER_ERROR_SYNTAX }, { LENGTH, "0x20", WB_NUMBER_ERROR_UNIT }, { LENGTH, "1e999", WB_NUMBER_ERROR_RANGE },
    { LENGTH, "1e308 m", WB_NUMBER_ERROR_RANGE }, { LENGTH, "1e-999", WB_NUMBER_ERROR_RANGE }, { LENGTH, "5'", WB_NUMBER_ERROR_UNIT },
    { LENGTH, "5 ft", WB_NUMBER_ERROR_UNIT }, { LENGTH, "5 g", WB_NUMBER_ERROR_UNIT }, { LENGTH, "5 F", WB_NUMBER_ERROR_UNIT },
    { LENGTH, "5 zz", WB_NUMBER_ERROR_UNIT }, { LENGTH, "5 mm long", WB_NUMBER_ERROR_UNIT }, { LENGTH, "5 mm mm", WB_NUMBER_ERROR_UNIT },
    { LENGTH, "1/0 in", WB_NUMBER_ERROR_RANGE }, { LENGTH, "2 1/0 in", WB_NUMBER_ERROR_RANGE },
    { LENGTH, "2 9/8 in", WB_NUMBER_ERROR_SYNTAX }, { LENGTH, "2.5 1/8 in", WB_NUMBER_ERROR_SYNTAX },
    { LENGTH, "1/2/3 in", WB_NUMBER_ERROR_SYNTAX }, { LENGTH, "1/2.5 in", WB_NUMBER_ERROR_SYNTAX }, { LENGTH, "½½ in", WB_NUMBER_ERROR_SYNTAX },
    { LENGTH, "½3 in", WB_NUMBER_ERROR_SYNTAX }, { LENGTH, "2 ½ ½ in", WB_NUMBER_ERROR_SYNTAX }, { LENGTH, "/8 in", WB_NUMBER_ERROR_SYNTAX },
    { LENGTH, "1/ in", WB_NUMBER_ERROR_SYNTAX }, { LENGTH, "1/-8 in", WB_NUMBER_ERROR_SYNTAX },
    { LENGTH, "1234567/8 in", WB_NUMBER_ERROR_RANGE }, { LENGTH, "5 \xff", WB_NUMBER_ERROR_SYNTAX },
    { MASS, "3 oz 2 lb", WB_NUMBER_ERROR_SYNTAX }, { MASS, "2 lb 3 g", WB_NUMBER_ERROR_SYNTAX }, { MASS, "2.5 lb 3 oz", WB_NUMBER_ERROR_SYNTAX },
    { MASS, "2 lb 3 lb", WB_NUMBER_ERROR_SYNTAX }, { MASS, "½ lb 3 oz", WB_NUMBER_ERROR_SYNTAX }, { MASS, "2 lb 3", WB_NUMBER_ERROR_UNIT },
    { MASS, "2 lb -3 oz", WB_NUMBER_ERROR_UNIT }, { MASS, "5 gr", WB_NUMBER_ERROR_UNIT }, { MASS, "5 ml", WB_NUMBER_ERROR_UNIT },
    { MASS, "8 fl oz", WB_NUMBER_ERROR_UNIT }, { TEMPERATURE, "-274", WB_NUMBER_ERROR_RANGE }, { TEMPERATURE, "-460 F", WB_NUMBER_ERROR_RANGE },
    { TEMPERATURE, "20 K", WB_NUMBER_ERROR_UNIT }, { TEMPERATURE, "20 C 5 F", WB_NUMBER_ERROR_SYNTAX }, { DURATION, "1:60", WB_NUMBER_ERROR_RANGE },
    { DURATION, "1:5", WB_NUMBER_ERROR_SYNTAX }, { DURATION, "1:200", WB_NUMBER_ERROR_SYNTAX }, { DURATION, "1:20:30:40", WB_NUMBER_ERROR_SYNTAX },
    { DURATION, "1:20 min", WB_NUMBER_ERROR_UNIT }, { DURATION, "1.5:20", WB_NUMBER_ERROR_UNIT }, { DURATION, "1:", WB_NUMBER_ERROR_SYNTAX },
    { DURATION, "20 min 1 h", WB_NUMBER_ERROR_SYNTAX }, { DURATION, "1.5 h 20 min", WB_NUMBER_ERROR_SYNTAX }, { LENGTH, "1:20", WB_NUMBER_ERROR_UNIT },
    { VOLUME, "8 oz", WB_NUMBER_ERROR_UNIT }, { PLAIN, "4 mm", WB_NUMBER_ERROR_UNIT }, { PERCENT, "8 g", WB_NUMBER_ERROR_UNIT },
    { RATE, "5 g", WB_NUMBER_ERROR_UNIT }, { DENSITY, "0.86 kg/m3", WB_NUMBER_ERROR_UNIT },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *shown = g_utf8_make_valid (cases[i].text, -1);
      double stored = 4711;
      g_test_message ("%s", shown);
      g_assert_false (wb_quantity_parse (cases[i].quantity, cases[i].unit, cases[i].text, &stored, &error));
      g_assert_error (error, WB_NUMBER_ERROR, (int) cases[i].code);
      g_assert_cmpfloat (stored, ==, 4711);
    }
}

static void
test_message (void)
{
  g_autoptr (GError) error = NULL;
  double stored;

  g_assert_false (wb_quantity_parse (LENGTH, "5 stone", &stored, &error));
  g_assert_nonnull (strstr (error->message, "stone"));
  g_assert_nonnull (strstr (error->message, "mm, cm, m, in"));
}

/* What base writes, base reads. */
static void
test_reads_back (void)
{
  for (WbUnit unit = 0; unit < WB_N_UNITS; unit++)
    for (double stored = 0; stored < 400; stored += 7.3)
      {
        g_autoptr (GError) error = NULL;
        g_autofree char *text = wb_quantity_format (unit, stored, 6);
        WbQuantity quantity = wb_unit_get_quantity (unit);
        double back = NAN;
        g_test_message ("%s", text);
        /* The unit of a bare number is another one, so that the written one is what counts. */
        wb_quantity_parse (quantity, wb_quantity_get_stored_unit (quantity), text, &back, &error);
        g_assert_no_error (error);
        double step = wb_unit_to_stored (unit, 1) - wb_unit_to_stored (unit, 0);
        g_assert_cmpfloat_with_epsilon (back, stored, 0.5e-6 * step * 1.0001 + 1e-12);
      }
}

static void
test_long_text (void)
{
  static const char *fillers[] = { "1", "x", " ", "1 ", "1/", "½", "1h", "\"", ":", "m", "-", "1:20", "2 lb ", "\u0301" };

  for (gsize i = 0; i < G_N_ELEMENTS (fillers); i++)
    {
      g_autoptr (GString) text = g_string_new (NULL);
      while (text->len < 10000)
        g_string_append (text, fillers[i]);
      for (WbQuantity quantity = 0; quantity < WB_N_QUANTITIES; quantity++)
        {
          g_autoptr (GError) error = NULL;
          double stored;
          g_assert_false (wb_quantity_parse (quantity, wb_quantity_get_stored_unit (quantity), text->str, &stored, &error));
          g_assert_nonnull (error);
          g_assert_cmpuint (strlen (error->message), <, 400);
        }
    }
}

/* Any mix of the parts of a quantity ends in a finite value or an error, never in both. */
static void
test_any_mix (void)
{
  static const char *parts[] = {
    "1", "20", "999", ".", ",", " ", "/", "1/8", "½", "-", "+", "e", "in", "\"", "lb", "oz", "h", "min", ":", "°", "F", "%", "'",
    "\u00a0", "g/cm³", "\xe2", "0", "5",
  };

  for (guint32 seed = 0; seed < 20000; seed++)
    {
      g_autoptr (GRand) rand = g_rand_new_with_seed (seed);
      g_autoptr (GString) text = g_string_new (NULL);
      g_autoptr (GError) error = NULL;
      WbQuantity quantity = g_rand_int_range (rand, 0, WB_N_QUANTITIES);
      double stored = NAN;
      for (int i = g_rand_int_range (rand, 1, 9); i > 0; i--)
        g_string_append (text, parts[g_rand_int_range (rand, 0, G_N_ELEMENTS (parts))]);
      gboolean good = wb_quantity_parse (quantity, wb_quantity_get_stored_unit (quantity), text->str, &stored, &error);
      g_assert_true (good == (error == NULL));
      g_assert_true (good == (isfinite (stored) != 0));
      if (error != NULL)
        g_assert_true (g_utf8_validate (error->message, -1, NULL));
    }
}

void
test_quantity_parse_add (void)
{
  g_test_add_func ("/base/quantity-parse/a-number-with-or-without-its-unit", test_units);
  g_test_add_func ("/base/quantity-parse/fractions-as-they-stand-on-a-ruler", test_fractions);
  g_test_add_func ("/base/quantity-parse/pounds-and-ounces-hours-and-minutes", test_compound);
  g_test_add_func ("/base/quantity-parse/what-is-not-clear-is-refused", test_refusals);
  g_test_add_func ("/base/quantity-parse/a-refused-unit-is-named-with-those-that-fit", test_message);
  g_test_add_func ("/base/quantity-parse/what-is-written-reads-back", test_reads_back);
  g_test_add_func ("/base/quantity-parse/ten-thousand-characters-are-no-trouble", test_long_text);
  g_test_add_func ("/base/quantity-parse/any-mix-gives-a-value-or-an-error", test_any_mix);
}
