/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-attachment.h"

#include "wb-app-error-private.h"
#include "wb-app-notebook-private.h"
#include "wb-app-reader-private.h"
#include "wb-app-save-private.h"
#include "wb-app-save-task-private.h"
#include "wb-clock.h"
#include "wb-store-records.h"

#include <glib/gi18n-lib.h>

/* The word of their entries for the record page. */
#define TOPIC "attachment"

void
wb_app_attachment_add_async (WbAppNotebook      *notebook,
                             const WbAttachment *attachment,
                             GBytes             *bytes,
                             const char         *why,
                             GCancellable       *cancellable,
                             GAsyncReadyCallback callback,
                             gpointer            user)
{
  GTask *task;
  WbAppSave *save;
  g_autoptr (GPtrArray) records = NULL;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));
  g_return_if_fail (attachment != NULL && attachment->record.type == &wb_attachment_type && attachment->record.id == 0);
  g_return_if_fail (bytes != NULL && why != NULL);

  task = wb_app_save_task_new (notebook, wb_app_attachment_add_async, cancellable, callback, user);
  if (g_bytes_get_size (bytes) == 0)
    {
      wb_app_save_task_refuse (task, g_strdup_printf (_("“%s” is empty: there is nothing to keep."), attachment->name));
      return;
    }
  records = g_ptr_array_new ();
  g_ptr_array_add (records, (gpointer) attachment);
  save = wb_app_save_new (TOPIC, wb_app_notebook_get_who (notebook), why, records);
  save->kept = g_bytes_ref (bytes);
  wb_app_notebook_run_save_async (notebook, save, cancellable, wb_app_save_task_end_cb, task);
}

/* Caller frees. */
static char *
dup_clean (const char *text)
{
  return g_strstrip (g_strdup (text != NULL ? text : ""));
}

/* Takes the task. */
static void
end_unchanged (GTask *task)
{
  g_task_return_new_error (task, WB_APP_ERROR, WB_APP_ERROR_NOTHING, "%s", _("Nothing was changed."));
  g_object_unref (task);
}

/* Takes the record. */
static void
save_version (WbAppNotebook *notebook,
              gpointer       record,
              const char    *why,
              GTask         *task)
{
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);

  g_ptr_array_add (records, record);
  wb_app_notebook_save_topic_async (notebook, TOPIC, why, records, g_task_get_cancellable (task), wb_app_save_task_end_cb, task);
}

void
wb_app_attachment_take_out_async (WbAppNotebook      *notebook,
                                  const WbAttachment *attachment,
                                  const char         *reason,
                                  GCancellable       *cancellable,
                                  GAsyncReadyCallback callback,
                                  gpointer            user)
{
  g_autofree char *clean = NULL, *why = NULL;
  WbRecord *gone;
  GTask *task;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));
  g_return_if_fail (attachment != NULL && attachment->record.type == &wb_attachment_type);

  task = wb_app_save_task_new (notebook, wb_app_attachment_take_out_async, cancellable, callback, user);
  clean = dup_clean (reason);
  if (*clean == '\0')
    {
      wb_app_save_task_refuse (task, g_strdup (_("Say why: the reason stays in the record.")));
      return;
    }
  gone = wb_record_copy (attachment);
  gone->deleted = TRUE;
  why = g_strdup_printf (_("Take out “%s”: %s"), attachment->name, clean);
  save_version (notebook, gone, why, task);
}

void
wb_app_attachment_note_async (WbAppNotebook      *notebook,
                              const WbAttachment *attachment,
                              const char         *note,
                              GCancellable       *cancellable,
                              GAsyncReadyCallback callback,
                              gpointer            user)
{
  g_autofree char *clean = NULL, *why = NULL;
  WbRecord *noted;
  GTask *task;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));
  g_return_if_fail (attachment != NULL && attachment->record.type == &wb_attachment_type);

  task = wb_app_save_task_new (notebook, wb_app_attachment_note_async, cancellable, callback, user);
  clean = dup_clean (note);
  if (g_strcmp0 (*clean != '\0' ? clean : NULL, attachment->note) == 0)
    {
      end_unchanged (task);
      return;
    }
  noted = wb_record_copy (attachment);
  wb_record_set_text (noted, wb_record_type_find_field (&wb_attachment_type, "note"), *clean != '\0' ? clean : NULL);
  why = g_strdup_printf (_("Note on “%s”"), attachment->name);
  save_version (notebook, noted, why, task);
}

/* In stored units: the same instant, told by the same offset. */
static gboolean
is_same_time (WbInstant one,
              WbInstant other)
{
  return one.known == other.known && (!one.known || (one.utc_us == other.utc_us && one.offset_s == other.offset_s));
}

/* NULL: it may be placed there. Caller frees. */
static char *
dup_refusal (gboolean    claimed,
             WbInstant   taken_at,
             const char *reason)
{
  if (claimed && *reason == '\0')
    return g_strdup (_("Say why: the reason stays in the record."));
  if (taken_at.known && taken_at.utc_us > wb_clock_now (wb_clock_get ()).utc_us)
    return g_strdup (_("That time is still to come."));
  return NULL;
}

void
wb_app_attachment_place_async (WbAppNotebook      *notebook,
                               const WbAttachment *attachment,
                               int                 burn,
                               gint64              owner,
                               WbInstant           taken_at,
                               const char         *reason,
                               GCancellable       *cancellable,
                               GAsyncReadyCallback callback,
                               gpointer            user)
{
  g_autofree char *clean = NULL, *why = NULL, *refusal = NULL;
  WbAttachment *placed;
  GTask *task;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));
  g_return_if_fail (attachment != NULL && attachment->record.type == &wb_attachment_type);
  g_return_if_fail (owner > 0);

  task = wb_app_save_task_new (notebook, wb_app_attachment_place_async, cancellable, callback, user);
  clean = dup_clean (reason);
  if (owner == attachment->owner && is_same_time (taken_at, attachment->taken_at))
    {
      end_unchanged (task);
      return;
    }
  refusal = dup_refusal (burn > 0 || attachment->taken_at.known, taken_at, clean);
  if (refusal != NULL)
    {
      wb_app_save_task_refuse (task, g_steal_pointer (&refusal));
      return;
    }
  placed = wb_record_copy (attachment);
  placed->owner = owner;
  placed->taken_at = taken_at;
  why = *clean != '\0' ? g_strdup_printf (_("Correct where “%s” belongs: %s"), attachment->name, clean)
                       : g_strdup_printf (_("Say where “%s” belongs"), attachment->name);
  save_version (notebook, placed, why, task);
}

gboolean
wb_app_attachment_finish (WbAppNotebook *notebook,
                          GAsyncResult  *result,
                          GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), FALSE);
  return g_task_propagate_boolean (G_TASK (result), error);
}

static gpointer
load_thread (WbStore      *store,
             gpointer      data,
             GCancellable *cancellable,
             GError      **error)
{
  GError *reason = NULL;
  GBytes *bytes = wb_store_load_attachment (store, data, &reason);

  wb_app_error_propagate_read (error, reason);
  return bytes;
}

void
wb_app_attachment_load_async (WbAppNotebook      *notebook,
                              const char         *sha256,
                              GCancellable       *cancellable,
                              GAsyncReadyCallback callback,
                              gpointer            user)
{
  GTask *task;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));
  g_return_if_fail (sha256 != NULL);

  task = g_task_new (notebook, cancellable, callback, user);
  g_task_set_source_tag (task, wb_app_attachment_load_async);
  wb_app_reader_run (notebook, task, load_thread, g_strdup (sha256), g_free, (GDestroyNotify) g_bytes_unref);
}

GBytes *
wb_app_attachment_load_finish (WbAppNotebook *notebook,
                               GAsyncResult  *result,
                               GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}
