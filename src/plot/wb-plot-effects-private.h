/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-plot-context-private.h"

G_BEGIN_DECLS

/* What an interaction plot shows, and its finding in words. */

typedef struct
{
  const WbPlotContext *context;
  WbFigure             figure;
  GArray              *families; /* guint: a line each */
  GArray              *places;   /* guint: a wick each, across */
  double               never;    /* where combinations that never get there stand, on the axis; NaN: there is none */
} WbPlotEffects;

/* The cell of a family with the wick of that place (of wb_plot_get_wick_place); G_MAXUINT: none. */
guint    wb_plot_effects_find_cell     (const WbPlotEffects *self, guint family, guint place);
/* Whether another series of wicks begins at that column. */
gboolean wb_plot_effects_starts_series (const WbPlotEffects *self, guint at);
/* Whether the pool of that cell never gets to the wall, where that is asked. */
gboolean wb_plot_effects_is_never      (const WbPlotEffects *self, guint cell);

/*
 * What a step of the wick does, what the vessel takes for the same, and whether the lines run alike or cross: in words, without
 * p values, which stand in the footnote. Caller frees.
 */
char    *wb_plot_effects_dup_title     (const WbPlotEffects *self, const WbCraftEffects *found);

G_END_DECLS
