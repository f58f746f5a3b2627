/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-growth.h"

#include <math.h>
#include <stdlib.h>

#include "wb-calc-quantile.h"
#include "wb-calc-random.h"
#include "wb-calc-summary.h"

#define DEFAULT_DRAWS 4096

/* Square root of the 2 x 2 covariance of (ln A, ln tau), and the spread of a new run beside it. */
typedef struct
{
  double level;
  double pace_by_level;
  double pace;
  double fresh;
} Widths;

static WbCalcStatus
widths_of (const WbCalcGrowthGroup *group,
           WbCalcGrowthWhat         what,
           Widths                  *widths)
{
  if (group->status != WB_CALC_OK && group->status != WB_CALC_UNIDENTIFIED)
    return group->status;
  if (what == WB_CALC_GROWTH_NEXT_RUN && isnan (group->between_units_sd))
    return WB_CALC_TOO_FEW;

  double runs = isnan (group->between_runs_sd) ? 0.0 : group->between_runs_sd;

  widths->level = sqrt (group->var_log_level);
  widths->pace_by_level = widths->level > 0.0 ? group->cov / widths->level : 0.0;
  widths->pace = sqrt (fmax (group->var_log_pace - widths->pace_by_level * widths->pace_by_level, 0.0));
  widths->fresh = what == WB_CALC_GROWTH_NEXT_RUN ? hypot (group->between_units_sd, runs) : 0.0;
  return WB_CALC_OK;
}

static void
draw (const WbCalcGrowthGroup *group,
      const Widths            *widths,
      double                   z_level,
      double                   z_pace,
      double                   chi,
      double                   z_new,
      double                  *level,
      double                  *pace)
{
  *level = exp (group->log_level + chi * (widths->level * z_level + widths->fresh * z_new));
  *pace = exp (group->log_pace + chi * (widths->pace_by_level * z_level + widths->pace * z_pace));
}

WbCalcStatus
wb_calc_growth_draw (const WbCalcGrowthGroup *group,
                     WbCalcGrowthWhat         what,
                     double                   z_level,
                     double                   z_pace,
                     double                   chi,
                     double                   z_new,
                     double                  *level,
                     double                  *pace)
{
  Widths widths;
  WbCalcStatus status = widths_of (group, what, &widths);

  if (status != WB_CALC_OK)
    return status;
  if (!isfinite (z_level) || !isfinite (z_pace) || !(chi > 0.0) || isinf (chi) || !isfinite (z_new))
    return WB_CALC_BAD_INPUT;
  draw (group, &widths, z_level, z_pace, chi, z_new, level, pace);
  return WB_CALC_OK;
}

static double
exponent_of (const WbCalcGrowthGroup *group)
{
  return group->exponent > 0.0 ? group->exponent : 1.0;
}

double
wb_calc_growth_bent_value (double level,
                           double pace,
                           double exponent,
                           double t)
{
  if (!(t >= 0.0) || !(pace > 0.0) || !(exponent > 0.0))
    return NAN;
  return -level * expm1 (-(exponent == 1.0 ? t / pace : pow (t / pace, exponent)));
}

double
wb_calc_growth_bent_time (double level,
                          double pace,
                          double exponent,
                          double target)
{
  double share;

  if (isnan (level) || !(pace > 0.0) || !(exponent > 0.0) || !(target > 0.0))
    return NAN;
  if (!(level > target))
    return INFINITY;
  share = -log1p (-target / level);
  return pace * (exponent == 1.0 ? share : pow (share, 1.0 / exponent));
}

/* Equal-chance values of sqrt (df / chi-square (df)) that stand for all: the inverse of the distribution is dear. */
#define N_CHI 256

static void
fill_chi (double  df,
          double *chi)
{
  for (size_t k = 0; k < N_CHI; k++)
    chi[k] = isinf (df) ? 1.0 : sqrt (df / wb_calc_chisq_quantile (((double) k + 0.5) / N_CHI, df));
}

static void
draw_times (const WbCalcGrowthGroup *group,
            const Widths            *widths,
            double                   target,
            uint64_t                 seed,
            size_t                   n_draws,
            double                  *times)
{
  WbCalcRandom random;
  double chi[N_CHI];

  fill_chi (group->df, chi);
  for (size_t k = 0; k < n_draws; k++)
    {
      double level;
      double pace;

      if (k % WB_CALC_RANDOM_BLOCK == 0)
        wb_calc_random_init (&random, seed, k / WB_CALC_RANDOM_BLOCK);

      double z_level = wb_calc_random_normal (&random);
      double z_pace = wb_calc_random_normal (&random);
      double z_new = wb_calc_random_normal (&random);

      draw (group, widths, z_level, z_pace, chi[wb_calc_random_below (&random, N_CHI)], z_new, &level, &pace);
      times[k] = wb_calc_growth_bent_time (level, pace, exponent_of (group), target);
      /* A level beyond the range of a double: the limit of straight growth. */
      if (isnan (times[k]))
        times[k] = isinf (pace) ? INFINITY : 0.0;
    }
}

WbCalcStatus
wb_calc_growth_time_to (const WbCalcGrowthGroup *group,
                        double                   target,
                        WbCalcGrowthWhat         what,
                        double                   coverage,
                        uint64_t                 seed,
                        size_t                   n_draws,
                        WbCalcGrowthTime        *time)
{
  Widths widths;
  WbCalcStatus status = widths_of (group, what, &widths);
  size_t never = 0;

  if (status != WB_CALC_OK)
    return status;
  if (!(target > 0.0) || isinf (target) || !(coverage > 0.0 && coverage < 1.0))
    return WB_CALC_BAD_INPUT;
  if (n_draws == 0)
    n_draws = DEFAULT_DRAWS;

  double *times = malloc (n_draws * sizeof *times);

  if (times == NULL)
    return WB_CALC_NO_MEMORY;
  draw_times (group, &widths, target, seed, n_draws, times);
  wb_calc_summary_sort (times, n_draws);
  while (never < n_draws && isinf (times[n_draws - 1 - never]))
    never++;

  double value = wb_calc_growth_bent_time (exp (group->log_level), exp (group->log_pace), exponent_of (group), target);
  double low = wb_calc_summary_sorted_quantile (times, n_draws, 0.5 * (1.0 - coverage));
  double high = wb_calc_summary_sorted_quantile (times, n_draws, 0.5 * (1.0 + coverage));

  free (times);
  *time = (WbCalcGrowthTime) {
    .never = isinf (value),
    .value = isinf (value) ? NAN : value,
    .low = isinf (low) ? NAN : low,
    .low_never = isinf (low),
    .high = isinf (high) ? NAN : high,
    .high_never = isinf (high),
    .p_never = (double) never / (double) n_draws,
  };
  return WB_CALC_OK;
}

WbCalcStatus
wb_calc_growth_at (const WbCalcGrowthGroup *group,
                   double                   t,
                   WbCalcGrowthWhat         what,
                   double                   coverage,
                   double                  *value,
                   double                  *low,
                   double                  *high)
{
  Widths widths;
  WbCalcStatus status = widths_of (group, what, &widths);

  if (status != WB_CALC_OK)
    return status;
  if (!(t >= 0.0) || isinf (t) || !(coverage > 0.0 && coverage < 1.0))
    return WB_CALC_BAD_INPUT;
  *value = *low = *high = 0.0;
  if (t == 0.0)
    return WB_CALC_OK;

  /* d ln D / d ln tau = -g x / (exp (x) - 1) with x = (t / tau)^g: -g at the start, 0 at the end. */
  double share = pow (t / exp (group->log_pace), exponent_of (group));
  double slope = -exponent_of (group) * share / expm1 (share);
  double variance = group->var_log_level + 2.0 * slope * group->cov + slope * slope * group->var_log_pace
                    + widths.fresh * widths.fresh;
  double reach = wb_calc_student_quantile (0.5 * (1.0 + coverage), group->df) * sqrt (fmax (variance, 0.0));

  *value = wb_calc_growth_bent_value (exp (group->log_level), exp (group->log_pace), exponent_of (group), t);
  *low = *value * exp (-reach);
  *high = *value * exp (reach);
  return WB_CALC_OK;
}
