/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-report-batch.h"

G_BEGIN_DECLS

/* What each step of the pour asks, with its caution and its boxes, in the order in which hands need it. */
void  wb_report_batch_add_steps (WbReportDocument *document, const WbReportBatch *batch, const WbReportOptions *options);
/* "546.0 g"; with ounces beside it where the reader uses them: the balance's unit stays. Caller frees. */
char *wb_report_batch_dup_mass  (const WbReportBatch *batch, const WbReportOptions *options, double g);

#define WB_REPORT_BOX 22.0 /* points: a line of handwriting */

G_END_DECLS
