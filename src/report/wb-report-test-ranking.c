/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-test-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Ranking, verdicts and the reasons for them. */

static void
add_table (const WbReportTest *test,
           const WbCraftGroup *group)
{
  const char *heads[] = { _("Rank"), _("Combination"), _("Score (90 % interval)"), _("Is the best"), _("Within 0.05 of the best"),
                          _("Crosses a limit"), _("Samples / burns"), _("Verdict") };
  static const WbReportAlign aligns[] = { WB_REPORT_RIGHT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_RIGHT, WB_REPORT_RIGHT,
                                          WB_REPORT_RIGHT, WB_REPORT_RIGHT, WB_REPORT_LEFT };
  static const double shares[] = { 0, 1.7, 1.9, 0.8, 1.15, 0.95, 1, 1.6 };
  WbReportTable *table = wb_report_table_new (G_N_ELEMENTS (heads), heads, aligns, shares);

  for (guint i = 0; i < group->n_cells; i++)
    {
      const WbCraftRanked *ranked = &group->cells[i];
      g_autofree char *rank = g_strdup_printf ("%u", ranked->rank);
      g_autofree char *cell = wb_report_test_dup_cell (test, group, ranked->cell);
      g_autofree char *score = wb_report_dup_interval (test->us, WB_UNIT_NONE, ranked->score, 2, " ");
      gboolean scored = isfinite (ranked->score.value);
      g_autofree char *best = wb_report_dup_chance (scored ? ranked->p_best : NAN);
      g_autofree char *near_best = wb_report_dup_chance (scored ? ranked->p_near : NAN);
      g_autofree char *cross = wb_report_dup_chance (scored ? ranked->p_cross : NAN);
      g_autofree char *burnt = g_strdup_printf ("%u / %u", ranked->samples, ranked->burns);
      const char *cells[] = { rank, cell, score, best, near_best, cross, burnt, wb_craft_verdict_get_label (ranked->verdict) };

      wb_report_table_add_row (table, cells, ranked->verdict == WB_CRAFT_VERDICT_RECOMMENDED);
    }
  wb_report_document_add_table (test->document, table);
}

/* ---- Reasons ---- */

/* What was crossed is told in the reader's units, limit by limit. */
static gboolean
is_crossing (const WbCraftReason *reason)
{
  return g_str_equal (reason->code, "limit_crossed") || g_str_equal (reason->code, "set_aside_crossed");
}

/* The reasons of each cell of a group but the crossings, as sentences. */
static GPtrArray *
tell_reasons (const WbCraftRanked *ranked)
{
  g_autoptr (GPtrArray) all = wb_craft_ranked_dup_sentences (ranked);
  GPtrArray *told = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < all->len; i++)
    {
      const char *sentence = g_ptr_array_index (all, i);
      gboolean crossing = FALSE;

      for (guint k = 0; k < ranked->reasons->len && !crossing; k++)
        {
          const WbCraftReason *reason = g_ptr_array_index (ranked->reasons, k);

          crossing = is_crossing (reason) && g_str_equal (reason->text, sentence);
        }
      if (!crossing)
        g_ptr_array_add (told, g_strdup (sentence));
    }
  return told;
}

static gboolean
holds (GPtrArray  *sentences,
       const char *sentence)
{
  return g_ptr_array_find_with_equal_func (sentences, sentence, g_str_equal, NULL);
}

/* What every cell of the group says: told once. */
static GPtrArray *
find_common (const WbCraftGroup *group)
{
  GPtrArray *common = group->n_cells > 1 ? tell_reasons (&group->cells[0]) : g_ptr_array_new_with_free_func (g_free);

  for (guint i = 1; i < group->n_cells; i++)
    {
      g_autoptr (GPtrArray) told = tell_reasons (&group->cells[i]);

      for (guint k = common->len; k > 0; k--)
        if (!holds (told, g_ptr_array_index (common, k - 1)))
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

static void
add_reasons (const WbReportTest *test,
             const WbCraftGroup *group)
{
  g_autoptr (GPtrArray) common = find_common (group);

  for (guint i = 0; i < group->n_cells; i++)
    {
      const WbCraftRanked *ranked = &group->cells[i];
      g_autofree char *cell = wb_report_test_dup_cell (test, group, ranked->cell);
      g_autoptr (GPtrArray) told = tell_reasons (ranked);
      g_autoptr (GString) text = g_string_new (NULL);

      append_crossings (test, ranked, text);
      for (guint k = 0; k < told->len; k++)
        if (!holds (common, g_ptr_array_index (told, k)))
          append_sentence (text, g_ptr_array_index (told, k));
      if (text->len > 0)
        /* Translators: a combination; its verdict; the reasons for it. */
        wb_report_test_point (test, _("%s, %s: %s"), cell, wb_craft_verdict_get_label (ranked->verdict), text->str);
    }
  if (common->len > 0)
    {
      g_autoptr (GString) text = g_string_new (NULL);

      for (guint i = 0; i < common->len; i++)
        append_sentence (text, g_ptr_array_index (common, i));
      wb_report_test_point (test, _("All of them: %s"), text->str);
    }
}

/* How far the weights may move: other makers ask for other things. */
static void
add_weights (const WbReportTest *test,
             const WbCraftGroup *group)
{
  g_autoptr (GPtrArray) sentences = wb_craft_group_dup_weights (test->data, group);
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i < sentences->len; i++)
    append_sentence (text, g_ptr_array_index (sentences, i));
  if (text->len > 0)
    wb_report_test_point (test, _("If the weights were others: %s"), text->str);
}

static void
add_chart (const WbReportTest *test,
           guint               group)
{
  WbPlotOptions options;
  g_autoptr (WbChart) chart = NULL;

  wb_plot_options_init (&options, test->us);
  options.group = (int) group;
  chart = wb_plot_new (WB_PLOT_SCORE, test->answer, &options, NULL);
  if (chart != NULL)
    wb_report_document_add_chart (test->document, chart, 100.0 + 18.0 * MAX (test->answer->ranking->groups[group].n_cells, 2));
}

void
wb_report_test_add_ranking (const WbReportTest *test)
{
  const WbCraftRanking *ranking = test->answer->ranking;

  wb_report_document_add_heading (test->document, 1, _("Ranking and reasons"));
  wb_report_test_say (test, "%s", _("The score, from 0 to 1, is what the next candle poured to that recipe may expect. The three chances compare recipes: "
                                    "that it is the best of them, that it is within 0.05 of the best, and that its next candle crosses a limit in its burns."));
  if (ranking->n_groups > 0)
    wb_report_document_keep_with_next (test->document);
  for (guint i = 0; i < ranking->n_groups; i++)
    {
      const WbCraftGroup *group = &ranking->groups[i];
      g_autofree char *title = wb_report_test_dup_title (test, group);

      wb_report_document_add_heading (test->document, 2, title);
      add_table (test, group);
      if (group->n_cells > 0 && wb_readings_get_length (test->data->readings) > 0)
        add_chart (test, i);
      add_reasons (test, group);
      add_weights (test, group);
    }
}
