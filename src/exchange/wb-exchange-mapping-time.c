/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-mapping-time-private.h"

#include "wb-exchange-log-value-private.h"

#include <glib/gi18n-lib.h>
#include <stdlib.h>
#include <string.h>

#define DAY_S 86400

/* One of the three parts of a date. */
typedef struct
{
  int value;     /* of digits, or of a month's name */
  int digits;    /* how many; 0: a month's name */
} Part;

/* `format` has one %s for what stood there. */
static gboolean
refuse (char **rule, const char *format, const char *text)
{
  g_autofree char *quoted = wb_exchange_log_dup_quoted (text);
  g_autoptr (GString) message = g_string_new (format);

  g_string_replace (message, "%s", quoted, 1);
  *rule = g_string_free (g_steal_pointer (&message), FALSE);
  return FALSE;
}

/* By its first three letters in English, as spreadsheets write it; 0: none. */
static int
find_month (const char *text, gsize length)
{
  static const char months[] = "janfebmaraprmayjunjulaugsepoctnovdec";

  if (length < 3)
    return 0;
  for (int i = 0; i < 12; i++)
    if (g_ascii_strncasecmp (text, months + 3 * i, 3) == 0)
      return i + 1;
  return 0;
}

static gboolean
scan_part (const char **cursor, Part *part)
{
  const char *p = *cursor;
  gsize digits = strspn (p, "0123456789"), letters = 0;

  while (digits == 0 && g_ascii_isalpha (p[letters]))
    letters++;
  if (digits > 4 || digits + letters == 0)
    return FALSE;
  part->digits = (int) digits;
  part->value = digits > 0 ? atoi (p) : find_month (p, letters);
  *cursor = p + digits + letters;
  return part->value > 0 || digits > 0;
}

/* At most one sign and blanks around it. */
static gboolean
skip_separator (const char **cursor)
{
  const char *p = *cursor + strspn (*cursor, " ");

  if (*p != '\0' && strchr ("/.-,", *p) != NULL)
    p++;
  p += strspn (p, " ");
  if (p == *cursor)
    return FALSE;
  *cursor = p;
  return TRUE;
}

/* Which part is year, month, day. FALSE: they do not stand in this order. */
static gboolean
order_parts (const Part parts[3], WbLogDateOrder order, int *year, int *month, int *day)
{
  static const int places[WB_LOG_N_DATE_ORDERS][3] = {
    [WB_LOG_DATE_YEAR_FIRST] = { 0, 1, 2 },
    [WB_LOG_DATE_DAY_FIRST] = { 2, 1, 0 },
    [WB_LOG_DATE_MONTH_FIRST] = { 2, 0, 1 },
  };

  if (parts[0].digits == 4)
    order = WB_LOG_DATE_YEAR_FIRST;
  else if (parts[0].digits == 0)
    order = WB_LOG_DATE_MONTH_FIRST;
  else if (parts[1].digits == 0 && order == WB_LOG_DATE_MONTH_FIRST)
    order = WB_LOG_DATE_DAY_FIRST;

  const Part *of_year = &parts[places[order][0]], *of_month = &parts[places[order][1]], *of_day = &parts[places[order][2]];

  /* 02/03/26 is read as 2002 by nobody who writes it. */
  if (order == WB_LOG_DATE_YEAR_FIRST && of_year->digits != 4)
    return FALSE;
  *year = of_year->value + (of_year->digits == 2 ? 2000 : 0);
  *month = of_month->value;
  *day = of_day->value;
  return (of_year->digits == 2 || of_year->digits == 4) && of_month->digits <= 2 && (of_day->digits == 1 || of_day->digits == 2);
}

/* Moves the cursor behind the date. */
static gboolean
scan_day (const char **cursor, WbLogDateOrder order, WbDay *day, char **rule)
{
  static const char *const wanted[WB_LOG_N_DATE_ORDERS] = {
    [WB_LOG_DATE_YEAR_FIRST] = N_("%s: a date with year (of four digits), month and day in this order is wanted"),
    [WB_LOG_DATE_DAY_FIRST] = N_("%s: a date with day, month and year in this order is wanted"),
    [WB_LOG_DATE_MONTH_FIRST] = N_("%s: a date with month, day and year in this order is wanted"),
  };
  const char *text = *cursor;
  Part parts[3] = { { 0, 0 } };
  int year, month, of_month;
  g_autoptr (GDateTime) date = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    if ((i > 0 && !skip_separator (cursor)) || !scan_part (cursor, &parts[i]))
      return refuse (rule, _(wanted[order]), text);
  if (!order_parts (parts, order, &year, &month, &of_month))
    return refuse (rule, _(wanted[order]), text);
  if (year < 1900 || year > 2200)
    return refuse (rule, _("%s: the year must be 1900 to 2200"), text);
  date = g_date_time_new_utc (year, month, of_month, 0, 0, 0);
  if (date == NULL)
    return refuse (rule, _("%s: there is no such day, read in the date order that was chosen"), text);
  *day = (WbDay) (g_date_time_to_unix (date) / DAY_S);
  return TRUE;
}

/* "am", "p.m.", "P" behind a time: 0, 12; -1: none of them. */
static int
find_half (const char *text)
{
  g_autoptr (GString) letters = g_string_new (NULL);

  for (const char *p = text; *p != '\0'; p++)
    if (*p != '.' && *p != ' ')
      g_string_append_c (letters, g_ascii_tolower (*p));
  if (strcmp (letters->str, "a") == 0 || strcmp (letters->str, "am") == 0)
    return 0;
  return strcmp (letters->str, "p") == 0 || strcmp (letters->str, "pm") == 0 ? 12 : -1;
}

/* Two digits behind a colon, point or h. */
static gboolean
scan_sixtieths (const char **cursor, int *value)
{
  const char *p = *cursor;

  if (*p == '\0' || strchr (":.h", *p) == NULL || !g_ascii_isdigit (p[1]) || !g_ascii_isdigit (p[2]) || g_ascii_isdigit (p[3]))
    return FALSE;
  *value = atoi (p + 1);
  *cursor = p + 3;
  return TRUE;
}

gboolean
wb_exchange_mapping_read_time (const char *text,
                               int        *second,
                               char      **rule)
{
  const char *p = text + strspn (text, "0123456789");
  gsize digits = (gsize) (p - text);
  int hour = digits > 0 && digits <= 2 ? atoi (text) : -1, minute = 0, seconds = 0;
  gboolean minutes = scan_sixtieths (&p, &minute);

  if (minutes)
    scan_sixtieths (&p, &seconds);
  p += strspn (p, " ");

  int half = *p != '\0' ? find_half (p) : -1;

  if (hour < 0 || (*p != '\0' && half < 0) || (!minutes && half < 0))
    return refuse (rule, _("%s: write a time of day as 19:05 or 7:05 pm"), text);
  if (minute > 59 || seconds > 59 || hour > 23 || (half >= 0 && (hour < 1 || hour > 12)))
    return refuse (rule, _("%s: there is no such time of day"), text);
  if (half >= 0)
    hour = hour % 12 + half;
  *second = (hour * 60 + minute) * 60 + seconds;
  return TRUE;
}

gboolean
wb_exchange_mapping_has_half (const char *text)
{
  return g_regex_match_simple ("[ap][. ]*(m[. ]*)?$", text, G_REGEX_CASELESS, 0);
}

gboolean
wb_exchange_mapping_read_moment (const char       *text,
                                 WbLogDateOrder    order,
                                 WbExchangeMoment *moment,
                                 char            **rule)
{
  const char *p = text;

  *moment = WB_EXCHANGE_MOMENT_NONE;
  if (wb_instant_parse (text, &moment->instant, NULL))
    return TRUE;
  moment->instant = WB_INSTANT_NONE;
  if (!scan_day (&p, order, &moment->day, rule))
    return FALSE;
  if (*p == '\0')
    return TRUE;
  if (strchr ("T ,", *p) == NULL)
    return refuse (rule, _("%s: something stands behind the date"), text);
  return wb_exchange_mapping_read_time (p + strspn (p, "T ,"), &moment->second, rule);
}

/* Whether the end of summer time shows that time of that day twice. */
static gboolean
is_doubled (GTimeZone *zone, GDateTime *local)
{
  for (int hour = -1; hour <= 1; hour += 2)
    {
      g_autoptr (GDateTime) beside = g_date_time_add_hours (local, hour);
      g_autoptr (GDateTime) shown = g_date_time_to_timezone (beside, zone);

      if (g_date_time_get_hour (shown) == g_date_time_get_hour (local) && g_date_time_get_minute (shown) == g_date_time_get_minute (local))
        return TRUE;
    }
  return FALSE;
}

gboolean
wb_exchange_mapping_find_instant (GTimeZone *zone,
                                  WbDay      day,
                                  int        second,
                                  WbInstant *instant,
                                  char     **rule)
{
  g_autoptr (GDateTime) utc = g_date_time_new_from_unix_utc ((gint64) day * DAY_S + second);
  g_autoptr (GDateTime) local =
    g_date_time_new (zone, g_date_time_get_year (utc), g_date_time_get_month (utc), g_date_time_get_day_of_month (utc),
                     g_date_time_get_hour (utc), g_date_time_get_minute (utc), g_date_time_get_second (utc));

  g_autofree char *shown = g_date_time_format (utc, "%Y-%m-%d %H:%M");

  if (local == NULL || g_date_time_get_hour (local) != g_date_time_get_hour (utc)
      || g_date_time_get_minute (local) != g_date_time_get_minute (utc))
    return refuse (rule, _("%s: the clocks of the zone left this time out when summer time began"), shown);
  if (is_doubled (zone, local))
    return refuse (rule, _("%s: the clocks of the zone showed this time twice when summer time ended; write it with its offset, as in 2026-10-25T02:30+01:00"),
                   shown);
  instant->utc_us = g_date_time_to_unix (local) * G_USEC_PER_SEC;
  instant->offset_s = (gint32) (g_date_time_get_utc_offset (local) / G_USEC_PER_SEC);
  instant->known = TRUE;
  return TRUE;
}
