/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-exchange-sheet-private.h"
#include "wb-exchange-xlsx.h"

/* For tests: readings a sheet, fewer than a sheet holds. Before the first one. */
void wb_exchange_xlsx_set_rows_maximum (WbExchangeXlsx *self, guint rows);

/* A column's head: "Depth" and "mm". */
typedef struct
{
  const char *title, *unit;
  guint       decimals; /* that are shown of its numbers; 0: all that they have */
} WbExchangeXlsxHead;

void wb_exchange_sheet_add_heads         (WbExchangeSheet *sheet, const WbExchangeXlsxHead *heads, guint n);
/* The columns that say which combination of which experiment a row is of. */
void wb_exchange_sheet_add_cell_heads    (WbExchangeSheet *sheet);
void wb_exchange_sheet_add_cell          (WbExchangeSheet *sheet, const WbDataset *data, guint cell);

/* The sheets of results. */
void wb_exchange_sheet_add_ranking_heads (WbExchangeSheet *sheet);
void wb_exchange_sheet_add_ranking       (WbExchangeSheet *sheet, const WbCraftAnswer *answer);
void wb_exchange_sheet_add_grid_heads    (WbExchangeSheet *sheet);
void wb_exchange_sheet_add_grid          (WbExchangeSheet *sheet, const WbCraftAnswer *answer);
void wb_exchange_sheet_add_figure_heads  (WbExchangeSheet *sheet);
void wb_exchange_sheet_add_figures       (WbExchangeSheet *sheet, const WbCraftAnswer *answer);
