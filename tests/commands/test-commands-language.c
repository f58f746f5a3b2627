/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "languages.h"

#include "commands-run.h"
#include "wb-language.h"

#include <libintl.h>
#include <string.h>

/* What a command writes is English whatever the machine's locale; a report and a chart follow --language. */

static gboolean
is_translated (void)
{
  g_auto (GStrv) known = g_strsplit (WB_LANGUAGES WB_TRANSLATIONS, ", ", -1);

  return g_strv_contains ((const char *const *) known, "de");
}

static char *
read_report (const char *notebook,
             const char *language)
{
  g_autofree char *name = g_strconcat ("language-", language, ".pdf", NULL);
  g_autofree char *file = commands_path (name);
  g_autoptr (Run) run = commands_run ("report", notebook, "AVT", "--output", file, "--language", language, NULL);
  const char *argv[] = { "pdftotext", "-layout", file, "-", NULL };
  char *text = NULL;
  int status;

  g_assert_cmpstr (run->err, ==, "");
  g_assert_cmpint (run->status, ==, 0);
  g_assert_true (g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &text, NULL, &status, NULL));
  g_assert_cmpint (status, ==, 0);
  return text;
}

static void
test_unknown (void)
{
  const struct { const char *arguments[8]; } cases[] = {
    { { "report", "a", "b", "--output", "r.pdf", "--language", "xx" } },
    { { "chart", "a", "b", "--kind=growth", "--output=c.png", "--language", "de_DE" } },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const char *const *a = cases[i].arguments;
      g_autoptr (Run) run = commands_run (a[0], a[1], a[2], a[3], a[4], a[5], a[6], a[7], NULL);
      g_autofree char *told = g_strdup_printf ("wickbench: no language “%s”; known are: %s\n", a[6], WB_LANGUAGES WB_TRANSLATIONS);

      g_assert_cmpint (run->status, ==, 2);
      g_assert_cmpstr (run->err, ==, told);
    }
}

static void
test_english (void)
{
  g_autofree char *notebook = commands_new_small_notebook ("english.wickbench"), *file = commands_path ("plain.pdf"), *asked = NULL;
  g_autoptr (Run) run = commands_run_with ("LC_ALL", "de_DE.UTF-8", "report", notebook, "AVT", "--output", file, NULL);
  g_autofree char *text = read_report (notebook, "en");

  g_assert_cmpint (run->status, ==, 0);
  g_assert_nonnull (strstr (text, "certification"));
  const char *argv[] = { "pdftotext", "-layout", file, "-", NULL };
  g_assert_true (g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &asked, NULL, NULL, NULL));
  g_assert_cmpstr (asked, ==, text);
}

/* Section titles of the report, each a msgid of its own. */
static void
test_german (void)
{
  const char *const titles[] = { "The answer", "Ranking and reasons", "How it was tested" };
  g_autofree char *notebook = commands_new_notebook ("german.wickbench");
  g_autofree char *text = read_report (notebook, "de");
  guint n = 0;

  wb_language_set_up (GETTEXT_PACKAGE, WB_BUILD_DIR "/po");
  wb_language_choose ("de");
  for (guint i = 0; i < G_N_ELEMENTS (titles); i++)
    {
      const char *german = dgettext (GETTEXT_PACKAGE, titles[i]);
      g_test_message ("%s: %s", titles[i], german);
      g_assert_cmpstr (german, !=, titles[i]);
      g_assert_nonnull (strstr (text, german));
      n++;
    }
  g_assert_cmpuint (n, ==, G_N_ELEMENTS (titles));
  /* The numbers beside them have the language's decimal sign. */
  g_assert_true (g_regex_match_simple ("[0-9],[0-9]+\\s(mm|h|g)", text, 0, 0));
  g_assert_false (g_regex_match_simple ("[0-9]\\.[0-9]+\\s(mm|h|g)\\b", text, 0, 0));
}

void
test_commands_language_add (void)
{
  g_test_add_func ("/commands/language/an-unknown-one-is-told-beside-the-known", test_unknown);
  g_test_add_func ("/commands/language/a-report-is-english-whatever-the-locale", test_english);
  if (is_translated ())
    g_test_add_func ("/commands/language/a-report-comes-in-german", test_german);
}
