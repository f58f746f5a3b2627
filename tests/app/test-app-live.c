/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-evening.h"
#include "wb-app-bench-private.h"
#include "wb-app-import.h"
#include "wb-app-record.h"
#include "wb-clock.h"

/* What a tick and a reading look at in a notebook that holds much more: the live samples. */

#define MANY 30
#define OWN 3

static guint
count (Evening *evening)
{
  return g_list_model_get_n_items (G_LIST_MODEL (evening->bench));
}

static gboolean
has_many (gpointer evening)
{
  return count (evening) == OWN + MANY;
}

static gboolean
has_own (gpointer evening)
{
  return count (evening) == OWN;
}

/* Experiments of one sample each from a file, which were burnt months ago and may be lit; invented. Gives the entry. */
static gint64
import_many (Evening *evening)
{
  g_autofree char *log = app_new_path ();
  g_autoptr (GString) rows = g_string_new ("experiment,vessel,inner_diameter_mm,wax,wick_series,wick_size,wick_step,fragrance,load_pct,"
                                           "sample,burn,lit_at,elapsed_min,pool_mm,note\n");
  g_autoptr (WbAppImportSummary) summary = NULL;
  g_autoptr (GError) error = NULL;

  for (guint i = 1; i <= MANY; i++)
    g_string_append_printf (rows, "Shelf %u,Plover,84,Marsh soft,Rush,R-%u,%u,Quimber leaf,6,P%u,1,2025-01-05T18:00:00+00:00,60,41,calm %u\n",
                            i, i, i, i, i);
  g_assert_true (g_file_set_contents (log, rows->str, -1, NULL));
  summary = wb_app_import_sync (wb_app_notebook_get_path (evening->notebook), log, NULL, WB_APP_IMPORT_WRITE, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (summary->accepted, ==, MANY);
  app_wait_until (has_many, evening, "the experiments of the file");
  return summary->entry;
}

static void
update (Evening *evening)
{
  wb_app_bench_update (evening->bench);
}

static gboolean
is_of_file (WbAppBenchSample *sample)
{
  return wb_app_bench_sample_get_burn (sample) != NULL && wb_app_bench_sample_get_burn (sample)->session == 0;
}

/* All that stand at the bench, in its order, each of them once. */
static void
check_list (Evening *evening)
{
  for (guint i = 1; i < count (evening); i++)
    {
      g_autoptr (WbAppBenchSample) before = g_list_model_get_item (G_LIST_MODEL (evening->bench), i - 1);
      g_autoptr (WbAppBenchSample) sample = g_list_model_get_item (G_LIST_MODEL (evening->bench), i);

      g_assert_cmpint (wb_app_bench_sample_order (&before, &sample), <, 0);
    }
}

static void
count_cb (guint *n)
{
  (*n)++;
}

/* However many stand there, a reading looks at the candles of its own experiment, and a second at what may change in it. */
static void
test_few (void)
{
  Evening evening;
  WbAppBenchSample *sample;
  guint listed = 0;

  sample = evening_set_up_lit (&evening);
  import_many (&evening);
  update (&evening);
  g_assert_cmpuint (g_hash_table_size (wb_app_bench_get_samples (evening.bench)), ==, OWN + MANY);
  g_assert_cmpuint (wb_app_bench_get_live (evening.bench)->len, ==, OWN);
  g_signal_connect_swapped (evening.bench, "items-changed", G_CALLBACK (count_cb), &listed);
  wb_clock_advance (wb_clock_get (), MINUTE_US);
  evening_read_flame (&evening, sample, 20, 1);
  g_assert_cmpuint (wb_app_bench_get_live (evening.bench)->len, ==, OWN);
  g_assert_cmpuint (listed, ==, 0);
  g_assert_true (wb_app_bench_get_next_due (evening.bench) == sample);
  /* What cooled long ago lies still until it is lit, and is alight by its own clock then. */
  wb_clock_advance (wb_clock_get (), 2 * DAY_US);
  update (&evening);
  g_assert_cmpuint (wb_app_bench_get_live (evening.bench)->len, ==, 1);
  g_assert_cmpint (wb_app_bench_sample_get_elapsed_s (sample), ==, 2 * 24 * 3600 + 60);
  check_list (&evening);
  g_signal_handlers_disconnect_by_data (evening.bench, &listed);
  evening_tear_down (&evening);
}

static void
test_lit_from_file (void)
{
  Evening evening;
  WbAppBenchSample *sample = NULL;

  evening_set_up_lit (&evening);
  import_many (&evening);
  for (guint i = 0; sample == NULL; i++)
    {
      g_autoptr (WbAppBenchSample) item = g_list_model_get_item (G_LIST_MODEL (evening.bench), i);

      if (is_of_file (item))
        sample = item;
    }
  g_assert_false (g_ptr_array_find ((GPtrArray *) wb_app_bench_get_live (evening.bench), sample, NULL));
  evening_light (&evening, sample);
  g_assert_true (g_ptr_array_find ((GPtrArray *) wb_app_bench_get_live (evening.bench), sample, NULL));
  g_assert_cmpuint (wb_app_bench_get_alight (evening.bench), ==, 2);
  check_list (&evening);
  wb_clock_advance (wb_clock_get (), 10 * MINUTE_US);
  update (&evening);
  g_assert_cmpint (wb_app_bench_sample_get_elapsed_s (sample), ==, 600);
  evening_snuff (&evening, sample);
  evening_wait_for_state (sample, WB_APP_BENCH_COOLING);
  check_list (&evening);
  evening_tear_down (&evening);
}

/* A clock that is put back takes even what lies still along. */
static void
test_clock_goes_back (void)
{
  Evening evening;
  WbAppBenchSample *sample;

  evening_set_up (&evening);
  sample = evening_nth (&evening, 0);
  wb_clock_advance (wb_clock_get (), 5 * DAY_US);
  update (&evening);
  g_assert_cmpint (wb_app_bench_sample_get_state (sample), ==, WB_APP_BENCH_FIT);
  g_assert_cmpuint (wb_app_bench_get_live (evening.bench)->len, ==, 0);
  wb_clock_step (wb_clock_get (), -3 * DAY_US);
  update (&evening);
  g_assert_cmpint (wb_app_bench_sample_get_state (sample), ==, WB_APP_BENCH_CURING);
  g_assert_cmpuint (wb_app_bench_get_live (evening.bench)->len, ==, OWN);
  wb_clock_step (wb_clock_get (), 3 * DAY_US);
  update (&evening);
  g_assert_cmpint (wb_app_bench_sample_get_state (sample), ==, WB_APP_BENCH_FIT);
  evening_tear_down (&evening);
}

/* An import that is taken back takes its samples from the bench, and no others. */
static void
test_gone (void)
{
  Evening evening;
  WbAppBenchSample *sample;
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;

  sample = evening_set_up_lit (&evening);
  wb_app_record_take_back_async (evening.notebook, import_many (&evening), NULL, app_keep_result_cb, &result);
  wb_app_notebook_save_finish (evening.notebook, app_wait_result (&result), NULL, &error);
  g_assert_no_error (error);
  g_clear_object (&result);
  app_wait_until (has_own, &evening, "the bench without the file");
  g_assert_cmpuint (g_hash_table_size (wb_app_bench_get_samples (evening.bench)), ==, OWN);
  g_assert_true (evening_nth (&evening, 0) == sample);
  g_assert_cmpint (wb_app_bench_sample_get_state (sample), ==, WB_APP_BENCH_ALIGHT);
  check_list (&evening);
  evening_tear_down (&evening);
}

/* The latest of all experiments come first, a word that was noted twice stands once. */
static void
test_notes (void)
{
  Evening evening;
  g_auto (GStrv) notes = NULL;

  evening_set_up_lit (&evening);
  import_many (&evening);
  notes = wb_app_bench_dup_last_notes (evening.bench, 3);
  g_assert_cmpuint (g_strv_length (notes), ==, 3);
  g_assert_cmpstr (notes[0], ==, "calm 30");
  g_assert_cmpstr (notes[1], ==, "calm 29");
  g_assert_cmpstr (notes[2], ==, "calm 28");
  evening_tear_down (&evening);
}

void
test_app_live_add (void)
{
  g_test_add_func ("/app/live/a-reading-looks-at-few-of-many", test_few);
  g_test_add_func ("/app/live/what-came-from-a-file-is-live-once-it-is-lit", test_lit_from_file);
  g_test_add_func ("/app/live/a-clock-that-goes-back-wakes-all", test_clock_goes_back);
  g_test_add_func ("/app/live/what-is-taken-back-leaves-the-bench", test_gone);
  g_test_add_func ("/app/live/the-latest-notes-of-all", test_notes);
}
