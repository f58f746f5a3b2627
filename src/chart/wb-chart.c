/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The chart and its panels: what is shown, before any size or colour. */
#include "config.h"

#include "wb-chart.h"

#include <math.h>

#include "wb-chart-private.h"

struct _WbChart
{
  gatomicrefcount refs;
  char           *title;
  char           *description;
  char           *footnote;
  char           *font_family;
  WbChartShare    share;
  GPtrArray      *panels;
};

void
wb_chart_panel_free (WbChartPanel *panel)
{
  if (panel == NULL)
    return;

  g_free (panel->title);
  g_free (panel->empty_text);
  wb_chart_axis_free (panel->x);
  wb_chart_axis_free (panel->y);
  g_ptr_array_unref (panel->layers);
  g_free (panel);
}

WbChartPanel *
wb_chart_panel_new (guint       row,
                    guint       column,
                    const char *title)
{
  WbChartPanel *panel = g_new0 (WbChartPanel, 1);

  panel->row = row;
  panel->column = column;
  panel->title = g_strdup (title);
  panel->x = wb_chart_axis_new ();
  panel->y = wb_chart_axis_new ();
  panel->layers = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_chart_layer_free);

  return panel;
}

void
wb_chart_panel_append (WbChartPanel *panel,
                       WbChartLayer *layer)
{
  g_ptr_array_add (panel->layers, layer);
}

gboolean
wb_chart_panel_is_plan (const WbChartPanel *panel)
{
  for (guint i = 0; i < panel->layers->len; i++)
    {
      const WbChartLayer *layer = g_ptr_array_index (panel->layers, i);

      if (layer->kind == WB_CHART_LAYER_WALL || layer->kind == WB_CHART_LAYER_RINGS)
        return TRUE;
    }

  return FALSE;
}

const char *
wb_chart_panel_get_title (const WbChartPanel *panel)
{
  g_return_val_if_fail (panel != NULL, NULL);

  return panel->title;
}

guint
wb_chart_panel_get_row (const WbChartPanel *panel)
{
  g_return_val_if_fail (panel != NULL, 0);

  return panel->row;
}

guint
wb_chart_panel_get_column (const WbChartPanel *panel)
{
  g_return_val_if_fail (panel != NULL, 0);

  return panel->column;
}

WbChartAxis *
wb_chart_panel_get_x (const WbChartPanel *panel)
{
  g_return_val_if_fail (panel != NULL, NULL);

  return panel->x;
}

WbChartAxis *
wb_chart_panel_get_y (const WbChartPanel *panel)
{
  g_return_val_if_fail (panel != NULL, NULL);

  return panel->y;
}

void
wb_chart_panel_set_empty_text (WbChartPanel *panel,
                               const char   *text)
{
  g_return_if_fail (panel != NULL);

  g_free (panel->empty_text);
  panel->empty_text = g_strdup (text);
}

static gboolean
layer_has_value (const WbChartLayer *layer)
{
  switch (layer->kind)
    {
    case WB_CHART_LAYER_LINE:
    case WB_CHART_LAYER_POINTS:
      for (gsize i = 0; i < layer->n; i++)
        if (!isnan (layer->x[i]) && !isnan (layer->y[i]))
          return TRUE;
      return FALSE;

    case WB_CHART_LAYER_BAND:
      for (gsize i = 0; i < layer->n; i++)
        if (!isnan (layer->x[i]) && !isnan (layer->low[i]) && !isnan (layer->high[i]))
          return TRUE;
      return FALSE;

    case WB_CHART_LAYER_BARS:
    case WB_CHART_LAYER_HEAT:
      for (gsize i = 0; i < layer->n_rows * layer->n_columns; i++)
        if (!isnan (layer->values[i]))
          return TRUE;
      return FALSE;

    case WB_CHART_LAYER_RINGS:
      for (gsize i = 0; i < layer->n; i++)
        if (!isnan (layer->x[i]))
          return TRUE;
      return FALSE;

    case WB_CHART_LAYER_EVENTS:
      for (gsize i = 0; i < layer->n; i++)
        if (!isnan (layer->low[i]))
          return TRUE;
      return FALSE;

    case WB_CHART_LAYER_TEXT:
      return TRUE;

    case WB_CHART_LAYER_RULE:
    case WB_CHART_LAYER_REGION:
    case WB_CHART_LAYER_WALL:
    default:
      return FALSE;
    }
}

gboolean
wb_chart_panel_is_empty (const WbChartPanel *panel)
{
  g_return_val_if_fail (panel != NULL, TRUE);

  for (guint i = 0; i < panel->layers->len; i++)
    if (layer_has_value (g_ptr_array_index (panel->layers, i)))
      return FALSE;

  return TRUE;
}

guint
wb_chart_panel_get_n_layers (const WbChartPanel *panel)
{
  g_return_val_if_fail (panel != NULL, 0);

  return panel->layers->len;
}

WbChartLayer *
wb_chart_panel_get_layer (const WbChartPanel *panel,
                          guint               index)
{
  g_return_val_if_fail (panel != NULL, NULL);
  g_return_val_if_fail (index < panel->layers->len, NULL);

  return g_ptr_array_index (panel->layers, index);
}

WbChart *
wb_chart_new (const char *title,
              const char *description)
{
  WbChart *chart = g_new0 (WbChart, 1);

  g_atomic_ref_count_init (&chart->refs);
  chart->title = g_strdup (title);
  chart->description = g_strdup (description);
  chart->share = WB_CHART_SHARE_BOTH;
  chart->panels = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_chart_panel_free);

  return chart;
}

WbChart *
wb_chart_ref (WbChart *chart)
{
  g_return_val_if_fail (chart != NULL, NULL);

  g_atomic_ref_count_inc (&chart->refs);

  return chart;
}

void
wb_chart_unref (WbChart *chart)
{
  if (chart == NULL || !g_atomic_ref_count_dec (&chart->refs))
    return;

  g_free (chart->title);
  g_free (chart->description);
  g_free (chart->footnote);
  g_free (chart->font_family);
  g_ptr_array_unref (chart->panels);
  g_free (chart);
}

const char *
wb_chart_get_title (const WbChart *chart)
{
  g_return_val_if_fail (chart != NULL, NULL);

  return chart->title;
}

const char *
wb_chart_get_description (const WbChart *chart)
{
  g_return_val_if_fail (chart != NULL, NULL);

  return chart->description;
}

void
wb_chart_set_footnote (WbChart    *chart,
                       const char *text)
{
  g_return_if_fail (chart != NULL);

  g_free (chart->footnote);
  chart->footnote = g_strdup (text);
}

const char *
wb_chart_get_footnote (const WbChart *chart)
{
  g_return_val_if_fail (chart != NULL, NULL);

  return chart->footnote;
}

void
wb_chart_set_share (WbChart      *chart,
                    WbChartShare  share)
{
  g_return_if_fail (chart != NULL);

  chart->share = share;
}

WbChartShare
wb_chart_get_share (const WbChart *chart)
{
  g_return_val_if_fail (chart != NULL, WB_CHART_SHARE_NONE);

  return chart->share;
}

void
wb_chart_set_font_family (WbChart    *chart,
                          const char *family)
{
  g_return_if_fail (chart != NULL);

  g_free (chart->font_family);
  chart->font_family = g_strdup (family);
}

const char *
wb_chart_get_font_family (const WbChart *chart)
{
  g_return_val_if_fail (chart != NULL, NULL);

  return chart->font_family;
}

WbChartPanel *
wb_chart_add_panel (WbChart    *chart,
                    guint       row,
                    guint       column,
                    const char *title)
{
  g_return_val_if_fail (chart != NULL, NULL);

  for (guint i = 0; i < chart->panels->len; i++)
    {
      const WbChartPanel *other = g_ptr_array_index (chart->panels, i);

      g_return_val_if_fail (other->row != row || other->column != column, NULL);
    }

  WbChartPanel *panel = wb_chart_panel_new (row, column, title);
  g_ptr_array_add (chart->panels, panel);

  return panel;
}

guint
wb_chart_get_n_panels (const WbChart *chart)
{
  g_return_val_if_fail (chart != NULL, 0);

  return chart->panels->len;
}

WbChartPanel *
wb_chart_get_panel (const WbChart *chart,
                    guint          index)
{
  g_return_val_if_fail (chart != NULL, NULL);
  g_return_val_if_fail (index < chart->panels->len, NULL);

  return g_ptr_array_index (chart->panels, index);
}

guint
wb_chart_get_n_rows (const WbChart *chart)
{
  guint n = 0;

  g_return_val_if_fail (chart != NULL, 0);

  for (guint i = 0; i < chart->panels->len; i++)
    n = MAX (n, wb_chart_panel_get_row (g_ptr_array_index (chart->panels, i)) + 1);

  return n;
}

guint
wb_chart_get_n_columns (const WbChart *chart)
{
  guint n = 0;

  g_return_val_if_fail (chart != NULL, 0);

  for (guint i = 0; i < chart->panels->len; i++)
    n = MAX (n, wb_chart_panel_get_column (g_ptr_array_index (chart->panels, i)) + 1);

  return n;
}
