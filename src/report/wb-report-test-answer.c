/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-test-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* The answer, what was not tested, and the ranking with its reasons. */

void
wb_report_test_add_answers (const WbReportTest *test)
{
  const WbCraftRanking *ranking = test->answer->ranking;

  wb_report_document_add_heading (test->document, 1, _("The answer"));
  if (ranking->n_groups == 0)
    wb_report_test_say (test, "%s", _("There is no answer: nothing was planned or burnt."));
  for (guint i = 0; i < ranking->n_groups; i++)
    {
      const WbCraftGroup *group = &ranking->groups[i];
      g_autofree char *title = wb_craft_group_dup_title (test->answer->data, group);
      g_autofree char *answer = wb_craft_group_dup_answer (test->answer->data, group);
      g_autofree char *sureness = wb_craft_group_dup_sureness (test->answer->data, group);

      wb_report_document_add_answer (test->document, title, answer, sureness);
    }
}

/* Limits that no cell of the experiment tested. */
static guint
add_untested_limits (const WbReportTest *test)
{
  const WbDataset *data = test->answer->data;
  guint n = 0;

  for (guint l = 0; l < test->answer->limits->n_limits; l++)
    {
      const WbLimit *limit = g_ptr_array_index (data->limits, l);
      guint untested = 0;

      for (guint c = 0; c < data->cells->len; c++)
        untested += wb_craft_limits_get (test->answer->limits, c, l)->state == WB_CRAFT_LIMIT_NOT_TESTED;
      if (untested == 0)
        continue;
      n++;
      if (untested == data->cells->len)
        wb_report_test_point (test, _("%s: not tested in any combination."), _(wb_limit_kind_get_label ((WbLimitKind) limit->kind)));
      else
        wb_report_test_point (test, _("%s: not tested in %u of %u combinations."), _(wb_limit_kind_get_label ((WbLimitKind) limit->kind)),
                              untested, data->cells->len);
    }
  return n;
}

void
wb_report_test_add_untested (const WbReportTest *test)
{
  const WbDataset *data = test->answer->data;
  guint unfinished = 0;

  wb_report_document_add_heading (test->document, 1, _("What was not tested"));
  add_untested_limits (test);
  for (guint i = 0; i < test->answer->figures->n_samples; i++)
    unfinished += !test->answer->figures->ended[i] && wb_dataset_get_sample (data, i)->set_aside == NULL;
  if (unfinished > 0)
    wb_report_test_point (test, ngettext ("%u of %u sample was not burnt to the end that the protocol states.",
                                          "%u of %u samples were not burnt to the end that the protocol states.", unfinished),
                          unfinished, data->samples->len);
  wb_report_test_point (test, "%s", _("Stability on a slope, the soot index (it needs a photometer), and any vessel, wax, wick, fragrance, dye "
                                      "or lot other than those named here. A change of any of them asks for another test."));
}

static void
add_ranking_table (const WbReportTest *test,
                   const WbCraftGroup *group)
{
  const char *heads[] = { _("Rank"), _("Wick"), _("Score"), _("Best"), _("Near the best"), _("Crosses a limit"), _("Samples"), _("Burns"), _("Verdict") };
  static const WbReportAlign aligns[] = { WB_REPORT_RIGHT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_RIGHT, WB_REPORT_RIGHT,
                                          WB_REPORT_RIGHT, WB_REPORT_RIGHT, WB_REPORT_RIGHT, WB_REPORT_LEFT };
  static const double shares[] = { 0, 1, 1.4, 0.9, 0.9, 0.9, 0, 0, 1.1 };
  WbReportTable *table = wb_report_table_new (G_N_ELEMENTS (heads), heads, aligns, shares);

  for (guint i = 0; i < group->n_cells; i++)
    {
      const WbCraftRanked *ranked = &group->cells[i];
      g_autofree char *rank = g_strdup_printf ("%u", ranked->rank);
      g_autofree char *wick = wb_report_test_dup_cell (test, group, ranked->cell);
      g_autofree char *score = wb_report_test_dup_interval (test, WB_UNIT_NONE, ranked->score, 2);
      g_autofree char *best = wb_report_test_dup_chance (ranked->p_best);
      g_autofree char *near = wb_report_test_dup_chance (ranked->p_near);
      g_autofree char *cross = wb_report_test_dup_chance (ranked->p_cross);
      g_autofree char *samples = g_strdup_printf ("%u", ranked->samples);
      g_autofree char *burns = g_strdup_printf ("%u", ranked->burns);
      const char *cells[] = { rank, wick, score, best, near, cross, samples, burns, wb_craft_verdict_get_label (ranked->verdict) };

      wb_report_table_add_row (table, cells, i == 0 && ranked->verdict == WB_CRAFT_VERDICT_RECOMMENDED);
    }
  wb_report_document_add_table (test->document, table);
}

static void
add_reasons (const WbReportTest *test,
             const WbCraftGroup *group)
{
  for (guint i = 0; i < group->n_cells; i++)
    {
      const WbCraftRanked *ranked = &group->cells[i];
      g_autofree char *wick = wb_report_test_dup_cell (test, group, ranked->cell);
      g_autoptr (GString) text = g_string_new (NULL);

      for (guint k = 0; k < ranked->reasons->len; k++)
        g_string_append_printf (text, "%s%s", k > 0 ? " " : "", ((const WbCraftReason *) g_ptr_array_index (ranked->reasons, k))->text);
      if (text->len > 0)
        wb_report_test_point (test, _("%s, %s: %s"), wick, wb_craft_verdict_get_label (ranked->verdict), text->str);
    }
}

void
wb_report_test_add_ranking (const WbReportTest *test)
{
  const WbCraftRanking *ranking = test->answer->ranking;

  wb_report_document_add_heading (test->document, 1, _("Ranking and reasons"));
  wb_report_test_say (test, "%s", _("The score is what the next candle poured to that recipe may expect, from 0 to 1, with its 90 % interval. "
                                    "“Best” is the chance that the recipe would score highest over many candles, “near the best” that it would be within 0.05 of it, "
                                    "“crosses a limit” that the next candle would pass a limit in its burns."));
  for (guint i = 0; i < ranking->n_groups; i++)
    {
      const WbCraftGroup *group = &ranking->groups[i];
      g_autofree char *title = wb_craft_group_dup_title (test->answer->data, group);

      if (ranking->n_groups > 1)
        wb_report_document_add_heading (test->document, 2, title);
      add_ranking_table (test, group);
      add_reasons (test, group);
    }
}
