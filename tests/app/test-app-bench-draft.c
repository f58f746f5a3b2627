/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-evening.h"
#include "wb-app-bench-draft.h"

/* What is half typed at the bench, kept over a stop of the program: whose it is. */

static GKeyFile *
load (WbAppBench *bench)
{
  GAsyncResult *result = NULL;
  GKeyFile *file;

  wb_app_bench_draft_load_async (bench, NULL, app_keep_result_cb, &result);
  app_wait_result (&result);
  file = wb_app_bench_draft_load_finish (bench, result);
  g_object_unref (result);
  return file;
}

static void
keep (WbAppBench       *bench,
      WbAppBenchSample *sample,
      const char       *note)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_autofree char *text = NULL;

  g_key_file_set_string (file, "1", "note", note);
  wb_app_bench_draft_mark (file, "1", sample);
  text = g_key_file_to_data (file, NULL, NULL);
  wb_app_bench_draft_keep_soon (bench, text);
}

/* A copy has the notebook's UUID and its samples: nothing of the other is put back in it, and nothing it keeps takes the other's place. */
static void
test_copy (void)
{
  Evening evening, other = { 0 };
  g_autofree char *copy = NULL, *bytes = NULL, *note = NULL;
  g_autoptr (GKeyFile) file = NULL;
  g_autoptr (GError) error = NULL;
  gsize length;

  evening_set_up (&evening);
  keep (evening.bench, evening_nth (&evening, 0), "of the first");
  copy = g_strconcat (wb_app_notebook_get_path (evening.notebook), " copy.wickbench", NULL);
  g_assert_true (g_file_get_contents (wb_app_notebook_get_path (evening.notebook), &bytes, &length, NULL));
  g_assert_true (g_file_set_contents (copy, bytes, (gssize) length, NULL));

  evening_reopen (&other, copy);
  file = load (other.bench);
  g_assert_false (g_key_file_has_group (file, "1"));
  wb_app_bench_draft_keep_soon (other.bench, NULL);
  g_clear_pointer (&file, g_key_file_unref);
  file = load (other.bench);
  g_assert_false (g_key_file_has_group (file, "1"));
  evening_tear_down (&other);

  g_clear_pointer (&file, g_key_file_unref);
  file = load (evening.bench);
  note = g_key_file_get_string (file, "1", "note", &error);
  g_assert_no_error (error);
  g_assert_cmpstr (note, ==, "of the first");
  g_assert_true (wb_app_bench_draft_is_unsaved (file, "1", evening_nth (&evening, 0)));
  wb_app_bench_draft_keep_soon (evening.bench, NULL);
  evening_tear_down (&evening);
}

/* Two that were never lit are told apart though they have the same burns: none. */
static void
test_sample (void)
{
  Evening evening;
  g_autoptr (GKeyFile) file = g_key_file_new ();

  evening_set_up (&evening);
  wb_app_bench_draft_mark (file, "1", evening_nth (&evening, 0));
  g_assert_true (wb_app_bench_draft_is_unsaved (file, "1", evening_nth (&evening, 0)));
  g_assert_false (wb_app_bench_draft_is_unsaved (file, "1", evening_nth (&evening, 1)));
  evening_tear_down (&evening);
}

void
test_app_bench_draft_add (void)
{
  g_test_add_func ("/app/bench-draft/a-copy-takes-nothing-half-typed-of-the-other", test_copy);
  g_test_add_func ("/app/bench-draft/it-is-of-its-own-sample-alone", test_sample);
}
