/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-test-private.h"

#include <glib/gi18n-lib.h>

#include "wb-report-options-private.h"

/* The order of the report, and what its sections share. */

#define TITLE_MOST 200 /* characters, as many as a record's name may have */

char *
wb_report_test_dup_cell (const WbReportTest *test,
                         const WbCraftGroup *group,
                         guint               cell)
{
  g_autofree char *name = group != NULL && group->by_vessel && group->by_scent ? wb_dataset_dup_wick_name (test->data, cell)
                                                                                : wb_dataset_dup_cell_name (test->data, cell);

  return wb_report_dup_name (name);
}

char *
wb_report_test_dup_code (const WbReportTest *test,
                         guint               sample)
{
  return wb_report_dup_name (wb_dataset_get_sample (test->data, sample)->code);
}

char *
wb_report_test_dup_title (const WbReportTest *test,
                          const WbCraftGroup *group)
{
  g_autofree char *title = wb_craft_group_dup_title (test->data, group);

  return wb_report_dup_name (title);
}

gboolean
wb_report_test_wants (const WbReportTest *test,
                      WbReportSection     section)
{
  return (test->options->left_out & 1u << section) == 0;
}

gboolean
wb_report_test_is_aside (const WbSample *sample)
{
  return sample->set_aside != NULL || sample->set_aside_cause >= 0;
}

void
wb_report_test_say (const WbReportTest *test,
                    const char         *format,
                    ...)
{
  g_autofree char *said = NULL;
  va_list arguments;

  va_start (arguments, format);
  said = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  wb_report_document_add_paragraph (test->document, WB_REPORT_TEXT_BODY, said);
}

void
wb_report_test_point (const WbReportTest *test,
                      const char         *format,
                      ...)
{
  g_autofree char *said = NULL;
  va_list arguments;

  va_start (arguments, format);
  said = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  wb_report_document_add_point (test->document, said);
}

static gboolean
holds_cell (const WbCraftGroup *group,
            guint               cell)
{
  for (guint i = 0; i < group->n_cells; i++)
    if (group->cells[i].cell == cell)
      return TRUE;
  return FALSE;
}

void
wb_report_test_add_rows (const WbReportTest *test,
                         WbReportTable      *table,
                         WbReportTestRow     add)
{
  const WbCraftRanking *ranking = test->answer->ranking;

  for (guint i = 0; i < ranking->n_groups; i++)
    {
      const WbCraftGroup *group = &ranking->groups[i];
      g_autofree char *title = wb_report_test_dup_title (test, group);

      if (ranking->n_groups > 1)
        wb_report_table_add_band (table, title);
      for (guint cell = 0; cell < test->data->cells->len; cell++)
        {
          g_autofree char *name = wb_report_test_dup_cell (test, group, cell);

          if (holds_cell (group, cell))
            add (test, table, cell, name);
        }
    }
}

WbReportTable *
wb_report_test_facts_new (void)
{
  static const WbReportAlign aligns[] = { WB_REPORT_LEFT, WB_REPORT_LEFT };
  static const double shares[] = { 1, 3.4 };

  return wb_report_table_new (2, NULL, aligns, shares);
}

void
wb_report_test_facts_add (WbReportTable *facts,
                          const char    *what,
                          const char    *value)
{
  const char *cells[] = { what, value };

  if (value != NULL && *value != '\0')
    wb_report_table_add_row (facts, cells, FALSE);
}

static void
add_head (const WbReportTest *test)
{
  const WbExperiment *experiment = test->data->experiment;
  g_autofree char *day = wb_report_options_dup_day (test->options);
  g_autofree char *code = wb_report_dup_name (experiment->code != NULL ? experiment->code : WB_REPORT_NONE);
  g_autofree char *title = wb_report_dup_clipped (experiment->title != NULL ? experiment->title : code, TITLE_MOST);
  /* Translators: code of the experiment; the day on which the report was made. */
  g_autofree char *below = g_strdup_printf (_("Burn test %s · report of %s"), code, day);

  wb_report_document_add_title (test->document, title, below);
  if (experiment->question != NULL)
    wb_report_test_say (test, _("The question: %s"), experiment->question);
  if (experiment->note != NULL)
    wb_report_test_say (test, _("Note: %s"), experiment->note);
}

/* What tells of burns has nothing to say before the first; of the pour, and of looks at what was poured, there may be much. */
static gboolean
has_matter (const WbReportTest *test,
            int                 section)
{
  const WbDataset *data = test->data;

  switch (section)
    {
    case WB_REPORT_SECTION_METHOD:
    case WB_REPORT_SECTION_LIMITS:
    case WB_REPORT_SECTION_PHOTOS:
    case WB_REPORT_SECTION_CHECKS:
      return TRUE;
    case WB_REPORT_SECTION_DEVIATIONS:
    case WB_REPORT_SECTION_CONDITIONS:
      return wb_report_test_is_burnt (test) || data->batches->len > 0 || data->inspections->len > 0;
    default:
      return wb_report_test_is_burnt (test);
    }
}

/* Whether a section would have anything to say. */
static gboolean
is_there (const WbReportTest *test,
          WbReportSection     section)
{
  if (!has_matter (test, section))
    return FALSE;
  if (section == WB_REPORT_SECTION_PHOTOS)
    return test->options->photos_kept > 0;
  if (section == WB_REPORT_SECTION_CHECKS)
    return test->options->check_burns != NULL && test->options->check_burns->len > 0;
  return TRUE;
}

/* Whoever reads it knows that there is more, and that names are others. */
static void
add_left_out (const WbReportTest *test)
{
  g_autoptr (GPtrArray) names = wb_report_list_new ();
  g_autofree char *joined = NULL;

  for (guint i = 0; i < WB_REPORT_N_SECTIONS; i++)
    if (!wb_report_test_wants (test, (WbReportSection) i) && is_there (test, (WbReportSection) i))
      wb_report_list_add (names, wb_report_section_get_label ((WbReportSection) i));
  joined = wb_report_list_join (names, G_MAXUINT);
  if (names->len > 0)
    /* Translators: sections of a report. */
    wb_report_test_say (test, _("Left out of this report as the maker chose: %s."), joined);
  if (test->options->anonymous)
    wb_report_test_say (test, "%s", _("Materials, samples, melts, lots and raters have other names here; the maker keeps the key to them. Sizes, loads and readings are as they were."));
}

enum { ALWAYS = -1, CHARTS = -2 }; /* beside the sections that can be left out; each chart looks for itself */

static gboolean
has_section (const WbReportTest *test,
             int                 section)
{
  if (section == ALWAYS)
    return TRUE;
  if (!has_matter (test, section))
    return FALSE;
  return section == CHARTS || wb_report_test_wants (test, (WbReportSection) section);
}

/* What follows the first page, in this order. */
static void
add_sections (const WbReportTest *test)
{
  static const struct { int section; void (*add) (const WbReportTest *test); } all[] = {
    { WB_REPORT_SECTION_METHOD, wb_report_test_add_method },
    { WB_REPORT_SECTION_RANKING, wb_report_test_add_ranking },
    { CHARTS, wb_report_test_add_charts },
    { WB_REPORT_SECTION_PHOTOS, wb_report_test_add_photos },
    { WB_REPORT_SECTION_LIMITS, wb_report_test_add_limits },
    { WB_REPORT_SECTION_CHECKS, wb_report_test_add_check_burns },
    { WB_REPORT_SECTION_DEVIATIONS, wb_report_test_add_deviations },
    { WB_REPORT_SECTION_CONDITIONS, wb_report_test_add_conditions },
    { WB_REPORT_SECTION_CONDITIONS, wb_report_test_add_looks },
    { ALWAYS, wb_report_test_add_cautions },
    { WB_REPORT_SECTION_APPENDIX, wb_report_test_add_figures },
  };

  for (guint i = 0; i < G_N_ELEMENTS (all); i++)
    if (has_section (test, all[i].section))
      all[i].add (test);
}

WbReportDocument *
wb_report_test_new (const WbCraftAnswer   *answer,
                    const WbReportOptions *options)
{
  const WbExperiment *experiment;
  g_autofree char *code = NULL;
  g_autofree char *name = NULL;
  g_autofree char *title = NULL;
  WbReportTest test = { .answer = answer, .options = options };

  g_return_val_if_fail (answer != NULL && options != NULL, NULL);

  experiment = answer->data->experiment;
  test.data = answer->data;
  test.us = options->us_units;
  /* Translators: code of the experiment; its title. */
  code = wb_report_dup_name (experiment->code != NULL ? experiment->code : WB_REPORT_NONE);
  name = wb_report_dup_clipped (experiment->title != NULL ? experiment->title : "", TITLE_MOST);
  title = g_strdup_printf (_("Burn test %s: %s"), code, name);
  test.document = wb_report_options_begin (options, title, experiment->question, _("A maker's own test, not a certification."));
  add_head (&test);
  wb_report_test_add_front (&test);
  wb_report_test_add_untested (&test);
  wb_report_test_add_summary (&test);
  add_left_out (&test);
  wb_report_document_add_heading (test.document, 2, _("Contents"));
  wb_report_document_add_contents (test.document);
  wb_report_test_add_decisions (&test);
  wb_report_test_add_full (&test);
  add_sections (&test);
  return test.document;
}
