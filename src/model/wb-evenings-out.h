/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-evenings.h"

G_BEGIN_DECLS

/*
 * Evenings without time, whatever day of the week they are: single days and ranges of them. As text, in the notebook:
 * "2026-12-24..2027-01-03 2027-02-15", in order. What is past stays in that text; forms no longer show it.
 */
typedef struct { WbDay first, last; } WbDaySpan;

/* WbDaySpan, in order; NULL and "" are none. What is no such text gives NULL with WB_RECORD_ERROR_WORD. Caller unrefs. */
GArray   *wb_evenings_out_parse  (const char *text, GError **error);
/* NULL: none. Caller frees. */
char     *wb_evenings_out_format (const GArray *out);
/* NULL has none. */
gboolean  wb_evenings_out_has    (const GArray *out, WbDay day);

/*
 * What a hand wrote, in the words of wb_day_read, commas or semicolons between: "24 Dec to 3 Jan, 15.2.2027". A day without its year
 * is the next one. WB_RECORD_ERROR_WORD names what is no day, and a range that ends before it begins. Caller unrefs.
 */
GArray   *wb_evenings_out_read   (const char *text, WbDay today, GError **error);
/* For people and for the above: "24 Dec 2026 to 3 Jan 2027, 15 Feb 2027", without what was over before that day; "": none. Caller frees. */
char     *wb_evenings_out_write  (const GArray *out, WbDay today);
/* What was over before that day, of the one, and all of the other. Caller unrefs. */
GArray   *wb_evenings_out_join   (const GArray *past, WbDay today, const GArray *coming);

G_END_DECLS
