/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-instant.h"
#include "wb-logger.h"

#include <gio/gio.h>

G_BEGIN_DECLS

/*
 * The file that a temperature logger writes: a table as text, with any delimiter and title lines above its header. It is not
 * trusted: files beyond these bounds are refused as a whole, rows that break a rule one by one, with line, column and rule.
 * Any thread; no global state. Errors: WB_EXCHANGE_ERROR with one sentence that names the file, or GIO's own.
 */

/* A week of a row every three seconds; no source. */
#define WB_EXCHANGE_LOGGER_BYTES (8 * 1024 * 1024)
#define WB_EXCHANGE_LOGGER_ROWS 200000

/* The whole file, as it is; FORMAT where it is larger, empty or no ordinary file. Blocks on the disk. Caller owns the bytes. */
GBytes         *wb_exchange_logger_load   (GFile *file, GCancellable *cancellable, GError **error);

/*
 * A choice proposed from the names of the columns and what stands in their first rows; guesses, to be shown and changed. It may
 * be without a temperature column. `bytes` are the file's. lit_at: the burn's, which tells day first from month first. `names`,
 * if not NULL, is all columns of the file; caller frees both. `shape`, if not NULL, says encoding, delimiter and line of the
 * header instead of a guess.
 */
WbLoggerChoice *wb_exchange_logger_guess  (GFile *file, GBytes *bytes, const WbLoggerChoice *shape, WbInstant lit_at, char ***names,
                                           GCancellable *cancellable, GError **error);

/*
 * What the file says. lit_at: of the burn, whose offset from UTC the logger's clock is taken to have had throughout; of no use to
 * minutes and seconds. FORMAT: a chosen column is not there, too many rows, no row that could be taken. Caller owns it.
 */
WbLogger       *wb_exchange_logger_read   (GBytes *bytes, const char *name, const WbLoggerChoice *choice, WbInstant lit_at,
                                           GCancellable *cancellable, GError **error);

/* Choice and file in one, as they are kept: a head of text, and behind it the file's bytes as they were. Caller owns the bytes. */
GBytes         *wb_exchange_logger_pack   (GBytes *bytes, const WbLoggerChoice *choice);
/* Both again; FORMAT where it was not packed here. */
GBytes         *wb_exchange_logger_unpack (GBytes *packed, const char *name, WbLoggerChoice **choice, GError **error);

G_END_DECLS
