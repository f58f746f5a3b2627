/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-commands-private.h"

#include "wb-app-answers.h"
#include "wb-app-report.h"

static char *output, *paper_key, *language;

static const GOptionEntry options[] = {
  { "output", 0, 0, G_OPTION_ARG_FILENAME, &output, "PDF file to write", "FILE.pdf" },
  { "paper", 0, 0, G_OPTION_ARG_STRING, &paper_key, "A4 or Letter; else the notebook's", "PAPER" },
  { "language", 0, 0, G_OPTION_ARG_STRING, &language, "Language of the report, such as de; else en", "LANGUAGE" },
  G_OPTION_ENTRY_NULL
};

static gboolean
has_ending (const char *path,
            const char *ending)
{
  g_autofree char *low = g_ascii_strdown (path, -1);

  return g_str_has_suffix (low, ending);
}

static int
run (char **arguments)
{
  int status = WB_COMMANDS_DONE, paper = -1;
  g_autoptr (WbAppNotebook) notebook = NULL;
  g_autoptr (WbCraftAnswer) answer = NULL;
  gint64 id;
  GError *error = NULL;

  if (output == NULL)
    {
      wb_commands_complain ("report", "--output FILE.pdf is missing; see wickbench report --help");
      return WB_COMMANDS_USAGE;
    }
  /* A report over a log or a chart that was meant to stay is lost work. */
  if (!has_ending (output, ".pdf"))
    {
      wb_commands_complain (NULL, "“%s”: a report is written as .pdf", output);
      return WB_COMMANDS_USAGE;
    }
  if (paper_key != NULL && (paper = wb_report_paper_from_key (paper_key)) < 0)
    {
      wb_commands_complain (NULL, "no paper “%s”; known are: A4, Letter", paper_key);
      return WB_COMMANDS_USAGE;
    }
  if (!wb_commands_speak (language, &status))
    return status;
  notebook = wb_commands_open (arguments[0], &status);
  if (notebook == NULL || (id = wb_commands_find (notebook, arguments[1], &status)) == 0)
    return status;
  answer = wb_app_answers_compute_sync (notebook, id, WB_CRAFT_WITHIN_SCENT, 0, NULL, &error);
  if (answer == NULL)
    return wb_commands_fail (arguments[0], error);
  if (!wb_app_report_write_sync (notebook, answer, paper, output, &error))
    return wb_commands_fail (output, error);
  return WB_COMMANDS_DONE;
}

const WbCommandsVerb wb_commands_report = {
  .name = "report",
  .arguments = "NOTEBOOK EXPERIMENT --output FILE.pdf [--paper A4|Letter] [--language LANGUAGE]",
  .summary = "Write the customer's test report of an experiment",
  .description = "EXPERIMENT is its code or title. Its date is SOURCE_DATE_EPOCH or the clock; the same\n"
                 "notebook, program, fonts, arguments and date give the same bytes.",
  .options = options,
  .n_arguments = 2,
  .run = run,
};
