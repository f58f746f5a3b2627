/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-commands-private.h"

#include "wb-app-answers.h"
#include "wb-app-report.h"

static char *output, *paper_key, *language, *sections, *key_output;
static gboolean anonymous;

static const GOptionEntry options[] = {
  { "output", 0, 0, G_OPTION_ARG_FILENAME, &output, "PDF file to write", "FILE.pdf" },
  { "paper", 0, 0, G_OPTION_ARG_STRING, &paper_key, "A4 or Letter; else the notebook's", "PAPER" },
  { "language", 0, 0, G_OPTION_ARG_STRING, &language, "Language of the report, such as de; else en", "LANGUAGE" },
  { "sections", 0, 0, G_OPTION_ARG_STRING, &sections, "What to put in; else all", "S,S" },
  { "anonymous", 0, 0, G_OPTION_ARG_NONE, &anonymous, "Materials, samples, melts and lots by other names", NULL },
  { "key", 0, 0, G_OPTION_ARG_FILENAME, &key_output, "PDF file with the key to them, for the maker alone", "FILE.pdf" },
  G_OPTION_ENTRY_NULL
};

static gboolean
has_ending (const char *path,
            const char *ending)
{
  g_autofree char *low = g_ascii_strdown (path, -1);

  return g_str_has_suffix (low, ending);
}

/* Usage, or DONE: what was chosen. */
static int
read_choice (WbAppReportChoice *choice)
{
  g_autofree char *unknown = NULL;

  if (paper_key != NULL && (choice->paper = wb_report_paper_from_key (paper_key)) < 0)
    {
      wb_commands_complain (NULL, "no paper “%s”; known are: A4, Letter", paper_key);
      return WB_COMMANDS_USAGE;
    }
  if (sections != NULL && !wb_report_sections_parse (sections, &choice->left_out, &unknown))
    {
      g_autofree char *known = wb_report_sections_dup_keys ();

      wb_commands_complain (NULL, "no section “%s”; known are: %s", unknown, known);
      return WB_COMMANDS_USAGE;
    }
  choice->anonymous = anonymous;
  /* a photo may show a label: only who asked for them gets them */
  if (anonymous && sections == NULL)
    choice->left_out |= 1u << WB_REPORT_SECTION_PHOTOS;
  return WB_COMMANDS_DONE;
}

/* The key of a report with the names as they are is nothing, and one over the report would leave the customer with it. */
static int
check_key (void)
{
  g_autofree char *one = NULL;
  g_autofree char *other = NULL;

  if (key_output == NULL)
    return WB_COMMANDS_DONE;
  if (!anonymous)
    {
      wb_commands_complain ("report", "--key goes with --anonymous; see wickbench report --help");
      return WB_COMMANDS_USAGE;
    }
  if (!has_ending (key_output, ".pdf"))
    {
      wb_commands_complain (NULL, "“%s”: a key is written as .pdf", key_output);
      return WB_COMMANDS_USAGE;
    }
  one = g_canonicalize_filename (output, NULL);
  other = g_canonicalize_filename (key_output, NULL);
  if (!g_str_equal (one, other))
    return WB_COMMANDS_DONE;
  wb_commands_complain (NULL, "“%s”: the key is a file of its own", key_output);
  return WB_COMMANDS_USAGE;
}

static int
run (char **arguments)
{
  int status = WB_COMMANDS_DONE;
  WbAppReportChoice choice = WB_APP_REPORT_CHOICE_INIT;
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
  if ((status = read_choice (&choice)) != WB_COMMANDS_DONE || (status = check_key ()) != WB_COMMANDS_DONE
      || !wb_commands_speak (language, &status))
    return status;
  notebook = wb_commands_open (arguments[0], &status);
  if (notebook == NULL || (id = wb_commands_find (notebook, arguments[1], &status)) == 0)
    return status;
  answer = wb_app_answers_compute_sync (notebook, id, WB_CRAFT_WITHIN_SCENT, 0, NULL, &error);
  if (answer == NULL)
    return wb_commands_fail (arguments[0], error);
  if (!wb_app_report_write_sync (notebook, answer, &choice, output, key_output, &error))
    return wb_commands_fail (output, error);
  return WB_COMMANDS_DONE;
}

const WbCommandsVerb wb_commands_report = {
  .name = "report",
  .arguments = "NOTEBOOK EXPERIMENT --output FILE.pdf [--paper A4|Letter] [--language LANGUAGE] [--sections S,S] [--anonymous [--key FILE.pdf]]",
  .summary = "Write the customer's test report of an experiment",
  .description = "EXPERIMENT is its code or title. Its date is SOURCE_DATE_EPOCH or the clock; the same\n"
                 "notebook, program, fonts, arguments and date give the same bytes.\n"
                 "Sections: method, ranking, score, loss, growth, rings, life, marks (the six are charts), photos,\n"
                 "limits, checks, deviations, conditions, appendix. The answer, what was not tested, the decision and\n"
                 "the cautions always stand, and what is left out is said. With --anonymous vessels, wax, wicks, scents\n"
                 "and codes have other names, and photos are there only where --sections names them: look at each.",
  .options = options,
  .n_arguments = 2,
  .run = run,
};
