/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-plot-options.h"

G_BEGIN_DECLS

/* Chance of each rank, stacked. As wb_plot_new. */
WbChart *wb_plot_ranks_new (const WbCraftAnswer *answer,
                            const WbPlotOptions *options,
                            GError             **error);

G_END_DECLS
