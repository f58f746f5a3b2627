/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-evening.h"
#include "wb-app-bench-plan.h"
#include "wb-app-plan.h"
#include "wb-clock.h"
#include "wb-sample.h"

#include <math.h>
#include <string.h>

/* An experiment of seven sizes, three of each. */
typedef struct
{
  WbAppNotebook *notebook;
  gint64         experiment;
} Seven;

static void
set_places (WbAppNotebook *notebook,
            double         places)
{
  g_autoptr (WbRecord) settings = wb_record_copy (wb_app_notebook_get_settings (notebook));

  ((WbNotebook *) settings)->bench_places = places;
  app_save (notebook, settings);
}

static void
seven_set_up (Seven *seven)
{
  g_autoptr (WbAppPlan) plan = NULL;
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  gint64 wax, vessel;

  seven->notebook = app_new_notebook ();
  wax = app_add_wax (seven->notebook, "Heath blend");
  vessel = app_add_vessel (seven->notebook, "Tern", 76);
  for (int i = 1; i <= 7; i++)
    {
      g_autofree char *size = g_strdup_printf ("S-%d", i);

      app_add_wick (seven->notebook, "Sedge", size, i);
    }
  plan = wb_app_plan_new (seven->notebook, wb_app_query_materials_sync (seven->notebook, NULL));
  wb_app_plan_get_experiment (plan)->title = g_strdup ("Which Sedge for the Tern");
  wb_app_plan_get_experiment (plan)->wax = wax;
  wb_app_plan_set_vessel (plan, vessel, TRUE);
  for (guint i = 0; i < 7; i++)
    wb_app_plan_set_wick (plan, ((WbRecord *) g_ptr_array_index (wb_app_plan_get_materials (plan)->wicks, i))->id, TRUE);
  wb_app_plan_add_scent (plan, 0, 0, WB_BASIS_WAX);
  wb_app_plan_set_samples_per_cell (plan, 3);
  wb_app_plan_save_async (plan, NULL, app_keep_result_cb, &result);
  seven->experiment = wb_app_plan_save_finish (plan, app_wait_result (&result), &error);
  g_assert_no_error (error);
}

static void
seven_tear_down (Seven *seven)
{
  app_close (seven->notebook);
}

static WbAppBenchPlan *
load (Seven *seven)
{
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  WbAppBenchPlan *plan;

  wb_app_bench_plan_load_async (seven->notebook, seven->experiment, NULL, app_keep_result_cb, &result);
  plan = wb_app_bench_plan_load_finish (seven->notebook, app_wait_result (&result), &error);
  g_assert_no_error (error);
  return plan;
}

static void
make (Seven *seven)
{
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppJob) job = wb_app_job_new ();

  wb_app_bench_plan_make_async (seven->notebook, seven->experiment, job, app_keep_result_cb, &result);
  g_assert_true (wb_app_bench_plan_make_finish (seven->notebook, app_wait_result (&result), &error));
  g_assert_no_error (error);
}

static char *
move (Seven   *seven,
      gint64   sample,
      gint64   cohort,
      GError **error)
{
  g_autoptr (GAsyncResult) result = NULL;

  wb_app_bench_plan_move_async (seven->notebook, seven->experiment, sample, cohort, NULL, app_keep_result_cb, &result);
  return wb_app_bench_plan_move_finish (seven->notebook, app_wait_result (&result), error);
}

static gint64
id_of (const WbAppBenchPlan *plan,
       guint                 sample)
{
  return wb_dataset_get_sample (plan->data, sample)->record.id;
}

static void
add_burn (Seven *seven,
          gint64 sample,
          int    number)
{
  g_autoptr (WbRecord) record = wb_record_new (&wb_burn_type);
  WbBurn *burn = (WbBurn *) record;

  burn->uuid = wb_uuid_new ();
  burn->sample = sample;
  burn->number = number;
  burn->kind = WB_BURN_STANDARD;
  app_save (seven->notebook, record);
}

/* On three places: seven cohorts, in one entry. 200 g of water at 0.9 are 180 g, 50 of 60 mm of them 150 g: at 5 g/h and 4 h 8 evenings. */
static void
test_make (void)
{
  g_autoptr (WbAppBenchPlan) none = NULL, made = NULL, undone = NULL, redone = NULL;
  gint64 entry;
  Seven seven;

  seven_set_up (&seven);
  none = load (&seven);
  g_assert_cmpint (none->cohorts->kind, ==, WB_CRAFT_COHORTS_NONE);
  g_assert_cmpuint (none->places, ==, WB_APP_BENCH_PLAN_USUAL_PLACES);
  g_assert_cmpint (none->running, ==, 0);
  set_places (seven.notebook, 3);
  entry = wb_app_notebook_get_last_entry (seven.notebook);
  make (&seven);
  g_assert_cmpint (wb_app_notebook_get_last_entry (seven.notebook), ==, entry + 1);
  g_assert_cmpstr (wb_app_notebook_get_undo_label (seven.notebook), ==, "Divide E-1 into 7 cohorts");
  made = load (&seven);
  g_assert_cmpuint (made->places, ==, 3);
  g_assert_cmpuint (made->cohorts->n_cohorts, ==, 7);
  g_assert_cmpfloat_with_epsilon (made->cohorts->efficiency, 7.0 / 9, 1e-9);
  g_assert_cmpint (made->running, ==, 1);
  g_assert_cmpint (made->highest, ==, 7);
  g_assert_cmpfloat (wb_app_bench_plan_get_evenings (made, 1), ==, 8);
  g_assert_cmpfloat (wb_app_bench_plan_get_evenings (made, 9), ==, 0);
  /* made anew it is the same, and nothing is written */
  make (&seven);
  g_assert_cmpint (wb_app_notebook_get_last_entry (seven.notebook), ==, entry + 1);
  app_undo (seven.notebook, FALSE);
  undone = load (&seven);
  g_assert_cmpint (undone->cohorts->kind, ==, WB_CRAFT_COHORTS_NONE);
  app_undo (seven.notebook, TRUE);
  redone = load (&seven);
  g_assert_cmpmem (redone->cohorts->cohorts, 21 * sizeof (gint64), made->cohorts->cohorts, 21 * sizeof (gint64));
  seven_tear_down (&seven);
}

/* One sample moved: one entry that says what it costs, and is taken back. */
static void
test_move (void)
{
  g_autoptr (WbAppBenchPlan) made = NULL, moved = NULL, back = NULL;
  g_autofree char *words = NULL, *alone = NULL, *nowhere = NULL;
  g_autoptr (GError) error = NULL;
  gint64 to, entry;
  Seven seven;

  seven_set_up (&seven);
  set_places (seven.notebook, 3);
  make (&seven);
  made = load (&seven);
  to = made->cohorts->cohorts[0] % 7 + 1;
  entry = wb_app_notebook_get_last_entry (seven.notebook);
  words = move (&seven, id_of (made, 0), to, &error);
  g_assert_no_error (error);
  g_assert_nonnull (strstr (words, "That costs"));
  g_assert_nonnull (strstr (words, "78"));
  g_assert_cmpint (wb_app_notebook_get_last_entry (seven.notebook), ==, entry + 1);
  moved = load (&seven);
  g_assert_cmpint (moved->cohorts->cohorts[0], ==, to);
  g_assert_cmpfloat (moved->cohorts->efficiency, <, made->cohorts->efficiency);
  app_undo (seven.notebook, FALSE);
  back = load (&seven);
  g_assert_cmpint (back->cohorts->cohorts[0], ==, made->cohorts->cohorts[0]);
  /* one more than there are is a new one; beyond that there is none */
  alone = move (&seven, id_of (made, 0), 8, &error);
  g_assert_no_error (error);
  g_assert_nonnull (alone);
  nowhere = move (&seven, id_of (made, 0), 10, &error);
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED);
  g_assert_null (nowhere);
  seven_tear_down (&seven);
}

/* A sample that was burnt keeps its cohort, when one is moved by hand and when the plan is made anew on another bench. */
static void
test_burnt (void)
{
  g_autoptr (WbAppBenchPlan) made = NULL, burnt = NULL, anew = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *refusal = NULL;
  guint sample = 20;
  Seven seven;

  seven_set_up (&seven);
  set_places (seven.notebook, 3);
  make (&seven);
  made = load (&seven);
  add_burn (&seven, id_of (made, sample), 1);
  g_assert_null (move (&seven, id_of (made, sample), made->cohorts->cohorts[sample] % 7 + 1, &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED);
  g_assert_nonnull (strstr (error->message, wb_dataset_get_sample (made->data, sample)->code));
  burnt = load (&seven);
  g_assert_cmpint (burnt->running, ==, made->cohorts->cohorts[sample]);
  refusal = wb_app_bench_plan_dup_refusal (burnt, sample);
  g_assert_cmpstr (refusal, ==, error->message);
  g_assert_null (wb_app_bench_plan_dup_refusal (burnt, 0));
  set_places (seven.notebook, 11);
  make (&seven);
  anew = load (&seven);
  g_assert_cmpuint (anew->cohorts->n_cohorts, ==, 2);
  g_assert_cmpint (anew->cohorts->cohorts[sample], ==, made->cohorts->cohorts[sample]);
  seven_tear_down (&seven);
}

/* Cancelled before it began, or of no experiment: nothing is written, and the job has come to its end. */
static void
test_not_made (void)
{
  g_autoptr (GAsyncResult) cancelled = NULL, missing = NULL;
  g_autoptr (GError) stopped = NULL, unknown = NULL;
  g_autoptr (WbAppJob) job = wb_app_job_new ();
  gint64 entry;
  Seven seven;

  seven_set_up (&seven);
  entry = wb_app_notebook_get_last_entry (seven.notebook);
  set_places (seven.notebook, 3);
  wb_app_job_cancel (job);
  wb_app_bench_plan_make_async (seven.notebook, seven.experiment, job, app_keep_result_cb, &cancelled);
  g_assert_false (wb_app_bench_plan_make_finish (seven.notebook, app_wait_result (&cancelled), &stopped));
  g_assert_error (stopped, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  wb_app_bench_plan_load_async (seven.notebook, 99999, NULL, app_keep_result_cb, &missing);
  g_assert_null (wb_app_bench_plan_load_finish (seven.notebook, app_wait_result (&missing), &unknown));
  g_assert_error (unknown, WB_APP_ERROR, WB_APP_ERROR_UNKNOWN);
  g_assert_cmpint (wb_app_notebook_get_last_entry (seven.notebook), ==, entry + 1);
  g_clear_object (&cancelled);
  g_clear_object (&missing);
  seven_tear_down (&seven);
}

static void
put_into_cohort (Evening          *evening,
                 WbAppBenchSample *sample,
                 gint64            cohort)
{
  g_autoptr (WbRecord) record = wb_record_copy (wb_app_bench_sample_get_record (sample));

  ((WbSample *) record)->cohort = cohort;
  app_save (evening->notebook, record);
}

static gboolean
waits (gpointer sample)
{
  return wb_app_bench_sample_get_waits_for_cohort (sample) == 2;
}

static gboolean
waits_no_more (gpointer sample)
{
  return wb_app_bench_sample_get_waits_for_cohort (sample) == 0;
}

/* At the bench the cohort whose turn it is comes first, while it cools too; another is lit all the same, and then waits no more. */
static void
test_turn (void)
{
  WbAppBenchSample *first, *later;
  Evening evening;

  evening_set_up (&evening);
  wb_clock_advance (wb_clock_get (), 3 * DAY_US);
  wb_app_bench_update (evening.bench);
  later = evening_nth (&evening, 0);
  first = evening_nth (&evening, 1);
  g_assert_cmpint (wb_app_bench_sample_get_state (first), ==, WB_APP_BENCH_FIT);
  put_into_cohort (&evening, later, 2);
  put_into_cohort (&evening, first, 1);
  app_wait_until (waits, later, "the cohorts");
  g_assert_cmpint (wb_app_bench_sample_get_waits_for_cohort (first), ==, 0);
  g_assert_true (evening_nth (&evening, 0) != later);
  g_assert_true (evening_nth (&evening, g_list_model_get_n_items (G_LIST_MODEL (evening.bench)) - 1) == later);

  evening_open_session (&evening);
  evening_light (&evening, first);
  wb_clock_advance (wb_clock_get (), 4 * HOUR_US);
  evening_snuff (&evening, first);
  evening_wait_for_state (first, WB_APP_BENCH_COOLING);
  g_assert_true (waits (later));
  g_assert_true (evening_nth (&evening, g_list_model_get_n_items (G_LIST_MODEL (evening.bench)) - 1) == later);

  evening_light (&evening, later);
  app_wait_until (waits_no_more, later, "it to wait no more");
  g_assert_cmpint (wb_app_bench_sample_get_state (later), ==, WB_APP_BENCH_ALIGHT);
  g_assert_true (evening_nth (&evening, 0) == later);
  evening_tear_down (&evening);
}

void
test_app_bench_plan_add (void)
{
  g_test_add_func ("/app/bench-plan/the-cohort-whose-turn-it-is", test_turn);
  g_test_add_func ("/app/bench-plan/made-in-one-entry", test_make);
  g_test_add_func ("/app/bench-plan/one-moved-by-hand", test_move);
  g_test_add_func ("/app/bench-plan/what-was-burnt-stays", test_burnt);
  g_test_add_func ("/app/bench-plan/not-made", test_not_made);
}
