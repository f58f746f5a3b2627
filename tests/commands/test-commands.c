/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "commands-run.h"

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  test_commands_answers_add ();
  test_commands_earlier_add ();
  test_commands_few_add ();
  test_commands_files_add ();
  test_commands_ladder_add ();
  test_commands_language_add ();
  test_commands_lots_add ();
  test_commands_manual_add ();
  test_commands_materials_add ();
  test_commands_next_add ();
  test_commands_report_add ();
  test_commands_recipe_add ();
  test_commands_slips_add ();
  test_commands_table_add ();
  test_commands_usage_add ();
  return g_test_run ();
}
