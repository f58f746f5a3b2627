/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-report-options.h"

G_BEGIN_DECLS

/*
 * The evening's log sheet, to be filled in by hand: the check before the first
 * light, then each moment of the burn in order (lighting, the rounds, before
 * snuffing, after, next day), samples down, the fields that the protocol asks
 * across; what to do when something goes wrong. Borrowed while it is made.
 */

typedef struct
{
  const char *code;
  const char *cell;     /* what it is: "Tern · S-3"; NULL: kept blind */
  const char *place;    /* on the bench; NULL: to be filled in */
  guint       burn;     /* number of the burn in the sample's life; 0: to be filled in */
  gboolean    last_inch; /* foretold: read at the last inch's interval, someone in the room */
} WbReportLogRow;

typedef struct
{
  const char           *experiment; /* code and title; several may share an evening */
  const WbProtocol     *protocol;
  const GPtrArray      *limits;     /* WbLimit: what to ask at and stop at; NULL: none */
  const WbReportLogRow *rows;
  guint                 n_rows;     /* 0: empty rows to be filled in */
} WbReportLogSheet;

WbReportDocument *wb_report_log_sheet_new (const WbReportLogSheet *sheet, const WbReportOptions *options);

G_END_DECLS
