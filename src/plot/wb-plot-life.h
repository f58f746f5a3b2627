/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-plot-options.h"

G_BEGIN_DECLS

/* Flame, vessel temperature, depth and consumption over the share of the fill left, limits as labelled lines. As wb_plot_new. */
WbChart *wb_plot_life_new (const WbCraftAnswer *answer,
                           const WbPlotOptions *options,
                           GError             **error);

G_END_DECLS
