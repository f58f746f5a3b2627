/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-dataset.h"

G_BEGIN_DECLS

/*
 * How figures go together: a candle that melts wide has a tall flame and a warm
 * vessel. From the deviations of the samples within their cells, as each figure's fit
 * has them, the correlation of two figures is that of the samples which have both,
 * drawn towards 0 by SHY further samples without any; it is the correlation of the
 * errors of the cells' means too, which come from the same candles.
 */
typedef struct
{
  guint   n;      /* figures */
  double *root;   /* n × n: lower Cholesky factor of the correlations */
} WbCraftKinship;

/* deviations: n arrays of one number a sample, NAN none; an array may be NULL: goes with nothing. spare: samples less cells. */
void wb_craft_kinship_init  (WbCraftKinship       *self,
                             const double *const  *deviations,
                             guint                 n,
                             guint                 n_samples);
void wb_craft_kinship_clear (WbCraftKinship *self);

G_END_DECLS
