/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-test-private.h"

#include <glib/gi18n-lib.h>

#include "wb-report-document-private.h"

/* Charts of each group: growth, rings, marks and life of its leading combinations. */

#define LEADING 5
#define IN_A_ROW 4

/* Rings stand in one row, where they are large enough to be read. */
static const struct { WbReportSection section; WbPlotKind kind; guint most; } pictures[] = {
  { WB_REPORT_SECTION_GROWTH, WB_PLOT_GROWTH, LEADING },
  { WB_REPORT_SECTION_RINGS, WB_PLOT_RINGS, IN_A_ROW },
  { WB_REPORT_SECTION_MARKS, WB_PLOT_MARKS, LEADING },
  { WB_REPORT_SECTION_LIFE, WB_PLOT_LIFE, LEADING },
};

void
wb_report_test_add_chart (const WbReportTest  *test,
                          WbPlotKind           kind,
                          const WbPlotOptions *options)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbChart) chart = wb_plot_new (kind, test->answer, options, &error);

  if (chart != NULL)
    wb_report_document_add_chart (test->document, chart,
                                  wb_plot_get_page_height (kind, chart, wb_report_document_get_text_width (test->document)));
  else
    wb_report_document_add_paragraph (test->document, WB_REPORT_TEXT_SMALL, error->message);
}

static gboolean
wants_any (const WbReportTest *test)
{
  for (guint i = 0; i < G_N_ELEMENTS (pictures); i++)
    if (wb_report_test_wants (test, pictures[i].section))
      return TRUE;
  return FALSE;
}

/* How many of the group's combinations are pictured; NULL: all of them, or no picture that leaves some out is wanted. */
static char *
dup_shown (const WbReportTest *test,
           const WbCraftGroup *group)
{
  gboolean rings = wb_report_test_wants (test, WB_REPORT_SECTION_RINGS) && group->n_cells > IN_A_ROW;

  if (group->n_cells > LEADING && rings)
    return g_strdup_printf (_("Pictured are the leading combinations, %u of %u; as rings the first %u. The tables hold all of them."),
                            LEADING, group->n_cells, IN_A_ROW);
  if (group->n_cells > LEADING)
    return g_strdup_printf (_("Pictured are the leading combinations, %u of %u. The tables hold all of them."), LEADING, group->n_cells);
  return rings ? g_strdup_printf (_("As rings the first %u of %u combinations are pictured."), IN_A_ROW, group->n_cells) : NULL;
}

static void
add_group (const WbReportTest *test,
           guint               index)
{
  const WbCraftGroup *group = &test->answer->ranking->groups[index];
  g_autofree char *shown = dup_shown (test, group);
  WbPlotOptions options;
  guint cells[LEADING];

  wb_plot_options_init (&options, test->us);
  options.group = (int) index;
  options.cells = cells;
  for (guint i = 0; i < MIN (group->n_cells, LEADING); i++)
    cells[i] = group->cells[i].cell;
  if (shown != NULL)
    {
      wb_report_document_add_paragraph (test->document, WB_REPORT_TEXT_SMALL, shown);
      wb_report_document_keep_with_next (test->document);
    }
  for (guint i = 0; i < G_N_ELEMENTS (pictures); i++)
    {
      options.n_cells = MIN (group->n_cells, pictures[i].most);
      if (wb_report_test_wants (test, pictures[i].section))
        wb_report_test_add_chart (test, pictures[i].kind, &options);
    }
}

void
wb_report_test_add_charts (const WbReportTest *test)
{
  const WbCraftRanking *ranking = test->answer->ranking;
  gboolean any = wb_readings_get_length (test->data->readings) > 0 && ranking->n_groups > 0;

  if (!wants_any (test))
    return;
  wb_report_document_add_heading (test->document, 1, _("The burns in pictures"));
  if (!any)
    wb_report_test_say (test, "%s", _("There is nothing to draw: no reading was taken."));
  for (guint i = 0; any && i < ranking->n_groups; i++)
    {
      g_autofree char *title = wb_report_test_dup_title (test, &ranking->groups[i]);

      wb_report_document_add_heading (test->document, 2, title);
      add_group (test, i);
    }
}
