/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From layers and settings to the range of an axis; refuses what no axis can show. */
#include "config.h"

#include "wb-chart-range-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* More categories than this are a mistake of the caller, not a chart. */
#define MAX_CATEGORIES 100000.0
/* Ticks are rounded outwards: room for that must be left below the largest double. */
#define MAX_SIZE 1e300
/* Narrower than this part of its own size, a range shows only rounding. */
#define MIN_RELATIVE_SPAN 1e-9

typedef struct
{
  double   low, high; /* NaN: nothing yet */
  gboolean logarithmic;
  gboolean infinite;
} Extent;

static void
extend (Extent *extent,
        double  value)
{
  if (isnan (value))
    return;
  if (isinf (value))
    {
      extent->infinite = TRUE;
      return;
    }
  if (extent->logarithmic && value <= 0.0)
    return;

  extent->low = fmin (extent->low, value);
  extent->high = fmax (extent->high, value);
}

static void
extend_all (Extent       *extent,
            const double *values,
            gsize         n)
{
  for (gsize i = 0; values != NULL && i < n; i++)
    extend (extent, values[i]);
}

static void
extend_bars (Extent             *extent,
             const WbChartLayer *layer,
             WbChartDirection    direction)
{
  if (direction == WB_CHART_Y)
    {
      extend (extent, 0.0);
      extend (extent, layer->n_rows == 0 ? 0.0 : (double) layer->n_rows - 1.0);
      return;
    }

  extend (extent, 0.0);
  for (gsize row = 0; row < layer->n_rows; row++)
    {
      double total = 0.0;

      for (gsize part = 0; part < layer->n_columns; part++)
        {
          double value = layer->values[row * layer->n_columns + part];

          total += isnan (value) ? 0.0 : value;
        }
      extend (extent, total);
    }
}

static void
extend_heat (Extent             *extent,
             const WbChartLayer *layer,
             WbChartDirection    direction)
{
  gsize n = direction == WB_CHART_X ? layer->n_columns : layer->n_rows;

  extend (extent, 0.0);
  extend (extent, n == 0 ? 0.0 : (double) n - 1.0);
  for (gsize i = 0; i < layer->n_rows * layer->n_columns; i++)
    if (isinf (layer->values[i]))
      extent->infinite = TRUE;
}

static void
extend_round (Extent             *extent,
              const WbChartLayer *layer,
              WbChartDirection    direction)
{
  double centre = direction == WB_CHART_X ? layer->centre_x : layer->centre_y;

  if (layer->kind == WB_CHART_LAYER_WALL)
    {
      double half = (direction == WB_CHART_X ? layer->width : layer->depth) / 2.0 + fmax (layer->thickness_mm, 0.0);

      extend (extent, centre - half);
      extend (extent, centre + half);
      return;
    }

  for (gsize i = 0; i < layer->n; i++)
    {
      extend (extent, centre - layer->x[i] / 2.0);
      extend (extent, centre + layer->x[i] / 2.0);
      if (layer->high != NULL)
        {
          extend (extent, centre - layer->high[i] / 2.0);
          extend (extent, centre + layer->high[i] / 2.0);
        }
    }
}

static void
extend_layer (Extent             *extent,
              const WbChartLayer *layer,
              WbChartDirection    direction)
{
  gboolean across = direction == WB_CHART_X;

  switch (layer->kind)
    {
    case WB_CHART_LAYER_LINE:
      extend_all (extent, across ? layer->x : layer->y, layer->n);
      break;
    case WB_CHART_LAYER_BAND:
      extend_all (extent, across ? layer->x : layer->low, layer->n);
      extend_all (extent, across ? NULL : layer->high, layer->n);
      break;
    case WB_CHART_LAYER_POINTS:
      extend_all (extent, across ? layer->x : layer->y, layer->n);
      if (layer->direction == direction)
        {
          extend_all (extent, layer->low, layer->n);
          extend_all (extent, layer->high, layer->n);
        }
      break;
    case WB_CHART_LAYER_RULE:
    case WB_CHART_LAYER_REGION:
      if (layer->direction == direction)
        {
          extend (extent, layer->low[0]);
          extend (extent, layer->high[0]);
        }
      break;
    case WB_CHART_LAYER_BARS:
      extend_bars (extent, layer, direction);
      break;
    case WB_CHART_LAYER_HEAT:
      extend_heat (extent, layer, direction);
      break;
    case WB_CHART_LAYER_WALL:
    case WB_CHART_LAYER_RINGS:
      extend_round (extent, layer, direction);
      break;
    case WB_CHART_LAYER_EVENTS:
      extend_all (extent, across ? layer->low : NULL, layer->n);
      extend_all (extent, across ? layer->high : NULL, layer->n);
      if (!across)
        extend (extent, layer->centre_y);
      break;
    case WB_CHART_LAYER_TEXT:
      extend (extent, across ? layer->centre_x : layer->centre_y);
      break;
    default:
      g_assert_not_reached ();
    }
}

static gboolean
refuse (const WbChartPanel  *panel,
        WbChartDirection     direction,
        const char          *what,
        GError             **error)
{
  const char *title = panel->title != NULL ? panel->title : "";
  const char *label = wb_chart_panel_axis (panel, direction)->label;

  g_set_error (error, WB_CHART_ERROR, WB_CHART_ERROR_RANGE, "%s%s%s axis%s%s%s: %s",
               title, *title != '\0' ? ", " : "", direction == WB_CHART_X ? "x" : "y",
               label != NULL ? " (" : "", label != NULL ? label : "", label != NULL ? ")" : "", what);

  return FALSE;
}

/* Somewhere to draw when there is no value at all, and some air around a single one. */
static void
widen (WbChartRange      *range,
       const WbChartAxis *axis)
{
  gboolean duration = axis->scale == WB_CHART_SCALE_DURATION;
  double unit
      = duration ? 3600.0
        : axis->chance
            ? 1.0
            : fabs (wb_chart_axis_from_shown (axis, 1.0) - wb_chart_axis_from_shown (axis, 0.0));

  if (isnan (range->low) && isnan (range->high))
    {
      range->low = axis->scale == WB_CHART_SCALE_LOG ? 1.0 : 0.0;
      range->high = axis->scale == WB_CHART_SCALE_LOG ? 10.0 : unit;
      return;
    }
  if (isnan (range->low))
    range->low = range->high;
  if (isnan (range->high))
    range->high = range->low;

  double size = fmax (fabs (range->low), fabs (range->high));
  if (range->high - range->low > size * MIN_RELATIVE_SPAN)
    return;

  if (size == 0.0)
    {
      range->high = range->round_high ? unit : 0.0;
      range->low = range->round_high ? 0.0 : -unit;
      return;
    }

  double air = axis->scale == WB_CHART_SCALE_LOG ? range->low * 0.5 : size * 0.1;
  if (range->round_low)
    range->low -= air;
  if (range->round_high)
    range->high += axis->scale == WB_CHART_SCALE_LOG ? range->high : air;
}

static gboolean
find_categories (const WbChartAxis   *axis,
                 const Extent        *extent,
                 const WbChartPanel  *panel,
                 WbChartDirection     direction,
                 WbChartRange        *range,
                 GError             **error)
{
  double n = wb_chart_axis_get_n_categories (axis);

  if (n == 0.0)
    n = isnan (extent->high) ? 1.0 : floor (fmax (extent->high, 0.0)) + 1.0;
  if (n > MAX_CATEGORIES)
    return refuse (panel, direction, _("too many categories"), error);

  *range = (WbChartRange) { -0.5, n - 0.5, FALSE, FALSE };

  return TRUE;
}

static gboolean
find_values (const WbChartAxis   *axis,
             const Extent        *extent,
             const WbChartPanel  *panel,
             WbChartDirection     direction,
             WbChartRange        *range,
             GError             **error)
{
  gboolean fixed_low = !isnan (axis->low), fixed_high = !isnan (axis->high);

  if ((fixed_low && isinf (axis->low)) || (fixed_high && isinf (axis->high)))
    return refuse (panel, direction, _("the range is infinite"), error);
  if (axis->scale == WB_CHART_SCALE_LOG
      && ((fixed_low && axis->low <= 0.0) || (fixed_high && axis->high <= 0.0)))
    return refuse (panel, direction, _("a logarithmic range must be above zero"), error);
  if (fixed_low && fixed_high
      && axis->high - axis->low <= MIN_RELATIVE_SPAN * fmax (fabs (axis->low), fabs (axis->high)))
    return refuse (panel, direction, _("the range is empty"), error);

  range->low = fixed_low ? axis->low : extent->low;
  range->high = fixed_high ? axis->high : extent->high;
  range->round_low = !fixed_low;
  range->round_high = !fixed_high;

  /* A fixed end beyond all the data: the free end follows it. */
  if (fixed_low && !fixed_high && range->high < range->low)
    range->high = range->low;
  if (fixed_high && !fixed_low && range->low > range->high)
    range->low = range->high;
  widen (range, axis);

  if (fmax (fabs (range->low), fabs (range->high)) > MAX_SIZE || range->high <= range->low)
    return refuse (panel, direction, _("the range is too wide or too narrow to show"), error);

  return TRUE;
}

gboolean
wb_chart_range_find (const WbChart       *chart,
                     const WbChartPanel  *panel,
                     WbChartDirection     direction,
                     WbChartRange        *range,
                     GError             **error)
{
  const WbChartPanel *first = panel != NULL ? panel : wb_chart_get_panel (chart, 0);
  const WbChartAxis  *axis = wb_chart_panel_axis (first, direction);
  Extent              extent = { NAN, NAN, axis->scale == WB_CHART_SCALE_LOG, FALSE };

  for (guint i = 0; i < wb_chart_get_n_panels (chart); i++)
    {
      const WbChartPanel *member = wb_chart_get_panel (chart, i);

      if (panel != NULL && member != panel)
        continue;

      const WbChartAxis *own = wb_chart_panel_axis (member, direction);
      for (guint k = 0; k < member->layers->len; k++)
        extend_layer (&extent, g_ptr_array_index (member->layers, k), direction);
      extend (&extent, own->include_low);
      extend (&extent, own->include_high);
      if (extent.infinite)
        return refuse (member, direction, _("an infinite value cannot be shown"), error);
    }

  if (axis->scale == WB_CHART_SCALE_CATEGORY)
    return find_categories (axis, &extent, first, direction, range, error);

  return find_values (axis, &extent, first, direction, range, error);
}
