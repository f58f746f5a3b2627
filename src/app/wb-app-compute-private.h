/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-job.h"
#include "wb-app-lesson-keeper-private.h"
#include "wb-app-stamp-private.h"
#include "wb-craft-alias.h"
#include "wb-craft-answer.h"

G_BEGIN_DECLS

/*
 * The long computations: load in one short read on a connection of their own,
 * let go of the file, compute. None keeps anything but what a keeper is given.
 */

/*
 * stamp (may be NULL): how fresh the data were, see wb-app-stamp-private.h. before (may be
 * NULL): of the experiment's last answer, so that only what has changed since is worked out. keeper (may be NULL) is
 * given what the experiment taught.
 */
WbCraftAnswer *wb_app_compute_answer        (const char *path, gint64 experiment, WbCraftWithin within, guint64 seed, WbCraftMemo *before,
                                             WbAppLessonKeeper *keeper, WbAppJob *job, WbAppStamp *stamp, GError **error);
void           wb_app_compute_answer_async  (const char *path, gint64 experiment, WbCraftWithin within, guint64 seed, WbCraftMemo *before,
                                             WbAppLessonKeeper *keeper, WbAppJob *job, GAsyncReadyCallback callback, gpointer user);
WbCraftAnswer *wb_app_compute_answer_finish (GAsyncResult *result, WbAppStamp *stamp, GError **error);
/* The same, of data that have other names: *alias says which. NULL with an error. */
WbCraftAnswer *wb_app_compute_anonymous     (const char *path, gint64 experiment, WbCraftWithin within, guint64 seed, WbCraftMemo *before,
                                             WbAppJob *job, WbCraftAlias **alias, GError **error);

G_END_DECLS
