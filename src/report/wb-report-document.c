/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-document-private.h"

#include <glib/gi18n-lib.h>

#include "wb-report-picture-private.h"
#include "wb-report-words-private.h"

/* The charts' own family, so that a page has one hand. */
#define FAMILY "Cantarell, DejaVu Sans, sans-serif"

static const struct { double width, height; } papers[] = {
  [WB_REPORT_A4] = { 595.28, 841.89 },
  [WB_REPORT_LETTER] = { 612, 792 },
};

static PangoContext *
context_new (void)
{
  g_autoptr (PangoFontMap) fonts = pango_cairo_font_map_new ();
  cairo_font_options_t *options = cairo_font_options_create ();
  PangoContext *context;

  pango_cairo_font_map_set_resolution (PANGO_CAIRO_FONT_MAP (fonts), 72);
  context = pango_font_map_create_context (fonts);
  cairo_font_options_set_hint_style (options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF);
  pango_cairo_context_set_font_options (context, options);
  pango_context_set_round_glyph_positions (context, FALSE);
  /* the program's language decides, not the name that happens to stand first in a paragraph */
  pango_context_set_base_dir (context, wb_report_runs_right_to_left (_("Contents")) ? PANGO_DIRECTION_RTL : PANGO_DIRECTION_LTR);
  cairo_font_options_destroy (options);
  return context;
}

static WbReportDocument *
document_new (double      width,
              double      height,
              const char *title,
              const char *subject,
              const char *author)
{
  WbReportDocument *self = g_new0 (WbReportDocument, 1);

  self->width = width;
  self->height = height;
  self->title = g_strdup (title);
  self->subject = g_strdup (subject);
  self->author = g_strdup (author);
  self->pieces = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_report_piece_free);
  self->heads = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_report_piece_free);
  self->scale = 1;
  self->contents_at = -1;
  self->context = context_new ();
  return self;
}

WbReportDocument *
wb_report_document_new (WbReportPaper paper,
                        const char   *title,
                        const char   *subject,
                        const char   *author)
{
  g_return_val_if_fail (paper < G_N_ELEMENTS (papers) && title != NULL, NULL);

  return document_new (papers[paper].width, papers[paper].height, title, subject, author);
}

WbReportDocument *
wb_report_document_new_bare (double      width,
                             double      height,
                             const char *title,
                             const char *subject)
{
  WbReportDocument *self = document_new (width, height, title, subject, NULL);

  self->bare = TRUE;
  self->n_pages = 1;
  self->placed = g_array_new (FALSE, FALSE, sizeof (WbReportPlaced));
  return self;
}

void
wb_report_document_free (WbReportDocument *self)
{
  if (self == NULL)
    return;
  g_free (self->title);
  g_free (self->subject);
  g_free (self->author);
  g_free (self->letterhead);
  g_free (self->letterhead_lines);
  g_free (self->foot);
  g_free (self->mark);
  g_clear_pointer (&self->logo, cairo_surface_destroy);
  g_ptr_array_unref (self->pieces);
  g_ptr_array_unref (self->heads);
  g_clear_pointer (&self->placed, g_array_unref);
  g_object_unref (self->context);
  g_free (self);
}

void
wb_report_document_set_landscape (WbReportDocument *self)
{
  double width = self->width;

  g_return_if_fail (self->pieces->len == 0);

  self->width = MAX (width, self->height);
  self->height = MIN (width, self->height);
}

void
wb_report_document_set_scale (WbReportDocument *self,
                              double            scale)
{
  g_return_if_fail (self->pieces->len == 0 && scale > 0 && scale <= 1);

  self->scale = scale;
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
wb_report_document_set_logo (WbReportDocument      *self,
                             const WbReportPicture *logo)
{
  g_clear_pointer (&self->logo, cairo_surface_destroy);
  if (logo != NULL)
    self->logo = wb_report_picture_new_surface (logo);
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
  return (self->width - 2 * WB_REPORT_MARGIN) / self->scale;
}

double
wb_report_document_get_text_height (const WbReportDocument *self)
{
  return (wb_report_frame_get_bottom (self) - wb_report_frame_get_top (self, 1)) / self->scale;
}

/* ---- Pieces ---- */

WbReportPiece *
wb_report_piece_new (WbReportDocument *self)
{
  WbReportPiece *piece = g_new0 (WbReportPiece, 1);

  /* what was broken into pages is broken anew */
  if (!self->bare)
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
  g_clear_pointer (&piece->picture, wb_chart_unref);
  g_free (piece->text);
  g_free (piece);
}

void
wb_report_document_add_piece (WbReportDocument *self,
                              WbReportPiece    *piece)
{
  g_ptr_array_add (self->pieces, piece);
}

void
wb_report_document_place (WbReportDocument *self,
                          WbReportPiece    *piece,
                          guint             page,
                          double            x,
                          double            y)
{
  WbReportPlaced placed = { piece, page, x, y };

  g_assert (self->bare);
  g_ptr_array_add (self->pieces, piece);
  g_array_append_val (self->placed, placed);
  self->n_pages = MAX (self->n_pages, page + 1);
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

  piece->gap = height;
  piece->draw = draw_nothing;
  wb_report_document_add_piece (self, piece);
}

void
wb_report_document_add_page_break (WbReportDocument *self)
{
  WbReportPiece *piece = wb_report_piece_new (self);

  piece->breaks = TRUE;
  piece->draw = draw_nothing;
  wb_report_document_add_piece (self, piece);
}

void
wb_report_document_begin_appendix (WbReportDocument *self)
{
  g_return_if_fail (self->appendix == NULL);

  wb_report_document_add_page_break (self);
  self->appendix = g_ptr_array_index (self->pieces, self->pieces->len - 1);
}

void
wb_report_document_keep_with_next (WbReportDocument *self)
{
  if (self->pieces->len > 0)
    ((WbReportPiece *) g_ptr_array_index (self->pieces, self->pieces->len - 1))->keep_next = TRUE;
}

void
wb_report_document_begin_whole (WbReportDocument *self)
{
  self->whole_from = self->pieces->len;
}

void
wb_report_document_end_whole (WbReportDocument *self)
{
  for (guint i = self->whole_from; i + 1 < self->pieces->len; i++)
    ((WbReportPiece *) g_ptr_array_index (self->pieces, i))->keep_next = TRUE;
}

/* ---- Type ---- */

PangoLayout *
wb_report_layout_new (const WbReportDocument *self,
                      const char             *text,
                      double                  size_pt,
                      PangoWeight             weight,
                      double                  width)
{
  PangoLayout *layout = pango_layout_new (self->context);
  PangoFontDescription *font = pango_font_description_from_string (FAMILY);

  pango_font_description_set_absolute_size (font, size_pt * PANGO_SCALE);
  pango_font_description_set_weight (font, weight);
  pango_layout_set_font_description (layout, font);
  pango_font_description_free (font);
  pango_layout_set_line_spacing (layout, 1.15f);
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  pango_layout_set_auto_dir (layout, FALSE);
  if (width > 0)
    pango_layout_set_width (layout, (int) (width * PANGO_SCALE));
  pango_layout_set_text (layout, text != NULL ? text : "", -1);
  return layout;
}

void
wb_report_layout_limit (PangoLayout *layout,
                        int          lines)
{
  pango_layout_set_height (layout, -lines);
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
}

double
wb_report_layout_get_height (PangoLayout *layout)
{
  PangoRectangle logical;

  pango_layout_get_extents (layout, NULL, &logical);
  return (double) logical.height / PANGO_SCALE;
}

double
wb_report_layout_get_width (PangoLayout *layout)
{
  PangoRectangle logical;

  pango_layout_get_extents (layout, NULL, &logical);
  return (double) logical.width / PANGO_SCALE;
}

double
wb_report_layout_get_lines_height (PangoLayout *layout,
                                   int          first,
                                   int          end)
{
  PangoLayoutIter *iter = pango_layout_get_iter (layout);
  int top = 0, bottom = 0;
  int line = 0;

  do
    {
      PangoRectangle logical;

      pango_layout_iter_get_line_extents (iter, NULL, &logical);
      if (line == first)
        top = logical.y;
      if (line >= first && line < end)
        bottom = logical.y + logical.height;
    }
  while (++line < end && pango_layout_iter_next_line (iter));
  pango_layout_iter_free (iter);
  return MAX (bottom - top, 0) / (double) PANGO_SCALE;
}

void
wb_report_layout_draw_lines (PangoLayout *layout,
                             cairo_t     *cr,
                             double       x,
                             double       y,
                             int          first,
                             int          end)
{
  PangoLayoutIter *iter = pango_layout_get_iter (layout);
  int top = 0;
  int line = 0;

  do
    {
      PangoRectangle logical;

      pango_layout_iter_get_line_extents (iter, NULL, &logical);
      if (line == first)
        top = logical.y;
      if (line >= first && line < end)
        {
          cairo_move_to (cr, x + (double) logical.x / PANGO_SCALE,
                         y + (double) (pango_layout_iter_get_baseline (iter) - top) / PANGO_SCALE);
          pango_cairo_show_layout_line (cr, pango_layout_iter_get_line_readonly (iter));
        }
      line++;
    }
  while (line < end && pango_layout_iter_next_line (iter));
  pango_layout_iter_free (iter);
}
