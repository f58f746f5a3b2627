/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-decision.h"

#include "wb-craft-limits.h"
#include "wb-number.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/*
 * A decision keeps its sentences as they were signed, in the language of that day. Those that the program wrote in English are known
 * again by their shape and told in the language of now; one that somebody changed has another shape, and stays.
 */

typedef struct
{
  const char *text;  /* as the source says it, where it is also marked for translation */
  const char *many;  /* the plural's; NULL: there is none. The last number counts. */
  const char *kinds; /* what stands for each directive: l list of words, v value with unit, c chance, e extent, n number, f whatever it is */
} Shape;

/* Where two fit, the first is meant. */
static const Shape shapes[] = {
  { "Wick trimmed to %s before each burn.", NULL, "v" },
  { "Wick trimmed to %s.", NULL, "v" },
  { "Burnt for %s at a time.", NULL, "v" },
  { "Filled with %s of wax and oil, to a height of %s.", NULL, "vv" },
  { "Filled with %s of wax and oil.", NULL, "v" },
  { "Filled to a height of %s.", NULL, "v" },
  { "Lit after a cure of at least %s.", NULL, "v" },
  { "In a room of %s.", NULL, "v" },
  { "Without draught.", NULL, "" },
  { "Draught at %u of the %u readings that tell of it.", NULL, "nn" },
  { "Lots that were burnt: %s.", NULL, "f" },
  { "That is noted for %u of %u burn only.", "That is noted for %u of %u burns only.", "nn" },
  { "That is noted for %u of %u sample only.", "That is noted for %u of %u samples only.", "nn" },
  { "Never tried: %s.", NULL, "l" },
  { "No burn in a draught.", NULL, "" },
  { "Whether there was a draught was not noted.", NULL, "" },
  { "Rooms colder or warmer than %s.", NULL, "v" },
  { "The temperature of the room was not noted.", NULL, "" },
  { "Which lots were burnt was not noted.", NULL, "" },
  { "Stability on a slope; storage, heat and transport; scent by a panel.", NULL, "" },
  { "Limits not tested over the whole candle: %s.", NULL, "l" },
  { "Limits turned off by the maker: %s.", NULL, "l" },
  { "Parts of the candle that were not read: %s.", NULL, "l" },
  { "No candle of it was burnt to be judged.", NULL, "" },
  { "How much one candle differs from the next: only one was burnt.", NULL, "" },
  { "How much one candle differs from the next: only %u were burnt, which says little.", NULL, "n" },
  { "Not read in every third of it: %s.", NULL, "l" },
  { "%s and %s; burnt to the end that the protocol states: %u.", NULL, "een" },
  { "%s and %s; none burnt to the end that the protocol states.", NULL, "ee" },
  { "%u sample more was set aside.", "%u samples more were set aside.", "n" },
  { "Parts of the candle that were read: %s.", NULL, "l" },
  { "Limits that were crossed: %s.", NULL, "l" },
  { "Limits that a sample which was set aside crossed: %s.", NULL, "l" },
  { "Limits that the samples which count here passed: %s.", NULL, "l" },
  { "Limits that were kept: %s.", NULL, "l" },
  { "Verdict: %s.", NULL, "l" },
  { "It scores %s of 1, very likely between %s and %s.", NULL, "vvv" },
  { "It scores %s of 1.", NULL, "v" },
  { "Chance that it is the best of those compared: %s; that it is within 0.05 of the best: %s.", NULL, "cc" },
  { "Chance that the next candle crosses a limit in its burns: %s.", NULL, "c" },
  { "Another lot of any of these: %s.", NULL, "l" },
  { "Another vessel, or the same from another maker.", NULL, "" },
  { "Any other change of the recipe or of the conditions above.", NULL, "" },
  { "Any candle of this recipe that crosses a limit.", NULL, "" },
  { "It holds for these lots and for no other: %s.", NULL, "f" },
};

static const Shape extents[] = { { "%u sample", "%u samples", "n" }, { "%u burn", "%u burns", "n" } };
static const Shape chances[] = { { "fewer than 1 in 100", NULL, "" }, { "more than 99 in 100", NULL, "" }, { "%ld in 100", NULL, "n" } };
static const Shape spans[] = { { "%s to %s", NULL, "vv" } };
static const Shape of_house[] = { { "%s (house limit)", NULL, "l" } };

/* What stands in a list, beside what limits measure, figures, thirds and verdicts. */
static const char *const words[] = {
  "short burns", "burns well past the usual length", "an untrimmed wick", "wax", "wick", "fragrance", "dye", "additive",
  "crossed a limit", "would not do", "not the best", "rejected", "candidate", "recommended", "too little data",
};

static char *dup_told (const Shape *of, guint n, const char *text);

static gboolean
is_word (const char *text)
{
  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    if (g_str_equal (text, words[i]))
      return TRUE;
  for (guint i = 0; i < WB_N_STAGES; i++)
    if (g_str_equal (text, wb_stage_get_label ((WbStage) i)))
      return TRUE;
  for (guint i = 0; i < WB_N_FIGURES; i++)
    if (g_str_equal (text, wb_figure_get_label ((WbFigure) i)))
      return TRUE;
  for (guint i = 0; i < WB_N_LIMITS; i++)
    if (g_strcmp0 (text, wb_craft_limit_get_measure ((WbLimitKind) i)) == 0)
      return TRUE;
  return FALSE;
}

/* NULL: one of them is not the program's. */
static char *
dup_list (const char *text)
{
  g_auto (GStrv) items = g_strsplit (text, ", ", -1);

  for (guint i = 0; items[i] != NULL; i++)
    {
      char *told = is_word (items[i]) ? g_strdup (g_dgettext (GETTEXT_PACKAGE, items[i])) : dup_told (of_house, G_N_ELEMENTS (of_house), items[i]);

      if (told == NULL)
        return NULL;
      g_free (items[i]);
      items[i] = told;
    }
  return g_strjoinv (", ", items);
}

/* "6.0 mm" with the decimal sign of now. NULL: it begins with no number. */
static char *
dup_value (const char *text)
{
  char *told = dup_told (spans, G_N_ELEMENTS (spans), text), *point;

  if (told != NULL || !(g_ascii_isdigit (*text) || (*text == '-' && g_ascii_isdigit (text[1]))))
    return told;
  told = g_strdup (text);
  point = strchr (told, '.');
  if (point != NULL && g_ascii_isdigit (point[1]))
    *point = wb_number_style_get_decimal (wb_number_style_default ());
  return told;
}

static char *
dup_argument (char        kind,
              const char *text)
{
  switch (kind)
    {
    case 'l':
      return dup_list (text);
    case 'v':
      return dup_value (text);
    case 'c':
      return dup_told (chances, G_N_ELEMENTS (chances), text);
    case 'e':
      return dup_told (extents, G_N_ELEMENTS (extents), text);
    case 'n':
      return strspn (text, "0123456789") == strlen (text) ? g_strdup (text) : NULL;
    default:
      return g_strdup (text);
    }
}

/* The directive at a %, at its end afterwards; its number in the order of the source, next where it has none. */
static guint
read_directive (const char **at,
                guint        next)
{
  const char *p = *at + 1;
  char *end;
  guint64 position = g_ascii_strtoull (p, &end, 10);

  if (end > p && *end == '$')
    {
      p = end + 1;
      next = (guint) position - 1;
    }
  while (*p == 'l')
    p++;
  *at = *p != '\0' ? p + 1 : p;
  return next;
}

static char *
fill_in (const char *format,
         GPtrArray  *arguments)
{
  GString *text = g_string_new (NULL);
  guint next = 0;

  for (const char *p = format; *p != '\0';)
    if (*p != '%' || p[1] == '%')
      {
        g_string_append_c (text, *p);
        p += *p == '%' ? 2 : 1;
      }
    else
      {
        guint i = read_directive (&p, next++);

        g_string_append (text, i < arguments->len ? g_ptr_array_index (arguments, i) : "");
      }
  return g_string_free (text, FALSE);
}

static GRegex *
regex_new (const char *format)
{
  g_autoptr (GString) pattern = g_string_new (NULL);
  g_autofree char *escaped = g_regex_escape_string (format, -1);

  g_string_append (pattern, escaped);
  g_string_replace (pattern, "%s", "(.+?)", 0);
  g_string_replace (pattern, "%u", "([0-9]+)", 0);
  g_string_replace (pattern, "%ld", "([0-9]+)", 0);
  g_string_prepend_c (pattern, '^');
  g_string_append_c (pattern, '$');
  return g_regex_new (pattern->str, G_REGEX_DOLLAR_ENDONLY, 0, NULL);
}

/* The text in the language of now if it is of that shape; else NULL. */
static char *
dup_of_shape (const Shape *shape,
              const char  *format,
              const char  *text)
{
  g_autoptr (GRegex) regex = regex_new (format);
  g_autoptr (GMatchInfo) match = NULL;
  g_autoptr (GPtrArray) arguments = g_ptr_array_new_with_free_func (g_free);
  gulong counted = 1;

  if (!g_regex_match (regex, text, 0, &match))
    return NULL;
  for (guint i = 0; shape->kinds[i] != '\0'; i++)
    {
      g_autofree char *stored = g_match_info_fetch (match, (int) i + 1);
      char *argument = stored != NULL ? dup_argument (shape->kinds[i], stored) : NULL;

      if (argument == NULL)
        return NULL;
      if (shape->kinds[i] == 'n')
        counted = (gulong) g_ascii_strtoull (stored, NULL, 10);
      g_ptr_array_add (arguments, argument);
    }
  return fill_in (shape->many != NULL ? g_dngettext (GETTEXT_PACKAGE, shape->text, shape->many, counted) : g_dgettext (GETTEXT_PACKAGE, shape->text), arguments);
}

static char *
dup_told (const Shape *of,
          guint        n,
          const char  *text)
{
  for (guint i = 0; i < n; i++)
    {
      char *told = dup_of_shape (&of[i], of[i].text, text);

      if (told == NULL && of[i].many != NULL)
        told = dup_of_shape (&of[i], of[i].many, text);
      if (told != NULL)
        return told;
    }
  return NULL;
}

/* A line: one sentence, or one and how many burns it is noted for. */
static char *
dup_line (const char *line)
{
  const char *noted = strstr (line, ". That is noted for ");
  g_autofree char *first = noted != NULL ? g_strndup (line, (gsize) (noted - line) + 1) : NULL, *told = NULL, *rest = NULL;
  char *whole = noted == NULL ? dup_told (shapes, G_N_ELEMENTS (shapes), line) : NULL;

  if (noted == NULL)
    return whole != NULL ? whole : g_strdup (line);
  told = dup_told (shapes, G_N_ELEMENTS (shapes), first);
  rest = dup_told (shapes, G_N_ELEMENTS (shapes), noted + 2);
  return told != NULL && rest != NULL ? g_strdup_printf ("%s %s", told, rest) : g_strdup (line);
}

char *
wb_craft_decision_dup_stored (const char *stored)
{
  g_auto (GStrv) lines = NULL;

  if (stored == NULL)
    return NULL;
  lines = g_strsplit (stored, "\n", -1);
  for (guint i = 0; lines[i] != NULL; i++)
    {
      char *told = dup_line (lines[i]);

      g_free (lines[i]);
      lines[i] = told;
    }
  return g_strjoinv ("\n", lines);
}
