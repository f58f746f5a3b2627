/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-document-private.h"

#include <cairo-pdf.h>
#include <gio/gio.h>
#include <glib/gi18n-lib.h>

#include "wb-report-options.h"

#define SMALL_PT 8.0

/* ---- Breaking ---- */

static double
first_head_height (const WbReportDocument *self)
{
  g_autoptr (PangoLayout) lines = NULL;
  double height = 0;

  if (self->letterhead != NULL)
    height += 20;
  if (self->letterhead_lines != NULL)
    {
      lines = wb_report_layout_new (self, self->letterhead_lines, SMALL_PT, PANGO_WEIGHT_NORMAL, wb_report_document_get_text_width (self));
      height += wb_report_layout_get_height (lines);
    }
  return MAX (height + 8, WB_REPORT_HEAD / 2);
}

double
wb_report_pages_get_top (const WbReportDocument *self,
                         guint                   page)
{
  return page == 0 ? WB_REPORT_MARGIN * 0.75 + first_head_height (self) : WB_REPORT_MARGIN * 0.75 + WB_REPORT_HEAD / 2;
}

static double
bottom (const WbReportDocument *self)
{
  return self->height - WB_REPORT_MARGIN * 0.75 - WB_REPORT_FOOT;
}

/* Height of a piece and of all that must stand on its page behind it. */
static double
chain_height (const WbReportDocument *self,
              guint                   index)
{
  double height = 0;

  for (guint i = index; i < self->pieces->len; i++)
    {
      const WbReportPiece *piece = g_ptr_array_index (self->pieces, i);

      height += piece->height + (i > index ? piece->gap : 0);
      if (!piece->keep_next)
        break;
    }
  return height;
}

static void
place (WbReportDocument    *self,
       const WbReportPiece *piece,
       double               y)
{
  WbReportPlaced placed = { piece, self->n_pages - 1, y };

  g_array_append_val (self->placed, placed);
}

void
wb_report_pages_make (WbReportDocument *self)
{
  double y;
  gboolean fresh = TRUE;
  gboolean chained = FALSE;

  if (self->placed != NULL)
    return;
  self->placed = g_array_new (FALSE, FALSE, sizeof (WbReportPlaced));
  self->n_pages = 1;
  y = wb_report_pages_get_top (self, 0);
  for (guint i = 0; i < self->pieces->len; i++)
    {
      const WbReportPiece *piece = g_ptr_array_index (self->pieces, i);
      double room = bottom (self) - wb_report_pages_get_top (self, 1);
      double need = chain_height (self, i);
      /* a chain longer than a page is broken where it must be */
      gboolean full = y + piece->gap + (chained || need > room ? piece->height : need) > bottom (self);

      if (piece->breaks ? !fresh : !fresh && full)
        {
          self->n_pages++;
          y = wb_report_pages_get_top (self, self->n_pages - 1);
          fresh = TRUE;
          if (piece->head != NULL)
            {
              place (self, piece->head, y);
              y += piece->head->height;
            }
        }
      if (piece->breaks)
        continue;
      if (!fresh)
        y += piece->gap;
      place (self, piece, y);
      y += piece->height;
      if (piece->height > 0)
        fresh = FALSE;
      chained = piece->keep_next;
    }
}

guint
wb_report_document_get_n_pages (WbReportDocument *self)
{
  wb_report_pages_make (self);
  return self->n_pages;
}

int
wb_report_document_find_heading (WbReportDocument *self,
                                 const char       *text)
{
  wb_report_pages_make (self);
  for (guint i = 0; i < self->placed->len; i++)
    {
      const WbReportPlaced *placed = &g_array_index (self->placed, WbReportPlaced, i);

      if (placed->piece->level > 0 && g_strcmp0 (placed->piece->text, text) == 0)
        return (int) placed->page;
    }
  return -1;
}

/* ---- Drawing ---- */

static void
show (const WbReportDocument *self,
      cairo_t                *cr,
      const char             *text,
      double                  size,
      PangoWeight             weight,
      double                  y,
      PangoAlignment          align)
{
  g_autoptr (PangoLayout) layout = wb_report_layout_new (self, text, size, weight, wb_report_document_get_text_width (self));

  pango_layout_set_alignment (layout, align);
  if (size <= SMALL_PT && y > self->height / 2)
    {
      pango_layout_set_height (layout, -2);
      pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
    }
  cairo_move_to (cr, WB_REPORT_MARGIN, y);
  pango_cairo_show_layout (cr, layout);
}

static void
draw_frame (WbReportDocument *self,
            cairo_t          *cr,
            guint             page)
{
  double top = WB_REPORT_MARGIN * 0.75;
  double foot = self->height - WB_REPORT_MARGIN * 0.75 - WB_REPORT_FOOT / 2;
  g_autofree char *number = g_strdup_printf (_("Page %u of %u"), page + 1, self->n_pages);

  cairo_set_source_rgb (cr, 0, 0, 0);
  if (page == 0 && self->letterhead != NULL)
    show (self, cr, self->letterhead, 12, PANGO_WEIGHT_BOLD, top - 6, PANGO_ALIGN_LEFT);
  if (page == 0 && self->letterhead_lines != NULL)
    show (self, cr, self->letterhead_lines, SMALL_PT, PANGO_WEIGHT_NORMAL, top + 12, PANGO_ALIGN_LEFT);
  if (page > 0)
    show (self, cr, self->title, SMALL_PT, PANGO_WEIGHT_NORMAL, top - 6, PANGO_ALIGN_LEFT);
  if (self->mark != NULL)
    show (self, cr, self->mark, SMALL_PT, PANGO_WEIGHT_BOLD, top - 18, PANGO_ALIGN_RIGHT);
  cairo_set_line_width (cr, 0.4);
  cairo_move_to (cr, WB_REPORT_MARGIN, foot - 4);
  cairo_line_to (cr, self->width - WB_REPORT_MARGIN, foot - 4);
  cairo_stroke (cr);
  show (self, cr, number, SMALL_PT, PANGO_WEIGHT_NORMAL, foot, PANGO_ALIGN_RIGHT);
  if (self->foot != NULL)
    {
      g_autoptr (PangoLayout) layout = wb_report_layout_new (self, self->foot, SMALL_PT - 1, PANGO_WEIGHT_NORMAL,
                                                             wb_report_document_get_text_width (self) - 80);

      pango_layout_set_height (layout, -2);
      pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
      cairo_move_to (cr, WB_REPORT_MARGIN, foot);
      pango_cairo_show_layout (cr, layout);
    }
}

void
wb_report_document_draw_page (WbReportDocument *self,
                              cairo_t          *cr,
                              guint             page)
{
  wb_report_pages_make (self);
  g_return_if_fail (page < self->n_pages);

  cairo_save (cr);
  draw_frame (self, cr, page);
  for (guint i = 0; i < self->placed->len; i++)
    {
      const WbReportPlaced *placed = &g_array_index (self->placed, WbReportPlaced, i);

      if (placed->page != page)
        continue;
      cairo_save (cr);
      cairo_translate (cr, WB_REPORT_MARGIN, placed->y);
      cairo_set_source_rgb (cr, 0, 0, 0);
      placed->piece->draw (placed->piece, cr, wb_report_document_get_text_width (self));
      cairo_restore (cr);
    }
  cairo_restore (cr);
}

/* ---- PDF ---- */

static cairo_status_t
write_bytes (void                *closure,
             const unsigned char *data,
             unsigned int         length)
{
  g_byte_array_append (closure, data, length);
  return CAIRO_STATUS_SUCCESS;
}

static void
set_information (WbReportDocument *self,
                 cairo_surface_t  *surface,
                 const char       *created)
{
  g_autofree char *date = created != NULL ? g_strdup (created) : wb_instant_format (wb_report_now ());

  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, self->title);
  if (self->subject != NULL)
    cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_SUBJECT, self->subject);
  if (self->author != NULL)
    cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_AUTHOR, self->author);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATOR, "Wickbench " WB_VERSION);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATE_DATE, date);
}

static void
add_outline (WbReportDocument *self,
             cairo_surface_t  *surface)
{
  int parent = CAIRO_PDF_OUTLINE_ROOT;

  for (guint i = 0; i < self->placed->len; i++)
    {
      const WbReportPlaced *placed = &g_array_index (self->placed, WbReportPlaced, i);
      g_autofree char *target = NULL;
      int id;

      if (placed->piece->level == 0)
        continue;
      target = g_strdup_printf ("page=%u pos=[%d %d]", placed->page + 1, (int) WB_REPORT_MARGIN, (int) placed->y);
      id = cairo_pdf_surface_add_outline (surface, placed->piece->level == 1 ? CAIRO_PDF_OUTLINE_ROOT : parent,
                                          placed->piece->text, target, CAIRO_PDF_OUTLINE_FLAG_OPEN);
      if (placed->piece->level == 1)
        parent = id;
    }
}

GBytes *
wb_report_document_dup_pdf (WbReportDocument *self,
                            const char       *created,
                            GError          **error)
{
  GByteArray *bytes = g_byte_array_new ();
  cairo_surface_t *surface = cairo_pdf_surface_create_for_stream (write_bytes, bytes, self->width, self->height);
  cairo_t *cr;
  cairo_status_t status;

  wb_report_pages_make (self);
  set_information (self, surface, created);
  cr = cairo_create (surface);
  for (guint page = 0; page < self->n_pages; page++)
    {
      g_autofree char *label = g_strdup_printf ("%u", page + 1);

      cairo_pdf_surface_set_page_label (surface, label);
      wb_report_document_draw_page (self, cr, page);
      cairo_show_page (cr);
    }
  add_outline (self, surface);
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  if (status == CAIRO_STATUS_SUCCESS)
    return g_byte_array_free_to_bytes (bytes);
  g_byte_array_unref (bytes);
  g_set_error (error, G_IO_ERROR, G_IO_ERROR_FAILED, "%s", cairo_status_to_string (status));
  return NULL;
}
