/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"
#include "wb-app-check-burn.h"
#include "wb-app-demo.h"
#include "wb-app-query.h"
#include "wb-clock.h"

#include <math.h>

/* Burns a sample of that combination once more, as a check, with one reading at its end. */
static void
burn_check (WbAppNotebook *notebook,
            gint64         experiment,
            gint64         cell,
            double         vessel_c)
{
  g_autoptr (GPtrArray) samples = wb_app_query_list_by_sync (notebook, &wb_sample_type, "cell", cell, NULL);
  g_autoptr (WbRecord) burn_record = wb_record_new (&wb_burn_type), reading_record = wb_record_new (&wb_reading_type);
  WbBurn *burn = (WbBurn *) (gpointer) burn_record;
  WbReading *reading = (WbReading *) (gpointer) reading_record;

  g_assert_cmpuint (samples->len, >, 0);
  burn->sample = ((const WbRecord *) samples->pdata[0])->id;
  burn->number = 90;
  burn->kind = WB_BURN_CHECK;
  burn->lit_at = wb_clock_now (wb_clock_get ());
  reading->burn = app_save (notebook, burn);
  reading->elapsed_min = 240;
  reading->source = WB_SOURCE_TYPED;
  for (int i = 0; i < WB_N_COLUMNS; i++)
    reading->values[i] = NAN;
  reading->values[WB_COLUMN_VESSEL_C] = vessel_c;
  reading->values[WB_COLUMN_ROOM_C] = 21;
  app_save (notebook, reading);
}

static WbDecision *
dup_decision (WbAppNotebook *notebook)
{
  g_autoptr (GPtrArray) decisions = wb_app_query_list_sync (notebook, &wb_decision_type, NULL);

  g_assert_cmpuint (decisions->len, ==, 1);
  return wb_record_copy (decisions->pdata[0]);
}

static void
test_own (void)
{
  g_autofree char *path = app_new_path ();
  g_autoptr (GError) error = NULL;
  WbAppNotebook *notebook;
  g_autoptr (WbRecord) record = NULL;
  g_autoptr (GPtrArray) none = NULL, checks = NULL;
  const WbDecision *decision;
  const WbCraftCheckBurn *check;

  g_assert_true (wb_app_demo_write (path, NULL));
  notebook = app_open (path);
  record = (WbRecord *) dup_decision (notebook);
  decision = (const WbDecision *) (gpointer) record;
  none = wb_app_check_burns_sync (notebook, decision->experiment, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (none->len, ==, 0);
  burn_check (notebook, decision->experiment, decision->cell, 90);
  checks = wb_app_check_burns_sync (notebook, decision->experiment, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (checks->len, ==, 1);
  check = checks->pdata[0];
  g_assert_cmpstr (check->approved, ==, "HF-1");
  g_assert_true (check->crossed);
  g_assert_cmpint (check->checks[WB_CRAFT_CHECK_VESSEL].state, ==, WB_CRAFT_CHECK_ABOVE);
  g_assert_cmpuint (check->checks[WB_CRAFT_CHECK_VESSEL].n, >, 2);
  g_assert_cmpint (check->checks[WB_CRAFT_CHECK_DEPTH].state, ==, WB_CRAFT_CHECK_NOT_READ);
  app_close (notebook);
}

/* The next batch is an experiment of its own: the recipe finds the decision. */
static void
test_next_batch (void)
{
  g_autofree char *path = app_new_path ();
  g_autoptr (GError) error = NULL;
  WbAppNotebook *notebook;
  g_autoptr (WbRecord) record = NULL, decided = NULL;
  g_autoptr (GPtrArray) experiments = NULL, cells = NULL, checks = NULL, others = NULL;
  const WbDecision *decision;
  gint64 next = 0;

  g_assert_true (wb_app_demo_write (path, NULL));
  notebook = app_open (path);
  record = (WbRecord *) dup_decision (notebook);
  decision = (const WbDecision *) (gpointer) record;
  experiments = wb_app_query_list_sync (notebook, &wb_experiment_type, NULL);
  for (guint i = 0; i < experiments->len; i++)
    if (g_str_equal (((const WbExperiment *) experiments->pdata[i])->code, "HA-1"))
      next = ((const WbRecord *) experiments->pdata[i])->id;
  cells = wb_app_query_list_by_sync (notebook, &wb_cell_type, "experiment", decision->experiment, NULL);
  for (guint i = 0; i < cells->len; i++)
    if (((const WbRecord *) cells->pdata[i])->id == decision->cell)
      decided = wb_record_copy (cells->pdata[i]);
  others = wb_app_query_list_by_sync (notebook, &wb_cell_type, "experiment", next, NULL);
  /* poured with the wick that was decided, in the same wax */
  ((WbCell *) others->pdata[0])->vessel = ((WbCell *) (gpointer) decided)->vessel;
  ((WbCell *) others->pdata[0])->wick = ((WbCell *) (gpointer) decided)->wick;
  ((WbCell *) others->pdata[0])->fragrance = ((WbCell *) (gpointer) decided)->fragrance;
  ((WbCell *) others->pdata[0])->load_pct = ((WbCell *) (gpointer) decided)->load_pct;
  app_save (notebook, others->pdata[0]);
  burn_check (notebook, next, ((const WbRecord *) others->pdata[0])->id, 48);
  burn_check (notebook, next, ((const WbRecord *) others->pdata[1])->id, 48);
  checks = wb_app_check_burns_sync (notebook, next, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (checks->len, ==, 2);
  for (guint i = 0; i < 2; i++)
    {
      const WbCraftCheckBurn *check = checks->pdata[i];
      g_autofree char *text = wb_craft_check_burn_dup_text (check, FALSE);

      /* another wick is another recipe */
      if (check->approved == NULL)
        g_assert_nonnull (strstr (text, "No decision is of its recipe"));
      else
        g_assert_cmpstr (check->approved, ==, "HF-1");
    }
  g_assert_true ((((const WbCraftCheckBurn *) checks->pdata[0])->approved == NULL) != (((const WbCraftCheckBurn *) checks->pdata[1])->approved == NULL));
  app_close (notebook);
}

void
test_app_check_burn_add (void)
{
  g_test_add_func ("/app/check-burn/it-is-held-against-its-own-decision", test_own);
  g_test_add_func ("/app/check-burn/the-next-batch-finds-the-decision-by-its-recipe", test_next_batch);
}
