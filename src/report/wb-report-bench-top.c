/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-bench-top-private.h"

#include <glib/gi18n-lib.h>

/* Points. */
#define PLACE_HEIGHT 42.0
#define PLACE_WIDEST 96.0
#define PLACE_NARROWEST 40.0  /* a code still fits */
#define GAP 5.0
#define NUMBER_PT 7.0
#define CODE_PT 11.0
#define CODE_LEAST_PT 6.5     /* a longer code is cut */
#define USUAL_COLUMNS 6

/* One row of places. */
typedef struct
{
  guint         first;
  guint         n;
  double        width;    /* of a place */
  PangoLayout **numbers;
  PangoLayout **codes;    /* NULL where nothing stands */
} Row;

static void
draw_row (const WbReportPiece *self,
          cairo_t             *cr,
          double               width)
{
  const Row *row = self->data;

  for (guint i = 0; i < row->n; i++)
    {
      double x = i * (row->width + GAP);

      cairo_set_line_width (cr, 0.8);
      cairo_rectangle (cr, x + 0.4, 0.4, row->width - 0.8, PLACE_HEIGHT - 0.8);
      cairo_stroke (cr);
      cairo_move_to (cr, x + 4, 3);
      pango_cairo_show_layout (cr, row->numbers[i]);
      if (row->codes[i] == NULL)
        continue;
      cairo_move_to (cr, x + (row->width - wb_report_layout_get_width (row->codes[i])) / 2,
                     (PLACE_HEIGHT - wb_report_layout_get_height (row->codes[i])) / 2 + 3);
      pango_cairo_show_layout (cr, row->codes[i]);
    }
}

static void
say_row (const WbReportPiece *self,
         GString             *text)
{
  const Row *row = self->data;

  for (guint i = 0; i < row->n; i++)
    {
      g_string_append_printf (text, "%s", text->len > 0 ? "\n" : "");
      /* Translators: number of a place on the bench; code of the sample that stands there. */
      g_string_append_printf (text, _("Place %u: %s"), row->first + i + 1, row->codes[i] != NULL ? pango_layout_get_text (row->codes[i]) : "");
    }
}

static void
free_row (WbReportPiece *self)
{
  Row *row = self->data;

  for (guint i = 0; i < row->n; i++)
    {
      g_object_unref (row->numbers[i]);
      g_clear_object (&row->codes[i]);
    }
  g_free (row->numbers);
  g_free (row->codes);
  g_free (row);
}

/* In letters as large as fit. */
static PangoLayout *
code_new (WbReportDocument *document,
          const char       *code,
          double            width)
{
  PangoLayout *layout = wb_report_layout_new (document, code, CODE_PT, PANGO_WEIGHT_BOLD, 0);

  for (double size = CODE_PT - 1; size >= CODE_LEAST_PT && wb_report_layout_get_width (layout) > width; size -= 0.5)
    {
      g_object_unref (layout);
      layout = wb_report_layout_new (document, code, size, PANGO_WEIGHT_BOLD, 0);
    }
  if (wb_report_layout_get_width (layout) > width)
    {
      g_object_unref (layout);
      layout = wb_report_layout_new (document, code, CODE_LEAST_PT, PANGO_WEIGHT_BOLD, width);
      wb_report_layout_limit (layout, 1);
    }
  return layout;
}

static void
add_row (WbReportDocument  *document,
         guint              first,
         guint              n,
         double             width,
         const char *const *at)
{
  WbReportPiece *piece = wb_report_piece_new (document);
  Row *row = g_new0 (Row, 1);

  row->first = first;
  row->n = n;
  row->width = width;
  row->numbers = g_new0 (PangoLayout *, n);
  row->codes = g_new0 (PangoLayout *, n);
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *number = g_strdup_printf ("%u", first + i + 1);

      row->numbers[i] = wb_report_layout_new (document, number, NUMBER_PT, PANGO_WEIGHT_NORMAL, 0);
      if (at != NULL && at[first + i] != NULL)
        row->codes[i] = code_new (document, at[first + i], width - 6);
    }
  piece->data = row;
  piece->height = PLACE_HEIGHT;
  piece->gap = GAP;
  piece->draw = draw_row;
  piece->say = say_row;
  piece->free_data = free_row;
  wb_report_document_add_piece (document, piece);
}

void
wb_report_bench_top_add (WbReportDocument  *document,
                         guint              places,
                         guint              columns,
                         const char *const *at)
{
  double text = wb_report_document_get_text_width (document);
  /* A bench longer than the paper is wide goes on in the row below; the numbers say where one stands. */
  guint most = (guint) ((text + GAP) / (PLACE_NARROWEST + GAP));
  guint in_row = CLAMP (columns > 0 ? columns : MIN (places, USUAL_COLUMNS), 1, most);
  double width = MIN (PLACE_WIDEST, (text + GAP) / in_row - GAP);

  for (guint first = 0; first < places; first += in_row)
    add_row (document, first, MIN (in_row, places - first), width, at);
}
