/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-growth-layout-private.h"

#include <math.h>
#include <stdlib.h>

#include "wb-calc-growth-start-private.h"

/*
 * Groups that tell their pace, by plain readings at two times or more, that must be there before others may borrow it. With an
 * opinion on how far paces differ one is enough, and one that was short of the wall at a time and at it at another will do.
 */
#define MIN_LENDERS 2

/* A level to begin with where every reading is at the wall, as a multiple of it. */
#define AT_WALL 1.2

#define MAX_COVARIATES 4

/* Readings listed by what holds them: of holder h, items[first[h]] .. items[first[h + 1] - 1]. */
typedef struct
{
  size_t *first;
  size_t *items;
} Listing;

static void
listing_clear (Listing *listing)
{
  free (listing->first);
  free (listing->items);
}

/* Counting sort of n items by holder: stable, so that the caller's order stays within a holder. */
static bool
listing_init (Listing      *listing,
              const size_t *holder,
              size_t        n,
              size_t        n_holders)
{
  listing->first = calloc (n_holders + 2, sizeof *listing->first);
  listing->items = malloc ((n + 1) * sizeof *listing->items);
  if (listing->first == NULL || listing->items == NULL)
    return false;
  /* One place further on, so that after filling first[h] is the beginning again. */
  for (size_t i = 0; i < n; i++)
    listing->first[holder[i] + 2]++;
  for (size_t h = 2; h < n_holders + 2; h++)
    listing->first[h] += listing->first[h - 1];
  for (size_t i = 0; i < n; i++)
    listing->items[listing->first[holder[i] + 1]++] = i;
  return true;
}

static bool
is_finite (const double *x,
           size_t        n)
{
  for (size_t i = 0; i < n; i++)
    if (!isfinite (x[i]))
      return false;
  return true;
}

static WbCalcStatus
check_design (const WbCalcGrowthData *data)
{
  if (data->n_covariates > 0 && data->group_covariate != NULL && !is_finite (data->group_covariate, data->n_groups * data->n_covariates))
    return WB_CALC_BAD_INPUT;
  if (data->n_covariates > MAX_COVARIATES || !is_finite (data->run_covariate, data->n_runs * data->n_covariates))
    return WB_CALC_BAD_INPUT;
  for (size_t j = 0; j < data->n_covariates; j++)
    if (!(data->covariate_sd[j] > 0.0))
      return WB_CALC_BAD_INPUT;
  for (size_t g = 0; g < data->n_groups && data->group_pace != NULL; g++)
    if (data->group_pace[g] >= data->n_paces)
      return WB_CALC_BAD_INPUT;
  if (!data->borrow)
    return WB_CALC_OK;
  if (data->n_columns == 0 || !is_finite (data->group_column, data->n_groups * data->n_columns))
    return WB_CALC_BAD_INPUT;
  for (size_t j = 0; j < data->n_columns; j++)
    if (!(data->column_sd[j] >= 0.0))
      return WB_CALC_BAD_INPUT;
  return WB_CALC_OK;
}

static WbCalcStatus
check (const WbCalcGrowthData *data)
{
  for (size_t i = 0; i < data->n_readings; i++)
    if (!isfinite (data->t[i]) || data->t[i] < 0.0 || !isfinite (data->y[i]) || data->run[i] >= data->n_runs)
      return WB_CALC_BAD_INPUT;
  for (size_t r = 0; r < data->n_runs; r++)
    if (data->run_unit[r] >= data->n_units)
      return WB_CALC_BAD_INPUT;
  for (size_t u = 0; u < data->n_units; u++)
    if (data->unit_group[u] >= data->n_groups)
      return WB_CALC_BAD_INPUT;
  return check_design (data);
}

void
wb_calc_growth_layout_free (WbCalcGrowthLayout *layout)
{
  if (layout == NULL)
    return;
  free (layout->t);
  free (layout->y);
  free (layout->censored);
  free (layout->run_first);
  free (layout->unit_first);
  free (layout->group_first);
  free (layout->group_id);
  free (layout->run_id);
  free (layout->unit_id);
  free (layout->start_level);
  free (layout->start_pace);
  free (layout->first_time);
  free (layout);
}

static WbCalcGrowthLayout *
layout_alloc (const WbCalcGrowthData *data)
{
  WbCalcGrowthLayout *layout = calloc (1, sizeof *layout);

  if (layout == NULL)
    return NULL;
  layout->t = malloc ((data->n_readings + 1) * sizeof *layout->t);
  layout->y = malloc ((data->n_readings + 1) * sizeof *layout->y);
  layout->censored = malloc ((data->n_readings + 1) * sizeof *layout->censored);
  layout->run_first = malloc ((data->n_runs + 1) * sizeof *layout->run_first);
  layout->unit_first = malloc ((data->n_units + 1) * sizeof *layout->unit_first);
  layout->group_first = malloc ((data->n_groups + 1) * sizeof *layout->group_first);
  layout->group_id = malloc ((data->n_groups + 1) * sizeof *layout->group_id);
  layout->run_id = malloc ((data->n_runs + 1) * sizeof *layout->run_id);
  layout->unit_id = malloc ((data->n_units + 1) * sizeof *layout->unit_id);
  layout->start_level = malloc ((data->n_groups + 1) * sizeof *layout->start_level);
  layout->start_pace = malloc ((data->n_groups + 1) * sizeof *layout->start_pace);
  layout->first_time = malloc ((data->n_groups + 1) * sizeof *layout->first_time);
  if (layout->t == NULL || layout->y == NULL || layout->censored == NULL || layout->run_first == NULL
      || layout->unit_first == NULL || layout->group_first == NULL || layout->group_id == NULL
      || layout->run_id == NULL || layout->unit_id == NULL || layout->start_level == NULL || layout->start_pace == NULL
      || layout->first_time == NULL)
    {
      wb_calc_growth_layout_free (layout);
      return NULL;
    }
  return layout;
}

/* Puts the readings of group g behind those already there, and counts; runs and units without readings are left out. */
static void
append_group (WbCalcGrowthLayout     *layout,
              const WbCalcGrowthData *data,
              const Listing           listings[3],
              size_t                  g,
              WbCalcGrowthGroup      *group)
{
  const Listing *units = &listings[0];
  const Listing *runs = &listings[1];
  const Listing *readings = &listings[2];

  for (size_t j = units->first[g]; j < units->first[g + 1]; j++)
    {
      size_t u = units->items[j];
      size_t runs_before = layout->n_runs;

      for (size_t k = runs->first[u]; k < runs->first[u + 1]; k++)
        {
          size_t r = runs->items[k];

          if (readings->first[r] == readings->first[r + 1])
            continue;
          layout->run_id[layout->n_runs] = r;
          layout->run_first[layout->n_runs++] = layout->n_readings;
          for (size_t l = readings->first[r]; l < readings->first[r + 1]; l++)
            {
              size_t i = readings->items[l];
              size_t to = layout->n_readings++;
              bool censored = data->censored != NULL && data->censored[i];

              layout->t[to] = data->t[i];
              layout->y[to] = data->y[i];
              layout->censored[to] = censored;
              group->n_readings++;
              group->n_censored += censored ? 1 : 0;
              if (censored)
                group->lower_bound = fmax (group->lower_bound, data->y[i]);
            }
          group->n_runs++;
        }
      if (layout->n_runs > runs_before)
        {
          layout->unit_id[layout->n_units] = u;
          layout->unit_first[layout->n_units++] = runs_before;
          group->n_units++;
        }
    }
}

/* Takes a group just appended, or drops it again. */
static void
keep_group (WbCalcGrowthLayout      *layout,
            size_t                   g,
            size_t                   first_unit,
            const WbCalcGrowthStart *start,
            const WbCalcGrowthGroup *group)
{
  size_t at = layout->n_groups++;
  double weight = (double) group->n_readings;

  layout->group_first[at] = first_unit;
  layout->group_id[at] = g;
  layout->start_level[at] = log (start->level);
  layout->start_pace[at] = log (start->pace);
  layout->first_time[at] = start->first_time;
  layout->n_plain += group->n_readings - group->n_censored;
  layout->start_sigma += weight * start->sigma * start->sigma;
}

typedef struct
{
  size_t readings;
  size_t runs;
  size_t units;
} Mark;

static void
drop_back (WbCalcGrowthLayout *layout,
           Mark                mark)
{
  layout->n_readings = mark.readings;
  layout->n_runs = mark.runs;
  layout->n_units = mark.units;
}

/* Where a group of censored readings alone begins: a curve at the wall when it was first seen there. */
static bool
start_at_wall (const WbCalcGrowthLayout *layout,
               size_t                    first,
               WbCalcGrowthStart        *start)
{
  double wall = 0.0;

  for (size_t i = first; i < layout->n_readings; i++)
    wall = fmax (wall, layout->y[i]);
  if (!(wall > 0.0))
    return false;
  start->level = AT_WALL * wall;
  start->pace = start->first_time;
  start->sigma = 0.0;
  return true;
}

/*
 * A group with plain readings at one time and others at the wall later: any pace from the
 * quickest that gets there does as well. It begins where one that was at the wall all along does, if that is higher.
 */
static void
start_short_of_wall (const WbCalcGrowthLayout *layout,
                     size_t                    first,
                     WbCalcGrowthStart        *start)
{
  double wall = 0.0, y = 0.0, t = 0.0;
  size_t n = 0;

  for (size_t i = first; i < layout->n_readings; i++)
    if (layout->censored[i])
      wall = fmax (wall, layout->y[i]);
    else if (layout->t[i] > 0.0)
      {
        y += layout->y[i];
        t = layout->t[i];
        n++;
      }
  y /= (double) n;
  if (AT_WALL * wall <= fmax (start->level, y))
    return;
  start->level = AT_WALL * wall;
  start->pace = -t / log1p (-y / start->level);
}

/* Tells how far it grew at one time, and that it was at the wall at another: that is something about its pace. */
static bool
is_bracketed (const WbCalcGrowthStart *start)
{
  return start->n_plain == 1 && start->n_times >= 2;
}

/* Goes through the groups; without `lenders` the ones that need others' pace are left out. */
static size_t
fill (WbCalcGrowthLayout     *layout,
      const WbCalcGrowthData *data,
      const Listing           listings[3],
      WbCalcGrowthGroup      *groups,
      bool                    pace_known,
      bool                    lenders)
{
  size_t n_lenders = 0;

  for (size_t g = 0; g < data->n_groups; g++)
    {
      Mark mark = { layout->n_readings, layout->n_runs, layout->n_units };
      WbCalcGrowthStart start;
      WbCalcGrowthGroup *group = &groups[g];

      *group = (WbCalcGrowthGroup) { .lower_bound = -INFINITY };
      append_group (layout, data, listings, g, group);
      if (group->n_censored == 0)
        group->lower_bound = NAN;
      group->status = wb_calc_growth_start (layout->t + mark.readings,
                                            layout->y + mark.readings,
                                            layout->censored + mark.readings,
                                            group->n_readings,
                                            &start);
      if (group->status == WB_CALC_OK && is_bracketed (&start))
        start_short_of_wall (layout, mark.readings, &start);
      if (group->status == WB_CALC_OK && (start.n_plain >= 2 || (pace_known && is_bracketed (&start))))
        n_lenders++;
      else if (group->status == WB_CALC_OK && !lenders)
        group->status = WB_CALC_TOO_FEW;
      if (group->status == WB_CALC_OK || (group->status == WB_CALC_ONLY_CENSORED && data->borrow && start_at_wall (layout, mark.readings, &start)))
        keep_group (layout, g, mark.units, &start, group);
      else
        drop_back (layout, mark);
    }
  return n_lenders;
}

static void
reset (WbCalcGrowthLayout *layout)
{
  drop_back (layout, (Mark) { 0, 0, 0 });
  layout->n_groups = 0;
  layout->n_plain = 0;
  layout->start_sigma = 0.0;
}

static WbCalcStatus
close (WbCalcGrowthLayout *layout,
       WbCalcGrowthGroup  *groups,
       bool                borrow,
       bool                noise_known)
{
  layout->run_first[layout->n_runs] = layout->n_readings;
  layout->unit_first[layout->n_units] = layout->n_runs;
  layout->group_first[layout->n_groups] = layout->n_units;
  if (layout->n_groups == 0)
    return WB_CALC_TOO_FEW;
  /* a level and a pace each: what is left tells the noise */
  layout->noise_untold = layout->n_plain <= (borrow ? 2 : 2 * layout->n_groups);
  if (layout->noise_untold && !(noise_known && layout->n_plain > 0))
    {
      for (size_t g = 0; g < layout->n_groups; g++)
        groups[layout->group_id[g]].status = WB_CALC_TOO_FEW;
      return WB_CALC_TOO_FEW;
    }
  for (size_t i = 0; i < layout->n_readings; i++)
    layout->scale = fmax (layout->scale, fabs (layout->y[i]));
  layout->start_sigma = sqrt (layout->start_sigma / (double) layout->n_readings);
  return WB_CALC_OK;
}

WbCalcStatus
wb_calc_growth_layout_new (const WbCalcGrowthData *data,
                           bool                    pace_known,
                           bool                    noise_known,
                           WbCalcGrowthGroup      *groups,
                           WbCalcGrowthLayout    **layout)
{
  Listing listings[3] = { { NULL, NULL } };
  WbCalcStatus status = check (data);

  *layout = NULL;
  if (status != WB_CALC_OK)
    return status;
  if (!listing_init (&listings[0], data->unit_group, data->n_units, data->n_groups)
      || !listing_init (&listings[1], data->run_unit, data->n_runs, data->n_units)
      || !listing_init (&listings[2], data->run, data->n_readings, data->n_runs)
      || (*layout = layout_alloc (data)) == NULL)
    status = WB_CALC_NO_MEMORY;
  else
    {
      if (fill (*layout, data, listings, groups, pace_known, true) < (pace_known ? 1 : MIN_LENDERS))
        {
          reset (*layout);
          fill (*layout, data, listings, groups, pace_known, false);
        }
      status = close (*layout, groups, data->borrow, noise_known);
    }
  for (size_t i = 0; i < 3; i++)
    listing_clear (&listings[i]);
  if (status != WB_CALC_OK)
    {
      wb_calc_growth_layout_free (*layout);
      *layout = NULL;
    }
  return status;
}
