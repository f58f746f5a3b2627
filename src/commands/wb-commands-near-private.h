/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/*
 * Is `typed` likely `name` misspelt: the same letters in another case, or up to two of them wrong, missing, too many or swapped with the next (Damerau 1964's
 * four kinds of mistakes), in a name long enough for that to be a mistake? Names whose digits differ are two names: "blend 7" is not "blend 8".
 */
gboolean wb_commands_is_misspelt (const char *typed, const char *name);

G_END_DECLS
