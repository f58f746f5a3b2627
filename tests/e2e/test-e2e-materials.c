/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-e2e-driver.h"

#include <string.h>

#define DIAMETER "Inner diameter at the wax level, mm"

static void
open_vessels (WbE2eDriver *driver)
{
  wb_e2e_driver_press (driver, "<Alt>2");
  wb_e2e_driver_see (driver, ATSPI_ROLE_LIST_ITEM, "Hob, 76.2 mm*");
}

static void
refusal (void)
{
  char *folder = wb_e2e_folder_new ();
  WbE2eDriver *driver;

  wb_e2e_folder_add_demo (folder);
  driver = wb_e2e_driver_start (folder, "demo.wickbench", WB_E2E_NOW);
  open_vessels (driver);
  /* A new vessel is measured step by step; who would rather fill in the form closes that. */
  wb_e2e_driver_press (driver, "<Control><Alt>n");
  wb_e2e_driver_see (driver, ATSPI_ROLE_FRAME, "Measure the vessel");
  wb_e2e_driver_press (driver, "Escape");
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_FRAME, "Measure the vessel");
  wb_e2e_driver_enter (driver, "Name", "Quern");
  wb_e2e_driver_read_entry (driver, "Name", "Quern");

  /* Grouping is never accepted, and a mass is no length: the text stays, with words beside it. */
  wb_e2e_driver_enter (driver, DIAMETER, "54 g");
  wb_e2e_driver_press (driver, "<Control>s");
  wb_e2e_driver_read (driver, "“g” is not a unit that fits here");
  wb_e2e_driver_read_entry (driver, DIAMETER, "54 g");

  wb_e2e_driver_enter (driver, DIAMETER, "2 1/8\"");
  wb_e2e_driver_press (driver, "<Control>s");
  wb_e2e_driver_see (driver, ATSPI_ROLE_LABEL, "Saved");
  wb_e2e_driver_see (driver, ATSPI_ROLE_LIST_ITEM, "Quern, 54.0 mm");
  wb_e2e_driver_stop_alight (driver);

  /* Durable, and found again. */
  driver = wb_e2e_driver_start (folder, "demo.wickbench", WB_E2E_NOW);
  open_vessels (driver);
  wb_e2e_driver_click (driver, ATSPI_ROLE_LIST_ITEM, "Quern, 54.0 mm");
  wb_e2e_driver_read_entry (driver, "Name", "Quern");

  /* Undo outlives the restart. */
  wb_e2e_driver_see_enabled (driver, ATSPI_ROLE_PUSH_BUTTON, "Undo: *", TRUE);
  wb_e2e_driver_press (driver, "<Control>z");
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_LIST_ITEM, "Quern, 54.0 mm");
  wb_e2e_driver_stop_alight (driver);
  wb_e2e_folder_remove (folder);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/e2e/materials/a-refused-quantity-stays-until-it-is-corrected", refusal);
  return g_test_run ();
}
