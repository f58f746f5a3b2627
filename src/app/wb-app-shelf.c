/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-shelf-private.h"

#include "wb-app-error-private.h"
#include "wb-app-import-private.h"
#include "wb-app-reader-private.h"
#include "wb-store-records.h"

#include <glib/gi18n-lib.h>

static const char *const nicks[WB_APP_SHELF_N_STATES] = { "new", "changed", "unchanged", "refused" };

const char *
wb_app_shelf_state_get_nick (WbAppShelfState state)
{
  g_return_val_if_fail (state < WB_APP_SHELF_N_STATES, NULL);
  return nicks[state];
}

void
wb_app_shelf_free (WbAppShelf *self)
{
  if (self == NULL)
    return;
  g_free (self->file);
  g_clear_pointer (&self->rows, g_ptr_array_unref);
  g_clear_pointer (&self->refused, g_ptr_array_unref);
  g_clear_pointer (&self->warnings, g_ptr_array_unref);
  g_clear_pointer (&self->records, g_ptr_array_unref);
  g_strfreev (self->unknown);
  g_free (self);
}

char *
wb_app_shelf_dup_sum (const WbAppShelf *self)
{
  g_return_val_if_fail (self != NULL, NULL);
  return g_strdup_printf (ngettext ("%u row: %u new, %u changed, %u unchanged, %u refused",
                                    "%u rows: %u new, %u changed, %u unchanged, %u refused", self->rows->len),
                          self->rows->len, self->n[WB_APP_SHELF_NEW], self->n[WB_APP_SHELF_CHANGED], self->n[WB_APP_SHELF_UNCHANGED],
                          self->n[WB_APP_SHELF_REFUSED]);
}

const WbRecordType *
wb_app_shelf_find_kind (const char *name,
                        GError    **error)
{
  const WbRecordType *kind = wb_exchange_shelf_find_kind (name);
  g_autoptr (GString) known = g_string_new (NULL);

  if (kind != NULL)
    return kind;
  for (const WbRecordType *const *k = wb_exchange_shelf_kinds (); *k != NULL; k++)
    g_string_append_printf (known, "%s%s", known->len > 0 ? ", " : "", (*k)->name);
  g_set_error (error, WB_APP_ERROR, WB_APP_ERROR_UNKNOWN, _("no kind of material “%s”; known are: %s"), name, known->str);
  return NULL;
}

typedef struct
{
  char               *file;
  const WbRecordType *kind;
} Request;

static Request *
request_new (const char         *file,
             const WbRecordType *kind)
{
  Request *self = g_new0 (Request, 1);

  self->file = g_strdup (file);
  self->kind = kind;
  return self;
}

static void
request_free (gpointer data)
{
  g_free (((Request *) data)->file);
  g_free (data);
}

/* Of all kinds and parts; the array frees them. */
static GPtrArray *
list_records (WbStore *store,
              GError **error)
{
  g_autoptr (GPtrArray) all = g_ptr_array_new_with_free_func (wb_record_free);

  for (const WbRecordType *const *type = wb_exchange_shelf_types (); *type != NULL; type++)
    {
      g_autoptr (GPtrArray) some = wb_store_list (store, *type, NULL, 0, error);

      if (some == NULL)
        return NULL;
      g_ptr_array_extend_and_steal (all, g_steal_pointer (&some));
    }
  return g_steal_pointer (&all);
}

/* ---- Out ---- */

static gpointer
export_in_thread (WbStore      *store,
                  gpointer      data,
                  GCancellable *cancellable,
                  GError      **error)
{
  const Request *request = data;
  g_autoptr (GFile) file = g_file_new_for_path (request->file);
  g_autoptr (GPtrArray) records = list_records (store, error);

  if (records == NULL || !wb_exchange_shelf_write (file, records, request->kind, cancellable, error))
    return NULL;
  return g_strdup (request->file);
}

void
wb_app_shelf_export_async (WbAppNotebook      *notebook,
                           const WbRecordType *kind,
                           const char         *file,
                           GCancellable       *cancellable,
                           GAsyncReadyCallback callback,
                           gpointer            user)
{
  GTask *task = g_task_new (notebook, cancellable, callback, user);

  g_task_set_source_tag (task, wb_app_shelf_export_async);
  wb_app_reader_run (notebook, task, export_in_thread, request_new (file, kind), request_free, g_free);
}

gboolean
wb_app_shelf_export_finish (WbAppNotebook *notebook,
                            GAsyncResult  *result,
                            GError       **error)
{
  g_autofree char *file = NULL;

  g_return_val_if_fail (g_task_is_valid (result, notebook), FALSE);
  file = g_task_propagate_pointer (G_TASK (result), error);
  return file != NULL;
}

gboolean
wb_app_shelf_export_sync (WbAppNotebook      *notebook,
                          const WbRecordType *kind,
                          const char         *file,
                          GError            **error)
{
  Request request = { (char *) file, kind };
  g_autofree char *written = wb_app_reader_run_sync (notebook, export_in_thread, &request, error);

  return written != NULL;
}

/* ---- In: the look ---- */

static gpointer
look_in_thread (WbStore      *store,
                gpointer      data,
                GCancellable *cancellable,
                GError      **error)
{
  const Request *request = data;
  g_autoptr (GFile) file = g_file_new_for_path (request->file);
  g_autoptr (WbExchangeShelf) read = wb_exchange_shelf_read (file, request->kind, cancellable, error);
  g_autoptr (GPtrArray) records = read != NULL ? list_records (store, error) : NULL;
  g_autoptr (WbAppShelf) self = NULL;

  if (records == NULL)
    {
      wb_app_import_map_error (error);
      return NULL;
    }
  self = g_new0 (WbAppShelf, 1);
  self->file = g_strdup (request->file);
  self->unknown = g_strdupv (read->unknown);
  wb_app_shelf_match (self, read, records);
  return g_steal_pointer (&self);
}

void
wb_app_shelf_look_async (WbAppNotebook      *notebook,
                         const WbRecordType *kind,
                         const char         *file,
                         GCancellable       *cancellable,
                         GAsyncReadyCallback callback,
                         gpointer            user)
{
  GTask *task = g_task_new (notebook, cancellable, callback, user);

  g_task_set_source_tag (task, wb_app_shelf_look_async);
  wb_app_reader_run (notebook, task, look_in_thread, request_new (file, kind), request_free, (GDestroyNotify) wb_app_shelf_free);
}

WbAppShelf *
wb_app_shelf_look_finish (WbAppNotebook *notebook,
                          GAsyncResult  *result,
                          GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}

WbAppShelf *
wb_app_shelf_look_sync (WbAppNotebook      *notebook,
                        const WbRecordType *kind,
                        const char         *file,
                        GError            **error)
{
  Request request = { (char *) file, kind };

  return wb_app_reader_run_sync (notebook, look_in_thread, &request, error);
}

/* ---- In: the writing ---- */

static char *
dup_why (const WbAppShelf *seen)
{
  g_autofree char *name = g_filename_display_basename (seen->file);

  return g_strdup_printf (_("Import materials from %s"), name);
}

static gboolean
may_write (const WbAppShelf *seen,
           gboolean          partly,
           GError          **error)
{
  guint n = seen->n[WB_APP_SHELF_REFUSED];

  if (partly || n == 0)
    return TRUE;
  g_set_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED, ngettext ("%u row is refused, so nothing was written", "%u rows are refused, so nothing was written", n), n);
  return FALSE;
}

static void
on_saved_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      user)
{
  g_autoptr (GTask) task = user;
  GError *error = NULL;
  gint64 entry = wb_app_notebook_save_finish (WB_APP_NOTEBOOK (source), result, NULL, &error);

  if (error != NULL)
    g_task_return_error (task, error);
  else
    g_task_return_int (task, (gssize) entry);
}

void
wb_app_shelf_write_async (WbAppNotebook      *notebook,
                          const WbAppShelf   *seen,
                          gboolean            partly,
                          GAsyncReadyCallback callback,
                          gpointer            user)
{
  g_autoptr (GTask) task = NULL;
  g_autofree char *why = NULL;
  GError *error = NULL;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook) && seen != NULL);

  task = g_task_new (notebook, NULL, callback, user);
  g_task_set_source_tag (task, wb_app_shelf_write_async);
  if (!may_write (seen, partly, &error))
    g_task_return_error (task, error);
  else if (seen->records->len == 0)
    g_task_return_int (task, 0);
  else
    {
      why = dup_why (seen);
      wb_app_notebook_save_async (notebook, why, seen->records, NULL, on_saved_cb, g_steal_pointer (&task));
    }
}

gint64
wb_app_shelf_write_finish (WbAppNotebook *notebook,
                           GAsyncResult  *result,
                           GError       **error)
{
  g_autoptr (GError) reason = NULL;
  gssize entry;

  g_return_val_if_fail (g_task_is_valid (result, notebook), 0);
  entry = g_task_propagate_int (G_TASK (result), &reason);
  if (reason == NULL)
    return entry;
  g_propagate_error (error, g_steal_pointer (&reason));
  return 0;
}

gint64
wb_app_shelf_write_sync (WbAppNotebook    *notebook,
                         const WbAppShelf *seen,
                         gboolean          partly,
                         GError          **error)
{
  g_autofree char *why = NULL;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook) && seen != NULL, 0);

  if (!may_write (seen, partly, error) || seen->records->len == 0)
    return 0;
  why = dup_why (seen);
  return wb_app_notebook_save_sync (notebook, why, seen->records, NULL, error);
}
