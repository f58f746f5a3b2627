/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-test-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-told.h"
#include "wb-plot-loss.h"

/* The appendix's part of the ranking: intervals and chances, and how far the weights may move. */

/* "crossed; 12 %" under one another: the column is narrow. */
static char *
dup_stacked (const char *told)
{
  g_auto (GStrv) parts = g_strsplit (told, "; ", -1);

  return g_strjoinv ("\n", parts);
}

static void
add_table (const WbReportTest *test,
           const WbCraftGroup *group)
{
  const char *heads[] = { _("Rank"), _("Combination"), /* xgettext:no-c-format */ _("Score (90 % interval)"), _("Is the best"), _("Within 0.05 of the best"),
                          _("Crosses a limit"), _("Score given away (over, 1 in 20)"), _("Verdict") };
  static const WbReportAlign aligns[] = { WB_REPORT_RIGHT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_RIGHT, WB_REPORT_RIGHT,
                                          WB_REPORT_RIGHT, WB_REPORT_RIGHT, WB_REPORT_LEFT };
  static const double shares[] = { 0, 1.3, 2.05, 0.85, 1.2, 1.45, 1.4, 1.5 };
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
      gboolean chanced = scored && isfinite (ranked->p_cross);
      g_autofree char *chance = chanced ? wb_report_dup_chance (ranked->p_cross) : NULL;
      g_autofree char *joined = wb_craft_ranked_dup_crossing (ranked, chance);
      g_autofree char *told = joined != NULL ? dup_stacked (joined) : NULL;
      g_autofree char *cross = told != NULL ? g_steal_pointer (&told) : wb_report_dup_chance (NAN);
      g_autofree char *loss = wb_plot_loss_dup_figures (group, ranked);
      const char *cells[] = { rank, cell, score, best, near_best, cross, loss != NULL ? loss : WB_REPORT_NONE, wb_craft_ranked_get_verdict_label (ranked) };

      wb_report_table_add_row (table, cells, wb_craft_ranked_get_told (ranked) == WB_CRAFT_TOLD_RECOMMENDED);
    }
  wb_report_document_add_table (test->document, table);
}

/* A verdict's chances, and the words of the rule that it did not meet. */
static void
add_chances (const WbReportTest *test,
             const WbCraftGroup *group)
{
  for (guint i = 0; i < group->n_cells; i++)
    {
      g_autofree char *cell = wb_report_test_dup_cell (test, group, group->cells[i].cell);

      for (guint k = 0; k < group->cells[i].reasons->len; k++)
        {
          const WbCraftReason *reason = g_ptr_array_index (group->cells[i].reasons, k);

          if (g_str_equal (reason->code, "not_near_best"))
            /* Translators: a combination; a sentence. */
            wb_report_test_point (test, _("%s: %s"), cell, reason->text);
        }
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
    {
      g_autofree char *capital = wb_report_dup_sentence (g_ptr_array_index (sentences, i));

      g_string_append_printf (text, "%s%s", i > 0 ? " " : "", capital);
    }
  if (text->len > 0)
    wb_report_test_point (test, _("If the weights were others: %s"), text->str);
}

/* One picture of all where they fit into it, else one of each group. */
static void
add_loss (const WbReportTest *test)
{
  const WbCraftRanking *ranking = test->answer->ranking;
  guint n_rows = 0;
  WbPlotOptions options;

  if (!wb_report_test_wants (test, WB_REPORT_SECTION_LOSS) || wb_readings_get_length (test->data->readings) == 0)
    return;
  for (guint i = 0; i < ranking->n_groups; i++)
    n_rows += ranking->groups[i].n_cells;
  wb_report_document_add_heading (test->document, 2, _("What a wrong choice costs"));
  wb_plot_options_init (&options, test->us);
  if (n_rows <= WB_PLOT_LOSS_MOST_ROWS)
    wb_report_test_add_chart (test, WB_PLOT_LOSS, &options);
  else
    for (guint i = 0; i < ranking->n_groups; i++)
      {
        options.group = (int) i;
        wb_report_test_add_chart (test, WB_PLOT_LOSS, &options);
      }
}

void
wb_report_test_add_numbers (const WbReportTest *test)
{
  const WbCraftRanking *ranking = test->answer->ranking;

  if (ranking->n_groups == 0)
    return;
  wb_report_document_add_heading (test->document, 2, _("The ranking in numbers"));
  wb_report_test_say (test, "%s %s", _("The three chances compare recipes: that it is the best of them, that it is within 0.05 of the best, "
                                    "and that its next candle crosses a limit in its burns."),
                      _("Given away is the score that choosing it would cost against the best: on average, and in brackets what is passed in one case of 20 only."));
  wb_report_document_keep_with_next (test->document);
  for (guint i = 0; i < ranking->n_groups; i++)
    {
      const WbCraftGroup *group = &ranking->groups[i];
      g_autofree char *title = wb_report_test_dup_title (test, group);

      if (ranking->n_groups > 1)
        {
          wb_report_document_add_paragraph (test->document, WB_REPORT_TEXT_STRONG, title);
          wb_report_document_keep_with_next (test->document);
        }
      add_table (test, group);
      add_chances (test, group);
      add_weights (test, group);
    }
  add_loss (test);
}
