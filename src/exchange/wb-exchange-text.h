/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/*
 * A cell that begins with =, +, -, @, a tab or a carriage return is run by a
 * spreadsheet as a formula. Written, it gets one apostrophe before it, and so
 * does one that begins with apostrophes before one of these; read, exactly one
 * is taken off again.
 */
gboolean    wb_exchange_text_needs_guard (const char *text);
/* Behind the guard if there is one, else `text`. */
const char *wb_exchange_text_skip_guard  (const char *text);

G_END_DECLS
