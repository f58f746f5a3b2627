/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-trials-private.h"

#include "wb-craft-burn-private.h"
#include "wb-craft-stops-private.h"
#include "wb-craft-verdict-private.h"

static gboolean
was_burnt (const WbDataset      *data,
           const WbCraftFigures *figures,
           guint                 sample)
{
  for (guint i = 0; i < figures->n_burns; i++)
    if (figures->burns[i].sample == sample && wb_craft_burn_is_done (data, &figures->burns[i]))
      return TRUE;
  return FALSE;
}

static void
count_sample (const WbDataset      *data,
              const WbCraftFigures *figures,
              guint                 sample,
              gboolean              counts,
              WbCraftTrials        *into)
{
  g_autoptr (GArray) limits = wb_craft_limits_of_sample (data, figures, sample);
  gboolean crossed = FALSE, happened = FALSE;

  for (guint i = 0; i < limits->len; i++)
    {
      WbFigure figure;

      if (g_array_index (limits, WbCraftLimit, i).state != WB_CRAFT_LIMIT_CROSSED)
        continue;
      crossed = TRUE;
      happened = happened || !wb_craft_stops_find_figure (g_ptr_array_index (data->limits, i), &figure);
    }
  into->burnt += crossed || (counts && was_burnt (data, figures, sample));
  into->crossed += crossed;
  /* what is set aside is out of the score, which alone this is for */
  into->happened += counts && happened;
}

WbCraftTrials
wb_craft_trials_count (const WbDataset      *data,
                       const WbCraftFigures *figures,
                       guint                 cell)
{
  WbCraftTrials trials = { 0 };

  for (guint i = 0; i < data->samples->len; i++)
    if (g_array_index (data->sample_cell, guint, i) == cell)
      count_sample (data, figures, i, wb_craft_verdict_counts (data, i, cell), &trials);
  return trials;
}

double
wb_craft_trials_expect (guint seen,
                        guint n)
{
  g_return_val_if_fail (seen <= n, 1);

  return seen > 0 ? (seen + 0.5) / (n + 1.0) : 0;
}
