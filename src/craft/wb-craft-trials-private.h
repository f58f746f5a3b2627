/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-limits.h"

G_BEGIN_DECLS

/*
 * The samples of a combination as trials: of so many that were burnt so many crossed a limit. It is counted whatever shows the
 * crossing: a reading of a burn of any kind, a burn that was snuffed for it, a logger's file. A sample that was set aside is a trial only
 * where it crossed: to set it aside clears no limit, nor is the chance told without it.
 * A sample that was not burnt to its end counts as one that did not cross so far.
 */
typedef struct
{
  guint burnt;
  guint crossed;   /* any limit */
  guint happened;  /* a limit that no draw has, of samples that count: glass that cracked, flames that merged, a base too hot, ... */
} WbCraftTrials;

WbCraftTrials wb_craft_trials_count  (const WbDataset      *data,
                                      const WbCraftFigures *figures,
                                      guint                 cell);
/*
 * The chance of it for the next sample where it was seen in `seen` of `n`, at most: (seen + ½) / (n + 1), the mean of the posterior
 * under Jeffreys' prior, Beta (½, ½), of which the Jeffreys interval has the quantiles (Brown, Cai and DasGupta, Statistical
 * Science 16 (2001) 101-133). 0 where it was never seen: what was never seen is the draws' to tell.
 */
double        wb_craft_trials_expect (guint                 seen,
                                      guint                 n);

G_END_DECLS
