/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-document.h"

#include <gio/gio.h>
#include <glib/gstdio.h>
#include <string.h>

#define DATE "2026-03-02T08:07:00+00:00"

/* The text of each page of a PDF, as pdftotext sees it; strv split at form feeds. */
static char **
read_pages (GBytes *pdf)
{
  g_autofree char *path = NULL;
  g_autofree char *text = NULL;
  g_autoptr (GSubprocess) reader = NULL;
  g_autoptr (GError) error = NULL;
  int file = g_file_open_tmp ("wickbench-report-XXXXXX.pdf", &path, &error);

  g_assert_no_error (error);
  g_assert_true (g_close (file, NULL));
  g_assert_true (g_file_set_contents (path, g_bytes_get_data (pdf, NULL), (gssize) g_bytes_get_size (pdf), NULL));
  reader = g_subprocess_new (G_SUBPROCESS_FLAGS_STDOUT_PIPE, &error, "pdftotext", "-layout", path, "-", NULL);
  g_assert_no_error (error);
  g_assert_true (g_subprocess_communicate_utf8 (reader, NULL, NULL, &text, NULL, &error));
  g_assert_true (g_subprocess_get_successful (reader));
  g_unlink (path);
  return g_strsplit (text, "\f", -1);
}

static void
add_long_table (WbReportDocument *document,
                guint             rows)
{
  const char *heads[] = { "Sample", "What was seen" };
  static const WbReportAlign aligns[] = { WB_REPORT_LEFT, WB_REPORT_LEFT };
  static const double shares[] = { 0, 1 };
  WbReportTable *table = wb_report_table_new (2, heads, aligns, shares);

  for (guint i = 0; i < rows; i++)
    {
      g_autofree char *code = g_strdup_printf ("S%u", i);
      const char *cells[] = { code, "calm" };

      wb_report_table_add_row (table, cells, FALSE);
    }
  wb_report_document_add_table (document, table);
}

static void
test_table_repeats_its_head (void)
{
  g_autoptr (WbReportDocument) document = wb_report_document_new (WB_REPORT_A4, "Title", NULL, NULL);
  g_autoptr (GBytes) pdf = NULL;
  g_auto (GStrv) pages = NULL;
  guint n;

  add_long_table (document, 200);
  n = wb_report_document_get_n_pages (document);
  g_assert_cmpuint (n, >, 2);
  pdf = wb_report_document_dup_pdf (document, DATE, NULL);
  pages = read_pages (pdf);
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *number = g_strdup_printf ("Page %u of %u", i + 1, n);

      g_assert_nonnull (strstr (pages[i], "What was seen"));
      g_assert_nonnull (strstr (pages[i], number));
    }
}

/* However far down the page it comes, a heading has text under it. */
static void
test_heading_is_never_last (void)
{
  for (guint lines = 20; lines < 70; lines++)
    {
      g_autoptr (WbReportDocument) document = wb_report_document_new (WB_REPORT_LETTER, "Title", NULL, NULL);
      g_autoptr (GBytes) pdf = NULL;
      g_auto (GStrv) pages = NULL;
      int page;

      for (guint i = 0; i < lines; i++)
        wb_report_document_add_paragraph (document, WB_REPORT_TEXT_BODY, "filler");
      wb_report_document_add_heading (document, 1, "Heading");
      wb_report_document_add_paragraph (document, WB_REPORT_TEXT_BODY, "behind");
      page = wb_report_document_find_heading (document, "Heading");
      g_assert_cmpint (page, >=, 0);
      pdf = wb_report_document_dup_pdf (document, DATE, NULL);
      pages = read_pages (pdf);
      g_test_message ("%u lines, page %d", lines, page);
      g_assert_nonnull (strstr (pages[page], "Heading"));
      g_assert_nonnull (strstr (pages[page], "behind"));
    }
}

static void
test_same_bytes_twice (void)
{
  GBytes *pdf[2];

  for (guint i = 0; i < 2; i++)
    {
      g_autoptr (WbReportDocument) document = wb_report_document_new (WB_REPORT_A4, "Title", "Subject", "Maker");

      wb_report_document_set_mark (document, "Invented data");
      add_long_table (document, 50);
      wb_report_document_add_warning (document, "Burn within sight.");
      pdf[i] = wb_report_document_dup_pdf (document, DATE, NULL);
    }
  g_assert_true (g_bytes_equal (pdf[0], pdf[1]));
  g_bytes_unref (pdf[0]);
  g_bytes_unref (pdf[1]);
}

static void
test_every_page_carries_the_mark (void)
{
  g_autoptr (WbReportDocument) document = wb_report_document_new (WB_REPORT_A4, "Title", NULL, NULL);
  g_autoptr (GBytes) pdf = NULL;
  g_auto (GStrv) pages = NULL;

  wb_report_document_set_mark (document, "Invented data");
  add_long_table (document, 150);
  pdf = wb_report_document_dup_pdf (document, DATE, NULL);
  pages = read_pages (pdf);
  for (guint i = 0; i < wb_report_document_get_n_pages (document); i++)
    g_assert_nonnull (strstr (pages[i], "Invented data"));
}

static void
test_paper_has_its_size (void)
{
  static const struct { WbReportPaper paper; double width, height; } cases[] = {
    { WB_REPORT_A4, 595.28, 841.89 },   /* ISO 216: 210 × 297 mm */
    { WB_REPORT_LETTER, 612, 792 },     /* ANSI/ASME Y14.1: 8.5 × 11 in */
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WbReportDocument) document = wb_report_document_new (cases[i].paper, "Title", NULL, NULL);
      double width, height;

      wb_report_document_get_size (document, &width, &height);
      g_assert_cmpfloat_with_epsilon (width, cases[i].width, 0.01);
      g_assert_cmpfloat_with_epsilon (height, cases[i].height, 0.01);
    }
}

/* A name of ten thousand characters, right-to-left script and emoji neither crash nor leave the page. */
static void
test_any_name_is_borne (void)
{
  g_autofree char *endless = g_strnfill (10000, 'x');
  const char *names[] = { endless, "نَسيم البحر", "🕯 candle 🕯", "" };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autoptr (WbReportDocument) document = wb_report_document_new (WB_REPORT_A4, names[i], NULL, names[i]);
      g_autoptr (GBytes) pdf = NULL;
      const char *heads[] = { names[i], "n" };
      static const WbReportAlign aligns[] = { WB_REPORT_LEFT, WB_REPORT_RIGHT };
      static const double shares[] = { 1, 0 };
      const char *cells[] = { names[i], "1" };
      WbReportTable *table = wb_report_table_new (2, heads, aligns, shares);

      wb_report_document_set_letterhead (document, names[i], names[i]);
      wb_report_document_add_heading (document, 1, names[i]);
      wb_report_document_add_paragraph (document, WB_REPORT_TEXT_BODY, names[i]);
      wb_report_table_add_row (table, cells, FALSE);
      wb_report_document_add_table (document, table);
      pdf = wb_report_document_dup_pdf (document, DATE, NULL);
      g_assert_nonnull (pdf);
    }
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/report/document/a-table-repeats-its-head-on-each-page", test_table_repeats_its_head);
  g_test_add_func ("/report/document/a-heading-is-never-last-on-a-page", test_heading_is_never_last);
  g_test_add_func ("/report/document/the-same-document-gives-the-same-bytes", test_same_bytes_twice);
  g_test_add_func ("/report/document/every-page-carries-the-mark", test_every_page_carries_the_mark);
  g_test_add_func ("/report/document/paper-has-its-size", test_paper_has_its_size);
  g_test_add_func ("/report/document/any-name-is-borne", test_any_name_is_borne);
  return g_test_run ();
}
