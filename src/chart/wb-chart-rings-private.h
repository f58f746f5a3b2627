/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-chart-layout-private.h"

G_BEGIN_DECLS

/* Names of rings and wall beside a plan (in a chart of one panel; else on their lines), and its scale bar. */
void wb_chart_rings_label (WbChartLayout *layout, guint panel);

G_END_DECLS
