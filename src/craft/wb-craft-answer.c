/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-answer.h"

#include "wb-craft-memo-private.h"

#define FIGURES_SHARE 0.1    /* of the progress told */
#define ESTIMATES_SHARE 0.5

static guint64
seed_of (const WbDataset *data,
         guint64          seed)
{
  if (seed != 0)
    return seed;
  return data->experiment != NULL && data->experiment->seed > 0 ? (guint64) data->experiment->seed : 1;
}

WbCraftAnswer *
wb_craft_answer_new_after (WbCraftMemo      *before,
                           WbDataset        *data,
                           WbCraftEarlier   *earlier,
                           WbCraftWithin     within,
                           guint64           seed,
                           WbCraftKeepGoing  keep_going,
                           gpointer          user)
{
  g_autoptr (WbCraftAnswer) self = g_new0 (WbCraftAnswer, 1);
  WbCraftProgress progress = { keep_going, user, FIGURES_SHARE, ESTIMATES_SHARE };

  g_return_val_if_fail (data != NULL, NULL);

  g_atomic_ref_count_init (&self->ref_count);
  g_mutex_init (&self->effects_lock);
  self->data = data;
  self->figures = wb_craft_figures_new (data);
  self->limits = wb_craft_limits_new (data, self->figures);
  self->estimates = wb_craft_estimates_new_after (before, data, self->figures, WB_STAGE_ALL, earlier, wb_craft_progress_on_part, &progress);
  if (self->estimates == NULL)
    return NULL;
  progress.from = ESTIMATES_SHARE;
  progress.to = 1;
  self->ranking = wb_craft_ranking_new (data, self->figures, self->limits, self->estimates, within, seed_of (data, seed), 0,
                                        wb_craft_progress_on_part, &progress);
  if (self->ranking == NULL)
    return NULL;
  /* what the answer before had and this one did not ask for goes with that one */
  wb_craft_memo_close (self->estimates->memo);
  return g_steal_pointer (&self);
}

WbCraftAnswer *
wb_craft_answer_new (WbDataset        *data,
                     WbCraftEarlier   *earlier,
                     WbCraftWithin     within,
                     guint64           seed,
                     WbCraftKeepGoing  keep_going,
                     gpointer          user)
{
  return wb_craft_answer_new_after (NULL, data, earlier, within, seed, keep_going, user);
}

WbCraftAnswer *
wb_craft_answer_ref (WbCraftAnswer *self)
{
  g_return_val_if_fail (self != NULL, NULL);

  g_atomic_ref_count_inc (&self->ref_count);
  return self;
}

void
wb_craft_answer_unref (WbCraftAnswer *self)
{
  if (self == NULL || !g_atomic_ref_count_dec (&self->ref_count))
    return;
  for (guint figure = 0; figure < WB_N_FIGURES; figure++)
    g_clear_pointer (&self->effects[figure], wb_craft_effects_free);
  g_mutex_clear (&self->effects_lock);
  g_clear_pointer (&self->ranking, wb_craft_ranking_free);
  g_clear_pointer (&self->estimates, wb_craft_estimates_free);
  g_clear_pointer (&self->limits, wb_craft_limits_free);
  g_clear_pointer (&self->figures, wb_craft_figures_free);
  g_clear_pointer (&self->data, wb_dataset_free);
  g_free (self);
}

const WbCraftEffects *
wb_craft_answer_get_effects (const WbCraftAnswer *self,
                             WbFigure             figure)
{
  /* what is asked does not change by being worked out */
  WbCraftAnswer *kept = (WbCraftAnswer *) self;
  const WbCraftEffects *found;
  WbCraftEffects *made;

  g_return_val_if_fail (self != NULL && figure < WB_N_FIGURES, NULL);

  g_mutex_lock (&kept->effects_lock);
  found = kept->effects[figure];
  g_mutex_unlock (&kept->effects_lock);
  if (found != NULL)
    return found;

  /* outside the lock, so that whoever asks for another figure, or for one that is there, does not wait for this one */
  made = wb_craft_effects_new (self->data, self->figures, self->estimates, figure);
  g_mutex_lock (&kept->effects_lock);
  if (kept->effects[figure] == NULL)
    kept->effects[figure] = g_steal_pointer (&made);
  found = kept->effects[figure];
  g_mutex_unlock (&kept->effects_lock);
  g_clear_pointer (&made, wb_craft_effects_free);
  return found;
}
