/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"
#include "wb-app-advice.h"
#include "wb-app-answers.h"
#include "wb-app-export.h"
#include "wb-app-import.h"
#include "wb-app-plan.h"
#include "wb-app-query.h"
#include "wb-app-record.h"

#include <math.h>
#include <string.h>

/* An invented wick of a log: four burns of two candles, of which the pool never fills the vessel. */
static void
add_wick (GString    *log,
          const char *experiment,
          guint       wick,
          double      limit_mm,
          double      flame_mm)
{
  for (guint sample = 1; sample <= 2; sample++)
    for (guint burn = 1; burn <= 4; burn++)
      for (guint minute = 60; minute <= 240; minute += 60)
        g_string_append_printf (log, "%s,Heron,78,Moor blend,Reed,R-%u,%u,6,%s-%u%c,%u,%u,%.1f,%.1f,%.1f\n", experiment, wick, wick, experiment, wick,
                                'A' + sample - 1, burn, minute, (limit_mm + sample) * (1 - exp (-(double) minute / 70)),
                                flame_mm + 0.3 * burn, 40 + flame_mm / 5 + 0.2 * sample);
}

static WbAppNotebook *
notebook_of (const GString *rows)
{
  g_autoptr (GString) log = g_string_new ("experiment,vessel,inner_diameter_mm,wax,wick_series,wick_size,wick_step,load_pct,sample,burn,"
                                          "elapsed_min,pool_mm,flame_mm,vessel_c\n");
  g_autofree char *path = app_new_path (), *file = app_new_path ();
  g_autoptr (WbAppImportSummary) summary = NULL;
  g_autoptr (GError) error = NULL;

  g_string_append (log, rows->str);
  g_assert_true (g_file_set_contents (file, log->str, -1, NULL));
  summary = wb_app_import_sync (path, file, NULL, WB_APP_IMPORT_WRITE, NULL, &error);
  g_assert_no_error (error);
  return app_open (path);
}

/* What is advised of R-2, the largest of a test in which all are too small, where an earlier test knows R-3. */
static WbCraftAdvice *
advise_beside (double         flame_mm,
               WbAppNotebook **notebook)
{
  g_autoptr (GString) rows = g_string_new (NULL);
  g_autoptr (WbCraftAnswer) answer = NULL;
  g_autoptr (GError) error = NULL;
  WbCraftAdvice *advice;

  add_wick (rows, "One", 2, 60, 17);
  add_wick (rows, "One", 3, 66, flame_mm);
  add_wick (rows, "Two", 1, 52, 15);
  add_wick (rows, "Two", 2, 57, 17);
  *notebook = notebook_of (rows);
  answer = wb_app_answers_compute_sync (*notebook, wb_app_query_find_experiment_sync (*notebook, "Two", &error), WB_CRAFT_WITHIN_SCENT, 0, NULL, &error);
  g_assert_no_error (error);
  advice = wb_app_advice_sync (*notebook, answer, &error);
  g_assert_no_error (error);
  return advice;
}

/* The test's own line goes on calmly; what it cannot know is what an earlier candle of the next size did. */
static void
test_next_size_by_all (void)
{
  const struct { double flame_mm; WbCraftSize size; } cases[] = { { 19, WB_CRAFT_SIZE_UP }, { 56, WB_CRAFT_SIZE_CHANGE_SERIES } };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WbAppNotebook *notebook;
      g_autoptr (WbCraftAdvice) advice = advise_beside (cases[i].flame_mm, &notebook);
      const WbCraftAdvised *last = NULL;

      for (guint k = 0; k < advice->groups[0].n_cells; k++)
        if (!advice->groups[0].cells[k].next_tested)
          last = &advice->groups[0].cells[k];
      g_assert_nonnull (last);
      for (guint k = 0; k < last->reasons->len; k++)
        g_test_message ("%g mm: %.3f %s", cases[i].flame_mm, last->p_hot, (const char *) g_ptr_array_index (last->reasons, k));
      g_assert_cmpint (last->size, ==, cases[i].size);
      g_assert_cmpstr (last->next_name, ==, cases[i].size == WB_CRAFT_SIZE_UP ? "R-3" : NULL);
      g_assert_cmpint (last->p_hot > 0.05, ==, cases[i].size != WB_CRAFT_SIZE_UP);
      app_close (notebook);
    }
}

/* ---- As sure as the protocol asks, wherever the notebook goes ---- */

static double
find_near_enough (WbAppNotebook *notebook,
                  const char    *code)
{
  g_autoptr (WbCraftAnswer) answer = NULL;
  g_autoptr (WbCraftAdvice) advice = NULL;
  g_autoptr (GError) error = NULL;

  answer = wb_app_answers_compute_sync (notebook, wb_app_query_find_experiment_sync (notebook, code, &error), WB_CRAFT_WITHIN_SCENT, 0, NULL, &error);
  g_assert_no_error (error);
  advice = wb_app_advice_sync (notebook, answer, &error);
  g_assert_no_error (error);
  return advice->near_enough;
}

static GPtrArray *
find_versions (WbAppNotebook *notebook,
               gint64         protocol)
{
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  GPtrArray *versions;

  wb_app_record_versions_async (notebook, &wb_protocol_type, protocol, NULL, app_keep_result_cb, &result);
  app_wait_result (&result);
  versions = wb_app_record_versions_finish (notebook, result, &error);
  g_assert_no_error (error);
  return versions;
}

static double
pct_of (const GPtrArray *versions,
        guint            i)
{
  return ((const WbProtocol *) ((const WbAppVersion *) g_ptr_array_index (versions, i))->record)->stop_sure_pct;
}

/* A protocol's certainty: saved and refused, in its history, taken back, and untouched by a log of its burns that comes back in. */
static void
test_stop_sure (void)
{
  g_autoptr (GString) rows = g_string_new (NULL);
  g_autoptr (WbDataset) data = NULL;
  g_autoptr (GPtrArray) versions = NULL;
  g_autoptr (WbAppImportSummary) summary = NULL;
  g_autoptr (GPtrArray) records = g_ptr_array_new ();
  g_autoptr (GError) error = NULL;
  g_autofree char *log = app_new_path (), *csv = g_strconcat (log, ".csv", NULL), *path = NULL, *elsewhere = app_new_path ();
  const double refused[] = { 0, 100, 101 };
  WbAppNotebook *notebook, *other;
  WbProtocol *protocol;
  gint64 id;

  add_wick (rows, "One", 2, 60, 17);
  add_wick (rows, "One", 3, 66, 19);
  notebook = notebook_of (rows);
  path = g_strdup (wb_app_notebook_get_path (notebook));
  data = wb_app_query_dataset_sync (notebook, wb_app_query_find_experiment_sync (notebook, "One", &error), &error);
  g_assert_no_error (error);
  protocol = wb_record_copy (data->protocol);
  id = protocol->record.id;
  g_assert_cmpfloat (find_near_enough (notebook, "One"), ==, 0.9);
  protocol->stop_sure_pct = 75;
  app_save (notebook, protocol);
  g_assert_cmpfloat (find_near_enough (notebook, "One"), ==, 0.75);
  wb_record_free (protocol);
  wb_dataset_free (g_steal_pointer (&data));
  data = wb_app_query_dataset_sync (notebook, wb_app_query_find_experiment_sync (notebook, "One", &error), &error);
  g_assert_no_error (error);
  protocol = wb_record_copy (data->protocol);
  for (guint i = 0; i < G_N_ELEMENTS (refused); i++)
    {
      protocol->stop_sure_pct = refused[i];
      g_ptr_array_set_size (records, 0);
      g_ptr_array_add (records, protocol);
      g_assert_cmpint (wb_app_notebook_save_sync (notebook, "Change the protocol", records, NULL, &error), ==, 0);
      g_assert_nonnull (error);
      g_test_message ("%s", error->message);
      g_assert_nonnull (strstr (error->message, "stop_sure_pct"));
      g_assert_nonnull (strstr (error->message, "50 to 99"));
      g_clear_error (&error);
    }
  g_assert_cmpfloat (find_near_enough (notebook, "One"), ==, 0.75);
  versions = find_versions (notebook, id);
  g_assert_cmpuint (versions->len, ==, 2);
  g_assert_cmpfloat (pct_of (versions, 0), ==, 90);
  g_assert_cmpfloat (pct_of (versions, 1), ==, 75);

  /* a burn log has no protocol: here it changes none, elsewhere the experiment gets the house's */
  g_assert_true (wb_app_export_sync (notebook, 0, WB_APP_EXPORT_CSV, csv, NULL, &error));
  g_assert_no_error (error);
  app_close (notebook);
  summary = wb_app_import_sync (path, csv, NULL, WB_APP_IMPORT_WRITE, NULL, &error);
  g_assert_no_error (error);
  g_clear_pointer (&summary, wb_app_import_summary_free);
  summary = wb_app_import_sync (elsewhere, csv, NULL, WB_APP_IMPORT_WRITE, NULL, &error);
  g_assert_no_error (error);
  notebook = app_open (path);
  other = app_open (elsewhere);
  g_assert_cmpfloat (find_near_enough (notebook, "One"), ==, 0.75);
  g_assert_cmpfloat (find_near_enough (other, "One"), ==, 0.9);
  app_close (other);
  app_close (notebook);
  wb_record_free (protocol);
}

/* A test that repeats another asks as much. */
static void
test_stop_sure_is_repeated (void)
{
  g_autoptr (GString) rows = g_string_new (NULL);
  g_autoptr (WbDataset) data = NULL;
  g_autoptr (WbAppPlan) plan = NULL;
  g_autoptr (GError) error = NULL;
  WbAppNotebook *notebook;

  add_wick (rows, "One", 2, 60, 17);
  notebook = notebook_of (rows);
  data = wb_app_query_dataset_sync (notebook, wb_app_query_find_experiment_sync (notebook, "One", &error), &error);
  g_assert_no_error (error);
  data->protocol->stop_sure_pct = 80;
  plan = wb_app_plan_new (notebook, wb_app_query_materials_sync (notebook, &error));
  g_assert_cmpfloat (wb_app_plan_get_protocol (plan)->stop_sure_pct, ==, 90);
  wb_app_plan_repeat (plan, data);
  g_assert_cmpfloat (wb_app_plan_get_protocol (plan)->stop_sure_pct, ==, 80);
  g_clear_object (&plan);
  app_close (notebook);
}

void
test_app_advice_add (void)
{
  g_test_add_func ("/app/advice/as-sure-as-the-protocol-asks-wherever-it-goes", test_stop_sure);
  g_test_add_func ("/app/advice/a-repeated-test-asks-as-much", test_stop_sure_is_repeated);
  g_test_add_func ("/app/advice/no-larger-size-that-crossed-a-limit-in-an-earlier-test", test_next_size_by_all);
}
