/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-demo.h"
#include "wb-craft-method.h"
#include "wb-store-check.h"
#include "wb-store-dataset.h"
#include "wb-store-records.h"

#include <glib/gstdio.h>
#include <gsl/gsl_errno.h>
#include <math.h>

static char *folder;

static WbStore *
open_demo (const char *name)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);
  g_autoptr (GError) error = NULL;
  WbStore *store;

  if (!g_file_test (path, G_FILE_TEST_EXISTS))
    {
      wb_app_demo_write (path, &error);
      g_assert_no_error (error);
    }
  store = wb_store_open (path, WB_STORE_READ, &error);
  g_assert_no_error (error);
  return store;
}

static WbDataset *
load (WbStore    *store,
      const char *code)
{
  g_autoptr (GError) error = NULL;
  gint64 id = wb_store_find_by_text (store, &wb_experiment_type, "code", code, &error);
  WbDataset *data;

  g_assert_no_error (error);
  g_assert_cmpint (id, >, 0);
  data = wb_store_load_dataset (store, id, &error);
  g_assert_no_error (error);
  return data;
}

static void
test_says_that_it_is_invented (void)
{
  g_autoptr (WbStore) store = open_demo ("demo.wickbench");
  g_autoptr (WbRecord) notebook = wb_store_load_notebook (store, NULL);

  g_assert_true (((WbNotebook *) notebook)->invented);
}

static void
test_will_not_write_over_a_file (void)
{
  g_autofree char *path = g_build_filename (folder, "taken.wickbench", NULL);
  g_autoptr (GError) error = NULL;
  g_autofree char *content = NULL;

  g_assert_true (g_file_set_contents (path, "mine", -1, NULL));
  g_assert_false (wb_app_demo_write (path, &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_EXISTS);
  g_assert_true (g_file_get_contents (path, &content, NULL, NULL));
  g_assert_cmpstr (content, ==, "mine");
}

/* Caps and flames grow from zero, depth does not jump about, hang-up agrees with the ring. */
static void
test_readings_are_those_of_a_flame (void)
{
  g_autoptr (WbStore) store = open_demo ("demo.wickbench");
  g_autoptr (WbDataset) data = load (store, "HF-1");
  guint n = wb_readings_get_length (data->readings);
  guint judged = 0;

  g_assert_cmpuint (n, >, 2000);
  for (guint row = 0; row < n; row++)
    {
      guint burn = wb_readings_get_burn (data->readings, row);
      double inner = wb_dataset_get_vessel (data, g_array_index (data->sample_cell, guint, g_array_index (data->burn_sample, guint, burn)))->inner_diameter_mm;
      double hang_up = wb_readings_get (data->readings, row, WB_COLUMN_HANG_UP_MM);
      double depth = wb_readings_get (data->readings, row, WB_COLUMN_DEPTH_MM);
      WbPool pool;

      if (isnan (hang_up) || !wb_readings_get_pool (data->readings, row, inner, &pool))
        continue;
      judged++;
      /* 2 mm: both are read with an error; the wall may still hold what an earlier burn left */
      g_assert_cmpfloat (hang_up, >=, (inner - pool.diameter_mm) / 2 - 2);
      if (row > 0 && wb_readings_get_burn (data->readings, row - 1) == burn && wb_readings_taken (data->readings, row - 1, WB_COLUMN_DEPTH_MM)
          && wb_readings_taken (data->readings, row, WB_COLUMN_DEPTH_MM))
        g_assert_cmpfloat (fabs (depth - wb_readings_get (data->readings, row - 1, WB_COLUMN_DEPTH_MM)), <, 6);
    }
  g_assert_cmpuint (judged, >, 200);
}

static void
test_holds_every_state (void)
{
  static const struct { const char *code; gboolean closed, poured, burnt; } cases[] = {
    { "HF-1", TRUE, TRUE, TRUE }, { "TH-1", TRUE, TRUE, TRUE }, { "FC-1", FALSE, TRUE, TRUE },
    { "HA-1", FALSE, TRUE, FALSE }, { "TC-1", FALSE, FALSE, FALSE },
  };
  g_autoptr (WbStore) store = open_demo ("demo.wickbench");

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WbDataset) data = load (store, cases[i].code);
      const WbSample *sample = wb_dataset_get_sample (data, 0);

      g_test_message ("%s", cases[i].code);
      g_assert_cmpint (data->experiment->closed, ==, cases[i].closed);
      g_assert_cmpint (sample->poured_on != WB_DAY_NONE, ==, cases[i].poured);
      g_assert_cmpint (data->burns->len > 0, ==, cases[i].burnt);
    }
}

/* What a workshop does besides: steps written down with a deviation, a reference kept, a combination left out, a wax that crystallises. */
static void
test_holds_what_a_workshop_does (void)
{
  g_autoptr (WbStore) store = open_demo ("demo.wickbench");
  g_autoptr (WbDataset) burning = load (store, "FC-1"), finished = load (store, "HF-1"), planned = load (store, "TC-1");
  g_autoptr (GPtrArray) waxes = NULL, method = NULL, lines = NULL;
  g_autoptr (GError) error = NULL;
  const WbWax *crystal = NULL;
  guint references = 0, left_out = 0;

  g_assert_cmpuint (burning->batch_steps->len, >, 5);
  g_assert_nonnull (strstr (((const WbBatch *) burning->batches->pdata[0])->deviation, "Invented"));
  lines = wb_craft_method_deviations (burning->batch_steps, NULL, FALSE);
  g_assert_cmpuint (lines->len, ==, 1);
  g_assert_nonnull (strstr (lines->pdata[0], "planned 68"));

  for (guint i = 0; i < finished->samples->len; i++)
    {
      const WbSample *sample = wb_dataset_get_sample (finished, i);

      if (!sample->retained)
        continue;
      references++;
      g_assert_nonnull (sample->place);
      g_assert_cmpint (sample->keep_until, !=, WB_DAY_NONE);
      for (guint k = 0; k < finished->burns->len; k++)
        g_assert_cmpint (((const WbBurn *) finished->burns->pdata[k])->sample, !=, sample->record.id);
    }
  g_assert_cmpuint (references, ==, 1);
  for (guint i = 0; i < planned->cells->len; i++)
    left_out += wb_dataset_get_cell (planned, i)->left_out;
  g_assert_cmpuint (left_out, ==, 1);
  g_assert_cmpuint (planned->samples->len, ==, 9);

  waxes = wb_store_list (store, &wb_wax_type, NULL, 0, &error);
  g_assert_no_error (error);
  for (guint i = 0; i < waxes->len; i++)
    if (((const WbWax *) waxes->pdata[i])->crystallises)
      crystal = waxes->pdata[i];
  g_assert_nonnull (crystal);
  g_assert_nonnull (strstr (crystal->note, "Invented"));
  method = wb_store_list (store, &wb_method_step_type, "wax", crystal->record.id, &error);
  g_assert_no_error (error);
  for (guint kind = 0; kind < 4; kind++)
    {
      static const int wanted[] = { WB_STEP_PREHEAT, WB_STEP_INSULATE, WB_STEP_PIERCE, WB_STEP_TOP_UP };
      gboolean found = FALSE;

      for (guint i = 0; i < method->len; i++)
        found = found || ((const WbMethodStep *) method->pdata[i])->kind == wanted[kind];
      g_assert_true (found);
    }
  g_assert_cmpfloat (crystal->hold_back_pct, >, 0);
}

static void
test_passes_its_own_check (void)
{
  g_autoptr (WbStore) store = open_demo ("demo.wickbench");
  g_autoptr (GError) error = NULL;

  g_assert_true (wb_store_quick_check (store, NULL, NULL, &error));
  g_assert_no_error (error);
}

int
main (int    argc,
      char **argv)
{
  int status;

  /* a standing clock, so that the demo is the same whenever the tests run */
  g_setenv ("WICKBENCH_CLOCK", "2026-10-14T19:00:00+00:00,0", TRUE);
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  folder = g_dir_make_tmp ("wickbench-demo-XXXXXX", NULL);
  g_test_add_func ("/app/demo/says-that-it-is-invented", test_says_that_it_is_invented);
  g_test_add_func ("/app/demo/will-not-write-over-a-file", test_will_not_write_over_a_file);
  g_test_add_func ("/app/demo/readings-are-those-of-a-flame", test_readings_are_those_of_a_flame);
  g_test_add_func ("/app/demo/holds-every-state", test_holds_every_state);
  g_test_add_func ("/app/demo/holds-what-a-workshop-does", test_holds_what_a_workshop_does);
  g_test_add_func ("/app/demo/passes-its-own-check", test_passes_its_own_check);
  status = g_test_run ();
  {
    static const char *const names[] = { "demo.wickbench", "taken.wickbench" };

    for (guint i = 0; i < G_N_ELEMENTS (names); i++)
      {
        g_autofree char *path = g_build_filename (folder, names[i], NULL);

        g_unlink (path);
      }
    g_rmdir (folder);
  }
  g_free (folder);
  return status;
}
