/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-growth-runs.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "wb-calc-censored.h"
#include "wb-calc-growth-runs-layout-private.h"

#define GRID_STEPS 12
#define MAX_ITERATIONS 200
#define MAX_HALVINGS 30
#define MAX_STEP 0.7          /* of a logarithm: a factor of two */
#define STEP_END 1e-9
#define STEP_TOLERATED 1e-5   /* where steps get lost in rounding */
#define MAX_PACE_SD 1.0       /* beyond it ln tau is no estimate */
#define LEAST_SIGMA 1e-10     /* as a share of the largest reading */
#define START_SIGMA 1e-4      /* likewise, at least */

typedef WbCalcGrowthRunsLayout Layout;

/*
 * ln A at that pace by least squares over the plain readings; a censored one above the
 * curve counts from the second time on. NaN: none above 0. *misfit: the sum of squares
 * left, of what counts.
 */
static double
level_at (Layout *layout,
          size_t  r,
          double  pace,
          double *misfit)
{
  size_t first = layout->run_first[r], last = layout->run_first[r + 1];
  double per_time = exp (-pace), level = 0.0;

  for (size_t i = first; i < last; i++)
    layout->lost[i] = expm1 (-layout->t[i] * per_time);
  for (int round = 0; round < (layout->has_censored[r] ? 3 : 1); round++)
    {
      double products = 0.0, squares = 0.0, all = 0.0;

      for (size_t i = first; i < last; i++)
        {
          double f = -layout->lost[i], y = layout->y[i];

          if (layout->censored[i] && (round == 0 || level * f >= y))
            continue;
          products += f * y;
          squares += f * f;
          all += y * y;
        }
      level = squares > 0.0 ? fmax (products / squares, 0.0) : 0.0;
      *misfit = fmax (all - level * products, 0.0);
    }
  return level > 0.0 ? log (level) : NAN;
}

/* Begins each pace at the best of a grid; returns the sum of squares left there. */
static double
start (Layout *layout)
{
  double all = 0.0;

  for (size_t p = 0; p < layout->n_paces; p++)
    {
      double best = INFINITY, misfit;

      for (int k = 0; k <= GRID_STEPS; k++)
        {
          double pace = layout->low[p] + (layout->high[p] - layout->low[p]) * k / GRID_STEPS, sum = 0.0;

          for (size_t r = layout->pace_first[p]; r < layout->pace_first[p + 1]; r++)
            {
              level_at (layout, r, pace, &misfit);
              sum += misfit;
            }
          if (!(sum < best))
            continue;
          best = sum;
          layout->pace[p] = pace;
        }
      for (size_t r = layout->pace_first[p]; r < layout->pace_first[p + 1]; r++)
        {
          layout->level[r] = level_at (layout, r, layout->pace[p], &misfit);
          layout->flat[r] = isnan (layout->level[r]);
        }
      all += best;
    }
  return all;
}

/* The readings of a run at a point where `lost` stands: its sums, and minus their log likelihood without what depends on sigma alone. */
static double
linearise (Layout *layout,
           size_t  r,
           double  log_level,
           double  pace,
           double  sigma,
           double *sll,
           double *gl)
{
  double level = exp (log_level), per_time = exp (-pace), per_variance = 1.0 / (sigma * sigma);
  double value = 0.0, saa = 0.0, sal = 0.0, ga = 0.0;

  *sll = *gl = 0.0;
  for (size_t i = layout->run_first[r]; i < layout->run_first[r + 1]; i++)
    {
      double share = layout->t[i] * per_time;
      double lost = layout->lost[i];
      double f = -level * lost;
      double g = -level * share * (1.0 + lost);
      double weight = per_variance, score = (f - layout->y[i]) * per_variance;

      if (layout->censored[i])
        {
          WbCalcCensoredReading reading = wb_calc_censored_reading (f, layout->y[i], true, sigma);

          weight = reading.weight;
          score = reading.score;
          value += reading.minus_loglik;
        }
      else
        value += 0.5 * (f - layout->y[i]) * score;
      saa += weight * f * f;
      sal += weight * f * g;
      *sll += weight * g * g;
      ga += score * f;
      *gl += score * g;
    }
  layout->saa[r] = saa;
  layout->sal[r] = sal;
  layout->ga[r] = ga;
  return value;
}

/* All runs of a pace at `levels`: curvature and slope with the levels projected out. */
static double
linearise_pace (Layout *layout,
                size_t  p,
                double *levels,
                double  pace)
{
  double value = 0.0, sigma = exp (layout->log_sigma);

  layout->sll[p] = layout->gl[p] = 0.0;
  for (size_t r = layout->pace_first[p]; r < layout->pace_first[p + 1]; r++)
    {
      double sll, gl, misfit, level;

      layout->saa[r] = layout->sal[r] = layout->ga[r] = 0.0;
      if (layout->flat[r])
        continue;
      level = level_at (layout, r, pace, &misfit);
      /* a level without censored readings is a quotient of sums */
      if (!layout->has_censored[r])
        levels[r] = level;
      if (isnan (levels[r]))
        return INFINITY;
      value += linearise (layout, r, levels[r], pace, sigma, &sll, &gl);
      if (!(layout->saa[r] > 0.0))
        continue;
      layout->sll[p] += sll - layout->sal[r] * layout->sal[r] / layout->saa[r];
      layout->gl[p] += gl - layout->sal[r] / layout->saa[r] * layout->ga[r];
    }
  return value;
}

static double
clamp (double x,
       double low,
       double high)
{
  return fmin (fmax (x, low), high);
}

/* One step of a pace and its runs, as much of it as lowers the value. Returns the largest change asked for; *stuck: none did. */
static double
step (Layout *layout,
      size_t  p,
      bool   *stuck)
{
  double before = linearise_pace (layout, p, layout->level, layout->pace[p]), share = 1.0;
  double move = layout->sll[p] > 0.0 ? -layout->gl[p] / layout->sll[p] : 0.0;
  size_t first = layout->pace_first[p], last = layout->pace_first[p + 1];
  double length, now = layout->pace[p];

  *stuck = false;
  move = clamp (now + clamp (move, -MAX_STEP, MAX_STEP), layout->low[p], layout->high[p]) - now;
  length = fabs (move);
  /* `trial` holds the way that each level would go */
  for (size_t r = first; r < last; r++)
    {
      double way = layout->saa[r] > 0.0 ? -(layout->ga[r] + layout->sal[r] * move) / layout->saa[r] : 0.0;

      layout->trial[r] = layout->has_censored[r] ? clamp (way, -MAX_STEP, MAX_STEP) : 0.0;
      length = fmax (length, fabs (layout->trial[r]));
    }
  if (length <= STEP_END)
    return length;
  for (int halving = 0; halving < MAX_HALVINGS; halving++, share *= 0.5)
    {
      double value;

      for (size_t r = first; r < last; r++)
        layout->level[r] += halving == 0 ? layout->trial[r] : -share * layout->trial[r];
      value = linearise_pace (layout, p, layout->level, now + share * move);
      if (value <= before + 1e-13 * (1.0 + fabs (before)))
        {
          layout->pace[p] = now + share * move;
          return length;
        }
    }
  for (size_t r = first; r < last; r++)
    layout->level[r] -= 2.0 * share * layout->trial[r];
  linearise_pace (layout, p, layout->level, now);
  *stuck = true;
  return length;
}

/*
 * sigma^2 = sum of plain r^2 / (plain + sum of censored z m), m the score of a censored
 * reading in units of sigma: where the likelihood's slope by sigma is 0, the right side
 * taken at the last sigma. *n: readings, a censored one by its information.
 */
static double
find_sigma (const Layout *layout,
            double       *n)
{
  double sigma = exp (layout->log_sigma), squares = 0.0, plain = 0.0, pull = 0.0;

  *n = 0.0;
  for (size_t r = 0; r < layout->n_runs; r++)
    {
      double level = exp (layout->level[r]);

      for (size_t i = layout->run_first[r]; i < layout->run_first[r + 1] && !layout->flat[r]; i++)
        {
          double mu = -level * layout->lost[i];

          if (layout->censored[i])
            {
              WbCalcCensoredReading reading = wb_calc_censored_reading (mu, layout->y[i], true, sigma);

              pull -= reading.score * (mu - layout->y[i]);
              *n += fmin (reading.weight * sigma * sigma, 1.0);
              continue;
            }
          squares += (mu - layout->y[i]) * (mu - layout->y[i]);
          plain += 1.0;
        }
    }
  *n += plain;
  return sqrt (squares / fmax (plain + pull, 0.25 * plain));
}

static WbCalcStatus
search (Layout *layout,
        size_t *iterations,
        double *n)
{
  double change = INFINITY;

  for (*iterations = 0; *iterations < MAX_ITERATIONS; (*iterations)++)
    {
      double longest = 0.0, sigma;
      bool any_stuck = false;

      for (size_t p = 0; p < layout->n_paces; p++)
        {
          bool stuck;

          longest = fmax (longest, step (layout, p, &stuck));
          any_stuck = any_stuck || stuck;
        }
      sigma = find_sigma (layout, n);
      if (!(sigma > LEAST_SIGMA))
        return isnan (sigma) ? WB_CALC_NOT_CONVERGED : WB_CALC_UNIDENTIFIED;
      change = fabs (log (sigma) - layout->log_sigma);
      layout->log_sigma = log (sigma);
      if (longest <= STEP_END && change <= STEP_END)
        return WB_CALC_OK;
      if (any_stuck && longest <= STEP_TOLERATED && change <= STEP_TOLERATED)
        return WB_CALC_OK;
    }
  return change <= STEP_TOLERATED ? WB_CALC_OK : WB_CALC_NOT_CONVERGED;
}

static bool
is_variance (double x)
{
  return x > 0.0 && isfinite (x);
}

/* The answers from the point that was found; `more`: what the degrees of freedom make of a variance. */
static void
tell (Layout           *layout,
      double            more,
      WbCalcGrowthRuns *fit)
{
  for (size_t p = 0; p < layout->n_paces; p++)
    {
      WbCalcGrowthPace *pace = &fit->paces[layout->pace_id[p]];
      double end = 0.01 * (layout->high[p] - layout->low[p]) / GRID_STEPS;

      fit->minus_loglik += linearise_pace (layout, p, layout->level, layout->pace[p]);
      if (layout->pace[p] < layout->low[p] + log (2.0))
        pace->status = WB_CALC_FLAT;
      else if (layout->pace[p] > layout->high[p] - end || !is_variance (more / layout->sll[p])
               || more / layout->sll[p] > MAX_PACE_SD * MAX_PACE_SD)
        pace->status = WB_CALC_UNIDENTIFIED;
      for (size_t r = layout->pace_first[p]; r < layout->pace_first[p + 1]; r++)
        {
          WbCalcGrowthRun *run = &fit->runs[layout->run_id[r]];

          run->status = layout->flat[r] ? WB_CALC_FLAT : is_variance (more / layout->saa[r]) ? pace->status : WB_CALC_UNIDENTIFIED;
          pace->n_runs -= run->status != WB_CALC_OK ? 1 : 0;
          if (run->status != WB_CALC_OK)
            continue;
          run->log_level = layout->level[r] + log (layout->scale);
          run->variance = more / layout->saa[r];
          run->slope = -layout->sal[r] / layout->saa[r];
        }
      if (pace->status != WB_CALC_OK)
        continue;
      pace->log_pace = layout->pace[p] + log (layout->time_scale);
      pace->variance = more / layout->sll[p];
    }
}

/* Levels and paces that are found; *n_plain: the readings that they rest on and are not censored. */
static double
count_taken (const Layout *layout,
             double       *n_plain)
{
  double taken = (double) layout->n_paces;

  *n_plain = 0.0;
  for (size_t r = 0; r < layout->n_runs; r++)
    {
      taken += layout->flat[r] ? 0.0 : 1.0;
      for (size_t i = layout->run_first[r]; i < layout->run_first[r + 1] && !layout->flat[r]; i++)
        *n_plain += layout->censored[i] ? 0.0 : 1.0;
    }
  return taken;
}

static WbCalcStatus
find (Layout           *layout,
      WbCalcGrowthRuns *fit)
{
  double n = 0.0, n_plain, taken, squares;
  WbCalcStatus status;

  if (layout->n_paces == 0)
    return WB_CALC_TOO_FEW;
  squares = start (layout);
  taken = count_taken (layout, &n_plain);
  if ((double) layout->n_readings <= taken || !(n_plain > 0.0))
    return WB_CALC_TOO_FEW;
  layout->log_sigma = log (fmax (sqrt (squares / (double) layout->n_readings), START_SIGMA));
  status = search (layout, &fit->iterations, &n);
  if (status != WB_CALC_OK)
    return status;
  if (!(n > taken))
    return WB_CALC_TOO_FEW;
  fit->df = n - taken;
  fit->sigma = exp (layout->log_sigma) * layout->scale * sqrt (n / fit->df);
  tell (layout, n / fit->df, fit);
  fit->minus_loglik += n_plain * (layout->log_sigma + log (layout->scale) + 0.5 * log (2.0 * M_PI));
  return isfinite (fit->sigma) && isfinite (fit->minus_loglik) ? WB_CALC_OK : WB_CALC_NOT_CONVERGED;
}

WbCalcStatus
wb_calc_growth_fit_runs (const double     *t,
                         const double     *y,
                         const bool       *censored,
                         const size_t     *run,
                         size_t            n_readings,
                         const size_t     *run_pace,
                         size_t            n_runs,
                         size_t            n_paces,
                         WbCalcGrowthRuns *fit)
{
  Layout layout;
  WbCalcStatus status;

  *fit = (WbCalcGrowthRuns) { .n_runs = n_runs, .n_paces = n_paces, .sigma = NAN, .df = NAN };
  status = wb_calc_growth_runs_layout_init (&layout, t, y, censored, run, n_readings, run_pace, fit);
  if (status == WB_CALC_OK)
    status = find (&layout, fit);
  wb_calc_growth_runs_layout_clear (&layout);
  return status;
}

void
wb_calc_growth_runs_clear (WbCalcGrowthRuns *fit)
{
  free (fit->runs);
  free (fit->paces);
  *fit = (WbCalcGrowthRuns) { 0 };
}
