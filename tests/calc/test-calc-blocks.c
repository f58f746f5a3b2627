/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include <glib.h>
#include <gsl/gsl_errno.h>

#include "wb-calc-blocks.h"
#include "wb-calc-random.h"

#define MOST_TREATMENTS 60
#define MOST_BLOCKS 60
#define MOST_PLOTS 240

/* A layout of plots as even as they come, and room for a design. */
typedef struct
{
  size_t             replications[MOST_TREATMENTS], sizes[MOST_BLOCKS], treatments[MOST_PLOTS];
  WbCalcBlocksLayout layout;
  gsize              plots;
} Bench;

static void
bench_init (Bench *bench,
            gsize  v,
            gsize  b,
            gsize  plots)
{
  memset (bench, 0, sizeof *bench);
  for (gsize i = 0; i < plots; i++)
    {
      bench->replications[i % v]++;
      bench->sizes[i % b]++;
    }
  bench->layout = (WbCalcBlocksLayout) { v, bench->replications, b, bench->sizes };
  bench->plots = plots;
}

static WbCalcBlocksFigures
search (Bench  *bench,
        guint64 seed)
{
  WbCalcBlocksOptions options = { .seed = seed };
  WbCalcBlocksFigures figures;

  g_assert_cmpint (wb_calc_blocks_search (&bench->layout, &options, bench->treatments, &figures), ==, WB_CALC_OK);
  return figures;
}

static WbCalcBlocksFigures
measure (const Bench *bench)
{
  WbCalcBlocksFigures figures;

  g_assert_cmpint (wb_calc_blocks_measure (&bench->layout, bench->treatments, &figures), ==, WB_CALC_OK);
  return figures;
}

/*
 * Balanced incomplete block designs with their efficiency as published, to the digits that it is told with: Cochran and Cox,
 * Experimental Designs, 2nd ed. 1957, table 11.3 (from memory); the fourth is also in the reference page of design.bib of the R
 * package agricolae, "Efficiency factor 0.8888889". Each is lambda v / (r k) besides (the same book, 11.1).
 */
static const struct { gsize v, b, k; double published, digit; } balanced[] = {
  { 7, 7, 3, 0.78, 0.005 },
  { 4, 6, 2, 0.67, 0.005 },
  { 6, 10, 3, 0.80, 0.005 },
  { 4, 4, 3, 0.8888889, 5e-8 },
  { 9, 12, 3, 0.75, 0.005 },
  { 11, 11, 5, 0.88, 0.005 },
  { 13, 13, 4, 0.81, 0.005 },
  { 16, 20, 4, 0.80, 0.005 },
  { 21, 21, 5, 0.84, 0.005 },
};

static void
test_published (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (balanced); i++)
    for (guint64 seed = 1; seed <= 3; seed++)
      {
        gsize v = balanced[i].v, b = balanced[i].b, k = balanced[i].k, r = b * k / v, lambda = r * (k - 1) / (v - 1);
        WbCalcBlocksFigures figures;
        Bench bench;

        bench_init (&bench, v, b, b * k);
        figures = search (&bench, seed);
        g_test_message ("%" G_GSIZE_FORMAT " treatments in %" G_GSIZE_FORMAT " blocks of %" G_GSIZE_FORMAT, v, b, k);
        g_assert_cmpfloat (fabs (figures.efficiency - balanced[i].published), <=, balanced[i].digit);
        g_assert_cmpfloat_with_epsilon (figures.efficiency, (double) (lambda * v) / (double) (r * k), 1e-9);
        g_assert_cmpfloat_with_epsilon (figures.smallest, figures.efficiency, 1e-9);
        g_assert_true (figures.connected && figures.balanced);
        g_assert_cmpuint (figures.together_low, ==, lambda);
        g_assert_cmpuint (figures.together_high, ==, lambda);
        g_assert_cmpuint (figures.repeats, ==, 0);
      }
}

/* Block by block, the treatments' numbers from 1. */
static void
take (Bench       *bench,
      const gsize *treatments)
{
  memset (bench->replications, 0, sizeof bench->replications);
  for (gsize i = 0; i < bench->plots; i++)
    {
      bench->treatments[i] = treatments[i] - 1;
      bench->replications[treatments[i] - 1]++;
    }
}

/* 7 in 7 blocks of 3: 7/9. The incidence matrix is the example of A_eff in the reference manual of the R package ibd. */
static void
test_seven (void)
{
  static const gsize blocks[] = { 1, 4, 6, 5, 6, 7, 3, 4, 5, 2, 4, 7, 1, 3, 7, 2, 3, 6, 1, 2, 5 };
  Bench bench;

  bench_init (&bench, 7, 7, 21);
  take (&bench, blocks);
  g_assert_cmpfloat_with_epsilon (measure (&bench).efficiency, 7.0 / 9.0, 1e-12);
  g_assert_true (measure (&bench).balanced);
}

/*
 * The partially balanced design of Cochran and Cox, p. 379, as it stands in the reference page of efficiency.criteria of the R
 * package dae. Its pairs 1-4, 2-5, 3-6 are together four times, the others twice: group divisible, with factors 1 within
 * the pairs (3 of them) and 6 * 2 / (4 * 4) = 0.75 between (2), harmonic mean 15/17.
 */
static void
test_partially_balanced (void)
{
  static const gsize blocks[] = { 1, 4, 2, 5, 2, 5, 3, 6, 3, 6, 1, 4, 4, 1, 5, 2, 5, 2, 6, 3, 6, 3, 4, 1 };
  WbCalcBlocksFigures figures;
  Bench bench;

  bench_init (&bench, 6, 6, 24);
  take (&bench, blocks);
  figures = measure (&bench);
  g_assert_cmpfloat_with_epsilon (figures.efficiency, 15.0 / 17.0, 1e-12);
  g_assert_cmpfloat_with_epsilon (figures.smallest, 0.75, 1e-12);
  g_assert_cmpfloat_with_epsilon (figures.bound, (3 + 2 * 0.75) / 5, 1e-12);
  g_assert_false (figures.balanced);
  g_assert_cmpuint (figures.together_low, ==, 2);
  g_assert_cmpuint (figures.together_high, ==, 4);
  /* there is a better one of that layout */
  g_assert_cmpfloat (search (&bench, 1).efficiency, >, 15.0 / 17.0);
}

/*
 * The sum of the inverses of the factors by another way: 1/n times the sum over pairs of r_i r_j times the variance of their
 * difference, each variance from the normal equations of treatments and blocks, solved by Gauss and Jordan with one block at 0
 * and one treatment at 0.
 */
static double
efficiency_by_variances (const WbCalcBlocksLayout *layout,
                         const gsize              *treatments,
                         gsize                     plots)
{
  gsize v = layout->n_treatments, b = layout->n_blocks, n = v - 1 + b, plot = 0;
  g_autofree double *matrix = g_new0 (double, 2 * n * n);
  double sum = 0;

  /* treatment 0 is 0; columns: treatments from 1, then blocks */
  for (gsize j = 0; j < b; j++)
    for (gsize k = 0; k < layout->sizes[j]; k++, plot++)
      {
        gsize row = v - 1 + j, t = treatments[plot];

        matrix[row * 2 * n + row] += 1;
        if (t == 0)
          continue;
        matrix[(t - 1) * 2 * n + t - 1] += 1;
        matrix[(t - 1) * 2 * n + row] += 1;
        matrix[row * 2 * n + t - 1] += 1;
      }
  for (gsize i = 0; i < n; i++)
    matrix[i * 2 * n + n + i] = 1;
  for (gsize i = 0; i < n; i++)
    {
      gsize best = i;
      double pivot;

      for (gsize k = i; k < n; k++)
        if (fabs (matrix[k * 2 * n + i]) > fabs (matrix[best * 2 * n + i]))
          best = k;
      pivot = matrix[best * 2 * n + i];
      if (fabs (pivot) < 1e-9)
        return 0;
      for (gsize c = 0; c < 2 * n; c++)
        {
          double kept = matrix[best * 2 * n + c];

          matrix[best * 2 * n + c] = matrix[i * 2 * n + c];
          matrix[i * 2 * n + c] = kept / pivot;
        }
      for (gsize k = 0; k < n; k++)
        if (k != i && matrix[k * 2 * n + i] != 0)
          {
            double factor = matrix[k * 2 * n + i];

            for (gsize c = 0; c < 2 * n; c++)
              matrix[k * 2 * n + c] -= factor * matrix[i * 2 * n + c];
          }
    }
#define INVERSE(i, k) ((i) == 0 || (k) == 0 ? 0 : matrix[((i) - 1) * 2 * n + n + (k) - 1])
  for (gsize i = 0; i < v; i++)
    for (gsize k = 0; k < i; k++)
      sum += (double) (layout->replications[i] * layout->replications[k]) * (INVERSE (i, i) + INVERSE (k, k) - 2 * INVERSE (i, k));
#undef INVERSE
  return (double) (v - 1) / (sum / (double) plots);
}

/* Whatever the design, repeats, unequal replications and sizes among them. */
static void
test_variances (void)
{
  WbCalcRandom random;

  wb_calc_random_init (&random, 5, 0);
  for (guint i = 0; i < 200; i++)
    {
      gsize v = 2 + wb_calc_random_below (&random, 7), b = 2 + wb_calc_random_below (&random, 5);
      gsize plots = MAX (v, b) + wb_calc_random_below (&random, 12);
      WbCalcBlocksFigures figures;
      Bench bench;

      bench_init (&bench, v, b, plots);
      for (gsize k = 0; k < plots; k++)
        bench.treatments[k] = k % v;
      wb_calc_random_shuffle (&random, bench.treatments, plots);
      figures = measure (&bench);
      g_assert_cmpfloat_with_epsilon (figures.efficiency, efficiency_by_variances (&bench.layout, bench.treatments, plots), 1e-9);
      g_assert_cmpfloat (figures.efficiency, <=, figures.bound + 1e-12);
      g_assert_cmpint (figures.connected, ==, figures.efficiency > 0);
    }
}

/* All designs of a small layout, one after the other: the least repeats, and of those the best efficiency. */
typedef struct
{
  Bench  *bench;
  gsize   left[MOST_TREATMENTS];
  gsize   repeats;
  double  efficiency;
  guint   n;
} All;

static gsize
count_repeats (const Bench *bench)
{
  gsize repeats = 0, plot = 0;

  for (gsize j = 0; j < bench->layout.n_blocks; plot += bench->layout.sizes[j], j++)
    for (gsize i = 0; i < bench->layout.sizes[j]; i++)
      for (gsize k = 0; k < i; k++)
        if (bench->treatments[plot + i] == bench->treatments[plot + k])
          {
            repeats++;
            break;
          }
  return repeats;
}

static void
try_all (All  *all,
         gsize plot,
         gsize block,
         gsize in_block)
{
  Bench *bench = all->bench;

  if (plot == bench->plots)
    {
      gsize repeats = count_repeats (bench);
      double efficiency = efficiency_by_variances (&bench->layout, bench->treatments, bench->plots);

      all->n++;
      if (repeats < all->repeats || (repeats == all->repeats && efficiency > all->efficiency))
        {
          all->repeats = repeats;
          all->efficiency = efficiency;
        }
      return;
    }
  if (in_block == bench->layout.sizes[block])
    {
      block++;
      in_block = 0;
    }
  for (gsize i = 0; i < bench->layout.n_treatments; i++)
    {
      /* within a block the order is no other design */
      if (all->left[i] == 0 || (in_block > 0 && i < bench->treatments[plot - 1]))
        continue;
      all->left[i]--;
      bench->treatments[plot] = i;
      try_all (all, plot + 1, block, in_block + 1);
      all->left[i]++;
    }
}

static void
test_every_design (void)
{
  static const struct { gsize v, b, plots; } layouts[] = {
    { 4, 3, 8 }, { 5, 4, 10 }, { 4, 4, 11 }, { 5, 3, 11 }, { 3, 2, 7 }, { 6, 3, 11 }, { 4, 2, 8 }, { 3, 4, 9 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (layouts); i++)
    {
      Bench bench, other;
      All all = { .bench = &other, .repeats = G_MAXSIZE };
      WbCalcBlocksFigures figures;

      bench_init (&bench, layouts[i].v, layouts[i].b, layouts[i].plots);
      bench_init (&other, layouts[i].v, layouts[i].b, layouts[i].plots);
      memcpy (all.left, other.replications, sizeof all.left);
      try_all (&all, 0, 0, 0);
      figures = search (&bench, 1);
      g_test_message ("%" G_GSIZE_FORMAT " treatments in %" G_GSIZE_FORMAT " blocks, %" G_GSIZE_FORMAT " plots: %u designs",
                      layouts[i].v, layouts[i].b, layouts[i].plots, all.n);
      g_assert_cmpuint (all.n, >=, 8);
      g_assert_cmpuint (figures.repeats, ==, all.repeats);
      g_assert_cmpuint (count_repeats (&bench), ==, all.repeats);
      g_assert_cmpfloat_with_epsilon (figures.efficiency, all.efficiency, 1e-9);
    }
}

/* No exchange of two plots makes what was found better: what the search holds of an exchange agrees with the figures measured anew. */
static void
test_no_exchange_is_better (void)
{
  Bench bench;
  WbCalcBlocksFigures found;

  bench_init (&bench, 18, 5, 54);
  found = search (&bench, 4);
  for (gsize i = 0; i < bench.plots; i++)
    for (gsize k = 0; k < i; k++)
      {
        gsize kept = bench.treatments[i];
        WbCalcBlocksFigures figures;

        bench.treatments[i] = bench.treatments[k];
        bench.treatments[k] = kept;
        figures = measure (&bench);
        if (figures.repeats <= found.repeats)
          g_assert_cmpfloat (figures.efficiency, <=, found.efficiency + 1e-8);
        bench.treatments[k] = bench.treatments[i];
        bench.treatments[i] = kept;
      }
}

/* Other names of treatments and another order of blocks are the same design; twice the same design is as efficient. */
static void
test_properties (void)
{
  Bench bench, other;
  WbCalcBlocksFigures figures, again;

  bench_init (&bench, 10, 6, 30);
  figures = search (&bench, 2);
  bench_init (&other, 10, 6, 30);
  for (gsize i = 0; i < 30; i++)
    other.treatments[i] = (bench.treatments[(i + 10) % 30] * 3 + 7) % 10;
  again = measure (&other);
  g_assert_cmpfloat_with_epsilon (again.efficiency, figures.efficiency, 1e-12);
  g_assert_cmpuint (again.together_high, ==, figures.together_high);
  bench_init (&other, 10, 12, 60);
  for (gsize i = 0; i < 60; i++)
    other.treatments[i] = bench.treatments[i % 30];
  again = measure (&other);
  g_assert_cmpfloat_with_epsilon (again.efficiency, figures.efficiency, 1e-12);
  g_assert_cmpuint (again.together_high, ==, 2 * figures.together_high);
  /* the same seed gives the same design */
  bench_init (&other, 10, 6, 30);
  search (&other, 2);
  g_assert_cmpmem (other.treatments, 30 * sizeof (gsize), bench.treatments, 30 * sizeof (gsize));
}

/* Whole replicates in each block lose nothing; one block neither; where treatments never meet nothing can be compared. */
static void
test_ends (void)
{
  WbCalcBlocksFigures figures;
  Bench bench;

  bench_init (&bench, 5, 3, 15);
  figures = search (&bench, 1);
  g_assert_cmpfloat_with_epsilon (figures.efficiency, 1, 1e-9);
  g_assert_true (figures.balanced);
  bench_init (&bench, 5, 3, 30);
  g_assert_cmpfloat_with_epsilon (search (&bench, 1).efficiency, 1, 1e-9);
  bench_init (&bench, 7, 1, 17);
  g_assert_cmpfloat_with_epsilon (search (&bench, 1).efficiency, 1, 1e-9);
  bench_init (&bench, 1, 3, 5);
  figures = search (&bench, 1);
  g_assert_cmpfloat (figures.efficiency, ==, 1);
  g_assert_true (figures.connected);
  bench_init (&bench, 10, 2, 10);
  figures = search (&bench, 1);
  g_assert_cmpfloat (figures.efficiency, ==, 0);
  g_assert_false (figures.connected);
  /* eight sizes, three of each, a bench of twelve: a contrast of 4 against 4 loses a ninth, 7 / (6 + 9/8) */
  bench_init (&bench, 8, 2, 24);
  g_assert_cmpfloat_with_epsilon (search (&bench, 1).efficiency, 7 / (6 + 9 / 8.0), 1e-9);
}

/* What is held stays, and the rest is the best beside it. */
static void
test_held (void)
{
  size_t held[21];
  WbCalcBlocksOptions options = { .seed = 1, .held = held };
  WbCalcBlocksFigures figures;
  Bench bench;

  bench_init (&bench, 7, 7, 21);
  for (gsize i = 0; i < 21; i++)
    held[i] = SIZE_MAX;
  /* two blocks of a balanced design, and a plot of a third */
  held[0] = 0, held[1] = 1, held[2] = 2, held[3] = 0, held[4] = 3, held[5] = 4, held[8] = 6;
  g_assert_cmpint (wb_calc_blocks_search (&bench.layout, &options, bench.treatments, &figures), ==, WB_CALC_OK);
  for (gsize i = 0; i < 21; i++)
    if (held[i] != SIZE_MAX)
      g_assert_cmpuint (bench.treatments[i], ==, held[i]);
  g_assert_cmpfloat_with_epsilon (figures.efficiency, 7.0 / 9.0, 1e-9);
  /* a block that holds one twice cannot be mended */
  held[1] = 0;
  held[4] = 1;
  g_assert_cmpint (wb_calc_blocks_search (&bench.layout, &options, bench.treatments, &figures), ==, WB_CALC_OK);
  g_assert_cmpuint (figures.repeats, ==, 1);
  g_assert_cmpfloat (figures.efficiency, <, 7.0 / 9.0);
  g_assert_cmpuint (bench.treatments[0] + bench.treatments[1], ==, 0);
}

typedef struct
{
  guint  n, most;
  double last;
} Watch;

static bool
watch (double done,
       double efficiency,
       void  *user)
{
  Watch *self = user;

  g_assert_cmpfloat (done, >=, self->last);
  g_assert_cmpfloat (done, <=, 1);
  g_assert_true (isnan (efficiency) || (efficiency >= 0 && efficiency <= 1));
  self->last = done;
  return ++self->n < self->most;
}

/* Stopped, the best so far is a design of the layout. */
static void
test_stopped (void)
{
  Watch whole = { .most = G_MAXUINT }, cut = { .most = 3 };
  WbCalcBlocksOptions options = { .seed = 1, .n_tries = 3, .keep_going = watch, .user = &whole };
  WbCalcBlocksFigures best, so_far;
  Bench bench;

  bench_init (&bench, 30, 9, 100);
  g_assert_cmpint (wb_calc_blocks_search (&bench.layout, &options, bench.treatments, &best), ==, WB_CALC_OK);
  g_assert_cmpuint (whole.n, >, 3);
  g_assert_cmpfloat (whole.last, >, 0.6);
  options.user = &cut;
  g_assert_cmpint (wb_calc_blocks_search (&bench.layout, &options, bench.treatments, &so_far), ==, WB_CALC_CANCELLED);
  g_assert_cmpuint (cut.n, ==, 3);
  g_assert_cmpfloat_with_epsilon (measure (&bench).efficiency, so_far.efficiency, 1e-12);
  g_assert_cmpuint (so_far.repeats, ==, 0);
  g_assert_cmpfloat (so_far.efficiency, <=, best.efficiency);
}

static void
assert_refused (const Bench *bench)
{
  WbCalcBlocksFigures figures = { .efficiency = 1 };
  size_t treatments[MOST_PLOTS] = { 0 };

  g_assert_cmpint (wb_calc_blocks_search (&bench->layout, NULL, treatments, &figures), ==, WB_CALC_BAD_INPUT);
  g_assert_true (isnan (figures.efficiency));
  g_assert_cmpint (wb_calc_blocks_measure (&bench->layout, treatments, &figures), ==, WB_CALC_BAD_INPUT);
  g_assert_true (isnan (figures.efficiency));
}

static void
test_refusals (void)
{
  size_t held[21];
  WbCalcBlocksOptions options = { .seed = 1, .held = held };
  WbCalcBlocksFigures figures;
  Bench bench;

  for (guint i = 0; i < 7; i++)
    {
      bench_init (&bench, 7, 7, 21);
      switch (i)
        {
        case 0:
          bench.layout.n_treatments = 0;
          break;
        case 1:
          bench.layout.n_blocks = 0;
          break;
        case 2:
          bench.replications[3] = 0;
          break;
        case 3:
          bench.sizes[3] = 0;
          break;
        case 4:
          bench.sizes[3]++;
          break;
        case 5:
          bench.replications[3] = G_MAXSIZE;
          break;
        default:
          bench.sizes[6] = G_MAXSIZE - 5;
          break;
        }
      assert_refused (&bench);
    }
  bench_init (&bench, 7, 7, 21);
  /* treatments that the layout has not, or not so often */
  memset (bench.treatments, 0, sizeof bench.treatments);
  g_assert_cmpint (wb_calc_blocks_measure (&bench.layout, bench.treatments, &figures), ==, WB_CALC_BAD_INPUT);
  search (&bench, 1);
  bench.treatments[20] = 7;
  g_assert_cmpint (wb_calc_blocks_measure (&bench.layout, bench.treatments, &figures), ==, WB_CALC_BAD_INPUT);
  for (gsize i = 0; i < 21; i++)
    held[i] = SIZE_MAX;
  held[0] = 7;
  g_assert_cmpint (wb_calc_blocks_search (&bench.layout, &options, bench.treatments, NULL), ==, WB_CALC_BAD_INPUT);
  held[0] = held[3] = held[6] = held[9] = 2;
  g_assert_cmpint (wb_calc_blocks_search (&bench.layout, &options, bench.treatments, NULL), ==, WB_CALC_BAD_INPUT);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/calc/blocks/published-balanced-designs", test_published);
  g_test_add_func ("/calc/blocks/seven-in-blocks-of-three", test_seven);
  g_test_add_func ("/calc/blocks/a-partially-balanced-design", test_partially_balanced);
  g_test_add_func ("/calc/blocks/as-the-variances-say", test_variances);
  g_test_add_func ("/calc/blocks/the-best-of-every-design", test_every_design);
  g_test_add_func ("/calc/blocks/no-exchange-is-better", test_no_exchange_is_better);
  g_test_add_func ("/calc/blocks/properties", test_properties);
  g_test_add_func ("/calc/blocks/nothing-lost-and-nothing-left", test_ends);
  g_test_add_func ("/calc/blocks/what-is-held-stays", test_held);
  g_test_add_func ("/calc/blocks/stopped-with-the-best-so-far", test_stopped);
  g_test_add_func ("/calc/blocks/refusals", test_refusals);
  return g_test_run ();
}
