/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Names of any length and script, and samples that do not count. */
#include "config.h"

#include "test-plot.h"

#include <math.h>
#include <string.h>

#include "plot-bench.h"
#include "wb-chart-layout.h"

static void
set_text (char      **place,
          const char *text)
{
  g_free (*place);
  *place = g_strdup (text);
}

static void
check_sizes (WbChart *chart)
{
  static const double sizes[][2] = { { 768, 525 }, { 480, 300 }, { 240, 160 } };

  for (gsize i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      g_autoptr (GError)        error = NULL;
      g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, sizes[i][0], sizes[i][1], 1.0, &error);

      g_assert_no_error (error);
    }
}

static void
test_long_names (void)
{
  g_autoptr (WbCraftAnswer) answer = plot_bench_small (2);
  g_autofree char          *name = g_strnfill (10000, 'w');

  set_text (&((WbVessel *) g_ptr_array_index (answer->data->vessels, 0))->name, name);
  for (guint i = 0; i < answer->data->wicks->len; i++)
    {
      g_autofree char *size = g_strdup_printf ("%u%s", i, name);

      set_text (&((WbWick *) g_ptr_array_index (answer->data->wicks, i))->size, size);
    }
  for (int kind = 0; kind < WB_PLOT_N_KINDS; kind++)
    {
      g_autoptr (WbChart) chart = test_plot_new (kind, answer);

      g_assert_cmpint (g_utf8_strlen (wb_chart_get_title (chart), -1), <, 400);
      g_assert_cmpint (g_utf8_strlen (wb_chart_get_description (chart), -1), <, 4000);
      check_sizes (chart);
    }
}

static void
test_scripts (void)
{
  static const char *const names[] = { "مثال شمعة", "דוגמה", "蜡烛", "🕯️🕯️", "a\tb\nc", "50 % ‰ %s %n" };

  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autoptr (WbCraftAnswer) answer = plot_bench_small (2);

      for (guint k = 0; k < answer->data->wicks->len; k++)
        {
          g_autofree char *size = g_strdup_printf ("%s %u", names[i], k);

          set_text (&((WbWick *) g_ptr_array_index (answer->data->wicks, k))->size, size);
        }
      for (int kind = 0; kind < WB_PLOT_N_KINDS; kind++)
        {
          g_autoptr (WbChart) chart = test_plot_new (kind, answer);

          g_assert_true (g_utf8_validate (wb_chart_get_title (chart), -1, NULL));
          g_assert_true (g_utf8_validate (wb_chart_get_description (chart), -1, NULL));
          check_sizes (chart);
        }
    }
}

/* A right-to-left name is set apart, so that the sentence around it keeps its order. */
static void
test_right_to_left (void)
{
  g_autoptr (WbCraftAnswer) answer = plot_bench_small (1);

  set_text (&((WbWick *) g_ptr_array_index (answer->data->wicks, 0))->size, "דוגמה");
  g_autoptr (WbChart) chart = test_plot_new (WB_PLOT_GROWTH, answer);
  g_assert_nonnull (strstr (wb_chart_get_title (chart), "\342\201\250דוגמה\342\201\251"));
}

static void
test_set_aside (void)
{
  g_autoptr (WbCraftAnswer) all = plot_bench_small (1);
  g_autoptr (WbCraftAnswer) less = plot_bench_small (1);
  WbSample                 *sample = g_ptr_array_index (less->data->samples, 0);

  sample->set_aside_cause = WB_CAUSE_CAVITY;
  g_autoptr (WbChart) whole = test_plot_new (WB_PLOT_GROWTH, all);
  g_autoptr (WbChart) rest = test_plot_new (WB_PLOT_GROWTH, less);
  g_assert_nonnull (strstr (wb_chart_get_footnote (whole), "16 readings"));
  g_assert_nonnull (strstr (wb_chart_get_footnote (rest), "8 readings"));
  g_assert_nonnull (strstr (wb_chart_get_footnote (rest), "8 not counted"));

  /* Asked for by itself it is shown. */
  WbPlotOptions options;
  wb_plot_options_init (&options, FALSE);
  options.sample = 0;
  g_autoptr (WbChart) alone = wb_plot_new (WB_PLOT_GROWTH, less, &options, NULL);
  g_assert_nonnull (strstr (wb_chart_get_footnote (alone), "8 readings"));
  g_assert_null (strstr (wb_chart_get_footnote (alone), "not counted"));
}

/* Estimates that are not numbers, or absurd ones, make a chart of words, never a crash or an endless axis. */
static void
test_hopeless (void)
{
  const double values[] = { NAN, INFINITY, -INFINITY, 0.0, -5.0, 1e300 };

  for (gsize i = 0; i < G_N_ELEMENTS (values); i++)
    {
      g_autoptr (WbCraftAnswer) answer = plot_bench_small (2);
      WbCraftInterval           interval = { values[i], values[i], values[i] };

      for (guint cell = 0; cell < 2; cell++)
        {
          WbCraftCell *estimates = &answer->estimates->cells[cell];

          estimates->growth.full_pool_h = estimates->growth.pool_limit_mm = estimates->growth.tau_h = interval;
          for (int figure = 0; figure < WB_N_FIGURES; figure++)
            estimates->figure[figure].told = interval;
          answer->ranking->groups[0].cells[cell].score = interval;
          answer->ranking->groups[0].cells[cell].p_best = values[i];
        }
      for (int kind = 0; kind < WB_PLOT_N_KINDS; kind++)
        {
          g_autoptr (WbChart) chart = test_plot_new (kind, answer);

          check_sizes (chart);
        }
    }
}

/* A curve that is no plain fit says so under it; plain ones need no word. */
static void
test_fits_are_told (void)
{
  g_autoptr (WbCraftAnswer) answer = plot_bench_small (2);
  g_autoptr (WbChart)       plain = NULL, told = NULL;

  for (guint cell = 0; cell < 2; cell++)
    answer->estimates->cells[cell].growth.status = WB_CRAFT_FIT_OK;
  plain = test_plot_new (WB_PLOT_GROWTH, answer);
  g_assert_null (strstr (wb_chart_get_footnote (plain), "held by an earlier ring"));
  answer->estimates->cells[1].growth.status = WB_CRAFT_FIT_HELD;
  told = test_plot_new (WB_PLOT_GROWTH, answer);
  g_assert_nonnull (strstr (wb_chart_get_footnote (told), ": every pool is held by an earlier ring."));
}

void
test_names_add (void)
{
  g_test_add_func ("/plot/names/of-10000-characters-are-cut", test_long_names);
  g_test_add_func ("/plot/names/of-any-script-are-drawn", test_scripts);
  g_test_add_func ("/plot/names/right-to-left-is-set-apart", test_right_to_left);
  g_test_add_func ("/plot/names/a-sample-set-aside-is-counted-out", test_set_aside);
  g_test_add_func ("/plot/names/hopeless-estimates-make-words", test_hopeless);
  g_test_add_func ("/plot/names/curves-that-are-no-plain-fits", test_fits_are_told);
}
