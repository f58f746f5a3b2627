/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-test-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Charts, limits and the figures of every combination. */

#define LEADING 3

static void
add_chart (const WbReportTest *test,
           WbPlotKind          kind,
           WbPlotOptions      *options)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbChart) chart = wb_plot_new (kind, test->answer, options, &error);
  double width, height;

  if (chart == NULL)
    {
      wb_report_test_say (test, "%s", error->message);
      return;
    }
  wb_report_document_get_size (test->document, &width, &height);
  wb_report_document_add_chart (test->document, chart, MIN (wb_plot_get_height (kind, chart, width - 112), height * 0.6));
}

void
wb_report_test_add_charts (const WbReportTest *test)
{
  const WbCraftRanking *ranking = test->answer->ranking;

  wb_report_document_add_heading (test->document, 1, _("The burns in pictures"));
  for (guint i = 0; i < ranking->n_groups; i++)
    {
      const WbCraftGroup *group = &ranking->groups[i];
      g_autofree char *title = wb_craft_group_dup_title (test->answer->data, group);
      WbPlotOptions options;
      guint cells[LEADING];

      wb_plot_options_init (&options, test->options->us_units);
      options.group = (int) i;
      options.cells = cells;
      options.n_cells = MIN (group->n_cells, LEADING);
      for (guint k = 0; k < options.n_cells; k++)
        cells[k] = group->cells[k].cell;
      if (ranking->n_groups > 1)
        wb_report_document_add_heading (test->document, 2, title);
      add_chart (test, WB_PLOT_GROWTH, &options);
      add_chart (test, WB_PLOT_LIFE, &options);
      add_chart (test, WB_PLOT_RINGS, &options);
      options.cells = NULL;
      options.n_cells = 0;
      add_chart (test, WB_PLOT_SCORE, &options);
    }
}

/* ---- Limits ---- */

static char *
dup_bound (const WbReportTest *test,
           const WbLimit      *limit)
{
  if (limit->stop_at <= 0)
    return g_strdup (_("none"));
  return wb_report_test_dup_value (test, wb_limit_kind_get_unit ((WbLimitKind) limit->kind), limit->stop_at, 0);
}

static char *
dup_worst (const WbReportTest *test,
           guint               limit,
           const WbCraftLimit *highest)
{
  const WbDataset *data = test->answer->data;
  const WbLimit *of = g_ptr_array_index (data->limits, limit);
  g_autofree char *value = wb_report_test_dup_value (test, wb_limit_kind_get_unit ((WbLimitKind) of->kind), highest->worst, 0);

  return g_strdup_printf (_("%s, sample %s"), value, wb_dataset_get_sample (data, highest->sample)->code);
}

/* In how many combinations a limit ended in each way, and the worst that was read. */
static char *
dup_outcome (const WbReportTest *test,
             guint               limit,
             char              **worst)
{
  const WbDataset *data = test->answer->data;
  const WbCraftLimit *highest = NULL;
  g_autoptr (GString) text = g_string_new (NULL);
  guint counts[WB_CRAFT_LIMIT_OFF + 1] = { 0 };

  for (guint c = 0; c < data->cells->len; c++)
    {
      const WbCraftLimit *of = wb_craft_limits_get (test->answer->limits, c, limit);

      counts[of->state]++;
      if (isfinite (of->worst) && (highest == NULL || of->worst > highest->worst))
        highest = of;
    }
  for (guint state = 0; state <= WB_CRAFT_LIMIT_OFF; state++)
    if (counts[state] > 0)
      g_string_append_printf (text, "%s%s: %u", text->len > 0 ? ", " : "", wb_craft_limit_state_get_label ((WbCraftLimitState) state), counts[state]);
  *worst = highest == NULL || highest->sample >= data->samples->len ? g_strdup ("–") : dup_worst (test, limit, highest);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

void
wb_report_test_add_limits (const WbReportTest *test)
{
  const WbDataset *data = test->answer->data;
  const char *heads[] = { _("Limit"), _("Bound"), _("Combinations"), _("Worst reading"), _("Source") };
  static const WbReportAlign aligns[] = { WB_REPORT_LEFT, WB_REPORT_RIGHT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT };
  static const double shares[] = { 1.3, 0, 1.1, 1, 2.6 };
  WbReportTable *table;

  wb_report_document_add_heading (test->document, 1, _("Limits"));
  wb_report_test_say (test, "%s", _("A limit judges the worst reading of the worst sample, in every third of the candle; it is never averaged away. "
                                    "“Not tested” means that nothing was read that could have shown a crossing."));
  table = wb_report_table_new (G_N_ELEMENTS (heads), heads, aligns, shares);
  for (guint l = 0; l < data->limits->len; l++)
    {
      const WbLimit *limit = g_ptr_array_index (data->limits, l);
      g_autofree char *bound = dup_bound (test, limit);
      g_autofree char *worst = NULL;
      g_autofree char *outcome = dup_outcome (test, l, &worst);
      g_autofree char *source = limit->off ? g_strdup_printf (_("Switched off: %s"), limit->off_reason != NULL ? limit->off_reason : "") : g_strdup (limit->source);
      const char *cells[] = { _(wb_limit_kind_get_label ((WbLimitKind) limit->kind)), bound, outcome, worst, source };

      wb_report_table_add_row (table, cells, FALSE);
    }
  wb_report_document_add_table (test->document, table);
  for (guint c = 0; c < data->cells->len; c++)
    for (guint l = 0; l < data->limits->len; l++)
      {
        const WbCraftLimit *limit = wb_craft_limits_get (test->answer->limits, c, l);
        g_autofree char *text = NULL;
        g_autofree char *cell = NULL;

        if (limit->state != WB_CRAFT_LIMIT_CROSSED)
          continue;
        text = wb_craft_limit_dup_text (data, limit);
        cell = wb_dataset_dup_cell_name (data, c);
        wb_report_test_point (test, _("Crossed, %s: %s"), cell, text);
      }
}

/* ---- Figures ---- */

static void
add_figure_row (const WbReportTest *test,
                WbReportTable      *table,
                const WbCraftCell  *cell)
{
  const WbCraftGrowth *growth = &cell->growth;
  g_autofree char *name = wb_dataset_dup_cell_name (test->answer->data, cell->cell);
  g_autofree char *n = g_strdup_printf ("%u / %u", cell->samples, cell->burns);
  g_autofree char *limit = wb_report_test_dup_interval (test, WB_UNIT_MM, growth->pool_limit_mm, -1);
  g_autofree char *full = growth->p_never > 0.5 ? g_strdup (_("never")) : wb_report_test_dup_interval (test, WB_UNIT_HOUR, growth->full_pool_h, 1);
  g_autofree char *depth = wb_report_test_dup_interval (test, WB_UNIT_MM, cell->figure[WB_FIGURE_DEPTH].told, -1);
  g_autofree char *flame = wb_report_test_dup_interval (test, WB_UNIT_MM, cell->figure[WB_FIGURE_FLAME].told, -1);
  g_autofree char *vessel = wb_report_test_dup_interval (test, WB_UNIT_CELSIUS, cell->figure[WB_FIGURE_VESSEL].told, 0);
  g_autofree char *consumption = wb_report_test_dup_interval (test, WB_UNIT_G_PER_H, cell->figure[WB_FIGURE_CONSUMPTION].told, 2);
  const char *cells[] = { name, n, limit, full, depth, flame, vessel, consumption };

  wb_report_table_add_row (table, cells, FALSE);
}

void
wb_report_test_add_figures (const WbReportTest *test)
{
  const WbCraftEstimates *estimates = test->answer->estimates;
  const char *heads[] = { _("Combination"), _("Samples / burns"), _("Pool limit"), _("Full melt pool"), _("Depth"), _("Flame"), _("Vessel"), _("Consumption") };
  static const WbReportAlign aligns[] = { WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT };
  static const double shares[] = { 1.6, 0.8, 1, 1, 1, 1, 1, 1 };
  WbReportTable *table;
  g_autofree char *seed = NULL;
  g_autofree char *draws = NULL;

  wb_report_document_add_heading (test->document, 1, _("Appendix: the figures and the method"));
  table = wb_report_table_new (G_N_ELEMENTS (heads), heads, aligns, shares);
  for (guint i = 0; i < estimates->n_cells; i++)
    add_figure_row (test, table, &estimates->cells[i]);
  wb_report_document_add_table (test->document, table);
  seed = g_strdup_printf ("%" G_GUINT64_FORMAT, test->answer->ranking->seed);
  draws = g_strdup_printf ("%u", test->answer->ranking->draws);
  wb_report_test_say (test, "%s", _("Each figure is the combination's mean over the standard burns read, at the end of the burn, with its 90 % interval. "
                                    "“Pool limit” is the diameter towards which the melt pool grows by D(t) = D∞ (1 − exp(−t/τ)); readings at the wall count as “at least”, "
                                    "by a likelihood with censoring, and the spread between samples and burns is pooled over the experiment."));
  wb_report_test_say (test, _("The score joins the aims of the profile as desirabilities after Derringer and Suich (1980), as a weighted geometric mean, judged by thirds of the candle. "
                              "Chances come from %s draws with the seed %s."), draws, seed);
}
