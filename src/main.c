/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-application.h"
#include "wb-clock.h"
#include "wb-commands.h"
#include "wb-language.h"

#include <gsl/gsl_errno.h>
#include <stdio.h>

/* The program runs from its build folder too, with the schema and the translations that stand there. */
static gboolean
runs_from_build_folder (void)
{
  g_autofree char *self = g_file_read_link ("/proc/self/exe", NULL);

  return self != NULL && g_str_has_prefix (self, WB_BUILD_DIR "/");
}

static void
set_up_folders (void)
{
  gboolean built = runs_from_build_folder ();

  if (built)
    g_setenv ("GSETTINGS_SCHEMA_DIR", WB_BUILD_DIR "/data", FALSE);
  wb_language_set_up (GETTEXT_PACKAGE, built ? WB_BUILD_DIR "/po" : WB_LOCALEDIR);
}

int
main (int    argc,
      char **argv)
{
  g_autoptr (GError) error = NULL;

  /* GSL would end the process; every function of calc returns a status instead. */
  gsl_set_error_handler_off ();
  if (!wb_clock_check_environment (&error))
    {
      fprintf (stderr, "wickbench: WICKBENCH_CLOCK: %s\n", error->message);
      return WB_COMMANDS_USAGE;
    }
  set_up_folders ();
  if (argc >= 2 && wb_commands_wants (argv[1]))
    return wb_commands_run (argc, argv);

  return wb_application_run (argc, argv);
}
