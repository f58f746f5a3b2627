/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-chart.h"
#include "wb-craft-method.h"

G_BEGIN_DECLS

/*
 * The temperature track of a melt with the steps of its pour along it: as planned, and as done. Time across, in minutes from the
 * beginning; what the method gives no minutes is drawn as ten, a wait of more than 45 as 45. The cure, which takes days, is left out.
 */

/* steps: WbBatchStep in order. fragrance: the oil in it; NULL: none. invented: the notebook says that its data are. Caller unrefs. */
WbChart *wb_plot_pour_new (const GPtrArray *steps, const WbFragrance *fragrance, gboolean us_units, gboolean invented);

G_END_DECLS
