/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-blocks-private.h"

#include <math.h>
#include <stdlib.h>

#include <gsl/gsl_eigen.h>

/* An efficiency factor below this is 0: what rounding leaves of it is about 1e-14, the least that a connected design of this size has about 1e-6. */
#define NOTHING 1e-9

size_t
wb_calc_blocks_count_plots (const WbCalcBlocksLayout *layout)
{
  size_t plots = 0, wanted = 0;

  if (layout->n_treatments == 0 || layout->n_treatments > WB_CALC_BLOCKS_MOST_TREATMENTS || layout->n_blocks == 0
      || layout->n_blocks > WB_CALC_BLOCKS_MOST_PLOTS)
    return 0;
  for (size_t j = 0; j < layout->n_blocks; j++)
    {
      if (layout->sizes[j] == 0 || layout->sizes[j] > WB_CALC_BLOCKS_MOST_PLOTS - plots)
        return 0;
      plots += layout->sizes[j];
    }
  for (size_t i = 0; i < layout->n_treatments; i++)
    {
      if (layout->replications[i] == 0 || layout->replications[i] > plots - wanted)
        return 0;
      wanted += layout->replications[i];
    }
  return wanted == plots ? plots : 0;
}

void
wb_calc_blocks_incidence (const WbCalcBlocksLayout *layout,
                          const size_t             *treatments,
                          size_t                   *incidence)
{
  size_t plot = 0;

  for (size_t i = 0; i < layout->n_treatments * layout->n_blocks; i++)
    incidence[i] = 0;
  for (size_t j = 0; j < layout->n_blocks; j++)
    for (size_t k = 0; k < layout->sizes[j]; k++, plot++)
      if (treatments[plot] != SIZE_MAX)
        incidence[treatments[plot] * layout->n_blocks + j]++;
}

void
wb_calc_blocks_information (const WbCalcBlocksLayout *layout,
                            const size_t             *incidence,
                            double                   *information)
{
  size_t v = layout->n_treatments, b = layout->n_blocks;

  for (size_t i = 0; i < v; i++)
    for (size_t k = 0; k <= i; k++)
      {
        double sum = 0.0;

        for (size_t j = 0; j < b; j++)
          sum += (double) incidence[i * b + j] * (double) incidence[k * b + j] / (double) layout->sizes[j];
        sum /= sqrt ((double) layout->replications[i] * (double) layout->replications[k]);
        information[i * v + k] = information[k * v + i] = (i == k ? 1.0 : 0.0) - sum;
      }
}

/* All but the one of the direction of the replications' roots, which is 0. */
static WbCalcStatus
find_factors (const WbCalcBlocksLayout *layout,
              const size_t             *incidence,
              double                   *factors)
{
  size_t v = layout->n_treatments;
  gsl_matrix *information = gsl_matrix_alloc (v, v);
  gsl_vector *values = gsl_vector_alloc (v);
  gsl_eigen_symm_workspace *work = gsl_eigen_symm_alloc (v);
  WbCalcStatus status = WB_CALC_NO_MEMORY;

  if (information != NULL && values != NULL && work != NULL)
    {
      wb_calc_blocks_information (layout, incidence, information->data);
      status = gsl_eigen_symm (information, values, work) == 0 ? WB_CALC_OK : WB_CALC_NOT_CONVERGED;
    }
  if (status == WB_CALC_OK)
    {
      size_t least = gsl_vector_min_index (values), n = 0;

      for (size_t i = 0; i < v; i++)
        if (i != least)
          factors[n++] = gsl_vector_get (values, i);
    }
  gsl_matrix_free (information);
  gsl_vector_free (values);
  if (work != NULL)
    gsl_eigen_symm_free (work);
  return status;
}

static void
count_together (const WbCalcBlocksLayout *layout,
                const size_t             *incidence,
                WbCalcBlocksFigures      *figures)
{
  size_t v = layout->n_treatments, b = layout->n_blocks;

  figures->together_low = v > 1 ? SIZE_MAX : 0;
  for (size_t i = 0; i < v; i++)
    for (size_t k = 0; k < i; k++)
      {
        size_t together = 0;

        for (size_t j = 0; j < b; j++)
          together += incidence[i * b + j] * incidence[k * b + j];
        figures->together_low = together < figures->together_low ? together : figures->together_low;
        figures->together_high = together > figures->together_high ? together : figures->together_high;
      }
  figures->balanced = figures->together_low == figures->together_high;
  for (size_t i = 0; i < v * b; i++)
    figures->repeats += incidence[i] > 1 ? incidence[i] - 1 : 0;
}

/* The mean of the factors, which their harmonic mean is not above: of all designs with the same replications, sizes and repeats it is largest where blocks repeat nothing. */
static double
find_bound (const WbCalcBlocksLayout *layout,
            const size_t             *incidence)
{
  double sum = (double) layout->n_treatments;

  for (size_t i = 0; i < layout->n_treatments; i++)
    for (size_t j = 0; j < layout->n_blocks; j++)
      {
        double n = (double) incidence[i * layout->n_blocks + j];

        sum -= n * n / ((double) layout->replications[i] * (double) layout->sizes[j]);
      }
  return fmin (sum / (double) (layout->n_treatments - 1), 1.0);
}

static void
sum_factors (const double        *factors,
             size_t               n,
             WbCalcBlocksFigures *figures)
{
  double inverses = 0.0;

  figures->smallest = 1.0;
  for (size_t i = 0; i < n; i++)
    {
      figures->smallest = fmin (figures->smallest, factors[i]);
      inverses += 1.0 / factors[i];
    }
  figures->connected = figures->smallest > NOTHING;
  figures->smallest = figures->connected ? figures->smallest : 0.0;
  figures->efficiency = figures->connected ? fmin ((double) n / inverses, 1.0) : 0.0;
}

WbCalcStatus
wb_calc_blocks_measure (const WbCalcBlocksLayout *layout,
                        const size_t             *treatments,
                        WbCalcBlocksFigures      *figures)
{
  size_t plots = wb_calc_blocks_count_plots (layout), v = layout->n_treatments;
  size_t *incidence;
  double *factors;
  WbCalcStatus status = WB_CALC_OK;

  *figures = (WbCalcBlocksFigures) { .efficiency = NAN, .smallest = NAN, .bound = NAN };
  if (plots == 0)
    return WB_CALC_BAD_INPUT;
  for (size_t i = 0; i < plots; i++)
    if (treatments[i] >= v)
      return WB_CALC_BAD_INPUT;
  incidence = calloc (v * layout->n_blocks, sizeof *incidence);
  factors = calloc (v, sizeof *factors);
  if (incidence == NULL || factors == NULL)
    status = WB_CALC_NO_MEMORY;
  else
    wb_calc_blocks_incidence (layout, treatments, incidence);
  for (size_t i = 0; i < v && status == WB_CALC_OK; i++)
    {
      size_t n = 0;

      for (size_t j = 0; j < layout->n_blocks; j++)
        n += incidence[i * layout->n_blocks + j];
      if (n != layout->replications[i])
        status = WB_CALC_BAD_INPUT;
    }
  if (status == WB_CALC_OK && v > 1)
    status = find_factors (layout, incidence, factors);
  if (status == WB_CALC_OK)
    {
      figures->bound = v > 1 ? find_bound (layout, incidence) : 1.0;
      sum_factors (factors, v - 1, figures);
      if (v == 1)
        figures->efficiency = 1.0;
      count_together (layout, incidence, figures);
    }
  free (incidence);
  free (factors);
  return status;
}
