/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-interval.h"

G_BEGIN_DECLS

/* Mean of a figure on the scale it is estimated on, with the spreads that draws need. */
typedef struct
{
  WbCraftInterval told;     /* in the figure's unit */
  gboolean log_scale;
  double   mean, se;        /* on that scale */
  double   df;
  double   sample_sd;       /* between candles of one recipe, on that scale */
  double   burn_sd;         /* between burns of one candle */
  double   offset;          /* added after going back from the scale: the mean room for the vessel's rise, 0 for others */
  guint    samples, burns;  /* with a value */
} WbCraftEstimate;

G_END_DECLS
