/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-earlier.h"
#include "wb-craft-interval.h"
#include "wb-dataset.h"

G_BEGIN_DECLS

/*
 * A JSON document (RFC 8259) as it grows. Numbers stand in stored units, in
 * their shortest form, whatever the locale; one that is not finite is null.
 * Members come in the order in which they are added. A `name` is that of a
 * member; NULL in an array.
 */
typedef struct _WbExchangeJson WbExchangeJson;

WbExchangeJson *wb_exchange_json_new          (void); /* begins the outer object */
void            wb_exchange_json_free         (WbExchangeJson *self);
void            wb_exchange_json_begin_object (WbExchangeJson *self, const char *name);
void            wb_exchange_json_end_object   (WbExchangeJson *self);
void            wb_exchange_json_begin_array  (WbExchangeJson *self, const char *name);
void            wb_exchange_json_end_array    (WbExchangeJson *self);

void            wb_exchange_json_add_text     (WbExchangeJson *self, const char *name, const char *text); /* NULL: null */
void            wb_exchange_json_add_real     (WbExchangeJson *self, const char *name, double value);
void            wb_exchange_json_add_integer  (WbExchangeJson *self, const char *name, gint64 value);     /* WB_INTEGER_NONE: null */
void            wb_exchange_json_add_flag     (WbExchangeJson *self, const char *name, gboolean value);
void            wb_exchange_json_add_null     (WbExchangeJson *self, const char *name);
void            wb_exchange_json_add_texts    (WbExchangeJson *self, const char *name, const char *const *texts); /* NULL: [] */
/* {"value", "low", "high"}, null where there is no value; a missing end is null. */
void            wb_exchange_json_add_interval (WbExchangeJson *self, const char *name, WbCraftInterval interval);
/*
 * The known fields of a record as members of the open object, with its id and
 * the entry that wrote it: references are ids, enumerations their words, days
 * and instants ISO 8601. What is not known is left out.
 */
void            wb_exchange_json_add_record   (WbExchangeJson *self, gconstpointer record);
/* What a cell is named by, as members of the open object. */
void            wb_exchange_json_add_cell     (WbExchangeJson *self, const WbDataset *data, guint cell);
/* "invented_data": true, where the notebook says so (NULL: it does not). */
void            wb_exchange_json_add_mark     (WbExchangeJson *self, const WbNotebook *notebook);
/* "spread_learnt_from": the codes of the experiments, where the spread between samples was learnt from any (NULL: it was not). */
void            wb_exchange_json_add_learnt   (WbExchangeJson *self, const WbCraftEarlier *earlier);

/* Ends the outer object; the document with a line feed, indented or on one line. Caller frees; nothing may be added behind. */
char           *wb_exchange_json_to_text      (WbExchangeJson *self, gboolean indented);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbExchangeJson, wb_exchange_json_free)

G_END_DECLS
