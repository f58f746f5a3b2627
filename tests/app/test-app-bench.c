/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-evening.h"
#include "wb-app-query.h"
#include "wb-app-reminder.h"
#include "wb-app-today.h"
#include "wb-clock.h"
#include "wb-craft-bench-plan.h"

#include <math.h>
#include <string.h>

/* Cures three days; then may be lit, but only in a session whose check was answered. */
static void
test_cure_and_session (void)
{
  Evening evening;
  WbAppBenchSample *sample;
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;

  evening_set_up (&evening);
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (evening.bench)), ==, 3);
  sample = evening_nth (&evening, 0);
  g_assert_cmpint (wb_app_bench_sample_get_state (sample), ==, WB_APP_BENCH_CURING);
  /* From the start of the third day, whatever the hour of the pour was. */
  wb_clock_advance (wb_clock_get (), wb_app_bench_sample_get_fit_at (sample).utc_us - wb_clock_now (wb_clock_get ()).utc_us - MINUTE_US);
  wb_app_bench_update (evening.bench);
  g_assert_cmpint (wb_app_bench_sample_get_state (sample), ==, WB_APP_BENCH_CURING);
  wb_clock_advance (wb_clock_get (), MINUTE_US);
  wb_app_bench_update (evening.bench);
  g_assert_cmpint (wb_app_bench_sample_get_state (sample), ==, WB_APP_BENCH_FIT);

  wb_app_bench_light_async (evening.bench, wb_app_bench_sample_get_id (sample), WB_BURN_STANDARD, 6, NULL, WB_INSTANT_NONE, NULL,
                            FALSE, NULL, app_keep_result_cb, &result);
  g_assert_false (evening_finish (&evening, &result, &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED);
  evening_open_session (&evening);
  evening_light (&evening, sample);
  g_assert_cmpuint (wb_app_bench_get_alight (evening.bench), ==, 1);
  g_assert_cmpint (wb_app_bench_sample_get_burn_number (sample), ==, 1);

  g_clear_error (&error);
  wb_app_bench_close_session_async (evening.bench, NULL, app_keep_result_cb, &result);
  g_assert_false (evening_finish (&evening, &result, &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED);
  evening_tear_down (&evening);
}

static gboolean
states_no_cure (gpointer sample)
{
  return !wb_app_bench_sample_states_cure (sample);
}

/* A wax that states no cure: nothing is fit to light while the candle is liquid, and Today says why a day is waited. */
static void
test_no_cure (void)
{
  Evening evening;
  g_autoptr (GPtrArray) waxes = NULL;
  WbAppExperiments *experiments;
  WbAppToday *today;
  gboolean told = FALSE;

  evening_set_up (&evening);
  waxes = wb_app_query_list_sync (evening.notebook, &wb_wax_type, NULL);
  ((WbWax *) g_ptr_array_index (waxes, 0))->burn_cure_days = NAN;
  app_save (evening.notebook, g_ptr_array_index (waxes, 0));
  app_wait_until (states_no_cure, evening_nth (&evening, 0), "the wax to state no cure");
  wb_app_bench_update (evening.bench);
  g_assert_cmpint (wb_app_bench_sample_get_state (evening_nth (&evening, 0)), ==, WB_APP_BENCH_CURING);
  wb_clock_advance (wb_clock_get (), 24 * HOUR_US - MINUTE_US);
  wb_app_bench_update (evening.bench);
  g_assert_cmpint (wb_app_bench_sample_get_state (evening_nth (&evening, 0)), ==, WB_APP_BENCH_CURING);
  wb_clock_advance (wb_clock_get (), MINUTE_US);
  wb_app_bench_update (evening.bench);
  g_assert_cmpint (wb_app_bench_sample_get_state (evening_nth (&evening, 0)), ==, WB_APP_BENCH_FIT);
  experiments = wb_app_experiments_new (evening.notebook);
  today = wb_app_today_new (evening.bench, experiments);
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (today)); i++)
    {
      g_autoptr (WbAppDue) due = g_list_model_get_item (G_LIST_MODEL (today), i);

      told |= g_str_equal (wb_app_due_get_detail (due), "Fit to light; its wax states no cure");
    }
  g_assert_true (told);
  g_object_unref (today);
  g_object_unref (experiments);
  evening_tear_down (&evening);
}

static gboolean
has_four (gpointer bench)
{
  return g_list_model_get_n_items (bench) == 4;
}

static const char *
code_of (Evening *evening,
         gint64   sample)
{
  return wb_app_bench_sample_get_code (wb_app_bench_find (evening->bench, sample));
}

/* Logs that were brought in may repeat a code: then it names its experiment, and only then. */
static void
test_twins (void)
{
  Evening evening;
  g_autoptr (GPtrArray) experiments = NULL, cells = NULL, samples = NULL;
  g_autoptr (WbRecord) experiment = NULL;
  WbCell *cell;
  WbSample *sample;
  gint64 first, second, other;

  evening_set_up (&evening);
  experiments = wb_app_query_list_sync (evening.notebook, &wb_experiment_type, NULL);
  experiment = wb_record_copy (g_ptr_array_index (experiments, 0));
  cells = wb_app_query_list_sync (evening.notebook, &wb_cell_type, NULL);
  samples = wb_app_query_list_sync (evening.notebook, &wb_sample_type, NULL);
  cell = g_ptr_array_index (cells, 0);
  sample = g_ptr_array_index (samples, 0);
  first = sample->record.id;
  second = ((WbSample *) g_ptr_array_index (samples, 1))->record.id;
  g_assert_cmpstr (code_of (&evening, first), ==, "S3-1");

  ((WbExperiment *) experiment)->record.id = 0;
  ((WbExperiment *) experiment)->uuid = wb_uuid_new ();
  wb_record_set_text (experiment, wb_record_type_find_field (&wb_experiment_type, "code"), "E-9");
  wb_record_set_text (experiment, wb_record_type_find_field (&wb_experiment_type, "title"), "Brought in");
  cell->record.id = 0;
  cell->experiment = app_save (evening.notebook, experiment);
  sample->record.id = 0;
  sample->uuid = wb_uuid_new ();
  sample->experiment = cell->experiment;
  sample->cell = app_save (evening.notebook, cell);
  sample->batch = 0;
  sample->poured_on = wb_instant_get_day (wb_clock_now (wb_clock_get ()));
  other = app_save (evening.notebook, sample);
  app_wait_until (has_four, evening.bench, "the other experiment's candle");
  g_assert_cmpstr (code_of (&evening, first), ==, "E-1 S3-1");
  g_assert_cmpstr (code_of (&evening, other), ==, "E-9 S3-1");
  g_assert_cmpstr (code_of (&evening, second), ==, "S3-2");
  evening_tear_down (&evening);
}

/* Each by its own clock: two lit ten minutes apart are due ten minutes apart, hourly, until the burn's four hours. */
static void
test_due_times (void)
{
  Evening evening;
  WbAppBenchSample *first, *second;

  evening_set_up (&evening);
  wb_clock_advance (wb_clock_get (), 3 * DAY_US);
  wb_app_bench_update (evening.bench);
  first = evening_nth (&evening, 0);
  second = evening_nth (&evening, 1);
  evening_open_session (&evening);
  evening_light (&evening, first);
  wb_clock_advance (wb_clock_get (), 10 * MINUTE_US);
  evening_light (&evening, second);
  wb_app_bench_update (evening.bench);
  g_assert_cmpint (wb_app_bench_sample_get_elapsed_s (first), ==, 600);
  g_assert_cmpint (wb_app_bench_sample_get_due_in_s (first), ==, 3000);
  g_assert_cmpint (wb_app_bench_sample_get_due_in_s (second), ==, 3600);
  g_assert_true (wb_app_bench_get_next_due (evening.bench) == first);
  g_assert_cmpint (wb_app_bench_get_ask (first), ==, WB_APP_ASK_ROUND);

  wb_clock_advance (wb_clock_get (), 48 * MINUTE_US);
  evening_read_flame (&evening, first, 18, 58);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (first, WB_COLUMN_FLAME_MM), ==, 18);
  /* Read two minutes early counts as the first hour's. */
  g_assert_cmpint (wb_app_bench_sample_get_due_in_s (first), ==, 62 * 60);

  wb_clock_advance (wb_clock_get (), 3 * HOUR_US + 2 * MINUTE_US);
  wb_app_bench_update (evening.bench);
  g_assert_true (wb_app_bench_sample_get_stop_due (first));
  g_assert_true (wb_app_bench_sample_get_overdue (first));
  g_assert_false (wb_app_bench_sample_get_stop_due (second));
  g_assert_cmpint (wb_app_bench_get_ask (first), ==, WB_APP_ASK_BEFORE_SNUFFING);
  evening_tear_down (&evening);
}

/* A check burn is held against burns of the protocol's length, so it has that length. */
static void
test_check_has_length (void)
{
  Evening evening;
  WbAppBenchSample *first;
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;

  evening_set_up (&evening);
  wb_clock_advance (wb_clock_get (), 3 * DAY_US);
  wb_app_bench_update (evening.bench);
  first = evening_nth (&evening, 0);
  evening_open_session (&evening);
  wb_app_bench_light_async (evening.bench, wb_app_bench_sample_get_id (first), WB_BURN_CHECK, 6, "A1", WB_INSTANT_NONE, NULL, FALSE, NULL,
                            app_keep_result_cb, &result);
  g_assert_true (evening_finish (&evening, &result, &error));
  g_assert_no_error (error);
  evening_wait_for_state (first, WB_APP_BENCH_ALIGHT);
  g_assert_cmpfloat (wb_app_bench_sample_get_length_s (first), ==, 4 * 3600);
  wb_clock_advance (wb_clock_get (), 4 * HOUR_US);
  wb_app_bench_update (evening.bench);
  g_assert_true (wb_app_bench_sample_get_stop_due (first));
  evening_tear_down (&evening);
}

static gboolean
has_seed (gpointer user)
{
  Evening *evening = user;

  return wb_app_bench_get_session (evening->bench) != NULL && wb_app_bench_get_session (evening->bench)->seed == 99;
}

static gboolean
has_no_seed (gpointer user)
{
  Evening *evening = user;

  return wb_app_bench_get_session (evening->bench) != NULL && wb_app_bench_get_session (evening->bench)->seed == 0;
}

static void
assert_places_of (Evening *evening,
                  guint64  seed)
{
  g_autoptr (GArray) plan = wb_craft_bench_plan_new (12, seed);

  for (guint i = 0; i < 2; i++)
    g_assert_cmpuint (wb_app_bench_propose_place (evening->bench, evening_nth (evening, i), 12), ==, g_array_index (plan, guint, i) + 1);
}

/* A session records what its places are shuffled from: the same before and after it is opened, whatever the record says later on. */
static void
test_recorded_seed (void)
{
  g_autoptr (WbRecord) session = NULL, older = NULL;
  Evening evening;

  evening_set_up (&evening);
  assert_places_of (&evening, 1);
  evening_open_session (&evening);
  g_assert_cmpint (wb_app_bench_get_session (evening.bench)->seed, ==, 1);
  assert_places_of (&evening, 1);
  session = wb_record_copy (wb_app_bench_get_session (evening.bench));
  ((WbSession *) session)->seed = 99;
  app_save (evening.notebook, session);
  app_wait_until (has_seed, &evening, "another seed");
  assert_places_of (&evening, 99);
  /* one of an older notebook says none: its number stands */
  older = wb_record_copy (wb_app_bench_get_session (evening.bench));
  ((WbSession *) older)->seed = 0;
  app_save (evening.notebook, older);
  app_wait_until (has_no_seed, &evening, "no seed");
  assert_places_of (&evening, 1);
  evening_tear_down (&evening);
}

/* A step of the wall clock while it burns moves nothing. */
static void
test_clock_step (void)
{
  Evening evening;
  WbAppBenchSample *sample;

  sample = evening_set_up_lit (&evening);
  wb_clock_advance (wb_clock_get (), 20 * MINUTE_US);
  wb_clock_step (wb_clock_get (), -HOUR_US);
  wb_app_bench_update (evening.bench);
  g_assert_cmpint (wb_app_bench_sample_get_elapsed_s (sample), ==, 1200);
  wb_clock_step (wb_clock_get (), HOUR_US);
  evening_tear_down (&evening);
}

/* An hour on the wall clock is an hour, however late within a second it is told. */
static void
test_minute_told_later (void)
{
  Evening evening;
  WbAppBenchSample *sample;
  WbInstant at;

  evening_set_up (&evening);
  wb_clock_advance (wb_clock_get (), 3 * DAY_US);
  wb_app_bench_update (evening.bench);
  sample = evening_nth (&evening, 0);
  g_assert_true (isnan (wb_app_bench_sample_get_minutes_at (sample, WB_INSTANT_NONE)));
  evening_open_session (&evening);
  evening_light (&evening, sample);
  at = wb_app_bench_sample_get_burn (sample)->lit_at;
  at.utc_us += HOUR_US;
  wb_clock_advance (wb_clock_get (), 4 * HOUR_US + 3 * G_USEC_PER_SEC / 10);
  wb_app_bench_update (evening.bench);
  g_assert_cmpfloat (wb_app_bench_sample_get_minutes_at (sample, at), ==, 60);
  wb_clock_advance (wb_clock_get (), 9 * G_USEC_PER_SEC / 10);
  g_assert_cmpfloat (wb_app_bench_sample_get_minutes_at (sample, at), ==, 60);
  g_assert_cmpfloat_with_epsilon (wb_app_bench_sample_get_minutes_at (sample, WB_INSTANT_NONE), 240 + 1 / 60.0, 1e-9);
  /* By a clock that was put back, the hour told now lies an hour later. */
  wb_clock_step (wb_clock_get (), -HOUR_US);
  g_assert_cmpfloat (wb_app_bench_sample_get_minutes_at (sample, at), ==, 120);
  wb_clock_step (wb_clock_get (), HOUR_US);
  evening_tear_down (&evening);
}

/* House protocol: at least 3 h between burns (ASTM F2417, told by test laboratories). */
static void
test_snuff_and_relight (void)
{
  Evening evening;
  WbAppBenchSample *sample;
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbRecord) mass = wb_record_new (&wb_reading_type);

  sample = evening_set_up_lit (&evening);
  wb_clock_advance (wb_clock_get (), 4 * HOUR_US);
  evening_read_flame (&evening, sample, 20, 240);
  evening_snuff (&evening, sample);
  evening_wait_for_state (sample, WB_APP_BENCH_COOLING);
  g_assert_cmpint (wb_app_bench_get_ask (sample), ==, WB_APP_ASK_AFTER_SNUFFING);
  g_assert_cmpint (wb_app_bench_sample_get_burn_number (sample), ==, 2);

  wb_clock_advance (wb_clock_get (), 3 * HOUR_US);
  wb_app_bench_update (evening.bench);
  g_assert_cmpint (wb_app_bench_sample_get_state (sample), ==, WB_APP_BENCH_FIT);
  g_assert_cmpint (wb_app_bench_get_ask (sample), ==, WB_APP_ASK_NEXT_DAY);
  ((WbReading *) mass)->values[WB_COLUMN_MASS_G] = 412.3;
  wb_app_bench_read_after_async (evening.bench, wb_app_bench_sample_get_id (sample), (WbReading *) mass, NULL, app_keep_result_cb, &result);
  g_assert_true (evening_finish (&evening, &result, &error));
  g_assert_no_error (error);
  evening_wait_for_minute (sample, 420);
  g_assert_cmpint (wb_app_bench_get_ask (sample), ==, WB_APP_ASK_LIGHTING);
  evening_tear_down (&evening);
}

/* A program that starts again finds what was left alight, with the time since lighting. */
static void
test_found_open (void)
{
  Evening evening;
  WbAppBenchSample *sample;
  g_autofree char *path = NULL;

  sample = evening_set_up_lit (&evening);
  path = g_strdup (wb_app_notebook_get_path (evening.notebook));
  evening_tear_down (&evening);

  wb_clock_advance (wb_clock_get (), 90 * MINUTE_US);
  evening_reopen (&evening, path);
  g_assert_cmpuint (wb_app_bench_get_found_open (evening.bench), ==, 1);
  sample = evening_nth (&evening, 0);
  g_assert_cmpint (wb_app_bench_sample_get_elapsed_s (sample), ==, 90 * 60);
  g_assert_true (wb_app_bench_sample_get_overdue (sample));
  g_assert_cmpuint (wb_app_bench_get_due (evening.bench), ==, 1);
  g_assert_nonnull (wb_app_bench_get_session (evening.bench));
  wb_app_bench_acknowledge_found (evening.bench);
  g_assert_cmpuint (wb_app_bench_get_found_open (evening.bench), ==, 0);
  evening_tear_down (&evening);
}

/* Snuffed before anybody answered what became of it: there is nothing left to ask. */
static void
test_found_open_and_snuffed (void)
{
  Evening evening;
  WbAppBenchSample *sample;
  g_autofree char *path = NULL;

  evening_set_up_lit (&evening);
  path = g_strdup (wb_app_notebook_get_path (evening.notebook));
  evening_tear_down (&evening);

  wb_clock_advance (wb_clock_get (), 90 * MINUTE_US);
  evening_reopen (&evening, path);
  g_assert_cmpuint (wb_app_bench_get_found_open (evening.bench), ==, 1);
  sample = evening_nth (&evening, 0);
  evening_snuff (&evening, sample);
  evening_wait_for_state (sample, WB_APP_BENCH_COOLING);
  g_assert_cmpuint (wb_app_bench_get_found_open (evening.bench), ==, 0);
  evening_tear_down (&evening);
}

/* House limits: flame asked about from 38 mm, stopped at 50 mm (the maker's own, no published figure). */
static void
test_limits (void)
{
  Evening evening;
  WbAppBenchSample *sample;
  double values[WB_N_COLUMNS];
  g_autoptr (GPtrArray) none = NULL, near = NULL, over = NULL, fire = NULL;

  evening_set_up (&evening);
  sample = evening_nth (&evening, 0);
  for (guint i = 0; i < WB_N_COLUMNS; i++)
    values[i] = NAN;
  values[WB_COLUMN_FLAME_MM] = 30;
  none = wb_app_bench_check_values (sample, values);
  g_assert_cmpuint (none->len, ==, 0);
  values[WB_COLUMN_FLAME_MM] = 40;
  near = wb_app_bench_check_values (sample, values);
  g_assert_cmpuint (near->len, ==, 1);
  g_assert_cmpint (((WbAppBenchHit *) g_ptr_array_index (near, 0))->level, ==, WB_CRAFT_NEAR);
  values[WB_COLUMN_FLAME_MM] = 55;
  over = wb_app_bench_check_values (sample, values);
  g_assert_cmpint (((WbAppBenchHit *) g_ptr_array_index (over, 0))->level, ==, WB_CRAFT_OVER);
  g_assert_nonnull (strstr (((WbAppBenchHit *) g_ptr_array_index (over, 0))->text, "house limit"));
  /* Fire first, whatever else is over; and never water on wax. */
  values[WB_COLUMN_EVENT] = WB_EVENT_SECONDARY_IGNITION;
  values[WB_COLUMN_EVENT_S] = 12;
  fire = wb_app_bench_check_values (sample, values);
  g_assert_cmpint (((WbAppBenchHit *) g_ptr_array_index (fire, 0))->limit->kind, ==, WB_LIMIT_SECONDARY_IGNITION);
  g_assert_nonnull (strstr (((WbAppBenchHit *) g_ptr_array_index (fire, 0))->advice, "No water"));
  evening_tear_down (&evening);
}

/* What is told of that value of that column, alone; caller frees. */
static char *
dup_told (WbAppBenchSample *sample,
          WbColumn          column,
          double            value)
{
  double values[WB_N_COLUMNS];
  g_autoptr (GPtrArray) hits = NULL;

  for (guint i = 0; i < WB_N_COLUMNS; i++)
    values[i] = NAN;
  values[column] = value;
  hits = wb_app_bench_check_values (sample, values);
  g_assert_cmpuint (hits->len, ==, 1);
  return g_strdup (((WbAppBenchHit *) g_ptr_array_index (hits, 0))->text);
}

/* House limits of the wall: asked from 60 degC, stopped above 77; of the flame above 50 mm. No number is told to be above itself. */
static void
test_limit_words (void)
{
  Evening evening;
  WbAppBenchSample *sample;
  g_autofree char *at = NULL, *hardly = NULL, *above = NULL, *over = NULL;

  evening_set_up (&evening);
  sample = evening_nth (&evening, 0);
  at = dup_told (sample, WB_COLUMN_VESSEL_C, 60);
  g_assert_nonnull (strstr (at, "at the mark of 60.0"));
  g_assert_null (strstr (at, "above"));
  hardly = dup_told (sample, WB_COLUMN_VESSEL_C, 60.02);
  g_assert_nonnull (strstr (hardly, "60.02"));
  g_assert_nonnull (strstr (hardly, "above the mark of 60.00"));
  above = dup_told (sample, WB_COLUMN_VESSEL_C, 64);
  g_assert_nonnull (strstr (above, "64.0"));
  g_assert_nonnull (strstr (above, "above the mark of 60.0"));
  g_assert_null (strstr (above, "60.00"));
  over = dup_told (sample, WB_COLUMN_FLAME_MM, 50.04);
  g_assert_nonnull (strstr (over, "50.04"));
  g_assert_nonnull (strstr (over, "over the house limit of 50.00"));
  evening_tear_down (&evening);
}

static void
test_asked (void)
{
  g_autoptr (WbRecord) protocol = (WbRecord *) wb_protocol_new_house ();
  g_autoptr (GArray) round = wb_app_bench_dup_asked ((WbProtocol *) protocol, WB_APP_ASK_ROUND);
  g_autoptr (GArray) odd = NULL;

  g_assert_cmpuint (round->len, >, 3);
  g_assert_cmpint (g_array_index (round, int, 0), ==, WB_COLUMN_POOL_MM);
  g_free (((WbProtocol *) protocol)->ask_round);
  ((WbProtocol *) protocol)->ask_round = g_strdup (" flame_mm , no_such_field,soot");
  odd = wb_app_bench_dup_asked ((WbProtocol *) protocol, WB_APP_ASK_ROUND);
  g_assert_cmpuint (odd->len, ==, 2);
  g_assert_cmpint (g_array_index (odd, int, 1), ==, WB_COLUMN_SOOT);
}

typedef struct
{
  WbAppToday  *today;
  WbAppDueKind kind;
} Due;

static gboolean
is_due (gpointer data)
{
  const Due *due = data;

  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (due->today)); i++)
    {
      g_autoptr (WbAppDue) item = g_list_model_get_item (G_LIST_MODEL (due->today), i);

      if (wb_app_due_get_kind (item) == due->kind)
        return TRUE;
    }
  return FALSE;
}

static gint64
find_due_sample (WbAppToday  *today,
                 WbAppDueKind kind)
{
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (today)); i++)
    {
      g_autoptr (WbAppDue) due = g_list_model_get_item (G_LIST_MODEL (today), i);

      if (wb_app_due_get_kind (due) == kind)
        return wb_app_due_get_sample (due);
    }
  return 0;
}

static gboolean
says_when_to_light (WbAppToday *today)
{
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (today)); i++)
    {
      g_autoptr (WbAppDue) due = g_list_model_get_item (G_LIST_MODEL (today), i);

      if (wb_app_due_get_kind (due) == WB_APP_DUE_WEIGH)
        return strstr (wb_app_due_get_detail (due), "may be lit again from ") != NULL;
    }
  return FALSE;
}

static void
test_today (void)
{
  Evening evening;
  WbAppBenchSample *sample;
  WbAppExperiments *experiments;
  WbAppToday *today;
  Due due;

  evening_set_up (&evening);
  experiments = wb_app_experiments_new (evening.notebook);
  today = wb_app_today_new (evening.bench, experiments);
  due = (Due) { today, WB_APP_DUE_CURE };
  app_wait_until (is_due, &due, "the cure to be told");
  wb_clock_advance (wb_clock_get (), 3 * DAY_US);
  wb_app_bench_update (evening.bench);
  due.kind = WB_APP_DUE_LIGHT;
  g_assert_true (is_due (&due));
  sample = evening_nth (&evening, 0);
  /* The row leads to a candle that may be lit, not to whichever the bench has in hand. */
  g_assert_cmpint (find_due_sample (today, WB_APP_DUE_LIGHT), ==, wb_app_bench_sample_get_id (sample));
  evening_open_session (&evening);
  evening_light (&evening, sample);
  wb_clock_advance (wb_clock_get (), 61 * MINUTE_US);
  wb_app_bench_update (evening.bench);
  due.kind = WB_APP_DUE_READING;
  g_assert_true (is_due (&due));
  wb_clock_advance (wb_clock_get (), 3 * HOUR_US);
  wb_app_bench_update (evening.bench);
  due.kind = WB_APP_DUE_SNUFF;
  g_assert_true (is_due (&due));
  /* Set after two hours, cooled after three: the row does not let it seem that both are one. */
  evening_snuff (&evening, sample);
  evening_wait_for_state (sample, WB_APP_BENCH_COOLING);
  wb_clock_advance (wb_clock_get (), 125 * MINUTE_US);
  wb_app_bench_update (evening.bench);
  g_assert_cmpint (wb_app_bench_sample_get_state (sample), ==, WB_APP_BENCH_COOLING);
  g_assert_true (says_when_to_light (today));
  wb_clock_advance (wb_clock_get (), HOUR_US);
  wb_app_bench_update (evening.bench);
  g_assert_cmpint (find_due_sample (today, WB_APP_DUE_WEIGH), ==, wb_app_bench_sample_get_id (sample));
  g_assert_false (says_when_to_light (today));
  g_assert_finalize_object (today);
  app_wait_until ((AppCondition) wb_app_experiments_get_loaded, experiments, "the experiments");
  g_assert_finalize_object (experiments);
  evening_tear_down (&evening);
}

typedef struct
{
  WbAppBenchSample *sample;
  int               number;
} Next;

static gboolean
is_next (gpointer data)
{
  const Next *next = data;

  return wb_app_bench_sample_get_state (next->sample) == WB_APP_BENCH_ALIGHT
         && wb_app_bench_sample_get_burn_number (next->sample) == next->number;
}

/* To set a sample aside clears nothing: what is due after a crossing never proposes it. */
static void
check_crossing_due (WbAppToday *today)
{
  guint told = 0;

  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (today)); i++)
    {
      g_autoptr (WbAppDue) item = g_list_model_get_item (G_LIST_MODEL (today), i);

      if (wb_app_due_get_kind (item) != WB_APP_DUE_CROSSED)
        continue;
      told++;
      g_test_message ("%s", wb_app_due_get_title (item));
      g_assert_true (g_str_has_suffix (wb_app_due_get_title (item), " crossed a limit: not to be lit again"));
      g_assert_null (strstr (wb_app_due_get_title (item), "aside"));
    }
  g_assert_cmpuint (told, ==, 1);
}

/* One that crossed a limit is not fit to light, on any later day; who lights it all the same says so in the record. */
static void
test_crossed (void)
{
  Evening evening;
  WbAppBenchSample *sample;
  WbAppExperiments *experiments;
  WbAppToday *today;
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *crossing = NULL;
  gboolean broken = TRUE;
  Due due;
  Next next;

  evening_set_up (&evening);
  experiments = wb_app_experiments_new (evening.notebook);
  today = wb_app_today_new (evening.bench, experiments);
  due = (Due) { today, WB_APP_DUE_CROSSED };
  wb_clock_advance (wb_clock_get (), 3 * DAY_US);
  wb_app_bench_update (evening.bench);
  sample = evening_nth (&evening, 0);
  evening_open_session (&evening);
  evening_light (&evening, sample);
  wb_clock_advance (wb_clock_get (), 4 * HOUR_US);
  evening_read_flame (&evening, sample, 52, 240);
  g_assert_false (is_due (&due));
  evening_snuff (&evening, sample);
  evening_wait_for_state (sample, WB_APP_BENCH_CROSSED);
  wb_clock_advance (wb_clock_get (), DAY_US);
  wb_app_bench_update (evening.bench);
  g_assert_cmpint (wb_app_bench_sample_get_state (sample), ==, WB_APP_BENCH_CROSSED);
  g_assert_cmpint (wb_app_bench_sample_get_crossed_burn (sample), ==, 1);
  g_assert_true (is_due (&due));
  check_crossing_due (today);
  crossing = wb_app_bench_sample_dup_crossing (sample, &broken);
  g_assert_cmpstr (crossing, ==, "flame height 52.0\302\240mm: over the house limit of 50.0\302\240mm, in burn 1 at 240 min");
  g_assert_false (broken);

  wb_app_bench_light_async (evening.bench, wb_app_bench_sample_get_id (sample), WB_BURN_STANDARD, 6, "A1", WB_INSTANT_NONE, NULL,
                            FALSE, NULL, app_keep_result_cb, &result);
  g_assert_false (evening_finish (&evening, &result, &error));
  g_assert_nonnull (strstr (error->message, "crossed a limit: flame height 52.0"));
  g_clear_error (&error);
  wb_app_bench_light_async (evening.bench, wb_app_bench_sample_get_id (sample), WB_BURN_STANDARD, 6, "A1", WB_INSTANT_NONE, NULL,
                            TRUE, NULL, app_keep_result_cb, &result);
  g_assert_true (evening_finish (&evening, &result, &error));
  g_assert_no_error (error);
  next = (Next) { sample, 2 };
  app_wait_until (is_next, &next, "the second burn");
  g_assert_nonnull (strstr (wb_app_bench_sample_get_burn (sample)->note, "crossed a limit: flame height 52.0"));
  /* Lit again it is watched, from the first minute and however calm it burns. */
  wb_app_bench_update (evening.bench);
  g_assert_cmpint (wb_app_bench_sample_get_due_in_s (sample), <=, 15 * 60);
  g_assert_nonnull (strstr (wb_app_bench_sample_get_alarm (sample), "crossed a limit in burn 1"));
  wb_clock_advance (wb_clock_get (), HOUR_US);
  evening_read_flame (&evening, sample, 20, 60);
  g_assert_cmpint (wb_app_bench_sample_get_due_in_s (sample), <=, 15 * 60);
  g_assert_finalize_object (today);
  app_wait_until ((AppCondition) wb_app_experiments_get_loaded, experiments, "the experiments");
  g_assert_finalize_object (experiments);
  evening_tear_down (&evening);
}

/* Nobody lights a cracked vessel, also where the limit on cracks was turned off. */
static void
crack_and_light (gboolean no_limit)
{
  Evening evening;
  WbAppBenchSample *sample;
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *crossing = NULL;
  gboolean broken = FALSE;
  g_autoptr (WbRecord) record = wb_record_new (&wb_reading_type);

  evening_set_up_limits (&evening, no_limit);
  wb_clock_advance (wb_clock_get (), 3 * DAY_US);
  wb_app_bench_update (evening.bench);
  sample = evening_nth (&evening, 0);
  evening_open_session (&evening);
  evening_light (&evening, sample);
  wb_clock_advance (wb_clock_get (), HOUR_US);
  ((WbReading *) record)->values[WB_COLUMN_EVENT] = WB_EVENT_VESSEL_CRACK;
  wb_app_bench_read_async (evening.bench, wb_app_bench_sample_get_id (sample), (WbReading *) record, NULL, app_keep_result_cb, &result);
  g_assert_true (evening_finish (&evening, &result, &error));
  evening_snuff (&evening, sample);
  evening_wait_for_state (sample, WB_APP_BENCH_CROSSED);
  g_assert_cmpint (wb_app_bench_sample_get_cracked_burn (sample), ==, 1);
  g_assert_cmpint (wb_app_bench_sample_get_crossed_burn (sample), ==, no_limit ? 0 : 1);
  crossing = wb_app_bench_sample_dup_crossing (sample, &broken);
  g_assert_true (broken);
  if (no_limit)
    g_assert_cmpstr (crossing, ==, "its vessel cracked in burn 1");
  wb_clock_advance (wb_clock_get (), DAY_US);
  wb_app_bench_light_async (evening.bench, wb_app_bench_sample_get_id (sample), WB_BURN_STANDARD, 6, "A1", WB_INSTANT_NONE, NULL,
                            TRUE, NULL, app_keep_result_cb, &result);
  g_assert_false (evening_finish (&evening, &result, &error));
  g_assert_nonnull (strstr (error->message, "not lit again"));
  evening_tear_down (&evening);
}

static void
test_cracked (void)
{
  crack_and_light (FALSE);
  crack_and_light (TRUE);
}

/* "Read it again soon": from the mark on, the next reading is due in a quarter of an hour, not in the next round. */
static void
test_near_is_watched (void)
{
  Evening evening;
  WbAppBenchSample *sample;

  sample = evening_set_up_lit (&evening);
  g_assert_cmpint (wb_app_bench_sample_get_due_in_s (sample), >, 50 * 60);
  wb_clock_advance (wb_clock_get (), HOUR_US);
  evening_read_flame (&evening, sample, 40, 60);
  g_assert_cmpint (wb_app_bench_sample_get_due_in_s (sample), <=, 15 * 60);
  wb_clock_advance (wb_clock_get (), HOUR_US / 4);
  evening_read_flame (&evening, sample, 20, 75);
  g_assert_cmpint (wb_app_bench_sample_get_due_in_s (sample), >, 30 * 60);
  evening_tear_down (&evening);
}

/* Set aside it leaves the bench, and comes back. */
static void
test_set_aside (void)
{
  Evening evening;
  WbAppBenchSample *sample;
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;
  gint64 id;

  evening_set_up (&evening);
  sample = evening_nth (&evening, 0);
  id = wb_app_bench_sample_get_id (sample);
  wb_app_bench_set_aside_async (evening.bench, id, WB_CAUSE_CAVITY, "A hole beside the wick", NULL, app_keep_result_cb, &result);
  g_assert_true (evening_finish (&evening, &result, &error));
  evening_wait_for_state (wb_app_bench_find (evening.bench, id), WB_APP_BENCH_ENDED);
  wb_app_bench_update (evening.bench);
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (evening.bench)), ==, 2);
  wb_app_bench_set_aside_async (evening.bench, id, -1, NULL, NULL, app_keep_result_cb, &result);
  g_assert_true (evening_finish (&evening, &result, &error));
  g_assert_no_error (error);
  evening_wait_for_state (wb_app_bench_find (evening.bench, id), WB_APP_BENCH_CURING);
  wb_app_bench_update (evening.bench);
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (evening.bench)), ==, 3);
  evening_tear_down (&evening);
}

/* A flame over the house's 50 mm waits for somebody; the answer is an entry of its own in the record, and undo takes it back. */
static void
test_answer (void)
{
  Evening evening;
  EveningAsked asked = { NULL, FALSE };
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;

  evening_set_up (&evening);
  wb_clock_advance (wb_clock_get (), 3 * DAY_US);
  wb_app_bench_update (evening.bench);
  asked.sample = evening_nth (&evening, 0);
  evening_open_session (&evening);
  evening_light (&evening, asked.sample);
  wb_clock_advance (wb_clock_get (), HOUR_US);
  evening_read_flame (&evening, asked.sample, 30, 60);
  g_assert_true (evening_is_asked_so (&asked));
  wb_clock_advance (wb_clock_get (), HOUR_US);
  evening_read_flame (&evening, asked.sample, 52, 120);
  asked.unanswered = TRUE;
  app_wait_until (evening_is_asked_so, &asked, "the question");

  wb_app_bench_answer_async (evening.bench, wb_app_bench_sample_get_id (asked.sample), "flame 52 mm", NULL, app_keep_result_cb, &result);
  g_assert_true (evening_finish (&evening, &result, &error));
  g_assert_no_error (error);
  asked.unanswered = FALSE;
  app_wait_until (evening_is_asked_so, &asked, "the answer in the record");
  g_assert_cmpstr (wb_app_bench_sample_get_last_text (asked.sample, WB_READING_TEXT_NOTE), ==,
                   "✓ Seen to: flame height 52.0\u00a0mm: over the house limit of 50.0\u00a0mm");
  wb_app_notebook_undo_async (evening.notebook, NULL, app_keep_result_cb, &result);
  wb_app_notebook_save_finish (evening.notebook, app_wait_result (&result), NULL, &error);
  g_assert_no_error (error);
  g_clear_object (&result);
  asked.unanswered = TRUE;
  app_wait_until (evening_is_asked_so, &asked, "the question once more");
  evening_tear_down (&evening);
}

/* Over a limit and set aside, too: whoever lights it reads both, and both stand with the burn. */
static void
test_crossed_and_set_aside (void)
{
  Evening evening;
  WbAppBenchSample *sample;
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;
  Next next;
  gint64 id;

  evening_set_up (&evening);
  wb_clock_advance (wb_clock_get (), 3 * DAY_US);
  wb_app_bench_update (evening.bench);
  sample = evening_nth (&evening, 0);
  id = wb_app_bench_sample_get_id (sample);
  evening_open_session (&evening);
  evening_light (&evening, sample);
  wb_clock_advance (wb_clock_get (), HOUR_US);
  evening_read_flame (&evening, sample, 52, 60);
  evening_snuff (&evening, sample);
  evening_wait_for_state (sample, WB_APP_BENCH_CROSSED);
  wb_app_bench_set_aside_async (evening.bench, id, WB_CAUSE_CAVITY, "A hole beside the wick", NULL, app_keep_result_cb, &result);
  g_assert_true (evening_finish (&evening, &result, &error));
  evening_wait_for_state (sample, WB_APP_BENCH_ENDED);
  wb_clock_advance (wb_clock_get (), DAY_US);
  wb_app_bench_light_async (evening.bench, id, WB_BURN_STANDARD, 6, "A1", WB_INSTANT_NONE, NULL, FALSE, NULL, app_keep_result_cb, &result);
  g_assert_false (evening_finish (&evening, &result, &error));
  g_assert_nonnull (strstr (error->message, "crossed a limit: flame height 52.0"));
  g_assert_nonnull (strstr (error->message, "is at its end or set aside."));
  g_clear_error (&error);
  wb_app_bench_light_async (evening.bench, id, WB_BURN_STANDARD, 6, "A1", WB_INSTANT_NONE, NULL, TRUE, NULL, app_keep_result_cb, &result);
  g_assert_true (evening_finish (&evening, &result, &error));
  g_assert_no_error (error);
  next = (Next) { sample, 2 };
  app_wait_until (is_next, &next, "the second burn");
  g_assert_nonnull (strstr (wb_app_bench_sample_get_burn (sample)->note, "crossed a limit: flame height 52.0"));
  g_assert_nonnull (strstr (wb_app_bench_sample_get_burn (sample)->note, "is at its end or set aside."));
  evening_tear_down (&evening);
}

/* Two looks in one minute are two observations, in a file too: the second is a tenth later, the third two. */
static void
test_same_minute (void)
{
  Evening evening;
  WbAppBenchSample *sample;

  sample = evening_set_up_lit (&evening);
  wb_clock_advance (wb_clock_get (), HOUR_US);
  evening_read_flame (&evening, sample, 20, 60);
  evening_read_flame (&evening, sample, 21, 60.1);
  evening_read_flame (&evening, sample, 22, 60.2);
  evening_tear_down (&evening);
}

/* How many readings of the notebook say that somebody saw to them. */
static guint
count_answers (Evening *evening)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) readings = wb_app_query_list_sync (evening->notebook, &wb_reading_type, &error);
  guint n = 0;

  g_assert_no_error (error);
  for (guint i = 0; i < readings->len; i++)
    {
      const WbReading *reading = g_ptr_array_index (readings, i);
      gboolean answered = reading->note != NULL && strstr (reading->note, "Seen to:") != NULL;

      /* House: stopped above 50 mm. */
      g_assert_true (!answered || reading->values[WB_COLUMN_FLAME_MM] > 50);
      n += answered;
    }
  return n;
}

/* A calm reading later answers nothing; one answer does for all that is open, each in its own words, and undo takes all back. */
static void
test_answer_after_calm (void)
{
  Evening evening;
  EveningAsked asked = { NULL, TRUE };
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;
  const double flames[] = { 52, 25, 55, 26 };
  g_autoptr (GPtrArray) hits = NULL;
  gint64 id;

  evening_set_up (&evening);
  wb_clock_advance (wb_clock_get (), 3 * DAY_US);
  wb_app_bench_update (evening.bench);
  asked.sample = evening_nth (&evening, 0);
  id = wb_app_bench_sample_get_id (asked.sample);
  evening_open_session (&evening);
  evening_light (&evening, asked.sample);
  for (guint i = 0; i < G_N_ELEMENTS (flames); i++)
    {
      wb_clock_advance (wb_clock_get (), HOUR_US);
      evening_read_flame (&evening, asked.sample, flames[i], 60 * (i + 1));
      g_assert_true (evening_is_asked_so (&asked));
    }
  hits = wb_app_bench_dup_unanswered (asked.sample);
  g_assert_nonnull (strstr (((WbAppBenchHit *) g_ptr_array_index (hits, 0))->text, "55.0"));

  wb_app_bench_answer_async (evening.bench, id, "flame 55 mm", NULL, app_keep_result_cb, &result);
  g_assert_true (evening_finish (&evening, &result, &error));
  g_assert_no_error (error);
  asked.unanswered = FALSE;
  app_wait_until (evening_is_asked_so, &asked, "the answer in the record");
  g_assert_cmpuint (count_answers (&evening), ==, 2);
  /* Nothing is left to say. */
  wb_app_bench_answer_async (evening.bench, id, "flame 55 mm", NULL, app_keep_result_cb, &result);
  g_assert_true (evening_finish (&evening, &result, &error));
  g_assert_cmpuint (count_answers (&evening), ==, 2);
  wb_app_notebook_undo_async (evening.notebook, NULL, app_keep_result_cb, &result);
  wb_app_notebook_save_finish (evening.notebook, app_wait_result (&result), NULL, &error);
  g_assert_no_error (error);
  g_clear_object (&result);
  g_assert_cmpuint (count_answers (&evening), ==, 0);
  evening_tear_down (&evening);
}

/*
 * 30 mm after an hour, 44 mm after two: at that pace over the house's 50 mm at three. Said at once, before it is saved; asked
 * until answered; read again in a quarter of an hour at the latest, and the answer stands with the reading.
 */
static void
test_trend (void)
{
  Evening evening;
  EveningAsked asked = { NULL, TRUE };
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) typed = NULL, calm = NULL, told = NULL, reminders = NULL;
  double values[WB_N_COLUMNS];
  const WbAppBenchHit *hit;

  asked.sample = evening_set_up_lit (&evening);
  wb_clock_advance (wb_clock_get (), HOUR_US);
  evening_read_flame (&evening, asked.sample, 30, 60);
  g_assert_false (wb_app_bench_is_unanswered (asked.sample));
  wb_clock_advance (wb_clock_get (), HOUR_US);
  wb_app_bench_update (evening.bench);
  for (guint i = 0; i < WB_N_COLUMNS; i++)
    values[i] = NAN;
  values[WB_COLUMN_FLAME_MM] = 31;
  calm = wb_app_bench_check_reading (asked.sample, values, NAN);
  g_assert_cmpuint (calm->len, ==, 0);
  values[WB_COLUMN_FLAME_MM] = 44;
  typed = wb_app_bench_check_reading (asked.sample, values, NAN);
  g_assert_cmpuint (typed->len, ==, 1);
  hit = g_ptr_array_index (typed, 0);
  g_assert_cmpint (hit->level, ==, WB_CRAFT_SOON);
  g_assert_nonnull (strstr (hit->text, "may pass the house limit of 50"));
  g_assert_nonnull (strstr (hit->advice, "Read it again at "));
  g_assert_nonnull (strstr (hit->advice, "long tool"));

  evening_read_flame (&evening, asked.sample, 44, 120);
  app_wait_until (evening_is_asked_so, &asked, "the question");
  told = wb_app_bench_dup_unanswered (asked.sample);
  g_assert_cmpstr (((WbAppBenchHit *) g_ptr_array_index (told, 0))->text, ==, hit->text);
  /* Half of the (50 - 44) / (14 / 60) = 25.7 min to the limit; the candle is no longer only near it. */
  g_assert_cmpint (wb_app_bench_sample_get_due_in_s (asked.sample), ==, 12 * 60);
  g_assert_false (wb_app_bench_sample_get_over (asked.sample));
  g_assert_cmpstr (wb_app_bench_sample_get_alarm (asked.sample), ==, hit->text);
  reminders = wb_app_reminders_of (evening.bench, 0);
  g_assert_cmpuint (reminders->len, ==, 1);
  g_assert_cmpint (((WbAppReminder *) g_ptr_array_index (reminders, 0))->kind, ==, WB_APP_REMINDER_OVER);

  wb_app_bench_answer_async (evening.bench, wb_app_bench_sample_get_id (asked.sample), hit->text, NULL, app_keep_result_cb, &result);
  g_assert_true (evening_finish (&evening, &result, &error));
  g_assert_no_error (error);
  asked.unanswered = FALSE;
  app_wait_until (evening_is_asked_so, &asked, "the answer in the record");
  g_assert_nonnull (strstr (wb_app_bench_sample_get_last_text (asked.sample, WB_READING_TEXT_NOTE), "Seen to: "));
  g_assert_nonnull (strstr (wb_app_bench_sample_get_last_text (asked.sample, WB_READING_TEXT_NOTE), "may pass the house limit"));
  /* It calmed down: nothing more is said, and it is watched by the mark alone. */
  wb_clock_advance (wb_clock_get (), 12 * MINUTE_US);
  evening_read_flame (&evening, asked.sample, 36, 132);
  g_assert_false (wb_app_bench_is_unanswered (asked.sample));
  g_assert_cmpint (wb_app_bench_sample_get_due_in_s (asked.sample), ==, 48 * 60);
  evening_tear_down (&evening);
}

/* Flames of a burn from its lighting on, read and taken in. */
static void
read_flames (Evening          *evening,
             WbAppBenchSample *sample,
             const double    (*flames)[2],
             guint             n)
{
  double minute = 0;

  for (guint i = 0; i < n; i++)
    {
      wb_clock_advance (wb_clock_get (), (gint64) (flames[i][0] - minute) * MINUTE_US);
      minute = flames[i][0];
      evening_read_flame (evening, sample, flames[i][1], minute);
    }
  wb_app_bench_update (evening->bench);
}

static const char *
told_text (GPtrArray *hits,
           guint      n)
{
  return ((const WbAppBenchHit *) g_ptr_array_index (hits, n))->text;
}

/* "may pass before 21:00" is asked until the flame is read again: at 36 mm it did not, and nothing is open; a new climb is told anew. */
static void
test_trend_lapses (void)
{
  const double flames[][2] = { { 60, 30 }, { 120, 44 } };
  const double climb[] = { 20, 37 };
  Evening evening;
  WbAppBenchSample *sample = evening_set_up_lit (&evening);
  g_autoptr (GPtrArray) told = NULL, again = NULL;

  read_flames (&evening, sample, flames, 2);
  told = wb_app_bench_dup_unanswered (sample);
  g_assert_nonnull (told);
  wb_clock_advance (wb_clock_get (), 12 * MINUTE_US);
  evening_read_flame (&evening, sample, 36, 132);
  g_assert_false (wb_app_bench_is_unanswered (sample));
  for (guint i = 0; i < 2; i++)
    {
      wb_clock_advance (wb_clock_get (), (i == 0 ? 48 : 60) * MINUTE_US);
      evening_read_flame (&evening, sample, climb[i], i == 0 ? 180 : 240);
    }
  wb_app_bench_update (evening.bench);
  again = wb_app_bench_dup_unanswered (sample);
  g_assert_nonnull (again);
  g_assert_nonnull (strstr (told_text (again, 0), "37.0"));
  g_assert_cmpint (wb_app_bench_sample_get_due_in_s (sample), <=, 15 * 60);
  evening_tear_down (&evening);
}

/* 55 mm that nobody answered, and two hours later a climb that may pass again: both are asked, the worse first, and each is answered as itself. */
static void
test_trend_hides_no_crossing (void)
{
  const double flames[][2] = { { 60, 55 }, { 120, 20 }, { 180, 37 } };
  Evening evening;
  EveningAsked asked = { NULL, FALSE };
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) told = NULL, readings = NULL;
  guint n = 0;

  asked.sample = evening_set_up_lit (&evening);
  read_flames (&evening, asked.sample, flames, 3);
  told = wb_app_bench_dup_unanswered (asked.sample);
  g_assert_nonnull (told);
  g_assert_cmpuint (told->len, ==, 2);
  g_assert_nonnull (strstr (told_text (told, 0), "55.0\u00a0mm: over the house limit"));
  g_assert_nonnull (strstr (told_text (told, 1), "may pass the house limit"));
  wb_app_bench_answer_async (evening.bench, wb_app_bench_sample_get_id (asked.sample), told_text (told, 0), NULL, app_keep_result_cb, &result);
  g_assert_true (evening_finish (&evening, &result, &error));
  g_assert_no_error (error);
  app_wait_until (evening_is_asked_so, &asked, "the answer in the record");
  readings = wb_app_query_list_sync (evening.notebook, &wb_reading_type, &error);
  g_assert_no_error (error);
  for (guint i = 0; i < readings->len; i++)
    {
      const WbReading *reading = g_ptr_array_index (readings, i);

      if (reading->note == NULL || strstr (reading->note, "Seen to:") == NULL)
        continue;
      n++;
      g_assert_nonnull (strstr (reading->note, reading->values[WB_COLUMN_FLAME_MM] > 50 ? "over the house limit" : "may pass the house limit"));
    }
  g_assert_cmpuint (n, ==, 2);
  evening_tear_down (&evening);
}

static void
light_weighed (Evening          *evening,
               WbAppBenchSample *sample,
               double            mass_g)
{
  g_autoptr (WbRecord) first = wb_record_new (&wb_reading_type);
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;

  ((WbReading *) first)->values[WB_COLUMN_MASS_G] = mass_g;
  wb_app_bench_light_async (evening->bench, wb_app_bench_sample_get_id (sample), WB_BURN_STANDARD, 6, "A1", WB_INSTANT_NONE,
                            (WbReading *) first, FALSE, NULL, app_keep_result_cb, &result);
  g_assert_true (evening_finish (evening, &result, &error));
  g_assert_no_error (error);
  evening_wait_for_state (sample, WB_APP_BENCH_ALIGHT);
}

static gboolean
is_weighed (gpointer sample)
{
  return wb_app_bench_sample_is_weighed (sample);
}

static gboolean
asks_for (WbAppBenchSample *sample,
          WbColumn          column)
{
  g_autoptr (GArray) asked = wb_app_bench_dup_asked_of (sample, WB_APP_ASK_ROUND);

  for (guint i = 0; i < asked->len; i++)
    if (g_array_index (asked, int, i) == (int) column)
      return TRUE;
  return FALSE;
}

/*
 * 60 mm of wax, of which 34.6 % burn in the first four hours: 65.4 % are left, 25.4 mm are 42.33 %, and at that pace the
 * next burn is in its last inch after (65.4 - 42.33) / 34.6 * 4 h = 160 min. Known before it is lit; read then, and every quarter
 * of an hour from then on, side and base too. The fill was not weighed: 6 cm of 7.6 cm across at 0.9 g/cm3.
 */
static void
test_last_inch (void)
{
  Evening evening;
  WbAppBenchSample *sample;
  const double fill_g = G_PI / 4 * 7.6 * 7.6 * 6 * 0.9;
  g_autoptr (WbRecord) weighed = wb_record_new (&wb_reading_type);
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;

  evening_set_up (&evening);
  wb_clock_advance (wb_clock_get (), 3 * DAY_US);
  wb_app_bench_update (evening.bench);
  sample = evening_nth (&evening, 0);
  g_assert_cmpfloat (wb_app_bench_sample_get_last_inch_min (sample), >, 240);
  evening_open_session (&evening);
  light_weighed (&evening, sample, 500);
  wb_clock_advance (wb_clock_get (), 4 * HOUR_US);
  evening_snuff (&evening, sample);
  evening_wait_for_state (sample, WB_APP_BENCH_COOLING);
  wb_clock_advance (wb_clock_get (), 4 * HOUR_US);
  ((WbReading *) weighed)->values[WB_COLUMN_MASS_G] = 500 - 0.346 * fill_g;
  wb_app_bench_read_after_async (evening.bench, wb_app_bench_sample_get_id (sample), (WbReading *) weighed, NULL, app_keep_result_cb, &result);
  g_assert_true (evening_finish (&evening, &result, &error));
  app_wait_until (is_weighed, sample, "the mass");
  g_assert_cmpfloat_with_epsilon (wb_app_bench_sample_get_last_inch_min (sample), 160, 0.5);
  g_assert_false (wb_app_bench_sample_is_last_inch (sample));

  evening_light (&evening, sample);
  wb_clock_advance (wb_clock_get (), 2 * HOUR_US);
  evening_read_flame (&evening, sample, 20, 120);
  g_assert_cmpint (wb_app_bench_sample_get_due_in_s (sample) / 60, ==, 40);
  g_assert_false (asks_for (sample, WB_COLUMN_BASE_C));
  wb_clock_advance (wb_clock_get (), 41 * MINUTE_US);
  evening_read_flame (&evening, sample, 20, 161);
  g_assert_true (wb_app_bench_sample_is_last_inch (sample));
  g_assert_true (asks_for (sample, WB_COLUMN_BASE_C) && asks_for (sample, WB_COLUMN_VESSEL_C));
  g_assert_cmpint (wb_app_bench_sample_get_due_in_s (sample), ==, 4 * 60);
  evening_tear_down (&evening);
}

/* With a look at the flame: the room alone would leave the round due. */
static void
read_room (Evening          *evening,
           WbAppBenchSample *sample,
           double            room_c,
           double            minute)
{
  g_autoptr (WbRecord) record = wb_record_new (&wb_reading_type);
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;

  ((WbReading *) record)->values[WB_COLUMN_ROOM_C] = room_c;
  ((WbReading *) record)->values[WB_COLUMN_FLAME_MM] = 20;
  wb_app_bench_read_async (evening->bench, wb_app_bench_sample_get_id (sample), (WbReading *) record, NULL, app_keep_result_cb, &result);
  g_assert_true (evening_finish (evening, &result, &error));
  g_assert_no_error (error);
  evening_wait_for_minute (sample, minute);
}

static gboolean
asks_room (WbAppBenchSample *sample)
{
  g_autoptr (GArray) asked = wb_app_bench_dup_asked_of (sample, WB_APP_ASK_ROUND);

  for (guint i = 0; i < asked->len; i++)
    if (g_array_index (asked, int, i) == WB_COLUMN_ROOM_C)
      return TRUE;
  return FALSE;
}

/* The bench's own copy of the protocol, until it is loaded again. */
static void
ask_room (WbAppBenchSample *sample)
{
  WbProtocol *protocol = (WbProtocol *) wb_app_bench_sample_get_protocol (sample);

  wb_record_set_text (protocol, wb_record_type_find_field (&wb_protocol_type, "ask_round"), "flame_mm,room_c");
}

/* Read once a round, with the first sample: the others' readings have it unasked; what they took over is handed on to nobody. */
static void
test_room_of_a_round (void)
{
  Evening evening;
  WbAppBenchSample *first, *second;

  first = evening_set_up_lit (&evening);
  second = evening_nth (&evening, 1);
  evening_light (&evening, second);
  ask_room (first);
  wb_clock_advance (wb_clock_get (), HOUR_US);
  wb_app_bench_update (evening.bench);
  g_assert_true (asks_room (first) && asks_room (second));
  read_room (&evening, first, 21, 60);
  wb_app_bench_update (evening.bench);
  ask_room (second);
  g_assert_false (asks_room (second));
  /* due in an hour: another round */
  g_assert_true (asks_room (first));
  wb_clock_advance (wb_clock_get (), 10 * MINUTE_US);
  evening_read_flame (&evening, second, 20, 70);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (second, WB_COLUMN_ROOM_C), ==, 21);
  g_assert_true (isnan (wb_app_bench_sample_get_last (second, WB_COLUMN_DRAUGHT)));
  /* 20 min after it was read, and 10 after it was taken over: 23 °C and not 21 is what the next one reads */
  wb_clock_advance (wb_clock_get (), 10 * MINUTE_US);
  evening_read_flame (&evening, first, 20, 80);
  wb_clock_advance (wb_clock_get (), HOUR_US);
  read_room (&evening, second, 23, 140);
  evening_read_flame (&evening, first, 22, 140);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (first, WB_COLUMN_ROOM_C), ==, 23);
  evening_tear_down (&evening);
}

static gint64
find_code (Evening    *evening,
           const char *code)
{
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (evening->bench)); i++)
    {
      g_autoptr (WbAppBenchSample) sample = g_list_model_get_item (G_LIST_MODEL (evening->bench), i);

      if (g_str_equal (wb_app_bench_sample_get_code (sample), code))
        return wb_app_bench_sample_get_id (sample);
    }
  g_assert_not_reached ();
}

static gboolean
has_no_room (gpointer sample)
{
  return isnan (wb_app_bench_sample_get_last (sample, WB_COLUMN_ROOM_C));
}

/* What was read of the room is in the record: another start of the program asks no more for it, and undo takes it along. */
static void
test_room_from_the_record (void)
{
  Evening evening;
  WbAppBenchSample *first, *second;
  g_autoptr (GError) error = NULL;
  g_autofree char *path = NULL, *one = NULL, *other = NULL;

  first = evening_set_up_lit (&evening);
  second = evening_nth (&evening, 1);
  one = g_strdup (wb_app_bench_sample_get_code (first));
  other = g_strdup (wb_app_bench_sample_get_code (second));
  evening_light (&evening, second);
  wb_clock_advance (wb_clock_get (), HOUR_US);
  wb_app_bench_update (evening.bench);
  read_room (&evening, first, 21, 60);
  path = g_strdup (wb_app_notebook_get_path (evening.notebook));
  evening_tear_down (&evening);
  evening_reopen (&evening, path);
  first = wb_app_bench_find (evening.bench, find_code (&evening, one));
  second = wb_app_bench_find (evening.bench, find_code (&evening, other));
  ask_room (second);
  g_assert_false (asks_room (second));
  wb_clock_advance (wb_clock_get (), 10 * MINUTE_US);
  evening_read_flame (&evening, second, 20, 70);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (second, WB_COLUMN_ROOM_C), ==, 21);
  /* both taken back, the flame and the room */
  for (guint i = 0; i < 2; i++)
    {
      g_autoptr (GAsyncResult) undone = NULL;

      wb_app_notebook_undo_async (evening.notebook, NULL, app_keep_result_cb, &undone);
      wb_app_notebook_save_finish (evening.notebook, app_wait_result (&undone), NULL, &error);
      g_assert_no_error (error);
    }
  app_wait_until (has_no_room, first, "the room to be gone");
  ask_room (second);
  g_assert_true (asks_room (second));
  evening_read_flame (&evening, second, 22, 70);
  g_assert_true (isnan (wb_app_bench_sample_get_last (second, WB_COLUMN_ROOM_C)));
  evening_tear_down (&evening);
}

/* One room: the newest, whichever sample it was read with, lowest and highest; the house's range is 20 to 25 °C. */
static void
test_room (void)
{
  Evening evening;
  WbAppBenchSample *first, *second;
  WbAppBenchClimate room;

  first = evening_set_up_lit (&evening);
  g_assert_false (wb_app_bench_get_climate (evening.bench, &room));
  second = evening_nth (&evening, 1);
  wb_clock_advance (wb_clock_get (), 10 * MINUTE_US);
  evening_light (&evening, second);
  wb_clock_advance (wb_clock_get (), 50 * MINUTE_US);
  read_room (&evening, first, 21, 60);
  wb_clock_advance (wb_clock_get (), 5 * MINUTE_US);
  /* minute 55 of its own clock, and yet the newer one */
  read_room (&evening, second, 23, 55);
  g_assert_true (wb_app_bench_get_climate (evening.bench, &room));
  g_assert_cmpfloat (room.last_c, ==, 23);
  g_assert_cmpfloat (room.low_c, ==, 21);
  g_assert_cmpfloat (room.high_c, ==, 23);
  g_assert_false (room.outside || room.draught);
  wb_clock_advance (wb_clock_get (), HOUR_US);
  read_room (&evening, first, 26, 125);
  g_assert_true (wb_app_bench_get_climate (evening.bench, &room));
  g_assert_true (room.outside);
  evening_tear_down (&evening);
}

static guint
count_doubts (WbAppBenchSample *sample,
              WbColumn          column,
              double            value,
              double            minute)
{
  double values[WB_N_COLUMNS];
  g_autoptr (GArray) doubts = NULL;

  for (guint i = 0; i < WB_N_COLUMNS; i++)
    values[i] = NAN;
  values[column] = value;
  doubts = wb_app_bench_find_doubts (sample, WB_APP_ASK_ROUND, values, minute);
  return doubts->len;
}

/* Held against the reading before, in this burn; a burn that nobody ended is doubted after a day. */
static void
test_doubts (void)
{
  Evening evening;
  WbAppBenchSample *sample;

  sample = evening_set_up_lit (&evening);
  g_assert_cmpuint (count_doubts (sample, WB_COLUMN_FLAME_MM, 90, NAN), ==, 0);
  wb_clock_advance (wb_clock_get (), HOUR_US);
  evening_read_flame (&evening, sample, 21, 60);
  g_assert_cmpuint (count_doubts (sample, WB_COLUMN_FLAME_MM, 24, NAN), ==, 0);
  g_assert_cmpuint (count_doubts (sample, WB_COLUMN_FLAME_MM, 90, NAN), ==, 1);
  g_assert_cmpuint (count_doubts (sample, WB_COLUMN_FLAME_MM, 24, 30), ==, 1);
  /* What was seen some minutes ago is typed after what was seen since. */
  g_assert_cmpuint (count_doubts (sample, WB_COLUMN_FLAME_MM, 24, 55), ==, 0);
  wb_clock_advance (wb_clock_get (), DAY_US);
  wb_app_bench_update (evening.bench);
  g_assert_cmpuint (count_doubts (sample, WB_COLUMN_FLAME_MM, 24, NAN), ==, 1);
  evening_tear_down (&evening);
}

void
test_app_bench_add (void)
{
  g_test_add_func ("/app/bench/cured-and-checked-before-the-first-light", test_cure_and_session);
  g_test_add_func ("/app/bench/a-wax-that-states-no-cure-sets-for-a-day", test_no_cure);
  g_test_add_func ("/app/bench/a-code-at-the-bench-twice-names-its-experiment", test_twins);
  g_test_add_func ("/app/bench/each-sample-by-its-own-clock", test_due_times);
  g_test_add_func ("/app/bench/a-check-burn-has-the-protocols-length", test_check_has_length);
  g_test_add_func ("/app/bench/a-session-records-its-seed", test_recorded_seed);
  g_test_add_func ("/app/bench/a-step-of-the-wall-clock-moves-nothing", test_clock_step);
  g_test_add_func ("/app/bench/an-hour-told-later-is-an-hour", test_minute_told_later);
  g_test_add_func ("/app/bench/snuffed-cooled-weighed-and-lit-again", test_snuff_and_relight);
  g_test_add_func ("/app/bench/a-restart-finds-what-burns", test_found_open);
  g_test_add_func ("/app/bench/what-was-snuffed-is-not-asked-about", test_found_open_and_snuffed);
  g_test_add_func ("/app/bench/a-limit-speaks-at-once", test_limits);
  g_test_add_func ("/app/bench/no-value-is-above-itself", test_limit_words);
  g_test_add_func ("/app/bench/the-protocol-says-what-is-asked", test_asked);
  g_test_add_func ("/app/bench/set-aside-and-back", test_set_aside);
  g_test_add_func ("/app/bench/over-a-limit-is-not-fit-to-light", test_crossed);
  g_test_add_func ("/app/bench/a-minute-that-is-taken-moves-on-by-a-tenth", test_same_minute);
  g_test_add_func ("/app/bench/over-a-limit-and-set-aside-is-both", test_crossed_and_set_aside);
  g_test_add_func ("/app/bench/a-cracked-vessel-is-never-lit", test_cracked);
  g_test_add_func ("/app/bench/near-a-limit-is-read-sooner", test_near_is_watched);
  g_test_add_func ("/app/today/what-is-due-follows-the-clock", test_today);
  g_test_add_func ("/app/bench/an-answer-to-a-hazard-stands-in-the-record", test_answer);
  g_test_add_func ("/app/bench/a-calm-reading-answers-nothing", test_answer_after_calm);
  g_test_add_func ("/app/bench/a-trend-is-told-before-the-limit", test_trend);
  g_test_add_func ("/app/bench/a-trend-lapses-with-the-next-look", test_trend_lapses);
  g_test_add_func ("/app/bench/a-trend-hides-no-crossing", test_trend_hides_no_crossing);
  g_test_add_func ("/app/bench/the-last-inch-is-foretold", test_last_inch);
  g_test_add_func ("/app/bench/the-room-is-read-once-a-round", test_room_of_a_round);
  g_test_add_func ("/app/bench/the-room-of-a-round-is-the-record-s", test_room_from_the_record);
  g_test_add_func ("/app/bench/one-room-lowest-and-highest", test_room);
  g_test_add_func ("/app/bench/a-doubt-is-held-against-what-was-before", test_doubts);
}
