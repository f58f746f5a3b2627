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

G_END_DECLS
