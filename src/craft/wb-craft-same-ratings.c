/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-same-ratings.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-estimates-private.h"

/* Where all burns are of one third their ratings stand there alone. */
static const WbCraftRatings *
find_ratings (const WbCraftEstimates *estimates,
              WbFigure                figure,
              WbStage                 asked)
{
  const WbCraftRatings *found = wb_craft_estimates_find_ratings (estimates, figure, asked);

  for (WbStage stage = 0; stage < WB_N_STAGES && found == NULL && asked == WB_STAGE_ALL; stage++)
    found = wb_craft_estimates_find_ratings (estimates, figure, stage);
  return found;
}

GArray *
wb_craft_same_ratings_new (const WbCraftEstimates *estimates,
                    WbStage                 stage)
{
  GArray *all = g_array_new (FALSE, FALSE, sizeof (WbCraftSameRatings));

  g_return_val_if_fail (estimates != NULL, all);

  for (WbFigure figure = 0; figure < WB_N_FIGURES; figure++)
    {
      const WbCraftRatings *ratings = find_ratings (estimates, figure, stage);
      WbCraftSameRatings same = { .figure = figure };

      if (ratings == NULL || !ratings->all_same)
        continue;
      same.rating = ratings->lowest + (guint) ratings->draws.same_category;
      same.differs_at_most = ratings->draws.differs_at_most;
      for (guint i = 0; i < estimates->n_cells; i++)
        {
          same.burns += estimates->cells[i].figure[figure].burns;
          same.samples += estimates->cells[i].figure[figure].samples;
        }
      g_array_append_val (all, same);
    }
  return all;
}

char *
wb_craft_same_ratings_dup_text (const WbCraftSameRatings *same)
{
  const char *figure;
  g_autofree char *samples = NULL;
  g_autofree char *burns = NULL;
  g_autofree char *candles = NULL;
  long most;

  g_return_val_if_fail (same != NULL, NULL);

  figure = g_dgettext (GETTEXT_PACKAGE, wb_figure_get_label (same->figure));
  samples = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u sample", "%u samples", same->samples), same->samples);
  burns = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u burn", "%u burns", same->burns), same->burns);
  /* a bound is not rounded down */
  most = (long) ceil (100 * same->differs_at_most);
  candles = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "at most %ld candle in 100", "at most %ld candles in 100", (gulong) most), most);
  if (same->rating == 0)
    /* Translators: "Soot"; "40 burns"; "20 samples"; "at most 11 candles in 100". */
    return g_strdup_printf (_("%s was never seen in %s of %s: %s would show any (90 in 100 sure)."), figure, burns, samples, candles);
  /* Translators: "Mushroom"; a rating; "40 burns"; "20 samples"; "at most 11 candles in 100". */
  return g_strdup_printf (_("%s was rated %u in each of %s of %s: %s would be rated otherwise (90 in 100 sure)."), figure, same->rating, burns,
                          samples, candles);
}
