/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"
#include "wb-app-answers.h"
#include "wb-app-import.h"
#include "wb-app-query.h"

typedef struct
{
  WbAppNotebook *notebook;
  WbAppAnswers  *answers;
  gint64         experiment;
  gint64         stale;      /* the last one told */
} Desk;

static void
on_stale_cb (WbAppAnswers *answers,
             gint64        experiment,
             Desk         *desk)
{
  desk->stale = experiment;
}

/* A notebook with the clean sample log in it. */
static void
set_up (Desk *desk)
{
  g_autofree char *path = app_new_path ();
  g_autofree char *log = g_test_build_filename (G_TEST_DIST, "exchange", "data", "burn-log-clean.csv", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppImportSummary) summary = wb_app_import_sync (path, log, WB_APP_IMPORT_WRITE, NULL, &error);

  g_assert_no_error (error);
  desk->notebook = app_open (path);
  desk->answers = wb_app_answers_new (desk->notebook);
  desk->experiment = wb_app_query_find_experiment_sync (desk->notebook, "Autumn vessel trial", &error);
  g_assert_no_error (error);
  desk->stale = 0;
  g_signal_connect (desk->answers, "stale", G_CALLBACK (on_stale_cb), desk);
}

static gboolean
is_last_reference (gpointer object)
{
  return ((GObject *) object)->ref_count == 1;
}

static void
tear_down (Desk *desk)
{
  app_wait_until (is_last_reference, desk->answers, "the answers to come home");
  g_assert_finalize_object (desk->answers);
  app_close (desk->notebook);
}

static WbCraftAnswer *
get (Desk *desk)
{
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  WbCraftAnswer *answer;

  wb_app_answers_get_async (desk->answers, desk->experiment, WB_CRAFT_WITHIN_SCENT, 0, NULL, app_keep_result_cb, &result);
  answer = wb_app_answers_get_finish (desk->answers, app_wait_result (&result), &error);
  g_assert_no_error (error);
  return answer;
}

static gboolean
is_told (gpointer desk)
{
  return ((Desk *) desk)->stale != 0;
}

/* Handed over again as it is, until an entry touches the experiment or a material that it rests on. */
static void
test_kept (void)
{
  Desk desk;
  g_autoptr (WbCraftAnswer) first = NULL, second = NULL, third = NULL;
  g_autoptr (GPtrArray) vessels = NULL;
  g_autoptr (GError) error = NULL;

  set_up (&desk);
  g_assert_null (wb_app_answers_peek (desk.answers, desk.experiment, WB_CRAFT_WITHIN_SCENT, 0));
  first = get (&desk);
  second = get (&desk);
  g_assert_true (first == second);
  g_assert_true (wb_app_answers_peek (desk.answers, desk.experiment, WB_CRAFT_WITHIN_SCENT, 0) == first);

  vessels = wb_app_query_list_sync (desk.notebook, &wb_vessel_type, &error);
  g_assert_no_error (error);
  ((WbVessel *) g_ptr_array_index (vessels, 0))->inner_diameter_mm += 1;
  app_save (desk.notebook, g_ptr_array_index (vessels, 0));
  app_wait_until (is_told, &desk, "the answer to be told stale");
  g_assert_cmpint (desk.stale, ==, desk.experiment);
  g_assert_null (wb_app_answers_peek (desk.answers, desk.experiment, WB_CRAFT_WITHIN_SCENT, 0));
  third = get (&desk);
  g_assert_true (third != first);
  tear_down (&desk);
}

/* Two that ask at once get the same one. */
static void
test_shared (void)
{
  Desk desk;
  g_autoptr (GAsyncResult) one = NULL, two = NULL;
  g_autoptr (WbCraftAnswer) first = NULL, second = NULL;

  set_up (&desk);
  wb_app_answers_get_async (desk.answers, desk.experiment, WB_CRAFT_WITHIN_ALL, 3, NULL, app_keep_result_cb, &one);
  wb_app_answers_get_async (desk.answers, desk.experiment, WB_CRAFT_WITHIN_ALL, 3, NULL, app_keep_result_cb, &two);
  first = wb_app_answers_get_finish (desk.answers, app_wait_result (&one), NULL);
  second = wb_app_answers_get_finish (desk.answers, app_wait_result (&two), NULL);
  g_assert_nonnull (first);
  g_assert_true (first == second);
  g_assert_cmpuint (first->ranking->seed, ==, 3);
  g_clear_object (&one);
  g_clear_object (&two);
  tear_down (&desk);
}

/* Who cancels gets that; who only waited beside them gets the answer. */
static void
test_cancel_one (void)
{
  Desk desk;
  g_autoptr (GAsyncResult) one = NULL, two = NULL;
  g_autoptr (WbCraftAnswer) none = NULL, answer = NULL;
  g_autoptr (WbAppJob) job = wb_app_job_new ();
  g_autoptr (GError) error = NULL;

  set_up (&desk);
  wb_app_answers_get_async (desk.answers, desk.experiment, WB_CRAFT_WITHIN_SCENT, 0, job, app_keep_result_cb, &one);
  wb_app_answers_get_async (desk.answers, desk.experiment, WB_CRAFT_WITHIN_SCENT, 0, NULL, app_keep_result_cb, &two);
  wb_app_job_cancel (job);
  none = wb_app_answers_get_finish (desk.answers, app_wait_result (&one), &error);
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  answer = wb_app_answers_get_finish (desk.answers, app_wait_result (&two), NULL);
  g_assert_nonnull (answer);
  g_clear_object (&one);
  g_clear_object (&two);
  tear_down (&desk);
}

static void
test_unknown (void)
{
  Desk desk;
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;

  set_up (&desk);
  wb_app_answers_get_async (desk.answers, 999, WB_CRAFT_WITHIN_SCENT, 0, NULL, app_keep_result_cb, &result);
  g_assert_null (wb_app_answers_get_finish (desk.answers, app_wait_result (&result), &error));
  g_assert_nonnull (error);
  g_clear_object (&result);
  tear_down (&desk);
}

/* The window's ladder is the command's. */
static void
test_ladder (void)
{
  Desk desk;
  WbCraftLadderQuestion question = {
    .inner_diameter_mm = 79.4, .wax = (char *) "Harrow blend 8", .load_pct = 6, .wicks = 1, .sizes = 3,
    .window_low = 0.75, .window_high = 1.25,
  };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (WbCraftLadder) window = NULL, command = NULL;
  g_autoptr (GError) error = NULL;

  set_up (&desk);
  wb_app_answers_ladder_async (desk.answers, &question, NULL, app_keep_result_cb, &result);
  window = wb_app_answers_ladder_finish (desk.answers, app_wait_result (&result), &error);
  g_assert_no_error (error);
  command = wb_app_answers_ladder_sync (desk.notebook, &question, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpint (window->rests_on, ==, WB_CRAFT_RESTS_ON_HISTORY);
  g_assert_cmpstr (window->answer, ==, command->answer);
  g_clear_object (&result);
  tear_down (&desk);
}

void
test_app_answers_add (void)
{
  g_test_add_func ("/app/answers/kept-until-what-it-rests-on-changes", test_kept);
  g_test_add_func ("/app/answers/two-askers-one-computation", test_shared);
  g_test_add_func ("/app/answers/one-cancels-the-other-gets-it", test_cancel_one);
  g_test_add_func ("/app/answers/an-unknown-experiment-is-an-error", test_unknown);
  g_test_add_func ("/app/answers/the-window-s-ladder-is-the-command-s", test_ladder);
}
