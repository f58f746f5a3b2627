/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-bench.h"

G_BEGIN_DECLS

/*
 * What is half typed at the bench, in the person's state folder: a file a
 * notebook and place where that lies, with a group a sample, called by its id.
 * What stands in a group beside the marks of this file is its writer's.
 * Nothing here is a record.
 */

/* Marks a group with the sample, its burn and how much of it was read, so that it is known later whether it was saved since. */
void      wb_app_bench_draft_mark        (GKeyFile *file, const char *group, WbAppBenchSample *sample);
/* TRUE: it is this sample, its burn is the same, and nothing was read of it since: it was not saved. */
gboolean  wb_app_bench_draft_is_unsaved  (GKeyFile *file, const char *group, WbAppBenchSample *sample);
/* Adds the group as it stands in `from`. */
void      wb_app_bench_draft_copy        (GKeyFile *file, GKeyFile *from, const char *group);
/* Keeps the text of such a file, from a thread of its own; NULL: there is nothing to keep. */
void      wb_app_bench_draft_keep_soon   (WbAppBench *bench, const char *text);
/* What was kept; empty where there is nothing, or nothing that can be read. Caller frees; NULL: cancelled. */
void      wb_app_bench_draft_load_async  (WbAppBench *bench, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
GKeyFile *wb_app_bench_draft_load_finish (WbAppBench *bench, GAsyncResult *result);

G_END_DECLS
