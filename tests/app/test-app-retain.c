/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"
#include "app-paper.h"
#include "wb-app-blind.h"
#include "wb-app-demo.h"
#include "wb-app-label.h"
#include "wb-app-labels.h"
#include "wb-app-retain.h"
#include "wb-app-today.h"
#include "wb-clock.h"
#include "wb-report-label-code.h"

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

static guint
count_said (const char *text,
            const char *what)
{
  g_auto (GStrv) parts = g_strsplit (text, what, -1);

  return g_strv_length (parts) - 1;
}

static char *
read_cards (WbAppNotebook *notebook,
            gint64         experiment,
            gboolean       blind,
            guint         *n)
{
  g_autoptr (WbAppPour) pour = wb_app_pour_new (notebook, experiment);
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  WbAppLabelsTerms terms = { WB_APP_LABELS_CARDS, wb_report_cards_sheet (WB_REPORT_A4, FALSE), 0, FALSE, FALSE, blind };
  guint without = 0;
  char *text;

  wb_app_pour_load_async (pour, NULL, app_keep_result_cb, &result);
  g_assert_true (wb_app_pour_load_finish (pour, app_wait_result (&result), &error));
  *n = wb_app_labels_count (pour, G_MAXUINT, &without);
  text = app_read_paper (app_labels_new (pour, G_MAXUINT, &terms, &error));
  g_assert_no_error (error);
  return text;
}

/* Its card alone says that it is kept and not to be burnt; a blind one, too, by a day that is the last of all references. */
static void
test_card (void)
{
  WbAppNotebook *notebook = open_demo ();
  WbAppBench *bench = wb_app_bench_new (notebook);
  g_autoptr (WbRecord) sample = (WbRecord *) dup_sample (notebook, "A4J-1");
  gint64 experiment = ((WbSample *) (gpointer) sample)->experiment;
  g_autoptr (GError) error = NULL;
  g_autoptr (GAsyncResult) result = NULL;
  g_autofree char *day = wb_day_format_local (get_today () + 200), *keep = g_strdup_printf ("Keep until %s", day);
  g_autofree char *open = NULL, *blind = NULL;
  guint n = 0;

  g_assert_true (retain (notebook, WB_APP_RETAIN_KEEP, "Box 3", get_today () + 200, &error));
  open = read_cards (notebook, experiment, FALSE, &n);
  wb_app_blind_draw_async (bench, notebook, experiment, NULL, app_keep_result_cb, &result);
  g_assert_true (wb_app_blind_draw_finish (notebook, app_wait_result (&result), &error));
  g_clear_object (&result);
  blind = read_cards (notebook, experiment, TRUE, &n);
  for (guint i = 0; i < 2; i++)
    {
      const char *text = i == 0 ? open : blind;

      g_assert_cmpuint (count_said (text, "Reference: do not burn"), ==, 1);
      g_assert_cmpuint (count_said (text, keep), ==, 1);
      g_assert_cmpuint (count_said (text, "Burn from"), ==, n - 1);
      g_assert_cmpuint (count_said (text, "Burns"), ==, n - 1);
    }
  app_finalize (bench, "the bench");
  app_close (notebook);
}

/* What is told of a label that is scanned: that it is kept, where and until when. */
static void
test_scanned (void)
{
  WbAppNotebook *notebook = open_demo ();
  g_autoptr (WbRecord) sample = (WbRecord *) dup_sample (notebook, "A4J-1");
  g_autofree char *code = wb_report_label_code_new (&((WbSample *) (gpointer) sample)->uuid);
  g_autofree char *day = wb_day_format_local (get_today () + 2);
  g_autofree char *kept = g_strdup_printf ("kept as a reference until %s (Box 3)", day);

  for (guint i = 0; i < 3; i++)
    {
      g_autoptr (GAsyncResult) result = NULL;
      g_autoptr (GError) error = NULL;
      g_autoptr (WbAppLabel) label = NULL;

      if (i == 1)
        g_assert_true (retain (notebook, WB_APP_RETAIN_KEEP, "Box 3", get_today () + 2, &error));
      if (i == 2)
        g_assert_true (retain (notebook, WB_APP_RETAIN_THROWN_OUT, NULL, WB_DAY_NONE, &error));
      wb_app_label_find_async (notebook, code, NULL, app_keep_result_cb, &result);
      label = wb_app_label_find_finish (notebook, app_wait_result (&result), &error);
      g_assert_no_error (error);
      if (i == 0)
        g_assert_null (label->kept);
      else if (i == 1)
        g_assert_cmpstr (label->kept, ==, kept);
      else
        g_assert_nonnull (strstr (label->kept, "a reference: thrown out on "));
    }
  app_close (notebook);
}

void
test_app_retain_add (void)
{
  g_test_add_func ("/app/retain/a-reference-has-a-place-and-a-day", test_refused);
  g_test_add_func ("/app/retain/its-card-says-that-it-is-not-burnt", test_card);
  g_test_add_func ("/app/retain/its-label-tells-where-it-is-kept", test_scanned);
  g_test_add_func ("/app/retain/it-is-not-burnt-and-today-tells-its-day", test_kept);
}
