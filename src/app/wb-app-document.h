/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-attachment.h"

G_BEGIN_DECLS

/*
 * Documents that are kept with a material, or any other record: a data sheet, a certificate, a photo. A JPEG or PNG, told by
 * its first bytes, is kept as a photo: upright, shrunk, rid of all that is not the picture (wb-exchange-photo.h). All else is kept
 * byte for byte as a paper. 64 MiB at most. Files are read and written off the main thread.
 */

/*
 * Keeps it, an entry of its own that undo takes back. title: what people call the owner. Errors: WB_EXCHANGE_ERROR or
 * G_IO_ERROR where it cannot be read, is too large or empty, each naming it, and those of a save.
 */
void       wb_app_document_add_async    (WbAppNotebook *notebook, gint64 owner, const char *title, GFile *file, GCancellable *cancellable,
                                         GAsyncReadyCallback callback, gpointer user);
/* The same of a picture alone, a logo: what is neither JPEG nor PNG is refused. */
void       wb_app_document_add_picture_async (WbAppNotebook *notebook, gint64 owner, const char *title, GFile *file, GCancellable *cancellable,
                                              GAsyncReadyCallback callback, gpointer user);
/* Ends both. */
gboolean   wb_app_document_add_finish   (WbAppNotebook *notebook, GAsyncResult *result, GError **error);

/* Writes a kept one to `path`, over what stands there, whole or not at all. */
void       wb_app_document_write_async  (WbAppNotebook *notebook, const WbAttachment *document, const char *path, GCancellable *cancellable,
                                         GAsyncReadyCallback callback, gpointer user);
/*
 * Writes a kept one into a new folder for temporary files that only this person may read, under its name with the ending of
 * its kind, so that the desktop's program for it can open it: for reading only, and gone when the notebook is closed.
 */
void       wb_app_document_show_async   (WbAppNotebook *notebook, const WbAttachment *document, GCancellable *cancellable,
                                         GAsyncReadyCallback callback, gpointer user);
/* Removes what programs that were killed left there; at the start of one. In a thread; the callback may be NULL. */
void       wb_app_document_remove_stale_async (GAsyncReadyCallback callback, gpointer user);
/* Ends the first two: where it was written. Caller owns it; NULL with an error. */
GFile     *wb_app_document_write_finish (WbAppNotebook *notebook, GAsyncResult *result, GError **error);

G_END_DECLS
