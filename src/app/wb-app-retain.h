/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"
#include "wb-sample.h"

G_BEGIN_DECLS

/*
 * Samples kept as a reference: what a later batch is held beside. One has a place and a day until which it is kept; it is not
 * offered to be lit, nor counted among those to burn.
 */

/* How long a reference is usually kept, days; common practice, no source. */
#define WB_APP_RETAIN_USUAL_DAYS 365

typedef enum { WB_APP_RETAIN_KEEP, WB_APP_RETAIN_RELEASE, WB_APP_RETAIN_THROWN_OUT } WbAppRetainDeed;

/*
 * One entry. KEEP takes place and day (a place is needed, and a day that is not over: else REFUSED); RELEASE lets it be burnt
 * like any other; THROWN_OUT leaves it among the references, says so as its place, and asks no more. sample: as it was read.
 */
void     wb_app_retain_async  (WbAppNotebook *notebook, const WbSample *sample, WbAppRetainDeed deed, const char *place, WbDay keep_until,
                               GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/* "kept as a reference until 30 Nov 2027 (Box 3)", "a reference: thrown out on …"; NULL: it is none. */
char    *wb_app_retain_dup_words (const WbSample *sample);

/* TRUE when it is durable in the file. */
gboolean wb_app_retain_finish (WbAppNotebook *notebook, GAsyncResult *result, GError **error);

/* The references of a notebook; reads them off the main thread, and again when a sample changed. Signal "changed". */
#define WB_TYPE_APP_RETAINED (wb_app_retained_get_type ())
G_DECLARE_FINAL_TYPE (WbAppRetained, wb_app_retained, WB, APP_RETAINED, GObject)

WbAppRetained   *wb_app_retained_new  (WbAppNotebook *notebook);
/* WbSample, borrowed until the next change; empty before they are read. */
const GPtrArray *wb_app_retained_get  (WbAppRetained *self);
/* Borrowed; NULL: that sample is none. */
const WbSample  *wb_app_retained_find (WbAppRetained *self, gint64 sample);

G_END_DECLS
