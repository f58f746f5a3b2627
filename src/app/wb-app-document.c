/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-document.h"

#include "wb-app-document-copies-private.h"
#include "wb-app-error-private.h"
#include "wb-app-reader-private.h"
#include "wb-app-save-task-private.h"
#include "wb-exchange-error.h"
#include "wb-exchange-photo.h"
#include "wb-exchange-place.h"
#include "wb-store-records.h"

#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>

typedef struct
{
  gint64   owner;
  char    *title;
  GFile   *file;
  gboolean picture;  /* nothing else is kept */
} Request;

typedef struct
{
  WbAttachment *document;
  GBytes       *bytes;
  char         *why;
} Prepared;

static void
request_free (gpointer data)
{
  Request *self = data;

  g_free (self->title);
  g_object_unref (self->file);
  g_free (self);
}

static void
prepared_free (gpointer data)
{
  Prepared *self = data;

  wb_record_free (self->document);
  g_bytes_unref (self->bytes);
  g_free (self->why);
  g_free (self);
}

static gboolean
is_picture (GBytes *bytes)
{
  static const guint8 png[] = { 0x89, 'P', 'N', 'G', 0x0d, 0x0a, 0x1a, 0x0a }, jpeg[] = { 0xff, 0xd8, 0xff };
  gsize size;
  const guint8 *data = g_bytes_get_data (bytes, &size);

  return (size >= sizeof png && memcmp (data, png, sizeof png) == 0) || (size >= sizeof jpeg && memcmp (data, jpeg, sizeof jpeg) == 0);
}

static char *
dup_media_type (const char *name,
                GBytes     *bytes)
{
  gsize size;
  const guint8 *data = g_bytes_get_data (bytes, &size);
  g_autofree char *type = g_content_type_guess (name, data, MIN (size, 4096), NULL);
  char *media_type = g_content_type_get_mime_type (type);

  return media_type != NULL ? media_type : g_strdup ("application/octet-stream");
}

static gpointer
prepare_thread (WbStore      *store,
                gpointer      data,
                GCancellable *cancellable,
                GError      **error)
{
  const Request *request = data;
  g_autofree char *name = wb_exchange_photo_dup_name (request->file);
  g_autoptr (GBytes) input = wb_exchange_photo_load_file (request->file, cancellable, error);
  g_autoptr (GBytes) kept = NULL;
  gboolean picture;
  Prepared *self;

  if (input == NULL)
    return NULL;
  if (g_bytes_get_size (input) == 0)
    {
      g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT, _("“%s” is empty: there is nothing to keep."), name);
      return NULL;
    }
  picture = request->picture || is_picture (input);
  kept = picture ? wb_exchange_photo_convert (input, name, cancellable, error) : g_bytes_ref (input);
  if (kept == NULL)
    return NULL;
  self = g_new0 (Prepared, 1);
  self->bytes = g_bytes_ref (kept);
  self->document = wb_record_new (&wb_attachment_type);
  self->document->owner = request->owner;
  self->document->role = picture ? WB_ATTACHMENT_PHOTO : WB_ATTACHMENT_PAPER;
  self->document->name = g_strdup (name);
  self->document->media_type = picture ? g_strdup ("image/jpeg") : dup_media_type (name, input);
  if (picture)
    self->document->taken_at = wb_exchange_photo_read_time (input);
  self->why = g_strdup_printf (_("Keep “%s” with %s"), name, request->title);
  return self;
}

static void
on_added_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      user)
{
  g_autoptr (GTask) task = user;
  GError *error = NULL;

  if (wb_app_attachment_finish (WB_APP_NOTEBOOK (source), result, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void
on_prepared_cb (GObject      *source,
                GAsyncResult *result,
                gpointer      user)
{
  g_autoptr (GTask) task = user;
  GError *error = NULL;
  Prepared *prepared = g_task_propagate_pointer (G_TASK (result), &error);

  if (prepared == NULL)
    {
      g_task_return_error (task, error);
      return;
    }
  wb_app_attachment_add_async (WB_APP_NOTEBOOK (source), prepared->document, prepared->bytes, prepared->why,
                               g_task_get_cancellable (task), on_added_cb, g_object_ref (task));
  prepared_free (prepared);
}

static void
add (WbAppNotebook      *notebook,
     gint64              owner,
     const char         *title,
     GFile              *file,
     gboolean            picture,
     GCancellable       *cancellable,
     GAsyncReadyCallback callback,
     gpointer            user)
{
  GTask *task;
  Request *request;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));
  g_return_if_fail (owner > 0 && title != NULL);
  g_return_if_fail (G_IS_FILE (file));

  request = g_new0 (Request, 1);
  request->owner = owner;
  request->title = g_strdup (title);
  request->file = g_object_ref (file);
  request->picture = picture;
  task = wb_app_save_task_new (notebook, wb_app_document_add_async, cancellable, callback, user);
  wb_app_reader_run (notebook, g_task_new (notebook, cancellable, on_prepared_cb, task), prepare_thread, request, request_free,
                     prepared_free);
}

void
wb_app_document_add_async (WbAppNotebook      *notebook,
                           gint64              owner,
                           const char         *title,
                           GFile              *file,
                           GCancellable       *cancellable,
                           GAsyncReadyCallback callback,
                           gpointer            user)
{
  add (notebook, owner, title, file, FALSE, cancellable, callback, user);
}

void
wb_app_document_add_picture_async (WbAppNotebook      *notebook,
                                   gint64              owner,
                                   const char         *title,
                                   GFile              *file,
                                   GCancellable       *cancellable,
                                   GAsyncReadyCallback callback,
                                   gpointer            user)
{
  add (notebook, owner, title, file, TRUE, cancellable, callback, user);
}

gboolean
wb_app_document_add_finish (WbAppNotebook *notebook,
                            GAsyncResult  *result,
                            GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), FALSE);
  return g_task_propagate_boolean (G_TASK (result), error);
}

typedef struct
{
  char *sha256;
  char *name;
  char *media_type;
  char *path; /* NULL: into a folder of its own */
} Copy;

static void
copy_free (gpointer data)
{
  Copy *self = data;

  g_free (self->sha256);
  g_free (self->name);
  g_free (self->media_type);
  g_free (self->path);
  g_free (self);
}

/*
 * The name of a document comes out of a notebook that nobody vouches for: no folder is left in it, it hides nothing, and a
 * photo, which is a JPEG by now, is called one. Caller frees.
 */
static char *
dup_file_name (const Copy *copy)
{
  g_autofree char *base = g_path_get_basename (copy->name != NULL ? copy->name : "");
  char *name = g_strdup (*base == '.' || *base == '/' || *base == '\0' ? "document" : base);

  if (g_strcmp0 (copy->media_type, "image/jpeg") == 0 && !g_str_has_suffix (name, ".jpg") && !g_str_has_suffix (name, ".jpeg"))
    {
      char *longer = g_strconcat (name, ".jpg", NULL);

      g_free (name);
      name = longer;
    }
  return name;
}

static GFile *
find_place (const Copy *copy,
            GError    **error)
{
  g_autofree char *folder = NULL;
  g_autofree char *name = NULL;

  if (copy->path != NULL)
    return g_file_new_for_path (copy->path);
  folder = wb_app_document_copies_make_folder (error);
  if (folder == NULL)
    return NULL;
  name = dup_file_name (copy);
  return g_file_new_build_filename (folder, name, NULL);
}

static gpointer
write_thread (WbStore      *store,
              gpointer      data,
              GCancellable *cancellable,
              GError      **error)
{
  const Copy *copy = data;
  GError *reason = NULL;
  g_autoptr (GBytes) bytes = wb_store_load_attachment (store, copy->sha256, &reason);
  g_autoptr (GFile) file = NULL;
  g_autoptr (WbExchangePlace) place = NULL;
  gsize size;
  gconstpointer content;

  wb_app_error_propagate_read (error, reason);
  if (bytes == NULL)
    return NULL;
  file = find_place (copy, error);
  place = file != NULL ? wb_exchange_place_new (file, cancellable, error) : NULL;
  if (place == NULL)
    return NULL;
  content = g_bytes_get_data (bytes, &size);
  if (!g_file_replace_contents (wb_exchange_place_get_file (place), content, size, NULL, FALSE, G_FILE_CREATE_PRIVATE, NULL, cancellable, error) ||
      !wb_exchange_place_commit (place, cancellable, error))
    return NULL;
  if (copy->path == NULL)
    wb_app_document_copies_protect (file);
  return g_steal_pointer (&file);
}

static void
write_copy (WbAppNotebook      *notebook,
            const WbAttachment *document,
            const char         *path,
            gpointer            tag,
            GCancellable       *cancellable,
            GAsyncReadyCallback callback,
            gpointer            user)
{
  GTask *task = g_task_new (notebook, cancellable, callback, user);
  Copy *copy = g_new0 (Copy, 1);

  g_task_set_source_tag (task, tag);
  copy->sha256 = g_strdup (document->sha256);
  copy->name = g_strdup (document->name);
  copy->media_type = g_strdup (document->media_type);
  copy->path = g_strdup (path);
  wb_app_reader_run (notebook, task, write_thread, copy, copy_free, g_object_unref);
}

void
wb_app_document_write_async (WbAppNotebook      *notebook,
                             const WbAttachment *document,
                             const char         *path,
                             GCancellable       *cancellable,
                             GAsyncReadyCallback callback,
                             gpointer            user)
{
  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));
  g_return_if_fail (document != NULL && path != NULL);
  write_copy (notebook, document, path, wb_app_document_write_async, cancellable, callback, user);
}

void
wb_app_document_show_async (WbAppNotebook      *notebook,
                            const WbAttachment *document,
                            GCancellable       *cancellable,
                            GAsyncReadyCallback callback,
                            gpointer            user)
{
  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));
  g_return_if_fail (document != NULL);
  write_copy (notebook, document, NULL, wb_app_document_show_async, cancellable, callback, user);
}

GFile *
wb_app_document_write_finish (WbAppNotebook *notebook,
                              GAsyncResult  *result,
                              GError       **error)
{
  GFile *file;

  g_return_val_if_fail (g_task_is_valid (result, notebook), NULL);

  file = g_task_propagate_pointer (G_TASK (result), error);
  if (file != NULL && g_task_get_source_tag (G_TASK (result)) == wb_app_document_show_async)
    wb_app_document_copies_add (notebook, file);
  return file;
}
