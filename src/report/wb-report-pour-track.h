/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-report-batch.h"

G_BEGIN_DECLS

/*
 * The pour track, on pages of its own behind the batch sheet's masses: the melt's temperature as planned, drawn, then each step with
 * its caution first, what to do, and boxes for when it was done and how hot it was.
 */
void wb_report_pour_track_add (WbReportDocument *document, const WbReportBatch *batch, const WbReportOptions *options);

G_END_DECLS
