/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "test-craft.h"
#include "wb-calc-quantile.h"
#include "wb-calc-random.h"
#include "wb-calc-rank.h"
#include "wb-craft-score-private.h"
#include "wb-craft-vessel-private.h"

/*
 * The score and the ranking of 200 cells from 4,000 draws, 15 candles a cell in each, against
 * the bare loop of the same desirabilities: level × factor, time to the full pool, shape,
 * weighted geometric mean, from arrays that are ready. Shuffled strata, the limits' chances,
 * sums, ranks and everything that is looked up are ours alone. The draws are invented.
 *
 *   bench-rank [CELLS [DRAWS]]
 */

#define N_STEPS 10
#define ROUNDS 3

/* An aim of the floor, all looked up. */
typedef struct
{
  const WbCraftDraw *draw;
  WbCalcDesirability shape;
  double             weight;
  guint              class;
  double            *inner, *due;   /* a cell; growth alone */
} BareAim;

typedef struct
{
  guint    n_cells, n_draws, n_aims, n_classes;
  BareAim *aims;
  double  *class_weight;
  double   weights;
  double   strata[WB_CRAFT_N_STRATA];
  double  *recipe;        /* draws × cells */
  double  *desirability;  /* aims × cells */
} Bare;

static void
draw_free (gpointer data)
{
  WbCraftDraw *draw = data;

  g_free (draw->level);
  g_free (draw->pace);
  g_free (draw->sample_sd);
  g_free (draw->burn_sd);
  g_free (draw->read);
  g_free (draw);
}

/* What a figure is about for the weakest and the strongest wick, on its scale; invented. */
static void
range_of (WbFigure figure,
          double  *weak,
          double  *strong,
          double  *sd)
{
  static const struct { WbFigure figure; double weak, strong, sd; } ranges[] = {
    { WB_FIGURE_FULL_POOL, 70, 100, 0.04 }, { WB_FIGURE_DEPTH, 5, 15, 0.08 }, { WB_FIGURE_FLAME, 12, 34, 0.07 },
    { WB_FIGURE_VESSEL, 25, 48, 0.05 }, { WB_FIGURE_HANG_UP, 9, 1, 0.5 }, { WB_FIGURE_SOOT, 0.1, 1.8, 0.3 },
    { WB_FIGURE_MUSHROOM, 0.1, 1.5, 0.3 }, { WB_FIGURE_THROW, 2, 3.5, 0.4 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (ranges); i++)
    if (ranges[i].figure == figure)
      {
        gboolean log_scale = ranges[i].sd < 0.1;

        *weak = log_scale ? log (ranges[i].weak) : ranges[i].weak;
        *strong = log_scale ? log (ranges[i].strong) : ranges[i].strong;
        *sd = ranges[i].sd;
        return;
      }
  g_assert_not_reached ();
}

static void
add_draw (WbCraftDraws *draws,
          WbFigure      figure,
          WbStage       stage,
          WbCraftLook   look)
{
  gsize n = (gsize) draws->n_draws * draws->n_cells;
  WbCraftDraw *draw = g_new0 (WbCraftDraw, 1);
  double weak, strong, sd;
  WbCalcRandom random;

  if (wb_craft_draws_find (draws, figure, stage, look) != NULL)
    {
      g_free (draw);
      return;
    }
  range_of (figure, &weak, &strong, &sd);
  *draw = (WbCraftDraw) {
    .figure = figure, .stage = stage, .look = look, .growth = figure == WB_FIGURE_FULL_POOL, .log_scale = sd < 0.1,
    .offset = figure == WB_FIGURE_VESSEL ? 22 : 0, .exponent = 1, .low = sd < 0.1 ? -10 : 0, .high = 400,
    .level = g_new (double, n), .pace = g_new (double, n), .sample_sd = g_new (double, draws->n_draws),
    .burn_sd = g_new (double, draws->n_draws), .read = g_new (gboolean, draws->n_cells)
  };
  wb_calc_random_init (&random, 1 + figure, stage);
  for (gsize i = 0; i < n; i++)
    {
      double step = (double) (i % draws->n_cells % N_STEPS) / (N_STEPS - 1);

      draw->level[i] = weak + (strong - weak) * step + 0.5 * sd * wb_calc_random_normal (&random);
      draw->pace[i] = log (1.4) + 0.05 * wb_calc_random_normal (&random);
    }
  for (guint i = 0; i < draws->n_draws; i++)
    draw->sample_sd[i] = draw->burn_sd[i] = sd * exp (0.2 * wb_calc_random_normal (&random));
  for (guint i = 0; i < draws->n_cells; i++)
    draw->read[i] = TRUE;
  g_ptr_array_add (draws->all, draw);
}

static WbCraftDraws *
make_draws (WbDataset *data,
            guint      n_draws)
{
  WbCraftDraws *draws = g_new0 (WbCraftDraws, 1);
  g_autoptr (GArray) aims = wb_craft_aims_new (data);

  draws->n_draws = n_draws;
  draws->n_cells = data->cells->len;
  draws->all = g_ptr_array_new_with_free_func (draw_free);
  for (guint a = 0; a < aims->len; a++)
    {
      const WbCraftAim *aim = &g_array_index (aims, WbCraftAim, a);

      add_draw (draws, aim->figure, aim->stage, wb_craft_look_of (aim));
    }
  for (WbStage stage = 0; stage < WB_N_STAGES; stage++)
    {
      add_draw (draws, WB_FIGURE_FLAME, stage, WB_CRAFT_LOOK_PEAK);
      add_draw (draws, WB_FIGURE_VESSEL, stage, WB_CRAFT_LOOK_PEAK);
    }
  return draws;
}

static void
bare_init (Bare               *bare,
           const WbDataset    *data,
           const WbCraftDraws *draws)
{
  g_autoptr (GArray) aims = wb_craft_aims_new (data);

  *bare = (Bare) {
    .n_cells = draws->n_cells, .n_draws = draws->n_draws, .n_aims = aims->len,
    .aims = g_new0 (BareAim, aims->len), .class_weight = g_new0 (double, aims->len),
    .recipe = g_new0 (double, (gsize) draws->n_draws * draws->n_cells), .desirability = g_new0 (double, aims->len * draws->n_cells),
  };
  for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
    bare->strata[k] = wb_calc_normal_quantile ((k + 0.5) / WB_CRAFT_N_STRATA);
  for (guint a = 0; a < aims->len; a++)
    {
      const WbCraftAim *aim = &g_array_index (aims, WbCraftAim, a);
      BareAim *of = &bare->aims[a];

      *of = (BareAim) { wb_craft_draws_find (draws, aim->figure, aim->stage, wb_craft_look_of (aim)), aim->shape, aim->weight, 0,
                        g_new (double, bare->n_cells), g_new (double, bare->n_cells) };
      while (of->class < bare->n_classes && bare->class_weight[of->class] != aim->weight)
        of->class++;
      bare->class_weight[of->class] = aim->weight;
      bare->n_classes = MAX (bare->n_classes, of->class + 1);
      bare->weights += aim->weight;
      for (guint cell = 0; cell < bare->n_cells; cell++)
        {
          of->inner[cell] = wb_craft_vessel_inner_mm (wb_dataset_get_vessel (data, cell), aim->stage);
          of->due[cell] = wb_craft_vessel_due_h (wb_dataset_get_vessel (data, cell), aim->stage);
        }
    }
}

static void
bare_clear (Bare *bare)
{
  for (guint a = 0; a < bare->n_aims; a++)
    {
      g_free (bare->aims[a].inner);
      g_free (bare->aims[a].due);
    }
  g_free (bare->aims);
  g_free (bare->class_weight);
  g_free (bare->recipe);
  g_free (bare->desirability);
}

static inline double
bare_shape (const WbCalcDesirability *shape,
            double                    y)
{
  if (y < shape->one_from)
    return y <= shape->zero_below ? shape->floor_low
                                  : shape->floor_low + (1 - shape->floor_low) * (y - shape->zero_below) / (shape->one_from - shape->zero_below);
  if (y > shape->one_to)
    return y >= shape->zero_above ? shape->floor_high
                                  : shape->floor_high + (1 - shape->floor_high) * (shape->zero_above - y) / (shape->zero_above - shape->one_to);
  return 1;
}

/* What the candles of one cell would show for one aim, and what each is worth. */
static void
bare_judge (const Bare    *bare,
            const BareAim *aim,
            const double  *factors,
            guint          draw,
            guint          cell,
            double        *worth)
{
  gsize at = (gsize) draw * bare->n_cells + cell;

  if (aim->draw->growth)
    {
      double level = exp (aim->draw->level[at]), pace = exp (aim->draw->pace[at]) / aim->due[cell];

      for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
        {
          double grown = level * factors[k];

          worth[k] = bare_shape (&aim->shape, grown > aim->inner[cell] ? -pace * log1p (-aim->inner[cell] / grown) : INFINITY);
        }
    }
  else if (aim->draw->log_scale)
    {
      double level = exp (aim->draw->level[at]);

      for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
        worth[k] = bare_shape (&aim->shape, CLAMP (level * factors[k] + aim->draw->offset, aim->draw->low, aim->draw->high));
    }
  else
    for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
      worth[k] = bare_shape (&aim->shape, CLAMP (aim->draw->level[at] + factors[k], aim->draw->low, aim->draw->high));
}

/* The candles of all figures paired as they come: the same work, without the shuffle. */
static void
bare_run (Bare *bare)
{
  g_autofree double *factors = g_new (double, bare->n_aims * WB_CRAFT_N_STRATA);
  g_autofree double *products = g_new (double, bare->n_classes * WB_CRAFT_N_STRATA);
  double worth[WB_CRAFT_N_STRATA];

  memset (bare->desirability, 0, bare->n_aims * bare->n_cells * sizeof *bare->desirability);
  for (guint draw = 0; draw < bare->n_draws; draw++)
    {
      for (guint a = 0; a < bare->n_aims; a++)
        for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
          {
            double deviation = bare->aims[a].draw->sample_sd[draw] * bare->strata[k];

            factors[a * WB_CRAFT_N_STRATA + k] = bare->aims[a].draw->log_scale ? exp (deviation) : deviation;
          }
      for (guint cell = 0; cell < bare->n_cells; cell++)
        {
          double score = 0;

          for (guint i = 0; i < bare->n_classes * WB_CRAFT_N_STRATA; i++)
            products[i] = 1;
          for (guint a = 0; a < bare->n_aims; a++)
            {
              double *product = products + bare->aims[a].class * WB_CRAFT_N_STRATA, sum = 0;

              bare_judge (bare, &bare->aims[a], factors + a * WB_CRAFT_N_STRATA, draw, cell, worth);
              for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
                {
                  product[k] *= worth[k];
                  sum += worth[k];
                }
              bare->desirability[a * bare->n_cells + cell] += sum / WB_CRAFT_N_STRATA;
            }
          for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
            {
              double sum = 0;

              for (guint c = 0; c < bare->n_classes; c++)
                sum += bare->class_weight[c] * log (products[c * WB_CRAFT_N_STRATA + k]);
              score += exp (sum / bare->weights);
            }
          bare->recipe[(gsize) draw * bare->n_cells + cell] = score / WB_CRAFT_N_STRATA;
        }
    }
}

typedef struct { double wall, cpu; } Cost;

static Cost
now (void)
{
  struct timespec cpu;

  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &cpu);
  return (Cost) { (double) g_get_monotonic_time () / 1e6, (double) cpu.tv_sec + 1e-9 * (double) cpu.tv_nsec };
}

static void
add_cost (Cost *sum,
          Cost  from,
          Cost  to)
{
  sum->wall += to.wall - from.wall;
  sum->cpu += to.cpu - from.cpu;
}

static void
rank_all (const WbDataset    *data,
          const WbCraftDraws *draws,
          const Bare         *bare,
          double             *apart)
{
  const WbCalcRankOptions options = { 0.05, 0 };
  g_autofree guint *members = g_new (guint, draws->n_cells);
  g_autoptr (WbCraftScore) score = NULL;
  WbCalcRank rank;

  for (guint i = 0; i < draws->n_cells; i++)
    members[i] = i;
  score = wb_craft_score_new (data, draws, members, draws->n_cells, 1, NULL, NULL);
  if (wb_calc_rank_acceptability (score->recipe, score->n_draws, score->n_cells, &options, NULL, NULL, &rank) != WB_CALC_OK)
    g_error ("no ranking");
  wb_calc_rank_clear (&rank);
  for (guint i = 0; i < bare->n_aims * bare->n_cells; i++)
    *apart = fmax (*apart, fabs (score->desirability[i] - bare->desirability[i] / bare->n_draws));
}

int
main (int    argc,
      char **argv)
{
  guint n_cells = argc > 1 ? (guint) strtoul (argv[1], NULL, 10) : 200;
  guint n_draws = argc > 2 ? (guint) strtoul (argv[2], NULL, 10) : 4000;
  WbDataset *data = test_craft_data_new ();
  Cost ours = { 0, 0 }, floor = { 0, 0 };
  double apart = 0;
  WbCraftDraws *draws;
  Bare bare;

  for (guint cell = 0; cell < n_cells; cell++)
    {
      g_autofree char *vessel = g_strdup_printf ("Vessel %u", cell / N_STEPS);
      g_autofree char *size = g_strdup_printf ("S-%u", cell % N_STEPS);

      test_craft_add_cell (data, vessel, 66 + cell / N_STEPS, "Sedge", size, cell % N_STEPS, 0);
    }
  draws = make_draws (data, n_draws);
  bare_init (&bare, data, draws);
  for (guint round = 0; round < ROUNDS; round++)
    {
      Cost at[3];

      at[0] = now ();
      bare_run (&bare);
      at[1] = now ();
      rank_all (data, draws, &bare, &apart);
      at[2] = now ();
      add_cost (&floor, at[0], at[1]);
      add_cost (&ours, at[1], at[2]);
    }
  if (!(apart < 1e-9))
    g_error ("the desirabilities differ by %g", apart);
  g_print ("ranking %u cells, %u draws, %u candles, %u aims: %.2f times the bare loop of the same desirabilities by CPU time, "
           "%.2f by the clock; aim 1.5; the floor %.3f s of CPU\n",
           n_cells, n_draws, WB_CRAFT_N_STRATA, bare.n_aims, ours.cpu / floor.cpu, ours.wall / floor.wall, floor.cpu / ROUNDS);
  bare_clear (&bare);
  wb_craft_draws_free (draws);
  wb_dataset_free (data);
  return 0;
}
