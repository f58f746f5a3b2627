/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-stops-private.h"

#include <math.h>

gboolean
wb_craft_stops_find_figure (const WbLimit *limit,
                            WbFigure      *figure)
{
  switch (limit->kind)
    {
    case WB_LIMIT_FLAME:
    case WB_LIMIT_FLAME_HOUSE:
      *figure = WB_FIGURE_FLAME;
      return !limit->off && limit->stop_at > 0;
    case WB_LIMIT_VESSEL:
      *figure = WB_FIGURE_VESSEL;
      return !limit->off && limit->stop_at > 0;
    default:
      return FALSE;
    }
}

double
wb_craft_stops_get (const WbDataset *data,
                    WbFigure         figure)
{
  double stop = INFINITY;

  for (guint i = 0; i < data->limits->len; i++)
    {
      const WbLimit *limit = g_ptr_array_index (data->limits, i);
      WbFigure of_limit;

      if (wb_craft_stops_find_figure (limit, &of_limit) && of_limit == figure)
        stop = MIN (stop, limit->stop_at);
    }
  return stop;
}
