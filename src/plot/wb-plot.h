/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-plot-kind.h"
#include "wb-plot-options.h"
#include "wb-plot-series.h"

G_BEGIN_DECLS

/*
 * The kinds of chart. Each takes an answer and gives a WbChart whose title is
 * the finding in a maker's words, whose description says how sure that is and
 * on how much it rests, and whose table has every value drawn. What cannot be
 * drawn is said in a panel's words: no answer is too empty for a chart.
 * Values of growth, grid, rings, life and marks carry the tags that
 * wb-plot-beside.h tells of: by them a value is found again as a burn or a sample.
 */

/*
 * A new chart with one reference; NULL only for options that name what is not
 * there (WB_PLOT_ERROR). `options` NULL: automatic, in the notebook's units.
 * The answer is read while this runs and not kept.
 */
WbChart           *wb_plot_new             (WbPlotKind           kind,
                                            const WbCraftAnswer *answer,
                                            const WbPlotOptions *options,
                                            GError             **error);

/* A height in points at which that chart reads well when it is `width` points wide: for files and pages that are free to choose. */
double             wb_plot_get_height      (WbPlotKind     kind,
                                            const WbChart *chart,
                                            double         width);
/* The same on a page, whose letters are smaller (text scale 0.9): as low as it can be read in print, points. */
double             wb_plot_get_page_height (WbPlotKind     kind,
                                            const WbChart *chart,
                                            double         width);
/* As low, in px on a screen, as its panels and the names of their limits are still told apart: a page scrolls before. NULL: of none
 * yet. large: letters are so large that the page is one column and scrolls anyway. */
int                wb_plot_get_least_height (const WbChart *chart,
                                             gboolean       large);

G_END_DECLS
