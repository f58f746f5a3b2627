/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-kinship-private.h"

#include <math.h>

#define SHY 6.0        /* samples without any correlation that are thrown in */
#define MOST 0.95      /* a correlation is never taken for sure */
#define FEWEST 4       /* samples in common that say anything */
#define GIVE 0.9       /* by which all correlations shrink until the matrix is one of correlations */

static double
correlate (const double *one,
           const double *other,
           guint         n_samples)
{
  double products = 0, squares = 0, other_squares = 0;
  guint n = 0;

  for (guint i = 0; one != NULL && other != NULL && i < n_samples; i++)
    if (!isnan (one[i]) && !isnan (other[i]))
      {
        products += one[i] * other[i];
        squares += one[i] * one[i];
        other_squares += other[i] * other[i];
        n++;
      }
  if (n < FEWEST || !(squares > 0) || !(other_squares > 0))
    return 0;
  return CLAMP (products / sqrt (squares * other_squares) * n / (n + SHY), -MOST, MOST);
}

/* Lower Cholesky factor of correlations shrunk by `share`; FALSE: they are none. */
static gboolean
take_root (const double *correlation,
           guint         n,
           double        share,
           double       *root)
{
  for (guint i = 0; i < n; i++)
    for (guint j = 0; j <= i; j++)
      {
        double sum = i == j ? 1 : share * correlation[i * n + j];

        for (guint k = 0; k < j; k++)
          sum -= root[i * n + k] * root[j * n + k];
        if (i == j && !(sum > 0.01))
          return FALSE;
        root[i * n + j] = i == j ? sqrt (sum) : sum / root[j * n + j];
      }
  return TRUE;
}

void
wb_craft_kinship_init (WbCraftKinship       *self,
                       const double *const  *deviations,
                       guint                 n,
                       guint                 n_samples)
{
  g_autofree double *correlation = g_new0 (double, (gsize) MAX (n, 1) * MAX (n, 1));
  double share = 1;

  self->n = n;
  self->root = g_new0 (double, (gsize) MAX (n, 1) * MAX (n, 1));
  for (guint i = 0; i < n; i++)
    for (guint j = 0; j < i; j++)
      correlation[i * n + j] = correlate (deviations[i], deviations[j], n_samples);
  while (!take_root (correlation, n, share, self->root))
    share *= GIVE;
}

void
wb_craft_kinship_clear (WbCraftKinship *self)
{
  g_free (self->root);
}
