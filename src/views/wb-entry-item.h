/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib-object.h>

#include "wb-app-record.h"

G_BEGIN_DECLS

/* An entry of the record in a list; immutable. */
#define WB_TYPE_ENTRY_ITEM (wb_entry_item_get_type ())
G_DECLARE_FINAL_TYPE (WbEntryItem, wb_entry_item, WB, ENTRY_ITEM, GObject)

WbEntryItem      *wb_entry_item_new      (WbAppEntry *entry /* taken */);
const WbAppEntry *wb_entry_item_get      (WbEntryItem *self);

/* What a column of the record page says of an entry. Caller frees. */
typedef enum { WB_ENTRY_NUMBER, WB_ENTRY_WHEN, WB_ENTRY_WHAT, WB_ENTRY_KIND, WB_ENTRY_WHO, WB_N_ENTRY_TEXTS } WbEntryText;
char             *wb_entry_item_dup_text (WbEntryItem *self, WbEntryText which);

G_END_DECLS
