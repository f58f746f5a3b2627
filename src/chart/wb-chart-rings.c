/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A vessel from above: names of the circles in a column beside it, or on their lines in small multiples; the scale bar below. */
#include "config.h"

#include "wb-chart-rings-private.h"

#include <math.h>

#define LEADER 12.0
/* Where a leader starts on its circle: sine of the angle above the horizontal. */
#define SINE 0.82

typedef struct
{
  guint       layer;
  double      radius_x, radius_y; /* points */
  double      centre_x, centre_y;
  const char *text;
  int         series;
  gboolean    at_least;
  double      place;
} Ring;

static int
compare_rings (gconstpointer a,
               gconstpointer b)
{
  const Ring *first = a, *second = b;

  return first->radius_x < second->radius_x ? 1 : first->radius_x > second->radius_x ? -1 : 0;
}

static void
collect_layer (GArray             *rings,
               const WbChartFrame *frame,
               guint               index)
{
  const WbChartLayer *layer = g_ptr_array_index (frame->panel->layers, index);
  double              scale = fabs (frame->x.scale);
  Ring                ring = { .layer = index, .series = layer->series };

  ring.centre_x = wb_chart_map_at (&frame->x, layer->centre_x);
  ring.centre_y = wb_chart_map_at (&frame->y, layer->centre_y);
  if (layer->kind == WB_CHART_LAYER_WALL && layer->name != NULL && *layer->name != '\0')
    {
      ring.radius_x = layer->width / 2.0 * scale;
      ring.radius_y = layer->depth / 2.0 * scale;
      ring.text = layer->name;
      g_array_append_val (rings, ring);
    }
  for (gsize i = 0; layer->kind == WB_CHART_LAYER_RINGS && i < layer->n; i++)
    {
      ring.text = wb_chart_layer_get_label (layer, i);
      ring.radius_x = ring.radius_y = layer->x[i] / 2.0 * scale;
      ring.at_least = wb_chart_layer_get_mark (layer, i) == WB_CHART_MARK_AT_LEAST;
      if (ring.text != NULL && *ring.text != '\0' && !isnan (ring.radius_x))
        g_array_append_val (rings, ring);
    }
}

/* Takes out every second of the inner names until the rest have room. */
static void
thin_out (GArray *rings,
          guint   most)
{
  while (rings->len > most && rings->len > 1)
    for (guint i = 1; i + 1 < rings->len + (rings->len == 2); i++)
      g_array_remove_index (rings, i);
}

/* Downwards from the top, each at least a pitch below the one before, then up again from the bottom. */
static void
spread (GArray *rings,
        double  pitch,
        double  top,
        double  bottom)
{
  double at = top - pitch;

  for (guint i = 0; i < rings->len; i++)
    {
      Ring *ring = &g_array_index (rings, Ring, i);

      at = ring->place = fmax (ring->place, at + pitch);
    }
  at = bottom + pitch;
  for (guint i = rings->len; i > 0; i--)
    {
      Ring *ring = &g_array_index (rings, Ring, i - 1);

      at = ring->place = fmin (ring->place, at - pitch);
    }
}

static void
label_circles (WbChartLayout *layout,
               guint          panel)
{
  const WbChartFrame *frame = wb_chart_layout_frame (layout, panel);
  g_autoptr (GArray)  rings = g_array_new (FALSE, FALSE, sizeof (Ring));
  double              pitch = wb_chart_text_get_line (layout, WB_CHART_FONT_TICK) * 1.1;
  double              left = wb_chart_map_at (&frame->x, frame->x.high) + LEADER;
  double              top = frame->plot.y + pitch / 2.0;
  double              bottom = frame->plot.y + frame->plot.height - pitch * 2.0;
  double              room = frame->plot.x + frame->plot.width - left;

  for (guint i = 0; i < frame->panel->layers->len; i++)
    collect_layer (rings, frame, i);
  if (rings->len == 0 || bottom - top < pitch || room < pitch * 1.5)
    return;

  g_array_sort (rings, compare_rings);
  thin_out (rings, (guint) ((bottom - top) / pitch) + 1);
  for (guint i = 0; i < rings->len; i++)
    {
      Ring *ring = &g_array_index (rings, Ring, i);

      ring->place = ring->centre_y - ring->radius_y * SINE;
    }
  spread (rings, pitch, top, bottom);
  for (guint i = 0; i < rings->len; i++)
    {
      const Ring  *ring = &g_array_index (rings, Ring, i);
      double sine = ring->radius_y > 0.0
                        ? CLAMP ((ring->centre_y - ring->place) / ring->radius_y, -SINE, SINE)
                        : 0.0;
      PangoLayout *pango = wb_chart_text_create (layout, WB_CHART_FONT_TICK, ring->text, room, 1);
      double       height;

      wb_chart_text_measure (pango, NULL, &height);
      WbChartText *text
          = wb_chart_text_add (layout, WB_CHART_ITEM_VALUE, (int) panel, (int) ring->layer, pango,
                               left, ring->place - height / 2.0);
      text->series = ring->series;
      text->leader = TRUE;
      text->from_x = ring->centre_x + ring->radius_x * sqrt (1.0 - sine * sine);
      text->from_y = ring->centre_y - ring->radius_y * sine;
      text->to_x = left - 2.0;
      text->to_y = ring->place;
    }
}

/* Small multiples have no column: the first circle is named at one o'clock, the second at two ... so that names of hours
 * stand where the hour stands. Circles that lie on each other are named once, by the first. */
static void
label_lines (WbChartLayout *layout,
             guint          panel)
{
  const WbChartFrame *frame = wb_chart_layout_frame (layout, panel);
  g_autoptr (GArray)  rings = g_array_new (FALSE, FALSE, sizeof (Ring));
  double              line = wb_chart_text_get_line (layout, WB_CHART_FONT_SMALL);
  double              last = -1.0;

  for (guint i = 0; i < frame->panel->layers->len; i++)
    if (((const WbChartLayer *) g_ptr_array_index (frame->panel->layers, i))->kind == WB_CHART_LAYER_RINGS)
      collect_layer (rings, frame, i);
  for (guint i = 0; i < rings->len; i++)
    {
      const Ring  *ring = &g_array_index (rings, Ring, i);
      double       angle = G_PI / 2.0 - (i + 1) * G_PI / 6.0, radius = ring->radius_x, width, height;
      PangoLayout *pango = wb_chart_text_create (layout, WB_CHART_FONT_SMALL, ring->text, -1.0, 1);

      wb_chart_text_measure (pango, &width, &height);
      /* On its line; within it where the line lies on the wall. */
      if (ring->at_least)
        radius -= fabs (cos (angle)) * width / 2.0 + fabs (sin (angle)) * height / 2.0 + 2.0;
      WbChartRect rect = { ring->centre_x + radius * cos (angle) - width / 2.0, ring->centre_y - radius * sin (angle) - height / 2.0, width, height };

      rect.x = fmin (rect.x, frame->plot.x + frame->plot.width - width);
      if (fabs (ring->radius_x - last) < 1.0 || ring->radius_x < 2.0 * line || rect.x < frame->plot.x
          || !wb_chart_text_is_free (layout, &rect, 1.0))
        {
          g_object_unref (pango);
          continue;
        }

      WbChartText *text = wb_chart_text_add (layout, WB_CHART_ITEM_VALUE, (int) panel, (int) ring->layer, pango, rect.x, rect.y);
      text->halo = TRUE;
      last = ring->radius_x;
    }
}

/* The longest of 1, 2, 5 times a power of ten that takes at most a third of the width, in the axis' unit. */
static void
label_scale (WbChartLayout *layout,
             guint          panel)
{
  const WbChartFrame *frame = wb_chart_layout_frame (layout, panel);
  const WbChartAxis  *axis = frame->panel->x;
  WbUnit              unit = axis->unit == WB_UNIT_NONE ? WB_UNIT_MM : axis->unit;
  double              most = wb_unit_from_stored (unit, (frame->x.high - frame->x.low) / 3.0);
  double              power = pow (10.0, floor (log10 (most)));
  double              length = power * (most / power >= 5.0 ? 5.0 : most / power >= 2.0 ? 2.0 : 1.0);
  double              width = wb_unit_to_stored (unit, length) * fabs (frame->x.scale);

  g_autofree char *number = wb_number_format_trimmed (length, 3, NULL);
  g_autofree char *label = g_strconcat (number, "\u00a0", wb_unit_get_symbol (unit), NULL);
  PangoLayout     *pango = wb_chart_text_create (layout, WB_CHART_FONT_TICK, label, -1.0, 1);
  gboolean         common = !isnan (layout->scale_y);
  double           own, height, left = frame->plot.x + 4.0, bottom = frame->plot.y + frame->plot.height - 2.0;

  wb_chart_text_measure (pango, &own, &height);
  if (common)
    bottom = layout->scale_y + height;
  if (left + width + 5.0 + own > (common ? layout->width : frame->plot.x + frame->plot.width)
      || (!common && height > frame->plot.height * 0.4))
    {
      g_object_unref (pango);
      return;
    }

  WbChartText *text = wb_chart_text_add (layout, WB_CHART_ITEM_SCALE_LABEL, (int) panel, -1, pango,
                                         left + width + 5.0, bottom - height);
  text->role = WB_CHART_COLOUR_INK_SOFT;
  text->sample = WB_CHART_SAMPLE_BAR;
  text->sample_rect = (WbChartRect) { left, bottom - height, width, height };
}

void
wb_chart_rings_label (WbChartLayout *layout,
                      guint          panel)
{
  if (wb_chart_get_n_panels (layout->chart) == 1)
    label_circles (layout, panel);
  else
    label_lines (layout, panel);
  if (isnan (layout->scale_y) || (panel == 0 && layout->scale_y >= 0.0))
    label_scale (layout, panel);
}
