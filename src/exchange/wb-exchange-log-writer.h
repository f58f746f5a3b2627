/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-exchange-log-column.h"

#include <gio/gio.h>

G_BEGIN_DECLS

/*
 * Burn-log rows into a CSV file: commas, points, CRLF as RFC 4180 has it,
 * UTF-8 without a byte order mark; numbers in their shortest form. The file is
 * written beside its place and put there whole by wb_exchange_log_writer_close();
 * without that, what stood there stays as it was.
 */
typedef struct _WbExchangeLogWriter WbExchangeLogWriter;

/* Column added to the rows of a notebook whose data are invented, and its cell in each. */
#define WB_EXCHANGE_LOG_INVENTED_COLUMN "invented_data"
#define WB_EXCHANGE_LOG_INVENTED_CELL "yes"

/*
 * `fill` says which columns some row fills; it is asked only here. `extra` are
 * the names of the unknown columns, in the order of WbLogRow.extra; NULL: none.
 * `cancellable` is kept. Errors are those of the file.
 */
WbExchangeLogWriter *wb_exchange_log_writer_new   (GFile *file, const WbExchangeLogFill *fill, const char *const *extra,
                                                   gboolean invented, GCancellable *cancellable, GError **error);
void                 wb_exchange_log_writer_free  (WbExchangeLogWriter *self);
/* Rows in order of experiment, sample, burn, time. */
gboolean             wb_exchange_log_writer_add   (WbExchangeLogWriter *self, const WbLogRow *row, GError **error);
gboolean             wb_exchange_log_writer_close (WbExchangeLogWriter *self, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbExchangeLogWriter, wb_exchange_log_writer_free)

G_END_DECLS
