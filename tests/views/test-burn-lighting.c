/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-page.h"

#include "wb-bench-check.h"
#include "wb-clock.h"
#include "wb-quantity-entry.h"
#include "wb-time-entry.h"

/* What is asked, typed and refused before a flame. */

static const char *
question_words (void)
{
  static char words[600];
  g_autofree char *text = NULL;

  g_assert_nonnull (bench_find_question ());
  g_object_get (bench_find_question (), "secondary-text", &text, NULL);
  g_strlcpy (words, text, sizeof words);
  return words;
}

/* Types so many minutes from now as the time of the lighting of what is chosen, and lights it. */
static void
light_at (Bench *bench,
          gint64 minutes)
{
  WbInstant now = wb_clock_now (wb_clock_get ());
  g_autofree char *time = wb_instant_format_time (wb_clock_at (wb_clock_get (), now.utc_us + minutes * BENCH_MINUTE_US));

  wb_time_entry_set_text (WB_TIME_ENTRY (test_child (GTK_WIDGET (bench_get_panel (bench)), "time")), time);
  bench_act (bench, "page.light");
}

/* A clock five minutes ahead: what is yet to come was yesterday, and nobody lit it then. */
static void
test_ahead_of_the_clock (void)
{
  Bench bench;

  bench_open (&bench, 1, "pool_mm,flame_mm");
  bench_choose (&bench, "T1");
  light_at (&bench, 5);
  g_assert_nonnull (strstr (question_words (), "23\u00a0h 55\u00a0min ago"));
  bench_respond (GTK_RESPONSE_CANCEL);
  g_assert_null (test_find_window (WB_TYPE_BENCH_CHECK));
  g_assert_cmpuint (wb_app_bench_get_alight (bench.bench), ==, 0);
  /* Half an hour ago is believed. */
  light_at (&bench, -30);
  g_assert_null (bench_find_question ());
  bench_answer_check ();
  bench_wait_alight (&bench, 1);
  g_assert_cmpint (wb_app_bench_sample_get_elapsed_s (bench_find_sample (&bench, "T1")), <, 32 * 60);
  bench_close (&bench);
}

static gboolean
is_out (gpointer bench)
{
  return wb_app_bench_get_alight (((Bench *) bench)->bench) == 0;
}

/* It is not lit a second time before it went out the first. */
static void
test_before_it_went_out (void)
{
  Bench bench;
  WbTimeEntry *time;
  g_autofree char *text = NULL;
  WbInstant then, unused;

  bench_open (&bench, 1, "flame_mm");
  bench_light (&bench, "T1", 1);
  bench_advance (&bench, 240);
  bench_act (&bench, "page.snuff");
  test_wait (is_out, &bench);
  bench_advance (&bench, 4 * 60);
  test_settle (bench.window);
  gtk_widget_activate_action (GTK_WIDGET (bench.window), "page.ask", "s", "lighting");
  time = WB_TIME_ENTRY (test_child (GTK_WIDGET (bench_get_panel (&bench)), "time"));
  then = wb_clock_at (wb_clock_get (), wb_clock_now (wb_clock_get ()).utc_us - 5 * 60 * BENCH_MINUTE_US);
  text = wb_instant_format_time (then);
  wb_time_entry_set_text (time, text);
  g_assert_false (wb_time_entry_get (time, &unused));
  bench_close (&bench);
}

/* A session that nobody closed, with a flame that nobody snuffed: two evenings later its check is asked anew, and once. */
static void
test_old_session (void)
{
  Bench bench;
  GtkWidget *check;

  bench_open (&bench, 3, "flame_mm");
  bench_choose (&bench, "T1");
  bench_act (&bench, "page.light");
  check = test_find_window (WB_TYPE_BENCH_CHECK);
  bench_tick_all (check);
  gtk_editable_set_text (GTK_EDITABLE (test_child (check, "who")), "Wren");
  gtk_editable_set_text (GTK_EDITABLE (test_child (check, "until")), "bedtime");
  bench_click (check, "open");
  bench_wait_alight (&bench, 1);
  bench_advance (&bench, 40 * 60);
  bench_choose (&bench, "T2");
  bench_act (&bench, "page.light");
  g_assert_nonnull (test_find_window (WB_TYPE_BENCH_CHECK));
  g_assert_cmpuint (wb_app_bench_get_alight (bench.bench), ==, 1);
  bench_answer_check ();
  bench_wait_alight (&bench, 2);
  bench_choose (&bench, "T3");
  bench_act (&bench, "page.light");
  g_assert_null (test_find_window (WB_TYPE_BENCH_CHECK));
  bench_wait_alight (&bench, 3);
  bench_close (&bench);
}

static gboolean
is_session_open (gpointer bench)
{
  return wb_app_bench_get_session (((Bench *) bench)->bench) != NULL;
}

/* Enter goes from "Until when" to "Where", and there opens the session; a match is another key. */
static void
test_enter_lights_nothing (void)
{
  Bench bench;
  GtkWidget *check;

  bench_open (&bench, 1, "flame_mm");
  bench_choose (&bench, "T1");
  bench_act (&bench, "page.light");
  check = test_find_window (WB_TYPE_BENCH_CHECK);
  bench_tick_all (check);
  gtk_editable_set_text (GTK_EDITABLE (test_child (check, "who")), "Wren");
  gtk_widget_grab_focus (test_child (check, "until"));
  gtk_editable_set_text (GTK_EDITABLE (test_child (check, "until")), "22:30");
  g_signal_emit_by_name (test_child (check, "until"), "activate");
  g_assert_true (gtk_widget_has_focus (GTK_WIDGET (gtk_editable_get_delegate (GTK_EDITABLE (test_child (check, "place"))))));
  gtk_editable_set_text (GTK_EDITABLE (test_child (check, "place")), "workshop");
  g_signal_emit_by_name (test_child (check, "place"), "activate");
  g_assert_null (test_find_window (WB_TYPE_BENCH_CHECK));
  test_wait (is_session_open, &bench);
  test_settle (bench.window);
  g_assert_cmpuint (wb_app_bench_get_alight (bench.bench), ==, 0);
  bench_act (&bench, "page.light");
  bench_wait_alight (&bench, 1);
  bench_close (&bench);
}

/* "=" takes the trim of the burn before over; before a first burn it says that there is none. */
static void
test_trim_as_last_time (void)
{
  Bench bench;
  GtkWidget *trim;
  GtkLabel *wrong;

  bench_open (&bench, 1, "flame_mm");
  bench_choose (&bench, "T1");
  trim = test_child (GTK_WIDGET (bench_get_panel (&bench)), "trim");
  wrong = GTK_LABEL (test_child (GTK_WIDGET (bench_get_panel (&bench)), "wrong"));
  gtk_widget_grab_focus (trim);
  bench_press_at (gtk_root_get_focus (GTK_ROOT (bench.window)), GDK_KEY_equal);
  g_assert_cmpstr (gtk_label_get_text (wrong), ==, "Wick trimmed to: nothing to take over");
  g_assert_cmpstr (wb_quantity_entry_get_text (WB_QUANTITY_ENTRY (trim)), ==, "");
  gtk_editable_set_text (GTK_EDITABLE (test_find (trim, GTK_TYPE_TEXT)), "6.5");
  g_assert_cmpstr (gtk_label_get_text (wrong), ==, "");
  bench_light (&bench, "T1", 1);
  bench_advance (&bench, 60);
  bench_act (&bench, "page.snuff");
  test_wait (is_out, &bench);
  test_settle (bench.window);
  gtk_widget_activate_action (GTK_WIDGET (bench.window), "page.ask", "s", "lighting");
  trim = test_child (GTK_WIDGET (bench_get_panel (&bench)), "trim");
  gtk_widget_grab_focus (trim);
  bench_press_at (gtk_root_get_focus (GTK_ROOT (bench.window)), GDK_KEY_equal);
  g_assert_cmpfloat (wb_quantity_entry_get_value (WB_QUANTITY_ENTRY (trim)), ==, 6.5);
  g_assert_true (wb_reading_panel_get_touched (bench_get_panel (&bench)));
  /* Nothing is left of it where the lighting is not asked, nor once it is emptied. */
  gtk_editable_set_text (GTK_EDITABLE (test_find (trim, GTK_TYPE_TEXT)), "");
  g_assert_false (wb_reading_panel_get_touched (bench_get_panel (&bench)));
  bench_close (&bench);
}

void
test_burn_lighting_add (void)
{
  g_test_add_func ("/views/lighting/a-time-ahead-of-the-clock-is-asked-about", test_ahead_of_the_clock);
  g_test_add_func ("/views/lighting/not-before-the-last-burn-ended", test_before_it_went_out);
  g_test_add_func ("/views/lighting/an-old-session-asks-its-check-anew", test_old_session);
  g_test_add_func ("/views/lighting/enter-opens-the-session-and-lights-nothing", test_enter_lights_nothing);
  g_test_add_func ("/views/lighting/the-trim-is-taken-over", test_trim_as_last_time);
}
