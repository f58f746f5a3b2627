/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-answers.h"

#include "wb-app-compute-private.h"
#include "wb-app-forward-private.h"
#include "wb-app-ladder-private.h"
#include "wb-app-reader-private.h"
#include "wb-app-stamp-private.h"

/*
 * An answer is kept with the stamp of its experiment, and where other experiments
 * speak in it with that of all of them. When the notebook changes, the stamps are
 * listed again: an answer that has something under it moved on is dropped, and told to
 * be stale. Its fits stay, by what they rest on, so that the next answer of the
 * experiment works out only what has changed. Two askers of the same answer wait for
 * one computation.
 */

typedef struct
{
  gint64        experiment;
  WbCraftWithin within;
  guint64       seed;
} Key;

typedef struct
{
  Key            key;
  WbCraftAnswer *answer;   /* NULL: being computed */
  WbAppStamp     stamp;
  GPtrArray     *waiting;  /* GTask, while it is being computed */
  gboolean       stale;    /* the experiment moved on while it was computed */
} Kept;

struct _WbAppAnswers
{
  GObject            parent_instance;

  WbAppNotebook     *notebook;
  GPtrArray         *kept;         /* Kept */
  GHashTable        *memos;        /* experiment → WbCraftMemo of its last answer */
  WbAppLessonKeeper *keeper;
  GCancellable      *cancellable;
};

enum { SIGNAL_STALE, N_SIGNALS };

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WbAppAnswers, wb_app_answers, G_TYPE_OBJECT)

static void
kept_free (gpointer data)
{
  Kept *self = data;

  g_clear_pointer (&self->answer, wb_craft_answer_unref);
  g_clear_pointer (&self->waiting, g_ptr_array_unref);
  g_free (self);
}

static Kept *
find_kept (WbAppAnswers *self,
           const Key    *key)
{
  for (guint i = 0; i < self->kept->len; i++)
    {
      Kept *kept = g_ptr_array_index (self->kept, i);

      if (kept->key.experiment == key->experiment && kept->key.within == key->within && kept->key.seed == key->seed && !kept->stale)
        return kept;
    }
  return NULL;
}

static gboolean
is_fresh (const Kept *kept,
          GHashTable *stamps)
{
  return wb_app_stamp_find (stamps, kept->key.experiment) == kept->stamp.own
         && (kept->answer->estimates->earlier == NULL || wb_app_stamp_find_whole (stamps) == kept->stamp.whole);
}

static void
on_stamps_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      user_data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GHashTable) stamps = g_task_propagate_pointer (G_TASK (result), &error);
  g_autoptr (GArray) stale = g_array_new (FALSE, FALSE, sizeof (gint64));
  WbAppAnswers *self;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  self = WB_APP_ANSWERS (user_data);
  for (guint i = self->kept->len; i > 0; i--)
    {
      Kept *kept = g_ptr_array_index (self->kept, i - 1);

      /* Where the stamps cannot be read, what is kept cannot be trusted. */
      if (kept->answer == NULL || (stamps != NULL && is_fresh (kept, stamps)))
        continue;
      g_array_append_val (stale, kept->key.experiment);
      g_ptr_array_remove_index (self->kept, i - 1);
    }
  g_object_ref (self);
  for (guint i = 0; i < stale->len; i++)
    g_signal_emit (self, signals[SIGNAL_STALE], 0, g_array_index (stale, gint64, i));
  g_object_unref (self);
}

static gpointer
list_stamps (WbStore      *store,
             gpointer      data,
             GCancellable *cancellable,
             GError      **error)
{
  return wb_app_stamp_list (store, error);
}

static void
on_notebook_changed_cb (WbAppAnswers *self)
{
  if (self->kept->len == 0)
    return;
  /* What is being computed now may rest on either side of the change: whoever waits gets it, nobody after them. */
  for (guint i = 0; i < self->kept->len; i++)
    {
      Kept *kept = g_ptr_array_index (self->kept, i);

      kept->stale |= kept->answer == NULL;
    }
  wb_app_reader_run (self->notebook, g_task_new (NULL, self->cancellable, on_stamps_cb, self), list_stamps, NULL, NULL,
                     (GDestroyNotify) g_hash_table_unref);
}

static void
wb_app_answers_dispose (GObject *object)
{
  WbAppAnswers *self = WB_APP_ANSWERS (object);

  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->notebook);
  G_OBJECT_CLASS (wb_app_answers_parent_class)->dispose (object);
}

static void
wb_app_answers_finalize (GObject *object)
{
  WbAppAnswers *self = WB_APP_ANSWERS (object);

  g_object_unref (self->cancellable);
  g_ptr_array_unref (self->kept);
  g_hash_table_unref (self->memos);
  wb_app_lesson_keeper_unref (self->keeper);
  G_OBJECT_CLASS (wb_app_answers_parent_class)->finalize (object);
}

static void
wb_app_answers_class_init (WbAppAnswersClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->dispose = wb_app_answers_dispose;
  object_class->finalize = wb_app_answers_finalize;

  signals[SIGNAL_STALE] = g_signal_new ("stale", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                        G_TYPE_NONE, 1, G_TYPE_INT64);
}

static void
wb_app_answers_init (WbAppAnswers *self)
{
  self->kept = g_ptr_array_new_with_free_func (kept_free);
  self->memos = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, (GDestroyNotify) wb_craft_memo_unref);
  self->cancellable = g_cancellable_new ();
}

WbAppAnswers *
wb_app_answers_new (WbAppNotebook *notebook)
{
  WbAppAnswers *self = g_object_new (WB_TYPE_APP_ANSWERS, NULL);

  self->notebook = g_object_ref (notebook);
  self->keeper = wb_app_lesson_keeper_new (notebook);
  g_signal_connect_object (notebook, "changed", G_CALLBACK (on_notebook_changed_cb), self, G_CONNECT_SWAPPED);
  return self;
}

typedef struct
{
  WbAppAnswers *answers;
  Kept         *kept;
} Computation;

static void start (WbAppAnswers *self, const Key *key, WbAppJob *job, GPtrArray *waiting);

/* Who cancelled gets that; those who only waited beside them get a computation of their own. */
static void
start_again (WbAppAnswers *self,
             const Key    *key,
             GPtrArray    *waiting)
{
  g_autoptr (GPtrArray) left = g_ptr_array_new_with_free_func (g_object_unref);
  WbAppJob *job;

  for (guint i = 0; i < waiting->len; i++)
    {
      GTask *task = g_ptr_array_index (waiting, i);

      if (!g_task_return_error_if_cancelled (task))
        g_ptr_array_add (left, g_object_ref (task));
    }
  if (left->len == 0 || self->notebook == NULL)
    return;
  job = g_task_get_task_data (g_ptr_array_index (left, 0));
  start (self, key, job, g_steal_pointer (&left));
}

static void
on_computed_cb (GObject      *source,
                GAsyncResult *result,
                gpointer      user_data)
{
  g_autofree Computation *computation = user_data;
  g_autoptr (WbAppAnswers) self = computation->answers;
  Kept *kept = computation->kept;
  const Key key = kept->key;
  g_autoptr (GPtrArray) waiting = g_steal_pointer (&kept->waiting);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbCraftAnswer) answer = wb_app_compute_answer_finish (result, &kept->stamp, &error);

  if (answer != NULL)
    g_hash_table_replace (self->memos, g_memdup2 (&key.experiment, sizeof key.experiment), wb_craft_memo_ref (answer->estimates->memo));
  if (answer != NULL && !kept->stale)
    kept->answer = wb_craft_answer_ref (answer);
  else
    g_ptr_array_remove (self->kept, kept);

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    {
      start_again (self, &key, waiting);
      return;
    }
  for (guint i = 0; i < waiting->len; i++)
    {
      GTask *task = g_ptr_array_index (waiting, i);

      if (answer != NULL)
        g_task_return_pointer (task, wb_craft_answer_ref (answer), (GDestroyNotify) wb_craft_answer_unref);
      else
        g_task_return_error (task, g_error_copy (error));
    }
}

/* Takes `waiting`. job may be NULL. */
static void
start (WbAppAnswers *self,
       const Key    *key,
       WbAppJob     *job,
       GPtrArray    *waiting)
{
  Kept *kept = g_new0 (Kept, 1);
  Computation *computation = g_new0 (Computation, 1);

  kept->key = *key;
  kept->waiting = waiting;
  g_ptr_array_add (self->kept, kept);
  computation->answers = g_object_ref (self);
  computation->kept = kept;
  wb_app_compute_answer_async (wb_app_notebook_get_path (self->notebook), key->experiment, key->within, key->seed,
                               g_hash_table_lookup (self->memos, &key->experiment), self->keeper, job, on_computed_cb, computation);
}

void
wb_app_answers_get_async (WbAppAnswers       *self,
                          gint64              experiment,
                          WbCraftWithin       within,
                          guint64             seed,
                          WbAppJob           *job,
                          GAsyncReadyCallback callback,
                          gpointer            user)
{
  const Key key = { experiment, within, seed };
  GTask *task;
  Kept *kept;
  GPtrArray *waiting;

  g_return_if_fail (WB_IS_APP_ANSWERS (self));
  task = g_task_new (self, job != NULL ? wb_app_job_get_cancellable (job) : NULL, callback, user);
  g_task_set_source_tag (task, wb_app_answers_get_async);
  if (job != NULL)
    g_task_set_task_data (task, g_object_ref (job), g_object_unref);
  kept = find_kept (self, &key);
  if (kept != NULL && kept->answer != NULL)
    {
      g_task_return_pointer (task, wb_craft_answer_ref (kept->answer), (GDestroyNotify) wb_craft_answer_unref);
      g_object_unref (task);
      return;
    }
  if (kept != NULL)
    {
      g_ptr_array_add (kept->waiting, task);
      return;
    }
  waiting = g_ptr_array_new_with_free_func (g_object_unref);
  g_ptr_array_add (waiting, task);
  start (self, &key, job, waiting);
}

WbCraftAnswer *
wb_app_answers_get_finish (WbAppAnswers *self,
                           GAsyncResult *result,
                           GError      **error)
{
  g_return_val_if_fail (g_task_is_valid (result, self), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}

WbCraftAnswer *
wb_app_answers_peek (WbAppAnswers *self,
                     gint64        experiment,
                     WbCraftWithin within,
                     guint64       seed)
{
  const Key key = { experiment, within, seed };
  Kept *kept;

  g_return_val_if_fail (WB_IS_APP_ANSWERS (self), NULL);
  kept = find_kept (self, &key);
  return kept != NULL ? kept->answer : NULL;
}

WbCraftAnswer *
wb_app_answers_compute_sync (WbAppNotebook *notebook,
                             gint64         experiment,
                             WbCraftWithin  within,
                             guint64        seed,
                             WbAppJob      *job,
                             GError       **error)
{
  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);
  return wb_app_compute_answer (wb_app_notebook_get_path (notebook), experiment, within, seed, NULL, NULL, job, NULL, error);
}

void
wb_app_answers_ladder_async (WbAppAnswers                *self,
                             const WbCraftLadderQuestion *question,
                             WbAppJob                    *job,
                             GAsyncReadyCallback          callback,
                             gpointer                     user)
{
  GTask *task;

  g_return_if_fail (WB_IS_APP_ANSWERS (self));
  task = g_task_new (self, job != NULL ? wb_app_job_get_cancellable (job) : NULL, callback, user);
  g_task_set_source_tag (task, wb_app_answers_ladder_async);
  wb_app_ladder_async (self->notebook, self->keeper, question, job, task);
}

WbCraftLadder *
wb_app_answers_ladder_finish (WbAppAnswers *self,
                              GAsyncResult *result,
                              GError      **error)
{
  g_return_val_if_fail (g_task_is_valid (result, self), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}

WbCraftLadder *
wb_app_answers_ladder_sync (WbAppNotebook               *notebook,
                            const WbCraftLadderQuestion *question,
                            WbAppJob                    *job,
                            GError                     **error)
{
  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);
  return wb_app_ladder_sync (notebook, question, job, error);
}

void
wb_app_answers_shortlist_async (WbAppAnswers                *self,
                                const WbCraftLadderQuestion *question,
                                const GArray                *wicks,
                                WbAppJob                    *job,
                                GAsyncReadyCallback          callback,
                                gpointer                     user)
{
  GTask *task;

  g_return_if_fail (WB_IS_APP_ANSWERS (self));
  g_return_if_fail (question != NULL && wicks != NULL);
  task = g_task_new (self, job != NULL ? wb_app_job_get_cancellable (job) : NULL, callback, user);
  g_task_set_source_tag (task, wb_app_answers_shortlist_async);
  wb_app_ladder_shortlist_async (self->notebook, self->keeper, question, wicks, job, task);
}

WbCraftShortlist *
wb_app_answers_shortlist_finish (WbAppAnswers *self,
                                 GAsyncResult *result,
                                 GError      **error)
{
  g_return_val_if_fail (g_task_is_valid (result, self), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}
