/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-levels-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static const struct { const char *key, *label; } factors[WB_CRAFT_N_FACTORS] = {
  [WB_CRAFT_FACTOR_VESSEL] = { "vessel", N_("vessel") },
  [WB_CRAFT_FACTOR_WICK] = { "wick", N_("wick") },
  [WB_CRAFT_FACTOR_SCENT] = { "scent", N_("scent") },
};

const char *
wb_craft_factor_get_key (WbCraftFactor factor)
{
  return factors[factor].key;
}

const char *
wb_craft_factor_get_label (WbCraftFactor factor)
{
  return _(factors[factor].label);
}

gboolean
wb_craft_factor_is_same (const WbDataset *data,
                         WbCraftFactor    factor,
                         guint            a,
                         guint            b)
{
  const WbCell *one = wb_dataset_get_cell (data, a), *other = wb_dataset_get_cell (data, b);

  switch (factor)
    {
    case WB_CRAFT_FACTOR_VESSEL:
      return wb_dataset_get_vessel (data, a) == wb_dataset_get_vessel (data, b);
    case WB_CRAFT_FACTOR_WICK:
      return wb_dataset_get_wick (data, a) == wb_dataset_get_wick (data, b) && one->wick_count == other->wick_count;
    case WB_CRAFT_FACTOR_SCENT:
    case WB_CRAFT_N_FACTORS:
    default:
      return one->fragrance == other->fragrance && one->load_pct == other->load_pct
             && one->load_basis == other->load_basis;
    }
}

/* Are two cells alike in everything but this factor? */
static gboolean
alike_but (const WbDataset *data,
           WbCraftFactor    factor,
           guint            a,
           guint            b)
{
  for (guint other = 0; other < WB_CRAFT_N_FACTORS; other++)
    if (other != factor && !wb_craft_factor_is_same (data, other, a, b))
      return FALSE;
  return TRUE;
}

/* Levels in the order of the data set's cells, so that wicks come by series and step. */
static void
number_levels (WbCraftLevels *self,
               WbCraftFactor  factor)
{
  self->level[factor] = g_new0 (size_t, MAX (self->n, 1));
  self->first_cell[factor] = g_new0 (guint, MAX (self->n, 1));
  for (guint i = 0; i < self->n; i++)
    {
      size_t level = 0;

      while (level < self->n_levels[factor]
             && !wb_craft_factor_is_same (self->data, factor, self->cell[i], self->first_cell[factor][level]))
        level++;
      if (level == self->n_levels[factor])
        self->first_cell[factor][self->n_levels[factor]++] = self->cell[i];
      self->level[factor][i] = level;
    }
  if (self->n_levels[factor] > 1)
    self->factors[self->n_factors++] = factor;
}

static void
average_cells (WbCraftLevels *self)
{
  guint n_cells = MAX (self->data->cells->len, 1);

  self->cell_mean = g_new0 (double, n_cells);
  self->cell_n = g_new0 (guint, n_cells);
  for (guint i = 0; i < self->n; i++)
    {
      self->cell_mean[self->cell[i]] += self->y[i];
      self->cell_n[self->cell[i]]++;
    }
  for (guint cell = 0; cell < n_cells; cell++)
    self->cell_mean[cell] = self->cell_n[cell] > 0 ? self->cell_mean[cell] / self->cell_n[cell] : NAN;
}

void
wb_craft_levels_init (WbCraftLevels   *self,
                      const WbDataset *data,
                      const double    *values)
{
  guint n_samples = MAX (data->samples->len, 1);

  *self = (WbCraftLevels) { .data = data, .y = g_new (double, n_samples), .cell = g_new (guint, n_samples) };
  for (guint i = 0; i < data->samples->len; i++)
    if (isfinite (values[i]))
      {
        self->y[self->n] = values[i];
        self->cell[self->n++] = g_array_index (data->sample_cell, guint, i);
      }
    else if (isinf (values[i]))
      self->n_never++;
  for (guint factor = 0; factor < WB_CRAFT_N_FACTORS; factor++)
    number_levels (self, factor);
  average_cells (self);
}

void
wb_craft_levels_clear (WbCraftLevels *self)
{
  g_free (self->y);
  g_free (self->cell);
  for (guint factor = 0; factor < WB_CRAFT_N_FACTORS; factor++)
    {
      g_free (self->level[factor]);
      g_free (self->first_cell[factor]);
    }
  g_free (self->cell_mean);
  g_free (self->cell_n);
}

char *
wb_craft_levels_dup_name (const WbCraftLevels *self,
                          WbCraftFactor        factor,
                          size_t               level)
{
  guint cell = self->first_cell[factor][level];

  switch (factor)
    {
    case WB_CRAFT_FACTOR_VESSEL: return wb_material_dup_title (wb_dataset_get_vessel (self->data, cell));
    case WB_CRAFT_FACTOR_WICK: return wb_dataset_dup_wick_name (self->data, cell);
    case WB_CRAFT_FACTOR_SCENT:
    case WB_CRAFT_N_FACTORS:
    default: return wb_dataset_dup_scent_name (self->data, cell);
    }
}

static gboolean
has_level (const WbCraftLevels *self,
           WbCraftFactor        factor,
           size_t               level,
           guint                cell)
{
  return self->cell_n[cell] > 0 && wb_craft_factor_is_same (self->data, factor, cell, self->first_cell[factor][level]);
}

/* The cell with a value that is like this one but for its level of the factor; G_MAXUINT: there is none. */
static guint
find_like (const WbCraftLevels *self,
           WbCraftFactor        factor,
           size_t               level,
           guint                cell)
{
  for (guint other = 0; other < self->data->cells->len; other++)
    if (has_level (self, factor, level, other) && alike_but (self->data, factor, cell, other))
      return other;
  return G_MAXUINT;
}

gboolean
wb_craft_levels_is_even (const WbCraftLevels *self,
                         WbCraftFactor        factor)
{
  for (guint cell = 0; cell < self->data->cells->len; cell++)
    for (size_t level = 0; self->cell_n[cell] > 0 && level < self->n_levels[factor]; level++)
      if (find_like (self, factor, level, cell) == G_MAXUINT)
        return FALSE;
  return TRUE;
}

double
wb_craft_levels_mean (const WbCraftLevels *self,
                      WbCraftFactor        factor,
                      size_t               level)
{
  double sum = 0;
  guint n = 0;

  for (guint cell = 0; cell < self->data->cells->len; cell++)
    if (has_level (self, factor, level, cell))
      {
        sum += self->cell_mean[cell];
        n++;
      }
  return sum / n;
}

guint
wb_craft_levels_match (const WbCraftLevels *self,
                       WbCraftFactor        factor,
                       size_t               first,
                       size_t               second,
                       double              *difference,
                       double              *inverse)
{
  double sum = 0, variance = 0;
  guint shared = 0;

  for (guint cell = 0; cell < self->data->cells->len; cell++)
    {
      guint like;

      if (!has_level (self, factor, first, cell) || (like = find_like (self, factor, second, cell)) == G_MAXUINT)
        continue;
      sum += self->cell_mean[like] - self->cell_mean[cell];
      variance += 1.0 / self->cell_n[like] + 1.0 / self->cell_n[cell];
      shared++;
    }
  *difference = shared > 0 ? sum / shared : NAN;
  *inverse = shared > 0 ? variance / ((double) shared * shared) : NAN;
  return shared;
}

guint
wb_craft_levels_weigh (const WbCraftLevels *self,
                       WbCraftFactor        factor,
                       size_t               first,
                       size_t               second,
                       const gboolean      *has,
                       double              *weights)
{
  guint shared = 0;

  for (guint cell = 0; cell < self->data->cells->len; cell++)
    weights[cell] = 0;
  for (guint cell = 0; cell < self->data->cells->len; cell++)
    {
      guint like;

      if (!has[cell] || !has_level (self, factor, first, cell)
          || (like = find_like (self, factor, second, cell)) == G_MAXUINT || !has[like])
        continue;
      weights[like] += 1;
      weights[cell] -= 1;
      shared++;
    }
  for (guint cell = 0; shared > 0 && cell < self->data->cells->len; cell++)
    weights[cell] /= shared;
  return shared;
}

guint
wb_craft_levels_cross (const WbCraftLevels *self,
                       WbCraftFactor        one,
                       size_t               level,
                       WbCraftFactor        other,
                       size_t               other_level,
                       double              *mean,
                       guint               *samples)
{
  double sum = 0;
  guint n = 0;

  *samples = 0;
  for (guint cell = 0; cell < self->data->cells->len; cell++)
    if (has_level (self, one, level, cell) && has_level (self, other, other_level, cell))
      {
        sum += self->cell_mean[cell];
        *samples += self->cell_n[cell];
        n++;
      }
  *mean = n > 0 ? sum / n : NAN;
  return n;
}
