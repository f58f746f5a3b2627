/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-commands-private.h"

#include "wb-app-demo.h"

static int
run (char **arguments)
{
  GError *error = NULL;

  if (!wb_app_demo_write (arguments[0], &error))
    return wb_commands_fail (arguments[0], error);
  wb_commands_print ("%s: demo notebook of an invented workshop, invented data\n", arguments[0]);
  return WB_COMMANDS_DONE;
}

const WbCommandsVerb wb_commands_demo = {
  .name = "demo",
  .arguments = "NOTEBOOK",
  .summary = "Write the demo notebook",
  .description = "The notebook holds an invented workshop with invented data, and says so everywhere.\n"
                 "A file that is there already is not touched.",
  .n_arguments = 1,
  .run = run,
};
