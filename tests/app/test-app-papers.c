/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"
#include "wb-app-demo.h"
#include "wb-app-papers.h"
#include "wb-app-query.h"

#include <glib/gstdio.h>
#include <string.h>

/* Papers of the bench, made from the demo notebook as the window makes them. */

#define DATE "2026-03-02T08:07:00+00:00"

static WbAppNotebook *
open_demo (void)
{
  g_autofree char *path = app_new_path ();
  g_autoptr (GError) error = NULL;

  g_assert_true (wb_app_demo_write (path, &error));
  g_assert_no_error (error);
  return app_open (path);
}

/* What poppler reads of the document; takes it. */
static char *
read_paper (WbReportDocument *document)
{
  g_autofree char *path = app_new_path ();
  g_autofree char *text = NULL;
  g_autoptr (GBytes) pdf = NULL;
  g_autoptr (GSubprocess) process = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_nonnull (document);
  pdf = wb_report_document_dup_pdf (document, DATE, &error);
  g_assert_no_error (error);
  wb_report_document_free (document);
  g_assert_true (g_file_set_contents (path, g_bytes_get_data (pdf, NULL), (gssize) g_bytes_get_size (pdf), NULL));
  process = g_subprocess_new (G_SUBPROCESS_FLAGS_STDOUT_PIPE, &error, "pdftotext", "-raw", path, "-", NULL);
  g_assert_no_error (error);
  g_assert_true (g_subprocess_communicate_utf8 (process, NULL, NULL, &text, NULL, &error));
  g_assert_true (g_subprocess_get_successful (process));
  g_unlink (path);
  return g_steal_pointer (&text);
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
  g_autofree char *text = read_paper (wb_app_papers_batch_new (pour, 0, WB_REPORT_LETTER));
  g_autofree char *wax = wb_number_format (batch->sheet->wax_g, 1, NULL);

  g_assert_nonnull (strstr (text, wax));
  g_assert_nonnull (strstr (text, wb_app_pour_get_data (pour)->wax->name));
  g_assert_nonnull (strstr (text, "Invented data"));
  for (guint i = 0; i < batch->samples->len; i++)
    g_assert_nonnull (strstr (text, ((const WbSample *) g_ptr_array_index (batch->samples, i))->code));
  g_assert_finalize_object (pour);
  app_close (notebook);
}

/* A label for each sample; a blind one does not tell what is in it. */
static void
test_labels (void)
{
  WbAppNotebook *notebook = open_demo ();
  WbAppPour *pour = load_pour (notebook, "HA-1");
  const char *wick = ((const WbWick *) g_ptr_array_index (wb_app_pour_get_data (pour)->wicks, 0))->size;
  WbReportLabelSheet sheet = wb_report_label_sheet_preset (WB_REPORT_LABELS_A4_24);
  g_autofree char *cell = g_strdup_printf ("· %s ·", wick);
  g_autoptr (GError) error = NULL;
  g_autofree char *open = read_paper (wb_app_papers_labels_new (pour, G_MAXUINT, &sheet, 3, FALSE, FALSE, &error));
  g_autofree char *blind = read_paper (wb_app_papers_labels_new (pour, G_MAXUINT, &sheet, 3, FALSE, TRUE, &error));

  g_assert_no_error (error);
  g_assert_nonnull (strstr (open, cell));
  g_assert_null (strstr (blind, cell));
  for (guint i = 0; i < wb_app_pour_get_data (pour)->samples->len; i++)
    {
      const char *code = wb_dataset_get_sample (wb_app_pour_get_data (pour), i)->code;

      g_assert_nonnull (strstr (open, code));
      g_assert_nonnull (strstr (blind, code));
    }
  g_assert_null (wb_app_papers_labels_new (pour, 0, &sheet, 24, FALSE, FALSE, &error));
  g_assert_error (error, WB_REPORT_LABELS_ERROR, WB_REPORT_LABELS_ERROR_START);
  g_assert_finalize_object (pour);
  app_close (notebook);
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
  text = read_paper (wb_app_papers_log_new (bench, wb_app_notebook_get_settings (notebook), experiment, -1));
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
  g_test_add_func ("/app/papers/a-log-sheet-has-the-evenings-samples", test_log_sheet);
}
