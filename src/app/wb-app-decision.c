/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-decision.h"

#include "wb-app-lot-trace-private.h"
#include "wb-app-notebook-private.h"
#include "wb-app-reader-private.h"
#include "wb-app-touched-private.h"
#include "wb-craft-recipe.h"
#include "wb-store-records.h"

#include <glib/gi18n-lib.h>

/* ---- Those of an experiment ---- */

static void
withdrawn_free (gpointer data)
{
  WbAppWithdrawn *self = data;

  g_free (self->who);
  g_free (self->why);
  g_free (self);
}

void
wb_app_decisions_free (WbAppDecisions *self)
{
  if (self == NULL)
    return;
  g_clear_pointer (&self->decisions, g_ptr_array_unref);
  g_ptr_array_unref (self->withdrawn);
  g_free (self);
}

static gboolean
is_of_group (const WbDataset    *data,
             const WbCraftGroup *group,
             gint64              cell)
{
  guint index = wb_app_lot_find_cell (data, cell);

  return index != G_MAXUINT && wb_craft_recipe_is_same_candle (data, index, data, group->vessel);
}

const WbAppTouched *
wb_app_decisions_find (const WbAppDecisions *self,
                       const WbDataset      *data,
                       const WbCraftGroup   *group)
{
  const WbAppTouched *found = NULL;

  g_return_val_if_fail (self != NULL && data != NULL && group != NULL, NULL);

  for (guint i = 0; i < self->decisions->len; i++)
    {
      const WbAppTouched *decision = g_ptr_array_index (self->decisions, i);

      if (is_of_group (data, group, decision->record->cell) && (found == NULL || found->replaced_by != NULL || decision->replaced_by == NULL))
        found = decision;
    }
  return found;
}

const WbAppWithdrawn *
wb_app_decisions_find_withdrawn (const WbAppDecisions *self,
                                 const WbDataset      *data,
                                 const WbCraftGroup   *group)
{
  const WbAppWithdrawn *found = NULL;

  if (wb_app_decisions_find (self, data, group) != NULL)
    return NULL;
  for (guint i = 0; i < self->withdrawn->len; i++)
    {
      const WbAppWithdrawn *withdrawn = g_ptr_array_index (self->withdrawn, i);

      if (is_of_group (data, group, withdrawn->cell))
        found = withdrawn;
    }
  return found;
}

/* By the entry, since a clock may have been set back; a record's id says when it was signed first, not when it was withdrawn. */
static int
compare_withdrawn (gconstpointer a,
                   gconstpointer b)
{
  const WbAppWithdrawn *one = *(const WbAppWithdrawn *const *) a, *other = *(const WbAppWithdrawn *const *) b;

  return (one->entry > other->entry) - (one->entry < other->entry);
}

/* The newest version of each that is a deletion; what an undone signature leaves behind was never withdrawn. */
static gboolean
read_withdrawn (WbStore   *store,
                gint64     experiment,
                GPtrArray *into,
                GError   **error)
{
  g_autoptr (GPtrArray) versions = wb_store_list_versions (store, &wb_decision_type, "experiment", experiment, error);

  for (guint i = 0; versions != NULL && i < versions->len; i++)
    {
      const WbDecision *version = g_ptr_array_index (versions, i);
      const WbDecision *next = i + 1 < versions->len ? g_ptr_array_index (versions, i + 1) : NULL;
      g_autoptr (WbEntry) entry = NULL;
      WbAppWithdrawn *withdrawn;

      if (!version->record.deleted || (next != NULL && next->record.id == version->record.id))
        continue;
      entry = wb_store_load_entry (store, version->record.entry, error);
      if (entry == NULL)
        return FALSE;
      if (entry->undoes != 0)
        continue;
      withdrawn = g_new0 (WbAppWithdrawn, 1);
      *withdrawn = (WbAppWithdrawn) { version->cell, entry->number, g_strdup (entry->who), entry->at, g_strdup (entry->why) };
      g_ptr_array_add (into, withdrawn);
    }
  g_ptr_array_sort (into, compare_withdrawn);
  return versions != NULL;
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
read_decisions (WbStore      *store,
                gpointer      data,
                GCancellable *cancellable,
                GError      **error)
{
  const Question *question = data;
  g_autoptr (WbAppDecisions) self = g_new0 (WbAppDecisions, 1);

  self->withdrawn = g_ptr_array_new_with_free_func (withdrawn_free);
  self->decisions = wb_app_touched_read_all (store, question->loads, question->experiment, error);
  if (self->decisions == NULL || !read_withdrawn (store, question->experiment, self->withdrawn, error))
    return NULL;
  return g_steal_pointer (&self);
}

void
wb_app_decisions_async (WbAppNotebook      *notebook,
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
  g_task_set_source_tag (task, wb_app_decisions_async);
  wb_app_reader_run (notebook, task, read_decisions, question, question_free, (GDestroyNotify) wb_app_decisions_free);
}

WbAppDecisions *
wb_app_decisions_finish (WbAppNotebook *notebook,
                         GAsyncResult  *result,
                         GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}

WbAppDecisions *
wb_app_decisions_sync (WbAppNotebook *notebook,
                       gint64         experiment,
                       GError       **error)
{
  Question question = { wb_app_notebook_get_loads (notebook), experiment };

  return wb_app_reader_run_sync (notebook, read_decisions, &question, error);
}
