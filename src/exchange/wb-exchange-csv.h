/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/*
 * Records of a CSV file (RFC 4180), one after the other, from a stream read in
 * pieces; libcsv splits them into cells, blanks included. A byte order mark is passed over,
 * blank lines too, and LF, CRLF and CR all end a line. Memory does not grow
 * with the file. A record that breaks a rule of the format is told as broken
 * with the line on which it begins, and reading goes on at the line after it.
 */

#define WB_EXCHANGE_CSV_RECORD_MAXIMUM (1024 * 1024) /* bytes, quotes included */

typedef struct
{
  const char *text;    /* NUL-terminated UTF-8 */
  gsize       length;
} WbExchangeCsvCell;

typedef enum
{
  WB_EXCHANGE_CSV_QUOTING,   /* a quote stands where none may */
  WB_EXCHANGE_CSV_UNCLOSED,  /* a quote is opened and never closed */
  WB_EXCHANGE_CSV_NUL,       /* a NUL byte */
  WB_EXCHANGE_CSV_ENCODING,  /* not UTF-8 */
  WB_EXCHANGE_CSV_UTF16,     /* the whole stream is UTF-16, by its mark; told once a line */
  WB_EXCHANGE_CSV_TOO_LONG   /* longer than WB_EXCHANGE_CSV_RECORD_MAXIMUM */
} WbExchangeCsvFault;

/* Good until the next call. */
typedef struct
{
  guint64                  line;    /* on which it begins, from 1 */
  const WbExchangeCsvCell *cells;
  guint                    n_cells;
  WbExchangeCsvFault       fault;   /* of a broken one */
  guint                    fault_cell; /* its cell, G_MAXUINT where that cannot be told */
} WbExchangeCsvRecord;

typedef enum
{
  WB_EXCHANGE_CSV_RECORD,
  WB_EXCHANGE_CSV_BROKEN,
  WB_EXCHANGE_CSV_END,
  WB_EXCHANGE_CSV_ERROR
} WbExchangeCsvResult;

typedef struct _WbExchangeCsv WbExchangeCsv;

/* Keeps a reference on the stream. */
WbExchangeCsv      *wb_exchange_csv_new  (GInputStream *stream);
void                wb_exchange_csv_free (WbExchangeCsv *self);
/*
 * Before the first record: takes as delimiter the comma, semicolon or tab that
 * its first line with text from `line` on has most of (the comma where it has none). '\0' with an error.
 */
char                wb_exchange_csv_tell_delimiter (WbExchangeCsv *self, guint line, GCancellable *cancellable, GError **error);
/* Before the first record, where the delimiter is known: any sign of ASCII but the quotation mark and the line breaks. */
void                wb_exchange_csv_set_delimiter (WbExchangeCsv *self, char delimiter);
/* Errors are those of the stream; G_IO_ERROR_CANCELLED is asked for once a piece. */
WbExchangeCsvResult wb_exchange_csv_next (WbExchangeCsv *self, WbExchangeCsvRecord *record, GCancellable *cancellable,
                                          GError **error);
/* Bytes of the stream that lie behind. */
guint64             wb_exchange_csv_get_offset (const WbExchangeCsv *self);
/* One sentence without the line; translated, static. */
const char         *wb_exchange_csv_fault_get_text (WbExchangeCsvFault fault);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbExchangeCsv, wb_exchange_csv_free)

G_END_DECLS
