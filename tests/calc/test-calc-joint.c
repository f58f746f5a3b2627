/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-joint.h"

#include <math.h>
#include <string.h>

#include <glib.h>
#include <gsl/gsl_errno.h>

#include "calc-pooled-model.h"
#include "wb-calc-random.h"

#define MODELS 3
#define FACTORS 4
#define ASKED 3
#define CLOSE 1e-9

static const gsize factors[FACTORS] = { 0, 1, 2, 3 };

/* A known z of each of two models, by hand. */
static void
test_by_hand (void)
{
  /* Bartlett's weights r / (1 - r²) with the prior: information 1 + 0.64 / 0.36 + 0.36 / 0.64 = 481 / 144, pull 0.8 / 0.36 + 0.6 × 0.5 / 0.64 */
  const double with[2] = { 0.8, 0.6 }, z[2] = { 1.0, 0.5 }, known = 0.0;
  const gsize factor = 0;
  double pull = 0.0, precision = 0.0, mean, root;

  for (guint f = 0; f < 2; f++)
    {
      const WbCalcJointTold told = { 1, &z[f], &known, 1, &with[f], &factor };

      g_assert_cmpint (wb_calc_joint_add (&told, 1, &pull, &precision), ==, WB_CALC_OK);
    }
  g_assert_cmpint (wb_calc_joint_solve (1, &pull, &precision, &mean, &root), ==, WB_CALC_OK);
  g_assert_cmpfloat_with_epsilon (mean, (0.8 / 0.36 + 0.3 / 0.64) * 144 / 481, 1e-14);
  g_assert_cmpfloat_with_epsilon (root * root, 144.0 / 481, 1e-14);
}

/* A level that nobody tried, asked for 2 + 3 z. */
static void
test_nothing_learnt (void)
{
  const double with = 0.5, zero = 0.0, one = 1.0, cross = 3.0;
  const gsize factor = 0;
  const WbCalcJointTold told = { 1, &zero, &one, 1, &with, &factor };
  double pull = 0.0, precision = 0.0, mean = 2.0, variance = 9.0, gain;

  g_assert_cmpint (wb_calc_joint_add (&told, 1, &pull, &precision), ==, WB_CALC_OK);
  g_assert_cmpfloat (pull, ==, 0.0);
  g_assert_cmpfloat (precision, ==, 0.0);
  g_assert_cmpint (wb_calc_joint_condition (&told, &cross, 1, 1, &mean, &variance, 1, &gain), ==, WB_CALC_OK);
  g_assert_cmpfloat_with_epsilon (mean, 2.0, 1e-15);
  g_assert_cmpfloat_with_epsilon (gain, 1.5, 1e-15);
  g_assert_cmpfloat_with_epsilon (variance, 9.0 * 0.75, 1e-14);
}

/* ---- against one fit of all ---- */

/* Three models of the same four levels, read here and there and with errors of their own; by itself, and as a part of one. */
typedef struct
{
  CalcPooledModel *apart[MODELS], *all;
  double           with[MODELS][FACTORS];
  gsize            level[MODELS], level_of_all[MODELS], own_of_all[MODELS], common;
} Small;

static void
add_row (Small *small,
         guint  f,
         const double *x,
         double y,
         double noise)
{
  calc_pooled_model_add_term (small->apart[f], small->level[f], 1.0);
  calc_pooled_model_add_term (small->all, small->level_of_all[f], 1.0);
  for (guint k = 0; k < FACTORS; k++)
    {
      double r = small->with[f][k];

      calc_pooled_model_add_term (small->apart[f], small->level[f] + 1 + k, x[k]);
      calc_pooled_model_add_term (small->all, small->common + k, r * x[k]);
      calc_pooled_model_add_term (small->all, small->own_of_all[f] + k, sqrt (1 - r * r) * x[k]);
    }
  calc_pooled_model_end_row (small->apart[f], y, noise);
  calc_pooled_model_end_row (small->all, y, noise);
}

/* Model 0 hardly read, model 1 sharply, model 2 of the first two levels alone. */
static void
small_init (Small *small)
{
  WbCalcRandom random;

  wb_calc_random_init (&random, 11, 0);
  small->all = calc_pooled_model_new ();
  small->common = calc_pooled_model_add_stated (small->all, 0.0, 1.0);
  for (guint k = 1; k < FACTORS; k++)
    calc_pooled_model_add_stated (small->all, 0.0, 1.0);
  for (guint f = 0; f < MODELS; f++)
    {
      small->apart[f] = calc_pooled_model_new ();
      small->level[f] = calc_pooled_model_add_stated (small->apart[f], 1.0 + f, 3.0);
      small->level_of_all[f] = calc_pooled_model_add_stated (small->all, 1.0 + f, 3.0);
      for (guint k = 0; k < FACTORS; k++)
        {
          gsize own = calc_pooled_model_add_stated (small->all, 0.0, 1.0);

          calc_pooled_model_add_stated (small->apart[f], 0.0, 1.0);
          small->own_of_all[f] = k == 0 ? own : small->own_of_all[f];
          small->with[f][k] = 0.85 - 0.1 * f - 0.05 * k;
        }
      for (guint i = 0; i < (f == 0 ? 2u : 9u); i++)
        {
          double x[FACTORS];

          for (guint k = 0; k < FACTORS; k++)
            x[k] = f == 2 && k > 1 ? 0.0 : wb_calc_random_normal (&random);
          add_row (small, f, x, 2.0 + 2.0 * wb_calc_random_normal (&random), f == 1 ? 1e-6 : 0.3);
        }
    }
}

static void
small_clear (Small *small)
{
  for (guint f = 0; f < MODELS; f++)
    calc_pooled_model_free (small->apart[f]);
  calc_pooled_model_free (small->all);
}

/* What is asked of each model: its level, that with all of its coefficients, and the last of them alone. */
static const double asked[ASKED][1 + FACTORS] = { { 1, 0, 0, 0, 0 }, { 1, 0.5, -1, 2, 0.3 }, { 0, 0, 0, 0, 1 } };

/* Mean and covariance of what is asked and, behind it, of the coefficients, by the model alone. */
static void
ask_apart (const Small *small,
           guint        f,
           double      *mean,
           double      *covariance)
{
  g_autoptr (WbCalcPooled) fit = calc_pooled_model_fit (small->apart[f], NULL);
  gsize start[ASKED + FACTORS + 1] = { 0 }, column[ASKED * (1 + FACTORS) + FACTORS], n = 0;
  double value[G_N_ELEMENTS (column)];
  const WbCalcPooledRows rows = { ASKED + FACTORS, start, column, value };

  for (guint i = 0; i < ASKED + FACTORS; i++)
    {
      for (guint k = 0; k < 1 + FACTORS; k++)
        if (i < ASKED || k == 1 + i - ASKED)
          {
            column[n] = small->level[f] + k;
            value[n++] = i < ASKED ? asked[i][k] : 1.0;
          }
      start[i + 1] = n;
    }
  g_assert_cmpint (wb_calc_pooled_predict (fit, 0, &rows, mean, covariance), ==, WB_CALC_OK);
}

/* The same of all models by the one fit. */
static void
ask_all (const Small *small,
         double      *mean,
         double      *covariance)
{
  g_autoptr (WbCalcPooled) fit = calc_pooled_model_fit (small->all, NULL);
  gsize start[MODELS * ASKED + 1] = { 0 }, column[MODELS * ASKED * (1 + 2 * FACTORS)], n = 0;
  double value[G_N_ELEMENTS (column)];
  const WbCalcPooledRows rows = { MODELS * ASKED, start, column, value };

  for (guint f = 0; f < MODELS; f++)
    for (guint i = 0; i < ASKED; i++)
      {
        column[n] = small->level_of_all[f];
        value[n++] = asked[i][0];
        for (guint k = 0; k < FACTORS; k++)
          {
            double r = small->with[f][k];

            column[n] = small->common + k;
            value[n++] = r * asked[i][1 + k];
            column[n] = small->own_of_all[f] + k;
            value[n++] = sqrt (1 - r * r) * asked[i][1 + k];
          }
        start[f * ASKED + i + 1] = n;
      }
  g_assert_cmpint (wb_calc_pooled_predict (fit, 0, &rows, mean, covariance), ==, WB_CALC_OK);
}

#define ALL (ASKED + FACTORS)

typedef struct { double mean[ALL], covariance[ALL * ALL], gain[ASKED * FACTORS]; } Apart;

/* All models put together, in the order that is given. */
static void
put_together (const Small *small,
              const guint *order,
              Apart       *apart,
              double      *mean,
              double      *root)
{
  double pull[FACTORS] = { 0 }, precision[FACTORS * FACTORS] = { 0 };

  for (guint i = 0; i < MODELS; i++)
    {
      guint f = order[i];
      const WbCalcJointTold told = { FACTORS, apart[f].mean + ASKED, apart[f].covariance + ASKED * ALL + ASKED, ALL, small->with[f], factors };

      ask_apart (small, f, apart[f].mean, apart[f].covariance);
      g_assert_cmpint (wb_calc_joint_add (&told, FACTORS, pull, precision), ==, WB_CALC_OK);
      g_assert_cmpint (wb_calc_joint_condition (&told, apart[f].covariance + ASKED * ALL, ALL, ASKED, apart[f].mean, apart[f].covariance, ALL,
                                                apart[f].gain), ==, WB_CALC_OK);
    }
  g_assert_cmpint (wb_calc_joint_solve (FACTORS, pull, precision, mean, root), ==, WB_CALC_OK);
}

static double
through_factors (const double *one,
                 const double *other,
                 const double *root)
{
  double sum = 0.0;

  for (guint z = 0; z < FACTORS; z++)
    {
      double a = 0.0, b = 0.0;

      for (guint k = 0; k < FACTORS; k++)
        {
          a += one[k] * root[k * FACTORS + z];
          b += other[k] * root[k * FACTORS + z];
        }
      sum += a * b;
    }
  return sum;
}

static void
test_one_fit (void)
{
  static const guint order[MODELS] = { 0, 1, 2 };
  Small small;
  Apart apart[MODELS];
  double mean[FACTORS], root[FACTORS * FACTORS], all_mean[MODELS * ASKED], all[MODELS * ASKED * MODELS * ASKED], moved = 0.0;

  small_init (&small);
  put_together (&small, order, apart, mean, root);
  ask_all (&small, all_mean, all);
  for (guint i = 0; i < MODELS * ASKED; i++)
    {
      const Apart *one = &apart[i / ASKED];
      const double *gain = one->gain + i % ASKED * FACTORS;
      double value = one->mean[i % ASKED], alone[ALL], unused[ALL * ALL];

      for (guint k = 0; k < FACTORS; k++)
        value += gain[k] * mean[k];
      g_assert_cmpfloat_with_epsilon (value, all_mean[i], CLOSE);
      ask_apart (&small, i / ASKED, alone, unused);
      moved = fmax (moved, fabs (value - alone[i % ASKED]));
      for (guint j = 0; j <= i; j++)
        {
          double with = through_factors (gain, apart[j / ASKED].gain + j % ASKED * FACTORS, root);

          if (i / ASKED == j / ASKED)
            with += one->covariance[i % ASKED * ALL + j % ASKED];
          g_assert_cmpfloat_with_epsilon (with, all[i * MODELS * ASKED + j], CLOSE);
        }
    }
  /* and the others had something to say */
  g_assert_cmpfloat (moved, >, 0.2);
  small_clear (&small);
}

static void
test_order (void)
{
  static const guint order[2][MODELS] = { { 0, 1, 2 }, { 2, 0, 1 } };
  Small small;
  Apart apart[MODELS];
  double mean[2][FACTORS], root[2][FACTORS * FACTORS];

  small_init (&small);
  for (guint i = 0; i < 2; i++)
    put_together (&small, order[i], apart, mean[i], root[i]);
  for (guint k = 0; k < FACTORS; k++)
    g_assert_cmpfloat_with_epsilon (mean[0][k], mean[1][k], 1e-12);
  for (guint k = 0; k < FACTORS * FACTORS; k++)
    g_assert_cmpfloat_with_epsilon (root[0][k], root[1][k], 1e-12);
  small_clear (&small);
}

/* Models that have nothing in common are what they are alone, to the bit. */
static void
test_nothing_in_common (void)
{
  static const guint order[MODELS] = { 0, 1, 2 };
  Small small;
  Apart apart[MODELS], alone;
  double mean[FACTORS], root[FACTORS * FACTORS];

  small_init (&small);
  memset (small.with, 0, sizeof small.with);
  put_together (&small, order, apart, mean, root);
  for (guint f = 0; f < MODELS; f++)
    {
      ask_apart (&small, f, alone.mean, alone.covariance);
      for (guint i = 0; i < ASKED; i++)
        {
          g_assert_cmpfloat (apart[f].mean[i], ==, alone.mean[i]);
          for (guint j = 0; j <= i; j++)
            g_assert_cmpfloat (apart[f].covariance[i * ALL + j], ==, alone.covariance[i * ALL + j]);
          for (guint k = 0; k < FACTORS; k++)
            g_assert_cmpfloat (apart[f].gain[i * FACTORS + k], ==, 0.0);
        }
    }
  for (guint k = 0; k < FACTORS; k++)
    g_assert_cmpfloat (mean[k], ==, 0.0);
  small_clear (&small);
}

static void
test_refuses (void)
{
  static const struct { double mean, variance, with; gsize factor; } cases[] = {
    { NAN, 0.5, 0.5, 0 }, { 0, NAN, 0.5, 0 }, { 0, INFINITY, 0.5, 0 }, { 0, -9, 0.5, 0 }, { 0, 0.5, 1, 0 }, { 0, 0.5, -1, 0 }, { 0, 0.5, NAN, 0 }, { 0, 0.5, 0.5, 1 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const WbCalcJointTold told = { 1, &cases[i].mean, &cases[i].variance, 1, &cases[i].with, &cases[i].factor };
      double pull = 0.0, precision = 0.0;

      g_test_message ("case %u", i);
      g_assert_cmpint (wb_calc_joint_add (&told, 1, &pull, &precision), ==, WB_CALC_BAD_INPUT);
      g_assert_cmpfloat (pull, ==, 0.0);
      g_assert_cmpfloat (precision, ==, 0.0);
    }
  {
    const double bad[] = { NAN, -2.0 }, zero = 0.0;
    double mean, root;

    for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
      g_assert_cmpint (wb_calc_joint_solve (1, &zero, &bad[i], &mean, &root), ==, WB_CALC_BAD_INPUT);
    g_assert_cmpint (wb_calc_joint_solve (1, &bad[0], &zero, &mean, &root), ==, WB_CALC_BAD_INPUT);
  }
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/calc/joint/two-known-coefficients-weigh-as-by-hand", test_by_hand);
  g_test_add_func ("/calc/joint/a-model-that-learnt-nothing-says-nothing", test_nothing_learnt);
  g_test_add_func ("/calc/joint/is-what-one-fit-of-all-models-gives", test_one_fit);
  g_test_add_func ("/calc/joint/the-order-of-the-models-does-not-matter", test_order);
  g_test_add_func ("/calc/joint/nothing-in-common-changes-nothing", test_nothing_in_common);
  g_test_add_func ("/calc/joint/what-is-no-distribution-is-refused", test_refuses);
  return g_test_run ();
}
