/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-photo.h"

#include "wb-app-error-private.h"
#include "wb-app-reader-private.h"
#include "wb-app-save-task-private.h"
#include "wb-clock.h"
#include "wb-exchange-photo.h"
#include "wb-store-records.h"

#include <glib/gi18n-lib.h>

/* Until the next morning a look at a candle is one at its last burn. */
#define BURN_LASTS_US ((gint64) 24 * 3600 * G_USEC_PER_SEC)

/* What is to be added, and then what was made of it. */
typedef struct
{
  gint64        sample;
  char         *code;
  GFile        *file;     /* NULL: from the stream */
  GInputStream *stream;
  char         *name;
  WbInstant     now;
} Request;

static void
request_free (gpointer data)
{
  Request *self = data;

  g_free (self->code);
  g_clear_object (&self->file);
  g_clear_object (&self->stream);
  g_free (self->name);
  g_free (self);
}

typedef struct
{
  WbAttachment *attachment;
  GBytes       *bytes;
  char         *why;
} Prepared;

static void
prepared_free (gpointer data)
{
  Prepared *self = data;

  wb_record_free (self->attachment);
  g_clear_pointer (&self->bytes, g_bytes_unref);
  g_free (self->why);
  g_free (self);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Prepared, prepared_free)

/* When the file was written last; now, where that is not known or ahead of now. */
static WbInstant
find_time (const Request *request,
           GCancellable  *cancellable)
{
  g_autoptr (GFileInfo) info = NULL;
  g_autoptr (GDateTime) written = NULL;
  gint64 utc_us;

  if (request->file != NULL)
    info = g_file_query_info (request->file, G_FILE_ATTRIBUTE_TIME_MODIFIED, G_FILE_QUERY_INFO_NONE, cancellable, NULL);
  written = info != NULL ? g_file_info_get_modification_date_time (info) : NULL;
  if (written == NULL)
    return request->now;
  utc_us = g_date_time_to_unix (written) * G_USEC_PER_SEC;
  return utc_us < request->now.utc_us ? wb_clock_at (wb_clock_get (), utc_us) : request->now;
}

/* NULL: it is the sample's. Borrowed from the array. */
static const WbBurn *
find_burn (const GPtrArray *burns,
           WbInstant        taken_at)
{
  const WbBurn *found = NULL;

  for (guint i = 0; i < burns->len; i++)
    {
      const WbBurn *burn = g_ptr_array_index (burns, i);

      if (burn->lit_at.known && burn->lit_at.utc_us <= taken_at.utc_us && taken_at.utc_us - burn->lit_at.utc_us <= BURN_LASTS_US
          && (found == NULL || burn->lit_at.utc_us >= found->lit_at.utc_us))
        found = burn;
    }
  return found;
}

/* A name may be longer in a folder than in the record. */
static char *
dup_name (const char *name)
{
  g_autofree char *valid = g_utf8_make_valid (name, -1);

  return g_utf8_substring (valid, 0, MIN (g_utf8_strlen (valid, -1), WB_NAME_MAXIMUM));
}

static GBytes *
read_photo (const Request *request,
            GCancellable  *cancellable,
            GError       **error)
{
  g_autoptr (GBytes) input = request->file != NULL ? wb_exchange_photo_load_file (request->file, cancellable, error)
                                                   : wb_exchange_photo_load_stream (request->stream, request->name, cancellable, error);

  return input != NULL ? wb_exchange_photo_convert (input, request->name, cancellable, error) : NULL;
}

static gpointer
prepare_thread (WbStore      *store,
                gpointer      data,
                GCancellable *cancellable,
                GError      **error)
{
  const Request *request = data;
  g_autoptr (Prepared) self = g_new0 (Prepared, 1);
  g_autoptr (GPtrArray) burns = NULL;
  const WbBurn *burn;

  self->bytes = read_photo (request, cancellable, error);
  burns = self->bytes != NULL ? wb_store_list (store, &wb_burn_type, "sample", request->sample, error) : NULL;
  if (burns == NULL)
    return NULL;
  self->attachment = wb_record_new (&wb_attachment_type);
  self->attachment->role = WB_ATTACHMENT_PHOTO;
  self->attachment->name = dup_name (request->name);
  self->attachment->media_type = g_strdup ("image/jpeg");
  self->attachment->taken_at = find_time (request, cancellable);
  burn = find_burn (burns, self->attachment->taken_at);
  self->attachment->owner = burn != NULL ? burn->record.id : request->sample;
  self->why = burn != NULL ? g_strdup_printf (_("Add a photo of %s, burn %d"), request->code, (int) burn->number)
                           : g_strdup_printf (_("Add a photo of %s"), request->code);
  return g_steal_pointer (&self);
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
  g_autoptr (Prepared) prepared = g_task_propagate_pointer (G_TASK (result), &error);

  if (prepared == NULL)
    {
      g_task_return_error (task, error);
      return;
    }
  wb_app_attachment_add_async (WB_APP_NOTEBOOK (source), prepared->attachment, prepared->bytes, prepared->why,
                               g_task_get_cancellable (task), on_added_cb, g_object_ref (task));
}

/* Takes the name; of file and stream one is NULL. */
static void
add (WbAppNotebook *notebook,
     gint64         sample,
     const char    *code,
     GFile         *file,
     GInputStream  *stream,
     char          *name,
     GTask         *task)
{
  Request *request = g_new0 (Request, 1);

  request->sample = sample;
  request->code = g_strdup (code);
  g_set_object (&request->file, file);
  g_set_object (&request->stream, stream);
  request->name = name;
  request->now = wb_clock_now (wb_clock_get ());
  wb_app_reader_run (notebook, g_task_new (notebook, g_task_get_cancellable (task), on_prepared_cb, task), prepare_thread,
                     request, request_free, prepared_free);
}

void
wb_app_photo_add_file_async (WbAppNotebook      *notebook,
                             gint64              sample,
                             const char         *code,
                             GFile              *file,
                             GCancellable       *cancellable,
                             GAsyncReadyCallback callback,
                             gpointer            user)
{
  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));
  g_return_if_fail (sample > 0 && code != NULL);
  g_return_if_fail (G_IS_FILE (file));

  add (notebook, sample, code, file, NULL, g_file_get_basename (file),
       wb_app_save_task_new (notebook, wb_app_photo_add_file_async, cancellable, callback, user));
}

void
wb_app_photo_add_stream_async (WbAppNotebook      *notebook,
                               gint64              sample,
                               const char         *code,
                               GInputStream       *stream,
                               const char         *name,
                               GCancellable       *cancellable,
                               GAsyncReadyCallback callback,
                               gpointer            user)
{
  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));
  g_return_if_fail (sample > 0 && code != NULL);
  g_return_if_fail (G_IS_INPUT_STREAM (stream) && name != NULL);

  add (notebook, sample, code, NULL, stream, g_strdup (name),
       wb_app_save_task_new (notebook, wb_app_photo_add_stream_async, cancellable, callback, user));
}

gboolean
wb_app_photo_add_finish (WbAppNotebook *notebook,
                         GAsyncResult  *result,
                         GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), FALSE);
  return g_task_propagate_boolean (G_TASK (result), error);
}

void
wb_app_picture_free (WbAppPicture *self)
{
  if (self == NULL)
    return;
  g_bytes_unref (self->rgb);
  g_free (self);
}

typedef struct
{
  char *sha256;
  char *name;
  int   edge_px;
} Look;

static void
look_free (gpointer data)
{
  Look *self = data;

  g_free (self->sha256);
  g_free (self->name);
  g_free (self);
}

static gpointer
decode_thread (WbStore      *store,
               gpointer      data,
               GCancellable *cancellable,
               GError      **error)
{
  const Look *look = data;
  GError *reason = NULL;
  g_autoptr (GBytes) bytes = wb_store_load_attachment (store, look->sha256, &reason);
  g_autoptr (WbExchangePixels) pixels = NULL;
  WbAppPicture *self;

  if (bytes == NULL)
    {
      wb_app_error_propagate_read (error, reason);
      return NULL;
    }
  pixels = wb_exchange_photo_decode (bytes, look->name, look->edge_px, cancellable, error);
  if (pixels == NULL)
    return NULL;
  self = g_new0 (WbAppPicture, 1);
  self->width = pixels->width;
  self->height = pixels->height;
  self->stride = pixels->stride;
  self->rgb = g_bytes_ref (pixels->rgb);
  return self;
}

void
wb_app_photo_load_async (WbAppNotebook      *notebook,
                         const WbAttachment *photo,
                         int                 edge_px,
                         GCancellable       *cancellable,
                         GAsyncReadyCallback callback,
                         gpointer            user)
{
  GTask *task;
  Look *look;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));
  g_return_if_fail (photo != NULL && photo->record.type == &wb_attachment_type);
  g_return_if_fail (edge_px > 0);

  task = g_task_new (notebook, cancellable, callback, user);
  g_task_set_source_tag (task, wb_app_photo_load_async);
  look = g_new0 (Look, 1);
  look->sha256 = g_strdup (photo->sha256);
  look->name = g_strdup (photo->name);
  look->edge_px = edge_px;
  wb_app_reader_run (notebook, task, decode_thread, look, look_free, (GDestroyNotify) wb_app_picture_free);
}

WbAppPicture *
wb_app_photo_load_finish (WbAppNotebook *notebook,
                          GAsyncResult  *result,
                          GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}
