/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-number-private.h"
#include "wb-quantity.h"
#include "wb-quantity-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/*
 * What a person types into a field: [sign] amount [unit] { amount unit }, where
 * an amount is a decimal, a fraction or both, and a duration may be 1:20.
 */

#define FRACTION_SLASH 0x2044
#define FRACTION_DIGITS_MAX 6
#define ABSOLUTE_ZERO_C (-273.15)

/*
 * The names of the units, after normal_name(). A system joins the units that
 * one amount may be split over ("2 lb 3 oz"); 0 is none.
 */
static const struct
{
  WbUnit unit;
  int system;
  const char *names;
} unit_names[] = {
  { WB_UNIT_MM, 1, "mm millimetre millimetres millimeter millimeters" },
  { WB_UNIT_CM, 1, "cm centimetre centimetres centimeter centimeters" },
  { WB_UNIT_M, 1, "m metre metres meter meters" },
  { WB_UNIT_INCH, 0, "in inch inches \" '' \u2032\u2032 \u201d" },
  { WB_UNIT_G, 2, "g gram grams gramme grammes" },
  { WB_UNIT_KG, 2, "kg kilogram kilograms kilogramme kilogrammes" },
  { WB_UNIT_OZ, 3, "oz ounce ounces" },
  { WB_UNIT_LB, 3, "lb lbs pound pounds" },
  { WB_UNIT_CELSIUS, 0, "°c c oc degc degreec degreesc celsius" },
  { WB_UNIT_FAHRENHEIT, 0, "°f f of degf degreef degreesf fahrenheit" },
  { WB_UNIT_KELVIN_DIFFERENCE, 0, "°c c k oc degc degreec degreesc celsius kelvin" },
  { WB_UNIT_FAHRENHEIT_DIFFERENCE, 0, "°f f of degf degreef degreesf fahrenheit" },
  { WB_UNIT_SECOND, 4, "s sec secs second seconds" },
  { WB_UNIT_MINUTE, 4, "min mins m minute minutes" },
  { WB_UNIT_HOUR, 4, "h hr hrs hour hours" },
  { WB_UNIT_DAY, 4, "d day days" },
  { WB_UNIT_PERCENT, 0, "% percent pct" },
  { WB_UNIT_ML, 5, "ml millilitre millilitres milliliter milliliters cm3 cc" },
  { WB_UNIT_L, 5, "l litre litres liter liters" },
  { WB_UNIT_FL_OZ_US, 0, "floz usfloz floz(us)" },
  { WB_UNIT_FL_OZ_IMP, 0, "impfloz ukfloz floz(imp) floz(uk)" },
  { WB_UNIT_G_PER_CM3, 0, "g/cm3 g/ml g/cc kg/l" },
  { WB_UNIT_G_PER_H, 0, "g/h g/hr g/hour gperh gperhour" },
  { WB_UNIT_OZ_PER_H, 0, "oz/h oz/hr oz/hour ozperh ozperhour" },
};

/* A unit's name without case, space, dot and typographic variants: "fl. oz." to "floz", "℉" to "°f". */
static char *
normal_name (const char *text)
{
  g_autofree char *compatible = g_utf8_normalize (text, -1, G_NORMALIZE_ALL_COMPOSE);
  g_autofree char *folded = g_utf8_casefold (compatible, -1);
  g_autoptr (GString) out = g_string_new (NULL);

  for (const char *p = folded; *p != '\0'; p = g_utf8_next_char (p))
    {
      gunichar c = g_utf8_get_char (p);
      if (c != '.' && !g_unichar_isspace (c))
        g_string_append_unichar (out, c);
    }
  return g_string_free (g_steal_pointer (&out), FALSE);
}

static gboolean
has_name (const char *names, const char *name)
{
  gsize length = strlen (name);

  for (const char *at = names; length > 0 && at != NULL; at = strchr (at, ' '))
    {
      at += strspn (at, " ");
      if (strncmp (at, name, length) == 0 && (at[length] == ' ' || at[length] == '\0'))
        return TRUE;
    }
  return FALSE;
}

/* FALSE if no unit of the quantity is called so; `bare` settles which fluid ounce is meant. */
static gboolean
find_unit (WbQuantity quantity, WbUnit bare, const char *text, WbUnit *unit)
{
  g_autofree char *name = normal_name (text);

  if (quantity == WB_QUANTITY_VOLUME && bare == WB_UNIT_FL_OZ_IMP && g_str_equal (name, "floz"))
    {
      *unit = WB_UNIT_FL_OZ_IMP;
      return TRUE;
    }
  for (gsize i = 0; i < G_N_ELEMENTS (unit_names); i++)
    if (wb_unit_get_quantity (unit_names[i].unit) == quantity && has_name (unit_names[i].names, name))
      {
        *unit = unit_names[i].unit;
        return TRUE;
      }
  return FALSE;
}

static int
get_system (WbUnit unit)
{
  for (gsize i = 0; i < G_N_ELEMENTS (unit_names); i++)
    if (unit_names[i].unit == unit)
      return unit_names[i].system;
  return 0;
}

static gboolean
refuse_unit (GError **error, WbQuantity quantity, const char *text)
{
  g_autofree char *quoted = wb_number_quote (text);
  g_autoptr (GString) known = g_string_new (NULL);

  for (WbUnit unit = 0; unit < WB_N_UNITS; unit++)
    if (wb_unit_get_quantity (unit) == quantity && *wb_unit_get_symbol (unit) != '\0')
      g_string_append_printf (known, "%s%s", known->len > 0 ? ", " : "", wb_unit_get_symbol (unit));

  if (known->len == 0)
    g_set_error (error, WB_NUMBER_ERROR, WB_NUMBER_ERROR_UNIT,
                 _("“%s”: no unit belongs here, only a number"), quoted);
  else
    g_set_error (error, WB_NUMBER_ERROR, WB_NUMBER_ERROR_UNIT, _("“%s” is not a unit that fits here; known are %s"),
                 quoted, known->str);
  return FALSE;
}

static gsize
count_digits (const char *p)
{
  return strspn (p, "0123456789");
}

/* A character such as ½, whose compatibility decomposition is digits, fraction slash, digits. */
static gboolean
scan_vulgar (const char **cursor, double *value)
{
  gunichar parts[G_UNICHAR_MAX_DECOMPOSITION_LENGTH];
  int terms[2] = { 0, 0 };
  int at = 0;

  if (**cursor == '\0')
    return FALSE;
  gsize n = g_unichar_fully_decompose (g_utf8_get_char (*cursor), TRUE, parts, G_N_ELEMENTS (parts));
  for (gsize i = 0; i < n; i++)
    {
      if (parts[i] == FRACTION_SLASH && at == 0)
        at = 1;
      else if (parts[i] >= '0' && parts[i] <= '9')
        terms[at] = terms[at] * 10 + (int) (parts[i] - '0');
      else
        return FALSE;
    }
  if (at == 0 || terms[1] == 0)
    return FALSE;
  *value = (double) terms[0] / terms[1];
  *cursor = g_utf8_next_char (*cursor);
  return TRUE;
}

/* TRUE at "1/8"; says nothing of the size of its terms. */
static gboolean
is_fraction (const char *p)
{
  gsize n = count_digits (p);

  if (n == 0)
    return FALSE;
  p += n;
  if (*p != '/' && g_utf8_get_char (p) != FRACTION_SLASH)
    return FALSE;
  return g_ascii_isdigit (*g_utf8_next_char (p));
}

static gboolean
scan_fraction (const char **cursor, gboolean proper, const char *whole, double *value, GError **error)
{
  const char *numerator = *cursor;
  gsize n = count_digits (numerator);
  const char *denominator = g_utf8_next_char (numerator + n);
  gsize m = count_digits (denominator);

  if (n > FRACTION_DIGITS_MAX || m > FRACTION_DIGITS_MAX)
    return wb_number_refuse (error, WB_NUMBER_ERROR_RANGE, _("“%s”: the fraction is too long"), whole);
  guint64 above = g_ascii_strtoull (numerator, NULL, 10);
  guint64 below = g_ascii_strtoull (denominator, NULL, 10);
  if (below == 0)
    return wb_number_refuse (error, WB_NUMBER_ERROR_RANGE, _("“%s” divides by zero"), whole);
  if (proper && above >= below)
    return wb_number_refuse (error, WB_NUMBER_ERROR_SYNTAX,
                             _("“%s”: the fraction behind a whole number must be less than 1"), whole);
  *value = (double) above / (double) below;
  *cursor = denominator + m;
  return TRUE;
}

/* The fraction of "2 1/8", "2-1/8", "2½" behind its whole number; *found is FALSE where there is none. */
static gboolean
scan_added_fraction (const char **cursor, const char *whole, double *value, gboolean *found, GError **error)
{
  const char *p = wb_number_skip_space (*cursor);

  *found = TRUE;
  if (scan_vulgar (&p, value))
    {
      *cursor = p;
      return TRUE;
    }
  if (p == *cursor && *p == '-')
    p++;
  if (p != *cursor && is_fraction (p))
    {
      *cursor = p;
      return scan_fraction (cursor, TRUE, whole, value, error);
    }
  *found = FALSE;
  return TRUE;
}

/* *plain: only digits were read, so that a smaller unit may follow. */
static gboolean
scan_amount (const char **cursor, const char *whole, double *value, gboolean *plain, GError **error)
{
  const char *p = *cursor;

  *plain = FALSE;
  if (is_fraction (p))
    {
      if (!scan_fraction (&p, FALSE, whole, value, error))
        return FALSE;
    }
  else if (!scan_vulgar (&p, value))
    {
      gsize n = count_digits (p);
      double fraction = 0;
      gboolean found = FALSE;
      const char *behind = p + n;

      if (n > 0 && !scan_added_fraction (&behind, whole, &fraction, &found, error))
        return FALSE;
      if (found && n > 15)
        return wb_number_refuse (error, WB_NUMBER_ERROR_RANGE, _("“%s” is too large or too small a number"), whole);
      if (found)
        {
          *value = (double) g_ascii_strtoull (p, NULL, 10) + fraction;
          p = behind;
        }
      else
        {
          if (!wb_number_scan_decimal (&p, ".,", whole, value, error))
            return FALSE;
          *plain = p == behind;
        }
    }

  double more;
  const char *next = wb_number_skip_space (p);
  if (*p == '/' || *p == '.' || *p == ',' || g_ascii_isdigit (*next) || scan_vulgar (&next, &more))
    return wb_number_refuse (error, WB_NUMBER_ERROR_SYNTAX, _("“%s” is not a number"), whole);
  *cursor = p;
  return TRUE;
}

/* Behind the hours of "1:20" or "1:20:30"; adds to *hours. */
static gboolean
scan_clock (const char **cursor, const char *whole, double *hours, GError **error)
{
  const char *p = *cursor;
  double divisor = 60;

  for (int part = 0; part < 2 && *p == ':'; part++, divisor *= 60)
    {
      if (count_digits (p + 1) != 2)
        return wb_number_refuse (error, WB_NUMBER_ERROR_SYNTAX, _("“%s”: write hours and minutes as 1:05"), whole);
      guint64 sixtieths = g_ascii_strtoull (p + 1, NULL, 10);
      if (sixtieths > 59)
        return wb_number_refuse (error, WB_NUMBER_ERROR_RANGE, _("“%s”: minutes and seconds go from 00 to 59"), whole);
      *hours += (double) sixtieths / divisor;
      p += 3;
    }
  *cursor = p;
  return TRUE;
}

static gboolean
parse_clock (const char *p, double hours, const char *whole, double *stored, GError **error)
{
  WbUnit unit = WB_UNIT_HOUR;

  if (!scan_clock (&p, whole, &hours, error))
    return FALSE;
  p = wb_number_skip_space (p);
  if (*p == ':')
    return wb_number_refuse (error, WB_NUMBER_ERROR_SYNTAX, _("“%s”: write hours and minutes as 1:05"), whole);
  if (*p != '\0' && (!find_unit (WB_QUANTITY_DURATION, WB_UNIT_HOUR, p, &unit) || unit != WB_UNIT_HOUR))
    return wb_number_refuse (error, WB_NUMBER_ERROR_UNIT, _("“%s”: a time with a colon is in hours"), whole);
  /* To whole seconds, as it was typed: the sixtieths of an hour are none of a double. */
  *stored = (double) (gint64) (hours * 3600 + 0.5);
  return TRUE;
}

/* Where the next amount begins, behind a unit's name. */
static const char *
find_next_amount (const char *p)
{
  double value;

  while (*p != '\0' && !g_ascii_isdigit (*p))
    {
      const char *next = p;
      if (scan_vulgar (&next, &value))
        break;
      p = g_utf8_next_char (p);
    }
  return p;
}

/* The unit at *cursor: all that is left, or what stands before a further amount. */
static gboolean
scan_unit (const char **cursor, WbQuantity quantity, WbUnit bare, WbUnit *unit, GError **error)
{
  const char *rest = *cursor;
  const char *end = rest + strlen (rest);

  if (!find_unit (quantity, bare, rest, unit))
    {
      end = find_next_amount (rest);
      g_autofree char *name = g_strndup (rest, end - rest);
      if (*end == '\0' || !find_unit (quantity, bare, name, unit))
        {
          g_autofree char *told = g_strndup (rest, *end == '\0' ? end - rest : (gssize) strlen (rest));
          return refuse_unit (error, quantity, g_strstrip (told));
        }
    }
  *cursor = end;
  return TRUE;
}

/* Adds the smaller parts of "2 lb 3 oz" behind the first one. */
static gboolean
add_parts (const char *p, WbQuantity quantity, WbUnit unit, const char *whole, double *stored, GError **error)
{
  gboolean plain = TRUE;

  while (*p != '\0')
    {
      WbUnit smaller;
      double value;

      if (!plain)
        return wb_number_refuse (error, WB_NUMBER_ERROR_SYNTAX,
                                 _("“%s”: only the last part may have a fraction"), whole);
      if (!scan_amount (&p, whole, &value, &plain, error))
        return FALSE;
      p = wb_number_skip_space (p);
      /* "1h20" is how a clock is often read aloud. */
      if (*p == '\0' && unit == WB_UNIT_HOUR)
        smaller = WB_UNIT_MINUTE;
      else if (!scan_unit (&p, quantity, unit, &smaller, error))
        return FALSE;
      if (get_system (unit) == 0 || get_system (unit) != get_system (smaller)
          || wb_unit_to_stored (smaller, 1) >= wb_unit_to_stored (unit, 1))
        return wb_number_refuse (error, WB_NUMBER_ERROR_SYNTAX,
                                 _("“%s”: the parts must go from the larger unit to the smaller"), whole);
      *stored += wb_unit_to_stored (smaller, value);
      unit = smaller;
    }
  return TRUE;
}

/* A zero has no sign: what is stored must not depend on how it was typed. */
static double
give_sign (double size, gboolean negative)
{
  return negative && size != 0 ? -size : size;
}

/* The unsigned text behind the sign. */
static gboolean
parse_unsigned (const char *p, WbQuantity quantity, WbUnit bare, gboolean negative, const char *whole,
                double *stored, GError **error)
{
  WbUnit unit = bare;
  double value;
  gboolean plain;

  if (!scan_amount (&p, whole, &value, &plain, error))
    return FALSE;
  if (quantity == WB_QUANTITY_DURATION && plain && *p == ':')
    {
      if (!parse_clock (p, value, whole, stored, error))
        return FALSE;
      *stored = give_sign (*stored, negative);
      return TRUE;
    }

  p = wb_number_skip_space (p);
  if (*p != '\0' && !scan_unit (&p, quantity, bare, &unit, error))
    return FALSE;
  if (*p != '\0' && !plain)
    return wb_number_refuse (error, WB_NUMBER_ERROR_SYNTAX, _("“%s”: only the last part may have a fraction"), whole);
  if (*p == '\0')
    {
      *stored = wb_unit_to_stored (unit, give_sign (value, negative));
      return TRUE;
    }
  *stored = wb_unit_to_stored (unit, value);
  if (!add_parts (p, quantity, unit, whole, stored, error))
    return FALSE;
  *stored = give_sign (*stored, negative);
  return TRUE;
}

gboolean
wb_quantity_parse (WbQuantity quantity, WbUnit unit, const char *text, double *stored, GError **error)
{
  g_return_val_if_fail (text != NULL && stored != NULL, FALSE);
  g_return_val_if_fail (wb_quantity_takes_unit (quantity, unit), FALSE);

  if (!wb_number_check_text (text, error))
    return FALSE;

  g_autofree char *whole = g_strstrip (g_strdup (text));
  const char *p = whole;
  double value = 0;
  gboolean negative = wb_number_scan_sign (&p);
  if (!parse_unsigned (p, quantity, unit, negative, whole, &value, error))
    return FALSE;
  if (!isfinite (value))
    return wb_number_refuse (error, WB_NUMBER_ERROR_RANGE, _("“%s” is too large or too small a number"), whole);
  if (quantity == WB_QUANTITY_TEMPERATURE && value < ABSOLUTE_ZERO_C)
    return wb_number_refuse (error, WB_NUMBER_ERROR_RANGE, _("“%s” is below absolute zero"), whole);
  *stored = value;
  return TRUE;
}
