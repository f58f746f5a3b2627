/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-exchange-csv.h"
#include "wb-log-mapping.h"

G_BEGIN_DECLS

/*
 * Any sheet saved as text, as a mapping tells its shape: encoding, delimiter,
 * and the line on which the names of its columns stand. Lines above that are
 * passed over. Of two rows of names the upper ones are those of groups. A name that stands twice is "NAME (2)" the second time, a column
 * without a name "column 7". In bounded memory; one thread at a time.
 */
typedef struct _WbExchangeTable WbExchangeTable;

/*
 * Reads up to the header, of the beginning of the file `name` (for messages only). Errors: those of the stream;
 * WB_EXCHANGE_ERROR_FORMAT: an encoding that is not known, a broken or missing header.
 */
WbExchangeTable     *wb_exchange_table_new           (GInputStream *stream, const WbLogMapping *shape, GCancellable *cancellable, GError **error);
/* NULL is let pass. */
void                 wb_exchange_table_free          (WbExchangeTable *self);
/* strv, owned by the table. */
const char *const   *wb_exchange_table_get_names     (const WbExchangeTable *self);
char                 wb_exchange_table_get_delimiter (const WbExchangeTable *self);
/* The line on which the header really stands: the first with text from the wanted one on. */
guint64              wb_exchange_table_get_header_line (const WbExchangeTable *self);
/*
 * As wb_exchange_csv_next(); a record with fewer cells than names is as good as one with empty cells behind. Text that the
 * encoding has no sign for is an error, WB_EXCHANGE_ERROR_FORMAT.
 */
WbExchangeCsvResult  wb_exchange_table_next          (WbExchangeTable *self, WbExchangeCsvRecord *record, GCancellable *cancellable, GError **error);
/* Bytes behind, counted as UTF-8. */
guint64              wb_exchange_table_get_offset    (const WbExchangeTable *self);

/* Whether there is text in none of the cells: blanks say no more than nothing does. */
gboolean             wb_exchange_record_is_empty     (const WbExchangeCsvRecord *record);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbExchangeTable, wb_exchange_table_free)

G_END_DECLS
