/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-commands-private.h"

#include "wb-app-record.h"

static char *fingerprint;

static const GOptionEntry options[] = {
  { "fingerprint", 0, 0, G_OPTION_ARG_STRING, &fingerprint, "One noted down before, as check prints it", "F" },
  G_OPTION_ENTRY_NULL
};

/* What a report or a note of the fingerprint rests on still stands; what came since is told. */
static void
print_named (const WbAppCheck *check)
{
  if (check->named == 0)
    return;
  if (check->after == 0)
    wb_commands_print ("the fingerprint is of entry %" G_GINT64_FORMAT ", which is as it was then and the last one: nothing came after it\n", check->named);
  else
    wb_commands_print ("the fingerprint is of entry %" G_GINT64_FORMAT ", which is as it was then; %" G_GINT64_FORMAT " %s after it\n",
                       check->named, check->after, check->after == 1 ? "entry came" : "entries came");
}

static int
run (char **arguments)
{
  GError *error = NULL;
  g_autoptr (WbAppCheck) check = wb_app_record_check_sync (arguments[0], fingerprint, NULL, &error);

  if (check == NULL)
    return wb_commands_fail (arguments[0], error);
  if (!check->sound)
    {
      wb_commands_complain (arguments[0], "%s", check->finding);
      return WB_COMMANDS_NO;
    }
  wb_commands_print ("%s: sound: %" G_GINT64_FORMAT " entries and %" G_GINT64_FORMAT " rows are as they were written\n",
                     arguments[0], check->entries, check->rows);
  print_named (check);
  wb_commands_print ("fingerprint %s\n", check->fingerprint);
  return WB_COMMANDS_DONE;
}

const WbCommandsVerb wb_commands_check = {
  .name = "check",
  .arguments = "NOTEBOOK",
  .summary = "Check that a notebook's record is as it was written",
  .description = "Recomputes every entry, and compares with what the notebook says of itself and with a\n"
                 "fingerprint kept elsewhere, as at the foot of a report: how many entries came after it is told. It finds damage, and every edit by someone who did not also\n"
                 "recompute the chain and its anchors; it proves nothing more. Exit status 1 if it finds any.",
  .options = options,
  .n_arguments = 1,
  .run = run,
};
