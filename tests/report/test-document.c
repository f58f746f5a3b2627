/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-report.h"

#include <gio/gio.h>
#include <string.h>

/* The engine: pages, heads, marks, bytes and information. */

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
  pdf = test_report_print (document);
  pages = test_report_read (pdf);
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
      pdf = test_report_print (document);
      pages = test_report_read (pdf);
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
      pdf[i] = test_report_print (document);
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
  pdf = test_report_print (document);
  pages = test_report_read (pdf);
  for (guint i = 0; i < wb_report_document_get_n_pages (document); i++)
    g_assert_nonnull (strstr (pages[i], "Invented data"));
}

static gboolean
stop_at_half (double   done,
              gpointer user)
{
  *(double *) user = done;
  return done < 0.5;
}

static void
test_pdf_is_stopped (void)
{
  g_autoptr (WbReportDocument) document = wb_report_document_new (WB_REPORT_A4, "Title", NULL, NULL);
  g_autoptr (GBytes) whole = NULL;
  g_autoptr (GBytes) pdf = NULL;
  g_autoptr (GError) error = NULL;
  double reached = 0;

  add_long_table (document, 400);
  pdf = wb_report_document_dup_pdf_while (document, NULL, stop_at_half, &reached, &error);
  g_assert_null (pdf);
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_assert_cmpfloat (reached, >=, 0.5);
  g_assert_cmpfloat (reached, <, 1);
  /* and may be begun again */
  whole = test_report_print (document);
  g_assert_nonnull (whole);
}

/* What a page says aloud is what stands on it, a row a line; a table that goes on says its rows once. */
static void
test_pages_say_their_text (void)
{
  g_autoptr (WbReportDocument) document = wb_report_document_new (WB_REPORT_A4, "Title", NULL, NULL);
  g_autoptr (GString) text = g_string_new (NULL);

  wb_report_document_add_heading (document, 1, "Heading");
  wb_report_document_add_warning (document, "Burn within sight.");
  wb_report_document_add_point (document, "A point");
  add_long_table (document, 120);
  for (guint page = 0; page < wb_report_document_get_n_pages (document); page++)
    {
      g_autofree char *said = wb_report_document_dup_page_text (document, page);

      g_string_append_printf (text, "%s\n", said);
    }
  g_assert_true (g_str_has_prefix (text->str, "Heading\n"));
  g_assert_nonnull (strstr (text->str, "Burn within sight."));
  g_assert_nonnull (strstr (text->str, "\nA point\n"));
  for (guint i = 0; i < 120; i++)
    {
      g_autofree char *row = g_strdup_printf ("\nS%u; calm\n", i);
      const char *found = strstr (text->str, row);

      g_assert_nonnull (found);
      g_assert_null (strstr (found + 1, row));
    }
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

/* Wherever a page ends, a paragraph of four lines leaves neither its first nor its last line alone. */
static void
test_paragraph_leaves_no_line_alone (void)
{
  g_autofree char *filler = g_strnfill (70, 'm');

  for (guint lines = 20; lines < 60; lines++)
    {
      g_autoptr (WbReportDocument) document = wb_report_document_new (WB_REPORT_A4, "Title", NULL, NULL);
      g_autofree char *text = g_strdup_printf ("first\nsecond\nthird\nfourth");
      g_autoptr (GBytes) pdf = NULL;
      g_auto (GStrv) pages = NULL;

      for (guint i = 0; i < lines; i++)
        wb_report_document_add_paragraph (document, WB_REPORT_TEXT_BODY, filler);
      wb_report_document_add_paragraph (document, WB_REPORT_TEXT_BODY, text);
      pdf = test_report_print (document);
      pages = test_report_read (pdf);
      for (guint i = 0; i < wb_report_document_get_n_pages (document); i++)
        {
          g_assert_true (test_report_says (pages, (int) i, "first") == test_report_says (pages, (int) i, "second"));
          g_assert_true (test_report_says (pages, (int) i, "third") == test_report_says (pages, (int) i, "fourth"));
        }
    }
}

/* The band of a group stands again where its rows go on. */
static void
test_table_repeats_its_band (void)
{
  g_autoptr (WbReportDocument) document = wb_report_document_new (WB_REPORT_A4, "Title", NULL, NULL);
  const char *heads[] = { "Sample" };
  static const WbReportAlign aligns[] = { WB_REPORT_LEFT };
  static const double shares[] = { 1 };
  WbReportTable *table = wb_report_table_new (1, heads, aligns, shares);
  g_autoptr (GBytes) pdf = NULL;
  g_auto (GStrv) pages = NULL;

  wb_report_table_add_band (table, "Heron");
  for (guint i = 0; i < 100; i++)
    wb_report_table_add_row (table, (const char *[]) { "calm" }, FALSE);
  wb_report_document_add_table (document, table);
  pdf = test_report_print (document);
  pages = test_report_read (pdf);
  g_assert_cmpuint (wb_report_document_get_n_pages (document), >, 1);
  for (guint i = 0; i < wb_report_document_get_n_pages (document); i++)
    g_assert_true (test_report_says (pages, (int) i, "Heron"));
}

/* Groups of a few rows stay whole, each below its band. */
static void
test_small_groups_stay_whole (void)
{
  g_autoptr (WbReportDocument) document = wb_report_document_new (WB_REPORT_A4, "Title", NULL, NULL);
  static const WbReportAlign aligns[] = { WB_REPORT_LEFT };
  static const double shares[] = { 1 };
  WbReportTable *table = wb_report_table_new (1, NULL, aligns, shares);
  g_autoptr (GBytes) pdf = NULL;
  g_auto (GStrv) pages = NULL;

  for (guint i = 0; i < 40; i++)
    {
      g_autofree char *band = g_strdup_printf ("Heron%u.", i);

      wb_report_table_add_band (table, band);
      for (guint k = 0; k < 3; k++)
        {
          g_autofree char *row = g_strdup_printf ("r%u-%u.", i, k);

          wb_report_table_add_row (table, (const char *[]) { row }, FALSE);
        }
    }
  wb_report_document_add_table (document, table);
  pdf = test_report_print (document);
  pages = test_report_read (pdf);
  g_assert_cmpuint (wb_report_document_get_n_pages (document), >, 2);
  for (guint i = 0; i < 40; i++)
    {
      g_autofree char *group = g_strdup_printf ("Heron%u. r%u-0. r%u-1. r%u-2.", i, i, i, i);

      g_assert_true (test_report_says (pages, -1, group));
    }
}

/* What is to stay whole begins a page where it would not fit below. */
static void
test_whole_stays_whole (void)
{
  g_autoptr (WbReportDocument) document = wb_report_document_new (WB_REPORT_A4, "Title", NULL, NULL);
  int first, last;

  wb_report_document_add_heading (document, 1, "Before");
  for (guint i = 0; i < 30; i++)
    wb_report_document_add_paragraph (document, WB_REPORT_TEXT_BODY, "calm");
  wb_report_document_begin_whole (document);
  wb_report_document_add_heading (document, 2, "First");
  for (guint i = 0; i < 20; i++)
    wb_report_document_add_point (document, "even");
  wb_report_document_add_heading (document, 2, "Last");
  wb_report_document_end_whole (document);
  first = wb_report_document_find_heading (document, "First");
  last = wb_report_document_find_heading (document, "Last");
  g_assert_cmpint (first, ==, 1);
  g_assert_cmpint (last, ==, 1);
}

/* A row of more lines than a page holds loses none of them. */
static void
test_endless_row_goes_on (void)
{
  g_autoptr (WbReportDocument) document = wb_report_document_new (WB_REPORT_A4, "Title", NULL, NULL);
  static const WbReportAlign aligns[] = { WB_REPORT_LEFT, WB_REPORT_LEFT };
  static const double shares[] = { 1, 8 };
  WbReportTable *table = wb_report_table_new (2, NULL, aligns, shares);
  g_autoptr (GString) words = g_string_new (NULL);
  g_autoptr (GBytes) pdf = NULL;
  g_auto (GStrv) pages = NULL;

  for (guint i = 0; i < 200; i++)
    g_string_append_printf (words, "w%u ", i);
  wb_report_table_add_row (table, (const char *[]) { words->str, "b" }, FALSE);
  wb_report_document_add_table (document, table);
  pdf = test_report_print (document);
  pages = test_report_read (pdf);
  g_assert_cmpuint (wb_report_document_get_n_pages (document), >, 1);
  for (guint i = 0; i < 200; i++)
    {
      g_autofree char *word = g_strdup_printf ("w%u", i);

      g_assert_true (test_report_says (pages, -1, word));
    }
}

static void
test_pdf_carries_information (void)
{
  g_autoptr (WbReportDocument) document = wb_report_document_new (WB_REPORT_LETTER, "The title", "The subject", "The maker");
  g_autoptr (GBytes) pdf = NULL;
  g_autofree char *information = NULL;
  g_autofree char *fonts = NULL;

  wb_report_document_add_heading (document, 1, "Heading");
  wb_report_document_add_paragraph (document, WB_REPORT_TEXT_BODY, "text");
  pdf = test_report_print (document);
  information = test_report_ask (pdf, "pdfinfo", "-isodates");
  g_assert_nonnull (strstr (information, "The title"));
  g_assert_nonnull (strstr (information, "The subject"));
  g_assert_nonnull (strstr (information, "The maker"));
  g_assert_nonnull (strstr (information, "2026-03-02T08:07:00"));
  g_assert_nonnull (strstr (information, "612 x 792 pts (letter)"));
  fonts = test_report_ask (pdf, "pdffonts", NULL);
  g_assert_nonnull (strstr (fonts, " yes ")); /* embedded */
}

/* Each entry of the contents names the page on which its heading stands. */
static void
test_contents_name_the_pages (void)
{
  g_autoptr (WbReportDocument) document = wb_report_document_new (WB_REPORT_A4, "Title", NULL, NULL);
  g_autoptr (GBytes) pdf = NULL;
  g_auto (GStrv) pages = NULL;

  wb_report_document_add_contents (document);
  for (guint i = 0; i < 5; i++)
    {
      g_autofree char *heading = g_strdup_printf ("Section %c", 'A' + (int) i);

      wb_report_document_add_heading (document, 1, heading);
      add_long_table (document, 30 + 20 * i);
    }
  pdf = test_report_print (document);
  pages = test_report_read (pdf);
  for (guint i = 0; i < 5; i++)
    {
      g_autofree char *heading = g_strdup_printf ("Section %c", 'A' + (int) i);
      int page = wb_report_document_find_heading (document, heading);
      g_autofree char *pattern = g_strdup_printf ("%s[\\s.…]+%d\\b", heading, page + 1);

      g_assert_cmpint (page, >=, 0);
      g_assert_true (g_regex_match_simple (pattern, pages[0], 0, 0));
      g_assert_true (test_report_says (pages, page, heading));
    }
}

void
test_document_add (void)
{
  g_test_add_func ("/report/document/a-table-repeats-its-head-on-each-page", test_table_repeats_its_head);
  g_test_add_func ("/report/document/a-table-repeats-the-band-of-its-rows", test_table_repeats_its_band);
  g_test_add_func ("/report/document/small-groups-of-a-table-stay-whole", test_small_groups_stay_whole);
  g_test_add_func ("/report/document/what-is-to-stay-whole-does", test_whole_stays_whole);
  g_test_add_func ("/report/document/an-endless-row-goes-on-on-the-next-page", test_endless_row_goes_on);
  g_test_add_func ("/report/document/a-heading-is-never-last-on-a-page", test_heading_is_never_last);
  g_test_add_func ("/report/document/a-paragraph-leaves-no-line-alone", test_paragraph_leaves_no_line_alone);
  g_test_add_func ("/report/document/the-contents-name-the-pages", test_contents_name_the_pages);
  g_test_add_func ("/report/document/the-same-document-gives-the-same-bytes", test_same_bytes_twice);
  g_test_add_func ("/report/document/every-page-carries-the-mark", test_every_page_carries_the_mark);
  g_test_add_func ("/report/document/a-pdf-is-stopped-between-pages", test_pdf_is_stopped);
  g_test_add_func ("/report/document/a-page-says-what-stands-on-it", test_pages_say_their_text);
  g_test_add_func ("/report/document/paper-has-its-size", test_paper_has_its_size);
  g_test_add_func ("/report/document/the-pdf-carries-information-and-fonts", test_pdf_carries_information);
}
