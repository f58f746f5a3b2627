/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "commands-run.h"

#include <glib/gstdio.h>

static guint
count_files (void)
{
  g_autoptr (GDir) dir = g_dir_open (g_get_user_data_dir (), 0, NULL);
  guint n = 0;

  while (g_dir_read_name (dir) != NULL)
    n++;
  return n;
}

/* Which rows are refused is told by the README beside the log: line and column of each. */
static void
test_messy (void)
{
  const struct { guint line; const char *column; } refused[] = {
    { 12, "inner_diameter_mm" }, { 28, "pool_a_mm" }, { 82, "event" }, { 98, "elapsed_min" },
    { 110, "soot" }, { 140, "flame_mm" }, { 144, "burn" }, { 145, "load_pct" },
  };
  g_autofree char *path = commands_path ("messy.wickbench"), *log = commands_log ("burn-log-messy.csv");
  g_autoptr (Run) run = commands_run ("import", path, log, NULL);
  g_auto (GStrv) lines = g_strsplit (run->err, "\n", -1);

  g_assert_cmpint (run->status, ==, 1);
  g_assert_nonnull (strstr (run->out, "150 lines, 150 readings of 10 samples: 142 accepted, 0 known, 8 refused"));
  g_assert_cmpuint (g_strv_length (lines), ==, G_N_ELEMENTS (refused) + 1);
  for (guint i = 0; i < G_N_ELEMENTS (refused); i++)
    {
      g_autofree char *begin = g_strdup_printf ("wickbench: %s:%u: %s", log, refused[i].line, refused[i].column);

      g_assert_true (g_str_has_prefix (lines[i], begin));
    }
}

static void
test_import_json (void)
{
  g_autofree char *path = commands_path ("told.wickbench"), *log = commands_log ("burn-log-messy.csv");
  g_autoptr (Run) run = commands_run ("import", path, log, "--dry-run", "--json", NULL);
  g_autoptr (JsonParser) parser = json_parser_new ();
  g_autoptr (GError) error = NULL;
  JsonObject *told, *row;

  g_assert_cmpint (run->status, ==, 1);
  json_parser_load_from_data (parser, run->out, -1, &error);
  g_assert_no_error (error);
  told = json_node_get_object (json_parser_get_root (parser));
  g_assert_cmpint (json_object_get_int_member (told, "rows"), ==, 150);
  g_assert_cmpint (json_object_get_int_member (told, "lines"), ==, 150);
  g_assert_cmpint (json_object_get_int_member (told, "samples"), ==, 10);
  g_assert_cmpint (json_object_get_int_member (told, "accepted"), ==, 142);
  g_assert_cmpint (json_object_get_int_member (told, "known"), ==, 0);
  g_assert_cmpuint (json_array_get_length (json_object_get_array_member (told, "refused")), ==, 8);
  g_assert_true (json_object_has_member (told, "warnings"));
  g_assert_true (json_object_has_member (told, "kept"));
  row = json_array_get_object_element (json_object_get_array_member (told, "refused"), 1);
  g_assert_cmpint (json_object_get_int_member (row, "line"), ==, 28);
  g_assert_cmpstr (json_object_get_string_member (row, "column"), ==, "pool_a_mm");
  g_assert_true (json_object_has_member (row, "rule"));
  g_assert_cmpstr (json_array_get_string_element (json_object_get_array_member (row, "also"), 0), ==, "pool_b_mm");
  g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
}

/* Looked at, or refused whole: no file is left, neither the notebook nor a journal. */
static void
test_nothing_left (void)
{
  g_autofree char *path = commands_path ("none.wickbench");
  g_autofree char *clean = commands_log ("burn-log-clean.csv"), *messy = commands_log ("burn-log-messy.csv");
  g_autoptr (Run) dry = commands_run ("import", path, clean, "--dry-run", NULL);
  g_autoptr (Run) strict = commands_run ("import", path, messy, "--strict", NULL);

  g_assert_cmpint (dry->status, ==, 0);
  g_assert_nonnull (strstr (dry->out, "800 accepted"));
  g_assert_cmpint (strict->status, ==, 1);
  g_assert_nonnull (strstr (strict->out, "Nothing written"));
  g_assert_cmpuint (count_files (), ==, 0);
}

/* Into a notebook that is there, the same: its bytes stay. */
static void
test_nothing_changed (void)
{
  g_autofree char *path = commands_new_notebook ("kept.wickbench"), *messy = commands_log ("burn-log-messy.csv");
  g_autofree char *before = NULL, *after = NULL;
  gsize length, other;
  g_autoptr (Run) dry = NULL, strict = NULL;

  g_assert_true (g_file_get_contents (path, &before, &length, NULL));
  dry = commands_run ("import", path, messy, "--dry-run", NULL);
  strict = commands_run ("import", path, messy, "--strict", NULL);
  g_assert_cmpint (dry->status, ==, 1);
  g_assert_cmpint (strict->status, ==, 1);
  g_assert_true (g_file_get_contents (path, &after, &other, NULL));
  g_assert_cmpmem (before, length, after, other);
}

static void
test_missing_column (void)
{
  g_autofree char *path = commands_path ("short.wickbench"), *log = commands_path ("short.csv");
  g_autoptr (Run) run = NULL, none = NULL;

  g_assert_true (g_file_set_contents (log, "experiment,vessel\nA,B\n", -1, NULL));
  run = commands_run ("import", path, log, NULL);
  g_assert_cmpint (run->status, ==, 3);
  commands_assert_one_line (run->err);
  g_assert_nonnull (strstr (run->err, "short.csv"));
  g_assert_nonnull (strstr (run->err, "wick_size"));
  none = commands_run ("import", path, "no-such-log.csv", NULL);
  g_assert_cmpint (none->status, ==, 3);
  commands_assert_one_line (none->err);
  g_assert_nonnull (strstr (none->err, "no-such-log.csv"));
  g_assert_cmpuint (count_files (), ==, 1);
}

static void
export (const char *notebook,
        const char *file)
{
  g_autoptr (Run) run = commands_run ("export", notebook, "--to", file, NULL);

  g_assert_cmpstr (run->err, ==, "");
  g_assert_cmpint (run->status, ==, 0);
}

static void
test_round_trip (void)
{
  g_autofree char *first = commands_new_notebook ("first.wickbench"), *second = commands_path ("second.wickbench");
  g_autofree char *out = commands_path ("first.csv"), *again = commands_path ("second.csv");
  g_autofree char *bytes = NULL, *other = NULL;
  gsize length, other_length;
  g_autoptr (Run) run = NULL;

  export (first, out);
  run = commands_run ("import", second, out, "--strict", NULL);
  g_assert_cmpint (run->status, ==, 0);
  export (second, again);
  g_assert_true (g_file_get_contents (out, &bytes, &length, NULL));
  g_assert_true (g_file_get_contents (again, &other, &other_length, NULL));
  g_assert_cmpmem (bytes, length, other, other_length);
}

/* Both logs can live in one notebook; one experiment alone comes out alone. */
static void
test_one_experiment (void)
{
  g_autofree char *path = commands_new_notebook ("both.wickbench"), *messy = commands_log ("burn-log-messy.csv");
  g_autofree char *out = commands_path ("one.csv"), *text = NULL;
  g_autoptr (Run) run = commands_run ("import", path, messy, NULL), only = NULL;
  g_auto (GStrv) lines = NULL;

  g_assert_cmpint (run->status, ==, 1);
  only = commands_run ("export", path, "--to", out, "--experiment", "Autumn vessel trial", NULL);
  g_assert_cmpint (only->status, ==, 0);
  g_assert_true (g_file_get_contents (out, &text, NULL, NULL));
  lines = g_strsplit (text, "\r\n", -1);
  /* A header, 800 rows, and the empty end. */
  g_assert_cmpuint (g_strv_length (lines), ==, 802);
}

/* First bytes that tell each kind: PKZIP APPNOTE 4.3.7, RFC 5545 3.4, RFC 8259; PNG, PDF and SVG by their own specifications. */
static void
test_formats (void)
{
  const struct { const char *verb, *name, *magic; } cases[] = {
    { "export", "all.xlsx", "PK\003\004" },
    { "export", "all.ics", "BEGIN:VCALENDAR\r\n" },
    { "export", "all.json", "{" },
    { "report", "r.pdf", "%PDF-" },
    { "chart", "c.png", "\211PNG\r\n\032\n" },
    { "chart", "c.svg", "<?xml" },
    { "chart", "c.pdf", "%PDF-" },
  };
  g_autofree char *path = commands_new_small_notebook ("formats.wickbench");

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *file = commands_path (cases[i].name), *bytes = NULL;
      gsize length;
      g_autoptr (Run) run = strcmp (cases[i].verb, "export") == 0 ? commands_run ("export", path, "--to", file, NULL)
                            : strcmp (cases[i].verb, "report") == 0
                              ? commands_run ("report", path, "AVT", "--output", file, NULL)
                              : commands_run ("chart", path, "AVT", "--kind", "growth", "--output", file, NULL);

      g_assert_cmpstr (run->err, ==, "");
      g_assert_cmpint (run->status, ==, 0);
      g_assert_true (g_file_get_contents (file, &bytes, &length, NULL));
      g_assert_cmpuint (length, >, strlen (cases[i].magic));
      g_assert_cmpmem (bytes, strlen (cases[i].magic), cases[i].magic, strlen (cases[i].magic));
    }
}

/* The same notebook, arguments and date: the same bytes, for every kind of file. */
static void
test_same_bytes (void)
{
  const char *const cases[][8] = {
    { "report", "AVT", "--output", "r.pdf" },
    { "chart", "AVT", "--kind", "score", "--output", "c.pdf" },
    { "chart", "AVT", "--kind", "heat", "--output", "c.svg" },
    { "chart", "AVT", "--kind", "rings", "--output", "c.png" },
  };
  g_autofree char *full = commands_new_notebook ("bytes.wickbench"), *small = commands_new_small_notebook ("small-bytes.wickbench");

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const char *const *a = cases[i];
      guint last = a[4] != NULL ? 5 : 3;
      const char *path = last == 3 ? full : small;
      g_autofree char *file = commands_path (a[last]), *first = NULL, *second = NULL;
      gsize length, other;

      for (guint k = 0; k < 2; k++)
        {
          g_autoptr (Run) run = last == 3
                                  ? commands_run_with ("SOURCE_DATE_EPOCH", "1772438400", a[0], path, a[1], a[2], file, NULL)
                                  : commands_run_with ("SOURCE_DATE_EPOCH", "1772438400", a[0], path, a[1], a[2], a[3], a[4], file, NULL);

          g_assert_cmpstr (run->err, ==, "");
          g_assert_cmpint (run->status, ==, 0);
          g_assert_true (g_file_get_contents (file, k == 0 ? &first : &second, k == 0 ? &length : &other, NULL));
        }
      g_assert_cmpmem (first, length, second, other);
    }
}

/* What a customer reads first and last, in the PDF's text. */
static void
test_report_text (void)
{
  const char *const words[] = { "Autumn vessel trial", "Osprey", "certification" };
  g_autofree char *path = commands_new_notebook ("report.wickbench"), *file = commands_path ("report.pdf"), *text = NULL;
  g_autoptr (Run) run = commands_run ("report", path, "AVT", "--output", file, "--paper", "Letter", NULL);
  const char *argv[] = { "pdftotext", file, "-", NULL };
  int status;

  g_assert_cmpint (run->status, ==, 0);
  g_assert_true (g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &text, NULL, &status, NULL));
  g_assert_cmpint (status, ==, 0);
  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    if (strstr (text, words[i]) == NULL)
      g_error ("the report does not say “%s”", words[i]);
}

/* The whole notebook as JSON is JSON, with a member for each kind of record, the entries and what was there before. */
static void
test_whole_json (void)
{
  g_autofree char *path = commands_new_notebook ("whole.wickbench"), *file = commands_path ("whole.json");
  g_autoptr (JsonParser) parser = json_parser_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (Run) one = NULL;
  JsonObject *whole;

  export (path, file);
  json_parser_load_from_file (parser, file, &error);
  g_assert_no_error (error);
  whole = json_node_get_object (json_parser_get_root (parser));
  g_assert_cmpuint (json_array_get_length (json_object_get_array_member (whole, "reading")), ==, 800);
  g_assert_cmpuint (json_array_get_length (json_object_get_array_member (whole, "vessel")), ==, 2);
  g_assert_cmpuint (json_array_get_length (json_object_get_array_member (whole, "entries")), ==, 2);
  one = commands_run ("export", path, "--to", file, "--experiment", "AVT", NULL);
  g_assert_cmpint (one->status, ==, 2);
  commands_assert_one_line (one->err);
}

static void
test_bad_places (void)
{
  g_autofree char *path = commands_new_small_notebook ("places.wickbench");
  g_autoptr (Run) folder = commands_run ("export", path, "--to", "/no/such/folder/x.csv", NULL);
  g_autoptr (Run) chart = commands_run ("chart", path, "AVT", "--kind", "growth", "--output", "/no/such/folder/x.png", NULL);
  g_autoptr (Run) demo = commands_run ("demo", path, NULL);
  g_autoptr (Run) list = commands_run ("list", path, NULL);

  g_assert_cmpint (folder->status, ==, 3);
  g_assert_cmpstr (folder->err, ==, "wickbench: “/no/such/folder/x.csv” cannot be written: there is no such folder.\n");
  g_assert_cmpint (chart->status, ==, 3);
  g_assert_cmpstr (chart->err, ==, "wickbench: “/no/such/folder/x.png” cannot be written: there is no such folder.\n");
  /* A file that is there is never written over by the demo. */
  g_assert_cmpint (demo->status, ==, 3);
  commands_assert_one_line (demo->err);
  g_assert_nonnull (strstr (list->out, "Autumn vessel trial"));
}

/* Whatever a notebook is called, nothing is written over it, and no journal is left beside it. */
static void
test_over_the_notebook (void)
{
  const char *const names[] = { "itself.pdf", "itself.png", "itself.csv", "itself.json" };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *path = commands_new_small_notebook (names[i]), *journal = g_strconcat (path, "-journal", NULL);
      g_autofree char *before = NULL, *after = NULL;
      gsize length, other;
      g_autoptr (Run) run = NULL;

      g_assert_true (g_file_get_contents (path, &before, &length, NULL));
      g_assert_false (g_file_test (journal, G_FILE_TEST_EXISTS));
      if (i < 2)
        run = commands_run ("chart", path, "AVT", "--kind", "growth", "--output", path, NULL);
      else
        run = commands_run ("export", path, "--to", path, NULL);
      g_assert_cmpint (run->status, ==, 3);
      commands_assert_one_line (run->err);
      g_assert_nonnull (strstr (run->err, "the notebook itself"));
      if (i == 0)
        {
          g_autoptr (Run) report = commands_run ("report", path, "AVT", "--output", path, NULL);

          g_assert_cmpint (report->status, ==, 3);
        }
      g_assert_true (g_file_get_contents (path, &after, &other, NULL));
      g_assert_cmpmem (before, length, after, other);
    }
}

/* Whole: all of it is there, which is 0. Damaged: what is lost is told, which is 1; the damaged file stays as it is. */
static void
test_salvage (void)
{
  g_autofree char *path = commands_new_notebook ("salvaged.wickbench"), *whole = commands_path ("whole.wickbench");
  g_autofree char *rest = commands_path ("rest.wickbench"), *none = commands_path ("none.wickbench"), *text = commands_path ("text.csv");
  g_autofree char *bytes = NULL, *after = NULL;
  g_autoptr (Run) all = commands_run ("salvage", path, whole, NULL), again = commands_run ("salvage", path, whole, NULL), some = NULL;
  g_autoptr (Run) list = commands_run ("list", path, NULL), other_list = commands_run ("list", whole, NULL), check = NULL, nothing = NULL;
  gsize length, other;

  g_assert_cmpstr (all->err, ==, "");
  g_assert_cmpint (all->status, ==, 0);
  g_assert_cmpstr (list->out, ==, other_list->out);
  g_assert_cmpint (again->status, ==, 3);
  commands_assert_one_line (again->err);
  g_assert_nonnull (strstr (again->err, "already"));

  g_assert_true (g_file_get_contents (path, &bytes, &length, NULL));
  /* Half of the readings of an import stand on the last pages. */
  length = length / 4096 * 3 / 4 * 4096;
  g_assert_true (g_file_set_contents (path, bytes, (gssize) length, NULL));
  some = commands_run ("salvage", path, rest, NULL);
  g_assert_cmpint (some->status, ==, 1);
  g_assert_nonnull (strstr (some->out, "readings were saved"));
  g_assert_nonnull (strstr (some->out, "rows could be read"));
  g_assert_true (g_file_get_contents (path, &after, &other, NULL));
  g_assert_cmpmem (bytes, length, after, other);
  check = commands_run ("check", rest, NULL);
  g_assert_cmpint (check->status, ==, 0);

  g_assert_true (g_file_set_contents (text, "experiment,sample\n", -1, NULL));
  nothing = commands_run ("salvage", text, none, NULL);
  g_assert_cmpint (nothing->status, ==, 3);
  commands_assert_one_line (nothing->err);
  g_assert_false (g_file_test (none, G_FILE_TEST_EXISTS));
}

/* A maker's own sheet by its mapping: what is refused is told by the sheet's lines and columns, and the rest comes in. */
static void
test_mapping (void)
{
  g_autofree char *path = commands_path ("sheet.wickbench"), *sheet = commands_log ("sheet-refused.csv");
  g_autofree char *mapping = commands_log ("sheet-refused.mapping"), *begin = g_strdup_printf ("wickbench: %s:2: Day: ", sheet);
  g_autoptr (Run) run = commands_run ("import", path, sheet, "--mapping", mapping, NULL), list = NULL;
  g_auto (GStrv) lines = g_strsplit (run->err, "\n", -1);

  g_assert_cmpint (run->status, ==, 1);
  g_assert_nonnull (strstr (run->out, "20 lines, 20 readings of 1 sample: 1 accepted, 0 known, 19 refused"));
  g_assert_cmpuint (g_strv_length (lines), ==, 21);
  g_assert_nonnull (strstr (lines[0], ": warning: "));
  g_assert_nonnull (strstr (lines[0], "no fragrance named"));
  g_assert_true (g_str_has_prefix (lines[1], begin));
  g_assert_nonnull (strstr (lines[19], ":21: Pool: line 20"));
  list = commands_run ("list", path, NULL);
  g_assert_nonnull (strstr (list->out, "Refused"));
}

static void
test_mapping_does_not_fit (void)
{
  g_autofree char *path = commands_path ("unfit.wickbench"), *sheet = commands_log ("sheet-us-hours.csv");
  g_autofree char *mapping = commands_log ("sheet-refused.mapping"), *wrong = commands_log ("README.md");
  g_autoptr (Run) run = commands_run ("import", path, sheet, "--mapping", mapping, NULL);
  g_autoptr (Run) none = commands_run ("import", path, sheet, "--mapping", "no-such.mapping", NULL);
  g_autoptr (Run) bad = commands_run ("import", path, sheet, "--mapping", wrong, NULL);

  g_assert_cmpint (run->status, ==, 3);
  commands_assert_one_line (run->err);
  g_assert_nonnull (strstr (run->err, "the file has no column “Day”"));
  g_assert_cmpint (none->status, ==, 3);
  commands_assert_one_line (none->err);
  g_assert_nonnull (strstr (none->err, "no-such.mapping"));
  g_assert_cmpint (bad->status, ==, 3);
  commands_assert_one_line (bad->err);
  g_assert_nonnull (strstr (bad->err, "is no mapping of a burn log"));
  g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
}

void
test_commands_files_add (void)
{
  g_test_add_func ("/commands/import/exactly-the-eight-bad-rows-are-refused", test_messy);
  g_test_add_func ("/commands/import/the-json-names-line-column-and-rule", test_import_json);
  g_test_add_func ("/commands/import/a-dry-run-and-a-strict-no-leave-no-file", test_nothing_left);
  g_test_add_func ("/commands/import/a-dry-run-and-a-strict-no-change-no-byte", test_nothing_changed);
  g_test_add_func ("/commands/files/what-is-left-of-a-notebook-is-salvaged", test_salvage);
  g_test_add_func ("/commands/import/a-makers-sheet-comes-in-by-its-mapping", test_mapping);
  g_test_add_func ("/commands/import/a-mapping-that-does-not-fit-is-3-and-says-why", test_mapping_does_not_fit);
  g_test_add_func ("/commands/import/a-missing-column-is-3-and-named", test_missing_column);
  g_test_add_func ("/commands/export/out-in-and-out-again-is-the-same", test_round_trip);
  g_test_add_func ("/commands/export/one-experiment-alone", test_one_experiment);
  g_test_add_func ("/commands/export/each-format-is-what-its-ending-says", test_formats);
  g_test_add_func ("/commands/export/the-whole-notebook-as-json", test_whole_json);
  g_test_add_func ("/commands/report/the-same-date-gives-the-same-bytes", test_same_bytes);
  g_test_add_func ("/commands/report/a-customer-can-read-it", test_report_text);
  g_test_add_func ("/commands/export/what-cannot-be-written-is-3", test_bad_places);
  g_test_add_func ("/commands/export/the-notebook-is-never-written-over", test_over_the_notebook);
}
