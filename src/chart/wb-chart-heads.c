/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What stands above and below all panels, and the words of panel titles and axis labels. */
#include "config.h"

#include <math.h>

#include "wb-chart-arrange-private.h"

/* Air along the edges of the chart, points. */
#define PAD 6.0

/* The label of a vertical axis stands for the title of a panel that has none. */
static gboolean
names_panel (const WbChartArrangement *a,
             const WbChartAxis        *axis)
{
  for (guint i = 0; a->n_panels > 1 && !a->common_y && i < a->n_panels; i++)
    {
      const WbChartPanel *panel = wb_chart_arrangement_panel (a, i);

      if (panel->y == axis)
        return panel->title == NULL || *panel->title == '\0';
    }

  return FALSE;
}

static PangoLayout *
create_heading (const WbChartArrangement *a,
                const WbChartAxis        *axis,
                double                    width,
                int                       lines)
{
  g_autofree char *heading = wb_chart_axis_dup_heading (axis);

  if (*heading == '\0' || width <= a->line)
    return NULL;
  if (a->level >= (names_panel (a, axis) ? WB_CHART_NO_PANEL_TITLES : WB_CHART_NO_AXIS_LABELS))
    return NULL;

  return wb_chart_text_create (a->layout, a->level >= WB_CHART_TINY_TITLE ? WB_CHART_FONT_TICK : WB_CHART_FONT_LABEL, heading,
                               width, lines);
}

double
wb_chart_heads_measure_heading (const WbChartArrangement *a,
                                const WbChartAxis        *axis,
                                double                    width)
{
  g_autoptr (PangoLayout) pango = create_heading (a, axis, width, 2);
  double                  height = 0.0;

  if (pango != NULL)
    wb_chart_text_measure (pango, NULL, &height);

  return pango != NULL ? height + 1.0 : 0.0;
}

static void
place_title (WbChartArrangement *a)
{
  const char *title = wb_chart_get_title (a->chart);

  if (title == NULL || *title == '\0')
    return;

  WbChartFont  font = a->level >= WB_CHART_TINY_TITLE   ? WB_CHART_FONT_SMALL_TITLE
                      : a->level >= WB_CHART_SMALL_TITLE ? WB_CHART_FONT_PANEL_TITLE
                                                         : WB_CHART_FONT_TITLE;
  double       line = wb_chart_text_get_line (a->layout, font), height;
  /* The finding is cut last of all: it is what the chart says. */
  int          most = a->level >= WB_CHART_SHORT_TITLES
                          ? (int) CLAMP (a->layout->height * 0.3 / line, 1.0, 2.0)
                          : (int) CLAMP (a->layout->height * 0.3 / line, 1.0, a->level >= WB_CHART_SMALL_TITLE ? 3.0 : 4.0);
  PangoLayout *pango = wb_chart_text_create (a->layout, font, title, a->area.width, most);

  wb_chart_text_measure (pango, NULL, &height);
  wb_chart_text_add (a->layout, WB_CHART_ITEM_TITLE, -1, -1, pango,
                     wb_chart_text_get_start (pango, a->area.x, a->area.width), a->area.y);
  a->area.y += height + 4.0;
  a->area.height -= height + 4.0;
}

static void
place_footnote (WbChartArrangement *a)
{
  const char *footnote = wb_chart_get_footnote (a->chart);

  if (footnote == NULL || *footnote == '\0' || a->level >= WB_CHART_NO_FOOTNOTE)
    return;

  PangoLayout *pango = wb_chart_text_create (a->layout, WB_CHART_FONT_SMALL, footnote, a->area.width, 3);
  double       height;

  wb_chart_text_measure (pango, NULL, &height);
  WbChartText *text = wb_chart_text_add (a->layout, WB_CHART_ITEM_FOOTNOTE, -1, -1, pango,
                                         wb_chart_text_get_start (pango, a->area.x, a->area.width),
                                         a->area.y + a->area.height - height);
  text->role = WB_CHART_COLOUR_INK_SOFT;
  a->area.height -= height + 4.0;
}

/* Names that a person still keeps apart. */
#define FEW_NAMES 8

static int
get_key_lines (const WbChartArrangement *a,
               guint                     n_names,
               double                    line)
{
  if (a->level >= WB_CHART_SHORT_TITLES)
    return 1;
  if (a->level >= WB_CHART_SHORT_KEY && n_names > FEW_NAMES)
    return 2;

  return (int) CLAMP (a->layout->height * 0.27 / (line * 1.2), 1.0, 8.0);
}

static void
place_key (WbChartArrangement *a)
{
  g_autoptr (GArray) entries = wb_chart_key_collect (a->chart, !a->ends);
  WbChartFont        font = a->level >= WB_CHART_SMALL_KEY ? WB_CHART_FONT_SMALL : WB_CHART_FONT_LABEL;
  double             line = wb_chart_text_get_line (a->layout, font);
  const char        *first = wb_chart_get_title (a->chart);

  if (a->level >= WB_CHART_NO_KEY || entries->len == 0)
    return;
  if (first == NULL || *first == '\0')
    first = g_array_index (entries, WbChartKeyEntry, 0).name;

  g_autoptr (PangoLayout) pango = wb_chart_text_create (a->layout, font, first, -1.0, 1);
  double height = wb_chart_key_place (a->layout, entries, font, a->area.x, a->area.y, a->area.width,
                                      get_key_lines (a, entries->len, line), wb_chart_text_is_rtl (pango));
  if (height > 0.0)
    height += 3.0;
  a->area.y += height;
  a->area.height -= height;
}

void
wb_chart_heads_place_heading (WbChartArrangement *a,
                              const WbChartAxis  *axis,
                              int                 panel,
                              double              x,
                              double              y,
                              double              width,
                              double              most,
                              double              centre)
{
  PangoLayout *pango = create_heading (a, axis, width, 2);
  double       own, height;

  if (pango == NULL)
    return;
  wb_chart_text_measure (pango, NULL, &height);
  if (height > most + 0.5)
    {
      /* There is a hair less width than was kept for. */
      g_object_unref (pango);
      pango = create_heading (a, axis, width, 1);
    }
  if (!isnan (centre))
    pango_layout_set_alignment (pango, PANGO_ALIGN_CENTER);
  wb_chart_text_measure (pango, &own, NULL);
  wb_chart_text_add (a->layout, WB_CHART_ITEM_AXIS_LABEL, panel, -1, pango,
                     isnan (centre) ? wb_chart_text_get_start (pango, x, width)
                                    : CLAMP (centre - own / 2.0, x, fmax (x + width - own, x)),
                     y);
}

void
wb_chart_heads_place_common (WbChartArrangement *a)
{
  if (a->common_y)
    {
      const WbChartAxis *axis = wb_chart_arrangement_panel (a, 0)->y;
      double             height = wb_chart_heads_measure_heading (a, axis, a->area.width);

      wb_chart_heads_place_heading (a, axis, -1, a->area.x, a->area.y, a->area.width, height, NAN);
      if (height > 0.0)
        height += 2.0;
      a->area.y += height;
      a->area.height -= height;
    }
  a->layout->scale_y = a->common_plan ? -1.0 : NAN;
  if (a->common_plan && a->level < WB_CHART_NO_AXIS_LABELS)
    {
      a->area.height -= a->tick + 3.0;
      a->layout->scale_y = a->area.y + a->area.height + 3.0;
    }
  if (a->common_x)
    {
      const WbChartAxis *axis = wb_chart_arrangement_panel (a, 0)->x;
      double             height = wb_chart_heads_measure_heading (a, axis, a->area.width);

      a->area.height -= height;
      wb_chart_heads_place_heading (a, axis, -1, a->area.x, a->area.y + a->area.height + 1.0, a->area.width, height,
                                    a->area.x + a->area.width / 2.0);
    }
}

gboolean
wb_chart_heads_title_axis (const WbChartArrangement *a,
                           const WbChartPanel       *panel)
{
  return panel->title != NULL && *panel->title != '\0' && panel->y->label == NULL && !a->common_y
         && !wb_chart_panel_is_plan (panel);
}

char *
wb_chart_heads_dup_title (const WbChartArrangement *a,
                          const WbChartPanel       *panel)
{
  g_autofree char *heading = wb_chart_axis_dup_heading (panel->y);

  return wb_chart_heads_title_axis (a, panel) && *heading != '\0'
             ? g_strconcat (panel->title, ", ", heading, NULL)
             : g_strdup (panel->title);
}

void
wb_chart_heads_place (WbChartArrangement *a)
{
  WbChartLayout *layout = a->layout;

  g_array_set_size (layout->texts, 0);
  a->area = (WbChartRect) { PAD, PAD, layout->width - 2.0 * PAD, layout->height - 2.0 * PAD };
  place_title (a);
  place_footnote (a);
  place_key (a);
}
