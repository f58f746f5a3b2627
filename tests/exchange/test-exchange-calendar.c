/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "calendar-rules.h"
#include "test-exchange.h"
#include "test-exchange-fixture.h"

#include "wb-exchange-calendar.h"

#include <libical/ical.h>
#include <math.h>
#include <string.h>

static const WbInstant stamp = { G_GINT64_CONSTANT (1793455620000000), 3600, TRUE };   /* 2026-10-31T14:07:00Z */
static const WbInstant revised = { G_GINT64_CONSTANT (1793404800000000), 3600, TRUE }; /* 2026-10-31T00:00:00Z */

static WbInstant
instant_of (const char *iso)
{
  WbInstant instant;

  g_assert_true (wb_instant_parse (iso, &instant, NULL));
  return instant;
}

static WbNotebook *
notebook_new (void)
{
  WbNotebook *notebook = wb_record_new (&wb_notebook_type);

  notebook->uuid = wb_uuid_new ();
  return notebook;
}

static void
add_evening (WbExchangeCalendar *calendar,
             const char         *uid,
             const char         *iso)
{
  const WbExchangeEvent event = { .uid = uid, .summary = "T5: burn 3", .day = WB_DAY_NONE, .at = instant_of (iso), .length_s = 14400 };

  wb_exchange_calendar_add (calendar, &event);
}

/* As a stranger reads it, and as libical checks it. */
static GPtrArray *
read_back (const WbExchangeCalendar *calendar)
{
  g_autofree char *text = wb_exchange_calendar_to_text (calendar, stamp);
  icalcomponent *parsed = icalparser_parse_string (text);

  g_assert_nonnull (parsed);
  g_assert_cmpint (icalrestriction_check (parsed), ==, 1);
  g_assert_cmpint (icalcomponent_count_errors (parsed), ==, 0);
  icalcomponent_free (parsed);
  return calendar_rules_read (text);
}

/*
 * 19:00 on the wall on the day before summer time ends or begins and on the day after, in UTC by the law of the zone: Europe on the
 * last Sundays of March and October at 01:00 UTC, the United States on the second Sunday of March and the first of November at 02:00
 * on the wall; Lord Howe Island by half an hour; Tokyo and Kathmandu never.
 */
static void
test_zones (void)
{
  static const struct { const char *zone, *before, *after, *wall_before, *wall_after; } cases[] = {
    { "Europe/Berlin", "2026-10-24T17:00:00Z", "2026-10-25T18:00:00Z", "20261024T190000", "20261025T190000" },
    { "Europe/Berlin", "2027-03-27T18:00:00Z", "2027-03-28T17:00:00Z", "20270327T190000", "20270328T190000" },
    { "Europe/Dublin", "2026-10-24T18:00:00Z", "2026-10-25T19:00:00Z", "20261024T190000", "20261025T190000" },
    { "America/New_York", "2026-10-31T23:00:00Z", "2026-11-02T00:00:00Z", "20261031T190000", "20261101T190000" },
    { "America/New_York", "2027-03-14T00:00:00Z", "2027-03-14T23:00:00Z", "20270313T190000", "20270314T190000" },
    { "Australia/Lord_Howe", "2026-10-03T08:30:00Z", "2026-10-04T08:00:00Z", "20261003T190000", "20261004T190000" },
    { "Asia/Tokyo", "2026-10-24T10:00:00Z", "2026-10-25T10:00:00Z", "20261024T190000", "20261025T190000" },
    { "Asia/Kathmandu", "2026-10-24T13:15:00Z", "2027-03-28T13:15:00Z", "20261024T190000", "20270328T190000" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WbExchangeCalendar) calendar = wb_exchange_calendar_new (NULL, cases[i].zone, revised);
      g_autofree char *text = NULL;

      g_test_message ("%s, %s", cases[i].zone, cases[i].before);
      add_evening (calendar, "a", cases[i].before);
      add_evening (calendar, "b", cases[i].after);
      g_autoptr (GPtrArray) events = read_back (calendar);
      const CalendarEvent *before = calendar_rules_find (events, "a@wickbench"), *after = calendar_rules_find (events, "b@wickbench");

      g_assert_cmpstr (before->start, ==, cases[i].wall_before);
      g_assert_cmpstr (after->start, ==, cases[i].wall_after);
      g_assert_cmpstr (before->zone, ==, cases[i].zone);
      /* The file's own rules lead back to the moment. */
      g_assert_cmpint (before->start_s, ==, instant_of (cases[i].before).utc_us / G_USEC_PER_SEC);
      g_assert_cmpint (after->start_s, ==, instant_of (cases[i].after).utc_us / G_USEC_PER_SEC);
      g_assert_cmpint (after->end_s - after->start_s, ==, 14400);
      text = wb_exchange_calendar_to_text (calendar, stamp);
      g_assert_null (strstr (text, "TZID:/"));
      g_assert_null (strstr (text, "TZID=/"));
    }
}

/* libical itself, by the file's rules, finds the same moments on every evening of two years. */
static void
test_zone_as_libical_reads_it (void)
{
  static const char *const zones[] = { "Europe/Berlin", "America/New_York", "Africa/Casablanca", "Asia/Tokyo" };

  for (guint i = 0; i < G_N_ELEMENTS (zones); i++)
    {
      g_autoptr (WbExchangeCalendar) calendar = wb_exchange_calendar_new (NULL, zones[i], revised);
      const gint64 first_s = stamp.utc_us / G_USEC_PER_SEC;
      g_autofree char *text = NULL;
      guint n = 0;

      for (guint day = 0; day < 730; day++)
        {
          g_autofree char *uid = g_strdup_printf ("%03u", day);
          const WbExchangeEvent event = { .uid = uid, .summary = "x", .day = WB_DAY_NONE, .length_s = NAN,
                                          .at = { (first_s + day * 86400) * G_USEC_PER_SEC, 0, TRUE } };

          wb_exchange_calendar_add (calendar, &event);
        }
      text = wb_exchange_calendar_to_text (calendar, stamp);
      icalcomponent *parsed = icalparser_parse_string (text);
      icaltimezone *zone = icaltimezone_new ();

      g_assert_true (icaltimezone_set_component (zone, icalcomponent_new_clone (icalcomponent_get_first_component (parsed, ICAL_VTIMEZONE_COMPONENT))));
      for (icalcomponent *event = icalcomponent_get_first_component (parsed, ICAL_VEVENT_COMPONENT); event != NULL;
           event = icalcomponent_get_next_component (parsed, ICAL_VEVENT_COMPONENT))
        {
          icalproperty *start = icalcomponent_get_first_property (event, ICAL_DTSTART_PROPERTY);

          g_assert_cmpint (icaltime_as_timet_with_zone (icalproperty_get_dtstart (start), zone), ==, first_s + n * 86400);
          n++;
        }
      g_assert_cmpuint (n, ==, 730);
      icaltimezone_free (zone, 1);
      icalcomponent_free (parsed);
    }
}

static void
test_no_zone (void)
{
  static const char *const names[] = { NULL, "", "UTC", "Nowhere/None" };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autoptr (WbExchangeCalendar) calendar = wb_exchange_calendar_new (NULL, names[i], revised);

      add_evening (calendar, "a", "2026-10-24T19:00:00+02:00");
      g_autoptr (GPtrArray) events = read_back (calendar);
      const CalendarEvent *event = g_ptr_array_index (events, 0);

      g_assert_null (event->zone);
      g_assert_cmpstr (event->start, ==, "20261024T170000Z");
    }
}

static void
test_text (void)
{
  WbNotebook *notebook = notebook_new ();
  const char *place = "shed; bench, left \\ north";
  const char *words = "Ada until \n11 — \327\220\327\221 \360\237\225\257 and a text, which is much longer; than one line of a calendar file \\n";
  const WbExchangeEvent event = { "a", "T5, cohort 1: burn 3", words, place, WB_DAY_NONE, instant_of ("2026-10-24T19:00:00+02:00"), 14400 };

  notebook->invented = TRUE;
  g_autoptr (WbExchangeCalendar) calendar = wb_exchange_calendar_new (notebook, "Europe/Berlin", revised);

  wb_exchange_calendar_add (calendar, &event);
  g_autoptr (GPtrArray) events = read_back (calendar);
  const CalendarEvent *read = g_ptr_array_index (events, 0);

  g_assert_cmpstr (read->summary, ==, "T5, cohort 1: burn 3 (invented data)");
  g_assert_cmpstr (read->description, ==, words);
  g_assert_cmpstr (read->place, ==, place);
  g_assert_cmpint (read->stamp_s, ==, stamp.utc_us / G_USEC_PER_SEC);
  g_assert_cmpint (read->modified_s, ==, revised.utc_us / G_USEC_PER_SEC);
  /* Minutes from 2020-01-01: 2495 days. */
  g_assert_cmpint (read->sequence, ==, 2495 * 1440);
  wb_record_free (notebook);
}

static void
test_day (void)
{
  g_autoptr (WbExchangeCalendar) calendar = wb_exchange_calendar_new (NULL, "Europe/Berlin", revised);
  const WbExchangeEvent event = { "a", "T5: fit to burn", NULL, NULL, 20511 /* 2026-02-27 */, WB_INSTANT_NONE, NAN };
  g_autofree char *text = NULL;

  wb_exchange_calendar_add (calendar, &event);
  g_autoptr (GPtrArray) events = read_back (calendar);
  const CalendarEvent *read = g_ptr_array_index (events, 0);

  g_assert_true (read->day);
  g_assert_cmpstr (read->start, ==, "20260227");
  g_assert_cmpint (read->end_s - read->start_s, ==, 86400);
  /* No moment stands in the file: no zone is needed. */
  text = wb_exchange_calendar_to_text (calendar, stamp);
  g_assert_null (strstr (text, "VTIMEZONE"));
}

/* Once more, later: what moved has the same UID and a higher sequence, what fell away is cancelled, what is past is left alone. */
static void
test_again (void)
{
  WbNotebook *notebook = notebook_new ();
  WbInstant later = revised, now = instant_of ("2026-11-02T08:00:00+01:00");
  g_autoptr (WbExchangeCalendar) first = wb_exchange_calendar_new (notebook, "Europe/Berlin", revised);
  g_autofree char *text = NULL, *third_text = NULL;

  later.utc_us += 2 * 86400 * (gint64) G_USEC_PER_SEC;
  add_evening (first, "past", "2026-11-01T19:00:00+01:00");
  add_evening (first, "today", "2026-11-02T19:00:00+01:00");
  add_evening (first, "moved", "2026-11-03T19:00:00+01:00");
  add_evening (first, "gone", "2026-11-04T19:00:00+01:00");
  text = wb_exchange_calendar_to_text (first, stamp);

  g_autoptr (WbExchangeCalendar) second = wb_exchange_calendar_new (notebook, "Europe/Berlin", later);

  add_evening (second, "moved", "2026-11-05T19:00:00+01:00");
  g_assert_cmpuint (wb_exchange_calendar_cancel_lost (second, text, now), ==, 1);
  g_assert_cmpuint (wb_exchange_calendar_get_length (second), ==, 2);
  g_autoptr (GPtrArray) before = calendar_rules_read (text), events = read_back (second);
  const CalendarEvent *moved = calendar_rules_find (events, "moved@wickbench"), *gone = calendar_rules_find (events, "gone@wickbench");

  g_assert_cmpstr (moved->status, ==, "CONFIRMED");
  g_assert_cmpint (moved->sequence, >, calendar_rules_find (before, "moved@wickbench")->sequence);
  g_assert_cmpstr (moved->start, ==, "20261105T190000");
  g_assert_cmpstr (gone->status, ==, "CANCELLED");
  g_assert_cmpint (gone->start_s, ==, calendar_rules_find (before, "gone@wickbench")->start_s);
  g_assert_cmpint (gone->sequence, ==, moved->sequence);

  /* It stays cancelled in the export after that one, and comes back where it is planned again. */
  g_autoptr (WbExchangeCalendar) third = wb_exchange_calendar_new (notebook, "Europe/Berlin", later);
  g_autoptr (WbExchangeCalendar) back = wb_exchange_calendar_new (notebook, "Europe/Berlin", later);

  third_text = wb_exchange_calendar_to_text (second, stamp);
  g_assert_cmpuint (wb_exchange_calendar_cancel_lost (third, third_text, now), ==, 2);
  add_evening (back, "moved", "2026-11-05T19:00:00+01:00");
  add_evening (back, "gone", "2026-11-06T19:00:00+01:00");
  g_assert_cmpuint (wb_exchange_calendar_cancel_lost (back, third_text, now), ==, 0);
  wb_record_free (notebook);
}

/* Another notebook's file, one of another scope, no calendar, half of one. */
static void
test_not_ours (void)
{
  WbNotebook *notebook = notebook_new (), *other = notebook_new ();
  const WbUuid experiment = wb_uuid_new ();
  WbInstant now = instant_of ("2026-11-02T08:00:00+01:00");
  g_autoptr (WbExchangeCalendar) first = wb_exchange_calendar_new (notebook, "Europe/Berlin", revised);
  g_autoptr (WbExchangeCalendar) strange = wb_exchange_calendar_new (other, "Europe/Berlin", revised);
  g_autoptr (WbExchangeCalendar) one = wb_exchange_calendar_new (notebook, "Europe/Berlin", revised);
  g_autoptr (WbExchangeCalendar) same = wb_exchange_calendar_new (notebook, "Europe/Berlin", revised);
  g_autofree char *text = NULL, *half = NULL;

  add_evening (first, "gone", "2026-11-04T19:00:00+01:00");
  text = wb_exchange_calendar_to_text (first, stamp);
  wb_exchange_calendar_set_scope (one, &experiment);
  g_assert_cmpuint (wb_exchange_calendar_cancel_lost (strange, text, now), ==, 0);
  g_assert_cmpuint (wb_exchange_calendar_cancel_lost (one, text, now), ==, 0);
  g_assert_cmpuint (wb_exchange_calendar_cancel_lost (same, "", now), ==, 0);
  g_assert_cmpuint (wb_exchange_calendar_cancel_lost (same, "no calendar at all", now), ==, 0);
  half = g_strndup (text, strlen (text) / 3);
  g_assert_cmpuint (wb_exchange_calendar_cancel_lost (same, half, now), ==, 0);
  g_assert_cmpuint (wb_exchange_calendar_cancel_lost (same, text, now), ==, 1);
  wb_record_free (notebook);
  wb_record_free (other);
}

static void
test_empty (void)
{
  g_autoptr (WbExchangeCalendar) calendar = wb_exchange_calendar_new (NULL, "Europe/Berlin", revised);
  GFile *file = test_exchange_file ("", -1);
  g_autoptr (GError) error = NULL;
  g_autofree char *bytes = NULL, *text = wb_exchange_calendar_to_text (calendar, stamp);

  g_assert_true (wb_exchange_calendar_save (calendar, file, stamp, NULL, &error));
  g_assert_true (g_file_load_contents (file, NULL, &bytes, NULL, NULL, NULL));
  g_assert_cmpstr (bytes, ==, text);
  g_autoptr (GPtrArray) events = calendar_rules_read (text);
  g_assert_cmpuint (events->len, ==, 0);
  test_exchange_drop (file);
}

void
test_exchange_add_calendar (void)
{
  g_test_add_func ("/exchange/calendar/an-evening-keeps-its-time-on-the-wall", test_zones);
  g_test_add_func ("/exchange/calendar/another-program-reads-the-zone-the-same", test_zone_as_libical_reads_it);
  g_test_add_func ("/exchange/calendar/without-a-zone-times-are-utc", test_no_zone);
  g_test_add_func ("/exchange/calendar/texts-are-escaped-and-folded", test_text);
  g_test_add_func ("/exchange/calendar/a-day-has-no-zone", test_day);
  g_test_add_func ("/exchange/calendar/a-second-export-moves-and-cancels", test_again);
  g_test_add_func ("/exchange/calendar/only-an-export-of-its-own-is-taken-back", test_not_ours);
  g_test_add_func ("/exchange/calendar/an-empty-one-is-a-calendar", test_empty);
}
