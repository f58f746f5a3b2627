/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-growth-solve-private.h"

#include <math.h>

/* What is left of one group once runs and units are eliminated. */
typedef struct
{
  double level;       /* diagonal of alpha */
  double mixed;       /* alpha and lambda */
  double pace;        /* diagonal of lambda once alpha is gone too, without the pull of lambda0 */
  double level_right; /* right sides, lambda's once alpha is gone */
  double pace_right;
} Reduced;

/* Eliminates the runs of unit u, then the unit. */
static void
reduce_unit (const WbCalcGrowthLayout    *layout,
             const WbCalcGrowthStiffness *stiff,
             WbCalcGrowthMode            *mode,
             size_t                       g,
             size_t                       u,
             Reduced                     *reduced)
{
  const WbCalcGrowthPoint *now = &mode->now;
  double unit = now->m[u] - now->alpha[g];
  double hold = 0.0;
  double pace = 0.0;
  double right = 0.0;

  for (size_t r = layout->unit_first[u]; r < layout->unit_first[u + 1]; r++)
    {
      double run = now->a[r] - now->m[u];
      double pivot = now->saa[r] + stiff->runs;

      mode->pivot_run[r] = pivot;
      hold += stiff->runs * now->saa[r] / pivot;
      pace += stiff->runs * now->sal[r] / pivot;
      right += stiff->runs * (run * now->saa[r] - now->ga[r]) / pivot;
      reduced->pace += now->sll[r] - now->sal[r] * now->sal[r] / pivot;
      reduced->pace_right += now->sal[r] * (now->ga[r] + stiff->runs * run) / pivot - now->gl[r];
    }

  double pivot = hold + stiff->units;

  mode->pivot_unit[u] = pivot;
  mode->unit_pace[u] = pace;
  mode->unit_right[u] = right;
  reduced->level += stiff->units * hold / pivot;
  reduced->mixed += stiff->units * pace / pivot;
  reduced->pace -= pace * pace / pivot;
  reduced->level_right += stiff->units * (unit * hold + right) / pivot;
  reduced->pace_right -= pace * (right - stiff->units * unit) / pivot;
}

static Reduced
reduce_group (const WbCalcGrowthLayout    *layout,
              const WbCalcGrowthStiffness *stiff,
              WbCalcGrowthMode            *mode,
              size_t                       g)
{
  Reduced reduced = { 0.0 };
  double lambda = mode->now.lambda[g];

  for (size_t u = layout->group_first[g]; u < layout->group_first[g + 1]; u++)
    reduce_unit (layout, stiff, mode, g, u, &reduced);
  reduced.pace = fmax (reduced.pace - reduced.mixed * reduced.mixed / reduced.level, 0.0);
  reduced.pace_right -= reduced.mixed / reduced.level * reduced.level_right
                        + stiff->paces * (lambda - mode->now.lambda0);
  return reduced;
}

/* Has the pace run against its bound, with the step pressing further? */
static bool
is_pinned (const WbCalcGrowthLayout *layout,
           double                    lambda,
           double                    right)
{
  return (lambda <= layout->low_pace && right <= 0.0) || (lambda >= layout->high_pace && right >= 0.0);
}

/* Steps of units and runs of group g once those of alpha and lambda are known. */
static void
substitute (const WbCalcGrowthLayout    *layout,
            const WbCalcGrowthStiffness *stiff,
            WbCalcGrowthMode            *mode,
            size_t                       g)
{
  const WbCalcGrowthPoint *now = &mode->now;
  WbCalcGrowthPoint *step = &mode->step;

  for (size_t u = layout->group_first[g]; u < layout->group_first[g + 1]; u++)
    {
      double unit = now->m[u] - now->alpha[g];

      step->m[u] = (mode->unit_right[u] + stiff->units * (step->alpha[g] - unit)
                    - mode->unit_pace[u] * step->lambda[g])
                   / mode->pivot_unit[u];
      for (size_t r = layout->unit_first[u]; r < layout->unit_first[u + 1]; r++)
        step->a[r] = (stiff->runs * (step->m[u] - (now->a[r] - now->m[u])) - now->ga[r]
                      - now->sal[r] * step->lambda[g])
                     / mode->pivot_run[r];
    }
}

static double
log_pivots (const WbCalcGrowthLayout *layout,
            const WbCalcGrowthMode   *mode)
{
  double sum = 0.0;

  for (size_t r = 0; r < layout->n_runs; r++)
    sum += log (mode->pivot_run[r]);
  for (size_t u = 0; u < layout->n_units; u++)
    sum += log (mode->pivot_unit[u]);
  return sum;
}

bool
wb_calc_growth_solve (const WbCalcGrowthLayout    *layout,
                      const WbCalcGrowthStiffness *stiff,
                      WbCalcGrowthMode            *mode,
                      double                      *log_det)
{
  WbCalcGrowthPoint *step = &mode->step;
  double common = 0.0;
  double common_right = 0.0;
  double sum = 0.0;

  for (size_t g = 0; g < layout->n_groups; g++)
    {
      Reduced reduced = reduce_group (layout, stiff, mode, g);
      double full = reduced.pace + stiff->paces;
      double tilt = reduced.mixed / reduced.level;

      if (!(reduced.level > 0.0) || !(full > 0.0))
        return false;
      sum += log (reduced.level) + log (full);
      mode->var_pace[g] = 1.0 / full;
      mode->cov[g] = -tilt / full;
      mode->var_level[g] = 1.0 / reduced.level + tilt * tilt / full;
      common += stiff->paces * reduced.pace / full;
      common_right += stiff->paces * (mode->now.lambda[g] - mode->now.lambda0 + reduced.pace_right / full);
      /* Kept for the second pass, when the common step is known. */
      step->lambda[g] = reduced.pace_right;
      step->alpha[g] = reduced.level_right / reduced.level;
    }

  step->lambda0 = 0.0;
  if (layout->n_groups > 1)
    {
      if (!(common > 0.0))
        return false;
      step->lambda0 = common_right / common;
      sum += log (common);
    }
  for (size_t g = 0; g < layout->n_groups; g++)
    {
      double tilt = -mode->cov[g] / mode->var_pace[g];
      double right = step->lambda[g];
      double lent = layout->n_groups > 1 ? stiff->paces * stiff->paces / common : 0.0;
      double var_pace = mode->var_pace[g];
      double cov = mode->cov[g];

      step->lambda[g] = is_pinned (layout, mode->now.lambda[g], right)
                            ? 0.0
                            : (right + stiff->paces * step->lambda0) * var_pace;
      step->alpha[g] -= tilt * step->lambda[g];
      mode->var_level[g] += lent * cov * cov;
      mode->cov[g] += lent * cov * var_pace;
      mode->var_pace[g] += lent * var_pace * var_pace;
      substitute (layout, stiff, mode, g);
    }
  *log_det = sum + log_pivots (layout, mode);
  return true;
}
