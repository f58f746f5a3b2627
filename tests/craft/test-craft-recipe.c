/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-craft.h"

#include "wb-craft-recipe.h"

#include <math.h>

/* Two invented experiments of one notebook: the same candle with two wicks, dye and stearic acid. */
static void
make_pair (WbDataset *pair[2])
{
  for (guint i = 0; i < 2; i++)
    {
      WbExperiment *experiment;
      WbCell *cell;

      pair[i] = test_craft_data_new ();
      test_craft_add_cell (pair[i], "Hob", 76.2, "Brosk", "B4", 4, 8);
      experiment = pair[i]->experiment;
      experiment->dye = 91;
      experiment->dye_pct = 0.1;
      experiment->dye_drops_per_kg = NAN;
      experiment->additive = 92;
      experiment->additive_pct = 2;
      cell = g_ptr_array_index (pair[i]->cells, 0);
      cell->wick_count = 2;
      cell->wick_spacing_mm = 30;
    }
  /* ids of two notebooks made alike are alike */
  *(WbCell *) g_ptr_array_index (pair[1]->cells, 0) = *(WbCell *) g_ptr_array_index (pair[0]->cells, 0);
}

static void
assert_same (WbDataset *pair[2],
             gboolean   candle,
             gboolean   recipe)
{
  for (guint i = 0; i < 2; i++)
    {
      g_assert_cmpint (wb_craft_recipe_is_same_candle (pair[i], 0, pair[1 - i], 0), ==, candle);
      g_assert_cmpint (wb_craft_recipe_is_same (pair[i], 0, pair[1 - i], 0), ==, recipe);
    }
}

/* One thing at a time is made another, and put back. */
#define WITH(field, value, candle) \
  G_STMT_START { \
    typeof (field) before = (field); \
    (field) = (value); \
    assert_same (pair, candle, FALSE); \
    (field) = before; \
    assert_same (pair, TRUE, TRUE); \
  } G_STMT_END

static void
test_all_of_it (void)
{
  WbDataset *pair[2];
  WbExperiment *experiment;
  WbCell *cell;

  make_pair (pair);
  assert_same (pair, TRUE, TRUE);
  experiment = pair[1]->experiment;
  cell = g_ptr_array_index (pair[1]->cells, 0);
  WITH (cell->vessel, cell->vessel + 1, FALSE);
  WITH (cell->fragrance, cell->fragrance + 1, FALSE);
  WITH (cell->load_pct, 6, FALSE);
  WITH (cell->load_pct, NAN, FALSE);
  WITH (cell->load_basis, 1 - cell->load_basis, FALSE);
  WITH (experiment->wax, experiment->wax + 1, FALSE);
  WITH (experiment->dye, 0, FALSE);
  WITH (experiment->dye_pct, 0.2, FALSE);
  WITH (experiment->dye_drops_per_kg, 4, FALSE);
  WITH (experiment->additive, 0, FALSE);
  WITH (experiment->additive_pct, 20, FALSE);
  WITH (cell->wick, cell->wick + 1, TRUE);
  WITH (cell->wick_count, 3, TRUE);
  WITH (cell->wick_spacing_mm, 40, TRUE);
  wb_dataset_free (pair[0]);
  wb_dataset_free (pair[1]);
}

/* What is not there has no share, and one wick no spacing. */
static void
test_what_is_not_there (void)
{
  WbDataset *pair[2];

  make_pair (pair);
  for (guint i = 0; i < 2; i++)
    {
      WbCell *cell = g_ptr_array_index (pair[i]->cells, 0);

      pair[i]->experiment->dye = pair[i]->experiment->additive = 0;
      pair[i]->experiment->dye_pct = pair[i]->experiment->additive_pct = i;
      cell->fragrance = 0;
      cell->load_pct = i;
      cell->wick_count = i;
      cell->wick_spacing_mm = 20 + i;
    }
  assert_same (pair, TRUE, TRUE);
  wb_dataset_free (pair[0]);
  wb_dataset_free (pair[1]);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/recipe/a-recipe-is-all-of-it", test_all_of_it);
  g_test_add_func ("/craft/recipe/what-is-not-there-has-no-share", test_what_is_not_there);
  return g_test_run ();
}
