/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"
#include "wb-craft-ladder.h"

G_BEGIN_DECLS

/* Writes the ladder in words and tables to standard output. */
void wb_commands_print_ladder (WbAppNotebook *notebook, const WbCraftLadder *ladder);

G_END_DECLS
