/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-commands-private.h"

#include "wb-app-export.h"

static char *to, *experiment;

static const GOptionEntry options[] = {
  { "to", 0, 0, G_OPTION_ARG_FILENAME, &to, "File to write; its ending says the format", "FILE" },
  { "experiment", 0, 0, G_OPTION_ARG_STRING, &experiment, "Only this one, by code or title", "E" },
  G_OPTION_ENTRY_NULL
};

static int
run (char **arguments)
{
  int status = WB_COMMANDS_DONE, format;
  g_autoptr (WbAppNotebook) notebook = NULL;
  gint64 id = 0;
  GError *error = NULL;

  if (to == NULL)
    {
      wb_commands_complain ("export", "--to FILE is missing; see wickbench export --help");
      return WB_COMMANDS_USAGE;
    }
  format = wb_app_export_format_from_path (to, &error);
  if (format < 0)
    return wb_commands_fail (to, error);
  notebook = wb_commands_open (arguments[0], &status);
  if (notebook == NULL)
    return status;
  if (experiment != NULL && (id = wb_commands_find (notebook, experiment, &status)) == 0)
    return status;
  if (!wb_app_export_sync (notebook, id, format, to, NULL, &error))
    return wb_commands_fail (to, error);
  return WB_COMMANDS_DONE;
}

const WbCommandsVerb wb_commands_export = {
  .name = "export",
  .arguments = "NOTEBOOK --to FILE",
  .summary = "Write a notebook's content to a file",
  .description = "FILE.csv is a burn log that import reads back; FILE.json is the whole notebook;\n"
                 "FILE.xlsx is a workbook; FILE.ics has cures, coolings and evenings to come.\n"
                 "The file is written whole or not at all, over one that is there.",
  .options = options,
  .n_arguments = 1,
  .run = run,
};
