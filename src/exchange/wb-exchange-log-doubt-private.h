/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-log-row.h"

/*
 * What breaks no rule and yet can hardly be: a slip of the finger that would
 * come in unseen and move a ranking. A doubt is a warning beside the row, which
 * comes in all the same: the maker knows better than the program.
 */
typedef struct
{
  char   *experiment, *sample; /* of the row before */
  double  mass_g;              /* last one told of that sample; NAN: none */
  gint64  burn;                /* of that mass */
  double  elapsed_min;
  guint64 unnamed;             /* rows with a load of a fragrance that has no name */
  guint64 unnamed_line;        /* of the first */
  double  unnamed_pct;
} WbExchangeLogDoubts;

void wb_exchange_log_doubts_init  (WbExchangeLogDoubts *self);
void wb_exchange_log_doubts_clear (WbExchangeLogDoubts *self);
/* Appends a WbLogRemark for each doubt that the accepted row leaves, alone or after the row before it in the file. */
void wb_exchange_log_doubts_add   (WbExchangeLogDoubts *self, const WbLogRow *row, GPtrArray *remarks);
/* After the last row: what is said once of all of them. */
void wb_exchange_log_doubts_finish (const WbExchangeLogDoubts *self, GPtrArray *remarks);
