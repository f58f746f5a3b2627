/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-page.h"
#include "test-bench.h"

#include "wb-bench-check.h"
#include "wb-clock.h"
#include "wb-reading-field.h"

#include <math.h>

/* Lighting, reading and snuffing at the bench, and where the hand goes on to. */

static gboolean
has_glowed (gpointer sample)
{
  return wb_app_bench_sample_get_last (sample, WB_COLUMN_EVENT) == WB_EVENT_AFTERGLOW;
}

static void
test_check_before_the_first_light (void)
{
  Bench bench;
  GtkWidget *check;

  bench_open (&bench, 2, "pool_mm,flame_mm,soot");
  g_assert_null (wb_app_bench_get_session (bench.bench));
  bench_choose (&bench, "T1");
  bench_act (&bench, "page.light");
  check = test_find_window (WB_TYPE_BENCH_CHECK);
  g_assert_nonnull (check);
  g_assert_false (gtk_widget_is_sensitive (test_child (check, "open")));
  bench_tick_all (check);
  /* All is ticked, but nobody stays. */
  g_assert_false (gtk_widget_is_sensitive (test_child (check, "open")));
  gtk_window_destroy (GTK_WINDOW (check));
  test_settle (bench.window);
  g_assert_cmpuint (wb_app_bench_get_alight (bench.bench), ==, 0);

  bench_act (&bench, "page.light");
  bench_answer_check ();
  bench_wait_alight (&bench, 1);
  g_assert_true (wb_app_bench_get_session (bench.bench)->checked);
  g_assert_cmpstr (wb_app_bench_get_session (bench.bench)->staying, ==, "Wren, until 22:30");
  /* The hand is at the next one already, and no second check is asked. */
  g_assert_cmpstr (bench_get_code (&bench), ==, "T2");
  bench_act (&bench, "page.light");
  g_assert_null (test_find_window (WB_TYPE_BENCH_CHECK));
  bench_wait_alight (&bench, 2);
  bench_close (&bench);
}

static const char *
session_words (Bench *bench)
{
  return gtk_label_get_text (GTK_LABEL (test_child (test_child (GTK_WIDGET (bench->window), "bar"), "session")));
}

/* Somebody said until when, and it is later: the bench says so, and another light asks who stays now, while the first burns on. */
static void
test_past_the_stay (void)
{
  Bench bench;
  GtkWidget *check;
  WbInstant lit;
  int minutes;
  gint64 session;

  bench_open (&bench, 2, "pool_mm,flame_mm,soot");
  bench_light (&bench, "T1", 1);
  session = wb_app_bench_get_session (bench.bench)->record.id;
  lit = wb_clock_now (wb_clock_get ());
  /* to 22:25, and past 22:30 */
  minutes = (int) ((lit.utc_us / G_USEC_PER_SEC + lit.offset_s) % 86400 / 60);
  bench_advance (&bench, (22 * 60 + 25 - minutes + 1440) % 1440);
  test_settle (bench.window);
  g_assert_null (strstr (session_words (&bench), "past"));
  bench_advance (&bench, 10);
  test_settle (bench.window);
  g_assert_true (g_str_has_prefix (session_words (&bench), "past 22:30 "));

  bench_choose (&bench, "T2");
  bench_act (&bench, "page.light");
  check = test_find_window (WB_TYPE_BENCH_CHECK);
  g_assert_nonnull (check);
  gtk_window_destroy (GTK_WINDOW (check));
  test_settle (bench.window);
  g_assert_cmpuint (wb_app_bench_get_alight (bench.bench), ==, 1);

  bench_act (&bench, "page.light");
  check = test_find_window (WB_TYPE_BENCH_CHECK);
  g_assert_nonnull (check);
  bench_tick_all (check);
  gtk_editable_set_text (GTK_EDITABLE (test_child (check, "who")), "Robin");
  gtk_editable_set_text (GTK_EDITABLE (test_child (check, "until")), "23:50");
  bench_click (check, "open");
  bench_wait_alight (&bench, 2);
  g_assert_cmpstr (wb_app_bench_get_session (bench.bench)->staying, ==, "Robin, until 23:50");
  g_assert_cmpint (wb_app_bench_get_session (bench.bench)->record.id, ==, session);
  g_assert_null (strstr (session_words (&bench), "past"));
  bench_close (&bench);
  /* The next test begins at the hour that it would without this one. */
  wb_clock_step (wb_clock_get (), lit.utc_us - wb_clock_now (wb_clock_get ()).utc_us);
}

static void
test_light_read_snuff (void)
{
  Bench bench;
  WbAppBenchSample *sample;

  bench_open (&bench, 1, "pool_mm,flame_mm,soot");
  sample = bench_find_sample (&bench, "T1");
  bench_type (&bench, WB_COLUMN_MASS_G, "512.4");
  bench_light (&bench, "T1", 1);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_MASS_G), ==, 512.4);
  g_assert_cmpstr (wb_app_bench_sample_get_place (sample), ==, "1");
  g_assert_false (test_enabled (bench.window, "page.light"));
  g_assert_true (test_enabled (bench.window, "page.snuff"));

  bench_advance (&bench, 60);
  g_assert_true (wb_app_bench_sample_get_overdue (sample));
  bench_type (&bench, WB_COLUMN_POOL_MM, "2 1/8\"");
  bench_enter (&bench, WB_COLUMN_POOL_MM);
  g_assert_true (bench_has_focus (&bench, WB_COLUMN_FLAME_MM));
  bench_type (&bench, WB_COLUMN_FLAME_MM, "2,1 cm");
  bench_enter (&bench, WB_COLUMN_FLAME_MM);
  g_assert_true (bench_has_focus (&bench, WB_COLUMN_SOOT));
  bench_rate (&bench, WB_COLUMN_SOOT, 1);
  bench_enter (&bench, WB_COLUMN_SOOT);
  bench_wait_read (sample, 60);
  test_settle (bench.window);
  g_assert_cmpfloat_with_epsilon (wb_app_bench_sample_get_last (sample, WB_COLUMN_POOL_MM), 53.975, 1e-9);
  g_assert_cmpfloat_with_epsilon (wb_app_bench_sample_get_last (sample, WB_COLUMN_FLAME_MM), 21, 1e-9);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_SOOT), ==, 1);
  g_assert_false (wb_app_bench_sample_get_overdue (sample));
  g_assert_false (wb_reading_panel_get_touched (bench_get_panel (&bench)));

  bench_advance (&bench, 180);
  g_assert_true (wb_app_bench_sample_get_stop_due (sample));
  /* The keyboard is in a field of the round: it is said, and the field stays where it is. */
  g_assert_cmpint (wb_reading_panel_get_ask (bench_get_panel (&bench)), ==, WB_APP_ASK_ROUND);
  g_assert_nonnull (strstr (gtk_label_get_text (GTK_LABEL (test_child (GTK_WIDGET (bench_get_panel (&bench)), "caution"))), "Before snuffing"));
  gtk_root_set_focus (GTK_ROOT (bench.window), NULL);
  wb_app_bench_update (bench.bench);
  g_assert_cmpint (wb_reading_panel_get_ask (bench_get_panel (&bench)), ==, WB_APP_ASK_BEFORE_SNUFFING);
  bench_type (&bench, WB_COLUMN_FLAME_MM, "24");
  bench_act (&bench, "page.snuff");
  bench_wait_alight (&bench, 0);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_EVENT), ==, WB_EVENT_SNUFFED);
  g_assert_cmpfloat (wb_app_bench_sample_get_last_min (sample), ==, 240);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_FLAME_MM), ==, 24);

  /* How long it glowed, typed as a time alone. */
  g_assert_cmpint (wb_reading_panel_get_ask (bench_get_panel (&bench)), ==, WB_APP_ASK_AFTER_SNUFFING);
  bench_type (&bench, WB_COLUMN_EVENT_S, "12");
  bench_act (&bench, "page.save");
  test_wait (has_glowed, sample);
  g_assert_true (bench_has_focus (&bench, WB_COLUMN_EVENT_S));
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_EVENT_S), ==, 12);
  g_assert_true (test_enabled (bench.window, "page.close-session"));
  bench_act (&bench, "page.close-session");
  test_settle (bench.window);
  bench_close (&bench);
}

static gboolean
is_caught_up (gpointer user)
{
  return !wb_app_bench_is_behind (((Bench *) user)->bench);
}

static void
test_round (void)
{
  Bench bench;

  bench_open (&bench, 3, "pool_mm,flame_mm,soot");
  bench_light (&bench, "T1", 1);
  bench_advance (&bench, 2);
  bench_light (&bench, "T2", 2);
  bench_advance (&bench, 2);
  bench_light (&bench, "T3", 3);
  bench_advance (&bench, 60);
  bench_act (&bench, "page.next-due");
  g_assert_cmpstr (bench_get_code (&bench), ==, "T1");
  bench_type (&bench, WB_COLUMN_FLAME_MM, "21");
  bench_act (&bench, "page.save");
  /* At once, while the first is on its way. */
  g_assert_cmpstr (bench_get_code (&bench), ==, "T2");
  bench_type (&bench, WB_COLUMN_FLAME_MM, "22");
  bench_act (&bench, "page.save");
  g_assert_cmpstr (bench_get_code (&bench), ==, "T3");
  bench_wait_read (bench_find_sample (&bench, "T1"), 60);
  bench_wait_read (bench_find_sample (&bench, "T2"), 60);
  test_settle (bench.window);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (bench_find_sample (&bench, "T1"), WB_COLUMN_FLAME_MM), ==, 21);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (bench_find_sample (&bench, "T2"), WB_COLUMN_FLAME_MM), ==, 22);
  g_assert_true (isnan (wb_app_bench_sample_get_last (bench_find_sample (&bench, "T3"), WB_COLUMN_FLAME_MM)));
  bench_act (&bench, "page.next-due");
  g_assert_cmpstr (bench_get_code (&bench), ==, "T3");
  /* Enter with nothing typed only goes on. What was saved is passed over until it was read back. */
  test_wait (is_caught_up, &bench);
  test_settle (bench.window);
  g_signal_emit_by_name (bench_get_panel (&bench), "done");
  g_assert_cmpstr (bench_get_code (&bench), ==, "T1");
  bench_close (&bench);
}

/* What was typed for one sample is still there after a look at another. */
static void
test_half_typed (void)
{
  Bench bench;

  bench_open (&bench, 2, "pool_mm,flame_mm,soot");
  bench_light (&bench, "T1", 1);
  bench_light (&bench, "T2", 2);
  bench_choose (&bench, "T1");
  bench_type (&bench, WB_COLUMN_FLAME_MM, "2");
  bench_choose (&bench, "T2");
  g_assert_false (wb_reading_panel_get_touched (bench_get_panel (&bench)));
  bench_advance (&bench, 5);
  bench_choose (&bench, "T1");
  g_assert_true (wb_reading_panel_get_touched (bench_get_panel (&bench)));
  gtk_widget_activate_action (GTK_WIDGET (bench.window), "page.ask", "s", "before-snuffing");
  g_assert_true (wb_reading_panel_get_touched (bench_get_panel (&bench)));
  g_assert_false (wb_page_leave (WB_PAGE (bench.page)));
  bench_close (&bench);
}

/* A panel is given from sample to sample: what was typed for one, and how, is nothing of the next. */
static void
test_given_panel (void)
{
  Bench bench;
  WbReadingPanel *given;
  GtkWidget *note, *time, *pool;

  bench_open (&bench, 2, "pool_mm,flame_mm,soot");
  bench_light (&bench, "T1", 1);
  bench_light (&bench, "T2", 2);
  bench_advance (&bench, 60);
  bench_choose (&bench, "T1");
  given = bench_get_panel (&bench);
  bench_type (&bench, WB_COLUMN_POOL_MM, "41 mm");
  pool = wb_reading_panel_get_field (given, WB_COLUMN_POOL_MM);
  wb_reading_field_ask_two (WB_READING_FIELD (pool));
  bench_type (&bench, WB_COLUMN_FLAME_MM, "22 mm");
  bench_rate (&bench, WB_COLUMN_SOOT, 2);
  bench_rate (&bench, WB_COLUMN_EVENT, WB_EVENT_WICK_LEAN);
  note = test_child (GTK_WIDGET (given), "note");
  gtk_editable_set_text (GTK_EDITABLE (note), "to 3 o'clock");
  time = test_find (test_child (GTK_WIDGET (given), "time"), GTK_TYPE_TEXT);
  gtk_editable_set_text (GTK_EDITABLE (time), "-2");
  bench_act (&bench, "page.save");
  bench_wait_read (bench_find_sample (&bench, "T1"), 58);
  test_settle (bench.window);
  g_assert_cmpstr (bench_get_code (&bench), ==, "T2");
  bench_choose (&bench, "T1");
  bench_choose (&bench, "T2");
  bench_choose (&bench, "T1");
  /* The same widget, and none of what stood in it. */
  g_assert_false (wb_reading_panel_get_touched (bench_get_panel (&bench)));
  g_assert_false (wb_reading_panel_get_touched (given));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (test_child (GTK_WIDGET (given), "note"))), ==, "");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (time)), ==, "");
  g_assert_true (gtk_widget_get_sensitive (GTK_WIDGET (bench_get_panel (&bench))));
  for (WbColumn column = 0; column < WB_N_COLUMNS; column++)
    {
      double values[WB_N_COLUMNS];

      wb_reading_panel_get_values (bench_get_panel (&bench), values);
      g_assert_true (isnan (values[column]));
    }
  g_assert_null (wb_reading_panel_get_field (bench_get_panel (&bench), WB_COLUMN_EVENT_S));
  /* What is typed now is saved of the sample that is shown. */
  bench_choose (&bench, "T2");
  bench_type (&bench, WB_COLUMN_FLAME_MM, "31 mm");
  bench_act (&bench, "page.save");
  bench_wait_read (bench_find_sample (&bench, "T2"), 60);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (bench_find_sample (&bench, "T2"), WB_COLUMN_FLAME_MM), ==, 31);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (bench_find_sample (&bench, "T1"), WB_COLUMN_FLAME_MM), ==, 22);
  test_settle (bench.window);
  bench_close (&bench);
}

static void
test_set_back (void)
{
  Bench bench;
  GtkWidget *time;

  bench_open (&bench, 1, "pool_mm,flame_mm,soot");
  bench_light (&bench, "T1", 1);
  bench_advance (&bench, 30);
  bench_type (&bench, WB_COLUMN_FLAME_MM, "21");
  time = test_child (GTK_WIDGET (bench_get_panel (&bench)), "time");
  gtk_editable_set_text (GTK_EDITABLE (test_find (time, GTK_TYPE_TEXT)), "45 min");
  bench_act (&bench, "page.save");
  /* Before it was lit: refused, and still there. */
  g_assert_true (wb_reading_panel_get_touched (bench_get_panel (&bench)));
  g_assert_true (isnan (wb_app_bench_sample_get_last_min (bench_find_sample (&bench, "T1"))));
  gtk_editable_set_text (GTK_EDITABLE (test_find (time, GTK_TYPE_TEXT)), "-10");
  bench_act (&bench, "page.save");
  bench_wait_read (bench_find_sample (&bench, "T1"), 20);
  g_assert_cmpfloat (wb_app_bench_sample_get_last_min (bench_find_sample (&bench, "T1")), ==, 20);
  bench_close (&bench);
}

static void
press_unhandled (GtkWidget *widget,
                 guint      keyval)
{
  g_assert_false (test_bench_send_key (widget, keyval));
}

/* A digit goes on to the next field; in the last the hand stays until Enter. What is as last time is one key. */
static void
test_keys_of_a_round (void)
{
  Bench bench;
  WbAppBenchSample *sample;

  bench_open (&bench, 1, "pool_mm,smoke,flame_max_mm,soot");
  sample = bench_find_sample (&bench, "T1");
  bench_light (&bench, "T1", 1);
  bench_advance (&bench, 60);
  bench_type (&bench, WB_COLUMN_POOL_MM, "41 mm");
  bench_enter (&bench, WB_COLUMN_POOL_MM);
  bench_press (&bench, WB_COLUMN_SMOKE, GDK_KEY_1);
  /* Nothing was read before: there is nothing to take over. */
  bench_press (&bench, WB_COLUMN_FLAME_MAX_MM, GDK_KEY_equal);
  g_assert_true (bench_has_focus (&bench, WB_COLUMN_FLAME_MAX_MM));
  bench_type (&bench, WB_COLUMN_FLAME_MAX_MM, "2.25 cm");
  bench_enter (&bench, WB_COLUMN_FLAME_MAX_MM);
  bench_press (&bench, WB_COLUMN_SOOT, GDK_KEY_3);
  bench_press (&bench, WB_COLUMN_SOOT, GDK_KEY_2);
  bench_enter (&bench, WB_COLUMN_SOOT);
  bench_wait_read (sample, 60);
  test_settle (bench.window);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_SMOKE), ==, 1);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_SOOT), ==, 2);

  bench_advance (&bench, 60);
  bench_press (&bench, WB_COLUMN_POOL_MM, GDK_KEY_equal);
  bench_press (&bench, WB_COLUMN_SMOKE, GDK_KEY_0);
  bench_press (&bench, WB_COLUMN_FLAME_MAX_MM, GDK_KEY_equal);
  bench_press (&bench, WB_COLUMN_SOOT, GDK_KEY_equal);
  bench_act (&bench, "page.save");
  bench_wait_read (sample, 120);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_POOL_MM), ==, 41);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_SMOKE), ==, 0);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_FLAME_MAX_MM), ==, 22.5);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_SOOT), ==, 2);
  bench_close (&bench);
}

static gboolean
has_noted (gpointer user)
{
  g_auto (GStrv) notes = wb_app_bench_dup_last_notes (user, 5);

  return g_strv_length (notes) == 1;
}

/* The ring at four sides, an event and a note that was noted before, each by a key. */
static void
test_ring_event_and_note (void)
{
  Bench bench;
  WbAppBenchSample *sample;
  GtkWidget *note, *event;

  bench_open (&bench, 1, "pool_mm");
  sample = bench_find_sample (&bench, "T1");
  bench_light (&bench, "T1", 1);
  bench_advance (&bench, 60);
  wb_reading_panel_focus_first (bench_get_panel (&bench));
  bench_press (&bench, WB_COLUMN_POOL_MM, GDK_KEY_r);
  for (guint i = 0; i < 4; i++)
    {
      GtkWidget *focus = gtk_root_get_focus (GTK_ROOT (bench.window));
      g_autofree char *text = g_strdup_printf ("%u", 3 + i);

      gtk_editable_set_text (GTK_EDITABLE (focus), text);
      if (i < 3)
        g_signal_emit_by_name (focus, "activate");
    }
  bench_act (&bench, "page.event");
  event = gtk_root_get_focus (GTK_ROOT (bench.window));
  g_assert_nonnull (gtk_widget_get_ancestor (event, GTK_TYPE_POPOVER));
  bench_press_at (event, GDK_KEY_b);
  g_assert_true (bench_has_focus (&bench, WB_COLUMN_EVENT));
  bench_act (&bench, "page.note");
  note = gtk_root_get_focus (GTK_ROOT (bench.window));
  gtk_editable_set_text (GTK_EDITABLE (note), "wick leans to 3 o'clock");
  bench_act (&bench, "page.save");
  bench_wait_read (sample, 60);
  test_wait (has_noted, bench.bench);
  test_settle (bench.window);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_RING_12_MM), ==, 3);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_RING_9_MM), ==, 6);
  g_assert_true (isnan (wb_app_bench_sample_get_last (sample, WB_COLUMN_POOL_MM)));
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_EVENT), ==, WB_EVENT_BLACK_SMOKE);

  bench_choose (&bench, "T1");
  bench_act (&bench, "page.note");
  note = gtk_root_get_focus (GTK_ROOT (bench.window));
  /* A digit that stands for nothing is typed. */
  press_unhandled (note, GDK_KEY_2);
  bench_press_at (note, GDK_KEY_1);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (note)), ==, "wick leans to 3 o'clock");
  press_unhandled (note, GDK_KEY_1);
  bench_close (&bench);
}

/* Saved, and not read back: the bench has it alight still. A quick hand comes in between. */
static void
test_snuff_before_it_is_read_back (void)
{
  Bench bench;
  WbAppBenchSample *first;

  bench_open (&bench, 3, "pool_mm,soot");
  for (guint i = 1; i <= 3; i++)
    {
      g_autofree char *code = g_strdup_printf ("T%u", i);

      bench_light (&bench, code, i);
      bench_advance (&bench, 2);
    }
  bench_choose (&bench, "T1");
  first = bench_find_sample (&bench, "T1");
  bench_act (&bench, "page.snuff");
  g_assert_cmpstr (bench_get_code (&bench), ==, "T2");
  while (wb_reading_stack_is_saving (bench.stack, wb_app_bench_sample_get_id (first)))
    g_main_context_iteration (NULL, TRUE);
  g_assert_true (wb_app_bench_is_behind (bench.bench));
  g_assert_cmpint (wb_app_bench_sample_get_state (first), ==, WB_APP_BENCH_ALIGHT);
  bench_act (&bench, "page.snuff");
  g_assert_cmpstr (bench_get_code (&bench), ==, "T3");
  bench_wait_alight (&bench, 1);
  /* What is not read back yet would be passed over. */
  test_wait (is_caught_up, &bench);
  test_settle (bench.window);
  bench_act (&bench, "page.snuff");
  g_assert_cmpstr (bench_get_code (&bench), ==, "T1");
  bench_wait_alight (&bench, 0);
  bench_close (&bench);
}

/* Lit from whatever is asked, unless something typed for the burn before would go with it; each snuff goes on to the next flame. */
static void
test_light_and_snuff_go_on (void)
{
  Bench bench;

  bench_open (&bench, 3, "pool_mm,soot");
  for (guint i = 1; i <= 3; i++)
    {
      g_autofree char *code = g_strdup_printf ("T%u", i);

      bench_light (&bench, code, i);
      bench_advance (&bench, 2);
    }
  /* The last is lit: the first is due first. */
  g_assert_cmpstr (bench_get_code (&bench), ==, "T1");
  g_assert_true (bench_has_focus (&bench, WB_COLUMN_POOL_MM));
  bench_advance (&bench, 240);
  bench_choose (&bench, "T2");
  bench_act (&bench, "page.snuff");
  g_assert_cmpstr (bench_get_code (&bench), ==, "T1");
  bench_wait_alight (&bench, 2);
  bench_advance (&bench, 1);
  bench_act (&bench, "page.snuff");
  g_assert_cmpstr (bench_get_code (&bench), ==, "T3");
  bench_wait_alight (&bench, 1);
  bench_act (&bench, "page.snuff");
  g_assert_cmpstr (bench_get_code (&bench), ==, "T1");
  bench_wait_alight (&bench, 0);
  g_assert_cmpfloat (wb_app_bench_sample_get_last_min (bench_find_sample (&bench, "T1")), ==, 247);
  g_assert_true (bench_has_focus (&bench, WB_COLUMN_EVENT_S));

  bench_advance (&bench, 8 * 60);
  bench_choose (&bench, "T3");
  g_assert_cmpint (wb_reading_panel_get_ask (bench_get_panel (&bench)), ==, WB_APP_ASK_NEXT_DAY);
  bench_type (&bench, WB_COLUMN_MASS_G, "401");
  bench_act (&bench, "page.light");
  /* It says why it does not light. */
  g_assert_nonnull (bench_find_question ());
  bench_respond (GTK_RESPONSE_CLOSE);
  g_assert_cmpuint (wb_app_bench_get_alight (bench.bench), ==, 0);
  bench_type (&bench, WB_COLUMN_MASS_G, "");
  bench_act (&bench, "page.light");
  /* Where it is past the 22:30 that was said, somebody else stays now. */
  if (test_find_window (WB_TYPE_BENCH_CHECK) != NULL)
    bench_answer_check ();
  bench_wait_alight (&bench, 1);
  g_assert_cmpint (wb_app_bench_sample_get_state (bench_find_sample (&bench, "T3")), ==, WB_APP_BENCH_ALIGHT);
  bench_close (&bench);
}

/* It rises under a key that is down: that key does nothing to it, however long it is held; the next one counts. */
static void
test_check_swallows (void)
{
  Bench bench;
  WbBenchCheck *check;

  bench_open (&bench, 1, "flame_mm");
  bench_choose (&bench, "T1");
  bench_act (&bench, "page.light");
  check = WB_BENCH_CHECK (test_find_window (WB_TYPE_BENCH_CHECK));
  g_assert_nonnull (check);
  for (guint i = 0; i < 40; i++)
    g_assert_true (wb_bench_check_swallow (check, TRUE));
  g_assert_true (wb_bench_check_swallow (check, FALSE));
  g_assert_false (wb_bench_check_swallow (check, TRUE));
  g_assert_false (wb_bench_check_swallow (check, FALSE));
  gtk_window_destroy (GTK_WINDOW (check));
  /* Raised by the pointer and read: the first key is meant. */
  test_settle (bench.window);
  bench_act (&bench, "page.light");
  check = WB_BENCH_CHECK (test_find_window (WB_TYPE_BENCH_CHECK));
  g_usleep (900 * 1000);
  g_assert_false (wb_bench_check_swallow (check, TRUE));
  gtk_window_destroy (GTK_WINDOW (check));
  bench_close (&bench);
}

void
test_burn_round_add (void)
{
  g_test_add_func ("/views/burn/the-first-light-asks-the-check", test_check_before_the_first_light);
  g_test_add_func ("/views/burn/past-the-stated-end-another-light-asks-who-stays", test_past_the_stay);
  g_test_add_func ("/views/burn/light-read-snuff", test_light_read_snuff);
  g_test_add_func ("/views/burn/a-round-goes-by-what-is-due", test_round);
  g_test_add_func ("/views/burn/a-digit-goes-on-and-a-key-takes-the-last-value", test_keys_of_a_round);
  g_test_add_func ("/views/burn/a-ring-an-event-and-a-note-by-keys", test_ring_event_and_note);
  g_test_add_func ("/views/burn/light-and-snuff-go-on", test_light_and_snuff_go_on);
  g_test_add_func ("/views/burn/a-quick-snuff-passes-over-what-is-out", test_snuff_before_it_is_read_back);
  g_test_add_func ("/views/burn/going-from-sample-to-sample-loses-nothing", test_half_typed);
  g_test_add_func ("/views/burn/a-panel-is-given-on-empty", test_given_panel);
  g_test_add_func ("/views/burn/a-reading-can-be-set-back", test_set_back);
  g_test_add_func ("/views/burn/a-key-that-is-held-answers-no-check", test_check_swallows);
}
