/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-plot-options.h"

G_BEGIN_DECLS

/* Pools from above to scale, a ring for each hour; a panel for each cell. As wb_plot_new. */
WbChart *wb_plot_rings_new (const WbCraftAnswer *answer,
                            const WbPlotOptions *options,
                            GError             **error);

G_END_DECLS
