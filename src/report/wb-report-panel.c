/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-document-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define PAD 8.0
#define BAR 3.0
#define ANSWER_PT 13.0

/* ---- Warnings ---- */

/* The safety-alert symbol that ASTM F2058 asks for before WARNING: an exclamation mark in a triangle, drawn plainly. */
void
wb_report_draw_alert (cairo_t *cr,
                      double   x,
                      double   y,
                      double   size)
{
  cairo_save (cr);
  cairo_translate (cr, x, y);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_width (cr, size * 0.08);
  cairo_move_to (cr, size / 2, size * 0.06);
  cairo_line_to (cr, size * 0.96, size * 0.94);
  cairo_line_to (cr, size * 0.04, size * 0.94);
  cairo_close_path (cr);
  cairo_stroke (cr);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  cairo_set_line_width (cr, size * 0.1);
  cairo_move_to (cr, size / 2, size * 0.37);
  cairo_line_to (cr, size / 2, size * 0.63);
  cairo_stroke (cr);
  cairo_arc (cr, size / 2, size * 0.79, size * 0.06, 0, 2 * G_PI);
  cairo_fill (cr);
  cairo_restore (cr);
}

static void
draw_warning (const WbReportPiece *self,
              cairo_t             *cr,
              double               width)
{
  cairo_set_line_width (cr, 1);
  cairo_rectangle (cr, 0.5, 0.5, width - 1, self->height - 1);
  cairo_stroke (cr);
  wb_report_draw_alert (cr, PAD, (self->height - WB_REPORT_ALERT) / 2, WB_REPORT_ALERT);
  cairo_move_to (cr, self->indent, (self->height - wb_report_layout_get_height (self->layout)) / 2);
  pango_cairo_show_layout (cr, self->layout);
}

static void
say_layout (GString     *text,
            PangoLayout *layout)
{
  g_string_append_printf (text, "%s%s", text->len > 0 ? "\n" : "", pango_layout_get_text (layout));
}

static void
say_warning (const WbReportPiece *self,
             GString             *text)
{
  say_layout (text, self->layout);
}

void
wb_report_document_add_warning (WbReportDocument *self,
                                const char       *text)
{
  WbReportPiece *piece = wb_report_piece_new (self);
  g_autofree char *escaped = g_markup_escape_text (text, -1);
  /* Translators: the signal word of a safety caution, in capitals. */
  g_autofree char *markup = g_strdup_printf ("<b>%s</b>  %s", _("WARNING"), escaped);

  piece->indent = WB_REPORT_ALERT + 2 * PAD;
  piece->layout = wb_report_layout_new (self, "", WB_REPORT_BODY_PT, PANGO_WEIGHT_NORMAL,
                                        wb_report_document_get_text_width (self) - piece->indent - PAD);
  pango_layout_set_markup (piece->layout, markup, -1);
  piece->height = MAX (wb_report_layout_get_height (piece->layout), WB_REPORT_ALERT) + 1.5 * PAD;
  piece->gap = 7;
  piece->draw = draw_warning;
  piece->say = say_warning;
  g_assert (piece->height <= wb_report_document_get_text_height (self)); /* cautions are the program's own words */
  wb_report_document_add_piece (self, piece);
}

/* ---- The answer ---- */

/* Title, lead and body, one under the other. */
typedef struct { PangoLayout *layouts[3]; } Answer;

static void
draw_answer (const WbReportPiece *self,
             cairo_t             *cr,
             double               width)
{
  const Answer *answer = self->data;
  double y = PAD;

  cairo_set_source_rgb (cr, 0.94, 0.955, 0.965);
  cairo_rectangle (cr, 0, 0, width, self->height);
  cairo_fill (cr);
  cairo_set_source_rgb (cr, 0.10, 0.27, 0.42);
  cairo_rectangle (cr, 0, 0, BAR, self->height);
  cairo_fill (cr);
  cairo_set_source_rgb (cr, 0, 0, 0);
  for (guint i = 0; i < G_N_ELEMENTS (answer->layouts); i++)
    {
      if (answer->layouts[i] == NULL)
        continue;
      cairo_move_to (cr, self->indent, y);
      pango_cairo_show_layout (cr, answer->layouts[i]);
      y += wb_report_layout_get_height (answer->layouts[i]) + 3;
    }
}

static void
say_answer (const WbReportPiece *self,
            GString             *text)
{
  const Answer *answer = self->data;

  for (guint i = 0; i < G_N_ELEMENTS (answer->layouts); i++)
    if (answer->layouts[i] != NULL)
      say_layout (text, answer->layouts[i]);
}

static void
free_answer (WbReportPiece *self)
{
  Answer *answer = self->data;

  for (guint i = 0; i < G_N_ELEMENTS (answer->layouts); i++)
    g_clear_object (&answer->layouts[i]);
  g_free (answer);
}

void
wb_report_document_add_answer (WbReportDocument *self,
                               const char       *title,
                               const char       *lead,
                               const char       *body)
{
  WbReportPiece *piece = wb_report_piece_new (self);
  Answer *answer = g_new0 (Answer, 1);
  const char *texts[] = { title, lead, body };
  static const double sizes[] = { WB_REPORT_BODY_PT, ANSWER_PT, WB_REPORT_BODY_PT };

  piece->indent = BAR + PAD;
  piece->data = answer;
  piece->draw = draw_answer;
  piece->say = say_answer;
  piece->free_data = free_answer;
  piece->gap = 8;
  piece->height = 2 * PAD - 3;
  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      if (texts[i] == NULL || *texts[i] == '\0')
        continue;
      answer->layouts[i] = wb_report_layout_new (self, texts[i], sizes[i], i == 0 ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL,
                                                 wb_report_document_get_text_width (self) - piece->indent - PAD);
      piece->height += wb_report_layout_get_height (answer->layouts[i]) + 3;
    }
  if (piece->height <= wb_report_document_get_text_height (self) / 2)
    {
      wb_report_document_add_piece (self, piece);
      return;
    }
  /* names without measure: as running text, which may break */
  wb_report_piece_free (piece);
  if (title != NULL)
    wb_report_document_add_paragraph (self, WB_REPORT_TEXT_STRONG, title);
  wb_report_document_add_paragraph (self, WB_REPORT_TEXT_LEAD, lead);
  if (body != NULL)
    wb_report_document_add_paragraph (self, WB_REPORT_TEXT_BODY, body);
}

/* ---- Charts ---- */

#define TEXT_SCALE 0.9
#define LEAST 0.87 /* of the height that was asked for: a chart gives up so much, that one more stands on the page */
#define LEAST_OF_ROWS 0.98 /* of one of rows with a name each, which would lose every second name */

static void
draw_chart (const WbReportPiece *self,
            cairo_t             *cr,
            double               width)
{
  if (self->chart != NULL)
    wb_chart_layout_draw (self->chart, cr, WB_CHART_THEME_LIGHT);
  else if (self->layout != NULL)
    {
      cairo_move_to (cr, 0, 0);
      pango_cairo_show_layout (cr, self->layout);
    }
}

static void
say_chart (const WbReportPiece *self,
           GString             *text)
{
  g_string_append_printf (text, "%s%s\n%s", text->len > 0 ? "\n" : "", wb_chart_get_title (self->picture), wb_chart_get_description (self->picture));
}

void
wb_report_chart_lay_out (WbReportDocument *self,
                         WbReportPiece    *piece)
{
  double width = wb_report_document_get_text_width (self);
  g_autoptr (GError) error = NULL;

  if (piece->chart != NULL && fabs (wb_chart_layout_get_height (piece->chart) - piece->height) < 0.01)
    return;
  g_clear_pointer (&piece->chart, wb_chart_layout_free);
  g_clear_object (&piece->layout);
  piece->chart = wb_chart_layout_new_with_fonts (piece->picture, pango_context_get_font_map (self->context), width, piece->height, TEXT_SCALE, &error);
  /* A chart that cannot be drawn says why in its place. */
  if (piece->chart == NULL)
    piece->layout = wb_report_layout_new (self, error->message, WB_REPORT_SMALL_PT, PANGO_WEIGHT_NORMAL, width);
}

static gboolean
has_rows (const WbChart *chart)
{
  return wb_chart_get_n_panels (chart) > 0 && wb_chart_axis_get_n_categories (wb_chart_panel_get_y (wb_chart_get_panel (chart, 0))) > 0;
}

void
wb_report_document_add_chart (WbReportDocument *self,
                              WbChart          *chart,
                              double            height)
{
  WbReportPiece *piece = wb_report_piece_new (self);

  g_return_if_fail (height >= WB_CHART_MIN_HEIGHT);

  piece->height = piece->asked = MIN (height, wb_report_document_get_text_height (self) - 40); /* room for a heading above it */
  piece->least = MAX ((has_rows (chart) ? LEAST_OF_ROWS : LEAST) * piece->asked, WB_CHART_MIN_HEIGHT);
  piece->gap = 10;
  piece->draw = draw_chart;
  piece->say = say_chart;
  piece->figure = TRUE;
  piece->picture = wb_chart_ref (chart);
  wb_report_document_add_piece (self, piece);
}
