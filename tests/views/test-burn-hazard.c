/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-page.h"

#include "wb-app-query.h"
#include "wb-bench-words.h"
#include "wb-calm-bin.h"

#include <glib/gstdio.h>

/* What is told of a limit at the bench, who answers it, and when it goes. */

static void
test_limit (void)
{
  Bench bench;
  WbHazardBar *bar;

  bench_open (&bench, 1, "pool_mm,flame_mm,soot");
  bar = wb_burn_page_get_hazard (bench.page);
  bench_light (&bench, "T1", 1);
  bench_type (&bench, WB_COLUMN_FLAME_MM, "40");
  bench_enter (&bench, WB_COLUMN_FLAME_MM);
  /* House: asked from 38 mm, stopped above 50 mm; told before anything is saved. */
  g_assert_cmpuint (wb_hazard_bar_get_n_open (bar), ==, 1);
  bench_act (&bench, "page.seen-to");
  g_assert_false (test_enabled (bench.window, "page.seen-to"));
  g_assert_cmpuint (wb_hazard_bar_get_n_open (bar), ==, 0);
  bench_enter (&bench, WB_COLUMN_FLAME_MM);
  g_assert_cmpuint (wb_hazard_bar_get_n_open (bar), ==, 0);
  bench_type (&bench, WB_COLUMN_FLAME_MM, "52");
  bench_enter (&bench, WB_COLUMN_FLAME_MM);
  g_assert_cmpuint (wb_hazard_bar_get_n_open (bar), ==, 1);
  g_assert_nonnull (strstr (wb_hazard_bar_get_advice (bar), "long tool"));
  gtk_test_accessible_assert_role (bar, GTK_ACCESSIBLE_ROLE_ALERT);
  bench_act (&bench, "page.save");
  bench_wait_read (bench_find_sample (&bench, "T1"), 0);
  test_settle (bench.window);
  /* It stays until it is answered. */
  g_assert_cmpuint (wb_hazard_bar_get_n_open (bar), ==, 1);
  g_assert_true (wb_app_bench_sample_get_over (bench_find_sample (&bench, "T1")));
  /* Fire comes first, and has words of its own; one answer is enough for one candle. */
  bench_rate (&bench, WB_COLUMN_EVENT, WB_EVENT_SECONDARY_IGNITION);
  g_assert_cmpuint (wb_hazard_bar_get_n_open (bar), ==, 1);
  g_assert_nonnull (strstr (wb_hazard_bar_get_advice (bar), "metal lid"));
  wb_hazard_bar_answer (bar, TRUE);
  g_assert_cmpuint (wb_hazard_bar_get_n_open (bar), ==, 0);
  bench_wait_alight (&bench, 0);
  bench_close (&bench);
}

/* The same notebook in a new window, as after a restart. */
static void
bench_reopen (Bench *bench)
{
  gint64 experiment = wb_page_get_experiment (WB_PAGE (bench->page));
  g_autoptr (WbAppNotebook) notebook = NULL;
  g_autoptr (GError) error = NULL;

  test_window_destroy (bench->window);
  notebook = wb_app_notebook_open_sync (bench->path, WB_APP_OPEN_EXISTING, NULL, &error);
  g_assert_no_error (error);
  bench->window = test_window_new ();
  wb_window_set_notebook (bench->window, notebook);
  test_settle (bench->window);
  g_assert_true (wb_window_go (bench->window, "burn", experiment));
  bench_take (bench);
}

static guint
count_open (Bench *bench)
{
  return wb_hazard_bar_get_n_open (wb_burn_page_get_hazard (bench->page));
}

static const char *
get_note (Bench *bench)
{
  const char *note = wb_app_bench_sample_get_last_text (bench_find_sample (bench, "T1"), WB_READING_TEXT_NOTE);

  return note != NULL ? note : "";
}

static gboolean
is_noted (gpointer bench)
{
  return strstr (get_note (bench), "Seen to:") != NULL;
}

/* From 30 mm to 44 mm in an hour: told before it is saved, that the next hour may pass the house's 50 mm; it waits for its answer. */
static void
test_trend (void)
{
  Bench bench;
  WbHazardBar *bar;

  bench_open (&bench, 1, "pool_mm,flame_mm,soot");
  bar = wb_burn_page_get_hazard (bench.page);
  bench_light (&bench, "T1", 1);
  bench_advance (&bench, 60);
  bench_type (&bench, WB_COLUMN_FLAME_MM, "30");
  bench_act (&bench, "page.save");
  bench_wait_read (bench_find_sample (&bench, "T1"), 60);
  test_settle (bench.window);
  bench_advance (&bench, 60);
  bench_type (&bench, WB_COLUMN_FLAME_MM, "44");
  bench_enter (&bench, WB_COLUMN_FLAME_MM);
  g_assert_nonnull (strstr (wb_hazard_bar_get_text (bar), "may pass the house limit"));
  g_assert_nonnull (strstr (wb_hazard_bar_get_advice (bar), "Read it again at"));
  bench_act (&bench, "page.save");
  bench_wait_read (bench_find_sample (&bench, "T1"), 120);
  test_settle (bench.window);
  g_assert_cmpuint (wb_hazard_bar_get_n_open (bar), ==, 1);
  g_assert_cmpint (wb_bench_words_get_mood (bench_find_sample (&bench, "T1")), ==, WB_BENCH_MOOD_NEAR);
  g_assert_true (wb_app_bench_is_unanswered (bench_find_sample (&bench, "T1")));
  bench_act (&bench, "page.seen-to");
  test_wait (is_noted, &bench);
  test_settle (bench.window);
  g_assert_cmpuint (wb_hazard_bar_get_n_open (bar), ==, 0);
  bench_close (&bench);
}

/* A flame over the limit and a later climb are both asked; the climb's question goes with the next look, the other one stays. */
static void
test_trend_beside_a_crossing (void)
{
  Bench bench;
  WbHazardBar *bar;

  bench_open (&bench, 1, "pool_mm,flame_mm,soot");
  bar = wb_burn_page_get_hazard (bench.page);
  bench_light (&bench, "T1", 1);
  bench_read_flame_after (&bench, 60, "55", 60);
  bench_read_flame_after (&bench, 60, "20", 120);
  bench_read_flame_after (&bench, 60, "37", 180);
  g_assert_nonnull (strstr (wb_hazard_bar_get_text (bar), "over the house limit"));
  g_assert_nonnull (strstr (wb_hazard_bar_get_more (bar), "may pass the house limit"));
  bench_read_flame_after (&bench, 12, "25", 192);
  g_assert_nonnull (strstr (wb_hazard_bar_get_text (bar), "55.0"));
  g_assert_null (strstr (wb_hazard_bar_get_more (bar), "may pass"));
  bench_act (&bench, "page.seen-to");
  test_wait (is_noted, &bench);
  test_settle (bench.window);
  g_assert_cmpuint (wb_hazard_bar_get_n_open (bar), ==, 0);
  bench_close (&bench);
}

static gboolean
is_not_noted (gpointer bench)
{
  return !is_noted (bench);
}

static void
save_hot_reading (Bench *bench)
{
  WbAppBenchSample *sample = bench_find_sample (bench, "T1");

  bench_advance (bench, 60);
  bench_type (bench, WB_COLUMN_FLAME_MM, "52");
  bench_type (bench, WB_COLUMN_VESSEL_C, "80");
  bench_enter (bench, WB_COLUMN_FLAME_MM);
  bench_act (bench, "page.save");
  bench_wait_read (sample, 60);
  test_settle (bench->window);
}

/* Two limits in one reading are one question; answered while it is typed, the answer is saved with the reading. */
static void
test_one_question (void)
{
  Bench bench;
  WbHazardBar *bar;

  bench_open (&bench, 1, "pool_mm,flame_mm,vessel_c");
  bar = wb_burn_page_get_hazard (bench.page);
  bench_light (&bench, "T1", 1);
  bench_type (&bench, WB_COLUMN_VESSEL_C, "80");
  bench_type (&bench, WB_COLUMN_FLAME_MM, "52");
  bench_enter (&bench, WB_COLUMN_FLAME_MM);
  g_assert_cmpuint (wb_hazard_bar_get_n_open (bar), ==, 1);
  wb_hazard_bar_answer (bar, FALSE);
  g_assert_cmpuint (wb_hazard_bar_get_n_open (bar), ==, 0);
  save_hot_reading (&bench);
  g_assert_cmpuint (wb_hazard_bar_get_n_open (bar), ==, 0);
  g_assert_true (is_noted (&bench));
  bench_reopen (&bench);
  g_assert_cmpuint (count_open (&bench), ==, 0);
  bench_close (&bench);
}

/* The button of that label in the bar; borrowed. */
static GtkWidget *
find_bar_button (GtkWidget  *bar,
                 const char *label)
{
  for (GtkWidget *child = gtk_widget_get_first_child (gtk_widget_get_first_child (bar)); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    if (GTK_IS_BUTTON (child) && g_strcmp0 (gtk_button_get_label (GTK_BUTTON (child)), label) == 0)
      return child;
  g_assert_not_reached ();
}

/* Two candles too hot, one double click: the second question had nobody's answer. */
static void
test_double_click (void)
{
  static const char *const codes[] = { "T1", "T2" };
  Bench bench;
  WbHazardBar *bar;
  GtkWidget *seen;

  bench_open (&bench, 2, "pool_mm,flame_mm,vessel_c");
  bar = wb_burn_page_get_hazard (bench.page);
  bench_light (&bench, "T1", 1);
  bench_light (&bench, "T2", 2);
  bench_advance (&bench, 60);
  for (guint i = 0; i < G_N_ELEMENTS (codes); i++)
    {
      bench_choose (&bench, codes[i]);
      bench_type (&bench, WB_COLUMN_VESSEL_C, "80");
      bench_act (&bench, "page.save");
      bench_wait_read (bench_find_sample (&bench, codes[i]), 60);
      test_settle (bench.window);
    }
  g_assert_cmpuint (wb_hazard_bar_get_n_open (bar), ==, 2);
  seen = find_bar_button (GTK_WIDGET (bar), "I have seen to it");
  /* so long that the first question can have been read */
  g_usleep (900 * 1000);
  g_signal_emit_by_name (seen, "clicked");
  g_signal_emit_by_name (seen, "clicked");
  g_assert_cmpuint (wb_hazard_bar_get_n_open (bar), ==, 1);
  test_settle (bench.window);
  bench_close (&bench);
}

/* Two flames are due and the first is over a limit: the hand stays at it until it is snuffed or seen to, then the round goes on. */
static void
test_hand_stays_at_a_hazard (void)
{
  for (guint seen = 0; seen < 2; seen++)
    {
      Bench bench;

      bench_open (&bench, 2, "pool_mm,flame_mm,vessel_c");
      bench_light (&bench, "T1", 1);
      bench_light (&bench, "T2", 2);
      bench_advance (&bench, 60);
      bench_choose (&bench, "T1");
      bench_type (&bench, WB_COLUMN_FLAME_MM, "60");
      bench_act (&bench, "page.save");
      g_assert_cmpstr (bench_get_code (&bench), ==, "T1");
      bench_wait_read (bench_find_sample (&bench, "T1"), 60);
      test_settle (bench.window);
      g_assert_cmpstr (bench_get_code (&bench), ==, "T1");
      bench_act (&bench, seen ? "page.seen-to" : "page.snuff");
      g_assert_cmpstr (bench_get_code (&bench), ==, "T2");
      if (!seen)
        {
          bench_wait_alight (&bench, 1);
          g_assert_cmpint (wb_app_bench_sample_get_state (bench_find_sample (&bench, "T2")), ==, WB_APP_BENCH_ALIGHT);
        }
      else
        test_wait (is_noted, &bench);
      test_settle (bench.window);
      bench_close (&bench);
    }
}

/* Enter in the last field saves: whoever answers while that lasts is not asked again. */
static void
test_answer_while_saving (void)
{
  Bench bench;

  bench_open (&bench, 1, "flame_mm");
  bench_light (&bench, "T1", 1);
  bench_advance (&bench, 60);
  bench_type (&bench, WB_COLUMN_FLAME_MM, "52");
  bench_enter (&bench, WB_COLUMN_FLAME_MM);
  g_assert_cmpint (wb_reading_panel_get_saving (bench_get_panel (&bench)), ==, WB_SAVE_SAVING);
  g_assert_cmpuint (count_open (&bench), ==, 1);
  wb_hazard_bar_answer (wb_burn_page_get_hazard (bench.page), FALSE);
  test_wait (is_noted, &bench);
  test_settle (bench.window);
  g_assert_cmpuint (count_open (&bench), ==, 0);
  bench_close (&bench);
}

/* Types a flame over the house's 50 mm and saves it; the answer to it is given while that is on its way. */
static void
answer_while_saving (Bench   *bench,
                     gboolean out)
{
  bench_type (bench, WB_COLUMN_FLAME_MM, "52");
  bench_enter (bench, WB_COLUMN_FLAME_MM);
  bench_act (bench, "page.save");
  g_assert_cmpint (wb_reading_panel_get_saving (bench_get_panel (bench)), ==, WB_SAVE_SAVING);
  g_assert_cmpuint (count_open (bench), ==, 1);
  wb_hazard_bar_answer (wb_burn_page_get_hazard (bench->page), out);
  g_assert_cmpuint (count_open (bench), ==, 0);
}

/* Where that reading is not saved, its answer goes with what was typed, and with nothing else. */
static void
test_answer_of_what_failed (void)
{
  for (guint corrected = 0; corrected < 2; corrected++)
    {
      Bench bench;
      g_autofree char *elsewhere = test_path ("elsewhere-answer.wickbench");

      bench_open (&bench, 1, "flame_mm,vessel_c");
      bench_light (&bench, "T1", 1);
      bench_advance (&bench, 60);
      g_assert_cmpint (g_rename (bench.path, elsewhere), ==, 0);
      answer_while_saving (&bench, FALSE);
      test_wait (bench_has_failed, &bench);
      g_assert_cmpint (g_rename (elsewhere, bench.path), ==, 0);
      if (corrected)
        bench_type (&bench, WB_COLUMN_FLAME_MM, "25");
      bench_act (&bench, "page.save");
      bench_wait_read (bench_find_sample (&bench, "T1"), 60);
      test_settle (bench.window);
      g_assert_cmpint (is_noted (&bench), ==, !corrected);
      g_assert_cmpuint (count_open (&bench), ==, 0);
      /* An hour later the wall is hot, and nobody answers: House, stopped above 77 °C. */
      bench_advance (&bench, 60);
      bench_type (&bench, WB_COLUMN_VESSEL_C, "90");
      bench_act (&bench, "page.save");
      bench_wait_read (bench_find_sample (&bench, "T1"), 120);
      test_settle (bench.window);
      g_assert_cmpuint (count_open (&bench), ==, 1);
      g_assert_null (strstr (get_note (&bench), "vessel"));
      g_assert_cmpint (is_noted (&bench), ==, !corrected);
      bench_close (&bench);
    }
}

/* In one panel, too, what was answered before is no answer to what is typed then. */
static void
test_answer_of_what_was_corrected (void)
{
  Bench bench;

  bench_open (&bench, 1, "flame_mm,vessel_c");
  bench_light (&bench, "T1", 1);
  bench_advance (&bench, 60);
  bench_type (&bench, WB_COLUMN_FLAME_MM, "52");
  bench_enter (&bench, WB_COLUMN_FLAME_MM);
  wb_hazard_bar_answer (wb_burn_page_get_hazard (bench.page), FALSE);
  bench_type (&bench, WB_COLUMN_FLAME_MM, "25");
  bench_type (&bench, WB_COLUMN_VESSEL_C, "90");
  bench_act (&bench, "page.save");
  bench_wait_read (bench_find_sample (&bench, "T1"), 60);
  test_settle (bench.window);
  g_assert_false (is_noted (&bench));
  g_assert_cmpuint (count_open (&bench), ==, 1);
  bench_close (&bench);
}

/* That it is out is noted after the reading; where that fails, it is asked again, and the next try saves both. */
static void
test_out_while_saving (void)
{
  for (guint fails = 0; fails < 2; fails++)
    {
      Bench bench;
      g_autofree char *elsewhere = test_path ("elsewhere-out.wickbench");

      bench_open (&bench, 1, "flame_mm,vessel_c");
      bench_light (&bench, "T1", 1);
      bench_advance (&bench, 60);
      if (fails)
        g_assert_cmpint (g_rename (bench.path, elsewhere), ==, 0);
      answer_while_saving (&bench, TRUE);
      if (fails)
        {
          test_wait (bench_has_failed, &bench);
          g_assert_cmpint (g_rename (elsewhere, bench.path), ==, 0);
          test_settle (bench.window);
          g_assert_cmpuint (count_open (&bench), ==, 1);
          g_assert_cmpuint (wb_app_bench_get_alight (bench.bench), ==, 1);
          g_assert_nonnull (strstr (wb_hazard_bar_get_more (wb_burn_page_get_hazard (bench.page)), "Not saved that it is out"));
          wb_hazard_bar_answer (wb_burn_page_get_hazard (bench.page), TRUE);
        }
      bench_wait_alight (&bench, 0);
      g_assert_cmpfloat (wb_app_bench_sample_get_last (bench_find_sample (&bench, "T1"), WB_COLUMN_EVENT), ==, WB_EVENT_SNUFFED);
      g_assert_cmpfloat (wb_app_bench_sample_get_last (bench_find_sample (&bench, "T1"), WB_COLUMN_FLAME_MM), ==, 52);
      g_assert_cmpuint (count_open (&bench), ==, 0);
      bench_close (&bench);
    }
}

/* A field that holds something wrong keeps the end back: the hazard stays, and says so. */
static void
test_out_beside_a_wrong_field (void)
{
  Bench bench;

  bench_open (&bench, 1, "flame_mm,vessel_c");
  bench_light (&bench, "T1", 1);
  bench_type (&bench, WB_COLUMN_VESSEL_C, "hot");
  bench_type (&bench, WB_COLUMN_FLAME_MM, "52");
  bench_enter (&bench, WB_COLUMN_FLAME_MM);
  wb_hazard_bar_answer (wb_burn_page_get_hazard (bench.page), TRUE);
  g_assert_cmpuint (count_open (&bench), ==, 1);
  g_assert_true (bench_has_focus (&bench, WB_COLUMN_VESSEL_C));
  g_assert_nonnull (strstr (wb_hazard_bar_get_more (wb_burn_page_get_hazard (bench.page)), "a field is wrong"));
  bench_type (&bench, WB_COLUMN_VESSEL_C, "");
  wb_hazard_bar_answer (wb_burn_page_get_hazard (bench.page), TRUE);
  bench_wait_alight (&bench, 0);
  g_assert_cmpuint (count_open (&bench), ==, 0);
  bench_close (&bench);
}

/* What nobody answered comes back after a restart, until somebody does: the answer is in the record, and its undo asks anew. */
static void
test_unanswered_comes_back (void)
{
  Bench bench;

  bench_open (&bench, 1, "pool_mm,flame_mm,vessel_c");
  bench_light (&bench, "T1", 1);
  save_hot_reading (&bench);
  g_assert_cmpuint (count_open (&bench), ==, 1);
  bench_reopen (&bench);
  g_assert_cmpuint (count_open (&bench), ==, 1);
  wb_hazard_bar_answer (wb_burn_page_get_hazard (bench.page), FALSE);
  test_wait (is_noted, &bench);
  g_assert_cmpuint (count_open (&bench), ==, 0);
  bench_reopen (&bench);
  g_assert_cmpuint (count_open (&bench), ==, 0);
  bench_act (&bench, "win.undo");
  test_wait (is_not_noted, &bench);
  test_settle (bench.window);
  g_assert_cmpuint (count_open (&bench), ==, 1);
  bench_close (&bench);
}

/* A calm reading later answers nothing, nor does a restart: the answer goes to the reading that was hot. */
static void
test_calm_is_no_answer (void)
{
  Bench bench;

  bench_open (&bench, 1, "pool_mm,flame_mm,vessel_c");
  bench_light (&bench, "T1", 1);
  save_hot_reading (&bench);
  bench_advance (&bench, 60);
  bench_type (&bench, WB_COLUMN_FLAME_MM, "25");
  bench_act (&bench, "page.save");
  bench_wait_read (bench_find_sample (&bench, "T1"), 120);
  test_settle (bench.window);
  g_assert_cmpuint (count_open (&bench), ==, 1);
  bench_reopen (&bench);
  g_assert_cmpuint (count_open (&bench), ==, 1);
  wb_hazard_bar_answer (wb_burn_page_get_hazard (bench.page), FALSE);
  test_wait (is_noted, &bench);
  test_settle (bench.window);
  g_assert_cmpuint (count_open (&bench), ==, 0);
  bench_reopen (&bench);
  g_assert_cmpuint (count_open (&bench), ==, 0);
  bench_close (&bench);
}

/* A candle that is out is over no limit; a number that was typed wrong and corrected never was. */
static void
test_hazard_goes_with_the_flame (void)
{
  Bench bench;

  bench_open (&bench, 1, "pool_mm,flame_mm,vessel_c");
  bench_light (&bench, "T1", 1);
  bench_type (&bench, WB_COLUMN_FLAME_MM, "520 mm");
  bench_enter (&bench, WB_COLUMN_FLAME_MM);
  bench_type (&bench, WB_COLUMN_FLAME_MM, "52");
  bench_enter (&bench, WB_COLUMN_FLAME_MM);
  g_assert_cmpuint (count_open (&bench), ==, 1);
  bench_type (&bench, WB_COLUMN_FLAME_MM, "25");
  bench_enter (&bench, WB_COLUMN_FLAME_MM);
  g_assert_cmpuint (count_open (&bench), ==, 0);
  save_hot_reading (&bench);
  g_assert_cmpuint (count_open (&bench), ==, 1);
  bench_act (&bench, "page.snuff");
  bench_wait_alight (&bench, 0);
  g_assert_cmpuint (count_open (&bench), ==, 0);
  bench_close (&bench);
}

/* Told one after the other while one reading is typed, or both at once: its note names each, the worst first. */
static void
test_note_names_each (void)
{
  for (guint together = 0; together < 2; together++)
    {
      Bench bench;
      WbHazardBar *bar;
      const char *flame, *wall;

      bench_open (&bench, 1, "vessel_c,flame_mm,pool_mm");
      bar = wb_burn_page_get_hazard (bench.page);
      bench_light (&bench, "T1", 1);
      bench_advance (&bench, 60);
      bench_type (&bench, WB_COLUMN_VESSEL_C, "80");
      if (!together)
        {
          bench_enter (&bench, WB_COLUMN_VESSEL_C);
          wb_hazard_bar_answer (bar, FALSE);
        }
      bench_type (&bench, WB_COLUMN_FLAME_MM, "52");
      bench_enter (&bench, WB_COLUMN_FLAME_MM);
      wb_hazard_bar_answer (bar, FALSE);
      g_assert_cmpuint (wb_hazard_bar_get_n_open (bar), ==, 0);
      bench_act (&bench, "page.save");
      bench_wait_read (bench_find_sample (&bench, "T1"), 60);
      test_settle (bench.window);
      flame = strstr (get_note (&bench), "flame height 52");
      wall = strstr (get_note (&bench), "wall of the vessel 80");
      g_test_message ("%s", get_note (&bench));
      g_assert_nonnull (flame);
      g_assert_nonnull (wall);
      bench_close (&bench);
    }
}

static void
read_cb (GObject      *source,
         GAsyncResult *result,
         gpointer      done)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (wb_app_bench_finish (WB_APP_BENCH (source), result, &error));
  g_assert_no_error (error);
  *(gboolean *) done = TRUE;
}

/* T1 alight for an hour, then that is read of it and saved. */
static void
light_and_read_event (Bench  *bench,
                      WbEvent event)
{
  g_autoptr (WbRecord) reading = wb_record_new (&wb_reading_type);
  gboolean done = FALSE;

  bench_open (bench, 1, "pool_mm,flame_mm");
  bench_light (bench, "T1", 1);
  bench_advance (bench, 60);
  ((WbReading *) reading)->values[WB_COLUMN_EVENT] = event;
  wb_app_bench_read_async (bench->bench, wb_app_bench_sample_get_id (bench_find_sample (bench, "T1")), (WbReading *) reading, NULL,
                           read_cb, &done);
  test_wait (test_is_true, &done);
  bench_wait_read (bench_find_sample (bench, "T1"), 60);
  test_settle (bench->window);
  g_assert_cmpuint (count_open (bench), ==, 1);
}

static gboolean
is_event_noted (gpointer bench)
{
  g_autoptr (GPtrArray) readings = wb_app_query_list_sync (test_notebook (((Bench *) bench)->window), &wb_reading_type, NULL);

  for (guint i = 0; i < readings->len; i++)
    {
      const WbReading *reading = g_ptr_array_index (readings, i);

      if (reading->elapsed_min == 60 && reading->note != NULL && strstr (reading->note, "Seen to:") != NULL)
        return TRUE;
    }
  return FALSE;
}

static gboolean
is_answered (gpointer bench)
{
  return !wb_app_bench_is_unanswered (bench_find_sample (bench, "T1"));
}

/* Fire that nobody answered is asked of whoever opens the notebook next, and the answer stands in the record. */
static void
test_fire_comes_back (void)
{
  Bench bench;

  light_and_read_event (&bench, WB_EVENT_SECONDARY_IGNITION);
  bench_act (&bench, "page.snuff");
  bench_wait_alight (&bench, 0);
  test_settle (bench.window);
  g_assert_cmpuint (count_open (&bench), ==, 1);
  bench_reopen (&bench);
  g_assert_cmpuint (count_open (&bench), ==, 1);
  wb_hazard_bar_answer (wb_burn_page_get_hazard (bench.page), FALSE);
  test_wait (is_event_noted, &bench);
  test_wait (is_answered, &bench);
  test_settle (bench.window);
  g_assert_cmpuint (count_open (&bench), ==, 0);
  bench_reopen (&bench);
  g_assert_cmpuint (count_open (&bench), ==, 0);
  bench_close (&bench);
}

/* "It is out now" is no end of broken glass: that it was seen to is noted with it, and nothing is asked twice. */
static void
test_glass_and_out (void)
{
  Bench bench;

  light_and_read_event (&bench, WB_EVENT_VESSEL_CRACK);
  wb_hazard_bar_answer (wb_burn_page_get_hazard (bench.page), TRUE);
  bench_wait_alight (&bench, 0);
  test_wait (is_event_noted, &bench);
  test_wait (is_answered, &bench);
  test_settle (bench.window);
  g_assert_cmpuint (count_open (&bench), ==, 0);
  bench_close (&bench);
}

/* It is told while the pointer's button is down: nothing moves before the button is let go. */
static void
test_calm (void)
{
  Bench bench;
  WbCalmBin *bin;
  int held, free;

  bench_open (&bench, 1, "flame_mm,pool_mm");
  bench_light (&bench, "T1", 1);
  bin = WB_CALM_BIN (test_find (GTK_WIDGET (bench.page), WB_TYPE_CALM_BIN));
  wb_calm_bin_hold (bin);
  bench_type (&bench, WB_COLUMN_FLAME_MM, "52");
  bench_enter (&bench, WB_COLUMN_FLAME_MM);
  g_assert_true (gtk_widget_get_visible (GTK_WIDGET (wb_burn_page_get_hazard (bench.page))));
  gtk_widget_measure (GTK_WIDGET (bin), GTK_ORIENTATION_VERTICAL, 700, NULL, &held, NULL, NULL);
  g_assert_cmpint (held, ==, 0);
  wb_calm_bin_let_go (bin);
  gtk_widget_measure (GTK_WIDGET (bin), GTK_ORIENTATION_VERTICAL, 700, NULL, &free, NULL, NULL);
  g_assert_cmpint (free, >, 0);
  bench_close (&bench);
}

void
test_burn_hazard_add (void)
{
  g_test_add_func ("/views/burn/the-hand-stays-at-what-is-over-a-limit", test_hand_stays_at_a_hazard);
  g_test_add_func ("/views/burn/a-limit-says-at-once-what-to-do", test_limit);
  g_test_add_func ("/views/burn/one-question-and-one-answer-for-one-reading", test_one_question);
  g_test_add_func ("/views/burn/an-answer-while-the-reading-is-saved-is-kept", test_answer_while_saving);
  g_test_add_func ("/views/burn/an-answer-goes-with-what-could-not-be-saved", test_answer_of_what_failed);
  g_test_add_func ("/views/burn/an-answer-goes-with-what-was-corrected", test_answer_of_what_was_corrected);
  g_test_add_func ("/views/burn/that-it-is-out-is-noted-after-the-reading", test_out_while_saving);
  g_test_add_func ("/views/burn/that-it-is-out-waits-for-a-wrong-field", test_out_beside_a_wrong_field);
  g_test_add_func ("/views/burn/a-double-click-answers-one-question", test_double_click);
  g_test_add_func ("/views/burn/a-trend-is-told-before-the-limit", test_trend);
  g_test_add_func ("/views/burn/a-trend-and-a-crossing-are-two-questions", test_trend_beside_a_crossing);
  g_test_add_func ("/views/burn/a-hazard-that-nobody-answered-comes-back", test_unanswered_comes_back);
  g_test_add_func ("/views/burn/fire-that-nobody-answered-comes-back-when-it-is-out", test_fire_comes_back);
  g_test_add_func ("/views/burn/broken-glass-is-noted-with-the-end", test_glass_and_out);
  g_test_add_func ("/views/burn/a-calm-reading-later-is-no-answer", test_calm_is_no_answer);
  g_test_add_func ("/views/burn/a-hazard-goes-with-the-flame-and-with-a-typing-error", test_hazard_goes_with_the_flame);
  g_test_add_func ("/views/burn/the-note-names-each-limit-that-was-seen-to", test_note_names_each);
  g_test_add_func ("/views/burn/a-hazard-moves-nothing-under-a-button-that-is-down", test_calm);
}
