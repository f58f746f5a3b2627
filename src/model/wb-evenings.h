/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-weekday.h"

G_BEGIN_DECLS

/*
 * Days of the week on which there is time for a session at the bench: a bit a day, Monday's the lowest (wb_day_get_weekday). As
 * text, in the notebook: "mon tue fri", Monday first, each once, one blank between.
 */
typedef guint WbEvenings;

#define WB_EVENINGS_NONE 0u
/* An evening begins at 19:00 where the notebook does not say. Common practice, no source. */
#define WB_EVENING_BEGINS_MIN (19 * 60)

/* NULL and "" are none. Blanks and commas part the days, in any order and case; WB_RECORD_ERROR_WORD names a word that is no day. */
gboolean   wb_evenings_parse  (const char *text, WbEvenings *evenings, GError **error);
/* NULL: none. Caller frees. */
char      *wb_evenings_format (WbEvenings evenings);
gboolean   wb_evenings_has    (WbEvenings evenings, int weekday);
guint      wb_evenings_count  (WbEvenings evenings);
/* The first evening on that day or after it; WB_DAY_NONE: there is none in the week, or no day. */
WbDay      wb_evenings_next   (WbEvenings evenings, WbDay from);

G_END_DECLS
