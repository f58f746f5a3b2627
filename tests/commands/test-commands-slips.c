/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "commands-run.h"

/* The clean log, invented: a header and 800 rows without quotes, five a burn, read at 0, 60, 120, 180 and 240 minutes. */
static char **
load_lines (void)
{
  g_autofree char *path = commands_log ("burn-log-clean.csv"), *text = NULL;

  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  return g_strsplit (g_strchomp (text), "\n", -1);
}

/* `line` as in the file, from 1. */
static void
type (char      **lines,
      guint       line,
      const char *column,
      const char *value)
{
  g_auto (GStrv) header = g_strsplit (lines[0], ",", -1), cells = g_strsplit (lines[line - 1], ",", -1);
  guint i = 0;

  while (g_strcmp0 (header[i], column) != 0)
    g_assert_nonnull (header[i++]);
  g_free (cells[i]);
  cells[i] = g_strdup (value);
  g_free (lines[line - 1]);
  lines[line - 1] = g_strjoinv (",", cells);
}

static Run *
look (char      **lines,
      const char *name,
      char      **log)
{
  g_autofree char *text = g_strjoinv ("\n", lines), *notebook = commands_path ("slips.wickbench");

  *log = commands_path (name);
  g_assert_true (g_file_set_contents (*log, text, -1, NULL));
  return commands_run ("import", notebook, *log, "--dry-run", NULL);
}

/* Each slip is told with its file, line, column, value and what it is held against, and its row comes in all the same. */
static void
test_slips (void)
{
  static const struct { guint line; const char *column, *value, *words; } slips[] = {
    { 4, "pool_a_mm", "5.61", "4: warning: pool_a_mm: 5.61 mm is far from the 40.85 mm at minute 60 of the same burn (line 3)" },
    { 9, "depth_mm", "32", "9: warning: depth_mm: 32 mm is far from the 1.9 mm at minute 60 of the same burn (line 8)" },
    { 14, "flame_mm", "195", "14: warning: flame_mm: 195 mm is more than 100 mm" },
    { 19, "vessel_c", "3.99", "19: warning: vessel_c: 3.99 °C is far from the " },
    { 24, "elapsed_min", "12", "24: warning: elapsed_min: minute 12 stands beside minute 60 of the same burn (line 23)" },
    { 28, "event", "snuffed", "29: warning: elapsed_min: minute 120 is later than minute 60, in which the flame of that burn went out (line 28): such a reading counts at most as the highest of its burn" },
  };
  g_auto (GStrv) lines = load_lines ();
  g_autofree char *log = NULL;
  g_autoptr (Run) run = NULL;
  g_auto (GStrv) said = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (slips); i++)
    type (lines, slips[i].line, slips[i].column, slips[i].value);
  run = look (lines, "slips.csv", &log);
  g_test_message ("%s", run->err);
  g_assert_cmpint (run->status, ==, 0);
  g_assert_nonnull (strstr (run->out, "800 lines, 800 readings of 40 samples: 800 accepted, 0 known, 0 refused"));
  said = g_strsplit (run->err, "\n", -1);
  g_assert_cmpuint (g_strv_length (said), ==, G_N_ELEMENTS (slips) + 1);
  for (guint i = 0; i < G_N_ELEMENTS (slips); i++)
    {
      g_autofree char *begin = g_strdup_printf ("wickbench: %s:%s", log, slips[i].words);

      g_assert_true (g_str_has_prefix (said[i], begin));
    }
}

/* A clean log is passed in silence, in whatever order its rows stand. */
static void
test_clean (void)
{
  g_auto (GStrv) lines = load_lines ();
  guint n = g_strv_length (lines) - 1;
  g_autoptr (GRand) random = g_rand_new_with_seed (11);

  for (guint round = 0; round < 4; round++)
    {
      g_autofree char *log = NULL;
      g_autoptr (Run) run = look (lines, "clean.csv", &log);

      g_assert_cmpstr (run->err, ==, "");
      g_assert_cmpint (run->status, ==, 0);
      for (guint i = n; i > 1; i--)
        {
          guint j = 1 + (guint) g_rand_int_range (random, 0, (gint) i);
          char *line = lines[i];

          lines[i] = lines[j];
          lines[j] = line;
        }
    }
}

/* The demo's log, of whole candles: a slip nowhere. */
static void
test_demo (void)
{
  g_autofree char *demo = commands_path ("demo-slips.wickbench"), *log = commands_path ("demo-slips.csv");
  g_autofree char *notebook = commands_path ("none.wickbench");
  g_autoptr (Run) made = commands_run ("demo", demo, NULL);
  g_autoptr (Run) told = commands_run ("export", demo, "--to", log, NULL);
  g_autoptr (Run) run = commands_run ("import", notebook, log, "--dry-run", NULL);

  g_assert_cmpint (made->status, ==, 0);
  g_assert_cmpint (told->status, ==, 0);
  g_assert_cmpstr (run->err, ==, "");
  g_assert_cmpint (run->status, ==, 0);
}

/* The JSON holds each with line, column and rule. */
static void
test_json (void)
{
  g_auto (GStrv) lines = load_lines ();
  g_autofree char *log = NULL, *notebook = commands_path ("slips.wickbench");
  g_autoptr (JsonParser) parser = json_parser_new ();
  g_autoptr (Run) looked = NULL;
  g_autoptr (Run) run = NULL;
  JsonArray *warnings;

  type (lines, 9, "depth_mm", "32");
  looked = look (lines, "json.csv", &log);
  run = commands_run ("import", notebook, log, "--dry-run", "--json", NULL);
  g_assert_true (json_parser_load_from_data (parser, run->out, -1, NULL));
  warnings = json_object_get_array_member (json_node_get_object (json_parser_get_root (parser)), "warnings");
  g_assert_cmpuint (json_array_get_length (warnings), ==, 1);
  g_assert_cmpint (json_object_get_int_member (json_array_get_object_element (warnings, 0), "line"), ==, 9);
  g_assert_cmpstr (json_object_get_string_member (json_array_get_object_element (warnings, 0), "column"), ==, "depth_mm");
}

void
test_commands_slips_add (void)
{
  g_test_add_func ("/commands/import/slips-of-the-pen-are-told-and-come-in", test_slips);
  g_test_add_func ("/commands/import/a-clean-log-is-passed-in-silence-in-any-order", test_clean);
  g_test_add_func ("/commands/import/the-demo-s-log-is-passed-in-silence", test_demo);
  g_test_add_func ("/commands/import/the-json-names-each-slip", test_json);
}
