/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-growth-start-private.h"

#include <math.h>

#define GRID_STEPS 60
#define MIN_SIGMA_SHARE 1e-4

typedef struct
{
  const double *t;
  const double *y;
  const bool *censored;
  size_t n;
} Readings;

static bool
is_censored (const Readings *readings,
             size_t          i)
{
  return readings->censored != NULL && readings->censored[i];
}

/* Does reading i press on a curve of this level and pace? Plain ones always do. */
static bool
presses (const Readings *readings,
         size_t          i,
         double          level,
         double          pace)
{
  return !is_censored (readings, i) || -level * expm1 (-readings->t[i] / pace) < readings->y[i];
}

/* A at a given tau; two rounds, so that censored readings below the curve drop out. */
static double
level_at (const Readings *readings,
          double          pace)
{
  double level = 0.0;

  for (int round = 0; round < 4; round++)
    {
      double products = 0.0;
      double squares = 0.0;

      for (size_t i = 0; i < readings->n; i++)
        {
          double shape = -expm1 (-readings->t[i] / pace);

          if (round > 0 && !presses (readings, i, level, pace))
            continue;
          products += shape * readings->y[i];
          squares += shape * shape;
        }
      if (squares > 0.0)
        level = products / squares;
    }
  return level;
}

static double
misfit (const Readings *readings,
        double          level,
        double          pace)
{
  double sum = 0.0;

  for (size_t i = 0; i < readings->n; i++)
    if (presses (readings, i, level, pace))
      {
        double residual = readings->y[i] + level * expm1 (-readings->t[i] / pace);

        sum += residual * residual;
      }
  return sum;
}

static void
count_time (double  t,
            double *seen,
            size_t *count)
{
  if (t > 0.0 && *count < 2 && !(*count == 1 && t == *seen))
    {
      *seen = t;
      (*count)++;
    }
}

/* Times, scale and what is there at all. */
static WbCalcStatus
survey (const Readings    *readings,
        WbCalcGrowthStart *start,
        double            *scale)
{
  double seen = 0.0;
  double seen_plain = 0.0;
  double sum = 0.0;
  size_t plain = 0;

  *start = (WbCalcGrowthStart) { .first_time = INFINITY };
  *scale = 0.0;
  for (size_t i = 0; i < readings->n; i++)
    {
      double t = readings->t[i];

      if (!isfinite (t) || t < 0.0 || !isfinite (readings->y[i]))
        return WB_CALC_BAD_INPUT;
      *scale = fmax (*scale, fabs (readings->y[i]));
      count_time (t, &seen, &start->n_times);
      start->last_time = fmax (start->last_time, t);
      if (t > 0.0)
        start->first_time = fmin (start->first_time, t);
      if (is_censored (readings, i))
        continue;
      plain++;
      count_time (t, &seen_plain, &start->n_plain);
      sum += t > 0.0 ? readings->y[i] : 0.0;
    }
  if (start->n_times == 0)
    return WB_CALC_TOO_FEW;
  if (plain == 0)
    return WB_CALC_ONLY_CENSORED;
  return sum > 0.0 && *scale > 0.0 ? WB_CALC_OK : WB_CALC_FLAT;
}

WbCalcStatus
wb_calc_growth_start (const double      *t,
                      const double      *y,
                      const bool        *censored,
                      size_t             n,
                      WbCalcGrowthStart *start)
{
  Readings readings = { t, y, censored, n };
  double scale;
  WbCalcStatus status = survey (&readings, start, &scale);

  if (status != WB_CALC_OK)
    return status;

  double low = log (start->first_time / (2.0 * WB_CALC_GROWTH_FLAT_TIMES));
  double high = log (start->last_time * WB_CALC_GROWTH_STRAIGHT_TIMES);
  double best = INFINITY;

  for (int k = 0; k <= GRID_STEPS; k++)
    {
      double pace = exp (low + (high - low) * k / GRID_STEPS);
      double level = level_at (&readings, pace);
      double sum = misfit (&readings, level, pace);

      if (!(level > 0.0) || !(sum < best))
        continue;
      best = sum;
      start->level = level;
      start->pace = pace;
      start->straight = k == GRID_STEPS;
    }
  if (isinf (best))
    return WB_CALC_FLAT;
  start->sigma = fmax (sqrt (best / (double) n), MIN_SIGMA_SHARE * scale);
  return WB_CALC_OK;
}
