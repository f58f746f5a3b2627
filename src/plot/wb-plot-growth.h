/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-plot-options.h"

G_BEGIN_DECLS

/* Melt pool against time after lighting: readings, fitted curve, 90 % band, wall and the protocol's window; a panel for each vessel and scent. As wb_plot_new. */
WbChart *wb_plot_growth_new (const WbCraftAnswer *answer,
                             const WbPlotOptions *options,
                             GError             **error);

G_END_DECLS
