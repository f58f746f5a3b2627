/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-evenings-out.h"

#include "wb-record.h"

#include <glib/gi18n-lib.h>
#include <stdlib.h>
#include <string.h>

/* No day of a year comes twice in so many; a 29 February comes again within eight years. */
#define YEAR 365
#define YEARS_MOST 8

static GArray *
spans_new (void)
{
  return g_array_new (FALSE, FALSE, sizeof (WbDaySpan));
}

static int
compare (gconstpointer a,
         gconstpointer b)
{
  const WbDaySpan *one = a, *other = b;

  return one->first != other->first ? (one->first < other->first ? -1 : 1) : (one->last > other->last) - (one->last < other->last);
}

static const WbDaySpan *
nth (const GArray *out,
     guint         i)
{
  return &g_array_index (out, WbDaySpan, i);
}

static gboolean
parse_span (const char *text,
            WbDaySpan  *span)
{
  g_auto (GStrv) ends = g_strsplit (text, "..", 2);

  return wb_day_parse (ends[0], &span->first, NULL) && wb_day_parse (ends[1] != NULL ? ends[1] : ends[0], &span->last, NULL)
         && span->last >= span->first;
}

GArray *
wb_evenings_out_parse (const char *text,
                       GError    **error)
{
  g_auto (GStrv) parts = g_strsplit (text != NULL ? text : "", " ", -1);
  g_autoptr (GArray) out = spans_new ();

  for (guint i = 0; parts[i] != NULL; i++)
    {
      WbDaySpan span;

      if (*parts[i] == '\0')
        continue;
      if (!parse_span (parts[i], &span))
        {
          g_set_error (error, WB_RECORD_ERROR, WB_RECORD_ERROR_WORD,
                       _("“%s” is no evening that is left out: they are written as 2026-12-24 or 2026-12-24..2027-01-03"), parts[i]);
          return NULL;
        }
      g_array_append_val (out, span);
    }
  g_array_sort (out, compare);
  return g_steal_pointer (&out);
}

char *
wb_evenings_out_format (const GArray *out)
{
  g_autoptr (GString) text = g_string_new (NULL);

  g_return_val_if_fail (out != NULL, NULL);

  for (guint i = 0; i < out->len; i++)
    {
      g_autofree char *first = wb_day_format (nth (out, i)->first), *last = wb_day_format (nth (out, i)->last);

      g_string_append_printf (text, "%s%s", text->len > 0 ? " " : "", first);
      if (nth (out, i)->last != nth (out, i)->first)
        g_string_append_printf (text, "..%s", last);
    }
  return text->len > 0 ? g_string_free (g_steal_pointer (&text), FALSE) : NULL;
}

gboolean
wb_evenings_out_has (const GArray *out,
                     WbDay         day)
{
  for (guint i = 0; out != NULL && i < out->len; i++)
    if (day >= nth (out, i)->first && day <= nth (out, i)->last)
      return TRUE;
  return FALSE;
}

/* ---- As hands write it ---- */

static gboolean
has_digit (const char *text)
{
  for (; *text != '\0'; text++)
    if (g_ascii_isdigit (*text))
      return TRUE;
  return FALSE;
}

/* A day with its year, one that needs none ("today"), or the first such day from `from` on. */
static gboolean
read_day (const char *text,
          WbDay       today,
          WbDay       from,
          WbDay      *day)
{
  if (wb_day_read (text, WB_DAY_NONE, day, NULL))
    return TRUE;
  if (!has_digit (text))
    return wb_day_read (text, today, day, NULL);
  /* what is read is the last such day that is not after another: that of the first year in which it is not before `from` */
  for (WbDay until = from + YEAR - 1; until <= from + YEARS_MOST * YEAR + YEAR; until += YEAR)
    if (!wb_day_read (text, until, day, NULL))
      return FALSE;
    else if (*day >= from)
      return TRUE;
  return FALSE;
}

/* The place of what stands between the two days of a range, and where it ends; NULL: a single day. A hyphen alone may be part of a date. */
static char *
find_between (char  *text,
              char **after)
{
  const char *const words[] = { "..", "–", " - ", /* Translators: between two days of a range. */ _(" to "), " to " };

  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    {
      char *at = strstr (text, words[i]);

      if (at == NULL)
        continue;
      *after = at + strlen (words[i]);
      return at;
    }
  return NULL;
}

/* "20-27 Dec", "20.-27.12.": a hyphen between two numbers of which each can be a day, and more than a day behind; likewise. */
static char *
find_hyphen (char  *text,
             char **after)
{
  gsize first = strspn (text, "0123456789"), at = first + (text[first] == '.'), second = strspn (text + at + (text[at] != '\0'), "0123456789");
  const char *rest = text + at + (text[at] != '\0') + second;

  if (text[at] != '-' || first == 0 || first > 2 || second == 0 || second > 2 || *rest == '-' || *rest == '\0')
    return NULL;
  *after = text + at + 1;
  return text + at;
}

/* "20" and "20." of "20 to 27 December": the month is said once, with the last day. 0: it is another text. */
static int
read_number (const char *text)
{
  gsize n = strspn (text, "0123456789");

  return n > 0 && n <= 2 && (text[n] == '\0' || g_str_equal (text + n, ".")) ? atoi (text) : 0;
}

/* Such a range that has not ended before today; `last` is that day. FALSE: it ends before it begins. */
static gboolean
begin_in_month (int        number,
                WbDaySpan *span)
{
  g_autofree char *iso = wb_day_format (span->last);
  int last = atoi (strrchr (iso, '-') + 1);

  span->first = span->last - (last - number);
  return number <= last;
}

static gboolean
read_span (char       *text,
           WbDay       today,
           WbDaySpan  *span,
           GError    **error)
{
  g_autofree char *whole = g_strdup (text);
  char *second = text, *between = find_between (text, &second);
  int number;

  between = between != NULL ? between : find_hyphen (text, &second);
  if (between != NULL)
    *between = '\0';
  number = between != NULL ? read_number (g_strstrip (text)) : 0;
  if (number > 0 && read_day (g_strstrip (second), today, today, &span->last))
    {
      if (begin_in_month (number, span))
        return TRUE;
      g_set_error (error, WB_RECORD_ERROR, WB_RECORD_ERROR_WORD, _("“%s” ends before it begins"), whole);
      return FALSE;
    }
  if (!read_day (g_strstrip (text), today, today, &span->first)
      || !read_day (g_strstrip (second), today, span->first, &span->last))
    {
      g_set_error (error, WB_RECORD_ERROR, WB_RECORD_ERROR_WORD, _("“%s” is no day: write 24 Dec, or 24 Dec to 3 Jan, commas between"), whole);
      return FALSE;
    }
  if (span->last >= span->first)
    return TRUE;
  g_set_error (error, WB_RECORD_ERROR, WB_RECORD_ERROR_WORD, _("“%s” ends before it begins"), whole);
  return FALSE;
}

GArray *
wb_evenings_out_read (const char *text,
                      WbDay       today,
                      GError    **error)
{
  g_auto (GStrv) parts = NULL;
  g_autoptr (GArray) out = spans_new ();

  g_return_val_if_fail (text != NULL && today != WB_DAY_NONE, NULL);

  parts = g_strsplit_set (text, ",;\n", -1);
  for (guint i = 0; parts[i] != NULL; i++)
    {
      WbDaySpan span;

      if (*g_strstrip (parts[i]) == '\0')
        continue;
      if (!read_span (parts[i], today, &span, error))
        return NULL;
      g_array_append_val (out, span);
    }
  g_array_sort (out, compare);
  return g_steal_pointer (&out);
}

char *
wb_evenings_out_write (const GArray *out,
                       WbDay         today)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; out != NULL && i < out->len; i++)
    {
      g_autofree char *first = wb_day_format_local (nth (out, i)->first), *last = wb_day_format_local (nth (out, i)->last);

      if (nth (out, i)->last < today)
        continue;
      g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", first);
      if (nth (out, i)->last != nth (out, i)->first)
        g_string_append_printf (text, "%s%s", _(" to "), last);
    }
  return g_string_free (text, FALSE);
}

GArray *
wb_evenings_out_join (const GArray *past,
                      WbDay         today,
                      const GArray *coming)
{
  GArray *out = spans_new ();

  g_return_val_if_fail (coming != NULL, out);

  for (guint i = 0; past != NULL && i < past->len; i++)
    if (nth (past, i)->last < today)
      g_array_append_val (out, *nth (past, i));
  for (guint i = 0; i < coming->len; i++)
    g_array_append_val (out, *nth (coming, i));
  g_array_sort (out, compare);
  return out;
}
