/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-columns-private.h"

#include <math.h>

#include "wb-craft-levels-private.h"

/* Weak opinions on differences of two levels' logarithms; no source. A step is one size of a series. */
#define VESSEL_SD 0.7
#define SCENT_SD 0.3
#define KIND_SD 0.7
#define STEP_SD 0.5

/* Numbers the cells' levels of something by order of first appearance. */
typedef gboolean (*SameLevel) (const WbDataset *data, guint a, guint b);

static guint
number (const WbDataset *data,
        SameLevel        same,
        gsize           *level)
{
  guint n = 0;

  for (guint cell = 0; cell < data->cells->len; cell++)
    {
      guint other = 0;

      while (other < cell && !same (data, other, cell))
        other++;
      level[cell] = other < cell ? level[other] : n++;
    }
  return n;
}

static gboolean
same_vessel (const WbDataset *data,
            guint            a,
            guint            b)
{
  return wb_craft_factor_is_same (data, WB_CRAFT_FACTOR_VESSEL, a, b);
}

static gboolean
same_scent (const WbDataset *data,
           guint            a,
           guint            b)
{
  return wb_craft_factor_is_same (data, WB_CRAFT_FACTOR_SCENT, a, b);
}

static gboolean
same_kind (const WbDataset *data,
           guint            a,
           guint            b)
{
  return g_strcmp0 (wb_dataset_get_wick (data, a)->series, wb_dataset_get_wick (data, b)->series) == 0
         && wb_dataset_get_cell (data, a)->wick_count == wb_dataset_get_cell (data, b)->wick_count;
}

static gboolean
same_wick (const WbDataset *data,
          guint            a,
          guint            b)
{
  return wb_craft_factor_is_same (data, WB_CRAFT_FACTOR_WICK, a, b);
}

/* The steps of a kind of wick: their middle, and whether they differ. */
static gboolean
find_middle (const WbDataset *data,
             const gsize     *kind,
             gsize            of,
             double          *middle)
{
  double low = INFINITY, high = -INFINITY;

  for (guint cell = 0; cell < data->cells->len; cell++)
    {
      gint64 step = wb_dataset_get_wick (data, cell)->step;

      if (kind[cell] != of || step == WB_INTEGER_NONE)
        continue;
      low = MIN (low, step);
      high = MAX (high, step);
    }
  *middle = (low + high) / 2;
  return high > low;
}

static double *
add_column (WbCraftColumns *self,
            GPtrArray      *columns,
            GArray         *sds,
            double          sd)
{
  double *column = g_new0 (double, MAX (self->n_cells, 1));

  g_ptr_array_add (columns, column);
  g_array_append_val (sds, sd);
  return column;
}

/*
 * A column of ones for each level. With a coefficient each, of the same spread around the mean, no level is the one that the
 * others are told from: names and their order play no part. sd: of a level.
 */
static void
add_levels (WbCraftColumns *self,
            GPtrArray      *columns,
            GArray         *sds,
            const gsize    *level,
            guint           n_levels,
            double          sd)
{
  for (guint l = 0; l < n_levels; l++)
    {
      double *column = add_column (self, columns, sds, sd);

      for (guint cell = 0; cell < self->n_cells; cell++)
        column[cell] = level[cell] == l;
    }
}

/* sd: of the difference of two levels; one alone differs from nothing. */
static void
add_differences (WbCraftColumns *self,
                 GPtrArray      *columns,
                 GArray         *sds,
                 const gsize    *level,
                 guint           n_levels,
                 double          sd)
{
  if (n_levels > 1)
    add_levels (self, columns, sds, level, n_levels, sd / G_SQRT2);
}

void
wb_craft_columns_init (WbCraftColumns  *self,
                       const WbDataset *data)
{
  guint n = data->cells->len, n_scents, n_kinds, n_wicks;
  g_autofree gsize *scent = g_new0 (gsize, MAX (n, 1)), *kind = g_new0 (gsize, MAX (n, 1)), *wick = g_new0 (gsize, MAX (n, 1));
  g_autoptr (GPtrArray) columns = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GArray) sds = g_array_new (FALSE, FALSE, sizeof (double));
  double *mean;

  *self = (WbCraftColumns) { .n_cells = n, .vessel = g_new0 (gsize, MAX (n, 1)) };
  self->n_vessels = number (data, same_vessel, self->vessel);
  n_scents = number (data, same_scent, scent);
  n_kinds = number (data, same_kind, kind);
  n_wicks = number (data, same_wick, wick);
  mean = add_column (self, columns, sds, INFINITY);
  for (guint cell = 0; cell < n; cell++)
    mean[cell] = 1;
  add_differences (self, columns, sds, self->vessel, self->n_vessels, VESSEL_SD);
  add_differences (self, columns, sds, scent, n_scents, SCENT_SD);
  add_differences (self, columns, sds, kind, n_kinds, KIND_SD);
  self->n_levels = columns->len;
  for (guint k = 0; k < n_kinds; k++)
    {
      double middle, *line;

      if (!find_middle (data, kind, k, &middle))
        continue;
      line = add_column (self, columns, sds, STEP_SD);
      for (guint cell = 0; cell < n; cell++)
        {
          gint64 step = wb_dataset_get_wick (data, cell)->step;

          line[cell] = kind[cell] == k && step != WB_INTEGER_NONE ? step - middle : 0;
        }
    }
  if (n_wicks < n && n_wicks > 2)
    add_levels (self, columns, sds, wick, n_wicks, 0);
  self->n = columns->len;
  self->cell = g_new (double, MAX (n, 1) * columns->len);
  for (guint cell = 0; cell < n; cell++)
    for (guint j = 0; j < self->n; j++)
      self->cell[cell * self->n + j] = ((double *) g_ptr_array_index (columns, j))[cell];
  self->sd = (double *) (gpointer) g_array_free (g_steal_pointer (&sds), FALSE);
}

void
wb_craft_columns_clear (WbCraftColumns *self)
{
  g_free (self->cell);
  g_free (self->sd);
  g_free (self->vessel);
}
