/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-chart.h"
#include "wb-craft-answer.h"

G_BEGIN_DECLS

/*
 * The kinds of chart. Each takes an answer and gives a WbChart whose title is
 * the finding in a maker's words, whose description says how sure that is and
 * on how much it rests, and whose table has every value drawn. What cannot be
 * drawn is said in a panel's words: no answer is too empty for a chart.
 */

typedef enum
{
  WB_PLOT_GROWTH,  /* melt pool against time, readings, fit, 90 % band and wall */
  WB_PLOT_RINGS,   /* pools from above to scale, a ring for each hour */
  WB_PLOT_LIFE,    /* flame, vessel temperature, depth and consumption over the candle's life */
  WB_PLOT_GRID,    /* small multiples over vessel, scent and wick */
  WB_PLOT_HEAT,    /* heat map of the grid by one figure */
  WB_PLOT_SCORE,   /* score with its interval and what its parts cost */
  WB_PLOT_RANKS,   /* rank acceptability */
  WB_PLOT_EFFECTS, /* one figure by wick step, a line for each vessel and scent */
  WB_PLOT_N_KINDS
} WbPlotKind;

/* What is shown, and in which units. Set up by wb_plot_options_init. */
typedef struct
{
  WbUnit       units[WB_N_QUANTITIES]; /* shown unit of each quantity; any unit of that quantity */
  int          figure;   /* WbFigure of heat, grid and effects; -1: the kind's own choice. Life: that figure's panel alone, in one */
  WbStage      stage;    /* heat, effects, growth, grid: that stage alone; WB_STAGE_ALL: the whole life */
  const guint *cells;    /* indices of cells to show, borrowed; NULL: the leading ones */
  gsize        n_cells;
  int          group;    /* of the answer's ranking; -1: all (score, ranks: as many as fit; life: the first) */
  int          sample;   /* index of the only sample whose readings are shown; -1: all that count */
  const char  *font_family; /* as Pango reads it, borrowed; NULL: the chart room's own choice */
} WbPlotOptions;

typedef enum
{
  WB_PLOT_ERROR_CELL,   /* no such cell */
  WB_PLOT_ERROR_GROUP,  /* no such group */
  WB_PLOT_ERROR_SAMPLE, /* no such sample */
  WB_PLOT_ERROR_FIGURE  /* a figure that the kind does not show */
} WbPlotError;

#define WB_PLOT_ERROR (wb_plot_error_quark ())
GQuark             wb_plot_error_quark     (void);

/* Key on the command line, "growth", "rings" ...; -1 if none has that key. */
int                wb_plot_kind_from_key   (const char *key);
const char        *wb_plot_kind_get_key    (WbPlotKind kind);
/* Translated: "Pool growth", for menus and file dialogs; never a chart's title. */
const char        *wb_plot_kind_get_label  (WbPlotKind kind);
/* All keys in order, NULL-terminated; static. */
const char *const *wb_plot_kind_get_keys   (void);
/* Whether options.figure matters to that kind. */
gboolean           wb_plot_kind_takes_figure (WbPlotKind kind);

/* Everything automatic; metric or US customary units. */
void               wb_plot_options_init    (WbPlotOptions *options, gboolean us_units);

/*
 * A new chart with one reference; NULL only for options that name what is not
 * there (WB_PLOT_ERROR). `options` NULL: automatic, in the notebook's units.
 * The answer is read while this runs and not kept.
 */
WbChart           *wb_plot_new             (WbPlotKind           kind,
                                            const WbCraftAnswer *answer,
                                            const WbPlotOptions *options,
                                            GError             **error);

/*
 * The series number of a cell, the same in every chart (and beside any list:
 * wb_chart_theme_draw_sample). One wick has one colour; vessel and scent
 * change its marker and dash.
 */
int                wb_plot_get_series      (const WbDataset *data, guint cell);
/* A height in points at which that chart reads well when it is `width` points wide: for files and pages that are free to choose. */
double             wb_plot_get_height      (WbPlotKind     kind,
                                            const WbChart *chart,
                                            double         width);

G_END_DECLS
