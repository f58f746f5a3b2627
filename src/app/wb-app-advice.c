/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-advice.h"

#include <math.h>

#include "wb-app-ladder-private.h"
#include "wb-app-reader-private.h"
#include "wb-clock.h"
#include "wb-store-records.h"

static WbCraftAdvice *
work_out (const WbCraftAnswer *answer,
          const GPtrArray     *wicks,
          const GArray        *foretold)
{
  return wb_craft_advice_new (answer->data, answer->figures, answer->limits, answer->estimates, answer->ranking, wicks, 0, foretold,
                              wb_clock_now (wb_clock_get ()));
}

static WbAppLadderCrossing
crossing_of (const WbDataset *data,
             guint            cell,
             gint64           wick)
{
  const WbCell *recipe = wb_dataset_get_cell (data, cell);
  const WbVessel *vessel = wb_dataset_get_vessel (data, cell);

  return (WbAppLadderCrossing) {
    .question = {
      .inner_diameter_mm = vessel->inner_diameter_mm,
      .vessel = vessel->name,
      .wax = data->wax != NULL ? data->wax->name : NULL,
      .load_pct = recipe->fragrance != 0 ? recipe->load_pct : 0,
      .load_basis = recipe->load_basis,
      .wicks = (guint) MAX (recipe->wick_count, 1),
      .sizes = 1,
      .protocol = data->protocol,
      .limits = data->limits,
      .profile = data->profile,
      .aims = data->aims,
      .room_cold_c = data->protocol->room_low_c,
      .room_warm_c = data->protocol->room_high_c,
    },
    .wick = wick,
    .p_cross = NAN,
  };
}

/*
 * Of the sizes outside of the test that an advice names as larger ones, what all earlier tests foretell; NULL: it names none, or
 * nothing is foretold. Most advices name none, and are not kept waiting for the others.
 */
static GArray *
foretell (WbStore             *store,
          const WbDataset     *data,
          const WbCraftAdvice *advice,
          GCancellable        *cancellable)
{
  g_autoptr (GArray) asked = g_array_new (FALSE, FALSE, sizeof (WbAppLadderCrossing));
  g_autoptr (GArray) foretold = g_array_new (FALSE, FALSE, sizeof (WbCraftForetoldSize));
  g_autoptr (GError) error = NULL;

  for (guint g = 0; data->protocol != NULL && g < advice->n_groups; g++)
    for (guint i = 0; i < advice->groups[g].n_cells; i++)
      {
        const WbCraftAdvised *advised = &advice->groups[g].cells[i];
        WbAppLadderCrossing one;
        WbCraftForetoldSize size = { advised->cell, advised->next_wick, NAN };

        if (advised->size != WB_CRAFT_SIZE_UP || advised->next_wick == 0 || advised->next_tested)
          continue;
        one = crossing_of (data, advised->cell, advised->next_wick);
        g_array_append_val (asked, one);
        g_array_append_val (foretold, size);
      }
  /* where they cannot be asked the test speaks for itself */
  if (asked->len == 0 || !wb_app_ladder_find_crossings (store, asked, cancellable, &error))
    return NULL;
  for (guint i = 0; i < asked->len; i++)
    g_array_index (foretold, WbCraftForetoldSize, i).p_cross = g_array_index (asked, WbAppLadderCrossing, i).p_cross;
  return g_steal_pointer (&foretold);
}

static gpointer
advise (WbStore      *store,
        gpointer      data,
        GCancellable *cancellable,
        GError      **error)
{
  const WbCraftAnswer *answer = data;
  g_autoptr (GPtrArray) wicks = wb_store_list (store, &wb_wick_type, NULL, 0, error);
  g_autoptr (GArray) foretold = NULL;
  g_autoptr (WbCraftAdvice) advice = NULL;

  if (wicks == NULL)
    return NULL;
  advice = work_out (answer, wicks, NULL);
  foretold = foretell (store, answer->data, advice, cancellable);
  return foretold != NULL ? work_out (answer, wicks, foretold) : g_steal_pointer (&advice);
}

void
wb_app_advice_async (WbAppNotebook      *notebook,
                     WbCraftAnswer      *answer,
                     GCancellable       *cancellable,
                     GAsyncReadyCallback callback,
                     gpointer            user)
{
  GTask *task;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));
  g_return_if_fail (answer != NULL);

  task = g_task_new (notebook, cancellable, callback, user);
  g_task_set_source_tag (task, wb_app_advice_async);
  wb_app_reader_run (notebook, task, advise, wb_craft_answer_ref (answer), (GDestroyNotify) wb_craft_answer_unref,
                     (GDestroyNotify) wb_craft_advice_free);
}

WbCraftAdvice *
wb_app_advice_finish (WbAppNotebook *notebook,
                      GAsyncResult  *result,
                      GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}

WbCraftAdvice *
wb_app_advice_sync (WbAppNotebook *notebook,
                    WbCraftAnswer *answer,
                    GError       **error)
{
  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);
  g_return_val_if_fail (answer != NULL, NULL);
  return wb_app_reader_run_sync (notebook, advise, answer, error);
}
