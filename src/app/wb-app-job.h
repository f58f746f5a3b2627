/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/*
 * The handle of something that lasts: how far it is, in words and as a share,
 * and the way to cancel it. Any thread may report; the properties change, and
 * notify, on the main thread only, at most some ten times a second.
 *
 * Properties: "progress" (double, 0 to 1, below 0 where not known), "text"
 * (string), "running" (boolean).
 */
#define WB_TYPE_APP_JOB (wb_app_job_get_type ())
G_DECLARE_FINAL_TYPE (WbAppJob, wb_app_job, WB, APP_JOB, GObject)

/* To be made on the thread whose main context shall hear of it. Caller owns it. */
WbAppJob     *wb_app_job_new             (void);
/* The properties, on the thread that made it. */
double        wb_app_job_get_progress    (WbAppJob *self);
const char   *wb_app_job_get_text        (WbAppJob *self);
gboolean      wb_app_job_get_running     (WbAppJob *self);
/* Asks it to stop; its callback then ends with G_IO_ERROR_CANCELLED. */
void          wb_app_job_cancel          (WbAppJob *self);
gboolean      wb_app_job_is_cancelled    (WbAppJob *self); /* thread-safe */
GCancellable *wb_app_job_get_cancellable (WbAppJob *self);
/* From any thread. text NULL: as it was. TRUE while it may go on. `self` may be NULL. */
gboolean      wb_app_job_report          (WbAppJob *self, double progress, const char *text);
/* The same in the shape that long functions of calc and craft ask for; user is a WbAppJob or NULL. */
gboolean      wb_app_job_keep_going      (double done, gpointer user);

G_END_DECLS
