/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-plot-options.h"

G_BEGIN_DECLS

/* Score with its 90 % interval in rank order, and what its parts cost. As wb_plot_new. */
WbChart *wb_plot_score_new (const WbCraftAnswer *answer,
                            const WbPlotOptions *options,
                            GError             **error);

G_END_DECLS
