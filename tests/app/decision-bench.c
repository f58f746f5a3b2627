/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "decision-bench.h"

#include "app-loop.h"
#include "wb-app-answers.h"
#include "wb-app-demo.h"
#include "wb-app-query.h"

WbDecision *
decision_bench_dup_decision (WbAppNotebook *notebook)
{
  g_autoptr (GPtrArray) decisions = wb_app_query_list_sync (notebook, &wb_decision_type, NULL);

  g_assert_cmpuint (decisions->len, ==, 1);
  return wb_record_copy (decisions->pdata[0]);
}

/* Of several vessels and scents the demo has decided one. */
guint
decision_bench_find_group (const WbCraftAnswer *answer,
                           gint64               cell)
{
  for (guint g = 0; g < answer->ranking->n_groups; g++)
    for (guint i = 0; i < answer->ranking->groups[g].n_cells; i++)
      if (wb_dataset_get_cell (answer->data, answer->ranking->groups[g].cells[i].cell)->record.id == cell)
        return g;
  g_assert_not_reached ();
}

/* Each test has a demo of its own; they are the same, and so is what is worked out of them, once. */
void
decision_bench_open (DecisionBench *bench)
{
  static char *demo;
  static gsize length;
  static WbCraftAnswer *answer;
  g_autofree char *path = app_new_path ();
  g_autoptr (GError) error = NULL;
  g_autoptr (WbRecord) decision = NULL;

  if (demo == NULL)
    {
      g_assert_true (wb_app_demo_write (path, &error));
      g_assert_true (g_file_get_contents (path, &demo, &length, &error));
    }
  else
    g_assert_true (g_file_set_contents (path, demo, (gssize) length, &error));
  bench->notebook = app_open (path);
  decision = (WbRecord *) decision_bench_dup_decision (bench->notebook);
  bench->experiment = ((WbDecision *) (gpointer) decision)->experiment;
  if (answer == NULL)
    answer = wb_app_answers_compute_sync (bench->notebook, bench->experiment, WB_CRAFT_WITHIN_SCENT, 0, NULL, &error);
  g_assert_no_error (error);
  bench->answer = wb_craft_answer_ref (answer);
  bench->group = decision_bench_find_group (bench->answer, ((WbDecision *) (gpointer) decision)->cell);
}

void
decision_bench_close (DecisionBench *bench)
{
  wb_craft_answer_unref (bench->answer);
  app_close (bench->notebook);
}

WbCraftStanding
decision_bench_get_standing (DecisionBench *bench)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppDecisions) all = wb_app_decisions_sync (bench->notebook, bench->experiment, &error);
  const WbAppTouched *decision;

  g_assert_no_error (error);
  decision = wb_app_decisions_find (all, bench->answer->data, &bench->answer->ranking->groups[bench->group]);
  g_assert_nonnull (decision);
  return wb_craft_touched_get_standing (decision->changes, decision->decision);
}

/* A check burn of a sample of that cell with one reading. */
gint64
decision_bench_burn_with (WbAppNotebook *notebook,
                          gint64         cell,
                          WbColumn       column,
                          double         value)
{
  g_autoptr (GPtrArray) samples = wb_app_query_list_by_sync (notebook, &wb_sample_type, "cell", cell, NULL);
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GArray) ids = NULL;
  g_autoptr (GError) error = NULL;
  static gint64 number = 90; /* none that the demo has */
  WbBurn *lit = wb_record_new (&wb_burn_type);
  WbReading *reading = wb_record_new (&wb_reading_type);

  lit->record.id = -1;
  lit->sample = ((const WbRecord *) samples->pdata[0])->id;
  lit->number = number++;
  lit->kind = WB_BURN_CHECK;
  g_ptr_array_add (records, lit);
  reading->burn = -1;
  reading->source = WB_SOURCE_TYPED;
  reading->elapsed_min = 60;
  reading->values[column] = value;
  g_ptr_array_add (records, reading);
  wb_app_notebook_save_sync (notebook, "Check", records, &ids, &error);
  g_assert_no_error (error);
  return g_array_index (ids, gint64, 1);
}

/* Read at that wall. */
gint64
decision_bench_burn (WbAppNotebook *notebook,
                     gint64         cell,
                     double         wall_c)
{
  return decision_bench_burn_with (notebook, cell, WB_COLUMN_VESSEL_C, wall_c);
}

/* All that is in the notebook by now was known; no answer is worked out for it. */
void
decision_bench_sign_what_is (DecisionBench *bench)
{
  g_autoptr (WbRecord) record = (WbRecord *) decision_bench_dup_decision (bench->notebook);
  WbDecision *decision = (WbDecision *) (gpointer) record;

  decision->signed_at.utc_us += G_USEC_PER_SEC;
  decision->answer_entry = wb_app_notebook_get_last_entry (bench->notebook);
  app_save (bench->notebook, decision);
  g_assert_cmpint (decision_bench_get_standing (bench), ==, WB_CRAFT_STANDING_IN_PART);
}
