/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-plot-context-private.h"

G_BEGIN_DECLS

/* Names, quantities and counts in a maker's words. Every text belongs to the caller. */

/* At most `most` characters, the end replaced by an ellipsis; set apart from its surroundings where it runs right to left. */
char *wb_plot_dup_clipped      (const char *text, glong most);
char *wb_plot_dup_cell_name    (const WbPlotContext *context, guint cell);
char *wb_plot_dup_wick_name    (const WbPlotContext *context, guint cell);
/* Vessel and scent of a family; only what varies in the experiment where `brief`, "" if nothing does. */
char *wb_plot_dup_family_name  (const WbPlotContext *context, guint family, gboolean brief);
/* "Heron, 64 mm." where all cells are of one vessel and scent and the experiment has others; "" otherwise. */
char *wb_plot_dup_common_family (const WbPlotContext *context, const GArray *cells);

/* A stored value in the shown unit of its quantity, with the unit. decimals below 0: as many as the unit usually has. */
char *wb_plot_dup_quantity     (const WbPlotContext *context, WbUnit stored, double value, int decimals);
/* A size or a limit as somebody once set it: no zeros behind the decimal sign. */
char *wb_plot_dup_set_value    (const WbPlotContext *context, WbUnit stored, double value);
/* A distance that matters to the half millimetre where it is small. */
char *wb_plot_dup_gap          (const WbPlotContext *context, double mm);
char *wb_plot_dup_hours        (double hours);
/* A chance as per cent, never "0 %" or "100 %" for what is not certain; "not known" for NAN. */
char *wb_plot_dup_chance       (double chance);
/* A figure as craft gives it (times in h), with its unit. */
char *wb_plot_dup_figure       (const WbPlotContext *context, WbFigure figure, double value);
/* "3.3 h (2.9 h to 3.9 h)", "3.3 h or more" where there is no upper end; "" without a value. */
char *wb_plot_dup_interval     (const WbPlotContext *context, WbFigure figure, WbCraftInterval interval);

/* The figure on an axis: label, shown unit, scale. Times stand in seconds there: see wb_plot_to_axis. */
void   wb_plot_axis_set_figure (const WbPlotContext *context, WbChartAxis *axis, WbFigure figure);
WbUnit wb_plot_figure_get_shown_unit (const WbPlotContext *context, WbFigure figure);
/* A figure's value as axes and heat maps hold it: hours become seconds. */
double wb_plot_to_axis         (WbFigure figure, double value);
int    wb_plot_figure_get_decimals (const WbPlotContext *context, WbFigure figure);

/* Upper case at the start of a sentence. */
char *wb_plot_dup_sentence     (const char *text);
/* Footnote: sentences up to a NULL, empty ones left out, and "invented data" where the notebook says so. */
void  wb_plot_set_footnote     (const WbPlotContext *context, WbChart *chart, const char *first, ...) G_GNUC_NULL_TERMINATED;
/* "4 samples, 96 readings"; `readings` G_MAXUINT: left out. */
char *wb_plot_dup_counts       (guint samples, guint burns, guint readings);

G_END_DECLS
