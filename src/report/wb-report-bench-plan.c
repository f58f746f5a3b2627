/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-bench-plan.h"

#include <glib/gi18n-lib.h>

#include "wb-report-bench-top-private.h"
#include "wb-report-cautions-private.h"
#include "wb-report-options-private.h"
#include "wb-report-words-private.h"
#include "wb-weekday.h"

#define TICK "☐"
/* Points: a line to write a date on. */
#define BOX 18.0

static void
add_problems (WbReportDocument        *document,
              const WbReportBenchPlan *plan)
{
  for (guint i = 0; plan->problems != NULL && plan->problems[i] != NULL; i++)
    wb_report_document_add_paragraph (document, WB_REPORT_TEXT_STRONG, plan->problems[i]);
}

static void
add_bench (WbReportDocument        *document,
           const WbReportBenchPlan *plan)
{
  g_autofree char *day = NULL, *words = NULL;

  if (plan->places == 0)
    return;
  day = wb_day_format_of_week (plan->at_day, NULL);
  if (plan->at != NULL)
    words = g_strdup_printf (_("Places for the evening of %s, shuffled for that session. Light them in this plan's order; the bench shows the same places."), day);
  else
    words = g_strdup (_("Write each code into its place. Shuffle the places from evening to evening, so that no combination always stands in the same draught."));
  wb_report_document_add_heading (document, 1, _("The bench from above"));
  wb_report_document_add_paragraph (document, WB_REPORT_TEXT_BODY, words);
  wb_report_document_keep_with_next (document);
  wb_report_bench_top_add (document, plan->places, plan->columns, plan->at);
}

static gboolean
is_any_to_fill (const WbReportBenchPlan *plan)
{
  for (guint i = 0; i < plan->n_evenings; i++)
    if (plan->evenings[i].day == WB_DAY_NONE)
      return TRUE;
  return FALSE;
}

static void
add_evening (WbReportTable                  *table,
             const WbReportBenchPlan        *plan,
             const WbReportBenchPlanEvening *evening)
{
  const WbReportBenchPlanCohort *cohort = &plan->cohorts[evening->cohort];
  g_autofree char *day = evening->day != WB_DAY_NONE ? wb_day_format_of_week (evening->day, NULL) : NULL;
  g_autofree char *time = evening->begins.known ? wb_instant_format_time (evening->begins) : NULL;
  g_autofree char *burn = g_strdup_printf ("%u", evening->burn);
  g_autofree char *samples = g_strdup_printf ("%u", cohort->n_samples);
  /* Translators: places taken on the bench, of how many. */
  g_autofree char *taken = evening->taken > 0 ? g_strdup_printf (_("%u of %u"), evening->taken, plan->places) : NULL;
  const char *cells[] = { day, time, burn, cohort->name != NULL ? cohort->name : _("all"), samples, taken, TICK };

  wb_report_table_add_row (table, cells, FALSE);
}

static void
add_evenings (WbReportDocument        *document,
              const WbReportBenchPlan *plan)
{
  const char *heads[] = { _("Evening"), _("Begins"), _("Burn"), _("Cohort"), _("Samples"), _("Places taken"), _("Done") };
  static const WbReportAlign aligns[] = { WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_RIGHT, WB_REPORT_LEFT, WB_REPORT_RIGHT, WB_REPORT_RIGHT, WB_REPORT_CENTRE };
  static const double shares[] = { 1.5, 1, 0.7, 1.5, 0.9, 1.2, 0.7 };
  WbReportTable *table = wb_report_table_new (G_N_ELEMENTS (heads), heads, aligns, shares);
  gboolean to_fill = is_any_to_fill (plan);

  wb_report_document_add_heading (document, 1, _("Evenings"));
  wb_report_document_add_paragraph (document, WB_REPORT_TEXT_BODY,
                                    to_fill ? _("Write the dates in. A burn comes after the cure or the cooling, one an evening; somebody stays with the flames until no wick glows.")
                                            : _("Planned from the days of the week and the places of the bench; how many burns are left is foretold from what was weighed. "
                                                "Somebody stays with the flames until no wick glows."));
  wb_report_document_keep_with_next (document);
  if (to_fill)
    wb_report_table_set_boxes (table, BOX);
  for (guint i = 0; i < plan->n_evenings; i++)
    add_evening (table, plan, &plan->evenings[i]);
  wb_report_document_add_table (document, table);
}

static void
add_cohorts (WbReportDocument        *document,
             const WbReportBenchPlan *plan)
{
  const char *heads[] = { _("Sample"), _("Combination") };
  static const WbReportAlign aligns[] = { WB_REPORT_LEFT, WB_REPORT_LEFT };
  static const double shares[] = { 1, 5 };
  WbReportTable *table = wb_report_table_new (G_N_ELEMENTS (heads), heads, aligns, shares);

  for (guint i = 0; i < plan->n_cohorts; i++)
    {
      const WbReportBenchPlanCohort *cohort = &plan->cohorts[i];

      if (cohort->name != NULL)
        wb_report_table_add_band (table, cohort->name);
      for (guint k = 0; k < cohort->n_samples; k++)
        {
          const char *cells[] = { cohort->samples[k].code, cohort->samples[k].cell };

          wb_report_table_add_row (table, cells, FALSE);
        }
    }
  wb_report_document_add_heading (document, 1, plan->n_cohorts > 1 ? _("Samples by cohort") : _("Samples"));
  if (plan->n_cohorts > 1)
    {
      wb_report_document_add_paragraph (document, WB_REPORT_TEXT_BODY,
                                        _("Samples of a cohort burn on the same evenings through their whole lives, so that like burns are compared."));
      wb_report_document_keep_with_next (document);
    }
  wb_report_document_add_table (document, table);
}

WbReportDocument *
wb_report_bench_plan_new (const WbReportBenchPlan *plan,
                          const WbReportOptions   *options)
{
  WbReportDocument *document;
  g_autofree char *below = NULL, *day = NULL;

  g_return_val_if_fail (plan != NULL && plan->experiment != NULL && options != NULL, NULL);

  day = wb_report_options_dup_day (options);
  /* Translators: experiment; day on which the sheet was made. */
  below = g_strdup_printf (_("%s · printed %s"), plan->experiment, day);
  document = wb_report_options_begin (options, _("Plan of the bench"), plan->experiment, _("Local codes take precedence."));
  wb_report_document_add_title (document, _("Plan of the bench"), below);
  add_problems (document, plan);
  wb_report_cautions_add_check (document);
  add_bench (document, plan);
  if (plan->n_evenings > 0)
    add_evenings (document, plan);
  add_cohorts (document, plan);
  return document;
}
