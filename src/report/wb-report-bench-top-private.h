/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-report-document-private.h"

G_BEGIN_DECLS

/*
 * The bench from above: its places in rows as they stand, each with its number and a code, or room to write one in. columns 0: as
 * many as fit. at: code of each place, NULL: free; NULL: none is known.
 */
void wb_report_bench_top_add (WbReportDocument *document, guint places, guint columns, const char *const *at);

G_END_DECLS
