/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-craft.h"

#include "wb-craft-check-burn.h"

#include <math.h>

/*
 * Montgomery and Runger, Applied Statistics and Probability for Engineers, prediction interval for a future observation: 22 loads
 * at failure of an alloy's adhesion, mean 13.71, standard deviation 3.55; 95 %: 6.16 to 21.26 MPa. Hahn and Meeker, Statistical
 * Intervals (1991), ch. 4: 5 readings, mean 50.10, standard deviation 1.31; the factor for one future reading is 3.04.
 */
static void
test_interval (void)
{
  double low, high;

  g_assert_true (wb_craft_check_interval (13.71, 3.55, 22, &low, &high));
  g_assert_cmpfloat_with_epsilon (low, 6.16, 0.005);
  g_assert_cmpfloat_with_epsilon (high, 21.26, 0.005);
  g_assert_true (wb_craft_check_interval (50.10, 1.31, 5, &low, &high));
  g_assert_cmpfloat_with_epsilon ((high - 50.10) / 1.31, 3.04, 0.005);
  g_assert_cmpfloat_with_epsilon (50.10 - low, high - 50.10, 1e-9);
  /* no spread, one value, no number */
  g_assert_true (wb_craft_check_interval (7, 0, 2, &low, &high));
  g_assert_cmpfloat (low, ==, 7);
  g_assert_cmpfloat (high, ==, 7);
  g_assert_false (wb_craft_check_interval (7, 1, 1, &low, &high));
  g_assert_true (isnan (low) && isnan (high));
  g_assert_false (wb_craft_check_interval (7, 1, 0, &low, &high));
  g_assert_false (wb_craft_check_interval (7, NAN, 5, &low, &high));
}

/* Vessel temperatures of approved burns, each of a sample of its own, then that of the check burn; the room is 21 °C in all. */
static WbDataset *
make_data (const double *vessel_c,
           guint         n,
           double        checked_c)
{
  WbDataset *data = test_craft_data_new ();
  guint cell = test_craft_add_cell (data, "Hob", 76.2, "Brosk", "B4", 4, 0);

  for (guint i = 0; i <= n; i++)
    {
      g_autofree char *code = g_strdup_printf ("T%u", i + 1);
      guint burn = test_craft_add_burn (data, test_craft_add_sample (data, cell, code));
      guint row = test_craft_add_reading (data, burn, 240);

      test_craft_set (data, row, WB_COLUMN_VESSEL_C, i < n ? vessel_c[i] : checked_c);
      test_craft_set (data, row, WB_COLUMN_ROOM_C, 21);
      ((WbBurn *) g_ptr_array_index (data->burns, burn))->kind = i < n ? WB_BURN_STANDARD : WB_BURN_CHECK;
    }
  return data;
}

static WbCraftCheckBurn *
check_last (const WbDataset *data)
{
  g_autoptr (WbCraftFigures) figures = wb_craft_figures_new (data);

  return wb_craft_check_burn_new (data, figures, data->burns->len - 1, data, figures, 0, WB_INSTANT_NONE);
}

/* The same by hand on the scale of the rise over the room. */
static void
test_vessel (void)
{
  const double approved[] = { 54, 56, 57, 58, 55 };
  const struct { double checked_c; WbCraftCheckState state; const char *said; } cases[] = {
    { 56, WB_CRAFT_CHECK_WITHIN, "within what was approved: 56" },
    { 71, WB_CRAFT_CHECK_ABOVE, "hotter than approved: 71" },
    { 41, WB_CRAFT_CHECK_BELOW, "cooler than approved: 41" },
  };
  double sum = 0, squares = 0, mean, half;

  for (guint i = 0; i < 5; i++)
    sum += log (approved[i] - 21);
  mean = sum / 5;
  for (guint i = 0; i < 5; i++)
    squares += pow (log (approved[i] - 21) - mean, 2);
  half = 3.0414 * sqrt (squares / 4); /* t(0.975; 4) = 2.7764, times the root of 1 + 1/5 */
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WbDataset) data = make_data (approved, 5, cases[i].checked_c);
      g_autoptr (WbCraftCheckBurn) burn = check_last (data);
      const WbCraftCheck *check = &burn->checks[WB_CRAFT_CHECK_VESSEL];
      g_autofree char *text = wb_craft_check_dup_text (WB_CRAFT_CHECK_VESSEL, check, FALSE);
      g_autofree char *none = wb_craft_check_dup_text (WB_CRAFT_CHECK_DEPTH, &burn->checks[WB_CRAFT_CHECK_DEPTH], FALSE);

      g_assert_cmpint (check->state, ==, cases[i].state);
      g_assert_cmpuint (check->n, ==, 5);
      g_assert_cmpfloat_with_epsilon (check->low, 21 + exp (mean - half), 0.01);
      g_assert_cmpfloat_with_epsilon (check->high, 21 + exp (mean + half), 0.01);
      g_assert_true (g_str_has_prefix (text, cases[i].said));
      g_assert_null (none);
      g_assert_false (burn->crossed);
    }
}

static void
test_too_few (void)
{
  const double approved[] = { 54 };
  g_autoptr (WbDataset) data = make_data (approved, 1, 56);
  g_autoptr (WbCraftCheckBurn) burn = check_last (data);
  g_autoptr (WbCraftFigures) figures = wb_craft_figures_new (data);
  g_autoptr (WbCraftCheckBurn) alone = wb_craft_check_burn_new (data, figures, data->burns->len - 1, NULL, NULL, 0, WB_INSTANT_NONE);
  g_autofree char *text = wb_craft_check_dup_text (WB_CRAFT_CHECK_VESSEL, &burn->checks[WB_CRAFT_CHECK_VESSEL], FALSE);
  g_autofree char *whole = wb_craft_check_burn_dup_text (alone, FALSE);

  g_assert_cmpint (burn->checks[WB_CRAFT_CHECK_VESSEL].state, ==, WB_CRAFT_CHECK_TOO_FEW);
  g_assert_nonnull (strstr (text, "too few to compare"));
  g_assert_nonnull (strstr (whole, "No decision is of its recipe"));
}

/* What is no standard burn of a sample that counts is not what was approved; equal readings have the spread of a reading. */
static void
test_like_with_like (void)
{
  const double approved[] = { 55, 55, 55, 75, 76 };
  g_autoptr (WbDataset) data = make_data (approved, 5, 56);
  g_autoptr (WbCraftCheckBurn) burn = NULL;

  ((WbBurn *) g_ptr_array_index (data->burns, 3))->kind = WB_BURN_POWER;
  ((WbSample *) g_ptr_array_index (data->samples, 4))->set_aside_cause = WB_CAUSE_OTHER;
  burn = check_last (data);
  g_assert_cmpuint (burn->checks[WB_CRAFT_CHECK_VESSEL].n, ==, 3);
  g_assert_cmpint (burn->checks[WB_CRAFT_CHECK_VESSEL].state, ==, WB_CRAFT_CHECK_WITHIN);
  g_assert_cmpfloat (burn->checks[WB_CRAFT_CHECK_VESSEL].high, >, 56);
  g_assert_cmpfloat (burn->checks[WB_CRAFT_CHECK_VESSEL].high, <, 60);
}

static void
test_crossed (void)
{
  const double approved[] = { 54, 56 };
  g_autoptr (WbDataset) data = make_data (approved, 2, 80);
  g_autoptr (WbCraftCheckBurn) burn = check_last (data);
  g_autofree char *whole = wb_craft_check_burn_dup_text (burn, FALSE);

  g_assert_true (burn->crossed);
  g_assert_true (g_str_has_prefix (whole, "It crossed a limit: "));
}

/* 61 degC after an hour is as hot as was approved after four: no all clear. What is hotter than that is told. */
static void
test_cut_short (void)
{
  const double approved[] = { 60, 61, 62, 60, 62 };
  const struct { double checked_c; WbCraftCheckState state; } cases[] = {
    { 61, WB_CRAFT_CHECK_CUT_SHORT }, { 45, WB_CRAFT_CHECK_CUT_SHORT }, { 75, WB_CRAFT_CHECK_ABOVE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WbDataset) data = test_craft_data_new ();
      guint cell = test_craft_add_cell (data, "Hob", 76.2, "Brosk", "B4", 4, 0);
      g_autoptr (WbCraftCheckBurn) check = NULL;
      g_autofree char *whole = NULL;

      for (guint k = 0; k < 6; k++)
        {
          g_autofree char *code = g_strdup_printf ("T%u", k + 1);
          guint burn = test_craft_add_burn (data, test_craft_add_sample (data, cell, code));
          guint row = test_craft_add_reading (data, burn, k < 5 ? 240 : 60);

          test_craft_set (data, row, WB_COLUMN_VESSEL_C, k < 5 ? approved[k] : cases[i].checked_c);
          test_craft_set (data, row, WB_COLUMN_ROOM_C, 21);
          ((WbBurn *) g_ptr_array_index (data->burns, burn))->kind = k < 5 ? WB_BURN_STANDARD : WB_BURN_CHECK;
        }
      check = check_last (data);
      whole = wb_craft_check_burn_dup_text (check, FALSE);
      g_assert_true (check->cut_short);
      g_assert_cmpint (check->checks[WB_CRAFT_CHECK_VESSEL].state, ==, cases[i].state);
      g_assert_null (strstr (whole, "Within what was approved"));
      if (cases[i].state == WB_CRAFT_CHECK_CUT_SHORT)
        g_assert_cmpstr (whole, ==, "Burnt 1\302\240h of 4\302\240h: not compared are Vessel at the end.");
      else
        g_assert_nonnull (strstr (whole, "hotter than approved"));
    }
}

/* By the crossings of the bench: a logger's file counts as a reading does, a limit turned off does not, a crack is a crack. */
static void
test_crossed_as_elsewhere (void)
{
  const double approved[] = { 54, 56, 55 };
  g_autoptr (WbDataset) logged = make_data (approved, 3, 55), cracked = make_data (approved, 3, 55), hot = make_data (approved, 3, 80);
  g_autoptr (WbCraftCheckBurn) by_logger = NULL, by_crack = NULL, off = NULL;
  g_autofree char *logger_text = NULL, *crack_text = NULL;

  test_craft_log (logged, logged->burns->len - 1, 91, 100, NAN, NAN);
  by_logger = check_last (logged);
  logger_text = wb_craft_check_burn_dup_text (by_logger, FALSE);
  g_assert_true (by_logger->crossed);
  g_assert_true (g_str_has_prefix (logger_text, "It crossed a limit: "));
  for (guint i = 0; i < cracked->limits->len; i++)
    ((WbLimit *) g_ptr_array_index (cracked->limits, i))->off = TRUE;
  test_craft_read (cracked, cracked->burns->len - 1, 240, WB_COLUMN_EVENT, WB_EVENT_VESSEL_CRACK);
  by_crack = check_last (cracked);
  crack_text = wb_craft_check_burn_dup_text (by_crack, FALSE);
  g_assert_true (by_crack->broken);
  g_assert_false (by_crack->crossed);
  g_assert_true (g_str_has_prefix (crack_text, "Its vessel cracked. "));
  for (guint i = 0; i < hot->limits->len; i++)
    ((WbLimit *) g_ptr_array_index (hot->limits, i))->off = TRUE;
  off = check_last (hot);
  g_assert_false (off->crossed);
}

/* What was burnt after the signature is to be checked, and no yardstick. */
static void
test_before_it_was_signed (void)
{
  const double approved[] = { 54, 56, 55, 75, 76 };
  g_autoptr (WbDataset) data = make_data (approved, 5, 70);
  g_autoptr (WbCraftFigures) figures = wb_craft_figures_new (data);
  g_autoptr (WbCraftCheckBurn) check = NULL;
  WbInstant signed_at = { .utc_us = 5000, .known = TRUE };

  for (guint i = 0; i < data->burns->len; i++)
    ((WbBurn *) g_ptr_array_index (data->burns, i))->lit_at = (WbInstant) { .utc_us = i < 3 ? 1000 : 9000, .known = TRUE };
  check = wb_craft_check_burn_new (data, figures, data->burns->len - 1, data, figures, 0, signed_at);
  g_assert_cmpuint (check->checks[WB_CRAFT_CHECK_VESSEL].n, ==, 3);
  g_assert_cmpint (check->checks[WB_CRAFT_CHECK_VESSEL].state, ==, WB_CRAFT_CHECK_ABOVE);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/check-burn/the-interval-is-that-of-the-textbooks", test_interval);
  g_test_add_func ("/craft/check-burn/a-vessel-is-judged-by-its-rise", test_vessel);
  g_test_add_func ("/craft/check-burn/fewer-than-two-are-too-few", test_too_few);
  g_test_add_func ("/craft/check-burn/only-like-burns-are-compared", test_like_with_like);
  g_test_add_func ("/craft/check-burn/a-limit-comes-first", test_crossed);
  g_test_add_func ("/craft/check-burn/one-cut-short-is-not-held-against-full-ones", test_cut_short);
  g_test_add_func ("/craft/check-burn/it-crosses-as-at-the-bench", test_crossed_as_elsewhere);
  g_test_add_func ("/craft/check-burn/only-what-was-burnt-before-it-was-signed", test_before_it_was_signed);
  return g_test_run ();
}
