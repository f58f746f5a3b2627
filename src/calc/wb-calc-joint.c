/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-joint.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

/* Lower factor in place, n x n. FALSE: it is not positive definite, or not finite. */
static bool
take_root (double *a,
           size_t  n)
{
  for (size_t j = 0; j < n; j++)
    {
      const double *row_j = a + j * n;
      double pivot = row_j[j];

      for (size_t k = 0; k < j; k++)
        pivot -= row_j[k] * row_j[k];
      if (!(pivot > 0.0) || !isfinite (pivot))
        return false;
      pivot = sqrt (pivot);
      a[j * n + j] = pivot;
      for (size_t i = j + 1; i < n; i++)
        {
          double *row_i = a + i * n, sum = row_i[j];

          for (size_t k = 0; k < j; k++)
            sum -= row_i[k] * row_j[k];
          row_i[j] = sum / pivot;
        }
    }
  return true;
}

/* The inverse of a lower triangle, in place. */
static void
invert_lower (double *l,
              size_t  n)
{
  for (size_t j = 0; j < n; j++)
    {
      l[j * n + j] = 1.0 / l[j * n + j];
      for (size_t i = j + 1; i < n; i++)
        {
          double sum = 0.0;

          for (size_t k = j; k < i; k++)
            sum -= l[i * n + k] * l[k * n + j];
          l[i * n + j] = sum / l[i * n + i];
        }
    }
}

/* The inverse of the lower factor of A, the covariance of the factors by the model alone; NULL with *status. */
static double *
invert_root (const WbCalcJointTold *told,
             WbCalcStatus          *status)
{
  size_t n = told->n;
  double *root = malloc ((n * n + 1) * sizeof *root);

  *status = root == NULL ? WB_CALC_NO_MEMORY : WB_CALC_OK;
  for (size_t i = 0; i < n && *status == WB_CALC_OK; i++)
    {
      if (!(fabs (told->with[i]) < 1.0) || !isfinite (told->mean[i]))
        *status = WB_CALC_BAD_INPUT;
      for (size_t j = 0; j <= i; j++)
        root[i * n + j] = told->with[i] * told->with[j] * told->covariance[i * told->stride + j];
      root[i * n + i] += 1.0 - told->with[i] * told->with[i];
    }
  if (*status == WB_CALC_OK && !take_root (root, n))
    *status = WB_CALC_BAD_INPUT;
  if (*status == WB_CALC_OK)
    invert_lower (root, n);
  else
    {
      free (root);
      root = NULL;
    }
  return root;
}

WbCalcStatus
wb_calc_joint_add (const WbCalcJointTold *told,
                   size_t                 n_factors,
                   double                *pull,
                   double                *precision)
{
  size_t n = told->n;
  WbCalcStatus status;
  double *root;

  for (size_t i = 0; i < n; i++)
    if (told->factor[i] >= n_factors)
      return WB_CALC_BAD_INPUT;
  root = invert_root (told, &status);
  if (root == NULL)
    return status;
  /* column by column of root' root = A^-1 */
  for (size_t i = 0; i < n; i++)
    for (size_t j = 0; j < n; j++)
      {
        double sum = 0.0;

        for (size_t k = i > j ? i : j; k < n; k++)
          sum += root[k * n + i] * root[k * n + j];
        pull[told->factor[i]] += sum * told->with[j] * told->mean[j];
        precision[told->factor[i] * n_factors + told->factor[j]] += sum - (i == j ? 1.0 : 0.0);
      }
  free (root);
  return WB_CALC_OK;
}

WbCalcStatus
wb_calc_joint_solve (size_t        n_factors,
                     const double *pull,
                     const double *precision,
                     double       *mean,
                     double       *root)
{
  size_t n = n_factors;

  for (size_t i = 0; i < n; i++)
    {
      for (size_t j = 0; j < n; j++)
        root[i * n + j] = precision[i * n + j];
      root[i * n + i] += 1.0;
    }
  if (!take_root (root, n))
    return WB_CALC_BAD_INPUT;
  invert_lower (root, n);
  /* the covariance is root' root, so that root' is a root of it */
  for (size_t i = 0; i < n; i++)
    for (size_t j = 0; j < i; j++)
      {
        root[j * n + i] = root[i * n + j];
        root[i * n + j] = 0.0;
      }
  for (size_t i = 0; i < n; i++)
    mean[i] = 0.0;
  for (size_t k = 0; k < n; k++)
    {
      double sum = 0.0;

      for (size_t j = 0; j <= k; j++)
        sum += root[j * n + k] * pull[j];
      for (size_t i = 0; i <= k; i++)
        mean[i] += root[i * n + k] * sum;
    }
  for (size_t i = 0; i < n; i++)
    if (!isfinite (mean[i]))
      return WB_CALC_BAD_INPUT;
  return WB_CALC_OK;
}

/* One row of what is asked: half = root R (its covariances with z), and gain = root' half. */
static void
put_gain (const WbCalcJointTold *told,
          const double          *root,
          const double          *cross,
          size_t                 cross_stride,
          double                *half,
          double                *gain)
{
  size_t n = told->n;

  for (size_t i = 0; i < n; i++)
    gain[i] = 0.0;
  for (size_t k = 0; k < n; k++)
    {
      double sum = 0.0;

      for (size_t j = 0; j <= k; j++)
        sum += root[k * n + j] * told->with[j] * cross[j * cross_stride];
      half[k] = sum;
      for (size_t j = 0; j <= k; j++)
        gain[j] += root[k * n + j] * sum;
    }
}

WbCalcStatus
wb_calc_joint_condition (const WbCalcJointTold *told,
                         const double          *cross,
                         size_t                 cross_stride,
                         size_t                 n_asked,
                         double                *mean,
                         double                *covariance,
                         size_t                 stride,
                         double                *gain)
{
  size_t n = told->n;
  WbCalcStatus status;
  double *root = invert_root (told, &status), *half;

  if (root == NULL)
    return status;
  half = malloc ((n_asked * n + 1) * sizeof *half);
  if (half == NULL)
    {
      free (root);
      return WB_CALC_NO_MEMORY;
    }
  for (size_t i = 0; i < n_asked; i++)
    {
      put_gain (told, root, cross + i, cross_stride, half + i * n, gain + i * n);
      for (size_t j = 0; j < n; j++)
        mean[i] -= gain[i * n + j] * told->with[j] * told->mean[j];
      for (size_t j = 0; j <= i; j++)
        for (size_t k = 0; k < n; k++)
          covariance[i * stride + j] -= half[i * n + k] * half[j * n + k];
    }
  for (size_t i = 0; i < n_asked && status == WB_CALC_OK; i++)
    if (!isfinite (mean[i]) || !isfinite (covariance[i * stride + i]))
      status = WB_CALC_BAD_INPUT;
  free (half);
  free (root);
  return status;
}
