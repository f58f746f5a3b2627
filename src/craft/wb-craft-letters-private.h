/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* What stands in for names has to find them as words of their own, however they were typed. Texts are UTF-8; results are freed by the caller. */

/* One form of each letter, however it was typed; what is no text at all becomes one. */
char     *wb_craft_letters_dup_composed (const char *text);
/*
 * The text letter by letter without its capitals, so that "Ébène" is "ébène". starts (may be NULL): for each byte of it, and its end, where in the text the
 * letter begins of which it is the first; G_MAXUINT within one.
 */
char     *wb_craft_letters_dup_folded   (const char *text, GArray *starts);
/* Whether a word may end before `at` and another begin there. */
gboolean  wb_craft_letters_is_between   (const char *text, const char *at);
/* An article at the end, before a name that was a word of the language, "the Hob", goes: "Vessel A" has none. What stands before `from` (bytes) is no article. */
void      wb_craft_letters_drop_article (GString *text, gsize from);

G_END_DECLS
