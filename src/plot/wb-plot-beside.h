/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-chart.h"
#include "wb-craft-beside.h"
#include "wb-plot-kind.h"
#include "wb-plot-options.h"

G_BEGIN_DECLS

/*
 * Cells or samples of one experiment or of several in one chart: the same scale, the same order as given, one panel or one
 * line a pick.
 *
 * What can be pointed at says by its tag (wb_chart_layer_get_tag) what it stands for: above 0 it is the record id of the
 * WbBurn of one value; below 0 the negative of the record id of a WbSample, of a value that sums a sample up, or of a WbCell, of one
 * of a combination in a chart of many (no two records of a notebook share an id); 0 a value of the layer's own cell. The layers of one pick have the series number of wb_plot_beside_get_series.
 */

/* growth, rings, life, marks. */
gboolean wb_plot_kind_takes_picks   (WbPlotKind kind);

/*
 * As wb_plot_new. options: units, stage, font, and for a life its figure; its cells, group and sample are the picks' business and
 * are ignored. NULL: automatic, in the units of the first pick's notebook. WB_PLOT_ERROR for a pick that its answer does not have.
 */
WbChart *wb_plot_beside_new         (WbPlotKind kind, const WbCraftPick *picks, gsize n_picks, const WbPlotOptions *options,
                                     GError **error);

/*
 * The look of pick `index`, for swatches beside a list: see wb_chart_sample_draw. Different combinations of one answer look as
 * in every chart of it (wb_plot_get_series); of several answers, or two of one combination, each has the look of its place.
 */
int      wb_plot_beside_get_series  (const WbCraftPick *picks, gsize n_picks, gsize index);

G_END_DECLS
