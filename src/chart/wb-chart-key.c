/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The key: names that could not stand where their marks are. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-chart-layout-private.h"

#define GAP 12.0
#define SAMPLE_WIDTH 20.0
#define GRADIENT_WIDTH 54.0

static void
entry_clear (gpointer data)
{
  WbChartKeyEntry *entry = data;

  g_free (entry->name);
}

static void
add (GArray          *entries,
     WbChartKeyEntry  entry)
{
  if (entry.name == NULL || *entry.name == '\0')
    {
      g_free (entry.name);
      return;
    }

  for (guint i = 0; i < entries->len; i++)
    {
      const WbChartKeyEntry *other = &g_array_index (entries, WbChartKeyEntry, i);

      if (other->series == entry.series && other->part == entry.part
          && g_str_equal (other->name, entry.name)
          && (other->sample == entry.sample || entry.sample == WB_CHART_SAMPLE_MARKER
              || entry.sample == WB_CHART_SAMPLE_BAND))
        {
          g_free (entry.name);
          return;
        }
    }

  g_array_append_val (entries, entry);
}

static void
add_parts (GArray             *entries,
           const WbChartLayer *layer)
{
  for (guint part = 0; layer->labels != NULL && part < layer->labels->len; part++)
    add (entries, (WbChartKeyEntry) { g_strdup (wb_chart_layer_get_label (layer, part)),
                                     WB_CHART_SAMPLE_PART, WB_CHART_SERIES_NONE, part,
                                     (guint) layer->n_columns, layer->parts, FALSE });
}

static void
add_scale (GArray             *entries,
           const WbChartLayer *layer)
{
  double low, high;

  wb_chart_value_get_limits (layer, &low, &high);
  /* a map that needs no scale, as its panel's title says what its numbers mean, has no name */
  if (isnan (low) || layer->name == NULL)
    return;

  g_autofree char *from = wb_chart_words_format_cell (layer, low, FALSE);
  g_autofree char *to = wb_chart_words_format_cell (layer, high, TRUE);
  /* Translators: a colour scale: name, lowest value, highest value with its unit. */
  char *text = g_strdup_printf (_("%s: %s to %s"), layer->name, from, to);

  add (entries, (WbChartKeyEntry) { text, WB_CHART_SAMPLE_GRADIENT, WB_CHART_SERIES_NONE, 0, 0,
                                   WB_CHART_PARTS_NAMED, layer->heat == WB_CHART_HEAT_AROUND });
}

static gboolean
has_line_name (const WbChartPanel *panel,
               const WbChartLayer *layer)
{
  for (guint i = 0; i < panel->layers->len; i++)
    {
      const WbChartLayer *other = g_ptr_array_index (panel->layers, i);

      if (other->kind == WB_CHART_LAYER_LINE && other->series == layer->series
          && g_strcmp0 (other->name, layer->name) == 0)
        return TRUE;
    }

  return FALSE;
}

static gboolean
is_category_name (const WbChartPanel *panel,
                  const char         *name)
{
  for (guint axis = 0; axis < 2; axis++)
    for (guint i = 0; i < wb_chart_axis_get_n_categories (axis == 0 ? panel->x : panel->y); i++)
      if (g_strcmp0 (wb_chart_axis_get_category (axis == 0 ? panel->x : panel->y, i), name) == 0)
        return TRUE;

  return FALSE;
}

static void
add_layer (GArray             *entries,
           const WbChartPanel *panel,
           const WbChartLayer *layer,
           gboolean            lines)
{
  switch (layer->kind)
    {
    case WB_CHART_LAYER_LINE:
      if (lines && (layer->flags & WB_CHART_LINE_THIN) == 0)
        add (entries, (WbChartKeyEntry) { g_strdup (layer->name), WB_CHART_SAMPLE_LINE, layer->series });
      break;
    case WB_CHART_LAYER_POINTS:
    case WB_CHART_LAYER_EVENTS:
      if (!has_line_name (panel, layer) && !is_category_name (panel, layer->name))
        add (entries, (WbChartKeyEntry) { g_strdup (layer->name), WB_CHART_SAMPLE_MARKER, layer->series });
      break;
    case WB_CHART_LAYER_BAND:
      if (!has_line_name (panel, layer))
        add (entries, (WbChartKeyEntry) { g_strdup (layer->name), WB_CHART_SAMPLE_BAND, layer->series });
      break;
    case WB_CHART_LAYER_BARS:
      add_parts (entries, layer);
      break;
    case WB_CHART_LAYER_HEAT:
      add_scale (entries, layer);
      break;
    case WB_CHART_LAYER_RINGS: /* named on their lines */
    case WB_CHART_LAYER_RULE:
    case WB_CHART_LAYER_REGION:
    case WB_CHART_LAYER_WALL:
    case WB_CHART_LAYER_TEXT:
    default:
      break;
    }
}

GArray *
wb_chart_key_collect (const WbChart *chart,
                      gboolean       lines)
{
  GArray *entries = g_array_new (FALSE, FALSE, sizeof (WbChartKeyEntry));

  g_array_set_clear_func (entries, entry_clear);
  for (guint i = 0; i < wb_chart_get_n_panels (chart); i++)
    {
      const WbChartPanel *panel = wb_chart_get_panel (chart, i);

      for (guint k = 0; k < panel->layers->len; k++)
        add_layer (entries, panel, g_ptr_array_index (panel->layers, k), lines);
    }

  return entries;
}

gboolean
wb_chart_key_prefers_ends (const WbChart *chart)
{
  g_autoptr (GArray) all = wb_chart_key_collect (chart, TRUE);
  guint              n_lines = 0, n_names = 0;

  for (guint i = 0; i < all->len; i++)
    n_names += g_array_index (all, WbChartKeyEntry, i).sample == WB_CHART_SAMPLE_LINE;
  for (guint i = 0; i < wb_chart_get_n_panels (chart); i++)
    {
      g_autoptr (GArray) ends = wb_chart_ends_collect (wb_chart_get_panel (chart, i));

      n_lines += ends->len;
    }

  /* The same names in panel after panel are said once. */
  return n_lines <= n_names;
}

static double
sample_width (WbChartLayout         *layout,
              const WbChartKeyEntry *entry)
{
  double width = entry->sample == WB_CHART_SAMPLE_GRADIENT ? GRADIENT_WIDTH : SAMPLE_WIDTH;

  return (entry->sample == WB_CHART_SAMPLE_MARKER ? 9.0 : width) * fmax (1.0, layout->text_scale * 0.7);
}

static void
place_entry (WbChartLayout         *layout,
             const WbChartKeyEntry *entry,
             PangoLayout           *pango,
             double                 line,
             double                 x,
             double                 y)
{
  double       sample = sample_width (layout, entry);
  WbChartText *text = wb_chart_text_add (layout, WB_CHART_ITEM_KEY, -1, -1, pango, x + sample + 5.0, y);

  text->sample = entry->sample;
  text->sample_rect = (WbChartRect) { x, y + line * 0.18, sample, line * 0.64 };
  text->series = entry->series;
  text->part = entry->part;
  text->n_parts = entry->n_parts;
  text->parts = entry->parts;
  text->around = entry->around;
}

static void
place_rest (WbChartLayout *layout,
            WbChartFont    font,
            guint          n,
            double         x,
            double         y,
            double         width)
{
  g_autofree char *words = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "and %u more", "and %u more", n), n);
  PangoLayout     *pango = wb_chart_text_create (layout, font, words, fmax (width, 1.0), 1);

  WbChartText *text = wb_chart_text_add (layout, WB_CHART_ITEM_KEY, -1, -1, pango, x, y);
  text->role = WB_CHART_COLOUR_INK_SOFT;
}

/* The same key read from the right edge on. */
static void
mirror (WbChartLayout *layout,
        guint          from,
        double         x,
        double         width)
{
  for (guint i = from; i < layout->texts->len; i++)
    {
      WbChartText *text = &g_array_index (layout->texts, WbChartText, i);
      double       moved = 2.0 * x + width - text->item.rect.width - 2.0 * text->item.rect.x;

      text->item.rect.x += moved;
      text->x += moved;
      text->sample_rect.x = 2.0 * x + width - text->sample_rect.width - text->sample_rect.x;
    }
}

/* A letter from another font than the key's stands higher than its line. */
static double
find_tallest (WbChartLayout *layout,
              GArray        *entries,
              WbChartFont    font)
{
  double tallest = 0.0;

  for (guint i = 0; i < entries->len; i++)
    {
      g_autoptr (PangoLayout) pango
          = wb_chart_text_create (layout, font, g_array_index (entries, WbChartKeyEntry, i).name, layout->width, 1);
      double height;

      wb_chart_text_measure (pango, NULL, &height);
      tallest = fmax (tallest, height);
    }

  return tallest;
}

static double
get_most (WbChartLayout         *layout,
          const WbChartKeyEntry *entry,
          double                 line,
          double                 width,
          double                 spare)
{
  return fmin (width - sample_width (layout, entry) - 5.0 - spare, fmax (width * 0.45, line * 14.0));
}

static gboolean
can_be_told_apart (WbChartLayout     *layout,
                   GArray            *entries,
                   WbChartFont        font,
                   double             line,
                   double             width,
                   double             spare,
                   PangoEllipsizeMode cut)
{
  g_autoptr (GHashTable) names = g_hash_table_new_full (g_bytes_hash, g_bytes_equal, (GDestroyNotify) g_bytes_unref, NULL);

  for (guint i = 0; i < entries->len; i++)
    {
      const WbChartKeyEntry  *entry = &g_array_index (entries, WbChartKeyEntry, i);
      g_autoptr (PangoLayout) pango = wb_chart_text_create (layout, font, entry->name, get_most (layout, entry, line, width, spare), 1);

      pango_layout_set_ellipsize (pango, cut);

      GBytes     *seen = wb_chart_text_dup_seen (pango);
      const char *other = g_hash_table_lookup (names, seen);

      if (other != NULL && !g_str_equal (other, entry->name))
        {
          g_bytes_unref (seen);
          return FALSE;
        }
      g_hash_table_insert (names, seen, entry->name);
    }
  return TRUE;
}

/* Names that begin alike are cut where they do not differ. */
static PangoEllipsizeMode
find_cut (WbChartLayout *layout,
          GArray        *entries,
          WbChartFont    font,
          double         line,
          double         width,
          double         spare)
{
  static const PangoEllipsizeMode cuts[] = { PANGO_ELLIPSIZE_END, PANGO_ELLIPSIZE_MIDDLE, PANGO_ELLIPSIZE_START };

  for (guint k = 0; k < G_N_ELEMENTS (cuts); k++)
    if (can_be_told_apart (layout, entries, font, line, width, spare, cuts[k]))
      return cuts[k];
  return PANGO_ELLIPSIZE_MIDDLE;
}

double
wb_chart_key_place (WbChartLayout *layout,
                    GArray        *entries,
                    WbChartFont    font,
                    double         x,
                    double         y,
                    double         width,
                    int            lines,
                    gboolean       rtl)
{
  double line = wb_chart_text_get_line (layout, font);
  double pitch = fmax (line * (font == WB_CHART_FONT_SMALL ? 1.06 : 1.2), find_tallest (layout, entries, font));
  double rest = wb_chart_text_get_width (layout, font, "and 000 more") + GAP;
  double at = x;
  guint  from = layout->texts->len;
  int    row = 0;

  if (entries->len == 0 || lines <= 0)
    return 0.0;

  PangoEllipsizeMode cut = find_cut (layout, entries, font, line, width, lines == 1 ? rest : 0.0);

  for (guint i = 0; i < entries->len; i++)
    {
      const WbChartKeyEntry *entry = &g_array_index (entries, WbChartKeyEntry, i);
      /* The last line keeps room to say how many were left out. */
      double spare = row == lines - 1 && i + 1 < entries->len ? rest : 0.0;
      double sample = sample_width (layout, entry) + 5.0, text_width;
      double most = get_most (layout, entry, line, width, spare);

      g_autoptr (PangoLayout) pango
          = wb_chart_text_create (layout, font, entry->name, most, 1);
      pango_layout_set_ellipsize (pango, cut);
      wb_chart_text_measure (pango, &text_width, NULL);
      if (at > x && at + sample + text_width + spare > x + width)
        {
          if (row == lines - 1)
            {
              place_rest (layout, font, entries->len - i, at, y + row * pitch, x + width - at);
              break;
            }
          row++;
          at = x;
          i--;
          continue;
        }
      place_entry (layout, entry, g_steal_pointer (&pango), line, at, y + row * pitch);
      at += sample + text_width + GAP;
    }

  if (rtl)
    mirror (layout, from, x, width);

  return (row + 1) * pitch;
}
