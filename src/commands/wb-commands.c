/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-commands.h"

#include "wb-commands-private.h"
#include "wb-commands-table-private.h"

#include <errno.h>
#include <locale.h>
#include <stdio.h>

static const WbCommandsVerb *const verbs[] = {
  &wb_commands_demo,
  &wb_commands_import,
  &wb_commands_export,
  &wb_commands_list,
  &wb_commands_lots,
  &wb_commands_materials,
  &wb_commands_rank,
  &wb_commands_next,
  &wb_commands_fit,
  &wb_commands_effects,
  &wb_commands_ladder,
  &wb_commands_report,
  &wb_commands_recipe,
  &wb_commands_chart,
  &wb_commands_check,
  &wb_commands_salvage,
};

static const WbCommandsVerb *
find_verb (const char *word)
{
  for (guint i = 0; i < G_N_ELEMENTS (verbs); i++)
    if (strcmp (verbs[i]->name, word) == 0)
      return verbs[i];
  return NULL;
}

/* A word with a point or a slash in it, or the name of something that is there, is a notebook for the window. */
static gboolean
could_be_a_file (const char *word)
{
  return strpbrk (word, "./") != NULL || g_file_test (word, G_FILE_TEST_EXISTS);
}

gboolean
wb_commands_wants (const char *word)
{
  if (find_verb (word) != NULL)
    return TRUE;
  if (g_str_has_prefix (word, "--gapplication-"))
    return FALSE;
  return *word == '-' || !could_be_a_file (word);
}

static void
print_help (void)
{
  g_autoptr (WbCommandsTable) table = wb_commands_table_new ();
  g_autofree char *lines = NULL;

  wb_commands_write ("Usage:\n"
                     "  wickbench [NOTEBOOK]            open the window\n"
                     "  wickbench COMMAND ARGUMENTS     see wickbench COMMAND --help\n"
                     "\n"
                     "A lab notebook for burn testing container candles.\n"
                     "\n");
  wb_commands_table_add_column (table, "Command", WB_COMMANDS_LEFT);
  wb_commands_table_add_column (table, "Arguments", WB_COMMANDS_LEFT);
  wb_commands_table_add_column (table, "What it does", WB_COMMANDS_LEFT);
  for (guint i = 0; i < G_N_ELEMENTS (verbs); i++)
    {
      wb_commands_table_add (table, verbs[i]->name);
      wb_commands_table_add (table, verbs[i]->arguments);
      wb_commands_table_add (table, verbs[i]->summary);
    }
  lines = wb_commands_table_to_text (table);
  wb_commands_write (lines);
  wb_commands_write ("\n"
                     "Exit status: 0 done; 1 the answer is no (a check failed, rows were refused);\n"
                     "2 wrong usage or an unknown name; 3 could not (file, database, a missing column).\n"
                     "\n"
                     "The program judges records; it makes no candle safe. Local codes, suppliers' data\n"
                     "sheets and an accredited laboratory take precedence.\n");
}

static int
complain_unknown (const char *word)
{
  g_autoptr (GString) known = g_string_new (NULL);

  for (guint i = 0; i < G_N_ELEMENTS (verbs); i++)
    g_string_append_printf (known, "%s%s", i > 0 ? ", " : "", verbs[i]->name);
  wb_commands_complain (NULL, "no command “%s”; known are: %s", word, known->str);
  return WB_COMMANDS_USAGE;
}

static guint
count (char **words)
{
  return words != NULL ? g_strv_length (words) : 0;
}

/* Help is printed here, not by GOption, which would end the process. */
static GOptionContext *
make_context (const WbCommandsVerb *verb,
              gboolean             *help,
              char               ***arguments)
{
  const GOptionEntry common[] = {
    { "help", 'h', 0, G_OPTION_ARG_NONE, help, NULL, NULL },
    { G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, arguments, NULL, NULL },
    G_OPTION_ENTRY_NULL
  };
  GOptionContext *context = g_option_context_new (NULL);

  g_option_context_set_help_enabled (context, FALSE);
  if (verb->options != NULL)
    g_option_context_add_main_entries (context, verb->options, NULL);
  g_option_context_add_main_entries (context, common, NULL);
  return context;
}

/* GOption names the program; the verb belongs to it. */
static void
name_program (const WbCommandsVerb *verb)
{
  g_autofree char *name = g_strdup_printf ("wickbench %s", verb->name);

  g_set_prgname (name);
}

static void
print_verb_help (const WbCommandsVerb *verb)
{
  wb_commands_print ("Usage:\n  wickbench %s %s\n\n%s.\n", verb->name, verb->arguments, verb->summary);
  if (verb->options != NULL)
    {
      g_autoptr (WbCommandsTable) table = wb_commands_table_new ();

      wb_commands_table_add_column (table, "Option", WB_COMMANDS_LEFT);
      wb_commands_table_add_column (table, "Meaning", WB_COMMANDS_LEFT);
      for (const GOptionEntry *option = verb->options; option->long_name != NULL; option++)
        {
          wb_commands_table_take (table, option->arg_description != NULL
                                           ? g_strdup_printf ("--%s %s", option->long_name, option->arg_description)
                                           : g_strdup_printf ("--%s", option->long_name));
          wb_commands_table_add (table, option->description);
        }
      wb_commands_write ("\n");
      wb_commands_table_print (table);
    }
  if (verb->description != NULL)
    wb_commands_print ("\n%s\n", verb->description);
}

static int
run_verb (const WbCommandsVerb *verb,
          int                   argc,
          char                **argv)
{
  gboolean help = FALSE;
  g_auto (GStrv) arguments = NULL;
  g_autoptr (GOptionContext) context = make_context (verb, &help, &arguments);
  g_autoptr (GError) error = NULL;

  name_program (verb);
  if (!g_option_context_parse (context, &argc, &argv, &error))
    {
      wb_commands_complain (verb->name, "%s; see wickbench %s --help", error->message, verb->name);
      return WB_COMMANDS_USAGE;
    }
  if (help)
    {
      print_verb_help (verb);
      return WB_COMMANDS_DONE;
    }
  if (count (arguments) < (guint) verb->n_arguments || count (arguments) > (guint) (verb->n_arguments + verb->n_optional))
    {
      wb_commands_complain (verb->name, "usage: wickbench %s %s", verb->name, verb->arguments);
      return WB_COMMANDS_USAGE;
    }
  return verb->run (arguments);
}

/* Output that did not reach its file is a failure, whatever the verb said. */
static int
end_output (int status)
{
  errno = 0;
  if (fflush (stdout) == 0 && !ferror (stdout))
    return status;
  wb_commands_complain (NULL, "standard output: %s", g_strerror (errno != 0 ? errno : EIO));
  return WB_COMMANDS_FAILED;
}

/* Same input, same bytes: no locale of the machine has a say in what a command writes. */
static void
set_neutral_locale (void)
{
  g_setenv ("LC_ALL", "C.UTF-8", TRUE);
  g_unsetenv ("LANGUAGE");
  setlocale (LC_ALL, "C.UTF-8");
}

int
wb_commands_run (int    argc,
                 char **argv)
{
  const WbCommandsVerb *verb;

  g_return_val_if_fail (argc >= 2, WB_COMMANDS_USAGE);
  set_neutral_locale ();
  verb = find_verb (argv[1]);
  if (verb != NULL)
    return end_output (run_verb (verb, argc - 1, argv + 1));
  if (strcmp (argv[1], "--help") == 0 || strcmp (argv[1], "-h") == 0 || strcmp (argv[1], "help") == 0)
    {
      print_help ();
      return end_output (WB_COMMANDS_DONE);
    }
  if (strcmp (argv[1], "--version") == 0)
    {
      wb_commands_print ("wickbench %s\n", WB_VERSION);
      return end_output (WB_COMMANDS_DONE);
    }
  return complain_unknown (argv[1]);
}
