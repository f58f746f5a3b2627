/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-evening.h"
#include "app-paper.h"
#include "wb-app-calendar.h"
#include "wb-app-experiment.h"
#include "wb-app-labels.h"
#include "wb-app-query.h"
#include "wb-clock.h"
#include "wb-cure.h"

#include <math.h>
#include <string.h>

/* The wax of these candles cures for 3 days, and is fit to smell after 5, where they have a scent. */

/* Late in the evening: the day in which the cure is over has begun long before so many hours are. */
static WbDay
go_to_hour (int hour)
{
  WbDay today = wb_instant_get_day (wb_clock_now (wb_clock_get ()));
  gint64 by_us = wb_clock_local (wb_clock_get (), today + 1, hour, 0, 0).utc_us - wb_clock_now (wb_clock_get ()).utc_us;

  wb_clock_advance (wb_clock_get (), by_us);
  return today + 1;
}

static char *
read_labels (Evening *evening)
{
  g_autoptr (WbAppPour) pour = wb_app_pour_new (evening->notebook, evening->experiment);
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  WbAppLabelsTerms terms = { WB_APP_LABELS_BASE, wb_report_label_sheet_preset (WB_REPORT_LABELS_A4_24), 0, FALSE, FALSE, FALSE };
  char *text;

  wb_app_pour_load_async (pour, NULL, app_keep_result_cb, &result);
  g_assert_true (wb_app_pour_load_finish (pour, app_wait_result (&result), &error));
  text = app_read_paper (app_labels_new (pour, G_MAXUINT, &terms, &error));
  g_assert_no_error (error);
  return text;
}

static gboolean
is_loaded (gpointer calendar)
{
  return wb_app_calendar_get_loaded (calendar);
}

/* The first item of a kind; NULL: none. Caller unrefs. */
static WbAppCalendarItem *
find (WbAppCalendar     *calendar,
      WbAppCalendarKind  kind)
{
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (calendar)); i++)
    {
      g_autoptr (WbAppCalendarItem) item = g_list_model_get_item (G_LIST_MODEL (calendar), i);

      if (wb_app_calendar_item_get_kind (item) == kind)
        return g_steal_pointer (&item);
    }
  return NULL;
}

static void
assert_label_says (Evening    *evening,
                   const char *before,
                   WbCureFit   fit)
{
  g_autofree char *labels = read_labels (evening), *when = wb_cure_fit_format (&fit), *line = g_strdup_printf ("%s %s", before, when);

  g_assert_nonnull (strstr (labels, line));
}

/* What the list of experiments says. */
static void
assert_list_says (Evening    *evening,
                  const char *words)
{
  g_autoptr (GPtrArray) experiments = wb_app_query_experiments_sync (evening->notebook, NULL);

  g_assert_cmpuint (experiments->len, ==, 1);
  g_assert_cmpstr (wb_app_experiment_get_waits_for (g_ptr_array_index (experiments, 0)), ==, words);
}

/* Poured at ten in the evening: bench, calendar, list and label mean one moment, the start of the third day after it. */
static void
test_one_moment (void)
{
  WbDay poured_on = go_to_hour (22);
  WbCureFit burn = wb_cure_fit (poured_on, WB_INSTANT_NONE, 3), smell = wb_cure_fit (poured_on, WB_INSTANT_NONE, 5);
  g_autofree char *day = wb_day_format_local (poured_on + 3), *cures = g_strdup_printf ("Cures; the first is fit to burn on %s", day);
  g_autoptr (WbAppCalendar) calendar = NULL;
  g_autoptr (WbAppCalendarItem) burns = NULL, smells = NULL;
  Evening evening;

  evening_set_up_scented (&evening, 5);
  calendar = wb_app_calendar_new (evening.notebook);
  app_wait_until (is_loaded, calendar, "the calendar to load");
  burns = find (calendar, WB_APP_CALENDAR_BURN_CURE);
  smells = find (calendar, WB_APP_CALENDAR_SMELL_CURE);
  g_assert_cmpint (wb_app_calendar_item_get_day (burns), ==, poured_on + 3);
  g_assert_false (wb_app_calendar_item_get_at (burns).known);
  g_assert_cmpint (wb_app_calendar_item_get_day (smells), ==, poured_on + 5);
  g_assert_cmpint (wb_app_bench_sample_get_fit_at (evening_nth (&evening, 0)).utc_us, ==, burn.at.utc_us);
  g_assert_cmpint (wb_app_bench_sample_get_smell_at (evening_nth (&evening, 0)).utc_us, ==, smell.at.utc_us);
  assert_label_says (&evening, "Burn from", burn);
  assert_label_says (&evening, "Smell from", smell);
  assert_list_says (&evening, cures);

  /* At that moment, not a minute before it. */
  wb_clock_advance (wb_clock_get (), burn.at.utc_us - wb_clock_now (wb_clock_get ()).utc_us - MINUTE_US);
  wb_app_bench_update (evening.bench);
  g_assert_cmpint (wb_app_bench_sample_get_state (evening_nth (&evening, 0)), ==, WB_APP_BENCH_CURING);
  assert_list_says (&evening, cures);
  wb_clock_advance (wb_clock_get (), MINUTE_US);
  wb_app_bench_update (evening.bench);
  g_assert_cmpint (wb_app_bench_sample_get_state (evening_nth (&evening, 0)), ==, WB_APP_BENCH_FIT);
  assert_list_says (&evening, "3 samples fit to burn");
  app_finalize (g_steal_pointer (&calendar), "everyone to let go of the calendar");
  evening_tear_down (&evening);
}

static gboolean
tells_the_hour (gpointer calendar)
{
  g_autoptr (WbAppCalendarItem) item = find (calendar, WB_APP_CALENDAR_BURN_CURE);

  return item != NULL && wb_app_calendar_item_get_at (item).known;
}

static gboolean
states_no_cure (gpointer sample)
{
  return !wb_app_bench_sample_states_cure (sample);
}

/* Until wax has set right through takes hours: all say the hour. */
static void
test_hours (void)
{
  WbDay poured_on = go_to_hour (22);
  WbCureFit fit = wb_cure_fit (poured_on, wb_clock_now (wb_clock_get ()), 1);
  g_autoptr (WbAppCalendar) calendar = NULL;
  g_autoptr (WbAppCalendarItem) item = NULL;
  g_autoptr (GPtrArray) waxes = NULL;
  Evening evening;

  evening_set_up (&evening);
  calendar = wb_app_calendar_new (evening.notebook);
  waxes = wb_app_query_list_sync (evening.notebook, &wb_wax_type, NULL);
  ((WbWax *) g_ptr_array_index (waxes, 0))->burn_cure_days = NAN;
  app_save (evening.notebook, g_ptr_array_index (waxes, 0));
  app_wait_until (states_no_cure, evening_nth (&evening, 0), "the wax to state no cure");
  app_wait_until (tells_the_hour, calendar, "the calendar to tell the hour");
  item = find (calendar, WB_APP_CALENDAR_BURN_CURE);
  g_assert_cmpint (wb_app_calendar_item_get_at (item).utc_us, ==, fit.at.utc_us);
  g_assert_cmpint (wb_app_calendar_item_get_day (item), ==, poured_on + 1);
  g_assert_cmpint (wb_app_bench_sample_get_fit_at (evening_nth (&evening, 0)).utc_us, ==, fit.at.utc_us);
  assert_label_says (&evening, "Burn from", fit);
  app_finalize (g_steal_pointer (&calendar), "everyone to let go of the calendar");
  evening_tear_down (&evening);
}

/* The wax is fit to smell after five days, but nobody smells a control. */
static void
test_control (void)
{
  g_autoptr (WbAppCalendar) calendar = NULL;
  g_autoptr (WbAppCalendarItem) burns = NULL;
  g_autoptr (GPtrArray) waxes = NULL;
  g_autofree char *labels = NULL;
  Evening evening;

  evening_set_up (&evening);
  waxes = wb_app_query_list_sync (evening.notebook, &wb_wax_type, NULL);
  ((WbWax *) g_ptr_array_index (waxes, 0))->smell_cure_days = 5;
  app_save (evening.notebook, g_ptr_array_index (waxes, 0));
  calendar = wb_app_calendar_new (evening.notebook);
  app_wait_until (is_loaded, calendar, "the calendar to load");
  burns = find (calendar, WB_APP_CALENDAR_BURN_CURE);
  g_assert_nonnull (burns);
  g_assert_null (find (calendar, WB_APP_CALENDAR_SMELL_CURE));
  g_assert_false (wb_app_bench_sample_get_smell_at (evening_nth (&evening, 0)).known);
  labels = read_labels (&evening);
  g_assert_nonnull (strstr (labels, "Burn from"));
  g_assert_null (strstr (labels, "Smell from"));
  app_finalize (g_steal_pointer (&calendar), "everyone to let go of the calendar");
  evening_tear_down (&evening);
}

static gboolean
has_no_day (gpointer sample)
{
  return wb_app_bench_sample_get_record (sample)->poured_on == WB_DAY_NONE;
}

/* A day of the pour that was taken out of a sample's record does not let it be lit: its melt has one. */
static void
test_day_of_the_melt (void)
{
  g_autoptr (WbRecord) record = NULL;
  WbInstant fit_at;
  Evening evening;

  go_to_hour (22);
  evening_set_up (&evening);
  fit_at = wb_app_bench_sample_get_fit_at (evening_nth (&evening, 0));
  g_assert_true (fit_at.known);
  record = wb_record_copy (wb_app_bench_sample_get_record (evening_nth (&evening, 0)));
  ((WbSample *) (gpointer) record)->poured_on = WB_DAY_NONE;
  app_save (evening.notebook, record);
  app_wait_until (has_no_day, evening_nth (&evening, 0), "the day to be taken out");
  g_assert_cmpint (wb_app_bench_sample_get_fit_at (evening_nth (&evening, 0)).utc_us, ==, fit_at.utc_us);
  g_assert_cmpint (wb_app_bench_sample_get_state (evening_nth (&evening, 0)), ==, WB_APP_BENCH_CURING);
  evening_tear_down (&evening);
}

void
test_app_cure_add (void)
{
  g_test_add_func ("/app/cure/bench-calendar-list-and-label-mean-one-moment", test_one_moment);
  g_test_add_func ("/app/cure/where-hours-count-all-say-the-hour", test_hours);
  g_test_add_func ("/app/cure/nobody-smells-a-control", test_control);
  g_test_add_func ("/app/cure/a-melts-day-stands-in-for-a-samples", test_day_of_the_melt);
}
