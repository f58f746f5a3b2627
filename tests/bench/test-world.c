/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "test-craft.h"
#include "wb-calc-quantile.h"
#include "wb-house.h"
#include "world-ask.h"

/* The invented worlds of the benchmark `ladder`: what they hold for true, against candles drawn one by one. */

#define SEED 5
#define CANDLES 40000

static void
test_same_seed (void)
{
  static const guint counts[] = { 0, 1 };
  WorldResult *one = world_ask (WORLD_PLAIN, SEED, 2, counts, 2, (WorldTold) { FALSE });
  WorldResult *again = world_ask (WORLD_PLAIN, SEED, 2, counts, 2, (WorldTold) { FALSE });
  g_autoptr (World) other = world_new (WORLD_PLAIN, SEED, 3);

  g_assert_cmpuint (one->world->n_wicks, ==, again->world->n_wicks);
  g_assert_cmpfloat (one->world->wicks[0].strength, !=, other->wicks[0].strength);
  for (guint a = 0; a < 2; a++)
    {
      const WorldAnswer *first = g_ptr_array_index (one->answers, a), *second = g_ptr_array_index (again->answers, a);

      g_assert_cmpuint (first->lines->len, ==, second->lines->len);
      g_assert_cmpuint (first->lines->len, >, 0);
      for (guint i = 0; i < first->lines->len; i++)
        {
          const WorldLine *x = &g_array_index (first->lines, WorldLine, i), *y = &g_array_index (second->lines, WorldLine, i);

          g_assert_cmpfloat (x->truth, ==, y->truth);
          g_assert_true (x->said.low == y->said.low || (isnan (x->said.low) && isnan (y->said.low)));
          g_assert_true (x->said.high == y->said.high || (isnan (x->said.high) && isnan (y->said.high)));
        }
    }
  world_result_free (one);
  world_result_free (again);
}

/* An experiment's wicks, vessels and wax are the same records in every experiment of the world. */
static void
test_records (void)
{
  g_autoptr (World) world = world_new (WORLD_PLAIN, SEED, 4);

  for (guint e = 0; e < WORLD_EARLIER; e++)
    {
      const WorldExperiment *of = &world->earlier[e];
      g_autoptr (WbDataset) data = world_burn (world, e);
      guint tried = 0;

      for (guint w = 0; w < world->n_wicks; w++)
        tried += of->tries[w];
      g_assert_cmpuint (data->cells->len, ==, tried * of->n_vessels * of->n_loads);
      g_assert_cmpint (data->wax->record.id, ==, 301 + of->wax);
      for (guint c = 0; c < data->cells->len; c++)
        {
          const WbCell *cell = g_ptr_array_index (data->cells, c);
          guint wick = world_find_wick (world, cell->wick);
          const WbWick *known = g_ptr_array_index (world->wick_records, wick);
          const WbWick *here = g_ptr_array_index (data->cell_wicks, c);
          const WbVessel *vessel = g_ptr_array_index (data->cell_vessels, c);

          g_assert_true (of->tries[wick]);
          g_assert_cmpstr (here->series, ==, known->series);
          g_assert_cmpstr (here->size, ==, known->size);
          g_assert_cmpint (here->step, ==, known->step);
          g_assert_cmpint (here->record.id, ==, known->record.id);
          g_assert_cmpint (cell->vessel, ==, vessel->record.id);
          g_assert_cmpfloat (vessel->inner_diameter_mm, !=, world->inner_mm[world->next_vessel]);
          g_assert_cmpfloat (cell->load_pct, ==, of->load_pct[c / tried % of->n_loads]);
        }
    }
}

/* The score and the chance of being right by candles that are drawn one by one, by laws that are written out here once more. */
typedef struct { double score, right, cross; } Brute;

static double
of_figure (const World *world,
           guint        wick,
           WorldFigure  figure)
{
  double wider = log (world->inner_mm[world->next_vessel] / 76.2);
  const WorldWick *of = &world->wicks[wick];

  return world->base.of[figure] + world->ratio.of[figure] * of->strength + world->width.of[figure] * wider
         + world->curve.of[figure] * wider * wider + world->load.of[figure] * (world->next_load_pct - 6)
         + world->waxes[world->next_wax].of[figure] + world->series[of->series].of[figure] + of->own.of[figure]
         + world->off[world->next_vessel][wick].of[figure];
}

static double
chance_above (double z)
{
  return 0.5 * erfc (z / sqrt (2));
}

/* One candle's aims in a stage: adds weight x ln desirability. */
static void
judge (const World     *world,
       guint            wick,
       const Lab       *habits,
       const GPtrArray *aims,
       guint            stage,
       const double    *z,
       double          *sum,
       double          *weights)
{
  double inner = world->inner_mm[world->next_vessel];
  double warm = stage == 2, tau = exp (of_figure (world, wick, WORLD_TAU));
  double trend = habits->trend * (2.0 * stage + 0.5 - 2.5);
  double limit = exp (of_figure (world, wick, WORLD_LIMIT) + habits->limit_sample_sd * z[0] + trend + warm * log (1.05));
  double full = limit > inner ? -tau * log (1 - inner / limit) : INFINITY;
  const double hotter[LAB_N_MEASURES] = { 1.10, 1.10, 1.25, 1 };
  double measure[LAB_N_MEASURES], rating[LAB_N_RATINGS] = { 0 };

  for (guint m = 0; m < LAB_N_MEASURES; m++)
    measure[m] = exp (of_figure (world, wick, WORLD_DEPTH + m) + z[1 + m]) * (warm ? hotter[m] : 1);
  for (guint r = 0; r < LAB_N_RATINGS; r++)
    for (guint top = 0; top < lab_rating_top (r); top++)
      rating[r] += chance_above (habits->threshold[r][top] - of_figure (world, wick, WORLD_SOOT + r) - z[1 + LAB_N_MEASURES + r]);
  for (guint a = 0; a < aims->len; a++)
    {
      const WbAim *aim = g_ptr_array_index (aims, a);
      double y = NAN;

      if (aim->stage != (int) stage || !(aim->weight > 0))
        continue;
      switch (aim->figure)
        {
        case WB_FIGURE_FULL_POOL: y = full / (inner / 25.4); break;
        case WB_FIGURE_HANG_UP: y = fmax (inner - limit * (1 - exp (-4 / tau)), 0) / 2; break;
        case WB_FIGURE_DEPTH: y = measure[LAB_DEPTH]; break;
        case WB_FIGURE_FLAME: y = measure[LAB_FLAME]; break;
        case WB_FIGURE_VESSEL: y = measure[LAB_RISE] + 22; break;
        case WB_FIGURE_SOOT: y = rating[LAB_SOOT]; break;
        case WB_FIGURE_MUSHROOM: y = rating[LAB_MUSHROOM]; break;
        default: continue;
        }
      *sum += aim->weight * log (lab_desire (aim, y));
      *weights += aim->weight;
    }
}

static gboolean
crosses (const World  *world,
         guint         wick,
         const Lab    *habits,
         const double *z,
         WbCalcRandom *random)
{
  gboolean any = FALSE;

  for (guint burn = 0; burn < 6; burn++)
    {
      double flame = exp (of_figure (world, wick, WORLD_FLAME) + z[1 + LAB_FLAME]
                          + habits->measure_burn_sd[LAB_FLAME] * wb_calc_random_normal (random)) * (burn >= 4 ? 1.10 : 1);
      double rise = exp (of_figure (world, wick, WORLD_RISE) + z[1 + LAB_RISE]
                         + habits->measure_burn_sd[LAB_RISE] * wb_calc_random_normal (random)) * (burn >= 4 ? 1.25 : 1);

      any = any || flame > 50 || rise + 22 > 77;
    }
  return any;
}

static void
draw_candle (const Lab    *habits,
             gboolean      pours,
             WbCalcRandom *random,
             double       *pour_limit,
             double       *pour_tau,
             double       *z)
{
  WorldShift pour = world_draw_shift (random, pours ? WORLD_POUR_SD : 0, 0.5);
  double hot = habits->hot, cool = sqrt (1 - hot * hot);

  z[0] = wb_calc_random_normal (random);
  *pour_limit = pour.of[WORLD_LIMIT];
  *pour_tau = pour.of[WORLD_TAU];
  for (guint m = 0; m < LAB_N_MEASURES; m++)
    z[1 + m] = pour.of[WORLD_DEPTH + m] + habits->measure_sample_sd[m] * (hot * z[0] + cool * wb_calc_random_normal (random));
  for (guint r = 0; r < LAB_N_RATINGS; r++)
    z[1 + LAB_N_MEASURES + r] = habits->rating_sample_sd[r] * (hot * z[0] + cool * wb_calc_random_normal (random));
}

static Brute
by_brute_force (const World     *world,
                guint            wick,
                const GPtrArray *aims)
{
  const Lab *habits = world->habits;
  double inner = world->inner_mm[world->next_vessel], due = inner / 25.4;
  WbCalcRandom random;
  Brute brute = { 0 };

  wb_calc_random_init (&random, 77, wick);
  for (guint k = 0; k < CANDLES; k++)
    {
      double z[1 + LAB_N_MEASURES + LAB_N_RATINGS], pour_limit, pour_tau, sum = 0, weights = 0, limit, full;
      gboolean crossed;

      draw_candle (habits, FALSE, &random, &pour_limit, &pour_tau, z);
      for (guint stage = 0; stage < 3; stage++)
        judge (world, wick, habits, aims, stage, z, &sum, &weights);
      if (!crosses (world, wick, habits, z, &random))
        brute.score += exp (sum / weights) / CANDLES;
      draw_candle (habits, TRUE, &random, &pour_limit, &pour_tau, z);
      crossed = crosses (world, wick, habits, z, &random);
      limit = exp (of_figure (world, wick, WORLD_LIMIT) + pour_limit + habits->limit_sample_sd * z[0] - 2 * habits->trend);
      full = limit > inner ? -log (1 - inner / limit) * exp (of_figure (world, wick, WORLD_TAU) + pour_tau) : INFINITY;
      brute.cross += (double) crossed / CANDLES;
      brute.right += (double) (!crossed && full >= 0.75 * due && full <= 1.25 * due) / CANDLES;
    }
  return brute;
}

static double
room_for_luck (double p)
{
  return 4.5 * sqrt (fmax (p * (1 - p), 0) / WORLD_RIGHT_CANDLES) + 0.005;
}

static void
test_brute_force (void)
{
  static const WorldVariant variants[] = { WORLD_PLAIN, WORLD_CURVED, WORLD_OFF5 };
  g_autoptr (GPtrArray) aims = wb_aims_new_house ();
  guint compared = 0, right = 0, hot = 0;

  for (guint v = 0; v < G_N_ELEMENTS (variants); v++)
    {
      g_autoptr (World) world = world_new (variants[v], SEED, 10 + v);
      g_autofree WorldWickTruth *truth = world_truth_new (world, aims);

      for (guint w = 0; w < world->n_wicks; w += 2)
        {
          Brute brute = by_brute_force (world, w, aims);

          g_assert_cmpfloat_with_epsilon (truth[w].score, brute.score, 0.008);
          g_assert_cmpfloat_with_epsilon (truth[w].p_right, brute.right, room_for_luck (brute.right));
          g_assert_cmpfloat_with_epsilon (truth[w].p_cross, brute.cross, room_for_luck (brute.cross));
          right += brute.right > 0.3;
          hot += brute.cross > 0.1;
          compared++;
        }
    }
  g_assert_cmpuint (compared, >, 12);
  g_assert_cmpuint (right, >, 2);
  g_assert_cmpuint (hot, >, 1);
}

/* What the oracle does not know is 3 % (5 %), with a pour 3.6 %: its intervals are as wide as that, and hold. */
static void
test_oracle (void)
{
  g_autoptr (GPtrArray) aims = wb_aims_new_house ();
  double width = 0, pour_width = 0;
  guint n = 0;

  for (guint i = 0; i < 12; i++)
    {
      g_autoptr (World) world = world_new (WORLD_PLAIN, SEED, 20 + i);
      g_autofree WorldWickTruth *truth = world_truth_new (world, aims);
      gboolean asked[WORLD_MOST_WICKS], chosen[WORLD_MOST_WICKS];
      guint taken = 0;
      double said;

      for (guint w = 0; w < world->n_wicks; w++)
        {
          const WorldWickTruth *of = &truth[w];

          asked[w] = TRUE;
          width += of->oracle_width[WORLD_TOP][WORLD_SAID_LIMIT] / of->figure[WORLD_TOP][WORLD_SAID_LIMIT];
          pour_width += of->oracle_pour_width[WORLD_TOP][WORLD_SAID_LIMIT] / of->figure[WORLD_TOP][WORLD_SAID_LIMIT];
          n++;
        }
      said = world_oracle (world, truth, asked, chosen);
      for (guint w = 0; w < world->n_wicks; w++)
        taken += chosen[w];
      g_assert_cmpuint (taken, ==, WORLD_SIZES);
      g_assert_cmpfloat (said, >, 0.3);
      g_assert_cmpfloat (said, <=, 1 + 1e-9);
      g_assert_cmpfloat (world_loss (world, truth, asked, asked), ==, 0);
      g_assert_true (world_holds (world, truth, asked, asked, 0));
    }
  g_assert_cmpfloat_with_epsilon (width / n, 2 * 1.645 * 0.03, 0.012);
  g_assert_cmpfloat_with_epsilon (pour_width / n, 2 * 1.645 * hypot (0.03, 0.02), 0.014);
}

/* One side of a miss, and an end that is open. */
static void
test_covered (void)
{
  WorldLine line = { .p_never = NAN, .said = { 80, 75, 85 } };
  WorldLine open = { .p_never = 0.2, .said = { 3, 2, NAN } };
  gboolean under, over;

  g_assert_true (world_line_covered (&line, 84, &under, &over));
  g_assert_false (under || over);
  g_assert_false (world_line_covered (&line, 74, &under, &over));
  g_assert_true (under && !over);
  g_assert_false (world_line_covered (&line, 86, &under, &over));
  g_assert_true (over && !under);
  g_assert_true (world_line_covered (&open, INFINITY, NULL, NULL));
  g_assert_true (world_line_covered (&open, 7, NULL, NULL));
  g_assert_false (world_line_covered (&open, 1.9, &under, &over));
  g_assert_true (under);
  open.p_never = 0.01;
  open.said.high = 5;
  g_assert_false (world_line_covered (&open, INFINITY, &under, &over));
  g_assert_true (over);
}

/* What is asked for, and what is new where it should be. */
static void
test_variants (void)
{
  for (guint i = 0; i < 8; i++)
    {
      g_autoptr (World) wax = world_new (WORLD_NEW_WAX, SEED, i), series = world_new (WORLD_NEW_SERIES, SEED, i);
      guint new_asked = 0;

      for (guint e = 0; e < WORLD_EARLIER; e++)
        {
          g_assert_cmpuint (wax->earlier[e].wax, !=, wax->next_wax);
          for (guint w = 0; w < series->n_wicks; w++)
            if (series->wicks[w].series == series->n_series - 1)
              g_assert_false (series->earlier[e].tries[w]);
        }
      for (guint w = 0; w < series->n_wicks; w++)
        {
          gboolean is_new = series->wicks[w].series == series->n_series - 1;

          new_asked += is_new && world_asks_for (series, w, 1);
          if (world_asks_for (series, w, 1))
            g_assert_true (world_asks_for (series, w, WORLD_EARLIER));
        }
      g_assert_cmpuint (new_asked, ==, series->n_steps[series->n_series - 1]);
    }
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/bench/world/the-same-seed-says-the-same", test_same_seed);
  g_test_add_func ("/bench/world/records-are-the-world's", test_records);
  g_test_add_func ("/bench/world/truth-is-what-candles-do", test_brute_force);
  g_test_add_func ("/bench/world/the-oracle-knows-all-but-chance", test_oracle);
  g_test_add_func ("/bench/world/an-interval-holds-or-misses-on-one-side", test_covered);
  g_test_add_func ("/bench/world/what-is-new-was-never-tried", test_variants);
  return g_test_run ();
}
