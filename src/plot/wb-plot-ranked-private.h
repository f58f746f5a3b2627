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
/* Names as categories of the vertical axis, with rules between groups. */
void    wb_plot_ranked_set_rows    (const WbPlotContext *context, WbChartPanel *panel, const GArray *rows);
/* The name of a row in a sentence about its group: the wick, and what the group does not have in common. Caller frees. */
char   *wb_plot_ranked_dup_name    (const WbPlotContext *context, const WbPlotRow *row);
/* The name of a row among all rows, as it stands beside it. Caller frees. */
char   *wb_plot_ranked_dup_label   (const WbPlotContext *context, const GArray *rows, guint index);
/* What tells a group from the others, "" where it is the only one of the experiment. Caller frees. */
char   *wb_plot_ranked_dup_group   (const WbPlotContext *context, const WbCraftGroup *group);
/* Indices of the first rows of the groups: guint. Caller frees. */
GArray *wb_plot_ranked_find_groups (const GArray *rows);
/* Says of one group what its title says. */
typedef char *(*WbPlotSayGroup)    (const WbPlotContext *context, const GArray *rows, guint first, gboolean alone);
/* The title over one group or several: the first groups' findings, each under its group's name. Caller frees. */
char   *wb_plot_ranked_dup_title   (const WbPlotContext *context, const GArray *rows, WbPlotSayGroup say);

G_END_DECLS
