/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Layers as data: what was handed in, copied. How each is drawn and named stands in the wb-chart-draw-* files. */
#include "config.h"

#include "wb-chart-layer.h"

#include <math.h>
#include <string.h>

#include "wb-chart-private.h"

static double *
copy_doubles (const double *values,
              gsize         n)
{
  return values == NULL ? NULL : g_memdup2 (values, n * sizeof *values);
}

/* NULL texts stay NULL. */
static GPtrArray *
copy_texts (const char *const *texts,
            gsize              n)
{
  if (texts == NULL)
    return NULL;

  GPtrArray *copies = g_ptr_array_new_full ((guint) n, g_free);
  for (gsize i = 0; i < n; i++)
    g_ptr_array_add (copies, g_strdup (texts[i]));

  return copies;
}

static WbChartLayer *
layer_new (WbChartPanel     *panel,
           WbChartLayerKind  kind,
           const char       *name,
           int               series)
{
  WbChartLayer *layer = g_new0 (WbChartLayer, 1);

  layer->kind = kind;
  layer->name = g_strdup (name);
  layer->series = MAX (series, WB_CHART_SERIES_NONE);
  layer->unit = WB_UNIT_NONE;
  wb_chart_panel_append (panel, layer);

  return layer;
}

void
wb_chart_layer_free (WbChartLayer *layer)
{
  g_free (layer->name);
  g_free (layer->x);
  g_free (layer->y);
  g_free (layer->low);
  g_free (layer->high);
  g_free (layer->marks);
  g_clear_pointer (&layer->notes, g_ptr_array_unref);
  g_clear_pointer (&layer->labels, g_ptr_array_unref);
  g_free (layer->values);
  g_free (layer->cells);
  g_free (layer->row_series);
  g_free (layer->tags);
  g_free (layer);
}

WbChartMark
wb_chart_layer_get_mark (const WbChartLayer *layer,
                         gsize               index)
{
  return layer->marks == NULL ? WB_CHART_MARK_PLAIN : (WbChartMark) layer->marks[index];
}

const char *
wb_chart_layer_get_note (const WbChartLayer *layer,
                         gsize               index)
{
  return layer->notes == NULL || index >= layer->notes->len ? NULL : g_ptr_array_index (layer->notes, index);
}

const char *
wb_chart_layer_get_label (const WbChartLayer *layer,
                          gsize               index)
{
  return layer->labels == NULL || index >= layer->labels->len
             ? NULL
             : g_ptr_array_index (layer->labels, index);
}

WbChartLayer *
wb_chart_layer_add_line (WbChartPanel     *panel,
                         const char       *name,
                         int               series,
                         WbChartLineFlags  flags,
                         gsize             n,
                         const double     *x,
                         const double     *y)
{
  g_return_val_if_fail (panel != NULL, NULL);
  g_return_val_if_fail (n == 0 || (x != NULL && y != NULL), NULL);

  WbChartLayer *layer = layer_new (panel, WB_CHART_LAYER_LINE, name, series);
  layer->flags = flags;
  layer->n = n;
  layer->x = copy_doubles (x, n);
  layer->y = copy_doubles (y, n);

  return layer;
}

WbChartLayer *
wb_chart_layer_add_band (WbChartPanel *panel,
                         const char   *name,
                         int           series,
                         gsize         n,
                         const double *x,
                         const double *low,
                         const double *high)
{
  g_return_val_if_fail (panel != NULL, NULL);
  g_return_val_if_fail (n == 0 || (x != NULL && low != NULL && high != NULL), NULL);

  WbChartLayer *layer = layer_new (panel, WB_CHART_LAYER_BAND, name, series);
  layer->n = n;
  layer->x = copy_doubles (x, n);
  layer->low = copy_doubles (low, n);
  layer->high = copy_doubles (high, n);

  return layer;
}

WbChartLayer *
wb_chart_layer_add_points (WbChartPanel     *panel,
                           const char       *name,
                           int               series,
                           gsize             n,
                           const double     *x,
                           const double     *y,
                           WbChartDirection  direction,
                           const double     *low,
                           const double     *high)
{
  g_return_val_if_fail (panel != NULL, NULL);
  g_return_val_if_fail (n == 0 || (x != NULL && y != NULL), NULL);
  g_return_val_if_fail ((low == NULL) == (high == NULL), NULL);

  WbChartLayer *layer = layer_new (panel, WB_CHART_LAYER_POINTS, name, series);
  layer->direction = direction;
  layer->n = n;
  layer->x = copy_doubles (x, n);
  layer->y = copy_doubles (y, n);
  layer->low = copy_doubles (low, n);
  layer->high = copy_doubles (high, n);

  return layer;
}

WbChartLayer *
wb_chart_layer_add_rule (WbChartPanel     *panel,
                         const char       *label,
                         WbChartRule       rule,
                         WbChartDirection  direction,
                         double            value)
{
  g_return_val_if_fail (panel != NULL, NULL);

  WbChartLayer *layer = layer_new (panel, WB_CHART_LAYER_RULE, label, WB_CHART_SERIES_NONE);
  layer->rule = rule;
  layer->direction = direction;
  layer->low = copy_doubles (&value, 1);
  layer->high = copy_doubles (&value, 1);

  return layer;
}

WbChartLayer *
wb_chart_layer_add_region (WbChartPanel     *panel,
                           const char       *label,
                           WbChartRule       rule,
                           WbChartDirection  direction,
                           double            low,
                           double            high)
{
  g_return_val_if_fail (panel != NULL, NULL);

  WbChartLayer *layer = layer_new (panel, WB_CHART_LAYER_REGION, label, WB_CHART_SERIES_NONE);
  layer->rule = rule;
  layer->direction = direction;
  layer->low = copy_doubles (&low, 1);
  layer->high = copy_doubles (&high, 1);

  return layer;
}

WbChartLayer *
wb_chart_layer_add_bars (WbChartPanel      *panel,
                         WbChartParts       parts,
                         gsize              n_rows,
                         gsize              n_parts,
                         const char *const *part_names,
                         const double      *values,
                         const int         *series)
{
  g_return_val_if_fail (panel != NULL, NULL);
  g_return_val_if_fail (n_parts > 0, NULL);
  g_return_val_if_fail (n_rows == 0 || values != NULL, NULL);

  WbChartLayer *layer = layer_new (panel, WB_CHART_LAYER_BARS, NULL, WB_CHART_SERIES_NONE);
  layer->parts = parts;
  layer->n_rows = n_rows;
  layer->n_columns = n_parts;
  layer->labels = copy_texts (part_names, n_parts);
  layer->values = copy_doubles (values, n_rows * n_parts);
  layer->row_series = series == NULL ? NULL : g_memdup2 (series, n_rows * sizeof *series);

  return layer;
}

WbChartLayer *
wb_chart_layer_add_heat (WbChartPanel    *panel,
                         const char      *name,
                         WbChartHeatKind  kind,
                         gsize            n_rows,
                         gsize            n_columns,
                         const double    *values,
                         const guint8    *flags,
                         int              unit,
                         int              decimals,
                         double           middle)
{
  g_return_val_if_fail (panel != NULL, NULL);
  g_return_val_if_fail (n_rows * n_columns == 0 || values != NULL, NULL);
  g_return_val_if_fail (unit >= 0 && unit < WB_N_UNITS, NULL);

  WbChartLayer *layer = layer_new (panel, WB_CHART_LAYER_HEAT, name, WB_CHART_SERIES_NONE);
  layer->heat = kind;
  layer->n_rows = n_rows;
  layer->n_columns = n_columns;
  layer->values = copy_doubles (values, n_rows * n_columns);
  layer->cells = flags == NULL ? NULL : g_memdup2 (flags, n_rows * n_columns);
  layer->unit = unit;
  layer->decimals = decimals;
  layer->middle = middle;
  layer->scale_low = layer->scale_high = NAN;

  return layer;
}

WbChartLayer *
wb_chart_layer_add_wall (WbChartPanel *panel,
                         const char   *label,
                         double        x,
                         double        y,
                         double        width,
                         double        depth)
{
  g_return_val_if_fail (panel != NULL, NULL);

  WbChartLayer *layer = layer_new (panel, WB_CHART_LAYER_WALL, label, WB_CHART_SERIES_NONE);
  layer->centre_x = x;
  layer->centre_y = y;
  layer->width = width;
  layer->depth = depth;

  return layer;
}

void
wb_chart_layer_set_wall_thickness (WbChartLayer *layer,
                                   double        mm)
{
  g_return_if_fail (layer != NULL && layer->kind == WB_CHART_LAYER_WALL);
  g_return_if_fail (mm >= 0.0);

  layer->thickness_mm = mm;
}

WbChartLayer *
wb_chart_layer_add_rings (WbChartPanel      *panel,
                          const char        *name,
                          int                series,
                          double             x,
                          double             y,
                          gsize              n,
                          const double      *diameters,
                          const char *const *labels)
{
  g_return_val_if_fail (panel != NULL, NULL);
  g_return_val_if_fail (n == 0 || diameters != NULL, NULL);

  WbChartLayer *layer = layer_new (panel, WB_CHART_LAYER_RINGS, name, series);
  layer->centre_x = x;
  layer->centre_y = y;
  layer->n = n;
  layer->x = copy_doubles (diameters, n);
  layer->labels = copy_texts (labels, n);

  return layer;
}

void
wb_chart_layer_set_ring_band (WbChartLayer *layer,
                              gsize         n,
                              const double *low,
                              const double *high)
{
  g_return_if_fail (layer != NULL && layer->kind == WB_CHART_LAYER_RINGS);
  g_return_if_fail (n == layer->n && low != NULL && high != NULL);

  g_free (layer->low);
  g_free (layer->high);
  layer->low = copy_doubles (low, n);
  layer->high = copy_doubles (high, n);
}

WbChartLayer *
wb_chart_layer_add_events (WbChartPanel      *panel,
                           const char        *name,
                           int                series,
                           double             row,
                           gsize              n,
                           const double      *starts,
                           const double      *ends,
                           const char *const *labels)
{
  g_return_val_if_fail (panel != NULL, NULL);
  g_return_val_if_fail (n == 0 || starts != NULL, NULL);

  WbChartLayer *layer = layer_new (panel, WB_CHART_LAYER_EVENTS, name, series);
  layer->centre_y = row;
  layer->n = n;
  layer->low = copy_doubles (starts, n);
  layer->high = copy_doubles (ends, n);
  layer->labels = copy_texts (labels, n);

  return layer;
}

WbChartLayer *
wb_chart_layer_add_text (WbChartPanel *panel,
                         double        x,
                         double        y,
                         const char   *text)
{
  g_return_val_if_fail (panel != NULL, NULL);

  WbChartLayer *layer = layer_new (panel, WB_CHART_LAYER_TEXT, text, WB_CHART_SERIES_NONE);
  layer->centre_x = x;
  layer->centre_y = y;

  return layer;
}

WbChartLayer *
wb_chart_layer_add_crossing (WbChartPanel *panel,
                             double        x,
                             double        y,
                             const char   *text)
{
  WbChartLayer *layer = wb_chart_layer_add_text (panel, x, y, text);

  if (layer != NULL)
    layer->ringed = TRUE;
  return layer;
}

void
wb_chart_layer_set_scale (WbChartLayer *layer,
                          double        low,
                          double        high)
{
  g_return_if_fail (layer != NULL && layer->kind == WB_CHART_LAYER_HEAT);

  layer->scale_low = low;
  layer->scale_high = high;
}

void
wb_chart_layer_set_marks (WbChartLayer *layer,
                          gsize         n,
                          const guint8 *marks)
{
  g_return_if_fail (layer != NULL);
  g_return_if_fail (marks == NULL || n == layer->n);

  g_free (layer->marks);
  layer->marks = marks == NULL ? NULL : g_memdup2 (marks, n);
}

void
wb_chart_layer_set_notes (WbChartLayer      *layer,
                          gsize              n,
                          const char *const *notes)
{
  g_return_if_fail (layer != NULL);
  g_return_if_fail (notes == NULL || n == wb_chart_layer_get_n (layer));

  g_clear_pointer (&layer->notes, g_ptr_array_unref);
  layer->notes = copy_texts (notes, n);
}

void
wb_chart_layer_set_tags (WbChartLayer *layer,
                         gsize         n,
                         const gint64 *tags)
{
  g_return_if_fail (layer != NULL);
  g_return_if_fail (tags == NULL || n == wb_chart_layer_get_n (layer));

  g_free (layer->tags);
  layer->tags = tags == NULL ? NULL : g_memdup2 (tags, n * sizeof *tags);
}

gint64
wb_chart_layer_get_tag (const WbChartLayer *layer,
                        gsize               index)
{
  g_return_val_if_fail (layer != NULL, 0);

  return layer->tags == NULL || index >= wb_chart_layer_get_n (layer) ? 0 : layer->tags[index];
}

WbChartLayerKind
wb_chart_layer_get_kind (const WbChartLayer *layer)
{
  g_return_val_if_fail (layer != NULL, WB_CHART_LAYER_TEXT);

  return layer->kind;
}

const char *
wb_chart_layer_get_name (const WbChartLayer *layer)
{
  g_return_val_if_fail (layer != NULL, NULL);

  return layer->name;
}

int
wb_chart_layer_get_series (const WbChartLayer *layer)
{
  g_return_val_if_fail (layer != NULL, WB_CHART_SERIES_NONE);

  return layer->series;
}

gsize
wb_chart_layer_get_n (const WbChartLayer *layer)
{
  g_return_val_if_fail (layer != NULL, 0);

  if (layer->kind == WB_CHART_LAYER_BARS || layer->kind == WB_CHART_LAYER_HEAT)
    return layer->n_rows * layer->n_columns;

  return layer->n;
}
