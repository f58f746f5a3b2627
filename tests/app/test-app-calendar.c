/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-evening.h"
#include "wb-app-calendar.h"
#include "wb-app-export.h"
#include "wb-app-papers.h"
#include "wb-app-plan.h"
#include "wb-app-pour.h"
#include "wb-clock.h"
#include "wb-evenings.h"

#include <string.h>

/* The wax of these candles cures for 3 days, and is fit to smell after 5. */

static void
say_evenings (WbAppNotebook *notebook,
              const char    *days,
              gint64         begins_min,
              double         places)
{
  g_autoptr (WbRecord) record = wb_record_copy (wb_app_notebook_get_settings (notebook));
  WbNotebook *settings = (WbNotebook *) record;

  g_free (settings->evenings);
  settings->evenings = g_strdup (days);
  settings->evening_begins_min = begins_min;
  settings->bench_places = places;
  app_save (notebook, record);
}

/* How many stand in a row: the bench shuffles them. */
static void
say_rows (WbAppNotebook *notebook,
          double         columns)
{
  g_autoptr (WbRecord) record = wb_record_copy (wb_app_notebook_get_settings (notebook));

  ((WbNotebook *) record)->bench_columns = columns;
  app_save (notebook, record);
}

/* The first item of a kind; NULL: none. */
static WbAppCalendarItem *
find (WbAppCalendar     *calendar,
      WbAppCalendarKind  kind)
{
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (calendar)); i++)
    {
      g_autoptr (WbAppCalendarItem) item = g_list_model_get_item (G_LIST_MODEL (calendar), i);

      if (wb_app_calendar_item_get_kind (item) == kind)
        return item;
    }
  return NULL;
}

static gboolean
plans_evenings (gpointer calendar)
{
  return wb_app_calendar_get_loaded (calendar) && wb_app_calendar_get_next_evening (calendar) != WB_DAY_NONE;
}

static gboolean
plans_none (gpointer calendar)
{
  return wb_app_calendar_get_loaded (calendar) && wb_app_calendar_get_next_evening (calendar) == WB_DAY_NONE;
}

static gboolean
asks_days (gpointer calendar)
{
  return wb_app_calendar_get_loaded (calendar) && wb_app_calendar_get_asks_days (calendar);
}

static gboolean
has_problem (gpointer calendar)
{
  return wb_app_calendar_get_loaded (calendar) && wb_app_calendar_get_problems (calendar) != NULL;
}

static gboolean
is_relighting (gpointer calendar)
{
  return find (calendar, WB_APP_CALENDAR_RELIGHT) != NULL;
}

static WbDay
get_today (void)
{
  return wb_instant_get_day (wb_clock_now (wb_clock_get ()));
}

/* What is for all of a day first, then by the hour. */
static void
assert_in_order (WbAppCalendar *calendar)
{
  g_autoptr (WbAppCalendarItem) before = NULL;

  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (calendar)); i++)
    {
      g_autoptr (WbAppCalendarItem) item = g_list_model_get_item (G_LIST_MODEL (calendar), i);

      if (before != NULL)
        {
          WbInstant first = wb_app_calendar_item_get_at (before), second = wb_app_calendar_item_get_at (item);

          g_assert_cmpint (wb_app_calendar_item_get_day (before), <=, wb_app_calendar_item_get_day (item));
          if (wb_app_calendar_item_get_day (before) == wb_app_calendar_item_get_day (item) && first.known)
            {
              g_assert_true (second.known);
              g_assert_cmpint (first.utc_us, <=, second.utc_us);
            }
        }
      g_set_object (&before, item);
    }
}

/* Poured today: fit to burn and to smell on their days, and evenings from the end of the cure on, one burn each. */
static void
test_poured (void)
{
  Evening evening;
  WbDay today = get_today ();

  evening_set_up_scented (&evening, 5);
  say_evenings (evening.notebook, NULL, WB_INTEGER_NONE, 12);
  g_autoptr (WbAppCalendar) calendar = wb_app_calendar_new (evening.notebook);

  app_wait_until (asks_days, calendar, "the days of the week to be asked");
  g_assert_null (find (calendar, WB_APP_CALENDAR_EVENING));
  g_assert_cmpint (wb_app_calendar_item_get_day (find (calendar, WB_APP_CALENDAR_BURN_CURE)), ==, today + 3);
  g_assert_cmpint (wb_app_calendar_item_get_day (find (calendar, WB_APP_CALENDAR_SMELL_CURE)), ==, today + 5);
  g_assert_cmpint (wb_app_calendar_item_get_experiment (find (calendar, WB_APP_CALENDAR_BURN_CURE)), ==, evening.experiment);

  say_evenings (evening.notebook, "mon tue wed thu fri sat sun", 20 * 60 + 30, 12);
  app_wait_until (plans_evenings, calendar, "evenings to be planned");
  WbAppCalendarItem *first = find (calendar, WB_APP_CALENDAR_EVENING);

  g_assert_cmpint (wb_app_calendar_get_next_evening (calendar), ==, today + 3);
  g_assert_cmpint (wb_app_calendar_item_get_day (first), ==, wb_app_calendar_get_next_evening (calendar));
  g_assert_true (wb_instant_shows (wb_app_calendar_item_get_at (first), 20, 30));
  g_assert_nonnull (strstr (wb_app_calendar_item_get_title (first), ": burn 1, "));
  g_assert_cmpint (wb_app_calendar_get_last_evening (calendar), >, wb_app_calendar_get_next_evening (calendar));
  g_assert_null (wb_app_calendar_get_problems (calendar));

  /* Fewer places than the samples that burn together take. */
  say_evenings (evening.notebook, "mon tue wed thu fri sat sun", 20 * 60 + 30, 1);
  app_wait_until (has_problem, calendar, "the bench to be too small");
  g_assert_nonnull (strstr (wb_app_calendar_get_problems (calendar), "places on the bench: 1."));
  g_assert_cmpint (wb_app_calendar_get_next_evening (calendar), ==, WB_DAY_NONE);

  /* Back by undo. */
  app_undo (evening.notebook, FALSE);
  app_wait_until (plans_evenings, calendar, "the evenings to come back");
  app_finalize (g_steal_pointer (&calendar), "everyone to let go of the calendar");
  evening_tear_down (&evening);
}

/* One that was lit today goes on tomorrow at the earliest, with its next burn, and when it may be lit again is told. */
static void
test_lit (void)
{
  Evening evening;
  WbAppBenchSample *sample;

  evening_set_up_lit (&evening);
  sample = evening_nth (&evening, 0);
  say_evenings (evening.notebook, "mon tue wed thu fri sat sun", 23 * 60 + 59, 12);
  g_autoptr (WbAppCalendar) calendar = wb_app_calendar_new (evening.notebook);

  app_wait_until (plans_evenings, calendar, "evenings to be planned");
  g_assert_cmpint (wb_app_calendar_get_next_evening (calendar), >, get_today ());
  app_wait_until (is_relighting, calendar, "the next lighting to be told");
  g_assert_cmpint (wb_app_calendar_item_get_at (find (calendar, WB_APP_CALENDAR_RELIGHT)).utc_us, >,
                   wb_app_bench_sample_get_lit_at (sample).utc_us);
  /* It may be lit again hours before the evening of that day. */
  assert_in_order (calendar);
  app_finalize (g_steal_pointer (&calendar), "everyone to let go of the calendar");
  evening_tear_down (&evening);
}

static void
leave_out (WbAppNotebook *notebook,
           WbDay          first,
           WbDay          last)
{
  g_autoptr (WbRecord) record = wb_record_copy (wb_app_notebook_get_settings (notebook));
  g_autofree char *from = wb_day_format (first), *to = wb_day_format (last);

  g_free (((WbNotebook *) record)->evenings_out);
  ((WbNotebook *) record)->evenings_out = g_strdup_printf ("%s..%s", from, to);
  app_save (notebook, record);
}

typedef struct
{
  WbAppCalendar *calendar;
  WbDay          day;
} Next;

static gboolean
has_next (gpointer data)
{
  const Next *next = data;

  return wb_app_calendar_get_next_evening (next->calendar) == next->day;
}

/* How many events of that day a calendar file of the notebook has. */
static guint
count_exported (WbAppNotebook *notebook,
                WbDay          day)
{
  g_autofree char *path = g_strconcat (wb_app_notebook_get_path (notebook), ".ics", NULL), *text = NULL, *iso = wb_day_format (day), *start = NULL;
  g_auto (GStrv) parts = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_true (wb_app_export_sync (notebook, 0, WB_APP_EXPORT_ICS, path, NULL, &error));
  g_assert_no_error (error);
  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  start = g_strdup_printf (":%.4s%.2s%.2sT200000", iso, iso + 5, iso + 8);
  parts = g_strsplit (text, start, -1);
  return g_strv_length (parts) - 1;
}

/* On days that are left out nothing burns, in the window as in the file; undo brings them back. */
static void
test_left_out (void)
{
  WbDay today = get_today ();
  g_autoptr (WbAppCalendar) calendar = NULL;
  Evening evening;
  Next next;

  evening_set_up (&evening);
  say_evenings (evening.notebook, "mon tue wed thu fri sat sun", 20 * 60, 12);
  calendar = wb_app_calendar_new (evening.notebook);
  next = (Next) { calendar, today + 3 };
  app_wait_until (has_next, &next, "the first evening");
  g_assert_cmpuint (count_exported (evening.notebook, today + 3), >, 0);
  leave_out (evening.notebook, today + 2, today + 5);
  next.day = today + 6;
  app_wait_until (has_next, &next, "the evenings that are left out to fall away");
  g_assert_cmpuint (count_exported (evening.notebook, today + 3), ==, 0);
  g_assert_cmpuint (count_exported (evening.notebook, today + 6), >, 0);
  app_undo (evening.notebook, FALSE);
  next.day = today + 3;
  app_wait_until (has_next, &next, "them to come back");
  app_finalize (g_steal_pointer (&calendar), "everyone to let go of the calendar");
  evening_tear_down (&evening);
}

static WbDay
get_last_of (WbAppCalendar *calendar,
             gint64         experiment)
{
  WbDay last = WB_DAY_NONE;

  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (calendar)); i++)
    {
      g_autoptr (WbAppCalendarItem) item = g_list_model_get_item (G_LIST_MODEL (calendar), i);

      if (wb_app_calendar_item_get_kind (item) == WB_APP_CALENDAR_EVENING && wb_app_calendar_item_get_experiment (item) == experiment)
        last = wb_app_calendar_item_get_day (item);
    }
  return last;
}

typedef struct
{
  WbAppCalendar *calendar;
  gint64         experiment;
  WbDay          foretold;
} Planned;

static gboolean
is_as_foretold (gpointer data)
{
  const Planned *planned = data;

  return get_last_of (planned->calendar, planned->experiment) == planned->foretold;
}

static void
count_up (gpointer  plan,
          guint    *n)
{
  (*n)++;
}

/* Another grid of the same materials: six samples of two loads, where three burn already. */
static WbAppPlan *
plan_second (Evening       *evening,
             WbAppCalendar *calendar)
{
  WbAppPlan *plan = wb_app_plan_new (evening->notebook, wb_app_query_materials_sync (evening->notebook, NULL));
  const WbAppMaterials *materials = wb_app_plan_get_materials (plan);
  gint64 scent = ((WbRecord *) g_ptr_array_index (materials->fragrances, 0))->id;

  wb_app_plan_set_calendar (plan, calendar);
  wb_app_plan_get_experiment (plan)->title = g_strdup ("Which load for the Tern");
  wb_app_plan_choose_only (plan);
  wb_app_plan_set_wick (plan, ((WbRecord *) g_ptr_array_index (materials->wicks, 0))->id, TRUE);
  wb_app_plan_add_scent (plan, scent, 6, WB_BASIS_WAX);
  wb_app_plan_add_scent (plan, scent, 8, WB_BASIS_WAX);
  g_assert_true (wb_app_plan_is_complete (plan));
  return plan;
}

static void
pour_all (WbAppNotebook *notebook,
          gint64         experiment)
{
  g_autoptr (WbAppPour) pour = wb_app_pour_new (notebook, experiment);
  g_autoptr (GError) error = NULL;
  guint n = 1;

  for (guint i = 0; i < n; i++)
    {
      g_autoptr (GAsyncResult) result = NULL, marked = NULL;

      wb_app_pour_load_async (pour, NULL, app_keep_result_cb, &result);
      g_assert_true (wb_app_pour_load_finish (pour, app_wait_result (&result), &error));
      n = wb_app_pour_get_batches (pour)->len;
      wb_app_pour_mark_async (pour, i, ((WbAppPourBatch *) g_ptr_array_index (wb_app_pour_get_batches (pour), i))->batch, NULL, NULL, NULL, NULL,
                              NULL, NULL, app_keep_result_cb, &marked);
      g_assert_true (wb_app_pour_mark_finish (pour, app_wait_result (&marked), &error));
      g_assert_no_error (error);
    }
}

/* What the plan foretells of its answer is what the calendar plans once it is poured, whatever else burns. */
static void
test_foretold (void)
{
  static const struct { const char *days; double places; gboolean waits; } cases[] = { { "mon wed fri", 6, TRUE }, { "tue", 6, TRUE }, { "mon wed fri", 12, FALSE } };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WbAppPlan) plan = NULL;
      g_autoptr (WbAppCalendar) calendar = NULL;
      g_autoptr (GAsyncResult) result = NULL;
      g_autoptr (GError) error = NULL;
      WbCraftGridTotals totals;
      Planned planned;
      Evening evening;
      guint told = 0;

      g_test_message ("%s", cases[i].days);
      evening_set_up_scented (&evening, 5);
      say_evenings (evening.notebook, cases[i].days, 20 * 60, cases[i].places);
      calendar = wb_app_calendar_new (evening.notebook);
      plan = plan_second (&evening, calendar);
      g_signal_connect (plan, "outlook-changed", G_CALLBACK (count_up), &told);
      app_wait_until (plans_evenings, calendar, "evenings to be planned");
      g_assert_cmpuint (told, >, 0);
      totals = wb_app_plan_get_totals (plan, 0);
      g_assert_cmpuint (totals.samples, ==, 6);
      g_assert_cmpuint (totals.days, ==, totals.answered - get_today ());
      g_assert_true ((totals.days > totals.days_alone) == cases[i].waits);

      wb_app_plan_save_async (plan, NULL, app_keep_result_cb, &result);
      planned = (Planned) { calendar, wb_app_plan_save_finish (plan, app_wait_result (&result), &error), totals.answered };
      g_assert_no_error (error);
      pour_all (evening.notebook, planned.experiment);
      app_wait_until (is_as_foretold, &planned, "both melts to be planned as was foretold");
      g_clear_object (&result);
      app_finalize (g_steal_pointer (&plan), "everyone to let go of the plan");
      app_finalize (g_steal_pointer (&calendar), "everyone to let go of the calendar");
      evening_tear_down (&evening);
    }
}

static gboolean
set_all_aside (Evening *evening)
{
  g_autoptr (GPtrArray) samples = wb_app_bench_dup_of_experiment (evening->bench, evening->experiment);

  for (guint i = 0; i < samples->len; i++)
    {
      g_autoptr (WbRecord) record = wb_record_copy (wb_app_bench_sample_get_record (g_ptr_array_index (samples, i)));

      ((WbSample *) record)->set_aside_cause = WB_CAUSE_CAVITY;
      app_save (evening->notebook, record);
    }
  return samples->len > 0;
}

static void
test_set_aside (void)
{
  Evening evening;

  evening_set_up (&evening);
  say_evenings (evening.notebook, "mon thu", WB_INTEGER_NONE, 12);
  g_autoptr (WbAppCalendar) calendar = wb_app_calendar_new (evening.notebook);

  app_wait_until (plans_evenings, calendar, "evenings to be planned");
  g_assert_true (set_all_aside (&evening));
  app_wait_until (plans_none, calendar, "the evenings to fall away");
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (calendar)), ==, 0);
  g_assert_false (wb_app_calendar_get_asks_days (calendar));
  app_finalize (g_steal_pointer (&calendar), "everyone to let go of the calendar");
  evening_tear_down (&evening);
}

static gboolean
half_wait (gpointer data)
{
  Evening *evening = data;
  g_autoptr (GPtrArray) samples = wb_app_bench_dup_of_experiment (evening->bench, evening->experiment);
  guint n = 0;

  for (guint i = 0; i < samples->len; i++)
    n += wb_app_bench_sample_get_waits_for_cohort (g_ptr_array_index (samples, i)) > 0;
  return n == (samples->len + 1) / 2;
}

/* Who burns on the first evening of the calendar waits for nobody at the bench, and who does not waits. */
static void
assert_first_burns_now (Evening       *evening,
                        WbAppCalendar *calendar)
{
  g_autoptr (GPtrArray) samples = wb_app_bench_dup_of_experiment (evening->bench, evening->experiment);
  const char *codes = wb_app_calendar_item_get_detail (find (calendar, WB_APP_CALENDAR_EVENING));
  g_auto (GStrv) told = g_strsplit (codes, ", ", -1);

  for (guint i = 0; i < samples->len; i++)
    {
      WbAppBenchSample *sample = g_ptr_array_index (samples, i);
      const WbSample *record = (const WbSample *) wb_app_bench_sample_get_record (sample);

      g_assert_cmpint (wb_app_bench_sample_get_waits_for_cohort (sample) == 0, ==,
                       g_strv_contains ((const char *const *) told, record->code));
    }
}

/* Two cohorts, also on a bench that holds both: one goes through its life after the other, the lowest number first, as at the bench. */
static void
test_cohorts (void)
{
  Evening evening;
  g_autoptr (GPtrArray) samples = NULL;

  evening_set_up (&evening);
  wb_clock_advance (wb_clock_get (), 3 * DAY_US); /* all are fit */
  wb_app_bench_update (evening.bench);
  samples = wb_app_bench_dup_of_experiment (evening.bench, evening.experiment);
  g_assert_cmpuint (samples->len, >=, 2);
  for (guint i = 0; i < samples->len; i++)
    {
      g_autoptr (WbRecord) record = wb_record_copy (wb_app_bench_sample_get_record (g_ptr_array_index (samples, i)));

      ((WbSample *) record)->cohort = 2 - i % 2; /* the first of the list is not of the first cohort */
      app_save (evening.notebook, record);
    }
  say_evenings (evening.notebook, "mon tue wed thu fri sat sun", WB_INTEGER_NONE, samples->len);
  g_autoptr (WbAppCalendar) calendar = wb_app_calendar_new (evening.notebook);

  app_wait_until (plans_evenings, calendar, "evenings to be planned");
  g_assert_nonnull (strstr (wb_app_calendar_item_get_title (find (calendar, WB_APP_CALENDAR_EVENING)), ", cohort 1: burn 1, "));
  app_wait_until (half_wait, &evening, "the bench to let the second cohort wait");
  assert_first_burns_now (&evening, calendar);
  app_finalize (g_steal_pointer (&calendar), "everyone to let go of the calendar");
  evening_tear_down (&evening);
}

/* As lines, unfolded. Caller frees. */
static char *
export (WbAppNotebook *notebook,
        const char    *path)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  g_auto (GStrv) parts = NULL;

  g_assert_true (wb_app_export_sync (notebook, 0, WB_APP_EXPORT_ICS, path, NULL, &error));
  g_assert_no_error (error);
  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  parts = g_strsplit (text, "\r\n ", -1);
  return g_strjoinv ("", parts);
}

static guint
count (const char *text,
       const char *what)
{
  guint n = 0;

  for (const char *at = strstr (text, what); at != NULL; at = strstr (at + 1, what))
    n++;
  return n;
}

static int
compare_lines (gconstpointer a,
               gconstpointer b)
{
  return strcmp (*(char *const *) a, *(char *const *) b);
}

/* Lines of a text that begin so, sorted: the UIDs of a calendar. Caller frees. */
static char *
dup_lines (const char *text,
           const char *prefix)
{
  g_auto (GStrv) lines = g_strsplit (text, "\r\n", -1);
  g_autoptr (GPtrArray) found = g_ptr_array_new ();

  for (guint i = 0; lines[i] != NULL; i++)
    if (g_str_has_prefix (lines[i], prefix))
      g_ptr_array_add (found, lines[i]);
  g_ptr_array_sort (found, compare_lines);
  g_ptr_array_add (found, NULL);
  return g_strjoinv ("\n", (char **) found->pdata);
}

/* The same events under the same UIDs on other days; what falls away over the earlier file is cancelled; each evening has its caution. */
static void
test_export (void)
{
  Evening evening;
  g_autofree char *path = app_new_path (), *file = g_strconcat (path, ".ics", NULL);
  g_autofree char *first = NULL, *moved = NULL, *gone = NULL, *first_uids = NULL, *moved_uids = NULL, *gone_uids = NULL;
  guint evenings;

  evening_set_up (&evening);
  say_evenings (evening.notebook, "mon thu", 19 * 60, 12);
  first = export (evening.notebook, file);
  evenings = count (first, ": burn ");
  g_assert_cmpuint (evenings, >, 3);
  g_assert_cmpuint (count (first, "Somebody stays with the flames"), ==, evenings);
  g_assert_cmpuint (count (first, "STATUS:CANCELLED"), ==, 0);

  say_evenings (evening.notebook, "tue fri", 18 * 60, 12);
  moved = export (evening.notebook, file);
  first_uids = dup_lines (first, "UID:");
  moved_uids = dup_lines (moved, "UID:");
  g_assert_cmpstr (first_uids, ==, moved_uids);
  g_assert_cmpuint (count (moved, "STATUS:CANCELLED"), ==, 0);
  g_assert_cmpuint (count (moved, "T180000"), >=, evenings);

  g_assert_true (set_all_aside (&evening));
  gone = export (evening.notebook, file);
  gone_uids = dup_lines (gone, "UID:");
  g_assert_cmpstr (gone_uids, ==, first_uids);
  g_assert_cmpuint (count (gone, "STATUS:CANCELLED"), ==, count (first, "BEGIN:VEVENT"));
  evening_tear_down (&evening);
}

static char *
dup_paper (WbReportDocument *document)
{
  GString *text = g_string_new (NULL);
  guint n;

  g_assert_nonnull (document);
  n = wb_report_document_get_n_pages (document);
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *page = wb_report_document_dup_page_text (document, i);

      g_string_append_printf (text, "%s\n", page);
    }
  wb_report_document_free (document);
  return g_string_free (text, FALSE);
}

/* Without days of the week its burns are to be dated by hand; with them it has the evenings, and the places that the bench will propose. */
static void
test_paper (void)
{
  Evening evening;
  g_autoptr (GPtrArray) samples = NULL;
  g_autofree char *blank = NULL, *planned = NULL, *place = NULL, *day = NULL;
  const WbNotebook *settings;
  WbAppBenchSample *first;

  evening_set_up (&evening);
  samples = wb_app_bench_dup_of_experiment (evening.bench, evening.experiment);
  first = g_ptr_array_index (samples, 0);
  say_evenings (evening.notebook, NULL, WB_INTEGER_NONE, 12);
  g_autoptr (WbAppCalendar) calendar = wb_app_calendar_new (evening.notebook);

  g_assert_null (wb_app_papers_bench_plan_new (calendar, evening.bench, wb_app_notebook_get_settings (evening.notebook), evening.experiment, -1));
  app_wait_until (asks_days, calendar, "the days of the week to be asked");
  settings = wb_app_notebook_get_settings (evening.notebook);
  blank = dup_paper (wb_app_papers_bench_plan_new (calendar, evening.bench, settings, evening.experiment, WB_REPORT_LETTER));
  g_assert_nonnull (strstr (blank, "Write the dates in."));
  g_assert_nonnull (strstr (blank, "Write each code into its place."));
  g_assert_nonnull (strstr (blank, wb_app_bench_sample_get_code (first)));
  g_assert_null (wb_app_papers_bench_plan_new (calendar, evening.bench, settings, evening.experiment + 1, -1));

  say_rows (evening.notebook, 4);
  say_evenings (evening.notebook, "mon thu", 19 * 60, 12);
  app_wait_until (plans_evenings, calendar, "evenings to be planned");
  planned = dup_paper (wb_app_papers_bench_plan_new (calendar, evening.bench, wb_app_notebook_get_settings (evening.notebook), evening.experiment, -1));
  place = g_strdup_printf ("Place %u: %s", wb_app_bench_propose_place (evening.bench, first, 12), wb_app_bench_sample_get_code (first));
  day = wb_day_format_of_week (wb_app_calendar_get_next_evening (calendar), NULL);
  g_assert_nonnull (strstr (planned, place));
  g_assert_nonnull (strstr (planned, day));
  for (guint i = 0; i < samples->len; i++)
    {
      g_autofree char *at = g_strdup_printf (": %s\n", wb_app_bench_sample_get_code (g_ptr_array_index (samples, i)));

      g_assert_cmpuint (count (planned, at), ==, 1);
    }
  app_finalize (g_steal_pointer (&calendar), "everyone to let go of the calendar");
  evening_tear_down (&evening);
}

void
test_app_calendar_add (void)
{
  g_test_add_func ("/app/calendar/nothing-burns-on-a-day-that-is-left-out", test_left_out);
  g_test_add_func ("/app/calendar/what-a-plan-foretells-is-what-is-planned", test_foretold);
  g_test_add_func ("/app/calendar/poured-samples-get-their-evenings", test_poured);
  g_test_add_func ("/app/calendar/what-was-lit-today-goes-on-another-day", test_lit);
  g_test_add_func ("/app/calendar/what-is-set-aside-leaves-the-plan", test_set_aside);
  g_test_add_func ("/app/calendar/cohorts-have-evenings-of-their-own", test_cohorts);
  g_test_add_func ("/app/calendar/a-second-export-moves-and-cancels", test_export);
  g_test_add_func ("/app/calendar/its-paper-has-the-places-that-the-bench-proposes", test_paper);
}
