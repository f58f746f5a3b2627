/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-plot-ladder.h"
#include "wb-plot-words-private.h"

G_BEGIN_DECLS

/* One series: a stretch of the ladder's steps. */
typedef struct
{
  guint  first, n;
  double chance;   /* that the best is on it */
} WbPlotLadderRail;

/* A ladder on its way to a chart. */
typedef struct
{
  const WbCraftLadder *ladder;
  WbPlotLadderPlaces   places;
  WbPlotContext        context;  /* its units alone */
  guint                n_columns;
  GArray              *rails;    /* WbPlotLadderRail, in the ladder's order */
  guint                left_out; /* wicks that no rung shows */
} WbPlotLadder;

const WbCraftLadderStep *wb_plot_ladder_get_step     (const WbCraftLadder *ladder, guint index);
/* What is foretold of the wick there: the whole fill's where the top was not told apart. */
WbCraftForetoldAt        wb_plot_ladder_get_foretold (const WbCraftLadderStep *step, WbCraftFillPlace place);
guint                    wb_plot_ladder_count        (const WbCraftLadder *ladder);

/* ---- vessels (wb-plot-ladder-vessels.c) ---- */

/* The vessels of the ladder's wicks at that place of the fill. Gives the row below. */
guint wb_plot_ladder_add_vessels (const WbPlotLadder *self, WbChart *chart, WbCraftFillPlace place, guint first_row);

/* ---- series (wb-plot-ladder-rails.c) ---- */

/* Fills rails and left_out: the likeliest of many. */
void  wb_plot_ladder_find_rails  (WbPlotLadder *self);
void  wb_plot_ladder_add_rails   (const WbPlotLadder *self, WbChart *chart, guint first_row);

/* ---- words (wb-plot-ladder-words.c); every text belongs to the caller ---- */

/* Without its series where there is but one. */
char *wb_plot_ladder_dup_name        (const WbCraftLadder *ladder, const WbCraftLadderStep *step);
/* What the pool does, without the wick's name. */
char *wb_plot_ladder_dup_result      (const WbPlotLadder *self, const WbCraftForetoldAt *at);
/* "2.3 h to 3.8 h": when the full melt pool is due. */
char *wb_plot_ladder_dup_due         (const WbPlotLadder *self);
char *wb_plot_ladder_dup_title       (const WbPlotLadder *self);
char *wb_plot_ladder_dup_description (const WbPlotLadder *self, const char *title);
char *wb_plot_ladder_dup_footnote    (const WbPlotLadder *self, gboolean invented);

G_END_DECLS
