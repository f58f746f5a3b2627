/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "flames.h"

#include "app-loop.h"

#include <string.h>

int
flames_by_value (const void *a,
                 const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return x < y ? -1 : x > y;
}

static gboolean
is_loaded (gpointer bench)
{
  return wb_app_bench_get_loaded (bench);
}

static gboolean
has_session (gpointer bench)
{
  return wb_app_bench_get_session (bench) != NULL;
}

static gboolean
all_are_alight (gpointer bench)
{
  return wb_app_bench_get_alight (bench) == SAMPLES;
}

/* How many saves are on their way; each has to come to the file. */
static guint waiting;

static void
on_done_cb (GObject      *source,
            GAsyncResult *result,
            gpointer      user)
{
  g_autoptr (GError) error = NULL;

  if (!wb_app_bench_finish (WB_APP_BENCH (source), result, &error))
    g_error ("%s", error->message);
  waiting--;
}

static gboolean
nothing_waits (gpointer data)
{
  return waiting == 0;
}

void
flames_wait_for_saves (void)
{
  app_wait_until (nothing_waits, NULL, "the saves");
}

GPtrArray *
flames_dup_twelve (WbAppBench *bench)
{
  GPtrArray *samples = NULL;

  for (guint i = 0; samples == NULL && i < g_list_model_get_n_items (G_LIST_MODEL (bench)); i++)
    {
      g_autoptr (WbAppBenchSample) sample = g_list_model_get_item (G_LIST_MODEL (bench), i);

      if (g_str_equal (wb_app_bench_sample_get_vessel (sample)->name, "Tern"))
        samples = wb_app_bench_dup_of_experiment (bench, wb_app_bench_sample_get_experiment (sample));
    }
  g_assert_nonnull (samples);
  g_assert_cmpuint (samples->len, ==, SAMPLES);
  return samples;
}

void
flames_light_all (WbAppBench *bench)
{
  g_autoptr (GPtrArray) samples = NULL;

  app_wait_until (is_loaded, bench, "the bench");
  samples = flames_dup_twelve (bench);
  if (wb_app_bench_get_alight (bench) == SAMPLES)
    return;
  waiting++;
  wb_app_bench_open_session_async (bench, "Kitchen", "Wren, until ten", TRUE, NULL, on_done_cb, NULL);
  flames_wait_for_saves ();
  app_wait_until (has_session, bench, "the session");
  for (guint i = 0; i < SAMPLES; i++)
    {
      waiting++;
      wb_app_bench_light_async (bench, wb_app_bench_sample_get_id (g_ptr_array_index (samples, i)), WB_BURN_STANDARD, 6, NULL,
                                WB_INSTANT_NONE, NULL, FALSE, NULL, on_done_cb, NULL);
      flames_wait_for_saves ();
    }
  app_wait_until (all_are_alight, bench, "twelve flames");
}

void
flames_read_one (WbAppBench       *bench,
                 WbAppBenchSample *sample,
                 double            minute)
{
  WbReading *reading = wb_record_new (&wb_reading_type);

  reading->elapsed_min = minute;
  reading->values[WB_COLUMN_POOL_MM] = 54.5;
  reading->values[WB_COLUMN_FLAME_MM] = 21;
  reading->values[WB_COLUMN_VESSEL_C] = 44.5;
  reading->values[WB_COLUMN_SOOT] = 0;
  waiting++;
  wb_app_bench_read_async (bench, wb_app_bench_sample_get_id (sample), reading, NULL, on_done_cb, NULL);
  wb_record_free (reading);
}

gboolean
flames_knows (gpointer data)
{
  return wb_app_bench_sample_get_last_min (((FlamesKnown *) data)->sample) >= ((FlamesKnown *) data)->minute;
}
