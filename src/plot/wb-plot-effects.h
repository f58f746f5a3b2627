/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-plot-options.h"

G_BEGIN_DECLS

/* One figure by wick step, a line for each vessel and scent, with 90 % intervals. As wb_plot_new. */
WbChart *wb_plot_effects_new (const WbCraftAnswer *answer,
                              const WbPlotOptions *options,
                              GError             **error);

G_END_DECLS
