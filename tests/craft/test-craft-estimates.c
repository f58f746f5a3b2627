/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "test-craft-answer.h"
#include "test-craft.h"
#include "wb-craft-estimates.h"
#include "wb-craft-means-private.h"

#define INNER 76.2

static WbCraftEstimates *
estimate (const WbDataset *data)
{
  g_autoptr (WbCraftFigures) figures = wb_craft_figures_new (data);

  return wb_craft_estimates_new (data, figures, WB_STAGE_ALL, NULL, NULL, NULL);
}

static WbDataset *
load_log (void)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", "burn-log-clean.csv", NULL);

  return test_craft_from_log (path);
}

static void
estimate_means (const GArray           *values,
                guint                   n_cells,
                const WbCraftMeanPrior *prior,
                WbCraftEstimate        *estimates)
{
  g_autoptr (WbCraftMeans) means = wb_craft_means_new (values, n_cells, NULL, prior);

  memset (estimates, 0, n_cells * sizeof *estimates);
  wb_craft_means_fill (means, values, n_cells, estimates);
}

/*
 * Six batches of five (Davies 1947, the dyestuff data of lme4's documentation):
 * mean 1527.5, variance between batches 1764.05, within 2451.25; found but for what
 * the weak opinions on the spreads move.
 */
static void
test_means_of_a_published_layout (void)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "calc", "data", "dyestuff_data.csv", NULL);
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = NULL;
  g_autoptr (GArray) values = g_array_new (FALSE, FALSE, sizeof (WbCraftMeanValue));
  WbCraftMeanPrior prior = { 42, 50, 0, 1 };
  WbCraftEstimate estimate;

  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  lines = g_strsplit (text, "\n", -1);
  for (guint i = 1; lines[i] != NULL && lines[i][0] != '\0'; i++)
    {
      WbCraftMeanValue value = { g_ascii_strtod (strchr (lines[i], ',') + 1, NULL), 0, (guint) lines[i][0], 1, NAN };

      g_array_append_val (values, value);
    }
  g_assert_cmpuint (values->len, ==, 30);
  estimate_means (values, 1, &prior, &estimate);
  g_assert_cmpfloat_with_epsilon (estimate.mean, 1527.5, 1e-6);
  g_assert_cmpfloat_with_epsilon (pow (estimate.sample_sd, 2), 1764.05, 10);
  g_assert_cmpfloat_with_epsilon (pow (estimate.burn_sd, 2), 2451.25, 10);
  g_assert_cmpfloat_with_epsilon (estimate.se, sqrt ((1764.05 + 2451.25 / 5) / 6), 0.05);
  /* 5 by the layout, a little more by the opinion */
  g_assert_cmpfloat (estimate.df, >, 4.5);
  g_assert_cmpfloat (estimate.df, <, 7.5);
}

static void
test_means_of_edges (void)
{
  g_autoptr (GArray) values = g_array_new (FALSE, FALSE, sizeof (WbCraftMeanValue));
  WbCraftMeanPrior prior = { 0.1, 0.1, 0, 1 };
  WbCraftEstimate estimates[2];
  WbCraftMeanValue value = { 3, 1, 0, 1, NAN };

  estimate_means (values, 2, &prior, estimates);
  g_assert_true (isnan (estimates[0].mean));
  g_assert_cmpuint (estimates[0].samples, ==, 0);

  /* one value: the opinions alone tell how sure it is */
  g_array_append_val (values, value);
  estimate_means (values, 2, &prior, estimates);
  g_assert_true (isnan (estimates[0].mean));
  g_assert_cmpfloat_with_epsilon (estimates[1].mean, 3, 1e-9);
  g_assert_cmpfloat_with_epsilon (estimates[1].se, sqrt (0.02), 1e-3);
  g_assert_cmpfloat (estimates[1].df, >, 1);
  g_assert_cmpfloat (estimates[1].df, <, 4);

  /* all equal: surer, and no division by nothing */
  g_array_append_val (values, value);
  estimate_means (values, 2, &prior, estimates);
  g_assert_cmpfloat_with_epsilon (estimates[1].mean, 3, 1e-9);
  g_assert_cmpfloat (estimates[1].se, >, 0);
  g_assert_cmpfloat (estimates[1].se, <, sqrt (0.02));
}

/* Moving and stretching the values and what is believed of them moves and stretches the answer. */
static void
test_means_shift_and_scale (void)
{
  g_autoptr (GArray) values = g_array_new (FALSE, FALSE, sizeof (WbCraftMeanValue));
  g_autoptr (GArray) moved = g_array_new (FALSE, FALSE, sizeof (WbCraftMeanValue));
  WbCraftMeanPrior prior = { 1, 1, 0, 1 }, stretched = { 7, 7, 0, 7 };
  WbCraftEstimate a[2], b[2];
  const double y[] = { 3, 4, 3.5, 5, 5.5, 9, 8, 9.5, 7 };
  const guint sample[] = { 0, 0, 1, 1, 1, 2, 2, 3, 4 };

  for (guint i = 0; i < G_N_ELEMENTS (y); i++)
    {
      WbCraftMeanValue value = { y[i], sample[i] > 1, sample[i], 1, NAN };
      WbCraftMeanValue other = { 1000 + 7 * y[i], sample[i] > 1, sample[i], 1, NAN };

      g_array_append_val (values, value);
      g_array_append_val (moved, other);
    }
  estimate_means (values, 2, &prior, a);
  estimate_means (moved, 2, &stretched, b);
  for (guint i = 0; i < 2; i++)
    {
      g_assert_cmpfloat_with_epsilon (b[i].mean, 1000 + 7 * a[i].mean, 1e-5);
      g_assert_cmpfloat_with_epsilon (b[i].se, 7 * a[i].se, 1e-4);
      g_assert_cmpfloat_with_epsilon (b[i].df, a[i].df, 0.01);
    }
}

static void
test_sample_log (void)
{
  g_autoptr (WbDataset) data = load_log ();
  g_autoptr (WbCraftEstimates) estimates = estimate (data);
  const WbCraftCell *cell[5];

  g_assert_cmpuint (data->cells->len, ==, 20);
  g_assert_cmpuint (wb_readings_get_length (data->readings), ==, 800);
  for (guint i = 0; i < 5; i++)
    {
      g_autofree char *size = g_strdup_printf ("L-%u", i + 1);

      cell[i] = &estimates->cells[test_craft_find_cell (data, "Osprey", size, 6)];
      g_assert_cmpint (cell[i]->growth.status, ==, WB_CRAFT_FIT_OK);
      g_assert_cmpuint (cell[i]->samples, ==, 2);
      g_assert_cmpuint (cell[i]->burns, ==, 8);
      g_assert_cmpuint (cell[i]->growth.readings, ==, 32);
      if (i > 0)
        g_assert_cmpfloat (cell[i]->growth.pool_limit_mm.value, >, cell[i - 1]->growth.pool_limit_mm.value);
    }
  g_assert_cmpfloat (cell[2]->growth.full_pool_h.value, >, 3);
  g_assert_cmpfloat (cell[2]->growth.full_pool_h.value, <, 3.6);
  g_assert_cmpfloat (cell[4]->growth.full_pool_h.value, <, 2.2);
  g_assert_cmpfloat (cell[0]->growth.p_never, >, 0.99);
  g_assert_cmpfloat (79.4 - cell[1]->figure[WB_FIGURE_POOL].told.value, <, 5);
  g_assert_cmpfloat (cell[0]->figure[WB_FIGURE_HANG_UP].told.value, >, 4);
  g_assert_cmpfloat (cell[4]->figure[WB_FIGURE_VESSEL].told.value, >, cell[2]->figure[WB_FIGURE_VESSEL].told.value + 6);
  /* "high" has an end exactly where never is unlikely */
  for (guint i = 0; i < estimates->n_cells; i++)
    {
      const WbCraftGrowth *growth = &estimates->cells[i].growth;

      g_assert_true (isnan (growth->full_pool_h.high) == (growth->p_never > 0.05));
    }
  /* without tare and fill all of it is the upper third */
  g_assert_cmpuint (cell[2]->stage_figure[WB_STAGE_LOWER][WB_FIGURE_FLAME].burns, ==, 0);
  g_assert_cmpuint (cell[2]->stage_figure[WB_STAGE_UPPER][WB_FIGURE_FLAME].burns, ==, 8);
}

/* Burnt by the model, whose truth is known. */
static void
test_truth_is_found (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftEstimates) estimates = NULL;
  const double strength[] = { 3.4, 4.0, 4.5, 5.2, 6.2 };
  WbCraftPhysicsSpec spec = wb_craft_physics_spec_usual ();

  for (guint i = 0; i < G_N_ELEMENTS (strength); i++)
    {
      g_autofree char *size = g_strdup_printf ("S-%u", i + 1);
      guint cell = test_craft_add_cell (data, "Tern", INNER, "Sedge", size, i + 1, 0);

      spec.strength_g_per_h = strength[i];
      test_craft_burn_physics (data, cell, &spec, 3, 2, 42);
    }
  estimates = estimate (data);
  for (guint i = 0; i < G_N_ELEMENTS (strength); i++)
    {
      const WbCraftGrowth *growth = &estimates->cells[i].growth;
      double truth;

      spec.strength_g_per_h = strength[i];
      truth = wb_craft_physics_pool_limit_mm (&spec);
      g_assert_cmpint (growth->status, ==, WB_CRAFT_FIT_OK);
      g_test_message ("%g g/h: %.1f (%.1f to %.1f), truth %.1f", strength[i], growth->pool_limit_mm.value,
                      growth->pool_limit_mm.low, growth->pool_limit_mm.high, truth);
      /* of a strong wick only the first reading is short of the wall: its interval is wide, and may just miss */
      g_assert_cmpfloat (growth->pool_limit_mm.low, <, truth * 1.02);
      g_assert_cmpfloat (growth->pool_limit_mm.high, >, truth * 0.98);
      g_assert_cmpfloat (fabs (log (estimates->cells[i].figure[WB_FIGURE_CONSUMPTION].told.value / strength[i])), <, 0.08);
    }
}

static void
test_all_at_the_wall (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftEstimates) estimates = NULL;
  const WbCraftGrowth *growth;

  for (guint i = 0; i < 2; i++)
    {
      guint cell = test_craft_add_cell (data, "Tern", INNER, "Sedge", i == 0 ? "S-1" : "S-2", i + 1, 0);

      for (guint k = 0; k < 2; k++)
        {
          guint sample = test_craft_add_sample (data, cell, k == 0 ? "a" : "b");

          if (i == 0)
            test_craft_calm_burn (data, sample, 80, 1.2, INNER);
          else
            {
              guint burn = test_craft_add_burn (data, sample);

              for (guint hour = 1; hour <= 4; hour++)
                test_craft_read (data, burn, hour * 60, WB_COLUMN_POOL_FULL, 1);
            }
        }
    }
  estimates = estimate (data);
  growth = &estimates->cells[1].growth;
  g_assert_cmpint (growth->status, ==, WB_CRAFT_FIT_ALL_AT_WALL);
  g_assert_true (isnan (growth->pool_limit_mm.value));
  g_assert_cmpfloat (growth->pool_limit_mm.low, ==, INNER);
  g_assert_true (isnan (growth->full_pool_h.value));
  g_assert_cmpfloat (growth->full_pool_h.high, ==, 1);
  g_assert_true (isnan (wb_craft_growth_at (growth, 2)));
  g_assert_true (isnan (wb_craft_growth_band (growth, 2).value));
}

static void
test_statuses (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftEstimates) estimates = NULL;
  guint cells[4], sample;

  for (guint i = 0; i < 4; i++)
    {
      g_autofree char *size = g_strdup_printf ("S-%u", i + 1);

      cells[i] = test_craft_add_cell (data, "Tern", INNER, "Sedge", size, i + 1, 0);
    }
  /* one sample; nothing; only held; two samples */
  sample = test_craft_add_sample (data, cells[0], "a");
  test_craft_calm_burn (data, sample, 80, 1.2, INNER);
  test_craft_calm_burn (data, sample, 80, 1.2, INNER);
  sample = test_craft_add_sample (data, cells[2], "c");
  test_craft_read (data, test_craft_add_burn (data, sample), 45, WB_COLUMN_POOL_MM, 40);
  ((WbBurn *) g_ptr_array_index (data->burns, data->burns->len - 1))->kind = WB_BURN_SHORT;
  for (guint i = 0, burn = test_craft_add_burn (data, sample); i < 4; i++)
    test_craft_read (data, burn, 60 * (i + 1), WB_COLUMN_POOL_MM, 40.5);
  for (guint i = 0; i < 2; i++)
    test_craft_calm_burn (data, test_craft_add_sample (data, cells[3], i == 0 ? "d" : "e"), 75, 1.2, INNER);
  estimates = estimate (data);
  g_assert_cmpstr (wb_craft_fit_status_get_key (estimates->cells[0].growth.status), ==, "one_sample");
  g_assert_cmpstr (wb_craft_fit_status_get_key (estimates->cells[1].growth.status), ==, "no_readings");
  g_assert_cmpstr (wb_craft_fit_status_get_key (estimates->cells[2].growth.status), ==, "held");
  g_assert_cmpstr (wb_craft_fit_status_get_key (estimates->cells[3].growth.status), ==, "ok");
  g_assert_cmpuint (estimates->cells[1].samples, ==, 0);
  g_assert_true (isnan (estimates->cells[1].figure[WB_FIGURE_FLAME].told.value));
}

/* Pools that no curve fits, the same at every hour or shrinking: they were read, and the status does not deny it. */
static void
test_no_curve_fits (void)
{
  for (guint i = 0; i < 4; i++)
    {
      g_autoptr (WbDataset) data = test_craft_data_new ();
      g_autoptr (WbCraftEstimates) estimates = NULL;
      guint shrinking = i % 2, cells[] = {
        test_craft_add_cell (data, "Tern", INNER, "Sedge", "S-1", 1, 0), test_craft_add_cell (data, "Tern", INNER, "Sedge", "S-2", 2, 0)
      };

      /* two samples of one cell, or of each of two: then nothing at all is fitted */
      for (guint k = 0; k < (i < 2 ? 2 : 4); k++)
        for (guint b = 0, sample = test_craft_add_sample (data, cells[k / 2], "x"); b < 3; b++)
          for (guint hour = 1, burn = test_craft_add_burn (data, sample); hour <= 4; hour++)
            test_craft_read (data, burn, 60 * hour, WB_COLUMN_POOL_MM, shrinking == 0 ? 50 : 70 - 10.0 * hour);
      estimates = estimate (data);
      g_test_message ("%s", wb_craft_fit_status_get_key (estimates->cells[0].growth.status));
      g_assert_cmpint (estimates->cells[0].growth.status, !=, WB_CRAFT_FIT_NO_READINGS);
      g_assert_cmpint (estimates->cells[0].growth.status, !=, WB_CRAFT_FIT_OK);
      g_assert_cmpuint (estimates->cells[0].growth.readings, ==, 24);
      g_assert_cmpuint (estimates->cells[0].growth.burns, ==, 6);
      g_assert_cmpuint (estimates->cells[0].growth.samples, ==, 2);
      g_assert_true (isnan (estimates->cells[0].growth.full_pool_h.value));
    }
}

static void
test_set_aside_is_left_out (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftEstimates) estimates = NULL;
  guint cell = test_craft_add_cell (data, "Tern", INNER, "Sedge", "S-3", 3, 0);
  const double limit[] = { 80, 80, 60 };

  for (guint i = 0; i < 3; i++)
    test_craft_calm_burn (data, test_craft_add_sample (data, cell, i == 0 ? "a" : i == 1 ? "b" : "c"), limit[i], 1.2, INNER);
  ((WbSample *) g_ptr_array_index (data->samples, 2))->set_aside_cause = WB_CAUSE_CAVITY;
  estimates = estimate (data);
  g_assert_cmpuint (estimates->cells[0].samples, ==, 2);
  g_assert_cmpfloat (estimates->cells[0].growth.pool_limit_mm.value, >, 77);
}

/* Two wicks, each burnt twice with so many candles, whose logarithms lie `apart` from each other. */
static WbDataset *
candles_apart (guint  samples,
               double apart)
{
  WbDataset *data = test_craft_data_new ();

  for (guint wick = 0; wick < 2; wick++)
    {
      guint cell = test_craft_add_cell (data, "Tern", INNER, "Sedge", wick == 0 ? "S-1" : "S-2", wick + 1, 0);

      for (guint i = 0; i < samples; i++)
        {
          g_autofree char *code = g_strdup_printf ("%u-%u", wick, i);
          guint sample = test_craft_add_sample (data, cell, code);

          for (guint burn = 0; burn < 2; burn++)
            test_craft_calm_burn (data, sample, (60 + 5 * wick) * exp (i % 2 == 0 ? -apart / 2 : apart / 2), 1.2, INNER);
        }
    }
  return data;
}

static WbCraftEstimates *
estimate_after (const WbDataset *data,
                WbCraftEarlier  *earlier)
{
  g_autoptr (WbCraftFigures) figures = wb_craft_figures_new (data);

  return wb_craft_estimates_new (data, figures, WB_STAGE_ALL, earlier, NULL, NULL);
}

static double
width_of (const WbCraftEstimates *estimates)
{
  const WbCraftInterval *limit = &estimates->cells[0].growth.pool_limit_mm;

  return log (limit->high / limit->low);
}

/* With one sample a cell the spread between candles comes from other experiments: the more of them say so, the surer. */
static void
test_earlier_experiments_lend_their_spread (void)
{
  g_autoptr (WbDataset) data = candles_apart (1, 0), far = candles_apart (3, 0.15), near = candles_apart (3, 0.004), lone = candles_apart (1, 0);
  g_autoptr (WbCraftEarlier) wide = wb_craft_earlier_new (), wider = wb_craft_earlier_new (), narrow = wb_craft_earlier_new ();
  g_autoptr (WbCraftEarlier) none = wb_craft_earlier_new ();
  g_autoptr (WbCraftEstimates) alone = NULL, helped = NULL, surer = NULL, sharp = NULL, not_helped = NULL;

  g_assert_true (wb_craft_earlier_is_needed (data));
  g_assert_false (wb_craft_earlier_is_needed (far));
  g_assert_true (wb_craft_earlier_learn (wide, far, NULL, NULL));
  g_assert_true (wb_craft_earlier_learn (narrow, near, NULL, NULL));
  g_assert_true (wb_craft_earlier_learn (none, lone, NULL, NULL));
  for (guint i = 0; i < 4; i++)
    g_assert_true (wb_craft_earlier_learn (wider, far, NULL, NULL));
  g_assert_cmpuint (wb_craft_earlier_get_n (wide), ==, 1);
  g_assert_cmpuint (wb_craft_earlier_get_n (none), ==, 0);
  g_assert_null (wb_craft_earlier_dup_text (none));
  alone = estimate_after (data, NULL);
  not_helped = estimate_after (data, none);
  helped = estimate_after (data, wide);
  surer = estimate_after (data, wider);
  sharp = estimate_after (data, narrow);
  g_assert_cmpint (alone->cells[0].growth.status, ==, WB_CRAFT_FIT_STATED);
  g_assert_cmpint (not_helped->cells[0].growth.status, ==, WB_CRAFT_FIT_STATED);
  g_assert_cmpint (helped->cells[0].growth.status, ==, WB_CRAFT_FIT_EARLIER);
  g_assert_cmpfloat (width_of (not_helped), ==, width_of (alone));
  g_assert_cmpfloat (width_of (helped), >, 1.2 * width_of (alone));
  g_assert_cmpfloat (width_of (sharp), <, 0.8 * width_of (alone));
  /* four times the same is nearer to what was seen, and known better */
  g_assert_cmpfloat (surer->cells[0].growth.sample_sd, >, helped->cells[0].growth.sample_sd);
  g_assert_cmpfloat (surer->cells[0].growth.df, >, helped->cells[0].growth.df);
  g_assert_cmpfloat_with_epsilon (surer->cells[0].growth.sample_sd, 0.15 / sqrt (3), 0.02);
}

/* A melt pool, whose level is known to a factor, may be learnt enough of; a figure that nobody reads never is. */
static void
test_learning_ends (void)
{
  g_autoptr (WbCraftEarlier) earlier = wb_craft_earlier_new ();
  guint n = 0;

  g_assert_false (wb_craft_earlier_is_sure (earlier));
  while (!wb_craft_earlier_is_sure (earlier) && n < 60)
    {
      static const double strength[] = { 3.4, 4.0, 4.6 };
      g_autoptr (WbDataset) data = test_craft_data_new ();

      test_craft_add_wicks (data, strength, G_N_ELEMENTS (strength), 4, 3, 0.3);
      g_assert_true (wb_craft_earlier_learn (earlier, data, NULL, NULL));
      n++;
    }
  g_assert_cmpuint (n, >, 1);
  g_assert_cmpuint (n, <, 60);
}


/* A few experiments are named, a shelf of them is counted. */
static void
test_earlier_experiments_are_told (void)
{
  g_autoptr (WbDataset) far = candles_apart (2, 0.1);
  g_autoptr (WbCraftEarlier) earlier = wb_craft_earlier_new ();
  g_autofree char *code = NULL, *named = NULL, *counted = NULL;

  g_assert_true (wb_craft_earlier_learn (earlier, far, NULL, NULL));
  code = g_strdup (wb_craft_earlier_get_code (earlier, 0));
  named = wb_craft_earlier_dup_text (earlier);
  g_assert_nonnull (strstr (named, code));
  for (guint i = 0; i < 8; i++)
    g_assert_true (wb_craft_earlier_learn (earlier, far, NULL, NULL));
  counted = wb_craft_earlier_dup_text (earlier);
  g_assert_nonnull (strstr (counted, "from 9 other experiments"));
  g_assert_null (strstr (counted, code));
}

/* A second candle that was set aside tells nothing of how candles differ. */
static void
test_a_sample_set_aside_is_no_second_one (void)
{
  g_autoptr (WbDataset) data = candles_apart (2, 0.05);

  g_assert_false (wb_craft_earlier_is_needed (data));
  for (guint i = 0; i < data->samples->len; i += 2)
    ((WbSample *) g_ptr_array_index (data->samples, i))->set_aside_cause = WB_CAUSE_CAVITY;
  g_assert_true (wb_craft_earlier_is_needed (data));
}

static gboolean
say_stop (double   done,
          gpointer user)
{
  g_assert_cmpfloat (done, >=, 0);
  g_assert_cmpfloat (done, <=, 1);
  return --*(int *) user > 0;
}

static void
test_it_can_be_stopped (void)
{
  g_autoptr (WbDataset) data = load_log ();
  g_autoptr (WbCraftFigures) figures = wb_craft_figures_new (data);
  int asked = 2;

  g_assert_null (wb_craft_estimates_new (data, figures, WB_STAGE_ALL, NULL, say_stop, &asked));
}

static void
test_nothing (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftEstimates) estimates = estimate (data);

  g_assert_nonnull (estimates);
  g_assert_cmpuint (estimates->n_cells, ==, 0);
}

/* A pool that grows on in a straight line has no limit that could be told: the status says so, and no figure stands beside it. */
static void
test_straight_growth_tells_no_limit (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftEstimates) estimates = NULL;
  guint cell = test_craft_add_cell (data, "Tern", INNER, "Sedge", "S-1", 1, 0);

  for (guint s = 0; s < 2; s++)
    {
      guint burn = test_craft_add_burn (data, test_craft_add_sample (data, cell, s == 0 ? "A" : "B"));

      for (guint hour = 1; hour <= 4; hour++)
        test_craft_read (data, burn, 60.0 * hour, WB_COLUMN_POOL_MM, 12.0 * hour + 0.1 * s);
    }
  estimates = estimate (data);
  g_assert_cmpint (estimates->cells[0].growth.status, ==, WB_CRAFT_FIT_TOO_FEW);
  g_assert_true (isnan (estimates->cells[0].growth.pool_limit_mm.value));
  g_assert_true (isnan (estimates->cells[0].growth.tau_h.value));
  g_assert_true (isnan (estimates->cells[0].growth.p_in_window));
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/estimates/learning-from-others-ends", test_learning_ends);
  g_test_add_func ("/craft/estimates/means-of-a-published-layout", test_means_of_a_published_layout);
  g_test_add_func ("/craft/estimates/means-of-one-value-and-of-none", test_means_of_edges);
  g_test_add_func ("/craft/estimates/means-move-and-stretch-with-the-values", test_means_shift_and_scale);
  g_test_add_func ("/craft/estimates/the-sample-log-as-its-maker-reads-it", test_sample_log);
  g_test_add_func ("/craft/estimates/the-truth-of-a-model-is-found", test_truth_is_found);
  g_test_add_func ("/craft/estimates/all-at-the-wall-is-a-lower-bound", test_all_at_the_wall);
  g_test_add_func ("/craft/estimates/what-cannot-be-fitted-says-why", test_statuses);
  g_test_add_func ("/craft/estimates/no-curve-fits-what-was-read", test_no_curve_fits);
  g_test_add_func ("/craft/estimates/a-sample-set-aside-is-left-out", test_set_aside_is_left_out);
  g_test_add_func ("/craft/estimates/earlier-experiments-lend-their-spread", test_earlier_experiments_lend_their_spread);
  g_test_add_func ("/craft/estimates/earlier-experiments-are-told", test_earlier_experiments_are_told);
  g_test_add_func ("/craft/estimates/a-sample-set-aside-is-no-second-one", test_a_sample_set_aside_is_no_second_one);
  g_test_add_func ("/craft/estimates/it-can-be-stopped", test_it_can_be_stopped);
  g_test_add_func ("/craft/estimates/nothing-gives-nothing", test_nothing);
  g_test_add_func ("/craft/estimates/straight-growth-tells-no-limit", test_straight_growth_tells_no_limit);
  return g_test_run ();
}
