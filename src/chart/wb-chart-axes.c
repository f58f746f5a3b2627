/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tick labels: how many an axis carries, the room they take, and where they stand. */
#include "config.h"

#include "wb-chart-axes-private.h"

#include <math.h>

/* Between neighbouring labels of an x axis. */
#define LABEL_AIR 5.0
/* The same where names of categories would be left out otherwise. */
#define LEAST_AIR 3.0
/* Size of a tick's label, and how small it may become, in points and of itself. */
#define TICK_PT 8.0
#define SMALLEST_PT 6.5
#define SMALLEST_PART 0.5
#define CATEGORY_LINES 3
#define MOST_TICKS 11.0

static double
tick_line (WbChartLayout *layout)
{
  return wb_chart_text_get_line (layout, WB_CHART_FONT_TICK);
}

static gboolean
labels_fit (WbChartLayout      *layout,
            const WbChartAxis  *axis,
            const WbChartTicks *ticks,
            double              length)
{
  WbChartMap map = wb_chart_map (ticks->low, ticks->high, 0.0, length, axis->scale == WB_CHART_SCALE_LOG);
  double     end = -INFINITY;

  for (gsize i = 0; i < ticks->n; i++)
    {
      double half = wb_chart_text_get_width (layout, WB_CHART_FONT_TICK, ticks->ticks[i].text) / 2.0;
      double at = wb_chart_map_at (&map, ticks->ticks[i].value);

      if (at - half < end)
        return FALSE;
      end = at + half + 2.0 * LABEL_AIR;
    }

  return TRUE;
}

const WbChartTicks *
wb_chart_axes_find_ticks (WbChartLayout      *layout,
                          const WbChartAxis  *axis,
                          const WbChartRange *range,
                          WbChartDirection    direction,
                          double              length)
{
  double        line = tick_line (layout);
  double        least = direction == WB_CHART_Y && length > 5.0 * line ? 4.0 : 3.0;
  guint max
      = (guint) CLAMP (length / (line * (direction == WB_CHART_Y ? 2.2 : 3.4)), least, MOST_TICKS);
  WbChartTicks *ticks = wb_chart_ticks_new (axis, range->low, range->high, range->round_low,
                                            range->round_high, max);

  while (direction == WB_CHART_X && axis->scale != WB_CHART_SCALE_CATEGORY && max > 3
         && !labels_fit (layout, axis, ticks, length))
    {
      wb_chart_ticks_free (ticks);
      ticks = wb_chart_ticks_new (axis, range->low, range->high, range->round_low, range->round_high, --max);
    }
  g_ptr_array_add (layout->ticks, ticks);

  return ticks;
}

static double
category_step (const WbChartTicks *ticks,
               double              length)
{
  return length / (ticks->high - ticks->low);
}

/* How small the names of categories may become before some are left out; less could not be read. */
static double
get_least (WbChartLayout *layout)
{
  return CLAMP (SMALLEST_PT / (TICK_PT * layout->text_scale), SMALLEST_PART, 1.0);
}

static PangoLayout *
create_sized (WbChartLayout *layout,
              const char    *name,
              double         factor,
              double         width,
              int            lines)
{
  PangoLayout *pango = wb_chart_text_create (layout, WB_CHART_FONT_TICK, name, width, lines);

  if (factor < 1.0)
    wb_chart_text_shrink (pango, factor);

  return pango;
}

/* Whether each name stands whole, broken between words alone, under its own category. */
static gboolean
all_stand_whole (WbChartLayout      *layout,
                 const WbChartTicks *ticks,
                 double              factor,
                 double              width)
{
  for (gsize i = 0; i < ticks->n; i++)
    {
      g_autoptr (PangoLayout) pango = create_sized (layout, ticks->ticks[i].text, factor, width, CATEGORY_LINES);
      double                  own;

      if (pango_layout_is_ellipsized (pango))
        return FALSE;
      pango_layout_set_wrap (pango, PANGO_WRAP_WORD);
      pango_layout_set_ellipsize (pango, PANGO_ELLIPSIZE_NONE);
      wb_chart_text_measure (pango, &own, NULL);
      if (own > width + 0.5 || pango_layout_get_line_count (pango) > CATEGORY_LINES)
        return FALSE;
    }

  return TRUE;
}

/* The size of the names below an axis, of a tick's, at which all stand whole; 0: there is none. */
static double
find_size_below (WbChartLayout      *layout,
                 const WbChartTicks *ticks,
                 double              length)
{
  double width = category_step (ticks, length) - LEAST_AIR, least = get_least (layout);

  if (width < least * tick_line (layout) * 0.5)
    return 0.0;
  for (double factor = 1.0; factor >= least - 0.001; factor -= 0.1)
    if (all_stand_whole (layout, ticks, factor, width))
      return factor;

  return 0.0;
}

/* The size of the names left of an axis at which none is left out and, of one line each, none is cut, as far as that goes. */
static double
find_size_left (WbChartLayout      *layout,
                const WbChartTicks *ticks,
                double              length,
                double              most)
{
  double line = tick_line (layout), step = category_step (ticks, length), widest = 0.0, factor, least = get_least (layout);

  for (gsize i = 0; i < ticks->n; i++)
    widest = fmax (widest, wb_chart_text_get_width (layout, WB_CHART_FONT_TICK, ticks->ticks[i].text));
  factor = fmin (1.0, step / (line * 1.06));
  if (factor < least)
    return least;
  if (step <= 2.2 * line && widest > most)
    factor = fmin (factor, fmax (0.995 * most / widest, least));

  return factor;
}

/* How the names below an axis stand: found once for all of them. */
typedef struct
{
  guint  stride;  /* every how manyeth is named */
  double factor;  /* of a tick's size */
  double width;   /* of each */
} Below;

/* Where not all can be named, so many that a label has room for a few letters, as wide as the categories that it stands for. */
static Below
plan_below (WbChartLayout      *layout,
            const WbChartTicks *ticks,
            double              length)
{
  double step = category_step (ticks, length), least = tick_line (layout) * 2.2, whole = find_size_below (layout, ticks, length);
  guint  stride = step >= least ? 1 : (guint) ceil (least / fmax (step, 0.01));

  if (whole > 0.0)
    return (Below) { 1, whole, step - LEAST_AIR };
  return (Below) { stride, 1.0, step * stride - LABEL_AIR };
}

static PangoLayout *
create_category (WbChartLayout      *layout,
                 const WbChartTicks *ticks,
                 gsize               index,
                 const Below        *below)
{
  PangoLayout *pango = create_sized (layout, ticks->ticks[index].text, below->factor, below->width, CATEGORY_LINES);

  pango_layout_set_alignment (pango, PANGO_ALIGN_CENTER);

  return pango;
}

double
wb_chart_axes_get_drop (WbChartLayout *layout)
{
  /* The lowest label of the y axis reaches half a line below the plot; those of the x axis start under it. */
  return tick_line (layout) * 0.5 + 2.0;
}

double
wb_chart_axes_get_height (WbChartLayout      *layout,
                          const WbChartAxis  *axis,
                          const WbChartTicks *ticks,
                          double              length)
{
  double tallest = tick_line (layout);

  if (axis->scale != WB_CHART_SCALE_CATEGORY)
    return tallest;
  if (ticks->n == 0)
    return 0.0;

  Below below = plan_below (layout, ticks, length);
  for (gsize i = below.stride / 2; i < ticks->n; i += below.stride)
    {
      g_autoptr (PangoLayout) pango = create_category (layout, ticks, i, &below);
      double                  height;

      wb_chart_text_measure (pango, NULL, &height);
      tallest = fmax (tallest, height);
    }

  return tallest;
}

double
wb_chart_axes_get_width (WbChartLayout      *layout,
                         const WbChartAxis  *axis,
                         const WbChartTicks *ticks,
                         double              length,
                         double              most)
{
  double widest = 0.0;

  for (gsize i = 0; i < ticks->n; i++)
    widest = fmax (widest, wb_chart_text_get_width (layout, WB_CHART_FONT_TICK, ticks->ticks[i].text));
  if (axis->scale == WB_CHART_SCALE_CATEGORY)
    widest *= find_size_left (layout, ticks, length, most);

  return fmin (ceil (widest), most);
}

double
wb_chart_axes_get_overhang (WbChartLayout      *layout,
                            const WbChartAxis  *axis,
                            const WbChartTicks *ticks)
{
  double widest = 0.0;

  if (axis->scale == WB_CHART_SCALE_CATEGORY)
    return 0.0;
  for (gsize i = 0; i < ticks->n; i++)
    widest = fmax (widest, wb_chart_text_get_width (layout, WB_CHART_FONT_TICK, ticks->ticks[i].text));

  return ceil (widest / 2.0) + 1.0;
}

static void
place_categories (WbChartLayout      *layout,
                  guint               panel,
                  const WbChartFrame *frame,
                  double              top)
{
  const WbChartTicks *ticks = frame->x_ticks;
  Below               below = plan_below (layout, ticks, frame->plot.width);

  /* Of every few categories the middle one is named. */
  for (gsize i = below.stride / 2; i < ticks->n; i += below.stride)
    {
      PangoLayout *pango = create_category (layout, ticks, i, &below);
      double       width, left;

      wb_chart_text_measure (pango, &width, NULL);
      left = wb_chart_map_at (&frame->x, ticks->ticks[i].value) - width / 2.0;
      if (left < frame->plot.x - LABEL_AIR || left + width > frame->plot.x + frame->plot.width + LABEL_AIR)
        {
          g_object_unref (pango);
          break;
        }
      WbChartText *text = wb_chart_text_add (layout, WB_CHART_ITEM_TICK_LABEL, (int) panel, -1, pango, left, top);
      text->role = WB_CHART_COLOUR_INK_SOFT;
    }
}

typedef struct
{
  PangoLayout *pango;
  double       left, width;
} Label;

static void
label_clear (gpointer data)
{
  Label *label = data;

  g_clear_object (&label->pango);
}

static gboolean
every_nth_fits (const GArray *labels,
                guint         stride)
{
  double end = -INFINITY;

  for (guint i = 0; i < labels->len; i += stride)
    {
      const Label *label = &g_array_index (labels, Label, i);

      if (label->left < end)
        return FALSE;
      end = label->left + label->width + LABEL_AIR;
    }

  return TRUE;
}

void
wb_chart_axes_place_x (WbChartLayout *layout,
                       guint          panel,
                       double         left,
                       double         right)
{
  const WbChartFrame *frame = wb_chart_layout_frame (layout, panel);
  const WbChartTicks *ticks = frame->x_ticks;
  double              top = frame->plot.y + frame->plot.height + wb_chart_axes_get_drop (layout);
  g_autoptr (GArray)  labels = g_array_new (FALSE, FALSE, sizeof (Label));
  guint               stride = 1;

  if (frame->panel->x->scale == WB_CHART_SCALE_CATEGORY)
    {
      place_categories (layout, panel, frame, top);
      return;
    }

  g_array_set_clear_func (labels, label_clear);
  for (gsize i = 0; i < ticks->n; i++)
    {
      Label label
          = { wb_chart_text_create (layout, WB_CHART_FONT_TICK, ticks->ticks[i].text, -1.0, 1), 0.0,
              0.0 };

      wb_chart_text_measure (label.pango, &label.width, NULL);
      label.left = wb_chart_map_at (&frame->x, ticks->ticks[i].value) - label.width / 2.0;
      label.left = fmax (fmin (label.left, right - label.width), left);
      if (label.width <= right - left)
        g_array_append_val (labels, label);
      else
        g_object_unref (label.pango);
    }

  while (!every_nth_fits (labels, stride))
    stride++;
  for (guint i = 0; i < labels->len; i += stride)
    {
      Label *label = &g_array_index (labels, Label, i);

      WbChartText *text = wb_chart_text_add (layout, WB_CHART_ITEM_TICK_LABEL, (int) panel, -1,
                                             g_steal_pointer (&label->pango), label->left, top);
      text->role = WB_CHART_COLOUR_INK_SOFT;
    }
}

double
wb_chart_axes_get_row_size (WbChartLayout      *layout,
                            const WbChartFrame *frame)
{
  if (frame->panel->y->scale != WB_CHART_SCALE_CATEGORY || frame->y_ticks->n == 0)
    return 1.0;

  return find_size_left (layout, frame->y_ticks, frame->plot.height, INFINITY);
}

void
wb_chart_axes_place_y (WbChartLayout *layout,
                       guint          panel,
                       double         left)
{
  const WbChartFrame *frame = wb_chart_layout_frame (layout, panel);
  const WbChartTicks *ticks = frame->y_ticks;
  gboolean            categories = frame->panel->y->scale == WB_CHART_SCALE_CATEGORY;
  double              right = frame->plot.x - WB_CHART_AXES_GAP, line = tick_line (layout);
  double              step = categories ? category_step (ticks, frame->plot.height) : 0.0;
  double              factor = categories ? find_size_left (layout, ticks, frame->plot.height, right - left) : 1.0;
  double              last = NAN;

  line *= factor;
  if (right - left < line * 0.4)
    return;
  for (gsize i = 0; i < ticks->n; i++)
    {
      double at = wb_chart_map_at (&frame->y, ticks->ticks[i].value), width, height;

      /* Walking away from the first label, those too near to the last one placed are left out. */
      if (!isnan (last) && fabs (at - last) < line * 1.05)
        continue;
      if (at < frame->plot.y - 0.5 || at > frame->plot.y + frame->plot.height + 0.5)
        continue;

      PangoLayout *pango = create_sized (layout, ticks->ticks[i].text, factor, right - left, step > 2.2 * line ? 2 : 1);
      pango_layout_set_alignment (pango, PANGO_ALIGN_RIGHT);
      wb_chart_text_measure (pango, &width, &height);
      WbChartText *text = wb_chart_text_add (layout, WB_CHART_ITEM_TICK_LABEL, (int) panel, -1, pango,
                                             right - width, at - height / 2.0);
      text->role = categories ? WB_CHART_COLOUR_INK : WB_CHART_COLOUR_INK_SOFT;
      last = at;
    }
}
