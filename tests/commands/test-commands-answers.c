/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "commands-run.h"

#include <glib/gstdio.h>

static void
assert_members (JsonObject        *object,
                const char *const *names)
{
  for (guint i = 0; names[i] != NULL; i++)
    if (!json_object_has_member (object, names[i]))
      g_error ("no member %s", names[i]);
}

/* {"value", "low", "high"} or null, and nothing else. */
static void
assert_interval (JsonObject *object,
                 const char *name)
{
  JsonNode *node = json_object_get_member (object, name);
  const char *const members[] = { "value", "low", "high", NULL };

  g_assert_nonnull (node);
  if (!JSON_NODE_HOLDS_NULL (node))
    assert_members (json_node_get_object (node), members);
}

static const char *const cell_members[] = {
  "vessel", "inner_diameter_mm", "wick_series", "wick_size", "wick_step", "wick_count", "fragrance", "load_pct", "load_basis", NULL,
};

static JsonObject *
first_of (JsonObject *object,
          const char *name)
{
  JsonArray *array = json_object_get_array_member (object, name);

  g_assert_cmpuint (json_array_get_length (array), >, 0);
  return json_array_get_object_element (array, 0);
}

static void
test_list (void)
{
  const char *const members[] = { "code", "title", "state", "cells", "samples", "burns", "readings", NULL };
  g_autofree char *path = commands_new_notebook ("list.wickbench");
  g_autoptr (Run) run = commands_run ("list", path, "--json", NULL);
  g_autoptr (JsonParser) parser = json_parser_new ();
  JsonObject *experiment = first_of (commands_json (run, parser), "experiments");

  assert_members (experiment, members);
  g_assert_cmpstr (json_object_get_string_member (experiment, "title"), ==, "Autumn vessel trial");
  /* The log ends after the upper part: every candle is still to be burnt down. */
  g_assert_cmpstr (json_object_get_string_member (experiment, "state"), ==, "burning");
  g_assert_cmpint (json_object_get_int_member (experiment, "cells"), ==, 20);
  g_assert_cmpint (json_object_get_int_member (experiment, "samples"), ==, 40);
  g_assert_cmpint (json_object_get_int_member (experiment, "burns"), ==, 160);
  g_assert_cmpint (json_object_get_int_member (experiment, "readings"), ==, 800);
}

static void
test_rank_keys (void)
{
  const char *const top[] = { "experiment", "seed", "within", "groups", NULL };
  const char *const group[] = { "vessel", "fragrance", "load_pct", "p_none", "p_none_error", "cells", "weights", NULL };
  const char *const cell[] = { "rank", "p_best", "p_best_error", "p_near", "p_near_error", "p_cross", "p_cross_error", "expected_loss",
                               "verdict", "poor_field", "reasons", "limits", "parts", "samples", "burns", NULL };
  const char *const reason[] = { "code", "text", "entry", NULL };
  const char *const limit[] = { "limit", "state", NULL };
  const char *const part[] = { "figure", "stage", "value", "unit", "desirability", "weight", NULL };
  const char *const weight[] = { "figure", "stage", "weight", "low", "high", "winner_below", "winner_above", NULL };
  g_autofree char *path = commands_new_notebook ("keys.wickbench");
  g_autoptr (Run) run = commands_run ("rank", path, "AVT", "--json", NULL);
  g_autoptr (JsonParser) parser = json_parser_new ();
  JsonObject *answer = commands_json (run, parser), *first, *best;

  assert_members (answer, top);
  g_assert_cmpint (json_object_get_int_member (answer, "seed"), ==, 1);
  g_assert_cmpstr (json_object_get_string_member (answer, "within"), ==, "scent");
  g_assert_cmpuint (json_array_get_length (json_object_get_array_member (answer, "groups")), ==, 4);
  first = first_of (answer, "groups");
  assert_members (first, group);
  best = first_of (first, "cells");
  assert_members (best, cell);
  assert_members (best, cell_members);
  assert_interval (best, "score");
  assert_interval (best, "next_candle");
  assert_members (first_of (best, "reasons"), reason);
  assert_members (first_of (best, "limits"), limit);
  assert_members (first_of (best, "parts"), part);
  assert_members (first_of (first, "weights"), weight);
}

/* A winner is named as a cell is, and stands exactly where a bound does. */
static void
test_rank_weights (void)
{
  g_autofree char *path = commands_new_notebook ("weights.wickbench");
  g_autoptr (Run) run = commands_run ("rank", path, "AVT", "--json", NULL);
  g_autoptr (JsonParser) parser = json_parser_new ();
  JsonArray *groups = json_object_get_array_member (commands_json (run, parser), "groups");
  static const struct { const char *bound, *winner; } sides[] = { { "low", "winner_below" }, { "high", "winner_above" } };
  guint switches = 0;

  for (guint i = 0; i < json_array_get_length (groups); i++)
    {
      JsonArray *weights = json_object_get_array_member (json_array_get_object_element (groups, i), "weights");

      for (guint k = 0; k < json_array_get_length (weights); k++)
        for (guint side = 0; side < G_N_ELEMENTS (sides); side++)
          {
            JsonObject *weight = json_array_get_object_element (weights, k);
            gboolean none = json_object_get_null_member (weight, sides[side].bound);

            g_assert_cmpint (json_object_get_null_member (weight, sides[side].winner), ==, none);
            if (none)
              continue;
            assert_members (json_object_get_object_member (weight, sides[side].winner), cell_members);
            switches++;
          }
    }
  g_assert_cmpuint (switches, >, 0);
}

/* A vessel of another name gets the same answer, to the bit. */
static void
test_rank_renamed (void)
{
  g_autofree char *path = commands_new_notebook ("named.wickbench"), *other = commands_path ("renamed.wickbench");
  g_autofree char *log = commands_log ("burn-log-clean.csv"), *renamed = commands_path ("renamed.csv"), *text = NULL;
  g_autoptr (GString) changed = NULL;
  g_autoptr (Run) import = NULL, one = NULL, two = NULL;

  g_assert_true (g_file_get_contents (log, &text, NULL, NULL));
  changed = g_string_new (text);
  g_assert_cmpuint (g_string_replace (changed, "Osprey", "Auk", 0), >, 0);
  g_assert_true (g_file_set_contents (renamed, changed->str, -1, NULL));
  import = commands_run ("import", other, renamed, NULL);
  g_assert_cmpint (import->status, ==, 0);
  one = commands_run ("rank", path, "AVT", "--json", NULL);
  two = commands_run ("rank", other, "AVT", "--json", NULL);
  g_string_assign (changed, two->out);
  g_assert_cmpuint (g_string_replace (changed, "Auk", "Osprey", 0), >, 0);
  g_assert_cmpstr (changed->str, ==, one->out);
}

/* What the README beside the log says a maker would say of the Osprey at 6 %. */
static void
test_rank_sense (void)
{
  g_autofree char *path = commands_new_notebook ("sense.wickbench");
  g_autoptr (Run) run = commands_run ("rank", path, "Autumn vessel trial", "--json", NULL);
  g_autoptr (JsonParser) parser = json_parser_new ();
  JsonArray *groups = json_object_get_array_member (commands_json (run, parser), "groups");

  for (guint i = 0; i < json_array_get_length (groups); i++)
    {
      JsonObject *group = json_array_get_object_element (groups, i);
      JsonArray *cells = json_object_get_array_member (group, "cells");
      guint n = json_array_get_length (cells);

      for (guint k = 0; k < n; k++)
        g_assert_cmpstr (json_object_get_string_member (json_array_get_object_element (cells, k), "verdict"), !=, "recommended");
      if (strcmp (json_object_get_string_member (group, "vessel"), "Osprey") != 0 || json_object_get_double_member (group, "load_pct") != 6)
        continue;
      g_assert_cmpstr (json_object_get_string_member (json_array_get_object_element (cells, 0), "wick_size"), ==, "L-3");
      g_assert_cmpstr (json_object_get_string_member (json_array_get_object_element (cells, n - 1), "wick_size"), !=, "L-2");
    }
}

/* The same log, seed and question: the same bytes in any notebook, under any locale. */
static void
test_rank_repeats (void)
{
  g_autofree char *path = commands_new_notebook ("one.wickbench"), *other = commands_path ("other.wickbench");
  g_autofree char *messy = commands_log ("burn-log-messy.csv"), *clean = commands_log ("burn-log-clean.csv");
  g_autoptr (Run) before = commands_run ("import", other, messy, NULL), also = commands_run ("import", other, clean, NULL);
  g_autoptr (Run) once = commands_run ("rank", path, "AVT", "--seed", "7", NULL);
  g_autoptr (Run) elsewhere = commands_run ("rank", other, "AVT", "--seed", "7", NULL);
  g_autoptr (Run) german = commands_run_with ("LC_ALL", "de_DE.UTF-8", "rank", path, "AVT", "--seed", "7", NULL);
  g_autoptr (Run) seeded = commands_run ("rank", path, "AVT", "--seed", "8", NULL);

  g_assert_cmpint (before->status, ==, 1);
  g_assert_cmpint (also->status, ==, 0);
  g_assert_cmpint (once->status, ==, 0);
  g_assert_cmpstr (once->out, ==, elsewhere->out);
  g_assert_cmpstr (once->out, ==, german->out);
  g_assert_cmpstr (once->out, !=, seeded->out);
}

/* What P best leaves out is told where it is more than rounding, and chances have the report's words. */
static void
test_rank_none (void)
{
  g_autofree char *path = commands_path ("none.wickbench"), *log = commands_log ("burn-log-weak.csv");
  g_autoptr (Run) import = commands_run ("import", path, log, NULL);
  g_autoptr (Run) json = commands_run ("rank", path, "T-1", "--json", NULL), text = commands_run ("rank", path, "T-1", NULL);
  g_autoptr (JsonParser) parser = json_parser_new ();
  JsonArray *groups = json_object_get_array_member (commands_json (json, parser), "groups");
  g_auto (GStrv) told = g_strsplit (text->out, "P best leaves out ", -1);
  guint n = 0;

  g_assert_cmpint (import->status, ==, 0);
  for (guint i = 0; i < json_array_get_length (groups); i++)
    {
      double none = json_object_get_double_member (json_array_get_object_element (groups, i), "p_none");
      g_autofree char *words = none > 0.99 && none < 1 ? g_strdup (">99 %:") : g_strdup_printf ("%.0f %%:", none * 100);

      g_test_message ("p_none %g", none);
      if (none <= 0.01)
        continue;
      n++;
      g_assert_cmpuint (n, <, g_strv_length (told));
      g_assert_true (g_str_has_prefix (told[n], words));
    }
  g_assert_cmpuint (n, >, 0);
  g_assert_cmpuint (n + 1, ==, g_strv_length (told));
  g_assert_nonnull (strstr (text->out, " % "));
}

/* The same text with `word` in its first line written as `other`. */
static char *
rename_column (const char *text,
               const char *word,
               const char *other)
{
  const char *at = strstr (text, word);

  g_assert_true (at != NULL && at < strchr (text, '\n'));
  return g_strdup_printf ("%.*s%s%s", (int) (at - text), text, other, at + strlen (word));
}

/* How many cells of a ranking have the verdict, and among their reasons the code. */
static guint
count_cells (JsonObject *answer,
             const char *verdict,
             const char *code)
{
  JsonArray *groups = json_object_get_array_member (answer, "groups");
  guint n = 0;

  for (guint i = 0; i < json_array_get_length (groups); i++)
    {
      JsonArray *cells = json_object_get_array_member (json_array_get_object_element (groups, i), "cells");

      for (guint k = 0; k < json_array_get_length (cells); k++)
        {
          JsonObject *cell = json_array_get_object_element (cells, k);
          JsonArray *reasons = json_object_get_array_member (cell, "reasons");

          if (strcmp (json_object_get_string_member (cell, "verdict"), verdict) != 0)
            continue;
          for (guint r = 0; r < json_array_get_length (reasons); r++)
            n += strcmp (json_object_get_string_member (json_array_get_object_element (reasons, r), "code"), code) == 0;
        }
    }
  return n;
}

/* A whole life's log that states neither tare nor fill nor height is ranked by what the candles lost in their lives. */
static void
test_rank_without_fill (void)
{
  g_autofree char *demo = commands_path ("with-fill.wickbench"), *path = commands_path ("without-fill.wickbench");
  g_autofree char *log = commands_path ("without-fill.csv"), *text = NULL, *tare = NULL, *fill = NULL, *height = NULL;
  g_autoptr (Run) made = commands_run ("demo", demo, NULL);
  g_autoptr (Run) told = commands_run ("export", demo, "--to", log, "--experiment", "HF-1", NULL), imported = NULL, run = NULL;
  g_autoptr (JsonParser) parser = json_parser_new ();
  JsonObject *answer;

  g_assert_cmpint (made->status, ==, 0);
  g_assert_cmpint (told->status, ==, 0);
  g_assert_true (g_file_get_contents (log, &text, NULL, NULL));
  tare = rename_column (text, "tare_g", "my_tare");
  fill = rename_column (tare, "fill_g", "my_fill");
  height = rename_column (fill, "wax_height_mm", "my_height");
  g_assert_true (g_file_set_contents (log, height, -1, NULL));
  imported = commands_run ("import", path, log, NULL);
  g_assert_cmpint (imported->status, ==, 0);
  run = commands_run ("rank", path, "Brosk for the Hob and the Firkin", "--json", NULL);
  answer = commands_json (run, parser);
  g_assert_cmpuint (count_cells (answer, "recommended", "thirds_of_life"), >, 0);
  g_assert_cmpuint (count_cells (answer, "recommended", "fill_not_known"), ==, 0);
}

static void
test_within (void)
{
  const struct { const char *within; guint groups; } cases[] = { { "scent", 4 }, { "vessel", 2 }, { "all", 1 } };
  g_autofree char *path = commands_new_notebook ("within.wickbench");

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (Run) run = commands_run ("rank", path, "AVT", "--within", cases[i].within, "--json", NULL);
      g_autoptr (JsonParser) parser = json_parser_new ();
      JsonObject *answer = commands_json (run, parser);

      g_assert_cmpstr (json_object_get_string_member (answer, "within"), ==, cases[i].within);
      g_assert_cmpuint (json_array_get_length (json_object_get_array_member (answer, "groups")), ==, cases[i].groups);
    }
}

static void
test_fit (void)
{
  const char *const members[] = { "status", "samples", "burns", NULL };
  const char *const intervals[] = { "pool_limit_mm", "tau_h", "full_pool_h", "depth_mm", "flame_mm", "vessel_c", "consumption_g_per_h" };
  g_autofree char *path = commands_new_notebook ("fit.wickbench");
  g_autoptr (Run) run = commands_run ("fit", path, "AVT", "--json", NULL), lower = NULL;
  g_autoptr (JsonParser) parser = json_parser_new (), second = json_parser_new ();
  JsonObject *answer = commands_json (run, parser), *cell = first_of (answer, "cells");

  g_assert_true (json_object_has_member (answer, "same_ratings"));
  assert_members (cell, members);
  assert_members (cell, cell_members);
  for (guint i = 0; i < G_N_ELEMENTS (intervals); i++)
    assert_interval (cell, intervals[i]);
  g_assert_cmpint (json_object_get_int_member (cell, "burns"), ==, 8);
  /* Nothing was burnt down there: a stage without readings says so. */
  lower = commands_run ("fit", path, "AVT", "--stage", "lower", "--json", NULL);
  cell = first_of (commands_json (lower, second), "cells");
  g_assert_cmpstr (json_object_get_string_member (cell, "status"), !=, "ok");
  g_assert_true (json_object_get_null_member (cell, "pool_limit_mm"));
  g_assert_cmpint (json_object_get_int_member (cell, "samples"), ==, 0);
  g_assert_cmpint (json_object_get_int_member (cell, "burns"), ==, 0);
}

static void
test_effects (void)
{
  const char *const figures[] = {
    "pool_limit_mm", "tau_h", "full_pool_h", "depth_mm", "flame_mm", "vessel_c", "consumption_g_per_h",
    "soot", "mushroom", "hang_up_mm", "throw", "score",
  };
  const char *const term[] = { "term", "df", "sum_sq", "f", "p", NULL };
  const char *const comparison[] = { "a", "b", "p", "df", "equivalent", NULL };
  const char *const mean[] = { "a", "b", "mean", "combinations", "samples", NULL };
  const char *const needed[] = { "difference", "samples", "samples_range", "power", "alpha", "sample_sd", "df", "least", "most", "text", NULL };
  g_autofree char *path = commands_new_notebook ("effects.wickbench");

  for (guint i = 0; i < G_N_ELEMENTS (figures); i++)
    {
      g_autoptr (Run) run = commands_run ("effects", path, "AVT", "--figure", figures[i], "--json", NULL);
      g_autoptr (JsonParser) parser = json_parser_new ();
      JsonObject *effects = commands_json (run, parser);

      g_test_message ("%s", figures[i]);
      g_assert_cmpint (run->status, ==, 0);
      g_assert_cmpstr (json_object_get_string_member (effects, "figure"), ==, figures[i]);
      g_assert_true (json_object_has_member (effects, "terms"));
      g_assert_true (json_object_has_member (effects, "comparisons"));
      if (strcmp (figures[i], "flame_mm") != 0)
        continue;
      assert_members (first_of (effects, "terms"), term);
      assert_members (first_of (effects, "comparisons"), comparison);
      assert_interval (first_of (effects, "comparisons"), "difference");
      assert_interval (first_of (effects, "comparisons"), "alone");
      g_assert_true (json_object_get_null_member (first_of (effects, "comparisons"), "equivalent"));
      assert_members (first_of (first_of (effects, "interactions"), "means"), mean);
      assert_interval (effects, "slope");
      assert_members (json_object_get_object_member (effects, "samples_needed"), needed);
      g_assert_cmpstr (json_object_get_string_member (effects, "sums_of_squares"), ==, "II");
    }
}

/* A wide margin makes every pair alike, a narrow one none; the text says so too. */
static void
test_margin (void)
{
  const struct { const char *margin; gboolean alike; const char *word; } cases[] = {
    { "1000", TRUE, "yes" }, { "0,001", FALSE, "not shown" },
  };
  g_autofree char *path = commands_new_notebook ("margin.wickbench");

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (Run) run = commands_run ("effects", path, "AVT", "--figure", "flame_mm", "--margin", cases[i].margin, "--json", NULL);
      g_autoptr (Run) text = commands_run ("effects", path, "AVT", "--figure", "flame_mm", "--margin", cases[i].margin, NULL);
      g_autoptr (JsonParser) parser = json_parser_new ();
      JsonArray *comparisons = json_object_get_array_member (commands_json (run, parser), "comparisons");

      g_assert_cmpuint (json_array_get_length (comparisons), ==, 10);
      for (guint k = 0; k < json_array_get_length (comparisons); k++)
        g_assert_cmpint (json_object_get_boolean_member (json_array_get_object_element (comparisons, k), "equivalent"), ==, cases[i].alike);
      g_assert_nonnull (strstr (text->out, cases[i].word));
      g_assert_nonnull (strstr (text->out, "nothing is corrected across figures"));
      g_assert_nonnull (strstr (text->out, "type II"));
    }
}

static void
test_ladder (void)
{
  const char *const top[] = { "vessel", "wax", "load_pct", "rests_on", "candidates", "p_holds_best", NULL };
  const char *const step[] = { "p_right", "p_best", "in_ladder", "reason", "extrapolated", NULL };
  g_autofree char *path = commands_new_notebook ("ladder.wickbench");
  g_autoptr (Run) run = commands_run ("ladder", path, "--vessel", "Osprey", "--wax", "Harrow blend 8", "--load", "6", "--json", NULL);
  g_autoptr (JsonParser) parser = json_parser_new ();
  JsonObject *ladder = commands_json (run, parser), *first;

  assert_members (ladder, top);
  g_assert_cmpstr (json_object_get_string_member (ladder, "rests_on"), ==, "history");
  first = first_of (ladder, "candidates");
  assert_members (first, step);
  assert_interval (first, "pool_limit_mm");
  assert_interval (first, "full_pool_h");
  assert_interval (first, "flame_mm");
}

/* A terminal of 100 columns shows the figures, then why those with a star; what is not certain is told as such. */
static void
test_ladder_text (void)
{
  g_autofree char *path = commands_new_notebook ("ladder-text.wickbench"), *picture = commands_path ("ladder.svg"), *svg = NULL;
  g_autoptr (Run) run = commands_run ("ladder", path, "--vessel", "Osprey", "--wax", "Harrow blend 8", "--load", "6", "--room-warm", "28",
                                      "--chart", picture, NULL);
  g_auto (GStrv) lines = g_strsplit (run->out, "\n", -1);
  guint rows = 0, reasons = 0;

  g_assert_cmpint (run->status, ==, 0);
  for (guint i = 0; lines[i] != NULL; i++)
    {
      g_assert_cmpint (g_utf8_strlen (lines[i], -1), <=, 100);
      rows += g_str_has_prefix (lines[i], "*  ");
      reasons += g_str_has_prefix (lines[i], "* ") && lines[i][2] != ' ';
    }
  /* a reason of each, and a row of each in every table, of which there are two or three */
  g_assert_cmpuint (reasons, >=, 1);
  g_assert_cmpuint (reasons, <=, 3);
  g_assert_true (rows == 2 * reasons || rows == 3 * reasons);
  g_assert_nonnull (strstr (run->out, "At the top of the fill"));
  g_assert_nonnull (strstr (run->out, "Foretold, not tested"));
  g_assert_true (g_file_get_contents (picture, &svg, NULL, NULL));
  g_assert_nonnull (strstr (svg, "<svg"));
}

/* What the question does not say is said as it was taken. */
static void
test_ladder_question (void)
{
  g_autofree char *path = commands_new_notebook ("ladder-question.wickbench");
  g_autoptr (Run) run = commands_run ("ladder", path, "--inner-diameter", "70", "--wax", "Harrow blend 8", "--load", "6", "--room-cold", "17.5",
                                      "--fill-g", "180", "--json", NULL);
  g_autoptr (JsonParser) parser = json_parser_new ();
  JsonObject *ladder = commands_json (run, parser);

  g_assert_cmpfloat (json_object_get_double_member (ladder, "room_cold_c"), ==, 17.5);
  g_assert_cmpfloat (json_object_get_double_member (ladder, "room_warm_c"), ==, 25.0);
  g_assert_cmpfloat (json_object_get_double_member (ladder, "fill_g"), ==, 180.0);
  g_assert_false (json_object_get_boolean_member (ladder, "shares_vessel"));
  g_assert_true (json_object_get_null_member (ladder, "vessel"));
}

/* A word of the check: sound, its fingerprint fits itself, and a changed byte is found. */
static void
test_check (void)
{
  g_autofree char *path = commands_new_notebook ("check.wickbench"), *fingerprint = NULL, *other = NULL;
  g_autoptr (Run) sound = commands_run ("check", path, NULL), fits = NULL, not = NULL, broken = NULL;
  char *word = strstr (sound->out, "fingerprint ");
  g_autofree char *bytes = NULL;
  gsize length;

  g_assert_cmpint (sound->status, ==, 0);
  g_assert_nonnull (word);
  fingerprint = g_strchomp (g_strdup (word + strlen ("fingerprint ")));
  fits = commands_run ("check", path, "--fingerprint", fingerprint, NULL);
  g_assert_cmpint (fits->status, ==, 0);
  other = g_strdup (fingerprint);
  other[strlen (other) - 1] = other[strlen (other) - 1] == '0' ? '1' : '0';
  not = commands_run ("check", path, "--fingerprint", other, NULL);
  g_assert_cmpint (not->status, ==, 1);
  commands_assert_one_line (not->err);

  g_assert_true (g_file_get_contents (path, &bytes, &length, NULL));
  for (gsize i = length - strlen ("Larch"); i > 0; i--)
    if (memcmp (bytes + i, "Larch", strlen ("Larch")) == 0)
      {
        bytes[i] = 'M';
        break;
      }
  g_assert_true (g_file_set_contents (path, bytes, (gssize) length, NULL));
  broken = commands_run ("check", path, NULL);
  g_assert_cmpint (broken->status, ==, 1);
  commands_assert_one_line (broken->err);
  g_assert_nonnull (strstr (broken->err, "check.wickbench"));
}

/* The program remembers the last entry that it wrote there: an older copy in its place is seen, a copy elsewhere is none of its business. */
static void
test_check_older_copy (void)
{
  g_autofree char *path = commands_new_notebook ("anchor.wickbench"), *elsewhere = commands_path ("copy.wickbench");
  g_autofree char *messy = commands_log ("burn-log-messy.csv"), *bytes = NULL;
  g_autoptr (Run) more = NULL, copy = NULL, now = NULL, older = NULL;
  gsize length;

  g_assert_true (g_file_get_contents (path, &bytes, &length, NULL));
  more = commands_run ("import", path, messy, NULL);
  now = commands_run ("check", path, NULL);
  g_assert_cmpint (now->status, ==, 0);
  g_assert_true (g_file_set_contents (elsewhere, bytes, (gssize) length, NULL));
  copy = commands_run ("check", elsewhere, NULL);
  g_assert_cmpint (copy->status, ==, 0);
  g_assert_true (g_file_set_contents (path, bytes, (gssize) length, NULL));
  older = commands_run ("check", path, NULL);
  g_assert_cmpint (older->status, ==, 1);
  commands_assert_one_line (older->err);
}

static void
test_bad_fingerprint (void)
{
  g_autofree char *path = commands_new_notebook ("print.wickbench");
  g_autoptr (Run) run = commands_run ("check", path, "--fingerprint", "swordfish", NULL);

  g_assert_cmpint (run->status, ==, 2);
  commands_assert_one_line (run->err);
}

/* Invented data say so wherever they are printed. */
static void
test_demo (void)
{
  g_autofree char *path = commands_path ("demo.wickbench");
  g_autoptr (Run) demo = commands_run ("demo", path, NULL);
  g_autoptr (Run) list = commands_run ("list", path, NULL);
  g_autoptr (Run) json = commands_run ("list", path, "--json", NULL);
  g_autoptr (Run) check = commands_run ("check", path, NULL);

  g_assert_cmpint (demo->status, ==, 0);
  g_assert_cmpint (list->status, ==, 0);
  g_assert_nonnull (strstr (list->out, "Invented data."));
  g_assert_nonnull (strstr (json->out, "invented_data"));
  g_assert_nonnull (strstr (list->out, "curing"));
  g_assert_nonnull (strstr (list->out, "planned"));
  g_assert_cmpint (check->status, ==, 0);
}

/* A name like an option, in another script, from right to left, or very long: told or refused in one line. */
static void
test_odd_names (void)
{
  g_autofree char *path = commands_new_notebook ("odd.wickbench");
  g_autofree char *very_long = g_strnfill (10000, 'x');
  const char *const names[] = { "שָׁלוֹם", "🕯️🔥", "a\nb", very_long };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autoptr (Run) run = commands_run ("rank", path, names[i], NULL);

      g_assert_cmpint (run->status, ==, 2);
      commands_assert_one_line (run->err);
    }
}

void
test_commands_answers_add (void)
{
  g_test_add_func ("/commands/rank/a-renamed-vessel-ranks-alike", test_rank_renamed);
  g_test_add_func ("/commands/list/states-and-counts", test_list);
  g_test_add_func ("/commands/rank/the-json-has-its-keys", test_rank_keys);
  g_test_add_func ("/commands/rank/weights-name-who-would-lead", test_rank_weights);
  g_test_add_func ("/commands/rank/says-what-a-maker-would-say", test_rank_sense);
  g_test_add_func ("/commands/rank/same-log-and-seed-same-bytes", test_rank_repeats);
  g_test_add_func ("/commands/rank/what-the-chances-leave-out-is-told", test_rank_none);
  g_test_add_func ("/commands/rank/a-life-without-a-fill-is-ranked", test_rank_without_fill);
  g_test_add_func ("/commands/rank/within-widens-the-question", test_within);
  g_test_add_func ("/commands/rank/odd-names-are-told-in-one-line", test_odd_names);
  g_test_add_func ("/commands/fit/the-json-has-its-keys", test_fit);
  g_test_add_func ("/commands/effects/every-figure-is-answered", test_effects);
  g_test_add_func ("/commands/effects/a-margin-says-who-is-alike", test_margin);
  g_test_add_func ("/commands/ladder/the-json-has-its-keys", test_ladder);
  g_test_add_func ("/commands/ladder/the-text-is-read-at-100-columns", test_ladder_text);
  g_test_add_func ("/commands/ladder/the-json-tells-what-was-taken", test_ladder_question);
  g_test_add_func ("/commands/check/sound-and-broken", test_check);
  g_test_add_func ("/commands/check/an-older-copy-in-its-place-is-seen", test_check_older_copy);
  g_test_add_func ("/commands/check/what-is-no-fingerprint-is-wrong-usage", test_bad_fingerprint);
  g_test_add_func ("/commands/demo/invented-data-say-so", test_demo);
}
