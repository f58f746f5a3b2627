/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-exchange-csv.h"
#include "wb-exchange-log-column.h"

/* The text of one cell to the member of a row that its column is, by the column's own rules. */
typedef struct
{
  char       decimal;       /* '.' or ',' */
  GString   *scratch;
  char      *instant_text;  /* rows of a burn say the same one again and again */
  WbInstant  instant;
} WbExchangeLogValues;

void     wb_exchange_log_values_init  (WbExchangeLogValues *self);
void     wb_exchange_log_values_clear (WbExchangeLogValues *self);
/*
 * A cell that is not empty. FALSE: `*rule` says what the rule is and what
 * stood there; caller frees. The bounds of a pool hang on the vessel and are
 * not looked at here.
 */
gboolean wb_exchange_log_values_read  (WbExchangeLogValues *self, const WbExchangeLogColumn *column,
                                       const WbExchangeCsvCell *cell, WbLogRow *row, char **rule);
/* "“999”: 0 to 71, up to 5 % above that with a warning, or the word full, is accepted" with what stood there, the bounds, and a tail or "". */
char    *wb_exchange_log_dup_range_rule (const char *text, double low, double high, const char *tail);
/* The start of a cell for a message, in quotation marks. */
char    *wb_exchange_log_dup_quoted     (const char *text);
