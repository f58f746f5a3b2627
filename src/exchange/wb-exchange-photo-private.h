/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/*
 * The data of the first chunk of that type ("eXIf"; ISO 15948, 5.3: length, kind, data, check sum), which the bytes hold whole.
 * NULL: there is none before their end, or they are no PNG. Borrowed from the bytes; a length of 0 is possible.
 */
const guint8 *wb_exchange_photo_find_chunk (GBytes *input, const char *type, gsize *length);

G_END_DECLS
