/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The same charts from a thread: nothing that they need may go meanwhile. */
#include "config.h"

#include <string.h>

#include "plot-bench.h"
#include "test-craft.h"
#include "wb-app-chart.h"
#include "wb-plot-beside.h"

typedef struct
{
  WbChart *chart;
  GError  *error;
  gboolean done;
} Result;

static void
on_done_cb (GObject      *source,
            GAsyncResult *result,
            gpointer      user)
{
  Result *self = user;

  self->chart = wb_app_chart_beside_finish (result, &self->error);
  self->done = TRUE;
}

static void
wait_for (Result *result)
{
  gint64 end = g_get_monotonic_time () + 30 * G_USEC_PER_SEC;

  while (!result->done)
    {
      g_assert_cmpint (g_get_monotonic_time (), <, end);
      g_main_context_iteration (NULL, FALSE);
      g_usleep (200);
    }
}

/* The caller lets go of answers, picks and options as soon as it has asked. */
static void
test_keeps_what_it_needs (void)
{
  WbCraftAnswer *one = plot_bench_small (2), *other = plot_bench_small (1);
  WbCraftPick   *picks = g_new (WbCraftPick, 2);
  char          *font = g_strdup ("Sans");
  WbPlotOptions  options;
  Result         result = { 0 };

  picks[0] = (WbCraftPick) { one, 1, -1 };
  picks[1] = (WbCraftPick) { other, 0, 1 };
  wb_plot_options_init (&options, FALSE);
  options.font_family = font;
  wb_app_chart_beside_async (picks, 2, WB_PLOT_RINGS, &options, NULL, on_done_cb, &result);
  memset (picks, 0xff, 2 * sizeof *picks);
  g_free (picks);
  memset (font, '?', strlen (font));
  g_free (font);
  wb_craft_answer_unref (one);
  wb_craft_answer_unref (other);
  wait_for (&result);
  g_assert_no_error (result.error);
  g_assert_cmpuint (wb_chart_get_n_panels (result.chart), ==, 2);
  g_assert_cmpstr (wb_chart_get_font_family (result.chart), ==, "Sans");
  wb_chart_unref (result.chart);
}

static void
test_cancelled (void)
{
  g_autoptr (WbCraftAnswer) one = plot_bench_small (1);
  g_autoptr (GCancellable)  cancellable = g_cancellable_new ();
  const WbCraftPick         pick = { one, 0, -1 };
  WbPlotOptions             options;
  Result                    result = { 0 };

  wb_plot_options_init (&options, FALSE);
  wb_app_chart_beside_async (&pick, 1, WB_PLOT_GROWTH, &options, cancellable, on_done_cb, &result);
  g_cancellable_cancel (cancellable);
  wait_for (&result);
  g_assert_null (result.chart);
  g_assert_error (result.error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_error_free (result.error);
}

static void
test_refused (void)
{
  g_autoptr (WbCraftAnswer) one = plot_bench_small (1);
  const WbCraftPick         pick = { one, 7, -1 };
  WbPlotOptions             options;
  Result                    result = { 0 };

  wb_plot_options_init (&options, FALSE);
  wb_app_chart_beside_async (&pick, 1, WB_PLOT_LIFE, &options, NULL, on_done_cb, &result);
  wait_for (&result);
  g_assert_null (result.chart);
  g_assert_error (result.error, WB_PLOT_ERROR, WB_PLOT_ERROR_CELL);
  g_error_free (result.error);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/app/chart/beside-keeps-what-it-needs", test_keeps_what_it_needs);
  g_test_add_func ("/app/chart/beside-can-be-cancelled", test_cancelled);
  g_test_add_func ("/app/chart/beside-refuses-what-is-not-there", test_refused);
  return g_test_run ();
}
