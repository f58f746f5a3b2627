/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-ordinal-density-private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct
{
  size_t unit;
  size_t group;
  size_t rating;
} Observation;

static int
compare_sizes (size_t a,
               size_t b)
{
  return a < b ? -1 : (a > b ? 1 : 0);
}

static int
compare_observations (const void *a,
                      const void *b)
{
  const Observation *left = a;
  const Observation *right = b;
  int order = compare_sizes (left->unit, right->unit);

  if (order == 0)
    order = compare_sizes (left->group, right->group);
  return order != 0 ? order : compare_sizes (left->rating, right->rating);
}

/* Merges the categories beyond the ratings seen. */
static void
merge_categories (WbCalcOrdinalDensity    *density,
                  const WbCalcOrdinalData *data,
                  double                   weight)
{
  density->lowest = data->rating[0];
  density->highest = data->rating[0];
  for (size_t i = 1; i < data->n; i++)
    {
      if (data->rating[i] < density->lowest)
        density->lowest = data->rating[i];
      if (data->rating[i] > density->highest)
        density->highest = data->rating[i];
    }
  density->n_below = density->lowest;
  density->n_above = data->n_categories - 1 - density->highest;
  for (size_t k = density->lowest; k <= density->highest; k++)
    density->weight[k - density->lowest + (density->n_below > 0 ? 1 : 0)] = weight;
  density->n_categories = density->highest - density->lowest + 1;
  if (density->n_below > 0)
    {
      density->weight[0] = weight * (double) density->n_below;
      density->n_categories++;
    }
  if (density->n_above > 0)
    density->weight[density->n_categories++] = weight * (double) density->n_above;
}

/* Sorted observations become pairs and entries; units are numbered anew in their order. */
static void
count_entries (WbCalcOrdinalDensity *density,
               const Observation    *sorted,
               size_t                n)
{
  size_t shift = density->n_below > 0 ? 1 : 0;
  size_t n_entries = 0;

  for (size_t i = 0; i < n; i++)
    {
      const Observation *now = &sorted[i];
      bool same_unit = i > 0 && now->unit == sorted[i - 1].unit;
      bool same_pair = same_unit && now->group == sorted[i - 1].group;
      size_t category = now->rating - density->lowest + shift;

      density->n_units_seen += same_unit ? 0 : 1;
      if (!same_pair)
        density->pairs[density->n_pairs++]
            = (WbCalcOrdinalPair) { density->n_units_seen - 1, now->group, n_entries, 0 };
      if (!same_pair || now->rating != sorted[i - 1].rating)
        {
          density->entries[n_entries++] = (WbCalcOrdinalEntry) { category, 0.0 };
          density->pairs[density->n_pairs - 1].n++;
        }
      density->entries[n_entries - 1].count += 1.0;
      density->count[category] += 1.0;
    }
}

static void
find_units_alone (WbCalcOrdinalDensity *density)
{
  /* eta is work: here it counts the units of a group. */
  density->units_alone = density->n_pairs == density->n_units_seen;
  for (size_t i = 0; i < density->n_pairs; i++)
    if ((density->eta[density->pairs[i].group] += 1.0) > 1.0)
      density->units_alone = false;
}

/* Columns centred at the observations and divided by their spread over the groups. */
static void
scale_columns (WbCalcOrdinalDensity    *density,
               const WbCalcOrdinalData *data,
               double                   slope_sd)
{
  size_t p = data->n_columns;

  for (size_t j = 0; j < p; j++)
    {
      double first = data->x[j];
      double centre = 0.0;
      double mean = 0.0;
      double square = 0.0;

      /* Measured from the first value: a column far from 0 keeps its digits. */
      for (size_t i = 0; i < data->n; i++)
        centre += (data->x[data->group[i] * p + j] - first) / (double) data->n;
      for (size_t g = 0; g < data->n_groups; g++)
        mean += (data->x[g * p + j] - first) / (double) data->n_groups;
      for (size_t g = 0; g < data->n_groups; g++)
        square += pow (data->x[g * p + j] - first - mean, 2.0);
      density->centre[j] = first + centre;
      density->column_scale[j] = square > 0.0 ? slope_sd / sqrt (square / (double) data->n_groups) : slope_sd;
      for (size_t g = 0; g < data->n_groups; g++)
        density->x[g * p + j] = (data->x[g * p + j] - first - centre) * density->column_scale[j];
    }
}

/* The threshold whose pooled chance is nearest to a half. */
static size_t
find_anchor (const WbCalcOrdinalDensity *density,
             double                      n)
{
  size_t anchor = 0;
  double nearest = INFINITY;
  double below = 0.0;

  for (size_t m = 0; m + 1 < density->n_categories; m++)
    {
      below += density->count[m];
      if (fabs (below / n - 0.5) < nearest)
        {
          nearest = fabs (below / n - 0.5);
          anchor = m;
        }
    }
  return anchor;
}

static void
lay_out (WbCalcOrdinalDensity *density)
{
  size_t at = density->n_categories - 1;

  density->slopes = at;
  at += density->n_columns;
  density->log_group = at;
  at += density->between_groups.median > 0.0 ? 1 : 0;
  density->log_unit = at;
  at += density->between_units.median > 0.0 ? 1 : 0;
  density->group_deviates = at;
  at += density->between_groups.median > 0.0 ? density->n_groups : 0;
  density->unit_deviates = at;
  at += density->between_units.median > 0.0 ? density->n_units_seen : 0;
  density->n = at;
}

WbCalcStatus
wb_calc_ordinal_density_init (WbCalcOrdinalDensity     *density,
                              const WbCalcOrdinalData  *data,
                              const WbCalcOrdinalPrior *prior)
{
  size_t p = data->n_columns;
  size_t n_numbers = 2 * data->n_groups + 2 * p + data->n_groups * p;
  Observation *sorted = calloc (data->n, sizeof *sorted);

  *density = (WbCalcOrdinalDensity) {
    .n_groups = data->n_groups,
    .n_columns = p,
    .between_groups = prior->between_groups,
    .between_units = prior->between_units,
    .entries = calloc (data->n, sizeof *density->entries),
    .pairs = calloc (data->n, sizeof *density->pairs),
    .eta = calloc (n_numbers, sizeof (double)),
  };
  if (sorted == NULL || density->entries == NULL || density->pairs == NULL || density->eta == NULL)
    {
      free (sorted);
      return WB_CALC_NO_MEMORY;
    }
  density->eta_gradient = density->eta + data->n_groups;
  density->centre = density->eta_gradient + data->n_groups;
  density->column_scale = density->centre + p;
  density->x = density->column_scale + p;

  merge_categories (density, data,
                    prior->category_weight > 0.0 ? prior->category_weight : 1.0 / (double) data->n_categories);
  for (size_t i = 0; i < data->n; i++)
    sorted[i] = (Observation) { data->unit[i], data->group[i], data->rating[i] };
  qsort (sorted, data->n, sizeof *sorted, compare_observations);
  count_entries (density, sorted, data->n);
  find_units_alone (density);
  free (sorted);
  density->anchor = find_anchor (density, (double) data->n);
  scale_columns (density, data, prior->slope_sd);
  lay_out (density);
  return WB_CALC_OK;
}

void
wb_calc_ordinal_density_clear (WbCalcOrdinalDensity *density)
{
  free (density->entries);
  free (density->pairs);
  free (density->eta);
  memset (density, 0, sizeof *density);
}
