/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-bench-private.h"

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
