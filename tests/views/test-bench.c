/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-bench.h"

#include "test-views.h"

void
test_bench_done_cb (GObject      *source,
                    GAsyncResult *result,
                    gpointer      done)
{
  g_autoptr (GError) error = NULL;

  *(gboolean *) done = wb_app_bench_finish (WB_APP_BENCH (source), result, &error);
  g_assert_no_error (error);
}

static gboolean
is_loaded (gpointer user)
{
  return wb_app_bench_get_loaded (user);
}

static gboolean
has_session (gpointer user)
{
  return wb_app_bench_get_session (user) != NULL;
}

static gboolean
is_alight (gpointer user)
{
  return wb_app_bench_sample_get_state (user) == WB_APP_BENCH_ALIGHT;
}

static gboolean
is_out (gpointer user)
{
  return !is_alight (user);
}

void
test_bench_open_session (WbAppBench *bench)
{
  gboolean done = FALSE;

  test_wait (is_loaded, bench);
  wb_app_bench_open_session_async (bench, "Kitchen", "Robin", TRUE, NULL, test_bench_done_cb, &done);
  test_wait (test_is_true, &done);
  test_wait (has_session, bench);
}

WbAppBenchSample *
test_bench_light_first (WbAppBench *bench)
{
  g_autoptr (WbAppBenchSample) sample = NULL;
  gboolean done = FALSE;

  test_bench_open_session (bench);
  sample = g_list_model_get_item (G_LIST_MODEL (bench), 0);
  wb_app_bench_light_async (bench, wb_app_bench_sample_get_id (sample), WB_BURN_STANDARD, 6, "1", WB_INSTANT_NONE, NULL, FALSE, NULL,
                            test_bench_done_cb, &done);
  test_wait (test_is_true, &done);
  test_wait (is_alight, sample);
  return sample;
}

void
test_bench_snuff (WbAppBench       *bench,
                  WbAppBenchSample *sample)
{
  gboolean done = FALSE;

  wb_app_bench_snuff_async (bench, wb_app_bench_sample_get_id (sample), WB_EVENT_SNUFFED, NULL, NULL, test_bench_done_cb, &done);
  test_wait (test_is_true, &done);
  test_wait (is_out, sample);
}

gboolean
test_bench_send_key (GtkWidget *widget,
                     guint      keyval)
{
  gboolean handled = FALSE;

  for (widget = GTK_IS_TEXT (widget) ? gtk_widget_get_parent (widget) : widget; widget != NULL && !handled; widget = gtk_widget_get_parent (widget))
    {
      g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (widget);

      for (guint i = 0; i < g_list_model_get_n_items (controllers) && !handled; i++)
        {
          g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);

          if (GTK_IS_EVENT_CONTROLLER_KEY (controller))
            g_signal_emit_by_name (controller, "key-pressed", keyval, 0u, (GdkModifierType) 0, &handled);
        }
    }
  return handled;
}
