/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-report.h"

#include <math.h>
#include <string.h>

#include "wb-report-document-private.h"

/* How pages fill: sections flow on, charts have a shape that is read, and give way to one another. */

/* A page is left white for a chart, at most for this share of it. */
#define MOST_WHITE 0.4

static WbReportDocument *
report_of (WbCraftAnswer *answer,
           WbReportPaper  paper)
{
  WbReportOptions options;

  report_bench_options (&options);
  options.paper = paper;
  return wb_report_test_new (answer, &options);
}

static const WbReportPlaced *
get_placed (WbReportDocument *document,
            guint             i)
{
  return &g_array_index (document->placed, WbReportPlaced, i);
}

static guint
find_piece (WbReportDocument    *document,
            const WbReportPiece *piece)
{
  guint index = 0;

  g_assert_true (g_ptr_array_find (document->pieces, piece, &index));
  return index;
}

/* As high as a piece is with all that it is kept with, its charts as low as they go. */
static double
get_least (WbReportDocument *document,
           guint             index)
{
  double height = 0;

  for (guint i = index; i < document->pieces->len; i++)
    {
      const WbReportPiece *piece = g_ptr_array_index (document->pieces, i);

      height += piece->gap + (piece->least > 0 ? piece->least : piece->height);
      if (!piece->keep_next)
        break;
    }
  return height;
}

/* Every page is filled but for what would not go on it; the appendix alone begins one of its own. */
static void
check_filled (WbReportDocument *document,
              const char       *name)
{
  double whole = wb_report_document_get_text_height (document);
  guint n = wb_report_document_get_n_pages (document);

  for (guint i = 1; i < document->placed->len; i++)
    {
      const WbReportPlaced *last = get_placed (document, i - 1), *next = get_placed (document, i);
      double white = wb_report_frame_get_bottom (document) - last->y - last->piece->height;

      if (next->page == last->page || (document->appendix != NULL && next->page == document->appendix_page))
        continue;
      /* a table's heads are repeated and no piece of the document */
      while (!g_ptr_array_find (document->pieces, next->piece, NULL))
        next = get_placed (document, ++i);
      g_test_message ("%s, page %u of %u: %.0f left white, %.0f would follow", name, last->page + 1, n, white,
                      get_least (document, find_piece (document, next->piece)));
      g_assert_cmpfloat (white, <, get_least (document, find_piece (document, next->piece)) + 0.02);
      g_assert_cmpfloat (white, <=, MOST_WHITE * whole);
    }
}

static void
test_pages_are_filled (void)
{
  g_autoptr (WbCraftAnswer) full = report_bench_answer_get (), hopeless = report_bench_hopeless_new (), planned = report_bench_planned_new ();
  const struct { const char *name; WbCraftAnswer *answer; } cases[] = { { "full", full }, { "hopeless", hopeless }, { "planned", planned } };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    for (int paper = WB_REPORT_A4; paper <= WB_REPORT_LETTER; paper++)
      {
        g_autoptr (WbReportDocument) document = report_of (cases[i].answer, (WbReportPaper) paper);

        check_filled (document, cases[i].name);
      }
}

/* A growth chart is not flat, rings are large enough to be read, and the vessels of one chart are to one scale. */
static void
test_charts_have_shape (void)
{
  g_autoptr (WbCraftAnswer) answer = report_bench_answer_get ();
  guint growths = 0, rings = 0;

  for (int paper = WB_REPORT_A4; paper <= WB_REPORT_LETTER; paper++)
    {
      g_autoptr (WbReportDocument) document = report_of (answer, (WbReportPaper) paper);
      double width = wb_report_document_get_text_width (document);

      wb_report_pages_make (document);
      for (guint i = 0; i < document->pieces->len; i++)
        {
          const WbReportPiece *piece = g_ptr_array_index (document->pieces, i);
          const char *says = piece->picture != NULL ? wb_chart_get_description (piece->picture) : "";

          if (strstr (says, "Melt-pool diameter against time") != NULL)
            {
              g_assert_cmpfloat (piece->height, >=, 0.44 * width);
              g_assert_cmpfloat (piece->height, <=, 0.7 * width);
              growths++;
            }
          if (strstr (says, "Vessels from above") == NULL)
            continue;
          rings++;
          for (guint k = 0; k < wb_chart_get_n_panels (piece->picture); k++)
            {
              WbChartRect plot = wb_chart_layout_get_plot (piece->chart, k), first = wb_chart_layout_get_plot (piece->chart, 0);

              g_test_message ("rings of %.0f × %.0f", plot.width, plot.height);
              g_assert_cmpfloat (fmin (plot.width, plot.height), >=, 85);
              g_assert_cmpfloat (fabs (plot.height - first.height), <, 0.01);
            }
        }
    }
  g_assert_cmpuint (growths, ==, 8);
  g_assert_cmpuint (rings, ==, 8);
}

/* Whether every row of a chart's first panel has its name beside it. */
static gboolean
names_all_rows (const WbReportPiece *piece)
{
  WbChartAxis *rows = wb_chart_panel_get_y (wb_chart_get_panel (piece->picture, 0));
  guint named = 0;

  for (gsize i = 0; i < wb_chart_layout_get_n_items (piece->chart); i++)
    {
      const WbChartItem *item = wb_chart_layout_get_item (piece->chart, i);

      if (item->kind == WB_CHART_ITEM_TICK_LABEL && item->panel == 0 && item->rect.x + item->rect.width <= wb_chart_layout_get_plot (piece->chart, 0).x)
        named++;
    }
  return named == wb_chart_axis_get_n_categories (rows);
}

/* However full the page: a chart of rows names each of them. */
static void
test_rows_keep_names (void)
{
  g_autoptr (WbCraftAnswer) answer = report_bench_answer_get ();
  guint n = 0;

  for (int paper = WB_REPORT_A4; paper <= WB_REPORT_LETTER; paper++)
    {
      g_autoptr (WbReportDocument) document = report_of (answer, (WbReportPaper) paper);

      wb_report_pages_make (document);
      for (guint i = 0; i < document->pieces->len; i++)
        {
          const WbReportPiece *piece = g_ptr_array_index (document->pieces, i);

          if (piece->picture == NULL || wb_chart_axis_get_n_categories (wb_chart_panel_get_y (wb_chart_get_panel (piece->picture, 0))) == 0)
            continue;
          g_test_message ("%s, %.0f high", wb_chart_get_title (piece->picture), piece->height);
          g_assert_true (names_all_rows (piece));
          n++;
        }
    }
  g_assert_cmpuint (n, ==, 2 * (4 + 4 + 1)); /* scores, marks, and the loss of all */
}

static WbChart *
chart_new (void)
{
  WbChart *chart = wb_chart_new ("Invented", "Invented points.");
  const double x[] = { 0, 1, 2 }, y[] = { 1, 3, 2 };

  wb_chart_layer_add_points (wb_chart_add_panel (chart, 0, 0, NULL), "A", 0, 3, x, y, WB_CHART_Y, NULL, NULL);
  return chart;
}

/* So many charts under a heading each, of that share of a page. */
static WbReportDocument *
charts_new (guint  n,
            double share)
{
  WbReportDocument *document = wb_report_document_new (WB_REPORT_A4, "Title", NULL, NULL);
  g_autoptr (WbChart) chart = chart_new ();

  for (guint i = 0; i < n; i++)
    {
      g_autofree char *heading = g_strdup_printf ("Heading %u", i);

      wb_report_document_add_heading (document, 2, heading);
      wb_report_document_add_chart (document, chart, share * wb_report_document_get_text_height (document));
    }
  wb_report_pages_make (document);
  return document;
}

/* Three that are a little too high for a page stand on it all the same, evenly lower, and each is drawn as high as its place. */
static void
test_charts_give_way (void)
{
  g_autoptr (WbReportDocument) document = charts_new (3, 0.32);
  double asked = 0.32 * wb_report_document_get_text_height (document), height = NAN;

  g_assert_cmpuint (wb_report_document_get_n_pages (document), ==, 1);
  for (guint i = 0; i < document->placed->len; i++)
    {
      const WbReportPlaced *placed = get_placed (document, i);

      g_assert_cmpfloat (placed->y + placed->piece->height, <=, wb_report_frame_get_bottom (document) + 0.02);
      if (placed->piece->picture == NULL)
        continue;
      if (isnan (height))
        height = placed->piece->height;
      g_assert_cmpfloat (placed->piece->height, <, asked - 1);
      g_assert_cmpfloat (fabs (placed->piece->height - height), <, 0.01);
      g_assert_cmpfloat (fabs (wb_chart_layout_get_height (placed->piece->chart) - placed->piece->height), <, 0.02);
    }
}

/* Of four as high as a little under half a page two stand on each, a little higher than they asked; a heading goes with its chart. */
static void
test_charts_take_what_is_left (void)
{
  g_autoptr (WbReportDocument) document = charts_new (4, 0.42);
  double asked = 0.42 * wb_report_document_get_text_height (document);
  guint page = 0, charts = 0;

  g_assert_cmpuint (wb_report_document_get_n_pages (document), ==, 2);
  for (guint i = 0; i < document->placed->len; i++)
    {
      const WbReportPlaced *placed = get_placed (document, i);

      if (placed->piece->level > 0)
        page = placed->page;
      if (placed->piece->picture == NULL)
        continue;
      g_assert_cmpuint (placed->page, ==, page);
      g_assert_cmpuint (placed->page, ==, charts++ / 2);
      if (page == 0)
        g_assert_cmpfloat (placed->piece->height, >, asked + 1);
      else
        g_assert_cmpfloat (fabs (placed->piece->height - asked), <, 0.01);
    }
}

/* Text below a chart does not make it lower: it goes on on the next page. */
static void
test_text_takes_nothing (void)
{
  g_autoptr (WbReportDocument) document = charts_new (2, 0.42);
  double asked = 0.42 * wb_report_document_get_text_height (document);

  for (guint i = 0; i < 40; i++)
    wb_report_document_add_paragraph (document, WB_REPORT_TEXT_BODY, "calm");
  g_assert_cmpuint (wb_report_document_get_n_pages (document), ==, 2);
  for (guint i = 0; i < document->placed->len; i++)
    if (get_placed (document, i)->piece->picture != NULL)
      g_assert_cmpfloat (get_placed (document, i)->piece->height, >=, asked - 0.01);
}

void
test_filling_add (void)
{
  g_test_add_func ("/report/filling/pages-are-filled-but-for-what-would-not-go-on-them", test_pages_are_filled);
  g_test_add_func ("/report/filling/charts-have-a-shape-that-is-read", test_charts_have_shape);
  g_test_add_func ("/report/filling/a-chart-of-rows-names-them-all", test_rows_keep_names);
  g_test_add_func ("/report/filling/charts-give-way-to-one-another", test_charts_give_way);
  g_test_add_func ("/report/filling/charts-take-what-a-page-leaves", test_charts_take_what_is_left);
  g_test_add_func ("/report/filling/text-takes-nothing-from-a-chart", test_text_takes_nothing);
}
