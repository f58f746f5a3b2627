/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "evening.h"

#include "wb-clock.h"

#include <string.h>
#include <time.h>

/* Longer than anything here takes on a slow machine. */
#define LIMIT_S 120

static GPollFunc poll_before;
/* CPU time of the main thread in microseconds: what other programs and threads take meanwhile is none of our work. */
static gint64 turn_began; /* 0: not yet */
static gint64 frame_began, in_frames; /* of this turn, GTK's laying out and drawing of a frame */
static gint64 longest, longest_own;   /* whole turns; and without those frames */

static gint64
own_time_us (void)
{
  struct timespec now;

  clock_gettime (CLOCK_THREAD_CPUTIME_ID, &now);
  return (gint64) now.tv_sec * G_USEC_PER_SEC + now.tv_nsec / 1000;
}

static int
on_poll (GPollFD *fds,
         guint    n,
         int      timeout)
{
  int result;

  if (turn_began != 0)
    {
      gint64 turn = own_time_us () - turn_began;

      longest = MAX (longest, turn);
      longest_own = MAX (longest_own, turn - in_frames);
    }
  result = poll_before (fds, n, timeout);
  in_frames = 0;
  turn_began = own_time_us ();
  return result;
}

static void
on_before_paint_cb (void)
{
  frame_began = own_time_us ();
}

static void
on_after_paint_cb (void)
{
  in_frames += own_time_us () - frame_began;
}

void
evening_watch_frames (GdkFrameClock *clock)
{
  g_signal_connect (clock, "before-paint", G_CALLBACK (on_before_paint_cb), NULL);
  g_signal_connect (clock, "after-paint", G_CALLBACK (on_after_paint_cb), NULL);
}

void
evening_watch_turns (void)
{
  poll_before = g_main_context_get_poll_func (NULL);
  g_main_context_set_poll_func (NULL, on_poll);
}

EveningTurn
evening_take_longest (void)
{
  EveningTurn taken = { (double) longest, (double) longest_own };

  longest = longest_own = turn_began = 0;
  return taken;
}

int
evening_by_value (const void *a,
          const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return x < y ? -1 : x > y;
}

/* ---- The bench ---- */

static gboolean
on_limit_cb (gpointer what)
{
  g_error ("waited %d s for %s", LIMIT_S, (const char *) what);
  return G_SOURCE_REMOVE;
}

void
evening_wait_for (EveningCondition   condition,
          gpointer    data,
          const char *what)
{
  guint limit = g_timeout_add_seconds (LIMIT_S, on_limit_cb, (gpointer) what);

  while (!condition (data))
    g_main_context_iteration (NULL, TRUE);
  g_source_remove (limit);
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
evening_wait_for_saves (void)
{
  evening_wait_for (nothing_waits, NULL, "the saves");
}

/* Those of `write`, not what was imported. */
GPtrArray *
evening_dup_twelve (WbAppBench *bench)
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
evening_light_all (WbAppBench *bench)
{
  g_autoptr (GPtrArray) samples = NULL;

  evening_wait_for (is_loaded, bench, "the bench");
  samples = evening_dup_twelve (bench);
  if (wb_app_bench_get_alight (bench) == SAMPLES)
    return;
  waiting++;
  wb_app_bench_open_session_async (bench, "Kitchen", "Wren, until ten", TRUE, NULL, on_done_cb, NULL);
  evening_wait_for_saves ();
  evening_wait_for (has_session, bench, "the session");
  for (guint i = 0; i < SAMPLES; i++)
    {
      waiting++;
      wb_app_bench_light_async (bench, wb_app_bench_sample_get_id (g_ptr_array_index (samples, i)), WB_BURN_STANDARD, 6, NULL,
                                WB_INSTANT_NONE, NULL, FALSE, NULL, on_done_cb, NULL);
      evening_wait_for_saves ();
    }
  evening_wait_for (all_are_alight, bench, "twelve flames");
}

void
evening_read_one (WbAppBench       *bench,
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
evening_knows (gpointer data)
{
  return wb_app_bench_sample_get_last_min (((EveningKnown *) data)->sample) >= ((EveningKnown *) data)->minute;
}
