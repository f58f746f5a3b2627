/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-table-private.h"

#include "wb-report-words-private.h"

#define PAD 4.0
#define ROW_PAD 2.5
#define CELL_MOST 1500     /* characters: a cell is looked up, not read */
#define SHORT 0.15         /* of a page's height: a table up to this stays whole */
#define LINES_AT_MOST 24   /* of a row on one page: one of more goes on in a further piece */

static void
row_free (WbReportRow *row)
{
  g_strfreev (row->cells);
  g_free (row);
}

WbReportTable *
wb_report_table_new (guint                n,
                     const char *const   *heads,
                     const WbReportAlign *aligns,
                     const double        *shares)
{
  WbReportTable *table = g_new0 (WbReportTable, 1);

  g_return_val_if_fail (n > 0 && aligns != NULL && shares != NULL, table);

  table->n = n;
  table->has_heads = heads != NULL;
  table->heads = g_new0 (char *, n + 1);
  for (guint i = 0; i < n; i++)
    table->heads[i] = g_strdup (heads != NULL && heads[i] != NULL ? heads[i] : "");
  table->aligns = g_memdup2 (aligns, n * sizeof *aligns);
  table->shares = g_memdup2 (shares, n * sizeof *shares);
  table->rows = g_ptr_array_new_with_free_func ((GDestroyNotify) row_free);
  return table;
}

void
wb_report_table_free (WbReportTable *table)
{
  g_strfreev (table->heads);
  g_free (table->aligns);
  g_free (table->shares);
  g_ptr_array_unref (table->rows);
  g_free (table);
}

void
wb_report_table_add_row (WbReportTable     *table,
                         const char *const *cells,
                         gboolean           strong)
{
  WbReportRow *row = g_new0 (WbReportRow, 1);

  row->cells = g_new0 (char *, table->n + 1);
  for (guint i = 0; i < table->n; i++)
    row->cells[i] = wb_report_dup_clipped (cells[i], CELL_MOST);
  row->strong = strong;
  g_ptr_array_add (table->rows, row);
}

void
wb_report_table_add_band (WbReportTable *table,
                          const char    *text)
{
  WbReportRow *row = g_new0 (WbReportRow, 1);

  row->cells = g_new0 (char *, 2);
  row->cells[0] = wb_report_dup_clipped (text, CELL_MOST);
  row->band = TRUE;
  g_ptr_array_add (table->rows, row);
}

void
wb_report_table_set_boxes (WbReportTable *table,
                           double         height)
{
  table->box_height = height;
}

/* ---- Rows ---- */

/* Lines [first, end) of each column's layout, and where the columns stand. */
typedef struct
{
  guint         n;
  double       *x;          /* n + 1 */
  PangoLayout **layouts;
  int           first, end;
  gboolean      head, band, boxes, last;
} Line;

static void
draw_rules (const WbReportPiece *self,
            const Line          *line,
            cairo_t             *cr)
{
  double width = line->x[line->n];

  cairo_set_line_width (cr, line->boxes ? 0.6 : 0.35);
  cairo_set_source_rgb (cr, 0.55, 0.55, 0.55);
  if (line->boxes)
    {
      for (guint i = 0; i <= line->n; i++)
        {
          cairo_move_to (cr, line->x[i], 0);
          cairo_line_to (cr, line->x[i], self->height);
        }
      cairo_move_to (cr, 0, 0);
      cairo_line_to (cr, width, 0);
    }
  if (line->last)
    {
      cairo_move_to (cr, 0, self->height);
      cairo_line_to (cr, width, self->height);
    }
  cairo_stroke (cr);
}

static void
draw_row (const WbReportPiece *self,
          cairo_t             *cr,
          double               width)
{
  const Line *line = self->data;

  cairo_save (cr);
  if (line->head)
    {
      cairo_set_source_rgb (cr, 0.90, 0.92, 0.94);
      cairo_rectangle (cr, 0, 0, line->x[line->n], self->height);
      cairo_fill (cr);
    }
  cairo_set_source_rgb (cr, 0, 0, 0);
  for (guint i = 0; i < line->n; i++)
    wb_report_layout_draw_lines (line->layouts[i], cr, line->x[i] + PAD, ROW_PAD + (line->band ? ROW_PAD : 0), line->first, line->end);
  draw_rules (self, line, cr);
  cairo_restore (cr);
}

/* What goes on from the page before was said there. */
static void
say_row (const WbReportPiece *self,
         GString             *text)
{
  const Line *line = self->data;

  if (line->first > 0)
    return;
  for (guint i = 0; i < line->n; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? "; " : text->len > 0 ? "\n" : "", pango_layout_get_text (line->layouts[i]));
}

static void
free_row (WbReportPiece *self)
{
  Line *line = self->data;

  for (guint i = 0; i < line->n; i++)
    g_object_unref (line->layouts[i]);
  g_free (line->layouts);
  g_free (line->x);
  g_free (line);
}

static const PangoAlignment alignments[] = {
  [WB_REPORT_LEFT] = PANGO_ALIGN_LEFT,
  [WB_REPORT_RIGHT] = PANGO_ALIGN_RIGHT,
  [WB_REPORT_CENTRE] = PANGO_ALIGN_CENTER,
};

/* Layouts of a row's cells; how many lines the longest has. */
static PangoLayout **
lay_out (WbReportDocument    *self,
         const WbReportTable *table,
         const WbReportRow   *row,
         const double        *x,
         guint                n,
         int                 *lines)
{
  PangoLayout **layouts = g_new0 (PangoLayout *, n);

  *lines = 1;
  for (guint i = 0; i < n; i++)
    {
      layouts[i] = wb_report_layout_new (self, row->cells[i], WB_REPORT_CELL_PT, row->strong || row->band ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL,
                                         MAX (x[i + 1] - x[i] - 2 * PAD, 4));
      if (!row->band)
        pango_layout_set_alignment (layouts[i], alignments[table->aligns[i]]);
      *lines = MAX (*lines, pango_layout_get_line_count (layouts[i]));
    }
  return layouts;
}

static WbReportPiece *
row_piece (WbReportDocument    *self,
           const WbReportTable *table,
           const WbReportRow   *row,
           const double        *x,
           guint                n,
           PangoLayout        **layouts,
           int                  first,
           int                  end)
{
  WbReportPiece *piece = wb_report_piece_new (self);
  Line *line = g_new0 (Line, 1);

  *line = (Line) { .n = n, .x = g_memdup2 (x, (n + 1) * sizeof *x), .layouts = g_new0 (PangoLayout *, n), .first = first, .end = end,
                   .head = row->head, .band = row->band, .boxes = table->box_height > 0 && !row->band };
  for (guint i = 0; i < n; i++)
    {
      line->layouts[i] = g_object_ref (layouts[i]);
      piece->height = MAX (piece->height, wb_report_layout_get_lines_height (layouts[i], first, end));
    }
  piece->height += 2 * ROW_PAD + (row->band ? ROW_PAD : 0);
  if (!row->head && !row->band)
    piece->height = MAX (piece->height, table->box_height);
  piece->data = line;
  piece->draw = draw_row;
  piece->say = say_row;
  piece->free_data = free_row;
  return piece;
}

/* A row as its pieces, which are one unless it is very long. */
static void
add_row_pieces (WbReportDocument    *self,
                const WbReportTable *table,
                const WbReportRow   *row,
                const double        *x,
                GPtrArray           *pieces)
{
  const double across[] = { 0, x[table->n] };
  guint n = row->band ? 1 : table->n;
  int lines;
  PangoLayout **layouts = lay_out (self, table, row, row->band ? across : x, n, &lines);
  int at_most = row->head || row->band ? 4 : LINES_AT_MOST; /* heads are repeated, so they must be short */

  for (int first = 0; first < lines; first += at_most)
    {
      WbReportPiece *piece = row_piece (self, table, row, row->band ? across : x, n, layouts, first, MIN (first + at_most, lines));

      ((Line *) piece->data)->last = first + at_most >= lines || row->head || row->band;
      g_ptr_array_add (pieces, piece);
      if (row->head || row->band)
        break;
    }
  for (guint i = 0; i < n; i++)
    g_object_unref (layouts[i]);
  g_free (layouts);
}

/* ---- The table ---- */

/* The only piece of a head or band, kept aside for the pages on which the table goes on. */
static WbReportPiece *
add_repeated (WbReportDocument    *self,
              const WbReportTable *table,
              const WbReportRow   *row,
              const double        *x)
{
  g_autoptr (GPtrArray) pieces = g_ptr_array_new ();

  add_row_pieces (self, table, row, x, pieces);
  g_ptr_array_add (self->heads, g_ptr_array_index (pieces, 0));
  return g_ptr_array_index (pieces, 0);
}

/* The rows from `first` to the next band. */
static double
get_group_height (GPtrArray *pieces,
                  guint      first,
                  guint     *end)
{
  double height = 0;

  for (*end = first; *end < pieces->len; (*end)++)
    {
      const WbReportPiece *piece = g_ptr_array_index (pieces, *end);

      if (*end > first && ((const Line *) piece->data)->band)
        break;
      height += piece->height;
    }
  return height;
}

/* Rows of a band that are few stay with it, all of them. */
static void
keep_groups (const WbReportDocument *self,
             GPtrArray              *pieces)
{
  guint end;

  for (guint i = 0; i < pieces->len; i = end)
    {
      const WbReportPiece *first = g_ptr_array_index (pieces, i);
      double height = get_group_height (pieces, i, &end);

      if (!((const Line *) first->data)->band || height > SHORT * wb_report_document_get_text_height (self))
        continue;
      for (guint k = i; k + 1 < end; k++)
        ((WbReportPiece *) g_ptr_array_index (pieces, k))->keep_next = TRUE;
    }
}

/* A short table stays whole; of a long one the first two rows stay with the head, the last two with each other. */
static void
keep_together (const WbReportDocument *self,
               GPtrArray              *pieces)
{
  double height = 0;

  for (guint i = 0; i < pieces->len; i++)
    height += ((const WbReportPiece *) g_ptr_array_index (pieces, i))->height;
  for (guint i = 0; i + 1 < pieces->len; i++)
    {
      WbReportPiece *piece = g_ptr_array_index (pieces, i);
      const Line *line = piece->data;

      piece->keep_next = line->head || line->band || i == 1 || i + 2 == pieces->len || height <= SHORT * wb_report_document_get_text_height (self);
    }
}

void
wb_report_document_add_table (WbReportDocument *self,
                              WbReportTable    *table)
{
  g_autoptr (GPtrArray) pieces = g_ptr_array_new ();
  g_autofree double *x = wb_report_table_place_columns (self, table, PAD);
  WbReportRow heads = { .cells = table->heads, .strong = TRUE, .head = TRUE };
  WbReportPiece *head = NULL, *band = NULL;

  if (table->has_heads)
    {
      head = add_repeated (self, table, &heads, x);
      add_row_pieces (self, table, &heads, x, pieces);
    }
  for (guint i = 0; i < table->rows->len; i++)
    {
      const WbReportRow *row = g_ptr_array_index (table->rows, i);
      guint first = pieces->len;

      add_row_pieces (self, table, row, x, pieces);
      if (row->band)
        band = add_repeated (self, table, row, x);
      for (guint k = first; k < pieces->len; k++)
        {
          WbReportPiece *piece = g_ptr_array_index (pieces, k);

          piece->head = head;
          piece->band = row->band ? NULL : band;
        }
    }
  keep_together (self, pieces);
  keep_groups (self, pieces);
  for (guint i = 0; i < pieces->len; i++)
    {
      WbReportPiece *piece = g_ptr_array_index (pieces, i);

      piece->gap = i == 0 ? 6 : 0;
      wb_report_document_add_piece (self, piece);
    }
  wb_report_table_free (table);
}
