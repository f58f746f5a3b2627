/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "commands-run.h"

#include <glib/gstdio.h>

static const char *const verbs[] = {
  "demo", "import", "export", "list", "rank", "next", "fit", "effects", "ladder", "report", "recipe", "chart", "check",
};

static void
test_help (void)
{
  g_autoptr (Run) run = commands_run ("--help", NULL);

  g_assert_cmpint (run->status, ==, 0);
  g_assert_cmpstr (run->err, ==, "");
  for (guint i = 0; i < G_N_ELEMENTS (verbs); i++)
    {
      g_autofree char *usage = g_strdup_printf ("wickbench %s", verbs[i]);
      g_autoptr (Run) own = commands_run (verbs[i], "--help", NULL);

      g_assert_nonnull (strstr (run->out, verbs[i]));
      g_assert_cmpint (own->status, ==, 0);
      g_assert_cmpstr (own->err, ==, "");
      g_assert_nonnull (strstr (own->out, usage));
    }
}

static void
test_version (void)
{
  g_autoptr (Run) run = commands_run ("--version", NULL);

  g_assert_cmpint (run->status, ==, 0);
  g_assert_cmpstr (run->out, ==, "wickbench " WB_VERSION "\n");
}

static void
test_wrong_usage (void)
{
  const char *const cases[][8] = {
    { "frobnicate" },
    { "--frobnicate" },
    { "list" },
    { "list", "a", "b" },
    { "list", "a", "--frobnicate" },
    { "rank", "a" },
    { "next", "a" },
    { "rank", "a", "b", "--within", "kitchen" },
    { "rank", "a", "b", "--seed", "many" },
    { "rank", "a", "b", "--seed", "-4" },
    { "rank", "a", "b", "--seed", "0" },
    { "rank", "a", "b", "--seed", "1.5" },
    { "rank", "a", "b", "--seed", "0x10" },
    { "rank", "a", "b", "--seed", "9223372036854775808" },
    { "fit", "a", "b", "--stage", "bottom" },
    { "effects", "a", "b" },
    { "effects", "a", "b", "--figure", "colour" },
    { "effects", "a", "b", "--figure", "flame_mm", "--margin", "0" },
    { "effects", "a", "b", "--figure", "flame_mm", "--margin", "-2" },
    { "effects", "a", "b", "--figure", "flame_mm", "--margin", "wide" },
    { "effects", "a", "b", "--figure", "flame_mm", "--margin", "inf" },
    { "chart", "a", "b", "--output", "c.png" },
    { "chart", "a", "b", "--kind", "pie", "--output", "c.png" },
    { "chart", "a", "b", "--kind", "growth", "--output", "c.gif" },
    { "report", "a", "b" },
    { "report", "a", "b", "--output", "r.csv" },
    { "report", "a", "b", "--output", "" },
    { "report", "a", "b", "--output", "r.pdf", "--paper", "A5" },
    { "export", "a" },
    { "export", "a", "--to", "c.txt" },
    { "ladder", "a", "--wax", "w", "--load", "6" },
    { "ladder", "a", "--inner-diameter", "5", "--wax", "w", "--load", "6" },
    { "ladder", "a", "--inner-diameter", "7,6", "--wax", "w", "--load", "6" },
    { "ladder", "a", "--inner-diameter", "76", "--wax", "w", "--load", "31" },
    { "ladder", "a", "--inner-diameter", "1e99", "--wax", "w", "--load", "6" },
    { "ladder", "a", "--inner-diameter", "nan", "--wax", "w", "--load", "6" },
    { "ladder", "a", "--inner-diameter", "76", "--load", "6" },
    { "ladder", "a", "--inner-diameter", "76", "--wax", "w" },
    { "ladder", "a", "--inner-diameter", "76", "--wax", "w", "--load", "6 %" },
    { "ladder", "a", "--load=6", "--inner-diameter", "76", "--wax=w", "--wicks", "0" },
    { "ladder", "a", "--load=6", "--inner-diameter", "76", "--wax=w", "--wicks", "1.5" },
    { "ladder", "a", "--load=6", "--inner-diameter", "76", "--wax=w", "--sizes", "99999999999" },
    { "ladder", "a", "--load=6", "--inner-diameter", "76", "--wax=w", "--basis", "water" },
    { "ladder", "a", "--load=6", "--inner-diameter", "76", "--wax=w", "--room-cold", "-1" },
    { "ladder", "a", "--load=6", "--inner-diameter", "76", "--wax=w", "--room-warm", "46" },
    { "ladder", "a", "--load=6", "--inner-diameter", "76", "--wax=w", "--room-cold", "26" },
    { "ladder", "a", "--load=6", "--inner-diameter", "76", "--wax=w", "--fill-g", "0" },
    { "ladder", "a", "--load=6", "--inner-diameter", "76", "--wax=w", "--chart", "a.gif" },
    { "ladder", "a", "--load=6", "--inner-diameter", "76", "--wax=w", "--vessel", "v" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (Run) run = commands_run (cases[i][0], cases[i][1], cases[i][2], cases[i][3], cases[i][4], cases[i][5],
                                          cases[i][6], cases[i][7], NULL);

      g_test_message ("case %u: %s %s", i, cases[i][0], run->err);
      g_assert_cmpint (run->status, ==, 2);
      g_assert_cmpstr (run->out, ==, "");
      commands_assert_one_line (run->err);
    }
}

/* A required option that was left out is named, and is not told as a wrong value. */
static void
test_missing_options (void)
{
  const struct { const char *arguments[8], *named; } cases[] = {
    { { "ladder", "a", "--wax", "w", "--load", "6" }, "--vessel V, or --inner-diameter MM instead, is missing" },
    { { "ladder", "a", "--vessel", "v", "--load", "6" }, "--wax W is missing" },
    { { "ladder", "a", "--vessel=v", "--load=6", "--wax=w", "--room-warm", "19" }, "--room-cold must not be above --room-warm" },
    { { "ladder", "a", "--vessel=v", "--load=6", "--wax=w", "--fill-g", "20001" }, "--fill-g takes 1 to 20000 g" },
    { { "ladder", "a", "--vessel", "v", "--wax", "w" }, "--load L is missing" },
    { { "ladder", "a", "--inner-diameter", "84,5", "--wax", "w", "--load", "6" }, "--inner-diameter takes 20 to 400 mm; its decimal sign is a point, not a comma (“84,5”)" },
    { { "ladder", "a", "--inner-diameter", "78mm", "--wax", "w", "--load", "6" }, "--inner-diameter takes 20 to 400 mm, without the unit (“78mm”)" },
    { { "ladder", "a", "--inner-diameter", "78", "--wax", "w", "--load", "7 %" }, "without the unit (“7 %”)" },
    { { "effects", "a", "b" }, "--figure F is missing" },
    { { "chart", "a", "b", "--output", "c.png" }, "--kind K is missing" },
    { { "chart", "a", "b", "--kind", "growth" }, "--output FILE is missing" },
    { { "report", "a", "b" }, "--output FILE.pdf is missing" },
    { { "export", "a" }, "--to FILE is missing" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const char *const *a = cases[i].arguments;
      g_autoptr (Run) run = commands_run (a[0], a[1], a[2], a[3], a[4], a[5], a[6], a[7], NULL);

      g_test_message ("%s", run->err);
      g_assert_cmpint (run->status, ==, 2);
      g_assert_nonnull (strstr (run->err, cases[i].named));
      commands_assert_one_line (run->err);
    }
}

/* What is not known is told beside what is. */
static void
test_unknown_names (void)
{
  g_autofree char *path = commands_new_notebook ("known.wickbench");
  const struct { const char *arguments[9]; const char *known; } cases[] = {
    { { "frobnicate" }, "demo, import" },
    { { "next", path, "Spring trial" }, "AVT (Autumn vessel trial)" },
    { { "rank", path, "Spring trial" }, "AVT (Autumn vessel trial)" },
    { { "export", path, "--to", "never.csv", "--experiment", "Spring trial" }, "AVT (Autumn vessel trial)" },
    { { "effects", path, "AVT", "--figure", "colour" }, "flame_mm" },
    { { "chart", path, "AVT", "--kind", "pie", "--output", "c.png" }, "growth, rings" },
    { { "ladder", path, "--vessel", "Heron", "--wax", "Harrow blend 8", "--load", "6" }, "Osprey" },
    { { "ladder", path, "--vessel", "Osprey", "--wax", "Harow blend 8", "--load", "6" }, "did you mean “Harrow blend 8”" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const char *const *a = cases[i].arguments;
      g_autoptr (Run) run = commands_run (a[0], a[1], a[2], a[3], a[4], a[5], a[6], a[7], a[8], NULL);

      g_test_message ("case %u: %s", i, run->err);
      g_assert_cmpint (run->status, ==, 2);
      commands_assert_one_line (run->err);
      g_assert_nonnull (strstr (run->err, cases[i].known));
    }
}

/* What cannot be read is 3, and named; nothing is made. */
static void
test_failures (void)
{
  g_autofree char *missing = commands_path ("missing.wickbench"), *text = commands_path ("text.wickbench");
  const char *const needs[] = { "list", "check" };

  g_assert_true (g_file_set_contents (text, "experiment,vessel\n", -1, NULL));
  for (guint i = 0; i < G_N_ELEMENTS (needs); i++)
    {
      g_autoptr (Run) none = commands_run (needs[i], missing, NULL), other = commands_run (needs[i], text, NULL);

      g_assert_cmpint (none->status, ==, 3);
      commands_assert_one_line (none->err);
      g_assert_nonnull (strstr (none->err, "missing.wickbench"));
      g_assert_cmpint (other->status, ==, 3);
      commands_assert_one_line (other->err);
      g_assert_nonnull (strstr (other->err, "text.wickbench"));
    }
  g_assert_false (g_file_test (missing, G_FILE_TEST_EXISTS));
}

/* Output that does not get through is a failure. */
static void
test_full_output (void)
{
  g_autofree char *path = commands_new_notebook ("full.wickbench");
  g_autofree char *line = g_strdup_printf ("\"%s\" list '%s' > /dev/full", g_getenv ("WICKBENCH_PROGRAM"), path);
  const char *argv[] = { "/bin/sh", "-c", line, NULL };
  g_autofree char *err = NULL;
  int status;

  g_assert_true (g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_DEFAULT, NULL, NULL, NULL, &err, &status, NULL));
  g_assert_cmpint (WEXITSTATUS (status), ==, 3);
  commands_assert_one_line (err);
}

static void
test_bad_clock (void)
{
  g_autoptr (Run) run = commands_run_with ("WICKBENCH_CLOCK", "yesterday", "--help", NULL);

  g_assert_cmpint (run->status, ==, 2);
  commands_assert_one_line (run->err);
}

void
test_commands_usage_add (void)
{
  g_test_add_func ("/commands/usage/help-for-all-and-for-each", test_help);
  g_test_add_func ("/commands/usage/the-version-is-the-build-s", test_version);
  g_test_add_func ("/commands/usage/wrong-usage-is-2-in-one-line", test_wrong_usage);
  g_test_add_func ("/commands/usage/a-missing-option-is-named", test_missing_options);
  g_test_add_func ("/commands/usage/an-unknown-name-lists-the-known", test_unknown_names);
  g_test_add_func ("/commands/usage/what-cannot-be-read-is-3-and-named", test_failures);
  g_test_add_func ("/commands/usage/lost-output-is-a-failure", test_full_output);
  g_test_add_func ("/commands/usage/a-clock-that-cannot-be-read-is-told", test_bad_clock);
}
