/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-evening.h"

#include "wb-app-plan.h"
#include "wb-app-pour.h"
#include "wb-clock.h"

#include <math.h>

static gint64
add_wax (WbAppNotebook *notebook,
         double         smell_cure_days)
{
  g_autoptr (WbRecord) record = wb_record_new (&wb_wax_type);
  WbWax *wax = (WbWax *) record;

  wax->name = g_strdup ("Heath blend");
  wax->density = 0.9;
  wax->burn_cure_days = 3;
  wax->smell_cure_days = smell_cure_days;
  return app_save (notebook, record);
}

static void
plan_experiment (Evening *evening,
                 gboolean no_crack_limit,
                 guint    n_wicks,
                 double   smell_cure_days)
{
  gint64 wax = isnan (smell_cure_days) ? app_add_wax (evening->notebook, "Heath blend") : add_wax (evening->notebook, smell_cure_days);
  gint64 scent = isnan (smell_cure_days) ? 0 : app_add_fragrance (evening->notebook, "Quimber leaf");
  gint64 vessel = app_add_vessel (evening->notebook, "Tern", 76);
  gint64 wick = app_add_wick (evening->notebook, "Sedge", "S-3", 3);
  g_autoptr (WbAppPlan) plan = NULL;
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;

  plan = wb_app_plan_new (evening->notebook, wb_app_query_materials_sync (evening->notebook, NULL));
  wb_app_plan_get_experiment (plan)->title = g_strdup ("Which Sedge for the Tern");
  wb_app_plan_get_experiment (plan)->wax = wax;
  wb_app_plan_set_vessel (plan, vessel, TRUE);
  wb_app_plan_set_wick_choice (plan, wick, n_wicks, n_wicks > 1 ? 30 : NAN, TRUE);
  wb_app_plan_add_scent (plan, scent, scent != 0 ? 6 : 0, WB_BASIS_WAX);
  for (guint i = 0; no_crack_limit && i < wb_app_plan_get_limits (plan)->len; i++)
    {
      WbLimit *limit = g_ptr_array_index (wb_app_plan_get_limits (plan), i);

      if (limit->kind != WB_LIMIT_VESSEL_CRACK)
        continue;
      limit->off = TRUE;
      limit->off_reason = g_strdup ("tins do not crack");
    }
  wb_app_plan_save_async (plan, NULL, app_keep_result_cb, &result);
  evening->experiment = wb_app_plan_save_finish (plan, app_wait_result (&result), &error);
  g_assert_no_error (error);
}

static void
pour_batch (Evening *evening)
{
  g_autoptr (WbAppPour) pour = wb_app_pour_new (evening->notebook, evening->experiment);
  g_autoptr (GAsyncResult) result = NULL, marked = NULL;
  g_autoptr (GError) error = NULL;
  const WbAppPourBatch *batch;

  wb_app_pour_load_async (pour, NULL, app_keep_result_cb, &result);
  g_assert_true (wb_app_pour_load_finish (pour, app_wait_result (&result), &error));
  batch = g_ptr_array_index (wb_app_pour_get_batches (pour), 0);
  wb_app_pour_mark_async (pour, 0, batch->batch, NULL, NULL, NULL, NULL, NULL, NULL, app_keep_result_cb, &marked);
  g_assert_true (wb_app_pour_mark_finish (pour, app_wait_result (&marked), &error));
  g_assert_no_error (error);
}

gboolean
evening_is_loaded (gpointer bench)
{
  return wb_app_bench_get_loaded (bench);
}

static void
set_up (Evening *evening,
        gboolean no_crack_limit,
        guint    n_wicks,
        double   smell_cure_days)
{
  evening->notebook = app_new_notebook ();
  plan_experiment (evening, no_crack_limit, n_wicks, smell_cure_days);
  pour_batch (evening);
  evening->bench = wb_app_bench_new (evening->notebook);
  app_wait_until (evening_is_loaded, evening->bench, "the bench to load");
}

void
evening_set_up_limits (Evening *evening,
                       gboolean no_crack_limit)
{
  set_up (evening, no_crack_limit, 1, NAN);
}

void
evening_set_up_wicks (Evening *evening,
                      guint    n_wicks)
{
  set_up (evening, FALSE, n_wicks, NAN);
}

void
evening_set_up_scented (Evening *evening,
                        double   smell_cure_days)
{
  set_up (evening, FALSE, 1, smell_cure_days);
}

void
evening_set_up (Evening *evening)
{
  set_up (evening, FALSE, 1, NAN);
}

void
evening_tear_down (Evening *evening)
{
  app_wait_until (evening_is_loaded, evening->bench, "the bench to load");
  app_finalize (evening->bench, "everyone to let go of the bench");
  app_close (evening->notebook);
}

WbAppBenchSample *
evening_nth (Evening *evening,
             guint    n)
{
  g_autoptr (WbAppBenchSample) sample = g_list_model_get_item (G_LIST_MODEL (evening->bench), n);

  g_assert_nonnull (sample);
  return sample;
}

/* Waits for the save, and for the bench to have read it. */
typedef struct
{
  WbAppBenchSample *sample;
  WbAppBenchState   state;
} Wanted;

static gboolean
is_in_state (gpointer data)
{
  const Wanted *wanted = data;

  return wb_app_bench_sample_get_state (wanted->sample) == wanted->state;
}

void
evening_wait_for_state (WbAppBenchSample *sample,
                        WbAppBenchState   state)
{
  Wanted wanted = { sample, state };

  app_wait_until (is_in_state, &wanted, "the sample's new state");
}

gboolean
evening_finish (Evening       *evening,
                GAsyncResult **result,
                GError       **error)
{
  gboolean done = wb_app_bench_finish (evening->bench, app_wait_result (result), error);

  g_clear_object (result);
  return done;
}

static gboolean
has_session (gpointer bench)
{
  return wb_app_bench_get_session (bench) != NULL;
}

void
evening_open_session (Evening *evening)
{
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;

  wb_app_bench_open_session_async (evening->bench, "Kitchen", "Robin, until ten", TRUE, NULL, app_keep_result_cb, &result);
  g_assert_true (evening_finish (evening, &result, &error));
  g_assert_no_error (error);
  app_wait_until (has_session, evening->bench, "the session");
}

void
evening_light (Evening          *evening,
               WbAppBenchSample *sample)
{
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;

  wb_app_bench_light_async (evening->bench, wb_app_bench_sample_get_id (sample), WB_BURN_STANDARD, 6, "A1", WB_INSTANT_NONE, NULL,
                            FALSE, NULL, app_keep_result_cb, &result);
  g_assert_true (evening_finish (evening, &result, &error));
  g_assert_no_error (error);
  evening_wait_for_state (sample, WB_APP_BENCH_ALIGHT);
}

typedef struct
{
  WbAppBenchSample *sample;
  double            minute;
} Read;

static gboolean
has_read (gpointer data)
{
  return wb_app_bench_sample_get_last_min (((Read *) data)->sample) == ((Read *) data)->minute;
}

void
evening_wait_for_minute (WbAppBenchSample *sample,
                         double            minute)
{
  Read read = { sample, minute };

  app_wait_until (has_read, &read, "the bench to know the reading");
}

void
evening_read_flame (Evening          *evening,
                    WbAppBenchSample *sample,
                    double            flame_mm,
                    double            minute)
{
  g_autoptr (WbRecord) record = wb_record_new (&wb_reading_type);
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;

  ((WbReading *) record)->values[WB_COLUMN_FLAME_MM] = flame_mm;
  wb_app_bench_read_async (evening->bench, wb_app_bench_sample_get_id (sample), (WbReading *) record, NULL, app_keep_result_cb, &result);
  g_assert_true (evening_finish (evening, &result, &error));
  g_assert_no_error (error);
  evening_wait_for_minute (sample, minute);
}

void
evening_snuff (Evening          *evening,
               WbAppBenchSample *sample)
{
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;

  wb_app_bench_snuff_async (evening->bench, wb_app_bench_sample_get_id (sample), WB_EVENT_SNUFFED, NULL, NULL, app_keep_result_cb, &result);
  g_assert_true (evening_finish (evening, &result, &error));
  g_assert_no_error (error);
}

WbAppBenchSample *
evening_light_first (Evening *evening)
{
  WbAppBenchSample *sample;

  wb_clock_advance (wb_clock_get (), 3 * DAY_US);
  wb_app_bench_update (evening->bench);
  sample = evening_nth (evening, 0);
  evening_open_session (evening);
  evening_light (evening, sample);
  return sample;
}

WbAppBenchSample *
evening_set_up_lit (Evening *evening)
{
  evening_set_up (evening);
  return evening_light_first (evening);
}

void
evening_reopen (Evening    *evening,
                const char *path)
{
  evening->notebook = app_open (path);
  evening->bench = wb_app_bench_new (evening->notebook);
  app_wait_until (evening_is_loaded, evening->bench, "the bench to load");
}

void
evening_save_sheet (WbAppEvening *sheet)
{
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;

  wb_app_evening_save_async (sheet, NULL, app_keep_result_cb, &result);
  g_assert_true (wb_app_evening_save_finish (sheet, app_wait_result (&result), &error));
  g_assert_no_error (error);
}

gboolean
evening_is_asked_so (gpointer asked)
{
  const EveningAsked *wanted = asked;

  return wb_app_bench_is_unanswered (wanted->sample) == wanted->unanswered;
}
