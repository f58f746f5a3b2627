/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A chart at a size: owns what was placed, and answers where things are. */
#include "config.h"

#include "wb-chart-layout.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-chart-layout-private.h"

#define MIN_TEXT_SCALE 0.5
#define MAX_TEXT_SCALE 4.0

static gboolean
check_size (double   width,
            double   height,
            double   text_scale,
            GError **error)
{
  /* Written so that NaN fails as well. */
  if (!(width >= WB_CHART_MIN_WIDTH && width <= WB_CHART_MAX_SIZE && height >= WB_CHART_MIN_HEIGHT
        && height <= WB_CHART_MAX_SIZE))
    {
      g_set_error_literal (error, WB_CHART_ERROR, WB_CHART_ERROR_SIZE,
                           _("a chart is 120 to 20000 points wide and 90 to 20000 points high"));
      return FALSE;
    }
  if (!(text_scale >= MIN_TEXT_SCALE && text_scale <= MAX_TEXT_SCALE))
    {
      g_set_error_literal (error, WB_CHART_ERROR, WB_CHART_ERROR_SIZE,
                           _ ("the scale of the text is not between a half and four"));
      return FALSE;
    }

  return TRUE;
}

static void
forget_sizes (WbChartLayout *layout)
{
  for (guint i = 0; i < WB_CHART_N_FONTS; i++)
    g_clear_pointer (&layout->sizes[i], g_hash_table_unref);
}

WbChartLayout *
wb_chart_layout_new_with_fonts (WbChart      *chart,
                                PangoFontMap *fonts,
                                double        width,
                                double        height,
                                double        text_scale,
                                GError      **error)
{
  g_return_val_if_fail (chart != NULL && PANGO_IS_FONT_MAP (fonts), NULL);
  g_return_val_if_fail (error == NULL || *error == NULL, NULL);

  if (!check_size (width, height, text_scale, error))
    return NULL;

  g_autoptr (WbChartLayout) layout = g_new0 (WbChartLayout, 1);
  layout->chart = wb_chart_ref (chart);
  layout->width = width;
  layout->height = height;
  layout->text_scale = text_scale;
  layout->pango = wb_chart_text_create_context (chart, fonts);
  layout->texts = g_array_new (FALSE, FALSE, sizeof (WbChartText));
  g_array_set_clear_func (layout->texts, wb_chart_text_clear);
  layout->frames = g_array_new (FALSE, FALSE, sizeof (WbChartFrame));
  layout->ticks = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_chart_ticks_free);

  if (!wb_chart_arrange (layout, error))
    return NULL;
  for (guint i = 0; i < layout->frames->len; i++)
    wb_chart_label_panel (layout, i);
  forget_sizes (layout);

  return g_steal_pointer (&layout);
}

WbChartLayout *
wb_chart_layout_new (WbChart *chart,
                     double   width,
                     double   height,
                     double   text_scale,
                     GError **error)
{
  return wb_chart_layout_new_with_fonts (chart, pango_cairo_font_map_get_default (), width, height, text_scale, error);
}

void
wb_chart_layout_free (WbChartLayout *layout)
{
  if (layout == NULL)
    return;

  forget_sizes (layout);
  g_array_unref (layout->texts);
  g_array_unref (layout->frames);
  g_ptr_array_unref (layout->ticks);
  g_object_unref (layout->pango);
  wb_chart_unref (layout->chart);
  g_free (layout);
}

WbChart *
wb_chart_layout_get_chart (const WbChartLayout *layout)
{
  g_return_val_if_fail (layout != NULL, NULL);

  return layout->chart;
}

double
wb_chart_layout_get_width (const WbChartLayout *layout)
{
  g_return_val_if_fail (layout != NULL, 0.0);

  return layout->width;
}

double
wb_chart_layout_get_height (const WbChartLayout *layout)
{
  g_return_val_if_fail (layout != NULL, 0.0);

  return layout->height;
}

gsize
wb_chart_layout_get_n_items (const WbChartLayout *layout)
{
  g_return_val_if_fail (layout != NULL, 0);

  return layout->texts->len;
}

const WbChartItem *
wb_chart_layout_get_item (const WbChartLayout *layout,
                          gsize                index)
{
  g_return_val_if_fail (layout != NULL, NULL);
  g_return_val_if_fail (index < layout->texts->len, NULL);

  return &g_array_index (layout->texts, WbChartText, index).item;
}

WbChartRect
wb_chart_layout_get_plot (const WbChartLayout *layout,
                          guint                panel)
{
  g_return_val_if_fail (layout != NULL && panel < layout->frames->len, ((WbChartRect) { 0, 0, 0, 0 }));

  return wb_chart_layout_frame (layout, panel)->plot;
}

gboolean
wb_chart_layout_map (const WbChartLayout *layout,
                     guint                panel,
                     double               value_x,
                     double               value_y,
                     double              *x,
                     double              *y)
{
  g_return_val_if_fail (layout != NULL && panel < layout->frames->len, FALSE);
  g_return_val_if_fail (x != NULL && y != NULL, FALSE);

  const WbChartFrame *frame = wb_chart_layout_frame (layout, panel);
  *x = wb_chart_map_at (&frame->x, value_x);
  *y = wb_chart_map_at (&frame->y, value_y);

  return !isnan (*x) && !isnan (*y) && wb_chart_rect_has (&frame->plot, *x, *y);
}

gboolean
wb_chart_layout_get_value (const WbChartLayout *layout,
                           guint                panel,
                           guint                layer,
                           gsize                index,
                           double              *x,
                           double              *y)
{
  g_return_val_if_fail (layout != NULL && panel < layout->frames->len, FALSE);
  g_return_val_if_fail (x != NULL && y != NULL, FALSE);

  const WbChartFrame *frame = wb_chart_layout_frame (layout, panel);
  if (layer >= frame->panel->layers->len)
    return FALSE;

  const WbChartLayer *one = g_ptr_array_index (frame->panel->layers, layer);

  return index < wb_chart_layer_get_n (one) && wb_chart_value_get_point (frame, one, index, x, y);
}

static double
get_distance (const WbChartFrame *frame,
              const WbChartLayer *layer,
              gsize               index,
              double              x,
              double              y,
              double              at_x,
              double              at_y)
{
  WbChartRect rect;

  if (wb_chart_value_get_rect (frame, layer, index, &rect) && wb_chart_rect_has (&rect, x, y))
    return 0.0;
  if (layer->kind == WB_CHART_LAYER_RINGS)
    {
      double centre_y = wb_chart_map_at (&frame->y, layer->centre_y);

      return fabs (hypot (x - at_x, y - centre_y) - (centre_y - at_y));
    }

  return hypot (x - at_x, y - at_y);
}

static void
find_in_layer (const WbChartFrame *frame,
               const WbChartLayer *layer,
               double              x,
               double              y,
               WbChartHit         *hit,
               guint               panel,
               guint               index)
{
  gsize n = wb_chart_layer_get_n (layer);

  for (gsize i = 0; i < n; i++)
    {
      double at_x, at_y;

      if (!wb_chart_value_get_point (frame, layer, i, &at_x, &at_y))
        continue;

      double distance = get_distance (frame, layer, i, x, y, at_x, at_y);
      if (distance <= hit->distance)
        *hit = (WbChartHit) { panel, index, i, at_x, at_y, distance };
    }
}

gboolean
wb_chart_layout_find (const WbChartLayout *layout,
                      double               x,
                      double               y,
                      double               reach,
                      WbChartHit          *hit)
{
  WbChartHit best = { 0, 0, 0, NAN, NAN, reach };

  g_return_val_if_fail (layout != NULL, FALSE);
  g_return_val_if_fail (hit != NULL, FALSE);

  for (guint panel = 0; panel < layout->frames->len; panel++)
    {
      const WbChartFrame *frame = wb_chart_layout_frame (layout, panel);
      WbChartRect near = { frame->plot.x - reach, frame->plot.y - reach,
                           frame->plot.width + 2.0 * reach, frame->plot.height + 2.0 * reach };

      if (!wb_chart_rect_has (&near, x, y))
        continue;
      for (guint i = 0; i < frame->panel->layers->len; i++)
        find_in_layer (frame, g_ptr_array_index (frame->panel->layers, i), x, y, &best, panel, i);
    }
  if (isnan (best.x))
    return FALSE;

  *hit = best;

  return TRUE;
}

static void
append_part (GString    *line,
             const char *separator,
             const char *part)
{
  if (part == NULL || *part == '\0')
    return;
  if (line->len > 0)
    g_string_append (line, separator);
  g_string_append (line, part);
}

char *
wb_chart_layout_describe (const WbChartLayout *layout,
                          const WbChartHit    *hit)
{
  char               *fields[WB_CHART_N_FIELDS];
  g_autoptr (GString) line = g_string_new (NULL);

  g_return_val_if_fail (layout != NULL && hit != NULL, NULL);
  g_return_val_if_fail (hit->panel < layout->frames->len, NULL);

  const WbChartPanel *panel = wb_chart_layout_frame (layout, hit->panel)->panel;
  g_return_val_if_fail (hit->layer < panel->layers->len, NULL);

  wb_chart_words_get_fields (panel, g_ptr_array_index (panel->layers, hit->layer), hit->index, fields);
  append_part (line, "", fields[WB_CHART_FIELD_NAME]);
  append_part (line, ": ", fields[WB_CHART_FIELD_X]);
  append_part (line, ", ", fields[WB_CHART_FIELD_Y]);
  append_part (line, ", ", fields[WB_CHART_FIELD_VALUE]);
  append_part (line, ", ", fields[WB_CHART_FIELD_LOW]);
  append_part (line,
               fields[WB_CHART_FIELD_LOW] != NULL && *fields[WB_CHART_FIELD_LOW] != '\0' ? " – "
                                                                                         : ", ",
               fields[WB_CHART_FIELD_HIGH]);
  append_part (line, ", ", fields[WB_CHART_FIELD_NOTE]);
  for (guint i = 0; i < WB_CHART_N_FIELDS; i++)
    g_free (fields[i]);

  return g_string_free (g_steal_pointer (&line), FALSE);
}
