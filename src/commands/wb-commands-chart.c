/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-commands-private.h"

#include "wb-app-answers.h"
#include "wb-app-chart.h"
#include "wb-app-touched.h"

static char *kind_key, *output, *figure_key, *language;

static const GOptionEntry options[] = {
  { "kind", 0, 0, G_OPTION_ARG_STRING, &kind_key, "growth, rings, life, grid, heat, score, ranks, effects, marks or loss", "K" },
  { "output", 0, 0, G_OPTION_ARG_FILENAME, &output, "File to write: .png, .svg or .pdf", "FILE" },
  { "figure", 0, 0, G_OPTION_ARG_STRING, &figure_key, "Figure of heat, grid, life and effects, by its key in the JSON", "F" },
  { "language", 0, 0, G_OPTION_ARG_STRING, &language, "Language of the chart's words, such as de; else en", "LANGUAGE" },
  G_OPTION_ENTRY_NULL
};

/* -1 with `status` set. */
static int
find_kind (int *status)
{
  g_autofree char *known = g_strjoinv (", ", (char **) wb_plot_kind_get_keys ());
  int kind = kind_key != NULL ? wb_plot_kind_from_key (kind_key) : -1;

  if (kind >= 0)
    return kind;
  *status = WB_COMMANDS_USAGE;
  if (kind_key == NULL)
    wb_commands_complain ("chart", "--kind K is missing; known are: %s", known);
  else
    wb_commands_complain (NULL, "no kind of chart “%s”; known are: %s", kind_key, known);
  return -1;
}

static int
run (char **arguments)
{
  int status = WB_COMMANDS_DONE, kind = find_kind (&status), figure = -1;
  g_autoptr (WbAppNotebook) notebook = NULL;
  g_autoptr (WbCraftAnswer) answer = NULL;
  g_autoptr (GPtrArray) touched = NULL;
  g_autoptr (GArray) reopened = NULL;
  WbPlotOptions plot;
  gint64 id;
  GError *error = NULL;

  if (kind < 0)
    return status;
  if (output == NULL)
    {
      wb_commands_complain ("chart", "--output FILE is missing; see wickbench chart --help");
      return WB_COMMANDS_USAGE;
    }
  if (!wb_app_chart_check_path (output, &error))
    return wb_commands_fail (output, error);
  if (figure_key != NULL && (figure = wb_commands_find_figure (figure_key, &status)) < 0)
    return status;
  if (!wb_commands_speak (language, &status))
    return status;
  notebook = wb_commands_open (arguments[0], &status);
  if (notebook == NULL || (id = wb_commands_find (notebook, arguments[1], &status)) == 0)
    return status;
  answer = wb_app_answers_compute_sync (notebook, id, WB_CRAFT_WITHIN_SCENT, 0, NULL, &error);
  if (answer == NULL)
    return wb_commands_fail (arguments[0], error);
  wb_plot_options_init (&plot, wb_app_notebook_get_settings (notebook)->us_units);
  plot.figure = figure;
  touched = wb_app_touched_list_sync (notebook, id, &error);
  if (touched == NULL)
    return wb_commands_fail (arguments[0], error);
  reopened = wb_app_touched_dup_reopened (touched);
  plot.reopened = (const gint64 *) (gpointer) reopened->data;
  plot.n_reopened = reopened->len;
  if (!wb_app_chart_write_sync (notebook, answer, kind, &plot, output, &error))
    return wb_commands_fail (g_error_matches (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED) ? NULL : output, error);
  return WB_COMMANDS_DONE;
}

const WbCommandsVerb wb_commands_chart = {
  .name = "chart",
  .arguments = "NOTEBOOK EXPERIMENT --kind K --output FILE [--language LANGUAGE]",
  .summary = "Draw a chart of an experiment",
  .description = "EXPERIMENT is its code or title. The chart is in the notebook's units; the file is\n"
                 "written whole or not at all, over one that is there.",
  .options = options,
  .n_arguments = 2,
  .run = run,
};
