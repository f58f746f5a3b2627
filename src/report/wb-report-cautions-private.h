/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-report-document.h"

G_BEGIN_DECLS

/* Of every sheet that somebody holds in his hand before he lights something. Common practice, no source. */

/* What comes before the first light, under its heading, with boxes to tick. */
void wb_report_cautions_add_check (WbReportDocument *document);

G_END_DECLS
