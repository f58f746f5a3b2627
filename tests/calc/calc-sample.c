/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "calc-sample.h"

#include "wb-calc-random.h"

CalcSample
calc_sample_draw (guint64 seed)
{
  CalcSample sample;
  WbCalcRandom random;

  wb_calc_random_init (&random, seed, 0);
  for (gsize i = 0; i < CALC_SAMPLE_N; i++)
    {
      sample.x[2 * i] = 3.0 + wb_calc_random_normal (&random);
      sample.x[2 * i + 1] = wb_calc_random_normal (&random);
      sample.y[i] = 20.0 + 2.0 * sample.x[2 * i] - sample.x[2 * i + 1] + wb_calc_random_normal (&random);
      sample.t[i] = (double) (i % 4 + 1);
      sample.weights[i] = 0.5 + wb_calc_random_uniform (&random);
      sample.censored[i] = i % 5 == 4;
      sample.group[i] = i % 3;
    }
  return sample;
}

double
calc_sample_line (const double *beta,
                  gsize         i,
                  double       *gradient,
                  double       *curvature,
                  void         *user)
{
  const CalcSample *sample = user;

  gradient[0] = 1.0;
  gradient[1] = sample->t[i];
  return beta[0] + beta[1] * sample->t[i];
}

double
calc_sample_line_alone (const double *beta,
                        gsize         i,
                        double       *gradient,
                        void         *user)
{
  return calc_sample_line (beta, i, gradient, NULL, user);
}
