/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-log-mapping.h"

#include <gio/gio.h>

G_BEGIN_DECLS

/*
 * A mapping proposed for a maker's sheet, from the names of its columns and what stands in them; guesses, to be shown and changed.
 * `shape` says encoding, delimiter and line of the header; NULL: guessed too. `head`, if not NULL, is what was looked at; the
 * caller frees both. Errors: those of the file and of wb_exchange_table_new().
 */
WbLogMapping *wb_exchange_mapping_guess (GFile *file, const WbLogMapping *shape, WbLogHead **head, GCancellable *cancellable, GError **error);

G_END_DECLS
