/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-report-batch.h"

G_BEGIN_DECLS

/* "546.0 g"; with ounces beside it where the reader uses them: the balance's unit stays. Caller frees. */
char *wb_report_batch_dup_mass  (const WbReportBatch *batch, const WbReportOptions *options, double g);

#define WB_REPORT_BOX 22.0 /* points: a line of handwriting */

G_END_DECLS
