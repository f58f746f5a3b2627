/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-page.h"

#include "wb-bench-check.h"

/* Burns for the throw. */

static const char *
get_throw_words (Bench *bench)
{
  GtkWidget *label = test_child (GTK_WIDGET (bench_get_panel (bench)), "throw_words");

  return gtk_widget_get_visible (label) ? gtk_label_get_text (GTK_LABEL (label)) : NULL;
}

static void
set_kind (Bench      *bench,
          WbBurnKind  kind)
{
  gtk_drop_down_set_selected (GTK_DROP_DOWN (test_child (GTK_WIDGET (bench_get_panel (bench)), "kind")), kind);
}

static void
set_room (Bench      *bench,
          const char *room)
{
  gtk_editable_set_text (GTK_EDITABLE (test_child (GTK_WIDGET (bench_get_panel (bench)), "place")), room);
}

/* Asks its room, distance, blindness and rater; then its round asks the throw first, by a digit, and says what becomes of it. */
static void
test_throw_burn (void)
{
  Bench bench;
  WbAppBenchSample *sample;

  bench_open_scented (&bench, 2, "flame_mm", 10);
  sample = bench_find_sample (&bench, "T1");
  bench_choose (&bench, "T1");
  g_assert_null (wb_reading_panel_get_field (bench_get_panel (&bench), WB_COLUMN_THROW_DISTANCE_M));
  set_kind (&bench, WB_BURN_THROW);
  /* The place on the bench that was proposed is no room. */
  g_assert_cmpstr (wb_reading_panel_get_place (bench_get_panel (&bench)), ==, "");
  g_assert_nonnull (wb_reading_panel_get_field (bench_get_panel (&bench), WB_COLUMN_THROW_BLIND));
  bench_act (&bench, "page.light");
  g_assert_null (test_find_window (WB_TYPE_BENCH_CHECK));
  g_assert_cmpuint (strlen (gtk_label_get_text (GTK_LABEL (test_child (GTK_WIDGET (bench_get_panel (&bench)), "wrong")))), >, 0);

  set_room (&bench, "Box room");
  bench_type (&bench, WB_COLUMN_THROW_DISTANCE_M, "2,5");
  bench_enter (&bench, WB_COLUMN_THROW_DISTANCE_M);
  bench_press (&bench, WB_COLUMN_THROW_BLIND, GDK_KEY_1);
  wb_reading_details_propose (wb_reading_panel_get_details (bench_get_panel (&bench)), WB_READING_TEXT_RATER, "Wren");
  bench_act (&bench, "page.light");
  bench_answer_check ();
  bench_wait_alight (&bench, 1);
  g_assert_cmpstr (wb_app_bench_sample_get_place (sample), ==, "Box room");
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_THROW_DISTANCE_M), ==, 2.5);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_THROW_BLIND), ==, 1);
  g_assert_cmpstr (wb_app_bench_sample_get_last_text (sample, WB_READING_TEXT_RATER), ==, "Wren");

  bench_advance (&bench, 60);
  bench_choose (&bench, "T1");
  wb_reading_panel_focus_first (bench_get_panel (&bench));
  g_assert_true (bench_has_focus (&bench, WB_COLUMN_THROW));
  g_assert_nonnull (strstr (get_throw_words (&bench), "is scored"));
  bench_press (&bench, WB_COLUMN_THROW, GDK_KEY_4);
  g_assert_true (bench_has_focus (&bench, WB_COLUMN_FLAME_MM));
  bench_type (&bench, WB_COLUMN_FLAME_MM, "21");
  /* The person can say otherwise, and is told what that means. */
  gtk_widget_grab_focus (wb_reading_panel_get_field (bench_get_panel (&bench), WB_COLUMN_ALONE));
  bench_press (&bench, WB_COLUMN_ALONE, GDK_KEY_0);
  g_assert_nonnull (strstr (get_throw_words (&bench), "not scored"));
  bench_press (&bench, WB_COLUMN_ALONE, GDK_KEY_1);
  bench_act (&bench, "page.save");
  bench_wait_read (sample, 60);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_THROW), ==, 4);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_ALONE), ==, 1);
  bench_close (&bench);
}

/* Told before it is lit, recorded when it is, and every rating from then on says that it is not scored. */
static void
test_second_beside_a_throw_burn (void)
{
  Bench bench;
  WbAppBenchSample *sample;

  bench_open_scented (&bench, 3, "throw,flame_mm", 10);
  sample = bench_find_sample (&bench, "T1");
  bench_choose (&bench, "T1");
  set_kind (&bench, WB_BURN_THROW);
  set_room (&bench, "Box room");
  bench_act (&bench, "page.light");
  bench_answer_check ();
  bench_wait_alight (&bench, 1);
  /* It is not said where this evening's bench stands. */
  bench_choose (&bench, "T2");
  g_assert_nonnull (strstr (get_throw_words (&bench), "T1"));
  g_assert_true (test_enabled (bench.window, "page.light"));
  bench_act (&bench, "page.light");
  bench_wait_alight (&bench, 2);
  g_assert_nonnull (strstr (wb_app_bench_sample_get_burn (bench_find_sample (&bench, "T2"))->note, "T1"));

  bench_choose (&bench, "T1");
  g_assert_nonnull (strstr (get_throw_words (&bench), "T2"));
  bench_advance (&bench, 60);
  wb_reading_panel_focus_first (bench_get_panel (&bench));
  bench_press (&bench, WB_COLUMN_THROW, GDK_KEY_4);
  bench_act (&bench, "page.save");
  bench_wait_read (sample, 60);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_ALONE), ==, 0);
  /* Of an ordinary round it is a note, asked or not. */
  bench_choose (&bench, "T2");
  g_assert_nonnull (strstr (get_throw_words (&bench), "note"));
  /* The last room is at hand. */
  bench_choose (&bench, "T3");
  set_kind (&bench, WB_BURN_THROW);
  g_assert_cmpstr (wb_reading_panel_get_place (bench_get_panel (&bench)), ==, "Box room");
  bench_close (&bench);
}

static gboolean
is_asked (gpointer user)
{
  return test_find_window (GTK_TYPE_MESSAGE_DIALOG) != NULL;
}

/* Fit to burn and not to smell: a throw burn asks first. */
static void
test_throw_before_it_is_cured (void)
{
  Bench bench;
  GtkWidget *question;

  bench_open_scented (&bench, 1, "flame_mm", 30);
  bench_choose (&bench, "T1");
  g_assert_cmpint (wb_app_bench_sample_get_state (bench_find_sample (&bench, "T1")), ==, WB_APP_BENCH_FIT);
  set_kind (&bench, WB_BURN_THROW);
  set_room (&bench, "Box room");
  g_assert_nonnull (strstr (get_throw_words (&bench), "fit to smell"));
  bench_act (&bench, "page.light");
  bench_answer_check ();
  test_wait (is_asked, NULL);
  question = test_find_window (GTK_TYPE_MESSAGE_DIALOG);
  g_assert_cmpuint (wb_app_bench_get_alight (bench.bench), ==, 0);
  gtk_dialog_response (GTK_DIALOG (question), GTK_RESPONSE_ACCEPT);
  bench_wait_alight (&bench, 1);
  g_assert_nonnull (strstr (wb_app_bench_sample_get_burn (bench_find_sample (&bench, "T1"))->note, "fit to smell"));
  bench_close (&bench);
}

static gboolean
is_at_the_rater (Bench *bench)
{
  GtkWidget *focus = gtk_root_get_focus (GTK_ROOT (bench->window));
  GtkWidget *details = GTK_WIDGET (wb_reading_panel_get_details (bench_get_panel (bench)));
  GtkWidget *entry = focus != NULL ? gtk_widget_get_ancestor (focus, GTK_TYPE_ENTRY) : NULL;

  if (entry == NULL || !gtk_widget_is_ancestor (entry, details))
    return FALSE;
  gtk_test_accessible_assert_property (entry, GTK_ACCESSIBLE_PROPERTY_LABEL, "Rated by");
  return TRUE;
}

/* Who rates is asked before it is lit; said or not, the second Enter goes on. An ordinary burn is lit at once. */
static void
test_enter_asks_the_rater (void)
{
  Bench bench;

  bench_open_scented (&bench, 2, "flame_mm", 10);
  bench_choose (&bench, "T1");
  set_kind (&bench, WB_BURN_THROW);
  set_room (&bench, "Box room");
  bench_type (&bench, WB_COLUMN_THROW_DISTANCE_M, "2,5");
  gtk_widget_grab_focus (wb_reading_panel_get_field (bench_get_panel (&bench), WB_COLUMN_THROW_BLIND));
  bench_enter (&bench, WB_COLUMN_THROW_BLIND);
  g_assert_null (test_find_window (WB_TYPE_BENCH_CHECK));
  g_assert_true (is_at_the_rater (&bench));
  g_signal_emit_by_name (gtk_root_get_focus (GTK_ROOT (bench.window)), "activate");
  bench_answer_check ();
  bench_wait_alight (&bench, 1);

  bench_advance (&bench, 60);
  bench_choose (&bench, "T1");
  wb_reading_panel_focus_first (bench_get_panel (&bench));
  bench_press (&bench, WB_COLUMN_THROW, GDK_KEY_4);
  bench_type (&bench, WB_COLUMN_FLAME_MM, "21");
  bench_enter (&bench, WB_COLUMN_FLAME_MM);
  g_assert_true (is_at_the_rater (&bench));
  gtk_editable_set_text (GTK_EDITABLE (gtk_root_get_focus (GTK_ROOT (bench.window))), "Wren");
  g_signal_emit_by_name (gtk_root_get_focus (GTK_ROOT (bench.window)), "activate");
  bench_wait_read (bench_find_sample (&bench, "T1"), 60);
  g_assert_cmpstr (wb_app_bench_sample_get_last_text (bench_find_sample (&bench, "T1"), WB_READING_TEXT_RATER), ==, "Wren");
  test_settle (bench.window);

  bench_choose (&bench, "T2");
  bench_enter (&bench, WB_COLUMN_MASS_G);
  bench_wait_alight (&bench, 2);
  bench_close (&bench);
}

void
test_burn_throw_add (void)
{
  g_test_add_func ("/views/burn/a-throw-burn-asks-for-itself", test_throw_burn);
  g_test_add_func ("/views/burn/a-second-one-beside-a-throw-burn-is-told", test_second_beside_a_throw_burn);
  g_test_add_func ("/views/burn/a-throw-burn-waits-until-it-is-fit-to-smell", test_throw_before_it_is_cured);
  g_test_add_func ("/views/burn/enter-in-a-throw-burn-stops-at-who-rates", test_enter_asks_the_rater);
}
