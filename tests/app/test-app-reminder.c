/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-evening.h"
#include "wb-app-reminder.h"
#include "wb-clock.h"

#include <math.h>
#include <string.h>

/* What is told when, by the clock alone. */

#define NOON_US (G_GINT64_CONSTANT (1772452800) * G_USEC_PER_SEC) /* 2026-03-02T12:00:00Z */

typedef struct
{
  const char *name;
  gboolean    alight;
  gint64      elapsed_min, due_in_s;
  double      length_min;
  const char *over;
  gint64      set_since_s, fit_since_s;
  const char *told; /* ids with steps, most urgent first */
} Case;

static const Case cases[] = {
  { "nothing yet", TRUE, 59, 60, 240, NULL, -1, -1, "" },
  { "due", TRUE, 60, 0, 240, NULL, -1, -1, "due:b/0" },
  { "nine minutes overdue", TRUE, 69, -540, 240, NULL, -1, -1, "due:b/0" },
  { "ten minutes overdue", TRUE, 70, -600, 240, NULL, -1, -1, "due:b/1" },
  { "overdue for hours", TRUE, 200, -8400, 240, NULL, -1, -1, "due:b/3" },
  { "no reading is asked", TRUE, 70, G_MAXINT, 240, NULL, -1, -1, "" },
  { "six minutes before the end", TRUE, 234, 360, 240, NULL, -1, -1, "" },
  { "five minutes before the end", TRUE, 235, 300, 240, NULL, -1, -1, "stop:b/0" },
  { "a reading missed, and the end near", TRUE, 236, -3360, 240, NULL, -1, -1, "stop:b/0 due:b/3" },
  { "at the end the reading is the end's", TRUE, 240, 0, 240, NULL, -1, -1, "stop:b/1" },
  { "twelve minutes beyond the end", TRUE, 252, -720, 240, NULL, -1, -1, "stop:b/2" },
  { "of no stated length", TRUE, 900, 60, NAN, NULL, -1, -1, "" },
  { "over a limit", TRUE, 30, 1800, 240, "flame height 52 mm", -1, -1, "over:b/0" },
  { "over a limit, and due", TRUE, 60, -1, 240, "flame height 52 mm", -1, -1, "over:b/0 due:b/0" },
  { "still cooling", FALSE, 0, G_MAXINT, NAN, NULL, -1, -1, "" },
  { "just set", FALSE, 0, G_MAXINT, NAN, NULL, 0, -1, "weigh:s/0" },
  { "set a while ago, and not weighed", FALSE, 0, G_MAXINT, NAN, NULL, 1800, -1, "" },
  { "just cooled", FALSE, 0, G_MAXINT, NAN, NULL, -1, 0, "cool:s/0" },
  { "cooled a while ago", FALSE, 0, G_MAXINT, NAN, NULL, -1, 1800, "" },
};

static GPtrArray *
find (const Case *of)
{
  const WbAppReminderCase one = {
    .code = "F-03", .uuid = "s", .burn = "b", .experiment = 7, .sample = 8, .alight = of->alight, .elapsed_s = of->elapsed_min * 60,
    .due_in_s = of->due_in_s, .length_s = of->length_min * 60, .over = of->over,
    .set_since_s = of->set_since_s, .fit_since_s = of->fit_since_s,
  };

  return wb_app_reminders_find (&one, 1, 5, (WbInstant) { NOON_US, 0, TRUE });
}

static void
test_cases (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GPtrArray) found = find (&cases[i]);
      g_autoptr (GString) told = g_string_new (NULL);

      g_test_message ("%s", cases[i].name);
      for (guint k = 0; k < found->len; k++)
        {
          const WbAppReminder *reminder = g_ptr_array_index (found, k);

          g_string_append_printf (told, "%s%s/%d", k > 0 ? " " : "", reminder->id, reminder->step);
          g_assert_nonnull (strstr (reminder->title, "F-03"));
          g_assert_cmpstr (reminder->body, !=, "");
          g_assert_cmpint (reminder->experiment, ==, 7);
          g_assert_cmpint (reminder->sample, ==, 8);
        }
      g_assert_cmpstr (told->str, ==, cases[i].told);
    }
}

static void
test_words (void)
{
  g_autoptr (GPtrArray) soon = find (&cases[7]), over = find (&cases[10]), due = find (&cases[3]);

  g_assert_cmpstr (((WbAppReminder *) soon->pdata[0])->title, ==, "F-03: snuff at 12:05");
  g_assert_cmpstr (((WbAppReminder *) soon->pdata[0])->body, ==, "Its burn of 4\u00a0h ends at 12:05. Read it, then snuff it.");
  g_assert_cmpstr (((WbAppReminder *) over->pdata[0])->body, ==, "Its burn of 4\u00a0h was over at 11:48.");
  g_assert_cmpstr (((WbAppReminder *) due->pdata[0])->body, ==, "The reading at 1\u00a0h after lighting was due at 11:50.");
}

/* A reading that has been due for two days was not due at that time of today. */
static void
test_other_day (void)
{
  const Case late = { "overdue for two days", TRUE, 2940, -172800, NAN, NULL, -1, -1, "" };
  g_autoptr (GPtrArray) found = find (&late);
  const char *body = ((WbAppReminder *) found->pdata[0])->body;

  g_test_message ("%s", body);
  g_assert_nonnull (strstr (body, "28"));
  g_assert_false (g_str_has_suffix (body, "was due at 12:00."));
}

/* Told once a step; what is answered is gone. */
static void
test_compare (void)
{
  g_autoptr (GPtrArray) due = find (&cases[1]), later = find (&cases[2]), further = find (&cases[3]), nothing = find (&cases[0]);
  const struct { GPtrArray *before, *now; guint told, gone; } steps[] = {
    { NULL, due, 1, 0 }, { due, later, 0, 0 }, { later, further, 1, 0 }, { further, nothing, 0, 1 }, { nothing, nothing, 0, 0 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
    {
      g_autoptr (GPtrArray) told = NULL, gone = NULL;

      g_test_message ("step %u", i);
      wb_app_reminders_compare (steps[i].before, steps[i].now, &told, &gone);
      g_assert_cmpuint (told->len, ==, steps[i].told);
      g_assert_cmpuint (gone->len, ==, steps[i].gone);
      if (gone->len > 0)
        g_assert_cmpstr (gone->pdata[0], ==, "due:b");
    }
}

/* So many candles of which the first came in minute 0 and each other so many seconds later; told: to be weighed, or read. */
static GPtrArray *
find_many (guint    n,
           gboolean set,
           int      apart_s,
           guint    n_late)
{
  g_autofree WbAppReminderCase *many = g_new0 (WbAppReminderCase, n);
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < n; i++)
    {
      /* in an order that is not that of their codes */
      guint number = n - i;

      many[i] = (WbAppReminderCase) {
        .code = g_strdup_printf ("F-%02u", number), .uuid = g_strdup_printf ("s%u", number), .burn = g_strdup_printf ("b%u", number),
        .experiment = 7, .sample = number, .alight = !set, .elapsed_s = 4000, .length_s = NAN,
        .due_in_s = (number > n_late ? 0 : -600) - 1 - apart_s * (int) (n - number), .set_since_s = set ? apart_s * (int) (n - number) : -1, .fit_since_s = -1,
      };
      g_ptr_array_add (texts, (gpointer) many[i].code);
      g_ptr_array_add (texts, (gpointer) many[i].uuid);
      g_ptr_array_add (texts, (gpointer) many[i].burn);
    }
  /* 4000 s after lighting is 40 s into a minute: what is at most that far apart fell due in it */
  return wb_app_reminders_group (wb_app_reminders_find (many, n, 5, (WbInstant) { NOON_US, 0, TRUE }));
}

/* Twelve that have set make one notice, with the first's name and how many; three readings of one minute one, of other minutes each its own. */
static void
test_group (void)
{
  const struct { guint n; gboolean set; int apart_s; guint notices; const char *id, *title; } of[] = {
    { 12, TRUE, 120, 1, "weigh", "F-01 and 11 more: weigh them" },
    { 2, TRUE, 120, 1, "weigh", "F-01 and 1 more: weigh them" },
    { 1, TRUE, 120, 1, "weigh:s1", "F-01: weigh it" },
    { 3, FALSE, 10, 1, NULL, "F-01 and 2 more: readings due" },
    { 2, FALSE, 10, 2, "due:b1", "F-01: reading due" },
    { 6, FALSE, 120, 6, NULL, "F-01: reading due" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (of); i++)
    {
      g_autoptr (GPtrArray) found = find_many (of[i].n, of[i].set, of[i].apart_s, 0);
      const WbAppReminder *first = g_ptr_array_index (found, 0);

      g_test_message ("%u", i);
      g_assert_cmpuint (found->len, ==, of[i].notices);
      g_assert_cmpstr (first->title, ==, of[i].title);
      g_assert_cmpint (first->sample, ==, 1);
      if (of[i].id != NULL)
        g_assert_cmpstr (first->id, ==, of[i].id);
    }
}

/* A group is told again when a candle comes to it or one is let pass, not when one goes; what is left of it is no news either. */
static void
test_group_changes (void)
{
  const struct { guint before, now, late; gboolean set; guint told, gone; } of[] = {
    { 3, 4, 0, TRUE, 1, 0 }, { 4, 3, 0, TRUE, 0, 0 }, { 2, 1, 0, TRUE, 0, 1 }, { 3, 3, 0, FALSE, 0, 0 }, { 3, 2, 0, FALSE, 0, 1 },
    { 2, 3, 0, FALSE, 1, 2 }, { 3, 3, 3, FALSE, 1, 1 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (of); i++)
    {
      g_autoptr (GPtrArray) before = find_many (of[i].before, of[i].set, 0, 0), now = find_many (of[i].now, of[i].set, 0, of[i].late);
      g_autoptr (GPtrArray) told = NULL, gone = NULL;

      g_test_message ("%u", i);
      wb_app_reminders_compare (before, now, &told, &gone);
      g_assert_cmpuint (told->len, ==, of[i].told);
      g_assert_cmpuint (gone->len, ==, of[i].gone);
    }
}

/* Whether one takes the other's place: they tell of the same thing of one candle at least, each alone or in a group. */
static void
test_shares (void)
{
  g_autoptr (GPtrArray) many = find_many (3, FALSE, 0, 0), fewer = find_many (2, FALSE, 0, 0), one = find_many (1, FALSE, 0, 0);
  g_autoptr (GPtrArray) later = find_many (6, FALSE, 0, 3), set = find_many (3, TRUE, 0, 0);
  const WbAppReminder *group = many->pdata[0], *second = fewer->pdata[1], *first = one->pdata[0];

  g_assert_nonnull (group->members);
  g_assert_null (second->members);
  g_assert_true (wb_app_reminder_shares (group, second));
  g_assert_true (wb_app_reminder_shares (second, group));
  g_assert_false (wb_app_reminder_shares (first, second));
  g_assert_false (wb_app_reminder_shares (group, set->pdata[0]));
  g_assert_cmpuint (later->len, ==, 2);
  for (guint i = 0; i < later->len; i++)
    g_assert_cmpint (wb_app_reminder_shares (group, later->pdata[i]), ==, ((WbAppReminder *) later->pdata[i])->sample == 1);
}

static void
assert_first (Evening    *evening,
              const char *begins)
{
  g_autoptr (GPtrArray) found = NULL;

  wb_app_bench_update (evening->bench);
  found = wb_app_reminders_of (evening->bench, 5);
  if (begins == NULL)
    g_assert_cmpuint (found->len, ==, 0);
  else
    {
      g_assert_cmpuint (found->len, >, 0);
      g_test_message ("%s %s: %s", ((WbAppReminder *) found->pdata[0])->id, ((WbAppReminder *) found->pdata[0])->title,
                      ((WbAppReminder *) found->pdata[0])->body);
      g_assert_true (g_str_has_prefix (((WbAppReminder *) found->pdata[0])->id, begins));
    }
}

/* One evening: due, read, over a limit, the end, cooled. House protocol: hourly, four hours, three of cooling. */
static void
test_evening (void)
{
  Evening evening;
  WbAppBenchSample *sample;
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;

  evening_set_up (&evening);
  wb_clock_advance (wb_clock_get (), 3 * DAY_US);
  assert_first (&evening, NULL);
  sample = evening_nth (&evening, 0);
  evening_open_session (&evening);
  evening_light (&evening, sample);
  assert_first (&evening, NULL);
  wb_clock_advance (wb_clock_get (), HOUR_US);
  assert_first (&evening, "due:");
  evening_read_flame (&evening, sample, 20, 60);
  assert_first (&evening, NULL);
  wb_clock_advance (wb_clock_get (), 50 * MINUTE_US);
  evening_read_flame (&evening, sample, 52, 110);
  assert_first (&evening, "over:");
  wb_app_bench_answer_async (evening.bench, wb_app_bench_sample_get_id (sample), "flame", NULL, app_keep_result_cb, &result);
  g_assert_true (evening_finish (&evening, &result, &error));
  evening_read_flame (&evening, sample, 20, 110.1);
  assert_first (&evening, NULL);
  wb_clock_advance (wb_clock_get (), 125 * MINUTE_US);
  assert_first (&evening, "stop:");
  evening_snuff (&evening, sample);
  evening_wait_for_state (sample, WB_APP_BENCH_CROSSED);
  assert_first (&evening, NULL);
  evening_tear_down (&evening);
}

/* A calm burn is weighed when its wax has set, after two hours; it cools for three and is told when it is fit, for half an hour. */
static void
test_cooled (void)
{
  Evening evening;
  WbAppBenchSample *sample;

  sample = evening_set_up_lit (&evening);
  wb_clock_advance (wb_clock_get (), HOUR_US);
  evening_snuff (&evening, sample);
  evening_wait_for_state (sample, WB_APP_BENCH_COOLING);
  wb_clock_advance (wb_clock_get (), 2 * HOUR_US - MINUTE_US);
  assert_first (&evening, NULL);
  g_assert_cmpint (wb_app_bench_get_ask (sample), ==, WB_APP_ASK_AFTER_SNUFFING);
  wb_clock_advance (wb_clock_get (), MINUTE_US);
  assert_first (&evening, "weigh:");
  /* Why it can be weighed and is not to be lit yet, at once. */
  {
    g_autoptr (GPtrArray) found = wb_app_reminders_of (evening.bench, 5);
    g_autofree char *when = wb_instant_format_time (wb_app_bench_sample_get_fit_at (sample));
    g_autofree char *said = g_strdup_printf ("Its wax has set, so it can be weighed. To be lit again it cools until %s.", when);

    g_assert_cmpstr (((WbAppReminder *) found->pdata[0])->body, ==, said);
  }
  g_assert_cmpint (wb_app_bench_get_ask (sample), ==, WB_APP_ASK_NEXT_DAY);
  wb_clock_advance (wb_clock_get (), HOUR_US - MINUTE_US);
  assert_first (&evening, NULL);
  wb_clock_advance (wb_clock_get (), MINUTE_US);
  assert_first (&evening, "cool:");
  wb_clock_advance (wb_clock_get (), HOUR_US);
  assert_first (&evening, NULL);
  evening_tear_down (&evening);
}

void
test_app_reminder_add (void)
{
  g_test_add_func ("/app/reminder/told-by-the-clock", test_cases);
  g_test_add_func ("/app/reminder/in-a-maker-s-words", test_words);
  g_test_add_func ("/app/reminder/of-another-day-by-its-date", test_other_day);
  g_test_add_func ("/app/reminder/told-once-a-step-and-withdrawn", test_compare);
  g_test_add_func ("/app/reminder/one-for-many-names-the-first-and-how-many", test_group);
  g_test_add_func ("/app/reminder/one-for-many-is-told-again-for-news-alone", test_group_changes);
  g_test_add_func ("/app/reminder/what-takes-anothers-place", test_shares);
  g_test_add_func ("/app/reminder/through-an-evening", test_evening);
  g_test_add_func ("/app/reminder/cooled-is-news-for-half-an-hour", test_cooled);
}
