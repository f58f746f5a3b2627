/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-number.h"
#include "wb-number-private.h"

#include <float.h>
#include <glib/gi18n-lib.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define QUOTE_MAX 40
#define MINUS_SIGN "\u2212"

G_DEFINE_QUARK (wb-number-error-quark, wb_number_error)

char *
wb_number_quote (const char *text)
{
  /* Four bytes a character at most: the rest would be cut anyway. */
  g_autofree char *head = g_strndup (text, 4 * (QUOTE_MAX + 1));
  g_autofree char *valid = g_utf8_make_valid (head, -1);
  g_autoptr (GString) out = g_string_new (NULL);
  int n = 0;

  for (const char *p = valid; *p != '\0'; p = g_utf8_next_char (p), n++)
    {
      gunichar c = g_utf8_get_char (p);
      if (n == QUOTE_MAX)
        {
          g_string_append (out, "…");
          break;
        }
      g_string_append_unichar (out, g_unichar_isprint (c) ? c : ' ');
    }
  return g_string_free (g_steal_pointer (&out), FALSE);
}

gboolean
wb_number_refuse (GError **error, WbNumberError code, const char *format, const char *text)
{
  g_autofree char *quoted = wb_number_quote (text);
  g_autoptr (GString) message = g_string_new (format);

  g_string_replace (message, "%s", quoted, 1);
  g_set_error_literal (error, WB_NUMBER_ERROR, code, message->str);
  return FALSE;
}

const char *
wb_number_skip_space (const char *cursor)
{
  while (*cursor != '\0' && g_unichar_isspace (g_utf8_get_char (cursor)))
    cursor = g_utf8_next_char (cursor);
  return cursor;
}

gboolean
wb_number_scan_sign (const char **cursor)
{
  const char *p = wb_number_skip_space (*cursor);
  gboolean negative = *p == '-' || g_str_has_prefix (p, MINUS_SIGN);

  if (negative || *p == '+')
    p = wb_number_skip_space (g_utf8_next_char (p));
  *cursor = p;
  return negative;
}

gboolean
wb_number_is_group (const char *cursor)
{
  const char *p = wb_number_skip_space (cursor);

  if (p == cursor && *p == '\'')
    p++;
  else if (p == cursor && g_str_has_prefix (p, "’"))
    p = g_utf8_next_char (p);
  return p != cursor && strspn (p, "0123456789") == 3;
}

gboolean
wb_number_check_text (const char *text, GError **error)
{
  if (!g_utf8_validate (text, -1, NULL))
    return wb_number_refuse (error, WB_NUMBER_ERROR_SYNTAX, _("“%s” is not text in UTF-8"), text);
  if (*wb_number_skip_space (text) == '\0')
    {
      g_set_error_literal (error, WB_NUMBER_ERROR, WB_NUMBER_ERROR_EMPTY, _("A number is missing"));
      return FALSE;
    }
  return TRUE;
}

/* Copies "12,5" to `out` with a point; counts what it saw. */
static const char *
copy_mantissa (const char *p, GString *out, int *n_digits, int *n_signs, char *sign, gboolean *loose)
{
  for (; g_ascii_isdigit (*p) || *p == '.' || *p == ','; p++)
    {
      if (g_ascii_isdigit (*p))
        {
          *n_digits += 1;
          g_string_append_c (out, *p);
          continue;
        }
      if (!g_ascii_isdigit (p[1]) || *n_digits == 0)
        *loose = TRUE;
      *n_signs += 1;
      *sign = *p;
      g_string_append_c (out, '.');
    }
  return p;
}

static const char *
copy_exponent (const char *p, GString *out)
{
  const char *digits = p + 1;

  if (*p != 'e' && *p != 'E')
    return p;
  if (*digits == '-' || *digits == '+')
    digits++;
  if (!g_ascii_isdigit (*digits))
    return p;
  const char *end = digits + strspn (digits, "0123456789");
  g_string_append_len (out, p, end - p);
  return end;
}

gboolean
wb_number_scan_decimal (const char **cursor, const char *signs, const char *whole, double *value, GError **error)
{
  g_autoptr (GString) plain = g_string_new (NULL);
  int n_digits = 0, n_signs = 0;
  char sign = '\0';
  gboolean loose = FALSE;
  const char *p = copy_mantissa (*cursor, plain, &n_digits, &n_signs, &sign, &loose);

  if (n_digits == 0 || (n_signs > 1 && loose))
    return wb_number_refuse (error, WB_NUMBER_ERROR_SYNTAX, _("“%s” is not a number"), whole);
  if (n_signs > 1 || (n_signs == 0 && wb_number_is_group (p)))
    return wb_number_refuse (error, WB_NUMBER_ERROR_GROUPING,
                             _("“%s”: write the number without thousands separators"), whole);
  if (n_signs == 1 && strchr (signs, sign) == NULL)
    return wb_number_refuse (error, WB_NUMBER_ERROR_SYNTAX,
                             *signs == ',' ? _("“%s”: the decimal sign here is the comma")
                                           : _("“%s”: the decimal sign here is the point"),
                             whole);

  gboolean zero = strspn (plain->str, "0.") == plain->len;
  p = copy_exponent (p, plain);
  double read = g_ascii_strtod (plain->str, NULL);
  if (!isfinite (read) || (read == 0 && !zero))
    return wb_number_refuse (error, WB_NUMBER_ERROR_RANGE, _("“%s” is too large or too small a number"), whole);
  *value = read;
  *cursor = p;
  return TRUE;
}

static gboolean
parse_decimal (const char *text, const char *signs, double *value, GError **error)
{
  const char *p = text;
  double read;

  if (!wb_number_check_text (text, error))
    return FALSE;
  gboolean negative = wb_number_scan_sign (&p);
  if (!wb_number_scan_decimal (&p, signs, text, &read, error))
    return FALSE;
  if (*wb_number_skip_space (p) != '\0')
    return wb_number_refuse (error, WB_NUMBER_ERROR_SYNTAX, _("“%s” is not a number"), text);
  /* A zero has no sign: what is stored must not depend on how it was typed. */
  *value = negative && read != 0 ? -read : read;
  return TRUE;
}

/*
 * The numbers that files are made of: a few digits, perhaps a sign. Up to 15
 * digits and powers of ten up to 10^15 are exact in a double, so one division
 * rounds once, as strtod would. FALSE: not that plain, ask parse_decimal().
 */
static gboolean
parse_plain (const char *text, char decimal, double *value)
{
  static const double powers[] = { 1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15 };
  gboolean negative = *text == '-';
  const char *p = text + negative, *mark = NULL;
  gint64 digits = 0;
  int n = 0;

  for (; n <= 15; p++)
    if (g_ascii_isdigit (*p))
      {
        digits = digits * 10 + (*p - '0');
        n++;
      }
    else if (*p == decimal && mark == NULL && n > 0)
      mark = p;
    else
      break;
  if (*p != '\0' || n == 0 || n > 15 || (mark != NULL && mark + 1 == p))
    return FALSE;

  double read = digits / powers[mark != NULL ? p - mark - 1 : 0];

  *value = negative && digits != 0 ? -read : read;
  return TRUE;
}

gboolean
wb_number_parse (const char *text, double *value, GError **error)
{
  g_return_val_if_fail (text != NULL && value != NULL, FALSE);

  return parse_decimal (text, ".,", value, error);
}

gboolean
wb_number_parse_strict (const char *text, char decimal, double *value, GError **error)
{
  g_return_val_if_fail (text != NULL && value != NULL, FALSE);
  g_return_val_if_fail (decimal == '.' || decimal == ',', FALSE);

  return parse_plain (text, decimal, value) || parse_decimal (text, decimal == '.' ? "." : ",", value, error);
}

gboolean
wb_number_parse_integer (const char *text, gint64 *value, GError **error)
{
  g_return_val_if_fail (text != NULL && value != NULL, FALSE);

  const char *p = text;
  if (!wb_number_check_text (text, error))
    return FALSE;
  gboolean negative = wb_number_scan_sign (&p);
  gsize n = strspn (p, "0123456789");
  if (n == 0 || *wb_number_skip_space (p + n) != '\0')
    {
      gboolean grouped = n > 0 && wb_number_is_group (p + n);
      wb_number_refuse (error, grouped ? WB_NUMBER_ERROR_GROUPING : WB_NUMBER_ERROR_SYNTAX,
                        grouped ? _("“%s”: write the number without thousands separators")
                                : _("“%s” is not a whole number"),
                        text);
      return FALSE;
    }

  g_autofree char *digits = g_strndup (p, n);
  g_autofree char *plain = g_strconcat (negative ? "-" : "", digits, NULL);
  if (!g_ascii_string_to_signed (plain, 10, G_MININT64, G_MAXINT64, value, NULL))
    return wb_number_refuse (error, WB_NUMBER_ERROR_RANGE, _("“%s” is too large or too small a number"), text);
  return TRUE;
}

/*
 * Any decimal of 15 digits survives a double, and 17 digits tell every double,
 * so a shorter one than %.15g gives exists only where a double is subnormal.
 */
static int
shortest_precision (double value)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];

  for (int precision = fabs (value) < DBL_MIN ? 1 : 15; precision < 17; precision++)
    {
      char format[8];
      g_snprintf (format, sizeof format, "%%.%de", precision - 1);
      g_ascii_formatd (text, sizeof text, format, value);
      if (g_ascii_strtod (text, NULL) == value)
        return precision;
    }
  return 17;
}

/* "1e+15" to "1e15", "1e-05" to "1e-5". */
static void
tidy_exponent (char *text)
{
  char *e = strchr (text, 'e');

  if (e == NULL)
    return;
  char *to = e + 1, *from = e + 1;
  if (*from == '-')
    to++;
  from++;
  while (*from == '0')
    from++;
  memmove (to, from, strlen (from) + 1);
}

/*
 * Numbers of up to three decimals, which is nearly all that is measured: such
 * a decimal has at most 15 digits, so it reads back as itself, and the first
 * that does is the shortest. NULL: not that plain.
 */
static char *
shortest_plain (double value)
{
  gint64 scale = 1;

  if (fabs (value) >= 1e12)
    return NULL;
  for (int places = 0; places <= 3; places++, scale *= 10)
    {
      double whole = round (value * scale);

      if (whole / scale != value)
        continue;

      gint64 digits = (gint64) fabs (whole);
      const char *sign = value < 0 ? "-" : "";

      if (places == 0)
        return g_strdup_printf ("%s%" G_GINT64_FORMAT, sign, digits);
      return g_strdup_printf ("%s%" G_GINT64_FORMAT ".%0*d", sign, digits / scale, places, (int) (digits % scale));
    }
  return NULL;
}

char *
wb_number_shortest (double value)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  char format[8];

  g_return_val_if_fail (isfinite (value), g_strdup (""));

  if (value == 0)
    return g_strdup ("0");

  char *plain = shortest_plain (value);

  if (plain != NULL)
    return plain;
  g_snprintf (format, sizeof format, "%%.%dg", shortest_precision (value));
  g_ascii_formatd (text, sizeof text, format, value);
  tidy_exponent (text);
  return g_strdup (text);
}

/* Adds one unit in the last of `n` decimal digits; TRUE if it carried out of the first, which is 1 then. */
static gboolean
increment (char *digits, int n)
{
  for (int i = n - 1; i >= 0; i--)
    {
      if (digits[i] < '9')
        {
          digits[i]++;
          return FALSE;
        }
      digits[i] = '0';
    }
  if (n > 0)
    digits[0] = '1';
  return TRUE;
}

/*
 * The digits of |value| scaled by 10^decimals, rounded half away from zero:
 * "1235" for 12.345 and two decimals. Works on the shortest decimal, so that
 * 2.675 rounds as a person reads it.
 */
static char *
round_digits (double value, int decimals)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE], format[8];
  int precision = shortest_precision (value);

  g_snprintf (format, sizeof format, "%%.%de", precision - 1);
  g_ascii_formatd (text, sizeof text, format, fabs (value));

  char *e = strchr (text, 'e');
  int exponent = atoi (e + 1);
  *e = '\0';
  if (text[1] == '.')
    memmove (text + 1, text + 2, strlen (text + 2) + 1);

  int keep = exponent + 1 + decimals;
  if (keep < 0)
    return g_strdup ("0");
  if (keep == 0)
    return g_strdup (text[0] >= '5' ? "1" : "0");
  if (keep >= precision)
    {
      g_autofree char *zeros = g_strnfill (keep - precision, '0');
      return g_strconcat (text, zeros, NULL);
    }

  gboolean up = text[keep] >= '5';
  text[keep] = '\0';
  gboolean carried = up && increment (text, keep);
  return g_strconcat (text, carried ? "0" : "", NULL);
}

char *
wb_number_format (double value, int decimals, const WbNumberStyle *style)
{
  g_return_val_if_fail (isfinite (value), g_strdup (""));
  g_return_val_if_fail (decimals >= 0 && decimals <= 9, g_strdup (""));

  g_autofree char *digits = round_digits (value, decimals);
  gboolean zero = strspn (digits, "0") == strlen (digits);
  int length = strlen (digits);
  g_autoptr (GString) out = g_string_new (value < 0 && !zero ? "-" : "");

  for (int i = length; i < decimals + 1; i++)
    g_string_append_c (out, '0');
  g_string_append (out, digits);
  if (decimals > 0)
    g_string_insert_c (out, out->len - decimals,
                       wb_number_style_get_decimal (style != NULL ? style : wb_number_style_default ()));
  return g_string_free (g_steal_pointer (&out), FALSE);
}

char *
wb_number_format_trimmed (double value, int decimals, const WbNumberStyle *style)
{
  char *text = wb_number_format (value, decimals, style);
  gsize length = strlen (text);

  if (decimals > 0 && length > 0)
    {
      while (text[length - 1] == '0')
        length--;
      if (!g_ascii_isdigit (text[length - 1]))
        length--;
      text[length] = '\0';
    }
  return text;
}
