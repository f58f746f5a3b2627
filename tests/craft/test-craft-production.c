/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "wb-craft-production.h"

static WbCraftBatchLine the_line;

/* A candle of 200 g, 10 % of the wax, 5 % for the pot. */
static WbCraftBatchInput
one_candle (void)
{
  the_line = (WbCraftBatchLine) { NULL, 1, 200 };
  return (WbCraftBatchInput) {
    .lines = &the_line, .n_lines = 1, .load_pct = 10, .load_basis = WB_BASIS_WAX, .overage_pct = 5, .resolution_g = 0.1,
    .dye_pct = NAN, .dye_drops_per_kg = NAN, .drop_g = NAN, .additive_pct = NAN, .specific_gravity = 0.9,
  };
}

static void
test_melts (void)
{
  const struct { guint vessels; double pot_g; guint melts, largest, smallest; const char *words; } cases[] = {
    { 12, NAN, 1, 12, 12, "One melt of 12 candles" },
    { 1, NAN, 1, 1, 1, "One melt of 1 candle" },
    /* 9 × 200 g × 1.05 = 1890 g is the most below 2000 g */
    { 9, 2000, 1, 9, 9, "One melt of 9 candles" },
    { 10, 2000, 2, 5, 5, "2 melts of 5 candles each" },
    { 50, 2000, 6, 9, 8, "6 melts: 2 of 9 candles, 4 of 8 candles" },
    { 3, 210, 3, 1, 1, "3 melts of 1 candle each" },
    /* the pot holds exactly what is weighed out */
    { 18, 1890, 2, 9, 9, "2 melts of 9 candles each" },
    { 18, 1889.9, 3, 6, 6, "3 melts of 6 candles each" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WbCraftBatchInput one = one_candle ();
      g_autoptr (GError) error = NULL;
      g_autoptr (WbCraftProduction) production = wb_craft_production_new (&one, cases[i].vessels, cases[i].pot_g, &error);
      g_autofree char *words = NULL;
      guint candles = 0;

      g_test_message ("%u in pots of %g", cases[i].vessels, cases[i].pot_g);
      g_assert_no_error (error);
      g_assert_cmpuint (production->melts->len, ==, cases[i].melts);
      for (guint k = 0; k < production->melts->len; k++)
        {
          const WbCraftMelt *melt = &g_array_index (production->melts, WbCraftMelt, k);

          candles += melt->candles;
          g_assert_cmpfloat_with_epsilon (melt->sheet->total_g, melt->candles * 210.0, 1e-9);
          if (!isnan (cases[i].pot_g))
            g_assert_cmpfloat (melt->sheet->total_g, <=, cases[i].pot_g);
        }
      g_assert_cmpuint (candles, ==, cases[i].vessels);
      g_assert_cmpuint (g_array_index (production->melts, WbCraftMelt, 0).candles, ==, cases[i].largest);
      g_assert_cmpuint (g_array_index (production->melts, WbCraftMelt, production->melts->len - 1).candles, ==, cases[i].smallest);
      words = wb_craft_production_dup_melts (production);
      g_assert_cmpstr (words, ==, cases[i].words);
    }
}

/* What is to be bought is what all melts together are weighed out of. */
static void
test_sums (void)
{
  WbCraftBatchInput one = one_candle ();
  g_autoptr (WbCraftProduction) production = NULL;
  double wax = 0, oil = 0, additive = 0;

  one.additive_pct = 1.5;
  one.dye_pct = 0.05;
  one.drop_g = 0.03;
  production = wb_craft_production_new (&one, 50, 2000, NULL);
  g_assert_nonnull (production);
  for (guint i = 0; i < production->melts->len; i++)
    {
      const WbCraftBatchSheet *sheet = g_array_index (production->melts, WbCraftMelt, i).sheet;

      wax += sheet->wax_g;
      oil += sheet->oil_g;
      additive += sheet->additive_g;
    }
  g_assert_cmpfloat_with_epsilon (production->wax_g, wax, 1e-9);
  g_assert_cmpfloat_with_epsilon (production->oil_g, oil, 1e-9);
  g_assert_cmpfloat_with_epsilon (production->additive_g, additive, 1e-9);
  g_assert_cmpfloat_with_epsilon (production->wax_g + production->oil_g + production->additive_g, production->total_g, 1e-6);
  g_assert_cmpfloat (production->dye_g, >, 0);
  g_assert_cmpfloat (production->dye_drops, >, 0);
}

static void
test_refusals (void)
{
  const struct { guint vessels; double pot_g; const char *part; } cases[] = {
    { 0, NAN, "1 to 2000" },
    { 2001, NAN, "1 to 2000" },
    { 5, 0, "more than 0 g" },
    { 5, -3, "more than 0 g" },
    { 5, INFINITY, "more than 0 g" },
    { 5, 209.9, "less than one candle" },
    { 500, 210, "500 melts" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WbCraftBatchInput one = one_candle ();
      g_autoptr (GError) error = NULL;

      g_assert_null (wb_craft_production_new (&one, cases[i].vessels, cases[i].pot_g, &error));
      g_assert_error (error, WB_RECORD_ERROR, WB_RECORD_ERROR_RANGE);
      g_test_message ("%s", error->message);
      g_assert_nonnull (strstr (error->message, cases[i].part));
    }
}

/* What the sheet itself refuses is told in its words. */
static void
test_unknown_fill (void)
{
  WbCraftBatchInput one = one_candle ();
  g_autoptr (GError) error = NULL;

  the_line.fill_g = NAN;
  g_assert_null (wb_craft_production_new (&one, 5, 2000, &error));
  g_assert_error (error, WB_RECORD_ERROR, WB_RECORD_ERROR_RANGE);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/craft/production/candles-are-shared-out-over-pots-that-hold-them", test_melts);
  g_test_add_func ("/craft/production/the-sum-is-that-of-all-melts", test_sums);
  g_test_add_func ("/craft/production/impossible-numbers-are-refused-in-words", test_refusals);
  g_test_add_func ("/craft/production/a-fill-that-is-not-known-is-refused", test_unknown_fill);
  return g_test_run ();
}
