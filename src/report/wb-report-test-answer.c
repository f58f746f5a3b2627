/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-test-private.h"

#include "wb-craft-decision.h"
#include "wb-craft-told.h"
#include "wb-craft-touched.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* The answers in full, the maker's decision in full, what was not tested, and the test in short. */

#define ANSWER_MOST 1500 /* characters: more is names, not an answer */

void
wb_report_test_add_answers (const WbReportTest *test)
{
  const WbCraftRanking *ranking = test->answer->ranking;

  for (guint i = 0; i < ranking->n_groups; i++)
    {
      const WbCraftGroup *group = &ranking->groups[i];
      g_autofree char *title = wb_report_test_dup_title (test, group);
      g_autofree char *answer = wb_craft_group_dup_answer (test->data, group);
      g_autofree char *all = wb_craft_group_dup_sureness (test->data, group);
      g_autofree char *sureness = wb_report_dup_clipped (all, ANSWER_MOST);
      g_autofree char *lead = wb_report_dup_clipped (answer, ANSWER_MOST);

      wb_report_document_add_answer (test->document, title, lead, sureness);
    }
}

/* ---- The decision ---- */

/* What this report finds of the cell that the maker chose: they may differ, and the reader is told. */
static char *
dup_verdict (const WbReportTest *test,
             guint               cell)
{
  const WbCraftRanking *ranking = test->answer->ranking;

  for (guint g = 0; g < ranking->n_groups; g++)
    for (guint i = 0; i < ranking->groups[g].n_cells; i++)
      {
        const WbCraftRanked *ranked = &ranking->groups[g].cells[i];

        if (ranked->cell != cell)
          continue;
        return wb_craft_ranked_get_told (ranked) == WB_CRAFT_TOLD_RECOMMENDED
                 ? g_strdup (wb_craft_ranked_get_verdict_label (ranked))
                 /* Translators: a verdict, "candidate" or "not the best" */
                 : g_strdup_printf (_("%s, not recommended; why is told under Ranking and reasons"), wb_craft_ranked_get_verdict_label (ranked));
      }
  return NULL;
}

static guint
find_cell (const WbDataset *data,
           gint64           id)
{
  for (guint i = 0; i < data->cells->len; i++)
    if (wb_dataset_get_cell (data, i)->record.id == id)
      return i;
  return G_MAXUINT;
}

/* What changed behind the decision since it was signed, and what came of it. */
static void
add_changes (const WbReportTest *test,
             WbReportTable      *facts,
             gint64              decision)
{
  const GPtrArray *touched = test->options->touched;
  g_autofree char *untold = wb_craft_touched_dup_untold (touched, decision), *none = NULL;

  if (untold != NULL)
    {
      /* Translators: codes of lots. */
      none = g_strdup_printf (_("Which lots were burnt was not noted: the decision covers none by name, so none of %s."), untold);
      wb_report_test_facts_add (facts, _("Not covered"), none);
    }
  for (guint i = 0; touched != NULL && i < touched->len; i++)
    {
      const WbCraftTouched *change = g_ptr_array_index (touched, i);
      g_autofree char *words = NULL;

      if (change->decision != decision || change->kind == WB_CRAFT_TOUCHED_REPLACED
          || (wb_craft_touched_is_untold (change) && change->state != WB_CRAFT_TOUCHED_TESTED))
        continue;
      if (change->state == WB_CRAFT_TOUCHED_EXPLAINED)
        words = g_strdup_printf (_("%s. No test is needed: %s"), change->what, change->why);
      else if (change->state == WB_CRAFT_TOUCHED_TESTED)
        words = g_strdup_printf (_("%s. A confirmation test is planned or burnt; the decision was not signed anew."), change->what);
      else if (change->kind == WB_CRAFT_TOUCHED_NOT_BURNT)
        words = g_strdup_printf (_("%s. The decision does not cover it."), change->what);
      else
        words = g_strdup_printf (_("%s. Nothing has confirmed the decision since."), change->what);
      wb_report_test_facts_add (facts, change->kind == WB_CRAFT_TOUCHED_NOT_BURNT ? _("Not covered") : _("Changed since"), words);
    }
}

gboolean
wb_report_test_is_chosen_gone (const WbReportTest *test,
                               const WbDecision   *decision)
{
  return find_cell (test->data, decision->cell) == G_MAXUINT;
}

char *
wb_report_test_dup_chosen (const WbReportTest *test,
                           const WbDecision   *decision)
{
  guint cell = find_cell (test->data, decision->cell);

  return cell != G_MAXUINT ? wb_report_test_dup_cell (test, NULL, cell) : g_strdup (_("a combination that is not in the experiment any more"));
}

/* What changed behind a combination that is gone is asked by nobody: that it stands would be a claim. */
char *
wb_report_test_dup_standing (const WbReportTest *test,
                             const WbDecision   *decision)
{
  if (wb_report_test_is_chosen_gone (test, decision))
    return g_strdup (_("Not known: the combination that was chosen is not in the experiment any more."));
  return wb_craft_touched_dup_standing (test->options->touched, decision->record.id);
}

void
wb_report_test_add_decisions (const WbReportTest *test)
{
  if (test->data->decisions->len == 0)
    return;
  wb_report_document_add_heading (test->document, 1, _("What the maker decided"));
  for (guint i = 0; i < test->data->decisions->len; i++)
    {
      const WbDecision *decision = g_ptr_array_index (test->data->decisions, i);
      WbReportTable *facts = wb_report_test_facts_new ();
      guint cell = find_cell (test->data, decision->cell);
      g_autofree char *name = cell != G_MAXUINT ? wb_report_test_dup_cell (test, NULL, cell) : NULL;
      g_autofree char *verdict = cell != G_MAXUINT ? dup_verdict (test, cell) : NULL;
      g_autoptr (GPtrArray) parts = wb_craft_lot_parts_of_decision (test->data, decision);
      g_autofree char *lots = wb_craft_lot_parts_dup_text (parts);
      g_autofree char *day = decision->signed_at.known ? wb_instant_format_date (decision->signed_at) : NULL;
      g_autofree char *standing = wb_report_test_dup_standing (test, decision);
      g_autofree char *crossed = wb_craft_decision_dup_stored (decision->crossed), *not_tested = wb_craft_decision_dup_stored (decision->not_tested);
      g_autofree char *conditions = wb_craft_decision_dup_stored (decision->conditions);
      g_autofree char *rests_on = wb_craft_decision_dup_stored (decision->rests_on), *until = wb_craft_decision_dup_stored (decision->holds_until);
      g_autofree char *signed_verdict = wb_craft_decision_dup_signed (decision);

      wb_report_test_facts_add (facts, _("Chosen"), name);
      wb_report_test_facts_add (facts, _("How it stands"), standing);
      wb_report_test_facts_add (facts, _("Limits crossed"), crossed);
      wb_report_test_facts_add (facts, _("Chosen all the same, because"), decision->against);
      wb_report_test_facts_add (facts, _("Verdict when it was signed"), signed_verdict);
      wb_report_test_facts_add (facts, _("This report's verdict"), verdict);
      wb_report_test_facts_add (facts, _("Not tested"), not_tested);
      wb_report_test_facts_add (facts, _("Conditions"), conditions);
      wb_report_test_facts_add (facts, _("It rests on"), rests_on);
      wb_report_test_facts_add (facts, _("Holds until"), until);
      wb_report_test_facts_add (facts, _("Signed by"), decision->signed_by);
      wb_report_test_facts_add (facts, _("Signed on"), day);
      wb_report_test_facts_add (facts, _("Note"), decision->note);
      wb_report_test_facts_add (facts, _("Lots"), lots);
      add_changes (test, facts, decision->record.id);
      wb_report_document_begin_whole (test->document);
      wb_report_document_add_table (test->document, facts);
      wb_report_document_end_whole (test->document);
    }
}

/* ---- What was not tested ---- */

static guint
count_state (const WbReportTest *test,
             guint               limit,
             WbCraftLimitState   state)
{
  guint n = 0;

  for (guint cell = 0; cell < test->answer->limits->n_cells; cell++)
    n += wb_craft_limits_get (test->answer->limits, cell, limit)->state == state;
  return n;
}

static void
add_untested_limits (const WbReportTest *test)
{
  g_autoptr (GPtrArray) nowhere = wb_report_list_new ();
  g_autofree char *names = NULL;

  for (guint i = 0; i < test->answer->limits->n_limits; i++)
    {
      const WbLimit *limit = g_ptr_array_index (test->data->limits, i);
      const char *name = g_dgettext (GETTEXT_PACKAGE, wb_craft_limit_get_measure ((WbLimitKind) limit->kind));
      guint untested = count_state (test, i, WB_CRAFT_LIMIT_NOT_TESTED);

      if (limit->off)
        wb_report_test_point (test, _("%s: the maker turned this limit off."),
                              g_dgettext (GETTEXT_PACKAGE, wb_limit_kind_get_label ((WbLimitKind) limit->kind)));
      else if (untested > 0 && untested == test->answer->limits->n_cells)
        wb_report_list_add (nowhere, name);
      else if (untested > 0)
        wb_report_test_point (test, _("Not tested over the whole candle in %u of %u combinations: %s."), untested,
                              test->answer->limits->n_cells, name);
    }
  names = wb_report_list_join (nowhere, G_MAXUINT);
  if (nowhere->len > 0)
    wb_report_test_point (test, _("Not tested over the whole candle in any combination: %s."), names);
}

static gboolean
any_scented (const WbDataset *data)
{
  for (guint cell = 0; cell < data->cells->len; cell++)
    if (wb_dataset_get_fragrance (data, cell) != NULL || wb_dataset_get_cell (data, cell)->load_pct > 0)
      return TRUE;
  return FALSE;
}

/* Figures that an aim asks for and no burn has; throw only where there is a scent. */
static void
add_unread_figures (const WbReportTest *test)
{
  g_autoptr (GPtrArray) unread = wb_report_list_new ();
  g_autofree char *names = NULL;

  for (guint i = 0; i < test->data->aims->len; i++)
    {
      const WbAim *aim = g_ptr_array_index (test->data->aims, i);
      gboolean read = aim->figure == WB_FIGURE_FULL_POOL || (aim->figure == WB_FIGURE_THROW && !any_scented (test->data));

      for (guint burn = 0; burn < test->answer->figures->n_burns && !read; burn++)
        read = !isnan (wb_craft_burn_get (&test->answer->figures->burns[burn], (WbFigure) aim->figure, TRUE));
      if (!read)
        wb_report_list_add (unread, aim->figure == WB_FIGURE_THROW
                                      ? _("Hot throw of a candle alone in its room")
                                      : g_dgettext (GETTEXT_PACKAGE, wb_figure_get_label ((WbFigure) aim->figure)));
    }
  names = wb_report_list_join (unread, G_MAXUINT);
  if (unread->len > 0 && test->answer->figures->n_burns > 0)
    wb_report_test_point (test, _("Never read, and so out of every score: %s."), names);
}

static void
say_unfinished (const WbReportTest *test,
                guint               unfinished,
                guint               counting)
{
  if (unfinished > 0 && unfinished == counting)
    wb_report_test_point (test, "%s", _("No sample was burnt to the end that the protocol states."));
  else if (unfinished > 0)
    wb_report_test_point (test, g_dngettext (GETTEXT_PACKAGE, "%u of %u samples was not burnt to the end that the protocol states.",
                                             "%u of %u samples were not burnt to the end that the protocol states.", unfinished),
                          unfinished, counting);
}

void
wb_report_test_add_untested (const WbReportTest *test)
{
  guint unfinished = 0, counting = 0;

  wb_report_document_add_heading (test->document, 1, _("What was not tested"));
  if (wb_report_test_is_burnt (test))
    {
      add_untested_limits (test);
      add_unread_figures (test);
    }
  else
    wb_report_test_point (test, "%s", _("Anything: no candle was lit."));
  for (guint i = 0; i < test->answer->figures->n_samples; i++)
    {
      if (wb_report_test_is_aside (wb_dataset_get_sample (test->data, i)))
        continue;
      counting++;
      unfinished += !test->answer->figures->ended[i];
    }
  if (wb_report_test_is_burnt (test))
    say_unfinished (test, unfinished, counting);
  wb_report_test_point (test, "%s", _("Stability on a slope; the soot index, which needs a photometer; scent by a panel; storage, heat and transport."));
  wb_report_test_point (test, "%s", _("Any other vessel, wax, wick, fragrance, dye or lot than those named here. A change of any of them asks for a new test."));
}

/* ---- The test in short ---- */

static char *
dup_extent (const WbReportTest *test)
{
  guint cells = wb_report_test_count_cells (test), samples = test->data->samples->len;
  guint burns = test->data->burns->len, readings = wb_readings_get_length (test->data->readings);
  g_autofree char *of_cells = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u combination", "%u combinations", cells), cells);
  g_autofree char *of_samples = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u sample", "%u samples", samples), samples);
  g_autofree char *of_burns = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u burn", "%u burns", burns), burns);
  g_autofree char *of_readings = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u reading", "%u readings", readings), readings);

  return burns > 0 ? g_strdup_printf ("%s, %s, %s, %s", of_cells, of_samples, of_burns, of_readings) : g_strdup_printf ("%s, %s", of_cells, of_samples);
}

/* "2 Mar 2026 to 14 Apr 2026". */
static char *
dup_days (WbDay first,
          WbDay last)
{
  g_autofree char *from = NULL;
  g_autofree char *to = NULL;

  if (first == WB_DAY_NONE)
    return NULL;
  from = wb_day_format_local (first);
  if (last == first)
    return g_steal_pointer (&from);
  to = wb_day_format_local (last);
  /* Translators: first and last day. */
  return g_strdup_printf (_("%s to %s"), from, to);
}

static void
widen_days (WbDay *first,
            WbDay *last,
            WbDay  day)
{
  if (day == WB_DAY_NONE)
    return;
  *first = *first == WB_DAY_NONE ? day : MIN (*first, day);
  *last = *last == WB_DAY_NONE ? day : MAX (*last, day);
}

static char *
dup_poured (const WbReportTest *test)
{
  WbDay first = WB_DAY_NONE, last = WB_DAY_NONE;

  for (guint i = 0; i < test->data->samples->len; i++)
    widen_days (&first, &last, wb_dataset_get_sample (test->data, i)->poured_on);
  return dup_days (first, last);
}

static char *
dup_burnt (const WbReportTest *test)
{
  WbDay first = WB_DAY_NONE, last = WB_DAY_NONE;

  for (guint i = 0; i < test->data->burns->len; i++)
    {
      const WbBurn *burn = wb_dataset_get_burn (test->data, i);

      if (burn->lit_at.known)
        widen_days (&first, &last, wb_instant_get_day (burn->lit_at));
    }
  return dup_days (first, last);
}

void
wb_report_test_add_summary (const WbReportTest *test)
{
  WbReportTable *facts = wb_report_test_facts_new ();
  g_autofree char *extent = dup_extent (test);
  g_autofree char *poured = dup_poured (test);
  g_autofree char *burnt = dup_burnt (test);
  g_autoptr (GPtrArray) departures = wb_report_test_departures (test);

  wb_report_document_add_heading (test->document, 1, wb_report_test_is_burnt (test) ? _("The test in short") : _("The plan in short"));
  wb_report_test_facts_add (facts, wb_report_test_is_burnt (test) ? _("Tested") : _("Planned"), extent);
  wb_report_test_facts_add (facts, _("Poured"), poured);
  wb_report_test_facts_add (facts, _("Burnt"), burnt);
  wb_report_test_facts_add (facts, _("Method"), departures->len == 0
                                                  ? _("An in-house test that follows the timing of ASTM F2417 and EN 15426, by the maker; not a certification")
                                                  : _("An in-house test with a timing of its own, by the maker; not a certification"));
  wb_report_test_facts_add (facts, _("Record"), test->options->fingerprint != NULL
                                                  ? _("Kept entry by entry; the fingerprint at the foot of each page says on which state this report rests") : NULL);
  wb_report_document_add_table (test->document, facts);
}
