/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "commands-run.h"

#include <math.h>

static void
assert_members (JsonObject        *object,
                const char *const *names)
{
  for (guint i = 0; names[i] != NULL; i++)
    if (!json_object_has_member (object, names[i]))
      g_error ("no member %s", names[i]);
}

/* Whatever the JSON says of a cell in words, the text says too. */
static void
assert_told (const Run  *text,
             JsonArray  *sentences)
{
  for (guint i = 0; i < json_array_get_length (sentences); i++)
    if (strstr (text->out, json_array_get_string_element (sentences, i)) == NULL)
      g_error ("the text does not say: %s", json_array_get_string_element (sentences, i));
}

static double
check_cell (const Run  *text,
            JsonObject *cell,
            guint      *signs)
{
  const char *const members[] = {
    "vessel", "wick_series", "wick_size", "running", "row", "why", "share", "of_next_ten", "why_share", "candles", "burn_on", "pour", "unread", "size", "next_size", "next_in_test",
    "p_one_up_crosses", "reasons", "signs", NULL,
  };
  const char *const sign_members[] = { "sign", "asks_for", "speaks", "text", "sample", "burn", "elapsed_min", "value", "reading", "burns", "of_burns", NULL };
  const char *const waiting[] = { "ready", "alight", "cooling", "cooled_at", "curing", "cured_at", "planned", "done", NULL };
  JsonArray *its = json_object_get_array_member (cell, "signs");
  gboolean open = g_str_equal (json_object_get_string_member (cell, "running"), "open");

  assert_members (cell, members);
  assert_told (text, json_object_get_array_member (cell, "reasons"));
  g_assert_cmpint (open, ==, json_object_get_null_member (cell, "why"));
  assert_members (json_object_get_object_member (cell, "candles"), waiting);
  if (!json_object_get_null_member (cell, "why"))
    g_assert_nonnull (strstr (text->out, json_object_get_string_member (cell, "why")));
  if (!json_object_get_null_member (cell, "why_share"))
    g_assert_nonnull (strstr (text->out, json_object_get_string_member (cell, "why_share")));
  for (guint i = 0; i < json_array_get_length (its); i++)
    {
      JsonObject *sign = json_array_get_object_element (its, i);

      assert_members (sign, sign_members);
      /* of every sign it can be looked up who said so */
      g_assert_cmpint (json_object_get_int_member (sign, "reading"), >, 0);
      g_assert_cmpint (json_object_get_int_member (sign, "burns"), <=, json_object_get_int_member (sign, "of_burns"));
      g_assert_nonnull (strstr (text->out, json_object_get_string_member (sign, "text")));
      ++*signs;
    }
  return json_object_get_double_member (cell, "share");
}

static void
test_same_content (void)
{
  const char *const top[] = { "experiment", "code", "seed", "near_enough", "groups", NULL };
  const char *const members[] = { "vessel", "fragrance", "load_pct", "answer", "pools", "line", "begun", "finished", "decided_for", "search_over",
                                  "none_good_enough", "all", "outside_size", "missing", "cells", NULL };
  g_autofree char *path = commands_new_notebook ("next.wickbench");
  g_autoptr (Run) json = commands_run ("next", path, "AVT", "--json", NULL), text = commands_run ("next", path, "Autumn vessel trial", NULL);
  g_autoptr (JsonParser) parser = json_parser_new ();
  JsonObject *answer = commands_json (json, parser);
  JsonArray *groups = json_object_get_array_member (answer, "groups");
  guint signs = 0;

  assert_members (answer, top);
  g_assert_cmpint (text->status, ==, 0);
  g_assert_cmpfloat (json_object_get_double_member (answer, "near_enough"), ==, 0.9);
  g_assert_cmpuint (json_array_get_length (groups), ==, 4);
  for (guint g = 0; g < 4; g++)
    {
      JsonObject *group = json_array_get_object_element (groups, g);
      JsonArray *cells = json_object_get_array_member (group, "cells");
      double sum = 0;
      gint64 tens = 0;

      assert_members (group, members);
      g_assert_nonnull (strstr (text->out, json_object_get_string_member (group, "answer")));
      /* that log ends after the upper part */
      g_assert_false (json_object_get_boolean_member (group, "search_over"));
      assert_told (text, json_object_get_array_member (group, "missing"));
      g_assert_cmpuint (json_array_get_length (cells), ==, 5);
      for (guint c = 0; c < 5; c++)
        {
          sum += check_cell (text, json_array_get_object_element (cells, c), &signs);
          tens += json_object_get_int_member (json_array_get_object_element (cells, c), "of_next_ten");
        }
      g_assert_cmpint (tens, ==, 10);
      g_assert_cmpfloat (fabs (sum - 1), <, 1e-9);
    }
  g_assert_cmpuint (signs, >, 4);
}

static void
test_repeats (void)
{
  g_autofree char *path = commands_new_notebook ("next-again.wickbench"), *other = commands_new_notebook ("next-other.wickbench");
  g_autoptr (Run) once = commands_run ("next", path, "AVT", NULL), elsewhere = commands_run ("next", other, "AVT", NULL);
  g_autoptr (Run) german = commands_run_with ("LC_ALL", "de_DE.UTF-8", "next", path, "AVT", NULL);

  g_assert_cmpstr (once->out, ==, elsewhere->out);
  g_assert_cmpstr (once->out, ==, german->out);
}

void
test_commands_next_add (void)
{
  g_test_add_func ("/commands/next/text-and-json-say-the-same", test_same_content);
  g_test_add_func ("/commands/next/same-log-same-bytes", test_repeats);
}
