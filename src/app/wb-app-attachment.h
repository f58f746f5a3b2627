/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"
#include "wb-sample.h"

G_BEGIN_DECLS

/*
 * Files that are kept with a record: a photo of a sample or a burn, the paper of an evening, a logger's file. Each is an
 * entry of its own that undo takes back; the bytes stand in the notebook once, whoever names them. What there is to list
 * is WbAppAttachments for a sample, and wb_app_query_list_by_async (…, &wb_attachment_type, "owner", …) for any other record.
 */

/*
 * Keeps `bytes` (64 MiB at most, not empty) with the record that `attachment` names as its owner, by its role, name,
 * media type, time and note; its id and SHA-256 are found here. why: as for a save. A reading cannot be an owner.
 */
void     wb_app_attachment_add_async      (WbAppNotebook *notebook, const WbAttachment *attachment, GBytes *bytes, const char *why,
                                           GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/*
 * What is seen no longer but stays in the history with its bytes. reason: the person's, not empty: REFUSED. CHANGED where
 * somebody wrote a newer version.
 */
void     wb_app_attachment_take_out_async (WbAppNotebook *notebook, const WbAttachment *attachment, const char *reason,
                                           GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/* Another note for it; NULL: none. NOTHING where it is the same, CHANGED as above. */
void     wb_app_attachment_note_async     (WbAppNotebook *notebook, const WbAttachment *attachment, const char *note,
                                           GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/*
 * Another owner (the sample, or one of its burns) and another time (unknown: none) for it; bytes and all else stay. reason:
 * the person's, not empty, but where nothing was claimed yet: no time, and of no burn (`burn` 0, as WbAppAttachmentsItem
 * tells it). Errors: REFUSED where there is no reason, or the time lies ahead; NOTHING and CHANGED as above.
 */
void     wb_app_attachment_place_async    (WbAppNotebook *notebook, const WbAttachment *attachment, int burn, gint64 owner, WbInstant taken_at,
                                           const char *reason, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/* Ends the four: TRUE when it is durable in the file. */
gboolean wb_app_attachment_finish         (WbAppNotebook *notebook, GAsyncResult *result, GError **error);

/* The bytes kept under a SHA-256 in lower-case hex; UNKNOWN where there are none. Read off the main thread. Caller owns them. */
void     wb_app_attachment_load_async     (WbAppNotebook *notebook, const char *sha256, GCancellable *cancellable,
                                           GAsyncReadyCallback callback, gpointer user);
GBytes  *wb_app_attachment_load_finish    (WbAppNotebook *notebook, GAsyncResult *result, GError **error);

G_END_DECLS
