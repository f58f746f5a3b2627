/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-letters-private.h"

#include <string.h>

/* Letters and words of what a person wrote, in any script. */

char *
wb_craft_letters_dup_composed (const char *text)
{
  g_autofree char *valid = g_utf8_make_valid (text, -1);

  return g_utf8_normalize (valid, -1, G_NORMALIZE_DEFAULT_COMPOSE);
}

char *
wb_craft_letters_dup_folded (const char *text,
                             GArray     *starts)
{
  GString *folded = g_string_sized_new (strlen (text));

  for (const char *at = text; *at != '\0'; at = g_utf8_next_char (at))
    {
      g_autofree char *letter = g_utf8_casefold (at, g_utf8_next_char (at) - at);

      for (guint i = 0; starts != NULL && letter[i] != '\0'; i++)
        {
          guint start = i == 0 ? (guint) (at - text) : G_MAXUINT;

          g_array_append_val (starts, start);
        }
      g_string_append (folded, letter);
    }
  if (starts != NULL)
    {
      guint end = (guint) strlen (text);

      g_array_append_val (starts, end);
    }
  return g_string_free (folded, FALSE);
}

static gboolean
is_of_word (gunichar letter)
{
  return g_unichar_isalnum (letter) || g_unichar_ismark (letter);
}

/* Scripts that put no space between words: there a name may begin and end anywhere. */
static gboolean
runs_on (gunichar letter)
{
  switch (g_unichar_get_script (letter))
    {
    case G_UNICODE_SCRIPT_HAN:
    case G_UNICODE_SCRIPT_HIRAGANA:
    case G_UNICODE_SCRIPT_KATAKANA:
    case G_UNICODE_SCRIPT_THAI:
    case G_UNICODE_SCRIPT_LAO:
    case G_UNICODE_SCRIPT_KHMER:
    case G_UNICODE_SCRIPT_MYANMAR:
      return TRUE;
    default:
      return FALSE;
    }
}

gboolean
wb_craft_letters_is_between (const char *text,
                             const char *at)
{
  gunichar before, after;

  if (at == text || *at == '\0')
    return TRUE;
  before = g_utf8_get_char (g_utf8_prev_char (at));
  after = g_utf8_get_char (at);
  return !is_of_word (before) || !is_of_word (after) || runs_on (before) || runs_on (after);
}

void
wb_craft_letters_drop_article (GString *text,
                               gsize    from)
{
  static const char *const articles[] = {
    "the", "a", "an", "der", "die", "das", "den", "dem", "des", "ein", "eine", "einen", "einem", "einer", "eines",
  };

  for (guint i = 0; i < G_N_ELEMENTS (articles); i++)
    {
      gsize length = strlen (articles[i]) + 1;
      const char *at = text->len >= from + length ? text->str + text->len - length : NULL;

      if (at == NULL || text->str[text->len - 1] != ' ' || g_ascii_strncasecmp (at, articles[i], length - 1) != 0)
        continue;
      if (at > text->str && is_of_word (g_utf8_get_char (g_utf8_prev_char (at))))
        continue;
      g_string_truncate (text, text->len - length);
      return;
    }
}
