/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-compute-private.h"

/*
 * The fits of the last answer of each experiment's number go over from test to test: most tests open the same demo, and
 * a fit is taken over only where all bytes that it rests on are the same. The linker leads the calls here (see meson.build).
 */

__typeof__ (wb_app_compute_answer_async) __real_wb_app_compute_answer_async, __wrap_wb_app_compute_answer_async;
__typeof__ (wb_app_compute_answer_finish) __real_wb_app_compute_answer_finish, __wrap_wb_app_compute_answer_finish;

static GHashTable *
get_memos (void)
{
  static GHashTable *memos;

  if (memos == NULL)
    memos = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, (GDestroyNotify) wb_craft_memo_unref);
  return memos;
}

void
__wrap_wb_app_compute_answer_async (const char         *path,
                                    gint64              experiment,
                                    WbCraftWithin       within,
                                    guint64             seed,
                                    WbCraftMemo        *before,
                                    WbAppLessonKeeper  *keeper,
                                    WbAppJob           *job,
                                    GAsyncReadyCallback callback,
                                    gpointer            user)
{
  if (before == NULL)
    before = g_hash_table_lookup (get_memos (), &experiment);
  __real_wb_app_compute_answer_async (path, experiment, within, seed, before, keeper, job, callback, user);
}

WbCraftAnswer *
__wrap_wb_app_compute_answer_finish (GAsyncResult *result,
                                     WbAppStamp   *stamp,
                                     GError      **error)
{
  WbCraftAnswer *answer = __real_wb_app_compute_answer_finish (result, stamp, error);

  if (answer != NULL)
    {
      gint64 experiment = answer->data->experiment->record.id;

      g_hash_table_replace (get_memos (), g_memdup2 (&experiment, sizeof experiment), wb_craft_memo_ref (answer->estimates->memo));
    }
  return answer;
}
