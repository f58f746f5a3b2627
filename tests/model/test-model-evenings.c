/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-model.h"

#include "wb-evenings.h"
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

void
test_model_add_evenings (void)
{
  g_test_add_func ("/model/evenings/are-read-and-written", test_text);
  g_test_add_func ("/model/evenings/a-word-that-is-no-day-is-named", test_refused);
  g_test_add_func ("/model/evenings/the-next-one-is-found", test_next);
  g_test_add_func ("/model/evenings/days-of-the-week-have-names", test_names);
}
