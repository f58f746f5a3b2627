/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <string.h>

#include "test-views.h"

#include "wb-app-query.h"
#include "wb-plan-words.h"

/* Sentences about a plan. */

/* What the codes of an imported log look like says nothing: a run is told of a repeat alone. */
static void
test_run (void)
{
  WbWindow *window = test_window_new_demo ();
  GListModel *experiments = G_LIST_MODEL (wb_desk_get_experiments (wb_host_get_desk (WB_HOST (window))));
  g_autoptr (WbAppExperiment) experiment = g_list_model_get_item (experiments, 0);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbDataset) data = wb_app_query_dataset_sync (test_notebook (window), wb_app_experiment_get_record (experiment)->record.id, &error);
  g_autofree char *imported = NULL, *repeat = NULL;

  g_assert_no_error (error);
  for (guint i = 0; i < data->samples->len; i++)
    {
      WbSample *sample = data->samples->pdata[i];

      g_free (sample->code);
      sample->code = g_strdup_printf ("R2-A-%u", i + 1);
    }
  data->experiment->repeats = 0;
  imported = wb_plan_words_dup_code_key (data);
  g_assert_true (imported == NULL || strstr (imported, "repeat") == NULL);
  data->experiment->repeats = 1;
  repeat = wb_plan_words_dup_code_key (data);
  g_assert_nonnull (strstr (repeat, "R2\u00a0a repeat"));
  test_window_destroy (window);
}

void
test_plan_words_add (void)
{
  g_test_add_func ("/views/plan/a-run-is-told-of-a-repeat-alone", test_run);
}
