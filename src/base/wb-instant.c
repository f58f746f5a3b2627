/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-instant.h"
#include "wb-number-private.h"

#include <glib/gi18n-lib.h>
#include <stdlib.h>
#include <string.h>

/*
 * The calendar is GLib's GDate. Its ISO 8601 reader is not used: it takes week
 * dates, ordinal dates, a space for the T and a 60th second, and refuses a time
 * without seconds.
 */

#define EPOCH_JULIAN 719163 /* GDate's day number of 1970-01-01 */
#define YEAR_MIN 1900
#define YEAR_MAX 2200
#define DAY_US (G_GINT64_CONSTANT (86400) * G_USEC_PER_SEC)
#define OFFSET_MAX_S 64800

static gboolean
scan_char (const char **cursor, char c)
{
  if (**cursor != c)
    return FALSE;
  *cursor += 1;
  return TRUE;
}

static gboolean
scan_field (const char **cursor, int width, int *value)
{
  int sum = 0;

  for (int i = 0; i < width; i++)
    {
      char c = (*cursor)[i];
      if (!g_ascii_isdigit (c))
        return FALSE;
      sum = sum * 10 + (c - '0');
    }
  *cursor += width;
  *value = sum;
  return TRUE;
}

static gboolean
scan_day (const char **cursor, const char *whole, WbDay *day, GError **error)
{
  int year, month, of_month;

  if (!scan_field (cursor, 4, &year) || !scan_char (cursor, '-') || !scan_field (cursor, 2, &month)
      || !scan_char (cursor, '-') || !scan_field (cursor, 2, &of_month))
    return wb_number_refuse (error, WB_NUMBER_ERROR_SYNTAX, _("“%s”: write a date as 2026-03-02"), whole);
  if (year < YEAR_MIN || year > YEAR_MAX)
    return wb_number_refuse (error, WB_NUMBER_ERROR_RANGE, _("“%s”: the year must be 1900 to 2200"), whole);
  if (!g_date_valid_dmy (of_month, month, year))
    return wb_number_refuse (error, WB_NUMBER_ERROR_RANGE, _("“%s”: there is no such day"), whole);

  GDate date;
  g_date_clear (&date, 1);
  g_date_set_dmy (&date, of_month, month, year);
  *day = (WbDay) g_date_get_julian (&date) - EPOCH_JULIAN;
  return TRUE;
}

/* Digits past the microsecond are cut off, never rounded up. */
static gboolean
scan_fraction (const char **cursor, gint64 *us)
{
  gint64 unit = G_USEC_PER_SEC / 10;
  gsize n = strspn (*cursor, "0123456789");

  if (n == 0 || n > 9)
    return FALSE;
  for (gsize i = 0; i < n; i++, unit /= 10)
    *us += ((*cursor)[i] - '0') * unit;
  *cursor += n;
  return TRUE;
}

static gboolean
scan_time (const char **cursor, const char *whole, gint64 *us, GError **error)
{
  int hour, minute, second = 0;
  gint64 fraction = 0;
  gboolean good = scan_field (cursor, 2, &hour) && scan_char (cursor, ':') && scan_field (cursor, 2, &minute);

  if (good && scan_char (cursor, ':'))
    {
      good = scan_field (cursor, 2, &second);
      if (good && (scan_char (cursor, '.') || scan_char (cursor, ',')))
        good = scan_fraction (cursor, &fraction);
    }
  if (!good)
    return wb_number_refuse (error, WB_NUMBER_ERROR_SYNTAX,
                             _("“%s”: write date and time as 2026-03-02T08:07:00+00:00"), whole);
  if (hour > 23 || minute > 59 || second > 59)
    return wb_number_refuse (error, WB_NUMBER_ERROR_RANGE, _("“%s”: a time goes from 00:00:00 to 23:59:59"), whole);
  *us = ((hour * 60 + minute) * 60 + second) * (gint64) G_USEC_PER_SEC + fraction;
  return TRUE;
}

static gboolean
scan_offset (const char **cursor, const char *whole, int *seconds, GError **error)
{
  int hours, minutes;
  gboolean west = **cursor == '-';

  if (scan_char (cursor, 'Z'))
    {
      *seconds = 0;
      return TRUE;
    }
  if (**cursor == '\0')
    return wb_number_refuse (error, WB_NUMBER_ERROR_SYNTAX,
                             _("“%s”: the offset from UTC is missing, such as +01:00"), whole);
  if ((!scan_char (cursor, '+') && !scan_char (cursor, '-')) || !scan_field (cursor, 2, &hours)
      || !scan_char (cursor, ':') || !scan_field (cursor, 2, &minutes))
    return wb_number_refuse (error, WB_NUMBER_ERROR_SYNTAX, _("“%s”: write the offset from UTC as +01:00 or Z"), whole);
  int size = (hours * 60 + minutes) * 60;
  if (minutes > 59 || size > OFFSET_MAX_S)
    return wb_number_refuse (error, WB_NUMBER_ERROR_RANGE, _("“%s”: the offset from UTC is at most 18:00"), whole);
  *seconds = west ? -size : size;
  return TRUE;
}

gboolean
wb_instant_parse (const char *text, WbInstant *instant, GError **error)
{
  g_return_val_if_fail (text != NULL && instant != NULL, FALSE);

  const char *p = text;
  WbDay day = WB_DAY_NONE;
  gint64 us = 0;
  int offset = 0;

  if (!wb_number_check_text (text, error) || !scan_day (&p, text, &day, error))
    return FALSE;
  if (!scan_char (&p, 'T'))
    return wb_number_refuse (error, WB_NUMBER_ERROR_SYNTAX,
                             _("“%s”: write date and time as 2026-03-02T08:07:00+00:00"), text);
  if (!scan_time (&p, text, &us, error) || !scan_offset (&p, text, &offset, error))
    return FALSE;
  if (*p != '\0')
    return wb_number_refuse (error, WB_NUMBER_ERROR_SYNTAX, _("“%s”: something stands behind the offset"), text);

  instant->utc_us = day * DAY_US + us - offset * (gint64) G_USEC_PER_SEC;
  instant->offset_s = offset;
  instant->known = TRUE;
  return TRUE;
}

gboolean
wb_day_parse (const char *iso, WbDay *day, GError **error)
{
  g_return_val_if_fail (iso != NULL && day != NULL, FALSE);

  const char *p = iso;
  WbDay read = WB_DAY_NONE;
  if (!wb_number_check_text (iso, error) || !scan_day (&p, iso, &read, error))
    return FALSE;
  if (*p != '\0')
    return wb_number_refuse (error, WB_NUMBER_ERROR_SYNTAX, _("“%s”: write a date as 2026-03-02"), iso);
  *day = read;
  return TRUE;
}

/* FALSE for no day and for one outside of what wb_day_parse() reads. */
static gboolean
get_date (WbDay day, GDate *date)
{
  gint64 julian = (gint64) day + EPOCH_JULIAN;

  g_date_clear (date, 1);
  if (day == WB_DAY_NONE || julian < 1 || julian > 1000000)
    return FALSE;
  g_date_set_julian (date, (guint32) julian);
  return g_date_get_year (date) <= YEAR_MAX + 1 && g_date_get_year (date) >= YEAR_MIN - 1;
}

/* The wall clock's microseconds, in the offset of the instant. */
static gint64
get_wall_us (WbInstant instant)
{
  return instant.utc_us + instant.offset_s * (gint64) G_USEC_PER_SEC;
}

static gint64
floor_div (gint64 a, gint64 b)
{
  return a / b - (a % b < 0 ? 1 : 0);
}

WbDay
wb_instant_get_day (WbInstant instant)
{
  if (!instant.known)
    return WB_DAY_NONE;
  return (WbDay) floor_div (get_wall_us (instant), DAY_US);
}

char *
wb_day_format (WbDay day)
{
  GDate date;

  if (!get_date (day, &date))
    return g_strdup ("");
  return g_strdup_printf ("%04d-%02d-%02d", g_date_get_year (&date), g_date_get_month (&date), g_date_get_day (&date));
}

char *
wb_day_format_in (WbDay day, const WbNumberStyle *style)
{
  GDate date;

  if (!get_date (day, &date))
    return g_strdup ("");
  if (style == NULL)
    style = wb_number_style_default ();
  return g_strdup_printf ("%d%s %s %d", g_date_get_day (&date), style->day_suffix,
                          style->months[g_date_get_month (&date) - 1], g_date_get_year (&date));
}

char *
wb_day_format_local (WbDay day)
{
  return wb_day_format_in (day, NULL);
}

char *
wb_instant_format (WbInstant instant)
{
  /* ISO 8601 knows no seconds in an offset (local mean times before 1940 had them): the instant stays exact. */
  instant.offset_s = instant.offset_s / 60 * 60;

  g_autofree char *day = wb_day_format (wb_instant_get_day (instant));
  if (!instant.known || *day == '\0')
    return g_strdup ("");

  gint64 us = get_wall_us (instant) - wb_instant_get_day (instant) * DAY_US;
  int second = (int) (us / G_USEC_PER_SEC);
  int fraction = (int) (us % G_USEC_PER_SEC);
  int offset = ABS (instant.offset_s) / 60;
  char digits[8] = "";

  if (fraction > 0)
    {
      g_snprintf (digits, sizeof digits, ".%06d", fraction);
      for (gsize n = strlen (digits); digits[n - 1] == '0'; n--)
        digits[n - 1] = '\0';
    }
  return g_strdup_printf ("%sT%02d:%02d:%02d%s%c%02d:%02d", day, second / 3600, second / 60 % 60, second % 60, digits,
                          instant.offset_s < 0 ? '-' : '+', offset / 60, offset % 60);
}

char *
wb_instant_format_date (WbInstant instant)
{
  return wb_day_format_local (wb_instant_get_day (instant));
}

/* "am", "p.m.", "PM" at the end: taken off. 0: none, else 'a' or 'p'. */
static char
take_half_of_day (char *text)
{
  static const char *const endings[] = { "am", "pm", "a.m.", "p.m." };

  for (guint i = 0; i < G_N_ELEMENTS (endings); i++)
    {
      gsize length = strlen (text), end = strlen (endings[i]);

      if (length > end && g_ascii_strcasecmp (text + length - end, endings[i]) == 0)
        {
          text[length - end] = '\0';
          g_strchomp (text);
          return endings[i][0];
        }
    }
  return '\0';
}

gboolean
wb_time_of_day_parse (const char *text, int *hour, int *minute)
{
  g_return_val_if_fail (text != NULL && hour != NULL && minute != NULL, FALSE);

  g_autofree char *clean = g_strstrip (g_strdup (text));
  char half = take_half_of_day (clean);
  gsize digits = strspn (clean, "0123456789");
  const char *rest = clean + digits;
  gboolean whole = half != '\0' && *rest == '\0';

  if (digits < 1 || digits > 2 || (!whole && *rest != ':' && *rest != '.'))
    return FALSE;
  if (!whole && (!g_ascii_isdigit (rest[1]) || !g_ascii_isdigit (rest[2]) || rest[3] != '\0'))
    return FALSE;

  int h = atoi (clean), m = whole ? 0 : atoi (rest + 1);

  if (h > 23 || m > 59 || (half != '\0' && (h < 1 || h > 12)))
    return FALSE;
  *hour = half == '\0' ? h : h % 12 + (half == 'p' ? 12 : 0);
  *minute = m;
  return TRUE;
}

/* Minutes since midnight that the clock on the wall showed. */
static int
get_minute_of_day (WbInstant instant)
{
  return (int) ((get_wall_us (instant) - wb_instant_get_day (instant) * DAY_US) / (60 * (gint64) G_USEC_PER_SEC));
}

gboolean
wb_instant_shows (WbInstant instant, int hour, int minute)
{
  return instant.known && get_minute_of_day (instant) == hour * 60 + minute;
}

char *
wb_instant_format_time (WbInstant instant)
{
  if (!instant.known)
    return g_strdup ("");
  int minute = get_minute_of_day (instant);
  return g_strdup_printf ("%02d:%02d", minute / 60, minute % 60);
}

char *
wb_instant_format_short_in (WbInstant instant, const WbNumberStyle *style)
{
  g_autofree char *date = wb_day_format_in (wb_instant_get_day (instant), style);
  g_autofree char *time = wb_instant_format_time (instant);

  if (*date == '\0')
    return g_strdup ("");
  return g_strdup_printf ("%s, %s", date, time);
}

char *
wb_instant_format_short (WbInstant instant)
{
  return wb_instant_format_short_in (instant, NULL);
}
