/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-plot-series.h"

G_BEGIN_DECLS

/* Place of a cell's wick among the experiment's, smallest first by series and step; `n`: how many there are. */
guint    wb_plot_get_wick_place (const WbDataset *data, guint cell, guint *n);
/* Whether two cells are alike in vessel and scent. */
gboolean wb_plot_same_family    (const WbDataset *data, guint a, guint b);
/* Numbers the families in order of the cells, one number a cell into `family`; gives how many there are. */
guint    wb_plot_find_families  (const WbDataset *data, guint *family);

/* What a value of a whole combination stands for (tag of wb-plot-beside.h). */
gint64 wb_plot_get_cell_tag (const WbDataset *data, guint cell);

G_END_DECLS
