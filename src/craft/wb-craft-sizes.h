/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define WB_CRAFT_SIZES_MAXIMUM 60

/*
 * The sizes of a series as a maker writes them in one line, smallest first: "1, 2, 3, 4", "0.8 0.9 1.0", "S-1 to S-8". A comma or
 * semicolon parts them, else a blank; a comma between two figures is a decimal sign where blanks part the sizes. "to" (or the
 * translated word, "…", "..", "–") counts up whatever whole number its two ends do not have in common. NULL and an error
 * (WB_NUMBER_ERROR_SYNTAX), a sentence, for what cannot be read or is more than WB_CRAFT_SIZES_MAXIMUM; twice the same size is
 * left in for the caller to tell. strv, never empty; caller frees.
 */
char **wb_craft_sizes_parse (const char *text, GError **error);

G_END_DECLS
