/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/*
 * A file written whole or not at all: the bytes go beside its place, and only
 * wb_exchange_output_close() puts them there. Freed without it, what stood
 * there before is untouched and nothing is left behind.
 */
typedef struct _WbExchangeOutput WbExchangeOutput;

WbExchangeOutput *wb_exchange_output_new    (GFile *file, GCancellable *cancellable, GError **error);
void              wb_exchange_output_free   (WbExchangeOutput *self);
/* Text for the file; what is appended here goes out with the next flush. */
GString          *wb_exchange_output_get_text (WbExchangeOutput *self);
/* Writes out what has gathered once it is worth it. */
gboolean          wb_exchange_output_flush  (WbExchangeOutput *self, GError **error);
gboolean          wb_exchange_output_close  (WbExchangeOutput *self, GError **error);

/* One cell of a CSV line, quoted where RFC 4180 or the reader's trimming asks for it. */
void              wb_exchange_output_add_cell (GString *text, const char *cell);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbExchangeOutput, wb_exchange_output_free)

G_END_DECLS
