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

/* A camera's clock may be ahead of the computer's by as much; more is no time of a photo that is here already. */
#define AHEAD_US ((gint64) 120 * G_USEC_PER_SEC)

/* What is to be added, and then what was made of it. */
typedef struct
{
  gint64        sample;
  char         *code;
  gint64        burn;      /* alight when it was pasted; 0: none */
  WbInstant     pasted_at;
  GFile        *file;      /* NULL: from the stream */
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
  WbAttachment   *attachment;
  GBytes         *bytes;
  char           *why;
  char           *sha256;
  WbAppPhotoOffer offer; /* unknown: none */
} Prepared;

static void
prepared_free (gpointer data)
{
  Prepared *self = data;

  wb_record_free (self->attachment);
  g_clear_pointer (&self->bytes, g_bytes_unref);
  g_free (self->why);
  g_free (self->sha256);
  g_free (self);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Prepared, prepared_free)

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

/* NULL: none of them. */
static const WbBurn *
find_burn_of_id (const GPtrArray *burns,
                 gint64           id)
{
  for (guint i = 0; i < burns->len; i++)
    if (((const WbBurn *) g_ptr_array_index (burns, i))->record.id == id)
      return g_ptr_array_index (burns, i);
  return NULL;
}

/*
 * When it was taken, and so whose it is: by what the camera wrote; else a burn that was alight when it was pasted; else
 * nothing is claimed. When the file was written says nothing of it: copying and sending change that. Borrowed; NULL: the sample.
 */
static const WbBurn *
find_place (const Request   *request,
            const GPtrArray *burns,
            WbInstant        written,
            WbInstant       *taken_at)
{
  const WbBurn *burn;

  *taken_at = WB_INSTANT_NONE;
  if (written.known && written.utc_us <= request->now.utc_us + AHEAD_US)
    {
      *taken_at = written;
      return find_burn (burns, written);
    }
  burn = find_burn_of_id (burns, request->burn);
  if (burn != NULL)
    *taken_at = request->pasted_at;
  return burn;
}

/* Where no time is claimed. What lies ahead is no time of a photo that is here already. */
static WbAppPhotoOffer
find_offer (const Request *request,
            GBytes        *input,
            GCancellable  *cancellable)
{
  WbAppPhotoOffer offer = { wb_exchange_photo_read_changed (input), TRUE };

  if (!offer.when.known && request->file != NULL)
    offer = (WbAppPhotoOffer) { wb_exchange_photo_read_written (request->file, cancellable), FALSE };
  if (offer.when.known && offer.when.utc_us > request->now.utc_us)
    offer.when = WB_INSTANT_NONE;
  return offer;
}

static GBytes *
read_file (const Request *request,
           GCancellable  *cancellable,
           GError       **error)
{
  return request->file != NULL ? wb_exchange_photo_load_file (request->file, cancellable, error)
                               : wb_exchange_photo_load_stream (request->stream, request->name, cancellable, error);
}

static gpointer
prepare_thread (WbStore      *store,
                gpointer      data,
                GCancellable *cancellable,
                GError      **error)
{
  const Request *request = data;
  g_autoptr (Prepared) self = g_new0 (Prepared, 1);
  g_autoptr (GBytes) input = read_file (request, cancellable, error);
  g_autoptr (GPtrArray) burns = NULL;
  const WbBurn *burn;

  self->bytes = input != NULL ? wb_exchange_photo_convert (input, request->name, cancellable, error) : NULL;
  burns = self->bytes != NULL ? wb_store_list (store, &wb_burn_type, "sample", request->sample, error) : NULL;
  if (burns == NULL)
    return NULL;
  self->sha256 = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, self->bytes);
  self->attachment = wb_record_new (&wb_attachment_type);
  self->attachment->role = WB_ATTACHMENT_PHOTO;
  self->attachment->name = g_strdup (request->name);
  self->attachment->media_type = g_strdup ("image/jpeg");
  burn = find_place (request, burns, wb_exchange_photo_read_time (input), &self->attachment->taken_at);
  if (!self->attachment->taken_at.known)
    self->offer = find_offer (request, input, cancellable);
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

/* By the kept photo's SHA-256, with the notebook. */
#define OFFERS_KEY "wb-app-photo-offers"

static void
keep_offer (WbAppNotebook  *notebook,
            const Prepared *prepared)
{
  GHashTable *offers = g_object_get_data (G_OBJECT (notebook), OFFERS_KEY);

  if (!prepared->offer.when.known)
    {
      if (offers != NULL)
        g_hash_table_remove (offers, prepared->sha256);
      return;
    }
  if (offers == NULL)
    {
      offers = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
      g_object_set_data_full (G_OBJECT (notebook), OFFERS_KEY, offers, (GDestroyNotify) g_hash_table_unref);
    }
  g_hash_table_replace (offers, g_strdup (prepared->sha256), g_memdup2 (&prepared->offer, sizeof prepared->offer));
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
  keep_offer (WB_APP_NOTEBOOK (source), prepared);
  wb_app_attachment_add_async (WB_APP_NOTEBOOK (source), prepared->attachment, prepared->bytes, prepared->why,
                               g_task_get_cancellable (task), on_added_cb, g_object_ref (task));
}

/* Takes the request. */
static void
add (WbAppNotebook *notebook,
     Request       *request,
     GTask         *task)
{
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
  Request *request;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));
  g_return_if_fail (sample > 0 && code != NULL);
  g_return_if_fail (G_IS_FILE (file));

  request = g_new0 (Request, 1);
  request->sample = sample;
  request->code = g_strdup (code);
  request->file = g_object_ref (file);
  request->name = wb_exchange_photo_dup_name (file);
  add (notebook, request, wb_app_save_task_new (notebook, wb_app_photo_add_file_async, cancellable, callback, user));
}

void
wb_app_photo_add_pasted_async (WbAppNotebook      *notebook,
                               gint64              sample,
                               const char         *code,
                               gint64              burn,
                               WbInstant           pasted_at,
                               GInputStream       *stream,
                               GCancellable       *cancellable,
                               GAsyncReadyCallback callback,
                               gpointer            user)
{
  Request *request;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));
  g_return_if_fail (sample > 0 && code != NULL && burn >= 0);
  g_return_if_fail (G_IS_INPUT_STREAM (stream));

  request = g_new0 (Request, 1);
  request->sample = sample;
  request->code = g_strdup (code);
  request->burn = burn;
  request->pasted_at = pasted_at;
  request->stream = g_object_ref (stream);
  request->name = g_strdup (_("Pasted photo"));
  add (notebook, request, wb_app_save_task_new (notebook, wb_app_photo_add_pasted_async, cancellable, callback, user));
}

gboolean
wb_app_photo_add_finish (WbAppNotebook *notebook,
                         GAsyncResult  *result,
                         GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), FALSE);
  return g_task_propagate_boolean (G_TASK (result), error);
}

const WbAppPhotoOffer *
wb_app_photo_get_offer (WbAppNotebook *notebook,
                        const char    *sha256)
{
  GHashTable *offers;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);
  g_return_val_if_fail (sha256 != NULL, NULL);

  offers = g_object_get_data (G_OBJECT (notebook), OFFERS_KEY);
  return offers != NULL ? g_hash_table_lookup (offers, sha256) : NULL;
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
