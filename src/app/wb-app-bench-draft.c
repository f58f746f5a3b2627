/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-bench-draft.h"

#include "wb-app-bench-life-private.h"
#include "wb-app-draft-private.h"
#include "wb-app-state-private.h"

#define SAMPLE_KEY "sample"
#define BURN_KEY "burn"
#define READINGS_KEY "readings"

/* NULL: its identity is not known. Caller frees. */
static char *
dup_path (WbAppBench *bench)
{
  return wb_app_draft_dup_path (wb_app_bench_get_notebook (bench), "bench");
}

/* Of the burn that is alight, or the last one; 0 and 0: never lit. */
static void
find_mark (WbAppBenchSample *sample,
           gint64           *burn,
           guint            *n_readings)
{
  const WbBurn *record = wb_app_bench_sample_get_burn (sample);
  guint first;

  *burn = record != NULL ? record->record.id : 0;
  *n_readings = 0;
  if (record != NULL)
    wb_readings_get_burn_rows (wb_app_bench_sample_get_data (sample)->readings, wb_app_bench_sample_get_life (sample)->burn_index, &first,
                               n_readings);
}

/* Caller frees. */
static char *
dup_sample (WbAppBenchSample *sample)
{
  return wb_uuid_format (&wb_app_bench_sample_get_record (sample)->uuid);
}

void
wb_app_bench_draft_mark (GKeyFile         *file,
                         const char       *group,
                         WbAppBenchSample *sample)
{
  g_autofree char *uuid = NULL;
  gint64 burn;
  guint n_readings;

  g_return_if_fail (file != NULL && group != NULL);
  g_return_if_fail (WB_IS_APP_BENCH_SAMPLE (sample));

  find_mark (sample, &burn, &n_readings);
  uuid = dup_sample (sample);
  g_key_file_set_string (file, group, SAMPLE_KEY, uuid);
  g_key_file_set_int64 (file, group, BURN_KEY, burn);
  g_key_file_set_uint64 (file, group, READINGS_KEY, n_readings);
}

gboolean
wb_app_bench_draft_is_unsaved (GKeyFile         *file,
                               const char       *group,
                               WbAppBenchSample *sample)
{
  g_autofree char *uuid = NULL, *kept = NULL;
  gint64 burn;
  guint n_readings;

  g_return_val_if_fail (file != NULL && group != NULL, FALSE);
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (sample), FALSE);

  find_mark (sample, &burn, &n_readings);
  uuid = dup_sample (sample);
  kept = g_key_file_get_string (file, group, SAMPLE_KEY, NULL);
  return g_strcmp0 (kept, uuid) == 0 && g_key_file_has_key (file, group, BURN_KEY, NULL) && g_key_file_get_int64 (file, group, BURN_KEY, NULL) == burn
         && n_readings <= g_key_file_get_uint64 (file, group, READINGS_KEY, NULL);
}

void
wb_app_bench_draft_copy (GKeyFile   *file,
                         GKeyFile   *from,
                         const char *group)
{
  g_return_if_fail (file != NULL && from != NULL && group != NULL);

  wb_app_draft_copy_group (file, from, group);
}

void
wb_app_bench_draft_keep_soon (WbAppBench *bench,
                              const char *text)
{
  g_autofree char *path = NULL;

  g_return_if_fail (WB_IS_APP_BENCH (bench));

  path = dup_path (bench);
  /* Whoever cannot be kept loses at a crash what nobody has saved: no reason to stop a hand at the bench. */
  if (path != NULL)
    wb_app_state_write_soon (path, text, NULL);
}

static void
load (GTask        *task,
      gpointer      source,
      gpointer      path,
      GCancellable *cancellable)
{
  g_task_return_pointer (task, wb_app_draft_read (path), (GDestroyNotify) g_key_file_unref);
}

void
wb_app_bench_draft_load_async (WbAppBench         *bench,
                               GCancellable       *cancellable,
                               GAsyncReadyCallback callback,
                               gpointer            user)
{
  g_autoptr (GTask) task = NULL;
  char *path;

  g_return_if_fail (WB_IS_APP_BENCH (bench));

  task = g_task_new (bench, cancellable, callback, user);
  g_task_set_source_tag (task, wb_app_bench_draft_load_async);
  path = dup_path (bench);
  if (path == NULL)
    {
      g_task_return_pointer (task, g_key_file_new (), (GDestroyNotify) g_key_file_unref);
      return;
    }
  g_task_set_task_data (task, path, g_free);
  g_task_run_in_thread (task, load);
}

GKeyFile *
wb_app_bench_draft_load_finish (WbAppBench   *bench,
                                GAsyncResult *result)
{
  g_return_val_if_fail (g_task_is_valid (result, bench), NULL);
  return g_task_propagate_pointer (G_TASK (result), NULL);
}
