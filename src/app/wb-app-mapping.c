/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-mapping.h"

#include "wb-app-error-private.h"
#include "wb-app-import-private.h"
#include "wb-exchange-log-reader.h"
#include "wb-exchange-mapping-guess.h"
#include "wb-exchange-mapping-target.h"

#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>

#define ENDING ".mapping"
#define LARGEST (1024 * 1024) /* bytes of a mapping's file */

const WbLogTarget *
wb_app_mapping_get_target (guint index)
{
  return wb_exchange_mapping_target_get (index);
}

guint
wb_app_mapping_n_targets (void)
{
  return wb_exchange_mapping_n_targets ();
}

const WbLogTarget *
wb_app_mapping_find_target (const char *name)
{
  int found = name != NULL ? wb_exchange_mapping_target_find (name) : -1;

  return found >= 0 ? wb_exchange_mapping_target_get ((guint) found) : NULL;
}

/* What is asked of a thread; each uses what it needs. */
typedef struct
{
  char         *path;
  WbLogMapping *mapping;
} Request;

static void
request_free (gpointer data)
{
  Request *self = data;

  g_free (self->path);
  wb_log_mapping_free (self->mapping);
  g_free (self);
}

static void
run (gpointer             tag,
     const char          *path,
     const WbLogMapping  *mapping,
     GTaskThreadFunc      func,
     GCancellable        *cancellable,
     GAsyncReadyCallback  callback,
     gpointer             user)
{
  g_autoptr (GTask) task = g_task_new (NULL, cancellable, callback, user);
  Request *request = g_new0 (Request, 1);

  request->path = g_strdup (path);
  request->mapping = mapping != NULL ? wb_log_mapping_copy (mapping) : NULL;
  g_task_set_source_tag (task, tag);
  g_task_set_task_data (task, request, request_free);
  g_task_run_in_thread (task, func);
}

typedef struct
{
  WbLogMapping *mapping;
  WbLogHead    *head;
} Guess;

static void
guess_free (gpointer data)
{
  Guess *self = data;

  wb_log_mapping_free (self->mapping);
  wb_log_head_free (self->head);
  g_free (self);
}

static void
guess_in_thread (GTask        *task,
                 gpointer      source,
                 gpointer      data,
                 GCancellable *cancellable)
{
  const Request *request = data;
  g_autoptr (GFile) file = g_file_new_for_path (request->path);
  Guess *guess = g_new0 (Guess, 1);
  GError *error = NULL;

  guess->mapping = wb_exchange_mapping_guess (file, request->mapping, &guess->head, cancellable, &error);
  if (guess->mapping != NULL)
    {
      g_task_return_pointer (task, guess, guess_free);
      return;
    }
  guess_free (guess);
  wb_app_import_map_error (&error);
  g_task_return_error (task, error);
}

void
wb_app_mapping_guess_async (const char         *file,
                            const WbLogMapping *shape,
                            GCancellable       *cancellable,
                            GAsyncReadyCallback callback,
                            gpointer            user)
{
  g_return_if_fail (file != NULL);
  run (wb_app_mapping_guess_async, file, shape, guess_in_thread, cancellable, callback, user);
}

WbLogMapping *
wb_app_mapping_guess_finish (GAsyncResult *result,
                             WbLogHead   **head,
                             GError      **error)
{
  Guess *guess = g_task_propagate_pointer (G_TASK (result), error);
  WbLogMapping *mapping;

  if (guess == NULL)
    return NULL;
  mapping = g_steal_pointer (&guess->mapping);
  if (head != NULL)
    *head = g_steal_pointer (&guess->head);
  guess_free (guess);
  return mapping;
}

static void
row_free (gpointer data)
{
  WbAppMappingRow *self = data;

  g_strfreev (self->cells);
  g_free (self->column);
  g_free (self->rule);
  g_free (self);
}

void
wb_app_mapping_preview_free (WbAppMappingPreview *self)
{
  if (self == NULL)
    return;
  g_strfreev (self->titles);
  g_ptr_array_unref (self->rows);
  g_ptr_array_unref (self->warnings);
  g_free (self);
}

static char **
dup_cells (const WbExchangeCsvRecord *record)
{
  char **cells = g_new0 (char *, record->n_cells + 1);

  for (guint i = 0; i < record->n_cells; i++)
    cells[i] = g_strdup (record->cells[i].text);
  return cells;
}

static void
add_row (WbAppMappingPreview       *preview,
         const WbExchangeLogReader *reader,
         guint64                    line,
         const WbLogRemark         *refused)
{
  WbAppMappingRow *row = g_new0 (WbAppMappingRow, 1);
  WbExchangeCsvRecord header, record;

  row->line = line;
  if (refused != NULL)
    {
      row->column = g_strdup (refused->column);
      row->rule = g_strdup (refused->rule);
      preview->n_refused++;
    }
  else
    {
      wb_exchange_log_reader_get_mapped (reader, &header, &record);
      row->cells = dup_cells (&record);
    }
  g_ptr_array_add (preview->rows, row);
}

static gboolean
read_rows (WbAppMappingPreview *preview,
           WbExchangeLogReader *reader,
           WbAppImportExtent   *extent,
           GError             **error)
{
  g_autoptr (WbLogRow) row = wb_log_row_new ();
  g_autoptr (GPtrArray) remarks = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);

  for (;;)
    {
      WbExchangeLogResult result = wb_exchange_log_reader_next (reader, row, remarks, error);

      if (result == WB_EXCHANGE_LOG_ERROR)
        return FALSE;
      if (result == WB_EXCHANGE_LOG_END)
        return TRUE;
      if (preview->rows->len == WB_APP_MAPPING_PREVIEW_ROWS)
        {
          preview->more = TRUE;
          return TRUE;
        }
      add_row (preview, reader, row->line, result == WB_EXCHANGE_LOG_REFUSED ? remarks->pdata[remarks->len - 1] : NULL);
      wb_app_import_extent_add (extent, row, result == WB_EXCHANGE_LOG_ROW);
      while (result == WB_EXCHANGE_LOG_ROW && remarks->len > 0)
        g_ptr_array_add (preview->warnings, g_ptr_array_steal_index (remarks, 0));
      g_ptr_array_set_size (remarks, 0);
    }
}

static void
preview_in_thread (GTask        *task,
                   gpointer      source,
                   gpointer      data,
                   GCancellable *cancellable)
{
  const Request *request = data;
  g_autoptr (GFile) file = g_file_new_for_path (request->path);
  g_autoptr (WbAppMappingPreview) preview = g_new0 (WbAppMappingPreview, 1);
  GError *error = NULL;
  g_autoptr (WbExchangeLogReader) reader = wb_exchange_log_reader_new_mapped (file, request->mapping, cancellable, &error);
  WbExchangeCsvRecord header, none;
  WbAppImportExtent extent;
  gboolean read;

  preview->rows = g_ptr_array_new_with_free_func (row_free);
  preview->warnings = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);
  wb_app_import_extent_init (&extent);
  read = reader != NULL && read_rows (preview, reader, &extent, &error);
  preview->lines = extent.lines;
  preview->samples = g_hash_table_size (extent.samples);
  wb_app_import_extent_clear (&extent);
  if (!read)
    {
      wb_app_import_map_error (&error);
      g_task_return_error (task, error);
      return;
    }
  wb_exchange_log_reader_finish (reader, preview->warnings);
  g_ptr_array_sort (preview->warnings, wb_log_remark_order);
  wb_exchange_log_reader_get_mapped (reader, &header, &none);
  preview->titles = dup_cells (&header);
  preview->unnamed = wb_exchange_log_reader_get_unnamed (reader) > 0 && !g_strv_contains ((const char *const *) preview->titles, "fragrance");
  g_task_return_pointer (task, g_steal_pointer (&preview), (GDestroyNotify) wb_app_mapping_preview_free);
}

void
wb_app_mapping_preview_async (const char         *file,
                              const WbLogMapping *mapping,
                              GCancellable       *cancellable,
                              GAsyncReadyCallback callback,
                              gpointer            user)
{
  g_return_if_fail (file != NULL && mapping != NULL);
  run (wb_app_mapping_preview_async, file, mapping, preview_in_thread, cancellable, callback, user);
}

WbAppMappingPreview *
wb_app_mapping_preview_finish (GAsyncResult *result,
                               GError      **error)
{
  return g_task_propagate_pointer (G_TASK (result), error);
}

WbLogMapping *
wb_app_mapping_load (const char *path,
                     GError    **error)
{
  g_autofree char *text = NULL;
  g_autoptr (GError) reason = NULL;
  WbLogMapping *mapping = NULL;
  gsize length = 0;
  GStatBuf found;

  g_return_val_if_fail (path != NULL, NULL);

  /* It is read whole: a wrong file may be a large one. */
  if (g_stat (path, &found) == 0 && found.st_size > LARGEST)
    {
      g_set_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED, _("“%s” is no mapping of a burn log: it is larger than 1 MiB"), path);
      return NULL;
    }
  if (!g_file_get_contents (path, &text, &length, error))
    return NULL;
  if (strlen (text) == length)
    mapping = wb_log_mapping_from_text (text, &reason);
  if (mapping == NULL)
    g_set_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED, _("“%s” is no mapping of a burn log: %s"), path,
                 reason != NULL ? reason->message : _("a NUL byte stands in it"));
  return mapping;
}

static void
load_in_thread (GTask        *task,
                gpointer      source,
                gpointer      data,
                GCancellable *cancellable)
{
  GError *error = NULL;
  WbLogMapping *mapping = wb_app_mapping_load (((const Request *) data)->path, &error);

  if (mapping != NULL)
    g_task_return_pointer (task, mapping, (GDestroyNotify) wb_log_mapping_free);
  else
    g_task_return_error (task, error);
}

void
wb_app_mapping_load_async (const char         *path,
                           GAsyncReadyCallback callback,
                           gpointer            user)
{
  g_return_if_fail (path != NULL);
  run (wb_app_mapping_load_async, path, NULL, load_in_thread, NULL, callback, user);
}

WbLogMapping *
wb_app_mapping_load_finish (GAsyncResult *result,
                            GError      **error)
{
  return g_task_propagate_pointer (G_TASK (result), error);
}

static char *
dup_folder (void)
{
  return g_build_filename (g_get_user_config_dir (), "wickbench", "mappings", NULL);
}

/* A name is a person's; as a file's it has no slash and does not begin with a point. */
static char *
dup_path (const char *name)
{
  g_autofree char *folder = dup_folder ();
  g_autofree char *escaped = g_uri_escape_string (name, " ", TRUE);
  g_autofree char *file = g_strconcat (*escaped == '.' ? "_" : "", escaped, ENDING, NULL);

  return g_build_filename (folder, file, NULL);
}

static void
save_in_thread (GTask        *task,
                gpointer      source,
                gpointer      data,
                GCancellable *cancellable)
{
  const Request *request = data;
  g_autofree char *path = request->path != NULL ? g_strdup (request->path) : dup_path (request->mapping->name);
  g_autofree char *folder = g_path_get_dirname (path), *text = wb_log_mapping_to_text (request->mapping);
  GError *error = NULL;

  /* Where the folder cannot be made the writing says why. */
  if (request->path == NULL)
    g_mkdir_with_parents (folder, 0700);
  if (g_file_set_contents (path, text, -1, &error))
    {
      g_task_return_boolean (task, TRUE);
      return;
    }
  wb_app_error_from_writing (&error, path);
  g_task_return_error (task, error);
}

void
wb_app_mapping_save_async (const WbLogMapping *mapping,
                           const char         *path,
                           GAsyncReadyCallback callback,
                           gpointer            user)
{
  g_return_if_fail (mapping != NULL);
  g_return_if_fail (path != NULL || (mapping->name != NULL && *mapping->name != '\0'));
  run (wb_app_mapping_save_async, path, mapping, save_in_thread, NULL, callback, user);
}

gboolean
wb_app_mapping_save_finish (GAsyncResult *result,
                            GError      **error)
{
  return g_task_propagate_boolean (G_TASK (result), error);
}

static int
compare_names (gconstpointer a,
               gconstpointer b)
{
  return g_utf8_collate ((*(const WbLogMapping *const *) a)->name, (*(const WbLogMapping *const *) b)->name);
}

static void
list_in_thread (GTask        *task,
                gpointer      source,
                gpointer      data,
                GCancellable *cancellable)
{
  g_autofree char *folder = dup_folder ();
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  GPtrArray *found = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_mapping_free);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_autoptr (WbLogMapping) mapping = g_str_has_suffix (name, ENDING) ? wb_app_mapping_load (path, NULL) : NULL;

      if (mapping != NULL && mapping->name != NULL)
        g_ptr_array_add (found, g_steal_pointer (&mapping));
    }
  g_ptr_array_sort (found, compare_names);
  g_task_return_pointer (task, found, (GDestroyNotify) g_ptr_array_unref);
}

void
wb_app_mapping_list_async (GAsyncReadyCallback callback,
                           gpointer            user)
{
  run (wb_app_mapping_list_async, NULL, NULL, list_in_thread, NULL, callback, user);
}

GPtrArray *
wb_app_mapping_list_finish (GAsyncResult *result,
                            GError      **error)
{
  return g_task_propagate_pointer (G_TASK (result), error);
}
