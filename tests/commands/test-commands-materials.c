/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "commands-run.h"

#include <glib/gstdio.h>

static char *
new_demo (void)
{
  char *path = commands_path ("materials.wickbench");
  g_autoptr (Run) made = NULL;

  g_unlink (path);
  made = commands_run ("demo", path, NULL);
  g_assert_cmpint (made->status, ==, 0);
  return path;
}

static char *
write_sheet (const char *text)
{
  char *file = commands_path ("shelf.csv");
  g_autoptr (GError) error = NULL;

  g_file_set_contents (file, text, -1, &error);
  g_assert_no_error (error);
  return file;
}

static char *
read_file (const char *file)
{
  g_autoptr (GError) error = NULL;
  char *text = NULL;

  g_file_get_contents (file, &text, NULL, &error);
  g_assert_no_error (error);
  return text;
}

/* Out of one notebook, into another, and out again: the same lines. */
static void
test_round (void)
{
  g_autofree char *demo = new_demo (), *first = commands_path ("first.csv"), *second = commands_path ("second.csv");
  g_autofree char *fresh = commands_new_notebook ("fresh.wickbench"), *before = NULL, *after = NULL;
  g_autoptr (Run) out = commands_run ("materials", demo, "--to", first, "--kind", "fragrance", NULL);
  g_autoptr (Run) same = commands_run ("materials", demo, "--from", first, NULL);
  g_autoptr (Run) in = NULL, again = NULL, sound = NULL;
  g_auto (GStrv) lines = NULL;

  g_assert_cmpint (out->status, ==, 0);
  g_assert_cmpint (same->status, ==, 0);
  g_assert_nonnull (strstr (same->out, "0 new, 0 changed"));
  g_assert_nonnull (strstr (same->out, "Nothing written"));
  in = commands_run ("materials", fresh, "--from", first, NULL);
  g_assert_cmpint (in->status, ==, 0);
  g_assert_nonnull (strstr (in->out, "Fragrance: Quimber leaf"));
  g_assert_nonnull (strstr (in->out, "Written as entry"));
  again = commands_run ("materials", fresh, "--from", first, "--dry-run", NULL);
  g_assert_nonnull (strstr (again->out, "0 new, 0 changed"));
  sound = commands_run ("check", fresh, NULL);
  g_assert_cmpint (sound->status, ==, 0);
  /* The burn log has fragrances of its own, which were there first. */
  g_clear_pointer (&out, commands_run_free);
  out = commands_run ("materials", fresh, "--to", second, "--kind", "fragrance", NULL);
  before = read_file (first);
  after = read_file (second);
  lines = g_strsplit (before, "\r\n", -1);
  for (guint i = 0; lines[i] != NULL; i++)
    g_assert_nonnull (strstr (after, lines[i]));
}

/* All or nothing, unless the person says so. */
static void
test_refused (void)
{
  g_autofree char *demo = new_demo ();
  g_autofree char *file = write_sheet ("record,name,density\nwax,Plover,0.86\nwax,Teal,8.6\n");
  g_autoptr (Run) all = commands_run ("materials", demo, "--from", file, NULL);
  g_autoptr (Run) dry = commands_run ("materials", demo, "--from", file, "--partly", "--dry-run", NULL);
  g_autoptr (Run) partly = NULL, again = NULL;
  g_autofree char *place = g_strdup_printf ("%s:3: density: “8.6”", file);

  g_assert_cmpint (all->status, ==, 1);
  g_assert_nonnull (strstr (all->out, "Nothing written"));
  g_assert_nonnull (strstr (all->err, place));
  g_assert_cmpint (dry->status, ==, 1);
  g_assert_nonnull (strstr (dry->out, "1 new, 0 changed, 0 unchanged, 1 refused"));
  g_assert_nonnull (strstr (dry->out, "Nothing written"));
  partly = commands_run ("materials", demo, "--from", file, "--partly", NULL);
  g_assert_cmpint (partly->status, ==, 1);
  g_assert_nonnull (strstr (partly->out, "Written as entry"));
  again = commands_run ("materials", demo, "--from", file, "--dry-run", NULL);
  g_assert_nonnull (strstr (again->out, "0 new, 0 changed, 1 unchanged, 1 refused"));
}

static void
test_json (void)
{
  g_autofree char *demo = new_demo ();
  g_autofree char *file = write_sheet ("record,name,density,colour\nwax,Dunmarl soft,0.91,red\nwax,Teal,8.6,\n");
  g_autoptr (Run) run = commands_run ("materials", demo, "--from", file, "--dry-run", "--json", NULL);
  g_autoptr (JsonParser) parser = json_parser_new ();
  g_autoptr (GError) error = NULL;
  JsonObject *told, *row, *fault;

  g_assert_cmpint (run->status, ==, 1);
  json_parser_load_from_data (parser, run->out, -1, &error);
  g_assert_no_error (error);
  told = json_node_get_object (json_parser_get_root (parser));
  row = json_array_get_object_element (json_object_get_array_member (told, "rows"), 0);
  g_assert_cmpstr (json_object_get_string_member (row, "state"), ==, "changed");
  g_assert_cmpstr (json_object_get_string_member (row, "change"), ==, "Density or specific gravity 0.9 → 0.91");
  fault = json_array_get_object_element (json_object_get_array_member (told, "refused"), 0);
  g_assert_cmpint (json_object_get_int_member (fault, "line"), ==, 3);
  g_assert_cmpstr (json_object_get_string_member (fault, "column"), ==, "density");
  g_assert_cmpstr (json_array_get_string_element (json_object_get_array_member (told, "unknown"), 0), ==, "colour");
  g_assert_true (json_object_get_boolean_member (told, "dry_run"));
}

static void
test_usage (void)
{
  g_autofree char *demo = new_demo (), *none = commands_path ("none.csv"), *file = write_sheet ("record,name,name\nwax,A,B\n");
  g_autoptr (Run) nothing = commands_run ("materials", demo, NULL);
  g_autoptr (Run) both = commands_run ("materials", demo, "--to", none, "--from", none, NULL);
  g_autoptr (Run) kind = commands_run ("materials", demo, "--to", none, "--kind", "wood", NULL);
  g_autoptr (Run) missing = commands_run ("materials", demo, "--from", none, NULL);
  g_autoptr (Run) doubled = commands_run ("materials", demo, "--from", file, NULL);
  const struct { const Run *run; int status; const char *words; } cases[] = {
    { nothing, 2, "usage" }, { both, 2, "usage" }, { kind, 2, "additive" }, { missing, 3, "none.csv" }, { doubled, 3, "“name” stands twice" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_assert_cmpint (cases[i].run->status, ==, cases[i].status);
      g_assert_cmpstr (cases[i].run->out, ==, "");
      commands_assert_one_line (cases[i].run->err);
      g_assert_nonnull (strstr (cases[i].run->err, cases[i].words));
    }
}

void
test_commands_materials_add (void)
{
  g_test_add_func ("/commands/materials/out-and-in-again-is-the-same", test_round);
  g_test_add_func ("/commands/materials/a-refused-row-keeps-all-out-unless-partly", test_refused);
  g_test_add_func ("/commands/materials/json-says-each-row-and-fault", test_json);
  g_test_add_func ("/commands/materials/wrong-usage-is-2-and-a-wrong-file-3", test_usage);
}
