/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-decision.h"

#include "wb-app-crossed-private.h"
#include "wb-app-lot-trace-private.h"
#include "wb-app-notebook-private.h"
#include "wb-app-reader-private.h"
#include "wb-app-save-task-private.h"
#include "wb-app-stamp-private.h"
#include "wb-app-touched-private.h"
#include "wb-clock.h"
#include "wb-craft-recipe.h"
#include "wb-store-records.h"

#include <glib/gi18n-lib.h>

/* ---- What may be signed ---- */

typedef struct
{
  WbAppLoads    *loads;
  WbCraftAnswer *answer;
  guint          group;
} Question;

void
wb_app_decision_draft_free (WbAppDecisionDraft *self)
{
  if (self == NULL)
    return;
  wb_craft_answer_unref (self->answer);
  g_ptr_array_unref (self->proposals);
  g_ptr_array_unref (self->earlier);
  g_free (self);
}

/* Sentences of what candles of that recipe crossed which no reason of the answer tells: elsewhere, or since. */
static GPtrArray *
read_elsewhere (WbStore              *store,
                const Question       *question,
                GHashTable           *stamps,
                const WbAppBenchLoad *own,
                gint64                cell,
                GError              **error)
{
  g_autoptr (WbCraftShelf) shelf = wb_craft_shelf_new ();
  guint index = wb_app_lot_find_cell (own->data, cell);
  GPtrArray *sentences = g_ptr_array_new_with_free_func (g_free);

  if (index == G_MAXUINT)
    return sentences;
  if (!wb_app_crossed_read (store, question->loads, stamps, own, index, 0, 0, question->answer, shelf->crossed, error))
    {
      g_ptr_array_unref (sentences);
      return NULL;
    }
  for (guint i = 0; i < shelf->crossed->len; i++)
    {
      const WbCraftCrossedSince *crossed = g_ptr_array_index (shelf->crossed, i);

      /* Translators: code of an experiment; what was read, where and over which limit. */
      g_ptr_array_add (sentences, g_strdup_printf (_("A limit was crossed in %s: %s."), crossed->experiment, crossed->text));
    }
  return sentences;
}

static gboolean
is_decided (const WbDataset    *data,
            const WbCraftGroup *group)
{
  return wb_craft_decision_find (data, group) != NULL;
}

/* What is signed by now, not only what was when the answer was worked out. */
static void
take_decisions (WbAppDecisionDraft   *self,
                const WbAppBenchLoad *own)
{
  const WbCraftRanking *ranking = self->answer->ranking;
  const WbDataset *data = self->answer->data;

  for (guint i = own->data->decisions->len; i > 0; i--)
    {
      const WbDecision *decision = g_ptr_array_index (own->data->decisions, i - 1);
      guint cell = wb_app_lot_find_cell (data, decision->cell);

      if (cell != G_MAXUINT && wb_craft_recipe_is_same_candle (data, cell, data, ranking->groups[self->group].vessel))
        g_ptr_array_add (self->earlier, wb_record_copy (decision));
    }
  for (guint i = 0; i < ranking->n_groups; i++)
    self->undecided += i != self->group && !is_decided (own->data, &ranking->groups[i]);
}

static gboolean
read_entry (WbStore            *store,
            WbAppDecisionDraft *self,
            GError            **error)
{
  g_autoptr (GPtrArray) entries = wb_store_list_entries (store, 0, 1, error);

  if (entries == NULL)
    return FALSE;
  self->entry = entries->len > 0 ? ((const WbEntry *) g_ptr_array_index (entries, 0))->number : 0;
  return TRUE;
}

/* One recipe's proposal with what the answer does not know: crossings elsewhere, and lots that were not burnt. */
static gboolean
read_proposal (WbStore            *store,
               const Question     *question,
               GHashTable         *stamps,
               WbAppBenchLoad     *own,
               guint               index,
               WbAppDecisionDraft *self,
               GError            **error)
{
  const WbDataset *data = question->answer->data;
  gint64 cell = wb_dataset_get_cell (data, question->answer->ranking->groups[question->group].cells[index].cell)->record.id;
  gint64 earlier = self->earlier->len > 0 ? ((const WbRecord *) g_ptr_array_index (self->earlier, 0))->id : 0;
  guint known = wb_app_lot_find_cell (own->data, cell);
  g_autoptr (GPtrArray) elsewhere = read_elsewhere (store, question, stamps, own, cell, error);
  g_autoptr (GPtrArray) lots = NULL;
  WbCraftDecision *proposal;

  if (elsewhere == NULL)
    return FALSE;
  if (known != G_MAXUINT && (lots = wb_app_touched_read_not_burnt (store, own, known, earlier, error)) == NULL)
    return FALSE;
  proposal = wb_craft_decision_new (question->answer, question->group, index, elsewhere);
  g_ptr_array_add (self->proposals, proposal);
  if (lots != NULL)
    wb_craft_decision_take_lots (proposal, data, lots);
  return TRUE;
}

static gpointer
read_draft (WbStore      *store,
            gpointer      data,
            GCancellable *cancellable,
            GError      **error)
{
  const Question *question = data;
  const WbCraftGroup *group = &question->answer->ranking->groups[question->group];
  gint64 experiment = question->answer->data->experiment->record.id;
  g_autoptr (WbAppDecisionDraft) self = g_new0 (WbAppDecisionDraft, 1);
  g_autoptr (GHashTable) stamps = NULL;
  WbAppBenchLoad *own;
  gboolean read = TRUE;

  self->answer = wb_craft_answer_ref (question->answer);
  self->group = question->group;
  self->proposals = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_craft_decision_free);
  self->earlier = g_ptr_array_new_with_free_func (wb_record_free);
  /* before anything else: what comes in while it is read is behind it */
  if (!read_entry (store, self, error) || (stamps = wb_app_stamp_list (store, error)) == NULL)
    return NULL;
  own = wb_app_loads_get (question->loads, store, experiment, wb_app_stamp_find (stamps, experiment), error);
  if (own == NULL)
    return NULL;
  take_decisions (self, own);
  for (guint i = 0; read && i < group->n_cells; i++)
    read = read_proposal (store, question, stamps, own, i, self, error);
  self->stale = own->data->last_entry != question->answer->data->last_entry;
  wb_app_bench_load_unref (own);
  return read ? g_steal_pointer (&self) : NULL;
}

static void
question_free (gpointer data)
{
  Question *question = data;

  wb_app_loads_unref (question->loads);
  wb_craft_answer_unref (question->answer);
  g_free (question);
}

void
wb_app_decision_draft_async (WbAppNotebook      *notebook,
                             WbCraftAnswer      *answer,
                             guint               group,
                             GCancellable       *cancellable,
                             GAsyncReadyCallback callback,
                             gpointer            user)
{
  Question *question;
  GTask *task;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));
  g_return_if_fail (answer != NULL && group < answer->ranking->n_groups);

  question = g_new0 (Question, 1);
  *question = (Question) { wb_app_loads_ref (wb_app_notebook_get_loads (notebook)), wb_craft_answer_ref (answer), group };
  task = g_task_new (notebook, cancellable, callback, user);
  g_task_set_source_tag (task, wb_app_decision_draft_async);
  wb_app_reader_run (notebook, task, read_draft, question, question_free, (GDestroyNotify) wb_app_decision_draft_free);
}

WbAppDecisionDraft *
wb_app_decision_draft_finish (WbAppNotebook *notebook,
                              GAsyncResult  *result,
                              GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}

WbAppDecisionDraft *
wb_app_decision_draft_sync (WbAppNotebook *notebook,
                            WbCraftAnswer *answer,
                            guint          group,
                            GError       **error)
{
  Question question = { wb_app_notebook_get_loads (notebook), answer, group };

  g_return_val_if_fail (answer != NULL && group < answer->ranking->n_groups, NULL);
  return wb_app_reader_run_sync (notebook, read_draft, &question, error);
}

WbDecision *
wb_app_decision_draft_dup_record (const WbAppDecisionDraft *self,
                                  guint                     index)
{
  WbDecision *record;

  g_return_val_if_fail (self != NULL && index < self->proposals->len, NULL);

  record = self->earlier->len > 0 ? wb_record_copy (g_ptr_array_index (self->earlier, 0)) : wb_record_new (&wb_decision_type);
  wb_craft_decision_fill (g_ptr_array_index (self->proposals, index), self->answer, record);
  g_clear_pointer (&record->against, g_free);
  g_clear_pointer (&record->note, g_free);
  record->answer_entry = self->entry;
  return record;
}

/* ---- Signing ---- */

static void
trim (char **text)
{
  if (*text == NULL)
    return;
  g_strstrip (*text);
  if (**text == '\0')
    g_clear_pointer (text, g_free);
}

static char *
find_refusal (const WbCraftDecision *proposal,
              const WbDecision      *record)
{
  if (record->signed_by == NULL)
    return g_strdup (_("Say who signs it."));
  if (proposal->needs_reason && record->against == NULL)
    return g_strdup (proposal->crossed->len > 0
                       ? _("It crossed a limit. Say why you choose it all the same: that is kept with the decision and printed.")
                       : _("It is not recommended. Say why you choose it all the same: that is kept with the decision and printed."));
  return NULL;
}

void
wb_app_decision_sign_async (WbAppNotebook            *notebook,
                            const WbAppDecisionDraft *draft,
                            guint                     index,
                            const WbDecision         *record,
                            gboolean                  finish,
                            GCancellable             *cancellable,
                            GAsyncReadyCallback       callback,
                            gpointer                  user)
{
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  const WbExperiment *experiment;
  const WbCraftDecision *proposal;
  g_autofree char *why = NULL;
  char *refusal;
  WbDecision *signature;
  GTask *task;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));
  g_return_if_fail (draft != NULL && index < draft->proposals->len && record != NULL);

  task = wb_app_save_task_new (notebook, wb_app_decision_sign_async, cancellable, callback, user);
  proposal = g_ptr_array_index (draft->proposals, index);
  experiment = draft->answer->data->experiment;
  signature = wb_record_copy (record);
  g_ptr_array_add (records, signature);
  trim (&signature->signed_by);
  trim (&signature->against);
  wb_craft_decision_keep_crossed (proposal, signature);
  refusal = draft->stale ? g_strdup (_("The experiment has changed since the comparison was worked out, so that it no longer says what the decision rests on. "
                                       "Have it worked out anew, and look at it before you sign."))
                         : find_refusal (proposal, signature);
  if (refusal != NULL)
    {
      wb_app_save_task_refuse (task, refusal);
      return;
    }
  signature->signed_at = wb_clock_now (wb_clock_get ());
  for (guint i = 1; i < draft->earlier->len; i++)
    {
      WbRecord *other = wb_record_copy (g_ptr_array_index (draft->earlier, i));

      other->deleted = TRUE;
      g_ptr_array_add (records, other);
    }
  if (finish && !experiment->closed)
    {
      WbExperiment *closed = wb_record_copy (experiment);

      closed->closed = TRUE;
      g_ptr_array_add (records, closed);
    }
  /* Translators: code of an experiment; the wick that was chosen. */
  why = g_strdup_printf (draft->earlier->len > 0 ? _("Sign the decision for %s anew: %s") : _("Sign the decision for %s: %s"), experiment->code, proposal->name);
  wb_app_notebook_save_topic_async (notebook, "decision", why, records, cancellable, wb_app_save_task_end_cb, task);
}

gboolean
wb_app_decision_sign_finish (WbAppNotebook *notebook,
                             GAsyncResult  *result,
                             GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), FALSE);
  return g_task_propagate_boolean (G_TASK (result), error);
}

void
wb_app_decision_withdraw_async (WbAppNotebook      *notebook,
                                const WbAppTouched *decision,
                                const char         *why,
                                GCancellable       *cancellable,
                                GAsyncReadyCallback callback,
                                gpointer            user)
{
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autofree char *reason = g_strstrip (g_strdup (why != NULL ? why : "")), *title = NULL;
  WbRecord *record;
  GTask *task;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));
  g_return_if_fail (decision != NULL);

  task = wb_app_save_task_new (notebook, wb_app_decision_withdraw_async, cancellable, callback, user);
  if (*reason == '\0')
    {
      wb_app_save_task_refuse (task, g_strdup (_("Say why the decision is withdrawn: it is kept in the record.")));
      return;
    }
  record = wb_record_copy (decision->record);
  record->deleted = TRUE;
  g_ptr_array_add (records, record);
  /* Translators: code of an experiment; the maker's reason. */
  title = g_strdup_printf (_("Withdraw the decision for %s: %s"), decision->experiment_code, reason);
  wb_app_notebook_save_topic_async (notebook, "decision", title, records, cancellable, wb_app_save_task_end_cb, task);
}

void
wb_app_decision_none_async (WbAppNotebook      *notebook,
                            const WbExperiment *experiment,
                            const char         *why,
                            GCancellable       *cancellable,
                            GAsyncReadyCallback callback,
                            gpointer            user)
{
  g_autofree char *reason = g_strstrip (g_strdup (why != NULL ? why : "")), *title = NULL;
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  WbExperiment *closed;
  GTask *task;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));
  g_return_if_fail (experiment != NULL);

  task = wb_app_save_task_new (notebook, wb_app_decision_none_async, cancellable, callback, user);
  if (*reason == '\0')
    {
      wb_app_save_task_refuse (task, g_strdup (_("Say why nothing is chosen: it is kept in the record.")));
      return;
    }
  closed = wb_record_copy (experiment);
  closed->closed = TRUE;
  g_ptr_array_add (records, closed);
  /* Translators: code of an experiment; the maker's reason. */
  title = g_strdup_printf (_("Finish %s without a decision: %s"), experiment->code, reason);
  wb_app_notebook_save_topic_async (notebook, "decision", title, records, cancellable, wb_app_save_task_end_cb, task);
}
