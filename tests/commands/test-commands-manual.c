/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "commands-run.h"
#include "wb-commands-private.h"
#include "wb-exchange-log-column.h"

/* The manual page: sound for man, and complete: every verb, option and JSON key stands in it. */

#define PAGE WB_SOURCE_DIR "/data/wickbench.1"

static const WbCommandsVerb *const verbs[] = {
  &wb_commands_chart, &wb_commands_check, &wb_commands_demo, &wb_commands_effects, &wb_commands_export,
  &wb_commands_fit, &wb_commands_import, &wb_commands_ladder, &wb_commands_list, &wb_commands_rank, &wb_commands_report,
};

/* The page's text without roff's escapes, so that a word can be looked for. */
static char *
read_page (void)
{
  g_autofree char *source = NULL;
  g_autoptr (GError) error = NULL;
  g_auto (GStrv) pieces = NULL;

  g_assert_true (g_file_get_contents (PAGE, &source, NULL, &error));
  g_assert_no_error (error);
  pieces = g_strsplit (source, "\\-", -1);
  return g_strjoinv ("-", pieces);
}

static gboolean
has_word (const char *page,
          const char *word)
{
  g_autofree char *quoted = g_regex_escape_string (word, -1);
  g_autofree char *pattern = g_strdup_printf ("(?<![A-Za-z0-9_-])%s(?![A-Za-z0-9_])", quoted);

  return g_regex_match_simple (pattern, page, 0, 0);
}

static void
test_man_reads_it (void)
{
  const char *argv[] = { "man", "--warnings", "-l", PAGE, NULL };
  g_autoptr (GSubprocess) process = NULL;
  g_autofree char *out = NULL, *err = NULL;
  g_autoptr (GError) error = NULL;

  process = g_subprocess_newv (argv, G_SUBPROCESS_FLAGS_STDOUT_PIPE | G_SUBPROCESS_FLAGS_STDERR_PIPE, &error);
  g_assert_no_error (error);
  g_assert_true (g_subprocess_communicate_utf8 (process, NULL, NULL, &out, &err, &error));
  g_assert_true (g_subprocess_get_successful (process));
  g_assert_cmpstr (err, ==, "");
  g_assert_nonnull (strstr (out, "EXIT STATUS"));
}

static void
test_verbs_and_options (void)
{
  g_autofree char *page = read_page ();

  for (guint i = 0; i < G_N_ELEMENTS (verbs); i++)
    {
      g_autofree char *heading = g_strdup_printf ("\n.SS %s\n", verbs[i]->name);

      g_assert_nonnull (strstr (page, heading));
      for (const GOptionEntry *option = verbs[i]->options; option != NULL && option->long_name != NULL; option++)
        {
          g_autofree char *name = g_strdup_printf ("--%s", option->long_name);

          if (!has_word (page, name))
            g_error ("%s %s does not stand in the manual page", verbs[i]->name, name);
        }
    }
}

static void
assert_keys (const char *page,
             JsonNode   *node)
{
  if (JSON_NODE_HOLDS_OBJECT (node))
    {
      JsonObjectIter iter;
      const char *key;
      JsonNode *member;

      json_object_iter_init (&iter, json_node_get_object (node));
      while (json_object_iter_next (&iter, &key, &member))
        {
          if (!has_word (page, key))
            g_error ("the key %s does not stand in the manual page", key);
          assert_keys (page, member);
        }
    }
  else if (JSON_NODE_HOLDS_ARRAY (node))
    for (guint i = 0; i < json_array_get_length (json_node_get_array (node)); i++)
      assert_keys (page, json_array_get_element (json_node_get_array (node), i));
}

static void
test_json_keys (void)
{
  g_autofree char *path = commands_new_notebook ("manual.wickbench"), *page = read_page ();
  g_autofree char *messy = commands_log ("burn-log-messy.csv"), *demo = commands_path ("demo.wickbench");
  g_autoptr (Run) made = commands_run ("demo", demo, NULL);
  const char *const runs[][12] = {
    { "list", demo, "--json" },
    { "rank", path, "AVT", "--json" },
    { "rank", demo, "TH-1", "--json" },
    { "fit", demo, "TH-1", "--json" },
    { "effects", path, "AVT", "--figure", "flame_mm", "--json" },
    { "effects", path, "AVT", "--figure", "throw", "--json" },
    { "import", path, messy, "--dry-run", "--json" },
    { "ladder", path, "--vessel", "Osprey", "--wax", "Harrow blend 8", "--load", "6", "--json" },
  };

  g_assert_cmpint (made->status, ==, 0);
  for (guint i = 0; i < G_N_ELEMENTS (runs); i++)
    {
      const char *const *a = runs[i];
      g_autoptr (Run) run = commands_run (a[0], a[1], a[2], a[3], a[4], a[5], a[6], a[7], a[8], a[9], a[10], NULL);
      g_autoptr (JsonParser) parser = json_parser_new ();
      g_autoptr (GError) error = NULL;

      json_parser_load_from_data (parser, run->out, -1, &error);
      g_assert_no_error (error);
      assert_keys (page, json_parser_get_root (parser));
    }
}

/* Whoever writes a log by hand has this page alone: each column, and each word that a column takes. */
static void
test_log_columns (void)
{
  g_autofree char *page = read_page ();

  for (guint i = 0; i < WB_EXCHANGE_LOG_N_COLUMNS; i++)
    {
      const WbExchangeLogColumn *column = wb_exchange_log_column_get (i);

      if (!has_word (page, column->name))
        g_error ("the column %s does not stand in the manual page", column->name);
      for (const WbWord *word = column->words; word != NULL && word->nick != NULL; word++)
        if (!has_word (page, word->nick))
          g_error ("the word %s of the column %s does not stand in the manual page", word->nick, column->name);
    }
}

void
test_commands_manual_add (void)
{
  g_test_add_func ("/commands/manual/man-reads-it-without-a-warning", test_man_reads_it);
  g_test_add_func ("/commands/manual/every-verb-and-option-stands-in-it", test_verbs_and_options);
  g_test_add_func ("/commands/manual/every-json-key-stands-in-it", test_json_keys);
  g_test_add_func ("/commands/manual/every-column-of-a-log-stands-in-it", test_log_columns);
}
