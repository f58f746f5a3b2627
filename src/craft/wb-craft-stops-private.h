/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-dataset.h"
#include "wb-experiment.h"

G_BEGIN_DECLS

/* The limits that the draws of the ranking know: those of a figure that is read, a flame or the wall of the vessel. */

/* FALSE: the limit is judged by something that no draw has, or is off. */
gboolean wb_craft_stops_find_figure (const WbLimit   *limit,
                                     WbFigure        *figure);
/* The tightest stop of a figure, in its stored unit; INFINITY: nothing limits it. */
double   wb_craft_stops_get         (const WbDataset *data,
                                     WbFigure         figure);

G_END_DECLS
