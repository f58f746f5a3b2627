/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-exchange-logger.h"
#include "wb-exchange-mapping-time-private.h"
#include "wb-exchange-table.h"

G_BEGIN_DECLS

/* What reading and guessing a logger's file share. */

/* Its table up to the header; the error names the file. */
WbExchangeTable *wb_exchange_logger_open_table  (GBytes *bytes, const char *name, const WbLoggerChoice *shape, GCancellable *cancellable, GError **error);
/* Place of the column of that name (NULL: none); -1: there is none. */
int              wb_exchange_logger_find_column (const WbExchangeTable *table, const char *column);
/* The cell without blanks around it, "" where the record is shorter; good until the next call. */
const char      *wb_exchange_logger_get_cell    (const WbExchangeCsvRecord *record, int column, GString *scratch);
/* As those of a mapping, with a fraction of a second let pass; a day without a time of day is refused. */
gboolean         wb_exchange_logger_read_moment (const char *text, WbLogDateOrder order, WbExchangeMoment *moment, char **rule);
gboolean         wb_exchange_logger_read_time   (const char *text, int *second, char **rule);

G_END_DECLS
