/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-error.h"

G_BEGIN_DECLS

/*
 * Writes the demo notebook: an invented workshop, marked so in the record, with
 * two experiments finished, one on the bench, one curing and one planned.
 * Its readings come from craft's physical model with fixed seeds; its dates end at the clock's now,
 * so that the same WICKBENCH_CLOCK gives the same content. WB_APP_ERROR_EXISTS if the
 * file is there already; nothing is left behind on an error. Blocks for about a second.
 */
gboolean wb_app_demo_write (const char *path, GError **error);

G_END_DECLS
