/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-commands-status.h"

#include <glib.h>

G_BEGIN_DECLS

/*
 * The command line: no display, no bus, no settings, numbers in stored units,
 * English whatever the locale, so that what reads it does not break.
 */

/* Whether this first argument asks for a command rather than for a window: a verb, --help, --version, or a word that can be no file. */
gboolean wb_commands_wants (const char *word);
/* Runs argv[1] and gives the process's exit status. Ends all output before it returns. */
int      wb_commands_run   (int argc, char **argv);

G_END_DECLS
