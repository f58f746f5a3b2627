/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"
#include "decision-bench.h"
#include "wb-app-query.h"

#include <math.h>

/* What is news to a signed decision though no candle was burnt since: candles that moved, limits that did. */

static WbSample *
dup_sample (WbAppNotebook *notebook,
            gint64         cell)
{
  g_autoptr (GPtrArray) samples = wb_app_query_list_by_sync (notebook, &wb_sample_type, "cell", cell, NULL);

  return wb_record_copy (samples->pdata[0]);
}

/* A candle that crossed a limit before the signature, and is put to the recipe after it, is news. */
static void
test_moved (void)
{
  DecisionBench bench;
  g_autoptr (WbRecord) record = NULL, sample = NULL;
  g_autoptr (GPtrArray) cells = NULL;
  gint64 decided, other = 0;

  decision_bench_open (&bench);
  record = (WbRecord *) decision_bench_dup_decision (bench.notebook);
  decided = ((const WbDecision *) (gpointer) record)->cell;
  cells = wb_app_query_list_by_sync (bench.notebook, &wb_cell_type, "experiment", bench.experiment, NULL);
  for (guint i = 0; i < cells->len; i++)
    if (((const WbRecord *) cells->pdata[i])->id != decided)
      other = ((const WbRecord *) cells->pdata[i])->id;
  decision_bench_burn (bench.notebook, other, 88);
  decision_bench_sign_what_is (&bench);
  sample = (WbRecord *) dup_sample (bench.notebook, other);
  ((WbSample *) (gpointer) sample)->cell = decided;
  app_save (bench.notebook, sample);
  g_assert_cmpint (decision_bench_get_standing (&bench), ==, WB_CRAFT_STANDING_REOPENED);
  decision_bench_close (&bench);
}

/* What was signed against stays known when its sample gets a note; that it counts again, or that a limit is on again, is news. */
static void
test_noted (void)
{
  DecisionBench bench;
  g_autoptr (WbRecord) record = NULL, noted = NULL, aside = NULL, back = NULL;
  gint64 decided;

  decision_bench_open (&bench);
  record = (WbRecord *) decision_bench_dup_decision (bench.notebook);
  decided = ((const WbDecision *) (gpointer) record)->cell;
  decision_bench_burn (bench.notebook, decided, 88);
  decision_bench_sign_what_is (&bench);
  noted = (WbRecord *) dup_sample (bench.notebook, decided);
  g_free (((WbSample *) (gpointer) noted)->note);
  ((WbSample *) (gpointer) noted)->note = g_strdup ("Stood by the window.");
  app_save (bench.notebook, noted);
  g_assert_cmpint (decision_bench_get_standing (&bench), ==, WB_CRAFT_STANDING_IN_PART);
  aside = (WbRecord *) dup_sample (bench.notebook, decided);
  ((WbSample *) (gpointer) aside)->set_aside_cause = WB_CAUSE_OTHER;
  app_save (bench.notebook, aside);
  decision_bench_sign_what_is (&bench);
  back = (WbRecord *) dup_sample (bench.notebook, decided);
  ((WbSample *) (gpointer) back)->set_aside_cause = -1;
  app_save (bench.notebook, back);
  g_assert_cmpint (decision_bench_get_standing (&bench), ==, WB_CRAFT_STANDING_REOPENED);
  decision_bench_close (&bench);
}

/* Turned off when it was signed: what was over the limit then crosses it from the day on which it is on. */
static void
test_limit_on (void)
{
  DecisionBench bench;
  g_autoptr (WbRecord) record = NULL;
  gint64 decided;

  decision_bench_open (&bench);
  record = (WbRecord *) decision_bench_dup_decision (bench.notebook);
  decided = ((const WbDecision *) (gpointer) record)->cell;
  for (int off = 1; off >= 0; off--)
    {
      g_autoptr (GPtrArray) limits = wb_app_query_list_sync (bench.notebook, &wb_limit_type, NULL);

      for (guint i = 0; i < limits->len; i++)
        {
          WbLimit *limit = limits->pdata[i];

          if (limit->kind != WB_LIMIT_VESSEL)
            continue;
          limit->off = off;
          g_free (limit->off_reason);
          limit->off_reason = g_strdup (off ? "Tried by another." : NULL);
          app_save (bench.notebook, limit);
        }
      if (!off)
        break;
      decision_bench_burn (bench.notebook, decided, 88);
      decision_bench_sign_what_is (&bench);
    }
  g_assert_cmpint (decision_bench_get_standing (&bench), ==, WB_CRAFT_STANDING_REOPENED);
  decision_bench_close (&bench);
}

static void
set_wall_limit (WbAppNotebook *notebook,
                double         stop_c)
{
  g_autoptr (GPtrArray) limits = wb_app_query_list_sync (notebook, &wb_limit_type, NULL);

  for (guint i = 0; i < limits->len; i++)
    {
      WbLimit *limit = limits->pdata[i];

      if (limit->kind != WB_LIMIT_VESSEL)
        continue;
      limit->stop_at = stop_c;
      limit->ask_at = MIN (limit->ask_at, stop_c);
      app_save (notebook, limit);
    }
}

/* Tightened, it is crossed by what kept it; what was known as over it stays known, wherever it is moved meanwhile. */
static void
test_tightened (void)
{
  DecisionBench bench;
  g_autoptr (WbRecord) record = NULL;
  g_autoptr (GPtrArray) touched = NULL;
  g_autoptr (GError) error = NULL;
  const WbCraftTouched *change;
  gint64 decided;

  decision_bench_open (&bench);
  record = (WbRecord *) decision_bench_dup_decision (bench.notebook);
  decided = ((const WbDecision *) (gpointer) record)->cell;
  set_wall_limit (bench.notebook, 95);
  decision_bench_burn (bench.notebook, decided, 88);
  decision_bench_sign_what_is (&bench);
  set_wall_limit (bench.notebook, 89);
  g_assert_cmpint (decision_bench_get_standing (&bench), ==, WB_CRAFT_STANDING_IN_PART);
  set_wall_limit (bench.notebook, 86);
  g_assert_cmpint (decision_bench_get_standing (&bench), ==, WB_CRAFT_STANDING_REOPENED);
  touched = wb_app_touched_list_sync (bench.notebook, 0, &error);
  g_assert_no_error (error);
  change = ((const WbAppTouched *) touched->pdata[0])->changes->pdata[0];
  g_assert_cmpint (change->kind, ==, WB_CRAFT_TOUCHED_CROSSED);
  g_assert_true (g_str_has_prefix (change->what, "The limits changed, and one is crossed in HF-1: "));
  g_assert_nonnull (strstr (change->what, "88"));
  /* signed against it: tighter or looser, it is over the limit as it was known to be */
  decision_bench_sign_what_is (&bench);
  set_wall_limit (bench.notebook, 87);
  set_wall_limit (bench.notebook, 84);
  g_assert_cmpint (decision_bench_get_standing (&bench), ==, WB_CRAFT_STANDING_IN_PART);
  decision_bench_close (&bench);
}

static gint64
copy_protocol (WbAppNotebook *notebook,
               gint64         id,
               double         stop_c)
{
  g_autoptr (GPtrArray) protocols = wb_app_query_list_sync (notebook, &wb_protocol_type, NULL);
  g_autoptr (GPtrArray) limits = wb_app_query_list_by_sync (notebook, &wb_limit_type, "protocol", id, NULL);
  gint64 copied = 0;

  for (guint i = 0; i < protocols->len; i++)
    if (((const WbRecord *) protocols->pdata[i])->id == id)
      {
        WbProtocol *protocol = protocols->pdata[i];

        protocol->record.id = 0;
        g_free (protocol->name);
        protocol->name = g_strdup ("Tighter");
        copied = app_save (notebook, protocols->pdata[i]);
      }
  for (guint i = 0; i < limits->len; i++)
    {
      WbLimit *limit = limits->pdata[i];

      limit->record.id = 0;
      limit->protocol = copied;
      limit->stop_at = limit->kind == WB_LIMIT_VESSEL ? stop_c : limit->stop_at;
      app_save (notebook, limit);
    }
  return copied;
}

/* So does another protocol, whose limit was as tight long before the signature. */
static void
test_other_protocol (void)
{
  DecisionBench bench;
  g_autoptr (WbRecord) record = NULL;
  g_autoptr (GPtrArray) experiments = NULL;
  gint64 tighter = 0;

  decision_bench_open (&bench);
  record = (WbRecord *) decision_bench_dup_decision (bench.notebook);
  set_wall_limit (bench.notebook, 95);
  experiments = wb_app_query_list_sync (bench.notebook, &wb_experiment_type, NULL);
  tighter = copy_protocol (bench.notebook, bench.answer->data->protocol->record.id, 80);
  decision_bench_burn (bench.notebook, ((const WbDecision *) (gpointer) record)->cell, 88);
  decision_bench_sign_what_is (&bench);
  for (guint i = 0; i < experiments->len; i++)
    if (((const WbRecord *) experiments->pdata[i])->id == bench.experiment)
      {
        ((WbExperiment *) experiments->pdata[i])->protocol = tighter;
        app_save (bench.notebook, experiments->pdata[i]);
      }
  g_assert_cmpint (decision_bench_get_standing (&bench), ==, WB_CRAFT_STANDING_REOPENED);
  decision_bench_close (&bench);
}

void
test_app_decision_news_add (void)
{
  g_test_add_func ("/app/decision/a-candle-that-is-moved-to-the-recipe-reopens-it", test_moved);
  g_test_add_func ("/app/decision/a-note-on-a-known-crossing-is-no-news", test_noted);
  g_test_add_func ("/app/decision/a-limit-that-is-turned-on-again-reopens-it", test_limit_on);
  g_test_add_func ("/app/decision/a-limit-that-is-tightened-reopens-it", test_tightened);
  g_test_add_func ("/app/decision/a-protocol-with-a-tighter-limit-reopens-it", test_other_protocol);
}
