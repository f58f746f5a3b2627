/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-pooled.h"

#include <math.h>
#include <string.h>

#include <glib.h>
#include <gsl/gsl_errno.h>

#include "calc-pooled-model.h"
#include "calc-table.h"
#include "wb-calc-random.h"

/* Small models of two crossed families and two stated coefficients, no two alike; the last member of family 1 is in no row. */
static CalcPooledModel *
random_model (guint64 seed,
              gsize   n)
{
  CalcPooledModel *model = calc_pooled_model_new ();
  WbCalcRandom random;
  gsize first, second, level, slope;

  wb_calc_random_init (&random, seed, 1);
  calc_pooled_model_add_family (model, 0.5, 0.8);
  calc_pooled_model_add_family (model, 1.5, 0.4);
  level = calc_pooled_model_add_stated (model, 3.0, 2.0);
  slope = calc_pooled_model_add_stated (model, -0.2, 0.5);
  first = calc_pooled_model_add_members (model, 0, 6);
  second = calc_pooled_model_add_members (model, 1, 5);
  for (gsize i = 0; i < n; i++)
    {
      gsize a = (gsize) wb_calc_random_below (&random, 6), b = (gsize) wb_calc_random_below (&random, 4);
      double x = wb_calc_random_normal (&random);

      calc_pooled_model_add_term (model, level, 1.0);
      calc_pooled_model_add_term (model, first + a, 1.0);
      calc_pooled_model_add_term (model, slope, x);
      /* A column twice in a row counts for both. */
      calc_pooled_model_add_term (model, second + b, 0.5 * x);
      calc_pooled_model_add_term (model, second + b, 0.3);
      calc_pooled_model_end_row (model, 4.0 + (double) a * 0.7 + (double) b * x + 0.3 * wb_calc_random_normal (&random),
                                 0.05 + wb_calc_random_uniform (&random));
    }
  return model;
}

static void
check_dense (guint64 seed,
             gsize   n)
{
  g_autoptr (CalcPooledModel) model = random_model (seed, n);
  g_autoptr (WbCalcPooled) fit = calc_pooled_model_fit (model, NULL);
  gsize p = model->coefficients->len;
  g_autofree gsize *all = g_new (gsize, p);
  g_autofree double *mean = g_new (double, p);
  g_autofree double *covariance = g_new (double, p * p);
  g_autofree double *dense_mean = g_new (double, p);
  g_autofree double *dense = g_new (double, p * p);
  const double *mode = wb_calc_pooled_get_log_spreads (fit);
  const double *inverse = wb_calc_pooled_get_log_spreads_covariance (fit);
  double top = calc_pooled_model_condition (model, mode, dense_mean, dense), hessian[4], det;
  const double h = 3e-4;

  for (gsize j = 0; j < p; j++)
    all[j] = j;
  calc_pooled_ask (fit, 0, all, p, mean, covariance);
  calc_assert_digits ("log density", wb_calc_pooled_get_log_marginal (fit), top, 11);
  for (gsize j = 0; j < p; j++)
    {
      g_assert_cmpfloat_with_epsilon (mean[j], dense_mean[j], 1e-10);
      g_assert_cmpfloat (mean[j], ==, wb_calc_pooled_get_mean (fit)[j]);
      for (gsize k = 0; k < p; k++)
        g_assert_cmpfloat_with_epsilon (covariance[j * p + k], dense[j * p + k], 1e-10);
    }
  /* A maximum, with the curvature that second differences of the dense density have. */
  for (gsize k = 0; k < 4; k++)
    {
      double sum = 0.0;

      for (gsize corner = 0; corner < 4; corner++)
        {
          double up = corner & 1 ? h : -h, across = corner & 2 ? h : -h;
          double at[] = { mode[0] + (k / 2 == 0 ? up : 0.0) + (k % 2 == 0 ? across : 0.0),
                          mode[1] + (k / 2 == 1 ? up : 0.0) + (k % 2 == 1 ? across : 0.0) };
          double there = calc_pooled_model_condition (model, at, NULL, NULL);

          g_assert_cmpfloat (there, <=, top + 1e-9);
          sum += (up * across > 0.0 ? -1.0 : 1.0) * there;
        }
      hessian[k] = sum / (4.0 * h * h);
    }
  det = hessian[0] * hessian[3] - hessian[1] * hessian[2];
  g_assert_cmpfloat_with_epsilon (inverse[0], hessian[3] / det, 1e-4);
  g_assert_cmpfloat_with_epsilon (inverse[1], -hessian[1] / det, 1e-4);
  g_assert_cmpfloat_with_epsilon (inverse[3], hessian[0] / det, 1e-4);
}

static void
test_dense (void)
{
  for (guint64 seed = 1; seed <= 40; seed++)
    check_dense (seed, 3 + seed % 17);
}

static void
check_same_mode (const CalcPooledModel *model,
                 const WbCalcPooled    *warm,
                 const WbCalcPooled    *cold)
{
  for (gsize k = 0; k < 2; k++)
    g_assert_cmpfloat_with_epsilon (calc_pooled_spread (warm, k) / calc_pooled_spread (cold, k), 1.0, 1e-9);
  for (gsize j = 0; j < model->coefficients->len; j++)
    g_assert_cmpfloat_with_epsilon (wb_calc_pooled_get_mean (warm)[j], wb_calc_pooled_get_mean (cold)[j], 1e-8);
  for (gsize i = 0; i < wb_calc_pooled_get_n_points (cold); i++)
    g_assert_cmpfloat_with_epsilon (wb_calc_pooled_get_weight (warm, i), wb_calc_pooled_get_weight (cold, i), 1e-6);
}

static WbCalcPooled *
fit_on (const CalcPooledModel *model,
        const double          *log_spreads,
        const double          *curvature)
{
  WbCalcPooledRows rows = calc_pooled_model_get_rows (model);
  WbCalcPooled *fit;

  g_assert_cmpint (wb_calc_pooled_fit_on (&rows, (const double *) model->y->data, (const double *) model->noise->data,
                                          (const WbCalcPooledCoefficient *) model->coefficients->data, model->coefficients->len,
                                          (const WbCalcPooledFamily *) model->families->data, model->families->len, log_spreads, curvature,
                                          &fit), ==, WB_CALC_OK);
  return fit;
}

/* From anywhere near, from far, and from an earlier fit with fewer rows; with its curvature, with what is none, and with one that is far off. */
static void
test_starts (void)
{
  for (guint64 seed = 1; seed <= 20; seed++)
    {
      g_autoptr (CalcPooledModel) model = random_model (seed, 40);
      g_autoptr (WbCalcPooled) cold = calc_pooled_model_fit (model, NULL);
      g_autoptr (CalcPooledModel) earlier_model = random_model (seed, 30);
      g_autoptr (WbCalcPooled) earlier = calc_pooled_model_fit (earlier_model, NULL);
      const double *mode = wb_calc_pooled_get_log_spreads (cold);
      const double low[] = { mode[0] - 2.0, mode[1] - 1.5 }, high[] = { mode[0] + 3.0, mode[1] + 1.0 };
      const double *starts[] = { mode, low, high, wb_calc_pooled_get_log_spreads (earlier) };
      const double none[] = { 0.0, 0.0, 0.0, 0.0 }, saddle[] = { 3.0, 0.0, 0.0, -2.0 }, off[] = { 90.0, 4.0, 4.0, 0.1 };
      const double *curvatures[] = { wb_calc_pooled_get_curvature (cold), wb_calc_pooled_get_curvature (earlier), none, saddle, off };

      for (gsize s = 0; s < G_N_ELEMENTS (starts); s++)
        {
          g_autoptr (WbCalcPooled) warm = calc_pooled_model_fit (model, starts[s]);

          check_same_mode (model, warm, cold);
        }
      for (gsize c = 0; c < G_N_ELEMENTS (curvatures); c++)
        for (gsize s = 0; s < G_N_ELEMENTS (starts); s++)
          {
            g_autoptr (WbCalcPooled) curved = fit_on (model, starts[s], curvatures[c]);

            check_same_mode (model, curved, cold);
          }
    }
}

/* Opinions that the data contradict by six standard deviations: still a maximum, and told. */
static void
test_contradicted (void)
{
  for (guint64 seed = 1; seed <= 60; seed++)
    {
      g_autoptr (CalcPooledModel) model = random_model (seed, 12 + seed % 9);
      double top, mode[2];

      for (gsize k = 0; k < 2; k++)
        {
          WbCalcPooledFamily *family = &g_array_index (model->families, WbCalcPooledFamily, k);

          family->factor = 0.5;
          family->usual *= exp ((seed >> k) % 2 == 0 ? 3.0 : -3.0);
        }

      g_autoptr (WbCalcPooled) fit = calc_pooled_model_fit (model, NULL);

      memcpy (mode, wb_calc_pooled_get_log_spreads (fit), sizeof mode);
      top = calc_pooled_model_condition (model, mode, NULL, NULL);
      for (gsize k = 0; k < 4; k++)
        {
          double at[] = { mode[0] + (k == 0 ? 1e-3 : k == 1 ? -1e-3 : 0.0), mode[1] + (k == 2 ? 1e-3 : k == 3 ? -1e-3 : 0.0) };

          g_assert_cmpfloat (calc_pooled_model_condition (model, at, NULL, NULL), <, top);
        }
    }
}

static void
test_same_bits (void)
{
  g_autoptr (CalcPooledModel) model = random_model (3, 60);
  g_autoptr (WbCalcPooled) a = calc_pooled_model_fit (model, NULL);
  g_autoptr (WbCalcPooled) b = calc_pooled_model_fit (model, NULL);
  gsize p = model->coefficients->len;
  const gsize both[] = { 2, 9 };
  double of_a[6], of_b[6];

  g_assert_cmpmem (wb_calc_pooled_get_mean (a), p * sizeof (double), wb_calc_pooled_get_mean (b), p * sizeof (double));
  g_assert_cmpmem (wb_calc_pooled_get_log_spreads (a), 16, wb_calc_pooled_get_log_spreads (b), 16);
  for (gsize i = 0; i < wb_calc_pooled_get_n_points (a); i++)
    {
      calc_pooled_ask (a, i, both, 2, of_a, of_a + 2);
      calc_pooled_ask (b, i, both, 2, of_b, of_b + 2);
      g_assert_cmpmem (of_a, sizeof of_a, of_b, sizeof of_b);
    }
}

/* At every point, what the factor that holds what does not move says, against dense matrices there. */
static void
test_points_by_dense_matrices (void)
{
  g_autoptr (CalcPooledModel) model = random_model (2, 60);
  g_autoptr (WbCalcPooled) fit = calc_pooled_model_fit (model, NULL);
  gsize p = model->coefficients->len;
  g_autofree double *mean = g_new (double, p), *covariance = g_new (double, p * p);
  const gsize some[] = { 0, 2, 9, p - 1 };
  double of_fit[20];

  for (gsize i = 0; i < wb_calc_pooled_get_n_points (fit); i++)
    {
      calc_pooled_model_condition (model, wb_calc_pooled_get_point (fit, i), mean, covariance);
      calc_pooled_ask (fit, i, some, 4, of_fit, of_fit + 4);
      for (gsize a = 0; a < 4; a++)
        {
          g_assert_cmpfloat_with_epsilon (of_fit[a], mean[some[a]], 1e-9 * (1.0 + fabs (mean[some[a]])));
          for (gsize b = 0; b < 4; b++)
            g_assert_cmpfloat_with_epsilon (of_fit[4 + 4 * a + b], covariance[some[a] * p + some[b]], 1e-9 * (1.0 + covariance[some[a] * p + some[a]]));
        }
    }
}

/* The model's last coefficient is a member of family 1 in no row. */
static void
test_never_tried (void)
{
  g_autoptr (CalcPooledModel) model = random_model (5, 40);
  g_autoptr (WbCalcPooled) fit = calc_pooled_model_fit (model, NULL);
  const gsize both[] = { model->coefficients->len - 1, 0 };
  double sum = 0.0, mean[2], covariance[4];

  calc_pooled_ask (fit, 0, both, 2, mean, covariance);
  g_assert_cmpfloat (mean[0], ==, 0.0);
  calc_assert_digits ("prior variance", covariance[0], pow (calc_pooled_spread (fit, 1), 2.0), 13);
  g_assert_cmpfloat (covariance[1], ==, 0.0);
  /* The points carry that its spread is uncertain. */
  for (gsize i = 0; i < wb_calc_pooled_get_n_points (fit); i++)
    {
      calc_pooled_ask (fit, i, both, 1, mean, covariance);
      sum += wb_calc_pooled_get_weight (fit, i) * 0.5 * pow (log (covariance[0]) - 2.0 * log (calc_pooled_spread (fit, 1)), 2.0) / 2.0;
    }
  g_assert_cmpfloat_with_epsilon (sum / wb_calc_pooled_get_log_spreads_covariance (fit)[3], 1.0, 0.25);
}

/* No data: the prior, in every figure. */
static void
test_nothing (void)
{
  g_autoptr (CalcPooledModel) model = random_model (1, 0);
  g_autoptr (WbCalcPooled) fit = calc_pooled_model_fit (model, NULL);
  const gsize both[] = { 0, 2 };
  double mean[2], covariance[4], weights = 0.0;

  g_assert_cmpuint (wb_calc_pooled_get_n_families (fit), ==, 2);
  g_assert_cmpuint (wb_calc_pooled_get_n_points (fit), ==, 5);
  calc_assert_digits ("spread", calc_pooled_spread (fit, 0), 0.5, 12);
  calc_assert_digits ("its variance", wb_calc_pooled_get_log_spreads_covariance (fit)[0], 0.64, 8);
  calc_assert_digits ("its variance", wb_calc_pooled_get_log_spreads_covariance (fit)[3], 0.16, 8);
  calc_assert_digits ("density", wb_calc_pooled_get_log_marginal (fit), -log (0.8 * 0.4 * 2.0 * G_PI), 12);
  calc_pooled_ask (fit, 0, both, 2, mean, covariance);
  g_assert_cmpfloat (mean[0], ==, 3.0);
  calc_assert_digits ("stated", covariance[0], 4.0, 13);
  calc_assert_digits ("pooled", covariance[3], 0.25, 12);
  for (gsize i = 0; i < 5; i++)
    weights += wb_calc_pooled_get_weight (fit, i);
  calc_assert_digits ("weights", weights, 1.0, 14);
  for (gsize i = 1; i < 5; i++)
    calc_assert_digits ("a normal's weights", wb_calc_pooled_get_weight (fit, i), 1.0 / 6.0, 6);
  g_assert_cmpfloat (wb_calc_pooled_get_weight (fit, 5), ==, 0.0);
}

/* The order of rows says nothing, a shift goes to a flat level, a unit comes out as it went in. */
static void
test_units (void)
{
  const double unit = 25.4, offset = 1e4;
  g_autoptr (CalcPooledModel) plain = calc_pooled_model_new ();
  g_autoptr (CalcPooledModel) other = calc_pooled_model_new ();
  CalcPooledModel *models[] = { plain, other };
  gsize level = 0, member = 0;
  double mean[2], variance[2], y[24], noise[24];
  WbCalcRandom random;

  wb_calc_random_init (&random, 8, 1);
  for (gsize i = 0; i < 24; i++)
    {
      y[i] = 2.0 + (double) (i % 5) + 0.5 * wb_calc_random_normal (&random);
      noise[i] = 0.2 + wb_calc_random_uniform (&random);
    }
  for (gsize m = 0; m < 2; m++)
    {
      double scale = m == 0 ? 1.0 : unit;
      gsize family = calc_pooled_model_add_family (models[m], scale, 0.5);

      level = calc_pooled_model_add_stated (models[m], 0.0, INFINITY);
      member = calc_pooled_model_add_members (models[m], family, 5);
      for (gsize i = 0; i < 24; i++)
        {
          gsize at = m == 0 ? i : (i * 7 + 5) % 24;

          calc_pooled_model_add_term (models[m], member + at % 5, 1.0);
          calc_pooled_model_add_term (models[m], level, 1.0);
          calc_pooled_model_end_row (models[m], (m == 0 ? 0.0 : offset) + scale * y[at], scale * scale * noise[at]);
        }
    }

  g_autoptr (WbCalcPooled) a = calc_pooled_model_fit (plain, NULL);
  g_autoptr (WbCalcPooled) b = calc_pooled_model_fit (other, NULL);

  calc_assert_digits ("spread", calc_pooled_spread (b, 0), unit * calc_pooled_spread (a, 0), 9);
  calc_pooled_ask (a, 0, &level, 1, &mean[0], &variance[0]);
  calc_pooled_ask (b, 0, &level, 1, &mean[1], &variance[1]);
  calc_assert_digits ("level", mean[1], offset + unit * mean[0], 11);
  calc_assert_digits ("its variance", variance[1], unit * unit * variance[0], 9);
  calc_assert_digits ("member", wb_calc_pooled_get_mean (b)[member], unit * wb_calc_pooled_get_mean (a)[member], 8);
  calc_assert_digits ("density", wb_calc_pooled_get_log_marginal (b), wb_calc_pooled_get_log_marginal (a) - 23.0 * log (unit), 10);
  for (gsize i = 0; i < 3; i++)
    g_assert_cmpfloat_with_epsilon (wb_calc_pooled_get_weight (a, i), wb_calc_pooled_get_weight (b, i), 1e-6);
}

static WbCalcStatus
try_fit (const CalcPooledModel *model,
         const double          *log_spreads)
{
  WbCalcPooled *fit = (WbCalcPooled *) 1;
  WbCalcStatus status = calc_pooled_model_try (model, log_spreads, &fit);

  g_assert_true ((fit == NULL) == (status != WB_CALC_OK));
  wb_calc_pooled_free (fit);
  return status;
}

static void
test_singular (void)
{
  g_autoptr (CalcPooledModel) model = calc_pooled_model_new ();
  gsize a = calc_pooled_model_add_stated (model, 0.0, INFINITY);
  gsize b = calc_pooled_model_add_stated (model, 0.0, INFINITY);

  g_assert_cmpint (try_fit (model, NULL), ==, WB_CALC_UNIDENTIFIED);
  for (gsize i = 0; i < 10; i++)
    {
      calc_pooled_model_add_term (model, a, 1.0 + (double) i);
      calc_pooled_model_add_term (model, b, 3.0 * (1.0 + (double) i));
      calc_pooled_model_end_row (model, (double) i, 0.7);
    }
  /* One column is three times the other. */
  g_assert_cmpint (try_fit (model, NULL), ==, WB_CALC_UNIDENTIFIED);
  /* An opinion on one of them tells them apart. */
  g_array_index (model->coefficients, WbCalcPooledCoefficient, b).sd = 1.0;
  g_assert_cmpint (try_fit (model, NULL), ==, WB_CALC_OK);
}

static void
test_refusals (void)
{
  g_autoptr (CalcPooledModel) model = random_model (2, 20);
  g_autoptr (WbCalcPooled) fit = calc_pooled_model_fit (model, NULL);
  WbCalcPooledCoefficient *coefficient = &g_array_index (model->coefficients, WbCalcPooledCoefficient, 0);
  WbCalcPooledFamily *family = &g_array_index (model->families, WbCalcPooledFamily, 0);
  double *numbers[] = { &g_array_index (model->y, double, 3),     &g_array_index (model->noise, double, 3),
                        &g_array_index (model->value, double, 7), &coefficient->mean,
                        &family->usual,                           &family->factor };
  const double bad_starts[][2] = { { NAN, 0.0 }, { 0.0, INFINITY }, { 0.0, 1e4 } };
  const gsize start[] = { 0, 1 }, outside = model->coefficients->len, inside = 0;
  const double one = 1.0;
  WbCalcPooledRows rows = { 1, start, &outside, &one };
  double mean;

  for (gsize i = 0; i < G_N_ELEMENTS (numbers); i++)
    for (gsize k = 0; k < 3; k++)
      {
        static const double poisons[] = { NAN, INFINITY, -INFINITY };
        double kept = *numbers[i];

        *numbers[i] = poisons[k];
        g_assert_cmpint (try_fit (model, NULL), ==, WB_CALC_BAD_INPUT);
        *numbers[i] = kept;
      }
  for (gsize i = 0; i < G_N_ELEMENTS (bad_starts); i++)
    g_assert_cmpint (try_fit (model, bad_starts[i]), ==, WB_CALC_BAD_INPUT);
  family->factor = 1e7;
  g_assert_cmpint (try_fit (model, NULL), ==, WB_CALC_BAD_INPUT);
  family->factor = 0.8;
  g_array_index (model->noise, double, 3) = 0.0;
  g_assert_cmpint (try_fit (model, NULL), ==, WB_CALC_BAD_INPUT);
  g_array_index (model->noise, double, 3) = 1.0;
  coefficient->sd = 0.0;
  g_assert_cmpint (try_fit (model, NULL), ==, WB_CALC_BAD_INPUT);
  coefficient->sd = NAN;
  g_assert_cmpint (try_fit (model, NULL), ==, WB_CALC_BAD_INPUT);
  coefficient->sd = 1.0;
  coefficient->family = 2;
  g_assert_cmpint (try_fit (model, NULL), ==, WB_CALC_BAD_INPUT);
  coefficient->family = WB_CALC_POOLED_NO_FAMILY;
  g_assert_cmpint (try_fit (model, NULL), ==, WB_CALC_OK);

  g_assert_cmpint (wb_calc_pooled_predict (fit, 0, &rows, &mean, NULL), ==, WB_CALC_BAD_INPUT);
  rows.column = &inside;
  g_assert_cmpint (wb_calc_pooled_predict (fit, 5, &rows, &mean, NULL), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_pooled_predict (fit, 4, &rows, &mean, NULL), ==, WB_CALC_OK);
  rows.n = 0;
  g_assert_cmpint (wb_calc_pooled_predict (fit, 0, &rows, NULL, NULL), ==, WB_CALC_OK);
  wb_calc_pooled_free (NULL);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/calc/pooled/dense-matrices-say-the-same", test_dense);
  g_test_add_func ("/calc/pooled/every-start-ends-at-the-same-mode", test_starts);
  g_test_add_func ("/calc/pooled/a-contradicted-opinion-has-a-mode-too", test_contradicted);
  g_test_add_func ("/calc/pooled/the-same-input-gives-the-same-bits", test_same_bits);
  g_test_add_func ("/calc/pooled/dense-matrices-say-the-same-at-every-point", test_points_by_dense_matrices);
  g_test_add_func ("/calc/pooled/a-level-never-tried-has-its-prior", test_never_tried);
  g_test_add_func ("/calc/pooled/no-rows-leave-the-prior", test_nothing);
  g_test_add_func ("/calc/pooled/order-and-unit-do-not-matter", test_units);
  g_test_add_func ("/calc/pooled/nothing-singular-is-solved", test_singular);
  g_test_add_func ("/calc/pooled/bad-input-is-told", test_refusals);
  return g_test_run ();
}
