/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-label-face-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-report-label-code.h"

#define QR_AT_LEAST (11.0 * WB_REPORT_POINTS_PER_MM) /* 29 modules with their quiet zone stay above 0.3 mm, which a phone reads */
#define QR_AT_MOST (24.0 * WB_REPORT_POINTS_PER_MM)  /* larger is read from no further, and the text needs the room */
#define QUIET 2.0                 /* modules of white beside the code: the label's own white adds the rest of the 4 */
#define COLUMN_AT_LEAST 20.0      /* points of text beside it */
#define BOX (5.0 * WB_REPORT_POINTS_PER_MM)
#define BOX_GAP (1.0 * WB_REPORT_POINTS_PER_MM)
#define CELL_LINES 3
#define ENDLESS 120               /* characters: a text beyond that is cut, and no larger label asked for */
#define MOST_BLIND 2.0            /* three digits stand so much larger than a code, where there is room */

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
draw_boxes (const WbReportLabelFace *self,
            cairo_t                 *cr,
            double                   y)
{
  double x = self->pad + wb_report_layout_get_width (self->burns) + 2 * BOX_GAP;

  cairo_move_to (cr, self->pad, y + (self->box - wb_report_layout_get_height (self->burns)) / 2);
  pango_cairo_show_layout (cr, self->burns);
  cairo_new_path (cr);
  cairo_set_line_width (cr, 0.6);
  for (guint i = 0; i < self->n_boxes; i++, x += self->box + BOX_GAP)
    {
      cairo_rectangle (cr, x, y, self->box, self->box);
      cairo_stroke (cr);
      cairo_move_to (cr, x + 1.2, y + 0.6);
      pango_cairo_show_layout (cr, self->number[i]);
      cairo_new_path (cr);
    }
}

void
wb_report_label_face_draw (const WbReportLabelFace *self,
                           cairo_t                 *cr)
{
  double y = self->pad;

  if (self->code == NULL)
    return;
  show (cr, self->code, self->pad, &y, 0);
  show (cr, self->cell, self->pad, &y, 1);
  show (cr, self->dates, self->pad, &y, 0);
  y = self->height - self->pad - wb_report_layout_get_height (self->caution);
  if (self->burns != NULL)
    draw_boxes (self, cr, y - self->box - BOX_GAP);
  show (cr, self->caution, self->pad, &y, 0);
  draw_qr (cr, self->qr, self->width - self->pad - self->qr_size, self->pad, self->qr_size);
}

void
wb_report_label_face_say (const WbReportLabelFace *self,
                          GString                 *text)
{
  PangoLayout *const said[] = { self->code, self->cell, self->dates, self->caution };

  for (guint i = 0; i < G_N_ELEMENTS (said); i++)
    if (said[i] != NULL && *pango_layout_get_text (said[i]) != '\0')
      g_string_append_printf (text, "%s%s", text->len > 0 ? "\n" : "", pango_layout_get_text (said[i]));
}

static void
clear_texts (WbReportLabelFace *self)
{
  g_clear_object (&self->code);
  g_clear_object (&self->cell);
  g_clear_object (&self->dates);
  g_clear_object (&self->caution);
  g_clear_object (&self->burns);
  for (guint i = 0; i < G_N_ELEMENTS (self->number); i++)
    g_clear_object (&self->number[i]);
  self->n_boxes = 0;
}

void
wb_report_label_face_clear (WbReportLabelFace *self)
{
  clear_texts (self);
  g_clear_pointer (&self->qr, QRcode_free);
}

/* From when it is burnt and smelt; each line begins anew. */
static void
say_fit (const WbReportLabel *label,
         GString             *text)
{
  g_autofree char *burn = wb_cure_fit_format (&label->burn_from), *smell = wb_cure_fit_format (&label->smell_from);

  if (burn != NULL)
    {
      g_string_append_c (text, '\n');
      g_string_append_printf (text, _("Burn from %s"), burn);
    }
  if (smell != NULL)
    {
      g_string_append_c (text, '\n');
      g_string_append_printf (text, _("Smell from %s"), smell);
    }
}

static void
say_reference (const WbReportLabel *label,
               GString             *text)
{
  g_autofree char *until = label->keep_until != WB_DAY_NONE ? wb_day_format_local (label->keep_until) : NULL;

  /* Translators: on the label of a candle that is kept to hold later ones beside. */
  g_string_append_printf (text, "\n%s", _("Reference: do not burn"));
  if (until == NULL)
    return;
  g_string_append_c (text, '\n');
  /* Translators: of a reference; a day. */
  g_string_append_printf (text, _("Keep until %s"), until);
}

static char *
dup_dates (const WbReportLabel   *label,
           const WbReportOptions *options)
{
  g_autofree char *poured = label->poured_on != WB_DAY_NONE ? wb_day_format_local (label->poured_on) : g_strdup ("______");
  g_autoptr (GString) text = g_string_new (NULL);

  if (label->blind_code > 0 && label->poured_on != WB_DAY_NONE)
    /* Translators: on a blind label: on that day or before. */
    g_string_append_printf (text, _("Poured by %s"), poured);
  else
    g_string_append_printf (text, _("Poured %s"), poured);
  if (label->reference)
    say_reference (label, text);
  else
    say_fit (label, text);
  if (options->invented)
    g_string_append_printf (text, "\n%s", _("Invented data"));
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* The code as large as its place allows; an endless one ends in an ellipsis. */
static PangoLayout *
code_layout (const WbReportDocument *document,
             const char             *code,
             double                  width,
             double                  most_pt,
             double                  least_pt)
{
  PangoLayout *layout = wb_report_layout_new (document, code, most_pt, PANGO_WEIGHT_BOLD, 0);

  /* type is as wide as it is high, but for the rounding of its advances */
  for (double size = most_pt; wb_report_layout_get_width (layout) > width && size > least_pt;)
    {
      size = MAX (least_pt, MIN (size - 0.5, floor (size * width / wb_report_layout_get_width (layout) * 2) / 2));
      g_object_unref (layout);
      layout = wb_report_layout_new (document, code, size, PANGO_WEIGHT_BOLD, 0);
    }
  if (wb_report_layout_get_width (layout) <= width)
    return layout;
  g_object_unref (layout);
  layout = wb_report_layout_new (document, code, least_pt, PANGO_WEIGHT_BOLD, width);
  wb_report_layout_limit (layout, 1);
  return layout;
}

static char *
dup_code (const WbReportLabel *label)
{
  return label->blind_code > 0 ? g_strdup_printf ("%u", label->blind_code) : g_strdup (label->code);
}

static char *
dup_what (const WbReportLabel *label)
{
  g_autoptr (GString) text = g_string_new (label->cell != NULL && label->blind_code == 0 ? label->cell : "");

  if (label->experiment != NULL)
    g_string_append_printf (text, "%s%s", text->len > 0 ? " · " : "", label->experiment);
  g_string_replace (text, " %", "\302\240%", 0); /* a line never begins with the sign */
  g_string_replace (text, "· ", "·\302\240", 0); /* and never ends with the dot, which goes with what follows */
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* Cut though a larger label would hold it. */
static gboolean
is_cut (PangoLayout *layout)
{
  return pango_layout_is_ellipsized (layout) && g_utf8_strlen (pango_layout_get_text (layout), -1) <= ENDLESS;
}

/* A reference has none: a box is there to be ticked. */
static guint
count_boxes (const WbReportLabel     *from,
             const WbReportLabelKind *kind)
{
  return from->reference ? 0 : kind->boxes;
}

/* As many boxes as stand side by side; the words before them say what for. */
static void
set_boxes (WbReportLabelFace      *self,
           const WbReportDocument *document,
           guint                   boxes,
           double                  size)
{
  double room;

  if (boxes == 0)
    return;
  /* Translators: stands before boxes with the numbers of burns, to be ticked on a card. */
  self->burns = wb_report_layout_new (document, _("Burns"), size, PANGO_WEIGHT_NORMAL, 0);
  self->box = BOX;
  room = self->width - 2 * self->pad - wb_report_layout_get_width (self->burns) - 2 * BOX_GAP;
  self->n_boxes = room > 0 ? MIN (MIN (boxes, G_N_ELEMENTS (self->number)), (guint) ((room + BOX_GAP) / (self->box + BOX_GAP))) : 0;
  for (guint i = 0; i < self->n_boxes; i++)
    {
      g_autofree char *number = g_strdup_printf ("%u", i + 1);

      self->number[i] = wb_report_layout_new (document, number, 5, PANGO_WEIGHT_NORMAL, 0);
    }
}

static double
get_foot (const WbReportLabelFace *self)
{
  return wb_report_layout_get_height (self->caution) + (self->burns != NULL ? self->box + 2 * BOX_GAP : 0);
}

/* Texts at a size; FALSE where they do not fit one under the other. */
static gboolean
set_texts (WbReportLabelFace       *self,
           const WbReportDocument  *document,
           const WbReportLabel     *from,
           const WbReportOptions   *options,
           const WbReportLabelKind *kind,
           double                   size,
           double                   code_pt)
{
  double inner = self->width - 2 * self->pad, column = inner - self->qr_size - self->pad, height;
  g_autofree char *code = dup_code (from);
  g_autofree char *what = dup_what (from);
  g_autofree char *dates = dup_dates (from, options);

  clear_texts (self);
  if (column < COLUMN_AT_LEAST)
    return FALSE;
  self->code = code_layout (document, code, column, code_pt, kind->smallest_pt + 2);
  self->cell = wb_report_layout_new (document, what, size, PANGO_WEIGHT_NORMAL, column);
  wb_report_layout_limit (self->cell, CELL_LINES);
  self->dates = wb_report_layout_new (document, dates, size, PANGO_WEIGHT_NORMAL, column);
  /* Translators: stands on every sample's label, in capitals. */
  self->caution = wb_report_layout_new (document, _("TEST SAMPLE, NOT FOR SALE OR GIFT"), size, PANGO_WEIGHT_BOLD, inner);
  set_boxes (self, document, count_boxes (from, kind), size);
  height = wb_report_layout_get_height (self->code) + wb_report_layout_get_height (self->cell) + 1 + wb_report_layout_get_height (self->dates)
           + get_foot (self);
  return height <= self->height - 2 * self->pad && pango_layout_get_line_count (self->caution) <= 2
         && !is_cut (self->code) && !is_cut (self->cell)
         && self->pad + self->qr_size + get_foot (self) <= self->height - self->pad;
}

static gboolean
set_size (WbReportLabelFace       *self,
          const WbReportDocument  *document,
          const WbReportLabel     *from,
          const WbReportOptions   *options,
          const WbReportLabelKind *kind,
          double                   size,
          double                   larger)
{
  double foot = size * 1.8 + (count_boxes (from, kind) > 0 ? BOX + 2 * BOX_GAP : 0);
  double code_pt = larger * MIN (kind->code_pt, size * kind->code_factor);

  self->qr_size = MIN (MIN (self->height - 2 * self->pad - foot, self->width * kind->qr_share), QR_AT_MOST);
  return self->qr_size >= QR_AT_LEAST && set_texts (self, document, from, options, kind, size, code_pt);
}

gboolean
wb_report_label_face_fill (WbReportLabelFace       *self,
                           const WbReportDocument  *document,
                           const WbReportLabel     *from,
                           const WbReportOptions   *options,
                           const WbReportLabelKind *kind,
                           WbReportLabelType       *type)
{
  g_autofree char *code = wb_report_label_code_new (&from->uuid);

  if (type->size <= 0)
    *type = (WbReportLabelType) { kind->largest_pt, from->blind_code > 0 ? MOST_BLIND : 1 };
  self->qr = QRcode_encodeString (code, 0, QR_ECLEVEL_M, QR_MODE_8, 1); /* it finds the alphanumeric mode by itself */
  /* of a blind one the digits come first, and the size of the rest behind them */
  for (; self->qr != NULL && type->larger >= 1; type->larger -= 0.5, type->size = kind->largest_pt)
    for (; type->size >= kind->smallest_pt; type->size -= 0.5)
      if (set_size (self, document, from, options, kind, type->size, type->larger))
        return TRUE;
  clear_texts (self);
  return FALSE;
}

gboolean
wb_report_label_face_fits (const WbReportDocument  *document,
                           double                   width,
                           double                   height,
                           double                   pad,
                           const WbReportLabel     *from,
                           const WbReportOptions   *options,
                           const WbReportLabelKind *kind)
{
  WbReportLabelFace face = { .width = width, .height = height, .pad = pad };
  gboolean fits = set_size (&face, document, from, options, kind, kind->smallest_pt, 1);

  wb_report_label_face_clear (&face);
  return fits;
}
