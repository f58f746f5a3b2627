/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-amend.h"

G_BEGIN_DECLS

/* What may be amended, and what was, in words: the list, the dialog and their tests say it alike. */

/* "60 min", "Burn 2", "Pour of T1", "Batch B-1", "Look at T1, 30 Nov 2026, 08:10, after burn 2". code: the sample's. Caller frees. */
char              *wb_amend_words_dup_title  (WbAppAmendItem *item, const char *code);
/* The same, of which sample and burn it is: "T1, burn 1, 60 min, wick 2". Caller frees. */
char              *wb_amend_words_dup_whole  (WbAppAmendItem *item, const char *code);
/* Its known values, "Pool diameter 89.0 mm · Flame height 21.0 mm"; "" where it holds none. Caller frees. */
char              *wb_amend_words_dup_values (WbAppAmendItem *item, gboolean us_units);
/* The same of a record that is no item: one of its versions. Caller frees. */
char              *wb_amend_words_dup_record (gconstpointer record, gboolean us_units);
/* What differs between two versions, "Pool diameter 98.0 mm → 89.0 mm"; "": nothing that is shown. Caller frees. */
char              *wb_amend_words_dup_change (gconstpointer before, gconstpointer after, gboolean us_units);
/* "Amended 28 Nov, 18:02, by Wren: typed 98 for 89. Before: Pool diameter 98.0 mm."; "" where it was not. Caller frees. */
char              *wb_amend_words_dup_mark   (WbAppAmendItem *item, gboolean us_units);
/* Names of the fields that are amended in a form of their own, NULL-terminated, static; NULL for a reading. */
const char *const *wb_amend_words_get_fields (const WbRecordType *type);

G_END_DECLS
