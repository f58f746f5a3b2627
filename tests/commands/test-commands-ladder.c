/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "commands-run.h"

#include <string.h>

/* As a maker asks: by name, by a diameter of their own, for a wax that nobody tried. */

/* Lines are wrapped: words alone tell. */
static char *
dup_words (const char *text)
{
  g_auto (GStrv) words = g_strsplit_set (text, " \n", -1);
  g_autoptr (GString) joined = g_string_new (NULL);

  for (guint i = 0; words[i] != NULL; i++)
    if (*words[i] != '\0')
      g_string_append_printf (joined, "%s%s", joined->len > 0 ? " " : "", words[i]);
  return g_string_free (g_steal_pointer (&joined), FALSE);
}

static void
test_wax (void)
{
  static const struct { const char *wax, *mistake; } cases[] = {
    { "Harow blend 8", "did you mean “Harrow blend 8”" },
    { "harrow blend 8", "did you mean “Harrow blend 8”" },
    { "Harrow blned 8", "did you mean “Harrow blend 8”" },
    { "Harrow blend 7", NULL }, /* another number is another wax */
    { "Snow", NULL },
    { " ", "1 to 200 characters" },
  };
  g_autofree char *path = commands_new_notebook ("ladder-wax.wickbench");

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (Run) run = commands_run ("ladder", path, "--vessel", "Osprey", "--wax", cases[i].wax, "--load", "6", NULL);
      g_autofree char *words = dup_words (run->out), *told = g_strdup_printf ("No candle of %s was burnt yet", cases[i].wax);

      g_test_message ("%s: %s", cases[i].wax, run->err);
      g_assert_cmpint (run->status, ==, cases[i].mistake != NULL ? 2 : 0);
      if (cases[i].mistake != NULL)
        g_assert_nonnull (strstr (run->err, cases[i].mistake));
      else
        {
          g_assert_nonnull (strstr (words, told));
          g_assert_nonnull (strstr (words, "Near: within 0.05 of the best score."));
          g_assert_nonnull (strstr (words, "the pool as if the vessel were wide enough"));
          g_assert_null (strstr (words, "neighbour beyond"));
          g_assert_nonnull (strstr (words, "neighbour, beyond what was tried"));
        }
    }
}

/* The log's vessel is 79.4 mm wide. */
static void
test_near (void)
{
  g_autofree char *path = commands_new_notebook ("ladder-near.wickbench");
  g_autoptr (Run) run = commands_run ("ladder", path, "--inner-diameter", "79.7", "--wax", "Harrow blend 8", "--load", "6", "--room-cold", "18", "--json", NULL);
  g_autoptr (JsonParser) parser = json_parser_new ();
  JsonObject *ladder = commands_json (run, parser);
  JsonArray *warnings = json_object_get_array_member (ladder, "warnings"), *notes = json_object_get_array_member (ladder, "notes");
  gboolean near = FALSE, rooms = FALSE;

  for (guint i = 0; i < json_array_get_length (warnings); i++)
    near = near || strstr (json_array_get_string_element (warnings, i), "of your vessel Osprey") != NULL;
  for (guint i = 0; i < json_array_get_length (notes); i++)
    rooms = rooms || strstr (json_array_get_string_element (notes, i), "rooms of 18 to 25\302\240°C") != NULL;
  g_assert_true (near);
  g_assert_true (rooms);
  g_assert_true (json_object_get_boolean_member (ladder, "another_vessel"));
  g_assert_cmpfloat (json_object_get_double_member (ladder, "due_low_h"), <, json_object_get_double_member (ladder, "due_high_h"));
  for (guint i = 0; i < json_array_get_length (json_object_get_array_member (ladder, "candidates")); i++)
    g_assert_false (json_object_get_boolean_member (json_array_get_object_element (json_object_get_array_member (ladder, "candidates"), i), "tested"));
}

/* From materials alone, which make the notebook: no table of dashes, and what the diameters cannot tell. */
static void
test_supplier (void)
{
  static const char sheet[] = "record,name,inner_diameter_mm,max_load_pct,max_load_basis,series,size,step,from_mm,to_mm\n"
                              "vessel,Tumbler,74,,,,,,,\n"
                              "wax,Larch snow,,9,wax,,,,,\n"
                              "wick,,,,,Fescue,F-1,1,,\n"
                              "wick,,,,,Fescue,F-2,2,,\n"
                              "wick_guide,,,,,Fescue,F-1,,62,70\n"
                              "wick_guide,,,,,Fescue,F-2,,70,78\n";
  g_autofree char *path = commands_path ("ladder-sheet.wickbench"), *from = commands_path ("ladder-sheet.csv"), *words = NULL;
  g_autoptr (Run) made = NULL, run = NULL, none = NULL;

  g_assert_true (g_file_set_contents (from, "record,name\nwax,\n", -1, NULL));
  none = commands_run ("materials", path, "--from", from, NULL);
  g_assert_cmpint (none->status, ==, 1);
  g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
  g_assert_true (g_file_set_contents (from, sheet, -1, NULL));
  made = commands_run ("materials", path, "--from", from, NULL);
  g_assert_cmpint (made->status, ==, 0);
  run = commands_run ("ladder", path, "--vessel", "Tumbler", "--wax", "Larch snow", "--load", "12", NULL);
  g_assert_cmpint (run->status, ==, 0);
  words = dup_words (run->out);
  g_test_message ("%s", run->out);
  g_assert_null (strstr (run->out, "Chances\n"));
  g_assert_null (strstr (run->out, " - "));
  g_assert_nonnull (strstr (words, "12\302\240% of the wax is more than Larch snow holds: its supplier states 9\302\240% of the wax at most"));
  g_assert_nonnull (strstr (words, "change nothing in it"));
  g_assert_nonnull (strstr (words, "Fescue F-1: Its supplier recommends it for 62 to 70\302\240mm. Not for 74"));
}

void
test_commands_ladder_add (void)
{
  g_test_add_func ("/commands/ladder/a-new-name-is-a-wax-never-tried", test_wax);
  g_test_add_func ("/commands/ladder/a-typed-diameter-near-one-s-own-is-told", test_near);
  g_test_add_func ("/commands/ladder/suppliers-alone-print-no-empty-columns", test_supplier);
}
