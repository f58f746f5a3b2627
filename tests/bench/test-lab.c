/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "lab-truth.h"
#include "test-craft.h"
#include "wb-calc-quantile.h"

/* The invented labs of the benchmark `labs`: a benchmark can be no better than what it holds for true. */

static const LabSpec usual = { 2, 5, 2, 2, 2, LAB_WORLD_OFF5, FALSE, FALSE, 11 };

static void
assert_same_readings (const WbDataset *one,
                      const WbDataset *other,
                      gboolean         same)
{
  guint rows = wb_readings_get_length (one->readings), differ = 0;

  g_assert_cmpuint (rows, ==, wb_readings_get_length (other->readings));
  for (guint row = 0; row < rows; row++)
    for (WbColumn column = 0; column < WB_N_COLUMNS; column++)
      {
        double a = wb_readings_get (one->readings, row, column), b = wb_readings_get (other->readings, row, column);

        differ += isnan (a) != isnan (b) || (!isnan (a) && a != b);
      }
  if (same)
    g_assert_cmpuint (differ, ==, 0);
  else
    g_assert_cmpuint (differ, >, rows);
}

static void
test_same_seed (void)
{
  g_autoptr (Lab) one = lab_new (&usual, 3);
  g_autoptr (Lab) again = lab_new (&usual, 3);
  g_autoptr (Lab) next = lab_new (&usual, 4);
  g_autoptr (WbDataset) of_one = lab_burn (one);
  g_autoptr (WbDataset) of_again = lab_burn (again);
  g_autoptr (WbDataset) of_next = lab_burn (next);
  g_autofree LabTruth *true_one = lab_truth_new (one, of_one->aims);
  g_autofree LabTruth *true_again = lab_truth_new (again, of_again->aims);

  g_assert_cmpuint (wb_readings_get_length (of_one->readings), ==, 20 * 2 * 2 * 5);
  assert_same_readings (of_one, of_again, TRUE);
  assert_same_readings (of_one, of_next, FALSE);
  for (guint i = 0; i < one->n_cells; i++)
    {
      g_assert_cmpfloat (true_one[i].score, ==, true_again[i].score);
      g_assert_cmpfloat (true_one[i].candle, ==, true_again[i].candle);
    }
}

/* The limits that the labs know are those of the house. */
static void
test_house_limits (void)
{
  g_autoptr (GPtrArray) limits = wb_limits_new_house ();
  double flame = INFINITY, vessel = INFINITY;

  for (guint i = 0; i < limits->len; i++)
    {
      const WbLimit *limit = g_ptr_array_index (limits, i);

      if (limit->kind == WB_LIMIT_FLAME || limit->kind == WB_LIMIT_FLAME_HOUSE)
        flame = MIN (flame, limit->stop_at);
      else if (limit->kind == WB_LIMIT_VESSEL)
        vessel = MIN (vessel, limit->stop_at);
    }
  g_assert_cmpfloat (flame, ==, LAB_FLAME_STOP_MM);
  g_assert_cmpfloat (vessel, ==, LAB_VESSEL_STOP_C);
}

/* Candles poured and burnt one by one, straight from the page on top of lab.h, with a generator of their own. */
typedef struct { double in_window, crossed, soot, mushroom, score; } Burnt;

enum { DEPTH, FLAME, RISE, SOOT, MUSHROOM, N_OWN };

static double
trapezoid (double a, double b, double c, double d, double y)
{
  return y < b ? CLAMP ((y - a) / (b - a), 0, 1) : y > c ? CLAMP ((d - y) / (d - c), 0, 1) : 1;
}

/* The rating of a burn; and what the candle is worth by its rating on average, for a worth that falls from 1 at 0 to 0 at `bad`. */
static guint
brute_rating (const Lab *lab, LabRating rating, double latent, WbCalcRandom *random, double bad, double *worth)
{
  double seen = latent + wb_calc_random_normal (random), expected = 0;
  guint rated = 0;

  for (guint r = 0; r < lab_rating_top (rating); r++)
    expected += wb_calc_normal_below (latent - lab->threshold[rating][r]);
  *worth = trapezoid (-1, 0, 0, bad, expected);
  while (rated < lab_rating_top (rating) && seen > lab->threshold[rating][rated])
    rated++;
  return rated;
}

/* The house profile of the upper third, by hand. */
static double
brute_score (double time, double ring, double depth, double flame, double vessel, double soot, double mushroom)
{
  double full = time < 1 ? trapezoid (0.5, 1, 1, 2, time) : 0.3 + 0.7 * trapezoid (0, 1, 1, 1.5, time);

  return pow (pow (full, 3) * trapezoid (-2, -1, 3, 8, ring) * trapezoid (2, 6, 13, 18, depth)
              * trapezoid (5, 13, 25, 45, flame) * trapezoid (-2, -1, 60, 77, vessel) * soot * soot * mushroom, 1.0 / 10);
}

static void
brute_candle (const Lab *lab, const LabCell *cell, WbCalcRandom *random, Burnt *sums)
{
  double inner = lab->vessels[cell->vessel].inner_mm, due = inner / 25.4, z = wb_calc_random_normal (random);
  double limit = exp (cell->log_limit + lab->limit_sample_sd * z), own[N_OWN], measure[3], worth[LAB_N_RATINGS];
  double time = lab_time_to (lab, limit, cell->tau_h, inner);
  gboolean over = FALSE;

  for (guint d = 0; d < N_OWN; d++)
    own[d] = lab->hot * z + sqrt (1 - lab->hot * lab->hot) * wb_calc_random_normal (random);
  for (guint m = 0; m < 3; m++)
    measure[m] = cell->log_measure[m] + lab->measure_sample_sd[m] * own[m];
  for (guint b = 0; b < lab->spec.burns; b++)
    {
      double flame = measure[FLAME] + lab->measure_burn_sd[LAB_FLAME] * wb_calc_random_normal (random);
      double rise = measure[RISE] + lab->measure_burn_sd[LAB_RISE] * wb_calc_random_normal (random);

      over = over || exp (flame) > 50 || lab->mean_room + exp (rise) > 77;
    }
  sums->in_window += time >= 0.75 * due && time <= 1.25 * due;
  sums->crossed += over;
  sums->soot += brute_rating (lab, LAB_SOOT, cell->latent[LAB_SOOT] + lab->rating_sample_sd[LAB_SOOT] * own[SOOT],
                              random, 3, &worth[LAB_SOOT]);
  sums->mushroom += brute_rating (lab, LAB_MUSHROOM,
                                  cell->latent[LAB_MUSHROOM] + lab->rating_sample_sd[LAB_MUSHROOM] * own[MUSHROOM],
                                  random, 2.5, &worth[LAB_MUSHROOM]);
  if (!over)
    sums->score += brute_score (time / due, fmax (inner - limit * lab_grown (lab, 4, cell->tau_h), 0) / 2, exp (measure[DEPTH]),
                                exp (measure[FLAME]), lab->mean_room + exp (measure[RISE]), worth[LAB_SOOT], worth[LAB_MUSHROOM]);
}

/* What is called true of a cell against 40,000 of its candles. */
static void
test_brute_force (void)
{
  enum { N = 40000 };
  const double most = 4.5 * 0.5 / sqrt (N); /* 4.5 standard errors of a share */
  LabSpec spec = usual;
  g_autoptr (GPtrArray) aims = wb_aims_new_house ();
  WbCalcRandom random;

  wb_calc_random_init (&random, 5, 5);
  for (guint number = 0; number < 3; number++)
    {
      g_autoptr (Lab) lab = NULL;
      g_autofree LabTruth *truth = NULL;

      spec.world = number == 0 ? LAB_WORLD_BENT : number == 1 ? LAB_WORLD_LATE : LAB_WORLD_OFF5;
      lab = lab_new (&spec, number);
      truth = lab_truth_new (lab, aims);
      for (guint i = 0; i < lab->n_cells; i += 3)
        {
          Burnt sums = { 0 };

          for (guint k = 0; k < N; k++)
            brute_candle (lab, &lab->cells[i], &random, &sums);
          g_assert_cmpfloat_with_epsilon (sums.in_window / N, truth[i].stage[0].p_in_window, most);
          g_assert_cmpfloat_with_epsilon (sums.crossed / N, truth[i].p_cross, most + 0.002);
          g_assert_cmpfloat_with_epsilon (sums.soot / N, truth[i].stage[0].rating[LAB_SOOT], 4 * most);
          g_assert_cmpfloat_with_epsilon (sums.mushroom / N, truth[i].stage[0].rating[LAB_MUSHROOM], 2 * most);
          g_assert_cmpfloat_with_epsilon (sums.score / N, truth[i].score, most);
        }
    }
}

/* Without any spread all candles are the typical one: its score can be written down by hand. */
static void
test_score_by_hand (void)
{
  LabSpec spec = { 1, 4, 1, 2, 2, LAB_WORLD_ADDITIVE, FALSE, FALSE, 23 };
  g_autoptr (Lab) lab = lab_new (&spec, 0);
  g_autoptr (GPtrArray) aims = wb_aims_new_house ();
  g_autofree LabTruth *truth = NULL;
  LabCell *cell = &lab->cells[1];

  lab->limit_sample_sd = 1e-9;
  for (guint m = 0; m < LAB_N_MEASURES; m++)
    lab->measure_sample_sd[m] = lab->measure_burn_sd[m] = 1e-9;
  for (guint r = 0; r < LAB_N_RATINGS; r++)
    lab->rating_sample_sd[r] = 1e-9;
  lab->vessels[0].inner_mm = 76.2;
  cell->tau_h = 1.5;
  cell->log_limit = log (76.2 / -expm1 (-3.6 / 1.5));  /* full after 3.6 h, due after 3: 1.2 times, so 0.3 + 0.7 × 0.6 */
  cell->log_measure[LAB_DEPTH] = log (4);              /* half way from 2 to 6 */
  cell->log_measure[LAB_FLAME] = log (35);             /* half way from 45 to 25 */
  cell->log_measure[LAB_RISE] = log (68.5 - lab->mean_room); /* half way from 77 to 60 */
  cell->latent[LAB_SOOT] = cell->latent[LAB_MUSHROOM] = -20; /* never */
  truth = lab_truth_new (lab, aims);
  /* weights 3, 1, 1, 1, and 4 for what is as good as can be */
  g_assert_cmpfloat_with_epsilon (truth[1].score, pow (pow (0.72, 3) * 0.5 * 0.5 * 0.5, 1.0 / 10), 1e-6);
  g_assert_cmpfloat_with_epsilon (truth[1].stage[0].full_pool_h, 3.6, 1e-9);
  g_assert_cmpfloat (truth[1].p_cross, <, 1e-6);
}

/* Many candles of a cell, read at the end of each burn, lie about what is called true of it. */
static void
test_readings_lie_about_truth (void)
{
  LabSpec spec = { 1, 3, 1, 400, 2, LAB_WORLD_OFF3, FALSE, FALSE, 7 };
  g_autoptr (Lab) lab = lab_new (&spec, 1);
  g_autoptr (WbDataset) data = lab_burn (lab);
  g_autofree LabTruth *truth = lab_truth_new (lab, data->aims);

  for (guint i = 0; i < lab->n_cells; i++)
    {
      static const struct { WbColumn column; LabMeasure measure; } columns[] = {
        { WB_COLUMN_DEPTH_MM, LAB_DEPTH }, { WB_COLUMN_FLAME_MM, LAB_FLAME }, { WB_COLUMN_VESSEL_C, LAB_RISE } };
      double sum[G_N_ELEMENTS (columns)] = { 0 }, soot = 0;
      guint n[G_N_ELEMENTS (columns)] = { 0 }, rated = 0, values = 0;

      for (guint row = 0; row < wb_readings_get_length (data->readings); row++)
        {
          guint burn = wb_readings_get_burn (data->readings, row);
          double room = wb_readings_get (data->readings, row, WB_COLUMN_ROOM_C);
          double rating = wb_readings_get (data->readings, row, WB_COLUMN_SOOT);

          if (g_array_index (data->sample_cell, guint, g_array_index (data->burn_sample, guint, burn)) != i
              || wb_readings_get_elapsed_min (data->readings, row) != 240)
            continue;
          values++;
          for (guint c = 0; c < G_N_ELEMENTS (columns); c++)
            {
              double value = wb_readings_get (data->readings, row, columns[c].column);

              if (isnan (value) || isnan (room))
                continue;
              sum[c] += log (columns[c].measure == LAB_RISE ? value - room : value);
              n[c]++;
            }
          soot += isnan (rating) ? 0 : rating;
          rated += !isnan (rating);
        }
      g_assert_cmpuint (values, ==, 800);
      for (guint c = 0; c < G_N_ELEMENTS (columns); c++)
        {
          double level = truth[i].stage[0].measure[columns[c].measure];

          /* 5 in 100 of each are not written down; 400 candles of a spread of at most 0.14 and a ruler */
          g_assert_cmpuint (n[c], >, 650);
          g_assert_cmpuint (n[c], <, 800);
          g_assert_cmpfloat_with_epsilon (sum[c] / n[c],
                                          log (columns[c].measure == LAB_RISE ? level - lab->mean_room : level), 0.03);
        }
      g_assert_cmpfloat_with_epsilon (soot / rated, truth[i].stage[0].rating[LAB_SOOT], 0.15);
    }
}

/* Weak wicks stay short of the wall and strong ones do not: else the labs would ask nothing. */
static void
test_walls_are_common (void)
{
  guint weak = 0, strong = 0, crossing = 0, n = 0;
  g_autoptr (GPtrArray) aims = wb_aims_new_house ();

  for (guint number = 0; number < 40; number++)
    {
      g_autoptr (Lab) lab = lab_new (&usual, number);
      g_autofree LabTruth *truth = lab_truth_new (lab, aims);

      for (guint i = 0; i < lab->n_cells; i++)
        {
          g_assert_cmpfloat (truth[i].score, >=, 0);
          g_assert_cmpfloat (truth[i].score, <=, 1);
          weak += lab->cells[i].step == 0 && isinf (truth[i].stage[0].full_pool_h);
          strong += lab->cells[i].step == 4 && truth[i].stage[0].full_pool_h < 4;
          crossing += lab->cells[i].step == 4 && truth[i].p_cross > 0.05;
          n += lab->cells[i].step == 0;
        }
    }
  g_assert_cmpuint (weak, >, 0.9 * n);
  g_assert_cmpuint (strong, >, 0.85 * n);
  g_assert_cmpuint (crossing, >, 0.1 * n);
  g_assert_cmpuint (crossing, <, 0.9 * n);
}

/* Where the thirds are told, the lower one is the hotter. */
static void
test_stages (void)
{
  LabSpec spec = { 1, 4, 1, 2, 6, LAB_WORLD_ADDITIVE, TRUE, TRUE, 31 };
  g_autoptr (Lab) lab = lab_new (&spec, 2);
  g_autoptr (WbDataset) data = lab_burn (lab);
  g_autofree LabTruth *truth = lab_truth_new (lab, data->aims);

  g_assert_cmpuint (lab_n_burns (lab), ==, 6);
  for (guint i = 0; i < lab->n_cells; i++)
    {
      const LabStageTruth *upper = &truth[i].stage[WB_STAGE_UPPER], *lower = &truth[i].stage[WB_STAGE_LOWER];

      g_assert_cmpfloat_with_epsilon (lower->measure[LAB_FLAME] / upper->measure[LAB_FLAME], 1.1, 1e-12);
      g_assert_cmpfloat_with_epsilon ((lower->measure[LAB_RISE] - lab->mean_room)
                                      / (upper->measure[LAB_RISE] - lab->mean_room), 1.25, 1e-12);
      g_assert_cmpfloat_with_epsilon (log (lower->limit_mm / upper->limit_mm), log (1.05) + 4 * lab->trend, 1e-12);
    }
  for (guint i = 0; i < data->samples->len; i++)
    g_assert_cmpfloat (wb_dataset_get_sample (data, i)->fill_g, >, 100);
}

/* How many values of a column two worlds of one lab read otherwise, of all that both have. */
static double
share_changed (LabWorld one, LabWorld other, WbColumn column)
{
  LabSpec spec = usual;
  WbDataset *data[2];
  guint n = 0, changed = 0;

  for (guint i = 0; i < 2; i++)
    {
      g_autoptr (Lab) lab = NULL;

      spec.world = i == 0 ? one : other;
      lab = lab_new (&spec, 6);
      data[i] = lab_burn (lab);
    }
  for (guint row = 0; row < wb_readings_get_length (data[0]->readings); row++)
    {
      double a = wb_readings_get (data[0]->readings, row, column), b = wb_readings_get (data[1]->readings, row, column);

      g_assert_true (isnan (a) == isnan (b));
      n += !isnan (a);
      changed += !isnan (a) && a != b;
    }
  wb_dataset_free (data[0]);
  wb_dataset_free (data[1]);
  return (double) changed / n;
}

/* A world that is wrong on purpose is wrong in that alone: everything else of the lab stays as it was. */
static void
test_worlds (void)
{
  double wild = share_changed (LAB_WORLD_MIXED, LAB_WORLD_WILD, WB_COLUMN_FLAME_MM);

  g_assert_cmpfloat (wild, >, 0.02);
  g_assert_cmpfloat (wild, <, 0.09);
  for (LabWorld world = LAB_WORLD_BENT; world <= LAB_WORLD_CLOCK; world++)
    {
      g_assert_cmpfloat (share_changed (LAB_WORLD_MIXED, world, WB_COLUMN_POOL_A_MM), >, 0.2);
      g_assert_cmpfloat (share_changed (LAB_WORLD_MIXED, world, WB_COLUMN_FLAME_MM), ==, 0);
      g_assert_cmpfloat (share_changed (LAB_WORLD_MIXED, world, WB_COLUMN_SOOT), ==, 0);
    }
  g_assert_cmpfloat (share_changed (LAB_WORLD_ADDITIVE, LAB_WORLD_OFF3, WB_COLUMN_FLAME_MM), >, 0.3);
  for (LabWorld world = 0; world < LAB_N_WORLDS; world++)
    g_assert_cmpint (lab_world_from_key (lab_world_get_key (world)), ==, world);
  g_assert_cmpint (lab_world_from_key ("flat"), ==, -1);
}

/* In the world where danger ends a candle nothing is read of it after the first reading over a limit, and some are ended so. */
static void
test_snuffed (void)
{
  LabSpec spec = usual;
  guint ended = 0;

  spec.world = LAB_WORLD_SNUFFED;
  for (guint number = 0; number < 10; number++)
    {
      g_autoptr (Lab) lab = lab_new (&spec, number);
      g_autoptr (WbDataset) data = lab_burn (lab);
      guint n = wb_readings_get_length (data->readings);

      for (guint row = 0; row < n; row++)
        {
          guint sample = g_array_index (data->burn_sample, guint, wb_readings_get_burn (data->readings, row));

          if (!(wb_readings_get (data->readings, row, WB_COLUMN_FLAME_MM) > LAB_FLAME_STOP_MM)
              && !(wb_readings_get (data->readings, row, WB_COLUMN_VESSEL_C) > LAB_VESSEL_STOP_C))
            continue;
          ended++;
          if (row + 1 < n)
            g_assert_cmpuint (g_array_index (data->burn_sample, guint, wb_readings_get_burn (data->readings, row + 1)), !=, sample);
        }
    }
  g_assert_cmpuint (ended, >, 10);
}

int
main (int argc, char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/bench/lab/the-same-seed-gives-the-same-lab", test_same_seed);
  g_test_add_func ("/bench/lab/its-limits-are-the-house's", test_house_limits);
  g_test_add_func ("/bench/lab/closed-forms-are-what-candles-do", test_brute_force);
  g_test_add_func ("/bench/lab/a-score-by-hand", test_score_by_hand);
  g_test_add_func ("/bench/lab/readings-lie-about-the-truth", test_readings_lie_about_truth);
  g_test_add_func ("/bench/lab/walls-are-common", test_walls_are_common);
  g_test_add_func ("/bench/lab/the-lower-third-is-hotter", test_stages);
  g_test_add_func ("/bench/lab/danger-ends-a-candle", test_snuffed);
  g_test_add_func ("/bench/lab/worlds-are-wrong-in-one-thing", test_worlds);
  return g_test_run ();
}
