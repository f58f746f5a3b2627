/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-test-private.h"
#include "wb-craft-told.h"
#include "wb-report-test-unread-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Ranking, verdicts and the reasons for them. */

/* ---- Reasons ---- */

/* What was crossed is told in the reader's units, limit by limit. */
static gboolean
is_crossing (const WbCraftReason *reason)
{
  return g_str_equal (reason->code, "limit_crossed") || g_str_equal (reason->code, "set_aside_crossed");
}

/* What is told once for all: codes whose reasons are left out of the sentences of a cell; and sentences told above already. */
typedef struct
{
  const char *codes[4];  /* NULL-terminated */
  GPtrArray  *above;     /* char; NULL: none */
} Told;

static gboolean
is_told (const Told          *told,
         const WbCraftReason *reason)
{
  for (guint i = 0; told->codes[i] != NULL; i++)
    if (g_str_equal (reason->code, told->codes[i]))
      return TRUE;
  return FALSE;
}

static gboolean
holds (GPtrArray  *sentences,
       const char *sentence)
{
  return sentences != NULL && g_ptr_array_find_with_equal_func (sentences, sentence, g_str_equal, NULL);
}

/* The reasons of a cell but the crossings and what is told elsewhere, as sentences. */
static GPtrArray *
tell_reasons (const WbCraftRanked *ranked,
              const Told          *told)
{
  g_autoptr (GPtrArray) reasons = g_ptr_array_new (), all = NULL;
  GPtrArray *sentences = g_ptr_array_new_with_free_func (g_free);
  WbCraftRanked left = *ranked;

  for (guint k = 0; k < ranked->reasons->len; k++)
    {
      WbCraftReason *reason = g_ptr_array_index (ranked->reasons, k);

      if (!is_crossing (reason) && !is_told (told, reason))
        g_ptr_array_add (reasons, reason);
    }
  left.reasons = reasons;
  all = wb_craft_ranked_dup_sentences (&left);
  for (guint i = 0; i < all->len; i++)
    if (!holds (told->above, g_ptr_array_index (all, i)))
      g_ptr_array_add (sentences, g_strdup (g_ptr_array_index (all, i)));
  return sentences;
}

/* What every cell of the group says; of a single one all that it says. */
static GPtrArray *
find_common (const WbCraftGroup *group,
             const Told         *told)
{
  GPtrArray *common = group->n_cells > 0 ? tell_reasons (&group->cells[0], told) : g_ptr_array_new_with_free_func (g_free);

  for (guint i = 1; i < group->n_cells; i++)
    {
      g_autoptr (GPtrArray) other = tell_reasons (&group->cells[i], told);

      for (guint k = common->len; k > 0; k--)
        if (!holds (other, g_ptr_array_index (common, k - 1)))
          g_ptr_array_remove_index (common, k - 1);
    }
  return common;
}

/* What every cell of every group says. */
static GPtrArray *
find_common_of_all (const WbCraftRanking *ranking,
                    const Told           *told)
{
  GPtrArray *common = find_common (&ranking->groups[0], told);

  for (guint i = 1; i < ranking->n_groups; i++)
    {
      g_autoptr (GPtrArray) other = find_common (&ranking->groups[i], told);

      for (guint k = common->len; k > 0; k--)
        if (!holds (other, g_ptr_array_index (common, k - 1)))
          g_ptr_array_remove_index (common, k - 1);
    }
  return common;
}

static void
append_sentence (GString    *text,
                 const char *sentence)
{
  g_autofree char *capital = wb_report_dup_sentence (sentence);

  if (text->len > 0)
    g_string_append_c (text, ' ');
  g_string_append (text, capital);
}

static void
append_crossings (const WbReportTest  *test,
                  const WbCraftRanked *ranked,
                  GString             *text)
{
  for (guint i = 0; i < test->answer->limits->n_limits; i++)
    {
      const WbCraftLimit *limit = wb_craft_limits_get (test->answer->limits, ranked->cell, i);
      const WbLimit *record = g_ptr_array_index (test->data->limits, i);
      WbCraftLimit crossing;
      g_autofree char *worst = NULL;
      g_autofree char *bound = NULL;
      g_autofree char *sentence = NULL;

      if (limit->state != WB_CRAFT_LIMIT_CROSSED && !limit->set_aside_only)
        continue;
      crossing = limit->set_aside_only ? wb_craft_limit_get_set_aside (limit) : *limit;
      worst = wb_report_test_dup_worst (test, &crossing);
      bound = wb_report_test_dup_bound (test, record);
      /* Translators: a limit's name; the worst reading and where; the bound. */
      sentence = g_strdup_printf (limit->set_aside_only ? _("A sample that was set aside crossed a limit (%s): %s; the bound is %s.")
                                                        : _("It crossed a limit (%s): %s; the bound is %s."),
                                  g_dgettext (GETTEXT_PACKAGE, wb_craft_limit_get_measure ((WbLimitKind) record->kind)), worst, bound);
      append_sentence (text, sentence);
    }
}

static char *
join_sentences (GPtrArray *sentences)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < sentences->len; i++)
    append_sentence (text, g_ptr_array_index (sentences, i));
  return g_string_free (text, FALSE);
}

/* What was foretold for want of readings: in one sentence where several cells of the group say so. */
static gboolean
is_borrowed_by_several (const WbCraftGroup *group)
{
  guint n = 0;

  for (guint i = 0; i < group->n_cells; i++)
    {
      gboolean any = FALSE;

      for (guint k = 0; k < group->cells[i].reasons->len; k++)
        any = any || g_str_equal (((const WbCraftReason *) g_ptr_array_index (group->cells[i].reasons, k))->code, "figure_borrowed");
      n += any;
    }
  return n > 1;
}

static void
add_borrowed (const WbReportTest *test,
              const WbCraftGroup *group)
{
  WbReportUnread *unread = wb_report_unread_new ("figure_borrowed");
  g_autofree char *text = NULL;

  for (guint i = 0; i < group->n_cells; i++)
    {
      g_autofree char *cell = wb_report_test_dup_cell (test, group, group->cells[i].cell);

      wb_report_unread_add (unread, &group->cells[i], cell);
    }
  text = wb_report_unread_free_to_text (unread, group->n_cells);
  /* Translators: "Hot throw (upper third of B5, B6; middle third of all)". */
  wb_report_test_point (test, _("Not read, so foretold from the combination's other thirds and from the others: %s."), text);
}

/* Why a combination stands where it stands: what it crossed first, then what sets it apart from the others of its group. */
static char *
dup_why (const WbReportTest  *test,
         const WbCraftRanked *ranked,
         const Told          *elsewhere,
         GPtrArray           *common)
{
  g_autoptr (GPtrArray) told = tell_reasons (ranked, elsewhere);
  GString *text = g_string_new (NULL);

  append_crossings (test, ranked, text);
  for (guint k = 0; k < told->len; k++)
    if (!holds (common, g_ptr_array_index (told, k)))
      append_sentence (text, g_ptr_array_index (told, k));
  return g_string_free (text, FALSE);
}

static void
add_table (const WbReportTest *test,
           const WbCraftGroup *group,
           const Told         *elsewhere,
           GPtrArray          *common)
{
  enum { RANK, CELL, VERDICT, SCORE, BURNT, WHY, N_COLUMNS };
  const char *heads[N_COLUMNS] = { _("Rank"), _("Combination"), _("Verdict"), _("Score, of 1"), _("Samples / burns"), _("Why") };
  static const WbReportAlign aligns[N_COLUMNS] = { WB_REPORT_RIGHT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_RIGHT, WB_REPORT_RIGHT, WB_REPORT_LEFT };
  static const double shares[N_COLUMNS] = { 0, 1.2, 1.35, 0.95, 0.95, 4.1 };
  WbReportTable *table = wb_report_table_new (N_COLUMNS, heads, aligns, shares);

  for (guint i = 0; i < group->n_cells; i++)
    {
      const WbCraftRanked *ranked = &group->cells[i];
      g_autofree char *rank = g_strdup_printf ("%u", ranked->rank);
      g_autofree char *cell = wb_report_test_dup_cell (test, group, ranked->cell);
      g_autofree char *score = wb_report_dup_value (test->us, WB_UNIT_NONE, ranked->score.value, 2);
      g_autofree char *burnt = g_strdup_printf ("%u / %u", ranked->samples, ranked->burns);
      g_autofree char *why = dup_why (test, ranked, elsewhere, common);
      const char *cells[N_COLUMNS] = { rank, cell, wb_craft_ranked_get_verdict_label (ranked), score, burnt, why };

      wb_report_table_add_row (table, cells, wb_craft_ranked_get_told (ranked) == WB_CRAFT_TOLD_RECOMMENDED);
    }
  wb_report_document_add_table (test->document, table);
}

static gboolean
any_recommended (const WbCraftGroup *group)
{
  for (guint i = 0; i < group->n_cells; i++)
    if (wb_craft_ranked_get_told (&group->cells[i]) == WB_CRAFT_TOLD_RECOMMENDED)
      return TRUE;
  return FALSE;
}

/* What all of them have in common, one thing a line: mostly what the test still lacks. */
static void
add_common (const WbReportTest *test,
            const WbCraftGroup *group,
            GPtrArray          *common,
            gboolean            borrowed)
{
  if (common->len > 0)
    {
      wb_report_test_say (test, "%s", any_recommended (group) ? _("All of them have in common:")
                                                              : _("None is recommended yet. All of them have in common:"));
      wb_report_document_keep_with_next (test->document);
    }
  for (guint i = 0; i < common->len; i++)
    {
      g_autofree char *sentence = wb_report_dup_sentence (g_ptr_array_index (common, i));

      wb_report_test_point (test, "%s", sentence);
    }
  if (borrowed)
    add_borrowed (test, group);
}

static void
add_chart (const WbReportTest *test,
           guint               group)
{
  WbPlotOptions options;

  wb_plot_options_init (&options, test->us);
  options.group = (int) group;
  wb_report_test_add_chart (test, WB_PLOT_SCORE, &options);
}

/* Table, chart, and what goes for all of a group. */
static void
add_group (const WbReportTest *test,
           guint               index,
           const Told         *above)
{
  const WbCraftGroup *group = &test->answer->ranking->groups[index];
  gboolean borrowed = is_borrowed_by_several (group);
  Told elsewhere = { { "not_near_best" }, above->above };
  guint n = 1;
  g_autoptr (GPtrArray) common = NULL;

  if (borrowed)
    elsewhere.codes[n++] = "figure_borrowed";
  elsewhere.codes[n] = above->codes[0];
  common = group->n_cells > 1 ? find_common (group, &elsewhere) : g_ptr_array_new_with_free_func (g_free);
  add_table (test, group, &elsewhere, common);
  if (wb_report_test_wants (test, WB_REPORT_SECTION_SCORE) && group->n_cells > 0 && wb_readings_get_length (test->data->readings) > 0)
    add_chart (test, index);
  add_common (test, group, common, borrowed);
}

/* What holds for all groups, once: above them. */
static void
add_above (const WbReportTest *test,
           const Told         *told)
{
  const WbCraftRanking *ranking = test->answer->ranking;
  WbReportUnread *unread = wb_report_unread_new (told->codes[0]);
  g_autofree char *text = NULL;

  if (told->above->len > 0)
    {
      g_autofree char *sentences = join_sentences (told->above);

      /* Translators: sentences that go for each combination of the report. */
      wb_report_test_say (test, _("Of all combinations: %s"), sentences);
    }
  for (guint i = 0; i < ranking->n_groups; i++)
    {
      g_autofree char *title = wb_report_test_dup_title (test, &ranking->groups[i]);

      for (guint k = 0; k < ranking->groups[i].n_cells; k++)
        wb_report_unread_add (unread, &ranking->groups[i].cells[k], title);
    }
  text = wb_report_unread_free_to_text (unread, ranking->n_groups);
  if (*text != '\0')
    /* Translators: "Hot throw (lower third of all; upper third of Hob, 76 mm)". */
    wb_report_test_say (test, _("Not read in any combination of a vessel and scent, so out of the score there: %s."), text);
}

static void
say_levels (const WbReportTest *test)
{
  g_autofree char *well = wb_number_format (WB_CRAFT_SCORE_WELL, 2, NULL);
  g_autofree char *poor = wb_number_format (WB_CRAFT_SCORE_POOR, 2, NULL);

  /* Translators: two scores. */
  wb_report_test_say (test, _("From %s on a combination is said to do well, below %s to do poorly; these two bounds are this program's own, and no standard sets them."),
                      well, poor);
}

/* What each verdict of the tables below means. */
static void
say_meanings (const WbReportTest *test)
{
  g_autoptr (GPtrArray) meanings = wb_craft_ranking_dup_meanings (test->answer->ranking);

  for (guint i = 0; i < meanings->len; i++)
    {
      g_autofree char *sentence = wb_report_dup_sentence (g_ptr_array_index (meanings, i));

      wb_report_test_point (test, "%s", sentence);
    }
}

void
wb_report_test_add_ranking (const WbReportTest *test)
{
  const WbCraftRanking *ranking = test->answer->ranking;
  Told told = { { NULL }, NULL };
  g_autoptr (GPtrArray) common = NULL;

  wb_report_document_add_heading (test->document, 1, _("Ranking and reasons"));
  wb_report_test_say (test, "%s", _("The score, from 0 to 1, is what the next candle poured to that recipe may expect: 1 is a candle of which nothing is left to wish, "
                                    "and 0 one that fails an aim altogether. A combination that crossed a limit is out, whatever it scores."));
  say_levels (test);
  say_meanings (test);
  if (ranking->n_groups > 0)
    wb_report_document_keep_with_next (test->document);
  if (ranking->n_groups > 1)
    {
      told.codes[0] = "figure_not_read";
      told.above = common = find_common_of_all (ranking, &told);
      add_above (test, &told);
    }
  for (guint i = 0; i < ranking->n_groups; i++)
    {
      g_autofree char *title = wb_report_test_dup_title (test, &ranking->groups[i]);

      wb_report_document_add_heading (test->document, 2, title);
      add_group (test, i, &told);
    }
}
