/* SPDX-License-Identifier: GPL-3.0-or-later */
/* For eyes: every kind of chart of an invented experiment, light and dark, large and in a report's column, its first group in US units, and what can be laid side by side. */
#include "config.h"

#include <stdlib.h>

#include "plot-bench.h"
#include "wb-chart-output.h"
#include "wb-plot-beside.h"
#include "wb-plot-ladder.h"
#include "wb-plot.h"

static void
write_chart (WbChart      *chart,
             const char   *folder,
             const char   *name,
             double        width,
             double        height,
             WbChartTheme  theme)
{
  g_autofree char   *file = g_strconcat (name, ".png", NULL);
  g_autofree char   *path = g_build_filename (folder, file, NULL);
  g_autoptr (GError) error = NULL;
  WbChartOutput      output = WB_CHART_OUTPUT_INIT (WB_CHART_FORMAT_PNG);

  output.width = width;
  output.height = height;
  output.theme = theme;
  output.scale = 1.5;
  if (!wb_chart_output_write (chart, &output, path, &error))
    g_printerr ("%s: %s\n", path, error->message);
}

/* Picks of that experiment and of another, and two samples of one cell. */
static void
write_beside (WbCraftAnswer *answer,
              const char    *folder)
{
  const PlotBenchSpec       spec = { 3, 2, 1, 2, 6 };
  WbDataset                *data = plot_bench_data_new (&spec, 11);
  g_autoptr (WbCraftAnswer) other = NULL;

  g_free (data->experiment->code);
  data->experiment->code = g_strdup ("T2");
  other = plot_bench_answer_new (data, WB_CRAFT_WITHIN_SCENT);

  const WbCraftPick picks[] = { { answer, 1, -1 }, { answer, 2, -1 }, { other, 2, -1 }, { other, 5, -1 }, { answer, 3, 6 }, { answer, 3, 7 } };

  for (int kind = 0; kind < WB_PLOT_N_KINDS; kind++)
    for (guint n = 2; n <= G_N_ELEMENTS (picks) && wb_plot_kind_takes_picks (kind); n += 2)
      {
        g_autoptr (WbChart) chart = wb_plot_beside_new (kind, picks, n, NULL, NULL);
        g_autofree char    *name = g_strdup_printf ("beside-%s-%u", wb_plot_kind_get_key (kind), n);

        write_chart (chart, folder, name, 720.0, 480.0, WB_CHART_THEME_LIGHT);
        g_print ("%s\n  %s\n  %s\n", wb_chart_get_title (chart), wb_chart_get_description (chart), wb_chart_get_footnote (chart));
      }
}

static void
write_ladder (const char *folder)
{
  WbCraftLadder      *ladder = plot_bench_ladder_new ();
  g_autoptr (WbChart) top = wb_plot_ladder_new (ladder, WB_PLOT_LADDER_TOP, FALSE, TRUE), both = wb_plot_ladder_new (ladder, WB_PLOT_LADDER_BOTH, TRUE, TRUE);

  write_chart (top, folder, "ladder", 600.0, wb_plot_ladder_get_height (top, 600.0), WB_CHART_THEME_LIGHT);
  write_chart (top, folder, "ladder-dark", 480.0, wb_plot_ladder_get_height (top, 480.0), WB_CHART_THEME_DARK);
  g_autoptr (WbChart) several = NULL;

  ladder->question.wicks = 3;
  ladder->shares_vessel = TRUE;
  several = wb_plot_ladder_new (ladder, WB_PLOT_LADDER_TOP, FALSE, TRUE);
  write_chart (several, folder, "ladder-several", 600.0, wb_plot_ladder_get_height (several, 600.0), WB_CHART_THEME_LIGHT);
  write_chart (both, folder, "ladder-both", 480.0, wb_plot_ladder_get_height (both, 480.0), WB_CHART_THEME_LIGHT);
  g_print ("%s\n  %s\n  %s\n", wb_chart_get_title (both), wb_chart_get_description (both), wb_chart_get_footnote (both));
  wb_craft_ladder_free (ladder);
}

int
main (int   argc,
      char *argv[])
{
  PlotBenchSpec              spec = { 2, 5, 1, 2, 0 };
  g_autoptr (WbCraftAnswer)  answer = NULL;

  if (argc < 2)
    {
      g_printerr ("usage: plot-gallery FOLDER [VESSELS WICKS SCENTS SAMPLES BURNS]\n");
      return 2;
    }
  if (argc >= 7)
    spec = (PlotBenchSpec) { atoi (argv[2]), atoi (argv[3]), atoi (argv[4]), atoi (argv[5]), atoi (argv[6]) };
  answer = plot_bench_answer_new (plot_bench_data_new (&spec, 7), WB_CRAFT_WITHIN_SCENT);
  for (int kind = 0; kind < WB_PLOT_N_KINDS; kind++)
    {
      g_autoptr (WbChart) chart = wb_plot_new (kind, answer, NULL, NULL);
      const char         *key = wb_plot_kind_get_key (kind);
      g_autofree char    *dark = g_strconcat (key, "-dark", NULL);
      g_autofree char    *column = g_strconcat (key, "-column", NULL);
      g_autofree char    *page = g_strconcat (key, "-page", NULL);
      g_autofree char    *us = g_strconcat (key, "-us", NULL);
      WbPlotOptions       options;

      wb_plot_options_init (&options, TRUE);
      options.group = answer->ranking->n_groups > 0 ? 0 : -1;
      g_autoptr (WbChart) group = wb_plot_new (kind, answer, &options, NULL);

      write_chart (chart, argv[1], key, 768.0, 525.0, WB_CHART_THEME_LIGHT);
      write_chart (chart, argv[1], dark, 768.0, 525.0, WB_CHART_THEME_DARK);
      write_chart (chart, argv[1], column, 480.0, 300.0, WB_CHART_THEME_LIGHT);
      write_chart (chart, argv[1], page, 480.0, wb_plot_get_height (kind, chart, 480.0), WB_CHART_THEME_LIGHT);
      write_chart (group, argv[1], us, 480.0, wb_plot_get_height (kind, group, 480.0), WB_CHART_THEME_LIGHT);
      g_print ("%s\n  %s\n  %s\n", wb_chart_get_title (chart), wb_chart_get_description (chart), wb_chart_get_footnote (chart));
    }
  write_beside (answer, argv[1]);
  write_ladder (argv[1]);
  return 0;
}
