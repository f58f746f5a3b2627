/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-experiment.h"

#include <xlsxwriter.h>

/*
 * One sheet of a workbook, written row by row from the top, as libxlsxwriter's
 * mode of constant memory asks: a frozen head row, then cells from left to
 * right. The library's first error is kept in `error`.
 */
typedef struct
{
  lxw_worksheet *worksheet;
  lxw_format    *head, *day, *instant;
  gboolean       invented;  /* a last column says so */
  lxw_row_t      row;       /* the next one */
  lxw_col_t      column;    /* the next cell */
  lxw_error      error;     /* the first */
} WbExchangeSheet;

void      wb_exchange_sheet_begin_row   (WbExchangeSheet *self);
void      wb_exchange_sheet_end_row     (WbExchangeSheet *self);

/* Cell of the head row; the column is as wide as it needs. "Depth" and "mm" make "Depth (mm)". */
void      wb_exchange_sheet_add_head    (WbExchangeSheet *self, const char *title, const char *unit);
void      wb_exchange_sheet_end_head    (WbExchangeSheet *self);
void      wb_exchange_sheet_skip        (WbExchangeSheet *self, guint cells);        /* leaves them empty */
void      wb_exchange_sheet_add_text    (WbExchangeSheet *self, const char *text);   /* NULL, "": empty */
void      wb_exchange_sheet_add_number  (WbExchangeSheet *self, double number);      /* not finite: empty */
void      wb_exchange_sheet_add_integer (WbExchangeSheet *self, gint64 number);      /* WB_INTEGER_NONE: empty */
void      wb_exchange_sheet_add_day     (WbExchangeSheet *self, WbDay day);
/* What the clock on the wall showed: a spreadsheet's times have no offset. */
void      wb_exchange_sheet_add_instant (WbExchangeSheet *self, WbInstant instant);
