/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-exchange.h"
#include "test-exchange-fixture.h"

#include "wb-exchange-calendar.h"

#include <libical/ical.h>
#include <math.h>
#include <string.h>

static const WbInstant stamp = { G_GINT64_CONSTANT (1772435220000000), 3600, TRUE }; /* 2026-03-02T07:07:00Z */

/* The calendar as libical reads it back; every event must keep RFC 5545's rules. */
static icalcomponent *
parse_back (const char *text)
{
  icalcomponent *calendar = icalparser_parse_string (text);

  g_assert_nonnull (calendar);
  g_assert_cmpint (icalrestriction_check (calendar), ==, 1);
  g_assert_cmpint (icalcomponent_count_errors (calendar), ==, 0);
  return calendar;
}

/* RFC 5545, 3.1: lines end with CRLF and are not longer than 75 octets. */
static void
assert_lines (const char *text)
{
  g_auto (GStrv) lines = g_strsplit (text, "\r\n", -1);

  for (guint i = 0; lines[i] != NULL; i++)
    {
      g_assert_cmpuint (strlen (lines[i]), <=, 75);
      g_assert_null (strchr (lines[i], '\n'));
    }
  g_assert_true (g_str_has_suffix (text, "END:VCALENDAR\r\n"));
  g_assert_true (g_str_has_prefix (text, "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:"));
}

static WbDataset *
poured_dataset (void)
{
  WbDataset *data = test_exchange_dataset_new ();

  data->wax->burn_cure_days = 3;
  data->wax->smell_cure_days = 14;
  g_ptr_array_set_size (data->burns, 0);
  g_array_set_size (data->burn_sample, 0);
  for (guint i = 0; i < data->samples->len; i++)
    ((WbSample *) data->samples->pdata[i])->poured_on = 20498 + (i == 3); /* 2026-02-14, one of them a day later */
  return data;
}

static void
test_cures (void)
{
  g_autoptr (WbDataset) data = poured_dataset ();
  g_autoptr (WbExchangeCalendar) calendar = wb_exchange_calendar_new (data->notebook);
  g_autofree char *text = NULL, *again = NULL;

  wb_exchange_calendar_add_cures (calendar, data, 20498);
  g_assert_cmpuint (wb_exchange_calendar_get_length (calendar), ==, 4);
  text = wb_exchange_calendar_to_text (calendar, stamp);
  again = wb_exchange_calendar_to_text (calendar, stamp);
  g_assert_cmpstr (text, ==, again);
  assert_lines (text);

  icalcomponent *parsed = parse_back (text);
  icalcomponent *event = icalcomponent_get_first_component (parsed, ICAL_VEVENT_COMPONENT);
  struct icaltimetype start = icalcomponent_get_dtstart (event), made = icalcomponent_get_dtstamp (event);

  /* Poured on 14 February 2026, three days: the 17th. */
  g_assert_true (start.is_date);
  g_assert_cmpint (start.year, ==, 2026);
  g_assert_cmpint (start.month, ==, 2);
  g_assert_cmpint (start.day, ==, 17);
  g_assert_cmpint (made.hour, ==, 7);
  g_assert_true (icaltime_is_utc (made));
  g_assert_cmpstr (icalcomponent_get_summary (event), ==, "E-1: 3 samples fit to burn (invented data)");
  g_assert_cmpstr (icalcomponent_get_description (event), ==, "Autumn trial\nA-1, B-1, C-1");
  g_assert_nonnull (strstr (icalcomponent_get_uid (event), "burn-2026-02-17"));
  icalcomponent_free (parsed);
}

/* What lies behind is not told, nor a sample that burns already or was set aside. */
static void
test_cures_behind (void)
{
  g_autoptr (WbDataset) data = poured_dataset ();
  g_autoptr (WbExchangeCalendar) late = wb_exchange_calendar_new (NULL), rest = wb_exchange_calendar_new (NULL);
  WbBurn *burn = wb_record_new (&wb_burn_type);
  guint first = 0;

  wb_exchange_calendar_add_cures (late, data, 20498 + 15);
  g_assert_cmpuint (wb_exchange_calendar_get_length (late), ==, 1);
  g_ptr_array_add (data->burns, burn);
  g_array_append_val (data->burn_sample, first);
  ((WbSample *) data->samples->pdata[1])->set_aside_cause = WB_CAUSE_CAVITY;
  ((WbSample *) data->samples->pdata[2])->poured_on = WB_DAY_NONE;
  wb_exchange_calendar_add_cures (rest, data, 20498);
  /* To burn: the last alone. To smell: the first and the last, a day apart. */
  g_assert_cmpuint (wb_exchange_calendar_get_length (rest), ==, 3);
  data->wax->burn_cure_days = NAN;
  data->wax->smell_cure_days = NAN;
  wb_exchange_calendar_add_cures (rest, data, 20498);
  g_assert_cmpuint (wb_exchange_calendar_get_length (rest), ==, 3);
}

static void
test_sessions (void)
{
  g_autoptr (WbExchangeCalendar) calendar = wb_exchange_calendar_new (NULL);
  WbSession *session = wb_record_new (&wb_session_type);
  g_autofree char *text = NULL, *uuid = NULL;

  session->uuid = wb_uuid_new ();
  session->opened_at = (WbInstant) { stamp.utc_us - 1, 0, TRUE };
  wb_exchange_calendar_add_session (calendar, session, stamp, NAN);
  g_assert_cmpuint (wb_exchange_calendar_get_length (calendar), ==, 0);
  session->opened_at = (WbInstant) { stamp.utc_us + G_GINT64_CONSTANT (3600000000), 7200, TRUE };
  session->place = g_strdup ("shed; bench, left \\ north");
  session->staying = g_strdup ("Ada until \n11 — \327\220\327\221 \360\237\225\257 and a text that is much longer than one line of a calendar file");
  wb_exchange_calendar_add_session (calendar, session, stamp, NAN);
  text = wb_exchange_calendar_to_text (calendar, stamp);
  assert_lines (text);

  icalcomponent *parsed = parse_back (text), *event = icalcomponent_get_first_component (parsed, ICAL_VEVENT_COMPONENT);
  struct icaltimetype start = icalcomponent_get_dtstart (event), end = icalcomponent_get_dtend (event);

  g_assert_true (icaltime_is_utc (start));
  g_assert_cmpint (start.hour, ==, 8);
  g_assert_cmpint (icaltime_as_timet (end) - icaltime_as_timet (start), ==, 14400);
  g_assert_cmpstr (icalcomponent_get_location (event), ==, session->place);
  g_assert_nonnull (strstr (icalcomponent_get_description (event), session->staying));
  uuid = wb_uuid_format (&session->uuid);
  g_assert_true (g_str_has_prefix (icalcomponent_get_uid (event), uuid));
  icalcomponent_free (parsed);

  /* One that was closed is no plan. */
  session->closed_at = session->opened_at;
  wb_exchange_calendar_add_session (calendar, session, stamp, NAN);
  g_assert_cmpuint (wb_exchange_calendar_get_length (calendar), ==, 1);
  wb_record_free (session);
}

static void
test_empty (void)
{
  g_autoptr (WbExchangeCalendar) calendar = wb_exchange_calendar_new (NULL);
  GFile *file = test_exchange_file ("", -1);
  g_autoptr (GError) error = NULL;
  g_autofree char *bytes = NULL, *text = wb_exchange_calendar_to_text (calendar, stamp);

  g_assert_true (wb_exchange_calendar_save (calendar, file, stamp, NULL, &error));
  g_assert_true (g_file_load_contents (file, NULL, &bytes, NULL, NULL, NULL));
  g_assert_cmpstr (bytes, ==, text);
  assert_lines (text);
  test_exchange_drop (file);
}

void
test_exchange_add_calendar (void)
{
  g_test_add_func ("/exchange/calendar/cures-end-on-their-days", test_cures);
  g_test_add_func ("/exchange/calendar/what-lies-behind-is-not-told", test_cures_behind);
  g_test_add_func ("/exchange/calendar/planned-sessions-are-in-utc", test_sessions);
  g_test_add_func ("/exchange/calendar/an-empty-one-is-a-calendar", test_empty);
}
