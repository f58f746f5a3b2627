/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-instant.h"

#include "test-base.h"

#include <string.h>

static void
test_parse (void)
{
  /* Seconds since 1970 by GNU date: date --utc --date=TEXT +%s. */
  static const struct
  {
    const char *text;
    gint64 seconds;
    int us, offset_s;
    const char *back; /* NULL: as text */
  } cases[] = {
    { "1970-01-01T00:00:00+00:00", 0, 0, 0, NULL },
    { "2026-03-02T08:07:00+00:00", 1772438820, 0, 0, NULL },
    { "2026-03-02T08:07Z", 1772438820, 0, 0, "2026-03-02T08:07:00+00:00" },
    { "2026-03-02T08:07+00:00", 1772438820, 0, 0, "2026-03-02T08:07:00+00:00" },
    { "2026-03-02T08:07:00-00:00", 1772438820, 0, 0, "2026-03-02T08:07:00+00:00" },
    { "2026-03-02T09:07:00+01:00", 1772438820, 0, 3600, NULL },
    { "2026-03-02T02:37:00-05:30", 1772438820, 0, -19800, NULL },
    { "2026-03-02T08:07:00.5Z", 1772438820, 500000, 0, "2026-03-02T08:07:00.5+00:00" },
    { "2026-03-02T08:07:00,000001Z", 1772438820, 1, 0, "2026-03-02T08:07:00.000001+00:00" },
    { "2026-03-02T08:07:00.123456789Z", 1772438820, 123456, 0, "2026-03-02T08:07:00.123456+00:00" },
    { "2024-02-29T23:59:59+00:00", 1709251199, 0, 0, NULL },
    { "2000-02-29T12:00:00+00:00", 951825600, 0, 0, NULL },
    { "1969-12-31T23:59:59.75+00:00", -1, 750000, 0, NULL },
    { "1900-01-01T00:00:00+00:00", -2208988800, 0, 0, NULL },
    { "2200-12-31T23:59:59-18:00", 7289719199, 0, -64800, NULL },
    { "1900-01-01T00:00:00+18:00", -2209053600, 0, 64800, NULL },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      WbInstant instant = WB_INSTANT_NONE;
      g_test_message ("%s", cases[i].text);
      g_assert_true (wb_instant_parse (cases[i].text, &instant, &error));
      g_assert_no_error (error);
      g_assert_true (instant.known);
      g_assert_cmpint (instant.utc_us, ==, cases[i].seconds * G_USEC_PER_SEC + cases[i].us);
      g_assert_cmpint (instant.offset_s, ==, cases[i].offset_s);
      g_autofree char *back = wb_instant_format (instant);
      g_assert_cmpstr (back, ==, cases[i].back != NULL ? cases[i].back : cases[i].text);
    }
}

static void
test_refusals (void)
{
  static const struct
  {
    const char *text;
    WbNumberError code;
  } cases[] = {
    { "", WB_NUMBER_ERROR_EMPTY }, { "today", WB_NUMBER_ERROR_SYNTAX }, { "2026-03-02", WB_NUMBER_ERROR_SYNTAX },
    { "2026-03-02T08:07:00", WB_NUMBER_ERROR_SYNTAX }, { "2026-03-02T08:07", WB_NUMBER_ERROR_SYNTAX },
    { "2026-03-02 08:07:00Z", WB_NUMBER_ERROR_SYNTAX }, { "2026-03-02t08:07:00z", WB_NUMBER_ERROR_SYNTAX },
    { "20260302T080700Z", WB_NUMBER_ERROR_SYNTAX }, { "2026-W10-1T08:07:00Z", WB_NUMBER_ERROR_SYNTAX },
    { "2026-061T08:07:00Z", WB_NUMBER_ERROR_SYNTAX }, { "2026-3-2T08:07:00Z", WB_NUMBER_ERROR_SYNTAX },
    { "02/03/2026T08:07:00Z", WB_NUMBER_ERROR_SYNTAX }, { "2026-03-02T8:07:00Z", WB_NUMBER_ERROR_SYNTAX },
    { "2026-03-02T08:07:00+0100", WB_NUMBER_ERROR_SYNTAX }, { "2026-03-02T08:07:00+01", WB_NUMBER_ERROR_SYNTAX },
    { "2026-03-02T08:07:00.Z", WB_NUMBER_ERROR_SYNTAX }, { "2026-03-02T08:07:00.1234567890Z", WB_NUMBER_ERROR_SYNTAX },
    { "2026-03-02T08:07.5Z", WB_NUMBER_ERROR_SYNTAX }, { "2026-03-02T08:07:00ZZ", WB_NUMBER_ERROR_SYNTAX },
    { " 2026-03-02T08:07:00Z", WB_NUMBER_ERROR_SYNTAX }, { "2026-03-02T08:07:00Z ", WB_NUMBER_ERROR_SYNTAX },
    { "-026-03-02T08:07:00Z", WB_NUMBER_ERROR_SYNTAX }, { "12026-03-02T08:07:00Z", WB_NUMBER_ERROR_SYNTAX },
    { "2026-03-02T24:00:00Z", WB_NUMBER_ERROR_RANGE }, { "2026-03-02T08:60:00Z", WB_NUMBER_ERROR_RANGE },
    { "2026-03-02T23:59:60Z", WB_NUMBER_ERROR_RANGE }, { "2026-03-02T08:07:00+18:01", WB_NUMBER_ERROR_RANGE },
    { "2026-03-02T08:07:00+01:60", WB_NUMBER_ERROR_RANGE }, { "2026-02-29T08:07:00Z", WB_NUMBER_ERROR_RANGE },
    { "1900-02-29T08:07:00Z", WB_NUMBER_ERROR_RANGE }, { "2100-02-29T08:07:00Z", WB_NUMBER_ERROR_RANGE },
    { "2026-04-31T08:07:00Z", WB_NUMBER_ERROR_RANGE }, { "2026-13-01T08:07:00Z", WB_NUMBER_ERROR_RANGE },
    { "2026-00-01T08:07:00Z", WB_NUMBER_ERROR_RANGE }, { "2026-01-00T08:07:00Z", WB_NUMBER_ERROR_RANGE },
    { "1899-12-31T23:59:59Z", WB_NUMBER_ERROR_RANGE }, { "2201-01-01T00:00:00Z", WB_NUMBER_ERROR_RANGE },
    { "2026-03-0\xc2", WB_NUMBER_ERROR_SYNTAX },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      WbInstant instant = WB_INSTANT_NONE;
      g_autofree char *shown = g_utf8_make_valid (cases[i].text, -1);
      g_test_message ("%s", shown);
      g_assert_false (wb_instant_parse (cases[i].text, &instant, &error));
      g_assert_error (error, WB_NUMBER_ERROR, (int) cases[i].code);
      g_assert_false (instant.known);
    }
}

/* Every day of the calendar's range against the rule itself: the days of a year and the leap years of Gregory. */
static void
test_calendar (void)
{
  static const int lengths[] = { 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31 };
  WbDay expected = -25567; /* 70 years of 365 days and 17 leap days before 1970 */

  for (int year = 1900; year <= 2200; year++)
    for (int month = 1; month <= 12; month++)
      {
        gboolean leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
        int length = lengths[month - 1] + (month == 2 && leap ? 1 : 0);
        for (int of_month = 1; of_month <= 31; of_month++)
          {
            g_autofree char *text = g_strdup_printf ("%04d-%02d-%02d", year, month, of_month);
            WbDay day = WB_DAY_NONE;
            g_assert_true (wb_day_parse (text, &day, NULL) == (of_month <= length));
            if (of_month > length)
              continue;
            g_autofree char *back = wb_day_format (day);
            g_assert_cmpint (day, ==, expected++);
            g_assert_cmpstr (back, ==, text);
          }
      }
}

static void
test_day_of_an_instant (void)
{
  static const struct
  {
    const char *text, *day;
  } cases[] = {
    { "2026-03-02T23:30:00-05:00", "2026-03-02" }, { "2026-03-02T00:30:00+13:00", "2026-03-02" },
    { "1969-12-31T23:59:59.999999+00:00", "1969-12-31" }, { "1970-01-01T00:00:00+00:00", "1970-01-01" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WbInstant instant;
      g_assert_true (wb_instant_parse (cases[i].text, &instant, NULL));
      g_autofree char *day = wb_day_format (wb_instant_get_day (instant));
      g_assert_cmpstr (day, ==, cases[i].day);
    }
}

static void
test_day_by_hand (void)
{
  static const struct
  {
    const char *text;
    const char *day; /* NULL: refused */
    gboolean yearless;
  } cases[] = {
    { "2026-03-14", "2026-03-14", FALSE },
    { " 14 Mar 2026 ", "2026-03-14", FALSE },
    { "14 March 2026", "2026-03-14", FALSE },
    { "14. März 2026", "2026-03-14", FALSE },
    { "14 mars, 2026", "2026-03-14", FALSE },
    { "3. Okt. 2025", "2025-10-03", FALSE },
    { "3 octobre 2025", "2025-10-03", FALSE },
    { "1 août 2025", "2025-08-01", FALSE },
    { "14.3.2026", "2026-03-14", FALSE },
    { "14. 03. 2026", "2026-03-14", FALSE },
    { "28 Nov", "2026-11-28", TRUE },
    { "28.11.", "2026-11-28", TRUE },
    { "29 Nov", "2026-11-29", TRUE },
    /* The last one that has been. */
    { "30 Nov", "2025-11-30", TRUE },
    { "29 Feb", "2024-02-29", TRUE },
    { "today", "2026-11-29", TRUE },
    { "Yesterday", "2026-11-28", TRUE },
    /* Which is the month? Nobody guesses. */
    { "3/4/2026", NULL, FALSE },
    { "11-28-2026", NULL, FALSE },
    { "Nov 28 2026", NULL, FALSE },
    { "31 Nov 2026", NULL, FALSE },
    { "29 Feb 2026", NULL, FALSE },
    { "0 Nov 2026", NULL, FALSE },
    { "14 Ma 2026", NULL, FALSE },
    { "14 Xyz 2026", NULL, FALSE },
    { "14 Mar 26", NULL, FALSE },
    { "14 Mar 2026 19:00", NULL, FALSE },
    { "14 13. 2026", NULL, FALSE },
    { "14.13.2026", NULL, FALSE },
    { "tomorrow", NULL, FALSE },
    { "28", NULL, FALSE },
    { "", NULL, FALSE },
  };
  WbDay today = WB_DAY_NONE;

  g_assert_true (wb_day_parse ("2026-11-29", &today, NULL));
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      WbDay day = 4711;
      gboolean read = wb_day_read (cases[i].text, today, &day, &error);
      g_autofree char *back = read ? wb_day_format (day) : NULL;

      g_test_message ("%s", cases[i].text);
      g_assert_cmpstr (back, ==, cases[i].day);
      g_assert_true (read == (error == NULL));
      if (!read)
        g_assert_cmpint (day, ==, 4711);
      g_assert_true (wb_day_read (cases[i].text, WB_DAY_NONE, &day, NULL) == (read && !cases[i].yearless));
    }
  /* What the program writes, it reads. */
  for (WbDay day = today - 800; day <= today; day++)
    {
      static const char *const tags[] = { "en", "da", "de", "es", "fr", "it", "nb", "nl", "pl", "pt", "sv" };

      for (gsize i = 0; i < G_N_ELEMENTS (tags); i++)
        {
          g_autofree char *text = wb_day_format_in (day, wb_number_style_for_language (tags[i]));
          WbDay back = WB_DAY_NONE;

          g_assert_true (wb_day_read (text, WB_DAY_NONE, &back, NULL));
          g_assert_cmpint (back, ==, day);
        }
    }
}

static void
test_nothing (void)
{
  g_autofree char *iso = wb_instant_format (WB_INSTANT_NONE);
  g_autofree char *shown = wb_instant_format_short (WB_INSTANT_NONE);
  g_autofree char *date = wb_instant_format_date (WB_INSTANT_NONE);
  g_autofree char *time = wb_instant_format_time (WB_INSTANT_NONE);
  g_autofree char *day = wb_day_format (WB_DAY_NONE);
  g_autofree char *local = wb_day_format_local (WB_DAY_NONE);
  g_autofree char *far = wb_instant_format ((WbInstant) { G_MAXINT64, 0, TRUE });
  g_autofree char *early = wb_instant_format ((WbInstant) { G_MININT64, 0, TRUE });
  const char *all[] = { iso, shown, date, time, day, local, far, early };

  for (gsize i = 0; i < G_N_ELEMENTS (all); i++)
    g_assert_cmpstr (all[i], ==, "");
  g_assert_cmpint (wb_instant_get_day (WB_INSTANT_NONE), ==, WB_DAY_NONE);
}

static void
test_people (void)
{
  static const struct
  {
    const char *language, *march, *december;
  } cases[] = {
    { "en", "2 Mar 2026, 08:07", "31 Dec 2026, 23:05" },     { "C", "2 Mar 2026, 08:07", "31 Dec 2026, 23:05" },
    { "de", "2. März 2026, 08:07", "31. Dez. 2026, 23:05" }, { "fr", "2 mars 2026, 08:07", "31 déc. 2026, 23:05" },
    { "es", "2 mar 2026, 08:07", "31 dic 2026, 23:05" },     { "it", "2 mar 2026, 08:07", "31 dic 2026, 23:05" },
    { "nl", "2 mrt 2026, 08:07", "31 dec 2026, 23:05" },     { "sv", "2 mars 2026, 08:07", "31 dec. 2026, 23:05" },
    { "pt", "2 mar 2026, 08:07", "31 dez 2026, 23:05" },     { "pl", "2 mar 2026, 08:07", "31 gru 2026, 23:05" },
  };
  WbInstant march, december;

  g_assert_true (wb_instant_parse ("2026-03-02T08:07:59+01:00", &march, NULL));
  g_assert_true (wb_instant_parse ("2026-12-31T23:05:00-08:00", &december, NULL));
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const WbNumberStyle *style = wb_number_style_for_language (cases[i].language);
      g_autofree char *a = wb_instant_format_short_in (march, style);
      g_autofree char *b = wb_instant_format_short_in (december, style);
      g_assert_cmpstr (a, ==, cases[i].march);
      g_assert_cmpstr (b, ==, cases[i].december);
    }

  gboolean german = g_strcmp0 (g_getenv ("WB_TEST_LANGUAGE"), "de") == 0;
  g_autofree char *shown = wb_instant_format_short (march);
  g_autofree char *date = wb_instant_format_date (march);
  g_autofree char *time = wb_instant_format_time (march);
  g_autofree char *day = wb_day_format_local (wb_instant_get_day (march));
  g_assert_cmpstr (shown, ==, german ? "2. März 2026, 08:07" : "2 Mar 2026, 08:07");
  g_assert_cmpstr (date, ==, german ? "2. März 2026" : "2 Mar 2026");
  g_assert_cmpstr (day, ==, date);
  g_assert_cmpstr (time, ==, "08:07");
}

static void
test_long_text (void)
{
  g_autofree char *digits = g_strnfill (10000, '1');
  g_autofree char *tail = g_strconcat ("2026-03-02T08:07:00.", digits, "Z", NULL);
  g_autoptr (GError) error = NULL;
  WbInstant instant;
  WbDay day;

  g_assert_false (wb_instant_parse (tail, &instant, &error));
  g_assert_cmpuint (strlen (error->message), <, 300);
  g_assert_false (wb_instant_parse (digits, &instant, NULL));
  g_assert_false (wb_day_parse (digits, &day, NULL));
}

/* Local mean times had seconds (Amsterdam until 1937: +00:19:32); ISO 8601 cannot write them, the instant must not move. */
static void
test_offset_with_seconds (void)
{
  WbInstant instant = { G_GINT64_CONSTANT (-1200000000) * G_USEC_PER_SEC, 1172, TRUE };
  WbInstant back;
  g_autofree char *text = wb_instant_format (instant);

  g_assert_true (wb_instant_parse (text, &back, NULL));
  g_assert_cmpint (back.utc_us, ==, instant.utc_us);
  g_assert_cmpint (back.offset_s, ==, 19 * 60);
}

static void
test_time_of_day (void)
{
  static const char *const none[] = { "", ":30", "7", "730", "1930", "19:3", "19:300", "24:00", "19:60", "-1:30", "+7:05", "007:05", "19:30 h", "7 :05", "19;30", "0 am", "13pm", "pm", "7 p", "7: pm", "77pm" };
  static const struct { const char *text; int hour, minute; } good[] = {
    { "19:30", 19, 30 }, { "7.05", 7, 5 }, { " 07:05 ", 7, 5 }, { "0:00", 0, 0 }, { "23:59", 23, 59 }, { "7pm", 19, 0 }, { "7:30 PM", 19, 30 }, { "12 a.m.", 0, 0 },
    { "12pm", 12, 0 }, { "11.15am", 11, 15 },
  };
  int hour = -1, minute = -1;

  for (guint i = 0; i < G_N_ELEMENTS (none); i++)
    g_assert_false (wb_time_of_day_parse (none[i], &hour, &minute));
  g_assert_cmpint (hour, ==, -1);
  g_assert_cmpint (minute, ==, -1);
  for (guint i = 0; i < G_N_ELEMENTS (good); i++)
    {
      g_assert_true (wb_time_of_day_parse (good[i].text, &hour, &minute));
      g_assert_cmpint (hour, ==, good[i].hour);
      g_assert_cmpint (minute, ==, good[i].minute);
    }
}

static void
test_shows (void)
{
  WbInstant instant;

  g_assert_true (wb_instant_parse ("2026-03-01T00:07:59-05:00", &instant, NULL));
  g_assert_true (wb_instant_shows (instant, 0, 7));
  g_assert_false (wb_instant_shows (instant, 5, 7));
  g_assert_false (wb_instant_shows (instant, 0, 8));
  g_assert_false (wb_instant_shows (WB_INSTANT_NONE, 0, 0));
}

void
test_instant_add (void)
{
  g_test_add_func ("/base/instant/iso-8601-goes-both-ways-and-keeps-its-offset", test_parse);
  g_test_add_func ("/base/instant/other-shapes-and-days-that-never-were-are-refused", test_refusals);
  g_test_add_func ("/base/instant/every-day-of-three-centuries-has-its-number", test_calendar);
  g_test_add_func ("/base/instant/its-day-is-the-one-of-its-own-offset", test_day_of_an_instant);
  g_test_add_func ("/base/instant/a-time-of-day-as-a-hand-writes-it", test_time_of_day);
  g_test_add_func ("/base/instant/what-the-clock-on-the-wall-showed", test_shows);
  g_test_add_func ("/base/instant/a-day-as-a-hand-writes-it", test_day_by_hand);
  g_test_add_func ("/base/instant/nothing-and-the-far-ends-are-no-text", test_nothing);
  g_test_add_func ("/base/instant/people-read-it-in-their-language", test_people);
  g_test_add_func ("/base/instant/ten-thousand-characters-are-no-trouble", test_long_text);
  g_test_add_func ("/base/instant/an-offset-with-seconds-leaves-the-instant-exact", test_offset_with_seconds);
}
