/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"
#include "wb-sample.h"

G_BEGIN_DECLS

/* The lots among which the texts of one sample and of its batch choose. */
typedef struct
{
  gint64     wax, dye, additive, fragrance, vessel, wick; /* ids; 0: none */
  WbRecord  *wax_record, *fragrance_record;               /* WbWax and WbFragrance of those ids; NULL: none */
  GPtrArray *lots;                                        /* WbLot of the whole notebook */
  GPtrArray *parts;                                       /* WbFragrancePart likewise */
} WbAppLotShelf;

void           wb_app_lot_shelf_async        (WbAppNotebook *notebook, gint64 sample, GCancellable *cancellable, GAsyncReadyCallback callback,
                                              gpointer user);
WbAppLotShelf *wb_app_lot_shelf_finish       (WbAppNotebook *notebook, GAsyncResult *result, GError **error);
void           wb_app_lot_shelf_free         (WbAppLotShelf *self);
/* Whose lots a field of a sample or a batch names ("wick_lot"); 0: it is no such field, or nothing of that kind went in. */
gint64         wb_app_lot_shelf_get_material (const WbAppLotShelf *self, const char *field);
/* Adds to the records of a save a WbLot for each code that is none yet in a text that is another than in `was`, a record of its type. */
void           wb_app_lot_shelf_add_missing  (const WbAppLotShelf *self, GPtrArray *records, gconstpointer record, gconstpointer was);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbAppLotShelf, wb_app_lot_shelf_free)

G_END_DECLS
