/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Texts within a plot: rules, regions, notes. Each looks for a free place or stays away. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-chart-axes-private.h"
#include "wb-chart-layout-private.h"
#include "wb-chart-occupancy-private.h"
#include "wb-chart-rings-private.h"

#define AIR 1.0
/* How far a note may reach out of its row, points. */
#define ROW_SLACK 4.0
/* Size of a tick's label, and the smallest that the name of a strip may have, in points. */
#define TICK_PT 8.0
#define SMALLEST_PT 6.5
/* Above this many events no name could be read. */
#define MOST_EVENTS 4000
/* A label that hides more than this part of itself in data would be read as neither. */
#define MOST_INK 0.38

/* A label in search of a place. */
typedef struct
{
  WbChartLayout          *layout;
  const WbChartFrame     *frame;
  const WbChartOccupancy *occupancy;
  double                  width, height;
  WbChartRect             best;
  double                  best_cost; /* infinite: none yet */
  gboolean                must;      /* it may hide data rather than go */
} Search;

/* Earlier offers win where the ink beneath is the same. */
static void
offer (Search *search,
       double  x,
       double  y)
{
  const WbChartRect *plot = &search->frame->plot;
  WbChartRect        rect = { x, y, search->width, search->height };

  if (x < plot->x + 0.5 || y < plot->y || x + rect.width > plot->x + plot->width - 0.5
      || y + rect.height > plot->y + plot->height)
    return;

  double cost = wb_chart_occupancy_count (search->occupancy, &rect);
  if (cost < search->best_cost && (search->must || cost <= MOST_INK * wb_chart_occupancy_measure (&rect))
      && wb_chart_text_is_free (search->layout, &rect, AIR))
    {
      search->best = rect;
      search->best_cost = cost;
    }
}

static Search
begin (WbChartLayout          *layout,
       const WbChartFrame     *frame,
       const WbChartOccupancy *occupancy,
       PangoLayout            *pango)
{
  Search search = { .layout = layout, .frame = frame, .occupancy = occupancy, .best_cost = INFINITY };

  wb_chart_text_measure (pango, &search.width, &search.height);

  return search;
}

static WbChartText *
finish (Search          *search,
        WbChartItemKind  kind,
        guint            panel,
        guint            layer,
        PangoLayout     *pango)
{
  if (!isfinite (search->best_cost))
    {
      g_object_unref (pango);
      return NULL;
    }

  WbChartText *text = wb_chart_text_add (search->layout, kind, (int) panel, (int) layer, pango,
                                         search->best.x, search->best.y);
  text->halo = TRUE;

  return text;
}

static WbChartColourRole
role_of (WbChartRule rule)
{
  switch (rule)
    {
    case WB_CHART_RULE_ASK:
      return WB_CHART_COLOUR_ASK;
    case WB_CHART_RULE_LIMIT:
      return WB_CHART_COLOUR_LIMIT;
    case WB_CHART_RULE_AIM:
      return WB_CHART_COLOUR_AIM;
    case WB_CHART_RULE_REFERENCE:
    case WB_CHART_RULE_WALL:
    default:
      return WB_CHART_COLOUR_INK_SOFT;
    }
}

/* `behind` is the height of the hatching behind a wall: its name stands before it, or beyond the hatching. */
static void
offer_beside_horizontal (Search *search,
                         double  low,
                         double  high,
                         double  behind)
{
  const WbChartRect *plot = &search->frame->plot;
  double free = fmax (plot->width - search->width - 8.0, 0.0);
  /* the ends first, then the middle, then wherever the data leave a gap */
  double xs[] = { 0.0, 1.0, 0.5, 0.25, 0.75, 0.125, 0.375, 0.625, 0.875 };

  /* low and high are the strip's edges on the page, low the lower one. */
  double above = high - search->height - 1.5 - behind, below = low + 1.5;
  double ys[] = { behind > 0.0 ? below : above, behind > 0.0 ? above : below };

  for (guint row = 0; row < G_N_ELEMENTS (ys); row++)
    for (guint column = 0; column < G_N_ELEMENTS (xs); column++)
      offer (search, plot->x + 4.0 + xs[column] * free, ys[row]);
  /* In a plot that has no line's height above or below, it breaks its own rule, or stands at the foot, told by its colour. */
  double on = CLAMP ((low + high - search->height) / 2.0, plot->y, fmax (plot->y + plot->height - search->height, plot->y));
  double rest[] = { on, plot->y + plot->height - search->height - 0.5, plot->y };

  for (guint row = 0; search->must && !isfinite (search->best_cost) && row < G_N_ELEMENTS (rest); row++)
    for (guint column = 0; column < G_N_ELEMENTS (xs); column++)
      offer (search, plot->x + 4.0 + xs[column] * free, rest[row]);
}

static void
offer_beside_vertical (Search *search,
                       double  left,
                       double  right,
                       double  behind)
{
  const WbChartRect *plot = &search->frame->plot;
  double             after = right + 3.0 + behind, before = left - search->width - 3.0;
  double             xs[] = { behind > 0.0 ? before : after, behind > 0.0 ? after : before };
  double ys[] = { plot->y + 2.0, plot->y + plot->height - search->height - 2.0,
                  plot->y + plot->height * 0.25, plot->y + plot->height * 0.5,
                  plot->y + plot->height * 0.7 };

  for (guint column = 0; column < G_N_ELEMENTS (xs); column++)
    for (guint row = 0; row < G_N_ELEMENTS (ys); row++)
      offer (search, xs[column], ys[row]);
}

static void
offer_within (Search *search,
              double  left,
              double  right,
              double  top,
              double  bottom)
{
  const WbChartRect *plot = &search->frame->plot;
  double             middle = (left + right - search->width) / 2.0;
  double             xs[] = { left + 4.0, right - search->width - 4.0, middle };
  double ys[] = { top + 2.0, bottom - search->height - 2.0, (top + bottom - search->height) / 2.0 };

  for (guint row = 0; row < G_N_ELEMENTS (ys); row++)
    for (guint column = 0; column < G_N_ELEMENTS (xs); column++)
      {
        double x = right - left > search->width ? xs[column] : middle;

        offer (search,
               CLAMP (x, plot->x + 1.0,
                      fmax (plot->x + plot->width - search->width - 1.0, plot->x + 1.0)),
               ys[row]);
      }
}

/* FALSE where letters of `size` times a tick label's find no place; `must`: none but on data is one too. */
static gboolean
try_strip (WbChartLayout          *layout,
           guint                   panel,
           guint                   index,
           const WbChartOccupancy *occupancy,
           double                  size,
           gboolean                must)
{
  const WbChartFrame *frame = wb_chart_layout_frame (layout, panel);
  const WbChartLayer *layer = g_ptr_array_index (frame->panel->layers, index);
  const WbChartRect  *plot = &frame->plot;
  gboolean            across = layer->direction == WB_CHART_X;
  const WbChartMap   *map = across ? &frame->x : &frame->y;
  double first = wb_chart_map_at (map, layer->low[0]),
         second = wb_chart_map_at (map, layer->high[0]);

  if (layer->name == NULL || *layer->name == '\0' || (layer->kind == WB_CHART_LAYER_RULE && isnan (first)))
    return TRUE;

  PangoLayout *pango = wb_chart_text_create (layout, WB_CHART_FONT_TICK, layer->name,
                                             fmax (plot->width - 10.0, 1.0), 1);

  /* Cut to one line it would not say which strip it is. */
  if (pango_layout_is_ellipsized (pango))
    {
      g_object_unref (pango);
      pango = wb_chart_text_create (layout, WB_CHART_FONT_TICK, layer->name, fmax (plot->width - 10.0, 1.0), 2);
    }

  if (size < 1.0)
    wb_chart_text_shrink (pango, size);

  Search       search = begin (layout, frame, occupancy, pango);
  double       behind = layer->rule == WB_CHART_RULE_WALL ? WB_CHART_WALL_HATCH : 0.0;
  double from = across ? plot->x : plot->y,
         to = across ? plot->x + plot->width : plot->y + plot->height;
  double       low = isnan (fmin (first, second)) ? from : fmax (fmin (first, second), from);
  double       high = isnan (fmax (first, second)) ? to : fmin (fmax (first, second), to);

  /* An open end of a region reaches to the plot's edge: upwards on the page for a high one. */
  if (layer->kind == WB_CHART_LAYER_REGION && isnan (first))
    across || map->scale > 0.0 ? (low = from) : (high = to);
  if (layer->kind == WB_CHART_LAYER_REGION && isnan (second))
    across || map->scale > 0.0 ? (high = to) : (low = from);

  search.must = must;
  if (layer->kind == WB_CHART_LAYER_REGION && across)
    offer_within (&search, low, high, plot->y, plot->y + plot->height);
  else if (layer->kind == WB_CHART_LAYER_REGION)
    offer_within (&search, plot->x, plot->x + plot->width, low, high);
  else if (across)
    offer_beside_vertical (&search, low, high, behind);
  else
    offer_beside_horizontal (&search, high, low, behind);

  WbChartText *text = finish (&search, WB_CHART_ITEM_RULE_LABEL, panel, index, pango);
  if (text != NULL)
    text->role = role_of (layer->rule);

  return text != NULL;
}

/* A limit, or the value from which one looks: without its name it would be no more than a line. */
static gboolean
is_warning (const WbChartLayer *layer)
{
  return layer->kind == WB_CHART_LAYER_RULE && (layer->rule == WB_CHART_RULE_LIMIT || layer->rule == WB_CHART_RULE_ASK);
}

/* Before a name goes, it is written smaller; that of a limit never goes for what lies beneath it. */
static void
label_strip (WbChartLayout          *layout,
             guint                   panel,
             guint                   index,
             const WbChartOccupancy *occupancy)
{
  const WbChartLayer *layer = g_ptr_array_index (wb_chart_layout_frame (layout, panel)->panel->layers, index);
  double              least = CLAMP (SMALLEST_PT / (TICK_PT * layout->text_scale), 0.5, 1.0);

  if (try_strip (layout, panel, index, occupancy, 1.0, FALSE)
      || (least < 0.9 && try_strip (layout, panel, index, occupancy, least, FALSE)) || !is_warning (layer))
    return;
  if (!try_strip (layout, panel, index, occupancy, 1.0, TRUE) && least < 0.9)
    try_strip (layout, panel, index, occupancy, least, TRUE);
}

/* Which strips are named first: limits before all else, as they are what can hurt. */
static guint
rank_strip (const WbChartLayer *layer)
{
  if (layer->kind != WB_CHART_LAYER_RULE && layer->kind != WB_CHART_LAYER_REGION)
    return G_MAXUINT;
  return !is_warning (layer) ? 2 : layer->rule == WB_CHART_RULE_LIMIT ? 0 : 1;
}

static void
label_strips (WbChartLayout          *layout,
              guint                   panel,
              const WbChartOccupancy *occupancy)
{
  const GPtrArray *layers = wb_chart_layout_frame (layout, panel)->panel->layers;

  for (guint rank = 0; rank < 3; rank++)
    for (guint i = 0; i < layers->len; i++)
      if (rank_strip (g_ptr_array_index (layers, i)) == rank)
        label_strip (layout, panel, i, occupancy);
}

/* Anywhere in the plot. */
static void
offer_all (Search *search)
{
  const WbChartRect *plot = &search->frame->plot;
  double             wide = plot->width - search->width - 2.0, high = plot->height - search->height;

  for (guint row = 0; row <= 4; row++)
    for (guint column = 0; column <= 8; column++)
      offer (search, plot->x + 1.0 + wide * column / 8.0, plot->y + high * row / 4.0);
}

/* A note that is ringed is tied to its ring, wherever it stands. */
static void
tie (WbChartText *text,
     double       x,
     double       y)
{
  const WbChartRect *rect = &text->item.rect;

  text->role = WB_CHART_COLOUR_LIMIT;
  text->leader = TRUE;
  text->series = WB_CHART_SERIES_NONE;
  text->from_x = x;
  text->from_y = y;
  text->to_x = CLAMP (x, rect->x, rect->x + rect->width);
  text->to_y = CLAMP (y, rect->y, rect->y + rect->height);
}

static void
label_note (WbChartLayout          *layout,
            guint                   panel,
            guint                   index,
            const WbChartOccupancy *occupancy)
{
  const WbChartFrame *frame = wb_chart_layout_frame (layout, panel);
  const WbChartLayer *layer = g_ptr_array_index (frame->panel->layers, index);
  double x = wb_chart_map_at (&frame->x, layer->centre_x),
         y = wb_chart_map_at (&frame->y, layer->centre_y);

  if (layer->name == NULL || *layer->name == '\0' || isnan (x) || isnan (y))
    return;

  /* In a panel of rows it belongs to its own: anywhere else it would be read as another's. */
  double       row = frame->panel->y->scale == WB_CHART_SCALE_CATEGORY ? fabs (frame->y.scale) : 0.0;
  PangoLayout *pango = wb_chart_text_create (layout, WB_CHART_FONT_TICK, layer->name,
                                             fmax (frame->plot.width - 6.0, 1.0), row > 0.0 ? 1 : 2);
  double       size = wb_chart_axes_get_row_size (layout, frame);

  if (size < 1.0)
    wb_chart_text_shrink (pango, size);
  if (row > 0.0 && pango_layout_is_ellipsized (pango))
    {
      g_object_unref (pango);
      return;
    }

  Search       search = begin (layout, frame, occupancy, pango);
  double       xs[] = { x + 5.0, x - search.width - 5.0, x - search.width / 2.0, x - 4.0, x - search.width + 4.0 };
  double ys[] = { y - search.height / 2.0, y - search.height - 4.0, y + 4.0,
                  y - 2.0 * search.height, y + search.height };

  for (guint i = 0; i < G_N_ELEMENTS (ys); i++)
    for (guint column = 0; column < G_N_ELEMENTS (xs); column++)
      /* beside its point at its height, and over or under it else: never on it */
      if ((i > 0 || column < 2) && (row <= 0.0 || fabs (ys[i] + search.height / 2.0 - y) <= fmax ((row - search.height) / 2.0, 0.0) + ROW_SLACK))
        offer (&search, xs[column], ys[i]);
  if (layer->ringed && !isfinite (search.best_cost))
    {
      search.must = TRUE;
      offer_all (&search);
    }

  WbChartText *text = finish (&search, WB_CHART_ITEM_NOTE, panel, index, pango);
  if (text != NULL && layer->ringed)
    tie (text, x, y);
}

static void
label_events (WbChartLayout          *layout,
              guint                   panel,
              guint                   index,
              const WbChartOccupancy *occupancy)
{
  const WbChartFrame *frame = wb_chart_layout_frame (layout, panel);
  const WbChartLayer *layer = g_ptr_array_index (frame->panel->layers, index);

  for (gsize i = 0; layer->labels != NULL && i < layer->n && i < MOST_EVENTS; i++)
    {
      const char *label = wb_chart_layer_get_label (layer, i);
      WbChartRect rect;

      if (label == NULL || *label == '\0' || !wb_chart_value_get_rect (frame, layer, i, &rect))
        continue;

      PangoLayout *pango = wb_chart_text_create (layout, WB_CHART_FONT_SMALL, label, -1.0, 1);
      Search       search = begin (layout, frame, occupancy, pango);
      double       y = rect.y + (rect.height - search.height) / 2.0;

      offer (&search, rect.x + rect.width + 3.0, y);
      offer (&search, rect.x - search.width - 3.0, y);
      offer (&search, rect.x + (rect.width - search.width) / 2.0, rect.y - search.height - 1.0);
      offer (&search, rect.x + (rect.width - search.width) / 2.0, rect.y + rect.height + 1.0);
      /* Ink beneath would be another event's. */
      if (search.best_cost > 2.0)
        search.best_cost = INFINITY;
      finish (&search, WB_CHART_ITEM_VALUE, panel, index, pango);
    }
}

static void
label_empty (WbChartLayout *layout,
             guint          panel)
{
  const WbChartFrame *frame = wb_chart_layout_frame (layout, panel);
  const WbChartRect  *plot = &frame->plot;
  const char         *message = frame->panel->empty_text != NULL ? frame->panel->empty_text : _("No data");
  double              line = wb_chart_text_get_line (layout, WB_CHART_FONT_LABEL), width, height;
  PangoLayout *pango
      = wb_chart_text_create (layout, WB_CHART_FONT_LABEL, message, fmax (plot->width - 8.0, 1.0),
                              (int) CLAMP (plot->height / line, 1.0, 4.0));

  pango_layout_set_alignment (pango, PANGO_ALIGN_CENTER);
  wb_chart_text_measure (pango, &width, &height);
  if (width > plot->width || height > plot->height)
    {
      g_object_unref (pango);
      return;
    }

  WbChartText *text = wb_chart_text_add (layout, WB_CHART_ITEM_NOTE, (int) panel, -1, pango,
                                         plot->x + (plot->width - width) / 2.0,
                                         plot->y + (plot->height - height) / 2.0);
  text->role = WB_CHART_COLOUR_INK_SOFT;
  text->halo = TRUE;
}

void
wb_chart_label_panel (WbChartLayout *layout,
                      guint          panel)
{
  const WbChartFrame         *frame = wb_chart_layout_frame (layout, panel);
  g_autoptr (WbChartOccupancy) occupancy = wb_chart_occupancy_new (frame);

  if (frame->empty)
    label_empty (layout, panel);
  if (frame->plan)
    wb_chart_rings_label (layout, panel);

  /* Numbers have one place only; what can move comes after them. */
  for (guint i = 0; i < frame->panel->layers->len; i++)
    {
      const WbChartLayer *layer = g_ptr_array_index (frame->panel->layers, i);

      if (layer->kind == WB_CHART_LAYER_HEAT)
        wb_chart_label_cells (layout, panel, i);
      else if (layer->kind == WB_CHART_LAYER_BARS)
        wb_chart_label_bars (layout, panel, i);
    }
  for (guint i = 0; i < frame->panel->layers->len; i++)
    if (((const WbChartLayer *) g_ptr_array_index (frame->panel->layers, i))->ringed)
      label_note (layout, panel, i, occupancy);
  label_strips (layout, panel, occupancy);
  for (guint i = 0; i < frame->panel->layers->len; i++)
    {
      const WbChartLayer *layer = g_ptr_array_index (frame->panel->layers, i);

      if (layer->kind == WB_CHART_LAYER_TEXT && !layer->ringed)
        label_note (layout, panel, i, occupancy);
      else if (layer->kind == WB_CHART_LAYER_EVENTS)
        label_events (layout, panel, i, occupancy);
    }
}
