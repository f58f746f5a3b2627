/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-pour.h"

G_BEGIN_DECLS

/*
 * What is hard to believe of what was typed of a pour, a line each: a melt in the other scale, a mass far from the sheet's.
 * "": nothing. poured: WbAppPouredSample. Caller frees.
 */
char *wb_pour_doubt_dup (const WbAppPourBatch *batch, const WbBatch *actual, const GArray *poured, gboolean us_units);

G_END_DECLS
