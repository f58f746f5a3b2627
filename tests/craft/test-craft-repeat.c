/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "test-craft.h"
#include "wb-craft-repeat.h"

static WbDataset *
two_wicks (void)
{
  WbDataset *data = test_craft_data_new ();

  data->experiment->wax = data->wax->record.id = 700;
  data->experiment->samples_per_cell = 3;
  test_craft_add_cell (data, "Tern", 76.2, "Sedge", "S-3", 3, 0);
  test_craft_add_cell (data, "Tern", 76.2, "Sedge", "S-4", 4, 0);
  return data;
}

static char *
compare (const WbCraftPlanned *before,
         const WbDataset      *after,
         guint                *count,
         char                **warning)
{
  g_autoptr (WbCraftPlanned) planned = wb_craft_planned_of_data (after);
  g_autoptr (GPtrArray) changes = wb_craft_repeat_compare (before, planned);

  *count = wb_craft_repeat_count (changes);
  *warning = wb_craft_repeat_dup_warning (changes);
  return wb_craft_repeat_dup_words (changes, "T1");
}

/* Changed step by step, told step by step; put back, nothing is changed. */
static void
test_changes (void)
{
  g_autoptr (WbDataset) data = two_wicks ();
  g_autoptr (WbCraftPlanned) before = wb_craft_planned_of_data (data);
  g_autofree char *same = NULL, *wax = NULL, *both = NULL, *more = NULL, *back = NULL;
  g_autofree char *none = NULL, *none_of_wax = NULL, *of_both = NULL, *of_more = NULL, *of_back = NULL;
  gint64 id = data->wax->record.id;
  char *name = data->wax->name;
  guint n;

  same = compare (before, data, &n, &none);
  g_assert_cmpstr (same, ==, "Repeats T1. Nothing is changed yet.");
  g_assert_cmpuint (n, ==, 0);
  g_assert_null (none);

  data->wax->record.id = data->experiment->wax = 4711;
  data->wax->name = (char *) "Heath blend";
  wax = compare (before, data, &n, &none_of_wax);
  g_assert_cmpstr (wax, ==, "Repeats T1. Changed: wax Test wax → Heath blend.");
  g_assert_cmpuint (n, ==, 1);
  g_assert_null (none_of_wax);

  data->protocol->trim_mm = 4;
  both = compare (before, data, &n, &of_both);
  g_assert_cmpuint (n, ==, 2);
  g_assert_nonnull (of_both);
  g_assert_nonnull (strstr (both, "how they are burnt: "));

  /* More of each tells it better, and is no other reason for what comes out. */
  data->wax->record.id = data->experiment->wax = id;
  data->wax->name = name;
  data->experiment->samples_per_cell += 2;
  more = compare (before, data, &n, &of_more);
  g_assert_cmpuint (n, ==, 1);
  g_assert_null (of_more);
  g_assert_nonnull (strstr (more, "samples of each combination"));

  data->protocol->trim_mm = 6;
  data->experiment->samples_per_cell -= 2;
  back = compare (before, data, &n, &of_back);
  g_assert_cmpstr (back, ==, same);
}

/* Order tells nothing; a wick left out everywhere is another set; two of a wick are not one of it. */
static void
test_wicks (void)
{
  g_autoptr (WbDataset) data = two_wicks ();
  g_autoptr (WbCraftPlanned) before = wb_craft_planned_of_data (data);
  g_autofree char *turned = NULL, *fewer = NULL, *twice = NULL;
  g_autofree char *none = NULL, *none_fewer = NULL, *none_twice = NULL;
  gpointer first = g_ptr_array_index (data->cells, 0);
  guint n;

  data->cells->pdata[0] = data->cells->pdata[1];
  data->cells->pdata[1] = first;
  turned = compare (before, data, &n, &none);
  g_assert_cmpuint (n, ==, 0);
  ((WbCell *) first)->left_out = TRUE;
  fewer = compare (before, data, &n, &none_fewer);
  g_assert_cmpstr (fewer, ==, "Repeats T1. Changed: wick Sedge S-3 left out.");
  /* what is left is burnt as it was */
  g_assert_cmpuint (n, ==, 0);
  g_assert_null (none_fewer);
  ((WbCell *) first)->left_out = FALSE;
  ((WbCell *) first)->wick_count = 2;
  ((WbCell *) first)->wick_spacing_mm = 30;
  twice = compare (before, data, &n, &none_twice);
  g_assert_cmpuint (n, ==, 1);
  g_assert_cmpstr (twice, ==, "Repeats T1. Changed: wick Sedge S-3 → 2\u00a0×\u00a0Sedge S-3, 30\u00a0mm apart.");
}

/* One load of several, one vessel of several, is told alone. */
static void
test_one_thing (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftPlanned) before = NULL;
  g_autofree char *load = NULL, *vessel = NULL, *more = NULL, *control = NULL, *warning = NULL;
  WbCell *second;
  guint n;

  test_craft_add_cell (data, "Tern", 76.2, "Sedge", "S-3", 3, 6);
  test_craft_add_cell (data, "Tern", 76.2, "Sedge", "S-3", 3, 8);
  test_craft_add_cell (data, "Hob", 82, "Sedge", "S-3", 3, 6);
  before = wb_craft_planned_of_data (data);
  second = g_ptr_array_index (data->cells, 1);
  second->load_pct = 10;
  load = compare (before, data, &n, &warning);
  g_assert_cmpstr (load, ==, "Repeats T1. Changed: load of Harbour mist 8\u00a0% → 10\u00a0%.");
  g_assert_cmpuint (n, ==, 1);
  second->load_pct = 8;
  test_craft_add_cell (data, "Finch", 60, "Sedge", "S-3", 3, 6);
  ((WbCell *) g_ptr_array_index (data->cells, 2))->left_out = TRUE;
  vessel = compare (before, data, &n, &warning);
  g_assert_cmpstr (vessel, ==, "Repeats T1. Changed: vessel Hob, 82\u00a0mm → Finch, 60\u00a0mm.");
  ((WbCell *) g_ptr_array_index (data->cells, 2))->left_out = FALSE;
  more = compare (before, data, &n, &warning);
  g_assert_cmpstr (more, ==, "Repeats T1. Changed: vessel Finch, 60\u00a0mm added.");
  ((WbCell *) g_ptr_array_index (data->cells, 3))->left_out = TRUE;
  second->fragrance = 0;
  control = compare (before, data, &n, &warning);
  g_assert_nonnull (strstr (control, "Changed: scent Harbour mist 8\u00a0% of the wax → no fragrance."));
}

/* An experiment that came from a file says nowhere how many of each: they are counted. */
static void
test_samples_unsaid (void)
{
  g_autoptr (WbDataset) data = two_wicks ();
  g_autoptr (WbCraftPlanned) before = NULL;
  g_autofree char *words = NULL, *warning = NULL;
  const char *codes[] = { "A-1", "A-2", "B-1" };
  guint n;

  for (guint i = 0; i < 3; i++)
    test_craft_add_sample (data, i / 2, codes[i]);
  data->experiment->samples_per_cell = WB_INTEGER_NONE;
  g_assert_cmpuint (wb_craft_planned_count_samples (data), ==, 2);
  before = wb_craft_planned_of_data (data);
  data->experiment->samples_per_cell = 2;
  words = compare (before, data, &n, &warning);
  g_assert_cmpstr (words, ==, "Repeats T1. Nothing is changed yet.");
  g_assert_cmpuint (n, ==, 0);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/repeat/what-differs-is-told-and-counted", test_changes);
  g_test_add_func ("/craft/repeat/wicks-are-compared-as-a-set", test_wicks);
  g_test_add_func ("/craft/repeat/what-stayed-is-not-told", test_one_thing);
  g_test_add_func ("/craft/repeat/samples-are-counted-where-none-is-said", test_samples_unsaid);
  return g_test_run ();
}
