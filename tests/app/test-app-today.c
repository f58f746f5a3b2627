/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-evening.h"
#include "wb-app-draft.h"
#include "wb-app-import.h"
#include "wb-app-today.h"
#include "wb-clock.h"

/* What Today says of an experiment that came in whole from a file, invented. */

static gboolean
offers_light (gpointer today)
{
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (today)); i++)
    {
      g_autoptr (WbAppDue) due = g_list_model_get_item (G_LIST_MODEL (today), i);

      if (wb_app_due_get_kind (due) == WB_APP_DUE_LIGHT)
        return TRUE;
    }
  return FALSE;
}

static gboolean
has_sample (gpointer bench)
{
  return wb_app_bench_get_loaded (bench) && g_list_model_get_n_items (G_LIST_MODEL (bench)) > 0;
}

/* One burn, lit then; "": nobody says when. */
static void
import (WbAppNotebook *notebook,
        const char    *lit)
{
  g_autofree char *file = g_build_filename (g_get_user_data_dir (), "old.csv", NULL);
  g_autofree char *text = g_strdup_printf ("experiment,vessel,inner_diameter_mm,wax,wick_series,wick_size,load_pct,sample,burn,lit_at,elapsed_min,pool_mm\n"
                                           "Old trial,Tern,70,Marsh,Sedge,1,0,A1,1,%s,60,30\n", lit);
  g_autoptr (GAsyncResult) looked = NULL, written = NULL;
  g_autoptr (WbAppImportSummary) seen = NULL, summary = NULL;
  g_autoptr (GError) error = NULL;

  g_mkdir_with_parents (g_get_user_data_dir (), 0700);
  g_assert_true (g_file_set_contents (file, text, -1, NULL));
  wb_app_import_look_async (notebook, file, NULL, NULL, app_keep_result_cb, &looked);
  seen = wb_app_import_finish (notebook, app_wait_result (&looked), &error);
  g_assert_no_error (error);
  g_assert_cmpint (seen->experiment, ==, 0);
  wb_app_import_write_async (notebook, seen, NULL, app_keep_result_cb, &written);
  summary = wb_app_import_finish (notebook, app_wait_result (&written), &error);
  g_assert_no_error (error);
  g_assert_cmpuint (summary->accepted, ==, 1);
  /* What has come in can be gone to. */
  g_assert_cmpint (summary->experiment, >, 0);
}

static void
test_put_away (void)
{
  for (int dated = 0; dated < 2; dated++)
    {
      WbInstant now = wb_clock_now (wb_clock_get ());
      g_autofree char *ten_days_ago = wb_instant_format (wb_clock_at (wb_clock_get (), now.utc_us - 10 * DAY_US));
      WbAppNotebook *notebook = app_new_notebook ();
      WbAppExperiments *experiments;
      WbAppBench *bench;
      WbAppToday *today;
      g_autoptr (WbAppBenchSample) sample = NULL;

      import (notebook, dated ? ten_days_ago : "");
      bench = wb_app_bench_new (notebook);
      experiments = wb_app_experiments_new (notebook);
      today = wb_app_today_new (bench, experiments);
      app_wait_until (has_sample, bench, "the bench to load");
      app_wait_until (offers_light, today, "the candle to be offered");
      wb_clock_advance (wb_clock_get (), 79 * DAY_US);
      wb_app_bench_update (bench);
      g_assert_true (offers_light (today));
      wb_clock_advance (wb_clock_get (), 2 * DAY_US);
      wb_app_bench_update (bench);
      /* Ninety-one days: put away. Without a date it may have burnt last night. */
      g_assert_true (offers_light (today) != dated);
      sample = g_list_model_get_item (G_LIST_MODEL (bench), 0);
      g_assert_cmpint (wb_app_bench_sample_get_state (sample), ==, WB_APP_BENCH_FIT);
      g_clear_object (&sample);
      g_assert_finalize_object (today);
      g_object_unref (experiments);
      g_assert_finalize_object (bench);
      app_close (notebook);
    }
}

static gboolean
has_draft (gpointer today)
{
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (today)); i++)
    {
      g_autoptr (WbAppDue) due = g_list_model_get_item (G_LIST_MODEL (today), i);

      if (wb_app_due_get_kind (due) == WB_APP_DUE_DRAFT)
        return wb_app_due_get_experiment (due) > 0;
    }
  return FALSE;
}

static gboolean
has_experiment (gpointer experiments)
{
  return g_list_model_get_n_items (G_LIST_MODEL (experiments)) > 0;
}

static char *
dup_group (WbAppExperiments *experiments,
           const char       *name)
{
  g_autoptr (WbAppExperiment) experiment = g_list_model_get_item (G_LIST_MODEL (experiments), 0);
  g_autofree char *uuid = wb_uuid_format (&wb_app_experiment_get_record (experiment)->uuid);

  return g_strconcat (uuid, WB_APP_DRAFT_POUR_DIVIDER, name, NULL);
}

/* A batch that is half written down waits; a typed overage alone is no work that is lost. */
static void
test_half_typed (void)
{
  Evening evening;
  WbAppExperiments *experiments;
  WbAppToday *today;
  WbAppDraft *draft;
  g_autofree char *terms = NULL, *batch = NULL;
  g_autoptr (GKeyFile) file = g_key_file_new ();

  evening_set_up (&evening);
  experiments = wb_app_experiments_new (evening.notebook);
  today = wb_app_today_new (evening.bench, experiments);
  draft = wb_app_draft_of (evening.notebook, "pour");
  app_wait_until (has_experiment, experiments, "the experiments");
  terms = dup_group (experiments, WB_APP_DRAFT_POUR_TERMS);
  batch = dup_group (experiments, "B1");
  g_key_file_set_string (file, terms, "overage_pct", "5");
  g_key_file_set_string (file, batch, "note", "a skin");
  wb_app_draft_set (draft, terms, file);
  g_assert_false (has_draft (today));
  wb_app_draft_set (draft, batch, file);
  g_assert_true (has_draft (today));
  wb_app_draft_drop (draft, batch);
  g_assert_false (has_draft (today));
  app_finalize (today, "Today");
  app_finalize (experiments, "the experiments");
  evening_tear_down (&evening);
}

static WbAppDue *
dup_unsigned (WbAppToday *today)
{
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (today)); i++)
    {
      g_autoptr (WbAppDue) due = g_list_model_get_item (G_LIST_MODEL (today), i);

      if (wb_app_due_get_kind (due) == WB_APP_DUE_UNSIGNED)
        return g_steal_pointer (&due);
    }
  return NULL;
}

/* A decision that is half typed waits, and says of which recipe; a typed name alone is no work that is lost. */
static void
test_unsigned (void)
{
  Evening evening;
  WbAppExperiments *experiments;
  WbAppToday *today;
  WbAppDraft *draft;
  g_autoptr (WbAppDue) due = NULL, none = NULL;
  g_autofree char *signer = NULL, *recipe = NULL;
  g_autoptr (GKeyFile) file = g_key_file_new ();

  evening_set_up (&evening);
  experiments = wb_app_experiments_new (evening.notebook);
  today = wb_app_today_new (evening.bench, experiments);
  draft = wb_app_draft_of (evening.notebook, "decision");
  app_wait_until (has_experiment, experiments, "the experiments");
  signer = dup_group (experiments, WB_APP_DRAFT_DECISION_SIGNER);
  recipe = dup_group (experiments, "17");
  g_key_file_set_string (file, signer, "signed_by", "Wren");
  g_key_file_set_string (file, recipe, "not_tested", "Draught");
  g_key_file_set_string (file, recipe, WB_APP_DRAFT_DECISION_RECIPE, "Hob · B4");
  wb_app_draft_set (draft, signer, file);
  none = dup_unsigned (today);
  g_assert_null (none);
  wb_app_draft_set (draft, recipe, file);
  due = dup_unsigned (today);
  g_assert_nonnull (due);
  g_assert_cmpint (wb_app_due_get_cell (due), ==, 17);
  g_assert_cmpint (wb_app_due_get_experiment (due), >, 0);
  g_assert_cmpstr (wb_app_due_get_detail (due), ==, "Hob · B4");
  wb_app_draft_drop (draft, recipe);
  none = dup_unsigned (today);
  g_assert_null (none);
  app_finalize (today, "Today");
  app_finalize (experiments, "the experiments");
  evening_tear_down (&evening);
}

void
test_app_today_add (void)
{
  g_test_add_func ("/app/today/candles-of-an-old-file-are-not-offered", test_put_away);
  g_test_add_func ("/app/today/a-pour-half-written-down-waits", test_half_typed);
  g_test_add_func ("/app/today/a-decision-half-typed-waits", test_unsigned);
}
