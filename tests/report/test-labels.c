/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-report.h"

#include <math.h>
#include <string.h>

#include "wb-report-document-private.h"
#include "wb-report-label-code.h"

/* Labels: their code, their places and sheets. That a scanner reads them: test-label-scan.c. */

static void
test_code_comes_back (void)
{
  WbUuid space = { { 9 } };

  for (guint i = 0; i < 2000; i++)
    {
      g_autofree char *name = g_strdup_printf ("sample %u", i);
      WbUuid uuid = wb_uuid_new_named (&space, name), read;
      g_autofree char *code = wb_report_label_code_new (&uuid);
      g_autofree char *lower = g_ascii_strdown (code, -1);

      g_assert_cmpuint (strlen (code), ==, WB_REPORT_LABEL_CODE_LENGTH);
      g_assert_cmpuint (strspn (code, "0123456789ABCDEFGHIJKLMNOPQRSTUVWX"), ==, WB_REPORT_LABEL_CODE_LENGTH);
      g_assert_true (wb_report_label_code_parse (code, &read));
      g_assert_true (wb_uuid_equal (&uuid, &read));
      g_assert_true (wb_report_label_code_parse (lower, &read));
      g_assert_true (wb_uuid_equal (&uuid, &read));
    }
}

/* The ends of the range: nought, and 2^128 − 1; one more is no UUID. */
static void
test_code_knows_its_range (void)
{
  WbUuid least = { { 0 } }, most, read;
  g_autofree char *code = NULL;
  g_autofree char *zeros = NULL;

  memset (most.bytes, 0xff, sizeof most.bytes);
  code = wb_report_label_code_new (&most);
  g_assert_true (wb_report_label_code_parse (code, &read));
  g_assert_true (wb_uuid_equal (&most, &read));
  zeros = wb_report_label_code_new (&least);
  g_assert_cmpstr (zeros, ==, "000000000000000000000000000");
  /* the largest text of 26 digits is far above 2^128 */
  for (guint check = 0; check < 34; check++)
    {
      char text[WB_REPORT_LABEL_CODE_LENGTH + 1];

      memset (text, 'X', WB_REPORT_LABEL_CODE_LENGTH - 1);
      text[WB_REPORT_LABEL_CODE_LENGTH - 1] = "0123456789ABCDEFGHIJKLMNOPQRSTUVWX"[check];
      text[WB_REPORT_LABEL_CODE_LENGTH] = '\0';
      g_assert_false (wb_report_label_code_parse (text, &read));
    }
}

/* Any one wrong character is found, and whatever else a scanner may have read. */
static void
test_code_refuses_what_is_wrong (void)
{
  static const char *const wrong[] = { "", "hello", "00000000000000000000000000", "0000000000000000000000000000", "00000000000000000000000000Y", "é" };
  WbUuid space = { { 9 } }, uuid = wb_uuid_new_named (&space, "one"), read;
  g_autofree char *code = wb_report_label_code_new (&uuid);

  for (guint i = 0; i < G_N_ELEMENTS (wrong); i++)
    g_assert_false (wb_report_label_code_parse (wrong[i], &read));
  for (guint place = 0; place < WB_REPORT_LABEL_CODE_LENGTH; place++)
    for (const char *other = "0123456789ABCDEFGHIJKLMNOPQRSTUVWX"; *other != '\0'; other++)
      {
        g_autofree char *changed = g_strdup (code);

        changed[place] = *other;
        g_assert_true (wb_report_label_code_parse (changed, &read) == (*other == code[place]));
      }
}

static void
test_every_label_says_that_it_is_a_test (void)
{
  WbReportOptions options;

  report_bench_options (&options);
  for (WbReportLabelPreset preset = 0; preset < WB_REPORT_LABELS_N; preset++)
    {
      g_autoptr (WbReportDocument) document = report_bench_labels_new (&options, 3, preset, 0);
      g_autoptr (GBytes) pdf = test_report_print (document);
      g_auto (GStrv) pages = test_report_read (pdf);
      g_autofree char *text = g_strjoinv ("", pages);
      g_auto (GStrv) parts = g_strsplit (text, "TEST SAMPLE, NOT FOR SALE OR GIFT", -1);

      g_assert_cmpuint (g_strv_length (parts), ==, 4);
      g_assert_nonnull (strstr (text, "H1-A"));
      g_assert_nonnull (strstr (text, "Invented data"));
    }
}

/* Label i lies where the sheet says, in mm, and the next sheet begins at its own first place. */
static void
test_labels_lie_in_their_places (void)
{
  WbReportOptions options;
  WbReportLabelSheet sheet = wb_report_label_sheet_preset (WB_REPORT_LABELS_A4_21);
  g_autoptr (WbReportDocument) document = NULL;
  const WbReportPlaced *placed;

  report_bench_options (&options);
  document = report_bench_labels_new (&options, 3, WB_REPORT_LABELS_A4_21, 19);
  g_assert_cmpuint (wb_report_document_get_n_pages (document), ==, 2);
  placed = &g_array_index (document->placed, WbReportPlaced, 0);
  g_assert_cmpfloat_with_epsilon (placed->x * 25.4 / 72, sheet.left + sheet.pitch_x, 0.001);
  g_assert_cmpfloat_with_epsilon (placed->y * 25.4 / 72, sheet.top + 6 * sheet.pitch_y, 0.001);
  placed = &g_array_index (document->placed, WbReportPlaced, 2);
  g_assert_cmpuint (placed->page, ==, 1);
  g_assert_cmpfloat_with_epsilon (placed->x * 25.4 / 72, sheet.left, 0.001);
  g_assert_cmpfloat_with_epsilon (placed->y * 25.4 / 72, sheet.top, 0.001);
}

static void
refuse (const WbReportLabelSheet *sheet,
        guint                     first,
        const char               *code,
        int                       expected)
{
  WbReportLabel label = report_bench_label (0);
  WbReportOptions options;
  g_autoptr (GError) error = NULL;

  report_bench_options (&options);
  label.code = code;
  g_assert_null (wb_report_labels_new (&label, 1, sheet, first, FALSE, &options, &error));
  g_assert_error (error, WB_REPORT_LABELS_ERROR, expected);
}

static void
test_impossible_sheets_are_refused (void)
{
  WbReportLabelSheet good = wb_report_label_sheet_preset (WB_REPORT_LABELS_A4_24), sheet = good;

  sheet.width = 12; /* smaller than its text */
  sheet.height = 8;
  refuse (&sheet, 0, "A", WB_REPORT_LABELS_ERROR_SIZE);
  sheet = good;
  sheet.columns = 4; /* wider than the page */
  refuse (&sheet, 0, "A", WB_REPORT_LABELS_ERROR_SIZE);
  sheet = good;
  sheet.pitch_x = 10; /* on top of each other */
  refuse (&sheet, 0, "A", WB_REPORT_LABELS_ERROR_SIZE);
  sheet = good;
  sheet.rows = 0;
  refuse (&sheet, 0, "A", WB_REPORT_LABELS_ERROR_SIZE);
  refuse (&good, 24, "A", WB_REPORT_LABELS_ERROR_START);
}

/* An endless code is cut, not drawn over its neighbour. */
static void
test_endless_code_stays_in_its_label (void)
{
  g_autofree char *code = g_strnfill (10000, 'x');
  WbReportLabel label = report_bench_label (0);
  WbReportLabelSheet sheet = wb_report_label_sheet_preset (WB_REPORT_LABELS_ROLL_62);
  WbReportOptions options;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbReportDocument) document = NULL;
  cairo_surface_t *surface = cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, NULL);
  cairo_t *cr = cairo_create (surface);
  double x, y, width, height;

  report_bench_options (&options);
  label.code = label.cell = label.experiment = code;
  document = wb_report_labels_new (&label, 1, &sheet, 0, FALSE, &options, &error);
  g_assert_no_error (error);
  wb_report_document_draw_page (document, cr, 0);
  cairo_recording_surface_ink_extents (surface, &x, &y, &width, &height);
  g_assert_cmpfloat (x, >=, 0);
  g_assert_cmpfloat (y, >=, 0);
  g_assert_cmpfloat (x + width, <=, 62 / 25.4 * 72);
  g_assert_cmpfloat (y + height, <=, 29 / 25.4 * 72);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

/* What is printed stays where a printer prints: 4 mm from the paper's edge (common practice, no source); a roll's reaches the edge. */
static void
test_nothing_in_the_unprinted_edge (void)
{
  for (guint preset = 0; preset < WB_REPORT_LABELS_ROLL_62; preset++)
    {
      WbReportLabelSheet sheet = wb_report_label_sheet_preset ((WbReportLabelPreset) preset);
      WbReportOptions options;
      g_autoptr (WbReportDocument) document = NULL;
      g_autoptr (GError) error = NULL;
      g_autofree WbReportLabel *labels = g_new (WbReportLabel, sheet.columns * sheet.rows);
      cairo_surface_t *surface = cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, NULL);
      cairo_t *cr = cairo_create (surface);
      double x, y, width, height, mm = 72 / 25.4; /* the ink is told in whole points, rounded outwards */

      for (guint i = 0; i < sheet.columns * sheet.rows; i++)
        labels[i] = report_bench_label (i);

      report_bench_options (&options);
      document = wb_report_labels_new (labels, sheet.columns * sheet.rows, &sheet, 0, FALSE, &options, &error);
      g_assert_no_error (error);
      wb_report_document_draw_page (document, cr, 0);
      cairo_recording_surface_ink_extents (surface, &x, &y, &width, &height);
      g_assert_cmpfloat (x, >=, 4 * mm - 1);
      g_assert_cmpfloat (y, >=, 4 * mm - 1);
      g_assert_cmpfloat (x + width, <=, (sheet.page_width - 4) * mm + 1);
      g_assert_cmpfloat (y + height, <=, (sheet.page_height - 4) * mm + 1);
      cairo_destroy (cr);
      cairo_surface_destroy (surface);
    }
}

/* An alignment print shows every place of one sheet. */
static void
test_alignment_print_shows_every_place (void)
{
  WbReportOptions options;
  g_autoptr (WbReportDocument) document = NULL;

  report_bench_options (&options);
  document = report_bench_labels_new (&options, 0, WB_REPORT_LABELS_LETTER_30, 0);
  g_assert_cmpuint (wb_report_document_get_n_pages (document), ==, 1);
  g_assert_cmpuint (document->placed->len, ==, 30);
}

/* A blind label says its three digits and nothing of what is inside; neither does its code. */
static void
test_blind_says_nothing (void)
{
  WbReportOptions options;
  WbReportLabelSheet sheet = wb_report_label_sheet_preset (WB_REPORT_LABELS_A4_24);
  WbReportLabel label = report_bench_label (0);
  g_autoptr (WbReportDocument) document = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) pdf = NULL;
  g_auto (GStrv) pages = NULL;

  report_bench_options (&options);
  label.blind_code = 417;
  document = wb_report_labels_new (&label, 1, &sheet, 0, FALSE, &options, &error);
  g_assert_no_error (error);
  pdf = test_report_print (document);
  pages = test_report_read (pdf);
  g_assert_true (test_report_says (pages, 0, "417"));
  g_assert_true (test_report_says (pages, 0, "TEST SAMPLE, NOT FOR SALE OR GIFT"));
  g_assert_false (test_report_says (pages, 0, "H1-A"));
  g_assert_false (test_report_says (pages, 0, "L-1"));
  g_assert_false (test_report_says (pages, 0, "Harbour mist"));
}

/* A reference says that it is one, and has neither the day from which others are burnt nor boxes for burns. */
static void
test_reference_is_not_to_be_burnt (void)
{
  WbReportOptions options;
  WbReportLabelSheet sheet = wb_report_cards_sheet (WB_REPORT_A4, FALSE);
  WbReportLabel label = report_bench_label (0);
  g_autofree char *until = wb_day_format_local (20805), *keep = g_strdup_printf ("Keep until %s", until);

  report_bench_options (&options);
  label.keep_until = 20805;
  for (guint k = 0; k < 4; k++)
    {
      g_autoptr (WbReportDocument) document = NULL;
      g_autoptr (GError) error = NULL;
      g_autoptr (GBytes) pdf = NULL;
      g_auto (GStrv) pages = NULL;

      label.reference = k % 2 == 1;
      label.blind_code = k >= 2 ? 417 : 0;
      document = wb_report_cards_new (&label, 1, &sheet, 0, FALSE, FALSE, &options, &error);
      g_assert_no_error (error);
      pdf = test_report_print (document);
      pages = test_report_read (pdf);
      g_assert_true (test_report_says (pages, 0, "Reference: do not burn") == label.reference);
      g_assert_true (test_report_says (pages, 0, keep) == label.reference);
      g_assert_true (test_report_says (pages, 0, "Burn from") != label.reference);
      g_assert_true (test_report_says (pages, 0, "Smell from") != label.reference);
      g_assert_true (test_report_says (pages, 0, "Burns") != label.reference);
      g_assert_true (test_report_says (pages, 0, "TEST SAMPLE, NOT FOR SALE OR GIFT"));
    }
}

/* A label that is too small is told with sizes that do, and a millimetre less of them does not. */
static void
test_too_small_tells_what_would_do (void)
{
  WbReportLabel label = report_bench_label (0);
  WbReportLabelSheet sheet = { 100, 100, 5, 5, 40, 12, 40, 12, 1, 2, 0, 0 };
  WbReportOptions options;
  g_autoptr (GError) error = NULL;
  unsigned height = 0;

  report_bench_options (&options);
  g_assert_null (wb_report_labels_new (&label, 1, &sheet, 0, FALSE, &options, &error));
  g_assert_error (error, WB_REPORT_LABELS_ERROR, WB_REPORT_LABELS_ERROR_SIZE);
  g_assert_nonnull (strstr (error->message, "A label of 40 × 12 mm"));
  g_assert_nonnull (strstr (error->message, "H1-A"));
  g_assert_nonnull (strstr (error->message, "It would do at 40 × "));
  g_assert_cmpint (sscanf (strstr (error->message, "It would do at 40 × ") + strlen ("It would do at 40 × "), "%u", &height), ==, 1);
  for (guint k = 0; k < 2; k++)
    {
      g_autoptr (WbReportDocument) document = NULL;

      g_clear_error (&error);
      sheet.height = height - k;
      sheet.pitch_y = sheet.height + 1;
      document = wb_report_labels_new (&label, 1, &sheet, 0, FALSE, &options, &error);
      g_assert_true ((document != NULL) == (k == 0));
    }
}

/* Who measures in inches is told in inches, of sizes that do, and that do not where they are a twentieth less. */
static void
test_too_small_in_inches (void)
{
  WbReportLabel label = report_bench_label (0);
  WbReportLabelSheet sheet = { 203.2, 203.2, 6.35, 6.35, 38.1, 12.7, 38.1, 12.7, 1, 1, 0, 0 };
  WbReportOptions options;
  g_autoptr (GError) error = NULL;
  const char *would;
  double height = 0;

  report_bench_options (&options);
  options.us_units = TRUE;
  g_assert_null (wb_report_labels_new (&label, 1, &sheet, 0, FALSE, &options, &error));
  g_assert_nonnull (strstr (error->message, "A label of 1.5 × 0.5 in does not hold"));
  g_assert_null (strstr (error->message, " mm"));
  would = strstr (error->message, "It would do at 1.5 × ");
  g_assert_nonnull (would);
  height = g_ascii_strtod (would + strlen ("It would do at 1.5 × "), NULL);
  for (guint k = 0; k < 2; k++)
    {
      g_autoptr (WbReportDocument) document = NULL;

      g_clear_error (&error);
      sheet.height = sheet.pitch_y = (height - 0.05 * k) * 25.4;
      document = wb_report_labels_new (&label, 1, &sheet, 0, FALSE, &options, &error);
      g_assert_true ((document != NULL) == (k == 0));
    }
  /* and so is what is wrong with the sheet itself */
  sheet.width = 300;
  {
    g_autofree char *problem = wb_report_label_sheet_dup_problem (&sheet, TRUE, NULL);

    g_assert_cmpstr (problem, ==, "The labels reach to 12.061 in, beyond the right edge of the page at 8 in.");
  }
}

/* Whatever the width, no line of a label is left with the dot that stands between two things. */
static void
test_no_line_ends_with_a_dot (void)
{
  WbReportLabel label = report_bench_label (0);
  WbReportOptions options;
  guint several = 0;

  report_bench_options (&options);
  label.cell = "Tern, 76 mm · Sedge S-3 · Harbour mist 8 % of the wax";
  for (double width = 40; width <= 90; width += 1)
    {
      WbReportLabelSheet sheet = { 100, 100, 5, 5, width, 36, width, 36, 1, 1, 0, 0 };
      g_autoptr (WbReportDocument) document = NULL;
      g_autoptr (GError) error = NULL;
      g_autoptr (GBytes) pdf = NULL;
      g_auto (GStrv) pages = NULL, lines = NULL;

      document = wb_report_labels_new (&label, 1, &sheet, 0, FALSE, &options, &error);
      g_assert_no_error (error);
      pdf = test_report_print (document);
      pages = test_report_read (pdf);
      lines = g_strsplit (pages[0], "\n", -1);
      for (guint i = 0; lines[i] != NULL; i++)
        {
          several += g_str_has_prefix (g_strstrip (lines[i]), "·");
          if (g_str_has_suffix (lines[i], "·"))
            g_error ("at %g mm: %s", width, lines[i]);
        }
    }
  g_assert_cmpuint (several, >, 0); /* the sweep has seen it break there */
}

/* What is wrong with a sheet is told at the measure that is. */
static void
test_problem_stands_at_its_measure (void)
{
  static const struct { WbReportLabelMeasure set; double value; WbReportLabelMeasure told; } cases[] = {
    { WB_REPORT_LABEL_PAGE_WIDTH, 0, WB_REPORT_LABEL_PAGE_WIDTH },
    { WB_REPORT_LABEL_PAGE_HEIGHT, NAN, WB_REPORT_LABEL_PAGE_HEIGHT },
    { WB_REPORT_LABEL_WIDTH, -3, WB_REPORT_LABEL_WIDTH },
    { WB_REPORT_LABEL_HEIGHT, INFINITY, WB_REPORT_LABEL_HEIGHT },
    { WB_REPORT_LABEL_COLUMNS, 2.5, WB_REPORT_LABEL_COLUMNS },
    { WB_REPORT_LABEL_COLUMNS, 4, WB_REPORT_LABEL_COLUMNS },
    { WB_REPORT_LABEL_ROWS, 0, WB_REPORT_LABEL_ROWS },
    { WB_REPORT_LABEL_ROWS, 9, WB_REPORT_LABEL_ROWS },
    { WB_REPORT_LABEL_LEFT, -1, WB_REPORT_LABEL_LEFT },
    { WB_REPORT_LABEL_TOP, NAN, WB_REPORT_LABEL_TOP },
    { WB_REPORT_LABEL_PITCH_X, 69, WB_REPORT_LABEL_PITCH_X },
    { WB_REPORT_LABEL_PITCH_Y, 36.9, WB_REPORT_LABEL_PITCH_Y },
    { WB_REPORT_LABEL_SHIFT_X, 11, WB_REPORT_LABEL_SHIFT_X },
    { WB_REPORT_LABEL_SHIFT_Y, -11, WB_REPORT_LABEL_SHIFT_Y },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WbReportLabelSheet sheet = wb_report_label_sheet_preset (WB_REPORT_LABELS_A4_24);
      WbReportLabelMeasure told = WB_REPORT_LABEL_N_MEASURES;
      g_autofree char *problem = NULL;

      g_assert_null (wb_report_label_sheet_dup_problem (&sheet, FALSE, NULL));
      wb_report_label_sheet_set (&sheet, cases[i].set, cases[i].value);
      problem = wb_report_label_sheet_dup_problem (&sheet, FALSE, &told);
      g_test_message ("%s %g: %s", wb_report_label_measure_get_key (cases[i].set), cases[i].value, problem);
      g_assert_nonnull (problem);
      g_assert_cmpint (told, ==, cases[i].told);
    }
}

static void
test_cards_have_boxes_and_dates (void)
{
  for (guint k = 0; k < 2; k++)
    {
      WbReportOptions options;
      g_autoptr (WbReportDocument) document = NULL;
      g_autoptr (GBytes) pdf = NULL;
      g_auto (GStrv) pages = NULL;

      report_bench_options (&options);
      document = report_bench_cards_new (&options, 1, k == 0 ? WB_REPORT_A4 : WB_REPORT_LETTER, FALSE, FALSE);
      pdf = test_report_print (document);
      pages = test_report_read (pdf);
      g_assert_true (test_report_says (pages, 0, "H1-A"));
      g_assert_true (test_report_says (pages, 0, "Harbour mist 8 %"));
      g_assert_true (test_report_says (pages, 0, "Burn from"));
      g_assert_true (test_report_says (pages, 0, "Smell from"));
      g_assert_true (test_report_says (pages, 0, "Burns"));
      g_assert_true (test_report_says (pages, 0, "12"));
      g_assert_true (test_report_says (pages, 0, "TEST SAMPLE, NOT FOR SALE OR GIFT"));
    }
}

void
test_labels_add (void)
{
  g_test_add_func ("/report/label-code/what-is-written-comes-back", test_code_comes_back);
  g_test_add_func ("/report/label-code/it-knows-its-range", test_code_knows_its_range);
  g_test_add_func ("/report/label-code/a-wrong-character-is-refused", test_code_refuses_what_is_wrong);
  g_test_add_func ("/report/labels/a-blind-one-says-nothing-of-what-is-inside", test_blind_says_nothing);
  g_test_add_func ("/report/labels/a-reference-is-not-to-be-burnt", test_reference_is_not_to_be_burnt);
  g_test_add_func ("/report/labels/one-that-is-too-small-tells-what-would-do", test_too_small_tells_what_would_do);
  g_test_add_func ("/report/labels/what-is-too-small-is-told-in-inches", test_too_small_in_inches);
  g_test_add_func ("/report/labels/no-line-ends-with-a-dot", test_no_line_ends_with_a_dot);
  g_test_add_func ("/report/labels/a-problem-stands-at-its-measure", test_problem_stands_at_its_measure);
  g_test_add_func ("/report/cards/they-have-boxes-and-dates", test_cards_have_boxes_and_dates);
  g_test_add_func ("/report/labels/every-one-says-that-it-is-a-test", test_every_label_says_that_it_is_a_test);
  g_test_add_func ("/report/labels/they-lie-in-their-places", test_labels_lie_in_their_places);
  g_test_add_func ("/report/labels/an-impossible-sheet-is-refused", test_impossible_sheets_are_refused);
  g_test_add_func ("/report/labels/an-endless-code-stays-in-its-label", test_endless_code_stays_in_its_label);
  g_test_add_func ("/report/labels/nothing-stands-where-a-printer-leaves-white", test_nothing_in_the_unprinted_edge);
  g_test_add_func ("/report/labels/an-alignment-print-shows-every-place", test_alignment_print_shows_every_place);
}
