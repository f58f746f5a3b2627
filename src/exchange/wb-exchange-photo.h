/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

#define WB_EXCHANGE_PHOTO_MEGAPIXELS 100  /* larger pictures are refused before they are decoded */
#define WB_EXCHANGE_PHOTO_EDGE 2048       /* longer edge as kept, pixels */
#define WB_EXCHANGE_PHOTO_BYTES 1000000   /* at most, as kept */

/*
 * A photo as the notebook keeps it: upright, JPEG, no longer than
 * WB_EXCHANGE_PHOTO_EDGE and no larger than WB_EXCHANGE_PHOTO_BYTES. What the
 * camera wrote beside the picture, place and time among it, is not kept.
 * Takes JPEG, PNG, TIFF, BMP, GIF and what else of pictures made of pixels
 * the system's gdk-pixbuf reads. Errors: those of the file;
 * WB_EXCHANGE_ERROR_LIMIT; WB_EXCHANGE_ERROR_FORMAT where it is no picture.
 * Takes long: not for the main thread.
 */
GBytes *wb_exchange_photo_read (GFile *file, GCancellable *cancellable, GError **error);

G_END_DECLS
