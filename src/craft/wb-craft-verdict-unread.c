/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-verdict-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* What a verdict had to do without: thirds that nothing tells, figures that were not read. */

gboolean
wb_craft_verdict_counts (const WbDataset *data,
                         guint            sample,
                         guint            cell)
{
  const WbSample *record = wb_dataset_get_sample (data, sample);

  return g_array_index (data->sample_cell, guint, sample) == cell && record->set_aside == NULL
         && record->set_aside_cause < 0;
}

static void
tell_figure (WbCraftRanked     *ranked,
             const WbCraftPart *part)
{
  const char *figure = g_dgettext (GETTEXT_PACKAGE, wb_figure_get_label (part->figure));
  const char *stage = g_dgettext (GETTEXT_PACKAGE, wb_stage_get_label (part->stage));

  /* it may well have been rated among others, where nobody can tell the candles apart */
  if (part->figure == WB_FIGURE_THROW)
    figure = _("Hot throw of a candle alone in its room");
  if (part->dropped)
    wb_craft_reason_name (wb_craft_ranked_add_reason (ranked, "figure_not_read", 0, _("Not read in any combination, so out of the score: %s, %s."),
                              figure, stage), figure, stage);
  else
    wb_craft_reason_name (wb_craft_ranked_add_reason (ranked, "figure_borrowed", 0,
                              _("Not read in this combination, so foretold from its other thirds and from the others: %s, %s."), figure, stage),
                  figure, stage);
}

/* Without a fragrance there is no throw to be missed. */
static gboolean
is_asked (const WbDataset     *data,
          const WbCraftRanked *ranked,
          const WbCraftPart   *part)
{
  return part->figure != WB_FIGURE_THROW || wb_dataset_get_fragrance (data, ranked->cell) != NULL
         || wb_dataset_get_cell (data, ranked->cell)->load_pct > 0;
}

/* A figure of growth may be "never" and yet be read: only the borrowed mark tells. */
static gboolean
is_borrowed (const WbCraftCell *cell,
             const WbCraftPart *part)
{
  if (part->figure == WB_FIGURE_FULL_POOL)
    return cell->stage_growth[part->stage].readings == 0;
  return isnan (part->value);
}

void
wb_craft_verdict_tell_unread (const WbDataset   *data,
                              const WbCraftCell *cell,
                              WbCraftRanked     *ranked)
{
  for (WbStage stage = 0; stage < WB_N_STAGES; stage++)
    {
      gboolean any = FALSE;

      for (guint i = 0; i < ranked->parts->len; i++)
        {
          const WbCraftPart *part = &g_array_index (ranked->parts, WbCraftPart, i);

          any = any || (part->stage == stage && !part->dropped);
        }
      if (!any && ranked->parts->len > 0)
        {
          const char *name = g_dgettext (GETTEXT_PACKAGE, wb_stage_get_label (stage));

          wb_craft_reason_name (wb_craft_ranked_add_reason (ranked, "stage_not_read", 0,
                                    _("Nothing was read in the %s, so it is out of the score."), name), name, NULL);
          continue;
        }
      for (guint i = 0; i < ranked->parts->len; i++)
        {
          const WbCraftPart *part = &g_array_index (ranked->parts, WbCraftPart, i);

          if (part->stage == stage && (part->dropped || is_borrowed (cell, part)) && is_asked (data, ranked, part))
            tell_figure (ranked, part);
        }
    }
}

/* How many samples of the cell have their thirds told by it. */
static guint
count_thirds (const WbDataset      *data,
              const WbCraftFigures *figures,
              guint                 cell,
              WbCraftThirds         thirds)
{
  guint n = 0;

  for (guint i = 0; i < figures->n_samples; i++)
    n += wb_craft_verdict_counts (data, i, cell) && figures->thirds[i] == thirds;
  return n;
}

void
wb_craft_verdict_tell_thirds (const WbDataset      *data,
                              const WbCraftFigures *figures,
                              WbCraftRanked        *ranked)
{
  guint no_fill = count_thirds (data, figures, ranked->cell, WB_CRAFT_THIRDS_NO_FILL);
  guint no_mass = count_thirds (data, figures, ranked->cell, WB_CRAFT_THIRDS_NO_MASS);
  guint of_life = count_thirds (data, figures, ranked->cell, WB_CRAFT_THIRDS_OF_LIFE);
  guint burnt;

  ranked->placed = of_life + count_thirds (data, figures, ranked->cell, WB_CRAFT_THIRDS_OF_FILL);
  burnt = no_fill + no_mass + ranked->placed;
  if (no_fill > 0)
    wb_craft_ranked_add_reason (ranked, "fill_not_known", 0,
                _("Neither tare nor fill nor height of the wax is stated for %u of %u samples, and no end of life with the mass: all of their burns count as the upper third."),
                no_fill, burnt);
  if (no_mass > 0)
    wb_craft_ranked_add_reason (ranked, "not_weighed", 0,
                _("Not weighed: %u of %u samples. How far down they burnt is not known, and all of their burns count as the upper third."),
                no_mass, burnt);
  if (of_life > 0)
    wb_craft_ranked_add_reason (ranked, "thirds_of_life", 0,
                _("Neither tare nor fill is stated for %u of %u samples: their thirds are of what they burnt until their end of life."),
                of_life, burnt);
}
