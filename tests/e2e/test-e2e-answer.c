/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-e2e-driver.h"

#include <string.h>

/* The first line that holds the words. Caller frees. */
static char *
dup_line (const char *text,
          const char *words)
{
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);

  for (guint i = 0; lines[i] != NULL; i++)
    if (strstr (lines[i], words) != NULL)
      return g_strdup (lines[i]);
  g_error ("\"%s\" is not in: %s", words, text);
}

/* The window says what the command line says: one answer, worked out once. */
static void
answer_of_the_demo (void)
{
  char *folder = wb_e2e_folder_new ();
  g_autofree char *told = NULL;
  g_autofree char *answer = NULL;
  WbE2eDriver *driver;

  wb_e2e_folder_add_demo (folder);
  told = wb_e2e_folder_command (folder, "rank", "demo.wickbench", "HF-1", NULL);
  answer = dup_line (told, " would do best on average");

  driver = wb_e2e_driver_start (folder, "demo.wickbench", WB_E2E_NOW);
  wb_e2e_driver_read (driver, "Invented data");
  wb_e2e_driver_read (driver, "Test clock: 25 Nov 2026");
  wb_e2e_driver_click (driver, ATSPI_ROLE_LIST_ITEM, "HF-1*");
  wb_e2e_driver_read (driver, answer);
  wb_e2e_driver_see (driver, ATSPI_ROLE_PANEL, "Ranking");
  wb_e2e_driver_see (driver, ATSPI_ROLE_LABEL, "recommended");
  wb_e2e_driver_see (driver, ATSPI_ROLE_LABEL, "not the best");
  wb_e2e_driver_read (driver, "If the weights were others");

  /* The chart tells its finding, and its table stands behind it. */
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Table");
  wb_e2e_driver_read (driver, "Melt-pool diameter");

  /* A paper is seen before it is printed, and reads. */
  wb_e2e_driver_click (driver, ATSPI_ROLE_LIST_ITEM, "FC-1*");
  wb_e2e_driver_see (driver, ATSPI_ROLE_PANEL, "The bench from above");
  wb_e2e_driver_press (driver, "<Control><Shift>l");
  wb_e2e_driver_see (driver, ATSPI_ROLE_FRAME, "Log sheet of an evening");
  wb_e2e_driver_see_focus (driver, ATSPI_ROLE_PANEL, "Page 1 of *");
  wb_e2e_driver_press (driver, "Escape");
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_FRAME, "Log sheet of an evening");

  wb_e2e_driver_press (driver, "<Alt>1");
  wb_e2e_driver_see (driver, ATSPI_ROLE_LIST, "What is due");
  wb_e2e_driver_stop_alight (driver);
  wb_e2e_folder_remove (folder);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/e2e/answer/the-window-says-what-the-command-line-says", answer_of_the_demo);
  return g_test_run ();
}
