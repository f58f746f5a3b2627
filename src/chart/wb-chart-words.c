/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Each value of a layer in words: for the table and for pointing at it. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-chart-layout-private.h"

char *
wb_chart_words_format_cell (const WbChartLayer *layer,
                            double              value,
                            gboolean            with_unit)
{
  WbUnit unit = (WbUnit) layer->unit;
  int decimals = layer->decimals >= 0   ? layer->decimals
                 : unit == WB_UNIT_NONE ? 2
                                        : wb_unit_get_decimals (unit);

  if (!with_unit || unit == WB_UNIT_NONE)
    return wb_number_format (wb_unit_from_stored (unit, value), decimals, NULL);

  return wb_quantity_format (unit, value, decimals);
}

char *
wb_chart_words_format_part (const WbChartAxis *axis,
                            double             value,
                            double             largest)
{
  double size = fabs (wb_chart_axis_to_shown (axis, largest));

  return wb_number_format (wb_chart_axis_to_shown (axis, value),
                           axis->chance || size >= 100.0 ? 0
                           : size >= 10.0                ? 1
                                                         : 2,
                           NULL);
}

static char *
join_name (const char *first,
           const char *second)
{
  if (first == NULL || *first == '\0')
    return g_strdup (second);
  if (second == NULL || *second == '\0')
    return g_strdup (first);

  return g_strconcat (first, ", ", second, NULL);
}

static char *
mark_words (const WbChartLayer *layer,
            gsize               index)
{
  const char *note = wb_chart_layer_get_note (layer, index);

  switch (wb_chart_layer_get_mark (layer, index))
    {
    case WB_CHART_MARK_AT_LEAST:
      return join_name (_("at least"), note);
    case WB_CHART_MARK_ASIDE:
      return join_name (_("not counted"), note);
    case WB_CHART_MARK_PLAIN:
    default:
      return g_strdup (note);
    }
}

static gboolean
cell_fields (const WbChartPanel *panel,
             const WbChartLayer *layer,
             gsize               index,
             char               *fields[WB_CHART_N_FIELDS])
{
  double value = layer->values[index];
  double row = (double) (index / layer->n_columns), column = (double) (index % layer->n_columns);
  guint  flags = layer->cells == NULL ? 0 : layer->cells[index];

  fields[WB_CHART_FIELD_NAME] = g_strdup (layer->name);
  fields[WB_CHART_FIELD_X] = wb_chart_axis_format_value (panel->x, column);
  fields[WB_CHART_FIELD_Y] = wb_chart_axis_format_value (panel->y, row);
  fields[WB_CHART_FIELD_VALUE]
      = isnan (value) ? g_strdup (_ ("missing")) : wb_chart_words_format_cell (layer, value, TRUE);

  g_autofree char *crossed = join_name (flags & WB_CHART_CELL_CROSSED ? _ ("limit crossed") : NULL,
                                        wb_chart_layer_get_note (layer, index));
  g_autofree char *chosen = join_name (flags & WB_CHART_CELL_CHOSEN ? _("chosen") : NULL, crossed);
  fields[WB_CHART_FIELD_NOTE]
      = join_name (flags & WB_CHART_CELL_UNSURE ? _ ("rests on little") : NULL, chosen);

  return TRUE;
}

static gboolean
bar_fields (const WbChartPanel *panel,
            const WbChartLayer *layer,
            gsize               index,
            char               *fields[WB_CHART_N_FIELDS])
{
  if (isnan (layer->values[index]))
    return FALSE;

  fields[WB_CHART_FIELD_NAME] = g_strdup (wb_chart_layer_get_label (layer, index % layer->n_columns));
  fields[WB_CHART_FIELD_Y] = wb_chart_axis_format_value (panel->y, (double) (index / layer->n_columns));
  fields[WB_CHART_FIELD_X] = wb_chart_axis_format_value (panel->x, layer->values[index]);
  fields[WB_CHART_FIELD_NOTE] = g_strdup (wb_chart_layer_get_note (layer, index));

  return TRUE;
}

static gboolean
point_fields (const WbChartPanel *panel,
              const WbChartLayer *layer,
              gsize               index,
              char               *fields[WB_CHART_N_FIELDS])
{
  const WbChartAxis *along
      = layer->kind == WB_CHART_LAYER_BAND || layer->direction == WB_CHART_Y ? panel->y : panel->x;

  if (isnan (layer->x[index]) || (layer->y != NULL && isnan (layer->y[index])))
    return FALSE;

  fields[WB_CHART_FIELD_NAME] = g_strdup (layer->name);
  fields[WB_CHART_FIELD_X] = wb_chart_axis_format_value (panel->x, layer->x[index]);
  if (layer->y != NULL)
    fields[WB_CHART_FIELD_Y] = wb_chart_axis_format_value (panel->y, layer->y[index]);
  if (layer->low != NULL)
    {
      fields[WB_CHART_FIELD_LOW] = wb_chart_axis_format_value (along, layer->low[index]);
      fields[WB_CHART_FIELD_HIGH] = wb_chart_axis_format_value (along, layer->high[index]);
    }
  fields[WB_CHART_FIELD_NOTE] = mark_words (layer, index);

  return TRUE;
}

static gboolean
event_fields (const WbChartPanel *panel,
              const WbChartLayer *layer,
              gsize               index,
              char               *fields[WB_CHART_N_FIELDS])
{
  if (isnan (layer->low[index]))
    return FALSE;

  fields[WB_CHART_FIELD_NAME] = g_strdup (layer->name);
  fields[WB_CHART_FIELD_X] = wb_chart_axis_format_value (panel->x, layer->low[index]);
  fields[WB_CHART_FIELD_Y] = wb_chart_axis_format_value (panel->y, layer->centre_y);
  if (layer->high != NULL && !isnan (layer->high[index]))
    fields[WB_CHART_FIELD_HIGH] = wb_chart_axis_format_value (panel->x, layer->high[index]);
  fields[WB_CHART_FIELD_NOTE]
      = join_name (wb_chart_layer_get_label (layer, index), wb_chart_layer_get_note (layer, index));

  return TRUE;
}

static gboolean
ring_fields (const WbChartPanel *panel,
             const WbChartLayer *layer,
             gsize               index,
             char               *fields[WB_CHART_N_FIELDS])
{
  if (isnan (layer->x[index]))
    return FALSE;

  fields[WB_CHART_FIELD_NAME] = join_name (layer->name, wb_chart_layer_get_label (layer, index));
  fields[WB_CHART_FIELD_VALUE] = wb_chart_axis_format_value (panel->x, layer->x[index]);
  if (layer->low != NULL)
    {
      fields[WB_CHART_FIELD_LOW] = wb_chart_axis_format_value (panel->x, layer->low[index]);
      fields[WB_CHART_FIELD_HIGH] = wb_chart_axis_format_value (panel->x, layer->high[index]);
    }
  fields[WB_CHART_FIELD_NOTE] = mark_words (layer, index);

  return TRUE;
}

static gboolean
strip_fields (const WbChartPanel *panel,
              const WbChartLayer *layer,
              char               *fields[WB_CHART_N_FIELDS])
{
  gboolean           across = layer->direction == WB_CHART_X;
  const WbChartAxis *axis = across ? panel->x : panel->y;

  fields[WB_CHART_FIELD_NAME] = g_strdup (layer->name);
  if (layer->kind == WB_CHART_LAYER_RULE)
    {
      fields[across ? WB_CHART_FIELD_X : WB_CHART_FIELD_Y] = wb_chart_axis_format_value (axis, layer->low[0]);
      return TRUE;
    }

  fields[WB_CHART_FIELD_LOW] = wb_chart_axis_format_value (axis, layer->low[0]);
  fields[WB_CHART_FIELD_HIGH] = wb_chart_axis_format_value (axis, layer->high[0]);

  return TRUE;
}

gboolean
wb_chart_words_get_fields (const WbChartPanel *panel,
                           const WbChartLayer *layer,
                           gsize               index,
                           char               *fields[WB_CHART_N_FIELDS])
{
  for (guint i = 0; i < WB_CHART_N_FIELDS; i++)
    fields[i] = NULL;

  switch (layer->kind)
    {
    case WB_CHART_LAYER_LINE:
    case WB_CHART_LAYER_POINTS:
    case WB_CHART_LAYER_BAND:
      return point_fields (panel, layer, index, fields);
    case WB_CHART_LAYER_BARS:
      return bar_fields (panel, layer, index, fields);
    case WB_CHART_LAYER_HEAT:
      return cell_fields (panel, layer, index, fields);
    case WB_CHART_LAYER_RINGS:
      return ring_fields (panel, layer, index, fields);
    case WB_CHART_LAYER_EVENTS:
      return event_fields (panel, layer, index, fields);
    case WB_CHART_LAYER_RULE:
    case WB_CHART_LAYER_REGION:
      return strip_fields (panel, layer, fields);
    case WB_CHART_LAYER_WALL:
      fields[WB_CHART_FIELD_NAME] = g_strdup (layer->name);
      fields[WB_CHART_FIELD_VALUE] = wb_chart_axis_format_value (panel->x, layer->width);
      return TRUE;
    case WB_CHART_LAYER_TEXT:
    default:
      fields[WB_CHART_FIELD_NOTE] = g_strdup (layer->name);
      return TRUE;
    }
}
