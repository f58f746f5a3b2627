/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-instant.h"

#include <gio/gio.h>

G_BEGIN_DECLS

/*
 * Photos in. What comes in is not trusted: only JPEG and PNG are decoded, told by their first bytes whatever the name says,
 * and only below 100 megapixels (70 where a coloured JPEG comes in several passes), which the header is asked for before a pixel is
 * decoded. What is kept is
 * a fresh JPEG, upright, so that nothing of the file but the picture is left: no EXIF, place, thumbnail or comment; when it
 * was taken is read before. A colour profile is dropped: the pixels are kept as numbers and then read as sRGB.
 *
 * Any thread; no global state. Errors: WB_EXCHANGE_ERROR_FORMAT with one sentence that names the photo.
 */

/* A photo kept is this large at most: the longer edge in pixels, and bytes. */
#define WB_EXCHANGE_PHOTO_EDGE_PX 2048
#define WB_EXCHANGE_PHOTO_BYTES 1000000
/* A file that is larger is not read. Largest JPEG of a camera seen: some 40 MB; no source. */
#define WB_EXCHANGE_PHOTO_FILE_BYTES (64 * 1024 * 1024)

/* Decoded pixels: 8-bit red, green, blue, rows from the top. */
typedef struct
{
  int     width, height;
  gsize   stride;  /* bytes a row */
  GBytes *rgb;
} WbExchangePixels;

/* NULL is let pass. */
void              wb_exchange_pixels_free      (WbExchangePixels *self);

/* What a file is called in a sentence and in the record: valid UTF-8 of WB_NAME_MAXIMUM characters at most, no control in it. */
char             *wb_exchange_photo_dup_name   (GFile *file);

/*
 * Reads a whole file of WB_EXCHANGE_PHOTO_FILE_BYTES at most. Errors: FORMAT where it is larger or no ordinary file, else
 * GIO's own. Blocks on the disk. Caller owns the bytes.
 */
GBytes           *wb_exchange_photo_load_file  (GFile *file, GCancellable *cancellable, GError **error);
/* The same of a stream (a clipboard's); name: for the sentence. */
GBytes           *wb_exchange_photo_load_stream (GInputStream *stream, const char *name, GCancellable *cancellable, GError **error);

/*
 * The photo as it is kept: an upright JPEG of at most WB_EXCHANGE_PHOTO_EDGE_PX and WB_EXCHANGE_PHOTO_BYTES; what is
 * transparent becomes white. Its quality (90 first) goes down until it fits, then its size. Caller owns it.
 */
GBytes           *wb_exchange_photo_convert    (GBytes *input, const char *name, GCancellable *cancellable, GError **error);

/*
 * When it was taken, by EXIF's DateTimeOriginal (EXIF 2.32, 4.6.5), in a PNG that of its chunk eXIf (PNG 3, 11.3.4.1): with OffsetTimeOriginal, else as this computer's zone
 * has it. Unknown where the file does not say so, or nothing that is a time. Of a file as it came in, not of one that is kept.
 */
WbInstant         wb_exchange_photo_read_time  (GBytes *input);

/*
 * When the picture was last changed, by a PNG's chunk tIME (ISO 15948, 11.3.6.1, in UTC); unknown where it has none. Near the
 * time at which it was taken, perhaps: a scan and a screenshot have it from then, an edited picture from later.
 */
WbInstant         wb_exchange_photo_read_changed (GBytes *input);
/* When the file was last written, by its folder: copying and sending change that. Unknown where it is not told. Asks the disk. */
WbInstant         wb_exchange_photo_read_written (GFile *file, GCancellable *cancellable);

/*
 * A kept photo, to be shown: upright, shrunk to `edge_px` at most, never enlarged. A notebook is not trusted: FORMAT where
 * it is larger than photos are kept.
 */
WbExchangePixels *wb_exchange_photo_decode     (GBytes *input, const char *name, int edge_px, GCancellable *cancellable, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbExchangePixels, wb_exchange_pixels_free)

G_END_DECLS
