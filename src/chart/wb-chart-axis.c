/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a person set on an axis, and how it says a value. Its range and ticks are found by the layout. */
#include "config.h"

#include "wb-chart-axis.h"

#include <math.h>
#include <string.h>

#include "wb-chart-private.h"

WbChartAxis *
wb_chart_axis_new (void)
{
  WbChartAxis *axis = g_new0 (WbChartAxis, 1);

  axis->unit = WB_UNIT_NONE;
  axis->low = axis->high = NAN;
  axis->include_low = axis->include_high = NAN;

  return axis;
}

void
wb_chart_axis_free (WbChartAxis *axis)
{
  g_free (axis->label);
  g_clear_pointer (&axis->categories, g_ptr_array_unref);
  g_free (axis);
}

gboolean
wb_chart_axis_has_grid (const WbChartAxis *axis)
{
  return axis->grid_set ? axis->grid : axis->scale != WB_CHART_SCALE_CATEGORY;
}

WbUnit
wb_chart_axis_get_shown_unit (const WbChartAxis *axis)
{
  if (axis->chance)
    return WB_UNIT_PERCENT;
  if (axis->scale == WB_CHART_SCALE_DURATION && axis->unit == WB_UNIT_NONE)
    return WB_UNIT_HOUR;

  return axis->unit;
}

double
wb_chart_axis_to_shown (const WbChartAxis *axis,
                        double             stored)
{
  if (axis->chance)
    return stored * 100.0;

  return wb_unit_from_stored (wb_chart_axis_get_shown_unit (axis), stored);
}

double
wb_chart_axis_from_shown (const WbChartAxis *axis,
                          double             shown)
{
  if (axis->chance)
    return shown / 100.0;

  return wb_unit_to_stored (wb_chart_axis_get_shown_unit (axis), shown);
}

void
wb_chart_axis_set_scale (WbChartAxis  *axis,
                         WbChartScale  scale)
{
  g_return_if_fail (axis != NULL);

  axis->scale = scale;
}

WbChartScale
wb_chart_axis_get_scale (const WbChartAxis *axis)
{
  g_return_val_if_fail (axis != NULL, WB_CHART_SCALE_LINEAR);

  return axis->scale;
}

void
wb_chart_axis_set_label (WbChartAxis *axis,
                         const char  *label)
{
  g_return_if_fail (axis != NULL);

  g_free (axis->label);
  axis->label = g_strdup (label);
}

const char *
wb_chart_axis_get_label (const WbChartAxis *axis)
{
  g_return_val_if_fail (axis != NULL, NULL);

  return axis->label;
}

void
wb_chart_axis_set_unit (WbChartAxis *axis,
                        WbUnit       unit)
{
  g_return_if_fail (axis != NULL);

  axis->unit = unit;
}

WbUnit
wb_chart_axis_get_unit (const WbChartAxis *axis)
{
  g_return_val_if_fail (axis != NULL, WB_UNIT_NONE);

  return axis->unit;
}

void
wb_chart_axis_set_chance (WbChartAxis *axis,
                          gboolean     chance)
{
  g_return_if_fail (axis != NULL);

  axis->chance = chance;
}

gboolean
wb_chart_axis_get_chance (const WbChartAxis *axis)
{
  g_return_val_if_fail (axis != NULL, FALSE);

  return axis->chance;
}

void
wb_chart_axis_set_range (WbChartAxis *axis,
                         double       low,
                         double       high)
{
  g_return_if_fail (axis != NULL);

  axis->low = low;
  axis->high = high;
}

void
wb_chart_axis_include (WbChartAxis *axis,
                       double       value)
{
  g_return_if_fail (axis != NULL);

  if (isnan (value))
    return;
  axis->include_low = fmin (axis->include_low, value);
  axis->include_high = fmax (axis->include_high, value);
}

void
wb_chart_axis_set_categories (WbChartAxis       *axis,
                              const char *const *names)
{
  g_return_if_fail (axis != NULL);

  g_clear_pointer (&axis->categories, g_ptr_array_unref);
  axis->scale = WB_CHART_SCALE_CATEGORY;
  if (names == NULL)
    return;

  axis->categories = g_ptr_array_new_with_free_func (g_free);
  for (gsize i = 0; names[i] != NULL; i++)
    g_ptr_array_add (axis->categories, g_strdup (names[i]));
}

guint
wb_chart_axis_get_n_categories (const WbChartAxis *axis)
{
  g_return_val_if_fail (axis != NULL, 0);

  return axis->categories == NULL ? 0 : axis->categories->len;
}

const char *
wb_chart_axis_get_category (const WbChartAxis *axis,
                            guint              index)
{
  g_return_val_if_fail (axis != NULL, NULL);

  return index < wb_chart_axis_get_n_categories (axis) ? g_ptr_array_index (axis->categories, index) : NULL;
}

void
wb_chart_axis_set_grid (WbChartAxis *axis,
                        gboolean     grid)
{
  g_return_if_fail (axis != NULL);

  axis->grid = grid;
  axis->grid_set = TRUE;
}

/* A number without a unit of its own: three significant places, more where the whole part has more. */
static char *
format_plain (double value)
{
  double size = fabs (value);
  int    decimals = size == 0.0 ? 0 : CLAMP (2 - (int) floor (log10 (size)), 0, 9);

  return wb_number_format_trimmed (value, decimals, NULL);
}

char *
wb_chart_axis_format_value (const WbChartAxis *axis,
                            double             value)
{
  g_return_val_if_fail (axis != NULL, NULL);

  if (!isfinite (value))
    return g_strdup ("");

  if (axis->scale == WB_CHART_SCALE_CATEGORY)
    {
      double      place = floor (value + 0.5);
      const char *name
          = place >= 0.0 && place < 1e6 ? wb_chart_axis_get_category (axis, (guint) place) : NULL;

      return name != NULL ? g_strdup (name) : format_plain (value);
    }

  WbUnit unit = wb_chart_axis_get_shown_unit (axis);
  if (unit == WB_UNIT_NONE)
    return format_plain (value);
  if (axis->chance)
    {
      g_autofree char *number = format_plain (value * 100.0);
      return g_strconcat (number, "\u00a0%", NULL);
    }
  if (axis->scale == WB_CHART_SCALE_DURATION)
    {
      g_autofree char *number = wb_number_format_trimmed (wb_unit_from_stored (unit, value), 2, NULL);
      return g_strconcat (number, "\u00a0", wb_unit_get_symbol (unit), NULL);
    }

  return wb_quantity_format (unit, value, -1);
}

char *
wb_chart_axis_dup_heading (const WbChartAxis *axis)
{
  g_return_val_if_fail (axis != NULL, NULL);

  const char *label = axis->label != NULL ? axis->label : "";
  const char *symbol = axis->scale == WB_CHART_SCALE_CATEGORY
                           ? ""
                           : wb_unit_get_symbol (wb_chart_axis_get_shown_unit (axis));

  if (symbol == NULL || *symbol == '\0')
    return g_strdup (label);

  return *label == '\0' ? g_strdup (symbol) : g_strconcat (label, ", ", symbol, NULL);
}
