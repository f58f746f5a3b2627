/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-live-list.h"
#include "wb-app-reader-private.h"

G_BEGIN_DECLS

/* What a live list lists; static. */
typedef struct
{
  GType                    (*get_item_type) (void);
  gboolean                 (*is_same) (gpointer item, gpointer other); /* the same version of the same record, told the same way */
  WbAppReaderFunc            read;   /* its data is the question; the result a GPtrArray of items, in order, which it unrefs */
  const WbRecordType *const *types;  /* a change of these is read; ends with NULL */
} WbAppLiveListKind;

/* To be called once, when the object is new: begins to read. The question's `size` bytes are copied. */
void             wb_app_live_list_start        (WbAppLiveList *self, WbAppNotebook *notebook, const WbAppLiveListKind *kind,
                                                gconstpointer question, gsize size);
/* Both borrowed. */
WbAppNotebook   *wb_app_live_list_get_notebook (WbAppLiveList *self);
const GPtrArray *wb_app_live_list_get_items    (WbAppLiveList *self);

G_END_DECLS
