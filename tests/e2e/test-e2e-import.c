/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-e2e-driver.h"

#define LOGS WB_SOURCE_DIR "/tests/exchange/data/"

static void
import_log (void)
{
  char *folder = wb_e2e_folder_new ();
  WbE2eDriver *driver;

  g_free (wb_e2e_folder_command (folder, "import", "log.wickbench", LOGS "burn-log-clean.csv", NULL));
  driver = wb_e2e_driver_start (folder, "log.wickbench", WB_E2E_NOW);
  wb_e2e_driver_see (driver, ATSPI_ROLE_LIST_ITEM, "*Autumn vessel trial*");
  wb_e2e_driver_press (driver, "<Control>i");
  wb_e2e_driver_see (driver, ATSPI_ROLE_PUSH_BUTTON, "_Open*");
  wb_e2e_driver_type (driver, LOGS "burn-log-messy.csv");
  wb_e2e_driver_press (driver, "Return");
  /* The eight records that the log's notes name, and nothing written yet. */
  wb_e2e_driver_read (driver, "150 lines, 150 readings of 10 samples · would come in: 142 · known already: 0 · refused: 8");
  wb_e2e_driver_see (driver, ATSPI_ROLE_LIST_ITEM, "Refused: line 98, elapsed_min: “NaN” is not a number");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Import");
  wb_e2e_driver_read (driver, "150 lines, 150 readings of 10 samples · came in: 142");
  wb_e2e_driver_press (driver, "Escape");
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_FRAME, "Import a burn log");
  wb_e2e_driver_click (driver, ATSPI_ROLE_LIST_ITEM, "*Bench notebook, spring*");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Compare");
  wb_e2e_driver_see (driver, ATSPI_ROLE_PANEL, "Ranking");
  wb_e2e_driver_see (driver, ATSPI_ROLE_CHECK_BOX, "Show L-3 in the chart");

  /* An import is not taken back by undo: the record says by whom it came. */
  wb_e2e_driver_see_enabled (driver, ATSPI_ROLE_PUSH_BUTTON, "Undo", FALSE);
  wb_e2e_driver_press (driver, "<Alt>3");
  wb_e2e_driver_read (driver, "burn-log-messy.csv");
  wb_e2e_driver_stop (driver);
  wb_e2e_folder_remove (folder);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/e2e/import/a-log-is-looked-at-before-it-comes-in", import_log);
  return g_test_run ();
}
