/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"
#include "wb-app-demo.h"
#include "wb-app-retain.h"
#include "wb-app-today.h"
#include "wb-clock.h"

#define DAY_US (24 * G_TIME_SPAN_HOUR)

static WbSample *
dup_sample (WbAppNotebook *notebook,
            const char    *code)
{
  g_autoptr (GPtrArray) samples = wb_app_query_list_sync (notebook, &wb_sample_type, NULL);

  for (guint i = 0; i < samples->len; i++)
    if (g_str_equal (((const WbSample *) samples->pdata[i])->code, code))
      return wb_record_copy (samples->pdata[i]);
  g_assert_not_reached ();
}

static WbDay
get_today (void)
{
  return wb_instant_get_day (wb_clock_now (wb_clock_get ()));
}

static gboolean
retain (WbAppNotebook  *notebook,
        WbAppRetainDeed deed,
        const char     *place,
        WbDay           day,
        GError        **error)
{
  g_autoptr (WbRecord) sample = (WbRecord *) dup_sample (notebook, "A4J-1");
  g_autoptr (GAsyncResult) result = NULL;

  wb_app_retain_async (notebook, (const WbSample *) (gpointer) sample, deed, place, day, NULL, app_keep_result_cb, &result);
  return wb_app_retain_finish (notebook, app_wait_result (&result), error);
}

static WbAppNotebook *
open_demo (void)
{
  g_autofree char *path = app_new_path ();

  g_assert_true (wb_app_demo_write (path, NULL));
  return app_open (path);
}

static void
test_refused (void)
{
  WbAppNotebook *notebook = open_demo ();
  const struct { const char *place; WbDay day; } cases[] = { { "  ", get_today () + 10 }, { "Box 3", WB_DAY_NONE }, { "Box 3", get_today () - 1 } };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (WbRecord) sample = NULL;

      g_assert_false (retain (notebook, WB_APP_RETAIN_KEEP, cases[i].place, cases[i].day, &error));
      g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED);
      sample = (WbRecord *) dup_sample (notebook, "A4J-1");
      g_assert_false (((WbSample *) (gpointer) sample)->retained);
    }
  app_close (notebook);
}

static guint
count_due (gpointer today)
{
  guint n = 0;

  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (today)); i++)
    {
      g_autoptr (WbAppDue) due = g_list_model_get_item (G_LIST_MODEL (today), i);

      n += wb_app_due_get_kind (due) == WB_APP_DUE_REFERENCE;
    }
  return n;
}

static gboolean
tells_one (gpointer today)
{
  return count_due (today) == 1;
}

static gboolean
tells_none (gpointer today)
{
  return count_due (today) == 0;
}

static gboolean
is_kept (gpointer retained)
{
  return wb_app_retained_get (retained)->len == 2; /* and the demo's own */
}

static gboolean
is_offered (WbAppBench *bench,
            gint64      id)
{
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (bench)); i++)
    {
      g_autoptr (WbAppBenchSample) sample = g_list_model_get_item (G_LIST_MODEL (bench), i);

      if (wb_app_bench_sample_get_id (sample) == id)
        return TRUE;
    }
  return FALSE;
}

typedef struct
{
  WbAppBench *bench;
  gint64      id;
} Offer;

static gboolean
is_taken_off (gpointer data)
{
  const Offer *offer = data;

  return !is_offered (offer->bench, offer->id);
}

static gboolean
is_back (gpointer data)
{
  const Offer *offer = data;

  return is_offered (offer->bench, offer->id);
}

static void
test_kept (void)
{
  WbAppNotebook *notebook = open_demo ();
  WbAppBench *bench = wb_app_bench_new (notebook);
  WbAppExperiments *experiments = wb_app_experiments_new (notebook);
  WbAppToday *today = wb_app_today_new (bench, experiments);
  g_autoptr (WbRecord) sample = (WbRecord *) dup_sample (notebook, "A4J-1");
  g_autoptr (WbRecord) out = NULL;
  Offer offer = { bench, sample->id };
  g_autoptr (GError) error = NULL;

  app_wait_until (is_back, &offer, "the bench to load");
  g_assert_true (retain (notebook, WB_APP_RETAIN_KEEP, " Box 3 ", get_today () + 2, &error));
  g_assert_no_error (error);
  /* it is no candle that waits to be burnt any more */
  app_wait_until (is_taken_off, &offer, "the bench to put it away");
  app_wait_until (is_kept, wb_app_today_get_retained (today), "the list of references");
  g_assert_cmpstr (wb_app_retained_find (wb_app_today_get_retained (today), offer.id)->place, ==, "Box 3");
  wb_clock_advance (wb_clock_get (), 2 * DAY_US);
  wb_app_bench_update (bench);
  g_assert_true (tells_none (today));
  wb_clock_advance (wb_clock_get (), 1 * DAY_US);
  wb_app_bench_update (bench);
  app_wait_until (tells_one, today, "the day to be told");
  /* kept longer it is told later */
  g_assert_true (retain (notebook, WB_APP_RETAIN_KEEP, "Box 3", get_today () + 1, &error));
  app_wait_until (tells_none, today, "the longer day");
  wb_clock_advance (wb_clock_get (), 2 * DAY_US);
  wb_app_bench_update (bench);
  app_wait_until (tells_one, today, "the day to be told again");
  g_assert_true (retain (notebook, WB_APP_RETAIN_THROWN_OUT, NULL, WB_DAY_NONE, &error));
  app_wait_until (tells_none, today, "the bin");
  out = (WbRecord *) dup_sample (notebook, "A4J-1");
  g_assert_true (((WbSample *) (gpointer) out)->retained);
  g_assert_nonnull (strstr (((WbSample *) (gpointer) out)->place, "thrown out on"));
  /* after all it is burnt */
  g_assert_true (retain (notebook, WB_APP_RETAIN_RELEASE, NULL, WB_DAY_NONE, &error));
  app_wait_until (is_back, &offer, "the bench to offer it again");
  app_finalize (today, "Today");
  app_finalize (experiments, "the experiments");
  app_finalize (bench, "the bench");
  app_close (notebook);
}

void
test_app_retain_add (void)
{
  g_test_add_func ("/app/retain/a-reference-has-a-place-and-a-day", test_refused);
  g_test_add_func ("/app/retain/it-is-not-burnt-and-today-tells-its-day", test_kept);
}
