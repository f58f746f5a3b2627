/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-plot-options.h"

G_BEGIN_DECLS

/* The grid as a heat map of one figure, wicks across, vessels and scents down. As wb_plot_new. */
WbChart *wb_plot_heat_new (const WbCraftAnswer *answer,
                           const WbPlotOptions *options,
                           GError             **error);

G_END_DECLS
