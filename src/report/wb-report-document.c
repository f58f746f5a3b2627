/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-document-private.h"

#define LEAD_PT 13.0
#define SMALL_PT 8.5
#define INDENT 12.0
#define WARNING_PAD 8.0

static const struct { double width, height; } papers[] = {
  [WB_REPORT_A4] = { 595.28, 841.89 },
  [WB_REPORT_LETTER] = { 612, 792 },
};

WbReportDocument *
wb_report_document_new (WbReportPaper paper,
                        const char   *title,
                        const char   *subject,
                        const char   *author)
{
  WbReportDocument *self = g_new0 (WbReportDocument, 1);
  cairo_font_options_t *options = cairo_font_options_create ();
  PangoFontMap *fonts = pango_cairo_font_map_new ();

  self->paper = paper;
  self->width = papers[paper].width;
  self->height = papers[paper].height;
  self->title = g_strdup (title);
  self->subject = g_strdup (subject);
  self->author = g_strdup (author);
  self->pieces = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_report_piece_free);
  self->heads = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_report_piece_free);

  pango_cairo_font_map_set_resolution (PANGO_CAIRO_FONT_MAP (fonts), 72);
  self->context = pango_font_map_create_context (fonts);
  cairo_font_options_set_hint_style (options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF);
  pango_cairo_context_set_font_options (self->context, options);
  pango_context_set_round_glyph_positions (self->context, FALSE);
  cairo_font_options_destroy (options);
  g_object_unref (fonts);
  return self;
}

void
wb_report_document_free (WbReportDocument *self)
{
  g_free (self->title);
  g_free (self->subject);
  g_free (self->author);
  g_free (self->letterhead);
  g_free (self->letterhead_lines);
  g_free (self->foot);
  g_free (self->mark);
  g_ptr_array_unref (self->pieces);
  g_ptr_array_unref (self->heads);
  g_clear_pointer (&self->placed, g_array_unref);
  g_object_unref (self->context);
  g_free (self);
}

void
wb_report_document_set_letterhead (WbReportDocument *self,
                                   const char       *name,
                                   const char       *lines)
{
  g_free (self->letterhead);
  g_free (self->letterhead_lines);
  self->letterhead = g_strdup (name);
  self->letterhead_lines = g_strdup (lines);
}

void
wb_report_document_set_foot (WbReportDocument *self,
                             const char       *text)
{
  g_free (self->foot);
  self->foot = g_strdup (text);
}

void
wb_report_document_set_mark (WbReportDocument *self,
                             const char       *text)
{
  g_free (self->mark);
  self->mark = g_strdup (text);
}

void
wb_report_document_get_size (const WbReportDocument *self,
                             double                 *width,
                             double                 *height)
{
  *width = self->width;
  *height = self->height;
}

double
wb_report_document_get_text_width (const WbReportDocument *self)
{
  return self->width - 2 * WB_REPORT_MARGIN;
}

/* ---- Pieces ---- */

WbReportPiece *
wb_report_piece_new (WbReportDocument *self)
{
  WbReportPiece *piece = g_new0 (WbReportPiece, 1);

  /* what was broken into pages is broken anew */
  g_clear_pointer (&self->placed, g_array_unref);
  piece->line = -1;
  return piece;
}

void
wb_report_piece_free (WbReportPiece *piece)
{
  if (piece->free_data != NULL)
    piece->free_data (piece);
  g_clear_object (&piece->layout);
  g_clear_pointer (&piece->chart, wb_chart_layout_free);
  g_free (piece->text);
  g_free (piece);
}

PangoLayout *
wb_report_layout_new (const WbReportDocument *self,
                      const char             *text,
                      double                  size_pt,
                      PangoWeight             weight,
                      double                  width)
{
  PangoLayout *layout = pango_layout_new (self->context);
  PangoFontDescription *font = pango_font_description_from_string ("DejaVu Sans");

  pango_font_description_set_absolute_size (font, size_pt * PANGO_SCALE);
  pango_font_description_set_weight (font, weight);
  pango_layout_set_font_description (layout, font);
  pango_font_description_free (font);
  pango_layout_set_line_spacing (layout, 1.15f);
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  if (width > 0)
    pango_layout_set_width (layout, (int) (width * PANGO_SCALE));
  pango_layout_set_text (layout, text != NULL ? text : "", -1);
  return layout;
}

double
wb_report_layout_get_height (PangoLayout *layout)
{
  PangoRectangle logical;

  pango_layout_get_extents (layout, NULL, &logical);
  return (double) logical.height / PANGO_SCALE;
}

static void
draw_line (const WbReportPiece *self,
           cairo_t             *cr,
           double               width)
{
  PangoLayoutIter *iter = pango_layout_get_iter (self->layout);
  PangoRectangle logical;
  int baseline;

  for (int i = 0; i < self->line; i++)
    pango_layout_iter_next_line (iter);
  pango_layout_iter_get_line_extents (iter, NULL, &logical);
  baseline = pango_layout_iter_get_baseline (iter);
  cairo_move_to (cr, self->indent + (double) logical.x / PANGO_SCALE,
                 (double) (baseline - logical.y) / PANGO_SCALE);
  pango_cairo_show_layout_line (cr, pango_layout_iter_get_line_readonly (iter));
  pango_layout_iter_free (iter);
  if (self->text != NULL)
    {
      cairo_arc (cr, self->indent / 2 - 1, self->height / 2, 1.6, 0, 2 * G_PI);
      cairo_fill (cr);
    }
}

static double
line_height (PangoLayout *layout,
             int          line)
{
  PangoLayoutIter *iter = pango_layout_get_iter (layout);
  PangoRectangle logical;

  for (int i = 0; i < line; i++)
    pango_layout_iter_next_line (iter);
  pango_layout_iter_get_line_extents (iter, NULL, &logical);
  pango_layout_iter_free (iter);
  return (double) logical.height / PANGO_SCALE;
}

/* A paragraph as its lines: the first two and the last two stay together. Takes the layout. */
static void
add_lines (WbReportDocument *self,
           PangoLayout      *layout,
           double            gap,
           double            indent,
           gboolean          point,
           int               level)
{
  int n = pango_layout_get_line_count (layout);

  for (int i = 0; i < n; i++)
    {
      WbReportPiece *piece = wb_report_piece_new (self);

      piece->layout = g_object_ref (layout);
      piece->line = i;
      piece->indent = indent;
      piece->height = line_height (layout, i);
      piece->gap = i == 0 ? gap : 0;
      piece->keep_next = level > 0 || (n > 1 && (i == 0 || i == n - 2));
      piece->draw = draw_line;
      piece->level = i == 0 ? level : 0;
      if ((point || level > 0) && i == 0)
        piece->text = g_strdup (level > 0 ? pango_layout_get_text (layout) : "point");
      g_ptr_array_add (self->pieces, piece);
    }
  g_object_unref (layout);
}

static void
draw_heading (const WbReportPiece *self,
              cairo_t             *cr,
              double               width)
{
  WbReportPiece plain = *self;

  plain.text = NULL;
  draw_line (&plain, cr, width);
}

void
wb_report_document_add_heading (WbReportDocument *self,
                                int               level,
                                const char       *text)
{
  guint first = self->pieces->len;
  double size = level == 1 ? 15 : 11.5;

  add_lines (self, wb_report_layout_new (self, text, size, PANGO_WEIGHT_BOLD, wb_report_document_get_text_width (self)),
             level == 1 ? 18 : 12, 0, FALSE, level);
  for (guint i = first; i < self->pieces->len; i++)
    ((WbReportPiece *) g_ptr_array_index (self->pieces, i))->draw = draw_heading;
  wb_report_document_add_space (self, 3);
  ((WbReportPiece *) g_ptr_array_index (self->pieces, self->pieces->len - 1))->keep_next = TRUE;
}

void
wb_report_document_add_paragraph (WbReportDocument *self,
                                  WbReportTextStyle style,
                                  const char       *text)
{
  double size = style == WB_REPORT_TEXT_LEAD ? LEAD_PT : style == WB_REPORT_TEXT_SMALL ? SMALL_PT : WB_REPORT_BODY_PT;
  PangoWeight weight = style == WB_REPORT_TEXT_STRONG ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL;
  PangoLayout *layout = wb_report_layout_new (self, text, size, weight, wb_report_document_get_text_width (self));

  if (style == WB_REPORT_TEXT_SUM)
    {
      PangoFontDescription *font = pango_font_description_copy (pango_layout_get_font_description (layout));

      pango_font_description_set_family (font, "DejaVu Sans Mono");
      pango_font_description_set_absolute_size (font, SMALL_PT * PANGO_SCALE);
      pango_layout_set_font_description (layout, font);
      pango_font_description_free (font);
    }
  add_lines (self, layout, style == WB_REPORT_TEXT_SUM ? 1 : 5, 0, FALSE, 0);
}

void
wb_report_document_add_point (WbReportDocument *self,
                              const char       *text)
{
  add_lines (self, wb_report_layout_new (self, text, WB_REPORT_BODY_PT, PANGO_WEIGHT_NORMAL, wb_report_document_get_text_width (self) - INDENT),
             3, INDENT, TRUE, 0);
}

/* The safety-alert symbol: an exclamation mark in a triangle (ISO 3864's general form, drawn plainly). */
static void
draw_alert (cairo_t *cr,
            double   x,
            double   y,
            double   size)
{
  cairo_save (cr);
  cairo_translate (cr, x, y);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_width (cr, size * 0.08);
  cairo_move_to (cr, size / 2, size * 0.06);
  cairo_line_to (cr, size * 0.98, size * 0.9);
  cairo_line_to (cr, size * 0.02, size * 0.9);
  cairo_close_path (cr);
  cairo_stroke (cr);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  cairo_move_to (cr, size / 2, size * 0.34);
  cairo_line_to (cr, size / 2, size * 0.6);
  cairo_stroke (cr);
  cairo_arc (cr, size / 2, size * 0.75, size * 0.05, 0, 2 * G_PI);
  cairo_fill (cr);
  cairo_restore (cr);
}

static void
draw_warning (const WbReportPiece *self,
              cairo_t             *cr,
              double               width)
{
  cairo_set_line_width (cr, 0.8);
  cairo_rectangle (cr, 0.4, 0.4, width - 0.8, self->height - 0.8);
  cairo_stroke (cr);
  draw_alert (cr, WARNING_PAD, WARNING_PAD, self->indent - 2 * WARNING_PAD);
  cairo_move_to (cr, self->indent, WARNING_PAD);
  pango_cairo_show_layout (cr, self->layout);
}

void
wb_report_document_add_warning (WbReportDocument *self,
                                const char       *text)
{
  WbReportPiece *piece = wb_report_piece_new (self);
  g_autofree char *escaped = g_markup_escape_text (text, -1);
  g_autofree char *markup = g_strdup_printf ("<b>WARNING</b>  %s", escaped);

  piece->indent = 24 + 2 * WARNING_PAD;
  piece->layout = wb_report_layout_new (self, "", WB_REPORT_BODY_PT, PANGO_WEIGHT_NORMAL,
                                        wb_report_document_get_text_width (self) - piece->indent - WARNING_PAD);
  pango_layout_set_markup (piece->layout, markup, -1);
  piece->height = MAX (wb_report_layout_get_height (piece->layout), 24) + 2 * WARNING_PAD;
  piece->gap = 8;
  piece->draw = draw_warning;
  g_ptr_array_add (self->pieces, piece);
}

static void
draw_chart (const WbReportPiece *self,
            cairo_t             *cr,
            double               width)
{
  if (self->chart != NULL)
    wb_chart_layout_draw (self->chart, cr, WB_CHART_THEME_LIGHT);
  else
    {
      cairo_move_to (cr, 0, 0);
      pango_cairo_show_layout (cr, self->layout);
    }
}

void
wb_report_document_add_chart (WbReportDocument *self,
                              WbChart          *chart,
                              double            height)
{
  WbReportPiece *piece = wb_report_piece_new (self);
  double width = wb_report_document_get_text_width (self);
  double room = self->height - 2 * WB_REPORT_MARGIN - WB_REPORT_HEAD - WB_REPORT_FOOT - 30;
  g_autoptr (GError) error = NULL;

  piece->height = MIN (height, room);
  piece->gap = 10;
  piece->draw = draw_chart;
  piece->chart = wb_chart_layout_new (chart, width, piece->height, 0.9, &error);
  if (piece->chart == NULL)
    {
      /* A chart that cannot be drawn says why in its place. */
      piece->layout = wb_report_layout_new (self, error->message, WB_REPORT_BODY_PT, PANGO_WEIGHT_NORMAL, width);
      piece->height = wb_report_layout_get_height (piece->layout);
    }
  g_ptr_array_add (self->pieces, piece);
}

static void
draw_nothing (const WbReportPiece *self,
              cairo_t             *cr,
              double               width)
{
}

void
wb_report_document_add_space (WbReportDocument *self,
                              double            height)
{
  WbReportPiece *piece = wb_report_piece_new (self);

  piece->height = 0;
  piece->gap = height;
  piece->draw = draw_nothing;
  g_ptr_array_add (self->pieces, piece);
}

void
wb_report_document_add_page_break (WbReportDocument *self)
{
  WbReportPiece *piece = wb_report_piece_new (self);

  piece->breaks = TRUE;
  piece->draw = draw_nothing;
  g_ptr_array_add (self->pieces, piece);
}
