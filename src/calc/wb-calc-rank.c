/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-rank.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_sort.h>

/* Draws between two questions whether to go on. */
#define DRAWS_A_QUESTION 256

static WbCalcStatus
check (const double            *draws,
       size_t                   n_draws,
       size_t                   n,
       const WbCalcRankOptions *options)
{
  if (!(options->margin >= 0.0) || isinf (options->margin) || isnan (options->nothing))
    return WB_CALC_BAD_INPUT;
  if (n == 0 || n_draws == 0)
    return WB_CALC_TOO_FEW;
  for (size_t k = 0; k < n_draws * n; k++)
    if (!isfinite (draws[k]))
      return WB_CALC_BAD_INPUT;
  return WB_CALC_OK;
}

static WbCalcStatus
result_init (WbCalcRank *result,
             size_t      n,
             size_t      n_draws)
{
  double *room = calloc (n * n + 5 * n, sizeof *room);

  if (room == NULL)
    return WB_CALC_NO_MEMORY;
  *result = (WbCalcRank) {
    .n = n,
    .n_draws = n_draws,
    .rank = room,
    .p_best = room + n * n,
    .p_near = room + n * n + n,
    .expected_loss = room + n * n + 2 * n,
    .expected_rank = room + n * n + 3 * n,
    .mean = room + n * n + 4 * n,
  };
  return WB_CALC_OK;
}

/* Shares the ranks first .. last among those that tie for them; `order` runs from the smallest score up. */
static void
share_ranks (WbCalcRank   *result,
             const size_t *order,
             size_t        first,
             size_t        last)
{
  size_t n = result->n;
  double share = 1.0 / (double) (last - first + 1);

  for (size_t i = first; i <= last; i++)
    for (size_t r = first; r <= last; r++)
      result->rank[order[n - 1 - i] * n + r] += share;
}

static void
add_draw (WbCalcRank              *result,
          const double            *scores,
          const WbCalcRankOptions *options,
          size_t                  *order)
{
  size_t n = result->n;
  size_t tied = 1;

  gsl_sort_index (order, scores, 1, n);
  for (size_t first = 0; first < n;)
    {
      size_t last = first;

      while (last + 1 < n && scores[order[n - 2 - last]] == scores[order[n - 1 - first]])
        last++;
      if (first == 0)
        tied = last + 1;
      share_ranks (result, order, first, last);
      first = last + 1;
    }

  double best = scores[order[n - 1]];

  for (size_t i = 0; i < n; i++)
    result->mean[i] += scores[i];
  if (!(best > options->nothing))
    {
      result->p_none += 1.0;
      return;
    }
  for (size_t i = 0; i < n; i++)
    {
      double loss = best - scores[i];

      result->expected_loss[i] += loss;
      if (loss == 0.0)
        result->p_best[i] += 1.0 / (double) tied;
      if (loss <= options->margin && scores[i] > options->nothing)
        result->p_near[i] += 1.0;
    }
}

static void
finish (WbCalcRank *result)
{
  size_t n = result->n;
  double share = 1.0 / (double) result->n_draws;

  /* The arrays lie one behind the other, rank first. */
  for (size_t k = 0; k < n * n + 5 * n; k++)
    result->rank[k] *= share;
  result->p_none *= share;
  for (size_t i = 0; i < n; i++)
    for (size_t r = 0; r < n; r++)
      result->expected_rank[i] += (double) (r + 1) * result->rank[i * n + r];
}

WbCalcStatus
wb_calc_rank_acceptability (const double            *draws,
                            size_t                   n_draws,
                            size_t                   n,
                            const WbCalcRankOptions *options,
                            WbCalcKeepGoing          keep_going,
                            void                    *user,
                            WbCalcRank              *result)
{
  WbCalcStatus status = check (draws, n_draws, n, options);
  size_t *order;

  memset (result, 0, sizeof *result);
  if (status == WB_CALC_OK)
    status = result_init (result, n, n_draws);
  if (status != WB_CALC_OK)
    return status;
  order = malloc (n * sizeof *order);
  if (order == NULL)
    status = WB_CALC_NO_MEMORY;
  for (size_t k = 0; k < n_draws && status == WB_CALC_OK; k++)
    {
      if (k % DRAWS_A_QUESTION == 0 && keep_going != NULL && !keep_going (user))
        status = WB_CALC_CANCELLED;
      else
        add_draw (result, draws + k * n, options, order);
    }
  free (order);
  if (status == WB_CALC_OK)
    {
      finish (result);
      for (size_t i = 0; i < n; i++)
        if (!isfinite (result->mean[i]) || !isfinite (result->expected_loss[i]))
          status = WB_CALC_BAD_INPUT;
    }
  if (status != WB_CALC_OK)
    wb_calc_rank_clear (result);
  return status;
}

void
wb_calc_rank_clear (WbCalcRank *result)
{
  free (result->rank);
  memset (result, 0, sizeof *result);
}

double
wb_calc_rank_error (double p,
                    size_t n_draws)
{
  if (n_draws == 0 || !(p >= 0.0 && p <= 1.0))
    return NAN;
  return sqrt (p * (1.0 - p) / (double) n_draws);
}
