/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-labels.h"

#include <glib/gi18n-lib.h>
#include <qrencode.h>

#include "wb-report-document-private.h"
#include "wb-report-label-code.h"

G_DEFINE_QUARK (wb-report-labels-error-quark, wb_report_labels_error)

#define POINTS_PER_MM (72.0 / 25.4)
#define PAD (1.8 * POINTS_PER_MM)
#define UNPRINTED (4.2 * POINTS_PER_MM) /* what common printers leave white along the paper's edge; common practice, no source */
#define QR_AT_LEAST (11.0 * POINTS_PER_MM) /* 29 modules with their quiet zone stay above 0.3 mm, which a phone reads */
#define QUIET 2.0                           /* modules of white beside the code: the label's own white adds the rest of the 4 */
#define SMALLEST_PT 5.0
#define LARGEST_PT 10.0
#define CODE_PT 24.0

/* ---- Sheets ---- */

static const struct { WbReportLabelSheet sheet; const char *label; } presets[] = {
  [WB_REPORT_LABELS_A4_24] = { { 210, 297, 0, 0.5, 70, 37, 70, 37, 3, 8 }, N_("A4, 24 labels of 70 × 37 mm") },
  [WB_REPORT_LABELS_A4_21] = { { 210, 297, 7.25, 15.15, 63.5, 38.1, 66, 38.1, 3, 7 }, N_("A4, 21 labels of 63.5 × 38.1 mm") },
  [WB_REPORT_LABELS_LETTER_30] = { { 215.9, 279.4, 4.7625, 12.7, 66.675, 25.4, 69.85, 25.4, 3, 10 }, N_("Letter, 30 labels of 2 5/8 × 1 in") },
  [WB_REPORT_LABELS_LETTER_10] = { { 215.9, 279.4, 3.96875, 12.7, 101.6, 50.8, 106.3625, 50.8, 2, 5 }, N_("Letter, 10 labels of 4 × 2 in") },
  [WB_REPORT_LABELS_ROLL_62] = { { 62, 29, 0, 0, 62, 29, 62, 29, 1, 1 }, N_("Roll, labels of 62 × 29 mm") },
};

WbReportLabelSheet
wb_report_label_sheet_preset (WbReportLabelPreset preset)
{
  g_return_val_if_fail (preset < WB_REPORT_LABELS_N, presets[0].sheet);

  return presets[preset].sheet;
}

const char *
wb_report_label_preset_get_label (WbReportLabelPreset preset)
{
  g_return_val_if_fail (preset < WB_REPORT_LABELS_N, "");

  return _(presets[preset].label);
}

static gboolean
fits_page (const WbReportLabelSheet *sheet)
{
  const double slack = 0.6; /* mm: sheets are cut no better than that */

  return sheet->columns > 0 && sheet->rows > 0 && sheet->columns <= 100 && sheet->rows <= 100
         && sheet->page_width >= 10 && sheet->page_width <= 2000 && sheet->page_height >= 10 && sheet->page_height <= 2000
         && sheet->width > 0 && sheet->height > 0 && sheet->left >= 0 && sheet->top >= 0
         && (sheet->columns == 1 || sheet->pitch_x >= sheet->width) && (sheet->rows == 1 || sheet->pitch_y >= sheet->height)
         && sheet->left + (sheet->columns - 1) * sheet->pitch_x + sheet->width <= sheet->page_width + slack
         && sheet->top + (sheet->rows - 1) * sheet->pitch_y + sheet->height <= sheet->page_height + slack;
}

/* ---- One label ---- */

typedef struct
{
  double       width, height;  /* points */
  gboolean     outline;
  double       pad;       /* white about the text */
  PangoLayout *code, *cell, *dates, *caution; /* NULL: an empty place */
  QRcode      *qr;
  double       qr_size;
} Label;

static void
free_label (WbReportPiece *piece)
{
  Label *label = piece->data;

  g_clear_object (&label->code);
  g_clear_object (&label->cell);
  g_clear_object (&label->dates);
  g_clear_object (&label->caution);
  g_clear_pointer (&label->qr, QRcode_free);
  g_free (label);
}

static void
draw_qr (cairo_t      *cr,
         const QRcode *qr,
         double        x,
         double        y,
         double        size)
{
  double module = size / (qr->width + 2 * QUIET);

  for (int row = 0; row < qr->width; row++)
    for (int column = 0; column < qr->width; column++)
      if (qr->data[row * qr->width + column] & 1)
        cairo_rectangle (cr, x + (QUIET + column) * module, y + (QUIET + row) * module, module, module);
  cairo_fill (cr);
}

static void
show (cairo_t     *cr,
      PangoLayout *layout,
      double       x,
      double      *y,
      double       gap)
{
  cairo_move_to (cr, x, *y);
  pango_cairo_show_layout (cr, layout);
  *y += wb_report_layout_get_height (layout) + gap;
}

static void
draw_label (const WbReportPiece *piece,
            cairo_t             *cr,
            double               width)
{
  const Label *label = piece->data;
  double y = label->pad;

  if (label->outline)
    {
      cairo_set_line_width (cr, 0.4);
      cairo_rectangle (cr, 0, 0, label->width, label->height);
      cairo_stroke (cr);
    }
  if (label->code == NULL)
    return;
  show (cr, label->code, label->pad, &y, 0);
  show (cr, label->cell, label->pad, &y, 1);
  show (cr, label->dates, label->pad, &y, 0);
  y = label->height - label->pad - wb_report_layout_get_height (label->caution);
  show (cr, label->caution, label->pad, &y, 0);
  draw_qr (cr, label->qr, label->width - label->pad - label->qr_size, label->pad, label->qr_size);
}

static char *
dup_dates (const WbReportLabel   *label,
           const WbReportOptions *options)
{
  g_autofree char *poured = label->poured_on != WB_DAY_NONE ? wb_day_format_local (label->poured_on) : g_strdup ("______");
  g_autoptr (GString) text = g_string_new (NULL);

  g_string_append_printf (text, _("Poured %s"), poured);
  if (label->burn_from != WB_DAY_NONE)
    {
      g_autofree char *day = wb_day_format_local (label->burn_from);

      g_string_append_c (text, '\n');
      g_string_append_printf (text, _("Burn from %s"), day);
    }
  if (label->smell_from != WB_DAY_NONE)
    {
      g_autofree char *day = wb_day_format_local (label->smell_from);

      g_string_append_c (text, '\n');
      g_string_append_printf (text, _("Smell from %s"), day);
    }
  if (options->invented)
    g_string_append_printf (text, "\n%s", _("Invented data"));
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* The code as large as its place allows; an endless one ends in an ellipsis. */
static PangoLayout *
code_layout (const WbReportDocument *document,
             const char             *code,
             double                  width,
             double                  most_pt)
{
  for (double size = most_pt; size >= SMALLEST_PT + 2; size -= 1)
    {
      PangoLayout *layout = wb_report_layout_new (document, code, size, PANGO_WEIGHT_BOLD, 0);

      if (wb_report_layout_get_width (layout) <= width)
        return layout;
      g_object_unref (layout);
    }

  PangoLayout *layout = wb_report_layout_new (document, code, SMALLEST_PT + 2, PANGO_WEIGHT_BOLD, width);

  wb_report_layout_limit (layout, 1);
  return layout;
}

static char *
dup_what (const WbReportLabel *label)
{
  g_autoptr (GString) text = g_string_new (label->cell != NULL ? label->cell : "");

  if (label->experiment != NULL)
    g_string_append_printf (text, "%s%s", text->len > 0 ? " · " : "", label->experiment);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* Texts at a size; FALSE where they do not fit one under the other. */
static gboolean
set_texts (const WbReportDocument *document,
           const WbReportLabel    *from,
           const WbReportOptions  *options,
           double                  size,
           Label                  *label)
{
  double inner = label->width - 2 * label->pad, column = inner - label->qr_size - label->pad, height;
  g_autofree char *what = dup_what (from);
  g_autofree char *dates = dup_dates (from, options);

  g_clear_object (&label->code);
  g_clear_object (&label->cell);
  g_clear_object (&label->dates);
  g_clear_object (&label->caution);
  if (column < 20)
    return FALSE;
  label->code = code_layout (document, from->code, column, MIN (CODE_PT, size * 2.6));
  label->cell = wb_report_layout_new (document, what, size, PANGO_WEIGHT_NORMAL, column);
  wb_report_layout_limit (label->cell, 2);
  label->dates = wb_report_layout_new (document, dates, size, PANGO_WEIGHT_NORMAL, column);
  /* Translators: stands on every sample's label, in capitals. */
  label->caution = wb_report_layout_new (document, _("TEST SAMPLE, NOT FOR SALE OR GIFT"), size, PANGO_WEIGHT_BOLD, inner);
  height = wb_report_layout_get_height (label->code) + wb_report_layout_get_height (label->cell) + 1 + wb_report_layout_get_height (label->dates)
           + wb_report_layout_get_height (label->caution);
  return height <= label->height - 2 * label->pad && pango_layout_get_line_count (label->caution) <= 2
         && label->pad + label->qr_size + wb_report_layout_get_height (label->caution) <= label->height - label->pad;
}

/* The largest type and code that fit; FALSE where none does. */
static gboolean
fill_label (const WbReportDocument *document,
            const WbReportLabel    *from,
            const WbReportOptions  *options,
            Label                  *label)
{
  g_autofree char *code = wb_report_label_code_new (&from->uuid);

  label->qr = QRcode_encodeString (code, 0, QR_ECLEVEL_M, QR_MODE_8, 1); /* it finds the alphanumeric mode by itself */
  if (label->qr == NULL)
    return FALSE;
  for (double size = LARGEST_PT; size >= SMALLEST_PT; size -= 0.5)
    {
      label->qr_size = MIN (label->height - 2 * label->pad - size * 1.8, label->width * 0.42);
      if (label->qr_size >= QR_AT_LEAST && set_texts (document, from, options, size, label))
        return TRUE;
    }
  return FALSE;
}

/* White about the text, the same in every label: where a sheet has labels up to its edge, what a printer leaves white there. */
static double
get_pad (const WbReportLabelSheet *sheet)
{
  double right = sheet->page_width - sheet->left - (sheet->columns - 1) * sheet->pitch_x - sheet->width;
  double bottom = sheet->page_height - sheet->top - (sheet->rows - 1) * sheet->pitch_y - sheet->height;
  double margin = MIN (MIN (sheet->left, right), MIN (sheet->top, bottom));

  /* a page of one label is a roll, whose printer reaches the edge */
  return sheet->columns * sheet->rows == 1 ? PAD : MAX (PAD, UNPRINTED - margin * POINTS_PER_MM);
}

static WbReportPiece *
piece_new (WbReportDocument         *document,
           const WbReportLabelSheet *sheet,
           gboolean                  outline)
{
  WbReportPiece *piece = wb_report_piece_new (document);
  Label *label = g_new0 (Label, 1);

  label->width = sheet->width * POINTS_PER_MM;
  label->height = sheet->height * POINTS_PER_MM;
  label->outline = outline;
  label->pad = get_pad (sheet);
  piece->height = label->height;
  piece->data = label;
  piece->draw = draw_label;
  piece->free_data = free_label;
  return piece;
}

/* Takes the piece. */
static void
place_label (WbReportDocument         *document,
             const WbReportLabelSheet *sheet,
             guint                     place,
             WbReportPiece            *piece)
{
  guint page = place / (sheet->columns * sheet->rows), on_page = place % (sheet->columns * sheet->rows);

  wb_report_document_place (document, piece, page, (sheet->left + on_page % sheet->columns * sheet->pitch_x) * POINTS_PER_MM,
                            (sheet->top + on_page / sheet->columns * sheet->pitch_y) * POINTS_PER_MM);
}

WbReportDocument *
wb_report_labels_new (const WbReportLabel      *labels,
                      guint                     n,
                      const WbReportLabelSheet *sheet,
                      guint                     first,
                      gboolean                  outlines,
                      const WbReportOptions    *options,
                      GError                  **error)
{
  g_autoptr (WbReportDocument) document = NULL;
  guint places;

  g_return_val_if_fail (sheet != NULL && options != NULL && (labels != NULL || n == 0), NULL);

  if (!fits_page (sheet))
    {
      g_set_error (error, WB_REPORT_LABELS_ERROR, WB_REPORT_LABELS_ERROR_SIZE, _("The labels do not fit on a page of these dimensions."));
      return NULL;
    }
  places = sheet->columns * sheet->rows;
  if (first >= places)
    {
      g_set_error (error, WB_REPORT_LABELS_ERROR, WB_REPORT_LABELS_ERROR_START, _("The sheet has %u places: it cannot start at %u."), places, first + 1);
      return NULL;
    }
  document = wb_report_document_new_bare (sheet->page_width * POINTS_PER_MM, sheet->page_height * POINTS_PER_MM, _("Labels of samples"), NULL);
  for (guint i = 0; n == 0 && i < places; i++)
    place_label (document, sheet, i, piece_new (document, sheet, TRUE));
  for (guint i = 0; i < n; i++)
    {
      WbReportPiece *piece = piece_new (document, sheet, outlines);
      gboolean fits = fill_label (document, &labels[i], options, piece->data);

      place_label (document, sheet, first + i, piece);
      if (fits)
        continue;
      g_set_error (error, WB_REPORT_LABELS_ERROR, WB_REPORT_LABELS_ERROR_SIZE,
                   _("A label of this size does not hold its text and its code: %s"), labels[i].code);
      return NULL;
    }
  return g_steal_pointer (&document);
}
