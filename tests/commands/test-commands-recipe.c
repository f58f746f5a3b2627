/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "commands-run.h"

#include "wb-app-notebook.h"
#include "wb-app-query.h"

#include <string.h>

/* The papers of a decision, from the command line. */

static char *
new_demo (const char *name)
{
  char *path = commands_path (name);
  g_autoptr (Run) run = commands_run_with ("WICKBENCH_CLOCK", "2026-11-25T18:00:00+01:00", "demo", path, NULL);

  g_assert_cmpint (run->status, ==, 0);
  return path;
}

static char *
read_pdf (const char *file)
{
  const char *argv[] = { "pdftotext", "-layout", file, "-", NULL };
  char *text = NULL;
  int status;

  g_assert_true (g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &text, NULL, &status, NULL));
  g_assert_cmpint (status, ==, 0);
  return text;
}

static void
assert_says (const char *text,
             const char *words)
{
  if (strstr (text, words) == NULL)
    g_error ("“%s” is not in: %s", words, text);
}

static void
test_papers (void)
{
  g_autofree char *notebook = new_demo ("recipe.wickbench"), *card = commands_path ("card.pdf"), *sheet = commands_path ("sheet.pdf");
  g_autofree char *card_text = NULL, *sheet_text = NULL;
  g_autoptr (Run) run = commands_run ("recipe", notebook, "HF-1", "--decision", "1", "--output", card, "--vessels", "50", "--pot=3000", "--overage=2", "--sheet", sheet, NULL);

  g_assert_cmpstr (run->err, ==, "");
  g_assert_cmpint (run->status, ==, 0);
  card_text = read_pdf (card);
  assert_says (card_text, "Recipe card");
  assert_says (card_text, "Page 1 of ");
  assert_says (card_text, "Wren (invented)");
  assert_says (card_text, "Lots approved");
  sheet_text = read_pdf (sheet);
  assert_says (sheet_text, "Melt 1 of 7: 8 candles");
  assert_says (sheet_text, "2.0 %");
  assert_says (sheet_text, "The approval rests on these lots.");
}

/* What is not decided has no card, and that is an answer: 1. */
static void
test_nothing_decided (void)
{
  g_autofree char *notebook = new_demo ("undecided.wickbench"), *card = commands_path ("none.pdf");
  g_autoptr (Run) run = commands_run ("recipe", notebook, "TC-1", "--output", card, NULL);

  g_assert_cmpint (run->status, ==, 1);
  commands_assert_one_line (run->err);
  assert_says (run->err, "nothing is decided yet");
  g_assert_false (g_file_test (card, G_FILE_TEST_EXISTS));
}

/* As if the combination that HF-1 decided for had been poured without fragrance. */
static void
take_fragrance (const char *path)
{
  g_autoptr (WbAppNotebook) notebook = wb_app_notebook_open_sync (path, WB_APP_OPEN_EXISTING, NULL, NULL);
  g_autoptr (GPtrArray) decisions = wb_app_query_list_sync (notebook, &wb_decision_type, NULL);
  g_autoptr (GPtrArray) cells = wb_app_query_list_sync (notebook, &wb_cell_type, NULL);
  g_autoptr (GPtrArray) records = g_ptr_array_new ();

  for (guint i = 0; i < cells->len; i++)
    if (((const WbRecord *) cells->pdata[i])->id == ((const WbDecision *) decisions->pdata[0])->cell)
      {
        ((WbCell *) cells->pdata[i])->fragrance = 0;
        g_ptr_array_add (records, cells->pdata[i]);
      }
  g_assert_cmpint (wb_app_notebook_save_sync (notebook, "Without", records, NULL, NULL), >, 0);
}

/* A lot of a fragrance that the recipe has not is a slip, told before any paper is written. */
static void
test_no_oil (void)
{
  g_autofree char *notebook = new_demo ("no-oil.wickbench"), *card = commands_path ("no-oil-card.pdf"), *sheet = commands_path ("no-oil-sheet.pdf");
  g_autoptr (Run) run = NULL;

  take_fragrance (notebook);
  run = commands_run ("recipe", notebook, "HF-1", "--decision=1", "--output", card, "--vessels=5", "--sheet", sheet, "--oil-lot=F-1", NULL);
  g_assert_cmpint (run->status, ==, 2);
  commands_assert_one_line (run->err);
  assert_says (run->err, "--oil-lot “F-1”: this recipe has no fragrance");
  g_assert_false (g_file_test (card, G_FILE_TEST_EXISTS));
  g_assert_false (g_file_test (sheet, G_FILE_TEST_EXISTS));
}

static void
test_usage (void)
{
  const struct { const char *arguments[8], *told; int status; } cases[] = {
    { { NULL }, "--output FILE.pdf is missing", 2 },
    { { "--output", "c.txt" }, "a paper is written as .pdf", 2 },
    { { "--sheet", "s.pdf" }, "asks for --vessels", 2 },
    { { "--output=c.pdf", "--vessels", "5" }, "--sheet FILE.pdf is missing", 2 },
    { { "--output=c.pdf", "--pot", "5" }, "--sheet FILE.pdf is missing", 2 },
    { { "--sheet=s.pdf", "--vessels", "0" }, "from 1 to 2000", 2 },
    { { "--sheet=s.pdf", "--vessels", "5", "--pot", "2,5" }, "--pot “2,5”", 2 },
    { { "--sheet=s.pdf", "--vessels", "5", "--overage=-1" }, "--overage “-1”", 2 },
    { { "--sheet=s.pdf", "--vessels", "5", "--hold-back=91" }, "--hold-back “91”", 2 },
    { { "--output=a.pdf", "--sheet=a.pdf", "--vessels=5" }, "name one file", 2 },
    { { "--output=c.pdf", "--decision", "0" }, "a whole number from 1", 2 },
    { { "--output=c.pdf", "--decision", "99" }, "--decision N chooses; known are: 1 ", 2 },
    { { "--output=c.pdf", "--paper=A5" }, "no paper “A5”", 2 },
    { { "--sheet=s.pdf", "--vessels=5", "--decision=1", "--pot", "20" }, "The pot holds less than one candle takes", 3 },
  };
  g_autofree char *notebook = new_demo ("usage.wickbench");

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const char *const *a = cases[i].arguments;
      g_autoptr (Run) run = commands_run ("recipe", notebook, "HF-1", a[0], a[1], a[2], a[3], a[4], NULL);

      g_test_message ("case %u: %s", i, run->err);
      g_assert_cmpint (run->status, ==, cases[i].status);
      assert_says (run->err, cases[i].told);
      commands_assert_one_line (run->err);
    }
}

void
test_commands_recipe_add (void)
{
  g_test_add_func ("/commands/recipe/a-decision-gives-its-card-and-its-production-sheet", test_papers);
  g_test_add_func ("/commands/recipe/nothing-decided-is-told-as-an-answer", test_nothing_decided);
  g_test_add_func ("/commands/recipe/a-lot-of-no-fragrance-is-a-slip", test_no_oil);
  g_test_add_func ("/commands/recipe/a-slip-is-named", test_usage);
}
