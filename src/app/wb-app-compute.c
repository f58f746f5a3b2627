/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-compute-private.h"

#include "wb-app-earlier-private.h"
#include "wb-app-error-private.h"
#include "wb-app-forward-private.h"
#include "wb-app-lessons-private.h"
#include "wb-app-reader-private.h"
#include "wb-app-stamp-private.h"
#include "wb-store-dataset.h"
#include "wb-store-records.h"

/* Of the progress told, where other experiments are asked. */
#define EARLIER_SHARE 0.3

static void
set_cancelled (GError **error)
{
  g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_CANCELLED, "Cancelled");
}

/* The stamps are read first: what comes in between makes the answer look older than it is, never newer. */
static WbDataset *
load_stamped (const char           *path,
              gint64                experiment,
              WbAppStamp           *stamp,
              WbStoreLessonStamps **lesson_stamps,
              GError              **error)
{
  g_autoptr (WbStore) store = wb_app_reader_connect (path, error);
  g_autoptr (GHashTable) stamps = NULL;
  WbDataset *data = NULL;

  if (store == NULL)
    return NULL;
  if (lesson_stamps != NULL && !wb_store_reads_copy (store))
    *lesson_stamps = wb_store_lesson_stamps_new (store, NULL);
  if (stamp != NULL)
    stamps = wb_app_stamp_list (store, error);
  if (stamps != NULL)
    *stamp = (WbAppStamp) { wb_app_stamp_find (stamps, experiment), wb_app_stamp_find_whole (stamps) };
  if (stamp == NULL || stamps != NULL)
    data = wb_store_load_dataset (store, experiment, error);
  if (data == NULL)
    wb_app_error_from_store (error, WB_APP_ERROR_FAILED);
  return data;
}

/* What is left of the progress. */
typedef struct
{
  WbAppJob *job;
  double    from;
} Share;

static gboolean
keep_going (double   done,
            gpointer user)
{
  const Share *share = user;

  return wb_app_job_report (share->job, share->from + (1 - share->from) * done, NULL);
}

/* Takes the data. */
static WbCraftAnswer *
compute (const char   *path,
         WbDataset    *data,
         WbCraftWithin within,
         guint64       seed,
         WbCraftMemo  *before,
         WbAppJob     *job,
         GError      **error)
{
  g_autoptr (WbCraftEarlier) earlier = NULL;
  WbCraftAnswer *answer;
  Share share = { job, 0 };

  /* Only where no combination has a second sample: any other log gives the same ranking in any notebook. */
  if (!wb_app_earlier_learn (path, data, EARLIER_SHARE, job, &earlier, error))
    {
      wb_dataset_free (data);
      return NULL;
    }
  share.from = earlier != NULL ? EARLIER_SHARE : 0;
  answer = wb_craft_answer_new_after (before, data, earlier, within, seed, keep_going, &share);
  if (answer == NULL)
    set_cancelled (error);
  wb_app_job_report (job, 1, NULL);
  return answer;
}

/* The estimates are there: what they teach comes at little cost. */
static void
keep_lesson (const WbCraftAnswer       *answer,
             const WbStoreLessonStamps *stamps,
             WbAppLessonKeeper         *keeper)
{
  g_autoptr (GPtrArray) lessons = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_lesson_free);
  WbLesson *lesson = wb_app_lessons_of_answer (answer, stamps);

  if (lesson == NULL)
    return;
  g_ptr_array_add (lessons, lesson);
  wb_app_lesson_keeper_give (keeper, lessons, NULL, NULL);
}

WbCraftAnswer *
wb_app_compute_answer (const char        *path,
                       gint64             experiment,
                       WbCraftWithin      within,
                       guint64            seed,
                       WbCraftMemo       *before,
                       WbAppLessonKeeper *keeper,
                       WbAppJob          *job,
                       WbAppStamp        *stamp,
                       GError           **error)
{
  g_autoptr (WbStoreLessonStamps) stamps = NULL;
  WbDataset *data = load_stamped (path, experiment, stamp, keeper != NULL ? &stamps : NULL, error);
  WbCraftAnswer *answer = data != NULL ? compute (path, data, within, seed, before, job, error) : NULL;

  if (answer != NULL && stamps != NULL)
    keep_lesson (answer, stamps, keeper);
  return answer;
}

/*
 * Every name of a maker's own that the notebook ever had: the texts of one experiment may speak of all of it, by the name of then, and a decision
 * stands on what things were called when it was signed.
 */
static GPtrArray *
list_named (const char *path,
                GError    **error)
{
  static const WbRecordType *const types[] = {
    &wb_vessel_type, &wb_wax_type, &wb_wick_type, &wb_fragrance_type, &wb_dye_type, &wb_additive_type, &wb_lot_type, &wb_experiment_type,
    &wb_sample_type,
  };
  g_autoptr (WbStore) store = wb_app_reader_connect (path, error);
  g_autoptr (GPtrArray) all = g_ptr_array_new_with_free_func (wb_record_free);

  for (guint i = 0; store != NULL && i < G_N_ELEMENTS (types); i++)
    {
      g_autoptr (GPtrArray) some = wb_store_list_versions (store, types[i], NULL, 0, error);

      if (some == NULL)
        {
          wb_app_error_from_store (error, WB_APP_ERROR_FAILED);
          return NULL;
        }
      for (guint k = 0; k < some->len; k++)
        g_ptr_array_add (all, wb_record_copy (g_ptr_array_index (some, k)));
    }
  return store != NULL ? g_steal_pointer (&all) : NULL;
}

WbCraftAnswer *
wb_app_compute_anonymous (const char    *path,
                          gint64         experiment,
                          WbCraftWithin  within,
                          guint64        seed,
                          WbCraftMemo   *before,
                          WbAppJob      *job,
                          WbCraftAlias **alias,
                          GError       **error)
{
  g_autoptr (GPtrArray) others = list_named (path, error);
  WbDataset *data = others != NULL ? load_stamped (path, experiment, NULL, NULL, error) : NULL;

  if (data == NULL)
    return NULL;
  *alias = wb_craft_alias_new (data, others);
  return compute (path, data, within, seed, before, job, error);
}

typedef struct
{
  char              *path;
  gint64             experiment;
  WbCraftWithin      within;
  guint64            seed;
  WbCraftMemo       *before;
  WbAppLessonKeeper *keeper;
  WbAppJob          *job;
  WbAppStamp         stamp;  /* out */
} AnswerRequest;

static void
answer_request_free (gpointer data)
{
  AnswerRequest *self = data;

  g_free (self->path);
  wb_craft_memo_unref (self->before);
  wb_app_lesson_keeper_unref (self->keeper);
  g_clear_object (&self->job);
  g_free (self);
}

static void
answer_in_thread (GTask        *task,
                  gpointer      source,
                  gpointer      task_data,
                  GCancellable *cancellable)
{
  AnswerRequest *request = task_data;
  GError *error = NULL;
  WbCraftAnswer *answer = wb_app_compute_answer (request->path, request->experiment, request->within, request->seed,
                                                 request->before, request->keeper, request->job, &request->stamp, &error);

  if (answer == NULL)
    g_task_return_error (task, error);
  else
    g_task_return_pointer (task, answer, (GDestroyNotify) wb_craft_answer_unref);
}

void
wb_app_compute_answer_async (const char         *path,
                             gint64              experiment,
                             WbCraftWithin       within,
                             guint64             seed,
                             WbCraftMemo        *before,
                             WbAppLessonKeeper  *keeper,
                             WbAppJob           *job,
                             GAsyncReadyCallback callback,
                             gpointer            user)
{
  g_autoptr (GTask) task = g_task_new (NULL, NULL, callback, user);
  AnswerRequest *request = g_new0 (AnswerRequest, 1);

  request->path = g_strdup (path);
  request->experiment = experiment;
  request->within = within;
  request->seed = seed;
  request->before = before != NULL ? wb_craft_memo_ref (before) : NULL;
  request->keeper = keeper != NULL ? wb_app_lesson_keeper_ref (keeper) : NULL;
  request->job = job != NULL ? g_object_ref (job) : NULL;
  g_task_set_task_data (task, request, answer_request_free);
  g_task_run_in_thread (task, answer_in_thread);
}

WbCraftAnswer *
wb_app_compute_answer_finish (GAsyncResult *result,
                              WbAppStamp   *stamp,
                              GError      **error)
{
  *stamp = ((const AnswerRequest *) g_task_get_task_data (G_TASK (result)))->stamp;
  return g_task_propagate_pointer (G_TASK (result), error);
}
