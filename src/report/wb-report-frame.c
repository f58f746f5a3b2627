/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-document-private.h"

#include <glib/gi18n-lib.h>

#include "wb-report-picture-private.h"

/* What stands around the text of each page: letterhead or running title, mark, foot and page number. */

#define NAME_PT 13.0
#define HEAD_GAP 16.0
#define NUMBER_WIDTH 110.0
#define MARK_WIDTH 150.0
#define LOGO_WIDTH 142.0  /* 5 cm */
#define LOGO_HEIGHT 57.0  /* 2 cm */
#define LOGO_GAP 12.0

static void
show (cairo_t     *cr,
      PangoLayout *layout,
      double       x,
      double       y)
{
  cairo_move_to (cr, x, y);
  pango_cairo_show_layout (cr, layout);
}

static double
head_width (const WbReportDocument *self)
{
  return wb_report_document_get_text_width (self) * self->scale - (self->mark != NULL ? MARK_WIDTH + 12 : 0);
}

/* How large the logo is drawn: its shape kept, within its box, never above 150 pixels an inch, where it would be coarse. */
static void
get_logo_size (const WbReportDocument *self,
               double                 *width,
               double                 *height)
{
  int wide = self->logo != NULL ? cairo_image_surface_get_width (self->logo) : 0;
  int high = self->logo != NULL ? cairo_image_surface_get_height (self->logo) : 0;
  double scale = wide > 0 ? MIN (MIN (LOGO_WIDTH / wide, LOGO_HEIGHT / high), 72.0 / 150) : 0;

  *width = wide * scale;
  *height = high * scale;
}

/* Where the letterhead's text begins, behind the logo. */
static double
text_indent (const WbReportDocument *self)
{
  double width, height;

  get_logo_size (self, &width, &height);
  return width > 0 ? width + LOGO_GAP : 0;
}

static PangoLayout *
name_layout (const WbReportDocument *self)
{
  PangoLayout *layout = wb_report_layout_new (self, self->letterhead, NAME_PT, PANGO_WEIGHT_BOLD, head_width (self) - text_indent (self));

  wb_report_layout_limit (layout, 2);
  return layout;
}

/* Paragraphs have their own limit, so an address of many lines is cut as a text of many lines is. */
static PangoLayout *
address_layout (const WbReportDocument *self)
{
  g_auto (GStrv) lines = g_strsplit (self->letterhead_lines, "\n", 6);
  g_autofree char *text = NULL;

  if (g_strv_length (lines) == 6)
    g_clear_pointer (&lines[5], g_free);
  text = g_strjoinv ("\n", lines);

  PangoLayout *layout = wb_report_layout_new (self, text, WB_REPORT_SMALL_PT, PANGO_WEIGHT_NORMAL, head_width (self) - text_indent (self));

  wb_report_layout_limit (layout, 2);
  return layout;
}

static double
letterhead_height (const WbReportDocument *self)
{
  double height = 0, logo_width, logo_height;

  if (self->letterhead != NULL)
    {
      g_autoptr (PangoLayout) layout = name_layout (self);

      height += wb_report_layout_get_height (layout);
    }
  if (self->letterhead_lines != NULL)
    {
      g_autoptr (PangoLayout) layout = address_layout (self);

      height += wb_report_layout_get_height (layout);
    }
  get_logo_size (self, &logo_width, &logo_height);
  return MAX (MAX (height, logo_height - 3), WB_REPORT_SMALL_PT * 1.6);
}

double
wb_report_frame_get_top (const WbReportDocument *self,
                         guint                   page)
{
  if (self->bare)
    return 0;
  return WB_REPORT_EDGE + HEAD_GAP + (page == 0 ? letterhead_height (self) + 6 : WB_REPORT_SMALL_PT * 1.6);
}

double
wb_report_frame_get_bottom (const WbReportDocument *self)
{
  return self->bare ? self->height : self->height - WB_REPORT_EDGE - WB_REPORT_FOOT;
}

static void
draw_rule (const WbReportDocument *self,
           cairo_t                *cr,
           double                  y,
           double                  thickness)
{
  cairo_set_line_width (cr, thickness);
  cairo_move_to (cr, WB_REPORT_MARGIN, y);
  cairo_line_to (cr, self->width - WB_REPORT_MARGIN, y);
  cairo_stroke (cr);
}

static void
draw_mark (const WbReportDocument *self,
           cairo_t                *cr)
{
  g_autoptr (PangoLayout) layout = wb_report_layout_new (self, self->mark, WB_REPORT_BODY_PT, PANGO_WEIGHT_BOLD, MARK_WIDTH - 12);
  double width, height, x;

  wb_report_layout_limit (layout, 1);
  width = wb_report_layout_get_width (layout);
  height = wb_report_layout_get_height (layout);
  x = self->width - WB_REPORT_MARGIN - width - 6;
  show (cr, layout, x, WB_REPORT_EDGE - 3);
  cairo_set_line_width (cr, 0.9);
  cairo_rectangle (cr, x - 6, WB_REPORT_EDGE - 5, width + 12, height + 4);
  cairo_stroke (cr);
}

static void
draw_head (const WbReportDocument *self,
           cairo_t                *cr,
           guint                   page)
{
  double y = WB_REPORT_EDGE, x = WB_REPORT_MARGIN + text_indent (self), logo_width, logo_height;

  if (page > 0)
    {
      g_autoptr (PangoLayout) layout = wb_report_layout_new (self, self->title, WB_REPORT_SMALL_PT, PANGO_WEIGHT_NORMAL, head_width (self));

      wb_report_layout_limit (layout, 1);
      show (cr, layout, WB_REPORT_MARGIN, y);
      return;
    }
  get_logo_size (self, &logo_width, &logo_height);
  if (self->logo != NULL)
    {
      wb_report_picture_draw (self->logo, cr, WB_REPORT_MARGIN, y - 3, logo_width, logo_height, NULL, NULL);
      cairo_set_source_rgb (cr, 0, 0, 0);
    }
  if (self->letterhead != NULL)
    {
      g_autoptr (PangoLayout) layout = name_layout (self);

      show (cr, layout, x, y - 3);
      y += wb_report_layout_get_height (layout);
    }
  if (self->letterhead_lines != NULL)
    {
      g_autoptr (PangoLayout) layout = address_layout (self);

      show (cr, layout, x, y - 2);
    }
  if (self->letterhead != NULL || self->letterhead_lines != NULL || self->logo != NULL)
    draw_rule (self, cr, WB_REPORT_EDGE + letterhead_height (self) + 4, 0.8);
}

/* Whatever a page is called, its count shows whether one is missing. */
static char *
dup_number (const WbReportDocument *self,
            guint                   page)
{
  /* Translators: number of the page, then how many there are. */
  g_autofree char *number = g_strdup_printf (_("Page %u of %u"), page + 1, self->n_pages);

  if (self->appendix == NULL || page < self->appendix_page)
    return g_steal_pointer (&number);
  /* Translators: a page of the appendix, then "Page 9 of 12". */
  return g_strdup_printf (_("A-%u · %s"), page - self->appendix_page + 1, number);
}

static void
draw_foot (const WbReportDocument *self,
           cairo_t                *cr,
           guint                   page)
{
  double y = self->height - WB_REPORT_EDGE - WB_REPORT_FOOT / 2 - 3;
  g_autofree char *number = dup_number (self, page);
  g_autoptr (PangoLayout) layout = wb_report_layout_new (self, number, WB_REPORT_SMALL_PT, PANGO_WEIGHT_NORMAL, NUMBER_WIDTH);

  draw_rule (self, cr, y - 4, 0.4);
  pango_layout_set_alignment (layout, PANGO_ALIGN_RIGHT);
  show (cr, layout, self->width - WB_REPORT_MARGIN - NUMBER_WIDTH, y);
  if (self->foot != NULL)
    {
      g_autoptr (PangoLayout) foot = wb_report_layout_new (self, self->foot, WB_REPORT_SMALL_PT - 1, PANGO_WEIGHT_NORMAL,
                                                           wb_report_document_get_text_width (self) * self->scale - NUMBER_WIDTH - 12);

      wb_report_layout_limit (foot, 2);
      show (cr, foot, WB_REPORT_MARGIN, y);
    }
}

void
wb_report_frame_draw (const WbReportDocument *self,
                      cairo_t                *cr,
                      guint                   page)
{
  if (self->bare)
    return;
  cairo_set_source_rgb (cr, 0, 0, 0);
  draw_head (self, cr, page);
  if (self->mark != NULL)
    draw_mark (self, cr);
  draw_foot (self, cr, page);
}
