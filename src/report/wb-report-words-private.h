/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-interval.h"
#include "wb-instant.h"
#include "wb-quantity.h"

G_BEGIN_DECLS

/* Values in a reader's words and units. Every text belongs to the caller. */

#define WB_REPORT_NONE "–" /* stands where there is no value */

/* A stored value in the shown unit with its symbol; decimals below 0: as many as the unit usually has. WB_REPORT_NONE where it is not finite. */
char *wb_report_dup_value    (gboolean us_units, WbUnit stored, double value, int decimals);
/* A size or bound as somebody once set it: no zeros behind the decimal sign. */
char *wb_report_dup_set      (gboolean us_units, WbUnit stored, double value);
/* "3.3 h (3.0 to 3.7)": 90 % interval, `between` before its bracket; an end that is not there is said. */
char *wb_report_dup_interval (gboolean us_units, WbUnit stored, WbCraftInterval interval, int decimals, const char *between);
/* The same with a capital in front. */
char *wb_report_dup_sentence (const char *text);
/* "82 %", "< 1 %", "> 99 %". */
char *wb_report_dup_chance   (double chance);
/* Decimals with which readings of that unit are told. */
int   wb_report_get_decimals (gboolean us_units, WbUnit stored);
/* The unit in which a stored one is shown. */
WbUnit wb_report_get_shown   (gboolean us_units, WbUnit stored);

/* A name of a decent length on one line, the end replaced by an ellipsis; set apart from its surroundings where it runs right to left. */
char *wb_report_dup_name     (const char *name);
/* Whether a letter of a right-to-left script is in it. */
gboolean wb_report_runs_right_to_left (const char *text);
/* At most `most` characters. */
char *wb_report_dup_clipped  (const char *text, glong most);

/* Distinct texts in the order in which they came; NULL and "" are passed over. */
GPtrArray *wb_report_list_new  (void);
void       wb_report_list_add  (GPtrArray *list, const char *text);
/* As wb_report_dup_name makes it. */
void       wb_report_list_add_name (GPtrArray *list, const char *name);
/* "a, b, c and 4 more": at most `most` of them. */
char      *wb_report_list_join (const GPtrArray *list, guint most);
/* The same of them all, where names may have commas of their own: by "; ". Caller frees. */
char      *wb_report_list_join_apart (const GPtrArray *list);

G_END_DECLS
