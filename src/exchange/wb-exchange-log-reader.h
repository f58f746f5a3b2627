/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-exchange-csv.h"
#include "wb-log-mapping.h"
#include "wb-log-row.h"

#include <gio/gio.h>

G_BEGIN_DECLS

/*
 * Rows of a burn-log CSV, one after the other, in bounded memory. The rules on
 * a single row are applied here; whether it contradicts another row or the
 * record is the store's to say. One thread at a time.
 */
typedef struct _WbExchangeLogReader WbExchangeLogReader;

typedef enum
{
  WB_EXCHANGE_LOG_ROW,
  WB_EXCHANGE_LOG_REFUSED,
  WB_EXCHANGE_LOG_END,
  WB_EXCHANGE_LOG_ERROR
} WbExchangeLogResult;

/*
 * Opens the file, reads its header and, where the delimiter is no comma, looks
 * for the decimal sign in the first 1,000 records. Errors: those of the file,
 * which they name, G_IO_ERROR_NOT_REGULAR_FILE among them;
 * WB_EXCHANGE_ERROR_HEADER naming the columns that are missing, doubled,
 * without a name or with one too long; WB_EXCHANGE_ERROR_FORMAT where the first line is no header at all.
 */
WbExchangeLogReader *wb_exchange_log_reader_new  (GFile *file, GCancellable *cancellable, GError **error);
/*
 * The same of a maker's own sheet, read by a mapping: its records come as the rows that the mapping makes of them, and lines,
 * columns, delimiter and decimal sign that are told are those of the sheet. The mapping is copied. Errors besides: what of the
 * mapping does not fit the sheet, WB_EXCHANGE_ERROR_HEADER. NULL: a burn log of the format.
 */
WbExchangeLogReader *wb_exchange_log_reader_new_mapped (GFile *file, const WbLogMapping *mapping, GCancellable *cancellable, GError **error);
void                 wb_exchange_log_reader_free (WbExchangeLogReader *self);

/*
 * The next row into `row`, whose texts are kept where they stay the same, so
 * that nobody else may take them. ROW: it is good, and warnings may have been
 * appended to `remarks` (WbLogRemark, with a free function). REFUSED: why has
 * been appended, one remark; `row` holds nothing of use but its line. ERROR: the file
 * cannot be read on, or cancelled.
 */
WbExchangeLogResult  wb_exchange_log_reader_next (WbExchangeLogReader *self, WbLogRow *row, GPtrArray *remarks, GError **error);

/* After the last row: what is said once of the file as a whole, WbLogRemark with the line where it is true first. */
void                 wb_exchange_log_reader_finish        (const WbExchangeLogReader *self, GPtrArray *remarks);

/* So far: rows with a load of a fragrance that has no name. */
guint64              wb_exchange_log_reader_get_unnamed   (const WbExchangeLogReader *self);

/*
 * Before the first row, of a sheet whose burns are counted: a burn that the notebook has, after which counting goes on. Whether such
 * are wanted is told by the first.
 */
gboolean             wb_exchange_log_reader_wants_recorded (const WbExchangeLogReader *self);
void                 wb_exchange_log_reader_add_recorded   (WbExchangeLogReader *self, const char *experiment, const char *sample,
                                                            WbInstant lit, gint64 number);

/* By a mapping: the names of the columns of its rows, and the texts of the row that came last, good until the next. */
void                 wb_exchange_log_reader_get_mapped    (const WbExchangeLogReader *self, WbExchangeCsvRecord *header, WbExchangeCsvRecord *row);
/*
 * Of remarks by others, from `from` on: names the column of the sheet that each is about, as the reader's own do. `last`: they are
 * about the row that came last. Without a mapping nothing is changed.
 */
void                 wb_exchange_log_reader_name_columns  (const WbExchangeLogReader *self, GPtrArray *remarks, guint from, gboolean last);
/*
 * Before the first row: passes over the column by which an export of invented
 * data says so, for a notebook that says so itself and writes it again.
 */
void                 wb_exchange_log_reader_drop_mark     (WbExchangeLogReader *self);
char                 wb_exchange_log_reader_get_delimiter (const WbExchangeLogReader *self); /* ',', ';' or '\t' */
char                 wb_exchange_log_reader_get_decimal   (const WbExchangeLogReader *self); /* '.' or ',' */
/* Names of the unknown columns, in the order of WbLogRow.extra; NULL-terminated, owned by the reader. */
const char *const   *wb_exchange_log_reader_get_extra     (const WbExchangeLogReader *self);
/* Records read so far, refused ones included; the header is none. */
guint64              wb_exchange_log_reader_get_rows      (const WbExchangeLogReader *self);
/* Bytes read so far, and of the whole file (0 where that is not known). */
guint64              wb_exchange_log_reader_get_offset    (const WbExchangeLogReader *self);
guint64              wb_exchange_log_reader_get_size      (const WbExchangeLogReader *self);
/* Differs when the file has been written since (size and time of change); "" where the system does not tell. */
const char          *wb_exchange_log_reader_get_etag      (const WbExchangeLogReader *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbExchangeLogReader, wb_exchange_log_reader_free)

G_END_DECLS
