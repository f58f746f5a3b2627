/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-labels.h"
#include "wb-report-document.h"

G_BEGIN_DECLS

/* What poppler reads of the document, which is taken. Caller frees. */
char *app_read_paper (WbReportDocument *document);

/* What wb_app_labels_new_async comes to; waits. Caller frees. */
WbReportDocument *app_labels_new (WbAppPour *pour, guint batch, const WbAppLabelsTerms *terms, GError **error);

G_END_DECLS
