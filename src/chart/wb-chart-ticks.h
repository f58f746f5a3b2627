/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-chart-axis.h"

G_BEGIN_DECLS

/*
 * Round places on an axis: steps of 1, 2 or 5 times a power of ten in the
 * shown unit; on a duration axis 1, 2, 5, 10, 15, 30 min, 1, 2, 3, 4, 6, 12 h,
 * 1, 2, 5, 10 d ...; on a logarithmic one the decades, then 1-2-5, then linear when the range is less than a decade.
 */

typedef struct
{
  double  value; /* stored units */
  char   *text;  /* number in the shown unit, without it; owned by the ticks */
} WbChartTick;

typedef struct
{
  gsize        n;
  WbChartTick *ticks; /* rising */
  gsize        n_minor;
  double      *minor; /* without text, between the ticks of duration and log axes; may be none */
  double       low, high; /* stored: the range, moved outwards where asked */
} WbChartTicks;

/* At most `max` ticks (at least 3 are granted) over low < high, stored units, finite. `round_low`/`round_high` move that end out to
 * the next tick where that is near, else a little beyond. Never NULL. */
WbChartTicks *wb_chart_ticks_new  (const WbChartAxis *axis,
                                   double             low,
                                   double             high,
                                   gboolean           round_low,
                                   gboolean           round_high,
                                   guint              max);
void          wb_chart_ticks_free (WbChartTicks *ticks);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbChartTicks, wb_chart_ticks_free)

G_END_DECLS
