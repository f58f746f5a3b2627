/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-log-row.h"

G_BEGIN_DECLS

/*
 * What a log's rows say beside the other rows of their burn, for the doubts of
 * wb-craft-doubt-burn.h. Of rows only a few numbers are kept, and of no more
 * than WB_EXCHANGE_LOG_BURNS_ROWS: beyond that the burn to which nothing has
 * come for longest is judged by what there is of it. One thread at a time.
 */
typedef struct _WbExchangeLogBurns WbExchangeLogBurns;

#define WB_EXCHANGE_LOG_BURNS_ROWS 50000

WbExchangeLogBurns *wb_exchange_log_burns_new    (void);
/* NULL is let pass. */
void                wb_exchange_log_burns_free   (WbExchangeLogBurns *self);
/* A row that comes in, or is known; nothing of it is kept by reference. Rows in the order of the file. */
void                wb_exchange_log_burns_add    (WbExchangeLogBurns *self, const WbLogRow *row);
/* After the last row: all doubts, WbLogRemark in order of line, with a free function. Caller unrefs. Once only. */
GPtrArray          *wb_exchange_log_burns_finish (WbExchangeLogBurns *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbExchangeLogBurns, wb_exchange_log_burns_free)

G_END_DECLS
