/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"
#include "wb-app-answers.h"
#include "wb-app-import.h"
#include "wb-app-query.h"

#include <math.h>

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

static void
import (const char *path,
        const char *log)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppImportSummary) summary = wb_app_import_sync (path, log, NULL, WB_APP_IMPORT_WRITE, NULL, &error);

  g_assert_no_error (error);
}

/* A notebook with the clean sample log in it, and one more, which may be NULL. */
static void
set_up_with (Desk       *desk,
             const char *other)
{
  g_autofree char *path = app_new_path ();
  g_autofree char *log = g_test_build_filename (G_TEST_DIST, "exchange", "data", "burn-log-clean.csv", NULL);
  g_autoptr (GError) error = NULL;

  import (path, log);
  if (other != NULL)
    import (path, other);
  desk->notebook = app_open (path);
  desk->answers = wb_app_answers_new (desk->notebook);
  desk->experiment = wb_app_query_find_experiment_sync (desk->notebook, "Autumn vessel trial", &error);
  g_assert_no_error (error);
  desk->stale = 0;
  g_signal_connect (desk->answers, "stale", G_CALLBACK (on_stale_cb), desk);
}

static void
set_up (Desk *desk)
{
  set_up_with (desk, NULL);
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

/* An invented log in which no combination has a second candle. */
static char *
write_lone_log (void)
{
  g_autoptr (GString) log = g_string_new ("experiment,vessel,inner_diameter_mm,wax,wick_series,wick_size,wick_step,load_pct,sample,burn,"
                                          "elapsed_min,pool_mm\n");
  char *path = app_new_path ();

  for (guint wick = 1; wick <= 2; wick++)
    for (guint minute = 60; minute <= 240; minute += 60)
      g_string_append_printf (log, "Lone,Heron,78,Moor blend,Reed,R-%u,%u,6,R%u,1,%u,%.1f\n", wick, wick, wick, minute,
                              (60 + 5 * wick) * (1 - exp (-(double) minute / 70)));
  g_assert_true (g_file_set_contents (path, log->str, -1, NULL));
  return path;
}

static void
rename_experiment (Desk       *desk,
                   gint64      id,
                   const char *title)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) experiments = wb_app_query_list_sync (desk->notebook, &wb_experiment_type, &error);

  g_assert_no_error (error);
  for (guint i = 0; i < experiments->len; i++)
    {
      WbExperiment *experiment = g_ptr_array_index (experiments, i);

      if (experiment->record.id != id)
        continue;
      g_free (experiment->title);
      experiment->title = g_strdup (title);
      app_save (desk->notebook, experiment);
    }
}

/* An answer in which other experiments speak goes stale with them; they do not with it. */
static void
test_stale_with_its_sources (void)
{
  Desk desk;
  gint64 full, lone;
  g_autofree char *log = write_lone_log ();
  g_autoptr (WbCraftAnswer) of_full = NULL, of_lone = NULL;
  g_autoptr (GError) error = NULL;

  set_up_with (&desk, log);
  full = desk.experiment;
  lone = wb_app_query_find_experiment_sync (desk.notebook, "Lone", &error);
  g_assert_no_error (error);
  of_full = get (&desk);
  desk.experiment = lone;
  of_lone = get (&desk);
  g_assert_null (of_full->estimates->earlier);
  g_assert_cmpuint (wb_craft_earlier_get_n (of_lone->estimates->earlier), ==, 1);
  g_assert_cmpint (of_lone->estimates->cells[0].growth.status, ==, WB_CRAFT_FIT_EARLIER);

  rename_experiment (&desk, lone, "Lone and late");
  app_wait_until (is_told, &desk, "the lone one to be told stale");
  g_assert_cmpint (desk.stale, ==, lone);
  g_assert_true (wb_app_answers_peek (desk.answers, full, WB_CRAFT_WITHIN_SCENT, 0) == of_full);

  g_clear_pointer (&of_lone, wb_craft_answer_unref);
  of_lone = get (&desk);
  desk.stale = 0;
  rename_experiment (&desk, full, "Autumn vessel trial, again");
  app_wait_until (is_told, &desk, "the source to be told stale");
  g_assert_null (wb_app_answers_peek (desk.answers, full, WB_CRAFT_WITHIN_SCENT, 0));
  g_assert_null (wb_app_answers_peek (desk.answers, lone, WB_CRAFT_WITHIN_SCENT, 0));
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

/* The shortlist asks about the wicks that were named and no others, and cancels. */
static void
test_shortlist (void)
{
  Desk desk;
  WbCraftLadderQuestion question = { .inner_diameter_mm = 79.4, .wax = (char *) "Harrow blend 8", .load_pct = 6, .wicks = 1 };
  g_autoptr (GPtrArray) wicks = NULL;
  g_autoptr (GArray) asked = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autoptr (GAsyncResult) result = NULL, cancelled = NULL;
  g_autoptr (WbCraftShortlist) list = NULL;
  g_autoptr (WbCraftLadder) kept = NULL;
  g_autoptr (WbAppJob) job = wb_app_job_new ();
  g_autoptr (GError) error = NULL;

  set_up (&desk);
  wicks = wb_app_query_list_sync (desk.notebook, &wb_wick_type, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (wicks->len, >, 4);
  for (guint i = 0; i < 4; i++)
    g_array_append_val (asked, ((const WbRecord *) g_ptr_array_index (wicks, i))->id);
  wb_app_answers_shortlist_async (desk.answers, &question, asked, NULL, app_keep_result_cb, &result);
  list = wb_app_answers_shortlist_finish (desk.answers, app_wait_result (&result), &error);
  g_assert_no_error (error);
  g_assert_cmpuint (list->items->len, ==, 4);
  g_assert_cmpint (list->rests_on, ==, WB_CRAFT_RESTS_ON_HISTORY);
  for (guint i = 0; i < 4; i++)
    {
      const WbCraftShortlistItem *item = g_ptr_array_index (list->items, i);
      guint place = 0;

      while (place < asked->len && g_array_index (asked, gint64, place) != item->wick)
        place++;
      g_assert_cmpuint (place, <, asked->len);
    }
  /* also where all that was taught is kept, and nothing takes long */
  kept = wb_app_answers_ladder_sync (desk.notebook, &question, NULL, &error);
  g_assert_no_error (error);
  wb_app_job_cancel (job);
  wb_app_answers_shortlist_async (desk.answers, &question, asked, job, app_keep_result_cb, &cancelled);
  g_assert_null (wb_app_answers_shortlist_finish (desk.answers, app_wait_result (&cancelled), &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_clear_object (&result);
  g_clear_object (&cancelled);
  tear_down (&desk);
}

void
test_app_answers_add (void)
{
  g_test_add_func ("/app/answers/kept-until-what-it-rests-on-changes", test_kept);
  g_test_add_func ("/app/answers/stale-with-its-sources", test_stale_with_its_sources);
  g_test_add_func ("/app/answers/two-askers-one-computation", test_shared);
  g_test_add_func ("/app/answers/one-cancels-the-other-gets-it", test_cancel_one);
  g_test_add_func ("/app/answers/an-unknown-experiment-is-an-error", test_unknown);
  g_test_add_func ("/app/answers/the-window-s-ladder-is-the-command-s", test_ladder);
  g_test_add_func ("/app/answers/a-shortlist-of-the-wicks-named", test_shortlist);
}
