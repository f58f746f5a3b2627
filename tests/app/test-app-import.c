/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-evening.h"
#include "wb-app-export.h"
#include "wb-app-import.h"
#include "wb-app-query.h"
#include "wb-clock.h"

#include <glib/gstdio.h>

/* The sample logs of the exchange room: what they hold is told in the README beside them. */
static char *
sample_log (const char *name)
{
  return g_test_build_filename (G_TEST_DIST, "exchange", "data", name, NULL);
}

static WbAppImportSummary *
look (WbAppNotebook *notebook,
      const char    *file)
{
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  WbAppImportSummary *summary;

  wb_app_import_look_async (notebook, file, NULL, NULL, app_keep_result_cb, &result);
  summary = wb_app_import_finish (notebook, app_wait_result (&result), &error);
  g_assert_no_error (error);
  return summary;
}

static WbAppImportSummary *
write_log (WbAppNotebook            *notebook,
           const WbAppImportSummary *seen)
{
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  WbAppImportSummary *summary;

  wb_app_import_write_async (notebook, seen, NULL, app_keep_result_cb, &result);
  summary = wb_app_import_finish (notebook, app_wait_result (&result), &error);
  g_assert_no_error (error);
  return summary;
}

/* Looking writes nothing; the yes writes one entry; the same file again is known whole. */
static void
test_clean (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *file = sample_log ("burn-log-clean.csv");
  g_autoptr (WbAppImportSummary) seen = look (notebook, file);
  g_autoptr (WbAppImportSummary) written = NULL, again = NULL;
  g_autoptr (GPtrArray) experiments = NULL;

  g_assert_cmpuint (seen->rows, ==, 800);
  g_assert_cmpuint (seen->accepted, ==, 800);
  g_assert_cmpint (seen->entry, ==, 0);
  g_assert_cmpint (wb_app_notebook_get_last_entry (notebook), ==, 1);
  written = write_log (notebook, seen);
  g_assert_cmpuint (written->accepted, ==, 800);
  g_assert_cmpint (written->entry, ==, 2);
  g_assert_cmpint (wb_app_notebook_get_last_entry (notebook), ==, 2);
  experiments = wb_app_query_experiments_sync (notebook, NULL);
  g_assert_cmpuint (experiments->len, ==, 1);
  g_assert_cmpuint (wb_app_experiment_get_readings (g_ptr_array_index (experiments, 0)), ==, 800);
  again = look (notebook, file);
  g_assert_cmpuint (again->known, ==, 800);
  g_assert_cmpuint (again->accepted, ==, 0);
  app_close (notebook);
}

/* Which lines are refused is told by the README beside the log. */
static void
test_messy (void)
{
  const guint64 lines[] = { 12, 28, 82, 98, 110, 140, 144, 145 };
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *file = sample_log ("burn-log-messy.csv");
  g_autoptr (WbAppImportSummary) seen = look (notebook, file);
  g_autoptr (WbAppImportSummary) written = write_log (notebook, seen);

  g_assert_cmpuint (written->rows, ==, 150);
  g_assert_cmpuint (written->accepted, ==, 142);
  g_assert_cmpuint (written->refused->len, ==, G_N_ELEMENTS (lines));
  for (guint i = 0; i < G_N_ELEMENTS (lines); i++)
    g_assert_cmpuint (((WbLogRemark *) g_ptr_array_index (written->refused, i))->line, ==, lines[i]);
  app_close (notebook);
}

/* The file grows between the yes and the writing: what is written is what it holds then. */
static void
test_changed_between (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *log = sample_log ("burn-log-clean.csv");
  g_autofree char *copy = g_build_filename (g_get_user_data_dir (), "growing.csv", NULL);
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = NULL;
  g_autofree char *short_text = NULL;
  g_autoptr (WbAppImportSummary) seen = NULL, written = NULL;

  g_assert_true (g_file_get_contents (log, &text, NULL, NULL));
  lines = g_strsplit (text, "\n", 12);
  g_clear_pointer (&lines[11], g_free);
  short_text = g_strjoinv ("\n", lines);
  g_assert_true (g_file_set_contents (copy, short_text, -1, NULL));
  seen = look (notebook, copy);
  g_assert_cmpuint (seen->accepted, ==, 10);
  g_assert_true (g_file_set_contents (copy, text, -1, NULL));
  written = write_log (notebook, seen);
  g_assert_cmpuint (written->accepted, ==, 800);
  app_close (notebook);
}

static gboolean
is_gone (gpointer pointer)
{
  return *(gpointer *) pointer == NULL;
}

static void
test_cancel (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *file = sample_log ("burn-log-clean.csv");
  g_autoptr (WbAppImportSummary) seen = look (notebook, file);
  WbAppJob *job = wb_app_job_new ();
  gpointer held = wb_app_job_get_cancellable (job);
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;

  g_object_add_weak_pointer (held, &held);
  wb_app_job_cancel (job);
  wb_app_import_write_async (notebook, seen, job, app_keep_result_cb, &result);
  g_assert_null (wb_app_import_finish (notebook, app_wait_result (&result), &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_assert_cmpint (wb_app_notebook_get_last_entry (notebook), ==, 1);
  g_clear_object (&result);
  g_object_unref (job);
  /* The notebook that stays open does not keep what it would have cancelled. */
  app_wait_until (is_gone, &held, "what cancels to go");
  app_close (notebook);
}

/* Closing does not wait for an import: it waits for the saves before it, and then gives the import up. */
static void
test_close (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *file = sample_log ("burn-log-clean.csv"), *path = g_strdup (wb_app_notebook_get_path (notebook));
  g_autoptr (WbAppImportSummary) seen = look (notebook, file);
  g_autoptr (WbAppJob) job = wb_app_job_new ();
  g_autoptr (GAsyncResult) result = NULL;
  GAsyncResult *saved[20] = { NULL };
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (saved); i++)
    {
      g_autoptr (WbRecord) wax = wb_record_new (&wb_wax_type);

      ((WbWax *) wax)->name = g_strdup_printf ("Blend %u", i);
      wb_app_notebook_save_record_async (notebook, "Add a wax", wax, NULL, app_keep_result_cb, &saved[i]);
    }
  wb_app_import_write_async (notebook, seen, job, app_keep_result_cb, &result);
  wb_app_notebook_close (notebook);
  g_assert_null (wb_app_import_finish (notebook, app_wait_result (&result), &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  for (guint i = 0; i < G_N_ELEMENTS (saved); i++)
    {
      g_assert_cmpint (wb_app_notebook_save_finish (notebook, app_wait_result (&saved[i]), NULL, NULL), ==, i + 2);
      g_clear_object (&saved[i]);
    }
  g_clear_object (&result);
  app_close (notebook);
  notebook = app_open (path);
  g_assert_cmpint (wb_app_notebook_get_last_entry (notebook), ==, 21);
  app_close (notebook);
}

static void
test_missing_column (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *file = g_build_filename (g_get_user_data_dir (), "short.csv", NULL);
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_true (g_file_set_contents (file, "experiment,vessel\nA,B\n", -1, NULL));
  wb_app_import_look_async (notebook, file, NULL, NULL, app_keep_result_cb, &result);
  g_assert_null (wb_app_import_finish (notebook, app_wait_result (&result), &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED);
  g_assert_nonnull (strstr (error->message, "wick_series"));
  g_clear_object (&result);
  app_close (notebook);
}

/* Nothing written: no notebook is left behind. */
static void
test_no_file_left (void)
{
  const struct { WbAppImportMode mode; const char *log; } cases[] = {
    { WB_APP_IMPORT_DRY_RUN, "burn-log-clean.csv" },
    { WB_APP_IMPORT_STRICT, "burn-log-messy.csv" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *path = app_new_path ();
      g_autofree char *folder = g_path_get_dirname (path);
      g_autofree char *file = sample_log (cases[i].log);
      g_autoptr (GError) error = NULL;
      g_autoptr (WbAppImportSummary) summary = wb_app_import_sync (path, file, NULL, cases[i].mode, NULL, &error);
      g_autoptr (GDir) dir = NULL;

      g_assert_no_error (error);
      g_assert_cmpint (summary->entry, ==, 0);
      dir = g_dir_open (folder, 0, NULL);
      g_assert_null (g_dir_read_name (dir));
    }
}

static void
export_csv (WbAppNotebook *notebook,
            const char    *path)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (wb_app_export_sync (notebook, 0, WB_APP_EXPORT_CSV, path, NULL, &error));
  g_assert_no_error (error);
}

/* Export, import, export: the same bytes. */
static void
test_round_trip (void)
{
  const char *logs[] = { "burn-log-clean.csv", "burn-log-messy.csv" };

  for (guint i = 0; i < G_N_ELEMENTS (logs); i++)
    {
      g_autofree char *file = sample_log (logs[i]);
      g_autofree char *first = app_new_path (), *second = app_new_path ();
      g_autofree char *out = g_strconcat (first, ".csv", NULL), *again = g_strconcat (second, ".csv", NULL);
      g_autofree char *bytes = NULL, *other = NULL;
      g_autoptr (WbAppImportSummary) one = wb_app_import_sync (first, file, NULL, WB_APP_IMPORT_WRITE, NULL, NULL), two = NULL;
      WbAppNotebook *notebook = wb_app_notebook_open_sync (first, WB_APP_OPEN_READ, NULL, NULL);

      export_csv (notebook, out);
      app_close (notebook);
      two = wb_app_import_sync (second, out, NULL, WB_APP_IMPORT_STRICT, NULL, NULL);
      g_assert_cmpuint (two->refused_rows, ==, 0);
      g_assert_cmpuint (two->accepted, ==, one->accepted);
      notebook = wb_app_notebook_open_sync (second, WB_APP_OPEN_READ, NULL, NULL);
      export_csv (notebook, again);
      app_close (notebook);
      g_assert_true (g_file_get_contents (out, &bytes, NULL, NULL));
      g_assert_true (g_file_get_contents (again, &other, NULL, NULL));
      g_assert_cmpstr (bytes, ==, other);
    }
}

static void
test_export_refusals (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *linked = g_build_filename (g_get_user_data_dir (), "link.csv", NULL);
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (wb_app_export_format_from_path ("log.CSV", NULL), ==, WB_APP_EXPORT_CSV);
  g_assert_cmpint (wb_app_export_format_from_path ("log.txt", &error), ==, -1);
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_UNKNOWN);
  g_clear_error (&error);
  /* Not over the notebook itself, by whatever name. */
  g_assert_cmpint (symlink (wb_app_notebook_get_path (notebook), linked), ==, 0);
  g_assert_false (wb_app_export_sync (notebook, 0, WB_APP_EXPORT_CSV, linked, NULL, &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED);
  g_clear_error (&error);
  g_assert_false (wb_app_export_sync (notebook, 0, WB_APP_EXPORT_CSV, "/no/such/folder/x.csv", NULL, &error));
  g_assert_nonnull (error);
  app_close (notebook);
}

static gboolean
has_two_burns (gpointer notebook)
{
  g_autoptr (GPtrArray) burns = wb_app_query_list_sync (notebook, &wb_burn_type, NULL);

  return burns->len == 2;
}

/* A log has a later burn of a candle that burns at the bench: the flame stays in sight, with its number and what was told of it. */
static void
test_beside_a_flame (void)
{
  Evening evening;
  WbAppBenchSample *sample = evening_set_up_lit (&evening);
  g_autofree char *path = app_new_path (), *file = g_strconcat (path, ".csv", NULL);
  g_autofree char *log = NULL;
  g_autoptr (WbAppImportSummary) seen = NULL, written = NULL;
  g_autoptr (GError) error = NULL;
  GAsyncResult *result = NULL;

  wb_clock_advance (wb_clock_get (), HOUR_US);
  /* House: stopped above 50 mm. */
  evening_read_flame (&evening, sample, 60, 60);
  log = g_strdup_printf ("experiment,vessel,inner_diameter_mm,wax,wick_series,wick_size,load_pct,sample,burn,elapsed_min,flame_mm\n"
                         "Which Sedge for the Tern,Tern,76,Heath blend,Sedge,S-3,0,%s,7,90,20\n", wb_app_bench_sample_get_code (sample));
  g_assert_true (g_file_set_contents (file, log, -1, &error));
  seen = look (evening.notebook, file);
  g_assert_cmpuint (seen->accepted, ==, 1);
  written = write_log (evening.notebook, seen);
  app_wait_until (has_two_burns, evening.notebook, "the log in the record");
  /* What was saved after it, and read back, came from the record that has both. */
  evening_read_flame (&evening, sample, 61, 60.1);
  wb_app_bench_update (evening.bench);
  g_assert_cmpuint (wb_app_bench_get_alight (evening.bench), ==, 1);
  g_assert_cmpint (wb_app_bench_sample_get_state (sample), ==, WB_APP_BENCH_ALIGHT);
  g_assert_cmpint (wb_app_bench_sample_get_burn (sample)->number, ==, 1);
  g_assert_true (wb_app_bench_is_unanswered (sample));
  wb_app_bench_close_session_async (evening.bench, NULL, app_keep_result_cb, &result);
  g_assert_false (evening_finish (&evening, &result, &error));
  g_clear_error (&error);
  evening_snuff (&evening, sample);
  evening_wait_for_state (sample, WB_APP_BENCH_CROSSED);
  /* Two burns of one number would be one. */
  g_assert_cmpint (wb_app_bench_sample_get_burn_number (sample), ==, 8);
  evening_tear_down (&evening);
}

void
test_app_import_add (void)
{
  g_test_add_func ("/app/import/a-clean-log-comes-in-whole-and-is-known-then", test_clean);
  g_test_add_func ("/app/import/a-messy-log-comes-in-but-for-its-bad-rows", test_messy);
  g_test_add_func ("/app/import/a-file-that-changed-is-read-anew", test_changed_between);
  g_test_add_func ("/app/import/a-later-burn-in-a-log-hides-no-flame", test_beside_a_flame);
  g_test_add_func ("/app/import/cancelled-nothing-is-written", test_cancel);
  g_test_add_func ("/app/import/closing-gives-it-up", test_close);
  g_test_add_func ("/app/import/a-missing-column-is-named", test_missing_column);
  g_test_add_func ("/app/import/nothing-written-no-file-left", test_no_file_left);
  g_test_add_func ("/app/export/exported-imported-exported-the-same-bytes", test_round_trip);
  g_test_add_func ("/app/export/what-cannot-be-written-is-refused", test_export_refusals);
}
