/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-anova.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_sort.h>

/* A pivot below this share of the largest is rounding: the column says nothing new. */
#define RANK_TOLERANCE 1e-9

/* Keys of cells are sorted as doubles, which hold whole numbers up to here. */
#define MAX_CELLS 9007199254740992.0

/*
 * Observations with the same levels of all factors share their row of the design:
 * all that the sums of squares need are the cells' counts, means and inner sums.
 */
typedef struct
{
  size_t n;
  double *mean;     /* n: of the cell, less the grand mean */
  double *count;    /* n */
  size_t *row;      /* n: an observation of the cell, for its levels */
  double within;    /* sum of squares about the cells' means */
  double grand_mean;
} Cells;

static void
cells_clear (Cells *cells)
{
  free (cells->mean);
  free (cells->count);
  free (cells->row);
}

static WbCalcStatus
check (const WbCalcAnovaData *data,
       const unsigned        *terms,
       size_t                 n_terms)
{
  double n_cells = 1.0;

  if (data->n_factors > WB_CALC_ANOVA_MAX_FACTORS || n_terms == 0)
    return WB_CALC_BAD_INPUT;
  for (size_t t = 0; t < n_terms; t++)
    {
      if (terms[t] == 0 || terms[t] >= 1u << data->n_factors)
        return WB_CALC_BAD_INPUT;
      for (size_t s = 0; s < t; s++)
        if (terms[s] == terms[t])
          return WB_CALC_BAD_INPUT;
    }
  for (size_t f = 0; f < data->n_factors; f++)
    {
      n_cells *= (double) data->n_levels[f];
      for (size_t i = 0; i < data->n; i++)
        if (data->level[f][i] >= data->n_levels[f])
          return WB_CALC_BAD_INPUT;
    }
  for (size_t i = 0; i < data->n; i++)
    if (!isfinite (data->y[i]))
      return WB_CALC_BAD_INPUT;
  if (n_cells > MAX_CELLS)
    return WB_CALC_BAD_INPUT;
  return data->n < 2 ? WB_CALC_TOO_FEW : WB_CALC_OK;
}

/* Mean of y over order[first] .. order[end - 1] less y[order[first]], which keeps the digits of data far from 0; in two passes. */
static double
offset_of (const double *y,
           const size_t *order,
           size_t        first,
           size_t        end)
{
  double offset = 0.0;

  for (int pass = 0; pass < 2; pass++)
    {
      double sum = 0.0;

      for (size_t i = first; i < end; i++)
        sum += y[order[i]] - y[order[first]] - offset;
      offset += sum / (double) (end - first);
    }
  return offset;
}

static void
fill_cells (Cells                 *cells,
            const WbCalcAnovaData *data,
            const double          *key,
            const size_t          *order)
{
  double origin = data->y[order[0]];
  double grand = offset_of (data->y, order, 0, data->n);

  cells->grand_mean = origin + grand;
  for (size_t first = 0, end; first < data->n; first = end)
    {
      for (end = first + 1; end < data->n && key[order[end]] == key[order[first]];)
        end++;

      double own = data->y[order[first]];
      double offset = offset_of (data->y, order, first, end);

      for (size_t i = first; i < end; i++)
        {
          double deviation = data->y[order[i]] - own - offset;

          cells->within += deviation * deviation;
        }
      cells->mean[cells->n] = (own - origin - grand) + offset;
      cells->count[cells->n] = (double) (end - first);
      cells->row[cells->n++] = order[first];
    }
}

static WbCalcStatus
cells_init (Cells                 *cells,
            const WbCalcAnovaData *data)
{
  double *key = calloc (data->n, sizeof *key);
  size_t *order = malloc (data->n * sizeof *order);
  WbCalcStatus status = WB_CALC_NO_MEMORY;

  *cells = (Cells) {
    .mean = malloc (data->n * sizeof (double)),
    .count = malloc (data->n * sizeof (double)),
    .row = malloc (data->n * sizeof (size_t)),
  };
  if (key != NULL && order != NULL && cells->mean != NULL && cells->count != NULL && cells->row != NULL)
    {
      for (size_t f = 0; f < data->n_factors; f++)
        for (size_t i = 0; i < data->n; i++)
          key[i] = key[i] * (double) data->n_levels[f] + (double) data->level[f][i];
      gsl_sort_index (order, key, 1, data->n);
      fill_cells (cells, data, key, order);
      status = WB_CALC_OK;
    }
  free (key);
  free (order);
  return status;
}

/* Columns of a term: the product of its factors' levels less one. */
static size_t
term_columns (const WbCalcAnovaData *data,
              unsigned               term)
{
  size_t columns = 1;

  for (size_t f = 0; f < data->n_factors; f++)
    if ((term >> f & 1u) != 0)
      columns *= data->n_levels[f] - 1;
  return columns;
}

/* Entry of a term's column `column` for an observation: effect coding, the last level is minus the sum of the others. */
static double
term_entry (const WbCalcAnovaData *data,
            unsigned               term,
            size_t                 column,
            size_t                 observation)
{
  double entry = 1.0;

  for (size_t f = 0; f < data->n_factors && entry != 0.0; f++)
    {
      if ((term >> f & 1u) == 0)
        continue;

      size_t width = data->n_levels[f] - 1;
      size_t level = data->level[f][observation];

      if (level == width)
        entry = -entry;
      else if (level != column % width)
        entry = 0.0;
      column /= width;
    }
  return entry;
}

/* What a set of terms leaves of the cells' means, and the rank of its design. */
typedef struct
{
  double residual;
  size_t rank;
} Left;

static void
fill_design (const WbCalcAnovaData *data,
             const Cells           *cells,
             const unsigned        *terms,
             size_t                 n_terms,
             gsl_matrix            *design,
             gsl_vector            *response)
{
  for (size_t c = 0; c < cells->n; c++)
    {
      double root = sqrt (cells->count[c]);
      size_t at = 0;

      gsl_vector_set (response, c, root * cells->mean[c]);
      gsl_matrix_set (design, c, at++, root);
      for (size_t t = 0; t < n_terms; t++)
        for (size_t column = 0; column < term_columns (data, terms[t]); column++)
          gsl_matrix_set (design, c, at++, root * term_entry (data, terms[t], column, cells->row[c]));
    }
}

static WbCalcStatus
fit_terms (const WbCalcAnovaData *data,
           const Cells           *cells,
           const unsigned        *terms,
           size_t                 n_terms,
           Left                  *left)
{
  size_t columns = 1;

  for (size_t t = 0; t < n_terms; t++)
    columns += term_columns (data, terms[t]);

  size_t diagonal = columns < cells->n ? columns : cells->n;
  gsl_matrix *design = gsl_matrix_alloc (cells->n, columns);
  gsl_vector *response = gsl_vector_alloc (cells->n);
  gsl_vector *tau = gsl_vector_alloc (diagonal);
  gsl_vector *norm = gsl_vector_alloc (columns);
  gsl_permutation *order = gsl_permutation_alloc (columns);
  WbCalcStatus status = WB_CALC_NO_MEMORY;
  int sign;

  if (design != NULL && response != NULL && tau != NULL && norm != NULL && order != NULL)
    {
      fill_design (data, cells, terms, n_terms, design, response);
      gsl_linalg_QRPT_decomp (design, tau, order, &sign, norm);
      gsl_linalg_QR_QTvec (design, tau, response);
      *left = (Left) { 0.0, 0 };
      while (left->rank < diagonal
             && fabs (gsl_matrix_get (design, left->rank, left->rank))
                    > RANK_TOLERANCE * fabs (gsl_matrix_get (design, 0, 0)))
        left->rank++;
      for (size_t c = left->rank; c < cells->n; c++)
        left->residual += gsl_vector_get (response, c) * gsl_vector_get (response, c);
      status = WB_CALC_OK;
    }
  gsl_matrix_free (design);
  gsl_vector_free (response);
  gsl_vector_free (tau);
  gsl_vector_free (norm);
  gsl_permutation_free (order);
  return status;
}

/* Type II: term t beside all terms that do not contain it. */
static WbCalcStatus
judge_term (const WbCalcAnovaData *data,
            const Cells           *cells,
            const unsigned        *terms,
            size_t                 n_terms,
            size_t                 t,
            WbCalcAnovaTerm       *row)
{
  unsigned *others = malloc (n_terms * sizeof *others);
  size_t n_others = 0;
  Left without;
  Left with;
  WbCalcStatus status;

  if (others == NULL)
    return WB_CALC_NO_MEMORY;
  for (size_t s = 0; s < n_terms; s++)
    if ((terms[s] & terms[t]) != terms[t])
      others[n_others++] = terms[s];
  status = fit_terms (data, cells, others, n_others, &without);
  if (status == WB_CALC_OK)
    {
      others[n_others++] = terms[t];
      status = fit_terms (data, cells, others, n_others, &with);
    }
  free (others);
  if (status != WB_CALC_OK)
    return status;
  *row = (WbCalcAnovaTerm) { .factors = terms[t], .df = with.rank - without.rank };
  if (row->df > 0)
    row->sum_sq = fmax (without.residual - with.residual, 0.0);
  return WB_CALC_OK;
}

/* Mean squares, F, p and shares, once residual and total are known. */
static void
finish_term (const WbCalcAnova *result,
             WbCalcAnovaTerm   *row)
{
  double both = row->sum_sq + result->residual_sum_sq;

  row->mean_sq = row->df > 0 ? row->sum_sq / (double) row->df : NAN;
  row->f = NAN;
  row->p = NAN;
  row->eta_sq = result->total_sum_sq > 0.0 ? row->sum_sq / result->total_sum_sq : NAN;
  row->partial_eta_sq = both > 0.0 ? row->sum_sq / both : NAN;
  if (row->df == 0 || result->residual_df == 0 || !(result->residual_mean_sq > 0.0))
    return;
  row->f = row->mean_sq / result->residual_mean_sq;
  row->p = gsl_cdf_fdist_Q (row->f, (double) row->df, (double) result->residual_df);
}

static WbCalcStatus
analyse (const WbCalcAnovaData *data,
         const unsigned        *terms,
         size_t                 n_terms,
         WbCalcKeepGoing        keep_going,
         void                  *user,
         const Cells           *cells,
         WbCalcAnova           *result)
{
  Left full;
  WbCalcStatus status = fit_terms (data, cells, terms, n_terms, &full);
  double between = 0.0;

  for (size_t t = 0; t < n_terms && status == WB_CALC_OK; t++)
    {
      if (keep_going != NULL && !keep_going (user))
        return WB_CALC_CANCELLED;
      status = judge_term (data, cells, terms, n_terms, t, &result->terms[t]);
    }
  if (status != WB_CALC_OK)
    return status;
  for (size_t c = 0; c < cells->n; c++)
    between += cells->count[c] * cells->mean[c] * cells->mean[c];
  result->n = data->n;
  result->n_terms = n_terms;
  result->mean = cells->grand_mean;
  result->residual_df = data->n - full.rank;
  result->residual_sum_sq = cells->within + (full.rank < cells->n ? full.residual : 0.0);
  result->residual_mean_sq
      = result->residual_df > 0 ? result->residual_sum_sq / (double) result->residual_df : NAN;
  result->total_df = data->n - 1;
  result->total_sum_sq = cells->within + between;
  result->r_squared
      = result->total_sum_sq > 0.0 ? 1.0 - result->residual_sum_sq / result->total_sum_sq : NAN;
  if (!isfinite (result->mean) || !isfinite (result->total_sum_sq) || !isfinite (result->residual_sum_sq))
    return WB_CALC_BAD_INPUT;
  for (size_t t = 0; t < n_terms; t++)
    {
      if (!isfinite (result->terms[t].sum_sq))
        return WB_CALC_BAD_INPUT;
      finish_term (result, &result->terms[t]);
    }
  return WB_CALC_OK;
}

WbCalcStatus
wb_calc_anova_fit (const WbCalcAnovaData *data,
                   const unsigned        *terms,
                   size_t                 n_terms,
                   WbCalcKeepGoing        keep_going,
                   void                  *user,
                   WbCalcAnova           *result)
{
  Cells cells;
  WbCalcStatus status = check (data, terms, n_terms);

  memset (result, 0, sizeof *result);
  if (status != WB_CALC_OK)
    return status;
  result->terms = calloc (n_terms, sizeof *result->terms);
  status = cells_init (&cells, data);
  if (result->terms == NULL)
    status = WB_CALC_NO_MEMORY;
  if (status == WB_CALC_OK)
    status = analyse (data, terms, n_terms, keep_going, user, &cells, result);
  cells_clear (&cells);
  if (status != WB_CALC_OK)
    wb_calc_anova_clear (result);
  return status;
}

static size_t
count_factors (unsigned term)
{
  size_t count = 0;

  for (; term != 0; term &= term - 1)
    count++;
  return count;
}

size_t
wb_calc_anova_all_terms (size_t    n_factors,
                         size_t    max_order,
                         unsigned *terms)
{
  size_t n_terms = 0;

  if (n_factors > WB_CALC_ANOVA_MAX_FACTORS)
    return 0;
  for (size_t order = 1; order <= max_order && order <= n_factors; order++)
    for (unsigned term = 1; term < 1u << n_factors; term++)
      if (count_factors (term) == order)
        terms[n_terms++] = term;
  return n_terms;
}

WbCalcStatus
wb_calc_anova_one_way (const double *y,
                       const size_t *group,
                       size_t        n,
                       size_t        n_groups,
                       WbCalcAnova  *result)
{
  WbCalcAnovaData data = { n, y, 1, &group, &n_groups };
  unsigned term = 1;
  WbCalcStatus status = wb_calc_anova_fit (&data, &term, 1, NULL, NULL, result);

  if (status == WB_CALC_OK && result->terms[0].df == 0)
    {
      wb_calc_anova_clear (result);
      return WB_CALC_TOO_FEW;
    }
  return status;
}

void
wb_calc_anova_clear (WbCalcAnova *result)
{
  free (result->terms);
  memset (result, 0, sizeof *result);
}
