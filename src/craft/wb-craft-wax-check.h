/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-experiment.h"

G_BEGIN_DECLS

/* Whether the temperatures of a wax go together: nothing here is stored, and nothing is refused by it. */

/* What is to be done at which temperature, degC; NAN: not said, and never in doubt. */
typedef struct { double heat_c, add_c, pour_c; } WbCraftWaxHeat;

/* As the wax's own record states them. */
WbCraftWaxHeat wb_craft_wax_heat_of   (const WbWax *wax);
/*
 * What no pot can follow one after the other, a sentence; NULL: nothing. melt_c: where the wax melts, NAN not known. scented: the fragrance
 * counts too. field: of the wax, where it is best said, static; may be NULL. Temperatures as they are read. Translated; caller frees.
 */
char          *wb_craft_wax_dup_doubt (const WbCraftWaxHeat *heat, double melt_c, gboolean scented, gboolean us_units, const char **field);

G_END_DECLS
