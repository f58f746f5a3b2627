/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-base.h"
#include "wb-language.h"

#include <locale.h>

/* The locale is the process's own: each case needs a process. */

static void
set_locale (const char *locale,
            const char *language)
{
  g_unsetenv ("LC_ALL");
  g_unsetenv ("LC_MESSAGES");
  g_setenv ("LANG", locale, TRUE);
  if (language != NULL)
    g_setenv ("LANGUAGE", language, TRUE);
  else
    g_unsetenv ("LANGUAGE");
}

static void
test_missing_locale (void)
{
  if (!g_test_subprocess ())
    {
      g_test_trap_subprocess (NULL, 0, 0);
      g_test_trap_assert_passed ();
      return;
    }
  /* No system has this one. */
  set_locale ("de_XX.UTF-8", NULL);
  wb_language_set_up ("wickbench", "/nowhere");
  g_assert_cmpstr (setlocale (LC_ALL, NULL), ==, "C.UTF-8");
  g_assert_cmpstr (g_getenv ("LANGUAGE"), ==, "de_XX");
  g_autofree char *tag = wb_language_dup_tag ();
  g_assert_cmpstr (tag, ==, "de_XX.UTF-8");
}

static void
test_missing_locale_keeps_the_wish (void)
{
  if (!g_test_subprocess ())
    {
      g_test_trap_subprocess (NULL, 0, 0);
      g_test_trap_assert_passed ();
      return;
    }
  set_locale ("de_XX.UTF-8", "fr:de");
  wb_language_set_up ("wickbench", "/nowhere");
  g_assert_cmpstr (g_getenv ("LANGUAGE"), ==, "fr:de");
}

static void
test_plain_locale (void)
{
  if (!g_test_subprocess ())
    {
      g_test_trap_subprocess (NULL, 0, 0);
      g_test_trap_assert_passed ();
      return;
    }
  set_locale ("C", "de");
  wb_language_set_up ("wickbench", "/nowhere");
  g_assert_cmpstr (setlocale (LC_ALL, NULL), ==, "C");
  g_autofree char *tag = wb_language_dup_tag ();
  g_assert_cmpstr (tag, ==, "C");
}

static void
test_choose (void)
{
  if (!g_test_subprocess ())
    {
      g_test_trap_subprocess (NULL, 0, 0);
      g_test_trap_assert_passed ();
      return;
    }
  set_locale ("C", NULL);
  wb_language_set_up ("wickbench", "/nowhere");
  wb_language_choose ("de");
  g_autofree char *tag = wb_language_dup_tag ();
  g_autofree char *number = wb_number_format (1.5, 1, NULL);
  g_assert_cmpstr (setlocale (LC_MESSAGES, NULL), ==, "C.UTF-8");
  g_assert_cmpstr (tag, ==, "de");
  g_assert_cmpstr (number, ==, "1,5");
}

void
test_language_add (void)
{
  g_test_add_func ("/base/language/a-locale-that-was-not-generated-keeps-its-language", test_missing_locale);
  g_test_add_func ("/base/language/a-list-of-languages-stays-as-it-was-set", test_missing_locale_keeps_the_wish);
  g_test_add_func ("/base/language/plain-c-is-not-translated", test_plain_locale);
  g_test_add_func ("/base/language/a-language-that-is-chosen-needs-no-locale", test_choose);
}
