/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-plot-context-private.h"

G_BEGIN_DECLS

/* Ranked cells as rows of a chart: group after group, best first. */

typedef struct
{
  const WbCraftGroup  *group;
  const WbCraftRanked *ranked;
} WbPlotRow;

/* WbPlotRow; at most `most`, spread over the groups. `left_out`: how many did not fit. Caller frees. */
GArray *wb_plot_ranked_rows        (const WbPlotContext *context, guint most, guint *left_out);
/* Names as categories of the vertical axis, with rules between groups. `verdicts`: with the verdict in words. */
void    wb_plot_ranked_set_rows    (const WbPlotContext *context, WbChartPanel *panel, const GArray *rows, gboolean verdicts);
/* The name of a row: the wick, and what the group does not have in common with the others. Caller frees. */
char   *wb_plot_ranked_dup_name    (const WbPlotContext *context, const WbPlotRow *row);
/* The group's name, where the rows hold several; "" otherwise. Caller frees. */
char   *wb_plot_ranked_dup_group   (const WbPlotContext *context, const GArray *rows);

G_END_DECLS
