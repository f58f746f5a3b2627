/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-chart.h"
#include "wb-craft-beside.h"

G_BEGIN_DECLS

/* What a value of a chart stands for: a sample, perhaps one burn of it, or a combination as a whole. */
typedef struct
{
  const WbCraftAnswer *answer; /* borrowed from the picks */
  guint                cell;
  int                  sample; /* index; -1: the combination as a whole */
  gint64               burn;   /* record id; 0: none */
} WbChartTarget;

/*
 * By the value's tag, as plot sets it (wb-plot-beside.h); without one by its layer's series, which must be that of one pick alone.
 * series: of each pick in the chart. FALSE: it stands for none of them.
 */
gboolean wb_chart_target_find     (WbChart *chart, guint panel, guint layer, guint64 index, const WbCraftPick *picks, const int *series, gsize n_picks,
                                   WbChartTarget *target);
/* What choosing it does, for people: "Enter or a click: readings of B4-2, burn 3". Caller frees. */
char    *wb_chart_target_dup_verb (const WbChartTarget *target);

G_END_DECLS
