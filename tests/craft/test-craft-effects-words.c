/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "test-craft-terms.h"
#include "test-craft.h"
#include "wb-craft-effects.h"

/* Samples of one kind that read exactly alike leave nothing to judge by: the finding says so, and does not deny what the pairs show. */
static void
test_no_spread_within_a_kind (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftEffects) self = NULL;

  for (guint t = 0; t < 2; t++)
    for (guint k = 0, cell = test_craft_add_cell (data, "A", 70, "Sedge", t == 0 ? "1" : "2", t + 1, 0); k < 3; k++)
      test_craft_add_value (data, cell, "x", WB_COLUMN_VESSEL_C, 50.1 + 0.2 * t);
  self = test_craft_effects (data, WB_FIGURE_VESSEL);
  g_test_message ("%s", self->finding);
  g_assert_true (isinf (test_craft_find_term (self, "wick")->f));
  g_assert_cmpfloat (test_craft_find_term (self, "wick")->p, ==, 0);
  g_assert_cmpfloat (test_craft_find_term (self, "residual")->sum_sq, ==, 0);
  /* two tenths of a degree are within what a reading is out by */
  g_assert_cmpfloat (((WbCraftComparison *) g_ptr_array_index (self->comparisons, 0))->p, >, 0.2);
  g_assert_true (g_str_has_prefix (self->finding, "The difference is largest by wick. Samples of one kind read exactly alike"));
}

/* What adding up leaves is no difference: 0.1 + 0.2 + 0.3 over three burns, in another order. */
static void
test_rounding_is_no_difference (void)
{
  static const double orders[3][3] = { { 0.1, 0.2, 0.3 }, { 0.3, 0.1, 0.2 }, { 0.2, 0.3, 0.1 } };
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftEffects) self = NULL;

  for (guint t = 0; t < 3; t++)
    {
      guint cell = test_craft_add_cell (data, "A", 70, "Sedge", t == 0 ? "1" : t == 1 ? "2" : "3", t + 1, 0);

      for (guint k = 0; k < 2; k++)
        {
          guint sample = test_craft_add_sample (data, cell, "x");

          for (guint b = 0; b < 3; b++)
            {
              guint row = test_craft_add_reading (data, test_craft_add_burn (data, sample), 240);

              test_craft_set (data, row, WB_COLUMN_FLAME_MM, 20);
              test_craft_set (data, row, WB_COLUMN_VESSEL_C, 40 + orders[t][b]);
            }
        }
    }
  self = test_craft_effects (data, WB_FIGURE_VESSEL);
  g_assert_true (isnan (test_craft_find_term (self, "wick")->f) && isnan (test_craft_find_term (self, "wick")->p));
  for (guint i = 0; i < self->comparisons->len; i++)
    g_assert_cmpfloat (((WbCraftComparison *) g_ptr_array_index (self->comparisons, i))->p, ==, 1);
  g_assert_true (g_str_has_prefix (self->finding, "No difference shows beyond"));
}

/* Ratings: the rank test and the means are told apart where they part. */
static void
test_ratings_say_both (void)
{
  static const struct { double soot[2][4]; const char *ranks, *means; } cases[] = {
    /* ranks part them; one wild rating hides it from the means */
    { { { 0, 0, 0, 0 }, { 1, 1, 1, 4 } }, "the wicks differ (p = 0.0", "By their means: " },
    { { { 0, 1, 0, 1 }, { 1, 0, 1, 0 } }, "no difference between the wicks shows (p = 1.000)",
      "By their means: No difference shows beyond" },
    { { { 0, 0, 0, 0 }, { 2, 2, 2, 2 } }, "the wicks differ (p = 0.0", "By their means: The difference is largest by wick." },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WbDataset) data = test_craft_data_new ();
      g_autoptr (WbCraftEffects) self = NULL;

      for (guint t = 0; t < 2; t++)
        for (guint k = 0, cell = test_craft_add_cell (data, "A", 70, "Sedge", t == 0 ? "1" : "2", t + 1, 0); k < 4; k++)
          test_craft_add_value (data, cell, "x", WB_COLUMN_SOOT, cases[i].soot[t][k]);
      self = test_craft_effects (data, WB_FIGURE_SOOT);
      g_test_message ("%s", self->finding);
      g_assert_nonnull (strstr (self->finding, cases[i].ranks));
      g_assert_nonnull (strstr (self->finding, cases[i].means));
    }
}

/* The whole and its pairs need not agree: the finding tells of both, whatever the numbers beside it are. */
static void
test_finding_agrees_with_its_numbers (void)
{
  guint pairs_alone = 0, whole_alone = 0;

  for (guint seed = 0; seed < 400; seed++)
    {
      g_autoptr (WbDataset) data = test_craft_data_new ();
      g_autoptr (WbCraftEffects) self = NULL;
      g_autoptr (GRand) random = g_rand_new_with_seed (seed);
      gboolean term_shows = FALSE, pair_shows = FALSE;

      for (guint t = 0; t < 4; t++)
        {
          g_autofree char *size = g_strdup_printf ("%u", t + 1);

          for (guint k = 0, cell = test_craft_add_cell (data, "A", 70, "Sedge", size, t + 1, 0); k < 3; k++)
            test_craft_add_value (data, cell, "x", WB_COLUMN_VESSEL_C, 50 + (t == 3 ? 8 : 0) + g_rand_double_range (random, -5, 5));
        }
      self = test_craft_effects (data, WB_FIGURE_VESSEL);
      term_shows = test_craft_find_term (self, "wick")->p < 0.05;
      for (guint i = 0; i < self->comparisons->len; i++)
        pair_shows = pair_shows || ((WbCraftComparison *) g_ptr_array_index (self->comparisons, i))->p < 0.05;
      g_assert_cmpint (strstr (self->finding, "The difference shows most by wick") != NULL, ==, term_shows);
      g_assert_cmpint (strstr (self->finding, "No difference shows") != NULL, ==, !term_shows && !pair_shows);
      g_assert_cmpint (strstr (self->finding, "of the pairs") != NULL, ==, !term_shows && pair_shows);
      g_assert_cmpint (strstr (self->finding, "No single pair") != NULL, ==, term_shows && !pair_shows);
      pairs_alone += !term_shows && pair_shows;
      whole_alone += term_shows && !pair_shows;
    }
  g_assert_cmpuint (pairs_alone, >, 0);
  g_assert_cmpuint (whole_alone, >, 0);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/effects-words/samples-exactly-alike-are-said", test_no_spread_within_a_kind);
  g_test_add_func ("/craft/effects-words/rounding-is-no-difference", test_rounding_is_no_difference);
  g_test_add_func ("/craft/effects-words/ratings-say-ranks-and-means", test_ratings_say_both);
  g_test_add_func ("/craft/effects-words/the-finding-agrees-with-its-numbers", test_finding_agrees_with_its_numbers);
  return g_test_run ();
}
