/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-exchange-sheet-private.h"
#include "wb-exchange-xlsx.h"

/* For tests: readings a sheet, fewer than a sheet holds. Before the first one. */
void wb_exchange_xlsx_set_rows_maximum (WbExchangeXlsx *self, guint rows);

/* The sheets of results. */
void wb_exchange_sheet_add_ranking_heads (WbExchangeSheet *sheet);
void wb_exchange_sheet_add_ranking       (WbExchangeSheet *sheet, const WbCraftAnswer *answer);
void wb_exchange_sheet_add_figure_heads  (WbExchangeSheet *sheet);
void wb_exchange_sheet_add_figures       (WbExchangeSheet *sheet, const WbCraftAnswer *answer);
