/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-report.h"

#include "wb-craft-check-burn.h"
#include "wb-craft-touched.h"

#include <math.h>
#include <string.h>

#include "wb-report-test-unread-private.h"

/* The customer's test report: what it must say, and where. */

static WbReportDocument *
report_of (const WbCraftAnswer *answer,
           gboolean             us_units)
{
  WbReportOptions options;

  report_bench_options (&options);
  options.us_units = us_units;
  return wb_report_test_new (answer, &options);
}

static char **
read_report (const WbCraftAnswer *answer,
             gboolean             us_units)
{
  g_autoptr (WbReportDocument) document = report_of (answer, us_units);
  g_autoptr (GBytes) pdf = test_report_print (document);

  return test_report_read (pdf);
}

/* The line of any page (-1) or of one that begins so, a table's row with its cells parted by "; "; NULL: none. */
static char *
dup_line (WbCraftAnswer *answer,
          int            page,
          const char    *start)
{
  g_autoptr (WbReportDocument) document = report_of (answer, FALSE);
  g_autofree char *squeezed = test_report_squeeze (start);

  for (guint i = 0; i < wb_report_document_get_n_pages (document); i++)
    {
      g_autofree char *text = wb_report_document_dup_page_text (document, i);
      g_auto (GStrv) lines = g_strsplit (text, "\n", -1);

      for (guint k = 0; lines[k] != NULL && (page < 0 || (guint) page == i); k++)
        {
          g_autofree char *line = test_report_squeeze (lines[k]);

          if (g_str_has_prefix (line, squeezed))
            return g_steal_pointer (&line);
        }
    }
  return NULL;
}

/* Someone who reads one page knows what was asked, what the answer is, how sure, and what was not tested. */
static void
test_first_page_answers (void)
{
  g_autoptr (WbCraftAnswer) answer = report_bench_answer_get ();
  g_auto (GStrv) pages = read_report (answer, FALSE);

  g_assert_true (test_report_says (pages, 0, answer->data->experiment->question));
  g_assert_true (test_report_says (pages, 0, answer->data->experiment->note));
  for (guint i = 0; i < answer->ranking->n_groups; i++)
    {
      const WbCraftGroup *group = &answer->ranking->groups[i];
      g_autofree char *said = wb_craft_group_dup_answer (answer->data, group);
      g_autofree char *sure = wb_craft_group_dup_sureness (answer->data, group);
      g_autofree char *brief = wb_craft_group_dup_brief (answer->data, group);
      g_autofree char *glance = wb_craft_group_dup_brief_sureness (answer->data, group);
      g_autofree char *title = wb_craft_group_dup_title (answer->data, group);
      g_autofree char *start = g_strdup_printf ("%s; %s", title, brief);
      g_autofree char *cell = g_strdup_printf ("; %s; ", glance);
      g_autofree char *wanted = test_report_squeeze (cell);
      g_autofree char *row = dup_line (answer, 0, start);

      g_test_message ("%s", row);
      g_assert_nonnull (row);
      g_assert_nonnull (strstr (row, wanted));
      g_assert_true (g_str_has_suffix (row, "; not signed"));
      g_assert_true (test_report_says (pages, -1, said));
      g_assert_true (test_report_says (pages, -1, sure));
    }
  g_assert_true (test_report_says (pages, 0, "Nothing is signed: these are findings"));
  g_assert_true (test_report_says (pages, 0, "What was not tested"));
  g_assert_true (test_report_says (pages, 0, "Gull Lane candles (invented)"));
}

static void
test_sections_come_in_order (void)
{
  static const char *const sections[] = {
    "The answer", "What was not tested", "The test in short", "How it was tested", "Ranking and reasons", "The burns in pictures", "Limits",
    "Deviations and missing values", "Conditions, instruments and lots", "Cautions", "Appendix: the figures and the method",
  };
  g_autoptr (WbCraftAnswer) answer = report_bench_answer_get ();
  g_autoptr (WbReportDocument) document = report_of (answer, FALSE);
  int before = 0;

  for (guint i = 0; i < G_N_ELEMENTS (sections); i++)
    {
      int page = wb_report_document_find_heading (document, sections[i]);

      g_test_message ("%s", sections[i]);
      g_assert_cmpint (page, >=, before);
      before = page;
    }
}

/* What the charts call "look from" is explained where the limits are, if one of them has it. */
static void
test_look_from_is_told (void)
{
  g_autoptr (WbCraftAnswer) answer = report_bench_planned_new ();
  g_auto (GStrv) with = NULL, without = NULL;
  const GPtrArray *limits = answer->data->limits;
  WbLimit *limit;

  g_assert_cmpuint (limits->len, >, 0);
  for (guint i = 0; i < limits->len; i++)
    ((WbLimit *) g_ptr_array_index (limits, i))->ask_at = NAN;
  limit = g_ptr_array_index (limits, 0);
  limit->stop_at = 80;
  without = read_report (answer, FALSE);
  g_assert_false (test_report_says (without, -1, "“Look from” in the charts"));
  limit->ask_at = 60;
  with = read_report (answer, FALSE);
  g_assert_true (test_report_says (with, -1, "“Look from” in the charts"));
}

/* What was seen of an unlit sample stands in a table of its own; without it there is none. */
static void
test_looks_are_told (void)
{
  g_autoptr (WbCraftAnswer) answer = report_bench_planned_new ();
  g_autoptr (WbCraftAnswer) burnt = report_bench_answer_get ();
  g_auto (GStrv) bare = read_report (answer, FALSE);
  g_auto (GStrv) pages = NULL;
  WbInspection *look = wb_record_new (&wb_inspection_type);
  WbDataset *data = (WbDataset *) answer->data;
  WbSample *sample = wb_record_copy (wb_dataset_get_sample (burnt->data, 0));
  guint first = data->samples->len, cell = 0;

  g_assert_false (test_report_says (bare, -1, "Looks at unlit samples"));
  g_ptr_array_add (data->samples, sample);
  g_array_append_val (data->sample_cell, cell);
  look->seen_at = (WbInstant) { 1772438820000000, 0, TRUE };
  look->frosting = 4;
  look->sink_hole = 0;
  look->cold_throw = 5;
  look->note = g_strdup ("crystals at the glass");
  g_ptr_array_add (data->inspections, look);
  g_array_append_val (data->inspection_sample, first);
  pages = read_report (answer, FALSE);
  g_assert_true (test_report_says (pages, -1, "Looks at unlit samples"));
  g_assert_true (test_report_says (pages, -1, "heavy"));
  g_assert_true (test_report_says (pages, -1, "strong"));
  g_assert_true (test_report_says (pages, -1, "crystals at the"));
}

/* The words that keep a reader from taking it for more than it is, and the cautions of the trade. */
static void
test_it_claims_no_more_than_it_is (void)
{
  static const char *const said[] = {
    "an in-house test that follows the timing of ASTM F2417 and EN 15426", "no agreement with one is claimed",
    "It is a maker's own test and no certification.", "Suppliers' data sheets, local codes and an accredited laboratory take precedence.",
    "WARNING Burn within sight. Keep away from things that catch fire. Keep away from children and pets.", "House limit",
    "Never put water on burning wax.", "longer was not tested.", "Let it cool and set for", "Stop using it when 13",
  };
  g_autoptr (WbCraftAnswer) answer = report_bench_answer_get ();
  g_auto (GStrv) pages = read_report (answer, FALSE);

  g_assert_true (test_report_says (pages, -1, "rated by eye on a scale of this test's own"));
  for (guint i = 0; i < G_N_ELEMENTS (said); i++)
    {
      g_test_message ("%s", said[i]);
      g_assert_true (test_report_says (pages, -1, said[i]));
    }
  for (guint i = 0; pages[i] != NULL; i++)
    {
      g_assert_null (strstr (pages[i], "complies"));
      g_assert_null (strstr (pages[i], "certified"));
    }
}

static void
test_every_page_is_marked (void)
{
  g_autoptr (WbCraftAnswer) answer = report_bench_answer_get ();
  g_autoptr (WbReportDocument) document = report_of (answer, FALSE);
  g_autoptr (GBytes) pdf = test_report_print (document);
  g_auto (GStrv) pages = test_report_read (pdf);
  guint n = wb_report_document_get_n_pages (document);

  for (guint i = 0; i < n; i++)
    {
      g_autofree char *number = g_strdup_printf ("Page %u of %u", i + 1, n);

      g_assert_true (test_report_says (pages, (int) i, number));
      g_assert_true (test_report_says (pages, (int) i, "Invented data"));
      g_assert_true (test_report_says (pages, (int) i, "80:6fac28a066970ef6d4043987e5c9855cf00583d322f5dff71ed7527170907ce0"));
    }
}

/* What the maker noted on the way turns up. */
static void
test_notes_turn_up (void)
{
  static const char *const said[] = {
    "was set aside: cavity", "A cavity beside the wick, found at the first burn.", "Poured 4 degrees too cold.", "contact probe (side, at the pool)",
    "1 person: Ola", "from the surface of the pool", "W-1", "K-1", "Wick more than 1 mm off the trim", "after they were taken, by the time that the maker stated",
    "seed 1",
  };
  g_autoptr (WbCraftAnswer) answer = report_bench_answer_get ();
  g_auto (GStrv) pages = read_report (answer, FALSE);

  for (guint i = 0; i < G_N_ELEMENTS (said); i++)
    {
      g_test_message ("%s", said[i]);
      g_assert_true (test_report_says (pages, -1, said[i]));
    }
  /* Typed in from paper is a condition, told with its count. */
  g_assert_false (test_report_says (pages, -1, "typed in after the session"));
}

/* Each limit with its bound and its source. */
static void
test_limits_name_their_source (void)
{
  g_autoptr (WbCraftAnswer) answer = report_bench_answer_get ();
  g_autoptr (WbReportDocument) document = report_of (answer, FALSE);
  g_autoptr (GBytes) pdf = test_report_print (document);
  g_autofree char *text = test_report_ask (pdf, "pdftotext", "-raw");
  char *pages[] = { text, NULL };

  for (guint i = 0; i < answer->data->limits->len; i++)
    {
      const WbLimit *limit = g_ptr_array_index (answer->data->limits, i);

      g_test_message ("%s", limit->source);
      g_assert_true (test_report_says (pages, -1, limit->source));
    }
}

/* Takes every occurrence out. */
static void
strike (char      **text,
        const char *part)
{
  g_auto (GStrv) pieces = g_strsplit (*text, part, -1);

  g_free (*text);
  *text = g_strjoinv ("", pieces);
}

/* Words of one space apart, in the order in which they were written. */
static char *
read_raw (const WbCraftAnswer *answer,
          gboolean             us_units)
{
  g_autoptr (WbReportDocument) document = report_of (answer, us_units);
  g_autoptr (GBytes) pdf = test_report_print (document);
  g_autofree char *text = test_report_ask (pdf, "pdftotext", "-raw");

  return test_report_squeeze (text);
}

static void
test_us_units_everywhere (void)
{
  /* what is quoted stays as it was said: names, sources, the tolerance of a trim */
  static const char *const quoted[] = { "64 mm", "76.2 mm", "more than 1 mm off", "EN 15426: 10 mm" };
  g_autoptr (WbCraftAnswer) answer = report_bench_answer_get ();
  g_autofree char *text = read_raw (answer, TRUE);
  g_autoptr (GRegex) metric = g_regex_new ("[0-9] (mm|°C|g/h)( |$|,|;|\\.)", 0, 0, NULL);
  g_autoptr (GMatchInfo) match = NULL;

  /* the house's 77 °C and EN 15493's 75 mm, converted exactly: 170.6 °F, 2.95 in */
  g_assert_nonnull (strstr (text, "170.6 °F"));
  g_assert_nonnull (strstr (text, "2.95 in"));
  for (guint i = 0; i < answer->data->limits->len; i++)
    {
      const char *source = ((const WbLimit *) g_ptr_array_index (answer->data->limits, i))->source;

      if (strstr (source, "mm") != NULL || strstr (source, "°C") != NULL) /* a short one may begin a longer one */
        strike (&text, source);
    }
  for (guint i = 0; i < G_N_ELEMENTS (quoted); i++)
    strike (&text, quoted[i]);
  if (g_regex_match (metric, text, 0, &match))
    {
      int start, end;

      g_match_info_fetch_pos (match, 0, &start, &end);
      g_test_message ("%.*s", end - MAX (start - 60, 0), text + MAX (start - 60, 0));
      g_test_fail ();
    }
}

/* 211.3 g of oil where 113.0 g were planned on 1412.2 g of wax: 14.96 % of the wax, and 13.02 % of the total. */
static void
test_weighed_off_its_plan (void)
{
  g_autoptr (WbCraftAnswer) answer = report_bench_answer_new ();
  WbDataset *data = (WbDataset *) answer->data;
  WbBatch *batch = wb_record_new (&wb_batch_type);
  WbFragrance *oil = g_ptr_array_index (data->fragrances, 0);
  g_auto (GStrv) pages = NULL;

  batch->record.id = 900;
  batch->code = g_strdup ("B1");
  batch->fragrance = oil->record.id;
  batch->load_pct = 8;
  batch->wax_g = batch->actual_wax_g = 1412.2;
  batch->oil_g = 113.0;
  batch->actual_oil_g = 211.3;
  g_ptr_array_add (data->batches, batch);
  data->wax->max_load_pct = 10;
  data->wax->max_load_basis = WB_BASIS_WAX;
  oil->ifra_limit_pct = 9;
  pages = read_report (answer, FALSE);
  g_assert_true (test_report_says (pages, -1, "Melt B1, Fragrance oil, weighed: 211.3 g, planned 113.0 g (off by more than 5 %)"));
  g_assert_true (test_report_says (pages, -1, "Melt B1: Load as weighed: 14.96 % of the wax, more than this wax holds by its supplier, 10 %"));
  g_assert_true (test_report_says (pages, -1, "Melt B1: Load as weighed: 13.02 % of the total, over its IFRA limit for category 12, 9 % of the finished candle"));
}

/* A step off its plan, by more than so many degrees: those that the notebook reads. */
static void
test_step_off_its_plan (void)
{
  g_autoptr (WbCraftAnswer) answer = report_bench_answer_new ();
  WbBatch *batch = wb_record_new (&wb_batch_type);
  WbBatchStep *step = wb_record_new (&wb_batch_step_type);
  g_autofree char *text = NULL, *us = NULL;

  batch->record.id = 900;
  batch->code = g_strdup ("B1");
  step->batch = 900;
  step->kind = WB_STEP_POUR;
  step->to_c = 62;
  step->actual_c = 57;
  g_ptr_array_add (answer->data->batches, batch);
  g_ptr_array_add (answer->data->batch_steps, step);
  text = read_raw (answer, FALSE);
  us = read_raw (answer, TRUE);
  g_assert_nonnull (strstr (text, "off by more than 3.0 °C,"));
  g_assert_nonnull (strstr (us, "off by more than 5.4 °F,"));
}

/* What was crossed is named with its reading, sample, burn and minute, and fails the combination. */
static void
test_hopeless_is_told (void)
{
  g_autoptr (WbCraftAnswer) answer = report_bench_hopeless_new ();
  g_auto (GStrv) pages = read_report (answer, FALSE);
  g_autofree char *front = NULL, *row = NULL;

  g_assert_true (test_report_says (pages, 0, "None of these may be used: each crossed a safety limit."));
  g_assert_true (test_report_says (pages, -1, "It crossed a limit ("));
  g_assert_true (test_report_says (pages, -1, "Not tested in every third"));
  front = dup_line (answer, 0, "Crossed a limit; ");
  row = dup_line (answer, -1, "1; L-1; ");
  g_test_message ("%s\n%s", front, row);
  g_assert_nonnull (front);
  g_assert_nonnull (strstr (front, "L-1 (flame height; "));
  g_assert_nonnull (strstr (front, "L-2 (flame height; "));
  /* in words, and apart from a low score */
  g_assert_nonnull (row);
  g_assert_nonnull (strstr (row, "; crossed a limit"));
  g_assert_false (test_report_says (pages, -1, "is recommended."));
}

/* A logger's file that is over a limit stands among what was crossed, and says that nobody read it. */
static void
test_logger_is_told (void)
{
  g_autoptr (WbCraftAnswer) answer = report_bench_logged_new ();
  g_auto (GStrv) pages = read_report (answer, FALSE);

  g_assert_true (test_report_says (pages, -1, "85.0 °C: sample"));
  g_assert_true (test_report_says (pages, -1, "minute 130, logger's file"));
  g_assert_true (test_report_says (pages, -1, "It crossed a limit ("));
}

static void
test_empty_is_told (void)
{
  g_autoptr (WbCraftAnswer) planned = report_bench_planned_new ();
  g_autoptr (WbCraftAnswer) empty = report_bench_empty_new ();
  g_autoptr (WbCraftAnswer) left_out = report_bench_left_out_new ();
  g_auto (GStrv) of_planned = read_report (planned, FALSE);
  g_auto (GStrv) of_left_out = read_report (left_out, FALSE);
  g_auto (GStrv) of_empty = read_report (empty, FALSE);

  g_assert_true (test_report_says (of_planned, 0, "A plan, not a test report"));
  g_assert_true (test_report_says (of_planned, 0, "Nothing has been burnt yet."));
  g_assert_true (test_report_says (of_planned, 0, "Anything: no candle was lit."));
  g_assert_true (test_report_says (of_planned, -1, "How it is to be tested"));
  /* no section of results that there are none of */
  g_assert_false (test_report_says (of_planned, -1, "Ranking and reasons"));
  g_assert_false (test_report_says (of_planned, -1, "The burns in pictures"));
  g_assert_false (test_report_says (of_planned, -1, "Missing values"));
  g_assert_false (test_report_says (of_planned, -1, "Appendix"));
  g_assert_false (test_report_says (of_planned, -1, "was not burnt to the end"));
  g_assert_true (test_report_says (of_empty, 0, "There is no answer yet: no combination was planned."));
  /* nobody has a candle of it, and how long one may burn is what the test is to find out */
  g_assert_true (test_report_says (of_planned, -1, "WARNING Burn within sight."));
  g_assert_false (test_report_says (of_planned, -1, "longer was not tested"));
  /* what was taken out of the grid is planned no more */
  g_assert_true (test_report_says (of_left_out, 0, "2 combinations"));
  /* the cell takes two lines, its neighbours between them */
  g_assert_true (test_report_says (of_left_out, -1, "not tested in all – EN 15493: 75 mm; ASTM F2417 clause 2 4.1: 3 in"));
}

/* A notebook whose protocol is another one does not claim the published timing. */
static void
test_other_timing_is_told (void)
{
  g_autoptr (WbCraftAnswer) answer = report_bench_planned_new ();
  g_auto (GStrv) pages = NULL;

  answer->data->protocol->burn_s = 3 * 3600;
  answer->data->protocol->cool_s = 3600;
  pages = read_report (answer, FALSE);
  g_assert_true (test_report_says (pages, -1, "It departs from the timing of ASTM F2417 and EN 15426 as test laboratories tell it: burns are not of 4 h, "
                                              "samples cool for less than 3 h."));
  g_assert_false (test_report_says (pages, -1, "that follows the timing"));
}

/* Two answers of the same record, two documents, the same bytes; another unit or paper, other bytes. */
static void
test_same_record_same_bytes (void)
{
  g_autoptr (WbCraftAnswer) first = report_bench_answer_get ();
  g_autoptr (WbCraftAnswer) second = report_bench_answer_anew ();
  g_autoptr (WbReportDocument) one = report_of (first, FALSE);
  g_autoptr (WbReportDocument) other = report_of (second, FALSE);
  g_autoptr (WbReportDocument) third = report_of (second, TRUE);
  g_autoptr (GBytes) one_pdf = test_report_print (one);
  g_autoptr (GBytes) other_pdf = test_report_print (other);
  g_autoptr (GBytes) third_pdf = test_report_print (third);

  g_assert_true (g_bytes_equal (one_pdf, other_pdf));
  g_assert_false (g_bytes_equal (one_pdf, third_pdf));
}

/* An endless name is cut where it is looked up; the words around it stay, and so does what a person wrote as a text. */
static void
test_endless_names_are_borne (void)
{
  g_autofree char *name = g_strnfill (10000, 'x');
  g_autoptr (WbCraftAnswer) answer = report_bench_named_new (name);
  g_autoptr (WbReportDocument) document = report_of (answer, FALSE);
  g_autoptr (GBytes) pdf = test_report_print (document);
  g_auto (GStrv) pages = test_report_read (pdf);

  g_assert_true (test_report_says (pages, -1, "What this report is not"));
  g_assert_cmpint (wb_report_document_find_heading (document, "The answer"), >=, 0);
}

static void
test_date_is_the_environments (void)
{
  g_setenv ("SOURCE_DATE_EPOCH", "1767323220", TRUE);
  g_assert_cmpint (wb_report_now ().utc_us, ==, G_GINT64_CONSTANT (1767323220) * G_USEC_PER_SEC);
  g_setenv ("SOURCE_DATE_EPOCH", "not a number", TRUE);
  g_assert_true (wb_report_now ().known);
  g_unsetenv ("SOURCE_DATE_EPOCH");
  g_assert_cmpint (wb_report_paper_from_key ("a4"), ==, WB_REPORT_A4);
  g_assert_cmpint (wb_report_paper_from_key ("LETTER"), ==, WB_REPORT_LETTER);
  g_assert_cmpint (wb_report_paper_from_key ("A5"), ==, -1);
}

/* A figure that was not read at the last reading is not called read: the words say how many, and what stands for it. */
static void
test_earlier_readings_are_told (void)
{
  g_autoptr (WbCraftAnswer) answer = report_bench_answer_new ();
  WbDataset *data = (WbDataset *) answer->data;
  g_auto (GStrv) pages = NULL;

  for (guint i = 0; i < 3; i++)
    {
      guint first, n;

      wb_readings_get_burn_rows (data->readings, i, &first, &n);
      wb_readings_set (data->readings, first + n - 1, WB_COLUMN_FLAME_MM, NAN);
      wb_readings_set (data->readings, first + n - 1, WB_COLUMN_FLAME_MAX_MM, NAN);
      if (i < 2)
        wb_readings_set (data->readings, first + n - 1, WB_COLUMN_SOOT, NAN);
    }
  pages = read_report (answer, FALSE);
  g_assert_true (test_report_says (pages, -1, "Not read at the last reading of the burn: Flame height in 3. "
                                              "The last reading before it stands for it."));
  g_assert_true (test_report_says (pages, -1, "Not rated at the last reading of the burn: Soot in 2. "
                                              "The worst of the readings before it counts."));
  g_assert_false (test_report_says (pages, -1, "every figure was read at the end"));
}

static guint
count (char      **pages,
       const char *words)
{
  g_autofree char *joined = g_strjoinv (" ", pages);
  g_autofree char *text = test_report_squeeze (joined);
  guint n = 0;

  for (const char *at = strstr (text, words); at != NULL; at = strstr (at + 1, words))
    n++;
  return n;
}

/* What goes for all groups is said once, and what several of a group lack in one list of it. */
static void
test_lacks_are_told_once (void)
{
  g_autoptr (WbCraftAnswer) answer = report_bench_answer_get ();
  const WbCraftRanking *ranking = answer->ranking;
  g_auto (GStrv) pages = read_report (answer, FALSE);
  guint unread = 0, borrowed = 0;

  g_assert_cmpuint (ranking->n_groups, >, 1);
  for (guint i = 0; i < ranking->n_groups; i++)
    for (guint k = 0; k < ranking->groups[i].n_cells; k++)
      for (guint r = 0; r < ranking->groups[i].cells[k].reasons->len; r++)
        {
          const WbCraftReason *reason = g_ptr_array_index (ranking->groups[i].cells[k].reasons, r);

          unread += g_str_equal (reason->code, "figure_not_read");
          borrowed += g_str_equal (reason->code, "figure_borrowed");
        }
  g_test_message ("%u not read, %u foretold", unread, borrowed);
  g_assert_cmpuint (unread, >, ranking->n_groups);
  g_assert_cmpuint (count (pages, "Not read in any combination"), ==, 1);
  g_assert_cmpuint (count (pages, "so foretold from"), <=, ranking->n_groups);
}

/* Lacks of several combinations as one list: by subject, then place, with the names of those that lack it unless all do. */
static void
test_lacks_are_listed (void)
{
  WbCraftReason upper = { .code = (char *) "figure_borrowed", .subject = (char *) "Hot throw", .place = (char *) "upper third" };
  WbCraftReason lower = { .code = (char *) "figure_borrowed", .subject = (char *) "Hot throw", .place = (char *) "lower third" };
  WbCraftReason soot = { .code = (char *) "figure_borrowed", .subject = (char *) "Soot", .place = (char *) "upper third" };
  WbCraftReason other = { .code = (char *) "few_samples", .text = (char *) "Samples burnt: 1 of 3." };
  g_autoptr (GPtrArray) some = g_ptr_array_new (), all = g_ptr_array_new ();
  WbCraftRanked one = { .reasons = some }, two = { .reasons = all };
  WbReportUnread *list = wb_report_unread_new ("figure_borrowed"), *alike = wb_report_unread_new ("figure_borrowed");
  g_autofree char *told = NULL, *told_alike = NULL, *nothing = NULL;

  g_ptr_array_add (some, &upper);
  g_ptr_array_add (some, &other);
  g_ptr_array_add (all, &soot);
  g_ptr_array_add (all, &upper);
  g_ptr_array_add (all, &lower);
  wb_report_unread_add (list, &one, "S-2");
  wb_report_unread_add (list, &two, "S-3");
  wb_report_unread_add (list, &two, "S-3");
  told = wb_report_unread_free_to_text (list, 2);
  g_assert_cmpstr (told, ==, "Hot throw (upper third of all; lower third of S-3); Soot (upper third of S-3)");
  wb_report_unread_add (alike, &two, "S-3");
  told_alike = wb_report_unread_free_to_text (alike, 1);
  g_assert_cmpstr (told_alike, ==, "Soot (upper third); Hot throw (upper third; lower third)");
  nothing = wb_report_unread_free_to_text (wb_report_unread_new ("figure_borrowed"), 1);
  g_assert_cmpstr (nothing, ==, "");
}

/* What was changed after it was saved is told to whoever rests on it. */
static void
test_amendments_are_told (void)
{
  g_autoptr (WbCraftAnswer) answer = report_bench_answer_get ();
  g_autoptr (WbReportDocument) document = NULL;
  g_autoptr (GBytes) pdf = NULL;
  g_autofree char *text = NULL;
  WbReportOptions options;

  report_bench_options (&options);
  options.amended = 1;
  options.taken_out = 2;
  document = wb_report_test_new (answer, &options);
  pdf = test_report_print (document);
  text = test_report_ask (pdf, "pdftotext", "-raw");
  g_assert_nonnull (strstr (text, "1 reading was amended after it was saved"));
  g_assert_nonnull (strstr (text, "2 readings were taken out after they were saved"));
}

/* A check burn beside what was approved, and what changed behind a decision. */
static void
test_check_burns_and_changes (void)
{
  g_autoptr (WbCraftAnswer) answer = report_bench_answer_get ();
  g_autoptr (WbReportDocument) document = NULL;
  g_autoptr (GBytes) pdf = NULL;
  g_autofree char *text = NULL;
  g_autoptr (GPtrArray) checks = g_ptr_array_new (), touched = g_ptr_array_new ();
  WbCraftCheckBurn check = { .sample = 0, .number = 3, .approved = (char *) "HF-1", .stage = WB_STAGE_LOWER };
  WbCraftTouched change = { .what = (char *) "Wax lot W-112 of Dunmarl soft is new", .state = WB_CRAFT_TOUCHED_EXPLAINED, .why = (char *) "The same drum." };
  WbReportOptions options;

  for (int i = 0; i < WB_CRAFT_N_CHECKS; i++)
    check.checks[i] = (WbCraftCheck) { WB_CRAFT_CHECK_NOT_READ, NAN, 0, NAN, NAN };
  check.checks[WB_CRAFT_CHECK_VESSEL] = (WbCraftCheck) { WB_CRAFT_CHECK_ABOVE, 71, 6, 52, 60 };
  g_ptr_array_add (checks, &check);
  g_ptr_array_add (touched, &change);
  report_bench_options (&options);
  options.check_burns = checks;
  options.touched = touched;
  if (answer->data->decisions->len > 0)
    change.decision = ((const WbRecord *) g_ptr_array_index (answer->data->decisions, 0))->id;
  document = wb_report_test_new (answer, &options);
  pdf = test_report_print (document);
  {
    g_autofree char *raw = test_report_ask (pdf, "pdftotext", "-raw");

    text = test_report_squeeze (raw);
  }
  g_assert_nonnull (strstr (text, "Check burns"));
  g_assert_nonnull (strstr (text, "hotter than approved: 71"));
  g_assert_nonnull (strstr (text, "Outside what was approved in HF-1"));
  if (answer->data->decisions->len > 0)
    g_assert_nonnull (strstr (text, "No test is needed: The same drum."));
}

/* A decision whose combination was deleted is not said to stand. */
static void
test_combination_gone (void)
{
  g_autoptr (WbCraftAnswer) answer = report_bench_answer_get ();
  g_autoptr (WbReportDocument) document = NULL;
  g_autoptr (GBytes) pdf = NULL;
  g_autofree char *raw = NULL, *text = NULL;
  WbDecision *decision = wb_record_new (&wb_decision_type);
  WbReportOptions options;

  decision->record.id = 700;
  decision->cell = 9999;
  decision->signed_by = g_strdup ("Ada Wren");
  g_ptr_array_add (answer->data->decisions, decision);
  report_bench_options (&options);
  document = wb_report_test_new (answer, &options);
  pdf = test_report_print (document);
  raw = test_report_ask (pdf, "pdftotext", "-raw");
  text = test_report_squeeze (raw);
  g_ptr_array_remove (answer->data->decisions, decision);
  g_assert_nonnull (strstr (text, "Not known: the combination that was chosen is not in the experiment any more."));
  g_assert_null (strstr (text, "It stands as it was signed"));
}

/* What was decided, who signed, when, and how it stands: on the first page. */
static void
test_front_tells_decision (void)
{
  g_autoptr (WbCraftAnswer) answer = report_bench_answer_get ();
  g_autoptr (WbReportDocument) document = NULL;
  g_autoptr (GPtrArray) touched = g_ptr_array_new ();
  g_autofree char *lines = NULL, *text = NULL, *chosen = NULL, *said = NULL, *squeezed = NULL;
  WbDecision *decision = wb_record_new (&wb_decision_type);
  WbCraftTouched change = { .decision = 701, .kind = WB_CRAFT_TOUCHED_LOT, .state = WB_CRAFT_TOUCHED_OPEN, .what = (char *) "Wax lot W-9 is new" };
  WbReportOptions options;

  decision->record.id = 701;
  decision->cell = wb_dataset_get_cell (answer->data, 0)->record.id;
  decision->signed_by = g_strdup ("Ada Wren");
  decision->signed_at = (WbInstant) { 1772438820000000, 0, TRUE };
  g_ptr_array_add (answer->data->decisions, decision);
  g_ptr_array_add (touched, &change);
  report_bench_options (&options);
  options.touched = touched;
  document = wb_report_test_new (answer, &options);
  lines = wb_report_document_dup_page_text (document, 0);
  text = test_report_squeeze (lines);
  chosen = wb_dataset_dup_cell_name (answer->data, 0);
  said = g_strdup_printf ("Decided: %s. Signed by Ada Wren, 2 Mar 2026. Reopened: it does not stand until it is tested and signed anew. Wax lot W-9 is new.",
                          chosen);
  squeezed = test_report_squeeze (said);
  g_test_message ("%s", text);
  g_ptr_array_remove (answer->data->decisions, decision);
  g_assert_nonnull (strstr (text, squeezed));
  g_assert_nonnull (strstr (text, ": reopened: does not stand"));
  g_assert_nonnull (strstr (text, "not signed"));
  g_assert_null (strstr (text, "Nothing is signed"));
}

void
test_customer_add (void)
{
  g_test_add_func ("/report/customer/check-burns-and-changes-are-told", test_check_burns_and_changes);
  g_test_add_func ("/report/customer/a-decision-whose-combination-is-gone-is-not-known-to-stand", test_combination_gone);
  g_test_add_func ("/report/customer/a-loggers-file-over-a-limit-is-told", test_logger_is_told);
  g_test_add_func ("/report/customer/what-look-from-means-is-told", test_look_from_is_told);
  g_test_add_func ("/report/customer/looks-at-unlit-samples-are-told", test_looks_are_told);
  g_test_add_func ("/report/customer/amendments-are-told", test_amendments_are_told);
  g_test_add_func ("/report/customer/a-figure-not-read-at-the-last-reading-is-told", test_earlier_readings_are_told);
  g_test_add_func ("/report/customer/lacks-are-listed-by-what-and-where", test_lacks_are_listed);
  g_test_add_func ("/report/customer/what-all-lack-is-told-once", test_lacks_are_told_once);
  g_test_add_func ("/report/customer/the-first-page-answers-the-question", test_first_page_answers);
  g_test_add_func ("/report/customer/the-first-page-tells-what-is-signed-and-how-it-stands", test_front_tells_decision);
  g_test_add_func ("/report/customer/sections-come-in-order", test_sections_come_in_order);
  g_test_add_func ("/report/customer/it-claims-no-more-than-it-is", test_it_claims_no_more_than_it_is);
  g_test_add_func ("/report/customer/every-page-is-marked-and-numbered", test_every_page_is_marked);
  g_test_add_func ("/report/customer/what-was-noted-turns-up", test_notes_turn_up);
  g_test_add_func ("/report/customer/limits-name-their-source", test_limits_name_their_source);
  g_test_add_func ("/report/customer/us-units-are-honoured-everywhere", test_us_units_everywhere);
  g_test_add_func ("/report/customer/what-was-weighed-off-its-plan-is-told", test_weighed_off_its_plan);
  g_test_add_func ("/report/customer/a-step-off-its-plan-is-told-in-the-notebooks-degrees", test_step_off_its_plan);
  g_test_add_func ("/report/customer/a-hopeless-grid-is-told", test_hopeless_is_told);
  g_test_add_func ("/report/customer/an-empty-answer-is-told", test_empty_is_told);
  g_test_add_func ("/report/customer/another-timing-is-told", test_other_timing_is_told);
  g_test_add_func ("/report/customer/the-same-record-gives-the-same-bytes", test_same_record_same_bytes);
  g_test_add_func ("/report/customer/endless-names-are-borne", test_endless_names_are_borne);
  g_test_add_func ("/report/customer/its-date-is-the-environments", test_date_is_the_environments);
}
