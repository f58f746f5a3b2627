/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-plot-line-private.h"

G_BEGIN_DECLS

/* What limits say of a line: of its cell, or of the one sample that was asked for, by all that this did itself. */

/* Whether it crossed any, the graver higher. */
typedef enum { WB_PLOT_CROSSED_NONE, WB_PLOT_CROSSED_ASIDE, WB_PLOT_CROSSED } WbPlotCrossed;

typedef struct
{
  GArray       *limits;   /* WbCraftLimit by limit of the data set */
  WbPlotCrossed crossed;  /* ASIDE: only by a sample that was set aside */
  char         *crossing; /* in words, with the line's name, "L-4 crosses the house limit of 77 °C"; NULL where none was crossed */
  gboolean      passed;   /* each limit was tested over the whole life and none crossed: only then there is "no limit" */
} WbPlotLifeLimits;

void wb_plot_life_limits_init  (WbPlotLifeLimits *self, const WbPlotLine *line);
void wb_plot_life_limits_clear (WbPlotLifeLimits *self);
/*
 * Appends what was not tested: const char *, translated, each measure once. `down`: the candle was burnt to its lower third; else
 * what was not tested as far as others were.
 */
void wb_plot_life_limits_add_untested (const WbPlotLifeLimits *self, const WbPlotLine *line, gboolean down, GPtrArray *names);
/* "flame height, outside base of the vessel and 3 more"; "" of none. Caller frees. */
char *wb_plot_life_limits_dup_names   (const GPtrArray *names, guint most);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (WbPlotLifeLimits, wb_plot_life_limits_clear)

G_END_DECLS
