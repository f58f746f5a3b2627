/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Do the first bytes of a file tell of UTF-16: its mark, or, without one, a NUL in most pairs of bytes, always on one side? */
gboolean wb_exchange_encoding_is_utf16 (const char *bytes, gsize n);

G_END_DECLS
