/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writes every sample chart into a folder, to be looked at: gallery FOLDER [WIDTH HEIGHT [TEXT-SCALE [THEME [FORMAT]]]]. */
#include "config.h"

#include <stdlib.h>

#include "sample-charts.h"
#include "wb-chart-output.h"

int
main (int    argc,
      char **argv)
{
  WbChartOutput output = WB_CHART_OUTPUT_INIT (WB_CHART_FORMAT_PNG);

  if (argc < 2)
    {
      g_printerr ("gallery FOLDER [WIDTH HEIGHT [TEXT-SCALE [THEME [png|svg|pdf]]]]\n");
      return 2;
    }
  if (argc > 3)
    {
      output.width = g_ascii_strtod (argv[2], NULL);
      output.height = g_ascii_strtod (argv[3], NULL);
    }
  if (argc > 4)
    output.text_scale = g_ascii_strtod (argv[4], NULL);
  if (argc > 5)
    output.theme = (WbChartTheme) atoi (argv[5]);

  for (guint i = 0; i < sample_charts_get_n (); i++)
    {
      g_autoptr (WbChart) chart = sample_charts_create (i);
      g_autoptr (GError)  error = NULL;
      g_autofree char *file
          = g_strconcat (sample_charts_get_name (i), ".", argc > 6 ? argv[6] : "png", NULL);
      g_autofree char    *path = g_build_filename (argv[1], file, NULL);

      if (!wb_chart_output_format_for_path (path, &output.format)
          || !wb_chart_output_write (chart, &output, path, &error))
        {
          g_printerr ("%s: %s\n", path, error != NULL ? error->message : "unknown format");
          return 1;
        }
    }

  return 0;
}
