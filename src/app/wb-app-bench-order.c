/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-bench-private.h"

#include "wb-craft-bench-plan.h"

/* The order of the bench's list: what burns by its place, then what needs a hand soonest. */

static int
state_place (WbAppBenchState state)
{
  static const int places[] = {
    [WB_APP_BENCH_ALIGHT] = 0,
    [WB_APP_BENCH_CROSSED] = 1, /* what needs a word before anything is lit */
    [WB_APP_BENCH_FIT] = 2,
    [WB_APP_BENCH_COOLING] = 3,
    [WB_APP_BENCH_CURING] = 4,
    [WB_APP_BENCH_ENDED] = 5,
  };

  return places[state];
}

/* Numbered places by their number, before those with another name. */
static int
compare_places (const char *a,
                const char *b)
{
  guint64 first = G_MAXUINT64, second = G_MAXUINT64;

  if (a != NULL)
    g_ascii_string_to_unsigned (a, 10, 0, G_MAXUINT32, &first, NULL);
  if (b != NULL)
    g_ascii_string_to_unsigned (b, 10, 0, G_MAXUINT32, &second, NULL);
  if (first != second)
    return first < second ? -1 : 1;
  return g_strcmp0 (a, b);
}

guint
wb_app_bench_sample_get_place_number (WbAppBenchSample *self,
                                      guint             places)
{
  const WbBurn *burn;
  guint64 number = 0;

  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), 0);

  burn = wb_app_bench_sample_get_burn (self);
  if (burn == NULL || burn->kind == WB_BURN_THROW || burn->bench_place == NULL)
    return 0;
  return g_ascii_string_to_unsigned (burn->bench_place, 10, 1, places, &number, NULL) ? (guint) number : 0;
}

guint
wb_app_bench_propose_place (WbAppBench       *self,
                            WbAppBenchSample *sample,
                            guint             places)
{
  g_autoptr (GArray) plan = NULL;
  g_autofree gboolean *taken = NULL;
  GHashTableIter iter;
  gpointer other;

  g_return_val_if_fail (WB_IS_APP_BENCH (self), 1);
  g_return_val_if_fail (places > 0, 1);

  plan = wb_craft_bench_plan_new (places, wb_app_bench_get_session_number (self));
  taken = g_new0 (gboolean, places);
  g_hash_table_iter_init (&iter, wb_app_bench_get_samples (self));
  while (g_hash_table_iter_next (&iter, NULL, &other))
    {
      guint number = wb_app_bench_sample_get_state (other) == WB_APP_BENCH_ALIGHT ? wb_app_bench_sample_get_place_number (other, places) : 0;

      if (number > 0)
        taken[number - 1] = TRUE;
    }
  return wb_craft_bench_plan_find (plan, wb_app_bench_sample_get_index (sample), taken) + 1;
}

int
wb_app_bench_sample_order (gconstpointer a,
                           gconstpointer b)
{
  WbAppBenchSample *first = *(WbAppBenchSample *const *) a, *second = *(WbAppBenchSample *const *) b;
  int order = state_place (wb_app_bench_sample_get_state (first)) - state_place (wb_app_bench_sample_get_state (second));

  if (order == 0 && wb_app_bench_sample_get_state (first) == WB_APP_BENCH_ALIGHT)
    order = compare_places (wb_app_bench_sample_get_place (first), wb_app_bench_sample_get_place (second));
  if (order == 0 && wb_app_bench_sample_get_experiment (first) != wb_app_bench_sample_get_experiment (second))
    order = wb_app_bench_sample_get_experiment (first) < wb_app_bench_sample_get_experiment (second) ? -1 : 1;
  if (order == 0)
    order = g_strcmp0 (wb_app_bench_sample_get_code (first), wb_app_bench_sample_get_code (second));
  return order;
}
