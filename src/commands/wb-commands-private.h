/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-commands-output-private.h"
#include "wb-commands.h"

G_BEGIN_DECLS

/* One verb of the command line. */
typedef struct
{
  const char *name;
  const char *arguments;   /* "NOTEBOOK EXPERIMENT" */
  const char *summary;     /* one line for the list of commands */
  const char *description; /* for its own --help: what comes out, exit status */
  const GOptionEntry *options; /* NULL: none but --help */
  int         n_arguments; /* at least as many */
  int         n_optional;  /* and so many more at most */
  int       (*run) (char **arguments);
} WbCommandsVerb;

extern const WbCommandsVerb
  wb_commands_chart,
  wb_commands_report,
  wb_commands_check,
  wb_commands_demo,
  wb_commands_effects,
  wb_commands_export,
  wb_commands_fit,
  wb_commands_import,
  wb_commands_ladder,
  wb_commands_list,
  wb_commands_lots,
  wb_commands_materials,
  wb_commands_next,
  wb_commands_rank,
  wb_commands_recipe,
  wb_commands_salvage;

G_END_DECLS
