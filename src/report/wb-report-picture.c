/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-picture-private.h"

#include <gdk-pixbuf/gdk-pixbuf.h>

#include "wb-report-document-private.h"

/*
 * Pictures on paper. A PDF gets the JPEG that is made here of the pixels, at the
 * resolution of print, and no more of the file that the picture came from.
 */

#define QUALITY "82"
#define BETWEEN 14.0
#define MOST_HEIGHT 210.0 /* points: three rows make a page */
#define CAPTION_GAP 3.0

WbReportPicture *
wb_report_picture_new (int     width,
                       int     height,
                       gsize   stride,
                       GBytes *rgb)
{
  WbReportPicture *self;

  g_return_val_if_fail (width > 0 && height > 0 && stride >= (gsize) width * 3, NULL);
  g_return_val_if_fail (g_bytes_get_size (rgb) >= stride * (gsize) (height - 1) + (gsize) width * 3, NULL);

  self = g_new0 (WbReportPicture, 1);
  self->width = width;
  self->height = height;
  self->stride = stride;
  self->rgb = g_bytes_ref (rgb);
  return self;
}

void
wb_report_picture_free (WbReportPicture *self)
{
  if (self == NULL)
    return;
  g_bytes_unref (self->rgb);
  g_free (self);
}

void
wb_report_photo_free (WbReportPhoto *self)
{
  if (self == NULL)
    return;
  wb_report_picture_free (self->picture);
  g_free (self->note);
  g_free (self);
}

/* ---- Surfaces ---- */

static void
fill_surface (const WbReportPicture *self,
              cairo_surface_t       *surface)
{
  const guchar *from = g_bytes_get_data (self->rgb, NULL);
  guchar *to = cairo_image_surface_get_data (surface);
  int stride = cairo_image_surface_get_stride (surface);

  for (int y = 0; y < self->height; y++)
    {
      guint32 *row = (guint32 *) (to + (gsize) y * stride);
      const guchar *pixel = from + (gsize) y * self->stride;

      for (int x = 0; x < self->width; x++, pixel += 3)
        row[x] = 0xff000000u | (guint32) pixel[0] << 16 | (guint32) pixel[1] << 8 | pixel[2];
    }
  cairo_surface_mark_dirty (surface);
}

/* Where it cannot be made the pixels go into the PDF as they are. */
static void
attach_jpeg (const WbReportPicture *self,
             cairo_surface_t       *surface)
{
  g_autoptr (GdkPixbuf) pixbuf = gdk_pixbuf_new_from_bytes (self->rgb, GDK_COLORSPACE_RGB, FALSE, 8, self->width, self->height, (int) self->stride);
  char *jpeg = NULL;
  gsize size;

  if (!gdk_pixbuf_save_to_buffer (pixbuf, &jpeg, &size, "jpeg", NULL, "quality", QUALITY, NULL))
    return;
  if (cairo_surface_set_mime_data (surface, CAIRO_MIME_TYPE_JPEG, (const guchar *) jpeg, size, g_free, jpeg) != CAIRO_STATUS_SUCCESS)
    g_free (jpeg);
}

cairo_surface_t *
wb_report_picture_new_surface (const WbReportPicture *self)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, self->width, self->height);

  if (cairo_surface_status (surface) != CAIRO_STATUS_SUCCESS)
    {
      cairo_surface_destroy (surface);
      return NULL;
    }
  fill_surface (self, surface);
  attach_jpeg (self, surface);
  return surface;
}

void
wb_report_picture_draw (cairo_surface_t *surface,
                        cairo_t         *cr,
                        double           x,
                        double           y,
                        double           width,
                        double           height,
                        double          *drawn_width,
                        double          *drawn_height)
{
  int pixels_wide = cairo_image_surface_get_width (surface), pixels_high = cairo_image_surface_get_height (surface);
  double scale = MIN (width / pixels_wide, height / pixels_high);

  cairo_save (cr);
  cairo_translate (cr, x, y);
  cairo_scale (cr, scale, scale);
  cairo_set_source_surface (cr, surface, 0, 0);
  cairo_rectangle (cr, 0, 0, pixels_wide, pixels_high);
  cairo_fill (cr);
  cairo_restore (cr);
  if (drawn_width != NULL)
    *drawn_width = pixels_wide * scale;
  if (drawn_height != NULL)
    *drawn_height = pixels_high * scale;
}

/* ---- A row of pictures ---- */

typedef struct
{
  cairo_surface_t *surfaces[2];
  PangoLayout     *captions[2];
  double           height;      /* of the pictures, points */
} Row;

static double
get_column (double width)
{
  return (width - BETWEEN) / 2;
}

static void
draw_row (const WbReportPiece *self,
          cairo_t             *cr,
          double               width)
{
  const Row *row = self->data;
  double column = get_column (width);

  for (int i = 0; i < 2; i++)
    {
      double x = i * (column + BETWEEN), width_drawn, height_drawn = row->height;

      if (row->surfaces[i] != NULL)
        wb_report_picture_draw (row->surfaces[i], cr, x, 0, column, row->height, &width_drawn, &height_drawn);
      if (row->captions[i] == NULL)
        continue;
      cairo_set_source_rgb (cr, 0, 0, 0);
      cairo_move_to (cr, x, height_drawn + CAPTION_GAP);
      pango_cairo_show_layout (cr, row->captions[i]);
    }
}

static void
say_row (const WbReportPiece *self,
         GString             *text)
{
  const Row *row = self->data;

  for (int i = 0; i < 2 && row->captions[i] != NULL; i++)
    g_string_append_printf (text, "%s%s", text->len > 0 ? "\n" : "", pango_layout_get_text (row->captions[i]));
}

static void
free_row (WbReportPiece *self)
{
  Row *row = self->data;

  for (int i = 0; i < 2; i++)
    {
      g_clear_pointer (&row->surfaces[i], cairo_surface_destroy);
      g_clear_object (&row->captions[i]);
    }
  g_free (row);
}

/* As high as the higher of the two is at the column's width, within what a page has for it. */
static double
get_row_height (const WbReportPicture *const pictures[2],
                double                       column)
{
  double height = 0;

  for (int i = 0; i < 2; i++)
    if (pictures[i] != NULL)
      height = MAX (height, column * pictures[i]->height / pictures[i]->width);
  return MIN (height, MOST_HEIGHT);
}

void
wb_report_document_add_pictures (WbReportDocument            *self,
                                 const WbReportPicture *const pictures[2],
                                 const char *const            captions[2])
{
  WbReportPiece *piece = wb_report_piece_new (self);
  double column = get_column (wb_report_document_get_text_width (self)), caption_height = 0;
  Row *row = g_new0 (Row, 1);

  row->height = get_row_height (pictures, column);
  for (int i = 0; i < 2 && pictures[i] != NULL; i++)
    {
      row->surfaces[i] = wb_report_picture_new_surface (pictures[i]);
      row->captions[i] = wb_report_layout_new (self, captions[i], WB_REPORT_SMALL_PT, PANGO_WEIGHT_NORMAL, column);
      wb_report_layout_limit (row->captions[i], 2);
      caption_height = MAX (caption_height, wb_report_layout_get_height (row->captions[i]));
    }
  piece->data = row;
  piece->draw = draw_row;
  piece->say = say_row;
  piece->free_data = free_row;
  piece->figure = TRUE;
  piece->gap = 10;
  piece->height = row->height + CAPTION_GAP + caption_height;
  wb_report_document_add_piece (self, piece);
}
