/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-chart-output.h"

#include <cairo.h>
#include <glib/gstdio.h>
#include <string.h>

#include "sample-charts.h"
#include "test-chart.h"

static const WbChartFormat formats[] = { WB_CHART_FORMAT_PNG, WB_CHART_FORMAT_SVG, WB_CHART_FORMAT_PDF };

static GBytes *
make (guint          index,
      WbChartFormat  format,
      const char    *created)
{
  g_autoptr (WbChart) chart = sample_charts_create (index);
  g_autoptr (GError)  error = NULL;
  WbChartOutput       output = WB_CHART_OUTPUT_INIT (format);

  output.created = created;
  GBytes *bytes = wb_chart_output_dup_bytes (chart, &output, &error);
  g_assert_no_error (error);

  return bytes;
}

/* Other charts are drawn between the two, so that nothing that stays in a cache may show. */
static void
test_same_bytes (void)
{
  for (gsize f = 0; f < G_N_ELEMENTS (formats); f++)
    {
      g_autoptr (GPtrArray) first = g_ptr_array_new_with_free_func ((GDestroyNotify) g_bytes_unref);

      for (guint i = 0; i < sample_charts_get_n (); i++)
        g_ptr_array_add (first, make (i, formats[f], NULL));
      for (guint i = sample_charts_get_n (); i > 0; i--)
        {
          g_autoptr (GBytes) again = make (i - 1, formats[f], NULL);

          g_assert_true (g_bytes_equal (again, g_ptr_array_index (first, i - 1)));
        }
    }
}

static char *
run_sums (void)
{
  g_autofree char   *self = g_file_read_link ("/proc/self/exe", NULL);
  char              *argv[] = { self, (char *) "-p", (char *) "/chart/output/subprocess/print-sums", (char *) "--GTestSubprocess", NULL };
  g_autoptr (GError) error = NULL;
  char              *sums = NULL;

  g_spawn_sync (NULL, argv, NULL, G_SPAWN_DEFAULT, NULL, NULL, &sums, NULL, NULL, &error);
  g_assert_no_error (error);

  return sums;
}

/* In another process too: two further runs of this program print the same sums. */
static void
test_same_bytes_in_another_process (void)
{
  g_autofree char *first = run_sums (), *second = run_sums ();

  g_assert_nonnull (strstr (first, "sum "));
  g_assert_cmpstr (first, ==, second);
}

static void
print_sums (void)
{
  for (gsize f = 0; f < G_N_ELEMENTS (formats); f++)
    for (guint i = 0; i < sample_charts_get_n (); i++)
      {
        g_autoptr (GBytes) bytes = make (i, formats[f], NULL);
        g_autofree char   *sum = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, bytes);

        g_print ("sum %s\n", sum);
      }
}

typedef struct
{
  const guint8 *data;
  gsize         left;
} Reader;

static cairo_status_t
on_cairo_read_cb (void          *closure,
                  unsigned char *data,
                  unsigned int   length)
{
  Reader *reader = closure;

  if (length > reader->left)
    return CAIRO_STATUS_READ_ERROR;
  memcpy (data, reader->data, length);
  reader->data += length;
  reader->left -= length;

  return CAIRO_STATUS_SUCCESS;
}

static void
test_png_decodes (void)
{
  for (guint i = 0; i < sample_charts_get_n (); i++)
    {
      g_autoptr (GBytes) bytes = make (i, WB_CHART_FORMAT_PNG, NULL);
      Reader             reader = { g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes) };
      cairo_surface_t   *surface = cairo_image_surface_create_from_png_stream (on_cairo_read_cb, &reader);

      g_assert_cmpint (cairo_surface_status (surface), ==, CAIRO_STATUS_SUCCESS);
      g_assert_cmpint (cairo_image_surface_get_width (surface), ==, 960);
      g_assert_cmpint (cairo_image_surface_get_height (surface), ==, 640);
      cairo_surface_destroy (surface);
    }
}

static void
test_svg_parses (void)
{
  static const GMarkupParser parser = { 0 };

  for (guint i = 0; i < sample_charts_get_n (); i++)
    {
      g_autoptr (GBytes) bytes = make (i, WB_CHART_FORMAT_SVG, NULL);
      g_autoptr (GMarkupParseContext) context = g_markup_parse_context_new (&parser, 0, NULL, NULL);
      g_autoptr (GError) error = NULL;

      g_markup_parse_context_parse (context, g_bytes_get_data (bytes, NULL),
                                    (gssize) g_bytes_get_size (bytes), &error);
      g_assert_no_error (error);
      g_assert_true (g_markup_parse_context_end_parse (context, &error));
    }
}

/* The text of a PDF as pdftotext reads it. */
static char *
dup_pdf_text (GBytes *bytes)
{
  g_autofree char *folder = g_dir_make_tmp ("chart-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "chart.pdf", NULL);
  char            *argv[] = { (char *) "pdftotext", path, (char *) "-", NULL };
  g_autoptr (GError) error = NULL;
  char            *text = NULL;
  int              status;

  g_file_set_contents (path, g_bytes_get_data (bytes, NULL), (gssize) g_bytes_get_size (bytes), &error);
  g_assert_no_error (error);
  g_spawn_sync (NULL, argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &text, NULL, &status, &error);
  g_assert_no_error (error);
  g_assert_true (g_spawn_check_wait_status (status, NULL));
  g_unlink (path);
  g_rmdir (folder);

  return text;
}

static void
test_pdf_text (void)
{
  g_autoptr (GBytes) bytes = make (0, WB_CHART_FORMAT_PDF, NULL);
  g_autofree char   *text = dup_pdf_text (bytes);

  g_assert_nonnull (strstr (text, "N 14 reaches the wall after about 3 h"));
  g_assert_nonnull (strstr (text, "Pool diameter, mm"));
  g_assert_nonnull (strstr (text, "Time since lighting, h"));
}

/* The date is the caller's, or SOURCE_DATE_EPOCH's, and makes a difference. */
static void
test_pdf_date (void)
{
  g_autoptr (GBytes) one = make (3, WB_CHART_FORMAT_PDF, "2026-03-02T08:00:00Z"),
                     two = make (3, WB_CHART_FORMAT_PDF, "2026-03-03T08:00:00Z");
  g_assert_false (g_bytes_equal (one, two));

  g_autoptr (GBytes) epoch = make (3, WB_CHART_FORMAT_PDF, NULL);
  g_setenv ("SOURCE_DATE_EPOCH", "1772438400", TRUE);
  g_autoptr (GBytes) dated = make (3, WB_CHART_FORMAT_PDF, NULL),
                     same = make (3, WB_CHART_FORMAT_PDF, "2026-03-02T08:00:00Z");
  g_unsetenv ("SOURCE_DATE_EPOCH");
  g_assert_false (g_bytes_equal (epoch, dated));
  g_assert_true (g_bytes_equal (same, dated));
}

static void
test_write (void)
{
  g_autoptr (WbChart) chart = sample_charts_create (4);
  g_autoptr (GError)  error = NULL;
  g_autofree char *folder = g_dir_make_tmp ("chart-XXXXXX", NULL),
                  *path = g_build_filename (folder, "score.svg", NULL);
  g_autofree char    *nowhere = g_build_filename (folder, "missing", "score.svg", NULL);
  WbChartOutput       output = WB_CHART_OUTPUT_INIT (WB_CHART_FORMAT_SVG);
  g_autoptr (GBytes)  bytes = wb_chart_output_dup_bytes (chart, &output, NULL);
  g_autofree char    *written = NULL;
  gsize               length;

  g_assert_true (wb_chart_output_write (chart, &output, path, &error));
  g_assert_no_error (error);
  g_assert_true (g_file_get_contents (path, &written, &length, NULL));
  g_assert_cmpmem (written, length, g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes));

  g_assert_false (wb_chart_output_write (chart, &output, nowhere, &error));
  g_assert_error (error, G_FILE_ERROR, G_FILE_ERROR_NOENT);
  g_clear_error (&error);

  /* What cannot be drawn leaves the file that was there. */
  output.width = 1.0;
  g_assert_false (wb_chart_output_write (chart, &output, path, &error));
  g_assert_error (error, WB_CHART_ERROR, WB_CHART_ERROR_SIZE);
  g_autofree char *kept = NULL;
  g_assert_true (g_file_get_contents (path, &kept, NULL, NULL));
  g_assert_cmpstr (kept, ==, written);
  g_unlink (path);
  g_rmdir (folder);
}

static void
test_sizes (void)
{
  static const double sizes[][3]
      = { { 480, 320, 0 }, { 480, 320, -1 }, { 480, 320, 1000 }, { 20000, 20000, 2 } };
  g_autoptr (WbChart) chart = sample_charts_create (4);

  for (gsize i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      g_autoptr (GError) error = NULL;
      WbChartOutput      output = WB_CHART_OUTPUT_INIT (WB_CHART_FORMAT_PNG);

      output.width = sizes[i][0];
      output.height = sizes[i][1];
      output.scale = sizes[i][2];
      g_assert_null (wb_chart_output_dup_bytes (chart, &output, &error));
      g_assert_error (error, WB_CHART_ERROR, WB_CHART_ERROR_SIZE);
    }
}

static void
test_names (void)
{
  WbChartFormat format;

  g_assert_true (wb_chart_output_format_for_path ("a/b.png", &format) && format == WB_CHART_FORMAT_PNG);
  g_assert_true (wb_chart_output_format_for_path ("b.SVG", &format) && format == WB_CHART_FORMAT_SVG);
  g_assert_true (wb_chart_output_format_for_path (".pdf", &format) && format == WB_CHART_FORMAT_PDF);
  g_assert_false (wb_chart_output_format_for_path ("b.jpeg", &format));
  g_assert_false (wb_chart_output_format_for_path ("png", &format));
}

/* Ink is bounded by what can be seen, not by the data: ten times the points are about the same file. */
static void
test_bounded (void)
{
  gsize sizes[2];

  for (int i = 0; i < 2; i++)
    {
      g_autoptr (WbChart) chart = sample_charts_walk (i == 0 ? 30000 : 300000, 7, FALSE);
      WbChartOutput       output = WB_CHART_OUTPUT_INIT (WB_CHART_FORMAT_SVG);
      g_autoptr (GBytes)  bytes = wb_chart_output_dup_bytes (chart, &output, NULL);

      sizes[i] = g_bytes_get_size (bytes);
    }
  g_assert_cmpuint (sizes[1], <, 2 * sizes[0]);
  g_assert_cmpuint (sizes[1], <, 1000000);
}

void
test_output_add (void)
{
  g_test_add_func ("/chart/output/the-same-chart-is-the-same-bytes", test_same_bytes);
  g_test_add_func ("/chart/output/in-another-process-too", test_same_bytes_in_another_process);
  g_test_add_func ("/chart/output/subprocess/print-sums", print_sums);
  g_test_add_func ("/chart/output/a-png-decodes", test_png_decodes);
  g_test_add_func ("/chart/output/an-svg-is-well-formed", test_svg_parses);
  g_test_add_func ("/chart/output/a-pdf-holds-its-text", test_pdf_text);
  g_test_add_func ("/chart/output/a-pdf-carries-the-date-it-is-given", test_pdf_date);
  g_test_add_func ("/chart/output/a-file-is-written-whole-or-not-at-all", test_write);
  g_test_add_func ("/chart/output/an-image-too-large-is-refused", test_sizes);
  g_test_add_func ("/chart/output/the-format-is-in-the-name", test_names);
  g_test_add_func ("/chart/output/is-bounded-by-pixels-not-by-data", test_bounded);
}
