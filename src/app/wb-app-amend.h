/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-live-list.h"
#include "wb-app-lot-shelf.h"
#include "wb-craft-doubt.h"
#include "wb-craft-pot.h"
#include "wb-reading.h"

G_BEGIN_DECLS

/*
 * One record of a sample as it may be amended: a reading, a burn, a look at it
 * unlit, the sample itself or the batch that it was poured from. Immutable.
 */
#define WB_TYPE_APP_AMEND_ITEM (wb_app_amend_item_get_type ())
G_DECLARE_FINAL_TYPE (WbAppAmendItem, wb_app_amend_item, WB, APP_AMEND_ITEM, GObject)

/* As it is now; of what was taken out, as it was last. Borrowed: WbReading, WbBurn, WbInspection, WbSample or WbBatch, by its type. */
gconstpointer wb_app_amend_item_get_record     (WbAppAmendItem *self);
/* Of a reading and of a burn: number of the burn; of a look: of the burn lit in the day before it; 0: none. */
int           wb_app_amend_item_get_burn       (WbAppAmendItem *self);
/* As it was before the amendments that stand; NULL: none does. What was undone does not stand. */
gconstpointer wb_app_amend_item_get_before     (WbAppAmendItem *self);
gboolean      wb_app_amend_item_get_taken_out  (WbAppAmendItem *self);
/* Of the newest amendment that stands: the reason that the person gave, when, and who (NULL: not known). */
const char   *wb_app_amend_item_get_reason     (WbAppAmendItem *self); /* NULL: not amended */
WbInstant     wb_app_amend_item_get_amended_at (WbAppAmendItem *self);
const char   *wb_app_amend_item_get_who        (WbAppAmendItem *self);
/* A reading or a look; what else there is cannot be thought away. */
gboolean      wb_app_amend_item_may_take_out   (WbAppAmendItem *self);
/* TRUE: the burn lasts until this reading's event, and is alight again without it. */
gboolean      wb_app_amend_item_ends_burn      (WbAppAmendItem *self);

/*
 * The record of one sample, to be amended, as WbAppAmendItem: looks at it
 * unlit, newest first; newest burn first, each burn before its readings, these
 * from the last to the first; then the sample, then its batch. An amendment is
 * an entry of its own that keeps what stood there before; undo takes it back.
 */
#define WB_TYPE_APP_AMEND (wb_app_amend_get_type ())
G_DECLARE_FINAL_TYPE (WbAppAmend, wb_app_amend, WB, APP_AMEND, WbAppLiveList)

/* sample: its id. Caller owns it. */
WbAppAmend   *wb_app_amend_new            (WbAppNotebook *notebook, gint64 sample);
/* The sample's code; NULL before it is loaded. */
const char   *wb_app_amend_get_code       (WbAppAmend *self);
/* Its id; 0 before it is loaded. */
gint64        wb_app_amend_get_sample     (WbAppAmend *self);
/* The lots of that sample, taken: a code that is typed and is no lot yet becomes one, in the entry that writes it. */
void          wb_app_amend_set_shelf      (WbAppAmend *self, WbAppLotShelf *shelf);
/*
 * WbCraftPotLine of a batch as it is to be amended, by wax and oil of the shelf (wb_craft_pot_find); of another record, and of a batch as it
 * was meant, none. Caller unrefs.
 */
GPtrArray    *wb_app_amend_find_pot       (WbAppAmend *self, gconstpointer record, gboolean us_units);
/*
 * Puts a new version in place. `record` is a copy of the item's, edited; reason: the person's, not empty. A reading that
 * would fall on another of its burn moves on by a tenth of a minute, as at the bench. Errors: NOTHING where nothing
 * differs, CHANGED where somebody wrote a newer version, REFUSED with the rule.
 */
void          wb_app_amend_save_async     (WbAppAmend *self, WbAppAmendItem *item, gconstpointer record, const char *reason,
                                           GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/*
 * What is hard to believe of an amended record, and was not so before: held against the readings before it, the first burn,
 * today. inner_mm: of the vessel. WbCraftDoubt, empty: nothing. Caller unrefs.
 */
GArray       *wb_app_amend_find_doubts    (WbAppAmend *self, WbAppAmendItem *item, gconstpointer record, double inner_mm);
/* A reading or a look that was not taken: it counts no longer, and stays in the record. */
void          wb_app_amend_take_out_async (WbAppAmend *self, WbAppAmendItem *item, const char *reason, GCancellable *cancellable,
                                           GAsyncReadyCallback callback, gpointer user);
/* Ends both: TRUE when it is durable in the file. */
gboolean      wb_app_amend_finish         (WbAppAmend *self, GAsyncResult *result, GError **error);

G_END_DECLS
