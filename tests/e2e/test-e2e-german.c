/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-e2e-driver.h"

#include <libintl.h>
#include <locale.h>

/* A text of the program as the translation has it; the test fails where it has none. */
static const char *
german (const char *text)
{
  const char *translation = dgettext (GETTEXT_PACKAGE, text);

  if (translation == text)
    g_error ("“%s” is not translated", text);
  return translation;
}

/*
 * The window comes up in German where the locale asks for it, also for one that no system has: de_XX. GTK's own words, the
 * numbers and the dates go along.
 */
static void
window_in_german (void)
{
  const char *due = german ("What is due"), *ranking = german ("Ranking"), *recommended = german ("recommended");
  char *folder = wb_e2e_folder_new ();
  WbE2eDriver *driver;

  wb_e2e_folder_add_demo (folder);
  g_unsetenv ("LANGUAGE");
  g_setenv ("LC_ALL", "de_XX.UTF-8", TRUE);
  driver = wb_e2e_driver_start (folder, "demo.wickbench", WB_E2E_STILL);
  g_setenv ("LC_ALL", "C.UTF-8", TRUE);

  wb_e2e_driver_see (driver, ATSPI_ROLE_LIST, due);
  wb_e2e_driver_read (driver, "25. Nov. 2026");
  wb_e2e_driver_click (driver, ATSPI_ROLE_LIST_ITEM, "HF-1*");
  wb_e2e_driver_see (driver, ATSPI_ROLE_PANEL, ranking);
  wb_e2e_driver_see (driver, ATSPI_ROLE_LABEL, recommended);
  wb_e2e_driver_kill (driver);
  wb_e2e_folder_remove (folder);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  /* This process reads the translation that the program is to show. */
  setlocale (LC_ALL, "C.UTF-8");
  bindtextdomain (GETTEXT_PACKAGE, WB_BUILD_DIR "/po");
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  g_setenv ("LANGUAGE", "de", TRUE);
  g_test_add_func ("/e2e/german/the-window-comes-up-in-german", window_in_german);
  return g_test_run ();
}
