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
/* What each bar of `bars`, n_parts a row, stands for: its row's combination. */
void    wb_plot_ranked_tag         (const WbPlotContext *context, WbChartLayer *bars, const GArray *rows, gsize n_parts);
/* The name of a row in a sentence about its group: the wick, and what the group does not have in common. Caller frees. */
char   *wb_plot_ranked_dup_name    (const WbPlotContext *context, const WbPlotRow *row);
/* The name of a row among all rows, as it stands beside it. Caller frees. */
char   *wb_plot_ranked_dup_label   (const WbPlotContext *context, const GArray *rows, guint index);
/* Indices of the first rows of the groups: guint. Caller frees. */
GArray *wb_plot_ranked_find_groups (const GArray *rows);
/* What the title of one group alone says. */
typedef char *(*WbPlotSayGroup)    (const WbPlotContext *context, const GArray *rows, guint first);
/* Of one of several groups: which of its rows leads, in which state, and with which value. FALSE: none does. */
typedef gboolean (*WbPlotLeadGroup) (const WbPlotContext *context, const GArray *rows, guint first, guint *leader, int *state, double *value);
/* A value of those, or a range of them, with what its state adds, "recommended, 0.88 to 0.89". Caller frees. */
typedef char *(*WbPlotSayLead)      (int state, double low, double high);
/*
 * The title over one group, as `say` has it, or several: "`first`: B4 for Hob, 76.2 mm (0.88 to 0.89); B5 for Firkin, 88 mm (0.26
 * to 0.41)". Caller frees.
 */
char   *wb_plot_ranked_dup_title   (const WbPlotContext *context, const GArray *rows, WbPlotSayGroup say, const char *first,
                                    WbPlotLeadGroup lead, WbPlotSayLead say_lead);

G_END_DECLS
