/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-model.h"

#include "wb-evenings-out.h"
#include "wb-record.h"

#include <string.h>

static WbDay
day_of (const char *iso)
{
  WbDay day;

  g_assert_true (wb_day_parse (iso, &day, NULL));
  return day;
}

static void
test_text (void)
{
  static const struct { const char *text, *back; guint days; } cases[] = {
    { "mon tue fri", "mon tue fri", 3 },
    { "fri,TUE  mon tue", "mon tue fri", 3 },
    { "sun", "sun", 1 },
    { "mon tue wed thu fri sat sun", "mon tue wed thu fri sat sun", 7 },
    { "", NULL, 0 },
    { NULL, NULL, 0 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *back = NULL;
      WbEvenings evenings = G_MAXUINT;

      g_assert_true (wb_evenings_parse (cases[i].text, &evenings, &error));
      g_assert_no_error (error);
      back = wb_evenings_format (evenings);
      g_assert_cmpstr (back, ==, cases[i].back);
      g_assert_cmpuint (wb_evenings_count (evenings), ==, cases[i].days);
    }
}

static void
test_refused (void)
{
  static const char *const wrong[] = { "monday", "mo", "mon tues", "1", "mon; tue" };

  for (guint i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      g_autoptr (GError) error = NULL;
      WbEvenings evenings = 5;

      g_assert_false (wb_evenings_parse (wrong[i], &evenings, &error));
      g_assert_error (error, WB_RECORD_ERROR, WB_RECORD_ERROR_WORD);
      g_assert_nonnull (strstr (error->message, "is no day of the week"));
      g_assert_cmpuint (evenings, ==, 5);
    }
}

/* 2026-11-30 is a Monday, 2026-10-25 a Sunday, 2024-02-29 a Thursday (any printed calendar). */
static void
test_next (void)
{
  WbEvenings evenings;

  g_assert_true (wb_evenings_parse ("tue fri", &evenings, NULL));
  g_assert_cmpint (wb_day_get_weekday (day_of ("2026-11-30")), ==, 0);
  g_assert_cmpint (wb_day_get_weekday (day_of ("2026-10-25")), ==, 6);
  g_assert_cmpint (wb_day_get_weekday (day_of ("2024-02-29")), ==, 3);
  g_assert_cmpint (wb_day_get_weekday (day_of ("1969-12-31")), ==, 2);
  g_assert_cmpint (wb_evenings_next (evenings, day_of ("2026-11-30")), ==, day_of ("2026-12-01"));
  g_assert_cmpint (wb_evenings_next (evenings, day_of ("2026-12-01")), ==, day_of ("2026-12-01"));
  g_assert_cmpint (wb_evenings_next (evenings, day_of ("2026-12-02")), ==, day_of ("2026-12-04"));
  g_assert_cmpint (wb_evenings_next (evenings, day_of ("2026-12-05")), ==, day_of ("2026-12-08"));
  g_assert_cmpint (wb_evenings_next (WB_EVENINGS_NONE, day_of ("2026-12-05")), ==, WB_DAY_NONE);
  g_assert_cmpint (wb_evenings_next (evenings, WB_DAY_NONE), ==, WB_DAY_NONE);
}

static void
test_names (void)
{
  g_autofree char *german = wb_day_format_of_week (day_of ("2026-12-01"), wb_number_style_for_language ("de_DE"));
  g_autofree char *plain = wb_day_format_of_week (day_of ("2026-12-01"), wb_number_style_for_language ("C"));
  g_autofree char *none = wb_day_format_of_week (WB_DAY_NONE, NULL);

  g_assert_cmpstr (german, ==, "Di 1. Dez.");
  g_assert_cmpstr (plain, ==, "Tue 1 Dec");
  g_assert_cmpstr (none, ==, "");
  for (int i = 0; i < WB_WEEKDAYS; i++)
    g_assert_cmpstr (wb_weekday_get_name (i, wb_number_style_for_language ("fr_CH")), !=, "");
}

/* Stored, in order; what is no day is named. */
static void
test_out_text (void)
{
  static const struct { const char *text, *back; } cases[] = {
    { "2026-12-24", "2026-12-24" },
    { "2027-02-15  2026-12-24..2027-01-03", "2026-12-24..2027-01-03 2027-02-15" },
    { "2026-12-24..2026-12-24", "2026-12-24" },
    { "", NULL },
    { NULL, NULL },
  };
  static const char *const wrong[] = { "2026-12-24..", "24 Dec", "2026-12-24..2026-12-23", "2026-02-30", "x" };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GArray) out = wb_evenings_out_parse (cases[i].text, NULL);
      g_autofree char *back = wb_evenings_out_format (out);

      g_assert_cmpstr (back, ==, cases[i].back);
    }
  for (guint i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_null (wb_evenings_out_parse (wrong[i], &error));
      g_assert_error (error, WB_RECORD_ERROR, WB_RECORD_ERROR_WORD);
    }
}

/* As hands write it on 30 November 2026. */
static void
test_out_written (void)
{
  static const struct { const char *text, *stored, *shown; } cases[] = {
    { "24 Dec to 3 Jan, 15 Feb", "2026-12-24..2027-01-03 2027-02-15", "24 Dec 2026 to 3 Jan 2027, 15 Feb 2027" },
    { " 15.2.2027 ;2026-12-24 – 2026-12-26", "2026-12-24..2026-12-26 2027-02-15", "24 Dec 2026 to 26 Dec 2026, 15 Feb 2027" },
    { "today", "2026-11-30", "30 Nov 2026" },
    /* the next one: this very day, and not yesterday's */
    { "30 Nov", "2026-11-30", "30 Nov 2026" },
    { "29 Nov", "2027-11-29", "29 Nov 2027" },
    { "28 Nov 2026 - 2 Dec 2026", "2026-11-28..2026-12-02", "28 Nov 2026 to 2 Dec 2026" },
    /* the month said once, with the last day; such a range may have begun */
    { "20 to 27 December", "2026-12-20..2026-12-27", "20 Dec 2026 to 27 Dec 2026" },
    { "20-27 Dec, 2-3.1.", "2026-12-20..2026-12-27 2027-01-02..2027-01-03", "20 Dec 2026 to 27 Dec 2026, 2 Jan 2027 to 3 Jan 2027" },
    { "20.–27. Dezember 2027", "2027-12-20..2027-12-27", "20 Dec 2027 to 27 Dec 2027" },
    { "28 - 30 Nov", "2026-11-28..2026-11-30", "28 Nov 2026 to 30 Nov 2026" },
    /* what is over is not shown */
    { "1 Nov 2026 to 29 Nov 2026, 1 Dec", "2026-11-01..2026-11-29 2026-12-01", "1 Dec 2026" },
    { " , ", NULL, "" },
  };
  static const char *const wrong[] = { "Christmas", "24 Dec 2026 to 23 Dec 2026", "24 Dec to", "32 Dec", "20 to 27", "20-27", "28 to 3 January",
                                        "0 to 3 January", "20-27-12", "20 to 32 Dec" };
  WbDay today = day_of ("2026-11-30");

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (GArray) out = wb_evenings_out_read (cases[i].text, today, &error), again = NULL;
      g_autofree char *stored = NULL, *shown = NULL, *back = NULL;

      g_test_message ("%s", cases[i].text);
      g_assert_no_error (error);
      stored = wb_evenings_out_format (out);
      shown = wb_evenings_out_write (out, today);
      g_assert_cmpstr (stored, ==, cases[i].stored);
      g_assert_cmpstr (shown, ==, cases[i].shown);
      /* What is shown reads as itself. */
      again = wb_evenings_out_read (shown, today, &error);
      g_assert_no_error (error);
      back = wb_evenings_out_write (again, today);
      g_assert_cmpstr (back, ==, shown);
    }
  for (guint i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      g_autoptr (GError) error = NULL;

      g_test_message ("%s", wrong[i]);
      g_assert_null (wb_evenings_out_read (wrong[i], today, &error));
      g_assert_error (error, WB_RECORD_ERROR, WB_RECORD_ERROR_WORD);
      g_assert_nonnull (strstr (error->message, wrong[i]));
    }
}

/* A day without its year is the next one, over a 29 February too. */
static void
test_out_leap (void)
{
  static const struct { const char *today, *text, *stored; } cases[] = {
    { "2026-11-30", "29 Feb", "2028-02-29" },
    { "2028-02-29", "29 Feb", "2028-02-29" },
    { "2028-03-01", "29.2.", "2032-02-29" },
    { "2096-03-01", "29 Feb", "2104-02-29" },
    { "2027-03-02", "1 Mar", "2028-03-01" },
    { "2027-12-30", "28 Feb to 1 Mar", "2028-02-28..2028-03-01" },
    { "2027-12-30", "31 Dec to 1 Jan", "2027-12-31..2028-01-01" },
    { "2026-12-22", "20 to 27 December", "2026-12-20..2026-12-27" },
    { "2026-12-28", "20 to 27 December", "2027-12-20..2027-12-27" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (GArray) out = wb_evenings_out_read (cases[i].text, day_of (cases[i].today), &error);
      g_autofree char *stored = NULL;

      g_test_message ("%s on %s", cases[i].text, cases[i].today);
      g_assert_no_error (error);
      stored = wb_evenings_out_format (out);
      g_assert_cmpstr (stored, ==, cases[i].stored);
    }
}

static void
test_out_join (void)
{
  g_autoptr (GArray) stored = wb_evenings_out_parse ("2026-08-01..2026-08-14 2026-11-28..2026-12-02 2026-12-24", NULL);
  g_autoptr (GArray) typed = wb_evenings_out_parse ("2026-12-31", NULL);
  g_autoptr (GArray) all = wb_evenings_out_join (stored, day_of ("2026-11-30"), typed);
  g_autofree char *text = wb_evenings_out_format (all);

  /* What is over stays; what was taken out of the line is gone. */
  g_assert_cmpstr (text, ==, "2026-08-01..2026-08-14 2026-12-31");
  g_assert_true (wb_evenings_out_has (stored, day_of ("2026-12-02")));
  g_assert_false (wb_evenings_out_has (stored, day_of ("2026-12-03")));
  g_assert_false (wb_evenings_out_has (NULL, day_of ("2026-12-02")));
}

void
test_model_add_evenings (void)
{
  g_test_add_func ("/model/evenings/left-out-ones-are-read-and-written", test_out_text);
  g_test_add_func ("/model/evenings/left-out-ones-are-written-by-hand", test_out_written);
  g_test_add_func ("/model/evenings/a-day-without-its-year-is-the-next-one", test_out_leap);
  g_test_add_func ("/model/evenings/left-out-ones-that-are-past-stay", test_out_join);

  g_test_add_func ("/model/evenings/are-read-and-written", test_text);
  g_test_add_func ("/model/evenings/a-word-that-is-no-day-is-named", test_refused);
  g_test_add_func ("/model/evenings/the-next-one-is-found", test_next);
  g_test_add_func ("/model/evenings/days-of-the-week-have-names", test_names);
}
