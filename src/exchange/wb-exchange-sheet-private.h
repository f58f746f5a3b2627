/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-experiment.h"

#include <xlsxwriter.h>

/* Columns whose decimals are told; those behind have none. */
#define WB_EXCHANGE_SHEET_COLUMNS 96
#define WB_EXCHANGE_SHEET_DECIMALS 3

/*
 * One sheet of a workbook, written row by row from the top, as libxlsxwriter's
 * mode of constant memory asks: a frozen head row, then cells from left to
 * right. The library's first error is kept in `error`.
 */
typedef struct
{
  lxw_worksheet *worksheet;
  lxw_format    *head, *day, *instant;
  lxw_format    *decimal[WB_EXCHANGE_SHEET_DECIMALS + 1]; /* by how many are shown; 0: as many as the number has */
  guint8         decimals[WB_EXCHANGE_SHEET_COLUMNS];     /* shown of a column's numbers, which are kept whole */
  gboolean       invented;  /* a last column says so */
  lxw_row_t      row;       /* the next one */
  lxw_col_t      column;    /* the next cell */
  lxw_col_t      columns;   /* of the head row */
  lxw_error      error;     /* the first */
} WbExchangeSheet;

void      wb_exchange_sheet_begin_row   (WbExchangeSheet *self);
void      wb_exchange_sheet_end_row     (WbExchangeSheet *self);

/* Cell of the head row; the column is as wide as it needs. "Depth" and "mm" make "Depth (mm)". */
void      wb_exchange_sheet_add_head    (WbExchangeSheet *self, const char *title, const char *unit);
/* The numbers below the last head are shown with so many decimals, 1 to 3; 0: as they are. */
void      wb_exchange_sheet_set_decimals (WbExchangeSheet *self, guint decimals);
void      wb_exchange_sheet_end_head    (WbExchangeSheet *self);
/* When its last row is written: filters on its heads. */
void      wb_exchange_sheet_finish      (WbExchangeSheet *self);
void      wb_exchange_sheet_skip        (WbExchangeSheet *self, guint cells);        /* leaves them empty */
void      wb_exchange_sheet_add_text    (WbExchangeSheet *self, const char *text);   /* NULL, "": empty */
void      wb_exchange_sheet_add_number  (WbExchangeSheet *self, double number);      /* not finite: empty */
void      wb_exchange_sheet_add_integer (WbExchangeSheet *self, gint64 number);      /* WB_INTEGER_NONE: empty */
void      wb_exchange_sheet_add_day     (WbExchangeSheet *self, WbDay day);
/* What the clock on the wall showed: a spreadsheet's times have no offset. */
void      wb_exchange_sheet_add_instant (WbExchangeSheet *self, WbInstant instant);
