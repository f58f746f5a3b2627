/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-labels.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-report-label-face-private.h"
#include "wb-report-label-measure-private.h"

G_DEFINE_QUARK (wb-report-labels-error-quark, wb_report_labels_error)

#define PAD (1.8 * WB_REPORT_POINTS_PER_MM)
#define UNPRINTED (4.2 * WB_REPORT_POINTS_PER_MM) /* what common printers leave white along the paper's edge; common practice, no source */
#define LARGEST_ASKED 300         /* mm: no label is looked for beyond that */
#define CROSS (3.0 * WB_REPORT_POINTS_PER_MM)

static const WbReportLabelKind label_kind = {
  .largest_pt = 10, .smallest_pt = 5, .code_pt = 24, .code_factor = 2.6, .qr_share = 0.42, .boxes = 0
};

/* A place of a sheet and what stands in it. */
typedef struct
{
  WbReportLabelFace face;
  double            height;   /* of the place: of two faces where it folds */
  gboolean          folds;
  gboolean          outline;
  PangoLayout      *number;   /* of an alignment print; NULL: none */
} Place;

static void
free_place (WbReportPiece *piece)
{
  Place *place = piece->data;

  wb_report_label_face_clear (&place->face);
  g_clear_object (&place->number);
  g_free (place);
}

/* Where the middle lies, for who lays the print over a sheet against the light. */
static void
draw_alignment (const Place *place,
                cairo_t     *cr)
{
  double x = place->face.width / 2, y = place->height / 2;

  cairo_move_to (cr, x - CROSS, y);
  cairo_line_to (cr, x + CROSS, y);
  cairo_move_to (cr, x, y - CROSS);
  cairo_line_to (cr, x, y + CROSS);
  cairo_stroke (cr);
  cairo_move_to (cr, x + 2, y + 2);
  pango_cairo_show_layout (cr, place->number);
}

static void
draw_fold (const Place *place,
           cairo_t     *cr)
{
  const double dash[] = { 1, 3 };

  cairo_save (cr);
  cairo_set_dash (cr, dash, G_N_ELEMENTS (dash), 0);
  cairo_move_to (cr, 0, place->face.height);
  cairo_line_to (cr, place->face.width, place->face.height);
  cairo_stroke (cr);
  cairo_restore (cr);
  /* the far side stands on its head until it is folded */
  cairo_save (cr);
  cairo_translate (cr, place->face.width, place->face.height);
  cairo_rotate (cr, G_PI);
  wb_report_label_face_draw (&place->face, cr);
  cairo_restore (cr);
  cairo_translate (cr, 0, place->face.height);
}

static void
draw_place (const WbReportPiece *piece,
            cairo_t             *cr,
            double               width)
{
  const Place *place = piece->data;

  cairo_save (cr);
  cairo_set_line_width (cr, 0.4);
  if (place->outline)
    {
      cairo_rectangle (cr, 0, 0, place->face.width, place->height);
      cairo_stroke (cr);
    }
  if (place->number != NULL)
    draw_alignment (place, cr);
  if (place->folds)
    draw_fold (place, cr);
  wb_report_label_face_draw (&place->face, cr);
  cairo_restore (cr);
}

static void
say_place (const WbReportPiece *piece,
           GString             *text)
{
  wb_report_label_face_say (&((const Place *) piece->data)->face, text);
}

/* White about the text, the same in every label: where a sheet has labels up to its edge, what a printer leaves white there. */
static double
get_pad (const WbReportLabelSheet *sheet)
{
  double right = sheet->page_width - sheet->left - (sheet->columns - 1) * sheet->pitch_x - sheet->width;
  double bottom = sheet->page_height - sheet->top - (sheet->rows - 1) * sheet->pitch_y - sheet->height;
  double margin = MIN (MIN (sheet->left, right), MIN (sheet->top, bottom));

  /* a page of one label is a roll, whose printer reaches the edge */
  return sheet->columns * sheet->rows == 1 ? PAD : MAX (PAD, UNPRINTED - margin * WB_REPORT_POINTS_PER_MM);
}

static WbReportPiece *
piece_new (WbReportDocument         *document,
           const WbReportLabelSheet *sheet,
           gboolean                  outline,
           gboolean                  folds)
{
  WbReportPiece *piece = wb_report_piece_new (document);
  Place *place = g_new0 (Place, 1);

  place->height = sheet->height * WB_REPORT_POINTS_PER_MM;
  place->folds = folds;
  place->outline = outline;
  place->face.width = sheet->width * WB_REPORT_POINTS_PER_MM;
  place->face.height = place->height / (folds ? 2 : 1);
  place->face.pad = get_pad (sheet);
  piece->height = place->height;
  piece->data = place;
  piece->draw = draw_place;
  piece->say = say_place;
  piece->free_data = free_place;
  return piece;
}

/* Takes the piece. */
static void
set_down (WbReportDocument         *document,
          const WbReportLabelSheet *sheet,
          guint                     place,
          WbReportPiece            *piece)
{
  guint page = place / (sheet->columns * sheet->rows), on_page = place % (sheet->columns * sheet->rows);

  wb_report_document_place (document, piece, page,
                            (sheet->left + sheet->shift_x + on_page % sheet->columns * sheet->pitch_x) * WB_REPORT_POINTS_PER_MM,
                            (sheet->top + sheet->shift_y + on_page / sheet->columns * sheet->pitch_y) * WB_REPORT_POINTS_PER_MM);
}

static void
add_alignment (WbReportDocument         *document,
               const WbReportLabelSheet *sheet)
{
  for (guint i = 0; i < wb_report_label_sheet_get_places (sheet); i++)
    {
      WbReportPiece *piece = piece_new (document, sheet, TRUE, FALSE);
      g_autofree char *number = g_strdup_printf ("%u", i + 1);

      ((Place *) piece->data)->number = wb_report_layout_new (document, number, label_kind.smallest_pt + 2, PANGO_WEIGHT_NORMAL, 0);
      set_down (document, sheet, i, piece);
    }
}

/* ---- The smallest that would do ---- */

#define STEP_MM 1.0
#define STEP_IN_MM (25.4 / 20) /* of who measures in inches: a twentieth */

/* What a face needs, with all that the measures do not change. */
typedef struct
{
  const WbReportDocument  *document;
  const WbReportLabel     *label;
  const WbReportOptions   *options;
  const WbReportLabelKind *kind;
  double                   pad;
  double                   step; /* mm: what is asked for is a multiple of it */
} Need;

static gboolean
would_do (const Need *need,
          double      width_mm,
          double      height_mm)
{
  return wb_report_label_face_fits (need->document, width_mm * WB_REPORT_POINTS_PER_MM, height_mm * WB_REPORT_POINTS_PER_MM, need->pad,
                                    need->label, need->options, need->kind);
}

/* The smallest of one side (mm) at the other one's measure; 0: none would do. */
static double
find_smallest (const Need *need,
               double      fixed_mm,
               gboolean    is_width,
               double      from_mm)
{
  guint low = MAX ((guint) (from_mm / need->step), 1), high = (guint) (LARGEST_ASKED / need->step);

  if (!(is_width ? would_do (need, high * need->step, fixed_mm) : would_do (need, fixed_mm, high * need->step)))
    return 0;
  while (low < high)
    {
      guint middle = (low + high) / 2;

      if (is_width ? would_do (need, middle * need->step, fixed_mm) : would_do (need, fixed_mm, middle * need->step))
        high = middle;
      else
        low = middle + 1;
    }
  return low * need->step;
}

/* The smallest of these proportions. */
static void
find_in_proportion (const Need *need,
                    double      width_mm,
                    double      height_mm,
                    double     *width,
                    double     *height)
{
  double factor = 1;

  while (factor < 40 && !would_do (need, width_mm * factor, height_mm * factor))
    factor *= 1.03;
  *width = ceil (width_mm * factor / need->step) * need->step;
  *height = ceil (height_mm * factor / need->step) * need->step;
}

static char *
dup_sizes (const Need *need,
           double      width_mm,
           double      height_mm,
           gboolean    folds)
{
  double taller = find_smallest (need, width_mm, FALSE, height_mm), wider = find_smallest (need, height_mm, TRUE, width_mm);
  gboolean us_units = need->options->us_units;
  guint times = folds ? 2 : 1;
  g_autofree char *tall = wb_report_label_dup_size (width_mm, taller * times, us_units);
  g_autofree char *wide = wb_report_label_dup_size (wider, height_mm * times, us_units), *both = NULL;
  double both_width, both_height;

  if (taller > 0 && wider > 0)
    /* Translators: two sizes of a label, "70 × 37 mm". */
    return g_strdup_printf (_("It would do at %s, or at %s."), tall, wide);
  if (taller > 0 || wider > 0)
    return g_strdup_printf (_("It would do at %s."), taller > 0 ? tall : wide);
  find_in_proportion (need, width_mm, height_mm, &both_width, &both_height);
  both = wb_report_label_dup_size (both_width, both_height * times, us_units);
  return g_strdup_printf (_("It would do at %s."), both);
}

static void
set_too_small (GError                  **error,
               const WbReportDocument   *document,
               const WbReportLabel      *label,
               const WbReportLabelSheet *sheet,
               const WbReportOptions    *options,
               const WbReportLabelKind  *kind,
               gboolean                  folds)
{
  Need need = { document, label, options, kind, get_pad (sheet), options->us_units ? STEP_IN_MM : STEP_MM };
  g_autofree char *sizes = dup_sizes (&need, sheet->width, sheet->height / (folds ? 2 : 1), folds);
  g_autofree char *size = wb_report_label_dup_size (sheet->width, sheet->height, options->us_units);

  g_set_error (error, WB_REPORT_LABELS_ERROR, WB_REPORT_LABELS_ERROR_SIZE,
               /* Translators: size of a label, code of the sample, and a sentence that says which size would do. */
               _("A label of %s does not hold the text and the code of %s. %s"), size, label->code, sizes);
}

WbReportDocument *
wb_report_label_sheet_print (const WbReportLabel      *labels,
                             guint                     n,
                             const WbReportLabelSheet *sheet,
                             guint                     first,
                             gboolean                  outlines,
                             const WbReportOptions    *options,
                             const WbReportLabelKind  *kind,
                             gboolean                  folds,
                             const char               *title,
                             GError                  **error)
{
  g_autoptr (WbReportDocument) document = NULL;
  g_autofree char *problem = wb_report_label_sheet_dup_problem (sheet, options->us_units, NULL);
  WbReportLabelType type = { 0, 0 };

  if (problem != NULL)
    {
      g_set_error_literal (error, WB_REPORT_LABELS_ERROR, WB_REPORT_LABELS_ERROR_SIZE, problem);
      return NULL;
    }
  if (first >= wb_report_label_sheet_get_places (sheet))
    {
      g_set_error (error, WB_REPORT_LABELS_ERROR, WB_REPORT_LABELS_ERROR_START, _("The sheet has %u places: it cannot start at %u."),
                   wb_report_label_sheet_get_places (sheet), first + 1);
      return NULL;
    }
  document = wb_report_document_new_bare (sheet->page_width * WB_REPORT_POINTS_PER_MM, sheet->page_height * WB_REPORT_POINTS_PER_MM, title, NULL);
  if (n == 0)
    add_alignment (document, sheet);
  for (guint i = 0; i < n; i++)
    {
      WbReportPiece *piece = piece_new (document, sheet, outlines, folds);
      gboolean fits = wb_report_label_face_fill (&((Place *) piece->data)->face, document, &labels[i], options, kind, &type);

      set_down (document, sheet, first + i, piece);
      if (fits)
        continue;
      set_too_small (error, document, &labels[i], sheet, options, kind, folds);
      return NULL;
    }
  return g_steal_pointer (&document);
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
  g_return_val_if_fail (sheet != NULL && options != NULL && (labels != NULL || n == 0), NULL);

  return wb_report_label_sheet_print (labels, n, sheet, first, outlines, options, &label_kind, FALSE, _("Labels of samples"), error);
}
