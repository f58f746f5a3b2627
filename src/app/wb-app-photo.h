/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-attachment.h"

G_BEGIN_DECLS

/*
 * Photos of a sample and of its burns, as attachments of the role WB_ATTACHMENT_PHOTO. A photo is read, turned upright,
 * shrunk and rid of all that is not the picture (wb-exchange-photo.h says how) off the main thread.
 *
 * It is taken when its camera wrote that it was (EXIF), unless that lies ahead; it belongs to the burn that was lit last
 * before that, if by not more than a day, else to the sample. Where the file does not say so, no time is claimed: it is the
 * sample's until a person says more (wb_app_attachment_place_async), to whom a time may be offered.
 */

/*
 * Adds one, an entry of its own that undo takes back. Errors: WB_EXCHANGE_ERROR or G_IO_ERROR where it cannot be read, each
 * naming it, and those of a save. `sample` and `code` are the sample's.
 */
void     wb_app_photo_add_file_async   (WbAppNotebook *notebook, gint64 sample, const char *code, GFile *file,
                                        GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/* The same of a picture that was pasted then. burn: alight at that moment, which it is of, unless its camera says otherwise; 0: none. */
void     wb_app_photo_add_pasted_async (WbAppNotebook *notebook, gint64 sample, const char *code, gint64 burn, WbInstant pasted_at,
                                        GInputStream *stream, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/* TRUE when it is durable in the file. */
gboolean wb_app_photo_add_finish       (WbAppNotebook *notebook, GAsyncResult *result, GError **error);

/*
 * A time near which a photo may have been taken, where its file does not say when it was: never claimed, for a person to take.
 * It is known of what was added since the notebook was opened, and is no part of the record.
 */
typedef struct
{
  WbInstant when;
  gboolean  of_picture; /* when the picture was last changed, by itself; FALSE: when its file was last written, which copying changes */
} WbAppPhotoOffer;

/* sha256: of the kept photo. NULL: nothing is known. Borrowed. */
const WbAppPhotoOffer *wb_app_photo_get_offer (WbAppNotebook *notebook, const char *sha256);

/* Decoded pixels: 8-bit red, green, blue, rows from the top. */
typedef struct
{
  int     width, height;
  gsize   stride;  /* bytes a row */
  GBytes *rgb;
} WbAppPicture;

/* NULL is let pass. */
void          wb_app_picture_free      (WbAppPicture *self);

/* A kept photo to be shown, its longer edge `edge_px` at most. Errors: UNKNOWN where it is not kept, WB_EXCHANGE_ERROR where it is none. */
void          wb_app_photo_load_async  (WbAppNotebook *notebook, const WbAttachment *photo, int edge_px, GCancellable *cancellable,
                                        GAsyncReadyCallback callback, gpointer user);
WbAppPicture *wb_app_photo_load_finish (WbAppNotebook *notebook, GAsyncResult *result, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbAppPicture, wb_app_picture_free)

G_END_DECLS
