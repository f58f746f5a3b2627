/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Where title, key, panels and axes stand. What does not leave the plots
 * enough room is taken away step by step; then everything is arranged anew.
 */
#include "config.h"

#include <math.h>

#include "wb-chart-arrange-private.h"
#include "wb-chart-axes-private.h"
#include "wb-chart-layout-private.h"
#include "wb-chart-range-private.h"

/* Between neighbouring panels, points. */
#define GAP 9.0
/* Text of a page is no larger. */
#define PRINT_TEXT_SCALE 1.2

static WbChartFrame *
frame_at (const WbChartArrangement *a,
          guint                     index)
{
  return &g_array_index (a->layout->frames, WbChartFrame, index);
}

static gboolean
find_ranges (WbChartArrangement  *a,
             GError             **error)
{
  WbChartShare share = wb_chart_get_share (a->chart);

  for (guint i = 0; i < a->n_panels; i++)
    {
      gboolean has_x = i > 0 && (share & WB_CHART_SHARE_X) != 0,
               has_y = i > 0 && (share & WB_CHART_SHARE_Y) != 0;

      if (has_x)
        a->x_ranges[i] = a->x_ranges[0];
      else if (!wb_chart_range_find (
                   a->chart, share & WB_CHART_SHARE_X ? NULL : wb_chart_arrangement_panel (a, i),
                   WB_CHART_X, &a->x_ranges[i], error))
        return FALSE;
      if (has_y)
        a->y_ranges[i] = a->y_ranges[0];
      else if (!wb_chart_range_find (
                   a->chart, share & WB_CHART_SHARE_Y ? NULL : wb_chart_arrangement_panel (a, i),
                   WB_CHART_Y, &a->y_ranges[i], error))
        return FALSE;
    }

  return TRUE;
}

static gboolean
is_first_of_row (const WbChartArrangement *a,
                 const WbChartPanel       *panel)
{
  for (guint i = 0; i < a->n_panels; i++)
    if (wb_chart_arrangement_panel (a, i)->row == panel->row
        && wb_chart_arrangement_panel (a, i)->column < panel->column)
      return FALSE;

  return TRUE;
}

static gboolean
is_last_of_column (const WbChartArrangement *a,
                   const WbChartPanel       *panel)
{
  for (guint i = 0; i < a->n_panels; i++)
    if (wb_chart_arrangement_panel (a, i)->column == panel->column
        && wb_chart_arrangement_panel (a, i)->row > panel->row)
      return FALSE;

  return TRUE;
}

/* Without a single value the numbers of a scale would be made up. */
static gboolean
has_any_value (const WbChartArrangement *a)
{
  for (guint i = 0; i < a->n_panels; i++)
    if (!wb_chart_panel_is_empty (wb_chart_arrangement_panel (a, i)))
      return TRUE;

  return FALSE;
}

static void
make_frames (WbChartArrangement *a)
{
  WbChartShare share = wb_chart_get_share (a->chart);
  gboolean     labels = a->level < WB_CHART_NO_TICK_LABELS && has_any_value (a);

  g_array_set_size (a->layout->frames, 0);
  for (guint i = 0; i < a->n_panels; i++)
    {
      const WbChartPanel *panel = wb_chart_arrangement_panel (a, i);
      WbChartFrame        frame = { .panel = panel };

      frame.plan = wb_chart_panel_is_plan (panel);
      frame.empty = wb_chart_panel_is_empty (panel);
      frame.show_x = labels && !frame.plan
                     && ((share & WB_CHART_SHARE_X) == 0 || is_last_of_column (a, panel));
      frame.show_y = labels && !frame.plan && ((share & WB_CHART_SHARE_Y) == 0 || is_first_of_row (a, panel));
      g_array_append_val (a->layout->frames, frame);
    }
}

static void
find_ticks (WbChartArrangement *a)
{
  WbChartShare share = wb_chart_get_share (a->chart);

  for (guint i = 0; i < a->n_panels; i++)
    {
      WbChartFrame *frame = frame_at (a, i);

      frame->x_ticks = i > 0 && (share & WB_CHART_SHARE_X)
                           ? frame_at (a, 0)->x_ticks
                           : wb_chart_axes_find_ticks (a->layout, frame->panel->x, &a->x_ranges[i],
                                                       WB_CHART_X, a->plot_width);
      frame->y_ticks = i > 0 && (share & WB_CHART_SHARE_Y)
                           ? frame_at (a, 0)->y_ticks
                           : wb_chart_axes_find_ticks (a->layout, frame->panel->y, &a->y_ranges[i],
                                                       WB_CHART_Y, a->plot_height);
    }
}

static void
find_column_margins (WbChartArrangement *a,
                     WbChartFrame       *frame)
{
  guint  column = frame->panel->column;
  double cell = a->area.width / a->n_columns;
  /* The names left of a row are those of all its panels. */
  double names = (wb_chart_get_share (a->chart) & WB_CHART_SHARE_Y) != 0 ? fmax (cell * 0.4, a->area.width * 0.3) : cell * 0.4;

  if (frame->show_y)
    a->left[column] = fmax (
        a->left[column], WB_CHART_AXES_GAP
                             + wb_chart_axes_get_width (a->layout, frame->panel->y, frame->y_ticks,
                                                        a->plot_height, names));
  if (frame->show_x)
    {
      double overhang = wb_chart_axes_get_overhang (a->layout, frame->panel->x, frame->x_ticks);

      a->left[column] = fmax (a->left[column], fmin (overhang, cell * 0.2));
      a->right[column] = fmax (a->right[column], fmin (overhang, cell * 0.2));
    }
  if (a->ends)
    a->right[column]
        = fmax (a->right[column], wb_chart_ends_get_width (a->layout, frame->panel, cell * 0.34));
}

/*
 * A panel's title in so much width. It may take more lines, and smaller letters, where one would cut
 * off what tells panels apart. NULL: none is drawn.
 */
static PangoLayout *
create_title (const WbChartArrangement *a,
              const WbChartFrame       *frame,
              double                    width,
              int                       lines,
              double                   *height)
{
  *height = 0.0;
  if (frame->panel->title == NULL || *frame->panel->title == '\0' || a->level >= WB_CHART_NO_PANEL_TITLES)
    return NULL;

  g_autofree char *title = wb_chart_heads_dup_title (a, frame->panel);
  WbChartFont      font = a->small_titles ? WB_CHART_FONT_SMALL_TITLE : WB_CHART_FONT_PANEL_TITLE;
  PangoLayout     *pango = wb_chart_text_create (a->layout, font, title, width, a->level >= WB_CHART_SHORT_TITLES ? 1 : lines);

  wb_chart_text_measure (pango, NULL, height);
  *height = fmax (*height, a->small_titles ? a->tick : a->line);
  return pango;
}

static int
get_title_lines (const WbChartArrangement *a)
{
  return a->small_titles ? 3 : 2;
}

/* Width of a panel with its margins, once those of all columns are known. */
static double
get_cell_width (const WbChartArrangement *a,
                const WbChartFrame       *frame)
{
  return a->left[frame->panel->column] + a->plot_width + a->right[frame->panel->column];
}

/* Height that the row keeps for a panel's title. */
static double
keep_title (const WbChartArrangement *a,
            const WbChartFrame       *frame)
{
  double start = frame->show_y || frame->plan ? 0.0 : a->left[frame->panel->column], height;

  g_autoptr (PangoLayout) title
      = create_title (a, frame, fmax (get_cell_width (a, frame) - start, 1.0), get_title_lines (a), &height);

  return title != NULL ? height : 0.0;
}

/* Panels look alike: where one title would be cut, all are smaller. */
static gboolean
is_any_title_cut (WbChartArrangement *a)
{
  for (guint i = 0; i < a->n_panels; i++)
    {
      const WbChartFrame *frame = frame_at (a, i);
      double start = frame->show_y || frame->plan ? 0.0 : a->left[frame->panel->column], height;

      g_autoptr (PangoLayout) title = create_title (a, frame, fmax (get_cell_width (a, frame) - start, 1.0), 2, &height);

      if (title != NULL && pango_layout_is_ellipsized (title))
        return TRUE;
    }

  return FALSE;
}

static void
find_row_margins (WbChartArrangement *a,
                  WbChartFrame       *frame)
{
  guint  row = frame->panel->row;
  double above = 2.0, below = 2.0, cell = get_cell_width (a, frame), title = keep_title (a, frame);

  if (title > 0.0)
    above += title + 2.0;
  if (!frame->plan && !a->common_y && !wb_chart_heads_title_axis (a, frame->panel))
    above += wb_chart_heads_measure_heading (a, frame->panel->y, cell);
  if (frame->show_y)
    above += a->tick * 0.5;
  if (frame->show_x)
    below = wb_chart_axes_get_drop (a->layout)
            + wb_chart_axes_get_height (a->layout, frame->panel->x, frame->x_ticks, a->plot_width);
  else if (frame->show_y)
    below = a->tick * 0.5;
  if (!frame->plan && !a->common_x)
    below += wb_chart_heads_measure_heading (a, frame->panel->x, cell);

  a->above[row] = fmax (a->above[row], above);
  a->below[row] = fmax (a->below[row], below);
}

static void
find_margins (WbChartArrangement *a)
{
  for (guint column = 0; column < a->n_columns; column++)
    a->left[column] = a->right[column] = 0.0;
  for (guint row = 0; row < a->n_rows; row++)
    a->above[row] = a->below[row] = 0.0;
  for (guint i = 0; i < a->n_panels; i++)
    find_column_margins (a, frame_at (a, i));

  double width = a->area.width - (a->n_columns - 1) * GAP;
  for (guint column = 0; column < a->n_columns; column++)
    width -= a->left[column] + a->right[column];
  a->plot_width = fmax (width / a->n_columns, 1.0);
  /* The lines of titles and labels hang on their column's width. */
  a->small_titles = a->level >= WB_CHART_TINY_TITLE;
  if (!a->small_titles)
    a->small_titles = is_any_title_cut (a);
  for (guint i = 0; i < a->n_panels; i++)
    find_row_margins (a, frame_at (a, i));

  double height = a->area.height - (a->n_rows - 1) * GAP;
  for (guint row = 0; row < a->n_rows; row++)
    height -= a->above[row] + a->below[row];
  a->plot_height = fmax (height / a->n_rows, 1.0);
}

/* One scale for both axes, centred in what labels right of it and the scale bar below leave. */
static void
map_plan (WbChartArrangement *a,
          WbChartFrame       *frame,
          guint               index)
{
  const WbChartRange *x = &a->x_ranges[index], *y = &a->y_ranges[index];
  double              labels = a->n_panels == 1 ? fmin (frame->plot.width * 0.42, a->line * 11.0) : 0.0;
  double              foot = a->common_plan ? 0.0 : a->tick + 12.0;
  double              width = frame->plot.width - labels - 8.0, height = frame->plot.height - foot - 6.0;
  double              scale = fmax (fmin (width / (x->high - x->low), height / (y->high - y->low)), 1e-6);
  double              wide = scale * (x->high - x->low), high = scale * (y->high - y->low);
  double              left = frame->plot.x + fmax ((frame->plot.width - wide - labels) / 2.0, 4.0);
  double              top = frame->plot.y + fmax ((frame->plot.height - foot - high) / 2.0, 4.0);

  frame->x = wb_chart_map (x->low, x->high, left, left + wide, FALSE);
  frame->y = wb_chart_map (y->low, y->high, top + high, top, FALSE);
}

static void
map_axes (WbChartFrame *frame)
{
  const WbChartRect *plot = &frame->plot;
  gboolean           down = frame->panel->y->scale == WB_CHART_SCALE_CATEGORY;
  double             bottom = plot->y + plot->height;

  frame->x = wb_chart_map (frame->x_ticks->low, frame->x_ticks->high, plot->x, plot->x + plot->width,
                           frame->panel->x->scale == WB_CHART_SCALE_LOG);
  frame->y = wb_chart_map (frame->y_ticks->low, frame->y_ticks->high, down ? plot->y : bottom,
                           down ? bottom : plot->y, frame->panel->y->scale == WB_CHART_SCALE_LOG);
}

static void
place_plots (WbChartArrangement *a)
{
  for (guint i = 0; i < a->n_panels; i++)
    {
      WbChartFrame *frame = frame_at (a, i);
      double        x = a->area.x, y = a->area.y;

      for (guint column = 0; column < frame->panel->column; column++)
        x += a->left[column] + a->plot_width + a->right[column] + GAP;
      for (guint row = 0; row < frame->panel->row; row++)
        y += a->above[row] + a->plot_height + a->below[row] + GAP;
      frame->plot = (WbChartRect) { x + a->left[frame->panel->column],
                                   y + a->above[frame->panel->row], a->plot_width, a->plot_height };
      if (frame->plan)
        map_plan (a, frame, i);
      else
        map_axes (frame);
    }
}

static void
place_panel_texts (WbChartArrangement *a,
                   guint               index)
{
  const WbChartFrame *frame = frame_at (a, index);
  const WbChartPanel *panel = frame->panel;
  double              left = frame->plot.x - a->left[panel->column];
  double              right = frame->plot.x + frame->plot.width + a->right[panel->column];
  double              y = frame->plot.y - a->above[panel->row];
  double              start = frame->show_y || frame->plan ? left : frame->plot.x;
  double              kept = keep_title (a, frame), height;
  double              cell = get_cell_width (a, frame);
  PangoLayout        *title = create_title (a, frame, right - start, get_title_lines (a), &height);

  if (title != NULL && height > kept + 0.5)
    {
      /* there is a hair less width than was kept for */
      g_object_unref (title);
      title = create_title (a, frame, right - start, 1, &height);
    }
  if (title != NULL)
    {
      wb_chart_text_add (a->layout, WB_CHART_ITEM_PANEL_TITLE, (int) index, -1, title,
                         wb_chart_text_get_start (title, start, right - start), y);
      y += kept + 2.0;
    }
  if (frame->plan)
    return;

  if (!a->common_y && !wb_chart_heads_title_axis (a, panel))
    wb_chart_heads_place_heading (a, panel->y, (int) index, left, y, right - left,
                                  wb_chart_heads_measure_heading (a, panel->y, cell), NAN);
  if (frame->show_x)
    wb_chart_axes_place_x (a->layout, index, left, right);
  if (frame->show_y)
    wb_chart_axes_place_y (a->layout, index, left);
  if (!a->common_x)
    {
      double kept_x = wb_chart_heads_measure_heading (a, panel->x, cell);
      double top = frame->plot.y + frame->plot.height + a->below[panel->row] - kept_x + 1.0;

      /* wider than the plot where its words are: under the labels of the vertical axis too */
      wb_chart_heads_place_heading (a, panel->x, (int) index, left, top, right - left, kept_x,
                                    frame->plot.x + frame->plot.width / 2.0);
    }
}

static void
add_plot_item (WbChartArrangement *a,
               guint               index)
{
  WbChartText text = { .item = { WB_CHART_ITEM_PLOT, (int) index, -1, frame_at (a, index)->plot, NULL } };

  g_array_append_val (a->layout->texts, text);
}

static void
arrange_panels (WbChartArrangement *a)
{
  a->plot_width = a->area.width / a->n_columns * 0.85;
  a->plot_height = a->area.height / a->n_rows * 0.75;
  make_frames (a);
  /* Ticks need the plot's size, the plot the labels' size: twice round is enough, as labels of the last round only get thinned. */
  for (int round = 0; round < 2; round++)
    {
      find_ticks (a);
      find_margins (a);
    }
  place_plots (a);
}

/* TRUE where every name at a line's end found its place. */
static gboolean
place_texts (WbChartArrangement *a)
{
  gboolean fits = TRUE;

  for (guint i = 0; i < a->n_panels; i++)
    {
      const WbChartFrame *frame = frame_at (a, i);
      double              width = a->right[frame->panel->column];

      add_plot_item (a, i);
      place_panel_texts (a, i);
      if (a->ends && width > 0.0)
        fits = wb_chart_ends_place (a->layout, i, width) && fits;
    }

  return fits;
}

/* Less of a plot could not be read. */
static gboolean
is_roomy (const WbChartArrangement *a)
{
  double wide = fmax (a->n_columns, a->n_rows) > 2 ? 3.0 : 5.0;
  double high = fmax (a->n_columns, a->n_rows) > 2 ? 2.2 : a->n_rows > 1 ? 2.8 : 4.0;

  return a->plot_width >= a->tick * wide && a->plot_height >= a->tick * high;
}

/* What the plots of a column have of the height: of one row they are what the chart is for. */
static gboolean
is_fair (const WbChartArrangement *a)
{
  static const double shares[] = { 0.45, 0.38, 0.25 };

  return a->plot_height * a->n_rows >= shares[MIN (a->n_rows, G_N_ELEMENTS (shares)) - 1] * a->layout->height;
}

/* Goes on to the next level where what is now is too little; FALSE where it is not, or nothing is left to give up. */
static gboolean
give_up (WbChartArrangement *a)
{
  /* In print, where text is never enlarged, the footnote says what the figures rest on, and stays while it can. */
  WbChartLevel last = a->layout->text_scale <= PRINT_TEXT_SCALE ? WB_CHART_SHORT_KEY : WB_CHART_NO_FOOTNOTE;

  if (a->level + 1 >= WB_CHART_N_LEVELS || (is_roomy (a) && (is_fair (a) || a->level >= last)))
    return FALSE;
  a->level++;

  return TRUE;
}

static void
arrange (WbChartArrangement *a)
{
  gboolean fits;

  do
    {
      fits = TRUE;
      wb_chart_heads_place (a);
      wb_chart_heads_place_common (a);
      arrange_panels (a);
      if (give_up (a))
        fits = FALSE;
      else if (!place_texts (a))
        {
          a->ends = FALSE;
          fits = FALSE;
        }
    }
  while (!fits);
}

gboolean
wb_chart_arrange (WbChartLayout  *layout,
                  GError        **error)
{
  const WbChart *chart = layout->chart;
  guint          n = wb_chart_get_n_panels (chart);
  WbChartArrangement    a = { .layout = layout, .chart = chart, .n_panels = n };

  a.line = wb_chart_text_get_line (layout, WB_CHART_FONT_LABEL);
  a.tick = wb_chart_text_get_line (layout, WB_CHART_FONT_TICK);
  if (n == 0)
    {
      wb_chart_heads_place (&a);
      return TRUE;
    }

  g_autofree WbChartRange *x_ranges = g_new0 (WbChartRange, n), *y_ranges = g_new0 (WbChartRange, n);
  a.n_rows = wb_chart_get_n_rows (chart);
  a.n_columns = wb_chart_get_n_columns (chart);
  g_autofree double *columns = g_new0 (double, 2 * a.n_columns), *rows = g_new0 (double, 2 * a.n_rows);
  a.left = columns;
  a.right = columns + a.n_columns;
  a.above = rows;
  a.below = rows + a.n_rows;
  a.x_ranges = x_ranges;
  a.y_ranges = y_ranges;
  a.ends = wb_chart_key_prefers_ends (chart);
  gboolean plan = wb_chart_panel_is_plan (wb_chart_get_panel (chart, 0));
  a.common_x = !plan && n > 1 && (wb_chart_get_share (chart) & WB_CHART_SHARE_X) != 0;
  a.common_y = !plan && n > 1 && (wb_chart_get_share (chart) & WB_CHART_SHARE_Y) != 0;

  a.common_plan = plan && n > 1 && wb_chart_get_share (chart) == WB_CHART_SHARE_BOTH;

  if (!find_ranges (&a, error))
    return FALSE;
  arrange (&a);

  return TRUE;
}
