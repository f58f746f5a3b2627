/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-report-batch.h"

G_BEGIN_DECLS

/* "546.0 g"; with ounces beside it where the reader uses them: the balance's unit stays. Caller frees. */
char *wb_report_batch_dup_mass  (const WbReportBatch *batch, const WbReportOptions *options, double g);

/* The load's two bases, and what it was held against. */
void  wb_report_batch_add_basis    (WbReportDocument *document, const WbReportBatch *batch);
void  wb_report_batch_add_warnings (WbReportDocument *document, const WbReportBatch *batch);
/*
 * What to weigh out, under a heading, with boxes for what was weighed and its lots; of several melts a column each, with a line for
 * the lot below each material.
 */
void  wb_report_batch_add_masses   (WbReportDocument *document, const WbReportBatch *batch, const WbReportOptions *options);
void  wb_report_batch_add_sums     (WbReportDocument *document, const WbReportBatch *batch);

#define WB_REPORT_BOX 22.0 /* points: a line of handwriting */
#define WB_REPORT_MELTS_ACROSS 6 /* of which a table has a column each */

G_END_DECLS
