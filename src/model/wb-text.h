/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/*
 * Text as records keep it: without white space at its ends, in Unicode NFC, so
 * that one name has one spelling. `length` in bytes, -1: up to the NUL. NULL
 * where nothing is left. Text that is not UTF-8 is trimmed only: it is for the
 * check that follows to refuse. Caller frees.
 */
char    *wb_text_dup_clean (const char *text, gssize length);
/* TRUE if wb_text_dup_clean() would give the same bytes back; quick for plain ASCII. */
gboolean wb_text_is_clean  (const char *text, gsize length);

G_END_DECLS
