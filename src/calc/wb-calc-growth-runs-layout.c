/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-growth-runs-layout-private.h"

#include <math.h>
#include <stdlib.h>

#include "wb-calc-growth-start-private.h"

#define LEAST_LOG_PACE (-600.0)

typedef WbCalcGrowthRunsLayout Layout;

void
wb_calc_growth_runs_layout_clear (Layout *layout)
{
  free (layout->t);
  free (layout->censored);
  free (layout->run_first);
}

static bool
layout_alloc (Layout *layout,
              size_t  n_readings,
              size_t  n_runs,
              size_t  n_paces)
{
  double *room = calloc (3 * n_readings + 5 * n_runs + 5 * n_paces + 1, sizeof *room);
  size_t *indexes = calloc (2 * (n_runs + 1) + 2 * (n_paces + 1), sizeof *indexes);

  *layout = (Layout) { .t = room, .run_first = indexes, .censored = calloc (n_readings + 2 * n_runs + 1, sizeof (bool)) };
  if (room == NULL || indexes == NULL || layout->censored == NULL)
    return false;
  layout->has_censored = layout->censored + n_readings;
  layout->flat = layout->has_censored + n_runs;
  layout->y = layout->t + n_readings;
  layout->lost = layout->y + n_readings;
  layout->level = layout->lost + n_readings;
  layout->trial = layout->level + n_runs;
  layout->saa = layout->trial + n_runs;
  layout->sal = layout->saa + n_runs;
  layout->ga = layout->sal + n_runs;
  layout->pace = layout->ga + n_runs;
  layout->sll = layout->pace + n_paces;
  layout->gl = layout->sll + n_paces;
  layout->low = layout->gl + n_paces;
  layout->high = layout->low + n_paces;
  layout->pace_first = layout->run_first + n_runs + 1;
  layout->run_id = layout->pace_first + n_paces + 1;
  layout->pace_id = layout->run_id + n_runs + 1;
  return true;
}

/* Items listed by what holds them, in their order: of holder h, items[first[h]] .. items[first[h + 1] - 1]. */
static size_t *
list_by (const size_t *holder,
         size_t        n,
         size_t        n_holders)
{
  size_t *first = calloc (n_holders + 2 + n, sizeof *first);

  if (first == NULL)
    return NULL;
  /* One place further on, so that after filling first[h] is the beginning again. */
  for (size_t i = 0; i < n; i++)
    first[holder[i] + 2]++;
  for (size_t h = 2; h < n_holders + 2; h++)
    first[h] += first[h - 1];
  for (size_t i = 0; i < n; i++)
    first[n_holders + 2 + first[holder[i] + 1]++] = i;
  return first;
}

/* What is there of a run: its status but for the pace, its counts; its plain times above 0 widen the pace's. */
static void
survey_run (const double    *t,
            const double    *y,
            const bool      *censored,
            const size_t    *items,
            size_t           n,
            WbCalcGrowthRun *run,
            double          *first,
            double          *last,
            bool            *two_times)
{
  double seen = NAN, sum = 0.0;
  size_t plain = 0, later = 0;

  *run = (WbCalcGrowthRun) { .log_level = NAN, .variance = NAN, .slope = NAN, .lower_bound = NAN, .n_readings = n };
  for (size_t k = 0; k < n; k++)
    {
      size_t i = items[k];
      bool is_censored = censored != NULL && censored[i];

      run->n_censored += is_censored ? 1 : 0;
      if (is_censored)
        run->lower_bound = fmax (run->lower_bound, y[i]);
      if (!(t[i] > 0.0))
        continue;
      later++;
      if (is_censored)
        continue;
      plain++;
      sum += y[i];
      *first = fmin (*first, t[i]);
      *last = fmax (*last, t[i]);
      *two_times = *two_times || (!isnan (seen) && t[i] != seen);
      seen = t[i];
    }
  run->status = later == 0 ? WB_CALC_TOO_FEW : plain == 0 ? WB_CALC_ONLY_CENSORED : sum > 0.0 ? WB_CALC_OK : WB_CALC_FLAT;
}

/* Copies the readings of a run that can be told behind those already there. */
static void
append_run (Layout       *layout,
            const double *t,
            const double *y,
            const bool   *censored,
            const size_t *items,
            size_t        n,
            size_t        id)
{
  size_t at = layout->n_runs++;

  layout->run_id[at] = id;
  layout->run_first[at] = layout->n_readings;
  for (size_t k = 0; k < n; k++)
    {
      size_t i = items[k], to = layout->n_readings++;

      layout->t[to] = t[i] / layout->time_scale;
      layout->y[to] = y[i] / layout->scale;
      layout->censored[to] = censored != NULL && censored[i];
      layout->has_censored[at] = layout->has_censored[at] || layout->censored[to];
    }
  layout->run_first[layout->n_runs] = layout->n_readings;
}

typedef struct
{
  const double *t;
  const double *y;
  const bool   *censored;
  size_t       *by_run;  /* list_by */
  size_t       *by_pace;
  size_t        n_runs, n_paces;
} Listing;

/* One pace with its runs, if it can be told. */
static void
append_pace (Layout           *layout,
             const Listing    *list,
             size_t            p,
             WbCalcGrowthRuns *fit)
{
  const size_t *readings = list->by_run + list->n_runs + 2, *runs = list->by_pace + list->n_paces + 2;
  double first = INFINITY, last = 0.0;
  bool two_times = false;

  for (size_t k = list->by_pace[p]; k < list->by_pace[p + 1]; k++)
    survey_run (list->t, list->y, list->censored, readings + list->by_run[runs[k]],
                list->by_run[runs[k] + 1] - list->by_run[runs[k]], &fit->runs[runs[k]], &first, &last, &two_times);
  fit->paces[p] = (WbCalcGrowthPace) { two_times ? WB_CALC_OK : WB_CALC_TOO_FEW, NAN, NAN, 0 };
  if (two_times)
    {
      layout->pace_id[layout->n_paces] = p;
      layout->pace_first[layout->n_paces] = layout->n_runs;
    }
  for (size_t k = list->by_pace[p]; k < list->by_pace[p + 1]; k++)
    {
      WbCalcGrowthRun *run = &fit->runs[runs[k]];

      if (run->status == WB_CALC_OK && !two_times)
        run->status = WB_CALC_TOO_FEW;
      if (run->status == WB_CALC_OK)
        append_run (layout, list->t, list->y, list->censored, readings + list->by_run[runs[k]], run->n_readings, runs[k]);
    }
  if (!two_times)
    return;
  if (layout->n_runs == layout->pace_first[layout->n_paces])
    {
      fit->paces[p].status = WB_CALC_FLAT;
      return;
    }
  fit->paces[p].n_runs = layout->n_runs - layout->pace_first[layout->n_paces];
  layout->low[layout->n_paces] = fmax (log (first / layout->time_scale / (2.0 * WB_CALC_GROWTH_FLAT_TIMES)), LEAST_LOG_PACE);
  layout->high[layout->n_paces] = log (last / layout->time_scale * WB_CALC_GROWTH_STRAIGHT_TIMES);
  layout->pace_first[++layout->n_paces] = layout->n_runs;
}

static WbCalcStatus
check (const double *t,
       const double *y,
       const size_t *run,
       size_t        n_readings,
       const size_t *run_pace,
       size_t        n_runs,
       size_t        n_paces,
       Layout       *layout)
{
  for (size_t i = 0; i < n_readings; i++)
    {
      if (!isfinite (t[i]) || t[i] < 0.0 || !isfinite (y[i]) || run[i] >= n_runs)
        return WB_CALC_BAD_INPUT;
      layout->scale = fmax (layout->scale, fabs (y[i]));
      layout->time_scale = fmax (layout->time_scale, t[i]);
    }
  for (size_t r = 0; r < n_runs; r++)
    if (run_pace[r] >= n_paces)
      return WB_CALC_BAD_INPUT;
  return WB_CALC_OK;
}

WbCalcStatus
wb_calc_growth_runs_layout_init (Layout           *layout,
                                 const double     *t,
                                 const double     *y,
                                 const bool       *censored,
                                 const size_t     *run,
                                 size_t            n_readings,
                                 const size_t     *run_pace,
                                 WbCalcGrowthRuns *fit)
{
  Listing list = { .t = t, .y = y, .censored = censored, .n_runs = fit->n_runs, .n_paces = fit->n_paces };
  double scale, time_scale;
  WbCalcStatus status;

  *layout = (Layout) { 0 };
  status = check (t, y, run, n_readings, run_pace, fit->n_runs, fit->n_paces, layout);
  if (status != WB_CALC_OK)
    return status;
  scale = layout->scale;
  time_scale = layout->time_scale;
  fit->runs = calloc (fit->n_runs + 1, sizeof *fit->runs);
  fit->paces = calloc (fit->n_paces + 1, sizeof *fit->paces);
  list.by_run = list_by (run, n_readings, fit->n_runs);
  list.by_pace = list_by (run_pace, fit->n_runs, fit->n_paces);
  if (!layout_alloc (layout, n_readings, fit->n_runs, fit->n_paces) || fit->runs == NULL || fit->paces == NULL || list.by_run == NULL
      || list.by_pace == NULL)
    status = WB_CALC_NO_MEMORY;
  layout->scale = scale > 0.0 ? scale : 1.0;
  layout->time_scale = time_scale > 0.0 ? time_scale : 1.0;
  for (size_t p = 0; p < fit->n_paces && status == WB_CALC_OK; p++)
    append_pace (layout, &list, p, fit);
  free (list.by_run);
  free (list.by_pace);
  return status;
}
