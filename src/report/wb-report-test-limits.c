/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-decision.h"
#include "wb-house.h"
#include "wb-report-test-private.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>
#include <math.h>

/* Each limit as passed, crossed, not tested or off, with its source and the worst that was read. */

char *
wb_report_test_dup_bound (const WbReportTest *test,
                          const WbLimit      *limit)
{
  if (!(limit->stop_at > 0))
    return g_strdup (_("none allowed"));
  return wb_report_dup_set (test->us, wb_limit_kind_get_unit ((WbLimitKind) limit->kind), limit->stop_at);
}

/* What was seen, without where. */
static char *
dup_seen (const WbReportTest *test,
          const WbCraftLimit *limit)
{
  const WbLimit *record = g_ptr_array_index (test->data->limits, limit->limit);
  WbUnit unit = wb_limit_kind_get_unit ((WbLimitKind) record->kind);

  if (isinf (limit->worst))
    return g_strdup (_("seen, not timed"));
  if (!(record->stop_at > 0) && !(limit->worst > 0))
    return g_strdup (_("seen"));
  /* a reading is told as fine as it was written: 77.2 °C is over 77 */
  return wb_report_dup_value (test->us, unit, limit->worst, unit == WB_UNIT_CELSIUS ? 1 : -1);
}

char *
wb_report_test_dup_worst (const WbReportTest *test,
                          const WbCraftLimit *limit)
{
  g_autofree char *seen = NULL;
  g_autofree char *minute = NULL;
  g_autofree char *code = NULL;

  if (isnan (limit->worst) || limit->sample >= test->data->samples->len || limit->burn >= test->data->burns->len)
    return g_strdup (WB_REPORT_NONE);
  seen = dup_seen (test, limit);
  code = wb_report_test_dup_code (test, limit->sample);
  minute = wb_number_format_trimmed (limit->elapsed_min, 1, NULL);
  /* Translators: a reading; sample code; number of the burn; minute of the burn. */
  return g_strdup_printf (limit->logged ? _("%s: sample %s, burn %" PRId64 ", minute %s, logger's file")
                                        : _("%s: sample %s, burn %" PRId64 ", minute %s"), seen, code,
                          wb_dataset_get_burn (test->data, limit->burn)->number, minute);
}

/* A crossing outweighs a larger reading of a sample that was set aside. */
static const WbCraftLimit *
find_worst (const WbReportTest *test,
            guint               limit)
{
  const WbCraftLimit *worst = NULL;

  for (guint cell = 0; cell < test->answer->limits->n_cells; cell++)
    {
      const WbCraftLimit *item = wb_craft_limits_get (test->answer->limits, cell, limit);
      gboolean crossed = item->state == WB_CRAFT_LIMIT_CROSSED, before = worst != NULL && worst->state == WB_CRAFT_LIMIT_CROSSED;

      if (!isnan (item->worst) && (worst == NULL || (crossed && !before) || (crossed == before && item->worst > worst->worst)))
        worst = item;
    }
  return worst;
}

static gboolean
cannot_happen_anywhere (const WbReportTest *test,
                        guint               limit)
{
  for (guint cell = 0; cell < test->answer->limits->n_cells; cell++)
    if (!wb_craft_limit_cannot_happen (test->data, g_ptr_array_index (test->data->limits, limit), cell))
      return FALSE;
  return test->answer->limits->n_cells > 0;
}

/* A combination that was taken out of the grid before it was read of is none of the test's; one that was burnt stays. */
static gboolean
is_of_test (const WbReportTest *test,
            guint               cell,
            WbCraftLimitState   state)
{
  return state != WB_CRAFT_LIMIT_NOT_TESTED || wb_craft_decision_find_ranked (test->answer, cell) != NULL;
}

/* "passed in 11, crossed in 1". */
static char *
dup_outcome (const WbReportTest *test,
             guint               limit)
{
  g_autoptr (GString) text = g_string_new (NULL);
  guint counts[WB_CRAFT_LIMIT_OFF + 1] = { 0 }, n = 0;

  if (cannot_happen_anywhere (test, limit))
    return g_strdup (_("does not arise: one wick"));
  for (guint cell = 0; cell < test->answer->limits->n_cells; cell++)
    {
      WbCraftLimitState state = wb_craft_limits_get (test->answer->limits, cell, limit)->state;

      if (!is_of_test (test, cell, state))
        continue;
      counts[state]++;
      n++;
    }
  for (guint state = 0; state <= WB_CRAFT_LIMIT_OFF; state++)
    {
      const char *label = wb_craft_limit_state_get_label ((WbCraftLimitState) state);

      if (counts[state] == n && n > 0)
        return n > 1 ? g_strdup_printf (_("%s in all %u"), label, n) : g_strdup (label);
      if (counts[state] > 0)
        /* Translators: "passed in 11", "crossed in 1": how a limit ended, in how many combinations. */
        g_string_append_printf (text, _("%s%s in %u"), text->len > 0 ? ", " : "", label, counts[state]);
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static char *
dup_source (const WbLimit *limit)
{
  if (limit->off)
    return g_strdup_printf (_("Turned off by the maker: %s"), limit->off_reason != NULL ? limit->off_reason : _("no reason given"));
  if (limit->source != NULL)
    return g_strdup (wb_house_translate (limit->source));
  return g_strdup (limit->house ? _("House limit") : _("no source stated"));
}

static void
add_limits (const WbReportTest *test)
{
  const char *heads[] = { _("No."), _("Limit"), _("Bound"), _("Combinations"), _("Worst reading"), _("Source") };
  static const WbReportAlign aligns[] = { WB_REPORT_RIGHT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT };
  static const double shares[] = { 0, 1.3, 0.75, 1.1, 1.35, 2.5 };
  WbReportTable *table = wb_report_table_new (G_N_ELEMENTS (heads), heads, aligns, shares);

  for (guint i = 0; i < test->data->limits->len; i++)
    {
      const WbLimit *limit = g_ptr_array_index (test->data->limits, i);
      const WbCraftLimit *worst = find_worst (test, i);
      g_autofree char *number = g_strdup_printf ("%u", i + 1);
      g_autofree char *bound = wb_report_test_dup_bound (test, limit);
      g_autofree char *outcome = dup_outcome (test, i);
      g_autofree char *reading = worst != NULL ? wb_report_test_dup_worst (test, worst) : g_strdup (WB_REPORT_NONE);
      g_autofree char *source = dup_source (limit);
      g_autofree char *name = wb_report_dup_sentence (g_dgettext (GETTEXT_PACKAGE, wb_limit_kind_get_label ((WbLimitKind) limit->kind)));
      const char *cells[] = { number, name, bound, outcome, reading, source };

      wb_report_table_add_row (table, cells, FALSE);
    }
  wb_report_document_add_table (test->document, table);
}

/* ---- Combination by combination ---- */

/* One cell's limits, in words, by how they ended. */
typedef struct
{
  GPtrArray *crossed, *passed, *untested;
  guint      arising;
  gboolean   aside, off; /* of those crossed, or untested, one is named with a word of its own: "all" would lose it */
} Outcome;

static void
sort_limit (const WbReportTest *test,
            const WbCraftLimit *limit,
            Outcome            *outcome)
{
  const WbLimit *record = g_ptr_array_index (test->data->limits, limit->limit);
  const char *name = g_dgettext (GETTEXT_PACKAGE, wb_limit_kind_get_label ((WbLimitKind) record->kind));
  g_autofree char *aside = limit->set_aside_only ? g_strdup_printf (_("%s, by a sample set aside, not cleared"), name) : NULL;
  g_autofree char *off = g_strdup_printf (_("%s (turned off)"), name);

  if (wb_craft_limit_cannot_happen (test->data, record, limit->cell))
    return;
  outcome->arising++;
  wb_report_list_add (outcome->crossed, aside);
  outcome->aside = outcome->aside || aside != NULL;
  switch (limit->state)
    {
    case WB_CRAFT_LIMIT_PASSED:
      /* what a sample that was set aside crossed is named already, and is none of "the other 3" */
      if (aside == NULL)
        wb_report_list_add (outcome->passed, name);
      break;
    case WB_CRAFT_LIMIT_CROSSED:
      wb_report_list_add (outcome->crossed, name);
      break;
    case WB_CRAFT_LIMIT_OFF:
      wb_report_list_add (outcome->untested, off);
      outcome->off = TRUE;
      break;
    case WB_CRAFT_LIMIT_NOT_TESTED:
    default:
      wb_report_list_add (outcome->untested, name);
    }
}

/* The names, which have commas of their own; or that it is all of them where each is no more than its name; or none. */
static char *
dup_names (const GPtrArray *names,
           guint            arising,
           gboolean         plain)
{
  if (names->len == 0)
    return g_strdup (_("no limit"));
  if (plain && names->len == arising && arising > 1)
    return g_strdup_printf (_("all %u"), arising);
  return wb_report_list_join_apart (names);
}

static char *
dup_passed (const Outcome *outcome)
{
  guint n = outcome->passed->len;

  /* beside what was crossed or not tested the number is enough: the others are named there */
  if (n > 1 && n < outcome->arising)
    return g_strdup_printf (_("the other %u"), n);
  return dup_names (outcome->passed, outcome->arising, TRUE);
}

static void
add_outcome_row (const WbReportTest *test,
                 WbReportTable      *table,
                 guint               cell,
                 const char         *name)
{
  Outcome outcome = { wb_report_list_new (), wb_report_list_new (), wb_report_list_new (), 0, FALSE, FALSE };
  g_autofree char *crossed = NULL;
  g_autofree char *passed = NULL;
  g_autofree char *untested = NULL;

  for (guint i = 0; i < test->answer->limits->n_limits; i++)
    sort_limit (test, wb_craft_limits_get (test->answer->limits, cell, i), &outcome);
  crossed = dup_names (outcome.crossed, outcome.arising, !outcome.aside);
  passed = dup_passed (&outcome);
  untested = dup_names (outcome.untested, outcome.arising, !outcome.off);
  wb_report_table_add_row (table, (const char *[]) { name, crossed, untested, passed }, outcome.crossed->len > 0);
  g_ptr_array_unref (outcome.crossed);
  g_ptr_array_unref (outcome.passed);
  g_ptr_array_unref (outcome.untested);
}

static void
add_outcomes (const WbReportTest *test)
{
  const char *heads[] = { _("Combination"), _("Crossed"), _("Not tested in every third"), _("Passed in every third") };
  static const WbReportAlign aligns[] = { WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT };
  static const double shares[] = { 1, 1.3, 1.5, 0.9 };
  WbReportTable *table = wb_report_table_new (G_N_ELEMENTS (heads), heads, aligns, shares);

  wb_report_test_add_rows (test, table, add_outcome_row);
  wb_report_document_add_table (test->document, table);
}

/* Nothing to tell apart, and nothing crossed, nor by a sample that was set aside: a table would be dashes alone. */
static gboolean
all_untested (const WbReportTest *test)
{
  for (guint i = 0; i < test->answer->limits->n_limits; i++)
    for (guint cell = 0; cell < test->answer->limits->n_cells; cell++)
      {
        const WbCraftLimit *limit = wb_craft_limits_get (test->answer->limits, cell, i);

        if (limit->set_aside_only)
          return FALSE;
        if (limit->state == WB_CRAFT_LIMIT_NOT_TESTED || wb_craft_limit_cannot_happen (test->data, g_ptr_array_index (test->data->limits, i), cell))
          continue;
        return FALSE;
      }
  return TRUE;
}

/* Whether the charts draw where to look closer. */
static gboolean
any_looked_at (const WbReportTest *test)
{
  for (guint i = 0; i < test->data->limits->len; i++)
    {
      const WbLimit *limit = g_ptr_array_index (test->data->limits, i);

      if (!isnan (limit->ask_at) && limit->ask_at < limit->stop_at)
        return TRUE;
    }
  return FALSE;
}

void
wb_report_test_add_limits (const WbReportTest *test)
{
  wb_report_document_begin_whole (test->document);
  wb_report_document_add_heading (test->document, 1, _("Limits"));
  wb_report_test_say (test, "%s", _("A limit judges the worst reading of the worst sample, in every third of the candle; it is never averaged away. "
                                    "A house limit is the maker's own: no published figure stands behind it. "
                                    "What somebody must see, such as a crack, counts as tested where the sample was read in that third. "
                                    "A temperature logger's file tests no limit, but over one it crosses it."));
  if (test->data->limits->len == 0)
    {
      wb_report_test_say (test, "%s", _("The protocol has no limits."));
      return;
    }
  if (any_looked_at (test))
    wb_report_test_say (test, "%s", _("“Look from” in the charts is where the maker looks closer, well before the limit: a reading from there on crosses nothing, "
                                      "but what gets that far deserves a closer look."));
  wb_report_document_end_whole (test->document);
  /* what it explains is the table */
  wb_report_document_keep_with_next (test->document);
  add_limits (test);
  if (test->data->cells->len > 1 && all_untested (test))
    wb_report_test_say (test, "%s", _("In no combination was a limit tested in every third of the candle, so none counts as passed. "
                                      "None was crossed in what was read so far."));
  else if (test->data->cells->len > 1)
    {
      wb_report_document_add_heading (test->document, 2, _("Combination by combination"));
      add_outcomes (test);
    }
}
