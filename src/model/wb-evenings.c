/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-evenings.h"

#include "wb-record.h"

#include <glib/gi18n-lib.h>

/* In the file, whatever the language. */
static const char *const words[WB_WEEKDAYS] = { "mon", "tue", "wed", "thu", "fri", "sat", "sun" };

static int
find_word (const char *word)
{
  for (int i = 0; i < WB_WEEKDAYS; i++)
    if (g_ascii_strcasecmp (word, words[i]) == 0)
      return i;
  return -1;
}

gboolean
wb_evenings_parse (const char *text,
                   WbEvenings *evenings,
                   GError    **error)
{
  g_auto (GStrv) parts = g_strsplit_set (text != NULL ? text : "", " ,\t", -1);
  WbEvenings found = WB_EVENINGS_NONE;

  for (guint i = 0; parts[i] != NULL; i++)
    {
      int weekday = *parts[i] != '\0' ? find_word (parts[i]) : 0;

      if (weekday < 0)
        {
          g_set_error (error, WB_RECORD_ERROR, WB_RECORD_ERROR_WORD,
                       _("“%s” is no day of the week: evenings are written as mon, tue, wed, thu, fri, sat, sun"), parts[i]);
          return FALSE;
        }
      if (*parts[i] != '\0')
        found |= 1u << weekday;
    }
  *evenings = found;
  return TRUE;
}

char *
wb_evenings_format (WbEvenings evenings)
{
  GString *text = g_string_new (NULL);

  for (int i = 0; i < WB_WEEKDAYS; i++)
    if (wb_evenings_has (evenings, i))
      g_string_append_printf (text, "%s%s", text->len > 0 ? " " : "", words[i]);
  return g_string_free (text, text->len == 0);
}

gboolean
wb_evenings_has (WbEvenings evenings,
                 int        weekday)
{
  return weekday >= 0 && weekday < WB_WEEKDAYS && (evenings & 1u << weekday) != 0;
}

guint
wb_evenings_count (WbEvenings evenings)
{
  guint n = 0;

  for (int i = 0; i < WB_WEEKDAYS; i++)
    n += wb_evenings_has (evenings, i);
  return n;
}

WbDay
wb_evenings_next (WbEvenings evenings,
                  WbDay      from)
{
  if (from == WB_DAY_NONE)
    return WB_DAY_NONE;
  for (WbDay day = from; day < from + WB_WEEKDAYS; day++)
    if (wb_evenings_has (evenings, wb_day_get_weekday (day)))
      return day;
  return WB_DAY_NONE;
}
