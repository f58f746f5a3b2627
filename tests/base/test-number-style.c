/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-base.h"

static void
test_tags (void)
{
  /* Decimal signs after the Unicode CLDR, from memory. */
  static const struct
  {
    const char *tag;
    char decimal;
  } cases[] = {
    { NULL, '.' }, { "", '.' }, { "C", '.' }, { "C.UTF-8", '.' }, { "POSIX", '.' }, { "en", '.' }, { "en_GB.UTF-8", '.' },
    { "de", ',' }, { "de_DE.UTF-8", ',' }, { "de-AT", ',' }, { "DE_de", ',' }, { "de_CH.UTF-8", '.' }, { "de@euro", ',' },
    { "fr_FR", ',' }, { "es_ES", ',' }, { "es_MX.UTF-8", '.' }, { "es_AR", ',' }, { "it", ',' }, { "it_CH", '.' },
    { "nl_NL", ',' }, { "sv_SE", ',' }, { "pt_BR", ',' }, { "pt_PT", ',' }, { "pl_PL", ',' }, { "da_DK", ',' },
    { "nb_NO", ',' }, { "nn_NO", ',' }, { "no", ',' }, { "xx_YY", '.' }, { "d", '.' }, { "deu", '.' }, { "_", '.' },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const WbNumberStyle *style = wb_number_style_for_language (cases[i].tag);
      g_test_message ("%s", cases[i].tag != NULL ? cases[i].tag : "NULL");
      g_assert_nonnull (style);
      g_assert_cmpint (wb_number_style_get_decimal (style), ==, cases[i].decimal);
      g_assert_true (style == wb_number_style_for_language (cases[i].tag));
    }
}

static const struct
{
  const char *name;
  const char *all, *messages, *lang;
  const char *shown;
  const char *language;
} environments[] = {
  { "all", "de_DE.UTF-8", "en_GB", "en_GB", "<1,5>" }, { "all-is-c", "C", "de_DE", "de_DE", "<1.5>" },
  { "messages", "", "fr_FR", "en_GB", "<1,5>" },       { "messages-not-lang", NULL, "en_GB", "de_DE", "<1.5>" },
  { "lang", NULL, NULL, "sv_SE", "<1,5>" },            { "nothing", NULL, "", "", "<1.5>" },
  /* LANGUAGE goes before them, as it does for texts, but not where the locale is plain C. */
  { "language", NULL, NULL, "en_GB.UTF-8", "<1,5>", "de:en" },
  { "language-of-no-country", "C.UTF-8", NULL, NULL, "<1,5>", "de" },
  { "language-en", "de_DE.UTF-8", NULL, NULL, "<1.5>", "en_GB:en" },
  { "language-and-c", "C", NULL, "de_DE", "<1.5>", "de" },
  { "language-without-region", NULL, NULL, "de_CH.UTF-8", "<1.5>", "de" },
};

static void
set_variable (const char *name, const char *value)
{
  if (value != NULL)
    g_setenv (name, value, TRUE);
  else
    g_unsetenv (name);
}

/* The default style is found once a process: each environment needs its own. */
static void
print_default (gconstpointer data)
{
  int i = GPOINTER_TO_INT (data);

  set_variable ("LC_ALL", environments[i].all);
  set_variable ("LC_MESSAGES", environments[i].messages);
  set_variable ("LANG", environments[i].lang);
  set_variable ("LANGUAGE", environments[i].language);
  g_autofree char *text = wb_number_format (1.5, 1, NULL);
  g_print ("<%s>", text);
}

static void
test_environment (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (environments); i++)
    {
      g_autofree char *path = g_strconcat ("/base/number-style/subprocess/", environments[i].name, NULL);
      g_autofree char *pattern = g_strdup_printf ("*%s*", environments[i].shown);
      g_test_message ("%s", environments[i].name);
      g_test_trap_subprocess (path, 0, 0);
      g_test_trap_assert_passed ();
      g_test_trap_assert_stdout (pattern);
    }
}

void
test_number_style_add (void)
{
  g_test_add_func ("/base/number-style/a-language-tag-gives-its-decimal-sign", test_tags);
  g_test_add_func ("/base/number-style/the-program-takes-language-then-lc-all-then-lc-messages-then-lang", test_environment);
  for (gsize i = 0; i < G_N_ELEMENTS (environments); i++)
    {
      g_autofree char *path = g_strconcat ("/base/number-style/subprocess/", environments[i].name, NULL);
      g_test_add_data_func (path, GINT_TO_POINTER (i), print_default);
    }
}
