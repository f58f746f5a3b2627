/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-widgets.h"

#include "wb-clock.h"
#include "wb-time-entry.h"

/* The test clock stands at 2 March 2026, 18:40 UTC. */
static WbTimeEntry *
entry_new (void)
{
  return WB_TIME_ENTRY (g_object_ref_sink (wb_time_entry_new ("Seen at")));
}

static void
test_read (void)
{
  static const struct { const char *text; const char *instant; } cases[] = {
    { "18:40", "2026-03-02T18:40:00+00:00" }, { "7:05", "2026-03-02T07:05:00+00:00" }, { "18.39", "2026-03-02T18:39:00+00:00" },
    /* Later than now can only have been yesterday. */
    { "18:41", "2026-03-01T18:41:00+00:00" }, { " 23:59 ", "2026-03-01T23:59:00+00:00" },
    { "-5", "2026-03-02T18:35:00+00:00" }, { "5", "2026-03-02T18:35:00+00:00" }, { "90 s", "2026-03-02T18:38:30+00:00" },
    { "1 h 20 min", "2026-03-02T17:20:00+00:00" }, { "0", "2026-03-02T18:40:00+00:00" },
  };
  WbTimeEntry *entry = entry_new ();

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = NULL;
      WbInstant instant;

      g_test_message ("%s", cases[i].text);
      wb_time_entry_set_text (entry, cases[i].text);
      g_assert_true (wb_time_entry_get (entry, &instant));
      text = wb_instant_format (instant);
      g_assert_cmpstr (text, ==, cases[i].instant);
    }
  g_assert_finalize_object (entry);
}

static void
test_now (void)
{
  WbTimeEntry *entry = entry_new ();
  WbInstant instant;

  g_assert_true (wb_time_entry_get (entry, &instant));
  g_assert_false (instant.known);
  wb_time_entry_set_text (entry, "   ");
  g_assert_true (wb_time_entry_get (entry, &instant));
  g_assert_false (instant.known);
  g_assert_finalize_object (entry);
}

static void
test_refuse (void)
{
  static const char *const cases[] = { "24:00", "18:60", "18:4", "soon", "3 mm", "-", "--5", "999999", "18:40:00 tomorrow" };
  WbTimeEntry *entry = entry_new ();

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WbInstant instant;

      g_test_message ("%s", cases[i]);
      wb_time_entry_set_text (entry, cases[i]);
      g_assert_false (wb_time_entry_get (entry, &instant));
      g_assert_cmpstr (wb_time_entry_get_text (entry), ==, cases[i]);
    }
  g_assert_finalize_object (entry);
}

static void
test_earliest (void)
{
  WbTimeEntry *entry = entry_new ();
  WbInstant lit, instant;

  g_assert_true (wb_instant_parse ("2026-03-02T18:10:30Z", &lit, NULL));
  wb_time_entry_set_earliest (entry, lit, "before it was lit");
  wb_time_entry_set_text (entry, "18:09");
  g_assert_false (wb_time_entry_get (entry, &instant));
  wb_time_entry_set_text (entry, "18:11");
  g_assert_true (wb_time_entry_get (entry, &instant));
  /* Clocks show minutes: the minute of the lighting is its own. */
  wb_time_entry_set_text (entry, "18:10");
  g_assert_true (wb_time_entry_get (entry, &instant));
  g_assert_cmpint (instant.utc_us, ==, lit.utc_us);
  g_assert_finalize_object (entry);
}

void
test_time_entry_add (void)
{
  g_test_add_func ("/widgets/time-entry/a-time-of-day-or-how-long-ago", test_read);
  g_test_add_func ("/widgets/time-entry/empty-is-now", test_now);
  g_test_add_func ("/widgets/time-entry/what-is-no-time-is-refused", test_refuse);
  g_test_add_func ("/widgets/time-entry/nothing-before-the-flame", test_earliest);
}
