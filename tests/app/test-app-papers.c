/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"
#include "app-paper.h"
#include "wb-app-demo.h"
#include "wb-app-blind.h"
#include "wb-app-label-sheets.h"
#include "wb-app-labels.h"
#include "wb-app-papers.h"
#include "wb-app-query.h"

#include <string.h>

/* Papers of the bench, made from the demo notebook as the window makes them. */

static WbAppNotebook *
open_demo (void)
{
  g_autofree char *path = app_new_path ();
  g_autoptr (GError) error = NULL;

  g_assert_true (wb_app_demo_write (path, &error));
  g_assert_no_error (error);
  return app_open (path);
}

static WbAppPour *
load_pour (WbAppNotebook *notebook,
           const char    *code)
{
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  gint64 id = wb_app_query_find_experiment_sync (notebook, code, &error);
  WbAppPour *pour;

  g_assert_no_error (error);
  pour = wb_app_pour_new (notebook, id);
  wb_app_pour_load_async (pour, NULL, app_keep_result_cb, &result);
  g_assert_true (wb_app_pour_load_finish (pour, app_wait_result (&result), &error));
  g_assert_no_error (error);
  g_assert_cmpuint (wb_app_pour_get_batches (pour)->len, >, 0);
  return pour;
}

/* Every sample of the batch, its masses and its wax stand on the sheet. */
static void
test_batch_sheet (void)
{
  WbAppNotebook *notebook = open_demo ();
  WbAppPour *pour = load_pour (notebook, "TC-1");
  const WbAppPourBatch *batch = g_ptr_array_index (wb_app_pour_get_batches (pour), 0);
  g_autofree char *text = app_read_paper (wb_app_papers_batch_new (pour, 0, WB_REPORT_LETTER));
  g_autofree char *wax = wb_number_format (batch->sheet->wax_g, 1, NULL);
  g_autofree char *wick = wb_material_dup_title (g_ptr_array_index (wb_app_pour_get_data (pour)->wicks, 0));

  g_assert_nonnull (strstr (text, wax));
  /* of one series only: it is told all the same */
  g_assert_nonnull (strstr (text, wick));
  g_assert_nonnull (strstr (text, wb_app_pour_get_data (pour)->wax->name));
  g_assert_nonnull (strstr (text, "Invented data"));
  for (guint i = 0; i < batch->samples->len; i++)
    g_assert_nonnull (strstr (text, ((const WbSample *) g_ptr_array_index (batch->samples, i))->code));
  g_assert_finalize_object (pour);
  app_close (notebook);
}

static guint
count_said (const char *text,
            const char *what)
{
  g_auto (GStrv) parts = g_strsplit (text, what, -1);

  return g_strv_length (parts) - 1;
}

/* A label for each sample; the blind ones need their digits first, and do not tell what is in it. */
static void
test_labels (void)
{
  WbAppNotebook *notebook = open_demo ();
  WbAppBench *bench = wb_app_bench_new (notebook);
  WbAppPour *pour = load_pour (notebook, "HA-1");
  gint64 experiment = wb_app_query_find_experiment_sync (notebook, "HA-1", NULL);
  WbAppLabelsTerms terms = { WB_APP_LABELS_BASE, wb_report_label_sheet_preset (WB_REPORT_LABELS_A4_24), 3, FALSE, FALSE, FALSE };
  /* with its series: a label stands by itself */
  g_autofree char *cell = wb_material_dup_title (g_ptr_array_index (wb_app_pour_get_data (pour)->wicks, 0));
  g_autofree char *open = NULL, *blind = NULL, *cards = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (GAsyncResult) result = NULL;
  gboolean seen[1000] = { FALSE };
  guint without = 0, n;

  open = app_read_paper (app_labels_new (pour, G_MAXUINT, &terms, &error));
  g_assert_no_error (error);
  g_assert_nonnull (strstr (open, cell));
  terms.blind = TRUE;
  g_assert_null (app_labels_new (pour, G_MAXUINT, &terms, &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED);
  g_clear_error (&error);
  n = wb_app_labels_count (pour, G_MAXUINT, &without);
  g_assert_cmpuint (without, ==, n);

  wb_app_blind_draw_async (bench, notebook, experiment, NULL, app_keep_result_cb, &result);
  g_assert_true (wb_app_blind_draw_finish (notebook, app_wait_result (&result), &error));
  g_assert_no_error (error);
  g_assert_cmpstr (wb_app_notebook_get_undo_label (notebook), ==, "Blind codes for HA-1");
  g_clear_object (&result);
  wb_app_pour_load_async (pour, NULL, app_keep_result_cb, &result);
  g_assert_true (wb_app_pour_load_finish (pour, app_wait_result (&result), &error));
  wb_app_labels_count (pour, G_MAXUINT, &without);
  g_assert_cmpuint (without, ==, 0);
  blind = app_read_paper (app_labels_new (pour, G_MAXUINT, &terms, &error));
  g_assert_no_error (error);
  terms.kind = WB_APP_LABELS_FOLDED_CARDS;
  terms.sheet = wb_report_cards_sheet (WB_REPORT_LETTER, TRUE);
  cards = app_read_paper (app_labels_new (pour, G_MAXUINT, &terms, &error));
  g_assert_no_error (error);
  g_assert_null (strstr (blind, cell));
  /* The control has no day on which it is smelt, and blind labels do not tell it by that. */
  g_assert_cmpuint (count_said (open, "Burn from"), ==, n);
  g_assert_cmpuint (count_said (open, "Smell from"), >, 0);
  g_assert_cmpuint (count_said (open, "Smell from"), <, n);
  g_assert_cmpuint (count_said (blind, "Smell from"), ==, n);
  for (guint i = 0; i < wb_app_pour_get_data (pour)->samples->len; i++)
    {
      const WbSample *sample = wb_dataset_get_sample (wb_app_pour_get_data (pour), i);
      g_autofree char *digits = g_strdup_printf ("%d", (int) sample->blind_code);

      g_assert_cmpint (sample->blind_code, >=, 100);
      g_assert_cmpint (sample->blind_code, <=, 999);
      g_assert_false (seen[sample->blind_code]);
      seen[sample->blind_code] = TRUE;
      g_assert_nonnull (strstr (open, sample->code));
      g_assert_null (strstr (blind, sample->code));
      g_assert_nonnull (strstr (blind, digits));
      g_assert_nonnull (strstr (cards, digits));
    }

  /* once more: there is nothing to draw */
  g_clear_object (&result);
  wb_app_blind_draw_async (bench, notebook, experiment, NULL, app_keep_result_cb, &result);
  g_assert_false (wb_app_blind_draw_finish (notebook, app_wait_result (&result), &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED);
  g_clear_error (&error);
  terms.first = 24;
  g_assert_null (app_labels_new (pour, 0, &terms, &error));
  g_assert_error (error, WB_REPORT_LABELS_ERROR, WB_REPORT_LABELS_ERROR_START);
  g_clear_object (&result);
  app_finalize (pour, "the pour");
  g_object_run_dispose (G_OBJECT (bench));
  g_object_unref (bench);
  app_close (notebook);
}

/* Own sheets come back from the settings as they were kept; what is no sheet does not. */
static void
test_label_sheets (void)
{
  g_autoptr (WbAppLabelSheets) sheets = wb_app_label_sheets_parse ("");
  g_autoptr (WbAppLabelSheets) again = NULL, broken = NULL;
  WbReportLabelSheet sheet = { 148, 210, 9, 11, 60, 44.5, 65, 48, 2, 4, 1.5, -2 };
  g_autofree char *text = NULL;

  g_assert_cmpuint (sheets->own->len, ==, 0);
  g_assert_cmpstr (sheets->chosen, ==, "");
  wb_app_label_sheets_keep (sheets, "Etiketten [klein]\n; ä", &sheet);
  wb_app_label_sheets_keep (sheets, "other", &sheet);
  sheet.rows = 3;
  wb_app_label_sheets_keep (sheets, "other", &sheet);
  g_free (sheets->chosen);
  sheets->chosen = g_strdup ("other");
  sheets->shift_x = -0.3;
  sheets->shift_y = 1.2;
  /* a sheet that was begun is gone on with; one that is full is followed by a new one */
  wb_app_label_sheets_use (sheets, "other", 0, 4);
  wb_app_label_sheets_use (sheets, "a4-24", 3, 50);
  wb_app_label_sheets_use (sheets, "letter-30", 0, 60);
  wb_app_label_sheets_use (sheets, "nobody's", 0, 5);
  text = wb_app_label_sheets_format (sheets);
  again = wb_app_label_sheets_parse (text);
  g_assert_cmpuint (again->own->len, ==, 2);
  g_assert_cmpstr (again->chosen, ==, "other");
  g_assert_cmpfloat (again->shift_x, ==, -0.3);
  g_assert_cmpfloat (again->shift_y, ==, 1.2);
  g_assert_cmpuint (wb_app_label_sheets_find (again, "Etiketten [klein]\n; ä")->sheet.rows, ==, 4);
  g_assert_cmpuint (wb_app_label_sheets_find (again, "other")->sheet.rows, ==, 3);
  g_assert_cmpuint (wb_app_label_sheets_get_next (again, "other"), ==, 4);
  g_assert_cmpuint (wb_app_label_sheets_get_next (again, "a4-24"), ==, 5);
  g_assert_cmpuint (wb_app_label_sheets_get_next (again, "letter-30"), ==, 0);
  g_assert_cmpuint (wb_app_label_sheets_get_next (again, "nobody's"), ==, 0);
  sheet.rows = 2;
  wb_app_label_sheets_keep (again, "other", &sheet);
  g_assert_cmpuint (wb_app_label_sheets_get_next (again, "other"), ==, 0);
  g_assert_cmpfloat (wb_app_label_sheets_find (again, "other")->sheet.height, ==, 44.5);
  g_assert_cmpfloat (wb_app_label_sheets_find (again, "other")->sheet.shift_x, ==, 0);
  wb_app_label_sheets_forget (again, "other");
  g_assert_null (wb_app_label_sheets_find (again, "other"));
  broken = wb_app_label_sheets_parse ("[labels]\nshift-x=99\nshift-y=nonsense\n[sheet 1]\nname=bad\nwidth=0\n[sheet 2]\npage-width=210\n]]");
  g_assert_cmpuint (broken->own->len, ==, 0);
  g_assert_cmpfloat (broken->shift_x, <=, 10);
  g_assert_cmpfloat (broken->shift_y, ==, 0);
}

static gboolean
is_loaded (gpointer bench)
{
  return wb_app_bench_get_loaded (bench);
}

/* The evening's samples, of one experiment. */
static void
test_log_sheet (void)
{
  WbAppNotebook *notebook = open_demo ();
  WbAppBench *bench = wb_app_bench_new (notebook);
  gint64 experiment = wb_app_query_find_experiment_sync (notebook, "FC-1", NULL);
  g_autofree char *text = NULL;
  guint there = 0;

  app_wait_until (is_loaded, bench, "the bench to load");
  text = app_read_paper (wb_app_papers_log_new (bench, wb_app_notebook_get_settings (notebook), experiment, -1));
  g_assert_nonnull (strstr (text, "Before the first light"));
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (bench)); i++)
    {
      g_autoptr (WbAppBenchSample) sample = g_list_model_get_item (G_LIST_MODEL (bench), i);
      WbAppBenchState state = wb_app_bench_sample_get_state (sample);

      if (wb_app_bench_sample_get_experiment (sample) != experiment || (state != WB_APP_BENCH_FIT && state != WB_APP_BENCH_ALIGHT))
        continue;
      there++;
      g_assert_nonnull (strstr (text, wb_app_bench_sample_get_code (sample)));
    }
  g_assert_cmpuint (there, >, 0);
  g_assert_null (wb_app_papers_log_new (bench, wb_app_notebook_get_settings (notebook), 123456, -1));
  g_assert_finalize_object (bench);
  app_close (notebook);
}

void
test_app_papers_add (void)
{
  g_test_add_func ("/app/papers/a-batch-sheet-names-every-sample", test_batch_sheet);
  g_test_add_func ("/app/papers/a-blind-label-does-not-tell", test_labels);
  g_test_add_func ("/app/papers/own-sheets-of-labels-come-back", test_label_sheets);
  g_test_add_func ("/app/papers/a-log-sheet-has-the-evenings-samples", test_log_sheet);
}
