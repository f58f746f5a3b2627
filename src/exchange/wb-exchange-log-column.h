/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-log-row.h"

G_BEGIN_DECLS

/* The columns of the burn-log format, in the order in which they are written. */

typedef enum
{
  WB_EXCHANGE_LOG_NAME,     /* char *, at most `maximum` characters, in NFC */
  WB_EXCHANGE_LOG_REAL,     /* double */
  WB_EXCHANGE_LOG_INTEGER,  /* gint64 */
  WB_EXCHANGE_LOG_WORD,     /* int, -1 where not given */
  WB_EXCHANGE_LOG_DAY,      /* WbDay */
  WB_EXCHANGE_LOG_INSTANT,  /* WbInstant */
  WB_EXCHANGE_LOG_READ_REAL, /* double in WbLogRow.values */
  WB_EXCHANGE_LOG_READ_WORD, /* the same, the index of a word */
  WB_EXCHANGE_LOG_READ_WHOLE, /* the same, a rating */
  WB_EXCHANGE_LOG_READ_POOL  /* the same, or the word full */
} WbExchangeLogKind;

typedef struct
{
  const char        *name;
  const char        *title, *unit; /* for a spreadsheet's head; untranslated, so that a file is the same in every language */
  WbExchangeLogKind  kind;
  gsize              offset;    /* in WbLogRow */
  int                column;    /* WbColumn of the READ kinds, else -1 */
  gboolean           required;
  double             minimum, maximum;
  const WbWord      *words;
  int                usual;     /* value that an empty cell stands for; -1: none */
  guint              full_bit;  /* of WB_COLUMN_POOL_FULL */
} WbExchangeLogColumn;

#define WB_EXCHANGE_LOG_N_COLUMNS 62

/* `column` from 0 to WB_EXCHANGE_LOG_N_COLUMNS - 1. */
const WbExchangeLogColumn *wb_exchange_log_column_get  (guint column);
/* -1: an unknown column. */
int                        wb_exchange_log_column_find (const char *name);
/* Whether the row says anything in this column that its export must write. */
gboolean                   wb_exchange_log_column_is_filled (guint column, const WbLogRow *row);

/* What a group of rows fills, so that an export leaves out the rest. */
typedef struct
{
  guint64  columns;   /* bit i: column i */
  guint64 *extra;     /* bit i: unknown column i */
  guint    n_extra;
} WbExchangeLogFill;

/* `n_extra` unknown columns stand in each row's `extra`. The required columns are filled from the start. */
WbExchangeLogFill *wb_exchange_log_fill_new  (guint n_extra);
void               wb_exchange_log_fill_free (WbExchangeLogFill *self);
void               wb_exchange_log_fill_add  (WbExchangeLogFill *self, const WbLogRow *row);
gboolean           wb_exchange_log_fill_has_extra (const WbExchangeLogFill *self, guint extra);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbExchangeLogFill, wb_exchange_log_fill_free)

G_END_DECLS
