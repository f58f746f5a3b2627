/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-effects-pairs-private.h"

#include <math.h>

#include "wb-calc-quantile.h"
#include "wb-craft-columns-private.h"

#define COVERAGE 0.9
#define LOST 1e-9          /* share of a column's square that rounding leaves of one that others make up */

static double
product (const double *one,
         const double *other,
         guint         n)
{
  double sum = 0;

  for (guint i = 0; i < n; i++)
    sum += one[i] * other[i];
  return sum;
}

/* What `column` has that the first `n_before` orthonormal columns of `base` have not; twice, as once leaves rounding. */
static void
sweep (const double *base,
       guint         n_before,
       guint         n,
       double       *column)
{
  for (guint pass = 0; pass < 2; pass++)
    for (guint j = 0; j < n_before; j++)
      {
        double share = product (base + j * n, column, n);

        for (guint i = 0; i < n; i++)
          column[i] -= share * base[j * n + i];
      }
}

/*
 * Weights by which the values of `n` cells make the least squares slope over step, given
 * the mean and the differences of vessels, scents and kinds of wick:
 * what of step those do not make up, over its square. FALSE: nothing of step is left.
 */
static gboolean
weigh_line (const WbDataset *data,
            const guint     *cells,
            guint            n,
            double          *weights)
{
  g_auto (WbCraftColumns) columns = { 0 };
  g_autofree double *base = NULL;
  guint n_base = 0;
  double whole, left;

  wb_craft_columns_init (&columns, data);
  base = g_new0 (double, (gsize) MAX (columns.n_levels, 1) * MAX (n, 1));
  for (guint j = 0; j < columns.n_levels; j++)
    {
      double *column = base + (gsize) n_base * n, square;

      for (guint i = 0; i < n; i++)
        column[i] = columns.cell[cells[i] * columns.n + j];
      whole = product (column, column, n);
      sweep (base, n_base, n, column);
      square = product (column, column, n);
      if (!(square > LOST * whole))
        continue;
      for (guint i = 0; i < n; i++)
        column[i] /= sqrt (square);
      n_base++;
    }
  for (guint i = 0; i < n; i++)
    weights[i] = wb_dataset_get_wick (data, cells[i])->step;
  whole = product (weights, weights, n);
  sweep (base, n_base, n, weights);
  left = product (weights, weights, n);
  if (!(left > LOST * whole))
    return FALSE;
  for (guint i = 0; i < n; i++)
    weights[i] /= left;
  return TRUE;
}

/*
 * Where steps multiply, b is the line of ln value and one step up, from half a step below to half
 * a step above the geometric mean G, adds 2 G sinh (b / 2). What it moves by with a cell's value y:
 * (2 G sinh (b / 2) / n + G cosh (b / 2) w) / y.
 */
static double
multiply (const WbCraftEffectsModel *model,
          const guint               *cells,
          guint                      n,
          double                    *weights)
{
  double mean = 0, b = 0, added, turn;

  for (guint i = 0; i < n; i++)
    {
      mean += log (model->told[cells[i]]) / n;
      b += weights[i] * log (model->told[cells[i]]);
    }
  added = 2 * exp (mean) * sinh (b / 2);
  turn = exp (mean) * cosh (b / 2);
  for (guint i = 0; i < n; i++)
    weights[i] = (added / n + turn * weights[i]) / model->told[cells[i]];
  return added;
}

void
wb_craft_effects_find_slope (WbCraftEffects            *self,
                             const WbDataset           *data,
                             const WbCraftEffectsModel *model)
{
  guint n_cells = data->cells->len, n = 0;
  g_autofree guint *cells = g_new (guint, MAX (n_cells, 1));
  g_autofree double *weights = g_new (double, MAX (n_cells, 1)), *all = g_new0 (double, MAX (n_cells, 1));
  WbCraftContrast contrast;
  double added = NAN, half;

  self->slope = (WbCraftSlope) { .interval = WB_CRAFT_INTERVAL_NONE };
  for (guint cell = 0; model != NULL && cell < n_cells; cell++)
    if (model->has[cell] && wb_dataset_get_wick (data, cell)->step != WB_INTEGER_NONE
        && (!model->log_scale || model->told[cell] > 0))
      cells[n++] = cell;
  if (n < 2 || !weigh_line (data, cells, n, weights))
    return;
  if (model->log_scale)
    added = multiply (model, cells, n, weights);
  for (guint i = 0; i < n; i++)
    all[cells[i]] = weights[i];
  if (!wb_craft_effects_model_contrast (model, all, &contrast))
    return;
  added = model->log_scale ? added : contrast.value;
  half = wb_calc_student_quantile (1 - (1 - COVERAGE) / 2, contrast.df) * contrast.error;
  self->slope.interval = (WbCraftInterval) { added, added - half, added + half };
  for (guint i = 0; i < n; i++)
    {
      self->slope.samples += model->samples[cells[i]];
      self->slope.burns += model->burns[cells[i]];
    }
}
