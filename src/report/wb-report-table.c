/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-document-private.h"

#define CELL_PT 8.5
#define PAD 4.0
#define ROW_PAD 2.5

typedef struct
{
  char   **cells;
  gboolean strong;
} Row;

struct _WbReportTable
{
  guint          n;
  char         **heads;
  WbReportAlign *aligns;
  double        *shares;
  double         box_height;
  GPtrArray     *rows;      /* Row */
};

/* One row as it is drawn: a layout a column, and where the columns stand. */
typedef struct
{
  guint        n;
  double      *x;           /* n + 1 */
  PangoLayout **layouts;
  gboolean     head, strong, boxes;
} Line;

static void
row_free (Row *row)
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

  table->n = n;
  table->heads = g_new0 (char *, n + 1);
  for (guint i = 0; i < n; i++)
    table->heads[i] = g_strdup (heads[i] != NULL ? heads[i] : "");
  table->aligns = g_memdup2 (aligns, n * sizeof *aligns);
  table->shares = g_memdup2 (shares, n * sizeof *shares);
  table->rows = g_ptr_array_new_with_free_func ((GDestroyNotify) row_free);
  return table;
}

static void
table_free (WbReportTable *table)
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
  Row *row = g_new0 (Row, 1);

  row->cells = g_new0 (char *, table->n + 1);
  for (guint i = 0; i < table->n; i++)
    row->cells[i] = g_strdup (cells[i] != NULL ? cells[i] : "");
  row->strong = strong;
  g_ptr_array_add (table->rows, row);
}

void
wb_report_table_set_boxes (WbReportTable *table,
                           double         height)
{
  table->box_height = height;
}

static double
natural_width (WbReportDocument *self,
               const char       *text,
               gboolean          strong)
{
  g_autoptr (PangoLayout) layout = wb_report_layout_new (self, text, CELL_PT, strong ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL, 0);
  PangoRectangle logical;

  pango_layout_get_extents (layout, NULL, &logical);
  return (double) logical.width / PANGO_SCALE + 1;
}

/* Widest that content asks for; a head's longest word at least. */
static double
column_need (WbReportDocument    *self,
             const WbReportTable *table,
             guint                column)
{
  g_auto (GStrv) words = g_strsplit_set (table->heads[column], " \n", -1);
  double need = 0;

  for (char **word = words; *word != NULL; word++)
    need = MAX (need, natural_width (self, *word, TRUE));
  for (guint i = 0; i < table->rows->len; i++)
    {
      const Row *row = g_ptr_array_index (table->rows, i);

      need = MAX (need, natural_width (self, row->cells[column], row->strong));
    }
  return need + 2 * PAD;
}

static double *
place_columns (WbReportDocument    *self,
               const WbReportTable *table)
{
  double width = wb_report_document_get_text_width (self);
  double *x = g_new0 (double, table->n + 1);
  g_autofree double *widths = g_new0 (double, table->n);
  double fixed = 0, shares = 0;

  for (guint i = 0; i < table->n; i++)
    {
      if (table->shares[i] <= 0)
        fixed += widths[i] = column_need (self, table, i);
      shares += MAX (table->shares[i], 0);
    }
  /* content that asks for more than there is shrinks evenly and wraps */
  if (fixed > width - (shares > 0 ? 0.35 * width : 0))
    {
      double factor = (width - (shares > 0 ? 0.35 * width : 0)) / fixed;

      for (guint i = 0; i < table->n; i++)
        widths[i] *= factor;
      fixed *= factor;
    }
  for (guint i = 0; i < table->n; i++)
    {
      if (table->shares[i] > 0)
        widths[i] = (width - fixed) * table->shares[i] / shares;
      else if (shares <= 0)
        widths[i] += (width - fixed) / table->n;
      x[i + 1] = x[i] + widths[i];
    }
  return x;
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
      cairo_set_source_rgb (cr, 0.92, 0.92, 0.90);
      cairo_rectangle (cr, 0, 0, line->x[line->n], self->height);
      cairo_fill (cr);
    }
  cairo_set_source_rgb (cr, 0, 0, 0);
  for (guint i = 0; i < line->n; i++)
    {
      cairo_move_to (cr, line->x[i] + PAD, ROW_PAD);
      pango_cairo_show_layout (cr, line->layouts[i]);
    }
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
      cairo_line_to (cr, line->x[line->n], 0);
    }
  cairo_move_to (cr, 0, self->height);
  cairo_line_to (cr, line->x[line->n], self->height);
  cairo_stroke (cr);
  cairo_restore (cr);
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

static WbReportPiece *
row_piece (WbReportDocument    *self,
           const WbReportTable *table,
           const double        *x,
           char               **cells,
           gboolean             head,
           gboolean             strong)
{
  WbReportPiece *piece = wb_report_piece_new (self);
  Line *line = g_new0 (Line, 1);

  line->n = table->n;
  line->x = g_memdup2 (x, (table->n + 1) * sizeof *x);
  line->layouts = g_new0 (PangoLayout *, table->n);
  line->head = head;
  line->strong = strong;
  line->boxes = table->box_height > 0;
  for (guint i = 0; i < table->n; i++)
    {
      double width = MAX (x[i + 1] - x[i] - 2 * PAD, 4);

      line->layouts[i] = wb_report_layout_new (self, cells[i], CELL_PT, head || strong ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL, width);
      pango_layout_set_alignment (line->layouts[i], alignments[table->aligns[i]]);
      piece->height = MAX (piece->height, wb_report_layout_get_height (line->layouts[i]));
    }
  piece->height += 2 * ROW_PAD;
  if (!head)
    piece->height = MAX (piece->height, table->box_height);
  piece->data = line;
  piece->draw = draw_row;
  piece->free_data = free_row;
  return piece;
}

void
wb_report_document_add_table (WbReportDocument *self,
                              WbReportTable    *table)
{
  g_autofree double *x = place_columns (self, table);
  WbReportPiece *head = row_piece (self, table, x, table->heads, TRUE, TRUE);
  WbReportPiece *first = row_piece (self, table, x, table->heads, TRUE, TRUE);

  g_ptr_array_add (self->heads, head);
  first->gap = 6;
  first->keep_next = TRUE;
  g_ptr_array_add (self->pieces, first);
  for (guint i = 0; i < table->rows->len; i++)
    {
      const Row *row = g_ptr_array_index (table->rows, i);
      WbReportPiece *piece = row_piece (self, table, x, row->cells, FALSE, row->strong);

      piece->head = head;
      g_ptr_array_add (self->pieces, piece);
    }
  table_free (table);
}
