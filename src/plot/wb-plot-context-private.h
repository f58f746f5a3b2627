/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-plot-options.h"
#include "wb-plot-series-private.h"

G_BEGIN_DECLS

/*
 * What every kind of chart starts from: the answer, the options as resolved,
 * and the families of the grid. A family is the cells that share vessel and
 * scent: those that a maker compares wick by wick.
 */
typedef struct
{
  const WbCraftAnswer *answer;
  const WbDataset     *data;
  WbPlotOptions        options;
  guint                n_cells;
  guint               *family;     /* of each cell, counted from 0 in order of the cells */
  guint                n_families;
} WbPlotContext;

/* FALSE with a WB_PLOT_ERROR where the options name what is not there; `self` then holds nothing. */
gboolean             wb_plot_context_init       (WbPlotContext       *self,
                                                 const WbCraftAnswer *answer,
                                                 const WbPlotOptions *options,
                                                 GError             **error);
void                 wb_plot_context_clear      (WbPlotContext *self);

/* The cell's place in the ranking and, where asked, its group; NULL where it is not ranked. */
const WbCraftRanked *wb_plot_context_get_ranked (const WbPlotContext *self,
                                                 guint                cell,
                                                 const WbCraftGroup **group);
/* Its estimates; NULL where there are none. */
const WbCraftCell   *wb_plot_context_get_cell   (const WbPlotContext *self, guint cell);
/* Its growth at the stage asked for; NULL where there is none. */
const WbCraftGrowth *wb_plot_context_get_growth (const WbPlotContext *self, guint cell);

/* Its score; see wb_plot_interval_clean. */
WbCraftInterval      wb_plot_context_get_score  (const WbPlotContext *self, guint cell);

/* What no axis and no sentence could carry (infinite, absurdly large) becomes NAN. */
WbCraftInterval      wb_plot_interval_clean     (WbCraftInterval interval);

/* Whether the chart may show that cell at all: chosen by the options, or in their group, or no choice was made. */
gboolean             wb_plot_context_shows      (const WbPlotContext *self, guint cell);
/* Families with a cell to show, the one with the best score first; at most `most`. guint, caller frees. */
GArray              *wb_plot_context_pick_families (const WbPlotContext *self, guint most);
/* Cells to show of a family (G_MAXUINT: of all), best first; at most `most`. guint, caller frees. */
GArray              *wb_plot_context_pick_cells (const WbPlotContext *self, guint family, guint most);
/* The same cells in the grid's order, so that wicks stand by size. */
void                 wb_plot_cells_sort         (GArray *cells);
/* Whether the chart may show cells of more than one family. */
gboolean             wb_plot_context_has_several (const WbPlotContext *self);
guint                wb_plot_context_count_shown (const WbPlotContext *self, guint family);

/* Whether a sample's figures enter the estimates and the options let it be seen. */
gboolean             wb_plot_context_sample_counts (const WbPlotContext *self, guint sample);
/* Whether a burn is one that figures of its kind are compared by: a standard one, of such a sample, at the stage asked for. */
gboolean             wb_plot_context_burn_counts (const WbPlotContext *self, const WbCraftBurn *burn);

/* Whether the cells are of more than one vessel and scent. */
gboolean             wb_plot_context_mixes      (const WbPlotContext *self, const GArray *cells);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (WbPlotContext, wb_plot_context_clear)

G_END_DECLS
