/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"
#include "wb-app-demo.h"
#include "wb-app-loads-private.h"
#include "wb-clock.h"
#include "wb-store-dataset.h"

#define N_THREADS 4

typedef struct
{
  const char *path;
  WbAppLoads *loads;
  gint64      experiment;
} Asked;

static gpointer
get_in_thread (gpointer data)
{
  const Asked *asked = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbStore) store = wb_store_open (asked->path, WB_STORE_READ, &error);
  WbAppBenchLoad *load;

  g_assert_no_error (error);
  load = wb_app_loads_get (asked->loads, store, asked->experiment, 5, &error);
  g_assert_no_error (error);
  return load;
}

static gint64
get_first_experiment (WbStore *store)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) experiments = wb_store_list_experiments (store, wb_clock_now (wb_clock_get ()), &error);

  g_assert_no_error (error);
  return ((const WbStoreExperiment *) g_ptr_array_index (experiments, 0))->id;
}

/* Whoever asks at the same time gets the same one, and so does who asks later, until an entry touched it. */
static void
test_once (void)
{
  g_autofree char *path = app_new_path ();
  g_autoptr (WbAppLoads) loads = wb_app_loads_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (WbStore) store = NULL;
  GThread *threads[N_THREADS];
  WbAppBenchLoad *got[N_THREADS], *newer, *again;
  Asked asked = { path, loads, 0 };

  g_assert_true (wb_app_demo_write (path, &error));
  store = wb_store_open (path, WB_STORE_READ, &error);
  g_assert_no_error (error);
  asked.experiment = get_first_experiment (store);
  for (guint i = 0; i < N_THREADS; i++)
    threads[i] = g_thread_new ("asks", get_in_thread, &asked);
  for (guint i = 0; i < N_THREADS; i++)
    got[i] = g_thread_join (threads[i]);
  for (guint i = 1; i < N_THREADS; i++)
    {
      g_assert_true (got[i] == got[0]);
      wb_app_bench_load_unref (got[i]);
    }
  newer = wb_app_loads_get (loads, store, asked.experiment, 6, &error);
  g_assert_no_error (error);
  g_assert_true (newer != got[0]);
  wb_app_bench_load_unref (got[0]);
  wb_app_loads_trim (loads); /* it is held */
  again = wb_app_loads_get (loads, store, asked.experiment, 6, &error);
  g_assert_true (again == newer);
  wb_app_bench_load_unref (again);
  wb_app_bench_load_unref (newer);
  wb_app_loads_trim (loads);
}

static void
test_unknown (void)
{
  g_autofree char *path = app_new_path ();
  g_autoptr (WbAppLoads) loads = wb_app_loads_new ();
  g_autoptr (WbStore) store = NULL;

  g_assert_true (wb_app_demo_write (path, NULL));
  store = wb_store_open (path, WB_STORE_READ, NULL);
  for (guint i = 0; i < 2; i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_null (wb_app_loads_get (loads, store, 987654, 5, &error));
      g_assert_nonnull (error);
    }
}

void
test_app_loads_add (void)
{
  g_test_add_func ("/app/loads/an-experiment-is-read-once", test_once);
  g_test_add_func ("/app/loads/what-cannot-be-read-is-asked-for-again", test_unknown);
}
