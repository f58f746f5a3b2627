/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-mixed-system-private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A pivot below this share of what its column began with: the column depends on those before it. */
#define DEPENDS 1e-10

void
wb_calc_mixed_system_clear (WbCalcMixedSystem *system)
{
  free (system->local_factor);
  memset (system, 0, sizeof *system);
}

WbCalcStatus
wb_calc_mixed_system_init (WbCalcMixedSystem     *system,
                           const WbCalcMixedData *data)
{
  size_t l = data->n_local, g = data->n_global, w = l + g, n = data->n_blocks;
  size_t n_units = 0;
  double *room;

  for (size_t i = 0; i < data->n_rows; i++)
    if ((data->outside == NULL || !data->outside[i]) && data->unit[i] >= n_units)
      n_units = data->unit[i] + 1;
  memset (system, 0, sizeof *system);
  room = calloc (n * (l * l + l * g + 2 * l) + g * g + 2 * g + n_units + w * w + 2 * w + 1, sizeof *room);
  if (room == NULL)
    return WB_CALC_NO_MEMORY;
  system->data = data;
  system->width = w;
  system->n_units = n_units;
  system->local_factor = room;
  system->local_link = system->local_factor + n * l * l;
  system->local_right = system->local_link + n * l * g;
  system->a = system->local_right + n * l;
  system->global_factor = system->a + n * l;
  system->global_right = system->global_factor + g * g;
  system->b = system->global_right + g;
  system->unit_effect = system->b + g;
  system->square = system->unit_effect + n_units;
  system->sums = system->square + w * w;
  system->right = system->sums + w;
  return WB_CALC_OK;
}

double
wb_calc_mixed_system_variance (const WbCalcMixedData *data,
                               const double          *sd,
                               size_t                 i)
{
  double known = data->variance != NULL ? data->variance[i] : 0.0;

  if (data->outside != NULL && data->outside[i])
    return known;
  return known + sd[WB_CALC_MIXED_RUN] * sd[WB_CALC_MIXED_RUN];
}

/* Precision of a column's coefficient around 0; 0: flat. */
static double
precision_of (const WbCalcMixedColumn *column,
              const double            *sd)
{
  double spread = column->spread == WB_CALC_MIXED_KNOWN ? column->sd : sd[column->spread];

  return 1.0 / (spread * spread);
}

/*
 * Upper Cholesky factor of the leading n columns of a symmetric matrix of which the
 * upper half is given, in place; the diagonal of a column that depends on those before
 * it becomes INFINITY, which leaves the column out of all that follows. Adds twice the
 * logarithms of the pivots; counts those left out.
 */
static size_t
factorise (double *matrix,
           size_t  stride,
           size_t  n,
           double *log_det)
{
  size_t lost = 0;

  for (size_t j = 0; j < n; j++)
    {
      double began = matrix[j * stride + j];
      double pivot = began;

      for (size_t k = 0; k < j; k++)
        pivot -= matrix[k * stride + j] * matrix[k * stride + j];
      if (!(pivot > DEPENDS * began))
        {
          matrix[j * stride + j] = INFINITY;
          lost++;
        }
      else
        {
          matrix[j * stride + j] = sqrt (pivot);
          *log_det += log (pivot);
        }
      for (size_t i = j + 1; i < n; i++)
        {
          double sum = matrix[j * stride + i];

          for (size_t k = 0; k < j; k++)
            sum -= matrix[k * stride + j] * matrix[k * stride + i];
          matrix[j * stride + i] = sum / matrix[j * stride + j];
        }
    }
  return lost;
}

/* x = R^-T x for an upper factor R. */
static void
solve_forward (const double *factor,
               size_t        stride,
               size_t        n,
               double       *x)
{
  for (size_t j = 0; j < n; j++)
    {
      for (size_t k = 0; k < j; k++)
        x[j] -= factor[k * stride + j] * x[k];
      x[j] /= factor[j * stride + j];
    }
}

/* x = R^-1 x. */
static void
solve_backward (const double *factor,
                size_t        stride,
                size_t        n,
                double       *x)
{
  for (size_t j = n; j-- > 0;)
    {
      for (size_t k = j + 1; k < n; k++)
        x[j] -= factor[j * stride + k] * x[k];
      x[j] /= factor[j * stride + j];
    }
}

/* square += weight x x', upper half; right += weight x y. x is given in its two parts. */
static void
add_product (WbCalcMixedSystem *system,
             double             weight,
             const double      *local,
             const double      *global,
             double             y)
{
  size_t l = system->data->n_local, w = system->width;

  for (size_t j = 0; j < w; j++)
    {
      double entry = weight * (j < l ? local[j] : global[j - l]);
      double *row = system->square + j * w;

      if (entry == 0.0)
        continue;
      for (size_t k = j; k < l; k++)
        row[k] += entry * local[k];
      for (size_t k = j < l ? l : j; k < w; k++)
        row[k] += entry * global[k - l];
      system->right[j] += entry * y;
    }
}

/* What rows `first` to `last` - 1, a unit's, have in common comes off again. */
static void
take_off_unit (WbCalcMixedSystem *system,
               const double      *sd,
               size_t             first,
               size_t             last)
{
  const WbCalcMixedData *data = system->data;
  size_t l = data->n_local, g = data->n_global;
  double of_unit = sd[WB_CALC_MIXED_UNIT] * sd[WB_CALC_MIXED_UNIT];
  double weights = 0.0, product = 0.0;

  if (!(of_unit > 0.0))
    return;
  memset (system->sums, 0, system->width * sizeof *system->sums);
  for (size_t i = first; i < last; i++)
    {
      double weight = 1.0 / wb_calc_mixed_system_variance (data, sd, i);

      weights += weight;
      product += weight * data->y[i];
      for (size_t j = 0; j < l; j++)
        system->sums[j] += weight * data->local[i * l + j];
      for (size_t j = 0; j < g; j++)
        system->sums[l + j] += weight * data->global[i * g + j];
    }
  system->criterion += log1p (of_unit * weights);
  add_product (system, -of_unit / (1.0 + of_unit * weights), system->sums, system->sums + l, 0.0);
  for (size_t j = 0; j < system->width; j++)
    system->right[j] -= of_unit / (1.0 + of_unit * weights) * system->sums[j] * product;
}

/* The end of the unit that begins at row `first`, within its block. */
static size_t
unit_end (const WbCalcMixedData *data,
          size_t                 first,
          size_t                 last)
{
  size_t i = first + 1;

  while (i < last && (data->outside == NULL || !data->outside[i]) && data->unit[i] == data->unit[first])
    i++;
  return i;
}

/* Opinions on the local coefficients; returns what they add to the criterion. */
static double
add_local_opinions (WbCalcMixedSystem *system,
                    const double      *sd,
                    double             correlation)
{
  const WbCalcMixedData *data = system->data;
  size_t w = system->width;
  double unexplained = data->correlated ? 1.0 - correlation * correlation : 1.0;
  double log_precisions = 0.0;

  for (size_t j = 0; j < data->n_local; j++)
    {
      double precision = precision_of (&data->local_column[j], sd);

      if (precision > 0.0)
        log_precisions += log (precision);
      system->square[j * w + j] += data->correlated && j < 2 ? precision / unexplained : precision;
    }
  if (data->correlated)
    {
      double cross = sqrt (precision_of (&data->local_column[0], sd) * precision_of (&data->local_column[1], sd));

      system->square[1] -= correlation * cross / unexplained;
      log_precisions -= log (unexplained);
    }
  return -log_precisions;
}

/* Rows of a block into the equations, its local coefficients eliminated, the rest handed to the global ones. */
static void
reduce_block (WbCalcMixedSystem *system,
              const double      *sd,
              double             correlation,
              size_t             block,
              size_t             first,
              size_t             last,
              size_t            *lost)
{
  const WbCalcMixedData *data = system->data;
  size_t l = data->n_local, g = data->n_global, w = system->width;
  double *factor = system->local_factor + block * l * l;
  double *link = system->local_link + block * l * g;
  double *right = system->local_right + block * l;

  memset (system->square, 0, w * w * sizeof *system->square);
  memset (system->right, 0, w * sizeof *system->right);
  for (size_t i = first; i < last;)
    {
      bool outside = data->outside != NULL && data->outside[i];
      size_t end = outside ? i + 1 : unit_end (data, i, last);

      for (size_t row = i; row < end; row++)
        {
          double variance = wb_calc_mixed_system_variance (data, sd, row);

          system->criterion += log (variance);
          add_product (system, 1.0 / variance, data->local + row * l, data->global + row * g, data->y[row]);
        }
      if (!outside)
        take_off_unit (system, sd, i, end);
      i = end;
    }
  system->criterion += add_local_opinions (system, sd, correlation);
  *lost += factorise (system->square, w, l, &system->criterion);
  for (size_t j = 0; j < l; j++)
    memcpy (factor + j * l, system->square + j * w, l * sizeof *factor);
  memcpy (right, system->right, l * sizeof *right);
  solve_forward (factor, l, l, right);
  for (size_t k = 0; k < g; k++)
    {
      for (size_t j = 0; j < l; j++)
        {
          double sum = system->square[j * w + l + k];

          for (size_t i = 0; i < j; i++)
            sum -= factor[i * l + j] * link[i * g + k];
          link[j * g + k] = sum / factor[j * l + j];
        }
    }
  for (size_t k = 0; k < g; k++)
    {
      double of_right = system->right[l + k];

      for (size_t j = 0; j < l; j++)
        of_right -= link[j * g + k] * right[j];
      system->global_right[k] += of_right;
      for (size_t m = k; m < g; m++)
        {
          double sum = system->square[(l + k) * w + l + m];

          for (size_t j = 0; j < l; j++)
            sum -= link[j * g + k] * link[j * g + m];
          system->global_factor[k * g + m] += sum;
        }
    }
}

static void
substitute_blocks (const WbCalcMixedSystem *system,
                   const double            *z,
                   const double            *b,
                   double                  *a)
{
  size_t l = system->data->n_local, g = system->data->n_global;

  for (size_t block = 0; block < system->data->n_blocks; block++)
    {
      double *to = a + block * l;

      for (size_t j = 0; j < l; j++)
        {
          to[j] = system->local_right[block * l + j] + (z != NULL ? z[block * l + j] : 0.0);
          for (size_t k = 0; k < g; k++)
            to[j] -= system->local_link[(block * l + j) * g + k] * b[k];
        }
      solve_backward (system->local_factor + block * l * l, l, l, to);
    }
}

static double
residual (const WbCalcMixedSystem *system,
          size_t                   i)
{
  const WbCalcMixedData *data = system->data;
  double left = data->y[i];

  for (size_t j = 0; j < data->n_local; j++)
    left -= data->local[i * data->n_local + j] * system->a[data->block[i] * data->n_local + j];
  for (size_t j = 0; j < data->n_global; j++)
    left -= data->global[i * data->n_global + j] * system->b[j];
  return left;
}

/* Weighted squares that are left, units' effects on the way. */
static double
add_residuals (WbCalcMixedSystem *system,
               const double      *sd)
{
  const WbCalcMixedData *data = system->data;
  double of_unit = sd[WB_CALC_MIXED_UNIT] * sd[WB_CALC_MIXED_UNIT];
  double sum = 0.0;

  for (size_t u = 0; u < system->n_units; u++)
    system->unit_effect[u] = NAN;
  for (size_t i = 0; i < data->n_rows;)
    {
      bool outside = data->outside != NULL && data->outside[i];
      size_t end = outside ? i + 1 : unit_end (data, i, data->n_rows);
      double weights = 0.0, products = 0.0;

      for (size_t row = i; row < end; row++)
        {
          double weight = 1.0 / wb_calc_mixed_system_variance (data, sd, row);
          double left = residual (system, row);

          sum += weight * left * left;
          weights += weight;
          products += weight * left;
        }
      if (!outside)
        {
          double shrink = of_unit / (1.0 + of_unit * weights);

          sum -= shrink * products * products;
          system->unit_effect[data->unit[i]] = shrink * products;
        }
      i = end;
    }
  return sum;
}

double
wb_calc_mixed_system_opinions (const WbCalcMixedSystem *system,
                               const double            *sd,
                               double                   correlation,
                               const double            *a,
                               const double            *b)
{
  const WbCalcMixedData *data = system->data;
  size_t l = data->n_local;
  double sum = 0.0;

  for (size_t j = 0; j < data->n_global; j++)
    {
      double precision = precision_of (&data->global_column[j], sd);

      sum += precision > 0.0 ? precision * b[j] * b[j] : 0.0;
    }
  for (size_t block = 0; block < data->n_blocks; block++)
    {
      double unexplained = data->correlated ? 1.0 - correlation * correlation : 1.0;

      for (size_t j = 0; j < l; j++)
        {
          double precision = precision_of (&data->local_column[j], sd);
          double square = a[block * l + j] * a[block * l + j];

          sum += precision > 0.0 ? precision * square / (j < 2 ? unexplained : 1.0) : 0.0;
        }
      if (data->correlated)
        sum -= 2.0 * correlation / unexplained
               * sqrt (precision_of (&data->local_column[0], sd) * precision_of (&data->local_column[1], sd))
               * a[block * l] * a[block * l + 1];
    }
  return sum;
}

static size_t
count_flat (const WbCalcMixedData *data)
{
  size_t flat = 0;

  for (size_t j = 0; j < data->n_local; j++)
    flat += data->local_column[j].spread == WB_CALC_MIXED_KNOWN && isinf (data->local_column[j].sd) ? data->n_blocks : 0;
  for (size_t j = 0; j < data->n_global; j++)
    flat += data->global_column[j].spread == WB_CALC_MIXED_KNOWN && isinf (data->global_column[j].sd) ? 1 : 0;
  return flat;
}

bool
wb_calc_mixed_system_solve (WbCalcMixedSystem *system,
                            const double      *sd,
                            double             correlation)
{
  const WbCalcMixedData *data = system->data;
  size_t g = data->n_global, first = 0, lost = 0, flat = count_flat (data);

  memset (system->global_factor, 0, g * g * sizeof *system->global_factor);
  memset (system->global_right, 0, g * sizeof *system->global_right);
  system->criterion = 0.0;
  for (size_t block = 0; block < data->n_blocks; block++)
    {
      size_t last = first;

      while (last < data->n_rows && data->block[last] == block)
        last++;
      reduce_block (system, sd, correlation, block, first, last, &lost);
      first = last;
    }
  for (size_t j = 0; j < g; j++)
    {
      double precision = precision_of (&data->global_column[j], sd);

      system->global_factor[j * g + j] += precision;
      system->criterion -= precision > 0.0 ? log (precision) : 0.0;
    }
  lost += factorise (system->global_factor, g, g, &system->criterion);
  solve_forward (system->global_factor, g, g, system->global_right);
  memcpy (system->b, system->global_right, g * sizeof *system->b);
  solve_backward (system->global_factor, g, g, system->b);
  substitute_blocks (system, NULL, system->b, system->a);
  system->n_free = data->n_rows > flat - lost ? data->n_rows - (flat - lost) : 0;
  system->criterion += add_residuals (system, sd)
                       + wb_calc_mixed_system_opinions (system, sd, correlation, system->a, system->b)
                       + (double) system->n_free * log (2.0 * M_PI);
  return isfinite (system->criterion);
}

bool
wb_calc_mixed_system_cast (const WbCalcMixedSystem *system,
                           const WbCalcMixedTarget *target,
                           WbCalcMixedRay          *ray)
{
  size_t l = system->data->n_local, g = system->data->n_global;
  const double *factor = system->local_factor + target->block * l * l;

  ray->block = target->local != NULL ? target->block : SIZE_MAX;
  for (size_t j = 0; j < g; j++)
    ray->global[j] = target->global != NULL ? target->global[j] : 0.0;
  for (size_t j = 0; j < l; j++)
    ray->local[j] = target->local != NULL ? target->local[j] : 0.0;
  if (target->local != NULL)
    {
      for (size_t j = 0; j < l; j++)
        if (isinf (factor[j * l + j]) && target->local[j] != 0.0)
          return false;
      solve_forward (factor, l, l, ray->local);
      for (size_t j = 0; j < l; j++)
        for (size_t k = 0; k < g; k++)
          ray->global[k] -= ray->local[j] * system->local_link[(target->block * l + j) * g + k];
    }
  for (size_t j = 0; j < g; j++)
    if (isinf (system->global_factor[j * g + j]) && fabs (ray->global[j]) > 1e-9)
      return false;
  solve_forward (system->global_factor, g, g, ray->global);
  return true;
}

double
wb_calc_mixed_system_covariance (const WbCalcMixedSystem *system,
                                 const WbCalcMixedRay    *one,
                                 const WbCalcMixedRay    *other)
{
  double sum = 0.0;

  for (size_t j = 0; j < system->data->n_global; j++)
    sum += one->global[j] * other->global[j];
  if (one->block == other->block && one->block != SIZE_MAX)
    for (size_t j = 0; j < system->data->n_local; j++)
      sum += one->local[j] * other->local[j];
  return sum;
}

double
wb_calc_mixed_system_value (const WbCalcMixedSystem *system,
                            const WbCalcMixedTarget *target)
{
  size_t l = system->data->n_local;
  double value = 0.0;

  for (size_t j = 0; target->local != NULL && j < l; j++)
    value += target->local[j] * system->a[target->block * l + j];
  for (size_t j = 0; target->global != NULL && j < system->data->n_global; j++)
    value += target->global[j] * system->b[j];
  return value;
}

void
wb_calc_mixed_system_draw (const WbCalcMixedSystem *system,
                           const double            *z,
                           double                  *a,
                           double                  *b)
{
  size_t g = system->data->n_global;

  for (size_t j = 0; j < g; j++)
    b[j] = system->global_right[j] + z[j];
  solve_backward (system->global_factor, g, g, b);
  substitute_blocks (system, z + g, b, a);
}
