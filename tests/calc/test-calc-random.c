/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-random.h"

#include <math.h>
#include <string.h>

#include <glib.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>

/* First outputs for seed 1234567, as printed on Rosetta Code, "Pseudo-random numbers/Splitmix64". */
static void
test_split_vector (void)
{
  static const uint64_t expected[] = {
    UINT64_C (6457827717110365317),  UINT64_C (3203168211198807973), UINT64_C (9817491932198370423),
    UINT64_C (4593380528125082431),  UINT64_C (16408922859458223821),
  };
  uint64_t state = 1234567;

  for (gsize i = 0; i < G_N_ELEMENTS (expected); i++)
    g_assert_cmpuint (wb_calc_random_split (&state), ==, expected[i]);
}

/* Outputs from state (0, 0, 0, 1), as listed in test/README.md of github DSCF-1224/xoshiro-fortran. */
static void
test_xoshiro_vector (void)
{
  static const uint64_t expected[] = {
    UINT64_C (0x0000000000800000), UINT64_C (0x0000000000800011), UINT64_C (0x0002200000800011),
    UINT64_C (0x0002200044000020), UINT64_C (0x00022000448008a1), UINT64_C (0x01102100802208a0),
    UINT64_C (0x0114002284200880), UINT64_C (0x0402896644a64095), UINT64_C (0x8a14a0a244acc891),
    UINT64_C (0x8c88ba4680b20495),
  };
  WbCalcRandom random = { { 0, 0, 0, 1 } };

  for (gsize i = 0; i < G_N_ELEMENTS (expected); i++)
    g_assert_cmphex (wb_calc_random_next (&random), ==, expected[i]);
}

static void
test_blocks_differ (void)
{
  WbCalcRandom a;
  WbCalcRandom b;

  wb_calc_random_init (&a, 7, 3);
  wb_calc_random_init (&b, 7, 3);
  g_assert_cmpmem (&a, sizeof a, &b, sizeof b);
  wb_calc_random_init (&b, 7, 4);
  g_assert_true (memcmp (&a, &b, sizeof a) != 0);
  wb_calc_random_init (&b, 8, 3);
  g_assert_true (memcmp (&a, &b, sizeof a) != 0);
  wb_calc_random_init (&b, 3, 7);
  g_assert_true (memcmp (&a, &b, sizeof a) != 0);
}

static gpointer
fill_odd_blocks (gpointer data)
{
  double *draws = data;

  for (gsize block = 1; block < 8; block += 2)
    {
      WbCalcRandom random;

      wb_calc_random_init (&random, 99, block);
      for (gsize i = 0; i < WB_CALC_RANDOM_BLOCK; i++)
        draws[block * WB_CALC_RANDOM_BLOCK + i] = wb_calc_random_t (&random, 5.5);
    }
  return NULL;
}

static void
test_threads_agree (void)
{
  gsize n = 8 * WB_CALC_RANDOM_BLOCK;
  g_autofree double *split = g_new0 (double, n);
  g_autofree double *whole = g_new0 (double, n);
  GThread *thread = g_thread_new ("odd", fill_odd_blocks, split);

  for (gsize block = 8; block-- > 0;)
    {
      WbCalcRandom random;

      wb_calc_random_init (&random, 99, block);
      for (gsize i = 0; i < WB_CALC_RANDOM_BLOCK; i++)
        whole[block * WB_CALC_RANDOM_BLOCK + i] = wb_calc_random_t (&random, 5.5);
    }
  for (gsize block = 0; block < 8; block += 2)
    memcpy (split + block * WB_CALC_RANDOM_BLOCK,
            whole + block * WB_CALC_RANDOM_BLOCK,
            WB_CALC_RANDOM_BLOCK * sizeof *split);
  g_thread_join (thread);
  g_assert_cmpmem (split, n * sizeof *split, whole, n * sizeof *whole);
}

static int
compare_doubles (const void *a,
                 const void *b)
{
  double x = *(const double *) a;
  double y = *(const double *) b;

  return (x > y) - (x < y);
}

/* Kolmogorov and Smirnov's distance of 200 blocks against the distribution; 1.95 / sqrt (n) is passed by chance once in a thousand. */
static void
assert_distribution (const char *name,
                     double (*draw) (WbCalcRandom *),
                     double (*cdf) (double))
{
  gsize n = 200 * WB_CALC_RANDOM_BLOCK;
  g_autofree double *x = g_new (double, n);
  double distance = 0.0;

  for (gsize i = 0; i < n; i++)
    {
      static WbCalcRandom random;

      if (i % WB_CALC_RANDOM_BLOCK == 0)
        wb_calc_random_init (&random, 20240501, i / WB_CALC_RANDOM_BLOCK);
      x[i] = draw (&random);
      g_assert_true (isfinite (x[i]));
    }
  qsort (x, n, sizeof *x, compare_doubles);
  for (gsize i = 0; i < n; i++)
    {
      double p = cdf (x[i]);

      distance = MAX (distance, fabs (p - (double) i / (double) n));
      distance = MAX (distance, fabs (p - (double) (i + 1) / (double) n));
    }
  g_test_message ("%s: distance %g", name, distance);
  g_assert_cmpfloat (distance, <, 1.95 / sqrt ((double) n));
}

static double
draw_t3 (WbCalcRandom *random)
{
  return wb_calc_random_t (random, 3.0);
}

static double
cdf_t3 (double x)
{
  return gsl_cdf_tdist_P (x, 3.0);
}

static double
draw_t_wide (WbCalcRandom *random)
{
  return wb_calc_random_t (random, 1.25);
}

static double
cdf_t_wide (double x)
{
  return gsl_cdf_tdist_P (x, 1.25);
}

static double
draw_chisq (WbCalcRandom *random)
{
  return wb_calc_random_chisq (random, 4.5);
}

static double
cdf_chisq (double x)
{
  return gsl_cdf_chisq_P (x, 4.5);
}

static double
cdf_uniform (double x)
{
  return x;
}

static void
test_distributions (void)
{
  assert_distribution ("uniform", wb_calc_random_uniform, cdf_uniform);
  assert_distribution ("normal", wb_calc_random_normal, gsl_cdf_ugaussian_P);
  assert_distribution ("t, 3 df", draw_t3, cdf_t3);
  assert_distribution ("t, 1.25 df", draw_t_wide, cdf_t_wide);
  assert_distribution ("chi-square, 4.5 df", draw_chisq, cdf_chisq);
}

static void
test_ends (void)
{
  WbCalcRandom random;

  /* xoshiro256++ gives rotl (s0 + s3, 23) + s0: these states give all zeros and all ones. */
  random = (WbCalcRandom) { { 0, 1, 0, 0 } };
  g_assert_cmpfloat (wb_calc_random_uniform (&random), >, 0.0);
  random = (WbCalcRandom) { { 0, 1, 0, UINT64_MAX } };
  g_assert_cmpfloat (wb_calc_random_uniform (&random), <, 1.0);
  random = (WbCalcRandom) { { 0, 1, 0, 0 } };
  g_assert_true (isfinite (wb_calc_random_normal (&random)));
  random = (WbCalcRandom) { { 0, 1, 0, 0 } };
  g_assert_true (isfinite (wb_calc_random_t (&random, 1.0)));

  g_assert_true (isnan (wb_calc_random_t (&random, 0.0)));
  g_assert_true (isnan (wb_calc_random_t (&random, NAN)));
  g_assert_true (isnan (wb_calc_random_chisq (&random, -1.0)));
  g_assert_true (isfinite (wb_calc_random_t (&random, INFINITY)));
  g_assert_cmpuint (wb_calc_random_n_blocks (0), ==, 0);
  g_assert_cmpuint (wb_calc_random_n_blocks (1), ==, 1);
  g_assert_cmpuint (wb_calc_random_n_blocks (256), ==, 1);
  g_assert_cmpuint (wb_calc_random_n_blocks (257), ==, 2);
}

static void
test_shuffle (void)
{
  WbCalcRandom random;
  guint counts[6] = { 0 };

  wb_calc_random_init (&random, 5, 0);
  for (guint k = 0; k < 6000; k++)
    {
      size_t items[3] = { 0, 1, 2 };

      wb_calc_random_shuffle (&random, items, 3);
      g_assert_cmpuint ((1u << items[0]) + (1u << items[1]) + (1u << items[2]), ==, 7);
      counts[items[0] * 2 + (items[1] > items[2] ? 1 : 0)]++;
    }
  /* Binomial (6000, 1/6): sd 28.9; five of them on either side. */
  for (guint i = 0; i < 6; i++)
    {
      g_assert_cmpuint (counts[i], >, 855);
      g_assert_cmpuint (counts[i], <, 1145);
    }
  g_assert_cmpuint (wb_calc_random_below (&random, 0), ==, 0);
  g_assert_cmpuint (wb_calc_random_below (&random, 1), ==, 0);
  for (guint i = 0; i < 1000; i++)
    g_assert_cmpuint (wb_calc_random_below (&random, UINT64_C (0xc000000000000001)),
                      <,
                      UINT64_C (0xc000000000000001));
  wb_calc_random_shuffle (&random, NULL, 0);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/calc/random/splitmix64-gives-the-published-numbers", test_split_vector);
  g_test_add_func ("/calc/random/xoshiro256plusplus-gives-the-published-numbers", test_xoshiro_vector);
  g_test_add_func ("/calc/random/a-block-depends-on-seed-and-number-alone", test_blocks_differ);
  g_test_add_func ("/calc/random/threads-give-the-same-bits", test_threads_agree);
  g_test_add_func ("/calc/random/draws-follow-their-distributions", test_distributions);
  g_test_add_func ("/calc/random/the-ends-stay-finite", test_ends);
  g_test_add_func ("/calc/random/a-shuffle-favours-no-order", test_shuffle);
  return g_test_run ();
}
