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

/* A kitchen's clock: "1600" is four in the afternoon, and a number that is no time is not taken for minutes. */
static void
test_by_clock (void)
{
  static const struct { const char *text; const char *instant; } cases[] = {
    { "1600", "2026-03-02T16:00:00+00:00" }, { "905", "2026-03-02T09:05:00+00:00" }, { "0005", "2026-03-02T00:05:00+00:00" },
    { "1841", "2026-03-01T18:41:00+00:00" }, { "16:00", "2026-03-02T16:00:00+00:00" }, { "5 min", "2026-03-02T18:35:00+00:00" },
    { "-5", "2026-03-02T18:35:00+00:00" }, { "2 Mar, 16:05", "2026-03-02T16:05:00+00:00" },
  };
  static const char *const refused[] = { "5", "16", "2460", "1675", "16,05", "16000", "0" };
  WbTimeEntry *entry = entry_new ();
  WbInstant instant;

  wb_time_entry_set_by_clock (entry, TRUE);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = NULL;

      g_test_message ("%s", cases[i].text);
      wb_time_entry_set_text (entry, cases[i].text);
      g_assert_true (wb_time_entry_get (entry, &instant));
      text = wb_instant_format (instant);
      g_assert_cmpstr (text, ==, cases[i].instant);
    }
  for (guint i = 0; i < G_N_ELEMENTS (refused); i++)
    {
      g_test_message ("%s", refused[i]);
      wb_time_entry_set_text (entry, refused[i]);
      g_assert_false (wb_time_entry_get (entry, &instant));
      g_assert_false (instant.known);
      g_assert_cmpstr (wb_time_entry_get_problem (entry), ==, "Write hours and minutes, such as 16:05");
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

static GtkDropDown *
get_which (WbTimeEntry *entry)
{
  for (GtkWidget *child = gtk_widget_get_first_child (gtk_widget_get_first_child (GTK_WIDGET (entry))); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    if (GTK_IS_DROP_DOWN (child))
      return GTK_DROP_DOWN (child);
  g_assert_not_reached ();
}

static void
assert_doubled (WbTimeEntry *entry,
                const char  *text,
                gboolean     asked,
                const char  *expected)
{
  g_autofree char *found = NULL;
  WbInstant instant;

  g_test_message ("%s", text);
  if (strcmp (wb_time_entry_get_text (entry), text) != 0)
    wb_time_entry_set_text (entry, text);
  g_assert_true (wb_time_entry_get (entry, &instant));
  g_assert_cmpint (gtk_widget_get_visible (GTK_WIDGET (get_which (entry))), ==, asked);
  found = wb_instant_format (instant);
  g_assert_cmpstr (found, ==, expected);
}

/* In the night of 25 October 2026 03:00 becomes 02:00 (Directive 2000/84/EC): an hour that comes twice is asked about. */
static void
test_doubled_hour (void)
{
  WbTimeEntry *entry = entry_new ();
  WbInstant then, lit, now = wb_clock_now (wb_clock_get ());
  gint64 by_us;

  g_setenv ("TZ", "Europe/Berlin", TRUE);
  wb_clock_refresh_zone (wb_clock_get ());
  g_assert_true (wb_instant_parse ("2026-10-25T02:40:00+01:00", &then, NULL));
  by_us = then.utc_us - now.utc_us;
  wb_clock_step (wb_clock_get (), by_us);
  assert_doubled (entry, "1:59", FALSE, "2026-10-25T01:59:00+02:00");
  assert_doubled (entry, "2:30", TRUE, "2026-10-25T02:30:00+01:00");
  gtk_drop_down_set_selected (get_which (entry), 0);
  assert_doubled (entry, "2:30", TRUE, "2026-10-25T02:30:00+02:00");
  /* The second 02:50 has not been yet. */
  assert_doubled (entry, "2:50", FALSE, "2026-10-25T02:50:00+02:00");
  assert_doubled (entry, "-60", FALSE, "2026-10-25T02:40:00+02:00");
  /* Lit between the two: only one of them can be meant. */
  g_assert_true (wb_instant_parse ("2026-10-25T02:45:00+02:00", &lit, NULL));
  wb_time_entry_set_earliest (entry, lit, "before it was lit");
  assert_doubled (entry, "2:30", FALSE, "2026-10-25T02:30:00+01:00");
  wb_clock_step (wb_clock_get (), -by_us);
  g_setenv ("TZ", "UTC", TRUE);
  wb_clock_refresh_zone (wb_clock_get ());
  g_assert_finalize_object (entry);
}

static void
assert_from (WbTimeEntry *entry,
             const char  *text,
             const char  *expected)
{
  g_autofree char *found = NULL;
  WbInstant instant;

  g_test_message ("%s", text);
  wb_time_entry_set_text (entry, text);
  g_assert_true (wb_time_entry_get (entry, &instant));
  found = wb_instant_format (instant);
  g_assert_cmpstr (found, ==, expected);
}

static gboolean
says (GtkWidget  *widget,
      const char *part)
{
  if (GTK_IS_LABEL (widget) && strstr (gtk_label_get_text (GTK_LABEL (widget)), part) != NULL)
    return TRUE;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    if (says (child, part))
      return TRUE;
  return FALSE;
}

/* A burn of 28 February that nobody closed, asked about two days later. */
static void
test_from (void)
{
  WbTimeEntry *entry = entry_new ();
  WbInstant lit, instant;

  g_assert_true (wb_instant_parse ("2026-02-28T18:50:30Z", &lit, NULL));
  wb_time_entry_set_earliest (entry, lit, "before it was lit");
  wb_time_entry_set_from (entry, lit);
  assert_from (entry, "22:20", "2026-02-28T22:20:00+00:00");
  g_assert_true (says (GTK_WIDGET (entry), "28 Feb"));
  g_assert_true (says (GTK_WIDGET (entry), "after 3\302\240h 29\302\240min"));
  assert_from (entry, "0:10", "2026-03-01T00:10:00+00:00");
  assert_from (entry, "18:50", "2026-02-28T18:50:30+00:00");
  assert_from (entry, "18:40", "2026-03-01T18:40:00+00:00");
  /* Another day is said. */
  assert_from (entry, "1 Mar, 22:20", "2026-03-01T22:20:00+00:00");
  assert_from (entry, "2026-03-02 7:05", "2026-03-02T07:05:00+00:00");
  assert_from (entry, "10 min", "2026-03-02T18:30:00+00:00");
  g_assert_true (says (GTK_WIDGET (entry), "after 47\302\240h 39\302\240min"));
  wb_time_entry_set_text (entry, "2 Mar 2026, 18:50");
  g_assert_false (wb_time_entry_get (entry, &instant));
  g_assert_true (says (GTK_WIDGET (entry), "still to come"));
  wb_time_entry_set_text (entry, "28 Feb, 12:00");
  g_assert_false (wb_time_entry_get (entry, &instant));
  /* Lit a minute ago, as it were: there is no such time after it yet, and it is refused. */
  g_assert_true (wb_instant_parse ("2026-03-02T18:39:00Z", &lit, NULL));
  wb_time_entry_set_earliest (entry, lit, "before it was lit");
  wb_time_entry_set_from (entry, lit);
  wb_time_entry_set_text (entry, "18:00");
  g_assert_false (wb_time_entry_get (entry, &instant));
  g_assert_finalize_object (entry);
}

void
test_time_entry_add (void)
{
  g_test_add_func ("/widgets/time-entry/a-time-of-day-or-how-long-ago", test_read);
  g_test_add_func ("/widgets/time-entry/by-the-clock-a-bare-number-is-a-time-of-day", test_by_clock);
  g_test_add_func ("/widgets/time-entry/empty-is-now", test_now);
  g_test_add_func ("/widgets/time-entry/what-is-no-time-is-refused", test_refuse);
  g_test_add_func ("/widgets/time-entry/nothing-before-the-flame", test_earliest);
  g_test_add_func ("/widgets/time-entry/the-first-such-time-after-the-flame", test_from);
  g_test_add_func ("/widgets/time-entry/the-hour-that-comes-twice-is-asked-about", test_doubled_hour);
}
