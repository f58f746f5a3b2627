/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-test-private.h"

#include "wb-craft-check-burn.h"

#include <glib/gi18n-lib.h>

/* Check burns beside what was approved. */

enum { FIGURE, FOUND, N_COLUMNS };

static void
add_check (const WbReportTest     *test,
           const WbCraftCheckBurn *check)
{
  static const WbReportAlign aligns[N_COLUMNS] = { WB_REPORT_LEFT };
  static const double shares[N_COLUMNS] = { 1, 3 };
  const char *heads[N_COLUMNS] = { _("Figure"), _("Against what was approved") };
  g_autofree char *code = wb_report_test_dup_code (test, check->sample);
  g_autofree char *text = wb_craft_check_burn_dup_text (check, test->us);
  WbReportTable *table;

  /* Translators: the number of a burn, the code of a sample, a sentence */
  wb_report_test_say (test, _("Burn %d of sample %s, in the %s. %s"), check->number, code, _(wb_stage_get_label (check->stage)), text);
  if (check->approved == NULL)
    return;
  table = wb_report_table_new (N_COLUMNS, heads, aligns, shares);
  for (int i = 0; i < WB_CRAFT_N_CHECKS; i++)
    {
      g_autofree char *found = wb_craft_check_dup_text ((WbCraftCheckFigure) i, &check->checks[i], test->us);
      const char *cells[N_COLUMNS] = { wb_craft_check_get_label ((WbCraftCheckFigure) i), found };

      if (found != NULL)
        wb_report_table_add_row (table, cells, FALSE);
    }
  wb_report_document_add_table (test->document, table);
}

void
wb_report_test_add_check_burns (const WbReportTest *test)
{
  const GPtrArray *checks = test->options->check_burns;

  if (checks == NULL || checks->len == 0)
    return;
  wb_report_document_add_heading (test->document, 1, _("Check burns"));
  wb_report_test_say (test, "%s",
                      /* xgettext:no-c-format */ _("A check burn of a later batch, or of a reference, stands beside the standard burns of the decided combination in the same third of the "
                        "life. What one new burn may show is a 95 % prediction interval from their mean and spread (Hahn and Meeker, Statistical Intervals, 1991); "
                        "of several figures one in twenty lies outside by chance."));
  for (guint i = 0; i < checks->len; i++)
    add_check (test, g_ptr_array_index (checks, i));
}
