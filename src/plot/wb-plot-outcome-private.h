/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-plot-line-private.h"

G_BEGIN_DECLS

/* Nearer to the wall than a ruler is read over hot wax, a curve and the mean of the readings may part: neither says "narrower". */
#define WB_PLOT_ALL_BUT_MM 1.0

/* What became of a cell's pool within a burn of the protocol's length, for titles and descriptions. */

typedef enum
{
  WB_PLOT_POOL_UNKNOWN,  /* no readings, or none that carry a curve */
  WB_PLOT_POOL_REACHES,  /* stands at the wall before the burn ends */
  WB_PLOT_POOL_SHORT,    /* would never get there */
  WB_PLOT_POOL_LATE,     /* would, but not within the burn */
  WB_PLOT_POOL_ALWAYS    /* stood at the wall at every reading: no curve, and early */
} WbPlotPoolState;

typedef enum
{
  WB_PLOT_DUE_UNKNOWN,
  WB_PLOT_DUE_EARLY,
  WB_PLOT_DUE_IN_TIME,
  WB_PLOT_DUE_LATE
} WbPlotDue;

typedef struct
{
  WbPlotPoolState state;
  WbPlotDue       due;       /* against the protocol's window */
  WbCraftInterval full_h;
  double          gap_mm;    /* of diameter, as the axes beside it: what the pool lacks of the vessel at last, or at the burn's end */
  double          burn_h;
  double          in_time;   /* the next candle's chance to be in time, where it typically is but not surely; NAN: nothing to add */
} WbPlotOutcome;

/* Stage as the options ask. */
WbPlotOutcome wb_plot_outcome_of         (const WbPlotContext *context, guint cell);
/* The protocol's window of a cell, h; FALSE where it has none. */
gboolean      wb_plot_outcome_get_window (const WbPlotContext *context, guint cell, double *low, double *high);
/* Length of the protocol's burn, h; 4 where it says none. */
double        wb_plot_outcome_get_burn_h (const WbPlotContext *context);
/* "L-3 reaches the wall in 3.3 h, in time", without a full stop; one sample by what was read on it. Caller frees. */
char         *wb_plot_outcome_dup_clause (const WbPlotLine *line);
/* The same of a cell whose kin in other scents do alike: in 2.3 h to 2.4 h, or so much narrower. Caller frees. */
char         *wb_plot_outcome_dup_range  (const WbPlotContext *context, guint cell, double low, double high);
/* The finding of some lines, WbPlotLine: the first, and the one that differs most tellingly. Caller frees. */
char         *wb_plot_outcome_dup_title  (const GArray *lines);
/* One cell with interval and what it rests on, as a sentence. Caller frees. */
char         *wb_plot_outcome_dup_detail (const WbPlotContext *context, guint cell, const char *name);

G_END_DECLS
