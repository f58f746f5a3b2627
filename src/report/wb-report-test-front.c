/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-test-private.h"

#include "wb-craft-crossed.h"
#include "wb-craft-told.h"
#include "wb-craft-touched.h"

#include <glib/gi18n-lib.h>

/* The first page at a glance: for each vessel and scent the answer, how sure, what crossed a limit, what the maker decided; who signed, and when. */

#define GLANCE_MOST 220 /* characters of a cell: the whole stands further down */

/* ---- What crossed a limit ---- */

/* "flame height; outside wall of the vessel, by a sample set aside, not cleared" of a cell, and a crack, whatever its limit; "" where nothing did. */
static char *
dup_crossed (const WbReportTest *test,
             guint               cell)
{
  g_autoptr (GPtrArray) limits = wb_report_list_new ();

  for (guint i = 0; i < test->answer->limits->n_limits; i++)
    {
      const WbCraftLimit *limit = wb_craft_limits_get (test->answer->limits, cell, i);
      const char *name = g_dgettext (GETTEXT_PACKAGE, wb_craft_limit_get_measure (((const WbLimit *) g_ptr_array_index (test->data->limits, i))->kind));
      g_autofree char *aside = limit->set_aside_only ? g_strdup_printf (_("%s, by a sample set aside, not cleared"), name) : NULL;

      if (limit->state == WB_CRAFT_LIMIT_CROSSED)
        wb_report_list_add (limits, name);
      else
        wb_report_list_add (limits, aside);
    }
  if (wb_craft_crossed_find_crack (test->data, cell) != G_MAXUINT)
    wb_report_list_add (limits, wb_craft_crossed_get_crack_words (test->data));
  return wb_report_list_join_apart (limits);
}

static gboolean
is_all_tested (const WbReportTest *test,
               const WbCraftGroup *group)
{
  for (guint i = 0; i < group->n_cells; i++)
    for (guint k = 0; k < test->answer->limits->n_limits; k++)
      {
        const WbCraftLimit *limit = wb_craft_limits_get (test->answer->limits, group->cells[i].cell, k);

        if (limit->state != WB_CRAFT_LIMIT_PASSED && limit->state != WB_CRAFT_LIMIT_CROSSED
            && !wb_craft_limit_cannot_happen (test->data, g_ptr_array_index (test->data->limits, k), group->cells[i].cell))
          return FALSE;
      }
  return test->answer->limits->n_limits > 0;
}

static char *
dup_crossed_of_group (const WbReportTest *test,
                      const WbCraftGroup *group)
{
  g_autoptr (GPtrArray) crossed = wb_report_list_new ();

  for (guint i = 0; i < group->n_cells; i++)
    {
      g_autofree char *limits = dup_crossed (test, group->cells[i].cell);
      g_autofree char *name = wb_report_test_dup_cell (test, group, group->cells[i].cell);
      const char *samples = wb_craft_ranked_get_samples_crossed (&group->cells[i]);
      g_autofree char *told = samples != NULL ? g_strdup_printf ("%s; %s", limits, samples) : g_strdup (limits);
      /* Translators: a wick; limits. */
      g_autofree char *line = g_strdup_printf (_("%s (%s)"), name, told);

      if (*limits != '\0')
        wb_report_list_add (crossed, line);
    }
  if (crossed->len > 0)
    return wb_report_list_join_apart (crossed);
  if (test->answer->limits->n_limits == 0)
    return g_strdup (_("there are no limits"));
  if (!wb_craft_group_has_burns (test->data, group))
    return g_strdup (_("not tested"));
  return g_strdup (is_all_tested (test, group) ? _("no limit") : _("none in what was read; not all was"));
}

/* ---- The decision ---- */

static const WbCraftRanked *
find_chosen (const WbReportTest *test,
             const WbCraftGroup *group,
             const WbDecision   *decision)
{
  for (guint i = 0; i < group->n_cells; i++)
    if (wb_dataset_get_cell (test->data, group->cells[i].cell)->record.id == decision->cell)
      return &group->cells[i];
  return NULL;
}

static const char *
get_standing (const WbReportTest *test,
              const WbDecision   *decision)
{
  switch (wb_craft_touched_get_standing (test->options->touched, decision->record.id))
    {
    case WB_CRAFT_STANDING_IN_PART:
      return _("signed; holds for the burnt lots only");
    case WB_CRAFT_STANDING_REOPENED:
      return _("reopened: does not stand");
    case WB_CRAFT_STANDING_IN_TEST:
      return _("waits for its confirmation test");
    case WB_CRAFT_STANDING_REPLACED:
      return _("replaced");
    case WB_CRAFT_STANDING_STANDS:
    default:
      return _("signed");
    }
}

static char *
dup_decision_of_group (const WbReportTest *test,
                       const WbCraftGroup *group)
{
  g_autoptr (GPtrArray) lines = wb_report_list_new ();
  gboolean gone = FALSE;

  for (guint i = 0; i < test->data->decisions->len; i++)
    {
      const WbDecision *decision = g_ptr_array_index (test->data->decisions, i);
      const WbCraftRanked *chosen = find_chosen (test, group, decision);
      g_autofree char *name = chosen != NULL ? wb_report_test_dup_cell (test, group, chosen->cell) : NULL;
      /* Translators: a wick; how the decision for it stands. */
      g_autofree char *line = chosen != NULL ? g_strdup_printf (_("%s: %s"), name, get_standing (test, decision)) : NULL;

      wb_report_list_add (lines, line);
      gone = gone || wb_report_test_is_chosen_gone (test, decision);
    }
  if (lines->len > 0)
    return wb_report_list_join_apart (lines);
  /* it may have been one of these */
  return g_strdup (gone ? _("see below") : _("not signed"));
}

/* Who signed what and when, and how it stands; or that nobody did. */
static void
add_signatures (const WbReportTest *test)
{
  if (test->data->decisions->len == 0)
    wb_report_test_say (test, "%s", _("Nothing is signed: these are findings, and the maker has decided nothing upon them yet."));
  for (guint i = 0; i < test->data->decisions->len; i++)
    {
      const WbDecision *decision = g_ptr_array_index (test->data->decisions, i);
      g_autofree char *name = wb_report_test_dup_chosen (test, decision);
      g_autofree char *day = decision->signed_at.known ? wb_instant_format_date (decision->signed_at) : g_strdup (_("day not recorded"));
      g_autofree char *standing = wb_report_test_dup_standing (test, decision);

      /* Translators: a combination; who signed; a day; one or more sentences on how it stands. */
      wb_report_test_point (test, _("Decided: %s. Signed by %s, %s. %s"), name,
                            decision->signed_by != NULL ? decision->signed_by : _("nobody whose name is on record"), day, standing);
    }
}

/* ---- The table ---- */

static char *
dup_answer (const WbReportTest *test,
            const WbCraftGroup *group)
{
  g_autofree char *brief = wb_craft_group_dup_brief (test->data, group);
  g_autofree char *level = wb_craft_group_dup_level (group);
  g_autofree char *verdict = wb_craft_group_dup_brief_verdict (test->data, group);
  /* Translators: one or more wicks; how good, "does well: 0.89 of 1"; "not recommended yet". */
  g_autofree char *all = *level != '\0' ? g_strdup_printf (_("%s: %s; %s"), brief, level, verdict) : g_strdup (brief);

  return wb_report_dup_clipped (all, GLANCE_MOST);
}

static void
add_glance (const WbReportTest *test)
{
  const char *heads[] = { _("Vessel and scent"), _("Answer"), _("How sure"), _("Crossed a limit"), _("Decision") };
  static const WbReportAlign aligns[] = { WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT };
  static const double shares[] = { 1.1, 1.25, 1.35, 1.1, 1.1 };
  WbReportTable *table = wb_report_table_new (G_N_ELEMENTS (heads), heads, aligns, shares);

  for (guint i = 0; i < test->answer->ranking->n_groups; i++)
    {
      const WbCraftGroup *group = &test->answer->ranking->groups[i];
      g_autofree char *title = wb_report_test_dup_title (test, group);
      g_autofree char *answer = dup_answer (test, group);
      g_autofree char *sure = wb_craft_group_dup_brief_sureness (test->data, group);
      g_autofree char *crossed = dup_crossed_of_group (test, group);
      g_autofree char *decision = dup_decision_of_group (test, group);
      const char *cells[] = { title, answer, sure, crossed, decision };

      wb_report_table_add_row (table, cells, FALSE);
    }
  wb_report_document_add_table (test->document, table);
  wb_report_test_say (test, "%s", _("The answers in full stand further down."));
}

/* One vessel and scent: the answer itself, and what the table would say beside it. */
static void
add_single (const WbReportTest *test)
{
  const WbCraftGroup *group = &test->answer->ranking->groups[0];
  WbReportTable *facts = wb_report_test_facts_new ();
  g_autofree char *crossed = dup_crossed_of_group (test, group);
  g_autofree char *decision = dup_decision_of_group (test, group);

  wb_report_test_add_answers (test);
  wb_report_test_facts_add (facts, _("Crossed a limit"), crossed);
  wb_report_test_facts_add (facts, _("Decision"), decision);
  wb_report_document_add_table (test->document, facts);
}

gboolean
wb_report_test_is_burnt (const WbReportTest *test)
{
  return test->data->burns->len > 0;
}

guint
wb_report_test_count_cells (const WbReportTest *test)
{
  guint n = 0;

  for (guint i = 0; i < test->answer->ranking->n_groups; i++)
    n += test->answer->ranking->groups[i].n_cells;
  return n;
}

static void
add_plan_alone (const WbReportTest *test)
{
  guint cells = wb_report_test_count_cells (test), samples = test->data->samples->len;
  g_autofree char *combinations = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u combination", "%u combinations", cells), cells);
  g_autofree char *candles = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u sample", "%u samples", samples), samples);
  g_autofree char *planned = NULL;

  /* Translators: "3 combinations", "9 samples". */
  planned = g_strdup_printf (_("Planned: %s, %s. There is no result, nothing was tested against a limit, and nothing here says how any of these candles burns."),
                             combinations, candles);
  wb_report_document_add_answer (test->document, _("A plan, not a test report"), _("Nothing has been burnt yet."), planned);
}

void
wb_report_test_add_front (const WbReportTest *test)
{
  wb_report_document_add_heading (test->document, 1, _("The answer"));
  if (test->answer->ranking->n_groups == 0)
    wb_report_document_add_answer (test->document, NULL, _("There is no answer yet: no combination was planned."), NULL);
  else if (!wb_report_test_is_burnt (test))
    add_plan_alone (test);
  else if (test->answer->ranking->n_groups == 1)
    add_single (test);
  else
    add_glance (test);
  if (wb_report_test_is_burnt (test) || test->data->decisions->len > 0)
    add_signatures (test);
}

void
wb_report_test_add_full (const WbReportTest *test)
{
  if (!wb_report_test_is_burnt (test) || test->answer->ranking->n_groups < 2)
    return;
  wb_report_document_add_heading (test->document, 1, _("The answers in full"));
  wb_report_test_add_answers (test);
}
