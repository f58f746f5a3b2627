/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-chart.h"
#include "wb-craft-answer.h"

G_BEGIN_DECLS

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
  const gint64 *reopened; /* ids of decisions that were signed and do not stand any more, borrowed; heat tells of them */
  gsize        n_reopened;
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

/* Everything automatic; metric or US customary units. */
void               wb_plot_options_init    (WbPlotOptions *options, gboolean us_units);

G_END_DECLS
