/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-ordinal.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>

/* Chances of the intervals between thresholds under a normal at `centre` with sd `spread`. */
static void
chances_under (const double *threshold,
               size_t        n_categories,
               double        centre,
               double        spread,
               double       *chances)
{
  double below = 0.0;
  double above = 1.0;

  for (size_t k = 0; k + 1 < n_categories; k++)
    {
      double z = (threshold[k] - centre) / spread * M_SQRT1_2;
      double next_below = 0.5 * erfc (-z);
      double next_above = 0.5 * erfc (z);

      /* Of the two differences the one of the smaller numbers keeps its digits. */
      chances[k] = next_below < 0.5 ? next_below - below : above - next_above;
      below = next_below;
      above = next_above;
    }
  chances[n_categories - 1] = above;
}

void
wb_calc_ordinal_chances (const WbCalcOrdinalDraws *draws,
                         size_t                    draw,
                         size_t                    group,
                         double                    z,
                         double                   *chances)
{
  chances_under (draws->threshold + draw * (draws->n_categories - 1), draws->n_categories,
                 draws->eta[draw * draws->n_groups + group] + draws->unit_sd[draw] * z, 1.0, chances);
}

void
wb_calc_ordinal_chances_next (const WbCalcOrdinalDraws *draws,
                              size_t                    draw,
                              size_t                    group,
                              double                   *chances)
{
  chances_under (draws->threshold + draw * (draws->n_categories - 1), draws->n_categories,
                 draws->eta[draw * draws->n_groups + group],
                 sqrt (1.0 + draws->unit_sd[draw] * draws->unit_sd[draw]), chances);
}

WbCalcStatus
wb_calc_ordinal_summarise (const WbCalcOrdinalDraws *draws,
                           size_t                    group,
                           double                    level,
                           WbCalcOrdinalSummary     *summary)
{
  double chances[WB_CALC_ORDINAL_MAX_CATEGORIES];
  double *means;

  memset (summary, 0, sizeof *summary);
  if (group >= draws->n_groups || !(level > 0.0 && level < 1.0))
    return WB_CALC_BAD_INPUT;
  means = calloc (draws->n_draws, sizeof *means);
  if (means == NULL)
    return WB_CALC_NO_MEMORY;
  for (size_t d = 0; d < draws->n_draws; d++)
    {
      wb_calc_ordinal_chances_next (draws, d, group, chances);
      for (size_t k = 0; k < draws->n_categories; k++)
        {
          means[d] += (double) k * chances[k];
          summary->chance[k] += chances[k] / (double) draws->n_draws;
        }
      summary->mean += means[d] / (double) draws->n_draws;
    }
  gsl_sort (means, 1, draws->n_draws);
  summary->low = gsl_stats_quantile_from_sorted_data (means, 1, draws->n_draws, 0.5 * (1.0 - level));
  summary->high = gsl_stats_quantile_from_sorted_data (means, 1, draws->n_draws, 0.5 * (1.0 + level));
  free (means);
  return WB_CALC_OK;
}
