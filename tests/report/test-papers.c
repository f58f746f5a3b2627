/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-report.h"

#include <string.h>

/* The papers of the bench: batch sheet and log sheet. */

static char **
read_paper (WbReportDocument *document)
{
  g_autoptr (GBytes) pdf = test_report_print (document);

  wb_report_document_free (document);
  return test_report_read (pdf);
}

static void
check_said (char             **pages,
            const char *const *said,
            guint              n)
{
  for (guint i = 0; i < n; i++)
    {
      g_test_message ("%s", said[i]);
      g_assert_true (test_report_says (pages, -1, said[i]));
    }
}

/* 3 × 182 g + 2 × 240 g + 5 % = 1077.3 g; 8 % of the wax is 8/108 of the total = 79.8 g. Worked by hand. */
static void
test_batch_can_be_followed (void)
{
  static const char *const said[] = {
    "Fragrance load: 8 % of the wax, which is 7.41 % of the total.", "3 × 182.0 g = 546.0 g", "1077.3 g ÷ 1.08 = 997.5 g", "1077.3 g", "79.8 g", "997.5 g", "107.7 g", "H1-A", "T2-B",
    "Heat the wax to 85 °C", "Pour at 62 °C", "Flash point of the oil: 71 °C", "fit to burn after 7 days, fit to smell after 14 days", "Pierce the skin beside the wick", "3 × Heron, 64 mm: 163.8 g each", "Pierce beside the wick, 45 min",
    "Tern, 76 mm: A drinking glass is not made for the heat of a flame",
  };
  WbReportOptions options;
  g_auto (GStrv) pages = NULL;

  report_bench_options (&options);
  pages = read_paper (report_bench_batch_new (&options));
  check_said (pages, said, G_N_ELEMENTS (said));
}

/* Each caution stands at its step, in the order in which hands need it. */
static void
test_batch_cautions_stand_at_their_steps (void)
{
  static const char *const order[] = {
    "Before you begin", "Water never on burning wax", "Heat the wax", "Never leave melting wax", "Fragrance in", "Goggles and gloves", "Hot wax on the skin",
    "Nothing down the drain",
  };
  WbReportOptions options;
  g_auto (GStrv) pages = NULL;
  g_autofree char *text = NULL;
  const char *at;

  report_bench_options (&options);
  pages = read_paper (report_bench_batch_new (&options));
  text = g_strjoinv ("\n", pages);
  at = text;
  for (guint i = 0; i < G_N_ELEMENTS (order); i++)
    {
      g_test_message ("%s", order[i]);
      at = strstr (at, order[i]);
      g_assert_nonnull (at);
    }
}

/* A control has no scent that anybody waits for. */
static void
test_batch_of_a_control (void)
{
  WbReportOptions options;
  g_auto (GStrv) scented = NULL, control = NULL;

  report_bench_options (&options);
  scented = read_paper (report_bench_batch_new (&options));
  control = read_paper (report_bench_control_new (&options));
  g_assert_true (test_report_says (scented, -1, "Fit to smell from"));
  g_assert_true (test_report_says (control, -1, "Fit to burn from"));
  g_assert_false (test_report_says (control, -1, "Fit to smell from"));
}

/* The balance reads grams; ounces stand beside them, temperatures in °F. */
static void
test_batch_in_us_units (void)
{
  static const char *const said[] = { "1077.3 g (38.00 oz)", "Heat the wax to 185 °F", "Pour at 144 °F" };
  WbReportOptions options;
  g_auto (GStrv) pages = NULL;

  report_bench_options (&options);
  options.us_units = TRUE;
  pages = read_paper (report_bench_batch_new (&options));
  check_said (pages, said, G_N_ELEMENTS (said));
}

static void
test_log_asks_what_the_protocol_asks (void)
{
  static const char *const said[] = {
    "Before the first light", "15 to 20 cm from one sample to the next", "Who stays with the flames", "At lighting", "Round 1", "Round 3", "Before snuffing",
    "After snuffing", "Next day", "In the last inch: H2-A", "Read it every 15 min", "smother it with a metal lid", "Never carry a lit or liquid candle",
    "0 none, 1 trace, 2 light, 3 moderate, 4 heavy",
  };
  WbReportOptions options;
  g_auto (GStrv) pages = NULL;

  report_bench_options (&options);
  pages = read_paper (report_bench_log_new (&options, 5));
  check_said (pages, said, G_N_ELEMENTS (said));
  g_assert_false (test_report_says (pages, -1, "Round 4")); /* the fourth hour is before snuffing */
}

/* The check and the hazards come before anything is lit. */
static void
test_log_begins_with_the_check (void)
{
  WbReportOptions options;
  g_auto (GStrv) pages = NULL;

  report_bench_options (&options);
  pages = read_paper (report_bench_log_new (&options, 5));
  g_assert_true (test_report_says (pages, 0, "Before the first light"));
  g_assert_true (test_report_says (pages, 0, "While it burns"));
  g_assert_false (test_report_says (pages, 0, "At lighting"));
}

static void
test_blank_log_has_rows (void)
{
  WbReportOptions options;
  g_autoptr (WbReportDocument) document = NULL;

  report_bench_options (&options);
  document = report_bench_log_new (&options, 0);
  g_assert_cmpuint (wb_report_document_get_n_pages (document), >, 2);
}

/* The codes in their places, the evenings of each cohort with their times, and what each holds; the check stands before all of it. */
static void
test_plan (void)
{
  static const char *const said[] = {
    "Before the first light", "15 to 20 cm from one sample to the next", "T9: its 14 samples burn together", "Places for the evening of Sat 24 Oct",
    "Sat 24 Oct 19:00 3 Cohort 1 6 8 of 8", "Sat 31 Oct 19:00 1 Cohort 2 6 6 of 8", "H2-A Heron · L-2", "T3-B Tern · L-3", "Somebody stays with the flames",
    "Invented data", "Local codes take precedence.",
  };
  WbReportOptions options;
  g_autoptr (WbReportDocument) document = NULL;
  g_auto (GStrv) pages = NULL;
  g_autofree char *page = NULL;

  report_bench_options (&options);
  pages = read_paper (report_bench_plan_new (&options, TRUE));
  check_said (pages, said, G_N_ELEMENTS (said));
  document = report_bench_plan_new (&options, TRUE);
  page = wb_report_document_dup_page_text (document, 0);
  g_assert_nonnull (strstr (page, "Place 1: H2-A"));
  g_assert_nonnull (strstr (page, "Place 8: H2-B"));
  g_assert_nonnull (strstr (page, "Place 2: \n"));
  g_assert_true (strstr (page, "Before the first light") < strstr (page, "The bench from above"));
}

static void
test_plan_blank (void)
{
  WbReportOptions options;
  g_auto (GStrv) pages = NULL;

  report_bench_options (&options);
  options.paper = WB_REPORT_LETTER;
  pages = read_paper (report_bench_plan_new (&options, FALSE));
  g_assert_true (test_report_says (pages, -1, "Write each code into its place."));
  g_assert_true (test_report_says (pages, -1, "Write the dates in."));
  g_assert_true (test_report_says (pages, -1, "4 Cohort 1"));
  g_assert_false (test_report_says (pages, -1, "shuffled for that session"));
}

/* No row of places and no evening is lost where they go over the pages. */
static void
test_plan_large (void)
{
  WbReportOptions options;
  g_auto (GStrv) pages = NULL;

  report_bench_options (&options);
  pages = read_paper (report_bench_plan_large_new (&options, 200, 60, 200, 0));
  for (guint i = 1; i <= 60; i++)
    {
      g_autofree char *row = g_strdup_printf ("19:00 %u all 200 200 of 200", i);

      g_assert_true (test_report_says (pages, -1, row));
    }
  g_assert_true (test_report_says (pages, -1, "S200-LONGCODE Heron"));
}

void
test_papers_add (void)
{
  g_test_add_func ("/report/batch/its-sums-can-be-followed", test_batch_can_be_followed);
  g_test_add_func ("/report/batch/each-caution-stands-at-its-step", test_batch_cautions_stand_at_their_steps);
  g_test_add_func ("/report/batch/a-control-is-smelt-by-nobody", test_batch_of_a_control);
  g_test_add_func ("/report/batch/us-units-stand-beside-grams", test_batch_in_us_units);
  g_test_add_func ("/report/log-sheet/it-asks-what-the-protocol-asks", test_log_asks_what_the_protocol_asks);
  g_test_add_func ("/report/log-sheet/it-begins-with-the-check", test_log_begins_with_the_check);
  g_test_add_func ("/report/log-sheet/a-blank-one-has-rows", test_blank_log_has_rows);
  g_test_add_func ("/report/bench-plan/it-says-who-stands-where-and-burns-when", test_plan);
  g_test_add_func ("/report/bench-plan/what-is-not-known-is-written-in", test_plan_blank);
  g_test_add_func ("/report/bench-plan/a-large-one-loses-nothing", test_plan_large);
}
