/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-doubt.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Asking once whether what was typed is so. Nothing is refused: the person says. */

/* "Flame height was 21.0 mm; 210.0 mm now." Caller frees. */
char *wb_doubt_words_dup (const WbCraftDoubt *doubt, gboolean us_units);
/* All of an array of WbCraftDoubt, a line each. Caller frees. */
char *wb_doubt_words_dup_all (const GArray *doubts, gboolean us_units);

G_END_DECLS
