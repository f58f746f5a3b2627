/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-plot-options.h"

G_BEGIN_DECLS

/* Smoke, soot and mushroom as strips in time: a panel each, a row a cell, a field a burn with its worst level. As wb_plot_new. */
WbChart *wb_plot_marks_new (const WbCraftAnswer *answer,
                            const WbPlotOptions *options,
                            GError             **error);

G_END_DECLS
