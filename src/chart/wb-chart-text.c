/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Texts of a layout: fonts at 72 dpi, measuring, and the list of what is placed. */
#include "config.h"

#include <math.h>

#include "wb-chart-layout-private.h"

#define DEFAULT_FAMILY "Cantarell, DejaVu Sans, sans-serif"
/* More than any place of a chart holds; what comes after is not even shaped. */
#define MOST_CHARACTERS 600

static const struct
{
  double      size; /* points at text scale 1 */
  PangoWeight weight;
} fonts[] = {
  [WB_CHART_FONT_TITLE] = { 11.5, PANGO_WEIGHT_BOLD },
  [WB_CHART_FONT_PANEL_TITLE] = { 9.0, PANGO_WEIGHT_BOLD },
  [WB_CHART_FONT_SMALL_TITLE] = { 8.0, PANGO_WEIGHT_BOLD },
  [WB_CHART_FONT_LABEL] = { 9.0, PANGO_WEIGHT_NORMAL },
  [WB_CHART_FONT_TICK] = { 8.0, PANGO_WEIGHT_NORMAL },
  [WB_CHART_FONT_SMALL] = { 7.5, PANGO_WEIGHT_NORMAL },
};

PangoContext *
wb_chart_text_create_context (const WbChart *chart,
                              PangoFontMap  *map)
{
  PangoContext         *context = pango_font_map_create_context (map);
  cairo_font_options_t *options = cairo_font_options_create ();
  const char           *family = wb_chart_get_font_family (chart);

  /* Nothing that depends on a target's pixels may move a glyph. */
  cairo_font_options_set_hint_style (options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_antialias (options, CAIRO_ANTIALIAS_GRAY);
  pango_cairo_context_set_font_options (context, options);
  cairo_font_options_destroy (options);
  pango_cairo_context_set_resolution (context, 72.0);
  pango_context_set_round_glyph_positions (context, FALSE);

  PangoFontDescription *font = pango_font_description_new ();
  pango_font_description_set_family (font, family != NULL ? family : DEFAULT_FAMILY);
  pango_context_set_font_description (context, font);
  pango_font_description_free (font);

  return context;
}

static PangoFontDescription *
describe (WbChartLayout *layout,
          WbChartFont    font)
{
  PangoFontDescription *description
      = pango_font_description_copy (pango_context_get_font_description (layout->pango));

  pango_font_description_set_absolute_size (description, fonts[font].size * layout->text_scale * PANGO_SCALE);
  pango_font_description_set_weight (description, fonts[font].weight);

  return description;
}

void
wb_chart_text_measure (PangoLayout *pango,
                       double      *width,
                       double      *height)
{
  PangoRectangle logical;

  pango_layout_get_extents (pango, NULL, &logical);
  if (width != NULL)
    *width = (double) logical.width / PANGO_SCALE;
  if (height != NULL)
    *height = (double) logical.height / PANGO_SCALE;
}

PangoLayout *
wb_chart_text_create (WbChartLayout *layout,
                      WbChartFont    font,
                      const char    *text,
                      double         width,
                      int            lines)
{
  PangoLayout          *pango = pango_layout_new (layout->pango);
  PangoFontDescription *description = describe (layout, font);

  pango_layout_set_font_description (pango, description);
  pango_font_description_free (description);
  const char *end = g_utf8_strlen (text, -1) > MOST_CHARACTERS
                        ? g_utf8_offset_to_pointer (text, MOST_CHARACTERS)
                        : NULL;
  pango_layout_set_text (pango, text, end != NULL ? (int) (end - text) : -1);
  if (lines == 1)
    pango_layout_set_single_paragraph_mode (pango, TRUE);
  if (width >= 0.0)
    {
      pango_layout_set_wrap (pango, PANGO_WRAP_WORD_CHAR);
      pango_layout_set_ellipsize (pango, PANGO_ELLIPSIZE_END);
      pango_layout_set_height (pango, -MAX (lines, 1));
      pango_layout_set_width (pango, (int) (fmax (width, 1.0) * PANGO_SCALE));
    }

  return pango;
}

GBytes *
wb_chart_text_dup_seen (PangoLayout *pango)
{
  g_autoptr (GArray) seen = g_array_new (FALSE, FALSE, sizeof (PangoGlyph));

  for (GSList *l = pango_layout_get_line_readonly (pango, 0)->runs; l != NULL; l = l->next)
    {
      const PangoGlyphString *glyphs = ((PangoGlyphItem *) l->data)->glyphs;

      for (int i = 0; i < glyphs->num_glyphs; i++)
        g_array_append_val (seen, glyphs->glyphs[i].glyph);
    }
  return g_bytes_new (seen->data, seen->len * sizeof (PangoGlyph));
}

void
wb_chart_text_shrink (PangoLayout *pango,
                      double       factor)
{
  PangoFontDescription *font = pango_font_description_copy (pango_layout_get_font_description (pango));

  pango_font_description_set_absolute_size (font, pango_font_description_get_size (font) * factor);
  pango_layout_set_font_description (pango, font);
  pango_font_description_free (font);
}

gboolean
wb_chart_text_is_rtl (PangoLayout *pango)
{
  return pango_layout_line_get_resolved_direction (pango_layout_get_line_readonly (pango, 0)) == PANGO_DIRECTION_RTL;
}

double
wb_chart_text_get_start (PangoLayout *pango,
                         double       x,
                         double       width)
{
  double own;

  wb_chart_text_measure (pango, &own, NULL);

  return wb_chart_text_is_rtl (pango) ? x + fmax (width - own, 0.0) : x;
}

/* Of one line: an axis asks for the same few again and again while the chart is arranged. */
static const WbChartSize *
measure_line (WbChartLayout *layout,
              WbChartFont    font,
              const char    *text)
{
  GHashTable  *sizes = layout->sizes[font];
  WbChartSize *size = sizes != NULL ? g_hash_table_lookup (sizes, text) : NULL;

  if (sizes == NULL)
    sizes = layout->sizes[font] = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  if (size == NULL)
    {
      g_autoptr (PangoLayout) pango = wb_chart_text_create (layout, font, text, -1.0, 1);

      size = g_new (WbChartSize, 1);
      wb_chart_text_measure (pango, &size->width, &size->height);
      g_hash_table_insert (sizes, g_strdup (text), size);
    }
  return size;
}

double
wb_chart_text_get_line (WbChartLayout *layout,
                        WbChartFont    font)
{
  return measure_line (layout, font, "0")->height;
}

double
wb_chart_text_get_width (WbChartLayout *layout,
                         WbChartFont    font,
                         const char    *text)
{
  return measure_line (layout, font, text)->width;
}

WbChartText *
wb_chart_text_add (WbChartLayout   *layout,
                   WbChartItemKind  kind,
                   int              panel,
                   int              layer,
                   PangoLayout     *pango,
                   double           x,
                   double           y)
{
  PangoRectangle logical;
  WbChartText    text = { 0 };

  /* With a width set, aligned text does not begin at the layout's own origin. */
  pango_layout_get_extents (pango, NULL, &logical);
  text.text = g_strdup (pango_layout_get_text (pango));
  text.item = (WbChartItem) {
    kind, panel, layer,
    { x, y, (double) logical.width / PANGO_SCALE, (double) logical.height / PANGO_SCALE },
    text.text,
  };
  text.pango = pango;
  text.x = x - (double) logical.x / PANGO_SCALE;
  text.y = y - (double) logical.y / PANGO_SCALE;
  text.role = WB_CHART_COLOUR_INK;
  text.series = WB_CHART_SERIES_NONE;
  g_array_append_val (layout->texts, text);

  return &g_array_index (layout->texts, WbChartText, layout->texts->len - 1);
}

gboolean
wb_chart_text_is_free (const WbChartLayout *layout,
                       const WbChartRect   *rect,
                       double               air)
{
  for (guint i = 0; i < layout->texts->len; i++)
    {
      const WbChartRect *other = &g_array_index (layout->texts, WbChartText, i).item.rect;

      if (g_array_index (layout->texts, WbChartText, i).pango == NULL)
        continue;
      if (rect->x - air < other->x + other->width && other->x < rect->x + rect->width + air
          && rect->y - air < other->y + other->height && other->y < rect->y + rect->height + air)
        return FALSE;
    }

  return TRUE;
}

void
wb_chart_text_clear (gpointer data)
{
  WbChartText *text = data;

  g_free (text->text);
  g_clear_object (&text->pango);
}
