/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "commands-run.h"

static char *
new_demo (void)
{
  char *path = commands_path ("lots.wickbench");
  g_autoptr (Run) made = commands_run ("demo", path, NULL);

  g_assert_cmpint (made->status, ==, 0);
  return path;
}

static guint
count_kind (JsonArray  *uses,
            const char *kind,
            const char *experiment)
{
  guint n = 0;

  for (guint i = 0; i < json_array_get_length (uses); i++)
    {
      JsonObject *use = json_array_get_object_element (uses, i);

      n += g_str_equal (json_object_get_string_member (use, "kind"), kind)
           && (experiment == NULL || g_str_equal (json_object_get_string_member (use, "experiment"), experiment));
    }
  return n;
}

/* The sums of the list are those of each lot's own answer, and those of the experiments' own. */
static void
test_agree (void)
{
  g_autofree char *path = new_demo ();
  g_autoptr (Run) list = commands_run ("lots", path, "--json", NULL);
  g_autoptr (JsonParser) parser = json_parser_new ();
  JsonArray *lots = json_object_get_array_member (commands_json (list, parser), "lots");
  guint decisions = 0;

  g_assert_cmpuint (json_array_get_length (lots), >, 5);
  for (guint i = 0; i < json_array_get_length (lots); i++)
    {
      JsonObject *lot = json_array_get_object_element (lots, i);
      const char *material = json_object_get_string_member (lot, "material"), *code = json_object_get_string_member (lot, "lot");
      g_autoptr (Run) one = commands_run ("lots", path, material, code, "--json", NULL);
      g_autoptr (JsonParser) own = json_parser_new ();
      JsonObject *told = commands_json (one, own);
      JsonArray *uses = json_object_get_array_member (told, "uses");

      g_test_message ("%s %s", material, code);
      g_assert_cmpint (count_kind (uses, "melt", NULL), ==, json_object_get_int_member (lot, "melts"));
      g_assert_cmpint (count_kind (uses, "sample", NULL), ==, json_object_get_int_member (lot, "samples"));
      g_assert_cmpint (count_kind (uses, "decision", NULL), ==, json_object_get_int_member (lot, "decisions"));
      g_assert_cmpint (json_object_get_int_member (told, "samples_crossed"), ==, json_object_get_int_member (lot, "samples_crossed"));
      decisions += (guint) json_object_get_int_member (lot, "decisions");
    }
  g_assert_cmpuint (decisions, >, 0);
}

static void
test_recall (void)
{
  g_autofree char *path = new_demo ();
  /* whatever its case, and the wax by its bare name */
  g_autoptr (Run) run = commands_run ("lots", path, "Dunmarl soft", "w-107", "--json", NULL);
  g_autoptr (Run) back = commands_run ("lots", path, "--experiment", "HF-1", "--json", NULL);
  g_autoptr (JsonParser) parser = json_parser_new (), other = json_parser_new ();
  JsonArray *uses = json_object_get_array_member (commands_json (run, parser), "uses");
  JsonArray *parts = json_object_get_array_member (commands_json (back, other), "uses");

  /* twelve combinations of three, all poured of it, and the candle that is kept */
  g_assert_cmpuint (count_kind (uses, "sample", "HF-1"), ==, 37);
  g_assert_cmpuint (count_kind (parts, "sample", "HF-1"), ==, 37);
  g_assert_cmpuint (count_kind (uses, "sample", "TH-1"), ==, 0);
  g_assert_cmpuint (count_kind (uses, "decision", "HF-1"), ==, count_kind (parts, "decision", "HF-1"));
  for (guint i = 0; i < json_array_get_length (parts); i++)
    g_assert_nonnull (strstr (json_object_get_string_member (json_array_get_object_element (parts, i), "rests_on"), "Dunmarl soft W-107"));
}

static void
test_unknown (void)
{
  g_autofree char *path = new_demo ();
  g_autoptr (Run) lot = commands_run ("lots", path, "Dunmarl soft", "W-9", NULL);
  g_autoptr (Run) other = commands_run ("lots", path, "Pellow blend", "W-107", NULL);
  g_autoptr (Run) material = commands_run ("lots", path, "Dunmarl", "W-107", NULL);
  g_autoptr (Run) half = commands_run ("lots", path, "Dunmarl soft", NULL);
  g_autoptr (Run) experiment = commands_run ("lots", path, "--experiment", "XX-9", NULL);
  const Run *runs[] = { lot, other, material, half, experiment };

  for (guint i = 0; i < G_N_ELEMENTS (runs); i++)
    {
      g_assert_cmpint (runs[i]->status, ==, 2);
      g_assert_cmpstr (runs[i]->out, ==, "");
      commands_assert_one_line (runs[i]->err);
    }
  g_assert_nonnull (strstr (material->err, "Dunmarl soft; Pellow blend"));
}

void
test_commands_lots_add (void)
{
  g_test_add_func ("/commands/lots/the-list-and-each-lot-agree", test_agree);
  g_test_add_func ("/commands/lots/a-recall-finds-every-sample-and-the-way-back", test_recall);
  g_test_add_func ("/commands/lots/what-is-unknown-is-2-and-named", test_unknown);
}
