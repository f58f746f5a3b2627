/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-report-document.h"

G_BEGIN_DECLS

/* What poppler reads of the document, which is taken. Caller frees. */
char *app_read_paper (WbReportDocument *document);

G_END_DECLS
