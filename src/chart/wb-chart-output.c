/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Layouts into PNG, SVG and PDF bytes. */
#include "config.h"

#include "wb-chart-output.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* cairo's image surfaces end at 32767 pixels a side; the product bounds the memory to 400 MB. */
#define MAX_PIXELS 32767.0
#define MAX_AREA 1e8

static cairo_status_t
on_cairo_write_cb (void                *closure,
                   const unsigned char *data,
                   unsigned int         length)
{
  g_byte_array_append (closure, data, length);

  return CAIRO_STATUS_SUCCESS;
}

static gboolean
check_status (cairo_status_t   status,
              GError         **error)
{
  if (status == CAIRO_STATUS_SUCCESS)
    return TRUE;

  g_set_error (error, WB_CHART_ERROR, WB_CHART_ERROR_OUTPUT,
               _ ("the drawing could not be made: %s"), cairo_status_to_string (status));

  return FALSE;
}

static gboolean
draw_png (const WbChartLayout  *layout,
          const WbChartOutput  *output,
          GByteArray           *bytes,
          GError              **error)
{
  double width = ceil (output->width * output->scale - 1e-6),
         height = ceil (output->height * output->scale - 1e-6);

  if (!(output->scale > 0.0) || !(width >= 1.0 && height >= 1.0) || width > MAX_PIXELS
      || height > MAX_PIXELS || width * height > MAX_AREA)
    {
      g_set_error_literal (error, WB_CHART_ERROR, WB_CHART_ERROR_SIZE,
                           _ ("an image of so many pixels, or of none, cannot be made"));
      return FALSE;
    }

  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) width, (int) height);
  cairo_t         *cr = cairo_create (surface);

  cairo_scale (cr, width / output->width, height / output->height);
  wb_chart_layout_draw (layout, cr, output->theme);
  cairo_status_t status = cairo_status (cr);
  cairo_destroy (cr);
  if (status == CAIRO_STATUS_SUCCESS)
    status = cairo_surface_write_to_png_stream (surface, on_cairo_write_cb, bytes);
  cairo_surface_destroy (surface);

  return check_status (status, error);
}

static char *
dup_created (const char *created)
{
  const char *epoch = g_getenv ("SOURCE_DATE_EPOCH");
  gint64      seconds = epoch != NULL ? g_ascii_strtoll (epoch, NULL, 10) : 0;

  if (created != NULL)
    return g_strdup (created);

  g_autoptr (GDateTime) instant = g_date_time_new_from_unix_utc (seconds);

  return instant != NULL ? g_date_time_format (instant, "%Y-%m-%dT%H:%M:%SZ")
                         : g_strdup ("1970-01-01T00:00:00Z");
}

static void
set_metadata (cairo_surface_t     *surface,
              const WbChart       *chart,
              const WbChartOutput *output)
{
  g_autofree char *created = dup_created (output->created);
  const char      *title = wb_chart_get_title (chart), *description = wb_chart_get_description (chart);

  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATE_DATE, created);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_MOD_DATE, created);
  if (title != NULL)
    cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, title);
  if (description != NULL)
    cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_SUBJECT, description);
}

/* cairo names an SVG's one group by a counter of the process, and refers to it nowhere: the name goes, for the same bytes each time. */
static void
drop_group_name (GByteArray *bytes)
{
  static const char name[] = " id=\"surface";
  const char       *text = (const char *) bytes->data;
  const char       *start = g_strstr_len (text, (gssize) bytes->len, name);

  if (start == NULL)
    return;

  guint from = (guint) (start - text), to = from + (guint) strlen (name);
  while (to < bytes->len && g_ascii_isdigit (bytes->data[to]))
    to++;
  if (to < bytes->len && bytes->data[to] == '"')
    g_byte_array_remove_range (bytes, from, to + 1 - from);
}

static gboolean
draw_page (const WbChartLayout  *layout,
           const WbChartOutput  *output,
           GByteArray           *bytes,
           GError              **error)
{
  cairo_surface_t *surface = output->format == WB_CHART_FORMAT_PDF
                                 ? cairo_pdf_surface_create_for_stream (
                                     on_cairo_write_cb, bytes, output->width, output->height)
                                 : cairo_svg_surface_create_for_stream (
                                     on_cairo_write_cb, bytes, output->width, output->height);
  cairo_t         *cr = cairo_create (surface);

  if (output->format == WB_CHART_FORMAT_PDF)
    set_metadata (surface, wb_chart_layout_get_chart (layout), output);
  wb_chart_layout_draw (layout, cr, output->theme);
  cairo_show_page (cr);
  cairo_status_t status = cairo_status (cr);
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  if (status == CAIRO_STATUS_SUCCESS)
    status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  if (output->format == WB_CHART_FORMAT_SVG)
    drop_group_name (bytes);

  return check_status (status, error);
}

gboolean
wb_chart_output_format_for_path (const char    *path,
                                 WbChartFormat *format)
{
  static const struct
  {
    const char   *end;
    WbChartFormat format;
  } ends[] = { { ".png", WB_CHART_FORMAT_PNG },
               { ".svg", WB_CHART_FORMAT_SVG },
               { ".pdf", WB_CHART_FORMAT_PDF } };

  g_return_val_if_fail (path != NULL && format != NULL, FALSE);

  g_autofree char *lower = g_ascii_strdown (path, -1);
  for (guint i = 0; i < G_N_ELEMENTS (ends); i++)
    if (g_str_has_suffix (lower, ends[i].end))
      {
        *format = ends[i].format;
        return TRUE;
      }

  return FALSE;
}

GBytes *
wb_chart_output_dup_bytes (WbChart              *chart,
                           const WbChartOutput  *output,
                           GError              **error)
{
  g_return_val_if_fail (chart != NULL && output != NULL, NULL);
  g_return_val_if_fail (error == NULL || *error == NULL, NULL);

  g_autoptr (WbChartLayout) layout
      = wb_chart_layout_new (chart, output->width, output->height, output->text_scale, error);
  if (layout == NULL)
    return NULL;

  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  gboolean done = output->format == WB_CHART_FORMAT_PNG ? draw_png (layout, output, bytes, error)
                                                        : draw_page (layout, output, bytes, error);

  return done ? g_byte_array_free_to_bytes (g_steal_pointer (&bytes)) : NULL;
}

gboolean
wb_chart_output_write (WbChart              *chart,
                       const WbChartOutput  *output,
                       const char           *path,
                       GError              **error)
{
  g_return_val_if_fail (path != NULL, FALSE);

  g_autoptr (GBytes) bytes = wb_chart_output_dup_bytes (chart, output, error);
  gsize              length;

  if (bytes == NULL)
    return FALSE;

  const char *data = g_bytes_get_data (bytes, &length);

  return g_file_set_contents_full (path, data, (gssize) length,
                                   G_FILE_SET_CONTENTS_CONSISTENT | G_FILE_SET_CONTENTS_DURABLE,
                                   0666, error);
}
