/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-report.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "wb-report-document-private.h"

/* Every paper as rectangles: nothing overlaps, nothing leaves its page. */

typedef WbReportDocument *(*Maker) (void);

static WbReportDocument *
report_of (WbCraftAnswer *answer,
           WbReportPaper  paper,
           gboolean       us_units)
{
  WbReportOptions options;
  WbReportDocument *document;

  report_bench_options (&options);
  options.paper = paper;
  options.us_units = us_units;
  document = wb_report_test_new (answer, &options);
  wb_craft_answer_unref (answer);
  return document;
}

static WbReportDocument *make_report (void) { return report_of (report_bench_answer_get (), WB_REPORT_A4, FALSE); }
static WbReportDocument *make_letter (void) { return report_of (report_bench_answer_get (), WB_REPORT_LETTER, TRUE); }
static WbReportDocument *make_planned (void) { return report_of (report_bench_planned_new (), WB_REPORT_A4, FALSE); }
static WbReportDocument *make_empty (void) { return report_of (report_bench_empty_new (), WB_REPORT_A4, FALSE); }
static WbReportDocument *make_hopeless (void) { return report_of (report_bench_hopeless_new (), WB_REPORT_LETTER, FALSE); }
static WbReportDocument *make_hebrew (void) { return report_of (report_bench_named_new ("נר ים"), WB_REPORT_A4, FALSE); }
static WbReportDocument *make_emoji (void) { return report_of (report_bench_named_new ("🕯 candle 🕯"), WB_REPORT_A4, FALSE); }

static WbReportDocument *
make_endless (void)
{
  g_autofree char *name = g_strnfill (10000, 'x');

  return report_of (report_bench_named_new (name), WB_REPORT_A4, FALSE);
}

static WbReportDocument *
make_batch (void)
{
  WbReportOptions options;

  report_bench_options (&options);
  options.us_units = TRUE;
  return report_bench_batch_new (&options);
}

static WbReportDocument *
make_log (void)
{
  WbReportOptions options;

  report_bench_options (&options);
  return report_bench_log_new (&options, 5);
}

static const struct { const char *name; Maker make; } papers[] = {
  { "report", make_report }, { "letter", make_letter }, { "planned", make_planned }, { "empty", make_empty }, { "hopeless", make_hopeless },
  { "hebrew", make_hebrew }, { "emoji", make_emoji }, { "endless", make_endless }, { "batch", make_batch }, { "log", make_log },
};

/* Each is made once, and only looked at. */
static WbReportDocument *
get_paper (guint i)
{
  static WbReportDocument *made[G_N_ELEMENTS (papers)];

  if (made[i] == NULL)
    made[i] = papers[i].make ();
  return made[i];
}

/* Pieces of one page stand one under the other, between the page's head and its foot. */
static void
check_places (WbReportDocument *document,
              const char       *name)
{
  guint n = wb_report_document_get_n_pages (document), page = 0;
  double y = wb_report_frame_get_top (document, 0);

  for (guint i = 0; i < document->placed->len; i++)
    {
      const WbReportPlaced *placed = &g_array_index (document->placed, WbReportPlaced, i);

      if (placed->page != page)
        {
          g_assert_cmpuint (placed->page, ==, page + 1);
          page = placed->page;
          y = wb_report_frame_get_top (document, page);
        }
      g_test_message ("%s, page %u, piece %u", name, page + 1, i);
      g_assert_cmpfloat (placed->y, >=, y - 0.01);
      y = placed->y + placed->piece->height;
      g_assert_cmpfloat (y, <=, wb_report_frame_get_bottom (document) + 0.02);
    }
  g_assert_cmpuint (page + 1, ==, n);
}

/* Ink stays within the paper, and a margin of white stays around it. */
static void
check_ink (WbReportDocument *document,
           const char       *name)
{
  double width, height;

  wb_report_document_get_size (document, &width, &height);
  for (guint page = 1; page < wb_report_document_get_n_pages (document); page++)
    {
      cairo_surface_t *surface = cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, NULL);
      cairo_t *cr = cairo_create (surface);
      double x, y, ink_width, ink_height;

      wb_report_document_draw_page (document, cr, page);
      cairo_recording_surface_ink_extents (surface, &x, &y, &ink_width, &ink_height);
      g_test_message ("%s, page %u: ink from %.1f, %.1f, %.1f × %.1f", name, page + 1, x, y, ink_width, ink_height);
      g_assert_cmpfloat (x, >=, WB_REPORT_MARGIN - 3);
      g_assert_cmpfloat (x + ink_width, <=, width - WB_REPORT_MARGIN + 3);
      g_assert_cmpfloat (y, >=, WB_REPORT_EDGE - 12);
      g_assert_cmpfloat (y + ink_height, <=, height - WB_REPORT_EDGE + 12);
      cairo_destroy (cr);
      cairo_surface_destroy (surface);
    }
}

static void
test_pieces_stay_on_their_page (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (papers); i++)
    {
      WbReportDocument *document = get_paper (i);

      check_places (document, papers[i].name);
      check_ink (document, papers[i].name);
    }
}

static const WbReportPlaced *
get_placed (WbReportDocument *document,
            guint             i)
{
  return &g_array_index (document->placed, WbReportPlaced, i);
}

/* Points of one list: of a point the page on which it begins and the one on which it ends. */
static void
check_list (const GArray *pages)
{
  const guint *page = (const guint *) (gpointer) pages->data;
  guint n = pages->len / 2;

  g_assert_cmpuint (n, >=, 2);
  g_assert_cmpuint (page[1], ==, page[2]);
  g_assert_cmpuint (page[2 * n - 3], ==, page[2 * n - 2]);
}

/* A point stands alone neither in its list nor on its page. */
static void
test_no_point_stands_alone (void)
{
  guint n_lists = 0;

  for (guint i = 0; i < G_N_ELEMENTS (papers); i++)
    {
      WbReportDocument *document = get_paper (i);
      g_autoptr (GArray) pages = g_array_new (FALSE, FALSE, sizeof (guint));

      /* points longer than a page are broken where they must be */
      if (papers[i].make == make_endless)
        continue;
      wb_report_pages_make (document);
      for (guint k = 0; k <= document->placed->len; k++)
        {
          const WbReportPlaced *placed = k < document->placed->len ? get_placed (document, k) : NULL;

          if (placed != NULL && placed->piece->bullet)
            {
              g_array_append_val (pages, placed->page);
              g_array_append_val (pages, placed->page);
            }
          else if (placed != NULL && placed->piece->point && pages->len > 0)
            g_array_index (pages, guint, pages->len - 1) = placed->page;
          else if (pages->len > 0)
            {
              check_list (pages);
              n_lists++;
              g_array_set_size (pages, 0);
            }
        }
    }
  g_assert_cmpuint (n_lists, >, 20);
}

/* No heading ends a page, whatever the paper. */
static void
test_no_heading_is_last (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (papers); i++)
    {
      WbReportDocument *document = get_paper (i);
      guint n = wb_report_document_get_n_pages (document);

      g_assert_cmpuint (n, >, 0);
      for (guint k = 0; k < document->placed->len; k++)
        {
          const WbReportPlaced *placed = &g_array_index (document->placed, WbReportPlaced, k);
          gboolean followed = FALSE;

          if (placed->piece->level == 0)
            continue;
          for (guint next = k + 1; next < document->placed->len; next++)
            {
              const WbReportPlaced *other = &g_array_index (document->placed, WbReportPlaced, next);

              followed |= other->page == placed->page && other->piece->level == 0 && other->piece->height > 0;
            }
          g_test_message ("%s: %s on page %u", papers[i].name, placed->piece->text, placed->page + 1);
          g_assert_true (followed);
        }
    }
}

/* ---- Words ---- */

typedef struct { double x0, y0, x1, y1; } Word;

static GArray *
read_words (const char *page)
{
  GArray *words = g_array_new (FALSE, FALSE, sizeof (Word));

  for (const char *at = strstr (page, "<word "); at != NULL; at = strstr (at + 1, "<word "))
    {
      Word word;
      char *end;

      word.x0 = g_ascii_strtod (strstr (at, "xMin=\"") + 6, &end);
      word.y0 = g_ascii_strtod (strstr (end, "yMin=\"") + 6, &end);
      word.x1 = g_ascii_strtod (strstr (end, "xMax=\"") + 6, &end);
      word.y1 = g_ascii_strtod (strstr (end, "yMax=\"") + 6, &end);
      g_array_append_val (words, word);
    }
  return words;
}

/* Share of the smaller word that lies under the other. */
static double
get_overlap (const Word *a,
             const Word *b)
{
  double width = fmin (a->x1, b->x1) - fmax (a->x0, b->x0), height = fmin (a->y1, b->y1) - fmax (a->y0, b->y0);
  double area = fmin ((a->x1 - a->x0) * (a->y1 - a->y0), (b->x1 - b->x0) * (b->y1 - b->y0));

  return width > 0 && height > 0 && area > 0 ? width * height / area : 0;
}

/* Words as poppler finds them lie beside each other; their boxes are as high as the font's, which is more than its letters. */
static void
test_words_do_not_overlap (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (papers); i++)
    {
      WbReportDocument *document = get_paper (i);
      g_autoptr (GBytes) pdf = test_report_print (document);
      g_autofree char *boxes = test_report_ask (pdf, "pdftotext", "-bbox");
      g_auto (GStrv) pages = g_strsplit (boxes, "<page ", -1);

      for (guint page = 1; pages[page] != NULL; page++)
        {
          g_autoptr (GArray) words = read_words (pages[page]);

          for (guint a = 0; a < words->len; a++)
            for (guint b = a + 1; b < words->len; b++)
              {
                const Word *one = &g_array_index (words, Word, a), *other = &g_array_index (words, Word, b);

                if (get_overlap (one, other) <= 0.4)
                  continue;
                g_test_message ("%s, page %u: words at %.1f, %.1f and %.1f, %.1f", papers[i].name, page, one->x0, one->y0, other->x0, other->y0);
                g_test_fail ();
              }
        }
    }
}

/*
 * qpdf finds nothing to complain of: links, outline and structure hold
 * together. Emoji are left out: cairo 1.16 names the picture of one again for
 * each time that it stands on a page, which readers bear and qpdf tells.
 */
static void
test_papers_are_sound_pdfs (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (papers); i++)
    {
      if (papers[i].make == make_emoji)
        continue;

      WbReportDocument *document = get_paper (i);
      g_autoptr (GBytes) pdf = test_report_print (document);
      g_autofree char *said = test_report_ask (pdf, "qpdf", "--check");

      g_test_message ("%s: %s", papers[i].name, said);
      g_assert_nonnull (strstr (said, "No syntax or stream encoding errors found"));
    }
}

/* Words of letters alone, into a set. */
static void
collect_words (GHashTable *words,
               const char *text)
{
  g_autoptr (GString) word = g_string_new (NULL);

  for (const char *at = text;; at = g_utf8_next_char (at))
    {
      gunichar letter = g_utf8_get_char (at);

      if (g_unichar_isalpha (letter))
        {
          g_string_append_unichar (word, letter);
          continue;
        }
      if (word->len > 0)
        g_hash_table_add (words, g_strdup (word->str));
      g_string_truncate (word, 0);
      if (letter == 0)
        break;
    }
}

static gboolean
has_picture (WbReportDocument *document,
             guint             page)
{
  for (guint i = 0; i < document->placed->len; i++)
    if (get_placed (document, i)->page == page && get_placed (document, i)->piece->picture != NULL)
      return TRUE;
  return FALSE;
}

/* A column too narrow for a word tears it: then what stands on the page is no word of its text. Charts, frame and fragments of three letters apart. */
static void
check_words (WbReportDocument *document,
             char            **pages,
             guint             page)
{
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (GHashTable) said = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autofree char *text = wb_report_document_dup_page_text (document, page);
  const char *frame[] = { document->title, document->foot, document->mark, g_dgettext (GETTEXT_PACKAGE, "Page %u of %u"), text };
  GHashTableIter iter;
  gpointer word;

  for (guint i = 0; i < G_N_ELEMENTS (frame); i++)
    if (frame[i] != NULL)
      collect_words (said, frame[i]);
  collect_words (seen, pages[page]);
  g_hash_table_iter_init (&iter, seen);
  while (g_hash_table_iter_next (&iter, &word, NULL))
    if (g_utf8_strlen (word, -1) > 3 && !g_hash_table_contains (said, word))
      {
        g_test_message ("page %u: %s", page + 1, (const char *) word);
        g_test_fail ();
      }
}

/* The first page has the letterhead, which is no piece of the text. */
static void
test_no_word_is_torn (void)
{
  static const Maker whole[] = { make_report, make_letter };

  for (guint i = 0; i < G_N_ELEMENTS (whole); i++)
    {
      g_autoptr (WbReportDocument) document = whole[i] ();
      g_autoptr (GBytes) pdf = test_report_print (document);
      g_auto (GStrv) pages = test_report_read (pdf);

      g_assert_nonnull (document->appendix);
      for (guint page = 1; page < wb_report_document_get_n_pages (document); page++)
        if (!has_picture (document, page))
          check_words (document, pages, page);
    }
}

static guint
find_heading (WbReportDocument *document,
              const char       *text)
{
  for (guint i = 0; i < document->pieces->len; i++)
    if (((const WbReportPiece *) g_ptr_array_index (document->pieces, i))->level == 1
        && g_strcmp0 (((const WbReportPiece *) g_ptr_array_index (document->pieces, i))->text, g_dgettext (GETTEXT_PACKAGE, text)) == 0)
      return i;
  g_assert_not_reached ();
}

/* What is said over the limits stands on the page on which their table begins; the lots stand with the conditions. */
static void
test_limits_and_lots_stay_whole (void)
{
  g_autoptr (WbReportDocument) document = make_report ();
  const WbReportPiece *piece;

  for (guint i = find_heading (document, "Limits"); (piece = g_ptr_array_index (document->pieces, i))->head == NULL; i++)
    g_assert_true (piece->keep_next);
  for (guint i = find_heading (document, "Conditions, instruments and lots"); i + 1 < find_heading (document, "Cautions"); i++)
    g_assert_true (((const WbReportPiece *) g_ptr_array_index (document->pieces, i))->keep_next);
}

void
test_layout_add (void)
{
  g_test_add_func ("/report/layout/papers-are-sound-pdfs", test_papers_are_sound_pdfs);
  g_test_add_func ("/report/layout/pieces-stay-on-their-page", test_pieces_stay_on_their_page);
  g_test_add_func ("/report/layout/no-point-stands-alone", test_no_point_stands_alone);
  g_test_add_func ("/report/layout/no-heading-ends-a-page", test_no_heading_is_last);
  g_test_add_func ("/report/layout/words-do-not-overlap", test_words_do_not_overlap);
  g_test_add_func ("/report/layout/no-word-is-torn", test_no_word_is_torn);
  g_test_add_func ("/report/layout/limits-and-lots-stay-whole", test_limits_and_lots_stay_whole);
}
