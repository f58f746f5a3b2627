/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-clock.h"

#include "test-base.h"

#include <string.h>

#define SECOND ((gint64) G_USEC_PER_SEC)

/*
 * There is one clock a process, set up when it is first asked for: each of
 * these tests is a process of its own, with an environment of its own.
 */
static WbClock *
get_clock (const char *setting, const char *zone)
{
  if (setting != NULL)
    g_setenv ("WICKBENCH_CLOCK", setting, TRUE);
  else
    g_unsetenv ("WICKBENCH_CLOCK");
  g_setenv ("TZ", zone, TRUE);
  return wb_clock_get ();
}

static void
assert_now (WbClock *clock, const char *expected)
{
  g_autofree char *now = wb_instant_format (wb_clock_now (clock));

  g_assert_cmpstr (now, ==, expected);
}

static void
assert_local (WbClock *clock, const char *day_text, int hour, int minute, const char *expected)
{
  WbDay day;

  g_assert_true (wb_day_parse (day_text, &day, NULL));
  g_autofree char *text = wb_instant_format (wb_clock_local (clock, day, hour, minute, 0));
  g_assert_cmpstr (text, ==, expected);
}

static void
assert_zone (WbClock *clock, const char *expected)
{
  g_autofree char *zone = wb_clock_dup_zone (clock);

  g_assert_cmpstr (zone, ==, expected);
}

static void
test_standing (void)
{
  WbClock *clock = get_clock ("2026-03-02T08:07:00+00:00,0", "UTC");

  g_assert_true (wb_clock_is_test (clock));
  g_assert_true (clock == wb_clock_get ());
  assert_now (clock, "2026-03-02T08:07:00+00:00");
  gint64 steady = wb_clock_steady_us (clock);
  wb_clock_advance (clock, 3600 * SECOND);
  assert_now (clock, "2026-03-02T09:07:00+00:00");
  g_assert_cmpint (wb_clock_steady_us (clock) - steady, ==, 3600 * SECOND);
  wb_clock_step (clock, -1800 * SECOND);
  assert_now (clock, "2026-03-02T08:37:00+00:00");
  g_assert_cmpint (wb_clock_steady_us (clock) - steady, ==, 3600 * SECOND);
  g_assert_cmpstr (wb_clock_get_boot_id (clock), ==, "test");
  assert_zone (clock, "UTC");
}

static void
test_running (void)
{
  WbClock *clock = get_clock ("2026-03-02T08:07:00Z,3600", "UTC");
  gint64 real = g_get_monotonic_time ();
  WbInstant start = wb_clock_now (clock);
  WbInstant later = start;

  /* An hour a second: the clock moves a minute in 17 ms; the loop's bound is for one that stands. */
  while (later.utc_us - start.utc_us < 60 * SECOND)
    {
      later = wb_clock_now (clock);
      g_assert_cmpint (g_get_monotonic_time () - real, <, 60 * SECOND);
    }
  /* The real time that went by encloses the two readings: no faster than 3600 to 1, however slow this machine is. */
  g_assert_cmpint (later.utc_us - start.utc_us, <=, (g_get_monotonic_time () - real + 1) * 3600);
}

static void
test_rate_one (void)
{
  WbClock *clock = get_clock ("2026-03-02T08:07:00,5Z", "UTC");
  gint64 a = wb_clock_now (clock).utc_us;
  gint64 b = wb_clock_now (clock).utc_us;

  g_assert_cmpint (a, >=, G_GINT64_CONSTANT (1772438820500000));
  g_assert_cmpint (b, >=, a);
}

static void
test_zone_of_the_test_clock (void)
{
  WbClock *clock = get_clock ("2026-03-28T12:00:00+01:00,0", "Europe/Berlin");

  assert_zone (clock, "Europe/Berlin");
  assert_now (clock, "2026-03-28T12:00:00+01:00");
  /* European summer time begins on the last Sunday of March at 01:00 UTC and ends on that of October (Directive 2000/84/EC). */
  wb_clock_advance (clock, 24 * 3600 * SECOND);
  assert_now (clock, "2026-03-29T13:00:00+02:00");
  assert_local (clock, "2026-03-29", 1, 59, "2026-03-29T01:59:00+01:00");
  assert_local (clock, "2026-03-29", 2, 30, "2026-03-29T03:00:00+02:00");
  assert_local (clock, "2026-03-29", 3, 0, "2026-03-29T03:00:00+02:00");
  assert_local (clock, "2026-10-25", 1, 59, "2026-10-25T01:59:00+02:00");
  assert_local (clock, "2026-10-25", 2, 30, "2026-10-25T02:30:00+01:00");
  assert_local (clock, "2026-10-25", 3, 0, "2026-10-25T03:00:00+01:00");
}

static void
test_zone_of_the_setting (void)
{
  WbClock *clock = get_clock ("2026-07-01T12:00:00+05:45,0", "Europe/Berlin");

  assert_zone (clock, "");
  assert_now (clock, "2026-07-01T12:00:00+05:45");
  assert_local (clock, "2026-12-01", 8, 0, "2026-12-01T08:00:00+05:45");
  g_assert_false (wb_clock_local (clock, WB_DAY_NONE, 8, 0, 0).known);
  g_assert_false (wb_clock_local (clock, 0, 24, 0, 0).known);
  g_assert_false (wb_clock_local (clock, 0, 8, 60, 0).known);
  g_assert_false (wb_clock_local (clock, 0, 8, 0, 60).known);
  g_assert_false (wb_clock_local (clock, 0, -1, 0, 0).known);
}

static void
test_real (void)
{
  WbClock *clock = get_clock (NULL, "Europe/Berlin");
  gint64 before = g_get_real_time ();
  WbInstant now = wb_clock_now (clock);
  gint64 after = g_get_real_time ();
  gint64 steady = wb_clock_steady_us (clock);

  g_assert_false (wb_clock_is_test (clock));
  g_assert_true (now.known);
  g_assert_cmpint (now.utc_us, >=, before);
  g_assert_cmpint (now.utc_us, <=, after);
  g_assert_true (now.offset_s == 3600 || now.offset_s == 7200);
  g_assert_cmpint (wb_clock_steady_us (clock), >=, steady);
  assert_zone (clock, "Europe/Berlin");
  /* The kernel's file holds a UUID. */
  g_assert_true (g_uuid_string_is_valid (wb_clock_get_boot_id (clock)));
}

static void
test_zone_with_a_colon (void)
{
  assert_zone (get_clock (NULL, ":Europe/Berlin"), "Europe/Berlin");
}

static void
test_zone_by_path (void)
{
  assert_zone (get_clock (NULL, "/usr/share/zoneinfo/Europe/Berlin"), "Europe/Berlin");
}

static void
test_zone_rule (void)
{
  WbClock *clock = get_clock ("2026-07-01T12:00:00+02:00,0", "CET-1CEST,M3.5.0,M10.5.0/3");

  assert_zone (clock, "");
  assert_now (clock, "2026-07-01T12:00:00+02:00");
}

/* Two processes under it: the second one's wall clock was set back half an hour, its steady time went on. */
static void
test_steady_of_its_own (void)
{
  WbClock *clock = get_clock ("2026-03-02T18:31:00Z,0;steady=2026-03-02T19:01:00Z", "UTC");

  assert_now (clock, "2026-03-02T18:31:00+00:00");
  g_assert_cmpint (wb_clock_steady_us (clock) - wb_clock_now (clock).utc_us, ==, 1800 * SECOND);
  g_assert_cmpstr (wb_clock_get_boot_id (clock), ==, "test");
  wb_clock_advance (clock, 60 * SECOND);
  assert_now (clock, "2026-03-02T18:32:00+00:00");
  g_assert_cmpint (wb_clock_steady_us (clock) - wb_clock_now (clock).utc_us, ==, 1800 * SECOND);
}

static void
test_reboot (void)
{
  WbClock *clock = get_clock ("2026-03-02T18:31:00Z,0;boot=first", "UTC");

  g_assert_cmpstr (wb_clock_get_boot_id (clock), ==, "first");
  wb_clock_advance (clock, 60 * SECOND);
  wb_clock_reboot (clock, "second");
  g_assert_cmpstr (wb_clock_get_boot_id (clock), ==, "second");
  assert_now (clock, "2026-03-02T18:32:00+00:00");
  g_assert_cmpint (wb_clock_steady_us (clock), ==, 0);
  wb_clock_advance (clock, 60 * SECOND);
  g_assert_cmpint (wb_clock_steady_us (clock), ==, 60 * SECOND);
}

/* A maker carries the laptop to another country, or mends its zone, while the program runs. */
static void
test_another_zone (void)
{
  WbClock *clock = get_clock ("2026-07-01T12:00:00+02:00,0", "Europe/Berlin");
  gint64 before = wb_clock_now (clock).utc_us;

  g_assert_false (wb_clock_refresh_zone (clock));
  g_setenv ("TZ", "America/New_York", TRUE);
  assert_now (clock, "2026-07-01T12:00:00+02:00");
  g_assert_true (wb_clock_refresh_zone (clock));
  assert_zone (clock, "America/New_York");
  assert_now (clock, "2026-07-01T06:00:00-04:00");
  g_assert_cmpint (wb_clock_now (clock).utc_us, ==, before);
  assert_local (clock, "2026-07-01", 5, 30, "2026-07-01T05:30:00-04:00");
  g_assert_false (wb_clock_refresh_zone (clock));
}

/* The zone of the instant it was given is nobody's to change. */
static void
test_another_zone_under_a_nameless_one (void)
{
  WbClock *clock = get_clock ("2026-07-01T12:00:00+05:45,0", "Europe/Berlin");

  g_setenv ("TZ", "America/New_York", TRUE);
  g_assert_false (wb_clock_refresh_zone (clock));
  assert_now (clock, "2026-07-01T12:00:00+05:45");
}

static void
assert_twice (WbClock *clock, const char *day_text, int hour, int minute, const char *first, const char *second)
{
  WbInstant one, two;
  WbDay day;

  g_assert_true (wb_day_parse (day_text, &day, NULL));
  g_assert_true (wb_clock_local_twice (clock, day, hour, minute, 0, &one, &two) == (first != NULL));
  if (first == NULL)
    return;
  g_autofree char *one_text = wb_instant_format (one), *two_text = wb_instant_format (two);
  g_assert_cmpstr (one_text, ==, first);
  g_assert_cmpstr (two_text, ==, second);
}

/* Last Sunday of October, 01:00 UTC (Directive 2000/84/EC). */
static void
test_doubled_hour (void)
{
  WbClock *clock = get_clock ("2026-07-01T12:00:00+02:00,0", "Europe/Berlin");

  assert_twice (clock, "2026-10-25", 1, 59, NULL, NULL);
  assert_twice (clock, "2026-10-25", 2, 0, "2026-10-25T02:00:00+02:00", "2026-10-25T02:00:00+01:00");
  assert_twice (clock, "2026-10-25", 2, 30, "2026-10-25T02:30:00+02:00", "2026-10-25T02:30:00+01:00");
  assert_twice (clock, "2026-10-25", 2, 59, "2026-10-25T02:59:00+02:00", "2026-10-25T02:59:00+01:00");
  assert_twice (clock, "2026-10-25", 3, 0, NULL, NULL);
  assert_twice (clock, "2026-10-24", 2, 30, NULL, NULL);
  assert_twice (clock, "2026-03-29", 2, 30, NULL, NULL);
  assert_twice (clock, "2026-03-29", 3, 30, NULL, NULL);
  /* Half a year on it is winter there. */
  g_assert_cmpint (wb_clock_at (clock, wb_clock_now (clock).utc_us).offset_s, ==, 7200);
  g_assert_cmpint (wb_clock_at (clock, wb_clock_now (clock).utc_us + 180 * 86400 * SECOND).offset_s, ==, 3600);
}

static void
test_refused_setting (void)
{
  get_clock ("tomorrow", "UTC");
}

static const struct
{
  const char *name;
  GTestFunc run;
} children[] = {
  { "stands-still-and-is-moved-by-hand", test_standing },
  { "runs-at-its-rate", test_running },
  { "runs-as-fast-as-the-real-one-by-default", test_rate_one },
  { "keeps-the-zone-whose-offset-it-carries", test_zone_of_the_test_clock },
  { "has-a-zone-of-its-own-otherwise", test_zone_of_the_setting },
  { "without-a-setting-is-the-real-one", test_real },
  { "zone-is-named-behind-a-colon", test_zone_with_a_colon },
  { "zone-is-named-by-its-path", test_zone_by_path },
  { "zone-of-a-rule-has-no-name", test_zone_rule },
  { "has-a-steady-time-of-its-own", test_steady_of_its_own },
  { "starts-anew-with-the-computer", test_reboot },
  { "follows-a-change-of-zone", test_another_zone },
  { "keeps-a-nameless-zone", test_another_zone_under_a_nameless_one },
  { "knows-the-hour-that-comes-twice", test_doubled_hour },
};

static void
run_child (gconstpointer data)
{
  g_autofree char *path = g_strconcat ("/base/clock/subprocess/", data, NULL);

  g_test_trap_subprocess (path, 0, 0);
  g_test_trap_assert_passed ();
}

static void
test_refused_aborts (void)
{
  g_test_trap_subprocess ("/base/clock/subprocess/refused", 0, 0);
  g_test_trap_assert_failed ();
  g_test_trap_assert_stderr ("*WICKBENCH_CLOCK*tomorrow*");
}

static void
test_settings (void)
{
  static const struct
  {
    const char *setting;
    gboolean good;
  } cases[] = {
    { "2026-03-02T08:07:00+00:00", TRUE },      { "2026-03-02T08:07:00Z,0", TRUE },   { "2026-03-02T08:07Z,60", TRUE },
    { "2026-03-02T08:07:00,5Z", TRUE },         { "2026-03-02T08:07:00,5Z,2", TRUE }, { "2026-03-02T08:07:00+01:00,0.5", TRUE },
    { "", FALSE },                              { "now", FALSE },                     { "2026-03-02T08:07:00", FALSE },
    { "2026-03-02T08:07:00Z,", FALSE },         { "2026-03-02T08:07:00Z,fast", FALSE }, { "2026-03-02T08:07:00Z,-1", FALSE },
    { "2026-03-02T08:07:00Z,1e9", FALSE },      { "2026-02-30T08:07:00Z,1", FALSE },  { "2026-03-02T08:07:00Z,1,1", FALSE },
    { "2026-03-02T08:07Z,60;boot=a", TRUE },    { "2026-03-02T08:07Z;steady=2026-03-02T09:07Z", TRUE },
    { "2026-03-02T08:07Z;boot=a;steady=2026-03-02T09:07Z", TRUE }, { "2026-03-02T08:07Z;steady=9", FALSE },
    { "2026-03-02T08:07Z;boot=", FALSE },       { "2026-03-02T08:07Z;rate=2", FALSE }, { "2026-03-02T08:07Z;", FALSE },
    { "2026-03-02T24:00:00Z", FALSE },          { "1772438820", FALSE },
  };
  g_autofree char *before = g_strdup (g_getenv ("WICKBENCH_CLOCK"));

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_test_message ("%s", cases[i].setting);
      g_setenv ("WICKBENCH_CLOCK", cases[i].setting, TRUE);
      g_assert_true (wb_clock_check_environment (&error) == cases[i].good);
      g_assert_true ((error == NULL) == cases[i].good);
      if (error != NULL)
        g_assert_nonnull (strstr (error->message, "WICKBENCH_CLOCK"));
    }
  g_unsetenv ("WICKBENCH_CLOCK");
  g_assert_true (wb_clock_check_environment (NULL));
  if (before != NULL)
    g_setenv ("WICKBENCH_CLOCK", before, TRUE);
}

void
test_clock_add (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (children); i++)
    {
      g_autofree char *path = g_strconcat ("/base/clock/", children[i].name, NULL);
      g_autofree char *child = g_strconcat ("/base/clock/subprocess/", children[i].name, NULL);
      g_test_add_data_func (path, children[i].name, run_child);
      g_test_add_func (child, children[i].run);
    }
  g_test_add_func ("/base/clock/a-setting-that-cannot-be-read-is-refused", test_settings);
  g_test_add_func ("/base/clock/a-refused-setting-never-becomes-the-real-time", test_refused_aborts);
  g_test_add_func ("/base/clock/subprocess/refused", test_refused_setting);
}
