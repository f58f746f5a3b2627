/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-words-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

WbUnit
wb_report_get_shown (gboolean us_units,
                     WbUnit   stored)
{
  /* durations and figures without a unit are the same everywhere */
  if (wb_unit_get_quantity (stored) == WB_QUANTITY_DURATION || stored == WB_UNIT_NONE)
    return stored;
  return wb_quantity_get_shown_unit (wb_unit_get_quantity (stored), us_units);
}

int
wb_report_get_decimals (gboolean us_units,
                        WbUnit   stored)
{
  switch (wb_report_get_shown (us_units, stored))
    {
    case WB_UNIT_HOUR:
    case WB_UNIT_MM:
    case WB_UNIT_G:
      return 1;
    case WB_UNIT_CELSIUS:
    case WB_UNIT_FAHRENHEIT:
      return 0;
    case WB_UNIT_OZ_PER_H:
      return 3;
    default:
      return wb_unit_get_decimals (wb_report_get_shown (us_units, stored));
    }
}

/* A figure in hours is stored in hours, which no quantity is. */
static double
to_shown (gboolean us_units,
          WbUnit   stored,
          double   value)
{
  WbUnit shown = wb_report_get_shown (us_units, stored);

  return shown == stored ? value : wb_unit_from_stored (shown, value);
}

static char *
dup_number (gboolean us_units,
            WbUnit   stored,
            double   value,
            int      decimals)
{
  return wb_number_format (to_shown (us_units, stored, value), decimals < 0 ? wb_report_get_decimals (us_units, stored) : decimals, NULL);
}

static char *
with_symbol (gboolean    us_units,
             WbUnit      stored,
             const char *number)
{
  const char *symbol = wb_unit_get_symbol (wb_report_get_shown (us_units, stored));

  return *symbol == '\0' ? g_strdup (number) : g_strdup_printf ("%s\u00a0%s", number, symbol);
}

char *
wb_report_dup_value (gboolean us_units,
                     WbUnit   stored,
                     double   value,
                     int      decimals)
{
  g_autofree char *number = NULL;

  if (!isfinite (value))
    return g_strdup (WB_REPORT_NONE);
  number = dup_number (us_units, stored, value, decimals);
  return with_symbol (us_units, stored, number);
}

char *
wb_report_dup_set (gboolean us_units,
                   WbUnit   stored,
                   double   value)
{
  g_autofree char *number = NULL;

  if (!isfinite (value))
    return g_strdup (WB_REPORT_NONE);
  number = wb_number_format_trimmed (to_shown (us_units, stored, value), wb_unit_get_decimals (wb_report_get_shown (us_units, stored)), NULL);
  return with_symbol (us_units, stored, number);
}

/* The ends in brackets, "" where there is none. */
static char *
dup_ends (gboolean        us_units,
          WbUnit          stored,
          WbCraftInterval interval,
          int             decimals)
{
  g_autofree char *low = isfinite (interval.low) ? dup_number (us_units, stored, interval.low, decimals) : NULL;
  g_autofree char *high = isfinite (interval.high) ? dup_number (us_units, stored, interval.high, decimals) : NULL;

  if (low == NULL && high == NULL)
    return g_strdup ("");
  if (high == NULL)
    /* Translators: lower end of an interval that has no upper one. */
    return g_strdup_printf (_("(%s or more)"), low);
  if (low == NULL)
    return g_strdup_printf (_("(%s or less)"), high);
  /* Translators: the two ends of an interval. */
  return g_strdup_printf (_("(%s to %s)"), low, high);
}

char *
wb_report_dup_interval (gboolean        us_units,
                        WbUnit          stored,
                        WbCraftInterval interval,
                        int             decimals,
                        const char     *between)
{
  g_autofree char *value = wb_report_dup_value (us_units, stored, interval.value, decimals);
  g_autofree char *ends = dup_ends (us_units, stored, interval, decimals);

  if (!isfinite (interval.value))
    {
      g_autofree char *low = wb_report_dup_value (us_units, stored, interval.low, decimals);

      /* Translators: a lower bound, where nothing more is known. */
      return isfinite (interval.low) ? g_strdup_printf (_("at least %s"), low) : g_steal_pointer (&value);
    }
  return *ends == '\0' ? g_steal_pointer (&value) : g_strconcat (value, between, ends, NULL);
}

char *
wb_report_dup_sentence (const char *text)
{
  g_autofree char *first = NULL;

  if (*text == '\0')
    return g_strdup ("");
  first = g_utf8_strup (text, g_utf8_next_char (text) - text);
  return g_strconcat (first, g_utf8_next_char (text), NULL);
}

char *
wb_report_dup_chance (double chance)
{
  g_autofree char *number = NULL;

  if (!isfinite (chance))
    return g_strdup (WB_REPORT_NONE);
  if (chance > 0 && chance < 0.01)
    return g_strdup ("<\u00a01\u00a0%");
  if (chance < 1 && chance > 0.99)
    return g_strdup (">\u00a099\u00a0%");
  number = wb_number_format (chance * 100, 0, NULL);
  return g_strdup_printf ("%s\u00a0%%", number);
}

/* ---- Names ---- */

#define NAME_MOST 80
#define FIRST_STRONG_ISOLATE "\342\201\250"
#define POP_ISOLATE "\342\201\251"

char *
wb_report_dup_clipped (const char *text,
                       glong       most)
{
  g_autofree char *valid = g_utf8_make_valid (text != NULL ? text : "", -1);
  g_autofree char *head = NULL;

  if (g_utf8_strlen (valid, -1) <= most)
    return g_steal_pointer (&valid);
  head = g_utf8_substring (valid, 0, most - 1);
  return g_strconcat (g_strchomp (head), "…", NULL);
}

gboolean
wb_report_runs_right_to_left (const char *text)
{
  for (const char *at = text; *at != '\0'; at = g_utf8_next_char (at))
    {
      gunichar letter = g_utf8_get_char (at);

      /* Hebrew to the Arabic extensions, and their presentation forms */
      if ((letter >= 0x590 && letter <= 0x8ff) || (letter >= 0xfb1d && letter <= 0xfefc))
        return TRUE;
    }
  return FALSE;
}

char *
wb_report_dup_name (const char *name)
{
  g_autofree char *clipped = wb_report_dup_clipped (name, NAME_MOST);

  g_strdelimit (clipped, "\n\r\t", ' ');
  if (wb_report_runs_right_to_left (clipped))
    return g_strconcat (FIRST_STRONG_ISOLATE, clipped, POP_ISOLATE, NULL);
  return g_steal_pointer (&clipped);
}

/* ---- Lists ---- */

GPtrArray *
wb_report_list_new (void)
{
  return g_ptr_array_new_with_free_func (g_free);
}

void
wb_report_list_add (GPtrArray  *list,
                    const char *text)
{
  if (text != NULL && *text != '\0' && !g_ptr_array_find_with_equal_func (list, text, g_str_equal, NULL))
    g_ptr_array_add (list, g_strdup (text));
}

void
wb_report_list_add_name (GPtrArray  *list,
                         const char *name)
{
  g_autofree char *clipped = name != NULL ? wb_report_dup_name (name) : NULL;

  wb_report_list_add (list, clipped);
}

static char *
join (const GPtrArray *list,
      guint            most,
      const char      *between)
{
  g_autoptr (GString) text = g_string_new (NULL);
  guint shown = list->len > most ? MAX (most, 1) : list->len;

  for (guint i = 0; i < shown; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? between : "", (const char *) g_ptr_array_index (list, i));
  if (list->len > shown)
    /* Translators: behind a list of names: how many there are besides. */
    g_string_append_printf (text, g_dngettext (GETTEXT_PACKAGE, " and %u more", " and %u more", list->len - shown), list->len - shown);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

char *
wb_report_list_join (const GPtrArray *list,
                     guint            most)
{
  return join (list, most, ", ");
}

char *
wb_report_list_join_apart (const GPtrArray *list)
{
  return join (list, G_MAXUINT, "; ");
}
