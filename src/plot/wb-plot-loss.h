/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-plot-options.h"

G_BEGIN_DECLS

/* Rows that one chart holds: of more it shows some of each group. */
#define WB_PLOT_LOSS_MOST_ROWS 16

/* What each choice gives away against the best, on average and when it goes badly, beside its chance of being the best or near it. As wb_plot_new. */
WbChart *wb_plot_loss_new (const WbCraftAnswer *answer,
                           const WbPlotOptions *options,
                           GError             **error);

/* What the chart writes at a row, "0.02 (0.08)": given away on average, and what is passed in one case of twenty only. NULL where a loss
   tells nothing: never burnt, or all of the group rejected. Caller frees. */
char    *wb_plot_loss_dup_figures (const WbCraftGroup  *group,
                                   const WbCraftRanked *ranked);

G_END_DECLS
