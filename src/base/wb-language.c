/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-language.h"

#include <libintl.h>
#include <locale.h>
#include <string.h>

/* The environment's locale for messages: never NULL. */
static const char *
get_locale (void)
{
  const char *names[] = { "LC_ALL", "LC_MESSAGES", "LANG" };

  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      const char *tag = g_getenv (names[i]);
      if (tag != NULL && *tag != '\0')
        return tag;
    }
  return "C";
}

/* gettext asks LANGUAGE for neither of these two. */
static gboolean
is_plain (const char *locale)
{
  return g_str_equal (locale, "C") || g_str_equal (locale, "POSIX");
}

static gboolean
is_same_language (const char *a,
                  const char *b)
{
  gsize length = strcspn (a, "_-.@");

  return strcspn (b, "_-.@") == length && g_ascii_strncasecmp (a, b, length) == 0;
}

char *
wb_language_dup_tag (void)
{
  const char *locale = get_locale ();
  const char *list = g_getenv ("LANGUAGE");

  if (is_plain (locale))
    return g_strdup ("C");
  list = list != NULL ? list + strspn (list, ":") : "";
  if (*list == '\0' || is_same_language (list, locale))
    return g_strdup (locale);
  return g_strndup (list, strcspn (list, ":"));
}

void
wb_language_set_up (const char *domain,
                    const char *folder)
{
  const char *list = g_getenv ("LANGUAGE");

  if (setlocale (LC_ALL, "") == NULL && !is_plain (get_locale ()))
    {
      setlocale (LC_ALL, "C.UTF-8");
      if (list == NULL || *list == '\0')
        {
          g_autofree char *tag = g_strndup (get_locale (), strcspn (get_locale (), ".@"));
          g_setenv ("LANGUAGE", tag, TRUE);
        }
    }
  bindtextdomain (domain, folder);
  bind_textdomain_codeset (domain, "UTF-8");
  textdomain (domain);
}

void
wb_language_choose (const char *tag)
{
  g_return_if_fail (tag != NULL && *tag != '\0');

  g_setenv ("LC_ALL", "C.UTF-8", TRUE);
  g_setenv ("LANGUAGE", tag, TRUE);
  /* Also makes gettext forget what it found for the language before. */
  setlocale (LC_ALL, "C.UTF-8");
}
