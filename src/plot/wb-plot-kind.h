/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

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
  WB_PLOT_MARKS,   /* smoke, soot and mushroom as a strip in time, a row a cell or sample */
  WB_PLOT_LOSS,    /* what the choice costs if it is wrong */
  WB_PLOT_N_KINDS
} WbPlotKind;

/* Key on the command line, "growth", "rings" ...; -1 if none has that key. */
int                wb_plot_kind_from_key   (const char *key);
const char        *wb_plot_kind_get_key    (WbPlotKind kind);
/* Translated: "How fast the pool grows", for menus and file dialogs; never a chart's title. */
const char        *wb_plot_kind_get_label  (WbPlotKind kind);
/* All keys in order, NULL-terminated; static. */
const char *const *wb_plot_kind_get_keys   (void);
/* Whether options.figure matters to that kind. */
gboolean           wb_plot_kind_takes_figure (WbPlotKind kind);

G_END_DECLS
