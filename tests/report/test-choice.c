/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-report.h"

#include <math.h>
#include <string.h>

#include "wb-report-key.h"

/* What a maker chooses of a report: sections, logo, photos, other names; and what pages are called. */

static void
test_keys (void)
{
  static const struct { const char *text; guint kept; } cases[] = {
    { "method", 1u << WB_REPORT_SECTION_METHOD },
    { " Limits , appendix ", 1u << WB_REPORT_SECTION_LIMITS | 1u << WB_REPORT_SECTION_APPENDIX },
    { "charts", 1u << WB_REPORT_SECTION_SCORE | 1u << WB_REPORT_SECTION_LOSS | 1u << WB_REPORT_SECTION_GROWTH | 1u << WB_REPORT_SECTION_RINGS
                  | 1u << WB_REPORT_SECTION_LIFE | 1u << WB_REPORT_SECTION_MARKS },
    { "all", (1u << WB_REPORT_N_SECTIONS) - 1 },
    { "", 0 },
  };
  g_autofree char *unknown = NULL;
  g_autofree char *keys = wb_report_sections_dup_keys ();
  guint left_out = 0;

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_test_message ("%s", cases[i].text);
      g_assert_true (wb_report_sections_parse (cases[i].text, &left_out, &unknown));
      g_assert_cmpuint (left_out, ==, ((1u << WB_REPORT_N_SECTIONS) - 1) & ~cases[i].kept);
    }
  g_assert_false (wb_report_sections_parse ("method,weather", &left_out, &unknown));
  g_assert_cmpstr (unknown, ==, "weather");
  for (guint i = 0; i < WB_REPORT_N_SECTIONS; i++)
    g_assert_nonnull (strstr (keys, wb_report_section_get_key ((WbReportSection) i)));
}

/* Each section can go alone; the others stay, and what went is said on the first pages. */
static void
test_sections_go (void)
{
  static const struct { WbReportSection section; const char *heading; } cases[] = {
    { WB_REPORT_SECTION_METHOD, "How it was tested" },
    { WB_REPORT_SECTION_RANKING, "Ranking and reasons" },
    { WB_REPORT_SECTION_LIMITS, "Limits" },
    { WB_REPORT_SECTION_DEVIATIONS, "Deviations and missing values" },
    { WB_REPORT_SECTION_CONDITIONS, "Conditions, instruments and lots" },
    { WB_REPORT_SECTION_APPENDIX, "Appendix: the figures and the method" },
  };
  g_autoptr (WbCraftAnswer) answer = report_bench_answer_get ();

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *said = g_strdup_printf ("Left out of this report as the maker chose: %s.", cases[i].heading);
      g_autoptr (WbReportDocument) document = NULL;
      g_autoptr (GBytes) pdf = NULL;
      g_auto (GStrv) pages = NULL;
      WbReportOptions options;

      report_bench_options (&options);
      options.left_out = 1u << cases[i].section;
      document = wb_report_test_new (answer, &options);
      for (guint k = 0; k < G_N_ELEMENTS (cases); k++)
        g_assert_cmpint (wb_report_document_find_heading (document, cases[k].heading) < 0, ==, k == i);
      g_assert_cmpint (wb_report_document_find_heading (document, "Cautions"), >=, 0);
      g_assert_cmpint (wb_report_document_find_heading (document, "What was not tested"), >=, 0);
      pdf = test_report_print (document);
      pages = test_report_read (pdf);
      g_assert_true (test_report_says (pages, -1, said));
    }
}

/* Each chart stands by itself where it alone is chosen, and is gone where it alone is left out: by a sentence of its description. */
static void
test_charts_go (void)
{
  static const struct { WbReportSection section, with; const char *says; } cases[] = {
    { WB_REPORT_SECTION_SCORE, WB_REPORT_SECTION_RANKING, "Score of each combination with its 90 % interval, best first" },
    { WB_REPORT_SECTION_LOSS, WB_REPORT_SECTION_APPENDIX, "For each combination the score that choosing it gives away" },
    { WB_REPORT_SECTION_GROWTH, WB_REPORT_SECTION_GROWTH, "Melt-pool diameter against time after lighting" },
    { WB_REPORT_SECTION_RINGS, WB_REPORT_SECTION_RINGS, "Vessels from above, to scale" },
    { WB_REPORT_SECTION_MARKS, WB_REPORT_SECTION_MARKS, "Smoke, soot and mushroom burn by burn" },
  };
  g_autoptr (WbCraftAnswer) answer = report_bench_answer_get ();

  for (guint i = 0; i < 2 * G_N_ELEMENTS (cases); i++)
    {
      guint one = i / 2;
      gboolean alone = i % 2 == 0, found = FALSE;
      g_autoptr (WbReportDocument) document = NULL;
      WbReportOptions options;

      report_bench_options (&options);
      options.left_out = 1u << cases[one].section;
      if (alone)
        options.left_out = ((1u << WB_REPORT_N_SECTIONS) - 1) & ~(1u << cases[one].section | 1u << cases[one].with);
      document = wb_report_test_new (answer, &options);
      for (guint page = 0; page < wb_report_document_get_n_pages (document); page++)
        {
          g_autofree char *text = wb_report_document_dup_page_text (document, page);

          found = found || strstr (text, cases[one].says) != NULL;
        }
      g_test_message ("%s, %s", wb_report_section_get_key (cases[one].section), alone ? "alone" : "left out");
      g_assert_cmpint (found, ==, alone);
    }
}

/* Nothing but what always stands: the answer, its gaps, the cautions. */
static void
test_bare (void)
{
  g_autoptr (WbCraftAnswer) answer = report_bench_answer_get ();
  g_autoptr (WbReportDocument) document = NULL;
  WbReportOptions options;

  report_bench_options (&options);
  options.left_out = (1u << WB_REPORT_N_SECTIONS) - 1;
  document = wb_report_test_new (answer, &options);
  g_assert_cmpuint (wb_report_document_get_n_pages (document), <=, 3);
  g_assert_cmpint (wb_report_document_find_heading (document, "The answer"), ==, 0);
  g_assert_cmpint (wb_report_document_find_heading (document, "The burns in pictures"), ==, -1);
}

/* The customer's pages are counted, those of the appendix are A-1 and on: on paper, in the contents, and in the file. */
static void
test_page_labels (void)
{
  g_autoptr (WbCraftAnswer) answer = report_bench_answer_get ();
  g_autoptr (WbReportDocument) document = NULL;
  g_autoptr (GBytes) pdf = NULL;
  g_autofree char *labels = NULL;
  g_autofree char *first = NULL;
  g_autofree char *text = NULL;
  g_auto (GStrv) pages = NULL;
  WbReportOptions options;
  int appendix;

  report_bench_options (&options);
  document = wb_report_test_new (answer, &options);
  pdf = test_report_print (document);
  pages = test_report_read (pdf);
  appendix = wb_report_document_find_heading (document, "Appendix: the figures and the method");
  first = g_strdup_printf ("A-1 · Page %d of %u", appendix + 1, wb_report_document_get_n_pages (document));
  g_assert_true (test_report_says (pages, appendix, first));
  g_assert_false (test_report_says (pages, appendix - 1, "A-"));
  labels = test_report_ask (pdf, "qpdf", "--json");
  g_assert_nonnull (strstr (labels, "\"/P\": \"u:A-\""));
  /* its line of the contents */
  text = test_report_ask (pdf, "pdftotext", "-raw");
  g_assert_nonnull (strstr (text, "Appendix: the figures and the method A-1"));
}

/* ---- Pictures ---- */

/* Noise: nothing compresses worse. */
static WbReportPicture *
picture_new (int width,
             int height)
{
  gsize size = (gsize) width * height * 3;
  guchar *pixels = g_malloc (size);
  g_autoptr (GRand) rand = g_rand_new_with_seed (1);
  g_autoptr (GBytes) rgb = NULL;

  for (gsize i = 0; i < size; i++)
    pixels[i] = (guchar) g_rand_int_range (rand, 60, 200);
  rgb = g_bytes_new_take (pixels, size);
  return wb_report_picture_new (width, height, (gsize) width * 3, rgb);
}

static GPtrArray *
photos_new (guint n)
{
  GPtrArray *photos = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_report_photo_free);

  for (guint i = 0; i < n; i++)
    {
      WbReportPhoto *photo = g_new0 (WbReportPhoto, 1);

      photo->picture = picture_new (i % 2 == 0 ? WB_REPORT_PHOTO_EDGE_PX : 440, i % 2 == 0 ? 440 : WB_REPORT_PHOTO_EDGE_PX);
      photo->sample = i;
      photo->burn = i == 2 ? 0 : 2;
      photo->minute = i == 1 ? NAN : 180;
      photo->note = i == 0 ? g_strdup ("A mushroom.") : NULL;
      g_ptr_array_add (photos, photo);
    }
  return photos;
}

/* Each photo is there once, as a JPEG, with its sample, burn and hour. */
static void
test_photos (void)
{
  g_autoptr (WbCraftAnswer) answer = report_bench_answer_get ();
  g_autoptr (GPtrArray) photos = photos_new (5);
  g_autoptr (WbReportDocument) document = NULL;
  g_autoptr (GBytes) pdf = NULL, plain = NULL;
  g_autofree char *images = NULL;
  g_autofree char *qpdf = NULL;
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = NULL;
  WbReportOptions options;
  guint jpegs = 0;
  char *pages[2] = { NULL, NULL };

  report_bench_options (&options);
  document = wb_report_test_new (answer, &options);
  plain = test_report_print (document);
  g_clear_pointer (&document, wb_report_document_free);
  options.photos = photos;
  options.photos_kept = 9;
  document = wb_report_test_new (answer, &options);
  pdf = test_report_print (document);
  /* column by column */
  text = test_report_ask (pdf, "pdftotext", "-raw");
  pages[0] = text;
  g_assert_true (test_report_says (pages, -1, "Shown are 5 of the 9 photos that are kept"));
  g_assert_true (test_report_says (pages, -1, "burn 2, 3.0 h from lighting. A mushroom."));
  g_assert_true (test_report_says (pages, -1, "burn 2, at a time not known"));
  g_assert_true (test_report_says (pages, -1, "of no burn"));
  images = test_report_ask (pdf, "pdfimages", "-list");
  lines = g_strsplit (images, "\n", -1);
  for (guint i = 0; lines[i] != NULL; i++)
    jpegs += strstr (lines[i], " jpeg ") != NULL;
  g_assert_cmpuint (jpegs, ==, 5);
  /* even of noise a twelve of them stays below what a mail takes */
  g_assert_cmpuint ((g_bytes_get_size (pdf) - g_bytes_get_size (plain)) / 5, <, 250000);
  qpdf = test_report_ask (pdf, "qpdf", "--check");
  g_assert_nonnull (strstr (qpdf, "No syntax or stream encoding errors found"));
}

/* A logo stands on the first page alone, no larger than its box, and moves no name off the page. */
static void
test_logo (void)
{
  g_autoptr (WbCraftAnswer) answer = report_bench_answer_get ();
  static const struct { int width, height; } cases[] = { { 600, 90 }, { 90, 600 }, { 16, 16 }, { 600, 600 } };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WbReportPicture *logo = picture_new (cases[i].width, cases[i].height);
      g_autoptr (WbReportDocument) document = NULL;
      g_autoptr (GBytes) pdf = NULL;
      g_autofree char *images = NULL;
      g_auto (GStrv) lines = NULL, pages = NULL;
      WbReportOptions options;
      g_auto (GStrv) words = NULL;

      report_bench_options (&options);
      options.logo = logo;
      document = wb_report_test_new (answer, &options);
      wb_report_picture_free (logo);
      pdf = test_report_print (document);
      pages = test_report_read (pdf);
      g_assert_true (test_report_says (pages, 0, "Gull Lane candles (invented)"));
      g_assert_true (test_report_says (pages, 0, "7 Gull Lane"));
      images = test_report_ask (pdf, "pdfimages", "-list");
      lines = g_strsplit (images, "\n", -1);
      /* a head of two lines, one image, nothing else: page, number, kind, width, height, ..., pixels an inch */
      g_assert_cmpuint (g_strv_length (lines), ==, 4);
      words = g_strsplit (g_strstrip (lines[2]), " ", -1);
      g_assert_cmpstr (words[0], ==, "1");
      g_assert_nonnull (strstr (lines[2], " jpeg "));
    }
}

/* ---- Other names ---- */

static void
assert_says_none (const char *text,
                  const char *where)
{
  static const char *const names[] = {
    "Heron", "Tern", "tern", "L-1", "L-2", "L-3", "Plover", "Larkspur", "larkspur", "Bittern", "W-1", "K-1", "C1-1", "C12-2",
  };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      const char *at = strstr (text, names[i]);

      /* "pattern", "L-10" are other words */
      if (at != NULL && (at == text || !g_ascii_isalnum (at[-1])) && !g_ascii_isalnum (at[strlen (names[i])]))
        g_error ("%s says “%s”: %.60s", where, names[i], at);
    }
}

/* No name of a material, sample, melt or lot is in text, outline, information, charts or anywhere in the file's own words. */
static void
test_no_name_leaks (void)
{
  g_autoptr (WbCraftAlias) alias = NULL;
  g_autoptr (WbCraftAnswer) answer = report_bench_anonymous_new (&alias);
  g_autoptr (WbReportDocument) document = NULL;
  g_autoptr (GBytes) pdf = NULL;
  g_autofree char *text = NULL;
  g_autofree char *information = NULL;
  g_autofree char *outline = NULL;
  WbReportOptions options;

  report_bench_options (&options);
  options.anonymous = TRUE;
  document = wb_report_test_new (answer, &options);
  pdf = test_report_print (document);
  text = test_report_ask (pdf, "pdftotext", "-raw");
  information = test_report_ask (pdf, "pdfinfo", NULL);
  outline = test_report_ask (pdf, "qpdf", "--json");
  assert_says_none (text, "the text");
  assert_says_none (information, "the information");
  assert_says_none (outline, "outline and structure");
  g_assert_nonnull (strstr (text, "Vessel A"));
  g_assert_nonnull (strstr (text, "Wick A"));
  g_assert_nonnull (strstr (text, "Scent A"));
  g_assert_nonnull (strstr (text, "Wax A"));
  g_assert_nonnull (strstr (information, "Vessel A and Vessel B with Wick A, Wick B and Scent A"));
  for (guint i = 0; i < answer->data->samples->len; i++)
    g_assert_cmpint (wb_dataset_get_sample (answer->data, i)->code[0], ==, 'S');
}

/* Other names change no figure. */
static void
test_names_change_no_figure (void)
{
  g_autoptr (WbCraftAlias) alias = NULL;
  g_autoptr (WbCraftAnswer) named = report_bench_answer_get ();
  g_autoptr (WbCraftAnswer) answer = report_bench_anonymous_anew (&alias);

  g_assert_cmpuint (answer->ranking->n_groups, ==, named->ranking->n_groups);
  for (guint g = 0; g < named->ranking->n_groups; g++)
    for (guint i = 0; i < named->ranking->groups[g].n_cells; i++)
      {
        const WbCraftRanked *one = &named->ranking->groups[g].cells[i], *other = &answer->ranking->groups[g].cells[i];

        g_assert_cmpuint (one->cell, ==, other->cell);
        g_assert_cmpint (one->verdict, ==, other->verdict);
        g_assert_true (one->score.value == other->score.value || (isnan (one->score.value) && isnan (other->score.value)));
        g_assert_true (one->p_best == other->p_best || (isnan (one->p_best) && isnan (other->p_best)));
      }
}

/* The key says of each name what it is, and that it is not for the customer. */
static void
test_key_resolves (void)
{
  g_autoptr (WbCraftAlias) alias = NULL;
  g_autoptr (WbCraftAnswer) answer = report_bench_anonymous_new (&alias);
  g_autoptr (WbReportDocument) key = NULL;
  g_autoptr (GBytes) pdf = NULL;
  g_auto (GStrv) pages = NULL;
  WbReportOptions options;

  report_bench_options (&options);
  key = wb_report_key_new (alias, &options);
  pdf = test_report_print (key);
  pages = test_report_read (pdf);
  g_assert_true (test_report_says (pages, 0, "Private. Keep it; never hand it out with the report."));
  g_assert_true (test_report_says (pages, 0, "Heron and Tern with L-1, L-2 and Sweet Larkspur"));
  g_assert_true (test_report_says (pages, 0, "Wax Wax A Plover soft"));
  g_assert_true (test_report_says (pages, 0, "Wick Wick B L L-2"));
  for (guint i = 0; i < wb_craft_alias_get_n (alias); i++)
    {
      const WbCraftAliasItem *item = wb_craft_alias_get_item (alias, i);
      g_autofree char *row = g_strdup_printf ("%s %s %s", item->kind, item->shown, item->real);

      g_test_message ("%s", row);
      g_assert_true (test_report_says (pages, -1, row));
    }
}

void
test_choice_add (void)
{
  g_test_add_func ("/report/choice/sections-have-keys", test_keys);
  g_test_add_func ("/report/choice/each-section-can-go-and-that-is-said", test_sections_go);
  g_test_add_func ("/report/choice/each-chart-stands-or-goes-alone", test_charts_go);
  g_test_add_func ("/report/choice/the-answer-and-the-cautions-always-stand", test_bare);
  g_test_add_func ("/report/choice/the-appendix-has-page-labels-of-its-own", test_page_labels);
  g_test_add_func ("/report/choice/photos-are-sized-for-print-and-say-what-they-show", test_photos);
  g_test_add_func ("/report/choice/a-logo-stands-on-the-first-page", test_logo);
  g_test_add_func ("/report/choice/no-name-leaks", test_no_name_leaks);
  g_test_add_func ("/report/choice/other-names-change-no-figure", test_names_change_no_figure);
  g_test_add_func ("/report/choice/the-key-resolves-every-name", test_key_resolves);
}
