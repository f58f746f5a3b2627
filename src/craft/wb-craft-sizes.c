/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-sizes.h"

#include "wb-number.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* Between the ends of a range once it is found. */
#define RANGE "\001"

static gboolean
refuse (GError    **error,
        char       *sentence)
{
  g_set_error_literal (error, WB_NUMBER_ERROR, WB_NUMBER_ERROR_SYNTAX, sentence);
  g_free (sentence);
  return FALSE;
}

/* Every word for "to" is one sign, without blanks beside it. Caller frees. */
static char *
dup_marked (const char *text)
{
  /* Translators: between the first and the last of a row of sizes, as a maker types it: "1 to 8". */
  g_autofree char *word = g_regex_escape_string (_("to"), -1);
  g_autofree char *pattern = g_strdup_printf ("\\s+(?:to|%s)\\s+|\\s*(?:\\.\\.+|…|–)\\s*|\\s+-\\s+", word);
  g_autoptr (GRegex) regex = g_regex_new (pattern, G_REGEX_CASELESS | G_REGEX_OPTIMIZE, 0, NULL);

  return g_regex_replace_literal (regex, text, -1, 0, RANGE, 0, NULL);
}

static gboolean
has_blank (const char *text)
{
  return strpbrk (text, " \t") != NULL;
}

/* A comma that nothing but figures stand beside, in text that blanks part. */
static gboolean
is_decimal_comma (const char *text,
                  const char *comma)
{
  return *comma == ',' && comma > text && g_ascii_isdigit (comma[-1]) && g_ascii_isdigit (comma[1]) && has_blank (text);
}

static gboolean
has_comma (const char *text)
{
  for (const char *p = text; *p != '\0'; p++)
    if (*p == ';' || *p == '\n' || (*p == ',' && !is_decimal_comma (text, p)))
      return TRUE;
  return FALSE;
}

/* Each as typed, blanks around it taken off; none is empty. */
static GPtrArray *
split (const char *text)
{
  GPtrArray *parts = g_ptr_array_new_with_free_func (g_free);
  gboolean commas = has_comma (text);
  const char *from = text;

  for (const char *p = text;; p++)
    {
      gboolean between = *p == ';' || *p == '\n' || (*p == ',' && !is_decimal_comma (text, p)) ||
                         (!commas && (*p == ' ' || *p == '\t'));

      if (*p != '\0' && !between)
        continue;
      if (p > from)
        {
          char *part = g_strstrip (g_strndup (from, p - from));

          if (*part != '\0')
            g_ptr_array_add (parts, part);
          else
            g_free (part);
        }
      if (*p == '\0')
        return parts;
      from = p + 1;
    }
}

/* Where the whole number begins that the two ends do not have in common; both then end alike. */
typedef struct
{
  gsize   before; /* bytes that both begin with */
  gsize   digits; /* of the first's number, for leading zeros */
  gint64  first, last;
  char   *after;
} Range;

static gsize
count_digits (const char *text)
{
  return strspn (text, "0123456789");
}

static gboolean
find_range (const char *first,
            const char *last,
            Range      *range)
{
  gsize at = 0, one, other;

  while (first[at] != '\0' && first[at] == last[at])
    at++;
  /* Back to where that number begins: 10 and 14 have a figure in common. */
  while (at > 0 && g_ascii_isdigit (first[at - 1]))
    at--;
  one = count_digits (first + at);
  other = count_digits (last + at);
  /* "S-1 to 8". */
  if (other == 0 && one == 0)
    return FALSE;
  if (one == 0 || other == 0 || one > 9 || other > 9 || strcmp (first + at + one, last + at + other) != 0)
    return FALSE;
  *range = (Range) { at, one, g_ascii_strtoll (first + at, NULL, 10), g_ascii_strtoll (last + at, NULL, 10), NULL };
  range->after = g_strdup (first + at + one);
  return TRUE;
}

/* "S-1 to 8": the last is a number alone, the first ends in one. Caller frees; NULL: it is not so. */
static char *
dup_whole_last (const char *first,
                const char *last)
{
  gsize length = strlen (first), from = length;

  while (from > 0 && g_ascii_isdigit (first[from - 1]))
    from--;
  if (from == length || from == 0 || count_digits (last) != strlen (last))
    return NULL;
  return g_strdup_printf ("%.*s%s", (int) from, first, last);
}

/* "T 1 to T 8": blanks within the names of sizes, and none between them. */
static gboolean
is_one_range (const char *marked)
{
  g_auto (GStrv) ends = g_strsplit (marked, RANGE, -1);
  Range range;

  if (g_strv_length (ends) != 2 || has_comma (marked) || !has_blank (g_strstrip (ends[0])) || !has_blank (g_strstrip (ends[1])) ||
      !find_range (ends[0], ends[1], &range))
    return FALSE;
  g_free (range.after);
  return TRUE;
}

static gboolean
add_range (GPtrArray  *sizes,
           const char *first,
           const char *last,
           GError    **error)
{
  Range range;
  g_autofree char *whole = dup_whole_last (first, last);
  g_autofree char *after = NULL;
  gboolean padded;

  if (!find_range (first, whole != NULL ? whole : last, &range))
    return refuse (error, g_strdup_printf (_("From “%s” to “%s” cannot be counted: write each size."), first, last));
  after = range.after;
  if (range.last <= range.first)
    return refuse (error, g_strdup_printf (_("“%s” to “%s” goes down: begin with the smallest."), first, last));
  if (range.last - range.first >= WB_CRAFT_SIZES_MAXIMUM)
    return refuse (error, g_strdup_printf (_("“%s” to “%s” are more than %d sizes."), first, last, WB_CRAFT_SIZES_MAXIMUM));
  padded = range.digits > 1 && first[range.before] == '0';
  for (gint64 n = range.first; n <= range.last; n++)
    g_ptr_array_add (sizes, g_strdup_printf ("%.*s%0*" G_GINT64_FORMAT "%s", (int) range.before, first, padded ? (int) range.digits : 1, n, after));
  return TRUE;
}

static gboolean
add_part (GPtrArray  *sizes,
          const char *part,
          GError    **error)
{
  g_auto (GStrv) ends = g_strsplit (part, RANGE, -1);

  if (g_strv_length (ends) == 1)
    {
      g_ptr_array_add (sizes, g_strdup (part));
      return TRUE;
    }
  g_strstrip (ends[0]);
  g_strstrip (ends[1]);
  if (g_strv_length (ends) > 2 || *ends[0] == '\0' || *ends[1] == '\0')
    return refuse (error, g_strdup (_("Write a row of sizes as “1 to 8”.")));
  return add_range (sizes, ends[0], ends[1], error);
}

char **
wb_craft_sizes_parse (const char *text,
                      GError    **error)
{
  g_autofree char *marked = NULL;
  g_autoptr (GPtrArray) parts = NULL;
  g_autoptr (GPtrArray) sizes = g_ptr_array_new_with_free_func (g_free);

  g_return_val_if_fail (text != NULL, NULL);

  marked = dup_marked (text);
  if (marked == NULL)
    {
      refuse (error, g_strdup (_("Some of it is not text.")));
      return NULL;
    }
  if (is_one_range (marked))
    {
      parts = g_ptr_array_new_with_free_func (g_free);
      g_ptr_array_add (parts, g_strdup (marked));
    }
  else
    parts = split (marked);
  for (guint i = 0; i < parts->len; i++)
    if (!add_part (sizes, parts->pdata[i], error))
      return NULL;
  if (sizes->len == 0)
    {
      refuse (error, g_strdup (_("Write the sizes, such as “1, 2, 3, 4” or “S-1 to S-8”.")));
      return NULL;
    }
  if (sizes->len > WB_CRAFT_SIZES_MAXIMUM)
    {
      refuse (error, g_strdup_printf (_("These are %u sizes; at most %d at a time."), sizes->len, WB_CRAFT_SIZES_MAXIMUM));
      return NULL;
    }
  g_ptr_array_add (sizes, NULL);
  return (char **) g_ptr_array_free (g_steal_pointer (&sizes), FALSE);
}
