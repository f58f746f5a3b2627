/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-plot-options.h"

G_BEGIN_DECLS

/* Smoke, soot and mushroom as strips in time: a panel each, a row a cell, a field a burn with its worst level. As wb_plot_new. */
WbChart *wb_plot_marks_new (const WbCraftAnswer *answer,
                            const WbPlotOptions *options,
                            GError             **error);

/* The figures that it shows, in their order: smoke, soot, mushroom. */
#define WB_PLOT_MARKS_N_FIGURES 3
extern const WbFigure wb_plot_marks_figures[WB_PLOT_MARKS_N_FIGURES];
/* One of these over the standard burns of a cell that count: "moderate, in 5 of 15 burns", "none in 15 burns"; NULL where it was not read.
   Caller frees. */
char    *wb_plot_marks_dup_course (const WbCraftAnswer *answer,
                                   guint                cell,
                                   WbFigure             figure);

G_END_DECLS
