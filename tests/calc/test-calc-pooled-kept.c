/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-pooled.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <glib.h>
#include <gsl/gsl_errno.h>

#include "calc-pooled-model.h"
#include "wb-calc-random.h"

/* A fit that is kept as bytes is held to the fit. */

#define N_LEAVES 60
#define AGREES 1e-11

/*
 * Crossed families, one large and one small, and stated coefficients of which the first three are asked for, one of them in no row; the rest
 * are leaves: each leans on a few rows alone.
 */
typedef struct
{
  CalcPooledModel *model;
  gsize            stated, leaf, p;
  bool            *asked;
} Bench;

static void
bench_init (Bench  *self,
            guint64 seed)
{
  CalcPooledModel *model = self->model = calc_pooled_model_new ();
  gsize large = calc_pooled_model_add_family (model, 0.5, 1.0), small = calc_pooled_model_add_family (model, 0.3, 1.0), first, other;
  WbCalcRandom random;

  wb_calc_random_init (&random, seed, 7);
  self->stated = calc_pooled_model_add_stated (model, 3.0, 1.0);
  calc_pooled_model_add_stated (model, 0.0, 0.2);
  calc_pooled_model_add_stated (model, -1.0, 0.7);
  first = calc_pooled_model_add_members (model, large, 90);
  other = calc_pooled_model_add_members (model, small, 6);
  self->leaf = calc_pooled_model_add_stated (model, 0.1, 0.2);
  for (gsize i = 1; i < N_LEAVES; i++)
    calc_pooled_model_add_stated (model, 0.1, 0.2);
  for (gsize i = 0; i < 3 * N_LEAVES; i++)
    {
      calc_pooled_model_add_term (model, self->stated, 1.0);
      calc_pooled_model_add_term (model, self->stated + 1, wb_calc_random_normal (&random));
      calc_pooled_model_add_term (model, first + (13 * i) % 89, 1.0);
      calc_pooled_model_add_term (model, other + i % 5, 1.0 + 0.1 * (double) (i % 3));
      calc_pooled_model_add_term (model, self->leaf + i / 3, 1.0);
      calc_pooled_model_end_row (model, 3.0 + 0.4 * wb_calc_random_normal (&random), 0.05 + 0.02 * (double) (i % 4));
    }
  self->p = model->coefficients->len;
  self->asked = g_new (bool, self->p);
  for (gsize j = 0; j < self->p; j++)
    self->asked[j] = j < self->leaf;
}

static void
bench_clear (Bench *self)
{
  calc_pooled_model_free (self->model);
  g_free (self->asked);
}

static WbCalcPooled *
take_up (const WbCalcPooled *fit,
         const bool         *asked,
         gsize              *size)
{
  g_autofree unsigned char *own = NULL;
  unsigned char *bytes;
  WbCalcPooled *again;

  g_assert_cmpint (wb_calc_pooled_keep (fit, asked, &bytes, size), ==, WB_CALC_OK);
  own = g_memdup2 (bytes, *size);
  free (bytes);
  g_assert_cmpint (wb_calc_pooled_take_up (own, *size, &again), ==, WB_CALC_OK);
  return again;
}

/* All single coefficients that `asked` has, together. */
static void
check_same (const Bench        *bench,
            const WbCalcPooled *fit,
            const WbCalcPooled *again,
            const bool         *asked)
{
  g_autoptr (GArray) columns = g_array_new (FALSE, FALSE, sizeof (gsize));
  g_autofree double *one = NULL, *other = NULL;
  gsize n, n_families = wb_calc_pooled_get_n_families (fit);

  for (gsize j = 0; j < bench->p; j++)
    if (asked[j])
      g_array_append_val (columns, j);
  n = columns->len;
  one = g_new (double, n * n + n);
  other = g_new (double, n * n + n);
  g_assert_cmpuint (wb_calc_pooled_get_n_points (again), ==, wb_calc_pooled_get_n_points (fit));
  g_assert_cmpuint (wb_calc_pooled_get_n_families (again), ==, n_families);
  g_assert_cmpfloat (wb_calc_pooled_get_log_marginal (again), ==, wb_calc_pooled_get_log_marginal (fit));
  g_assert_cmpmem (wb_calc_pooled_get_log_spreads (again), n_families * sizeof (double), wb_calc_pooled_get_log_spreads (fit),
                   n_families * sizeof (double));
  for (gsize i = 0; i < wb_calc_pooled_get_n_points (fit); i++)
    {
      g_assert_cmpfloat (wb_calc_pooled_get_weight (again, i), ==, wb_calc_pooled_get_weight (fit, i));
      g_assert_cmpmem (wb_calc_pooled_get_point (again, i), n_families * sizeof (double), wb_calc_pooled_get_point (fit, i),
                       n_families * sizeof (double));
      calc_pooled_ask (fit, i, (const gsize *) columns->data, n, one, one + n);
      calc_pooled_ask (again, i, (const gsize *) columns->data, n, other, other + n);
      for (gsize j = 0; j < n; j++)
        {
          g_assert_cmpfloat_with_epsilon (one[j], other[j], AGREES);
          for (gsize k = 0; k < n; k++)
            g_assert_cmpfloat (fabs (one[n + j * n + k] - other[n + j * n + k]), <=,
                               AGREES * sqrt (one[n + j * n + j] * one[n + k * n + k]));
        }
    }
  for (gsize k = 0; k < n; k++)
    {
      gsize j = g_array_index (columns, gsize, k);

      g_assert_cmpfloat_with_epsilon (wb_calc_pooled_get_mean (again)[j], wb_calc_pooled_get_mean (fit)[j], AGREES);
    }
}

static void
test_kept (void)
{
  for (guint64 seed = 1; seed <= 4; seed++)
    {
      Bench bench;
      g_autoptr (WbCalcPooled) fit = NULL, again = NULL, whole = NULL;
      g_autofree bool *all = NULL;
      gsize size, size_whole, n_left_out = 0;
      const gsize start[] = { 0, 1 };

      bench_init (&bench, seed);
      all = g_new (bool, bench.p);
      memset (all, 1, bench.p * sizeof *all);
      fit = calc_pooled_model_fit (bench.model, NULL);
      again = take_up (fit, bench.asked, &size);
      whole = take_up (fit, all, &size_whole);
      check_same (&bench, fit, again, bench.asked);
      check_same (&bench, fit, whole, all);
      g_assert_null (wb_calc_pooled_get_log_spreads_covariance (again));
      /* what nobody asks for is left out, and is no longer there to be asked for */
      g_assert_cmpuint (size, <, size_whole);
      for (gsize j = 0; j < bench.p; j++)
        {
          const double one = 1.0;
          const WbCalcPooledRows row = { 1, start, &j, &one };
          double mean, variance;
          WbCalcStatus status = wb_calc_pooled_predict (again, 0, &row, &mean, &variance);
          bool out = isnan (wb_calc_pooled_get_mean (again)[j]);

          g_assert_true (!out || !bench.asked[j]);
          g_assert_cmpint (status, ==, out ? WB_CALC_BAD_INPUT : WB_CALC_OK);
          n_left_out += out;
        }
      g_assert_cmpuint (n_left_out, ==, N_LEAVES);
      bench_clear (&bench);
    }
}

/* Bytes that were cut or of which a bit was turned are none, wherever that is. */
static void
test_damaged (void)
{
  Bench bench;
  g_autoptr (WbCalcPooled) fit = NULL, again = NULL;
  g_autofree unsigned char *copy = NULL;
  unsigned char *bytes;
  gsize size;

  bench_init (&bench, 3);
  fit = calc_pooled_model_fit (bench.model, NULL);
  g_assert_cmpint (wb_calc_pooled_keep (fit, bench.asked, &bytes, &size), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_pooled_take_up (NULL, 0, &again), ==, WB_CALC_BAD_INPUT);
  for (gsize cut = 0; cut < size; cut++)
    {
      g_assert_cmpint (wb_calc_pooled_take_up (bytes, cut, &again), ==, WB_CALC_BAD_INPUT);
      g_assert_null (again);
    }
  copy = g_memdup2 (bytes, size);
  for (gsize at = 0; at < size; at++)
    {
      copy[at] ^= (unsigned char) (1u << at % 8);
      g_assert_cmpint (wb_calc_pooled_take_up (copy, size, &again), ==, WB_CALC_BAD_INPUT);
      g_assert_null (again);
      copy[at] = bytes[at];
    }
  g_assert_cmpint (wb_calc_pooled_take_up (copy, size, &again), ==, WB_CALC_OK);
  free (bytes);
  /* what it was made of is no longer whole */
  g_assert_cmpint (wb_calc_pooled_keep (again, bench.asked, &bytes, &size), ==, WB_CALC_BAD_INPUT);
  g_assert_null (bytes);
  bench_clear (&bench);
}

/* Without data the prior is kept, and spreads that are known. */
static void
test_nothing (void)
{
  g_autoptr (CalcPooledModel) model = calc_pooled_model_new ();
  gsize family = calc_pooled_model_add_family (model, 0.4, 0.0);
  gsize column = calc_pooled_model_add_member (model, family), size;
  g_autoptr (WbCalcPooled) fit = calc_pooled_model_fit (model, NULL), again = NULL;
  const bool asked = true;
  double mean, variance;

  again = take_up (fit, &asked, &size);
  calc_pooled_ask (again, 0, &column, 1, &mean, &variance);
  g_assert_cmpfloat (mean, ==, 0.0);
  g_assert_cmpfloat_with_epsilon (variance, 0.16, 1e-15);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/calc/pooled-kept/answers-as-the-fit-does", test_kept);
  g_test_add_func ("/calc/pooled-kept/damaged-bytes-are-none", test_damaged);
  g_test_add_func ("/calc/pooled-kept/a-prior-is-kept-too", test_nothing);
  return g_test_run ();
}
