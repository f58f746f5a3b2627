/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers in cells and bars. Each has one place only. */
#include "config.h"

#include <math.h>

#include "wb-chart-layout-private.h"

/* Above this many cells no number could be read. */
#define MOST_VALUES 4000

static WbChartText *
put_value (WbChartLayout     *layout,
           guint              panel,
           guint              index,
           const WbChartRect *rect,
           const char        *value)
{
  PangoLayout *pango = wb_chart_text_create (layout, WB_CHART_FONT_TICK, value, -1.0, 1);
  double       width, height;

  wb_chart_text_measure (pango, &width, &height);
  WbChartRect place = { rect->x + (rect->width - width) / 2.0,
                        rect->y + (rect->height - height) / 2.0, width, height };
  const WbChartRect *plot = &wb_chart_layout_frame (layout, panel)->plot;
  /* Letters are lower than their line: a hair of the line may reach over the edge of its bar. */
  if (width > rect->width - 3.0 || height > rect->height + 2.0 || !wb_chart_rect_has (plot, place.x, place.y)
      || !wb_chart_rect_has (plot, place.x + width, place.y + height))
    {
      g_object_unref (pango);
      return NULL;
    }

  WbChartText *text = wb_chart_text_add (layout, WB_CHART_ITEM_VALUE, (int) panel, (int) index, pango,
                                         place.x, place.y);
  text->on_fill = TRUE;

  return text;
}

/* All numbers of a heat map or none: a map with some of them reads as if the others were missing. */
static gboolean
cells_fit (WbChartLayout      *layout,
           const WbChartFrame *frame,
           const WbChartLayer *layer)
{
  gsize       n = layer->n_rows * layer->n_columns;
  WbChartRect rect;

  if (n == 0 || n > MOST_VALUES || !wb_chart_value_get_rect (frame, layer, 0, &rect))
    return FALSE;
  if (rect.height < wb_chart_text_get_line (layout, WB_CHART_FONT_TICK))
    return FALSE;
  for (gsize i = 0; i < n; i++)
    {
      if (isnan (layer->values[i]))
        continue;

      g_autofree char *value = wb_chart_words_format_cell (layer, layer->values[i], FALSE);
      if (wb_chart_text_get_width (layout, WB_CHART_FONT_TICK, value) > rect.width - 3.0)
        return FALSE;
    }

  return TRUE;
}

static void
label_missing (WbChartLayout     *layout,
               guint              panel,
               guint              index,
               const WbChartRect *rect,
               const char        *note)
{
  WbChartText *text = note == NULL || *note == '\0' ? NULL : put_value (layout, panel, index, rect, note);

  if (text == NULL)
    return;
  text->on_fill = FALSE;
  text->halo = TRUE;
  text->role = WB_CHART_COLOUR_INK_SOFT;
}

void
wb_chart_label_cells (WbChartLayout *layout,
                      guint          panel,
                      guint          index)
{
  const WbChartFrame *frame = wb_chart_layout_frame (layout, panel);
  const WbChartLayer *layer = g_ptr_array_index (frame->panel->layers, index);

  if (!cells_fit (layout, frame, layer))
    return;
  for (gsize i = 0; i < layer->n_rows * layer->n_columns; i++)
    {
      WbChartRect rect;

      wb_chart_value_get_rect (frame, layer, i, &rect);
      if (isnan (layer->values[i]))
        {
          label_missing (layout, panel, index, &rect, wb_chart_layer_get_note (layer, i));
          continue;
        }

      g_autofree char *value = wb_chart_words_format_cell (layer, layer->values[i], FALSE);
      WbChartText     *text = put_value (layout, panel, index, &rect, value);
      if (text == NULL)
        continue;
      text->around = layer->heat == WB_CHART_HEAT_AROUND;
      text->place = wb_chart_value_get_place (layer, layer->values[i]);
    }
}

void
wb_chart_label_bars (WbChartLayout *layout,
                     guint          panel,
                     guint          index)
{
  const WbChartFrame *frame = wb_chart_layout_frame (layout, panel);
  const WbChartLayer *layer = g_ptr_array_index (frame->panel->layers, index);

  double              low, high;

  wb_chart_value_get_limits (layer, &low, &high);
  for (gsize i = 0; i < layer->n_rows * layer->n_columns && i < MOST_VALUES; i++)
    {
      WbChartRect rect;

      if (!wb_chart_value_get_rect (frame, layer, i, &rect))
        continue;

      g_autofree char *value = wb_chart_words_format_part (frame->panel->x, layer->values[i], high);
      WbChartText     *text = put_value (layout, panel, index, &rect, value);
      if (text == NULL)
        continue;
      text->part = (guint) (i % layer->n_columns);
      text->n_parts = (guint) layer->n_columns;
      text->parts = layer->parts;
      text->series = layer->row_series != NULL ? layer->row_series[i / layer->n_columns]
                                               : WB_CHART_SERIES_NONE;
    }
}
