/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-commands-private.h"

#include "wb-app-salvage.h"

static int
run (char **arguments)
{
  GError *error = NULL;
  g_autoptr (WbAppSalvage) salvage = wb_app_salvage_sync (arguments[0], arguments[1], NULL, NULL, &error);

  if (salvage == NULL)
    return wb_commands_fail (g_error_matches (error, WB_APP_ERROR, WB_APP_ERROR_EXISTS) ? arguments[1] : arguments[0], error);
  wb_commands_print ("%s: %s\n", arguments[1], salvage->words);
  for (guint i = 0; i < salvage->lines->len; i++)
    wb_commands_print ("%s\n", (const char *) salvage->lines->pdata[i]);
  return salvage->whole ? WB_COMMANDS_DONE : WB_COMMANDS_NO;
}

const WbCommandsVerb wb_commands_salvage = {
  .name = "salvage",
  .arguments = "NOTEBOOK NEW",
  .summary = "Save what can be read of a damaged notebook into a new one",
  .description = "Reads the damaged file page by page, and changes nothing in it. NEW, which must not be there,\n"
                 "becomes a notebook of its own: its first entry says what it was made from, and each entry of\n"
                 "which something is missing says so. What is lost is listed. Exit status 0 if nothing is, 1 if\n"
                 "something is, 3 if no notebook could be made.",
  .n_arguments = 2,
  .run = run,
};
