/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-instant.h"
#include "wb-number-private.h"

#include <glib/gi18n-lib.h>
#include <stdlib.h>
#include <string.h>

/*
 * A day as a hand writes it. Not g_date_set_parse(): it guesses the order of day and month from the locale. Here an order is
 * never guessed: the month is a word, or the points of "27.11." say that the day comes first, or the year does, as in ISO 8601.
 */

/* FALSE: no number of one to four digits stands there. */
static gboolean
scan_number (const char **cursor,
             int         *value)
{
  gsize digits = strspn (*cursor, "0123456789");

  if (digits == 0 || digits > 4)
    return FALSE;
  *value = atoi (*cursor);
  *cursor += digits;
  return TRUE;
}

/* The word is a month, or its beginning, in one of the languages that dates are written in: three letters or more. 0: it is none. */
static int
find_month (const char *word)
{
  g_autofree char *folded = g_utf8_casefold (word, -1);
  gsize length = strlen (folded);

  if (g_utf8_strlen (folded, -1) < 3)
    return 0;
  for (guint style = 0; style < wb_number_styles_count (); style++)
    for (int month = 1; month <= 12; month++)
      {
        g_autofree char *own = g_utf8_casefold (wb_number_styles_get (style)->months[month - 1], -1);
        gsize stem = strcspn (own, ".");

        /* "November" as well as "nov": what is written down here is the short form. */
        if (strncmp (folded, own, MIN (length, stem)) == 0)
          return month;
      }
  return 0;
}

/* A month as a word, with the point of its abbreviation, or as a number that the day's point stands before. */
static gboolean
scan_month (const char **cursor,
            gboolean     pointed,
            int         *month)
{
  const char *end = *cursor;
  g_autofree char *word = NULL;

  if (pointed && scan_number (cursor, month))
    {
      if (**cursor == '.')
        *cursor += 1;
      return TRUE;
    }
  while (g_unichar_isalpha (g_utf8_get_char (end)))
    end = g_utf8_next_char (end);
  word = g_strndup (*cursor, (gsize) (end - *cursor));
  *cursor = *end == '.' ? end + 1 : end;
  *month = find_month (word);
  return *month > 0;
}

static gboolean
get_day (int    of_month,
         int    month,
         int    year,
         WbDay *day)
{
  g_autofree char *iso = NULL;

  if (of_month < 1 || of_month > 31 || month < 1 || month > 12)
    return FALSE;
  iso = g_strdup_printf ("%04d-%02d-%02d", year, month, of_month);
  return wb_day_parse (iso, day, NULL);
}

/* Of a day without its year, the last that was not after today: within eight years there is a 29 February. */
static gboolean
get_last (int    of_month,
          int    month,
          WbDay  today,
          WbDay *day)
{
  g_autofree char *iso = wb_day_format (today);
  int year = atoi (iso);

  for (int back = 0; back <= 8; back++)
    if (get_day (of_month, month, year - back, day) && *day <= today)
      return TRUE;
  return FALSE;
}

static gboolean
read_written (const char *text,
              WbDay       today,
              WbDay      *day)
{
  const char *p = text;
  int of_month = 0, month = 0, year = 0;
  gboolean pointed;

  if (!scan_number (&p, &of_month))
    return FALSE;
  pointed = *p == '.';
  p = wb_number_skip_space (pointed ? p + 1 : p);
  if (!scan_month (&p, pointed, &month))
    return FALSE;
  p = wb_number_skip_space (p);
  if (*p == ',')
    p = wb_number_skip_space (p + 1);
  if (*p == '\0')
    return today != WB_DAY_NONE && get_last (of_month, month, today, day);
  return scan_number (&p, &year) && *wb_number_skip_space (p) == '\0' && get_day (of_month, month, year, day);
}

gboolean
wb_day_read (const char *text,
             WbDay       today,
             WbDay      *day,
             GError    **error)
{
  g_autofree char *clean = NULL, *folded = NULL;
  WbDay read = WB_DAY_NONE;

  g_return_val_if_fail (text != NULL && day != NULL, FALSE);

  if (!wb_number_check_text (text, error))
    return FALSE;
  clean = g_strstrip (g_strdup (text));
  folded = g_utf8_casefold (clean, -1);
  if (today != WB_DAY_NONE && (g_str_equal (folded, "today") || g_utf8_collate (clean, _("today")) == 0))
    read = today;
  else if (today != WB_DAY_NONE && (g_str_equal (folded, "yesterday") || g_utf8_collate (clean, _("yesterday")) == 0))
    read = today - 1;
  else if (!wb_day_parse (clean, &read, NULL) && !read_written (clean, today, &read))
    return wb_number_refuse (error, WB_NUMBER_ERROR_SYNTAX, today != WB_DAY_NONE ? _("“%s”: write a day as 2 Mar, 2 Mar 2026 or 2026-03-02")
                                                                                  : _("“%s”: write a day as 2 Mar 2026 or 2026-03-02"), text);
  *day = read;
  return TRUE;
}

gboolean
wb_day_read_with_time (const char *text,
                       WbDay       today,
                       WbDay      *day,
                       int        *hour,
                       int        *minute)
{
  const char *blank;
  g_autofree char *before = NULL;

  g_return_val_if_fail (text != NULL && day != NULL && hour != NULL && minute != NULL, FALSE);

  blank = strrchr (text, ' ');
  if (blank == NULL || !wb_time_of_day_parse (blank + 1, hour, minute))
    return FALSE;
  before = g_strstrip (g_strndup (text, (gsize) (blank - text)));
  if (g_str_has_suffix (before, ","))
    before[strlen (before) - 1] = '\0';
  return wb_day_read (before, today, day, NULL);
}
