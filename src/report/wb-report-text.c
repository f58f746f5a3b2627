/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-document-private.h"

#define TITLE_PT 21.0
#define LEAD_PT 12.5
#define INDENT 12.0

static void
draw_line (const WbReportPiece *self,
           cairo_t             *cr,
           double               width)
{
  wb_report_layout_draw_lines (self->layout, cr, self->indent, 0, self->line, self->line + 1);
  if (self->bullet)
    {
      cairo_new_path (cr); /* the text left a current point behind */
      cairo_arc (cr, self->indent / 2 - 1, self->height / 2, 1.6, 0, 2 * G_PI);
      cairo_fill (cr);
    }
}

/* From the top of a line to the top of the next one. */
static double
get_advance (PangoLayout *layout,
             int          line,
             int          n)
{
  if (line + 1 == n)
    return wb_report_layout_get_lines_height (layout, line, n);
  return wb_report_layout_get_lines_height (layout, line, line + 2) - wb_report_layout_get_lines_height (layout, line + 1, line + 2);
}

/* A paragraph's lines flow into one; what follows from the page before begins one too. */
static void
say_line (const WbReportPiece *self,
          GString             *text)
{
  PangoLayoutLine *line = pango_layout_get_line_readonly (self->layout, self->line);

  if (text->len > 0)
    g_string_append_c (text, self->line == 0 ? '\n' : ' ');
  g_string_append_len (text, pango_layout_get_text (self->layout) + line->start_index, line->length);
}

/* A text as its lines: the first two and the last two stay together. Takes the layout. */
static void
add_lines (WbReportDocument *self,
           PangoLayout      *layout,
           double            gap,
           double            indent,
           gboolean          bullet)
{
  int n = pango_layout_get_line_count (layout);

  for (int i = 0; i < n; i++)
    {
      WbReportPiece *piece = wb_report_piece_new (self);

      piece->layout = g_object_ref (layout);
      piece->line = i;
      piece->indent = indent;
      piece->bullet = bullet && i == 0;
      piece->point = bullet;
      piece->height = get_advance (layout, i, n);
      piece->gap = i == 0 ? gap : 0;
      piece->keep_next = n > 1 && (i == 0 || i == n - 2);
      piece->draw = draw_line;
      piece->say = say_line;
      wb_report_document_add_piece (self, piece);
    }
  g_object_unref (layout);
}

static WbReportPiece *
last_piece (WbReportDocument *self)
{
  return g_ptr_array_index (self->pieces, self->pieces->len - 1);
}

void
wb_report_document_add_title (WbReportDocument *self,
                              const char       *text,
                              const char       *below)
{
  double width = wb_report_document_get_text_width (self);

  add_lines (self, wb_report_layout_new (self, text, TITLE_PT, PANGO_WEIGHT_BOLD, width), 0, 0, FALSE);
  if (below != NULL)
    add_lines (self, wb_report_layout_new (self, below, WB_REPORT_BODY_PT, PANGO_WEIGHT_NORMAL, width), 2, 0, FALSE);
  wb_report_document_add_space (self, 6);
}

void
wb_report_document_add_heading (WbReportDocument *self,
                                int               level,
                                const char       *text)
{
  guint first = self->pieces->len;
  WbReportPiece *piece;

  add_lines (self, wb_report_layout_new (self, text, level == 1 ? 14.5 : 11, PANGO_WEIGHT_BOLD,
                                         wb_report_document_get_text_width (self)),
             level == 1 ? 20 : 12, 0, FALSE);
  piece = g_ptr_array_index (self->pieces, first);
  piece->level = level;
  piece->text = g_strdup (text);
  last_piece (self)->keep_next = TRUE;
  wb_report_document_add_space (self, level == 1 ? 2 : 0);
  last_piece (self)->keep_next = TRUE;
}

void
wb_report_document_add_paragraph (WbReportDocument *self,
                                  WbReportTextStyle style,
                                  const char       *text)
{
  double size = style == WB_REPORT_TEXT_LEAD ? LEAD_PT : style == WB_REPORT_TEXT_SMALL ? WB_REPORT_SMALL_PT : WB_REPORT_BODY_PT;
  PangoWeight weight = style == WB_REPORT_TEXT_STRONG ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL;
  PangoLayout *layout = wb_report_layout_new (self, text, size, weight, wb_report_document_get_text_width (self));

  if (style == WB_REPORT_TEXT_SUM)
    {
      PangoFontDescription *font = pango_font_description_copy (pango_layout_get_font_description (layout));

      pango_font_description_set_family (font, "DejaVu Sans Mono, monospace");
      pango_font_description_set_absolute_size (font, WB_REPORT_SMALL_PT * PANGO_SCALE);
      pango_layout_set_font_description (layout, font);
      pango_font_description_free (font);
    }
  add_lines (self, layout, style == WB_REPORT_TEXT_SUM ? 1 : 5, 0, FALSE);
}

void
wb_report_document_add_point (WbReportDocument *self,
                              const char       *text)
{
  add_lines (self, wb_report_layout_new (self, text, WB_REPORT_BODY_PT, PANGO_WEIGHT_NORMAL,
                                         wb_report_document_get_text_width (self) - INDENT),
             3, INDENT, TRUE);
}

static WbReportPiece *
get_piece (WbReportDocument *self,
           guint             index)
{
  return g_ptr_array_index (self->pieces, index);
}

/* Points from `first` to `end`, the last of them beginning at `last`. */
static void
keep_list (WbReportDocument *self,
           guint             first,
           guint             last,
           guint             end)
{
  guint second = first + 1;

  if (last == first)
    {
      get_piece (self, first)->bullet = FALSE;
      for (guint i = first; i < end; i++)
        get_piece (self, i)->indent = 0;
      return;
    }
  while (!get_piece (self, second)->bullet)
    second++;
  get_piece (self, second - 1)->keep_next = TRUE;
  get_piece (self, last - 1)->keep_next = TRUE;
}

void
wb_report_points_keep (WbReportDocument *self)
{
  guint first = G_MAXUINT, last = 0;

  for (guint i = 0; i <= self->pieces->len; i++)
    {
      gboolean point = i < self->pieces->len && get_piece (self, i)->point;

      if (point && get_piece (self, i)->bullet)
        {
          first = MIN (first, i);
          last = i;
        }
      if (!point && first != G_MAXUINT)
        {
          keep_list (self, first, last, i);
          first = G_MAXUINT;
        }
    }
}

/* ---- Contents ---- */

/* One row: up to two headings and where they stand. */
typedef struct
{
  WbReportDocument    *document;   /* owns the piece */
  const WbReportPiece *headings[2];
  PangoLayout         *layouts[2];
} Entry;

static void
draw_entry (const WbReportPiece *self,
            cairo_t             *cr,
            double               width)
{
  const Entry *entry = self->data;
  double column = width / 2 - 12;

  for (guint i = 0; i < 2 && entry->headings[i] != NULL; i++)
    {
      double x = i * (width / 2 + 12), text = wb_report_layout_get_width (entry->layouts[i]);
      g_autofree char *number = NULL;
      g_autofree char *target = NULL;
      g_autoptr (PangoLayout) layout = NULL;
      double number_width, y;
      guint page;

      if (!wb_report_pages_find (entry->document, entry->headings[i], &page, &y))
        continue;
      number = wb_report_pages_dup_label (entry->document, page);
      target = g_strdup_printf ("page=%u pos=[%d %d]", page + 1, (int) WB_REPORT_MARGIN, (int) y);
      layout = wb_report_layout_new (entry->document, number, WB_REPORT_BODY_PT, PANGO_WEIGHT_NORMAL, 0);
      number_width = wb_report_layout_get_width (layout);
      cairo_tag_begin (cr, CAIRO_TAG_LINK, target);
      cairo_move_to (cr, x, 0);
      pango_cairo_show_layout (cr, entry->layouts[i]);
      cairo_move_to (cr, x + column - number_width, 0);
      pango_cairo_show_layout (cr, layout);
      cairo_tag_end (cr, CAIRO_TAG_LINK);
      cairo_save (cr);
      cairo_set_line_width (cr, 0.5);
      cairo_set_dash (cr, (double[]) { 0.5, 2.5 }, 2, 0);
      cairo_move_to (cr, x + text + 4, self->height - 4);
      cairo_line_to (cr, MAX (x + column - number_width - 4, x + text + 4), self->height - 4);
      cairo_stroke (cr);
      cairo_restore (cr);
    }
}

static void
say_entry (const WbReportPiece *self,
           GString             *text)
{
  const Entry *entry = self->data;

  for (guint i = 0; i < 2 && entry->headings[i] != NULL; i++)
    g_string_append_printf (text, "%s%s", text->len > 0 ? "\n" : "", entry->headings[i]->text);
}

static void
free_entry (WbReportPiece *self)
{
  Entry *entry = self->data;

  for (guint i = 0; i < 2; i++)
    g_clear_object (&entry->layouts[i]);
  g_free (entry);
}

static WbReportPiece *
entry_piece_new (WbReportDocument    *self,
                 const WbReportPiece *left,
                 const WbReportPiece *right)
{
  WbReportPiece *piece = wb_report_piece_new (self);
  Entry *entry = g_new0 (Entry, 1);

  entry->document = self;
  entry->headings[0] = left;
  entry->headings[1] = right;
  for (guint i = 0; i < 2 && entry->headings[i] != NULL; i++)
    {
      entry->layouts[i] = wb_report_layout_new (self, entry->headings[i]->text, WB_REPORT_BODY_PT, PANGO_WEIGHT_NORMAL,
                                                wb_report_document_get_text_width (self) / 2 - 40);
      wb_report_layout_limit (entry->layouts[i], 1);
    }
  piece->height = wb_report_layout_get_height (entry->layouts[0]) + 1;
  piece->data = entry;
  piece->draw = draw_entry;
  piece->say = say_entry;
  piece->free_data = free_entry;
  return piece;
}

void
wb_report_document_add_contents (WbReportDocument *self)
{
  self->contents_at = (int) self->pieces->len;
}

void
wb_report_contents_insert (WbReportDocument *self)
{
  g_autoptr (GPtrArray) headings = g_ptr_array_new ();
  guint at = (guint) self->contents_at, rows;

  if (self->contents_at < 0)
    return;
  self->contents_at = -1;
  for (guint i = at; i < self->pieces->len; i++)
    if (((WbReportPiece *) g_ptr_array_index (self->pieces, i))->level == 1)
      g_ptr_array_add (headings, g_ptr_array_index (self->pieces, i));
  rows = (headings->len + 1) / 2;
  for (guint row = 0; row < rows; row++)
    {
      WbReportPiece *right = row + rows < headings->len ? g_ptr_array_index (headings, row + rows) : NULL;
      WbReportPiece *piece = entry_piece_new (self, g_ptr_array_index (headings, row), right);

      piece->gap = row == 0 ? 4 : 0;
      piece->keep_next = row + 1 < rows;
      g_ptr_array_insert (self->pieces, (int) (at + row), piece);
    }
}
