/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-text.h"

#include <string.h>

static gboolean
is_ascii (const char *text, gsize length)
{
  for (gsize i = 0; i < length; i++)
    if ((guchar) text[i] >= 0x80)
      return FALSE;
  return TRUE;
}

/* Unicode white space at both ends; bytes that are not UTF-8 end the search. */
static void
trim (const char **text, gsize *length)
{
  const char *start = *text, *end = *text + *length;

  while (start < end)
    {
      gunichar c = g_utf8_get_char_validated (start, end - start);

      if (c >= (gunichar) -2 || !g_unichar_isspace (c))
        break;
      start = g_utf8_next_char (start);
    }
  while (end > start)
    {
      const char *last = g_utf8_find_prev_char (start, end);
      gunichar c = last != NULL ? g_utf8_get_char_validated (last, end - last) : (gunichar) -1;

      if (c >= (gunichar) -2 || !g_unichar_isspace (c))
        break;
      end = last;
    }

  *text = start;
  *length = end - start;
}

char *
wb_text_dup_clean (const char *text,
                   gssize      length)
{
  if (text == NULL)
    return NULL;

  gsize n = length < 0 ? strlen (text) : (gsize) length;

  trim (&text, &n);
  if (n == 0)
    return NULL;
  if (is_ascii (text, n))
    return g_strndup (text, n);

  char *composed = g_utf8_normalize (text, n, G_NORMALIZE_NFC);

  return composed != NULL ? composed : g_strndup (text, n);
}

gboolean
wb_text_is_clean (const char *text,
                  gsize       length)
{
  if (length == 0)
    return FALSE;
  if (is_ascii (text, length))
    return !g_ascii_isspace (text[0]) && text[0] != '\v' && !g_ascii_isspace (text[length - 1]) && text[length - 1] != '\v';

  g_autofree char *clean = wb_text_dup_clean (text, length);

  return clean != NULL && strlen (clean) == length && memcmp (clean, text, length) == 0;
}
