/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-advice-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-words-private.h"

/* Weak hot throw in an advice: it asks for no larger wick. */

#define WEAK_THROW 2.5 /* half of what the house profile asks, of 5 */

/* The typical flat of an aim holds the figure as told. */
static gboolean
meets_aim (const WbCraftAdvising *self,
           guint                  cell,
           WbFigure               figure)
{
  const WbCraftCell *estimate = &self->estimates->cells[cell];

  for (guint i = 0; i < self->data->aims->len; i++)
    {
      const WbAim *aim = g_ptr_array_index (self->data->aims, i);
      double value = NAN;

      if (aim->figure != (int) figure || aim->stage < 0 || aim->stage >= WB_N_STAGES)
        continue;
      if (figure == WB_FIGURE_FULL_POOL)
        value = (estimate->stage_growth[aim->stage].status == WB_CRAFT_FIT_ALL_AT_WALL ? estimate->stage_growth[aim->stage].at_wall_h
                                                                                       : estimate->stage_growth[aim->stage].full_pool_h.value)
                / wb_craft_cell_get_due_h (self->data, cell, (WbStage) aim->stage);
      else
        value = estimate->stage_figure[aim->stage][figure].told.value;
      if (figure == WB_FIGURE_FULL_POOL && value <= self->data->protocol->window_high)
        return TRUE;
      if (figure == WB_FIGURE_DEPTH && value >= aim->one_from)
        return TRUE;
      /* its aim has no lower end: half way to it from the room it is warm */
      if (figure == WB_FIGURE_VESSEL && value >= (self->estimates->room_c + aim->one_to) / 2)
        return TRUE;
    }
  return FALSE;
}

/* "2 (burn 3 of C5-1)"; NULL: none was told. Caller frees. */
static char *
dup_weakest_throw (const WbCraftAdvising *self,
                   guint                  cell)
{
  const WbCraftBurn *weakest = NULL;
  g_autofree char *number = NULL;

  for (guint i = 0; i < self->figures->n_burns; i++)
    {
      const WbCraftBurn *burn = &self->figures->burns[i];

      if (burn->cell == cell && burn->throw_n > 0 && (weakest == NULL || burn->throw_rating < weakest->throw_rating))
        weakest = burn;
    }
  if (weakest == NULL)
    return NULL;
  number = wb_number_format (weakest->throw_rating, 1, NULL);
  return wb_craft_advice_dup_at (self, number, weakest->sample, weakest->burn);
}

void
wb_craft_advice_tell_throw (const WbCraftAdvising *self,
                            WbCraftAdvised        *advised)
{
  const WbCraftEstimate *throw = &self->estimates->cells[advised->cell].figure[WB_FIGURE_THROW];
  g_autoptr (GPtrArray) met = g_ptr_array_new ();
  g_autofree char *rating = NULL, *words = NULL, *number = NULL, *weakest = NULL;

  if (!(throw->told.value < WEAK_THROW))
    return;
  number = wb_number_format (throw->told.value, 1, NULL);
  weakest = dup_weakest_throw (self, advised->cell);
  /* Translators: a rating of 5; where the weakest was told: "2 (burn 3 of C5-1)". */
  rating = weakest != NULL ? g_strdup_printf (_("%s of 5; the weakest: %s"), number, weakest) : g_strdup_printf (_("%s of 5"), number);
  if (meets_aim (self, advised->cell, WB_FIGURE_FULL_POOL))
    g_ptr_array_add (met, (gpointer) _("melt pool"));
  if (meets_aim (self, advised->cell, WB_FIGURE_DEPTH))
    g_ptr_array_add (met, (gpointer) _("depth"));
  if (meets_aim (self, advised->cell, WB_FIGURE_VESSEL))
    g_ptr_array_add (met, (gpointer) _("heat of the vessel"));
  if (met->len == 0)
    {
      g_ptr_array_add (advised->reasons, g_strdup_printf (_("Its hot throw is weak (%s): look at cure, fragrance, load and room first; that alone is no reason for a larger wick."), rating));
      return;
    }
  words = wb_craft_words_join (met);
  /* Translators: a rating; "melt pool and depth". */
  g_ptr_array_add (advised->reasons, g_strdup_printf (_("Its hot throw is weak (%s), but %s are as they should be: look at cure, fragrance, load and room, not for a larger wick."), rating, words));
}
