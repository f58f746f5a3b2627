/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-check-burn-private.h"

#include "wb-app-lot-trace-private.h"
#include "wb-app-notebook-private.h"
#include "wb-app-reader-private.h"
#include "wb-app-stamp-private.h"
#include "wb-craft-recipe.h"
#include "wb-store-records.h"

static void
unref_load (gpointer load)
{
  wb_app_bench_load_unref (load);
}

static gboolean
has_check (const WbDataset *data)
{
  for (guint i = 0; i < data->burns->len; i++)
    if (wb_dataset_get_burn (data, i)->kind == WB_BURN_CHECK)
      return TRUE;
  return FALSE;
}

/* The newest decision of the cell's recipe in those loads; NULL: none. */
static const WbAppBenchLoad *
find_approved (const GPtrArray *loads,
               const WbDataset *data,
               guint            cell,
               guint           *approved_cell,
             WbInstant       *signed_at)
{
  const WbAppBenchLoad *found = NULL;
  gint64 newest = G_MININT64;

  for (guint i = 0; i < loads->len; i++)
    {
      const WbAppBenchLoad *load = g_ptr_array_index (loads, i);

      for (guint k = 0; k < load->data->decisions->len; k++)
        {
          const WbDecision *decision = g_ptr_array_index (load->data->decisions, k);
          guint decided = wb_app_lot_find_cell (load->data, decision->cell);
          gint64 at = decision->signed_at.known ? decision->signed_at.utc_us : decision->record.id;

          if (decided == G_MAXUINT || at <= newest || !wb_craft_recipe_is_same (data, cell, load->data, decided))
            continue;
          found = load;
          *approved_cell = decided;
          *signed_at = decision->signed_at;
          newest = at;
        }
    }
  return found;
}

/* The experiment's own load, then those of every other that was decided. */
static GPtrArray *
read_loads (WbStore    *store,
            WbAppLoads *loads,
            gint64      experiment,
            GError    **error)
{
  g_autoptr (GHashTable) stamps = wb_app_stamp_list (store, error);
  g_autoptr (GPtrArray) decisions = stamps != NULL ? wb_store_list (store, &wb_decision_type, NULL, 0, error) : NULL;
  g_autoptr (GPtrArray) all = g_ptr_array_new_with_free_func (unref_load);
  WbAppBenchLoad *own = decisions != NULL ? wb_app_loads_get (loads, store, experiment, wb_app_stamp_find (stamps, experiment), error) : NULL;

  if (own == NULL)
    return NULL;
  g_ptr_array_add (all, own);
  for (guint i = 0; has_check (own->data) && i < decisions->len; i++)
    {
      gint64 of = ((const WbDecision *) g_ptr_array_index (decisions, i))->experiment;
      WbAppBenchLoad *load = of != experiment ? wb_app_loads_get (loads, store, of, wb_app_stamp_find (stamps, of), error) : NULL;

      if (load != NULL)
        g_ptr_array_add (all, load);
      else if (of != experiment)
        return NULL;
    }
  return g_steal_pointer (&all);
}

GPtrArray *
wb_app_check_burns_read (WbStore    *store,
                         WbAppLoads *loads,
                         gint64      experiment,
                         GError    **error)
{
  g_autoptr (GPtrArray) all = read_loads (store, loads, experiment, error);
  GPtrArray *checks;
  const WbAppBenchLoad *own;

  if (all == NULL)
    return NULL;
  own = g_ptr_array_index (all, 0);
  checks = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_craft_check_burn_free);
  for (guint i = 0; i < own->data->burns->len; i++)
    {
      guint cell = g_array_index (own->data->sample_cell, guint, g_array_index (own->data->burn_sample, guint, i)), decided = 0;
      const WbAppBenchLoad *approved;
      WbInstant signed_at = WB_INSTANT_NONE;

      if (wb_dataset_get_burn (own->data, i)->kind != WB_BURN_CHECK)
        continue;
      approved = find_approved (all, own->data, cell, &decided, &signed_at);
      g_ptr_array_add (checks, wb_craft_check_burn_new (own->data, own->figures, i, approved != NULL ? approved->data : NULL,
                                                        approved != NULL ? approved->figures : NULL, decided, signed_at));
    }
  return checks;
}

typedef struct
{
  WbAppLoads *loads;
  gint64      experiment;
} Question;

static void
question_free (gpointer data)
{
  wb_app_loads_unref (((Question *) data)->loads);
  g_free (data);
}

static gpointer
read_checks (WbStore      *store,
             gpointer      data,
             GCancellable *cancellable,
             GError      **error)
{
  const Question *question = data;

  return wb_app_check_burns_read (store, question->loads, question->experiment, error);
}

void
wb_app_check_burns_async (WbAppNotebook      *notebook,
                          gint64              experiment,
                          GCancellable       *cancellable,
                          GAsyncReadyCallback callback,
                          gpointer            user)
{
  Question *question;
  GTask *task;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));

  question = g_new0 (Question, 1);
  question->loads = wb_app_loads_ref (wb_app_notebook_get_loads (notebook));
  question->experiment = experiment;
  task = g_task_new (notebook, cancellable, callback, user);
  g_task_set_source_tag (task, wb_app_check_burns_async);
  wb_app_reader_run (notebook, task, read_checks, question, question_free, (GDestroyNotify) g_ptr_array_unref);
}

GPtrArray *
wb_app_check_burns_finish (WbAppNotebook *notebook,
                           GAsyncResult  *result,
                           GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}

GPtrArray *
wb_app_check_burns_sync (WbAppNotebook *notebook,
                         gint64         experiment,
                         GError       **error)
{
  Question question = { wb_app_notebook_get_loads (notebook), experiment };

  return wb_app_reader_run_sync (notebook, read_checks, &question, error);
}
