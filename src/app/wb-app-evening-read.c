/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-evening-private.h"

#include "wb-clock.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* One cell of a sheet, as a hand writes it: a time, a length, a rating by its digit or word, the pool in one or two diameters. */

#define N_POOL_SIDES 2
/* A ruler over a round vessel: 5 % above its width counts as at the wall. */
#define WIDEST_SHARE 1.05
#define DAYS_AHEAD 2
/* "1930": nobody has to look for the colon. */
#define N_CLOCK_DIGITS 4

gboolean
wb_app_evening_is_pool (WbColumn column)
{
  return column == WB_COLUMN_POOL_MM || column == WB_COLUMN_POOL_A_MM || column == WB_COLUMN_POOL_B_MM || column == WB_COLUMN_POOL_FULL;
}

/* ---- Times ---- */

gboolean
wb_app_evening_read_clock (const char *text,
                           int        *hour,
                           int        *minute)
{
  g_autofree char *clean = g_strstrip (g_strdup (text));

  if (strlen (clean) == N_CLOCK_DIGITS && strspn (clean, "0123456789") == N_CLOCK_DIGITS)
    {
      g_autofree char *parted = g_strdup_printf ("%.2s:%s", clean, clean + 2);

      return wb_time_of_day_parse (parted, hour, minute);
    }
  return wb_time_of_day_parse (clean, hour, minute);
}

const char *
wb_app_evening_get_time_rule (guint moment)
{
  return moment == 0 ? _("A time of day such as 19:30 is wanted.")
                     : _("A time of day such as 20:30 is wanted, or the minutes since lighting, such as 60.");
}

gboolean
wb_app_evening_read_minutes (const char *text,
                             double     *minutes)
{
  double seconds;

  /* With a colon it was meant as a time of day. */
  if (strchr (text, ':') != NULL || !wb_quantity_parse (WB_QUANTITY_DURATION, WB_UNIT_MINUTE, text, &seconds, NULL) || seconds < 0)
    return FALSE;
  *minutes = round (seconds / 6) / 10;
  return TRUE;
}

WbInstant
wb_app_evening_resolve (int       hour,
                        int       minute,
                        WbInstant after,
                        gboolean  later)
{
  WbClock *clock = wb_clock_get ();
  gint64 minute_us = 60 * (gint64) G_USEC_PER_SEC;
  gint64 from_us = after.utc_us - after.utc_us % minute_us + (later ? minute_us : 0);
  WbDay day = wb_instant_get_day (after);

  /* Begins a day before: the offset may have changed since. */
  for (WbDay ahead = -1; ahead <= DAYS_AHEAD; ahead++)
    {
      WbInstant first, second;

      if (!wb_clock_local_twice (clock, day + ahead, hour, minute, 0, &first, &second))
        first = second = wb_clock_local (clock, day + ahead, hour, minute, 0);
      if (first.known && first.utc_us >= from_us)
        return first;
      if (second.known && second.utc_us >= from_us)
        return second;
    }
  return WB_INSTANT_NONE;
}

/* ---- Numbers ---- */

static char *
dup_range_problem (WbUnit unit,
                   double minimum,
                   double maximum)
{
  g_autofree char *low = wb_quantity_format (unit, minimum, -1);
  g_autofree char *high = wb_quantity_format (unit, maximum, -1);

  return g_strdup_printf (_("It lies between %s and %s."), low, high);
}

static gboolean
read_number (const WbColumnSpec *spec,
             const char         *text,
             gboolean            us_units,
             double             *value,
             char              **problem)
{
  WbUnit unit = wb_quantity_get_shown_unit (spec->quantity, us_units);
  g_autoptr (GError) error = NULL;

  if (!wb_quantity_parse (spec->quantity, unit, text, value, &error))
    {
      *problem = g_strdup (error->message);
      return FALSE;
    }
  if (*value < spec->minimum || *value > spec->maximum)
    {
      *problem = dup_range_problem (unit, spec->minimum, spec->maximum);
      return FALSE;
    }
  if (spec->integer && *value != floor (*value))
    {
      *problem = g_strdup (_("A whole number is wanted."));
      return FALSE;
    }
  return TRUE;
}

gboolean
wb_app_evening_read_length (const char *text,
                            gboolean    us_units,
                            double      minimum_mm,
                            double      maximum_mm,
                            double     *mm,
                            char      **problem)
{
  WbColumnSpec spec = { .quantity = WB_QUANTITY_LENGTH, .minimum = minimum_mm, .maximum = maximum_mm };

  return read_number (&spec, text, us_units, mm, problem);
}

/* ---- Words ---- */

static char *
dup_fold (const char *text)
{
  g_autofree char *clean = g_strstrip (g_strdup (text));

  return g_utf8_casefold (clean, -1);
}

/* "0 none, 1 wisps, 2 steady" */
static char *
dup_words_problem (const WbColumnSpec *spec)
{
  g_autoptr (GString) list = g_string_new (NULL);

  for (int i = (int) spec->minimum; spec->words[i].nick != NULL; i++)
    g_string_append_printf (list, "%s%d %s", list->len > 0 ? ", " : "", i, _(spec->words[i].label));
  return g_strdup_printf (_("A digit or the beginning of a word: %s."), list->str);
}

/* The index, the file's word, or so much of the word that no other begins with it; -1: none, or several. */
static int
find_word (const WbColumnSpec *spec,
           const char         *text)
{
  g_autofree char *typed = dup_fold (text);
  guint64 number;
  int found = -1, n = 0;

  if (g_ascii_string_to_unsigned (typed, 10, (guint64) spec->minimum, (guint64) spec->maximum, &number, NULL))
    return (int) number;
  for (int i = (int) spec->minimum; spec->words[i].nick != NULL; i++)
    {
      g_autofree char *label = dup_fold (_(spec->words[i].label));

      if (strcmp (label, typed) == 0 || strcmp (spec->words[i].nick, typed) == 0)
        return i;
      if (g_str_has_prefix (label, typed))
        {
          found = i;
          n++;
        }
    }
  return n == 1 ? found : -1;
}

/* ---- The pool ---- */

static gboolean
is_full (const char *part)
{
  g_autofree char *typed = dup_fold (part);
  g_autofree char *word = dup_fold (_("full"));

  return *typed != '\0' && (g_str_has_prefix (word, typed) || g_str_has_prefix ("full", typed));
}

/* In inches a stroke is a fraction's. */
static gboolean
has_inches (const char *text,
            gboolean    us_units)
{
  return strchr (text, '"') != NULL || strstr (text, "in") != NULL || (us_units && strstr (text, "mm") == NULL && strstr (text, "cm") == NULL);
}

static char **
split_sides (const char *text,
             gboolean    us_units)
{
  g_autoptr (GString) plain = g_string_new (text);

  g_string_replace (plain, "×", "x", 0);
  g_string_replace (plain, "X", "x", 0);
  g_string_replace (plain, "*", "x", 0);
  if (!has_inches (text, us_units) || is_full (text))
    g_string_replace (plain, "/", "x", 0);
  return g_strsplit (plain->str, "x", -1);
}

static gboolean
read_side (const char *part,
           gboolean    us_units,
           double      inner_mm,
           double     *mm,
           gboolean   *full,
           char      **problem)
{
  *mm = NAN;
  *full = is_full (part);
  if (*full)
    return TRUE;
  if (!wb_app_evening_read_length (part, us_units, 0, wb_column_get_spec (WB_COLUMN_POOL_MM)->maximum, mm, problem))
    return FALSE;
  if (*mm > inner_mm * WIDEST_SHARE)
    {
      g_autofree char *width = wb_quantity_format (wb_quantity_get_shown_unit (WB_QUANTITY_LENGTH, us_units), inner_mm, -1);

      *problem = g_strdup_printf (_("The vessel is %s wide inside."), width);
      return FALSE;
    }
  return TRUE;
}

static gboolean
read_pool (const char *text,
           gboolean    us_units,
           double      inner_mm,
           double      values[WB_N_COLUMNS],
           char      **problem)
{
  g_auto (GStrv) parts = split_sides (text, us_units);
  guint n = g_strv_length (parts);
  double mm[N_POOL_SIDES];
  gboolean full[N_POOL_SIDES];

  if (n > N_POOL_SIDES)
    {
      *problem = g_strdup (_("One diameter or two: 54, 54/56 or full."));
      return FALSE;
    }
  for (guint i = 0; i < n; i++)
    if (!read_side (parts[i], us_units, inner_mm, &mm[i], &full[i], problem))
      return FALSE;
  if (n == 1)
    {
      values[WB_COLUMN_POOL_MM] = mm[0];
      values[WB_COLUMN_POOL_FULL] = full[0] ? 1 : NAN;
      return TRUE;
    }
  values[WB_COLUMN_POOL_A_MM] = mm[0];
  values[WB_COLUMN_POOL_B_MM] = mm[1];
  values[WB_COLUMN_POOL_FULL] = full[0] || full[1] ? (full[0] ? 2 : 0) + (full[1] ? 4 : 0) : NAN;
  return TRUE;
}

static char *
dup_side (double   mm,
          gboolean full,
          gboolean us_units)
{
  if (full)
    return g_strdup (_("full"));
  return isnan (mm) ? NULL : wb_quantity_format_number (wb_quantity_get_shown_unit (WB_QUANTITY_LENGTH, us_units), mm, -1);
}

static char *
dup_pool (const double values[WB_N_COLUMNS],
          gboolean     us_units)
{
  int bits = isnan (values[WB_COLUMN_POOL_FULL]) ? 0 : (int) values[WB_COLUMN_POOL_FULL];
  g_autofree char *one = dup_side (values[WB_COLUMN_POOL_MM], (bits & 1) != 0, us_units);
  g_autofree char *first = dup_side (values[WB_COLUMN_POOL_A_MM], (bits & 2) != 0, us_units);
  g_autofree char *second = dup_side (values[WB_COLUMN_POOL_B_MM], (bits & 4) != 0, us_units);

  if (first != NULL && second != NULL)
    return g_strdup_printf (us_units ? "%s×%s" : "%s/%s", first, second);
  if (first == NULL && second == NULL)
    return g_steal_pointer (&one);
  return first != NULL ? g_steal_pointer (&first) : g_steal_pointer (&second);
}

/* ---- Any field ---- */

gboolean
wb_app_evening_read_field (WbColumn    column,
                           const char *text,
                           gboolean    us_units,
                           double      inner_mm,
                           double      values[WB_N_COLUMNS],
                           char      **problem)
{
  const WbColumnSpec *spec = wb_column_get_spec (column);
  int word;

  *problem = NULL;
  if (wb_app_evening_is_pool (column))
    return read_pool (text, us_units, inner_mm, values, problem);
  if (spec->words == NULL)
    return read_number (spec, text, us_units, &values[column], problem);
  word = find_word (spec, text);
  if (word < 0)
    *problem = dup_words_problem (spec);
  else
    values[column] = word;
  return word >= 0;
}

char *
wb_app_evening_dup_field (WbColumn     column,
                          const double values[WB_N_COLUMNS],
                          gboolean     us_units)
{
  const WbColumnSpec *spec = wb_column_get_spec (column);

  if (wb_app_evening_is_pool (column))
    return dup_pool (values, us_units);
  if (isnan (values[column]))
    return NULL;
  /* A rating by its digit; what has no digit in files is told by its word. */
  if (spec->words != NULL && !g_ascii_isdigit (spec->words[(int) values[column]].nick[0]))
    return g_strdup (_(spec->words[(int) values[column]].label));
  return wb_quantity_format_number (wb_quantity_get_shown_unit (spec->quantity, us_units), values[column], spec->words != NULL ? 0 : -1);
}
