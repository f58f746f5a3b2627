/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-exchange-csv.h"
#include "wb-log-row.h"

/*
 * Cells of a burn-log record to the members of a row, by the header's names,
 * and the rules on a single row.
 */
typedef struct _WbExchangeLogCells WbExchangeLogCells;

/* Errors: WB_EXCHANGE_ERROR_HEADER, naming every column that is missing, doubled or without a name. */
WbExchangeLogCells *wb_exchange_log_cells_new  (const WbExchangeCsvRecord *header, GError **error);
void                wb_exchange_log_cells_free (WbExchangeLogCells *self);

/* Passes over an unknown column from here on, if the file has one of that name. */
void                wb_exchange_log_cells_drop (WbExchangeLogCells *self, const char *name);

/* The decimal sign of the first cell that tells one; '\0': none does. */
char                wb_exchange_log_cells_find_decimal (const WbExchangeLogCells *self, const WbExchangeCsvRecord *record);
void                wb_exchange_log_cells_set_decimal  (WbExchangeLogCells *self, char decimal);
char                wb_exchange_log_cells_get_decimal  (const WbExchangeLogCells *self);
const char *const  *wb_exchange_log_cells_get_extra    (const WbExchangeLogCells *self);
/* Name of a column of the file; NULL beyond the last. */
const char         *wb_exchange_log_cells_get_name     (const WbExchangeLogCells *self, guint cell);

/* FALSE: refused, one remark appended that says why. TRUE: warnings may have been appended. */
gboolean            wb_exchange_log_cells_read (WbExchangeLogCells *self, const WbExchangeCsvRecord *record, WbLogRow *row,
                                                GPtrArray *remarks);
/* After the last row: what is said once of all of them. */
void                wb_exchange_log_cells_finish (const WbExchangeLogCells *self, GPtrArray *remarks);
/* So far: rows with a load of a fragrance that has no name. */
guint64             wb_exchange_log_cells_get_unnamed (const WbExchangeLogCells *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbExchangeLogCells, wb_exchange_log_cells_free)
