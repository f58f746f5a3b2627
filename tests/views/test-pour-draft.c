/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "pour-page.h"

#include "wb-app-draft.h"
#include "wb-app-timers.h"
#include "wb-clock.h"
#include "wb-notice.h"
#include "wb-pour-steps.h"
#include "wb-quantity-entry.h"
#include "wb-wick-lots.h"

#include <glib/gstdio.h>
#include <string.h>

/* Other tests know what day it is. */
static void
go_back (gint64 began_us)
{
  wb_clock_step (wb_clock_get (), began_us - wb_clock_now (wb_clock_get ()).utc_us);
}

static gboolean
has_ended (gpointer user)
{
  g_autofree char *text = wb_notice_dup_text (WB_NOTICE (test_find (user, WB_TYPE_NOTICE)), "timer-1/key");

  return text != NULL && strstr (text, "Time is up: Stir") != NULL;
}

/* A timer counts by the clock that never steps, waits while it is paused, and is told on whatever page. */
static void
test_timers (void)
{
  gint64 began_us = wb_clock_now (wb_clock_get ()).utc_us;
  gint64 experiment;
  WbWindow *window = pour_open ("timers.wickbench", "Tern", &experiment);
  WbAppTimers *timers = wb_app_timers_of (test_notebook (window));
  double left;

  wb_app_timers_start (timers, "1/key", "Stir", 120);
  wb_clock_advance (wb_clock_get (), 60 * G_USEC_PER_SEC);
  wb_clock_step (wb_clock_get (), 3600 * (gint64) G_USEC_PER_SEC);
  g_assert_cmpint (wb_app_timers_get (timers, "1/key", &left), ==, WB_APP_TIMER_RUNNING);
  g_assert_cmpfloat_with_epsilon (left, 60, 2);
  wb_app_timers_pause (timers, "1/key");
  wb_clock_advance (wb_clock_get (), 600 * (gint64) G_USEC_PER_SEC);
  g_assert_cmpint (wb_app_timers_get (timers, "1/key", &left), ==, WB_APP_TIMER_PAUSED);
  g_assert_cmpfloat_with_epsilon (left, 60, 2);
  wb_app_timers_resume (timers, "1/key");
  g_assert_true (wb_window_go (window, "today", 0));
  wb_clock_advance (wb_clock_get (), 61 * G_USEC_PER_SEC);
  test_wait (has_ended, window);
  g_assert_cmpint (wb_app_timers_get (timers, "1/key", &left), ==, WB_APP_TIMER_ENDED);
  g_assert_cmpfloat (left, ==, 0);
  /* done: nothing goes on saying so */
  wb_app_timers_drop (timers, "1/key");
  g_assert_false (has_ended (window));
  test_window_destroy (window);
  go_back (began_us);
}

/* ---- What is half typed outlives the program ---- */

static gboolean
is_kept (gpointer user)
{
  return g_key_file_has_group (wb_app_draft_get_file (wb_app_draft_of (test_notebook (user), "pour")), g_object_get_data (user, "group"));
}

static gboolean
is_kept_no_more (gpointer user)
{
  return wb_app_draft_get_loaded (wb_app_draft_of (test_notebook (user), "pour")) && !is_kept (user);
}

/* The window goes as in a crash: nothing is asked, and another program opens the notebook. */
static WbWindow *
crash (WbWindow *window,
       gint64    experiment,
       gint64    hours)
{
  g_autoptr (WbAppNotebook) notebook = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_strdup (wb_app_notebook_get_path (test_notebook (window)));
  g_autofree char *group = g_strdup (g_object_get_data (G_OBJECT (window), "group"));

  test_window_destroy (window);
  wb_clock_advance (wb_clock_get (), hours * 3600 * (gint64) G_USEC_PER_SEC);
  notebook = wb_app_notebook_open_sync (path, WB_APP_OPEN_EXISTING, NULL, &error);
  g_assert_no_error (error);
  window = test_window_new ();
  wb_window_set_notebook (window, notebook);
  g_object_set_data_full (G_OBJECT (window), "group", g_steal_pointer (&group), g_free);
  test_settle (window);
  g_assert_true (wb_window_go (window, "pour", experiment));
  return window;
}

/* Names the group of what is typed into that batch, for is_kept (). */
static void
watch_group (WbWindow   *window,
             gint64      experiment,
             const char *name)
{
  g_autoptr (WbDataset) data = pour_read_experiment (window, experiment);
  g_autofree char *uuid = wb_uuid_format (&data->experiment->uuid);

  g_object_set_data_full (G_OBJECT (window), "group", g_strdup_printf ("%s/%s", uuid, name), g_free);
}

static gboolean
stands_again (gpointer user)
{
  return pour_is_ready (user) && wb_page_has_draft (wb_window_get_page (user));
}

/* Of every kind of field, right and wrong; seen hours later, and gone once it is marked. */
static void
test_killed (void)
{
  gint64 began_us = wb_clock_now (wb_clock_get ()).utc_us;
  gint64 experiment;
  WbWindow *window = pour_open ("pour-killed.wickbench", "Tern", &experiment);
  WbPourSteps *steps = WB_POUR_STEPS (test_find (pour_get_sheet (window), WB_TYPE_POUR_STEPS));
  g_autoptr (WbDataset) data = NULL;
  const WbBatchStep *pour = NULL;
  WbInstant done;
  gint64 before;

  watch_group (window, experiment, "0:0:0");
  before = wb_app_notebook_get_last_entry (test_notebook (window));
  gtk_editable_set_text (GTK_EDITABLE (test_find (pour_part (window, "overage"), GTK_TYPE_ENTRY)), "0");
  pour_type (window, "actual_wax_g", "2756,2");
  pour_type (window, "wax_lot", "W-107");
  pour_type (window, "wick_lot", "S-44");
  gtk_editable_set_text (GTK_EDITABLE (test_find (test_find (pour_get_sheet (window), WB_TYPE_WICK_LOTS), GTK_TYPE_ENTRY)), "S-45");
  gtk_text_buffer_set_text (gtk_text_view_get_buffer (GTK_TEXT_VIEW (test_find (wb_record_form_get_field (pour_find_form (pour_get_sheet (window), "note"), "note"),
                                                                                GTK_TYPE_TEXT_VIEW))), "The pot\nwas wet", -1);
  pour_type_step (window, WB_STEP_HEAT, "8 2 C?");
  done = wb_clock_now (wb_clock_get ());
  g_signal_emit_by_name (wb_pour_steps_get_field (steps, WB_STEP_POUR, "done"), "clicked");
  pour_type_sample (window, 8, 0, "220.4");
  pour_type_sample (window, 1, 1, "x");
  test_wait (is_kept, window);
  window = crash (window, experiment, 30);
  test_wait (stands_again, window);
  test_wait (pour_is_laid, window);
  g_assert_true (gtk_widget_get_visible (pour_part (window, "before")));
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (window)), ==, before);
  g_assert_cmpstr (wb_quantity_entry_get_text (WB_QUANTITY_ENTRY (pour_part (window, "overage"))), ==, "0");
  g_assert_nonnull (strstr (pour_get_sums (window), "= 2840.4\u00a0g"));
  g_assert_cmpstr (pour_get_text (window, "actual_wax_g"), ==, "2756,2");
  g_assert_cmpstr (pour_get_text (window, "wax_lot"), ==, "W-107");
  g_assert_cmpstr (pour_get_text (window, "wick_lot"), ==, "S-44");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (test_find (test_find (pour_get_sheet (window), WB_TYPE_WICK_LOTS), GTK_TYPE_ENTRY))), ==, "S-45");
  g_assert_cmpstr (wb_quantity_entry_get_text (WB_QUANTITY_ENTRY (pour_get_measured (window, WB_STEP_HEAT))), ==, "8 2 C?");
  g_assert_cmpstr (pour_get_sample_text (window, 8, 0), ==, "220.4");
  g_assert_cmpstr (pour_get_sample_text (window, 1, 1), ==, "x");

  /* A second crash before anything is typed takes nothing of it. */
  window = crash (window, experiment, 0);
  test_wait (stands_again, window);
  test_wait (pour_is_laid, window);
  g_assert_cmpstr (pour_get_sample_text (window, 8, 0), ==, "220.4");

  /* Mended and marked it is a record, and forgotten; the time is that of then, not of today. */
  pour_type_step (window, WB_STEP_HEAT, "82");
  pour_type_sample (window, 1, 1, "");
  pour_type (window, "poured_on", "2026-03-02");
  pour_mark (window);
  test_wait (is_kept_no_more, window);
  data = pour_read_experiment (window, experiment);
  g_assert_cmpstr (((const WbBatch *) data->batches->pdata[0])->note, ==, "The pot\nwas wet");
  for (guint i = 0; i < data->batch_steps->len; i++)
    if (((const WbBatchStep *) data->batch_steps->pdata[i])->kind == WB_STEP_POUR)
      pour = data->batch_steps->pdata[i];
  g_assert_nonnull (pour);
  g_assert_cmpint (ABS (pour->done_at.utc_us - done.utc_us), <, 90 * (gint64) G_USEC_PER_SEC);
  window = crash (window, experiment, 0);
  test_wait (pour_is_poured, window);
  g_assert_false (wb_page_has_draft (wb_window_get_page (window)));
  test_window_destroy (window);
  go_back (began_us);
}

static gboolean
is_poured_again (gpointer user)
{
  return pour_is_poured (user) && pour_is_laid (user) && wb_page_has_draft (wb_window_get_page (user));
}

/* What was found of a poured batch, half typed; closing the window asks nothing, for nothing is lost. */
static void
test_found_killed (void)
{
  gint64 began_us = wb_clock_now (wb_clock_get ()).utc_us;
  gint64 experiment;
  WbWindow *window = pour_open ("found-killed.wickbench", "Tern", &experiment);
  g_autoptr (WbDataset) data = NULL;
  g_autofree char *name = NULL;
  WbInstant done = WB_INSTANT_NONE, set_at = WB_INSTANT_NONE;

  pour_mark (window);
  test_wait (pour_is_laid, window);
  test_settle (window);
  done = wb_clock_now (wb_clock_get ());
  data = pour_read_experiment (window, experiment);
  name = g_strdup_printf ("poured:%" G_GINT64_FORMAT, ((const WbRecord *) data->batches->pdata[0])->id);
  watch_group (window, experiment, name);
  pour_type_sample (window, 1, 5, "2");
  g_signal_emit_by_name (wb_pour_steps_get_field (WB_POUR_STEPS (test_find (pour_get_sheet (window), WB_TYPE_POUR_STEPS)), WB_STEP_SET, "done"), "clicked");
  g_assert_true (wb_page_has_draft (wb_window_get_page (window)));
  g_assert_true (wb_page_keeps_draft (wb_window_get_page (window)));
  /* not a fifth of a second passes */
  window = crash (window, experiment, 0);
  test_wait (is_poured_again, window);
  g_assert_cmpstr (pour_get_sample_text (window, 1, 5), ==, "2");
  gtk_widget_activate_action (GTK_WIDGET (window), "page.save", NULL);
  test_wait (test_says_saved, window);
  /* a step that came after the mark is written down with it */
  wb_dataset_free (g_steal_pointer (&data));
  data = pour_read_experiment (window, experiment);
  for (guint i = 0; i < data->batch_steps->len; i++)
    if (((const WbBatchStep *) data->batch_steps->pdata[i])->kind == WB_STEP_SET)
      set_at = ((const WbBatchStep *) data->batch_steps->pdata[i])->done_at;
  g_assert_true (set_at.known);
  g_assert_cmpint (ABS (set_at.utc_us - done.utc_us), <, 5 * (gint64) G_USEC_PER_SEC);
  test_wait (is_kept_no_more, window);
  test_window_destroy (window);
  go_back (began_us);
}

static gboolean
has_a_timer (gpointer timers)
{
  return wb_app_timers_get (timers, "1/key", NULL) != WB_APP_TIMER_NONE;
}

/* A timer goes on after a kill by the clock that never steps; after another start of the computer by the wall clock, which is said. */
static void
test_timer_killed (void)
{
  gint64 began_us = wb_clock_now (wb_clock_get ()).utc_us;
  gint64 experiment;
  WbWindow *window = pour_open ("timer-killed.wickbench", "Tern", &experiment);
  WbAppTimers *timers = wb_app_timers_of (test_notebook (window));
  double left;

  wb_app_timers_start (timers, "1/key", "Stir", 4 * 3600);
  wb_clock_step (wb_clock_get (), 10 * 3600 * (gint64) G_USEC_PER_SEC);
  window = crash (window, experiment, 1);
  timers = wb_app_timers_of (test_notebook (window));
  test_wait (has_a_timer, timers);
  g_assert_cmpint (wb_app_timers_get (timers, "1/key", &left), ==, WB_APP_TIMER_RUNNING);
  g_assert_cmpfloat_with_epsilon (left, 3 * 3600, 5);
  g_assert_false (wb_app_timers_get_doubtful (timers, "1/key"));
  /* written anew, so that the wall clock of then is the one that counts */
  wb_app_timers_pause (timers, "1/key");
  wb_app_timers_resume (timers, "1/key");
  wb_clock_reboot (wb_clock_get (), "another");
  window = crash (window, experiment, 1);
  timers = wb_app_timers_of (test_notebook (window));
  test_wait (has_a_timer, timers);
  g_assert_cmpint (wb_app_timers_get (timers, "1/key", &left), ==, WB_APP_TIMER_RUNNING);
  g_assert_cmpfloat_with_epsilon (left, 2 * 3600, 5);
  g_assert_true (wb_app_timers_get_doubtful (timers, "1/key"));
  /* it ends while nobody looks, and is told at the next start */
  window = crash (window, experiment, 3);
  test_wait (has_ended, window);
  wb_app_timers_drop (wb_app_timers_of (test_notebook (window)), "1/key");
  window = crash (window, experiment, 0);
  test_settle (window);
  test_wait (pour_is_ready, window);
  g_assert_false (has_a_timer (wb_app_timers_of (test_notebook (window))));
  test_window_destroy (window);
  go_back (began_us);
}

static gboolean
is_kept_now (gpointer window)
{
  return wb_page_keeps_draft (wb_window_get_page (window));
}

static gboolean
is_not_kept (gpointer window)
{
  return !is_kept_now (window);
}

/* A file stands where the folder should be: nothing can be kept, and closing says so before it is lost. */
static void
test_cannot_be_kept (void)
{
  g_autofree char *folder = g_build_filename (g_get_user_state_dir (), "wickbench", NULL);
  g_autofree char *place = g_build_filename (folder, "pour", NULL), *heading = NULL;
  g_autoptr (GError) error = NULL;
  gint64 experiment;
  WbWindow *window = pour_open ("not-kept.wickbench", "Tern", &experiment);

  g_mkdir_with_parents (folder, 0700);
  g_file_set_contents (place, "", 0, &error);
  g_assert_no_error (error);
  g_assert_true (wb_page_keeps_draft (wb_window_get_page (window)));
  pour_type_step (window, WB_STEP_HEAT, "82");
  test_wait (is_not_kept, window);
  gtk_window_close (GTK_WINDOW (window));
  g_assert_nonnull (pour_find_question ());
  g_object_get (pour_find_question (), "text", &heading, NULL);
  g_assert_cmpstr (heading, ==, "What you typed under Pour is not saved");
  gtk_dialog_response (GTK_DIALOG (pour_find_question ()), GTK_RESPONSE_CANCEL);
  g_assert_true (gtk_widget_get_visible (GTK_WIDGET (window)));
  /* where it can be written again, it is kept again */
  g_assert_cmpint (g_unlink (place), ==, 0);
  pour_type_step (window, WB_STEP_HEAT, "83");
  test_wait (is_kept_now, window);
  test_window_destroy (window);
}

void
test_pour_draft_add (void)
{
  g_test_add_func ("/views/pour/a-timer-is-told-on-any-page", test_timers);
  g_test_add_func ("/views/pour/what-is-half-typed-outlives-a-kill", test_killed);
  g_test_add_func ("/views/pour/what-was-found-outlives-a-kill", test_found_killed);
  g_test_add_func ("/views/pour/a-timer-outlives-a-kill", test_timer_killed);
  g_test_add_func ("/views/pour/what-cannot-be-kept-is-asked-about", test_cannot_be_kept);
}
