/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-document-private.h"

#include <cairo-pdf.h>
#include <gio/gio.h>

#include "wb-report-options.h"

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
      target = g_strdup_printf ("page=%u pos=[%d %d]", placed->page + 1, (int) WB_REPORT_MARGIN, (int) (placed->y * self->scale));
      id = cairo_pdf_surface_add_outline (surface, placed->piece->level == 1 ? CAIRO_PDF_OUTLINE_ROOT : parent,
                                          placed->piece->text, target, CAIRO_PDF_OUTLINE_FLAG_OPEN);
      if (placed->piece->level == 1)
        parent = id;
    }
}

static gboolean
draw_pages (WbReportDocument *self,
            cairo_surface_t  *surface,
            WbReportKeepGoing keep_going,
            gpointer          user)
{
  cairo_t *cr = cairo_create (surface);
  gboolean wanted = TRUE;

  for (guint page = 0; page < self->n_pages && wanted; page++)
    {
      g_autofree char *label = wb_report_pages_dup_label (self, page);

      wanted = keep_going == NULL || keep_going ((double) page / self->n_pages, user);
      cairo_pdf_surface_set_page_label (surface, label);
      wb_report_document_draw_page (self, cr, page);
      cairo_show_page (cr);
    }
  cairo_destroy (cr);
  return wanted;
}

GBytes *
wb_report_document_dup_pdf_while (WbReportDocument *self,
                                  const char       *created,
                                  WbReportKeepGoing keep_going,
                                  gpointer          user,
                                  GError          **error)
{
  GByteArray *bytes = g_byte_array_new ();
  cairo_surface_t *surface = cairo_pdf_surface_create_for_stream (write_bytes, bytes, self->width, self->height);
  cairo_status_t status;
  gboolean wanted;

  wb_report_pages_make (self);
  set_information (self, surface, created);
  wanted = draw_pages (self, surface, keep_going, user);
  if (wanted)
    add_outline (self, surface);
  cairo_surface_finish (surface);
  status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  if (wanted && status == CAIRO_STATUS_SUCCESS)
    return g_byte_array_free_to_bytes (bytes);
  g_byte_array_unref (bytes);
  g_set_error (error, G_IO_ERROR, wanted ? G_IO_ERROR_FAILED : G_IO_ERROR_CANCELLED, "%s", wanted ? cairo_status_to_string (status) : "Cancelled");
  return NULL;
}

GBytes *
wb_report_document_dup_pdf (WbReportDocument *self,
                            const char       *created,
                            GError          **error)
{
  return wb_report_document_dup_pdf_while (self, created, NULL, NULL, error);
}
