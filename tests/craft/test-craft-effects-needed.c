/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "test-craft-terms.h"
#include "test-craft.h"
#include "wb-calc-power.h"
#include "wb-craft-effects.h"

/*
 * Two wicks, six samples each, whose soot spreads by sqrt (0.3) on 10 degrees of freedom. Chi-square there: 3.940 at 5 %
 * and 18.307 at 95 % (table of the NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4).
 */
#define VARIANCE 0.3
#define DF 10.0
#define CHI_LOW 3.940
#define CHI_HIGH 18.307

static WbCraftEffects *
two_wicks (WbDataset *data)
{
  for (guint t = 0; t < 2; t++)
    for (guint k = 0, cell = test_craft_add_cell (data, "A", 70, "Sedge", t == 0 ? "1" : "2", t + 1, 0); k < 6; k++)
      test_craft_add_value (data, cell, "x", WB_COLUMN_SOOT, 2 * t + (k < 3 ? 0 : 1));
  return test_craft_effects (data, WB_FIGURE_SOOT);
}

/*
 * Samples for a difference of so many standard deviations between two groups, at 5 % and 0.8: R's power.t.test, as
 * tests/calc/data/power_samples.csv has it. The ends of the range are what it says for the spread's ends.
 */
static void
test_range_is_power_t_test (void)
{
  static const struct { double sds; guint n; } published[] = { { 0.5, 64 }, { 1, 17 }, { 2, 6 }, { 4, 3 }, { 8, 2 } };
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftEffects) self = two_wicks (data);
  double sd = sqrt (VARIANCE);

  g_assert_cmpfloat_with_epsilon (self->needed.sample_sd, sd, 1e-12);
  g_assert_cmpfloat (self->needed.sample_df, ==, DF);
  for (guint i = 0; i < G_N_ELEMENTS (published); i++)
    {
      wb_craft_effects_set_margin (self, published[i].sds * sd);
      g_assert_cmpuint (self->needed.samples, ==, published[i].n);
      wb_craft_effects_set_margin (self, published[i].sds * sd * sqrt (DF / CHI_HIGH));
      g_assert_cmpuint (self->needed.samples_low, ==, published[i].n);
      wb_craft_effects_set_margin (self, published[i].sds * sd * sqrt (DF / CHI_LOW));
      g_assert_cmpuint (self->needed.samples_high, ==, published[i].n);
    }
}

/* The range holds the number, both fall as the difference grows, and the words say both. */
static void
test_range_holds_the_number (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftEffects) self = two_wicks (data);
  guint low = G_MAXUINT, high = G_MAXUINT;

  for (double margin = 0.14; margin < 6; margin *= 1.1)
    {
      g_autofree char *words = NULL;

      wb_craft_effects_set_margin (self, margin);
      g_assert_cmpuint (self->needed.samples_low, >=, 2);
      g_assert_cmpuint (self->needed.samples_low, <=, self->needed.samples);
      g_assert_cmpuint (self->needed.samples, <=, self->needed.samples_high);
      g_assert_cmpuint (self->needed.samples_low, <=, low);
      g_assert_cmpuint (self->needed.samples_high, <=, high);
      low = self->needed.samples_low;
      high = self->needed.samples_high;
      words = low == high ? g_strdup_printf ("about %u samples of each would be needed; there are 6.", low)
                          : g_strdup_printf ("about %u samples of each would be needed, between %u and %u (90 in 100); there are 6.",
                                             self->needed.samples, low, high);
      g_test_message ("%s", self->needed.text);
      g_assert_nonnull (strstr (self->needed.text, words));
    }
  g_assert_cmpuint (high, ==, 2);
}

/* More than a thousand at the upper end, then at the number, then at the lower end. */
static void
test_more_than_anybody_burns (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftEffects) self = two_wicks (data);

  wb_craft_effects_set_margin (self, 0.08);
  g_assert_cmpuint (self->needed.samples, >, 0);
  g_assert_cmpuint (self->needed.samples_high, ==, 0);
  g_assert_nonnull (strstr (self->needed.text, " to more than anybody would burn (90 in 100); there are 6."));
  wb_craft_effects_set_margin (self, 0.06);
  g_assert_cmpuint (self->needed.samples, ==, 0);
  g_assert_cmpuint (self->needed.samples_low, >, 0);
  wb_craft_effects_set_margin (self, 0.01);
  g_assert_cmpuint (self->needed.samples_low, ==, 0);
}

/* Wicks of invented labs whose samples and burns spread by known shares: how often the range holds what is truly needed. */
#define OF_SAMPLE 0.07
#define OF_BURN 0.06
#define N_WICKS 3

static double
deviate (GRand *random)
{
  return sqrt (-2 * log (1 - g_rand_double (random))) * cos (2 * G_PI * g_rand_double (random));
}

static void
test_range_covers (void)
{
  const guint n = 150;
  guint held = 0, below = 0, above = 0;
  double width = 0;

  for (guint seed = 1; seed <= n; seed++)
    {
      g_autoptr (WbDataset) data = test_craft_data_new ();
      g_autoptr (GRand) random = g_rand_new_with_seed (seed);
      g_autoptr (WbCraftEffects) self = NULL;
      static const char *const sizes[N_WICKS] = { "1", "2", "3" };
      double square = 0;
      WbCalcPowerSamples truly;

      for (guint t = 0; t < N_WICKS; t++)
        {
          double flame = 16 * pow (1.2, t);
          guint cell = test_craft_add_cell (data, "A", 70, "Sedge", sizes[t], t + 1, 0);

          square += flame * flame / N_WICKS;
          for (guint k = 0; k < 3; k++)
            {
              guint sample = test_craft_add_sample (data, cell, "x");
              double of_sample = OF_SAMPLE * deviate (random);

              for (guint b = 0; b < 2; b++)
                test_craft_read (data, test_craft_add_burn (data, sample), 240, WB_COLUMN_FLAME_MM,
                                 flame * exp (of_sample + OF_BURN * deviate (random)));
            }
        }
      self = test_craft_effects (data, WB_FIGURE_FLAME);
      wb_craft_effects_set_margin (self, 0.5);
      g_assert_cmpint (wb_calc_power_samples (0.5, sqrt (square * (OF_SAMPLE * OF_SAMPLE + OF_BURN * OF_BURN / 2)), N_WICKS, 0.05, 0.8,
                                              1000, &truly), ==, WB_CALC_OK);
      below += truly.n < self->needed.samples_low;
      above += self->needed.samples_high > 0 && truly.n > self->needed.samples_high;
      held += truly.n >= self->needed.samples_low && (self->needed.samples_high == 0 || truly.n <= self->needed.samples_high);
      width += self->needed.samples_high / (double) self->needed.samples_low / n;
    }
  g_test_message ("of %u, %u held, %u below, %u above; high over low %.2f", n, held, below, above, width);
  g_assert_cmpfloat (held / (double) n, >, 0.82);
  g_assert_cmpfloat (held / (double) n, <, 0.99);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/effects-needed/the-range-is-power-t-test-s-at-the-spread-s-ends", test_range_is_power_t_test);
  g_test_add_func ("/craft/effects-needed/the-range-holds-the-number", test_range_holds_the_number);
  g_test_add_func ("/craft/effects-needed/more-than-anybody-burns-is-said", test_more_than_anybody_burns);
  g_test_add_func ("/craft/effects-needed/the-range-holds-what-is-truly-needed-90-times-in-100", test_range_covers);
  return g_test_run ();
}
