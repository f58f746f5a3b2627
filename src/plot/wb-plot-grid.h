/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-plot-options.h"

G_BEGIN_DECLS

/* Small multiples: a vessel and scent a row, a wick a column, pool growth in each. As wb_plot_new. */
WbChart *wb_plot_grid_new (const WbCraftAnswer *answer,
                           const WbPlotOptions *options,
                           GError             **error);

G_END_DECLS
