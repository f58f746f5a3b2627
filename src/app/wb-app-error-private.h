/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-error.h"

G_BEGIN_DECLS

/*
 * Turns an error of the store into one of this room, keeping its message; any
 * other error stays as it is. `conflict` is what the store's CONFLICT means where it came
 * from: EXISTS, CHANGED or REFUSED.
 */
void wb_app_error_from_store (GError **error, WbAppError conflict);

/* Propagates what a read of one record said, `reason` taken; a record that is not there is WB_APP_ERROR_UNKNOWN. */
void wb_app_error_propagate_read (GError **error, GError *reason);

/*
 * Turns why a file could not be written, as GLib or GIO tell it, into a sentence that names the file instead of the
 * name under which it grew: WB_APP_ERROR_FULL without room, else WB_APP_ERROR_FAILED. Other errors stay as they are.
 */
void wb_app_error_from_writing (GError **error, const char *path);

G_END_DECLS
