/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/*
 * A task for a thread, whose result ends the caller's task. A task given to a thread
 * must have no source object: its last reference may be dropped there, and a
 * notebook must not end on that thread.
 */

/* Called with the caller's source object just before the caller's task ends, on its context. */
typedef void (*WbAppForwardFunc) (gpointer source);

/*
 * Takes the caller's task; shares its cancellable. What was done is told as done, however
 * late somebody cancelled: check_cancellable is off in both. before may be NULL.
 */
GTask *wb_app_forward_new (GTask *task, GDestroyNotify free_result, WbAppForwardFunc before);

G_END_DECLS
