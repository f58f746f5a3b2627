/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "commands-run.h"
#include "wb-commands-private.h"
#include "wb-exchange-log-column.h"
#include "wb-experiment.h"

#include <math.h>

/* The manual page: sound for man, and complete: every verb, option and JSON key stands in it. */

#define PAGE WB_SOURCE_DIR "/data/wickbench.1"

static const WbCommandsVerb *const verbs[] = {
  &wb_commands_chart, &wb_commands_check, &wb_commands_demo, &wb_commands_effects, &wb_commands_export,
  &wb_commands_fit, &wb_commands_import, &wb_commands_ladder, &wb_commands_list, &wb_commands_lots, &wb_commands_materials, &wb_commands_next, &wb_commands_rank, &wb_commands_recipe, &wb_commands_report, &wb_commands_salvage,
};

/* The page's text without roff's escapes, so that a word can be looked for. */
static char *
read_page (void)
{
  g_autofree char *source = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (GString) page = NULL;

  g_assert_true (g_file_get_contents (PAGE, &source, NULL, &error));
  g_assert_no_error (error);
  page = g_string_new (source);
  g_string_replace (page, "\\-", "-", 0);
  g_string_replace (page, "\\(de", "°", 0);
  return g_strdup (page->str);
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
  g_autofree char *shelf = commands_path ("manual-shelf.csv");
  g_autoptr (Run) made = commands_run ("demo", demo, NULL);
  const char *const runs[][12] = {
    { "list", demo, "--json" },
    { "lots", demo, "--json" },
    { "lots", demo, "Dunmarl soft", "W-107", "--json" },
    { "lots", demo, "--experiment", "HF-1", "--json" },
    { "rank", path, "AVT", "--json" },
    { "rank", demo, "TH-1", "--json" },
    { "next", path, "AVT", "--json" },
    { "next", demo, "TH-1", "--json" },
    { "fit", demo, "TH-1", "--json" },
    { "effects", path, "AVT", "--figure", "flame_mm", "--json" },
    { "effects", path, "AVT", "--figure", "throw", "--json" },
    { "import", path, messy, "--dry-run", "--json" },
    { "materials", demo, "--from", shelf, "--dry-run", "--json" },
    { "ladder", path, "--vessel", "Osprey", "--wax", "Harrow blend 8", "--load", "6", "--json" },
  };

  g_assert_cmpint (made->status, ==, 0);
  /* One row of each sort, so that every key is there. */
  g_assert_true (g_file_set_contents (shelf, "record,name,density,colour\nwax,Plover,0.9,red\nwax,Teal,9,\n", -1, NULL));
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

/* The words under a heading of the page, up to the next of `ends`, as they read on the screen. */
static char *
read_section (const char *page,
              const char *heading,
              const char *ends)
{
  const char *begin = strstr (page, heading);
  g_autoptr (GRegex) macros = g_regex_new ("^\\.(SS|TP|BR?|SH)\\b", G_REGEX_MULTILINE, 0, NULL);
  g_autoptr (GRegex) end = g_regex_new (ends, G_REGEX_MULTILINE, 0, NULL);
  g_autofree char *bare = NULL;
  g_auto (GStrv) parts = NULL, words = NULL;

  if (begin == NULL)
    g_error ("“%s” does not stand in the manual page", heading);
  parts = g_regex_split_full (end, begin + strlen (heading), -1, 0, 0, 2, NULL);
  bare = g_regex_replace_literal (macros, parts[0], -1, 0, "", 0, NULL);
  words = g_regex_split_simple ("\\s+", bare, 0, 0);
  return g_strjoinv (" ", words);
}

static void
assert_says (const char *section,
             char       *words /* taken */)
{
  g_autofree char *wanted = words;

  if (strstr (section, wanted) == NULL)
    g_error ("the manual page does not say “%s”, but “%s”", wanted, section);
}

static const char *
get_unit (const WbLimit *limit)
{
  return wb_unit_get_symbol (wb_limit_kind_get_unit ((WbLimitKind) limit->kind));
}

/* Each limit that a new notebook has: its numbers and its source, as the code has them. */
static void
test_limits (void)
{
  g_autofree char *page = read_page (), *all = NULL;
  g_autoptr (GPtrArray) limits = wb_limits_new_house ();
  g_auto (GStrv) entries = NULL;

  all = g_strdup (strstr (page, "\n.SS Safety limits\n"));
  g_assert_nonnull (all);
  *strstr (all, "\n.SS House protocol\n") = '\0';
  entries = g_strsplit (all, "\n.TP\n", -1);
  g_assert_cmpuint (g_strv_length (entries), ==, limits->len + 1);
  for (guint i = 0; i < limits->len; i++)
    {
      const WbLimit *limit = limits->pdata[i];
      g_autofree char *heading = g_strdup_printf ("\n.B %s\n", wb_limit_kind_get_key ((WbLimitKind) limit->kind));
      g_autofree char *section = read_section (all, heading, "^\\.TP");
      const char *unit = get_unit (limit);

      if (!isnan (limit->ask_at))
        assert_says (section, g_strdup_printf ("Ask from %g %s, stop above %g %s. ", limit->ask_at, unit, limit->stop_at, unit));
      else if (limit->stop_at > 0)
        assert_says (section, g_strdup_printf ("Stop above %g %s. ", limit->stop_at, unit));
      else
        assert_says (section, g_strdup ("Stop when it happens. "));
      assert_says (section, g_strdup (limit->source));
    }
}

static void
test_protocol (void)
{
  g_autofree char *page = read_page (), *section = read_section (page, "\n.SS House protocol\n", "^\\.SH");
  g_autoptr (WbRecord) record = (WbRecord *) wb_protocol_new_house ();
  const WbProtocol *house = (const WbProtocol *) record;

  assert_says (section, g_strdup (house->note));
  assert_says (section, g_strdup_printf ("burn %g h ", house->burn_s / 3600));
  g_assert_cmpfloat (house->interval_upper_s, ==, house->interval_middle_s);
  g_assert_cmpfloat (house->interval_upper_s, ==, house->interval_lower_s);
  assert_says (section, g_strdup_printf ("read every %g min ", house->interval_upper_s / 60));
  assert_says (section, g_strdup_printf ("every %g min over the last inch", house->last_inch_interval_s / 60));
  assert_says (section, g_strdup_printf ("then %g h to cool", house->cool_s / 3600));
  assert_says (section, g_strdup_printf ("trim %g mm ", house->trim_mm));
  assert_says (section, g_strdup_printf ("room %g to %g °C ", house->room_low_c, house->room_high_c));
  assert_says (section, g_strdup_printf ("from %g to %g h for each inch", house->window_low, house->window_high));
  g_assert_cmpint (house->end_rule, ==, WB_END_RESIDUE);
  assert_says (section, g_strdup_printf ("With %g mm of wax left", house->end_residue_mm));
  assert_says (section, g_strdup_printf ("in %" G_GINT64_FORMAT " samples of each", house->samples_wanted));
}

void
test_commands_manual_add (void)
{
  g_test_add_func ("/commands/manual/man-reads-it-without-a-warning", test_man_reads_it);
  g_test_add_func ("/commands/manual/every-verb-and-option-stands-in-it", test_verbs_and_options);
  g_test_add_func ("/commands/manual/every-json-key-stands-in-it", test_json_keys);
  g_test_add_func ("/commands/manual/the-limits-stand-in-it-with-their-sources", test_limits);
  g_test_add_func ("/commands/manual/the-house-protocol-stands-in-it", test_protocol);
  g_test_add_func ("/commands/manual/every-column-of-a-log-stands-in-it", test_log_columns);
}
