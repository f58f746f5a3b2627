/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-answer.h"
#include "wb-exchange-log-column.h"

#include <gio/gio.h>

G_BEGIN_DECLS

/*
 * A workbook of one or more experiments: what it is, ranking, grid (a row
 * a sample), figures of each burn, readings. Numbers are numbers in stored units, units stand in the
 * heads, head rows are frozen. Memory does not grow with the readings; past a
 * sheet's 1,048,575 rows they go on in another. The file is put in its place
 * whole by wb_exchange_xlsx_close(); without that nothing is changed.
 */
typedef struct _WbExchangeXlsx WbExchangeXlsx;

/* `fill` and `extra` as in wb_exchange_log_writer_new(); `now` is when it is made. Errors are those of the file. */
WbExchangeXlsx *wb_exchange_xlsx_new        (GFile *file, const WbNotebook *notebook, const WbExchangeLogFill *fill,
                                             const char *const *extra, WbInstant now, GCancellable *cancellable, GError **error);
void            wb_exchange_xlsx_free       (WbExchangeXlsx *self);
/* Ranking, grid and figures of an experiment. */
gboolean        wb_exchange_xlsx_add_answer (WbExchangeXlsx *self, const WbCraftAnswer *answer, GError **error);
/* A reading. */
gboolean        wb_exchange_xlsx_add_row    (WbExchangeXlsx *self, const WbLogRow *row, GError **error);
gboolean        wb_exchange_xlsx_close      (WbExchangeXlsx *self, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbExchangeXlsx, wb_exchange_xlsx_free)

G_END_DECLS
