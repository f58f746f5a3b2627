/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* The program's language: which texts are shown, and after whose habits numbers and dates are written. */

/*
 * Takes the user's locale and looks for texts of `domain` below `folder`. Once, at the start, before any thread: it may
 * set LANGUAGE. A system has only the locales that were generated for it; where the one that is asked for is not
 * among them, "C.UTF-8" stands in for all of it but the language, which the texts keep.
 */
void wb_language_set_up (const char *domain, const char *folder);
/*
 * From here on texts are those of `tag` ("de"), whatever the user's locale, which becomes "C.UTF-8". Before the first text
 * is asked for and before any thread; wb_language_set_up() came first.
 */
void wb_language_choose (const char *tag);
/*
 * The tag of the language, such as "de_CH.UTF-8": as gettext looks for it, the first of LANGUAGE, else LC_ALL, LC_MESSAGES
 * or LANG; "C" where these say "C", "POSIX" or nothing. A region that only the locale tells is kept. Caller frees.
 */
char *wb_language_dup_tag (void);

G_END_DECLS
