/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/*
 * Where a file is to be written whole or not at all: it grows under another
 * name in the same folder, and wb_exchange_place_commit() puts it there over
 * what stood there. Freed without that, the growing file is deleted and the
 * old one untouched. A symbolic link is followed, an existing file's mode kept.
 */
typedef struct _WbExchangePlace WbExchangePlace;

/* Errors: G_IO_ERROR_IS_DIRECTORY, G_IO_ERROR_PERMISSION_DENIED for a file that may not be written, G_IO_ERROR_NOT_FOUND for its folder. */
WbExchangePlace *wb_exchange_place_new    (GFile *file, GCancellable *cancellable, GError **error);
void             wb_exchange_place_free   (WbExchangePlace *self);
/* The file to write. */
GFile           *wb_exchange_place_get_file (WbExchangePlace *self);
/* Makes the bytes durable and puts the file in its place. */
gboolean         wb_exchange_place_commit (WbExchangePlace *self, GCancellable *cancellable, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbExchangePlace, wb_exchange_place_free)

G_END_DECLS
