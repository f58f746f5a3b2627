/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Names at the ends of lines: moved apart up and down, tied to their line by a leader. */
#include "config.h"

#include <math.h>

#include "wb-chart-layout-private.h"

/* From the plot's edge to the marker before a name. */
#define LEADER_WIDTH 12.0
#define MARKER_WIDTH 10.0

typedef struct
{
  guint        layer;
  double       x, y;   /* the line's end, points */
  double       place;  /* middle of the label */
  PangoLayout *pango;
} End;

static gboolean
is_preferred (const WbChartLayer *layer,
              const WbChartLayer *other)
{
  return (layer->flags & (WB_CHART_LINE_JOINED | WB_CHART_LINE_STEPS)) != 0
         && (other->flags & (WB_CHART_LINE_JOINED | WB_CHART_LINE_STEPS)) == 0;
}

static gboolean
has_end (const WbChartLayer *layer)
{
  for (gsize i = 0; i < layer->n; i++)
    if (!isnan (layer->x[i]) && !isnan (layer->y[i]))
      return TRUE;

  return FALSE;
}

GArray *
wb_chart_ends_collect (const WbChartPanel *panel)
{
  GArray *ends = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint i = 0; i < panel->layers->len; i++)
    {
      const WbChartLayer *layer = g_ptr_array_index (panel->layers, i);
      gboolean            known = FALSE;

      if (layer->kind != WB_CHART_LAYER_LINE || (layer->flags & WB_CHART_LINE_THIN) != 0
          || layer->name == NULL || *layer->name == '\0' || !has_end (layer))
        continue;

      for (guint k = 0; k < ends->len && !known; k++)
        {
          guint              *index = &g_array_index (ends, guint, k);
          const WbChartLayer *other = g_ptr_array_index (panel->layers, *index);

          known = other->series == layer->series && g_str_equal (other->name, layer->name);
          if (known && is_preferred (layer, other))
            *index = i;
        }
      if (!known)
        g_array_append_val (ends, i);
    }

  return ends;
}

double
wb_chart_ends_get_width (WbChartLayout      *layout,
                         const WbChartPanel *panel,
                         double              most)
{
  g_autoptr (GArray) ends = wb_chart_ends_collect (panel);
  double             widest = 0.0;

  if (ends->len == 0)
    return 0.0;
  for (guint i = 0; i < ends->len; i++)
    {
      const WbChartLayer *layer = g_ptr_array_index (panel->layers, g_array_index (ends, guint, i));

      widest = fmax (widest, wb_chart_text_get_width (layout, WB_CHART_FONT_LABEL, layer->name));
    }

  return fmin (ceil (widest) + LEADER_WIDTH + MARKER_WIDTH + 1.0, most);
}

/* The rightmost value within the plot's width, its height held within the plot. */
static gboolean
find_end (const WbChartFrame *frame,
          const WbChartLayer *layer,
          double             *x,
          double             *y)
{
  double right = frame->plot.x + frame->plot.width + 0.5;

  *x = -INFINITY;
  for (gsize i = 0; i < layer->n; i++)
    {
      double at_x = wb_chart_map_at (&frame->x, layer->x[i]), at_y = wb_chart_map_at (&frame->y, layer->y[i]);

      if (isnan (at_x) || isnan (at_y) || at_x > right || at_x < *x)
        continue;
      *x = at_x;
      *y = at_y;
    }

  /* A line that lies outside the plot, or that ends in front of it, has no visible end. */
  if (*x < frame->plot.x - 0.5)
    return FALSE;
  *y = CLAMP (*y, frame->plot.y, frame->plot.y + frame->plot.height);

  return TRUE;
}

static int
compare_ends (gconstpointer a,
              gconstpointer b)
{
  const End *first = a, *second = b;

  if (first->y != second->y)
    return first->y < second->y ? -1 : 1;

  return first->layer < second->layer ? -1 : first->layer > second->layer;
}

/*
 * Least squares displacement of sorted labels under a minimum distance: with
 * u_i = y_i - i * pitch the condition is that u rises, which is isotonic
 * regression, solved by pooling adjacent violators (Barlow et al. 1972); the
 * bounds at both ends are a clamp of the pooled levels.
 */
static void
move_apart (GArray *ends,
            double  pitch,
            double  top,
            double  bottom)
{
  g_autofree double *level = g_new (double, ends->len);
  g_autofree guint  *count = g_new (guint, ends->len);
  guint              n = 0;

  for (guint i = 0; i < ends->len; i++)
    {
      level[n] = g_array_index (ends, End, i).y - i * pitch;
      count[n++] = 1;
      while (n > 1 && level[n - 2] > level[n - 1])
        {
          level[n - 2] = (level[n - 2] * count[n - 2] + level[n - 1] * count[n - 1])
                         / (count[n - 2] + count[n - 1]);
          count[n - 2] += count[n - 1];
          n--;
        }
    }

  guint i = 0;
  for (guint block = 0; block < n; block++)
    for (guint k = 0; k < count[block]; k++, i++)
      g_array_index (ends, End, i).place
          = CLAMP (level[block], top, bottom - (ends->len - 1) * pitch) + i * pitch;
}

static void
place_end (WbChartLayout      *layout,
           guint               panel,
           const WbChartFrame *frame,
           const End          *end)
{
  double              left = frame->plot.x + frame->plot.width + LEADER_WIDTH;
  const WbChartLayer *layer = g_ptr_array_index (frame->panel->layers, end->layer);
  double              height;

  wb_chart_text_measure (end->pango, NULL, &height);
  WbChartText *text
      = wb_chart_text_add (layout, WB_CHART_ITEM_LINE_LABEL, (int) panel, (int) end->layer,
                           end->pango, left + MARKER_WIDTH, end->place - height / 2.0);
  text->sample = WB_CHART_SAMPLE_MARKER;
  text->series = layer->series;
  text->sample_rect = (WbChartRect) { left, end->place - height / 2.0, MARKER_WIDTH - 2.0, height };
  text->leader = TRUE;
  text->from_x = end->x;
  text->from_y = end->y;
  text->to_x = left - 1.0;
  text->to_y = end->place;
}

/* Takes the ends' texts away again. */
static void
clear_ends (GArray *ends)
{
  for (guint i = 0; i < ends->len; i++)
    g_clear_object (&g_array_index (ends, End, i).pango);
}

/* FALSE where two different names look the same. */
static gboolean
can_be_told_apart (const WbChartFrame *frame,
                   const GArray       *ends)
{
  g_autoptr (GHashTable) names = g_hash_table_new_full (g_bytes_hash, g_bytes_equal, (GDestroyNotify) g_bytes_unref, NULL);

  for (guint i = 0; i < ends->len; i++)
    {
      const End          *end = &g_array_index (ends, End, i);
      const WbChartLayer *layer = g_ptr_array_index (frame->panel->layers, end->layer);
      GBytes             *seen = wb_chart_text_dup_seen (end->pango);
      const char         *other = g_hash_table_lookup (names, seen);

      if (other != NULL && !g_str_equal (other, layer->name))
        {
          g_bytes_unref (seen);
          return FALSE;
        }
      g_hash_table_insert (names, seen, layer->name);
    }
  return TRUE;
}

/* Names that begin alike are cut where they do not differ; FALSE where that is nowhere. */
static gboolean
cut_apart (const WbChartFrame *frame,
           GArray             *ends)
{
  static const PangoEllipsizeMode cuts[] = { PANGO_ELLIPSIZE_END, PANGO_ELLIPSIZE_MIDDLE, PANGO_ELLIPSIZE_START };

  for (guint k = 0; k < G_N_ELEMENTS (cuts); k++)
    {
      for (guint i = 0; i < ends->len; i++)
        pango_layout_set_ellipsize (g_array_index (ends, End, i).pango, cuts[k]);
      if (can_be_told_apart (frame, ends))
        return TRUE;
    }
  return FALSE;
}

/* The highest name: a letter from another font than the label's stands higher than its line. */
static double
make_texts (WbChartLayout      *layout,
            const WbChartFrame *frame,
            GArray             *ends,
            double              width)
{
  double highest = wb_chart_text_get_line (layout, WB_CHART_FONT_LABEL), height;

  for (guint i = 0; i < ends->len; i++)
    {
      End                *end = &g_array_index (ends, End, i);
      const WbChartLayer *layer = g_ptr_array_index (frame->panel->layers, end->layer);

      end->pango = wb_chart_text_create (layout, WB_CHART_FONT_LABEL, layer->name, width - LEADER_WIDTH - MARKER_WIDTH, 1);
      wb_chart_text_measure (end->pango, NULL, &height);
      highest = fmax (highest, height);
    }

  return highest;
}

gboolean
wb_chart_ends_place (WbChartLayout *layout,
                     guint          panel,
                     double         width)
{
  const WbChartFrame *frame = wb_chart_layout_frame (layout, panel);
  g_autoptr (GArray)  names = wb_chart_ends_collect (frame->panel);
  g_autoptr (GArray)  ends = g_array_new (FALSE, FALSE, sizeof (End));
  double              line = wb_chart_text_get_line (layout, WB_CHART_FONT_LABEL) + 0.5, pitch;

  for (guint i = 0; i < names->len; i++)
    {
      End end = { g_array_index (names, guint, i) };

      if (find_end (frame, g_ptr_array_index (frame->panel->layers, end.layer), &end.x, &end.y))
        g_array_append_val (ends, end);
    }
  if (ends->len == 0)
    return TRUE;
  /* Names cut down to a few letters are better whole in the key. */
  if (width < fmin (wb_chart_ends_get_width (layout, frame->panel, INFINITY), LEADER_WIDTH + MARKER_WIDTH + 5.0 * line) - 0.5)
    return FALSE;
  pitch = make_texts (layout, frame, ends, width) + 0.5;
  if (ends->len * pitch > frame->plot.height || !cut_apart (frame, ends))
    {
      clear_ends (ends);
      return FALSE;
    }

  g_array_sort (ends, compare_ends);
  move_apart (ends, pitch, frame->plot.y + pitch / 2.0, frame->plot.y + frame->plot.height - pitch / 2.0);
  for (guint i = 0; i < ends->len; i++)
    place_end (layout, panel, frame, &g_array_index (ends, End, i));

  return TRUE;
}
