/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-dataset.h"

G_BEGIN_DECLS

/*
 * The series number of a cell, the same in every chart (and beside any list:
 * wb_chart_sample_draw). One wick has one colour; vessel and scent
 * change its marker and dash.
 */
int wb_plot_get_series (const WbDataset *data, guint cell);

G_END_DECLS
