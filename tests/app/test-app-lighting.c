/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-evening.h"
#include "wb-clock.h"

#include <string.h>

/* A lighting is judged by when it was, not by when it is told. House protocol: a burn of four hours, three of cooling. */

/* Tells a lighting of so many minutes ago; NULL: it was taken. Caller frees. */
static char *
light_ago (Evening          *evening,
           WbAppBenchSample *sample,
           gint64            minutes,
           gboolean          override)
{
  WbInstant lit_at = wb_clock_at (wb_clock_get (), wb_clock_now (wb_clock_get ()).utc_us - minutes * MINUTE_US);
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;

  wb_app_bench_light_async (evening->bench, wb_app_bench_sample_get_id (sample), WB_BURN_STANDARD, 6, "A1", lit_at, NULL, override, NULL,
                            app_keep_result_cb, &result);
  return evening_finish (evening, &result, &error) ? NULL : g_strdup (error->message);
}

static void
test_told_later (void)
{
  Evening evening;
  WbAppBenchSample *sample = evening_set_up_lit (&evening);
  g_autofree char *in_the_burn = NULL, *knowing = NULL, *warm = NULL, *all_the_same = NULL;

  wb_clock_advance (wb_clock_get (), 4 * HOUR_US);
  evening_snuff (&evening, sample);
  evening_wait_for_state (sample, WB_APP_BENCH_COOLING);
  wb_clock_advance (wb_clock_get (), 5 * HOUR_US);
  wb_app_bench_update (evening.bench);
  g_assert_cmpint (wb_app_bench_sample_get_state (sample), ==, WB_APP_BENCH_FIT);
  /* Out for five hours, fit for two. */
  in_the_burn = light_ago (&evening, sample, 6 * 60, FALSE);
  g_assert_nonnull (strstr (in_the_burn, "it was not lit before that"));
  knowing = light_ago (&evening, sample, 6 * 60, TRUE);
  g_assert_nonnull (strstr (knowing, "it was not lit before that"));
  warm = light_ago (&evening, sample, 3 * 60, FALSE);
  g_assert_nonnull (strstr (warm, "was fit to light from"));
  all_the_same = light_ago (&evening, sample, 3 * 60, TRUE);
  g_assert_null (all_the_same);
  evening_wait_for_state (sample, WB_APP_BENCH_ALIGHT);
  g_assert_nonnull (strstr (wb_app_bench_sample_get_burn (sample)->note, "was fit to light from"));
  evening_tear_down (&evening);
}

static void
test_in_time (void)
{
  Evening evening;
  WbAppBenchSample *sample = evening_set_up_lit (&evening);
  g_autofree char *refusal = NULL;

  wb_clock_advance (wb_clock_get (), HOUR_US);
  evening_snuff (&evening, sample);
  evening_wait_for_state (sample, WB_APP_BENCH_COOLING);
  wb_clock_advance (wb_clock_get (), 5 * HOUR_US);
  wb_app_bench_update (evening.bench);
  refusal = light_ago (&evening, sample, 60, FALSE);
  g_assert_null (refusal);
  evening_wait_for_state (sample, WB_APP_BENCH_ALIGHT);
  g_assert_null (wb_app_bench_sample_get_burn (sample)->note);
  evening_tear_down (&evening);
}

void
test_app_lighting_add (void)
{
  g_test_add_func ("/app/lighting/told-later-is-judged-by-when-it-was", test_told_later);
  g_test_add_func ("/app/lighting/told-later-and-in-time-is-no-deviation", test_in_time);
}
