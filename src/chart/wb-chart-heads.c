/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What stands above and below all panels, and the words of panel titles and axis labels. */
#include "config.h"

#include <math.h>

#include "wb-chart-arrange-private.h"

/* Air along the edges of the chart, points. */
#define PAD 6.0

gboolean
wb_chart_heads_has_heading (const WbChartArrangement *a,
                            const WbChartAxis        *axis)
{
  g_autofree char *heading = wb_chart_axis_dup_heading (axis);

  return *heading != '\0' && a->level < WB_CHART_NO_AXIS_LABELS;
}

static void
place_title (WbChartArrangement *a)
{
  const char *title = wb_chart_get_title (a->chart);

  if (title == NULL || *title == '\0')
    return;

  double       line = wb_chart_text_get_line (a->layout, WB_CHART_FONT_TITLE), height;
  int most = a->level >= WB_CHART_SHORT_TITLE
                 ? 1
                 : (int) CLAMP (a->layout->height * 0.3 / line, 1.0, 4.0);
  PangoLayout *pango = wb_chart_text_create (a->layout, WB_CHART_FONT_TITLE, title, a->area.width, most);

  wb_chart_text_measure (pango, NULL, &height);
  wb_chart_text_add (a->layout, WB_CHART_ITEM_TITLE, -1, -1, pango, a->area.x, a->area.y);
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
  WbChartText *text = wb_chart_text_add (a->layout, WB_CHART_ITEM_FOOTNOTE, -1, -1, pango, a->area.x, a->area.y + a->area.height - height);
  text->role = WB_CHART_COLOUR_INK_SOFT;
  a->area.height -= height + 4.0;
}

static void
place_key (WbChartArrangement *a)
{
  g_autoptr (GArray) entries = wb_chart_key_collect (a->chart, !a->ends);
  int lines
      = a->level >= WB_CHART_SHORT_TITLE ? 1 : (int) CLAMP (a->layout->height * 0.25 / a->line, 1.0, 8.0);

  if (a->level >= WB_CHART_NO_KEY)
    return;

  double height = wb_chart_key_place (a->layout, entries, a->area.x, a->area.y, a->area.width, lines);
  if (height > 0.0)
    height += 3.0;
  a->area.y += height;
  a->area.height -= height;
}

double
wb_chart_heads_place_heading (WbChartArrangement *a,
                              const WbChartAxis  *axis,
                              int                 panel,
                              double              x,
                              double              y,
                              double              width,
                              gboolean            centred)
{
  g_autofree char *heading = wb_chart_axis_dup_heading (axis);
  double           own;

  if (*heading == '\0' || a->level >= WB_CHART_NO_AXIS_LABELS || width <= a->line)
    return 0.0;

  PangoLayout *pango = wb_chart_text_create (a->layout, WB_CHART_FONT_LABEL, heading, width, 1);
  wb_chart_text_measure (pango, &own, NULL);
  wb_chart_text_add (a->layout, WB_CHART_ITEM_AXIS_LABEL, panel, -1, pango,
                     centred ? x + (width - own) / 2.0 : x, y);

  return a->line + 1.0;
}

void
wb_chart_heads_place_common (WbChartArrangement *a)
{
  if (a->common_y)
    {
      double height = wb_chart_heads_place_heading (a, wb_chart_arrangement_panel (a, 0)->y, -1, a->area.x, a->area.y, a->area.width, FALSE);

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
    a->area.height -= wb_chart_heads_place_heading (a, wb_chart_arrangement_panel (a, 0)->x, -1, a->area.x,
                                     a->area.y + a->area.height - a->line, a->area.width, TRUE);
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
