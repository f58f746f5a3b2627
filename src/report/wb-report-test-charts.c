/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-test-private.h"

#include <glib/gi18n-lib.h>

#include "wb-report-document-private.h"

/* Charts of each group: growth, rings and life of its leading combinations. */

#define LEADING 5
#define IN_A_ROW 4
#define HEADINGS 72.0 /* points kept for the headings: three charts make a page */

/* Rings stand in one row, where they are large enough to be read. */
static const struct { WbReportSection section; WbPlotKind kind; double share; guint most; } pictures[] = {
  { WB_REPORT_SECTION_GROWTH, WB_PLOT_GROWTH, 0.29, LEADING },
  { WB_REPORT_SECTION_RINGS, WB_PLOT_RINGS, 0.25, IN_A_ROW },
  { WB_REPORT_SECTION_LIFE, WB_PLOT_LIFE, 0.46, LEADING },
};

static guint
count_wanted (const WbReportTest *test)
{
  guint n = 0;

  for (guint i = 0; i < G_N_ELEMENTS (pictures); i++)
    n += wb_report_test_wants (test, pictures[i].section);
  return n;
}

static void
add_group (const WbReportTest *test,
           guint               index)
{
  const WbCraftGroup *group = &test->answer->ranking->groups[index];
  double room = wb_report_document_get_text_height (test->document) - HEADINGS - 10 * G_N_ELEMENTS (pictures);
  WbPlotOptions options;
  guint cells[LEADING];

  wb_plot_options_init (&options, test->us);
  options.group = (int) index;
  options.cells = cells;
  options.n_cells = MIN (group->n_cells, LEADING);
  for (guint i = 0; i < options.n_cells; i++)
    cells[i] = group->cells[i].cell;
  if (group->n_cells > IN_A_ROW)
    {
      g_autofree char *shown = group->n_cells > LEADING
                                 ? g_strdup_printf (_("Pictured are the leading combinations, %u of %u; as rings the first %u. The tables hold all of them."),
                                                    LEADING, group->n_cells, IN_A_ROW)
                                 : g_strdup_printf (_("As rings the first %u of %u combinations are pictured."), IN_A_ROW, group->n_cells);

      wb_report_document_add_paragraph (test->document, WB_REPORT_TEXT_SMALL, shown);
      wb_report_document_keep_with_next (test->document);
      room -= HEADINGS / 4;
    }
  for (guint i = 0; i < G_N_ELEMENTS (pictures); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (WbChart) chart = NULL;

      if (!wb_report_test_wants (test, pictures[i].section))
        continue;
      options.n_cells = MIN (group->n_cells, pictures[i].most);
      chart = wb_plot_new (pictures[i].kind, test->answer, &options, &error);
      if (chart != NULL)
        wb_report_document_add_chart (test->document, chart, room * pictures[i].share);
      else
        wb_report_document_add_paragraph (test->document, WB_REPORT_TEXT_SMALL, error->message);
    }
}

void
wb_report_test_add_charts (const WbReportTest *test)
{
  const WbCraftRanking *ranking = test->answer->ranking;
  gboolean any = wb_readings_get_length (test->data->readings) > 0 && ranking->n_groups > 0;

  gboolean whole_page = count_wanted (test) == G_N_ELEMENTS (pictures) && ranking->n_groups > 1;

  if (count_wanted (test) == 0)
    return;
  /* of several groups each has a page of its own, to be compared at a glance; of a single one they go where there is room */
  if (any && whole_page)
    wb_report_document_add_page_break (test->document);
  wb_report_document_add_heading (test->document, 1, _("The burns in pictures"));
  if (!any)
    wb_report_test_say (test, "%s", _("There is nothing to draw: no reading was taken."));
  for (guint i = 0; any && i < ranking->n_groups; i++)
    {
      g_autofree char *title = wb_report_test_dup_title (test, &ranking->groups[i]);

      if (i > 0 && whole_page)
        wb_report_document_add_page_break (test->document);
      wb_report_document_add_heading (test->document, 2, title);
      add_group (test, i);
    }
}
