/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-test-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* The order of the report, and its words for values. */

static WbUnit
reader_unit (const WbReportTest *test,
             WbUnit              stored)
{
  WbPlotOptions units;

  if (stored == WB_UNIT_HOUR || stored == WB_UNIT_NONE)
    return stored;
  wb_plot_options_init (&units, test->options->us_units);
  return units.units[wb_unit_get_quantity (stored)];
}

/* The unit in which a figure is stored, or hours, which no quantity stores. */
static double
in_unit (WbUnit shown,
         WbUnit stored,
         double value)
{
  return shown == stored ? value : wb_unit_from_stored (shown, wb_unit_to_stored (stored, value));
}

static char *
format (WbUnit shown,
        WbUnit stored,
        double value,
        int    decimals,
        gboolean with_unit)
{
  g_autofree char *number = wb_number_format (in_unit (shown, stored, value), decimals < 0 ? wb_unit_get_decimals (shown) : decimals, NULL);
  const char *symbol = wb_unit_get_symbol (shown);

  if (!with_unit || *symbol == '\0')
    return g_steal_pointer (&number);
  return g_strdup_printf ("%s\u00a0%s", number, symbol);
}

char *
wb_report_test_dup_value (const WbReportTest *test,
                          WbUnit              stored,
                          double              value,
                          int                 decimals)
{
  return isfinite (value) ? format (reader_unit (test, stored), stored, value, decimals, TRUE) : g_strdup ("–");
}

char *
wb_report_test_dup_interval (const WbReportTest *test,
                             WbUnit              stored,
                             WbCraftInterval     interval,
                             int                 decimals)
{
  WbUnit shown = reader_unit (test, stored);
  g_autofree char *value = wb_report_test_dup_value (test, stored, interval.value, decimals);
  g_autofree char *low = isfinite (interval.low) ? format (shown, stored, interval.low, decimals, FALSE) : NULL;
  g_autofree char *high = isfinite (interval.high) ? format (shown, stored, interval.high, decimals, FALSE) : NULL;

  if (!isfinite (interval.value) && low != NULL)
    return g_strdup_printf (_("at least %s"), low);
  if (!isfinite (interval.value) || (low == NULL && high == NULL))
    return g_steal_pointer (&value);
  if (high == NULL)
    return g_strdup_printf (_("%s (%s or more)"), value, low);
  if (low == NULL)
    return g_strdup_printf (_("%s (%s or less)"), value, high);
  return g_strdup_printf (_("%s (%s to %s)"), value, low, high);
}

char *
wb_report_test_dup_chance (double chance)
{
  g_autofree char *number = NULL;

  if (!isfinite (chance))
    return g_strdup ("–");
  if (chance > 0 && chance < 0.01)
    return g_strdup (_("below 1 in 100"));
  if (chance < 1 && chance > 0.99)
    return g_strdup (_("above 99 in 100"));
  number = wb_number_format (chance * 100, 0, NULL);
  return g_strdup_printf (_("%s in 100"), number);
}

char *
wb_report_test_dup_cell (const WbReportTest *test,
                         const WbCraftGroup *group,
                         guint               cell)
{
  if (group != NULL && group->by_vessel && group->by_scent)
    return wb_dataset_dup_wick_name (test->answer->data, cell);
  return wb_dataset_dup_cell_name (test->answer->data, cell);
}

void
wb_report_test_say (const WbReportTest *test,
                    const char         *text,
                    ...)
{
  g_autofree char *said = NULL;
  va_list arguments;

  va_start (arguments, text);
  said = g_strdup_vprintf (text, arguments);
  va_end (arguments);
  wb_report_document_add_paragraph (test->document, WB_REPORT_TEXT_BODY, said);
}

void
wb_report_test_point (const WbReportTest *test,
                      const char         *text,
                      ...)
{
  g_autofree char *said = NULL;
  va_list arguments;

  va_start (arguments, text);
  said = g_strdup_vprintf (text, arguments);
  va_end (arguments);
  wb_report_document_add_point (test->document, said);
}

static void
add_head (const WbReportTest *test)
{
  const WbExperiment *experiment = test->answer->data->experiment;
  g_autofree char *day = test->options->date != NULL ? g_strdup (test->options->date) : wb_instant_format_date (wb_report_now ());
  g_autofree char *below = g_strdup_printf (_("Burn test %s · report of %s"), experiment->code, day);

  wb_report_document_add_title (test->document, experiment->title, below);
  if (experiment->question != NULL)
    wb_report_document_add_paragraph (test->document, WB_REPORT_TEXT_BODY, experiment->question);
}

static void
set_frame (const WbReportTest *test)
{
  const WbReportOptions *options = test->options;
  g_autofree char *foot = options->fingerprint != NULL
                            ? g_strdup_printf (_("A maker's own test, not a certification. Record %s"), options->fingerprint)
                            : g_strdup (_("A maker's own test, not a certification."));

  wb_report_document_set_letterhead (test->document, options->letterhead, options->address);
  wb_report_document_set_foot (test->document, foot);
  wb_report_document_set_mark (test->document, options->invented ? _("Invented data") : NULL);
}

WbReportDocument *
wb_report_test_new (const WbCraftAnswer   *answer,
                    const WbReportOptions *options)
{
  g_autofree char *title = NULL;
  WbReportTest test = { .answer = answer, .options = options };

  g_return_val_if_fail (answer != NULL && options != NULL, NULL);

  title = g_strdup_printf (_("Burn test %s: %s"), answer->data->experiment->code, answer->data->experiment->title);
  test.document = wb_report_document_new (options->paper, title, answer->data->experiment->question, options->letterhead);
  set_frame (&test);
  add_head (&test);
  wb_report_test_add_answers (&test);
  wb_report_test_add_untested (&test);
  wb_report_test_add_method (&test);
  wb_report_test_add_ranking (&test);
  wb_report_test_add_charts (&test);
  wb_report_test_add_limits (&test);
  wb_report_test_add_conditions (&test);
  wb_report_test_add_cautions (&test);
  wb_report_test_add_figures (&test);
  return test.document;
}
